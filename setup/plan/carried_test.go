package plan

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
)

// step1 returns the first operation whose id begins so.
func step1(t *testing.T, r Result, id string) Operation {
	t.Helper()
	n := slices.IndexFunc(r.Operations, func(o Operation) bool { return strings.HasPrefix(o.ID, id) })
	if n < 0 {
		t.Fatalf("no %s in %v", id, ids(r))
	}
	return r.Operations[n]
}

// A thread on work that springs too much to be turned without a centre. 7.4 diameters of 8
// carry themselves under a die, 64 mm of 6 do not: a single point cuts that on the centre,
// and where the lathe cuts no threads nothing does.
func TestNoDieOverACentre(t *testing.T) {
	const leadscrew = "  leadscrew: 3mm\n"
	stout := parse(t, "material: acetal\nround:\n  profile: [[0, 8], [55, 8], [55, 14], [70, 14]]\n"+
		"  threads: [{from: left, spec: M8, length: 30}]\n")
	slim := parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 6], [64, 6], [64, 10], [74, 10]]\n"+
		"  threads: [{from: left, spec: M6, length: 55}]\n")
	for _, tc := range []struct {
		name, tool string
		support    op.Support
		r          Result
	}{
		{"stout", "die M8", op.NoSupport, make1(t, stout, loadShop(t, map[string]string{leadscrew: ""}))},
		{"slim", "threading tool", op.AtCentre, make1(t, slim, loadShop(t, nil))},
	} {
		if f := tc.r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", tc.name, f)
		}
		o := step1(t, tc.r, "thread-1")
		if string(o.Tool.Name) != tc.tool || o.op.Setup.Support != tc.support {
			t.Errorf("%s: a %s with the support %q", tc.name, o.Tool.Name, o.op.Setup.Support)
		}
		if s := step1(t, tc.r, "rough-left").op.Setup.Support; s != op.AtCentre {
			t.Errorf("%s is turned with the support %q", tc.name, s)
		}
	}
	r := make1(t, slim, loadShop(t, map[string]string{leadscrew: ""}))
	if len(r.Refused) == 0 || r.Refused[0].Code != problem.Overhang {
		t.Errorf("without a leadscrew: %v", r.Refused)
	}
}

// 30 of 20 hang on a neck of 4 that is 30 long, whichever end it is parted from: held by the
// 20, turned on a centre in a stub.
func TestNoHeadOnANeck(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  stock: 20\n"+
		"  profile: [[0, 4], [30, 4], [30, 20], [60, 20]]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	if slices.Contains(ids(r), partingOff) {
		t.Errorf("it is parted off: %v", ids(r))
	}
}

// A flange of 40 on 6 to either side, (40 - 6)/2 = 17 deep, and one of 50 on 12, 19 deep: a
// grooving tool goes in 12.5, so the far side is turned with the other end out. A neck
// between two flanges has no other end, and is refused.
func TestTooDeepToGroove(t *testing.T) {
	for _, profile := range []string{
		"[[0, 6], [10, 6], [10, 40], [18, 40], [18, 6], [28, 6]]",
		"[[0, 12], [30, 12], [30, 50], [36, 50], [36, 12], [70, 12]]",
	} {
		r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: "+profile+"\n"), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", profile, f)
		}
		for _, o := range r.Operations {
			if o.Tool.Name == "grooving tool" {
				t.Errorf("%s: %s with a grooving tool", profile, o.Name)
			}
		}
	}
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n"+
		"  profile: [[0, 40], [10, 40], [10, 8], [60, 8], [60, 40], [70, 40]]\n"), loadShop(t, nil))
	if len(r.Refused) == 0 || r.Refused[0].Code != problem.ToolSide {
		t.Errorf("between flanges: %v", r.Refused)
	}
}

