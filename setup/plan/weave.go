package plan

import (
	"fmt"
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/order"
	"setover/setup/plan/work"
)

// The set-ups of a project's parts are put in one order. A part's own plan is kept as
// it is: its order is the best for it, and every step of it is certified on the work as
// that order leaves it; so another order within a part is left out of the search. What
// is searched is which part is gone on with. While a part stays in its grip nothing
// comes between.

// rig is what can be set on a machine by itself.
type rig struct {
	machine shop.Machine
	what    what
}

// what is a thing that is set.
type what int

// The things: what holds the work, the steady, the compound, the tailstock, the gears,
// and the tilt of the work.
const (
	itsHolder what = iota
	itsSteady
	itsCompound
	itsTailstock
	itsGears
	itsTilt
)

// setting is how one rig is set: what holds and the diameter that it grips, or how far
// apart V-blocks stand; how many sides it divides; where the steady's fingers stand; the
// state of the rest. What is not its own is empty.
type setting struct {
	rig
	device op.Device
	dia    op.Len
	sides  int
	state  op.State
}

// minutes returns what it takes to set it: of what holds, more than it takes to put
// another piece in where it stands.
func (g setting) minutes() float64 {
	switch g.what {
	case itsHolder:
		return max(0, g.device.Minutes()-practice.LoadMinutes.Number())
	case itsSteady:
		return practice.SteadyMinutes.Number()
	case itsTilt:
		return practice.ToolMinutes.Number()
	}
	if g.state == (op.State{}) { // along again, true again
		return practice.ToolMinutes.Number()
	}
	return practice.SwingMinutes.Number()
}

// settingsOf returns what a set-up of a plan needs. Gears that are in mesh do nothing
// to what is cut without them; a compound or a tailstock that is not set over stands
// along the bed.
func settingsOf(r Result, s SetUp) (list []setting) {
	st, on := s.setup.State, func(w what) setting { return setting{rig: rig{s.Machine, w}} }
	h := on(itsHolder)
	h.device = s.Device
	switch at := s.State.Blocks; {
	case len(at) == 2: // V-blocks hold any round; what counts is how far apart they stand
		h.dia = at[1] - at[0]
	case s.Grip != nil:
		h.dia = s.Grip.Dia
	}
	for _, n := range s.Operations {
		for _, x := range r.Operations[n-1].Removes {
			if f, ok := x.(work.Flats); ok {
				h.sides = f.Sides
			}
		}
	}
	list = append(list, h)
	if s.setup.Support == op.AtSteady && s.Support.Dia != nil {
		g := on(itsSteady)
		g.dia = *s.Support.Dia
		list = append(list, g)
	}
	if s.Machine != op.Lathe {
		if s.Device != op.ByHand && s.Machine != op.BandSaw {
			g := on(itsTilt)
			g.state = op.State{Tilted: st.Tilted, Tilt: st.Tilt, TiltY: st.TiltY, Shim: st.Shim}
			list = append(list, g)
		}
		return list
	}
	c, t := on(itsCompound), on(itsTailstock)
	c.state, t.state = op.State{Swung: st.Swung, Compound: st.Compound}, op.State{Offset: st.Offset}
	list = append(list, c, t)
	if st.Lead != (op.Lead{}) {
		g := on(itsGears)
		g.state.Lead = st.Lead
		list = append(list, g)
	}
	return list
}

// stay is the set-ups of a part, from 0, from one grip to the next.
type stay struct{ from, to int }

// stays returns a plan's set-ups by their grips.
func stays(r Result) (list []stay) {
	for i, s := range r.Setups {
		if i > 0 && s.setup.Grip() == r.Setups[i-1].setup.Grip() {
			list[len(list)-1].to = i
			continue
		}
		list = append(list, stay{i, i})
	}
	return list
}

// runOf returns the stay, from 0, that a step of a part is in.
func (r *ProjectResult) runOf(s step) int {
	up := r.step(s).Setup - 1
	return slices.IndexFunc(stays(r.Parts[s.part].Plan), func(t stay) bool { return t.from <= up && up <= t.to })
}

// woven is a project's parts as they are put in one order.
type woven struct {
	order.Weave
	rigs     numbers[rig]
	settings numbers[setting]
	stays    [][]stay
	closings []*closing // of each part, done in its last stay
	chains   []int
	cost     order.Woven
	exact    bool
}

// machines numbers the machines.
var machines = []shop.Machine{op.BandSaw, op.Lathe, op.MillMachine, op.DrillPress, op.BeltGrinder, op.Bench}

// need returns a setting as numbers. Minutes are counted in hundredths, so that they
// add up without rounding.
func (w *woven) need(g setting) order.Need {
	n := w.settings.of(g)
	if n == len(w.Minutes) {
		w.Minutes = append(w.Minutes, int(math.Round(100*g.minutes())))
	}
	return order.Need{Slot: w.rigs.of(g.rig), Set: n}
}

