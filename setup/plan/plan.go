// Package plan turns a part and a shop into a route card: the blank, the
// operations in an order in which each can be held, with what every
// instrument is set to, and the part that will really come out.
//
// The parts of it: op says what an operation is, outline what the part is,
// rules what must come before what, order finds the best order, predict
// recomputes the part from what the instruments were set to. Here a planner for
// each feature reads a task (the part, the shop, one way to hold it) and returns
// the work that makes the feature. The works of every way to hold the part are
// put in order, and the way that costs least is the plan. Where none serves, what
// would mend it is tried (remedies.go; cause.go has the table). Words of a whole card
// are in card.go.
//
// The search (search.go) goes over which end is cut first, what the work is held on and
// in when it is turned end for end, how much is cut in each grip, what it lies on while it
// is worked across, centres, stubs, steadies, the methods of features, and orders. It costs
// by set-ups, then by grips that lose the axis or the roll, then by minutes, then by tool
// changes. Left out of it, and why:
//
//   - what mends nothing: a centre, a steady, a lighter cut, a bond in the order or another
//     method is added to a way only where something fails that it could mend, and two at the
//     most that mend nothing by themselves. Each costs minutes or a set-up.
//   - methods by cost: the next method of a feature is tried where the one before fails. They
//     stand in the order of their trouble, which no minutes measure; of those that are no
//     trouble but what they cost the cheapest is taken in the end, all else being the same.
//   - lengths: the work stands as little out of the jaws as the cut needs, or as far as a tool
//     needs to clear, and nothing between; stubs are of two lengths.
//   - tools ground for a job: by 15 deg more at a time, up to a point of 30 deg, and the first
//     that clears. What is steeper still is refused, but a side of an arc, which is plunged where
//     the blade leaves no more than a cusp.
//   - what indexes the work while it is cut across: a dividing head or a collet block holds it by the
//     bar as bought, with the first end out; a cylinder of it that is finished lies in the V-blocks.
//   - the bar in a collet: where the chuck holds the bar there is no axis yet to lose.
//   - an end that is sawn off and filed flat: only where no other way passes, since it is not
//     as square, which no limit says.
//   - what no way mends: where one thing says no to all of 80 ways, or of two things one to all of
//     160, it ends after a few of each list. standing.go says how that was counted.
//   - what is hoped of least: where one passes what more than 6 say no to, each for its own reason;
//     and after 360 ways, or 100 since the last that was better, it ends. Then 40 more are looked
//     into: what did not pass and costs as much already as the best, which could save minutes only;
//     what a collet holds in the place of the chuck; what is sawn off, or parted on a neck. Last,
//     the best that passed in each other hold is tried with one feature of it made by another method.
package plan

import (
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/certify"
	"setover/setup/plan/op"
	"setover/setup/plan/order"
	"setover/setup/plan/rules"
	"setover/setup/plan/work"
)

// Input is a part and the shop that makes it. Without names rules to leave
// out, for asking what they are there for.
type Input struct {
	Part    *part.Part `json:"-"`
	Shop    *shop.Shop `json:"-"`
	Without []string   `json:"without,omitempty"`
	Name    string     `json:"part"`

	// Done is how many steps are done; what was Measured goes into the rest.
	Done     int       `json:"done,omitempty"`
	Measured []Measure `json:"measured,omitempty"`
	// Start and By are when work begins and when it should end.
	Start *Clock `json:"start,omitempty"`
	By    *Clock `json:"by,omitempty"`
}

// Operation is one line of the route card.
type Operation struct {
	N          int            `json:"n" show:"n"`
	ID         string         `json:"id"`
	Kind       op.Kind        `json:"kind"`
	Setup      int            `json:"set_up" show:"set-up"`
	Machine    shop.Machine   `json:"machine" show:"machine"`
	Name       say.Text       `json:"name" show:"operation"`
	Tool       op.Tool        `json:"tool"`
	Because    Because        `json:"because" show:"because"`
	Makes      []string       `json:"makes"`
	Removes    []work.Removal `json:"removes"`
	Allowed    []op.Allowed   `json:"allowed"`
	Settings   []op.Setting   `json:"settings"`
	Dials      []op.Dial      `json:"dials"`
	Steps      []say.Text     `json:"steps"`
	Checks     []op.Check     `json:"checks"`
	NotChecked []string       `json:"not_checked"`
	Spring     *units.Length  `json:"spring_mm"`
	Minutes    units.Number   `json:"time_min"`
	Done       bool           `json:"done"`
	Starts     *Clock         `json:"starts,omitempty"`
	Ends       *Clock         `json:"ends,omitempty"`

	op *op.Op
}

