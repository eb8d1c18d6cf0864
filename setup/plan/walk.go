package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/certify"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// walk carries the work through every step of the order: each operation is asked
// what it is set to on the work as it stands, certified, and taken off it. What
// was measured stands in the work from the step on that it was measured at.
func (d *attempt) walk(measured ...Measure) {
	as := d.start()
	d.states, d.held = nil, nil
	for n, i := range d.sequence {
		o := d.ops[i]
		fresh, later := d.measure(&as, n, measured)
		measured = later
		o.Before = d.lastCut(n, as)
		if o.Do != nil {
			o.Do(as)
		}
		if d.Shop.HasReadout(o.Setup.Machine) {
			o.Read()
		}
		c := certify.Case{Job: d.certifies, Op: o, Before: as, After: as.After(o.Removes...)}
		r := c.Check()
		tellMeasured(r.Checks, fresh)
		tellTight(o, r.Checks)
		tellStiff(o, r.Checks)
		o.Checks, o.NotChecked, o.Spring = append(o.Checks, r.Checks...), append(o.NotChecked, r.NotChecked...), r.Spring
		d.states, d.held = append(d.states, as), append(d.held, certify.Hold(c))
		as = c.After
	}
	d.states = append(d.states, as)
	d.trueGrips()
	d.measure(&as, len(d.sequence), measured)
	lacking := func(p problem.Problem) bool { return p.Code == problem.NotAvailable }
	if d.round != nil && !slices.ContainsFunc(d.no, lacking) {
		ops := make([]*op.Op, len(d.sequence))
		for n, i := range d.sequence {
			ops[n] = d.ops[i]
		}
		d.no = append(d.no, certify.Complete(d.certifies, ops, as)...)
	}
}

// trueIt is the setting that says how true work is set to run.
const trueIt = "true it"

// trueTo returns how true work is set to run by indicator, of the unit of the lathe's dial.
func (t *task) trueTo() units.Length {
	unit := units.MM
	if l := t.Shop.Lathe; l != nil && l.CrossSlide != nil {
		unit = l.CrossSlide.Unit
	}
	return practice.BoreTrue.Length(unit)
}

// trueGrips says of each grip on finished round work, or again on a bar that was cut before, in jaws
// that do not find its axis, that it is first set to run true by indicator, where something is cut in it
// that has close limits, a bore, or a thread: what was turned or drilled before would not run with it.
func (d *attempt) trueGrips() {
	for n, i := range d.sequence {
		o := d.ops[i]
		again := d.barAgain(n)
		if n > 0 && d.ops[d.sequence[n-1]].Setup.Grip() == o.Setup.Grip() || !jawsOnRound(o.Setup) && !again {
			continue
		}
		for _, k := range d.sequence[n:] {
			p := d.ops[k]
			if p.Setup.Grip() != o.Setup.Grip() {
				break
			}
			if d.wantsTrue(p) {
				if !slices.ContainsFunc(o.Settings, func(s op.Setting) bool { return s.Name == trueIt }) {
					on := say.Of("on the ", o.Setup.On.Dia.Length(), " close to the jaws")
					if again {
						on = "in the hole that is drilled, or on what is turned"
					}
					o.Set(trueIt, d.trueTo(), "by indicator, before the first cut, ", on, ": shim a jaw or tap it until it runs so")
				}
				break
			}
		}
	}
}

// jawsOnRound reports whether jaws that do not find the axis hold finished round work in the lathe.
func jawsOnRound(s op.Setup) bool {
	return inJaws(s) && s.On.Shape == op.Cylinder
}

// inJaws reports whether jaws that do not find the axis hold work in the lathe.
func inJaws(s op.Setup) bool {
	return s.Machine == op.Lathe && (s.Device == op.Chuck || s.Device == op.FourJaw)
}

// barAgain reports whether step n, from 0, holds the bar in jaws in which it was turned or drilled before.
func (d *attempt) barAgain(n int) bool {
	s := d.ops[d.sequence[n]].Setup
	return inJaws(s) && s.On == op.Stock && slices.ContainsFunc(d.sequence[:n], func(i int) bool {
		o := d.ops[i]
		return o.Setup.Machine == op.Lathe && o.Kind != op.Face && len(o.Removes) > 0
	})
}

// wantsTrue reports whether what an operation cuts is to run true with what was cut before: a bore, a
// thread, or a diameter whose limits are no wider than a fit's.
func (d *attempt) wantsTrue(o *op.Op) bool {
	if o.Axial && len(o.Makes) > 0 || o.Kind == op.Thread {
		return true
	}
	return slices.ContainsFunc(o.Predicted, func(p op.Predicted) bool {
		return p.Kind == limits.Diameter && p.Width().Cmp(practice.TrueWidth.Length()) <= 0
	})
}

// lastCut returns what last cut the thickest place that step n, from 0, begins from, of what is
// turned to size.
func (d *attempt) lastCut(n int, as work.State) op.Before {
	o := d.ops[d.sequence[n]]
	if o.Rough && o.Roughed == 0 || !slices.Contains([]op.Kind{op.Turn, op.Taper, op.Curve}, o.Kind) {
		return op.Before{}
	}
	var z, dia op.Len
	for _, p := range as.Over(o.Along()) {
		if most := max(p.Left, p.Right); dia < most {
			z, dia = (p.From+p.To)/2, most
		}
	}
	const cuts = 100 // nm
	if beside, ok := besideLarge(o); ok && max(as.Dia(beside), dia)-min(as.Dia(beside), dia) < cuts {
		z = beside // it is touched at the corner, whose land is what was measured
	}
	after := as
	for k := n - 1; k >= 0; k-- {
		if before := d.states[k]; after.Dia(z)+cuts < before.Dia(z) {
			by := d.ops[d.sequence[k]]
			return op.Before{N: k + 1, Rough: by.Rough && (by.Kind != op.Turn || by.Roughed == 0)}
		}
		after = d.states[k]
	}
	return op.Before{}
}

