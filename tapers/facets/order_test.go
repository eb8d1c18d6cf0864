package facets_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/facets"
)

// rays is a section as a list of rays from the axis: how far the work goes on
// each. Flats are cut off it one after the other.
type rays []float64

const degree = 60 // rays to a degree

// round and square start the rays of a bar; a square's first face is turned by face
// degrees from ray 0.
func newRays(radius, square, face float64) rays {
	r := make(rays, 360*degree)
	for i := range r {
		r[i] = radius
		if radius == 0 {
			_, near := math.Modf((float64(i)/degree - face + 405) / 90)
			r[i] = square / 2 / math.Cos((near*90-45)*math.Pi/180)
		}
	}
	return r
}

// cut takes off what lies beyond a flat.
func (r rays) cut(deg, far float64) {
	for i := range r {
		if c := math.Cos((float64(i)/degree - deg) * math.Pi / 180); c > 0 {
			r[i] = math.Min(r[i], far/c)
		}
	}
}

// wide is the farthest the work goes in a direction.
func (r rays) wide(deg float64) (most float64) {
	for i, far := range r {
		most = math.Max(most, far*math.Cos((float64(i)/degree-deg)*math.Pi/180))
	}
	return most
}

// Every reading, measured on a section that is cut flat by flat in the table's order.
func TestReadings(t *testing.T) {
	for _, tc := range []struct {
		sides             int
		flats, leave, bar string
		from              string
	}{
		{8, "34mm", "0.3mm", "", "round"},
		{8, "34mm", "0mm", "", "round"},
		{6, "0.5in", "0mm", "", "round"},
		{5, "30mm", "0.5mm", "", "round"},
		{3, "20mm", "0mm", "", "round"},
		{7, "25mm", "0.2mm", "31mm", "round"},
		{24, "20mm", "1mm", "", "round"},
		{4, "18mm", "0.4mm", "", "round"},
		{6, "10mm", "0mm", "", "square"},
		{6, "10mm", "0.2mm", "12mm", "square"},
		{8, "10mm", "0mm", "", "square"},
		{8, "10mm", "0.25mm", "", "square"},
		{3, "20mm", "0.2mm", "", "square"},
		{5, "20mm", "0mm", "25mm", "square"},
		{4, "12mm", "0.5mm", "", "square"},
		{10, "20mm", "0mm", "", "square"},
		{12, "20mm", "0mm", "", "square"},
	} {
		in := facets.Input{
			Sides: tc.sides, Flats: length(tc.flats), Leave: units.MustLength(tc.leave), From: tc.from,
			Indexing: facets.Indexing{Head: head},
		}
		if tc.bar != "" {
			in.Bar = length(tc.bar)
		}
		s, err := facets.SizeOf(in)
		if err != nil {
			t.Fatal(tc, err)
		}
		bar, leave := s.Blank.MM(), in.Leave.MM()
		if in.Bar != nil {
			bar = in.Bar.MM()
		}
		apothem := s.Side.MM() / 2 / math.Tan(math.Pi/float64(tc.sides))
		work := newRays(bar/2, 0, 0)
		if tc.from == "square" {
			work = newRays(0, bar, -s.Turn.Deg())
		}
		near := bar * math.Pi / 180 / degree // a ray beside a corner falls short of it
		same := func(what string, f facets.Flat, got units.Length, want float64) {
			if math.Abs(got.MM()-want) > near {
				t.Errorf("%+v: flat %d %s: %v, measured %v", tc, f.Flat, what, got.Decimal(), want)
			}
		}
		for _, f := range s.Flats {
			deg := f.Angle.Deg()
			same("deep", f, f.Depth, work.wide(deg)-apothem-leave)
			work.cut(deg, apothem+leave)
			if leave > 0 {
				same("left", f, *f.Left, apothem+leave+work.wide(deg+180))
				continue
			}
			same("reads", f, f.Reading, apothem+work.wide(deg+180))
		}
		for _, f := range s.Flats {
			if leave > 0 {
				work.cut(f.Angle.Deg(), apothem)
				same("reads", f, f.Reading, apothem+work.wide(f.Angle.Deg()+180))
			}
		}
		for _, k := range s.Flats {
			same("is finished", k, units.FromFloat(work.wide(k.Angle.Deg())), apothem)
		}
	}
}

