package facets

import (
	"fmt"
	"math"

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
	Depth     units.Length `json:"depth_mm"`
	Reading   units.Length `json:"reading_mm"`
	Width     units.Length `json:"width_mm"`
	WidthLast units.Length `json:"width_last_mm"`
}

// ProgressResult is a growing flat from the first touch to the finished size.
type ProgressResult struct {
	Inputs ProgressInput `json:"inputs"`
	Depth  units.Length  `json:"flat_depth_mm"`
	Side   units.Length  `json:"side_mm"`
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
	var list problem.List
	list.Add(CheckSides(in.Sides))
	if in.Flats.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "flats", in.Flats, "must be above 0"))
	}
	if len(list) > 0 {
		return ProgressResult{}, list
	}
	p := OfFlats(in.Sides, in.Flats)
	depth := p.FlatDepth(in.Blank)
	if depth.Sign() <= 0 {
		return ProgressResult{}, problem.New(problem.OutOfRange, "blank", in.Blank, fmt.Sprintf("no flat is cut into it: more than %v", p.Apothem.Times(2)))
	}
	step := units.FromFloat(depth.MM() / 10)
	if in.Step != nil {
		step = *in.Step
	}
	if step.Sign() <= 0 || step.Times(maxStations).Less(depth) {
		return ProgressResult{}, problem.New(problem.OutOfRange, "step", step, fmt.Sprintf("must be above 0 and give at most %d steps", maxStations))
	}
	r := ProgressResult{Inputs: in, Depth: depth, Side: p.Side(), apothem: p.Apothem}
	for t := step; t.Less(depth); t = t.Plus(step) {
		r.Steps = append(r.Steps, r.at(t))
	}
	r.Steps = append(r.Steps, r.at(depth))
	if in.Blank.Less(p.AcrossCorners()) {
		r.Warnings.Add("round-corners", fmt.Sprintf("the corners stay round: sharp ones need a blank of %s", sheet.Inline(p.AcrossCorners(), units.Up)))
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

// sideRemark says when a flat is as wide as the polygon's.
func (r ProgressResult) sideRemark() string {
	if last := r.Steps[len(r.Steps)-1]; last.WidthLast.Less(r.Side.Minus(units.MustLength("0.000001mm"))) {
		return "with sharp corners; from this blank it stays at " + sheet.Inline(last.WidthLast, units.Nearest)
	}
	return "once its neighbours are ground too"
}

// Sheet implements sheet.Result.
func (r ProgressResult) Sheet() sheet.Sheet {
	t := sheet.Table{Title: "The growing flat", Cols: []sheet.Column{
		{Key: "depth_mm", Head: "depth"},
		{Key: "reading_mm", Head: "over the round opposite"},
		{Key: "width_mm", Head: "first flats wide"},
		{Key: "width_last_mm", Head: "last ones wide"},
	}}
	for _, s := range r.Steps {
		t.Add(sheet.Len(s.Depth), sheet.Len(s.Reading), sheet.Len(s.Width), sheet.Len(s.WidthLast))
	}
	last := r.Steps[len(r.Steps)-1]
	return sheet.Sheet{
		Title: fmt.Sprintf("Grinding %d flats by their width", r.Inputs.Sides),
		Facts: []sheet.Fact{
			{Key: "flat_depth_mm", Label: "depth of a flat", Value: sheet.Len(r.Depth)},
			{Key: "side_mm", Label: "width of a finished flat", Value: sheet.Len(r.Side), Remark: r.sideRemark()},
		},
		Tables: []sheet.Table{t},
		Working: []sheet.Step{sheet.Work("width", "2*sqrt(B^2 - (B - t)^2)", last.Width.MM(), "mm",
			sheet.Let("B", r.Inputs.Blank.MM()/2), sheet.Let("t", r.Depth.MM()))},
		Notes:    []string{"Stop by the calliper: the first flats are ground into the bare round, the last ones lie between finished neighbours."},
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
}
