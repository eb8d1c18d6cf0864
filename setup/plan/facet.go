package plan

import (
	"fmt"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/divide"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
	"setover/tapers/facets"
)

// flatting is a stretch that becomes a polygon, while its cards are made. wide
// and narrow are the finished polygons at its ends.
type flatting struct {
	*task
	n            int
	f            outline.Facets
	grip         chucking
	wide, narrow facets.Polygon
	tilt         units.Angle // from the axis to a flat
}

// facetted makes every stretch that is a polygon: milled on the dividing head
// or in a collet block where the shop has one, and ground where something is
// left; else ground from the round.
func facetted(t *task) steps {
	var list []steps
	for i, f := range t.shape.Facets {
		p := flatting{task: t, n: i + 1, f: f, grip: t.heldFor(f)}
		p.wide, p.narrow = t.polygons(f)
		p.tilt = facets.Rise(p.wide.Apothem, p.narrow.Apothem, f.Span.Length())
		device := t.indexes(f)
		if device != "" {
			list = append(list, p.mill(device))
		}
		if device == "" || f.Leave.Sign() > 0 {
			list = append(list, p.grind(device != ""))
		}
	}
	return together(list...)
}

// indexes returns what the shop indexes flats with, "" where it is the grinder's
// cradle or the bench.
func (t *task) indexes(f outline.Facets) op.Device {
	switch {
	case t.Shop.Mill == nil:
		return ""
	case t.Shop.DividingHead != nil:
		return op.DividingHead
	case slices.Contains(t.Shop.ColletBlocks, f.Sides):
		return op.ColletBlock
	case t.Shop.RotaryTable != nil:
		return op.RotaryTable
	}
	return ""
}

// heldFor returns the grip that a stretch is facetted in: the band it is held on
// last, or the bar it is cut off, with the end out that the facets are at.
func (t *task) heldFor(f outline.Facets) chucking {
	if t.grip == offBar || t.sawn || t.shape.Stretches[t.grip].Thread != nil {
		return t.chuckings[0]
	}
	g := t.shape.Stretches[t.grip]
	c := chucking{out: part.Right}
	z := g.To
	if f.To.Cmp(g.From) <= 0 {
		c.out, z = part.Left, g.From
	}
	most := practice.GripColletMost.Length()
	need := units.Min(practice.GripCollet.Of(g.Left.Turned), most)
	if t.indexes(f) == op.RotaryTable { // it carries a chuck
		need = t.leastGrip(g.Left.Turned)
		most = units.Max(need, most)
	}
	clear := units.Min(practice.RunOut.Length(), g.Length().Minus(need))
	held := units.Min(g.Length().Minus(clear), most)
	face := inward(op.LenOf(z), op.LenOf(clear), c.out)
	c.setup = t.chuck(cylinder(g), behind(face, op.LenOf(held), c.out), c.out, false)
	return c
}

// finished returns the polygon whose round, with what is left on it, is dia.
func finished(f outline.Facets, dia units.Length) facets.Polygon {
	if f.Sides == 2 {
		return facets.Polygon{Sides: 2, Apothem: f.Across.Half()}
	}
	p := facets.OfCorners(f.Sides, dia)
	p.Apothem = p.Apothem.Minus(f.Leave)
	return p
}

// polygons returns the polygon at the large and the small end.
func (t *task) polygons(f outline.Facets) (wide, narrow facets.Polygon) {
	over := t.shape.Over(f.Span)
	a, b := finished(f, over[0].Left.Turned), finished(f, over[len(over)-1].Right.Turned)
	if a.Apothem.Less(b.Apothem) {
		return b, a
	}
	return a, b
}

