// Package plan turns a part and a shop into a route card: the blank, the
// operations in an order in which each can be held, with what every
// instrument is set to, and the part that will really come out.
//
// The parts of it: op says what an operation is, rules what must come before
// what, order finds the best order, predict recomputes the part from what the
// instruments were set to. This package makes the operations from the part's
// features and puts the answer together.
package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
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

// Blank is the bar or block to start from.
type Blank struct {
	Diameter *units.Length `json:"diameter_mm,omitempty"`
	Length   *units.Length `json:"length_mm,omitempty"`
	X        *units.Length `json:"x_mm,omitempty"`
	Y        *units.Length `json:"y_mm,omitempty"`
	Z        *units.Length `json:"z_mm,omitempty"`
	Because  string        `json:"because"`
}

// Operation is one line of the route card.
type Operation struct {
	N        int          `json:"n"`
	ID       string       `json:"id"`
	Name     string       `json:"name"`
	Kind     op.Kind      `json:"kind"`
	Setup    int          `json:"setup"`
	Machine  shop.Machine `json:"machine"`
	Hold     string       `json:"hold"`
	Tool     string       `json:"tool"`
	Because  string       `json:"because"`
	Settings []op.Setting `json:"settings"`
	Dials    []op.Dial    `json:"dials"`
	Checks   []op.Check   `json:"checks"`
	Minutes  units.Number `json:"time_min"`
	Done     bool         `json:"done"`
	Starts   *Clock       `json:"starts,omitempty"`
	Ends     *Clock       `json:"ends,omitempty"`

	op    *op.Op
	short string // Because by the rules' codes alone
}

// Predicted is one size of the part as drawn and as it will come out.
type Predicted struct {
	Feature string       `json:"feature"`
	Drawn   units.Length `json:"drawn_mm"`
	Out     units.Length `json:"out_mm"`
	Error   units.Length `json:"error_mm"`
	Because string       `json:"because"`
}

// Kit is a tool that is needed and whether the shop has it.
type Kit struct {
	Name   string `json:"name"`
	Needed string `json:"needed"`
	Have   bool   `json:"have"`
}

// Result is the route card.
type Result struct {
	Inputs     Input         `json:"inputs"`
	Material   string        `json:"material"`
	Quantity   int           `json:"quantity"`
	Blank      Blank         `json:"blank"`
	Operations []Operation   `json:"operations"`
	Setups     int           `json:"setups"`
	Regrips    int           `json:"regrips"`
	ToolChange int           `json:"tool_changes"`
	Minutes    units.Number  `json:"time_min"`
	Predicted  []Predicted   `json:"predicted"`
	Kit        []Kit         `json:"kit"`
	Late       *units.Number `json:"late_min,omitempty"`
	sheet.Remarks

	fails   problem.List
	working []sheet.Step
	found
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }

