package plan

import (
	"math"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
	"setover/tapers/compound"
	"setover/tapers/sine"
)

// angled is one way to set the compound to a half angle: what it is set to, how
// far off that may be either way, and what the hand looks for.
type angled struct {
	method op.Method
	set    units.Angle
	within units.Angle

	mark          shop.Turned  // on the scale, exact is beside it
	exact         units.Angle  // what the scale would read
	travel, shows units.Length // of the indicator
	stack         sine.Result
	because       say.Text
	not           []op.Method // those that are less trouble and do not keep the limits
}

// methodWords says what sets a compound.
var methodWords = map[op.Method]say.Text{
	op.ByMark: "at its nearest mark", op.BetweenMarks: "between marks by eye", op.ByIndicator: "by indicator",
}

// turnedDown says which ways to set it are less trouble and why none of them serves.
func (a angled) turnedDown() say.Text {
	var list []say.Text
	for _, m := range a.not {
		list = append(list, methodWords[m])
	}
	if len(list) == 0 {
		return ""
	}
	return say.Of("; ", say.Join(list, ", or "), " it does not keep the limits")
}

// aim returns the half angle to work to: the middle of its limits where it has
// its own, else the one that is drawn.
func (p *tapering) aim() units.Angle {
	if a, written := p.limits.HalfAngle(p.x); written {
		return a.AimAngle()
	}
	return units.Radians(math.Atan(p.large.Minus(p.small).Half().Over(p.x.Length())))
}

// ground is a form tool that is ground to the half angle.
func (p *tapering) ground() angled {
	step := practice.FormToolStep.Angle()
	return angled{set: p.aim().RoundTo(step, units.Nearest), because: say.Of("a form tool ground to ", step)}
}

// settings are the ways to set the compound, the least trouble first. Each is
// worked out when it is its turn.
func (p *tapering) settings(r compound.Result) []func() (angled, bool) {
	list := []func() (angled, bool){
		func() (angled, bool) { return p.onScale(r, op.ByMark, 1) },
		func() (angled, bool) { return p.onScale(r, op.BetweenMarks, practice.EyePart.Number()) },
		func() (angled, bool) { return p.indicated(r.IndicatorTravel), true },
	}
	if all := r.TravelAvailable; all != nil && r.IndicatorTravel.Less(*all) {
		list = append(list, func() (angled, bool) { return p.indicated(*all), true })
	}
	return append(list, func() (angled, bool) { return p.onSineBar(r) })
}

// setAngle returns the way to set the compound with the least trouble that keeps
// the limits. Where none does it is the nearest there is, as far off as it may be.
func (p *tapering) setAngle(r compound.Result) (best angled, keeps bool) {
	off := func(a angled) float64 { return math.Abs(a.set.Minus(p.aim()).Deg()) + a.within.Deg() }
	var not []op.Method
	for _, try := range p.settings(r) {
		a, ok := try()
		switch {
		case !ok:
			continue
		case p.keeps(a):
			a.not = slices.DeleteFunc(not, func(m op.Method) bool { return m == a.method })
			return a, true
		case best.method == "" || off(a) < off(best):
			best = a
		}
		if !slices.Contains(not, a.method) {
			not = append(not, a.method)
		}
	}
	if best.set.Deg() < p.aim().Deg() {
		best.set = best.set.Minus(best.within)
	} else {
		best.set = best.set.Plus(best.within)
	}
	return best, false
}

// onScale sets the compound by its scale, to the nearest mark or to a part of the
// step between two. ok is false where there is no scale, and where it does not
// reach or the nearest would cut a cylinder or a flat face.
//
// A mark is hit; a part of a step is told to half of that part.
func (p *tapering) onScale(r compound.Result, method op.Method, part float64) (a angled, ok bool) {
	if p.Shop.Lathe.Compound == nil {
		return angled{}, false
	}
	slide := *p.Shop.Lathe.Compound
	slide.Scale.Step = slide.Scale.Step.Times(part)
	way := 1.0 // clockwise
	if r.Swing != shop.Clockwise {
		way = -1
	}
	handle := way * p.aim().Deg()
	if r.Reversed {
		handle += 180
	}
	exact, mark, setting := slide.Set(units.Degrees(handle))
	a = angled{
		method: method, set: p.aim().Plus(setting.Lost.Times(way)), mark: mark, exact: exact.Reading,
		because: "the compound at its nearest mark",
	}
	if method == op.BetweenMarks {
		a.within, a.because = slide.Scale.Step.Half(), say.Of("the compound set between marks by eye, to ", slide.Scale.Step)
	}
	const least = 1e-9 // degrees from a cylinder, and from a flat face
	return a, !exact.OffScale && !mark.OffScale && a.set.Deg() > least && a.set.Deg() < 90-least
}

