package gauge

import (
	"math"

	"setover/setup/base/check"
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
	measured := given(&bad, in.Input, check.If("large-depth", in.LargeDepth), check.If("small-depth", in.SmallDepth))
	if err := bad.Err(); err != nil {
		return BallsResult{}, err
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
			return new(units.FromFloat((t.Large.MM()/2-ball/t.HalfAngle.Cos())/t.HalfAngle.Tan() - ball))
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
		return problem.New(problem.Impossible, "large-ball", r.Inputs.LargeBall,
			"would touch ", high.Neg(), " above the mouth, and rides on its edge: take a smaller one")
	}
	if low := at(*r.SmallDepth, r.Inputs.SmallBall); length != nil && length.Less(low) {
		return problem.New(problem.Impossible, "small-ball", r.Inputs.SmallBall,
			"would touch ", low, " down, below the bore of ", length, ": take a larger one")
	}
	return nil
}

func (r *BallsResult) fromDepths(R, small float64) error {
	in := r.Inputs
	c1, c2 := in.LargeDepth.MM()+R, in.SmallDepth.MM()+small
	if c2-c1 <= R-small {
		return problem.New(problem.Impossible, "small-depth", in.SmallDepth, "the balls' middles come ",
			units.FromFloat(c2-c1), " apart: in a bore they are more than ", units.FromFloat(R-small))
	}
	a := units.Radians(math.Asin((R - small) / (c2 - c1)))
	r.angle(a, units.FromFloat(c2-c1))
	r.LargeDepth, r.SmallDepth = in.LargeDepth, in.SmallDepth
	r.Large = new(units.FromFloat(2 * (R/a.Cos() + c1*a.Tan())))
	if in.Length != nil {
		s := r.Large.Minus(units.FromFloat(2 * in.Length.MM() * a.Tan()))
		if s.Sign() < 0 {
			return problem.New(problem.OutOfRange, "length", in.Length,
				"the bore comes to a point first: at most ", units.FromFloat(c1+R/a.Sin()).Down())
		}
		r.Small = &s
	}
	return nil
}

// Sheet implements sheet.Result.
func (r BallsResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper bore by two balls")
	s.Remark(&r.LargeDepth, "under the face; negative: above it")
	s.Remark(&r.PerMicron, "in the half angle, of either depth")
	s.Figures()
	s.Work("a", "asin((R - r)/C)", r.HalfAngle.Deg(), "deg", sheet.Let("R", r.Inputs.LargeBall.MM()/2),
		sheet.Let("r", r.Inputs.SmallBall.MM()/2), sheet.Let("C", r.Centre.MM()))
	s.Note("The large diameter is that of the mouth, sharp. ",
		"The large ball is taken out before the small one is measured.")
	return *s
}
