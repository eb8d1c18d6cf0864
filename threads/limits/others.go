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
func acmeExternal(d threads.Designation, class string) *External {
	t := tolerancesOf(d)
	allowance, tolerance := acmePitch(t)
	c := inches(d.Clearance()).Mul(of(2))
	most := t.dia
	pitch := inches(d.Sizes().PitchDiameter).Sub(allowance)
	minor := t.dia.Sub(of(t.p)).Sub(c)
	least := fromInches(minor.Sub(tolerance.Mul(of(1.5))).RoundBank(4))
	return &External{
		MajorMax: fromInches(most), MajorMin: fromInches(most.Sub(of(max(0.05*t.p, 0.005))).Round(4)),
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
func acmeInternal(d threads.Designation, class string) *Internal {
	t := tolerancesOf(d)
	_, tolerance := acmePitch(t)
	s := d.Sizes()
	pitch, minor := inches(s.PitchDiameter).Round(4), inches(s.MinorInternal).Round(4)
	return &Internal{
		MajorMin: s.MajorInternal, PitchMin: fromInches(pitch), PitchMax: fromInches(pitch.Add(tolerance)),
		MinorMin: fromInches(minor), MinorMax: fromInches(minor.Add(of(max(0.05*t.p, 0.005))).Round(4)),
	}
}

// pipes are the tolerances of G threads in µm by threads per inch and, from a
// diameter in mm on: of the pitch diameter (TD2 = Td2 of class A), of the
// screw's crest and of the nut's. Source: ISO 228-1; the screw's crest from
// memory, the nut's as an open data set holds it.
var pipes = []struct {
	tpi                 units.Number
	from                float64
	pitch, major, minor int64
}{
	{28, 0, 107, 214, 282},
	{19, 0, 125, 250, 445},
	{14, 0, 142, 284, 541},
	{11, 60, 217, 360, 640},
	{11, 0, 180, 360, 640},
}

// pipeTolerances returns the row of a G thread.
func pipeTolerances(d threads.Designation) (pitch, major, minor units.Length) {
	for _, p := range pipes {
		if p.tpi == *d.TPI() && d.Major.MM() >= p.from {
			return um(p.pitch), um(p.major), um(p.minor)
		}
	}
	panic("limits: no tolerances of " + d.String())
}

// pipeExternal returns the limits of a G screw in class A or B, which has
// twice the pitch tolerance.
func pipeExternal(d threads.Designation, class string) *External {
	s := d.Sizes()
	pitch, major, _ := pipeTolerances(d)
	if class == "B" {
		pitch = pitch.Times(2)
	}
	d2 := thousandth(s.PitchDiameter)
	return &External{
		MajorMax: d.Major, MajorMin: d.Major.Minus(major),
		PitchMax: d2, PitchMin: d2.Minus(pitch), MinorMax: thousandth(s.MinorExternal),
	}
}

func pipeInternal(d threads.Designation, class string) *Internal {
	s := d.Sizes()
	pitch, _, minor := pipeTolerances(d)
	d2, d1 := thousandth(s.PitchDiameter), thousandth(s.MinorInternal)
	return &Internal{
		MajorMin: d.Major, PitchMin: d2, PitchMax: d2.Plus(pitch),
		MinorMin: d1, MinorMax: d1.Plus(minor),
	}
}
