package gauge

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/swivel"
	"setover/tapers/tailstock"
)

// CorrectResult is what to change. Correction is wanted minus measured, and Least
// and Most what it may be as far as the readings are off; all are nil after
// blueing without a gap, which tells the way but not how far. NewAngle is what the
// scale's half angle becomes: from what it was set to, which is the wanted one
// where nothing was said; nil where that would be no angle, 0 or less or 90 deg or
// more. Reading is that on the scale, where it was said what it reads now.
//
// ToldTo is how far DiameterError may be off. Apart and LeastError are what would
// tell it where the readings do not; TellsTo is what DiameterError may still be off by with
// readings as far apart as the taper lets, where that is more than would tell it.
// LeftLarge and LeftSmall are what is left on the diameter at the ends, TakeOff the more of
// the two, and Infeed how far the cross slide goes for it; TakenOff is what its last line takes off the diameter and
// Leaves what that leaves, AxialSet and AxialLeft the same along the axis.
// Axial is how many times a change in diameter the tool, or the work in its gauge,
// moves along the axis.
type CorrectResult struct {
	Inputs     CorrectInput `json:"inputs"`
	Setting    say.Text     `json:"setting"`
	Verdict    string       `json:"verdict"` // off, within, right, untold; empty where nothing was found out
	Turn       string       `json:"turn"`    // further, back or none
	Correction *units.Angle `json:"correction_deg" show:"it needs" as:"4 signed"`
	Least      *units.Angle `json:"correction_least_deg"`
	Most       *units.Angle `json:"correction_most_deg"`

	Direction       *string       `json:"direction"` // of the tailstock
	HandleMoves     *string       `json:"handle_moves"`
	HandleMove      *units.Angle  `json:"handle_moves_deg"`
	Reading         *units.Angle  `json:"reading_deg" show:"the scale afterwards" as:"minutes"`
	Mark            *units.Angle  `json:"mark_deg" show:"its nearest mark"`
	NewAngle        *units.Angle  `json:"new_angle_deg" show:"new angle" as:"minutes"`
	Indicator       *units.Length `json:"indicator_reading_mm" show:"indicator to show"`
	IndicatorNow    *units.Length `json:"indicator_now_mm"`
	IndicatorChange *units.Length `json:"indicator_change_mm" show:"indicator moves by" as:"fine"`
	IndicatorTravel *units.Length `json:"indicator_travel_mm"`
	IndicatorTurns  *int64        `json:"indicator_turns"`
	IndicatorAlong  *swivel.Along `json:"indicator_along"`
	FarEnd          *units.Length `json:"far_end_error_mm" show:"afterwards out by"`
	OnCone          *units.Length `json:"indicator_on_cone_mm"`
	OnConeTravel    *units.Length `json:"indicator_on_cone_travel_mm"`
	Offset          *units.Length `json:"offset_mm" show:"tailstock over" note:"in all"`
	OffsetChange    *units.Length `json:"offset_change_mm" show:"which is a change of" as:"fine"`

	Measured      *units.Angle  `json:"half_angle_measured_deg" show:"measured" as:"minutes" note:"half angle"`
	HalfAngle     units.Angle   `json:"half_angle_deg" show:"wanted" as:"minutes" note:"half angle"`
	DiameterError *units.Length `json:"diameter_error_mm" show:"out by" as:"fine"`
	ToldTo        *units.Length `json:"diameter_error_told_to_mm"`
	Within        units.Length  `json:"within_mm"`
	Apart         *units.Length `json:"measure_apart_mm"`
	LeastError    *units.Length `json:"reading_error_needed_mm"`
	TellsTo       *units.Length `json:"measure_apart_tells_to_mm"`
	PerHundredth  *Gapped       `json:"angle_per_001mm_deg" show:"a gap is worth" as:"5"`

	LeftLarge       *units.Length `json:"left_large_mm" show:"left, large end"`
	LeftSmall       *units.Length `json:"left_small_mm" show:"left, small end"`
	TakeOff         *units.Length `json:"take_off_mm"`
	Infeed          *units.Length `json:"infeed_mm"`
	InfeedTurns     *int64        `json:"infeed_turns"`
	InfeedDivisions *int64        `json:"infeed_divisions"`
	InfeedSet       *units.Length `json:"infeed_set_mm"`
	TakenOff        *units.Length `json:"taken_off_mm"`
	Leaves          *units.Length `json:"left_after_mm"`
	AxialSet        *units.Length `json:"axial_move_set_mm"`
	AxialLeft       *units.Length `json:"axial_left_mm"`
	Cuts            *int64        `json:"cuts"`
	AxialMove       *units.Length `json:"axial_move_mm"`
	Axial           units.Number  `json:"axial_per_dia" show:"along the axis" as:"3" note:"times the change in diameter"`
	sheet.Remarks

	taper        tapers.Taper
	found        *evidence
	asked        swivel.Asked
	move         *swivel.Move
	moved        say.Text     // which way the handle end or the tailstock goes
	indicatorPer units.Length // what a gap of 0.01 mm is on the indicator
	coneTurns    int64        // of the handle along the cone
	touch        End          // where most is left, "" for the same at both
	slide        compound.Result
	bites        *bites         // nil where it was cut in one go
	bite         int            // that all places lie in; 0 where none is known
	from         End            // that the places count from
	across       bool           // they lie in several
	rough        bool           // they tell which way, and hardly how far
	cutTo        []units.Length // how far in each cut ends, a side
}