// op returns an operation on the flats.
func (p flatting) op(what string, s op.Setup) *op.Op {
	s.On, s.Held, s.Out = p.grip.setup.On, p.grip.setup.Held, p.grip.out
	s.State.Tilted, s.State.Tilt = true, op.DegOf(p.tilt)
	o := &op.Op{
		ID: fmt.Sprintf("%s-facets-%d", what, p.n), Kind: op.Facet, Name: say.Of(what, " ", p.f.Sides, " flats, ", p.f.Span),
		Setup: s, Feature: op.Feature{Kind: op.Facet, N: p.n}, Cuts: p.f.Span, Roll: &p.f.Roll,
		Dia: p.wide.AcrossFlats(),
	}
	o.Stands.Tilt = &p.tilt
	return o
}

// mill mills the flats, all but what is left for grinding.
func (p flatting) mill(device op.Device) steps {
	var w steps
	s := op.Setup{Machine: op.MillMachine, Device: device}
	if p.stubAt(p.grip.out) || p.centred(p.grip.out) {
		s.Support = op.AtCentre
		w = centre(p.task, p.lathed(p.grip.out))
	}
	o := w.add(p.op("mill", s))
	o.Tool = op.Tool{Name: "end mill"}
	o.Do = func(as work.State) {
		p.settings(o, p.f.Leave)
		p.flats(o, p.f.Leave, as)
		p.cut(o, p.f.Sides, cutting(feeds.Mill, practice.FacetMill.Length(), p.f.Span.Length()))
	}
	return w
}

// centred reports whether a centre holds an end while it is turned.
func (t *task) centred(end part.End) bool {
	for i, c := range t.chuckings {
		if c.out == end && t.way.centre[i] {
			return true
		}
	}
	return false
}

// lathed returns the chucking in which an end stands out.
func (t *task) lathed(end part.End) chucking { return t.chuckingFor(end) }

// flats takes the flats off the work as it stands, and predicts them where they
// are finished.
func (p flatting) flats(o *op.Op, leave units.Length, as work.State) {
	s := inWork(p.f.Span)
	across := func(z op.Len, side units.Length) units.Length {
		f := finished(p.f, side)
		f.Apothem = f.Apothem.Plus(leave)
		return f.AcrossFlats()
	}
	over := p.shape.Over(p.f.Span)
	ends := [2]units.Length{over[0].Left.Turned, over[len(over)-1].Right.Turned}
	out := ends
	if p.f.Sides > 2 { // the flats follow the round as it was turned
		_, out[0] = round(as.At(s.From))
		out[1], _ = round(as.At(s.To))
	}
	o.Removed(work.Flats{
		From: s.From, To: s.To, Sides: p.f.Sides, FirstRoll: op.DegOf(p.f.Roll),
		AcrossFrom: op.LenOf(across(s.From, out[0])), AcrossTo: op.LenOf(across(s.To, out[1])),
	})
	if leave.Sign() > 0 {
		return
	}
	o.Makes = []string{p.f.ID()}
	for _, x := range over {
		if p.asBought(x) {
			o.Makes = append(o.Makes, x.ID())
		}
	}
	name := "across flats"
	if p.f.Sides%2 == 1 {
		name = "flat to corner"
	}
	for i, end := range []part.End{part.Left, part.Right} {
		o.Foresee(p.limits.Flats(over[i*(len(over)-1)], end), say.Of(name, " at the ", end, " end, ", p.f.Span),
			across(s.From, out[i]),
			"flats parallel to the outside as it was turned")
		if p.tilt.Deg() == 0 {
			return
		}
	}
}

func round(left, right op.Len) (l, r units.Length) { return left.Length(), right.Length() }

