package facets

import (
	"math"

	"setover/setup/base/units"
)

// section is the work's cross-section while flats are cut: a round of a radius, or a
// square bar, less what lies beyond each line.
type section struct {
	radius float64
	square bool // no round bounds it: its faces are lines
	lines  []line
}

// line is a flat, or the face of a square bar: so far from the axis, in a direction
// in radians.
type line struct{ dir, far float64 }

// slack is how near to a line a place counts as on it, in mm.
const slack = 1e-7

// holds reports whether a place is in the section.
func (s section) holds(x, y float64) bool {
	if !s.square && math.Hypot(x, y) > s.radius+slack {
		return false
	}
	for _, l := range s.lines {
		if x*math.Cos(l.dir)+y*math.Sin(l.dir) > l.far+slack {
			return false
		}
	}
	return true
}

// reach returns how far the section goes from the axis in a direction: what an
// anvil square to it rests on. It is the farthest of the round there, the places
// where a line cuts the round, and those where two lines meet; of these, one that
// is in the section.
//
// Source: elementary.
func (s section) reach(dir float64) units.Length {
	best := math.Inf(-1)
	try := func(x, y float64) {
		if s.holds(x, y) {
			best = math.Max(best, x*math.Cos(dir)+y*math.Sin(dir))
		}
	}
	if !s.square {
		try(s.radius*math.Cos(dir), s.radius*math.Sin(dir))
	}
	for i, l := range s.lines {
		cos, sin := math.Cos(l.dir), math.Sin(l.dir)
		if half := s.radius*s.radius - l.far*l.far; !s.square && half >= 0 {
			half = math.Sqrt(half)
			try(l.far*cos-half*sin, l.far*sin+half*cos)
			try(l.far*cos+half*sin, l.far*sin-half*cos)
		}
		for _, m := range s.lines[:i] {
			cross := math.Sin(m.dir - l.dir)
			if math.Abs(cross) < slack { // side by side, or opposite
				continue
			}
			along := (m.far - l.far*math.Cos(m.dir-l.dir)) / cross
			try(l.far*cos-along*sin, l.far*sin+along*cos)
		}
	}
	return units.FromFloat(best)
}

// squareBar is a bar whose faces are so far apart, and direction 0 so far past one
// of them: turned on by as much from that face up, direction 0 is up. A direction
// counts how far the work is turned on until it is up.
func squareBar(across units.Length, turn units.Angle) section {
	s := section{square: true}
	for i := range 4 {
		s.lines = append(s.lines, line{float64(i)*math.Pi/2 - turn.Rad(), across.MM() / 2})
	}
	return s
}
