package limits

import (
	"math"

	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
	"setover/threads"
)

// Input is a thread and, perhaps, a class beside the designation's own.
type Input struct {
	Thread threads.Designation `json:"thread"`
	Class  string              `json:"class,omitempty"`
}

// TurnTo is the diameter a thread's blank is turned to, before a die or a
// single-point tool, and the one a die likes best.
type TurnTo struct {
	Max    units.Length `json:"turn_to_max_mm" show:"turn to, at most" as:"down"`
	Min    units.Length `json:"turn_to_min_mm" show:"turn to, at least" as:"up"`
	ForDie units.Length `json:"turn_for_die_mm" show:"best for a die" note:"0.1 P under basic: a die raises the crest"`
}

// Thread is everything there is to know of a thread before cutting it.
type Thread struct {
	Inputs      Input  `json:"inputs"`
	Designation string `json:"designation"`
	Form        string `json:"form"`
	TurnTo
	Major         units.Length  `json:"major_mm" show:"major diameter" note:"basic"`
	Pitch         units.Pitch   `json:"pitch_mm" show:"pitch"`
	Lead          units.Pitch   `json:"lead_mm" show:"lead"`
	TPI           *units.Number `json:"tpi"`
	PitchDiameter units.Length  `json:"pitch_diameter_mm" show:"pitch diameter"`
	MinorInternal units.Length  `json:"minor_internal_mm" show:"minor diameter of the nut"`
	MinorExternal units.Length  `json:"minor_external_mm" show:"root of the screw"`
	LeadAngle     units.Angle   `json:"lead_angle_deg" show:"lead angle" as:"minutes"`
	StressArea    *units.Number `json:"stress_area_mm2" show:"stress area" as:"2 mm²"`
	Limits        Limits        `json:"limits"`
	threads.Ends
	Cone *threads.Cone `json:"cone"`
	sheet.Remarks
}

// TurnDown returns what to turn a screw to before threading: the limits of the
// major diameter of its class, or from 0.1 P under the basic size up to it for
// a form without limits. A die raises the crest a little, so it gets 0.1 P
// under basic, inside the limits.
//
// Source: ISO 965-1 or ASME B1.1 for the limits; 0.1 P is common practice, no
// source. A taper thread is turned to a cone: its diameters are those of the
// pipe.
func TurnDown(d threads.Designation, class string) (TurnTo, error) {
	external, _, err := Choose(d, class)
	if err != nil {
		return TurnTo{}, err
	}
	return turnTo(d, Of(d, external, "").External), nil
}

func turnTo(d threads.Designation, e *External) TurnTo {
	under := d.Major.Minus(d.Pitch.Length(practice.DieUnder.Number())).RoundTo(units.MustLength("0.01mm"), units.Nearest)
	if e == nil {
		return TurnTo{Max: d.Major, Min: under, ForDie: under}
	}
	return TurnTo{Max: e.MajorMax, Min: e.MajorMin, ForDie: units.Max(e.MajorMin, units.Min(e.MajorMax, under))}
}

// Show returns a thread's sizes, limits, blank, chamfer and relief. A class
// that contradicts the designation is a problem.
func Show(in Input) (Thread, error) {
	d := in.Thread
	external, internal, err := Choose(d, in.Class)
	if err != nil {
		return Thread{}, err
	}
	s, l := d.Sizes(), Of(d, external, internal)
	t := Thread{
		Inputs: in, Designation: d.String(), Form: d.Form.Key, TurnTo: turnTo(d, l.External), Limits: l, Ends: d.Ends(),
		Major: d.Major, Pitch: d.Pitch, Lead: d.Lead(), TPI: d.TPI(), PitchDiameter: s.PitchDiameter,
		MinorInternal: s.MinorInternal, MinorExternal: s.MinorExternal, LeadAngle: s.LeadAngle, StressArea: s.StressArea,
	}
	if d.Form.Tapered() {
		c := d.Cone()
		t.Cone = &c
	}
	t.remark()
	return t, nil
}

