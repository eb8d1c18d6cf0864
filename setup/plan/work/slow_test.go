package work

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/maker/part"
)

// grain is how far apart the slow bar is looked at. Everything that is drawn
// stands on a multiple of half a millimetre, between two places.
const grain = 0.05

// spot is what stands at one z of the slow bar: nothing, or a diameter, how far
// that has come, and flats about a circle of diameter in.
type spot struct {
	z, dia, in float64
	stage      Stage
	sides      int
	unsure     bool // two lines were nearer there than is told apart
}

// slow is the work again, as a row of spots and a list of bores: no pieces, no
// crossings, nothing cut.
type slow struct {
	spots       []spot
	bores       []Bore
	length      float64
	left, right float64
	steps       int
}

func slowBar(length float64, s Span, dia float64, sides int, bore Len) *slow {
	b := &slow{length: length, left: s.From.MM(), right: s.To.MM()}
	for z := b.left + grain/2; z < b.right; z += grain {
		p := spot{z: z, dia: dia, sides: sides}
		if sides > 0 {
			p.in = dia * math.Cos(math.Pi/float64(sides))
		}
		b.spots = append(b.spots, p)
	}
	if bore > 0 {
		b.bores = []Bore{{Dia: bore, From: part.Left, Depth: Float(length), Point: 180e6, Through: true}}
	}
	return b
}

// between returns the value at z of the line through two points.
func between(z, z0, v0, z1, v1 float64) float64 { return v0 + (v1-v0)*(z-z0)/(z1-z0) }

func (p *spot) compare(a, b float64) int {
	switch d := a - b; {
	case d == 0:
		return 0
	case math.Abs(d) < 2e-5:
		p.unsure = true
		return 0
	case d < 0:
		return -1
	}
	return 1
}

func (b *slow) cut(r Removal) {
	b.steps++
	for i := range b.spots {
		p := &b.spots[i]
		if p.z < b.left || p.z > b.right {
			continue
		}
		switch r := r.(type) {
		case Outside:
			for k := 1; k < len(r.Profile); k++ {
				u, v := r.Profile[k-1], r.Profile[k]
				if u.Z.MM() < p.z && p.z < v.Z.MM() {
					p.turn(between(p.z, u.Z.MM(), u.Dia.MM(), v.Z.MM(), v.Dia.MM()), r.Stage)
				}
			}
		case Flats:
			if r.From.MM() < p.z && p.z < r.To.MM() {
				p.mill(between(p.z, r.From.MM(), r.AcrossFrom.MM(), r.To.MM(), r.AcrossTo.MM()), r.Sides)
			}
		case Thread:
			if !r.Inside && r.From.MM() < p.z && p.z < r.To.MM() {
				p.stage = Threaded
			}
		}
	}
	switch r := r.(type) {
	case EndCut:
		if z := r.Z.MM(); r.End == part.Left {
			b.left = math.Max(b.left, z)
		} else {
			b.right = math.Min(b.right, z)
		}
	case Bore:
		b.bores = append(b.bores, r)
	}
}

func (p *spot) turn(to float64, stage Stage) {
	switch p.compare(p.dia, to) {
	case 0:
		p.stage = max(p.stage, stage)
	case 1:
		p.dia = to
		if p.sides > 0 && p.compare(p.in, to) < 0 {
			p.stage = max(p.stage, stage)
		} else {
			p.sides, p.in, p.stage = 0, 0, stage
		}
	}
}

func (p *spot) mill(across float64, sides int) {
	in, corner := across, math.Inf(1)
	if sides > 2 {
		half := math.Pi / float64(sides)
		corner = across / math.Cos(half)
		if sides%2 == 1 { // the middle lies cos of a part of the corner's radius from a flat
			corner = 2 * across / (1 + math.Cos(half))
		}
		in = corner * math.Cos(half)
	}
	if p.compare(p.dia, in) <= 0 {
		return
	}
	p.dia = math.Min(p.dia, corner)
	if p.sides == 0 || p.compare(in, p.in) <= 0 {
		p.sides, p.in, p.stage = sides, in, max(p.stage, Facetted)
	}
}