// Kit is a tool that is needed and whether the shop has it.
type Kit struct {
	Name   say.Text `json:"name" show:"tool"`
	Needed say.Text `json:"needed" show:"needed"`
	Have   bool     `json:"have" show:"on hand"`
}

// Totals is what the whole plan comes to. A regrip loses the axis or the roll;
// what is left to do is less than the whole when steps are done.
type Totals struct {
	Setups     int          `json:"set_ups" show:"set-ups"`
	Regrips    int          `json:"regrips"`
	ToolChange int          `json:"tool_changes"`
	Minutes    units.Number `json:"time_min" show:"time" as:"0 min" note:"cutting and set-ups, a guess; for one part"`
	Left       units.Number `json:"left_min"`
	Batch      units.Number `json:"batch_min"`
	Once       units.Number `json:"set_once_min"`
	OutOf      int          `json:"out_of_limit"`
}

// Result is the route card.
type Result struct {
	Inputs     Input          `json:"inputs"`
	Material   string         `json:"material" show:"material"`
	Quantity   int            `json:"quantity" show:"quantity"`
	Blank      Blank          `json:"blank"`
	Setups     []SetUp        `json:"set_ups"`
	Operations []Operation    `json:"operations"`
	Predicted  []op.Predicted `json:"predicted"`
	Totals     Totals         `json:"totals"`
	Kit        []Kit          `json:"kit"`
	Late       *units.Number  `json:"late_min,omitempty"`
	Refused    []Refusal      `json:"refused"`
	Tried      []say.Text     `json:"tried"`
	sheet.Remarks

	found *attempt
}

// attempt is the work of one way to hold the part, the best order it can be done
// in, and the work as it stands before each step of that order.
type attempt struct {
	*task
	steps
	bound    bonds
	job      order.Job
	pairs    []rules.Before
	sequence []int
	cost     order.Cost
	states   []work.State
	held     []certify.Held
}

// Make plans a part in a shop. It fails on a material, a thread or a row of
// holes that does not exist and the like; a part that cannot be made here is a
// result that says no, with what was seen to mend it.
func Make(in Input) (Result, error) {
	j, err := newJob(in)
	if err != nil {
		return Result{}, err
	}
	r, err := j.plan()
	if err != nil {
		return Result{}, err
	}
	r.mend(j)
	return r, nil
}

// plan plans the part as it is asked: nothing is tried to mend a no.
func (j *job) plan() (Result, error) {
	if err := j.check(); err != nil {
		return Result{}, err
	}
	r := Result{
		Inputs: j.Input, Material: j.material.Name, Quantity: j.Part.Quantity, Setups: []SetUp{},
		Operations: []Operation{}, Predicted: []op.Predicted{}, Kit: []Kit{}, Refused: []Refusal{}, Tried: []say.Text{},
		Blank: j.barOnly(),
	}
	if p := j.lacking(); p != nil {
		r.refuse(*p)
		return r, nil
	}
	if unfit := j.unfit(); len(unfit) > 0 {
		for _, p := range unfit {
			r.refuse(p)
		}
		return r, nil
	}
	best, rings, err := j.chosen()
	if err != nil {
		return Result{}, err
	}
	if best == nil {
		if len(rings) == 0 {
			rings.Add(unheld().In(j.round.At))
		}
		r.refuse(rings[0])
		for _, p := range rings[1:] { // of the other ways to hold it
			r.Tried = append(r.Tried, p.Found)
		}
		return r, nil
	}
	if best, err = best.follow(); err != nil {
		return Result{}, err
	}
	r.fill(best)
	return r, nil
}