// Gapped is what a small gap on the diameter is worth in an angle, in degrees: 0.01
// mm, and on a page in inches 0.001 in.
type Gapped float64

// In implements units.Measured.
func (g Gapped) In(u units.Unit) (v float64, unit string) {
	if u == units.Inch {
		return 2.54 * float64(g), "deg"
	}
	return float64(g), "deg"
}

// Words implements say.Quantity.
func (g Gapped) Words() (mm, inch string) {
	word := func(u units.Unit) string {
		v, unit := g.In(u)
		return say.Of(say.Num(v, 5), " ", unit).In(u)
	}
	return word(units.MM), word(units.Inch)
}

// MarshalJSON returns g as a number.
func (g Gapped) MarshalJSON() ([]byte, error) { return units.Number(g).MarshalJSON() }

// each words the gap.
func (Gapped) each() say.Text { return say.Either("0.01 mm", "0.001 in") }

// overWords says what length the taper is judged over.
func (r *CorrectResult) overWords() say.Text {
	switch {
	case r.bite > 0:
		return say.Of(" over bite ", r.bite)
	case r.bites != nil:
		return " over a bite"
	case r.taper.Length != nil:
		return " over its length"
	}
	return say.Of(" over ", r.asked.Over(r.Inputs.Unit))
}

// say words in one sentence what is to be set.
func (r *CorrectResult) say() say.Text {
	in := r.Inputs
	thing := say.Text("slide")
	if in.Between != nil {
		thing = "tailstock"
	}
	stays := say.Of("leave the ", thing, " as it stands")
	over := r.overWords()
	switch {
	case r.Verdict == verdictRight:
		return say.Of(stays, ": the taper is right to ", r.Within, over)
	case r.across:
		return say.Of(stays, " for now: the places lie in different bites or where two meet, and tell how far the ",
			"carriage and the cross slide were moved between them, not how the swivel stands")
	case r.rough:
		return say.Of(stays, " for now: these readings tell which way the taper is out, and hardly how far")
	case r.Verdict == verdictUntold:
		return say.Of(stays, " for now: these readings do not tell whether the taper is out")
	case r.Verdict == "" && r.TakeOff != nil && r.TakeOff.Sign() == 0:
		return r.home(stays)
	case r.Verdict == "":
		return say.Of(stays, ": how far it stands out tells the size, not the angle")
	case r.Measured == nil && in.Between != nil:
		return say.Of("move the tailstock ", r.moved, " a little")
	case r.Measured == nil:
		return say.Of("move the handle end ", r.moved, " a little")
	}
	text := say.Text("")
	if in.Between == nil {
		text = r.move.Say()
	} else {
		text = say.Of("move the tailstock ", r.OffsetChange.Abs(), " ", r.moved)
	}
	if r.Verdict == verdictWithin {
		text = say.Of(text, "; or leave it, ", r.Within, " is allowed", over)
	}
	return text
}

// home says that nothing is left to take off in every bite.
func (r *CorrectResult) home(stays say.Text) say.Text {
	if r.Inputs.StickOut.Sign() <= 0 {
		return "it is home: nothing is left to take off"
	}
	return say.Of(stays, ": it stands out by no more than one bite does beyond the first, ", r.bites.high.Up(),
		" on the diameter: polish that off")
}

