package gauge

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// Once the setting has changed the work no longer lies along the tool's path: it is proud at
// one end. It is touched there, and is cut along the whole side when the tool is in by half of
// what the diameters differ too much or too little. Before that nothing new is measured.

// proud is the end where the work stands proud of the new setting: where most is left, or,
// where the size is not known, a plug's small end where the taper becomes steeper, and a
// bore's large one. It is "" where both ends are alike.
func (r *CorrectResult) proud() End {
	switch {
	case r.TakeOff != nil:
		return r.touch
	case (r.Turn == "further") != r.Inputs.inside():
		return AtSmall
	}
	return AtLarge
}

// proudEnd is the end of the lathe that is at; of two that are alike the one where the tool
// begins.
func (r *CorrectResult) proudEnd(begins tapers.End) tapers.End {
	small := r.Inputs.end()
	switch r.proud() {
	case AtSmall:
		return small
	case AtLarge:
		return opposite(small)
	}
	return begins
}

// opposite is the other end of the lathe.
func opposite(end tapers.End) tapers.End {
	if end == tapers.AtTailstock {
		return tapers.AtHeadstock
	}
	return tapers.AtTailstock
}

// named names the end that is touched.
func (r *CorrectResult) named() say.Text {
	switch end := r.proud(); {
	case end == "" && r.Inputs.Between == nil:
		return say.Of("the ", opposite(r.slide.FeedsToward), " end")
	case end == "":
		return "the tailstock end"
	case r.TakeOff != nil:
		return say.Of("the ", end, " end", say.Aside(", where most is left"))
	default:
		return say.Of("the ", end, " end", say.Aside(", where it is proud now"))
	}
}

// lathe is what the taper is cut on.
func (in CorrectInput) lathe() shop.Lathe {
	return shop.Lathe{Compound: in.Compound, CrossSlide: in.Cross, Tailstock: in.Tailstock, Tools: in.Tools}
}

// wound is the taper as the compound cuts it: which way its handle is wound, and how far.
func (r *CorrectResult) wound() compound.Result {
	in := r.Inputs
	w := compound.Result{Taper: r.taper, Inputs: compound.Input{
		Input: in.Input, SmallEnd: in.end(), Internal: in.inside(), Tools: swivel.Tools{Unit: in.Unit},
		Place: fouling.Place{Arrangement: fouling.Arrangement{Handle: in.Handle}, Lathe: in.lathe()},
	}}
	w.Reversed = in.swivel(r.HalfAngle).Reversed
	if in.Compound != nil {
		w.TravelAvailable = in.Compound.Travel
	}
	return w.Turned(r.HalfAngle)
}

// cuts reports whether there is anything to cut: what is known to be left, or a light cut
// after the setting was changed.
func (r *CorrectResult) cuts() bool {
	switch {
	case len(r.Fails()) > 0:
		return false
	case r.TakeOff != nil:
		return r.Infeed.Sign() > 0 && (r.InfeedSet == nil || r.InfeedSet.Sign() > 0)
	}
	return r.moves()
}

// stepsCut says how the taper is cut again: what is left of it, or where that is not known a
// light cut along the whole side.
func (r *CorrectResult) stepsCut(s *sheet.Sheet) {
	switch {
	case r.cuts() && r.Inputs.Between != nil:
		r.cutAtCentres(s)
	case r.cuts():
		r.cutByCompound(s)
	case r.TakeOff == nil || len(r.Fails()) > 0:
	case r.Infeed.Sign() > 0:
		s.Do("The ", r.TakeOff, " left on the diameter at ", r.mostLeft(), " is less than a line of the cross slide's dial",
			say.Aside(", with what the readings may be off"), ": file or polish it off, or leave it.")
	case r.moves():
		s.Do("Cut no more off this piece: as finely as it was measured nothing is left on it. The setting is right for ",
			"the next.")
	}
}

// cutByCompound says how it is cut by the compound's handle.
func (r *CorrectResult) cutByCompound(s *sheet.Sheet) {
	w := r.slide
	begins := opposite(w.FeedsToward)
	end := r.proudEnd(begins)
	_, off := r.deeper()
	touch := say.Of("ouch the turning work", say.Shorter(" there, and set the collars of both slides to 0",
		": both collars to 0"), ". Cross slide ", off, " ", r.backOff(), ", compound back", say.Aside(" to where it began"),
		".")
	pass := say.Of("compound ", w.FeedWay, r.toward(), " along the whole side")
	if w.Bites != nil && *w.Bites > 1 {
		s.Do(r.tool(), " Bring the tip to ", r.named(), ", as when that bite was cut; t", touch)
		s.Do(r.deep(say.Of("go so much deeper in all ", *w.Bites, " bites, from one to the next as when they were cut"),
			"to the first bite"))
		return
	}
	s.Do(r.stepStart(begins))
	if end == begins && !r.before() {
		s.Do("T", touch)
	} else {
		s.Do(say.Shorter("Wind the compound ", "Compound "), w.FeedWay, " to ", r.named(), ", t", touch)
	}
	back := say.Text("compound back")
	switch {
	case end != begins:
		pass = say.Of("compound ", w.FeedWay, r.toward(), " to 0")
	case w.Bite != nil:
		pass = say.Of("compound ", w.FeedWay, r.toward(), " ", r.pastZero(), *w.Bite, r.turns(w))
	}
	if !r.before() && end == begins {
		back += " past 0 by its slack, to 0"
	}
	s.Do(r.deep(pass, back))
}

