package plan

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/order"
	"setover/setup/plan/outline"
)

// Instead is another way to hold the work, or another method for what a step makes, and
// what the plan then comes to: so much more than it is, and why it was turned down. What
// cannot be done costs nothing.
type Instead struct {
	What    say.Text      `json:"what" show:"instead"`
	Setups  *int          `json:"more_setups" show:"set-ups more"`
	Regrips *int          `json:"more_regrips" show:"regrips more"`
	Minutes *units.Number `json:"more_min" show:"min more" as:"0"`
	Tools   *int          `json:"more_tool_changes" show:"tool changes more"`
	No      say.Text      `json:"no" show:"why not"`

	is *attempt
}

// insteadMost is how many other holds are told, the nearest first, and insteadTries how
// many nodes are looked into for each, and for each method; betterTries how many once a way
// passes for what could be better.
const (
	insteadMost  = 4
	insteadTries = 120
	betterTries  = 40
)

// better goes on from the best of a search that passes with what the search does not come
// to by itself: what could save minutes only; a collet, which keeps the axis that a chuck
// loses, so that a way which costs too much in the chuck may cost less than the best in a
// collet; and what is sawn off the bar, or parted on a neck, though something passes without.
// Of the methods of a feature the search takes the first that passes.
func (s *search) better() error {
	s.again, s.tries = true, betterTries
	for _, q := range s.later {
		heap.Push(&s.todo, q)
	}
	var list []way
	inCollet := func(w way) {
		if w.grip >= 0 && w.in[1] == op.Chuck && s.canGrip(op.Collet, w.grip) {
			w.in[1] = op.Collet
			list = append(list, w)
		}
	}
	for _, w := range slices.Concat(s.ways(), s.indexWays()) {
		inCollet(w)
	}
	for _, w := range s.lastResorts() {
		if w.filed || !s.whole[w.first] {
			continue
		}
		list = append(list, w)
		w.how = s.best.how
		inCollet(w)
	}
	if err := s.from(list); err != nil {
		return err
	}
	for _, x := range s.best.offers {
		s.simplest(x)
	}
	return s.otherwiseMade()
}

// otherwiseMade takes what passes in another hold than the best, one feature of it made by another of
// its methods, where that comes to less: it may save a set-up.
func (s *search) otherwiseMade() error {
	for _, d := range s.passed {
		if d.heldBy() == s.best.heldBy() && d.liesSo() == s.best.liesSo() {
			continue
		}
		for _, x := range d.offers {
			i, ok := d.choiceOf(x.feature)
			for m := 0; ok && m < x.methods; m++ {
				w := d.way
				if w.how[i] = uint8(m); m == min(int(d.how[i]), x.methods-1) {
					continue
				}
				e, ring, err := s.tried(s.hold(w), d.bound)
				switch {
				case err != nil:
					return err
				case e != nil && ring == nil && s.takes(e):
					s.best = e
				}
			}
		}
	}
	return nil
}

// simplest takes of the methods of a feature, all else being the same, the one that costs
// least of those that are no trouble beyond that; or one that is less trouble and no dearer.
func (s *search) simplest(x offer) {
	i, ok := s.best.choiceOf(x.feature)
	for m := 0; ok && m < x.methods; m++ {
		taken := min(int(s.best.how[i]), x.methods-1)
		if m == taken || x.trouble(m, taken) != "" {
			continue
		}
		w := s.best.way
		w.how[i] = uint8(m)
		e, ring, err := s.attempt(s.hold(w), s.best.bound)
		if err != nil || ring != nil || e == nil || !e.passes() {
			continue
		}
		less := x.because[m] != x.because[taken]
		if e.betterThan(s.best) || less && !held(s.best.cost).Less(held(e.cost)) {
			s.best = e
		}
	}
}

// instead returns what could be done instead of step n, from 1: the other methods of what
// it makes, and on the lathe the other ways to hold the work.
func (r Result) instead(n int) []Instead {
	d, o := r.found, r.Operations[n-1].op
	if d.block != nil {
		return nil
	}
	list := r.otherMethods(d, o)
	if o.Setup.Machine == op.Lathe || o.Setup.Machine == op.Bench && len(o.Removes) > 0 {
		list = append(list, r.otherHolds(d)...)
	}
	if o.Roll != nil && o.Setup.Machine != op.Lathe {
		list = append(list, r.otherLies(d)...)
	}
	return list
}

// laid is what the ways to hold work that is cut across are told apart by.
type laid struct {
	on      lying
	indexed op.Device
}

func (w way) liesSo() laid { return laid{w.lies, w.indexed} }

