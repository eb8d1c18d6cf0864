package gauge

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// DiscsInput is two discs that both touch the sides of a taper, and either the
// taper or the gap between the discs.
type DiscsInput struct {
	tapers.Input
	LargeDisc units.Length  `json:"large_disc_mm"`
	SmallDisc units.Length  `json:"small_disc_mm"`
	Gap       *units.Length `json:"gap_mm,omitempty"`
	Care
}

// DiscsResult is the taper of two discs. Large and Small are the taper's width
// at the middle of each disc.
type DiscsResult struct {
	Inputs DiscsInput   `json:"inputs"`
	Gap    units.Length `json:"gap_mm" show:"gap between the discs"`
	Centre units.Length `json:"centre_distance_mm" show:"between their middles"`
	Figures
	sheet.Remarks
}

// Discs works between a taper and the gap of two discs:
//
//	sin a = (D1 - D2)/(2·C),  C = gap + (D1 + D2)/2
//
// It is exact. It fails where D1 is not above D2, where the taper and the gap
// are both given or neither, and where the discs would overlap.
func Discs(in DiscsInput) (DiscsResult, error) {
	var bad check.List
	bad.Above0("small-disc", in.SmallDisc)
	bad.Above("large-disc", in.LargeDisc, in.SmallDisc, "the small one")
	bad.NotBelow0("gap", in.Gap, "reading-error", in.ReadingError)
	given(&bad, in.Input, check.If("gap", in.Gap))
	if err := bad.Err(); err != nil {
		return DiscsResult{}, err
	}
	r := DiscsResult{Inputs: in}
	sum, less := in.LargeDisc.Plus(in.SmallDisc).Half(), in.LargeDisc.Minus(in.SmallDisc).MM()/2
	var a units.Angle
	if in.Gap != nil {
		r.Gap, r.Centre = *in.Gap, sum.Plus(*in.Gap)
		a = aslant(less, r.Centre)
	} else {
		t, err := tapers.Solve(in.Input)
		if err != nil {
			return DiscsResult{}, err
		}
		a, r.Centre = t.HalfAngle, units.FromFloat(less/t.HalfAngle.Sin())
		r.Gap = r.Centre.Minus(sum)
		if r.Gap.Sign() < 0 {
			return DiscsResult{}, problem.New(problem.Impossible, "small-disc", in.SmallDisc,
				"the discs would overlap by ", r.Gap.Neg().Up(), " on this taper: take a smaller one")
		}
	}
	across := func(d units.Length) *units.Length { return new(units.FromFloat(d.MM() / a.Cos())) }
	t := tapers.Taper{HalfAngle: a, Large: across(in.LargeDisc), Small: across(in.SmallDisc)}
	r.Figures = figures(t, perDistance(a, r.Centre))
	if in.Gap != nil {
		r.bound(aslant(less, r.Centre.Plus(in.off())), aslant(less, r.Centre.Minus(in.off())))
	}
	return r, nil
}

// aslant returns the half angle where two radii that differ by less, which is
// above 0, stand c apart; a right angle where c is no longer than that.
func aslant(less float64, c units.Length) units.Angle {
	if c.MM() <= less {
		return units.Degrees(90)
	}
	return units.Radians(math.Asin(less / c.MM()))
}

// perDistance is what the distance C is worth in the angle where sin a = k/C:
// tan a/C.
func perDistance(a units.Angle, c units.Length) float64 { return a.Tan() / c.MM() }

// Sheet implements sheet.Result.
func (r DiscsResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper of two discs")
	s.Remark(&r.PerMicron, "in the half angle, for ", r.PerMicron.each(), " of the gap")
	r.explain(s, "the gap may be ", r.Inputs.off(), " off")
	s.Figures()
	d1, d2 := r.Inputs.LargeDisc, r.Inputs.SmallDisc
	s.Step("C", "gap + (D1 + D2)/2", r.Centre, "gap", r.Gap, "D1", d1, "D2", d2)
	s.Step("a", "asin((D1 - D2)/(2*C))", r.HalfAngle, "D1", d1, "D2", d2, "C", r.Centre)
	s.Note("Large and small are the taper's width at the middle of each disc.")
	return *s
}

