package plan

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// block is a block of low-carbon steel.
func block(t *testing.T, body string) *part.Part {
	t.Helper()
	return parse(t, "material: low-carbon-steel\nblock:\n"+body)
}

// lies lists the set-ups in the vice of the mill: which face is up, and which lies against
// the fixed jaw.
func lies(r Result) (list []string) {
	for _, s := range r.Setups {
		if s.Device == op.Vice && s.Machine == op.MillMachine {
			tilt := ""
			for _, x := range []struct {
				axis string
				is   bool
			}{{" x", s.State.TiltX != nil}, {" y", s.State.TiltY != nil}} {
				if x.is {
					tilt += x.axis
				}
			}
			list = append(list, fmt.Sprint(s.State.Up, "/", s.State.Fixed, tilt))
		}
	}
	return list
}

// By hand. Every block is squared in six clampings: the bottom, the front and the back
// between sawn faces, the ends and the top; what is cut from above or from an end is cut
// there. Each other face is one more, and so is each tilt.
//
// A clevis: its slot runs out at the right end, so that it is held by the front and the back;
// the notch runs out at the front, so that it is held by the ends: one more. Holes in six
// faces: the bottom, the front and the back are one more each. A hole through from the
// front is drilled in the same clamping as one into the back. A plate of 5 is too
// thin to stand in the jaws by its front and back, so its ends are held by the bottom and
// the top. Of two slopes with one tilt both are milled in one clamping. A roof is milled
// before the block is turned over to lie on it: the slot in the bottom comes before it.
func TestClampings(t *testing.T) {
	const squared = "bottom/back front/bottom back/bottom left/front right/front top/front"
	for _, tc := range []struct{ name, body, want string }{
		{"plain", "  size: [60, 30, 20]\n", squared},
		{
			"clevis", "  size: [60, 20, 20]\n  slots:\n    - {at: [50, 10], length: 40, width: 8}\n" +
				"    - {at: [10, 2], length: 12, width: 5}\n",
			squared + " top/left",
		},
		{
			"six faces", "  size: [50, 40, 30]\n  holes:\n" + strings.Join([]string{
				"    - {face: top, at: [10, 10], dia: 5, depth: 10}", "    - {face: bottom, at: [10, 30], dia: 5, depth: 10}",
				"    - {face: front, at: [25, 15], dia: 5, depth: 10}", "    - {face: back, at: [25, 15], dia: 5, depth: 10}",
				"    - {face: left, at: [20, 15], dia: 5, depth: 10}", "    - {face: right, at: [20, 15], dia: 5, depth: 10}\n",
			}, "\n"),
			squared + " bottom/front front/bottom back/bottom",
		},
		{
			"through and into the back", "  size: [60, 30, 20]\n  holes:\n    - {face: front, at: [10, 10], dia: 5}\n" +
				"    - {face: back, at: [30, 10], dia: 5, depth: 8}\n",
			squared + " back/bottom",
		},
		{
			"plate", "  size: [80, 30, 5]\n",
			"bottom/back front/bottom back/bottom top/front left/bottom right/bottom",
		},
		{
			"one tilt", "  size: [60, 30, 20]\n  slopes:\n    - {from_x: 0, to_x: 30, along_x: 8}\n" +
				"    - {from_x: 30, to_x: 60, along_x: 8}\n",
			squared + " top/front x",
		},
		{
			"a roof with a slot under it", "  size: [60, 30, 24]\n" +
				"  slots: [{face: bottom, at: [30, 15], length: 20, width: 6, depth: 5}]\n" +
				"  slopes:\n    - {from_x: 0, to_x: 30, along_x: 20}\n    - {from_x: 30, to_x: 60, along_x: -20}\n",
			squared + " bottom/front top/front x top/front x",
		},
		{
			"both ways", "  size: [60, 30, 20]\n  slopes: [{from_x: 0, to_x: 60, along_x: 5, along_y: 4}]\n",
			squared + " top/front x y",
		},
		{"along y", "  size: [60, 30, 20]\n  slopes: [{from_x: 0, to_x: 60, along_y: 4}]\n", squared + " top/left y"},
	} {
		r := make1(t, block(t, tc.body), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", tc.name, f)
		}
		got, want := lies(r), strings.Fields(strings.NewReplacer(" x", "_x", " y", "_y").Replace(tc.want))
		slices.Sort(want)
		for i := range got {
			got[i] = strings.ReplaceAll(got[i], " ", "_")
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, by hand %v", tc.name, got, want)
		}
	}
}

