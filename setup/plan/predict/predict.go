// Package predict recomputes the part from what the instruments were set to,
// and from nothing else: the dial lines, the mark on the compound's scale, the
// drill that is in the drawer.
package predict

import (
	"setover/setup/base/units"
	"setover/threads/drill"
)

// Diameter returns the diameter that is left when a tool touches a bar of the
// diameter start and the cross slide then travels in by travel:
//
//	start - 2·travel
//
// It is exact.
func Diameter(start, travel units.Length) units.Length { return start.Minus(travel.Times(2)) }

// SmallEnd returns the small diameter of a taper that begins at the diameter
// large and is cut at the half angle set over the length l along the axis:
//
//	large - 2·l·tan(a)
//
// Good to 1e-9 mm. A taper that comes to a point first has the small end 0.
func SmallEnd(large, l units.Length, set units.Angle) units.Length {
	d := large.Minus(units.FromFloat(2 * l.MM() * set.Tan()))
	if d.Sign() < 0 {
		return units.Length{}
	}
	return d
}

// Drilled returns the hole a drill cuts in metal, a little larger than the
// drill, as threads/drill has it.
func Drilled(with units.Length) units.Length { return drill.Cuts(with, nil) }

// DrilledOff returns how far that hole may be off, either way, as threads/drill has it.
func DrilledOff(with units.Length) units.Length { return drill.Scatter(with) }
