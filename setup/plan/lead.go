package plan

import (
	"math"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/walls"
)

// A machine reamer cuts its size behind its lead: what is blind is drilled deeper than it is
// drawn by that, so that it has its size to the drawn depth.

// deeper says on the card of a drill how much deeper than drawn it goes for the reamer, and allows it.
func deeper(o *op.Op) {
	o.Set("deeper", practice.ReamerLead.Length(), "than it is drawn: there the reamer's lead stays")
	o.Allowed = append(o.Allowed, op.ReamerLead)
}

// reamable reports whether a bore may be reamed: it goes through, or the metal has room for
// the lead of the reamer below its floor.
func (j *job) reamable(b outline.Bore) bool {
	return b.Through || remembered(j.leadsFit, b.ID(), func() bool { return j.roomBelow(b) })
}

// roomBelow reports whether a blind bore may be drilled deeper by the lead of its reamer: what is
// left of the wall and of the floor is what usually is, or no less than in the bore as it is drawn; it
// comes no nearer to the bores of the other end, to what is threaded, or to a cross hole. A floor that a narrower bore
// goes on from is a shoulder, and stays where it is drawn.
func (j *job) roomBelow(b outline.Bore) bool {
	lead, least := practice.ReamerLead.Length(), j.usualWall()
	deep := b.Span.Length().Plus(lead)
	if j.shape.Length.Cmp(deep) <= 0 {
		return false
	}
	below := j.shape.FromEnd(b.From, deep)
	for _, x := range j.shape.Bores { // its floor is a shoulder, which has its place
		if x.ID() != b.ID() && x.Span.Overlaps(below) {
			return false
		}
	}
	wall := func(s op.Span) units.Length { return j.core(s).Minus(b.Dia).Half() }
	if wall(below).Less(units.Min(least, wall(b.Span))) || wall(below).Sign() <= 0 {
		return false
	}
	floor := j.floorBelow(b, b.Dia).Minus(lead)
	if floor.Less(least) || floor.Less(j.opposite(b).Plus(least)) && j.opposite(b).Sign() > 0 {
		return false
	}
	for _, x := range j.shape.Threads {
		if x.Inside && x.Span.Overlaps(below) && !x.Span.Overlaps(b.Span) {
			return false
		}
	}
	return j.wallsKept(func(in *walls.Input) { in.Part.Round.Bores[b.N-1].Depth = b.Depth.Plus(lead) })
}

// usualWall returns the least wall that is written, or the usual one.
func (j *job) usualWall() units.Length {
	switch {
	case j.block != nil && j.block.MinWall != nil:
		return *j.block.MinWall
	case j.round != nil && j.round.MinWall != nil:
		return *j.round.MinWall
	}
	return practice.LeastWall.Length(nil)
}

// reamableAcross is reamable of a cross hole. The far wall of a bore that it opens into, or the far side
// of the bar, is left as thick as a wall usually is below the point of its drill.
func (j *job) reamableAcross(h outline.Hole) bool {
	return h.Depth == nil || remembered(j.leadsFit, h.ID(), func() bool { return j.roomAcross(h) })
}

// roomAcross reports whether a blind hole across may be drilled deeper by the lead of its reamer.
func (j *job) roomAcross(h outline.Hole) bool {
	lead, at := practice.ReamerLead.Length(), about(h.Z, h.Dia)
	half := func(dia units.Length) float64 { // of what is drilled through, beside the axis by the offset
		r, off := dia.Half().MM(), h.Offset.MM()
		return math.Sqrt(max(0, r*r-off*off))
	}
	deep := h.Depth.Plus(lead).Plus(holes.PointLength(h.Dia, practice.PointAngle.Angle())).MM()
	left := 2*half(j.core(at)) - deep
	if left < j.usualWall().MM() {
		return false
	}
	top := half(j.shape.DiaAt(h.Z))
	for _, b := range j.shape.Bores {
		into := b.Span.Overlaps(at) && top-(deep-lead.MM()) < half(b.Dia)
		if into && top-deep < -half(b.Dia) && half(b.Dia) > 0 {
			return false
		}
	}
	if h.Row > 0 {
		return j.wallsKept(func(in *walls.Input) {
			in.Part.Round.Rows[h.Row-1].Depth = new(h.Depth.Plus(lead))
		})
	}
	return j.wallsKept(func(in *walls.Input) { in.Part.Round.Holes[h.N-1].Depth = new(h.Depth.Plus(lead)) })
}

