package published_test

import (
	"math"
	"testing"

	"setover/setup/page/published"
)

// Lines with an answer anyone can check.
func TestEvaluate(t *testing.T) {
	for line, want := range map[string]float64{
		"2 + 3*4": 14, "(2 + 3)*4": 20, "2^3^2": 512, "-2^2": -4, "2*(-3)": -6, "8/2/2": 2, "7 - 2 - 1": 4,
		"sin(30)": 0.5, "atan(1)": 45, "4*asin(0.5)": 120, "sqrt(9) + cos(60)": 3.5, "acos(0)/90": 1, "tan(45)*2": 2,
	} {
		if got, err := published.Evaluate(line); err != nil || math.Abs(got-want) > 1e-12 {
			t.Errorf("%s = %v, %v; want %v", line, got, err, want)
		}
	}
	for _, line := range []string{"", "2 +", "a", "2 a", "(2", "sin 30", "ln(2)", "2)", "1e3", "1..2"} {
		if v, err := published.Evaluate(line); err == nil {
			t.Errorf("%q was worked out as %v", line, v)
		}
	}
}
