package plan

import (
	"fmt"
	"slices"
	"strings"

	"setover/feeds/stiffness"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/walls"
)

// wallLimit is the least wall of a turned part: as written, else nothing to
// fail by and the usual one to warn by.
func (d *draft) wallLimit() (least units.Length, written bool) {
	if d.round.MinWall != nil {
		return *d.round.MinWall, true
	}
	return d.usual.wall, false
}

// boreWall checks the wall that a bore, with the thread in it, leaves to the
// outside: the roots of outside threads and the flats of facets count.
func (d *draft) boreWall(o *op.Op, b part.Bore) {
	dia := b.Dia
	for _, t := range d.shape.threads {
		if t.Inside && t.From == b.From {
			dia = units.Max(dia, t.spec.Major)
		}
	}
	depth := b.Depth
	if b.Through {
		depth = d.round.Length()
	}
	outside := d.thinnest(d.shape.fromEnd(b.From, depth))
	wall := outside.Minus(dia).Half()
	least, written := d.wallLimit()
	limit := least
	if !written {
		limit = units.Length{}
	}
	check := op.Check{
		Code: string(problem.WallTooThin), OK: wall.Sign() > 0 && wall.Cmp(limit) >= 0,
		Value: sheet.Inline(wall, units.Down) + " of wall round the bore", Limit: size(least),
	}
	if !check.OK {
		check.Remedy = "a bore of at most " + sheet.Inline(outside.Minus(least.Times(2)), units.Down)
		if most, ok := d.deepest(b, dia, least); ok {
			check.Remedy += ", or one no deeper than " + sheet.Inline(most, units.Down)
		}
	}
	o.Checks = append(o.Checks, check)
	if check.OK && wall.Less(least) {
		o.Warnings.Add("thin-wall", fmt.Sprintf("only %s of wall round the bore, under the usual %s", sheet.Inline(wall, units.Down), size(least)))
	}
}

// thinnest returns the least diameter of the finished outside over a span.
func (d *draft) thinnest(span op.Span) units.Length {
	least := d.bar
	for _, x := range d.shape.stretches {
		if x.Overlaps(span) {
			least = units.Min(least, d.solid(x, span))
		}
	}
	return least
}

// solid returns the least diameter of a stretch within a span: of the circle
// that its flats touch where it is facetted, and of the root of an outside
// thread.
func (d *draft) solid(x stretch, span op.Span) units.Length {
	at := func(z units.Length) units.Length {
		z = units.Max(x.From, units.Min(z, x.To))
		f := z.Minus(x.From).Over(x.Length())
		dia := x.A.Plus(units.FromFloat(f * x.B.Minus(x.A).MM()))
		if x.facet != nil {
			return unleft(*x.facet, dia).Apothem.Times(2)
		}
		return dia
	}
	least := units.Min(at(span.From), at(span.To))
	for _, t := range d.shape.threads {
		if !t.Inside && t.span.Overlaps(x.Span) && t.span.Overlaps(span) {
			least = units.Min(least, t.spec.Sizes().MinorExternal)
		}
	}
	return least
}

// deepest returns how deep a bore may go and keep the least wall: to the first
// stretch that is too thin for it.
func (d *draft) deepest(b part.Bore, dia, least units.Length) (units.Length, bool) {
	need := dia.Plus(least.Times(2))
	most := d.round.Length()
	for _, x := range d.shape.stretches {
		if d.solid(x, x.Span).Cmp(need) >= 0 {
			continue
		}
		near := x.From
		if b.From == part.Right {
			near = d.round.Length().Minus(x.To)
		}
		most = units.Min(most, near)
	}
	return most, most.Sign() > 0
}

// crossWalls checks the wall of every cross hole, in the finished part and
// while the bar is still round, and keeps the thinnest of each for the cards.
func (d *draft) crossWalls() error {
	if len(d.round.Holes)+len(d.round.Rows) == 0 || d.bar.Less(d.round.Largest()) {
		return nil
	}
	finished, err := walls.Check(walls.Input{Name: d.part.Name, Part: d.part})
	if err != nil {
		return err
	}
	drilling, err := walls.Check(walls.Input{Name: d.part.Name, Part: d.part, Bar: &d.bar})
	if err != nil {
		return err
	}
	d.fails = append(d.fails, finished.Fails()...)
	d.Warnings = append(d.Warnings, finished.Warnings...)
	for _, f := range drilling.Fails() {
		if slices.ContainsFunc(finished.Fails(), func(g problem.Problem) bool { return sameWall(f, g) }) {
			continue
		}
		f.Want = "while the bar is still " + size(d.bar) + ": " + f.Want
		d.fails = append(d.fails, f)
	}
	for _, h := range finished.Holes {
		thin := wall{h.N, walls.Side, h.Side}
		for _, w := range []struct {
			what walls.Wall
			l    *units.Length
		}{{walls.End, &h.End}, {walls.Next, h.Next}, {walls.Bore, h.Bore}, {walls.Mouth, h.Mouth}} {
			if w.l != nil && w.l.Sign() > 0 && w.l.Less(thin.is) {
				thin = wall{h.N, w.what, *w.l}
			}
		}
		d.walls = append(d.walls, thin)
	}
	return nil
}