// BallsInput is two balls dropped one after the other into a taper bore that
// narrows downward, and either the bore or how deep the top of each ball lies
// under the face (negative where it stands above).
type BallsInput struct {
	tapers.Input
	LargeBall  units.Length  `json:"large_ball_mm"`
	SmallBall  units.Length  `json:"small_ball_mm"`
	LargeDepth *units.Length `json:"large_depth_mm,omitempty"`
	SmallDepth *units.Length `json:"small_depth_mm,omitempty"`
	Care
}

// BallsResult is the bore of two balls. Large is the bore's mouth. The depths
// are nil where the mouth is not known.
type BallsResult struct {
	Inputs     BallsInput    `json:"inputs"`
	LargeDepth *units.Length `json:"large_depth_mm" show:"top of the large ball"`
	SmallDepth *units.Length `json:"small_depth_mm" show:"top of the small ball" note:"under the face"`
	Centre     units.Length  `json:"centre_distance_mm" show:"between their middles"`
	Figures
	sheet.Remarks
}

// Balls works between a taper bore and the depths of two balls:
//
//	C     = (h2 + r) - (h1 + R),  sin a = (R - r)/C
//	mouth = 2·(R/cos a + (h1 + R)·tan a)
//
// R and r are the balls' radii, h1 and h2 the depths of their tops. It is
// exact. It fails where R is not above r, where the bore and the depths are
// both given or neither, where the balls' middles are no further apart than
// R - r, as they are in no bore, and where a ball would touch above the mouth or
// below the small end: it touches r·sin a under its middle.
func Balls(in BallsInput) (BallsResult, error) {
	var bad check.List
	bad.Above0("small-ball", in.SmallBall)
	bad.Above("large-ball", in.LargeBall, in.SmallBall, "the small one")
	bad.NotBelow0("reading-error", in.ReadingError)
	measured := given(&bad, in.Input, check.If("large-depth", in.LargeDepth), check.If("small-depth", in.SmallDepth))
	if err := bad.Err(); err != nil {
		return BallsResult{}, err
	}
	R, small := in.LargeBall.MM()/2, in.SmallBall.MM()/2
	t, err := in.bore(measured, R, small)
	if err != nil {
		return BallsResult{}, err
	}
	a := t.HalfAngle
	r := BallsResult{
		Inputs: in, Centre: units.FromFloat((R - small) / a.Sin()), LargeDepth: in.LargeDepth, SmallDepth: in.SmallDepth,
	}
	if t.Large != nil && !measured {
		depth := func(ball float64) *units.Length {
			return new(units.FromFloat((t.Large.MM()/2-ball/a.Cos())/a.Tan() - ball))
		}
		r.LargeDepth, r.SmallDepth = depth(R), depth(small)
	}
	r.Figures = figures(t, perDistance(a, r.Centre))
	if measured {
		e := in.off().Times(2)
		r.bound(aslant(R-small, r.Centre.Plus(e)), aslant(R-small, r.Centre.Minus(e)))
	}
	return r, r.seated(t.Length)
}

// bore returns the bore that is stated or follows from the depths.
func (in BallsInput) bore(measured bool, R, small float64) (tapers.Taper, error) {
	if !measured {
		return tapers.Solve(in.Input)
	}
	c1, c2 := in.LargeDepth.MM()+R, in.SmallDepth.MM()+small
	if c2-c1 <= R-small {
		return tapers.Taper{}, problem.New(problem.Impossible, "small-depth", in.SmallDepth, "the balls' middles come ",
			units.FromFloat(c2-c1), " apart: in a bore they are more than ", units.FromFloat(R-small))
	}
	a := aslant(R-small, units.FromFloat(c2-c1))
	return ofMeasured(a, new(units.FromFloat(2*(R/a.Cos()+c1*a.Tan()))), nil, in.Length)
}

