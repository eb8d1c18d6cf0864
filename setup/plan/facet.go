package plan

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
	"setover/tapers/facets"
)

// flatting is a stretch that becomes a polygon, while its cards are made.
type flatting struct {
	*task
	n     int
	f     outline.Facets
	grip  chucking
	over  []outline.Stretch // from left to right
	drawn units.Angle       // from the axis to a flat
}

// flatCut is how a step cuts the flats of the work as it stands: so deep at the
// large end of the round, with the head tilted so. What comes out is worked out
// from these two.
type flatCut struct {
	ends  [2]flatEnd // at the left and the right
	large int        // which of them is the large one
	depth units.Length
	tilt  units.Angle // from the axis to a flat
}

// flatEnd is one end of a stretch of flats: the diameter of the round it is cut
// in, and the polygon that comes out.
type flatEnd struct {
	round units.Length
	out   facets.Polygon
}

// facetted makes every stretch that is a polygon: milled with what the shop indexes
// with, and ground where something is left; else ground from the round, or filed.
func facetted(t *task) steps {
	var list []steps
	for i, f := range t.shape.Facets {
		if t.ownFlats(f) {
			continue
		}
		p := flatting{task: t, n: i + 1, f: f, over: t.shape.Over(f.Span)}
		methods := t.indexes(f)
		device := methods[t.method(f.ID(), len(methods))]
		p.grip = t.heldFor(f, device)
		a, b := finished(f, p.over[0].Left.Turned), finished(f, p.over[len(p.over)-1].Right.Turned)
		p.drawn = facets.Rise(a.Apothem, b.Apothem, f.Span.Length())
		var made []steps
		switch device {
		case op.Cradle, "":
			made = append(made, p.grind(false, device == op.Cradle))
		default:
			made = append(made, p.mill(device))
			if f.Leave.Sign() > 0 {
				made = append(made, p.grind(true, p.beltGoesIn()))
			}
		}
		list = append(list, together(made...).offering(f.ID(), indexing(methods)...))
	}
	return together(list...)
}

// indexing says of each of what flats are indexed with what trouble it is: none but what it
// takes to put up, or all of it by hand.
func indexing(list []op.Device) (because []say.Text) {
	for _, d := range list {
		why := say.Text("")
		switch d {
		case op.Cradle:
			why = "each flat is ground by hand, to the stops of a jig"
		case "":
			why = "each flat is filed by hand, to the stops of a jig"
		}
		because = append(because, why)
	}
	return because
}

// indexes returns what the shop indexes flats with, the least trouble first; the last
// are the grinder's cradle and "", the bench: without a belt, or where it is wider than
// the flats are long and may find no room.
func (t *task) indexes(f outline.Facets) []op.Device {
	var list []op.Device
	mills := t.Shop.Mill != nil && t.shallowest(f).Sign() > 0
	if mills && slices.Contains(t.Shop.ColletBlocks, f.Sides) {
		list = append(list, op.ColletBlock)
	}
	if mills && t.Shop.DividingHead != nil {
		list = append(list, op.DividingHead)
	}
	if mills && t.Shop.RotaryTable != nil {
		list = append(list, op.RotaryTable)
	}
	if t.Shop.BeltGrinder != nil {
		list = append(list, op.Cradle)
		if t.beltWide().Cmp(f.Span.Length()) <= 0 {
			return list
		}
	}
	return append(list, "")
}

// shallowest returns how deep the mill goes at the end of the flats where it goes in least, with
// what is left on them: not above 0 where what is left is more than a flat is deep there, so
// that all of it is ground or filed.
func (j *job) shallowest(f outline.Facets) units.Length {
	var least *units.Length
	for _, x := range j.shape.Over(f.Span) {
		for _, dia := range []units.Length{x.Left.Turned, x.Right.Turned} {
			deep := dia.Half().Minus(finished(f, dia).Apothem).Minus(f.Leave)
			if least == nil || deep.Less(*least) {
				least = &deep
			}
		}
	}
	return *least
}

