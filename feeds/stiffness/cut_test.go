package stiffness_test

import (
	"fmt"
	"testing"

	"setover/feeds/stiffness"
	"setover/setup/base/units"
	"setover/setup/book/materials"
)

// Worked by hand. Mild steel's kc is printed for 0.1 mm, 3610 MPa
// (mitsubishi-kc); brass's 1303 MPa falls as h^-0.27 (vdi-3323-kc), 6061's 1423
// as h^-0.25; stainless 304 has one figure, 4.0 W.s/mm3, for every chip
// (kalpakjian-fossee).
func TestCuttingForce(t *testing.T) {
	for _, tc := range []struct {
		material    string
		depth, feed float64
		want        string
	}{
		{"mild-steel", 0.5, 0.1, "180.5 90.3"},        // 3610·0.5·0.1
		{"free-cutting-brass", 1, 0.12, "148.8 74.4"}, // 1303·(0.1/0.12)^0.27 = 1240.4, by 0.12
		{"free-cutting-brass", 0.2, 0.06, "17.9 9.0"}, // 1303·(0.1/0.06)^0.27 = 1495.7, by 0.012
		{"stainless-304", 0.2, 0.06, "48.0 24.0"},     // 4000·0.012
		{"stainless-304", 0.4, 0.12, "192.0 96.0"},    // 4000·0.048
		{"aluminium-6061", 1, 0.2, "239.3 119.7"},     // 1423·0.5^0.25 = 1196.6, by 0.2
		{"low-carbon-steel", 2, 0.6, "2738.3 1369.2"}, // 3610·6^-0.256 = 2281.9 (2280 printed), by 1.2
	} {
		m, err := materials.Find(tc.material)
		if err != nil {
			t.Fatal(err)
		}
		cutting, radial := stiffness.CuttingForce(m, units.FromFloat(tc.depth), units.MillimetresPerRev(tc.feed))
		if got := fmt.Sprintf("%.1f %.1f", float64(cutting), float64(radial)+1e-9); got != tc.want {
			t.Errorf("%s, %v by %v: got %s, want %s", tc.material, tc.depth, tc.feed, got, tc.want)
		}
	}
}
