package cut

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/threads"
)

// Nose is the shape of a threading tool's point.
type Nose string

// The noses. Flat is as wide as the form's own flat; full is the form's own
// root: rounded, or the flat of a trapezoidal tool.
const (
	Sharp Nose = "sharp"
	Flat  Nose = "flat"
	Full  Nose = "full"
)

// Noses are the noses by name.
var Noses = []string{string(Sharp), string(Flat), string(Full)}

// usualNose returns the nose a form is cut with where none is said.
func usualNose(f *threads.Form) Nose {
	if f.Tool.Own {
		return Full
	}
	return Flat
}

// Groove is what a threading tool cuts: its flanks' half angle a, the depth
// from the crest, and its nose, either flat or rounded with the radius R. T is
// how far the nose stands short of the flanks' sharp point. All in mm.
type Groove struct {
	Half  units.Angle
	Depth float64
	T, R  float64
}

// GrooveOf returns the groove of a thread for a tool's nose. The sharp
// triangle is H = P/(2·tan a) high; the crest takes c off it and the nose t:
//
//	depth = H - c - t
//
// c and t are the form's (threads.Tool): H/8, H/6 and the like at 60 deg, which
// make 0.758 P, 0.6495 P and 0.613 P outside; (H - h)/2 both where crest and
// root are alike and h is the depth, 0.6403 P for Whitworth; for a tool of the
// form's own, depth P/2 and the clearance, and a flat that follows from it. A
// sharp nose takes t = 0. The depth is the basic one: a class takes its
// allowance off the blank and the pitch diameter alike. It is float64, good to
// 1e-12 mm beside the sizes it starts from.
//
// It fails on a nose that is none of the three, and on another nose than full
// where only the form's own tool cuts it.
//
// Source: that of the form's row.
func GrooveOf(d threads.Designation, inside bool, nose Nose) (Groove, error) {
	var list check.List
	check.OneOf(&list, "nose", string(nose), Noses)
	tool, a, p := d.Form.Tool, d.Form.HalfAngle(), d.Pitch.MM()
	if len(list.List) == 0 && tool.Own && nose != Full {
		list.Add(problem.New(problem.Contradiction, "nose", nose, d, " is cut with a tool of its own form: write full"))
	}
	if len(list.List) > 0 {
		return Groove{}, list.Err()
	}
	h, depth := p/(2*a.Tan()), d.Depth().MM()
	if tool.Own {
		flat := p/2 - 2*(depth-p/4)*a.Tan()
		return Groove{Half: a, Depth: depth, T: flat / (2 * a.Tan())}, nil
	}
	c := tool.Outside
	switch {
	case tool.Alike:
		part := (h - depth) / 2 / h
		c = threads.Truncation{Crest: part, Flat: part, Round: part}
	case inside:
		c = tool.Inside
	}
	g := Groove{Half: a, T: c.Flat * h}
	switch {
	case nose == Sharp:
		g.T = 0
	case nose == Full && tool.Rounded:
		g.T = c.Round * h
		g.R = g.T / (1/a.Sin() - 1)
	}
	g.Depth = h - c.Crest*h - g.T
	return g, nil
}

// Area returns the section of the groove cut to the depth x, in mm2: with a
// flat nose tan a·((x + T)^2 - T^2), with a rounded one the circle's segment
// until the flanks cut, then the triangle less what the rounding leaves out,
//
//	tan a·(x + T)^2 - R^2·(cot a - (pi/2 - a))
//
// x is 0 or more.
func (g Groove) Area(x float64) float64 {
	a := g.Half.Rad()
	if g.R == 0 {
		return math.Tan(a) * ((x+g.T)*(x+g.T) - g.T*g.T)
	}
	if x < g.R*(1-math.Sin(a)) {
		return g.R*g.R*math.Acos(1-x/g.R) - (g.R-x)*math.Sqrt(2*g.R*x-x*x)
	}
	return math.Tan(a)*(x+g.T)*(x+g.T) - g.R*g.R*(1/math.Tan(a)-(math.Pi/2-a))
}

// depthOf returns the depth at which the groove has a section.
func (g Groove) depthOf(area float64) float64 {
	low, high := 0.0, g.Depth
	for range 60 {
		if mid := (low + high) / 2; g.Area(mid) < area {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// schedule returns the depths of the passes, the last the groove's depth, each
// taking off the same section. A first cut that is given is taken as it is and
// the rest share what is left. Where the number of passes is not given it is
// the least that keeps the first cut within its bound, and cuts that would
// come out under 0.03 mm are made even ones of at least that, and even says so.
func (g Groove) schedule(first *float64, passes *int) (depths []float64, even bool) {
	total, most := g.Area(g.Depth), g.Depth/practice.ThreadFirstPart.Number()
	bound := math.Min(practice.ThreadFirstCut.Length().MM(), most)
	if g.R == 0 && g.T > most {
		bound = math.Min(practice.ThreadFirstForm.Length().MM(), bound)
	}
	done := 0.0
	if first != nil {
		bound, done = *first, g.Area(*first)
		depths = append(depths, *first)
	}
	rest := int(math.Ceil((total-done)/g.Area(bound) - 1e-9))
	if first == nil {
		rest = min(rest, int(practice.ThreadMostPasses.Number()))
	}
	if passes != nil {
		rest = *passes - len(depths)
	}
	for k := 1; k < rest; k++ {
		depths = append(depths, g.depthOf(done+(total-done)*float64(k)/float64(rest)))
	}
	depths = append(depths, g.Depth)
	if passes != nil {
		return depths, false
	}
	return evened(depths)
}

// evened replaces the cuts at the end that are under the least by even ones of
// at least that, none deeper than the cut before, and reports whether there
// were any. The first cut stays.
func evened(depths []float64) ([]float64, bool) {
	last, leastCut := depths[len(depths)-1], practice.ThreadLeastCut.Length().MM()
	k := 1
	for k < len(depths) && depths[k]-depths[k-1] >= leastCut {
		k++
	}
	if k >= len(depths) {
		return depths, false
	}
	for j := k - 1; j >= 0; j-- {
		before := depths[0]
		if j > 0 {
			before = depths[j] - depths[j-1]
		}
		n := math.Floor((last - depths[j]) / leastCut)
		if n < 1 || (last-depths[j])/n > before && j > 0 {
			continue
		}
		out := depths[: j+1 : j+1]
		for i := 1.0; i < n; i++ {
			out = append(out, depths[j]+(last-depths[j])*i/n)
		}
		return append(out, last), true
	}
	return depths, false
}
