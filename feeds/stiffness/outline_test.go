package stiffness_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"setover/feeds/stiffness"
)

// A plumb bob's outside with a bore that is opened out at its mouth and ends in
// a point of 118 deg, held at 14 on either side.
func TestSections(t *testing.T) {
	outside := []stiffness.Point{{0, 16}, {14, 16}, {14, 34}, {34, 34}, {96, 20}, {140, 3}}
	drilled := []stiffness.Point{{0, 6.8}, {30, 6.8}, {32, 0}}
	mouth := []stiffness.Point{{0, 10}, {8, 10}}
	for _, tc := range []struct {
		jaws, end float64
		want      []stiffness.Section
	}{
		{14, 65, []stiffness.Section{
			{0, 16, 34, 34, 6.8, 6.8}, {16, 18, 34, 34, 6.8, 0}, {18, 20, 34, 34, 0, 0}, {20, 51, 34, 27, 0, 0},
		}},
		{14, 0, []stiffness.Section{{0, 6, 16, 16, 6.8, 6.8}, {6, 14, 16, 16, 10, 10}}},
		{96, 150, []stiffness.Section{{0, 44, 20, 3, 0, 0}}},
	} {
		for _, bores := range [][][]stiffness.Point{{drilled, mouth}, {mouth, drilled}} {
			if got := stiffness.Sections(tc.jaws, tc.end, outside, bores...); !slices.Equal(got, tc.want) {
				t.Errorf("from %v to %v: got %v, want %v", tc.jaws, tc.end, got, tc.want)
			}
		}
	}
	// Nothing stands at the jaws: no beam.
	if _, err := (stiffness.Layout{Modulus: 100, Sections: stiffness.Sections(150, 100, outside)}).Beam(); err == nil {
		t.Error("held beyond its end")
	}
}

// The work seen from behind gives way alike.
func TestSectionsMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var right, left []stiffness.Point
		for z := range rapid.IntRange(2, 6).Draw(t, "points") {
			p := stiffness.Point{Z: float64(z * 10), Dia: float64(rapid.IntRange(5, 40).Draw(t, "dia"))}
			right = append(right, p)
			left = append(left, stiffness.Point{Z: -p.Z, Dia: p.Dia})
		}
		slices.Reverse(left)
		end := right[len(right)-1].Z
		a := beam(t, stiffness.Layout{Modulus: 200, Sections: stiffness.Sections(0, end, right)})
		b := beam(t, stiffness.Layout{Modulus: 200, Sections: stiffness.Sections(0, -end, left)})
		if x, y := a.At(end, 1), b.At(end, 1); x != y {
			t.Fatalf("%v and from behind %v", x, y)
		}
	})
}

// A hexagon is 2/√3 as wide through its corners as across its flats, a square
// √2, and a triangle's corners are twice as far out as its sides.
func TestCoreCircle(t *testing.T) {
	for _, tc := range []struct {
		corners float64
		sides   int
		want    string
	}{{19.630, 6, "17.000"}, {14.142, 4, "10.000"}, {20, 3, "10.000"}, {20, 0, "20.000"}, {20, 2, "20.000"}} {
		if got := fmt.Sprintf("%.3f", stiffness.CoreCircle(tc.corners, tc.sides)); got != tc.want {
			t.Errorf("%v through %d corners: got %s, want %s", tc.corners, tc.sides, got, tc.want)
		}
	}
}
