// Package geom is plane geometry: convex shapes and the distance between them,
// standing still and along a straight move. Lengths are float64, in any one
// unit.
//
// The distance of two convex shapes A and B is that of the origin from their
// difference, the shape of all b - a, which is convex again. Where they
// overlap the origin lies inside, and its distance to the nearest edge is the
// least shift that parts them: the distance is taken negative there. That
// signed distance is convex in the origin's place, so along a straight move of
// A it falls, rests and rises once, and the least of it can be searched.
package geom

import (
	"cmp"
	"math"
	"slices"
)

// Point is a place or a move in the plane.
type Point struct{ X, Y float64 }

// Plus returns p moved by f times q.
func (p Point) Plus(q Point, f float64) Point { return Point{p.X + f*q.X, p.Y + f*q.Y} }

// Minus returns the move from q to p.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Turned returns p turned about the origin from X toward Y by the angle rad.
func (p Point) Turned(rad float64) Point {
	s, c := math.Sincos(rad)
	return Point{p.X*c - p.Y*s, p.X*s + p.Y*c}
}

func cross(a, b Point) float64 { return a.X*b.Y - a.Y*b.X }

// Convex is a convex polygon, grown by R all round: a single point with R is a
// circle. Points run from X toward Y around it, none twice.
type Convex struct {
	Points []Point
	R      float64
}

// Hull returns the convex polygon around points, at least one.
func Hull(points ...Point) Convex {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	p = slices.Compact(p)
	if len(p) < 3 {
		return Convex{Points: p}
	}
	half := func(p []Point) []Point {
		var h []Point
		for _, q := range p {
			for len(h) > 1 && cross(h[len(h)-1].Minus(h[len(h)-2]), q.Minus(h[len(h)-1])) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, q)
		}
		return h[:len(h)-1]
	}
	lower := half(p)
	slices.Reverse(p)
	return Convex{Points: append(lower, half(p)...)}
}

// Rect returns the rectangle between two corners.
func Rect(a, b Point) Convex { return Hull(a, b, Point{a.X, b.Y}, Point{b.X, a.Y}) }

// Circle returns the circle about c with the radius r.
func Circle(c Point, r float64) Convex { return Convex{[]Point{c}, r} }

// Moved returns c moved by p.
func (c Convex) Moved(p Point) Convex { return c.each(func(q Point) Point { return q.Plus(p, 1) }) }

// Turned returns c turned about a point, from X toward Y by the angle rad.
func (c Convex) Turned(about Point, rad float64) Convex {
	return c.each(func(q Point) Point { return about.Plus(q.Minus(about).Turned(rad), 1) })
}

func (c Convex) each(f func(Point) Point) Convex {
	out := Convex{make([]Point, len(c.Points)), c.R}
	for i, p := range c.Points {
		out.Points[i] = f(p)
	}
	return out
}

// Clipped returns the part of a polygon that lies the way out from a line
// through p, out square to the line; no points where there is none.
func (c Convex) Clipped(p, out Point) Convex {
	part := Convex{R: c.R}
	beyond := func(q Point) float64 { return (q.X-p.X)*out.X + (q.Y-p.Y)*out.Y }
	for i, a := range c.Points {
		b := c.Points[(i+1)%len(c.Points)]
		da, db := beyond(a), beyond(b)
		if da >= 0 {
			part.Points = append(part.Points, a)
		}
		if da > 0 && db < 0 || da < 0 && db > 0 {
			part.Points = append(part.Points, a.Plus(b.Minus(a), da/(da-db)))
		}
	}
	return part
}

// Distance returns how far p is from c: 0 on its outline, inside minus the
// least way out.
func (c Convex) Distance(p Point) float64 {
	n := len(c.Points)
	if n == 1 {
		d := p.Minus(c.Points[0])
		return math.Hypot(d.X, d.Y) - c.R
	}
	inside, least := n > 2, math.Inf(1)
	deepest := math.Inf(-1)
	for i, a := range c.Points {
		e, d := c.Points[(i+1)%n].Minus(a), p.Minus(a)
		out := -cross(e, d) / math.Sqrt(e.X*e.X+e.Y*e.Y) // beyond this edge
		deepest = max(deepest, out)
		inside = inside && out <= 0
		t := min(max((d.X*e.X+d.Y*e.Y)/(e.X*e.X+e.Y*e.Y), 0), 1)
		x, y := d.X-t*e.X, d.Y-t*e.Y
		least = min(least, x*x+y*y)
	}
	if inside {
		return deepest - c.R
	}
	return math.Sqrt(least) - c.R
}

// difference returns the shape of all b - a.
func difference(a, b Convex) Convex {
	var p []Point
	for _, q := range b.Points {
		for _, r := range a.Points {
			p = append(p, q.Minus(r))
		}
	}
	h := Hull(p...)
	h.R = a.R + b.R
	return h
}

// Gap returns the distance of a and b; where they overlap, minus the least
// shift that parts them. Good to 1e-12 of the sizes.
func Gap(a, b Convex) float64 { return difference(a, b).Distance(Point{}) }

// Sweep returns the least gap of a and b while a moves straight by move, and
// at which part of the move, 0 to 1, it comes. The search ends within 1e-9 of
// the move.
func Sweep(a Convex, move Point, b Convex) (gap, at float64) {
	d := difference(a, b)
	f := func(t float64) float64 { return d.Distance(Point{}.Plus(move, t)) }
	lo, hi := 0.0, 1.0
	const golden = 0.6180339887498949 // each step keeps this part and one of its values
	l, r := hi-golden, golden
	fl, fr := f(l), f(r)
	for hi-lo > 1e-9 {
		if fl <= fr {
			hi, r, fr = r, l, fl
			l = hi - golden*(hi-lo)
			fl = f(l)
		} else {
			lo, l, fl = l, r, fr
			r = lo + golden*(hi-lo)
			fr = f(r)
		}
	}
	gap, at = f(lo), lo
	for _, t := range []float64{hi, 0, 1} {
		if g := f(t); g < gap {
			gap, at = g, t
		}
	}
	return gap, at
}
