package compound_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// What is to be done, word by word. The bores of 22 with a bar of 20 leave 2 mm, and
// half of that is 1 mm, 50 lines of 0.02; from inside the tip stands 3 mm beyond the side of one
// of 18, with 0.2 to spare 3.2, and a pass of 0.475 (24 lines, 0.48) comes off that first:
// (22 - 18 - 3 - 0.48)/2 = 0.26, 13 lines. The figures of the first outside: 30 to 20 over 60 has a
// side of √(60² + 5²) = 60.208, at 1 mm in 50 that is 60 turns and 10.4 lines; with
// 2 mm before it and 1 after, 63.208. A line is 2·0.02·5/60.208 = 0.0033 on the
// diameter. 5 a side at 2 mm in 100 are 2 turns and 50 lines; 0.5 and 0.2 are 25
// and 10. A tool 0.1 off: 2·(√((√(15² - 0.1²) - 5)² + 0.1²) - 10) = 0.0003.
//
// Of the second: the bore from 20 to 60 over 200 takes 3 bites of 75, 66.6 and 6.66
// a bite (see TestJoints); it begins at its large end.
//
// Of the third, in inches: 1 to 0.5 over 2, a side of √(4 + 0.25²) = 2.01556; the
// slide has 2.05, too little to run in. At 0.1 in in 100 that is 20 turns and 15.6
// lines; a line is 2·0.001·0.25/2.01556 = 0.00025. A tool 0.005 off:
// 2·(√((√(0.5² - 0.005²) - 0.25)² + 0.005²) - 0.25) = 0.00005. What is left: 1.1 in
// less 2·3 turns is 0.5, and nothing.
func TestSteps(t *testing.T) {
	inches := func(lead string, n int) *shop.Dial {
		return &shop.Dial{Lead: units.MustLength(lead), Divisions: n, Unit: units.Inch}
	}
	first := compound.Input{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		SmallEnd: tapers.AtTailstock, Place: on(slide(shop.Along, "1", false)),
	}
	first.Lathe.CrossSlide, first.Lathe.Compound.Screw = collar("2mm", 100, true), collar("1mm", 50, false)
	bore := bites("60mm", "20mm", "200mm", tapers.AtHeadstock, collar("2mm", 100, true), collar("20mm", 100, false))
	bore.Internal = true
	bore.Bars = []shop.BoringBar{{Diameter: units.MustLength("18mm"), Reach: units.MustLength("250mm")}}
	grows := bites("60mm", "20mm", "200mm", tapers.AtHeadstock, collar("2mm", 100, true), nil)
	grows.ToolHand, grows.Stock, grows.Depth = fouling.Right, length("60mm"), length("2mm")
	for _, in := range []*compound.Input{&bore, &grows} { // a mark at the very angle
		in.Lathe.Compound.Scale.Step = tapers.HalfAngle(*in.Large, *in.Small, *in.Length)
	}
	third := compound.Input{
		Input:    tapers.Input{Large: length("1in"), Small: length("0.5in"), Length: length("2in")},
		SmallEnd: tapers.AtTailstock, Place: on(slide(shop.Across, "1", false)), Stock: length("1.1in"),
	}
	third.Tools.Unit = units.Inch
	third.Lathe.Compound.Travel = length("2.05in")
	third.Lathe.CrossSlide, third.Lathe.Compound.Screw = inches("0.1in", 100), inches("0.1in", 100)
	mouth := compound.Input{
		Input:    tapers.Input{Large: length("30mm"), Small: length("24mm"), Length: length("60mm")},
		SmallEnd: tapers.AtHeadstock, Internal: true, Stock: length("22mm"), Place: on(slide(shop.Along, "1", false)),
		Bars: []shop.BoringBar{{Diameter: units.MustLength("20mm"), Reach: units.MustLength("120mm")}},
	}
	mouth.Lathe.CrossSlide, mouth.Lathe.Compound.Screw = collar("5mm", 250, true), collar("3mm", 150, false)
	bottom := mouth
	bottom.SmallEnd = tapers.AtTailstock
	bottom.Bars = []shop.BoringBar{{Diameter: units.MustLength("18mm"), Reach: units.MustLength("120mm")}}
	for _, in := range []*compound.Input{&mouth, &bottom} {
		in.Lathe.Compound.Scale.Step = tapers.HalfAngle(*in.Large, *in.Small, *in.Length)
	}
	for _, tc := range []struct {
		name string
		in   compound.Input
		unit units.Unit
		want string
	}{
		{
			"a bore that is wide at its mouth", mouth, units.MM,
			"Boring bar of 20 mm, standing out a little more than 60 mm, tip at centre height.\n" +
				"Wind the compound right in, then out 63.08 mm (21 turns + 4 div) and its slack. " +
				"With the carriage bring the tip 2 mm, along " +
				"the " +
				"slide, before the tailstock end of the bore, and lock it: only the compound feeds.\n" +
				"Wind the compound in, the tip clear of the work, to the large end, touch the wall of the hole " +
				"there as the work turns, and set " +
				"the cross slide's collar to 0. Cross slide in 50 div and its slack, compound back 2 mm (100 div). Go deeper " +
				"by the table of passes.\n" +
				"Each pass: wind the compound in, toward the headstock, those 2 mm and on by the table, no " +
				"farther: " +
				"there the tip leaves the wall, and beyond it the bar's back would meet the other. Then cross " +
				"slide " +
				"in 50 div and its slack, compound back, cross slide out to its next line, always out so that its " +
				"slack is out.\n" +
				"Before the last pass measure two places far apart: the diameter changes by 0.1 for each 1 along " +
				"the " +
				"axis, 6 mm over all; if not, put the swivel right first.",
		},
		{
			"a bore that is wide at its bottom", bottom, units.MM,
			"Boring bar of 18 mm, standing out a little more than 60 mm, its tip 3.2 mm beyond its side, tip at " +
				"centre height.\n" +
				"Wind the compound right in, then out 1 mm (50 div) and its slack, then in until " +
				"the slide just moves. Bring the bar into the middle of the hole, with the " +
				"carriage the tip to the headstock end of the bore, and lock it: only the compound feeds.\n" +
				"Touch the wall of the hole there as the work turns, and set the cross slide's collar and the " +
				"compound's to 0: every pass ends there. Cross slide in 13 div and its slack. Go deeper by the " +
				"table " +
				"of passes.\n" +
				"Each pass: tip off the wall, wind the compound out by the table, its slack on top; the cross " +
				"slide " +
				"out to its next line; the compound in to 0. Cross slide in 13 div and its slack. Begin no farther " +
				"out: the bar's back would meet the far wall.\n" +
				"Before the last pass measure two places far apart: the diameter changes by 0.1 for each 1 along " +
				"the " +
				"axis, 6 mm over all; if not, put the swivel right first.",
		},
		{
			"an outside", first, units.MM,
			"Right-hand tool on the post's headstock side, post square to the work, tip at centre height.\n" +
				"Wind the compound right in, then out 63.22 mm (63 turns + 11 div) and its slack. " +
				"With the carriage bring the tip 2 mm, along " +
				"the " +
				"slide, before the tailstock end of the taper, and lock it: only the compound feeds.\n" +
				"Wind the compound in, the tip clear of the work, to the small end, touch the turning work " +
				"there, and set the cross slide's " +
				"collar to 0. Cross slide out half a turn and its slack, compound back 2 mm (2 turns). Go deeper by at most " +
				"0.5 mm a side (25 div), the last time by 0.2 mm (10 div); from work turned to 30 mm first it is " +
				"5 mm in " +
				"all (2 turns + 50 div).\n" +
				"Each pass: wind the compound in, toward the headstock, those 2 mm and 60.208 mm more (60 turns " +
				"+ 10 " +
				"div; a division is 0.0033 mm on the diameter). Then cross slide out half a turn and its slack, " +
				"compound back, cross slide in to its next line, always in so that its slack is out.\n" +
				"Before the last pass measure two places far apart: the diameter changes by 0.16667 for each 1 " +
				"along " +
				"the axis, 10 mm over all; if not, put the swivel right first.",
		},
		{
			"a bore in bites", bore, units.MM,
			"Boring bar of 18 mm, standing out a little more than 200 mm, tip at centre height: 0.1 mm off " +
				"leaves the small end 0.0007 mm large.\n" +
				"Wind the compound out until it has 70.134 mm to go. With the carriage bring the tip 2 mm, along " +
				"the " +
				"slide, before the tailstock end of the bore, and lock it: only the compound feeds.\n" +
				"Wind the compound in, the tip clear of the work, to the large end, touch the wall of the hole " +
				"there as the work turns, and set " +
				"the cross slide's collar to 0. Cross slide in half a turn and its slack, compound back 2 mm. Go " +
				"deeper by at most 0.5 mm a side (25 div), the last time by 0.2 mm (10 div), until the large end " +
				"is " +
				"60 mm.\n" +
				"Each pass: wind the compound in, toward the headstock, those 2 mm and on only until the tip " +
				"leaves " +
				"the wall (67.134 mm at most): farther on the bar's back would meet the other. Then cross slide in " +
				"half a turn and its slack, compound back, cross slide out to its next line, always out so that " +
				"its " +
				"slack is out.\n" +
				"Cut a bite in all its passes, with the tip off the work wind the compound back, and wind the " +
				"cross " +
				"slide on in 6.66 mm (3 turns + 33 div); then unlock and move the carriage 66.6 mm toward the headstock (3 " +
				"turns + 33 div) and lock it; then the cross slide out by half a turn and its slack only: the " +
				"6.66 mm stays in. Set the collar to what it read at the last pass, come in past the next bite's " +
				"first line by half a turn and its slack and then out to it, and cut the next bite in the " +
				"same passes.\n" +
				"Before the last pass of the first bite measure two places in it, far apart: the diameter changes by 0.2 for " +
				"each 1 along the axis, 13.32 mm from end to end of it; if not, put the swivel right first.", // 0.2*66.6
		},
		{
			"an outside that grows, in bites", grows, units.MM,
			"Right-hand tool on the post's headstock side, post square to the work, tip at centre height: 0.1 mm " +
				"off leaves the small end 0.0007 mm large.\n" +
				"Wind the compound out until it has 70.134 mm to go. With the carriage bring the tip 2 mm, along " +
				"the " +
				"slide, before the tailstock end of the taper, and lock it: only the compound feeds.\n" +
				"Wind the compound in, the tip clear of the work, to the tailstock end of the taper, touch the " +
				"turning work there, and set the " +
				"cross slide's collar so that it counts 20 mm (10 turns). Cross slide out to the line of pass 7 " +
				"and " +
				"half a turn and its slack farther, compound back 2 mm. Go deeper by the table of passes, from " +
				"pass 7 on.\n" +
				"Each pass: wind the compound in, toward the headstock, those 2 mm and 67.134 mm more. Then cross " +
				"slide out half a turn and its slack, compound back, cross slide in to its next line, always in so " +
				"that its slack is out.\n" +
				"Cut a bite in all its passes, with the tip off the work wind the compound back, and unlock and move the " +
				"carriage 66.6 mm toward the headstock, by indicator or against a stop, and lock it; wind the cross " +
				"slide in by half a turn and its slack, and on 6.66 mm (3 turns + 33 div). Set the collar to what it read at " +
				"the last pass, come out past the next bite's first line by half a turn and its slack and then in to it, " +
				"and cut the next bites the same way: bite 2 from pass 4 on, bite 3 from pass 1 on.\n" +
				"Before the last pass of the first bite measure two places in it, far apart: the diameter changes by 0.2 for " +
				"each 1 along the axis, 13.32 mm from end to end of it; if not, put the swivel right first.", // 0.2*66.6
		},
		{
			"in inches, the slide just long enough", third, units.Inch,
			"Right-hand tool on the post's headstock side, post square to the work, tip at centre height.\n" +
				"Wind the compound out as far as it goes: beside what it cuts it has only 0.0344 in to spare, then " +
				"in until the slide just moves, and set its collar to 0. With the carriage bring the tip to the " +
				"very " +
				"tailstock end of the taper, and lock it: only the compound feeds.\n" +
				"Touch the turning work there, and set the cross slide's collar to 0. Cross slide out half a turn " +
				"and its slack. Go deeper by the table of passes.\n" +
				"Each pass: wind the compound in, toward the headstock, 2.0156 in (20 turns + 16 div; a division " +
				"is " +
				"0.00025 in on the diameter). Then cross slide out half a turn and its slack, compound back past 0 " +
				"by its slack and on to 0, cross slide in to its next line, always in so that its slack is out.\n" +
				"Before the last pass measure two places far apart: the diameter changes by 0.25 for each 1 along " +
				"the axis, 0.5 in over all; if not, put the swivel right first.",
		},
	} {
		r := set(t, tc.in)
		var got []string
		for _, s := range r.Steps {
			got = append(got, say.Text(s).In(tc.unit))
		}
		if all := strings.Join(got, "\n"); !strings.HasSuffix(all, tc.want) {
			t.Errorf("%s: got\n%s\nwant\n%s", tc.name, all, tc.want)
		}
	}
}

