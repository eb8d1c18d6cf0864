package gauge

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// DiscsInput is two discs that both touch the sides of a taper, and either the
// taper or the gap between the discs.
type DiscsInput struct {
	tapers.Input
	LargeDisc units.Length  `json:"large_disc_mm"`
	SmallDisc units.Length  `json:"small_disc_mm"`
	Gap       *units.Length `json:"gap_mm,omitempty"`
}

// DiscsResult is the taper of two discs. Large and Small are the taper's width
// at the middle of each disc.
type DiscsResult struct {
	Inputs DiscsInput `json:"inputs"`
	Figures
	Gap    units.Length `json:"gap_mm"`
	Centre units.Length `json:"centre_distance_mm"`
	sheet.Remarks
}

// Discs works between a taper and the gap of two discs:
//
//	sin a = (D1 - D2)/(2·C),  C = gap + (D1 + D2)/2
//
// It is exact. It fails where D1 is not above D2, where the taper and the gap
// are both given or neither, and where the discs would overlap.
func Discs(in DiscsInput) (DiscsResult, error) {
	var bad problem.List
	pair(&bad, "large-disc", in.LargeDisc, "small-disc", in.SmallDisc)
	if in.Gap != nil && in.Gap.Sign() < 0 {
		bad.Add(problem.New(problem.OutOfRange, "gap", in.Gap, "the discs cannot overlap: 0 or more"))
	}
	bad.Add(given(known(in.Input), in.Gap != nil, "--gap"))
	if len(bad) > 0 {
		return DiscsResult{}, bad
	}
	r := DiscsResult{Inputs: in}
	sum, less := in.LargeDisc.Plus(in.SmallDisc).Half(), in.LargeDisc.Minus(in.SmallDisc).MM()/2
	if in.Gap != nil {
		r.Gap, r.Centre = *in.Gap, sum.Plus(*in.Gap)
		r.HalfAngle = units.Radians(math.Asin(less / r.Centre.MM()))
	} else {
		t, err := tapers.Solve(in.Input)
		if err != nil {
			return DiscsResult{}, err
		}
		r.HalfAngle, r.Centre = t.HalfAngle, units.FromFloat(less/t.HalfAngle.Sin())
		r.Gap = r.Centre.Minus(sum)
		if r.Gap.Sign() < 0 {
			return DiscsResult{}, problem.New(problem.Impossible, "small-disc", in.SmallDisc, fmt.Sprintf("the discs would overlap by %s mm on this taper: take a smaller one", r.Gap.Neg().Fixed(units.MM, 3, units.Up)))
		}
	}
	r.Included = r.HalfAngle.Times(2)
	across := func(d units.Length) *units.Length {
		l := units.FromFloat(d.MM() / r.HalfAngle.Cos())
		return &l
	}
	r.Large, r.Small = across(in.LargeDisc), across(in.SmallDisc)
	r.PerMicron = perMicronOf(r.HalfAngle, r.Centre)
	return r, nil
}

// perMicronOf is what 0.001 mm of the distance C is worth where sin a = k/C:
// tan a/C.
func perMicronOf(a units.Angle, c units.Length) units.Number {
	return units.Number(0.001 * a.Tan() / c.MM() * perRadian)
}

// pair checks two diameters of which the first is to be the larger.
func pair(list *problem.List, key1 string, d1 units.Length, key2 string, d2 units.Length) {
	positive(list, key2, d2)
	if d1.Cmp(d2) <= 0 {
		list.Add(problem.New(problem.OutOfRange, key1, d1, fmt.Sprintf("must be larger than the small one, %v", d2)))
	}
}

// Sheet implements sheet.Result.
func (r DiscsResult) Sheet() sheet.Sheet {
	in := r.Inputs
	return sheet.Sheet{
		Title: "Taper of two discs",
		Facts: append([]sheet.Fact{
			{Key: "gap_mm", Label: "gap between the discs", Value: sheet.Len(r.Gap)},
			{Key: "centre_distance_mm", Label: "between their middles", Value: sheet.Len(r.Centre)},
		}, r.facts("of the gap")...),
		Working: []sheet.Step{
			sheet.Work("C", "gap + (D1 + D2)/2", r.Centre.MM(), "mm", sheet.Let("gap", r.Gap.MM()), sheet.Let("D1", in.LargeDisc.MM()), sheet.Let("D2", in.SmallDisc.MM())),
			sheet.Work("a", "asin((D1 - D2)/(2*C))", r.HalfAngle.Deg(), "deg", sheet.Let("D1", in.LargeDisc.MM()), sheet.Let("D2", in.SmallDisc.MM()), sheet.Let("C", r.Centre.MM())),
		},
		Notes:    []string{"Large and small are the taper's width at the middle of each disc."},
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
}
