package stages_test

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
	"setover/setup/page/published"
	"setover/tapers/fouling"
	"setover/tapers/stages"
	"setover/tapers/swivel"
)

// at reads "z=dia" pairs in mm.
func at(pairs ...[2]string) []stages.Station {
	list := make([]stages.Station, len(pairs))
	for i, p := range pairs {
		list[i] = stages.Station{Z: units.MustLength(p[0]), Dia: units.MustLength(p[1])}
	}
	return list
}

// lathe has a scale in whole degrees, 75 mm of travel and the tools given.
func lathe(tools ...shop.Tool) fouling.Place {
	travel := units.MustLength("75mm")
	c := &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.MustAngle("1deg")}, Travel: &travel}
	return fouling.Place{Lathe: shop.Lathe{Compound: c, Tools: tools}}
}

var tools = []shop.Tool{
	{Hand: "right", Trail: units.MustAngle("8deg")}, {Hand: "left", Trail: units.MustAngle("8deg")},
}

// Which stages an outside has, which tool cuts each, and in what order.
func TestStages(t *testing.T) {
	for _, tc := range []struct {
		name     string
		stations []stages.Station
		tools    []shop.Tool
		want     string
		order    string
	}{
		{
			"a plumb bob: neck, shoulder, body, two tapers", at(
				[2]string{"0", "16"}, [2]string{"14", "16"}, [2]string{"14", "34"}, [2]string{"34", "34"}, [2]string{"96", "20"},
				[2]string{"140", "3"},
			), tools,
			// The neck ends at a shoulder that would stand against a right-hand tool's trailing
			// edge, and is there before the shoulder is faced down to it.
			"1 cylinder left, 2 shoulder left, 3 cylinder right, 4 taper right 6.442 counter-clockwise, 5 taper right " +
				"10.934 counter-clockwise", "[3 1 2 4 5]",
		},
		{
			"a gentle growing taper: a right-hand tool's trailing edge clears", at(
				[2]string{"0", "1in"}, [2]string{"4in", "1.5in"},
			), tools,
			"1 taper right 3.576 clockwise", "[1]",
		},
		{
			"trail 8 deg, half angle 6: exactly 2 deg over", at([2]string{"0", "20"}, [2]string{"50", "30.510423526"}), tools,
			"1 taper right 6.000 clockwise", "[1]",
		},
		{
			"a steep growing taper is cut left-handed", at([2]string{"0", "10"}, [2]string{"20", "20"}), tools,
			"1 taper left 14.036 clockwise", "[1]",
		},
		{
			"a double cone: one setting each way, same settings together", at(
				[2]string{"0", "20"}, [2]string{"30", "10"}, [2]string{"60", "20"}, [2]string{"90", "10"},
			), tools,
			"1 taper right 9.462 counter-clockwise, 2 taper left 9.462 clockwise, 3 taper right 9.462 counter-clockwise",
			"[3 1 2]", // the last is open to the tool, the first two stand in each other's way
		},
		{
			"an end may come to a point", at([2]string{"0", "0"}, [2]string{"30", "20"}, [2]string{"40", "0"}), nil,
			"1 taper left 18.435 clockwise, 2 taper right 45.000 counter-clockwise", "[1 2]",
		},
	} {
		r, err := stages.Of(stages.Input{Stations: tc.stations, Place: lathe(tc.tools...)})
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		got := ""
		for i, s := range r.Stages {
			if i > 0 {
				got += ", "
			}
			got += fmt.Sprintf("%d %s %s", s.N, s.Kind, s.ToolHand)
			if s.HalfAngle != nil {
				got += fmt.Sprintf(" %.3f %s", s.HalfAngle.Deg(), *s.Swivel)
			}
		}
		if got != tc.want || fmt.Sprint(r.Order) != tc.order {
			t.Errorf("%s:\ngot  %s, order %v\nwant %s, order %s", tc.name, got, r.Order, tc.want, tc.order)
		}
	}
}

