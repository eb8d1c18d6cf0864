package plan

import (
	"cmp"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/order"
)

// Instead is another way to hold the work, or another method for what a step makes, and
// what the plan then comes to: so much more than it is, or why it cannot be done.
type Instead struct {
	What    say.Text     `json:"what" show:"instead"`
	Setups  int          `json:"more_setups" show:"set-ups more"`
	Regrips int          `json:"more_regrips" show:"regrips more"`
	Minutes units.Number `json:"more_min" show:"min more"`
	No      say.Text     `json:"no" show:"what stands against it"`

	fails int
	cost  order.Cost
}

// insteadMost is how many other holds are told, the nearest first, and insteadTries how
// many nodes are looked into for each.
const (
	insteadMost  = 4
	insteadTries = 40
)

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
	return list
}

// otherMethods returns what making the feature of a step by each of its other methods
// comes to, all else being the same.
func (r Result) otherMethods(d *attempt, o *op.Op) []Instead {
	var list []Instead
	for _, x := range d.offers {
		i, ok := d.choiceOf(x.feature)
		if !ok || !slices.ContainsFunc(x.ops, func(p *op.Op) bool { return p.ID == o.ID }) {
			continue
		}
		for m := range x.methods {
			w := d.way
			if w.how[i] = uint8(m); w == d.way {
				continue
			}
			e, ring, err := d.attempt(d.hold(w), d.bound)
			if err != nil || ring != nil || e == nil {
				continue
			}
			is := r.compared(e, madeBy(e, x.feature))
			if is.cheaper() {
				is.No = "nothing: it is cheaper, and more trouble"
			}
			list = append(list, is)
		}
	}
	return list
}

// madeBy says by which steps a feature is made: "file 6 flats, cradle".
func madeBy(d *attempt, feature string) say.Text {
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
}

// otherHolds returns what the part comes to with the other end first and in the other
// grips, each as cheap as it is found to be made so: the nearest few.
func (r Result) otherHolds(d *attempt) []Instead {
	of := func(w way) hold { return hold{w.first, w.grip, w.sawn, w.filed} }
	groups := map[hold][]way{}
	var holds []hold
	for _, w := range append(d.ways(), d.lastResorts()...) {
		h := of(w)
		if h == of(d.way) {
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
		if e := s.best; of(e.way) == h {
			is := r.compared(e, e.heldSo())
			switch {
			case is.cheaper() && e.filed:
				is.No = "nothing: it is cheaper, and its end is less square"
			case is.cheaper():
				is.No = "nothing: it is cheaper, and the search ended before it was found"
			}
			list = append(list, is)
		}
	}
	slices.SortStableFunc(list, func(a, b Instead) int {
		return cmp.Or(cmp.Compare(a.fails, b.fails), cmp.Compare(a.cost.Setups, b.cost.Setups),
			cmp.Compare(a.cost.Losses, b.cost.Losses), cmp.Compare(a.Minutes, b.Minutes))
	})
	return list[:min(len(list), insteadMost)]
}

// compared says what an attempt comes to beside the plan.
func (r Result) compared(e *attempt, what say.Text) Instead {
	is := Result{Inputs: r.Inputs, Quantity: r.Quantity}
	is.fill(e)
	x := Instead{
		What: what, Setups: is.Totals.Setups - r.Totals.Setups, Regrips: is.Totals.Regrips - r.Totals.Regrips,
		Minutes: is.Totals.Minutes - r.Totals.Minutes, fails: e.failing(), cost: e.cost,
	}
	if len(is.Refused) > 0 {
		x.No = is.Refused[0].Reason
	}
	return x
}

// cheaper reports whether it passes and comes to less than the plan.
func (x Instead) cheaper() bool {
	return x.No == "" && (cmp.Or(x.Setups, x.Regrips) < 0 || x.Setups == 0 && x.Regrips == 0 && x.Minutes < 0)
}

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
