package plan

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// A bush that is parted off, worked out by hand: 24 long, 1 faced off, 3 clear of
// the jaws, 2.5 for the 2 mm blade, and the jaws' 28. Where the jaws' length is not
// known it is held by 0.6 x 21 = 12.6, and a thin one by 8.
func TestBlankByHand(t *testing.T) {
	bush := "material: tin-bronze\nround:\n  profile: [[0, 20], [24, 20]]\n" +
		"  bores: [{from: left, dia: 12, through: true}]\n"
	unsaid := map[string]string{"jaw_length: 28, ": ""}
	for _, tc := range []struct {
		part, want string
		shop       map[string]string
	}{
		{bush, "21 mm, 58.5 mm, z -1 mm to 57.5 mm", nil},
		{bush, "21 mm, 43.1 mm, z -1 mm to 42.1 mm", unsaid},
		{"material: brass\nround:\n  profile: [[0, 9], [20, 9]]\n", "10 mm, 34.5 mm, z -1 mm to 33.5 mm", unsaid},
	} {
		b := make1(t, parse(t, tc.part), loadShop(t, tc.shop)).Blank
		got := say.Of(b.Diameter, ", ", b.Length, ", z ", *b.From, " to ", *b.To).In(units.MM)
		if got != tc.want {
			t.Errorf("blank %s, by hand %s", got, tc.want)
		}
	}
}

// A cylinder is held when it is as long as the least grip, 8 mm or 0.6 of its
// diameter but no more than the jaws are long, and 1 mm clear of them.
func TestGripLength(t *testing.T) {
	for _, tc := range []struct {
		dia, length, jaws string
		holds             bool
	}{
		{"18", "11.7", "28", false}, // 0.6 x 18 = 10.8, and 1
		{"18", "11.8", "28", true},
		{"18", "6.9", "6", false},
		{"18", "7", "6", true},
		{"12", "8.9", "28", false}, // 8, and 1
		{"12", "9", "28", true},
	} {
		p := parse(t, "material: brass\nround:\n  profile: [[0, 10], [8, 18], [8, 17], [9, 17], [9, "+tc.dia+"], ["+
			add(t, "9", tc.length)+", "+tc.dia+"], [60, 10]]\n")
		s := loadShop(t, map[string]string{"jaw_length: 28": "jaw_length: " + tc.jaws})
		holds := slices.ContainsFunc(jobOf(t, p, s).ways(), func(w way) bool { return w.grip >= 0 })
		if holds != tc.holds {
			t.Errorf("a cylinder of %s mm, %s long, in jaws of %s is held: %v", tc.dia, tc.length, tc.jaws, holds)
		}
	}
}

func add(t *testing.T, a, b string) string {
	t.Helper()
	return units.MustLength(a).Plus(units.MustLength(b)).Decimal().String()
}

// The minutes between set-ups are DEFAULTS of the trade (a guess): a new grip 5,
// V-blocks 12, a dividing head 20, a swung compound 8, a new roll 2.
func TestSetupMinutes(t *testing.T) {
	on := op.Surface{Shape: op.Cylinder, Dia: 16e6, Stage: work.Finished}
	chuck := op.Setup{Machine: op.Lathe, Device: op.Chuck, On: on, Out: part.Left}
	swung := chuck
	swung.State = op.State{Swung: true, Compound: 10e6}
	blocks := op.Setup{Machine: op.MillMachine, Device: op.VBlocks, On: on, State: op.State{Rolled: true}}
	rolled := blocks
	rolled.State.Roll = 90e6
	shimmed := blocks
	shimmed.State.Shim = true
	head := op.Setup{Machine: op.MillMachine, Device: op.DividingHead, On: on}
	for _, tc := range []struct {
		name     string
		from, to op.Setup
		want     float64
	}{
		{"into the chuck", op.Setup{}, chuck, 5},
		{"the compound swung", chuck, swung, 8},
		{"into V-blocks", chuck, blocks, 12},
		{"into V-blocks with a shim", chuck, shimmed, 12},
		{"rolled on", blocks, rolled, 2},
		{"into the head", blocks, head, 20},
	} {
		if got := setupMinutes(tc.from, tc.to); got != tc.want {
			t.Errorf("%s: %v min, want %v", tc.name, got, tc.want)
		}
	}
}

