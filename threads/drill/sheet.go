package drill

import (
	"setover/setup/base/say"
	"setover/setup/page/sheet"
	"setover/threads"
)

// charted reports whether the percentages of a hole have the two bases of 60°
// threads.
func (r Result) charted() bool {
	return !r.Inputs.Forming && r.Inputs.Thread.Form.Tapping == threads.ByCharts
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Hole for ", r.Designation)
	nearest, base := sheet.Text(""), sheet.Text("100 % is the form's own depth")
	if r.MinorMin != nil {
		nearest = " inside the limits of the nut"
	}
	switch {
	case in.Forming:
		s.Title += ", forming tap"
		base = "height raised by a forming tap"
	case r.charted():
		base = "100 % is 1.299038 P"
	}
	s.Remark(&r.Recommended, "nearest to the target", nearest)
	s.Remark(&r.Target, r.because)
	s.Remark(&r.TargetPercent, base)
	s.Remark(&r.TapLead, in.Tap, " tap")
	s.Remark(&r.DrillDepth, "full thread and the tap's lead")
	s.Figures()
	if c := r.Clearance; c != nil {
		holes := sheet.Of(c)
		for i, hole := range []any{&c.Close, &c.Medium, &c.Free} {
			holes.Remark(hole, c.names[i])
		}
		holes.Figures()
		s.Facts = append(s.Facts, holes.Facts...)
	}
	s.Table(r.Choices, "Drills on both sides")
	if in.Depth == nil {
		s.Note("A blind hole is drilled deeper than its full thread by the tap's lead and the drill's point: ",
			"say ", say.Key("depth"), ".")
	}
	switch {
	case in.Forming:
		s.Note("A forming tap raises the thread instead of cutting it: percent is the height raised, by d - 0.0068·%·P.")
	case r.charted():
		s.Note("percent: 100 % is 1.299038 P, as inch charts count; percent ISO: 100 % is 1.082532 P, as tap makers count.")
	}
	r.working(s)
	return *s
}

func (r Result) working(s *sheet.Sheet) {
	d := r.Inputs.Thread
	major, p := sheet.Let("d", d.Major.MM()), sheet.Let("P", d.Pitch.MM())
	d1 := sheet.Let("D1", d.Sizes().MinorInternal.MM())
	formula := "d - p/100*(d - D1)"
	switch {
	case r.Inputs.Forming:
		formula = "d - 0.0068*p*P"
	case r.charted():
		formula = "d - p/100*3*sqrt(3)/4*P"
	}
	if n := r.TargetPercent; n != nil {
		s.Work("target", formula, r.Target.MM(), "mm", major, p, d1, sheet.Let("p", float64(*n)))
	}
	if r.best != nil && r.charted() {
		hole := sheet.Let("D", r.best.Size.MM())
		s.Work("percent", "100*(d - D)/(3*sqrt(3)/4*P)", float64(*r.best.Percent), "%", major, hole, p)
		s.Work("percent ISO", "100*(d - D)/(5*sqrt(3)/8*P)", float64(*r.best.PercentISO), "%", major, hole, p)
	}
	if r.DrillDepth != nil {
		s.Work("point", "D/(2*tan(59))", r.Point.MM(), "mm", sheet.Let("D", r.drilled().MM()))
	}
}
