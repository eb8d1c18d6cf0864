package plan

import (
	"fmt"
	"slices"
	"strings"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/bench/divide"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/tapers/facets"
)

// facets makes the operations of every stretch that is a polygon: milled on
// the dividing head or in a collet block where the shop has one, and ground
// where something is left; else ground from the round.
func (d *draft) facets(list []chucking) error {
	for i, f := range d.round.Facets {
		last := d.holding(list, f)
		feature := fmt.Sprintf("facets %d", i+1)
		span := op.Span{From: f.From, To: f.To}
		hold := op.Setup{Hold: op.DividingHead, Machine: op.MillMachine, On: last.setup.On, Out: last.out}
		block := slices.ContainsFunc(d.shop.ColletBlocks, func(n int) bool { return n == f.Sides })
		milled := true
		switch {
		case d.shop.Mill != nil && d.shop.DividingHead != nil:
		case d.shop.Mill != nil && block:
			hold.Hold = op.ColletBlock
		default:
			milled = false
		}
		if milled && last.from.MM() > practice.Overhang.Number(d.material)*d.gripDia(last.setup.On).MM() {
			hold.Support = "centre"
			d.centre(last)
		}
		wide, narrow := d.endsOf(f)
		tilt := facetTilt(wide, narrow, span.Length())
		if milled {
			o := d.add(&op.Op{
				ID: fmt.Sprintf("mill-facets-%d", i+1), Kind: op.Facet, Name: fmt.Sprintf("mill %d flats, %v", f.Sides, span),
				Setup: hold, Held: last.held, Tool: "end mill", Feature: feature, Cuts: span, Roll: &f.Roll, Dia: wide.AcrossFlats(),
			})
			o.Setup.State = fmt.Sprintf("tilted %.3f deg", tilt.Deg())
			d.facetSettings(o, f, wide, narrow, tilt, f.Leave)
			d.cutOrFail(o, feeds.Input{Operation: feeds.Mill, Diameter: units.Millimetres(10), Length: ptr(span.Length())}, f.Sides)
		}
		if !milled || f.Leave.Sign() > 0 {
			if err := d.grindFacets(i, f, last, wide, narrow, tilt, milled); err != nil {
				return err
			}
		}
	}
	return nil
}

// holding returns the grip that a stretch is facetted in: the last of the
// lathe's, with the end out that the facets are at.
func (d *draft) holding(list []chucking, f part.Facets) chucking {
	c := list[len(list)-1]
	if d.way.grip < 0 {
		return c
	}
	g := d.shape.stretches[d.way.grip]
	c.out, c.from = part.Right, d.round.Length().Minus(g.To)
	if f.To.Cmp(g.From) <= 0 {
		c.out, c.from = part.Left, g.From
	}
	c.setup.Out = c.out
	return c
}

// endsOf returns the polygon at the large and the small end of a facetted
// stretch.
func (d *draft) endsOf(f part.Facets) (wide, narrow facets.Polygon) {
	a, b := polygon(f, d.round.DiaAt(f.From)), polygon(f, d.round.DiaAt(f.To))
	for _, x := range d.shape.stretches { // the profile may step at the facets' end
		if x.facet == nil || x.facet.At != f.At {
			continue
		}
		if x.From.Equal(f.From) {
			a = unleft(f, x.A)
		}
		if x.To.Equal(f.To) {
			b = unleft(f, x.B)
		}
	}
	if a.Apothem.Less(b.Apothem) {
		return b, a
	}
	return a, b
}

// unleft returns the finished polygon whose blank, with what is left, is d.
func unleft(f part.Facets, d units.Length) facets.Polygon {
	p := facets.OfCorners(f.Sides, d)
	p.Apothem = p.Apothem.Minus(f.Leave)
	return p
}

// facetTilt returns the angle from the axis to a flat.
func facetTilt(wide, narrow facets.Polygon, l units.Length) units.Angle {
	return facets.Rise(wide.Apothem, narrow.Apothem, l)
}

// facetSettings puts the tilt, the depths and the indexing on the card.
func (d *draft) facetSettings(o *op.Op, f part.Facets, wide, narrow facets.Polygon, tilt units.Angle, leave units.Length) {
	o.Set("tilt", fmt.Sprintf("%.3f deg (%s)", tilt.Deg(), tilt.DMS(false)), "from the axis to a flat")
	depth := func(p facets.Polygon) string {
		return sheet.Inline(p.FlatDepth(p.Blank(f.Leave)).Minus(leave), units.Down)
	}
	o.Set("depth", depth(wide)+" at the large end", depth(narrow)+" at the small end")
	first := wide.Blank(f.Leave).Half().Plus(wide.Apothem).Plus(leave)
	o.Set("first flat reads", sheet.Inline(first, units.Nearest), "over it and the round opposite, at the large end")
	o.Set("first flat", "roll "+strings.TrimSuffix(f.Roll.String(), " deg"), "against the roll datum")
	o.Cautions = append(o.Cautions, cautions.EyeProtection)
	d.index(o, f.Sides)
}

