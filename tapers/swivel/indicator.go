package swivel

import (
	"math"

	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/tapers/sine"
)

// Along is how an indicator lies.
type Along string

// The two ways.
const (
	Cross Along = "cross" // square to the axis
	Axis  Along = "axis"  // along it
)

// Dial is what an indicator shows while the slide travels. Turns are those of the
// compound's handle, 0 where its screw is not known. Exact is what the half angle
// makes of it and Shows the nearest that can be read; Per is what 0.01 deg is
// worth, Needs how much of what it runs on it runs over.
type Dial struct {
	Along        Along
	Travel       units.Length
	Turns        int64
	Exact, Shows units.Length
	Per, Needs   units.Length
	Untold       bool // Exact is less than can be read
	Long         bool // it takes a longer plunger than an ordinary indicator has
	Whole        bool // it takes so much of the slide's travel that it is wound right out first
}

// AlongOf returns how the indicator lies for a half angle: along the axis above
// 45 deg.
func AlongOf(a units.Angle) Along {
	if a.Deg() > 45 {
		return Axis
	}
	return Cross
}

// shown returns what part of the slide's travel the indicator shows.
func (l Along) shown(a units.Angle) float64 {
	if l == Axis {
		return a.Cos()
	}
	return a.Sin()
}

// angle returns the half angle at which an indicator shows h over the travel t:
// asin(h/t) across the axis, acos(h/t) along it.
func (l Along) angle(h, t units.Length) units.Angle {
	part := min(1, h.Abs().Over(t))
	if l == Axis {
		return units.Radians(math.Acos(part))
	}
	return units.Radians(math.Asin(part))
}

// Dial returns what an indicator shows over the usual travel: 20 mm, or 1 in of
// an indicator in inches, in whole turns of this compound's handle, no further
// than the slide goes and the plunger of an ordinary indicator.
//
//	across the axis  t·sin a   and 0.01 deg is t·cos a·π/18000
//	along the axis   t·cos a   and 0.01 deg is t·sin a·π/18000
//
// Source: elementary.
func (in Input) Dial() Dial {
	return in.dial(practice.IndicatorTravel.Length(in.Unit), practice.IndicatorRange.Length(in.Unit), units.Nearest)
}

// Proof returns the indicator that a setting is hit by, or proved by.
func (w Way) Proof() Dial {
	if w.Method == ByIndicator {
		return w.Dial
	}
	return w.in.Dial()
}

// AsSet returns what an indicator shows once it is set: at a mark's own half angle.
func (w Way) AsSet() Dial {
	if w.Method == ByIndicator {
		return w.Dial
	}
	set := w.in
	set.HalfAngle = w.HalfAngle
	return set.Dial()
}

// windable is how far the slide of a known travel is wound under an indicator: a turn
// of its handle is left at either end, without a known screw a millimetre, so that the
// slack comes out and it ends at no stop.
func (in Input) windable() units.Length {
	c := in.Compound
	if c.Screw != nil {
		if left := c.Travel.Minus(c.Screw.Lead.Times(2)); left.Cmp(c.Screw.Lead) >= 0 {
			return left
		}
	}
	if left := c.Travel.Minus(units.Millimetres(2)); left.Sign() > 0 {
		return left
	}
	return *c.Travel
}

// dial returns what an indicator shows over a travel near t, a plunger going
// reach at most.
func (in Input) dial(t, reach units.Length, dir units.Direction) Dial {
	d := Dial{Along: AlongOf(in.HalfAngle), Travel: t}
	half := practice.IndicatorRead.Length(in.Unit).Half() // it reads the end of its plunger all the same
	most := units.FromFloat(reach.Plus(half).MM() / d.Along.shown(in.HalfAngle))
	if c := in.Compound; c != nil && c.Travel != nil {
		most = units.Min(most, *c.Travel)
	}
	d.turned(in, most, dir)
	if c := in.Compound; c != nil && c.Travel != nil {
		d.Whole = c.Travel.Less(d.Travel.Times(2))
	}
	d.Exact = units.FromFloat(d.Travel.MM() * d.Along.shown(in.HalfAngle))
	d.Shows = d.Exact.RoundTo(practice.IndicatorRead.Length(in.Unit), units.Nearest)
	if d.Shows.Sign() == 0 { // that would be a cylinder, or a flat face
		d.Shows, d.Untold = d.Exact, true
	}
	other := Cross
	if d.Along == Cross {
		other = Axis
	}
	d.Needs = units.FromFloat(d.Travel.MM() * other.shown(in.HalfAngle))
	d.Per = units.FromFloat(d.Needs.MM() * math.Pi / 18000)
	d.Long = practice.IndicatorRange.Length(in.Unit).Plus(half).Less(d.Exact)
	return d
}

