package charts

import (
	"fmt"

	"setover/setup/bench/divide"
	"setover/setup/page/sheet"
)

// mostDivisions is where the dividing chart ends.
const mostDivisions = 100

// dividing lists the divisions of the circle: each angle, and how it is
// counted on the shop's head.
func dividing(in Input) (sheet.Result, error) {
	c := Chart{Name: "dividing", Title: "Dividing the circle"}
	t := sheet.Table{Title: "2 to 100 divisions", Cols: []sheet.Column{{Key: "divisions", Head: "divide"}, {Key: "dms", Head: "angle"}}}
	ask := divide.Input{}
	head := in.Shop != nil && in.Shop.DividingHead != nil
	if head {
		ask.Head = in.Shop.DividingHead
		t.Title += fmt.Sprintf(", %d:1 head", ask.Head.Ratio)
		t.Cols = append(t.Cols, sheet.Column{Key: "turns", Head: "turns"}, sheet.Column{Key: "spaces", Head: "spaces"},
			sheet.Column{Key: "circle", Head: "of"}, sheet.Column{Key: "plate", Head: "plate"}, sheet.Column{Key: "error_deg", Head: "is off"})
		c.notes = []string{
			"Where a division is off, no circle of this head serves: setover divide looks for a train of change wheels.",
			"The sector arms stand over the spaces and one hole more.",
		}
	}
	for n := 2; n <= mostDivisions; n++ {
		ask.N = n
		r, err := divide.Divide(ask)
		if err != nil {
			return nil, err
		}
		row := []sheet.Value{sheet.Count(n), sheet.Text(r.PerDivision.DMS(true))}
		if head {
			plate, off := sheet.Value(nil), sheet.Value(nil)
			if r.Plate != nil {
				plate = sheet.Count(*r.Plate)
			}
			if !*r.Exact {
				off = sheet.Number{V: r.Error.Deg(), Places: 4, Unit: "deg", Signed: true}
			}
			row = append(row, sheet.Count(*r.Turns), sheet.Count(*r.Spaces), sheet.Count(*r.Circle), plate, off)
		}
		t.Add(row...)
	}
	c.Tables = []Table{{t}}
	return c, nil
}