// beltWide returns how wide the grinder's belt is, a usual one where nobody says.
func (t *task) beltWide() units.Length {
	if w := t.Shop.BeltGrinder.Width; w != nil {
		return *w
	}
	return practice.BeltWidth.Length()
}

// beltGoesIn reports whether there is a belt, and room for it between the shoulders
// beside the flats.
func (p flatting) beltGoesIn() bool {
	g := p.Shop.BeltGrinder
	if g == nil || !p.shouldered(part.Left) || !p.shouldered(part.Right) {
		return g != nil
	}
	return p.beltWide().Cmp(p.f.Span.Length()) <= 0
}

// heldFor returns the grip that a stretch is facetted in: the band it is held on
// last, or the bar it is cut off, with the end out that the facets are at.
func (t *task) heldFor(f outline.Facets, device op.Device) chucking {
	i := t.grip
	if t.grip == inDog {
		i = t.longestBeside(f)
	}
	if i < 0 || t.sawn {
		return t.chuckings[0]
	}
	g := t.shape.Stretches[i]
	if g.Thread != nil || g.Facets != nil {
		return t.chuckings[0]
	}
	c := chucking{out: part.Right}
	z := g.To
	if f.To.Cmp(g.From) <= 0 {
		c.out, z = part.Left, g.From
	}
	most := practice.GripColletMost.Length()
	need := units.Min(practice.GripCollet.Of(t.mostTurned(g)), most)
	if device == op.RotaryTable { // it carries a chuck
		need = t.leastGrip(op.RotaryTable, t.mostTurned(g))
		most = units.Max(need, most)
	}
	clear := units.Min(practice.RunOut.Length(), g.Length().Minus(need))
	if clear.Sign() < 0 { // too short for it: while it is still on the bar
		return t.chuckings[0]
	}
	held := units.Min(g.Length().Minus(clear), most)
	face := inward(op.LenOf(z), op.LenOf(clear), c.out)
	c.setup = t.chuck(cylinder(g), behind(face, op.LenOf(held), c.out), c.out, false)
	return c
}

// longestBeside returns the longest plain cylinder beside a stretch of flats, -1 where there
// is none.
func (j *job) longestBeside(f outline.Facets) int {
	best := -1
	for i, x := range j.shape.Stretches {
		if plain(x) && !x.Overlaps(f.Span) && (best < 0 || j.shape.Stretches[best].Length().Less(x.Length())) {
			best = i
		}
	}
	return best
}

// finished returns the polygon whose round is dia: with what is left on it where its flats are
// drawn, that of its corners where they are.
func finished(f outline.Facets, dia units.Length) facets.Polygon {
	if f.Sides == 2 {
		return facets.Polygon{Sides: 2, Apothem: f.Across.Half()}
	}
	p := facets.OfCorners(f.Sides, dia)
	if !f.Corners {
		p.Apothem = p.Apothem.Minus(f.Leave)
	}
	return p
}

// How exactly a tilt is told, and a depth.
var tiltStep, depthStep = units.Degrees(0.001), units.MustLength("0.001mm")

