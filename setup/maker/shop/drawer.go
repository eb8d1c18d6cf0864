package shop

import (
	"setover/setup/base/units"
	"setover/setup/book/drills"
)

// Drawer is the drills on hand, smallest first.
type Drawer []drills.Drill

// Nearest returns the drill in the drawer for a hole of the size l. The
// direction says which side is safe: Down never above l, Up never below,
// Nearest either. ok is false when the drawer has none on that side.
func (d Drawer) Nearest(l units.Length, dir units.Direction) (drill drills.Drill, s Setting[units.Length], ok bool) {
	var side Drawer
	for _, x := range d {
		if c := x.Dia.Cmp(l); c == 0 || dir == units.Nearest || (dir == units.Down) == (c < 0) {
			side = append(side, x)
		}
	}
	if len(side) == 0 {
		return drills.Drill{}, Setting[units.Length]{Exact: l}, false
	}
	drill = drills.Nearest(side, l)
	return drill, Setting[units.Length]{l, drill.Dia, drill.Dia.Minus(l), drill.Name}, true
}