// hollow returns how wide the slow bar is bored.
func (b *slow) hollow(z float64) float64 {
	wide := 0.0
	for _, h := range b.bores {
		deep, end := z, h.EndDia.MM()
		if h.From == part.Right {
			deep = b.length - z
		}
		if end == 0 {
			end = h.Dia.MM()
		}
		start, floor := h.Start.MM(), h.Depth.MM()
		d := 0.0
		switch {
		case deep < start:
			if start == 0 {
				d = h.Dia.MM()
			}
		case deep <= floor:
			d = between(deep, start, h.Dia.MM(), floor, end)
		case h.Through:
			d = end
		case h.Point < 180e6:
			d = end - 2*(deep-floor)*math.Tan(float64(h.Point)/1e6*math.Pi/360)
		}
		wide = math.Max(wide, d)
	}
	return wide
}

// section sums the sectors of a round of diameter dia with flats about in.
func section(dia, in float64, sides int) float64 {
	if sides == 0 {
		return math.Pi / 4 * dia * dia
	}
	const n = 100
	sum, half := 0.0, math.Pi/float64(sides)
	for i := range n {
		turn := (float64(i) + 0.5) / n * half
		r := math.Min(dia/2, in/2/math.Cos(turn))
		sum += r * r / 2 * half / n
	}
	return sum * 2 * float64(sides)
}

func (b *slow) volume() float64 {
	v := 0.0
	for _, p := range b.spots {
		if b.left < p.z && p.z < b.right {
			h := b.hollow(p.z)
			v += grain * math.Max(0, section(p.dia, p.in, p.sides)-math.Pi/4*h*h)
		}
	}
	return v
}

// halves draws a multiple of half a millimetre.
func halves(t *rapid.T, from, to int, name string) Len {
	return Len(rapid.IntRange(2*from, 2*to).Draw(t, name)) * MM / 2
}

const length = 40

func drawBar(t *rapid.T) (State, *slow) {
	s := Span{halves(t, -6, 0, "from"), halves(t, length, length+6, "to")}
	dia := halves(t, 8, 40, "dia")
	sides := rapid.SampledFrom([]int{0, 0, 3, 4, 6}).Draw(t, "sides")
	bore := halves(t, 0, 3, "tube")
	return Bar(length*MM, s, dia, sides, bore), slowBar(length, s, dia.MM(), sides, bore)
}

func drawEnd(t *rapid.T) part.End {
	return rapid.SampledFrom([]part.End{part.Left, part.Right}).Draw(t, "end")
}

func drawSpan(t *rapid.T) Span {
	from := halves(t, -8, length+4, "from")
	return Span{from, from + halves(t, 1, 20, "long")}
}

func drawRemoval(t *rapid.T) Removal {
	s := drawSpan(t)
	return drawIn(t, s, rapid.IntRange(0, 11).Draw(t, "what"))
}

