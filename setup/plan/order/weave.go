package order

import (
	"container/heap"
	"slices"
)

// Need is that something on a machine must be set so. A slot is what can be set by
// itself (what holds the work, the compound, the gears); a setting belongs to one slot.
// Both are numbers of the caller's from 0.
type Need struct{ Slot, Set int }

// Up is a set-up of a part: what it needs. It is set up anew where a slot is set
// otherwise, and Always where the work itself is turned over.
type Up struct {
	Needs  []Need
	Always bool
}

// Visit is a stay of a part on a machine, from when it is put in to when it is taken
// out: its set-ups. Nothing comes between them. Machines are numbers of the caller's.
type Visit struct {
	Machine int
	Ups     []Up
}

// Place is the nth visit of a chain, both from 0.
type Place struct{ Chain, N int }

// Weave is the visits of several parts. Each part's chain keeps its own order. Before
// holds pairs: the first comes before the second. Minutes is what each setting costs
// that is set anew. Stands is what is set at the beginning.
type Weave struct {
	Chains  [][]Visit
	Before  [][2]Place
	Minutes []int
	Stands  []Need
}

// none is the setting of a slot that nothing was set on, and the chain before the
// first.
const none = -1

// Woven is what an order of all visits costs, most important first: how often
// something is set up, the minutes of it, and how often the work goes on with another
// part.
type Woven struct{ Setups, Minutes, Changes int }

// Less compares two costs, most important first.
func (c Woven) Less(d Woven) bool {
	if c.Setups != d.Setups {
		return c.Setups < d.Setups
	}
	if c.Minutes != d.Minutes {
		return c.Minutes < d.Minutes
	}
	return c.Changes < d.Changes
}

func (c Woven) plus(d Woven) Woven {
	return Woven{c.Setups + d.Setups, c.Minutes + d.Minutes, c.Changes + d.Changes}
}

// Stand is how far every chain has come, how every slot is set, and the chain that was
// gone on with last.
type Stand struct {
	done, set []int
	last      int
}

// Begin returns where nothing is done.
func (w Weave) Begin() Stand {
	s := Stand{make([]int, len(w.Chains)), nil, none}
	known := func(n Need) {
		for len(s.set) <= n.Slot {
			s.set = append(s.set, none)
		}
	}
	for _, chain := range w.Chains {
		for _, v := range chain {
			for _, u := range v.Ups {
				for _, n := range u.Needs {
					known(n)
				}
			}
		}
	}
	for _, n := range w.Stands {
		known(n)
		s.set[n.Slot] = n.Set
	}
	return s
}

// Next goes on with a chain by its next visit. anew says of each of its set-ups whether
// something is set up for it. ok is false where the chain is at its end, or waits for
// another.
func (w Weave) Next(s Stand, chain int) (to Stand, cost Woven, anew []bool, ok bool) {
	n := s.done[chain]
	if n == len(w.Chains[chain]) {
		return Stand{}, Woven{}, nil, false
	}
	for _, b := range w.Before {
		if b[1] == (Place{chain, n}) && s.done[b[0].Chain] <= b[0].N {
			return Stand{}, Woven{}, nil, false
		}
	}
	to = Stand{slices.Clone(s.done), slices.Clone(s.set), chain}
	to.done[chain]++
	if s.last != none && s.last != chain {
		cost.Changes = 1
	}
	for _, u := range w.Chains[chain][n].Ups {
		fresh := u.Always
		for _, x := range u.Needs {
			if to.set[x.Slot] != x.Set {
				fresh = true
				cost.Minutes += w.Minutes[x.Set]
				to.set[x.Slot] = x.Set
			}
		}
		if fresh {
			cost.Setups++
		}
		anew = append(anew, fresh)
	}
	return to, cost, anew, true
}

// CostOf returns what an order of chains costs: each is gone on with by its next
// visit. ok is false where one comes before what it waits for.
func (w Weave) CostOf(chains []int) (cost Woven, ok bool) {
	s := w.Begin()
	for _, c := range chains {
		next, d, _, ok := w.Next(s, c)
		if !ok {
			return Woven{}, false
		}
		s, cost = next, cost.plus(d)
	}
	return cost, true
}

// Stuck returns the chains that wait for one another, or nil where an order is.
// What is ready may be done at once: that keeps nothing else waiting.
func (w Weave) Stuck() []int {
	s := w.Begin()
	for again := true; again; {
		again = false
		for c := range w.Chains {
			if next, _, _, ok := w.Next(s, c); ok {
				s, again = next, true
			}
		}
	}
	var list []int
	for c, n := range s.done {
		if n < len(w.Chains[c]) {
			list = append(list, c)
		}
	}
	return list
}

