package compound

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
)

// Way is which way a handle is wound: in moves what it carries away from the
// handle.
type Way string

// The ways.
const (
	In  Way = "in"
	Out Way = "out"
)

// other returns the way back.
func (w Way) other() Way {
	if w == In {
		return Out
	}
	return In
}

// The slides that move from one bite to the next.
const (
	CrossSlideFirst = "cross-slide"
	CarriageFirst   = "carriage"
)

// Cutting is how the compound's handle is wound while it cuts, and what moves
// between two bites. Figures of a dial are nil without one.
type Cutting struct {
	FeedsToward tapers.End    `json:"feeds_toward"`
	FeedWay     Way           `json:"feed_way"`
	Bite        *units.Length `json:"bite_mm"` // what the slide travels in a bite
	FeedTurns   *int64        `json:"feed_turns"`
	FeedDivs    *int64        `json:"feed_divisions"`
	// DivisionDia is what a division of the compound's handle changes the
	// diameter by under the tip, Overrun what the slide has left beside a bite.
	DivisionDia *units.Length `json:"division_on_diameter_mm"`
	Overrun     *units.Length `json:"overrun_mm"`

	First         *string       `json:"first_slide"`
	CarriageSet   *units.Length `json:"carriage_move_set_mm"`
	CrossSlideSet *units.Length `json:"cross_slide_move_set_mm"`
	Joints        []Joint       `json:"joints"`
}

// Joint is where a bite takes over from the one before: what moves from there to
// here, on the dials' lines, and what that leaves. Step is what the side of this
// bite stands out beyond that of the first, on the diameter, set minus exact: never below
// 0 on an outside, never above in a bore.
// FromPass is the first of the passes that reaches this bite.
type Joint struct {
	Bite          int          `json:"bite" show:"bite"`
	Carriage      units.Length `json:"carriage_mm" show:"carriage"`
	CarriageTurns *int64       `json:"carriage_turns"`
	CarriageDivs  *int64       `json:"carriage_divisions"`
	Cross         units.Length `json:"cross_slide_mm" show:"cross slide"`
	CrossTurns    *int64       `json:"cross_slide_turns" show:"turns"`
	CrossDivs     *int64       `json:"cross_slide_divisions" show:"div"`
	Step          units.Length `json:"step_mm" show:"step left" as:"fine"`
	FromPass      *int         `json:"from_pass" show:"from pass"`
}

// setCutting says how the compound is wound: a right-hand tool and a boring bar
// cut toward the headstock, a left-hand one toward the tailstock; a handle that
// points the way the tool goes is wound out.
func (r *Result) setCutting() {
	r.FeedsToward, r.FeedWay, r.Joints = tapers.AtHeadstock, In, []Joint{}
	if !r.Inputs.Internal && r.hand() == fouling.Left {
		r.FeedsToward = tapers.AtTailstock
	}
	if (r.FeedsToward == tapers.AtTailstock) != r.Reversed {
		r.FeedWay = Out
	}
	r.setBites()
	c := r.Inputs.Lathe.Compound
	if c == nil || r.SlideTravel == nil {
		return
	}
	if r.Bite == nil {
		r.Bite = r.SlideTravel
	}
	if r.TravelAvailable != nil {
		r.Overrun = new(r.TravelAvailable.Minus(*r.Bite))
	}
	if c.Screw != nil {
		_, turned := c.Screw.Set(*r.Bite)
		r.FeedTurns, r.FeedDivs = &turned.Turns, &turned.Divisions
		r.DivisionDia = new(units.FromFloat(2 * c.Screw.Division().MM() * r.SetHalfAngle.Sin()))
	}
}

// grows reports whether the diameter grows toward the tailstock.
func (r *Result) grows() bool { return r.Inputs.SmallEnd == tapers.AtHeadstock }

// hand returns the hand of the tool for an outside: the one that was looked at
// for what fouls, else the one that was asked for, else a right-hand one, or,
// where its trailing edge would rub, a left-hand one.
func (r *Result) hand() fouling.Hand {
	in := r.Inputs
	switch {
	case r.Finding != nil:
		return r.Finding.Arrangement.ToolHand
	case in.ToolHand != "":
		return in.ToolHand
	}
	tools := fouling.OnHand(in.Lathe.Tools)
	right := fouling.Arrangement{ToolHand: fouling.Right, PostTurn: in.PostTurn, PostTurned: in.PostTurned}
	rubs := r.grows() && (!fouling.Owns(tools, fouling.Right) || right.Short(tools, r.HalfAngle, true) != nil)
	if rubs && fouling.Owns(tools, fouling.Left) {
		return fouling.Left
	}
	return fouling.Right
}