// indicated sets the compound by an indicator, read to its step over a travel of
// the slide. What the reading may be off,
//
//	sin b = sin a ± s/(2·t)
//
// with s the step and t the travel, above 0.
//
// Source: elementary.
func (p *tapering) indicated(travel units.Length) angled {
	step, aim := practice.IndicatorStep.Length(), p.aim()
	a := angled{method: op.ByIndicator, set: aim, travel: travel, because: "the compound set by indicator"}
	if travel.Sign() == 0 {
		return a
	}
	a.shows = units.FromFloat(travel.MM()*aim.Sin()).RoundTo(step, units.Nearest)
	a.set = raised(a.shows, travel)
	a.within = raised(a.shows.Plus(step.Half()), travel).Minus(a.set)
	a.because = say.Of("the compound set by indicator, ", a.shows, " over ", travel)
	return a
}

// raised returns the angle of what rises by h over a slope t, asin(h/t).
func raised(h, t units.Length) units.Angle { return units.Radians(math.Asin(min(1, h.Abs().Over(t)))) }

// onSineBar sets the compound along a sine bar that stands on gauge blocks: an
// indicator on the slide stands still along the bar. What the stack is off is
// reckoned with, and what a hand that stands still does not tell.
func (p *tapering) onSineBar(r compound.Result) (a angled, ok bool) {
	bar, blocks := p.Shop.SineBar, p.Shop.GaugeBlocks
	if bar == nil || blocks == nil {
		return angled{}, false
	}
	aim := p.aim()
	stack, err := sine.Of(sine.Input{Angle: &aim, Bar: *bar, Set: blocks.Set, Blocks: blocks.Pieces})
	if err != nil || stack.AngleSet == nil {
		return angled{}, false
	}
	travel := *bar
	if all := r.TravelAvailable; all != nil {
		travel = units.Min(travel, *all)
	}
	return angled{
		method: op.BySineBar, set: *stack.AngleSet, travel: travel, stack: stack,
		within:  raised(practice.IndicatorStill.Length(), travel),
		because: say.Of("the compound set along a sine bar on ", stack.StackHeight, " of gauge blocks"),
	}, true
}

// meets reports whether something as thick goes on at the small end, which the
// trailing edge of the tool must pass.
func (p *tapering) meets(end part.End) bool {
	n := p.x.N // the next one's place in the list; they count from 1
	if end == part.Left {
		n = p.x.N - 2
	}
	all := p.shape.Stretches
	if n < 0 || n >= len(all) {
		return false
	}
	if end == part.Left {
		return all[n].Right.Turned.Equal(p.small)
	}
	return all[n].Left.Turned.Equal(p.small)
}

// keeps reports whether the compound, set so, keeps the small end of the taper, or
// the flats that follow it, and the taper's own limit where it has one. What the
// cross slide's dial may be off is left free. Where something as thick goes on at
// the small end it leaves no step there.
func (p *tapering) keeps(a angled) bool {
	end := part.Right
	if p.x.Left.Turned.Less(p.x.Right.Turned) {
		end = part.Left
	}
	var off units.Length
	if d := p.Shop.Lathe.CrossSlide; d != nil {
		off = d.Division()
	}
	angle, written := p.limits.HalfAngle(p.x)
	if p.meets(end) {
		step := p.small.Minus(predict.SmallEnd(p.large, p.x.Length(), a.set)).Half()
		if practice.TaperStep.Length().Less(step) {
			return false
		}
	}
	if p.by == finishedByFile { // the file takes what it is off, but not metal that is gone
		left := practice.LeaveFiling.Length().Half()
		least := predict.SmallEnd(p.large, p.x.Length(), a.set.Plus(a.within)).Minus(off)
		most := predict.SmallEnd(p.large, p.x.Length(), a.set.Minus(a.within)).Plus(off)
		return p.small.Minus(left).Cmp(least) <= 0 && most.Cmp(p.small.Plus(left)) <= 0
	}
	for _, set := range []units.Angle{a.set.Minus(a.within), a.set.Plus(a.within)} {
		small, out := p.limits.TaperEnd(p.x, end), predict.SmallEnd(p.large, p.x.Length(), set)
		if out.Sign() == 0 { // it comes to a point before its end, and is short by so much
			out = p.large.Minus(units.FromFloat(2 * p.x.Length().MM() * set.Tan()))
		}
		if p.x.Facets != nil {
			small, out = p.limits.Flats(p.x, end), finished(*p.x.Facets, out).AcrossFlats()
		}
		if small.Known() && !(small.Holds(out.Minus(off)) && small.Holds(out.Plus(off))) {
			return false
		}
		if written && !angle.HoldsAngle(set) {
			return false
		}
	}
	return true
}

// best says how near the nearest setting comes.
func (p *tapering) best(a angled) say.Text {
	return say.Of("the best that this shop has is ", a.because, ", which may leave ", sheet.Deg(a.set), " for ",
		sheet.Deg(p.aim()))
}
