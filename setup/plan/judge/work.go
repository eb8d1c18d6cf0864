package judge

import (
	"math"
	"slices"
)

// piece is a stretch of the outside: straight between two diameters. On a
// polygon they are across its corners, and flat is across its flats.
type piece struct {
	a, b         float64
	da, db       float64
	stage        string // bought, cut, facetted
	sides        int
	flatA, flatB float64
}

func (p piece) dia(z float64) float64  { return between(point{p.a, p.da}, point{p.b, p.db}, z) }
func (p piece) flat(z float64) float64 { return between(point{p.a, p.flatA}, point{p.b, p.flatB}, z) }

// part returns the piece between two z of it.
func (p piece) part(a, b float64) piece {
	q := p
	q.a, q.b, q.da, q.db = a, b, p.dia(a), p.dia(b)
	q.flatA, q.flatB = p.flat(a), p.flat(b)
	return q
}

// centreHole is a centre hole in an end.
type centreHole struct{ z, dia, pilot float64 }

// work is the metal as it stands.
type work struct {
	outside []piece
	ends    map[string]string // how each end was made: the kind of the step
	centres map[string]*centreHole
	bores   []bore
	cross   []cross
	flats   []facet
	threads []thread
	slots   []slot
	mouths  map[string]float64 // the largest cone cut into a bore's mouth
}

func newWork(b blank) *work {
	w := &work{
		ends:    map[string]string{"left": "bought", "right": "bought"},
		centres: map[string]*centreHole{}, mouths: map[string]float64{},
	}
	p := piece{a: b.From, b: b.To, stage: "bought"}
	switch {
	case b.Shape == "hex" && b.Across != nil:
		p.sides, p.flatA = 6, *b.Across
	case b.Shape == "square" && b.Across != nil:
		p.sides, p.flatA = 4, *b.Across
	case b.Dia != nil:
		p.da = *b.Dia
	}
	if p.sides > 0 {
		p.da = cornersOf(p.flatA, p.sides)
	}
	p.db, p.flatB = p.da, p.flatA
	w.outside = []piece{p}
	if b.Shape == "tube" && b.Bore != nil {
		w.bores = []bore{{id: "tube", z0: b.From, z1: b.To, d0: *b.Bore, d1: *b.Bore, through: true, point: 180}}
	}
	return w
}

func (w *work) left() float64 {
	if len(w.outside) == 0 {
		return 0
	}
	return w.outside[0].a
}

func (w *work) right() float64 {
	if len(w.outside) == 0 {
		return 0
	}
	return w.outside[len(w.outside)-1].b
}

// endOf returns where an end is.
func (w *work) endOf(end string) float64 {
	if end == "left" {
		return w.left()
	}
	return w.right()
}

// over returns the parts of the outside between two z.
func (w *work) over(a, b float64) []piece {
	var in []piece
	for _, p := range w.outside {
		lo, hi := math.Max(a, p.a), math.Min(b, p.b)
		if hi-lo > tiny {
			in = append(in, p.part(lo, hi))
		}
	}
	return in
}

// largest and smallest are the diameters between two z, 0 and infinite where
// there is no metal.
func (w *work) largest(a, b float64) float64 {
	most := 0.0
	for _, p := range w.over(a, b) {
		most = math.Max(most, math.Max(p.da, p.db))
	}
	return most
}

func (w *work) smallest(a, b float64) float64 {
	least := math.Inf(1)
	for _, p := range w.over(a, b) {
		least = math.Min(least, math.Min(p.da, p.db))
	}
	return least
}

// near returns the piece at z, that on the right at a shoulder.
func (w *work) pieceAt(z float64) (piece, bool) {
	for _, p := range w.outside {
		if p.a <= z+tiny && z < p.b-tiny {
			return p, true
		}
	}
	if n := len(w.outside); n > 0 && near(w.outside[n-1].b, z) {
		return w.outside[n-1], true
	}
	return piece{}, false
}

// diaAt returns the diameter at z.
func (w *work) diaAt(z float64) float64 {
	if p, ok := w.pieceAt(z); ok {
		return p.dia(z)
	}
	return 0
}

// each calls do with the stretches that the outside and another outline have
// in common, on each of which both are straight and do not cross.
func (w *work) each(profile []point, do func(old piece, da, db float64)) {
	for _, p := range w.outside {
		for i := 0; i+1 < len(profile); i++ {
			q, r := profile[i], profile[i+1]
			lo, hi := math.Max(p.a, q.z), math.Min(p.b, r.z)
			if hi-lo <= tiny {
				continue
			}
			cuts := []float64{lo, hi}
			dl, dh := p.dia(lo)-between(q, r, lo), p.dia(hi)-between(q, r, hi)
			if dl*dh < 0 {
				cuts = []float64{lo, lo + (hi-lo)*dl/(dl-dh), hi}
			}
			for k := 0; k+1 < len(cuts); k++ {
				do(p.part(cuts[k], cuts[k+1]), between(q, r, cuts[k]), between(q, r, cuts[k+1]))
			}
		}
	}
}

// turn cuts the outside down to a profile where it is larger.
func (w *work) turn(profile []point) {
	lo, hi := profile[0].z, profile[len(profile)-1].z
	out := w.over(math.Inf(-1), lo)
	w.each(profile, func(old piece, da, db float64) {
		if da+db < old.da+old.db-2e-6 {
			old.da, old.db, old.stage = da, db, "cut"
			if da <= old.flatA+tiny && db <= old.flatB+tiny {
				old.sides, old.flatA, old.flatB = 0, 0, 0
			}
		}
		out = append(out, old)
	})
	out = append(out, w.over(hi, math.Inf(1))...)
	slices.SortStableFunc(out, func(p, q piece) int {
		switch {
		case p.a < q.a:
			return -1
		case p.a > q.a:
			return 1
		}
		return 0
	})
	w.outside = out
}