// drawIn draws a removal over a span, where its kind lets it.
func drawIn(t *rapid.T, s Span, what int) Removal {
	var deep *Len
	if rapid.Bool().Draw(t, "blind") {
		deep = new(halves(t, 1, 5, "depth"))
	}
	switch what {
	case 0:
		return EndCut{drawEnd(t), halves(t, -8, length+8, "z"), rapid.Bool().Draw(t, "sawn")}
	case 1:
		return Centre{drawEnd(t), halves(t, 2, 6, "mouth"), halves(t, 1, 2, "pilot")}
	case 2, 3:
		b := Bore{From: drawEnd(t), Dia: halves(t, 2, 9, "dia")}
		b.Point = rapid.SampledFrom([]Deg{180e6, 118e6}).Draw(t, "point")
		b.Start = max(0, halves(t, -20, 10, "start"))
		b.Depth = b.Start + halves(t, 1, 25, "deep")
		b.EndDia = max(0, halves(t, -6, 9, "end"))
		if b.Through = rapid.Bool().Draw(t, "through"); b.Through {
			b.Depth = length * MM
		}
		return b
	case 4, 5:
		sides := rapid.IntRange(2, 8).Draw(t, "sides")
		return Flats{s.From, s.To, sides, 0, halves(t, 4, 30, "across"), halves(t, 4, 30, "across")}
	case 6:
		return Thread{From: s.From, To: s.To, Spec: "M20", Inside: rapid.Bool().Draw(t, "inside"), Cut: ToHeadstock}
	case 7:
		return Cross{Z: s.From + s.Length()/2, Dia: s.Length(), Depth: deep}
	case 8:
		return Slot{From: s.From, To: s.To, Width: MM, Depth: deep}
	case 9:
		return Turned(s, halves(t, 4, 40, "dia"), rapid.SampledFrom([]Stage{Rough, Finished}).Draw(t, "stage"))
	}
	o := Outside{Stage: rapid.SampledFrom([]Stage{Rough, Finished}).Draw(t, "stage")}
	z := s.From
	for z < s.To {
		o.Profile = append(o.Profile, Point{z, halves(t, 4, 40, "dia")})
		if rapid.Bool().Draw(t, "step") && len(o.Profile) > 1 {
			o.Profile = append(o.Profile, Point{z, halves(t, 4, 40, "dia")})
		}
		z += halves(t, 1, 6, "on")
	}
	o.Profile = append(o.Profile, Point{s.To, halves(t, 4, 40, "dia")})
	return o
}

// rounding is what half a millionth along the steepest slope here makes on the
// diameter, 72 for 1, and a little.
const rounding = 40

// sound fails where the pieces are not what a State promises.
func sound(t *rapid.T, w State) {
	for i, p := range w.Outside {
		if p.Length() <= 0 || p.Left < 0 || p.Right < 0 {
			t.Fatalf("an empty piece %+v", p)
		}
		if i > 0 && w.Outside[i-1].To != p.From {
			t.Fatalf("a gap before %+v", p)
		}
		if p.Sides == 0 != (p.FlatLeft == 0 && p.FlatRight == 0) ||
			p.FlatLeft > p.Left+rounding || p.FlatRight > p.Right+rounding {
			t.Fatalf("flats beyond the round: %+v", p)
		}
		if i > 0 && p.prism() {
			q := w.Outside[i-1]
			if q.Span = p.Span; q == p {
				t.Fatalf("one cylinder in two pieces at %v", p.From)
			}
		}
	}
}

// near reports whether a length is what the slow bar has: to two millionths, and
// one more for each cut after the third, each of which may round a slope again.
func (b *slow) near(l Len, mm float64) bool {
	return math.Abs(l.MM()-mm) <= float64(max(2, b.steps-1))*1e-6+1e-9
}

func TestSlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, b := drawBar(t)
		bought := w.Volume()
		for range rapid.IntRange(1, 7).Draw(t, "steps") {
			r := drawRemoval(t)
			before := w
			w = w.After(r)
			b.cut(r)
			sound(t, w)
			if was, is := before.Volume(), w.Volume(); is > was+bought*1e-4 && !remade(before, r) {
				t.Fatalf("%+v grew %v mm³ to %v", r, was, is)
			}
			if again := w.After(r); !reflect.DeepEqual(again, w) {
				t.Fatalf("%+v twice:\n%+v\n%+v", r, w, again)
			}
		}
		same(t, w, b)
		if v, want := w.Volume(), b.volume(); math.Abs(v-want) > 1e-3*bought {
			t.Fatalf("%v mm³, slowly %v", v, want)
		}
	})
}

// remade reports whether flats are cut on flats: of two sets the deeper is told, as
// if the other were not there.
func remade(w State, r Removal) bool {
	_, flats := r.(Flats)
	for _, p := range w.Over(r.Span(w)) {
		if flats && p.Sides > 0 {
			return true
		}
	}
	return false
}

