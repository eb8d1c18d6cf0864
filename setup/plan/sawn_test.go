package plan

import (
	"slices"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// What is too thick to part off is sawn off, by hand in the demo's shop (jaws of 28,
// through them 0.36·100 = 36):
//
//   - a cup of 48, 39 long with a bore of 30 that is not through: the bar of 49 is held 3
//     clear of the far end, from z 42; sawn at z 40, a millimetre to face; 28 of it
//     are held, since 48 does not go through, with z 11 at the jaws' face: 39 - 28;
//   - a disc of 56 and 14 long on a boss of 26 and 7 long: 0.6·56 and 0.6·26 = 15.6
//     hold on neither, so an arbor fills its bore of 6 but for 1 mm at the end that is
//     faced, z 0 to 20; the bar is held 3 clear of the disc, from z 24: it is sawn in
//     the vice.
func TestSawnOff(t *testing.T) {
	for _, tc := range []struct{ name, text, first, second, cut string }{
		{
			"cup", "profile: [[0, 56], [39, 56]]\n  bores: [{from: left, dia: 30, depth: 20}]\n",
			"chuck on the bar as bought, jaws from z 42 mm to 70 mm, left end out",
			"chuck on the 56 mm cylinder, z 0 mm to 39 mm, jaws from z 0 mm to 28 mm, right end out", "40 mm",
		},
		{
			"disc", "profile: [[0, 26], [7, 26], [7, 56], [21, 56]]\n  bores: [{from: left, dia: 6, through: true}]\n",
			"chuck on the bar as bought, jaws from z 24 mm to 52 mm, left end out",
			"arbor turned for it on the 6 mm bore, z 0 mm to 21 mm, right end out", "22 mm",
		},
	} {
		r := make1(t, parse(t, "material: aluminium\nround:\n  "+tc.text), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", tc.name, f)
		}
		n := slices.IndexFunc(r.Operations, func(o Operation) bool { return o.ID == "saw-off" })
		if n < 0 || n+1 >= len(r.Operations) {
			t.Fatalf("%s is not sawn off and faced: %v", tc.name, ids(r))
		}
		var got []string
		for _, o := range []Operation{r.Operations[1], r.Operations[n+1]} {
			got = append(got, holding(o.op.Setup).In(units.MM))
		}
		if !slices.Equal(got, []string{tc.first, tc.second}) {
			t.Errorf("%s: %q, by hand %q, %q", tc.name, got, tc.first, tc.second)
		}
		end := r.Operations[n].Removes[0].(work.EndCut)
		if z := say.Of(end.Z.Length()).In(units.MM); z != tc.cut || !end.Sawn || r.Operations[n+1].Kind != op.Face {
			t.Errorf("%s is sawn at %s, by hand %s: %+v", tc.name, z, tc.cut, end)
		}
	}
}

// A bar is not sawn off where its end is thinner than what carries a centre.
func TestNotSawnAtAThinEnd(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  profile: [[0, 30], [40, 30], [60, 4]]\n")
	for _, w := range jobOf(t, p, loadShop(t, nil)).sawnOff("left") {
		t.Errorf("%+v", w)
	}
}

// Soft jaws hold what the chuck's are too long for, by hand: of a disc of 56, 12 long,
// 0.6·56 = 33.6 would be held in the chuck; soft jaws want 0.15·56 = 8.4, and have 9 of it,
// 3 clear of the end that is faced. Where they are not owned they are not used.
func TestSoftJaws(t *testing.T) {
	p := parse(t, "material: aluminium\nround:\n  profile: [[0, 56], [12, 56]]\n"+
		"  bores: [{from: left, dia: 12, depth: 6}]\n")
	r := make1(t, p, loadShop(t, map[string]string{"lathe:\n": "lathe:\n  soft_jaws: true\n"}))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	last := r.Operations[len(r.Operations)-1]
	want := "soft jaws bored for it on the 56 mm cylinder, z 0 mm to 12 mm, jaws from z 3 mm to 12 mm, left end out"
	if got := holding(last.op.Setup).In(units.MM); got != want {
		t.Errorf("%s: %s, by hand %s", last.ID, got, want)
	}
	for _, o := range make1(t, p, loadShop(t, nil)).Operations {
		if o.op.Setup.Device == op.SoftJaws {
			t.Errorf("%s is held in soft jaws that are not owned", o.ID)
		}
	}
}

// Of a plug that is 12 at the end by the jaws and 20 before that, all past that end is roughed to 20.4,
// more than the 20 that is filed flat. In a groove of 11.5, half a millimetre under the end and as wide
// as the 2 of the saw and the 1 that is filed, it is sawn off, and 11.5 filed flat.
func TestFiledInAGroove(t *testing.T) {
	p := parse(t, "material: free-cutting-brass\nround:\n  profile: [[0, 12], [40, 20], [46, 20], [76, 14]]\n")
	r := make1(t, p, loadShop(t, map[string]string{"parting_blade: 2\n": "", "  collets: ER32\n": ""}))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	place := func(id string) int { return slices.Index(ids(r), id) }
	groove, saw, file := place("room-left"), place("saw-off"), place("file-left")
	if groove < 0 || saw < groove || file < saw {
		t.Fatal(ids(r))
	}
	cut := r.Operations[groove].Removes[0].(work.Outside)
	if s := cut.Profile; s[0].Z != -3_000_000 || s[1].Z != 0 || max(s[0].Dia-11_500_000, 11_500_000-s[0].Dia) > 20_000 {
		t.Errorf("the groove: %v", s)
	}
}
