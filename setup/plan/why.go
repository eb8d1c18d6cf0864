package plan

import (
	"fmt"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/page/sheet"
	"setover/setup/plan/order"
	"setover/setup/plan/rules"
)

// Broken is a rule that moving an operation earlier would break: the operation
// N it would have to pass.
type Broken struct {
	N      int    `json:"n"`
	Name   string `json:"name"`
	Code   string `json:"code"`
	Reason string `json:"reason"`
}

// Why says what stands against doing an operation earlier: the rules it would
// break, the earliest place they leave it, and what that place would cost.
type Why struct {
	N        int      `json:"n"`
	Name     string   `json:"name"`
	Breaks   []Broken `json:"breaks"`
	Earliest int      `json:"earliest"`
	Setups   int      `json:"more_setups"`
	Regrips  int      `json:"more_regrips"`
	Tools    int      `json:"more_tool_changes"`
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
	i := n - 1
	w := Why{N: n, Name: r.Operations[i].Name, Breaks: []Broken{}, Earliest: 1, hash: r.Inputs.Part.Hash}
	for k, a := range r.sequence[:i] {
		for _, p := range r.pairs {
			if p.A != a || p.B != r.sequence[i] {
				continue
			}
			b := Broken{k + 1, r.Operations[k].Name, p.Code, p.Reason}
			if !slices.Contains(w.Breaks, b) {
				w.Breaks = append(w.Breaks, b)
			}
			w.Earliest = k + 2
		}
	}
	moved := slices.Delete(slices.Clone(r.sequence), i, i+1)
	moved = slices.Insert(moved, w.Earliest-1, r.sequence[i])
	was, is := r.job.CostOf(r.sequence), r.job.CostOf(moved)
	w.Setups, w.Regrips, w.Tools = is.Setups-was.Setups, is.Losses-was.Losses, is.Tools-was.Tools
	return w, nil
}

// checkStep returns the problem of a step that the plan does not have.
func (r Result) checkStep(key string, n int) error {
	if n < 1 || n > len(r.Operations) {
		return problem.New(problem.OutOfRange, key, n, fmt.Sprintf("the plan has steps 1 to %d", len(r.Operations)))
	}
	return nil
}

// found is what the search found, kept for asking why.
type found struct {
	sequence []int
	pairs    []rules.Before
	job      order.Job
}

// Sheet implements sheet.Result.
func (w Why) Sheet() sheet.Sheet {
	s := sheet.Sheet{
		Title:    fmt.Sprintf("Why step %d, %s, is not earlier", w.N, w.Name),
		Facts:    []sheet.Fact{{Key: "earliest", Label: "earliest place", Value: sheet.Count(w.Earliest), Remark: "that breaks no rule"}},
		Warnings: w.Warnings, Cautions: w.Cautions,
	}
	if w.Earliest < w.N {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "more_setups", Label: "set-ups more there", Value: sheet.Count(w.Setups)},
			sheet.Fact{Key: "more_regrips", Label: "regrips more there", Value: sheet.Count(w.Regrips)},
			sheet.Fact{Key: "more_tool_changes", Label: "tool changes more there", Value: sheet.Count(w.Tools)})
	}
	if len(w.Breaks) == 0 {
		s.Notes = []string{"No rule stands against doing it first: it is placed where it saves a set-up, a regrip or a tool change, and else by its number."}
		return s
	}
	t := sheet.Table{Title: "Before it must come", Cols: []sheet.Column{{Key: "n", Head: "n"}, {Key: "name", Head: "operation"}, {Key: "code", Head: "rule"}, {Key: "reason", Head: "since"}}}
	for _, b := range w.Breaks {
		t.Add(sheet.Count(b.N), sheet.Text(b.Name), sheet.Text(b.Code), sheet.Text(b.Reason))
	}
	s.Tables = []sheet.Table{t}
	return s
}
