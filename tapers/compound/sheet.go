package compound

import (
	"setover/setup/base/say"
	"setover/setup/page/sheet"
)

// Sheet implements sheet.Result. What is to be done comes first and fits a screen;
// the figures behind it are shown with the working.
func (r Result) Sheet() sheet.Sheet {
	title := say.Text("Taper on the compound")
	if r.Inputs.Internal {
		title = "Tapered bore on the compound"
	}
	s := sheet.Of(&r, title, ", half angle ", sheet.Deg(r.HalfAngle))
	s.Brief = true
	r.Figures.Explain(s)
	if how, less := r.Figures.How(), len(r.Figures.Choice().How()); len(how) > less {
		s.Remark(&r.Method, how[less]) // the setting itself is a step
	}
	r.explainSlides(s)
	if r.Bar != nil {
		s.Remark(&r.BarDia, "the stiffest that goes into ", r.barHole, "; it reaches ", r.Bar.Reach.Down())
	}
	s.Remark(&r.HeightSmallError, "on the diameter, with the tool ", r.Inputs.ToolHeightError.Abs(),
		" off and the large end as drawn")
	s.Remark(&r.HeightMiddleError, "on the diameter; the side is hollow")
	if r.Left != nil && r.Left.Sign() == 0 {
		s.Skip(&r.Left)
	} else if r.Left != nil {
		name, _ := r.touched()
		s.Remark(&r.Left, "on the diameter at the ", name, ", on the safe side")
	}
	r.tables(s)
	if r.Finding != nil {
		r.Finding.Explain(s)
	}
	r.Taper.Explain(s)
	s.Behind(&r.Method, &r.Reading, &r.Mark, &r.SettingError, &r.DiameterError, &r.Turn, &r.HandleToward,
		&r.IndicatorReading, &r.IndicatorPer, &r.TravelAvailable, &r.CarriageMove, &r.CrossSlideMove, &r.Included,
		&r.Ratio, &r.Percent, &r.PerFoot, &r.Large, &r.Small, &r.Length, &r.SlopeLength)
	if len(r.Steps) > 0 { // which say so too, or a warning
		s.Behind(&r.HalfAngle, &r.FarEnd, &r.BarDia)
		if r.Finding != nil {
			s.Behind(&r.Arrangement)
			if len(r.Fouls) == 0 {
				s.Behind(&r.Clearance)
			}
		}
	} else if r.Finding != nil && len(r.Fouls) > 0 { // the title has the one, and a warning the other
		s.Behind(&r.HalfAngle, &r.FarEnd)
	}
	s.Show(&r.HalfAngle)
	s.Figures()
	for _, step := range r.Steps {
		s.Do(step)
	}
	r.Figures.Work(s)
	return *s
}

// explainSlides says what the slides' travels and moves mean.
func (r *Result) explainSlides(s *sheet.Sheet) {
	switch {
	case r.Bites == nil:
		s.Skip(&r.TravelAvailable)
	case *r.Bites == 1:
		s.Behind(&r.Bites, &r.SlideTravel)
		s.Remark(&r.SlideTravel, "along the side, of the ", r.TravelAvailable.Down(), " that it has")
	default:
		if len(r.Steps) > 0 { // a warning says so too
			s.Behind(&r.Bites, &r.SlideTravel)
		}
		s.Remark(&r.SlideTravel, "along the side, and has ", r.TravelAvailable.Down())
	}
	s.Remark(&r.TravelAvailable, "overruns come on top of the slope")
	r.remarkMoves(s)
}

// tables adds the passes, and the bites where no one sentence holds for all.
func (r *Result) tables(s *sheet.Sheet) {
	if len(r.Passes) > 0 {
		name, _ := r.touched()
		s.Table(r.Passes, "Passes, from where the tool touches the stock at the ", name).
			Head("dia_mm", "dia at ", name).WithoutEmpty()
	}
	if len(r.Joints) > 0 && !r.alike() {
		s.Table(r.Joints, "From bite to bite").WithoutEmpty()
	}
}
