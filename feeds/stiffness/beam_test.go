package stiffness_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/feeds/stiffness"
)

// fataler is a test, or one run of a rapid-made one.
type fataler interface{ Fatal(...any) }

// beam returns the work ready.
func beam(t fataler, w stiffness.Layout) *stiffness.Beam {
	b, err := w.Beam()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// plainBeam is a bar of 1 m and 200 GPa, 40 mm thick and bored.
func plainBeam(bore float64, between bool, supports ...float64) stiffness.Layout {
	return stiffness.Layout{Modulus: 200, Between: between, Supports: supports, Sections: []stiffness.Section{
		{From: 0, To: 1000, DiaFrom: 40, DiaTo: 40, BoreFrom: bore, BoreTo: bore},
	}}
}

// apart is how far two figures are apart, as a part of the second.
func apart(got, want float64) float64 { return math.Abs(got/want - 1) }

// The closed forms for a load anywhere: Roark's Formulas for Stress and Strain,
// table 8.1, cases 1a, 1c and 1e, from memory. x is where it is asked and a,
// not before it, where the load is.
func TestLoadAnywhere(t *testing.T) {
	const l = 1000.0
	cantilever := func(x, a float64) float64 { return x * x * (3*a - x) / 6 }
	for _, tc := range []struct {
		name   string
		work   stiffness.Layout
		closed func(x, a float64) float64 // times E·I
	}{
		{"built in and free", plainBeam(0, false), cantilever},
		{"bored", plainBeam(25, false), cantilever},
		{"built in, a centre at the end", plainBeam(0, false, l), func(x, a float64) float64 {
			prop := a * a * (3*l - a) / (2 * l * l * l)
			return cantilever(x, a) - prop*cantilever(x, l)
		}},
		{"between centres", plainBeam(0, true, l), func(x, a float64) float64 {
			b := l - a
			return b * x * (l*l - b*b - x*x) / (6 * l)
		}},
	} {
		b, bore := beam(t, tc.work), tc.work.Sections[0].BoreFrom
		ei := 200e3 * (second(40) - second(bore))
		for a := 50.0; a < l; a += 50 {
			for x := 50.0; x <= a; x += 50 {
				want := tc.closed(x, a) / ei
				if got, back := b.Influence(x, a), b.Influence(a, x); apart(got, want) > 1e-10 || apart(back, want) > 1e-10 {
					t.Errorf("%s, load at %v: at %v %v and %v, want %v", tc.name, a, x, got, back, want)
				}
			}
			if got, want := b.At(a, 7), 7*tc.closed(a, a)/ei; apart(got, want) > 1e-10 {
				t.Errorf("%s, under a load at %v: got %v, want %v", tc.name, a, got, want)
			}
		}
	}
}

// Under the load, in the forms of the handbooks, each worked out beside it;
// from memory. E·I of 40 mm and 200 GPa is 25132.741e6 N.mm2.
func TestUnderTheLoad(t *testing.T) {
	ei := 200e3 * second(40)
	const l = 1000.0
	for _, tc := range []struct {
		name    string
		work    stiffness.Layout
		z, want float64 // want times E·I
	}{
		{"F·L³/3", plainBeam(0, false), l, l * l * l / 3},
		{"a centre: F·a³·b²·(3·L + b)/(12·L³)", plainBeam(0, false, l), 300, 27e6 * 49e4 * 3700 / (12 * 1e9)},
		{"between centres: F·a²·b²/(3·L)", plainBeam(0, true, l), 300, 9e4 * 49e4 / 3000},
		// Beyond a steady at s the end gives way as a cantilever of c, and turns
		// with the beam at the steady by F·c·s/4.
		{"past a steady: F·c²·s/4 + F·c³/3", plainBeam(0, false, 600), l, 16e4*600/4 + 64e6/3.0},
		// The same between centres turns there by F·c·s/3.
		{"past the far centre: F·c²·s/3 + F·c³/3", plainBeam(0, true, 600), l, 16e4*600/3 + 64e6/3.0},
		// Two equal spans s: the moment over the steady is 3·F·s/32, so
		// 1/48 - 3/512 of F·s³ is left; the AISC manual prints 0.015 at the most.
		{"a steady in the middle: 23·F·s³/1536", plainBeam(0, true, l, 500), 250, 23 * 125e6 / 1536},
		// Jaws, a steady in the middle and a centre, the load in the outer span s:
		// the moment over the steady is M = 3·F·s/28 by the three moments
		// (2·M1 + M2 = 0, M1 + 4·M2 = 6·F·s/16), so 1/48 - 3·16⁻¹/28 is left.
		{"a steady and a centre: 19·F·s³/1344", plainBeam(0, false, 500, l), 750, 125e6 * (1/48.0 - 3/448.0)},
	} {
		if got, want := beam(t, tc.work).At(tc.z, 100), 100*tc.want/ei; apart(got, want) > 1e-9 {
			t.Errorf("%s: got %v, want %v", tc.name, got, want)
		}
	}
}

// A cone whose bore is a like cone gives way as the solid one over 1 - k⁴, k the
// bore's part of the diameter: 64·F·L³/(3·π·E·D³·d)/(1 - k⁴).
func TestBoredCone(t *testing.T) {
	for _, k := range []float64{0, 0.2, 0.5, 0.8, 0.95} {
		b := beam(t, stiffness.Layout{Modulus: 100, Sections: []stiffness.Section{
			{From: 0, To: 80, DiaFrom: 20, DiaTo: 2, BoreFrom: 20 * k, BoreTo: 2 * k},
		}})
		want := 64 * 50 * math.Pow(80, 3) / (3 * math.Pi * 100e3 * 8000 * 2) / (1 - math.Pow(k, 4))
		if got := b.At(80, 50); apart(got, want) > 1e-9 {
			t.Errorf("k = %v: got %v, want %v", k, got, want)
		}
	}
}

// state is the beam at a place: how far out, its slope, moment and shear.
type state [4]float64

// march carries a state along the beam from one place to the next by small
// steps of Runge and Kutta, y” = M/(E·I).
func march(s stiffness.Section, modulus float64, y state, from, to float64) state {
	dia := func(z float64) (dia, bore float64) {
		part := (z - s.From) / (s.To - s.From)
		return s.DiaFrom + part*(s.DiaTo-s.DiaFrom), s.BoreFrom + part*(s.BoreTo-s.BoreFrom)
	}
	d1, b1 := dia(from)
	d2, b2 := dia(to)
	steps := 1
	if change := math.Abs(d2-d1) + math.Abs(b2-b1); change > 0 {
		steps = 5 + int(300*change/min(d1-b1, d2-b2))
	}
	slope := func(z float64, y state) state {
		d, b := dia(z)
		ei := modulus * 1000 * (second(d) - second(b))
		return state{y[1], y[2] / ei, y[3], 0}
	}
	add := func(y, k state, h float64) state {
		for i := range y {
			y[i] += h * k[i]
		}
		return y
	}
	h := (to - from) / float64(steps)
	for i := range steps {
		z := from + float64(i)*h
		k1 := slope(z, y)
		k2 := slope(z+h/2, add(y, k1, h/2))
		k3 := slope(z+h/2, add(y, k2, h/2))
		k4 := slope(z+h, add(y, k3, h))
		y = add(add(add(add(y, k1, h/6), k2, h/3), k3, h/3), k4, h/6)
	}
	return y
}

// solve solves the equations a·x = b, the largest pivot first.
func solve(a [][]float64, b []float64) []float64 {
	n := len(b)
	for i := range n {
		scale := func(r int) float64 {
			most := 0.0
			for _, x := range a[r] {
				most = max(most, math.Abs(x))
			}
			return math.Abs(a[r][i]) / most
		}
		pivot := i
		for r := i; r < n; r++ {
			if scale(r) > scale(pivot) {
				pivot = r
			}
		}
		a[i], a[pivot], b[i], b[pivot] = a[pivot], a[i], b[pivot], b[i]
		for r := range n {
			if r == i {
				continue
			}
			f := a[r][i] / a[i][i]
			for c := range n {
				a[r][c] -= f * a[i][c]
			}
			b[r] -= f * b[i]
		}
	}
	x := make([]float64, n)
	for i := range n {
		x[i] = b[i] / a[i][i]
	}
	return x
}

// slow is the other way to the same: the beam is marched along from its root
// for each force that is not known and for the load, and the forces are those
// that leave it on its supports with neither moment nor shear at its end. Every
// place that matters is a whole millimetre.
func slow(w stiffness.Layout, load, asked int) float64 {
	unknowns := 2 + len(w.Supports)
	at := make([][]state, unknowns+1) // by what is pushed, and millimetre
	for i := range at {
		var y state
		switch {
		case i == 0:
			y[3] = 1 // the shear at the root
		case i == 1 && w.Between:
			y[1] = 1 // its slope
		case i == 1:
			y[2] = 1 // its moment
		}
		at[i] = []state{y}
		for _, s := range w.Sections {
			for z := int(s.From); z < int(s.To); z++ {
				if i >= 2 && i < unknowns && z == int(w.Supports[i-2]) || i == unknowns && z == load {
					y[3]++
				}
				y = march(s, w.Modulus, y, float64(z), float64(z+1))
				at[i] = append(at[i], y)
			}
		}
		if end := len(at[i]) - 1; i >= 2 && i < unknowns && end == int(w.Supports[i-2]) || i == unknowns && end == load {
			at[i][end][3]++
		}
	}
	end := len(at[0]) - 1
	a, b := make([][]float64, unknowns), make([]float64, unknowns)
	equation := func(row int, what func([]state) float64) {
		for i := range unknowns {
			a[row] = append(a[row], what(at[i]))
		}
		b[row] = -what(at[unknowns])
	}
	equation(0, func(s []state) float64 { return s[end][2] })
	equation(1, func(s []state) float64 { return s[end][3] })
	for i, z := range w.Supports {
		equation(2+i, func(s []state) float64 { return s[int(z)][0] })
	}
	y := at[unknowns][asked][0]
	for i, x := range solve(a, b) {
		y += x * at[i][asked][0]
	}
	return y
}

// made returns work of steps, and where cones is true of cones and bored cones,
// with whatever carries it.
func made(t *rapid.T, cones bool) stiffness.Layout {
	w := stiffness.Layout{Modulus: float64(rapid.IntRange(2, 210).Draw(t, "modulus"))}
	w.Between = rapid.Bool().Draw(t, "between")
	end := 0
	for range rapid.IntRange(1, 5).Draw(t, "sections") {
		length := rapid.IntRange(2, 25).Draw(t, "length")
		dia := func() float64 { return float64(rapid.IntRange(6, 40).Draw(t, "dia")) }
		s := stiffness.Section{From: float64(end), To: float64(end + length), DiaFrom: dia()}
		s.DiaTo = s.DiaFrom
		bore := func(dia float64) float64 { return dia * float64(rapid.IntRange(0, 18).Draw(t, "bore")) / 20 }
		if cones {
			s.DiaTo = dia()
		}
		if rapid.Bool().Draw(t, "bored") {
			s.BoreFrom = bore(min(s.DiaFrom, s.DiaTo))
			s.BoreTo = s.BoreFrom
			if cones {
				s.BoreTo = bore(s.DiaTo)
			}
		}
		w.Sections = append(w.Sections, s)
		end += length
	}
	least := 0
	if w.Between {
		least = 1
	}
	most := min(3, end)
	for _, z := range rapid.SliceOfNDistinct(rapid.IntRange(1, end), least, most, rapid.ID[int]).Draw(t, "supports") {
		w.Supports = append(w.Supports, float64(z))
	}
	return w
}

// The second way agrees on any work with any supports, to a millionth of how
// far the work gives way at the two places; on a support that is nothing, and
// rounding is left, of what its end would give way by without supports.
func TestAgainstMarching(t *testing.T) {
	for name, cones := range map[string]bool{"steps": false, "cones": true} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				w := made(t, cones)
				b := beam(t, w)
				end := int(b.Length())
				load, asked := rapid.IntRange(1, end).Draw(t, "load"), rapid.IntRange(1, end).Draw(t, "asked")
				got, want := b.Influence(float64(asked), float64(load)), slow(w, load, asked)
				scale := math.Sqrt(b.At(float64(asked), 1) * b.At(float64(load), 1))
				free := beam(t, stiffness.Layout{Modulus: w.Modulus, Sections: w.Sections}).At(b.Length(), 1)
				if math.Abs(got-want) > 1e-6*scale+1e-12*free {
					t.Fatalf("%+v, load at %d, asked at %d: got %v, marching gives %v", w, load, asked, got, want)
				}
			})
		})
	}
}

