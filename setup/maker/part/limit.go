package part

import (
	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// General is the class of ISO 2768-1 for every size without limits of its own.
type General string

// The classes.
const (
	Fine   General = "fine"
	Medium General = "medium"
	Coarse General = "coarse"
)

// Tolerance is by how much a size may differ from what is drawn: a fit, or both
// deviations from it.
type Tolerance struct {
	Fit          string        // h6 or H7, as text; "" where the deviations are written
	Upper, Lower *units.Length // signed; both or neither
	At           problem.Pos
}

// Limit is how well something of the outside is kept, in one of four ways:
//
//   - Z with Tol: the diameter drawn there;
//   - From, To with Tol: the length between;
//   - From, To with Angle: the half angle of the taper between, plus or minus;
//   - From, To with Gauge: that taper is a named one, such as MT2.
type Limit struct {
	Z        *units.Length
	From, To *units.Length
	Tol      *Tolerance
	Angle    *units.Angle
	Gauge    string
	At       problem.Pos
}
