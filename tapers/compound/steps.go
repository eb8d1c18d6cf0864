package compound

import (
	"cmp"
	"math"
	"strings"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// steps says what is done, in order, from the setting to the last cut. Where the
// answer is no there is nothing to do.
func (r *Result) steps() []say.Text {
	if len(r.Fails()) > 0 {
		return []say.Text{}
	}
	start, feed := r.stepStart, r.stepFeed
	if r.fromBottom() {
		start, feed = r.stepEnter, r.stepInside
	}
	list := append(r.stepsSet(), r.stepTool(), start())
	if r.Length == nil {
		return append(list, feed())
	}
	list = append(list, r.stepTouch(), feed())
	if len(r.Joints) > 0 {
		list = append(list, r.stepBites())
	}
	return append(list, r.stepProve())
}

// sentence returns a text with its first letter large and a full stop. One that begins in two
// ways begins large in both.
func sentence(t say.Text) say.Text { return t.Capital() + "." }

// stepsSet say how the swivel is set, and how that is gone about.
func (r *Result) stepsSet() []say.Text {
	how := say.Join(r.Figures.Choice().How(), " ")
	if r.First != nil && r.Method == swivel.ByMark { // bites leave no room on the screen for what only proves it
		how = say.Aside(how)
	}
	if r.Method != swivel.ByIndicator { // which ends with it
		how += " Tighten both bolts."
	}
	return []say.Text{sentence(r.Setting) + " " + how}
}

// stepTool says which tool is held where, and what its height costs.
func (r *Result) stepTool() say.Text {
	var held, clears say.Text
	switch hand := r.hand(); {
	case r.Inputs.Internal && r.Bar != nil:
		held = say.Of("boring bar of ", r.Bar.Diameter, ", ",
			say.Shorter("standing out a little more than ", "out just over "), r.Length.Up(), r.tipOut())
	case r.Inputs.Internal && r.Length != nil:
		held = say.Of(say.Shorter("The thickest", "Thickest"), " boring bar up to ",
			r.room(practice.BarOff.Length().Times(2)).Down(),
			say.Shorter(", standing out no more than it must", ", just long enough"), r.tipOut())
	case r.Inputs.Internal:
		held = "the thickest boring bar that goes into the hole, standing out no more than it must"
	case r.Finding != nil:
		held = say.Of(r.Finding.Arrangement, " ", r.Finding.Arrangement.Held(), r.Finding.Instead())
		clears = r.Finding.Clears()
	default:
		a := r.Inputs.Arrangement
		a.ToolHand, a.PostSide = hand, cmp.Or(a.PostSide, fouling.HeadstockSide)
		held = say.Of(a, " ", a.Held())
		if hand == fouling.Left && r.Inputs.ToolHand == "" {
			held += say.Aside(", since a right-hand one's trailing edge would rub")
		}
	}
	return sentence(say.Of(held, ", tip at centre height", r.heightGiven(), clears))
}

// heightGiven is heightCosts, or what a height that was given costs.
func (r *Result) heightGiven() say.Text {
	if r.HeightSmallError == nil {
		return say.Aside(r.heightCosts())
	}
	return say.Of(": ", r.Inputs.ToolHeightError.Abs(), " off leaves the small end ", finer(*r.HeightSmallError), " large")
}

// heightCosts says what the small end is out by for a tool that stands off centre
// by as much as goes unseen, in round figures of the page.
func (r *Result) heightCosts() say.Text {
	if r.Length == nil {
		return ""
	}
	costs := func(u units.Unit) string {
		off := practice.HeightOff.Length(u)
		if r.Large.Half().Cmp(off) <= 0 {
			return ""
		}
		costs := r.heightError(off, *r.Length)
		if strings.Trim(costs.Nearest().Digits(u), "0.") == "" { // nothing that shows
			return ""
		}
		return say.Of(": ", off, " off leaves the small end ", finer(costs), " large").In(u)
	}
	return say.Either(costs(units.MM), costs(units.Inch))
}

// other returns the other end of the lathe.
func other(end tapers.End) tapers.End {
	if end == tapers.AtTailstock {
		return tapers.AtHeadstock
	}
	return tapers.AtTailstock
}

// finer words a small length with one decimal more than usual.
func finer(l units.Length) units.Rounded { return units.Rounded{Length: l, More: 1} }

// round says a length that practice has in each unit, so that it is round on both
// pages.
func round(in func(units.Unit) units.Length) say.Text {
	return say.Either(say.Of(in(units.MM)).In(units.MM), say.Of(in(units.Inch)).In(units.Inch))
}

// stepStart says where the slide and the tip begin. A tip that comes from the
// tailstock's end starts before the work, where the slide has so much to spare.
func (r *Result) stepStart() say.Text {
	begins := other(r.FeedsToward)
	wind, spare := say.Of(say.Shorter("Wind the compound ", "Compound "), r.FeedWay.other()), say.Text("")
	tip := say.Of("to ", r.endAt(begins))
	switch {
	case r.Bite == nil:
		tip = r.beyondEnd(tip)
	case r.tight():
		spare = say.Shorter(say.Of(": beside what it cuts it has only ", r.Overrun.Down(), " to spare"),
			say.Of(" (", r.Overrun.Down(), " to spare)"))
		wind += " as far as it goes"
		tip = "to " + r.veryEnd(begins)
	default:
		runIn := round(practice.SlideRunIn.Length)
		wind = r.Leaves(r.FeedWay.other(), func(u units.Unit) units.Length {
			return r.Bite.Plus(practice.SlideRunIn.Length(u)).Plus(practice.SlideRunOut.Length(u))
		}, r.TravelAvailable)
		switch {
		case r.before():
			tip = say.Of(runIn, say.Shorter(", along the slide, before ", " of slide before "), r.endAt(begins))
		case begins == tapers.AtTailstock:
			tip = "to " + r.veryEnd(begins)
		}
	}
	tip += r.neck()
	if r.counted() {
		spare += say.Of(", then ", r.FeedWay, " until the slide just moves",
			say.Shorter(", and set its collar to 0", ": collar to 0"))
	}
	with := say.Of(". With the carriage ", say.Aside("bring "), "the tip ")
	if r.on != nil && r.on.Locked {
		with = say.Of(". Unlock the carriage, ", say.Aside("with it bring the "), "tip ")
	}
	return sentence(say.Of(wind, spare, with, tip,
		say.Shorter(", and lock it: only the compound feeds", "; lock it")))
}

// Leaves says how the compound, wound that way, comes to have a travel left the way it feeds: where
// its dial is known, from the end of the slide back by that dial, to the first line that leaves no
// less, or the last that is not beyond most, what there is. Its slack is then out the other way.
func (r *Result) Leaves(way Way, least func(units.Unit) units.Length, most *units.Length) say.Text {
	wind := say.Shorter("Wind the compound ", "Compound ")
	d := r.Inputs.Lathe.Compound.Screw
	if d == nil {
		toGo := func(u units.Unit) string { return say.Of(least(u).Up()).In(u) }
		return say.Of(wind, way, " until it has ", say.Either(toGo(units.MM), toGo(units.Inch)), " to go")
	}
	lines := func(whole bool) say.Text {
		words := func(u units.Unit) string {
			to, on := d.Past(least(u))
			if most != nil && most.Less(to.Set) {
				to, on = d.Short(*most)
			}
			by := turned(on.Turns, on.Divisions)
			if whole {
				by = say.Of(to.Set.Down(), " (", by, ")")
			}
			return by.In(u)
		}
		return say.Either(words(units.MM), words(units.Inch))
	}
	return say.Of(wind, "right ", r.FeedWay, ", then ", r.FeedWay.other(), " ", say.Shorter(lines(true), lines(false)),
		" and its slack")
}

// neck says what must be gone already where a tool goes straight in to the small end: a left-hand
// one at the headstock's, or at the tailstock's where the work goes on there.
func (r *Result) neck() say.Text {
	switch left := r.FeedsToward == tapers.AtTailstock; {
	case r.on != nil || r.Length == nil || r.Inputs.Internal:
		return ""
	case left && r.grows(), !left && !r.grows() && r.Inputs.Flush:
		return beyond(other(r.FeedsToward), *r.Small)
	}
	return ""
}

// beyond says how thick the bar may at the most be that goes on beyond an end of the work, where a tool
// comes in from there.
func beyond(end tapers.End, dia units.Length) say.Text {
	holder := "chuck"
	if end == tapers.AtTailstock {
		holder = "centre"
	}
	bar := say.Shorter(say.Of(", the bar between it and the ", holder), ", the bar beyond")
	return say.Of(bar, " already down to ", dia)
}

// before reports whether a pass begins before the tailstock's end by what the slide
// runs in.
func (r *Result) before() bool {
	return r.Bite != nil && r.FeedsToward == tapers.AtHeadstock && !r.tight() && !r.Inputs.Flush
}

// RunsIn is how far before the tailstock's end, along the slide, a pass of every bite begins, on the page
// where that is more; nothing where it begins at the end.
func (r *Result) RunsIn() units.Length {
	if !r.before() {
		return units.Length{}
	}
	return units.Max(practice.SlideRunIn.Length(units.MM), practice.SlideRunIn.Length(units.Inch))
}

// counted reports whether a pass is counted from where it begins: there the compound's
// collar stands at 0 with its slack taken up the way it feeds. Any other is counted from
// where the touch took that up.
func (r *Result) counted() bool {
	return r.Bite != nil && !r.fromBottom() && !r.before() && !r.toTouch()
}

// toTouch reports whether every pass ends where the stock was touched, at the
// compound's 0.
func (r *Result) toTouch() bool {
	_, end := r.touched()
	return r.First == nil && end == tapers.AtHeadstock && r.FeedsToward == end
}

// back says how the compound comes back to where a pass begins.
func (r *Result) back() say.Text {
	if r.counted() {
		return "compound back past 0 by its slack" + say.Shorter(" and on to 0", ", to 0")
	}
	return "compound back"
}

// beyondEnd is where the tip begins that comes from the tailstock's end, by nothing that
// is known.
func (r *Result) beyondEnd(tip say.Text) say.Text {
	if r.FeedsToward == tapers.AtTailstock || r.Inputs.Flush {
		return tip
	}
	return "before " + r.endAt(tapers.AtTailstock)
}

// tight reports whether the slide has no room to run in and out beside a bite.
func (r *Result) tight() bool {
	return r.Overrun != nil && r.Overrun.Less(runs())
}

// runs is what a slide runs in and out beside what it cuts, in the unit of the page where that
// is more: what is wound back must be there on both.
func runs() units.Length {
	in := func(u units.Unit) units.Length {
		return practice.SlideRunIn.Length(u).Plus(practice.SlideRunOut.Length(u))
	}
	return units.Max(in(units.MM), in(units.Inch))
}

// thing is what the taper is called.
func (r *Result) thing() say.Text {
	if r.Inputs.Internal {
		return "bore"
	}
	return "taper"
}

// touched is the end of the taper that the stock is touched at.
func (r *Result) touched() (name say.Text, end tapers.End) {
	large := other(r.Inputs.SmallEnd)
	byLarge := r.on != nil && !r.on.BySmall && !r.heelFirst()
	if r.on != nil && r.First != nil { // the tip does not come to the other end in the first bite
		byLarge = large != r.FeedsToward
	}
	if r.Inputs.Internal || byLarge {
		return "large end", large
	}
	return "small end", r.Inputs.SmallEnd
}

// deeper is the way the cross slide is wound to cut deeper, and how it comes off
// the work.
func (r *Result) deeper() (deeper, off say.Text) {
	if r.Inputs.Internal {
		return "out", "in"
	}
	return "in", "out"
}

// stepTouch says where the cross slide's collar is set, and what comes off.
func (r *Result) stepTouch() say.Text {
	in := r.Inputs
	touch, back := r.touch()
	_, off := r.deeper()
	text := sentence(touch) + say.Of(" Cross slide ", off, " ", r.comesOff(), back, ".")
	depth, finish := r.depths()
	by := say.Of(say.Shorter(" Go deeper by at most ", " At most "), depth, " a side", r.lines(depth),
		say.Shorter(", the last time by ", ", last "), finish, r.lines(finish))
	switch total := r.Large.Minus(*r.Small).Half(); {
	case in.Stock != nil:
		return text + " Go deeper by the table of passes" + r.firstPass() + "."
	case r.onLast():
		return text + by + say.Of(", to ", say.Shorter(r.counts(r.farther()), say.Of(r.farther())),
			say.Shorter(" and no further.", "."))
	case in.Internal:
		return text + by + say.Of(say.Shorter(", until the large end is ", ", to "), r.Large.Down(),
			".")
	case r.neck() != "": // how thick it is was said
		return text + by + say.Of("; ", say.Shorter("it is ", ""), r.inAll(total), ".")
	default:
		return text + by + say.Of("; ", say.Shorter("from work ", ""), "turned to ", r.Large.Up(), " first",
			say.Shorter(" it is ", ", "),
			r.inAll(total), ".")
	}
}

// touch says where the work is touched, and how the compound comes back to where a
// pass begins, since the tip may have been wound along the work to there. The end that
// the passes are counted from may be bites away from where the first begins: then the
// other end is touched, where the tip stands (D - d)/2 deeper.
//
// Long: one case after the other, by which end is touched and where the tip begins.
func (r *Result) touch() (there, back say.Text) {
	name, end := r.touched()
	in, _ := r.inside()
	past := units.Length{} // on from where the pass meets the work
	if end == other(r.FeedsToward) {
		past = in
	}
	there = say.Of("touch the ", say.Aside("turning "), "work", say.Aside(" there"), ", ", r.thick(),
		say.Aside("and set the "), "cross slide's collar ")
	if r.Inputs.Internal {
		there = "touch the " + say.Shorter("wall of the hole there as the work turns, ", "wall, ") + r.turnedTo() +
			say.Aside("and set the ") + "cross slide's collar "
	}
	ends := say.Aside(": every pass ends there")
	begins := other(r.FeedsToward)
	back = say.Shorter(", compound back to where it began", ", compound back to its start")
	if r.counted() {
		back = ", " + r.back()
	}
	if begins == tapers.AtTailstock && end == begins || r.First != nil {
		back = ", compound back " + r.runIn(past)
	}
	wind := say.Of(say.Shorter("Wind the compound ", "Compound "), r.FeedWay, ", ",
		say.Shorter("the tip clear of the work", "tip clear"), ", to the ")
	wound := say.Of(wind, name, r.where(end), ", ")
	if in.Sign() > 0 {
		ends = say.Aside(say.Of(": every pass ends ", in, " farther on"))
		short := " of slide short of "
		if end == begins {
			short = " of slide past "
		}
		wound = say.Of("Compound ", r.FeedWay, ", tip clear, to ", in, short, r.endAt(end), ", ")
	}
	atEnd := begins == tapers.AtHeadstock || r.tight() || r.Inputs.Flush
	switch {
	case r.fromBottom():
		return there + "and the compound's to 0" + ends, ""
	case end == begins && atEnd && in.Sign() > 0:
		return say.Of("Compound ", r.FeedWay, " ", r.insideWords(), ", tip clear, ", there, "to 0"), ", " + r.back()
	case end == begins && atEnd:
		return there + "to 0", ""
	case end == begins:
		return wound + there + "to 0", back
	case r.First != nil:
		wound = say.Of(wind, "tailstock end", say.Aside(" of the ", r.thing()), ", ")
		if atEnd {
			wound, back = "", ""
		}
		deep := r.farther()
		return say.Of(wound, there, "so that it counts ", deep, r.lines(deep)), back
	case end == tapers.AtHeadstock:
		return wound + there + "to 0; the compound's too" + ends, back
	}
	return wound + there + "to 0", back
}

// farther is how much deeper the tip stands at the end that is not the one that
// the passes are counted from: (D - d)/2 as drawn, on the next line of the dial.
// What that line adds is beyond.
func (r *Result) farther() units.Length {
	deep := r.Large.Minus(*r.Small).Half()
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return deep
	}
	s, _ := d.Past(deep)
	return s.Set
}

