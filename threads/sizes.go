package threads

import (
	"math"

	"github.com/shopspring/decimal"

	"setover/setup/base/units"
)

// Sizes are a thread's basic sizes: no allowance and no tolerance. On a taper
// thread the pitch diameter and the minor diameter stand at the gauge plane.
// StressArea is nil where the form has none.
type Sizes struct {
	Major         units.Length  // of the external thread
	MajorInternal units.Length  // of the internal thread, larger by the gaps
	PitchDiameter units.Length  // d2 = D2
	MinorInternal units.Length  // D1
	MinorExternal units.Length  // d3, the root of the external thread
	LeadAngle     units.Angle   // at the pitch diameter
	StressArea    *units.Number // mm²
}

// Sizes returns the basic sizes by the form's heights:
//
//	d2 = d - pitch height    D1 = d - minor height    d3 = d - root height - 2·ac
//
// and the stress area π/4·((d2 + d3)/2)², with the d3 that the form's standard
// reckons it with. They are good to 1e-9 mm; √3 is irrational, so none is exact
// but those whose heights are plain decimals.
//
// Source: that of the form's row. Every figure is compared with the published
// tables in the tests.
func (d Designation) Sizes() Sizes {
	f, gaps := d.Form, d.Clearance().Times(2)
	base, from := d.Major, 0.0
	if f.Tapered() {
		base, from = d.Cone().E1, f.Pitch.By
	}
	under := func(by float64) units.Length { return base.Minus(d.height(by - from)) }
	s := Sizes{
		Major: d.Major, MajorInternal: d.Major.Plus(gaps), PitchDiameter: under(f.Pitch.By),
		MinorInternal: under(f.Minor.By), MinorExternal: under(f.Root.By).Minus(gaps),
	}
	s.LeadAngle = units.Radians(math.Atan2(d.Lead().MM(), math.Pi*s.PitchDiameter.MM()))
	if f.Stress > 0 {
		mean := under((f.Pitch.By + f.Stress) / 2).Minus(gaps.Half()).MM()
		area := units.Number(math.Pi / 4 * mean * mean)
		s.StressArea = &area
	}
	return s
}

// height returns a height of the form by its units, on the diameter.
func (d Designation) height(by float64) units.Length {
	if d.Form.Step == "" {
		return d.Pitch.Length(by * d.Form.Unit)
	}
	unit := d.Pitch.Length(d.Form.Unit).RoundTo(units.MustLength(d.Form.Step), units.Nearest)
	return unit.Scale(decimal.NewFromFloat(by))
}

// Clearance returns the gap on the radius between the crests of one part and
// the roots of the other: ac of ISO 2902, half the 0.020 in of ASME B1.5 (0.010
// in finer than 10 tpi), 0 for forms that have none.
func (d Designation) Clearance() units.Length {
	var gap units.Length
	for i, g := range d.Form.Gaps {
		if i == 0 || d.Pitch.Cmp(units.MustPitch(g.From)) >= 0 {
			gap = units.MustLength(g.Gap)
		}
	}
	return gap
}

// Depth returns the depth of the external thread on the radius: what the tool
// goes in from the crest to the root.
func (d Designation) Depth() units.Length {
	s := d.Sizes()
	crest := s.Major
	if d.Form.Tapered() {
		crest = s.PitchDiameter.Plus(d.height(d.Form.Pitch.By))
	}
	return crest.Minus(s.MinorExternal).Half()
}

// Cone is a taper pipe thread along its length: the pitch diameters at the
// small end E0, at the gauge plane E1 (the length L1 from the small end) and
// at the end of the full thread E2 (L2). Small is the diameter over the crests
// at the small end: what the blank's small end is turned to. L2 and E2 are nil
// for R threads.
type Cone struct {
	Small units.Length  `json:"small_end_mm" show:"turn the small end to" note:"1:16 on the diameter from there"`
	E0    units.Length  `json:"e0_mm" show:"pitch diameter at the small end"`
	L1    units.Length  `json:"l1_mm" show:"small end to gauge plane"`
	L2    *units.Length `json:"l2_mm" show:"length of full thread"`
	E1    units.Length  `json:"e1_mm"`
	E2    *units.Length `json:"e2_mm"`
}

// OnCone is how the cone of a taper thread is reckoned, and its formulas as a
// working shows them, by what they give.
type OnCone struct {
	of     func(Designation) Cone
	E0, E1 string
}

// The ways. E0 of NPT is in inches, D the outside diameter of the pipe and n
// the threads per inch:
//
//	E0 = D - (0.05·D + 1.1)/n   L2 = (0.8·D + 6.8)/n   E = E0 + L/16
//
// An R thread has the diameters of the G thread at the gauge plane. L1 is from
// the table of sizes.
//
// Source: ASME B1.20.1; ISO 7-1.
var (
	bySmallEnd   = OnCone{npt, "d - (0.05*d + 1.1*25.4)*P/25.4", "E0 + L1/16"}
	byGaugePlane = OnCone{atGaugePlane, "E1 - L1/16", "d - h"}
)

func npt(d Designation) Cone {
	p, dia := d.Pitch.MM()/25.4, d.Major.MM()/25.4
	l2 := units.FromFloat((0.8*dia + 6.8) * p * 25.4)
	c := Cone{E0: units.FromFloat((dia - (0.05*dia+1.1)*p) * 25.4), L1: d.gauge, L2: &l2}
	c.E1 = c.E0.Plus(sixteenth(c.L1))
	e2 := c.E0.Plus(sixteenth(l2))
	c.E2 = &e2
	return c
}

func atGaugePlane(d Designation) Cone {
	e1 := d.Major.Minus(d.height(d.Form.Pitch.By))
	return Cone{E0: e1.Minus(sixteenth(d.gauge)), E1: e1, L1: d.gauge}
}

// sixteenth returns what a cone of 1:16 gains over a length.
func sixteenth(l units.Length) units.Length { return l.Scale(decimal.New(625, -4)) }

// Cone returns the pitch cone of a taper pipe thread. The zero Cone stands for
// a form that is not tapered.
func (d Designation) Cone() Cone {
	if !d.Form.Tapered() {
		return Cone{}
	}
	c := d.Form.Cone.of(d)
	c.Small = c.E0.Plus(d.height(d.Form.Pitch.By))
	return c
}
