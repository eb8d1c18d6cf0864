package plan

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/order"
)

// node is a way to hold and to make the part, with what is bound in its order beyond
// the rules: that one operation comes before another, by their ids.
type node struct {
	way
	bound bonds
}

// quest is a node that is to be looked into: the least that said no to one that it comes
// of, and how many things were added since then that mended nothing.
type quest struct {
	node
	failed, idle int
}

// patience is how many things may be added one after the other that mend nothing by
// themselves: a centre that wants its end faced close to the jaws. What three mend
// together and two of them do not is not found.
const patience = 2

// search goes through the ways to make a part. Every way is an assignment to the choices
// of a way; those that ways returns stand for themselves, and each of the others is one
// of them with one thing more that costs something: a centre, a steady, a face that is
// cut as a bar, a lighter cut, the next method of a feature, a bond in the order. Such a
// thing is tried where what fails could be mended by it.
//
// It is exact for its cost among these: a way whose set-ups and losses alone are more
// than those of the best that passes is not looked into, and neither are those that come
// of it, since what is added never takes a set-up away.
type search struct {
	*job
	best  *attempt
	rings problem.List
	todo  []quest
	known map[node]bool
}

// cheapest returns the attempt that says no to least, and of those the cheapest. Where
// the rules collide in a way to hold the part, that way is none, and rings says why.
func (j *job) cheapest() (best *attempt, rings problem.List, err error) {
	if j.block != nil {
		return j.clamped()
	}
	s := search{job: j, known: map[node]bool{}}
	for _, ways := range [][]way{j.ways(), j.lastResorts()} {
		if s.best != nil && s.best.passes() {
			break
		}
		for _, w := range ways {
			s.add(quest{node{way: w}, math.MaxInt, 0})
		}
		if err := s.run(); err != nil {
			return nil, nil, err
		}
	}
	return s.best, s.rings, nil
}

// add puts a node on the list, once.
func (s *search) add(q quest) {
	if !s.known[q.node] {
		s.known[q.node] = true
		s.todo = append(s.todo, q)
	}
}

// run goes through the list until nothing is left, or as much was certified as may be.
func (s *search) run() error {
	for len(s.todo) > 0 && (s.most == 0 || s.walked < s.most) {
		q := s.todo[0]
		s.todo = s.todo[1:]
		t := s.hold(q.way)
		d, ring, err := s.tried(t, q.bound)
		switch {
		case err != nil:
			return err
		case ring != nil:
			s.rings.Add(ring)
			s.follow(q, append(q.longer(t), s.otherSplits(q.way)...), nil)
		case d != nil:
			if s.best == nil || d.betterThan(s.best) {
				s.best = d
			}
			s.spread(q, d)
		}
	}
	return nil
}

// spread adds what could mend an attempt, or cost less, unless too much was added already
// that mended nothing.
func (s *search) spread(q quest, d *attempt) {
	failed, next := d.failing(), q
	if next.failed, next.idle = failed, 0; q.failed <= failed {
		next.failed, next.idle = q.failed, q.idle+1
	}
	if failed == 0 {
		s.follow(next, q.more(d), nil)
		return
	}
	if next.idle < patience {
		s.follow(next, append(q.longer(d.task), q.more(d)...), q.bound.more(d))
	}
}

// follow adds ways with what a node is bound by, and its own way with other bonds.
func (s *search) follow(q quest, ways []way, more []bonds) {
	for _, w := range ways {
		s.add(quest{node{w, q.bound}, q.failed, q.idle})
	}
	for _, b := range more {
		s.add(quest{node{q.way, b}, q.failed, q.idle})
	}
}

// tried is an attempt, nil where its set-ups and losses alone cost more than the best
// that passes.
func (s *search) tried(t *task, b bonds) (d *attempt, ring error, err error) {
	d, ring, err = s.ordered(t, b)
	if err != nil || ring != nil || d == nil {
		return d, ring, err
	}
	if s.best != nil && s.best.passes() {
		c, best := d.cost, s.best.cost
		c.Tools, best.Tools = 0, 0
		if best.Less(c) {
			return nil, nil, nil
		}
	}
	d.walk()
	return d, nil, nil
}

// attempt makes the part in one way: its work, the best order of it, and every
// step certified on the work as it stands. ring says why no order is, and then d is
// neither ordered nor certified.
func (j *job) attempt(t *task, b bonds) (d *attempt, ring error, err error) {
	d, ring, err = j.ordered(t, b)
	if err == nil && ring == nil && d != nil {
		d.walk()
	}
	return d, ring, err
}

// ordered is an attempt that is not walked through yet, nil where what is bound beyond
// the rules leaves no order.
func (j *job) ordered(t *task, b bonds) (d *attempt, ring error, err error) {
	d = &attempt{task: t, steps: t.make()}
	if err := d.wrong.Err(); err != nil {
		return nil, nil, err
	}
	if n := len(d.ops); n > order.Max {
		return nil, nil, problem.New(problem.TooLarge, "", say.Of(n, " operations"),
			"a plan takes up to ", order.Max, ": split the part's holes between two files").In(t.madeOf())
	}
	d.number()
	if ring := d.job.Cycle(); ring != nil {
		return d, d.collision(ring), nil
	}
	if b.tie(d); d.job.Cycle() != nil {
		return nil, nil, nil
	}
	d.sequence, d.cost = d.job.Best()
	return d, nil, nil
}

// failing returns how much of the work says no, sizes that are not kept with it.
func (d *attempt) failing() int {
	n := len(d.no)
	for _, o := range d.ops {
		for _, c := range o.Checks {
			if !c.OK {
				n++
			}
		}
		for _, p := range o.Predicted {
			if !p.OK() {
				n++
			}
		}
	}
	return n
}

// passes reports whether nothing stands against it.
func (d *attempt) passes() bool { return d.failing() == 0 }

// betterThan compares two ways of making the part: by what says no, set-ups, losses,
// minutes and tool changes; then that is better that is held on the larger diameter.
func (d *attempt) betterThan(e *attempt) bool {
	if d.failing() != e.failing() {
		return d.failing() < e.failing()
	}
	mine, others := d.cost, e.cost
	mine.Tools, others.Tools = 0, 0
	if mine != others {
		return mine.Less(others)
	}
	if a, b := d.minutes(), e.minutes(); a != b {
		return a < b
	}
	if d.cost.Tools != e.cost.Tools {
		return d.cost.Tools < e.cost.Tools
	}
	return d.block == nil && d.grip >= 0 && e.grip >= 0 &&
		d.shape.Stretches[e.grip].Left.Turned.Less(d.shape.Stretches[d.grip].Left.Turned)
}

// minutes returns how long one piece takes, with its set-ups and tool changes.
func (d *attempt) minutes() float64 {
	var last op.Setup
	sum, tools := 0.0, map[shop.Machine]op.Tool{}
	for n, i := range d.sequence {
		o := d.ops[i]
		if n == 0 || o.Setup != last {
			sum += setupMinutes(last, o.Setup)
		}
		if had, other := tools[o.Setup.Machine]; other && had != o.Tool {
			sum += practice.ToolMinutes.Number()
		}
		last, tools[o.Setup.Machine] = o.Setup, o.Tool
		sum += o.Minutes
	}
	return sum
}
