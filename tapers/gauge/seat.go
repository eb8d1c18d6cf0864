package gauge

import (
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
	HalfAngle units.Angle   `json:"half_angle_deg"`
	At        *units.Length `json:"at_mm"`
	FromSmall *units.Length `json:"from_small_end_mm"`
	PerMicron units.Number  `json:"per_um_mm"`
	Stops     bool          `json:"stops"` // on the cone; else it passes over or does not go on
	sheet.Remarks

	large units.Length
	fails problem.List
}

// Seat returns where a bore stops on a cone:
//
//	z = (D - bore)/(2·tan a), from the large end
//
// exact to 1e-9 mm. The large diameter must be known. A bore that passes the
// whole cone, or does not go on, is an answer of no.
func Seat(in SeatInput) (SeatResult, error) {
	t, err := tapers.Solve(in.Input)
	var bad problem.List
	bad.Add(err)
	positive(&bad, "bore", in.Bore)
	if err == nil && t.Large == nil {
		bad.Add(problem.New(problem.Missing, "large", nil, "where the bore stops needs the cone's sizes: two of --large, --small and --length beside the slope"))
	}
	if len(bad) > 0 {
		return SeatResult{}, bad
	}
	tan := t.HalfAngle.Tan()
	r := SeatResult{Inputs: in, HalfAngle: t.HalfAngle, PerMicron: units.Number(0.001 / (2 * tan)), large: *t.Large}
	r.Stops = in.Bore.Cmp(*t.Large) <= 0 && t.Small.Cmp(in.Bore) <= 0
	switch {
	case t.Large.Less(in.Bore):
		r.fails.Add(problem.New(problem.NotReachable, "bore", sheet.Inline(in.Bore, units.Nearest), "passes over the whole cone: larger than the large end, "+sheet.Inline(*t.Large, units.Nearest)))
	case in.Bore.Less(*t.Small):
		r.fails.Add(problem.New(problem.NotReachable, "bore", sheet.Inline(in.Bore, units.Nearest), "does not go on: smaller than the small end, "+sheet.Inline(*t.Small, units.Nearest)))
	default:
		at := units.FromFloat(t.Large.Minus(in.Bore).MM() / (2 * tan))
		left := t.Length.Minus(at)
		r.At, r.FromSmall = &at, &left
	}
	return r, nil
}

// Fails implements sheet.Result.
func (r SeatResult) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r SeatResult) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Where a collar stops on a cone", Warnings: r.Warnings, Cautions: r.Cautions}
	s.Facts = []sheet.Fact{
		{Key: "at_mm", Label: "from the large end", Value: sheet.LenOrNone(r.At), Remark: "to the sharp edge of the bore"},
		{Key: "from_small_end_mm", Label: "from the small end", Value: sheet.LenOrNone(r.FromSmall)},
		{Key: "per_um_mm", Label: "a micrometre of bore", Value: sheet.Num(float64(r.PerMicron), 5, "mm"), Remark: "moves the stop that far toward the large end"},
		{Key: "half_angle_deg", Label: "half angle", Value: sheet.Ang(r.HalfAngle)},
	}
	if r.At != nil {
		s.Working = []sheet.Step{sheet.Work("z", "(D - bore)/(2*tan(a))", r.At.MM(), "mm", sheet.Let("D", r.large.MM()), sheet.Let("bore", r.Inputs.Bore.MM()), sheet.Let("a", r.HalfAngle.Deg()))}
	}
	s.Notes = []string{"Measure the cone first and bore the collar to it: a chamfer on the bore's edge counts as a larger bore."}
	return s
}