// beyond is by how much the collar counts more than the tip is deep, where the stock
// is touched at the other end; else nothing.
func (r *Result) beyond() units.Length {
	_, end := r.touched()
	if r.First == nil || end == other(r.FeedsToward) {
		return units.Length{}
	}
	return r.farther().Minus(r.Large.Minus(*r.Small).Half())
}

// firstPass says with which pass the first bite begins, where that is not the first.
func (r *Result) firstPass() say.Text {
	if r.First == nil {
		return ""
	}
	if n := r.fromPass(1); n > 1 {
		return say.Of(", from pass ", n, " on")
	}
	return ""
}

// runIn says what the slide runs in, and what it is past that, on the compound's dial at the nearest line where it
// has one.
func (r *Result) runIn(past units.Length) say.Text {
	runs := func(u units.Unit) units.Length { return practice.SlideRunIn.Length(u).Plus(past) }
	c, in := r.Inputs.Lathe.Compound, round(runs)
	if c == nil || c.Screw == nil {
		return in
	}
	words := func(u units.Unit) string {
		_, on := c.Screw.Set(runs(u))
		return turned(on.Turns, on.Divisions).In(u)
	}
	lines := say.Either(words(units.MM), words(units.Inch))
	return say.Shorter(say.Of(in, " (", lines, ")"), lines)
}

