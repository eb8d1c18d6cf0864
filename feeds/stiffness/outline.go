package stiffness

import (
	"math"
	"slices"
)

// Point is a place on an outline and the diameter there, in mm. An outline is
// straight between its points, which run along z; two at one z make a step.
type Point struct{ Z, Dia float64 }

// Sections returns what stands out of jaws whose face is at a z of the drawing,
// up to an end at another, on either side of it: the outside less what is bored
// out of it. Where bores lie in each other the widest counts; where two cross
// between their points, a straight one that is nowhere narrower. Beyond the
// outside there is no section, which no Layout takes.
func Sections(jaws, end float64, outside []Point, bores ...[]Point) []Section {
	low, high := min(jaws, end), max(jaws, end)
	cuts := []float64{low, high}
	for _, outline := range append([][]Point{outside}, bores...) {
		for _, p := range outline {
			if low < p.Z && p.Z < high {
				cuts = append(cuts, p.Z)
			}
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	if end < jaws {
		slices.Reverse(cuts)
	}
	var list []Section
	for i := 1; i < len(cuts); i++ {
		p, q := cuts[i-1], cuts[i]
		s := Section{From: math.Abs(p - jaws), To: math.Abs(q - jaws)}
		ok := false
		if s.DiaFrom, s.DiaTo, ok = between(outside, p, q); !ok {
			continue
		}
		for _, bore := range bores {
			if b, c, ok := between(bore, p, q); ok {
				s.BoreFrom, s.BoreTo = max(s.BoreFrom, b), max(s.BoreTo, c)
			}
		}
		list = append(list, s)
	}
	return list
}

// between returns an outline's diameters at two places with no point of it
// between them; ok is false where it does not reach.
func between(outline []Point, p, q float64) (at, to float64, ok bool) {
	for i := 1; i < len(outline); i++ {
		a, b := outline[i-1], outline[i]
		if a.Z < b.Z && a.Z <= min(p, q) && max(p, q) <= b.Z {
			slope := (b.Dia - a.Dia) / (b.Z - a.Z)
			dia := func(z float64) float64 {
				if z == b.Z {
					return b.Dia
				}
				return a.Dia + (z-a.Z)*slope
			}
			return dia(p), dia(q), true
		}
	}
	return 0, 0, false
}

// CoreCircle returns the diameter of the circle in a polygon of so many sides,
// of the diameter through its corners; of none it is the round itself.
func CoreCircle(corners float64, sides int) float64 {
	if sides < 3 {
		return corners
	}
	return corners * math.Cos(math.Pi/float64(sides))
}
