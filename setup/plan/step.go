package plan

import (
	"setover/setup/base/problem"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// Step is one operation as a card of its own.
type Step struct {
	Operation
	Part string `json:"part"`
	sheet.Remarks

	hash string
	up   SetUp
}

// PartHash returns the short hash of the part's file, for the foot of a page.
func (s Step) PartHash() string { return s.hash }

// Step returns the card of operation n, from 1 to the number of operations.
func (r Result) Step(n int) (Step, error) {
	if err := r.checkStep("step", n); err != nil {
		return Step{}, err
	}
	s := Step{Operation: r.Operations[n-1], Part: r.Inputs.Name, hash: r.Inputs.Part.Hash}
	s.up = r.Setups[s.Setup-1]
	s.Warnings = s.op.Warnings
	s.Caution(s.op.Cautions...)
	s.Caution(cautions.EyeProtection, cautions.Manual)
	return s, nil
}

// checkStep returns the problem of a step that the plan does not have.
func (r Result) checkStep(key string, n int) error {
	if n < 1 || n > len(r.Operations) {
		return problem.New(problem.OutOfRange, key, n, "the plan has steps 1 to ", len(r.Operations))
	}
	return nil
}

// Sheet implements sheet.Result.
func (s Step) Sheet() sheet.Sheet {
	out := sheet.Of(&s, s.N, ". ", s.Name)
	out.Fact("part", sheet.Text(s.Part))
	out.Fact("machine", s.Machine)
	out.Fact("set-up", sheet.Count(s.Setup))
	out.Fact("tool", s.Tool)
	if lines := s.lines()[1:]; len(lines) > 0 { // the first names the operation, as the title does
		out.Table(lines).Without("n")
	}
	s.positions(out)
	out.Note("Held: ", s.up.holding(), ".")
	out.Note("Its place: ", s.Because.Say(), ".")
	return *out
}
