package certify

import (
	"maps"
	"slices"
	"sync"

	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// colletSets are what the sets of collets hold that go by a name.
var colletSets = sync.OnceValue(func() map[string][2]work.Len {
	sets := map[string][2]work.Len{}
	for name, s := range shop.ColletSets() {
		sets[name] = [2]work.Len{op.LenOf(s[0]), op.LenOf(s[1])}
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

// collet reports whether a collet holds a diameter, and from what to what they hold.
// What is not known is missing.
func (k *checker) collet(dia work.Len) (from, to work.Len, ok bool) {
	least, most, ok, known := shop.ColletsOf(*k.Shop.Lathe).Takes(dia.Length())
	if !known {
		k.missing("lathe.collets")
		return 0, 0, true
	}
	return op.LenOf(least), op.LenOf(most), ok
}