// cutFlats returns how the flats are cut, all but leave, of the work as it stands:
// a round, or flats that were milled with more left on them.
//
// The depth is taken at the large end of the round as it was turned, R, and
// rounded down: A = R - depth is from the axis to the flat there, and A - L·tan(tilt)
// at the other end. The head is not tilted as is drawn but with the cone as it was
// turned, which is known by then, so that the corners run along it.
//
// Source: elementary.
func (p flatting) cutFlats(leave units.Length, milled bool, as work.State) flatCut {
	var c flatCut
	ends := p.stands(as)
	c.ends[0].round, c.ends[1].round = ends[0].round, ends[1].round
	if ends[0].round.Less(ends[1].round) {
		c.large = 1
	}
	wide, narrow := p.flat(c.ends[c.large].round, leave), p.flat(c.ends[1-c.large].round, leave)
	if milled {
		wide, narrow = ends[c.large].across.Half().Minus(p.f.Leave), ends[1-c.large].across.Half().Minus(p.f.Leave)
	}
	if p.f.Sides == 2 {
		narrow = wide
	}
	c.depth = c.ends[c.large].round.Half().Minus(wide).RoundTo(depthStep, units.Down)
	apothem := c.ends[c.large].round.Half().Minus(c.depth)
	c.tilt = facets.Rise(wide, narrow, p.f.Span.Length()).RoundTo(tiltStep, units.Nearest)
	drop := units.FromFloat(p.f.Span.Length().MM() * c.tilt.Tan())
	c.ends[c.large].out = facets.Polygon{Sides: p.f.Sides, Apothem: apothem}
	c.ends[1-c.large].out = facets.Polygon{Sides: p.f.Sides, Apothem: apothem.Minus(drop)}
	return c
}

// stand is the work at an end of the flats: the round as it was turned, and across the flats
// where they were milled.
type stand struct{ round, across units.Length }

// stands returns the work at both ends of the flats: where an edge is chamfered already, what it
// is behind the chamfer, and on a cone what its line comes to at the end.
func (p flatting) stands(as work.State) (ends [2]stand) {
	for i, x := range []outline.Stretch{p.over[0], p.over[len(p.over)-1]} {
		inner, z := p.unchamfered(x), x.From
		if i > 0 {
			z = x.To
		}
		over := as.Over(inWork(inner))
		first, last := over[0], over[len(over)-1]
		line := func(a, b op.Len) units.Length {
			from, to := part.Station{Z: inner.From, Dia: a.Length()}, part.Station{Z: inner.To, Dia: b.Length()}
			if a == b || inner.From.Equal(inner.To) {
				return from.Dia
			}
			return from.Toward(to, z)
		}
		ends[i] = stand{line(first.Left, last.Right), line(first.FlatLeft, last.FlatRight)}
	}
	return ends
}

// flat returns how far from the axis the flats lie that run along a round, with
// leave still on them.
func (p flatting) flat(round, leave units.Length) units.Length {
	return finished(p.f, round).Apothem.Plus(leave)
}

// op returns an operation on the flats.
func (p flatting) op(what string, s op.Setup) *op.Op {
	s.On, s.Held, s.Out = p.grip.setup.On, p.grip.setup.Held, p.grip.out
	s.State.Tilted, s.State.Tilt = true, op.DegOf(p.drawn)
	o := &op.Op{
		ID: fmt.Sprintf("%s-facets-%d", what, p.n), Kind: op.Facet, Name: say.Of(what, " ", p.f.Sides, " flats, ", p.f.Span),
		Setup: s, Feature: op.Feature{Kind: op.Facet, N: p.n}, Cuts: p.f.Span, Roll: &p.f.Roll,
		Dia: units.Max(p.over[0].Left.Flats, p.over[len(p.over)-1].Right.Flats),
	}
	if len(p.over) == 1 {
		o.Leaves = cylinder(p.over[0])
	}
	return o
}

// mill mills the flats, all but what is left for grinding.
func (p flatting) mill(device op.Device) steps {
	var w steps
	s := op.Setup{Machine: op.MillMachine, Device: device}
	if c := p.chuckingFor(p.grip.out); c.out == p.grip.out {
		s.Support, w = c.setup.Support, carry(p.task, c)
	}
	o := w.add(p.op("mill", s))
	o.Cutter = p.endMill()
	o.Tool = op.Tool{Name: say.Of("end mill ", o.Cutter)}
	o.Do = func(as work.State) {
		c := p.cutFlats(p.f.Leave, false, as)
		p.settings(o, c, false)
		p.overAxis(o, say.Of("the ", o.Tool.Name), o.Cutter, as)
		p.flats(o, c, p.f.Leave)
		p.passes(o, c.depth)
	}
	return w
}