func (t *Thread) remark() {
	d := t.Inputs.Thread
	if t.Limits.External == nil && t.Limits.Internal == nil {
		why, blank := sheet.Text("no limits are known here for this form"), sheet.Text("")
		if d.Form.Limits != threads.NoLimits {
			why = sheet.Text(d.Form.Limits) + " has no tolerances for this diameter"
		}
		if !d.Form.Tapered() {
			blank = ", and the blank is turned from 0.1 P under the basic diameter up to it"
		}
		t.Warn("no-limits", why, ": the sizes are basic", blank)
	}
	if d.Form.Tapered() {
		t.Warn("taper-thread", "pitch and minor diameter stand at the gauge plane; the thread is on a cone of 1:16, ",
			"so the blank is turned to that taper")
	}
	if d.Left {
		t.Warn("left-hand", "left-hand: with the spindle forward the leadscrew is reversed, ",
			"and the carriage runs toward the tailstock")
	}
	t.Caution(cautions.EyeProtection, cautions.Manual)
}

// Sheet implements sheet.Result.
func (t Thread) Sheet() sheet.Sheet {
	d := t.Inputs.Thread
	s := sheet.Of(&t, "Thread ", t.Designation)
	s.Remark(&t.Max, d.Form.Blank)
	s.Remark(&t.Pitch, d.Form.Name)
	if d.Pitch.IsInch() {
		s.Remark(&t.Pitch, d.Pitch, "; ", d.Form.Name)
	}
	s.Remark(&t.Lead, d.Starts, " starts")
	if d.Starts == 1 {
		s.Skip(&t.Lead)
	}
	s.Remark(&t.LeadAngle, "at the pitch diameter; what the tool clears")
	s.Remark(&t.ChamferTo, "45°, down to the root (practice)")
	s.Remark(&t.ReliefDiameter, "d - 1.6 P (practice)")
	s.Figures()
	if t.Cone != nil {
		c := sheet.Of(t.Cone)
		c.Figures()
		s.Facts = append(s.Facts, c.Facts...)
	}
	if e := t.Limits.External; e != nil {
		s.Table([]External{*e}, "Limits")
	}
	if i := t.Limits.Internal; i != nil {
		s.Table([]Internal{*i}, "Limits")
	}
	if len(s.Tables) == 2 { // one below the other
		s.Tables[0].Rows = append(s.Tables[0].Rows, s.Tables[1].Rows...)
		s.Tables = s.Tables[:1]
	}
	t.working(s)
	return *s
}

// working shows the formulas of the basic sizes, as the form's row has them.
func (t Thread) working(s *sheet.Sheet) {
	d, f := t.Inputs.Thread, t.Inputs.Thread.Form
	p, h := sheet.Let("P", d.Pitch.MM()), sheet.Let("h", t.Major.Minus(t.PitchDiameter).MM())
	letters := []sheet.Var{p, h, sheet.Let("d", t.Major.MM()), sheet.Let("ac", d.Clearance().MM())}
	size := func(name, formula string, v units.Length, more ...sheet.Var) {
		s.Work(name, formula, v.MM(), "mm", append(more, letters...)...)
	}
	s.Work("Ph", "n*P", d.Lead().MM(), "mm", sheet.Let("n", float64(d.Starts)), p)
	if c := t.Cone; c != nil {
		l1 := sheet.Let("L1", c.L1.MM())
		size("E0", f.Cone.E0, c.E0, l1, sheet.Let("E1", c.E1.MM()))
		size("E1", f.Cone.E1, c.E1, l1, sheet.Let("E0", c.E0.MM()))
	} else {
		size("d2", "d - "+f.Pitch.Text, t.PitchDiameter)
		size("D1", "d - "+f.Minor.Text, t.MinorInternal)
		switch {
		case f.Gaps != nil:
			size("d3", "d - "+f.Root.Text+" - 2*ac", t.MinorExternal)
		case f.Root != f.Minor:
			size("d3", "d - "+f.Root.Text, t.MinorExternal)
		}
	}
	s.Work("lead angle", "atan(Ph/(pi*d2))", t.LeadAngle.Deg(), "deg",
		sheet.Let("Ph", d.Lead().MM()), sheet.Let("pi", math.Pi), sheet.Let("d2", t.PitchDiameter.MM()))
}
