package shop

import (
	"cmp"
	"math/big"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Counted is a part of the circle as a dividing head's crank counts it: whole
// turns, and the spaces on a circle of holes. Off is what the pin's hole is past
// the exact place, in turns of the crank.
type Counted struct {
	Plate  int // from 1; 0 where the circle is on none that is owned
	Circle int // holes
	Turns  int
	Spaces int
	Off    *big.Rat
}

// Holes returns the whole count on the circle: turns and spaces.
func (c Counted) Holes() int { return c.Turns*c.Circle + c.Spaces }

// String returns "13 turns and 5 spaces on the 15 circle", as any sheet or card words it.
func (c Counted) String() string {
	text := say.Count(c.Turns, "turn", "turns")
	if c.Spaces > 0 {
		text += say.Of(" and ", say.Count(c.Spaces, "space", "spaces"), " on the ", c.Circle, " circle")
	}
	return string(text)
}

// Error returns how far the spindle of a head of the ratio stands past the exact
// place.
func (c Counted) Error(ratio int) units.Angle {
	deg, _ := new(big.Rat).Mul(c.Off, big.NewRat(360, int64(ratio))).Float64()
	return units.Degrees(deg)
}

// Count returns how a circle of that many holes counts a part of the circle, 0 or
// more: to the nearest hole, and a half space up. In whole numbers, so that what is
// exact is exact.
//
// Source: US Army OD 16448 (milling, the dividing head): R turns of the crank to
// one of the spindle, the fraction of a turn counted in spaces.
func (h DividingHead) Count(part *big.Rat, holes int) Counted {
	turns := new(big.Rat).Mul(part, big.NewRat(int64(h.Ratio), 1))
	scaled := new(big.Rat).Mul(turns, big.NewRat(int64(holes), 1))
	twice := new(big.Int).Add(new(big.Int).Lsh(scaled.Num(), 1), scaled.Denom())
	n := new(big.Int).Div(twice, new(big.Int).Lsh(scaled.Denom(), 1)) // floor(x + 1/2)
	off := new(big.Rat).SetFrac(n, big.NewInt(int64(holes)))
	total := int(n.Int64())
	return Counted{Circle: holes, Turns: total / holes, Spaces: total % holes, Off: off.Sub(off, turns)}
}

// Set returns the circle of the head's plates that counts a part of the circle
// best: the least off, then the fewest spaces, then the smallest circle. It reports
// whether there is a circle.
func (h DividingHead) Set(part *big.Rat) (best Counted, ok bool) {
	for i, plate := range h.Plates {
		for _, holes := range plate {
			c := h.Count(part, holes)
			c.Plate = i + 1
			if !ok || c.Compare(best) < 0 {
				best, ok = c, true
			}
		}
	}
	return best, ok
}

// Compare orders two ways to count one division, the better one first.
func (c Counted) Compare(d Counted) int {
	off := func(x Counted) *big.Rat { return new(big.Rat).Abs(x.Off) }
	return cmp.Or(off(c).Cmp(off(d)), cmp.Compare(c.Spaces, d.Spaces), cmp.Compare(c.Circle, d.Circle))
}

// Set returns the handwheel's whole turns for a part of the circle, 0 or more, and
// what is left of one as an angle of the table. What rounds to a whole turn at the
// second is one.
func (t RotaryTable) Set(part *big.Rat) (turns int, left units.Angle) {
	exact := new(big.Rat).Mul(part, big.NewRat(int64(t.Ratio), 1))
	whole := new(big.Int).Div(exact.Num(), exact.Denom())
	turn := units.Degrees(360 / float64(t.Ratio))
	rest, _ := exact.Sub(exact, new(big.Rat).SetInt(whole)).Float64()
	turns, left = int(whole.Int64()), turn.Times(rest)
	if left.DMS(true) == turn.DMS(true) {
		turns, left = turns+1, left.Minus(turn)
	}
	return turns, left
}
