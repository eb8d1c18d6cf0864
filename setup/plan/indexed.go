package plan

import (
	"math"
	"math/big"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// Work that has holes or slots at several rolls need not be taken out for each where a dividing
// head or a collet block turns it: it is held by the bar as bought, the first end out, and is
// drilled and milled at every roll in one set-up.

// indexWays returns the ways in which what is cut across the bar is indexed, each only where the
// instrument is owned: there are several rolls, the bar is round, and the faces of a collet block
// come to every roll.
func (j *job) indexWays() []way { return j.indexing(j.ways) }

// indexing returns ways to hold the part, those in which it lies as the bar was bought, as they are indexed.
func (j *job) indexing(ways func() []way) []way {
	rolls := j.rolls()
	if j.Shop.Mill == nil || len(rolls) < 2 || j.sides() > 0 {
		return nil
	}
	var more []way
	add := func(d op.Device) {
		for _, w := range ways() {
			if w.lies == onBar {
				w.indexed = d
				more = append(more, w)
			}
		}
	}
	if _, ok := j.blockFor(rolls); ok && j.certifies.InCollet(op.LenOf(j.bar)) {
		add(op.ColletBlock)
	}
	if j.Shop.DividingHead != nil && j.Shop.Lathe.Chuck != nil {
		add(op.DividingHead)
	}
	return more
}

// rolls returns the rolls of the cross holes and the slots, each once.
func (j *job) rolls() []units.Angle {
	var list []units.Angle
	add := func(a units.Angle) {
		if !slices.Contains(list, a) {
			list = append(list, a)
		}
	}
	for _, h := range j.shape.Holes {
		add(h.Roll)
	}
	for _, s := range j.shape.Slots {
		add(s.Roll)
	}
	return list
}

// blockFor returns the collet block of the fewest faces that come to every roll and half round, from
// where deep holes are drilled too, false where no one that is owned does.
func (j *job) blockFor(rolls []units.Angle) (sides int, ok bool) {
	for _, n := range slices.Sorted(slices.Values(j.Shop.ColletBlocks)) {
		off := func(a units.Angle) bool { return !new(big.Rat).Mul(turnOf(a), big.NewRat(int64(n), 1)).IsInt() }
		if n%2 == 0 && !slices.ContainsFunc(rolls, off) {
			return n, true
		}
	}
	return 0, false
}

// turnOf returns an angle as a part of the circle, 0 or more and less than 1.
func turnOf(a units.Angle) *big.Rat {
	const parts = 360_000_000 // millionths of a degree
	n := int64(op.DegOf(a)) % parts
	if n < 0 {
		n += parts
	}
	return big.NewRat(n, parts)
}

// inIndex returns how the bar is held in what indexes it: where the lathe's jaws hold it first, which
// is clear of what is cut across it. Of a bar whose ends are both faced first there is no more than
// the part: it is drawn out until it ends in the jaws.
func (t *task) inIndex() work.Span {
	c := t.chuckings[0].setup
	held := c.Held.Length()
	if t.barEnds {
		held = op.LenOf(t.gripped(op.Chuck, t.bar))
	}
	if t.indexed == op.ColletBlock {
		held = min(held, op.LenOf(practice.GripColletMost.Length()))
	}
	if t.barEnds {
		return behind(inward(t.stubEnd(other(t.first)), -held, t.first), held, t.first)
	}
	return behind(c.Face(), held, t.first)
}

// besideIndex returns a place for the jaws' face, moved further inward where what is cut across the
// bar there asks for more room beside the jaws.
func (t *task) besideIndex(face op.Len) op.Len {
	if t.indexed == "" {
		return face
	}
	for _, z := range t.acrossTo() {
		clear := inward(op.LenOf(z), op.LenOf(practice.DrillBesideJaws.Length()), t.first)
		if t.first == part.Left {
			face = max(face, clear)
		} else {
			face = min(face, clear)
		}
	}
	return face
}

// barBehind returns how much of a bar that is no longer than the part, and what is faced off it, lies
// behind a place.
func (t *task) barBehind(face op.Len) units.Length {
	end := inward(t.stubEnd(other(t.first)), op.LenOf(practice.SawnFace.Length()), t.first)
	return max(end-face, face-end).Length()
}

// acrossTo returns where the drill and the cutter come to, for each hole and slot across the bar, at
// its inmost.
func (t *task) acrossTo() []units.Length {
	var list []units.Length
	for _, h := range t.shape.Holes {
		list = append(list, h.Z)
	}
	for _, s := range t.shape.Slots {
		if t.first == part.Left {
			list = append(list, s.Span.To.Minus(s.Width.Half()))
		} else {
			list = append(list, s.Span.From.Plus(s.Width.Half()))
		}
	}
	return list
}

// turnTo says how the work is turned to a roll, all from where the datum was scribed, so that
// nothing that is rounded adds up: by the faces of the block, or by the crank.
func (t *task) turnTo(o *op.Op, roll units.Angle) {
	turn, deg := turnOf(roll), sheet.Deg(roll)
	mark, stands := say.Text("the crank's hole"), say.Text("the crank where the roll datum was scribed")
	if t.indexed == op.ColletBlock {
		sides, _ := t.blockFor(t.rolls())
		mark = "the face of the block that is up"
		stands = say.Of("the face of the ", sides, " that was up for the roll datum")
	}
	switch {
	case o.Kind == op.Datum:
		o.Set("roll", deg, "every roll is counted from where it stands now: mark ", mark)
	case turn.Sign() == 0:
		o.Set("roll", deg, stands)
	default:
		o.Set("roll", deg, t.turnedBy(o, turn), " from the roll datum, the work ", t.clockwise(), t.oneWay())
	}
}

// clockwise says which way the work is turned to bring up what stands at a roll, which is counted
// counter-clockwise seen from the right end.
func (t *task) clockwise() say.Text {
	if t.first == part.Left {
		return "counter-clockwise as you look at its left end"
	}
	return "clockwise as you look at its right end"
}

// oneWay says how slack is kept out of the crank.
func (t *task) oneWay() say.Text {
	if t.indexed == op.ColletBlock {
		return ""
	}
	return "; past the hole: back half a turn and up again"
}

// turnedBy says by what the work is turned for a part of the circle: by faces of the block, or by the
// crank, which is checked to come near enough.
func (t *task) turnedBy(o *op.Op, turn *big.Rat) say.Text {
	if t.indexed == op.ColletBlock {
		sides, _ := t.blockFor(t.rolls())
		faces := new(big.Rat).Mul(turn, big.NewRat(int64(sides), 1))
		return say.Of(say.Count(faces.Num().Int64(), "face", "faces"), " of the ", sides, " on")
	}
	head := t.Shop.DividingHead
	one, ok := head.Set(turn)
	off := one.Error(head.Ratio)
	most := practice.RollWithin.Angle()
	told := sheet.Number{V: off.Deg(), Places: 4, Unit: "deg"}
	switch {
	case !ok:
		o.Check(problem.NotReachable, false, say.Text("a part of the circle"), say.Text("no plate of this head divides so"),
			"another plate")
		return ""
	case math.Abs(off.Deg()) > most.Deg():
		o.Check(problem.OutOfLimits, false, op.With(told, "off is the roll, on the best circle of this head"),
			op.With(sheet.Deg(most), "at the most"), "another plate, or V-blocks")
	}
	how := say.Of("crank on ", one)
	if shows := 0.00005; math.Abs(off.Deg()) >= shows { // at four places
		how += say.Of(" (no exact circle, ", told, " off)")
	}
	return how
}

// halfRound says how the work is turned half round, to drill from the other side.
func (t *task) halfRound(o *op.Op) say.Text {
	if t.indexed == "" {
		return say.Of("turn the bar half round in the ", o.Setup.Device)
	}
	return say.Of("turn it half round, ", t.turnedBy(o, big.NewRat(1, 2)), " more,")
}
