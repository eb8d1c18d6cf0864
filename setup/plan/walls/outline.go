package walls

import (
	"math"
	"slices"
	"sort"

	"setover/setup/base/geom"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
)

// piece is a stretch of the outside without a break in it: the radius runs
// straight from r1 at z1 to r2 at z2. In facets r is the apothem.
type piece struct {
	z1, z2, r1, r2 float64
	facets         *outline.Facets
}

// body is a turned part as walls are measured on it.
type body struct {
	*outline.Outline
	length    float64
	pieces    []piece // left to right
	shoulders []float64
	threads   []threaded // outside
	bores     []bore
	point     float64 // how much radius a drill's point loses per length
}

// threaded is a stretch with an outside thread on it.
type threaded struct {
	from, to float64
	end      float64 // the thread's end that is not the part's
	name     string
}

// bore is an axial bore: its range along z with the point, and its radius. A
// thread in it is a bore of its major diameter with a flat bottom.
type bore struct {
	from, to, r float64
	left        bool
	thread      string
}

func newBody(o *outline.Outline) *body {
	b := &body{Outline: o, length: o.Length.MM(), point: practice.PointAngle.Angle().Half().Tan()}
	for i := range o.Stretches {
		b.pieces = append(b.pieces, pieces(&o.Stretches[i])...)
	}
	for _, s := range o.Shoulders {
		b.shoulders = append(b.shoulders, s.Z.MM())
	}
	for _, t := range o.Threads {
		from, to, left := t.Span.From.MM(), t.Span.To.MM(), t.From == part.Left
		name := t.Designation.String()
		switch {
		case t.Inside:
			b.bores = append(b.bores, bore{from, to, t.Designation.Sizes().MajorInternal.MM() / 2, left, name})
		case left:
			b.threads = append(b.threads, threaded{from, to, to, name})
		default:
			b.threads = append(b.threads, threaded{from, to, from, name})
		}
	}
	for _, o := range o.Bores {
		from, to := min(o.Span.From.MM(), o.Tip.MM()), max(o.Span.To.MM(), o.Tip.MM())
		b.bores = append(b.bores, bore{from, to, o.Dia.MM() / 2, o.From == part.Left, ""})
	}
	return b
}

// pieces returns a stretch as it is left: an arc followed by chords, turned down
// to the root of an outside thread, a flat's distance from the axis in facets.
func pieces(s *outline.Stretch) []piece {
	list := []piece{{s.From.MM(), s.To.MM(), s.Left.Drawn.MM() / 2, s.Right.Drawn.MM() / 2, s.Facets}}
	if s.Arc != nil {
		list = list[0].follow(s.Arc)
	}
	if s.Thread != nil {
		whole, root := list, s.Thread.Designation.Sizes().MinorExternal.MM()/2
		list = nil
		for _, p := range whole {
			list = append(list, p.under(root)...)
		}
	}
	if f := s.Facets; f != nil && f.Corners {
		k := math.Cos(math.Pi / float64(f.Sides))
		for i := range list {
			list[i].r1, list[i].r2 = list[i].r1*k, list[i].r2*k
		}
	}
	return list
}

// follow replaces a piece by chords of an arc through its ends, no further than
// 1e-6 mm from it: a chord c leaves an arc of the radius R by c²/(8·R).
func (p piece) follow(arc *outline.Arc) []piece {
	radius := arc.Radius.MM()
	a1, a2 := math.Atan2(p.r1-arc.R, p.z1-arc.Z), math.Atan2(p.r2-arc.R, p.z2-arc.Z)
	turn := math.Remainder(a2-a1, 2*math.Pi)
	n := int(math.Ceil(math.Abs(turn) * radius / math.Sqrt(8*radius*1e-6)))
	list := make([]piece, 0, n)
	z, r := p.z1, p.r1
	for i := 1; i <= n; i++ {
		sin, cos := math.Sincos(a1 + turn*float64(i)/float64(n))
		next := piece{z, arc.Z + radius*cos, r, arc.R + radius*sin, p.facets}
		if i == n {
			next.z2, next.r2 = p.z2, p.r2
		}
		list = append(list, next)
		z, r = next.z2, next.r2
	}
	return list
}

