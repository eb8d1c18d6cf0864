package compound_test

import (
	"fmt"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/compound"
)

// A bore from 24 to 30 over 60 in a hole of 22: its side rises 3 in 60, √(60² + 3²) =
// 60.075. The first pass goes 0.475 deeper, cuts 0.475·60/3 = 9.5 along the axis and
// 9.5·60.075/60 = 9.512 along the slope: at 3 mm in 150, 3 turns and 25.6 lines. From
// the mouth the tip stops at the last line before that, from inside it begins at the
// next one beyond. The last goes the whole slope, 20 turns and 3.7 lines, from inside
// 2 mm more, 62.075, 20 turns and 103.7 lines.
//
// With the tip where it leaves the wall, 11 from the axis, the back of a bar of 20 is
// at 9 on the other side of a hole of 11; at the end of the slope it would be at
// 20 - (11 + 0.475 - 3) = 11.525.
func TestBoreStopsWhereItLeaves(t *testing.T) {
	in := compound.Input{
		Input:    tapers.Input{Large: length("30mm"), Small: length("24mm"), Length: length("60mm")},
		Internal: true, Stock: length("22mm"), Place: on(slide(shop.Along, "1", false)),
		Bars: []shop.BoringBar{
			{Diameter: units.MustLength("18mm"), Reach: units.MustLength("120mm")},
			{Diameter: units.MustLength("20mm"), Reach: units.MustLength("120mm")},
		},
	}
	in.Lathe.CrossSlide, in.Lathe.Compound.Screw = collar("5mm", 250, true), collar("3mm", 150, false)
	in.Lathe.Compound.Scale.Step = tapers.HalfAngle(*in.Large, *in.Small, *in.Length)
	for end, want := range map[tapers.End]string{
		tapers.AtHeadstock: "9.5 3+25 20+4", tapers.AtTailstock: "9.5 3+26 20+104",
	} {
		in.SmallEnd = end
		r := set(t, in)
		first, last := r.Passes[0], r.Passes[len(r.Passes)-1]
		got := fmt.Sprintf("%v %d+%d %d+%d", first.Cut.Decimal(), *first.SlideTurns, *first.SlideDivs,
			*last.SlideTurns, *last.SlideDivs)
		if got != want || r.Bar == nil {
			t.Errorf("small end at the %s: %s, by hand %s", end, got, want)
		}
	}
}

// The bar for what is left. A hole of 20.5 takes one of 20 from the mouth, with 0.5 to
// spare. From inside the compound comes back for a pass of 0.5 (25 lines) before the
// cross slide goes out for it, 0.2 is to spare on either side: 20.5 - 0.5 - 0.4 = 19.6.
// Its tip stands half of what the bore widens by beyond its side, 1.5, which leaves 18.1:
// a bore from 20 to 60 widens by 20 a side, and no bar goes in. At 45 deg 30 to 60 takes
// 15: 30 - 15 - 0.5 - 0.4 = 14.1.
// In bites of 75 and less from a narrow mouth the tip also goes a whole bite's rise toward
// the far wall, and that of the 2 before the mouth: 30 to 20 over 200 rises 1 in 40, a bite of
// about 67 takes 1.72, and 20 - 5 - 1.72 - 0.4 = 12.9; 32 to 20 leaves 20 - 6 - 2.06 - 0.4 = 11.5.
func TestBarForWhatIsLeft(t *testing.T) {
	for _, tc := range []struct {
		large, small, l, stock string
		end                    tapers.End
		want                   string
	}{
		{"24mm", "21mm", "60mm", "20.5mm", tapers.AtHeadstock, "20mm"},
		{"24mm", "21mm", "60mm", "20.5mm", tapers.AtTailstock, "12mm"},
		{"60mm", "20mm", "200mm", "20mm", tapers.AtHeadstock, "12mm"},
		{"60mm", "20mm", "200mm", "20mm", tapers.AtTailstock, "none"},
		{"30mm", "20mm", "200mm", "20mm", tapers.AtTailstock, "12mm"},
		{"32mm", "20mm", "200mm", "20mm", tapers.AtTailstock, "6mm"},
		{"60mm", "12mm", "50mm", "8mm", tapers.AtTailstock, "none"},
		{"60mm", "30mm", "15mm", "30mm", tapers.AtTailstock, "12mm"},
		{"60mm", "20mm", "11.547mm", "20mm", tapers.AtTailstock, "none"},
		{"26mm", "20mm", "8.242mm", "20mm", tapers.AtTailstock, "12mm"},
	} {
		in := compound.Input{
			Input:    tapers.Input{Large: length(tc.large), Small: length(tc.small), Length: length(tc.l)},
			SmallEnd: tc.end, Internal: true, Stock: length(tc.stock), Place: on(slide(shop.Along, "1", false)),
		}
		in.Lathe.CrossSlide = collar("2mm", 100, true)
		for _, d := range []string{"6mm", "12mm", "20mm"} {
			in.Bars = append(in.Bars, shop.BoringBar{Diameter: units.MustLength(d), Reach: units.MustLength("220mm")})
		}
		r := set(t, in)
		got := "none"
		if r.Fails().Err() == nil {
			got = "unknown"
		}
		if r.Bar != nil {
			got = r.Bar.Diameter.Decimal().String() + "mm"
		}
		if got != tc.want {
			t.Errorf("%s to %s over %s in %s, small end at the %s: %s, by hand %s", tc.large, tc.small, tc.l, tc.stock, tc.end,
				got, tc.want)
		}
	}
}

// The collar where the stock is touched at the large end counts what is drawn, not
// what a setting a hair off makes of it: (30 - 26)/2 = 2.00, (34 - 20)/2 = 7.00; where
// that is on no line it counts the next one, and the last pass ends on the line that
// makes up for it: (30 - 25.01)/2 = 2.495, 2.50, nothing is left.
func TestCollarFromTheOtherEnd(t *testing.T) {
	for _, tc := range []struct {
		large, small, l string
		counts, want    string
	}{
		{"30mm", "26mm", "120mm", "2 mm (1 turn)", "1+0 left 0"},
		{"30mm", "25mm", "100mm", "2.5 mm (1 turn + 25 div)", "1+25 left 0"},
		{"34mm", "20mm", "140mm", "7 mm (3 turns + 50 div)", "3+50 left 0"},
		{"32mm", "26mm", "100mm", "3 mm (1 turn + 50 div)", "1+50 left 0"},
		{"30mm", "25.01mm", "100mm", "2.5 mm (1 turn + 25 div)", "1+25 left 0"},
	} {
		in := compound.Input{
			Input:    tapers.Input{Large: length(tc.large), Small: length(tc.small), Length: length(tc.l)},
			SmallEnd: tapers.AtHeadstock, Stock: length(tc.large), Place: on(slide(shop.Along, "0.5", false)),
		}
		in.Lathe.CrossSlide, in.Lathe.Compound.Screw = collar("2mm", 100, true), collar("1mm", 50, false)
		r := set(t, in)
		last := r.Passes[len(r.Passes)-1]
		got := fmt.Sprintf("%d+%d left %v", *last.Turns, *last.Divisions, r.Left.Decimal())
		if got != tc.want {
			t.Errorf("%s to %s: %s, by hand %s", tc.large, tc.small, got, tc.want)
		}
		counts := "so that it counts " + tc.counts + "."
		if text := mm(say.Join(r.Steps, " ")); !strings.Contains(text, counts) {
			t.Errorf("no %q in %s", counts, text)
		}
	}
}
