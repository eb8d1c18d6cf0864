package plan

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/maker/part"
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
// of, how many things were added since then that mended nothing, which it is, and of the one
// that it comes of what it cost and how many of its things said no.
type quest struct {
	node
	failed, idle int
	number       int
	cost         order.Cost
	crowd        int
}

// quests are what is to be looked into, that first which promises most.
type quests []quest

func (q quests) Len() int      { return len(q) }
func (q quests) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *quests) Push(x any)   { *q = append(*q, x.(quest)) }

func (q quests) Less(i, j int) bool {
	a, b := q[i], q[j]
	return cmp.Or(cmp.Compare(a.promise(), b.promise()), cmp.Compare(a.number, b.number)) < 0
}

// promise ranks what comes of a node: by its set-ups and losses, what says no to it, of which
// more than a few is as bad as a few, and twice what mended nothing. What stands for itself
// comes first, and what could cost less than one that passes.
func (q quest) promise() int {
	const few = 3
	if q.failed == math.MaxInt || q.failed == 0 {
		return 0
	}
	return q.cost.Setups + q.cost.Losses + min(few, q.failed) + 2*q.idle
}

func (q *quests) Pop() any {
	last := len(*q) - 1
	x := (*q)[last]
	*q = (*q)[:last]
	return x
}

// patience is how many things may be added one after the other that mend nothing by
// themselves: a centre that wants its end faced close to the jaws. What three mend
// together and two of them do not is not found.
const patience = 2

// maxTries is how many nodes are looked into at the most, lastMost how many of the last
// resorts, indexedFirst of those that are indexed before the others, freshLeast how many of each list
// though something stands against all, and maxMore how many where one passes and none since was better.
// Then nothing is hoped of those to which more than maxNo say no, unless one thing does: work that springs
// says no to all that is turned on it, and a centre mends them all.
const (
	maxTries     = 360
	lastMost     = 120
	indexedFirst = 40
	freshLeast   = 30
	maxMore      = 100
	maxNo        = 6
)

// search goes through the ways to make a part. Those that ways returns stand for
// themselves, and each of the others is one of them with one thing more that costs
// something: a centre, a steady, a face that is cut as a bar, a lighter cut, another method
// of a feature, a bond in the order. Such a thing is tried where what fails could be mended
// by it. A way whose set-ups and losses alone are more than those of the best that passes is
// not looked into, and neither are those that come of it; where they are as many and it does
// not pass it is kept for later, since it could save minutes only. What is left out is named in the
// package's comment.
type search struct {
	*job
	best  *attempt
	rings problem.List
	todo  quests
	later []quest // what could save minutes only
	again bool    // it goes on from a best that passes, and looks into those as well
	tries int
	added int
	whole map[part.End]bool // which end stands out where it could not be parted off
	known map[node]int      // how little that mended nothing was added on the way there

	passed []*attempt // of each way to hold it the best that passes

	stands standing // what says no to all that was looked into
}

// cheapest returns the attempt that says no to least, and of those the cheapest. Where
// the rules collide in a way to hold the part, that way is none, and rings says why.
func (j *job) cheapest() (best *attempt, rings problem.List, err error) {
	if j.block != nil {
		return j.clamped()
	}
	s := newSearch(j, maxTries)
	s.stands = j.stood.again()
	defer func() { j.stood = s.stands }()
	if err := s.across(); err != nil {
		return nil, nil, err
	}
	for _, resorts := range []func() []way{j.lastResorts, j.blindArbors} {
		more := resorts()
		if s.passes() || len(more) == 0 {
			continue
		}
		s.tries = lastMost
		if err := s.from(append(more, j.indexing(resorts)...)); err != nil {
			return nil, nil, err
		}
	}
	if s.passes() {
		err = s.better()
	}
	return s.best, s.rings, err
}

// newSearch returns a search that looks into so many nodes from each list of ways.
func newSearch(j *job, tries int) search {
	return search{job: j, known: map[node]int{}, whole: map[part.End]bool{}, tries: tries}
}

// across goes through the ways in which the work lies in the V-blocks while it is cut across, and by
// themselves those in which it is indexed: a few of these first, since what passes there has so few
// set-ups that little else is looked into, and what is left of them after the others.
func (s *search) across() error {
	indexed := s.indexWays()
	if len(indexed) == 0 {
		return s.from(s.ways())
	}
	all := s.tries
	s.tries = indexedFirst
	if err := s.from(indexed); err != nil {
		return err
	}
	left := s.todo
	s.todo, s.tries = nil, all
	if err := s.from(s.ways()); err != nil {
		return err
	}
	s.todo, left = left, s.todo
	err := s.run()
	s.todo = left
	return err
}