// Make plans a part in a shop. It fails on a part that is not round, on a
// thread that does not exist and the like; a part that cannot be made here is
// a result that says no.
func Make(in Input) (Result, error) {
	m, err := materials.Find(in.Part.Material)
	if err != nil {
		return Result{}, problem.List{err.(problem.Problem).In(in.Part.MaterialAt)}
	}
	in.Name = in.Part.Name
	if in.Part.Round == nil {
		return makeBlock(in, m)
	}
	if in.Shop.Lathe == nil {
		r := Result{Inputs: in, Material: m.Name, Quantity: in.Part.Quantity}
		r.fails.Add(problem.New(problem.NotAvailable, "lathe", nil, "a turned part needs a lathe, and this shop has none (lathe)"))
		return r, nil
	}
	if err := in.checkMeasured(); err != nil {
		return Result{}, err
	}
	shape, err := newShape(in.Part, m)
	if err != nil {
		return Result{}, err
	}
	var best *draft
	var sequence []int
	var cost order.Cost
	var pairs []rules.Before
	var collide problem.List
	for _, way := range shape.all(in.Shop.VBlocks != nil) {
		d, err := newDraft(in, shape, way)
		if err != nil {
			return Result{}, err
		}
		if err := d.tooMany(); err != nil {
			return Result{}, err
		}
		job, p := d.job(in.Without)
		if ring := job.Cycle(); ring != nil {
			collide.Add(d.collision(ring, p))
			continue
		}
		s, c := job.Best()
		if best == nil || d.betterThan(best, c, cost) {
			best, sequence, cost, pairs = d, s, c, p
		}
	}
	if best == nil {
		r := Result{Inputs: in, Material: m.Name, Quantity: in.Part.Quantity}
		if len(collide) == 0 {
			collide.Add(problem.Problem{Code: problem.CannotBeHeld, At: in.Part.Round.At, Want: shape.unheld()})
		}
		r.fails = collide
		return r, nil
	}
	if in.Done < 0 || in.Done > len(sequence) {
		return Result{}, problem.New(problem.OutOfRange, "done", in.Done, fmt.Sprintf("the plan has %d steps", len(sequence)))
	}
	if in.Done > 0 || len(in.Measured) > 0 {
		// The order stands; what is set from here on follows what was measured.
		best, err = best.again(in, sequence[:in.Done])
		if err != nil {
			return Result{}, err
		}
	}
	return best.result(in, sequence, cost, pairs), nil
}

// makeBlock plans a part that is milled from a block: there is one way to hold
// it, on its squared faces.
func makeBlock(in Input, m *materials.Material) (Result, error) {
	if len(in.Measured) > 0 {
		return Result{}, problem.New(problem.Contradiction, "measured", nil, "diameters are measured on round parts, and this is a block")
	}
	d, err := newBlock(in, m)
	if err != nil {
		return Result{}, err
	}
	if err := d.tooMany(); err != nil {
		return Result{}, err
	}
	job, pairs := d.job(in.Without)
	if ring := job.Cycle(); ring != nil {
		return Result{Inputs: in, Material: m.Name, Quantity: in.Part.Quantity, fails: problem.List{d.collision(ring, pairs)}}, nil
	}
	sequence, cost := job.Best()
	if in.Done < 0 || in.Done > len(sequence) {
		return Result{}, problem.New(problem.OutOfRange, "done", in.Done, fmt.Sprintf("the plan has %d steps", len(sequence)))
	}
	d.done = map[string]bool{}
	for _, i := range sequence[:in.Done] {
		d.done[d.ops[i].ID] = true
	}
	return d.result(in, sequence, cost, pairs), nil
}

// tooMany refuses a part of more operations than the search takes.
func (d *draft) tooMany() error {
	if n := len(d.ops); n > order.Max {
		return problem.Problem{
			Code: problem.TooLarge, At: d.madeOf(), Found: fmt.Sprintf("%d operations", n),
			Want: fmt.Sprintf("a plan takes up to %d: split the part's holes between two files", order.Max),
		}
	}
	return nil
}

// again makes the same draft with the first operations done.
func (d *draft) again(in Input, done []int) (*draft, error) {
	next := &draft{done: map[string]bool{}}
	for _, i := range done {
		next.done[d.ops[i].ID] = true
	}
	return next, next.fill(in, d.shape, d.way)
}

// betterThan compares two ways of making the part: the one that says no to
// less, then the cheaper, then the one that is held on the larger diameter.
func (d *draft) betterThan(e *draft, c, cost order.Cost) bool {
	switch {
	case d.failing() != e.failing():
		return d.failing() < e.failing()
	case c != cost:
		return c.Less(cost)
	}
	return d.way.grip >= 0 && e.way.grip >= 0 && e.shape.stretches[e.way.grip].A.Less(d.shape.stretches[d.way.grip].A)
}

