package geom_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/geom"
)

var square = geom.Rect(geom.Point{}, geom.Point{X: 10, Y: 10})

// Distances that can be read off squared paper.
func TestGap(t *testing.T) {
	for _, tc := range []struct {
		name string
		b    geom.Convex
		want float64
	}{
		{"beside", geom.Rect(geom.Point{X: 13}, geom.Point{X: 20, Y: 5}), 3},
		{"corner to corner, 3-4-5", geom.Rect(geom.Point{X: 13, Y: 14}, geom.Point{X: 20, Y: 20}), 5},
		{"touching", geom.Rect(geom.Point{X: 10, Y: 2}, geom.Point{X: 20, Y: 3}), 0},
		{"2 deep from the right", geom.Rect(geom.Point{X: 8, Y: 2}, geom.Point{X: 20, Y: 3}), -2},
		{"right inside: out by the nearer side", geom.Rect(geom.Point{X: 4, Y: 1}, geom.Point{X: 5, Y: 2}), -2},
		{"a circle beside", geom.Circle(geom.Point{X: 15, Y: 5}, 2), 3},
		{"a circle off the corner", geom.Circle(geom.Point{X: 13, Y: 14}, 2), 3},
		{"a circle over the edge", geom.Circle(geom.Point{X: 11, Y: 5}, 2), -1},
		{"a circle about the middle", geom.Circle(geom.Point{X: 5, Y: 5}, 2), -7},
		{"a line", geom.Hull(geom.Point{X: 12, Y: -5}, geom.Point{X: 12, Y: 5}), 2},
	} {
		if got := geom.Gap(square, tc.b); math.Abs(got-tc.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", tc.name, got, tc.want)
		}
		if got := geom.Gap(tc.b, square); math.Abs(got-tc.want) > 1e-12 {
			t.Errorf("%s, the other way: %v, want %v", tc.name, got, tc.want)
		}
	}
	if g := geom.Gap(geom.Circle(geom.Point{}, 1), geom.Circle(geom.Point{X: 3, Y: 4}, 2)); math.Abs(g-2) > 1e-12 {
		t.Error("two circles:", g)
	}
}

// polygon draws a convex polygon of 3 to 8 corners.
func polygon(t *rapid.T, name string) geom.Convex {
	n := rapid.IntRange(3, 8).Draw(t, name+" points")
	p := make([]geom.Point, n)
	for i := range p {
		p[i] = geom.Point{
			X: float64(rapid.IntRange(-50, 50).Draw(t, name)), Y: float64(rapid.IntRange(-50, 50).Draw(t, name)),
		}
	}
	c := geom.Hull(p...)
	if len(c.Points) < 3 {
		t.Skip("a line")
	}
	return c
}

// axes returns the gap of two polygons by separating axes: the widest gap of
// their shadows across any edge of either. Negative, it is the least shift
// that parts them; positive, it may fall short of the distance.
func axes(a, b geom.Convex) float64 {
	best := math.Inf(-1)
	for _, c := range []geom.Convex{a, b} {
		for i, p := range c.Points {
			q := c.Points[(i+1)%len(c.Points)]
			nx, ny := q.Y-p.Y, p.X-q.X
			l := math.Hypot(nx, ny)
			shadow := func(c geom.Convex) (lo, hi float64) {
				lo, hi = math.Inf(1), math.Inf(-1)
				for _, p := range c.Points {
					s := (p.X*nx + p.Y*ny) / l
					lo, hi = min(lo, s), max(hi, s)
				}
				return lo, hi
			}
			al, ah := shadow(a)
			bl, bh := shadow(b)
			best = max(best, bl-ah, al-bh)
		}
	}
	return best
}

// apart returns the distance of two polygons that do not overlap: the least
// from any corner to any edge.
func apart(a, b geom.Convex) float64 {
	least := math.Inf(1)
	for range 2 {
		for _, p := range a.Points {
			for i, q := range b.Points {
				r := b.Points[(i+1)%len(b.Points)]
				ex, ey := r.X-q.X, r.Y-q.Y
				t := min(max(((p.X-q.X)*ex+(p.Y-q.Y)*ey)/(ex*ex+ey*ey), 0), 1)
				least = min(least, math.Hypot(p.X-q.X-t*ex, p.Y-q.Y-t*ey))
			}
		}
		a, b = b, a
	}
	return least
}

// gap is Gap, written from the shapes themselves.
func gap(a, b geom.Convex) float64 {
	if g := axes(a, b); g <= 0 {
		return g
	}
	return apart(a, b)
}

