package limits

import (
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"setover/setup/base/units"
	"setover/threads"
)

// inch is a size in decimal inches, as the tables of ASME B1.1 are worked:
// every size is rounded where they round.
type inch = decimal.Decimal

func inches(l units.Length) inch { return l.Decimal().DivRound(decimal.New(254, -1), 12) }

func fromInches(i inch) units.Length {
	return units.FromDecimal(i.Mul(decimal.New(254, -1)))
}

// tolerances are the figures of a unified size that its limits are made of, in
// inches: the pitch P to 8 places, its 2/3 power, the diameter to 4 places,
// and the class 2A pitch tolerance to 6.
type tolerances struct {
	p, p23, d, t2a float64
	dia            inch
}

// lengthIsDiameter are the series whose length of engagement is the diameter;
// the others have 9 pitches.
var lengthIsDiameter = []string{"UNC", "UNF", "4UN", "6UN", "8UN"}

// pitchFactor is each class's part of the 2A pitch tolerance.
var pitchFactor = map[string]float64{"1A": 1.5, "2A": 1, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}

// tolerancesOf returns the tolerances of a size:
//
//	T(2A) = 0.0015·D^(1/3) + 0.0015·√LE + 0.015·P^(2/3) in
func tolerancesOf(d threads.Designation) tolerances {
	t := tolerances{dia: inches(d.Major).Round(4), p: round(d.Pitch.MM()/25.4, 8)}
	t.p23, t.d = math.Cbrt(t.p*t.p), t.dia.InexactFloat64()
	series := d.Series
	if n := d.TPI(); series == "UN" && n != nil {
		series = decimal.NewFromFloat(float64(*n)).String() + series
	}
	engaged := 9 * t.p
	if slices.Contains(lengthIsDiameter, series) {
		engaged = t.d
	}
	t.t2a = round(0.0015*math.Cbrt(t.d)+0.0015*math.Sqrt(engaged)+0.015*t.p23, 6)
	return t
}

func round(v float64, places int) float64 {
	f := math.Pow(10, float64(places))
	return math.Round(v*f) / f
}

func of(v float64) inch { return decimal.NewFromFloat(v).Round(12) }

// rootUNR is √3/16, from the nut's minor diameter to the UNR root per unit of
// pitch.
const rootUNR = 0.108253175473054831

// unifiedExternal returns the limits of a unified screw; the minor diameter is
// that of the rounded UNR root.
//
// Source: ASME B1.1.
func unifiedExternal(d threads.Designation, class string) *External {
	t := tolerancesOf(d)
	s := d.Sizes()
	allowance, major := inch{}, 0.060
	if class != "3A" {
		allowance = of(0.3 * t.t2a).Round(4)
	}
	if class == "1A" {
		major = 0.090
	}
	most := t.dia.Sub(allowance)
	pitch := inches(s.PitchDiameter).Round(4).Sub(allowance)
	return &External{
		MajorMax: fromInches(most),
		MajorMin: fromInches(most.Sub(of(major * t.p23)).RoundBank(4)),
		PitchMax: fromInches(pitch),
		PitchMin: fromInches(pitch.Sub(of(round(pitchFactor[class]*t.t2a, 6))).RoundBank(4)),
		MinorMax: fromInches(inches(s.MinorInternal).Round(4).Sub(of(rootUNR * t.p)).Round(4).Sub(allowance)),
	}
}

// small is the diameter from which a nut's minor diameter is given to three
// places.
const small = 0.138

// unifiedInternal returns the limits of a unified nut.
//
// Source: ASME B1.1.
func unifiedInternal(d threads.Designation, class string) *Internal {
	t := tolerancesOf(d)
	s := d.Sizes()
	pitch := inches(s.PitchDiameter).Round(4)
	minor := inches(s.MinorInternal).Round(4)
	least, most := minor, minor.Add(of(round(t.minor(class), 4)))
	if t.d >= small {
		least = least.RoundBank(3)
	}
	if t.d >= small && class != "3B" {
		most = most.RoundBank(3)
	}
	return &Internal{
		MajorMin: fromInches(t.dia),
		PitchMin: fromInches(pitch),
		PitchMax: fromInches(pitch.Add(of(round(pitchFactor[class]*t.t2a, 6))).RoundBank(4)),
		MinorMin: fromInches(least),
		MinorMax: fromInches(most.RoundBank(4)),
	}
}

// minor returns the tolerance of a nut's minor diameter in inches. For 1B and
// 2B under 1/4 in, and for 3B of any size, it is
//
//	0.05·P^(2/3) + 0.03·P/D - 0.002
//
// within bounds that the class and the pitch set; from 1/4 in on 1B and 2B
// have 0.25·P - 0.4·P², or 0.15·P coarser than 4 threads per inch.
func (t tolerances) minor(class string) float64 {
	first := 0.05*t.p23 + 0.03*t.p/t.d - 0.002
	widest := 0.394 * t.p
	switch {
	case class == "3B":
		floor := 0.120 * t.p
		if t.p <= 1/12.5 {
			floor = 0.23*t.p - 1.5*t.p*t.p
		}
		return min(max(first, floor), widest)
	case t.d < 0.25:
		return min(max(first, 0.25*t.p-0.4*t.p*t.p), widest)
	case t.p <= 0.25:
		return 0.25*t.p - 0.4*t.p*t.p
	}
	return 0.15 * t.p
}
