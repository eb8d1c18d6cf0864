// Package stages takes an outside of several stages - cylinders, tapers both
// ways and shoulders - one after the other, and says how the compound is set
// for each, which hand of tool cuts it and in what order.
//
// A stage grows or shrinks toward the tailstock; stations run from the left
// end of the drawing, which is the headstock's. Two stations at one z make a
// shoulder. A right-hand tool cuts toward the headstock and its trailing edge
// faces the tailstock; it cuts a taper that grows toward the tailstock only
// where that edge stands off by more than the half angle and 2 deg. Otherwise
// a left-hand tool cuts it, from the small end up.
//
// The order keeps the work stiff and the slide true: cylinders and shoulders
// while the compound stands along the axis, the largest diameters first, then
// the tapers, those of one setting together. A shoulder is faced as soon as its foot
// is there: the stage below it is cut, or a taper is turned down to that.
//
// With a place given, every taper is checked for what may foul, as the package
// fouling has it; all stages of the part are then in the way.
package stages

import (
	"cmp"
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// Station is a place on the outside: z from the left end, and the diameter
// there.
type Station struct {
	Z   units.Length `json:"z_mm"`
	Dia units.Length `json:"dia_mm"`
}

// Kind is what a stage is.
type Kind string

// The kinds of stage.
const (
	Cylinder Kind = "cylinder"
	Taper    Kind = "taper"
	Shoulder Kind = "shoulder"
)

// Input is an outside by its stations, left to right. FromJaws of the place is
// where the first station stands; with it what may foul is checked for every
// taper.
type Input struct {
	Stations []Station `json:"stations"`
	fouling.Place

	// Within is the most that the far end of a taper may be out on the diameter,
	// nil what is usual; Tools what the swivel is set with.
	Within *units.Length `json:"within_mm,omitempty"`
	Tools  swivel.Tools  `json:"-"`

	// Blade is a parting blade that may cut a groove, BladeReach how deep it does;
	// nil: there is none, it is not known.
	Blade, BladeReach *units.Length `json:"-"`
}

// Stage is one stretch of the outside. Angles are nil where it is no taper,
// the reading where there is no compound, and the mark where its scale has none
// that serves too.
type Stage struct {
	N         int          `json:"n" show:"n"`
	Kind      Kind         `json:"kind" show:"kind"`
	From      units.Length `json:"from_mm" show:"from"`
	To        units.Length `json:"to_mm" show:"to"`
	FromDia   units.Length `json:"from_dia_mm" show:"dia"`
	ToDia     units.Length `json:"to_dia_mm" show:"to dia"`
	HalfAngle *units.Angle `json:"half_angle_deg" show:"half angle"`
	Reading   *units.Angle `json:"reading_deg" show:"reading"`
	Mark      *units.Angle `json:"mark_deg" show:"mark"`
	// Turn and TurnDirection are what the hand does from this scale's zero, Past90
	// whether that goes past 90; Swivel is the taper's own sense.
	Turn          *units.Angle    `json:"turn_from_zero_deg"`
	TurnDirection *shop.Direction `json:"turn_direction"`
	Past90        *bool           `json:"past_90"`
	Swivel        *shop.Direction `json:"swivel"`
	Method        *swivel.Method  `json:"method" show:"set by"`
	Between       *say.Text       `json:"between"`
	Setting       *say.Text       `json:"setting"`
	SlideTravel   *units.Length   `json:"slide_travel_mm" show:"slide"`
	ToolHand      fouling.Hand    `json:"tool_hand" show:"tool"`
	Clearance     *units.Length   `json:"clearance_mm" show:"clearance" as:"down"`
	Fouls         []fouling.Foul  `json:"fouls,omitempty"`
	// Alternatives is what would clear where something fouls.
	Alternatives []fouling.Alternative `json:"alternatives,omitempty"`

	// TurnDown is what a taper is turned down to first, where it is not as thick as
	// the bar at its larger end.
	TurnDown *units.Length `json:"turn_down_mm"`
	// TurnDownBefore is the stage before which that is done, TurnDownTool the tool.
	TurnDownBefore *int         `json:"turn_down_before"`
	TurnDownTool   fouling.Hand `json:"turn_down_tool,omitempty"`

	// Slot is what is plunged first in a cylinder that right- and left-hand tools cut from there.
	Slot *Groove `json:"slot"`

	// Steps say how a taper is cut, after it is set; none where something is a no.
	Steps []say.Text `json:"-"`

	// Set is the whole setting of a taper; nil for the others.
	Set *compound.Result `json:"-"`
}

// Groove is a stretch of the work that is plunged straight in, down to a diameter.
type Groove struct {
	From *units.Length `json:"from_mm"` // nil where it is not known how wide a holder comes out of it
	To   *units.Length `json:"to_mm"`
	Dia  units.Length  `json:"dia_mm"`
}

// Result is the stages and the order to cut them in: the numbers of the
// stages, first to last. Those of one list of Together stand in each other's way: the answer
// is no.
type Result struct {
	Inputs   Input   `json:"inputs"`
	Stages   []Stage `json:"stages"`
	Order    []int   `json:"order"`
	Together [][]int `json:"together"`
	// Necks are grooves in the bar beside the stations, out of which a tool comes that begins at an end of them.
	Necks []Neck `json:"necks"`
	sheet.Remarks

	edges [][2]bool // by index, whether what is beside a taper's ends is not as thick as it stands then

	turns []int // by index, those that are turned down first, in their order
}

// Of returns the stages of an outside. It fails when there are fewer than two
// stations, when they do not run from left to right, when a diameter is not
// above 0 (a last or first one may be 0: a point), and when two following
// stations are the same.
func Of(in Input) (Result, error) {
	if err := in.check(); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in}
	free := in // how each is set does not depend on where it stands
	free.FromJaws, free.CentreAt = nil, nil
	for i := range in.Stations[1:] {
		s, err := stage(free, i)
		if err != nil {
			return Result{}, err
		}
		r.Stages = append(r.Stages, s)
	}
	if err := r.cut(); err != nil {
		return Result{}, err
	}
	if in.Stations[0].Dia.Sign() == 0 {
		r.Warn("point", "the left end comes to a point, which no chuck holds: leave the bar thicker beyond it, ",
			"hold it there, and part the point off last of all")
	}
	fouling.NotOnHand(&r.Remarks, in.Lathe.Tools, in.ToolHand)
	r.remark()
	r.takes()
	if len(r.Fails()) == 0 {
		r.wind()
	}
	r.Caution(cautions.Isolate, cautions.EyeProtection, cautions.Manual) // that the carriage is locked is a step
	return r, nil
}

