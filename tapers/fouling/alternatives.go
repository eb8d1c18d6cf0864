package fouling

import (
	"math"
	"slices"

	"setover/setup/base/geom"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
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
	LongerBar  Change = "bar-longer" // so that the centre stands further off
	GrindTool  Change = "grind"
	TurnSlide  Change = "handle"
	TurnWork   Change = "end-for-end"
)

var trouble = []Change{
	NoChange, TurnPost, MoveTool, MoveWork, MoveBarrel, OtherTool, LongerBar, GrindTool, TurnSlide, TurnWork,
}

// Alternative is a way that fouls nothing: the arrangement, and what else is
// changed. MoreFromJaws is how much further out of the jaws the work would have
// to stand for 3 mm: 0 where they are there, nil where 500 mm do not help. Where
// Moved says so, that is done and the clearance is what it has then. FromJaws is
// where the taper stands once the work is turned end for end, CentreAt where the
// centre stands once the bar is left longer, ToolTrail what the tool is ground to.
type Alternative struct {
	Change Change   `json:"change"`
	Say    say.Text `json:"say" show:"what to do"`
	Arrangement
	Moved        bool          `json:"moved"`
	FromJaws     *units.Length `json:"from_jaws_mm,omitempty"`
	CentreAt     *units.Length `json:"centre_at_mm,omitempty"`
	ToolTrail    *units.Angle  `json:"tool_trail_deg,omitempty"`
	Clearance    *units.Length `json:"clearance_mm" show:"clearance" as:"down"`
	MoreFromJaws *units.Length `json:"more_from_jaws_mm" show:"further out" as:"up"`

	farOut bool    // the tool stands out, or back, by more than is usual
	parts  int     // of the arrangement that are changed
	lacks  float64 // mm under the 3 that it was sought with
	inches inches
}

// Stays reports whether the work stays as it is held: only then is the place
// with the alternative's Arrangement the whole change.
func (a Alternative) Stays() bool {
	return !a.Moved && a.FromJaws == nil && a.CentreAt == nil && a.ToolTrail == nil
}

// wanted is the clearance that it was sought with, in mm.
func (a Alternative) wanted() float64 { return tight - a.lacks }

// tight reports whether it clears by less than is easy.
func (a Alternative) tight() bool { return a.Clearance != nil && a.Clearance.MM() < tight-fine }

