package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// deepest returns the depth that a step is set to, in mm to the thousandth.
func deepest(t *testing.T, r Result, id string) string {
	t.Helper()
	for _, s := range op1(t, r, id).Settings {
		if s.Name == "depth" {
			return strings.TrimSuffix(say.Of(s.Value).In(units.MM), " mm")
		}
	}
	return "none"
}

// The last stretch is turned on past the end, as far as what cuts it off wants, so that
// no disc of the bar is left on its neck, by hand in the shed (a blade of 2 and 0.5 beside
// it; a kerf of 2 and 1 to face):
//
//   - a neck of 6 behind a collar of 40 is parted at 6, turned to 28 + 2.5;
//   - one of 28 behind a collar of 50 is too thick to part off: sawn at 41, a stub of 28,
//     turned to 40 + 3;
//   - an end of 4 takes no centre and carries nothing: it is parted in the bar as it is.
func TestTurnedPastTheEnd(t *testing.T) {
	for _, tc := range []struct {
		profile, id, cut string
		far, kerf        op.Len
	}{
		{"[[0, 6], [10, 6], [10, 40], [18, 40], [18, 6], [28, 6]]", "turn-z18", partingOff, 30_500_000, 6_000_000},
		{"[[0, 50], [18, 50], [18, 28], [40, 28]]", "turn-z18", "saw-off", 43_000_000, 28_000_000},
		{"[[0, 10], [20, 10], [20, 4], [26, 4]]", "turn-z20", partingOff, 26_000_000, 11_000_000},
	} {
		p := bored(t, "  profile: "+tc.profile+"\n")
		j := jobOf(t, p, loadShop(t, nil))
		w := way{first: part.Left, grip: offBar}
		if tc.cut == "saw-off" {
			w = j.sawnOff(part.Left)[0]
		}
		d, ring, err := j.attempt(j.hold(w), bonds{})
		if err != nil || ring != nil {
			t.Fatal(err, ring)
		}
		n := slices.IndexFunc(d.sequence, func(i int) bool { return d.ops[i].ID == tc.cut })
		cut := d.ops[d.sequence[n]].Removes[0].(work.EndCut)
		if kerf := d.states[n].Largest(work.Span{From: cut.Z, To: cut.Z + 1}); kerf != tc.kerf {
			t.Errorf("%s: %s in what is %v, by hand %v", tc.profile, tc.cut, say.Of(kerf.Length()), say.Of(tc.kerf.Length()))
		}
		i := slices.IndexFunc(d.ops, func(o *op.Op) bool { return o.ID == tc.id })
		list := d.ops[i].Removes
		if far := list[len(list)-1].Span(d.states[n]).To; far != tc.far {
			t.Errorf("%s: turned to z %v, by hand %v", tc.profile, say.Of(far.Length()), say.Of(tc.far.Length()))
		}
	}
}

// What is turned down to what can be parted is parted, and no more sawn and faced: a
// collar of 40 with a neck of 6 on both sides.
func TestPartedAtTheNeck(t *testing.T) {
	p := bored(t, "  profile: [[0, 6], [10, 6], [10, 40], [14, 40], [14, 20], [28, 20]]\n")
	r := make1(t, p, loadShop(t, nil))
	if got := ids(r); got[len(got)-1] != partingOff || len(r.Fails()) > 0 {
		t.Errorf("%v: %v", got, r.Fails())
	}
}

