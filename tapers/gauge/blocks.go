package gauge

import (
	_ "embed"
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
)

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

// Set returns the pieces of a named set.
func Set(name string) ([]units.Length, error) {
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
	if len(pieces) == 0 {
		return nil, grid, problem.New(problem.Missing, "block", nil, "no gauge blocks to choose from")
	}
	var bad check.List
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
		return nil, grid, problem.New(problem.TooLarge, "block",
			say.Of(len(pieces), " blocks in steps of ", grid.Typed()),
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
		text := say.Of(b.Wrung().Always(unit)).In(unit)
		words[i] = strings.TrimSuffix(text, " "+unit.String())
	}
	text := strings.Join(words, " + ") + " " + unit.String()
	return text, text
}
