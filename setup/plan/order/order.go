// Package order finds the best order of a job's operations: exactly, by search
// on small integers.
//
// What must come before what is given as pairs; what stands on which machine
// and how it is held as set-up numbers. The cost of an order is compared in
// this sequence:
//
//  1. set-ups: how often the set-up changes, the first included;
//  2. losses: how often a new grip loses roll or concentricity;
//  3. tool changes, counted on each machine by itself, the first tool free;
//  4. the sequence of operation numbers, so that the answer is unique.
//
// The search asks, for a budget of the first three, whether the rest of the
// job can be done within it. Two facts keep it small. An operation that is
// ready and costs nothing now (same set-up, same tool) can be done at once
// without making anything later dearer, since taking it out of its later place
// saves what it cost there: every one of the three costs obeys the triangle
// inequality. And a state that failed with some budget fails with any smaller
// one, so each is remembered with the budgets it failed at.
package order

import (
	"math/bits"
	"slices"
)

// Max is the most operations a job may have.
const Max = 64

// Op is one operation as the search sees it. Setup, Grip, Machine and Tool are
// numbers of the caller's; equal numbers mean the same thing. True says that
// the grip runs true by itself (centres, a collet, re-indicated) and loses
// nothing. Operations of one set-up have one grip and one machine.
type Op struct {
	Setup, Grip, Machine, Tool int
	True                       bool
}

// Job is operations and what must come before what: Before[i] has bit j set
// when operation j must be done before operation i.
type Job struct {
	Ops    []Op
	Before []uint64
}

// Cost is what an order costs, most important first.
type Cost struct{ Setups, Losses, Tools int }

// Less compares two costs, most important first.
func (c Cost) Less(d Cost) bool {
	if c.Setups != d.Setups {
		return c.Setups < d.Setups
	}
	if c.Losses != d.Losses {
		return c.Losses < d.Losses
	}
	return c.Tools < d.Tools
}

// Cycle returns operations that wait for one another in a ring, in the order
// of waiting, or nil when there is none.
func (j Job) Cycle() []int {
	const unseen, open, done = 0, 1, 2
	state := make([]int, len(j.Ops))
	var path, ring []int
	var visit func(i int) bool
	visit = func(i int) bool {
		state[i] = open
		path = append(path, i)
		for b := j.Before[i]; b != 0; b &= b - 1 {
			k := bits.TrailingZeros64(b)
			if state[k] == open {
				ring = slices.Clone(path[slices.Index(path, k):])
				return true
			}
			if state[k] == unseen && visit(k) {
				return true
			}
		}
		path = path[:len(path)-1]
		state[i] = done
		return false
	}
	for i := range j.Ops {
		if state[i] == unseen && visit(i) {
			return ring
		}
	}
	return nil
}

// CostOf returns what an order of all operations costs.
func (j Job) CostOf(sequence []int) Cost {
	s := start()
	var c Cost
	for _, i := range sequence {
		d, next := j.step(s, i)
		c.Setups, c.Losses, c.Tools, s = c.Setups+d.Setups, c.Losses+d.Losses, c.Tools+d.Tools, next
	}
	return c
}

// machines bounds how many machines a job may use.
const machines = 6

// state is how far a job has come: what is done, the last operation's set-up
// and grip, and the tool on each machine. -1 is none yet.
type state struct {
	done        uint64
	setup, grip int16
	tools       [machines]int16
}

func start() state {
	s := state{setup: -1, grip: -1}
	for i := range s.tools {
		s.tools[i] = -1
	}
	return s
}

// step does operation i and returns what it costs.
func (j Job) step(s state, i int) (Cost, state) {
	o := j.Ops[i]
	var c Cost
	if int(s.setup) != o.Setup {
		c.Setups = 1
		if s.setup >= 0 && int(s.grip) != o.Grip && !o.True {
			c.Losses = 1
		}
	}
	if t := s.tools[o.Machine]; t >= 0 && int(t) != o.Tool {
		c.Tools = 1
	}
	s.done |= 1 << i
	s.setup, s.grip, s.tools[o.Machine] = int16(o.Setup), int16(o.Grip), int16(o.Tool)
	return c, s
}