// passes puts on the card how the flats are milled: in one pass where something is
// left for grinding, else in another light one that finishes them. The work is
// pushed by the radial part of the mean force at the cutter's rim.
func (p flatting) passes(o *op.Op, depth units.Length) {
	in := cutting(feeds.Mill, o.Cutter, p.f.Span.Length())
	last, n := practice.FinishDepth.Length(), p.f.Sides
	if depth.Sign() > 0 {
		in.Depth = &depth
	}
	light := p.f.Leave.Sign() == 0 && last.Less(depth)
	if light {
		in.Depth, n = new(depth.Minus(last)), 2*n
		o.Set("last pass", op.With(last, "deep"), "on each flat, after all of them are roughed")
	}
	r := p.cut(o, n, in)
	if r.Force == nil {
		return
	}
	push := func(r feeds.Result) float64 { return float64(*r.Force) * practice.RadialPart.Number() }
	o.Push = op.Cut{Force: push(r), Finish: p.f.Leave.Sign() == 0}
	if light {
		in.Depth = &last
		if f, err := p.run(o, in); err == nil && f.Force != nil {
			o.Push.Force, o.Push.Roughing = push(f), push(r)
		}
	}
}

// endMill returns the end mill that the flats are milled with: the usual one, or the
// largest that goes in between two shoulders and that runs out beside the jaws where
// no shoulder stops it.
func (p flatting) endMill() units.Length {
	most := practice.FacetMill.Length()
	room := p.f.From.Minus(p.grip.setup.Face().Length())
	if p.grip.out == part.Left {
		room = p.grip.setup.Face().Length().Minus(p.f.To)
	}
	left, right := p.shouldered(part.Left), p.shouldered(part.Right)
	if left && right {
		most = units.Min(most, p.f.Span.Length())
	}
	stopped := left // where the jaws are
	if p.grip.out == part.Left {
		stopped = right
	}
	if !stopped {
		most = units.Min(most, room.Times(2))
	}
	return units.Max(most.RoundTo(practice.FacetMillStep.Length(), units.Down), practice.FacetMillLeast.Length())
}

// shouldered reports whether what is beside the flats at an end stands higher.
func (p flatting) shouldered(e part.End) bool {
	z, own := p.f.From, p.over[0].Left
	if e == part.Right {
		z, own = p.f.To, p.over[len(p.over)-1].Right
	}
	for _, x := range p.shape.Stretches {
		switch {
		case e == part.Left && x.To.Equal(z) && own.Core.Less(x.Right.Turned),
			e == part.Right && x.From.Equal(z) && own.Core.Less(x.Left.Turned):
			return true
		}
	}
	return false
}

// centred reports whether a centre in a hole of its own holds an end while it is turned.
func (t *task) centred(end part.End) bool {
	return slices.ContainsFunc(t.chuckings, func(c chucking) bool {
		return c.out == end && c.setup.Support == op.AtCentre
	})
}

// flats takes the flats off the work as they are cut, and predicts them where they
// are finished.
func (p flatting) flats(o *op.Op, c flatCut, leave units.Length) {
	s := inWork(p.f.Span)
	o.Removed(work.Flats{
		From: s.From, To: s.To, Sides: p.f.Sides, FirstRoll: op.DegOf(p.f.Roll),
		AcrossFrom: op.LenOf(c.ends[0].out.AcrossFlats()), AcrossTo: op.LenOf(c.ends[1].out.AcrossFlats()),
	})
	if leave.Sign() > 0 {
		return
	}
	o.Makes = []string{p.f.ID()}
	for _, x := range p.over {
		if p.asBought(x) {
			o.Makes = append(o.Makes, x.ID())
		}
	}
	name := "across flats"
	if p.f.Sides%2 == 1 {
		name = "flat to corner"
	}
	for i, end := range []part.End{part.Left, part.Right} {
		o.Foresee(p.limits.Flats(p.over[i*(len(p.over)-1)], end), say.Of(name, " at the ", end, " end, ", p.f.Span),
			c.ends[i].out.AcrossFlats(), "the depth at the large end as it was turned, and the tilt")
		if c.tilt.Deg() == 0 {
			return
		}
	}
}

