package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// drilledAcross is a round of 38, 50 long, or of 13, with holes of 4 at 8 and the rolls.
func drilledAcross(t *testing.T, dia string, rolls ...string) Result {
	t.Helper()
	text := "material: low-carbon-steel\nround:\n  profile: [[0, " + dia + "], [50, " + dia + "]]\n  holes:\n"
	for _, r := range rolls {
		text += "    - {at: 8, dia: 4, depth: 3, roll: " + r + "}\n"
	}
	return make1(t, parse(t, text), loadShop(t, nil))
}

// turnsTold returns what the steps at each roll say that the work is turned by, each once.
func turnsTold(r Result) (list []string) {
	for _, o := range r.Operations {
		for _, s := range o.Settings {
			if text := s.Say.In(units.MM); s.Name.In(units.MM) == "roll" && !slices.Contains(list, text) {
				list = append(list, text)
			}
		}
	}
	return list
}

// A head of 40:1 is turned a quarter by 10 turns of the crank, a third by 13 and 5 spaces of 15 (1/3),
// 17 deg by 1 and 16 of 18 (17·40/360 = 1 8/9). The bar of 39, its left end out, is held 25 beyond the
// middle of the holes at the least, which the drill's chuck is to clear. All the rolls are one set-up.
func TestIndexedInTheHead(t *testing.T) {
	for _, tc := range []struct {
		rolls []string
		want  []string
	}{
		{[]string{"0", "90"}, []string{"the crank where the roll datum was scribed", "crank on 10 turns from"}},
		{[]string{"0", "120"}, []string{"the crank where", "crank on 13 turns and 5 spaces on the 15 circle from"}},
		{[]string{"0", "17"}, []string{"the crank where", "crank on 1 turn and 16 spaces on the 18 circle from"}},
	} {
		r := drilledAcross(t, "38", tc.rolls...)
		if f := r.Fails(); len(f) > 0 {
			t.Fatal(f)
		}
		told := strings.Join(turnsTold(r), "; ")
		for _, want := range tc.want {
			if !strings.Contains(told, want) {
				t.Errorf("rolls %v: %q is not told: %s", tc.rolls, want, told)
			}
		}
		across := 0
		for _, s := range r.Setups {
			if s.Machine != op.MillMachine {
				continue
			}
			across++
			room := s.setup.Face() - 8*1_000_000
			if s.setup.Out == "right" {
				room = 8*1_000_000 - s.setup.Face()
			}
			if s.Device != op.DividingHead || room < 25*1_000_000 {
				t.Errorf("rolls %v: %v, %v from the jaws to the holes", tc.rolls, s.Device, say.Of(room.Length()))
			}
		}
		if across != 1 {
			t.Errorf("rolls %v: %d set-ups on the mill", tc.rolls, across)
		}
	}
}

// A bar of 14 goes in the collets: the block of 4 comes to 90 deg by a face, that of 6 to 120 by
// two. Neither comes to 40, for which the head is. One roll is no reason to turn anything.
func TestIndexedInABlock(t *testing.T) {
	for _, tc := range []struct {
		rolls  []string
		device op.Device
		want   string
	}{
		{[]string{"0", "90"}, op.ColletBlock, "1 face of the 4 on"},
		{[]string{"0", "120"}, op.ColletBlock, "2 faces of the 6 on"},
		{[]string{"0", "40"}, op.DividingHead, "crank on 4 turns and 8 spaces on the 18 circle"}, // 40·40/360 = 4 4/9
		{[]string{"0"}, op.VBlocks, ""},
	} {
		r := drilledAcross(t, "13", tc.rolls...)
		told := strings.Join(turnsTold(r), "; ")
		if !strings.Contains(told, tc.want) {
			t.Errorf("rolls %v: %q is not told: %s", tc.rolls, tc.want, told)
		}
		for _, s := range r.Setups {
			if s.Machine == op.MillMachine && s.Device != tc.device {
				t.Errorf("rolls %v: %v, by hand %v", tc.rolls, s.Device, tc.device)
			}
		}
	}
}

// toldOf returns what the steps of a kind are set to, by its name: "value, words".
func toldOf(r Result, kind op.Kind, name string) (list []string) {
	for _, o := range r.Operations {
		for _, s := range o.Settings {
			if o.Kind == kind && strings.HasPrefix(s.Name.In(units.MM), name) {
				list = append(list, say.Of(s.Value).In(units.MM)+" "+s.Say.In(units.MM))
			}
		}
	}
	return list
}