// The way that is found costs no more than any other: every clamping of every cut, tried
// one after the other.
func TestClampedAsBruteForce(t *testing.T) {
	for _, body := range []string{
		"  size: [60, 20, 20]\n  slots:\n    - {at: [50, 10], length: 40, width: 8}\n" +
			"    - {at: [10, 2], length: 12, width: 5}\n  holes: [{at: [10, 10], dia: 6, depth: 15}]\n",
		"  size: [60, 30, 20]\n  holes:\n    - {face: front, at: [10, 10], dia: 5}\n" +
			"    - {face: back, at: [30, 10], dia: 5, depth: 8}\n    - {face: left, at: [15, 10], dia: 4}\n",
		"  size: [60, 30, 20]\n  slots:\n    - {face: front, at: [30, 10], length: 80, width: 10, depth: 10}\n" +
			"    - {face: back, at: [30, 10], length: 80, width: 10, depth: 10}\n  holes: [{at: [8, 4], dia: 4}]\n",
		"  size: [40, 30, 24]\n  slots: [{at: [20, 15], length: 60, width: 6}]\n" +
			"  slopes: [{from_x: 0, to_x: 40, along_y: 8}]\n",
	} {
		j := jobOf(t, block(t, body), loadShop(t, nil))
		best, _, err := j.clamped()
		if err != nil {
			t.Fatal(err)
		}
		ways := [][]clamping{nil}
		for _, c := range j.cuts() {
			var more [][]clamping
			for _, w := range ways {
				for _, x := range c.in {
					more = append(more, append(slices.Clone(w), x))
				}
			}
			ways = more
		}
		tried := 0
		for _, ends := range []part.Face{part.Front, part.Bottom} {
			for _, w := range ways {
				d, ring, err := j.attempt(squaredBlock(j, clampings{ends, w}), bonds{})
				if err != nil {
					t.Fatal(err)
				}
				if tried++; ring != nil {
					continue
				}
				worse := best == nil || best.failing() > d.failing()
				if worse || best.failing() == d.failing() && d.cost.Setups < best.cost.Setups {
					t.Errorf("%v: %d fail in %+v, found %v\n%s", w, d.failing(), d.cost, best, body)
				}
			}
		}
		if tried < 4 {
			t.Errorf("%d ways\n%s", tried, body)
		}
	}
}

