// Package charts makes charts for the wall, each out of the calculators that
// answer the single question: what is printed here is what the commands say.
//
// A new chart is a function from Input to a sheet.Result in a file of its own,
// and one line in registry. A chart that is no more than tables is a Chart:
//
//	func vBlock(in Input) (sheet.Result, error) {
//		t := sheet.Table{Cols: []sheet.Column{{Key: "dia_mm", Head: "diameter"}, …}}
//		for _, d := range sizes(in.Units) {
//			t.Add(sheet.Len(d), …)
//		}
//		return Chart{Name: "v-block", Title: "Heights in a V-block", Tables: []Table{{t}}}, nil
//	}
//
// Its JSON is made of the tables' cells and keys. Cells take their decimals,
// unit and direction from sheet, so the same chart serves mm and inches;
// Input.Units says only which sizes are round ones there.
package charts

import (
	"bytes"
	"encoding/json"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Input is what a chart may need. Shop is nil for the charts that need none;
// what is not in it is not owned.
type Input struct {
	Shop  *shop.Shop
	Units units.Unit // which sizes are round
}

// entry is one chart: its name, what it shows, whether it needs the shop, and
// what makes it.
type entry struct {
	name, shows string
	shop        bool
	make        func(Input) (sheet.Result, error)
}

// registry lists the charts in the order they are offered.
func registry() []entry {
	return []entry{
		{"tap-drills", "what to drill for metric and unified threads, and clearance holes", false, tapDrills},
		{"drill-sizes", "every drill, with the ones in the drawer marked", true, drillSizes},
		{"rpm", "this shop's speeds for materials and diameters", true, speeds},
		{"tapers", "common tapers, and where this compound is set", true, commonTapers},
		{"gears", "change gears for every standard pitch", true, changeGears},
		{"dividing", "the circle in 2 to 100 parts, as this dividing head counts them", true, dividing},
		{"v-block", "how high bars lie in a V, and in this shop's", true, vBlock},
		{"facets", "polygons of 3 to 12 sides: factors, and blanks to turn", false, polygons},
		{"fits", "limits of the common classes, and the preferred fits", false, fitLimits},
	}
}

// Names lists every chart.
func Names() []string {
	var names []string
	for _, e := range registry() {
		names = append(names, e.name)
	}
	return names
}

func find(name string) (entry, error) {
	for _, e := range registry() {
		if e.name == name {
			return e, nil
		}
	}
	return entry{}, problem.New(problem.Unknown, "NAME", name, "no such chart: write "+strings.Join(Names(), ", ")).Near(Names())
}

// NeedsShop reports whether a chart shows something of the shop. It fails on
// an unknown name.
func NeedsShop(name string) (bool, error) {
	e, err := find(name)
	return e.shop, err
}

// Make returns a chart. It fails on an unknown name.
func Make(name string, in Input) (sheet.Result, error) {
	e, err := find(name)
	if err != nil {
		return nil, err
	}
	return e.make(in)
}

// Chart is a chart of tables.
type Chart struct {
	Name   string  `json:"chart"`
	Title  string  `json:"-"`
	Tables []Table `json:"tables"`
	sheet.Remarks

	notes []string
}

// Sheet implements sheet.Result.
func (c Chart) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: c.Title, Notes: c.notes, Warnings: c.Warnings, Cautions: c.Cautions}
	for _, t := range c.Tables {
		s.Tables = append(s.Tables, t.Table)
	}
	return s
}

// Table is a table that is its own result: in JSON its rows are objects with
// the columns' keys.
type Table struct{ sheet.Table }

// MarshalJSON writes the title and the rows.
func (t Table) MarshalJSON() ([]byte, error) {
	list := make([]row, len(t.Rows))
	for i := range t.Rows {
		list[i] = row{t.Cols, t.Rows[i]}
	}
	return json.Marshal(struct {
		Title string `json:"title"`
		Rows  []row  `json:"rows"`
	}{t.Title, list})
}

// row is one row of a table with its columns.
type row struct {
	cols  []sheet.Column
	cells []sheet.Value
}

// MarshalJSON writes the cells by their keys, in the columns' order.
func (r row) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for i, c := range r.cols {
		key, err := json.Marshal(c.Key)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(figure(r.cells[i]))
		if err != nil {
			return nil, err
		}
		before := byte(',')
		if i == 0 {
			before = '{'
		}
		b.WriteByte(before)
		b.Write(append(append(key, ':'), value...))
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// figure returns what a cell is in JSON: lengths in mm (or in their column's
// own unit), angles in degrees.
func figure(v sheet.Value) any {
	switch v := v.(type) {
	case units.Rounded:
		if v.In(units.MM) == units.Inch {
			return json.Number(v.Fixed(units.Inch, 9, units.Nearest))
		}
		return v.Length
	case sheet.Angle:
		return v.V
	case sheet.Number:
		return units.Number(v.V)
	}
	return v // words, or nil
}

// Contents is the list of charts.
type Contents struct {
	Charts []Item `json:"charts"`
	sheet.Remarks
}

// Item is one line of Contents.
type Item struct {
	Name  string `json:"name"`
	Shows string `json:"shows"`
}

// List returns what charts there are.
func List() Contents {
	var c Contents
	for _, e := range registry() {
		c.Charts = append(c.Charts, Item{e.name, e.shows})
	}
	return c
}

// Sheet implements sheet.Result.
func (c Contents) Sheet() sheet.Sheet {
	t := sheet.Table{Cols: []sheet.Column{{Key: "name", Head: "chart"}, {Key: "shows", Head: "shows"}}}
	for _, i := range c.Charts {
		t.Add(sheet.Text(i.Name), sheet.Text(i.Shows))
	}
	return sheet.Sheet{
		Title: "Charts for the wall", Tables: []sheet.Table{t},
		Notes: []string{"setover chart all --into FOLDER writes every one as a PDF."},
	}
}
