package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// steadies puts the set-up of a chucking in which it is worked along the axis, in the
// steady where the way says so. What was sawn off is faced in it too: there all of the
// outside is turned by then.
func (t *task) steadies(i int) {
	c := &t.chuckings[i]
	if t.grip == inDog {
		return
	}
	c.axial = c.setup.Plain()
	if !t.steady[i] {
		return
	}
	middle, ok := t.land(i)
	if !ok {
		return
	}
	c.axial = c.axial.Steadied(middle)
	if t.turnedBefore(i) {
		c.facing = c.facing.Steadied(middle)
	}
}

// turnedBefore reports whether all of the outside is turned before a chucking.
func (t *task) turnedBefore(i int) bool { return i > 0 && t.sawn }

// land returns where the middle of a steady stands in a chucking: on the outermost
// cylinder out of the jaws that is long enough for its fingers and in its range, without
// facets, a thread, a hole or a slot there, at the end of it that lies further out.
func (t *task) land(i int) (middle op.Len, ok bool) {
	takes, c := t.Shop.Lathe.Steady, t.chuckings[i]
	if takes == nil || i > 0 && t.grip == inBore || t.grip == inDog {
		return 0, false
	}
	list := c.stretches
	if t.turnedBefore(i) {
		list = slices.Clone(t.shape.Stretches)
		if c.out == part.Right {
			slices.Reverse(list)
		}
	}
	long := op.LenOf(practice.SteadyLand.Length())
	for _, x := range list {
		if dia := x.Left.Turned; !plain(x) || dia.Less(takes.From) || takes.To.Less(dia) {
			continue
		}
		s := inWork(x.Span)
		outer := s.From
		if c.out == part.Right {
			outer = s.To
		}
		land := behind(outer, long, c.out)
		if s.Covers(land) && t.clearOfJaws(land, c) && !t.holed(land) {
			return inward(outer, long/2, c.out), true
		}
	}
	return 0, false
}

// plain reports whether a stretch is a cylinder and nothing else.
func plain(x outline.Stretch) bool {
	return x.Kind() == outline.Cylinder && x.Facets == nil && x.Thread == nil
}

// clearOfJaws reports whether a stretch lies out of the jaws of a chucking.
func (t *task) clearOfJaws(s work.Span, c chucking) bool {
	if c.out == part.Left {
		return s.To <= c.setup.Face()
	}
	return c.setup.Face() <= s.From
}

// holed reports whether a hole or a slot lies in a stretch.
func (t *task) holed(s work.Span) bool {
	across := func(middle, wide units.Length) bool { return inWork(about(middle, wide)).Overlaps(s) }
	for _, h := range t.shape.Holes {
		if across(h.Z, h.Dia) {
			return true
		}
	}
	for _, x := range t.shape.Slots {
		if inWork(x.Span).Overlaps(s) {
			return true
		}
	}
	return false
}

// steadied returns the ways in which a steady carries the work, where all that fails is that
// it springs while it is worked along the axis. It is not parted off in one: what comes free at the
// jaws would whip in it.
func (w way) steadied(d *attempt) []way {
	var list []way
	mended := 0
	for i, c := range d.chuckings {
		n := d.springsAlong(i, c)
		if _, ok := d.land(i); !ok || w.steady[i] || n == 0 {
			continue
		}
		mended += n
		next := w
		next.steady[i] = true
		list = append(list, next)
	}
	if mended < d.failing()-len(d.no) {
		return nil
	}
	return list
}

// springsAlong returns how often what a steady would carry springs in a chucking.
func (d *attempt) springsAlong(i int, c chucking) int {
	n := 0
	for _, o := range d.ops {
		if along := o.Axial || d.turnedBefore(i); !along || o.Setup.Grip() != c.setup.Grip() {
			continue
		}
		for _, x := range o.Checks {
			if !x.OK && x.Code == problem.Overhang {
				n++
			}
		}
	}
	return n
}
