package facets

import (
	"fmt"
	"math"

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
	At            units.Length `json:"at_mm"`
	AcrossFlats   units.Length `json:"across_flats_mm"`
	AcrossCorners units.Length `json:"across_corners_mm"`
	Blank         units.Length `json:"blank_mm"`
	Width         units.Length `json:"facet_width_mm"`
	FlatDepth     units.Length `json:"flat_depth_mm"`
}

// Tapered is a tapering polygon. The corners lie on a cone of the half angle
// CornerHalfAngle, which the blank is turned to; the flats rise from the axis
// at FacetHalfAngle, which the work is tilted by.
type Tapered struct {
	Inputs          TaperInput  `json:"inputs"`
	CornerHalfAngle units.Angle `json:"corner_half_angle_deg"`
	FacetHalfAngle  units.Angle `json:"facet_half_angle_deg"`
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
		FacetHalfAngle:  units.Radians(math.Atan2(rise, l)),
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
	var list problem.List
	list.Add(CheckSides(in.Sides))
	if in.Across != "flats" && in.Across != "corners" {
		list.Add(problem.New(problem.Unknown, "across", in.Across, "write flats or corners").Near([]string{"flats", "corners"}))
	}
	if in.Small.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "small", in.Small, "the small end cannot be negative"))
	}
	if in.Large.Cmp(in.Small) <= 0 {
		list.Add(problem.New(problem.OutOfRange, "large", in.Large, fmt.Sprintf("the large end must be larger than the small one, %v", in.Small)))
	}
	if in.Length.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "length", in.Length, "the length must be above 0"))
	}
	if in.Leave.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "leave", in.Leave, "what is left on a flat cannot be negative"))
	}
	if in.Every != nil && (in.Every.Sign() <= 0 || in.Every.Times(maxStations).Less(in.Length)) {
		list.Add(problem.New(problem.OutOfRange, "every", in.Every, fmt.Sprintf("must be above 0 and give at most %d stations", maxStations)))
	}
	return list.Err()
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
	in := t.Inputs
	flats := "flats"
	if in.Sides%2 == 1 {
		flats = "flat to corner"
	}
	table := sheet.Table{Title: "From the large end", Cols: []sheet.Column{
		{Key: "at_mm", Head: "at"},
		{Key: "across_flats_mm", Head: flats},
		{Key: "across_corners_mm", Head: "corners"},
		{Key: "blank_mm", Head: "turn to"},
		{Key: "facet_width_mm", Head: "flat width"},
		{Key: "flat_depth_mm", Head: "flat depth"},
	}}
	for _, s := range t.Stations {
		table.Add(sheet.Len(s.At), sheet.Len(s.AcrossFlats), sheet.Len(s.AcrossCorners), sheet.Up(s.Blank), sheet.Len(s.Width), sheet.Len(s.FlatDepth))
	}
	a1, a2, l, h := t.apothems[0].MM(), t.apothems[1].MM(), in.Length.MM(), centre(in.Sides).Deg()
	return sheet.Sheet{
		Title: fmt.Sprintf("Tapering polygon of %d sides", in.Sides),
		Facts: []sheet.Fact{
			{Key: "corner_half_angle_deg", Label: "turn the cone at", Value: sheet.Ang(t.CornerHalfAngle), Remark: "half angle through the corners"},
			{Key: "facet_half_angle_deg", Label: "tilt for the flats", Value: sheet.Ang(t.FacetHalfAngle), Remark: "from the axis to a flat; flatter than the corners"},
		},
		Tables: []sheet.Table{table},
		Working: []sheet.Step{
			sheet.Work("facet half angle", "atan((A1 - A2)/l)", t.FacetHalfAngle.Deg(), "deg", sheet.Let("A1", a1), sheet.Let("A2", a2), sheet.Let("l", l)),
			sheet.Work("corner half angle", "atan((A1 - A2)/(l*cos(h)))", t.CornerHalfAngle.Deg(), "deg", sheet.Let("A1", a1), sheet.Let("A2", a2), sheet.Let("l", l), sheet.Let("h", h)),
		},
		Warnings: t.Warnings, Cautions: t.Cautions,
	}
}
