package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/plan/op"
)

// cup is a cone with a flange of 4 and a neck of 4 that no jaws hold, 8 mm and 0.6 of the diameter at the
// least, with a blind bore of 25 in its wide end.
const cup = "material: low-carbon-steel\nround:\n  profile: [[0, 60], [4, 60], [40, 30], [44, 30]]\n" +
	"  bores: [{from: left, dia: 25, depth: 20}, {from: right, dia: 12, depth: 8}]\n"

// Turned end for end it is held by that on an arbor 19 long, 1 short of the floor. It is drilled 25.13,
// of which 0.6, 15.08, is wanted: one 15 deep holds nothing and one 16.5 deep does. Stepped, the narrow
// bore is drilled through before that.
func TestArborInABlindBore(t *testing.T) {
	bores := func(list string) string {
		return strings.Replace(cup, "[{from: left, dia: 25, depth: 20}, {from: right, dia: 12, depth: 8}]", list, 1)
	}
	for _, c := range []struct {
		part string
		held bool
		deep string
	}{
		{cup, true, "reaches in = 19 mm"},
		{strings.Replace(cup, "depth: 20", "depth: 16.5", 1), true, "reaches in = 15.5 mm"},
		{strings.Replace(cup, "depth: 20", "depth: 15", 1), false, ""},
		{bores("[{from: left, dia: 25, depth: 20}, {from: right, dia: 8, through: true}]"), true, "reaches in = 19 mm"},
		{bores("[{from: right, dia: 16, depth: 20}, {from: left, dia: 8, through: true}]"), true, "reaches in = 19 mm"},
	} {
		r := make1(t, parse(t, c.part), loadShop(t, map[string]string{"parting_blade: 2\n": ""}))
		if got := len(r.Refused) == 0; got != c.held {
			t.Errorf("%s: held %v, %v", c.part, got, r.Refused)
			continue
		}
		if !c.held {
			if ways := jobOf(t, parse(t, c.part), loadShop(t, nil)).blindArbors(); len(ways) > 0 {
				t.Errorf("%s: it is tried: %+v", c.part, ways)
			}
			continue
		}
		i := slices.IndexFunc(r.Operations, func(o Operation) bool { return o.op.Setup.Device == op.Arbor })
		if i < 0 {
			t.Errorf("%s: on no arbor", c.part)
			continue
		}
		if got := card(r.Operations[i]); !strings.Contains(got, c.deep) || !strings.Contains(got, "arbor = wrung on") {
			t.Errorf("%s", got)
		}
		for n, o := range r.Operations {
			if n >= i && o.Kind == op.Drill && slices.Contains(o.Makes, "bore-2") && strings.Contains(c.part, "through") {
				t.Errorf("%s: the bore through is drilled on the arbor", c.part)
			}
		}
	}
}

// Where no drill makes its bore it is bored before the rest of it is roughed, since that is done on it: a cup of 36
// on a neck of 12 that is threaded, its largest drill 13 mm.
func TestArborInABoreThatIsBored(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  profile: [[0, 12], [10, 12], [10, 20], [30, 36], [34, 36]]\n"+
		"  bores: [{from: right, dia: 22, depth: 18}]\n  threads: [{from: left, spec: M12x1, length: 8}]\n")
	r := make1(t, p, loadShop(t, map[string]string{
		"drills: [metric-0.5, number, letter, fraction-64, 6.8mm, 3.2mm]": "drills: [10mm, 13mm]",
	}))
	if len(r.Refused) > 0 {
		t.Fatal(r.Refused)
	}
	at := func(is func(o Operation) bool) int { return slices.IndexFunc(r.Operations, is) }
	bored := at(func(o Operation) bool { return o.Kind == op.Bore })
	rough := at(func(o Operation) bool { return o.op.Setup.Device == op.Arbor && o.op.Rough })
	if bored < 0 || rough < bored {
		t.Errorf("bored in step %d, roughed on that in step %d", bored+1, rough+1)
	}
}

// Where it has holes at two rolls and a dividing head is owned, it is turned by that while they are
// drilled, with no V-blocks in the shop.
func TestOnAnArborAndIndexed(t *testing.T) {
	p := cup + "  holes: [{at: 24, dia: 4, depth: 5}, {at: 24, dia: 4, depth: 5, roll: 90}]\n"
	without := map[string]string{"v_blocks: {angle: 90deg, apex: 12, opening: 56, relief: 3, pair: true}\n": ""}
	r := make1(t, parse(t, strings.Replace(p, "dia: 12", "dia: 8", 1)), loadShop(t, without))
	if len(r.Refused) > 0 {
		t.Fatal(r.Refused)
	}
	var on []op.Device
	for _, s := range r.Setups {
		on = append(on, s.Device)
	}
	if !slices.Contains(on, op.DividingHead) || !slices.Contains(on, op.Arbor) {
		t.Errorf("held in %v", on)
	}
}
