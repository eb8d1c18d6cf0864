package tailstock_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/tailstock"
)

// small is a lathe whose cross slide moves 1 mm a turn in 40 divisions, and counts
// the diameter.
func small() shop.Lathe {
	return shop.Lathe{
		BetweenCentres: length("350mm"), SwingOverSlide: length("110mm"),
		CrossSlide: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 40, OnDiameter: true},
		Tailstock:  &shop.Tailstock{Toward: length("5mm"), Away: length("5mm")},
	}
}

func sizes(large, small, long string) tapers.Input {
	return tapers.Input{Large: length(large), Small: length(small), Length: length(long)}
}

// differs builds the work between the centres with the tailstock e aside, cuts it
// along the bed at both ends of the taper and measures: the difference of the
// diameters over l along the work.
func differs(e, between, l float64) float64 {
	x := math.Sqrt(between*between - e*e)
	cut := func(at float64) (radius, along float64) { // the tool 60 mm from the headstock's centre, at x = at
		return math.Abs(at*e-60*x) / between, (at*x + 60*e) / between
	}
	r1, z1 := cut(0)
	r2, z2 := cut(x)
	return 2 * math.Abs(r2-r1) / math.Abs(z2-z1) * l
}

// What each way to set it may leave, cut on the machine with the offset anywhere
// it may be; and no more than that at one end of it.
func TestMayLeave(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		between := float64(rapid.IntRange(6000, 34000).Draw(rt, "between")) / 100
		l := between * float64(rapid.IntRange(20, 90).Draw(rt, "part")) / 100
		half := float64(rapid.IntRange(20, 400).Draw(rt, "half")) / 100
		a, long := units.Degrees(half), units.FromFloat(l)
		large := units.MustLength("80mm")
		r, err := tailstock.Set(tailstock.Input{
			Input:   tapers.Input{HalfAngle: &a, Length: &long, Large: &large},
			Between: new(units.FromFloat(between)), SmallEnd: tapers.AtTailstock, Lathe: small(),
		})
		if err != nil {
			rt.Fatal(err)
		}
		drawn := 2 * l * math.Tan(half*math.Pi/180)
		for _, s := range r.Settings {
			most := 0.0
			for part := -1.0; part <= 1; part += 0.25 {
				e := s.Set.MM() + part*s.Off.MM()
				most = max(most, math.Abs(differs(e, between, l)-drawn))
			}
			if math.Abs(most-s.DiameterOff.MM()) > 1e-6 {
				rt.Fatalf("%s: %v is left, said %v", s.Method, most, s.DiameterOff.MM())
			}
		}
	})
}

// The way that is chosen, each by its sum. 2 mm on 120 mm, 200 mm between the
// centres: tan a = 1/120, sin a = 0.0083330, e = 1.66661 mm.
//
// A rule tells two marks to 0.25 mm and the length to 0.5 mm, which is 0.0042 mm
// of the offset: 0.2542 mm. On the diameters that is 2·120/200 times as much and a
// little more, 0.305 mm.
//
// The dial: 1.66661/0.025 = 66.7, so 67 divisions, 1.675 mm, 0.0084 mm too far;
// paper tells 0.02 mm, so 0.0084 + 0.02 + 0.0042 = 0.0326 mm, 0.0391 mm on the
// diameters.
//
// The indicator: 0.005 + 0.0042 = 0.0092 mm, 0.011 mm.
//
// Along the work: 0.005 mm, and 0.1 mm of travel are 0.0008 mm, over 100 mm:
// 2·120·0.0058/100 = 0.014 mm.
func TestChosen(t *testing.T) {
	for _, tc := range []struct {
		within string
		method tailstock.Method
		off    string
	}{
		{"0.31mm", tailstock.ByMark, "0.305mm"},
		{"0.3mm", tailstock.ByDial, "0.039mm"},
		{"0.039mm", tailstock.ByIndicator, "0.011mm"},
		{"", tailstock.ByIndicator, "0.011mm"}, // 0.02 mm
		{"0.001mm", tailstock.ByIndicator, "0.011mm"},
	} {
		in := tailstock.Input{Input: sizes("30mm", "28mm", "120mm"), Between: length("200mm"), Lathe: small()}
		if tc.within != "" {
			in.Within = length(tc.within)
		}
		r := set(t, in)
		if got := units.AsPrinted(r.DiameterOff, tc.off); r.Method != tc.method || got != tc.off {
			t.Errorf("within %s: %s, %s; want %s, %s", tc.within, r.Method, got, tc.method, tc.off)
		}
		if told := len(r.Fails()) > 0; told != (tc.within == "0.001mm") || len(r.Sheet().Procedure) == 0 {
			t.Errorf("within %s: %v", tc.within, r.Fails())
		}
	}
	// A Morse taper, 1 in 20.047 on 65 mm, is kept to a tenth of that, which no way
	// does; along the work is the nearest: the length does not enter.
	named := tapers.Input{Large: length("17.78mm"), Small: length("14.583mm"), Length: length("64mm"), Standard: "MT2"}
	r := set(t, tailstock.Input{Input: named, Between: length("190mm"), Lathe: small()})
	if r.Within.MM() != 0.002 || r.Method != tailstock.AlongBar || len(r.Warnings) != 1 {
		t.Errorf("a named taper: within %v by %s, %v", r.Within.MM(), r.Method, r.Warnings)
	}
	// An offset further than an indicator goes is not set by one on the barrel.
	r = set(t, tailstock.Input{
		Input: sizes("40mm", "20mm", "200mm"), Between: length("210mm"), Lathe: shop.Lathe{}, Within: length("0.05mm"),
	})
	for _, s := range r.Settings {
		if s.Method == tailstock.ByIndicator || s.Method == tailstock.ByDial {
			t.Errorf("%v mm by %s", r.Offset.MM(), s.Method)
		}
	}
}

