package gauge

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// SineInput is an angle or a height on a sine bar, and the blocks to make it
// from: a named set, or single pieces, which come first. Wear blocks always
// stand in the stack, at its ends.
type SineInput struct {
	Angle  *units.Angle   `json:"angle_deg,omitempty"`
	Height *units.Length  `json:"height_mm,omitempty"`
	Bar    units.Length   `json:"bar_mm"`
	Set    string         `json:"set,omitempty"`
	Blocks []units.Length `json:"blocks_mm,omitempty"`
	Wear   []units.Length `json:"wear_blocks_mm,omitempty"`
}

// SineResult is the height, the stack and what the stack makes of the angle.
// The stack is nil where no blocks are known. Errors are set minus exact.
type SineResult struct {
	Inputs      SineInput      `json:"inputs"`
	Angle       units.Angle    `json:"angle_deg"`
	Height      units.Length   `json:"height_mm"`
	Stack       []units.Length `json:"stack_mm"`
	StackHeight *units.Length  `json:"stack_height_mm"`
	StackError  *units.Length  `json:"stack_error_mm"`
	AngleSet    *units.Angle   `json:"angle_set_deg"`
	AngleError  *units.Angle   `json:"angle_error_deg"`
	Resolution  *units.Length  `json:"resolution_mm"`
	sheet.Remarks

	fails problem.List
}

// SineHeight returns how high one roll of a sine bar is raised: L·sin a. a is
// above 0 and below 90 deg, L above 0; good to 1e-9 mm.
func SineHeight(a units.Angle, bar units.Length) units.Length {
	return units.FromFloat(bar.MM() * a.Sin())
}

// SineAngle returns the angle of a sine bar raised by h: asin(h/L), h from 0
// to L.
func SineAngle(h, bar units.Length) units.Angle {
	return units.Radians(math.Asin(min(h.Over(bar), 1)))
}

// Sine returns the height for an angle or the angle for a height, and the
// stack of blocks that makes it. Exactly one of Angle and Height is given: an
// angle above 0 and below 90 deg, a height above 0 and below the bar's length.
func Sine(in SineInput) (SineResult, error) {
	var bad problem.List
	if in.Bar.Sign() <= 0 {
		bad.Add(problem.New(problem.OutOfRange, "bar", in.Bar, "the distance between the rolls must be above 0"))
	}
	if (in.Angle == nil) == (in.Height == nil) {
		bad.Add(problem.New(problem.Missing, "angle", nil, "needs exactly one of --angle and --height"))
	}
	if in.Angle != nil && (in.Angle.Deg() <= 0 || in.Angle.Deg() >= 90) {
		bad.Add(problem.New(problem.OutOfRange, "angle", in.Angle, "must be above 0 and below 90 deg"))
	}
	if in.Height != nil && in.Bar.Sign() > 0 && (in.Height.Sign() <= 0 || in.Height.Cmp(in.Bar) >= 0) {
		bad.Add(problem.New(problem.OutOfRange, "height", in.Height, fmt.Sprintf("must be above 0 and below the bar's length, %v", in.Bar)))
	}
	for _, w := range in.Wear {
		positive(&bad, "wear-block", w)
	}
	pieces := in.Blocks
	if len(pieces) == 0 && in.Set != "" {
		var err error
		pieces, err = Set(in.Set)
		bad.Add(err)
	}
	if len(bad) > 0 {
		return SineResult{}, bad
	}
	r := SineResult{Inputs: in}
	if in.Angle != nil {
		r.Angle, r.Height = *in.Angle, SineHeight(*in.Angle, in.Bar)
	} else {
		r.Angle, r.Height = SineAngle(*in.Height, in.Bar), *in.Height
	}
	if err := r.stack(pieces); err != nil {
		return SineResult{}, err
	}
	if r.Angle.Deg() > 60 {
		r.Warnings.Add("steep", "above 60 deg a sine bar grows coarse: set its complement from a square face where the work allows")
	}
	r.Caution(cautions.Manual)
	return r, nil
}

