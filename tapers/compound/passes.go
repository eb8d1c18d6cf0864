package compound

import (
	"fmt"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Pass is one cut along the slope. Radial is the whole infeed of the cross
// slide from where the tool touches the stock; Dia is the diameter that comes
// out at the end that was touched, and Cut how much of the taper's length has
// been reached. Turns and Divisions are the nearest line of the dial, nil
// without one; DiaSet is what that line gives.
type Pass struct {
	N         int           `json:"n"`
	Radial    units.Length  `json:"radial_mm"`
	Dia       units.Length  `json:"dia_mm"`
	Cut       units.Length  `json:"cut_length_mm"`
	Turns     *int64        `json:"turns"`
	Divisions *int64        `json:"divisions"`
	DiaSet    *units.Length `json:"dia_set_mm"`
}

// The depth of cut a side where none is given: common practice, no source.
var (
	DefaultDepth  = units.MustLength("0.5mm")
	DefaultFinish = units.MustLength("0.15mm")
)

const maxPasses = 500

// setPasses parts what is to come off into equal roughing passes of at most
// the depth a side, and one finishing pass. An outside is touched at the small
// end, where the stock stands over by (stock - d)/2; a bore at the large end,
// by (D - stock)/2.
func (r *Result) setPasses() error {
	in := r.Inputs
	if in.Stock == nil {
		return nil
	}
	if r.Length == nil {
		return problem.New(problem.Missing, "stock", nil, "passes need the taper's sizes: two of --large, --small and --length beside the slope")
	}
	depth, finish := DefaultDepth, DefaultFinish
	if in.Depth != nil {
		depth = *in.Depth
	}
	if in.Finish != nil {
		finish = *in.Finish
	}
	var list problem.List
	if depth.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "depth", depth, "a depth of cut must be above 0"))
	}
	if finish.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "finish", finish, "what is left to finish cannot be negative"))
	}
	touch, total := *r.Small, in.Stock.Minus(*r.Small).Half()
	switch {
	case in.Internal && r.Small.Less(*in.Stock):
		list.Add(problem.New(problem.Impossible, "stock", in.Stock, fmt.Sprintf("the bore is already larger than the small end, %v", r.Small)))
	case in.Internal:
		touch, total = *r.Large, r.Large.Minus(*in.Stock).Half()
	case in.Stock.Less(*r.Large):
		list.Add(problem.New(problem.Impossible, "stock", in.Stock, fmt.Sprintf("smaller than the large end, %v", r.Large)))
	}
	if len(list) > 0 {
		return list
	}
	finish = units.Min(finish, total)
	rough := total.Minus(finish)
	n := rough.Steps(depth, units.Up)
	if n > maxPasses {
		return problem.New(problem.OutOfRange, "depth", depth, fmt.Sprintf("makes %d passes: at most %d", n, maxPasses))
	}
	for i := int64(1); i <= n; i++ {
		r.addPass(touch, total, units.FromFloat(rough.MM()*float64(i)/float64(n)))
	}
	if finish.Sign() > 0 {
		r.addPass(touch, total, total)
	}
	return nil
}

// addPass appends the pass that ends at an infeed; touch is the diameter drawn
// at the end that was touched.
func (r *Result) addPass(touch, total, infeed units.Length) {
	dia := func(t units.Length) units.Length {
		if r.Inputs.Internal {
			return touch.Minus(total.Minus(t).Times(2))
		}
		return touch.Plus(total.Minus(t).Times(2))
	}
	p := Pass{
		N: len(r.Passes) + 1, Radial: infeed, Dia: dia(infeed),
		Cut: units.Min(*r.Length, units.FromFloat(infeed.MM()/r.HalfAngle.Tan())),
	}
	if c := r.Inputs.Cross; c != nil {
		s, at := c.Set(infeed)
		d := dia(s.Set)
		p.Turns, p.Divisions, p.DiaSet = &at.Turns, &at.Divisions, &d
	}
	r.Passes = append(r.Passes, p)
}

// passTable lists the passes.
func (r Result) passTable() []sheet.Table {
	if len(r.Passes) == 0 {
		return nil
	}
	end := "small end"
	if r.Inputs.Internal {
		end = "large end"
	}
	t := sheet.Table{Title: "Passes, from where the tool touches the stock at the " + end, Cols: []sheet.Column{
		{Key: "n", Head: "n"},
		{Key: "radial_mm", Head: "infeed"},
		{Key: "turns", Head: "turns"},
		{Key: "divisions", Head: "div"},
		{Key: "dia_mm", Head: "dia at " + end},
		{Key: "dia_set_mm", Head: "by the dial"},
		{Key: "cut_length_mm", Head: "cut along"},
	}}
	for _, p := range r.Passes {
		row := []sheet.Value{sheet.Count(p.N), sheet.Len(p.Radial), nil, nil, sheet.Len(p.Dia), sheet.LenOrNone(p.DiaSet), sheet.Len(p.Cut)}
		if p.Turns != nil {
			row[2], row[3] = sheet.Count(int(*p.Turns)), sheet.Count(int(*p.Divisions))
		}
		t.Add(row...)
	}
	return []sheet.Table{t}
}