// wind says how each taper is cut, in their order: the carriage is locked since the one before, but where
// something was turned in between.
func (r *Result) wind() {
	locked := false
	for _, n := range r.Order {
		i := n - 1
		for _, k := range r.turns {
			locked = locked && (*r.Stages[k].TurnDownBefore != n || r.Stages[k].TurnDownTool == Blade)
		}
		if s := &r.Stages[i]; s.Set == nil {
			locked = false
		} else {
			on := s.standing()
			on.Locked, locked = locked, true
			on.StepHead, on.StepTail = r.edges[i][0], r.edges[i][1]
			s.Steps = s.Set.Wound(on)
		}
	}
}

// fromJaws returns where a z of the drawing stands.
func (in Input) fromJaws(z units.Length) units.Length {
	return in.FromJaws.Plus(z.Minus(in.Stations[0].Z))
}

// cut settles the order, and looks at each taper once more with its tool and on
// the work as it stands then.
func (r *Result) cut() error {
	c := planned(r.Inputs, r.Stages)
	var at []standing
	r.Order, r.Together, at = c.run(order(r.Stages))
	r.edges = make([][2]bool, len(r.Stages))
	for _, w := range at {
		s := &r.Stages[w.of]
		r.edges[w.of] = c.edges(w)
		s.ToolHand = c.hands[w.of]
		if s.Kind != Taper {
			continue
		}
		in := r.Inputs
		if in.ToolHand = s.ToolHand; in.FromJaws != nil {
			in.Work, in.Leans, in.Raw = w.stands, w.leans, new(units.FromFloat(c.thick(w.of)))
		}
		again, err := stage(in, w.of)
		if err != nil {
			return err
		}
		*s = again
		if dia, ok := c.rough[w.of]; ok {
			s.TurnDown, s.TurnDownBefore = new(units.FromFloat(dia)), new(c.list[c.down[w.of]].N)
			s.TurnDownTool = c.by[w.of]
		}
	}
	r.turns = c.turns
	r.Necks = c.necks()
	r.points()
	for i, slot := range c.slots {
		if r.Stages[i].ToolHand == Both {
			r.Stages[i].Slot = new(slot)
		}
	}
	r.askedAgain(c.list)
	for _, p := range c.fails {
		r.No(p)
	}
	return nil
}