// A taper that is a part of more work is touched at its large end, at its z and as thick as
// it stands there, and the slack is taken up the way that it feeds: by the touch where a
// pass ends there, else where it begins. By hand: 30 to 20 over 60 is 5 a side, and the
// side 60.208 long; from 30.4 the last pass is 0.2 in, and the tip meets the small end
// 5 out. In bites, 40 to 30 over 300 from 40.4 is touched where the first begins, at the
// small end, and 5.2 in; a collar of 2 mm in 60 stops at 6 lines, and at 2 turns and 36.
func TestWound(t *testing.T) {
	in := compound.Input{SmallEnd: tapers.AtTailstock, Part: true}
	in.Large, in.Small, in.Length = length("30mm"), length("20mm"), length("60mm")
	in.Lathe.Compound = &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)}, Travel: length("70mm")}
	in.Lathe.CrossSlide = collar("2mm", 60, false)
	on := compound.Standing{
		Headstock: units.MustLength("92mm"), Tailstock: units.MustLength("152mm"), As: "as roughed",
		SetTo: tapers.HalfAngle(*in.Large, *in.Small, *in.Length), LargeEnd: length("30.4mm"), SmallEnd: length("30.4mm"),
	}
	long, thick := in, on
	long.Large, long.Small, long.Length = length("40mm"), length("30mm"), length("300mm")
	thick.Tailstock, thick.LargeEnd, thick.SmallEnd = units.MustLength("392mm"), length("40.4mm"), length("40.4mm")
	thick.SetTo = tapers.HalfAngle(*long.Large, *long.Small, *long.Length)
	unknown, between := on, on
	between.LargeEnd, between.SmallEnd = length("30.44mm"), length("30.44mm") // 0.22 in: 6 lines and a half
	unknown.LargeEnd, unknown.SmallEnd, unknown.As = nil, nil, "as it stands"
	const deeper = "Come in with the cross slide to 5 mm out from 0 (2 turns + 30 div), where the tip just meets " +
		"the " +
		"work; go deeper by at most 0.5 mm a side (15 div), the last time by 0.2 mm (6 div)"
	for _, tc := range []struct {
		hand  fouling.Hand
		flush bool
		in    compound.Input
		on    compound.Standing
		want  []string
	}{
		{fouling.Right, false, in, on, []string{
			"out until it has 63.208 mm to go. With the carriage bring the tip 2 mm, along the slide, before z 152 mm,",
			"Wind the compound in, the tip clear of the work, to the large end, z 92 mm, touch the turning " +
				"work there, 30.4 mm thick as roughed, and set the cross slide's collar to 0; the compound's too: " +
				"every pass ends there. Cross slide out 3 turns and its slack, past where the passes begin, " +
				"compound " +
				"back to where it began.",
			deeper + "; the last line is 0.2 mm (6 div) past 0.",
			"to 0: its slack, those 2 mm and 60.208 mm more.",
			"the diameter changes by 0.16667 for each 1 along the axis,",
		}},
		{fouling.Right, true, in, between, []string{
			"bring the tip to z 152 mm, not beyond it,", "to the large end, z 92 mm,",
			deeper + "; the last line is 0.2 mm (6 div) past 0.",
			"to 0: its slack, 60.208 mm.",
		}},
		{fouling.Left, false, in, unknown, []string{
			"in until it has 63.208 mm to go, then out until the slide just moves, and set its collar to 0. With " +
				"the " +
				"carriage bring the tip to z 92 mm,",
			"Touch the turning work there, as it stands, and set the cross slide's collar to 0. Cross slide out " +
				"3 turns " +
				"and its slack, past where the passes " +
				"begin.",
			deeper + ", until the cross slide is past 0 by half of what the work measures there over 30 mm: then " +
				"the large " +
				"end is to size.",
			"toward the tailstock, 60.208 mm. Then cross slide out half a turn and its slack, compound back past " +
				"0 by its " +
				"slack and on to 0,",
		}},
		{fouling.Right, false, long, thick, []string{
			"before z 392 mm,", "Wind the compound in, the tip clear of the work, to the small end, z 392 mm, touch the " +
				"turning work there, 40.4 mm thick",
			"Go deeper by at most 0.5 mm a side (15 div), the last time by 0.2 mm (6 div); the last line is 5.2 " +
				"mm (2 turns + " +
				"36 div) past 0.",
			"those 2 mm and", "Cut a bite in all its passes,", "Before the last pass",
		}},
	} {
		tc.in.Place.ToolHand, tc.on.Flush = tc.hand, tc.flush
		steps := set(t, tc.in).Wound(tc.on)
		for i, want := range tc.want {
			if got := steps[i].String(); !strings.Contains(got, want) {
				t.Errorf("%s: %s\nwant %s", tc.hand, got, want)
			}
		}
	}
	if steps := set(t, in).Wound(on); strings.Contains(steps[0].String(), "hand tool") != !on.Held {
		t.Error(steps[0])
	}
	on.Held = true
	if steps := set(t, in).Wound(on); !strings.HasPrefix(steps[0].String(), "Tip at centre height") {
		t.Error(steps[0])
	}
}

