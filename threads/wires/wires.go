// Package wires measures a screw over three wires: which wire, what the
// micrometer should read, and what a reading says.
//
// In the letters of the handbooks, with the pitch diameter E, the wire W, the
// pitch P, the half angle a of the thread and the lead angle s:
//
//	M = E + W·(1 + 1/sin a) - P/2·cot a + c
//	c = W/2·tan² s·cos a·cot a
//
// For 60° without c that is M = E + 3·W - 0.866025·P. The correction c is for
// the wires lying askew in the groove; it is an approximation, good to a
// tenth of itself up to a lead angle of 7°, which the tests show against the
// true contact of a cylinder with the helicoid.
package wires

import (
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/limits"
)

// Best returns the wire that touches the flanks at the pitch diameter, where
// an error in the flank angle does not show: P/(2·cos a), 0.577350 P for 60°.
//
// Source: Machinery's Handbook, measurement over wires.
func Best(p units.Pitch, half units.Angle) units.Length { return p.Length(1 / (2 * half.Cos())) }

// Over returns the measurement over three wires on a thread whose flanks are
// square across the axis, with no correction for the lead:
//
//	M = E + W·(1 + 1/sin a) - P/2·cot a
//
// Source: Machinery's Handbook, measurement over wires; its tables are
// compared in the tests.
func Over(e units.Length, p units.Pitch, half units.Angle, wire units.Length) units.Length {
	return e.Plus(units.FromFloat(wire.MM() * (1 + 1/half.Sin()))).Minus(p.Length(1 / (2 * half.Tan())))
}

// Correction returns what the lead adds: W/2·tan² s·cos a·cot a.
//
// Source: the usual lead-angle correction, from memory.
func Correction(lead, half units.Angle, wire units.Length) units.Length {
	t := lead.Tan()
	return units.FromFloat(wire.MM() / 2 * t * t * half.Cos() / half.Tan())
}

// Verdict says where a reading lies.
type Verdict string

// Words implements sheet.Value.
func (v Verdict) Words() (mm, inch string) {
	switch v {
	case Inside:
		return "in the class", "in the class"
	case Large:
		return "still too large", "still too large"
	}
	return "too small, cut too deep", "too small, cut too deep"
}

// The verdicts.
const (
	Inside Verdict = "inside" // in the class
	Large  Verdict = "large"  // above it: cut deeper
	Small  Verdict = "small"  // below it: too deep already
)

// Input is a screw to measure. Wire is the best one where nothing is said;
// Measured is what the micrometer read.
type Input struct {
	Thread   threads.Designation `json:"thread"`
	Wire     *units.Length       `json:"wire_mm,omitempty"`
	Measured *units.Length       `json:"measured_mm,omitempty"`
	Class    string              `json:"class,omitempty"`
}

// Result is a screw over wires. Limits and Verdict are nil for a form without
// limits, the figures of the reading when there was none.
type Result struct {
	Inputs        Input         `json:"inputs"`
	Designation   string        `json:"designation"`
	Class         string        `json:"class,omitempty"`
	OverWires     units.Length  `json:"over_wires_mm" show:"over the wires" note:"basic size, no allowance"`
	OverWiresMax  *units.Length `json:"over_wires_max_mm" show:"at most" as:"down"`
	OverWiresMin  *units.Length `json:"over_wires_min_mm" show:"at least" as:"up"`
	PitchDiameter *units.Length `json:"pitch_diameter_mm" show:"pitch diameter read"`
	Verdict       *Verdict      `json:"verdict" show:"verdict"`
	ToGo          *units.Length `json:"to_go_mm"`
	Wire          units.Length  `json:"wire_mm" show:"wire"`
	BestWire      units.Length  `json:"best_wire_mm" show:"best wire"`
	WireMin       units.Length  `json:"wire_min_mm"`
	WireMax       units.Length  `json:"wire_max_mm"`
	Correction    units.Length  `json:"lead_correction_mm" show:"of it for the lead" as:"fine"`
	sheet.Remarks

	basic units.Length
}

// Measure returns what a screw measures over wires, and what a reading says.
// The wire must touch the flanks below the crests, stand out over them, and
// clear the root; the range is in the result. It fails on taper threads, on a
// nut's class, on a wire outside its range and on a reading no such thread can
// give.
func Measure(in Input) (Result, error) {
	d := in.Thread
	class, _, err := limits.Choose(d, in.Class)
	if err != nil {
		return Result{}, err
	}
	if d.Form.Tapered() {
		return Result{}, problem.New(problem.Impossible, "thread", d,
			"a taper thread is gauged with a ring, not over three wires")
	}
	for _, text := range []string{d.Class, in.Class} {
		if limits.ForNut(text) {
			return Result{}, problem.New(problem.Contradiction, "class", text, "a nut's class: wires measure the screw")
		}
	}
	s, half := d.Sizes(), d.Form.HalfAngle()
	r := Result{Inputs: in, Designation: d.String(), Class: class, basic: s.PitchDiameter}
	r.BestWire = Best(d.Pitch, half)
	r.WireMin, r.WireMax = wireRange(s, d.Pitch, half)
	r.Wire = r.BestWire
	if in.Wire != nil {
		r.Wire = *in.Wire
		if r.Wire.Less(r.WireMin) || r.WireMax.Less(r.Wire) {
			return Result{}, problem.New(problem.OutOfRange, "wire", r.Wire,
				"does not measure this thread: ", r.WireMin.Up(), " to ", r.WireMax.Down(), ", best ", r.BestWire)
		}
	}
	r.Correction = Correction(s.LeadAngle, half, r.Wire)
	over := func(e units.Length) units.Length { return Over(e, d.Pitch, half, r.Wire).Plus(r.Correction) }
	r.OverWires = over(s.PitchDiameter)
	if e := limits.Of(d, class, "").External; e != nil {
		least, most := over(e.PitchMin), over(e.PitchMax)
		r.OverWiresMin, r.OverWiresMax = &least, &most
	}
	if err := r.read(); err != nil {
		return Result{}, err
	}
	r.remark()
	return r, nil
}

