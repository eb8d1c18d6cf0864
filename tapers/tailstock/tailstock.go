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
// Source: NAVEDTRA 14076 (lathe chapter) prints the rule; the exact form is
// plane trigonometry.
package tailstock

import (
	"fmt"
	"math"

	"setover/setup/cautions"
	"setover/setup/problem"
	"setover/setup/sheet"
	"setover/setup/shop"
	"setover/setup/units"
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
	if t.Length != nil && in.Between.Less(*t.Length) {
		return Result{}, problem.New(problem.Contradiction, "between", in.Between, fmt.Sprintf(
			"shorter than the taper, %v: give the whole length between the centres", t.Length))
	}
	r := Result{
		Inputs: in, Taper: t, Offset: Offset(t.HalfAngle, in.Between),
		Rule:      units.FromFloat(in.Between.MM() * t.HalfAngle.Tan()),
		PerLength: units.FromFloat(t.HalfAngle.Sin()), Direction: TowardOperator,
	}
	if in.SmallEnd == tapers.AtHeadstock {
		r.Direction = AwayFromOperator
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
	r.Possible = &ok
	if !ok {
		most := units.Radians(math.Asin(r.Available.MM() / r.Inputs.Between.MM()))
		r.fails.Add(problem.New(problem.TravelShort, "offset", r.Offset.Fixed(units.MM, 3, units.Nearest)+" mm", fmt.Sprintf(
			"the tailstock moves only %v that way: the steepest half angle at this length is %s, the longest work at this angle %s mm; use the compound",
			r.Available, most.DMS(false), units.FromFloat(r.Available.MM()/r.HalfAngle.Sin()).Fixed(units.MM, 1, units.Down))))
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
		{Key: "offset_rule_mm", Label: "by the shop's rule", Value: sheet.Len(r.Rule), Remark: r.Rule.Minus(r.Offset).Fixed(units.MM, 4, units.Nearest) + " mm more than exact"},
	}
	if r.Possible != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "offset_available_mm", Label: "the tailstock moves", Value: sheet.Len(*r.Available), Remark: "that way"},
			sheet.Fact{Key: "possible", Label: "possible", Value: sheet.YesNo(*r.Possible)})
	}
	s.Facts = append(s.Facts, sheet.Fact{
		Key: "per_mm_of_length_error_mm", Label: "a bar 1 mm longer", Value: sheet.Fine(r.PerLength),
		Remark: "more offset for the same taper: measure the length between the centre holes",
	})
	s.Facts = append(s.Facts, r.Taper.Facts()...)
	s.Working = append(r.Taper.Working(),
		sheet.Work("e", "L*sin(a)", r.Offset.MM(), "mm", sheet.Let("L", between), sheet.Let("a", a)),
		sheet.Work("rule", "L*tan(a)", r.Rule.MM(), "mm", sheet.Let("L", between), sheet.Let("a", a)))
	s.Notes = []string{
		"The length is that of the whole work between the contacts of its centre holes, not of the taper.",
		"Measure the offset with an indicator in the tool post on the tailstock's barrel.",
	}
	return s
}