// The bar between the centres, built: the indicator goes along the bed, and the
// nearer of two bars to it is swung more.
func TestBars(t *testing.T) {
	for _, tc := range []struct{ bar, travel string }{
		{"", "100mm"}, {"250mm", "100mm"}, {"120mm", "50mm"}, {"60mm", "25mm"},
	} {
		in := tailstock.Input{Input: sizes("30mm", "20mm", "150mm"), Between: length("200mm"), Lathe: small()}
		b := 200.0
		if tc.bar != "" {
			in.TestBar = length(tc.bar)
			b = in.TestBar.MM()
		}
		r := set(t, in)
		e := 200 * 5 / math.Hypot(5, 150)
		want := r.Travel.MM() * e / math.Sqrt(b*b-e*e)
		if !r.Travel.Equal(units.MustLength(tc.travel)) || math.Abs(r.Reading.MM()-want) > 1e-6 {
			t.Errorf("a bar of %s: %v over %v, built %v", tc.bar, r.Reading.MM(), r.Travel.MM(), want)
		}
	}
}

// What the sheet says is moved back, moved back: the taper comes out as drawn. The
// tailstock stands 0.1 mm too far; 2 mm on 120 mm come out 0.12 mm too much.
func TestCorrection(t *testing.T) {
	r := set(t, tailstock.Input{Input: sizes("30mm", "28mm", "120mm"), Between: length("200mm"), Lathe: small()})
	e := r.Offset.MM() + 0.1
	much := differs(e, 200, 120) - 2
	said := sentence(t, r, "For each 0.01 mm that they differ too much over the 120 mm move the tailstock 0.0083 mm back")
	if left := differs(e-much/0.01*0.0083, 200, 120) - 2; math.Abs(left) > 0.001 {
		t.Errorf("%q leaves %v", said, left)
	}
}

// sentence returns the step that holds some words.
func sentence(t *testing.T, r tailstock.Result, words string) string {
	t.Helper()
	var all []string
	for _, s := range r.Sheet().Procedure {
		if strings.Contains(s.String(), words) {
			return s.String()
		}
		all = append(all, s.String())
	}
	t.Errorf("no step says %q:\n%s", words, strings.Join(all, "\n"))
	return ""
}

