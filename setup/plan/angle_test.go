package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
	"setover/tapers/swivel"
)

// The least trouble that keeps the limit, by hand, on a scale of half degrees, a
// slide of 75 mm and a cross slide of 0.02 mm a line, which is left free:
//
//   - from 40 to 20 over 40, atan(10/40) = 14.036 deg: the mark of 14 leaves 40 -
//     80·tan 14 = 20.054, within 0.2 of 20;
//   - to 19.682, 14.25 deg: the marks beside it are off by 80·(tan 14.5 - tan
//     14.25) = 0.372; an eighth of a step more or less than 14.25 is 80·(tan 14.3125
//   - tan 14.25) = 0.093, within 0.2;
//   - with 0.06 either way: 20·sin 14.25 = 4.923, read as 4.92, is 14.241 deg, and
//     half a hundredth more or less 0.0148 deg: 80·1.0645·(0.009 + 0.0148)·π/180 =
//     0.035, and 0.02 for the dial;
//   - with 0.03: over 73 mm 17.969, read as 17.97, is 0.0007 and 0.0041 deg off:
//     0.007 mm and the dial's 0.02;
//   - Morse 2, half angle 1.4307 to 1.4355 deg, 0.0024 either way: half a hundredth
//     over 73 mm is 0.0039, too much. On the sine bar 100·sin 1.4331 = 2.501: the
//     blocks make 2.5, 0.0005 deg off, and 0.002 over 73 mm is 0.0016;
//   - a side of 2 mm from 20 to 19, 14.036 deg: a form tool of 14 deg, unless the
//     angle may be off by 2' only, 0.033 deg; 20·sin 14.036 = 4.851, read as 4.85,
//     is 14.034.
func TestAngleMethod(t *testing.T) {
	cone := "profile: [[0, 40], [40, 40], [80, 19.682]]\n"
	for _, tc := range []struct {
		name, profile string
		method        swivel.Method
		card          string
	}{
		{"a mark", "profile: [[0, 40], [40, 40], [80, 20]]\n", swivel.ByMark, "compound = 14 deg on the scale"},
		{"between", cone, swivel.BetweenMarks, "compound = 14.25 deg on the scale, between marks by eye"},
		{
			"indicator", cone + "  limits: [{at: 80, tol: 0.06}]\n",
			swivel.ByIndicator, "indicator = 4.92 mm (its plunger square to the axis, while the slide goes 20 mm",
		},
		{
			"further", cone + "  limits: [{at: 80, tol: 0.03}]\n",
			swivel.ByIndicator, "indicator = 17.97 mm (its plunger square to the axis, while the slide goes 73 mm",
		},
		{
			"Morse 2", "profile: [[0, 17.78], [40, 15.782], [40, 12], [80, 12]]\n  limits: [{from: 0, to: 40, gauge: MT2}]\n",
			swivel.BySineBar, "sine bar = 2.5 mm of blocks (wring 1.2 + 1.3 mm, under the headstock-side roll",
		},
		{"form tool", "profile: [[0, 20], [40, 20], [42, 19]]\n", "", "method = form tool"},
		{
			"not by form tool", "profile: [[0, 20], [40, 20], [42, 19]]\n  limits: [{from: 40, to: 42, angle: 2'}]\n",
			swivel.ByIndicator, "indicator = 4.85 mm (its plunger square to the axis, while the slide goes 20 mm",
		},
	} {
		r := make1(t, parse(t, "material: brass\nround:\n  stock: 42\n  "+tc.profile), loadShop(t, nil))
		for _, o := range r.Operations {
			if o.Kind != op.Taper {
				continue
			}
			if text := settings(o); o.op.Stands.Method != tc.method || !strings.Contains(text, tc.card) {
				t.Errorf("%s: by %s, by hand %s with %s:\n%s", tc.name, o.op.Stands.Method, tc.method, tc.card, text)
			}
		}
		for _, p := range r.Predicted {
			if !p.OK() {
				t.Errorf("%s: %s", tc.name, offLimits(p, ""))
			}
		}
	}
}