// begun is a sentence that begins with a capital and ends with a full stop.
func begun(t say.Text) say.Text { return t.Capital() + "." }

// outBy says on the short page what the working has as a figure.
func (r *CorrectResult) outBy() say.Text {
	if r.DiameterError == nil {
		return ""
	}
	much := "much"
	if r.DiameterError.Sign() < 0 {
		much = "little"
	}
	over := r.overWords()
	if r.bites == nil && r.taper.Length != nil {
		over = ""
	}
	return say.Shorter("", say.Of(r.DiameterError.Abs(), " too ", much, " taper", over, ", give or take ", r.ToldTo.Up(),
		"; ", r.Within, " is allowed. "))
}

// steps adds to a sheet what is to be done.
func (r *CorrectResult) steps(s *sheet.Sheet) {
	switch {
	case !r.moves():
		s.Do(begun(r.Setting), r.toMeasure())
	case r.Inputs.Between != nil:
		r.stepsTailstock(s)
	default:
		r.stepsSwivel(s)
	}
	r.stepsCut(s)
	r.stepProve(s)
	if r.Inputs.Between != nil {
		s.Do("Afterwards bring the tailstock back to true: an indicator in the tool post shows the same all along a ",
			"parallel bar between the centres.")
	}
}

// stepProve says how it is measured again, once something was cut, and how what is left then
// comes off.
func (r *CorrectResult) stepProve(s *sheet.Sheet) {
	if !r.cuts() || r.Verdict == verdictUntold {
		return
	}
	switch {
	case r.Apart != nil:
		s.Do("Measure again, ", r.apartBy(), ": these places tell it only to ", r.ToldTo.Up(), ".", r.rest(), r.stillOut())
	case r.TellsTo != nil && r.Within.Less(*r.TellsTo):
		s.Do("Measure there again. Places as far apart as these tell it only to ", r.TellsTo.Up(), ": then ", r.instead(),
			".", r.rest(), r.stillOut())
	case len(r.Inputs.Measured) > 0:
		s.Do("Measure ", say.Shorter("at the same places again, each with the same edge of the anvils", "there again"), ".",
			r.rest(), r.stillOut())
	case r.Inputs.Blue != "":
		s.Do("Blue it again.", r.rest(), r.stillOut())
	case r.found != nil:
		s.Do("Measure it again in the same way.", r.rest(), r.stillOut())
	case r.Inputs.inside():
		s.Do("Try the plug in it again.", r.rest())
	default:
		s.Do("Try it in its socket again.", r.rest())
	}
}

// stillOut says what may still be wrong where the indicator tells no more.
func (r *CorrectResult) stillOut() say.Text {
	if r.FarEnd == nil || r.FarEnd.Cmp(r.Within) <= 0 {
		return ""
	}
	return say.Of(say.Shorter(" As finely as the indicator is read the far end", " By indicator the far end"),
		" may still be ", r.FarEnd.Up(), " out.")
}

// toMeasure says what would tell whether it is out.
func (r *CorrectResult) toMeasure() say.Text {
	if r.Verdict != verdictUntold {
		return ""
	}
	if r.across {
		return say.Of(" Measure two places within one bite, as far apart as it allows: ", r.bites.listed(r.from), ".")
	}
	so := say.Of(" It differs by ", r.DiameterError.Abs(), r.overWords(), ", give or take ", r.ToldTo.Up(), r.andPlaces(),
		".")
	switch {
	case r.Apart != nil && r.TellsTo != nil:
		so = say.Of(so, " Measure ", r.apartBy(), ": that tells it to ", r.TellsTo.Up(), r.inAngle())
		if r.Within.Less(*r.TellsTo) {
			so = say.Of(so, ". If it is out by less, ", r.instead())
		}
		return so + "."
	case r.Apart != nil:
		return say.Of(so, " Measure ", r.apartBy(), ".")
	case r.TellsTo != nil:
		return say.Of(so, " Places as far apart as the ", r.whole(), " lets show no less than ", r.TellsTo.Up(),
			r.inAngle(), ": ", r.instead(), ".")
	case r.Inputs.Gap != nil:
		return say.Of(so, " Measure the gap to ", units.Rounded{Length: *r.LeastError, Dir: units.Down, More: 1}, ".")
	}
	return say.Of(so, " ", begun(r.instead()))
}

