package drill_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/threads"
	"setover/threads/drill"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func percent(v float64) *units.Number {
	n := units.Number(v)
	return &n
}

// The percentage to aim at: common practice, no source; the ranges are those
// of the shop's defaults, of which the middle is taken.
func TestTarget(t *testing.T) {
	for _, tc := range []struct {
		spec, material string
		depth          *units.Length
		want           string
		ok             bool
	}{
		{"M8", "", nil, "70.0", true},
		{"M8", "brass", nil, "72.5", true},
		{"M8", "aluminium", nil, "72.5", true},
		{"1/4-20", "cast-iron", nil, "72.5", true},
		{"1/4-20", "mild-steel", nil, "65.0", true},
		{"M8", "stainless-304", nil, "57.5", true},
		{"M8", "silver-steel", nil, "57.5", true},
		{"M8", "titanium-grade-5", nil, "57.5", true},
		{"M8", "acetal", nil, "75.0", true},
		{"M8", "linen-phenolic-laminate", nil, "75.0", true},
		{"M2.5", "brass", nil, "60.0", true},
		{"M2.5", "titanium-grade-5", nil, "57.5", true},
		{"M3", "brass", nil, "72.5", true},
		{"M8", "brass", length("12mm"), "72.5", true},
		{"M8", "brass", length("12.1mm"), "65.0", true},
		{"Tr12x3", "brass", nil, "100.0", true},
		{"1/4NPT", "brass", nil, "0.0", false},
	} {
		var m *materials.Material
		if tc.material != "" {
			m, _ = materials.Find(tc.material)
			if m == nil {
				t.Fatal(tc.material)
			}
		}
		aim, ok := drill.Target(threads.MustParse(tc.spec), m, tc.depth)
		if got := fmt.Sprintf("%.1f", aim.Percent); got != tc.want || ok != tc.ok {
			t.Errorf("%s in %s: %s %v, want %s", tc.spec, tc.material, got, ok, tc.want)
		}
	}
}

// What a drill really cuts: handbook means, from memory.
func TestCuts(t *testing.T) {
	acetal, _ := materials.Find("acetal")
	for _, tc := range []struct {
		size string
		m    *materials.Material
		want string
	}{
		{"0.8mm", nil, "0.82 mm"},
		{"1.6mm", nil, "1.64 mm"},
		{"3.2mm", nil, "3.28 mm"},
		{"6.4mm", nil, "6.5 mm"},
		{"12.7mm", nil, "12.83 mm"},
		{"1in", nil, "25.53 mm"},
		{"4.8mm", nil, "4.89 mm"},
		{"6.8mm", acetal, "6.75 mm"},
	} {
		if got := drill.Cuts(units.MustLength(tc.size), tc.m).Typed().String(); got != tc.want {
			t.Errorf("%s cuts %s, want %s", tc.size, got, tc.want)
		}
	}
}

// Hole and Percent are there and back, on both sides of the inch.
func TestHoleThereAndBack(t *testing.T) {
	for _, spec := range []string{"M1.6", "M8", "M36", "8-32", "1-8UNC", "3/8BSW", "2BA", "G1/4"} {
		d := threads.MustParse(spec)
		for _, p := range []float64{30, 62.5, 75, 100} {
			if got := drill.Percent(d, drill.Hole(d, p)); fmt.Sprintf("%.6f", got) != fmt.Sprintf("%.6f", p) {
				t.Errorf("%s at %v %%: back as %v", spec, p, got)
			}
		}
		if got := drill.FormingPercent(d, drill.FormingHole(d, 65)); fmt.Sprintf("%.6f", got) != "65.000000" {
			t.Errorf("%s formed: back as %v", spec, got)
		}
	}
	// M10 x 1.5 at 8.5 mm: 77.0 % on one base, 92.4 % on the other (a tap maker's chart prints 92.4).
	d := threads.MustParse("M10")
	if got := fmt.Sprintf("%.1f %.1f", drill.Percent(d, units.MustLength("8.5mm")), drill.PercentISO(d,
		units.MustLength("8.5mm"))); got != "77.0 92.4" {
		t.Error(got)
	}
}

func drawer(names ...string) shop.Drawer {
	var d shop.Drawer
	for _, n := range names {
		x, err := drills.Find(n)
		if err != nil {
			panic(err)
		}
		d = append(d, x)
	}
	return d
}

