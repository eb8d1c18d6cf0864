package plan

import (
	"slices"

	"setover/feeds/stiffness"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
)

// way is one way to hold the part from first to last: which end stands out
// first, and the cylinder it is held on when it is turned end for end. grip is
// its stretch, or offBar when it is finished in one chucking and parted off.
type way struct {
	first part.End
	grip  int
	shim  bool // the cross holes are drilled after the taper, on a shim
}

const offBar = -1

// chucking is one grip in the lathe. reach is how much of the part is cut in
// it, and standoff how far what is cut stays clear of the jaws.
type chucking struct {
	setup           op.Setup
	held            op.Span
	dia             units.Length      // of what is held
	stretches       []outline.Stretch // from the end that stands out inward
	reach, standoff units.Length
	out             part.End
}

// fromJaws returns how far z, a place on the part, is from the face of the jaws.
func (c chucking) fromJaws(z units.Length) units.Length {
	jaws := c.held.To
	if c.out == part.Left {
		jaws = c.held.From
	}
	return z.Minus(jaws).Abs().Plus(c.standoff)
}

// spanning returns the span that holds both.
func spanning(a, b op.Span) op.Span {
	return op.Span{From: units.Min(a.From, b.From), To: units.Max(a.To, b.To)}
}

// about returns the span of a length about its middle.
func about(middle, length units.Length) op.Span {
	return op.Span{From: middle.Minus(length.Half()), To: middle.Plus(length.Half())}
}

func other(e part.End) part.End {
	if e == part.Left {
		return part.Right
	}
	return part.Left
}

// ways returns every way to hold the part that could serve. Those with a shim
// in the V-blocks come last, so that of two that cost the same the plain one
// wins.
func (j *job) ways() []way {
	var list []way
	for _, first := range []part.End{part.Left, part.Right} {
		for i := range j.shape.Stretches {
			if w := (way{first: first, grip: i}); j.canGrip(i) && j.reaches(w) {
				list = append(list, w)
			}
		}
		if j.partsOff(first) {
			list = append(list, way{first: first, grip: offBar})
		}
	}
	if j.Shop.VBlocks == nil || len(j.shape.Holes) == 0 {
		return list
	}
	for _, w := range slices.Clone(list) {
		if _, far := j.covered(w); seat(far).Length().Sign() > 0 {
			w.shim = true
			list = append(list, w)
		}
	}
	return list
}

// canGrip reports whether a stretch can be held in a chuck: a cylinder without
// facets or an outside thread, as long as its diameter and 12 mm at the least.
func (j *job) canGrip(i int) bool {
	x := j.shape.Stretches[i]
	return x.Kind() == outline.Cylinder && x.Facets == nil && x.Thread == nil &&
		units.Max(practice.LeastGrip.Length(), x.Left.Turned).Cmp(x.Length()) <= 0
}

// covered returns the stretches that are cut with the first end out, from that
// end to the far side of the grip, and the rest.
func (j *job) covered(w way) (near, far []outline.Stretch) {
	all := j.shape.Stretches
	switch {
	case w.grip == offBar:
		return all, nil
	case w.first == part.Left:
		return all[:w.grip+1], all[w.grip+1:]
	}
	return all[w.grip:], all[:w.grip]
}

// seat returns the longest plain taper of a side: what lies in the V-blocks on
// a shim.
func seat(side []outline.Stretch) outline.Stretch {
	var best outline.Stretch
	for _, x := range side {
		if x.Kind() == outline.Taper && best.Length().Less(x.Length()) {
			best = x
		}
	}
	return best
}

// reaches reports whether every outside thread lies within what is cut from its
// end.
func (j *job) reaches(w way) bool {
	near, far := j.covered(w)
	for _, t := range j.shape.Threads {
		side := near
		if t.From != w.first {
			side = far
		}
		if !t.Inside && !slices.ContainsFunc(side, func(x outline.Stretch) bool { return x.Overlaps(t.Span) }) {
			return false
		}
	}
	return true
}

// partsOff reports whether everything can be cut with one end out and the part
// cut off the bar: nothing starts at the other end.
func (j *job) partsOff(out part.End) bool {
	return !slices.ContainsFunc(j.shape.Threads, func(t outline.Thread) bool { return t.From != out }) &&
		!slices.ContainsFunc(j.shape.Bores, func(b outline.Bore) bool { return b.From != out && !b.Through })
}

// hold returns the task of making the part in one way.
func (j *job) hold(w way) *task {
	t := &task{job: j, way: w}
	t.near, t.far = j.covered(w)
	t.chuckings = []chucking{t.chuck(t.near, w.first, op.Stock, t.beyond(), j.bar)}
	if w.grip != offBar {
		g := j.shape.Stretches[w.grip]
		t.chuckings = append(t.chuckings, t.chuck(t.far, other(w.first), cylinder(g), g.Span, g.Left.Turned))
	}
	t.blank, t.stub = t.barBlank()
	return t
}