// The worst place is not better than any other, by more than the thousandth
// that two hills between two looks may hide.
func TestWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := beam(t, made(t, true))
		z, give := b.Worst(0, b.Length())
		if y := b.At(z, 1); y != give {
			t.Fatalf("%v at %v, and %v there", give, z, y)
		}
		for i := range 400 {
			if other := b.Length() * float64(i) / 399; b.At(other, 1) > give*1.001 {
				t.Fatalf("%v at %v, but %v at %v", give, z, b.At(other, 1), other)
			}
		}
	})
	// Two hills nearly alike: the end past the last steady gives way 3.4860e-7 mm/N,
	// a place in the first span that lies between two looks 3.4886e-7.
	sections := []stiffness.Section{
		{From: 0, To: 4, DiaFrom: 20, DiaTo: 7},
		{From: 4, To: 7, DiaFrom: 13, DiaTo: 24},
		{From: 7, To: 12, DiaFrom: 27, DiaTo: 29, BoreFrom: 24.3, BoreTo: 1.45},
	}
	hills := beam(t, stiffness.Layout{Modulus: 2, Between: true, Supports: []float64{4, 6, 9}, Sections: sections})
	if z, give := hills.Worst(0, 12); z > 4 || fmt.Sprintf("%.4e", give) != "3.4886e-07" {
		t.Errorf("worst at %v, by %v", z, give)
	}
	// A cut that ends before the worst place is worst at its end; a bar with a
	// centre is worst at (2 - √2)·L.
	b := beam(t, plainBeam(0, false, 1000))
	if z, _ := b.Worst(0, 400); z != 400 {
		t.Errorf("worst at %v of a cut to 400", z)
	}
	if z, _ := b.Worst(0, 1000); math.Abs(z-1000*(2-math.Sqrt2)) > 0.01 {
		t.Errorf("worst at %v", z)
	}
}

