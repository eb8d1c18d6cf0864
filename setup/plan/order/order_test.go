package order

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// random returns a job of n operations with set-ups, grips and tools drawn at
// random; each pair i < j is ordered with the probability p.
func random(r *rand.Rand, n, setups int, p float64) Job {
	grip, machine, isTrue := make([]int, setups), make([]int, setups), make([]bool, setups)
	trueGrip := map[int]bool{}
	for i := range grip {
		machine[i] = r.IntN(3)
		grip[i] = r.IntN(3)
		if _, known := trueGrip[grip[i]]; !known {
			trueGrip[grip[i]] = r.IntN(4) == 0
		}
		isTrue[i] = trueGrip[grip[i]]
	}
	j := Job{Ops: make([]Op, n), Before: make([]uint64, n)}
	perm := r.Perm(n) // so that the numbers do not follow the order
	for i := range n {
		s := r.IntN(setups)
		j.Ops[i] = Op{Setup: s, Grip: grip[s], Machine: machine[s], Tool: r.IntN(4), True: isTrue[s]}
		for k := range n {
			if perm[k] < perm[i] && r.Float64() < p {
				j.Before[i] |= 1 << k
			}
		}
	}
	return j
}

// brute returns the best order by trying every permutation.
func brute(j Job) ([]int, Cost) {
	var best []int
	var cost Cost
	var sequence []int
	var done uint64
	var try func()
	try = func() {
		if len(sequence) == len(j.Ops) {
			// Permutations come in rising order: the first of equals is the lowest.
			if c := j.CostOf(sequence); best == nil || c.Less(cost) {
				best, cost = slices.Clone(sequence), c
			}
			return
		}
		for i := range j.Ops {
			if done&(1<<i) == 0 && j.Before[i]&^done == 0 {
				done |= 1 << i
				sequence = append(sequence, i)
				try()
				sequence = sequence[:len(sequence)-1]
				done &^= 1 << i
			}
		}
	}
	try()
	return best, cost
}

func TestEqualsBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 1500 {
		n := 1 + r.IntN(7)
		if i%300 == 0 {
			n = 8
		}
		j := random(r, n, 1+r.IntN(5), []float64{0, 0.1, 0.3, 0.6}[r.IntN(4)])
		got, cost := j.Best()
		want, least := brute(j)
		if !slices.Equal(got, want) || cost != least {
			t.Fatalf("job %+v\ngot  %v %+v\nwant %v %+v", j, got, cost, want, least)
		}
	}
}

// Within what the best costs it is found, the same; within a set-up less, or within as many
// and a loss less, nothing is.
func TestBestWithin(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 200 {
		j := random(r, 7, 3, 0.3)
		want, cost := j.Best()
		got, is, ok := j.BestWithin(cost)
		if !ok || is != cost || !slices.Equal(got, want) {
			t.Fatalf("%+v within itself: %v %+v, want %v %+v", j, got, is, want, cost)
		}
		fewer, truer := cost, cost
		fewer.Setups--
		truer.Losses--
		for _, most := range []Cost{fewer, truer} {
			if got, is, ok := j.BestWithin(most); ok {
				t.Errorf("%+v costs %+v, and within %+v %v, %+v", j, cost, most, got, is)
			}
		}
	}
}

func TestCycle(t *testing.T) {
	j := Job{Ops: make([]Op, 4), Before: []uint64{0b0100, 0b0001, 0b0010, 0}}
	ring := j.Cycle()
	if len(ring) != 3 {
		t.Fatalf("ring %v of 0 before 1 before 2 before 0", ring)
	}
	for i, n := range ring {
		if next := ring[(i+1)%len(ring)]; j.Before[n]&(1<<next) == 0 {
			t.Errorf("%d does not wait for %d", n, next)
		}
	}
	if ring := (Job{Ops: make([]Op, 3), Before: []uint64{0, 1, 3}}).Cycle(); ring != nil {
		t.Errorf("a chain has no ring, got %v", ring)
	}
}

// 24 operations, from no rules at all to dense ones.
func BenchmarkBest(b *testing.B) {
	for _, p := range []float64{0, 0.05, 0.1, 0.2, 0.5} {
		for _, setups := range []int{4, 8, 16} {
			b.Run(fmt.Sprintf("rules=%v/setups=%d", p, setups), func(b *testing.B) {
				r := rand.New(rand.NewPCG(3, 4))
				for b.Loop() {
					random(r, 24, setups, p).Best()
				}
			})
		}
	}
}

// Rows of holes at many rolls: each roll a set-up of its own, spotted first and
// then drilled with the same few drills. The work grows with the rolls.
func BenchmarkRolls(b *testing.B) {
	for _, rolls := range []int{2, 4, 6, 8} {
		b.Run(fmt.Sprint(rolls), func(b *testing.B) {
			var j Job
			for r := range rolls {
				spot := len(j.Ops)
				for tool := range 6 {
					j.Ops = append(j.Ops, Op{Setup: r, Tool: tool, True: true})
					var before uint64
					if tool > 0 {
						before = 1 << spot
					}
					j.Before = append(j.Before, before)
				}
			}
			for b.Loop() {
				if _, c := j.Best(); c != (Cost{rolls, 0, 6*rolls - 1}) {
					b.Fatal(c)
				}
			}
		})
	}
}

// Costs counted by hand.
func TestCostByHand(t *testing.T) {
	j := Job{Before: make([]uint64, 4), Ops: []Op{
		{Setup: 0, Grip: 0, Machine: 0, Tool: 0},
		{Setup: 1, Grip: 1, Machine: 1, Tool: 5, True: true},
		{Setup: 2, Grip: 2, Machine: 0, Tool: 1},
		{Setup: 3, Grip: 2, Machine: 0, Tool: 1},
	}}
	for _, tc := range []struct {
		sequence []int
		want     Cost
	}{
		{[]int{0, 1, 2, 3}, Cost{4, 1, 1}}, // into the true grip nothing is lost, out of it the chuck's
		{[]int{1, 0, 2, 3}, Cost{4, 2, 1}},
		{[]int{2, 0, 3, 1}, Cost{4, 2, 2}}, // the tool goes 1, 0, 1
		{[]int{2, 3, 0, 1}, Cost{4, 1, 1}}, // set-ups 2 and 3 share a grip
	} {
		if got := j.CostOf(tc.sequence); got != tc.want {
			t.Errorf("%v costs %+v, by hand %+v", tc.sequence, got, tc.want)
		}
	}
}
