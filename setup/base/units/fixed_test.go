package units

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// What is counted in 64 bits is what figures of any size give.
func TestFixedIn64Bits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64().Draw(t, "n") / rapid.SampledFrom([]int64{1, 10, 1e6, 1e12, 1e15}).Draw(t, "less")
		l := FromDecimal(decimal.New(n, rapid.Int32Range(-15, 3).Draw(t, "exponent")))
		u := rapid.SampledFrom([]Unit{MM, Inch}).Draw(t, "unit")
		places := rapid.Int32Range(0, 9).Draw(t, "places")
		for _, dir := range []Direction{Nearest, Down, Up} {
			if got, want := l.Fixed(u, places, dir), l.fixed(u, places, dir); got != want {
				t.Errorf("%v in %v to %d places, %d: %s, not %s", l, u, places, dir, got, want)
			}
		}
	})
	for _, tc := range []struct {
		mm       string
		u        Unit
		dir      Direction
		want, of string
	}{
		{"0.005", MM, Nearest, "0.01", "a half goes away from zero"},
		{"-0.005", MM, Nearest, "-0.01", "and below it too"},
		{"-0.004", MM, Nearest, "0.00", "no minus before nothing"},
		{"-0.001", MM, Down, "-0.01", "down is toward the smaller number"},
		{"25.4", Inch, Up, "1.00", "an inch"},
		{"12.7635", Inch, Nearest, "0.50", "0.5025 in"},
	} {
		l := FromDecimal(decimal.RequireFromString(tc.mm))
		if _, ok := l.whole(tc.u, 2, tc.dir); !ok {
			t.Errorf("%s mm is not counted in 64 bits", tc.mm)
		}
		if got := l.Fixed(tc.u, 2, tc.dir); got != tc.want {
			t.Errorf("%s: %s mm is %s, not %s", tc.of, tc.mm, got, tc.want)
		}
	}
}