// What proves a mark that is kept is the mark's own angle: 30 to 20 over 41 is drawn at
// atan(5/41) = 6.953 deg, 10/41 = 0.2439 for each 1; the mark at 7 deg gives 2·tan 7 = 0.24557, over
// 41 mm 10.068. Set to 0.06 mm it is no mark, and the drawing's figure proves it.
func TestProvesTheMark(t *testing.T) {
	for _, tc := range []struct{ within, want string }{
		{"0.1mm", "the diameter changes by 0.24557 for each 1 along the axis, 10.068 mm over all as the scale is set " +
			"(drawn 0.2439); if not"},
		{"0.06mm", "the diameter changes by 0.2439 for each 1 along the axis, 10 mm over all; if not"},
	} {
		in := compound.Input{
			Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("41mm")},
			SmallEnd: tapers.AtTailstock, Place: on(slide(shop.Along, "1", false)), Within: length(tc.within),
		}
		in.Lathe.Compound.Scale.Step = units.Degrees(1)
		r, err := compound.Set(in)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, s := range r.Sheet().Procedure {
			all = append(all, s.String())
		}
		if said := strings.Join(all, "\n"); !strings.Contains(said, tc.want) {
			t.Errorf("within %s, by %s: want %q:\n%s", tc.within, r.Method, tc.want, said)
		}
	}
}

