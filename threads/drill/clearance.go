package drill

import (
	_ "embed"
	"sync"

	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/threads"
)

//go:embed clearance.csv
var clearanceCSV string

// Clearance are the holes a screw passes through: close, medium and free, nil
// where no source gives one. Names are the drills' of inch sizes.
type Clearance struct {
	Close  *units.Length `json:"close_mm"`
	Medium *units.Length `json:"medium_mm"`
	Free   *units.Length `json:"free_mm"`

	names [3]string
}

// clearances is the table by the size of the screw.
var clearances = sync.OnceValue(func() map[string]Clearance {
	m := map[string]Clearance{}
	for _, row := range tables.Rows("clearance.csv", clearanceCSV) {
		c := Clearance{}
		for i, to := range []struct {
			column string
			dst    **units.Length
		}{{"close", &c.Close}, {"medium", &c.Medium}, {"free", &c.Free}} {
			if cell := row[to.column]; cell != "" {
				l, name := holeOf(cell)
				*to.dst, c.names[i] = &l, name
			}
		}
		m[row["size"]] = c
	}
	return m
})

// holeOf reads a cell: a size, or a drill by its name.
func holeOf(cell string) (units.Length, string) {
	if l, err := units.ParseLength(cell, units.MM); err == nil {
		if d, err := drills.Find(cell); err == nil && d.Series != "metric" {
			return l, d.Name
		}
		return l, ""
	}
	d, err := drills.Find(cell)
	if err != nil {
		panic("drill: clearance.csv: " + err.Error())
	}
	return d.Dia, d.Name
}

// ClearanceHoles returns the holes a screw of the thread's diameter passes
// through, or nil where no source gives any.
//
// Source: ISO 273 (metric); ASME B18.2.8 normal and loose, and a trade chart's
// close fit (inch).
func ClearanceHoles(d threads.Designation) *Clearance {
	size := d.Size
	if d.Form != threads.Metric && d.Form != threads.Unified {
		return nil
	}
	if c, ok := clearances()[size]; ok {
		return &c
	}
	return nil
}
