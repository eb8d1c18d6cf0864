package compound

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
)

// Standing is the work that a taper is cut out of, where that is a part of more, as
// it stands when the taper is cut. The compound is set to SetTo, which may be another
// half angle than the one that would be chosen for the taper alone.
//
// The work is touched at the taper's large end, so that the tip comes to 0 once more
// where a pass ends or begins at that end; in bites that begin at the small end it is
// touched there, since the tip does not come to the other in the first, and in bites that
// begin at the large end at that one, which then may be thinner than the last line leaves it.
type Standing struct {
	Headstock, Tailstock units.Length // the drawing's z of the taper's ends
	SetTo                units.Angle
	Flush                bool // the tip cannot begin beyond the tailstock end
	BySmall              bool // nothing is to be touched at the large end: the small one is

	// LargeEnd and SmallEnd are how thick the work stands at the taper's ends, nil where
	// that is not known; As is what has been done to it: "as roughed".
	LargeEnd, SmallEnd *units.Length
	As                 say.Text

	// Last is how far in the last pass is from where the tip touches, on the line that is
	// set, below 0 where it is out from there, nil where it is not known; Begins how far out
	// from there the first would only meet the work, nil where it is as thick at both ends.
	// Depth and Finish are as in Input.
	Last, Begins  *units.Length
	Depth, Finish *units.Length

	// ByMark says that SetTo is a mark's angle, or one between two, and is kept.
	ByMark bool

	// StepHead and StepTail say that the work beside that end is not as thick as the taper stands there: it is
	// touched inside of the edge.
	StepHead, StepTail bool

	// Locked says that the carriage is locked since what was cut before.
	Locked bool

	// Held says that how the tool is held stands elsewhere.
	Held bool

	even bool // it is as thick all along
}

// Wound says how a taper is cut out of the work that it is a part of, once the swivel
// is set: how the tool is held, where the slide and the tip begin, how the work is
// touched, how deep the passes go and how one is wound, what moves from bite to bite,
// and what proves it. Where the answer is no there is nothing to do.
func (r Result) Wound(on Standing) []say.Text {
	r = r.cutOutOf(on)
	if len(r.Fails()) > 0 || r.Length == nil {
		return nil
	}
	r.settle()
	tool := r.stepTool()
	if on.Held {
		tool = sentence(say.Of("tip at centre height", say.Aside(r.heightCosts())))
	}
	touch, back := r.touch()
	_, off := r.deeper()
	list := []say.Text{
		tool + " " + r.stepStart(), sentence(touch) + say.Of(" Cross slide ", off, " ", r.comesOff(), back, "."),
		r.stepDepth(), r.stepFeed(),
	}
	if len(r.Joints) > 0 {
		list = append(list, r.stepBites())
	}
	return append(list, r.stepProve())
}

// InBite returns in how many passes a bite of work that stands so is cut at the most, and whether there
// are several: from the line where the tip first meets it to the last. Last must be known.
func (r Result) InBite(on Standing) (most int, several bool) {
	r = r.cutOutOf(on)
	r.settle()
	depth, finish := r.depths()
	for bite := range len(r.Joints) + 1 {
		most = max(most, Passes(r.out(bite+1).Plus(*r.on.Last), depth, finish, r.Inputs.Lathe.CrossSlide))
	}
	return most, len(r.Joints) > 0
}

// Passes returns in how many passes the cross slide goes so far in, the last of them the finish. On a
// dial each is so many of its lines, as a sheet says them: what is less than a line is no pass of its own.
func Passes(goes, depth, finish units.Length, dial *shop.Dial) int {
	if dial == nil {
		return 1 + int(units.Max(goes.Minus(finish), units.Length{}).Steps(depth, units.Up))
	}
	lines := func(l units.Length) int64 {
		return l.Plus(units.FromFloat(told)).Times(int64(dial.Divisions)).Steps(dial.Lead, units.Down)
	}
	rough, each := lines(goes)-lines(finish), max(1, lines(depth))
	return 1 + int((max(0, rough)+each-1)/each)
}

// TouchedAtSmall reports whether work that stands so is touched at the taper's small end.
func (r Result) TouchedAtSmall(on Standing) bool {
	if r.Bites == nil || *r.Bites < 2 {
		return on.BySmall
	}
	r = r.cutOutOf(on)
	_, end := r.touched()
	return end == r.Inputs.SmallEnd
}

