// Package predict recomputes the part from what the instruments were set to,
// and from nothing else: the dial lines, the mark on the compound's scale, the
// drill that is in the drawer.
package predict

import (
	"setover/setup/base/units"
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

// oversize is how much larger than itself a drill cuts: size and excess in mm.
// Handbook means, from memory; straight lines between them.
func oversize() [][2]float64 {
	return [][2]float64{{0, 0.02}, {1.6, 0.04}, {3.2, 0.08}, {6.4, 0.10}, {12.7, 0.13}}
}

// Drilled returns the hole a drill cuts in metal, a little larger than the
// drill: 0.04 mm at 1.6 mm, 0.08 at 3.2, 0.10 at 6.4, 0.13 from 12.7 on (means
// from memory), rounded to 0.001 mm.
func Drilled(drill units.Length) units.Length {
	points := oversize()
	d := drill.MM()
	by := points[len(points)-1][1]
	for i, p := range points[1:] {
		if q := points[i]; d <= p[0] {
			by = q[1] + (p[1]-q[1])*(d-q[0])/(p[0]-q[0])
			break
		}
	}
	return drill.Plus(units.FromFloat(by).RoundTo(units.MustLength("0.001mm"), units.Nearest))
}
