package plan

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
	"setover/tapers/compound"
)

// conical is a taper that is cut: from its large end, which is drawn, to the point, with
// so much travel at a half angle that is set. Slide is nil where it is not cut on the compound.
type conical struct {
	o                    *op.Op
	x                    outline.Stretch
	drawn, point, travel units.Length
	set                  units.Angle
	why                  say.Text
	depth, finish        units.Length // a side, in a pass and in the last
	byMark               bool         // the compound stands at a mark, whose angle is kept
	slide                *compound.Result
	out                  part.End
}

// ends returns the ends of the taper: its large and its small one.
func (c conical) ends() (large, small part.End) {
	if c.x.Left.Turned.Less(c.x.Right.Turned) {
		return part.Right, part.Left
	}
	return part.Left, part.Right
}

// thick returns how thick the work stands at an end of the taper, on the taper's side.
func (c conical) thick(as work.State, e part.End) units.Length {
	list := as.Over(inWork(c.x.Span))
	switch {
	case len(list) == 0:
		return units.Length{}
	case e == part.Right:
		return list[len(list)-1].Right.Length()
	}
	return list[0].Left.Length()
}

// line sets the last pass on the dial, from where the work is touched, and returns what comes
// out at both ends. The work is touched at the large end; on the compound, in bites that begin
// at the small end, there. The dial goes to the last line that is not past the size; where what
// that leaves is over a limit, to the nearest.
func (c conical) line(t *task, as work.State) (large, small units.Length) {
	_, smallEnd := c.ends()
	on, slide := c.standing(as), t.Shop.Lathe.CrossSlide
	name, start, aim := say.Text("large end"), as.Largest(inWork(c.x.Span)).Length(), c.drawn
	bySmall := c.slide != nil && c.slide.TouchedAtSmall(on)
	if bySmall {
		name, start, aim = "small end", c.thick(as, smallEnd), predict.SmallEnd(c.drawn, c.x.Length(), c.set)
		on.SmallEnd = &start
	} else {
		on.LargeEnd = &start
	}
	comes := func(in units.Length) (large, small units.Length) {
		touched := units.Min(predict.Diameter(start, in), start) // metal is never put back
		if bySmall {
			return touched.Plus(units.FromFloat(2 * c.x.Length().MM() * c.set.Tan())), touched
		}
		return touched, predict.SmallEnd(touched, c.x.Length(), c.set)
	}
	exact, most := units.Max(start.Minus(aim).Half(), units.Length{}), as.Largest(inWork(c.x.Span)).Length()
	if c.slide != nil && !bySmall && c.thin(as) {
		return c.outLine(t, as, on, start)
	}
	onDial := c.o.ShortOnDial
	if slide != nil {
		short, _ := slide.Short(exact)
		near, _ := slide.Set(exact)
		if !c.holds(t, comes, most, short.Set) && c.holds(t, comes, most, near.Set) {
			onDial = c.o.OnDial
		}
	}
	what := say.Of("last pass, in from ", start, " at the ", name)
	if exact.Sign() == 0 {
		what = say.Of("last pass only touches at the ", name, ", ", start, " already")
	}
	in := onDial(what, op.CrossSlide, slide, exact, "touching the work at the ", name)
	large, small = comes(in)
	if c.slide != nil {
		c.winds(as, on, large, in)
	}
	return large, small
}

// winds has the card say how it is wound: the last line is so far in from where the tip touches.
func (c conical) winds(as work.State, on compound.Standing, large, in units.Length) {
	on.Last, on.Begins = &in, c.begins(as, large, in)
	c.o.Steps = func() []say.Text { return c.slide.Wound(on) }
}

// outLine is line for bites that begin at a large end that is thinner than the tool leaves it: the
// last pass stands out from where the work is touched there, and meets it only farther along.
func (c conical) outLine(t *task, as work.State, on compound.Standing, start units.Length) (large, small units.Length) {
	out := c.o.OnDial(say.Of("last pass, out from ", start, " at the large end"), op.CrossSlide,
		t.Shop.Lathe.CrossSlide, c.drawn.Minus(start).Half(), "touching the work at the large end")
	large = start.Plus(out.Times(2))
	c.winds(as, on, large, out.Neg())
	return large, predict.SmallEnd(large, c.x.Length(), c.set)
}

