package plan

import (
	"fmt"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
)

// stepNamed returns the step whose name begins so, nil where there is none.
func stepNamed(r Result, name string) *op.Op {
	for _, o := range r.Operations {
		if strings.HasPrefix(o.Name.In(units.MM), name) {
			return o.op
		}
	}
	return nil
}

// noted returns what a setting is set to and its remark.
func noted(o *op.Op, name string) string {
	for _, s := range o.Settings {
		if s.Name.In(units.MM) == name {
			mm, _ := s.Value.Words()
			return mm + " " + s.Say.In(units.MM)
		}
	}
	return ""
}

// A fit of 18 or 21 um is kept by no drill, which scatters 0.07, and on no line of a dial of 0.04 on
// diameter that is told to 0.01 by the gauge and 0.02 by the eye, whatever the size is by luck: it is
// bored so that it may be 0.03 larger and is still within, and lapped to a plug of the low limit and
// 0.005. By hand, of 16: 19/32 in is 15.081, and cuts 0.13 more, 15.211; (16.018 - 0.03 - 15.211) /
// 0.04 is 19.4, so 19 lines: 15.971.
func TestFitOfABore(t *testing.T) {
	for _, tc := range []struct{ dia, bored, lapped string }{
		{"11", "", "11.005 mm"},
		{"13", "", "13.005 mm"},
		{"16", "15.971 mm", "16.005 mm"},
		{"19", "", "19.005 mm"},
		{"21", "", "21.005 mm"},
		{"26", "", "26.005 mm"},
		{"30", "", "30.005 mm"},
	} {
		r := make1(t, brass(t, fmt.Sprintf("  stock: 50\n  profile: [[0, 45], [20, 45]]\n"+
			"  bores: [{from: left, dia: %s, through: true, fit: H7}]\n", tc.dia)), loadShop(t, nil))
		honest(t, r)
		if len(r.Fails()) > 0 {
			t.Errorf("%s H7: %v", tc.dia, r.Fails())
			continue
		}
		if o := stepNamed(r, "lap the bore to "+tc.lapped); o == nil {
			t.Errorf("%s H7: it is not lapped to %s", tc.dia, tc.lapped)
		}
		if tc.bored != "" && stepNamed(r, "bore to "+tc.bored+", to be lapped") == nil {
			t.Errorf("%s H7: it is not bored to %s first", tc.dia, tc.bored)
		}
		for _, p := range r.Predicted {
			if p.Feature == "bore-1" && p.Told.MM() != 0.005 {
				t.Errorf("%s H7: told to %v", tc.dia, p.Told.MM())
			}
		}
	}
}

// A cross hole of 8 H7 in a bar of 20, which stands upright in the V-blocks and is narrower than
// 20·sin 45 = 14.1, is reamed where it was drilled; one of 7 without a reamer is no, and what helps
// is a reamer and no drill.
func TestFitOfACrossHole(t *testing.T) {
	for dia, want := range map[string]string{"8": "", "7": "a reamer of 7 mm (reamers)"} {
		r := make1(t, brass(t, "  stock: 20\n  profile: [[0, 18], [40, 18]]\n"+
			"  holes:\n    - {at: 20, dia: "+dia+", fit: H7}\n"), loadShop(t, nil))
		honest(t, r)
		if want == "" {
			if len(r.Fails()) > 0 || stepNamed(r, "ream to 8 mm across") == nil {
				t.Errorf("%s H7: %v", dia, told(r))
			}
			continue
		}
		if list := strings.Join(told(r), "; "); !strings.Contains(list, want) || strings.Contains(list, "a drill of") {
			t.Errorf("%s H7: %s", dia, list)
		}
	}
}