// same compares the work with the slow bar at each of its spots.
func same(t *rapid.T, w State, b *slow) {
	for _, p := range b.spots {
		z := Float(p.z)
		if p.z < b.left || b.right < p.z {
			if d := w.Dia(z); d != 0 || w.Bore(z) != 0 {
				t.Fatalf("%v beyond the work at %v", d, p.z)
			}
			continue
		}
		if d := w.Dia(z); !b.near(d, p.dia) {
			t.Fatalf("%v at %v, slowly %v", d.MM(), p.z, p.dia)
		}
		if h := w.Bore(z); !b.near(h, b.hollow(p.z)) {
			t.Fatalf("bored %v at %v, slowly %v", h.MM(), p.z, b.hollow(p.z))
		}
		if p.unsure {
			continue
		}
		got := w.Over(Span{z - 1, z + 1})[0]
		if got.Stage != p.stage || got.Sides != p.sides {
			t.Fatalf("at %v %v with %d sides, slowly %v with %d", p.z, got.Stage, got.Sides, p.stage, p.sides)
		}
		a, ok := w.AcrossFlats(z)
		want := p.in
		if p.sides%2 == 1 {
			want = (p.in + p.dia) / 2
		}
		if ok != (p.sides > 0) || ok && !b.near(a, want) {
			t.Fatalf("across flats %v at %v, slowly %v", a.MM(), p.z, want)
		}
	}
	most := 0.0
	for _, p := range b.spots {
		if 10 < p.z && p.z < 20 && b.left < p.z && p.z < b.right {
			most = math.Max(most, p.dia)
		}
	}
	if d := w.Largest(Span{10 * MM, 20 * MM}).MM(); d < most-3e-6 || d > most+40*grain {
		t.Fatalf("at most %v from 10 to 20, slowly %v", d, most)
	}
}

// What is cut in two places that do not meet may be cut in either order.
func TestCommute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, _ := drawBar(t)
		for range rapid.IntRange(0, 4).Draw(t, "before") {
			w = w.After(drawRemoval(t))
		}
		kinds := []int{4, 6, 9, 10, 11}
		a := drawIn(t, Span{-2 * MM, halves(t, 1, 15, "to")}, rapid.SampledFrom(kinds).Draw(t, "a"))
		b := drawIn(t, Span{halves(t, 15, 30, "from"), 35 * MM}, rapid.SampledFrom(kinds).Draw(t, "b"))
		one, two := w.After(a, b), w.After(b, a)
		for z := 33 * grain; z < length; z += 7 * grain {
			z := Float(z) + 7
			p, q := one.Over(Span{z - 1, z + 1}), two.Over(Span{z - 1, z + 1})
			if len(p) != len(q) {
				t.Fatalf("%v and %v at %v", p, q, z)
			}
			if len(p) == 1 && (abs(p[0].Left-q[0].Left) > 2 || p[0].Stage != q[0].Stage || p[0].Sides != q[0].Sides) {
				t.Fatalf("%+v and %+v", p[0], q[0])
			}
		}
	})
}

// The layers of roughing, from the bar down, meet at each place as many passes as
// metal is cut there: counted spot by spot.
func TestLayers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Span{0, length * MM}
		w := Bar(length*MM, s, 40*MM, 0, 0)
		for range rapid.IntRange(0, 3).Draw(t, "before") {
			w = w.After(drawIn(t, drawSpan(t), 10))
		}
		after := w.After(drawIn(t, drawSpan(t), 10))
		layer := halves(t, 1, 4, "layer")
		var got Len
		for high := 40 * MM; high > 0; high -= layer {
			got += w.Above(after, high-layer, high)
		}
		want, off := 0.0, 0.0
		for z := grain / 2; z < length; z += grain {
			b, a := w.Dia(Float(z)), after.Dia(Float(z))
			if b-a > layer {
				off += grain
			}
			for high := 40 * MM; high > 0 && b > a+3; high -= layer {
				if b > high-layer && a < high {
					want += grain
				}
			}
		}
		if math.Abs(got.MM()-want) > 40*grain {
			t.Fatalf("%v mm of passes, counted %v", got.MM(), want)
		}
		if by := w.AboveBy(after, layer).MM(); math.Abs(by-off) > 12*grain {
			t.Fatalf("%v mm are cut by more than %v, counted %v", by, layer.MM(), off)
		}
	})
}
