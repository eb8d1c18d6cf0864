package shop

import (
	_ "embed"
	"strings"
	"sync"

	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/practice"
)

//go:embed collets.csv
var colletsCSV string

// ColletSets are what the sets of collets hold that go by a name: rounds from the less
// to the more.
var ColletSets = sync.OnceValue(func() map[string][2]units.Length {
	sets := map[string][2]units.Length{}
	for _, r := range tables.Rows("collets.csv", colletsCSV) {
		sets[r["name"]] = [2]units.Length{units.MustLength(r["from_mm"] + "mm"), units.MustLength(r["to_mm"] + "mm")}
	}
	return sets
})

// Collets are a set that goes by a name, or a list of sizes.
type Collets struct {
	Name  string
	Sizes []units.Length
}

// ColletsOf returns the collets of a lathe.
func ColletsOf(l Lathe) Collets { return Collets{l.ColletName, l.Collets} }

// Takes reports whether a collet holds a round, and from what to what they hold: a
// named set all that it closes on, a list of sizes each its own and what it closes
// by. What a name that is not in the table holds is not known, nor where there are
// none.
func (c Collets) Takes(dia units.Length) (from, to units.Length, ok, known bool) {
	if set, is := ColletSets()[strings.ToUpper(c.Name)]; is {
		return set[0], set[1], set[0].Cmp(dia) <= 0 && dia.Cmp(set[1]) <= 0, true
	}
	closes := practice.ColletCloses.Length()
	for i, size := range c.Sizes {
		least := size.Minus(closes)
		ok = ok || least.Cmp(dia) <= 0 && dia.Cmp(size) <= 0
		if i == 0 {
			from, to = least, size
		}
		from, to = units.Min(from, least), units.Max(to, size)
	}
	return from, to, ok, len(c.Sizes) > 0
}