// points refuses what would be cut out of a bar that is there no more: beside a point that the work ends in no
// bar is thin enough for a tool to come in.
func (r *Result) points() {
	for _, k := range r.Necks {
		if k.Dia.Sign() != 0 {
			continue
		}
		at, holder := r.Inputs.Stations[0].Z, "chuck"
		if k.End == tapers.AtTailstock {
			at, holder = r.Inputs.Stations[len(r.Inputs.Stations)-1].Z, "centre"
		}
		r.No(problem.New(problem.Impossible, "station", nil, "a tool would come in beyond z ", at, ", where the work is a ",
			"point and the bar goes on to the ", holder, ": turn it end for end, so that the point is free"))
	}
}

// askedAgain leaves of what would clear a stage that with which all of them can be cut, each in
// its turn; the work turned end for end is another outside.
func (r *Result) askedAgain(list []Stage) {
	for i := range r.Stages {
		s := &r.Stages[i]
		if len(s.Fouls) == 0 {
			continue
		}
		s.Alternatives = slices.DeleteFunc(s.Alternatives, func(a fouling.Alternative) bool {
			if a.FromJaws != nil { // what is beyond it comes to the jaws' side
				beyond := r.Inputs.Stations[len(r.Inputs.Stations)-1].Z.Minus(s.To)
				return a.FromJaws.Less(beyond)
			}
			return !r.Inputs.otherwise(a).works(list)
		})
		s.Set.Alternatives = s.Alternatives
	}
}

func (in Input) check() error {
	var bad check.List
	last := len(in.Stations) - 1
	bad.Refuse(last < 1, problem.Missing, "station", nil, "needs at least two stations, such as ",
		say.Key("station"), " 0=20 ", say.Key("station"), " 60=12")
	for i, s := range in.Stations {
		found := say.Of(s.Z.Typed(), "=", s.Dia.Typed())
		bad.Refuse(s.Dia.Sign() < 0 || s.Dia.Sign() == 0 && i != 0 && i != last, problem.OutOfRange, "station", found,
			"a diameter must be above 0 (an end may come to a point)")
		if i > 0 {
			p := in.Stations[i-1]
			bad.Refuse(s.Z.Less(p.Z), problem.Contradiction, "station", found,
				"stations run from left to right: this one stands left of ", p.Z)
			bad.Refuse(s.Z.Equal(p.Z) && s.Dia.Equal(p.Dia), problem.Duplicate, "station", found,
				"the same station twice")
			if i < last && s.Z.Equal(p.Z) && s.Z.Equal(in.Stations[i+1].Z) {
				next, what := in.Stations[i+1].Dia, "groove"
				if p.Dia.Less(s.Dia) {
					what = "ring"
				}
				bad.Refuse((s.Dia.Less(p.Dia) && s.Dia.Less(next)) || (p.Dia.Less(s.Dia) && next.Less(s.Dia)),
					problem.Contradiction, "station", found, "a ", what, " of no width: give its other side at another z")
			}
		}
	}
	bad.Refuse(len(bad.List) == 0 && in.Stations[0].Z.Equal(in.Stations[last].Z), problem.Contradiction, "station",
		in.Stations[0].Z, "every station stands there: give one at another z, or there is no length to cut")
	bad.Add(in.Place.Check())
	return bad.Err()
}

