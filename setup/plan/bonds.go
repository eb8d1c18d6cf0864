package plan

import (
	"slices"

	"setover/setup/plan/certify"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// maxBonds is how many bonds an order may have beyond the rules.
const maxBonds = 4

// bond is an operation that comes before another, by their ids: in another way to make
// the part they may be at other places, and where one of them is not the bond is none.
type bond struct{ first, second string }

// bonds are what is bound in an order beyond the rules, because a step could not be
// done where the cheapest order had it. It is a value, so that two can be compared.
type bonds struct {
	list [maxBonds]bond
	n    int
}

// tie binds the operations of an attempt.
func (b bonds) tie(d *attempt) {
	place := func(id string) int {
		return slices.IndexFunc(d.ops, func(o *op.Op) bool { return o.ID == id })
	}
	for _, x := range b.list[:b.n] {
		if i, k := place(x.first), place(x.second); i >= 0 && k >= 0 {
			d.job.Before[k] |= 1 << i
		}
	}
}

// with returns the bonds and one more.
func (b bonds) with(first, second *op.Op) bonds {
	b.list[b.n] = bond{first.ID, second.ID}
	b.n++
	return b
}

// more returns the bonds with one more each that lets the first step be done that could
// not be: it comes before one that is done by then, or after one that is not.
//
// A step that fails on the work as it stands fails because of what is done by then or of
// what is not; so in every order in which it can be done one of these bonds holds, and
// going through them all misses none.
func (b bonds) more(d *attempt) []bonds {
	if b.n == maxBonds {
		return nil
	}
	k := -1
	for n, i := range d.sequence {
		if failed(d.ops[i]) {
			k = n
			break
		}
	}
	if k < 0 {
		return nil
	}
	var list []bonds
	o, before := d.sequence[k], d.closure()
	for n, x := range d.sequence {
		switch {
		case n < k && before[o]&(1<<x) == 0 && d.passesWithout(k, x, before):
			list = append(list, b.with(d.ops[o], d.ops[x]))
		case n > k && before[x]&(1<<o) == 0 && d.passesAfter(k, n, before):
			list = append(list, b.with(d.ops[x], d.ops[o]))
		}
	}
	return list
}

// closure returns what must come before each operation, directly or not.
func (d *attempt) closure() []uint64 {
	before := make([]uint64, len(d.ops))
	for _, i := range d.sequence { // an order: what comes before is there already
		before[i] = d.job.Before[i]
		for j := range d.ops {
			if d.job.Before[i]&(1<<j) != 0 {
				before[i] |= before[j]
			}
		}
	}
	return before
}

// passesWithout reports whether the step at place k would pass were operation x, and
// what must follow it, not done by then.
func (d *attempt) passesWithout(k, x int, before []uint64) bool {
	as := d.start()
	for _, i := range d.sequence[:k] {
		if i != x && before[i]&(1<<x) == 0 {
			as = as.After(d.ops[i].Removes...)
		}
	}
	return d.certified(d.ops[d.sequence[k]], as)
}

// passesAfter reports whether the step at place k would pass were that at place n, with
// what must come before it, done by then.
func (d *attempt) passesAfter(k, n int, before []uint64) bool {
	as, x := d.states[k], d.sequence[n]
	for _, i := range d.sequence[k+1 : n+1] {
		if i == x || before[x]&(1<<i) != 0 {
			as = as.After(d.ops[i].Removes...)
		}
	}
	return d.certified(d.ops[d.sequence[k]], as)
}

// certified reports whether an operation could be done to the work as it stands, as it
// was set before.
func (d *attempt) certified(o *op.Op, as work.State) bool {
	c := certify.Case{Job: d.certifies, Op: o, Before: as, After: as.After(o.Removes...)}
	for _, x := range c.Check().Checks {
		if !x.OK {
			return false
		}
	}
	return true
}