// at returns a piece's radius at z.
func (p piece) at(z float64) float64 { return p.r1 + (p.r2-p.r1)*(z-p.z1)/(p.z2-p.z1) }

// under returns a piece cut down to a radius where it is above it.
func (p piece) under(most float64) []piece {
	switch {
	case p.r1 <= most && p.r2 <= most:
		return []piece{p}
	case p.r1 >= most && p.r2 >= most:
		return []piece{{p.z1, p.z2, most, most, p.facets}}
	}
	z := p.z1 + (most-p.r1)*(p.z2-p.z1)/(p.r2-p.r1)
	first, second := piece{p.z1, z, p.r1, most, p.facets}, piece{z, p.z2, most, p.r2, p.facets}
	if p.r1 > most {
		first.r1 = most
	} else {
		second.r2 = most
	}
	return []piece{first, second}
}

// extent returns how far facets reach in a direction, times the apothem:
// 1/cos(d) with d the angle to the nearest flat's normal.
func extent(f *outline.Facets, roll float64) float64 {
	step := 360 / float64(f.Sides)
	d := math.Remainder(roll-f.Roll.Deg(), step)
	return 1 / math.Cos(d*math.Pi/180)
}

// view is the part as it is seen along one roll: worked out once for all holes
// that have it.
type view struct {
	up, down line // outlines toward roll + 90 and roll - 90
	facets   map[*outline.Facets]*faceted
}

// faceted is one facet item in a view.
type faceted struct {
	up, down   float64   // extents toward roll + 90 and roll - 90
	cos, sin   []float64 // of the angle from the roll to each flat's normal
	near, away []line    // corner lines, as seen, on the near side and the other
}

// view returns the part as it is seen along a roll.
func (b *body) view(roll float64) *view {
	v := &view{facets: map[*outline.Facets]*faceted{}}
	for i := range b.Facets {
		f := &b.Facets[i]
		s := &faceted{up: extent(f, roll+90), down: extent(f, roll-90)}
		step := 360 / float64(f.Sides)
		for k := range f.Sides {
			a := (f.Roll.Deg() + step*float64(k) - roll) * math.Pi / 180
			s.cos, s.sin = append(s.cos, math.Cos(a)), append(s.sin, math.Sin(a))
			corner := f.Roll.Deg() + step*(float64(k)+0.5)
			switch side := math.Abs(math.Remainder(corner-roll, 360)); {
			case side < 90-1e-9:
				s.near = append(s.near, b.corner(f, corner, roll))
			case side > 90+1e-9:
				s.away = append(s.away, b.corner(f, corner, roll))
			}
		}
		v.facets[f] = s
	}
	v.up, v.down = b.outline(v, true), b.outline(v, false)
	return v
}

// extent returns how far a piece reaches beside the bar's axis, times its
// radius or apothem.
func (v *view) extent(p *piece, up bool) float64 {
	switch {
	case p.facets == nil:
		return 1
	case up:
		return v.facets[p.facets].up
	}
	return v.facets[p.facets].down
}

// line is the part's outline in one direction: points left to right, its ends
// left open.
type line []geom.Point

// outline returns the outline to one side of a view.
func (b *body) outline(v *view, up bool) line {
	list := make(line, 0, 2*len(b.pieces))
	for i := range b.pieces {
		p := &b.pieces[i]
		k := v.extent(p, up)
		a, c := geom.Point{X: p.z1, Y: p.r1 * k}, geom.Point{X: p.z2, Y: p.r2 * k}
		if len(list) == 0 || list[len(list)-1] != a {
			list = append(list, a)
		}
		list = append(list, c)
	}
	return list
}

