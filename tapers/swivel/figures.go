package swivel

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Asked is what a setting has to keep: the most that the far end may be out on the
// diameter over a length, and whether somebody said so much. Length is nil for a
// slope without sizes, which is judged over 100 mm, or 4 in, of its side.
type Asked struct {
	Within units.Length
	Given  bool
	Length *units.Length
	Judged bool // by whoever asks: nothing is said of what does not keep it
}

// axial returns the length along the axis that it is judged over: that of the taper,
// else of so much of its side.
func (a Asked) axial(in Input) units.Length {
	if a.Length != nil {
		return *a.Length
	}
	return units.FromFloat(a.over(in.Unit).MM() * in.HalfAngle.Cos())
}

// over returns the length that it is judged over, for a slope without sizes of its
// side.
func (a Asked) over(u units.Unit) units.Length {
	if a.Length != nil {
		return *a.Length
	}
	return practice.SlopeLength.Length(u)
}

// Tried is a way that was looked at: what it sets, how far off that may be, and
// what the far end may be out by.
type Tried struct {
	Method    Method        `json:"method" show:"set by"`
	Travel    *units.Length `json:"indicator_travel_mm" show:"over"` // nil by the scale
	HalfAngle units.Angle   `json:"half_angle_deg" show:"half angle"`
	Off       units.Angle   `json:"may_be_off_deg" show:"may be off"`
	FarEnd    units.Length  `json:"far_end_error_mm" show:"far end, at most" as:"up"`
	Keeps     bool          `json:"keeps"`
}

// words says how it sets the angle.
func (t Tried) words() say.Text {
	if t.Method == ByIndicator {
		return say.Of(t.Method.Words(), " over ", t.Travel)
	}
	return t.Method.Words()
}

// Figures are a setting as a result carries it. The mark, the reading and the turn
// are nil without a compound; the mark and its error too where no mark serves: off
// the scale, or where the nearest would cut a cylinder or a flat face. Swivel is
// the taper's own sense, TurnDirection what the hand does from this zero. Errors
// are set minus exact.
type Figures struct {
	Setting       say.Text        `json:"setting"`
	Method        Method          `json:"method" show:"set by"`
	Between       *say.Text       `json:"between"`
	FarEnd        units.Length    `json:"far_end_error_mm" show:"far end, at most" as:"up"`
	Within        units.Length    `json:"within_mm"`
	Kept          bool            `json:"within_kept"`
	SetHalfAngle  units.Angle     `json:"half_angle_set_deg"`
	Reading       *units.Angle    `json:"reading_deg" show:"exact reading" as:"minutes"`
	Mark          *units.Angle    `json:"mark_deg" show:"nearest mark"`
	SettingError  *units.Angle    `json:"setting_error_deg" show:"the mark is out by" as:"4 signed"`
	DiameterError *units.Length   `json:"diameter_error_mm" show:"which costs" as:"fine"`
	Turn          *units.Angle    `json:"turn_from_zero_deg" show:"turn from zero" as:"minutes"`
	TurnDirection *shop.Direction `json:"turn_direction"`
	Past90        *bool           `json:"past_90"`
	ScaleZero     *shop.Zero      `json:"scale_zero"`
	Swivel        shop.Direction  `json:"swivel"`
	HandleToward  string          `json:"handle_toward" show:"handle toward"`
	Reversed      bool            `json:"handle_reversed"`

	IndicatorReading units.Length `json:"indicator_reading_mm" show:"indicator shows"`
	IndicatorAlong   Along        `json:"indicator_along"`
	IndicatorTravel  units.Length `json:"indicator_travel_mm"`
	IndicatorTurns   *int64       `json:"indicator_turns"`
	IndicatorPer     units.Length `json:"indicator_per_001deg_mm" show:"and 0.01 deg more" as:"fine"`

	Ways []Tried `json:"ways"`

	choice Choice
	asked  Asked
}

