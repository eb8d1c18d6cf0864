package drill

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	out := sheet.Sheet{Title: "Hole for " + r.Designation, Warnings: r.Warnings, Cautions: r.Cautions, Working: r.working()}
	if in.Forming {
		out.Title += ", forming tap"
	}
	drill := sheet.Value(nil)
	if r.best != nil {
		drill = sheet.Text(r.best.Name)
	}
	nearest := "nearest to the target"
	if r.MinorMin != nil {
		nearest += " inside the limits of the nut"
	}
	out.Facts = []sheet.Fact{
		{Key: "recommended", Label: "drill", Value: drill, Remark: nearest},
		{Key: "target_mm", Label: "target hole", Value: sheet.Len(r.Target), Remark: r.because},
	}
	if r.TargetPercent != nil {
		out.Facts = append(out.Facts, sheet.Fact{Key: "target_percent", Label: "target percentage", Value: sheet.Num(float64(*r.TargetPercent), 1, "%"), Remark: r.base()})
	}
	if r.MinorMin != nil {
		out.Facts = append(out.Facts,
			sheet.Fact{Key: "minor_min_mm", Label: "hole, at least", Value: sheet.Up(*r.MinorMin), Remark: "minor diameter of the nut"},
			sheet.Fact{Key: "minor_max_mm", Label: "hole, at most", Value: sheet.Down(*r.MinorMax)})
	}
	out.Facts = append(out.Facts, sheet.Fact{Key: "tap_lead_mm", Label: "the tap's lead", Value: sheet.Up(r.TapLead), Remark: fmt.Sprintf("%s tap", in.Tap)})
	if r.DrillDepth != nil {
		out.Facts = append(out.Facts,
			sheet.Fact{Key: "drill_depth_mm", Label: "drill, full diameter to", Value: sheet.Up(*r.DrillDepth), Remark: "full thread and the tap's lead"},
			sheet.Fact{Key: "total_depth_mm", Label: "to the drill's tip", Value: sheet.Up(*r.TotalDepth), Remark: "118° point"})
	}
	if c := r.Clearance; c != nil {
		for i, f := range []struct {
			key, label string
			l          *units.Length
		}{{"close_mm", "clearance hole, close", c.Close}, {"medium_mm", "medium", c.Medium}, {"free_mm", "free", c.Free}} {
			if f.l != nil {
				out.Facts = append(out.Facts, sheet.Fact{Key: f.key, Label: f.label, Value: sheet.Len(*f.l), Remark: c.names[i]})
			}
		}
	}
	out.Tables = []sheet.Table{r.table()}
	if in.Depth == nil {
		out.Notes = append(out.Notes, "A blind hole is drilled deeper than its full thread by the tap's lead and the drill's point: say --depth.")
	}
	if in.Forming {
		out.Notes = append(out.Notes, "A forming tap raises the thread instead of cutting it: percent is the height raised, by d - 0.0068·%·P.")
	} else if sixty(in.Thread) {
		out.Notes = append(out.Notes, "percent: 100 % is 1.299038 P, as inch charts count; percent ISO: 100 % is 1.082532 P, as tap makers count.")
	}
	return out
}

// base names the base of the percentage.
func (r Result) base() string {
	switch {
	case r.Inputs.Forming:
		return "height raised by a forming tap"
	case sixty(r.Inputs.Thread):
		return "100 % is 1.299038 P"
	}
	return "100 % is the form's own depth"
}

func (r Result) table() sheet.Table {
	t := sheet.Table{Title: "Drills on both sides", Cols: []sheet.Column{
		{Key: "name", Head: "drill"},
		{Key: "size_mm", Head: "size"},
		{Key: "percent", Head: "percent"},
		{Key: "percent_iso", Head: "percent ISO"},
		{Key: "in_limits", Head: "in limits"},
		{Key: "cuts_mm", Head: "really cuts"},
		{Key: "cuts_percent", Head: "percent then"},
		{Key: "in_drawer", Head: "in the drawer"},
	}}
	percent := func(n *units.Number) sheet.Value {
		if n == nil {
			return nil
		}
		return sheet.Num(float64(*n), 1, "%")
	}
	yes := func(b *bool) sheet.Value {
		if b == nil {
			return nil
		}
		return sheet.YesNo(*b)
	}
	for _, c := range r.Choices {
		t.Add(sheet.Text(c.Name), sheet.Len(c.Size), percent(c.Percent), percent(c.PercentISO), yes(c.InLimits), sheet.Len(c.Cuts), percent(c.CutsPercent), yes(c.InDrawer))
	}
	return t
}

func (r Result) working() []sheet.Step {
	in := r.Inputs
	d := in.Thread
	major, p := sheet.Let("d", d.Major.MM()), sheet.Let("P", d.Pitch.MM())
	var steps []sheet.Step
	if n := r.TargetPercent; n != nil {
		percent := sheet.Let("p", float64(*n))
		switch {
		case in.Forming:
			steps = append(steps, sheet.Work("target", "d - 0.0068*p*P", r.Target.MM(), "mm", major, percent, p))
		case sixty(d):
			steps = append(steps, sheet.Work("target", "d - p/100*3*sqrt(3)/4*P", r.Target.MM(), "mm", major, percent, p))
		default:
			steps = append(steps, sheet.Work("target", "d - p/100*(d - D1)", r.Target.MM(), "mm", major, percent, sheet.Let("D1", d.Sizes().MinorInternal.MM())))
		}
	}
	if r.best != nil && sixty(d) && !in.Forming {
		hole := sheet.Let("D", r.best.Size.MM())
		steps = append(steps,
			sheet.Work("percent", "100*(d - D)/(3*sqrt(3)/4*P)", float64(*r.best.Percent), "%", major, hole, p),
			sheet.Work("percent ISO", "100*(d - D)/(5*sqrt(3)/8*P)", float64(*r.best.PercentISO), "%", major, hole, p))
	}
	if r.DrillDepth != nil {
		steps = append(steps, sheet.Work("point", "D/(2*tan(59))", r.Point.MM(), "mm", sheet.Let("D", r.drilled().MM())))
	}
	return steps
}

// drilled returns the drill the depth is reckoned with.
func (r Result) drilled() units.Length {
	if r.best != nil {
		return r.best.Size
	}
	return r.Target
}