// otherLies returns what the part comes to where it lies otherwise while it is cut across: in the
// V-blocks on another surface, or in what indexes it.
func (r Result) otherLies(d *attempt) []Instead {
	groups := map[laid][]way{}
	var order []laid
	for _, w := range append(d.ways(), d.indexWays()...) {
		so := w.liesSo()
		if so == d.liesSo() || w.heldBy() != d.heldBy() {
			continue
		}
		if groups[so] == nil {
			order = append(order, so)
		}
		groups[so] = append(groups[so], w)
	}
	var list []Instead
	for _, so := range order {
		s := newSearch(d.task.job, insteadTries)
		if err := s.from(groups[so]); err != nil || s.best == nil {
			continue
		}
		if e := s.best; e.liesSo() == so && !e.same(d) {
			list = append(list, r.compared(e, e.acrossSo(), e.troubleBeside(d)))
		}
	}
	return list
}

// acrossSo says how an attempt holds the work while it is cut across: "V-blocks on the bar as bought".
func (d *attempt) acrossSo() say.Text {
	for _, i := range d.sequence {
		if s := d.ops[i].Setup; d.ops[i].Roll != nil && s.Machine != op.Lathe {
			return say.Of(s.Device, " on ", surface(s.On))
		}
	}
	return ""
}

// otherMethods returns what making the feature of a step by each of its other methods
// comes to, as cheap as it is found to be made so: held as it is, or otherwise.
func (r Result) otherMethods(d *attempt, o *op.Op) []Instead {
	var list []Instead
	for _, x := range d.offers {
		i, ok := d.choiceOf(x.feature)
		if !ok || !slices.ContainsFunc(x.ops, func(p *op.Op) bool { return p.ID == o.ID }) {
			continue
		}
		for m := range x.methods {
			if min(int(d.how[i]), x.methods-1) == m {
				continue
			}
			e := d.by(i, uint8(m))
			if e == nil || e.same(d) {
				continue
			}
			what := e.madeBy(x.feature)
			if e.heldBy() != d.heldBy() {
				what = say.Of(what, "; ", e.heldSo())
			}
			trouble := x.trouble(m, int(d.how[i]))
			if trouble == "" {
				trouble = e.troubleBeside(d)
			}
			list = append(list, r.compared(e, what, trouble))
		}
	}
	return list
}

// by returns the cheapest attempt that is found with a feature, by the place of its choice,
// made by one of its methods, nil where there is none. The methods of a bore are others
// where the part is cut in one grip than in two: where no more is found with as many grips,
// all else is as it is.
func (d *attempt) by(i int, method uint8) *attempt {
	j := *d.task.job
	j.pinned = map[int]uint8{i: method}
	s := newSearch(&j, insteadTries)
	w := d.way
	w.how[i] = method
	s.add(quest{node: node{w, d.bound}, failed: math.MaxInt})
	var list []way
	for _, v := range s.ways() {
		if (v.grip == offBar) == (d.grip == offBar) {
			v.how = w.how
			list = append(list, v)
		}
	}
	if err := s.from(list); err == nil && s.best != nil && len(s.best.chuckings) == len(d.chuckings) {
		return s.best
	}
	e, ring, err := j.attempt(j.hold(w), d.bound)
	if err != nil || ring != nil {
		return nil
	}
	return e
}

// same reports whether two attempts do the same steps in the same set-ups.
func (d *attempt) same(e *attempt) bool {
	return slices.EqualFunc(d.sequence, e.sequence, func(a, b int) bool {
		o, p := d.ops[a], e.ops[b]
		return o.ID == p.ID && o.Name == p.Name && o.Setup == p.Setup
	})
}

// madeBy says by which steps a feature is made: "file 6 flats, cradle".
func (d *attempt) madeBy(feature string) say.Text {
	var list []say.Text
	for _, x := range d.offers {
		for _, o := range x.ops {
			if x.feature == feature && o.Kind != op.Spot && o.Kind != op.Centre {
				list = append(list, say.Of(o.Name, " (", o.Setup.Device, ")"))
			}
		}
	}
	return say.Join(list, "; ")
}

// hold is what the ways to hold the part are told apart by.
type hold struct {
	first part.End
	grip  int
	sawn  bool
	filed bool
	blind int
}

func (w way) heldBy() hold { return hold{w.first, w.grip, w.sawn, w.filed, w.blind} }

// otherHolds returns what the part comes to with the other end first and in the other
// grips, each as cheap as it is found to be made so: the nearest few.
func (r Result) otherHolds(d *attempt) []Instead {
	groups := map[hold][]way{}
	var holds []hold
	for _, w := range append(d.ways(), d.lastResorts()...) {
		h := w.heldBy()
		if h == d.heldBy() {
			continue
		}
		if groups[h] == nil {
			holds = append(holds, h)
		}
		groups[h] = append(groups[h], w)
	}
	var list []Instead
	for _, h := range holds {
		s := newSearch(d.task.job, insteadTries)
		if err := s.from(groups[h]); err != nil || s.best == nil {
			continue
		}
		if e := s.best; e.heldBy() == h && !e.same(d) {
			trouble := e.troubleBeside(d)
			if e.filed {
				trouble = "its end is filed by hand, and less square"
			}
			list = append(list, r.compared(e, e.heldSo(), trouble))
		}
	}
	slices.SortStableFunc(list, func(a, b Instead) int {
		return cmp.Or(cmp.Compare(a.is.failing(), b.is.failing()), cmp.Compare(a.is.cost.Setups, b.is.cost.Setups),
			cmp.Compare(a.is.cost.Losses, b.is.cost.Losses), cmp.Compare(a.is.minutes(), b.is.minutes()))
	})
	return list[:min(len(list), insteadMost)]
}

