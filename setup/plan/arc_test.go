package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
)

// A quarter of a circle of 1 mm on 10, its middle at z 20 and 4 from the axis, in brass roughed to
// 10.4. The steps are cut from the large end down, each fed from the small end, z 21.
//
// Without a carriage's dial they are 9 of 11.25 deg, of which the cross slide, 0.02 a division, does
// not tell the second from the first. The highest of their corners stands off by √(1 + sin 78.75·sin
// 11.25) - 1 = 0.0915. The lengths are 1, 0.617, 0.444, 0.293, 0.169, 0.076, 0.019 and 0, in all
// 2.618: (2.618 + 8·3)/(0.06·1450) + 26.618/1000 + 8·0.5 = 4.3326 min.
//
// A carriage of 0.2 a division goes to 20, 20.2, 20.4, 20.6, 20.8 and 21, where the diameter is 8 +
// 2√(1 - (z - 20)²): 10, 9.960, 9.833, 9.6, 9.2 and 8. Of the corners between them the one at z 21 and
// 9.2 stands off most, by √(1 + 0.6²) - 1 = 0.1662. To the last it goes 0.6 deeper, in three bites of
// 0.2: (3 + 8·3)/87 + 27/1000 + 6·0.5 = 3.3373 min.
func TestArcStepByStep(t *testing.T) {
	const slide = "  cross_slide: {lead: 2, divisions: 100"
	for _, tc := range []struct {
		name    string
		edit    map[string]string
		list    []string
		minutes float64
		leaves  string
	}{
		{"no dial", nil, []string{
			"to 10 mm at z 20 mm, 1 mm from the face", "to 9.848 mm at z 20.383 mm, 0.617 mm from the face",
			"to 9.663 mm at z 20.556 mm, 0.444 mm from the face", "to 9.414 mm at z 20.707 mm, 0.293 mm from the face",
			"to 9.111 mm at z 20.831 mm, 0.169 mm from the face", "to 8.765 mm at z 20.924 mm, 0.076 mm from the face",
			"to 8.39 mm at z 20.981 mm, 0.019 mm from the face", "to 8 mm at z 21 mm, 0 mm from the face",
		}, 4.3326, "0.092 mm"},
		{"a dial", map[string]string{slide: "  carriage: {lead: 20, divisions: 100}\n" + slide}, []string{
			"to 10 mm at z 20 mm, 1 mm from the face, carriage 0 turns + 5 div",
			"to 9.96 mm at z 20.2 mm, 0.8 mm from the face, carriage 0 turns + 4 div",
			"to 9.833 mm at z 20.4 mm, 0.6 mm from the face, carriage 0 turns + 3 div",
			"to 9.6 mm at z 20.6 mm, 0.4 mm from the face, carriage 0 turns + 2 div",
			"to 9.2 mm at z 20.8 mm, 0.2 mm from the face, carriage 0 turns + 1 div",
			"to 8 mm at z 21 mm, 0 mm from the face, carriage 0 turns + 0 div",
		}, 3.3373, "0.167 mm"},
	} {
		r := make1(t, brass(t, "  profile: [[0, 10], [20, 10], [21, 8]]\n"+
			"  arcs: [{from: 20, to: 21, radius: 1, bulge: out}]\n"), loadShop(t, tc.edit))
		o := op1(t, r, "curve-z20")
		var list []string
		for _, d := range o.Dials {
			list = append(list, strings.TrimSuffix(d.What.In(units.MM), ", from the work as roughed"))
		}
		if !slices.Equal(list, tc.list) {
			t.Errorf("%s: %q, by hand %q", tc.name, list, tc.list)
		}
		if math.Abs(o.op.Minutes-tc.minutes) > 0.0001 {
			t.Errorf("%s: %.4f min, by hand %.4f", tc.name, o.op.Minutes, tc.minutes)
		}
		n := slices.IndexFunc(o.Settings, func(s op.Setting) bool { return s.Name == "steps" })
		if left := o.Settings[n].Say.In(units.MM); !strings.HasPrefix(left, "leaving cusps of "+tc.leaves+", and up to ") {
			t.Errorf("%s: %s, by hand %s", tc.name, left, tc.leaves)
		}
		n = slices.IndexFunc(o.Settings, func(s op.Setting) bool { return s.Name == "from z" })
		if from := say.Of(o.Settings[n].Value).In(units.MM); from != "20 mm" {
			t.Errorf("%s: %s", tc.name, from)
		}
	}
}

// A dome at the end of a slender bar, which 0.2 a side bends too far: it is turned in bites of half
// as much, and the card says so.
func TestArcInLightBites(t *testing.T) {
	r := make1(t, parse(t, "material: silver-steel\nround:\n"+
		"  profile: [[0, 10], [60, 10], [80, 6], [83, 0]]\n"+
		"  arcs: [{from: 80, to: 83, radius: 3, bulge: out}]\n"), loadShop(t, nil))
	const want = "0.1 mm a side: a position that lies deeper than that under the one before is come to in bites; " +
		"it springs under more"
	for _, s := range op1(t, r, "curve-z80").Settings {
		if s.Name == "depth a pass" {
			if got := say.Of(s.Value, " ", s.Say).In(units.MM); got != want {
				t.Errorf("%s, not %s", got, want)
			}
			return
		}
	}
	t.Error("no depth a pass")
}
