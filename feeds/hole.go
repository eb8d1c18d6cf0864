package feeds

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
)

// Peck is one push of the drill: how deep it goes and how much of that is new.
type Peck struct {
	N    int          `json:"n" show:"n"`
	To   units.Length `json:"to_mm" show:"to" as:"down"`
	Step units.Length `json:"step_mm" show:"step"`
}

// maxPecks is where a table of pecks ends: such a hole is a gun drill's.
const maxPecks = 60

// peck works out how a hole deeper than the first push is drilled: each push
// shorter from a depth on. It warns of what the table does not tell: that deep
// holes are drilled slower, and where it ends.
func (r *Result) peck() {
	in := r.Inputs
	if in.Operation != Drill || in.Length == nil {
		return
	}
	d, whole := in.Diameter, *in.Length
	step, at := practice.PeckFirst.Of(d), units.Length{}
	for step.Less(whole) && at.Less(whole) && len(r.Pecks) < maxPecks {
		to := units.Min(at.Plus(step), whole)
		r.Pecks = append(r.Pecks, Peck{len(r.Pecks) + 1, to, to.Minus(at)})
		at, step = to, practice.PeckThen.Of(d)
		if practice.PeckDeepFrom.Of(d).Cmp(at) <= 0 {
			step = practice.PeckDeep.Of(d)
		}
	}
	if deep := practice.DeepHole.Number(); whole.Over(d) > deep {
		r.Warn("deep-hole", say.Num(whole.Over(d), 1), " diameters deep: past ", say.Num(deep, 1),
			" the speed comes down, by up to half")
	}
	if len(r.Pecks) == maxPecks && at.Less(whole) {
		r.Warn("deep-hole", "too deep for a twist drill: the table of pecks stops")
	}
}

// Bar is the boring bar for a hole: the thickest that goes in and reaches, and
// how far one of its diameter may stick out.
type Bar struct {
	Diameter units.Length `json:"diameter_mm"`
	Reach    units.Length `json:"reach_mm"`
	Limit    units.Length `json:"reach_limit_mm"`
}

// bar chooses the boring bar.
func (r *Result) bar() {
	in := r.Inputs
	if in.Operation != Bore {
		return
	}
	if len(in.Bars) == 0 {
		r.NotChecked("boring_bars", "which boring bar serves was not checked")
		return
	}
	room := practice.BoringBarFill.Of(in.Diameter)
	for _, b := range in.Bars {
		if room.Less(b.Diameter) || in.Length != nil && b.Reach.Less(*in.Length) {
			continue
		}
		if r.BoringBar == nil || r.BoringBar.Diameter.Less(b.Diameter) {
			r.BoringBar = &Bar{b.Diameter, b.Reach, practice.BoringBarSteel.Of(b.Diameter)}
		}
	}
	if r.BoringBar == nil {
		r.Warn("no-bar", "no boring bar of this shop goes in and reaches: it may fill ",
			say.Num(practice.BoringBarFill.Number(), 2), " of the hole")
		return
	}
	r.BarDia = &r.BoringBar.Diameter
	if in.Length != nil && r.BoringBar.Limit.Less(*in.Length) {
		r.Warn("bar-reach", *in.Length, " is more than ", say.Num(practice.BoringBarSteel.Number(), 1),
			" diameters of a steel bar: it will chatter, take light cuts (solid carbide stands ",
			say.Num(practice.BoringBarCarbide.Number(), 1), ")")
	}
}
