package certify

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// Complete returns what is wrong with a whole plan, its operations in their order
// and the work as they leave it: a feature that no operation brings to its final
// size or that two do, work that is not the drawing within its limits, a feature
// that has no place on the drawing, and a centre hole where none may stay. The
// key of each is the feature's id.
func Complete(j *Job, ops []*op.Op, final work.State) problem.List {
	if j.Shape == nil {
		return nil
	}
	c := completing{Job: j, ops: ops, final: final, made: map[string][]*op.Op{}}
	for _, o := range ops {
		for _, id := range o.Makes {
			c.made[id] = append(c.made[id], o)
		}
	}
	c.list = append(c.list, j.Shape.Unfit()...)
	c.outside()
	c.faces()
	for _, b := range j.Shape.Bores {
		c.bore(b)
	}
	c.across()
	for _, f := range j.Shape.Facets {
		c.facets(f)
	}
	for n := range j.chamfers {
		c.once(outline.ChamferID(n+1), false)
	}
	for _, t := range j.Shape.Threads {
		c.thread(t)
	}
	return c.list
}

// completing is a whole plan while it is looked through.
type completing struct {
	*Job
	ops   []*op.Op
	final work.State
	made  map[string][]*op.Op
	list  problem.List
}

func (c *completing) no(id string, want ...any) {
	c.list.Add(problem.New(problem.Complete, id, nil, want...))
}

// once reports whether one operation makes a feature. One that the bar is bought
// with needs none.
func (c *completing) once(id string, bought bool) bool {
	switch list := c.made[id]; {
	case len(list) == 1, len(list) == 0 && bought:
		return true
	case len(list) == 0:
		c.no(id, "no operation brings it to its final size")
	default:
		c.no(id, "brought to its final size by ", list[0].ID, " and again by ", list[1].ID)
	}
	return false
}

// outside looks at every stretch, and at the size of the whole outside.
func (c *completing) outside() {
	sound := true
	for _, s := range c.Shape.Stretches {
		bought := false // somewhere on it the bar is as it was: a chamfer or a relief may be cut in it
		for _, p := range c.final.Over(spanOf(s.Span)) {
			bought = bought || p.Stage == work.Bought
		}
		sound = c.once(s.ID(), bought) && sound
	}
	if !sound {
		return
	}
	k := checker{Case: Case{Job: c.Job}}
	told := map[string]bool{}
	for _, loose := range []bool{false, true} {
		for _, x := range c.segments {
			if x.loose != loose {
				continue
			}
			for _, p := range c.final.Over(x.Span) {
				c.measure(k, x, p, told)
			}
		}
	}
}

// measure adds what is wrong with a piece of the outside on a segment of the
// drawing, each stretch once.
func (c *completing) measure(k checker, x segment, p work.Piece, told map[string]bool) {
	for _, z := range []work.Len{p.From, middle(p.Span), p.To} {
		is, least, most := within(p, z), x.at(x.least, z), x.at(x.most, z)
		if is >= least-fine && is <= most+fine || is < least && k.usual(everything, z, is, least) {
			continue
		}
		id := ""
		for _, s := range c.Shape.Stretches {
			if spanOf(s.Span).Overlaps(p.Span) {
				id = s.ID()
			}
		}
		if !told[id] {
			told[id] = true
			c.no(id, "is ", is.Length(), " at z ", z.Length(), ", and the drawing wants ", least.Length().Up(), " to ",
				most.Length().Down())
		}
	}
}

// faces looks at the faces and the length.
func (c *completing) faces() {
	for i, end := range []part.End{part.Left, part.Right} {
		id := outline.FaceID(end)
		z, e := c.final.Reach(end), c.final.EndAt(end)
		switch s := c.ends[i]; {
		case len(c.made[id]) > 1:
			c.once(id, false)
		case !e.Faced:
			c.no(id, "is left as it was sawn")
		case z < s.From-fine || z > s.To+fine:
			c.no(id, "stands at z ", z.Length(), ", and the drawing wants z ", s.From.Length(), " to ", s.To.Length())
		case c.Centres == part.RemoveCentres && e.Centre != nil:
			c.centred(end)
		}
	}
	long, d := c.final.Span().Length(), c.Limits.Length()
	if long < op.LenOf(d.Low)-fine || long > op.LenOf(d.High)+fine {
		c.no(outline.WholeLength, "is ", long.Length(), ", and the drawing wants ", d.Low.Up(), " to ", d.High.Down())
	}
}

// centred says which step leaves a centre hole in an end where none may stay.
func (c *completing) centred(end part.End) {
	id, what := outline.FaceID(end), say.Text("")
	for n, o := range c.ops {
		for _, r := range o.Removes {
			if x, ok := r.(work.Centre); ok && x.End == end {
				what = say.Of("step ", n+1, ", ", o.Name)
			}
		}
	}
	c.list.Add(problem.New(problem.Complete, id, what, "leaves a centre hole in the ", end,
		" end, and none may stay (centres)"))
}

