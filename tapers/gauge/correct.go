package gauge

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// Reading is a diameter measured at a place along the work.
type Reading struct {
	Z   units.Length `json:"z_mm"`
	Dia units.Length `json:"dia_mm"`
}

// End is an end of a taper, by its size.
type End string

// The two ends.
const (
	AtLarge End = "large"
	AtSmall End = "small"
)

// CorrectInput is the taper that is wanted and what came out: two diameters, or
// where the blue rubbed off. Between is the length between centres, where the
// tailstock was set over.
type CorrectInput struct {
	tapers.Input
	Measured []Reading     `json:"measured,omitempty"`
	Blue     End           `json:"blue,omitempty"`
	Internal bool          `json:"internal"`
	Between  *units.Length `json:"between_mm,omitempty"`
}

// CorrectResult is what to change. Correction is wanted minus measured; it is
// nil after blueing, which tells the way but not how far. NewAngle is what the
// scale is set to if it was set to the wanted half angle before; nil where that
// would be no angle, 0 or less or 90 deg or more. Axial is how many
// times a change in diameter the tool, or the work in its gauge, moves along the
// axis.
type CorrectResult struct {
	Inputs          CorrectInput  `json:"inputs"`
	HalfAngle       units.Angle   `json:"half_angle_deg"`
	Measured        *units.Angle  `json:"half_angle_measured_deg"`
	Correction      *units.Angle  `json:"correction_deg"`
	NewAngle        *units.Angle  `json:"new_angle_deg"`
	Turn            string        `json:"turn"` // further, back or none
	DiameterError   *units.Length `json:"diameter_error_mm"`
	IndicatorTravel units.Length  `json:"indicator_travel_mm"`
	Indicator       units.Length  `json:"indicator_reading_mm"`
	IndicatorChange *units.Length `json:"indicator_change_mm"`
	Offset          *units.Length `json:"offset_mm"`
	OffsetChange    *units.Length `json:"offset_change_mm"`
	PerHundredth    *units.Angle  `json:"angle_per_001mm_deg"`
	Axial           units.Number  `json:"axial_per_dia"`
	sheet.Remarks
}

// travel is how far the slide is wound under the indicator.
var travel = units.Millimetres(20)