// cutOutOf is the taper cut out of work that stands so, with nothing said of it yet.
func (r Result) cutOutOf(on Standing) Result {
	r.on, r.Inputs.Flush = &on, on.Flush
	if on.Depth != nil {
		r.Inputs.Depth = on.Depth
	}
	if on.Finish != nil {
		r.Inputs.Finish = on.Finish
	}
	return r.Turned(on.SetTo)
}

// Turned is the taper with the compound set to another half angle: how it is wound then, and
// what moves from bite to bite. Nothing is said of it.
func (r Result) Turned(half units.Angle) Result {
	r.SetHalfAngle, r.Remarks, r.Passes, r.Cutting = half, sheet.Remarks{}, nil, Cutting{}
	r.Bites, r.CarriageMove, r.CrossSlideMove = nil, nil, nil
	if r.Length != nil {
		r.SlideTravel = new(units.FromFloat(r.Length.MM() / half.Cos()))
	}
	r.setCutting()
	return r
}

// settle finds where the passes of work that is as thick at both ends begin, and the last
// line that does not go past the size of the end that is touched.
func (r *Result) settle() {
	on := r.on
	if on.Begins == nil { // it is as thick at both ends
		on.even = true
		on.Begins = new(units.Length{})
		if _, end := r.touched(); end != r.Inputs.SmallEnd {
			on.Begins = new(units.FromFloat(r.Length.MM() * r.SetHalfAngle.Tan()))
		}
	}
	if on.Last != nil || on.LargeEnd == nil || on.SmallEnd == nil {
		return
	}
	last := on.LargeEnd.Minus(*r.Large).Half()
	if _, end := r.touched(); end == r.Inputs.SmallEnd {
		last = on.SmallEnd.Minus(*r.Small).Half()
	}
	last = last.Plus(r.shift())
	if d := r.Inputs.Lathe.CrossSlide; d != nil {
		s, _ := d.Short(last)
		last = s.Set
	}
	on.Last = &last
}

// inside is how far inside of the end, along the slide, the work is touched, in whole turns of the handle: past what a
// slide runs in, or one turn of a short side. It is 0 where the work is no step there.
func (r *Result) inside() (along units.Length, turns int64) {
	if r.on == nil || r.Bite == nil {
		return along, 0
	}
	_, end := r.touched()
	if r.heelFirst() {
		return along, 0
	}
	if step := end == tapers.AtHeadstock && r.on.StepHead || end == tapers.AtTailstock && r.on.StepTail; !step {
		return along, 0
	}
	turn := units.Millimetres(1)
	if c := r.Inputs.Lathe.Compound; c != nil && c.Screw != nil {
		turn = c.Screw.Lead
	}
	most := units.Max(practice.SlideRunIn.Length(units.MM), practice.SlideRunIn.Length(units.Inch))
	turns = most.Steps(turn, units.Up)
	if r.Bite.Half().Less(turn.Times(turns)) {
		if turns = units.Millimetres(1).Steps(turn, units.Up); r.Bite.Half().Less(turn.Times(turns)) {
			return along, 0
		}
	}
	return turn.Times(turns), turns
}

// shift is how much deeper the tip goes from the 0 of a touch inside than from one at the end, on the radius, above
// 0 where the end is the large one:
//
//	s·sin a
func (r *Result) shift() units.Length {
	along, _ := r.inside()
	by := units.FromFloat(along.MM() * r.SetHalfAngle.Sin())
	_, end := r.touched()
	if end == r.Inputs.SmallEnd {
		return by.Neg()
	}
	return by
}

// insideWords says how far inside the work is touched, in turns where the handle has a dial.
func (r *Result) insideWords() say.Text {
	along, turns := r.inside()
	if c := r.Inputs.Lathe.Compound; c == nil || c.Screw == nil {
		return say.Of(along)
	}
	return say.Of(along, " (", turned(turns, 0), ")")
}

// stepDepth says how deep the passes go from where the work was touched.
func (r *Result) stepDepth() say.Text {
	depth, finish := r.depths()
	by := say.Of("go deeper by ", tapers.Deeper(depth, finish, r.lines))
	name, end := r.touched()
	from := say.Text("")
	if out := r.out(1); out.Sign() > 0 {
		deep, back := r.deeper()
		from = say.Of(say.Shorter(say.Of("come ", deep, " with the cross slide"), say.Of("cross slide ", deep)), " to ", out,
			" ", back, " from 0", r.linesOver(out), ", where the tip ", say.Aside("just "), "meets the work; ")
	}
	if r.on.Last == nil {
		is := r.Large
		if end == r.Inputs.SmallEnd {
			is = r.Small
		}
		more, less := say.Text(""), say.Text("")
		switch shift := r.shift(); shift.Sign() {
		case 1:
			more = say.Of(shift.Down(), " and ")
		case -1:
			less = say.Of(", less ", shift.Neg().Up())
		}
		return sentence(say.Of(from, by, say.Shorter(", until the cross slide is past 0", ", to past 0"),
			" by ", more, "half of what the work measures there over ", is, less, say.Aside(": then the ", name, " is to size")))
	}
	to := say.Text("; the last line is 0")
	switch last := r.on.Last; last.Sign() {
	case 1:
		to = say.Of("; the last line is ", last, r.linesSet(*last), " past 0")
	case -1:
		out := last.Abs()
		to = say.Of("; the last line is ", out, r.linesSet(out), " out from 0, where the tip is clear of the ", name)
	}
	return sentence(from + by + to)
}

