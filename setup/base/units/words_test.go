package units_test

import (
	"encoding/json"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// What is marked on an instrument stays in its unit on a page, and is in mm for
// a machine.
func TestMarked(t *testing.T) {
	for _, tc := range []struct {
		unit              units.Unit
		l, words, machine string
	}{
		{units.MM, "0.0625mm", "0.0625 mm", "0.0625"},
		{units.Inch, "0.001in", "0.001 in", "0.0254"},
		{units.Inch, "1.984375mm", "0.078125 in", "1.984375"},
	} {
		m := units.MustLength(tc.l).Marked(tc.unit)
		mm, in := say.Of(m).Words()
		machine, err := json.Marshal(m)
		if mm != tc.words || in != tc.words || string(machine) != tc.machine || err != nil {
			t.Errorf("%s: %s, %s and %s (%v), want %s and %s", tc.l, mm, in, machine, err, tc.words, tc.machine)
		}
	}
}

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

// Limits on an inch page are rounded toward one another, with a fifth decimal where four would say
// one figure twice: 12.694 and 12.696 mm are 0.499764 and 0.499843 in.
func TestInward(t *testing.T) {
	for _, tc := range []struct{ low, high, want string }{
		{"12.694mm", "12.696mm", "0.49977 in to 0.49984 in"},
		{"16.023mm", "16.024mm", "0.63083 in to 0.63086 in"},
		{"12mm", "12.1mm", "0.4725 in to 0.4763 in"},
	} {
		a, b := units.Inward(units.MustLength(tc.low), units.MustLength(tc.high))
		_, from := a.Words()
		_, to := b.Words()
		if got := from + " to " + to; got != tc.want {
			t.Errorf("%s to %s: %s, want %s", tc.low, tc.high, got, tc.want)
		}
	}
}
