// Package form cuts a short taper with a tool that is ground to its angle and fed straight
// in: the compound stays where it is.
//
// The tool's edge lies along the side, so that the work is touched where the edge reaches
// farthest in, at the small end, and a travel t takes 2·t off the diameter there.
//
// Source: plane geometry.
package form

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Tool is ground to Set, the nearest that a protractor tells to HalfAngle, for a side so long.
type Tool struct {
	HalfAngle, Set units.Angle
	Side           units.Length
}

// Of returns the tool for a half angle and a side.
func Of(half units.Angle, side units.Length) Tool {
	return Tool{HalfAngle: half, Set: half.RoundTo(practice.FormToolStep.Angle(), units.Nearest), Side: side}
}

// Ground says how it is ground.
func (t Tool) Ground() say.Text {
	return say.Of("Grind a tool to ", sheet.Deg(t.Set), " from the axis and prove it on a protractor; exact ",
		sheet.Deg(t.HalfAngle), ".")
}

// Square says how it is set to the work and fed.
const Square = "Set it square to the work by the side of a square, feed it straight in, and run slowly if it chatters."

// Standing is the work that a taper is cut out of: z of its ends, and how thick it stands at
// the small one as what has been done to it.
type Standing struct {
	Large, Small units.Length
	Thick        units.Length
	As           say.Text
	// PastSmall and PastLarge report whether a wider edge would cut what stands past the ends.
	PastSmall, PastLarge bool
	// Last is how far in the last line is from where the edge touches, Depth and Finish what it
	// is fed at a time, and the last, To the small diameter.
	Last, Depth, Finish, To units.Length
	CrossSlide              *shop.Dial
}

// Fed says how the taper is cut, one thing after the other.
func (t Tool) Fed(on Standing) []say.Text {
	list := []say.Text{
		t.Ground() + say.Of(" Its edge is a little longer than the side, ", t.Side.Up(), "."),
		"Tip at centre height; leave the compound where it is. " + Square,
		say.Of("With the carriage bring the edge over the taper, from z ", on.Large, " to z ", on.Small, on.ends(),
			", and lock the carriage."),
	}
	if on.PastSmall && on.PastLarge {
		list[0] = t.Ground() + say.Of(" Its edge is just as long as the side, ", t.Side, ".")
	}
	feed := say.Of("feed straight in by at most ", on.Depth, on.lines(on.Depth, units.Down),
		" at a time and back to clear the chips, the last time by ", on.Finish, on.lines(on.Finish, units.Down),
		"; the last line is ", on.Last, on.lines(on.Last, units.Nearest), " past 0.")
	if on.Last.Sign() == 0 {
		feed = "the last line is 0."
	}
	touch := say.Of("Touch the turning work at the small end, z ", on.Small, ", ", on.Thick, " thick ", on.As,
		", and set the cross slide's collar to 0. ")
	list = append(list, touch+feed.Capital())
	if on.To.Sign() == 0 {
		return append(list, "The edge then comes to the axis at the point: stop there.")
	}
	return append(list, say.Of("Before the last ", on.Finish, " measure the small end: it is ",
		on.To.Plus(on.Finish.Times(2)), " then, and ", on.To, " at the end."))
}

// ends says which end of the edge must not stand past the taper.
func (on Standing) ends() say.Text {
	switch {
	case on.PastSmall && on.PastLarge:
		return ", its ends just there"
	case on.PastSmall:
		return say.Of(", its end at z ", on.Small, " and not past it")
	case on.PastLarge:
		return say.Of(", its end at z ", on.Large, " and not past it")
	}
	return ""
}

// lines says how far a travel is on the cross slide's dial; "" without one.
func (on Standing) lines(travel units.Length, dir units.Direction) say.Text {
	d := on.CrossSlide
	if d == nil {
		return ""
	}
	n := travel.Times(int64(d.Divisions)).Steps(d.Lead, dir)
	switch turns, divisions := n/int64(d.Divisions), n%int64(d.Divisions); {
	case turns == 0:
		return say.Of(" (", divisions, " div)")
	case divisions == 0:
		return say.Of(" (", say.Count(turns, "turn", "turns"), ")")
	default:
		return say.Of(" (", shop.Turns{Turns: turns, Divisions: divisions}, ")")
	}
}