// lacking returns what the shop lacks before anything can be planned, or nil.
func (j *job) lacking() *problem.Problem {
	no := func(key string, want ...any) *problem.Problem {
		return new(problem.New(problem.NotAvailable, key, nil, want...))
	}
	switch {
	case j.round == nil:
		return nil
	case j.Shop.Lathe == nil:
		return no("lathe", "a turned part needs a lathe, and this shop has none (lathe)")
	case j.barHolder() == "":
		return no("chuck", "nothing to hold the bar in: this shop's lathe has no chuck (lathe: chuck)")
	}
	return nil
}

// make returns the work of every feature. The order of the planners numbers the
// operations, which decides between orders that cost the same.
func (t *task) make() steps {
	if t.block != nil {
		return milled(t)
	}
	list := []steps{sawn(t)}
	for i, c := range t.chuckings {
		list = append(list, outside(t, c, i == 0))
	}
	return together(append(list, bores(t), crossHoles(t), slots(t), facetted(t), last(t))...)
}

// number numbers the operations' set-ups, grips, machines and tools for the
// search, and turns the rules' pairs into bits.
func (d *attempt) number() {
	d.pairs = rules.Pairs(d.ops, d.Without...)
	d.job = order.Job{Ops: make([]order.Op, len(d.ops))}
	type mounted struct {
		on   shop.Machine
		tool op.Tool
	}
	setups, grips, machines, tools := numbers[op.Setup]{}, numbers[op.Grip]{}, numbers[shop.Machine]{}, numbers[mounted]{}
	for i, o := range d.ops {
		s := o.Setup
		d.job.Ops[i] = order.Op{
			Setup: setups.of(s), Grip: grips.of(s.Grip()), Machine: machines.of(s.Machine),
			Tool: tools.of(mounted{s.Machine, o.Tool}), True: s.RunsTrue(),
		}
	}
	d.job.Before = before(len(d.ops), d.pairs)
	all := slices.Concat(d.pairs, rules.Spoils(d.ops))
	if kept := (order.Job{Ops: d.job.Ops, Before: before(len(d.ops), all)}); kept.Cycle() == nil {
		d.pairs, d.job = all, kept
	}
}

// before turns pairs into bits: of each of so many operations those that come before it.
func before(n int, pairs []rules.Before) []uint64 {
	list := make([]uint64, n)
	for _, p := range pairs {
		list[p.B] |= 1 << p.A
	}
	return list
}

// numbers gives equal things equal numbers, from 0 on.
type numbers[T comparable] map[T]int

func (n numbers[T]) of(v T) int {
	if _, ok := n[v]; !ok {
		n[v] = len(n)
	}
	return n[v]
}

// follow returns the attempt with its first operations done and what was measured
// put in. The order stands; what is set from there on follows the work as it was
// measured.
func (d *attempt) follow() (*attempt, error) {
	if d.Done < 0 || d.Done > len(d.sequence) {
		return nil, problem.New(problem.OutOfRange, "done", d.Done, "so many steps are done: 0 to ", len(d.sequence))
	}
	if len(d.Measured) == 0 {
		return d, nil
	}
	next := *d
	next.steps = d.task.make()
	next.walk(d.Measured...)
	return &next, next.wrong.Err()
}

// madeOf is where the part says what it is made of.
func (j *job) madeOf() problem.Pos {
	if j.round != nil {
		return j.round.At
	}
	return j.block.At
}

// fill puts the route card together in the order that was found.
func (r *Result) fill(d *attempt) {
	r.found, r.Blank, r.Kit, r.Warnings = d, d.blank, orEmpty(d.kit), d.warnings
	r.Totals.Setups, r.Totals.Regrips, r.Totals.ToolChange = d.cost.Setups, d.cost.Losses, d.cost.Tools
	now, left, cutting, putUp := 0.0, 0.0, 0.0, 0.0 // minutes from the start
	clock := func() *Clock { return r.Inputs.Start.after(left) }
	change := d.changes()
	for n, i := range d.sequence {
		o := d.ops[i]
		c := change(o)
		if c.anew {
			r.Setups = append(r.Setups, d.setUp(len(r.Setups)+1, n))
		}
		now, putUp = now+c.setup+c.tool, putUp+c.setup
		line := d.operation(n, len(r.Setups))
		if !line.Done {
			left += c.setup + c.tool
			line.Starts = clock()
			left += o.Minutes
			line.Ends = clock()
		}
		now, cutting = now+o.Minutes, cutting+o.Minutes
		r.Operations = append(r.Operations, line)
		r.Predicted = append(r.Predicted, o.Predicted...)
		s := &r.Setups[len(r.Setups)-1]
		s.Operations = append(s.Operations, n+1)
		r.tell(n+1, o)
	}
	r.total(now, left, cutting, putUp)
	for _, k := range d.kit {
		if !k.Have {
			r.Warn("kit-missing", k.Name, ", ", k.Needed, ": not on hand, get it before you begin")
		}
	}
	r.late(clock())
	r.Caution(cautions.EyeProtection, cautions.ChuckKey, cautions.Manual)
	r.refuseAll(d)
}

