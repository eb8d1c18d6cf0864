// Package swivel sets the swivel of a lathe's compound to a half angle: how far
// the hand turns it on this scale and which way the handle end goes, and the way
// to hit the angle with the least trouble that is good enough.
//
// Seen from above with the operator at the bottom, the headstock is left and the
// tailstock right. With s how far the slide is turned clockwise from along the
// axis with its handle toward the tailstock, the handle points along (cos s,
// sin s), the first toward the tailstock and the second toward the operator. The
// tool stands on the operator's side, so that a diameter that grows toward the
// tailstock by the half angle a needs s = a and one that shrinks s = -a, outside
// and in a bore; with the slide the other way round it is s + 180 deg.
//
// From a zero along the axis the hand turns s. A zero across the axis stands at
// s = 90 deg, so the hand turns s - 90: two tapers of one angle, one growing and
// one shrinking, are then 90-a and 90+a the same way round, this side of 90 and
// past it.
//
// There are four ways to hit the angle, the least trouble first: a mark of the
// scale; between two marks, by eye; an indicator that shows how far the slide
// goes sideways in whole turns of its handle; a sine bar. Below 45 deg the
// indicator lies across the axis and shows t·sin a over a travel t of the slide,
// above it lies along the axis and shows t·cos a: the one that changes more.
//
// Source: US Army OD 1645 (1942) for the two ways to read a 60 deg centre; the
// rest is plane trigonometry.
package swivel

import (
	"iter"
	"math"
	"slices"

	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/tapers/sine"
)

// Method is how the angle is hit.
type Method string

// The methods, the least trouble first.
const (
	ByMark       Method = "mark"
	BetweenMarks Method = "between-marks"
	ByIndicator  Method = "indicator"
	BySineBar    Method = "sine-bar"
)

// Tools are what a swivel is set with beside its scale. What there is not is nil.
type Tools struct {
	SineBar *units.Length
	Blocks  *shop.GaugeBlocks
	Unit    units.Unit // the indicator is in
}

// ToolsOf returns what a shop has, with an indicator in its own unit.
func ToolsOf(s *shop.Shop) Tools { return Tools{s.SineBar, s.GaugeBlocks, s.Units} }

// Input is a half angle above 0 and below 90 deg, and what it is set with. A nil
// compound is one of which nothing is known.
type Input struct {
	HalfAngle units.Angle
	Grows     bool // toward the tailstock
	Reversed  bool // the slide stands the other way round
	Compound  *shop.Compound
	Tools
}

// Handle returns where the handle points, in degrees clockwise from toward the
// tailstock.
func (in Input) Handle() units.Angle {
	s := in.HalfAngle
	if !in.Grows {
		s = s.Times(-1)
	}
	if in.Reversed {
		s = s.Plus(units.Degrees(180))
	}
	return s
}

// way is 1 where a turn clockwise makes the half angle larger, else -1.
func (in Input) way() float64 {
	if in.Grows {
		return 1
	}
	return -1
}

// Swivel returns the sense in which the taper itself turns the slide from along
// the axis. It is not what the hand does: see Turned.
func (in Input) Swivel() shop.Direction {
	if in.Grows {
		return shop.Clockwise
	}
	return shop.CounterClockwise
}

// Toward names the quarter the handle points to.
func (in Input) Toward() string {
	s := in.Handle().Deg()
	s -= 360 * math.Round(s/360)
	switch {
	case math.Abs(s) <= 45:
		return "tailstock"
	case math.Abs(s) >= 135:
		return "headstock"
	case s > 0:
		return "operator"
	}
	return "back"
}

// Turned returns how far the hand turns the swivel from this scale's zero, which
// way, and what the scale shows there: exactly, and at the nearest mark. Lost is
// what the mark loses of the half angle, set minus exact. ok is false without a
// compound.
func (in Input) Turned() (exact, mark shop.Turned, lost units.Angle, ok bool) {
	if in.Compound == nil {
		return exact, mark, lost, false
	}
	exact, mark, setting := in.Compound.Set(in.Handle())
	return exact, mark, setting.Lost.Times(in.way()), true
}

// Past90 reports whether a turn goes on past 90 deg.
func Past90(t shop.Turned) bool { return t.Turn.Deg() > 90+1e-9 }

