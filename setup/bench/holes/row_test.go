package holes_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func lengths(words string) []units.Length {
	var list []units.Length
	for _, w := range strings.Fields(words) {
		list = append(list, units.MustLength(w))
	}
	return list
}

func angles(words string) []units.Angle {
	var list []units.Angle
	for _, w := range strings.Fields(words) {
		list = append(list, units.MustAngle(w))
	}
	return list
}

// The places of every hole, roll by roll. Each row is arithmetic that can be
// done in the head; no source is needed.
func TestPlaces(t *testing.T) {
	for _, tc := range []struct {
		name string
		row  holes.Row
		want string
	}{
		{
			"a web between different sizes",
			holes.Row{From: units.MustLength("44mm"), Dias: lengths("5mm 4mm 3.2mm"), Web: length("3mm")},
			"44mm 51.5mm 58.1mm",
		},
		{
			"a pitch",
			holes.Row{From: units.MustLength("1/2in"), Dias: lengths("1/8in"), Count: 3, Pitch: length("3/8in")},
			"0.5in 0.875in 1.25in",
		},
		{
			"a span",
			holes.Row{From: units.MustLength("10mm"), Dias: lengths("3mm"), Count: 4, Span: length("10mm")},
			"10mm 13.333333333mm 16.666666667mm 20mm",
		},
		{
			"a count that says again what the list says",
			holes.Row{Dias: lengths("3mm 3mm"), Count: 2, Web: length("1mm")},
			"0mm 4mm",
		},
		{
			"one hole on two rolls",
			holes.Row{From: units.MustLength("3/8in"), Dias: lengths("1/4in"), Rolls: angles("0 90")},
			"0.375in 0.375in",
		},
		{"one hole", holes.Row{From: units.MustLength("-2mm"), Dias: lengths("3mm"), Pitch: length("5mm")}, "-2mm"},
		{
			"two rolls, the second half a step on",
			holes.Row{
				From: units.MustLength("1in"), Dias: lengths("1/4in"), Count: 3, Pitch: length("1/2in"), Rolls: angles("0 90"),
				Stagger: true,
			},
			"1in 1.5in 2in 1.25in 1.75in 2.25in",
		},
		{
			"three rolls staggered: only the second is moved, by half the mean step of 7 and 6",
			holes.Row{Dias: lengths("5mm 3mm 3mm"), Web: length("3mm"), Rolls: angles("0 120 240"), Stagger: true},
			"0mm 7mm 13mm 3.25mm 10.25mm 16.25mm 0mm 7mm 13mm",
		},
		{
			"one hole on two rolls, staggered",
			holes.Row{Dias: lengths("3mm"), Web: length("2mm"), Rolls: angles("0 90"), Stagger: true},
			"0mm 2.5mm",
		},
	} {
		list, err := tc.row.Expand()
		if err != nil {
			t.Fatal(tc.name, err)
		}
		var got []string
		for i, want := range strings.Fields(tc.want) {
			if i < len(list) && list[i].N == i+1 {
				got = append(got, printed(list[i].At, want))
			}
		}
		if s := strings.Join(got, " "); s != tc.want || len(list) != len(got) {
			t.Errorf("%s: got %s (%d holes), want %s", tc.name, s, len(list), tc.want)
		}
	}
}

// printed returns l at the precision of want: exactly, in its unit.
func printed(l units.Length, want string) string {
	if l.Equal(units.MustLength(want)) {
		return want
	}
	return l.Decimal().String() + "mm"
}

// Whatever the sizes, the wall between neighbours is the web, and the span is
// what the webs and the diameters add up to.
func TestWebsAreEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := holes.Row{
			Web: length(fmt.Sprintf("%d thou", rapid.IntRange(1, 500).Draw(t, "web"))), Rolls: angles("0 90"), Stagger: true,
		}
		for range rapid.IntRange(2, 12).Draw(t, "holes") {
			row.Dias = append(row.Dias, units.MustLength(fmt.Sprintf("0.%03dmm", rapid.IntRange(1, 999).Draw(t, "dia"))))
		}
		list, err := row.Expand()
		if err != nil {
			t.Fatal(err)
		}
		n := len(row.Dias)
		for i, c := range list {
			if i%n == 0 {
				continue
			}
			wall := c.At.Minus(list[i-1].At).Minus(c.Dia.Plus(list[i-1].Dia).Half())
			if !wall.Equal(*row.Web) && i < n || wall.Minus(*row.Web).Abs().Cmp(units.MustLength("0.000000001mm")) > 0 {
				t.Fatalf("hole %d: wall %v, web %v", c.N, wall.Decimal(), row.Web.Decimal())
			}
		}
	})
}