// stage returns the stretch from station i to the next.
func stage(in Input, i int) (Stage, error) {
	a, b := in.Stations[i], in.Stations[i+1]
	s := Stage{N: i + 1, Kind: Cylinder, From: a.Z, To: b.Z, FromDia: a.Dia, ToDia: b.Dia, ToolHand: fouling.Right}
	grows := a.Dia.Less(b.Dia)
	switch {
	case a.Z.Equal(b.Z):
		s.Kind = Shoulder
		return s, nil
	case a.Dia.Equal(b.Dia):
		return s, nil
	}
	s.Kind = Taper
	large, small, length := units.Max(a.Dia, b.Dia), units.Min(a.Dia, b.Dia), b.Z.Minus(a.Z)
	end := tapers.AtTailstock
	if grows {
		end = tapers.AtHeadstock
	}
	place := in.Place
	if in.ToolHand != "" {
		s.ToolHand = in.ToolHand
	}
	if in.FromJaws != nil {
		place.FromJaws = new(in.fromJaws(a.Z))
	}
	set, err := compound.Set(compound.Input{
		Input: tapers.Input{Large: &large, Small: &small, Length: &length}, SmallEnd: end, Place: place, Part: true,
		Flush:  i < len(in.Stations)-2,
		Within: in.Within, Tools: in.Tools,
	})
	if err != nil {
		return Stage{}, err
	}
	s.Set, s.HalfAngle, s.Swivel, s.SlideTravel = &set, &set.HalfAngle, &set.Swivel, set.SlideTravel
	s.Reading, s.Mark, s.Turn, s.TurnDirection, s.Past90 = set.Reading, set.Mark, set.Turn, set.TurnDirection, set.Past90
	s.Method, s.Between, s.Setting = &set.Method, set.Between, &set.Setting
	if set.Finding != nil {
		s.Clearance, s.Fouls = set.Clearance, set.Fouls
		if len(s.Fouls) > 0 {
			s.Alternatives = set.Alternatives
		}
	}
	return s, nil
}

func (s Stage) isTaper() bool { return s.Kind == Taper }

// standing is the work that a taper is cut out of.
func (s Stage) standing() compound.Standing {
	on := compound.Standing{
		Headstock: s.From, Tailstock: s.To, SetTo: s.Set.SetHalfAngle, Flush: s.Set.Inputs.Flush, As: "as it stands",
		ByMark: s.Set.Method == swivel.ByMark || s.Set.Method == swivel.BetweenMarks,
	}
	if s.TurnDown != nil {
		on.LargeEnd, on.SmallEnd, on.As = s.TurnDown, s.TurnDown, "as turned down"
	}
	return on
}

// takes asks whether the lathe has room for the whole of it.
func (r *Result) takes() {
	in, last := r.Inputs, len(r.Inputs.Stations)-1
	long := in.Stations[last].Z.Minus(in.Stations[0].Z)
	w := tapers.Stands{LongKey: "station", Long: &long, AcrossKey: "station", Across: new(units.Length), Beside: true}
	if in.FromJaws != nil {
		w.LongKey, w.Long = "from-jaws", new(in.fromJaws(in.Stations[last].Z))
	}
	if in.CentreAt != nil {
		w.LongKey, w.Long = "centre-at", in.CentreAt
	}
	*w.Across = r.thickest()
	const facing = 45 // degrees
	for _, s := range r.Stages {
		faced := s.Kind == Shoulder || s.Kind == Taper && s.ToDia.Less(s.FromDia) && s.HalfAngle.Deg() > facing
		w.Beside = w.Beside && faced
	}
	tapers.RoomOf(in.Lathe).Take(&r.Remarks, w)
}

