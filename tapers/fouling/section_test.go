package fouling

import (
	"math"
	"testing"

	"setover/setup/base/geom"
	"setover/setup/base/units"
	"setover/setup/book/practice"
)

// What is told in each unit is what is reckoned with, in inches within a fiftieth.
func TestTold(t *testing.T) {
	for _, tc := range []struct {
		figure interface{ Length(units.Unit) units.Length }
		mm     float64
		inch   string
	}{
		{practice.TightClear, tight, "0.12 in"},
		{practice.TravelBeyond, overrun, "0.04 in"},
		{practice.HandRoom, 40, "1.6 in"},
	} {
		if got := tc.figure.Length(units.MM).MM(); got != tc.mm {
			t.Errorf("%v mm, want %v", got, tc.mm)
		}
		off := math.Abs(tc.figure.Length(units.Inch).MM() - tc.mm)
		if got := told(tc.figure).In(units.Inch); got != tc.inch || off > tc.mm/50 {
			t.Errorf("%s, want %s", got, tc.inch)
		}
	}
}

// A cone cut under its axis, against sqrt(R² - h²) at a thousand places of it:
// none stands inside the shape, nor further off it than a hundredth of the
// greatest width.
func TestSection(t *testing.T) {
	for _, tc := range []struct{ from, to, h float64 }{
		{10, 90, 20}, {90, 10, 20}, {40, 41, 20}, {42, 90, 20}, {90, 0, 44}, {30, 60, 0},
	} {
		a, b := Corner{5, tc.from}, Corner{47, tc.to}
		s := section(a, b, tc.h)
		widest := math.Sqrt(math.Pow(max(tc.from, tc.to)/2, 2) - tc.h*tc.h)
		for i := range 1001 {
			z := a.Z + (b.Z-a.Z)*float64(i)/1000
			r := between(a, b, z) / 2
			if r <= tc.h {
				continue
			}
			w := math.Sqrt(r*r - tc.h*tc.h)
			if d := s.Distance(geom.Point{X: z, Y: w}); d < -fine || d > widest/100 {
				t.Fatalf("%v to %v at %v: %v off at %v, of %v", tc.from, tc.to, tc.h, d, z, widest)
			}
		}
	}
}
