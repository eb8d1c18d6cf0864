package stiffness_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/feeds/stiffness"
	"setover/setup/base/units"
)

// bar returns a bar of the stations z, diameter, z, diameter …, in mm.
func bar(support stiffness.Support, modulus float64, at ...string) stiffness.Bar {
	b := stiffness.Bar{Modulus: modulus, Density: 7850, Support: support}
	for i := 0; i < len(at); i += 2 {
		b.Stations = append(b.Stations, stiffness.Station{Z: units.MustLength(at[i]), Dia: units.MustLength(at[i+1])})
	}
	return b
}

// deflection is what a bar gives way by at z under a force there.
func deflection(t interface{ Fatal(...any) }, b stiffness.Bar, force float64, z string) float64 {
	beam, err := b.Beam()
	if err != nil {
		t.Fatal(err)
	}
	return beam.At(units.MustLength(z).MM(), force)
}

// second is π·d⁴/64.
func second(d float64) float64 { return math.Pi * math.Pow(d, 4) / 64 }

// The closed forms that every handbook prints for plain bars (Machinery's
// Handbook, beam tables; from memory), in inches and mm, at nine figures.
func TestClosedForms(t *testing.T) {
	for _, tc := range []struct {
		name  string
		bar   stiffness.Bar
		force float64
		at    string
		want  float64
	}{
		{
			"chucked, F·L³/(3·E·I)", bar(stiffness.Chuck, 207, "0", "20", "100", "20"), 200, "100",
			200 * 1e6 / (3 * 207e3 * second(20)),
		},
		{
			"chucked, half way out", bar(stiffness.Chuck, 207, "0", "20", "100", "20"), 200, "50",
			200 * 125e3 / (3 * 207e3 * second(20)),
		},
		{
			"between centres, F·L³/(48·E·I)", bar(stiffness.Between, 69, "0", "1in", "10in", "1in"), 100, "5in",
			100 * math.Pow(254, 3) / (48 * 69e3 * second(25.4)),
		},
		{
			"between centres, F·a²·b²/(3·E·I·L)", bar(stiffness.Between, 69, "0", "1in", "10in", "1in"), 100, "2in",
			100 * math.Pow(50.8*203.2, 2) / (3 * 69e3 * second(25.4) * 254),
		},
		{
			"chuck and centre, 7·F·L³/(768·E·I)", bar(stiffness.Centre, 207, "0", "12", "240", "12"), 150, "120",
			7 * 150 * math.Pow(240, 3) / (768 * 207e3 * second(12)),
		},
		{
			"a taper with the force at the small end, 64·F·L³/(3·π·E·D³·d)", bar(stiffness.Chuck, 100, "0", "20", "80", "10"),
			50, "80", 64 * 50 * math.Pow(80, 3) / (3 * math.Pi * 100e3 * 8000 * 10),
		},
		{
			"the same down to a twentieth", bar(stiffness.Chuck, 100, "0", "20", "80", "1"), 5, "80",
			64 * 5 * math.Pow(80, 3) / (3 * math.Pi * 100e3 * 8000 * 1),
		},
		{
			"a step: 30 of 20 mm, then 30 of 10 mm", bar(stiffness.Chuck, 200, "0", "20", "30", "20", "30", "10", "60", "10"),
			10, "60", 10 / (3 * 200e3) * ((216e3-27e3)/second(20) + 27e3/second(10)),
		},
	} {
		got := deflection(t, tc.bar, tc.force, tc.at)
		if g, w := fmt.Sprintf("%.9f", got), fmt.Sprintf("%.9f", tc.want); g != w {
			t.Errorf("%s: got %s, want %s", tc.name, g, w)
		}
	}
}

