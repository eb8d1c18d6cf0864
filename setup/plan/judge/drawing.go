package judge

import (
	"math"
	"slices"
)

// point is a place on an outline: z and a diameter.
type point struct{ z, d float64 }

// drawing is what the part file asks for.
type drawing struct {
	node
	material string
	quantity int
	general  string // the class of the general limits
	length   float64
	outline  []point // across corners on facets
	plain    []point // as the profile is written
	circles  []circle
	facets   []facet
	bores    []bore
	threads  []thread
	holes    []cross
	slots    []slot
	chamfers []point // z and size
	limits   []limit
	block    bool
	remove   bool // centres: remove
}

// facet is a polygon: across flats at its two ends, flat to corner for an odd
// number of sides.
type facet struct {
	id               string
	from, to         float64
	sides            int
	acrossA, acrossB float64
	roll, leave      float64
}

// bore is a hole along the axis between two z, with its diameters there.
type bore struct {
	id      string
	end     string
	z0, z1  float64
	d0, d1  float64
	depth   float64 // from its end's face
	through bool
	point   float64 // its point's angle, 180 flat
	limit   *[2]float64
}

// thread is full thread between two z.
type thread struct {
	id       string
	end      string
	spec     string
	from, to float64
	runOut   float64
	inside   bool
	size     threadSize
	known    bool
}

// cross is a hole across the bar.
type cross struct {
	id           string
	z, roll, dia float64
	depth        float64 // 0 through
	offset       float64
	limit        *[2]float64
}

type slot struct {
	id             string
	from, to, roll float64
	width, depth   float64
}

// limit is a written limit: at a diameter's place, or of a length, or an angle.
type limit struct {
	place    float64
	isPlace  bool
	from, to float64
	angle    float64 // degrees either way, 0 where none is written
	gauge    string
	below    float64 // how far the size may be under, 0 or less
	above    float64
	known    bool
}

// readDrawing reads a part file.
func readDrawing(t Tree) drawing {
	d := drawing{node: rootOf(t)}
	d.material, d.quantity, d.general = d.text("material"), d.count("quantity", 1), d.text("general")
	if d.general == "" {
		d.general = "medium"
	}
	d.block = d.has("block")
	if d.block {
		return d
	}
	r := d.in("round")
	if g := r.text("general"); g != "" {
		d.general = g
	}
	d.remove = d.text("centres") == "remove" || r.text("centres") == "remove"
	for _, p := range r.list("profile") {
		if pair, ok := p.([]any); ok && len(pair) == 2 {
			z, _ := length(pair[0], d.unit)
			dia, _ := length(pair[1], d.unit)
			d.plain = append(d.plain, point{z, dia})
		}
	}
	d.length = d.plain[len(d.plain)-1].z
	d.plain = d.curved(r, d.plain)
	d.readFacets(r)
	d.readLimits(r)
	d.readBores(r)
	d.readThreads(r)
	d.readHoles(r)
	for i, s := range r.nodes("slots") {
		at, l := s.mm("at"), s.mm("length")
		roll, _ := degrees(s.tree["roll"])
		d.slots = append(d.slots, slot{
			id: numbered("slot", i), from: at - l/2, to: at + l/2, roll: roll, width: s.mm("width"), depth: s.mm("depth"),
		})
	}
	for _, c := range r.nodes("chamfers") {
		d.chamfers = append(d.chamfers, point{c.mm("at"), c.mm("size")})
	}
	return d
}

// curved returns the profile with its arcs as chains of short lines.
func (d *drawing) curved(r node, profile []point) []point {
	arcs := r.nodes("arcs")
	var out []point
	for i, p := range profile {
		if i > 0 {
			for _, a := range arcs {
				if near(a.mm("from"), profile[i-1].z) && near(a.mm("to"), p.z) {
					in := a.text("bulge") == "in"
					out = append(out, arc(profile[i-1], p, a.mm("radius"), in)...)
					d.circles = append(d.circles, circleOf(profile[i-1], p, a.mm("radius"), in))
				}
			}
		}
		out = append(out, p)
	}
	return out
}

// circle is an arc between two z: its middle along the bar and from the axis, its radius, and -1
// where it bulges out, 1 where it bulges in.
type circle struct{ from, to, z, r, radius, side float64 }

