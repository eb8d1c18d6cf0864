package fouling

import (
	"cmp"
	"math"
	"slices"

	"setover/setup/base/geom"
	"setover/setup/page/sheet"
)

// margin is the room around the drawing, and how much of the chuck's and the
// tailstock's body is shown, in mm.
const margin = 30.0

// Drawing returns the plan where the bodies come nearest to the obstacles, to
// scale: the tailstock to the right, the operator below. Obstacles and the work
// are shaded, bodies outlined, the slide and its handle dashed, since they stand
// below the axis. The worst place is ringed and says what it is, and a triangle stands where
// the operator does.
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
	d := sheet.Drawing{Title: c.where(), W: hi.X - lo.X, H: hi.Y - lo.Y}
	var areas, lines []sheet.Shape // lines are drawn on areas
	for _, o := range c.Outlines {
		pen := sheet.Thin
		switch o.Name {
		case "holder", "post":
			pen = sheet.Outline
		case "slide", "handle":
			pen = sheet.Hidden
		default:
			areas = append(areas, shapeOf(o.Shape, sheet.Shade, at))
		}
		lines = append(lines, shapeOf(o.Shape, pen, at))
	}
	d.Shapes = slices.Concat(areas, lines)
	d.Shapes = append(d.Shapes, sheet.Path{Pen: sheet.Axis, Points: []sheet.Point{{X: 0, Y: -lo.Y}, {X: d.W, Y: -lo.Y}}})
	n := names{page: geom.Rect(geom.Point{}, geom.Point{X: d.W, Y: d.H}), axis: -lo.Y}
	for _, o := range c.Outlines {
		drawn := geom.Convex{R: o.Shape.R}
		for _, p := range o.Shape.Points {
			drawn.Points = append(drawn.Points, geom.Point(at(p)))
		}
		n.drawn = append(n.drawn, drawn)
	}
	if c.mark != nil {
		d.Shapes = append(d.Shapes, n.ringed(geom.Point(at(c.mark.at)), c.mark.word)...)
	}
	for i, o := range c.Outlines {
		if o.Name == "" {
			continue
		}
		at := sheet.Point(n.place(i, o.Name))
		d.Shapes = append(d.Shapes, sheet.Label{At: at, Text: o.Name, Height: capitals, Align: 1})
	}
	you(&d)
	return d
}

// where says what the drawing shows.
func (c Finding) where() string {
	if c.nearest.body == "" {
		return "Seen from above"
	}
	return "Where the " + c.nearest.body + " is nearest to the " + c.nearest.obstacle + ", seen from above"
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

// The names on the drawing, in its mm: how high capitals are, what stands free
// above and below them, how wide a letter is taken to be, how far beside its
// shape a name may stand, and how finely a place is looked for.
const (
	capitals = 4.0
	free     = 2.0
	letter   = 3.0
	beside   = 3.0
	raster   = 2.0
)

// names places the name of every outline, as drawn on the page.
type names struct {
	page  geom.Convex
	axis  float64 // y of the spindle axis
	drawn []geom.Convex
	taken []geom.Convex
}

// place returns where the name of the outline i stands, the middle of its foot:
// where no line runs through it and no other name stands, as near as may be to
// the middle of its shape, inside it and in no other; else inside it; else just
// beside it; else in the middle whatever it crosses.
func (n *names) place(i int, name string) geom.Point {
	own := n.drawn[i]
	lo, hi := bounds(own)
	middle := geom.Point{X: (lo.X + hi.X) / 2, Y: (lo.Y+hi.Y)/2 - free}
	half := letter*float64(len(name))/2 + 1
	box := func(p geom.Point) geom.Convex {
		return geom.Rect(geom.Point{X: p.X - half, Y: p.Y - capitals - free}, geom.Point{X: p.X + half, Y: p.Y + free})
	}
	reach := geom.Point{X: half + beside, Y: capitals + free + beside}
	lo, hi = lo.Minus(reach), hi.Plus(reach, 1)
	var places []geom.Point
	for x := lo.X; x <= hi.X; x += raster {
		for y := lo.Y; y <= hi.Y; y += raster {
			places = append(places, geom.Point{X: x, Y: y})
		}
	}
	away := func(p geom.Point) float64 { return math.Hypot(p.X-middle.X, p.Y-middle.Y) }
	slices.SortStableFunc(places, func(p, q geom.Point) int { return cmp.Compare(away(p), away(q)) })
	at := middle
	for _, fits := range []func(geom.Convex) bool{
		func(b geom.Convex) bool { return inside(b, own) && n.shapes(b) == 1 },
		func(b geom.Convex) bool { return inside(b, own) },
		func(b geom.Convex) bool { return n.shapes(b) == 0 && geom.Gap(b, own) <= beside },
	} {
		if k := slices.IndexFunc(places, func(p geom.Point) bool { return fits(box(p)) && n.clear(box(p)) }); k >= 0 {
			at = places[k]
			break
		}
	}
	n.taken = append(n.taken, box(at))
	return at
}

// clear reports whether nothing is drawn through a box on the page.
func (n *names) clear(b geom.Convex) bool {
	lo, hi := bounds(b)
	through := func(s geom.Convex) bool { return geom.Gap(b, s) < 0 && !inside(b, s) }
	hit := func(t geom.Convex) bool { return geom.Gap(b, t) < 0 }
	return inside(b, n.page) && (hi.Y <= n.axis || n.axis <= lo.Y) &&
		!slices.ContainsFunc(n.drawn, through) && !slices.ContainsFunc(n.taken, hit)
}

// shapes counts the shapes a box stands in.
func (n *names) shapes(b geom.Convex) int {
	count := 0
	for _, s := range n.drawn {
		if geom.Gap(b, s) < 0 {
			count++
		}
	}
	return count
}

// inside reports whether a polygon lies in another shape, its outline included.
func inside(b, s geom.Convex) bool {
	return !slices.ContainsFunc(b.Points, func(p geom.Point) bool { return s.Distance(p) > 0 })
}

// bounds returns the corners of the upright rectangle around a shape.
func bounds(c geom.Convex) (lo, hi geom.Point) {
	lo, hi = geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range c.Points {
		lo.X, lo.Y = math.Min(lo.X, p.X-c.R), math.Min(lo.Y, p.Y-c.R)
		hi.X, hi.Y = math.Max(hi.X, p.X+c.R), math.Max(hi.Y, p.Y+c.R)
	}
	return lo, hi
}
