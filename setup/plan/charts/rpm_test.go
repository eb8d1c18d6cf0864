package charts_test

import (
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/charts"
)

// The cells are those of the single question, worked by hand from 100 ft/min
// for mild steel and 250 for brass (a laboratory shop sheet), 1000·v/(π·D).
func TestSpeedsChart(t *testing.T) {
	speeds := []units.SpindleSpeed{units.RPM(120), units.RPM(880)}
	two := &shop.Shop{Lathe: &shop.Lathe{Spindle: &shop.Spindle{Speeds: speeds}}}
	for _, tc := range []struct {
		shop          *shop.Shop
		unit          units.Unit
		table         int
		material, key string
		want          string
		because       string
	}{
		{two, units.MM, 0, "Low-carbon steel", "d_10_mm", "•880", "ideal 970"},
		{two, units.MM, 0, "Low-carbon steel", "d_100_mm", "!120", "ideal 97"},
		{two, units.MM, 0, "Low-carbon steel", "d_16_mm", "120", "ideal 606, and 120 is less than half of that"},
		{two, units.Inch, 0, "Free-cutting brass", "d_1_in", "•880", "ideal 954"},
		{two, units.Inch, 0, "Free-cutting brass", "d_1_1_2_in", "120", "ideal 636"},
		// the lathe drills where nothing else does
		{two, units.MM, 1, "Low-carbon steel", "d_5_mm", "•880", "80 ft/min is 1552 rpm"},
		{nil, units.MM, 0, "Low-carbon steel", "d_10_mm", "970", "no machine"},
	} {
		chart := table(t, "rpm", charts.Input{Shop: tc.shop, Units: tc.unit}, tc.table)
		got := cell(t, chart, sheet.Text(tc.material), tc.key)
		if got != sheet.Text(tc.want) {
			t.Errorf("%s %s: %v, want %s (%s)", tc.material, tc.key, got, tc.want, tc.because)
		}
	}
	r, err := charts.Make("rpm", charts.Input{})
	if err != nil {
		t.Fatal(err)
	}
	const none = "turning: no machine with speeds in this shop"
	if w := r.Sheet().Warnings; len(w) != 2 || !strings.HasPrefix(w[0].Text.String(), none) {
		t.Errorf("without machines the warnings are %v", w)
	}
}