// Gap and the least of a course against separating axes and corner distances, the sweep by
// 2,000 steps.
func TestAgainstAxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := polygon(t, "a"), polygon(t, "b")
		if got, want := geom.Gap(a, b), gap(a, b); math.Abs(got-want) > 1e-9 {
			t.Fatalf("gap %v, by axes %v", got, want)
		}
		move := geom.Point{X: float64(rapid.IntRange(-80, 80).Draw(t, "x")), Y: float64(rapid.IntRange(-80, 80).Draw(t, "y"))}
		got, at := geom.NewCourse(a, move, b).Least(geom.Point{})
		least := math.Inf(1)
		const steps = 2000
		for i := range steps + 1 {
			least = min(least, gap(a.Moved(geom.Point{}.Plus(move, float64(i)/steps)), b))
		}
		step := math.Hypot(move.X, move.Y) / steps                        // the gap changes by no more than the move
		if math.IsNaN(got) || got > least+1e-9 || got < least-step-1e-9 { // 1e-9: a move of 0 has a step of 0
			t.Fatalf("sweep %v, by steps %v", got, least)
		}
		if g := gap(a.Moved(geom.Point{}.Plus(move, at)), b); math.Abs(g-got) > 1e-6 {
			t.Fatalf("sweep %v, but %v at %v", got, g, at)
		}
	})
}

// Clear says what Least does, with the other shape shifted too, on both sides of the
// bound.
func TestClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := polygon(t, "a"), polygon(t, "b")
		a.R = float64(rapid.IntRange(0, 9).Draw(t, "r"))
		move := geom.Point{X: float64(rapid.IntRange(-80, 80).Draw(t, "x")), Y: float64(rapid.IntRange(-80, 80).Draw(t, "y"))}
		shift := geom.Point{X: float64(rapid.IntRange(-99, 99).Draw(t, "shift"))}
		c := geom.NewCourse(a, move, b)
		least, _ := geom.NewCourse(a, move, b.Moved(shift)).Least(geom.Point{})
		for _, off := range []float64{-50, -1, -1e-3, -1e-7, 1e-7, 1e-3, 1, 50} {
			if got := c.Clear(least+off, shift); got != (off < 0) {
				t.Fatalf("clear by %v%+v: %v", least, off, got)
			}
		}
	})
}

// A turn from X toward Y, and a hull that leaves inner points out.
func TestShapes(t *testing.T) {
	p := geom.Point{X: 1}.Turned(math.Pi / 2)
	if math.Abs(p.X) > 1e-15 || math.Abs(p.Y-1) > 1e-15 {
		t.Error(p)
	}
	if h := geom.Hull(append(square.Points, geom.Point{X: 5, Y: 5}, geom.Point{X: 5, Y: 0})...); len(h.Points) != 4 {
		t.Error(h)
	}
	c := square.Turned(geom.Point{X: 10, Y: 10}, math.Pi)
	if g := geom.Gap(c, geom.Rect(geom.Point{X: 25, Y: 12}, geom.Point{X: 30, Y: 13})); math.Abs(g-5) > 1e-9 {
		t.Error(g)
	}
}

// A square of 10 cut by lines: read off squared paper.
func TestClipped(t *testing.T) {
	for _, tc := range []struct {
		name   string
		p, out geom.Point
		want   string
	}{
		{"right of 4", geom.Point{X: 4, Y: 3}, geom.Point{X: 1}, "[{4 0} {10 0} {10 10} {4 10}]"},
		{"above the diagonal", geom.Point{X: 5, Y: 5}, geom.Point{X: -1, Y: 1}, "[{0 0} {10 10} {0 10}]"},
		{"all of it", geom.Point{X: -1}, geom.Point{X: 1}, "[{0 0} {10 0} {10 10} {0 10}]"},
		{"none of it", geom.Point{X: 11}, geom.Point{X: 1}, "[]"},
	} {
		if got := fmt.Sprint(square.Clipped(tc.p, tc.out).Points); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.name, got, tc.want)
		}
	}
}

// Where the shapes part or meet all the way, the least gap is at an end of the
// move, exactly.
func TestSweepEnds(t *testing.T) {
	a, b := geom.Circle(geom.Point{}, 1), geom.Circle(geom.Point{X: 5}, 1)
	if gap, at := geom.NewCourse(a, geom.Point{X: -2}, b).Least(geom.Point{}); gap != 3 || at != 0 {
		t.Errorf("moving away: gap %v at %v", gap, at)
	}
	if gap, at := geom.NewCourse(a, geom.Point{X: 2}, b).Least(geom.Point{}); gap != 1 || at != 1 {
		t.Errorf("moving near: gap %v at %v", gap, at)
	}
}