// settings writes a card's settings as lines.
func settings(o Operation) string {
	var list []string
	for _, s := range o.Settings {
		list = append(list, s.Name.In(units.MM)+" = "+say.Of(s.Value).In(units.MM)+" ("+s.Say.In(units.MM)+")")
	}
	return strings.Join(list, "\n")
}

// Without gauge blocks, and with a tailstock that is not set over, a Morse taper is out of
// its limits, the best that can be had is said, and so is what holds it: by hand
// 73·sin 1.4331 = 1.826, read as 1.83 and half a hundredth more
// 1.835, is asin(1.835/73) = 1.4404 deg, said to the thousandth.
func TestAngleThatNothingKeeps(t *testing.T) {
	s := loadShop(t, map[string]string{
		"gauge_blocks: metric-47\n": "", "setover: {toward: 9, away: 7}, ": "",
	})
	p := parse(t, "material: brass\nround:\n  profile: [[0, 17.78], [40, 15.782], [40, 12], [80, 12]]\n"+
		"  limits: [{from: 0, to: 40, gauge: MT2}]\n")
	for _, f := range make1(t, p, s).Refused {
		if f.Code != problem.OutOfLimits {
			continue
		}
		got := strings.Join(told(Result{Refused: []Refusal{f}}), "")
		for _, want := range []string{"1.83 mm over 73 mm", "may leave 1.44 deg", "(gauge_blocks)"} {
			if !strings.Contains(got, want) {
				t.Errorf("%q does not say %q", got, want)
			}
		}
		return
	}
	t.Error("nothing is out of its limits")
}

// A cone that is drawn to a point is set to no steeper mark: at 27 deg, the nearest to
// atan(10/20) = 26.565, it would come to its point 10/tan 27 = 19.626 from its large end,
// 0.37 mm before the face.
func TestPointIsNotCutShort(t *testing.T) {
	p, s := brass(t, "  profile: [[0, 0], [20, 20], [50, 20]]\n"), loadShop(t, nil)
	s.Lathe.Compound.Scale.Step = units.Degrees(1)
	r := make1(t, p, s)
	for _, o := range r.Operations {
		if o.Kind == op.Taper && (o.op.Stands.Compound == nil || o.op.Stands.Compound.Deg() > 26.7) {
			t.Errorf("the compound is set to %v deg by %s", o.op.Stands.Compound, o.op.Stands.Method)
		}
	}
	if i := slices.IndexFunc(r.Operations, func(o Operation) bool { return o.Kind == op.Taper }); i < 0 {
		t.Error("no taper is cut")
	}
}

// On a zero across the axis that counts back, a taper that shrinks toward the tailstock and
// one that grows by the same angle read alike, one past 90 and one not: by hand atan(5/20)
// = 14.036 deg, 90 - 14 = 76 on the scale and 90 + 14 = 104, which counts back to 76.
func TestPast90IsSaid(t *testing.T) {
	s := loadShop(t, map[string]string{
		"zero: along": "zero: across", "numbering: up": "numbering: back-after-90", "limit: 60deg": "limit: 150deg",
	})
	said := map[bool]int{}
	for _, profile := range []string{"[[0, 20], [30, 20], [50, 30], [60, 30]]", "[[0, 20], [40, 20], [60, 10]]"} {
		r := make1(t, parse(t, "material: brass\ngeneral: coarse\nround:\n  profile: "+profile+"\n"), s)
		for _, o := range r.Operations {
			if o.Kind != op.Taper {
				continue
			}
			shrinks := o.op.Setup.State.Compound < 0
			said[shrinks]++
			text := settings(o)
			want := "move the handle end toward the tailstock to 76 deg on the scale; exact"
			if shrinks {
				want = "move the handle end toward the tailstock, past 90 and on away from you, to 76 deg on the scale, " +
					"104 from zero"
			}
			if !strings.Contains(text, want) {
				t.Errorf("%s: does not say %s:\n%s", profile, want, text)
			}
		}
	}
	if said[true] == 0 || said[false] == 0 {
		t.Errorf("%d shrink and %d grow", said[true], said[false])
	}
}
