package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
)

// A pin of 20 h6 may be 19.987 to 20. The dial of this cross slide has a line every 0.02, 0.04 on the
// diameter, and what is cut on it is told to 0.005 + 0.02 = 0.025, more than the 0.0065 either way: it
// is no fit of a dial. The tool goes in from 20.4 to the last line that even so is not under 19.987,
// that is not past 20.017: 0.1915 to go, 0.18 to 20.04, which leaves 0.046; and the file and the paper
// go on to the middle, 19.9935 by whole thousandths 19.994, which a reading of 0.005 either way keeps
// between 19.992 and 19.995.
func TestAFitIsFiled(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 20], [30, 20]]\n"+
		"  limits: [{at: 10, fit: h6}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	for id, list := range map[string][]string{
		"turn-z0": {
			"leave = 0.046 mm | on diameter",
			"in from 20.4 mm as measured after roughing: 0.192 mm -> 0.18 mm 0 turns + 9 div",
			"20.04]",
		},
		"polish-z0": {
			"speed = as turned | the tool well back\n", "take = 0.046 mm | on diameter",
			// the window of 0.013 less twice 0.005 is narrower than the reading is told
			"measure = 19.994 mm | by micrometer, cold, all along, as near as it can be read: " +
				"that keeps 19.987 mm to 20 mm with a reading that is 0.005 mm off\n",
			`"profile":[[0,19.994],[30,19.994]]`,
		},
	} {
		got := card(op1(t, r, id))
		for _, want := range list {
			if !strings.Contains(got, want) {
				t.Errorf("%s: want %q in\n%s", id, want, got)
			}
		}
	}
	i := slices.IndexFunc(r.Predicted, func(p op.Predicted) bool { return p.Kind == limits.Diameter })
	if p := r.Predicted[i]; p.Out.MM() != 19.994 || p.Told.MM() != 0.005 || !p.OK() {
		t.Errorf("%+v", p)
	}
}

// A fit that a reading of 0.005 either way does not tell, 8 js5 of 0.006, is a no: nothing on hand
// keeps it. The limits are 0.003 either way.
func TestAFitThatNoMicrometerTells(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 8], [16, 8], [16, 14], [40, 14]]\n"+
		"  limits: [{at: 8, fit: js5}]\n"), loadShop(t, nil))
	for _, f := range r.Refused {
		if f.Code == problem.OutOfLimits && strings.Contains(f.Reason.In(units.MM), "mm either way") {
			return
		}
	}
	t.Error(codes(r))
}

// A cylinder of 20.02 with the general 0.2 either way, from 20.42: 0.2 to go, ten lines, come to 20.02.
// One of 20.01 from 20.41 rough as measured is 0.2 too; from 20.4 to 20.01 are 0.195, and the last line
// that is not past it is 0.18, 20.04 and not 20.00.
func TestACylinderFallsShort(t *testing.T) {
	j := jobOf(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 20], [30, 20]]\n"), loadShop(t, nil))
	task := &task{job: j}
	for _, tc := range []struct{ start, drawn, low, high, out string }{
		{"20.42mm", "20.02mm", "19.82mm", "20.22mm", "20.02"},
		{"20.4mm", "20.01mm", "19.81mm", "20.21mm", "20.04"},
		{"20.4mm", "20.01mm", "19.97mm", "20.05mm", "20"},     // 20.04 with 0.025 is over it, 20 with 0.025 is not under
		{"20.4mm", "20.01mm", "20.01mm", "20.08mm", "20.04"},  // a limit that lies above what is drawn
		{"20.4mm", "20.01mm", "19.93mm", "19.985mm", "19.96"}, // one below: its middle is 19.9575
	} {
		d := limits.Dimension{Kind: limits.Diameter, Low: units.MustLength(tc.low), High: units.MustLength(tc.high)}
		start := units.MustLength(tc.start)
		last := task.lastCut([]kept{{d, ""}}, start, units.MustLength(tc.drawn))
		var o op.Op
		out := start.Minus(last.set(&o, "in", j.Shop.Lathe.CrossSlide, start).Times(2))
		if fmt.Sprint(out.MM()) != tc.out {
			t.Errorf("%+v: comes to %v", tc, out.MM())
		}
	}
}