// Which way everything goes, as a person at the lathe sees it. A tailstock that
// comes nearer pushes the plunger in and wants room for the post; one that goes
// away lets it out, and the post follows it.
func TestWays(t *testing.T) {
	for _, tc := range []struct {
		end    tapers.End
		within string
		words  []string
	}{
		{tapers.AtTailstock, "1mm", []string{"Move the tailstock toward you until a rule shows 1.667 mm"}},
		{tapers.AtHeadstock, "1mm", []string{"Move the tailstock away from you until a rule shows 1.667 mm"}},
		{tapers.AtTailstock, "0.1mm", []string{
			"back in until it stands 1 turn + 27 div (3.35 mm by its numbers) short of the line you noted",
			"Move the tailstock toward you until it nips the paper",
		}},
		{tapers.AtHeadstock, "0.1mm", []string{
			"Move the tailstock away from you by more than 1.667 mm. Wind the cross slide on in, the same way, by 1 turn",
			"Bring the tailstock toward you until it nips the paper",
		}},
		{tapers.AtTailstock, "0.02mm", []string{
			"its hand to 0. Move the tailstock toward you until it is pushed in by 1.667 mm.",
			"while the carriage goes 100 mm along the work toward the tailstock the indicator is pushed in by 0.8333 mm",
		}},
		{tapers.AtHeadstock, "0.02mm", []string{
			"pushed in by more than 1.667 mm, and its hand to 0. Move the tailstock away from you until it has come out by",
			"toward the tailstock the indicator is let out by 0.8333 mm",
		}},
	} {
		r := set(t, tailstock.Input{
			Input: sizes("30mm", "28mm", "120mm"), Between: length("200mm"), SmallEnd: tc.end, Within: length(tc.within),
			Lathe: small(),
		})
		for _, w := range tc.words {
			sentence(t, r, w)
		}
	}
}

// The way back, obeyed. 1.667 mm over, 2 mm on 120 mm: a taper cut so reads the same all
// along while the tailstock stands there, so it tells nothing. What the sheet says is moved
// the other way, and a parallel bar of B between the centres is then along the bed again: an
// indicator that goes T along it shows T*e/B for what e is left.
func TestBack(t *testing.T) {
	for _, tc := range []struct {
		end    tapers.End
		within string
		words  string
		moved  float64
	}{
		{
			tapers.AtTailstock, "0.02mm", "Afterwards slacken the tailstock as before. Lock the carriage. Set the indicator " +
				"against your side of the barrel, close to its end, pushed in by more than 1.667 mm, and its hand to 0. " +
				"Move the tailstock away from you until it has come out by 1.667 mm.", -1.667,
		},
		{
			tapers.AtHeadstock, "0.02mm", "its hand to 0. Move the tailstock toward you until it is pushed in by 1.667 mm.",
			1.667,
		},
		{ // 67 divisions of 0.025 mm
			tapers.AtTailstock, "0.1mm", "Wind the cross slide on in, the same way, by 1 turn + 27 div (3.35 mm by its " +
				"numbers). Bring the tailstock toward you until it nips the paper as before.", -1.675,
		},
		{tapers.AtTailstock, "1mm", "Move it away from you until the two marks on its base meet.", -1.667},
		{tapers.AtHeadstock, "1mm", "Move it toward you until the two marks on its base meet.", 1.667},
	} {
		r := set(t, tailstock.Input{
			Input: sizes("30mm", "28mm", "120mm"), Between: length("200mm"), SmallEnd: tc.end, Within: length(tc.within),
			Lathe: small(),
		})
		steps := r.Sheet().Procedure
		if said := steps[len(steps)-1].String(); !strings.Contains(said, "Afterwards") || !strings.Contains(said, tc.words) {
			t.Errorf("%s: got  %s\nwant %s", r.Method, said, tc.words)
		}
		e := r.OffsetSet.MM()
		if tc.end == tapers.AtHeadstock {
			e = -e
		}
		const bar, travel, read = 150.0, 100.0, 0.005
		if shows := travel * (e + tc.moved) / bar; math.Abs(shows) > read {
			t.Errorf("%s: it stands %v over yet, the bar shows %v", r.Method, e+tc.moved, shows)
		}
		proof := steps[len(steps)-1].String()
		if brief := steps[len(steps)-1].Brief().In(units.MM); brief !=
			"Afterwards move it 1.667 mm back likewise; prove it on a parallel bar." {
			t.Errorf("the short sheet says %s", brief)
		}
		want := "Clamp it. Prove it on a parallel bar between the centres: the indicator shows the same all along"
		if r.Method == tailstock.ByDial || r.Method == tailstock.ByIndicator { // it was locked for that
			want = strings.Replace(want, "Prove", "Unlock the carriage. Prove", 1)
		}
		if !strings.Contains(proof, want) {
			t.Errorf("got  %s\nwant %s", proof, want)
		}
	}
}