// A square bar, cranked as the sheet says: a face up, on by the turn, then from flat to
// flat, the work going round one way under a cutter that stands still. Its outline is
// turned and clipped point by point.
func TestSquareObeyed(t *testing.T) {
	for _, tc := range []struct {
		sides int
		flats string
	}{{6, "24mm"}, {5, "20mm"}, {3, "20mm"}, {10, "30mm"}, {7, "1in"}} {
		s, err := facets.SizeOf(facets.Input{
			Sides: tc.sides, Flats: length(tc.flats), From: "square", Indexing: facets.Indexing{Head: head},
		})
		if err != nil {
			t.Fatal(err)
		}
		half := s.Blank.MM() / 2
		work := []complex128{complex(half, half), complex(-half, half), complex(-half, -half), complex(half, -half)}
		high := func(sign float64) (most float64) {
			for _, p := range work {
				most = math.Max(most, sign*imag(p))
			}
			return most
		}
		crank := func(deg float64) {
			for i := range work {
				work[i] *= cmplx.Rect(1, deg*math.Pi/180)
			}
		}
		mill := func(to float64) {
			var left []complex128
			for i, p := range work {
				q := work[(i+1)%len(work)]
				if imag(p) <= to {
					left = append(left, p)
				}
				if (imag(p)-to)*(imag(q)-to) < 0 {
					left = append(left, p+(q-p)*complex((to-imag(p))/(imag(q)-imag(p)), 0))
				}
			}
			work = left
		}
		crank(s.Turn.Deg())
		apothem := s.Side.MM() / 2 / math.Tan(math.Pi/float64(tc.sides))
		for i, f := range s.Flats {
			if i > 0 {
				crank((f.Angle.Deg() - s.Flats[i-1].Angle.Deg()))
			}
			deep := high(1) - apothem
			mill(apothem)
			if reads := apothem + high(-1); math.Abs(f.Depth.MM()-deep) > 1e-6 || math.Abs(f.Reading.MM()-reads) > 1e-6 {
				t.Errorf("%d sides, flat %d: %v deep and reads %v, obeyed %.4f and %.4f", tc.sides, f.Flat,
					f.Depth.Decimal(), f.Reading.Decimal(), deep, reads)
			}
		}
	}
}

// Flats by hand, in their order.
//
// The octagon: 17 + 0.3 to a milled flat, the round is 17.3/cos 22.5 = 18.7254, so
// 36.0254 and, once the one opposite is milled, 34.6; ground 17 + 17.3, then 34.
//
// The hexagon from a square: its corners are 5/cos 30 = 5.7735 from the axis, the
// square's half side 5.7735·cos 15 = 5.5768, its corner 5.5768·√2 = 7.8868 from the
// axis. Flat 1 is 15 deg past a face and 30 short of a corner, which goes 7.8868·cos 30
// = 6.8301 its way and, opposite, the other: 5 + 6.8301. Flat 3, 135 deg past that face,
// takes a corner off, and opposite it stands a whole one: 7.8868. Opposite flat 5 flat 1
// has taken a corner off: what is left where x = 5 meets the face is y = 4.4337, and
// 5·cos 60 + 4.4337·sin 60 = 6.3397.
func TestOrderByHand(t *testing.T) {
	for _, tc := range []struct {
		name string
		in   facets.Input
		want string // flat: milled, finished
	}{
		{
			"octagon",
			facets.Input{
				Sides: 8, Flats: length("34mm"), Leave: units.MustLength("0.3mm"), From: "round",
				Indexing: facets.Indexing{Head: head},
			},
			"1: 36.0254 34.3000, 3: 36.0254 34.3000, 5: 34.6000 34.0000, 7: 34.6000 34.0000, " +
				"2: 36.0254 34.3000, 4: 36.0254 34.3000, 6: 34.6000 34.0000, 8: 34.6000 34.0000",
		},
		{
			"hexagon from a square",
			facets.Input{Sides: 6, Flats: length("10mm"), From: "square"},
			"1: 11.8301, 3: 12.8868, 5: 11.3397, 2: 10.0000, 4: 10.0000, 6: 10.0000",
		},
		// The corner is 5·√2 = 7.0711 from the axis.
		{
			"octagon from a square",
			facets.Input{Sides: 8, Flats: length("10mm"), From: "square"},
			"2: 12.0711, 4: 12.0711, 6: 10.0000, 8: 10.0000",
		},
		// A triangle 30 from flat to corner stands on a round of 40: 10 + 20.
		{"triangle", facets.Input{Sides: 3, Flats: length("30mm"), From: "round"}, "1: 30.0000, 3: 30.0000, 2: 30.0000"},
	} {
		s, err := facets.SizeOf(tc.in)
		if err != nil {
			t.Fatal(err)
		}
		var list []string
		for _, f := range s.Flats {
			text := fmt.Sprint(f.Flat, ": ")
			if f.Left != nil {
				text += fixed(units.MM, *f.Left) + " "
			}
			list = append(list, text+fixed(units.MM, f.Reading))
		}
		if got := strings.Join(list, ", "); got != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.name, got, tc.want)
		}
	}
}