// lines says how far a travel of the cross slide is on its dial, at the last line
// that is no further; "" without one.
func (r *Result) lines(travel units.Length) say.Text {
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return ""
	}
	n := travel.Times(int64(d.Divisions)).Steps(d.Lead, units.Down)
	return say.Of(" (", turned(n/int64(d.Divisions), n%int64(d.Divisions)), ")")
}

// turned words turns and divisions: "2 turns + 5 div", "5 div".
func turned(turns, divisions int64) say.Text {
	switch {
	case turns == 0:
		return say.Of(divisions, " div")
	case divisions == 0:
		return say.Count(turns, "turn", "turns")
	}
	return say.Of(shop.Turns{Turns: turns, Divisions: divisions})
}

// stepFeed says how a pass is wound, and how the tip comes back.
//
// Long: one part of the sentence after the other.
func (r *Result) stepFeed() say.Text {
	text := say.Of("each pass: ", say.Aside("wind the "), "compound ", r.FeedWay,
		say.Shorter(say.Of(", toward the ", r.FeedsToward, ", "), " "))
	before, leaves := r.before(), r.Inputs.Internal && !r.goesIn()
	past, over := r.inside()
	if !r.toTouch() { // else the compound's collar is at 0 where it was touched
		past, over = units.Length{}, 0
	}
	if r.toTouch() && r.Bite != nil {
		text += "to 0: its slack, "
	}
	if before {
		text += say.Of("those ", round(practice.SlideRunIn.Length), " and ")
	}
	switch {
	case leaves && before:
		text += "on " + r.stopsAt()
	case leaves:
		text += r.stopsAt()
	case r.Bite == nil:
		text = say.Of("each pass: wind the compound ", r.FeedWay, ", toward the ", r.FeedsToward)
	default:
		text += say.Of(r.Bite.Minus(past).Up())
		if before {
			text += " more"
		}
	}
	if r.FeedTurns != nil && !leaves {
		text += say.Of(" (", turned(*r.FeedTurns-over, *r.FeedDivs), say.Aside("; a division is ", finer(*r.DivisionDia),
			" on the diameter"), ")")
	}
	if past.Sign() > 0 {
		text += say.Of(", and on ", r.insideWords())
	}
	deeper, off := r.deeper()
	by := r.backOff()
	if r.Length != nil && r.comesOff() == by { // as it did when it was touched
		by = say.Shorter(by, "again")
	}
	return sentence(say.Of(text, ". ", tapers.NextPass(off, by, r.back(), deeper)))
}