// circleOf returns the circle of a radius through two points, whose middle lies below the chord for a
// bulge out and above it for one in.
func circleOf(p, q point, radius float64, in bool) circle {
	pr, qr := p.d/2, q.d/2
	chord := math.Hypot(q.z-p.z, qr-pr)
	rise := math.Sqrt(math.Max(0, radius*radius-chord*chord/4))
	nz, nr := -(qr-pr)/chord, (q.z-p.z)/chord // square to the chord, outward
	side := -1.0
	if in {
		side = 1
	}
	return circle{p.z, q.z, (p.z+q.z)/2 + side*rise*nz, (pr+qr)/2 + side*rise*nr, radius, side}
}

// dia returns the diameter of the arc at z.
func (c circle) dia(z float64) float64 {
	h := math.Sqrt(math.Max(0, c.radius*c.radius-(z-c.z)*(z-c.z)))
	return 2 * (c.r - c.side*h)
}

// arc returns points between two on a circle of the radius.
func arc(p, q point, radius float64, in bool) []point {
	const parts = 200
	c := circleOf(p, q, radius, in)
	var out []point
	for i := 1; i < parts; i++ {
		z := p.z + (q.z-p.z)*float64(i)/parts
		out = append(out, point{z, c.dia(z)})
	}
	return out
}

// readFacets reads facets and makes the outline across corners.
func (d *drawing) readFacets(r node) {
	for i, f := range r.nodes("facets") {
		n := f.count("sides", 0)
		x := facet{id: numbered("facets", i), sides: n, from: f.mm("from"), to: f.mm("to"), leave: f.mm("leave")}
		x.roll, _ = degrees(f.tree["roll"])
		a, b := alongAfter(d.plain, x.from), alongBefore(d.plain, x.to)
		across, isNumber := f.length("across")
		switch {
		case isNumber:
			x.acrossA, x.acrossB = across, across
		case f.text("across") == "corners":
			x.acrossA, x.acrossB = flatsOf(a, n), flatsOf(b, n)
		default:
			x.acrossA, x.acrossB = a, b
		}
		d.facets = append(d.facets, x)
	}
	d.outline = slices.Clone(d.plain)
	for i, f := range r.nodes("facets") {
		x := d.facets[i]
		if _, isNumber := f.length("across"); isNumber || f.text("across") == "corners" || x.sides == 2 {
			continue
		}
		d.outline = scaled(d.outline, x.from, x.to, 1/math.Cos(math.Pi/float64(x.sides)))
	}
}

// flatsOf returns across flats of a polygon with a diameter across its
// corners: flat to corner where the number of sides is odd.
func flatsOf(corners float64, sides int) float64 {
	c := math.Cos(math.Pi / float64(sides))
	if sides%2 == 1 {
		return corners / 2 * (1 + c)
	}
	return corners * c
}

// cornersOf is the other way round.
func cornersOf(flats float64, sides int) float64 {
	c := math.Cos(math.Pi / float64(sides))
	if sides%2 == 1 {
		return 2 * flats / (1 + c)
	}
	return flats / c
}

// scaled returns an outline with the diameters of a stretch times a factor.
func scaled(in []point, from, to, factor float64) []point {
	var out []point
	add := func(z, d float64) {
		if n := len(out); n == 0 || out[n-1] != (point{z, d}) {
			out = append(out, point{z, d})
		}
	}
	for i := 0; i+1 < len(in); i++ {
		p, q := in[i], in[i+1]
		if q.z-p.z < tiny {
			continue
		}
		cuts := []float64{p.z}
		for _, z := range []float64{from, to} {
			if z > p.z+tiny && z < q.z-tiny {
				cuts = append(cuts, z)
			}
		}
		cuts = append(cuts, q.z)
		for k := 0; k+1 < len(cuts); k++ {
			f := 1.0
			if mid := (cuts[k] + cuts[k+1]) / 2; mid > from && mid < to {
				f = factor
			}
			add(cuts[k], f*between(p, q, cuts[k]))
			add(cuts[k+1], f*between(p, q, cuts[k+1]))
		}
	}
	return out
}

func between(p, q point, z float64) float64 {
	if q.z-p.z < tiny {
		return q.d
	}
	return p.d + (q.d-p.d)*(z-p.z)/(q.z-p.z)
}

// alongAfter and alongBefore return an outline's diameter just right and just
// left of z.
func alongAfter(o []point, z float64) float64 {
	for i := 0; i+1 < len(o); i++ {
		if o[i].z <= z+tiny && o[i+1].z > z+tiny {
			return between(o[i], o[i+1], z)
		}
	}
	return 0
}