// Every position is set from the datum: it is never further off than half a
// division, while steps set one after the other would add up. 4.01 mm is 157.87
// divisions of 0.001 in, so that forty steps of 158 would end five divisions
// further on.
func TestNoErrorIsCarried(t *testing.T) {
	dial := shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch}
	r, err := holes.Drill(holes.Input{
		Row:   holes.Row{From: units.MustLength("4.0mm"), Dias: lengths("2mm"), Count: 40, Pitch: length("4.01mm")},
		Table: &dial,
	})
	if err != nil {
		t.Fatal(err)
	}
	half := dial.Division().Half()
	last := r.Holes[39]
	if *last.Turns != 63 || *last.Divisions != 15 { // 160.39 mm / 0.0254 mm = 6314.57: line 6315
		t.Errorf("the last hole stands at %d turns %d div", *last.Turns, *last.Divisions)
	}
	for _, h := range r.Holes {
		if h.Error.Abs().Cmp(half) > 0 {
			t.Errorf("hole %d is %v off its line", h.N, h.Error.Decimal())
		}
	}
	if c := r.Checks[0]; !c.First.Equal(r.Holes[0].At) || !c.Back.Equal(units.MustLength("-156.39mm")) {
		t.Errorf("back from the last hole: %v to %v", c.Back.Decimal(), c.First.Decimal())
	}
}

// The grades between 3 and 6 mm over five holes: arithmetic by 0.75 mm,
// geometric by the factor 2^(1/4) = 1.189207.
func TestGrades(t *testing.T) {
	var drawer shop.Drawer
	for _, set := range []string{"metric-0.5", "fraction-64"} {
		list, err := drills.Set(set)
		if err != nil {
			t.Fatal(err)
		}
		drawer = append(drawer, list...)
	}
	for _, tc := range []struct {
		grade  holes.Grade
		graded string
	}{
		{holes.Arithmetic, "3.0000 3.7500 4.5000 5.2500 6.0000"},
		{holes.Geometric, "3.0000 3.5676 4.2426 5.0454 6.0000"},
	} {
		r, err := holes.Drill(holes.Input{
			Row:   holes.Row{Dias: lengths("3mm 6mm"), Count: 5, Web: length("2mm")},
			Grade: tc.grade, Drawer: drawer,
		})
		if err != nil {
			t.Fatal(tc.grade, err)
		}
		var graded []string
		for i, h := range r.Holes {
			graded = append(graded, h.Graded.Fixed(units.MM, 4, units.Nearest))
			if !h.Dia.Equal(h.DiaSet) {
				t.Errorf("%s: hole %d is %v, its drill %v", tc.grade, h.N, h.Dia.Decimal(), h.DiaSet.Decimal())
			}
			if i > 0 && !h.Web.Equal(units.MustLength("2mm")) {
				t.Errorf("%s: hole %d: the web is %v: it must be between the drilled sizes", tc.grade, h.N, h.Web.Decimal())
			}
			for _, d := range drawer {
				if d.Dia.Minus(*h.Graded).Abs().Less(h.Dia.Minus(*h.Graded).Abs()) {
					t.Errorf("%s: hole %d: %s is nearer to %v than %s", tc.grade, h.N, d.Name, h.Graded.Decimal(), h.Drill)
				}
			}
		}
		if got := strings.Join(graded, " "); got != tc.graded {
			t.Errorf("%s: %s, want %s", tc.grade, got, tc.graded)
		}
	}
}

