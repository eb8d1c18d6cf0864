package feeds_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
)

// Every operation answers for every material, with a source that is listed,
// and snaps to a speed that is not above the ideal one unless none is lower.
func TestEveryMaterialAndOperation(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(published.Dir(), "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	listed := func(source string) bool {
		for s := range strings.SplitSeq(source, "; ") {
			if s != "from memory" && s != "common practice, no source" && s != "as given" &&
				!strings.Contains(string(text), "\n- "+s+": ") {
				return false
			}
		}
		return true
	}
	for _, name := range materials.Names() {
		for _, op := range feeds.Operations() {
			for _, tool := range feeds.Tools() {
				in := feeds.Input{
					Operation: op, Material: name, Diameter: size("12mm"), Tool: tool, Length: sizep("20mm"),
					Drive: lathe(),
				}
				r, err := feeds.Choose(in)
				if err != nil {
					if name == "hardened-steel" && op == feeds.Saw && tool == feeds.Carbide {
						continue // no saw cuts it
					}
					if m, _ := materials.Find(name); tool == feeds.Carbide || !m.Has(materials.HSSRefused) {
						t.Errorf("%s %s %s: %v", op, name, tool, err)
					}
					continue
				}
				if !listed(r.Source) || r.FeedSource != nil && !listed(*r.FeedSource) || !listed(r.EnergySource) {
					t.Errorf("%s %s %s: a source is not listed: %s, %v, %s", op, name, tool, r.Source, r.FeedSource, r.EnergySource)
				}
				if r.RPM.RPM() > r.IdealRPM.RPM() && r.RPM.RPM() != 100 {
					t.Errorf("%s %s %s: %v for an ideal of %v", op, name, tool, *r.RPM, r.IdealRPM)
				}
				if r.SpeedLow.MetresPerMinute() > r.CuttingSpeed.MetresPerMinute() ||
					r.CuttingSpeed.MetresPerMinute() > r.SpeedHigh.MetresPerMinute() {
					t.Errorf("%s %s %s: %s", op, name, tool, say.Of(r.CuttingSpeed, " is outside ", r.SpeedLow, " to ", r.SpeedHigh))
				}
				if r.Power != nil && r.PowerAvailable.Watts()*(1+1e-9) < r.MotorPower.Watts() &&
					!strings.Contains(fmt.Sprint(r.Warnings), "motor") {
					t.Errorf("%s %s %s: takes %v W and says nothing", op, name, tool, r.MotorPower.Watts())
				}
				if tool == feeds.HSS { // the others differ in figures alone
					published.Works(t, r.Sheet())
				}
			}
		}
	}
}

// The rules, against the sources that print them.
func TestRules(t *testing.T) {
	speed := func(op feeds.Operation, material string, tool feeds.Tool) float64 {
		return choose(t, feeds.Input{
			Operation: op, Material: material, Diameter: size("10mm"),
			Tool: tool,
		}).CuttingSpeed.MetresPerMinute()
	}
	feedOf := func(op feeds.Operation, material, dia string) float64 {
		return choose(t, feeds.Input{Operation: op, Material: material, Diameter: size(dia)}).Feed.MM()
	}
	const own = "common practice, no source"
	for _, tc := range []struct {
		name      string
		got, want float64
		src       string
	}{
		{
			"reaming at half the drilling speed", speed(feeds.Ream, "copper", feeds.HSS),
			0.5 * speed(feeds.Drill, "copper", feeds.HSS), "machine-shop-course",
		},
		{
			"and at twice the feed", feedOf(feeds.Ream, "copper", "8mm"), 2 * feedOf(feeds.Drill, "copper", "8mm"),
			"machine-shop-course",
		},
		{
			"countersinking at the drilling speed", speed(feeds.Countersink, "brass", feeds.HSS),
			speed(feeds.Drill, "brass", feeds.HSS), "somta",
		},
		{
			"carbon-steel drills at half of high-speed steel", speed(feeds.Drill, "mild-steel", feeds.Carbon),
			0.5 * speed(feeds.Drill, "mild-steel", feeds.HSS), "navedtra-14345",
		},
		{
			"drills of 0.001 in a revolution for each 1/16 in: 3/16 in", feedOf(feeds.Drill, "mild-steel", "3/16in"),
			0.003 * 25.4, "norseman",
		},
		{"and 3/8 in twice as much", feedOf(feeds.Drill, "mild-steel", "3/8in"), 0.006 * 25.4, "norseman"},
		{
			"parting off at half the turning speed", speed(feeds.PartOff, "brass", feeds.HSS),
			0.5 * speed(feeds.Turn, "brass", feeds.HSS), "common practice, no source",
		},
		{"boring at 0.8 of it", speed(feeds.Bore, "brass", feeds.HSS), 0.8 * speed(feeds.Turn, "brass", feeds.HSS), own},
		{"threading at a third", speed(feeds.Thread, "brass", feeds.HSS), speed(feeds.Turn, "brass", feeds.HSS) / 3, own},
		{"tapping at a third", speed(feeds.Tap, "softwood", feeds.HSS), speed(feeds.Drill, "softwood", feeds.HSS) / 3, own},
		{
			"carbide saws at least twice as fast", speed(feeds.Saw, "brass", feeds.Carbide),
			2 * speed(feeds.Saw, "brass", feeds.HSS), "lab-sheet-carbide",
		},
	} {
		if got, want := fmt.Sprintf("%.6f", tc.got), fmt.Sprintf("%.6f", tc.want); got != want {
			t.Errorf("%s: got %s, want %s (%s)", tc.name, got, want, tc.src)
		}
	}
	// The diameter midway sets a countersink's speed (somta).
	r := choose(t, feeds.Input{Operation: feeds.Countersink, Material: "brass", Diameter: size("12mm"), To: sizep("6mm")})
	want := feeds.SpindleSpeed(r.CuttingSpeed, size("9mm"))
	if r.IdealRPM != want {
		t.Errorf("countersink: ideal %v, for 9 mm %v", r.IdealRPM, want)
	}
}

