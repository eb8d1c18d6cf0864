package compound

import (
	"setover/setup/base/problem"
	"setover/setup/book/practice"
	"setover/tapers"
)

// takes asks whether the lathe has room for the work. A plan asks that itself,
// of the whole work. A steep cone that is small at the tailstock's end is cut as
// an end is faced, with the cross slide beside the work.
func (r *Result) takes() {
	in := r.Inputs
	if in.Brief || r.Length == nil {
		return
	}
	const facing = 45 // degrees
	w := tapers.Stands{
		LongKey: "length", Long: r.Length, AcrossKey: "large", Across: r.Large,
		Beside: in.Internal || in.SmallEnd == tapers.AtTailstock && r.HalfAngle.Deg() > facing,
	}
	if in.FromJaws != nil {
		w.LongKey, w.Long = "from-jaws", new(in.FromJaws.Plus(*r.Length))
	}
	if in.CentreAt != nil {
		w.LongKey, w.Long = "centre-at", in.CentreAt
	}
	if in.Stock != nil && !in.Internal {
		w.AcrossKey, w.Across = "stock", in.Stock
	}
	tapers.RoomOf(in.Lathe).Take(&r.Remarks, w)
}

// setBar looks for the stiffest bar that goes into the hole there is, which is no
// larger than the small end, and reaches the whole length.
func (r *Result) setBar() {
	switch {
	case r.Length == nil:
		return
	case len(r.Inputs.Bars) == 0:
		r.NotChecked("boring_bars", "whether a boring bar goes in was not checked")
		return
	}
	hole, what := *r.Small, "small end"
	if s := r.Inputs.Stock; s != nil && s.Less(hole) {
		hole, what = *s, "hole to begin with"
	}
	for _, b := range r.Inputs.Bars {
		fits := b.Diameter.Less(hole) && r.Length.Cmp(b.Reach) <= 0
		if fits && (r.Bar == nil || r.Bar.Diameter.Less(b.Diameter)) {
			r.Bar, r.BarDia = &Bar{b.Diameter, b.Reach}, &b.Diameter
		}
	}
	switch {
	case r.Bar == nil:
		r.No(problem.New(problem.NotReachable, "internal", nil, "no boring bar here is thinner than the ", what, ", ",
			hole.Down(), ", and reaches ", r.Length.Up()))
	case practice.BoringBarFill.Of(hole).Less(r.Bar.Diameter):
		r.Warn("bar-fills", "the boring bar of ", r.Bar.Diameter, " leaves little room for chips in a hole of ", hole,
			": ", practice.BoringBarFill.Of(hole).Down(), " is usual at the most, and clear the chips after every pass")
	}
	if r.Bar != nil {
		r.barHole = hole
	}
}
