// Package gauge measures tapers and puts them right: rolls, discs and balls, and
// what to change when a cone comes out wrong.
//
// A plug is measured over two rolls, on the plate and again with both raised.
// Two discs that both touch a taper's sides are the same figure as two balls in
// a taper bore, seen from outside.
//
// Each can be worked from what is measured to the taper or from the taper to
// what should be measured, and says what a micrometre of reading costs in the
// angle, and what the angle may be where every reading is off.
//
// What came out is put right by what was measured, not by what was set: the slide
// is turned by what is wanted less what was found, counted from where it stands.
// Readings tell that no better than they are themselves, so that an answer may be
// that they do not tell. What is taken off falls short by as much: metal cannot
// be put back.
package gauge

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
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
	Care
}

// Care is how carefully it was measured: how far each reading may be off, either
// way; nil for what a micrometer of the page's unit is usually read to.
type Care struct {
	ReadingError *units.Length `json:"reading_error_mm,omitempty"`
	Unit         units.Unit    `json:"-"`
}

// off returns how far each reading may be off.
func (c Care) off() units.Length {
	if c.ReadingError != nil {
		return *c.ReadingError
	}
	return practice.MicrometerError.Length(c.Unit)
}

// Figures are what every way of gauging has: the taper, and what a micrometre
// of reading is worth in the half angle. Large and Small are nil where they do
// not follow. Least and Most are what the half angle may be, as far as each
// reading may be off; nil where nothing was measured.
type Figures struct {
	HalfAngle units.Angle   `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Least     *units.Angle  `json:"half_angle_least_deg" show:"it may be from" as:"4"`
	Most      *units.Angle  `json:"half_angle_most_deg" show:"up to" as:"4"`
	Included  units.Angle   `json:"included_angle_deg" show:"included angle" as:"minutes"`
	Large     *units.Length `json:"large_mm" show:"large diameter"`
	Small     *units.Length `json:"small_mm" show:"small diameter"`
	PerMicron Worth         `json:"angle_per_um_deg" show:"a reading is worth" as:"6"`
}

// Worth is what a small step of reading is worth in an angle, in degrees: 0.001 mm,
// and on a page in inches 0.0001 in.
type Worth float64

// In implements units.Measured.
func (w Worth) In(u units.Unit) (v float64, unit string) {
	if u == units.Inch {
		return 2.54 * float64(w), "deg"
	}
	return float64(w), "deg"
}

// Words implements say.Quantity.
func (w Worth) Words() (mm, inch string) {
	word := func(u units.Unit) string {
		v, unit := w.In(u)
		return say.Of(say.Num(v, 6), " ", unit).In(u)
	}
	return word(units.MM), word(units.Inch)
}

// MarshalJSON returns w as a number.
func (w Worth) MarshalJSON() ([]byte, error) { return units.Number(w).MarshalJSON() }

// each words the step of reading.
func (Worth) each() say.Text { return say.Either("each 0.001 mm", "each 0.0001 in") }

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
	return Figures{
		HalfAngle: t.HalfAngle, Included: t.HalfAngle.Times(2), Large: t.Large, Small: t.Small,
		PerMicron: Worth(units.Radians(0.001 * perMM).Deg()),
	}
}

// explain says on the sheet of a result that holds f what the bounds rest on.
func (f *Figures) explain(s *sheet.Sheet, why ...any) {
	s.Remark(&f.Least, why...)
}

// bound fills in what the half angle may be, least and most.
func (f *Figures) bound(least, most units.Angle) { f.Least, f.Most = &least, &most }

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
// exact. Where both readings are off by e, one each way, M2 - M1 is off by 2·e: that
// is how far the half angle may lie. It fails on sizes not above 0, where the taper and what was measured
// are both given or neither, where M2 is not above M1, and where the raised
// rolls would stand above the plug.
func Rolls(in RollsInput) (RollsResult, error) {
	var bad check.List
	bad.Above0("roll", in.Roll, "height", in.Height)
	bad.NotBelow0("reading-error", in.ReadingError)
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
	if measured {
		e := in.off().Times(2)
		r.bound(in.slope(e.Neg()), in.slope(e))
	}
	return r, nil
}

// slope returns the half angle that was measured, were the difference of the two
// readings larger by more; 0 at the least.
func (in RollsInput) slope(more units.Length) units.Angle {
	rise := in.OverRaised.Minus(*in.Over).Plus(more).MM()
	return units.Radians(math.Atan2(max(rise, 0), 2*in.Height.MM()))
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
	a := in.slope(units.Length{})
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
	s.Remark(&r.PerMicron, "in the half angle, for ", r.PerMicron.each(), " of the raised one")
	r.explain(s, "each reading may be ", r.Inputs.off(), " off")
	s.Figures()
	if r.Over != nil {
		s.Step("a", "atan((M2 - M1)/(2*H))", r.HalfAngle, "M2", r.OverRaised, "M1", r.Over, "H", r.Inputs.Height)
		s.Step("d", "M1 - w*(1 + tan(45 + a/2))", r.Small, "M1", r.Over, "w", r.Inputs.Roll, "a", r.HalfAngle)
	}
	s.Note("The plug stands on its small end on a surface plate; the small diameter is the one at the plate.")
	return *s
}
