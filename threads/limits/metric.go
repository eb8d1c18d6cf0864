package limits

import (
	"fmt"
	"math"

	"setover/setup/base/units"
	"setover/threads"
)

// diameterSteps bound the diameter ranges of ISO 965-1, over the one and up to
// and including the next, in mm.
var diameterSteps = []float64{0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45, 90, 180, 355}

// rangeOf returns the diameter range d lies in, or false above 355 mm.
func rangeOf(d float64) (over, to float64, ok bool) {
	for i := 1; i < len(diameterSteps); i++ {
		if d <= diameterSteps[i] {
			return diameterSteps[i-1], diameterSteps[i], d > diameterSteps[0]
		}
	}
	return 0, 0, false
}

// stepsOfGrade is how far a grade stands from grade 6 in the R40 series.
var stepsOfGrade = map[int]step{3: -12, 4: -8, 5: -4, 6: 0, 7: 4, 8: 8, 9: 12}

// The grade-6 tolerances that the published tables hold against the formula,
// in µm. (They were set before the formula, from older tables.)
var (
	pitchSix = map[string]float64{"2.8 0.5": 75, "180 3": 250, "45 5": 250}
	minorSix = map[float64]float64{0.25: 71, 0.5: 140, 2.5: 450}
	majorSix = map[float64]float64{0.75: 140, 4: 475}
)

// pitchStep returns the place of Td2(6) in the R40 series:
//
//	Td2(6) = 90·P^0.4·dm^0.1 µm
//
// with dm the geometric mean of the diameter range, in mm.
func pitchStep(d, p float64) (step, bool) {
	over, to, ok := rangeOf(d)
	if !ok {
		return 0, false
	}
	if um, known := pitchSix[fmt.Sprintf("%g %g", over, p)]; known {
		return stepOf(um), true
	}
	return stepOf(90 * math.Pow(p, 0.4) * math.Pow(over*to, 0.05)), true
}

// minorStep returns the place of TD1(6), the tolerance of the nut's minor
// diameter:
//
//	TD1(6) = 433·P - 190·P^1.22 µm to P 0.8, 230·P^0.7 above
//
// Grade 6 starts at P 0.3; finer ones are reckoned from it all the same.
func minorStep(p float64) step {
	if um, known := minorSix[p]; known {
		return stepOf(um)
	}
	if p <= 0.8 {
		return stepOf(433*p - 190*math.Pow(p, 1.22))
	}
	return stepOf(230 * math.Pow(p, 0.7))
}

// majorStep returns the place of Td(6), the tolerance of the screw's major
// diameter: 180·P^(2/3) - 3.15/√P µm.
func majorStep(p float64) step {
	if um, known := majorSix[p]; known {
		return stepOf(um)
	}
	return stepOf(180*math.Cbrt(p*p) - 3.15/math.Sqrt(p))
}

// deviation returns the fundamental deviation of a position in µm as a
// magnitude: taken off for e f g h, added for G H.
//
//	e 50 + 11·P   f 30 + 11·P   g, G 15 + 11·P   h, H 0
func deviation(position byte, p float64) int64 {
	add := map[byte]float64{'e': 50, 'f': 30, 'g': 15, 'G': 15}
	base, ok := add[position]
	switch {
	case !ok:
		return 0
	case base == 15 && p == 0.75:
		return 22 // the tables hold 22 where the formula rounds to 23.6
	}
	return nearestLinear(base + 11*p)
}

func um(n int64) units.Length { return units.MustLength(fmt.Sprintf("%dum", n)) }

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
	pitch, crest     int
	position, crests byte
	text             string
}

// readMetric reads "6g", "4g6g", "6H" or "5H6H" as threads.Parse lets through.
func readMetric(text string) metricClass {
	last := text[len(text)-2:]
	return metricClass{int(text[0] - '0'), int(last[0] - '0'), text[1], last[1], text}
}

// metricExternal returns the limits of a metric screw.
//
// Source: ISO 965-1.
func metricExternal(d threads.Designation, c metricClass) (*External, bool) {
	p := d.Pitch.MM()
	td2, ok := pitchStep(d.Major.MM(), p)
	if !ok {
		return nil, false
	}
	s := d.Sizes()
	es := um(deviation(c.position, p))
	e := &External{Class: c.text}
	e.MajorMax = d.Major.Minus(um(deviation(c.crests, p)))
	e.MajorMin = e.MajorMax.Minus(um((majorStep(p) + stepsOfGrade[c.crest]).micrometres()))
	e.PitchMax = thousandth(s.PitchDiameter).Minus(es)
	e.PitchMin = e.PitchMax.Minus(um((td2 + stepsOfGrade[c.pitch]).micrometres()))
	e.MinorMax = thousandth(s.MinorInternal).Minus(es)
	least := thousandth(e.PitchMin.Minus(d.Pitch.Length(rootMin)))
	e.MinorMin = &least
	return e, true
}

// metricInternal returns the limits of a metric nut.
//
// Source: ISO 965-1.
func metricInternal(d threads.Designation, c metricClass) (*Internal, bool) {
	p := d.Pitch.MM()
	td2, ok := pitchStep(d.Major.MM(), p)
	if !ok {
		return nil, false
	}
	s := d.Sizes()
	ei := um(deviation(c.position, p))
	i := &Internal{Class: c.text}
	i.MajorMin = d.Major.Plus(ei)
	i.PitchMin = thousandth(s.PitchDiameter).Plus(ei)
	i.PitchMax = i.PitchMin.Plus(um((td2 + 5 + stepsOfGrade[c.pitch]).micrometres()))
	i.MinorMin = thousandth(s.MinorInternal).Plus(um(deviation(c.crests, p)))
	i.MinorMax = i.MinorMin.Plus(um((minorStep(p) + stepsOfGrade[c.crest]).micrometres()))
	most := thousandth(i.PitchMax.Plus(d.Pitch.Length(rootMax)))
	i.MajorMax = &most
	return i, true
}