// How many passes a travel is, counted by going in line after line: as many lines as are no more than the
// depth, until no more than those of the last are left. 1.72 on lines of 0.02 is 86: 25, 50, 75, 76 and 86;
// 1.2 on lines of 0.06 is 20: 8, 16, 17 and 20.
func TestPassesLineByLine(t *testing.T) {
	for _, tc := range []struct {
		lead      string
		divisions int
		goes      string
		want      int
	}{
		{"2mm", 100, "1.72mm", 5},
		{"2mm", 100, "1.7mm", 4},
		{"2mm", 100, "1.71mm", 4},
		{"2mm", 100, "0.2mm", 1},
		{"2mm", 100, "0.22mm", 2},
		{"1mm", 60, "1.2mm", 3},
		{"0.1in", 100, "1.72mm", 5},
		{"3mm", 50, "1.2mm", 4},
	} {
		d := collar(tc.lead, tc.divisions, false)
		line, got := d.Lead.MM()/float64(d.Divisions), 1
		left := int(units.MustLength(tc.goes).MM()/line + 1e-6)
		each, last := int(0.5/line+1e-6), int(0.2/line+1e-6)
		for ; left > last; left -= min(each, left-last) {
			got++
		}
		is := compound.Passes(units.MustLength(tc.goes), units.MustLength("0.5mm"), units.MustLength("0.2mm"), d)
		if got != tc.want || is != tc.want {
			t.Errorf("%s on %s/%d: %d, line by line %d, by hand %d", tc.goes, tc.lead, tc.divisions, is, got, tc.want)
		}
	}
}

