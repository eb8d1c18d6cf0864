package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
)

// heldIn returns how the last step on the lathe is held.
func heldIn(r Result) string {
	text := ""
	for _, o := range r.Operations {
		if o.Machine == op.Lathe {
			text = holding(o.op.Setup).In(units.MM)
		}
	}
	return text
}

// A collet holds what is too short for the chuck, by hand: a neck of 6, 7.5 long. The
// chuck wants max(8, 0.6·6) = 8 of it, a collet 1·6 = 6, and both 1 clear: 9 and 7. It is
// bored at both ends, so it is turned end for end; 7.5 - 6 = 1.5 of the neck stand out. An arbor
// in a blind bore is no thinner than a stub.
//
// Where both serve, on a neck of 10, the collet saves a regrip: the bar goes from the saw
// into the chuck, 1, and the neck into the chuck, 2. It holds 20 at the most, 3 clear of
// the jaws: of 30 of neck z 7 to 27. Of the 6 it holds 6.04, since that may come out a line over.
func TestCollet(t *testing.T) {
	none := map[string]string{"  collets: ER32\n": ""}
	text := func(profile string) string {
		return "material: brass\nround:\n  profile: " + profile + "\n" +
			"  bores: [{from: left, dia: 3, depth: 5}, {from: right, dia: 5, depth: 10}]\n"
	}
	short := parse(t, text("[[0, 6], [7.5, 6], [7.5, 14], [20, 16]]"))
	long := parse(t, text("[[0, 10], [30, 10], [30, 14], [70, 20]]"))
	r := make1(t, short, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Errorf("in a collet: %v", f)
	}
	want := "collet on the 6 mm cylinder, z 0 mm to 7.5 mm, jaws from z 0 mm to 6.04 mm, right end out"
	if got := heldIn(r); !strings.HasPrefix(got, want) {
		t.Errorf("short: %s, by hand %s", got, want)
	}
	if r = make1(t, short, loadShop(t, none)); len(r.Fails()) == 0 {
		t.Errorf("without a collet: %s", heldIn(r))
	}
	r = make1(t, long, loadShop(t, nil))
	want = "collet on the 10 mm cylinder, z 0 mm to 30 mm, jaws from z 7 mm to 27 mm, right end out"
	if got := heldIn(r); !strings.HasPrefix(got, want) || r.Totals.Regrips != 1 || len(r.Fails()) > 0 {
		t.Errorf("long: %s, %d regrips, %v, by hand %s", got, r.Totals.Regrips, r.Fails(), want)
	}
	if r = make1(t, long, loadShop(t, none)); r.Totals.Regrips != 2 || len(r.Fails()) > 0 {
		t.Errorf("without a collet: %d regrips, %v", r.Totals.Regrips, r.Fails())
	}
}

// A square bar is held in four jaws, a hexagon in three: 4 is no multiple of 3, 6 is. What
// is owned decides: no four-jaw, no plan.
func TestFourJaw(t *testing.T) {
	four := map[string]string{"lathe:\n": "lathe:\n  four_jaw: {diameter: 125, jaw_length: 30}\n"}
	fours := map[string]string{"jaws: 3": "jaws: 4"}
	for _, tc := range []struct {
		bar, want string
		edit      map[string]string
	}{
		{"{square: 20}", "four-jaw chuck on the bar as bought", four},
		{"{square: 20}", "", nil},
		{"{square: 20}", "chuck on the bar as bought", fours},
		{"{hex: 20}", "chuck on the bar as bought", four},
		{"20", "chuck on the bar as bought", four},
	} {
		p := parse(t, "material: aluminium\nround:\n  stock: "+tc.bar+"\n  profile: [[0, 18], [40, 18]]\n")
		r := make1(t, p, loadShop(t, tc.edit))
		if tc.want == "" {
			if f := r.Refused; len(f) == 0 || f[0].Code != problem.GripSurface {
				t.Errorf("%s without a four-jaw: %v", tc.bar, f)
			}
			continue
		}
		if got := holding(r.Operations[1].op.Setup).In(units.MM); !strings.HasPrefix(got, tc.want) || len(r.Fails()) > 0 {
			t.Errorf("%s is held: %s, want %s; %v", tc.bar, got, tc.want, r.Fails())
		}
	}
}

// Without a chuck the bar is held in the four-jaw, and without that in a collet that takes
// it: a bar of 13 in ER32, which holds 2 to 20, and not one of 25.
func TestNoChuck(t *testing.T) {
	bush := func(dia string) string {
		return "material: brass\nround:\n  profile: [[0, " + dia + "], [20, " + dia + "]]\n"
	}
	without := func(s *shop.Shop) *shop.Shop {
		s.Lathe.Chuck = nil
		return s
	}
	four := map[string]string{"lathe:\n": "lathe:\n  four_jaw: {diameter: 125, jaw_length: 30}\n"}
	for _, tc := range []struct {
		dia, want string
		edit      map[string]string
	}{
		{"12", "four-jaw chuck on the bar as bought, jaws from z 25.5 mm to 55.5 mm, left end out", four},
		{"12", "collet on the bar as bought, jaws from z 25.5 mm to 45.5 mm, left end out", nil},
		{"24", "", nil},
	} {
		r := make1(t, parse(t, bush(tc.dia)), without(loadShop(t, tc.edit)))
		if tc.want == "" {
			lacks := func(f Refusal) bool { return f.Code == problem.NotAvailable }
			if !slices.ContainsFunc(r.Refused, lacks) {
				t.Errorf("%s mm without a chuck: %v", tc.dia, r.Refused)
			}
			continue
		}
		if got := heldIn(r); got != tc.want || len(r.Fails()) > 0 {
			t.Errorf("%s mm: %s, want %s; %v", tc.dia, got, tc.want, r.Fails())
		}
	}
}