// setBites parts a slope longer than the slide into equal bites.
func (r *Result) setBites() {
	switch {
	case r.SlideTravel == nil || r.Inputs.Lathe.Compound == nil:
		return
	case r.TravelAvailable == nil:
		r.NotChecked("lathe: compound: travel", "whether the slide is long enough was not checked")
		return
	}
	n := int(r.SlideTravel.Steps(*r.TravelAvailable, units.Up))
	r.Bites = &n
	if n < 2 {
		return
	}
	b, half := r.SlideTravel.MM()/float64(n), r.joined()
	r.Bite = new(units.FromFloat(b))
	along := b * half.Cos()
	if !r.byMark() { // along the side as drawn
		along = r.Length.MM() / float64(n)
	}
	r.CarriageMove = new(units.FromFloat(along))
	r.CrossSlideMove = new(units.FromFloat(along * half.Tan()))
	r.First = new(CarriageFirst)
	if (r.outward() > 0) != r.Inputs.Internal {
		r.First = new(CrossSlideFirst)
	}
	if n > maxBites {
		r.No(problem.New(problem.TravelShort, "length", r.Length, "takes ", n, " bites of the slide's ",
			r.TravelAvailable.Down(), ": at most ", maxBites))
	}
	r.setJoints()
	r.warnBites()
}

// joined is the half angle that the bites are put together at: that of a mark, where the swivel is kept
// at one, else the drawn one, which the swivel is proved and corrected to before the last pass. What
// an indicator is read to would add up from bite to bite.
func (r *Result) joined() units.Angle {
	if r.byMark() {
		return r.SetHalfAngle
	}
	return r.HalfAngle
}

// warnBites says that there are bites, and whether the tailstock would do it in
// one go.
//
// Set over by e at the most it cuts this half angle a on work up to e/sin a
// between the centres, and such work is at least as long as the taper.
func (r *Result) warnBites() {
	end := map[tapers.End]tapers.End{tapers.AtHeadstock: tapers.AtTailstock, tapers.AtTailstock: tapers.AtHeadstock}
	text := []any{
		say.Aside("the slope is longer than the slide: cut it in ", *r.Bites, " bites, from the ", end[r.FeedsToward],
			" end toward the ", r.FeedsToward),
	}
	if over := r.setOver(); over != nil && !r.Inputs.Internal {
		if most := units.FromFloat(over.MM() / r.HalfAngle.Sin()); r.Length.Cmp(most) <= 0 {
			text = append(text, say.Aside("; between centres, on work up to ", most.Down(), " long, the tailstock set over ",
				"cuts it in one"))
		}
	}
	r.Warn("bites", text...)
}

// setOver returns how far the tailstock can be set over for this taper.
func (r *Result) setOver() *units.Length {
	t := r.Inputs.Lathe.Tailstock
	switch {
	case t == nil:
		return nil
	case r.grows():
		return t.Away
	}
	return t.Toward
}

// setJoints finds moves that both slides can be set to. All that matters is that
// the tip goes on along the line it cut: with the carriage moved by z the cross
// slide moves by z·tan a, and a bite may begin a little inside the one before.
// So z is the one, of the carriage's lines and at most bite-overlap short of
// b·cos a, whose z·tan a lies nearest to lines of the cross slide, over all
// bites, counted from the first: on lines that leave metal, never below size. A
// carriage without a dial is moved by an indicator or against a stop, to carriage-step.
//
// Of two slides the one that backs away from the metal goes first: the cross
// slide, where an outside grows (or a bore shrinks) the way the carriage goes,
// else the carriage.
func (r *Result) setJoints() {
	n, half := *r.Bites, r.joined()
	if n > maxBites {
		return
	}
	exact, cross := *r.CarriageMove, r.Inputs.Lathe.CrossSlide
	longest := r.TravelAvailable.Minus(runs()) // the slide runs in and out too, where it has room to
	if longest.MM() < r.SlideTravel.MM()/float64(n) {
		longest = *r.TravelAvailable
	}
	shortest := units.Max(
		exact.Minus(practice.BiteOverlap.Length()),
		units.FromFloat(r.SlideTravel.Minus(longest).MM()*half.Cos()/float64(n-1)),
	)
	best, least := exact, math.Inf(1)
	step, off := r.carriageStep(), r.offLine(cross)
	for z := exact.RoundTo(step, units.Down); z.Sign() > 0 && z.Cmp(shortest) >= 0; z = z.Minus(step) {
		worst := 0.0
		for k := int64(1); k < int64(n); k++ {
			worst = max(worst, off(z.MM()*float64(k)*half.Tan()))
		}
		if worst < least-told {
			best, least = z, worst
		}
	}
	r.Bite = new(units.FromFloat(max(best.MM()/half.Cos(),
		r.SlideTravel.MM()-float64(n-1)*best.MM()/half.Cos())))
	r.joints(best, half.Tan())
}