// from goes through ways to hold the part and what comes of them.
func (s *search) from(ways []way) error {
	for _, w := range ways {
		s.add(quest{node: node{way: w}, failed: math.MaxInt})
	}
	return s.run()
}

// add puts a node on the list, once, and again where more may be added to it than before.
func (s *search) add(q quest) {
	if idle, known := s.known[q.node]; known && idle <= q.idle {
		return
	}
	s.known[q.node] = q.idle
	s.added++
	q.number = s.added
	heap.Push(&s.todo, q)
}

// run goes through the list until nothing is left, or as many were looked into as may be.
func (s *search) run() error {
	more := 0
	for n := 0; !s.ends(n, more); n++ {
		if s.passes() {
			more++
		}
		q := heap.Pop(&s.todo).(quest)
		if s.passedOver(q) {
			n--
			continue
		}
		t := s.hold(q.way)
		d, ring, err := s.tried(t, q.bound)
		switch {
		case err != nil:
			return err
		case d == nil:
			n--
		case ring != nil:
			s.rings.Add(ring)
			s.follow(q, append(q.longer(t), s.otherSplits(q.way)...), nil)
		default:
			s.keep(d)
			if s.takes(d) {
				s.best, more = d, 0
			}
			if !s.passes() {
				s.stands.meets(d.nays())
			}
			s.spread(q, d)
		}
	}
	return nil
}

// keep keeps an attempt that passes where none that holds the work alike is better.
func (s *search) keep(d *attempt) {
	if !d.passes() {
		return
	}
	i := slices.IndexFunc(s.passed, func(e *attempt) bool {
		return e.heldBy() == d.heldBy() && e.liesSo() == d.liesSo()
	})
	switch {
	case i < 0:
		s.passed = append(s.passed, d)
	case d.betterThan(s.passed[i]):
		s.passed[i] = d
	}
}

// ends reports whether no more of a list is looked into after so many of it, and so many since one was
// better: where none passes, after fewer in a trial of a remedy, and where something stands against all.
func (s *search) ends(n, more int) bool {
	switch {
	case len(s.todo) == 0 || n >= s.tries:
		return true
	case s.passes():
		return more >= maxMore && s.todo[0].failed != math.MaxInt
	}
	share := max(s.tries*s.most/maxTries, min(freshLeast, s.tries, s.most))
	return n >= share || n >= min(freshLeast, s.most/8) && s.stands.hopeless()
}

// passes reports whether nothing stands against the best.
func (s *search) passes() bool { return s.best != nil && s.best.passes() }

// spread adds what could mend an attempt, or cost less, unless too much was added already
// that mended nothing: anything, where it goes on from a best that passes.
func (s *search) spread(q quest, d *attempt) {
	failed, next := d.failing(), q
	if d.grip == offBar && failed <= maxNo && d.failsToPart() {
		s.whole[d.first] = true
	}
	next.cost, next.crowd = d.cost, d.crowd()
	if next.failed, next.idle = failed, 0; q.failed <= failed {
		next.failed, next.idle = q.failed, q.idle+1
	}
	if failed == 0 {
		next.cost.Losses = 0 // what could cost less loses none, perhaps
		s.follow(next, q.more(d), nil)
		next.cost = order.Cost{} // and what is cut in another grip may save a set-up
		s.follow(next, s.otherSplits(q.way), nil)
		return
	}
	if next.idle == 0 || next.idle < patience && !s.again {
		s.follow(next, append(q.longer(d.task), q.more(d)...), q.bound.more(d))
	}
}

// follow adds ways with what a node is bound by, and its own way with other bonds.
func (s *search) follow(q quest, ways []way, more []bonds) {
	next := q
	for _, w := range ways {
		next.node = node{w, q.bound}
		s.add(next)
	}
	for _, b := range more {
		next.node = node{q.way, b}
		s.add(next)
	}
}

// tried is an attempt, nil where its set-ups and losses alone cost more than the best
// that passes.
func (s *search) tried(t *task, b bonds) (d *attempt, ring error, err error) {
	var within *order.Cost
	if s.passes() {
		within = &s.best.cost
	}
	d, ring, err = s.ordered(t, b, within)
	if err == nil && ring == nil && d != nil {
		d.walk()
	}
	return d, ring, err
}

