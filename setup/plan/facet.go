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
func facetted(t *task) work {
	var list []work
	for i, f := range t.shape.Facets {
		p := flatting{task: t, n: i + 1, f: f, grip: t.heldFor(f)}
		p.wide, p.narrow = t.polygons(f)
		p.tilt = facets.Rise(p.wide.Apothem, p.narrow.Apothem, f.Span.Length())
		var device op.Device
		if t.Shop.Mill != nil && t.Shop.DividingHead != nil {
			device = op.DividingHead
		} else if t.Shop.Mill != nil && slices.Contains(t.Shop.ColletBlocks, f.Sides) {
			device = op.ColletBlock
		}
		if device != "" {
			list = append(list, p.mill(device))
		}
		if device == "" || f.Leave.Sign() > 0 {
			list = append(list, p.grind(device != ""))
		}
	}
	return together(list...)
}

// heldFor returns the grip that a stretch is facetted in: the last of the
// lathe's, with the end out that the facets are at.
func (t *task) heldFor(f outline.Facets) chucking {
	c := t.chuckings[len(t.chuckings)-1]
	if t.grip == offBar {
		return c
	}
	g := t.shape.Stretches[t.grip]
	c.out, c.reach = part.Right, t.shape.Length.Minus(g.To)
	if f.To.Cmp(g.From) <= 0 {
		c.out, c.reach = part.Left, g.From
	}
	c.setup.Out = c.out
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
	s.On, s.Out = p.grip.setup.On, p.grip.out
	s.State.Tilted, s.State.Tilt = true, op.DegOf(p.tilt)
	return &op.Op{
		ID: fmt.Sprintf("%s-facets-%d", what, p.n), Kind: op.Facet, Name: say.Of(what, " ", p.f.Sides, " flats, ", p.f.Span),
		Setup: s, Held: p.grip.held, Feature: op.Feature{Kind: op.Facet, N: p.n}, Cuts: p.f.Span, Roll: &p.f.Roll,
		Dia: p.wide.AcrossFlats(),
	}
}

// mill mills the flats, all but what is left for grinding.
func (p flatting) mill(device op.Device) work {
	var w work
	s := op.Setup{Machine: op.MillMachine, Device: device}
	if p.grip.reach.Over(p.grip.dia) > p.overhang() {
		s.Centre = true
		w = centre(p.task, p.grip)
	}
	o := w.add(p.op("mill", s))
	o.Tool = "end mill"
	p.settings(o, p.f.Leave)
	p.cut(o, p.f.Sides, cutting(feeds.Mill, practice.FacetMill.Length(), p.f.Span.Length()))
	return w
}

// grind grinds the flats: what the mill left, or all of it.
func (p flatting) grind(milled bool) work {
	var w work
	switch belt := p.Shop.BeltGrinder; {
	case belt == nil && milled:
		w.warnings.Add("kit-missing", p.f.Leave,
			" is left on each flat for grinding and there is no belt grinder: file and stone it (belt_grinder)")
		w.needs("belt grinder", "to finish the flats", false)
	case belt == nil:
		w.no.Add(problem.New(problem.NotAvailable, "", nil, "flats need a mill with a dividing head or a collet block, "+
			"or a belt grinder, and this shop has none (mill, dividing_head, belt_grinder)").In(p.f.At))
	default:
		o := w.add(p.op("grind", op.Setup{Machine: op.BeltGrinder, Device: op.Cradle}))
		o.Tool = "belt"
		if milled {
			o.Kind, o.Name = op.Grind, say.Of("grind ", p.f.Leave, " off each of the ", p.f.Sides, " flats")
		}
		p.settings(o, units.Length{})
		p.cut(o, 1, cutting(feeds.Grind, belt.Wheel))
		o.Minutes += float64(p.f.Sides) * practice.FlatMinutes.Number()
		o.Cautions = append(o.Cautions, cautions.GrindDust)
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
	o.Set("first flat", say.Of("roll ", degrees(p.f.Roll)), "against the roll datum")
	o.Cautions = append(o.Cautions, cautions.EyeProtection)
	p.index(o)
}

// index puts the dividing head's turns on the card.
func (p flatting) index(o *op.Op) {
	head := p.Shop.DividingHead
	if o.Setup.Device == op.ColletBlock {
		o.Set("index", say.Of("a face of the block, ", p.f.Sides, " in all"))
		return
	}
	if head == nil {
		o.Warn("not-checked", "indexing is by the cradle: no dividing head (dividing_head)")
		return
	}
	r, err := divide.Divide(divide.Input{N: p.f.Sides, Head: head})
	if err != nil || r.Turns == nil {
		o.Check(problem.NotReachable, false, say.Of(p.f.Sides, " sides"), say.Text("the plates of this head"),
			"another plate")
		return
	}
	text, note := say.Of(*r.Turns, " turns"), say.Text("from flat to flat, any circle")
	if r.Spaces != nil && *r.Spaces > 0 {
		text += say.Of(" + ", *r.Spaces, " spaces on the ", *r.Circle, " circle")
		note = "from flat to flat"
	}
	if r.Exact != nil && !*r.Exact {
		note += say.Of("; no exact circle, ", sheet.Number{V: r.Error.Deg(), Places: 4, Unit: "deg"}, " off")
	}
	o.Set("index", text, note)
}

// predictFlats notes the size across flats at both ends of a taper that is
// facetted afterwards, each as drawn and as the taper comes out: the flats are
// ground parallel to it.
func (w *work) predictFlats(f outline.Facets, span op.Span, large, small [2]units.Length, why say.Text) {
	name := "across flats"
	if f.Sides%2 == 1 {
		name = "flat to corner"
	}
	end := func(where string, round [2]units.Length) {
		w.predict(say.Of(name, " at the ", where, " end, ", span), finished(f, round[0]).AcrossFlats(),
			finished(f, round[1]).AcrossFlats(), "flats parallel to the cone: ", why)
	}
	end("large", large)
	end("small", small)
}
