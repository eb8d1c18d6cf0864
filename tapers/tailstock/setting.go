package tailstock

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Method is how the offset is set.
type Method string

// The methods, the least trouble first.
const (
	ByMark      Method = "mark"      // a rule between the two marks on its base
	ByDial      Method = "dial"      // the cross slide's dial, and paper against the barrel
	ByIndicator Method = "indicator" // on the barrel
	AlongBar    Method = "test-bar"  // an indicator along a bar between the centres, or the work
)

// Words implements say.Quantity.
func (m Method) Words() (mm, inch string) {
	words := map[Method]string{
		ByMark: "a rule at the marks on its base", ByDial: "the cross slide's dial",
		ByIndicator: "an indicator on the barrel", AlongBar: "an indicator along the work, or a bar",
	}[m]
	return words, words
}

// Setting is one way to set the offset: what it sets, how far off that may be
// either way, and by how much the difference of the taper's diameters may then be
// out, either way. Keeps says whether that is within what was asked for.
type Setting struct {
	Method      Method       `json:"method" show:"by"`
	Set         units.Length `json:"offset_set_mm" show:"sets"`
	Off         units.Length `json:"offset_off_mm" show:"told to"`
	DiameterOff units.Length `json:"diameter_off_mm" show:"may leave" as:"up"`
	Keeps       bool         `json:"keeps"`
}

// nothing is what is told from nothing: an error that is reckoned either way is
// not quite the same either way.
var nothing = units.MustLength("0.000001mm")

// settle lists the ways to set the offset, and chooses the first that keeps what
// was asked for, else the one that may leave the least.
func (r *Result) settle() {
	told := units.FromFloat(practice.BetweenTold.Length().MM() * r.HalfAngle.Sin())
	add := func(m Method, set, off units.Length) {
		out := r.diameterOff(set, off)
		r.Settings = append(r.Settings, Setting{m, set, off, out, out.Minus(r.Within).Cmp(nothing) <= 0})
	}
	add(ByMark, r.Offset, practice.RuleTold.Length().Plus(told))
	if d := r.Inputs.Lathe.CrossSlide; d != nil {
		s, t := d.Set(r.Offset)
		r.Turns, r.Divisions, r.DialOffset = &t.Turns, &t.Divisions, &s.Set
		add(ByDial, s.Set, practice.PaperNip.Length().Plus(told))
	} else {
		r.NotChecked("lathe: cross_slide", "no dial of the cross slide is known: its turns are left out")
	}
	step := practice.IndicatorRead.Length(r.Inputs.Unit).Half()
	if r.Offset.Less(step) {
		r.No(problem.New(problem.NotReachable, "taper", nil, "nothing shows so little: the tailstock would be set over ",
			fineOnPage(r.Offset, r.Offset), "; turn it parallel, or file it"))
	}
	if r.Offset.Cmp(practice.IndicatorRange.Length(r.Inputs.Unit)) <= 0 {
		add(ByIndicator, r.Offset, step.Plus(told))
	}
	if r.asLong() {
		told = units.Length{} // the angle itself is set
	}
	shown := step.Plus(units.FromFloat(practice.TravelTold.Length().MM() * r.onBar.Tan()))
	angle := shown.Over(r.Travel) * math.Pow(r.onBar.Cos(), 3)
	add(AlongBar, r.Offset, units.FromFloat(angle*r.long.MM()).Plus(told))
	best := r.Settings[0]
	for _, s := range r.Settings {
		if s.Keeps {
			r.choose(s)
			return
		}
		if s.DiameterOff.Less(best.DiameterOff) {
			best = s
		}
	}
	r.choose(best)
	r.tooFar()
}

// tooFar says that no way to set it keeps what is asked, which is a no where it
// was asked in so many words.
func (r *Result) tooFar() {
	why := say.Of("no way to set it keeps ", r.Within.Wrung(), ": ", r.Method, " may leave ", r.DiameterOff.Up(),
		" on the diameter")
	if r.Inputs.Within != nil {
		r.No(problem.New(problem.NotReachable, "within", r.Inputs.Within, why))
		return
	}
	text := say.Shorter(say.Of(why, "; measure the first cuts, and put it right by what they show"),
		say.Of(r.Within.Wrung(), " is not kept, ", r.DiameterOff.Up(), " may be left: put it right by the cuts"))
	if r.Possible != nil && !*r.Possible || r.Steep() {
		text = say.Aside(text)
	}
	r.Warn("within", text)
}

