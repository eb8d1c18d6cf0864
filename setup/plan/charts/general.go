package charts

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/fits"
	"setover/setup/page/sheet"
)

// The ends of the ranges of linear sizes and of edges, the last of which has no
// end.
var (
	linearSizes = []int64{3, 6, 30, 120, 400, 1000, 2000, 4000}
	edgeSizes   = []int64{3, 6, 0}
)

// generalTolerances lists how far sizes without limits may be off.
func generalTolerances(Input) (Chart, error) {
	c := Chart{title: "General tolerances", notes: []say.Text{
		"How far a size without limits of its own may be off, either way, by the class of the drawing (ISO 2768-1).",
		"A range of sizes has its upper end in it: 30 mm belongs to 6-30. Below 0.5 mm the drawing gives the limits.",
	}}
	var angles []byLeg
	for _, g := range fits.Generals {
		row := byLeg{Class: string(g)}
		for to, cell := range map[int64]*units.Angle{
			10: &row.To10, 50: &row.To50, 120: &row.To120, 400: &row.To400, 401: &row.Above,
		} {
			var err error
			if *cell, err = g.Angular(units.Millimetres(to)); err != nil {
				return c, err
			}
		}
		angles = append(angles, row)
	}
	c.Tables = []Table{
		{"Diameters, lengths, depths, distances, by their size in mm", bySize(linearSizes, fits.General.Linear)},
		{"Outside radii and heights of chamfers, by their size in mm", bySize(edgeSizes, fits.General.Edge)},
		{"Angles, by the length of their shorter leg in mm", angles},
	}
	return c, nil
}

// byLeg is how far angles may be off in a class.
type byLeg struct {
	Class string      `json:"class" show:"class"`
	To10  units.Angle `json:"to_10_deg" show:"0-10" as:"minutes"`
	To50  units.Angle `json:"to_50_deg" show:"10-50" as:"minutes"`
	To120 units.Angle `json:"to_120_deg" show:"50-120" as:"minutes"`
	To400 units.Angle `json:"to_400_deg" show:"120-400" as:"minutes"`
	Above units.Angle `json:"above_deg" show:"over 400" as:"minutes"`
}

// bySize makes a row for each class, with a column for each range of sizes that
// ends with one of ends. Where the standard has no limit the cell is empty.
func bySize(ends []int64, of func(fits.General, units.Length) (units.Length, error)) any {
	var list [][]cell
	for _, g := range fits.Generals {
		row := []cell{{"class", "class", say.Of(g)}}
		from := say.Text("0.5")
		for _, to := range ends {
			key, head, size := say.Of("to_", to, "_mm"), say.Of(from, "-", to), units.Millimetres(to)
			if to == 0 {
				key, head, size = "above_mm", "over "+from, units.MustLength(from.String()+"mm").Times(2)
			}
			var value sheet.Value
			if l, err := of(g, size); err == nil {
				value = l
			}
			row = append(row, cell{key.String(), head.String(), value})
			from = say.Of(to)
		}
		list = append(list, row)
	}
	return rows(list)
}