// failing returns how much of a draft says no.
func (d *draft) failing() int {
	n := len(d.fails)
	for _, o := range d.ops {
		for _, c := range o.Checks {
			if !c.OK {
				n++
			}
		}
	}
	return n
}

// job numbers the operations' set-ups, grips, machines and tools for the
// search, and turns the rules' pairs into bits.
func (d *draft) job(without []string) (order.Job, []rules.Before) {
	pairs := rules.Pairs(rules.Job{Part: d.part, StressRelief: d.part.StressRelief}, d.ops, without...)
	j := order.Job{Ops: make([]order.Op, len(d.ops)), Before: make([]uint64, len(d.ops))}
	setups, machines := numbers[op.Setup]{}, numbers[shop.Machine]{}
	grips, tools := numbers[string]{}, numbers[string]{}
	for i, o := range d.ops {
		j.Ops[i] = order.Op{
			Setup: setups.of(o.Setup), Grip: grips.of(o.Setup.Grip()), Machine: machines.of(o.Setup.Machine),
			Tool: tools.of(string(o.Setup.Machine) + o.Tool), True: o.Setup.RunsTrue(),
		}
	}
	for _, p := range pairs {
		j.Before[p.B] |= 1 << p.A
	}
	return j, pairs
}

// numbers gives equal things equal numbers, from 0 on.
type numbers[T comparable] map[T]int

func (n numbers[T]) of(v T) int {
	if _, ok := n[v]; !ok {
		n[v] = len(n)
	}
	return n[v]
}

// collision names the operations that wait for one another and the rules that
// make them.
func (d *draft) collision(ring []int, pairs []rules.Before) problem.Problem {
	var words []string
	for i, b := range ring {
		a := ring[(i+1)%len(ring)]
		for _, p := range pairs {
			if p.A == a && p.B == b {
				words = append(words, fmt.Sprintf("%s before %s (%s)", d.ops[a].Name, d.ops[b].Name, p.Code))
				break
			}
		}
	}
	return problem.Problem{
		Code: problem.RulesCollide, At: d.madeOf(), Found: strings.Join(words, ", "),
		Want: "no order keeps all of these: a longer bar with a spigot, a shim under the taper or soft jaws would free it",
	}
}

// madeOf is where the part says what it is made of.
func (d *draft) madeOf() problem.Pos {
	if d.round != nil {
		return d.round.At
	}
	return d.block.At
}

// result puts the route card together in the order that was found.
func (d *draft) result(in Input, sequence []int, cost order.Cost, pairs []rules.Before) Result {
	r := Result{
		Inputs: in, Material: d.material.Name, Quantity: d.part.Quantity, Blank: d.blank,
		Setups: cost.Setups, Regrips: cost.Losses, ToolChange: cost.Tools, Remarks: d.Remarks, fails: d.fails,
	}
	d.springs()
	setup := 0
	var last op.Setup
	minutes := 0.0
	for n, i := range sequence {
		o := d.ops[i]
		if n == 0 || o.Setup != last {
			setup++
			minutes += setupMinutes(last, o.Setup)
		}
		last = o.Setup
		minutes += o.Minutes
		r.Operations = append(r.Operations, Operation{
			N: n + 1, ID: o.ID, Name: o.Name, Kind: o.Kind, Setup: setup, Machine: o.Setup.Machine, Hold: o.Setup.String(), Tool: o.Tool,
			Because: because(d, sequence, n, pairs), short: codes(sequence, n, pairs), Settings: orEmpty(o.Settings), Dials: orEmpty(o.Dials), Checks: orEmpty(o.Checks),
			Minutes: units.Number(math.Round(o.Minutes*100) / 100), Done: d.done[o.ID], op: o,
		})
		for _, w := range o.Warnings {
			r.Warnings.Add(w.Code, fmt.Sprintf("%d %s: %s", n+1, o.Name, w.Text))
		}
		r.Caution(o.Cautions...)
		for _, c := range o.Checks {
			if !c.OK {
				r.fails.Add(problem.Problem{Code: problem.Code(c.Code), At: problem.Pos{Key: fmt.Sprintf("operation %d, %s", n+1, o.Name)}, Found: c.Value, Want: "limit " + c.Limit + ": " + c.Remedy})
			}
		}
	}
	r.Minutes = units.Number(math.Round(minutes + float64(cost.Tools)*toolMinutes))
	r.Predicted, r.Kit = d.predicted, d.kit
	for _, k := range d.kit {
		if !k.Have {
			r.Warnings.Add("kit-missing", fmt.Sprintf("%s %s is not on hand", k.Name, k.Needed))
		}
	}
	r.sequence, r.pairs, r.working = sequence, pairs, d.working
	r.job, _ = d.job(in.Without)
	r.schedule()
	r.Caution(cautions.EyeProtection, cautions.ChuckKey, cautions.Manual)
	return r
}

