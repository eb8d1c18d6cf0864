package compound

import "setover/tapers"

// takes asks whether the lathe has room for the work. A plan asks that itself,
// of the whole work. A steep cone that is small at the tailstock's end is cut as
// an end is faced, with the cross slide beside the work.
func (r *Result) takes() {
	in := r.Inputs
	if in.Brief || in.Part || r.Length == nil {
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