// A through bore is drilled and reamed out of the far face, by hand for 50: the reamer of
// 8 goes 1 past it and 2 more for its lead, 53; before it the drill N, 7.671, with its full
// diameter as far, 53 + 7.671/2/tan 59 = 55.304. Without a reamer the drill goes
// 1 past it: 8 makes 8.11, 51 + 4/tan 59 = 53.403. A boring bar goes 1 past it. A
// blind bore is reamed by the lead of 2 below its depth. The removal is to the far face.
func TestOutOfTheFarFace(t *testing.T) {
	through := "[{from: left, dia: 8, through: true, fit: H7}]"
	for _, tc := range []struct {
		name, bores, id, want string
		edit                  map[string]string
	}{
		{"reamed", through, "bore-1-ream", "53", nil},
		{"drilled for it", through, "bore-1-drill", "55.304", nil},
		{
			"drilled", "[{from: left, dia: 8, through: true}]", "bore-1-drill", "53.403",
			map[string]string{"[6mm, 8mm]": "[6mm]"},
		},
		{
			"bored", "[{from: left, dia: 26, through: true}]", "bore-1-bore", "51",
			map[string]string{"reach: 50": "reach: 51"},
		},
		{"blind", "[{from: left, dia: 8, depth: 20, fit: H7}]", "bore-1-ream", "22", nil},
	} {
		r := make1(t, bored(t, "  profile: [[0, 36], [50, 36]]\n  bores: "+tc.bores+"\n"), loadShop(t, tc.edit))
		if got := deepest(t, r, tc.id); got != tc.want {
			t.Errorf("%s: %s deep, by hand %s", tc.name, got, tc.want)
		}
		b := op1(t, r, tc.id).Removes[0].(work.Bore)
		if far := b.Depth; far != 50_000_000 && tc.name != "blind" {
			t.Errorf("%s: the removal ends %v deep", tc.name, say.Of(far.Length()))
		}
	}
}

// A bar that reaches 50 does not bore 50 through, which is 51 deep, from one end: half of
// it, 25, from each, and a millimetre past the middle from the second.
func TestBoredFromBothEnds(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 36], [50, 36]]\n  bores: [{from: left, dia: 26, through: true}]\n"),
		loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	for id, want := range map[string]string{"bore-1-bore": "25", "bore-1-right-bore": "26"} {
		if got := deepest(t, r, id); got != want {
			t.Errorf("%s is %s deep, by hand %s", id, got, want)
		}
	}
}

// Where a centre held the end the drill starts in its hole: nothing is spotted there.
func TestStartsInTheCentreHole(t *testing.T) {
	j := jobOf(t, bored(t, "  profile: [[0, 20], [100, 20], [100, 12], [130, 12]]\n"+
		"  bores: [{from: right, dia: 6, depth: 20}]\n"), loadShop(t, nil))
	for grip, spots := range map[int]bool{0: false, inDog: true} { // between centres it is bored as a bar
		w := way{first: "right", grip: grip, centre: [2]bool{true, grip == inDog}, barEnds: grip == inDog, close: grip == 0}
		if grip == inDog {
			w.split = 1
		}
		d, _, err := j.attempt(j.hold(w), bonds{})
		if err != nil || !d.passes() {
			t.Fatal(err, d.no)
		}
		var list []string
		for _, i := range d.sequence {
			list = append(list, d.ops[i].ID)
		}
		centre := slices.Index(list, "centre-right")
		if !spots && (centre < 0 || centre > slices.Index(list, "bore-1-drill")) {
			t.Errorf("no centre before the bore: %v", list)
		}
		if got := slices.Contains(list, "bore-1-spot"); got != spots {
			t.Errorf("grip %d: spotted %v, by hand %v: %v", grip, got, spots, list)
		}
	}
}

// A bore of 21, 35 deep in 41, is drilled with 13 first, whose point of 6.5/tan 59 = 3.906
// leaves 2.094 of floor; the bar leaves it flat.
func TestFloorBelowTheDrill(t *testing.T) {
	s := loadShop(t, map[string]string{"[metric-0.5, number, letter, fraction-64, 6.8mm, 3.2mm]": "[13mm, 3.2mm]"})
	r := make1(t, bored(t, "  profile: [[0, 30], [41, 30]]\n  bores: [{from: left, dia: 21, depth: 35}]\n"), s)
	if got := codes(r); len(got) > 0 {
		t.Errorf("refused %v", got)
	}
	r = make1(t, bored(t, "  profile: [[0, 30], [41, 30]]\n  bores: [{from: left, dia: 21, depth: 36.9}]\n"), s)
	if got := codes(r); !slices.Equal(got, []string{"wall-too-thin bore-1"}) {
		t.Errorf("0.194 of floor: refused %v", got)
	}
}

