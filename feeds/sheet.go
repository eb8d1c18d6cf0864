package feeds

import (
	"fmt"
	"math"
	"strings"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// title returns the operation as a heading says it.
func (op Operation) title() string {
	switch op {
	case Turn:
		return "Turning"
	case Face:
		return "Facing"
	case Bore:
		return "Boring"
	case PartOff:
		return "Parting off"
	case Thread:
		return "Threading with a single point"
	case Drill:
		return "Drilling"
	case Ream:
		return "Reaming"
	case Tap:
		return "Tapping"
	case Countersink:
		return "Countersinking"
	case Mill:
		return "Milling"
	case Saw:
		return "Sawing"
	}
	return "Belt grinding"
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Sheet{
		Title:    r.Inputs.Operation.title() + ": " + r.material.Title,
		Warnings: r.Warnings, Cautions: r.Cautions, Working: r.working(),
		Notes: hints(r.material, r.Inputs.Operation),
	}
	s.Facts = append(r.speedFacts(), r.feedFacts()...)
	s.Facts = append(s.Facts, r.powerFacts()...)
	if r.Growth.Cmp(units.MustLength("0.005mm")) >= 0 && onWork(r.Inputs.Operation) {
		s.Facts = append(s.Facts, sheet.Fact{Key: "growth_10k_mm", Label: "10 °C warmer it grows", Value: sheet.Fine(*r.Growth), Remark: "on the diameter: measure it cold"})
	}
	if len(r.Ends) > 0 {
		t := sheet.Table{Title: "Both ends", Cols: []sheet.Column{
			{Key: "diameter_mm", Head: "diameter"},
			{Key: "ideal_rpm", Head: "ideal rpm"},
			{Key: "rpm", Head: "best rpm"},
			{Key: "actual_speed_m_min", Head: "speed as run"},
		}}
		for _, e := range r.Ends {
			row := []sheet.Value{sheet.Len(e.Diameter), nil, nil, nil}
			if e.IdealRPM != nil {
				row[1] = sheet.Num(math.Floor(e.IdealRPM.RPM()), 0, "")
			}
			if e.RPM != nil {
				row[2] = sheet.Num(e.RPM.RPM(), 0, "")
			}
			if e.Speed != nil {
				row[3] = sheet.Num(e.Speed.MetresPerMinute(), 1, "m/min")
			}
			t.Add(row...)
		}
		s.Tables = append(s.Tables, t)
	}
	if len(r.Pecks) > 0 {
		t := sheet.Table{Title: "Pecks", Cols: []sheet.Column{{Key: "n", Head: "n"}, {Key: "to_mm", Head: "to"}, {Key: "step_mm", Head: "step"}}}
		for _, p := range r.Pecks {
			t.Add(sheet.Count(p.N), sheet.Down(p.To), sheet.Len(p.Step))
		}
		s.Tables = append(s.Tables, t)
		s.Notes = append(s.Notes, "Draw the drill right out between pecks and clear the chips.")
	}
	if most := woodStart(r.material.Group, r.Inputs.Operation, r.governs); most > 0 {
		s.Notes = append(s.Notes, fmt.Sprintf("Wood that is not yet round: not above %.0f rpm until it runs true (9000/D, D in inches, wood-turning-rule).", most))
	}
	if len(r.DefaultsUsed) > 0 {
		s.Notes = append(s.Notes, "Taken where nothing was said (common practice, no source): "+strings.Join(r.DefaultsUsed, "; ")+".")
	}
	s.Notes = append(s.Notes, "Sources are named as in testdata/reference/SOURCES.md.")
	return s
}

// onWork reports whether the diameter is the work's.
func onWork(op Operation) bool {
	switch op {
	case Turn, Face, Bore, PartOff, Thread, Drill, Ream:
		return true
	}
	return false
}

func (r Result) speedFacts() []sheet.Fact {
	var facts []sheet.Fact
	if r.RPM != nil {
		where := ""
		if r.Machine != nil {
			where = "on " + r.machine()
		}
		facts = append(facts, sheet.Fact{Key: "rpm", Label: "run at", Value: sheet.Num(r.RPM.RPM(), 0, "rpm"), Remark: where})
	}
	facts = append(facts, sheet.Fact{Key: "ideal_rpm", Label: "ideal speed", Value: sheet.Num(math.Floor(r.IdealRPM.RPM()), 0, "rpm"), Remark: fmt.Sprintf("for %v", r.governs)})
	facts = append(facts, sheet.Fact{
		Key: "cutting_speed_m_min", Label: "cutting speed", Value: speed(r.CuttingSpeed),
		Remark: fmt.Sprintf("chosen from %.0f to %.0f m/min (printed %s: %s)", r.SpeedLow.MetresPerMinute(), r.SpeedHigh.MetresPerMinute(), r.PrintedSpeeds, r.Source),
	})
	if r.ActualSpeed != nil {
		facts = append(facts, sheet.Fact{Key: "actual_speed_m_min", Label: "which gives", Value: speed(*r.ActualSpeed), Remark: fmt.Sprintf("%.0f ft/min", r.ActualSpeed.FeetPerMinute())})
	}
	return facts
}

func speed(v units.SurfaceSpeed) sheet.Value { return sheet.Num(v.MetresPerMinute(), 1, "m/min") }

func (r Result) feedFacts() []sheet.Fact {
	if r.Feed == nil {
		return nil
	}
	source := *r.FeedSource
	if r.PrintedFeeds != "" {
		source = "printed " + r.PrintedFeeds + ": " + source
	}
	facts := []sheet.Fact{
		{Key: "feed_mm_rev", Label: "feed", Value: sheet.Num(r.Feed.MM(), 3, "mm/rev"), Remark: fmt.Sprintf("%.4f in/rev (%s)", r.Feed.MM()/25.4, source)},
	}
	if r.teeth > 1 {
		facts = append(facts, sheet.Fact{Key: "chip_mm", Label: "a tooth takes", Value: sheet.Num(r.Chip.MM(), 3, "mm"), Remark: fmt.Sprintf("%d teeth", r.teeth)})
	}
	facts = append(facts, sheet.Fact{Key: "feed_mm_min", Label: "feed rate", Value: sheet.Num(float64(*r.FeedRate), 1, "mm/min"), Remark: r.pace()})
	if r.Depth != nil {
		facts = append(facts, sheet.Fact{Key: "depth_mm", Label: "depth", Value: sheet.Down(*r.Depth), Remark: r.depthRemark()})
	}
	if r.Width != nil {
		facts = append(facts, sheet.Fact{Key: "width_mm", Label: "width", Value: sheet.Len(*r.Width)})
	}
	return facts
}

// pace says the feed rate as a hand winds it.
func (r Result) pace() string {
	return fmt.Sprintf("10 mm in %.0f s", 600/float64(*r.FeedRate))
}

func (r Result) depthRemark() string {
	side := "a side"
	if r.Inputs.Operation == Mill || r.Inputs.Operation == Face {
		side = "along the tool"
	}
	if r.DepthLimit != nil {
		return fmt.Sprintf("%s; the motor drives %v", side, *r.DepthLimit)
	}
	return side
}

func (r Result) powerFacts() []sheet.Fact {
	var facts []sheet.Fact
	if r.Power != nil {
		remark := fmt.Sprintf("at %.2f W.s/mm3 (%s)", float64(r.SpecificEnergy), r.EnergySource)
		facts = append(facts, sheet.Fact{Key: "power_w", Label: "power at the cut", Value: sheet.Num(float64(*r.Power), 0, "W"), Remark: remark})
		remark = fmt.Sprintf("with %.0f %% of it reaching the cut, common practice", efficiency*100)
		if r.PowerAvailable != nil {
			remark += fmt.Sprintf("; it has %v", *r.PowerAvailable)
		}
		facts = append(facts, sheet.Fact{Key: "power_motor_w", Label: "of the motor", Value: sheet.Num(float64(*r.MotorPower), 0, "W"), Remark: remark})
	}
	if r.Force != nil {
		facts = append(facts, sheet.Fact{Key: "force_n", Label: "cutting force", Value: sheet.Num(float64(*r.Force), 0, "N"), Remark: fmt.Sprintf("%.0f kg on the tool", float64(*r.Force)/9.80665)})
	}
	if r.Torque != nil && !onLathe(r.Inputs.Operation) {
		facts = append(facts, sheet.Fact{Key: "torque_nm", Label: "torque", Value: sheet.Num(float64(*r.Torque), 2, "Nm")})
	}
	if b := r.BoringBar; b != nil {
		facts = append(facts, sheet.Fact{Key: "boring_bar", Label: "boring bar", Value: sheet.Len(b.Diameter), Remark: fmt.Sprintf("sticking out %v at the most in steel; it reaches %v", b.Limit, b.Reach)})
	}
	if r.Time != nil {
		facts = append(facts, sheet.Fact{
			Key: "time_min", Label: "time of one pass", Value: sheet.Num(float64(*r.Time), 2, "min"),
			Remark: fmt.Sprintf("%.2f min of it cutting; %d mm before, %d after, and the way back", float64(*r.CutTime), approach, overrun),
		})
	}
	return facts
}

func onLathe(op Operation) bool {
	switch op {
	case Turn, Face, Bore, PartOff, Thread:
		return true
	}
	return false
}

// working shows the arithmetic. A step that needs a figure there is none of is
// left out.
func (r Result) working() []sheet.Step {
	pi := sheet.Let("pi", math.Pi)
	d, n := r.governs.MM(), r.turns().RPM()
	steps := []sheet.Step{sheet.Work("n", "1000*v/(pi*D)", r.IdealRPM.RPM(), "rpm", sheet.Let("v", r.CuttingSpeed.MetresPerMinute()), pi, sheet.Let("D", d))}
	if r.ActualSpeed != nil {
		steps = append(steps, sheet.Work("v", "pi*D*n/1000", r.ActualSpeed.MetresPerMinute(), "m/min", pi, sheet.Let("D", d), sheet.Let("n", n)))
	}
	if r.Feed != nil {
		f := r.Feed.MM()
		steps = append(steps, sheet.Work("feed rate", "f*n", float64(*r.FeedRate), "mm/min", sheet.Let("f", f), sheet.Let("n", n)))
		if r.RemovalRate != nil {
			large, small := r.Inputs.cutEnds()
			vars := []sheet.Var{pi, sheet.Let("D", large), sheet.Let("d", small), sheet.Let("a", r.depth()), sheet.Let("f", f), sheet.Let("n", n)}
			if r.Width != nil {
				vars = append(vars, sheet.Let("w", r.Width.MM()))
			}
			steps = append(steps,
				sheet.Work("Q", r.chip.formula+"*n/60", float64(*r.RemovalRate)/60, "mm3/s", vars...),
				sheet.Work("P", "U*Q", float64(*r.Power), "W", sheet.Let("U", float64(r.SpecificEnergy)), sheet.Let("Q", float64(*r.RemovalRate)/60)))
		}
		if r.CutTime != nil {
			cut, _, _ := r.path()
			steps = append(steps, sheet.Work("t", "L/(f*n)", float64(*r.CutTime), "min", sheet.Let("L", cut), sheet.Let("f", f), sheet.Let("n", n)))
		}
	}
	return steps
}