// andPlaces says how much less the places tell where each is off by as much as it easily is, where they
// are to be taken farther apart for that.
func (r *CorrectResult) andPlaces() say.Text {
	doubt := r.doubt(r.asked.Over(r.Inputs.Unit))
	if !r.rough || doubt.Cmp(*r.ToldTo) <= 0 {
		return ""
	}
	return say.Of(", and ", doubt.Up(), " if each place is ", round(practice.PlaceError.Length), " off")
}

// apartBy says how far apart it is to be measured.
func (r *CorrectResult) apartBy() say.Text {
	if r.TellsTo != nil {
		return say.Of(r.Apart.Down(), " apart, as far as the ", r.whole(), " lets")
	}
	return say.Of("at least ", r.Apart.Up(), " apart")
}

// whole is what has to hold both places.
func (r *CorrectResult) whole() say.Text {
	if r.bites != nil {
		return "bite"
	}
	return "taper"
}

// inAngle says what TellsTo is in the half angle: with x over the length L, x·cos²a/(2·L).
func (r *CorrectResult) inAngle() say.Text {
	cos := r.HalfAngle.Cos()
	tells := units.Radians(r.TellsTo.MM() * cos * cos / (2 * r.asked.Over(r.Inputs.Unit).MM()))
	return say.Of(r.overWords(), ", ", say.Num(tells.Deg(), 4), " deg")
}

// instead says what tells it where the places do not.
func (r *CorrectResult) instead() say.Text {
	list := []say.Text{"blue it against a gauge"}
	if r.LeastError == nil {
		list = append(list, "measure it "+r.better())
	} else {
		list = append(list, say.Of("measure with what is told to ",
			units.Rounded{Length: *r.LeastError, Dir: units.Down, More: 1}))
	}
	if m := r.move; m != nil && m.FarEnd.Less(*r.ToldTo) && (r.TellsTo == nil || m.FarEnd.Less(*r.TellsTo)) {
		list = append(list, m.Proves())
	}
	return say.Join(list, ", or ")
}

// better names the way to measure that no place enters into.
func (r *CorrectResult) better() say.Text {
	if r.Inputs.inside() {
		return "by balls"
	}
	return "over rolls"
}

// stepsSwivel says how the slide is moved on.
func (r *CorrectResult) stepsSwivel(s *sheet.Sheet) {
	s.Do(r.outBy(), r.move.Held())
	slack := "Slack the swivel's bolts" + say.Aside(" until it moves by a tap") + "."
	tighten := say.Shorter(" Tighten the bolts in turn, and look at the indicator again: that moves it.",
		" Tighten, look again.")
	switch {
	case r.Measured != nil:
		s.Do(slack, " ", begun(r.Setting), say.Aside(" A point ", r.endMoves(), "."), r.onScale(), r.roundAbout(), tighten)
	case r.PerHundredth == nil:
		s.Do(slack, " ", begun(r.Setting), r.roundAbout(), tighten)
	default:
		s.Do(slack, " ", begun(say.Of(r.Setting, ": for each ", r.PerHundredth.each(), " of gap on the diameter at the end ",
			"that does not touch ", r.PerHundredth, ", which is ", r.per(), " on the indicator")), r.roundAbout(), tighten)
	}
}

// roundAbout says that the slide is taken to stand the other way round.
func (r *CorrectResult) roundAbout() say.Text {
	if r.Inputs.Handle != "" || !r.Inputs.swivel(r.HalfAngle).Reversed {
		return ""
	}
	return say.Of(" That is with the slide the other way round", say.Shorter(", as usual above 45 deg; if it is not, say ",
		"; else say "), say.Key("handle"), " normal.")
}

// per words what the gap is on the indicator.
func (r *CorrectResult) per() say.Text {
	more := "more"
	if (r.Turn == "further") == (r.move.Dial.Along == swivel.Axis) {
		more = "less"
	}
	word := func(l units.Length, u units.Unit) string {
		return say.Of(units.Rounded{Length: l, More: 1}, " ", more).In(u)
	}
	return say.Either(word(r.indicatorPer, units.MM), word(units.FromFloat(r.indicatorPer.MM()*2.54), units.Inch))
}

// endMoves words how far a point of the slide goes: 100 mm from the middle of the
// swivel, on a page in inches 4 in, an arc of R·d·π/180.
func (r *CorrectResult) endMoves() say.Text {
	arc := func(from units.Length) say.Text {
		return say.Of(from, " from the swivel's middle goes ", units.FromFloat(from.MM()*r.HandleMove.Rad()))
	}
	return say.Either(arc(units.Millimetres(100)).In(units.MM), arc(units.MustLength("4in")).In(units.Inch))
}