// A handwheel of 60 with a hub of 24: in the shed's blocks the hub's axis would be
// 12 + 12/sin 45 = 28.97 above the table, and the rim is 30 below it. So it is drilled
// while the bar of 61 is parallel.
func TestRimOverTheTable(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 24], [16, 24], [16, 60], [26, 60]]\n"+
		"  holes: [{at: 8, dia: 4.2, depth: 9}]\n"), loadShop(t, nil))
	if len(r.Refused) > 0 {
		t.Error(r.Refused)
	}
	for _, s := range r.Setups {
		if s.Device == op.VBlocks && s.setup.On != op.Stock {
			t.Errorf("set-up %d lies on %v", s.N, s.setup.On)
		}
	}
}

// A slot of 8 through 20 of steel, by hand: a roughing cut of 0.5, times 4, is 2 deep a pass,
// and 20/2 = 10 passes. A pass of 20 at 0.2032 a turn and 560 a minute is 20/113.8 = 0.176 min.
// A slot that is 5 deep takes 3 passes; one that runs out at the end is come into from there.
func TestSlotPasses(t *testing.T) {
	for _, tc := range []struct{ slot, pass, start string }{
		{"at: [25, 15], length: 20, width: 8", "2 mm, at the most, 10 passes in all", "straight down"},
		{"at: [25, 15], length: 20, width: 8, depth: 5", "2 mm, at the most, 3 passes in all", "straight down"},
		{"at: [45, 15], length: 20, width: 8, depth: 1", "1 mm, at the most, 1 pass in all", "outside"},
		{"at: [25, 15], length: 20, width: 8, chain_drill: true", "2 mm, at the most, 10 passes in all", "chain"},
	} {
		r := make1(t, parse(t, "material: low-carbon-steel\nblock:\n  size: [50, 30, 20]\n  slots: [{"+tc.slot+"}]\n"),
			loadShop(t, nil))
		o := op1(t, r, "slot-1")
		got := map[string]string{}
		for _, s := range o.Settings {
			got[string(s.Name)] = say.Of(s.Value, ", ", s.Say).In(units.MM)
		}
		if !strings.HasPrefix(got["depth a pass"], tc.pass) || !strings.HasPrefix(got["start"], tc.start) {
			t.Errorf("%s: %q and %q", tc.slot, got["depth a pass"], got["start"])
		}
		all, low, high := float64(o.Minutes), 1.76, 3.5
		if strings.Contains(tc.pass, "10 passes") && (all < low || all > high) {
			t.Errorf("%s: %.2f min, by hand 10 passes of 0.176 and their way in and out", tc.slot, all)
		}
	}
}

// A slope along one axis is one tilt: 10 deg along x, or along y.
func TestOneTilt(t *testing.T) {
	for _, along := range []string{"along_x", "along_y"} {
		r := make1(t, parse(t, "material: aluminium-6082\nblock:\n  size: [60, 25, 25]\n"+
			"  slopes: [{face: top, from_x: 0, to_x: 60, "+along+": 10deg}]\n"), loadShop(t, nil))
		var names []string
		for _, s := range op1(t, r, "slope-1").Settings {
			if strings.Contains(string(s.Name), "tilt") {
				names = append(names, string(s.Name)+" "+say.Of(s.Value).In(units.MM))
			}
		}
		if want := "tilt 10 deg along " + along[len(along)-1:]; len(names) != 1 || names[0] != want {
			t.Errorf("%s: %q, want %s", along, names, want)
		}
	}
}

