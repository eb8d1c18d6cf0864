package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// ledBelow is a part with a blind bore or hole that is reamed, drilled so deep and reamed so deep with the
// lead. The lead of a machine reamer is 2 mm at the most: common practice, no source.
var ledBelow = []struct{ part, id, drilled, reamed string }{
	{
		"  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 8, depth: 20, fit: H7}]\n",
		"bore-1", "deeper = 2 mm", "depth = 22 mm",
	},
	{
		"  profile: [[0, 20], [40, 20]]\n  bores: [{from: right, dia: 8, depth: 20, fit: H7}]\n",
		"bore-1", "deeper = 2 mm", "depth = 22 mm",
	},
	// the bar of 25 stands 0.5 a side over the 24 that are drawn: 10 + 2 + 0.5
	{
		"  profile: [[0, 24], [60, 24]]\n  holes: [{at: 20, dia: 6, fit: H7, depth: 10}]\n",
		"hole-1", "deeper = 2 mm", "depth = 12.5 mm",
	},
}

// What is blind and reamed is drilled 2 mm deeper than it is drawn, and reamed by its lead below that.
func TestReamedBelowADepth(t *testing.T) {
	for _, c := range ledBelow {
		r := make1(t, bored(t, c.part), loadShop(t, nil))
		if got := codes(r); len(got) > 0 {
			t.Fatal(c.part, got)
		}
		drill, ream := op1(t, r, c.id+"-drill"), op1(t, r, c.id+"-ream")
		if got := card(drill); !strings.Contains(got, c.drilled) || !slices.Contains(drill.Allowed, op.ReamerLead) {
			t.Errorf("want %q in\n%s", c.drilled, got)
		}
		if got := card(ream); !strings.Contains(got, c.reamed) {
			t.Errorf("want %q in\n%s", c.reamed, got)
		}
		if depthOf(drill)-depthOf(ream) != 2*work.MM {
			t.Errorf("%s: drilled %v, reamed %v", c.id, depthOf(drill).MM(), depthOf(ream).MM())
		}
	}
}

// depthOf returns how deep an operation makes a bore or a hole of full diameter.
func depthOf(o Operation) work.Len {
	switch r := o.Removes[0].(type) {
	case work.Bore:
		return r.Depth
	case work.Cross:
		return *r.Depth
	}
	return 0
}

// noLead is a part with a blind bore or hole that is not reamed, and one a little less deep that is.
var noLead = []struct{ what, part, from, to, id string }{
	// 40 - 34 - 2 - 4 tan 31 = 1.6 of floor; a mm more leaves 0.6
	{
		"the floor of a bore", "  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 8, depth: 35, fit: H7}]\n",
		"depth: 35", "depth: 34", "bore-1",
	},
	// the end of 10 begins 1 below the floor; where it begins 2 below it the lead ends before it
	{
		"the wall below a bore", "  profile: [[0, 24], [21, 24], [21, 10], [60, 10]]\n" +
			"  bores: [{from: left, dia: 8, depth: 20, fit: H7}]\n", "depth: 20", "depth: 19", "bore-1",
	},
	// 60 - 10 - 2.4 = 47.6 to the other bore's point: 43 + 2 + 2.4 leaves 0.2, 41 leaves 2.2
	{
		"a bore of the other end", "  profile: [[0, 24], [60, 24]]\n" +
			"  bores: [{from: left, dia: 8, depth: 43, fit: H7}, {from: right, dia: 8.5, depth: 10}]\n",
		"depth: 43", "depth: 40", "bore-1",
	},
	{
		"a shoulder that a narrower bore goes on from", "  profile: [[0, 24], [60, 24]]\n" +
			"  bores: [{from: left, dia: 8, depth: 20, fit: H7}, {from: left, dia: 5, depth: 40}]\n",
		", {from: left, dia: 5, depth: 40}", "", "bore-1",
	},
	// the hole of 4 at 28.5 begins at 26.5, and the point of 4 tan 31 = 2.4 ends at 24.4 below the lead
	{
		"a cross hole", "  min_wall: 2.5\n  profile: [[0, 30], [60, 30]]\n" +
			"  bores: [{from: left, dia: 8, depth: 20, fit: H7}]\n  holes: [{at: 28.5, dia: 4, miss_bore: true}]\n",
		"at: 28.5", "at: 29", "bore-1",
	},
	// 24 - 19 - 2 - 3 tan 31 = 1.2; a mm less leaves 2.2
	{
		"the far side", "  profile: [[0, 24], [60, 24]]\n  holes: [{at: 20, dia: 6, fit: H7, depth: 19}]\n",
		"depth: 19", "depth: 18", "hole-1",
	},
	// the bore's wall is at 12 - 4 = 8: a hole 4 deep with its point of 1.8 leaves 2.2, and 0.2 of that beside the lead
	{
		"a bore it misses", "  profile: [[0, 24], [60, 24]]\n  bores: [{from: left, dia: 8, depth: 40}]\n" +
			"  holes: [{at: 20, dia: 6, fit: H7, depth: 4}]\n", "depth: 4}]", "depth: 2}]", "hole-1",
	},
}

// The lead wants room: where none is left the bore is bored, and the hole is refused.
func TestNoRoomForALead(t *testing.T) {
	for _, c := range noLead {
		fits := func(part string) bool {
			j, err := newJob(Input{Part: bored(t, part), Shop: loadShop(t, nil)})
			if err != nil {
				t.Fatal(err)
			}
			if strings.HasPrefix(c.id, "hole") {
				return j.reamableAcross(j.shape.Holes[0])
			}
			return j.reamable(j.shape.Bores[0])
		}
		if fits(c.part) {
			t.Errorf("%s: it is reamed", c.what)
		}
		if !fits(strings.Replace(c.part, c.from, c.to, 1)) {
			t.Errorf("%s, with room: it is not reamed", c.what)
		}
	}
}

// A hole that a reamer on hand would make, were there room, says so; and a drill of its size that is on
// hand is not said to be missing: that of 6 makes 6.1 by the handbook's mean.
func TestWhyAHoleIsNotReamed(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 24], [60, 24]]\n  holes: [{at: 20, dia: 6, fit: H7, depth: 19}]\n"),
		loadShop(t, nil))
	said := func(code, text string) bool {
		return slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool {
			return w.Code == code && strings.Contains(string(w.Text), text)
		})
	}
	if !said("reamer-lead", "finds no room") || !said("drill-over", "is the nearest under it") {
		t.Errorf("%v", r.Warnings)
	}
	if said("kit-missing", "") {
		t.Errorf("a drill is missing: %v", r.Warnings)
	}
}
