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
			Form: FormOf(row["form"]), Size: row["size"], Series: row["series"], Starts: 1, source: row["src"],
			Major: units.MustLength(row["major"]), Pitch: units.MustPitch(row["pitch"]),
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

// Names returns the canonical designations of every standard size, for
// completion and for the nearest of what was misspelt.
func Names() []string { return slices.Clone(names()) }

var names = sync.OnceValue(func() []string { return written(table()) })

// written returns designations as they are written.
func written(list []Designation) []string {
	text := make([]string, len(list))
	for i, d := range list {
		text[i] = d.String()
	}
	return text
}
