package gauge

import (
	"math"

	"setover/setup/base/check"
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
	Inputs DiscsInput   `json:"inputs"`
	Gap    units.Length `json:"gap_mm" show:"gap between the discs"`
	Centre units.Length `json:"centre_distance_mm" show:"between their middles"`
	Figures
	sheet.Remarks
}

// Discs works between a taper and the gap of two discs:
//
//	sin a = (D1 - D2)/(2·C),  C = gap + (D1 + D2)/2
//
// It is exact. It fails where D1 is not above D2, where the taper and the gap
// are both given or neither, and where the discs would overlap.
func Discs(in DiscsInput) (DiscsResult, error) {
	var bad check.List
	bad.Above0("small-disc", in.SmallDisc)
	bad.Above("large-disc", in.LargeDisc, in.SmallDisc, "the small one")
	bad.NotBelow0("gap", in.Gap)
	given(&bad, in.Input, check.If("gap", in.Gap))
	if err := bad.Err(); err != nil {
		return DiscsResult{}, err
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
			return DiscsResult{}, problem.New(problem.Impossible, "small-disc", in.SmallDisc,
				"the discs would overlap by ", r.Gap.Neg().Up(), " on this taper: take a smaller one")
		}
	}
	r.Included = r.HalfAngle.Times(2)
	across := func(d units.Length) *units.Length { return new(units.FromFloat(d.MM() / r.HalfAngle.Cos())) }
	r.Large, r.Small = across(in.LargeDisc), across(in.SmallDisc)
	r.PerMicron = perMicronOf(r.HalfAngle, r.Centre)
	return r, nil
}

// perMicronOf is what 0.001 mm of the distance C is worth where sin a = k/C:
// tan a/C.
func perMicronOf(a units.Angle, c units.Length) units.Number {
	return units.Number(0.001 * a.Tan() / c.MM() * perRadian)
}

// Sheet implements sheet.Result.
func (r DiscsResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper of two discs")
	s.Remark(&r.PerMicron, "in the half angle, of the gap")
	s.Figures()
	d1, d2 := sheet.Let("D1", r.Inputs.LargeDisc.MM()), sheet.Let("D2", r.Inputs.SmallDisc.MM())
	s.Work("C", "gap + (D1 + D2)/2", r.Centre.MM(), "mm", sheet.Let("gap", r.Gap.MM()), d1, d2)
	s.Work("a", "asin((D1 - D2)/(2*C))", r.HalfAngle.Deg(), "deg", d1, d2, sheet.Let("C", r.Centre.MM()))
	s.Note("Large and small are the taper's width at the middle of each disc.")
	return *s
}
