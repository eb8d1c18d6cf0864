package threads

import (
	"math"

	"github.com/shopspring/decimal"

	"setover/setup/base/units"
)

// Multiples of the pitch.
const (
	pitch60   = 0.649519052838328985 // 3√3/8 = 3/4 H: major to pitch diameter
	minor60   = 1.082531754730548308 // 5√3/8 = 5/4 H: major to minor diameter
	root60    = 1.226869322027954749 // 17√3/24 = 17/12 H: major to the rounded root
	rootUNR   = 1.190784930203603139 // 11√3/16 = 11/8 H: major to the UNR root
	depth55   = 0.640327
	stressISO = 0.938194187432986868 // (d2 + d3)/2 with d3 = D1 - H/6: 13√3/24
	stressUN  = 0.974278579257493477 // 9√3/16
)

// Sizes are a thread's basic sizes: no allowance and no tolerance. On a taper
// thread the pitch diameter and the minor diameter stand at the gauge plane.
// StressArea is nil where the form has none.
type Sizes struct {
	Major         units.Length  // of the external thread
	MajorInternal units.Length  // of the internal thread; differs for trapezoidal and ACME
	PitchDiameter units.Length  // d2 = D2
	MinorInternal units.Length  // D1
	MinorExternal units.Length  // d3, the root of the external thread
	LeadAngle     units.Angle   // at the pitch diameter
	StressArea    *units.Number // mm²
}

// Sizes returns the basic sizes by the formulas of the package comment. They
// are good to 1e-9 mm; √3 is irrational, so none is exact but BA, trapezoidal
// and ACME, whose factors are plain decimals.
//
// Source: ISO 68-1, ISO 724 (metric); ASME B1.1 (unified); BS 84 (Whitworth);
// BS 93 (BA); ISO 228-1 and ISO 7-1 (G, R); ASME B1.20.1 (NPT); ISO 2902 to
// 2904 (trapezoidal); ASME B1.5 (ACME). Every figure is compared with the
// published tables in the tests.
func (d Designation) Sizes() Sizes {
	s := Sizes{Major: d.Major, MajorInternal: d.Major}
	under := func(f float64) units.Length { return d.Major.Minus(d.Pitch.Length(f)) }
	stress := math.NaN()
	switch d.Form {
	case Metric:
		s.PitchDiameter, s.MinorInternal, s.MinorExternal = under(pitch60), under(minor60), under(root60)
		stress = under(stressISO).MM()
	case Unified:
		s.PitchDiameter, s.MinorInternal, s.MinorExternal = under(pitch60), under(minor60), under(rootUNR)
		stress = under(stressUN).MM()
	case Whitworth:
		s.PitchDiameter, s.MinorInternal, s.MinorExternal = under(depth55), under(2*depth55), under(2*depth55)
		stress = (s.PitchDiameter.MM() + s.MinorExternal.MM()) / 2
	case BA, ParallelG:
		depth := d.depth()
		s.PitchDiameter = d.Major.Minus(depth)
		s.MinorInternal = d.Major.Minus(depth.Times(2))
		s.MinorExternal = s.MinorInternal
		stress = (s.PitchDiameter.MM() + s.MinorExternal.MM()) / 2
	case Trapezoidal, Acme:
		c := d.Clearance().Times(2)
		s.PitchDiameter, s.MinorInternal = under(0.5), under(1)
		s.MinorExternal, s.MajorInternal = s.MinorInternal.Minus(c), d.Major.Plus(c)
		stress = (s.PitchDiameter.MM() + s.MinorExternal.MM()) / 2
	default: // the taper pipe threads
		c := d.Cone()
		s.PitchDiameter = c.E1
		s.MinorInternal = c.E1.Minus(d.depth())
		s.MinorExternal = s.MinorInternal
	}
	s.LeadAngle = units.Radians(math.Atan2(d.Lead().MM(), math.Pi*s.PitchDiameter.MM()))
	if !math.IsNaN(stress) {
		a := units.Number(math.Pi / 4 * stress * stress)
		s.StressArea = &a
	}
	return s
}

