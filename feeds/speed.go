package feeds

import (
	"math"

	"setover/setup/base/units"
)

// SpindleSpeed returns the speed of rotation at which the diameter D runs at
// the surface speed v:
//
//	n = 1000·v/(π·D)
//
// v is in m/min, D in mm above 0, n in rev/min; good to 15 figures.
//
// Source: TM 1-420 Lathes, US War Department 1942, para. 19, which prints the
// inch form, v = 0.2618·D·n ft/min.
func SpindleSpeed(v units.SurfaceSpeed, d units.Length) units.SpindleSpeed {
	return units.RPM(1000 * v.MetresPerMinute() / (math.Pi * d.MM()))
}

// SurfaceSpeed returns the speed of the surface of the diameter D at n:
//
//	v = π·D·n/1000
//
// D is in mm, n in rev/min, v in m/min; good to 15 figures. A diameter of 0
// stands still.
//
// Source: as for SpindleSpeed.
func SurfaceSpeed(n units.SpindleSpeed, d units.Length) units.SurfaceSpeed {
	return units.MetresPerMinute(math.Pi * d.MM() * n.RPM() / 1000)
}

// FeedRate returns how fast a tool of z teeth advances at n with a feed f a
// tooth; z is 1 for a feed a revolution:
//
//	F = f·z·n
//
// f is in mm, n in rev/min, F in mm/min.
//
// Source: Niagara Cutter, New Concepts in Milling, 1973.
func FeedRate(f units.Feed, teeth int, n units.SpindleSpeed) units.FeedRate {
	return units.MillimetresPerMinute(f.MM() * float64(teeth) * n.RPM())
}

// CutTime returns the minutes a tool takes to travel a length L at the feed f
// and n: t = L/(f·n). L is in mm, f in mm/rev above 0, n in rev/min above 0.
//
// Source: P. C. Sharma, A Textbook of Production Engineering, ch. 4.
func CutTime(length units.Length, f units.Feed, n units.SpindleSpeed) float64 {
	return length.MM() / (f.MM() * n.RPM())
}

// Power returns the power in W that a removal rate takes:
//
//	P = U·Q
//
// U is the specific energy in W.s/mm3 (the specific cutting force in N/mm2
// over 1000) and Q the volume cut away, in mm3/min.
//
// Source: Mitsubishi Materials, cutting power for turning, which prints
// Pc = ap·f·vc·Kc/(60·10³·η) kW.
func Power(energy, removal float64) units.Power { return units.Watts(energy * removal / 60) }

// WoodStart returns the speed in rev/min above which a rough piece of wood of
// the diameter D is not started on a lathe:
//
//	n = 9000/D
//
// D is in inches, above 0.
//
// Source: wood-turning-rule, a wood lathe speed guide of the 2020s.
func WoodStart(d units.Length) units.SpindleSpeed {
	return units.RPM(9000 / d.Over(units.MustLength("1in")))
}

// whole returns a speed without what is behind the point.
func whole(n units.SpindleSpeed) units.SpindleSpeed { return units.RPM(math.Floor(n.RPM())) }