// What the lathe does not take.
func TestTakes(t *testing.T) {
	for _, tc := range []struct{ large, between, want string }{
		{"110mm", "350mm", ""},
		{"110.1mm", "350mm", "large: 110.1 mm: only 110 mm turns over the cross slide"},
		{"110mm", "350.1mm", "between: 350.1 mm: this lathe takes 350 mm between its centres"},
	} {
		in := tailstock.Input{Input: sizes(tc.large, "109mm", "120mm"), Between: length(tc.between), Lathe: small()}
		got := ""
		r := set(t, in)
		if err := r.Fails().Err(); err != nil {
			got = err.Error()
		}
		if got != tc.want {
			t.Errorf("got  %s\nwant %s", got, tc.want)
		}
		if r.Longest.MM() != 350 { // the setover alone goes on to 5/sin a, some 600 mm and more
			t.Errorf("the longest is %v", r.Longest.MM())
		}
		if steps := len(r.Sheet().Procedure); (steps == 0) != (tc.want != "") {
			t.Errorf("%s: %d steps", tc.want, steps)
		}
	}
}

// How far in the tool goes, on the machine: the tip runs along the bed at y, over the place s of the
// work where x·c + y·e/L = s, with c the cosine, and is y·c - x·e/L from the line between the centres
// there. It touches 15 beside that line at the work's end, s = L, and leaves 10 at the same place.
func TestInfeed(t *testing.T) {
	lathe := small()
	lathe.Tailstock.Toward = length("9mm")
	r := set(t, tailstock.Input{Input: sizes("30mm", "20mm", "100mm"), Between: length("160mm"), Lathe: lathe})
	e, l := r.Offset.MM(), 160.0
	bed := math.Sqrt(l*l - e*e)
	radius := func(y float64) float64 { // at the tailstock's centre
		x := (l - y*e/l) / (bed / l)
		return (y*bed - x*e) / l
	}
	touches := e + 15*bed/l
	if got := radius(touches); math.Abs(got-15) > 1e-9 {
		t.Errorf("it touches a radius of %v", got)
	}
	if got := radius(touches - r.Infeed.MM()); math.Abs(got-10) > 1e-6 {
		t.Errorf("a radius of %v comes out, drawn 10", got)
	}
	// 5·cos 2.8624 = 4.993762 mm are 199 of 0.025 and three quarters of one: 4 turns of 40 and 39,
	// which leave 2·0.018762/cos a = 0.0376 mm.
	if *r.InfeedTurns != 4 || *r.InfeedDivisions != 39 || units.AsPrinted(*r.Left, "0.0000mm") != "0.0376mm" {
		t.Errorf("%d turns + %d, %v left", *r.InfeedTurns, *r.InfeedDivisions, r.Left.MM())
	}
	sentence(t, r,
		"from work turned to 30 mm first it is 4.994 mm in all (4 turns + 39 div), which leaves 0.0376 mm on the diameter: "+
			"measure, and take it off by 0.8 div more, by eye. Each pass")
}

// No line is left out for what nobody sees: cut line by line as the sheet says, the tip square to the bed and the
// work turned by the half angle, the small end comes out by no more than 0.001 under, and by less than a line
// over, of which the sheet says what it is and how much of a line takes it off.
func TestNoLineLeftOut(t *testing.T) {
	passes := regexp.MustCompile(`from ([\d.]+) (mm|in): [\d.]+ (?:mm|in) in all \((?:(\d+) turns?)?(?: \+ )?` +
		`(?:(\d+) div)?\)(?:, leaving ([\d.]+) (?:mm|in)(?: \(([\d.]+) div more, by eye\))?)?: carriage`)
	whole, part := 0, 0
	for _, c := range []shop.Dial{
		{Lead: units.MustLength("2mm"), Divisions: 100},
		{Lead: units.MustLength("2.5mm"), Divisions: 125},
		{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch},
	} {
		unit, page := 1.0, c.Unit
		if page == units.Inch {
			unit = 25.4
		}
		for _, long := range []float64{60, 100, 120, 150} {
			for _, less := range []float64{0.6, 1, 1.37, 2, 3, 4.01} {
				for _, more := range []float64{0, 40, 80} {
					lathe := small()
					lathe.CrossSlide, lathe.Tailstock.Toward = &c, length("20mm")
					large, small, l := 25*unit, (25-less)*unit, long*unit
					if unit > 1 {
						large, small, l = unit, (1-less/25)*unit, long/25*unit
					}
					r := set(t, tailstock.Input{
						Input: tapers.Input{
							Large: new(units.FromFloat(large)), Small: new(units.FromFloat(small)), Length: new(units.FromFloat(l)),
						},
						Between: new(units.FromFloat(l + more)), Lathe: lathe, Unit: page,
					})
					text := say.Join(brief(r), "\n").In(page)
					m := passes.FindStringSubmatch(text)
					if m == nil {
						t.Fatal(text)
					}
					number := func(s string) float64 {
						v, _ := strconv.ParseFloat(s, 64)
						return v
					}
					in := (number(m[3]) + number(m[4])/float64(c.Divisions)) * c.Lead.MM()
					half := math.Atan((large - small) / 2 / l)
					left := large - 2*in/math.Cos(half) - small
					line := c.Division().MM()
					if left < -0.00101 || left > 2*line/math.Cos(half)-0.00099 {
						t.Errorf("%v > %v over %v: %v is left\n%s", large, small, l, left, text)
					}
					if said := number(m[5]) * unit; math.Abs(said-max(left, 0)) > 0.0015 {
						t.Errorf("%v > %v over %v: %v is left, %v is said\n%s", large, small, l, left, said, text)
					}
					if m[6] == "" {
						whole++
						continue
					}
					part++
					if still := left - 2*number(m[6])*line/math.Cos(half); math.Abs(still) > 0.12*line {
						t.Errorf("%v > %v over %v: %v is left then\n%s", large, small, l, still, text)
					}
				}
			}
		}
	}
	if whole < 20 || part < 20 {
		t.Error("asked of too few:", whole, part)
	}
}

