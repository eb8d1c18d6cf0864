package facets

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// ProgressInput is a polygon that is ground from a round, and the step of the
// table; a tenth of the depth where not given.
type ProgressInput struct {
	Sides int           `json:"sides"`
	Blank units.Length  `json:"blank_mm"`
	Flats units.Length  `json:"flats_mm"`
	Step  *units.Length `json:"step_mm,omitempty"`
}

// Progress is a growing flat at one depth. Reading is over the flat and the
// round opposite. Width is the flat's on the bare round, WidthLast between two
// finished neighbours.
type Progress struct {
	Depth     units.Length `json:"depth_mm" show:"depth"`
	Reading   units.Length `json:"reading_mm" show:"over the round opposite"`
	Width     units.Length `json:"width_mm" show:"first flats wide"`
	WidthLast units.Length `json:"width_last_mm" show:"last ones wide"`
}

// ProgressResult is a growing flat from the first touch to the finished size.
type ProgressResult struct {
	Inputs ProgressInput `json:"inputs"`
	Depth  units.Length  `json:"flat_depth_mm" show:"depth of a flat"`
	Side   units.Length  `json:"side_mm" show:"width of a finished flat"`
	Steps  []Progress    `json:"steps"`
	sheet.Remarks

	apothem units.Length
}

// ProgressOf returns how wide a flat grows as it is ground into a round of the
// radius B:
//
//	width      = 2·sqrt(B² - (B - t)²)
//	width last = 2·(A - (B - t)·cos(360/n))/sin(360/n), at most the width
//
// t is the depth and A the apothem: the second is what two finished neighbours
// leave. Sides run from 3 to 24, Flats is above 0, Blank larger than the round
// inside the flats, Step above 0 and at least a thousandth of the depth.
func ProgressOf(in ProgressInput) (ProgressResult, error) {
	var bad check.List
	bad.Between("sides", in.Sides, MinSides, MaxSides, "sides")
	bad.Above0("flats", in.Flats)
	if err := bad.Err(); err != nil {
		return ProgressResult{}, err
	}
	p := OfFlats(in.Sides, in.Flats)
	depth := p.FlatDepth(in.Blank)
	if depth.Sign() <= 0 {
		return ProgressResult{}, problem.New(problem.OutOfRange, "blank", in.Blank,
			"no flat is cut into it: more than ", p.Apothem.Times(2))
	}
	step := units.FromFloat(depth.MM() / 10)
	if in.Step != nil {
		step = *in.Step
	}
	if checkStep(&bad, "step", step, depth); bad.Err() != nil {
		return ProgressResult{}, bad.Err()
	}
	r := ProgressResult{Inputs: in, Depth: depth, Side: p.Side(), apothem: p.Apothem}
	for t := step; t.Less(depth); t = t.Plus(step) {
		r.Steps = append(r.Steps, r.at(t))
	}
	r.Steps = append(r.Steps, r.at(depth))
	if in.Blank.Less(p.AcrossCorners()) {
		r.Warn("round-corners", "the corners stay round: sharp ones need a blank of ", p.AcrossCorners().Up())
	}
	r.Caution(cautions.EyeProtection, cautions.GrindDust, cautions.Manual)
	return r, nil
}

// at returns the flat at the depth t.
func (r ProgressResult) at(t units.Length) Progress {
	b, a := r.Inputs.Blank.MM()/2, r.apothem.MM()
	out := b - t.MM()
	width := 2 * math.Sqrt(math.Max(b*b-out*out, 0))
	turn := units.Degrees(360 / float64(r.Inputs.Sides))
	last := math.Min(width, 2*math.Max(a-out*turn.Cos(), 0)/turn.Sin())
	return Progress{t, r.Inputs.Blank.Minus(t), units.FromFloat(width), units.FromFloat(last)}
}

// Sheet implements sheet.Result.
func (r ProgressResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Grinding ", r.Inputs.Sides, " flats by their width")
	last := r.Steps[len(r.Steps)-1]
	if last.WidthLast.Less(r.Side.Minus(units.MustLength("0.000001mm"))) {
		s.Remark(&r.Side, "with sharp corners; from this blank it stays at ", last.WidthLast)
	} else {
		s.Remark(&r.Side, "once its neighbours are ground too")
	}
	s.Figures()
	s.Table(r.Steps, "The growing flat")
	s.Step("width", "2*sqrt(B^2 - (B - t)^2)", last.Width, "B", r.Inputs.Blank.Half(), "t", r.Depth)
	s.Note("Stop by the calliper: the first flats are ground into the bare round, ",
		"the last ones lie between finished neighbours.")
	return *s
}
