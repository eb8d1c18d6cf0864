package tailstock

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// The ways a tailstock is moved.
const (
	TowardOperator   = "toward-operator"
	AwayFromOperator = "away-from-operator"
)

// indicated is how far the carriage goes along a test bar.
var indicated = units.Millimetres(100)

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
	Inputs Input `json:"inputs"`
	tapers.Taper
	Offset    units.Length  `json:"offset_mm"`
	Rule      units.Length  `json:"offset_rule_mm"`
	Direction string        `json:"direction"`
	Available *units.Length `json:"offset_available_mm"`
	Possible  *bool         `json:"possible"`
	PerLength units.Length  `json:"per_mm_of_length_error_mm"`

	// Longest is the longest work this taper can be cut on, Steepest the
	// steepest half angle at this length; nil where the setover is not known.
	Longest  *units.Length `json:"longest_mm"`
	Steepest *units.Angle  `json:"steepest_half_angle_deg"`
	// Indicator is what a dial on the carriage shows along a straight test bar
	// between the centres, over 100 mm of the carriage.
	Indicator units.Length `json:"indicator_per_100_mm"`
	// BallOut is how far outside the face the middle of a ball centre stands.
	BallOut *units.Length `json:"ball_out_mm"`
	sheet.Remarks

	fails problem.List
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

// checkBall returns the problems with a ball centre.
func (in Input) checkBall() error {
	if in.Ball == nil && in.Hole == nil {
		return nil
	}
	if in.Ball == nil || in.Hole == nil {
		return problem.New(problem.Missing, "ball", nil, "needs both --ball and --centre-hole")
	}
	if in.Ball.Sign() <= 0 {
		return problem.New(problem.OutOfRange, "ball", in.Ball, "must be above 0")
	}
	if least := in.Ball.MM() * math.Sqrt(3) / 2; in.Hole.MM() <= least {
		return problem.New(problem.OutOfRange, "centre-hole", in.Hole, fmt.Sprintf("the ball of %v rides on the mouth's edge: more than %s mm", in.Ball, units.FromFloat(least).Fixed(units.MM, 3, units.Up)))
	}
	return nil
}

