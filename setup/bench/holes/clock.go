package holes

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// ClockInput is a pin in a hole of the first row: how much higher it stands at
// one place than at another, Span further along it. Aim is the roll the pin
// should have from level.
type ClockInput struct {
	Rise units.Length       `json:"rise_mm"`
	Span units.Length       `json:"span_mm"`
	Aim  *units.Angle       `json:"aim_deg,omitempty"`
	Head *shop.DividingHead `json:"-"`
}

// ClockResult is how far the bar is rolled from level. Turn is what is left to
// the aim, HeadTurns the same in turns of the dividing head's crank.
type ClockResult struct {
	Inputs    ClockInput    `json:"inputs"`
	Roll      units.Angle   `json:"roll_deg" show:"rolled from level" as:"minutes"`
	PerRise   units.Angle   `json:"per_0_01_mm_deg" show:"0.01 mm of rise is" as:"4" note:"a longer pin reads finer"`
	Turn      *units.Angle  `json:"turn_deg" show:"roll the bar on by" as:"minutes" note:"to the aim; - is back"`
	AimRise   *units.Length `json:"aim_rise_mm" show:"until the pin rises" note:"over the same span"`
	HeadTurns *units.Number `json:"head_turns" show:"in a dividing head" as:"4 turns"`
	sheet.Remarks
}

// PinRoll returns how far a bar is rolled when a pin square to its axis rises
// H over the span L, measured along the pin:
//
//	asin(H/L)
//
// L is above 0 and H from -L to L. Good to 1e-12 deg away from ±90 deg.
//
// Source: plane geometry, the same as a sine bar's.
func PinRoll(rise, span units.Length) units.Angle { return units.Radians(math.Asin(rise.Over(span))) }

// Clock returns the roll of a bar from a pin in one of its holes. It fails
// when Span is not above 0, when the rise is more than the span, or when Aim
// is not from -90 to 90 deg.
func Clock(in ClockInput) (ClockResult, error) {
	var l check.List
	l.Above0("span", in.Span)
	l.Refuse(in.Span.Sign() > 0 && in.Span.Less(in.Rise.Abs()), problem.Impossible, "rise", in.Rise,
		"more than the span, ", in.Span, ": measure the span along the pin")
	l.Between("aim", in.Aim, units.Degrees(-90), units.Degrees(90), "from level")
	if err := l.Err(); err != nil {
		return ClockResult{}, err
	}
	r := ClockResult{Inputs: in, Roll: PinRoll(in.Rise, in.Span)}
	// The rise that is 0.01 mm less in size: there is always room for that one.
	near := in.Rise.Abs().Minus(units.MustLength("0.01mm"))
	r.PerRise = units.Degrees(math.Abs(r.Roll.Deg())).Minus(PinRoll(units.Max(near, in.Span.Neg()), in.Span))
	if in.Aim != nil {
		r.AimRise, r.Turn = new(units.FromFloat(in.Span.MM()*in.Aim.Sin())), new(in.Aim.Minus(r.Roll))
		if in.Head != nil {
			r.HeadTurns = new(units.Number(r.Turn.Deg() * float64(in.Head.Ratio) / 360))
		}
	}
	r.Caution(cautions.VBlocks, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// Sheet implements sheet.Result.
func (r ClockResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Bar clocked by a pin")
	s.Remark(&r.Roll, "up toward the place that reads higher")
	if in.Head != nil {
		s.Remark(&r.HeadTurns, "of a ", in.Head.Ratio, ":1 crank; the plate for it: setover divide, by this angle")
	}
	s.Figures()
	s.Step("roll", "asin(H/L)", r.Roll, "H", in.Rise, "L", in.Span)
	if in.Aim != nil {
		s.Step("aim rise", "L*sin(w)", r.AimRise, "L", in.Span, "w", in.Aim)
	}
	s.Note("The span is measured along the pin, between the two places the indicator touches it.")
	return *s
}
