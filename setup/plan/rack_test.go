package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// The bar is the thinnest on hand that serves, by hand: a bush of 20, 24 long, takes 1
// faced off, 24, 3 clear of the jaws, 2.5 for the blade and the 28 of the jaws, 58.5, and 2
// for the saw, 60.5; it wants 20 + 1 to clean up, and where none serves it is 21.
func TestBarOnHand(t *testing.T) {
	bush := "material: tin-bronze\nround:\n  profile: [[0, 20], [24, 20]]\n" +
		"  bores: [{from: left, dia: 12, through: true}]\n"
	const thick = "{round: 40, material: M}, "
	for _, tc := range []struct{ name, rack, want, why string }{
		{"the thinner", thick + "{round: 22, material: M}", "22 mm", "serves (stock): 22 mm round; the"},
		{"long enough", thick + "{round: 22, length: 60.5, material: M}", "22 mm", "22 mm round, 60.5 mm long; the"},
		{"not long enough", thick + "{round: 22, length: 60.4, material: M}", "40 mm", "40 mm round; the"},
		{"the offcut first", "{round: 22, material: M}, {round: 22, length: 70, material: M}", "22 mm", "70 mm"},
		{"another metal", thick + "{round: 22, material: brass}", "40 mm", "40 mm round; the"},
		{"enough to clean up", thick + "{round: 21, material: M}", "21 mm", "21 mm round"},
		{"not enough", thick + "{round: 20.9, material: M}", "40 mm", "40 mm round"},
		{"a tube within the bore", thick + "{tube: [22, 12], material: M}", "22 mm", "tube with 12 mm through it"},
		{"a tube beyond it", thick + "{tube: [22, 13], material: M}", "40 mm", "40 mm round"},
		{"a square and no four-jaw", thick + "{square: 22, material: M}", "40 mm", "40 mm round"},
		{"a hexagon", thick + "{hex: 22, material: M}", "22 mm", "22 mm hex"},
		{"none", "{round: 19, material: M}", "21 mm", "the largest turned diameter is 20 mm, and 1 mm"},
	} {
		s := loadShop(t, map[string]string{"parting_blade: 2": "parting_blade: 2\nstock: [" +
			strings.ReplaceAll(tc.rack, "M}", "tin-bronze}") + "]"})
		r := make1(t, parse(t, bush), s)
		b, got := r.Blank, ""
		if d := b.Diameter; d != nil {
			got = say.Of(*d).In(units.MM)
		} else {
			got = say.Of(*b.Across).In(units.MM)
		}
		why := b.Because.In(units.MM)
		if got != tc.want || !strings.Contains(why, tc.why) || len(r.Fails()) > 0 {
			t.Errorf("%s: %s, %s, by hand %s, %q; %v", tc.name, got, why, tc.want, tc.why, r.Fails())
		}
		named := make1(t, parse(t, strings.Replace(bush, "round:\n", "round:\n  stock: 38\n", 1)), s)
		if got := say.Of(*named.Blank.Diameter).In(units.MM); got != "38 mm" {
			t.Errorf("%s: the part says 38 mm, and it is %s", tc.name, got)
		}
	}
}

// The bars that are tried go by what they sweep: a square of 20 sweeps 20·1.414 = 28.28
// and stands behind a round of 28 and before one of 28.5, a hexagon of 20 sweeps 23.09.
func TestBarsInOrder(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  profile: [[0, 18], [30, 18]]\n")
	s := loadShop(t, map[string]string{"parting_blade: 2": "parting_blade: 2\n" +
		"stock: [{round: 28.5, material: brass}, " +
		"{square: 20, material: brass}, {hex: 20, material: brass}, {round: 28, material: brass}, " +
		"{round: 18, material: brass}]"})
	var got []string
	for _, b := range jobOf(t, p, s).bars() {
		got = append(got, say.Of(b.Stock).In(units.MM))
	}
	if want := []string{"20 mm hex", "28 mm round", "20 mm square", "28.5 mm round"}; !slices.Equal(got, want) {
		t.Errorf("%q, by hand %q", got, want)
	}
}

