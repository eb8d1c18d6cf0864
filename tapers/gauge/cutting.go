package gauge

import (
	"math"

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
	return shop.Lathe{
		Compound: in.Compound, CrossSlide: in.Cross, Carriage: in.Carriage, Tailstock: in.Tailstock, Tools: in.Tools,
	}
}

// wound is the taper as the compound cuts it: which way its handle is wound, and how far. Where that
// is in bites they are those that it was cut in, as the compound's own sheet says them.
func (r *CorrectResult) wound() (compound.Result, error) {
	in := r.Inputs
	w := compound.Result{Taper: r.taper, Inputs: compound.Input{
		Input: in.Input, SmallEnd: in.end(), Internal: in.inside(), Tools: swivel.Tools{Unit: in.Unit},
		Place: fouling.Place{Arrangement: fouling.Arrangement{Handle: in.Handle}, Lathe: in.lathe()},
	}}
	w.Reversed = in.swivel(r.HalfAngle).Reversed
	if in.Compound != nil {
		w.TravelAvailable = in.Compound.Travel
	}
	w = w.Turned(r.HalfAngle)
	if in.Between != nil || w.First == nil {
		return w, nil
	}
	cut := w.Inputs
	cut.Within, cut.Tools, cut.Brief = in.Within, in.SetBy, true
	cut.Tools.Unit = in.Unit
	as, err := compound.Set(cut)
	if err == nil && len(as.Fails()) > 0 && cut.Within != nil { // its sheet says nothing to cut by then
		cut.Within = nil
		return compound.Set(cut)
	}
	return as, err
}

// cuts reports whether there is anything to cut: what is known to be left, or a light cut
// after the setting was changed.
func (r *CorrectResult) cuts() bool {
	switch {
	case len(r.Fails()) > 0 || r.rough:
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
	case r.TakeOff == nil || r.rough || len(r.Fails()) > 0:
	case r.Infeed.Sign() > 0:
		s.Do("The ", r.TakeOff, " left on the diameter at ", r.mostLeft(), " is less than a line of the cross slide's dial",
			say.Aside(", with what the readings may be off"), ": file or polish it off, or leave it.")
	case r.moves():
		s.Do("Cut no more off this piece: as finely as it was measured nothing is left on it. The setting is right for ",
			"the next.")
	}
}

// cutByCompound says how it is cut by the compound's handle. In bites the first is touched and cut,
// and the others are cut as it was.
func (r *CorrectResult) cutByCompound(s *sheet.Sheet) {
	w := r.slide
	begins := opposite(w.FeedsToward)
	end := r.proudEnd(begins)
	_, off := r.deeper()
	start := r.stepStart(begins)
	wind := say.Of(say.Shorter("Wind the compound ", "Compound "), w.FeedWay)
	clear := say.Shorter(", the tip clear of the work, ", ", tip clear, ")
	touch := say.Of(say.Shorter("ouch the turning work there, and set the collars of both slides to 0",
		"ouch the work, both collars to 0"), ". Cross slide ", off, " ", r.backOff())
	switch reach := r.reach(); {
	case end == begins:
		if r.before() {
			touch += say.Of(", compound ", other(w.FeedWay), " ", r.runIn(), " and its slack")
		}
		s.Do(start, " T", touch, ".")
		start = ""
	case reach == nil:
		touch = say.Of(wind, clear, "to ", r.named(), ", t", touch, ", compound back to where it began.")
	default:
		there := say.Of("to ", r.named(), ", ")
		if r.bites != nil {
			wind += say.Of(" ", reach, r.turns(*reach), say.Aside(" and no farther, where most is left"))
			there = say.Of(r.bites.stays.Down(), " short of ", say.Aside("where "), "bite 2", say.Aside(" begins"), ", ")
		}
		touch = say.Of(wind, clear, there, "t", touch, ", compound back ", r.backTo(*reach), " and its slack.")
	}
	if start != "" {
		s.Do(start)
		s.Do(touch)
	}
	s.Do(r.deep(r.feed(begins, end)))
	if r.bites != nil {
		s.Do(r.next())
	}
}

