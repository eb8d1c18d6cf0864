package charts_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/bench/fits"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
	"setover/setup/plan/charts"
)

// A bar of 20 mm in a V of 90 deg stands 10·√2 above the apex and its top 10
// more; above the base, the apex's height comes on top.
func TestVBlock(t *testing.T) {
	apex := units.MustLength("12mm")
	in := charts.Input{Shop: &shop.Shop{VBlocks: &shop.VBlocks{Angle: units.MustAngle("90deg"), Apex: &apex}}}
	bar := units.MustLength("20mm").Nearest()
	for key, want := range map[string]string{
		"centre_90_mm": "14.142", "top_90_mm": "24.142", "centre_60_mm": "20.000", "centre_120_mm": "11.547",
	} {
		if got := fmt.Sprintf("%.3f", number(t, cell(t, table(t, "v-block", in, 1), bar, key))); got != want {
			t.Errorf("%s: %s, want %s", key, got, want)
		}
	}
	if got := fmt.Sprintf("%.3f", number(t, cell(t, table(t, "v-block", in, 0), bar, "top_height_mm"))); got != "36.142" {
		t.Errorf("above the base %s", got)
	}
}

// US Army OD 16448: 42 divisions at 40:1 are 20 spaces on a circle of 21.
func TestDividing(t *testing.T) {
	plates := [][]int{{15, 16, 17, 18, 19, 20}, {21, 23, 27, 29, 31, 33}}
	in := charts.Input{Shop: &shop.Shop{DividingHead: &shop.DividingHead{Ratio: 40, Plates: plates}}}
	d := table(t, "dividing", in, 0)
	of := func(key string) float64 { return number(t, cell(t, d, sheet.Count(42), key)) }
	if s, c := of("spaces"), of("circle"); s != 20 || c != 21 {
		t.Errorf("42: %v spaces of %v", s, c)
	}
	if off := cell(t, d, sheet.Count(42), "error_deg"); off != nil {
		t.Errorf("42 is off by %v", off)
	}
	if cell(t, d, sheet.Count(51), "error_deg") == nil {
		t.Error("51 is called exact")
	}
}

// The limits that ISO 286 has for some sizes, from its published pairs; and
// every class must be the same throughout each range of the chart.
func TestFitLimits(t *testing.T) {
	limits := table(t, "fits", charts.Input{}, 0)
	ranges := map[string]string{
		"10": "6-10", "12": "10-18", "25": "18-30", "40": "30-50", "50": "30-50", "60": "50-65", "100": "80-100",
	}
	for _, r := range published.Rows(t, "iso286_pairs.csv") {
		key := "shaft_" + r["class"] + "_um"
		if strings.HasPrefix(r["class"], "H") {
			key = "hole_" + strings.ToLower(r["class"]) + "_um"
		}
		in, ok := ranges[r["size_mm"]]
		if !ok || !slices.ContainsFunc(limits.Cols, func(c sheet.Column) bool { return c.Key == key }) {
			continue
		}
		sign := func(s string) string {
			if s != "0" && s[0] != '-' {
				return "+" + s
			}
			return s
		}
		want := sign(r["upper_um"]) + "/" + sign(r["lower_um"])
		if got := fmt.Sprint(cell(t, limits, sheet.Text(in), key)); got != want {
			t.Errorf("%s %s: %s; %s has %s", in, r["class"], got, r["source"], want)
		}
	}
	for _, row := range limits.Rows {
		from, to, _ := strings.Cut(string(row[0].(sheet.Text)), "-")
		for i, c := range limits.Cols[1:] {
			class, err := fits.ParseClass(c.Head.String())
			if err != nil {
				t.Fatal(err)
			}
			up, low, err := class.Deviations(units.MustLength(from + ".001mm"))
			if err != nil {
				t.Fatal(err)
			}
			um := func(l units.Length) string { return strings.TrimPrefix(l.Decimal().Shift(3).String(), "+") }
			if got := um(up) + "/" + um(low); got != strings.ReplaceAll(string(row[1+i].(sheet.Text)), "+", "") {
				t.Errorf("just above %s mm %s is %s, the chart's row to %s has %s", from, c.Head, got, to, row[1+i])
			}
		}
	}
}