// brief is what the short sheet says.
func brief(r tailstock.Result) (list []say.Text) {
	for _, step := range r.Sheet().Procedure {
		list = append(list, step.Brief())
	}
	return list
}

// Whoever proves it has the carriage free and the indicator on what is proved, however the tailstock was moved:
// what is locked and what stands where is kept as each sentence says it.
func TestProvedWithTheCarriageFree(t *testing.T) {
	methods := map[tailstock.Method]bool{}
	for _, within := range []string{"0.01mm", "0.02mm", "0.1mm", "1mm"} {
		for _, end := range tapers.Ends {
			for _, bar := range []*units.Length{nil, length("250mm")} {
				r := set(t, tailstock.Input{
					Input: sizes("30mm", "28mm", "120mm"), Between: length("200mm"), SmallEnd: end, Within: length(within),
					Lathe: small(), TestBar: bar,
				})
				methods[r.Method] = true
				for _, short := range []bool{true, false} {
					locked, on, proved := false, "", false
					for _, step := range r.Sheet().Procedure {
						text := step.In(units.MM)
						if short {
							text = step.Brief().In(units.MM)
						}
						for _, s := range regexp.MustCompile(`[.:] `).Split(text, -1) {
							switch {
							case strings.Contains(s, "ock the carriage") && !strings.Contains(s, "nlock"):
								locked = true
							case strings.Contains(s, "nlock the carriage"):
								locked = false
							}
							switch {
							case strings.Contains(s, "against the barrel") || strings.Contains(s, "side of the barrel"):
								on = "barrel"
							case strings.Contains(s, "indicator on the") || strings.Contains(s, "set the indicator against the") ||
								strings.Contains(s, "indicator in the tool post"):
								on = "work"
							}
							if strings.Contains(s, "of carriage toward") || strings.Contains(s, "while the carriage goes") {
								proved = true
								if locked || on != "work" {
									t.Errorf("%s: locked %v, indicator on the %s: %s", r.Method, locked, on, text)
								}
							}
							if strings.Contains(s, "carriage to ") && strings.Contains(s, "before the tailstock end") && locked {
								t.Errorf("%s: fed with the carriage locked: %s", r.Method, text)
							}
						}
					}
					if !proved {
						t.Errorf("%s: nothing is proved", r.Method)
					}
				}
			}
		}
	}
	if len(methods) < 3 {
		t.Error("moved in too few ways:", methods)
	}
}

