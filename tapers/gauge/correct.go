package gauge

import (
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
	"setover/tapers/tailstock"
)

// Reading is a diameter measured at a place along the work.
type Reading struct {
	Z   units.Length `json:"z_mm"`
	Dia units.Length `json:"dia_mm"`
}

// End is an end of a taper, by its size.
type End string

// The two ends.
const (
	AtLarge End = "large"
	AtSmall End = "small"
)

// Ends are the words for an end.
var Ends = []End{AtLarge, AtSmall}

// CorrectInput is the taper that is wanted and what came out, told one way:
// diameters at places that count from one of the taper's ends, the end where the
// blue rubbed off and perhaps the gap at the other on the diameter, a plug over
// rolls, a bore by balls. StickOut is how far it still stands out of its socket,
// or the plug out of the bore, from where it is home; negative where it goes in
// too far.
//
// SetAt is what the compound's scale reads now. Between is the length between
// centres, where the tailstock was set over instead.
type CorrectInput struct {
	tapers.Input
	Measured []Reading     `json:"measured,omitempty"`
	Blue     End           `json:"blue,omitempty"`
	Gap      *units.Length `json:"gap_mm,omitempty"`
	StickOut *units.Length `json:"stick_out_mm,omitempty"`

	Roll       *units.Length `json:"roll_mm,omitempty"`
	Height     *units.Length `json:"height_mm,omitempty"`
	Over       *units.Length `json:"over_mm,omitempty"`
	OverRaised *units.Length `json:"over_raised_mm,omitempty"`
	LargeBall  *units.Length `json:"large_ball_mm,omitempty"`
	SmallBall  *units.Length `json:"small_ball_mm,omitempty"`
	LargeDepth *units.Length `json:"large_depth_mm,omitempty"`
	SmallDepth *units.Length `json:"small_depth_mm,omitempty"`
	Care

	Internal bool           `json:"internal"`
	Within   *units.Length  `json:"within_mm,omitempty"`
	SmallEnd tapers.End     `json:"small_end,omitempty"`
	Handle   fouling.Handle `json:"handle,omitempty"`
	SetAt    *units.Angle   `json:"set_at_deg,omitempty"`
	// PlaceError is how far the place of each diameter may be off; nil for not at all.
	PlaceError *units.Length `json:"place_error_mm,omitempty"`
	Between    *units.Length `json:"between_mm,omitempty"`

	Compound  *shop.Compound  `json:"-"`
	Cross     *shop.Dial      `json:"-"`
	Carriage  *shop.Dial      `json:"-"`
	Tailstock *shop.Tailstock `json:"-"`
	Tools     []shop.Tool     `json:"-"`
	SetBy     swivel.Tools    `json:"-"` // what the swivel was set with
}

// inside reports whether the work is a bore.
func (in CorrectInput) inside() bool { return in.Internal || in.byBalls() }

// end returns the end of the lathe the small end is at.
func (in CorrectInput) end() tapers.End {
	if in.SmallEnd == "" {
		return tapers.AtTailstock
	}
	return in.SmallEnd
}

// swivel returns the setting of a half angle on this lathe.
func (in CorrectInput) swivel(half units.Angle) swivel.Input {
	grows := in.end() == tapers.AtHeadstock
	return swivel.Input{
		HalfAngle: half, Grows: grows, Reversed: fouling.Arrangement{Handle: in.Handle}.Reverses(half, grows),
		Compound: in.Compound, Tools: swivel.Tools{Unit: in.Unit},
	}
}

// The verdicts.
const (
	verdictOff    = "off"    // it is out, and how the setting is changed is told
	verdictWithin = "within" // it is out, by less than it may be
	verdictRight  = "right"  // it is right, however the readings are off
	verdictUntold = "untold" // the readings do not tell whether it is out
)

