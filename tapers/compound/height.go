package compound

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// offCentre returns by how much the diameter is out at the small end and half
// way along when the tool stands h above or below the spindle axis and is set
// so that the large end comes out as drawn.
//
// The tool's line then passes the axis at the distance h and sweeps a
// hyperboloid. With R and r the drawn radii and y the tip's distance in plan,
//
//	y(z) = sqrt(R² - h²) - z·tan a,  radius(z) = sqrt(y(z)² + h²)
//
// z from the large end. The side comes out hollow and the small end large. Where
// y would pass 0 the tip is under or over the axis: a pip of 2·h is left.
//
// h is less than R either way. Exact to 1e-9 mm.
func (r *Result) offCentre(h units.Length) error {
	if h.Sign() == 0 || r.Length == nil {
		return nil
	}
	R, l, tan := r.Large.MM()/2, r.Length.MM(), r.HalfAngle.Tan()
	off := math.Abs(h.MM())
	if off >= R {
		return problem.New(problem.Impossible, "tool-height-error", h,
			"the tool passes the work: less than the large end's radius, ", r.Large.Half())
	}
	start := math.Sqrt(R*R - off*off)
	radius := func(z float64) float64 { return math.Hypot(max(start-z*tan, 0), off) }
	errorAt := func(z float64) *units.Length { return new(units.FromFloat(2 * (radius(z) - (R - z*tan)))) }
	r.HeightSmallError, r.HeightMiddleError = errorAt(l), errorAt(l/2)
	if start < l*tan {
		left := say.Of("a pip of ", h.Abs().Times(2).Up(), " is left")
		if r.Inputs.Internal {
			left = say.Of("no smaller than ", h.Abs().Times(2).Down(), " comes out there")
		}
		r.Warn("pip", "the tool passes the axis before the small end: ", left)
	}
	return nil
}