// A single point goes no faster than a hand draws it out in its second: with 3.75 mm behind a pitch of
// 1.25, of which the tool takes a pitch, 60·(3.75 - 1.25)/1.25 is 120 rpm; with 1.5 mm behind one of
// 1.5 nothing is left, and the spindle is wound by hand. A die and a tap have no speed at all.
func TestSpeedOfAThread(t *testing.T) {
	r := make1(t, brass(t, "  stock: 30\n  profile: [[0, 28], [20, 28], [20, 10], [40, 10]]\n"+
		"  threads: [{from: right, spec: M10x1.25, length: 12}]\n"), loadShop(t, nil))
	o := stepNamed(r, "cut M10x1.25 with a single point")
	if o == nil {
		t.Fatal("it is not cut with a single point")
	}
	if got := noted(o, "speed"); !strings.HasPrefix(got, "120 rpm ") {
		t.Errorf("speed: %s", got)
	}
	for _, name := range []string{"thread depth", "infeed", "passes", "half-nuts"} {
		if noted(o, name) == "" {
			t.Errorf("the card does not say its %s", name)
		}
	}
	// With 2 mm behind it 60·0.5/1.5 is 20 rpm, and the lathe has no less than 120.
	for _, end := range []string{"36.5", "39"} {
		r = make1(t, brass(t, "  stock: 30\n  profile: [[0, 28], [20, 28], [20, 14], ["+end+", 14]]\n"+
			"  threads: [{from: right, spec: M14x1.5, length: 15}]\n"), loadShop(t, nil))
		if o = stepNamed(r, "cut M14x1.5 with a single point"); o == nil {
			t.Fatal("it is not cut with a single point")
		}
		if got := noted(o, "speed"); !strings.HasPrefix(got, "by hand ") {
			t.Errorf("speed: %s", got)
		}
	}
	r = make1(t, brass(t, "  stock: 30\n  profile: [[0, 28], [20, 28], [20, 6], [40, 6]]\n"+
		"  bores: [{from: left, dia: 5, depth: 15}]\n"+
		"  threads: [{from: right, spec: M6, length: 12}, {from: left, spec: M6, depth: 10, inside: true}]\n"),
		loadShop(t, nil))
	for _, name := range []string{"cut M6 with the die", "tap M6"} {
		switch o = stepNamed(r, name); {
		case o == nil:
			t.Errorf("%s is not there", name)
		case noted(o, "speed") != "" || !strings.HasPrefix(noted(o, "turn"), "by hand "):
			t.Errorf("%s: speed %q, turn %q", name, noted(o, "speed"), noted(o, "turn"))
		}
	}
}

// What is left for the file is what the dial makes of it: of 16 p6, 16.018 to 16.029, a line that is
// told to 0.025 and read to 0.005 may be no less than 16.048; from 24.4 in 0.04 on diameter that is
// 16.08, and 16.024 is what it is polished to: 0.056.
func TestLeftForTheFile(t *testing.T) {
	r := make1(t, brass(t, "  stock: 25\n  profile: [[0, 24], [4, 24], [4, 16], [24, 16]]\n"+
		"  limits: [{at: 14, fit: p6}]\n"), loadShop(t, nil))
	o := stepNamed(r, "turn 16.08 mm over z 4 mm to 24 mm, to be filed")
	if o == nil {
		t.Fatal("it is not turned to 16.08 first")
	}
	if got := noted(o, "leave"); !strings.HasPrefix(got, "0.056 mm ") {
		t.Errorf("leave %s", got)
	}
}

// 1/2 in h6 is 12.689 to 12.700: the middle is 12.6945, and a reading that is 0.0002 in (0.00508) off
// keeps 12.68942 to 12.69958. The whole thousandth beside it, 12.695, may be 12.70008. Of 12.68 to 12.7
// the middle is round, and of 12.6 to 12.8 what is drawn is kept.
func TestPolishedToTheMiddle(t *testing.T) {
	s := loadShop(t, nil)
	slide := *s.Lathe.CrossSlide
	slide.Unit = units.Inch
	s.Lathe.CrossSlide = &slide
	for _, tc := range []struct{ low, high, want string }{
		{"12.689mm", "12.7mm", "12.6945mm"}, {"12.68mm", "12.7mm", "12.69mm"}, {"12.6mm", "12.8mm", "12.7mm"},
	} {
		d := kept{Dimension: limits.Dimension{Low: units.MustLength(tc.low), High: units.MustLength(tc.high)}}
		x := &task{job: &job{Input: Input{Shop: s}}}
		if got := x.polishTo([]kept{d}, units.MustLength("12.7mm")); !got.Equal(units.MustLength(tc.want)) {
			t.Errorf("%s to %s: %s", tc.low, tc.high, got.Decimal())
		}
	}
}