// grind grinds the flats: what the mill left, or all of it; where there is no
// grinder what is left is filed to the stops of a jig.
func (p flatting) grind(milled bool) steps {
	var w steps
	belt := p.Shop.BeltGrinder
	o := w.add(p.op("grind", op.Setup{Machine: op.BeltGrinder, Device: op.Cradle}))
	o.Tool = op.Tool{Name: "belt"}
	if milled {
		o.Kind, o.Name = op.Grind, say.Of("grind ", p.f.Leave, " off each of the ", p.f.Sides, " flats")
	}
	minutes := practice.FlatMinutes.Number()
	if belt == nil {
		o.Setup.Machine, o.Tool = op.Bench, op.Tool{Name: "file and stone", Hand: op.File}
		o.Name = say.Of("file ", p.f.Leave, " off each of the ", p.f.Sides, " flats, to the stops of the jig")
		if !milled {
			o.Name = say.Of("file ", p.f.Sides, " flats, ", p.f.Span, ", to the stops of the jig")
		}
		minutes = practice.FileMinutes.Number()
	}
	o.Do = func(as work.State) {
		p.settings(o, units.Length{})
		p.flats(o, units.Length{}, as)
		if belt != nil {
			p.cut(o, 1, cutting(feeds.Grind, belt.Wheel))
			o.Cautions = append(o.Cautions, cautions.GrindDust)
		}
		o.Minutes += float64(p.f.Sides) * minutes
	}
	return w
}

// settings puts the tilt, the depths and the indexing on the card. leave is
// what is not cut yet.
func (p flatting) settings(o *op.Op, leave units.Length) {
	o.Set("tilt", sheet.Ang(p.tilt), "from the axis to a flat")
	depth := func(q facets.Polygon) units.Rounded { return q.FlatDepth(q.Blank(p.f.Leave)).Minus(leave).Down() }
	o.Set("depth", op.With(depth(p.wide), "at the large end"), depth(p.narrow), " at the small end")
	first := p.wide.Blank(p.f.Leave).Half().Plus(p.wide.Apothem).Plus(leave)
	o.Set("first flat reads", first, "over it and the round opposite, at the large end")
	o.Set("first flat", sheet.Number{V: p.f.Roll.Deg(), Places: 3, Unit: "deg"}, "its roll, against the roll datum")
	o.Cautions = append(o.Cautions, cautions.EyeProtection)
	p.index(o)
}

// index puts on the card how it is turned from flat to flat.
func (p flatting) index(o *op.Op) {
	head := p.Shop.DividingHead
	switch o.Setup.Device {
	case op.ColletBlock:
		o.Set("index", sheet.Count(p.f.Sides), "faces of the block, one after the other")
		return
	case op.RotaryTable:
		p.onTable(o)
		return
	}
	if head == nil {
		o.Warn("not-checked", "indexing is by the cradle: no dividing head (dividing_head)")
		return
	}
	r, err := divide.Divide(divide.Input{N: p.f.Sides, Head: head})
	if err != nil || r.Turns == nil {
		o.Check(problem.NotReachable, false, say.Of(p.f.Sides, " sides"), say.Text("no plate of this head divides so"),
			"another plate")
		return
	}
	text, note := say.Quantity(sheet.Count(int(*r.Turns))), say.Text("turns from flat to flat, any circle")
	if r.Spaces != nil && *r.Spaces > 0 {
		note = say.Of("turns and ", *r.Spaces, " spaces on the ", *r.Circle, " circle, from flat to flat")
	}
	if r.Exact != nil && !*r.Exact {
		note += say.Of("; no exact circle, ", sheet.Number{V: r.Error.Deg(), Places: 4, Unit: "deg"}, " off")
	}
	o.Set("index", text, note)
}

// onTable puts the rotary table's turns on the card, all from the first flat, so
// that nothing that is rounded adds up.
func (p flatting) onTable(o *op.Op) {
	r, err := divide.Divide(divide.Input{N: p.f.Sides, Rotary: p.Shop.RotaryTable})
	if err != nil {
		o.Check(problem.NotReachable, false, say.Of(p.f.Sides, " sides"), say.Text("the rotary table"), "a dividing head")
		return
	}
	var places []say.Text
	for _, x := range r.Rotary[1:] {
		place := say.Of(x.N, ": ", say.Count(int64(*x.Turns), "turn", "turns"))
		if x.Remainder.Deg() != 0 {
			place += say.Of(" + ", say.Plain(*x.Handwheel))
		}
		places = append(places, place)
	}
	o.Set("index", sheet.Count(p.f.Sides), "flats; of the handwheel, the flats from the first on: ",
		say.Join(places, ", "))
}