// distance returns the least distance from a point to the outline.
func (l line) distance(p geom.Point) float64 {
	best := math.Inf(1)
	mid := sort.Search(len(l)-1, func(i int) bool { return l[i+1].X >= p.X })
	outward(mid, len(l)-1, func(i int) bool {
		if max(l[i].X-p.X, p.X-l[i+1].X) >= best {
			return false
		}
		best = min(best, toSegment(p, l[i], l[i+1]))
		return true
	})
	return best
}

// outward looks at the members of a list that is sorted along the bar, from mid
// on to its end and then back to its start, each way until look says that
// nothing further on can matter.
func outward(mid, n int, look func(i int) bool) {
	for i := mid; i < n && look(i); i++ {
	}
	for i := mid - 1; i >= 0 && look(i); i-- {
	}
}

// toSegment returns the distance from p to the straight line from a to b.
func toSegment(p, a, b geom.Point) float64 {
	d, q := b.Minus(a), p.Minus(a)
	n := d.X*d.X + d.Y*d.Y
	t := 0.0
	if n > 0 {
		t = min(1, max(0, (q.X*d.X+q.Y*d.Y)/n))
	}
	return math.Hypot(q.X-t*d.X, q.Y-t*d.Y)
}

// around returns the pieces that touch z: one, or two at a break.
func (b *body) around(z float64) []piece {
	i := sort.Search(len(b.pieces), func(i int) bool { return b.pieces[i].z2 >= z })
	j := i
	for j < len(b.pieces) && b.pieces[j].z1 <= z {
		j++
	}
	return b.pieces[i:j]
}

// reach returns how far the outline is from the axis at z on both sides of a
// view, the smaller at a break.
func (b *body) reach(v *view, z float64) (up, down float64) {
	up, down = math.Inf(1), math.Inf(1)
	list := b.around(z)
	for i := range list {
		p := &list[i]
		r := p.at(z)
		up, down = min(up, r*v.extent(p, true)), min(down, r*v.extent(p, false))
	}
	return up, down
}

// inside returns where a hole's axis runs inside the part's cross-section at
// z, as distances along the roll from the bar's axis; at a break the longer.
func (b *body) inside(v *view, z, offset float64) (from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	list := b.around(z)
	for i := range list {
		p := &list[i]
		if lo, hi, in := v.chord(p, p.at(z), offset); in {
			from, to, ok = min(from, lo), max(to, hi), true
		}
	}
	return from, to, ok
}

// chord returns where a line at the offset, along the view, crosses a circle
// of the radius r, or the polygon with that apothem.
func (v *view) chord(p *piece, r, offset float64) (from, to float64, ok bool) {
	if p.facets == nil {
		h := r*r - offset*offset
		if h <= 0 {
			return 0, 0, false
		}
		return -math.Sqrt(h), math.Sqrt(h), true
	}
	from, to = math.Inf(-1), math.Inf(1)
	f := v.facets[p.facets]
	for k, c := range f.cos {
		// t·cos a + offset·sin a is how far toward this flat the line has come.
		room := r - offset*f.sin[k]
		switch {
		case math.Abs(c) < 1e-12:
			if room <= 0 {
				return 0, 0, false
			}
		case c > 0:
			to = min(to, room/c)
		default:
			from = max(from, room/c)
		}
	}
	return from, to, from < to
}

// corner returns the lines of one facet corner seen along a hole's roll: z
// and the distance beside the bar's axis, toward roll + 90.
func (b *body) corner(f *outline.Facets, corner, roll float64) line {
	k := math.Sin((corner-roll)*math.Pi/180) / math.Cos(math.Pi/float64(f.Sides))
	var list line
	for _, p := range b.pieces {
		if p.facets == f {
			list = append(list, geom.Point{X: p.z1, Y: p.r1 * k}, geom.Point{X: p.z2, Y: p.r2 * k})
		}
	}
	return slices.Compact(list)
}
