package facets

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// SlopeInput is a plane on a block by its slopes along the block's two edges: an
// angle is positive where the plane rises toward +x or +y.
type SlopeInput struct {
	AlongX units.Angle `json:"along_x_deg"`
	AlongY units.Angle `json:"along_y_deg"`
}

// SlopeResult is how the block is set so that the plane lies level under the
// cutter. One tilt: turn the block in plan by -Rotation, so that its steepest
// rise points along the machine's x, then tilt it down there by Tilt. Two
// tilts: down by First along the block's x, then the whole by Second along the
// machine's y; or the other way about, along y first.
type SlopeResult struct {
	Inputs      SlopeInput  `json:"inputs"`
	Tilt        units.Angle `json:"tilt_deg" show:"one tilt" as:"minutes" note:"down where the plane rises steepest"`
	Rotation    units.Angle `json:"rotation_deg" show:"which points" as:"minutes"`
	First       units.Angle `json:"first_deg" show:"or two: along x" as:"minutes" note:"down at +x when positive"`
	Second      units.Angle `json:"second_deg" show:"then along y" as:"minutes"`
	OtherFirst  units.Angle `json:"other_first_deg" show:"or along y first" as:"minutes" note:"down at +y when positive"`
	OtherSecond units.Angle `json:"other_second_deg" show:"then along x" as:"minutes" note:"of the machine"`
	sheet.Remarks
}

// SlopeOf returns the settings for a plane that rises by the angles X and Y
// along the block's edges:
//
//	tan tilt     = sqrt(tan²X + tan²Y)
//	tan rotation = tan Y / tan X, from +x toward +y
//	tan second   = tan Y·cos X, after the first tilt by X
//
// Each angle is above -90 and below 90 deg, and not both are 0. Good to 1e-9
// deg.
//
// The second angle is not Y: once the block is tilted by X, the edge that Y was
// measured over stands on a slope itself.
func SlopeOf(in SlopeInput) (SlopeResult, error) {
	var bad check.List
	bad.Inside("along-x", in.AlongX, units.Degrees(-90), units.Degrees(90))
	bad.Inside("along-y", in.AlongY, units.Degrees(-90), units.Degrees(90))
	bad.Refuse(in.AlongX.Deg() == 0 && in.AlongY.Deg() == 0,
		problem.Missing, "along-x", nil, "the plane is level: give a slope along x, along y or both")
	if err := bad.Err(); err != nil {
		return SlopeResult{}, err
	}
	x, y := in.AlongX.Tan(), in.AlongY.Tan()
	r := SlopeResult{
		Inputs: in,
		Tilt:   units.Radians(math.Atan(math.Hypot(x, y))), Rotation: units.Radians(math.Atan2(y, x)),
		First: in.AlongX, Second: units.Radians(math.Atan(y * in.AlongX.Cos())),
		OtherFirst: in.AlongY, OtherSecond: units.Radians(math.Atan(x * in.AlongY.Cos())),
	}
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// Sheet implements sheet.Result.
func (r SlopeResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Plane that slopes two ways")
	s.Brief = true
	s.Remark(&r.Rotation, "in plan, from the block's +x toward +y: turn the block back by that")
	s.Remark(&r.Second, "of the machine, with the first tilt set; not the drawing's angle")
	s.Figures()
	x, y := r.Inputs.AlongX, r.Inputs.AlongY
	s.Step("tilt", "atan(sqrt(tan(X)^2 + tan(Y)^2))", r.Tilt, "X", x, "Y", y)
	s.Step("second", "atan(tan(Y)*cos(X))", r.Second, "X", x, "Y", y)
	s.Note("Angles are positive where the plane rises toward +x or +y; ",
		"after setting, the plane lies level under the cutter.")
	return *s
}