const (
	maxBites = 50   // more are no way to cut a taper, and are not listed
	told     = 1e-6 // mm, the least that one joint is better than another by
)

// carriageStep is what the carriage is moved to: a line of its dial, or what an
// indicator or packing against a stop gives.
func (r *Result) carriageStep() units.Length {
	l := r.Inputs.Lathe
	switch {
	case l.Carriage != nil:
		return l.Carriage.Division()
	case l.CrossSlide != nil:
		return practice.CarriageStep.Length(l.CrossSlide.Unit)
	}
	return practice.CarriageStep.Length(units.MM)
}

// leavesOut reports whether metal is left where the cross slide stands farther out,
// toward the operator, from bite to bite: on an outside that it goes out along, in a bore
// that it goes in along.
func (r *Result) leavesOut() bool { return (r.outward() > 0) != r.Inputs.Internal }

// offLine returns how far the line of a dial that leaves metal is from a travel, in mm: 0 where
// there is no dial.
func (r *Result) offLine(d *shop.Dial) func(y float64) float64 {
	if d == nil {
		return func(float64) float64 { return 0 }
	}
	division, out := d.Division().MM(), r.leavesOut()
	return func(y float64) float64 {
		under := math.Mod(y+told, division) // beyond the line before
		if out && under > 2*told {
			return division - under
		}
		return under
	}
}

// crossed returns where the cross slide stands when the carriage has moved z: on the
// line of its dial that leaves metal, exactly where it has none.
func (r *Result) crossed(z units.Length, tan float64) units.Length {
	y, d := units.FromFloat(z.MM()*tan), r.Inputs.Lathe.CrossSlide
	switch {
	case d == nil:
		return y
	case r.leavesOut():
		s, _ := d.Past(y.Minus(units.FromFloat(told)))
		return s.Set
	}
	s, _ := d.Short(y.Plus(units.FromFloat(told)))
	return s.Set
}

// joints lists the bites after the first.
func (r *Result) joints(z units.Length, tan float64) {
	l := r.Inputs.Lathe
	outward := r.outward()
	var stands units.Length // of the cross slide, from the first bite
	for k := 1; k < *r.Bites; k++ {
		to := r.crossed(z.Times(int64(k)), tan)
		j := Joint{Bite: k + 1, Carriage: z, Cross: to.Minus(stands)}
		j.Step = units.FromFloat(2 * outward * (to.MM() - z.Times(int64(k)).MM()*tan))
		if l.Carriage != nil {
			_, turned := l.Carriage.Set(z)
			j.CarriageTurns, j.CarriageDivs = &turned.Turns, &turned.Divisions
		}
		if l.CrossSlide != nil {
			_, turned := l.CrossSlide.Set(j.Cross)
			j.CrossTurns, j.CrossDivs = &turned.Turns, &turned.Divisions
		}
		stands = to
		r.Joints = append(r.Joints, j)
	}
	r.CarriageSet, r.CrossSlideSet = &z, &r.Joints[0].Cross
}

// outward is 1 where the side rises the way the compound feeds, so that the cross
// slide moves out, toward the operator, from bite to bite; -1 where it moves in.
func (r *Result) outward() float64 {
	if r.grows() == (r.FeedsToward == tapers.AtTailstock) {
		return 1
	}
	return -1
}

// MovesBetween says what moves between two bites, in which order and which way: the
// carriage by so much and the cross slide by so much. There must be two.
func (r Result) MovesBetween(carriage, cross units.Length) say.Text {
	way := say.Text("in")
	if r.outward() > 0 {
		way = "out"
	}
	along := say.Of("the carriage ", carriage, " toward the ", r.FeedsToward)
	aside := say.Of("the cross slide ", cross, " ", way)
	if *r.First == CrossSlideFirst {
		along, aside = aside, along
	}
	return say.Of("first ", along, ", then ", aside)
}

// remarkMoves says which way the slides move between two bites, and which of them
// goes first.
func (r *Result) remarkMoves(s *sheet.Sheet) {
	if r.First == nil {
		return
	}
	carriage, cross := say.Text("first "), say.Text("then ")
	if *r.First == CrossSlideFirst {
		carriage, cross = cross, carriage
	}
	way := say.Text("in, away from you")
	if r.outward() > 0 {
		way = "out, toward you"
	}
	s.Remark(&r.CarriageMove, carriage, "toward the ", r.FeedsToward, ", after winding the slide back by one bite")
	s.Remark(&r.CrossSlideMove, cross, way)
	if c := r.Inputs.Lathe.CrossSlide; c != nil && c.OnDiameter {
		s.Remark(&r.CrossSlideMove, cross, way, "; ", r.CrossSlideMove.Times(2), " on a dial that reads the diameter")
	}
}