func alongBefore(o []point, z float64) float64 {
	for i := 0; i+1 < len(o); i++ {
		if o[i].z < z-tiny && o[i+1].z >= z-tiny {
			return between(o[i], o[i+1], z)
		}
	}
	return 0
}

// readBores reads bores. One with a point ends in a drill's beyond its depth.
func (d *drawing) readBores(r node) {
	for i, b := range r.nodes("bores") {
		x := bore{id: numbered("bore", i), end: b.text("from"), depth: b.mm("depth"), point: 118}
		x.through = b.text("through") == "true"
		x.d0, x.d1 = b.mm("dia"), b.mm("dia")
		if x.through {
			x.depth = d.length
		}
		x.z0, x.z1 = 0, x.depth
		if x.end == "right" {
			x.z0, x.z1 = d.length-x.depth, d.length
		}
		x.limit = writtenLimit(b, x.d0)
		d.bores = append(d.bores, x)
	}
}

func (d *drawing) readThreads(r node) {
	for i, t := range r.nodes("threads") {
		x := thread{id: numbered("thread", i), spec: t.text("spec"), end: t.text("from"), inside: t.text("inside") == "true"}
		l := t.or("length", t.mm("depth"))
		x.from, x.to = 0, l
		if x.end == "right" {
			x.from, x.to = d.length-l, d.length
		}
		x.size, x.known = parseThread(x.spec)
		if deep := d.pointed(x.end, x.size.major); x.inside && x.end == "right" {
			x.to -= deep
		} else if x.inside {
			x.from += deep
		}
		d.threads = append(d.threads, x)
	}
}

// pointed returns how deep the bores of an end that are wider than a diameter leave
// no metal for it: to where the drill's point of 118 deg is as narrow.
func (d *drawing) pointed(end string, dia float64) float64 {
	deep := 0.0
	for _, b := range d.bores {
		if b.end == end && !b.through && b.d0 > dia {
			deep = math.Max(deep, b.depth+(b.d0-dia)/2/math.Tan(b.point/2*math.Pi/180))
		}
	}
	return deep
}

// readHoles reads single holes, then rows, each hole of a row at each roll.
func (d *drawing) readHoles(r node) {
	add := func(h cross) {
		h.id = numbered("hole", len(d.holes))
		d.holes = append(d.holes, h)
	}
	for _, h := range r.nodes("holes") {
		roll, _ := degrees(h.tree["roll"])
		add(cross{
			z: h.mm("at"), dia: h.mm("dia"), roll: roll, offset: h.mm("offset"), depth: h.mm("depth"),
			limit: writtenLimit(h, h.mm("dia")),
		})
	}
	for _, w := range r.nodes("rows") {
		var dias []float64
		for _, v := range w.list("dias") {
			dia, _ := length(v, d.unit)
			dias = append(dias, dia)
		}
		for n := w.count("count", 1); len(dias) < n; {
			dias = append(dias, w.mm("dia"))
		}
		rolls := w.list("rolls")
		if len(rolls) == 0 {
			rolls = []any{0.0}
		}
		centres, step := rowCentres(w, dias)
		for i, v := range rolls {
			roll, _ := degrees(v)
			shift := 0.0
			if w.text("stagger") == "true" && i%2 == 1 {
				shift = step / 2
			}
			for k, dia := range dias {
				add(cross{
					z: centres[k] + shift, dia: dia, roll: roll, depth: w.mm("depth"), offset: w.mm("offset"),
					limit: writtenLimit(w, dia),
				})
			}
		}
	}
}

// rowCentres returns where the holes of a row stand, and the step.
func rowCentres(w node, dias []float64) (centres []float64, step float64) {
	z := w.mm("from")
	for i := range dias {
		if i > 0 {
			switch n := float64(len(dias) - 1); {
			case w.has("pitch"):
				step = w.mm("pitch")
			case w.has("span"):
				step = w.mm("span") / n
			default:
				step = w.mm("web") + (dias[i-1]+dias[i])/2
			}
			z += step
		}
		centres = append(centres, z)
	}
	return centres, step
}

// id numbers from 1.
func numbered(word string, i int) string { return word + "-" + itoa(i+1) }

func isWord(text string, words ...string) bool { return slices.Contains(words, text) }