// remark passes on what the settings warn of and why they are a no. What was not
// checked is said once for all stages.
func (r *Result) remark() {
	r.missing()
	for _, s := range r.Stages {
		if s.Set == nil {
			continue
		}
		for _, w := range s.Set.Warnings {
			said := w.Key == "lathe: compound" || slices.Contains(r.Warnings, w) ||
				w.Key == "lathe: tools" && len(r.Inputs.Lathe.Tools) == 0
			switch {
			case w.Code == "not-checked" && !said:
				r.Warnings = append(r.Warnings, w)
			case w.Code != "not-checked":
				r.Warn(w.Code, "stage ", s.N, ": ", w.Text.Whole())
			}
		}
		if f := s.Set.Finding; f != nil && f.Tight && len(f.Fouls) == 0 {
			r.Warn("tight", "stage ", s.N, ": no more than ", f.Clearance.Down(), " is clear")
		}
		s.fails(r)
	}
}

// missing says what was not checked of all stages.
func (r *Result) missing() {
	in := r.Inputs
	if in.Lathe.Compound == nil {
		r.NotChecked("lathe: compound", "no compound in this shop: the angles are exact, no marks were looked for")
	}
	if in.FromJaws == nil && in.Lathe.ToolPost != nil && slices.ContainsFunc(r.Stages, Stage.isTaper) {
		r.NotChecked("from-jaws", "whether the post or the slide meets the work was not checked: say where it stands (",
			say.Key("from-jaws"), ")")
	}
	if len(in.Lathe.Tools) == 0 {
		r.NotChecked("lathe: tools", "whether a tool's trailing edge clears was not checked")
	}
}

// fails passes on why a setting is a no, and what would clear.
func (s Stage) fails(r *Result) {
	for i, f := range s.Set.Fails() {
		clears := say.Text("")
		if a := s.Alternatives; len(a) > 0 && i == 0 {
			clears = say.Of("; to clear, ", a[0].Say)
		}
		r.No(problem.New(f.Code, f.At.Key, nil, "stage ", s.N, ": ", f.Want, clears))
	}
}

// order returns the stages in the order that is wished for: cylinders and shoulders
// first while the compound stands true, the largest first so that slender
// stretches come last, then the tapers, those of one setting together.
func order(list []Stage) []int {
	left := slices.Clone(list)
	taper := func(s Stage) int {
		if s.Kind == Taper {
			return 1
		}
		return 0
	}
	largest := func(s Stage) units.Length { return units.Max(s.FromDia, s.ToDia) }
	slices.SortStableFunc(left, func(a, b Stage) int {
		return cmp.Or(cmp.Compare(taper(a), taper(b)), largest(b).Cmp(largest(a)))
	})
	var out []int // by index
	for len(left) > 0 {
		next := left[0]
		left = slices.DeleteFunc(left, func(s Stage) bool {
			with := s.N == next.N || sameSetting(s, next)
			if with {
				out = append(out, s.N-1)
			}
			return with
		})
	}
	return out
}

