package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
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
		{[]string{"0", "90"}, []string{"the crank where the roll datum was scribed", "10 turns of the crank from"}},
		{[]string{"0", "120"}, []string{"the crank where", "13 turns of the crank and 5 spaces on the 15 circle from"}},
		{[]string{"0", "17"}, []string{"the crank where", "1 turn of the crank and 16 spaces on the 18 circle from"}},
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
		{[]string{"0", "40"}, op.DividingHead, "4 turns of the crank and 8 spaces on the 18 circle"}, // 40·40/360 = 4 4/9
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
