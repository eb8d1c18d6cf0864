package walls

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"setover/setup/base/geom"
	"setover/setup/base/problem"
	"setover/setup/plan/outline"
)

// hole is one cross hole as walls are measured from it. from and to are where
// its axis ends, along its roll from the bar's axis: to is its mouth, from its
// other mouth or the tip of its point.
type hole struct {
	*outline.Hole
	z, r, offset float64
	full         float64 // of a blind hole: where the full diameter ends
	from, to     float64
	seen         *view
}

// blind reports whether the hole does not go through.
func (h *hole) blind() bool { return h.Depth != nil }

// set finds where a hole's axis runs inside the part. It fails when the hole
// is beyond the part or misses it.
func (b *body) set(h *hole) error {
	if h.z < 0 || h.z > b.length {
		return problem.New(problem.Impossible, "at", h.Z,
			"hole ", h.N, " is beyond the part, which is ", b.Length, " long").In(h.At)
	}
	from, to, ok := b.inside(h.seen, h.z, h.offset)
	if !ok {
		return problem.New(problem.Impossible, "offset", h.Offset, "hole ", h.N, " misses the part at ", h.Z).In(h.At)
	}
	h.from, h.to = from, to
	if h.blind() {
		h.full = to - h.Depth.MM()
		h.from = h.full - h.r/b.point
	}
	return nil
}

// figures are the walls of one hole. A figure that does not exist is NaN; it
// never leaves this package.
type figures struct {
	side, toWidth, end, next, bore, mouth float64
	nearest                               *hole   // the one next is to
	strict                                float64 // next, holes that may be met left out; +Inf beyond what is asked
	met                                   int     // how many holes it runs into that it may meet
	shallow                               float64 // by how much at least it runs into one of them
	thread                                string  // a thread the hole runs through
}

var none = math.NaN()

// drilled is a part with all its holes, sorted along the bar.
type drilled struct {
	*body
	list    []*hole // by z
	largest float64 // radius
	looks   int     // spent on changes so far
	sinkR   float64 // radius of a countersink at every mouth; 0 for none
}

func newDrilled(b *body, list []hole) *drilled {
	d := &drilled{body: b}
	for i := range list {
		d.list = append(d.list, &list[i])
		d.largest = max(d.largest, list[i].r)
	}
	slices.SortStableFunc(d.list, func(a, b *hole) int { return cmp.Compare(a.z, b.z) })
	return d
}

// measure returns the walls of a hole among the others; least is how near
// another hole has to be to matter where meeting is allowed.
func (d *drilled) measure(h *hole, least float64) figures {
	f := figures{end: min(h.z, d.length-h.z) - h.r, next: none, bore: none, mouth: none}

	up, down := geom.Point{X: h.z, Y: h.offset}, geom.Point{X: h.z, Y: -h.offset}
	dist := min(h.seen.up.distance(up), h.seen.down.distance(down))
	above, below := d.reach(h.seen, h.z)
	f.side, f.toWidth = dist-h.r, 2*h.r/(above+below)

	d.neighbours(h, least, &f)
	d.boreWall(h, &f)
	d.mouths(h, &f)
	for _, t := range d.threads {
		if h.z+h.r > t.from && h.z-h.r < t.to {
			f.thread = t.name
		}
	}
	return f
}

// neighbours finds the nearest other hole, by a sweep outwards along the bar.
func (d *drilled) neighbours(h *hole, least float64, f *figures) {
	f.strict, f.shallow = math.Inf(1), math.Inf(1)
	best := math.Inf(1)
	mid := sort.Search(len(d.list), func(i int) bool { return d.list[i].z >= h.z })
	outward(mid, len(d.list), func(i int) bool {
		o := d.list[i]
		if o.N == h.N {
			return true
		}
		bound := best
		if h.Crossing || best < 0 { // something nearer may be met, so look for what may not
			bound = max(best, min(f.strict, least))
		}
		if math.Abs(o.z-h.z)-h.r-d.largest > bound {
			return false
		}
		gap := math.Hypot(o.z-h.z, axesApart(h, o)) - h.r - o.r
		if gap < best || gap == best && o.N < f.nearest.N {
			best, f.nearest = gap, o
		}
		if gap < 0 && (h.Crossing || o.Crossing) {
			f.met++
			f.shallow = min(f.shallow, -gap)
		} else {
			f.strict = min(f.strict, gap)
		}
		return true
	})
	if f.nearest != nil {
		f.next = best
	}
}