// sameWall reports whether two problems are about one wall of one hole.
func sameWall(f, g problem.Problem) bool {
	a, _, _ := strings.Cut(f.Want, " is ")
	b, _, _ := strings.Cut(g.Want, " is ")
	return f.Found == g.Found && a == b && f.At == g.At
}

// wall is the thinnest wall of a hole, those that are meant to be open left
// out.
type wall struct {
	n    int
	what walls.Wall
	is   units.Length
}

// thinnestWall puts the thinnest wall of some holes on the card that drills
// them.
func (d *draft) thinnestWall(o *op.Op, list []crossHole) {
	if len(d.walls) == 0 {
		return
	}
	thin := d.walls[list[0].n-1]
	for _, h := range list[1:] {
		if w := d.walls[h.n-1]; w.is.Less(thin.is) {
			thin = w
		}
	}
	least := walls.Least(d.round.MinWall, d.material, list[0].dia)
	o.Set("thinnest wall", sheet.Inline(thin.is, units.Down), fmt.Sprintf("%s of hole %d; at least %s wanted; all of them: setover holes wall", thin.what, thin.n, size(least)))
}

// gripNote says how the work is held without harm: how much of it, and what
// keeps a finished band or a soft stuff from being marked.
func (d *draft) gripNote(o *op.Op, c chucking) {
	if c.setup.On != op.StockSurface {
		held := c.held.Length().Minus(c.standoff)
		o.Set("held over", size(held), "in soft jaws, or over a strip of card or brass: the band is finished")
	}
	switch d.material.Group {
	case materials.Wood, materials.Laminate:
		o.Set("grip", "light, on the whole length of the jaws", "it crushes and splits: a split bush spreads the jaws")
	case materials.Plastic:
		o.Set("grip", "light", "it gives way and comes out three-sided: a split bush spreads the jaws")
	}
}

// springs says for each grip how far the work gives way. It takes time, so it
// is asked of the way that was chosen alone.
func (d *draft) springs() {
	for _, c := range d.chuckings {
		for _, o := range d.ops {
			if o.ID == roughID(c.out) {
				d.springing(o, c)
			}
		}
	}
}

// springing puts on the card how far the finished work gives way under a
// finishing cut, at the place where it gives way most.
func (d *draft) springing(o *op.Op, c chucking) {
	in := stiffness.Input{
		Material: d.material.Name, Stations: d.fromJaws(c), Support: stiffness.Chuck,
		Depth: &d.usual.finishDepth, Feed: ptr(units.MillimetresPerRev(d.usual.finishFeed)),
	}
	if c.setup.Support != "" {
		in.Support = stiffness.Centre
	}
	r, err := stiffness.Overhang(in)
	if err != nil {
		return // an end that comes to a point has no stiffness to reckon with
	}
	o.Set("springs", sheet.Inline(r.Deflection, units.Up), fmt.Sprintf("at the most, %s from the jaws, under a finishing cut of %s a side", size(r.At), size(d.usual.finishDepth)))
}

// fromJaws returns the finished outside of a chucking as stations from the jaws
// outward.
func (d *draft) fromJaws(c chucking) []stiffness.Station {
	var list []stiffness.Station
	add := func(z, dia units.Length) { list = append(list, stiffness.Station{Z: c.reach(z), Dia: dia}) }
	if c.standoff.Sign() > 0 {
		list = append(list, stiffness.Station{Dia: d.gripDia(c.setup.On)}, stiffness.Station{Z: c.standoff, Dia: d.gripDia(c.setup.On)})
	}
	for i := len(c.stretches) - 1; i >= 0; i-- {
		x := c.stretches[i]
		if c.out == part.Right {
			add(x.From, x.A)
			add(x.To, x.B)
		} else {
			add(x.To, x.B)
			add(x.From, x.A)
		}
	}
	return list
}