// mill leaves a polygon over a stretch.
func (w *work) mill(f facet) {
	var out []piece
	for _, p := range w.outside {
		lo, hi := math.Max(p.a, f.from), math.Min(p.b, f.to)
		if hi-lo <= tiny {
			out = append(out, p)
			continue
		}
		for _, q := range []piece{p.part(p.a, lo), p.part(lo, hi), p.part(hi, p.b)} {
			if q.b-q.a <= tiny {
				continue
			}
			if near(q.a, lo) && near(q.b, hi) {
				q = q.facetted(f)
			}
			out = append(out, q)
		}
	}
	w.outside = out
	w.flats = append(w.flats, f)
}

// facetted returns a piece with a polygon milled on it.
func (p piece) facetted(f facet) piece {
	ends := [2]point{{f.from, f.acrossA}, {f.to, f.acrossB}}
	fa, fb := between(ends[0], ends[1], p.a), between(ends[0], ends[1], p.b)
	if fa >= p.da && fb >= p.db {
		return p // it clears the work
	}
	p.stage, p.sides, p.flatA, p.flatB = "facetted", f.sides, fa, fb
	if f.sides > 2 {
		p.da, p.db = math.Min(p.da, cornersOf(fa, f.sides)), math.Min(p.db, cornersOf(fb, f.sides))
	}
	return p
}

// cutEnd takes everything beyond z away at an end.
func (w *work) cutEnd(end string, z float64, kind string) {
	if end == "left" {
		w.outside = w.over(z, math.Inf(1))
	} else {
		w.outside = w.over(math.Inf(-1), z)
	}
	w.ends[end] = kind
	if c := w.centres[end]; c != nil && (end == "left" && z > c.z+tiny || end == "right" && z < c.z-tiny) {
		delete(w.centres, end)
	}
	delete(w.mouths, end)
}

// hollow returns how wide the work is bored at z, 0 where it is solid.
func (w *work) hollow(z float64) float64 {
	most := 0.0
	for _, b := range w.bores {
		if b.z0-tiny <= z && z <= b.z1+tiny {
			most = math.Max(most, between(point{b.z0, b.d0}, point{b.z1, b.d1}, z))
		}
	}
	return most
}

// mouth returns how wide the bore in an end is at its mouth, with its depth.
func (w *work) mouth(end string) (dia float64) {
	z := w.endOf(end)
	inward := 0.01
	if end == "right" {
		inward = -0.01
	}
	return w.hollow(z + inward)
}

// apply takes a removal away.
func (w *work) apply(r removal, kind string, d *drawing) {
	switch r.Shape {
	case "outside":
		w.turn(points(r.Profile))
	case "end":
		w.cutEnd(r.End, r.Z, kind)
	case "centre":
		w.centres[r.End] = &centreHole{w.endOf(r.End), r.Dia, r.Pilot}
	case "bore":
		b := boreOf(r, d)
		w.bores = append(w.bores, b)
		w.openMouth(r)
	case "cross":
		h := cross{z: r.Z, roll: r.Roll, dia: r.Dia, offset: r.Offset}
		if r.Depth != nil {
			h.depth = *r.Depth
		}
		w.cross = append(w.cross, h)
	case "flats":
		w.mill(facet{from: r.FromZ, to: r.ToZ, sides: r.Sides, roll: r.First, acrossA: r.AcrossA, acrossB: r.AcrossB})
	case "thread":
		t := threadOf(r)
		w.threads = append(w.threads, t)
	case "slot":
		s := slot{from: r.FromZ, to: r.ToZ, roll: r.Roll, width: r.Width}
		if r.Depth != nil {
			s.depth = *r.Depth
		}
		w.slots = append(w.slots, s)
	}
}

// openMouth keeps what a bore that starts at the face does to the mouth: a cone
// opens it, and a drill larger than a centre hole's pilot leaves of that hole
// its rim.
func (w *work) openMouth(r removal) {
	if r.Start > tiny {
		return
	}
	cone := 0.0
	if r.EndDia != nil && *r.EndDia < r.Dia {
		cone = r.Dia
	}
	if c := w.centres[r.From]; c != nil && cone == 0 && r.Dia > c.pilot {
		cone = c.dia
		delete(w.centres, r.From)
	}
	w.mouths[r.From] = math.Max(w.mouths[r.From], cone)
}

func points(profile [][]float64) []point {
	var out []point
	for _, p := range profile {
		out = append(out, point{p[0], p[1]})
	}
	if len(out) > 1 && out[0].z > out[len(out)-1].z {
		slices.Reverse(out)
	}
	return out
}

// boreOf returns a bore between two z. Start and depth count inward from the
// finished face.
func boreOf(r removal, d *drawing) bore {
	b := bore{end: r.From, point: 180, d0: r.Dia, d1: r.Dia}
	if r.EndDia != nil {
		b.d1 = *r.EndDia
	}
	if r.Point != nil {
		b.point = *r.Point
	}
	if r.Depth != nil {
		b.depth = *r.Depth
	}
	b.through = b.depth >= d.length-1e-3
	b.z0, b.z1 = r.Start, b.depth
	if r.From == "right" {
		b.z0, b.z1, b.d0, b.d1 = d.length-b.depth, d.length-r.Start, b.d1, b.d0
	}
	return b
}

func threadOf(r removal) thread {
	t := thread{spec: r.Spec, from: r.FromZ, to: r.ToZ, runOut: r.RunOut, inside: r.Inside}
	t.size, t.known = parseThread(r.Spec)
	return t
}