// backOff says how far the tip is taken off the work, beside the slack of the slide:
// half a turn of the handle, in a bore no further than half of the room beside the bar.
func (r *Result) backOff() say.Text {
	d := r.Inputs.Lathe.CrossSlide
	if d != nil && r.Bar != nil {
		room := r.room(r.Bar.Diameter).Half()
		if room.Less(practice.SlackPart.Of(d.Lead)) {
			return turned(0, room.Times(int64(d.Divisions)).Steps(d.Lead, units.Down)) + " and its slack"
		}
	}
	return "half a turn and its slack"
}

// stepBites says how the next bite is begun. The tip has been taken off the work
// and the compound wound back.
func (r *Result) stepBites() say.Text {
	deeper, off := r.deeper()
	j := r.Joints[0]
	carriage := say.Of(say.Shorter("unlock and move the ", "unlock, "), "carriage ", j.Carriage, " toward the ",
		r.FeedsToward)
	if j.CarriageTurns != nil {
		carriage += say.Of(" (", turned(*j.CarriageTurns, *j.CarriageDivs), ")")
	} else {
		carriage += ", by indicator or " + say.Aside("against a ") + "stop,"
	}
	carriage += say.Shorter(" and", "") + " lock it"
	by, stays := say.Of(j.Cross), say.Of("the ", j.Cross, " stays ", off)
	if j.CrossTurns != nil {
		by = say.Of(j.Cross, " (", turned(*j.CrossTurns, *j.CrossDivs), ")")
	}
	if !r.alike() {
		by, stays = "by the table of bites", "what the table says stays "+off
		if r.on != nil {
			by, stays = r.oneByOne(), "what it went on by stays "+off
		}
	}
	wind := say.Aside("wind the ")
	moves := say.Of(carriage, "; ", wind, "cross slide ", deeper, " by ", r.backOff(), ", and on ", by)
	if *r.First == CrossSlideFirst {
		moves = say.Of(wind, "cross slide on ", off, " ", by, "; ", say.Aside("then "), carriage, "; ",
			say.Aside("then the "), "cross slide ", deeper, say.Aside(" by"), " ", r.backOff(), " only", say.Aside(": ", stays))
	}
	text := say.Of(say.Shorter("Cut a bite in all its passes, with the tip off the work wind the compound back, and ",
		say.Of(*r.Bites, " bites, all passes each; tip off, compound back; ")), moves, ". ",
		say.Shorter("Set the collar to what it read at the", "Set collar as at"), " last pass",
		say.Aside(", come ", off, " past the next bite's first line by ", r.backOff(), " and then ", deeper, " to it"),
		say.Shorter(", and cut the", ";"), " next bite", r.fromPasses(),
		say.Shorter("", say.Of(", from ", off, " past its first line")))
	return sentence(text + r.stepLeft())
}

