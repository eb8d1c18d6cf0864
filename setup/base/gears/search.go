package gears

import (
	"cmp"
	"math"
	"math/big"
	"slices"
	"sort"

	"setover/setup/base/check"
	"setover/setup/base/problem"
)

// mostRatio is the largest target that is read; its inverse is the least.
const mostRatio = 1_000_000

// Query says which trains are wanted.
type Query struct {
	Keep  int      // the best so many; 0 is every one, up to 100,000
	Limit *big.Rat // the largest error as a fraction of the target; nil is any, 0 only exact
}

// Search returns the trains of the box for a target ratio, the best first: the
// least error either way, then the fewest wheels, then the fewest teeth, then
// the smaller drivers. The search is exact: no train of the box that belongs
// in the answer is missing.
//
// It fails when the target is not 1/1,000,000 to 1,000,000, when Keep or Limit
// is negative, and when every train is asked for and there are more than
// 100,000.
func (b *Box) Search(target *big.Rat, q Query) ([]Found, error) {
	var l check.List
	l.Refuse(target.Cmp(big.NewRat(1, mostRatio)) < 0 || target.Cmp(big.NewRat(mostRatio, 1)) > 0,
		problem.OutOfRange, "ratio", target.RatString(), "a ratio here is 1/1000000 to 1000000")
	l.NotBelow0("keep", q.Keep)
	l.Refuse(q.Limit != nil && q.Limit.Sign() < 0, problem.OutOfRange, "max-error", q.Limit, "cannot be negative")
	if err := l.Err(); err != nil {
		return nil, err
	}
	s := search{box: b, target: target, limit: q.Limit, bound: math.Inf(1), keep: q.Keep}
	s.num, _ = target.Float64()
	if q.Limit != nil {
		s.most, _ = q.Limit.Float64()
		s.bound = s.most
	}
	for _, row := range b.rows {
		for i := range row {
			s.near(&row[i], row)
			if q.Keep == 0 && len(s.kept) > MaxTrains {
				return nil, problem.New(problem.TooLarge, "gears", nil, "these wheels make more than ", MaxTrains,
					" trains: give the largest error that will do")
			}
		}
	}
	slices.SortFunc(s.kept, s.order)
	found := make([]Found, len(s.kept))
	for i, c := range s.kept {
		found[i].Train, _ = b.arrange(c.drivers, c.driven)
		found[i].Ratio = big.NewRat(c.drivers.product, c.driven.product)
		e := new(big.Rat).Quo(found[i].Ratio, target)
		found[i].Error = e.Sub(e, big.NewRat(1, 1))
	}
	return found, nil
}

// candidate is a train in the search with its error in float64.
type candidate struct {
	drivers, driven *group
	off             float64 // |ratio/target - 1|
}

// search is one run over a box. The best so many are kept in order, all of them
// as they come.
type search struct {
	box    *Box
	target *big.Rat
	num    float64 // the target
	limit  *big.Rat
	most   float64 // the limit
	bound  float64 // nothing further off than this is wanted
	keep   int     // 0: all
	kept   []candidate
}

// doubt is how far a float64 error of the size e may be from the exact one: a
// few units in the last place of ratio/target, generously.
func doubt(e float64) float64 { return 1e-14 * (1 + e) }

// near looks at the driven choices in row for one choice of drivers, from the
// wanted product outwards both ways.
func (s *search) near(g *group, row []group) {
	want := float64(g.product) / s.num
	mid := sort.Search(len(row), func(i int) bool { return float64(row[i].product) >= want })
	for i := mid; i < len(row) && s.look(g, &row[i]); i++ {
	}
	for i := mid - 1; i >= 0 && s.look(g, &row[i]); i-- {
	}
}

// look keeps a train if it belongs among the best. It returns false when it
// and all trains further off do not.
func (s *search) look(g, h *group) bool {
	c := candidate{g, h, math.Abs(float64(g.product)/float64(h.product)/s.num - 1)}
	if c.off > s.bound+doubt(c.off) {
		return false
	}
	full := s.keep > 0 && len(s.kept) == s.keep
	if full && s.order(c, s.kept[s.keep-1]) >= 0 || !s.box.enough(g, h) || !s.within(c) {
		return true
	}
	if s.box.space != nil {
		if _, fits := s.box.arrange(g, h); !fits {
			return true
		}
	}
	if s.keep == 0 {
		s.kept = append(s.kept, c)
		return true
	}
	place, _ := slices.BinarySearchFunc(s.kept, c, s.order)
	s.kept = slices.Insert(s.kept, place, c)
	if len(s.kept) >= s.keep {
		s.kept = s.kept[:s.keep]
		s.bound = s.kept[s.keep-1].off
	}
	return true
}

// within reports whether a train's error is inside the limit, exactly.
func (s *search) within(c candidate) bool {
	if s.limit == nil || c.off < s.most-doubt(c.off) {
		return true
	}
	e := new(big.Rat).Quo(big.NewRat(c.drivers.product, c.driven.product), s.target)
	e.Sub(e, big.NewRat(1, 1))
	return e.Abs(e).Cmp(s.limit) <= 0
}

// order compares two trains, the better one first.
func (s *search) order(a, b candidate) int {
	if c := s.closer(a, b); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(a.drivers.n, b.drivers.n),
		cmp.Compare(a.drivers.teeth+a.driven.teeth, b.drivers.teeth+b.driven.teeth),
		slices.Compare(a.drivers.at[:], b.drivers.at[:]), slices.Compare(a.driven.at[:], b.driven.at[:]))
}

// closer compares the errors of two trains without their signs, exactly. With
// the target p/q a train's error is |D·q - N·p| / (N·p).
func (s *search) closer(a, b candidate) int {
	if a.drivers.product*b.driven.product == b.drivers.product*a.driven.product {
		return 0
	}
	if math.Abs(a.off-b.off) > 2*doubt(max(a.off, b.off)) {
		return cmp.Compare(a.off, b.off)
	}
	return s.cross(a, b).Cmp(s.cross(b, a))
}

// cross returns |D·q - N·p| of a times N of b.
func (s *search) cross(a, b candidate) *big.Int {
	x := new(big.Int).Mul(big.NewInt(a.drivers.product), s.target.Denom())
	x.Sub(x, new(big.Int).Mul(big.NewInt(a.driven.product), s.target.Num()))
	return x.Abs(x).Mul(x, big.NewInt(b.driven.product))
}