// The relief behind M20x1.5 is 20 - 1.6·1.5 = 17.6 across, 0.8 over a bore of 16; the
// root would leave 1.08.
func TestWallUnderTheRelief(t *testing.T) {
	const round = "  profile: [[0, 20], [20, 20], [20, 30], [24, 30]]\n" +
		"  threads: [{from: left, spec: M20x1.5, length: 15}]\n"
	r := make1(t, bored(t, round+"  bores: [{from: left, dia: 16, through: true}]\n"), loadShop(t, nil))
	said := ""
	for _, w := range r.Warnings {
		if w.Code == "thin-wall" {
			said = w.Text.In(units.MM)
		}
	}
	if !strings.Contains(said, "only 0.8 mm of wall") {
		t.Errorf("%q, by hand 0.8", said)
	}
	j := jobOf(t, bored(t, round), loadShop(t, nil))
	if list := j.hold(j.ways()[0]).reliefs(); len(list) != 1 || !list[0].Span.From.Equal(units.Millimetres(15)) {
		t.Errorf("reliefs: %+v", list)
	}
}

// A centre drill that is on hand comes before one that is not, by hand: for a bore of 6
// the usual one is 1; of 2 and 4, with mouths of 4.24 and 8.48, 2 stays within it. Within
// 4 neither does. For the end of a bar of 20 the usual one is 2.5, and 2 is nearest.
func TestCentreDrillOnHand(t *testing.T) {
	mm := func(l string) units.Length { return units.MustLength(l + "mm") }
	pin := bored(t, "  profile: [[0, 20], [30, 20]]\n")
	j := jobOf(t, pin, loadShop(t, map[string]string{"[1, 1.6, 2.5, 3.15]": "[4, 2]"}))
	all := jobOf(t, pin, loadShop(t, nil))
	for _, tc := range []struct {
		j                 *job
		dia, within, want string
	}{
		{j, "6", "6", "2"},
		{j, "4", "4", "2"}, // its mouth is 4.24: drilled less deep
		{j, "1.5", "1.5", "1"},
		{j, "20", "10", "2"},
		{j, "40", "40", "4"},
		{all, "6", "6", "1"},
		{all, "20", "10", "2.5"},
		{all, "1.5", "1.5", "1"},
	} {
		if got := tc.j.pilot(mm(tc.dia), mm(tc.within)); !got.Equal(mm(tc.want)) {
			t.Errorf("for %s within %s: %v, by hand %s", tc.dia, tc.within, say.Of(got), tc.want)
		}
	}
}

// A hole is spotted with the largest centre drill whose mouth of 2.12 pilots is within it:
// 6.68 for 3.15, 5.3 for 2.5, 3.39 for 1.6, 2.12 for 1; in inches 0.1656 for 5/64 and 0.265
// for 1/8. It is called as it is stamped.
func TestSpotsWith(t *testing.T) {
	pin := bored(t, "  profile: [[0, 20], [30, 20]]\n")
	mm := jobOf(t, pin, loadShop(t, nil))
	inch := jobOf(t, pin, loadShop(t, map[string]string{"[1, 1.6, 2.5, 3.15]": "[5/64in, 1/8in]"}))
	none := jobOf(t, pin, loadShop(t, map[string]string{"centre_drills: [1, 1.6, 2.5, 3.15]\n": ""}))
	for _, tc := range []struct {
		j         *job
		dia, want string
	}{
		{mm, "10mm", "3.15 mm"},
		{mm, "6.7mm", "3.15 mm"},
		{mm, "6.6mm", "2.5 mm"},
		{mm, "4.2mm", "1.6 mm"},
		{mm, "3.3mm", "1 mm"},
		{mm, "1.5mm", "1 mm"}, // drilled by its pilot alone
		{inch, "0.3in", "1/8 in"},
		{inch, "0.26in", "5/64 in"},
		{none, "10mm", "3.15 mm"},
	} {
		var w steps
		name := w.centreDrill(&task{job: tc.j}, tc.j.spotPilot(units.MustLength(tc.dia)))
		if got := name.In(units.MM); got != "centre drill "+tc.want {
			t.Errorf("a hole of %s is spotted with a %s, by hand %s", tc.dia, got, tc.want)
		}
	}
}

