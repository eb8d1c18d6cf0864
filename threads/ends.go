package threads

import (
	"github.com/shopspring/decimal"

	"setover/setup/base/units"
)

// Ends are the sizes an end of a thread is prepared to: the chamfer of the
// screw, the mouth of the nut, and the groove a single-point tool runs out
// into.
type Ends struct {
	ChamferTo      units.Length // small diameter of the screw's chamfer: just under the root
	Chamfer        units.Length // its leg at 45°, on the radius
	Countersink    units.Length // diameter of the nut's mouth
	ReliefWidth    *units.Length
	ReliefDiameter *units.Length
}

// Ends returns the usual preparation: a 45° chamfer to the root, a countersink
// of 1.05 d, a relief 3 P wide (3 times the pitch, not the lead) at d - 1.6 P,
// which is under the root of every form. A taper thread is chamfered to the
// root at its small end and has no relief.
//
// Source: common practice, no source.
func (d Designation) Ends() Ends {
	s := d.Sizes()
	hundredth := units.MustLength("0.01mm")
	to := s.MinorExternal
	if d.Form.Tapered() {
		to = d.Cone().E0.Minus(d.depth())
	}
	to = to.RoundTo(hundredth, units.Down)
	e := Ends{ChamferTo: to, Chamfer: d.Major.Minus(to).Half(), Countersink: d.Major.Scale(decimal.New(105, -2))}
	if !d.Form.Tapered() {
		width := d.Pitch.Length(3).RoundTo(hundredth, units.Up)
		under := d.Major.Minus(d.Pitch.Length(1.6)).RoundTo(hundredth, units.Down)
		e.ReliefWidth, e.ReliefDiameter = &width, &under
	}
	return e
}