// onScale says what the scale shows.
func (r *CorrectResult) onScale() say.Text {
	if r.Mark == nil {
		return ""
	}
	from, to := say.Num(r.Inputs.SetAt.Deg(), 3), say.Num(r.Reading.Deg(), 3)
	step := r.Inputs.Compound.Scale.Step
	if r.HandleMove.Deg() < step.Deg()*practice.EyePart.Number() {
		return say.Of(" On the scale that is from ", from, " to ", to, " deg, less than its marks of ", step, " tell.")
	}
	return say.Of(" On the scale that is from ", from, " to ", to, " deg.")
}

// stepsTailstock says how the tailstock is moved.
func (r *CorrectResult) stepsTailstock(s *sheet.Sheet) {
	pushed, ready := "it is pushed in", ""
	if *r.Direction == tailstock.AwayFromOperator {
		pushed, ready = "it comes out", "pushed in a little, "
	}
	s.Do(r.outBy(), "Slacken the tailstock's clamp just enough to move it, the barrel clamped", say.Aside(" where it is"),
		". Lock the carriage", say.Shorter(", and set the indicator", ". Indicator"), " against your side of the barrel, ",
		"close to its end, ", ready, say.Shorter("its hand to", "at"), " 0.")
	if r.OffsetChange == nil {
		s.Do("Move the tailstock ", r.moved, " a little: ", pushed, " by as much.")
	} else {
		s.Do(begun(r.Setting), say.Shorter(" That is until ", " Then "), pushed, say.Aside(" by"), " as much.")
	}
	s.Do("Clamp the tailstock, take up the centre with the barrel, and look again", say.Aside(": clamping moves it"),
		". Unlock the carriage.")
}

// mostLeft names the end where most is left.
func (r *CorrectResult) mostLeft() say.Text {
	if r.touch == "" {
		return "either end"
	}
	return say.Of("the ", r.touch, " end")
}

// Sheet implements sheet.Result.
func (r CorrectResult) Sheet() sheet.Sheet {
	half := say.Of(", half angle ", say.Num(r.HalfAngle.Deg(), 3), " deg")
	if r.Inputs.Between != nil || r.move != nil {
		half += say.Of(", the small end at the ", r.Inputs.end())
	}
	s := sheet.Of(&r, "Taper to be corrected", say.Shorter("", half))
	s.Brief = true
	over := r.overWords()
	if r.Correction != nil {
		s.Remark(&r.Correction, "in the half angle, from ", say.Num(r.Least.Deg(), 4), " to ", say.Num(r.Most.Deg(), 4),
			say.Aside(", each reading ", r.Inputs.off(), " off"))
		s.Remark(&r.DiameterError, say.Aside("on the diameter "), over[1:], ", give or take ",
			r.ToldTo.Up(), "; ", r.Within, " is allowed")
	}
	if r.Inputs.SetAt == nil {
		s.Remark(&r.NewAngle, "if the slide was set to the wanted half angle")
	}
	if r.move != nil {
		s.Remark(&r.IndicatorChange, "over ", r.move.Over())
		s.Remark(&r.Indicator, "over ", r.move.Over())
	}
	if r.Inputs.Between != nil || r.move != nil {
		s.Remark(&r.HalfAngle, "half angle, the small end at the ", r.Inputs.end())
	}
	s.Remark(&r.FarEnd, "on the diameter", over, ", as finely as the indicator is read")
	s.Remark(&r.OffsetChange, "from where it stands")
	if r.PerHundredth != nil {
		s.Remark(&r.PerHundredth, "for each ", r.PerHundredth.each(), " on the diameter, at the end that does not touch")
	}
	counted := say.Text("on the diameter")
	if len(r.Inputs.Measured) > 0 && r.Inputs.StickOut == nil && r.found != nil && r.found.large != nil {
		counted = say.Of("on the diameter, places counted from the ", r.found.from, " end")
	}
	s.Remark(&r.LeftLarge, counted)
	s.Remark(&r.LeftSmall, "on the diameter")
	r.behind(s)
	s.Figures()
	r.steps(s)
	r.work(s)
	r.notes(s)
	return *s
}