// total adds up the minutes: of one piece, of what is left of it, and of the
// batch, in which every set-up is put up once and every further piece is put in and
// taken out, has its tools changed and is cut. It never takes longer than each piece
// made by itself.
func (r *Result) total(now, left, cutting, putUp float64) {
	t := &r.Totals
	t.Minutes, t.Left = units.Number(math.Round(now)), units.Number(math.Round(left))
	t.Once = units.Number(math.Round(putUp))
	more := float64(max(1, r.Quantity) - 1)
	loads := t.Setups
	if r.Blank.Fed { // the bar is sawn once
		loads--
	}
	load := practice.LoadMinutes.Number() * float64(loads)
	change := practice.ToolMinutes.Number() * float64(r.changesAgain())
	t.Batch = units.Number(math.Round(now + more*min(now, cutting+load+change)))
	for _, p := range r.Predicted {
		if !p.OK() {
			t.OutOf++
		}
	}
}

// changesAgain returns how often a tool is changed for every further piece of a
// batch: within each set-up, and from its last tool back to its first.
func (r *Result) changesAgain() int {
	n := 0
	for _, s := range r.Setups {
		had := r.Operations[s.Operations[len(s.Operations)-1]-1].Tool
		for _, i := range s.Operations {
			if tool := r.Operations[i-1].Tool; tool != had {
				n++
				had = tool
			}
		}
	}
	return n
}

// operation returns the nth line of the card, from 0.
func (d *attempt) operation(n, setup int) Operation {
	o := d.ops[d.sequence[n]]
	list := d.deeds(n)
	return Operation{
		N: n + 1, ID: o.ID, Kind: o.Kind, Setup: setup, Machine: o.Setup.Machine, Name: o.Name, Tool: o.Tool,
		Because: d.because(n), Makes: orEmpty(o.Makes), Removes: orEmpty(o.Removes), Allowed: orEmpty(o.Allowed),
		Settings: orEmpty(o.Settings), Dials: orEmpty(o.Dials), Steps: list,
		Checks: orEmpty(o.Checks), NotChecked: orEmpty(o.NotChecked), Spring: o.Spring,
		Minutes: units.Number(math.Round(o.Minutes*100) / 100), Done: n < d.Done, op: o,
	}
}

// deeds says what the hand does in the nth line of the card, from 0. The tailstock is set over
// where it does not stand so from the line before, and brought back where the next one wants it true.
func (d *attempt) deeds(n int) []say.Text {
	o := d.ops[d.sequence[n]]
	list := []say.Text{}
	if o.Steps != nil {
		list = append(list, o.Steps()...)
	}
	if o.SetOver == nil {
		return list
	}
	stands := func(n int) bool { // as it is set for this one
		return n >= 0 && n < len(d.sequence) && d.ops[d.sequence[n]].Setup.State.Offset == o.Setup.State.Offset
	}
	set, back := o.SetOver()
	if !stands(n - 1) {
		list = append(set, list...)
	}
	if !stands(n + 1) {
		list = append(list, back...)
	}
	return list
}

// tell passes on what operation n has to say: its warnings and its cautions.
func (r *Result) tell(n int, o *op.Op) {
	for _, w := range o.Warnings {
		said := say.Of(n, " ", o.Name, ": ", w.Text)
		if w.Code == "not-checked" { // the same of every step: once
			said = w.Text
		}
		if one := (sheet.Warning{Code: w.Code, Text: said, Key: w.Key}); !slices.Contains(r.Warnings, one) {
			r.Warnings = append(r.Warnings, one)
		}
	}
	r.Caution(o.Cautions...)
}

func orEmpty[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}
