package gauge

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
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
	Inputs      SineInput     `json:"inputs"`
	Height      units.Length  `json:"height_mm" show:"height"`
	Angle       units.Angle   `json:"angle_deg" show:"angle" as:"minutes"`
	Stack       Blocks        `json:"stack_mm" show:"wring"`
	StackHeight *units.Length `json:"stack_height_mm" show:"which make"`
	StackError  *units.Length `json:"stack_error_mm" show:"out by" as:"fine"`
	AngleSet    *units.Angle  `json:"angle_set_deg"`
	AngleError  *units.Angle  `json:"angle_error_deg" show:"and the angle by" as:"5 signed"`
	Resolution  *units.Length `json:"resolution_mm"`
	sheet.Remarks
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
	var bad check.List
	bad.Above0("bar", in.Bar)
	bad.ExactlyOne(check.If("angle", in.Angle), check.If("height", in.Height))
	bad.Inside("angle", in.Angle, units.Degrees(0), units.Degrees(90))
	if in.Bar.Sign() > 0 {
		bad.Inside("height", in.Height, units.Length{}, in.Bar)
	}
	for _, w := range in.Wear {
		bad.Above0("wear-block", w)
	}
	pieces := in.Blocks
	if len(pieces) == 0 && in.Set != "" {
		var err error
		pieces, err = Set(in.Set)
		bad.Add(err)
	}
	if err := bad.Err(); err != nil {
		return SineResult{}, err
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
		r.Warn("steep", "above 60 deg a sine bar grows coarse: ",
			"set its complement from a square face where the work allows")
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
		r.NotChecked("gauge_blocks", "no gauge blocks in this shop: the height is exact, no stack was looked for")
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
		r.No(problem.New(problem.NotReachable, "height", r.Height.Nearest(),
			"no stack of these blocks comes nearer than ", off.Abs()))
	}
	if sum.Less(r.Inputs.Bar) {
		set := SineAngle(sum, r.Inputs.Bar)
		lost := units.Degrees(math.Round(set.Minus(r.Angle).Deg()*1e9) / 1e9) // no last bits
		r.AngleSet, r.AngleError = &set, &lost
	}
	return nil
}

// finely words a height in both units, as finely as gauge blocks are marked.
func finely(l units.Length) say.Text {
	return say.Of(l.Wrung().Always(units.MM), " or ", l.Wrung().Always(units.Inch))
}

// Sheet implements sheet.Result.
func (r SineResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Sine bar")
	s.Remark(&r.Height, "of the raised roll over the other; ", finely(r.Height))
	s.Remark(&r.Stack, len(r.Stack), " blocks, the fewest there are")
	if r.StackHeight == nil {
		s.Skip(&r.Stack)
	} else {
		s.Remark(&r.StackHeight, finely(*r.StackHeight))
	}
	s.Figures()
	if r.Inputs.Angle != nil {
		s.Step("H", "L*sin(a)", r.Height, "L", r.Inputs.Bar, "a", r.Angle)
	} else {
		s.Step("a", "asin(H/L)", r.Angle, "H", r.Height, "L", r.Inputs.Bar)
	}
	s.Note("A vice or a piece of work tilts the same way: ",
		"the bar is then the distance between the two edges it stands on.")
	s.Note("A plug gauge laid on the bar is set to its included angle; its top then reads level.")
	return *s
}