// backTo says how far the compound comes back from where the far end was touched to where it began.
func (r *CorrectResult) backTo(reach units.Length) say.Text {
	if r.bites != nil {
		return "as far"
	}
	words := func(u units.Unit) string {
		by := reach
		if r.before() {
			by = reach.Plus(practice.SlideRunIn.Length(u))
		}
		return say.Of(by, r.turns(by)).In(u)
	}
	return say.Either(words(units.MM), words(units.Inch))
}

// reach is how far the compound goes from where it begins to the other end: in bites to where one
// is touched, before the next begins. It is nil where that is not known.
func (r *CorrectResult) reach() *units.Length {
	if r.bites != nil {
		return &r.bites.slope
	}
	return r.slide.Bite
}

// feed says how a cut is wound, and how the compound comes back to where the next begins.
func (r *CorrectResult) feed(begins, end tapers.End) (pass, back say.Text) {
	w, reach := r.slide, r.reach()
	pass, back = say.Of("compound ", w.FeedWay, r.toward(), " "), "compound back"
	switch {
	case reach == nil:
		return pass + "along the whole side", "compound back to where it began"
	case end == begins && r.before():
		return pass + say.Of("past 0 and on ", w.Bite, r.turns(*w.Bite)),
			say.Of("compound back past 0 by ", r.runIn(), " and its slack")
	case end == begins:
		return pass + say.Of(w.Bite, r.turns(*w.Bite)), back + " past 0 by its slack, to 0"
	}
	pass += "to 0"
	if on := w.Bite.Minus(*reach); on.Sign() > 0 {
		pass += say.Of(" and on ", on, r.turns(on))
	}
	return pass, back + " as after the touch"
}

// unlock says that the carriage, which stands locked while the compound feeds, is let go to be moved.
var unlock = say.Shorter("unlock and move the ", "unlock, ")

// next says how the next bite is come to. The cross slide goes to the next bite's lines as the
// joints have it, and first where it comes out.
func (r *CorrectResult) next() say.Text {
	w := r.slide
	deeper, off := r.deeper()
	j := w.Joints[0]
	carriage := say.Of(unlock, "carriage ", j.Carriage, " toward the ", w.FeedsToward)
	if j.CarriageTurns != nil {
		carriage += say.Of(" (", dialled(*j.CarriageTurns, *j.CarriageDivs), ")")
	} else {
		carriage += say.Shorter(", by indicator or against a stop", ", by indicator or stop")
	}
	var list []say.Text
	alike := true
	for _, k := range w.Joints {
		by := say.Of(k.Cross)
		if k.CrossTurns != nil {
			by += say.Of(" (", dialled(*k.CrossTurns, *k.CrossDivs), ")")
		}
		alike = alike && k.Cross.Equal(j.Cross)
		list = append(list, by)
	}
	by := list[0]
	if !alike {
		for i := range list {
			list[i] += say.Of(" to bite ", i+2)
		}
		by = say.Join(list, ", ")
	}
	before := say.Shorter(" than in the bite before.", ".")
	text := say.Of(say.Shorter(say.Of("Then the next bite, and so on as far as they were cut, of ", r.bites.n),
		"Then each next bite"),
		": cross slide ", off, " as after the touch, ")
	if *w.First == compound.CrossSlideFirst {
		return say.Of(text, "and on by ", by, ", then ", carriage, ", lock it; ", say.Aside("the "),
			"same cuts, each line as much farther ", off, before)
	}
	return say.Of(text, carriage, ", lock it; ", say.Aside("the "), "same cuts, each line farther ", deeper, " by ", by,
		before)
}

// runIn says how far the compound goes back before the end of the work, on its dial at the nearest line,
// and what its collar then shows that stands at 0 at that end.
func (r *CorrectResult) runIn() say.Text {
	c := r.Inputs.Compound
	if c == nil || c.Screw == nil {
		return round(practice.SlideRunIn.Length)
	}
	words := func(u units.Unit) string {
		in := practice.SlideRunIn.Length(u)
		_, t := c.Screw.Set(in)
		lines := dialled(t.Turns, t.Divisions)
		switch {
		case t.Divisions == 0:
		case r.slide.FeedWay == compound.In:
			lines += say.Of(": collar on ", int64(c.Screw.Divisions)-t.Divisions)
		default:
			lines += say.Of(": collar on ", t.Divisions)
		}
		return say.Of(in, " (", lines, ")").In(u)
	}
	return say.Either(words(units.MM), words(units.Inch))
}

