package plan

import (
	"strings"
	"testing"

	"setover/setup/base/units"
)

// What was turned down: each other method of a step's feature and each other hold is
// planned, and costs what it says or does not pass for the reason that is said. A bore of 8
// is reamed in the demo's shop; else it is drilled, which does not keep H7, or begun at the
// other end. None is the plan itself.
func TestInstead(t *testing.T) {
	r := make1(t, parse(t, "material: brass\nround:\n  profile: [[0, 20], [40, 20], [40, 30], [70, 30]]\n"+
		"  bores: [{from: left, dia: 8, through: true, fit: H7}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	w, err := r.Why(step1(t, r, "bore-1-ream").N)
	if err != nil {
		t.Fatal(err)
	}
	var bored, held int
	for _, x := range w.Instead {
		switch what := x.What.In(units.MM); {
		case strings.Contains(what, " end first"):
			held++
		case strings.Contains(what, "bore to 7.9") || strings.Contains(what, "drill 8 mm"):
			bored++
		}
		if x.No == "" || x.Setups != nil && (*x.Setups < 0 || *x.Setups == 0 && *x.Regrips < 0) {
			t.Errorf("%s passes and is cheaper: %+v", x.What, x)
		}
	}
	if bored == 0 || held == 0 {
		t.Errorf("%d other methods, %d other holds: %+v", bored, held, w.Instead)
	}
}

// A sleeve of 33 with a bore of 12, 125 long, is drilled from both ends: the drill of 12 is fluted for
// 101. Parted off the bar it would be drilled from one, and that it comes to less is no riddle: it
// wants a long drill. A rule that ties a step to several is told once, with their numbers.
func TestWhatWantsALongDrill(t *testing.T) {
	r := make1(t, parse(t, "material: free-cutting-brass\nround:\n  profile: [[0, 33], [125, 33]]\n"+
		"  bores: [{from: right, dia: 12, through: true}]\n"), loadShop(t, nil))
	w, err := r.Why(len(r.Operations))
	if err != nil {
		t.Fatal(err)
	}
	parted := 0
	for _, x := range w.Instead {
		if strings.Contains(x.What.In(units.MM), "parted off the bar") {
			parted++
			if got := x.No.In(units.MM); !strings.HasSuffix(got, "its bore of 12 mm wants a long drill from one end") {
				t.Errorf("%s: %s", x.What, got)
			}
		}
		if x.No == cheaper {
			t.Errorf("%s: %s", x.What, x.No)
		}
	}
	if parted == 0 {
		t.Errorf("it is not parted: %+v", w.Instead)
	}
	told := map[string]int{}
	for _, b := range w.together() {
		if told[b.Code]++; told[b.Code] > 1 {
			t.Errorf("%s is told again", b.Code)
		}
	}
}
