package curves_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
	"setover/tapers"
	"setover/tapers/curves"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

// turned is the work as the steps leave it: the radius at z. A round nose
// clears everything above its underside; a pointed tool clears a step as far as
// its place, from the side where the work is slimmer.
func turned(r curves.Result, z float64) float64 {
	left := math.Inf(1)
	nose := r.Inputs.Nose.MM()
	for i, s := range r.Steps {
		at, rad := s.At.MM(), s.Dia.MM()/2
		if nose > 0 {
			if d := z - at; math.Abs(d) <= nose {
				left = math.Min(left, rad+nose-math.Sqrt(nose*nose-d*d))
			}
			continue
		}
		// Between this place and the next one the larger radius stands.
		if i+1 < len(r.Steps) && z >= at && z <= r.Steps[i+1].At.MM() {
			left = math.Min(left, math.Max(rad, r.Steps[i+1].Dia.MM()/2))
		}
	}
	return left
}

// The steps cut on a simulated bar: nowhere below the arc, and nowhere further
// above it than the cusp that is told. The arc's middle is found from three of
// its points.
func TestSimulated(t *testing.T) {
	for _, tc := range []struct {
		name string
		in   curves.Input
		z, r float64 // the middle, worked by hand
	}{
		{
			"a dome by a pointed tool",
			curves.Input{
				Radius: units.MustLength("15mm"), From: units.MustLength("0mm"), To: units.MustLength("30mm"), Bulge: curves.Out,
				Step: length("0.5mm"),
			},
			15, 0,
		},
		{
			"a dome by a round nose",
			curves.Input{
				Radius: units.MustLength("15mm"), From: units.MustLength("0mm"), To: units.MustLength("30mm"), Bulge: curves.Out,
				Nose: units.MustLength("1.5mm"), Cusp: length("0.02mm"),
			},
			15, 0,
		},
		{
			"a ball between two necks",
			curves.Input{
				Radius: units.MustLength("0.5in"), From: units.MustLength("0.6in"), To: units.MustLength("0.6in"),
				Bulge: curves.Out, Nose: units.MustLength("1/16in"), Cusp: length("0.001in"),
			},
			10.16, 0,
		},
		{
			"a fillet",
			curves.Input{
				Radius: units.MustLength("5mm"), From: units.MustLength("30mm"), To: units.MustLength("20mm"), Bulge: curves.In,
				Nose: units.MustLength("2mm"), Cusp: length("0.01mm"),
			},
			5, 15,
		},
		{
			"a fillet by a pointed tool",
			curves.Input{
				Radius: units.MustLength("5mm"), From: units.MustLength("20mm"), To: units.MustLength("28mm"), Bulge: curves.In,
				Cusp: length("0.05mm"),
			},
			0, 15,
		},
		// 3-4-5: ends 24 apart on one diameter, a middle 5 below the chord's.
		{
			"an arc through both ends",
			curves.Input{
				Radius: units.MustLength("13mm"), From: units.MustLength("40mm"), To: units.MustLength("40mm"),
				Length: length("24mm"), Bulge: curves.Out, Step: length("1mm"),
			},
			12, 15,
		},
		{
			"a hollow through both ends",
			curves.Input{
				Radius: units.MustLength("13mm"), From: units.MustLength("40mm"), To: units.MustLength("40mm"),
				Length: length("24mm"), Bulge: curves.In, Nose: units.MustLength("3mm"), Step: length("1mm"),
			},
			12, 25,
		},
	} {
		r, err := curves.Of(tc.in)
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		R, highest := tc.in.Radius.MM(), 0.0
		const n = 20000
		for i := 1; i < n; i++ {
			z := r.Length.MM() * float64(i) / n
			off := math.Hypot(z-tc.z, turned(r, z)-tc.r) - R
			if tc.in.Bulge == curves.In {
				off = -off
			}
			if off < -1e-6 {
				t.Errorf("%s: cut %v below the arc at %v", tc.name, -off, z)
				break
			}
			highest = math.Max(highest, off)
		}
		if told := r.Cusp.MM(); highest > told+1e-6 || highest < told*0.95 { // a sampled corner may be missed by a little
			t.Errorf("%s: the highest cusp is %v, told %v", tc.name, highest, told)
		}
		if tc.in.Cusp != nil && r.Cusp.Cmp(*tc.in.Cusp) > 0 {
			t.Errorf("%s: %v left, asked for %v", tc.name, r.Cusp.Decimal(), tc.in.Cusp.Decimal())
		}
	}
}