// turned makes whole turns of the travel, at most so far; where not even one goes
// or the screw is not known it is left a length, a round one where it is cut.
func (d *Dial) turned(in Input, most units.Length, dir units.Direction) {
	if c := in.Compound; c != nil && c.Screw != nil {
		lead := c.Screw.Lead
		n := min(max(d.Travel.Steps(lead, dir), 1), most.Steps(lead, units.Down))
		if n > 0 {
			d.Turns, d.Travel = n, lead.Times(n)
			return
		}
	}
	if most.Less(d.Travel) {
		round := units.MustLength("1mm")
		if in.Unit == units.Inch {
			round = units.MustLength("0.05in")
		}
		d.Travel = most
		if whole := most.RoundTo(round, units.Down); whole.Sign() > 0 {
			d.Travel = whole
		}
	}
}

// near sets it by an indicator over the usual travel, far over what the slide and
// a long plunger go. ok is false where far is no further.
//
// What it reads is told to half of what it is read to, s, and a travel t that no dial
// counts to e by a calliper, else exactly:
//
//	across the axis  sin b = (r ± s/2)/(t ∓ e)
//	along the axis   cos b = (r ± s/2)/(t ∓ e)
func (in Input) near() (Way, bool) { return in.indicated(in.Dial()), true }

func (in Input) far() (Way, bool) {
	c := in.Compound
	if c == nil || c.Travel == nil {
		return Way{}, false
	}
	all := units.Min(in.windable(), practice.IndicatorLong.Length(in.Unit))
	d := in.dial(all, practice.IndicatorReach.Length(in.Unit), units.Down)
	return in.indicated(d), in.Dial().Travel.Less(d.Travel)
}

// indicated sets it so that an indicator shows as much.
func (in Input) indicated(d Dial) Way {
	half := practice.IndicatorRead.Length(in.Unit).Half()
	set := d.Along.angle(d.Shows, d.Travel)
	told := units.Length{}
	if d.Turns == 0 {
		told = units.Min(practice.SlideTold.Length(), d.Travel.Half())
	}
	off := max(math.Abs(d.Along.angle(d.Shows.Plus(half), d.Travel.Minus(told)).Minus(set).Deg()),
		math.Abs(d.Along.angle(d.Shows.Minus(half), d.Travel.Plus(told)).Minus(set).Deg()))
	return Way{Method: ByIndicator, HalfAngle: set, Within: units.Degrees(off), Dial: d, in: in}
}

// onSineBar sets it along a sine bar on gauge blocks, whose rolls stand against
// what is true along the axis, or above 45 deg against what is square to it and
// on blocks for the complement. An indicator on the slide stands still along the
// bar. What the stack is off is reckoned with, and what a hand that stands still
// does not tell. ok is false where there are no bar and blocks.
func (in Input) onSineBar() (Way, bool) {
	if in.SineBar == nil || in.Blocks == nil {
		return Way{}, false
	}
	a := in.HalfAngle
	w := Way{Method: BySineBar, Dial: Dial{Along: AlongOf(a)}, in: in}
	if w.Dial.Along == Axis {
		a = units.Degrees(90 - a.Deg())
	}
	stack, err := sine.Of(sine.Input{Angle: &a, Bar: *in.SineBar, Set: in.Blocks.Set, Blocks: in.Blocks.Pieces})
	if err != nil || stack.AngleSet == nil {
		return Way{}, false
	}
	w.Stack, w.HalfAngle = stack, *stack.AngleSet
	if w.Dial.Along == Axis {
		w.HalfAngle = units.Degrees(90 - stack.AngleSet.Deg())
	}
	w.Dial.Travel = units.Min(*in.SineBar, practice.IndicatorTravel.Length(in.Unit)) // the usual, where no more is known
	if c := in.Compound; c != nil && c.Travel != nil {
		w.Dial.Travel = units.Min(*in.SineBar, in.windable())
	}
	w.Within = Cross.angle(practice.IndicatorStill.Length(), w.Dial.Travel)
	return w, true
}