// wireRange returns the wires that measure a thread. With y the height of the
// contact over the pitch line,
//
//	W·cos a/2 = P/4 + y·tan a
//
// the largest touches at the crest; the smallest stands level with the crests.
// In the grooves of all forms here that one is clear of the root.
func wireRange(s threads.Sizes, p units.Pitch, half units.Angle) (least, most units.Length) {
	sin, cos, tan := half.Sin(), half.Cos(), half.Tan()
	crest, pitch := s.Major.Minus(s.PitchDiameter).MM()/2, p.MM()
	level := (2*crest + pitch/(2*tan)) / (1 + 1/sin)
	hundredth := units.MustLength("0.01mm")
	return units.FromFloat(level).RoundTo(hundredth, units.Up),
		units.FromFloat((pitch/4+crest*tan)*2/cos).RoundTo(hundredth, units.Down)
}

// read turns the reading back into a pitch diameter and judges it.
func (r *Result) read() error {
	m := r.Inputs.Measured
	if m == nil {
		return nil
	}
	d := r.Inputs.Thread
	e := r.basic.Plus(m.Minus(r.OverWires))
	if far := e.Minus(r.basic).Abs(); far.Cmp(d.Pitch.Length(1)) > 0 {
		return problem.New(problem.OutOfRange, "measured", m,
			"more than a pitch from what this thread measures, ", r.OverWires, ": another thread, or another wire")
	}
	r.PitchDiameter = &e
	if r.OverWiresMin == nil {
		return nil
	}
	v, togo := Inside, units.Length{}
	switch {
	case r.OverWiresMax.Less(*m):
		v, togo = Large, m.Minus(*r.OverWiresMax)
	case m.Less(*r.OverWiresMin):
		v = Small
	}
	r.Verdict, r.ToGo = &v, &togo
	if v != Inside {
		r.No(problem.New(problem.OutOfLimits, "measured", m.Nearest(), "the screw is too ", string(v),
			" for class ", r.Class, ": ", r.OverWiresMin.Up(), " to ", r.OverWiresMax.Down(), " over these wires"))
	}
	return nil
}

// steep is the lead angle above which the correction is no longer trusted.
var steep = units.MustAngle("7deg")

func (r *Result) remark() {
	d := r.Inputs.Thread
	if r.OverWiresMin == nil {
		r.Warn("no-limits", "no limits are known here for this thread: ",
			"the measurement is for the basic size, and a reading is not judged")
	}
	if d.Sizes().LeadAngle.Deg() > steep.Deg() {
		r.Warn("steep", "the lead angle is above 7 deg: the correction for it is a rough one")
	}
	r.Caution(cautions.Isolate, cautions.Manual)
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, r.Designation, " over three wires")
	if r.Class != "" {
		s.Remark(&r.OverWiresMax, "class ", r.Class)
	}
	s.Remark(&r.PitchDiameter, "basic ", r.basic)
	if v := r.Verdict; v != nil && *v == Large {
		s.Remark(&r.Verdict, "at least ", r.ToGo.Up(), " to come off the pitch diameter")
	}
	s.Remark(&r.Correction, "the wires lie askew in the groove")
	s.Remark(&r.BestWire, "any from ", r.WireMin.Up(), " to ", r.WireMax.Down(), " will do")
	s.Figures()
	r.working(s)
	return *s
}

func (r Result) working(s *sheet.Sheet) {
	d := r.Inputs.Thread
	a, p, w := sheet.Let("a", d.Form.HalfAngle().Deg()), sheet.Let("P", d.Pitch.MM()), sheet.Let("W", r.Wire.MM())
	c, e := sheet.Let("c", r.Correction.MM()), sheet.Let("E", r.basic.MM())
	s.Work("best wire", "P/(2*cos(a))", r.BestWire.MM(), "mm", p, a)
	s.Work("c", "W/2*tan(s)^2*cos(a)/tan(a)", r.Correction.MM(), "mm", w, a, sheet.Let("s", d.Sizes().LeadAngle.Deg()))
	s.Work("M", "E + W*(1 + 1/sin(a)) - P/2/tan(a) + c", r.OverWires.MM(), "mm", e, w, a, p, c)
	if m := r.Inputs.Measured; m != nil {
		m := sheet.Let("M", m.MM())
		s.Work("E", "M - W*(1 + 1/sin(a)) + P/2/tan(a) - c", r.PitchDiameter.MM(), "mm", m, w, a, p, c)
	}
}