// Held returns how to hold the tool with the work left where it is, so that it
// clears by least: the first of the alternatives that is a plain arrangement, else
// the first with the post turned by an angle, or the tool or the barrel set
// further out or in.
func (c Finding) Held(least units.Length) (a Arrangement, ok bool) {
	for _, plain := range []bool{true, false} {
		for _, a := range c.Alternatives {
			if a.Stays() && a.Plain() == plain && (a.Clearance == nil || least.Cmp(*a.Clearance) <= 0) {
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

// alternatives returns what clears, the least trouble first: as it stands and
// with the work further out, with one thing moved, every other way to hold the
// tools there are, and where these do not clear by 3 mm each of them with one
// thing moved as well; then two things moved. A tool that is ground for it and the
// work turned end for end come last.
//
// Each is put to the test as it would stand then before it is listed. A plan, which
// asks thousands of times and leaves the work where it stands, is spared what moves
// that and two things moved, and where a plain arrangement clears all that is moved
// (Brief).
func (in Input) alternatives(now Arrangement) []Alternative {
	list := []Alternative{}
	add := func(found ...Alternative) {
		for _, a := range found {
			if in.holds(now, a) {
				a.Say = in.sentence(now, a)
				list = append(list, a)
			}
		}
	}
	grave := slices.Index(trouble, LongerBar)
	easy := func() bool {
		return slices.ContainsFunc(list, func(a Alternative) bool { return !a.tight() && a.class() < grave })
	}
	add(in.settled(in.stands(NoChange, now))...)
	others := in.combinations(now)
	for _, a := range others {
		if in.short(a) == nil {
			add(in.settled(in.other(now, a))...)
		}
	}
	byTrouble := func(a, b Alternative) int { return in.compare(now, a, b) }
	if in.Brief && slices.ContainsFunc(list, func(a Alternative) bool { return a.Stays() && a.Plain() && !a.tight() }) {
		slices.SortStableFunc(list, byTrouble)
		return list
	}
	if in.Lathe.ToolPost != nil && !in.easy(now) {
		add(in.moved(now, now, 0, TurnPost, MoveTool, MoveBarrel)...)
	}
	if in.Lathe.ToolPost != nil && !in.Brief {
		in.together(now, others, add, easy)
	}
	if !in.Brief {
		add(in.endForEnd(now)...)
	}
	slices.SortStableFunc(list, byTrouble)
	return in.leastOf(now, list)
}

// leastOf drops what does all that another does, no less of it, and more.
func (in Input) leastOf(now Arrangement, list []Alternative) []Alternative {
	all := slices.Clone(list)
	return slices.DeleteFunc(list, func(a Alternative) bool {
		return slices.ContainsFunc(all, func(b Alternative) bool { return in.lessOf(now, b, a) })
	})
}

// lessOf reports whether an alternative moves nothing that another does not, each as far at the most and the same
// way, leaves one thing as it is that the other moves, and clears as easily.
func (in Input) lessOf(now Arrangement, a, b Alternative) bool {
	if changed(a.Arrangement, b.Arrangement) > 0 || a.FromJaws != nil || b.FromJaws != nil || a.ToolTrail != nil ||
		b.ToolTrail != nil || a.tight() && !b.tight() {
		return false
	}
	one, other, spared := in.moves(now, a), in.moves(now, b), false
	for i, most := range other {
		if one[i]*most < 0 || math.Abs(one[i]) > math.Abs(most)+fine {
			return false
		}
		spared = spared || one[i] == 0 && most != 0
	}
	return spared
}

// moves is by how much an alternative sets otherwise what can be set: the post in degrees, the rest in mm.
func (in Input) moves(now Arrangement, a Alternative) (by [5]float64) {
	const perDeg = math.Pi / 180
	by[0] = (in.turned(a.Arrangement) - in.turned(now)) / perDeg
	if a.Moved {
		by[1] = a.MoreFromJaws.MM()
	}
	if a.CentreAt != nil && in.CentreAt != nil {
		by[2] = a.CentreAt.Minus(*in.CentreAt).MM()
	}
	if in.Lathe.ToolPost != nil {
		by[3] = in.over(a.Arrangement).Minus(in.over(now)).MM()
	}
	if in.knowsBarrel(a.Arrangement) && in.knowsBarrel(now) {
		by[4] = in.barrelOut(a.Arrangement).Minus(in.barrelOut(now)).MM()
	}
	return by
}

// together adds what is moved with another arrangement, two things that are moved, and
// another edge ground, each where nothing before it is easy; two that are moved as it
// stands always, since little of both may be less trouble than much of one.
func (in Input) together(now Arrangement, others []Arrangement, add func(...Alternative), easy func() bool) {
	if !easy() {
		for _, a := range others {
			add(in.moved(now, a, 0, MoveTool, MoveBarrel, LongerBar)...)
		}
	}
	if !in.easy(now) {
		add(in.moved(now, now, 0, LongerBar)...)
		add(in.movedTwice(now, now, 0)...)
	}
	if !easy() {
		for _, a := range others {
			add(in.movedTwice(now, a, 0)...)
		}
	}
	in.tightly(now, others, add, easy)
	if in.rubs(now) {
		add(in.ground(now)...)
	}
}

// tightly adds what clears by less than 3 mm: as it stands with one thing moved, and
// where nothing is easy every other arrangement with one thing or two. It is sought by
// 2 mm and then by 1.
func (in Input) tightly(now Arrangement, others []Arrangement, add func(...Alternative), easy func() bool) {
	const mm = 1.0
	for lacks := mm; lacks < tight; lacks += mm {
		var list []Alternative
		for _, c := range []Change{TurnPost, MoveTool, MoveBarrel, LongerBar} {
			if !in.easy(now) && len(in.moved(now, now, 0, c)) == 0 {
				list = append(list, in.moved(now, now, lacks, c)...)
			}
		}
		if len(list) == 0 && !easy() {
			list = in.movedTwice(now, now, lacks)
			for _, a := range others {
				list = append(list, in.moved(now, a, lacks, MoveTool, MoveBarrel, LongerBar)...)
				list = append(list, in.movedTwice(now, a, lacks)...)
			}
		}
		list = slices.DeleteFunc(list, func(a Alternative) bool { return !a.tight() })
		if add(list...); len(list) > 0 {
			return
		}
	}
}

// other returns another arrangement as it stands.
func (in Input) other(now, a Arrangement) Alternative {
	out := in.stands(in.changeTo(now, a), a)
	out.parts = changed(now, a)
	return out
}

// holds reports whether an alternative clears as it would stand then: by 3 mm
// where something was moved for it, and with room for a hand where the slide is
// turned round.
func (in Input) holds(now Arrangement, a Alternative) bool {
	if a.Change == TurnWork { // was asked of the work that is turned
		return true
	}
	there, by := in.with(a), -fine
	if a.Moved || !a.Plain() || a.CentreAt != nil {
		by = a.wanted() - 2*fine
	}
	room := a.Handle == now.Handle || in.Lathe.ToolPost == nil || there.handRoom(a.Arrangement)
	return room && there.clear(a.Arrangement, by)
}

// with returns the question as it stands once an alternative is done.
func (in Input) with(a Alternative) Input {
	out := in
	out.Arrangement = a.Arrangement
	if a.Moved {
		out = out.further(*a.MoreFromJaws)
	}
	if a.CentreAt != nil {
		out.CentreAt = a.CentreAt
	}
	if a.ToolTrail != nil {
		out.Lathe.Tools = []shop.Tool{{Hand: string(a.ToolHand), Trail: *a.ToolTrail}}
	}
	return out
}

// further returns the question with the work further out of the jaws: the bar that
// comes out goes on as thick as it is there.
func (in Input) further(more units.Length) Input {
	in.FromJaws = new(in.FromJaws.Plus(more))
	if in.CentreAt != nil {
		in.CentreAt = new(in.CentreAt.Plus(more))
	}
	if len(in.Work) > 0 {
		was := in.Work[0].Z
		if in.Work = in.Work.Moved(more.MM()); was < fine && in.Work[0].Z > 0 {
			in.Work = append(Profile{{0, in.Work[0].Dia}}, in.Work...)
		}
	}
	return in
}

// class is how much trouble an alternative is: that of what of it is the most. The post
// and the tool in it set otherwise are as much as another tool, and so is a tool that
// stands far out.
func (a Alternative) class() int {
	class := slices.Index(trouble, a.Change)
	for c, done := range map[Change]bool{
		MoveWork: a.Moved, LongerBar: a.CentreAt != nil, MoveBarrel: a.BarrelOut != nil, MoveTool: a.Overhang != nil,
		OtherTool: a.Overhang != nil && a.PostTurned != nil || a.farOut,
	} {
		if done {
			class = max(class, slices.Index(trouble, c))
		}
	}
	return class
}

// farFetched is the number of things done otherwise from which on a tight way with one
// thing is the less trouble.
const farFetched = 3

// compare puts the least trouble first: what clears by 3 mm, then what is tight but
// asks for one thing alone, then what clears by 3 mm with three or more, then the rest
// that is tight; of these the change, then the fewest things that are changed, then
// what stands nearest to how it is: the least turn of the post, the least move of the
// work, and the most clearance. As it stands comes first, tight or not.
func (in Input) compare(now Arrangement, a, b Alternative) int {
	rank := func(a Alternative) [6]float64 {
		things, near, lacks := a.parts, 0.0, 0.0
		for _, moved := range []bool{
			a.Moved, a.CentreAt != nil, a.BarrelOut != nil && now.BarrelOut == nil,
			a.Overhang != nil && now.Overhang == nil, a.PostTurned != nil && now.PostTurned == nil,
		} {
			if moved {
				things++
			}
		}
		turn, more := math.Abs(in.turned(a.Arrangement)-in.turned(now)), 0.0
		if a.Moved {
			more = a.MoreFromJaws.MM()
		}
		if a.Clearance != nil {
			lacks = -a.Clearance.MM()
		}
		switch tight := a.tight() && a.Change != NoChange; {
		case tight && things > 1:
			near = 3
		case things >= farFetched:
			near = 2
		case tight:
			near = 1
		}
		return [6]float64{near, float64(a.class()), float64(things), turn, more, lacks}
	}
	x, y := rank(a), rank(b)
	return slices.Compare(x[:], y[:])
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
					if changed(now, a) > 0 {
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
	if !in.Brief {
		out.MoreFromJaws = moreOut(pairs, tight)
	}
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
		a.Clearance, _, _ = least(in.with(a).pairs(a.Arrangement), 0)
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

// rubs reports whether the tool itself is in the way: an edge is short, or the
// holder is met by the work.
func (in Input) rubs(a Arrangement) bool {
	return slices.ContainsFunc(in.fouls(a, in.pairs(a)), func(f Foul) bool {
		return f.Deg != nil || f.Body == "holder" && f.Obstacle == "work"
	})
}

// ground returns tools that would have to be ground, of each hand: the least trail
// in whole degrees with which it clears, no more than a tool can be ground to. One
// that is there as it is is not among them.
func (in Input) ground(now Arrangement) (list []Alternative) {
	if len(in.Lathe.Tools) == 0 {
		return nil
	}
	most := practice.TrailMost.Angle().Deg()
	for _, hand := range []Hand{Right, Left, Neutral} {
		a := now
		a.ToolHand = hand
		if Owns(in.Lathe.Tools, hand) && in.easy(a) {
			continue
		}
		trail := practice.UsualTrail.Angle().Deg()
		switch {
		case Owns(in.Lathe.Tools, hand):
			trail = math.Floor(trailOf(in.Lathe.Tools, hand)) + 1
		case hand == Neutral:
			trail = practice.PointedTrail.Angle().Deg()
		}
		for ; trail <= most; trail++ {
			out := Alternative{
				Change: GrindTool, Arrangement: a, ToolTrail: new(units.Degrees(trail)), MoreFromJaws: new(units.Length),
				parts: changed(now, a),
			}
			if in.holds(now, out) {
				out = in.cleared(out)
				out.MoreFromJaws = moreOut(in.with(out).pairs(a), tight)
				list = append(list, out)
				break
			}
		}
	}
	return list
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
	top, room := in.Lathe.Compound.TopBelowCentre.MM(), practice.HandRoom.Length(units.MM).MM()
	for _, o := range slices.Concat(in.obstacles(a, top), in.work(top)) {
		if p := (pair{body: grip, obstacle: o, way: in.path(overrun)}); !p.clear(room, 0) {
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
	round, most := in.round()
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
		if out, ok := round.asNear(a, most); ok {
			return []Alternative{out}
		}
	}
	return nil
}

// round returns the question with the work turned end for end, the taper at the
// jaws, and how far out it may stand so that enough is held.
func (in Input) round() (round Input, most float64) {
	round = in
	round.Head, round.Tail, round.Bar = in.Tail, in.Head, nil
	round.FromJaws = new(units.Length)
	if in.Work == nil {
		return round, farOut
	}
	end := in.FromJaws.MM() + in.Length.MM()
	round.Work = in.Work.Moved(-end).Mirrored()
	free := in.Work[len(in.Work)-1].Z - end // what stands beyond the taper
	dia := in.Work[len(in.Work)-1].Dia
	return round, free - max(practice.GripLeast.Length().MM(), practice.GripPart.Number()*dia)
}

// asNear returns an arrangement for work that is turned end for end, as near to the
// jaws as it clears; ok is false where that is further out than it may be.
func (in Input) asNear(a Arrangement, most float64) (out Alternative, ok bool) {
	out = in.stands(TurnWork, a)
	if !out.clears(in) || out.Clearance == nil || out.MoreFromJaws == nil || out.MoreFromJaws.MM() > most {
		return out, false
	}
	more := *out.MoreFromJaws
	there := in.further(more)
	out.Clearance, _, _ = least(there.pairs(a), 0)
	out.FromJaws, out.MoreFromJaws = &more, new(units.Length)
	return out, (a.Handle != Reversed || there.handRoom(a)) && there.clear(a, tight-2*fine)
}
