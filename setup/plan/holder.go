package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
)

// fourSides is how many sides a polygon has, or a part of them, that a four-jaw holds.
const fourSides = 4

// barHolder returns what the bar is held in at first: the chuck; a four-jaw where the
// chuck's jaws do not meet the flats of the bar, or where there is no chuck; a collet
// where there is neither. It is nothing where there is none of them.
func (j *job) barHolder() op.Device {
	lathe := j.Shop.Lathe
	flats := j.sides() > 0 && lathe.Chuck != nil && j.sides()%lathe.Chuck.Jaws != 0
	switch {
	case lathe.FourJaw != nil && (lathe.Chuck == nil || flats && j.sides()%fourSides == 0):
		return op.FourJaw
	case lathe.Chuck != nil:
		return op.Chuck
	case j.sides() == 0 && j.certifies.InCollet(op.LenOf(j.bar)):
		return op.Collet
	}
	return ""
}

// sides returns how many flats the bar has, 0 for a round one.
func (j *job) sides() int {
	if j.round == nil || j.round.Stock == nil {
		return 0
	}
	return j.round.Stock.Sides()
}

// gripOf returns what holds a stretch when it is turned end for end: a split nut an
// outside thread; else the chuck, where that has no room on it the first of some others
// that has, and nothing where none has.
func (j *job) gripOf(i int, others ...op.Device) op.Device {
	first := op.Chuck
	switch {
	case j.shape.Stretches[i].Thread != nil:
		others, first = nil, op.SplitNut
	case j.Shop.Lathe.Chuck == nil:
		first = op.FourJaw
	}
	for _, d := range append([]op.Device{first}, others...) {
		if j.canGrip(d, i) {
			return d
		}
	}
	return ""
}

// owns reports whether the lathe has what holds a diameter.
func (j *job) owns(d op.Device, dia units.Length) bool {
	lathe := j.Shop.Lathe
	switch d {
	case op.Collet:
		return j.certifies.InCollet(op.LenOf(dia))
	case op.FourJaw:
		return lathe.FourJaw != nil
	case op.SoftJaws:
		return lathe.Chuck != nil && lathe.SoftJaws
	}
	return lathe.Chuck != nil
}

// canGrip reports whether a stretch can be held in a device: a cylinder, long enough to be
// held and to stand clear of the jaws a little, or the flats that are cut all along it,
// where the chuck's jaws meet them; or an outside thread, in a split nut.
func (j *job) canGrip(d op.Device, i int) bool {
	x := j.shape.Stretches[i]
	need := j.leastGrip(d, x.Left.Turned)
	switch {
	case !j.owns(d, x.Left.Turned) || x.Facets != nil && !j.meets(d, x):
		return false
	case x.Thread != nil:
		return d == op.SplitNut && need.Cmp(inNut(*x.Thread).Length()) <= 0
	}
	return x.Kind() == outline.Cylinder && need.Plus(practice.JawClear.Length()).Cmp(x.Length()) <= 0
}

// meets reports whether the jaws of a device meet the flats all along a stretch.
func (j *job) meets(d op.Device, x outline.Stretch) bool {
	c, f := j.Shop.Lathe.Chuck, x.Facets
	return d == op.Chuck && c != nil && f.Sides%c.Jaws == 0 && x.Thread == nil &&
		f.Span.Covers(x.Span) && x.Span.Covers(f.Span)
}

// leastGrip returns how much of a diameter a device must hold. In jaws that is the least
// of practice, more of a thicker one, and never more than they are long; in soft ones
// what serves for facing and boring close to them; in a collet 1 d or 20 mm.
func (j *job) leastGrip(d op.Device, dia units.Length) units.Length {
	switch d {
	case op.Collet:
		return units.Min(practice.GripCollet.Of(dia), practice.GripColletMost.Length())
	case op.SoftJaws:
		return units.Max(practice.GripSoftLeast.Length(), practice.GripSoftPart.Of(dia))
	}
	need := units.Max(practice.GripLeast.Length(), practice.GripPart.Of(dia))
	if jaws := j.longest(d); jaws != nil {
		need = units.Min(need, *jaws)
	}
	return need
}

// gripped returns how much of a bar a device is given to hold: as much as its jaws are long, or what it
// wants at the least where the shop does not say.
func (j *job) gripped(d op.Device, dia units.Length) units.Length {
	if most := j.longest(d); most != nil {
		return *most
	}
	return j.leastGrip(d, dia)
}

// longest returns how much of a bar a device holds at the most: as much as its jaws are
// long, nil where the shop does not say.
func (j *job) longest(d op.Device) *units.Length {
	length := func(c *shop.Chuck) *units.Length {
		if c == nil {
			return nil
		}
		return c.JawLength
	}
	lathe := j.Shop.Lathe
	switch d {
	case op.Collet:
		return new(practice.GripColletMost.Length())
	case op.FourJaw:
		if l := length(lathe.FourJaw); l != nil {
			return l
		}
	}
	return length(lathe.Chuck)
}

// otherwise returns the ways in which another device holds the work: a collet where the
// chuck's grip fails or loses the axis, a four-jaw where it fails.
func (w way) otherwise(d *attempt) []way {
	var list []way
	for i, c := range d.chuckings {
		with := func(device op.Device) {
			next := w
			next.in[i] = device
			list = append(list, next)
		}
		fails := d.failsToHold(c)
		loses := i > 0 && d.failing() == 0 && d.cost.Losses > 0
		if c.setup.Device != op.Chuck || !fails && !loses {
			continue
		}
		dia, fits := d.bar, d.sides() == 0
		if i > 0 {
			dia, fits = d.shape.Stretches[w.grip].Left.Turned, d.canGrip(op.Collet, w.grip)
		}
		if fits && d.owns(op.Collet, dia) {
			with(op.Collet)
		}
		if fails && d.owns(op.FourJaw, dia) {
			with(op.FourJaw)
		}
	}
	return list
}

// failsToHold reports whether the grip of a chucking fails.
func (d *attempt) failsToHold(c chucking) bool {
	codes := []problem.Code{
		problem.GripSurface, problem.GripLength, problem.GripRange, problem.JawRoom, problem.Bruise,
	}
	return slices.ContainsFunc(d.ops, func(o *op.Op) bool {
		return o.Setup.Grip() == c.setup.Grip() && o.Fails(codes...)
	})
}

// heldDia returns the diameter that a chucking holds the outside by.
func (t *task) heldDia(c chucking) units.Length {
	if c.setup.On == op.Stock {
		return t.bar
	}
	return c.setup.On.Dia.Length()
}

// spared says what keeps a finished band from being marked.
func spared(d op.Device) say.Text {
	switch d {
	case op.Collet:
		return "in a collet of its size, which does not mark it: the band is finished"
	case op.SoftJaws:
		return "in soft jaws bored for it: the band is finished"
	case op.SplitNut:
		return "in a nut turned and split for it, run up to the end of the thread"
	}
	return "in soft jaws, or over a strip of card or brass: the band is finished"
}
