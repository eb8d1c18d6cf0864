// Package tailstock cuts a taper between centres with the tailstock set over.
//
// The work turns about the line between the two centres. Moving the tailstock
// sideways by e swings that line through an angle whose sine is e/L, with L
// the distance between the centre points, while the tool still travels along
// the bed. So
//
//	e = L·sin a
//
// The shop's rule L·(D - d)/(2·l) takes the tangent for the sine. It is a
// little long; the sheet gives both and the difference.
//
// An error in L is an error in e: a bar longer by 1 mm needs sin a more. A
// tailstock that moves e at most cuts half angles up to asin(e/L), or this
// taper on work up to e/sin a long.
//
// A plain centre bears on one side of its hole when the tailstock is over.
// Ball centres do not, and L is then measured between the middles of the
// balls.
//
// What is set is e: by a rule at the marks on its base, with the cross slide's
// dial and a strip of paper against the barrel, or by an indicator on the barrel.
// Or the angle itself is set: an indicator on the carriage that goes T along a
// straight bar of the length B between the same centres shows
//
//	T·tan b,  sin b = e/B
//
// which is T·tan a for the work itself, turned parallel, and for a bar that is
// just as long, and for no other: the same offset swings a longer bar less.
//
// Source: NAVEDTRA 14076 (lathe chapter) prints the rule; the exact form is
// plane trigonometry.
package tailstock