// least returns what finishing from s costs at the least. A setting that is wanted and
// not there is set once more; two of one slot are not set in one set-up, so a machine
// is set up as often as the slot wants that has most of them, and where the work is
// turned over. Every chain that is left must be gone on with.
func (w Weave) least(s Stand) Woven {
	var c Woven
	var wanted []int
	slots, always := map[Need]int{}, map[int]int{} // of a machine and its slot; of a machine
	for i, chain := range w.Chains {
		if s.done[i] < len(chain) && s.last != i && s.last != none {
			c.Changes++
		}
		for _, v := range chain[s.done[i]:] {
			for _, u := range v.Ups {
				if u.Always {
					always[v.Machine]++
				}
				for _, n := range u.Needs {
					if s.set[n.Slot] == n.Set || slices.Contains(wanted, n.Set) {
						continue
					}
					wanted = append(wanted, n.Set)
					c.Minutes += w.Minutes[n.Set]
					slots[Need{n.Slot, v.Machine}]++
				}
			}
		}
	}
	most := map[int]int{}
	for at, n := range slots {
		most[at.Set] = max(most[at.Set], n)
	}
	for m, n := range always {
		most[m] = max(most[m], n)
	}
	for _, n := range most {
		c.Setups += n
	}
	return c
}

// key names a stand, so that two that are equal are one.
func (s Stand) key() string {
	b := make([]byte, 0, 2*(len(s.done)+len(s.set)+1))
	for _, list := range [][]int{s.done, s.set, {s.last}} {
		for _, n := range list {
			b = append(b, byte(n), byte(n>>8))
		}
	}
	return string(b)
}

// come returns how many visits are done.
func (s Stand) come() (n int) {
	for _, d := range s.done {
		n += d
	}
	return n
}

// node is a stand on the way: what it cost to get there, and that with the least it
// can cost from there on.
type node struct {
	Stand
	cost, bound Woven
	from        *node
}

// queue holds the nodes, that of the least bound on top; of equals the one that has
// come furthest, then the one whose last chain is the lowest.
type queue []*node

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q queue) Less(i, j int) bool {
	a, b := q[i], q[j]
	if a.bound != b.bound {
		return a.bound.Less(b.bound)
	}
	if x, y := a.come(), b.come(); x != y {
		return x > y
	}
	return a.last < b.last
}
func (q *queue) Push(x any) { *q = append(*q, x.(*node)) }
func (q *queue) Pop() any {
	old := *q
	n := len(old) - 1
	x := old[n]
	*q = old[:n]
	return x
}

// Tried is how many stands a search looks at before it gives up being exact.
const Tried = 20000

// Best returns the best order, as the chain that is gone on with at each place, and
// what it costs. Stuck must be nil.
//
// It looks first at what costs least with the least that is still to come: that is
// never more than what does come, so the first whole order is the best. exact is false
// where it has looked at Tried stands without one; then what costs least is taken at
// each place.
func (w Weave) Best() (chains []int, cost Woven, exact bool) {
	total := 0
	for _, chain := range w.Chains {
		total += len(chain)
	}
	start := w.Begin()
	q := &queue{{Stand: start, bound: w.least(start)}}
	seen := map[string]bool{}
	for q.Len() > 0 && len(seen) < Tried {
		n := heap.Pop(q).(*node)
		if n.come() == total {
			return n.chains(), n.cost, true
		}
		key := n.key()
		if seen[key] {
			continue
		}
		seen[key] = true
		for c := range w.Chains {
			if to, d, _, ok := w.Next(n.Stand, c); ok {
				cost := n.cost.plus(d)
				heap.Push(q, &node{to, cost, cost.plus(w.least(to)), n})
			}
		}
	}
	chains = w.oneByOne(total)
	cost, _ = w.CostOf(chains)
	return chains, cost, false
}

// chains returns the chains that were gone on with up to a node.
func (n *node) chains() []int {
	var list []int
	for ; n.from != nil; n = n.from {
		list = append(list, n.last)
	}
	slices.Reverse(list)
	return list
}

// oneByOne returns an order that takes at each place the chain that costs least
// there: of equals the one that was gone on with last, then the lowest.
func (w Weave) oneByOne(total int) []int {
	var chains []int
	for s := w.Begin(); len(chains) < total; {
		var best Stand
		var least Woven
		found := false
		for c := range w.Chains {
			if to, d, _, ok := w.Next(s, c); ok && (!found || d.Less(least)) {
				best, least, found = to, d, true
			}
		}
		s, chains = best, append(chains, best.last)
	}
	return chains
}