// behind leaves to the working what the title and the steps say.
func (r *CorrectResult) behind(s *sheet.Sheet) {
	s.Behind(&r.HalfAngle)
	if r.moves() || r.rough { // the steps say it
		s.Behind(&r.Correction, &r.PerHundredth, &r.Axial, &r.DiameterError)
	}
	s.Behind(&r.NewAngle, &r.Indicator, &r.IndicatorChange, &r.Reading, &r.Mark, &r.FarEnd)
	if len(s.Warnings) == 0 && r.TakeOff != nil { // the steps say what is left
		s.Behind(&r.LeftLarge, &r.LeftSmall)
	}
	if r.OffsetChange != nil {
		s.Behind(&r.Offset, &r.OffsetChange)
	}
	if r.Correction != nil {
		s.Behind(&r.Measured, &r.Axial)
	} else if len(s.Warnings) == 0 { // a step says what a gap is worth, and by how much it is moved
		s.Behind(&r.PerHundredth, &r.Axial)
	}
}

// placeWorth says what a place that is off is worth, where that is more than a
// reading may be off.
func (r *CorrectResult) placeWorth(s *sheet.Sheet) {
	worth := func(place units.Length) say.Text {
		return say.Of("A place that is ", place, " off counts like a diameter that is ",
			units.FromFloat(2*place.MM()*r.Measured.Tan()), " off: say how far they may be with ")
	}
	mm, inch := practice.PlaceError.Length(units.MM), practice.PlaceError.Length(units.Inch)
	if r.Inputs.off().MM() < 2*practice.PlaceError.Length(r.Inputs.Unit).MM()*r.Measured.Tan() {
		s.Aside(say.Either(worth(mm).In(units.MM), worth(inch).In(units.Inch)), say.Key("place-error"),
			", or measure ", r.better(), ".")
	}
}

// work adds the working.
func (r *CorrectResult) work(s *sheet.Sheet) {
	a := r.HalfAngle
	if list := r.Inputs.Measured; len(list) == 2 && r.Measured != nil {
		p, q := list[0], list[1]
		s.Step("m", "atan((D - d)/(2*l))", r.Measured, "D", units.Max(p.Dia, q.Dia), "d", units.Min(p.Dia, q.Dia),
			"l", q.Z.Minus(p.Z).Abs())
	}
	if r.Measured != nil {
		s.Step("needs", "a - m", r.Correction, "a", a, "m", r.Measured)
		s.Step("out", "2*l*(tan(m) - tan(a))", r.DiameterError, "l", r.asked.Over(r.Inputs.Unit), "m", r.Measured, "a", a)
	}
	if r.move != nil && r.Measured != nil {
		formula := "t*sin(a)"
		if r.move.Dial.Along == swivel.Axis {
			formula = "t*cos(a)"
		}
		s.Step("indicator", formula, r.Indicator, "t", r.IndicatorTravel, "a", a)
		s.Step("and now", formula, r.IndicatorNow, "t", r.IndicatorTravel, "a", r.Measured)
	}
	if r.OffsetChange != nil {
		s.Step("change", "L*(sin(a) - sin(m))", r.OffsetChange, "L", r.Inputs.Between, "a", a, "m", r.Measured)
	}
	s.Step("axial", "1/(2*tan(a))", r.Axial, "a", a)
	if r.AxialMove != nil {
		s.Step("further on", "x/(2*tan(a))", r.AxialMove, "x", r.TakeOff, "a", a)
	}
}

// notes adds what there is to know beside.
func (r *CorrectResult) notes(s *sheet.Sheet) {
	in := r.Inputs
	if in.Blue != "" && in.Gap == nil {
		s.Aside("Blue tells the way, not how far: turn by what the gap is worth, cut, and blue again. ",
			"The gap is what a feeler or thin paper tells at the end that does not touch, both sides together.")
	}
	if r.Measured != nil && len(in.Measured) > 0 && in.PlaceError == nil {
		r.placeWorth(s)
	}
	if r.OnCone != nil {
		far := say.Of(r.OnConeTravel, " of the slide")
		if r.coneTurns > 0 {
			far = say.Of(say.Count(r.coneTurns, "turn", "turns"), " of the handle")
		}
		way := "comes out"
		if (r.Turn == "further") == in.inside() {
			way = "goes in"
		}
		s.Aside("With the work still in the chuck the indicator may run along the side of the taper itself: it stands still ",
			"now, and afterwards its plunger ", way, " by ", r.OnCone, " in ", far, " toward the large end.")
	}
}
