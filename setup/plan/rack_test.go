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