// A point gives way without end, the work before it does not, and what is
// beyond either end is taken as there.
func TestPoint(t *testing.T) {
	w := stiffness.Layout{Modulus: 100, Supports: []float64{40}, Sections: []stiffness.Section{
		{From: 0, To: 40, DiaFrom: 20, DiaTo: 20}, {From: 40, To: 80, DiaFrom: 20},
	}}
	b := beam(t, w)
	if y := b.At(80, 1); !math.IsInf(y, 1) {
		t.Errorf("the point gives way by %v", y)
	}
	if y := b.At(79, 1); y <= 0 || math.IsInf(y, 1) {
		t.Errorf("beside the point it gives way by %v", y)
	}
	if b.At(-5, 1) != 0 || !math.IsInf(b.At(90, 1), 1) {
		t.Error("beyond the ends")
	}
}

// A support a hair beside another, or beside a centre, carries no more than that
// one does.
func TestSupportsTogether(t *testing.T) {
	for _, tc := range []struct{ one, two stiffness.Layout }{
		{plainBeam(0, false, 500), plainBeam(0, false, 500, 500.000001)},
		{plainBeam(0, true, 1000), plainBeam(0, true, 999.9999999, 1000)},
	} {
		one, two := beam(t, tc.one), beam(t, tc.two)
		for z := 50.0; z < 500; z += 50 {
			if x, y := one.At(z, 1), two.At(z, 1); apart(y, x) > 1e-9 {
				t.Errorf("at %v on one %v, on two %v", z, x, y)
			}
		}
	}
}