// No fewer steps would do: with the angle of one step less the cusp is too
// high.
func TestFewest(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		R := float64(rapid.IntRange(5, 60).Draw(rt, "radius"))
		nose := float64(rapid.IntRange(2, 40).Draw(rt, "nose")) / 10
		cusp := float64(rapid.IntRange(2, 60).Draw(rt, "cusp")) / 1000
		h := units.FromFloat(cusp)
		r, err := curves.Of(curves.Input{
			Radius: units.FromFloat(R), From: units.Length{}, To: units.FromFloat(2 * R), Bulge: curves.Out,
			Nose: units.FromFloat(nose), Cusp: &h,
		})
		if err != nil {
			rt.Fatal(err)
		}
		n := len(r.Steps) - 1
		if n < 2 {
			return
		}
		// Two nose circles on the guide, one step fewer: where they cross.
		e := math.Pi / 2 / float64(n-1)
		ax, ay := (R+nose)*math.Sin(e/2), (R+nose)*math.Cos(e/2)
		if ax < nose && ay-math.Sqrt(nose*nose-ax*ax)-R <= cusp {
			rt.Fatalf("%d steps, but %d leave %v", n, n-1, ay-math.Sqrt(nose*nose-ax*ax)-R)
		}
	})
}

// The dial's lines are the diameters set, from the largest one.
func TestDial(t *testing.T) {
	r, err := curves.Of(curves.Input{
		Radius: units.MustLength("10mm"), From: units.MustLength("0mm"), To: units.MustLength("20mm"),
		Bulge: curves.Out, Step: length("2mm"),
		Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100, OnDiameter: true},
	})
	if err != nil {
		t.Fatal(err)
	}
	// At 2 mm: r = sqrt(100 - 64) = 6, so 4 mm in from the 20 mm diameter.
	if s := r.Steps[1]; !s.Dia.Equal(units.Millimetres(12)) || *s.Dial != "2 turns + 0 div" ||
		!s.DiaSet.Equal(units.Millimetres(12)) {
		t.Error(s.Dia.Decimal(), *s.Dial, s.DiaSet.Decimal())
	}
	if last := r.Steps[len(r.Steps)-1]; !last.Dia.Equal(units.Millimetres(20)) || *last.Dial != "0 turns + 0 div" {
		t.Error(last.Dia.Decimal(), *last.Dial)
	}
	// A ball between two necks is widest in the middle: 20 mm, and each neck, 12 mm
	// across and 8 from the middle, is 4 mm in from there.
	r, err = curves.Of(curves.Input{
		Radius: units.MustLength("10mm"), From: units.MustLength("12mm"), To: units.MustLength("12mm"),
		Bulge: curves.Out, Step: length("2mm"),
		Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100},
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range map[int]string{0: "2 turns + 0 div", 4: "0 turns + 0 div", 8: "2 turns + 0 div"} {
		if len(r.Steps) != 9 || *r.Steps[i].Dial != want {
			t.Errorf("step %d: %s, want %s", i+1, *r.Steps[i].Dial, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	mm := units.MustLength
	for _, tc := range []struct {
		in   curves.Input
		want string
	}{
		{
			curves.Input{Bulge: curves.Out, From: mm("-1"), To: mm("-1"), Nose: mm("-1"), Length: length("0")},
			"radius: 0 mm: must be above 0\nlength: 0 mm: must be above 0\nfrom-dia: -1 mm: cannot be negative\n" +
				"to-dia: -1 mm: cannot be negative\nnose: -1 mm: cannot be negative\nstep: needs exactly one of step and cusp",
		},
		{
			curves.Input{Radius: mm("5"), To: mm("10"), Bulge: "inn", Step: length("0"), Cusp: length("0")},
			"bulge: inn: write out or in\n  did you mean in?\nstep: step and cusp: give one of them\n" +
				"step: 0 mm: must be above 0\ncusp: 0 mm: must be above 0",
		},
		{
			curves.Input{Radius: mm("5"), From: mm("10"), To: mm("20"), Bulge: curves.In, Nose: mm("5"), Step: length("1")},
			"nose: 5 mm: does not fit into a hollow of 5 mm",
		},
		{
			curves.Input{Radius: mm("5"), To: mm("11"), Bulge: curves.Out, Step: length("1")},
			"radius: 5 mm: a ball of this radius is nowhere 11 mm wide: give a length for an arc off the axis",
		},
		{
			curves.Input{Radius: mm("5"), From: mm("10"), To: mm("22"), Bulge: curves.In, Step: length("1")},
			"radius: 5 mm: a fillet rises by at most its radius, and this one by 6 mm: give a length for another arc",
		},
		{
			curves.Input{
				Radius: mm("5"), From: mm("20"), To: mm("20"), Length: length("12"), Bulge: curves.Out, Step: length("1"),
			},
			"radius: 5 mm: the ends are 12 mm apart: at least half of that",
		},
		{
			curves.Input{
				Radius: mm("10"), From: mm("40"), To: mm("10"), Length: length("5"), Bulge: curves.Out, Step: length("1"),
			},
			"radius: 10 mm: the arc would turn back under itself before it reaches its end: part it in two, or take a " +
				"larger radius",
		},
		{
			curves.Input{
				Radius: mm("13"), From: mm("10"), To: mm("10"), Length: length("24"), Bulge: curves.In, Step: length("1"),
			},
			"radius: 13 mm: the hollow would pass the axis by 3 mm",
		},
		{
			curves.Input{Radius: mm("50"), To: mm("100"), Bulge: curves.Out, Step: length("0.02")},
			"step: 0.02 mm: makes more than 2000 steps: take a larger one",
		},
		{
			curves.Input{Radius: mm("50"), To: mm("100"), Bulge: curves.Out, Cusp: length("0.0001")},
			"cusp: 0.0001 mm: makes more than 2000 steps: take a larger one",
		},
		{
			curves.Input{Radius: mm("20"), To: mm("40"), Bulge: curves.Out, Nose: mm("0.5"), Step: length("5")},
			"step: 5 mm: the nose of 0.5 mm leaves a wall between such steps: take smaller ones",
		},
		{
			curves.Input{Radius: mm("15"), To: mm("30"), Bulge: curves.Out, Step: length("40")},
			"step: 40 mm: no shorter than the arc, which is 15 mm along the axis: nothing of it would be cut between its " +
				"ends; take a smaller one",
		},
		{
			curves.Input{Radius: mm("15"), To: mm("30"), Bulge: curves.Out, Step: length("15")},
			"step: 15 mm: no shorter than the arc, which is 15 mm along the axis: nothing of it would be cut between its " +
				"ends; take a smaller one",
		},
	} {
		if _, err := curves.Of(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// A ball of 20 mm, quarter by quarter: at 2 mm from the tip it is 12 mm wide
// (6-8-10).
func ExampleOf() {
	step := units.MustLength("2mm")
	r, err := curves.Of(curves.Input{
		Radius: units.MustLength("10mm"), To: units.MustLength("20mm"), Bulge: curves.Out, Step: &step,
	})
	if err != nil {
		panic(err)
	}
	for _, s := range r.Steps {
		fmt.Println(s.At.Fixed(units.MM, 1, units.Nearest), s.Dia.Fixed(units.MM, 2, units.Nearest))
	}
	// Output:
	// 0.0 0.00
	// 2.0 12.00
	// 4.0 16.00
	// 6.0 18.33
	// 8.0 19.60
	// 10.0 20.00
}

// The working, put into a calculator, for a bulge out and one in.
func TestWorking(t *testing.T) {
	for _, in := range []curves.Input{
		{
			Radius: units.MustLength("15mm"), To: units.MustLength("30mm"), Bulge: curves.Out, Nose: units.MustLength("1.5mm"),
			Cusp: length("0.02mm"),
		},
		{
			Radius: units.MustLength("5mm"), From: units.MustLength("30mm"), To: units.MustLength("20mm"), Bulge: curves.In,
			Nose: units.MustLength("2mm"), Cusp: length("0.01mm"),
		},
	} {
		r, err := curves.Of(in)
		if err != nil {
			t.Fatal(err)
		}
		published.Works(t, r.Sheet())
	}
}

// What the lathe has no room for is a no: 9 in over the bed and 400 mm between its centres are
// as printed on the machine, the widest place of a bulge is reckoned by hand.
func TestRoom(t *testing.T) {
	inch := &tapers.Room{BetweenCentres: length("20in"), OverBed: length("9in"), OverSlide: length("5in")}
	shed := &tapers.Room{BetweenCentres: length("400mm"), OverBed: length("220mm"), OverSlide: length("130mm")}
	mm := func(text string) units.Length { return units.MustLength(text) }
	for _, tc := range []struct {
		name string
		in   curves.Input
		want []string
	}{
		{
			"wide", curves.Input{
				Radius: mm("40in"), From: mm("30in"), To: mm("20in"), Length: length("20in"), Bulge: curves.In,
				Step: length("2in"), Room: inch,
			}, []string{"from-dia: 762 mm: does not swing over the bed, which clears 228.6 mm"},
		},
		{
			"wide over the slide alone", curves.Input{
				Radius: mm("100mm"), From: mm("120mm"), To: mm("150mm"), Length: length("60mm"), Bulge: curves.In,
				Step: length("5mm"), Room: shed,
			}, []string{"to-dia: 150 mm: does not swing over the cross slide, which clears 130 mm"},
		},
		{
			"long", curves.Input{
				Radius: mm("3000mm"), From: mm("20mm"), To: mm("20mm"), Length: length("401mm"), Bulge: curves.Out,
				Step: length("20mm"), Room: shed,
			}, []string{"length: 401 mm: the lathe takes no more between its centres than 400 mm"},
		},
		{
			// 65 mm from end to end on a radius of 40: the middle stands 40 - sqrt(40^2 - 32.5^2) = 16.682
			// out from the ends, which makes 100 + 2*16.682 = 133.364.
			"swells", curves.Input{
				Radius: mm("40mm"), From: mm("100mm"), To: mm("100mm"), Length: length("65mm"), Bulge: curves.Out,
				Step: length("5mm"), Room: shed,
			}, []string{
				"radius: 40 mm: the arc swells to 133.364 mm and does not swing over the cross slide, which clears 130 mm",
			},
		},
		{
			"nobody asks", curves.Input{
				Radius: mm("3000mm"), From: mm("20mm"), To: mm("20mm"), Length: length("401mm"), Bulge: curves.Out,
				Step: length("20mm"),
			}, nil,
		},
		{
			"fits", curves.Input{
				Radius: mm("3000mm"), From: mm("130mm"), To: mm("120mm"), Length: length("400mm"), Bulge: curves.In,
				Step: length("20mm"), Room: shed,
			}, nil,
		},
	} {
		r, err := curves.Of(tc.in)
		if err != nil {
			t.Error(tc.name, err)
			continue
		}
		var got []string
		for _, p := range r.Fails() {
			got = append(got, p.Error())
		}
		if !slices.Equal(got, tc.want) {
			t.Errorf("%s: %q, want %q", tc.name, got, tc.want)
		}
		if len(r.Fails()) > 0 && len(r.Sheet().Procedure) > 0 {
			t.Errorf("%s: a no, and steps", tc.name)
		}
	}
}