// axesApart returns the distance of two holes' axes seen along the bar, each
// from one end of its run to the other.
func axesApart(h, o *hole) float64 {
	a, b := h.ends()
	c, e := o.ends()
	if cross(a, b, c)*cross(a, b, e) < 0 && cross(c, e, a)*cross(c, e, b) < 0 {
		return 0
	}
	return min(toSegment(a, c, e), toSegment(b, c, e), toSegment(c, a, b), toSegment(e, a, b))
}

func cross(a, b, c geom.Point) float64 {
	p, q := b.Minus(a), c.Minus(a)
	return p.X*q.Y - p.Y*q.X
}

// ends returns the two ends of a hole's axis seen along the bar, from the
// right, with roll 0 along x.
func (h *hole) ends() (geom.Point, geom.Point) {
	turn := h.Roll.Rad()
	return geom.Point{X: h.from, Y: h.offset}.Turned(turn), geom.Point{X: h.to, Y: h.offset}.Turned(turn)
}

// boreWall finds the wall to the nearest axial bore.
func (d *drilled) boreWall(h *hole, f *figures) {
	for _, o := range d.bores {
		wall := 0.0
		switch {
		case h.z+h.r > o.from && h.z-h.r < o.to:
			wall = h.toAxis() - o.r
			if o.thread != "" && wall < 0 {
				f.thread = o.thread
			}
		case o.thread != "":
			continue // its bore goes deeper
		case o.left:
			wall = h.z - h.r - o.to
		default:
			wall = o.from - h.z - h.r
		}
		if math.IsNaN(f.bore) || wall < f.bore {
			f.bore = wall
		}
	}
}

// toAxis returns the distance from the bar's axis to the hole's surface,
// negative when the axis lies in it. A blind hole that stops short of the axis
// is measured from its bottom, point and all.
func (h *hole) toAxis() float64 {
	if !h.blind() || h.from <= 0 {
		return math.Abs(h.offset) - h.r
	}
	tip := geom.Point{X: h.from, Y: h.offset}
	left, right := geom.Point{X: h.full, Y: h.offset - h.r}, geom.Point{X: h.full, Y: h.offset + h.r}
	far := geom.Point{X: h.to, Y: 0}
	var o geom.Point
	return min(
		toSegment(o, tip, left), toSegment(o, left, left.Plus(far, 1)),
		toSegment(o, tip, right), toSegment(o, right, right.Plus(far, 1)),
	)
}

// mouths finds the least margin at the hole's mouths.
func (d *drilled) mouths(h *hole, f *figures) {
	r := max(h.r, d.sinkR)
	add := func(dist float64) {
		if math.IsNaN(f.mouth) || dist-r < f.mouth {
			f.mouth = dist - r
		}
	}
	for _, z := range d.shoulders {
		add(math.Abs(h.z - z))
	}
	for _, t := range d.threads {
		add(math.Abs(h.z - t.end))
	}
	at := geom.Point{X: h.z, Y: h.offset}
	for i := range d.Facets {
		c := &d.Facets[i]
		add(math.Abs(h.z - c.From.MM()))
		add(math.Abs(h.z - c.To.MM()))
		for _, l := range h.seen.facets[c].near {
			add(l.distance(at))
		}
		if !h.blind() {
			for _, l := range h.seen.facets[c].away {
				add(l.distance(at))
			}
		}
	}
}
