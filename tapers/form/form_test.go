package form_test

import (
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/form"
)

// By hand: 9.5 to 7 over 3 is atan(1.25/3) = 22.62 deg, 22.5 to a quarter; the side is
// sqrt(3² + 1.25²) = 3.25; (9.5 - 7)/2 = 1.25 in, 50 lines of 0.025; 7 + 2·0.2 = 7.4 before the
// last. In inches 1.25 is 0.0492. The edge's ends matter where something stands past them.
func TestFed(t *testing.T) {
	mm := units.MustLength
	tool := form.Of(units.Degrees(22.62), mm("3.25mm"))
	on := form.Standing{
		Large: mm("3mm"), Small: mm("0mm"), Thick: mm("9.5mm"), As: "as bought", To: mm("7mm"), Last: mm("1.25mm"),
		Depth: mm("0.5mm"), Finish: mm("0.2mm"), CrossSlide: &shop.Dial{Lead: mm("1mm"), Divisions: 40},
	}
	for _, tc := range []struct {
		small, large bool
		to, last     string
		want         []string
	}{
		{false, false, "7mm", "1.25mm", []string{
			"Grind a tool to 22.5 deg from the axis", "exact 22.62 deg", "a little longer than the side, 3.25 mm",
			"from z 3 mm to z 0 mm, and lock", "z 0 mm, 9.5 mm thick as bought",
			"the last line is 1.25 mm (1 turn + 10 div) past 0",
			"it is 7.4 mm then, and 7 mm at the end", "by at most 0.5 mm (20 div) at a time",
		}},
		{false, true, "7mm", "1.25mm", []string{"its end at z 3 mm and not past it", "a little longer"}},
		{true, false, "7mm", "1.25mm", []string{"its end at z 0 mm and not past it", "a little longer"}},
		{true, true, "7mm", "1.25mm", []string{"its ends just there", "just as long as the side, 3.25 mm"}},
		{false, false, "0mm", "4.75mm", []string{"(4 turns + 30 div) past 0", "comes to the axis at the point"}},
		{false, false, "7mm", "0mm", []string{"The last line is 0."}},
	} {
		on.PastSmall, on.PastLarge, on.To, on.Last = tc.small, tc.large, mm(tc.to), mm(tc.last)
		said := say.Join(tool.Fed(on), "\n").In(units.MM)
		for _, want := range tc.want {
			if !strings.Contains(said, want) {
				t.Errorf("%v %v: not %q in\n%s", tc.small, tc.large, want, said)
			}
		}
	}
	on.To, on.Last, on.CrossSlide = mm("7mm"), mm("1.25mm"), nil
	if said := say.Join(tool.Fed(on), "\n").In(units.Inch); !strings.Contains(said, "the last line is 0.0492 in past 0") {
		t.Errorf("in inches, without a dial:\n%s", said)
	}
}
