// Package plan turns a part and a shop into a route card: the blank, the
// operations in an order in which each can be held, with what every
// instrument is set to, and the part that will really come out.
//
// The parts of it: op says what an operation is, outline what the part is,
// rules what must come before what, order finds the best order, predict
// recomputes the part from what the instruments were set to. Here a planner for
// each feature reads a task (the part, the shop, one way to hold it) and returns
// the work that makes the feature. The works of every way to hold the part are
// put in order, and the way that costs least is the plan. Words of a whole card
// are in card.go.
package plan

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/order"
	"setover/setup/plan/rules"
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
	N        int          `json:"n" show:"n"`
	ID       string       `json:"id"`
	Setup    int          `json:"setup" show:"set-up"`
	Machine  shop.Machine `json:"machine" show:"machine"`
	Name     say.Text     `json:"name" show:"operation"`
	Kind     op.Kind      `json:"kind"`
	Hold     say.Text     `json:"hold"`
	Tool     say.Text     `json:"tool"`
	Because  Because      `json:"because" show:"because"`
	Settings []op.Setting `json:"settings"`
	Dials    []op.Dial    `json:"dials"`
	Checks   []op.Check   `json:"checks"`
	Minutes  units.Number `json:"time_min"`
	Done     bool         `json:"done"`
	Starts   *Clock       `json:"starts,omitempty"`
	Ends     *Clock       `json:"ends,omitempty"`

	op *op.Op
}

// Predicted is one size of the part as drawn and as it will come out.
type Predicted struct {
	Feature say.Text     `json:"feature" show:"feature"`
	Drawn   units.Length `json:"drawn_mm" show:"drawn"`
	Out     units.Length `json:"out_mm" show:"out"`
	Error   units.Length `json:"error_mm" show:"error" as:"fine"`
	Because say.Text     `json:"because" show:"because"`
}

// Kit is a tool that is needed and whether the shop has it.
type Kit struct {
	Name   say.Text `json:"name" show:"tool"`
	Needed say.Text `json:"needed" show:"needed"`
	Have   bool     `json:"have" show:"on hand"`
}

// Result is the route card.
type Result struct {
	Inputs     Input         `json:"inputs"`
	Material   string        `json:"material" show:"material"`
	Quantity   int           `json:"quantity" show:"quantity"`
	Blank      Blank         `json:"blank"`
	Operations []Operation   `json:"operations"`
	Setups     int           `json:"setups" show:"set-ups"`
	Regrips    int           `json:"regrips"`
	ToolChange int           `json:"tool_changes"`
	Minutes    units.Number  `json:"time_min" show:"time" as:"0 min" note:"cutting and set-ups, a guess; for one part"`
	Predicted  []Predicted   `json:"predicted"`
	Kit        []Kit         `json:"kit"`
	Late       *units.Number `json:"late_min,omitempty"`
	sheet.Remarks

	found *attempt
}

// attempt is the work of one way to hold the part, and the best order it can be
// done in.
type attempt struct {
	*task
	work
	job      order.Job
	pairs    []rules.Before
	sequence []int
	cost     order.Cost
}

// Make plans a part in a shop. It fails on a material, a thread or a row of
// holes that does not exist and the like; a part that cannot be made here is a
// result that says no.
func Make(in Input) (Result, error) {
	j, err := newJob(in)
	if err != nil {
		return Result{}, err
	}
	if err := j.check(); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: j.Input, Material: j.material.Name, Quantity: in.Part.Quantity}
	if j.round != nil && j.Shop.Lathe == nil {
		r.No(problem.New(problem.NotAvailable, "lathe", nil, "a turned part needs a lathe, and this shop has none (lathe)"))
		return r, nil
	}
	if unfit := j.unfit(); len(unfit) > 0 {
		r.No(unfit)
		return r, nil
	}
	best, rings, err := cheapest(j.tasks())
	if err != nil {
		return Result{}, err
	}
	if best == nil {
		if len(rings) == 0 {
			rings.Add(unheld().In(j.round.At))
		}
		r.No(rings)
		return r, nil
	}
	if best, err = best.follow(in); err != nil {
		return Result{}, err
	}
	r.fill(best)
	return r, nil
}

// tasks returns the ways to make the part.
func (j *job) tasks() []*task {
	if j.block != nil {
		return []*task{squaredBlock(j)}
	}
	var list []*task
	for _, w := range j.ways() {
		list = append(list, j.hold(w))
	}
	return list
}

// cheapest returns the attempt that says no to least, and of those the cheapest,
// and of those the one that is held on the largest diameter. Where the rules
// collide in a way to hold the part, that way is none, and rings says why.
func cheapest(tasks []*task) (best *attempt, rings problem.List, err error) {
	for _, t := range tasks {
		d := &attempt{task: t, work: t.make()}
		if err := d.wrong.Err(); err != nil {
			return nil, nil, err
		}
		if n := len(d.ops); n > order.Max {
			return nil, nil, problem.New(problem.TooLarge, "", say.Of(n, " operations"),
				"a plan takes up to ", order.Max, ": split the part's holes between two files").In(t.madeOf())
		}
		d.number()
		if ring := d.job.Cycle(); ring != nil {
			rings.Add(d.collision(ring))
			continue
		}
		d.sequence, d.cost = d.job.Best()
		if best == nil || d.betterThan(best) {
			best = d
		}
	}
	return best, rings, nil
}

