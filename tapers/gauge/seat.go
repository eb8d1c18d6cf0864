package gauge

import (
	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// SeatInput is a cone and the bore of a collar that is slid on from the small
// end.
type SeatInput struct {
	tapers.Input
	Bore units.Length `json:"bore_mm"`
}

// SeatResult is where the bore's edge stops: At from the large end, FromSmall
// from the small one, both nil where it stops nowhere on the cone. PerMicron is
// how far the stop moves when the bore is 0.001 mm larger, toward the large end.
type SeatResult struct {
	Inputs    SeatInput     `json:"inputs"`
	At        *units.Length `json:"at_mm" show:"from the large end" note:"to the sharp edge of the bore"`
	FromSmall *units.Length `json:"from_small_end_mm" show:"from the small end"`
	PerMicron units.Number  `json:"per_um_mm" show:"a micrometre of bore" as:"5 mm"`
	HalfAngle units.Angle   `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Stops     bool          `json:"stops"` // on the cone; else it passes over or does not go on
	sheet.Remarks

	large units.Length
}

// Seat returns where a bore stops on a cone:
//
//	z = (D - bore)/(2·tan a), from the large end
//
// exact to 1e-9 mm. The large diameter must be known. A bore that passes the
// whole cone, or does not go on, is an answer of no.
func Seat(in SeatInput) (SeatResult, error) {
	t, err := tapers.Solve(in.Input)
	var bad check.List
	bad.Add(err)
	bad.Above0("bore", in.Bore)
	if err == nil && t.Large == nil {
		bad.Add(tapers.NeedsSizes("large", "where the bore stops needs"))
	}
	if err := bad.Err(); err != nil {
		return SeatResult{}, err
	}
	tan := t.HalfAngle.Tan()
	r := SeatResult{Inputs: in, HalfAngle: t.HalfAngle, PerMicron: units.Number(0.001 / (2 * tan)), large: *t.Large}
	r.Stops = in.Bore.Cmp(*t.Large) <= 0 && t.Small.Cmp(in.Bore) <= 0
	switch {
	case t.Large.Less(in.Bore):
		r.No(problem.New(problem.NotReachable, "bore", in.Bore.Nearest(),
			"passes over the whole cone: larger than the large end, ", t.Large))
	case in.Bore.Less(*t.Small):
		r.No(problem.New(problem.NotReachable, "bore", in.Bore.Nearest(),
			"does not go on: smaller than the small end, ", t.Small))
	default:
		r.At = new(units.FromFloat(t.Large.Minus(in.Bore).MM() / (2 * tan)))
		r.FromSmall = new(t.Length.Minus(*r.At))
	}
	return r, nil
}

// Sheet implements sheet.Result.
func (r SeatResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Where a collar stops on a cone")
	s.Remark(&r.PerMicron, "moves the stop that far toward the large end")
	s.Figures()
	if r.At != nil {
		s.Step("z", "(D - bore)/(2*tan(a))", r.At, "D", r.large, "bore", r.Inputs.Bore, "a", r.HalfAngle)
	}
	s.Note("Measure the cone first and bore the collar to it: a chamfer on the bore's edge counts as a larger bore.")
	return *s
}
