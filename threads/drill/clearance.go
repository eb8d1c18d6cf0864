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
	Close  *units.Length `json:"close_mm" show:"clearance hole, close"`
	Medium *units.Length `json:"medium_mm" show:"medium"`
	Free   *units.Length `json:"free_mm" show:"free"`

	names [3]string
}

// screw is what the table of clearance holes goes by: a form and a size.
type screw struct {
	form *threads.Form
	size string
}

var clearances = sync.OnceValue(func() map[screw]*Clearance {
	m := map[screw]*Clearance{}
	for _, row := range tables.Rows("clearance.csv", clearanceCSV) {
		c := &Clearance{}
		c.Close, c.names[0] = holeOf(row["close"])
		c.Medium, c.names[1] = holeOf(row["medium"])
		c.Free, c.names[2] = holeOf(row["free"])
		m[screw{threads.FormOf(row["form"]), row["size"]}] = c
	}
	return m
})

// holeOf reads a cell: a size, or a drill by its name; nothing from an empty
// one.
func holeOf(cell string) (*units.Length, string) {
	if cell == "" {
		return nil, ""
	}
	if d, err := drills.Find(cell); err == nil && d.Series != "metric" {
		return &d.Dia, d.Name
	}
	l := units.MustLength(cell)
	return &l, ""
}

// ClearanceHoles returns the holes a screw of the thread's form and diameter
// passes through, or nil where no source gives any.
//
// Source: ISO 273 (metric); ASME B18.2.8 normal and loose, and a trade chart's
// close fit (inch).
func ClearanceHoles(d threads.Designation) *Clearance { return clearances()[screw{d.Form, d.Size}] }