// The rows of the wood lathe guide, which rounds to the nearest.
func TestWoodStart(t *testing.T) {
	rows := published.Rows(t, "wood_turning_speed.csv")
	i := slices.IndexFunc(rows, func(r map[string]string) bool { return r["rule"] == "max starting rpm" })
	n := 0
	for _, pair := range strings.Split(strings.TrimPrefix(rows[i]["note"], "rows: "), ";") {
		dia, want, _ := strings.Cut(strings.Replace(strings.TrimSpace(pair), "in", "", 1), " ")
		if got := fmt.Sprintf("%.0f", feeds.WoodStart(size(dia+"in")).RPM()+1e-9); got != want {
			t.Errorf("%s in: got %s, the guide prints %s", dia, got, want)
		}
		n++
	}
	if n != 9 {
		t.Errorf("%d rows were compared", n)
	}
	rough := choose(t, feeds.Input{Operation: feeds.Turn, Material: "oak", Diameter: size("4in"), Drive: lathe()}).Sheet()
	if !strings.Contains(say.Join(rough.Notes, " ").String(), "not above 2250 rpm") {
		t.Errorf("the sheet says %v", rough.Notes)
	}
}

// Belt speeds, as the two sources print them for what the table's rows cover.
func TestBeltSpeedsAsPrinted(t *testing.T) {
	rows := published.Rows(t, "belt_speeds.csv")
	for _, tc := range []struct{ material, printed string }{
		{"low-carbon-steel", "carbon steel"},
		{"hardened-steel", "stainless, HSS, tool steel"},
		{"stainless-304", "stainless, HSS, tool steel"},
		{"cast-iron", "grey cast iron, cast steel"},
		{"free-cutting-brass", "brass, copper, zinc, bronze, tin"},
		{"zinc-alloy", "brass, copper, zinc, bronze, tin"},
		{"aluminium-6061", "aluminium, light metal"},
		{"titanium-grade-5", "titanium"},
		{"acetal", "heat-sensitive, plastics"},
		{"hardwood", "wood"},
		{"magnesium-az31", "magnesium"},
	} {
		i := slices.IndexFunc(rows, func(r map[string]string) bool { return r["material"] == tc.printed })
		low, high := rows[i]["low"], rows[i]["high"]
		r, err := feeds.Belt(feeds.BeltInput{Wheel: size("200mm"), RPM: units.RPM(2850), Material: tc.material})
		if err != nil {
			t.Fatal(err)
		}
		show := func(v units.SurfaceSpeed) string {
			if rows[i]["unit"] == "ft/min" {
				return strconv.FormatFloat(v.FeetPerMinute(), 'f', 0, 64)
			}
			return strconv.FormatFloat(v.MetresPerMinute()/60, 'f', 0, 64)
		}
		if show(*r.Low) != low || show(*r.High) != high {
			t.Errorf("%s: %s to %s; %s prints %s to %s %s", tc.material, show(*r.Low), show(*r.High), rows[i]["source"], low,
				high, rows[i]["unit"])
		}
		published.Works(t, r.Sheet())
	}
}

