package threads

import (
	_ "embed"
	"encoding/csv"
	"strings"
	"sync"

	"setover/setup/units"
)

//go:embed sizes.csv
var sizesCSV string

// table returns every standard size, in the order of sizes.csv: by form, then
// rising.
var table = sync.OnceValue(func() []Designation {
	r := csv.NewReader(strings.NewReader(sizesCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("threads: sizes.csv: " + err.Error())
	}
	list := make([]Designation, 0, len(rows))
	for _, row := range rows[1:] {
		d := Designation{
			Form: Form(row[0]), Size: row[1], Major: units.MustLength(row[2]), Pitch: units.MustPitch(row[3]),
			Starts: 1, Series: row[4], source: row[6],
		}
		if row[5] != "" {
			d.gauge = units.MustLength(row[5])
		}
		list = append(list, d)
	}
	return list
})

// All returns every standard size there is, by form and rising.
func All() []Designation { return append([]Designation(nil), table()...) }

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
func Names() []string { return append([]string(nil), names()...) }