// The recommended drill is the nearest to the target inside the limits, of
// those there are; its limits are the published 6H and 2B minor diameters.
func TestRecommended(t *testing.T) {
	for _, tc := range []struct {
		name string
		in   drill.Input
		want string
	}{
		{"72.5 % of M8 is 6.823 mm", drill.Input{Thread: threads.MustParse("M8"), Material: "brass"}, "6.8 mm"},
		{
			"M8 from a drawer of three",
			drill.Input{Thread: threads.MustParse("M8"), Drawer: drawer("6.5mm", "6.7mm", "7mm")},
			"6.7 mm",
		},
		{
			"the drawer has nothing inside",
			drill.Input{Thread: threads.MustParse("M8"), Drawer: drawer("6.5mm", "7mm")},
			"none",
		},
		{"57.5 % lies outside 2B: No5 is 0.2055 in, the limit 0.207", drill.Input{
			Thread:   threads.MustParse("1/4-20"),
			Material: "stainless-304", Drills: "inch",
		}, "No5"},
		{"75 % of 1/4-20", drill.Input{Thread: threads.MustParse("1/4-20"), Percent: percent(75), Drills: "inch"}, "No7"},
		{"a metric drill for an inch thread", drill.Input{
			Thread: threads.MustParse("1/4-20"), Percent: percent(75),
			Drills: "metric",
		}, "5.1 mm"},
		{"forming M6: d - 0.0068*65*1 = 5.558", drill.Input{Thread: threads.MustParse("M6"), Forming: true}, "5.6 mm"},
		{"Tr12x3 is bored to D1", drill.Input{Thread: threads.MustParse("Tr12x3")}, "9 mm"},
		{"1/4 NPT by the small end: 7/16, as charts have it", drill.Input{Thread: threads.MustParse("1/4NPT")}, "7/16 in"},
		{
			"1/4 NPT wants 10.99: a drill over a quarter of 1.411 away is another",
			drill.Input{Thread: threads.MustParse("1/4NPT"), Drawer: drawer("11.4mm")},
			"none",
		},
		{"and one inside it does", drill.Input{Thread: threads.MustParse("1/4NPT"), Drawer: drawer("11.3mm")}, "11.3 mm"},
		{"a drill is not made for 2 NPT", drill.Input{Thread: threads.MustParse("2NPT")}, "none"},
	} {
		r, err := drill.For(tc.in)
		if err != nil {
			t.Fatal(tc.name, err)
		}
		got := "none"
		if r.Recommended != nil {
			got = *r.Recommended
		}
		if got != tc.want {
			t.Errorf("%s: %s, want %s (target %v)", tc.name, got, tc.want, r.Target.Typed())
		}
		for i := 1; i < len(r.Choices); i++ {
			if r.Choices[i].Size.Cmp(r.Choices[i-1].Size) <= 0 {
				t.Errorf("%s: choices do not rise", tc.name)
			}
		}
	}
}

// What a drill really cuts may be over the nut's limit, 0.207 in for 1/4-20 2B
// (ASME B1.1); a length in a sentence goes with the page. By hand No6, 5.1816
// mm, cuts 0.08 + 0.02*(5.1816 - 3.2)/3.2 = 0.092 more.
func TestSentences(t *testing.T) {
	for _, tc := range []struct {
		in   drill.Input
		unit units.Unit
		want string
	}{
		{
			drill.Input{Thread: threads.MustParse("1/4-20")},
			units.MM,
			"drill No6 cuts about 5.274 mm, above the largest minor diameter 5.257 mm: where the class matters take 13/64 " +
				"in, which cuts about 5.251 mm",
		},
		{
			drill.Input{Thread: threads.MustParse("1/4-20")},
			units.Inch,
			"drill No6 cuts about 0.2076 in, above the largest minor diameter 0.207 in: where the class matters take 13/64 " +
				"in, which cuts about 0.2067 in",
		},
		{
			drill.Input{Thread: threads.MustParse("G1/4"), Percent: percent(70), Drills: "metric"},
			units.MM,
			"the target hole lies outside the limits of the nut's minor diameter, 11.445 mm to 11.89 mm: the drill is the " +
				"nearest inside",
		},
	} {
		r, err := drill.For(tc.in)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, w := range r.Warnings {
			if w.Code == "cuts-over" && tc.in.Percent == nil || w.Code == "target-outside" {
				got = w.Text.In(tc.unit)
			}
		}
		if got != tc.want {
			t.Errorf("%v:\n%s\nwant\n%s", tc.in.Thread, got, tc.want)
		}
	}
}

// A forming tap's hole, by the tap makers' rule d - 0.0068*65*P, and the drills
// that raise 55 to 80 % (common practice): 11.048 to 11.346 mm for M12, 0.2228
// to 0.2313 in for 1/4-20.
func TestForming(t *testing.T) {
	for _, tc := range []struct {
		spec, target string
		drills       []string
		want         []bool
	}{
		{"M12", "11.2265mm", []string{"11mm", "11.1mm", "11.3mm", "11.4mm"}, []bool{false, true, true, false}},
		{"1/4-20", "0.2279in", []string{"No2", "No1", "A"}, []bool{false, true, false}},
	} {
		r, err := drill.For(drill.Input{Thread: threads.MustParse(tc.spec), Forming: true, Drawer: drawer(tc.drills...)})
		if err != nil {
			t.Fatal(err)
		}
		var got []bool
		for _, c := range r.Choices {
			got = append(got, *c.InLimits)
		}
		if units.AsPrinted(r.Target, tc.target) != tc.target || !slices.Equal(got, tc.want) {
			t.Errorf("%s: %v, inside %v", tc.spec, r.Target.Typed(), got)
		}
	}
}