func (r *Result) choose(s Setting) {
	r.Method, r.OffsetSet, r.DiameterOff = s.Method, s.Set, s.DiameterOff
	r.SetHalfAngle = units.Radians(math.Asin(min(s.Set.Over(r.Between), 1)))
}

// diameterOff returns by how much the difference of the diameters may be out when
// the offset that is set may be off either way:
//
//	2·l·|tan b - tan a|,  sin b = (e ± off)/L
func (r *Result) diameterOff(set, off units.Length) units.Length {
	most := 0.0
	for _, e := range []units.Length{set.Minus(off), set.Plus(off)} {
		b := math.Asin(min(e.Over(r.Between), 1))
		most = max(most, 2*r.over().MM()*math.Abs(math.Tan(b)-r.HalfAngle.Tan()))
	}
	return units.FromFloat(most)
}

// over is the length that it is judged over: the taper's, or for a slope without
// sizes a usual one.
func (r *Result) over() units.Length {
	if r.Length != nil {
		return *r.Length
	}
	return practice.SlopeLength.Length(r.Inputs.Unit)
}

// bar works out what an indicator shows along the bar between the centres. The
// carriage goes along it by the usual travel, or a half of that as often as the
// bar asks.
func (r *Result) bar() {
	if r.long = r.Between; r.Inputs.TestBar != nil {
		r.long = *r.Inputs.TestBar
	}
	r.onBar = units.Radians(math.Asin(r.Offset.Over(r.long)))
	r.along(practice.TestBarPart.Of(r.long))
}

// along is bar over so much of it at the most.
func (r *Result) along(most units.Length) {
	travels := func(u units.Unit) units.Length {
		t := practice.TestBarTravel.Length(u)
		for most.Less(t) {
			t = t.Half()
		}
		return t
	}
	shows := func(t units.Length) units.Length { return units.FromFloat(t.MM() * r.onBar.Tan()) }
	mm, inch := travels(units.MM), travels(units.Inch)
	r.Travel, r.Reading = mm, shows(mm)
	r.Indicator = shows(units.Millimetres(100))
	r.inchTravel, r.saysTravel, r.saysReading = inch, onPage(mm, inch), fineOnPage(shows(mm), shows(inch))
}

// asLong reports whether the bar that is indicated is as long as the work.
func (r *Result) asLong() bool { return r.Inputs.TestBar == nil || r.Inputs.TestBar.Equal(r.Between) }

// onPage words one length on a page in mm and another on one in inches.
func onPage(mm, inch units.Length) say.Text {
	text, _ := mm.Words()
	_, other := inch.Words()
	return say.Either(text, other)
}

// fineOnPage is onPage with a decimal more: of what is small.
func fineOnPage(mm, inch units.Length) say.Text {
	fine := func(l units.Length) units.Rounded { return units.Rounded{Length: l, More: 1} }
	text, _ := fine(mm).Words()
	_, other := fine(inch).Words()
	return say.Either(text, other)
}

// wound words a place on a dial, without what is none.
func wound(t shop.Turns) say.Text {
	switch {
	case t.Turns == 0:
		return say.Of(t.Divisions, " div")
	case t.Divisions == 0:
		return say.Count(t.Turns, "turn", "turns")
	}
	return say.Of(t)
}

// procedure says what is done, in its order.
func (r *Result) procedure(s *sheet.Sheet) {
	where := say.Of("Turn the work parallel between the centres first. ")
	if r.Inputs.TestBar != nil {
		where = say.Of("Put the bar of ", *r.Inputs.TestBar, " between the centres. ")
	}
	s.Do(where, say.Shorter("The tailstock is true when an ", "An "),
		"indicator in the tool post, level, at centre height",
		say.Shorter(" and square to the bed, ", ", square to it, "), "shows the same all along", say.Aside(" it"), ".")
	s.Do(r.slacken())
	for _, do := range r.move() {
		s.Do(do)
	}
	s.Do(r.clampAgain())
	s.Do(r.proof())
	if !r.asLong() {
		s.Do(r.takeOut())
	}
	r.cut(s)
	r.correction(s)
	s.Do(say.Shorter(r.bringBack(), say.Of("Afterwards move it ", r.Offset,
		" back likewise; prove it on a parallel bar.")))
}

func (r *Result) slacken() say.Text {
	return say.Of("Leave the barrel clamped", say.Shorter(" where it is, and", ";"), " slacken the tailstock",
		say.Aside("'s clamp"), " just enough to move it.")
}

