package facets

import (
	"math"

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
	Tilt        units.Angle `json:"tilt_deg"`
	Rotation    units.Angle `json:"rotation_deg"`
	First       units.Angle `json:"first_deg"`
	Second      units.Angle `json:"second_deg"`
	OtherFirst  units.Angle `json:"other_first_deg"`
	OtherSecond units.Angle `json:"other_second_deg"`
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
	var list problem.List
	for _, a := range []struct {
		key string
		a   units.Angle
	}{{"along-x", in.AlongX}, {"along-y", in.AlongY}} {
		if math.Abs(a.a.Deg()) >= 90 {
			list.Add(problem.New(problem.OutOfRange, a.key, a.a, "must be above -90 and below 90 deg"))
		}
	}
	if in.AlongX.Deg() == 0 && in.AlongY.Deg() == 0 {
		list.Add(problem.New(problem.Missing, "along-x", nil, "the plane is level: give a slope along x, along y or both"))
	}
	if len(list) > 0 {
		return SlopeResult{}, list
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
	x, y := r.Inputs.AlongX.Deg(), r.Inputs.AlongY.Deg()
	return sheet.Sheet{
		Title: "Plane that slopes two ways",
		Facts: []sheet.Fact{
			{Key: "tilt_deg", Label: "one tilt", Value: sheet.Ang(r.Tilt), Remark: "down where the plane rises steepest"},
			{Key: "rotation_deg", Label: "which points", Value: sheet.Ang(r.Rotation), Remark: "in plan, from the block's +x toward +y: turn the block back by that"},
			{Key: "first_deg", Label: "or two: along x", Value: sheet.Ang(r.First), Remark: "down at +x when positive"},
			{Key: "second_deg", Label: "then along y", Value: sheet.Ang(r.Second), Remark: "of the machine, with the first tilt set; not the drawing's angle"},
			{Key: "other_first_deg", Label: "or along y first", Value: sheet.Ang(r.OtherFirst), Remark: "down at +y when positive"},
			{Key: "other_second_deg", Label: "then along x", Value: sheet.Ang(r.OtherSecond), Remark: "of the machine"},
		},
		Working: []sheet.Step{
			sheet.Work("tilt", "atan(sqrt(tan(X)^2 + tan(Y)^2))", r.Tilt.Deg(), "deg", sheet.Let("X", x), sheet.Let("Y", y)),
			sheet.Work("second", "atan(tan(Y)*cos(X))", r.Second.Deg(), "deg", sheet.Let("X", x), sheet.Let("Y", y)),
		},
		Notes:    []string{"Angles are positive where the plane rises toward +x or +y; after setting, the plane lies level under the cutter."},
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
}