func orEmpty[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}

// The minutes a change of set-up takes: a guess, common practice, no source.
const (
	rechuckMinutes  = 5
	swingMinutes    = 8
	vblockMinutes   = 12
	dividingMinutes = 20
	toolMinutes     = 2
)

// setupMinutes returns how long it takes to get from one set-up to another.
func setupMinutes(from, to op.Setup) float64 {
	m := 0.0
	if from.Grip() != to.Grip() {
		switch to.Hold {
		case op.VBlocks:
			m += vblockMinutes
		case op.DividingHead:
			m += dividingMinutes
		default:
			m += rechuckMinutes
		}
	}
	if to.Machine == op.Lathe && to.State != "" && from.State != to.State {
		m += swingMinutes
	} else if from.Grip() == to.Grip() && from.State != to.State {
		m += toolMinutes
	}
	return m
}

// codes names the rules that bind an operation to its neighbours by their
// codes: "after 3 rough-finish, before 5 hold-last".
func codes(sequence []int, n int, pairs []rules.Before) string {
	var words []string
	add := func(a, b int, where string) {
		var list []string
		for _, p := range pairs {
			if p.A == a && p.B == b && !slices.Contains(list, p.Code) {
				list = append(list, p.Code)
			}
		}
		if len(list) > 0 {
			words = append(words, where+" "+strings.Join(list, " "))
		}
	}
	if n > 0 {
		add(sequence[n-1], sequence[n], fmt.Sprintf("after %d", n))
	}
	if n+1 < len(sequence) {
		add(sequence[n], sequence[n+1], fmt.Sprintf("before %d", n+2))
	}
	if len(words) == 0 {
		return "free"
	}
	return strings.Join(words, ", ")
}

// because names every rule that binds an operation to its neighbours in this
// order; where none does, the operation is free.
func because(d *draft, sequence []int, n int, pairs []rules.Before) string {
	var words []string
	add := func(a, b int, where string) {
		var rules []string
		for _, p := range pairs {
			if text := fmt.Sprintf("%s (%s)", p.Reason, p.Code); p.A == a && p.B == b && !slices.Contains(rules, text) {
				rules = append(rules, text)
			}
		}
		if len(rules) > 0 {
			words = append(words, where+": "+strings.Join(rules, ", "))
		}
	}
	if n > 0 {
		add(sequence[n-1], sequence[n], fmt.Sprintf("after %d", n))
	}
	if n+1 < len(sequence) {
		add(sequence[n], sequence[n+1], fmt.Sprintf("before %d", n+2))
	}
	if len(words) > 0 {
		return strings.Join(words, "; ")
	}
	o := d.ops[sequence[n]]
	shares := n > 0 && d.ops[sequence[n-1]].Setup == o.Setup || n+1 < len(sequence) && d.ops[sequence[n+1]].Setup == o.Setup
	if shares {
		return "no rule ties it to its neighbours: placed here to save a set-up"
	}
	return "no rule ties it to its neighbours: no other place costs fewer set-ups"
}