// ready reports whether operation i can be done in state s.
func (j Job) ready(s state, i int) bool {
	return s.done&(1<<i) == 0 && j.Before[i]&^s.done == 0
}

// boundless is a budget that never runs out.
const boundless = 1 << 20

// Best returns the best order and what it costs. The job must have no Cycle
// and at most Max operations on at most 6 machines.
func (j Job) Best() ([]int, Cost) {
	sequence, best, _ := j.BestWithin(Cost{boundless, boundless, boundless})
	return sequence, best
}

// BestWithin is Best for a job that may have no more set-ups than most, nor at as many more
// losses; ok is false where every order has, and then nothing is returned.
func (j Job) BestWithin(most Cost) (sequence []int, best Cost, ok bool) {
	s := search{
		Job: j, failed: map[state][]Cost{}, all: 1<<len(j.Ops) - 1, after: make([]uint64, len(j.Ops)), in: map[int]uint64{},
	}
	for i, o := range j.Ops {
		s.in[o.Setup] |= 1 << i
		for b := j.Before[i]; b != 0; b &= b - 1 {
			s.after[bits.TrailingZeros64(b)] |= 1 << i
		}
	}
	if len(j.Ops) == Max {
		s.all = ^uint64(0)
	}
	budget, ok := s.budget(most)
	if !ok {
		return nil, best, false
	}
	best = budget
	at := start()
	for at.done != s.all {
		for i := range j.Ops {
			if !j.ready(at, i) {
				continue
			}
			c, next := j.step(at, i)
			left := Cost{budget.Setups - c.Setups, budget.Losses - c.Losses, budget.Tools - c.Tools}
			if left.Setups >= 0 && left.Losses >= 0 && left.Tools >= 0 && s.feasible(next, left) {
				sequence, at, budget = append(sequence, i), next, left
				break
			}
		}
	}
	return sequence, best, true
}

// budget returns what the best order costs, where that is no more than most.
func (s *search) budget(most Cost) (budget Cost, ok bool) {
	budget = s.least(start())
	budget.Losses, budget.Tools = boundless, boundless
	for ; budget.Setups <= most.Setups && !s.feasible(start(), budget); budget.Setups++ {
	}
	if budget.Setups > most.Setups {
		return budget, false
	}
	bound := budget.Setups == most.Setups
	budget.Losses = s.least(start()).Losses
	for ; !(bound && budget.Losses > most.Losses) && !s.feasible(start(), budget); budget.Losses++ {
	}
	if bound && budget.Losses > most.Losses {
		return budget, false
	}
	budget.Tools = s.least(start()).Tools
	if s.least(start()).Setups == budget.Setups {
		budget.Tools = max(budget.Tools, s.leastTools(start()))
	}
	for ; !s.feasible(start(), budget); budget.Tools++ {
	}
	return budget, true
}

// search remembers the budgets each state failed at.
type search struct {
	Job
	failed map[state][]Cost
	all    uint64
	after  []uint64       // what must come after each operation
	in     map[int]uint64 // the operations of each set-up
}

// within reports whether every part of c is at most that of d.
func (c Cost) within(d Cost) bool {
	return c.Setups <= d.Setups && c.Losses <= d.Losses && c.Tools <= d.Tools
}

// feasible reports whether the job can be finished from s within the budget.
//
// Long: one step of the search, with what bounds it and what it remembers.
func (s *search) feasible(at state, budget Cost) bool {
	at = s.free(at, budget)
	if at.done == s.all {
		return true
	}
	least := s.least(at)
	if !least.within(budget) {
		return false
	}
	if budget.Tools < boundless/2 && least.Setups == budget.Setups && s.leastTools(at) > budget.Tools {
		return false
	}
	// Where a part of the budget never runs out, what it is spent on does not
	// matter: states that differ in that alone are one.
	key := at
	if budget.Tools >= boundless/2 {
		for i := range key.tools {
			key.tools[i] = -1
		}
	}
	for _, b := range s.failed[key] {
		if budget.within(b) {
			return false
		}
	}
	type move struct{ setup, tool, machine int }
	var tried []move
	for pass := range 2 { // stay in the set-up first
		for i, o := range s.Ops {
			if !s.ready(at, i) || (o.Setup == int(at.setup)) != (pass == 0) {
				continue
			}
			m := move{o.Setup, o.Tool, o.Machine}
			if slices.Contains(tried, m) {
				continue
			}
			tried = append(tried, m)
			c, next := s.step(at, i)
			if !c.within(budget) {
				continue
			}
			if s.feasible(next, Cost{budget.Setups - c.Setups, budget.Losses - c.Losses, budget.Tools - c.Tools}) {
				return true
			}
		}
	}
	s.failed[key] = append(s.failed[key], budget)
	return false
}

