package plan

import (
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/files"
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

// What costs less is taken, and no sheet turns down what could as well be taken. By hand: a tube of 30
// is sawn, faced, bored, turned and parted on a neck in one grip, 2 set-ups, where its drill is a long
// one anyhow; a collet of 18 holds what is all turned from one end, so that no cut is made twice over,
// 13 min less; a rod of 6 is held in the collet of 6 on its other end, its taper a light cut instead
// of one by the file, 5 set-ups; a shaft, and a pin with a hole at each end, are parted at that end
// from which less is cut away last.
func TestWhatCostsLessIsTaken(t *testing.T) {
	type row struct {
		text, shop string
		setups     int
		minutes    float64
	}
	rows := []row{
		{"material: aluminium-6082\nround:\n  profile: [[0, 30], [150, 30]]\n" +
			"  bores: [{from: left, dia: 20, through: true, tol: 0.1}]\n", "", 2, 49},
		{"material: medium-carbon-steel\nround:\n  profile: [[0, 16], [15, 16], [15, 18], [55, 18], [68, 26], [72, 26]]\n" +
			"  bores: [{from: right, dia: 8, through: true, fit: H7}, {from: left, dia: 12, depth: 40}]\n" +
			"  threads: [{from: left, spec: M16x1.5, length: 12}]\n" +
			"  limits: [{at: 30, fit: h6}, {from: 55, to: 68, angle: 10'}]\n", "", 6, 150},
		{"material: silver-steel\nround:\n  stock: 6\n  profile: [[0, 6], [118, 6], [151, 4]]\n" +
			"  facets: [{sides: 6, from: 15, to: 108, across: corners}]\n", "shop-small", 5, 62},
		{"material: silver-steel\nround:\n  profile: [[0, 30], [41, 30], [41, 35], [56, 35]]\n" +
			"  holes: [{at: 42, dia: 9}]\n", "shop-big", 4, 93},
	}
	for _, x := range rows {
		s := loadShop(t, nil)
		if x.shop != "" {
			name := filepath.Join("judge", "testdata", "parts", "shops", x.shop+".yaml")
			var err error
			if s, _, err = files.ReadShop(name, readFile(t, name)); err != nil {
				t.Fatal(err)
			}
		}
		r := make1(t, parse(t, x.text), s)
		if f := r.Fails(); len(f) > 0 || r.Totals.Setups > x.setups || float64(r.Totals.Minutes) > x.minutes {
			t.Errorf("%s: %d set-ups, %v min, %v", x.text, r.Totals.Setups, r.Totals.Minutes, f)
		}
		for _, y := range r.otherHolds(r.found) {
			if y.No == cheaper {
				t.Errorf("%s: %s comes to less", x.text, y.What)
			}
		}
	}
}
