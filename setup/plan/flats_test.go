package plan

import (
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
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
