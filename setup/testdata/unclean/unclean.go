// Package unclean holds one of each thing that the checks of the source find.
package unclean

import (
	"fmt"
	"strconv"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

func sentences(l units.Length, p *units.Power, list []units.Length, pitch units.Pitch) []string {
	return []string{
		fmt.Sprintf("leave %v on it", l),           // finds byhand
		fmt.Sprint(p),                              // finds byhand
		fmt.Sprint(list),                           // finds byhand
		fmt.Sprintf("%.2f mm", 2*l.MM()),           // finds byhand
		strconv.FormatFloat(p.Watts(), 'f', 0, 64), // finds byhand
		string(say.Num(l.MM(), 2)),                 // finds byhand
		l.Up().Fixed(units.MM, 2, units.Up),        // finds byhand
		l.Decimal().String(),                       // finds byhand
		fmt.Sprint(pitch),
		string(say.Of("leave ", l.Down(), " on it")),
	}
}

func choices(l units.Length, inside bool) string {
	s := map[bool]string{true: "in", false: "out"}[inside] // finds clever
	s += [...]string{"under", "", "over"}[l.Sign()+1]      // finds clever
	s += map[int]string{1: "over", -1: "under"}[l.Sign()]  // finds clever
	return s + []string{"a", "b"}[len(s)%2]
}

const wide = "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx" // finds columns

func tall(x int) int { // finds long
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	return x
}

// justTall is tall, and says why.
//
// Long: one line a step of the method in the book, in its order.
func justTall(x int) int {
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	x++
	return x
}

func branched(x int) bool { // finds long
	if x == 0 || x == 1 && x != 2 {
		x++
	}
	for x < 10 || x < 20 {
		x++
	}
	for range x {
		x++
	}
	switch x {
	case 1:
		x++
	case 2:
		x++
	default:
		x++
	}
	return x == 1 || x == 2 || x == 3 || x == 4 || x == 5 || x == 6 || x == 7 || x == 8
}