// toward says toward which end the compound feeds.
func (r *CorrectResult) toward() say.Text {
	return say.Aside(", toward the ", r.slide.FeedsToward, ",")
}

// pastZero is the way to the collar's 0 where a pass begins before it.
func (r *CorrectResult) pastZero() say.Text {
	if r.before() {
		return "past 0 and on "
	}
	return "from 0 by "
}

// turns says how many turns of the compound's handle the side is.
func (r *CorrectResult) turns(w compound.Result) say.Text {
	if w.FeedTurns == nil {
		return ""
	}
	return say.Of(" (", dialled(*w.FeedTurns, *w.FeedDivs), ")")
}

// dialled words turns and divisions: "2 turns + 5 div", "5 div".
func dialled(turns, divisions int64) say.Text {
	switch {
	case turns == 0:
		return say.Of(divisions, " div")
	case divisions == 0:
		return say.Count(turns, "turn", "turns")
	}
	return say.Of(shop.Turns{Turns: turns, Divisions: divisions})
}

// before reports whether the tip begins off the end of the work: at the tailstock's, which is
// free, where the slide has as much to spare.
func (r *CorrectResult) before() bool {
	w := r.slide
	if w.FeedsToward != tapers.AtHeadstock || w.Bites != nil && *w.Bites > 1 {
		return false
	}
	return w.Overrun == nil || runs().Cmp(*w.Overrun) <= 0
}

// runs is what a slide runs in and out beside what it cuts.
func runs() units.Length {
	return practice.SlideRunIn.Length(units.MM).Plus(practice.SlideRunOut.Length(units.MM))
}

// round says a length that practice has in each unit, so that it is round on both pages.
func round(in func(units.Unit) units.Length) say.Text {
	return say.Either(say.Of(in(units.MM)).In(units.MM), say.Of(in(units.Inch)).In(units.Inch))
}

// tool says which tool goes back into the post, where the indicator was.
func (r *CorrectResult) tool() say.Text {
	switch {
	case r.Inputs.inside():
		return "Boring bar in the post, tip at centre height."
	case r.Inputs.Between == nil && r.slide.FeedsToward == tapers.AtTailstock:
		return "Left-hand tool in the post, tip at centre height."
	}
	return "Tool in the post, tip at centre height."
}

// stepStart says where the tool begins.
func (r *CorrectResult) stepStart(begins tapers.End) say.Text {
	w := r.slide
	wind := say.Of(say.Shorter("Wind the compound ", "Compound "), other(w.FeedWay))
	switch {
	case w.Bite == nil:
		wind += say.Shorter(" until it has", " to have") + " the whole side to go and a little more"
	case w.Overrun != nil && w.Overrun.Less(runs()):
		wind += " as far as it goes"
	default:
		wind = w.Leaves(other(w.FeedWay), func(u units.Unit) units.Length {
			return w.Bite.Plus(practice.SlideRunIn.Length(u)).Plus(practice.SlideRunOut.Length(u))
		}, w.TravelAvailable)
	}
	where := say.Of("to the ", begins, " end", say.Aside(" of the taper"))
	if r.before() {
		where = say.Of(round(practice.SlideRunIn.Length), say.Shorter(", along the slide, before the ",
			" of slide before the "), begins, " end", say.Aside(" of the taper"))
	}
	if r.Inputs.inside() {
		where += ", clear of the wall"
	}
	slack := say.Text("")
	if !r.before() {
		slack = say.Of(", then ", w.FeedWay, " until the slide just moves")
	}
	return say.Of(r.tool(), " ", wind, slack,
		". With the carriage ", say.Aside("bring "), "the tip ", where,
		say.Shorter(", and lock it: only the compound feeds", "; lock it"), ".")
}

// other is the way back of a handle.
func other(w compound.Way) compound.Way {
	if w == compound.In {
		return compound.Out
	}
	return compound.In
}

// cutAtCentres says how it is cut by the carriage, between centres.
func (r *CorrectResult) cutAtCentres(s *sheet.Sheet) {
	_, off := r.deeper()
	s.Do(r.tool(), say.Aside(" With the carriage bring the tip to ", r.named(), "."), say.Shorter(
		" Touch the turning work there",
		say.Of(" Touch the work at ", r.named())), say.Shorter(", and set the cross slide's collar to 0",
		", cross slide's collar to 0"), ". Cross slide ", off, " ", r.backOff(),
		", carriage to before the tailstock end.")
	s.Do(r.deep("feed with the carriage toward the headstock along the whole side", "carriage back"))
}

// deeper is the way the cross slide is wound to cut deeper, and how it comes off the work.
func (r *CorrectResult) deeper() (deeper, off say.Text) {
	if r.Inputs.inside() {
		return "out", "in"
	}
	return "in", "out"
}