// up returns what a set-up needs.
func (w *woven) up(r Result, s SetUp) (u order.Up) {
	for _, g := range settingsOf(r, s) {
		u.Needs = append(u.Needs, w.need(g))
	}
	return u
}

// visit returns a stay as the search sees it. Where a set-up needs what the one before
// it needs, it is the work that is turned.
func (w *woven) visit(r Result, s stay) order.Visit {
	v := order.Visit{Machine: slices.Index(machines, r.Setups[s.from].Machine)}
	for i := s.from; i <= s.to; i++ {
		u := w.up(r, r.Setups[i])
		u.Always = i > s.from && slices.Equal(u.Needs, v.Ups[len(v.Ups)-1].Needs)
		v.Ups = append(v.Ups, u)
	}
	return v
}

// chained puts the stays of the parts into chains, with what the ways of meeting want.
func (r *ProjectResult) chained(ways []meet) *woven {
	w := &woven{rigs: numbers[rig]{}, settings: numbers[setting]{}, closings: make([]*closing, len(r.Parts))}
	for _, p := range r.Parts {
		list := stays(p.Plan)
		var chain []order.Visit
		for _, s := range list {
			chain = append(chain, w.visit(p.Plan, s))
		}
		w.Chains, w.stays = append(w.Chains, chain), append(w.stays, list)
	}
	for _, x := range []what{itsCompound, itsTailstock} { // a lathe is left with both along the bed
		w.Stands = append(w.Stands, w.need(setting{rig: rig{op.Lathe, x}}))
	}
	for _, m := range ways {
		for _, x := range m.waits {
			if x.first.part != x.second.part { // else one piece is the gauge of the next
				w.Before = append(w.Before, [2]order.Place{w.place(r, x.first, true), w.place(r, x.second, false)})
			}
		}
	}
	for _, m := range ways {
		if c := m.after; c != nil && w.closings[c.part] == nil {
			w.closes(r, c, m)
		}
	}
	return w
}

// place returns the visit that a step is in: of a part that has no such step its last
// or its first.
func (w *woven) place(r *ProjectResult, s step, last bool) order.Place {
	p := order.Place{Chain: s.part}
	switch {
	case s.n > 0:
		p.N = r.runOf(s)
	case last:
		p.N = len(w.stays[s.part]) - 1
	}
	return p
}

// closes adds the stay in which a part is faced when all that must line up is made.
func (w *woven) closes(r *ProjectResult, c *closing, m meet) {
	w.closings[c.part] = c
	w.Chains[c.part] = append(w.Chains[c.part], w.visit(r.Parts[c.part].Plan, stay{c.setup, c.setup}))
	last := len(w.Chains[c.part]) - 1
	for _, x := range m.waits {
		if mate := x.first.part; mate != c.part && len(w.stays[mate]) > 0 {
			w.Before = append(w.Before, [2]order.Place{{Chain: mate, N: len(w.stays[mate]) - 1}, {Chain: c.part, N: last}})
		}
	}
}

// mostWays is how many ways of meeting are compared with one another; of the rest the
// first is taken.
const mostWays = 32

// weave puts the parts' set-ups in one order: of the ways to meet those that cost
// least. Where a part has no plan there is no order, but what waits for what is told.
func (r *ProjectResult) weave(meets [][]meet) {
	choices := [][]meet{nil}
	for _, ways := range meets {
		var more [][]meet
		for _, c := range choices {
			for _, m := range ways {
				more = append(more, append(slices.Clone(c), m))
			}
		}
		choices = more[:min(len(more), mostWays)]
	}
	planned := !slices.ContainsFunc(r.Parts, func(p ProjectPart) bool { return len(p.Plan.Setups) == 0 })
	var best *woven
	ways := choices[0]
	for _, c := range choices {
		if !planned {
			break
		}
		w := r.chained(c)
		if w.Stuck() != nil {
			continue
		}
		w.chains, w.cost, w.exact = w.Best()
		if best == nil || w.cost.Less(best.cost) {
			best, ways = w, c
		}
	}
	for i, m := range ways {
		r.tellFit(i, m)
	}
	switch {
	case best != nil:
		r.laid(best)
	case planned:
		r.No(problem.New(problem.RulesCollide, "", r.Inputs.Name,
			"its parts wait for one another in a ring: make one of the fits by measuring instead"))
	default:
		var all []string
		for _, p := range r.Parts {
			all = append(all, p.Key)
		}
		r.inTurn(all)
	}
}

// tellFit writes the chosen way of a fit into the result and into the parts' cards.
func (r *ProjectResult) tellFit(i int, m meet) {
	r.Fits[i].Method = m.method
	if m.how != "" {
		r.Fits[i].How = m.how
	}
	for _, x := range m.waits {
		r.Before = append(r.Before, PartBefore{
			r.Parts[x.first.part].Key, x.first.n, r.Parts[x.second.part].Key, x.second.n, x.code, x.reason,
		})
	}
	for _, t := range m.tells {
		line := r.step(t.step)
		line.op.Set(t.name, t.value, t.say)
		line.Settings = line.op.Settings
		last := line.Settings[len(line.Settings)-1]
		r.Given = append(r.Given, Given{r.Parts[t.part].Key, t.n, line.Name, last.Name, last.Value, last.Say})
	}
}

