package swivel

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Zero says how the slide stands where the scale of a compound reads 0.
func Zero(c *shop.Compound) say.Text {
	if c.Scale.Zero == shop.Across {
		return "slide square to the axis, handle toward you"
	}
	return "slide along the axis, handle toward the tailstock"
}

// Goes says which way the handle end goes, as whoever stands before the lathe
// sees it, when it is turned from a zero in a sense: at first, and beyond 90 deg.
func Goes(zero shop.Zero, d shop.Direction) (first, beyond say.Text) {
	type from struct {
		zero shop.Zero
		d    shop.Direction
	}
	ways := map[from][2]say.Text{
		{shop.Along, shop.Clockwise}:         {"toward you", "on toward the headstock"},
		{shop.Along, shop.CounterClockwise}:  {"away from you", "on toward the headstock"},
		{shop.Across, shop.CounterClockwise}: {"toward the tailstock", "on away from you"},
		{shop.Across, shop.Clockwise}:        {"toward the headstock", "on away from you"},
	}
	w := ways[from{zero, d}]
	return w[0], w[1]
}

// deg words an angle on the scale to the thousandth.
func deg(a units.Angle) say.Text { return say.Of(sheet.Deg(a)) }

// bare is deg without its unit.
func bare(a units.Angle) say.Text {
	return say.Num(a.RoundTo(units.Degrees(0.001), units.Nearest).Deg(), 3)
}

// Standing says where the swivel stands between two marks: "standing at 5.25, a
// quarter past 5 toward 6"; "" for the other methods.
func (w Way) Standing() say.Text {
	if w.Method != BetweenMarks {
		return ""
	}
	at, from, to := bare(w.Turned.Reading), bare(w.From.Reading), bare(w.To.Reading)
	part := say.Of(w.Part, "/", w.Parts)
	switch 4 * w.Part {
	case w.Parts:
		part = "a quarter"
	case 2 * w.Parts:
		return say.Of("standing at ", at, ", half way from ", from, " to ", to)
	case 3 * w.Parts:
		part = "three quarters"
	}
	return say.Of("standing at ", at, ", ", part, " past ", from, " toward ", to)
}

// moves says which zero it starts from and which way the handle end goes, up to
// the number that stands behind it.
func (w Way) moves(t shop.Turned) say.Text {
	c := w.in.Compound
	first, beyond := Goes(c.Scale.Zero, t.Direction)
	move := say.Of("from zero (", Zero(c), ") move the handle end ", first)
	if Past90(t) {
		move = say.Of(move, ", past 90 and ", beyond, ",")
	}
	return move
}

// counted says how far it is from zero where the scale counts back.
func (w Way) counted(t shop.Turned) say.Text {
	if !t.Past90 {
		return ""
	}
	return say.Of(", ", bare(t.Turn), " from zero, since it counts back past 90")
}

// Say says how the swivel is set, in one breath which way the handle end goes, from
// which zero, past 90 or not, to which number, and what is exact; in the next how that
// is hit, where it is not by the number.
func (w Way) Say() say.Text {
	then := w.then()
	if then != "" {
		then = say.Of(". ", then)
	}
	return say.Of(w.Moves(), w.Exactly(), then)
}

// Moves is the first part of it: what the hand does on the scale.
func (w Way) Moves() say.Text {
	exact, _, _, scale := w.in.Turned()
	switch {
	case w.Method == ByMark:
		return say.Of(w.moves(w.Turned), " to ", deg(w.Turned.Reading), say.Aside(" on the scale"), w.counted(w.Turned))
	case w.Method == BetweenMarks:
		return say.Of(w.moves(w.Turned), " to ", deg(w.Turned.Reading), " on the scale, ", w.Standing(),
			w.counted(w.Turned))
	case !scale && w.in.Reversed:
		return say.Of("set the slide ", deg(w.in.HalfAngle), " from along the axis, ", w.in.Swivel(),
			" as seen from above, handle toward the ", w.in.Toward())
	case !scale:
		first, _ := Goes(shop.Along, w.in.Swivel())
		return say.Of("from along the axis, handle toward the tailstock, move the handle end ", first, " by ",
			deg(w.in.HalfAngle))
	case exact.OffScale:
		comma := ","
		if Past90(exact) { // which ends with one
			comma = ""
		}
		return say.Of(w.moves(exact), comma, " past the end of the scale at ", w.in.Compound.Scale.Limit, ", ",
			bare(exact.Turn), " from zero in all")
	}
	return say.Of(w.moves(exact), " to about ", w.about(exact), say.Aside(" on the scale"), w.counted(exact))
}

