package judge

import (
	"math"
	"strings"
	"testing"
)

// A bore with a fit that a drill made is told to what drills scatter: at 1/4 in by the table 2.5
// thousandths of an inch, 0.0635 mm. One that is told to nothing is found, and one that a reamer made
// is not.
func TestHoleTold(t *testing.T) {
	if got := scattered(0.25 * inch); math.Abs(got-0.0635) > 1e-9 {
		t.Errorf("1/4 in scatters %.4f", got)
	}
	for kind, bad := range map[string]bool{"drill": true, "ream": false} {
		low, high := 6.3, 6.4
		j := &judgement{}
		j.bores = []bore{{id: "bore-1", limit: &[2]float64{low, high}}}
		j.plan.Operations = []operation{{
			Kind: kind, Makes: []string{"bore-1"}, Removes: []removal{{Shape: "bore", Dia: 6.35}},
		}}
		j.holeTold(predicted{ID: "bore-1", Kind: "bore", Out: 6.35, Low: &low, High: &high})
		found := len(j.faults) > 0
		if found != bad || found && !strings.Contains(j.faults[0].String(), "by a drill is told to 0.0000") {
			t.Errorf("by a %s: %v", kind, j.faults)
		}
	}
}
