package gauge

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
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

// Ends are the words for an end.
var Ends = []End{AtLarge, AtSmall}

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
	Turn            string        `json:"turn" show:"set it"` // further, back or none
	Correction      *units.Angle  `json:"correction_deg" show:"by" as:"4 signed"`
	NewAngle        *units.Angle  `json:"new_angle_deg" show:"new angle" as:"minutes"`
	Measured        *units.Angle  `json:"half_angle_measured_deg" show:"half angle measured" as:"minutes"`
	IndicatorChange *units.Length `json:"indicator_change_mm" show:"indicator moves by" as:"fine"`
	HalfAngle       units.Angle   `json:"half_angle_deg" show:"half angle wanted" as:"minutes"`
	Indicator       units.Length  `json:"indicator_reading_mm" show:"indicator to show"`
	IndicatorTravel units.Length  `json:"indicator_travel_mm"`
	DiameterError   *units.Length `json:"diameter_error_mm" show:"the taper is out by" as:"fine"`
	Offset          *units.Length `json:"offset_mm" show:"tailstock over" note:"in all"`
	OffsetChange    *units.Length `json:"offset_change_mm" show:"which is a change of" as:"fine"`
	PerHundredth    *units.Angle  `json:"angle_per_001mm_deg" show:"a gap of 0.01 mm is" as:"5"`
	Axial           units.Number  `json:"axial_per_dia" show:"along the axis" as:"3" note:"times the change in diameter"`
	sheet.Remarks

	why say.Text
}

// Correct returns what to change so that the wanted taper comes out. It fails
// where tapers.Solve does, without exactly one of two readings and a blued end,
// where both readings stand at one place, and on a diameter below 0.
func Correct(in CorrectInput) (CorrectResult, error) {
	t, err := tapers.Solve(in.Input)
	var bad check.List
	bad.Add(err)
	in.check(&bad)
	if err := bad.Err(); err != nil {
		return CorrectResult{}, err
	}
	a, travel := t.HalfAngle, practice.IndicatorTravel.Length(units.MM)
	r := CorrectResult{
		Inputs: in, HalfAngle: a, IndicatorTravel: travel, Indicator: units.FromFloat(travel.MM() * a.Sin()),
		Axial: units.Number(1 / (2 * a.Tan())),
	}
	if in.Between != nil {
		r.Offset = new(units.FromFloat(in.Between.MM() * a.Sin()))
	}
	if in.Blue != "" {
		r.blued(t)
	} else {
		r.measured(t)
	}
	r.Caution(cautions.Isolate, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// check finds what is wrong with the readings or the blued end.
func (in CorrectInput) check(bad *check.List) {
	switch n := len(in.Measured); {
	case (n > 0) == (in.Blue != ""):
		bad.Add(problem.New(problem.Missing, "measured", nil, "needs two ", say.Key("measured"), ", such as ",
			say.Key("measured"), " 5=29.2 ", say.Key("measured"), " 55=21.0, or ", say.Key("blue"), " large or small"))
	case in.Blue != "":
		check.OneOf(bad, "blue", in.Blue, Ends)
	case n != 2:
		bad.Add(problem.New(problem.Missing, "measured", say.Of(n, " given"),
			"needs exactly two, as far apart as the taper allows"))
	case in.Measured[0].Z.Equal(in.Measured[1].Z):
		bad.Add(problem.New(problem.Contradiction, "measured", in.Measured[1].Z, "both readings stand at one place"))
	}
	for _, m := range in.Measured {
		bad.NotBelow0("measured", m.Dia)
	}
	bad.Above0("between", in.Between)
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
		r.Warn("far-out", "what was measured is so far out that the slide cannot have been set to the wanted half angle: ",
			"set it anew with the indicator")
	}
	change := func(over units.Length) *units.Length {
		return new(units.FromFloat(over.MM() * (t.HalfAngle.Sin() - m.Sin())))
	}
	r.IndicatorChange = change(r.IndicatorTravel)
	if r.Inputs.Between != nil {
		r.OffsetChange = change(*r.Inputs.Between)
	}
	if t.Length != nil {
		r.DiameterError = new(units.FromFloat(2 * t.Length.MM() * (m.Tan() - t.HalfAngle.Tan())))
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
		r.PerHundredth = new(units.Radians(0.01 / (2 * t.Length.MM()) * cos * cos))
	}
}

// way says which way the slide is turned, by the sign of how much further.
func (r *CorrectResult) way(further float64) {
	switch {
	case math.Abs(further) < 1e-9:
		r.Turn, r.why = "none", "the taper is right"
	case further > 0:
		r.Turn, r.why = "further", "the taper must become steeper"
	default:
		r.Turn, r.why = "back", "the taper must become flatter"
	}
}

// Sheet implements sheet.Result.
func (r CorrectResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper to be corrected")
	s.Remark(&r.Turn, r.why)
	s.Remark(&r.Correction, "wanted less measured, in the half angle")
	s.Remark(&r.NewAngle, "if the slide was set to the wanted half angle")
	s.Remark(&r.IndicatorChange, "over ", r.IndicatorTravel, " of the slide, dial square to the axis")
	s.Remark(&r.Indicator, "while the slide travels ", r.IndicatorTravel)
	s.Remark(&r.DiameterError, "on the diameter difference over the length")
	s.Remark(&r.OffsetChange, "from where it stands")
	s.Remark(&r.PerHundredth, "on the diameter, at the end that does not touch")
	s.Figures()
	if r.Correction != nil {
		p, q := r.Inputs.Measured[0], r.Inputs.Measured[1]
		s.Step("m", "atan((D - d)/(2*l))", r.Measured, "D", units.Max(p.Dia, q.Dia), "d", units.Min(p.Dia, q.Dia),
			"l", q.Z.Minus(p.Z).Abs())
	}
	s.Step("axial", "1/(2*tan(a))", sheet.Number{V: float64(r.Axial), Unit: "mm"}, "a", r.HalfAngle)
	if r.Inputs.Blue != "" {
		s.Note("Blue tells the way, not how far: turn by what the gap is worth, cut, and blue again.")
	}
	return *s
}
