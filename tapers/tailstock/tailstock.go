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
// Source: NAVEDTRA 14076 (lathe chapter) prints the rule; the exact form is
// plane trigonometry.
package tailstock

import (
	"math"
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

// Input is a taper to be cut with the tailstock set over. Between is the
// length of the work between the contacts of its centre holes.
type Input struct {
	tapers.Input
	Between   units.Length    `json:"between_mm"`
	SmallEnd  tapers.End      `json:"small_end"`
	Tailstock *shop.Tailstock `json:"-"`

	// Ball and Hole are a ball centre's diameter and the mouth of the 60 deg
	// centre hole it sits in: with both, BallOut says where its middle stands.
	Ball *units.Length `json:"ball_mm,omitempty"`
	Hole *units.Length `json:"centre_hole_mm,omitempty"`
}

// Result is how far and which way the tailstock moves.
type Result struct {
	Inputs    Input         `json:"inputs"`
	Offset    units.Length  `json:"offset_mm" show:"set the tailstock over"`
	Direction string        `json:"direction" show:"direction"`
	Rule      units.Length  `json:"offset_rule_mm" show:"by the shop's rule"`
	Available *units.Length `json:"offset_available_mm" show:"the tailstock moves" as:"down" note:"that way"`
	Possible  *bool         `json:"possible" show:"possible"`

	// Longest is the longest work this taper can be cut on, Steepest the
	// steepest half angle at this length; nil where the setover is not known.
	Longest  *units.Length `json:"longest_mm" show:"longest work at this taper" as:"down" note:"between the centres"`
	Steepest *units.Angle  `json:"steepest_half_angle_deg" show:"steepest at this length" as:"minutes" note:"half angle"`
	// Indicator is what a dial on the carriage shows along a straight test bar
	// between the centres, over 100 mm of the carriage.
	Indicator units.Length `json:"indicator_per_100_mm" show:"on a test bar"`
	// BallOut is how far outside the face the middle of a ball centre stands.
	BallOut   *units.Length `json:"ball_out_mm" show:"a ball's middle stands"`
	PerLength units.Length  `json:"per_mm_of_length_error_mm" show:"offset for a longer bar" as:"fine"`
	tapers.Taper
	sheet.Remarks
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
	bad.Above0("between", in.Between)
	bad.Refuse(len(bad.List) == 0 && t.Length != nil && in.Between.Less(*t.Length), problem.Contradiction, "between",
		in.Between, "shorter than the taper, ", t.Length, ": give the whole length between the centres")
	bad.Above0("ball", in.Ball)
	if bad.Together(check.If("ball", in.Ball), check.If("centre-hole", in.Hole)) && in.Ball.Sign() > 0 {
		least := units.FromFloat(in.Ball.MM() * math.Sqrt(3) / 2)
		bad.Refuse(in.Hole.Cmp(least) <= 0, problem.OutOfRange, "centre-hole", in.Hole,
			"the ball of ", in.Ball, " rides on the mouth's edge: more than ", least.Up())
	}
	return bad.Err()
}

// Set returns the tailstock's offset for a taper. It fails where tapers.Solve
// does, when Between is not above 0 or shorter than the taper.
func Set(in Input) (Result, error) {
	t, err := tapers.Solve(in.Input)
	if err != nil {
		return Result{}, err
	}
	if err := in.check(t); err != nil {
		return Result{}, err
	}
	r := Result{
		Inputs: in, Taper: t, Offset: Offset(t.HalfAngle, in.Between),
		Rule:      units.FromFloat(in.Between.MM() * t.HalfAngle.Tan()),
		PerLength: units.FromFloat(t.HalfAngle.Sin()), Direction: TowardOperator,
		Indicator: units.FromFloat(practice.TestBarTravel.Length().MM() * t.HalfAngle.Tan()),
	}
	if in.SmallEnd == tapers.AtHeadstock {
		r.Direction = AwayFromOperator
	}
	if in.Ball != nil {
		r.BallOut = new(BallOut(*in.Ball, *in.Hole))
	}
	r.reach()
	r.Caution(cautions.BetweenDog, cautions.Rezero, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// reach compares the offset with what the tailstock can do that way.
func (r *Result) reach() {
	ts, key := r.Inputs.Tailstock, "toward"
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
	r.Steepest = new(units.Radians(math.Asin(min(r.Available.Over(r.Inputs.Between), 1))))
	r.Longest = new(units.FromFloat(r.Available.MM() / r.HalfAngle.Sin()))
	if !*r.Possible {
		r.No(problem.New(problem.TravelShort, "offset", r.Offset.Nearest(), "the tailstock moves only ", r.Available,
			" that way: the steepest half angle at this length is ", r.Steepest.DMS(false),
			", the longest work at this angle ", r.Longest.Down(), "; use the compound"))
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
	s := sheet.Of(&r, "Taper with the tailstock set over")
	way := "toward you"
	if r.Direction == AwayFromOperator {
		way = "away from you"
	}
	s.Remark(&r.Offset, way, ", the small end at the ", r.Inputs.SmallEnd)
	s.Remark(&r.Rule, offExact(r.Rule.Minus(r.Offset).Fine()))
	s.Remark(&r.Indicator, "a dial on the carriage shows over ", practice.TestBarTravel.Length(),
		" of its travel, the bar between the centres")
	s.Remark(&r.BallOut, "outside the face: add it at each end to the length over the faces")
	s.Remark(&r.PerLength, "for each ", units.Millimetres(1), ": measure the length between the centre holes")
	r.Explain(s)
	s.Figures()
	s.Step("e", "L*sin(a)", r.Offset, "L", r.Inputs.Between, "a", r.HalfAngle)
	s.Step("rule", "L*tan(a)", r.Rule, "L", r.Inputs.Between, "a", r.HalfAngle)
	s.Note("The length is that of the whole work between the contacts of its centre holes, not of the taper.")
	s.Note("Measure the offset with an indicator in the tool post on the tailstock's barrel.")
	s.Note("Plain centres bear on one side when set over: ",
		"use ball centres, and measure between the middles of the balls.")
	return *s
}