// free does every operation that is ready and costs nothing.
func (s *search) free(at state, budget Cost) state {
	for again := true; again; {
		again = false
		for i, o := range s.Ops {
			if !s.ready(at, i) || o.Setup != int(at.setup) {
				continue
			}
			c, next := s.step(at, i)
			if c.Tools == 0 || budget.Tools >= boundless/2 {
				at, again = next, true
			}
		}
	}
	return at
}

// least returns what finishing from s costs at the least: each set-up and each
// grip that is still to come at least once, and on each machine each tool that
// is not on it now.
//
// Long: three counts in one walk over what is left.
func (s *search) least(at state) Cost {
	var setups, grips, tools [8]uint64 // bit sets over the caller's numbers
	set := func(b *[8]uint64, n int) bool {
		if n < 0 || n >= 8*64 {
			return false
		}
		fresh := b[n>>6]&(1<<(n&63)) == 0
		b[n>>6] |= 1 << (n & 63)
		return fresh
	}
	var c Cost
	var started [machines]bool
	for i, o := range s.Ops {
		if at.done&(1<<i) != 0 {
			continue
		}
		if o.Setup != int(at.setup) && set(&setups, o.Setup) {
			c.Setups++
		}
		if o.Grip != int(at.grip) && !o.True && set(&grips, o.Grip) {
			c.Losses++
		}
		if t := int(at.tools[o.Machine]); t != o.Tool && set(&tools, o.Machine*64+o.Tool) {
			if t < 0 && !started[o.Machine] {
				started[o.Machine] = true // the first tool on a machine is free
				continue
			}
			c.Tools++
		}
	}
	if at.setup < 0 && c.Losses > 0 {
		c.Losses-- // the first grip loses nothing
	}
	return c
}

// visit is what is left to do in one set-up, by its tools: all of them, those
// it can begin with, and those it can end with.
type visit struct{ all, first, last uint64 }

// leastTools returns how many tool changes finishing from s costs at the least
// when no set-up can be visited more often than once. What is left in a set-up
// with n tools is then done in one visit, with n - 1 changes inside it; and
// entering it is free only where it can begin with a tool that another visit
// can end with, or with the one that is mounted.
func (s *search) leastTools(at state) int {
	var setups [machines][]int
	visits := map[int]visit{}
	for left := s.all &^ at.done; left != 0; left &= left - 1 {
		i := bits.TrailingZeros64(left)
		o := s.Ops[i]
		v, known := visits[o.Setup]
		if !known {
			setups[o.Machine] = append(setups[o.Machine], o.Setup)
		}
		own := s.in[o.Setup] &^ at.done
		v.all |= 1 << o.Tool
		if s.Before[i]&own == 0 {
			v.first |= 1 << o.Tool
		}
		if s.after[i]&own == 0 {
			v.last |= 1 << o.Tool
		}
		visits[o.Setup] = v
	}
	sum := 0
	for m, list := range setups {
		mounted := uint64(0)
		if t := at.tools[m]; t >= 0 {
			mounted = 1 << t
		}
		entries := 0
		for _, g := range list {
			v := visits[g]
			if g == int(at.setup) {
				sum += bits.OnesCount64(v.all &^ mounted)
				continue
			}
			sum += bits.OnesCount64(v.all) - 1
			supply := mounted
			for _, h := range list {
				if h != g {
					supply |= visits[h].last
				}
			}
			if v.first&supply == 0 {
				entries++
			}
		}
		if mounted == 0 && entries > 0 {
			entries-- // the first tool on a machine is free
		}
		sum += entries
	}
	return sum
}
