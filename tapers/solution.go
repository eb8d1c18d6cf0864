package tapers

import (
	"setover/setup/page/sheet"
)

// Solution is the answer to "what taper is this?".
type Solution struct {
	Inputs Input `json:"inputs"`
	Taper
	sheet.Remarks
}

// SolveSheet solves a taper and returns it with what was asked.
func SolveSheet(in Input) (Solution, error) {
	t, err := Solve(in)
	return Solution{Inputs: in, Taper: t}, err
}

// Facts returns the taper's figures as every taper sheet lists them.
func (t Taper) Facts() []sheet.Fact {
	facts := []sheet.Fact{
		{Key: "half_angle_deg", Label: "half angle", Value: sheet.Ang(t.HalfAngle), Remark: "from the axis to the side; what a compound is set to"},
		{Key: "included_angle_deg", Label: "included angle", Value: sheet.Ang(t.Included), Remark: "from side to side"},
		{Key: "ratio", Label: "one in", Value: sheet.Num(float64(t.Ratio), 4, ""), Remark: "on the diameter"},
		{Key: "percent", Label: "percent", Value: sheet.Num(float64(t.Percent), 4, "%"), Remark: "on the diameter"},
		{Key: "taper_per_foot_in", Label: "taper per foot", Value: sheet.Num(float64(t.PerFoot), 4, "in"), Remark: "on the diameter"},
	}
	if t.SlopeLength == nil {
		return facts
	}
	return append(facts,
		sheet.Fact{Key: "large_mm", Label: "large diameter", Value: sheet.Len(*t.Large)},
		sheet.Fact{Key: "small_mm", Label: "small diameter", Value: sheet.Len(*t.Small)},
		sheet.Fact{Key: "length_mm", Label: "length", Value: sheet.Len(*t.Length), Remark: "along the axis"},
		sheet.Fact{Key: "slope_length_mm", Label: "slope length", Value: sheet.Len(*t.SlopeLength), Remark: "along the side"},
	)
}

// Working returns the formulas that turn what is known into the taper.
func (t Taper) Working() []sheet.Step {
	a := t.HalfAngle.Deg()
	var steps []sheet.Step
	if t.SlopeLength != nil {
		D, d, l := t.Large.MM(), t.Small.MM(), t.Length.MM()
		steps = append(steps,
			sheet.Work("a", "atan((D - d)/(2*l))", a, "deg", sheet.Let("D", D), sheet.Let("d", d), sheet.Let("l", l)),
			sheet.Work("s", "l/cos(a)", t.SlopeLength.MM(), "mm", sheet.Let("l", l), sheet.Let("a", a)))
	}
	return append(steps,
		sheet.Work("included", "2*a", t.Included.Deg(), "deg", sheet.Let("a", a)),
		sheet.Work("N", "1/(2*tan(a))", float64(t.Ratio), "", sheet.Let("a", a)),
		sheet.Work("tpf", "24*tan(a)", float64(t.PerFoot), "in", sheet.Let("a", a)))
}

// Sheet implements sheet.Result.
func (s Solution) Sheet() sheet.Sheet {
	return sheet.Sheet{
		Title: "Taper", Facts: s.Facts(), Working: s.Working(),
		Warnings: s.Warnings, Cautions: s.Cautions,
	}
}
