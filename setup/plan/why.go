package plan

import (
	"slices"

	"setover/setup/base/say"
	"setover/setup/page/sheet"
)

// Broken is a rule that moving an operation earlier would break: the operation
// N it would have to pass.
type Broken struct {
	N      int      `json:"n" show:"n"`
	Name   say.Text `json:"name" show:"operation"`
	Code   string   `json:"code" show:"rule"`
	Reason string   `json:"reason" show:"since"`
}

// Why says what stands against doing an operation earlier: the rules it would
// break, the earliest place they leave it, and what that place would cost.
type Why struct {
	N        int      `json:"n"`
	Name     say.Text `json:"name"`
	Breaks   []Broken `json:"breaks"`
	Earliest int      `json:"earliest" show:"earliest place" note:"that breaks no rule"`
	Setups   int      `json:"more_setups" show:"set-ups more there"`
	Regrips  int      `json:"more_regrips" show:"regrips more there"`
	Tools    int      `json:"more_tool_changes" show:"tool changes more there"`
	sheet.Remarks

	hash string
}

// PartHash returns the short hash of the part's file, for the foot of a page.
func (w Why) PartHash() string { return w.hash }

// Why returns what moving operation n of the plan earlier would break. n runs
// from 1 to the number of operations.
func (r Result) Why(n int) (Why, error) {
	if err := r.checkStep("why", n); err != nil {
		return Why{}, err
	}
	i, d := n-1, r.found
	w := Why{N: n, Name: r.Operations[i].Name, Breaks: []Broken{}, Earliest: 1, hash: r.Inputs.Part.Hash}
	for k := range i {
		for _, b := range d.bonds(k, i, k) {
			w.Breaks = append(w.Breaks, Broken{b.N, r.Operations[k].Name, b.Code, b.Reason})
			w.Earliest = k + 2
		}
	}
	moved := slices.Delete(slices.Clone(d.sequence), i, i+1)
	moved = slices.Insert(moved, w.Earliest-1, d.sequence[i])
	was, is := d.job.CostOf(d.sequence), d.job.CostOf(moved)
	w.Setups, w.Regrips, w.Tools = is.Setups-was.Setups, is.Losses-was.Losses, is.Tools-was.Tools
	return w, nil
}

// Sheet implements sheet.Result.
func (w Why) Sheet() sheet.Sheet {
	s := sheet.Of(&w, "Why step ", w.N, ", ", w.Name, ", is not earlier")
	if w.Earliest >= w.N {
		s.Skip(&w.Setups, &w.Regrips, &w.Tools)
	}
	s.Figures()
	if len(w.Breaks) == 0 {
		s.Note("No rule stands against doing it first: " +
			"it is placed where it saves a set-up, a regrip or a tool change, and else by its number.")
		return *s
	}
	s.Table(w.Breaks, "Before it must come")
	return *s
}
