package feeds

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, r.facts.title, ": ", r.material.Title)
	r.speedRemarks(s)
	r.feedRemarks(s)
	r.powerRemarks(s)
	if r.Growth.Less(units.MustLength("0.005mm")) || !r.facts.onWork {
		s.Skip(&r.Growth)
	}
	s.Remark(&r.Growth, "on the diameter: measure it cold")
	s.Figures()
	if len(r.Ends) > 0 {
		s.Table(r.Ends, "Both ends")
	}
	r.working(s)
	_, hints := said(r.material, r.Inputs.Operation)
	for _, h := range hints {
		s.Note(h)
	}
	if len(r.Pecks) > 0 {
		s.Table(r.Pecks, "Pecks")
		s.Note("Draw the drill right out between pecks and clear the chips.")
	}
	if r.material.Has(materials.RoughStart) && r.facts.lathe() {
		s.Note("Wood that is not yet round: not above ", whole(WoodStart(r.governs)),
			" until it runs true (9000/D, D in inches, wood-turning-rule).")
	}
	if len(r.DefaultsUsed) > 0 {
		s.Note("Taken where nothing was said (common practice, no source): ", say.Join(r.DefaultsUsed, "; "), ".")
	}
	s.Note("Sources are named as in testdata/reference/SOURCES.md.")
	return *s
}

func (r *Result) speedRemarks(s *sheet.Sheet) {
	if r.Machine != nil {
		s.Remark(&r.RPM, "on ", r.machine())
	}
	s.Remark(&r.IdealRPM, "for ", r.governs)
	s.Remark(&r.CuttingSpeed, "chosen from ", r.SpeedLow, " to ", r.SpeedHigh,
		" (printed ", r.printedSpeeds, ": ", r.Source, ")")
	if r.ActualSpeed != nil {
		s.Remark(&r.ActualSpeed, say.Other(r.ActualSpeed))
	}
}

func (r *Result) feedRemarks(s *sheet.Sheet) {
	if r.teeth > 1 {
		s.Remark(&r.Chip, r.teeth, " teeth")
	} else {
		s.Skip(&r.Chip)
	}
	if r.Feed == nil {
		return
	}
	printed := say.Text("")
	if r.printedFeeds != "" {
		printed = say.Of("printed ", r.printedFeeds, ": ")
	}
	s.Remark(&r.Feed, say.Other(r.Feed), " (", printed, *r.FeedSource, ")")
	seconds := func(mm float64) float64 { return 60 * mm / r.FeedRate.MM() } // as a hand winds it
	s.Remark(&r.FeedRate, say.Either("10 mm in ", "1 in in "),
		say.Either(string(say.Num(seconds(10), 0)), string(say.Num(seconds(25.4), 0))), " s")
	side := say.Text("a side")
	if r.facts.along {
		side = "along the tool"
	}
	if r.DepthLimit != nil {
		side = say.Of(side, "; the motor drives ", r.DepthLimit.Down())
	}
	s.Remark(&r.Depth, side)
}

func (r *Result) powerRemarks(s *sheet.Sheet) {
	s.Remark(&r.Power, "at ", say.Num(float64(r.SpecificEnergy), 2), " W.s/mm3 (", r.EnergySource, ")")
	reaches := say.Of("with ", say.Num(practice.Efficiency.Number()*100, 0), " % of it reaching the cut, common practice")
	if r.PowerAvailable != nil {
		reaches = say.Of(reaches, "; it has ", *r.PowerAvailable)
	}
	s.Remark(&r.MotorPower, reaches)
	if r.Force != nil {
		kg := float64(*r.Force) / 9.80665
		pounds := say.Num(kg/0.45359237, 0) + " lb"
		s.Remark(&r.Force, say.Either(string(say.Num(kg, 0))+" kg", string(pounds)), " on the tool")
	}
	if r.facts.lathe() {
		s.Skip(&r.Torque)
	}
	if b := r.BoringBar; b != nil {
		s.Remark(&r.BarDia, "sticking out ", b.Limit.Down(), " at the most in steel; it reaches ", b.Reach)
	}
	if r.Time != nil {
		s.Remark(&r.Time, say.Num(float64(*r.CutTime), 2), " min of it cutting; ", practice.FeedApproach.Length(),
			" before, ", practice.FeedOverrun.Length(), " after, and the way back")
	}
}

// working shows the arithmetic. A step that needs a figure there is none of is
// left out.
func (r Result) working(s *sheet.Sheet) {
	c := r.cut()
	pi, n, f := sheet.Let("pi", math.Pi), sheet.Let("n", r.turns().RPM()), sheet.Let("f", c.f)
	d := sheet.Let("D", r.governs.MM())
	s.Work("n", "1000*v/(pi*D)", r.IdealRPM.RPM(), "rpm", sheet.Let("v", r.CuttingSpeed.MetresPerMinute()), pi, d)
	if r.ActualSpeed != nil {
		s.Work("v", "pi*D*n/1000", r.ActualSpeed.MetresPerMinute(), "m/min", pi, d, n)
	}
	if r.Feed == nil {
		return
	}
	s.Work("feed rate", "f*n", r.FeedRate.MM(), "mm/min", f, n)
	if r.RemovalRate != nil {
		q := float64(*r.RemovalRate) / 60
		s.Work("Q", r.facts.chip.written(c)+"*n/60", q, "mm3/s", pi, f, n,
			sheet.Let("D", c.D), sheet.Let("d", c.d), sheet.Let("a", c.a), sheet.Let("w", c.w))
		s.Work("P", "U*Q", r.Power.Watts(), "W", sheet.Let("U", float64(r.SpecificEnergy)), sheet.Let("Q", q))
	}
	if r.CutTime != nil {
		length, _, _ := r.path()
		s.Work("t", "L/(f*n)", float64(*r.CutTime), "min", sheet.Let("L", length), f, n)
	}
}