// A. C. Ugural, Mechanical Design of Machine Components, example 9.6: a stepped
// shaft of steel (200 GPa) on two bearings 1 m apart, its middle half of twice
// the I of its ends, 0.3·10⁻⁶ m⁴, carries 400 N in the middle. It prints
// 3·W·L³/(256·E·I), which is 0.078125 mm.
func TestSteppedShaft(t *testing.T) {
	d := func(i float64) units.Length { return units.FromFloat(math.Pow(64*i/math.Pi, 0.25)) }
	at := func(z string, i float64) stiffness.Station {
		return stiffness.Station{Z: units.MustLength(z), Dia: d(i)}
	}
	const i = 0.3e6 // mm4
	b := stiffness.Bar{Modulus: 200, Support: stiffness.Between, Stations: []stiffness.Station{
		at("0", i), at("250", i), at("250", 2*i), at("750", 2*i), at("750", i), at("1000", i),
	}}
	if got := fmt.Sprintf("%.6f", deflection(t, b, 400, "500")); got != "0.078125" {
		t.Errorf("got %s mm, want 0.078125", got)
	}
}

// An independent way: the bar cut into many short plain pieces, slopes and
// deflections summed up one by one.
func TestAgainstSummedPieces(t *testing.T) {
	b := bar(stiffness.Chuck, 110, "0", "16", "14", "16", "14", "34", "34", "34", "96", "20", "140", "3")
	got := deflection(t, b, 20, "140")
	const n = 400_000
	dia := func(z float64) float64 {
		switch {
		case z < 14:
			return 16
		case z < 34:
			return 34
		case z < 96:
			return 34 - (z-34)*14/62
		}
		return 20 - (z-96)*17/44
	}
	h, slope, y := 140.0/n, 0.0, 0.0
	for i := range n {
		z := (float64(i) + 0.5) * h
		bend := 20 * (140 - z) / (110e3 * second(dia(z)))
		y += slope*h + bend*h*h/2
		slope += bend * h
	}
	if g, w := fmt.Sprintf("%.6f", got), fmt.Sprintf("%.6f", y); g != w {
		t.Errorf("plumb bob: got %s mm, summed pieces give %s", g, w)
	}
}

// The first whirling speed of a plain bar is k/(2·π)·√(E·I/(ρ·A·L⁴)); the
// constants are printed to four figures in S. P. Timoshenko, Vibration Problems
// in Engineering (3.516, 15.42, 9.870), and to three in most books.
func TestWhirlingConstants(t *testing.T) {
	for _, tc := range []struct {
		support stiffness.Support
		want    string
	}{
		{stiffness.Chuck, "3.52"},
		{stiffness.Centre, "15.4"},
		{stiffness.Between, "9.87"},
	} {
		b := bar(tc.support, 207, "0", "12", "500", "12")
		unit := math.Sqrt(207e9 * second(0.012) / (7850 * math.Pi * 0.012 * 0.012 / 4 * math.Pow(0.5, 4)))
		beam, err := b.Beam()
		if err != nil {
			t.Fatal(err)
		}
		k := beam.Whirling(b.Density) * 2 * math.Pi / 60 / unit
		_, decimals, _ := strings.Cut(tc.want, ".")
		if got := fmt.Sprintf("%.*f", len(decimals), k); got != tc.want {
			t.Errorf("%s: the constant is %.6f, want %s", tc.support, k, tc.want)
		}
	}
}

// What needs no book: a support more gives way less, a thicker bar less, and
// twice the length eight times as much.
func TestSense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.IntRange(3, 60).Draw(t, "dia")
		l := rapid.IntRange(20, 400).Draw(t, "length")
		text := func(n int) string { return fmt.Sprintf("%dmm", n) }
		plain := func(support stiffness.Support, dia, length, z int) float64 {
			return deflection(t, bar(support, 207, "0", text(dia), text(length), text(dia)), 100, text(z))
		}
		free, held, thick := plain(stiffness.Chuck, d, l, l/2), plain(stiffness.Centre, d, l, l/2),
			plain(stiffness.Chuck, 2*d, l, l/2)
		if free <= held || free <= thick {
			t.Fatalf("%d x %d: free %v, held %v, thick %v", d, l, free, held, thick)
		}
		end, long := plain(stiffness.Chuck, d, l, l), plain(stiffness.Chuck, d, 2*l, 2*l)
		if got := fmt.Sprintf("%.6f", long/end); got != "8.000000" {
			t.Fatalf("twice the length gives way %s times as much", got)
		}
	})
}
