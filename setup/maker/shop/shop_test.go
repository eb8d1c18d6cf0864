package shop_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
)

func mm(text string) units.Length { return units.MustLength(text) }

func deg(v float64) units.Angle { return units.Degrees(v) }

// Each row is worked by hand: the travel over the division, to the nearest
// line, and back.
func TestDialSet(t *testing.T) {
	metric := shop.Dial{Lead: mm("2mm"), Divisions: 100}
	inch := shop.Dial{Lead: mm("0.1in"), Divisions: 100, Unit: units.Inch}
	thirds := shop.Dial{Lead: mm("1mm"), Divisions: 60}
	for _, tc := range []struct {
		dial                    shop.Dial
		travel, set, lost, mark string
	}{
		{metric, "6.84mm", "6.84", "0", "3 turns + 42 div"},
		{metric, "2.015mm", "2.02", "0.005", "1 turn + 1 div"},
		{metric, "2.0149mm", "2.02", "0.0051", "1 turn + 1 div"},
		{metric, "2.0099mm", "2", "-0.0099", "1 turn + 0 div"},
		{metric, "-2.06mm", "-2.06", "0", "-1 turn + -3 div"},
		{metric, "0", "0", "0", "0 turns + 0 div"},
		{inch, "12.7mm", "12.7", "0", "5 turns + 0 div"},
		{inch, "1mm", "0.9906", "-0.0094", "0 turns + 39 div"}, // 39.37 thousandths
		{thirds, "0.33mm", "0.333333333333", "0.003333333333", "0 turns + 20 div"},
		{thirds, "3mm", "3", "0", "3 turns + 0 div"}, // 180 divisions of a third of 0.05: nothing is lost
	} {
		s, turns := tc.dial.Set(mm(tc.travel))
		got := strings.Join([]string{s.Set.Decimal().String(), s.Lost.Decimal().String(), s.Mark}, " ")
		if want := strings.Join([]string{tc.set, tc.lost, tc.mark}, " "); got != want || turns.String() != tc.mark {
			t.Errorf("%s: got %s, want %s", tc.travel, got, want)
		}
	}
}

// A collar that counts on the diameter shows twice the travel; a reading runs
// round, either way.
func TestDialReading(t *testing.T) {
	d := shop.Dial{Lead: mm("2mm"), Divisions: 100, OnDiameter: true}
	travel := shop.Dial{Lead: mm("2mm"), Divisions: 100}
	for _, tc := range []struct {
		dial      shop.Dial
		divisions int64
		want      string
	}{
		{
			d, 10, "0.4",
		}, {d, 99, "3.96"}, {d, 100, "0"}, {d, 110, "0.4"}, {d, -10, "3.6"}, {d, -110, "3.6"}, {
			travel, 10,
			"0.2",
		},
	} {
		if got := tc.dial.Reading(tc.divisions).Decimal().String(); got != tc.want {
			t.Errorf("%d divisions: %s, want %s", tc.divisions, got, tc.want)
		}
	}
}

// The line that is set is never more than half a division from the travel, and
// the turns and divisions lead back to it.
func TestDialSetIsTheNearestLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := shop.Dial{
			Lead:      units.FromFloat(float64(rapid.IntRange(500, 6000).Draw(t, "lead")) / 1000),
			Divisions: rapid.IntRange(20, 250).Draw(t, "divisions"),
		}
		travel := units.FromFloat(float64(rapid.IntRange(-90000, 90000).Draw(t, "travel")) / 1000)
		s, turns := d.Set(travel)
		if half := d.Division().MM()/2 + 1e-9; s.Lost.Abs().MM() > half {
			t.Fatalf("loses %s, half a division is %v", s.Lost.Decimal(), half)
		}
		n := turns.Turns*int64(d.Divisions) + turns.Divisions
		back := d.Lead.MM() * float64(n) / float64(d.Divisions)
		if math.Abs(back-s.Set.MM()) > 1e-11 { // Set is rounded to 1e-12
			t.Fatalf("%s is %v mm, set is %s", turns, back, s.Set.Decimal())
		}
	})
}

