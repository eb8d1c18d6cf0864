package facets

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// TaperInput is a polygon that tapers: its size across flats or across corners
// at both ends, and the length between them.
type TaperInput struct {
	Sides  int           `json:"sides"`
	Large  units.Length  `json:"large_mm"`
	Small  units.Length  `json:"small_mm"`
	Length units.Length  `json:"length_mm"`
	Across string        `json:"across"` // flats or corners
	Leave  units.Length  `json:"leave_mm"`
	Every  *units.Length `json:"every_mm,omitempty"`
}

// Station is the polygon at one distance from the large end.
type Station struct {
	At            units.Length `json:"at_mm" show:"at"`
	AcrossFlats   units.Length `json:"across_flats_mm" show:"flats"`
	AcrossCorners units.Length `json:"across_corners_mm" show:"corners"`
	Blank         units.Length `json:"blank_mm" show:"turn to" as:"up"`
	Width         units.Length `json:"facet_width_mm" show:"flat width"`
	FlatDepth     units.Length `json:"flat_depth_mm" show:"flat depth"`
}

// Tapered is a tapering polygon. The corners lie on a cone of the half angle
// CornerHalfAngle, which the blank is turned to; the flats rise from the axis
// at FacetHalfAngle, which the work is tilted by.
type Tapered struct {
	Inputs          TaperInput  `json:"inputs"`
	CornerHalfAngle units.Angle `json:"corner_half_angle_deg" show:"turn the cone at" as:"minutes"`
	FacetHalfAngle  units.Angle `json:"facet_half_angle_deg" show:"tilt for the flats" as:"minutes"`
	Stations        []Station   `json:"stations"`
	sheet.Remarks

	apothems [2]units.Length
}

// maxStations bounds the table.
const maxStations = 1000

// Taper returns a tapering polygon with its sizes at stations from the large
// end, every Every (a tenth of the length where not given) and at the small
// end:
//
//	tan(facet half angle)  = (A1 - A2)/l
//	tan(corner half angle) = (A1 - A2)/(l·cos(180/n))
//
// Sides run from 3 to 24, Large above Small, Small 0 or more, Length above 0,
// Leave 0 or more, Every above 0 and at least a thousandth of the length.
func Taper(in TaperInput) (Tapered, error) {
	if err := in.check(); err != nil {
		return Tapered{}, err
	}
	of := OfFlats
	if in.Across == "corners" {
		of = OfCorners
	}
	p1, p2 := of(in.Sides, in.Large), of(in.Sides, in.Small)
	rise := p1.Apothem.Minus(p2.Apothem).MM()
	l := in.Length.MM()
	t := Tapered{
		Inputs:          in,
		FacetHalfAngle:  Rise(p1.Apothem, p2.Apothem, in.Length),
		CornerHalfAngle: units.Radians(math.Atan2(rise, l*centre(in.Sides).Cos())),
		apothems:        [2]units.Length{p1.Apothem, p2.Apothem},
	}
	every := units.FromFloat(l / 10)
	if in.Every != nil {
		every = *in.Every
	}
	for z := (units.Length{}); z.Less(in.Length); z = z.Plus(every) {
		t.Stations = append(t.Stations, t.at(z))
	}
	t.Stations = append(t.Stations, t.at(in.Length))
	t.Caution(cautions.EyeProtection, cautions.GrindDust, cautions.Manual)
	return t, nil
}

func (in TaperInput) check() error {
	var bad check.List
	bad.Between("sides", in.Sides, MinSides, MaxSides, "sides")
	check.OneOf(&bad, "across", in.Across, SizesAcross)
	bad.NotBelow0("small", in.Small)
	bad.Above("large", in.Large, in.Small, "the small end")
	bad.Above0("length", in.Length)
	bad.NotBelow0("leave", in.Leave)
	if in.Every != nil {
		checkStep(&bad, "every", *in.Every, in.Length)
	}
	return bad.Err()
}

// checkStep refuses a step that is not above 0 or makes too long a table.
func checkStep(bad *check.List, key string, step, over units.Length) {
	bad.Above0(key, step)
	if step.Sign() > 0 && step.Times(maxStations).Less(over) {
		bad.Add(problem.New(problem.OutOfRange, key, step, "makes more than ", maxStations, " rows"))
	}
}

// at returns the polygon at z from the large end.
func (t Tapered) at(z units.Length) Station {
	f := z.Over(t.Inputs.Length)
	a := t.apothems[0].Minus(units.FromFloat(f * t.apothems[0].Minus(t.apothems[1]).MM()))
	p := Polygon{t.Inputs.Sides, a}
	blank := p.Blank(t.Inputs.Leave)
	return Station{z, p.AcrossFlats(), p.AcrossCorners(), blank, p.Side(), p.FlatDepth(blank)}
}

// Sheet implements sheet.Result.
func (t Tapered) Sheet() sheet.Sheet {
	s := sheet.Of(&t, "Tapering polygon of ", t.Inputs.Sides, " sides")
	s.Remark(&t.CornerHalfAngle, "half angle through the corners")
	s.Remark(&t.FacetHalfAngle, "from the axis to a flat; flatter than the corners")
	s.Figures()
	table := s.Table(t.Stations, "From the large end")
	if t.Inputs.Sides%2 == 1 {
		table.Head("across_flats_mm", "flat to corner")
	}
	a1, a2 := sheet.Let("A1", t.apothems[0].MM()), sheet.Let("A2", t.apothems[1].MM())
	l, h := sheet.Let("l", t.Inputs.Length.MM()), sheet.Let("h", centre(t.Inputs.Sides).Deg())
	s.Work("facet half angle", "atan((A1 - A2)/l)", t.FacetHalfAngle.Deg(), "deg", a1, a2, l)
	s.Work("corner half angle", "atan((A1 - A2)/(l*cos(h)))", t.CornerHalfAngle.Deg(), "deg", a1, a2, l, h)
	return *s
}
