// Package sine sets an angle by a sine bar and gauge blocks.
//
// A sine bar of the length L between its rolls, one of them raised by H, lies
// at the angle whose sine is H/L. The same holds for a vice or a piece of work
// that stands on two edges L apart. Blocks are wrung together to H, as few as
// will do, since every joint and every block adds its error. The stack here has
// the fewest there are: the search keeps, for every height on the set's grid,
// the least number of blocks that makes it.
package sine

import (
	_ "embed"
	"math"
	"math/big"
	"slices"
	"strings"
	"sync"

	"github.com/shopspring/decimal"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// Input is an angle or a height on a sine bar, and the blocks to make it
// from: a named set, or single pieces, which come first. Wear blocks always
// stand in the stack, at its ends.
type Input struct {
	Angle  *units.Angle   `json:"angle_deg,omitempty"`
	Height *units.Length  `json:"height_mm,omitempty"`
	Bar    units.Length   `json:"bar_mm"`
	Set    string         `json:"set,omitempty"`
	Blocks []units.Length `json:"blocks_mm,omitempty"`
	Wear   []units.Length `json:"wear_blocks_mm,omitempty"`
}

// Result is the height, the stack and what the stack makes of the angle.
// The stack is nil where no blocks are known. Errors are set minus exact.
type Result struct {
	Inputs      Input         `json:"inputs"`
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

// Height returns how high one roll of a sine bar is raised: L·sin a. a is
// above 0 and below 90 deg, L above 0; good to 1e-9 mm.
func Height(a units.Angle, bar units.Length) units.Length {
	return units.FromFloat(bar.MM() * a.Sin())
}

// Angle returns the angle of a sine bar raised by h: asin(h/L), h from 0
// to L.
func Angle(h, bar units.Length) units.Angle {
	return units.Radians(math.Asin(min(h.Over(bar), 1)))
}

// Of returns the height for an angle or the angle for a height, and the
// stack of blocks that makes it. Exactly one of Angle and Height is given: an
// angle above 0 and below 90 deg, a height above 0 and below the bar's length.
func Of(in Input) (Result, error) {
	var bad check.List
	bad.Above0("bar", in.Bar)
	bad.ExactlyOne(check.If("angle", in.Angle), check.If("height", in.Height))
	bad.Inside("angle", in.Angle, units.Degrees(0), units.Degrees(90))
	if in.Bar.Sign() > 0 {
		bad.Inside("height", in.Height, units.Length{}, in.Bar, "the bar's length")
	}
	for _, w := range in.Wear {
		bad.Above0("wear-block", w)
	}
	pieces := in.Blocks
	if len(pieces) == 0 && in.Set != "" {
		var err error
		pieces, err = Pieces(in.Set)
		bad.Add(err)
	}
	if err := bad.Err(); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in}
	if in.Angle != nil {
		r.Angle, r.Height = *in.Angle, Height(*in.Angle, in.Bar)
	} else {
		r.Angle, r.Height = Angle(*in.Height, in.Bar), *in.Height
	}
	if err := r.stack(pieces); err != nil {
		return Result{}, err
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
func (r *Result) stack(pieces []units.Length) error {
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
		stack = slices.Insert(stack, i%2*len(stack), w)
	}
	off := sum.Minus(r.Height)
	r.Stack, r.StackHeight, r.StackError = stack, &sum, &off
	if off.Abs().Times(2).Cmp(grid) > 0 {
		r.No(problem.New(problem.NotReachable, "height", r.Height.Nearest(),
			"no stack of these blocks comes nearer than ", off.Abs()))
	}
	if sum.Less(r.Inputs.Bar) {
		set := Angle(sum, r.Inputs.Bar)
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
func (r Result) Sheet() sheet.Sheet {
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

//go:embed blocks.csv
var blocksCSV string

// Sets lists the named sets of gauge blocks.
func Sets() []string {
	return []string{"metric-47", "metric-88", "metric-103", "metric-112", "inch-36", "inch-81", "inch-83"}
}

// sets is the pieces of every set.
var sets = sync.OnceValue(func() map[string][]units.Length {
	pieces := map[string][]units.Length{}
	for _, row := range tables.Rows("blocks.csv", blocksCSV) {
		size := func(column string) units.Length { return units.MustLength(row[column] + row["unit"]) }
		to, step := size("to"), size("step")
		for l := size("from"); l.Cmp(to) <= 0; l = l.Plus(step) {
			pieces[row["set"]] = append(pieces[row["set"]], l)
		}
	}
	return pieces
})

// Pieces returns the pieces of a named set.
func Pieces(name string) ([]units.Length, error) {
	var bad check.List
	check.OneOf(&bad, "set", name, Sets())
	return slices.Clone(sets()[name]), bad.Err()
}

// maxCells bounds the search's table: blocks times heights on the grid.
const maxCells = 400_000_000

// Stack returns the blocks that together come nearest to height, and of those
// stacks one with the fewest blocks, small to large; grid is the finest step
// of the set, the largest length that divides every piece. Every piece is used
// once at most. With two stacks equally near the lower is taken.
//
// It fails when no pieces are given, when one is not above 0, and when the
// pieces have so fine a common step that the search would not end.
func Stack(pieces []units.Length, height units.Length) (stack []units.Length, grid units.Length, err error) {
	var bad check.List
	bad.Refuse(len(pieces) == 0, problem.Missing, "block", nil, "no gauge blocks to choose from")
	for _, p := range pieces {
		bad.Above0("block", p)
	}
	if err := bad.Err(); err != nil {
		return nil, grid, err
	}
	grid = commonStep(pieces)
	largest := pieces[0]
	for _, p := range pieces {
		largest = units.Max(largest, p)
	}
	// The nearest stack may stand above the height, by less than one block: it
	// would be below without any of its own.
	top := units.Min(total(pieces), units.Max(height, units.Length{}).Plus(largest)).Steps(grid, units.Up)
	if (top+1)*int64(len(pieces)) > maxCells {
		return nil, grid, problem.New(problem.TooLarge, "block", say.Of(len(pieces), " blocks in steps of ", grid.Typed()),
			"too fine a step to search: leave out odd sizes, or keep to inch or metric blocks")
	}
	return pick(pieces, grid, height, top), grid, nil
}

// none marks a height that no stack makes.
const none = 255

// pick searches the fewest blocks for every height up to top steps of the grid,
// taking the blocks in one after the other, and follows the nearest back.
func pick(pieces []units.Length, grid, height units.Length, top int64) []units.Length {
	fewest := make([]uint8, top+1)
	for i := range fewest {
		fewest[i] = none
	}
	fewest[0] = 0
	used := make([][]uint64, len(pieces)) // used[i] marks the heights that block i improved
	size := make([]int64, len(pieces))
	for i, p := range pieces {
		size[i] = p.Steps(grid, units.Nearest)
		used[i] = make([]uint64, top/64+1)
		for h := top; h >= size[i]; h-- {
			if n := fewest[h-size[i]]; n < none && n+1 < fewest[h] {
				fewest[h] = n + 1
				used[i][h/64] |= 1 << (h % 64)
			}
		}
	}
	at := nearest(fewest, grid, height)
	var stack []units.Length
	for i := len(pieces) - 1; i >= 0; i-- {
		if used[i][at/64]&(1<<(at%64)) != 0 {
			stack = append(stack, pieces[i])
			at -= size[i]
		}
	}
	slices.SortFunc(stack, units.Length.Cmp)
	return stack
}

// nearest returns the reachable height above 0 that is nearest.
func nearest(fewest []uint8, grid, height units.Length) int64 {
	best, off := int64(0), units.Length{}
	for h := int64(1); h < int64(len(fewest)); h++ {
		if fewest[h] == none {
			continue
		}
		if d := grid.Times(h).Minus(height).Abs(); best == 0 || d.Less(off) {
			best, off = h, d
		}
	}
	return best
}

// commonStep returns the largest length that divides every piece.
func commonStep(pieces []units.Length) units.Length {
	places := int32(0)
	for _, p := range pieces {
		places = max(places, -p.Decimal().Exponent())
	}
	g := new(big.Int)
	for _, p := range pieces {
		g.GCD(nil, nil, g, p.Decimal().Shift(places).BigInt())
	}
	return units.FromDecimal(decimal.NewFromBigInt(g, -places))
}

// Blocks are gauge blocks that stand together.
type Blocks []units.Length

// Words implements sheet.Value: the blocks as they are marked, in inches where
// all are whole ten thousandths of one and not all half micrometres, else in mm.
func (list Blocks) Words() (mm, inch string) {
	unit, whole, metric := units.MM, true, true
	for _, b := range list {
		whole = whole && b.RoundTo(units.MustLength("0.0001in"), units.Nearest).Equal(b)
		metric = metric && b.RoundTo(units.MustLength("0.0005mm"), units.Nearest).Equal(b)
	}
	if whole && !metric {
		unit = units.Inch
	}
	words := make([]string, len(list))
	for i, b := range list {
		words[i] = b.Wrung().Number(unit)
	}
	text := strings.Join(words, " + ") + " " + unit.String()
	return text, text
}