// A compound is turned from its own zero, the short way round, and reads as its
// scale is numbered.
func TestCompoundSet(t *testing.T) {
	limit := deg(60)
	along := shop.Scale{Zero: shop.Along, Step: deg(1)}
	across := shop.Scale{Zero: shop.Across, Step: deg(0.5), Limit: &limit}
	back := shop.Scale{Zero: shop.Along, Step: deg(1), BackAfter90: true}
	for _, tc := range []struct {
		scale shop.Scale
		s     float64
		exact string // turn direction reading, past 90, off scale
		mark  string
		lost  float64
	}{
		{along, 5.711, "5.711 clockwise 5.711 false false", "6 clockwise 6 false false", 0.289},
		{along, -5.3, "5.3 counter-clockwise 5.3 false false", "5 counter-clockwise 5 false false", 0.3},
		{along, 0, "0 clockwise 0 false false", "0 clockwise 0 false false", 0},
		{along, 357, "3 counter-clockwise 3 false false", "3 counter-clockwise 3 false false", 0},
		{along, 100, "100 clockwise 100 false false", "100 clockwise 100 false false", 0},
		{back, 90, "90 clockwise 90 false false", "90 clockwise 90 false false", 0},
		{back, 100, "100 clockwise 80 true false", "100 clockwise 80 true false", 0},
		{across, 150, "60 clockwise 60 false false", "60 clockwise 60 false false", 0},
		{across, 150.5, "60.5 clockwise 60.5 false true", "60.5 clockwise 60.5 false true", 0},
		{across, 60.3, "29.7 counter-clockwise 29.7 false false", "29.5 counter-clockwise 29.5 false false", 0.2},
		{across, 29, "61 counter-clockwise 61 false true", "61 counter-clockwise 61 false true", 0},
	} {
		exact, mark, setting := shop.Compound{Scale: tc.scale}.Set(deg(tc.s))
		words := func(t shop.Turned) string {
			return fmt.Sprintf("%s %s %s %v %v", say.Num(t.Turn.Deg(), 6), t.Direction, say.Num(t.Reading.Deg(), 6), t.Past90,
				t.OffScale)
		}
		if words(exact) != tc.exact || words(mark) != tc.mark {
			t.Errorf("%v: %s, at the mark %s; want %s, %s", tc.s, words(exact), words(mark), tc.exact, tc.mark)
		}
		lost, set := string(say.Num(setting.Lost.Deg(), 6)), string(say.Num(setting.Set.Deg(), 6))
		if lost != string(say.Num(tc.lost, 6)) || set != string(say.Num(tc.s+tc.lost, 6)) ||
			setting.Mark != mark.Reading.String() {
			t.Errorf("%v: set %s, lost %s at %s; want lost %v", tc.s, set, lost, setting.Mark, tc.lost)
		}
	}
}

// The highest speed that is not above the one wanted, else the lowest.
func TestSpindleSet(t *testing.T) {
	rpm := units.RPM
	steps := shop.Spindle{Speeds: []units.SpindleSpeed{rpm(100), rpm(160), rpm(250)}}
	mixed := shop.Spindle{Speeds: []units.SpindleSpeed{rpm(160), rpm(100)}}
	free := shop.Spindle{From: rpm(50), To: rpm(2500)}
	for _, tc := range []struct {
		spindle shop.Spindle
		ideal   float64
		want    string
	}{
		{steps, 249.9, "160 -89.9 160 rpm"},
		{steps, 250, "250 0 250 rpm"},
		{steps, 1000, "250 -750 250 rpm"},
		{steps, 99, "100 1 100 rpm"},
		{steps, 100, "100 0 100 rpm"},
		{mixed, 90, "100 10 100 rpm"},
		{free, 776.17, "775 -1.17 775 rpm"},
		{free, 780, "780 0 780 rpm"},
		{free, 4, "50 46 50 rpm"},
		{free, 9000, "2500 -6500 2500 rpm"},
		{free, 53, "50 -3 50 rpm"},
	} {
		s := tc.spindle.Set(rpm(tc.ideal))
		got := fmt.Sprint(say.Num(s.Set.RPM(), 2), " ", say.Num(s.Lost.RPM(), 2), " ", s.Mark)
		if got != tc.want || s.Exact.RPM() != tc.ideal {
			t.Errorf("%v: got %s, want %s", tc.ideal, got, tc.want)
		}
	}
	if steps.Lowest().RPM() != 100 || mixed.Lowest().RPM() != 100 || free.Lowest().RPM() != 50 {
		t.Error("not the lowest")
	}
}

