package facets_test

import (
	"math"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/facets"
)

// Flats one by one, by hand. A hexagon in a round of 24 whose flats lie 10 from the axis reads 12 + 10 over
// the round, and 20 where the flat opposite is cut: of 1, 3, 5 none is opposite another, of 2, 4, 6 all are.
// With 0.5 left it is 10.5 and 12 or 10.5, then 10 and 10.5 or 10. On a head of 40:1 two flats are 13 turns and
// a third: 5 holes of 15; from flat 5 to flat 2 it is three flats, 20 turns, and from flat 6 to flat 1 one, 6 and
// 10 holes. On a table of 90:1 flat 3 is at 30 turns; flat 2 at 15.
func TestCutsByHand(t *testing.T) {
	mm := units.MustLength
	head := &shop.DividingHead{Ratio: 40, Plates: [][]int{{15, 16}}}
	for _, tc := range []struct {
		name     string
		sides    int
		leave    string
		on       facets.Indexing
		finished bool
		want     []string
	}{
		{"hexagon on the head", 6, "0mm", facets.Indexing{Head: head}, true, []string{
			"Flat 1: it reads 22 mm, over it and what stands opposite.",
			"Flat 3: crank on 13 turns and 5 spaces on the 15 circle; it reads 22 mm.",
			"Flat 5: crank on 13 turns and 5 spaces on the 15 circle; it reads 22 mm.",
			"Flat 2: crank on 20 turns; it reads 20 mm.",
			"Flat 4: crank on 13 turns and 5 spaces on the 15 circle; it reads 20 mm.",
			"Flat 6: crank on 13 turns and 5 spaces on the 15 circle; it reads 20 mm.",
			"Crank on 6 turns and 10 spaces on the 15 circle: the place of flat 1 comes up again, and what cuts must only " +
				"just touch there.",
		}},
		{"hexagon on the table, roughed", 6, "0.5mm", facets.Indexing{Rotary: &shop.RotaryTable{Ratio: 90}}, false, []string{
			"Flat 1: it reads 22.5 mm, over", "Flat 3: handwheel 30 turns from flat 1's place; it reads 22.5 mm.",
			"Flat 5: handwheel 60 turns from", "Flat 2: handwheel 15 turns from flat 1's place; it reads 21 mm.",
			"Flat 4: ", "Flat 6: ", "Bring the place of flat 1 up once more",
		}},
		{"and finished", 6, "0.5mm", facets.Indexing{Blocks: []int{6}}, true, []string{
			"Flat 1: it reads 20.5 mm, over", "Flat 3: 2 faces of the block on; it reads 20.5 mm.", "Flat 5: 2 faces",
			"Flat 2: 3 faces of the block on; it reads 20 mm.", "Flat 4: ", "Flat 6: ", "Bring",
		}},
		{"two flats by hand", 2, "0mm", facets.Indexing{}, true, []string{
			"Flat 1: it reads 22 mm, over", "Flat 2: turned 180 deg from flat 1; it reads 20 mm.",
		}},
		{"sixteen flats", 16, "0mm", facets.Indexing{Head: head}, true, []string{
			"Every second flat first (1, 3, 5 …), then those between (2, 4, 6 …), 16 in all: crank on 5 turns from each to " +
				"the next, and 7 turns and 8 spaces on the 16 circle from flat 15 to flat 2.",
			"The first, flat 1, reads ", "Crank on 2 turns and 8 spaces on the 16 circle: ",
		}},
		{"sixteen flats by hand", 16, "0mm", facets.Indexing{}, true, []string{
			"Every second flat first (1, 3, 5 …), then those between (2, 4, 6 …), 16 in all: flat 2 stands 22.5 deg from " +
				"flat 1, flat 3 45 deg, and so on.", "The first",
		}},
		{"fourteen flats that no circle divides", 14, "0mm", facets.Indexing{Head: head}, true, []string{
			"Every second flat first (1, 3, 5 …), then those between (2, 4, 6 …), 14 in all: crank on to flat 3: 5 turns and",
			"The first", "Crank on",
		}},
	} {
		round := facets.Round{Dia: mm("24mm"), Apothem: mm("10mm")}
		if tc.sides > 12 { // no flatter than the round allows
			round.Apothem = units.FromFloat(12 * math.Cos(math.Pi/float64(tc.sides)))
		}
		order := facets.OutOf(tc.sides, mm(tc.leave), units.Angle{}, tc.on, round)
		got := order.Cuts(tc.finished)
		if len(got) != len(tc.want) {
			t.Fatalf("%s: %s", tc.name, say.Join(got, "\n"))
		}
		for i, want := range tc.want {
			if text := got[i].In(units.MM); !strings.HasPrefix(text, want) {
				t.Errorf("%s: got %s\nwant %s", tc.name, text, want)
			}
		}
	}
}

// A taper reads at both ends: 12 + 10 at the large one, 9 + 7 at the small.
func TestCutsOfATaper(t *testing.T) {
	mm := units.MustLength
	order := facets.OutOf(4, units.Length{}, units.Degrees(5), facets.Indexing{Blocks: []int{4}},
		facets.Round{Dia: mm("24mm"), Apothem: mm("10mm")}, facets.Round{Dia: mm("18mm"), Apothem: mm("7mm")})
	got := say.Join(order.Cuts(true), "\n").In(units.MM)
	const want = "Flat 1: it reads 22 mm at the large end, 16 mm at the small, over it and what stands opposite.\n" +
		"Flat 3: 2 faces of the block on; it reads 20 mm at the large end, 14 mm at the small."
	if !strings.HasPrefix(got, want) {
		t.Errorf("got %s", got)
	}
}
