package divide

import (
	"math/big"
	"strings"

	"setover/setup/base/gears"
	"setover/setup/page/sheet"
)

// Differential is a division that no circle gives, made exact by a train from
// the spindle to the plate. The crank is indexed as for As divisions, which a
// circle gives, and the train turns the plate meanwhile by what is missing.
//
// Ratio is turns of the plate to one of the spindle: with + the plate turns
// the same way as the crank, with - against it. Idlers is how many wheels
// between turn the sense right on a head whose plate, driven by one pair
// without idlers, turns against the crank.
type Differential struct {
	As        int    `json:"as_divisions"`
	Ratio     string `json:"ratio"`
	Direction string `json:"plate_direction"`
	gears.Train
	Idlers int      `json:"idlers"`
	Index  Solution `json:"index"`
}

// The ways a plate turns.
const (
	WithCrank    = "with-crank"
	AgainstCrank = "against-crank"
)

// PlateRatio returns the turns of the plate to one of the spindle that make N
// divisions of an indexing for A:
//
//	i = (A - N)·R/A
//
// R is the head's ratio. While the spindle makes one turn, the crank is moved
// N times by R/A of a turn against the plate, and together with the plate's own
// i turns it must come to R. A, N and R are above 0. It is exact.
//
// Source: the handbooks' formula, from memory: 51 by way of 50 is -4/5.
func PlateRatio(n, as, ratio int) *big.Rat {
	return big.NewRat(int64(as-n)*int64(ratio), int64(as))
}

// reach is how far from N another number of divisions is looked for.
const reach = 60

// differential looks for the train of the shop's wheels that makes N divisions
// of the nearest number that a circle gives.
func (r *Result) differential(circles []circle) {
	n, wheels := r.Inputs.N, r.Inputs.Wheels
	if len(wheels) < 2 {
		r.NotChecked("lathe: change_gears", "no change wheels in this shop: differential dividing was not looked for")
		return
	}
	box, err := gears.New(wheels, 4, nil)
	if err != nil {
		r.Warn("not-checked", "the change wheels of this shop cannot be searched: ", err)
		return
	}
	for step := 1; step <= reach; step++ {
		for _, as := range []int{n - step, n + step} {
			if as < 1 {
				continue
			}
			index, ok := exactly(as, r.ratio, circles)
			if !ok {
				continue
			}
			ratio := PlateRatio(n, as, r.ratio)
			found, err := box.Search(new(big.Rat).Abs(ratio), gears.Query{Keep: 1, Limit: new(big.Rat)})
			if err != nil || len(found) == 0 {
				continue
			}
			d := Differential{As: as, Ratio: ratio.RatString(), Direction: WithCrank, Train: found[0].Train, Index: index}
			if ratio.Sign() < 0 {
				d.Direction = AgainstCrank
			}
			if found[0].Reverses() == (ratio.Sign() > 0) {
				d.Idlers = 1
			}
			r.Differential = &d
			return
		}
	}
	r.Warn("no-train", "no train of the shop's wheels makes ", n, " divisions of ", max(1, n-reach), " to ", n+reach)
}

// exactly returns the circle that counts a number of divisions exactly, the
// one with the fewest spaces.
func exactly(n, ratio int, circles []circle) (best Solution, ok bool) {
	for _, c := range circles {
		if ratio*c.holes%n != 0 {
			continue
		}
		if s := solve(big.NewRat(1, int64(n)), ratio, c); !ok || s.Spaces < best.Spaces {
			best, ok = s, true
		}
	}
	return best, ok
}

// on adds the differential to a sheet.
func (d Differential) on(s *sheet.Sheet, n, ratio int) {
	idlers := "no idler, or two"
	if d.Idlers > 0 {
		idlers = "one idler"
	}
	s.Fact("exact by differential", sheet.Text(d.Text()), "drivers over driven, from the spindle to the plate, ",
		idlers)
	s.Fact("the plate turns", sheet.Text(strings.ReplaceAll(d.Direction, "-", " the ")))
	s.Fact("index as for", sheet.Count(d.As),
		d.Index.Turns, " turns and ", d.Index.Spaces, " spaces on the circle of ", d.Index.Circle)
	i, _ := PlateRatio(n, d.As, ratio).Float64()
	s.Step("plate", "(A - N)*R/A", sheet.Num(i, 0, "turns to one of the spindle"), "A", d.As, "N", n, "R", ratio)
	s.Note("Differential: the plate is left free of its stop, and the train runs from the spindle to it. ",
		"Try it once round and see that the plate turns the right way: if not, add an idler or take one out.")
}