func total(blocks []units.Length) units.Length {
	var sum units.Length
	for _, b := range blocks {
		sum = sum.Plus(b)
	}
	return sum
}

// stack finds the blocks and computes back what they make of the angle.
func (r *SineResult) stack(pieces []units.Length) error {
	if len(pieces) == 0 {
		r.Warnings.Add("not-checked", "no gauge blocks in this shop: the height is exact, no stack was looked for (gauge_blocks)")
		return nil
	}
	wear := total(r.Inputs.Wear)
	stack, grid, err := Stack(pieces, r.Height.Minus(wear))
	if err != nil {
		return err
	}
	if wear.Sign() > 0 && wear.Minus(r.Height).Abs().Cmp(total(stack).Plus(wear).Minus(r.Height).Abs()) <= 0 {
		stack = nil // the wear blocks alone come as near
	}
	r.Resolution = &grid
	sum := total(stack).Plus(wear)
	for i, w := range r.Inputs.Wear { // one at each end, turn about
		if i%2 == 0 {
			stack = append([]units.Length{w}, stack...)
		} else {
			stack = append(stack, w)
		}
	}
	off := sum.Minus(r.Height)
	r.Stack, r.StackHeight, r.StackError = stack, &sum, &off
	if off.Abs().Times(2).Cmp(grid) > 0 {
		r.fails.Add(problem.New(problem.NotReachable, "height", sheet.Inline(r.Height, units.Nearest), "no stack of these blocks comes nearer than "+sheet.Inline(off.Abs(), units.Nearest)))
	}
	if sum.Less(r.Inputs.Bar) {
		set := SineAngle(sum, r.Inputs.Bar)
		lost := units.Degrees(math.Round(set.Minus(r.Angle).Deg()*1e9) / 1e9) // no last bits
		r.AngleSet, r.AngleError = &set, &lost
	}
	return nil
}

// finely writes a height in both units, as finely as gauge blocks are marked.
func finely(l units.Length) string {
	return l.Fixed(units.MM, 5, units.Nearest) + " mm or " + l.Fixed(units.Inch, 6, units.Nearest) + " in"
}

// Fails implements sheet.Result.
func (r SineResult) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r SineResult) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Sine bar", Warnings: r.Warnings, Cautions: r.Cautions}
	s.Facts = []sheet.Fact{
		{Key: "height_mm", Label: "height", Value: sheet.Len(r.Height), Remark: "of the raised roll over the other; " + finely(r.Height)},
		{Key: "angle_deg", Label: "angle", Value: sheet.Ang(r.Angle)},
	}
	if r.StackHeight != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "stack_mm", Label: "wring", Value: sheet.Text(list(r.Stack)), Remark: fmt.Sprintf("%d blocks, the fewest there are", len(r.Stack))},
			sheet.Fact{Key: "stack_height_mm", Label: "which make", Value: sheet.Len(*r.StackHeight), Remark: finely(*r.StackHeight)},
			sheet.Fact{Key: "stack_error_mm", Label: "out by", Value: sheet.Fine(*r.StackError)})
	}
	if r.AngleError != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "angle_error_deg", Label: "and the angle by", Value: sheet.Number{V: r.AngleError.Deg(), Places: 5, Unit: "deg", Signed: true}})
	}
	bar := r.Inputs.Bar.MM()
	if r.Inputs.Angle != nil {
		s.Working = []sheet.Step{sheet.Work("H", "L*sin(a)", r.Height.MM(), "mm", sheet.Let("L", bar), sheet.Let("a", r.Angle.Deg()))}
	} else {
		s.Working = []sheet.Step{sheet.Work("a", "asin(H/L)", r.Angle.Deg(), "deg", sheet.Let("H", r.Height.MM()), sheet.Let("L", bar))}
	}
	s.Notes = []string{
		"A vice or a piece of work tilts the same way: the bar is then the distance between the two edges it stands on.",
		"A plug gauge laid on the bar is set to its included angle; its top then reads level.",
	}
	return s
}