// holds reports whether both ends keep their limits where the last pass is so far in, of work
// that is so thick at the most. What a file takes down afterwards is only short of it.
func (c conical) holds(t *task, comes func(in units.Length) (large, small units.Length), most, in units.Length) bool {
	if c.o.Rough {
		return true
	}
	largeEnd, smallEnd := c.ends()
	large, small := comes(in)
	large = units.Min(large, most)
	for end, dia := range map[part.End]units.Length{largeEnd: large, smallEnd: small} {
		limit := t.limits.TaperEnd(c.x, end)
		if c.x.Facets != nil {
			limit, dia = t.limits.Flats(c.x, end), finished(*c.x.Facets, dia).AcrossFlats()
		}
		if limit.Known() && !limit.Holds(dia) {
			return false
		}
	}
	return true
}

// standing is the work that a taper is cut out of on the compound, but for what it is touched at.
func (c conical) standing(as work.State) compound.Standing {
	on := compound.Standing{
		Headstock: c.x.From, Tailstock: c.x.To, SetTo: c.set, Held: true, As: asCut(c.o.Before),
		Flush: c.flush(as), BySmall: c.thin(as), Depth: &c.depth, Finish: &c.finish, ByMark: c.byMark,
	}
	if c.out == part.Left {
		on.Headstock, on.Tailstock = on.Tailstock, on.Headstock
	}
	return on
}

// thin reports whether a taper that a file finishes has less metal at its large end than the
// tool would leave for it.
func (c conical) thin(as work.State) bool {
	return c.o.Rough && as.Largest(inWork(c.x.Span)).Length().Less(c.drawn)
}

// flush reports whether something stands where the tip would begin beyond the tailstock's end:
// on the line of the side, as far along it as the slide runs in.
func (c conical) flush(as work.State) bool {
	_, smallEnd := c.ends()
	line, rises := c.drawn.MM(), 2*c.set.Tan()
	if smallEnd == c.out {
		line, rises = c.drawn.MM()-rises*c.x.Length().MM(), -rises
	}
	runs := practice.SlideRunIn.Length(units.MM).MM() * c.set.Cos()
	z, beyond := op.LenOf(c.x.To), op.LenOf(units.FromFloat(runs))
	span := work.Span{From: z, To: z + beyond}
	if c.out == part.Left {
		z = op.LenOf(c.x.From)
		span = work.Span{From: z - beyond, To: z}
	}
	const touches = 1e-6 // mm
	for _, p := range as.Over(span) {
		for _, at := range []work.Point{{Z: p.From, Dia: p.Left}, {Z: p.To, Dia: p.Right}} {
			if at.Dia.MM() > line+rises*math.Abs(at.Z.MM()-z.MM())+touches {
				return true
			}
		}
	}
	return false
}

// begins is how far out from where the work is touched the first pass would only meet it: as far
// as it stands out beyond the last pass, less what that is in.
func (c conical) begins(as work.State, large, in units.Length) *units.Length {
	largeEnd, _ := c.ends()
	most := 0.0
	for _, p := range as.Over(inWork(c.x.Span)) {
		for _, at := range []work.Point{{Z: p.From, Dia: p.Left}, {Z: p.To, Dia: p.Right}} {
			from := c.x.From.MM()
			if largeEnd == part.Right {
				from = c.x.To.MM()
			}
			line := large.MM() - 2*math.Abs(at.Z.MM()-from)*c.set.Tan()
			most = max(most, (at.Dia.MM()-line)/2)
		}
	}
	out := units.FromFloat(most).Minus(in).RoundTo(depthStep, units.Nearest)
	return new(units.Max(out, units.Length{}))
}