// grind grinds the flats: what the mill left, or all of it; without the belt they are
// filed to the stops of a jig.
func (p flatting) grind(milled, belt bool) steps {
	var w steps
	o := w.add(p.op("grind", op.Setup{Machine: op.BeltGrinder, Device: op.Cradle}))
	o.Tool = op.Tool{Name: "belt"}
	if milled {
		o.Kind, o.Name = op.Grind, say.Of("grind ", p.f.Leave, " off each of the ", p.f.Sides, " flats")
	}
	if least := p.shallowest(p.f); !milled && p.f.Leave.Sign() > 0 && least.Sign() <= 0 {
		o.Warn("leave", "nothing is milled: the ", p.f.Leave, " that is to be left is no less than a flat is deep, ",
			least.Plus(p.f.Leave), " where it is shallowest")
	}
	minutes := practice.FlatMinutes.Number()
	if !belt {
		o.Setup.Machine, o.Tool = op.Bench, op.Tool{Name: "file and stone", Hand: op.File}
		o.Name = say.Of("file ", p.f.Leave, " off each of the ", p.f.Sides, " flats, to the stops of the jig")
		if !milled {
			o.Name = say.Of("file ", p.f.Sides, " flats, ", p.f.Span, ", to the stops of the jig")
		}
		minutes = practice.FileMinutes.Number()
	}
	o.Do = func(as work.State) {
		c := p.cutFlats(units.Length{}, milled, as)
		p.settings(o, c, milled)
		p.flats(o, c, units.Length{})
		if belt {
			p.cut(o, 1, cutting(feeds.Grind, p.Shop.BeltGrinder.Wheel))
			o.Cautions = append(o.Cautions, cautions.GrindDust)
		}
		o.Minutes += float64(p.f.Sides) * minutes
	}
	return w
}

// settings puts the tilt, the depths and the indexing on the card. After milling the
// depth is what the grinder takes.
func (p flatting) settings(o *op.Op, c flatCut, milled bool) {
	o.Stands.Tilt = &c.tilt
	o.Set("tilt", sheet.Ang(c.tilt), "from the axis to a flat, along the outside as it was turned")
	wide, narrow := c.ends[c.large], c.ends[1-c.large]
	under := say.Text("under the round as it was turned, rounded down")
	end := []part.End{part.Left, part.Right}[c.large]
	small := say.Of("the ", end, " one; ", narrow.out.FlatDepth(narrow.round).Down(), " at the small end; ", under)
	switch tapers := c.tilt.Deg() != 0; {
	case milled && tapers:
		o.Set("depth", op.With(p.f.Leave, "off each flat"), "what the mill left; in all ", c.depth.Down(),
			" at the large end, ", small)
	case milled:
		o.Set("depth", op.With(p.f.Leave, "off each flat"), "what the mill left; in all ", c.depth.Down(), " ", under)
	case tapers:
		o.Set("depth", op.With(c.depth.Down(), "at the large end"), small)
	default:
		o.Set("depth", c.depth.Down(), under)
	}
	order := p.order(o, c, milled)
	p.firstReads(o, order, wide, milled)
	datum := say.Text("its roll, against the roll datum")
	if holes := p.shape.Holes; len(holes) > 0 {
		datum += say.Of("; where that is turned away, by a pin through the hole at z ", holes[0].Z, ", whose roll is ",
			sheet.Number{V: holes[0].Roll.Deg(), Places: 3, Unit: "deg"})
	}
	o.Set("first flat", sheet.Number{V: p.f.Roll.Deg(), Places: 3, Unit: "deg"}, datum)
	o.Cautions = append(o.Cautions, cautions.EyeProtection)
	p.index(o, order)
	finished := o.Setup.Machine != op.MillMachine || p.f.Leave.Sign() == 0
	o.Steps = func() []say.Text { return order.Cuts(finished) }
}