// Set returns the setting with the least trouble that keeps what is asked, or the
// nearest there is. The indicator is that of the way that was chosen, or what
// proves it.
func Set(in Input, asked Asked) Figures {
	within, over := asked.Within, asked.axial(in)
	ways := slices.Collect(in.Ways())
	choice := choose(slices.Values(ways), func(w Way) bool { return w.FarEnd(over).Cmp(within) <= 0 })
	f := Figures{
		Setting: choice.Say(), Method: choice.Method, FarEnd: choice.FarEnd(over), Within: within, Kept: choice.Keeps,
		SetHalfAngle: choice.HalfAngle, Swivel: in.Swivel(), HandleToward: in.Toward(), Reversed: in.Reversed,
		choice: choice, asked: asked,
	}
	if choice.Method == BetweenMarks {
		f.Between = new(choice.Standing())
	}
	if exact, mark, lost, ok := in.Turned(); ok {
		f.Reading, f.Turn, f.TurnDirection = &exact.Reading, &exact.Turn, &exact.Direction
		f.Past90, f.ScaleZero = new(Past90(exact)), &in.Compound.Scale.Zero
		if w, serves := in.onMark(); serves {
			f.Mark, f.SettingError = &mark.Reading, &lost
			if asked.Length != nil {
				f.DiameterError = new(units.FromFloat(2 * asked.Length.MM() * (w.HalfAngle.Tan() - in.HalfAngle.Tan())))
			}
		}
	}
	d := f.choice.Proof()
	f.IndicatorReading, f.IndicatorAlong, f.IndicatorTravel, f.IndicatorPer = d.Exact, d.Along, d.Travel, d.Per
	if d.Turns > 0 {
		f.IndicatorTurns = &d.Turns
	}
	for _, w := range ways {
		far := w.FarEnd(over)
		t := Tried{w.Method, nil, w.HalfAngle, w.Off(), far, far.Cmp(within) <= 0}
		if w.Method == ByIndicator || w.Method == BySineBar {
			t.Travel = &w.Dial.Travel
		}
		f.Ways = append(f.Ways, t)
	}
	return f
}

// Choice returns the way that was chosen.
func (f Figures) Choice() Choice { return f.choice }

// Tell adds to a result's remarks what there is to say about a setting: that the
// scale does not serve, that there is none, and that nothing here keeps what was
// asked, which is a no where it was asked in so many words.
func (f *Figures) Tell(r *sheet.Remarks) {
	in := f.choice.in
	exact, mark, lost, ok := in.Turned()
	if !ok {
		r.NotChecked("lathe: compound", "no compound in this shop: the angle is exact, no mark was looked for")
	}
	byOther := say.Of(": set it ", f.Method.Words())
	set := in.HalfAngle.Plus(lost)
	switch {
	case !ok:
	case exact.OffScale: // the setting says so too
		r.Warn("off-scale", say.Aside("the scale ends at ", in.Compound.Scale.Limit, " from zero and this needs ",
			say.Num(exact.Turn.Deg(), 3), " deg", byOther))
	case mark.OffScale:
		r.Warn("off-scale", "the nearest mark would stand past the end of the scale, ", in.Compound.Scale.Limit, byOther)
	case set.Deg() < 1e-9:
		r.Warn("no-mark", "the nearest mark would cut a cylinder", byOther)
	case set.Deg() > 90-1e-9:
		r.Warn("no-mark", "the nearest mark would cut a flat face", byOther)
	}
	if d := f.choice.Proof(); d.Untold && f.Method == ByIndicator {
		r.No(problem.New(problem.NotReachable, "taper", nil, "no slide shows so little: over ", d.Travel,
			" of it an indicator would show ", d.shows(d.Shows), ", which nothing reads; turn it parallel, or file it"))
		return
	}
	if f.Kept || f.asked.Judged {
		return
	}
	if in.SineBar == nil || in.Blocks == nil {
		r.NotChecked("sine_bar, gauge_blocks", "whether a sine bar sets it nearer was not checked")
	}
	why := say.Of(say.Shorter(say.Of("nothing here keeps ", f.Within.Wrung(), ": ", f.choice.Method.Words(),
		" the far end may be out by "), say.Of(f.Within.Wrung(), " is not kept: the far end is out by at most ")),
		f.FarEnd.Up(), f.asked.overWords(in.Unit))
	if f.asked.Given {
		r.No(problem.New(problem.NotReachable, "within", f.asked.Within, why))
		return
	}
	r.Warn("within", why, say.Aside("; cut it, measure it and correct the setting"))
}

