package threads

import (
	"setover/setup/base/units"
	"setover/setup/book/practice"
)

// Ends are the sizes an end of a thread is prepared to: the chamfer of the
// screw, its leg at 45° on the radius, the mouth of the nut, and the groove a
// single-point tool runs out into.
type Ends struct {
	ChamferTo      units.Length  `json:"chamfer_to_mm" show:"chamfer the screw to" as:"down"`
	Chamfer        units.Length  `json:"chamfer_mm"`
	Countersink    units.Length  `json:"countersink_mm" show:"countersink the nut to" as:"up" note:"1.05 d (practice)"`
	ReliefWidth    *units.Length `json:"relief_width_mm" show:"relief width" as:"up" note:"3 P (practice)"`
	ReliefDiameter *units.Length `json:"relief_diameter_mm" show:"relief diameter" as:"down"`
}

// Ends returns the usual preparation: a 45° chamfer to the root, a countersink
// of 1.05 d, a relief 3 P wide (3 times the pitch, not the lead) at d - 1.6 P,
// which is under the root of every form. A taper thread is chamfered to the
// root at its small end and has no relief.
//
// Source: common practice, no source.
func (d Designation) Ends() Ends {
	hundredth := units.MustLength("0.01mm")
	to := d.Sizes().MinorExternal
	if d.Form.Tapered() {
		to = d.Cone().E0.Minus(d.height(d.Form.Root.By - d.Form.Pitch.By))
	}
	to = to.RoundTo(hundredth, units.Down)
	e := Ends{ChamferTo: to, Chamfer: d.Major.Minus(to).Half(), Countersink: practice.ThreadMouth.Of(d.Major)}
	if !d.Form.Tapered() {
		width := d.Pitch.Length(practice.ReliefWidth.Number()).RoundTo(hundredth, units.Up)
		under := d.Major.Minus(d.Pitch.Length(practice.ReliefDepth.Number())).RoundTo(hundredth, units.Down)
		e.ReliefWidth, e.ReliefDiameter = &width, &under
	}
	return e
}