// How deep it goes, by hand: for a hole of 10 across the bar the pilot of 3.15, into a blind
// one of 2 just that; into the end the cone of a mouth of 2.12 x 3.15 = 6.678, which is
// (6.678 - 3.15)/2/tan 30 = 3.055 deep.
func TestSpotDepth(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 30], [60, 30]]\n  bores: [{from: left, dia: 10, depth: 20}]\n"+
		"  holes: [{at: 40, dia: 10}]\n"), loadShop(t, nil))
	shallow := make1(t, bored(t, "  profile: [[0, 30], [60, 30]]\n"+
		"  holes: [{at: 40, dia: 10, depth: 2}]\n"), loadShop(t, nil))
	for _, tc := range []struct {
		r        Result
		id, want string
	}{{r, "spot-roll-1", "3.15"}, {r, "bore-1-spot", "3.055"}, {shallow, "spot-roll-1", "2"}} {
		if got := deepest(t, tc.r, tc.id); got != tc.want {
			t.Errorf("%s is %s deep, by hand %s", tc.id, got, tc.want)
		}
	}
}

// A sleeve of 32 is parted off on a lathe that parts 25: the bar past its end is necked to less
// when all else is done, by (32 - 24.5)/2 = 3.75 straight in, where a blade of 2 has as much room
// again. One of 60 would want 17.75, more than half of what is parted, and is not.
//
// It is plunged as it is parted: 15.24 m/min on 32 is 151.6 rpm, of the lathe's speeds 120, at
// 0.127/2 = 0.0635 mm/rev. The room of 2·(2 + 0.5) = 5 takes 3 plunges of a blade of 2, each
// 188 divisions of 0.02 = 3.76 deep: with 3 run in and on (3.76 + 3)/(0.0635·120) = 0.8871 min, back
// 6.76/1000 = 0.0068 min, and a minute to set it: 5.6817 min.
func TestNeckedToPart(t *testing.T) {
	sleeve := "material: low-carbon-steel\nround:\n  profile: [[0, %[1]d], [43, %[1]d]]\n" +
		"  bores: [{from: left, dia: 16, through: true}]\n"
	r := make1(t, parse(t, fmt.Sprintf(sleeve, 32)), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 || r.Totals.Setups != 2 {
		t.Fatal(f, r.Totals.Setups)
	}
	n := len(r.Operations)
	neck, off := r.Operations[n-2], r.Operations[n-1]
	if neck.ID != "room-right" || off.ID != partingOff {
		t.Fatal(ids(r))
	}
	const on = "run on = 5 mm | at this diameter, where the bar is turned"
	if got := card(r.Operations[n-3]); !strings.Contains(got, on) || strings.Contains(got, "past the end") {
		t.Errorf("finished before the neck: %s", got)
	}
	p := neck.op.Removes[0].(work.Outside).Profile
	if p[0].Z != 43*work.MM || p[0].Dia > 25*work.MM || p[1].Z-p[0].Z < 4*work.MM {
		t.Errorf("necked to %+v", p)
	}
	if m := neck.op.Minutes; math.Abs(m-5.6817) > 0.0001 {
		t.Errorf("necked in %.4f min, by hand 5.6817", m)
	}
	if c := neck.op.Push; c.Depth != 2 || c.Feed != 0.0635 {
		t.Errorf("it pushes as a cut of %+v, by hand 2 wide at 0.0635", c)
	}
	for _, o := range make1(t, parse(t, fmt.Sprintf(sleeve, 60)), loadShop(t, nil)).Operations {
		if o.ID == "room-right" && !failed(o.op) {
			t.Error("60 is necked")
		}
	}
}
