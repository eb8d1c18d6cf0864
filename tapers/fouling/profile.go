package fouling

import (
	"math"

	"setover/setup/base/geom"
	"setover/setup/maker/shop"
)

// Corner is a corner of the work's outside, in mm: Z from the face of the jaws
// toward the tailstock, Dia the diameter there.
type Corner struct{ Z, Dia float64 }

// Profile is the outline of the work as it stands, from the headstock toward
// the tailstock: straight from corner to corner, two at one Z make a shoulder.
// Of a cut that is looked at it has what the cut leaves on its own stretch, and
// everything else as it is before.
type Profile []Corner

// fine is the least in mm that is told from nothing.
const fine = 1e-6

// between returns the diameter at z on the straight from a to b.
func between(a, b Corner, z float64) float64 {
	if b.Z-a.Z < fine {
		return b.Dia
	}
	return a.Dia + (b.Dia-a.Dia)*(z-a.Z)/(b.Z-a.Z)
}

// Mirrored returns the profile turned end for end about z 0.
func (p Profile) Mirrored() Profile {
	m := make(Profile, len(p))
	for i, c := range p {
		m[len(p)-1-i] = Corner{-c.Z, c.Dia}
	}
	return m
}

// Moved returns the profile moved along z.
func (p Profile) Moved(by float64) Profile {
	m := make(Profile, len(p))
	for i, c := range p {
		m[i] = Corner{c.Z + by, c.Dia}
	}
	return m
}

// InJaws returns the profile with the jaws that hold it as a part of it, and what
// is in them left out: so they are in the way of a plain cut beside them. Without
// the size of the jaws it is returned as it is.
func (p Profile) InJaws(c *shop.Chuck) Profile {
	if c == nil || c.JawLength == nil || c.JawCircle == nil {
		return p
	}
	jaws := c.JawCircle.MM()
	held := Profile{{-c.JawLength.MM(), jaws}, {0, jaws}}
	for i, b := range p {
		switch {
		case b.Z < -fine:
			continue
		case i > 0 && p[i-1].Z < -fine && b.Z > fine:
			held = append(held, Corner{0, between(p[i-1], b, 0)})
		}
		held = append(held, b)
	}
	return held
}

// sections is the number of parts that a tapered stretch is cut in where it is
// met under the axis: its outline is a hyperbola there.
const sections = 16

// plan returns the profile cut at the height h below the axis, one convex shape
// for each stretch, from the z that is given on.
//
// A round of the radius R is sqrt(R² - h²) wide either side. On a stretch that
// tapers that is one branch of a hyperbola, whose inside is convex; its points
// are taken closer where it bends, and miss it by less than a hundredth of
// its width.
func (p Profile) plan(h, from float64) (list []geom.Convex) {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if b.Z-max(a.Z, from) < fine || max(a.Dia, b.Dia)/2 <= h {
			continue
		}
		if a.Z < from {
			a = Corner{from, between(a, b, from)}
		}
		list = append(list, section(a, b, h))
	}
	return list
}

// section returns a stretch from a to b cut at the height h below the axis.
func section(a, b Corner, h float64) geom.Convex {
	var points []geom.Point
	add := func(z, radius float64) {
		w := math.Sqrt(max(radius*radius-h*h, 0))
		points = append(points, geom.Point{X: z, Y: -w}, geom.Point{X: z, Y: w})
	}
	if h == 0 || a.Dia == b.Dia {
		add(a.Z, a.Dia/2)
		add(b.Z, b.Dia/2)
		return geom.Hull(points...)
	}
	if a.Dia > b.Dia { // from the small end
		a, b = b, a
	}
	least := max(a.Dia/2, h)
	for i := range sections + 1 {
		part := float64(i) / sections
		radius := least + (b.Dia/2-least)*part*part
		add(a.Z+(b.Z-a.Z)*(2*radius-a.Dia)/(b.Dia-a.Dia), radius)
	}
	return geom.Hull(points...)
}
