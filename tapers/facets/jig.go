package facets

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// JigInput is a tapering polygon that is ground in a cradle, and the diameter
// of the wheel the belt or the stone runs on; nil for a flat platen.
type JigInput struct {
	TaperInput
	Wheel *units.Length `json:"wheel_mm,omitempty"`
}

// JigResult is how the cradle is set. The stops are the heights of the bar's
// axis over the plane of the flat that is being ground, at either end. First
// is what the first flat reads over the round opposite, square to the axis.
// Hollow is what the wheel grinds deeper in the middle of a flat than at its
// edges, nil without a wheel.
type JigResult struct {
	Inputs      JigInput      `json:"inputs"`
	Cradle      units.Angle   `json:"cradle_angle_deg" show:"tilt the cradle" as:"minutes"`
	Index       units.Angle   `json:"index_deg" show:"from flat to flat" as:"minutes"`
	StopLarge   units.Length  `json:"stop_large_mm" show:"axis over the flat, large end"`
	StopSmall   units.Length  `json:"stop_small_mm" show:"axis over the flat, small end"`
	Difference  units.Length  `json:"stop_difference_mm" show:"difference"`
	FirstLarge  units.Length  `json:"first_flat_reading_large_mm" show:"first flat reads, large end"`
	FirstSmall  units.Length  `json:"first_flat_reading_small_mm" show:"first flat reads, small end"`
	HollowLarge *units.Length `json:"hollow_large_mm" show:"hollow by the wheel, large end"`
	HollowSmall *units.Length `json:"hollow_small_mm" show:"hollow by the wheel, small end"`
	sheet.Remarks

	apothems [2]units.Length
	widest   units.Length
}

// Hollow returns how much deeper a wheel of the diameter D grinds in the middle
// of a flat of the width w than at its edges, by the rule
//
//	w²/(8·R),  R = D/2
//
// It is short of the exact R - sqrt(R² - w²/4) by about w⁴/(128·R³), which is
// 1 % of it where the flat is a fifth of the wheel wide. w is 0 or more, D above
// w.
func Hollow(width, wheel units.Length) units.Length {
	w := width.MM()
	return units.FromFloat(w * w / (4 * wheel.MM()))
}

// Jig returns how a cradle is set to grind a tapering polygon: tilted by the
// facet half angle f, so that the flat lies level, the axis A·cos f over it at
// either end, A being the apothem there. It fails where Taper does, and for a
// wheel no larger than the widest flat.
func Jig(in JigInput) (JigResult, error) {
	t, err := Taper(in.TaperInput)
	if err != nil {
		return JigResult{}, err
	}
	r := JigResult{
		Inputs: in, Cradle: t.FacetHalfAngle, Index: units.Degrees(360 / float64(in.Sides)),
		apothems: t.apothems, Remarks: t.Remarks,
	}
	first, last := t.Stations[0], t.Stations[len(t.Stations)-1]
	r.widest = first.Width
	stop := func(a units.Length) units.Length { return units.FromFloat(a.MM() * r.Cradle.Cos()) }
	r.StopLarge, r.StopSmall = stop(t.apothems[0]), stop(t.apothems[1])
	r.Difference = r.StopLarge.Minus(r.StopSmall)
	r.FirstLarge, r.FirstSmall = firstReading(first.Blank, t.apothems[0]), firstReading(last.Blank, t.apothems[1])
	if in.Wheel == nil {
		return r, nil
	}
	if in.Wheel.Cmp(first.Width) <= 0 {
		return JigResult{}, problem.New(problem.OutOfRange, "wheel", in.Wheel,
			"must be larger than the widest flat, ", first.Width.Up())
	}
	r.HollowLarge, r.HollowSmall = new(Hollow(first.Width, *in.Wheel)), new(Hollow(last.Width, *in.Wheel))
	return r, nil
}

// Sheet implements sheet.Result.
func (r JigResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Cradle for ", in.Sides, " tapering flats")
	s.Remark(&r.Cradle, "so that the flat lies level: the axis nearer to it at the small end")
	s.Remark(&r.StopLarge, "where the stop ends the grinding")
	s.Remark(&r.FirstLarge, "over the flat and the round opposite, square to the axis")
	a1, a2, f := sheet.Let("A1", r.apothems[0].MM()), sheet.Let("A2", r.apothems[1].MM()), sheet.Let("f", r.Cradle.Deg())
	s.Work("f", "atan((A1 - A2)/l)", f.Value, "deg", a1, a2, sheet.Let("l", in.Length.MM()))
	s.Work("stop, large end", "A1*cos(f)", r.StopLarge.MM(), "mm", a1, f)
	s.Work("stop, small end", "A2*cos(f)", r.StopSmall.MM(), "mm", a2, f)
	if r.HollowLarge != nil {
		w, R := r.widest.MM(), in.Wheel.MM()/2
		s.Remark(&r.HollowLarge, "by the rule w²/8R; exactly ", units.FromFloat(R-math.Sqrt(R*R-w*w/4)))
		s.Work("hollow", "w^2/(8*R)", r.HollowLarge.MM(), "mm", sheet.Let("w", w), sheet.Let("R", R))
		s.Note("The hollow lies across a flat that is ground across the wheel; ",
			"finish on a flat platen where it must be flat.")
	}
	s.Figures()
	return *s
}