// A slope of -9 deg along x over 32 and 3 deg along y over 24, the vice set to
// 9 and 3 deg where 2.963 was wanted: by hand the second tilt of 3 deg stands
// for atan(tan 3/cos 9) = 3.0374 deg along y, so the lowest corner comes out at
// 16 - 32·tan 9 - 24·tan 3.0374 = 9.658 mm.
func TestSlopeComesBack(t *testing.T) {
	r := make1(t, loadPart(t, "bracket.yaml", nil), loadShop(t, nil))
	for _, x := range r.Predicted {
		if x.Words == "lowest corner of slope 1" {
			if got := x.Out.Fixed(units.MM, 3, units.Nearest); got != "9.658" {
				t.Errorf("the lowest corner comes out at %s, by hand 9.658", got)
			}
			return
		}
	}
	t.Error("the slope is not predicted")
}

// Facing comes before roughing, so the roughing of the demo, step 3, cannot
// move to before 3; the second drill of a roll may follow its spot at once.
func TestWhy(t *testing.T) {
	p, s := demo(t)
	r := make1(t, p, s)
	for i, o := range r.Operations {
		w, err := r.earlier(o.N)
		if err != nil {
			t.Fatal(err)
		}
		last := 0
		for _, b := range w.Breaks {
			last = max(last, b.N)
		}
		if w.Earliest != last+1 || w.Earliest > o.N {
			t.Errorf("step %d: earliest %d with rules up to %d", o.N, w.Earliest, last)
		}
		if i == 0 && (w.Earliest != 1 || len(w.Breaks) != 0) {
			t.Errorf("the first step: %+v", w)
		}
		if o.ID == "rough-left" && w.Earliest != o.N {
			t.Errorf("roughing may come at %d", w.Earliest)
		}
	}
	for _, n := range []int{0, len(r.Operations) + 1} {
		if _, err := r.Why(n); err == nil {
			t.Errorf("step %d is none", n)
		}
	}
}

func TestClock(t *testing.T) {
	for text, want := range map[string]string{"9:30": "09:30", "14:05": "14:05", "0:00": "00:00", "23:59": "23:59"} {
		c, err := ParseClock(text)
		if err != nil || c.String() != want {
			t.Errorf("%s is read as %v, %v", text, c, err)
		}
	}
	for c, want := range map[Clock]string{
		1439: "23:59", 1440: "00:00 the next day", 1571: "02:11 the next day", 3000: "02:00, 2 days later",
	} {
		if c.String() != want {
			t.Errorf("%d min after midnight is %s, by hand %s", int(c), c, want)
		}
	}
	for _, text := range []string{"24:00", "9:60", "930", "9:3", ":30", "9:", "-1:00", "9.30", ""} {
		if c, err := ParseClock(text); err == nil {
			t.Errorf("%q is read as %v", text, c)
		}
	}
}

// A drill serves when its hole keeps the limits, and of those the nearest to the
// size that is drawn. The shed has 5 and 5.1 and no other, which make holes of 5 +
// 0.08 + 0.02·1.8/3.2 = 5.091 and 5.192; ISO 2768-1 medium allows 0.1 either way up
// to 6 mm, so the second serves from 5.092 to 5.292.
func TestDrillByItsHole(t *testing.T) {
	s := loadShop(t, map[string]string{"[metric-0.5, number, letter, fraction-64, 6.8mm, 3.2mm]": "[5mm, 5.1mm]"})
	j := jobOf(t, parse(t, "material: brass\nround:\n  profile: [[0, 20], [30, 20]]\n"), s)
	for _, tc := range []struct {
		hole, drill string
		exact       bool
	}{
		{"5.05mm", "5 mm", true},
		{"5.091mm", "5 mm", true},
		{"5.092mm", "5.1 mm", true},
		{"5.291mm", "5.1 mm", true},
		{"5.293mm", "5.1 mm", false},
		{"4.9mm", "5 mm", false},
	} {
		var w steps
		x := &task{job: j}
		d, exact := w.drill(x, x.general(&w, limits.Hole, "hole-1", units.MustLength(tc.hole)))
		if d.Name != tc.drill || exact != tc.exact {
			t.Errorf("a hole of %s: drill %s, exact %v", tc.hole, d.Name, exact)
		}
	}
}