// Exactly says what the scale would read; nothing where none is read.
func (w Way) Exactly() say.Text {
	exact, _, _, scale := w.in.Turned()
	if !scale || exact.OffScale {
		return ""
	}
	return say.Of("; exact ", deg(exact.Reading))
}

// about words a reading that is only come near to: a mark, or to a tenth of a
// degree where no mark is near.
func (w Way) about(exact shop.Turned) say.Text {
	const shows = 0.05 // degrees, the least that a tenth shows
	if exact.Reading.Deg() < shows {
		return deg(exact.Reading)
	}
	return say.Of(say.Num(exact.Reading.Deg(), 1), " deg")
}

// then says how the angle is hit once it is near.
func (w Way) then() say.Text {
	switch w.Method {
	case ByIndicator:
		return say.Of(say.Shorter("Then by", "By"), " indicator: ", w.Dial.Say(),
			say.Aside("; exact ", w.Dial.shows(w.Dial.Exact)))
	case BySineBar:
		return say.Of(say.Shorter("Then along the", "By"), " sine bar of ", w.Stack.Inputs.Bar, " on ", w.Stack.StackHeight,
			" of blocks, ", w.Stack.Stack, ", under its ", w.Raised(), " roll",
			say.Aside(": an indicator stands still along it while the slide goes ", w.Dial.Travel))
	}
	return ""
}

// Say says what an indicator shows and over what: "1.66 mm, its plunger square to
// the axis, while the slide goes 20 mm (20 turns of its handle)".
func (d Dial) Say() say.Text {
	return say.Of(d.shows(d.Shows), ", ", d.Over())
}

// shows words what an indicator shows, with more decimals where it is less than can
// be read.
func (d Dial) shows(l units.Length) any {
	if d.Untold {
		return units.Rounded{Length: l, More: 2}
	}
	return l
}

// Over says how an indicator lies and over what it is read.
func (d Dial) Over() say.Text {
	plunger := say.Text("plunger ")
	if d.Long {
		plunger = "long plunger "
	}
	short := say.Of(plunger, d.lies(), ", over ", d.Travel)
	if d.Turns > 0 {
		short = say.Of(plunger, d.lies(), ", over ", say.Count(d.Turns, "turn", "turns"))
	}
	return say.Shorter(say.Of("its plunger ", d.lies(), ", while the slide goes ", d.Travel, d.handle()), short)
}

// Because says how near a diameter comes out, as far as the angle goes.
func (w Way) Because() say.Text {
	switch w.Method {
	case ByMark:
		return "the compound at its nearest mark"
	case BetweenMarks:
		return say.Of("the compound set between marks by eye, to ", w.Within.Times(2))
	case ByIndicator:
		return say.Of("the compound set by indicator, ", w.Dial.Shows, " over ", w.Dial.Travel)
	}
	return say.Of("the compound set along a sine bar on ", w.Stack.StackHeight, " of gauge blocks")
}

// lies says how the plunger lies.
func (d Dial) lies() say.Text {
	if d.Along == Axis {
		return "along the axis"
	}
	return "square to the axis"
}

// handle says how many turns of the handle a travel is.
func (d Dial) handle() say.Text {
	if d.Turns == 0 {
		return ""
	}
	return say.Of(" (", say.Count(d.Turns, "turn", "turns"), " of its handle)")
}

// Raised says which roll of the sine bar stands on the blocks: the one that is
// farther from what the rolls stand against, a bar that is true along the axis,
// or above 45 deg a face that is square to it.
func (w Way) Raised() say.Text {
	switch {
	case w.Dial.Along == Cross && w.in.Grows:
		return "tailstock-side"
	case w.Dial.Along == Cross:
		return "headstock-side"
	case w.in.Grows:
		return "near"
	}
	return "far"
}