// The nearest drill on the safe side.
func TestDrawer(t *testing.T) {
	drawer := shop.Drawer{{Name: "6", Dia: mm("6mm")}, {Name: "1/4", Dia: mm("1/4in")}, {Name: "6.5", Dia: mm("6.5mm")}}
	for _, tc := range []struct {
		size string
		dir  units.Direction
		want string
	}{
		{"6.4mm", units.Nearest, "1/4 -0.05"},
		{"6.4mm", units.Up, "6.5 0.1"},
		{"6.4mm", units.Down, "1/4 -0.05"},
		{"6.5mm", units.Down, "6.5 0"},
		{"6mm", units.Up, "6 0"},
		{"5.9mm", units.Down, ""},
		{"6.6mm", units.Up, ""},
		{"6.2mm", units.Nearest, "1/4 0.15"},
	} {
		d, s, ok := drawer.Nearest(mm(tc.size), tc.dir)
		got := ""
		if ok {
			got = s.Mark + " " + s.Lost.Decimal().String()
		}
		if got != tc.want || ok && (d.Name != s.Mark || !s.Set.Equal(d.Dia)) || s.Exact.Decimal().String()+"mm" != tc.size {
			t.Errorf("%s %v: got %q, want %q", tc.size, tc.dir, got, tc.want)
		}
	}
	if _, _, ok := (shop.Drawer{}).Nearest(mm("6mm"), units.Nearest); ok {
		t.Error("an empty drawer has a drill")
	}
}

// full is a shop that owns one of everything.
func full() shop.Shop {
	ptr := func(text string) *units.Length {
		l := mm(text)
		return &l
	}
	motor, pitch := units.Watts(550), units.MustPitch("8tpi")
	speeds := &shop.Spindle{Speeds: []units.SpindleSpeed{units.RPM(120), units.RPM(200)}}
	return shop.Shop{
		Name: "All", From: "test",
		Lathe: &shop.Lathe{
			Spindle: speeds, Motor: &motor, BetweenCentres: ptr("500"), SwingOverBed: ptr("200"), SwingOverSlide: ptr("120"),
			Chuck: &shop.Chuck{
				Diameter: mm("100"), Jaws: 3, Range: &shop.Range{From: mm("2"), To: mm("100")}, Through: ptr("22"),
			},
			SpindleBore: ptr("20"), FourJaw: &shop.Chuck{Diameter: mm("125"), Jaws: 4}, SoftJaws: true,
			Mandrels: []units.Length{mm("6"), mm("1/4in")}, CentreNose: ptr("12"), PowerFeed: true,
			Carriage:   &shop.Dial{Lead: mm("20"), Divisions: 100},
			Collets:    []units.Length{mm("6"), mm("1/4in")},
			CrossSlide: &shop.Dial{Lead: mm("2"), Divisions: 100, OnDiameter: true},
			Compound: &shop.Compound{
				Scale: shop.Scale{Zero: shop.Along, Step: deg(1)}, Travel: ptr("60"),
				Screw: &shop.Dial{Lead: mm("0.1in"), Divisions: 120, Unit: units.Inch},
			},
			ToolPost: &shop.ToolPost{Size: mm("60")}, Tools: []shop.Tool{{Hand: "right"}},
			Tailstock: &shop.Tailstock{Toward: ptr("10"), Away: ptr("8"), Taper: "MT2"}, Leadscrew: &pitch,
			ChangeGears: []int{20, 65}, ThreadDial: &shop.ThreadDial{Gears: []int{32}, Marks: 4},
			Steady: &shop.Range{From: mm("6"), To: mm("50")}, Readout: true,
		},
		Mill: &shop.Mill{
			Spindle: &shop.Spindle{From: units.RPM(50), To: units.RPM(2500)},
			Table:   &shop.Dial{Lead: mm("1.5"), Divisions: 60}, PowerFeed: true, Readout: true,
		},
		DrillPress:   &shop.DrillPress{Spindle: speeds, PowerFeed: true},
		BeltGrinder:  &shop.BeltGrinder{Wheel: mm("200"), RPM: units.RPM(2850)},
		DividingHead: &shop.DividingHead{Ratio: 40, Plates: [][]int{{15}, {21}}}, RotaryTable: &shop.RotaryTable{Ratio: 90},
		VBlocks: &shop.VBlocks{Angle: deg(90), Pair: true}, SineBar: ptr("100"),
		GaugeBlocks: &shop.GaugeBlocks{Set: "metric-87"},
		Drills:      shop.Drawer{{Name: "1 mm"}, {Name: "10 mm"}}, Reamers: []units.Length{mm("6"), mm("8")},
		Taps: []string{"M6", "M8"}, Dies: []string{"M6"}, CentreDrills: []units.Length{mm("1"), mm("3.15")},
		Parting: &shop.Parting{Blade: mm("2"), Most: ptr("25"), Reach: ptr("14")},
		Stock: []shop.Bar{
			{Stock: part.RoundStock(mm("38")), Material: "free-cutting-brass", Length: ptr("500")},
			{Stock: part.Stock{Shape: part.Hex, Size: mm("17")}, Material: "low-carbon-steel"},
			{Stock: part.Stock{Shape: part.Tube, Size: mm("38"), Bore: mm("20")}, Material: "aluminium"},
		},
		BoringBars: []shop.BoringBar{{Diameter: mm("8"), Reach: mm("50")}}, ColletBlocks: []int{4, 6},
	}
}