// A row about a point: as far on one side as on the other.
func TestAbout(t *testing.T) {
	r, err := holes.Drill(holes.Input{
		Row: holes.Row{
			Dias: lengths("5mm 4mm 3mm"), Web: length("3mm"), Rolls: angles("0 90"), Stagger: true,
		}, About: length("2in"),
	})
	if err != nil {
		t.Fatal(err)
	}
	if mid := r.Holes[0].At.Plus(r.Holes[2].At).Half(); !mid.Equal(units.MustLength("50.8mm")) {
		t.Errorf("the middle is at %v", mid.Decimal())
	}
	if !r.Holes[3].At.Minus(r.Holes[0].At).Equal(units.MustLength("3.5mm")) { // steps 7.5 and 6.5: half their mean
		t.Errorf("the staggered roll starts at %v", r.Holes[3].At.Decimal())
	}
}

// What the bar adds: depths never short, pilots above 10 mm, pecks from three
// diameters, both sides beyond five (common practice, no source).
func TestIntoTheBar(t *testing.T) {
	r, err := holes.Drill(holes.Input{
		Row: holes.Row{From: units.MustLength("12mm"), Dias: lengths("12mm 4mm 1/4in"), Pitch: length("20mm")},
		Bar: length("30mm"), Length: length("100mm"), Off: length("1.5mm"), EdgeFinder: length("10mm"),
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{
		"34.605 2.4 mm peck=false both=false end=88", // 30 + 0.30043·12 + 1; a fifth of 12
		"32.202 none peck=true both=true end=68",
		"32.908 none peck=true both=false end=48",
	} {
		h := r.Holes[i]
		pilot := "none"
		if h.Pilot != nil {
			pilot = *h.Pilot
		}
		got := fmt.Sprintf("%s %s peck=%v both=%v end=%s", h.DrillDepth.Fixed(units.MM, 3, units.Nearest), pilot, *h.Peck,
			*h.BothSides, h.FromEnd.Fixed(units.MM, 0, units.Nearest))
		if got != want {
			t.Errorf("hole %d: %s, want %s", h.N, got, want)
		}
		if h.DrillDepth.Dir != units.Up {
			t.Errorf("hole %d: a depth through the bar may be shown shorter", h.N)
		}
	}
	blind, err := holes.Drill(holes.Input{
		Row: holes.Row{Dias: lengths("10mm")}, Bar: length("30mm"), Depth: length("9mm"),
	})
	if err != nil || blind.Holes[0].DrillDepth.Dir != units.Down {
		t.Errorf("a blind depth may be shown deeper: %v", err)
	}
	ten, err := holes.Drill(holes.Input{Row: holes.Row{Dias: lengths("10mm")}, Bar: length("30mm")})
	if err != nil || ten.Holes[0].Pilot != nil {
		t.Errorf("a hole of 10 mm wants no pilot yet: %v", err)
	}
	if got := r.Slope.DMS(false); got != "5°44'" { // asin 0.1 = 5.7392 deg, any table of sines
		t.Errorf("slope %s", got)
	}
	if !r.EdgeOffset.Equal(units.MustLength("5mm")) {
		t.Errorf("edge offset %v", r.EdgeOffset.Decimal())
	}
}

// Speeds are the machine's, the highest not above the material's cutting speed
// at the drill's diameter; the spot is the largest centre drill that is no
// larger than the hole.
func TestSpeedsAndSpots(t *testing.T) {
	speeds := []units.SpindleSpeed{units.RPM(200), units.RPM(500), units.RPM(850), units.RPM(1400)}
	r, err := holes.Drill(holes.Input{
		Row: holes.Row{
			Dias: lengths("2mm 1/4in 12mm 5mm"), Web: length("3mm"),
		}, Material: "mild-steel", Centres: lengths("1mm 2.5mm 5mm"),
		Drive: shop.Drive{Machine: shop.OnMill, Spindle: &shop.Spindle{Speeds: speeds}},
	})
	if err != nil {
		t.Fatal(err)
	}
	steel, err := materials.Find("mild-steel")
	if err != nil {
		t.Fatal(err)
	}
	cut, ok := steel.CuttingSpeed("drill", "hss")
	if !ok {
		t.Fatal("no drilling speed for mild steel")
	}
	for i, spot := range []string{"1mm", "5mm", "5mm", "5mm"} {
		h := r.Holes[i]
		want := speeds[0]
		for _, n := range speeds {
			if math.Pi*h.DiaSet.MM()*n.RPM()/1000 <= cut.Chosen {
				want = n
			}
		}
		if h.RPM.RPM() != want.RPM() || !h.Spot.Equal(units.MustLength(spot)) {
			t.Errorf("%s: %v and a spot of %v, want %v and %s", h.Drill, h.RPM, h.Spot.Decimal(), want, spot)
		}
	}
	if _, err := holes.Drill(holes.Input{Row: holes.Row{Dias: lengths("2mm")}, Material: "unobtainium"}); err == nil ||
		err.Error() != "material: unobtainium: not a material in the table" {
		t.Error(err)
	}
}

// Holes of one roll that run into each other are a no; holes of two rolls that
// meet on the axis are pointed out.
func TestCollisions(t *testing.T) {
	r, err := holes.Drill(
		holes.Input{Row: holes.Row{Dias: lengths("6mm 1/4in"), Pitch: length("6mm"), Rolls: angles("0 90")}},
	)
	if err != nil {
		t.Fatal(err)
	}
	const want = "holes: holes 1 and 2: run into each other by 0.175 mm: the step must be at least 6.175 mm"
	if f := r.Fails(); len(f) != 1 || f[0].Error() != want {
		t.Errorf("got  %v\nwant %s", f, want)
	}
	if w := r.Warnings[0]; w.Code != "crossing" ||
		w.Text != "holes 1 and 3 are on different rolls and meet on the bar's axis if both reach it" {
		t.Errorf("%v", w)
	}
}

// On one roll there is only the no, with the step rounded up: (6 + 6.35254)/2 is
// 6.17627. Holes that just touch are none.
func TestHolesThatTouch(t *testing.T) {
	for _, tc := range []struct{ dias, pitch, want string }{
		{"6mm 0.2501in", "6mm", "holes: holes 1 and 2: run into each other by 0.176 mm: the step must be at least 6.177 mm"},
		{"5mm 5mm", "5mm", ""},
	} {
		r, err := holes.Drill(holes.Input{Row: holes.Row{Dias: lengths(tc.dias), Pitch: length(tc.pitch)}})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Fails().Error(); got != tc.want {
			t.Errorf("got  %s\nwant %s", got, tc.want)
		}
		for _, w := range r.Warnings {
			if w.Code == "crossing" {
				t.Errorf("%s on one roll: %s", tc.dias, w.Text)
			}
		}
	}
}

// The first and the last of a graded row are drilled as they were asked for.
func TestGradeKeepsItsEnds(t *testing.T) {
	list, err := drills.Set("metric-0.5")
	if err != nil {
		t.Fatal(err)
	}
	r, err := holes.Drill(holes.Input{
		Row:   holes.Row{Dias: lengths("3.1mm 5.9mm"), Count: 3, Web: length("2mm")},
		Grade: holes.Arithmetic, Drawer: list,
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"3.1", "4.5", "5.9"} {
		if got := r.Holes[i].Dia.Decimal().String(); got != want {
			t.Errorf("hole %d: %s mm, want %s", i+1, got, want)
		}
	}
}

func TestRowRefusals(t *testing.T) {
	one := holes.Row{Dias: lengths("3mm"), Pitch: length("5mm")}
	with := func(change func(*holes.Input)) holes.Input {
		in := holes.Input{Row: one}
		change(&in)
		return in
	}
	for _, tc := range []struct {
		in   holes.Input
		want string
	}{
		{holes.Input{}, "dias: needs at least one diameter\npitch: needs exactly one of pitch, span and web"},
		{
			with(func(in *holes.Input) { in.Dias = lengths("0mm -1in") }),
			"dias: 0 mm: must be above 0\ndias: -25.4 mm: must be above 0",
		},
		{with(func(in *holes.Input) { in.Pitch = length("0mm") }), "pitch: 0 mm: must be above 0"},
		{
			with(func(in *holes.Input) { in.Web = length("-2mm") }),
			"web: -2 mm: must be above 0\npitch: pitch and web: give one of them",
		},
		{
			with(func(in *holes.Input) { in.Pitch, in.Span = nil, length("10mm") }),
			"span: 10 mm: a span needs at least two holes",
		},
		{with(func(in *holes.Input) { in.Count = -1 }), "count: -1: cannot be negative"},
		{
			with(func(in *holes.Input) { in.Dias, in.Count = lengths("3mm 4mm 5mm"), 2 }),
			"count: 2: contradicts the 3 diameters given",
		},
		{with(func(in *holes.Input) { in.Count, in.Rolls = 5001, angles("0 90") }), "count: 10002: more than 10000 holes"},
		{with(func(in *holes.Input) { in.Rolls = angles("90 -270") }), "roll: -270 deg: the same direction as 90 deg"},
		{with(func(in *holes.Input) { in.Pitch, in.Count = nil, 2 }), "pitch: needs exactly one of pitch, span and web"},
		{
			with(func(in *holes.Input) { in.Pitch, in.Stagger, in.Rolls = nil, true, angles("0 90") }),
			"pitch: needs exactly one of pitch, span and web",
		},
		{
			with(func(in *holes.Input) { in.Stagger = true }),
			"stagger: needs at least two rolls: every second one is moved on",
		},
		{
			with(func(in *holes.Input) { in.Dias, in.Count = lengths("3mm 4mm"), 3 }),
			"grade: two diameters and a count of 3: say how they run, arithmetic or geometric",
		},
		{
			with(func(in *holes.Input) { in.Grade = "geometrical" }),
			"grade: geometrical: write arithmetic or geometric\n  did you mean geometric?\n" +
				"grade: geometrical: needs the first and the last diameter, and a count of at least 2",
		},
		{
			with(func(in *holes.Input) { in.Grade = holes.Geometric }),
			"grade: geometric: needs the first and the last diameter, and a count of at least 2",
		},
		{
			with(func(in *holes.Input) { in.Grade, in.Dias, in.Count = holes.Geometric, lengths("3mm 6mm"), 1 }),
			"grade: geometric: needs the first and the last diameter, and a count of at least 2",
		},
		{
			with(func(in *holes.Input) { in.Grade, in.Dias, in.Count = holes.Geometric, lengths("0mm 6mm"), 3 }),
			"dias: 0 mm: must be above 0",
		},
		{
			with(func(in *holes.Input) { in.Grade, in.Dias, in.Count = holes.Geometric, lengths("1mm 6mm"), 10001 }),
			"count: 10001: write 2 to 10000 holes",
		},
		{
			with(func(in *holes.Input) { in.Bar, in.Length, in.EdgeFinder = length("0mm"), length("-1mm"), length("0mm") }),
			"bar: 0 mm: must be above 0\nlength: -1 mm: must be above 0\nedge-finder: 0 mm: must be above 0",
		},
		{
			with(func(in *holes.Input) { in.Off = length("1mm") }),
			"bar: is needed with off-centre: the slope depends on the bar's diameter",
		},
		{
			with(func(in *holes.Input) { in.Bar, in.Off = length("20mm"), length("10mm") }),
			"off-centre: 10 mm: must be under the bar's radius, 10 mm",
		},
		{
			with(func(in *holes.Input) { in.Bar, in.Off = length("20mm"), length("-1mm") }),
			"off-centre: -1 mm: cannot be negative",
		},
		{
			with(func(in *holes.Input) { in.Bar, in.Depth = length("20mm"), length("20mm") }),
			"depth: 20 mm: a blind hole is shallower than the bar, 20 mm: leave it out to drill through",
		},
		{with(func(in *holes.Input) { in.Bar, in.Depth = length("20mm"), length("0mm") }), "depth: 0 mm: must be above 0"},
		{with(func(in *holes.Input) { in.Bar = length("3mm") }), "dias: 3 mm: as large as the bar, 3 mm"},
		{
			with(func(in *holes.Input) { in.Length, in.Count = length("9mm"), 3 }),
			"length: 9 mm: hole 3 at 10 mm is not on the bar",
		},
		{
			with(func(in *holes.Input) { in.Length, in.From = length("9mm"), units.MustLength("-1mm") }),
			"length: 9 mm: hole 1 at -1 mm is not on the bar",
		},
	} {
		_, err := holes.Drill(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

func ExampleRow_Expand() {
	row := holes.Row{From: units.MustLength("44mm"), Dias: lengths("5mm 4mm 3.2mm"), Web: length("3mm")}
	list, err := row.Expand()
	if err != nil {
		panic(err)
	}
	for _, c := range list {
		fmt.Println(c.N, say.Of(c.Dia, " at ", c.At))
	}
	// Output:
	// 1 5 mm at 44 mm
	// 2 4 mm at 51.5 mm
	// 3 3.2 mm at 58.1 mm
}
