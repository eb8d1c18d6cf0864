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
		h := make([]Point, 0, len(p))
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
func Rect(a, b Point) Convex {
	lo, hi := Point{min(a.X, b.X), min(a.Y, b.Y)}, Point{max(a.X, b.X), max(a.Y, b.Y)}
	if lo.X == hi.X || lo.Y == hi.Y {
		return Hull(lo, hi)
	}
	return Convex{Points: []Point{lo, {hi.X, lo.Y}, hi, {lo.X, hi.Y}}}
}

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

// Course is a shape on its straight way past another: their difference, which is
// the same wherever either is moved to.
type Course struct {
	between Convex
	move    Point
}

// NewCourse returns the course of a past b.
func NewCourse(a Convex, move Point, b Convex) Course { return Course{difference(a, b), move} }

// gap returns the gap at a part of the move, with the other shape shifted.
func (c Course) gap(t float64, shift Point) float64 {
	return c.between.Distance(Point{}.Plus(c.move, t).Minus(shift))
}

// Clear reports whether the least gap is no less than by, with the other shape
// shifted: what Least says, and sooner. It looks at four places, of which the outer
// close in on the least, and ends where what it sees there decides.
func (c Course) Clear(by float64, shift Point) bool {
	const golden = 0.6180339887498949
	first, last := c.gap(0, shift), c.gap(1, shift)
	if min(first, last) < by {
		return false
	}
	p := four{{0, first}, {1 - golden, 0}, {golden, 0}, {1, last}}
	p[1].gap, p[2].gap = c.gap(p[1].t, shift), c.gap(p[2].t, shift)
	for p[3].t-p[0].t > 1e-9 && min(p[1].gap, p[2].gap) >= by {
		if p.lowest() >= by {
			return true
		}
		if p[1].gap <= p[2].gap {
			p[3], p[2] = p[2], p[1]
			p[1].t = p[3].t - golden*(p[3].t-p[0].t)
			p[1].gap = c.gap(p[1].t, shift)
		} else {
			p[0], p[1] = p[1], p[2]
			p[2].t = p[0].t + golden*(p[3].t-p[0].t)
			p[2].gap = c.gap(p[2].t, shift)
		}
	}
	return min(p[1].gap, p[2].gap) >= by
}

// four is four parts of a move, rising, and the gap at each.
type four [4]struct{ t, gap float64 }

// lowest returns what the gap is no less than between the outer two. It is convex, so
// it lies over the line through any two places wherever it is not between them.
func (p four) lowest() float64 {
	slope := func(i int) float64 { return (p[i+1].gap - p[i].gap) / (p[i+1].t - p[i].t) }
	first, middle, last := slope(0), slope(1), slope(2)
	low := min(p[1].gap, p[2].gap)
	low = min(low, p[1].gap-middle*(p[1].t-p[0].t), p[2].gap+middle*(p[3].t-p[2].t))
	if first < 0 && last > 0 { // it may dip between the middle two: to where the outer lines meet
		t := (p[2].gap - p[1].gap + first*p[1].t - last*p[2].t) / (first - last)
		low = min(low, p[1].gap+first*(t-p[1].t))
	}
	return low
}

// Least returns the least gap with the other shape shifted, and at which part of the
// move, 0 to 1, it comes. The search ends within 1e-9 of the move.
func (c Course) Least(shift Point) (gap, at float64) {
	f := func(t float64) float64 { return c.gap(t, shift) }
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
