package charts

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers/facets"
)

// fewest and most are the sides of the chart's polygons.
const fewest, most = 3, 12

// polygons lists the factors between the sizes of regular polygons, and the
// rounds to turn for common sizes across flats.
func polygons(in Input) (sheet.Result, error) {
	c := Chart{Name: "facets", Title: "Polygons from a round bar", notes: []string{
		"An odd number of sides has a corner opposite each flat: its size across flats here is the height from flat to corner.",
		"The blank is the round through the corners, nothing left on the flats; its size is never rounded down.",
	}}
	factors := sheet.Table{Title: "Factors: multiply the size you have", Cols: []sheet.Column{
		{Key: "sides", Head: "sides"},
		{Key: "between_flats_deg", Head: "flat to flat"},
		{Key: "corners_per_flats", Head: "flats to corners"},
		{Key: "flats_per_corners", Head: "corners to flats"},
		{Key: "side_per_flats", Head: "flats to side"},
		{Key: "side_per_corners", Head: "corners to side"},
	}}
	one := units.Millimetres(1000)
	blanks := sheet.Table{Title: "Blank to turn, by the number of sides", Cols: []sheet.Column{{Key: "across_flats_mm", Head: "flats"}}}
	for n := fewest; n <= most; n++ {
		p := facets.OfFlats(n, one)
		corners := p.AcrossCorners()
		factors.Add(sheet.Count(n), sheet.Deg(units.Degrees(360/float64(n))),
			sheet.Num(corners.Over(one), 5, ""), sheet.Num(one.Over(corners), 5, ""),
			sheet.Num(p.Side().Over(one), 5, ""), sheet.Num(p.Side().Over(corners), 5, ""))
		blanks.Cols = append(blanks.Cols, sheet.Column{Key: fmt.Sprintf("blank_%d_mm", n), Head: fmt.Sprint(n)})
	}
	for _, flats := range roundSizes(in.Units) {
		row := []sheet.Value{sheet.Len(flats)}
		for n := fewest; n <= most; n++ {
			row = append(row, sheet.Up(facets.OfFlats(n, flats).Blank(units.Length{})))
		}
		blanks.Add(row...)
	}
	c.Tables = []Table{{factors}, {blanks}}
	return c, nil
}

// roundSizes returns sizes that are round numbers in the unit: 5 to 50 mm, or
// 1/4 to 2 in.
func roundSizes(u units.Unit) []units.Length {
	texts := []string{
		"5mm", "6mm", "8mm", "9mm", "10mm", "12mm", "13mm", "14mm", "15mm", "16mm", "17mm", "18mm",
		"19mm", "20mm", "22mm", "24mm", "25mm", "27mm", "30mm", "32mm", "34mm", "36mm", "40mm", "45mm", "50mm",
	}
	if u == units.Inch {
		texts = []string{
			"1/4in", "5/16in", "3/8in", "7/16in", "1/2in", "9/16in", "5/8in", "11/16in", "3/4in", "7/8in",
			"1in", "1-1/8in", "1-1/4in", "1-3/8in", "1-1/2in", "1-5/8in", "1-3/4in", "2in",
		}
	}
	sizes := make([]units.Length, len(texts))
	for i, t := range texts {
		sizes[i] = units.MustLength(t)
	}
	return sizes
}
