package charts

import (
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/page/sheet"
)

// drillSize is a drill in both units, and whether it is in the drawer.
type drillSize struct {
	Name  string        `json:"name" show:"drill"`
	MM    units.Rounded `json:"size_mm" show:"size"`
	Inch  units.Rounded `json:"size_in" show:"size"`
	Owned sheet.Text    `json:"on_hand" show:"own"`
}

// drillSizes lists every drill by size in mm and inches, and marks those in
// the drawer.
func drillSizes(in Input) (Chart, error) {
	c := Chart{title: "Drill sizes"}
	owned := map[string]sheet.Text{}
	if in.Shop == nil || len(in.Shop.Drills) == 0 {
		c.NotChecked("drills", "which drills are on hand was not checked")
	} else {
		for _, d := range in.Shop.Drills {
			owned[d.Name] = "yes"
		}
	}
	var list []drillSize
	for _, d := range drills.All() {
		list = append(list, drillSize{d.Name, d.Dia.Always(units.MM), d.Dia.Always(units.Inch), owned[d.Name]})
	}
	c.Tables = []Table{{"", list}}
	return c, nil
}