// sameSetting reports whether two stages are tapers that are cut at one setting
// of the slide.
func sameSetting(a, b Stage) bool {
	switch {
	case a.Kind != Taper || b.Kind != Taper || *a.Swivel != *b.Swivel || a.Set.Reversed != b.Set.Reversed:
		return false
	case *a.Method == swivel.ByMark && *b.Method == swivel.ByMark:
		return *a.Mark == *b.Mark
	}
	const alike = 1e-9 // degrees
	return math.Abs(a.HalfAngle.Minus(*b.HalfAngle).Deg()) < alike
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Stages of an outside")
	s.Brief = true
	table := s.Table(r.Stages).Leave("half_angle_deg", "reading_deg", "mark_deg", "method", "slide_travel_mm")
	if len(r.Fails()) == 0 { // the steps say all of it
		for _, c := range table.Cols {
			table.Leave(c.Key)
		}
	}
	r.explain(s)
	r.draw(s)
	r.steps(s)
	for _, st := range r.Stages {
		if st.Set == nil {
			continue
		}
		st.Set.WorkSlope(s)
		if len(st.Fouls) > 0 {
			st.Set.List(s, "Stage ", st.N, ": ")
		}
	}
	s.Aside("z runs from the left end of the drawing, the headstock's; a right-hand tool cuts toward the headstock.")
	switch {
	case r.Inputs.FromJaws == nil:
	case len(r.Fails()) == 0: // a step says so
		s.Aside(fouling.Guide)
	default:
		s.Note(fouling.Guide)
	}
	return *s
}

// steps says how each stage is cut, in their order, and each taper set. Where the answer
// is no there is nothing to do.
//
// Long: one kind of stage after the other, and what is done before each.
func (r *Result) steps(s *sheet.Sheet) {
	if len(r.Fails()) > 0 {
		return
	}
	r.begin(s)
	r.opened(s)
	var set []Stage
	opened := map[tapers.End]bool{}
	said := map[say.Text]int{}               // the number of the step that says it
	do := func(name say.Text, what ...any) { // which is named where there are several
		text := say.Of(what...)
		if n, again := said[text]; again {
			text = say.Shorter(text, say.Of("as step ", n, "."))
		} else {
			said[text] = len(s.Procedure) + 1
		}
		if len(r.Stages) > 1 {
			text = say.Of(name, ": ", text)
		}
		s.Do(text.Capital())
	}
	locked, unlocks := false, say.Text("")
	unlock := func(i int, down bool) { // before something is cut
		if unlocks = ""; locked {
			unlocks = "unlock the carriage, "
		}
		if r.open(s, opened, unlocks, i, down) {
			unlocks = ""
		}
	}
	for _, n := range r.Order {
		st := r.Stages[n-1]
		for _, k := range r.turns {
			if o := r.Stages[k]; *o.TurnDownBefore == n {
				unlock(k, true)
				do(say.Of("Stage ", o.N), unlocks, r.turnedDown(o, len(set) > 0))
				locked = locked && o.TurnDownTool == Blade
			}
		}
		unlock(n-1, false)
		switch st.Kind {
		case Cylinder:
			do(say.Of("Stage ", n), unlocks, r.turned(st))
			locked = false
			continue
		case Shoulder:
			locked = false
			do(say.Of("Stage ", n), unlocks, "face the shoulder at z ", st.From, ", from ", st.FromDia, " to ", st.ToDia,
				st.by(), r.square(), ".")
			continue
		}
		same := func(o Stage) bool { return sameSetting(o, st) }
		if !slices.ContainsFunc(set, same) {
			name, setting := r.setting(set, st)
			do(name, setting)
		}
		set, locked = append(set, st), true
		for i, step := range st.Steps {
			is := say.Text("")
			if i == 0 {
				is = say.Shorter("", say.Of(st.along(), ", ", st.FromDia, " to ", st.ToDia))
			}
			do(say.Of("Stage ", n, is), step)
		}
	}
}

// begin says what bar the lines are reckoned on: one that stands as thick as the thickest place.
func (r *Result) begin(s *sheet.Sheet) {
	last := r.Inputs.Stations[len(r.Inputs.Stations)-1].Z
	faced := say.Of(", faced at z ", last)
	if r.Inputs.CentreAt != nil { // it goes on to the centre
		first := r.Inputs.Stations[0].Z
		faced = say.Of(", z ", first, " ", r.Inputs.fromJaws(first), " from the jaws")
	}
	most := r.thickest()
	s.Do("Begin with a bar of ", most, say.Shorter(say.Of(faced, ": turn a thicker one to that all along first, since "+
		"every line that follows is counted from there."), say.Of(", or turned to that all along", faced, ".")))
}

