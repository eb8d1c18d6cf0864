package fouling

import (
	"math"

	"setover/setup/base/geom"
	"setover/setup/page/sheet"
)

// margin is the room around the drawing, and how much of the chuck's and the
// tailstock's body is shown, in mm.
const margin = 30.0

// Drawing returns the plan where the bodies come nearest to the obstacles, to
// scale: the tailstock to the right, the operator below. Obstacles and the work
// are shaded, bodies outlined, the slide and its handle dashed, since they stand
// below the axis.
func (c Finding) Drawing() sheet.Drawing {
	lo, hi := geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, o := range c.Outlines {
		l, h := bounds(o.Shape)
		lo.Y, hi.Y = math.Min(lo.Y, l.Y), math.Max(hi.Y, h.Y)
		if o.Name != "chuck" && o.Name != "tailstock" { // these go on beyond the edge
			lo.X, hi.X = math.Min(lo.X, l.X), math.Max(hi.X, h.X)
		}
	}
	lo, hi = lo.Plus(geom.Point{X: -margin, Y: -margin / 3}, 1), hi.Plus(geom.Point{X: margin, Y: margin / 3}, 1)
	at := func(p geom.Point) sheet.Point {
		return sheet.Point{X: min(max(p.X, lo.X), hi.X) - lo.X, Y: p.Y - lo.Y}
	}
	d := sheet.Drawing{Title: "Nearest, seen from above", W: hi.X - lo.X, H: hi.Y - lo.Y}
	for _, shaded := range []bool{true, false} { // areas first, lines on them
		for _, o := range c.Outlines {
			if pen := penOf(o.Name, shaded); pen >= 0 {
				d.Shapes = append(d.Shapes, shapeOf(o.Shape, pen, at))
			}
		}
	}
	d.Shapes = append(d.Shapes, sheet.Path{Pen: sheet.Axis, Points: []sheet.Point{{X: 0, Y: -lo.Y}, {X: d.W, Y: -lo.Y}}})
	n := names{page: geom.Rect(geom.Point{}, geom.Point{X: d.W, Y: d.H}), axis: -lo.Y}
	for _, o := range c.Outlines {
		drawn := geom.Convex{R: o.Shape.R}
		for _, p := range o.Shape.Points {
			drawn.Points = append(drawn.Points, geom.Point(at(p)))
		}
		n.drawn = append(n.drawn, drawn)
	}
	for i, o := range c.Outlines {
		at := sheet.Point(n.place(i, o.Name))
		d.Shapes = append(d.Shapes, sheet.Label{At: at, Text: o.Name, Height: capitals, Align: 1})
	}
	return d
}

// penOf returns the pen of a shape in the round of areas or of lines; -1 for
// none.
func penOf(name string, shaded bool) sheet.Pen {
	switch name {
	case "holder", "post", "slide", "handle":
		if shaded {
			return -1
		}
		if name == "slide" || name == "handle" {
			return sheet.Hidden
		}
		return sheet.Outline
	}
	if shaded {
		return sheet.Shade
	}
	return sheet.Thin
}

func shapeOf(c geom.Convex, pen sheet.Pen, at func(geom.Point) sheet.Point) sheet.Shape {
	if len(c.Points) == 1 {
		return sheet.Circle{Pen: pen, C: at(c.Points[0]), R: c.R}
	}
	p := sheet.Path{Pen: pen, Closed: true}
	for _, q := range c.Points {
		p.Points = append(p.Points, at(q))
	}
	return p
}