// Depths add up, and round up: 12 + 4*1.25 = 17, with the 6.8 mm point of
// 2.0429 to 19.1.
func TestDepth(t *testing.T) {
	for _, tc := range []struct {
		tap  drill.Tap
		want string
	}{{drill.PlugTap, "5 17 19.1"}, {drill.TaperTap, "10 22 24.1"}, {drill.BottomingTap, "2.5 14.5 16.6"}} {
		r, err := drill.For(drill.Input{
			Thread: threads.MustParse("M8"), Material: "brass", Depth: length("12mm"),
			Tap: tc.tap,
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%v %v %v", r.TapLead.Decimal(), r.DrillDepth.Decimal(),
			r.TotalDepth.Decimal()); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.tap, got, tc.want)
		}
	}
}

// What the shop lacks is told; a tap is known under any way of writing it.
func TestKit(t *testing.T) {
	for _, tc := range []struct {
		taps []string
		want string
	}{
		{[]string{"M6", "1/4-20"}, "tap M8"},
		{[]string{"M8x1.25"}, ""},
		{[]string{"M8-6H"}, ""},
		{nil, ""},
	} {
		r, err := drill.For(drill.Input{Thread: threads.MustParse("M8"), Taps: tc.taps, Drills: "metric"})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(r.Missing, ", "); got != tc.want {
			t.Errorf("%v: %q, want %q", tc.taps, got, tc.want)
		}
	}
	r, _ := drill.For(drill.Input{Thread: threads.MustParse("M8"), Drawer: drawer("6.5mm"), Drills: "metric"})
	if got := strings.Join(r.Missing, ", "); got != "drill 6.9 mm" {
		t.Error(got)
	}
}

func TestRefusals(t *testing.T) {
	m8 := threads.MustParse("M8")
	for _, tc := range []struct {
		in   drill.Input
		want string
	}{
		{drill.Input{Thread: m8, Percent: percent(29)}, "percent: 29: write 30 to 100 % of full thread"},
		{drill.Input{Thread: m8, Percent: percent(101)}, "percent: 101: write 30 to 100 % of full thread"},
		{
			drill.Input{Thread: threads.MustParse("1/4NPT"), Percent: percent(70)},
			"percent: 70: a taper thread has no percentage: its hole follows from the small end",
		},
		{drill.Input{Thread: m8, Depth: length("0mm")}, "depth: 0 mm: must be above 0 and at most 800 mm"},
		{drill.Input{Thread: m8, Depth: length("801mm")}, "depth: 801 mm: must be above 0 and at most 800 mm"},
		{drill.Input{Thread: m8, Drills: "shop"}, "drills: shop: the shop has no drills (drills): write metric, inch or all"},
		{drill.Input{Thread: m8, Drills: "letter"}, "drills: letter: write metric, inch, all or shop"},
		{drill.Input{Thread: m8, Tap: "plugg"}, "tap: plugg: write taper, plug or bottoming\n  did you mean plug?"},
		{
			drill.Input{Thread: m8, Material: "cast-iron", Forming: true},
			"forming: cast-iron: a forming tap needs a material that flows; this one crumbles or splits: cut the thread",
		},
		{
			drill.Input{Thread: threads.MustParse("2BA"), Forming: true},
			"forming: 2BA: forming taps are made for metric and unified threads",
		},
		{
			drill.Input{Thread: m8, Material: "mild-stel"},
			"material: mild-stel: not a material in the table\n  did you mean mild-steel?",
		},
	} {
		_, err := drill.For(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// The wall charts hold the rows a shop looks for, rising, each with a drill.
func TestChart(t *testing.T) {
	for u, want := range map[units.Unit]int{units.MM: 51, units.Inch: 40} {
		rows := drill.Chart(u)
		if len(rows) != want {
			t.Errorf("%v: %d rows, want %d", u, len(rows), want)
		}
		for i, r := range rows {
			if i > 0 && r.Thread.Major.Less(rows[i-1].Thread.Major) || r.Percent < 60 || r.Percent > 85 {
				t.Errorf("%v: %s at %.0f %%", r.Thread, r.Drill, float64(r.Percent))
			}
		}
	}
}

func ExampleFor() {
	r, err := drill.For(drill.Input{Thread: threads.MustParse("3/8-16"), Material: "brass", Drills: "inch"})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%s: %s, %.1f %% aimed at\n", r.Designation, *r.Recommended, *r.TargetPercent)
	// Output: 3/8-16UNC: O, 72.5 % aimed at
}
