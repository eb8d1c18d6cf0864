package plan

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
	"setover/tapers/compound"
	"setover/tapers/form"
	"setover/tapers/tailstock"
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
	over                 *tailstock.Result // the tailstock is set over; nil where it is not
	form                 *form.Tool        // it is cut by a form tool
	dial                 *shop.Dial        // of the cross slide
	wound                *int              // its passes as they are wound, at the most in a bite; 0: not known
	inBites              *bool
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

// touch is where the work is touched: how thick it is there, and is to be.
type touch struct {
	name       say.Text
	start, aim units.Length
	bySmall    bool
}

// touched says where the work is touched: at the large end; on the compound, in bites that begin
// at the small end, and with a form tool, at that one.
func (c conical) touched(as work.State, on *compound.Standing) touch {
	_, smallEnd := c.ends()
	to := touch{name: "large end", start: as.Largest(inWork(c.x.Span)).Length(), aim: c.drawn}
	to.bySmall = c.form != nil || c.over != nil && on.BySmall || c.slide != nil && c.slide.TouchedAtSmall(*on)
	if !to.bySmall {
		on.LargeEnd = &to.start
		return to
	}
	to.name, to.start = "small end", c.thick(as, smallEnd)
	to.aim = predict.SmallEnd(c.drawn, c.x.Length(), c.set)
	if c.form != nil { // its edge ends where the side does, and makes the small end
		to.aim = c.point
	}
	on.SmallEnd = &to.start
	return to
}

// line sets the last pass on the dial, from where the work is touched, and returns what comes
// out at both ends. With the tailstock set over the work stands aslant to the cross slide, which
// takes more off by the cosine. The dial goes to the last line that is not past the size; where
// what that leaves is over a limit, to the nearest.
func (c conical) line(t *task, as work.State) (large, small units.Length) {
	on, slide := c.standing(as), t.Shop.Lathe.CrossSlide
	to := c.touched(as, &on)
	if c.slide != nil && !to.bySmall && c.thin(as) {
		return c.outLine(t, as, on, to.start)
	}
	comes := func(in units.Length) (large, small units.Length) {
		off := units.FromFloat(in.MM() * c.square())
		touched := units.Min(predict.Diameter(to.start, off), to.start) // metal is never put back
		if to.bySmall {
			return touched.Plus(units.FromFloat(2 * c.x.Length().MM() * c.set.Tan())), touched
		}
		return touched, predict.SmallEnd(touched, c.x.Length(), c.set)
	}
	exact, most := units.Max(to.start.Minus(to.aim).Half(), units.Length{}), as.Largest(inWork(c.x.Span)).Length()
	if c.over != nil {
		exact = units.FromFloat(exact.MM() / c.square())
	}
	onDial := c.o.ShortOnDial
	if slide != nil {
		short, _ := slide.Short(exact)
		near, _ := slide.Set(exact)
		if !c.holds(t, comes, most, short.Set) && c.holds(t, comes, most, near.Set) {
			onDial = c.o.OnDial
		}
	}
	what := say.Of("last pass, in from ", to.start, " at the ", to.name)
	if exact.Sign() == 0 {
		what = say.Of("last pass only touches at the ", to.name, ", ", to.start, " already")
	}
	in := onDial(what, op.CrossSlide, slide, exact, "touching the work at the ", to.name)
	large, small = comes(in)
	c.tells(as, on, to, large, in)
	return large, small
}

// tells has the card say how it is cut, so far in from where it is touched.
func (c conical) tells(as work.State, on compound.Standing, to touch, large, in units.Length) {
	switch {
	case c.slide != nil:
		c.winds(as, on, large, in)
	case c.over != nil:
		c.sets(as, to, large, in)
	case c.form != nil:
		c.feeds(as, to.start, in)
	}
}

// square is how much deeper a travel of the cross slide makes the cut at a place of the work, square to
// its axis: with the tailstock set over by a the tip goes square to the side that is cut, which lies a
// aslant, 1/cos a of it.
func (c conical) square() float64 {
	if c.over == nil {
		return 1
	}
	return 1 / c.set.Cos()
}

// sets has the card say how the tailstock is set over, and how it is cut so.
func (c conical) sets(as work.State, to touch, large, in units.Length) {
	s := c.standing(as)
	on := tailstock.Standing{
		Headstock: s.Headstock, Tailstock: s.Tailstock, Touched: c.x.From, End: to.name, Set: c.o.Stands.Offset.Abs(),
		Flush: s.Flush, Thick: to.start, As: s.As, Last: in, Depth: c.depth, Finish: c.finish,
	}
	if end, _ := c.ends(); (end == part.Right) != s.BySmall {
		on.Touched = c.x.To
	}
	on.Begins = units.FromFloat(c.stands(as, large).MM()/c.square()).Minus(in).RoundTo(depthStep, units.Nearest)
	on.Begins = units.Max(on.Begins, units.Length{})
	if on.From, on.To = parallel(as); c.out == part.Left {
		on.From, on.To = on.To, on.From
	}
	c.o.SetOver = func() (set, back []say.Text) { return c.over.SetOver(on) }
	c.o.Steps = func() []say.Text { return c.over.Wound(on) }
}

// parallel returns where the work is parallel for longest.
func parallel(as work.State) (from, to units.Length) {
	var most, run work.Span
	var dia op.Len
	for _, p := range as.Outside {
		switch {
		case p.Left != p.Right || p.Sides > 0:
			continue
		case p.From == run.To && p.Left == dia:
			run.To = p.To
		default:
			run, dia = work.Span{From: p.From, To: p.To}, p.Left
		}
		if run.Length() > most.Length() {
			most = run
		}
	}
	return most.From.Length(), most.To.Length()
}

// feeds has the card say how a form tool is set and fed in.
func (c conical) feeds(as work.State, start, in units.Length) {
	large, small := c.x.From, c.x.To
	if end, _ := c.ends(); end == part.Right {
		large, small = small, large
	}
	on := form.Standing{
		Large: large, Small: small, Thick: start, As: asCut(c.o.Before), Last: in, Depth: c.depth, Finish: c.finish,
		To: c.point, CrossSlide: c.dial,
	}
	on.PastSmall, on.PastLarge = c.beside(as)
	c.o.Steps = func() []say.Text { return c.form.Fed(on) }
}

// beside reports whether the work goes on past the ends of a taper, where a wide tool would cut it:
// at all past the small one, and thicker than its line past the large one.
func (c conical) beside(as work.State) (small, large bool) {
	const near = op.Len(1000) // nm
	left, right := op.LenOf(c.x.From), op.LenOf(c.x.To)
	at := map[part.End]work.Span{
		part.Left: {From: left - near, To: left}, part.Right: {From: right, To: right + near},
	}
	largeEnd, smallEnd := c.ends()
	small = len(as.Over(at[smallEnd])) > 0
	large = len(as.Over(at[largeEnd])) > 0 && op.LenOf(c.drawn) < as.Largest(at[largeEnd])
	return small, large
}

// winds has the card say how it is wound: the last line is so far in from where the tip touches.
func (c conical) winds(as work.State, on compound.Standing, large, in units.Length) {
	on.Last, on.Begins = &in, c.begins(as, large, in)
	*c.wound, *c.inBites = c.slide.InBite(on)
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
	out := c.stands(as, large).Minus(in).RoundTo(depthStep, units.Nearest)
	return new(units.Max(out, units.Length{}))
}

// stands is how far the work stands out beyond the last pass, at the most.
func (c conical) stands(as work.State, large units.Length) units.Length {
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
	return units.FromFloat(most)
}