// toward says toward which end the compound feeds.
func (r *CorrectResult) toward() say.Text {
	return say.Aside(", toward the ", r.slide.FeedsToward, ",")
}

// turns says how many turns of the compound's handle a travel is, on the nearest line; "" without a
// dial.
func (r *CorrectResult) turns(travel units.Length) say.Text {
	c := r.Inputs.Compound
	if c == nil || c.Screw == nil {
		return ""
	}
	_, t := c.Screw.Set(travel)
	return say.Of(" (", dialled(t.Turns, t.Divisions), ")")
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

// before reports whether the tip begins off the end of the work: before the mouth of a bore, where
// the slide has as much to spare. Outside, the work may go on beyond the tailstock's end.
func (r *CorrectResult) before() bool {
	w := r.slide
	if !r.Inputs.inside() || w.FeedsToward != tapers.AtHeadstock || r.bites != nil {
		return false
	}
	return !r.tight()
}

// tight reports whether the slide has no room to run in and out beside what it cuts.
func (r *CorrectResult) tight() bool {
	return r.slide.Overrun != nil && r.slide.Overrun.Less(runs())
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
	case r.tight():
		wind += " as far as it goes"
	default:
		wind = w.Leaves(other(w.FeedWay), func(u units.Unit) units.Length {
			out := practice.SlideRunOut.Length(u)
			if !r.before() { // else it is wound farther back for each pass
				out = out.Plus(practice.SlideRunIn.Length(u))
			}
			return w.Bite.Plus(out)
		}, w.TravelAvailable)
	}
	where := say.Of("to the ", begins, " end", say.Aside(" of the taper"))
	switch {
	case begins == tapers.AtTailstock && r.before():
		where = say.Of("to the very tailstock end", say.Aside(" of the taper"))
	case begins == tapers.AtTailstock:
		where = say.Of("to the very tailstock end", say.Aside(" of the taper, not beyond it"))
	}
	if r.Inputs.inside() {
		where += ", clear of the wall"
	}
	slack := say.Of(", then ", w.FeedWay, " until ", say.Shorter("the slide", "it"), " just moves")
	return say.Of(r.tool(), " ", wind, slack,
		". ", r.clear(), say.Aside("bring "), "the tip ", where,
		say.Shorter(", and lock it: only the compound feeds", "; lock it"), ".")
}

// clear says how the tip comes to the work with the carriage. Back from the last bite the slide would
// go through the others.
func (r *CorrectResult) clear() say.Text {
	if r.bites == nil {
		return "With the carriage "
	}
	_, off := r.deeper()
	return say.Of("Cross slide ", say.Shorter(say.Of(off, ", clear of all bites"), say.Of("well ", off)),
		", then with the carriage ")
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
		", carriage to the very tailstock end", say.Aside(" of the taper, not beyond it"), ".")
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
	pass = say.Of(pass, "; cross slide ", off, " again, ", back)
	if r.TakeOff == nil {
		return r.light(pass, slack)
	}
	to := r.line(*r.lastCut())
	if r.InfeedSet != nil {
		to += say.Of(", ", r.lastCut())
	}
	to += " a side"
	if n := len(r.cutTo); n > 1 {
		to = say.Of(r.roughed(r.cutTo[:n-1]), ", then, ", say.Shorter("when it has been measured", "measured"), ", to ", to)
	}
	each := say.Text("; ")
	if len(r.cutTo) > 1 {
		each = say.Shorter(". For each: ", ". Each: ")
	}
	return say.Of("Cross slide ", deeper, " to ", to, slack, each, pass, ". ", r.takes())
}

// lastCut is how far in the last cut ends.
func (r *CorrectResult) lastCut() *units.Length { return &r.cutTo[len(r.cutTo)-1] }

// roughed lists the lines of the cuts before the last, or says by how much each goes in where those
// are many.
func (r *CorrectResult) roughed(lines []units.Length) say.Text {
	last := lines[len(lines)-1]
	if *r.Cuts-1 <= mostNamed {
		var list []say.Text
		for _, l := range lines {
			list = append(list, r.line(l))
		}
		return say.Join(list, ", ")
	}
	depth := practice.PassDepth.Length(r.Inputs.Unit)
	return say.Of(r.line(last), " in ", *r.Cuts-1, " cuts of at most ", depth, r.lines(depth, units.Down))
}

