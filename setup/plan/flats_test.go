package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
)

// Two flats 8 apart on a round of 12, by hand: each is 6 - 4 = 2 deep, and over the
// first of them and the round opposite it reads 6 + 4 = 10. They run along the axis,
// so nothing is tilted, and they need no round through their corners.
func TestTwoFlatsByHand(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 12], [20, 12], [20, 20], [50, 20]]\n"+
		"  facets: [{sides: 2, from: 0, to: 12, across: 8}]\n"), loadShop(t, nil))
	got := card(op1(t, r, "mill-facets-1"))
	for _, want := range []string{
		"last pass = 0.2 mm deep | on each flat, after all of them are roughed\n",
		"tilt = 0 deg", "depth = 2 mm | under the round as it was turned, rounded down\n", "first flat reads = 10 mm |",
		`"across_from_mm":8,"across_to_mm":8}`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("want %q in\n%s", want, got)
		}
	}
	if strings.Contains(string(r.Blank.Because), "through their corners") {
		t.Error(r.Blank.Because)
	}
}

// A hexagon bar of 17 is 17/cos 30 = 19.630 through its corners. A part that is a
// hexagon of 17 across flats, or of 19.63 across corners, is left as it was bought: the
// largest that is turned is 12, its flats come out at 17, and nothing mills them. A bar
// of 16 is too small for either.
func TestFlatsOfTheBar(t *testing.T) {
	text := func(stock, dia, across string) string {
		return "material: low-carbon-steel\nround:\n  stock: {hex: " + stock + "}\n  profile: [[0, 12], [20, 12], [20, " +
			dia + "], [40, " + dia + "]]\n  facets: [{sides: 6, from: 20, to: 40, across: " + across + "}]\n"
	}
	for across, dia := range map[string]string{"flats": "17", "corners": "19.63"} {
		r := make1(t, parse(t, text("17", dia, across)), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Error(f)
		}
		for _, o := range r.Operations {
			if o.Kind == op.Facet {
				t.Errorf("%s: %s", across, o.ID)
			}
		}
		p := r.Predicted[0]
		if got := say.Of(p.Words, ": ", p.Out).In(units.MM); got != "across flats, z 20 mm to 40 mm: 17 mm" || !p.OK() {
			t.Errorf("%s: %s", across, got)
		}
		const why = "the bar on hand (stock); the largest turned diameter is 12 mm; " +
			"the 6 flats over z 20 mm to 40 mm are the bar's own"
		if got := r.Blank.Because.In(units.MM); !strings.HasPrefix(got, why) {
			t.Error(got)
		}
	}
	r := make1(t, parse(t, text("16", "17", "flats")), loadShop(t, nil))
	if len(r.Fails()) == 0 {
		t.Error("a bar of 16 serves for 17 across flats")
	}
}

// In the collars of 20 beside a waist of 6 a belt of 50 has no room, a file of 6 has: in
// a shop without a mill the square is filed, and with a belt of 6 it is ground.
func TestFlatsInAWaist(t *testing.T) {
	p := bored(t, "  profile: [[0, 20], [10, 20], [10, 12], [16, 12], [16, 20], [40, 20]]\n"+
		"  facets: [{sides: 4, from: 10, to: 16, across: corners}]\n")
	for width, want := range map[string]shop.Machine{
		"": op.Bench, ", width: 6": op.BeltGrinder, ", width: 7": op.Bench,
	} {
		s := *loadShop(t, map[string]string{", width: 30": width})
		s.Mill = nil
		r := make1(t, p, &s)
		if len(r.Refused) > 0 {
			t.Error(r.Refused)
		}
		if o := op1(t, r, "grind-facets-1"); o.Machine != want {
			t.Errorf("%s: on the %s, want the %s", width, o.Machine, want)
		}
	}
}

// A hexagon of 18 across its corners, with 0.2 left on each flat: the round is turned to the 18 that
// is drawn. Its flats lie 9·cos 30 = 7.7942 from the axis, so the mill goes in 9 - 7.9942 = 1.0058,
// by whole thousandths 1.005, and the first reads 9 + 7.995 = 16.995 over the round; the grinder
// takes 0.2 of it, and the flats are 2·7.795 = 15.59 apart.
func TestCornersWithLeaveByHand(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 18], [12, 18], [12, 22], [40, 22]]\n"+
		"  facets: [{sides: 6, from: 0, to: 12, across: corners, leave: 0.2}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	for id, list := range map[string][]string{
		"turn-z0":        {`"profile":[[0,18],[12,18]]}`},
		"mill-facets-1":  {"depth = 1.005 mm |", "reads = 16.995 mm | over it and the round opposite, at the large end\n"},
		"grind-facets-1": {`"across_from_mm":15.59,"across_to_mm":15.59}`},
	} {
		got := card(op1(t, r, id))
		for _, want := range list {
			if !strings.Contains(got, want) {
				t.Errorf("%s: want %q in\n%s", id, want, got)
			}
		}
	}
}

// On a spire from 18 to 4 across its eight corners a flat is 2·(1 - cos 22.5) = 0.1522 deep at the
// thin end: with 0.3 left on it there would be nothing to mill there, and all of it is ground.
func TestMoreLeftThanAFlatIsDeep(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 20], [40, 20], [40, 18], [80, 4]]\n"+
		"  facets: [{sides: 8, from: 40, to: 80, across: corners, leave: 0.3}]\n"), loadShop(t, nil))
	const want = "grind 8 flats, z 40 mm to 80 mm: nothing is milled: the 0.3 mm that is to be left is no less than a " +
		"flat is deep, 0.152 mm where it is shallowest"
	said := slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool {
		return w.Code == "leave" && strings.HasSuffix(say.Text(w.Text).In(units.MM), want)
	})
	if !said || len(r.Fails()) > 0 {
		t.Error(r.Fails(), r.Warnings)
	}
}

// The head of a bolt is chamfered before its flats are milled: they lie as they would without it,
// 12·cos 30 = 10.3923 from the axis, so 1.607 deep in the round of 24, and 20.786 apart at both ends;
// not in the 21 that the chamfer leaves of it at its end.
func TestFlatsBehindAChamfer(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 24], [12, 24], [12, 12], [40, 12]]\n"+
		"  facets: [{sides: 6, from: 0, to: 12, across: corners}]\n  chamfers: [{at: 0, size: 1.5}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	if list := ids(r); slices.Index(list, "edge-1") > slices.Index(list, "mill-facets-1") {
		t.Error("the chamfer is cut after the flats: ", list)
	}
	got := card(op1(t, r, "mill-facets-1"))
	for _, want := range []string{
		"depth = 1.607 mm |", "tilt = 0 deg", `"across_from_mm":20.786,"across_to_mm":20.786}`,
		"first flat reads = 22.393 mm | over it and the round opposite, at the large end, behind the chamfer\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("want %q in\n%s", want, got)
		}
	}
}
