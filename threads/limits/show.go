package limits

import (
	"fmt"
	"math"

	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
	"setover/threads"
)

// Input is a thread and, perhaps, a class beside the designation's own.
type Input struct {
	Thread threads.Designation `json:"thread"`
	Class  string              `json:"class,omitempty"`
}

// Thread is everything there is to know of a thread before cutting it.
// TurnToMax and TurnToMin are the diameter before a die or a single-point
// tool, TurnForDie the one a die likes best.
type Thread struct {
	Inputs         Input         `json:"inputs"`
	Designation    string        `json:"designation"`
	Form           threads.Form  `json:"form"`
	Major          units.Length  `json:"major_mm"`
	Pitch          units.Pitch   `json:"pitch_mm"`
	Lead           units.Pitch   `json:"lead_mm"`
	TPI            *units.Number `json:"tpi"`
	PitchDiameter  units.Length  `json:"pitch_diameter_mm"`
	MinorInternal  units.Length  `json:"minor_internal_mm"`
	MinorExternal  units.Length  `json:"minor_external_mm"`
	LeadAngle      units.Angle   `json:"lead_angle_deg"`
	StressArea     *units.Number `json:"stress_area_mm2"`
	Limits         Limits        `json:"limits"`
	TurnToMax      units.Length  `json:"turn_to_max_mm"`
	TurnToMin      units.Length  `json:"turn_to_min_mm"`
	TurnForDie     units.Length  `json:"turn_for_die_mm"`
	ChamferTo      units.Length  `json:"chamfer_to_mm"`
	Chamfer        units.Length  `json:"chamfer_mm"`
	Countersink    units.Length  `json:"countersink_mm"`
	ReliefWidth    *units.Length `json:"relief_width_mm"`
	ReliefDiameter *units.Length `json:"relief_diameter_mm"`
	Cone           *threads.Cone `json:"cone"`
	sheet.Remarks
}

// TurnTo is the diameter a thread's blank is turned to.
type TurnTo struct{ Max, Min, ForDie units.Length }

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
	hundredth := units.MustLength("0.01mm")
	under := d.Major.Minus(d.Pitch.Length(0.1)).RoundTo(hundredth, units.Nearest)
	t := TurnTo{Max: d.Major, Min: under, ForDie: under}
	if e := Of(d, external, "").External; e != nil {
		t = TurnTo{Max: e.MajorMax, Min: e.MajorMin, ForDie: units.Max(e.MajorMin, units.Min(e.MajorMax, under))}
	}
	return t, nil
}

// Show returns a thread's sizes, limits, blank, chamfer and relief. A class
// that contradicts the designation is a problem.
func Show(in Input) (Thread, error) {
	d := in.Thread
	external, internal, err := Choose(d, in.Class)
	if err != nil {
		return Thread{}, err
	}
	turn, err := TurnDown(d, in.Class)
	if err != nil {
		return Thread{}, err
	}
	s, ends := d.Sizes(), d.Ends()
	t := Thread{
		Inputs: in, Designation: d.String(), Form: d.Form, Major: d.Major, Pitch: d.Pitch, Lead: d.Lead(), TPI: d.TPI(),
		PitchDiameter: s.PitchDiameter, MinorInternal: s.MinorInternal, MinorExternal: s.MinorExternal,
		LeadAngle: s.LeadAngle, StressArea: s.StressArea, Limits: Of(d, external, internal),
		TurnToMax: turn.Max, TurnToMin: turn.Min, TurnForDie: turn.ForDie,
		ChamferTo: ends.ChamferTo, Chamfer: ends.Chamfer, Countersink: ends.Countersink,
		ReliefWidth: ends.ReliefWidth, ReliefDiameter: ends.ReliefDiameter,
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
		text := "no limits are known here for this form: the sizes are basic"
		if d.Form == threads.Metric {
			text = "ISO 965-1 has no tolerances for this diameter: the sizes are basic"
		}
		if !d.Form.Tapered() {
			text += ", and the blank is turned from 0.1 P under the basic diameter up to it"
		}
		t.Warnings.Add("no-limits", text)
	}
	if d.Form.Tapered() {
		t.Warnings.Add("taper-thread", "pitch and minor diameter stand at the gauge plane; the thread is on a cone of 1:16, so the blank is turned to that taper")
	}
	if d.Left {
		t.Warnings.Add("left-hand", "left-hand: with the spindle forward the leadscrew is reversed, and the carriage runs toward the tailstock")
	}
	t.Caution(cautions.EyeProtection, cautions.Manual)
}

