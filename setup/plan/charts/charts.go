// Package charts makes charts for the wall, each out of the calculators that
// answer the single question: what is printed here is what the commands say.
//
// A new chart is a function from Input to a Chart in a file of its own, and one
// line in registry. Its tables are lists of structs, whose tags say what stands
// in JSON and on the page:
//
//	type inV struct {
//		Dia    units.Length `json:"dia_mm" show:"bar"`
//		Centre units.Length `json:"centre_height_mm" show:"centre"`
//	}
//
// Columns that depend on the question are made by rows. The same chart serves mm
// and inches; Input.Units says only which sizes are round ones there.
package charts

import (
	"fmt"
	"reflect"

	"setover/setup/base/problem"
	"setover/setup/base/say"
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
	make        func(Input) (Chart, error)
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
		{"general", "how far a size without limits may be off, by its class", false, generalTolerances},
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
	return entry{}, problem.New(problem.Unknown, "NAME", say.Plain(name),
		"no such chart: write ", say.Join(Names(), ", ")).Near(Names())
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
	c, err := e.make(in)
	c.Name = name
	return c, err
}

// Chart is a chart of tables.
type Chart struct {
	Name   string  `json:"chart"`
	Tables []Table `json:"tables"`
	sheet.Remarks

	title string
	notes []say.Text
}

// Table is a title and a list of structs.
type Table struct {
	Title say.Text `json:"title"`
	Rows  any      `json:"rows"`
}

// Sheet implements sheet.Result.
func (c Chart) Sheet() sheet.Sheet {
	s := sheet.Of(&c, c.title)
	for _, t := range c.Tables {
		s.Table(t.Rows, t.Title)
	}
	for _, n := range c.notes {
		s.Note(n)
	}
	return *s
}

// cell is a value in a column that depends on the question: its key, and its
// heading.
type cell struct {
	key, head string
	value     sheet.Value
}

// rows makes a list of structs whose fields are the cells, as if they had been
// declared. Every row has the columns of the first.
func rows(list [][]cell) any {
	var fields []reflect.StructField
	for i, c := range list[0] {
		tag := reflect.StructTag(fmt.Sprintf("json:%q show:%q", c.key, c.head))
		fields = append(fields, reflect.StructField{
			Name: fmt.Sprintf("Column%d", i), Type: reflect.TypeFor[sheet.Value](), Tag: tag,
		})
	}
	made := reflect.MakeSlice(reflect.SliceOf(reflect.StructOf(fields)), len(list), len(list))
	for i, row := range list {
		for k, c := range row {
			made.Index(i).Field(k).Set(reflect.ValueOf(&c.value).Elem())
		}
	}
	return made.Interface()
}

// Contents is the list of charts.
type Contents struct {
	Charts []Item `json:"charts"`
	sheet.Remarks
}

// Item is one line of Contents.
type Item struct {
	Name  string `json:"name" show:"chart"`
	Shows string `json:"shows" show:"shows"`
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
	s := sheet.Of(&c, "Charts for the wall")
	s.Table(c.Charts)
	s.Note("setover chart all ", say.Key("into"), " FOLDER writes every one as a PDF.")
	return *s
}