// make returns the work of every feature. The order of the planners numbers the
// operations, which decides between orders that cost the same.
func (t *task) make() work {
	if t.block != nil {
		return milled(t)
	}
	list := []work{sawn(t)}
	for i, c := range t.chuckings {
		list = append(list, outside(t, c, i == 0))
	}
	return together(append(list, bores(t), crossHoles(t), slots(t), facetted(t), last(t))...)
}

// number numbers the operations' set-ups, grips, machines and tools for the
// search, and turns the rules' pairs into bits.
func (d *attempt) number() {
	d.pairs = rules.Pairs(d.ops, d.Without...)
	d.job = order.Job{Ops: make([]order.Op, len(d.ops)), Before: make([]uint64, len(d.ops))}
	type mounted struct {
		on   shop.Machine
		tool say.Text
	}
	setups, grips, machines, tools := numbers[op.Setup]{}, numbers[op.Grip]{}, numbers[shop.Machine]{}, numbers[mounted]{}
	for i, o := range d.ops {
		s := o.Setup
		d.job.Ops[i] = order.Op{
			Setup: setups.of(s), Grip: grips.of(s.Grip()), Machine: machines.of(s.Machine),
			Tool: tools.of(mounted{s.Machine, o.Tool}), True: s.RunsTrue(),
		}
	}
	for _, p := range d.pairs {
		d.job.Before[p.B] |= 1 << p.A
	}
}

// numbers gives equal things equal numbers, from 0 on.
type numbers[T comparable] map[T]int

func (n numbers[T]) of(v T) int {
	if _, ok := n[v]; !ok {
		n[v] = len(n)
	}
	return n[v]
}

// betterThan compares two ways of making the part.
func (d *attempt) betterThan(e *attempt) bool {
	switch {
	case d.failing() != e.failing():
		return d.failing() < e.failing()
	case d.cost != e.cost:
		return d.cost.Less(e.cost)
	}
	held := func(d *attempt) units.Length { return d.shape.Stretches[d.grip].Left.Turned }
	return d.grip != offBar && e.grip != offBar && held(e).Less(held(d))
}

// follow returns the attempt with its first operations done. The order stands;
// what is set from there on follows what was measured.
func (d *attempt) follow(in Input) (*attempt, error) {
	if in.Done < 0 || in.Done > len(d.sequence) {
		return nil, problem.New(problem.OutOfRange, "done", in.Done, "the plan has ", len(d.sequence), " steps")
	}
	if in.Done == 0 && len(in.Measured) == 0 {
		return d, nil
	}
	next := *d
	t := *d.task
	next.task, t.done = &t, map[string]bool{}
	for _, i := range d.sequence[:in.Done] {
		t.done[d.ops[i].ID] = true
	}
	next.work = t.make()
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
	d.springs()
	r.found, r.Blank, r.Setups, r.Regrips, r.ToolChange = d, d.blank, d.cost.Setups, d.cost.Losses, d.cost.Tools
	r.Predicted, r.Kit, r.Warnings = d.predicted, d.kit, d.warnings
	r.No(d.no)
	var last op.Setup
	setup, now := 0, 0.0 // minutes from the start
	clock := func() *Clock { return r.Inputs.Start.after(now) }
	tools := map[shop.Machine]say.Text{}
	for n, i := range d.sequence {
		o := d.ops[i]
		if n == 0 || o.Setup != last {
			setup++
			now += setupMinutes(last, o.Setup)
		}
		if had := tools[o.Setup.Machine]; had != "" && had != o.Tool {
			now += practice.ToolMinutes.Number()
		}
		last, tools[o.Setup.Machine] = o.Setup, o.Tool
		starts := clock()
		now += o.Minutes
		r.Operations = append(r.Operations, Operation{
			N: n + 1, ID: o.ID, Name: o.Name, Kind: o.Kind, Setup: setup, Machine: o.Setup.Machine, Hold: holding(o.Setup),
			Tool: o.Tool, Because: d.because(n), Settings: orEmpty(o.Settings), Dials: orEmpty(o.Dials),
			Checks: orEmpty(o.Checks), Minutes: units.Number(math.Round(o.Minutes*100) / 100), Done: d.done[o.ID],
			Starts: starts, Ends: clock(), op: o,
		})
		r.tell(n+1, o)
	}
	r.Minutes = units.Number(math.Round(now))
	for _, k := range d.kit {
		if !k.Have {
			r.Warn("kit-missing", k.Name, " ", k.Needed, " is not on hand")
		}
	}
	r.late(clock())
	r.Caution(cautions.EyeProtection, cautions.ChuckKey, cautions.Manual)
}

// tell passes on what operation n has to say: its warnings, its cautions, and
// the checks that do not hold.
func (r *Result) tell(n int, o *op.Op) {
	for _, w := range o.Warnings {
		r.Warn(w.Code, n, " ", o.Name, ": ", w.Text)
	}
	r.Caution(o.Cautions...)
	for _, c := range o.Checks {
		if !c.OK {
			found := say.Of("operation ", n, ", ", o.Name, ": ", c.Value)
			r.No(problem.New(c.Code, "", found, "limit ", c.Limit, ": ", c.Remedy))
		}
	}
}

func orEmpty[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}