// A roll is counted counter-clockwise seen from the right end, so what stands at 90 comes up when the
// work is turned clockwise as one looks at that end, and counter-clockwise at the left one. An offset
// goes toward roll + 90: with that roll up, to the left seen from the right end. A head of 40:1 goes
// half round by 20 turns, a block of 4 by 2 faces.
func TestWhichWayItIsTurned(t *testing.T) {
	way := map[part.End]string{
		part.Left:  "the work counter-clockwise as you look at its left end",
		part.Right: "the work clockwise as you look at its right end",
	}
	side := map[part.End]string{
		part.Left: "to the right as you look at the left end", part.Right: "to the left as you look at the right end",
	}
	half := map[op.Device]string{op.DividingHead: "crank on 20 turns more", op.ColletBlock: "2 faces of the 4 on more"}
	seen := map[part.End]bool{}
	for _, dia := range []string{"13", "38"} {
		j := jobOf(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, "+dia+"], [60, "+dia+"]]\n"+
			"  holes: [{at: 25, dia: 2, offset: 1, roll: 0}, {at: 35, dia: 2, roll: 90}]\n"), loadShop(t, nil))
		for _, w := range j.indexWays() {
			d, ring, err := j.attempt(j.hold(w), bonds{})
			if err != nil || ring != nil {
				t.Fatal(err, ring)
			}
			seen[w.first] = true
			told := ""
			for _, o := range d.ops {
				for _, s := range o.Settings {
					if o.Kind == op.CrossDrill {
						told += s.Say.In(units.MM) + "\n"
					}
				}
			}
			beside := "set the drill 1 mm beside the axis on the other side" // half round, what was right is left
			for _, want := range []string{way[w.first], side[w.first], "turn it half round, " + half[w.indexed], beside} {
				if !strings.Contains(told, want) {
					t.Errorf("%s, %s out, %s: %q is not told:\n%s", dia, w.first, w.indexed, want, told)
				}
			}
		}
	}
	if len(seen) != 2 {
		t.Errorf("only %v", seen)
	}
}

// A head of 5:1 with a circle of 4 stands at every 18 deg: 51 is 3 off, and is not indexed.
func TestRollTooFarOff(t *testing.T) {
	j := jobOf(t, parse(t, "material: brass\nround:\n  profile: [[0, 38], [50, 38]]\n"+
		"  holes: [{at: 8, dia: 4, roll: 0}, {at: 8, dia: 4, roll: 51}]\n"),
		loadShop(t, map[string]string{"{ratio: 40, plates: [[15, 16, 17, 18, 19, 20], [21, 23, 27, 29, 31, 33], " +
			"[37, 39, 41, 43, 47, 49]]}": "{ratio: 5, plates: [[4]]}"}))
	for _, w := range j.indexWays() {
		d, ring, err := j.attempt(j.hold(w), bonds{})
		if err != nil || ring != nil {
			t.Fatal(err, ring)
		}
		if w.indexed == op.DividingHead && !slices.ContainsFunc(d.ops, func(o *op.Op) bool {
			return o.Roll != nil && o.Fails(problem.OutOfLimits)
		}) {
			t.Error("3 deg off is no reason against it")
		}
	}
}

// A slot of 10 about z 10, its cutter 4 wide, is cut from 7 to 13, counted from the left face; from the
// right one, of a part of 40, from 27 to 33.
func TestSlotFromItsFace(t *testing.T) {
	for _, profile := range []string{
		"[[0, 14], [20, 14], [20, 30], [40, 30]]", "[[0, 30], [20, 30], [20, 14], [40, 14]]",
	} {
		r := make1(t, parse(t, "material: brass\nround:\n  profile: "+profile+"\n"+
			"  slots: [{at: 10, width: 4, length: 10, depth: 2, roll: 0}]\n"), loadShop(t, nil))
		cut := 0
		for _, o := range r.Operations {
			if o.Kind != op.Slot {
				continue
			}
			cut++
			face := string(o.op.Setup.Out) + " face"
			want := map[string][2]string{"left face": {"7", "13"}, "right face": {"27", "33"}}[face]
			for i, d := range o.Dials[:2] {
				if got := d.Exact.Fixed(units.MM, 0, units.Nearest); got != want[i] || d.From.In(units.MM) != "the "+face {
					t.Errorf("%s: %s from %q, by hand %s from the %s", profile, got, d.From.In(units.MM), want[i], face)
				}
			}
			if z := toldOf(r, op.Slot, "zero"); len(z) == 0 || !strings.HasPrefix(z[0], face) {
				t.Errorf("%s: zero is %q", profile, z)
			}
		}
		if cut != 1 {
			t.Errorf("%s: %d slots", profile, cut)
		}
	}
}

// A slot at the free end of a thin shaft is pushed by the radial part of the cutter's force, and it is
// checked how far the shaft springs.
func TestSlotSprings(t *testing.T) {
	j := jobOf(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 11], [70, 11]]\n"+
		"  slots:\n    - {at: 10, width: 4, length: 12, depth: 1, roll: 0}\n"+
		"    - {at: 10, width: 4, length: 12, depth: 1, roll: 180}\n"),
		loadShop(t, nil))
	told := 0
	for _, w := range j.indexWays() {
		d, ring, err := j.attempt(j.hold(w), bonds{})
		if err != nil || ring != nil {
			t.Fatal(err, ring)
		}
		for _, o := range d.ops {
			if o.Kind != op.Slot {
				continue
			}
			in := cutting(feeds.Mill, units.Millimetres(4), units.Millimetres(12))
			in.Width, in.Depth = new(units.Millimetres(4)), new(units.Millimetres(1))
			f, err := d.run(o, in)
			if err != nil || f.Force == nil {
				t.Fatal(err)
			}
			told++
			if want := float64(*f.Force) * practice.RadialPart.Number(); math.Abs(o.Push.Force-want) > want*1e-9 {
				t.Errorf("%s pushes %.3f N, by hand %.3f", o.ID, o.Push.Force, want)
			}
			if !slices.ContainsFunc(o.Checks, func(c op.Check) bool { return c.Code == problem.Overhang }) {
				t.Errorf("%s: nothing says how far it springs", o.ID)
			}
		}
	}
	if told == 0 {
		t.Error("no slot was indexed")
	}
}