// How each taper is set, by hand. 1 in 7.5 on the diameter is atan(1/15) = 3.814
// deg a side, 20 long and √(20² + (4/3)²) = 20.0444 along the side; across the
// axis that is 93.814 deg of turn, which a scale that counts back shows as
// 86.186. 3-4-5: 30 deep in 40 is 36.870 deg, 53.130 from across, and 50 along
// the side.
func TestSettings(t *testing.T) {
	c := &shop.Compound{Scale: shop.Scale{Zero: shop.Across, Step: units.MustAngle("0.5deg"), BackAfter90: true}}
	r, err := stages.Of(stages.Input{
		Stations: at(
			[2]string{"5", "80"}, [2]string{"45", "20"}, [2]string{"65", "17.333333333333"},
			[2]string{"105", "77.333333333333"},
		),
		Place: fouling.Place{Lathe: shop.Lathe{Compound: c, Tools: tools}},
	})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range r.Stages {
		got = append(got, fmt.Sprintf("%d: half angle %.3f, reading %.3f, mark %.1f, %s, slide %.4f",
			s.N, s.HalfAngle.Deg(), s.Reading.Deg(), s.Mark.Deg(), *s.Swivel, s.SlideTravel.MM()))
	}
	for i, want := range []string{
		"1: half angle 36.870, reading 53.130, mark 53.0, counter-clockwise, slide 50.0000",
		"2: half angle 3.814, reading 86.186, mark 86.0, counter-clockwise, slide 20.0444",
		"3: half angle 36.870, reading 53.130, mark 53.0, clockwise, slide 50.0000",
	} {
		if got[i] != want {
			t.Errorf("got  %s\nwant %s", got[i], want)
		}
	}
	// 1 and 3 are opposite tapers: on this scale they read alike, and the hand turns 126.870
	// and 53.130 the same way round.
	for i, want := range map[int]string{0: "126.870 counter-clockwise true", 2: "53.130 counter-clockwise false"} {
		s := r.Stages[i]
		if got := fmt.Sprintf("%.3f %s %v", s.Turn.Deg(), *s.TurnDirection, *s.Past90); got != want {
			t.Errorf("stage %d: the hand turns %s, by hand %s", s.N, got, want)
		}
	}
	// No tool gets between 1 and 3: how each is set is told, and nothing to do.
	if steps := r.Sheet().Procedure; len(r.Fails()) == 0 || len(steps) > 0 {
		t.Error(r.Fails(), steps)
	}
	setting := r.Stages[1].Setting.String()
	want := "from zero (slide square to the axis, handle toward you) move the handle end toward the tailstock, " +
		"past 90 and on away from you, to about 86.2 deg on the scale, 93.814 from zero, since it counts back past 90; " +
		"exact 86.186 deg. Then "
	if !strings.HasPrefix(setting, want) {
		t.Errorf("got  %s\nwant %s", setting, want)
	}
}

// The order: what is not tapered first, the largest first; then the tapers, the
// largest first, and with each those of the same setting: the same way round and
// the same mark, or where there are no marks the same angle.
func TestOrder(t *testing.T) {
	for _, tc := range []struct {
		name     string
		stations []stages.Station
		want     string
		exact    string // without a compound, by the angles alone
	}{
		// 4.57 and 4.70 deg are the one mark of 5, 5.63 deg is that of 6.
		{
			"marks", at([2]string{"0", "60"}, [2]string{"100", "44"}, [2]string{"200", "24.28"}, [2]string{"300", "7.84"}),
			"[1 3 2]", "[1 2 3]",
		},
		// 1 in 5, 2 in 5 and 1 in 5 again on the diameter.
		{
			"angles", at([2]string{"0", "60"}, [2]string{"50", "50"}, [2]string{"100", "30"}, [2]string{"150", "20"}),
			"[1 3 2]", "[1 3 2]",
		},
		// Up and down at 11.31 deg, twice.
		{
			"ways", at(
				[2]string{"0", "40"}, [2]string{"50", "20"}, [2]string{"100", "40"}, [2]string{"150", "20"},
				[2]string{"200", "40"},
			),
			"[1 3 2 4]", "[1 3 2 4]",
		},
		// A cylinder of 10, a face to 50, a cylinder, and a taper that is larger still: the
		// face is cut down to what is there.
		{
			"kinds", at(
				[2]string{"0", "10"}, [2]string{"20", "10"}, [2]string{"20", "50"}, [2]string{"40", "50"}, [2]string{"60", "70"},
			),
			"[3 1 2 4]", "[3 1 2 4]",
		},
	} {
		for place, want := range map[string]string{"marks": tc.want, "": tc.exact} {
			in := stages.Input{Stations: tc.stations, Within: new(units.MustLength("5mm"))}
			if place != "" {
				in.Place, in.Blade = lathe(tools...), new(units.MustLength("3mm"))
			}
			r, err := stages.Of(in)
			if err != nil {
				t.Fatal(err)
			}
			if got := fmt.Sprint(r.Order); got != want {
				t.Errorf("%s, lathe %q: order %s, want %s", tc.name, place, got, want)
			}
		}
	}
}