// laid writes down the order that was found. Only what is set anew is another set-up: what stands
// already has the number of the last in which something of it was set.
func (r *ProjectResult) laid(w *woven) {
	number, numbered, set := 0, map[string]int{}, map[order.Need]int{}
	var finished []string
	stand := w.Begin()
	done := make([]int, len(r.Parts))
	for _, c := range w.chains {
		var anew []bool
		stand, _, anew, _ = w.Next(stand, c)
		list := w.visits(r, c, done[c])
		for i, v := range list {
			needs := w.Chains[c][done[c]].Ups[i].Needs
			key := fmt.Sprint(needs)
			if anew[i] {
				number++
				numbered[key] = number
			}
			if numbered[key] == 0 {
				for _, n := range needs {
					numbered[key] = max(numbered[key], set[n])
				}
			}
			for _, n := range needs {
				set[n] = numbered[key]
			}
			v.N, v.Stands = numbered[key], !anew[i]
			r.Setups = append(r.Setups, v)
		}
		if done[c]++; done[c] == len(w.Chains[c]) {
			finished = append(finished, r.Parts[c].Key)
		}
	}
	r.inTurn(finished)
	apart := w.apart()
	r.Totals = ProjectTotals{
		Setups: w.cost.Setups, Apart: apart.Setups, Exact: w.exact,
		Saved: units.Number(math.Round(float64(apart.Minutes-w.cost.Minutes) / 100)),
	}
	if !w.exact {
		r.Warn("not-searched", "so many parts that not every order was looked at: this one is good, another may save more")
	}
}

// apart returns what the parts' set-ups cost when each part is made by itself.
func (w *woven) apart() (sum order.Woven) {
	for _, chain := range w.Chains {
		one := order.Weave{Chains: [][]order.Visit{chain}, Minutes: w.Minutes, Stands: w.Stands}
		cost, _ := one.CostOf(make([]int, len(chain)))
		sum.Setups, sum.Minutes = sum.Setups+cost.Setups, sum.Minutes+cost.Minutes
	}
	return sum
}

// visits returns the set-ups of a part's nth visit, from 0.
func (w *woven) visits(r *ProjectResult, c, n int) (list []Visit) {
	plan, key := r.Parts[c].Plan, r.Parts[c].Key
	if n == len(w.stays[c]) {
		x := w.closings[c]
		up := plan.Setups[x.setup]
		return []Visit{{Machine: up.Machine, Part: key, Operations: []int{}, Held: say.Of(x.what, "; ", up.holding())}}
	}
	for i := w.stays[c][n].from; i <= w.stays[c][n].to; i++ {
		up := plan.Setups[i]
		list = append(list, Visit{Machine: up.Machine, Part: key, Setup: up.N, Operations: up.Operations, Held: up.holding()})
	}
	return list
}

// inTurn orders the parts so that the gauge comes before what is made to it, and else as
// they are given. Where each is the gauge of the other they stand as they are given.
func (r *ProjectResult) inTurn(keys []string) {
	waits := func(key string) bool {
		return slices.ContainsFunc(r.Before, func(b PartBefore) bool {
			gauge := b.Code == gaugeMate || b.Code == measureMate
			return gauge && b.Before == key && b.Part != key && !slices.Contains(r.Order, b.Part)
		})
	}
	for len(r.Order) < len(keys) {
		left := slices.DeleteFunc(slices.Clone(keys), func(k string) bool { return slices.Contains(r.Order, k) })
		next := slices.IndexFunc(left, func(k string) bool { return !waits(k) })
		r.Order = append(r.Order, left[max(0, next)])
	}
}

// setUpLine is a set-up of the project for people.
type setUpLine struct {
	N       int          `json:"n" show:"set-up"`
	Machine shop.Machine `json:"machine" show:"machine"`
	Part    string       `json:"part" show:"part"`
	Steps   say.Text     `json:"operations" show:"steps"`
	Held    say.Text     `json:"held" show:"how it stands"`
}

// lines returns the set-ups of the project for people.
func (r ProjectResult) lines() (list []setUpLine) {
	for _, v := range r.Setups {
		l := setUpLine{v.N, v.Machine, v.Part, "", v.Held}
		if n := len(v.Operations); n > 0 {
			l.Steps = say.Of(v.Operations[0])
			if n > 1 {
				l.Steps = say.Text(fmt.Sprint(v.Operations[0], " to ", v.Operations[n-1]))
			}
		}
		if v.Stands {
			l.Held = say.Of("stands already: ", l.Held)
		}
		list = append(list, l)
	}
	return list
}
