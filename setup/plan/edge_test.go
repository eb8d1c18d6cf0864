package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// A belt's groove of 10 deep over 4 has sides of atan(10/4) = 68.2 deg, which the compound is set
// to. A right-hand tool whose edge is ground to trail by 60 stands at 60 + 10.5 = 70.5 on a post
// that is turned clockwise by 10.5, and clears the side that it faces by 70.5 - 68.2 = 2.3; the
// other side it turns its back to, and stands at 45 + 8.5 = 53.5.
func TestHowAGroundEdgeStands(t *testing.T) {
	r := make1(t, parse(t, "material: aluminium-6082\nround:\n"+
		"  profile: [[0, 24], [12, 24], [12, 60], [15, 60], [19, 40], [23, 40], [27, 60], [30, 60]]\n"+
		"  bores: [{from: left, dia: 10, through: true}]\n"), loadShop(t, nil))
	const square = " deg from the axis with the post square, the edge that trails"
	for id, want := range map[string]string{
		"taper-z15": "60" + square + "; turned 10.5 deg it stands at 70.5 deg and clears the 68.2 deg of the side by 2.3 deg",
		"taper-z23": "45" + square + "; turned 8.5 deg it stands at 53.5 deg",
	} {
		o := op1(t, r, id)
		n := slices.IndexFunc(o.Settings, func(s op.Setting) bool { return s.Name == ground })
		if n < 0 {
			t.Fatalf("%s: nothing is ground", id)
		}
		if got := o.Settings[n].Say.In(units.MM); got != want {
			t.Errorf("%s: %s, by hand %s", id, got, want)
		}
	}
	// Each side is touched at the corner of its own land: z 12 to 15 is finished in step 6, z 27 to 30
	// in step 7, which runs in over what stands between them. What is sawn off is faced without a check
	// of the bar that it was.
	for id, want := range map[string]string{"taper-z15": "as cut in step 6", "taper-z23": "as cut in step 7"} {
		touched := op1(t, r, id).Steps[1].In(units.MM)
		if !strings.Contains(touched, "60 mm thick "+want) {
			t.Errorf("%s: %s, by hand %s", id, touched, want)
		}
	}
	for _, c := range op1(t, r, "face-right").Checks {
		if c.Code == problem.TravelShort {
			t.Errorf("the right face checks %v", c.Value)
		}
	}
}

// A thread starts with one chamfer. M5 has its root at 5 - 1.226869·0.8 = 4.018505: where 0.5 is drawn
// the end is 4, where 0.3 is drawn it is still the root, and one cut makes it and what is drawn.
func TestOneChamferWhereAThreadStarts(t *testing.T) {
	for size, want := range map[string]string{
		"0.5": "chamfer to = 4 mm at the end | 45 deg, 0.5 mm as it is drawn, below the root\n",
		"0.3": "chamfer to = 4.018 mm at the end | 45 deg, down to the root: the 0.3 mm that is drawn does not clear it\n",
	} {
		r := make1(t, brass(t, "  profile: [[0, 18], [6, 18], [6, 9], [9, 9], [9, 5], [24, 5]]\n"+
			"  threads: [{from: right, spec: M5, length: 13}]\n  chamfers: [{at: 24, size: "+size+"}]\n"), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Error(size, f)
		}
		o := op1(t, r, "chamfer-1")
		if got := card(o); !strings.Contains(got, want) || !slices.Equal(o.Makes, []string{outline.ChamferID(1)}) {
			t.Errorf("%s: want %q, and that it makes the chamfer that is drawn, in\n%s%v", size, want, got, o.Makes)
		}
		if slices.Contains(ids(r), "edge-1") {
			t.Errorf("%s: the edge is chamfered twice: %v", size, ids(r))
		}
	}
}

// A band of z 30 to 60 with an edge of 0.5 lies in the V-blocks by the 29.5 that is round, finished.
func TestBandLiesShortOfItsChamfer(t *testing.T) {
	r := make1(t, parse(t, "material: free-cutting-steel\nquantity: 6\nround:\n"+
		"  profile: [[0, 10], [30, 10], [30, 36], [60, 36], [60, 6], [70, 6]]\n"+
		"  threads: [{from: left, spec: M10, length: 27}, {from: right, spec: M6, length: 6}]\n"+
		"  holes: [{at: 45, dia: 3}]\n  chamfers: [{at: 60, size: 0.5}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	for _, s := range r.Setups {
		if g := s.Grip; s.Device == op.VBlocks {
			if g.From.MM() != 30 || g.To.MM() != 59.5 || g.Stage != work.Finished {
				t.Errorf("it lies on %+v", *g)
			}
			return
		}
	}
	t.Error("nothing lies in V-blocks")
}

// The edge at the end of a cone or of an arc is broken when that has been turned to it: before,
// there is nothing left there to touch on, and no diameter to measure it by. A part that says so
// is held against the drawing, where the chamfer of 45 deg meets a side that rises farther in.
func TestEdgeOfACone(t *testing.T) {
	const edge, cone = "edge-1", "taper-z"
	for _, tc := range []struct{ name, first, round string }{
		{"falls", cone + "0", "  profile: [[0, 10], [4, 7], [4, 5], [16, 5], [16, 10], [31, 10]]\n" +
			"  chamfers: [{at: 0, size: 1}]\n"},
		{"rises", cone + "0", "  profile: [[0, 12], [6, 15.5], [6, 7], [9, 7], [9, 24], [23, 24]]\n" +
			"  chamfers: [{at: 0, size: 0.5}]\n"},
		{"a shoulder", cone + "0", "  profile: [[0, 24], [20, 20], [20, 16], [40, 16]]\n  chamfers: [{at: 20, size: 0.5}]\n"},
		{"an arc", "curve-z26", "  profile: [[0, 18], [19, 18], [19, 27], [26, 27], [26, 14.5], [32, 10]]\n" +
			"  arcs: [{from: 26, to: 32, radius: 18, bulge: in}]\n  chamfers: [{at: 32, size: 0.5}]\n"},
	} {
		part, shop := "format: 1\npart: Test\nunits: mm\nmaterial: brass\nround:\n"+tc.round, edited(t, "shed.yaml", nil)
		r := make1(t, read(t, part), readShop(t, shop))
		judged(t, tc.name, r, part, shop)
		list := ids(r)
		if a, b := slices.Index(list, tc.first), slices.Index(list, edge); a < 0 || b < a {
			t.Errorf("%s: %v", tc.name, list)
		}
	}
}