// Of bites that do not move alike each is named with what the cross slide goes on by, and where its
// passes begin: 40 to 31 over 300 in 5 bites on lines of 0.5 mm, the carriage 58.46 each. By hand
// 58.46·0.015 = 0.877, 1.754, 2.631 and 3.508 from the first, on the last lines that leave metal
// 0.5, 1.5, 2.5 and 3.5. A bite of 66.17 goes 0.992 deeper along itself, so that the last line of the second
// lies 1.492 under the work at its far end, that of the third 2.492.
func TestUnequalBitesAreNamed(t *testing.T) {
	in := compound.Input{SmallEnd: tapers.AtHeadstock, Part: true}
	in.Large, in.Small, in.Length = length("40mm"), length("31mm"), length("300mm")
	in.Lathe.Compound = &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)}, Travel: length("70mm")}
	in.Lathe.CrossSlide = collar("20mm", 40, false)
	on := compound.Standing{
		Headstock: units.MustLength("0mm"), Tailstock: units.MustLength("300mm"), As: "as roughed",
		SetTo: tapers.HalfAngle(*in.Large, *in.Small, *in.Length), LargeEnd: length("40.4mm"), SmallEnd: length("40.4mm"),
	}
	said := say.Join(set(t, in).Wound(on), "\n").In(units.MM)
	for _, want := range []string{
		"and on 0.5 mm (1 div) to bite 2, 1 mm (2 div) to bite 3, 1 mm (2 div) to bite 4, 1 mm (2 div) to bite 5. Set",
		"cut the next bites in the same passes: bite 2 from 1.5 mm (3 div) out, bite 3 from 2.5 mm (5 div) out, bite 4 from",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("not %q in\n%s", want, said)
		}
	}
}

