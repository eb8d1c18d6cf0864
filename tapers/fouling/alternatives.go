package fouling

import (
	"cmp"
	"math"
	"slices"

	"setover/setup/base/geom"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// Change is what is done otherwise, in the order of the trouble it is.
type Change string

// The changes.
const (
	NoChange   Change = "none"
	TurnPost   Change = "post"
	MoveTool   Change = "overhang"
	MoveWork   Change = "work-out"
	MoveBarrel Change = "barrel"
	OtherTool  Change = "tool"
	TurnSlide  Change = "handle"
	TurnWork   Change = "end-for-end"
)

var trouble = []Change{NoChange, TurnPost, MoveTool, MoveWork, MoveBarrel, OtherTool, TurnSlide, TurnWork}

// Alternative is a way that fouls nothing: the arrangement, and what else is
// changed. MoreFromJaws is how much further out of the jaws the work would have
// to stand for 3 mm: 0 where they are there, nil where 500 mm do not help. Where
// Moved says so, that is done and the clearance is what it has then. FromJaws is
// where the taper stands once the work is turned end for end.
type Alternative struct {
	Change Change   `json:"change"`
	Say    say.Text `json:"say" show:"what to do"`
	Arrangement
	Moved        bool          `json:"moved"`
	FromJaws     *units.Length `json:"from_jaws_mm,omitempty"`
	Clearance    *units.Length `json:"clearance_mm" show:"clearance" as:"down"`
	MoreFromJaws *units.Length `json:"more_from_jaws_mm" show:"further out" as:"up"`

	parts int // of the arrangement that are changed
}

// Stays reports whether the work stays as it is held: only then is the place
// with the alternative's Arrangement the whole change.
func (a Alternative) Stays() bool { return !a.Moved && a.Change != TurnWork }

// Held returns how to hold the tool with the work left where it is: the first of
// the alternatives that is a plain arrangement, else the first with the post
// turned by an angle, or the tool or the barrel set further out or in.
func (c Finding) Held() (a Arrangement, ok bool) {
	for _, plain := range []bool{true, false} {
		for _, a := range c.Alternatives {
			if a.Stays() && a.Plain() == plain {
				return a.Arrangement, true
			}
		}
	}
	return Arrangement{}, false
}

// Plain reports whether an arrangement is said by its four words alone.
func (a Arrangement) Plain() bool {
	return a.PostTurned == nil && a.Overhang == nil && a.BarrelOut == nil
}

// alternatives returns what clears, the least trouble first.
func (in Input) alternatives(now Arrangement) []Alternative {
	list := []Alternative{}
	add := func(found ...Alternative) {
		for _, a := range found {
			a.Say = in.sentence(now, a)
			list = append(list, a)
		}
	}
	as := in.stands(NoChange, now)
	add(in.settled(as)...)
	if in.Lathe.ToolPost != nil && !in.easy(now) {
		add(in.turnedPost(now)...)
		add(in.movedTool(now)...)
		add(in.movedBarrel(now)...)
	}
	for _, a := range in.combinations(now) {
		other := in.stands(in.changeTo(now, a), a)
		other.parts = changed(now, a)
		add(in.settled(other)...)
	}
	add(in.endForEnd(now)...)
	slices.SortStableFunc(list, compare)
	return list
}

// compare puts the least trouble first: the change, then what need not be moved
// as well, then the fewest parts changed, the least move and the most clearance.
func compare(a, b Alternative) int {
	rank := func(a Alternative) (class, move, parts, more, lacks float64) {
		class, parts = float64(slices.Index(trouble, a.Change)), float64(a.parts)
		if a.Moved {
			class = max(class, float64(slices.Index(trouble, MoveWork)))
			move, more = 1, a.MoreFromJaws.MM()
		}
		if a.Clearance != nil {
			lacks = -a.Clearance.MM()
		}
		return class, move, parts, more, lacks
	}
	c1, v1, p1, m1, l1 := rank(a)
	c2, v2, p2, m2, l2 := rank(b)
	return cmp.Or(cmp.Compare(c1, c2), cmp.Compare(v1, v2), cmp.Compare(p1, p2), cmp.Compare(m1, m2), cmp.Compare(l1, l2))
}

// changed counts what differs of two arrangements.
func changed(a, b Arrangement) (n int) {
	for _, differs := range []bool{
		a.ToolHand != b.ToolHand, a.PostSide != b.PostSide, a.PostTurn != b.PostTurn, a.Handle != b.Handle,
	} {
		if differs {
			n++
		}
	}
	return n
}

// changeTo names what leads from one arrangement to another.
func (in Input) changeTo(now, a Arrangement) Change {
	switch {
	case a.Handle != now.Handle:
		return TurnSlide
	case a.ToolHand != now.ToolHand || a.PostSide != now.PostSide:
		return OtherTool
	}
	return TurnPost
}

// combinations returns every other way to hold the tools there are; where none
// is known, the one that is assumed.
func (in Input) combinations(now Arrangement) (list []Arrangement) {
	for _, hand := range []Hand{Right, Left, Neutral} {
		if !Owns(in.Lathe.Tools, hand) && (len(in.Lathe.Tools) > 0 || hand != now.ToolHand) {
			continue
		}
		sides, handles := Sides, Handles
		if in.Lathe.ToolPost == nil {
			sides, handles = []Side{now.PostSide}, []Handle{now.Handle}
		}
		for _, side := range sides {
			for _, turn := range Turns {
				for _, handle := range handles {
					a := now
					a.ToolHand, a.PostSide, a.PostTurn, a.Handle = hand, side, turn, handle
					if turn == WithSlide {
						a.PostTurned = nil
					}
					if changed(now, a) > 0 && (handle == now.Handle || in.handRoom(a)) {
						list = append(list, a)
					}
				}
			}
		}
	}
	return list
}

// stands returns an arrangement as it stands. Its clearance is nil where there is
// nothing to check.
func (in Input) stands(change Change, a Arrangement) Alternative {
	out, pairs := Alternative{Change: change, Arrangement: a}, in.pairs(a)
	out.Clearance, _, _ = least(pairs, 0)
	out.MoreFromJaws = moreOut(pairs)
	return out
}

// clears reports whether no edge of the tool is short.
func (a Alternative) clears(in Input) bool { return in.short(a.Arrangement) == nil }

// settled returns an arrangement if it fouls nothing, and as it is further out of
// the jaws if that is what makes it clear by 3 mm.
func (in Input) settled(a Alternative) (list []Alternative) {
	if !a.clears(in) {
		return nil
	}
	if a.Clearance == nil || a.Clearance.MM() >= -fine {
		list = append(list, a)
	}
	if a.MoreFromJaws != nil && a.MoreFromJaws.Sign() > 0 {
		a.Moved = true
		if a.Change == NoChange {
			a.Change = MoveWork
		}
		a.Clearance, _, _ = least(in.pairs(a.Arrangement), a.MoreFromJaws.MM())
		list = append(list, a)
	}
	return list
}

// easy reports whether an arrangement clears everything by 3 mm.
func (in Input) easy(a Arrangement) bool { return in.clear(a, tight-fine) }

// clear reports whether an arrangement clears everything by so much.
func (in Input) clear(a Arrangement, by float64) bool {
	return in.short(a) == nil && !slices.ContainsFunc(in.pairs(a), func(p pair) bool { return !p.clear(by, 0) })
}

// nearestThat returns the value nearest to 0, within what is allowed either way,
// that serves: found by steps and then between the last two, to a millionth, from
// the far side so that what is returned serves.
func nearestThat(most, step float64, serves func(v float64) bool) (v float64, ok bool) {
	for n := 1.0; n*step <= most+fine; n++ {
		for _, way := range []float64{1, -1} {
			if !serves(way * n * step) {
				continue
			}
			lo, hi := (n-1)*step, n*step
			for hi-lo > step/1e6 {
				if mid := (lo + hi) / 2; serves(way * mid) {
					hi = mid
				} else {
					lo = mid
				}
			}
			if even := math.Ceil(hi*100-fine) / 100; serves(way * even) { // as it is said
				hi = even
			}
			return way * hi, true
		}
	}
	return 0, false
}

// turnedPost returns the least turn of a square post that clears by 3 mm.
func (in Input) turnedPost(now Arrangement) []Alternative {
	const step = 1.0 // deg
	if now.PostTurn == WithSlide {
		return nil
	}
	turned := func(deg float64) Arrangement {
		a := now
		a.PostTurned = new(units.Degrees(deg))
		return a
	}
	most := practice.PostTurn.Angle().Deg()
	deg, ok := nearestThat(most, step, func(deg float64) bool { return in.easy(turned(deg)) })
	if !ok {
		return nil
	}
	out := in.stands(TurnPost, turned(deg))
	return []Alternative{out}
}

// movedTool returns the least move of the tool in its holder, out or in, that
// clears by 3 mm.
func (in Input) movedTool(now Arrangement) []Alternative {
	const step = 1.0 // mm
	over := in.Lathe.ToolPost.Overhang.MM()
	if now.Overhang != nil {
		over = now.Overhang.MM()
	}
	moved := func(mm float64) Arrangement {
		a := now
		a.Overhang = new(units.FromFloat(over + mm))
		return a
	}
	most, left := practice.ToolOut.Length().MM(), practice.ToolLeast.Length().MM()
	mm, ok := nearestThat(most, step, func(mm float64) bool { return over+mm >= left && in.easy(moved(mm)) })
	if !ok {
		return nil
	}
	out := in.stands(MoveTool, moved(mm))
	return []Alternative{out}
}

// movedBarrel returns the least that the tailstock's barrel is run out further,
// to clear by 3 mm.
func (in Input) movedBarrel(now Arrangement) []Alternative {
	const step = 1.0 // mm
	t := in.Lathe.Tailstock
	if in.CentreAt == nil || t == nil || t.BarrelOut == nil {
		return nil
	}
	moved := func(mm float64) Arrangement {
		a := now
		a.BarrelOut = new(units.FromFloat(t.BarrelOut.MM() + mm))
		return a
	}
	mm, ok := nearestThat(practice.BarrelMore.Length().MM(), step, func(mm float64) bool {
		return mm > 0 && in.easy(moved(mm))
	})
	if !ok {
		return nil
	}
	out := in.stands(MoveBarrel, moved(mm))
	return []Alternative{out}
}

// handRoom reports whether a hand has room at the slide's handle all the way:
// 40 mm from it to anything. Without the handle's size it is asked of the end of
// the slide.
func (in Input) handRoom(a Arrangement) bool {
	_, below := in.bodies(a)
	if len(below) == 0 {
		return false
	}
	grip := below[len(below)-1]
	if grip.Name == "slide" {
		c, h := in.Lathe.Compound, in.holding(a)
		middle := geom.Point{X: h.post + h.side/2, Y: h.over + h.side/2}.Turned(in.turned(a))
		s := in.swing()
		if a.Handle == Reversed {
			s += math.Pi
		}
		end := geom.Point{X: c.Length.MM() - c.Width.MM()/2}
		grip.Shape = geom.Circle(middle.Plus(end.Turned(s), 1), 0)
	}
	top, room := in.Lathe.Compound.TopBelowCentre.MM(), practice.HandRoom.Length().MM()
	for _, o := range slices.Concat(in.obstacles(a, top), in.work(top)) {
		if p := (pair{grip, o, in.path(overrun)}); !p.clear(room, 0) {
			return false
		}
	}
	return true
}

// endForEnd returns the work turned round in the chuck: the first way of holding
// the tool that clears then, with the taper as near to the jaws as it may be.
// Work that is held by a centre is not turned: where the centre would stand is
// not known. Where the rest of the work is known, enough of it must be left to be
// held.
func (in Input) endForEnd(now Arrangement) []Alternative {
	if in.CentreAt != nil || in.Lathe.ToolPost == nil {
		return nil
	}
	round := in
	round.Head, round.Tail = in.Tail, in.Head
	round.FromJaws = new(units.Length)
	most := farOut
	if in.Work != nil {
		end := in.FromJaws.MM() + in.Length.MM()
		round.Work = in.Work.Moved(-end).Mirrored()
		free := in.Work[len(in.Work)-1].Z - end // what stands beyond the taper
		dia := in.Work[len(in.Work)-1].Dia
		most = free - max(practice.GripLeast.Length().MM(), practice.GripPart.Number()*dia)
	}
	if most < 0 {
		return nil
	}
	a := now
	a.PostTurned, a.Overhang = in.PostTurned, in.Overhang
	a.Handle = Normal
	if (Arrangement{Handle: in.Handle}).Reverses(in.HalfAngle, round.grows()) {
		a.Handle = Reversed
	}
	for _, hand := range append([]Hand{now.ToolHand}, Right, Left) {
		if a.ToolHand = hand; hand != now.ToolHand && !Owns(in.Lathe.Tools, hand) {
			continue
		}
		out := round.stands(TurnWork, a)
		if !out.clears(round) || out.Clearance == nil || out.MoreFromJaws == nil || out.MoreFromJaws.MM() > most {
			continue
		}
		more := *out.MoreFromJaws
		out.Clearance, _, _ = least(round.pairs(a), more.MM())
		out.FromJaws, out.MoreFromJaws = &more, new(units.Length)
		return []Alternative{out}
	}
	return nil
}

// sentence says what is to be done otherwise than now.
func (in Input) sentence(now Arrangement, a Alternative) say.Text {
	what := in.change(a)
	if a.ToolHand != now.ToolHand || a.PostSide != now.PostSide {
		with := say.Text(", with a ")
		if a.Change == OtherTool {
			with = "use a "
		}
		what = say.Of(what, with, a.Arrangement, " on the post's ", a.side())
	}
	if a.PostTurn != now.PostTurn && a.Change != TurnPost {
		what = say.Of(what, ", post ", a.Post())
	}
	if a.Moved && a.Change != MoveWork {
		what = say.Of(what, ", and stand the work ", a.MoreFromJaws.Up(), " further out of the jaws")
	}
	return what
}

// change says the change itself; another tool is said by what it is.
func (in Input) change(a Alternative) say.Text {
	switch a.Change {
	case NoChange:
		return "leave it as it stands"
	case TurnPost:
		if a.PostTurned != nil {
			return say.Of("turn the post ", turnedBy(*a.PostTurned), ", seen from above")
		}
		if a.PostTurn == WithSlide {
			return "turn the post with the slide"
		}
		return "stand the post square to the work"
	case MoveTool:
		was := in.Lathe.ToolPost.Overhang
		if in.Overhang != nil {
			was = *in.Overhang
		}
		if a.Overhang.Less(was) {
			return say.Of("set the tool back to stand ", a.Overhang, " beyond the post, not ", was)
		}
		return say.Of("let the tool out to stand ", a.Overhang, " beyond the post, not ", was)
	case MoveWork:
		return say.Of("stand the work ", a.MoreFromJaws.Up(), " further out of the jaws")
	case MoveBarrel:
		return say.Of("run the tailstock's barrel out to ", a.BarrelOut, ", not ", in.Lathe.Tailstock.BarrelOut)
	case TurnSlide:
		return say.Of("turn the slide round, handle ", a.Handle)
	case TurnWork:
		return say.Of("turn the work end for end, the taper ", a.FromJaws.Up(), " from the jaws")
	}
	return ""
}

// onSheet is how many alternatives a sheet has unless all are asked for.
const onSheet = 3

// List puts what would clear on a sheet, under a heading.
func (c *Finding) List(s *sheet.Sheet, heading ...any) {
	list, left := c.Alternatives, say.Text("")
	if n := len(list); n == 0 {
		s.Note("Nothing that was tried clears it: the post turned, the tool or the barrel further out, the work further out ",
			"of the jaws, another tool or side, the slide or the work the other way round.")
		return
	} else if n > onSheet && !c.all {
		list = list[:onSheet]
		left = say.Of("; ", say.Key("all"), " lists all ", n)
	}
	s.Table(list, append(heading, left)...).Without("tool_hand", "post_side", "post_turn", "handle")
}
