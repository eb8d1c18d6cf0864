package units_test

import (
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// A length in words: rounded its way, with its sign, its decimals and its unit.
func TestRounded(t *testing.T) {
	l, inch := units.MustLength("9.5401mm"), units.Inch
	for _, tc := range []struct {
		r        units.Rounded
		mm, inch string
	}{
		{l.Nearest(), "9.54 mm", "0.3756 in"},
		{l.Up(), "9.541 mm", "0.3756 in"},
		{l.Down(), "9.54 mm", "0.3755 in"},
		{l.Fine(), "+9.5401 mm", "+0.37559 in"},
		{l.Always(inch), "0.3756 in", "0.3756 in"},
		{units.Rounded{Length: l, Dir: units.Down, More: 1}, "9.5401 mm", "0.37559 in"},
		{units.Rounded{Length: l, Dir: units.Up, More: 1, Unit: &inch}, "0.3756 in", "0.3756 in"},
	} {
		if mm, in := say.Of(tc.r).Words(); mm != tc.mm || in != tc.inch {
			t.Errorf("%s and %s, want %s and %s", mm, in, tc.mm, tc.inch)
		}
	}
}
