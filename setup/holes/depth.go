package holes

import (
	"setover/setup/units"
)

// TwistPoint is the included angle of an ordinary twist drill's point.
var TwistPoint = units.Degrees(118)

// Breakthrough is how far the full diameter is drilled past the far side of a
// through hole: common practice, no source.
var Breakthrough = units.Millimetres(1)

// PointLength returns the length of a drill's point:
//
//	(D/2)/tan(A/2)
//
// D is the drill's diameter, above 0, and A the point's included angle, above
// 0 and at most 180 deg, where it is 0. Good to 1e-9 mm.
//
// Source: elementary; 0.3004·D at 118 deg, which the trade rounds to 0.3·D.
func PointLength(dia units.Length, point units.Angle) units.Length {
	if point.Deg() >= 180 {
		return units.Length{}
	}
	return units.FromFloat(dia.MM() / 2 / point.Half().Tan())
}

// Depth is how far a drill's tip goes below the surface: its point and the
// whole way.
type Depth struct{ Point, Total units.Length }

// DepthOf returns how far the tip of a drill goes for the full diameter to
// reach depth, or for a through hole in that thickness: there the full
// diameter goes Breakthrough past the far side.
func DepthOf(dia units.Length, point units.Angle, depth units.Length, through bool) Depth {
	d := Depth{Point: PointLength(dia, point)}
	d.Total = depth.Plus(d.Point)
	if through {
		d.Total = d.Total.Plus(Breakthrough)
	}
	return d
}
