package compound

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/tapers"
)

// A bar in a hole has its back as near to the far wall as its tip is to this one.
// With s the hole's radius to begin with and d the bar, the tip may stand no nearer
// to the axis than d - s, beyond it where that is below 0. Along the slope the tip
// nears the axis by sin a, so that a pass which went the whole slope would drive the
// back into the wall: it goes no farther than it cuts, t/sin a of the slope with an
// infeed of t, where the tip stands at s.
//
// Where the mouth is the small end the tip stands (D - d)/2 beyond the bar's near side,
// since it cuts at D/2 while that side passes a mouth of d/2: the bar and that must go into
// the hole together.
//
// Where the large end is the mouth a pass begins before the mouth and ends there.
// Where it is the bottom a pass begins there and ends at the bottom: the bar goes in
// by the carriage, with the compound wound in, and never stands at the mouth with
// the tip past the axis. In bites that end at no bottom it must go the whole bite.

// fromBottom reports whether a bore is cut from inside: its large end is at the
// headstock, and it is cut in one bite.
func (r *Result) fromBottom() bool {
	return r.Inputs.Internal && r.Inputs.SmallEnd == tapers.AtTailstock && r.First == nil && r.Length != nil
}

// drop is how much nearer to the axis than the hole's wall the tip comes beside what
// it is taken off by: from inside what the next pass goes deeper, since the compound
// comes back for that first; what a whole bite rises, where the large end of a bore in
// bites is the bottom.
func (r *Result) drop() units.Length {
	switch {
	case r.fromBottom():
		return r.deepest()
	case r.First == nil || r.Inputs.SmallEnd != tapers.AtTailstock:
		return units.Length{}
	}
	return units.FromFloat(r.Bite.Plus(r.runsIn()).MM() * r.SetHalfAngle.Sin())
}

// deepest is the most that a pass goes deeper than the one before.
func (r *Result) deepest() units.Length {
	depth, finish := r.depths()
	if len(r.Passes) == 0 {
		return units.Max(depth, finish)
	}
	var most, before units.Length
	for _, p := range r.Passes {
		to := p.Radial
		if d := r.Inputs.Lathe.CrossSlide; d != nil {
			s, _ := d.Set(d.Division().Times(*p.Turns*int64(d.Divisions) + *p.Divisions))
			to = s.Set
		}
		most, before = units.Max(most, to.Minus(before)), to
	}
	return most
}

// room is what the bar's back has beside the far wall, and what the tip may come off
// this one by, with a bar in the hole.
func (r *Result) room(bar units.Length) units.Length {
	return r.barHole.Minus(bar).Minus(r.beyondBar()).Minus(r.drop())
}

// beyondBar is how far the tip must stand beyond the bar's near side, which may come no nearer to
// the axis than the mouth is wide: (D - d)/2 where the mouth is the small end, else nothing.
func (r *Result) beyondBar() units.Length {
	if r.Inputs.SmallEnd != tapers.AtTailstock {
		return units.Length{}
	}
	return r.Large.Minus(*r.Small).Half()
}

// tipOut says how far that is, with what is to spare on that side.
func (r *Result) tipOut() say.Text {
	out := r.beyondBar()
	if out.Sign() == 0 {
		return ""
	}
	return say.Of(", ", say.Aside("its "), "tip ", out.Plus(practice.BarOff.Length()).Up(), " beyond its side")
}

// setBar looks for the stiffest bar that goes into the hole there is, which is no
// larger than the small end, and reaches the whole length. Beside what a pass takes
// it toward the far wall it has bar-off to spare on either side.
func (r *Result) setBar() {
	if !r.Inputs.Internal || r.Length == nil {
		return
	}
	hole, what, wider := *r.Small, "small end", say.Text("")
	if s := r.Inputs.Stock; s != nil && s.Less(hole) {
		hole, what = *s, "hole to begin with"
		wider = say.Of("; bore it straight first, in steps, up to ", r.Small.Down())
	}
	r.barHole = hole
	spare := practice.BarOff.Length().Times(2)
	most := r.room(spare)
	if most.Sign() <= 0 {
		r.No(problem.New(problem.NotReachable, "internal", nil, "no boring bar has room in the ", what, ", ", hole.Down(),
			": to cut the large end its tip stands ", r.beyondBar().Up(), " beyond its side, and a pass takes it ",
			r.drop().Up(), " toward the far wall", wider))
		return
	}
	if len(r.Inputs.Bars) == 0 {
		r.NotChecked("boring_bars", "whether a boring bar goes in was not checked")
		return
	}
	for _, b := range r.Inputs.Bars {
		fits := b.Diameter.Cmp(most) <= 0 && r.Length.Cmp(b.Reach) <= 0
		if fits && (r.Bar == nil || r.Bar.Diameter.Less(b.Diameter)) {
			r.Bar, r.BarDia = &Bar{b.Diameter, b.Reach}, &b.Diameter
		}
	}
	switch {
	case r.Bar == nil:
		r.No(problem.New(problem.NotReachable, "internal", nil, "no boring bar here is as thin as ", most.Down(),
			", for the ", what, ", ", hole.Down(), r.tipOut(), ", and reaches ", r.Length.Up(), wider))
	case practice.BoringBarFill.Of(hole).Less(r.Bar.Diameter):
		whole := say.Of("the boring bar of ", r.Bar.Diameter, " leaves little room for chips in a hole of ", hole, ": ",
			practice.BoringBarFill.Of(hole).Down(), " is usual at the most, and clear the chips after every pass")
		r.Warn("bar-fills", say.Shorter(whole, "little room for chips beside the bar: clear them after every pass"))
	}
}

