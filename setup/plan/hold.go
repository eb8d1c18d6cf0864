package plan

import (
	"slices"

	"setover/feeds/stiffness"
	"setover/setup/base/say"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"

	"setover/setup/base/units"
)

// gripNote says how the work is held without harm: how much of it, and what
// keeps a finished band or a soft stuff from being marked.
func (t *task) gripNote(o *op.Op, c chucking) {
	if c.setup.On != op.Stock {
		o.Set("held over", c.held.Length().Minus(c.standoff),
			"in soft jaws, or over a strip of card or brass: the band is finished")
	}
	switch t.material.Group {
	case materials.Wood, materials.Laminate:
		o.Set("grip", say.Text("light, on the whole length of the jaws"),
			"it crushes and splits: a split bush spreads the jaws")
	case materials.Plastic:
		o.Set("grip", say.Text("light"), "it gives way and comes out three-sided: a split bush spreads the jaws")
	}
}

// springs puts on the roughing card of each grip how far the finished work
// gives way under a finishing cut, at the place where it gives way most. It
// takes time, so it is asked of the way that was chosen alone.
func (d *draft) springs() {
	depth := practice.FinishDepth.Length()
	for _, c := range d.chuckings {
		at := slices.IndexFunc(d.ops, func(o *op.Op) bool { return o.ID == roughID(c.out) })
		if at < 0 {
			continue
		}
		in := stiffness.Input{
			Material: d.material.Name, Stations: c.stations(), Support: stiffness.Chuck,
			Depth: &depth, Feed: ptr(practice.FinishFeed.Feed()),
		}
		if c.setup.Centre {
			in.Support = stiffness.Centre
		}
		r, err := stiffness.Overhang(in)
		if err != nil {
			continue // an end that comes to a point has no stiffness to reckon with
		}
		d.ops[at].Set("springs", r.Deflection.Up(),
			"at the most, ", r.At, " from the jaws, under a finishing cut of ", depth, " a side")
	}
}

// stations returns the finished outside of a chucking from the jaws outward.
func (c chucking) stations() []stiffness.Station {
	var list []stiffness.Station
	add := func(z, dia units.Length) { list = append(list, stiffness.Station{Z: c.fromJaws(z), Dia: dia}) }
	if c.standoff.Sign() > 0 {
		list = append(list, stiffness.Station{Dia: c.dia}, stiffness.Station{Z: c.standoff, Dia: c.dia})
	}
	for _, x := range slices.Backward(c.stretches) {
		if c.out == part.Right {
			add(x.From, x.Left.Turned)
			add(x.To, x.Right.Turned)
		} else {
			add(x.To, x.Right.Turned)
			add(x.From, x.Left.Turned)
		}
	}
	return list
}