// Sheet implements sheet.Result.
func (t Thread) Sheet() sheet.Sheet {
	d := t.Inputs.Thread
	pitch := sheet.Fact{Key: "pitch_mm", Label: "pitch", Value: sheet.Len(d.Pitch.Length(1)), Remark: d.Form.Name()}
	if d.Pitch.IsInch() {
		pitch.Remark = d.Pitch.String() + "; " + d.Form.Name()
	}
	before := "before a single-point tool or a die"
	switch d.Form {
	case threads.NPT:
		before = "the pipe's outside, before the taper is turned"
	case threads.TaperR:
		before = "at the gauge plane; the taper goes on past it"
	}
	facts := []sheet.Fact{
		{Key: "turn_to_max_mm", Label: "turn to, at most", Value: sheet.Down(t.TurnToMax), Remark: before},
		{Key: "turn_to_min_mm", Label: "turn to, at least", Value: sheet.Up(t.TurnToMin)},
		{Key: "turn_for_die_mm", Label: "best for a die", Value: sheet.Len(t.TurnForDie), Remark: "0.1 P under basic: a die raises the crest"},
		{Key: "major_mm", Label: "major diameter", Value: sheet.Len(t.Major), Remark: "basic"},
		pitch,
	}
	if d.Starts > 1 {
		facts = append(facts, sheet.Fact{Key: "lead_mm", Label: "lead", Value: sheet.Len(d.Lead().Length(1)), Remark: fmt.Sprintf("%d starts", d.Starts)})
	}
	facts = append(facts,
		sheet.Fact{Key: "pitch_diameter_mm", Label: "pitch diameter", Value: sheet.Len(t.PitchDiameter)},
		sheet.Fact{Key: "minor_internal_mm", Label: "minor diameter of the nut", Value: sheet.Len(t.MinorInternal)},
		sheet.Fact{Key: "minor_external_mm", Label: "root of the screw", Value: sheet.Len(t.MinorExternal)},
		sheet.Fact{Key: "lead_angle_deg", Label: "lead angle", Value: sheet.Ang(t.LeadAngle), Remark: "at the pitch diameter; what the tool clears"},
	)
	if t.StressArea != nil {
		facts = append(facts, sheet.Fact{Key: "stress_area_mm2", Label: "stress area", Value: sheet.Num(float64(*t.StressArea), 2, "mm²")})
	}
	facts = append(facts,
		sheet.Fact{Key: "chamfer_to_mm", Label: "chamfer the screw to", Value: sheet.Down(t.ChamferTo), Remark: "45°, down to the root (common practice)"},
		sheet.Fact{Key: "countersink_mm", Label: "countersink the nut to", Value: sheet.Up(t.Countersink), Remark: "1.05 d (common practice)"},
	)
	if t.ReliefWidth != nil {
		facts = append(facts,
			sheet.Fact{Key: "relief_width_mm", Label: "relief width", Value: sheet.Up(*t.ReliefWidth), Remark: "3 P (common practice)"},
			sheet.Fact{Key: "relief_diameter_mm", Label: "relief diameter", Value: sheet.Down(*t.ReliefDiameter), Remark: "d - 1.6 P (common practice)"})
	}
	if c := t.Cone; c != nil {
		facts = append(facts,
			sheet.Fact{Key: "small_end_mm", Label: "turn the small end to", Value: sheet.Len(c.Small), Remark: "1:16 on the diameter from there"},
			sheet.Fact{Key: "e0_mm", Label: "pitch diameter at the small end", Value: sheet.Len(c.E0)},
			sheet.Fact{Key: "l1_mm", Label: "small end to gauge plane", Value: sheet.Len(c.L1)})
		if c.L2 != nil {
			facts = append(facts, sheet.Fact{Key: "l2_mm", Label: "length of full thread", Value: sheet.Len(*c.L2)})
		}
	}
	out := sheet.Sheet{Title: "Thread " + t.Designation, Facts: facts, Working: t.working(), Warnings: t.Warnings, Cautions: t.Cautions}
	if table := t.Limits.table(); len(table.Rows) > 0 {
		out.Tables = append(out.Tables, table)
	}
	return out
}

