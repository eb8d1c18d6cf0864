package plan

import (
	"math"
	"slices"
	"testing"

	"setover/setup/base/units"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// waistedParts are parts with a waist that no tool with a hand gets into from either end.
var waistedParts = []struct{ name, text string }{
	{
		"two tapers in a valley", "material: brass\nround:\n" +
			"  profile: [[0, 30], [5, 30], [5, 14], [30, 10], [55, 14], [55, 30], [60, 30]]\n",
	},
	{
		"a groove for a rope", "material: mild-steel\nround:\n" +
			"  profile: [[0, 40], [10, 40], [30, 34], [50, 40], [60, 40]]\n  bores: [{from: right, dia: 10, through: true}]\n",
	},
	{
		"a V", "material: mild-steel\nround:\n" +
			"  profile: [[0, 40], [8, 40], [18, 30], [28, 40], [36, 40]]\n  bores: [{from: right, dia: 10, through: true}]\n",
	},
}

// A waist is roughed to steps before its sides are finished, and everything says yes to it.
func TestWaist(t *testing.T) {
	for _, tc := range waistedParts {
		r := make1(t, parse(t, tc.text), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", tc.name, f)
			continue
		}
		rough := slices.IndexFunc(r.Operations, func(o Operation) bool { return o.op.Rough && o.Tool.Hand == op.Form })
		taper := slices.IndexFunc(r.Operations, func(o Operation) bool { return o.Kind == op.Taper })
		bar := slices.IndexFunc(r.Operations, func(o Operation) bool { return o.op.Rough && o.Tool.Hand == op.Right })
		if bar < 0 || rough < bar || taper < rough {
			t.Errorf("%s: the bar is roughed at %d, the waist at %d, the first taper cut at %d", tc.name, bar, rough, taper)
		}
	}
}

// The steps of a waist leave metal everywhere, as little as is left for finishing at the thick
// end of each, and a tool whose edge trails by 8 or by 30 deg passes over them: looked at from
// the bottom of the valley, and from every hundredth of a millimetre up its own side to the
// other, none of the other side's stands above the line of the edge, 2 deg less, by more than
// the 0.2 mm a side that an edge takes as it grazes.
func TestWaistSteps(t *testing.T) {
	for _, tc := range waistedParts {
		part := parse(t, tc.text)
		j := jobOf(t, part, loadShop(t, nil))
		shape := j.shape
		drawn := func(z float64) float64 {
			for _, x := range shape.Stretches {
				if from, to := x.From.MM(), x.To.MM(); from <= z && z <= to {
					return x.At(units.FromFloat(z)).Turned.MM()
				}
			}
			return 0
		}
		for _, w := range j.ways() {
			w.waist = true
			task := j.hold(w)
			c := task.chuckings[0]
			if !waisted(c) {
				continue
			}
			ops := roughWaists(task, c).ops
			if len(ops) == 0 {
				t.Fatal(tc.name, " has no steps")
			}
			ops[0].Do(work.Bar(op.LenOf(shape.Length), task.blank.Span, op.LenOf(task.bar), 0, 0))
			steps := ops[0].Removes[0].(work.Outside).Profile
			for i := 0; i+1 < len(steps); i += 2 {
				a, b, dia := steps[i].Z.Length().MM(), steps[i+1].Z.Length().MM(), steps[i].Dia.Length().MM()
				most := math.Max(drawn(a+1e-6), drawn(b-1e-6))
				if left := dia - most; left < 0.1-1e-6 || left > 0.1+0.04+1e-6 {
					t.Errorf("%s: %.3f is left of z %.2f to %.2f, wanted 0.1 and up to a line more", tc.name, left, a, b)
				}
				overEdge(t, tc.name, steps, i, drawn)
			}
			break
		}
	}
}

// overEdge looks from each place of a side at the steps of the other side of a valley.
func overEdge(t *testing.T, name string, steps []work.Point, i int, drawn func(float64) float64) {
	t.Helper()
	a, b := steps[i].Z.Length().MM(), steps[i+1].Z.Length().MM()
	slope := math.Abs(drawn(b-1e-6)-drawn(a+1e-6)) / 2 / (b - a)
	line := 8.0
	if slope >= math.Tan(6*math.Pi/180) {
		line = 30
	}
	low := a // the near corner, toward the bottom of the valley
	if drawn(b-1e-6) < drawn(a+1e-6) {
		low = b
	}
	bottom := low
	for _, way := range []float64{1, -1} { // downhill to the valley
		for z := low; drawn(z+way*0.01) < drawn(z) && drawn(z+way*0.01) > 0; z += way * 0.01 {
			bottom = z + way*0.01
		}
	}
	far := math.Abs(low - bottom)
	above := (steps[i].Dia.Length().MM() - drawn(bottom)) / 2
	if most := 0.2 + far*math.Tan((line-2)*math.Pi/180); above > most+0.01 {
		t.Errorf("%s: the step at z %.2f stands %.3f above the valley, %.3f from it: at most %.3f",
			name, low, above, far, most)
	}
}