// head is an ordinary dividing head.
var head = &shop.DividingHead{Ratio: 40, Plates: [][]int{
	{15, 16, 17, 18, 19, 20}, {21, 23, 27, 29, 31, 33}, {37, 39, 41, 43, 47, 49},
}}

// A crank that is turned as the table says, and a handwheel, stand where each flat
// is; the last turns bring flat 1 up again. By hand: 40/8 is 5 turns, so 10 to every
// second flat and 15 from 7 over 8 and 1 to 2; 40/7 is 5 15/21, so 11 turns and 9
// spaces; 40/11 has no circle here, and the best hole is within half a space.
func TestIndexing(t *testing.T) {
	first := map[int]string{8: "0+0 10+0 10+0 10+0 15+0 10+0 10+0 10+0, 5+0", 7: "0+0 11+9 11+9 11+9 11+9 11+9 11+9, 11+9"}
	for sides := facets.MinSides; sides <= facets.MaxSides; sides++ {
		s, err := facets.SizeOf(facets.Input{
			Sides: sides, Flats: length("20mm"), From: "round",
			Indexing: facets.Indexing{
				Head: head, Rotary: &shop.RotaryTable{Ratio: 90}, Blocks: []int{4, 6},
				Collets: shop.Collets{Name: "ER50"},
			},
		})
		if err != nil {
			t.Fatal(err)
		}
		holes, seen, texts := 0, map[int]bool{}, []string{}
		round := float64(*s.Circle * head.Ratio)
		for i, f := range s.Flats {
			texts = append(texts, fmt.Sprintf("%d+%d", *f.Turns, *f.Spaces))
			holes += *f.Turns**s.Circle + *f.Spaces
			at, exact := 360*float64(holes)/round, 360*float64(f.Flat-1)/float64(sides)
			if off := math.Remainder(at-exact, 360); math.Abs(off-f.Off.Deg()) > 1e-9 || math.Abs(off) > 180/round+1e-9 {
				t.Errorf("%d sides, flat %d: the crank stands at %v, %v off, said %v", sides, f.Flat, at, off, f.Off.Deg())
			}
			if *f.Turns < 0 || *f.Spaces < 0 || seen[f.Flat] || f.N != i+1 {
				t.Errorf("%d sides: %+v", sides, f)
			}
			seen[f.Flat] = true
			wheel := 4*float64(*f.RotaryTurns) + units.MustAngle(*f.Handwheel).Deg() // 90:1 is 4 deg a turn
			if math.Abs(wheel-exact) > 0.5/3600+1e-9 {
				t.Errorf("%d sides, flat %d: the handwheel stands at %v", sides, f.Flat, wheel)
			}
		}
		holes += *s.AgainTurns**s.Circle + *s.AgainSpaces
		if len(seen) != sides || holes%int(round) != 0 {
			t.Errorf("%d sides: %d flats, back at %d holes of %v", sides, len(seen), holes, round)
		}
		texts[len(texts)-1] += fmt.Sprintf(", %d+%d", *s.AgainTurns, *s.AgainSpaces)
		if got := strings.Join(texts, " "); first[sides] != "" && got != first[sides] {
			t.Errorf("%d sides: %s, want %s", sides, got, first[sides])
		}
		exact := 40**s.Circle%sides == 0
		if *s.Exact != exact || (len(s.Warnings) == 0) != exact {
			t.Errorf("%d sides on %d: exact %v, %v", sides, *s.Circle, *s.Exact, s.Warnings)
		}
		block := map[int]int{3: 6, 4: 4, 6: 6}[sides]
		switch {
		case block == 0 && s.Block != nil, block > 0 && (s.Block == nil || *s.Block != block):
			t.Errorf("%d sides in a block of %v", sides, s.Block)
		case block > 0:
			faces := 0
			for _, f := range s.Flats {
				faces += *f.Faces
				if (faces*sides/block-f.Flat+1)%sides != 0 {
					t.Errorf("%d sides, flat %d: the block has gone on by %d", sides, f.Flat, faces)
				}
			}
		}
	}
}

