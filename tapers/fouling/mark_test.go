package fouling_test

import (
	"math"
	"testing"

	"setover/setup/page/sheet"
)

// The worst place is ringed and named, the operator stands at the foot. 2 mm of taper that begin
// at the jaws, a right-hand tool: the tip runs 1 mm past the end, so that the holder stands from z
// -1 mm on, and from the tip, 15 mm from the axis, to the rim of the jaws at 55 mm: the middle of
// what overlaps is 35 mm from the axis, half a mm behind the face of the jaws. Turned round, 30 deg
// steep, the tool's edge rubs at its tip; 60 mm out nothing does.
func TestMarked(t *testing.T) {
	for _, tc := range []struct {
		head, tail, length, from, word string
		x, y                           float64 // of the ring, from the face of the jaws and from the axis
	}{
		{"30mm", "29.9mm", "30mm", "0mm", "fouls here", -0.5, 35},
		{"10mm", "30mm", "15mm", "60mm", "rubs here", 59.17, 4.45}, // 60 - cos 33.7°, 5 - sin 33.7°
		{"30mm", "20mm", "40mm", "60mm", "nearest here", math.NaN(), math.NaN()},
	} {
		in := shed(tc.head, tc.tail, tc.length, tc.from)
		in.Lathe.Compound.Handle, in.ToolHand = nil, "right"
		d := check(t, in).Drawing()
		words, ring, axis, face := map[string]sheet.Point{}, sheet.Point{}, 0.0, 0.0
		for _, s := range d.Shapes {
			switch s := s.(type) {
			case sheet.Label:
				words[s.Text] = s.At
			case sheet.Circle:
				if s.Pen == sheet.Outline {
					ring = s.C
				}
			case sheet.Path:
				if s.Pen == sheet.Axis {
					axis = s.Points[0].Y
				}
				wide := math.Abs(s.Points[0].X - s.Points[2%len(s.Points)].X)
				if s.Pen == sheet.Shade && math.Abs(wide-28) < 1e-6 { // the jaws stand 28 mm out of the chuck
					face = max(s.Points[0].X, s.Points[2].X)
				}
			}
		}
		if _, said := words[tc.word]; !said {
			t.Errorf("%s: %v", tc.word, words)
		}
		if x, y := ring.X-face, ring.Y-axis; math.Abs(x-tc.x) > 0.05 || math.Abs(y-tc.y) > 0.5 {
			t.Errorf("%s: ringed at %.2f, %.2f; want %.2f, %.2f", tc.word, x, y, tc.x, tc.y)
		}
		if you := words["you stand here"]; you.Y <= axis || you.Y < ring.Y {
			t.Errorf("%s: the operator stands at %v, the axis at %v", tc.word, you, axis)
		}
	}
}