// bore looks at a bore where no wider one of the drawing is.
func (c *completing) bore(b outline.Bore) {
	if !c.once(b.ID(), c.final.Bore(op.LenOf(b.Span.From.Plus(b.Span.To).Half())) > 0 && c.bought(b)) {
		return
	}
	d, own := c.Limits.Bore(b), spanOf(b.Span)
	for _, o := range c.Shape.Bores {
		if s := coned(o, b.Dia); b.Dia.Less(o.Dia) && s.Overlaps(own) {
			if s.From <= own.From {
				own.From = max(own.From, s.To)
			} else {
				own.To = min(own.To, s.From)
			}
		}
	}
	if own.Length() <= 0 { // the point of the wider one's drill leaves nothing of its wall
		return
	}
	if is := c.final.Bore(middle(own)); is < op.LenOf(d.Low)-fine || is > op.LenOf(d.High)+fine {
		c.no(b.ID(), "is ", is.Length(), ", and the drawing wants ", d.Low.Up(), " to ", d.High.Down())
		return
	}
	if !b.Through {
		c.floor(b, d)
	}
}

// coned returns where a bore is wider than a diameter, with what the point of its
// drill makes so below its depth.
func coned(b outline.Bore, than units.Length) work.Span {
	s := spanOf(b.Span)
	if b.Through || b.Dia.Cmp(than) <= 0 {
		return s
	}
	point := op.LenOf(holes.ConeDepth(b.Dia, than, practice.PointAngle.Angle()))
	if b.From == part.Right {
		s.From -= point
	} else {
		s.To += point
	}
	return s
}

// floor looks at the depth of a bore of a size: of the widest that is of it, since what begins it
// may go deeper for a reamer's lead.
func (c *completing) floor(b outline.Bore, d limits.Dimension) {
	deep, wide, depth := work.Len(0), work.Len(0), c.Limits.BoreDepth(b)
	for _, x := range c.final.Bores {
		switch {
		case x.From != b.From || x.Dia < max(wide, op.LenOf(d.Low)-fine) || x.Dia > op.LenOf(d.High)+fine:
		case x.Dia > wide:
			deep, wide = x.Depth, x.Dia
		default:
			deep = max(deep, x.Depth)
		}
	}
	if deep < op.LenOf(depth.Low)-fine || deep > op.LenOf(depth.High)+fine {
		c.no(b.ID(), "is ", deep.Length(), " deep, and the drawing wants ", depth.Low.Up(), " to ", depth.High.Down())
	}
}

// bought reports whether a bore is that of the tube.
func (c *completing) bought(b outline.Bore) bool {
	return b.Through && len(c.final.Bores) > 0 && c.final.Bores[0].Through
}

// across looks at the holes and the slots.
func (c *completing) across() {
	k := checker{Case: Case{Job: c.Job}}
	done := map[int]work.Len{}
	for _, h := range c.final.Cross {
		if d := k.hole(h); d != nil {
			done[d.N] = max(done[d.N], h.Dia)
		}
	}
	for _, h := range c.Shape.Holes {
		id := h.ID()
		if len(c.made[id]) == 0 && h.Row > 0 {
			id = outline.RowID(h.Row)
		}
		if !c.once(id, false) {
			continue
		}
		if d, is := c.Limits.Hole(h), done[h.N]; is < op.LenOf(d.Low)-fine {
			c.no(h.ID(), "is ", is.Length(), ", and the drawing wants ", d.Low.Up(), " to ", d.High.Down())
		}
	}
	for _, x := range c.Shape.Slots {
		if !c.once(x.ID(), false) {
			continue
		}
		found := false
		for _, s := range c.final.Slots {
			found = found || spanOf(x.Span).Overlaps(work.Span{From: s.From, To: s.To})
		}
		if !found {
			c.no(x.ID(), "is not there at the end")
		}
	}
}

// facets looks at the size across the flats.
func (c *completing) facets(f outline.Facets) {
	if !c.once(f.ID(), false) {
		return
	}
	for _, s := range c.Shape.Stretches {
		if s.Facets == nil || s.Facets.N != f.N {
			continue
		}
		z := middle(spanOf(s.Span))
		is, ok := c.final.AcrossFlats(z)
		left, right := c.Limits.Flats(s, part.Left), c.Limits.Flats(s, part.Right)
		least := (op.LenOf(left.Low) + op.LenOf(right.Low)) / 2
		most := (op.LenOf(left.High) + op.LenOf(right.High)) / 2
		if !ok || is < least-fine || is > most+fine {
			c.no(f.ID(), "is ", is.Length(), " across flats at z ", z.Length(), ", and the drawing wants ",
				least.Length().Up(), " to ", most.Length().Down())
			return
		}
	}
}

// thread looks at a thread and at what it sits on.
func (c *completing) thread(t outline.Thread) {
	if !c.once(t.ID(), false) {
		return
	}
	found := 0
	for _, x := range c.final.Threads {
		s := work.Span{From: x.From, To: x.To}
		if x.Inside == t.Inside && x.Spec == t.Spec && s.Overlaps(spanOf(t.Span)) {
			found++
			if !x.Inside && len(c.final.Over(s)) > 0 && !c.single(s) {
				c.no(t.ID(), "lies on more than one surface")
			}
		}
	}
	if found != 1 {
		c.no(t.ID(), "is there ", say.Count(found, "time", "times"), " at the end")
	}
}

// single reports whether what a thread lies on is one cylinder, but for its
// chamfer.
func (c *completing) single(s work.Span) bool {
	d := c.final.Dia(middle(s))
	for _, p := range c.final.Over(s) {
		if max(p.Left, p.Right) > d+fine {
			return false
		}
	}
	return true
}
