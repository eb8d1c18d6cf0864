package plan

import (
	"strings"
	"testing"

	"setover/setup/plan/op"
)

// Flats on a rotary table of 90 turns, by hand: six are 15 turns apart; eight
// 11.25, and a quarter of a turn of 4 deg is 1 deg on the handwheel; of seven the
// second is at 12.857 turns, 6/7 of 4 deg being 3 deg 25' 43", and the third not
// twice that but 25.714 turns, 5/7 of 4 deg being 2 deg 51' 26".
func TestIndexOnTheRotaryTable(t *testing.T) {
	s := loadShop(t, nil)
	s.DividingHead, s.ColletBlocks = nil, nil
	for sides, want := range map[string]string{
		"6": "2: 15 turns, 3: 30 turns, 4: 45 turns, 5: 60 turns, 6: 75 turns",
		"8": "2: 11 turns + 1°00'00\", 3: 22 turns + 2°00'00\", 4: 33 turns + 3°00'00\", 5: 45 turns",
		"7": "2: 12 turns + 3°25'43\", 3: 25 turns + 2°51'26\"",
	} {
		p := parse(t, "material: brass\nround:\n  profile: [[0, 16], [30, 16], [30, 20], [50, 20]]\n"+
			"  facets: [{sides: "+sides+", from: 30, to: 50, across: corners}]\n")
		r, milled := make1(t, p, s), false
		for _, o := range r.Operations {
			if o.Kind != op.Facet {
				continue
			}
			milled = true
			if text := settings(o); o.op.Setup.Device != op.RotaryTable || !strings.Contains(text, want) {
				t.Errorf("%s sides on the %s, by hand %s:\n%s", sides, o.op.Setup.Device, want, text)
			}
		}
		if f := r.Fails(); !milled || len(f) > 0 {
			t.Errorf("%s sides: %v", sides, f)
		}
	}
}