// line says where a line of the cross slide is: on its dial where there is one.
func (r *CorrectResult) line(l units.Length) say.Text {
	d := r.Inputs.Cross
	if d == nil {
		return say.Of(l)
	}
	_, t := d.Set(l)
	return dialled(t.Turns, t.Divisions)
}

// light says how a taper is cut whose size is not known: lightly, until the whole side is cut. Where
// it is known how far in that is, no cut goes past it.
func (r *CorrectResult) light(pass, slack say.Text) say.Text {
	deeper, _ := r.deeper()
	by := r.lightCut()
	total, known := r.cleans()
	if d := r.Inputs.Cross; !known && d != nil && r.Inputs.Blue != "" { // a gap that nobody could measure
		by = units.Min(by, d.Division())
	}
	if !known {
		return say.Of("Cross slide ", deeper, " to ", by, r.lines(by, units.Nearest), slack, "; ", pass, ", and so on, ", by,
			" deeper at a time, until it cuts along the whole side.")
	}
	to, rest := total, units.Length{}
	if d := r.Inputs.Cross; d != nil && !r.byEye() {
		s, _ := d.Short(total)
		to, rest = s.Set, total.Minus(s.Set)
	}
	by = units.Min(by, to)
	text := say.Of("Cross slide ", deeper, " to ")
	switch {
	case to.Sign() == 0:
		text += "0"
	case by.Less(to):
		text += say.Of(by, r.lines(by, units.Nearest), " and on by at most as much, to ", to, r.parts(to))
	default:
		text += say.Of(to, r.parts(to))
	}
	text += say.Of(slack, "; ", pass)
	if z := units.FromFloat(rest.MM() / r.HalfAngle.Tan()); z.Cmp(practice.CarriageStep.Length(r.Inputs.Unit)) >= 0 {
		text += say.Of(". Then ", r.onward(z))
	}
	return say.Of(text, ". It then cuts along the whole side", r.cleansUp(total), ".")
}

// byEye reports whether what is less than a line of the cross slide is gone in between its lines:
// where the carriage does not move the side, where it would have to be moved for every bite, and
// where the slide has no room for it.
func (r *CorrectResult) byEye() bool {
	return r.Inputs.Between != nil || r.bites != nil || r.tight() && r.sooner()
}

// parts says how far a travel is on the dial, to a part of a line by eye; "" without one.
func (r *CorrectResult) parts(travel units.Length) say.Text {
	d := r.Inputs.Cross
	if d == nil {
		return ""
	}
	n := travel.Over(d.Division())
	if math.Abs(n-math.Round(n)) < 0.05 {
		return r.lines(travel, units.Nearest)
	}
	round := float64(d.Divisions)
	turns := math.Floor(n / round)
	divs := say.Of(say.Num(n-turns*round, 1), " div, by eye")
	if turns == 0 {
		return say.Of(" (", divs, ")")
	}
	return say.Of(" (", say.Count(int64(turns), "turn", "turns"), " + ", divs, ")")
}

// deepens is the end of the lathe toward which the carriage moves the tool's path deeper.
func (r *CorrectResult) deepens() tapers.End {
	if r.Inputs.inside() {
		return r.Inputs.end()
	}
	return opposite(r.Inputs.end())
}

// sooner reports whether a cut is then begun and ended sooner, so that it stays on the taper; else
// later.
func (r *CorrectResult) sooner() bool { return r.deepens() == r.slide.FeedsToward }

// when words it.
func (r *CorrectResult) when() say.Text {
	if r.sooner() {
		return "sooner"
	}
	return "later"
}

