package limits

import (
	"math"

	"setover/setup/base/units"
)

// r40 is the R40 series of preferred numbers (ISO 3), one decade, in
// hundredths.
var r40 = [40]int{
	100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300,
	315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950,
}

// step is a place in the R40 series: 0 is 1 µm, 40 is 10 µm. Tolerances go up
// and down the series by grade.
type step int

// value returns the preferred number at a place, in µm.
func (s step) value() float64 { return float64(r40[int(s)%40]) * math.Pow(10, float64(int(s)/40-2)) }

// stepOf returns the place of the preferred number nearest to um on a
// logarithmic scale.
func stepOf(um float64) step {
	return closest(func(v float64) float64 { return math.Abs(math.Log(v / um)) })
}

// closest returns the place of the preferred number from 1 µm to 10 mm that is
// the least far off; of two as far the smaller.
func closest(far func(um float64) float64) step {
	best, off := step(0), math.Inf(1)
	for s := step(0); s < 160; s++ {
		if d := far(s.value()); d < off-1e-9 {
			best, off = s, d
		}
	}
	return best
}

// micrometres returns the preferred number at a place in whole micrometres, a
// half to the even one, as the tables print it.
func (s step) micrometres() int64 {
	return int64(math.RoundToEven(s.value()))
}

// tolerance returns the preferred number at a place as a length.
func (s step) tolerance() units.Length { return um(s.micrometres()) }

// nearestLinear returns the preferred number nearest to um on a linear scale,
// of two equally near the smaller, in whole micrometres.
func nearestLinear(um float64) int64 {
	return closest(func(v float64) float64 { return math.Abs(v - um) }).micrometres()
}
