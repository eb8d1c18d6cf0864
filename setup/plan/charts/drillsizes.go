package charts

import (
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/page/sheet"
)

// drillSizes lists every drill by size in mm and inches, and marks those in
// the drawer.
func drillSizes(in Input) (sheet.Result, error) {
	c := Chart{Name: "drill-sizes", Title: "Drill sizes"}
	t := sheet.Table{Cols: []sheet.Column{
		{Key: "name", Head: "drill"}, {Key: "size_mm", Head: "size"}, {Key: "size_in", Head: "size"}, {Key: "on_hand", Head: "own"},
	}}
	owned := map[string]bool{}
	if in.Shop == nil || len(in.Shop.Drills) == 0 {
		c.Warnings.Add("not-checked", "which drills are on hand was not checked (drills)")
	} else {
		for _, d := range in.Shop.Drills {
			owned[d.Name] = true
		}
	}
	for _, d := range drills.All() {
		here := sheet.Value(sheet.Text(""))
		if owned[d.Name] {
			here = sheet.Text("yes")
		}
		t.Add(sheet.Text(d.Name), sheet.LenIn(d.Dia, units.MM), sheet.LenIn(d.Dia, units.Inch), here)
	}
	c.Tables = []Table{{t}}
	return c, nil
}
