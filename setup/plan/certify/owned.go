package certify

import (
	_ "embed"
	"maps"
	"slices"
	"strings"
	"sync"

	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

//go:embed collets.csv
var colletsCSV string

// colletSets are what the sets of collets hold that go by a name.
var colletSets = sync.OnceValue(func() map[string][2]work.Len {
	sets := map[string][2]work.Len{}
	for _, r := range tables.Rows("collets.csv", colletsCSV) {
		size := func(column string) work.Len { return op.LenOf(units.MustLength(r[column] + "mm")) }
		sets[r["name"]] = [2]work.Len{size("from_mm"), size("to_mm")}
	}
	return sets
})

// owns reports whether the shop has a device. Arbors, threaded stubs and split
// nuts are turned for the job and held in the chuck; a vice and a hand are
// always there, and a cradle is what the bench makes.
//
// Long: a case a device.
func (k *checker) owns(d op.Device) bool {
	lathe := k.Shop.Lathe
	switch d {
	case op.Chuck, op.Arbor, op.ThreadedStub, op.SplitNut:
		return k.chuck.there
	case op.FourJaw:
		return k.fourJaw.there
	case op.SoftJaws:
		return k.chuck.there && lathe.SoftJaws
	case op.Collet:
		return lathe != nil && (lathe.ColletName != "" || len(lathe.Collets) > 0)
	case op.ColletBlock:
		return len(k.Shop.ColletBlocks) > 0 && lathe != nil && (lathe.ColletName != "" || len(lathe.Collets) > 0)
	case op.Mandrel:
		return lathe != nil && len(lathe.Mandrels) > 0
	case op.Centres:
		return k.tailstock
	case op.VBlocks:
		return k.Shop.VBlocks != nil
	case op.DividingHead:
		return k.Shop.DividingHead != nil
	case op.RotaryTable:
		return k.Shop.RotaryTable != nil
	}
	return true
}

// mandrel reports whether one of the mandrels fits a bore: it may be larger by
// what a mandrel's own taper takes up, either way.
func (k *checker) mandrel(bore work.Len) bool {
	fit := op.LenOf(practice.MandrelFit.Length())
	for _, m := range k.Shop.Lathe.Mandrels {
		if off := bore - op.LenOf(m); -fit <= off && off <= fit {
			return true
		}
	}
	return false
}

// InCollet reports whether one of the lathe's collets is known to hold a diameter: no set
// is planned whose name is not in the table.
func (j *Job) InCollet(dia work.Len) bool {
	if j.Shop.Lathe == nil {
		return false
	}
	k := checker{Case: Case{Job: j, Op: &op.Op{}}}
	_, to, ok := k.collet(dia)
	return ok && to > 0
}

// ColletSet returns the smallest of the sets that go by a name which holds a diameter.
func ColletSet(dia work.Len) (name string, ok bool) {
	sets := colletSets()
	for _, n := range slices.Sorted(maps.Keys(sets)) {
		if s := sets[n]; s[0] <= dia && dia <= s[1] && (!ok || s[1] < sets[name][1]) {
			name, ok = n, true
		}
	}
	return name, ok
}

// collet reports whether a collet holds a diameter, and from what to what they
// hold: a named set all that it closes on, a list of sizes each its own and what
// it closes by. What a name that is not in the table holds is not known.
func (k *checker) collet(dia work.Len) (from, to work.Len, ok bool) {
	if set, known := colletSets()[strings.ToUpper(k.Shop.Lathe.ColletName)]; known {
		return set[0], set[1], set[0] <= dia && dia <= set[1]
	}
	if len(k.Shop.Lathe.Collets) == 0 {
		k.missing("lathe.collets")
		return 0, 0, true
	}
	closes := op.LenOf(practice.ColletCloses.Length())
	for i, c := range k.Shop.Lathe.Collets {
		size := op.LenOf(c)
		ok = ok || size-closes <= dia && dia <= size
		if i == 0 {
			from, to = size-closes, size
		}
		from, to = min(from, size-closes), max(to, size)
	}
	return from, to, ok
}