// fromPasses says which pass is the first to reach each bite.
func (r *Result) fromPasses() say.Text {
	if next := r.nextFrom(); next != "" {
		return next
	}
	var from []say.Text
	for _, j := range r.Joints {
		if j.FromPass != nil {
			from = append(from, say.Of("bite ", j.Bite, " from pass ", *j.FromPass, " on"))
		}
	}
	switch len(from) {
	case 0:
		return say.Shorter(" in the same passes", " so")
	case 1:
		return say.Of(" from pass ", *r.Joints[0].FromPass, " on")
	}
	return "s the same way: " + say.Join(from, ", ")
}

// oneByOne lists what the cross slide moves by from bite to bite.
func (r *Result) oneByOne() say.Text {
	var list []say.Text
	for _, j := range r.Joints {
		by := say.Of(j.Cross)
		if j.CrossTurns != nil {
			by = say.Of(j.Cross, " (", turned(*j.CrossTurns, *j.CrossDivs), ")")
		}
		list = append(list, say.Of(by, " to bite ", j.Bite))
	}
	return say.Join(list, ", ")
}

// alike reports whether the slides move the same between all bites.
func (r *Result) alike() bool {
	for _, j := range r.Joints {
		if !j.Cross.Equal(r.Joints[0].Cross) {
			return false
		}
	}
	return true
}

