package feeds

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

// Peck is one push of the drill: how deep it goes and how much of that is new.
type Peck struct {
	N    int          `json:"n"`
	To   units.Length `json:"to_mm"`
	Step units.Length `json:"step_mm"`
}

// pecks returns how a hole deeper than three diameters is drilled: three
// diameters first, one at a time to six, half a one from there (common
// practice, no source). It is nil for any other hole.
func pecks(in Input) []Peck {
	if in.Operation != Drill || in.Length == nil {
		return nil
	}
	d := in.Diameter
	if in.Length.Cmp(d.Times(3)) <= 0 {
		return nil
	}
	var list []Peck
	at := units.Length{}
	for step := d.Times(3); at.Less(*in.Length) && len(list) < maxPecks; {
		to := units.Min(at.Plus(step), *in.Length)
		list = append(list, Peck{len(list) + 1, to, to.Minus(at)})
		at, step = to, d
		if d.Times(6).Cmp(at) <= 0 {
			step = d.Half()
		}
	}
	return list
}

// maxPecks is where a table of pecks ends: such a hole is a gun drill's.
const maxPecks = 60

// checkPecks warns of what a table of pecks does not tell: that deep holes are
// drilled slower (norseman: past 4 diameters, by up to half), and where it ends.
func (r *Result) checkPecks() {
	in := r.Inputs
	if in.Operation != Drill || in.Length == nil {
		return
	}
	if ratio := in.Length.Over(in.Diameter); ratio > 4 {
		r.Warnings.Add("deep-hole", fmt.Sprintf("%.1f diameters deep: past 4 the speed comes down, by up to half", ratio))
	}
	if n := len(r.Pecks); n == maxPecks && r.Pecks[n-1].To.Less(*in.Length) {
		r.Warnings.Add("deep-hole", "too deep for a twist drill: the table of pecks stops")
	}
}

// Bar is the boring bar for a hole: the thickest that goes in and reaches, and
// how far one of its diameter may stick out.
type Bar struct {
	Diameter units.Length `json:"diameter_mm"`
	Reach    units.Length `json:"reach_mm"`
	Limit    units.Length `json:"reach_limit_mm"`
}

// How far a boring bar may stick out, in its own diameters, and how much of
// the hole it may fill (common practice, no source).
const (
	steelReach   = 4
	carbideReach = 6 // a bar of solid carbide, not a steel one with a carbide tip
	barFill      = 4 // fifths
)

// bar chooses the boring bar.
func (r *Result) bar() {
	in := r.Inputs
	if in.Operation != Bore {
		return
	}
	if len(in.Bars) == 0 {
		r.Warnings.Add("not-checked", "which boring bar serves was not checked (boring_bars)")
		return
	}
	room := in.Diameter.Times(barFill)
	var best *shop.BoringBar
	for i, b := range in.Bars {
		if b.Diameter.Times(5).Cmp(room) > 0 || in.Length != nil && b.Reach.Less(*in.Length) {
			continue
		}
		if best == nil || best.Diameter.Less(b.Diameter) {
			best = &in.Bars[i]
		}
	}
	if best == nil {
		r.Warnings.Add("no-bar", "no boring bar of this shop goes in and reaches: it may fill four fifths of the hole")
		return
	}
	r.BoringBar = &Bar{best.Diameter, best.Reach, best.Diameter.Times(steelReach)}
	if in.Length != nil && r.BoringBar.Limit.Less(*in.Length) {
		r.Warnings.Add("bar-reach", fmt.Sprintf("%v is more than %d diameters of a steel bar: it will chatter, take light cuts (solid carbide stands %d)", *in.Length, steelReach, carbideReach))
	}
}