// grindFacets makes the grinding of flats: what the mill left, or all of it.
func (d *draft) grindFacets(i int, f part.Facets, last chucking, wide, narrow facets.Polygon, tilt units.Angle, milled bool) error {
	if d.shop.BeltGrinder == nil {
		if !milled {
			d.fails.Add(problem.Problem{Code: problem.NotAvailable, At: f.At, Want: "flats need a mill with a dividing head or a collet block, or a belt grinder, and this shop has none (mill, dividing_head, belt_grinder)"})
			return nil
		}
		d.Warnings.Add("kit-missing", size(f.Leave)+" is left on each flat for grinding and there is no belt grinder: file and stone it (belt_grinder)")
		d.needs("belt grinder", "to finish the flats", false)
		return nil
	}
	span := op.Span{From: f.From, To: f.To}
	name, kind := fmt.Sprintf("grind %s off each of the %d flats", size(f.Leave), f.Sides), op.Grind
	if !milled {
		name, kind = fmt.Sprintf("grind %d flats, %v", f.Sides, span), op.Facet
	}
	o := d.add(&op.Op{
		ID: fmt.Sprintf("grind-facets-%d", i+1), Kind: kind, Name: name, Tool: "belt", Feature: fmt.Sprintf("facets %d", i+1), Cuts: span, Roll: &f.Roll, Dia: wide.AcrossFlats(),
		Setup: op.Setup{Machine: op.BeltGrinder, Hold: op.Jig, On: last.setup.On, Out: last.out, State: fmt.Sprintf("tilted %.3f deg", tilt.Deg())}, Held: last.held,
	})
	d.facetSettings(o, f, wide, narrow, tilt, units.Length{})
	d.cutOrFail(o, feeds.Input{Operation: feeds.Grind, Diameter: d.shop.BeltGrinder.Wheel}, 1)
	o.Minutes += float64(f.Sides) * grindMinutes
	o.Cautions = append(o.Cautions, cautions.GrindDust)
	return nil
}

// grindMinutes is what one flat takes with its measuring: a guess.
const grindMinutes = 2

// index puts the dividing head's turns on the card.
func (d *draft) index(o *op.Op, sides int) {
	switch {
	case o.Setup.Hold == op.ColletBlock:
		o.Set("index", fmt.Sprintf("a face of the block, %d in all", sides), "")
	case d.shop.DividingHead == nil:
		o.Warnings.Add("not-checked", "indexing is by the cradle: no dividing head (dividing_head)")
	default:
		r, err := divide.Divide(divide.Input{N: sides, Head: d.shop.DividingHead})
		if err != nil || r.Turns == nil {
			o.Checks = append(o.Checks, op.Check{Code: string(problem.NotReachable), Value: fmt.Sprintf("%d sides", sides), Limit: "the plates of this head", Remedy: "another plate"})
			return
		}
		text, note := fmt.Sprintf("%d turns", *r.Turns), "from flat to flat, any circle"
		if r.Spaces != nil && *r.Spaces > 0 {
			text, note = fmt.Sprintf("%d turns + %d spaces on the %d circle", *r.Turns, *r.Spaces, *r.Circle), "from flat to flat"
		}
		if r.Exact != nil && !*r.Exact {
			note += fmt.Sprintf("; no exact circle, %.4f deg off", r.Error.Deg())
		}
		o.Set("index", text, note)
	}
}

// predictFlats notes the size across flats at both ends of a taper that is
// facetted afterwards: the flats are ground parallel to the cone that came out.
func (d *draft) predictFlats(x stretch, large, small units.Length, why string) {
	name := "across flats"
	if x.facet.Sides%2 == 1 {
		name = "flat to corner"
	}
	for _, end := range []struct {
		where        string
		drawn, comes units.Length
	}{{"large", x.large(), large}, {"small", units.Min(x.A, x.B), small}} {
		drawn, out := unleft(*x.facet, end.drawn), unleft(*x.facet, end.comes)
		d.predict(fmt.Sprintf("%s at the %s end, %v", name, end.where, x.Span), drawn.AcrossFlats(), out.AcrossFlats(), "flats parallel to the cone: "+why)
	}
}

// last makes what is done when the part has its shape: the stub or the part
// cut off, then the processes.
func (d *draft) last(list []chucking) {
	c := list[len(list)-1]
	plain := c.setup
	plain.Support = ""
	if d.stub {
		d.add(&op.Op{
			ID: "stub-off", Kind: op.PartOff, Name: "cut the centre stub off and face the end", Setup: plain, Held: c.held,
			Tool: "parting blade", Feature: "stub", Cuts: d.shape.fromEnd(c.out, units.Length{}),
		})
	}
	if d.way.grip < 0 {
		o := d.add(&op.Op{
			ID: "part-off", Kind: op.PartOff, Name: "part it off to length", Setup: plain, Held: c.held, Tool: "parting blade", Feature: "part-off",
			Cuts: d.shape.fromEnd(other(c.out), units.Length{}),
		})
		o.Set("to length", size(d.round.Length()), "from the face")
		d.needs("parting blade", "to cut the part off", d.shop.PartingBlade != nil)
		d.cutOrFail(o, feeds.Input{Operation: feeds.PartOff, Diameter: d.shape.endDia(other(c.out)), Blade: d.shop.PartingBlade}, 1)
	}
	d.processes()
}

// processes makes what is done to the whole part when it has its shape.
func (d *draft) processes() {
	span := op.Span{}
	if d.round != nil {
		span = d.whole()
	}
	kinds := map[string]op.Kind{"harden": op.Harden, "temper": op.Harden, "etch": op.Etch, "glue": op.Glue, "polish": op.Polish, "mark": op.Mark}
	for i, p := range d.part.Processes {
		d.add(&op.Op{
			ID: p.Name, Kind: kinds[p.Name], Name: p.Name, Tool: p.Name, Feature: fmt.Sprintf("process %02d", i), Cuts: span,
			Setup: op.Setup{Machine: op.Bench, Hold: op.ByHand},
		})
		if p.Name == "glue" {
			wait := d.add(&op.Op{
				ID: "cure", Kind: op.Wait, Name: "wait for the glue to cure", Tool: "nothing", Feature: fmt.Sprintf("process %02d", i), Cuts: span,
				Setup: op.Setup{Machine: op.Bench, Hold: op.ByHand},
			})
			wait.Set("time", "as the glue's maker says", "no heat, no cutting and no clamping marks before then")
		}
	}
}
