package walls

import (
	"math"
	"slices"
	"sort"

	"setover/setup/base/geom"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
)

// piece is a stretch of the outside without a break in it: the radius runs
// straight from r1 at z1 to r2 at z2. In a polygon r is the apothem; between two
// flats it is that of the round, which the flats cut.
type piece struct {
	z1, z2, r1, r2 float64
	facets         *outline.Facets
}

// flats returns how far two flats are from the axis, and whether the piece has
// such.
func (p *piece) flats() (apothem float64, ok bool) {
	if p.facets == nil || p.facets.Sides != 2 {
		return 0, false
	}
	return p.facets.Across.MM() / 2, true
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

// Relief is a groove round the outside that is cut and not drawn: behind a thread, so
// that its tool runs out.
type Relief struct {
	Span outline.Span
	Dia  units.Length
}

// cone returns it as what pieces are cut down to.
func (r Relief) cone() outline.Chamfer {
	return outline.Chamfer{Span: r.Span, Left: r.Dia, Right: r.Dia}
}

func newBody(o *outline.Outline, reliefs []Relief) *body {
	b := &body{Outline: o, length: o.Length.MM(), point: practice.PointAngle.Angle().Half().Tan()}
	for i := range o.Stretches {
		s := &o.Stretches[i]
		list := pieces(s)
		for _, c := range o.Chamfers {
			if c.On(*s) {
				list = chamfered(list, c)
			}
		}
		for _, r := range reliefs {
			if c := r.cone(); c.On(*s) {
				list = chamfered(list, c)
			}
		}
		b.pieces = append(b.pieces, list...)
	}
	for _, s := range o.Shoulders {
		b.shoulders = append(b.shoulders, s.Z.MM())
	}
	for _, c := range o.Chamfers { // it ends in an edge as a shoulder does
		b.shoulders = append(b.shoulders, c.Inner().MM())
	}
	for _, r := range reliefs {
		b.shoulders = append(b.shoulders, r.Span.From.MM(), r.Span.To.MM())
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

// chamfered cuts pieces down to a chamfer over its span. What is in facets is
// cut where the cone is under the flats.
func chamfered(whole []piece, c outline.Chamfer) (list []piece) {
	cone := piece{c.Span.From.MM(), c.Span.To.MM(), c.Left.MM() / 2, c.Right.MM() / 2, nil}
	for _, p := range whole {
		for _, z := range []float64{cone.z1, cone.z2} {
			if p.z1 < z && z < p.z2 {
				r := p.at(z)
				list = append(list, piece{p.z1, z, p.r1, r, p.facets})
				p.z1, p.r1 = z, r
			}
		}
		list = append(list, p)
	}
	for i := range list {
		if p := &list[i]; cone.z1 <= p.z1 && p.z2 <= cone.z2 {
			p.r1, p.r2 = min(p.r1, cone.at(p.z1)), min(p.r2, cone.at(p.z2))
		}
	}
	return list
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

// corners adds the corner lines of facets as they are seen along a roll. Those
// of two flats stand where a flat meets the round, which on a taper is another
// roll at every z.
func (b *body) corners(s *faceted, f *outline.Facets, roll float64) {
	if f.Sides == 2 {
		for _, side := range []float64{0, 180} {
			for _, hand := range []float64{1, -1} {
				s.add(b.meeting(f, side+f.Roll.Deg()-roll, hand))
			}
		}
		return
	}
	step := 360 / float64(f.Sides)
	for k := range f.Sides {
		corner := f.Roll.Deg() + step*(float64(k)+0.5)
		s.add(b.corner(f, corner, roll), math.Abs(math.Remainder(corner-roll, 360)))
	}
}

// add keeps a corner line on the side it is seen on: side is how far it is round
// from the roll, in degrees.
func (s *faceted) add(l line, side float64) {
	switch {
	case len(l) == 0:
	case side < 90-1e-9:
		s.near = append(s.near, l)
	case side > 90+1e-9:
		s.away = append(s.away, l)
	}
}

// meeting returns the line where one of two flats meets the round, as it is
// seen along a roll from which the flat's normal is turned by so many degrees:
// at a radius r it stands acos(A/r) round from the normal. side is how far round
// it is from the roll, where it is nearest to it.
func (b *body) meeting(f *outline.Facets, normal, hand float64) (l line, side float64) {
	side = math.Inf(1)
	for _, p := range b.pieces {
		apothem, _ := p.flats()
		if p.facets != f || max(p.r1, p.r2) <= apothem {
			continue
		}
		parts := 1
		if p.r1 != p.r2 {
			parts = 256 // the line is curved there: chords within some 1e-5 mm of it
		}
		for i := range parts + 1 {
			z := p.z1 + (p.z2-p.z1)*float64(i)/float64(parts)
			r := p.at(z)
			if r < apothem {
				continue // the flat runs out of the round
			}
			at := normal + hand*math.Acos(apothem/r)*180/math.Pi
			side = min(side, math.Abs(math.Remainder(at, 360)))
			l = append(l, geom.Point{X: z, Y: r * math.Sin(at*math.Pi/180)})
		}
	}
	return slices.Compact(l), side
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
		}
		b.corners(s, f, roll)
		v.facets[f] = s
	}
	v.up, v.down = b.outline(v, true), b.outline(v, false)
	return v
}

// seen returns how a piece reaches beside the bar's axis: one straight run, or
// two where flats run out of the round.
func (v *view) seen(p *piece, up bool) []piece {
	if p.facets == nil {
		return []piece{*p}
	}
	k := v.facets[p.facets].down
	if up {
		k = v.facets[p.facets].up
	}
	if apothem, ok := p.flats(); ok {
		return p.under(apothem * k)
	}
	return []piece{{p.z1, p.z2, p.r1 * k, p.r2 * k, p.facets}}
}

// beside returns how far a piece of the radius or apothem r reaches beside the
// bar's axis.
func (v *view) beside(p *piece, r float64, up bool) float64 {
	q := *p
	q.r1, q.r2 = r, r
	return v.seen(&q, up)[0].r1
}

// line is the part's outline in one direction: points left to right, its ends
// left open.
type line []geom.Point

// outline returns the outline to one side of a view.
func (b *body) outline(v *view, up bool) line {
	list := make(line, 0, 2*len(b.pieces))
	for i := range b.pieces {
		for _, p := range v.seen(&b.pieces[i], up) {
			a, c := geom.Point{X: p.z1, Y: p.r1}, geom.Point{X: p.z2, Y: p.r2}
			if len(list) == 0 || list[len(list)-1] != a {
				list = append(list, a)
			}
			list = append(list, c)
		}
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
		up, down = min(up, v.beside(p, r, true)), min(down, v.beside(p, r, false))
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
// of the radius r, or the polygon with that apothem. Two flats cut the circle.
func (v *view) chord(p *piece, r, offset float64) (from, to float64, ok bool) {
	from, to = math.Inf(-1), math.Inf(1)
	apothem, two := p.flats()
	if p.facets == nil || two {
		h := r*r - offset*offset
		if h <= 0 {
			return 0, 0, false
		}
		from, to = -math.Sqrt(h), math.Sqrt(h)
	}
	if p.facets == nil {
		return from, to, true
	}
	if two {
		r = apothem
	}
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