// depth returns the depth of the forms whose standards state it rounded: BA
// 0.6 P to the nearest 0.005 mm, G and R 0.640327 P to 0.001 mm, and 0.8 P for
// NPT.
func (d Designation) depth() units.Length {
	switch d.Form {
	case BA:
		return d.Pitch.Length(0.6).RoundTo(units.MustLength("0.005mm"), units.Nearest)
	case ParallelG, TaperR:
		return d.Pitch.Length(depth55).RoundTo(units.MustLength("0.001mm"), units.Nearest)
	}
	return d.Pitch.Length(0.8)
}

// Clearance returns the gap at the crests of a trapezoidal or ACME thread, on
// the radius: ac of ISO 2902 (0.15 mm to P 1.5, 0.25 to 5, 0.5 to 12, 1 above)
// or half the 0.020 in of ASME B1.5 (0.010 in finer than 10 tpi). Other forms
// have none.
func (d Designation) Clearance() units.Length {
	p := d.Pitch.MM()
	switch d.Form {
	case Trapezoidal:
		for _, step := range []struct {
			to float64
			ac string
		}{{1.5, "0.15mm"}, {5, "0.25mm"}, {12, "0.5mm"}} {
			if p <= step.to {
				return units.MustLength(step.ac)
			}
		}
		return units.MustLength("1mm")
	case Acme:
		if p < 2.54 {
			return units.MustLength("0.005in")
		}
		return units.MustLength("0.01in")
	}
	return units.Length{}
}

// Depth returns the depth of the external thread on the radius: what the tool
// goes in from the crest to the root.
func (s Sizes) Depth() units.Length { return s.Major.Minus(s.MinorExternal).Half() }

// Cone is a taper pipe thread along its length: the pitch diameters at the
// small end E0, at the gauge plane E1 (the length L1 from the small end) and
// at the end of the full thread E2 (L2). Small is the diameter over the crests
// at the small end: what the blank's small end is turned to. L2 and E2 are nil
// for R threads.
type Cone struct {
	E0    units.Length  `json:"e0_mm"`
	E1    units.Length  `json:"e1_mm"`
	E2    *units.Length `json:"e2_mm"`
	L1    units.Length  `json:"l1_mm"`
	L2    *units.Length `json:"l2_mm"`
	Small units.Length  `json:"small_end_mm"`
}

// Cone returns the pitch cone of a taper pipe thread. For NPT, in inches:
//
//	E0 = D - (0.05·D + 1.1)/n   L2 = (0.8·D + 6.8)/n   E = E0 + L/16
//
// with the outside diameter of the pipe D and n threads per inch; L1 is from
// the table. An R thread has the diameters of the G thread at the gauge plane.
// The zero Cone stands for a form that is not tapered.
//
// Source: ASME B1.20.1; ISO 7-1.
func (d Designation) Cone() Cone {
	sixteenth := decimal.New(625, -4)
	switch d.Form {
	case NPT:
		p, dia := d.Pitch.MM()/25.4, d.Major.MM()/25.4
		l2 := units.FromFloat((0.8*dia + 6.8) * p * 25.4)
		c := Cone{E0: units.FromFloat((dia - (0.05*dia+1.1)*p) * 25.4), L1: d.gauge, L2: &l2}
		c.E1 = c.E0.Plus(c.L1.Scale(sixteenth))
		e2 := c.E0.Plus(l2.Scale(sixteenth))
		c.E2 = &e2
		c.Small = c.E0.Plus(d.depth())
		return c
	case TaperR:
		c := Cone{E1: d.Major.Minus(d.depth()), L1: d.gauge}
		c.E0 = c.E1.Minus(c.L1.Scale(sixteenth))
		c.Small = c.E0.Plus(d.depth())
		return c
	}
	return Cone{}
}
