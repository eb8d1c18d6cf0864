package walls

import (
	"math"
	"slices"
	"sort"

	"setover/setup/base/geom"
	"setover/setup/maker/part"
	"setover/threads"
)

// piece is a stretch of the outside without a break in it: the radius runs
// straight from r1 at z1 to r2 at z2. In facets r is the apothem.
type piece struct {
	z1, z2, r1, r2 float64
	facets         *part.Facets
}

// body is a turned part as walls are measured on it.
type body struct {
	length    float64
	pieces    []piece // left to right
	shoulders []float64
	threads   []threaded // outside
	bores     []bore
	round     *part.Round
}

// threaded is a stretch with an outside thread on it.
type threaded struct {
	from, to float64
	end      float64 // the thread's end that is not the part's
	name     string
}

// bore is an axial bore: its range along z with the point, its radius, and
// the z where the point or the flat bottom ends. A thread in it is a bore of
// its major diameter with a flat bottom.
type bore struct {
	from, to, r float64
	left        bool
	thread      string
}

// pointTan is how much radius a 118 deg point loses per length.
var pointTan = math.Tan(59 * math.Pi / 180)

// newBody reads the part. It fails on a thread whose designation is not one.
func newBody(r *part.Round) (*body, error) {
	b := &body{length: r.Length().MM(), round: r}
	b.pieces = b.profile()
	if err := b.cutThreads(); err != nil {
		return nil, err
	}
	b.cutFacets()
	for _, o := range r.Bores {
		rad, depth := o.Dia.MM()/2, o.Depth.MM()
		to := depth + rad/pointTan
		switch {
		case o.Through:
			b.bores = append(b.bores, bore{0, b.length, rad, true, ""})
		case o.From == part.Right:
			b.bores = append(b.bores, bore{b.length - to, b.length, rad, false, ""})
		default:
			b.bores = append(b.bores, bore{0, to, rad, true, ""})
		}
	}
	return b, nil
}

// profile returns the outside as it is turned, arcs followed by chords.
func (b *body) profile() []piece {
	var list []piece
	stations := b.round.Profile
	for i := 1; i < len(stations); i++ {
		p, s := stations[i-1], stations[i]
		z1, z2 := p.Z.MM(), s.Z.MM()
		if z1 == z2 {
			b.shoulders = append(b.shoulders, z1)
			continue
		}
		list = append(list, piece{z1, z2, p.Dia.MM() / 2, s.Dia.MM() / 2, nil})
	}
	for _, a := range b.round.Arcs {
		from, to := a.From.MM(), a.To.MM()
		chain := arcPieces(from, to, radiusAt(list, from, true), radiusAt(list, to, false), a.Radius.MM(), a.Out)
		list = append(append(clip(list, 0, from), chain...), clip(list, to, b.length)...)
	}
	return list
}

// clip returns the pieces between two places.
func clip(list []piece, from, to float64) []piece {
	var out []piece
	for _, p := range list {
		z1, z2 := max(p.z1, from), min(p.z2, to)
		if z1 < z2 {
			out = append(out, piece{z1, z2, p.at(z1), p.at(z2), p.facets})
		}
	}
	return out
}

// at returns a piece's radius at z.
func (p piece) at(z float64) float64 { return p.r1 + (p.r2-p.r1)*(z-p.z1)/(p.z2-p.z1) }

// radiusAt returns the radius at z; at a shoulder that to the right of it or
// to the left.
func radiusAt(list []piece, z float64, right bool) float64 {
	for _, p := range list {
		if p.z1 <= z && z < p.z2 && right || p.z1 < z && z <= p.z2 && !right {
			return p.at(z)
		}
	}
	return 0
}

// arcPieces follows an arc from (z1, r1) to (z2, r2) by chords no further than
// 1e-6 mm from it: a chord c leaves an arc of the radius R by c²/(8·R).
func arcPieces(z1, z2, r1, r2, radius float64, out bool) []piece {
	mz, mr := (z1+z2)/2, (r1+r2)/2
	chord := math.Hypot(z2-z1, r2-r1)
	h := math.Sqrt(max(0, radius*radius-chord*chord/4))
	// The centre stands below the chord's middle when the arc bulges out.
	nz, nr := (r2-r1)/chord, -(z2-z1)/chord
	if !out {
		nz, nr = -nz, -nr
	}
	cz, cr := mz+h*nz, mr+h*nr
	a1, a2 := math.Atan2(r1-cr, z1-cz), math.Atan2(r2-cr, z2-cz)
	turn := math.Remainder(a2-a1, 2*math.Pi)
	n := int(math.Ceil(math.Abs(turn) * radius / math.Sqrt(8*radius*1e-6)))
	list := make([]piece, 0, n)
	z, r := z1, r1
	for i := 1; i <= n; i++ {
		a := a1 + turn*float64(i)/float64(n)
		nextZ, nextR := cz+radius*math.Cos(a), cr+radius*math.Sin(a)
		if i == n {
			nextZ, nextR = z2, r2
		}
		list = append(list, piece{z, nextZ, r, nextR, nil})
		z, r = nextZ, nextR
	}
	return list
}

