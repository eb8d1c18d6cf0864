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
			"  profile: [[0, 30], [5, 30], [5, 14], [30, 10], [55, 14], [55, 30], [80, 30]]\n",
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

// A groove is cut with the tool that has to be ground least: one on hand where it passes, a
// point where the sides are steep. With the trail t, what stands behind the tip lies under
// t - 2 deg: the other side as drawn, at its own half angle where the bottom is sharp, and with
// a floor f and the depth h at atan(h / (f + h/tan a)), seen from the foot of the side that is
// cut.
func TestGroovesAreGroundFor(t *testing.T) {
	for _, tc := range []struct {
		name, profile string
		trail         float64
		blade         string
	}{
		// a cove of radius 8 on a chord of 12 is 8 - sqrt(64 - 36) = 2.71 deep, atan(2.71/6) = 24.3 deg from its bottom,
		// where a blade of 4 leaves 8 - sqrt(64 - 4) = 0.25, which is more than may be filed
		{"a cove", "[0, 30], [14, 30], [26, 30], [50, 30]]\n  arcs: [{from: 14, to: 26, radius: 8, bulge: in}", 30, "4"},
		{"20 deg, sharp", "[0, 40], [8, 40], [19, 32], [30, 40], [40, 40]", 30, "2"},                  // atan(4/11) = 20.0
		{"45 deg, sharp", "[0, 40], [8, 40], [13, 30], [18, 40], [26, 40]", 60, "2"},                  // 45 + 2 = 47
		{"60 deg, sharp", "[0, 40], [8, 40], [11, 29.6], [14, 40], [22, 40]", 75, "2"},                // atan(5.2/3) = 60.02
		{"68 deg, a floor of 4", "[0, 60], [6, 60], [10, 40], [14, 40], [18, 60], [24, 60]", 60, "2"}, // atan(10/8) = 51.3
	} {
		text := "material: brass\nround:\n  bores: [{from: right, dia: 10, through: true}]\n" +
			"  profile: [" + tc.profile + "]\n"
		r := make1(t, parse(t, text), loadShop(t, map[string]string{"parting_blade: 2": "parting_blade: " + tc.blade}))
		if f := r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", tc.name, f)
			continue
		}
		most := 0.0
		for _, o := range r.Operations {
			most = max(most, o.Tool.Trail.Deg())
		}
		if most != tc.trail {
			t.Errorf("%s: ground to trail by %g deg, %g wanted", tc.name, most, tc.trail)
		}
	}
}

// The steps of a waist leave metal everywhere, and a blade can stand there: at every tenth of
// a millimetre there is a stand of the blade, looked for in hundredths, in which it covers the
// place and under all of it the drawing is 0.1 mm smaller than the step.
func TestWaistSteps(t *testing.T) {
	const blade, leave = 2.0, 0.1 // the demo's parting blade
	for _, tc := range waistedParts {
		j := jobOf(t, parse(t, tc.text), loadShop(t, nil))
		drawn := func(z float64) (dia float64) {
			for _, x := range j.shape.Stretches {
				if from, to := x.From.MM(), x.To.MM(); from <= z && z <= to {
					dia = math.Max(dia, x.At(units.FromFloat(z)).Turned.MM())
				}
			}
			return dia
		}
		seen := false
		for _, w := range j.ways() {
			w.waist = true
			task := j.hold(w)
			c := task.chuckings[0]
			if !waisted(c) || len(roughWaists(task, c).ops) == 0 {
				continue
			}
			seen = true
			o := roughWaists(task, c).ops[0]
			o.Do(work.Bar(op.LenOf(j.shape.Length), task.blank.Span, op.LenOf(task.bar), 0, 0))
			for _, r := range o.Removes {
				steps := r.(work.Outside).Profile
				first, last := steps[0].Z.Length().MM(), steps[len(steps)-1].Z.Length().MM()
				for i := 0; i+1 < len(steps); i += 2 {
					dia := steps[i].Dia.Length().MM()
					for z := steps[i].Z.Length().MM() + 0.05; z < steps[i+1].Z.Length().MM(); z += 0.1 {
						if !bladeFits(z, dia-leave, blade, first, last, drawn) {
							t.Errorf("%s: at z %.2f no blade goes down to %.3f", tc.name, z, dia)
						}
					}
				}
			}
		}
		if !seen {
			t.Error(tc.name, " has no steps")
		}
	}
}

// bladeFits reports whether a blade stands somewhere between two places so that it covers z and
// nothing under it is drawn larger than that.
func bladeFits(z, most, blade, first, last float64, drawn func(float64) float64) bool {
	const hair = 1e-3
	for left := math.Max(first, z-blade); left <= math.Min(z, last-blade)+hair; left += 0.01 {
		clear := true
		for y := left + hair; y < left+blade && clear; y += 0.02 {
			clear = drawn(y) <= most+hair+0.01 // as far as the drawing rises in a hundredth
		}
		if clear {
			return true
		}
	}
	return false
}

// A cove close to the jaws is cut by a left-hand tool that hangs on the side of its post toward
// the headstock: with the post there it would stand (16 + 65) beside the tip, over jaws of 51
// in radius, which a tip at 12 in radius that stands 25 out of its post does not pass.
func TestCoveByTheJaws(t *testing.T) {
	for _, profile := range []string{
		"[[0, 30], [6, 30], [22, 30], [28, 30]]\n  arcs: [{from: 6, to: 22, radius: 12, bulge: in}]",
		"[[0, 24], [6, 24], [26, 24], [32, 24]]\n  arcs: [{from: 6, to: 26, radius: 20, bulge: in}]",
	} {
		r := make1(t, parse(t, "material: brass\nround:\n  profile: "+profile+"\n"), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 || r.Totals.Setups > 2 {
			t.Errorf("%s: %d set-ups, %v", profile, r.Totals.Setups, f)
		}
	}
}