// Where the end is too thin for a centre, it stands in a stub 10 mm further out:
// of a bar of 14.5 with 70 of part and 5.5 clear of the jaws, 85.5 from them.
func TestCentreInTheStub(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  profile: [[0, 4], [40, 13], [70, 13]]\n")
	for _, d := range attempts(t, p, loadShop(t, nil)) {
		if d.grip != offBar || d.first != part.Left || !d.way.centre[0] {
			continue
		}
		c := d.chuckings[0]
		place := (&tapering{task: d.task, chucking: c, x: d.shape.Stretches[0]}).place()
		got := say.Of(place.FromJaws, ", ", place.CentreAt).In(units.MM)
		if want := "35.5 mm, 85.5 mm"; got != want { // the large end is 30 + 5.5 from the jaws
			t.Errorf("%s, by hand %s", got, want)
		}
		return
	}
	t.Error("it is not parted off")
}

// The clock of the turned part of testdata/cards, by hand: 5 min to the vice and
// to the chuck each time, 2 for a tool that is not the machine's last, and the
// minutes of each card, but that roughing is parted between the two grips: ten passes
// over 20 and two over 30, all at 330 rpm: 10 x (23/41.91 + 23/1000) = 5.718 and
// 2 x (33/41.91 + 33/1000) = 1.641. Begun at 9:00 it ends at 9:51, 11 min after 9:40.
func TestClockByHand(t *testing.T) {
	written := byTheNeck(t)
	start, by := Clock(9*60), Clock(9*60+40)
	r := inOneWay(t, written, func(in *Input) { in.Start, in.By = &start, &by })
	var got []string
	for _, o := range r.Operations {
		got = append(got, fmt.Sprintf("%s %v %v", o.ID, o.Starts, o.Ends))
	}
	want := []string{
		"saw 09:05 09:05",
		"face-left 09:10 09:11",          // 10 to 10.70
		"rough-left 09:13 09:18",         // 12.70 to 18.41
		"bore-1-spot 09:20 09:20",        // 20.42
		"bore-1-drill 09:22 09:23",       // 22.42 to 22.71
		"turn-z0 09:25 09:25",            // 24.71 to 25.43
		"bore-1-countersink 09:27 09:27", // 27.43
		"bore-1-tap 09:29 09:31",         // 29.43, and 2 x 14/1.25 turns at 20 a minute: 30.55
		"face-right 09:38 09:38",         // 5 to turn it end for end and 2: 37.55 to 38.25
		"rough-right 09:40 09:42",        // 40.25 to 41.89
		"bore-2-spot 09:44 09:44",        // 43.89
		"bore-2-drill 09:46 09:46",       // 45.89 to 46.19
		"bore-2-bore 09:48 09:49",        // 48.19 to 48.74
		"turn-z20 09:51 09:52",           // 50.74 to 52.44
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	if r.Late == nil || *r.Late != 12 || r.Totals.Minutes != 52 {
		t.Errorf("%v min, %v late; by hand 52 and 12", r.Totals.Minutes, r.Late)
	}
}

// The same begun at 23:30 ends at 23:30 + 52 min, 00:22 of the next day. Wanted by 0:10,
// which is the next day's, it is 12 min late, and by 23:50 that night 32.
func TestPastMidnight(t *testing.T) {
	written, start := byTheNeck(t), Clock(23*60+30)
	for by, want := range map[Clock]string{
		10:         "00:22 the next day, 12 min after 00:10 the next day;",
		30:         "",
		23*60 + 50: "00:22 the next day, 32 min after 23:50;",
	} {
		r := inOneWay(t, written, func(in *Input) { in.Start, in.By = &start, &by })
		late := slices.IndexFunc(r.Warnings, func(w sheet.Warning) bool { return w.Code == "late" })
		switch {
		case want == "" && late >= 0:
			t.Errorf("by %v: %s", by, r.Warnings[late].Text)
		case want != "" && (late < 0 || !strings.Contains(string(r.Warnings[late].Text), want)):
			t.Errorf("by %v: %v, by hand %s", by, r.Warnings, want)
		}
		if ends := r.Operations[len(r.Operations)-1].Ends; ends.String() != "00:22 the next day" {
			t.Errorf("it ends at %v", ends)
		}
	}
}

// A face is charged for all that stands there. Of a bar of 22 with 3.2 mm before the
// face, in passes of 0.5: 7 x ((11 + 3)/(0.127 x 330) + 14/1000) = 2.436; with a bore of
// 8 through it 7 of radius are cut: 7 x (10/41.91 + 10/1000) = 1.740.
func TestFacingByHand(t *testing.T) {
	p := brass(t, "  stock: 22\n  profile: [[0, 20], [30, 20]]\n")
	p.Material = "mild-steel"
	x := jobOf(t, p, loadShop(t, nil)).hold(way{first: part.Left, grip: offBar})
	for _, tc := range []struct {
		bore op.Len
		want float64
	}{{0, 2.436}, {8e6, 1.740}} {
		as := work.Bar(30e6, work.Span{From: -3.2e6, To: 60e6}, 22e6, 0, tc.bore)
		o := &op.Op{Setup: op.Setup{Machine: op.Lathe, Device: op.Chuck}}
		x.faced(o, as, part.Left, 0)
		if off := o.Minutes - tc.want; off < -0.005 || off > 0.005 {
			t.Errorf("with a bore of %v: %.3f min, by hand %.3f", tc.bore.MM(), o.Minutes, tc.want)
		}
		i := slices.IndexFunc(o.Settings, func(s op.Setting) bool { return s.Name == "passes" })
		if i < 0 || o.Settings[i].Sentence().In(units.MM) != "passes 7, of at most 0.5 mm" {
			t.Errorf("%v", o.Settings)
		}
	}
}

// The bar of a part of an inch, 25.4: in millimetres 25.4 + 1 to the next half is 26.5;
// in inches 1 + 0.04 to the next sixteenth is 1 1/16. An inch shop counts so too.
func TestBarByUnit(t *testing.T) {
	part1 := "material: brass\nround:\n  profile: [[0, 25.4mm], [60mm, 25.4mm]]\n"
	for _, tc := range []struct {
		part, shop units.Unit
		bar, why   string
	}{
		{units.MM, units.MM, "26.5 mm", "and 1 mm to clean up, to the next 0.5 mm"},
		{units.Inch, units.MM, "1.0625 in", "and 0.04 in to clean up, to the next 0.0625 in"},
		{units.MM, units.Inch, "1.0625 in", "and 0.04 in to clean up, to the next 0.0625 in"},
	} {
		p, s := parse(t, part1), loadShop(t, nil)
		p.Units, s.Units = tc.part, tc.shop
		unit := max(tc.part, tc.shop)
		b := make1(t, p, s).Blank
		if got := say.Of(b.Diameter).In(unit); got != tc.bar || !strings.Contains(b.Because.In(unit), tc.why) {
			t.Errorf("part in %v, shop in %v: %s, %s; by hand %s", tc.part, tc.shop, got, b.Because.In(unit), tc.bar)
		}
	}
}

// Two bushes that screw together on M20x1.5 with their hexagons in line, by hand:
// a sixth of a turn is 0.25 mm of face, a degree 1.5/360 = 0.004; the project
// takes what its parts take.
func TestScrewedProject(t *testing.T) {
	text := "material: brass\nround:\n  profile: [[0, 20], [12, 20], [12, 30], [50, 30]]\n" +
		"  facets: [{sides: 6, from: 12, to: 50, across: corners}]\n  threads: [{from: left, spec: M20x1.5, length: 10}]\n"
	nut := "material: brass\nround:\n  profile: [[0, 30], [40, 30]]\n  bores: [{from: left, dia: 18.5, through: true}]\n" +
		"  facets: [{sides: 6, from: 0, to: 4, across: corners}]\n" +
		"  threads: [{from: left, spec: M20x1.5, depth: 30, inside: true}]\n"
	project := &part.Project{Name: "Pair"}
	project.Fits = []part.Fit{{Screw: "plug", Into: "nut", Thread: "M20x1.5", Align: "facets"}}
	project.Parts = []part.ProjectPart{{Key: "nut", Part: parse(t, nut)}, {Key: "plug", Part: parse(t, text)}}
	s := loadShop(t, nil)
	r, err := MakeProject(ProjectInput{Project: project, Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	want := make1(t, parse(t, nut), s).Totals.Minutes + make1(t, parse(t, text), s).Totals.Minutes
	if r.Minutes != want || want < 60 {
		t.Errorf("%v min, its parts take %v", r.Minutes, want)
	}
	how, got := r.Fits[0].How.In(units.MM), r.Fits[0].FaceOff.Fixed(units.MM, 3, units.Nearest)
	if got != "0.250" || !strings.Contains(how, ": 0.004 mm for each degree") {
		t.Errorf("face off %s: %s", got, how)
	}
	if !slices.Equal(r.Order, []string{"plug", "nut"}) {
		t.Errorf("made in the order %v", r.Order)
	}
	if len(r.Fails()) > 0 {
		t.Error(r.Fails())
	}
	// Written the wrong way round, on another thread, or with nothing to line up it is a no, at its place.
	for _, tc := range []struct {
		fit  part.Fit
		want []string
	}{
		{
			part.Fit{Screw: "nut", Into: "plug", Thread: "M20x1.5"},
			[]string{
				"screw: nut: has no outside thread M20x1.5 for this fit; it is plug that screws into nut",
				"into: plug: has no inside thread M20x1.5 for this fit",
			},
		},
		{
			part.Fit{Screw: "plug", Into: "nut", Thread: "M20"},
			[]string{"screw: plug: has no outside thread M20 for this fit", "into: nut: has no inside thread M20 for this fit"},
		},
		{
			part.Fit{Screw: "plug", Into: "nut", Thread: "M20x1.5", Align: "holes"},
			[]string{"align: holes: plug has none to line up", "align: holes: nut has none to line up"},
		},
		{
			part.Fit{Seat: "nut", On: "plug", Bore: new(units.MustLength("19mm"))},
			[]string{"bore: 19 mm: no cone of plug has this diameter on it"},
		},
	} {
		project.Fits = []part.Fit{tc.fit}
		r, err := MakeProject(ProjectInput{Project: project, Shop: s})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, p := range r.Fails() {
			got = append(got, say.Of(p.At.Key, ": ", p.Found, ": ", p.Want).In(units.MM))
		}
		if !slices.Equal(got, tc.want) {
			t.Errorf("got  %q\nwant %q", got, tc.want)
		}
	}
}

// A collar of bore 26 on the demo's octagon, whose flats run from 32 at z 48 to 20 at z
// 92. What a bore touches are the corners, 32/cos 22.5 = 34.6365 to 20/cos 22.5 =
// 21.6478: by hand it stops where 34.6365 - 12.9887·x/44 = 26, x = 29.257, z 77.257;
// and the octagon is ground before the collar is bored.
func TestSeatOfAProject(t *testing.T) {
	project := &part.Project{Name: "Seat"}
	project.Fits = []part.Fit{{Seat: "collar", On: "body", Bore: new(units.MustLength("26mm"))}}
	collar := parse(t, "material: brass\nround:\n  profile: [[0, 40], [10, 40]]\n"+
		"  bores: [{from: left, dia: 26, through: true}]\n")
	body, s := demo(t)
	project.Parts = []part.ProjectPart{{Key: "collar", Part: collar}, {Key: "body", Part: body}}
	r, err := MakeProject(ProjectInput{Project: project, Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Fits[0].SeatAt.Fixed(units.MM, 3, units.Nearest); got != "77.257" {
		t.Errorf("the collar stops at z %s, by hand 77.257: %s", got, r.Fits[0].How)
	}
	if !slices.Equal(r.Order, []string{"body", "collar"}) {
		t.Errorf("made in the order %v", r.Order)
	}
}