// A spacer of 20, 15 long, is parted off: 1 faced off, 15, 3 clear of the jaws, 2.5 for the
// blade and the 28 of the jaws, 49.5, and 2 for the saw. Five by themselves take 5 x 51.5 =
// 257.5. Where the bar goes through the chuck and the spindle the next piece is pulled out: it
// takes 15, 1 and the 2 of the blade, 18: 49.5 + 4 x 18 + 2 = 123.5.
//
// Each further piece is put in once then, not sawn too: 4 x 1 minutes less.
func TestFedBar(t *testing.T) {
	spacer := "material: tin-bronze\nquantity: 5\nround:\n  stock: 22\n  profile: [[0, 20], [15, 20]]\n" +
		"  bores: [{from: left, dia: 10, through: true}]\n"
	const bare = "max_rpm: 2000}"
	through := func(spindle, chuck string) map[string]string {
		change := map[string]string{}
		if spindle != "" {
			change["lathe:\n"] = "lathe:\n  spindle_bore: " + spindle + "\n"
		}
		if chuck != "" {
			change[bare] = "max_rpm: 2000, through: " + chuck + "}"
		}
		return change
	}
	batch := map[bool]float64{}
	for _, tc := range []struct {
		name, text string
		shop       map[string]string
		piece, bar string
		fed        bool
	}{
		{"fed", spacer, through("22", "22"), "18 mm", "123.5 mm", true},
		{"no spindle's bore is said", spacer, through("", "22"), "49.5 mm", "257.5 mm", false},
		{"no chuck's is", spacer, through("22", ""), "49.5 mm", "257.5 mm", false},
		{"too thick for the spindle", spacer, through("21.9", "30"), "49.5 mm", "257.5 mm", false},
		{"too thick for the chuck", spacer, through("30", "21.9"), "49.5 mm", "257.5 mm", false},
		{"one", strings.Replace(spacer, "quantity: 5", "quantity: 1", 1), through("22", "22"), "49.5 mm", "51.5 mm", false},
		{
			"a hole across", spacer + "  holes: [{at: 7, dia: 3, depth: 4}]\n", through("22", "22"), "49.5 mm", "257.5 mm",
			false,
		},
		{
			"a tube", strings.Replace(spacer, "stock: 22", "stock: {tube: [22, 8]}", 1), through("22", "22"), "18 mm",
			"123.5 mm", true,
		},
	} {
		r := make1(t, parse(t, tc.text), loadShop(t, tc.shop))
		if f := r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", tc.name, f)
		}
		b := r.Blank
		piece, bar := say.Of(*b.Length).In(units.MM), say.Of(*b.Bar).In(units.MM)
		if piece != tc.piece || bar != tc.bar || b.Fed != tc.fed {
			t.Errorf("%s: %s of %s, fed %v; by hand %s of %s, %v", tc.name, piece, bar, b.Fed, tc.piece, tc.bar, tc.fed)
		}
		if tc.name == "fed" || tc.name == "no chuck's is" {
			batch[tc.fed] = float64(r.Totals.Batch)
		}
		off, parted := "", 0
		for _, o := range r.Operations {
			if o.ID == partingOff {
				off, parted = card(o), parted+1
			}
		}
		said := strings.Contains(off, "next piece = 18 mm | loosen the jaws, pull the bar out so far against a stop, and "+
			"face it again: 4 times")
		if said != tc.fed || parted > 1 {
			t.Errorf("%s: %s", tc.name, off)
		}
	}
	if batch[false]-batch[true] != 4 {
		t.Errorf("%v, by hand 4 minutes less", batch)
	}
}

// A nut of 17 across its flats is made from a hexagon of 17 on hand, whose flats are its own,
// and not milled from a round of 25; one of 16.5 is, or where what is turned is thicker than
// the hexagon cleans up: 16 with 1.
func TestFlatsOnHand(t *testing.T) {
	bolt := func(across, head string) string {
		return "material: tin-bronze\nround:\n" +
			"  profile: [[0, " + across + "], [7, " + across + "], [7, " + head + "], [30, " + head + "]]\n" +
			"  facets: [{sides: 6, from: 0, to: 7, across: flats}]\n"
	}
	s := loadShop(t, map[string]string{"parting_blade: 2": "parting_blade: 2\n" +
		"stock: [{round: 25, material: tin-bronze}, {hex: 17, material: tin-bronze}]"})
	for _, tc := range []struct {
		across, head string
		own          bool
	}{{"17", "10", true}, {"17", "16", true}, {"17", "16.5", false}, {"16.5", "10", false}} {
		r := make1(t, parse(t, bolt(tc.across, tc.head)), s)
		if f := r.Fails(); len(f) > 0 || (r.Blank.Across != nil) != tc.own {
			t.Errorf("%s across, %s turned: %s; %v", tc.across, tc.head, r.Blank.Because.In(units.MM), f)
		}
	}
}