// Set returns the tailstock's offset for a taper. It fails where tapers.Solve
// does, when Between is not above 0 or shorter than the taper.
func Set(in Input) (Result, error) {
	if err := in.SmallEnd.Check(); err != nil {
		return Result{}, err
	}
	t, err := tapers.Solve(in.Input)
	if err != nil {
		return Result{}, err
	}
	if in.Between.Sign() <= 0 {
		return Result{}, problem.New(problem.OutOfRange, "between", in.Between, "the length between the centres must be above 0")
	}
	if err := in.checkBall(); err != nil {
		return Result{}, err
	}
	if t.Length != nil && in.Between.Less(*t.Length) {
		return Result{}, problem.New(problem.Contradiction, "between", in.Between, fmt.Sprintf(
			"shorter than the taper, %v: give the whole length between the centres", t.Length))
	}
	r := Result{
		Inputs: in, Taper: t, Offset: Offset(t.HalfAngle, in.Between),
		Rule:      units.FromFloat(in.Between.MM() * t.HalfAngle.Tan()),
		PerLength: units.FromFloat(t.HalfAngle.Sin()), Direction: TowardOperator,
	}
	r.Indicator = units.FromFloat(indicated.MM() * t.HalfAngle.Tan())
	if in.SmallEnd == tapers.AtHeadstock {
		r.Direction = AwayFromOperator
	}
	if in.Ball != nil {
		out := BallOut(*in.Ball, *in.Hole)
		r.BallOut = &out
	}
	r.check()
	r.Caution(cautions.BetweenDog, cautions.Rezero, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// check compares the offset with what the tailstock can do that way.
func (r *Result) check() {
	key := "toward"
	if ts := r.Inputs.Tailstock; ts != nil {
		r.Available = ts.Toward
		if r.Direction == AwayFromOperator {
			r.Available, key = ts.Away, "away"
		}
	}
	if r.Available == nil {
		r.Warnings.Add("not-checked", "whether the tailstock moves that far was not checked (lathe: tailstock: setover: "+key+")")
		return
	}
	ok := r.Offset.Cmp(*r.Available) <= 0
	most := units.Radians(math.Asin(min(r.Available.Over(r.Inputs.Between), 1)))
	longest := units.FromFloat(r.Available.MM() / r.HalfAngle.Sin())
	r.Possible, r.Steepest, r.Longest = &ok, &most, &longest
	if !ok {
		r.fails.Add(problem.New(problem.TravelShort, "offset", sheet.Inline(r.Offset, units.Nearest), fmt.Sprintf(
			"the tailstock moves only %s that way: the steepest half angle at this length is %s, the longest work at this angle %s; use the compound",
			sheet.Inline(*r.Available, units.Nearest), most.DMS(false), sheet.Inline(longest, units.Down))))
	}
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Taper with the tailstock set over", Warnings: r.Warnings, Cautions: r.Cautions}
	way := "toward you"
	if r.Direction == AwayFromOperator {
		way = "away from you"
	}
	a, between := r.HalfAngle.Deg(), r.Inputs.Between.MM()
	s.Facts = []sheet.Fact{
		{Key: "offset_mm", Label: "set the tailstock over", Value: sheet.Len(r.Offset), Remark: way + ", the small end at the " + string(r.Inputs.SmallEnd)},
		{Key: "direction", Label: "direction", Value: sheet.Text(r.Direction)},
		{Key: "offset_rule_mm", Label: "by the shop's rule", Value: sheet.Len(r.Rule), Remark: sheet.Inline(r.Rule.Minus(r.Offset), units.Up) + " more than exact"},
	}
	if r.Possible != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "offset_available_mm", Label: "the tailstock moves", Value: sheet.Len(*r.Available), Remark: "that way"},
			sheet.Fact{Key: "possible", Label: "possible", Value: sheet.YesNo(*r.Possible)},
			sheet.Fact{Key: "longest_mm", Label: "longest work at this taper", Value: sheet.Down(*r.Longest), Remark: "between the centres"},
			sheet.Fact{Key: "steepest_half_angle_deg", Label: "steepest at this length", Value: sheet.Ang(*r.Steepest), Remark: "half angle"})
	}
	s.Facts = append(s.Facts, sheet.Fact{
		Key: "indicator_per_100_mm", Label: "on a test bar", Value: sheet.Len(r.Indicator),
		Remark: "a dial on the carriage shows over " + sheet.Inline(indicated, units.Nearest) + " of its travel, the bar between the centres",
	})
	if r.BallOut != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "ball_out_mm", Label: "a ball's middle stands", Value: sheet.Len(*r.BallOut), Remark: "outside the face: add it at each end to the length over the faces"})
	}
	s.Facts = append(s.Facts, sheet.Fact{
		Key: "per_mm_of_length_error_mm", Label: "a bar " + sheet.Inline(units.Millimetres(1), units.Nearest) + " longer", Value: sheet.Fine(r.PerLength),
		Remark: "more offset for the same taper: measure the length between the centre holes",
	})
	s.Facts = append(s.Facts, r.Taper.Facts()...)
	s.Working = append(r.Taper.Working(),
		sheet.Work("e", "L*sin(a)", r.Offset.MM(), "mm", sheet.Let("L", between), sheet.Let("a", a)),
		sheet.Work("rule", "L*tan(a)", r.Rule.MM(), "mm", sheet.Let("L", between), sheet.Let("a", a)))
	s.Notes = []string{
		"The length is that of the whole work between the contacts of its centre holes, not of the taper.",
		"Measure the offset with an indicator in the tool post on the tailstock's barrel.",
		"Plain centres bear on one side when set over: use ball centres, and measure between the middles of the balls.",
	}
	return s
}
