package tailstock

import (
	"math"
	"strings"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// Standing is the work that a taper is cut out of, where that is a part of more, as it stands
// when the taper is cut. The tailstock is set over by Set.
//
// The work is touched at the taper's large end, or at the small one where there is nothing to be
// touched there. It turns at a half angle a to the bed, so that
// a travel t of the cross slide takes 2·t·cos a off the diameter.
type Standing struct {
	Headstock, Tailstock units.Length // the drawing's z of the taper's ends
	Touched              units.Length // of the end that the work is touched at,
	End                  say.Text     // which is called so
	Set                  units.Length
	Flush                bool // the tip cannot begin beyond the tailstock end

	// Thick is how thick the work stands where it is touched, As what has been done to it.
	Thick units.Length
	As    say.Text

	// Last is how far in the last pass is from there, Begins how far out the first would only
	// meet the work; Depth and Finish are what a pass takes a side, and the last.
	Last, Begins  units.Length
	Depth, Finish units.Length

	// From and To are where the work is parallel for longest.
	From, To units.Length
}

// setTo is the taper with the tailstock set over by another offset, by the least trouble that is as
// fine, and a bar of the work's own length that is indicated over what is parallel of it.
func (r Result) setTo(on Standing) Result {
	r.Offset, r.OffsetSet, r.Remarks = on.Set, on.Set, sheet.Remarks{}
	r.Inputs.TestBar = nil
	r.SetHalfAngle = units.Radians(math.Asin(min(on.Set.Over(r.Between), 1)))
	if r.Method = ByIndicator; practice.IndicatorRange.Length(r.Inputs.Unit).Less(on.Set) {
		r.Method = AlongBar
	}
	r.bar()
	if r.onWork(on) {
		r.along(on.To.Minus(on.From).Abs())
	}
	return r
}

// onWork reports whether enough of the work is parallel to be indicated.
func (r *Result) onWork(on Standing) bool {
	least := practice.TestBarTravel.Length(units.MM).Half().Half().Half()
	return least.Cmp(on.To.Minus(on.From).Abs()) <= 0
}

// SetOver says how the tailstock is set over before the work is cut, and proved; and how it is
// brought back when all is cut that wants it over.
func (r Result) SetOver(on Standing) (set, back []say.Text) {
	r = r.setTo(on)
	work := r.onWork(on)
	along := say.Of("the work from z ", on.From, " to z ", on.To, ",")
	if !work {
		along = say.Of("a parallel bar as long as the work, ", r.Between, ", between the centres")
	}
	set = []say.Text{
		say.Of("See that the tailstock is true: an indicator in the tool post, level, at centre height and square to ",
			"the bed, shows the same all along ", say.Text(strings.TrimSuffix(string(along), ",")), "."),
		r.slacken(),
	}
	set = append(append(set, r.move()...), r.clampAgain())
	thing := say.Text("the work")
	if !work {
		thing, along = "that bar", "that bar,"
	}
	set = append(set, r.unlocked(thing, "as at first")+r.proved(along)+".")
	if !work {
		set = append(set, r.takeOut())
	}
	return set, []say.Text{r.bringBack()}
}

// Wound says how a taper is cut out of the work that it is a part of, once the tailstock is set
// over: where the tip begins, where the work is touched, how deep the passes go, how one is fed
// and what proves it.
func (r Result) Wound(on Standing) []say.Text {
	r = r.setTo(on)
	begins, ends := on.Tailstock, on.Headstock
	start := say.Of(runIn(), " before z ", begins, ", on the tailstock's side of it")
	before, more := say.Of("those ", runIn(), " and "), say.Text(" more")
	if on.Flush {
		start, before, more = say.Of("z ", begins, ", not beyond it"), "", ""
	}
	touched := say.Of("Tip at centre height; leave the compound where it is. With the carriage bring the tip, clear of ",
		"the work, to the ", on.End, ", z ", on.Touched, ", touch the turning work there, ", on.Thick, " thick ", on.As,
		", and set the cross slide's collar to 0. Cross slide out ", r.pastOut(on.Begins), ".")
	return []say.Text{
		touched,
		say.Of("With the carriage bring the tip to ", start, ". ", r.deep(on)),
		say.Of("Each pass: feed with the carriage toward the headstock, ", before, r.slope(r.SetHalfAngle), more,
			", to z ", ends, ". ",
			tapers.NextPass("out", "half a turn and its slack", "carriage back to where it began", "in"), "."),
		r.putRight(),
	}
}

// pastOut is how the tip comes off the work after the touch: past where the passes begin by a
// quarter of a turn or more, and by half of one at the least.
func (r *Result) pastOut(begins units.Length) say.Text {
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return say.Of(begins, ", and half a turn and its slack more")
	}
	past := begins.Plus(d.Lead.Half().Half())
	if past.Cmp(d.Lead.Half()) <= 0 {
		return "half a turn and its slack"
	}
	return say.Of(say.Count(past.Steps(d.Lead, units.Up), "turn", "turns"), " and its slack, past where the passes begin")
}

// deep says how deep the passes go from where the work was touched.
func (r *Result) deep(on Standing) say.Text {
	from := say.Text("")
	if on.Begins.Sign() > 0 {
		from = say.Of("come in with the cross slide to ", on.Begins, " out from 0", r.lines(on.Begins, units.Up),
			", where the tip just meets the work; ")
	}
	to := say.Text("; the last line is 0.")
	if on.Last.Sign() > 0 {
		to = say.Of("; the last line is ", on.Last, r.lines(on.Last, units.Nearest), " past 0.")
	}
	text := say.Of(from, "go deeper by ", tapers.Deeper(on.Depth, on.Finish, func(l units.Length) say.Text {
		return r.lines(l, units.Down)
	}), to)
	return text.Capital()
}

// lines says how far a travel of the cross slide is on its dial; "" without one.
func (r *Result) lines(travel units.Length, dir units.Direction) say.Text {
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return ""
	}
	n := travel.Times(int64(d.Divisions)).Steps(d.Lead, dir)
	return say.Of(" (", wound(shop.Turns{Turns: n / int64(d.Divisions), Divisions: n % int64(d.Divisions)}), ")")
}

// putRight says what is measured before the last pass, and what is moved for what it shows.
func (r *Result) putRight() say.Text {
	over := r.Large.Minus(*r.Small)
	return say.Of("Before the last pass measure two places far apart: the diameter changes by ",
		say.Num(2*r.HalfAngle.Tan(), 5), " for each 1 along the axis, ", over, " over all. ",
		r.forEach("it changes too much over all",
			"it changes too little"))
}
