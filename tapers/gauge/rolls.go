// Package gauge measures tapers and puts them right: rolls, discs and balls, and
// what to change when a cone comes out wrong.
//
// A plug is measured over two rolls, on the plate and again with both raised.
// Two discs that both touch a taper's sides are the same figure as two balls in
// a taper bore, seen from outside.
//
// Each can be worked from what is measured to the taper or from the taper to
// what should be measured, and says what a micrometre of reading costs in the
// angle.
package gauge

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// RollsInput is a plug that stands on its small end between two rolls, and
// either the taper or what was measured over the rolls: Over on the plate,
// OverRaised with both on blocks of the height Height.
type RollsInput struct {
	tapers.Input
	Roll       units.Length  `json:"roll_mm"`
	Height     units.Length  `json:"height_mm"`
	Over       *units.Length `json:"over_mm,omitempty"`
	OverRaised *units.Length `json:"over_raised_mm,omitempty"`
}

// Figures are what every way of gauging has: the taper, and what a micrometre
// of reading is worth in the half angle. Large and Small are nil where they do
// not follow.
type Figures struct {
	HalfAngle units.Angle   `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Included  units.Angle   `json:"included_angle_deg" show:"included angle" as:"minutes"`
	Large     *units.Length `json:"large_mm" show:"large diameter"`
	Small     *units.Length `json:"small_mm" show:"small diameter"`
	PerMicron units.Number  `json:"angle_per_um_deg" show:"a micrometre is worth" as:"6 deg"`
}

// RollsResult is the plug and the sizes over the rolls. Over is nil where the
// small end is not known.
type RollsResult struct {
	Inputs     RollsInput    `json:"inputs"`
	Over       *units.Length `json:"over_mm" show:"over the rolls, on the plate"`
	OverRaised *units.Length `json:"over_raised_mm" show:"over the rolls, raised"`
	Figures
	sheet.Remarks
}

// figures returns those of a taper; perMM is what a millimetre of reading is worth
// in the half angle, in radians.
func figures(t tapers.Taper, perMM float64) Figures {
	return Figures{t.HalfAngle, t.HalfAngle.Times(2), t.Large, t.Small, units.Number(units.Radians(0.001 * perMM).Deg())}
}

// ofMeasured returns the taper of a half angle and one diameter that were
// measured. The other diameter follows where the length is known.
func ofMeasured(a units.Angle, large, small, length *units.Length) (tapers.Taper, error) {
	in := tapers.Input{HalfAngle: &a}
	if length != nil {
		in.Large, in.Small, in.Length = large, small, length
	}
	t, err := tapers.Solve(in)
	if length == nil {
		t.Large, t.Small = large, small
	}
	return t, err
}

// given checks that either the taper is stated or all that is measured, and
// reports whether it was measured.
func given(bad *check.List, in tapers.Input, measured ...check.Option) bool {
	var keys []say.Text
	part := false
	for _, o := range measured {
		keys, part = append(keys, say.Key(o.Key)), part || o.Given
	}
	flags := say.Join(keys, " and ")
	all := bad.Together(measured...)
	bad.Refuse(all && known(in), problem.Contradiction, "taper", nil,
		"give the taper or what was measured (", flags, "), not both")
	bad.Refuse(!part && !known(in), problem.Missing, "taper", nil, "needs the taper, or what was measured: ", flags)
	return all
}

// known reports whether in states a slope or enough sizes for one. A length
// alone does not: it may go with what was measured.
func known(in tapers.Input) bool {
	in.Length, in.Standard = nil, ""
	return in != tapers.Input{}
}

// Rolls works between a plug and the sizes over two equal rolls:
//
//	tan a = (M2 - M1)/(2·H)
//	M1    = d + w·(1 + tan(45 + a/2))
//
// d is the diameter at the plate, w the rolls', H the blocks under them. It is
// exact. It fails on sizes not above 0, where the taper and what was measured
// are both given or neither, where M2 is not above M1, and where the raised
// rolls would stand above the plug.
func Rolls(in RollsInput) (RollsResult, error) {
	var bad check.List
	bad.Above0("roll", in.Roll, "height", in.Height)
	measured := given(&bad, in.Input, check.If("over", in.Over), check.If("over-raised", in.OverRaised))
	if measured {
		bad.Above("over-raised", in.OverRaised, *in.Over, "over the rolls on the plate: the plug stands on its small end")
	}
	if err := bad.Err(); err != nil {
		return RollsResult{}, err
	}
	r := RollsResult{Inputs: in, Over: in.Over, OverRaised: in.OverRaised}
	t, err := in.plug(measured)
	if err != nil {
		return RollsResult{}, err
	}
	w, h, cos := in.Roll.MM(), in.Height.MM(), t.HalfAngle.Cos()
	if t.Small != nil && !measured {
		r.Over = new(t.Small.Plus(in.rolls(t.HalfAngle)))
		r.OverRaised = new(r.Over.Plus(units.FromFloat(2 * h * t.HalfAngle.Tan())))
	}
	if touch := units.FromFloat(h + w/2*(1+t.HalfAngle.Sin())); t.Length != nil && t.Length.Less(touch) {
		return RollsResult{}, problem.New(problem.OutOfRange, "height", in.Height,
			"the raised rolls would touch ", touch.Up(), " up, above the plug of ", t.Length)
	}
	r.Figures = figures(t, cos*cos/(2*h))
	return r, nil
}

// rolls returns how much of the size over them the rolls take up:
// w·(1 + tan(45 + a/2)).
func (in RollsInput) rolls(a units.Angle) units.Length {
	return units.FromFloat(in.Roll.MM() * (1 + units.Degrees(45+a.Deg()/2).Tan()))
}

// plug returns the plug that is stated or follows from what was measured.
func (in RollsInput) plug(measured bool) (tapers.Taper, error) {
	if !measured {
		return tapers.Solve(in.Input)
	}
	a := units.Radians(math.Atan2(in.OverRaised.Minus(*in.Over).MM(), 2*in.Height.MM()))
	d := in.Over.Minus(in.rolls(a))
	if d.Sign() < 0 {
		return tapers.Taper{}, problem.New(problem.Impossible, "over", in.Over, "less than the rolls alone take up")
	}
	return ofMeasured(a, nil, &d, in.Length)
}

// Sheet implements sheet.Result.
func (r RollsResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper over rolls")
	s.Remark(&r.OverRaised, "both on blocks of ", r.Inputs.Height)
	s.Remark(&r.PerMicron, "in the half angle, of the raised reading")
	s.Figures()
	if r.Over != nil {
		s.Step("a", "atan((M2 - M1)/(2*H))", r.HalfAngle, "M2", r.OverRaised, "M1", r.Over, "H", r.Inputs.Height)
		s.Step("d", "M1 - w*(1 + tan(45 + a/2))", r.Small, "M1", r.Over, "w", r.Inputs.Roll, "a", r.HalfAngle)
	}
	s.Note("The plug stands on its small end on a surface plate; the small diameter is the one at the plate.")
	return *s
}
