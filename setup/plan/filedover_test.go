package plan

import (
	"testing"

	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// What is filed to a fit is not brought under it by the cut that finishes what stands beyond: between two grooves 10 h8
// is 9.978 to 10, told by a line of 0.02 to 0.025 and by a micrometer to 0.005, so that no cut over it is set under
// 9.978 + 0.025 + 0.005 = 10.008.
func TestNoCutTakesWhatTheFileNeeds(t *testing.T) {
	p := parse(t, `material: mild-steel
round:
  profile: [[0, 10], [3, 10], [3, 9.6], [4.1, 9.6], [4.1, 10], [35.9, 10], [35.9, 9.6], [37, 9.6], [37, 10], [40, 10]]
  limits: [{at: 20, fit: h8}]
`)
	r := make1(t, p, loadShop(t, nil))
	if len(r.Fails()) > 0 {
		t.Fatal(r.Fails())
	}
	over := 0
	for _, o := range r.Operations {
		for _, x := range o.op.Removes {
			cut, ok := x.(work.Outside)
			from, to := 5*work.MM, 35*work.MM // in the fit
			if !ok || o.op.Tool.Hand == op.File || cut.Profile[0].Z > from || cut.Profile[len(cut.Profile)-1].Z < to {
				continue
			}
			if over++; cut.Profile[0].Dia < 10_008_000 {
				t.Errorf("%v: it comes to %v", o.op.Name, cut.Profile[0].Dia)
			}
		}
	}
	if over < 3 { // roughed, left for the file, run over
		t.Error(over)
	}
}
