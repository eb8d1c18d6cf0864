package order

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
)

// every calls do with every order of a weave's chains that waits where it must, and
// what it costs: walked over lists, with none of the search's parts.
func every(w Weave, do func(chains []int, cost Woven)) {
	var walk func(done map[Place]bool, set map[int]int, chains []int, cost Woven)
	walk = func(done map[Place]bool, set map[int]int, chains []int, cost Woven) {
		whole := true
		for c, chain := range w.Chains {
			n := 0
			for n < len(chain) && done[Place{c, n}] {
				n++
			}
			if n == len(chain) {
				continue
			}
			whole = false
			waits := slices.ContainsFunc(w.Before, func(b [2]Place) bool { return b[1] == Place{c, n} && !done[b[0]] })
			if waits {
				continue
			}
			also, set, cost := maps.Clone(done), maps.Clone(set), cost
			also[Place{c, n}] = true
			for _, u := range chain[n].Ups {
				up := u.Always
				for _, x := range u.Needs {
					if was, ok := set[x.Slot]; !ok || was != x.Set {
						up = true
						cost.Minutes += w.Minutes[x.Set]
						set[x.Slot] = x.Set
					}
				}
				if up {
					cost.Setups++
				}
			}
			if k := len(chains); k > 0 && chains[k-1] != c {
				cost.Changes++
			}
			walk(also, set, append(slices.Clone(chains), c), cost)
		}
		if whole {
			do(chains, cost)
		}
	}
	stands := map[int]int{}
	for _, n := range w.Stands {
		stands[n.Slot] = n.Set
	}
	walk(map[Place]bool{}, stands, nil, Woven{})
}

// drawn returns a weave of up to 3 chains of up to 3 visits on two machines of two
// slots each, with up to 3 settings a slot.
func drawn(r *rand.Rand) Weave {
	w := Weave{Chains: make([][]Visit, 1+r.IntN(3))}
	for range 12 {
		w.Minutes = append(w.Minutes, r.IntN(9))
	}
	for c := range w.Chains {
		for range 1 + r.IntN(3) {
			v := Visit{Machine: r.IntN(2)}
			for range 1 + r.IntN(2) {
				u := Up{Always: r.IntN(6) == 0}
				for slot := 2 * v.Machine; slot < 2*v.Machine+2; slot++ {
					if r.IntN(3) > 0 {
						u.Needs = append(u.Needs, Need{slot, 3*slot + r.IntN(3)})
					}
				}
				v.Ups = append(v.Ups, u)
			}
			w.Chains[c] = append(w.Chains[c], v)
		}
	}
	if r.IntN(2) == 0 {
		w.Stands = []Need{{1, 3 + r.IntN(3)}}
	}
	place := func() Place {
		c := r.IntN(len(w.Chains))
		return Place{c, r.IntN(len(w.Chains[c]))}
	}
	for range r.IntN(3) {
		if a, b := place(), place(); a.Chain != b.Chain {
			w.Before = append(w.Before, [2]Place{a, b})
		}
	}
	return w
}

// The search finds what trying every order finds, and is stuck where there is none.
func TestWeaveIsBest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 14))
	stuck := 0
	for n := range 800 {
		w := drawn(r)
		var want Woven
		found := false
		every(w, func(_ []int, c Woven) {
			if !found || c.Less(want) {
				want, found = c, true
			}
		})
		if !found {
			stuck++
			if w.Stuck() == nil {
				t.Fatalf("%d: no order is, and it is not stuck: %+v", n, w)
			}
			continue
		}
		if list := w.Stuck(); list != nil {
			t.Fatalf("%d: stuck in %v where an order is: %+v", n, list, w)
		}
		chains, got, exact := w.Best()
		if again, ok := w.CostOf(chains); !ok || again != got || got != want || !exact {
			t.Fatalf("%d: %v costs %v, said to cost %v; the best of all costs %v: %+v", n, chains, again, got, want, w)
		}
		if c, ok := w.CostOf(w.oneByOne(len(chains))); !ok || c.Less(want) {
			t.Fatalf("%d: one by one costs %v, less than the best, %v", n, c, want)
		}
	}
	if stuck < 10 {
		t.Errorf("%d were stuck: too few to tell", stuck)
	}
}

// By hand, two parts are sawn (setting 0), held in a chuck (1) with the compound along
// (2) or swung (3). The first is turned and swung while it stays in. Sawn one after the
// other they are one set-up. A second that is turned, taken out and put back to be
// swung serves the first by its chuck, and is served by the first's swing: saw, chuck,
// swing, 3. One that is swung first sets the compound along again for the first: saw,
// swing, along, swing, 4. One that is turned over in its chuck costs that in any case: 4.
func TestWeaveByHand(t *testing.T) {
	plain, swung := []Need{{1, 1}, {2, 2}}, []Need{{1, 1}, {2, 3}}
	saw := Visit{Ups: []Up{{Needs: []Need{{0, 0}}}}}
	on := func(list ...Up) Visit { return Visit{Machine: 1, Ups: list} }
	first := []Visit{saw, on(Up{Needs: plain}, Up{Needs: swung})}
	for _, tc := range []struct {
		second []Visit
		want   int
		order  string
	}{
		{[]Visit{saw, on(Up{Needs: plain}), on(Up{Needs: swung})}, 3, "[1 1 0 0 1]"},
		{[]Visit{saw, on(Up{Needs: swung}), on(Up{Needs: plain})}, 4, "[1 1 1 0 0]"},
		{[]Visit{saw, on(Up{Needs: plain}, Up{Needs: plain, Always: true})}, 4, "[1 1 0 0]"},
	} {
		w := Weave{Chains: [][]Visit{first, tc.second}, Minutes: make([]int, 4)}
		if chains, cost, _ := w.Best(); cost.Setups != tc.want || fmt.Sprint(chains) != tc.order {
			t.Errorf("%v: %v with %d set-ups, by hand %s with %d", tc.second, chains, cost.Setups, tc.order, tc.want)
		}
	}
}

// Eight parts of eight visits each are too many for every order; they are woven all
// the same.
func BenchmarkWeave(b *testing.B) {
	r := rand.New(rand.NewPCG(8, 8))
	w := Weave{Minutes: make([]int, 20)}
	for range 8 {
		var chain []Visit
		for range 8 {
			set := r.IntN(20)
			chain = append(chain, Visit{set % 4, []Up{{Needs: []Need{{set % 4, set}}}}})
		}
		w.Chains = append(w.Chains, chain)
	}
	for b.Loop() {
		w.Best()
	}
}
