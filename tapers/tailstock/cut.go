package tailstock

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// cut says how the taper is cut once the tailstock is set over: where the work is touched, how
// deep the passes go and how one is fed.
func (r *Result) cut(s *sheet.Sheet) {
	bring := say.Of(". With the carriage bring it to the small end, at the ", r.Inputs.SmallEnd, ", touch the turning ",
		"work there, and set the cross slide's collar to 0. Cross slide out half a turn and its slack, carriage to ")
	touch := say.Of(say.Aside("Leave the compound where it is. "), "Tip at centre height",
		say.Shorter(bring, ": touch the small end, cross slide's collar to 0, out half a turn; carriage "), runIn(),
		" before the tailstock end", say.Aside(" of the taper"), ".")
	next := say.Shorter(". "+tapers.NextPass("out", "half a turn and its slack", "carriage back", "in"),
		", out again, back, in to the next line")
	feed := say.Shorter(". Each pass: feed with the carriage toward the headstock, ", ": carriage to the headstock ")
	passes := say.Of(say.Shorter("Go deeper by ", "Passes of "), r.passes(), r.downTo(), feed, r.fed(), next, ".")
	s.Do(touch, " ", passes)
}

// runIn is what the tip begins before the taper by, round on either page.
func runIn() say.Text {
	return onPage(practice.SlideRunIn.Length(units.MM), practice.SlideRunIn.Length(units.Inch))
}

// passes says what the passes go deeper by, as is usual.
func (r *Result) passes() say.Text {
	u := r.Inputs.Unit
	return tapers.Deeper(practice.PassDepth.Length(u), practice.PassFinish.Length(u), func(l units.Length) say.Text {
		return r.lines(l, units.Down)
	})
}

// fed says how far a pass is fed: the slope of the taper, which lies along the bed.
func (r *Result) fed() say.Text {
	if r.Length == nil {
		return "to the end of the taper"
	}
	return say.Of("those ", runIn(), " and ", r.slope(r.HalfAngle))
}

// slope is how far the carriage goes along a taper that is cut at a half angle, with its turns.
func (r *Result) slope(half units.Angle) say.Text {
	feed := units.FromFloat(r.Length.MM() / half.Cos())
	if d := r.Inputs.Lathe.Carriage; d != nil {
		_, t := d.Set(feed)
		return say.Of(feed, " (", wound(t), ")")
	}
	return say.Of(feed)
}

// downTo says how far in the work is down to size.
func (r *Result) downTo() say.Text {
	if r.Infeed == nil {
		return ""
	}
	from := say.Of(say.Shorter("; from work turned to ", ", from "), *r.Large, say.Aside(" first"),
		say.Shorter(" it is ", ": "), *r.Infeed, " in all")
	if r.InfeedTurns != nil {
		from += say.Of(" (", wound(shop.Turns{Turns: *r.InfeedTurns, Divisions: *r.InfeedDivisions}), ")")
	}
	if r.Left == nil || r.Left.Less(seen) {
		return from
	}
	part := r.Left.MM() * r.HalfAngle.Cos() / 2 / r.Inputs.Lathe.CrossSlide.Division().MM()
	from = say.Of(from, say.Shorter(", which leaves ", ", leaving "), fineOnPage(*r.Left, *r.Left))
	if least := 0.05; part < least { // of a line
		return from + say.Aside(" on the diameter")
	}
	more := say.Of(say.Num(part, 1), " div more, by eye")
	return from + say.Of(say.Shorter(say.Of(" on the diameter: measure, and take it off by ", more),
		say.Of(" (", more, ")")))
}