// besideLarge returns a place just outside the large end of a taper. ok is false for what is none.
func besideLarge(o *op.Op) (z op.Len, ok bool) {
	const beside = 10_000 // nm
	s := o.Along()
	if o.Ends[0] < o.Ends[1] {
		return s.To + beside, o.Kind == op.Taper
	}
	return s.From - beside, o.Kind == op.Taper
}

// tellTight warns of a clearance that is less than easy.
func tellTight(o *op.Op, checks []op.Check) {
	easy := practice.TightClear.Length(units.MM)
	for _, c := range checks {
		if clear, ok := c.Value.Value.(units.Rounded); ok && c.Code == problem.Fouling && c.OK && clear.Length.Less(easy) {
			o.Warn("tight", "only ", clear, " is clear of chuck, tailstock and work: bring every part by hand to its nearest ",
				"before the first cut")
		}
	}
}

// tellStiff leaves out the caution that work which sticks out far needs a centre, where it was computed
// how far it springs in this step and that it may.
func tellStiff(o *op.Op, checks []op.Check) {
	springs := false
	for _, c := range checks {
		if c.Code == problem.Overhang || c.Code == problem.Support {
			springs = springs || c.Code == problem.Overhang
			if !c.OK {
				return
			}
		}
	}
	if springs {
		o.Cautions = slices.DeleteFunc(o.Cautions, func(c say.Text) bool { return c == cautions.Overhang })
	}
}

// tellMeasured words what is under size before a step by what was measured, the
// smallest of it.
func tellMeasured(checks []op.Check, fresh []Measure) {
	if len(fresh) == 0 {
		return
	}
	least := slices.MinFunc(fresh, func(a, b Measure) int { return a.Dia.Cmp(b.Dia) })
	for i, c := range checks {
		if c.Code == problem.StartSize && !c.OK {
			checks[i].Value = op.With(least.Dia, "was measured at z ", least.Z)
		}
	}
}

// measure puts what was measured into the work before step n, from 0, and returns
// that and what is measured later. It was measured when the steps that are done were; where
// none is, before the step that finishes the place, and only of what that finishes.
func (d *attempt) measure(as *work.State, n int, measured []Measure) (fresh, later []Measure) {
	for _, m := range measured {
		if n < len(d.sequence) && (d.Done > 0 && n != d.Done || d.Done == 0 && !d.finishes(n, m)) {
			later = append(later, m)
			continue
		}
		fresh = append(fresh, m)
		s := as.Span()
		if n < len(d.sequence) && d.Done == 0 {
			s = d.ops[d.sequence[n]].Along()
		}
		*as = as.MeasuredOver(s, op.LenOf(m.Z), op.LenOf(m.Dia))
		for _, i := range d.sequence[:n] {
			remeasured(d.ops[i], m)
		}
	}
	return fresh, later
}

// finishes reports whether the step n brings the outside at a place to size.
func (d *attempt) finishes(n int, m Measure) bool {
	o := d.ops[d.sequence[n]]
	finishing := slices.Contains([]op.Kind{op.Turn, op.Taper, op.Curve}, o.Kind) && !o.Rough
	return finishing && o.Cuts.From.Cmp(m.Z) <= 0 && m.Z.Cmp(o.Cuts.To) <= 0
}

// remeasured puts what was measured in the place of what was foreseen.
func remeasured(o *op.Op, m Measure) {
	for i, p := range o.Predicted {
		if p.From.Cmp(m.Z) > 0 || m.Z.Cmp(p.To) > 0 {
			continue
		}
		switch p.Kind {
		case limits.Diameter, limits.ThreadBlank:
			o.Predicted[i].Out, o.Predicted[i].Because = m.Dia, "measured"
		}
	}
}

// SetUp is how the work stands on a machine, and what is done to it there.
type SetUp struct {
	N       int          `json:"n"`
	Machine shop.Machine `json:"machine"`
	Device  op.Device    `json:"device"`
	Out     *part.End    `json:"out"`
	certify.Held
	Roll       *op.Deg   `json:"roll_deg"`
	State      op.Stands `json:"state"`
	Operations []int     `json:"operations"`
	NotChecked []string  `json:"not_checked"`

	setup op.Setup
}

// setUp returns the set-up that begins with the nth step, from 0.
func (d *attempt) setUp(number, n int) SetUp {
	o := d.ops[d.sequence[n]]
	s := SetUp{
		N: number, Machine: o.Setup.Machine, Device: o.Setup.Device, Held: d.held[n], State: o.Stands,
		NotChecked: []string{}, setup: o.Setup,
	}
	if o.Setup.Out != "" {
		s.Out = &o.Setup.Out
	}
	if o.Setup.State.Rolled {
		s.Roll = &o.Setup.State.Roll
	}
	for _, i := range d.sequence[n:] {
		p := d.ops[i]
		if p.Setup != o.Setup {
			break
		}
		for _, key := range p.NotChecked {
			if !slices.Contains(s.NotChecked, key) {
				s.NotChecked = append(s.NotChecked, key)
			}
		}
	}
	return s
}