// Correct returns what to change so that the wanted taper comes out.
//
// With a the half angle wanted and m what was measured, the slide is turned by
// a - m from where it stands; the tailstock is moved by L·(sin a - sin m). Over
// the length l the diameter is out by 2·l·(tan m - tan a); where that is less
// than what the readings may be off over the same length, they do not tell it.
//
// What is left at an end is what it measures less what is wanted there, and in a
// bore the other way round. Taken off the diameter, x lets the work go x/(2·tan a)
// further into its socket.
//
// It fails where tapers.Solve does, without any of the ways to find out or with
// two of them, where all diameters stand at one place or one beyond the taper, on a diameter below 0, on one
// that stands out by its whole length, and on a reading of the scale that this taper
// does not stand at.
func Correct(in CorrectInput) (CorrectResult, error) {
	t, err := tapers.Solve(in.Input)
	var bad check.List
	bad.Add(err)
	in.checkEvidence(&bad)
	in.checkLathe(&bad)
	in.checkStickOut(&bad, t)
	if err := bad.Err(); err != nil {
		return CorrectResult{}, err
	}
	r := CorrectResult{
		Inputs: in, HalfAngle: t.HalfAngle, Axial: units.Number(1 / (2 * t.HalfAngle.Tan())), Turn: "none", taper: t,
	}
	r.Within = in.Input.Within(in.Within, in.Unit)
	if r.slide, err = r.wound(); err != nil {
		return CorrectResult{}, err
	}
	if err := r.look(t); err != nil {
		return CorrectResult{}, err
	}
	r.asked = swivel.Asked{Within: r.Within, Given: in.Within != nil, Length: r.taper.Length}
	r.judge()
	r.straight()
	if err := r.setTo(); err != nil {
		return CorrectResult{}, err
	}
	if !r.across && !r.rough { // which tell no size at the ends
		r.remaining()
	}
	r.Setting = r.say()
	switch {
	case in.Between == nil && !r.cuts(): // else it is a step
		r.Caution(cautions.LockCompound)
	case in.Between != nil:
		r.Caution(cautions.BetweenDog, say.Aside(cautions.Rezero))
	}
	r.Caution(cautions.Isolate, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// look finds what the readings tell of the taper, or of the bite that all of them lie in. Across
// several they tell nothing of the swivel.
func (r *CorrectResult) look(t tapers.Taper) (err error) {
	in := r.Inputs
	r.bites = r.inBites()
	if err := in.checkPlaces(t, r.bites); err != nil {
		return err
	}
	if r.bites != nil {
		from, places := in.places(t)
		r.bite, r.from = r.bites.of(from, places), from
		r.across = len(places) > 0 && r.bite == 0
		r.taper = r.bites.taper(max(1, r.bite))
	}
	if !r.across {
		r.found, err = in.find(t, r.bites, r.bite)
	}
	return err
}

// checkLathe finds what is wrong with how it was set.
func (in CorrectInput) checkLathe(bad *check.List) {
	if in.SmallEnd != "" {
		check.OneOf(bad, "small-end", in.SmallEnd, tapers.Ends)
	}
	if in.Handle != "" {
		check.OneOf(bad, "handle", in.Handle, fouling.Handles)
	}
	bad.Above0("between", in.Between)
	bad.Above0("within", in.Within)
	bad.Refuse(in.inside() && in.Between != nil, problem.Contradiction, "between", in.Between,
		"a bore is not cut between centres")
	bad.Refuse(in.SetAt != nil && in.Between != nil, problem.Contradiction, "set-at", in.SetAt,
		"is of the compound, and ", say.Key("between"), " of the tailstock: give one of them")
	bad.Refuse(in.inside() && in.SmallEnd == "", problem.Missing, "small-end", nil,
		"a bore needs it said which end is small: write ", say.Choice(tapers.Ends))
	bad.Between("set-at", in.SetAt, units.Degrees(0), units.Degrees(180))
}

// checkStickOut refuses a taper that would not have gone into its socket at all.
func (in CorrectInput) checkStickOut(bad *check.List, t tapers.Taper) {
	if in.StickOut == nil || t.Length == nil {
		return
	}
	bad.Refuse(t.Length.Cmp(in.StickOut.Abs()) <= 0, problem.OutOfRange, "stick-out", in.StickOut, "less than the ",
		*t.Length, " that the taper is long: it is counted from where it is home")
}

// straight says where the side is not straight.
func (r *CorrectResult) straight() {
	if r.found == nil || r.found.bent == nil {
		return
	}
	b := r.found.bent
	than, why := "smaller", "a tool off centre height leaves the middle small"
	if b.off.Sign() > 0 {
		than = "larger"
	}
	if !b.hollow {
		why = "something gave way, or a reading is wrong"
	}
	r.Warn("not-straight", "the side is not straight: at ", b.z, " it is ", b.off.Abs(), " ", than,
		" than the line through all of them; ", why)
}

// judge says what the readings tell: whether the taper is out, and which way.
func (r *CorrectResult) judge() {
	in, over := r.Inputs, r.asked.Over(r.Inputs.Unit)
	switch {
	case in.Blue != "" && in.Gap == nil:
		r.Verdict, r.Turn = verdictOff, "further"
		if (in.Blue == AtLarge) != in.Internal {
			r.Turn = "back"
		}
		return
	case r.across:
		r.Verdict = verdictUntold
		return
	case r.found == nil: // how far it stands out tells nothing of the angle
		return
	}
	f, a := r.found, r.HalfAngle
	c := a.Minus(f.half)
	r.Measured, r.Correction, r.Least, r.Most = &f.half, &c, new(a.Minus(f.most)), new(a.Minus(f.least))
	out := units.FromFloat(2 * over.MM() * (f.half.Tan() - a.Tan()))
	told := units.FromFloat(over.MM() * (f.most.Tan() - f.least.Tan()))
	r.DiameterError, r.ToldTo = &out, &told
	switch {
	case out.Abs().Plus(told).Cmp(r.Within) <= 0:
		r.Verdict = verdictRight
		return
	case out.Abs().Cmp(told) <= 0:
		r.Verdict = verdictUntold
		r.toTell(over)
		return
	case r.farther(over) && r.hardly(out.Abs(), over):
		r.Verdict, r.rough = verdictUntold, true
		return
	case out.Abs().Cmp(r.Within) <= 0:
		r.Verdict = verdictWithin
	default:
		r.Verdict = verdictOff
	}
	if r.Turn = "further"; c.Deg() < 0 {
		r.Turn = "back"
	}
}

// farther reports whether the places lie so near each other that what is set by them may be out by
// more than is allowed, and works out how far apart they have to be.
func (r *CorrectResult) farther(over units.Length) bool {
	if r.found.apart.Sign() == 0 || r.ToldTo.Cmp(r.Within) <= 0 {
		return false
	}
	r.toTell(over)
	return r.Apart != nil
}

// hardly reports whether places that could lie farther apart leave too much of what is out in doubt for
// it to be set by: half of it by the readings; or, where they could lie twice as far apart, a fifth of it by
// the readings or all of it with what a place is off by easily.
func (r *CorrectResult) hardly(out, over units.Length) bool {
	if out.Cmp(r.ToldTo.Times(2)) <= 0 {
		return true
	}
	twice := r.taper.Length != nil && r.Apart.Cmp(r.found.apart.Times(2)) >= 0
	return twice && out.Cmp(units.Max(r.ToldTo.Times(5), r.doubt(over))) <= 0
}

// doubt is how far off the readings tell the taper, with what a place is off by easily where that was
// not said.
func (r *CorrectResult) doubt(over units.Length) units.Length {
	f := r.found
	if r.Inputs.PlaceError != nil || f.each.Sign() == 0 {
		return *r.ToldTo
	}
	each := f.each.MM() + 2*f.half.Tan()*practice.PlaceError.Length(r.Inputs.Unit).MM()
	return units.FromFloat(r.ToldTo.MM() * each / f.each.MM())
}

// toTell works out what readings would tell it: for diameters how far apart they have to be measured,
// as far as the taper lets, and how far each may be off there where that is not enough; neither
// where the places are too far off for it. Two that lie l apart and are off by e each leave 2·e·L/l over
// the length L; that is asked to be half of what the taper may be out, so that what is told to be out
// is, and what is not is right. What they leave as far apart as the taper lets is TellsTo.
func (r *CorrectResult) toTell(over units.Length) {
	f := r.found
	if f.apart.Sign() == 0 {
		r.LeastError = new(units.FromFloat(r.Inputs.off().MM() * r.Within.Half().Over(*r.ToldTo)))
		return
	}
	apart, most := units.FromFloat(4*f.each.MM()*over.Over(r.Within)), r.mostApart()
	if most == nil || apart.Cmp(*most) <= 0 {
		r.Apart = &apart
		return
	}
	const worth = 1.25 // times as far apart, that it is measured once more for
	if f.apart.MM()*worth <= most.MM() {
		r.Apart = most
	} else {
		most = new(units.Max(*most, f.apart))
	}
	r.TellsTo = new(units.FromFloat(2 * f.each.MM() * over.Over(*most)))
	// What the places are off stays.
	if e := units.FromFloat(r.Within.MM() * most.Over(over) / 4).Minus(f.each.Minus(r.Inputs.off())); e.Sign() > 0 {
		r.LeastError = &e
	}
}

// mostApart is how far apart two diameters are measured at the most: from near one end of the taper, or
// of what lies clear of other bites, to near the other. It is nil where no length is known.
func (r *CorrectResult) mostApart() *units.Length {
	whole := r.taper.Length
	if r.bites != nil {
		whole = r.bites.whole.Length
	}
	if whole == nil {
		return nil
	}
	clear := units.Min(practice.EndClear.Length(r.Inputs.Unit), whole.Half().Half())
	from, to := clear, whole.Minus(clear)
	if r.bite > 0 {
		low, high := r.bites.alone(r.bite, r.from)
		from, to = units.Max(from, low), units.Min(to, high)
	}
	return new(units.Max(to.Minus(from), units.Length{}))
}

// setTo fills in the setting that has to be changed: the tailstock's or the
// compound's.
func (r *CorrectResult) setTo() error {
	if r.Inputs.Between != nil {
		r.setOver()
		return nil
	}
	return r.setSwivel()
}

// moves reports whether the setting is to be changed.
func (r *CorrectResult) moves() bool { return r.Verdict == verdictOff || r.Verdict == verdictWithin }

// setOver fills in how the tailstock is moved.
func (r *CorrectResult) setOver() {
	in, a := r.Inputs, r.HalfAngle
	r.Offset = new(units.FromFloat(in.Between.MM() * a.Sin()))
	if r.Measured != nil {
		r.OffsetChange = new(units.FromFloat(in.Between.MM() * (a.Sin() - r.Measured.Sin())))
	}
	r.available()
	if !r.moves() {
		return
	}
	// Over toward the operator makes the tailstock's end small.
	toward := (r.Turn == "further") == (in.end() == tapers.AtTailstock)
	r.Direction, r.moved = new(tailstock.AwayFromOperator), "away from you"
	if toward {
		r.Direction, r.moved = new(tailstock.TowardOperator), "toward you"
	}
}

// available checks that the tailstock goes as far.
func (r *CorrectResult) available() {
	key, most := "toward", (*units.Length)(nil)
	if r.Inputs.end() == tapers.AtHeadstock {
		key = "away"
	}
	if ts := r.Inputs.Tailstock; ts != nil {
		most = ts.Toward
		if key == "away" {
			most = ts.Away
		}
	}
	switch {
	case most == nil:
		r.NotChecked("lathe: tailstock: setover: "+key, "whether the tailstock moves that far was not checked")
	case most.Less(*r.Offset):
		r.No(problem.New(problem.TravelShort, "between", r.Inputs.Between, "the tailstock moves only ", most.Down(),
			" that way, and this taper takes ", r.Offset.Up(), ": use the compound"))
	}
}

// setSwivel fills in how the compound is moved on.
func (r *CorrectResult) setSwivel() error {
	in := r.Inputs
	aim := in.swivel(r.HalfAngle)
	if in.Compound == nil {
		r.NotChecked("lathe: compound", "no compound in this shop: the indicator's travel is a usual one, and no ",
			"scale was looked at")
	}
	stands, err := r.standing(aim)
	if err != nil {
		return err
	}
	from := r.HalfAngle
	if r.Measured != nil {
		from = *r.Measured
	} else if r.Turn == "further" { // blue: a hair flatter, for the way alone
		from = from.Minus(units.Degrees(least))
	} else {
		from = from.Plus(units.Degrees(least))
	}
	m := aim.MoveFrom(from, r.asked)
	r.move = &m
	r.Indicator, r.IndicatorTravel, r.IndicatorAlong = &m.Dial.Exact, &m.Dial.Travel, &m.Dial.Along
	if m.Dial.Turns > 0 {
		r.IndicatorTurns = &m.Dial.Turns
	}
	r.gapWorth(m)
	if r.moves() {
		r.HandleMoves, r.moved = &m.Toward, m.Way()
	}
	if r.Measured == nil {
		return nil
	}
	r.IndicatorNow, r.IndicatorChange = &m.Now, new(m.Change())
	if r.moves() {
		r.HandleMove, r.FarEnd = &m.By, &m.FarEnd
		r.onCone(m)
		if !m.Told {
			r.Warn("too-fine", "the indicator hardly tells this move: cut lightly, measure again, and go by that")
		}
	}
	r.rescale(aim, stands)
	return nil
}

// onCone fills in what an indicator shows that runs along the cone itself, which
// lies as the slide stands until that is moved on. With the plunger square to the
// axis, over a travel t of the slide from the half angle m to a,
//
//	t·sin(a - m)/cos m,  with the plunger along the axis  t·sin(a - m)/sin m
//
// Source: elementary.
func (r *CorrectResult) onCone(m swivel.Move) {
	if r.taper.SlopeLength == nil || r.Measured.Deg() < least {
		return
	}
	t, c := units.Min(*r.taper.SlopeLength, m.Dial.Travel), r.Inputs.Compound
	if c != nil && c.Screw != nil {
		n := t.Steps(c.Screw.Lead, units.Down)
		t = c.Screw.Lead.Times(n)
		r.coneTurns = n
	}
	part := r.Measured.Cos()
	if m.Dial.Along == swivel.Axis {
		part = r.Measured.Sin()
	}
	shows := units.FromFloat(t.MM() * r.Correction.Sin() / part).Abs()
	if practice.IndicatorRead.Length(r.Inputs.Unit).Cmp(shows) <= 0 {
		r.OnCone, r.OnConeTravel = &shows, &t
	}
}

// least is a hair of an angle, in degrees.
const least = 1e-6

// gapWorth fills in what a gap of 0.01 mm is worth after blueing.
func (r *CorrectResult) gapWorth(m swivel.Move) {
	if r.Inputs.Blue == "" || r.taper.Length == nil {
		return
	}
	cos := r.HalfAngle.Cos()
	a := units.Radians(0.01 / (2 * r.taper.Length.MM()) * cos * cos)
	r.PerHundredth = new(Gapped(a.Deg()))
	r.indicatorPer = units.FromFloat(m.Dial.Per.MM() * a.Deg() / 0.01)
}

// standing returns the half angle that the scale claims where it reads as much as
// was said, nil where nothing was. Of the turns that show that number it is the
// one nearest to what the taper needs.
func (r *CorrectResult) standing(aim swivel.Input) (*units.Angle, error) {
	in := r.Inputs
	if in.SetAt == nil || in.Compound == nil {
		return nil, nil
	}
	near, what := aim, say.Text("this taper")
	if r.Measured != nil {
		near.HalfAngle, what = *r.Measured, "what was cut"
	}
	needs, _, _, _ := near.Turned()
	signed := needs.Turn.Deg()
	if needs.Direction == shop.CounterClockwise {
		signed = -signed
	}
	best := math.Inf(1)
	for _, turn := range in.turns() {
		for _, sign := range []float64{-1, 1} {
			if off := sign*turn - signed; math.Abs(off) < math.Abs(best) {
				best = off
			}
		}
	}
	way := 1.0
	if !near.Grows {
		way = -1
	}
	most := practice.ScaleOut.Angle().Deg()
	if math.Abs(best) > most && needs.OffScale {
		return nil, problem.New(problem.OutOfRange, "set-at", in.SetAt, what, " stands ", say.Num(needs.Turn.Deg(), 1),
			" deg from the zero of this scale, which ends at ", in.Compound.Scale.Limit, ": leave ", say.Key("set-at"), " off",
			in.orNormal(aim))
	}
	if math.Abs(best) > most {
		return nil, problem.New(problem.OutOfRange, "set-at", in.SetAt, what, " stands near ",
			say.Num(needs.Reading.Deg(), 1), " deg on this scale, whose zero is with the ", swivel.Zero(in.Compound),
			": write what the scale reads now")
	}
	r.apart(math.Abs(best))
	return new(near.HalfAngle.Plus(units.Degrees(way * best))), nil
}

// turns returns how far from its zero the scale shows the number that was said: both
// ways on a scale that counts back after 90, none past its end.
func (in CorrectInput) turns() []float64 {
	scale := in.Compound.Scale
	list := []float64{in.SetAt.Deg()}
	if scale.BackAfter90 {
		list = append(list, 180-in.SetAt.Deg())
	}
	return slices.DeleteFunc(list, func(turn float64) bool {
		return scale.Limit != nil && turn > scale.Limit.Deg()+least
	})
}

// orNormal says that the slide may stand the usual way round, where it is taken to be
// reversed and would then stand on the scale.
func (in CorrectInput) orNormal(at swivel.Input) say.Text {
	reversed := at.Reversed
	at.Reversed = false
	if needs, _, _, _ := at.Turned(); in.Handle != "" || !reversed || needs.OffScale {
		return ""
	}
	return say.Of(", or write ", say.Key("handle"), " normal where the handle is on the usual side")
}

// apart warns where the scale claims another angle than the work has, by more than an
// eye is off that divides its steps and than the readings are off.
func (r *CorrectResult) apart(by float64) {
	if r.Measured == nil {
		return
	}
	told := r.Inputs.Compound.Scale.Step.Deg()*practice.EyePart.Number() + r.Most.Minus(*r.Least).Deg()/2
	if by > told {
		r.Warn("scale-apart", "what the scale reads and what the work measures are ", say.Num(by, 2),
			" deg apart: its zero is out by that, or one of the numbers is wrong; go by the indicator")
	}
}

// rescale fills in what the scale reads afterwards: what it claimed and the
// correction.
func (r *CorrectResult) rescale(aim swivel.Input, stands *units.Angle) {
	claimed := r.HalfAngle
	if stands != nil {
		claimed = *stands
	}
	again := claimed.Plus(*r.Correction)
	if d := again.Deg(); d <= 0 || d >= 90 {
		r.Warn("far-out", "what was measured is so far out that the slide cannot have been set to the wanted half angle: ",
			"set it anew with the indicator")
		return
	}
	r.NewAngle = &again
	if stands == nil || !r.moves() {
		return
	}
	aim.HalfAngle = again
	exact, mark, _, _ := aim.Turned()
	r.Reading = &exact.Reading
	if !mark.OffScale && !exact.OffScale {
		r.Mark = &mark.Reading
	}
	if exact.OffScale {
		r.Warn("off-scale", "the scale ends at ", r.Inputs.Compound.Scale.Limit, ": the indicator alone tells it")
	}
}