// move says how the tailstock is moved by the offset.
func (r *Result) move() []say.Text {
	switch r.Method {
	case ByMark:
		return []say.Text{say.Of("Move the tailstock ", r.Way(), " until a rule shows ", r.Offset,
			" between the two marks on its base.")}
	case ByDial:
		return r.byDial(r.Direction == TowardOperator)
	case ByIndicator:
		return []say.Text{r.byIndicator(r.Direction == TowardOperator)}
	case AlongBar:
	}
	const proof = "5" // the step of it
	return []say.Text{say.Shorter(say.Of("Move the tailstock ", r.Way(), " by ", r.Offset,
		" or near it, then little by little until the indicator shows what the proof below says."),
		say.Of("Move it ", r.Way(), " about ", r.Offset, ", then tap it until step ", proof, " is true."))}
}

func (r *Result) clampAgain() say.Text {
	return say.Of("Clamp the tailstock, take up the centre with the barrel, and look again",
		say.Aside(": clamping moves it"), ".")
}

func (r *Result) takeOut() say.Text {
	return "Take the bar out and slide the tailstock along the bed to take the work, and on no account across it."
}

// bringBack says how the tailstock is made true again.
func (r *Result) bringBack() say.Text {
	unlock := ""
	if r.locks() {
		unlock = " Unlock the carriage."
	}
	return say.Of("Afterwards slacken the tailstock as before. ", say.Join(r.back(), " "), " Clamp it.", unlock,
		" Prove it on a parallel bar between the centres: the indicator shows the same all along; along the taper it would ",
		"while the tailstock is still over.")
}

// back says how the tailstock is brought back: by as much as it was moved, by the same
// means. The work does not tell it: a taper cut so reads the same all along while the
// tailstock stands over.
func (r *Result) back() []say.Text {
	toward := r.Direction == AwayFromOperator
	switch r.Method {
	case ByMark:
		return []say.Text{say.Of("Move it ", r.way(toward), " until the two marks on its base meet.")}
	case ByDial:
		return r.byDial(toward)
	case ByIndicator:
		return []say.Text{r.byIndicator(toward)}
	case AlongBar:
	}
	return []say.Text{say.Of("Move it ", r.Offset, " back, ", r.way(toward), ", or near it, then little by little until ",
		"the indicator shows the same all along a parallel bar between the centres.")}
}

// infeed works out how far the cross slide goes in:
//
//	(D - d)/2·cos a
//
// It goes in square to the bed, along which the tip goes and the side of the taper lies: so much
// square to the side is 1/cos a of it square to the axis, at the same place of the work. A line that is
// past that by less than is seen on the diameter is not past it.
func (r *Result) infeed() {
	if r.Length == nil {
		return
	}
	r.Infeed = new(units.FromFloat(r.Large.Minus(*r.Small).MM() / 2 * r.HalfAngle.Cos()))
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return
	}
	unseen := units.FromFloat(seen.MM() / 2 * r.HalfAngle.Cos())
	lines, round := r.Infeed.Plus(unseen).Steps(d.Division(), units.Down), int64(d.Divisions)
	r.InfeedTurns, r.InfeedDivisions = new(lines/round), new(lines%round)
	left := r.Infeed.Minus(d.Division().Times(lines)).MM()
	r.Left = new(units.FromFloat(2 * left / r.HalfAngle.Cos()))
}

// seen is the least on a diameter that is worth a line of the dial.
var seen = units.MustLength("0.001mm")

// correction says what is moved for what the first cuts show:
//
//	L·cos³ a/(2·l)
//
// for each unit that the diameters differ too much over the length l.
func (r *Result) correction(s *sheet.Sheet) {
	if r.Length == nil {
		return
	}
	s.Do("Measure both ends while there is metal left. ", r.forEach(say.Of("they differ too much",
		say.Aside(" over the ", *r.Length)), "they differ too little"))
}

// forEach says what the tailstock is moved for each bit that the taper is too steep, and too flat.
func (r *Result) forEach(steep, flat say.Text) say.Text {
	per := r.Between.MM() * math.Pow(r.HalfAngle.Cos(), 3) / (2 * r.Length.MM())
	hundredth, thou := units.MustLength("0.01mm"), units.MustLength("0.001in")
	back := func(l units.Length) units.Length { return units.FromFloat(l.MM() * per) }
	return say.Of("For each ", onPage(hundredth, thou), " that ", steep, say.Shorter(" move the tailstock ", " move it "),
		fineOnPage(back(hundredth), back(thou)), " back",
		say.Shorter(say.Of(", and as much further for each that ", flat), "; too little, further"), ".")
}