// seated checks that both balls touch the bore, between the mouth and the small
// end where the length is known.
func (r BallsResult) seated(length *units.Length) error {
	if r.LargeDepth == nil {
		return nil
	}
	at := func(depth, ball units.Length) units.Length {
		return depth.Plus(units.FromFloat(ball.MM() / 2 * (1 + r.HalfAngle.Sin())))
	}
	if high := at(*r.LargeDepth, r.Inputs.LargeBall); high.Sign() < 0 {
		return problem.New(problem.Impossible, "large-ball", r.Inputs.LargeBall,
			"would touch ", high.Neg(), " above the mouth, and rides on its edge: take a smaller one")
	}
	if low := at(*r.SmallDepth, r.Inputs.SmallBall); length != nil && length.Less(low) {
		return problem.New(problem.Impossible, "small-ball", r.Inputs.SmallBall,
			"would touch ", low, " down, below the bore of ", length, ": take a larger one")
	}
	return nil
}

// Sheet implements sheet.Result.
func (r BallsResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper bore by two balls")
	s.Remark(&r.LargeDepth, "under the face; negative: above it")
	s.Remark(&r.PerMicron, "in the half angle, for ", r.PerMicron.each(), " of either depth")
	r.explain(s, "each depth may be ", r.Inputs.off(), " off")
	s.Figures()
	s.Step("a", "asin((R - r)/C)", r.HalfAngle, "R", r.Inputs.LargeBall.Half(), "r", r.Inputs.SmallBall.Half(),
		"C", r.Centre)
	s.Note("The large diameter is that of the mouth, sharp. ",
		"The large ball is taken out before the small one is measured.")
	return *s
}

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
	PerMicron Moves         `json:"per_um_mm" show:"a larger bore" as:"5"`
	HalfAngle units.Angle   `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Stops     bool          `json:"stops"` // on the cone; else it passes over or does not go on
	sheet.Remarks

	large units.Length
}

// Moves is how far a stop moves for a small step of a bore, in mm: for 0.001 mm,
// and on a page in inches for 0.0001 in.
type Moves float64

// In implements units.Measured.
func (m Moves) In(u units.Unit) (v float64, unit string) {
	if u == units.Inch {
		return float64(m) / 10, u.String()
	}
	return float64(m), u.String()
}

// Words implements say.Quantity.
func (m Moves) Words() (mm, inch string) {
	word := func(u units.Unit) string {
		v, unit := m.In(u)
		return say.Of(say.Num(v, 5), " ", unit).In(u)
	}
	return word(units.MM), word(units.Inch)
}

// MarshalJSON returns m as a number.
func (m Moves) MarshalJSON() ([]byte, error) { return units.Number(m).MarshalJSON() }

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
	r := SeatResult{Inputs: in, HalfAngle: t.HalfAngle, PerMicron: Moves(0.001 / (2 * tan)), large: *t.Large}
	switch {
	case t.Large.Less(in.Bore):
		r.No(problem.New(problem.NotReachable, "bore", in.Bore.Nearest(),
			"passes over the whole cone: larger than the large end, ", t.Large))
	case in.Bore.Less(*t.Small):
		r.No(problem.New(problem.NotReachable, "bore", in.Bore.Nearest(),
			"does not go on: smaller than the small end, ", t.Small))
	default:
		r.At = new(units.FromFloat(t.Large.Minus(in.Bore).MM() / (2 * tan)))
		r.FromSmall, r.Stops = new(t.Length.Minus(*r.At)), true
	}
	return r, nil
}

// Sheet implements sheet.Result.
func (r SeatResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Where a collar stops on a cone")
	s.Remark(&r.PerMicron, Worth(0).each(), " more moves the stop that far toward the large end")
	s.Figures()
	if r.At != nil {
		s.Step("z", "(D - bore)/(2*tan(a))", r.At, "D", r.large, "bore", r.Inputs.Bore, "a", r.HalfAngle)
	}
	s.Note("Measure the cone first and bore the collar to it: a chamfer on the bore's edge counts as a larger bore.")
	return *s
}