// firstReads says what the first flat reads at the large end.
func (p flatting) firstReads(o *op.Op, order facets.Order, wide flatEnd, milled bool) {
	reads, over := wide.round.Half().Plus(wide.out.Apothem), say.Text("the round opposite")
	if milled && len(order.Flats) > 0 {
		reads, over = order.Flats[0].Reading, "the flat opposite as it was milled"
		if p.f.Sides%2 == 1 {
			over = "the corner opposite as it was milled"
		}
	}
	where := say.Text("")
	for _, x := range p.shape.Chamfers {
		if x.On(p.over[0]) || x.On(p.over[len(p.over)-1]) {
			where = ", behind the chamfer"
		}
	}
	o.Set("first flat reads", reads, "over it and ", over, ", at the large end", where)
}

// order returns the flats in the order they are cut, as they are indexed where they are: those
// that are milled with what is left on them, and those that are ground after it.
func (p flatting) order(o *op.Op, c flatCut, milled bool) facets.Order {
	on := facets.Indexing{Head: p.Shop.DividingHead}
	switch o.Setup.Device {
	case op.ColletBlock:
		on = facets.Indexing{Blocks: []int{p.f.Sides}}
	case op.RotaryTable:
		on = facets.Indexing{Rotary: p.Shop.RotaryTable}
	}
	leave, less := units.Length{}, units.Length{}
	switch {
	case milled:
		leave = p.f.Leave
	case o.Setup.Machine == op.MillMachine:
		leave, less = p.f.Leave, p.f.Leave
	}
	var rounds []facets.Round
	for _, end := range []flatEnd{c.ends[c.large], c.ends[1-c.large]} {
		rounds = append(rounds, facets.Round{Dia: end.round, Apothem: end.out.Apothem.Minus(less)})
	}
	if c.tilt.Deg() == 0 {
		rounds = rounds[:1]
	}
	return facets.OutOf(p.f.Sides, leave, c.tilt, on, rounds...)
}

// index puts on the card how it is turned from flat to flat.
func (p flatting) index(o *op.Op, order facets.Order) {
	head := p.Shop.DividingHead
	switch {
	case o.Setup.Device == op.ColletBlock:
		o.Set("index", sheet.Count(p.f.Sides), "faces of the block, one after the other")
		return
	case o.Setup.Device == op.RotaryTable:
		p.onTable(o, order)
		return
	case head == nil:
		o.Warn("not-checked", "indexing is by the cradle: no dividing head (dividing_head)")
		return
	case len(order.Flats) == 0: // nothing is to be cut
		return
	case order.Circle == nil:
		o.Check(problem.NotReachable, false, say.Of(p.f.Sides, " sides"), say.Text("no plate of this head divides so"),
			"another plate")
		return
	}
	one := head.Count(big.NewRat(1, int64(p.f.Sides)), *order.Circle)
	circle, off := say.Text(""), say.Text("")
	if one.Spaces == 0 {
		circle = ", any circle,"
	}
	if by := one.Error(head.Ratio); by.Deg() != 0 {
		off = say.Of("; no exact circle, ", sheet.Number{V: by.Deg(), Places: 4, Unit: "deg"}, " off")
	}
	o.Set("index", sheet.Count(p.f.Sides), "flats; crank on ", one, circle, " from each to the next", off)
}

// onTable puts the rotary table's turns on the card, all from the first flat, so
// that nothing that is rounded adds up.
func (p flatting) onTable(o *op.Op, order facets.Order) {
	list := slices.Clone(order.Flats)
	slices.SortFunc(list, func(a, b facets.Flat) int { return cmp.Compare(a.Flat, b.Flat) })
	var places []say.Text
	for _, f := range list {
		if f.Flat > 1 {
			places = append(places, say.Of(f.Flat, ": ", f.Wheel()))
		}
	}
	o.Set("index", sheet.Count(p.f.Sides), "flats; of the handwheel, the flats from the first on: ",
		say.Join(places, ", "))
}
