package plan

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/predict"
	"setover/tapers/compound"
	"setover/tapers/standard"
	"setover/tapers/swivel"
)

// aim returns the half angle to work to: the middle of its limits where it has
// its own, else the one that is drawn.
func (p *tapering) aim() units.Angle {
	if a, written := p.limits.HalfAngle(p.x); written {
		return a.AimAngle()
	}
	return units.Radians(math.Atan(p.large.Minus(p.small).Half().Over(p.x.Length())))
}

// ground returns the angle that a form tool is ground to.
func (p *tapering) ground() units.Angle {
	return p.aim().RoundTo(practice.FormToolStep.Angle(), units.Nearest)
}

// setAngle returns the way to set the compound with the least trouble that keeps
// the limits. Where none does it is the nearest there is. A taper that has a name
// fits one that somebody else made, so that it is set as near as that asks, or as near
// as can be.
func (p *tapering) setAngle(r compound.Result) swivel.Choice {
	in := swivel.Input{
		HalfAngle: p.aim(), Grows: r.Swivel == shop.Clockwise, Reversed: r.Reversed, Compound: p.Shop.Lathe.Compound,
		Tools: swivel.ToolsOf(p.Shop),
	}
	keeps := func(w swivel.Way) bool { return p.keeps(w.HalfAngle, w.Within) }
	if p.named() != "" {
		fit := practice.WithinNamed.Length(p.Shop.Units)
		c := in.Choose(func(w swivel.Way) bool { return keeps(w) && w.FarEnd(p.x.Length()).Cmp(fit) <= 0 })
		if c.Keeps = c.Keeps || keeps(c.Way); c.Keeps {
			return c
		}
	}
	return in.Choose(keeps)
}

// named returns the name of the taper whose gauge line and slope this one has to the
// hundredth of a millimetre that drawings are rounded to; "" where there is none.
func (p *tapering) named() string {
	const rounded = 0.01 // mm
	long := p.x.Length().MM()
	for _, s := range standard.All() {
		if s.Large == nil || s.Length == nil || long < s.Length.MM()/2 {
			continue
		}
		falls := p.large.Minus(p.small).MM()
		if math.Abs(p.large.Minus(*s.Large).MM()) <= rounded && math.Abs(falls-2*long*s.HalfAngle.Tan()) <= rounded {
			return s.Name
		}
	}
	return ""
}

// worst returns the half angle that is set, where it does not keep the limits as
// far off as it may be.
func (p *tapering) worst(c swivel.Choice) units.Angle {
	switch {
	case c.Keeps:
		return c.HalfAngle
	case c.HalfAngle.Deg() < p.aim().Deg():
		return c.HalfAngle.Minus(c.Within)
	}
	return c.HalfAngle.Plus(c.Within)
}

// turnedDown says which ways to set it are less trouble and why none of them serves.
func (p *tapering) turnedDown(c swivel.Choice) say.Text {
	var list []say.Text
	for _, m := range c.Not {
		list = append(list, m.Words())
	}
	if len(list) == 0 {
		return ""
	}
	if name := p.named(); name != "" {
		return say.Of("; it has the sizes of ", name, ", and ", say.Join(list, ", or "), " it would fit its socket less well")
	}
	return say.Of("; ", say.Join(list, ", or "), " it does not keep the limits")
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

// keeps reports whether the compound, set so and no further off, keeps the small end of the taper, or
// the flats that follow it, and the taper's own limit where it has one. What the
// cross slide's dial may be off is left free. Where something as thick goes on at
// the small end it leaves no step there.
func (p *tapering) keeps(set, within units.Angle) bool {
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
		step := p.small.Minus(predict.SmallEnd(p.large, p.x.Length(), set)).Half()
		if practice.TaperStep.Length().Less(step) {
			return false
		}
	}
	if p.by == finishedByFile { // the file takes what it is off, but not metal that is gone
		left := practice.LeaveFiling.Length().Half()
		least := predict.SmallEnd(p.large, p.x.Length(), set.Plus(within)).Minus(off)
		most := predict.SmallEnd(p.large, p.x.Length(), set.Minus(within)).Plus(off)
		return p.small.Minus(left).Cmp(least) <= 0 && most.Cmp(p.small.Plus(left)) <= 0
	}
	for _, set := range []units.Angle{set.Minus(within), set.Plus(within)} {
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
func (p *tapering) best(because say.Text, leaves units.Angle) say.Text {
	return say.Of("the best that this shop has is ", because, ", which may leave ", sheet.Deg(leaves), " for ",
		sheet.Deg(p.aim()))
}
