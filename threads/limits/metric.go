package limits

import (
	"math"

	"github.com/shopspring/decimal"

	"setover/setup/base/units"
	"setover/threads"
)

// diameterSteps bound the diameter ranges of ISO 965-1, over the one and up to
// and including the next, in mm.
var diameterSteps = []float64{0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45, 90, 180, 355}

// rangeOf returns the diameter range d lies in, which is one of them.
func rangeOf(d float64) (over, to float64) {
	i := 1
	for d > diameterSteps[i] {
		i++
	}
	return diameterSteps[i-1], diameterSteps[i]
}

// held is a grade-6 tolerance that the published tables hold against the
// formula, in µm, by the pitch and, for the pitch diameter, what the diameter is
// over. (They were set before the formula, from older tables.)
type held struct{ over, p, um float64 }

var (
	pitchSix = []held{{2.8, 0.5, 75}, {180, 3, 250}, {45, 5, 250}}
	minorSix = []held{{0, 0.25, 71}, {0, 0.5, 140}, {0, 2.5, 450}}
	majorSix = []held{{0, 0.75, 140}, {0, 4, 475}}
)

// sixOf returns the place of a grade-6 tolerance in the R40 series: of the one
// that is held, else of the formula's.
func sixOf(list []held, over, p, formula float64) step {
	for _, h := range list {
		if h.over == over && h.p == p {
			return stepOf(h.um)
		}
	}
	return stepOf(formula)
}

// pitchStep returns the place of Td2(6):
//
//	Td2(6) = 90·P^0.4·dm^0.1 µm
//
// with dm the geometric mean of the diameter range, in mm.
func pitchStep(d, p float64) step {
	over, to := rangeOf(d)
	return sixOf(pitchSix, over, p, 90*math.Pow(p, 0.4)*math.Pow(over*to, 0.05))
}

// minorStep returns the place of TD1(6), the tolerance of the nut's minor
// diameter:
//
//	TD1(6) = 433·P - 190·P^1.22 µm to P 0.8, 230·P^0.7 above
//
// Grade 6 starts at P 0.3; finer ones are reckoned from it all the same.
func minorStep(p float64) step {
	um := 230 * math.Pow(p, 0.7)
	if p <= 0.8 {
		um = 433*p - 190*math.Pow(p, 1.22)
	}
	return sixOf(minorSix, 0, p, um)
}

// majorStep returns the place of Td(6), the tolerance of the screw's major
// diameter: 180·P^(2/3) - 3.15/√P µm.
func majorStep(p float64) step { return sixOf(majorSix, 0, p, 180*math.Cbrt(p*p)-3.15/math.Sqrt(p)) }

// deviation returns the fundamental deviation of a position in µm as a
// magnitude: taken off for e f g h, added for G H.
//
//	e 50 + 11·P   f 30 + 11·P   g, G 15 + 11·P   h, H 0
func deviation(position byte, p float64) units.Length {
	base := 0.0
	switch position {
	case 'h', 'H':
		return units.Length{}
	case 'e':
		base = 50
	case 'f':
		base = 30
	case 'g', 'G':
		base = 15
		if p == 0.75 {
			return um(22) // the tables hold 22 where the formula rounds to 23.6
		}
	}
	return um(nearestLinear(base + 11*p))
}

func um(n int64) units.Length { return units.FromDecimal(decimal.New(n, -3)) }

// thousandth rounds a basic size to the 3 places the tables print, a half up.
func thousandth(l units.Length) units.Length {
	return l.RoundTo(units.MustLength("0.001mm"), units.Nearest)
}

// Multiples of the pitch from the pitch diameter to a root.
const (
	rootMin = 0.616025403784438647 // H - 2R with the least root radius R = P/8: √3/2 - 1/4
	rootMax = 0.793856617002919325 // to the sharpest root a tap may leave, H/24 short: 11/12 H
)

// metricClass is a class read: the grade and position of the pitch diameter,
// and those of the crest.
type metricClass struct {
	pitch, crest     step // from grade 6
	position, crests byte
}

// readMetric reads "6g", "4g6g", "6H" or "5H6H" as threads.Parse lets through.
func readMetric(text string) metricClass {
	crest := text[len(text)-2:]
	return metricClass{grade(text[0]), grade(crest[0]), text[1], crest[1]}
}

// grade returns how far a grade stands from grade 6 in the R40 series: four
// places each.
func grade(digit byte) step { return 4 * step(int(digit)-'6') }

// metricExternal returns the limits of a metric screw.
//
// Source: ISO 965-1.
func metricExternal(d threads.Designation, class string) *External {
	p, s, c := d.Pitch.MM(), d.Sizes(), readMetric(class)
	es := deviation(c.position, p)
	e := &External{}
	e.MajorMax = d.Major.Minus(deviation(c.crests, p))
	e.MajorMin = e.MajorMax.Minus((majorStep(p) + c.crest).tolerance())
	e.PitchMax = thousandth(s.PitchDiameter).Minus(es)
	e.PitchMin = e.PitchMax.Minus((pitchStep(d.Major.MM(), p) + c.pitch).tolerance())
	e.MinorMax = thousandth(s.MinorInternal).Minus(es)
	least := thousandth(e.PitchMin.Minus(d.Pitch.Length(rootMin)))
	e.MinorMin = &least
	return e
}

// internalSteps is how far a nut's pitch tolerance stands above the screw's.
const internalSteps = 5

// metricInternal returns the limits of a metric nut.
//
// Source: ISO 965-1.
func metricInternal(d threads.Designation, class string) *Internal {
	p, s, c := d.Pitch.MM(), d.Sizes(), readMetric(class)
	ei := deviation(c.position, p)
	i := &Internal{MajorMin: d.Major.Plus(ei)}
	i.PitchMin = thousandth(s.PitchDiameter).Plus(ei)
	i.PitchMax = i.PitchMin.Plus((pitchStep(d.Major.MM(), p) + internalSteps + c.pitch).tolerance())
	i.MinorMin = thousandth(s.MinorInternal).Plus(deviation(c.crests, p))
	i.MinorMax = i.MinorMin.Plus((minorStep(p) + c.crest).tolerance())
	most := thousandth(i.PitchMax.Plus(d.Pitch.Length(rootMax)))
	i.MajorMax = &most
	return i
}