// table returns the limits for people.
func (l Limits) table() sheet.Table {
	t := sheet.Table{Title: "Limits", Cols: []sheet.Column{
		{Key: "part", Head: "part"},
		{Key: "class", Head: "class"},
		{Key: "major_max_mm", Head: "major max"},
		{Key: "major_min_mm", Head: "major min"},
		{Key: "pitch_max_mm", Head: "pitch dia. max"},
		{Key: "pitch_min_mm", Head: "pitch dia. min"},
		{Key: "minor_max_mm", Head: "minor max"},
		{Key: "minor_min_mm", Head: "minor min"},
	}}
	if e := l.External; e != nil {
		t.Add(sheet.Text("screw"), sheet.Text(e.Class), sheet.Len(e.MajorMax), sheet.Len(e.MajorMin), sheet.Len(e.PitchMax), sheet.Len(e.PitchMin), sheet.Len(e.MinorMax), sheet.LenOrNone(e.MinorMin))
	}
	if i := l.Internal; i != nil {
		t.Add(sheet.Text("nut"), sheet.Text(i.Class), sheet.LenOrNone(i.MajorMax), sheet.Len(i.MajorMin), sheet.Len(i.PitchMax), sheet.Len(i.PitchMin), sheet.Len(i.MinorMax), sheet.Len(i.MinorMin))
	}
	return t
}

// working shows the formulas of the basic sizes.
func (t Thread) working() []sheet.Step {
	d := t.Inputs.Thread
	dia, p := t.Major.MM(), d.Pitch.MM()
	steps := []sheet.Step{
		sheet.Work("Ph", "n*P", d.Lead().MM(), "mm", sheet.Let("n", float64(d.Starts)), sheet.Let("P", p)),
	}
	add := func(name, formula string, v units.Length, more ...sheet.Var) {
		steps = append(steps, sheet.Work(name, formula, v.MM(), "mm", append(more, sheet.Let("d", dia), sheet.Let("P", p))...))
	}
	depth := sheet.Let("h", t.Major.Minus(t.PitchDiameter).MM())
	switch d.Form {
	case threads.Metric, threads.Unified:
		add("d2", "d - 3*sqrt(3)/8*P", t.PitchDiameter)
		add("D1", "d - 5*sqrt(3)/8*P", t.MinorInternal)
		if d.Form == threads.Metric {
			add("d3", "d - 17*sqrt(3)/24*P", t.MinorExternal)
		} else {
			add("d3", "d - 11*sqrt(3)/16*P", t.MinorExternal)
		}
	case threads.Whitworth:
		add("d2", "d - 0.640327*P", t.PitchDiameter)
		add("D1", "d - 2*0.640327*P", t.MinorInternal)
	case threads.Trapezoidal, threads.Acme:
		add("d2", "d - P/2", t.PitchDiameter)
		add("D1", "d - P", t.MinorInternal)
		add("d3", "d - P - 2*ac", t.MinorExternal, sheet.Let("ac", d.Clearance().MM()))
	case threads.BA, threads.ParallelG:
		add("d2", "d - h", t.PitchDiameter, depth)
		add("D1", "d - 2*h", t.MinorInternal, depth)
	case threads.NPT:
		c := t.Cone
		add("E0", "d - (0.05*d + 1.1*25.4)*P/25.4", c.E0)
		add("E1", "E0 + L1/16", c.E1, sheet.Let("E0", c.E0.MM()), sheet.Let("L1", c.L1.MM()))
	case threads.TaperR:
		add("d2", "d - h", t.PitchDiameter, depth)
	}
	return append(steps, sheet.Work("lead angle", "atan(Ph/(pi*d2))", t.LeadAngle.Deg(), "deg",
		sheet.Let("Ph", d.Lead().MM()), sheet.Let("pi", math.Pi), sheet.Let("d2", t.PitchDiameter.MM())))
}