// stepLeft says what the dials' lines leave at the joints; in short not where a table says it.
func (r *Result) stepLeft() say.Text {
	var worst units.Length
	for _, j := range r.Joints {
		worst = units.Max(worst, j.Step.Abs())
	}
	if worst.MM() < shows {
		return ""
	}
	brief := say.Text("")
	if r.alike() {
		brief = say.Of("; leaves steps up to ", worst.Up())
	}
	return say.Shorter(say.Of(". The lines leave a step of at most ", worst.Up(), " on the diameter"), brief)
}

// shows is the least length that is worth a word, in mm.
const shows = 0.0005

// alike is how near two half angles are that a measuring of two places does not tell, in degrees.
const alike = 0.001

// byMark reports whether the swivel stands at a mark, or between two, whose angle is kept.
func (r *Result) byMark() bool {
	if r.on != nil {
		return r.on.ByMark
	}
	return r.Method == swivel.ByMark || r.Method == swivel.BetweenMarks
}

// stepProve says what is measured before the last pass, and how what the last
// line leaves comes off.
func (r *Result) stepProve() say.Text {
	is, whose := r.HalfAngle, say.Text("")
	if far := r.SetHalfAngle.Minus(r.HalfAngle).Deg(); r.byMark() && math.Abs(far) > alike {
		is, whose = r.SetHalfAngle, say.Of(" as the scale is set (drawn ", say.Num(2*r.HalfAngle.Tan(), 5), ")")
	}
	changes, long := say.Num(2*is.Tan(), 5), *r.Length
	last, far, over := say.Text("the last pass"), say.Text("two places far apart"), say.Text(" over all")
	what := say.Text("the swivel")
	if len(r.Joints) > 0 { // from bite to bite the slides' moves tell, not the swivel
		last, what = say.Shorter("the last pass of the first bite", "bite 1's last pass"), "swivel"
		far, over, long = "two places in it, far apart", " from end to end of it", *r.CarriageSet
	}
	text := say.Of("before ", last, say.Shorter(
		say.Of(" measure ", far, ": the diameter changes by ", changes, " for each 1 along the axis, ",
			units.FromFloat(2*long.MM()*is.Tan()), over, whose, "; if not, put the swivel right first"),
		say.Of(": diameter ", changes, " per 1 along", whose, ", or correct ", what)))
	text += r.leftByLast()
	return sentence(text)
}