// A collet block holds rounds that its collets close on: ER25 up to 16 mm and ER32 up to
// 20 mm (DIN 6499), so no square, and not the round of 69.28 mm around a hexagon of 60.
func TestColletBlock(t *testing.T) {
	for _, tc := range []struct {
		from, flats string
		collets     shop.Collets
		block       bool
		note        string // what is said of it
	}{
		{"round", "60mm", shop.Collets{Name: "ER25"}, false, "holds the work, by a round of 1 mm to 16 mm"},
		{"round", "13.8mm", shop.Collets{Name: "er25"}, true, ""},                // 15.935 across corners
		{"round", "13.9mm", shop.Collets{Name: "ER25"}, false, "holds the work"}, // 16.05
		{"round", "17mm", shop.Collets{Name: "ER32"}, true, ""},                  // 19.63
		{"square", "10mm", shop.Collets{Name: "ER32"}, false, "by a round of 2 mm to 20 mm"},
		{"round", "60mm", shop.Collets{}, true, "whether a collet takes the bar"},
		{"square", "10mm", shop.Collets{}, false, "holds the work: it serves"},
	} {
		s, err := facets.SizeOf(facets.Input{
			Sides: 6, Flats: length(tc.flats), From: tc.from,
			Indexing: facets.Indexing{Blocks: []int{4, 6}, Collets: tc.collets},
		})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, n := range s.Sheet().Notes {
			said += string(say.Text(n).In(units.MM))
		}
		for _, w := range s.Warnings {
			said += say.Text(w.Text).In(units.MM)
		}
		if got := s.Block != nil; got != tc.block || !strings.Contains(said, tc.note) {
			t.Errorf("%+v: in the block %v, %s", tc, got, said)
		}
	}
}

// The turn in a square bar: of all turns the least that keeps the bar smallest, tried
// one by one.
func TestFaceTurn(t *testing.T) {
	for sides := facets.MinSides; sides <= facets.MaxSides; sides++ {
		s, err := facets.SizeOf(facets.Input{Sides: sides, Corners: length("20mm"), From: "square"})
		if err != nil {
			t.Fatal(err)
		}
		wide := func(turn float64) (most float64) { // how far the corners go toward the faces
			for k := range sides {
				for face := range 4 {
					at := 360*(float64(k)+0.5)/float64(sides) - turn - 90*float64(face)
					most = math.Max(most, 10*math.Cos(at*math.Pi/180))
				}
			}
			return most
		}
		best, least := 0.0, math.Inf(1)
		for i := range 32 * sides { // up to 45 deg
			if turn := 45 * float64(i) / float64(32*sides); wide(turn) < least-1e-9 {
				best, least = turn, wide(turn)
			}
		}
		if math.Abs(best-s.Turn.Deg()) > 1e-9 || math.Abs(2*wide(s.Turn.Deg())-s.Blank.MM()) > 1e-6 {
			t.Errorf("%d sides: turned %v in %v, the search has %v in %v", sides, s.Turn.Deg(), s.Blank.Decimal(), best, 2*least)
		}
	}
}

// A bar on hand: too small for any flat, too small for sharp corners.
func TestBar(t *testing.T) {
	for _, tc := range []struct{ from, bar, want string }{
		{"round", "34mm", "bar: 34 mm: no flat is cut into it: more than 34 mm"},
		{"square", "33.9mm", "bar: 33.9 mm: no flat is cut into it: more than 34 mm"},
		{"round", "36mm", "warning: the corners do not come out sharp: that needs 36.802 mm"},
		{"round", "36.802mm", ""},
		{"square", "34mm", ""},
	} {
		s, err := facets.SizeOf(facets.Input{Sides: 8, Flats: length("34mm"), From: tc.from, Bar: length(tc.bar)})
		got := ""
		switch {
		case err != nil:
			got = err.Error()
		default:
			for _, w := range s.Warnings {
				if w.Code == "round-corners" {
					got = "warning: " + say.Text(w.Text).In(units.MM)
				}
			}
		}
		if got != tc.want {
			t.Errorf("%s of %s: %q, want %q", tc.from, tc.bar, got, tc.want)
		}
	}
}
