package plan

import (
	"fmt"

	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// Step is one operation as a card of its own.
type Step struct {
	Operation
	Part string `json:"part"`
	sheet.Remarks

	hash string
}

// PartHash returns the short hash of the part's file, for the foot of a page.
func (s Step) PartHash() string { return s.hash }

// Step returns the card of operation n, from 1 to the number of operations.
func (r Result) Step(n int) (Step, error) {
	if err := r.checkStep("step", n); err != nil {
		return Step{}, err
	}
	s := Step{Operation: r.Operations[n-1], Part: r.Inputs.Name, hash: r.Inputs.Part.Hash}
	for _, w := range s.op.Warnings {
		s.Warnings.Add(w.Code, w.Text)
	}
	s.Caution(s.op.Cautions...)
	s.Caution(cautions.EyeProtection, cautions.Manual)
	return s, nil
}

// Sheet implements sheet.Result.
func (s Step) Sheet() sheet.Sheet {
	t := sheet.Table{Cols: []sheet.Column{{Key: "what", Head: "what"}, {Key: "set", Head: "set to"}, {Key: "note", Head: "note"}}}
	all := sheet.Table{Cols: []sheet.Column{{}, {}, {}, {}}}
	s.lines(&all)
	for _, row := range all.Rows[1:] { // the first names the operation, as the title does
		t.Add(row[1:]...)
	}
	out := sheet.Sheet{
		Title: fmt.Sprintf("%d. %s", s.N, s.Name),
		Facts: []sheet.Fact{
			{Key: "part", Label: "part", Value: sheet.Text(s.Part)},
			{Key: "machine", Label: "machine", Value: s.Machine, Remark: fmt.Sprintf("set-up %d", s.Setup)},
			{Key: "hold", Label: "hold", Value: sheet.Text(s.Hold)},
			{Key: "tool", Label: "tool", Value: sheet.Text(s.Tool)},
			{Key: "because", Label: "because", Value: sheet.Text(s.Because)},
		},
		Warnings: s.Warnings, Cautions: s.Cautions,
	}
	if len(t.Rows) > 0 {
		out.Tables = []sheet.Table{t}
	}
	return out
}