// wallsKept reports whether every wall of the cross holes that is thick enough stays so when the part
// is changed, and no other gets thinner.
func (j *job) wallsKept(change func(in *walls.Input)) bool {
	if len(j.shape.Holes) == 0 {
		return true
	}
	in := walls.Input{Name: j.Part.Name, Part: j.Part, Reliefs: j.reliefs()}
	was, err := walls.Check(in)
	if err != nil {
		return false
	}
	p, round := *j.Part, *j.round
	round.Bores, round.Holes, round.Rows = slices.Clone(round.Bores), slices.Clone(round.Holes), slices.Clone(round.Rows)
	p.Round, in.Part = &round, &p
	change(&in)
	is, err := walls.Check(in)
	if err != nil || len(is.Fails()) > len(was.Fails()) {
		return false
	}
	return !slices.ContainsFunc(is.Thin, func(t walls.Thin) bool {
		return !slices.ContainsFunc(was.Thin, func(u walls.Thin) bool {
			return u.N == t.N && u.Wall == t.Wall && u.Value.Cmp(t.Value) <= 0
		})
	})
}

// roomForLead is a blind bore or hole that is through, or less deep, where a reamer on hand has its size
// and its lead finds no room.
func roomForLead(c *cause) {
	lead := practice.ReamerLead.Length()
	if b := c.bore(); b != nil && !b.Through && !c.reamable(*b) && c.reamerOf(b.Dia, c.limits.Bore(*b)) != nil {
		c.draws(func(r *part.Round) { r.Bores[b.N-1].Through, r.Bores[b.N-1].Depth = true, c.shape.Length },
			c.named(b), " right through")
		c.sized(lead, halves, func(by units.Length) trial { return c.deep(b, c.down(b.Depth.Minus(by), halves)) })
		return
	}
	if h := c.blockHole(); h != nil {
		roomInBlock(c, h)
		return
	}
	h := c.hole()
	if h == nil || h.Depth == nil || c.reamableAcross(*h) || c.reamerOf(h.Dia, c.limits.Hole(*h)) == nil {
		return
	}
	place, set := say.Of("hole ", h.N), func(r *part.Round, deep *units.Length) { r.Holes[h.N-1].Depth = deep }
	if h.Row > 0 {
		place, set = say.Of("row ", h.Row), func(r *part.Round, deep *units.Length) { r.Rows[h.Row-1].Depth = deep }
	}
	c.draws(func(r *part.Round) { set(r, nil) }, place, " right through")
	c.sized(lead, halves, func(by units.Length) trial {
		less := c.down(h.Depth.Minus(by), halves)
		if less.Sign() <= 0 {
			return trial{}
		}
		return redrawn(func(r *part.Round) { set(r, &less) }, place, " ", less, " deep in place of ", *h.Depth)
	})
}

// roomInBlock is roomForLead of a hole of a block.
func roomInBlock(c *cause, h *drilling) {
	if h.Depth == nil || c.reamableInto(*h) || c.reamerOf(h.Dia, c.limits.BlockHole(h.n)) == nil {
		return
	}
	deep := func(depth *units.Length, pieces ...any) trial {
		return trial{say: say.Of(pieces...), change: func(in *Input) { in.Part.Block.Holes[h.n-1].Depth = depth }}
	}
	c.offer(deep(nil, "hole ", h.n, " right through"))
	c.sized(practice.ReamerLead.Length(), halves, func(by units.Length) trial {
		less := c.down(h.Depth.Minus(by), halves)
		if less.Sign() <= 0 {
			return trial{}
		}
		return deep(&less, "hole ", h.n, " ", less, " deep in place of ", *h.Depth)
	})
}
