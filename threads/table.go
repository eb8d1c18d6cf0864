package threads

import (
	_ "embed"
	"slices"
	"sync"

	"setover/setup/base/tables"
	"setover/setup/base/units"
)

//go:embed sizes.csv
var sizesCSV string

// table returns every standard size, in the order of sizes.csv: by form, then
// rising.
var table = sync.OnceValue(func() []Designation {
	var list []Designation
	for _, row := range tables.Rows("sizes.csv", sizesCSV) {
		d := Designation{
			Form: Form(row["form"]), Size: row["size"], Major: units.MustLength(row["major"]), Pitch: units.MustPitch(row["pitch"]),
			Starts: 1, Series: row["series"], source: row["src"],
		}
		if row["gauge"] != "" {
			d.gauge = units.MustLength(row["gauge"])
		}
		list = append(list, d)
	}
	return list
})

// All returns every standard size there is, by form and rising.
func All() []Designation { return slices.Clone(table()) }

// Source returns where the size is listed.
func (d Designation) Source() string { return d.source }

// names returns the canonical designations of every standard size.
var names = sync.OnceValue(func() []string {
	list := make([]string, len(table()))
	for i, d := range table() {
		list[i] = d.String()
	}
	return list
})

// Names returns the canonical designations of every standard size, for
// completion.
func Names() []string { return slices.Clone(names()) }
