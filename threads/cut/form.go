package cut

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
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
//	60 deg outside    c = H/8   t = 0, H/8 (flat P/8), H/6 (rounded)
//	60 deg inside     c = H/4   t = 0, H/8 (flat P/8), H/12 (rounded)
//	55 deg, BA, NPT   c = (H - h)/2, h the form's depth; t = 0, or c for both others
//	trapezoidal, ACME c and t from the form: depth P/2 and the clearance, full only
//
// which makes 0.758 P, 0.6495 P and 0.613 P outside at 60 deg and 0.6403 P for
// Whitworth. The depth is the basic one: a class takes its allowance off the
// blank and the pitch diameter alike. It is float64, good to 1e-12 mm beside
// the sizes it starts from.
//
// It fails on a nose that is none of the three, and on a trapezoidal or ACME
// thread with another nose than full.
//
// Source: ISO 68-1, BS 84, BS 93, ASME B1.20.1, ISO 2901 and ASME B1.5 for the
// forms; H/12 inside is from memory.
func GrooveOf(d threads.Designation, inside bool, nose Nose) (Groove, error) {
	if nose != Sharp && nose != Flat && nose != Full {
		return Groove{}, problem.New(problem.Unknown, "nose", string(nose), "not a nose: write sharp, flat or full").Near(Noses)
	}
	a, p := d.Form.HalfAngle(), d.Pitch.MM()
	g := Groove{Half: a}
	h := p / (2 * a.Tan())
	c, t, round := 0.0, 0.0, nose == Full
	switch d.Form {
	case threads.Trapezoidal, threads.Acme:
		if nose != Full {
			return Groove{}, problem.New(problem.Contradiction, "nose", string(nose), fmt.Sprintf("%v is cut with a tool of its own form: write full", d))
		}
		clear := d.Clearance().MM()
		g.Depth = p/2 + clear
		g.T = (p/2 - 2*(p/4+clear)*a.Tan()) / (2 * a.Tan())
		return g, nil
	case threads.Metric, threads.Unified:
		c, t = h/8, h/8
		if inside {
			c = h / 4
		}
		if nose == Full {
			t = h / 6
			if inside {
				t = h / 12
			}
		}
	default:
		c = (h - d.Sizes().Depth().MM()) / 2
		if d.Form == threads.NPT {
			c, round = (h-0.8*p)/2, false
		}
		t = c
	}
	if nose == Sharp {
		t = 0
	}
	g.Depth, g.T = h-c-t, t
	if round {
		g.R = t / (1/a.Sin() - 1)
	}
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

// at returns the depth at which the groove has a section.
func (g Groove) at(area float64) float64 {
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

// The bounds of a cut when the user gives none (common practice, no source).
const (
	firstCut    = 0.2  // mm on the radius; a form tool's 0.1
	firstForm   = 0.1  //
	leastCut    = 0.03 // below this a tool rubs
	mostPasses  = 40   // before the first cut is made deeper
	deepestPart = 3    // the first cut is at most this part of the depth
)

// schedule returns the depths of the passes, the last the groove's depth, each
// taking off the same section. A first cut that is given is taken as it is and
// the rest share what is left. Where the number of passes is not given it is
// the least that keeps the first cut within its bound, and cuts that would
// come out under 0.03 mm are made even ones of at least that, and even says so.
func (g Groove) schedule(first *float64, passes *int) (depths []float64, even bool) {
	total := g.Area(g.Depth)
	bound := math.Min(firstCut, g.Depth/deepestPart)
	if g.R == 0 && g.T > g.Depth/deepestPart {
		bound = math.Min(firstForm, bound)
	}
	done := 0.0
	if first != nil {
		bound, done = *first, g.Area(*first)
		depths = append(depths, *first)
	}
	rest := int(math.Ceil((total-done)/g.Area(bound) - 1e-9))
	if first == nil {
		rest = min(rest, mostPasses)
	}
	if passes != nil {
		rest = *passes - len(depths)
	}
	for k := 1; k < rest; k++ {
		depths = append(depths, g.at(done+(total-done)*float64(k)/float64(rest)))
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
	last := depths[len(depths)-1]
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
