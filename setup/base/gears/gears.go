// Package gears finds trains of change wheels for an exact ratio, for threads
// and for differential dividing alike.
//
// A train of two wheels is a driver a and a driven wheel b; one of four is
// a/b · c/d with b and c on one stud; one of six adds e/f. Its ratio is
//
//	i = (a·c·e) / (b·d·f)
//
// turns of the last wheel to one of the first. The order of the drivers among
// themselves, and of the driven, does not change it, so a train is counted
// once however it is ordered, and comes out in the order that meshes with the
// most room to spare.
//
// # Room on the banjo
//
// Two wheels in mesh stand (a + b)/2 modules apart. The wheel c on b's stud
// must clear a's shaft, and b must clear d's:
//
//	a + b > c + k    c + d > b + k
//
// with k the diameter of a shaft and its bush in teeth (modules), and so on
// down the train. Whether the banjo's slots reach is not known here.
//
// # How the search is exact
//
// All products of one, two and three wheels are made once. For each product of
// drivers the products of driven wheels near the wanted one are found in the
// sorted list and looked at outwards, until none can be better than what was
// kept. Ratios are compared in float64 and, where those are too near to tell,
// in whole numbers.
//
// Source: elementary; the rule for room on the banjo is common practice.
package gears

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
)

// The wheels that are read.
const (
	MinTeeth  = 5
	MaxTeeth  = 500
	MaxSizes  = 64 // different sizes in one box
	MaxSpace  = 100
	MaxTrains = 100_000 // trains listed at once
)

// Train is a train of wheels in the order it is set up: Drivers[i] drives
// Driven[i], which shares its stud with Drivers[i+1].
type Train struct {
	Drivers []int `json:"drivers" show:"drivers"`
	Driven  []int `json:"driven" show:"driven"`
}

// Reverses reports whether the last wheel turns against the first, without any
// idler: each pair in mesh turns the sense round once. One idler between two
// wheels of the train turns it round once more and leaves the ratio alone.
func (t Train) Reverses() bool { return len(t.Drivers)%2 == 1 }

// Room returns the least room between a wheel and the shaft beside it, in
// teeth: the largest k for which a + b >= c + k and so on down the train. It is
// false for a train of two wheels, where nothing can meet.
func (t Train) Room() (int, bool) {
	room := math.MaxInt
	for i := range len(t.Drivers) - 1 {
		room = min(room,
			t.Drivers[i]+t.Driven[i]-t.Drivers[i+1],
			t.Drivers[i+1]+t.Driven[i+1]-t.Driven[i])
	}
	return room, len(t.Drivers) > 1
}

// Text returns the train as it is written on a card: "30/60 x 20/45".
func (t Train) Text() string {
	var pairs []string
	for i, driver := range t.Drivers {
		pairs = append(pairs, fmt.Sprintf("%d/%d", driver, t.Driven[i]))
	}
	return strings.Join(pairs, " x ")
}

// Found is a train with what it gives: its ratio, and its error as a fraction
// of the target, ratio/target - 1, both exact.
type Found struct {
	Train
	Ratio *big.Rat `json:"-"`
	Error *big.Rat `json:"-"`
}

// PPM returns the error in parts per million, to the nearest float64.
func (f Found) PPM() float64 {
	e, _ := new(big.Rat).Mul(f.Error, big.NewRat(1_000_000, 1)).Float64()
	return e
}

// Box is the wheels owned, with every product of one, two and three of them.
// It may be asked for any number of targets, by several goroutines at once.
type Box struct {
	sizes []int // different sizes, rising
	owned []int // how many of each
	space *int  // room a train must have on the banjo; nil asks for none
	rows  [3][]group
}

// group is one choice of wheels (as indexes into Box.sizes, rising, the first
// n used) with its product and its teeth.
type group struct {
	product int64
	teeth   int // in all
	mask    uint64
	at      [3]uint8
	n       uint8
}

