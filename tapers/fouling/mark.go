package fouling

import (
	"math"

	"setover/setup/base/geom"
	"setover/setup/page/sheet"
)

// mark is where the worst of it is, and what it is: the middle of where two shapes overlap,
// of the gap between them, or the tip whose trailing edge rubs.
type mark struct {
	at   geom.Point
	word string
}

// ring is how far the circle round a mark stands off it, and youHigh how much room what stands
// for the operator takes at the foot, both in mm of the drawing.
const (
	ring    = 5.0
	youHigh = 16.0
)

// marked keeps where the body comes nearest to the obstacle, the tip at a place; where only
// the trailing edge fouls, that is the tip.
func (c *Finding) marked(nearest pair, tip geom.Point) {
	runs, rubs := false, false
	for _, f := range c.Fouls {
		runs, rubs = runs || f.MM != nil, rubs || f.Deg != nil
	}
	switch {
	case rubs && !runs:
		c.mark = &mark{tip, "rubs here"}
	case c.Clearance == nil:
	default:
		m := mark{whereMet(nearest.body.Shape.Moved(tip), nearest.obstacle.Shape), "nearest here"}
		if runs {
			m.word = "fouls here"
		}
		c.mark = &m
	}
}

// whereMet is the middle of where two shapes overlap, or of the gap between them.
func whereMet(a, b geom.Convex) geom.Point {
	if len(a.Points) > 2 && len(b.Points) > 2 {
		if both := overlap(a, b); len(both.Points) > 2 {
			var sum geom.Point
			for _, p := range both.Points {
				sum = sum.Plus(p, 1/float64(len(both.Points)))
			}
			return sum
		}
	}
	p, q := closest(a, b)
	return p.Plus(q.Minus(p), 0.5)
}

// overlap is the part of a polygon that lies in another.
func overlap(a, b geom.Convex) geom.Convex {
	var middle geom.Point
	for _, p := range b.Points {
		middle = middle.Plus(p, 1/float64(len(b.Points)))
	}
	for i, p := range b.Points {
		e := b.Points[(i+1)%len(b.Points)].Minus(p)
		into := geom.Point{X: -e.Y, Y: e.X}
		if m := middle.Minus(p); into.X*m.X+into.Y*m.Y < 0 {
			into = geom.Point{X: e.Y, Y: -e.X}
		}
		a = a.Clipped(p, into)
	}
	return a
}

// closest are the points of two shapes that lie nearest to each other: of two that do not
// overlap one is a corner, or the nearest of a circle.
func closest(a, b geom.Convex) (onA, onB geom.Point) {
	least := math.Inf(1)
	try := func(from, to geom.Convex, turned bool) {
		for _, p := range from.Points {
			q := nearestOn(to, p)
			d := q.Minus(p)
			long := math.Hypot(d.X, d.Y)
			if long-from.R-to.R >= least {
				continue
			}
			least, onA, onB = long-from.R-to.R, p, q
			if long > 0 { // from the middles to the rims
				onA, onB = p.Plus(d, from.R/long), q.Plus(d, -to.R/long)
			}
			if turned {
				onA, onB = onB, onA
			}
		}
	}
	try(a, b, false)
	try(b, a, true)
	return onA, onB
}

// nearestOn is the point of a polygon's outline, or the middle of a circle, that lies nearest.
func nearestOn(c geom.Convex, p geom.Point) geom.Point {
	best, least := c.Points[0], math.Inf(1)
	for i, a := range c.Points {
		e, d := c.Points[(i+1)%len(c.Points)].Minus(a), p.Minus(a)
		q := a
		if long := e.X*e.X + e.Y*e.Y; long > 0 {
			q = a.Plus(e, min(max((d.X*e.X+d.Y*e.Y)/long, 0), 1))
		}
		if off := q.Minus(p); math.Hypot(off.X, off.Y) < least {
			best, least = q, math.Hypot(off.X, off.Y)
		}
	}
	return best
}

// ringed draws a ring round a place on the page with its word, at the end of a line where no
// room for it is beside the ring: as near as it stands clear of all that is drawn.
func (n *names) ringed(at geom.Point, word string) []sheet.Shape {
	round := geom.Circle(at, ring)
	n.drawn = append(n.drawn, round)
	half := letter*float64(len(word))/2 + 1
	box := func(p geom.Point) geom.Convex {
		return geom.Rect(geom.Point{X: p.X - half, Y: p.Y - capitals - free}, geom.Point{X: p.X + half, Y: p.Y + free})
	}
	lo, hi := bounds(n.page)
	foot, least := at, math.Inf(1)
	for x := lo.X; x <= hi.X; x += raster {
		for y := lo.Y; y <= hi.Y; y += raster {
			p := geom.Point{X: x, Y: y}
			if far := geom.Gap(box(p), round); far < least && far > beside/2 && n.clear(box(p)) {
				foot, least = p, far
			}
		}
	}
	shapes := []sheet.Shape{
		sheet.Circle{Pen: sheet.Outline, C: sheet.Point(at), R: ring},
		sheet.Label{At: sheet.Point(foot), Text: word, Height: capitals, Align: 1},
	}
	n.taken = append(n.taken, box(foot))
	if from, to := closest(round, box(foot)); least > beside && !math.IsInf(least, 1) {
		n.drawn = append(n.drawn, geom.Hull(from, to))
		shapes = append(shapes, sheet.Path{Pen: sheet.Thin, Points: []sheet.Point{sheet.Point(from), sheet.Point(to)}})
	}
	return shapes
}

// you marks the side where the operator stands, at the foot of a drawing: a triangle that
// points to the lathe.
func you(d *sheet.Drawing) {
	const (
		half, high = 4.0, 7.0
		stand      = "you stand here"
	)
	x, top := d.W/2, d.H+free
	d.H += youHigh
	d.Shapes = append(
		d.Shapes,
		sheet.Path{Pen: sheet.Fill, Closed: true, Points: []sheet.Point{
			{X: x, Y: top}, {X: x - half, Y: top + high}, {X: x + half, Y: top + high},
		}},
		sheet.Label{
			At: sheet.Point{X: x + half + beside + letter*float64(len(stand))/2, Y: top + high}, Text: stand, Height: capitals,
			Align: 1,
		},
	)
}