// How says how the method is gone about, a sentence each.
func (w Way) How() []say.Text {
	switch w.Method {
	case ByMark:
		return []say.Text{
			say.Of(say.Shorter("A mark is taken as hit. To prove it", "Mark proved"), " by indicator: ", w.AsSet().Say(),
				"."),
		}
	case BetweenMarks:
		return []say.Text{
			say.Of("By eye it is told to ", deg(w.Within), " either way. To prove that by indicator: ",
				w.AsSet().Say(), "."),
		}
	case ByIndicator:
		return w.Dial.how()
	}
	const clocked = "n a flat plate clamped across the bed lies a straight bar, clocked true along the axis and clamped"
	lies := say.Shorter("O"+clocked+"; the sine bar lies on the plate beside it on your side, its rolls toward that bar "+
		"and the blocks between it and the roll, pressed on by hand.",
		"O"+clocked+"; on your side of it the sine bar, rolls toward it, blocks between, pressed on by hand.")
	if w.Dial.Along == Axis {
		const square = "its rolls toward the faceplate or another face that is square to the axis"
		lies = say.Shorter("The sine bar lies level, "+square+"; the blocks stand between that face and the roll. "+
			"They are for the complement of the angle.",
			"It lies level, its rolls toward the faceplate (or a face square to the axis), the blocks between.")
	}
	return []say.Text{lies, say.Shorter("The indicator stands in the tool post and is wound along the bar by the "+
		"compound.", "Wound along it by the compound, an indicator in the post stands still.")}
}

// Done says the whole of it, from the zero to the bolts: what the hand does, how that is gone
// about, and that it is tightened and proved, which begins small as Say does.
func (w Way) Done() say.Text {
	text := say.Of(w.Say(), ". ", say.Join(w.How(), " "))
	if w.Method == ByIndicator { // which ends with it
		return text
	}
	return say.Of(text, " Tighten both bolts", say.Shorter(" in turn, and prove it so: that moves it.", ", prove it so."))
}

// Again is Done where another angle was set in the same way just before: how that is gone about
// need not be read twice.
func (w Way) Again(before Way) say.Text {
	if w.Method != before.Method || w.Proof().Along != before.Proof().Along {
		return w.Done()
	}
	return say.Shorter(w.Done(), say.Of(w.Say(), ". Gone about as before; tighten, prove it."))
}

// how says how the indicator is held and wound.
func (d Dial) how() []say.Text {
	on := say.Of("a bar ", say.Aside("that runs "), "true along the axis", say.Aside(", ", d.room(), " of it"))
	if d.Along == Axis {
		on = say.Of(say.Aside("the faceplate or "), "a face ", say.Aside("turned "), "square to the axis",
			say.Aside(", ", d.room(), " of it from its middle out"))
	}
	long := say.Text("")
	if d.Long {
		long = say.Aside(" It takes a plunger that goes ", d.Shows.Up(), ".")
	}
	so, hand := say.Of(d.Travel, " of the slide, by calliper."), say.Text("")
	if d.Turns > 0 {
		hand = say.Of(say.Aside("set the "), "hand to 0, ")
		so = say.Shorter(say.Of(say.Count(d.Turns, "turn", "turns"), "."), "those.")
	}
	out := say.Text("well out")
	if d.Whole {
		out = "right out"
	}
	take := say.Shorter(say.Of("Wind the compound ", out, ", then in until its slack is out, "),
		say.Of("Compound ", out, ", in by its slack, "))
	return []say.Text{
		say.Of("Indicator in the ", say.Aside("tool "), "post at centre height", say.Aside(", its plunger"), " on ", on, ".",
			long),
		take + say.Of(hand, "wind ", say.Aside("on "), "in ", so),
		say.Of(say.Shorter(say.Of("Tap the slide round and wind again until it shows ", d.shows(d.Shows),
			"; 0.01 deg more is ", d.Per.Fine()), "Tap the slide, repeat until that shows"), ". Tighten",
			say.Shorter(" and", ","), " prove it."),
	}
}

// room says how much of what it runs on the plunger runs over, in round figures of
// the page.
func (d Dial) room() say.Text {
	mm, inch := d.Needs.RoundTo(units.MustLength("1mm"), units.Up), d.Needs.RoundTo(units.MustLength("0.05in"), units.Up)
	return say.Either(say.Of(mm).In(units.MM), say.Of(inch).In(units.Inch))
}