// linesOver says how far a travel of the cross slide is on its dial, at the first line
// that is no less; "" without one.
func (r *Result) linesOver(travel units.Length) say.Text {
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return ""
	}
	n := travel.Times(int64(d.Divisions)).Steps(d.Lead, units.Up)
	return say.Of(" (", turned(n/int64(d.Divisions), n%int64(d.Divisions)), ")")
}

// linesSet says how far a line of the cross slide's dial is; "" without one.
func (r *Result) linesSet(line units.Length) say.Text {
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return ""
	}
	_, t := d.Set(line)
	return say.Of(" (", turned(t.Turns, t.Divisions), ")")
}

// endAt names an end of the taper: by its place in the drawing where that is known.
func (r *Result) endAt(end tapers.End) say.Text {
	if r.on == nil {
		return say.Of("the ", end, " end", say.Aside(" of the ", r.thing()))
	}
	return say.Of("z ", r.on.z(end))
}

// veryEnd is endAt where the tip begins not beyond it.
func (r *Result) veryEnd(end tapers.End) say.Text {
	if r.on == nil {
		very := say.Of("the very ", end, " end", say.Aside(" of the ", r.thing()))
		if r.Inputs.Flush {
			very += ", not beyond it"
		}
		return very
	}
	return say.Of("z ", r.on.z(end), ", not beyond it")
}

// where says at which z an end of the taper is, where that is known.
func (r *Result) where(end tapers.End) say.Text {
	if r.on == nil {
		return ""
	}
	return ", " + r.endAt(end)
}

// z is where an end of the taper is in the drawing.
func (on *Standing) z(end tapers.End) units.Length {
	if end == tapers.AtHeadstock {
		return on.Headstock
	}
	return on.Tailstock
}

// turnedTo says how thick the work must be where it is touched on the last line, or beside a bar that
// is down to the small end already.
func (r *Result) turnedTo() say.Text {
	switch {
	case r.neck() != "" && r.Inputs.Stock != nil:
		return say.Of(r.Inputs.Stock, " thick, not the bar beyond, ")
	case r.neck() != "":
		return say.Of("turned to ", r.Large.Up(), ", not the bar beyond, ")
	case !r.onLast() || r.Inputs.Stock != nil:
		return ""
	case r.Inputs.Internal:
		return say.Of("bored to ", r.Small, ", ")
	}
	return say.Of("turned to ", r.Large.Up(), ", ")
}

// thick says how thick the work stands where it is touched.
func (r *Result) thick() say.Text {
	if r.on == nil {
		return r.turnedTo() + r.onEdge()
	}
	_, end := r.touched()
	dia := r.on.LargeEnd
	if end == r.Inputs.SmallEnd {
		dia = r.on.SmallEnd
	}
	thick := r.on.As
	if dia != nil {
		thick = say.Of(dia, " thick ", r.on.As)
	}
	return thick + ", " + r.onEdge()
}

// heelFirst reports whether the post stands so that a cylinder would meet the heel of the tool before its tip: the edge
// of the work is touched, where the tool begins and nothing stands under the heel.
func (r *Result) heelFirst() bool {
	if r.Inputs.Internal {
		return false
	}
	a := r.Inputs.Arrangement
	if r.Finding != nil {
		a = r.Finding.Arrangement
	}
	a.ToolHand = r.hand()
	t, _ := fouling.Mounted(fouling.OnHand(r.Inputs.Lathe.Tools), nil, a.ToolHand)
	return a.HeelFirst(units.Degrees(t.Trail), r.HalfAngle, r.grows())
}

// onEdge says that the very edge of the work is touched.
func (r *Result) onEdge() say.Text {
	if !r.heelFirst() {
		return ""
	}
	return say.Shorter("on its very edge, since farther in the heel of the tool touches before the tip, ",
		"on its very edge (farther in the heel touches first), ")
}