// Correct returns what to change so that the wanted taper comes out. It fails
// where tapers.Solve does, without exactly one of two readings and a blued end,
// where both readings stand at one place, and
// on a diameter below 0.
func Correct(in CorrectInput) (CorrectResult, error) {
	t, err := tapers.Solve(in.Input)
	var bad problem.List
	bad.Add(err)
	switch {
	case (len(in.Measured) > 0) == (in.Blue != ""):
		bad.Add(problem.New(problem.Missing, "measured", nil, "needs two --measured, such as --measured 5=29.2 --measured 55=21.0, or --blue large or small"))
	case in.Blue != "" && in.Blue != AtLarge && in.Blue != AtSmall:
		bad.Add(problem.New(problem.Unknown, "blue", string(in.Blue), "not an end of a taper: write large or small").Near([]string{"large", "small"}))
	case in.Blue == "" && len(in.Measured) != 2:
		bad.Add(problem.New(problem.Missing, "measured", fmt.Sprintf("%d given", len(in.Measured)), "needs exactly two, as far apart as the taper allows"))
	case in.Blue == "" && in.Measured[0].Z.Equal(in.Measured[1].Z):
		bad.Add(problem.New(problem.Contradiction, "measured", in.Measured[1].Z, "both readings stand at one place"))
	}
	for _, m := range in.Measured {
		if m.Dia.Sign() < 0 {
			bad.Add(problem.New(problem.OutOfRange, "measured", m.Dia, "a diameter cannot be negative"))
		}
	}
	if in.Between != nil && in.Between.Sign() <= 0 {
		bad.Add(problem.New(problem.OutOfRange, "between", in.Between, "the length between the centres must be above 0"))
	}
	if len(bad) > 0 {
		return CorrectResult{}, bad
	}
	a := t.HalfAngle
	r := CorrectResult{Inputs: in, HalfAngle: a, IndicatorTravel: travel, Indicator: units.FromFloat(travel.MM() * a.Sin()), Axial: units.Number(1 / (2 * a.Tan()))}
	if in.Between != nil {
		e := units.FromFloat(in.Between.MM() * a.Sin())
		r.Offset = &e
	}
	if in.Blue != "" {
		r.blued(t)
	} else {
		r.measured(t)
	}
	r.Caution(cautions.Isolate, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// measured fills in what follows from two diameters.
func (r *CorrectResult) measured(t tapers.Taper) {
	p, q := r.Inputs.Measured[0], r.Inputs.Measured[1]
	m := units.Radians(math.Atan2(q.Dia.Minus(p.Dia).Abs().MM(), 2*q.Z.Minus(p.Z).Abs().MM()))
	c := t.HalfAngle.Minus(m)
	again := t.HalfAngle.Plus(c)
	r.Measured, r.Correction = &m, &c
	if d := again.Deg(); d > 0 && d < 90 {
		r.NewAngle = &again
	} else {
		r.Warnings.Add("far-out", "what was measured is so far out that the slide cannot have been set to the wanted half angle: set it anew with the indicator")
	}
	change := func(over units.Length) *units.Length {
		l := units.FromFloat(over.MM() * (t.HalfAngle.Sin() - m.Sin()))
		return &l
	}
	r.IndicatorChange = change(travel)
	if r.Inputs.Between != nil {
		r.OffsetChange = change(*r.Inputs.Between)
	}
	if t.Length != nil {
		e := units.FromFloat(2 * t.Length.MM() * (m.Tan() - t.HalfAngle.Tan()))
		r.DiameterError = &e
	}
	r.way(c.Deg())
}

// blued fills in the way to turn: a plug that rubs at its large end is too
// steep, a bore that does is too flat.
func (r *CorrectResult) blued(t tapers.Taper) {
	further := 1.0
	if (r.Inputs.Blue == AtLarge) != r.Inputs.Internal {
		further = -1
	}
	r.way(further)
	if t.Length != nil {
		cos := t.HalfAngle.Cos()
		per := units.Radians(0.01 / (2 * t.Length.MM()) * cos * cos)
		r.PerHundredth = &per
	}
}

func (r *CorrectResult) way(further float64) {
	switch {
	case math.Abs(further) < 1e-9:
		r.Turn = "none"
	case further > 0:
		r.Turn = "further"
	default:
		r.Turn = "back"
	}
}

// Sheet implements sheet.Result.
func (r CorrectResult) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Taper to be corrected", Warnings: r.Warnings, Cautions: r.Cautions}
	add := func(key, label string, v sheet.Value, remark string) {
		s.Facts = append(s.Facts, sheet.Fact{Key: key, Label: label, Value: v, Remark: remark})
	}
	steeper := map[string]string{"further": "the taper must become steeper", "back": "the taper must become flatter", "none": "the taper is right"}[r.Turn]
	add("turn", "set it", sheet.Text(r.Turn), steeper)
	if r.Correction != nil {
		add("correction_deg", "by", sheet.Number{V: r.Correction.Deg(), Places: 4, Unit: "deg", Signed: true}, "wanted less measured, in the half angle")
		if r.NewAngle != nil {
			add("new_angle_deg", "new angle", sheet.Ang(*r.NewAngle), "if the slide was set to the wanted half angle")
		}
		add("half_angle_measured_deg", "half angle measured", sheet.Ang(*r.Measured), "")
		add("indicator_change_mm", "indicator moves by", sheet.Fine(*r.IndicatorChange), "over "+sheet.Inline(r.IndicatorTravel, units.Nearest)+" of the slide, dial square to the axis")
	}
	add("half_angle_deg", "half angle wanted", sheet.Ang(r.HalfAngle), "")
	add("indicator_reading_mm", "indicator to show", sheet.Len(r.Indicator), "while the slide travels "+sheet.Inline(r.IndicatorTravel, units.Nearest))
	if r.DiameterError != nil {
		add("diameter_error_mm", "the taper is out by", sheet.Fine(*r.DiameterError), "on the diameter difference over the length")
	}
	if r.Offset != nil {
		add("offset_mm", "tailstock over", sheet.Len(*r.Offset), "in all")
	}
	if r.OffsetChange != nil {
		add("offset_change_mm", "which is a change of", sheet.Fine(*r.OffsetChange), "from where it stands")
	}
	if r.PerHundredth != nil {
		add("angle_per_001mm_deg", "a gap of 0.01 mm is", sheet.Num(r.PerHundredth.Deg(), 5, "deg"), "on the diameter, at the end that does not touch")
	}
	add("axial_per_dia", "along the axis", sheet.Num(float64(r.Axial), 3, ""), "times the change in diameter")
	if r.Correction != nil {
		p, q := r.Inputs.Measured[0], r.Inputs.Measured[1]
		s.Working = append(s.Working, sheet.Work("m", "atan((D - d)/(2*l))", r.Measured.Deg(), "deg",
			sheet.Let("D", units.Max(p.Dia, q.Dia).MM()), sheet.Let("d", units.Min(p.Dia, q.Dia).MM()), sheet.Let("l", q.Z.Minus(p.Z).Abs().MM())))
	}
	s.Working = append(s.Working, sheet.Work("axial", "1/(2*tan(a))", float64(r.Axial), "mm", sheet.Let("a", r.HalfAngle.Deg())))
	if r.Inputs.Blue != "" {
		s.Notes = []string{"Blue tells the way, not how far: turn by what the gap is worth, cut, and blue again."}
	}
	return s
}