// proof says what an indicator along the bar shows when it is set.
func (r *Result) proof() say.Text {
	on := say.Text("the work")
	if b := r.Inputs.TestBar; b != nil {
		on = say.Of("the bar of ", *b)
	}
	only := say.Aside(". That is so for the work and for a bar just as long, and for no other") + "."
	if !r.asLong() {
		only = say.Aside(". Along the work it would be ", fineOnPage(r.alongWork())) + "."
	}
	return r.unlocked(on, say.Shorter("as at first", "as in step 1")) + r.proved(on) + only
}

// locks reports whether the carriage is locked to move the tailstock, with something else against its barrel
// than what proves it.
func (r *Result) locks() bool { return r.Method == ByDial || r.Method == ByIndicator }

// unlocked says that the carriage is let go again, and the indicator put back on what it proves.
func (r *Result) unlocked(on, how say.Text) say.Text {
	if !r.locks() {
		return ""
	}
	return say.Of("Unlock the carriage, ", say.Shorter("and set the indicator against ", "indicator on "),
		on, " ", how, ". ")
}

// proved says what the indicator shows along something, without a full stop.
func (r *Result) proved(on say.Text) say.Text {
	pushed := say.Text("pushed in by ")
	if r.Direction == AwayFromOperator {
		pushed = "let out by "
	}
	whole := say.Of("Prove it: while the carriage goes ", r.saysTravel, " along ", on, " toward the tailstock ",
		say.Shorter("the indicator", "it"), " is ", pushed, r.saysReading)
	if r.Inputs.TestBar != nil {
		return whole
	}
	does := say.Text("pushes it in by ")
	if r.Direction == AwayFromOperator {
		does = "lets it out by "
	}
	return say.Shorter(whole, say.Of("Prove: ", r.saysTravel, " of carriage toward the tailstock ", does, r.saysReading))
}

// alongWork returns what the indicator shows along the work over the travels of
// either page.
func (r *Result) alongWork() (mm, inch units.Length) {
	on := func(t units.Length) units.Length { return units.FromFloat(t.MM() * r.HalfAngle.Tan()) }
	return on(r.Travel), on(r.inchTravel)
}

// Way says which way the tailstock is moved.
func (r *Result) Way() say.Text { return r.way(r.Direction == TowardOperator) }

// way words a way that the tailstock is moved.
func (r *Result) way(toward bool) say.Text {
	if toward {
		return "toward you"
	}
	return "away from you"
}

// byDial moves it by the offset with the cross slide's dial, toward the operator or away. The
// slide is wound in, away from the operator, both times it stops, so that its slack lies the
// same way.
func (r *Result) byDial(toward bool) []say.Text {
	d := r.Inputs.Lathe.CrossSlide
	count := d.PerDivision().Times(*r.Turns*int64(d.Divisions) + *r.Divisions).Always(d.Unit)
	lines := say.Of(wound(shop.Turns{Turns: *r.Turns, Divisions: *r.Divisions}), " (", count, " by its numbers)")
	nip := say.Of("Lock the carriage. Wind the cross slide in, away from you, until the tool post nips a strip of paper ",
		"against the barrel, close to its end. Note the line on the dial.")
	if !toward {
		return []say.Text{nip, say.Of("Move the tailstock away from you by more than ", r.Offset.Up(),
			". Wind the cross slide on in, the same way, by ", lines,
			". Bring the tailstock toward you until it nips the paper as before.")}
	}
	return []say.Text{nip, say.Of("Wind the cross slide out toward you, a turn further than it has to go, and back in ",
		"until it stands ", lines, " short of the line you noted: so its slack lies as before. Move the tailstock toward ",
		"you until it nips the paper as before.")}
}

// byIndicator moves it by the offset, toward the operator or away, by an indicator on the barrel.
func (r *Result) byIndicator(toward bool) say.Text {
	where := "Lock the carriage. " + say.Shorter("Set the indicator against your side of the barrel, close to its end, ",
		"Indicator against your side of the barrel's end, ")
	if !toward {
		return say.Of(where, say.Shorter("pushed in by more than ", "in by over "), r.Offset.Up(),
			say.Shorter(", and its hand to 0. Move the tailstock away from you until it has come out by ",
				", at 0. Move the tailstock away until it is out "), r.Offset, ".")
	}
	return say.Of(where, say.Shorter("its hand to 0", "at 0"),
		". Move the tailstock toward you until it is pushed in by ", r.Offset, ".")
}