// setSlides says how far the compound goes in each pass of a bore, from
// where the passes begin or end at the large end: no farther in than it cuts, and
// out until it is clear of the metal. The last ones go before the mouth. In bites that begin
// at the mouth it is from where the bite begins that the pass ends in: those before it the pass
// cuts whole, those after it not at all.
func (r *Result) setSlides() {
	if !r.Inputs.Internal || r.Bite == nil || r.First != nil && (r.goesIn() || r.CarriageSet == nil) {
		return // too many bites are not laid out
	}
	c := r.Inputs.Lathe.Compound
	for i := range r.Passes {
		p := &r.Passes[i]
		cut, whole := p.Cut, p.Cut.Cmp(*r.Length) >= 0
		if r.First != nil {
			bite := 1
			for bite < *r.Bites && r.endOf(bite).Less(p.Cut) {
				bite++
			}
			p.InBite, cut = &bite, cut.Minus(r.CarriageSet.Times(int64(bite-1)))
		}
		goes, dir := units.FromFloat(cut.MM()/r.SetHalfAngle.Cos()), units.Down
		if whole {
			goes, dir = *r.Bite, units.Nearest
		}
		if r.fromBottom() {
			dir = units.Up
			if whole {
				goes = goes.Plus(r.runsIn())
			}
		}
		if c.Screw != nil {
			n := goes.Times(int64(c.Screw.Divisions)).Steps(c.Screw.Lead, dir)
			s, turned := c.Screw.Set(c.Screw.Division().Times(n))
			goes, p.SlideTurns, p.SlideDivs = s.Set, &turned.Turns, &turned.Divisions
		}
		p.Slide = &goes
	}
}

// runsIn is what a pass begins before the mouth by, where the slide has as much.
func (r *Result) runsIn() units.Length {
	in := practice.SlideRunIn.Length(r.Inputs.Tools.Unit)
	if r.Overrun != nil {
		in = units.Max(units.Min(in, *r.Overrun), units.Length{})
	}
	return in
}

// stepEnter says how the bar goes in, where the passes begin inside.
func (r *Result) stepEnter() say.Text {
	wind := say.Of(say.Shorter("Wind the compound ", "Compound "), r.FeedWay)
	switch {
	case r.Bite == nil:
	case r.Overrun == nil && r.Inputs.Lathe.Compound.Screw == nil:
		wind += say.Of(" until it can come back ", r.Bite.Plus(r.runsIn()).Up(), " and its slack")
	case r.tight():
		wind += say.Of(" as far as it goes: beside what it cuts it has only ", r.Overrun.Down(), " to spare")
	default:
		wind = r.entered()
	}
	return sentence(say.Of(wind, say.Shorter(". Bring the bar into the middle of the hole", ". Bar in mid-hole"),
		", with the carriage the tip to the headstock end", say.Aside(" of the bore"),
		say.Shorter(", and lock it: only the compound feeds", "; lock it")))
}

// entered says how the slide stands where the tip is at the bottom: with what it runs out by left to
// go, and its slack out the way that a pass comes back to there.
func (r *Result) entered() say.Text {
	wind := r.Leaves(r.FeedWay, practice.SlideRunOut.Length, r.TravelAvailable)
	if r.Inputs.Lathe.Compound.Screw != nil {
		wind += say.Of(", ", say.Aside("then "), r.FeedWay, " until ", say.Shorter("the slide", "it"), " just moves")
	}
	return wind
}

// stepInside says how a pass is wound that begins inside.
func (r *Result) stepInside() say.Text {
	deeper, off := r.deeper()
	back := say.Of("by ", say.Num(1/r.SetHalfAngle.Sin(), 2), " times ",
		say.Shorter("the infeed that the pass will have", "its infeed"))
	if r.Bite != nil {
		back += say.Of(", ", r.Bite.Plus(r.runsIn()).Up(), " at most")
	}
	if len(r.Passes) > 0 && r.Passes[0].Slide != nil {
		back = "by the table"
	}
	the := say.Aside("the ")
	return sentence(say.Of("each pass: tip off the wall, ", say.Aside("wind "), the, "compound ", r.FeedWay.other(),
		" ", back, ", its slack on top; ", the, "cross slide ", deeper, " to its next line; ", the, "compound ", r.FeedWay,
		" to 0. Cross slide ", off, " ", say.Shorter(r.backOff(), "again"),
		say.Shorter(". Begin no farther out: the bar's back would meet the far wall",
			". No farther out: the bar's back would meet the far wall")))
}

// stopsAt says where a pass of a bore stops that begins at its mouth.
func (r *Result) stopsAt() say.Text {
	switch {
	case len(r.Passes) > 0 && r.First == nil:
		return "by the table, no farther: there the tip leaves the wall, and beyond it the bar's back would meet " +
			"the other"
	case r.Bite == nil:
		return "only until the tip leaves the wall: farther on the bar's back would meet the other"
	}
	if len(r.Passes) > 0 {
		whole := say.Of(*r.Bite)
		if r.FeedTurns != nil {
			whole = say.Of(whole, " (", turned(*r.FeedTurns, *r.FeedDivs), ")")
		}
		return say.Of("by the table in the bite that the pass ends in, in those before it ", whole, "; no farther: there ",
			"the tip leaves the wall, ", say.Shorter("and beyond it the bar's back would meet the other",
				"then the bar's back meets the other"))
	}
	return say.Of("only until the tip leaves the wall (", r.Bite.Up(), " at most): ",
		say.Shorter("farther on the bar's back would meet the other", "then the bar's back meets the other"))
}
