package predict_test

import (
	"fmt"
	"testing"

	"setover/setup/base/units"
	"setover/setup/plan/predict"
)

// Sizes by hand, and drilled holes by the handbook's means (from memory: 0.04
// mm over at 1.6 mm, 0.08 at 3.2, 0.10 at 6.4, 0.13 at 12.7; straight lines
// between, so 0.06 at 2.4).
func TestSizes(t *testing.T) {
	mm, ten := units.MustLength, units.Degrees(10)
	for _, tc := range []struct {
		name string
		got  units.Length
		want string
	}{
		{"20 less twice 0.5", predict.Diameter(mm("20mm"), mm("0.5mm")), "19.000"},
		{"1 in less twice 0.05 in", predict.Diameter(mm("1in"), mm("0.05in")), "22.860"},
		{"20 to a half angle of 10 deg over 32", predict.SmallEnd(mm("20mm"), mm("32mm"), ten), "8.715"},
		{"a taper that comes to a point first", predict.SmallEnd(mm("5mm"), mm("50mm"), ten), "0.000"},
		{"drill 1.6", predict.Drilled(mm("1.6mm")), "1.640"},
		{"drill 2.4", predict.Drilled(mm("2.4mm")), "2.460"},
		{"drill 3.2", predict.Drilled(mm("3.2mm")), "3.280"},
		{"drill 6.4", predict.Drilled(mm("6.4mm")), "6.500"},
		{"drill 1/2 in", predict.Drilled(mm("1/2in")), "12.830"},
		{"drill 20", predict.Drilled(mm("20mm")), "20.130"},
	} {
		if got := tc.got.Fixed(units.MM, 3, units.Nearest); got != tc.want {
			t.Errorf("%s: %s, by hand %s", tc.name, got, tc.want)
		}
	}
}

func ExampleSmallEnd() {
	// A Morse No. 2 plug cut at 1.5 deg where 1.4307 was wanted.
	small := predict.SmallEnd(units.MustLength("0.7in"), units.MustLength("2.5625in"), units.Degrees(1.5))
	fmt.Println(small.Fixed(units.Inch, 4, units.Nearest), "in")
	// Output: 0.5658 in
}