// dearer reports whether nothing that comes of a node is hoped to be cheaper than the best
// that passes: it has more set-ups or losses, or at first as many and does not pass, or too much says
// no to it.
func (s *search) dearer(q quest) bool {
	if !s.passes() || q.failed == math.MaxInt {
		return false
	}
	c, best := q.cost, s.best.cost
	c.Tools, best.Tools = 0, 0
	return best.Less(c) || q.failed > 0 && c == best && !s.again || q.crowd > maxNo
}

// passedOver reports whether a node is not looked into now, since it is too dear; what could save
// minutes only is kept for later.
func (s *search) passedOver(q quest) bool {
	if !s.dearer(q) {
		return false
	}
	if delete(s.known, q.node); s.evens(q) {
		s.later = append(s.later, q)
	}
	return true
}

// evens reports whether a node that does not pass has as many set-ups and losses as the best.
func (s *search) evens(q quest) bool {
	return q.failed > 0 && held(q.cost) == held(s.best.cost) && q.crowd <= maxNo
}

// takes reports whether an attempt takes the place of the best. Where that passes, what is more
// trouble does not, however little it costs.
func (s *search) takes(d *attempt) bool {
	return s.best == nil || d.betterThan(s.best) && !(s.again && d.moreTrouble(s.best))
}

// moreTrouble reports whether an attempt is more trouble than another in what no cost measures.
func (d *attempt) moreTrouble(than *attempt) bool { return d.troubleBeside(than) != "" }

// troubleBeside says what trouble an attempt is that another is not: a long drill, a method of a feature,
// a tool that is ground by more; "" where it is none.
func (d *attempt) troubleBeside(than *attempt) say.Text {
	if long := d.wantsLong(than); long != "" {
		return long
	}
	for _, x := range than.offers {
		if i, ok := d.choiceOf(x.feature); ok {
			if more := x.trouble(min(int(d.how[i]), x.methods-1), int(than.how[i])); more != "" {
				return more
			}
		}
	}
	trail := func(e *attempt) (most float64) {
		for _, o := range e.ops {
			most = max(most, o.Tool.Trail.Deg())
		}
		return most
	}
	if trail(d) > trail(than) {
		return "a tool of it is ground back by more"
	}
	return ""
}

// attempt makes the part in one way: its work, the best order of it, and every
// step certified on the work as it stands. ring says why no order is, and then d is
// neither ordered nor certified.
func (j *job) attempt(t *task, b bonds) (d *attempt, ring error, err error) {
	d, ring, err = j.ordered(t, b, nil)
	if err == nil && ring == nil && d != nil {
		d.walk()
	}
	return d, ring, err
}

// ordered is an attempt that is not walked through yet, nil where what is bound beyond
// the rules leaves no order.
func (j *job) ordered(t *task, b bonds, within *order.Cost) (d *attempt, ring error, err error) {
	j.looked++
	d = &attempt{task: t, steps: t.make(), bound: b}
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
	most := order.Cost{Setups: math.MaxInt, Losses: math.MaxInt}
	if within != nil {
		most = *within
	}
	var ok bool
	if d.sequence, d.cost, ok = d.job.BestWithin(most); !ok {
		return nil, nil, nil
	}
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

// crowd returns how many things say no that could each want a mend of its own: a size that is not kept
// once, and not in its step, in what comes out and in the end. It is none where one thing says no to all
// the steps of one grip.
func (d *attempt) crowd() int {
	type cause struct {
		code problem.Code
		grip op.Grip
	}
	causes, sizes, n := map[cause]bool{}, map[string]bool{}, 0
	for _, o := range d.ops {
		for _, c := range o.Checks {
			switch {
			case c.OK:
				continue
			case c.Code == problem.OutOfLimits && len(o.Makes) > 0:
				sizes[o.Makes[0]] = true
			default:
				n++
			}
			causes[cause{c.Code, o.Setup.Grip()}] = true
		}
		for _, p := range o.Predicted {
			if !p.OK() {
				causes[cause{problem.OutOfLimits, o.Setup.Grip()}], sizes[p.Feature] = true, true
			}
		}
	}
	for _, p := range d.no {
		causes[cause{code: p.Code}], sizes[p.At.Key] = true, true
	}
	if len(causes) == 1 {
		return 0
	}
	return n + len(sizes)
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