// What a block lies on and where its places are measured from, in words.
func TestBlockInWords(t *testing.T) {
	p := block(t, "  size: [60, 30, 20]\n  holes: [{face: back, at: [25, 15], dia: 5, depth: 10}]\n")
	r := make1(t, p, loadShop(t, nil))
	var got []string
	for _, s := range r.Setups {
		got = append(got, string(s.holding()))
	}
	want := []string{
		"vice",
		"vice on the sawn faces, back against the fixed jaw, bottom up",
		"vice on the sawn faces, bottom against the fixed jaw, front up",
		"vice on the sawn faces, bottom against the fixed jaw, back up",
		"vice on the two long sides, front against the fixed jaw, upright by a square, left up",
		"vice on the two long sides, front against the fixed jaw, left down on parallels, right up",
		"vice on the two long sides, front against the fixed jaw, bottom down on parallels, top up",
		"vice on base and top, bottom against the fixed jaw, front down on parallels, back up",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, o := range r.Operations {
		if o.ID == "hole-1-spot" && !strings.Contains(card(o), "zero = left bottom") {
			t.Errorf("%s", card(o))
		}
	}
}

// A drill of 4 of the longest series is fluted for 120 (DIN 1869), and a hole through 150 with
// its point is drilled from both ends, 75 from each: 75 + 2/tan 59 = 76.202 to the point. One
// of 3 is fluted for 100 and does it too, one of 1 for 33 does not: 75 + 0.5/tan 59 = 75.30. A
// blind hole ends above the bottom: 38 of 40 with 4/tan 59 = 2.403 goes through, 37 leaves 0.597,
// and where a wall of 1 is written that is too little.
//
// An end mill of 6 is fluted for 13, a long one for 24 (DIN 844): 13 deep, 24, and 24.1; through
// 40 it goes half way from both sides, and not through 50.
func TestReachInBlocks(t *testing.T) {
	hole := func(text string) string { return "  size: [150, 40, 40]\n  holes: [{" + text + "}]\n" }
	slot := func(deep string) string {
		return "  size: [150, 40, 40]\n  slots: [{at: [75, 20], length: 40, width: 6, depth: " + deep + "}]\n"
	}
	through := func(high string) string {
		return "  size: [60, 30, " + high + "]\n  slots: [{at: [30, 15], length: 20, width: 6}]\n"
	}
	for _, tc := range []struct{ body, id, card, fails string }{
		{hole("face: left, at: [20, 20], dia: 4"), "hole-1-drill", "depth = 76.202 mm | to the middle", ""},
		{hole("face: left, at: [20, 20], dia: 4"), "hole-1-far-drill", "depth = 76.202 mm | to the middle", ""},
		{hole("face: left, at: [20, 20], dia: 3"), "hole-1-far-drill", "3 mm drill, a long one", ""},
		{
			hole("face: left, at: [20, 20], dia: 1"), "hole-1-drill", "",
			"75.301 mm deep to the drill's point, 33 mm is the most that a twist drill of 1 mm is fluted",
		},
		{
			hole("at: [20, 20], dia: 8, depth: 38"), "hole-1-drill", "",
			"-0.404 mm is left under the drill's point, 0 mm wanted",
		},
		{hole("at: [20, 20], dia: 8, depth: 37"), "hole-1-drill", "depth = 39.403 mm | never deeper", ""},
		{
			"  min_wall: 1\n" + hole("at: [20, 20], dia: 8, depth: 37"), "hole-1-drill", "",
			"0.596 mm is left under the drill's point, 1 mm wanted",
		},
		{slot("13"), "slot-1", "slot-1: end mill 6 mm; ", ""},
		{slot("24"), "slot-1", "slot-1: end mill 6 mm, a long one; ", ""},
		{through("40"), "slot-1", "depth = 20 mm | to the middle", ""},
		{through("40"), "slot-1-far", "bottom up", ""},
		{through("50"), "slot-1", "", "25 mm deep, 24 mm"},
		{slot("24.1"), "slot-1", "", "24.1 mm deep, 24 mm is the most that an end mill of 6 mm is fluted"},
	} {
		r := make1(t, block(t, tc.body), loadShop(t, nil))
		fails := fmt.Sprint(r.Fails())
		if tc.fails == "" && len(r.Fails()) > 0 || !strings.Contains(fails, tc.fails) {
			t.Errorf("%s: %s, by hand %q", tc.body, fails, tc.fails)
		}
		found := false
		for _, o := range r.Operations {
			found = found || o.ID == tc.id && strings.Contains(card(o), tc.card)
		}
		if !found {
			t.Errorf("%s: no %s with %q", tc.body, tc.id, tc.card)
		}
	}
}

// A fork of 26 by 12 by 20 whose slot of 4 is milled from both faces: when both halves are
// through, 5 of its length are left to hold, so that the slope comes before the second; and the
// later half makes the slot, whichever it is.
func TestLaterHalf(t *testing.T) {
	r := make1(t, block(t, "  size: [26, 12, 20]\n  slots: [{at: [18, 7], length: 26, width: 4}]\n"+
		"  slopes: [{from_x: 0, to_x: 13, along_x: -12}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	var list, makes []string
	for _, o := range r.Operations[7:] {
		list, makes = append(list, strings.TrimSuffix(o.ID, "-far")), append(makes, fmt.Sprint(o.Makes))
	}
	if got := fmt.Sprint(list, makes); got != "[slot-1 slope-1 slot-1] [[] [slope-1] [slot-1]]" {
		t.Errorf("%s", got)
	}
}