// onward says how the side is cut deeper by the carriage: with the path moved by z along the axis a
// cut is begun and ended z/cos a sooner or later on the compound's collar.
func (r *CorrectResult) onward(z units.Length) say.Text {
	return say.Of(unlock, "carriage ", z, " toward the ", r.deepens(),
		say.Shorter(", by indicator or against a stop, and lock it", ", lock it"), "; the same pass begun and ended ",
		units.FromFloat(z.MM()/r.HalfAngle.Cos()), " ", r.when(),
		say.Aside(" on the compound"))
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

// cleans is how far in the whole side is cut, where it is known how much the taper is out over its
// length:
//
//	l·|tan m - tan a|
func (r *CorrectResult) cleans() (in units.Length, known bool) {
	if r.DiameterError == nil || r.taper.Length == nil {
		return units.Length{}, false
	}
	return r.DiameterError.Abs().Half(), true
}

// cleansUp says what that is.
func (r *CorrectResult) cleansUp(in units.Length) say.Text {
	what := say.Text("socket")
	if r.Inputs.inside() {
		what = "plug"
	}
	on := in.Times(2)
	return say.Of(": that is ", in.Up(), " a side in all, ", on.Up(), " on the diameter at the ", r.proud(), " end, and ",
		"the ", what, " goes ", units.FromFloat(on.MM()*float64(r.Axial)), " further on")
}

// rest says how what is left when it was measured again is taken off: by the carriage, which moves
// the side along the axis where the cross slide stands, or by eye between the cross slide's lines.
func (r *CorrectResult) rest() say.Text {
	if r.TakeOff == nil || !r.cuts() {
		return ""
	}
	deeper, _ := r.deeper()
	every := say.Text("")
	if r.bites != nil {
		every = " in every bite"
	}
	cos := r.HalfAngle.Cos()
	if r.Inputs.StickOut != nil {
		if r.Leaves == nil || !shows(*r.Leaves) {
			return ""
		}
		text := say.Of(" What it then stands out, about ", r.AxialLeft.Up(), r.butSteps(), ", comes off by ")
		if r.byEye() {
			by := r.allHave().Half()
			if !shows(by) {
				return ""
			}
			return say.Of(text, "the cross slide: ", by, r.parts(by), " farther ", deeper, ", and the same pass again", every,
				".")
		}
		return say.Of(text, "the carriage: unlock it, move it as much toward the ", r.deepens(), ", lock it, ",
			"and the same pass again, begun and ended ", times(1/cos), "as much ", r.when(), ".")
	}
	if r.byEye() {
		eye := say.Text("")
		if r.Inputs.Cross != nil {
			eye = ", by eye" + say.Aside(" between the dial's lines")
		}
		return say.Of(" What is left", r.lessStep(), say.Aside(" then comes off by the cross slide"), ": half of it farther ",
			deeper, eye, say.Aside(", and the same pass again"), every, ".")
	}
	return say.Of(say.Shorter(" What is left on the diameter then comes off by the carriage: unlock it, move it ",
		" What is left on the diameter: unlock, carriage "),
		times(float64(r.Axial)), "as much toward the ", r.deepens(), say.Shorter(", lock it, and the same pass again, ",
			", lock it; the same pass "), "begun and ended ", times(float64(r.Axial)/cos), "as much ", r.when(), ".")
}

// allHave is what every bite has left when it was cut: no more than the one that stands lowest.
func (r *CorrectResult) allHave() units.Length {
	left := r.TakeOff.Minus(*r.TakenOff)
	if r.bites != nil {
		left = left.Minus(r.bites.low)
	}
	return units.Max(left, units.Length{})
}

// butSteps says that the steps between bites stay, where there are any.
func (r *CorrectResult) butSteps() say.Text {
	if r.bites == nil || !shows(r.bites.high) {
		return ""
	}
	return say.Of(", but for steps of ", r.bites.high.Up(), " between bites")
}

// lessStep says what is not taken off in every bite of what is measured in one that stands higher than
// the lowest.
func (r *CorrectResult) lessStep() say.Text {
	if r.bites == nil || r.bite == 0 {
		return ""
	}
	if over := r.bites.steps[r.bite-1].Plus(r.bites.low); shows(over) {
		return say.Of(" but for the ", over.Up(), " that bite ", r.bite, " stands higher")
	}
	return ""
}

// times says how many times, "" for once.
func times(n float64) say.Text {
	const once = 0.005
	if math.Abs(n-1) < once {
		return ""
	}
	return say.Of(say.Num(n, 2), " times ")
}