// A disc of 56 slips on a plain arbor of 6, which takes 6·6 = 36: it is split and spread, and
// the face comes off at a finishing feed. One of 35 is faced on a plain one.
func TestSpreadArbor(t *testing.T) {
	for dia, want := range map[string]bool{"56": true, "35": false} {
		j := jobOf(t, parse(t, "material: aluminium\nround:\n  profile: [[0, "+dia+"], [7, "+dia+"]]\n"+
			"  bores: [{from: left, dia: 6, through: true}]\n"), loadShop(t, nil))
		d, _, err := j.attempt(j.hold(way{first: "left", grip: inBore, sawn: true}), bonds{})
		if err != nil || !d.passes() {
			t.Fatal(dia, ": ", err, d.no)
		}
		o := d.ops[slices.IndexFunc(d.ops, func(o *op.Op) bool { return o.ID == "face-right" })]
		if o.Setup.Device != op.Arbor {
			t.Fatalf("%s is held in a %s", dia, o.Setup.Device)
		}
		fine := slices.ContainsFunc(o.Settings, func(s op.Setting) bool {
			return s.Name == "feed" && say.Of(s.Value).String() == "0.06 mm/rev"
		})
		if o.Spread != want || fine != want {
			t.Errorf("%s: spread %v, at a finishing feed %v: %v", dia, o.Spread, fine, o.Settings)
		}
	}
}

// Hardwood of 14 past the end, which is parted there at 14, springs more than a bar of 21 that
// is parted as thick as it is, with no steady in the shop.
func TestPartedThick(t *testing.T) {
	p := parse(t, "material: hardwood\nround:\n  profile: [[0, 14], [16, 14], [16, 20], [75, 17]]\n")
	steady := map[string]string{"  steady: {from: 5, to: 50}\n": ""}
	j := jobOf(t, p, loadShop(t, steady))
	thin, _, err := j.attempt(j.hold(way{first: "right", grip: offBar}), bonds{})
	if err != nil || !thin.failsToPart() {
		t.Fatalf("parted at 14: %v, fails %v", err, thin.failsToPart())
	}
	thick, _, err := j.attempt(j.hold(way{first: "right", grip: offBar, thick: true}), bonds{})
	if err != nil || thick.failing() > 0 {
		t.Errorf("parted at 21: %v, %d fail", err, thick.failing())
	}
	if r := make1(t, p, loadShop(t, steady)); len(r.Fails()) > 0 {
		t.Error(r.Fails())
	}
}

// M8 by a die, 20 long: on a plain shank that goes on for 14 behind it the die stops, and no
// groove weakens the shank; a shoulder 3 behind it wants one up to it (3.75 is 3
// pitches, and has no room), and so does a single point, which stops in it.
func TestNoReliefInAShank(t *testing.T) {
	const dies = "dies: [M3, M4, M5, M6, M8]\n"
	for _, tc := range []struct {
		name, profile, want string
		edit                map[string]string
	}{
		{"a shank", "[[0, 16], [16, 16], [16, 8], [50, 8]]", "none: the die stops on the plain shank behind the thread", nil},
		{"a shoulder", "[[0, 16], [27, 16], [27, 8], [50, 8]]", "3 mm wide: down to 6 mm, behind the thread", nil},
		{
			"a single point", "[[0, 16], [16, 16], [16, 8], [50, 8]]", "3.75 mm wide: down to 6 mm, behind the thread",
			map[string]string{dies: "dies: [M3]\n"},
		},
	} {
		r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: "+tc.profile+"\n"+
			"  threads: [{from: right, spec: M8, length: 20}]\n"), loadShop(t, tc.edit))
		o := step1(t, r, "chamfer-1")
		n := slices.IndexFunc(o.Settings, func(s op.Setting) bool { return s.Name == "relief" })
		if got := say.Of(o.Settings[n].Value, ": ", o.Settings[n].Say).In(units.MM); got != tc.want {
			t.Errorf("%s: %s, not %s", tc.name, got, tc.want)
		}
		if grooved := strings.Contains(fmt.Sprint(o.op.Name), "relieve"); grooved == strings.HasPrefix(tc.want, "none") {
			t.Errorf("%s: %s", tc.name, o.op.Name)
		}
	}
}