// The carriage moved for what the last line leaves takes the whole path of the tip with it. By hand, z to
// the right: the tip goes from z1 to z2 and the carriage moves it by m. Begun and ended m/cos a sooner the
// tip lies m short of both along the axis, on the side that it came from; later, m beyond: both ends of
// the taper are met again, where the same pass would miss one of them by m and run past the other.
func TestTakesOffWhatTheLastLineLeaves(t *testing.T) {
	words := regexp.MustCompile(`carriage unlocked, moved ([0-9.]+) mm toward the (headstock|tailstock), locked, ` +
		`the same pass begun and ended ([0-9.]+) mm (sooner|later)`)
	right := map[string]float64{"headstock": -1, "tailstock": 1} // the headstock is on the left
	for _, tc := range []struct {
		small    tapers.End
		internal bool
		stock    string
	}{
		{tapers.AtTailstock, false, "32mm"},
		{tapers.AtHeadstock, false, "32mm"},
		{tapers.AtTailstock, true, "18mm"},
		{tapers.AtHeadstock, true, "18mm"},
	} {
		place := on(slide(shop.Along, "0.001", false))
		place.Lathe.CrossSlide = collar("2mm", 100, true)
		r, err := compound.Set(compound.Input{
			Input:    tapers.Input{Large: length("30.03mm"), Small: length("20.05mm"), Length: length("60mm")},
			SmallEnd: tc.small, Internal: tc.internal, Stock: length(tc.stock), Place: place,
		})
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, s := range r.Sheet().Procedure {
			all = append(all, s.Brief().In(units.MM))
		}
		m := words.FindStringSubmatch(strings.Join(all, "\n"))
		if m == nil {
			t.Errorf("%v: not told in %s", tc, strings.Join(all, "\n"))
			continue
		}
		var moved, along float64
		fmt.Sscan(m[1], &moved)
		fmt.Sscan(m[3], &along)
		fed := right[string(r.FeedsToward)]
		if m[4] == "sooner" {
			fed = -fed
		}
		if end := right[m[2]]*moved + fed*along*math.Cos(r.SetHalfAngle.Rad()); math.Abs(end) > 0.001 {
			t.Errorf("%v: the ends are missed by %.3f", tc, end)
		}
	}
}

