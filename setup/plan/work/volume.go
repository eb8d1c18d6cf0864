package work

import (
	"math"
	"slices"
)

// Volume returns how much metal there is, in mm³: the area of the section, summed
// from end to end by Simpson's rule over each h along which it is smooth,
//
//	V = h/6·(A1 + 4·Am + A2)
//
// which is exact for cylinders, cones and prisms; a polygon whose corners were
// turned off along a cone is cut into 32, good to 1e-4 of it. Where bores
// overlap, the widest is taken out once, and none is wider than the work. Cross
// holes, slots, threads and centre holes are left out; of a block it is the box.
// Source: elementary.
func (w State) Volume() float64 {
	if w.Box != nil {
		s := w.Box.Size
		return s[0].MM() * s[1].MM() * s[2].MM()
	}
	var bores []Piece
	for _, b := range w.Bores {
		bores = append(bores, b.lines(w)...)
	}
	v := 0.0
	for _, p := range w.Outside {
		v += p.volume(bores)
	}
	return v
}

// volume returns the metal of a piece without what is bored out of it.
func (p Piece) volume(bores []Piece) float64 {
	places := []Len{p.From, p.To}
	if cos := math.Cos(math.Pi / float64(p.Sides)); p.Sides > 2 { // from where its corners are whole
		places = crossing(places, p.Span, p.FlatLeft, p.FlatRight, Float(p.Left.MM()*cos), Float(p.Right.MM()*cos))
	}
	for i, b := range bores {
		if !b.Overlaps(p.Span) {
			continue
		}
		in := b.Meet(p.Span)
		places = append(places, in.From, in.To)
		places = crossing(places, in, b.at(in.From), b.at(in.To), p.at(in.From), p.at(in.To))
		for _, c := range bores[:i] {
			if c.Overlaps(in) {
				both := c.Meet(in)
				places = crossing(places, both, b.at(both.From), b.at(both.To), c.at(both.From), c.at(both.To))
			}
		}
	}
	slices.Sort(places)
	v := 0.0
	for i := 1; i < len(places); i++ {
		if places[i-1] == places[i] {
			continue
		}
		s := Span{places[i-1], places[i]}
		var hole Piece // the widest along all of it
		for _, b := range bores {
			if b.Covers(s) && b.at(s.From)+b.at(s.To) > hole.Left+hole.Right {
				hole = b.cut(s)
			}
		}
		v += p.cut(s).less(hole)
	}
	return v
}

// less returns the volume of a piece less that of a hole along all of it.
func (p Piece) less(hole Piece) float64 {
	n := 1
	if p.Sides > 0 {
		n = 32
	}
	area := func(part float64) float64 {
		line := func(left, right Len) float64 { return left.MM() + part*(right-left).MM() }
		a := sectionOf(line(p.Left, p.Right), line(p.FlatLeft, p.FlatRight), p.Sides)
		d := line(hole.Left, hole.Right)
		return max(0, a-math.Pi/4*d*d)
	}
	v, h := 0.0, 1/float64(n)
	for i := range n {
		t := float64(i) * h
		v += h / 6 * (area(t) + 4*area(t+h/2) + area(t+h))
	}
	return v * p.Length().MM()
}

// sectionOf returns the section of a round of diameter D in mm with n flats, each F/2
// from the axis, in mm²:
//
//	n = 0                       π/4·D²
//	no round left at a corner   n·F²/4·tan(180°/n)
//	else                        n·F/4·√(D² - F²) + D²/4·(π - n·acos(F/D))
//
// n is 0 or at least 2, 0 <= F <= D. Source: elementary.
func sectionOf(dia, flat float64, sides int) float64 {
	n := float64(sides)
	if sides == 0 || flat >= dia {
		return math.Pi / 4 * dia * dia
	}
	if half := math.Pi / n; math.Acos(flat/dia) >= half {
		return n * flat * flat / 4 * math.Tan(half)
	}
	return n*flat/4*math.Sqrt(dia*dia-flat*flat) + dia*dia/4*(math.Pi-n*math.Acos(flat/dia))
}