// Way is one way to set the swivel: the half angle that is set, and how far off
// that may be either way, since the hand tells no more. What belongs to the other
// methods is empty.
type Way struct {
	Method    Method
	HalfAngle units.Angle
	Within    units.Angle

	Turned shop.Turned // by a mark, or between two
	Part   int         // between marks: so many of Parts past the mark that was passed last
	Parts  int
	From   shop.Turned // the mark that was passed last
	To     shop.Turned // the next one

	Dial  Dial        // by indicator; by sine bar how far the slide is wound under it
	Stack sine.Result // by sine bar, of the complement above 45 deg

	in Input
}

// Off returns how far the half angle may be off at most.
func (w Way) Off() units.Angle {
	return units.Degrees(math.Abs(w.HalfAngle.Minus(w.in.HalfAngle).Deg()) + w.Within.Deg())
}

// FarEnd returns by how much at most the diameter at the far end is out over a
// length, with the near end right:
//
//	2·l·|tan b - tan a|
//
// with b the half angle that is set, as far off as it may be. A b that would be
// a flat face counts as 89.999 deg.
func (w Way) FarEnd(length units.Length) units.Length {
	const least, most = 0, 89.999
	var worst float64
	for _, off := range []float64{-1, 1} {
		b := units.Degrees(min(max(w.HalfAngle.Plus(w.Within.Times(off)).Deg(), least), most))
		worst = max(worst, math.Abs(b.Tan()-w.in.HalfAngle.Tan()))
	}
	return units.FromFloat(2 * length.MM() * worst)
}

// Choice is the way that was chosen, whether it keeps what was asked, and the
// methods that are less trouble and do not.
type Choice struct {
	Way
	Keeps bool
	Not   []Method
}

// Choose returns the way with the least trouble that keeps. Where none does it is
// the one that may be least off.
func (in Input) Choose(keeps func(Way) bool) Choice { return choose(in.Ways(), keeps) }

func choose(ways iter.Seq[Way], keeps func(Way) bool) Choice {
	var best Choice
	var not []Method
	for w := range ways {
		if keeps(w) {
			not = slices.DeleteFunc(not, func(m Method) bool { return m == w.Method })
			return Choice{w, true, not}
		}
		if best.Method == "" || w.Off().Deg() < best.Off().Deg() {
			best.Way = w
		}
		if !slices.Contains(not, w.Method) {
			not = append(not, w.Method)
		}
	}
	best.Not = slices.DeleteFunc(not, func(m Method) bool { return m == best.Method })
	return best
}

// Ways are the ways there are to set it, the least trouble first, each worked out
// when it is its turn. There is one at least.
func (in Input) Ways() iter.Seq[Way] {
	return func(yield func(Way) bool) {
		for _, try := range []func() (Way, bool){in.onMark, in.betweenMarks, in.near, in.far, in.onSineBar} {
			if w, ok := try(); ok && !yield(w) {
				return
			}
		}
	}
}

// onMark sets it to the nearest mark, which is taken as hit. ok is false where
// there is no scale, where it does not reach, and where the mark would cut a
// cylinder or a flat face.
func (in Input) onMark() (Way, bool) {
	_, mark, lost, ok := in.Turned()
	w := Way{Method: ByMark, HalfAngle: in.HalfAngle.Plus(lost), Turned: mark, in: in}
	return w, ok && w.onScale()
}

// onScale reports whether the scale goes as far and something conical comes out.
func (w Way) onScale() bool {
	const least = 1e-9 // degrees from a cylinder, and from a flat face
	exact, _, _, _ := w.in.Turned()
	return !exact.OffScale && !w.Turned.OffScale && w.HalfAngle.Deg() > least && w.HalfAngle.Deg() < 90-least
}

// betweenMarks sets it to a part of the step between two marks, which is told to
// half of that part. ok is false as on a mark, and where it would be one.
func (in Input) betweenMarks() (Way, bool) {
	if in.Compound == nil {
		return Way{}, false
	}
	parts := math.Round(1 / practice.EyePart.Number())
	slide := *in.Compound
	step := slide.Scale.Step
	slide.Scale.Step = step.Times(1 / parts)
	finer := in
	finer.Compound = &slide
	w, ok := finer.onMark()
	w.Method, w.Within, w.in = BetweenMarks, slide.Scale.Step.Half(), in
	sign := 1.0
	if w.Turned.Direction == shop.CounterClockwise {
		sign = -1
	}
	n := math.Round(w.Turned.Turn.Deg() / slide.Scale.Step.Deg())
	w.Part, w.Parts = int(math.Mod(n, parts)), int(parts)
	from := math.Floor(n / parts)
	w.From = in.Compound.Scale.Turned(step.Times(sign * from))
	w.To = in.Compound.Scale.Turned(step.Times(sign * (from + 1)))
	return w, ok && w.Part > 0
}
