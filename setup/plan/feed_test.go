package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// A feed that is printed for a machine without power feed is said to be by hand, once: a
// pin with a hole across it is turned, and drilled on the mill. The minutes are the same.
func TestFedByHand(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  profile: [[0, 20], [60, 20]]\n  holes: [{at: 30, dia: 5}]\n")
	const lathe, mill = "lathe:\n", "mill:\n"
	minutes := []float64{}
	for _, tc := range []struct {
		edit map[string]string
		want string
	}{
		{nil, "The feed is by hand on the lathe and the mill (power_feed)"},
		{map[string]string{lathe: "lathe:\n  power_feed: true\n"}, "The feed is by hand on the mill (power_feed)"},
		{map[string]string{mill: "mill:\n  power_feed: true\n"}, "The feed is by hand on the lathe (power_feed)"},
		{map[string]string{lathe: "lathe:\n  power_feed: true\n", mill: "mill:\n  power_feed: true\n"}, ""},
	} {
		r := make1(t, p, loadShop(t, tc.edit))
		minutes = append(minutes, float64(r.Totals.Minutes))
		var said []string
		for _, n := range r.Sheet().Notes {
			if text := say.Of(n).In(units.MM); strings.Contains(text, "by hand") {
				said = append(said, text)
			}
		}
		switch {
		case tc.want == "" && len(said) > 0, tc.want != "" && (len(said) != 1 || !strings.HasPrefix(said[0], tc.want)):
			t.Errorf("with %v it says %q, want %q; %v", tc.edit, said, tc.want, r.fedByHand())
		}
	}
	if len(slices.Compact(minutes)) != 1 {
		t.Errorf("the minutes are %v", minutes)
	}
}