// inAll says how deep the passes go in all, and on the short page what the last line leaves.
func (r *Result) inAll(total units.Length) say.Text {
	whole := say.Of(total.Down(), " in all", r.lines(total))
	if left, _ := r.fromTurned(); left != nil && left.MM() >= shows {
		return say.Shorter(whole, say.Of(total.Down(), r.lines(total), ": ", *left, " left"))
	}
	return whole
}

// fromTurned is what the last line leaves on an outside that is turned to its large end first, and how far
// the carriage moves to take it off; nil where no line of the dial is told as the last.
func (r *Result) fromTurned() (left, move *units.Length) {
	d := r.Inputs.Lathe.CrossSlide
	if d == nil || r.Inputs.Internal || r.on != nil || r.onLast() || r.Inputs.Stock != nil {
		return nil, nil
	}
	s, _ := d.Short(r.Large.Minus(*r.Small).Half())
	over := r.Large.Minus(*r.Small).Minus(s.Set.Times(2))
	return &over, new(units.FromFloat(over.MM() / (2 * r.SetHalfAngle.Tan())))
}

// leftByLast says what the last line leaves, and what a move of the carriage takes off it, where
// the carriage can be moved by so little: by z along the axis, and the pass is begun and ended z/cos a
// sooner or later on the compound, or it would miss one end of the taper and go past the other.
func (r *Result) leftByLast() say.Text {
	if r.Left != nil {
		return r.takesOff(r.Left, r.LeftMove)
	}
	left, by := r.fromTurned()
	return say.Shorter(r.takesOff(left, by), "")
}

// takesOff says what is left, and that a move of the carriage takes it off.
func (r *Result) takesOff(left, by *units.Length) say.Text {
	if left == nil || left.Abs().MM() < shows {
		return ""
	}
	text := say.Of(". The last line leaves ", left.Fine())
	move := by.RoundTo(r.carriageStep(), units.Down)
	if move.Sign() == 0 {
		return text
	}
	way := r.Inputs.SmallEnd
	if !r.Inputs.Internal {
		way = other(way)
	}
	took := say.Text(" takes it off")
	if rest := units.FromFloat(left.Abs().MM() - 2*move.MM()*r.SetHalfAngle.Tan()); rest.MM() > shows {
		took = say.Of(" takes all but ", rest.Fine(), " off")
	}
	when := say.Text("later")
	if way == r.FeedsToward {
		when = "sooner"
	}
	along := units.FromFloat(move.MM() / r.SetHalfAngle.Cos())
	return text + say.Of(": the carriage unlocked, moved ", move, " toward the ", way,
		say.Aside(", by indicator or against a stop"), ", locked, the same pass begun and ended ", along, " ", when,
		say.Aside(" on the compound"), ",") + took
}
