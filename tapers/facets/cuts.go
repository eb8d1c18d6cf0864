package facets

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

// Round is the round that flats are cut out of, and how far from the axis the finished
// flats come to lie there.
type Round struct{ Dia, Apothem units.Length }

// OutOf returns how flats are cut out of a round, one after the other, as the shop indexes
// them: at one place, or of a taper at its large end and its small. Leave stays on each flat
// for a second round; tilt is that of the flats to the axis.
func OutOf(sides int, leave units.Length, tilt units.Angle, on Indexing, rounds ...Round) Order {
	var ends []end
	for _, r := range rounds {
		ends = append(ends, end{section{radius: r.Dia.Half().MM()}, r.Apothem})
	}
	return inOrder(sides, leave, tilt, on, ends...)
}

// mostListed is how many flats are told one by one: more do not fit on a card.
const mostListed = 12

// Cuts says of every flat in its order how the work is turned to it and what it reads, at
// both ends of a taper: with what is left still on it, or finished. Of more than 12 flats
// it says the rule, and what the first and the last read.
func (r *Order) Cuts(finished bool) []say.Text {
	if len(r.Flats) == 0 {
		return nil
	}
	if len(r.Flats) > mostListed {
		return append(r.rule(finished), r.again()...)
	}
	var list []say.Text
	for i, f := range r.Flats {
		text := say.Of("Flat ", f.Flat, ": ")
		if turn := r.turnTo(i); turn != "" {
			text += turn + "; "
		}
		text += "it reads " + r.reads(f, finished)
		if i == 0 {
			text += ", over it and what stands opposite"
		}
		list = append(list, text+".")
	}
	return append(list, r.again()...)
}

// rule says how many flats are cut: every second one first, and the first and the last.
func (r *Order) rule(finished bool) []say.Text {
	first, last := r.Flats[0], r.Flats[len(r.Flats)-1]
	return []say.Text{
		say.Of("Every second flat first (1, 3, 5 …), then those between (2, 4, 6 …), ", len(r.Flats), " in all: ",
			r.fromOneToNext(), "."),
		say.Of("The first, flat 1, reads ", r.reads(first, finished), ", over it and what stands opposite; the last, flat ",
			last.Flat, ", reads ", r.reads(last, finished), "."),
	}
}

// fromOneToNext says how the work is turned from one flat to the next that is cut, where that
// is too often to be listed: the same but for where the second round begins, or each.
func (r *Order) fromOneToNext() say.Text {
	if r.Circle == nil && (r.Block != nil || r.on.Rotary == nil) {
		one := units.Degrees(360 / float64(r.sides))
		return say.Of("flat 2 stands ", one, " from flat 1, flat 3 ", one.Plus(one), ", and so on")
	}
	var list []say.Text
	most, between := r.crank(1), say.Text("")
	for i := 1; i < len(r.Flats); i++ {
		turn := r.crank(i)
		list = append(list, say.Of(r.Flats[i].Flat, ": ", turn))
		switch {
		case turn == most:
		case r.Flats[i].Flat < r.Flats[i-1].Flat:
			between = say.Of(", and ", turn, " from flat ", r.Flats[i-1].Flat, " to flat ", r.Flats[i].Flat)
		default:
			most = ""
		}
	}
	switch {
	case r.Circle == nil:
		return "handwheel from flat 1's place to flat " + say.Join(list, ", ")
	case most == "":
		return "crank on to flat " + say.Join(list, ", ")
	}
	return say.Of("crank on ", most, " from each to the next", between)
}

// crank words how the crank, or the handwheel of a table, is turned to the flat that is cut as
// the ith.
func (r *Order) crank(i int) say.Text {
	f := r.Flats[i]
	if r.Circle != nil {
		return say.Of(shop.Counted{Turns: *f.Turns, Spaces: *f.Spaces, Circle: *r.Circle})
	}
	return f.Wheel()
}

// turnTo says how the work is turned to the flat that is cut as the ith, from 0; nothing for
// the first where that is flat 1.
func (r *Order) turnTo(i int) say.Text {
	f := r.Flats[i]
	switch {
	case i == 0 && f.Flat == 1:
		return ""
	case r.Circle != nil:
		return "crank on " + r.crank(i)
	case r.on.Rotary != nil:
		return say.Of("handwheel ", r.crank(i), " from flat 1's place")
	case r.Block != nil:
		return say.Of(say.Count(int64(*f.Faces), "face", "faces"), " of the block on")
	}
	return say.Of("turned ", f.Angle, " from flat 1")
}

// Wheel says where the rotary table's handwheel stands, from flat 1's place.
func (f Flat) Wheel() say.Text {
	text := say.Count(int64(*f.RotaryTurns), "turn", "turns")
	if *f.Handwheel != (units.Angle{}).DMS(true) {
		text += say.Of(" + ", say.Plain(*f.Handwheel))
	}
	return text
}

// reads says what a flat reads, over what stands opposite when it is cut.
func (r *Order) reads(f Flat, finished bool) say.Text {
	large, small := &f.Reading, f.ReadingSmall
	if !finished && f.Left != nil {
		large, small = f.Left, f.LeftSmall
	}
	if small == nil {
		return say.Of(large)
	}
	return say.Of(large, " at the large end, ", small, " at the small")
}

// onceMore is the count that brings the place of flat 1 up again.
func (r *Order) onceMore() shop.Counted {
	return shop.Counted{Turns: *r.AgainTurns, Spaces: *r.AgainSpaces, Circle: *r.Circle}
}

// again says what proves the indexing, when all flats are cut.
func (r *Order) again() []say.Text {
	switch {
	case r.AgainTurns != nil:
		return []say.Text{say.Of("Crank on ", r.onceMore(),
			": the place of flat 1 comes up again, and what cuts must only just touch there.")}
	case r.byHand():
		return nil
	}
	return []say.Text{"Bring the place of flat 1 up once more: what cuts must only just touch there."}
}
