package plan

import (
	"fmt"

	"setover/feeds/stiffness"
	"setover/setup/part"
	"setover/setup/plan/op"
	"setover/setup/problem"
	"setover/setup/sheet"
	"setover/setup/units"
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