// overWords says what length a slope without sizes was judged over.
func (a Asked) overWords(u units.Unit) say.Text {
	if a.Length != nil {
		return ""
	}
	return say.Of(" over ", a.over(u), " of its side")
}

// Words says how the angle is hit.
func (m Method) Words() say.Text {
	return map[Method]say.Text{
		ByMark: "at its nearest mark", BetweenMarks: "between marks by eye", ByIndicator: "by indicator",
		BySineBar: "by sine bar",
	}[m]
}

// How says how the setting is gone about, a sentence each, and why nothing that is
// less trouble was chosen.
func (f Figures) How() []say.Text {
	list := f.choice.How()
	var less []say.Text
	for _, w := range f.Ways {
		if w.Method == f.Method && w.HalfAngle == f.SetHalfAngle {
			break
		}
		less = append(less, say.Of(w.words(), " ", w.FarEnd.Up()))
	}
	if len(less) > 0 {
		list = append(list, say.Of("What is less trouble may leave more at the far end: ", say.Join(less, ", "), "."))
	}
	return list
}

// Explain says on a sheet what its figures mean.
func (f *Figures) Explain(s *sheet.Sheet) {
	in := f.choice.in
	s.Remark(&f.Method, f.Setting)
	whose := "allowed"
	if f.asked.Given {
		whose = "asked for"
	}
	s.Remark(&f.FarEnd, "on the diameter", f.asked.overWords(in.Unit), "; ", f.Within.Wrung(), " is ", whose)
	if f.Turn != nil {
		past := say.Text("")
		if *f.Past90 {
			past = ", past 90"
		}
		s.Remark(&f.Mark, "on the scale", past)
		s.Remark(&f.Reading, "as this scale is numbered", past)
		s.Remark(&f.Turn, *f.TurnDirection, ", seen from above; zero is with the ", Zero(in.Compound))
	}
	s.Remark(&f.SettingError, "in the half angle")
	s.Remark(&f.DiameterError, "on the diameter difference over the length")
	if f.Reversed && in.HalfAngle.Deg() > 45 && !in.Grows {
		s.Remark(&f.HandleToward, "slide the other way round: above 45 deg the handle would stand behind the work")
	}
	d := f.choice.Proof()
	exact := say.Text("")
	if f.SetHalfAngle != in.HalfAngle && (f.Method == ByMark || f.Method == BetweenMarks) {
		exact = ", at the exact half angle"
	}
	s.Remark(&f.IndicatorReading, d.lies(), " while the slide goes ", d.Travel, d.handle(), exact)
	s.Remark(&f.IndicatorPer, "on the indicator over that travel")
}

// Work adds what a sheet shows with its working.
func (f *Figures) Work(s *sheet.Sheet) {
	a, formula := f.choice.in.HalfAngle, "t*sin(a)"
	if f.IndicatorAlong == Axis {
		formula = "t*cos(a)"
	}
	s.Step("reading", formula, f.IndicatorReading, "t", f.IndicatorTravel, "a", a)
	if f.DiameterError != nil {
		s.Step("diameter error", "2*l*(tan(b) - tan(a))", f.DiameterError,
			"l", f.asked.Length, "b", a.Plus(*f.SettingError), "a", a)
	}
}
