package plan

import (
	"os"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// setTo is what a setting of an operation says, "" where it has none.
func setTo(o *op.Op, name say.Text) string {
	for _, s := range o.Settings {
		if s.Name == name {
			return say.Of(s.Value, ": ", s.Say).In(units.MM)
		}
	}
	return ""
}

// find returns an operation of an attempt by its id.
func (d *attempt) find(t *testing.T, id string) *op.Op {
	t.Helper()
	i := slices.IndexFunc(d.ops, func(o *op.Op) bool { return o.ID == id })
	if i < 0 {
		t.Fatalf("no step %s", id)
	}
	return d.ops[i]
}

// M4, of pitch 0.7, on an end that is too thin for a centre: the stub of 8 stands over its root,
// 4 - 1.226869·0.7 = 3.14. A groove beside the start comes first, down to 4 - 1.6·0.7 = 2.88 as behind a
// thread, 3·0.7 = 2.1 wide, which is more than the blade's 2. Without it the single point has nowhere to
// begin. A stub that is turned to 3, for want of a larger end, is clear.
func TestThreadBeginsInAGroove(t *testing.T) {
	p := bored(t, "  profile: [[0, 4], [10, 4], [10, 16], [60, 16]]\n  threads: [{from: left, spec: M4, length: 6}]\n")
	j := jobOf(t, p, loadShop(t, nil))
	d, _, err := j.attempt(j.hold(way{first: part.Left, grip: offBar, centre: [2]bool{true}, single: true}), bonds{})
	if err != nil {
		t.Fatal(err)
	}
	o := d.find(t, "chamfer-1")
	groove := work.Turned(work.Span{From: -21 * work.MM / 10, To: 0}, 288*work.MM/100, work.Rough)
	if got := o.Removes[0].(work.Outside); !slices.Equal(got.Profile, groove.Profile) {
		t.Errorf("first it takes off %v, by hand %v", got.Profile, groove.Profile)
	}
	want := "2.88 mm: the stub of 8 mm stands beside the start of the thread: go in there with the parting blade " +
		"to this diameter, 2.1 mm wide, beyond the end at z 0 mm; the chamfer is cut out of it, and the thread begins in it"
	if got := setTo(o, "groove first"); got != want {
		t.Errorf("it says %q, not %q", got, want)
	}
	thread := d.find(t, "thread-1")
	if failed(thread) {
		t.Errorf("the thread fails: %v", thread.Checks)
	}
	n := slices.IndexFunc(d.sequence, func(i int) bool { return d.ops[i] == thread })
	against := d.states[n-1]
	for _, r := range o.Removes[1:] {
		against = against.After(r)
	}
	if d.certified(thread, against) {
		t.Error("without the groove it begins against the stub")
	}
}

// A stub on an end that is too thin is 8 thick, or as thick as the rod behind that end which a centre
// fits in, so that a tool which is fed along passes over it to the rod.
func TestStubNoThickerThanTheRod(t *testing.T) {
	for profile, want := range map[string]string{
		"[[0, 3], [6, 3], [6, 16], [70, 16]]":                       "8 mm",
		"[[0, 4], [10, 4], [10, 6.35], [100, 6.35], [110, 8]]":      "6.35 mm",
		"[[0, 4], [10, 4], [10, 4.9], [20, 4.9], [20, 7], [60, 7]]": "7 mm",
	} {
		j := jobOf(t, bored(t, "  profile: "+profile+"\n"), loadShop(t, nil))
		task := j.hold(way{first: part.Left, grip: offBar, centre: [2]bool{true}})
		if got := say.Of(task.stubDia(part.Left)).In(units.MM); got != want {
			t.Errorf("%s: a stub of %s, by hand %s", profile, got, want)
		}
	}
}

// A plain stud of 8 with M8 on 20 and on 30 of its 70: it is held on the 20 between, and the die's lead,
// 3·1.25, and 1 to stay clear of the jaws, stand out behind the thread that is cut last: 4.75.
func TestJawsBehindAThread(t *testing.T) {
	const stud = "format: 1\npart: Stud\nunits: mm\nmaterial: low-carbon-steel\nround:\n  profile: [[0, 8], [70, 8]]\n" +
		"  threads: [{from: left, spec: M8, length: 20}, {from: right, spec: M8, length: 30}]\n"
	r := make1(t, read(t, stud), loadShop(t, nil))
	judged(t, "stud", r, stud, edited(t, "shed.yaml", nil))
	last := r.Setups[len(r.Setups)-1]
	if f := last.JawFace; f == nil || *f != 24750*work.MM/1000 && *f != 35250*work.MM/1000 {
		t.Errorf("the jaws' face stands at %v", f)
	}
}

// A die of M8 has a lead of 3·1.25 = 3.75. With 3 before a head the groove goes up to the head and the
// die is turned round; with 4 it stops on the shank; one that stops in a neck of 2 is turned round too.
func TestDieTurnedRound(t *testing.T) {
	for _, tc := range []struct {
		name, profile string
		turned        bool
	}{
		{"3 before a head", "[[0, 14], [10, 14], [10, 8], [40, 8]]", true},
		{"4 before it", "[[0, 14], [9, 14], [9, 8], [40, 8]]", false},
		{"a neck of 2", "[[0, 14], [11, 14], [11, 6], [13, 6], [13, 8], [40, 8]]", true},
	} {
		bolt := "format: 1\npart: Bolt\nunits: mm\nmaterial: low-carbon-steel\nround:\n  profile: " + tc.profile + "\n" +
			"  threads: [{from: right, spec: M8, length: 27}]\n"
		r := make1(t, read(t, bolt), loadShop(t, nil))
		judged(t, tc.name, r, bolt, edited(t, "shed.yaml", nil))
		o := step1(t, r, "thread-1")
		if got := setTo(o.op, "turn round"); strings.HasPrefix(got, "the die: ") != tc.turned || o.op.DieTurned != tc.turned {
			t.Errorf("%s: %s %q", tc.name, o.op.Tool.Name, got)
		}
	}
}

// A rod of 6 with an end of 4, 30 long: a blade of 2 that is plunged there springs it, so the tool is fed
// along in light cuts of 0.1 a side, (6 - 4)/2/0.1 = 10 of them from the stub, which is as thick as the rod.
func TestPlungedOrFedAlong(t *testing.T) {
	const rod = "format: 1\npart: Rod\nunits: mm\ngeneral: coarse\nmaterial: low-carbon-steel\nround:\n  stock: 8\n" +
		"  profile: [[0, 4], [30, 4], [30, 6], [150, 6], [150, 4], [170, 4]]\n"
	r := make1(t, read(t, rod), loadShop(t, nil))
	judged(t, "rod", r, rod, edited(t, "shed.yaml", nil))
	seen := 0
	for _, o := range r.Operations {
		if o.Kind != op.Turn || o.op.Tool.Hand != op.Form {
			continue
		}
		seen++
		if got := setTo(o.op, "depth a pass"); !strings.HasPrefix(got, "0.1 mm: a side, in 10 light passes") {
			t.Errorf("%s: %s", o.ID, got)
		}
		if setTo(o.op, "width a plunge") != "" {
			t.Errorf("%s is plunged", o.ID)
		}
	}
	if seen == 0 {
		t.Error("nothing is cut by a tool that goes straight in")
	}
}

// A scriber's point from z 100 on is filed: the jaws stand 10 before it.
func TestFileHasRoom(t *testing.T) {
	const file = "judge/testdata/parts/named/p26-tapend.yaml"
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	r := make1(t, read(t, string(text)), loadShop(t, nil))
	judged(t, file, r, string(text), edited(t, "shed.yaml", nil))
	for _, o := range r.Operations {
		if o.op.Tool.Hand == op.File && o.op.Setup.Device.Jaws() && o.Kind == op.Taper {
			if f := *r.Setups[o.Setup-1].JawFace; f != 90*work.MM {
				t.Errorf("the jaws stand at z %g, by hand 100 - 10", f.MM())
			}
			return
		}
	}
	t.Error("nothing is filed")
}
