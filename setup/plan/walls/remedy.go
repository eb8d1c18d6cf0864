package walls

import (
	"math"
	"slices"

	"setover/setup/base/units"
)

// The search for changes is bounded, so that a part with thousands of walls
// that nothing can mend is still answered at once: so many looks for one wall
// either way, and so many for the whole part.
const (
	looksEach = 400
	looksAll  = 40_000
)

// grains is how many steps a change is given in there are to a mm.
const grains = 100

// remedy finds the nearest change that restores one wall of a hole without
// spoiling another or running it into something new: the least, in mm, of a
// smaller diameter and a move along the bar either way. before are the walls
// that fall short now, out of the figures f.
//
// Diameters and places are tried on whole hundredths of a mm, so that they can
// be written as they are printed. A wall cannot grow faster than the hole is
// moved, so where one is short by s no place nearer than s needs to be looked
// at: the search strides on by what is short, and finds the nearest.
func (d *drilled) remedy(rule rule, h *hole, f figures, before []lack, wall Wall, t *Thin) {
	best := math.MaxInt
	try := func(change Change, way, most int, make func(steps int) hole) {
		for n, looks := 1, 0; n <= min(most, best-1) && looks < looksEach && d.looks < looksAll; looks++ {
			d.looks++
			c := make(n)
			short := d.falls(rule, &c, f, before, wall, change, float64(way))
			if short <= 0 {
				best, t.Change = n, change
				t.To, t.By = units.FromFloat(c.z), units.FromFloat(c.z).Minus(h.Z)
				if change == Smaller {
					t.To, t.By = units.FromFloat(2*c.r), units.FromFloat(2*c.r).Minus(h.Dia)
				}
				return
			}
			if change == Smaller {
				short *= rule.stride()
			}
			n += max(1, int(min(short*grains-1e-6, 1e9)))
		}
	}
	dia := int(math.Ceil(2*h.r*grains-1e-6)) - 1 // the first below what it is
	place := int(math.Round(h.z * grains))
	try(Smaller, 0, dia, func(steps int) hole {
		c := *h
		c.r = float64(dia-steps+1) / grains / 2
		return c
	})
	for _, way := range []int{1, -1} {
		room := place
		if way > 0 {
			room = int(d.length*grains) - place
		}
		try(Move, way, room, func(steps int) hole {
			c := *h
			c.z = float64(place+way*steps) / grains
			return c
		})
	}
}

// falls returns how far a changed hole still is from having its wall restored,
// 0 when it is: the most any wall that stands in the way is short by.
func (d *drilled) falls(rule rule, c *hole, f figures, before []lack, wall Wall, change Change, way float64) float64 {
	if d.set(c) != nil {
		return 1.0 / grains
	}
	least := rule.least(2 * c.r)
	after := d.measure(c, least)
	need := 0.0
	want := func(w Wall, v float64) {
		by := least - v
		if w == Bore && change == Move {
			by = min(by, d.breaks(c, way)) // it jumps where the hole comes past a bore's end
		}
		need = max(need, by, 1.0/grains)
	}
	for _, l := range after.lacks(c, least) {
		known := slices.ContainsFunc(before, func(b lack) bool { return b.wall == l.wall })
		if l.wall == wall || !known {
			want(l.wall, l.is)
		}
	}
	if after.met > f.met { // into a hole it may meet, but did not
		need = max(need, min(after.shallow, least), 1.0/grains)
	}
	if f.mouth > 0 && after.mouth <= 0 { // onto a corner or an edge
		want(Mouth, after.mouth)
	}
	if f.bore > 0 && after.bore <= 0 { // into a bore
		want(Bore, after.bore)
	}
	return need
}

// breaks returns how far a hole is moved until it comes past the next end of a
// bore.
func (d *drilled) breaks(c *hole, way float64) float64 {
	next := math.Inf(1)
	for _, o := range d.bores {
		for _, z := range []float64{o.from - c.r, o.to + c.r} {
			if ahead := (z - c.z) * way; ahead > 0 {
				next = min(next, ahead)
			}
		}
	}
	return next
}

// stride returns how much smaller a hole must be drilled at least, for each mm
// that a wall is short by. The wall grows by half of it, and the least wall
// falls where it depends on the hole.
func (r rule) stride() float64 { return 1 / (0.5 + r.part) }
