package facets

import (
	"fmt"
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
	Cradle      units.Angle   `json:"cradle_angle_deg"`
	Index       units.Angle   `json:"index_deg"`
	StopLarge   units.Length  `json:"stop_large_mm"`
	StopSmall   units.Length  `json:"stop_small_mm"`
	Difference  units.Length  `json:"stop_difference_mm"`
	FirstLarge  units.Length  `json:"first_flat_reading_large_mm"`
	FirstSmall  units.Length  `json:"first_flat_reading_small_mm"`
	HollowLarge *units.Length `json:"hollow_large_mm"`
	HollowSmall *units.Length `json:"hollow_small_mm"`
	sheet.Remarks

	apothems [2]units.Length
	widths   [2]units.Length
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
	r.widths = [2]units.Length{first.Width, last.Width}
	stop := func(a units.Length) units.Length { return units.FromFloat(a.MM() * r.Cradle.Cos()) }
	r.StopLarge, r.StopSmall = stop(t.apothems[0]), stop(t.apothems[1])
	r.Difference = r.StopLarge.Minus(r.StopSmall)
	r.FirstLarge, r.FirstSmall = first.Blank.Half().Plus(t.apothems[0]), last.Blank.Half().Plus(t.apothems[1])
	if in.Wheel == nil {
		return r, nil
	}
	if in.Wheel.Cmp(first.Width) <= 0 {
		return JigResult{}, problem.New(problem.OutOfRange, "wheel", in.Wheel, fmt.Sprintf("must be larger than the widest flat, %s mm", first.Width.Fixed(units.MM, 3, units.Up)))
	}
	large, small := Hollow(first.Width, *in.Wheel), Hollow(last.Width, *in.Wheel)
	r.HollowLarge, r.HollowSmall = &large, &small
	return r, nil
}

// Sheet implements sheet.Result.
func (r JigResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Sheet{
		Title: fmt.Sprintf("Cradle for %d tapering flats", in.Sides),
		Facts: []sheet.Fact{
			{Key: "cradle_angle_deg", Label: "tilt the cradle", Value: sheet.Ang(r.Cradle), Remark: "so that the flat lies level: the axis nearer to it at the small end"},
			{Key: "index_deg", Label: "from flat to flat", Value: sheet.Ang(r.Index)},
			{Key: "stop_large_mm", Label: "axis over the flat, large end", Value: sheet.Len(r.StopLarge), Remark: "where the stop ends the grinding"},
			{Key: "stop_small_mm", Label: "axis over the flat, small end", Value: sheet.Len(r.StopSmall)},
			{Key: "stop_difference_mm", Label: "difference", Value: sheet.Len(r.Difference)},
			{Key: "first_flat_reading_large_mm", Label: "first flat reads, large end", Value: sheet.Len(r.FirstLarge), Remark: "over the flat and the round opposite, square to the axis"},
			{Key: "first_flat_reading_small_mm", Label: "first flat reads, small end", Value: sheet.Len(r.FirstSmall)},
		},
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
	a1, a2, f := r.apothems[0].MM(), r.apothems[1].MM(), r.Cradle.Deg()
	s.Working = []sheet.Step{
		sheet.Work("f", "atan((A1 - A2)/l)", f, "deg", sheet.Let("A1", a1), sheet.Let("A2", a2), sheet.Let("l", in.Length.MM())),
		sheet.Work("stop, large end", "A1*cos(f)", r.StopLarge.MM(), "mm", sheet.Let("A1", a1), sheet.Let("f", f)),
		sheet.Work("stop, small end", "A2*cos(f)", r.StopSmall.MM(), "mm", sheet.Let("A2", a2), sheet.Let("f", f)),
	}
	if r.HollowLarge != nil {
		w, R := r.widths[0].MM(), in.Wheel.MM()/2
		exact := units.FromFloat(R - math.Sqrt(R*R-w*w/4))
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "hollow_large_mm", Label: "hollow by the wheel, large end", Value: sheet.Len(*r.HollowLarge), Remark: "by the rule w²/8R; exactly " + sheet.Inline(exact, units.Nearest)},
			sheet.Fact{Key: "hollow_small_mm", Label: "hollow by the wheel, small end", Value: sheet.Len(*r.HollowSmall)})
		s.Working = append(s.Working, sheet.Work("hollow", "w^2/(8*R)", r.HollowLarge.MM(), "mm", sheet.Let("w", w), sheet.Let("R", R)))
		s.Notes = []string{"The hollow lies across a flat that is ground across the wheel; finish on a flat platen where it must be flat."}
	}
	return s
}