// backOff says how far the tip is taken off the work; in a bore, which has little room beside
// the bar, only off its wall.
func (r *CorrectResult) backOff() say.Text {
	if r.Inputs.inside() {
		return "until the tip is off the wall, and by its slack"
	}
	return "half a turn and its slack"
}

// deep says how deep it is cut by passes that are wound so and come back so, and what comes
// off.
func (r *CorrectResult) deep(pass, back say.Text) say.Text {
	deeper, off := r.deeper()
	slack := say.Aside(", always ", deeper, " so that its slack is out")
	again := say.Of("Cross slide ", off, " again, ", back, ", and so on")
	between := say.Aside(again, ". ")
	if r.TakeOff == nil {
		by := r.lightCut()
		return say.Of("Cross slide ", deeper, " to ", by, r.lines(by, units.Nearest), slack, "; ", pass, ". ",
			again, ", ", by, " deeper at a time, until it cuts along the whole side", r.cleansUp(), ".")
	}
	to := say.Of(r.Infeed, " a side")
	if r.InfeedSet != nil {
		to = say.Of(dialled(*r.InfeedTurns, *r.InfeedDivisions), ", ", r.InfeedSet, " a side")
	}
	text := say.Of("Cross slide ", deeper, " to ", to, slack, "; ", pass, ". ")
	if *r.Cuts > 1 {
		last := practice.PassFinish.Length(r.Inputs.Unit)
		text = say.Of("Cross slide ", deeper, " to ", to, say.Shorter(" in all, in ", ", "), *r.Cuts, " cuts, the last ",
			say.Aside("of "), last,
			r.lines(last, units.Down), say.Aside(" at the most"), say.Shorter("; measure before it. ", ", measured before it. "),
			say.Aside("The cross slide is always wound ", deeper, " to its line, so that its slack is out. "), "Each: ", pass,
			". ", between)
	}
	return text + r.takes()
}

// takes says what comes off so, and what is left then.
func (r *CorrectResult) takes() say.Text {
	what := say.Text("socket")
	if r.Inputs.inside() {
		what = "plug"
	}
	text := say.Of(say.Shorter("That takes ", "Takes "), r.TakenOff, say.Shorter(" off the diameter: the ", " off: "),
		what,
		say.Aside(" goes"), " ", r.AxialSet, " ", say.Aside("further "), "on")
	if !shows(*r.Leaves) {
		return text + "."
	}
	return say.Of(text, say.Shorter(". It leaves ", "; leaves "), r.Leaves.Up(), ", ", say.Aside("which is "),
		r.AxialLeft.Up(),
		" along.")
}

// shows reports whether a length is more than nothing on either page.
func shows(l units.Length) bool {
	const least = 0.0005 // mm
	return l.Abs().MM() >= least
}

// lightCut is what one light cut takes a side: on a dial a line at the least.
func (r *CorrectResult) lightCut() units.Length {
	light := practice.LightCut.Length(r.Inputs.Unit)
	d := r.Inputs.Cross
	if d == nil {
		return light
	}
	if s, _ := d.Short(light); s.Set.Sign() > 0 {
		return s.Set
	}
	return d.Division()
}

// lines says how far a travel of the cross slide is on its dial; "" without one.
func (r *CorrectResult) lines(travel units.Length, dir units.Direction) say.Text {
	d := r.Inputs.Cross
	if d == nil {
		return ""
	}
	n, round := travel.Steps(d.Division(), dir), int64(d.Divisions)
	return say.Of(" (", dialled(n/round, n%round), ")")
}

// cleansUp says how far in that is, where it is known how much the taper is out over its length:
//
//	l·|tan m - tan a|
func (r *CorrectResult) cleansUp() say.Text {
	if r.DiameterError == nil || r.taper.Length == nil {
		return ""
	}
	in, what := r.DiameterError.Abs(), say.Text("socket")
	if r.Inputs.inside() {
		what = "plug"
	}
	return say.Of(": that is ", in.Half().Up(), " a side in all, ", in.Up(), " on the diameter at the ", r.proud(),
		" end, and the ", what, " goes ", units.FromFloat(in.MM()*float64(r.Axial)), " further on")
}

// rest says how what is left when it was measured again is taken off by the compound: the
// carriage moves the side along the axis, where the cross slide stands.
func (r *CorrectResult) rest() say.Text {
	if r.Inputs.Between != nil || r.TakeOff == nil || !r.cuts() {
		return ""
	}
	way := opposite(r.Inputs.end())
	if r.Inputs.inside() {
		way = r.Inputs.end()
	}
	if r.Inputs.StickOut != nil {
		if r.Leaves == nil || !shows(*r.Leaves) {
			return ""
		}
		return say.Of(" What it then stands out, about ", r.AxialLeft.Up(), ", comes off by the carriage: move it as much ",
			"toward the ", way, ", lock it, and the same pass again.")
	}
	return say.Of(say.Shorter(" What is left then comes off by the carriage: move it ", " What is left: carriage "),
		say.Num(float64(r.Axial), 2), " times as much toward the ", way, say.Shorter(", lock it, and the same pass again.",
			", the same pass again."))
}