// A gentle taper that grows is cut by the hand of tool that is there.
func TestToolsOwned(t *testing.T) {
	for _, tool := range tools {
		r, err := stages.Of(stages.Input{Stations: at([2]string{"0", "20"}, [2]string{"50", "22"}), Place: lathe(tool)})
		if err != nil || string(r.Stages[0].ToolHand) != tool.Hand {
			t.Errorf("a %s-hand tool alone: %s (%v)", tool.Hand, r.Stages[0].ToolHand, err)
		}
	}
}

// A trailing edge that is short by less than a degree still takes the left-hand
// tool: 8 deg of trail clear 6 deg and no more.
func TestShortOfTrail(t *testing.T) {
	// atan(0.105) and atan(0.106).
	for dia, want := range map[string]fouling.Hand{"30.5": fouling.Right, "30.6": fouling.Left} {
		r, err := stages.Of(stages.Input{Stations: at([2]string{"0", "20"}, [2]string{"50", dia}), Place: lathe(tools...)})
		if err != nil || r.Stages[0].ToolHand != want {
			t.Errorf("20 to %s: %s, want %s (%v)", dia, r.Stages[0].ToolHand, want, err)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		stations []stages.Station
		want     string
	}{
		{at([2]string{"0", "20"}), "station: needs at least two stations, such as station 0=20 station 60=12"},
		{
			at([2]string{"0", "20"}, [2]string{"10", "0"}, [2]string{"20", "5"}),
			"station: 10 mm=0 mm: a diameter must be above 0 (an end may come to a point)",
		},
		{
			at([2]string{"0", "-1"}, [2]string{"10", "5"}),
			"station: 0 mm=-1 mm: a diameter must be above 0 (an end may come to a point)",
		},
		{
			at([2]string{"10", "20"}, [2]string{"5", "5"}),
			"station: 5 mm=5 mm: stations run from left to right: this one stands left of 10 mm",
		},
		{at([2]string{"1in", "20"}, [2]string{"25.4", "20"}), "station: 25.4 mm=20 mm: the same station twice"},
		{
			at([2]string{"0", "30"}, [2]string{"48", "30"}, [2]string{"48", "20"}, [2]string{"48", "28"}, [2]string{"79", "28"}),
			"station: 48 mm=20 mm: a groove of no width: give its other side at another z",
		},
		{
			at([2]string{"0", "20"}, [2]string{"48", "20"}, [2]string{"48", "30"}, [2]string{"48", "28"}, [2]string{"79", "28"}),
			"station: 48 mm=30 mm: a ring of no width: give its other side at another z",
		},
		{
			at([2]string{"0", "34"}, [2]string{"0", "20"}),
			"station: 0 mm: every station stands there: give one at another z, or there is no length to cut",
		},
	} {
		if _, err := stages.Of(stages.Input{Stations: tc.stations}); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// What is not checked without the instruments.
func TestNotChecked(t *testing.T) {
	r, err := stages.Of(stages.Input{
		Stations: at([2]string{"0", "20"}, [2]string{"50", "10"}), Within: new(units.MustLength("1mm")),
	})
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, w := range r.Warnings {
		got += w.Text.String() + "\n"
	}
	want := "no compound in this shop: the angles are exact, no marks were looked for (lathe: compound)\n" +
		"whether a tool's trailing edge clears was not checked (lathe: tools)\n" +
		"whether the lathe takes work of this size was not checked (lathe: between_centres, swing_over_bed, " +
		"swing_over_slide)\n"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// With a place, every taper is checked; the part's own shoulder is in the
// post's way.
func TestFouling(t *testing.T) {
	length := func(text string) *units.Length {
		l := units.MustLength(text)
		return &l
	}
	in := stages.Input{
		Stations: at([2]string{"0", "90"}, [2]string{"20", "90"}, [2]string{"20", "20"}, [2]string{"60", "12"}),
		Place:    lathe(tools...),
	}
	in.FromJaws, in.PostSide = length("10mm"), fouling.Front
	in.Lathe.Chuck = &shop.Chuck{
		Diameter: units.MustLength("100mm"), JawLength: length("28mm"), JawCircle: length("110mm"),
	}
	in.Lathe.ToolPost = &shop.ToolPost{
		Size: units.MustLength("65mm"), HolderWidth: units.MustLength("16mm"), Overhang: units.MustLength("25mm"),
	}
	r, err := stages.Of(in)
	if err != nil {
		t.Fatal(err)
	}
	// On the post's front the post stands (65-16)/2 = 24.5 mm to the left of a
	// right-hand tip and 25 mm behind it. The shoulder's corner is at (30, 45).
	// With the tip t along the slope from (29.0, 10.1), the overlap is
	// 25.5 - 0.995·t along z and 9.9 + 0.0995·t across: the lesser is largest
	// at t = 14.25, 11.32 mm.
	// Turned the least way the post is still met; on the headstock side it stands to
	// the right of the holder, clear of the shoulder.
	want := "post-side: stage 3: the post runs into the work by 11.4 mm; to clear, hang the holder on the " +
		"post's headstock side"
	if got := r.Fails().Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	// The drawing's zero does not matter: only where the first station stands.
	far := in
	far.Stations = nil
	for _, s := range in.Stations {
		far.Stations = append(far.Stations, stages.Station{Z: s.Z.Plus(units.Millimetres(7)), Dia: s.Dia})
	}
	moved, err := stages.Of(far)
	if err != nil || !moved.Stages[2].Clearance.Equal(*r.Stages[2].Clearance) {
		t.Error(say.Of(moved.Stages[2].Clearance, ", not ", r.Stages[2].Clearance), err)
	}
	if r.Stages[2].Clearance == nil || r.Stages[0].Clearance != nil {
		t.Error("clearance:", say.Of(r.Stages[2].Clearance), say.Of(r.Stages[0].Clearance))
	}
	// A wall that is not quite a shoulder is as much in the way.
	in.Stations = at([2]string{"0", "90"}, [2]string{"20", "90"}, [2]string{"20.001", "20"}, [2]string{"60", "12"})
	r, err = stages.Of(in)
	if err != nil || !strings.Contains(r.Fails().Error(), "stage 3: the post runs into the work by 11.4 mm") {
		t.Error(r.Fails(), err)
	}
	// A taper that stands 10 mm from the jaws, wherever the drawing's zero is: the
	// tip stops cos a short of them, as in the tests of fouling.
	in.PostSide, in.Stations = "", at([2]string{"5", "30"}, [2]string{"65", "20"})
	r, err = stages.Of(in)
	if err != nil || units.AsPrinted(*r.Stages[0].Clearance, "9.003mm") != "9.003mm" {
		t.Error("clearance:", say.Of(r.Stages[0].Clearance), err)
	}
	in.FromJaws = length("-1mm")
	if _, err := stages.Of(in); err == nil || err.Error() != "from-jaws: -1 mm: cannot be negative" {
		t.Error(err)
	}
}

// A spindle nose: a cylinder and a steep taper, with the marks of a scale in
// whole degrees.
func ExampleOf() {
	r, err := stages.Of(stages.Input{
		Stations: []stages.Station{
			{Z: units.MustLength("0mm"), Dia: units.MustLength("20mm")},
			{Z: units.MustLength("30mm"), Dia: units.MustLength("20mm")},
			{Z: units.MustLength("50mm"), Dia: units.MustLength("0mm")},
		},
		Place: fouling.Place{Lathe: shop.Lathe{
			Compound: &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.MustAngle("1")}},
		}},
	})
	if err != nil {
		panic(err)
	}
	for _, s := range r.Stages {
		fmt.Print(s.Kind)
		if s.Mark != nil {
			fmt.Print(" at ", *s.Mark)
		}
		fmt.Println()
	}
	// Output:
	// cylinder
	// taper at 27 deg
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	r, err := stages.Of(stages.Input{Stations: at([2]string{"0", "20"}, [2]string{"50", "10"}, [2]string{"80", "1in"})})
	if err != nil {
		t.Fatal(err)
	}
	published.Works(t, r.Sheet())
}

// The whole of the work must go between the centres, whichever part is the taper: 500 mm
// on a lathe of 400, and of 300 that begin 120 from the jaws. A disc of 150 mm turns
// over no slide that clears 130.
func TestRoom(t *testing.T) {
	long := at([2]string{"0", "40"}, [2]string{"300", "30"}, [2]string{"500", "30"})
	for _, tc := range []struct {
		stations []stages.Station
		jaws     string
		want     string
	}{
		{long, "", "station: 500 mm: the lathe takes no more between its centres than 400 mm"},
		{long[:2], "", ""},
		{long[:2], "120mm", "from-jaws: 420 mm: the lathe takes no more between its centres than 400 mm"},
		{
			at([2]string{"0", "150"}, [2]string{"30", "150"}, [2]string{"60", "140"}), "",
			"station: 150 mm: does not swing over the cross slide, which clears 130 mm",
		},
		{at([2]string{"0", "150"}, [2]string{"10", "100"}), "", ""}, // 68 deg: as an end is faced
	} {
		place := lathe(tools...)
		most, bed, slide := units.Millimetres(400), units.Millimetres(220), units.Millimetres(130)
		place.Lathe.BetweenCentres, place.Lathe.SwingOverBed, place.Lathe.SwingOverSlide = &most, &bed, &slide
		if tc.jaws != "" {
			from := units.MustLength(tc.jaws)
			place.FromJaws = &from
		}
		r, err := stages.Of(stages.Input{Stations: tc.stations, Place: place})
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if err := r.Fails().Err(); err != nil {
			got = err.Error()
		}
		if got != tc.want {
			t.Errorf("%v: got %q, want %q", tc.stations, got, tc.want)
		}
	}
}

// How stages are cut, by hand. 40 to 30 over 300 is 5 a side, √(300² + 5²) = 300.0417
// along the side, in 5 bites: four moves of the carriage, c·300.0417/300 along the side
// each, and what is wound in the last one are that. The cross slide goes on c/60, to its
// line of 0.02; it rises the way it is cut, so first and out. Where the work goes on
// beside it the tip begins at its very end: 2 mm beyond, on the line of the side, it would
// stand 2·5/300 = 0.033 deep in the cylinder of 30.
func TestSteps(t *testing.T) {
	place := lathe(tools...)
	screw := shop.Dial{Lead: units.Millimetres(1), Divisions: 50}
	cross := shop.Dial{Lead: units.Millimetres(2), Divisions: 100}
	place.Lathe.Compound.Screw, place.Lathe.CrossSlide = &screw, &cross
	const moves = `wind the cross slide on out ([0-9.]+) mm \(\d+ div\); then unlock and move the carriage ([0-9.]+) ` +
		`mm toward the headstock,`
	for _, tc := range []struct {
		stations []stages.Station
		want     string
	}{
		{
			at([2]string{"0", "40"}, [2]string{"300", "30"}, [2]string{"380", "30"}),
			`(?s)^Begin with a bar of 40 mm, faced at z 380 mm: [^\n]*\nStage 2: turn it to 30 mm, ` +
				`from z 300 mm to z 380 mm\..*bring the tip to z 300 mm, not beyond it,.*` +
				`Stage 1: Compound in 3 mm \(3 turns\), tip clear, touch the turning work there, ` +
				`as it stands, and set .* to 0\. Cross slide out half a turn and its slack, compound ` +
				`back past 0 by its slack and on to 0\.\nStage 1: .*; go deeper .*, until the cross slide is past 0 by ` +
				`half of what the work measures there over 30 mm, less 0\.051 mm: .*Stage 1: Each pass: wind the ` +
				`compound in, toward the headstock, ([0-9.]+) mm \(.*` + moves,
		},
		{
			at([2]string{"0", "40"}, [2]string{"50", "40"}, [2]string{"350", "30"}),
			`(?s)^Begin with a bar of 40 mm, [^\n]*\nStage 1: turn it to 40 mm, from z 0 mm to z 50 mm\..*` +
				`bring the tip 2 mm, .*before z 350 mm,.*Stage 2: Compound in, .*` +
				` to 3 mm of slide past z 350 mm, touch the turning work there,.* compound back 5 mm \(5 turns\)\..*Each ` +
				`pass: wind the compound in, toward the headstock, those 2 mm and ([0-9.]+) mm more \(.*` + moves,
		},
	} {
		r, err := stages.Of(stages.Input{Stations: tc.stations, Place: place})
		if err != nil {
			t.Fatal(err)
		}
		said := say.Join(r.Sheet().Procedure, "\n").In(units.MM)
		found := regexp.MustCompile(tc.want).FindStringSubmatch(said)
		if found == nil {
			t.Fatalf("not as %s:\n%s", tc.want, said)
		}
		var feed, over, along float64
		for i, to := range []*float64{&feed, &over, &along} {
			*to, _ = strconv.ParseFloat(found[i+1], 64)
		}
		if math.Abs(4*along*300.0417/300+feed-300.0417) > 0.002 || math.Abs(over-along/60) > 0.01 {
			t.Errorf("wound %v, then %v and %v", feed, over, along)
		}
	}
}

// A groove between two shoulders, from z 20 to 51, is plunged: a holder of 16 has no room on both
// sides of its 31 mm. One of 40 is turned.
func TestPlunged(t *testing.T) {
	for _, tc := range []struct {
		right float64
		want  string
	}{
		{
			51, "Stage 3: plunge it to 20 mm, from z 20 mm to z 51 mm, with a grooving tool no wider than 31 mm: the " +
				"parting blade is 3 mm wide. Straight in, one cut beside the other.",
		},
		{
			// 40 less the 16 of the holder and 2 for its edges and to spare, 11 on either side.
			60, "Stage 3: first plunge a slot to 20 mm, from z 31 mm to z 49 mm, with the parting " +
				"blade, 3 mm wide: straight in, one cut beside the other. Then turn it to 20 mm, from " +
				"z 20 mm to z 60 mm, a right-hand tool up to the shoulder at the headstock's " +
				"side, a left-hand one up to the other.",
		},
	} {
		r, err := stages.Of(stages.Input{
			Stations: outside(0, 40, 20, 40, 20, 20, tc.right, 20, tc.right, 40, 80, 40), Place: mounted(tools...),
			Blade: new(units.MustLength("3mm")), BladeReach: new(units.MustLength("10mm")),
		})
		if err != nil || len(r.Fails()) > 0 {
			t.Fatal(err, r.Fails())
		}
		var all []string
		for _, s := range r.Sheet().Procedure {
			all = append(all, s.String())
		}
		if said := strings.Join(all, "\n"); !strings.Contains(said, tc.want) {
			t.Errorf("want %s:\n%s", tc.want, said)
		}
	}
}

// However the slide is set, what is said of it ends with the bolts and with proving it. 30 to 20
// over 60 is a half angle of 4.764 deg: to 1 mm the mark at 5 deg keeps it, to 0.02 mm only an
// indicator does; over 200 mm, 1.432 deg, a sine bar.
func TestTightened(t *testing.T) {
	for _, tc := range []struct {
		long, within string
		by           swivel.Method
	}{{"60mm", "1mm", swivel.ByMark}, {"60mm", "0.02mm", swivel.ByIndicator}, {"200mm", "0.02mm", swivel.BySineBar}} {
		place := lathe()
		place.Lathe.Compound.Screw = &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50}
		r, err := stages.Of(stages.Input{
			Stations: []stages.Station{
				{Z: units.MustLength("0mm"), Dia: units.MustLength("30mm")},
				{Z: units.MustLength(tc.long), Dia: units.MustLength("20mm")},
			},
			Place: place, Within: new(units.MustLength(tc.within)),
			Tools: swivel.Tools{SineBar: new(units.MustLength("100mm")), Blocks: &shop.GaugeBlocks{Set: "metric-47"}},
		})
		if err != nil {
			t.Fatal(err)
		}
		if by := *r.Stages[0].Method; by != tc.by {
			t.Errorf("%s, %s: %s", tc.long, tc.within, by)
		}
		set := r.Sheet().Procedure[1] // after the bar
		for _, said := range []string{set.Brief().String(), set.Whole().String()} {
			i := strings.LastIndex(said, "Tighten")
			if i < 0 || !strings.Contains(said[i:], "prove it") || !strings.HasPrefix(said, "From zero") {
				t.Errorf("%s: %s", tc.by, said)
			}
		}
	}
}

// A point at the left end is held by nothing that is drawn: it is said what holds it. One at
// the right end stands free.
func TestPointAtTheChuck(t *testing.T) {
	for _, tc := range []struct {
		at   []stages.Station
		said bool
	}{
		{at([2]string{"0", "0"}, [2]string{"20", "20"}), true},
		{at([2]string{"0", "20"}, [2]string{"20", "0"}), false},
	} {
		r, err := stages.Of(stages.Input{Stations: tc.at, Place: lathe(tools...)})
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, w := range r.Warnings {
			said = said || strings.Contains(w.Text.String(), "leave the bar thicker beyond it")
		}
		if said != tc.said {
			t.Error(tc.at, r.Warnings)
		}
	}
}

// What a short page leaves out is said elsewhere on it: what the table has of a stage stands in its steps, and
// where a step only refers to one before, that says word for word what the whole page says there.
func TestShortPage(t *testing.T) {
	r, err := stages.Of(stages.Input{
		Stations: at([2]string{"0", "20"}, [2]string{"40", "34"}, [2]string{"60", "34"}, [2]string{"100", "20"}),
		Place:    lathe(tools...),
	})
	if err != nil || len(r.Fails()) > 0 {
		t.Fatal(err, r.Fails())
	}
	s := r.Sheet()
	for _, c := range s.Tables[0].Cols {
		if !c.Behind {
			t.Errorf("the table still has %s", c.Key)
		}
	}
	short, whole := []string{}, []string{}
	for _, step := range s.Procedure {
		short, whole = append(short, step.Brief().In(say.MM)), append(whole, step.Whole().In(say.MM))
	}
	text := strings.Join(short, "\n")
	for _, st := range r.Stages {
		hand := string(st.ToolHand)
		has := say.Of("Stage ", st.N, ", from z ", st.From, " to z ", st.To, ", ", st.FromDia, " to ", st.ToDia, ": ",
			strings.ToUpper(hand[:1]), hand[1:], "-hand tool").In(say.MM)
		if st.Kind == stages.Cylinder {
			has = say.Of("Stage ", st.N, ": turn it to ", st.ToDia, ", from z ", st.From, " to z ", st.To, ", ", hand,
				"-hand tool.").In(say.MM)
		}
		if !strings.Contains(text, has) {
			t.Errorf("no %q in\n%s", has, text)
		}
	}
	folded := 0
	for i, step := range short {
		m := regexp.MustCompile(`^(Stage \d+): as step (\d+)\.$`).FindStringSubmatch(step)
		if strings.Contains(whole[i], "as step") {
			t.Errorf("on the whole page: %s", whole[i])
		}
		if m == nil {
			continue
		}
		folded++
		n, _ := strconv.Atoi(m[2])
		_, told, _ := strings.Cut(whole[n-1], ": ")
		if n > i || whole[i] != m[1]+": "+told || strings.Contains(short[n-1], "as step") {
			t.Errorf("%s: %s\nis not %s", step, whole[n-1], whole[i])
		}
	}
	if folded != 2 { // how deep, and what proves it: the two are alike
		t.Errorf("%d steps refer to others\n%s", folded, text)
	}
}

// A drawing that ends in a shoulder goes on beyond it as thick as it ends: whatever the cone of 60 beside it, a plain
// right-hand tool has no room for its trailing edge in front of a flange that stands higher than 2 mm on the radius,
// which 16 mm of a holder at 6 deg clear, 1.68 mm; turned end for end neither has a left-hand one. Nothing calls a
// parting blade a hand.
func TestEndsInAShoulder(t *testing.T) {
	for _, known := range []bool{false, true} {
		for _, flange := range []float64{20, 22, 24, 30, 40} {
			for _, list := range [][]stages.Station{
				outside(0, 30, 20, 18, 20, flange), outside(0, flange, 0, 18, 20, 30), outside(0, 18, 20, 18, 20, flange),
			} {
				in := stages.Input{Stations: list, Place: mounted(tools...)}
				if known {
					in.FromJaws = new(units.Millimetres(35))
				}
				r, err := stages.Of(in)
				if err != nil {
					t.Fatal(err)
				}
				for _, st := range r.Sheet().Procedure {
					if strings.Contains(st.String(), "blade-hand") {
						t.Error(list, st)
					}
				}
				if list[0].Dia.MM() != 18 && flange >= 22 && len(r.Fails()) == 0 {
					t.Errorf("%v, place known %v: yes with a %s-hand tool", list, known, r.Stages[0].ToolHand)
				}
			}
		}
	}
}