// 200 mm at 2850 rpm is π·0.2·2850 = 1790.7 m/min, 29.8 m/s.
func TestBelt(t *testing.T) {
	rating := units.MetresPerMinute(25 * 60)
	for _, tc := range []struct {
		name  string
		in    feeds.BeltInput
		want  string
		fails string
	}{
		{"alone", feeds.BeltInput{Wheel: size("200mm"), RPM: units.RPM(2850)}, "1790.7 29.8 -", ""},
		{
			"hardened steel",
			feeds.BeltInput{Wheel: size("200mm"), RPM: units.RPM(2850), Material: "hardened"},
			"1790.7 29.8 inside", "",
		},
		{
			"too fast for titanium",
			feeds.BeltInput{Wheel: size("8in"), RPM: units.RPM(2850), Material: "titanium"},
			"1819.4 30.3 fast", "",
		},
		{
			"slow for steel",
			feeds.BeltInput{Wheel: size("2in"), RPM: units.RPM(1400), Material: "mild-steel"},
			"223.4 3.7 slow", "",
		},
		{
			"above what is marked on it",
			feeds.BeltInput{Wheel: size("200mm"), RPM: units.RPM(2850), Rating: &rating},
			"1790.7 29.8 -", "rating: 1790.71 m/min: the belt or wheel is rated for 1500 m/min at the most: do not run it",
		},
	} {
		r, err := feeds.Belt(tc.in)
		if err != nil {
			t.Fatal(tc.name, err)
		}
		verdict, fails := "-", ""
		if r.Verdict != nil {
			verdict = *r.Verdict
		}
		if err := r.Fails().Err(); err != nil {
			fails = err.Error()
		}
		if got := fmt.Sprintf("%.1f %.1f %s", r.Speed.MetresPerMinute(), float64(r.PerSecond), verdict); got != tc.want ||
			fails != tc.fails {
			t.Errorf("%s: got %s, %q; want %s, %q", tc.name, got, fails, tc.want, tc.fails)
		}
		published.Works(t, r.Sheet())
	}
	_, err := feeds.Belt(feeds.BeltInput{Wheel: size("0"), Material: "stel"})
	if want := "wheel: 0 mm: must be above 0\nrpm: 0 rpm: must be above 0\nmaterial: stel: not a material in the " +
		"table"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// Pecks come out at the depth, and none is longer than the first.
func TestPecks(t *testing.T) {
	for _, tc := range []struct{ dia, depth, want string }{
		{"5mm", "15mm", ""},
		{"5mm", "20mm", "15 20"},
		{"5mm", "36mm", "15 20 25 30 32.5 35 36"},
		{"1/4in", "1in", "19.05 25.4"},
	} {
		r := choose(t, feeds.Input{
			Operation: feeds.Drill, Material: "brass", Diameter: size(tc.dia),
			Length: sizep(tc.depth),
		})
		var list []string
		at := units.Length{}
		for i, p := range r.Pecks {
			list = append(list, p.To.Decimal().String())
			at = at.Plus(p.Step)
			if p.N != i+1 || !at.Equal(p.To) {
				t.Errorf("%s deep: peck %d ends at %s, the steps sum to %s", tc.depth, p.N, p.To.Decimal(), at.Decimal())
			}
		}
		if got := strings.Join(list, " "); got != tc.want {
			t.Errorf("%s deep with %s: %s, want %s", tc.depth, tc.dia, got, tc.want)
		}
	}
}

// The thickest bar that fills no more than four fifths of the hole and reaches.
func TestBoringBar(t *testing.T) {
	bars := []shop.BoringBar{
		{Diameter: size("8mm"), Reach: size("50mm")},
		{Diameter: size("12mm"), Reach: size("70mm")},
		{Diameter: size("16mm"), Reach: size("40mm")},
	}
	for _, tc := range []struct{ dia, length, want, warning string }{
		{"10mm", "30mm", "8 32", ""},
		{"20mm", "30mm", "16 64", ""},
		{
			"20mm", "60mm", "12 48",
			"60 mm is more than 4 diameters of a steel bar: it will chatter, take light cuts (solid carbide stands 6)",
		},
		{"9.9mm", "30mm", "", "no boring bar of this shop goes in and reaches: it may fill 0.8 of the hole"},
		{"20mm", "71mm", "", "no boring bar of this shop goes in and reaches: it may fill 0.8 of the hole"},
	} {
		r := choose(t, feeds.Input{
			Operation: feeds.Bore, Material: "cast-iron", Diameter: size(tc.dia),
			Length: sizep(tc.length), Bars: bars, Drive: lathe(),
		})
		got := ""
		if r.BoringBar != nil {
			got = fmt.Sprintf("%s %s", r.BoringBar.Diameter.Decimal(), r.BoringBar.Limit.Decimal())
		}
		if w := warning(r, "bar-reach") + warning(r, "no-bar"); got != tc.want || w != tc.warning {
			t.Errorf("%s, %s deep: got %q, %q", tc.dia, tc.length, got, w)
		}
	}
}

// Both ends of a taper: one speed for both, and what each would like.
func TestBothEnds(t *testing.T) {
	r := choose(t, feeds.Input{
		Operation: feeds.Turn, Material: "mild-steel", Diameter: size("20mm"), To: sizep("40mm"),
		Drive: lathe(),
	})
	var got []string
	for _, e := range r.Ends {
		got = append(got, fmt.Sprintf("%s ideal %.1f best %.0f runs %.2f", e.Diameter.Decimal(), e.IdealRPM.RPM(),
			e.RPM.RPM(), e.Speed.MetresPerMinute()))
	}
	// 30.48 m/min; the larger end sets 160 rpm.
	want := "20 ideal 485.1 best 400 runs 10.05, 40 ideal 242.6 best 160 runs 20.11"
	if s := strings.Join(got, ", "); s != want || r.RPM.RPM() != 160 {
		t.Errorf("got %s at %v, want %s", s, *r.RPM, want)
	}
	face := choose(t, feeds.Input{
		Operation: feeds.Face, Material: "mild-steel", Diameter: size("40mm"), To: sizep("0mm"),
		Drive: lathe(),
	})
	if e := face.Ends[1]; e.IdealRPM != nil || e.Speed.MetresPerMinute() != 0 {
		t.Errorf("the middle of a face: %+v", e)
	}
	if got := fmt.Sprintf("%.4f", float64(*face.CutTime)); got != "0.9843" { // 20/(0.127*160)
		t.Errorf("facing 40 mm takes %s min", got)
	}
}

// The depth the motor drives takes all of its power, and 0.01 mm more takes
// more than it has.
func TestDepthLimit(t *testing.T) {
	choose := func(t *rapid.T, in feeds.Input) feeds.Result {
		r, err := feeds.Choose(in)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	rapid.Check(t, func(t *rapid.T) {
		in := feeds.Input{
			Operation: rapid.SampledFrom([]feeds.Operation{feeds.Turn, feeds.Face, feeds.Bore, feeds.Mill}).Draw(t, "operation"),
			Material:  rapid.SampledFrom([]string{"mild-steel", "brass", "stainless-304"}).Draw(t, "material"),
			Diameter:  units.Millimetres(int64(rapid.IntRange(10, 120).Draw(t, "diameter"))), Drive: lathe(),
		}
		in.Drive.Motor = watts(float64(rapid.IntRange(50, 400).Draw(t, "motor")))
		limit := choose(t, in).DepthLimit
		if limit == nil || limit.Sign() == 0 || in.Operation == feeds.Turn &&
			in.Diameter.Half().Less(limit.Plus(size("0.01mm"))) {
			t.Skip("the motor drives any depth, or none of a hundredth")
		}
		in.Depth = limit
		if r := choose(t, in); r.MotorPower.Watts() > in.Drive.Motor.Watts()*(1+1e-9) {
			t.Fatalf("%s: %s deep takes %v W", in.Operation, limit.Decimal(), r.MotorPower.Watts())
		}
		more := limit.Plus(size("0.01mm"))
		in.Depth = &more
		if r := choose(t, in); r.MotorPower.Watts() <= in.Drive.Motor.Watts() {
			t.Fatalf("%s: %s deep still takes no more than %v W", in.Operation, more.Decimal(), r.MotorPower.Watts())
		}
	})
}

// Time by hand: 60 mm at 0.127 mm/rev and 160 rpm is 2.9528 min; 63 mm with
// the run-in and the overrun, and 63 mm back at 1000 mm/min.
func TestTime(t *testing.T) {
	for _, tc := range []struct {
		name string
		in   feeds.Input
		want string
	}{
		{
			"turning",
			feeds.Input{Operation: feeds.Turn, Material: "mild-steel", Diameter: size("40mm"), Length: sizep("60mm")},
			"2.9528 3.1634",
		},
		// A drill of 10 mm runs 3.0043 mm on by its 118 deg point.
		{
			"drilling",
			feeds.Input{
				Operation: feeds.Drill, Material: "mild-steel", Diameter: size("10mm"), Length: sizep("20mm"),
				Feed: feed(0.1), RPM: rpm(400),
			},
			"0.5000 0.6761",
		},
		// A tap is backed out at the same speed.
		{
			"tapping",
			feeds.Input{
				Operation: feeds.Tap, Material: "mild-steel", Diameter: size("8mm"), Length: sizep("12mm"),
				Feed: feed(1.25), RPM: rpm(100),
			},
			"0.0960 0.2400",
		},
		// A cutter of 10 mm runs 5 mm on.
		{
			"milling",
			feeds.Input{
				Operation: feeds.Mill, Material: "mild-steel", Diameter: size("10mm"), Length: sizep("60mm"),
				Feed: feed(0.05), RPM: rpm(400),
			},
			"0.7500 0.9180",
		},
		{"no length, no time", feeds.Input{Operation: feeds.Turn, Material: "mild-steel", Diameter: size("40mm")}, "-"},
	} {
		tc.in.Drive = lathe()
		r := choose(t, tc.in)
		got := "-"
		if r.Time != nil {
			got = fmt.Sprintf("%.4f %.4f", float64(*r.CutTime), float64(*r.Time))
		}
		if got != tc.want {
			t.Errorf("%s: got %s, want %s", tc.name, got, tc.want)
		}
	}
}

// Growth of a plastic while it is turned: α·D·10 K. Acetal of 50 mm grows by
// tens of hundredths, steel by a hundredth of that.
func TestGrowth(t *testing.T) {
	for _, name := range []string{"acetal", "mild-steel"} {
		m, err := materials.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		r := choose(t, feeds.Input{Operation: feeds.Turn, Material: name, Diameter: size("50mm"), Drive: lathe()})
		if got, want := r.Growth.MM(), m.Expansion().Chosen*50*10*1e-6; fmt.Sprintf("%.9f", got) != fmt.Sprintf("%.9f",
			want) {
			t.Errorf("%s: %v, want %v mm", name, got, want)
		}
	}
}

func TestSpeeds(t *testing.T) {
	cells, err := feeds.Speeds(feeds.Turn, lathe(), []string{"mild-steel", "free-cutting-brass"},
		[]units.Length{size("3mm"), size("40mm"), size("200mm")})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, row := range cells {
		for _, c := range row {
			got = append(got, fmt.Sprintf("%.0f>%.0f %s", c.Ideal.RPM(), c.RPM.RPM(), c.Fit))
		}
	}
	// 30.48 m/min and 76.2 m/min over π·D.
	want := "3234>2500 suits, 243>160 suits, 49>100 fast, 8085>2500 slow, 606>400 suits, 121>100 suits"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
	if _, err := feeds.Speeds(feeds.Turn, lathe(), []string{"stel"}, []units.Length{size("3mm")}); err == nil {
		t.Error("an unknown material was charted")
	}
}

func TestCautions(t *testing.T) {
	for _, tc := range []struct {
		material string
		op       feeds.Operation
		machine  shop.Machine
		has      []say.Text
		not      []say.Text
	}{
		{
			"brass", feeds.Drill, shop.OnDrillPress,
			[]say.Text{cautions.GrabDrill, cautions.ClampDrill, cautions.Lead},
			[]say.Text{cautions.ChuckKey},
		},
		{"brass", feeds.Turn, shop.OnLathe, []say.Text{cautions.ChuckKey, cautions.Overhang}, []say.Text{cautions.GrabDrill}},
		{"magnesium", feeds.Mill, shop.OnMill, []say.Text{cautions.FireMagnesium, cautions.WheelRating}, nil},
		{"titanium", feeds.Grind, shop.OnBeltGrinder, []say.Text{cautions.FireTitanium, cautions.GrindDust}, nil},
		{"g10", feeds.Saw, "", []say.Text{cautions.DustGlass}, nil},
		{"hardwood", feeds.Turn, shop.OnLathe, []say.Text{cautions.DustWood}, []say.Text{cautions.GrindDust}},
		{"mild-steel", feeds.Grind, shop.OnBeltGrinder, []say.Text{cautions.GrindDust, cautions.WheelRating}, nil},
		{"cast-iron", feeds.Tap, shop.OnLathe, []say.Text{cautions.DustIron, cautions.TapBreak}, nil},
	} {
		m, err := materials.Find(tc.material)
		if err != nil {
			t.Fatal(err)
		}
		list := feeds.Cautions(m, tc.op, tc.machine)
		for _, c := range append(tc.has, cautions.EyeProtection, cautions.Manual) {
			if !slices.Contains(list, c) {
				t.Errorf("%s %s: does not say %q", tc.op, tc.material, c)
			}
		}
		for _, c := range tc.not {
			if slices.Contains(list, c) {
				t.Errorf("%s %s: says %q", tc.op, tc.material, c)
			}
		}
	}
}

func TestChooseRefusals(t *testing.T) {
	ok := feeds.Input{Operation: feeds.Turn, Material: "brass", Diameter: size("20mm")}
	with := func(change func(*feeds.Input)) feeds.Input {
		in := ok
		change(&in)
		return in
	}
	teeth := func(n int) *int { return &n }
	for _, tc := range []struct {
		in   feeds.Input
		want string
	}{
		{with(func(in *feeds.Input) { in.Material = "stel" }), "material: stel: not a material in the table"},
		{
			with(func(in *feeds.Input) { in.Operation = "drll" }),
			"operation: drll: write turn, face, bore, part-off, thread, drill, ream, tap, countersink, mill, saw or grind\n  " +
				"did you mean drill?",
		},
		{with(func(in *feeds.Input) { in.Tool = "hsss" }), "tool: hsss: write hss, carbide or carbon\n  did you mean hss?"},
		{
			with(func(in *feeds.Input) { in.Material, in.Operation, in.Tool = "hardened-steel", feeds.Saw, feeds.Carbide }),
			"material: hardened-steel: no cutting speed is known for saw with carbide",
		},
		{
			with(func(in *feeds.Input) { in.Material = "hardened-steel" }),
			"tool: hss: does not cut hardened-steel: write tool carbide",
		},
		{
			with(func(in *feeds.Input) { in.Diameter, in.To = size("0"), sizep("0") }),
			"diameter: 0 mm: must be above 0\nto: 0 mm: must be above 0",
		},
		{
			with(func(in *feeds.Input) { in.Depth, in.Length = sizep("0"), sizep("-1") }),
			"depth: 0 mm: must be above 0\nlength: -1 mm: must be above 0",
		},
		{with(func(in *feeds.Input) { in.Depth = sizep("10.1mm") }), "depth: 10.1 mm: more than half of the 20 mm bar"},
		{
			with(func(in *feeds.Input) { in.Operation, in.Width = feeds.Mill, sizep("20.1mm") }),
			"width: 20.1 mm: wider than the 20 mm cutter",
		},
		{with(func(in *feeds.Input) { in.Width = sizep("0") }), "width: 0 mm: must be above 0"},
		{with(func(in *feeds.Input) { in.Operation, in.Teeth = feeds.Mill, teeth(0) }), "teeth: 0: write 1 to 200 teeth"},
		{with(func(in *feeds.Input) { in.Operation, in.Teeth = feeds.Mill, teeth(201) }), "teeth: 201: write 1 to 200 teeth"},
	} {
		if _, err := feeds.Choose(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got %v\nwant %s", err, tc.want)
		}
	}
}

// The dust limits in the cautions are those of the public bodies' pages.
func TestDustLimits(t *testing.T) {
	rows := published.Rows(t, "health_limits.csv")
	for _, tc := range []struct{ agent, limit, caution, says string }{
		{"fibrous glass (total)", "5 mg/m3", cautions.DustGlass, "5 mg/m3"},
		{"hardwood dust", "3 mg/m3", cautions.DustWood, "mixtures 3 mg/m3"},
		{"softwood dust", "5 mg/m3", cautions.DustWood, "softwood 5"},
	} {
		i := slices.IndexFunc(rows, func(r map[string]string) bool { return r["agent"] == tc.agent })
		if !strings.HasPrefix(rows[i]["limit"], tc.limit) || !strings.Contains(tc.caution, tc.says) {
			t.Errorf("%s: %s prints %s; ours: %s", tc.agent, rows[i]["source"], rows[i]["limit"], tc.caution)
		}
	}
}
