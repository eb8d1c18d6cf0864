package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/plan/op"
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