// Turned to the large end first and cut to the line that is told, the small end comes out over by what is said that
// this leaves, and the move of the carriage that is told takes so much of it off as is said; a pass is no
// deeper than those before the last. Where the dial's lines meet the size nothing is said to be left.
func TestLeftWithoutStock(t *testing.T) {
	cut := regexp.MustCompile(`At most ([\d.]+) (?:mm|in) a side[^,]*, last ([\d.]+) (?:mm|in).*turned to ([\d.]+) ` +
		`(?:mm|in) first, [\d.]+ (?:mm|in)(?: in all)? ` +
		`\((?:(\d+) turns?)?(?: \+ )?(?:(\d+) div)?\)(?:: ([\d.]+) (?:mm|in) left)?\.`)
	leaves := regexp.MustCompile(`The last line leaves \+([\d.]+) (?:mm|in)(?:: the carriage unlocked, moved ([\d.]+) ` +
		`(?:mm|in) toward the headstock, locked, the same pass begun and ended [\d.]+ (?:mm|in) sooner, takes ` +
		`(?:it|all but \+([\d.]+) (?:mm|in)) off)?`)
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(s, 64)
		return v
	}
	left, none := 0, 0
	for _, dial := range []*shop.Dial{
		collar("2mm", 100, false), collar("1mm", 40, true),
		{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch},
	} {
		unit, page := 1.0, dial.Unit
		if page == units.Inch {
			unit = 25.4
		}
		for n := range 60 {
			small := (20 + 0.037*float64(n)) * unit
			large, l := small+(2+0.241*float64(n))*unit, (40+float64(n%4)*7)*unit
			if unit > 1 {
				small, large, l = small/25, large/25, l/25
			}
			if n%5 == 0 { // an even number of lines
				large = small + 40*dial.Division().MM()
			}
			in := compound.Input{
				Input: tapers.Input{
					Large: new(units.FromFloat(large)), Small: new(units.FromFloat(small)), Length: new(units.FromFloat(l)),
				},
				SmallEnd: tapers.AtTailstock, Place: on(slide(shop.Along, "0.001", false)), Tools: swivel.Tools{Unit: page},
			}
			in.Lathe.CrossSlide, in.Lathe.Compound.Travel = dial, length("200mm")
			if n%3 == 0 {
				in.Depth = length("0.1mm")
			}
			r, err := compound.Set(in)
			if err != nil {
				t.Fatal(err)
			}
			text := ""
			for _, step := range r.Sheet().Procedure {
				text += step.Brief().In(page) + "\n" + step.In(page) + "\n"
			}
			m := cut.FindStringSubmatch(text)
			if m == nil {
				t.Fatal(text)
			}
			if number(m[2]) > number(m[1]) {
				t.Errorf("the last pass is deeper: %s", m[0])
			}
			goes := (number(m[4]) + number(m[5])/float64(dial.Divisions)) * dial.Lead.MM()
			over := large - 2*goes - small
			if over < -1e-6 || over > 2*dial.Division().MM() {
				t.Errorf("%v is left\n%s", over, text)
			}
			if is := number(m[6]) * unit; math.Abs(is-over) > 0.0006*max(1, unit/10) {
				t.Errorf("%v is left, %v is said\n%s", over, is, text)
			}
			said := leaves.FindStringSubmatch(text)
			if said == nil {
				none++
				if over > 0.0006 {
					t.Errorf("%v is left, unsaid\n%s", over, text)
				}
				continue
			}
			left++
			if is := number(said[1]) * unit; math.Abs(is-over) > 0.0002*unit {
				t.Errorf("%v is left, %v is said\n%s", over, is, text)
			}
			rest := over - 2*number(said[2])*unit*(large-small)/2/l
			if is := number(said[3]) * unit; rest < -0.0002*unit || math.Abs(is-rest) > 0.0008*unit && said[2] != "" {
				t.Errorf("moved so %v is left, %v is said\n%s", rest, is, text)
			}
		}
	}
	if left < 60 || none < 20 {
		t.Error("asked of too few:", left, none)
	}
}
