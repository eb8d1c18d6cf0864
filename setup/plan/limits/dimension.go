package limits

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Kind is what a dimension is.
type Kind string

// The kinds. A place is measured from the left end; an angle is a half angle.
const (
	Diameter    Kind = "diameter"
	Length      Kind = "length"
	Place       Kind = "place"
	Depth       Kind = "depth"
	AcrossFlats Kind = "across-flats"
	TaperEnd    Kind = "taper-end"
	Bore        Kind = "bore"
	Hole        Kind = "hole"
	ThreadBlank Kind = "thread-blank"
	Thread      Kind = "thread"
	Angle       Kind = "angle"
)

// Dimension is a size of the part with its limits: Low and High are the least
// and the most it may be. An angle has them as angles and no lengths. Feature
// is the id of the feature it is of, as outline has them. From and To are the
// stretch it reaches over; both are the place of what has no length.
type Dimension struct {
	Kind                            Kind
	Feature                         string
	From, To                        units.Length
	Drawn, Low, High                units.Length
	DrawnAngle, LowAngle, HighAngle units.Angle
	Why                             say.Text // where the limits come from: "fit h6"
	General                         bool     `json:"-"` // nothing is written of it: the general tolerance
}

// Known reports whether there is such a dimension: what is asked for and is not
// on the part comes back as the zero Dimension.
func (d Dimension) Known() bool { return d.Kind != "" }

// Width returns how far apart the limits are.
func (d Dimension) Width() units.Length { return d.High.Minus(d.Low) }

// Aim returns the size to work to: the middle of the limits, which is the size
// drawn where it may be off either way alike.
func (d Dimension) Aim() units.Length { return d.Low.Plus(d.High).Half() }

// AimAngle returns the angle to work to.
func (d Dimension) AimAngle() units.Angle { return d.LowAngle.Plus(d.HighAngle).Half() }

// Holds reports whether a size is within the limits, both included.
func (d Dimension) Holds(size units.Length) bool {
	return d.Low.Cmp(size) <= 0 && size.Cmp(d.High) <= 0
}

// sameAngle is how near two angles are that were worked out in two ways, in
// degrees.
const sameAngle = 1e-9

// HoldsAngle reports whether an angle is within the limits, both included.
func (d Dimension) HoldsAngle(a units.Angle) bool {
	return a.Deg() >= d.LowAngle.Deg()-sameAngle && a.Deg() <= d.HighAngle.Deg()+sameAngle
}

// halfAngle returns the half angle of a taper:
//
//	tan a = |D - d| / (2·l)
//
// l is above 0. Good to 15 figures.
//
// Source: elementary.
func halfAngle(a, b, l units.Length) units.Angle {
	return units.Radians(math.Atan(a.Minus(b).Abs().Half().Over(l)))
}

// Steepest returns the half angle of a named taper's shank at its limit, for
// its half angle a and the rate r by which it may be steeper, in inches of the
// diameter a foot:
//
//	tan b = tan a + r/24
//
// Good to 15 figures.
//
// Source: elementary; for r see the row taper-rate of practice.
func Steepest(a units.Angle, rate float64) units.Angle {
	const diametersInAFoot = 24 // a foot is 12 in, and the diameter grows by twice the radius
	return units.Radians(math.Atan(a.Tan() + rate/diametersInAFoot))
}