import (
	"math"
	"slices"
	"strings"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// The ways a tailstock is moved.
const (
	TowardOperator   = "toward-operator"
	AwayFromOperator = "away-from-operator"
)

// Input is a taper to be cut with the tailstock set over. Between is the length of
// the work between the contacts of its centre holes; nil where ball centres are
// used and Faces says what it measures over its faces. Within is the most that the
// difference of the diameters may be out over the length, nil for what is usual.
type Input struct {
	tapers.Input
	Between  *units.Length `json:"between_mm,omitempty"`
	Faces    *units.Length `json:"faces_mm,omitempty"`
	SmallEnd tapers.End    `json:"small_end"`
	Within   *units.Length `json:"within_mm,omitempty"`
	// TestBar is the length of the bar that is put between the centres to set the
	// angle by; nil: the work itself, or a bar just as long.
	TestBar *units.Length `json:"test_bar_mm,omitempty"`

	// Ball and Hole are a ball centre's diameter and the mouth of the 60 deg
	// centre hole it sits in: with both, BallOut says where its middle stands.
	Ball *units.Length `json:"ball_mm,omitempty"`
	Hole *units.Length `json:"centre_hole_mm,omitempty"`

	Lathe shop.Lathe `json:"-"`
	Unit  units.Unit `json:"-"` // the indicator is in
}

// Result is how far and which way the tailstock moves, and how it is set there.
// SetHalfAngle is what the offset that is set swings the work to; Settings are all
// the ways to set it, the least trouble first, and Method the one
// of the steps.
type Result struct {
	Inputs       Input         `json:"inputs"`
	Offset       units.Length  `json:"offset_mm" show:"set the tailstock over"`
	Direction    string        `json:"direction"`
	Method       Method        `json:"method" show:"set it by"`
	OffsetSet    units.Length  `json:"offset_set_mm"`
	SetHalfAngle units.Angle   `json:"half_angle_set_deg"`
	DiameterOff  units.Length  `json:"diameter_off_mm" show:"which may leave" as:"up"`
	Within       units.Length  `json:"within_mm"`
	Available    *units.Length `json:"offset_available_mm" show:"the tailstock moves" as:"down" note:"that way"`
	Possible     *bool         `json:"possible"`

	// Longest is the longest work this taper can be cut on, which the lathe takes
	// between its centres where it says so; Steepest the steepest half angle at
	// this length; nil where the setover is not known.
	Longest  *units.Length `json:"longest_mm" show:"longest work at this taper" as:"down" note:"between the centres"`
	Steepest *units.Angle  `json:"steepest_half_angle_deg" show:"steepest at this length" as:"minutes" note:"half angle"`
	Between  units.Length  `json:"between_mm" show:"between the centres"`
	Rule     units.Length  `json:"offset_rule_mm" show:"by the shop's rule"`
	// Turns and Divisions are the cross slide's for the offset, DialOffset what
	// they move; nil without a dial.
	Turns      *int64        `json:"cross_slide_turns"`
	Divisions  *int64        `json:"cross_slide_divisions"`
	DialOffset *units.Length `json:"cross_slide_offset_mm"`
	// Infeed is how far the cross slide goes in from where the tool touches work that
	// is turned to the large end's diameter, InfeedTurns and InfeedDivisions the last
	// line of its dial that is not past it, and Left what that leaves on the diameter;
	// nil where the sizes are not known, and without a dial.
	Infeed          *units.Length `json:"infeed_mm"`
	InfeedTurns     *int64        `json:"infeed_turns"`
	InfeedDivisions *int64        `json:"infeed_divisions"`
	Left            *units.Length `json:"left_mm"`
	// Reading is what an indicator on the carriage shows along the bar over
	// Travel, Indicator over 100 mm.
	Travel    units.Length `json:"indicator_travel_mm"`
	Reading   units.Length `json:"indicator_reading_mm"`
	Indicator units.Length `json:"indicator_per_100_mm"`
	// BallOut is how far outside the face the middle of a ball centre stands.
	BallOut   *units.Length `json:"ball_out_mm" show:"a ball's middle stands"`
	PerLength units.Length  `json:"per_mm_of_length_error_mm"`
	Settings  []Setting     `json:"settings"`
	tapers.Taper
	sheet.Remarks

	long                    units.Length // of the bar that is indicated
	onBar                   units.Angle  // it is swung to
	inchTravel              units.Length // along it on a page in inches
	saysTravel, saysReading say.Text     // on either page
}

// Offset returns how far the tailstock is set over for a half angle a and the
// length L between the centre points:
//
//	e = L·sin a
//
// a is above 0 and below 90 deg, L above 0; good to 1e-9 mm.
func Offset(half units.Angle, between units.Length) units.Length {
	return units.FromFloat(between.MM() * half.Sin())
}

// BallOut returns how far outside the face of the work the middle of a ball of
// the diameter b stands that sits in a 60 deg centre hole with a mouth of m:
//
//	b - m·√3/2
//
// since the ball's middle is b from the hole's apex and the apex m·√3/2 deep.
// The ball must touch inside the mouth: m is more than b·√3/2. A negative
// result is inside the work.
func BallOut(ball, mouth units.Length) units.Length {
	return units.FromFloat(ball.MM() - mouth.MM()*math.Sqrt(3)/2)
}

// check returns the problems with what the taper itself is not.
func (in Input) check(t tapers.Taper) error {
	var bad check.List
	check.OneOf(&bad, "small-end", in.SmallEnd, tapers.Ends)
	bad.Refuse(in.Between == nil && in.Faces == nil, problem.Missing, "between", nil,
		"is needed: the whole length between the centre-hole contacts, or ", say.Key("faces"), " with ball centres")
	bad.AtMostOne(check.If("between", in.Between), check.If("faces", in.Faces))
	bad.Above0("between", in.Between, "faces", in.Faces, "within", in.Within, "test-bar", in.TestBar)
	for _, long := range []struct {
		key  string
		is   *units.Length
		want say.Text
	}{
		{"between", in.Between, ": give the whole length between the centres"},
		{"faces", in.Faces, ": give the whole length over the faces"},
	} {
		bad.Refuse(len(bad.List) == 0 && t.Length != nil && long.is != nil && long.is.Less(*t.Length), problem.Contradiction,
			long.key, long.is, "shorter than the taper, ", t.Length, long.want)
	}
	bad.Above0("ball", in.Ball)
	bad.Refuse(in.Faces != nil && in.Ball == nil, problem.Missing, "ball", nil, "is needed with ", say.Key("faces"),
		": the diameter of the ball centres")
	if bad.Together(check.If("ball", in.Ball), check.If("centre-hole", in.Hole)) && in.Ball.Sign() > 0 {
		least := units.FromFloat(in.Ball.MM() * math.Sqrt(3) / 2)
		bad.Refuse(in.Hole.Cmp(least) <= 0, problem.OutOfRange, "centre-hole", in.Hole,
			"the ball of ", in.Ball, " rides on the mouth's edge: more than ", least.Up())
	}
	return bad.Err()
}

// Set returns the tailstock's offset for a taper, and how it is set. It fails
// where tapers.Solve does, and when the length between the centres is not known,
// not above 0 or shorter than the taper. The answer is no where the tailstock does
// not move that far, where the centres would not bear, and where the lathe does not
// take the work.
func Set(in Input) (Result, error) {
	t, err := tapers.Solve(in.Input)
	if err != nil {
		return Result{}, err
	}
	if err := in.check(t); err != nil {
		return Result{}, err
	}
	r := Result{
		Inputs: in, Taper: t, PerLength: units.FromFloat(t.HalfAngle.Sin()), Direction: TowardOperator,
		Settings: []Setting{}, Within: in.Input.Within(in.Within, in.Unit),
	}
	if in.SmallEnd == tapers.AtHeadstock {
		r.Direction = AwayFromOperator
	}
	if in.Ball != nil {
		r.BallOut = new(BallOut(*in.Ball, *in.Hole))
	}
	if in.Between != nil {
		r.Between = *in.Between
	} else {
		r.Between = in.Faces.Plus(r.BallOut.Times(2))
	}
	r.Offset = Offset(t.HalfAngle, r.Between)
	r.Rule = units.FromFloat(r.Between.MM() * t.HalfAngle.Tan())
	if b := in.TestBar; b != nil && b.Cmp(r.Offset) <= 0 {
		return Result{}, problem.New(problem.OutOfRange, "test-bar", b, "must be longer than the offset, ", r.Offset)
	}
	r.bears()
	r.reach()
	r.takes()
	if dog := practice.DogWidth.Length(); t.Length != nil && r.Between.Minus(*t.Length).Less(dog) {
		r.Warn("dog", "the dog wants ", dog, " of the work beside the taper, and ", r.Between.Minus(*t.Length).Down(),
			" are there: leave the work longer")
	}
	r.bar()
	r.infeed()
	r.settle()
	r.Caution(cautions.BetweenDog, say.Aside(cautions.Rezero), cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// Steep reports whether the half angle is more than work is set over to: the centres lie in their
// holes by an edge, and no tailstock goes so far.
func (r Result) Steep() bool { return practice.SetOverMost.Angle().Deg() < r.HalfAngle.Deg() }

// bears asks whether the centres bear in their holes.
func (r *Result) bears() {
	if r.Steep() {
		r.No(problem.New(problem.NotReachable, "half-angle", r.HalfAngle.DMS(false), "even ball centres bear badly in work ",
			"that is set over for more than ", say.Num(practice.SetOverMost.Angle().Deg(), 2), " deg: use the compound"))
	}
}

// reach compares the offset with what the tailstock can do that way.
func (r *Result) reach() {
	ts, key := r.Inputs.Lathe.Tailstock, "toward"
	if ts == nil {
		ts = &shop.Tailstock{}
	}
	r.Available = ts.Toward
	if r.Direction == AwayFromOperator {
		r.Available, key = ts.Away, "away"
	}
	if r.Available == nil {
		r.NotChecked("lathe: tailstock: setover: "+key, "whether the tailstock moves that far was not checked")
		return
	}
	r.Possible = new(r.Offset.Cmp(*r.Available) <= 0)
	r.Steepest = new(units.Radians(math.Asin(min(r.Available.Over(r.Between), 1))))
	r.Longest = new(units.FromFloat(r.Available.MM() / r.HalfAngle.Sin()))
	if most := r.Inputs.Lathe.BetweenCentres; most != nil && most.Less(*r.Longest) {
		r.Longest = most
	}
	if !*r.Possible && !r.Steep() {
		r.No(problem.New(problem.TravelShort, "offset", r.Offset.Nearest(), "the tailstock moves only ", r.Available,
			" that way: the steepest half angle at this length is ", r.Steepest.DMS(false),
			", the longest work at this angle ", r.Longest.Down(), "; use the compound"))
	}
}

// takes asks whether the lathe takes the work between its centres: its length, and
// the large end, which turns over the cross slide.
func (r *Result) takes() {
	l := r.Inputs.Lathe
	switch most := l.BetweenCentres; {
	case most == nil:
		r.NotChecked("lathe: between_centres", "whether the work goes between the centres was not checked")
	case most.Less(r.Between):
		r.No(problem.New(problem.TravelShort, "between", r.Between, "this lathe takes ", most.Down(), " between its centres"))
	}
	switch most := l.SwingOverSlide; {
	case r.Large == nil:
	case most == nil:
		r.NotChecked("lathe: swing_over_slide", "whether the work turns clear of the cross slide was not checked")
	case most.Less(*r.Large):
		r.No(problem.New(problem.TravelShort, "large", r.Large, "only ", most.Down(), " turns over the cross slide"))
	}
}

// offExact words how far a figure is off, where that shows.
func offExact(off units.Rounded) say.Text {
	word := func(u units.Unit) string {
		if strings.Trim(off.Digits(u), "0.") == "" {
			return "the same to this digit"
		}
		return say.Of(off, " off exact").In(u)
	}
	return say.Either(word(units.MM), word(units.Inch))
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper with the tailstock set over", say.Shorter("", say.Of(" ", r.Offset, " ", r.Way())))
	s.Brief = true
	s.Remark(&r.Offset, r.Way(), ", the small end at the ", r.Inputs.SmallEnd)
	s.Remark(&r.Method, "the least trouble that keeps ", r.Within.Wrung())
	if r.Within.Less(r.DiameterOff) {
		s.Remark(&r.Method, "which may leave the least")
	}
	over := say.Text("")
	if r.Length == nil {
		over = say.Of(" over ", r.over())
	}
	s.Remark(&r.DiameterOff, "at the most, on ", say.Shorter("the difference of the diameters", "the diameter"), over)
	s.Remark(&r.Rule, offExact(r.Rule.Minus(r.Offset).Fine()))
	s.Remark(&r.BallOut, "outside the face, at each end")
	if r.Inputs.Faces == nil {
		s.Skip(&r.Between)
		s.Remark(&r.BallOut, "outside the face, at each end: give the length over the faces with ", say.Key("faces"))
	}
	s.Remark(&r.Between, "over the faces, and twice what a ball's middle stands out")
	if !slices.ContainsFunc(r.Fails(), func(p problem.Problem) bool { return p.At.Key != "within" }) {
		r.procedure(s) // which is for what can be cut, if not as near as was asked
		s.Behind(&r.Offset)
	}
	if r.Possible != nil { // where it is not, the answer says all three
		s.Behind(&r.Available, &r.Longest, &r.Steepest)
	}
	s.Behind(&r.DiameterOff, &r.Method, &r.HalfAngle, &r.Rule, &r.Included, &r.Ratio, &r.Percent, &r.PerFoot,
		&r.Large, &r.Small, &r.Length, &r.SlopeLength)
	s.Figures()
	s.Step("e", "L*sin(a)", r.Offset, "L", r.Between, "a", r.HalfAngle)
	s.Step("rule", "L*tan(a)", r.Rule, "L", r.Between, "a", r.HalfAngle)
	s.Step("indicator", "T*tan(b)", r.Reading, "T", r.Travel, "b", r.onBar)
	s.Aside("A bar longer by ", onPage(units.Millimetres(1), units.MustLength("1/16in")), " wants ",
		fineOnPage(r.PerLength, units.FromFloat(r.PerLength.MM()*units.MustLength("1/16in").MM())),
		" more: measure between the contacts of the centre holes.")
	s.Aside("Plain centres bear on one side when set over: ",
		"use ball centres, and measure between the middles of the balls.")
	return *s
}
