package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
)

// A slug of 32 on a relief neck of 8 is not carried by 8.75 mm of thread in a nut, 75 out: three
// diameters of M10 are 30. It is made in one grip on the bar.
func TestNoSlugOnANeck(t *testing.T) {
	p := parse(t, `material: free-cutting-brass
round:
  stock: 32
  profile: [[0, 20], [30, 26], [30, 30], [40, 30], [70, 14], [70, 10], [84, 10]]
  threads: [{from: right, spec: M10x1.25, length: 10}]
  limits: [{from: 0, to: 30, angle: 5'}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	for _, o := range r.Operations {
		if o.op.Setup.Device == op.SplitNut {
			t.Errorf("step %d, %s, in a split nut", o.N, o.Name.In(units.MM))
		}
	}
}

// A square bar of 16 lies in the vice on its flat while it is drilled: 5 through it is
// 16 + 2.5/tan 59 + 1 = 18.502 deep, in one go, since that is under 5 diameters. Only a chuck of four
// jaws holds it; where there is none that is what mends it.
func TestSquareBar(t *testing.T) {
	p := parse(t, `material: low-carbon-steel
round:
  stock: {square: 16}
  profile: [[0, 16], [12, 16], [12, 10], [40, 10]]
  facets: [{sides: 4, from: 0, to: 12, across: flats}]
  holes: [{at: 6, dia: 5}]
`)
	chuck := "  chuck: {diameter: 100, jaws: 3, jaw_length: 28, jaw_circle: 110, max_rpm: 2000}\n"
	r := make1(t, p, loadShop(t, map[string]string{chuck: chuck + "  four_jaw: {diameter: 100}\n"}))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	drilled := false
	for _, o := range r.Operations {
		if o.Kind != op.CrossDrill {
			continue
		}
		drilled = true
		text := settings(o)
		flat, deep := strings.Contains(text, "flat down"), strings.Contains(text, "depth = 18.503 mm")
		if o.op.Setup.Device != op.Vice || !flat || !deep {
			t.Errorf("drilled in %s:\n%s", o.op.Setup.Device, text)
		}
	}
	if !drilled {
		t.Error("no hole")
	}
	r = make1(t, p, loadShop(t, nil))
	told := ""
	for _, f := range r.Refused {
		for _, x := range f.Remedies {
			told += x.Say.In(units.MM) + "; "
		}
	}
	if !strings.Contains(told, "a four-jaw chuck of 100 mm (lathe: four_jaw)") {
		t.Errorf("without one: %s", told)
	}
}

// A sleeve that is bored already is drilled through its two walls, each under 5 diameters: a bar of
// 40 bored 21.8 has walls of 9.1, and a drill of 4 goes through one of them 9.1 + 2/tan 59 + 1 = 11.3.
func TestEachWallIsItsOwnDepth(t *testing.T) {
	p := parse(t, `material: bearing-bronze
round:
  stock: 40
  profile: [[0, 36], [70, 36], [70, 30], [90, 30]]
  bores: [{from: left, dia: 22.3, through: true, tol: 0.05}]
  holes: [{at: 45, dia: 4}]
`)
	for _, o := range make1(t, p, loadShop(t, nil)).Operations {
		if o.Kind == op.CrossDrill {
			if text := settings(o); !strings.Contains(text, "both walls") || strings.Contains(text, "both sides") {
				t.Error(text)
			}
		}
	}
}

// A dog holds an end of 12.7 over its chamfer of 1.27, which is under 3: the lever with a taper is
// made between centres, its tailstock set over.
func TestDogOverAChamfer(t *testing.T) {
	p := read(t, `format: 1
part: Lever
units: in
material: low-carbon-steel
round:
  stock: 5/8
  profile: [[0, 0.3125], [0.5, 0.3125], [0.5, 0.375], [5.5, 0.55], [6, 0.55]]
  threads: [{from: left, spec: 5/16-18, length: 0.375}]
  chamfers: [{at: 6, size: 0.05}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	for _, s := range r.Setups {
		if s.Device == op.Centres && s.Out != nil && (s.Grip == nil || s.Grip.To-s.Grip.From < 10_000_000) {
			t.Errorf("set-up %d: the dog on %v", s.N, s.Grip)
		}
	}
}

// A thread that is cut when the work is held again by what was turned is to run true with that: the
// chuck does not find the axis, and the card says so before the first cut.
func TestSetTrue(t *testing.T) {
	p := parse(t, `material: brass
round:
  profile: [[0, 20], [30, 20], [30, 24], [40, 24]]
  bores: [{from: left, dia: 6, depth: 15}, {from: right, dia: 8, depth: 12, tol: 0.05}]
`)
	told := 0
	r := make1(t, p, loadShop(t, map[string]string{"  collets: ER32\n": ""}))
	for _, o := range r.Operations {
		if strings.Contains(settings(o), "true it = 0.02 mm") {
			told++
			if o.op.Setup.On == op.Stock {
				t.Errorf("step %d is on the bar as bought", o.N)
			}
		}
	}
	if told != 1 {
		t.Errorf("told %d times:\n%v", told, r.Fails())
	}
}

// A handle of two arcs on a neck of 12 at the jaws: the neck, which is left for the file, is cut after all
// that pushes on it beyond it, while that carries it: all but the side of an arc that falls to its shoulder,
// close to the jaws. A bore keeps the right end out.
func TestNeckAfterWhatItCarries(t *testing.T) {
	p := parse(t, `material: low-carbon-steel
round:
  stock: 25
  profile: [[0, 12], [14, 12], [14, 20], [50, 12], [80, 22], [90, 22]]
  arcs:
    - {from: 14, to: 50, radius: 120, bulge: out}
    - {from: 50, to: 80, radius: 120, bulge: in}
  bores: [{from: right, dia: 6, depth: 10}]
  limits: [{at: 7, fit: h6}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	neck, last := 0, 0
	for _, o := range r.Operations {
		switch {
		case o.ID == "turn-z0":
			neck = o.N
		case o.ID == "turn-z80" || o.Kind == op.Curve && o.ID != "curve-z14":
			last = o.N
		}
	}
	if neck == 0 || last == 0 || neck < last {
		t.Errorf("the neck is step %d, the last beyond it %d", neck, last)
	}
}

// The edge at z 0 of 20 stands beside the bar, which is as thick, when it is chamfered by 1 before it is
// parted: a groove to 20 - 2 comes first.
func TestGrooveBesideAChamfer(t *testing.T) {
	p := parse(t, `material: brass
round:
  profile: [[0, 20], [10, 20], [10, 14], [30, 14]]
  chamfers: [{at: 0, size: 1}]
`)
	r := make1(t, p, loadShop(t, nil))
	for _, o := range r.Operations {
		if o.Kind != op.Chamfer {
			continue
		}
		parted := o.op.Setup.Out == "right"
		if text := settings(o); parted != strings.Contains(text, "groove first = 18 mm") {
			t.Errorf("%s end out:\n%s", o.op.Setup.Out, text)
		}
	}
}

// A taper of 8 to 10 over 100 that is turned with its small end, the left one, at the tailstock: the carriage
// goes toward that along the work from z 100 to z 0.
func TestProvedTowardTheTailstock(t *testing.T) {
	r := make1(t, parse(t, "material: silver-steel\nround:\n  profile: [[0, 8], [100, 10], [130, 10]]\n"+
		"  facets: [{sides: 4, from: 118, to: 130, across: corners}]\n"), loadShop(t, nil))
	o := op1(t, r, "taper-z0")
	const want = "along the work from z 100 mm to z 0 mm, toward the tailstock"
	if got := say.Join(o.Steps, " ").In(units.MM); !strings.Contains(got, want) {
		t.Errorf("not %q in %s", want, got)
	}
}

// A rod of 6 as bought with a thread at one end and a taper at the other is held by the shank between
// them, which is not cut: saw it; turn, chamfer and thread one end; turn it end for end and face the
// other; swing the compound. That is four set-ups, in whichever order the ends come. The jaws stand
// 3·P + 1 = 4 behind the thread of 25 at z 29 and 3 short of the taper at z 57, so that the die goes on
// with 29 out of the jaws, under 10 diameters of 6, and needs neither a centre nor a groove.
func TestBarHeldByWhatStays(t *testing.T) {
	p := parse(t, `material: silver-steel
round:
  stock: 6
  profile: [[0, 6], [60, 6], [85, 3]]
  threads: [{from: left, spec: M6, length: 25}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	if r.Totals.Setups != 4 {
		t.Errorf("%d set-ups", r.Totals.Setups)
	}
	die := false
	for _, o := range r.Operations {
		s := o.op.Setup
		die = die || o.Kind == op.Thread && o.op.Tool.Name == "die M6"
		if s.Support != op.NoSupport {
			t.Errorf("step %d, %s, on %v", o.N, o.Name.In(units.MM), s.Support)
		}
		if jaws := s.Held; s.Machine == op.Lathe && (jaws.From < 29_000_000 || jaws.To > 57_000_000) {
			t.Errorf("step %d, %s, held %v", o.N, o.Name.In(units.MM), jaws)
		}
		if o.Kind == op.Face && s.Device == op.Chuck && !strings.Contains(settings(o), "over = card") {
			t.Errorf("step %d, %s, marks what stays: %s", o.N, o.Name.In(units.MM), settings(o))
		}
	}
	if !die {
		t.Error("no die")
	}
}

// A rod of 10 with a chamfer of 1 on each end is nothing but faced and chamfered: 1 of it is cut, 3
// further the jaws stand, and it is held nowhere further out than that.
func TestBarHeldBehindAChamfer(t *testing.T) {
	p := parse(t, `material: free-cutting-brass
round:
  stock: 10
  profile: [[0, 10], [120, 10]]
  chamfers: [{at: 0, size: 1}, {at: 120, size: 1}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	for _, s := range r.Setups {
		if s.JawFace == nil {
			continue
		}
		if out := min(*s.JawFace, 120_000_000-*s.JawFace); out > 4_000_000 {
			t.Errorf("set-up %d: the jaws %v from the end", s.N, out)
		}
	}
}

// A seat of h6 beside a thread is 0.005 under the thread's major diameter, 11.995 of M12: no neck. It is
// turned 12.04, filed and polished to 11.995, the blank of the thread turned after it and the thread cut
// last, at both ends.
func TestSeatFiledBeforeItsThread(t *testing.T) {
	p := parse(t, `material: low-carbon-steel
round:
  stock: 20
  profile: [[0, 10], [20, 10], [20, 12], [45, 12], [45, 18], [230, 18], [230, 12], [260, 12]]
  limits: [{at: 30, fit: h6}, {at: 245, fit: h6}]
  threads: [{from: left, spec: M10, length: 16}, {from: right, spec: M12x1.5, length: 14}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	var seat []string
	for _, o := range r.Operations {
		switch o.op.ID {
		case "turn-z230", "polish-z230", "turn-z246", "thread-2":
			seat = append(seat, o.op.ID)
		}
	}
	if got := strings.Join(seat, " "); got != "turn-z230 polish-z230 turn-z246 thread-2" {
		t.Error(got)
	}
}

// A pulley of 50 on a hub of 22, bored 8 H7 through, the hole of its grub screw of 4 at z 5 through the
// hub's wall of 7: sawn off, it is faced on an arbor. Of the bore of 21 the hole breaks 3 to 7; from 7 to
// 20, 1 short of the face, 13 of it is more than half.
func TestArborPastAHole(t *testing.T) {
	p := parse(t, `material: aluminium-6082
round:
  profile: [[0, 22], [10, 22], [10, 50], [21, 50]]
  bores: [{from: left, dia: 8, through: true, fit: H7}]
  holes: [{at: 5, dia: 4, depth: 8}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Error(f)
	}
	held := false
	for _, o := range r.Operations {
		if o.op.Setup.Device != op.Arbor && o.op.Setup.Device != op.Mandrel {
			continue
		}
		for _, c := range o.Checks {
			if c.Code == "grip-length" {
				held = true
			}
		}
	}
	if !held {
		t.Error("on no arbor")
	}
}

// A bar of 60 does not go through a chuck of 100 that passes 36. Its flange of 8 stays as it was bought,
// so the jaws could stand at z 3; it would reach 38 - 31 = 7 behind their 28. It is drawn out until it ends
// in them: from z 38 - 28 = 10 to 38.
func TestThickBarEndsInTheJaws(t *testing.T) {
	p := parse(t, `material: free-cutting-brass
round:
  stock: 60
  profile: [[0, 60], [8, 60], [8, 48], [37, 48]]
  bores: [{from: left, dia: 22, through: true}]
`)
	r := make1(t, p, loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 || r.Totals.Setups != 3 {
		t.Errorf("%d set-ups: %v", r.Totals.Setups, f)
	}
	if s := r.Setups[1]; s.setup.Held.From != 10_000_000 || s.setup.Held.To != 38_000_000 || s.Through != nil {
		t.Errorf("held %v, %v behind", s.setup.Held, s.Through)
	}
}

// A bar that is drilled, crossed on the mill and put back in the chuck is set true before the reamer
// goes in: the chuck alone brings it back a tenth off. The first time there is nothing to be true with.
func TestBarSetTrueAgain(t *testing.T) {
	r := make1(t, parse(t, "material: brass\nround:\n  profile: [[0, 30], [40, 30]]\n"+
		"  bores: [{from: left, dia: 8, through: true, fit: H7}]\n  holes: [{at: 20, dia: 3, roll: 0}]\n"), loadShop(t, nil))
	last, again := "", 0
	for _, o := range r.Operations {
		s := o.op.Setup
		first := string(s.Machine) != last
		last = string(s.Machine)
		if s.Machine != op.Lathe || s.On != op.Stock || !first {
			continue
		}
		again++
		told := slices.ContainsFunc(o.Settings, func(x op.Setting) bool { return x.Name == trueIt })
		if told != (again > 1) {
			t.Errorf("%s, the bar in the chuck the %d. time: set true %v", o.ID, again, told)
		}
	}
	if again != 2 {
		t.Errorf("in the chuck %d times", again)
	}
}