// New returns the box of the wheels, each named as often as it is owned: 5 to
// 500 teeth, at most 64 different sizes. most is the most wheels in a train:
// 2, 4 or 6. space is the room on the banjo in teeth, 0 to 100; nil when it is
// not known, and then no train is left out for it.
func New(wheels []int, most int, space *int) (*Box, error) {
	var l check.List
	for _, w := range wheels {
		l.Between("gears", w, MinTeeth, MaxTeeth, "teeth in a wheel")
	}
	l.Refuse(len(wheels) < 2, problem.Missing, "gears", say.Count(len(wheels), "wheel", "wheels"),
		"a train needs two wheels")
	l.Refuse(most != 2 && most != 4 && most != 6, problem.OutOfRange, "wheels", most, "a train here has 2, 4 or 6 wheels")
	l.Between("banjo", space, 0, MaxSpace, "teeth beside a wheel")
	b := &Box{space: space}
	sorted := slices.Sorted(slices.Values(wheels))
	for i, w := range sorted {
		if i == 0 || w != sorted[i-1] {
			b.sizes, b.owned = append(b.sizes, w), append(b.owned, 0)
		}
		b.owned[len(b.owned)-1]++
	}
	l.Refuse(len(b.sizes) > MaxSizes, problem.TooLarge, "gears", say.Of(len(b.sizes), " sizes"),
		"at most ", MaxSizes, " different wheels are searched")
	if err := l.Err(); err != nil {
		return nil, err
	}
	b.gather(group{product: 1}, 0, most/2)
	for _, row := range b.rows {
		slices.SortFunc(row, func(g, h group) int { return cmp.Compare(g.product, h.product) })
	}
	return b, nil
}

// gather appends every choice that adds wheels from the index from on to g.
func (b *Box) gather(g group, from, most int) {
	for i := from; i < len(b.sizes); i++ {
		h := g
		h.at[h.n] = uint8(i)
		h.n++
		if h.count(uint8(i)) > b.owned[i] {
			continue
		}
		h.product *= int64(b.sizes[i])
		h.teeth += b.sizes[i]
		h.mask |= 1 << i
		b.rows[h.n-1] = append(b.rows[h.n-1], h)
		if int(h.n) < most {
			b.gather(h, i, most)
		}
	}
}

// count returns how many wheels of the size at index i the choice has.
func (g *group) count(i uint8) int {
	n := 0
	for _, j := range g.at[:g.n] {
		if j == i {
			n++
		}
	}
	return n
}

// wheels returns the wheels of a choice, smallest first.
func (b *Box) wheels(g *group) []int {
	t := make([]int, g.n)
	for k, i := range g.at[:g.n] {
		t[k] = b.sizes[i]
	}
	return t
}

// enough reports whether the box has the wheels of both choices at once.
func (b *Box) enough(g, h *group) bool {
	if g.mask&h.mask == 0 {
		return true
	}
	for _, i := range g.at[:g.n] {
		if g.count(i)+h.count(i) > b.owned[i] {
			return false
		}
	}
	return true
}

// orders are the orders of one, two and three things.
var orders = [4][][]int{
	1: {{0}},
	2: {{0, 1}, {1, 0}},
	3: {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}},
}

// arrange returns the train of two choices in the order with the most room,
// the first of several alike, and false when the banjo wants more.
func (b *Box) arrange(g, h *group) (Train, bool) {
	drivers, driven := b.wheels(g), b.wheels(h)
	if len(drivers) == 1 {
		return Train{drivers, driven}, true
	}
	n := len(drivers)
	var best, t [2][3]int
	most := math.MinInt
	for _, p := range orders[n] {
		for i, j := range p {
			t[0][i] = drivers[j]
		}
		for _, q := range orders[n] {
			for i, j := range q {
				t[1][i] = driven[j]
			}
			if room, _ := (Train{t[0][:n], t[1][:n]}).Room(); room > most {
				most, best = room, t
			}
		}
	}
	copy(drivers, best[0][:n])
	copy(driven, best[1][:n])
	return Train{drivers, driven}, b.space == nil || most > *b.space
}