// Everything a shop owns is listed, sizes as they were written.
func TestInventory(t *testing.T) {
	want := []string{
		"lathe: spindle 120, 200 rpm", "lathe: motor 550 W", "lathe: between centres 500 mm",
		"lathe: swing over the bed 200 mm",
		"lathe: swing over the slide 120 mm", "lathe: spindle bore 20 mm",
		"lathe: chuck of 100 mm with 3 jaws, gripping 2 mm to 100 mm, 22 mm through it",
		"lathe: four-jaw of 125 mm with 4 jaws", "lathe: soft jaws", "lathe: mandrels: 6 mm, 1/4 in",
		"lathe: centre nose up to 12 mm", "lathe: collets: 6 mm, 1/4 in",
		"lathe: cross slide: 2 mm a turn, 100 divisions of 0.02 mm",
		"lathe: carriage: 20 mm a turn, 100 divisions of 0.2 mm", "lathe: compound: zero along, a mark every 1 deg",
		"lathe: compound travel 60 mm", "lathe: compound screw: 0.1 in a turn, 120 divisions of 0.000833 in",
		"lathe: tool post of 60 mm", "lathe: right-hand tool", "lathe: tailstock MT2",
		"lathe: tailstock setover 10 mm toward, 8 mm away", "lathe: leadscrew 8 tpi", "lathe: change gears 20, 65",
		"lathe: thread dial of 4 marks, gears 32", "lathe: steady from 6 mm to 50 mm", "lathe: power feed",
		"lathe: digital readout",
		"mill: spindle 50 to 2500 rpm", "mill: table: 1.5 mm a turn, 60 divisions of 0.025 mm",
		"mill: power feed", "mill: digital readout",
		"drill press: spindle 120, 200 rpm", "drill press: power feed", "belt grinder: wheel 200 mm at 2850 rpm",
		"dividing: dividing head, 40 to 1, 2 plates", "dividing: rotary table, 90 to 1",
		"dividing: collet blocks of 4, 6 sides",
		"bench: a pair of V-blocks, 90 deg", "bench: sine bar 100 mm", "bench: gauge blocks: metric-87",
		"drawer: 2 drills, 1 mm to 10 mm", "drawer: taps: M6, M8", "drawer: dies: M6", "drawer: reamers: 6 mm, 8 mm",
		"drawer: centre drills: 1 mm, 3.15 mm", "drawer: parting blade 2 mm",
		"drawer: parting off up to 25 mm", "drawer: parting blade reaching 14 mm",
		"drawer: boring bar of 8 mm reaching 50 mm",
		"rack: free-cutting-brass, 38 mm round, 500 mm long", "rack: low-carbon-steel, 17 mm hex",
		"rack: aluminium, 38 mm tube with 20 mm through it",
	}
	items := full().Inventory(nil).Items
	for i := range max(len(items), len(want)) {
		got, wanted := "", ""
		if i < len(items) {
			got = items[i].Where + ": " + items[i].What.String()
		}
		if i < len(want) {
			wanted = want[i]
		}
		if got != wanted {
			t.Errorf("item %d: %q, want %q", i, got, wanted)
		}
	}
	// On a page in inches a dial and what is stamped stay; sizes have 4 decimals.
	for i, want := range map[int]string{
		2: "between centres 19.685 in", 7: "four-jaw of 4.9213 in with 4 jaws", 9: "mandrels: 6 mm, 1/4 in",
		12: "cross slide: 2 mm a turn, 100 divisions of 0.02 mm",
		16: "compound screw: 0.1 in a turn, 120 divisions of 0.000833 in",
		28: "table: 1.5 mm a turn, 60 divisions of 0.025 mm", 43: "reamers: 6 mm, 8 mm", 44: "centre drills: 1 mm, 3.15 mm",
		45: "parting blade 0.0787 in", 48: "boring bar of 0.315 in reaching 1.9685 in",
	} {
		if got := items[i].What.In(units.Inch); got != want {
			t.Errorf("item %d: %q in inches, want %q", i, got, want)
		}
	}
	one := shop.Shop{
		VBlocks: &shop.VBlocks{Angle: deg(60)}, GaugeBlocks: &shop.GaugeBlocks{Pieces: []units.Length{mm("1"), mm("2")}},
		Lathe: &shop.Lathe{ColletName: "ER32", Tailstock: &shop.Tailstock{}},
	}
	var got []string
	for _, i := range one.Inventory(nil).Items {
		got = append(got, i.What.String())
	}
	if s := strings.Join(got, "; "); s != "collets: ER32; tailstock; one V-block, 60 deg; gauge blocks: 2 pieces" {
		t.Errorf("got %s", s)
	}
	if n := len((shop.Shop{}).Inventory(nil).Items); n != 0 {
		t.Errorf("an empty shop has %d items", n)
	}
}

