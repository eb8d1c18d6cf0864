package limits

import (
	"math"

	"setover/setup/base/units"
	"setover/threads"
)

// acmeExternal returns the limits of a class 2G ACME screw:
//
//	pitch allowance  0.008·√D        pitch tolerance  0.030·√P + 0.006·√D
//	major tolerance  0.05·P, at least 0.005 in
//	minor tolerance  1.5 times the pitch tolerance
//
// in inches, allowance and tolerance to 4 places.
//
// Source: ASME B1.5, general purpose; the major and minor tolerances fitted to
// the 2G table of a thread-ring maker.
func acmeExternal(d threads.Designation) *External {
	t := tolerancesOf(d)
	allowance, tolerance := acmePitch(t)
	c := inches(d.Clearance()).Mul(of(2))
	most := t.dia
	pitch := inches(d.Sizes().PitchDiameter).Sub(allowance)
	minor := t.dia.Sub(of(t.p)).Sub(c)
	least := fromInches(minor.Sub(tolerance.Mul(of(1.5))).RoundBank(4))
	return &External{
		Class: "2G", MajorMax: fromInches(most), MajorMin: fromInches(most.Sub(of(max(0.05*t.p, 0.005))).Round(4)),
		PitchMax: fromInches(pitch.Round(4)), PitchMin: fromInches(pitch.Sub(tolerance).Round(4)),
		MinorMax: fromInches(minor.Round(4)), MinorMin: &least,
	}
}

func acmePitch(t tolerances) (allowance, tolerance inch) {
	root := math.Sqrt(t.d)
	return of(0.008 * root).Round(4), of(0.030*math.Sqrt(t.p) + 0.006*root).Round(4)
}

// acmeInternal returns the limits of a class 2G ACME nut: the pitch diameter
// from basic by the same tolerance, the minor diameter from basic by 0.05·P
// (at least 0.005 in).
//
// Source: ASME B1.5, from memory: no published row was found to check it with.
func acmeInternal(d threads.Designation) *Internal {
	t := tolerancesOf(d)
	_, tolerance := acmePitch(t)
	s := d.Sizes()
	pitch, minor := inches(s.PitchDiameter).Round(4), inches(s.MinorInternal).Round(4)
	return &Internal{
		Class: "2G", MajorMin: s.MajorInternal, PitchMin: fromInches(pitch), PitchMax: fromInches(pitch.Add(tolerance)),
		MinorMin: fromInches(minor), MinorMax: fromInches(minor.Add(of(max(0.05*t.p, 0.005))).Round(4)),
	}
}

// pipe is a G thread's tolerances in µm by threads per inch: the pitch
// diameter's depends on the size too.
type pipe struct{ major, minor int64 }

// pipes are the tolerances of the crests. Source: ISO 228-1; major from
// memory, minor as an open data set holds it.
var pipes = map[float64]pipe{28: {214, 282}, 19: {250, 445}, 14: {284, 541}, 11: {360, 640}}

// pipePitch returns the pitch tolerance of a G thread in µm, TD2 = Td2 of
// class A.
func pipePitch(d threads.Designation) int64 {
	switch {
	case *d.TPI() == 28:
		return 107
	case *d.TPI() == 19:
		return 125
	case *d.TPI() == 14:
		return 142
	case d.Major.Cmp(units.MustLength("60mm")) < 0:
		return 180
	}
	return 217
}

// pipeExternal returns the limits of a G screw in class A or B, which has
// twice the pitch tolerance.
func pipeExternal(d threads.Designation, class string) *External {
	s, t := d.Sizes(), pipes[float64(*d.TPI())]
	pitch := pipePitch(d)
	if class == "B" {
		pitch *= 2
	}
	d2 := thousandth(s.PitchDiameter)
	return &External{
		Class: class, MajorMax: d.Major, MajorMin: d.Major.Minus(um(t.major)),
		PitchMax: d2, PitchMin: d2.Minus(um(pitch)), MinorMax: thousandth(s.MinorExternal),
	}
}

func pipeInternal(d threads.Designation) *Internal {
	s, t := d.Sizes(), pipes[float64(*d.TPI())]
	d2, d1 := thousandth(s.PitchDiameter), thousandth(s.MinorInternal)
	return &Internal{
		Class: "G", MajorMin: d.Major, PitchMin: d2, PitchMax: d2.Plus(um(pipePitch(d))),
		MinorMin: d1, MinorMax: d1.Plus(um(t.minor)),
	}
}
