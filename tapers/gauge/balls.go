package gauge

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// BallsInput is two balls dropped one after the other into a taper bore that
// narrows downward, and either the bore or how deep the top of each ball lies
// under the face (negative where it stands above).
type BallsInput struct {
	tapers.Input
	LargeBall  units.Length  `json:"large_ball_mm"`
	SmallBall  units.Length  `json:"small_ball_mm"`
	LargeDepth *units.Length `json:"large_depth_mm,omitempty"`
	SmallDepth *units.Length `json:"small_depth_mm,omitempty"`
}

// BallsResult is the bore of two balls. Large is the bore's mouth. The depths
// are nil where the mouth is not known.
type BallsResult struct {
	Inputs BallsInput `json:"inputs"`
	Figures
	Centre     units.Length  `json:"centre_distance_mm"`
	LargeDepth *units.Length `json:"large_depth_mm"`
	SmallDepth *units.Length `json:"small_depth_mm"`
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
	var bad problem.List
	pair(&bad, "large-ball", in.LargeBall, "small-ball", in.SmallBall)
	measured := in.LargeDepth != nil && in.SmallDepth != nil
	if !measured && (in.LargeDepth != nil || in.SmallDepth != nil) {
		bad.Add(problem.New(problem.Missing, "large-depth", nil, "needs both --large-depth and --small-depth"))
	} else {
		bad.Add(given(known(in.Input), measured, "--large-depth and --small-depth"))
	}
	if len(bad) > 0 {
		return BallsResult{}, bad
	}
	r := BallsResult{Inputs: in}
	R, small := in.LargeBall.MM()/2, in.SmallBall.MM()/2
	if measured {
		if err := r.fromDepths(R, small); err != nil {
			return BallsResult{}, err
		}
		return r, r.seated(in.Length)
	}
	t, err := tapers.Solve(in.Input)
	if err != nil {
		return BallsResult{}, err
	}
	r.angle(t.HalfAngle, units.FromFloat((R-small)/t.HalfAngle.Sin()))
	r.Large, r.Small = t.Large, t.Small
	if t.Large != nil {
		depth := func(ball float64) *units.Length {
			l := units.FromFloat((t.Large.MM()/2-ball/t.HalfAngle.Cos())/t.HalfAngle.Tan() - ball)
			return &l
		}
		r.LargeDepth, r.SmallDepth = depth(R), depth(small)
	}
	return r, r.seated(t.Length)
}

func (r *BallsResult) angle(a units.Angle, centre units.Length) {
	r.HalfAngle, r.Included, r.Centre = a, a.Times(2), centre
	r.PerMicron = perMicronOf(a, centre)
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
		return problem.New(problem.Impossible, "large-ball", r.Inputs.LargeBall, fmt.Sprintf("would touch %s mm above the mouth, and rides on its edge: take a smaller one", high.Neg().Fixed(units.MM, 3, units.Nearest)))
	}
	if low := at(*r.SmallDepth, r.Inputs.SmallBall); length != nil && length.Less(low) {
		return problem.New(problem.Impossible, "small-ball", r.Inputs.SmallBall, fmt.Sprintf("would touch %s mm down, below the bore of %v: take a larger one", low.Fixed(units.MM, 3, units.Nearest), length))
	}
	return nil
}

func (r *BallsResult) fromDepths(R, small float64) error {
	in := r.Inputs
	c1, c2 := in.LargeDepth.MM()+R, in.SmallDepth.MM()+small
	if c2-c1 <= R-small {
		return problem.New(problem.Impossible, "small-depth", in.SmallDepth, fmt.Sprintf("the balls' middles come %s mm apart: in a bore they are more than %s", units.FromFloat(c2-c1).Fixed(units.MM, 3, units.Nearest), units.FromFloat(R-small).Fixed(units.MM, 3, units.Nearest)))
	}
	a := units.Radians(math.Asin((R - small) / (c2 - c1)))
	r.angle(a, units.FromFloat(c2-c1))
	r.LargeDepth, r.SmallDepth = in.LargeDepth, in.SmallDepth
	mouth := units.FromFloat(2 * (R/a.Cos() + c1*a.Tan()))
	r.Large = &mouth
	if in.Length != nil {
		s := mouth.Minus(units.FromFloat(2 * in.Length.MM() * a.Tan()))
		if s.Sign() < 0 {
			return problem.New(problem.OutOfRange, "length", in.Length, fmt.Sprintf("the bore comes to a point first: at most %s mm", units.FromFloat(c1+R/a.Sin()).Fixed(units.MM, 3, units.Down)))
		}
		r.Small = &s
	}
	return nil
}

// Sheet implements sheet.Result.
func (r BallsResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Sheet{Title: "Taper bore by two balls", Warnings: r.Warnings, Cautions: r.Cautions}
	if r.LargeDepth != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "large_depth_mm", Label: "top of the large ball", Value: sheet.Len(*r.LargeDepth), Remark: "under the face; negative: above it"},
			sheet.Fact{Key: "small_depth_mm", Label: "top of the small ball", Value: sheet.Len(*r.SmallDepth), Remark: "under the face"})
	}
	s.Facts = append(s.Facts, sheet.Fact{Key: "centre_distance_mm", Label: "between their middles", Value: sheet.Len(r.Centre)})
	s.Facts = append(s.Facts, r.facts("of either depth")...)
	s.Working = []sheet.Step{sheet.Work("a", "asin((R - r)/C)", r.HalfAngle.Deg(), "deg", sheet.Let("R", in.LargeBall.MM()/2), sheet.Let("r", in.SmallBall.MM()/2), sheet.Let("C", r.Centre.MM()))}
	s.Notes = []string{"The large diameter is that of the mouth, sharp. The large ball is taken out before the small one is measured."}
	return s
}