// cylinder returns a stretch as a surface to be held on.
func cylinder(x outline.Stretch) op.Surface { return op.SurfaceOf(op.Cylinder, x.Span, x.Left.Turned) }

// beyond is what the first chucking holds: the bar over the stretches that are
// cut later, or beyond the part where it is parted off.
func (t *task) beyond() op.Span {
	l := t.shape.Length
	switch {
	case len(t.far) > 0:
		return spanning(t.far[0].Span, t.far[len(t.far)-1].Span)
	case t.first == part.Left:
		return op.Span{From: l, To: l.Plus(t.bar)}
	}
	return op.Span{From: t.bar.Neg()}
}

// chuck returns the grip that cuts a side of the part. The stretches are turned
// round so that they run from the end that stands out.
func (t *task) chuck(side []outline.Stretch, out part.End, on op.Surface, held op.Span, dia units.Length) chucking {
	c := chucking{setup: op.Setup{Machine: op.Lathe, Device: op.Chuck, On: on, Out: out}, held: held, dia: dia, out: out}
	for _, x := range side {
		c.reach = c.reach.Plus(x.Length())
	}
	c.stretches = slices.Clone(side)
	if out == part.Right {
		slices.Reverse(c.stretches)
	}
	c.standoff = practice.RunOut.Length()
	switch {
	case on != op.Stock: // the band is held by no more than it needs
		c.standoff = held.Length().Minus(units.Max(practice.LeastGrip.Length(), dia))
	case t.grip == offBar: // room to part it off
		c.standoff = c.standoff.Plus(t.parting())
	}
	slender := len(side) > 0 && c.reach.Over(dia) > t.overhang()
	c.setup.Centre = slender || t.grip == offBar && t.onNeck(out)
	return c
}

// overhang returns how many diameters stand out of a chuck without a centre.
func (j *job) overhang() float64 { return practice.Overhang.Number(j.material) }

// onNeck reports whether a part that is cut off the bar hangs on a neck of less
// than a third of its largest diameter: it then needs a centre.
func (j *job) onNeck(out part.End) bool {
	return practice.SlenderNeck.Of(j.turned(other(out))).Less(j.shape.Largest())
}

// turned returns the diameter an end is turned to.
func (j *job) turned(e part.End) units.Length { return j.shape.End(e).Turned }

// thin reports whether an end is too thin for a centre.
func (j *job) thin(e part.End) bool { return j.turned(e).Less(practice.ThinEnd.Length()) }

// inBlocks returns what the V-blocks hold while the bar is worked across: the
// bar as bought over the stretches that are cut later, or all of it where it is
// parted off; where the whole outside is cut in the first grip, the cylinder it
// is held on next; on a shim the taper that is cut by then.
func (t *task) inBlocks() (on op.Surface, held op.Span, dia units.Length) {
	switch {
	case t.shim:
		x := seat(t.far)
		return op.SurfaceOf(op.Cone, x.Span, x.Large()), x.Span, x.Large()
	case t.grip == offBar:
		return op.Stock, t.shape.Whole(), t.bar
	case len(t.far) == 0:
		g := t.shape.Stretches[t.grip]
		return cylinder(g), g.Span, g.Left.Turned
	}
	return op.Stock, t.beyond(), t.bar
}

// gripNote says how the work is held without harm: how much of it, and what
// keeps a finished band or a soft stuff from being marked.
func (t *task) gripNote(o *op.Op, c chucking) {
	if c.setup.On != op.Stock {
		o.Set("held over", c.held.Length().Minus(c.standoff),
			"in soft jaws, or over a strip of card or brass: the band is finished")
	}
	switch m := t.material; {
	case m.Has(materials.Crushes):
		o.Set("grip", say.Text("light, on the whole length of the jaws"),
			"it crushes and splits: a split bush spreads the jaws")
	case m.Has(materials.ThreeSided):
		o.Set("grip", say.Text("light"), "it gives way and comes out three-sided: a split bush spreads the jaws")
	}
}

// springs puts on the roughing card of each grip how far the finished work
// gives way under a finishing cut, at the place where it gives way most. It
// takes time, so it is asked of the way that was chosen alone.
func (d *attempt) springs() {
	depth := practice.FinishDepth.Length()
	for _, c := range d.chuckings {
		at := slices.IndexFunc(d.ops, func(o *op.Op) bool { return o.ID == roughID(c.out) })
		if at < 0 {
			continue
		}
		in := stiffness.Input{
			Material: d.material.Name, Stations: c.stations(), Support: stiffness.Chuck,
			Depth: &depth, Feed: new(practice.FinishFeed.Feed()),
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