// thickest is the largest diameter.
func (r *Result) thickest() (most units.Length) {
	for _, at := range r.Inputs.Stations {
		most = units.Max(most, at.Dia)
	}
	return most
}

// setting says how the slide is set for a stage, after those that it was set for before, and names all
// that are cut at that setting.
func (r *Result) setting(before []Stage, st Stage) (name, setting say.Text) {
	var at []int
	for _, o := range r.Stages {
		if sameSetting(o, st) {
			at = append(at, o.N)
		}
	}
	setting = st.Set.Figures.Choice().Done()
	if n := len(before); n > 0 {
		setting = st.Set.Figures.Choice().Again(before[n-1].Set.Figures.Choice().Way)
	}
	return named(at), setting
}

// along says from where to where a stage is.
func (s Stage) along() say.Text { return say.Of(", from z ", s.From, " to z ", s.To) }

// by says which tool cuts it: a right-hand one only on a short page, which has no table.
func (s Stage) by() say.Text {
	switch s.ToolHand {
	case fouling.Right:
		return say.Shorter("", say.Of(", ", fouling.Arrangement{ToolHand: s.ToolHand}))
	case fouling.Left: // the post is where its edge trails to
		return say.Of(", ", fouling.Arrangement{ToolHand: s.ToolHand}, " on the post's tailstock side")
	case Blade:
		return ", with the parting blade, straight in"
	case Both:
		return ", a right-hand tool up to the shoulder at the headstock's side, a left-hand one up to the other"
	}
	return say.Of(", ", fouling.Arrangement{ToolHand: s.ToolHand})
}

// square says that the post stands square for what is no taper, where it is turned for those.
func (r *Result) square() say.Text {
	if in := r.Inputs; in.PostTurned == nil && in.PostTurn != fouling.WithSlide {
		return ""
	}
	return ", post square"
}

// turnedDown says how a taper is turned down to its larger end, and which tool gets there as the work stands
// then; set says that the compound is set for another already.
func (r *Result) turnedDown(st Stage, set bool) say.Text {
	when := say.Text("before the compound is set.")
	if set {
		when = "fed by the carriage."
	}
	if st.TurnDownTool != Blade {
		return say.Of("turn it down to ", st.TurnDown, st.along(), ", ", fouling.Arrangement{ToolHand: st.TurnDownTool},
			r.square(), ", ", when)
	}
	if set {
		when = "the carriage locked for each cut."
	}
	return say.Of("plunge it to ", st.TurnDown, st.along(), r.plunged(st), ", ", when)
}

// plunged says with what a stage is plunged, without a full stop.
func (r *Result) plunged(st Stage) say.Text {
	return say.Of(", with a grooving tool no wider than ", st.To.Minus(st.From), ": the parting blade is ", r.Inputs.Blade,
		" wide. Straight in, one cut beside the other")
}

// turned says how a cylinder is cut: turned, or where no turning tool gets between what stands
// on either side, plunged with a blade that is no wider than it is long.
func (r *Result) turned(st Stage) say.Text {
	switch {
	case st.Slot != nil:
		return say.Of("first plunge a slot to ", st.ToDia, st.Slot.stands(), ", ", r.blade(),
			". Then turn it to ", st.ToDia, st.along(), st.by(), r.square(), ".")
	case st.ToolHand != Blade:
		return say.Of("turn it to ", st.ToDia, st.along(), st.by(), r.square(), ".")
	}
	return say.Of("plunge it to ", st.ToDia, st.along(), r.plunged(st), ".")
}
