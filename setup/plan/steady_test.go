package plan

import (
	"slices"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

const slender = "material: acetal\nround:\n  profile: [[0, 11], [15, 11], [15, 16], [46, 12], [103, 12]]\n" +
	"  bores: [{from: left, dia: 5, depth: 30}]\n"

// A steady carries what is drilled, from the hole of the centre that it was turned on, by hand: 103 of a
// handle, 3 clear of the jaws, 1 to face and 2 for the saw stand out, 109. It is sawn off then: parted at
// the jaws it would come free and whip in the steady. The steady's fingers
// take 10 of the cylinder of 11 at the end that is out, z
// 0 to 10, about z 5. Nothing holds it by the 11 to turn it end for end: the jaws begin at
// 14. Without a steady it is refused.
func TestInASteady(t *testing.T) {
	const has = "  steady: {from: 5, to: 50}\n"
	big := map[string]string{"chuck: {diameter: 100,": "chuck: {diameter: 100, range: [14, 100],", "  collets: ER32\n": ""}
	r := make1(t, parse(t, slender), loadShop(t, big))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	i := slices.IndexFunc(r.Setups, func(s SetUp) bool { return s.Support.Kind == op.AtSteady })
	if i < 0 {
		t.Fatal("no steady stands anywhere")
	}
	last := r.Setups[i]
	want := "chuck on the bar as bought, jaws from z 109 mm to 137 mm, left end out, in the steady at z 5 mm"
	if got := holding(last.setup).In(units.MM); got != want {
		t.Errorf("it is %s, by hand %s", got, want)
	}
	if s := last.Support; s.Kind != op.AtSteady || s.At == nil || *s.At != 5e6 || *s.Dia != 11e6 {
		t.Errorf("the steady is %s at %v, %v", s.Kind, s.At, s.Dia)
	}
	var done []string
	for _, n := range last.Operations {
		done = append(done, r.Operations[n-1].ID)
	}
	if want := []string{"bore-1-drill"}; !slices.Equal(done, want) {
		t.Errorf("%q are done in it, want %q", done, want)
	}
	if list := ids(r); slices.Contains(list, partingOff) || !slices.Contains(list, "saw-off") {
		t.Errorf("it comes off the bar in %q", list)
	}
	big[has] = ""
	r = make1(t, parse(t, slender), loadShop(t, big))
	if len(r.Refused) == 0 {
		t.Error("without a steady it is made")
	}
}

// What a steady stands on: the outermost cylinder out of the jaws in its range that is 10
// long and has no hole where its fingers are. By hand, with the left end out: 9 of 20 is too
// little; of 30 from z 9 the first 10, about z 14; with a hole of 4 at z 18, 16 to 20, none
// there, so the next, of 25 from z 39, about z 44. The steady takes up to 50.
func TestSteadyLand(t *testing.T) {
	for _, tc := range []struct {
		profile, more string
		middle        op.Len
	}{
		{"[[0, 20], [9, 20], [9, 30], [39, 30], [39, 25], [60, 25], [90, 10]]", "", 14e6},
		{"[[0, 20], [9, 20], [9, 30], [39, 30], [39, 25], [60, 25], [90, 10]]", "  holes: [{at: 18, dia: 4}]\n", 44e6},
		{"[[0, 20], [9, 20], [9, 51], [39, 51], [39, 25], [60, 25], [90, 10]]", "", 44e6},
		{"[[0, 20], [9, 20], [60, 25], [90, 10]]", "", 0},
	} {
		p := parse(t, "material: brass\nround:\n  profile: "+tc.profile+"\n"+tc.more)
		j := jobOf(t, p, loadShop(t, nil))
		middle, ok := j.hold(way{first: part.Left, grip: offBar}).land(0)
		if middle != tc.middle || ok != (tc.middle != 0) {
			t.Errorf("%s %s: about z %g mm, %v, by hand %g mm", tc.profile, tc.more, middle.MM(), ok, tc.middle.MM())
		}
	}
}

// A steady is put up in 10 minutes (a guess of the trade), once a grip and a place.
func TestSteadyMinutes(t *testing.T) {
	chuck := op.Setup{Machine: op.Lathe, Device: op.Chuck, On: op.Stock, Out: part.Left, Support: op.AtCentre}
	steady := chuck.Steadied(5e6)
	if m := setupMinutes(chuck, steady); m != 10 {
		t.Errorf("%g min from a centre to a steady", m)
	}
	if m := setupMinutes(steady, steady); m != 0 {
		t.Errorf("%g min where it stands", m)
	}
	if p := steady.Plain(); p.Support != op.NoSupport || p.Steady != 0 || p.Grip() != chuck.Grip() {
		t.Errorf("plain: %+v", p)
	}
}