// What each dial must show: 5 turns of its lead, and on the cross slide what a
// division takes off the diameter.
func TestProve(t *testing.T) {
	s := full()
	s.Lathe.CrossSlide.OnDiameter = false
	var got []string
	for _, d := range append(full().Prove(nil).Dials, s.Prove(nil).Dials[0]) {
		removes := "-"
		if d.Removes != nil {
			removes = d.Removes.Decimal().String()
		}
		exact, err := json.Marshal(d.Division)
		if err != nil {
			t.Fatal(err)
		}
		words := say.Of(d.Slide, " | ", string(exact), " mm | ", d.Division, " | ", removes, " | ", d.See)
		got = append(got, words.In(units.MM))
		if inch := words.In(units.Inch); inch != words.In(units.MM) {
			t.Errorf("a dial is said otherwise on a page in inches: %s", inch)
		}
	}
	want := []string{
		"cross slide | 0.02 mm | 0.02 mm | 0.04 | one division removes 0.04 mm on diameter; " +
			"the numbers count the diameter; an indicator shows 10 mm for 5 turns",
		"carriage | 0.2 mm | 0.2 mm | - | a rule shows 100 mm for 5 turns",
		"compound | 0.021166666667 mm | 0.000833 in | - | an indicator shows 0.5 in for 5 turns",
		"mill table | 0.025 mm | 0.025 mm | - | an indicator shows 7.5 mm for 5 turns",
		"cross slide | 0.02 mm | 0.02 mm | 0.04 | one division removes 0.04 mm on diameter; the numbers count the radius; " +
			"an indicator shows 10 mm for 5 turns",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if p := (shop.Shop{Name: "bare"}).Prove(nil); len(p.Dials) != 0 || len(p.Sheet().Tables) != 0 {
		t.Errorf("a bare shop proves %+v", p)
	}
}

// Each slide's dial, and whether its machine has a readout.
func TestSlide(t *testing.T) {
	s := full()
	for _, tc := range []struct {
		slide   string
		dial    *shop.Dial
		readout bool
	}{
		{shop.CrossSlide, s.Lathe.CrossSlide, true},
		{shop.CompoundSlide, s.Lathe.Compound.Screw, false},
		{shop.CarriageSlide, s.Lathe.Carriage, true},
		{shop.TableSlide, s.Mill.Table, true},
		{"bed", nil, false},
	} {
		if d, readout := s.Slide(tc.slide); d != tc.dial || readout != tc.readout {
			t.Errorf("%s: %v %v", tc.slide, d, readout)
		}
		if d, _ := (shop.Shop{}).Slide(tc.slide); d != nil {
			t.Errorf("%s: an empty shop has a dial", tc.slide)
		}
	}
}