// A steady in the middle of a bar between centres makes it whirl as half of it
// would: at four times the speed.
func TestWhirlingOnASteady(t *testing.T) {
	plain, held := beam(t, plainBeam(0, true, 1000)), beam(t, plainBeam(0, true, 500, 1000))
	if got := held.Whirling(7850) / plain.Whirling(7850); apart(got, 4) > 0.002 {
		t.Errorf("a steady makes it %v times as fast", got)
	}
	// A tube is as stiff for its mass as √(D² + d²) says.
	tube, bar := beam(t, plainBeam(30, false)), beam(t, plainBeam(0, false))
	if got := tube.Whirling(7850) / bar.Whirling(7850); apart(got, 50/40.0) > 1e-9 {
		t.Errorf("a tube %v times as fast", got)
	}
}

func TestNoBeam(t *testing.T) {
	with := func(change func(*stiffness.Layout)) stiffness.Layout {
		w := plainBeam(0, false)
		change(&w)
		return w
	}
	section := func(s ...stiffness.Section) stiffness.Layout {
		return with(func(w *stiffness.Layout) { w.Sections = s })
	}
	for _, tc := range []struct {
		work stiffness.Layout
		want string
	}{
		{with(func(w *stiffness.Layout) { w.Modulus = 0 }), "modulus: 0: must be above 0"},
		{section(), "section: needs a section"},
		{
			section(stiffness.Section{From: 1, To: 5, DiaFrom: 3, DiaTo: 3}),
			"section: 1 mm: sections run outward from 0 without a gap",
		},
		{section(stiffness.Section{To: 5, DiaFrom: 3, DiaTo: 3, BoreTo: 3}), "section: 0 mm: no metal is left there"},
		{
			section(stiffness.Section{To: 5, DiaFrom: 3}, stiffness.Section{From: 5, To: 9, DiaTo: 3}),
			"section: 0 mm: no metal is left there\nsection: 5 mm: no metal is left there",
		},
		{plainBeam(0, false, 0, 1001), "support: 0 mm: nothing stands there to be carried\n" +
			"support: 1001 mm: nothing stands there to be carried"},
		{plainBeam(0, false, 5, 5), "support: 5 mm: said twice"},
		{plainBeam(0, true), "support: 0: 1 to 4 places carry work between centres, 0 to 4 work in jaws"},
		{plainBeam(0, false, 1, 2, 3, 4, 5), "support: 5: 1 to 4 places carry work between centres, 0 to 4 work in jaws"},
	} {
		_, err := tc.work.Beam()
		if err == nil || err.Error() != tc.want {
			t.Errorf("got %v\nwant %s", err, strings.TrimSpace(tc.want))
		}
	}
}

// stepped is work of twelve steps, a cone and a bore on a steady and a centre.
func stepped(b *testing.B) *stiffness.Beam {
	w := stiffness.Layout{Modulus: 207, Supports: []float64{60, 140}}
	for i := range 12 {
		z, d := float64(i)*10, 40-2*float64(i)
		w.Sections = append(w.Sections, stiffness.Section{From: z, To: z + 10, DiaFrom: d, DiaTo: d})
	}
	end := stiffness.Section{From: 120, To: 140, DiaFrom: 30, DiaTo: 24, BoreFrom: 10, BoreTo: 12}
	w.Sections = append(w.Sections, end)
	return beam(b, w)
}

func BenchmarkAt(b *testing.B) {
	work := stepped(b)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		work.At(float64(i%140), 100)
	}
}

func BenchmarkWorst(b *testing.B) {
	work := stepped(b)
	b.ReportAllocs()
	for b.Loop() {
		work.Worst(0, 140)
	}
}

func BenchmarkBeam(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		stepped(b)
	}
}