// The slow way: of all lines of the dial those that keep the limits with half a division of the radius
// and the micrometer off, either way. Where there is one, the cut is set on such a line; and where
// nothing says that a file may be wanted, there is one, whatever the start.
func TestLinesThatKeepASize(t *testing.T) {
	j := jobOf(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 20], [30, 20]]\n"), loadShop(t, nil))
	task := &task{job: j}
	const line, off = 0.02, 0.005 + 0.02
	rapid.Check(t, func(t *rapid.T) {
		micron := func(name string, from, to int64) units.Length {
			return units.FromFloat(float64(rapid.Int64Range(from, to).Draw(t, name)) / 1000)
		}
		drawn := micron("drawn", 10000, 30000)
		start := drawn.Plus(micron("more", 300, 900))
		low := drawn.Minus(micron("under", 0, 120))
		high := low.Plus(micron("wide", 1, 200))
		if high.Less(drawn.Minus(micron("most", 0, 60))) {
			t.Skip("a fit that lies far under")
		}
		d := limits.Dimension{Kind: limits.Diameter, Low: low, High: high}
		keeps := func(out float64) bool { return out-off >= low.MM()-1e-9 && out+off <= high.MM()+1e-9 }
		any := false
		for n := range 200 {
			any = any || keeps(start.MM()-2*line*float64(n))
		}
		list := []kept{{d, ""}}
		last := task.lastCut(list, start, drawn)
		var o op.Op
		out := start.Minus(last.set(&o, "in", j.Shop.Lathe.CrossSlide, start).Times(2)).MM()
		if n := (start.MM() - out) / (2 * line); math.Abs(n-math.Round(n)) > 1e-6 {
			t.Fatalf("%v is on no line from %v", out, start.MM())
		}
		if any && !keeps(out) {
			t.Fatalf("a line keeps %v to %v, and it is cut to %v", low.MM(), high.MM(), out)
		}
		if !any && !task.byHandToo(list) {
			t.Fatalf("no line keeps %v to %v, and nothing is filed", low.MM(), high.MM())
		}
	})
}

// The reading that a file stops at: f7 on 14, 13.966 to 13.984, by 0.005 leaves 13.971 to 13.979, 0.008
// wide; h6 on 12, 11.989 to 12, leaves 0.001, and the middle 11.9945 is told.
func TestReadsTo(t *testing.T) {
	for _, tc := range []struct{ low, high, want string }{
		{"13.966mm", "13.984mm", "13.971 mm to 13.979 mm by micrometer, cold, all along: that keeps 13.966 mm to 13.984 mm"},
		{
			"11.989mm", "12mm",
			"11.995 mm by micrometer, cold, all along, as near as it can be read: that keeps 11.989 mm to 12 mm",
		},
	} {
		o := &op.Op{}
		reads(o, units.MustLength(tc.low), units.MustLength(tc.high), units.MustLength("0.005mm"))
		got := say.Of(o.Settings[0].Value, " ", o.Settings[0].Say).In(units.MM)
		if got != tc.want+" with a reading that is 0.005 mm off" {
			t.Errorf("%s", got)
		}
	}
}

// A neck beside a seat that is turned to be filed: what stands there was measured after that step, and
// not after roughing, which left the flange beside it.
func TestMeasuredAfterTheStepThatCutIt(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n"+
		"  profile: [[0, 12.7], [19, 12.7], [19, 10], [21.5, 10], [21.5, 19], [28, 19], [28, 10], [48, 10]]\n"+
		"  threads: [{from: right, spec: M10x1, length: 15}]\n  holes: [{at: 4, dia: 2.4}]\n"+
		"  limits: [{at: 8, fit: f7}]\n  chamfers: [{at: 0, size: 1.5}]\n"), loadShop(t, nil))
	turned, neck := op1(t, r, "turn-z0"), op1(t, r, "turn-z19")
	want := fmt.Sprintf("as measured after step %d", turned.N)
	if got := card(neck); !strings.Contains(got, want) {
		t.Errorf("not %q in\n%s", want, got)
	}
}
