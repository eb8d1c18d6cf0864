package work

import (
	"testing"

	"setover/setup/maker/part"
)

// A block of 60 by 30 by 20. A slope of 10 deg along x over 50 and 5 along y falls
// 50·tan 10 + 30·tan 5 = 8.8163 + 2.6247. A slot of 12 by 10 turned by 30 deg reaches
// (12 - 10)/2·cos 30 + 5 = 5.8660 along and 0.5 + 5 across; one into an end runs along y and z.
func TestBox(t *testing.T) {
	b := Block{Size: [3]Len{60 * MM, 30 * MM, 20 * MM}}
	deep := 4 * MM
	box := func(x1, y1, z1, x2, y2, z2 float64) Cuboid {
		return Cuboid{[3]Len{Float(x1), Float(y1), Float(z1)}, [3]Len{Float(x2), Float(y2), Float(z2)}}
	}
	for _, tc := range []struct {
		r    Removal
		want Cuboid
	}{
		{BlockHole{part.Top, 10 * MM, 8 * MM, 6 * MM, &deep}, box(7, 5, 16, 13, 11, 20)},
		{BlockHole{part.Bottom, 10 * MM, 8 * MM, 6 * MM, &deep}, box(7, 5, 0, 13, 11, 4)},
		{BlockHole{part.Front, 10 * MM, 8 * MM, 6 * MM, &deep}, box(7, 0, 5, 13, 4, 11)},
		{BlockHole{part.RightF, 10 * MM, 8 * MM, 6 * MM, &deep}, box(56, 7, 5, 60, 13, 11)},
		{BlockHole{part.LeftF, 10 * MM, 8 * MM, 6 * MM, nil}, box(0, 7, 5, 60, 13, 11)},
		{BlockSlot{part.Top, 20 * MM, 10 * MM, 12 * MM, 10 * MM, 30e6, &deep}, box(14.133975, 4.5, 16, 25.866025, 15.5, 20)},
		{BlockSlot{part.Top, 2 * MM, 2 * MM, 12 * MM, 10 * MM, 0, nil}, box(0, 0, 0, 8, 7, 20)},
		{Slope{part.Top, 0, 50 * MM, 10e6, 5e6}, box(0, 0, 20-11.441009, 50, 30, 20)},
		{Slope{part.Bottom, 0, 50 * MM, -10e6, 5e6}, box(0, 0, 0, 50, 30, 11.441009)},
	} {
		got, ok := b.Around(tc.r)
		for i := range 3 {
			if !ok || abs(got.From[i]-tc.want.From[i]) > 2 || abs(got.To[i]-tc.want.To[i]) > 2 {
				t.Errorf("%+v: %v, by hand %v", tc.r, got, tc.want)
				break
			}
		}
	}
	if _, ok := b.Around(Cross{}); ok {
		t.Error("a cross hole is none of a block's")
	}
	s := Slope{part.Top, 0, 50 * MM, 10e6, 5e6} // its highest corner at x 50, y 30
	for _, tc := range []struct{ x, y, want float64 }{
		{50, 30, 0}, {0, 30, 8.816349}, {50, 0, 2.624660}, {0, 0, 11.441009}, {60, 30, -1.763270},
	} {
		if got := s.Fall(b, Float(tc.x), Float(tc.y)).MM(); got < tc.want-1e-5 || got > tc.want+1e-5 {
			t.Errorf("at %v %v it lies %.6f below, by hand %.6f", tc.x, tc.y, got, tc.want)
		}
	}
	x, _ := b.Around(BlockHole{part.Top, 10 * MM, 4500 * MM / 1000, 6 * MM, nil}) // 1.5 from the front
	for f, want := range map[part.Face]bool{part.Front: false, part.Back: false, part.Top: true, part.Bottom: true} {
		if b.Touches(x, f, 1500*MM/1000) != want {
			t.Errorf("a hole 1.5 from the front: the %s %v", f, !want)
		}
	}
	if !b.Touches(x, part.Front, 1500*MM/1000+1) {
		t.Error("1.5 is less than a wall of more")
	}
}
