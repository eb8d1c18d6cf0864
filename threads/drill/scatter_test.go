package drill_test

import (
	"testing"

	"setover/setup/base/units"
	"setover/threads/drill"
)

// What drilled holes scatter, by a handbook's table in thousandths of an inch, from memory: over the
// drill's size the least, the mean and the most are 1, 1.5 and 2 at 1/16 in, 1, 3 and 4.5 at 1/8, 2.5, 4
// and 6.5 at 1/4, 3, 5 and 8 at 1/2. The rows are rounded to 0.005 mm, the means to 0.01, so the larger
// of the two differences comes within 0.01 mm; under 0.03 it is 0.03.
func TestScatter(t *testing.T) {
	for _, tc := range []struct {
		drill              string
		least, mean, most  float64
		leastOfAll, within float64
	}{
		{"1/16in", 1, 1.5, 2, 0.03, 0.01},
		{"1/8in", 1, 3, 4.5, 0.03, 0.01},
		{"1/4in", 2.5, 4, 6.5, 0.03, 0.01},
		{"1/2in", 3, 5, 8, 0.03, 0.01},
		{"1in", 3, 5, 8, 0.03, 0.01},
	} {
		want := max(tc.leastOfAll, max(tc.most-tc.mean, tc.mean-tc.least)*0.0254)
		if got := drill.Scatter(units.MustLength(tc.drill)).MM(); got < want-tc.within || got > want+tc.within {
			t.Errorf("%s: %.3f, by the table %.3f", tc.drill, got, want)
		}
	}
}
