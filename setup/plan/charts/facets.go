package charts

import (
	"fmt"
	"strings"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/tapers/facets"
)

// fewest and most are the sides of the chart's polygons.
const fewest, most = 3, 12

// polygon is what turns one size of a regular polygon into another.
type polygon struct {
	Sides           int          `json:"sides" show:"sides"`
	Between         units.Angle  `json:"between_flats_deg" show:"flat to flat"`
	CornersPerFlats units.Number `json:"corners_per_flats" show:"flats to corners" as:"5"`
	FlatsPerCorners units.Number `json:"flats_per_corners" show:"corners to flats" as:"5"`
	SidePerFlats    units.Number `json:"side_per_flats" show:"flats to side" as:"5"`
	SidePerCorners  units.Number `json:"side_per_corners" show:"corners to side" as:"5"`
}

// polygons lists the factors between the sizes of regular polygons, and the
// rounds to turn for common sizes across flats.
func polygons(in Input) (Chart, error) {
	one := units.Millimetres(1000)
	per := func(a, b units.Length) units.Number { return units.Number(a.Over(b)) }
	var factors []polygon
	for n := fewest; n <= most; n++ {
		p := facets.OfFlats(n, one)
		corners, side := p.AcrossCorners(), p.Side()
		factors = append(factors, polygon{
			n, units.Degrees(360 / float64(n)), per(corners, one), per(one, corners), per(side, one), per(side, corners),
		})
	}
	var blanks [][]cell
	for _, flats := range roundSizes(in.Units) {
		row := []cell{{"across_flats_mm", "flats", flats.Nearest()}}
		for n := fewest; n <= most; n++ {
			blank := facets.OfFlats(n, flats).Blank(units.Length{})
			row = append(row, cell{fmt.Sprintf("blank_%d_mm", n), fmt.Sprint(n), blank.Up()})
		}
		blanks = append(blanks, row)
	}
	return Chart{
		title: "Polygons from a round bar",
		Tables: []Table{
			{"Factors: multiply the size you have", factors},
			{"Blank to turn, by the number of sides", rows(blanks)},
		},
		notes: []say.Text{
			"An odd number of sides has a corner opposite each flat: " +
				"its size across flats here is the height from flat to corner.",
			"The blank is the round through the corners, nothing left on the flats; its size is never rounded down.",
		},
	}, nil
}

// roundSizes returns sizes that are round numbers in the unit: 5 to 50 mm, or
// 1/4 to 2 in.
func roundSizes(u units.Unit) []units.Length {
	text := "5 6 8 9 10 12 13 14 15 16 17 18 19 20 22 24 25 27 30 32 34 36 40 45 50"
	if u == units.Inch {
		text = "1/4 5/16 3/8 7/16 1/2 9/16 5/8 11/16 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2 1-5/8 1-3/4 2"
	}
	return sizes(text, u)
}

// sizes reads bare sizes in a unit.
func sizes(text string, u units.Unit) []units.Length {
	var list []units.Length
	for word := range strings.FieldsSeq(text) {
		list = append(list, units.MustLength(word+u.String()))
	}
	return list
}