// wantsLong says of an attempt that it drills a through bore deeper than its drill is fluted from
// one end, which wants a long drill, where the plan does not; "" where it drills none so.
func (d *attempt) wantsLong(than *attempt) say.Text {
	long := func(t *task, b outline.Bore) bool { return t.deepThrough(b) && !t.halved(b) }
	for _, b := range d.shape.Bores {
		if long(d.task, b) && !long(than.task, b) {
			return say.Of("its bore of ", b.Dia, " wants a long drill from one end")
		}
	}
	return ""
}

// compared says what an attempt comes to beside the plan, and why it was turned down. What
// is more trouble than the plan is so for the reason that is given.
func (r Result) compared(e *attempt, what, trouble say.Text) Instead {
	is := Result{Inputs: r.Inputs, Quantity: r.Quantity}
	is.fill(e)
	x := Instead{What: what, is: e}
	switch {
	case len(is.Refused) > 0:
		x.No = say.Of("it fails: ", is.Refused[0].plainly(e))
		return x
	case !e.passes():
		x.No = "it fails"
		return x
	}
	setups, regrips := is.Totals.Setups-r.Totals.Setups, is.Totals.Regrips-r.Totals.Regrips
	minutes, tools := is.Totals.Minutes-r.Totals.Minutes, is.Totals.ToolChange-r.Totals.ToolChange
	x.Setups, x.Regrips, x.Minutes, x.Tools = &setups, &regrips, &minutes, &tools
	x.No = e.dearerThan(r.found, trouble)
	return x
}

// plainly is a refusal of an attempt that nobody sees the card of: its steps are named by
// what they do and not by their numbers.
func (f Refusal) plainly(d *attempt) say.Text {
	switch {
	case f.of != nil && f.by.Code != "":
		return say.Of(f.of.Name, ": ", f.by.Sentence())
	case f.told.Want != "" && f.of == nil:
		for _, o := range d.ops {
			if slices.Contains(o.Makes, f.Key) && f.told.Found != "" && f.told.At.File == "" {
				return say.Of(o.Name, ": ", f.told.Want)
			}
		}
	}
	return f.Reason
}

// dearerThan says why an attempt that passes was turned down for another: by what the
// search weighs first, set-ups before grips, minutes and tool changes.
func (d *attempt) dearerThan(e *attempt, trouble say.Text) say.Text {
	more := func(n int, one, many string) say.Text { return say.Of(say.Count(int64(n), one, many), " more") }
	a, b := d.cost, e.cost
	minutes := d.minutes() - e.minutes()
	with := say.Text("")
	if trouble != "" {
		with = say.Of("; and ", trouble)
	}
	switch {
	case a.Setups > b.Setups:
		return more(a.Setups-b.Setups, "set-up", "set-ups") + with
	case a.Setups == b.Setups && a.Losses > b.Losses:
		return say.Of(more(a.Losses-b.Losses, "grip", "grips"), ", which loses the axis or the roll") + with
	case trouble != "":
		return trouble
	case held(a) != held(b):
		return cheaper
	case math.Round(minutes) > 0:
		return say.Of(say.Num(minutes, 0), " min more")
	case math.Round(minutes) < 0:
		return cheaper
	case a.Tools > b.Tools:
		return more(a.Tools-b.Tools, "tool change", "tool changes")
	}
	return "it is as good: to the minute it comes to the same"
}

// cheaper is said of what would have been the better plan. Once a way passes the search looks
// into a few more alone, and into fewer for each than are looked into here.
const cheaper = "nothing: it comes to less, and could as well be taken; the search did not come to it"

// heldSo says how an attempt holds the part from first to last: "left end first, then
// chuck on the 20 mm cylinder".
func (d *attempt) heldSo() say.Text {
	first := say.Of(d.first, " end first, ")
	last := d.chuckings[len(d.chuckings)-1].setup
	on := say.Of(last.Device)
	if last.On.Shape != op.NoSurface {
		on = say.Of(last.Device, " on ", surface(last.On))
	}
	switch {
	case d.filed:
		return first + "sawn off the bar and the other end filed flat"
	case d.grip == offBar:
		return first + "parted off the bar"
	case d.sawn:
		return say.Of(first, "all of the outside; sawn off, and the other end faced in the ", on)
	}
	return say.Of(first, "then ", on)
}

// held is what a cost comes to without tool changes.
func held(c order.Cost) order.Cost {
	c.Tools = 0
	return c
}
