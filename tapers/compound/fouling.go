package compound

import (
	"fmt"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
)

// Bar is a boring bar with what it has to spare.
type Bar struct {
	Diameter units.Length `json:"diameter_mm"`
	Reach    units.Length `json:"reach_mm"`
}

// setFouling checks what may foul: for an outside the post and the slide, for
// a bore the bar.
func (r *Result) setFouling() error {
	in := r.Inputs
	if in.Internal {
		if in.FromJaws != nil {
			r.Warnings.Add("bore", "for a bore the post and the slide are not looked at, but the boring bar")
		}
		r.setBar()
		return nil
	}
	if in.FromJaws == nil {
		return nil
	}
	if r.Length == nil {
		return problem.New(problem.Missing, "from-jaws", nil, "the clearance needs the taper's sizes: two of --large, --small and --length beside the slope")
	}
	f := fouling.Input{
		Head: *r.Large, Tail: *r.Small, Length: *r.Length, HalfAngle: r.HalfAngle, Place: in.Place,
		Chuck: in.Chuck, Compound: in.Compound, Post: in.Post, Tools: in.Tools, Tailstock: in.Tailstock,
	}
	if in.SmallEnd == tapers.AtHeadstock {
		f.Head, f.Tail = f.Tail, f.Head
	}
	found, err := fouling.Check(f)
	if err != nil {
		return err
	}
	r.Finding = &found
	r.Warnings = append(r.Warnings, found.NotChecked...)
	r.fails = append(r.fails, found.Fails()...)
	return nil
}

// setBar looks for the stiffest bar that passes the small end and reaches the
// whole length.
func (r *Result) setBar() {
	switch {
	case r.Length == nil:
		return
	case len(r.Inputs.Bars) == 0:
		r.Warnings.Add("not-checked", "whether a boring bar goes in was not checked (boring_bars)")
		return
	}
	for _, b := range r.Inputs.Bars {
		if b.Diameter.Less(*r.Small) && r.Length.Cmp(b.Reach) <= 0 && (r.Bar == nil || r.Bar.Diameter.Less(b.Diameter)) {
			r.Bar = &Bar{b.Diameter, b.Reach}
		}
	}
	if r.Bar == nil {
		r.fails.Add(problem.New(problem.NotReachable, "internal", nil, fmt.Sprintf(
			"no boring bar here is thinner than the small end, %s, and reaches %s", sheet.Inline(*r.Small, units.Down), sheet.Inline(*r.Length, units.Up))))
	}
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }

// foulingFacts are the lines about what may foul.
func (r Result) foulingFacts() []sheet.Fact {
	switch {
	case r.Finding != nil:
		return r.ClearanceFacts()
	case r.Bar != nil:
		return []sheet.Fact{{Key: "boring_bar", Label: "boring bar", Value: sheet.Len(r.Bar.Diameter), Remark: "the stiffest that passes the small end; it reaches " + sheet.Inline(r.Bar.Reach, units.Down)}}
	}
	return nil
}