// The passes are told whole: half a mm is 20 lines of 0.025 mm and 0.2 mm 8; the side lies along the
// bed, 100/cos 2.8624° = 100.125 mm of it. Cut so, pass by pass, the last line is the 199th, and the
// 20 mm come out 0.0125 mm over.
func TestPasses(t *testing.T) {
	lathe := small()
	lathe.Tailstock.Toward = length("9mm")
	for end, want := range map[tapers.End]string{tapers.AtTailstock: "tailstock", tapers.AtHeadstock: "headstock"} {
		lathe.Tailstock.Away = length("9mm")
		r := set(t, tailstock.Input{
			Input: sizes("30mm", "20mm", "100mm"), Between: length("160mm"), SmallEnd: end, Lathe: lathe,
		})
		sentence(t, r, "bring it to the small end, at the "+want+", touch the turning work there, and set the cross slide's "+
			"collar to 0. Cross slide out half a turn and its slack, carriage to 2 mm before the tailstock end of the taper.")
		sentence(t, r, "Go deeper by at most 0.5 mm a side (20 div), the last time by 0.2 mm (8 div);")
		sentence(t, r, "Each pass: feed with the carriage toward the headstock, those 2 mm and 100.125 mm. Then cross "+
			"slide out half a turn and its slack, carriage back, cross slide in to its next line, always in so that its slack "+
			"is out.")
		const lines = 4*40 + 39 // of 4.994 mm
		if left := 30 - 2*lines*0.025/r.HalfAngle.Cos() - 20; math.Abs(left-0.0376) > 0.0001 {
			t.Errorf("%d lines leave %.4f", lines, left)
		}
	}
}

// An offset that no indicator shows is a no.
func TestTooLittle(t *testing.T) {
	for less, no := range map[string]bool{"19.999mm": true, "19.9mm": false} {
		r := set(t, tailstock.Input{Input: sizes("20mm", less, "60mm"), Between: length("100mm"), Lathe: small()})
		if got := strings.Contains(r.Fails().Error(), "nothing shows so little"); got != no {
			t.Errorf("%s: %v", less, r.Fails())
		}
	}
}

// The dog wants its room beside the taper: 12 mm.
func TestDog(t *testing.T) {
	for between, want := range map[string]bool{"112mm": false, "111.9mm": true} {
		r := set(t, tailstock.Input{Input: sizes("30mm", "29mm", "100mm"), Between: length(between), Lathe: small()})
		if got := slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool { return w.Code == "dog" }); got != want {
			t.Errorf("%s between the centres: %v", between, r.Warnings)
		}
	}
}

// Work is not set over further than its centres bear: 8 deg, in a shop that does not say how far its
// tailstock moves too. Nothing is told to do then but to use the compound.
func TestSteep(t *testing.T) {
	for half, steep := range map[float64]bool{8: false, 8.1: true, 30: true, 85: true} {
		for _, lathe := range []shop.Lathe{small(), {}} {
			a := units.Degrees(half)
			r := set(t, tailstock.Input{Input: tapers.Input{HalfAngle: &a}, Between: length("30mm"), Lathe: lathe})
			var said []string
			for _, p := range r.Fails() {
				said = append(said, p.Error())
			}
			no := strings.Contains(strings.Join(said, "\n"), "for more than 8 deg: use the compound")
			if steps := r.Sheet().Procedure; no != steep || steep && len(steps) > 0 || len(said) > 1 {
				t.Errorf("%v deg: %v %v", half, said, steps)
			}
		}
	}
}

// The step that a short page sends the reader to is the one that proves the setting.
func TestProofIsTheStepNamed(t *testing.T) {
	named := regexp.MustCompile(`until step (\d+) is true`)
	told := 0
	for _, between := range []string{"130mm", "200mm", "500mm"} {
		for _, bar := range []*units.Length{nil, length("300mm")} {
			for _, lathe := range []shop.Lathe{small(), {}} {
				in := tailstock.Input{Input: sizes("50mm", "48mm", "120mm"), Between: length(between), TestBar: bar, Lathe: lathe}
				for _, large := range []string{"50mm", "65mm"} {
					in.Large = length(large)
					steps := set(t, in).Sheet().Procedure
					for _, text := range steps {
						m := named.FindStringSubmatch(text.Brief().In(units.MM))
						if m == nil {
							continue
						}
						told++
						n, _ := strconv.Atoi(m[1])
						if is := steps[n-1].Brief().In(units.MM); !strings.HasPrefix(is, "Prove") {
							t.Errorf("%s, %s: step %d is %q", between, large, n, is)
						}
					}
				}
			}
		}
	}
	if told == 0 {
		t.Error("no step sends the reader to another")
	}
}

// Ball centres: 150 mm over the faces, 8 mm balls in 8 mm mouths stand
// 8 - 4·√3 = 1.0718 mm out at each end, so 152.1436 mm.
func TestOverFaces(t *testing.T) {
	in := tailstock.Input{
		Input: sizes("30mm", "28mm", "120mm"), Faces: length("150mm"), Ball: length("8mm"), Hole: length("8mm"),
	}
	if r := set(t, in); units.AsPrinted(r.Between, "0.0000mm") != "152.1436mm" {
		t.Errorf("%v between the middles", r.Between.MM())
	}
}