// cutThreads turns the outside down to the roots of its threads, and enters
// the inside ones as bores.
func (b *body) cutThreads() error {
	for _, t := range b.round.Threads {
		d, err := threads.Parse(t.Spec)
		if err != nil {
			return placed(err, t.At)
		}
		size, l := d.Sizes(), t.Length.MM()
		from, to := 0.0, l
		if t.From == part.Right {
			from, to = b.length-l, b.length
		}
		if t.Inside {
			b.bores = append(b.bores, bore{from, to, size.MajorInternal.MM() / 2, t.From == part.Left, d.String()})
			continue
		}
		end := to
		if t.From == part.Right {
			end = from
		}
		b.threads = append(b.threads, threaded{from, to, end, d.String()})
		root := size.MinorExternal.MM() / 2
		list := clip(b.pieces, 0, from)
		for _, p := range clip(b.pieces, from, to) {
			list = append(list, p.under(root)...)
		}
		b.pieces = append(list, clip(b.pieces, to, b.length)...)
	}
	return nil
}

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

// cutFacets marks the pieces that lie in facets, their radius made an apothem.
func (b *body) cutFacets() {
	for i := range b.round.Facets {
		f := &b.round.Facets[i]
		from, to := f.From.MM(), f.To.MM()
		list := clip(b.pieces, 0, from)
		for _, p := range clip(b.pieces, from, to) {
			p.facets = f
			if f.Corners {
				k := math.Cos(math.Pi / float64(f.Sides))
				p.r1, p.r2 = p.r1*k, p.r2*k
			}
			list = append(list, p)
		}
		b.pieces = append(list, clip(b.pieces, to, b.length)...)
	}
}

// extent returns how far facets reach in a direction, times the apothem:
// 1/cos(d) with d the angle to the nearest flat's normal.
func extent(f *part.Facets, roll float64) float64 {
	step := 360 / float64(f.Sides)
	d := math.Remainder(roll-f.Roll.Deg(), step)
	return 1 / math.Cos(d*math.Pi/180)
}

// view is the part as it is seen along one roll: worked out once for all holes
// that have it.
type view struct {
	up, down line // outlines toward roll + 90 and roll - 90
	facets   map[*part.Facets]*faceted
}

// faceted is one facet item in a view.
type faceted struct {
	up, down   float64   // extents toward roll + 90 and roll - 90
	cos, sin   []float64 // of the angle from the roll to each flat's normal
	near, away []line    // corner lines, as seen, on the near side and the other
}

// view returns the part as it is seen along a roll.
func (b *body) view(roll float64) *view {
	v := &view{facets: map[*part.Facets]*faceted{}}
	for i := range b.round.Facets {
		f := &b.round.Facets[i]
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

// distance returns the least distance from a point to the outline. It looks
// outwards from the point's z until nothing can be nearer.
func (l line) distance(p geom.Point) float64 {
	mid := sort.Search(len(l), func(i int) bool { return l[i].X >= p.X })
	best := math.Inf(1)
	for i := mid; i < len(l); i++ { // the span that ends at i
		if i == 0 {
			continue
		}
		if l[i-1].X-p.X >= best {
			break
		}
		best = min(best, toSegment(p, l[i-1], l[i]))
	}
	for i := mid - 1; i > 0; i-- {
		if p.X-l[i].X >= best {
			break
		}
		best = min(best, toSegment(p, l[i-1], l[i]))
	}
	return best
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
func (b *body) corner(f *part.Facets, corner, roll float64) line {
	k := math.Sin((corner-roll)*math.Pi/180) / math.Cos(math.Pi/float64(f.Sides))
	var list line
	for _, p := range b.pieces {
		if p.facets == f {
			list = append(list, geom.Point{X: p.z1, Y: p.r1 * k}, geom.Point{X: p.z2, Y: p.r2 * k})
		}
	}
	return slices.Compact(list)
}
