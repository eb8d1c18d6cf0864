package gauge_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/gauge"
	"setover/tapers/swivel"
)

// inThree is a taper of 1:10 that a slide of 75 cuts in three bites: of a slope of 200.25 each is
// 66.75, and the carriage goes 66.4, so that the cross slide goes 3.32, 166 lines of 0.02. A bite is
// then 200 - 2·66.4 = 67.2 along the axis, and each begins 2 of the slide sooner, on a page in inches 2.54,
// which are 2.54·cos 2.8624° = 2.537 along. So bites meet between 63.863 and 67.2, and between 130.263 and
// 133.6, from where the first begins; places keep 1 from there.
func inThree(measured ...gauge.Reading) gauge.CorrectInput {
	return gauge.CorrectInput{
		Input:    tapers.Input{Large: length("40mm"), Small: length("20mm"), Length: length("200mm")},
		Measured: measured, Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100},
		Compound: &shop.Compound{
			Travel: length("75mm"), Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50},
			Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(0.5)},
		},
	}
}

// Places in different bites tell nothing of the swivel, nor does one where two bites meet: nothing is
// turned and nothing is cut, and it is said which places are in which.
func TestAcrossBites(t *testing.T) {
	const fromLarge = "leave the slide as it stands for now: the places lie in different bites or where two meet, and " +
		"tell how far the carriage and the cross slide were moved between them, not how the swivel stands. Measure two " +
		"places within one bite, as far apart as it allows: bite 1 is from 137.137 mm to 200 mm, bite 2 is from 70.737 mm " +
		"to 131.8 mm, bite 3 is from 0 mm to 65.4 mm, counted from the large end."
	for _, tc := range []struct {
		in   gauge.CorrectInput
		want string
	}{
		{inThree(at(5, 39.748), at(195, 20.888)), fromLarge},
		{inThree(at(134, 26.6), at(133, 26.7)), fromLarge},
		{
			inThree(at(5, 20.888), at(195, 39.748)),
			strings.NewReplacer(
				"137.137 mm to 200 mm", "0 mm to 62.863 mm", "70.737 mm to 131.8 mm", "68.2 mm to 129.263 mm",
				"0 mm to 65.4 mm", "134.6 mm to 200 mm", "the large end", "the small end",
			).Replace(fromLarge),
		},
	} {
		r, err := gauge.Correct(tc.in)
		if err != nil {
			t.Fatal(err)
		}
		list := r.Sheet().Procedure
		if len(list) != 1 || !strings.EqualFold(list[0].String(), tc.want) || r.Turn != "none" || r.TakeOff != nil {
			t.Errorf("got  %v\nwant %s", list, tc.want)
		}
	}
	_, err := gauge.Correct(inThree(at(10, 39), at(201, 20)))
	const off = "measured: 201 mm: is not on the taper, which is 200 mm long and was cut in 3 bites: count the places " +
		"from one of its ends, so that it is known which bite they are in"
	if err == nil || err.Error() != off {
		t.Errorf("got  %v\nwant %s", err, off)
	}
}

// A swivel that stands 0.07 deg too flat cuts every bite 0.07 deg too flat, wherever the bites were
// brought: 2.8624 less that is 2.7924 deg, 2·tan of which is 0.097551 a mm. Between 140 and 195 from
// the large end, and between 72 and 130, that is told; over a bite of 67.2 it is 67.2·(0.1 - 0.097551) = 0.1646.
func TestWithinABite(t *testing.T) {
	wanted := math.Atan(0.05)
	a := 2 * math.Tan(wanted-0.07*math.Pi/180)
	for _, places := range [][2]float64{{140, 195}, {72, 130}, {2, 60}} {
		r, err := gauge.Correct(inThree(at(places[0], 41-a*places[0]), at(places[1], 41-a*places[1])))
		if err != nil || math.Abs(r.Correction.Deg()-0.07) > 1e-6 || r.Turn != "further" {
			t.Errorf("%v: it needs %v, %s (%v)", places, r.Correction, r.Turn, err)
			continue
		}
		if got := r.DiameterError.Fixed(units.MM, 4, units.Nearest); got != "-0.1646" {
			t.Errorf("%v: over a bite it is out by %s", places, got)
		}
	}
	// Rolls of 10 touch 5·(1 + sin a) = 5.25 from the small end and 20 farther, in the first bite; 62
	// farther, at 67.25, in the second.
	for height, tells := range map[string]bool{"20mm": true, "62mm": false} {
		in := inThree()
		in.Roll, in.Height, in.Over, in.OverRaised = length("10mm"), length(height), length("41mm"), length("43mm")
		if height == "62mm" {
			in.OverRaised = length("47.1mm")
		}
		r, err := gauge.Correct(in)
		if err != nil || (r.Measured != nil) != tells {
			t.Errorf("blocks of %s: %v %v", height, r.Measured, err)
		}
	}
}

// Places farther apart than the taper is long are not both on it, and one before or beyond it is not.
func TestPlacesBeyondTheTaper(t *testing.T) {
	in := gauge.CorrectInput{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		Measured: []gauge.Reading{at(5, 29), at(75, 20)},
	}
	const want = "measured: 75 mm: is 70 mm from the place at 5 mm, and the taper is only 60 mm long: count both from " +
		"one of its ends, and leave out what is not on it"
	if _, err := gauge.Correct(in); err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	const off = " mm: is not on the taper, which is 60 mm long: count the places from one of its ends, and leave out " +
		"what is not on it"
	for _, tc := range []struct {
		from, to float64
		refused  string
	}{
		{75, 130, "130"}, {5, 62, "62"}, {62, 5, "62"}, {-0.01, 55, "-0.01"}, {10, 60.001, "60.001"}, {0, 60, ""},
	} {
		in.Measured = []gauge.Reading{at(tc.from, 21), at(tc.to, 28.9)}
		_, err := gauge.Correct(in)
		if (err == nil) != (tc.refused == "") || err != nil && err.Error() != "measured: "+tc.refused+off {
			t.Errorf("%v, %v: %v", tc.from, tc.to, err)
		}
	}
	in.Large, in.Length, in.Small = nil, nil, nil // nobody knows where it ends
	in.HalfAngle = angle("5deg")
	in.Measured = []gauge.Reading{at(-5, 21), at(162, 48.9)}
	if _, err := gauge.Correct(in); err != nil {
		t.Error(err)
	}
}

// Readings 3 apart, each 0.005 off, tell 2·0.005·60/3 = 0.2 over 60, and as far apart as the taper lets,
// 56, 0.0107: 0.0107·cos²a/(2·60) is 0.0051 deg. Out by 60·k - 10, where k is what the diameter falls by for
// each 1: 0.98 is less than five times as much, and hardly by so much: nothing is turned. 1.02 is turned, and
// measured farther apart then. A place that is 0.1 off counts like a diameter that is 0.1·k off, and each makes
// 2/3·60 of it: 0.2 + 4·k, which is 0.932.
//
// At 30 deg readings 5 apart tell 0.05 over 25, and with their places 2·(0.005 + 0.1·k)·25/5: k is 1.166, and
// 1.216 is more than the 25·(k - 2·tan 30°) = 0.282 that it is out.
//
// Apart by 50 nothing is gained: of 60·(9.46/50) - 10 = 1.352 by a slide gauge of 0.05 the 2·0.05·60/50 =
// 0.12 stay, which are 0.107 where the taper lets no more.
func TestTooNear(t *testing.T) {
	const hardly = "Leave the slide as it stands for now: these readings tell which way the taper is out, and hardly " +
		"how far. It differs by "
	for _, tc := range []struct {
		large, long string
		from, dia   float64
		to, less    float64
		off         string
		want        string
	}{
		{"30mm", "60mm", 29, 25.6, 32, 25.051, "0.005mm", hardly + "0.98 mm over its length, give or take 0.2 mm, and " +
			"0.932 mm if each place is 0.1 mm off. Measure 56 mm apart, as far as the taper lets: that tells it to 0.011 mm " +
			"over its length, 0.0051 deg."},
		{"30mm", "60mm", 29, 25.6, 32, 25.049, "0.005mm", "Measure again, 56 mm apart, as far as the taper lets: these " +
			"places tell it only to 0.2 mm."},
		{"60mm", "25mm", 5, 55, 10, 49.17, "0.005mm", hardly + "0.282 mm over its length, give or take 0.05 mm, and 1.216 " +
			"mm if each place is 0.1 mm off. Measure 21 mm apart, as far as the taper lets: that tells it to 0.012 mm over " +
			"its length, 0.0102 deg."},
		{"30mm", "60mm", 5, 32, 55, 22.54, "0.05mm", "Measure there again. Places as far apart as these tell it only to " +
			"0.108 mm: then blue it against a gauge, or measure with what is told to 0.0046 mm, or prove the slide by " +
			"indicator: on a bar true along the axis 1.661 mm over 20 mm of the slide. What is left on the diameter then"},
	} {
		in := tapers.Input{Large: length(tc.large), Small: length("20mm"), Length: length(tc.long)}
		if tc.long == "25mm" {
			in.Small, in.HalfAngle = nil, angle("30deg")
		}
		r, err := gauge.Correct(gauge.CorrectInput{
			Input: in, Measured: []gauge.Reading{at(tc.from, tc.dia), at(tc.to, tc.less)}, Cross: dial1,
			Care: gauge.Care{ReadingError: length(tc.off)},
		})
		if err != nil {
			t.Fatal(err)
		}
		list := r.Sheet().Procedure
		last := list[len(list)-1].String()
		rough := strings.HasPrefix(tc.want, hardly)
		if !strings.HasPrefix(last, tc.want) || rough != (len(list) == 1) || rough != (r.LeftSmall == nil) {
			t.Errorf("%v: got  %v\nwant %s", tc.less, list, tc.want)
		}
	}
}

// How deep each cut goes, by hand: the last takes 0.2 a side, what is before it goes in by at most 0.5.
// In lines of 0.02: 0.2 is one cut to 10 lines; 0.22 is 1 line and 11; 1.2 is 1.0 before the last, in two
// of 25 lines. In inches 0.008, 0.2032, is one cut of 0.2.
func TestCutsByHand(t *testing.T) {
	for _, tc := range []struct {
		left float64
		unit units.Unit
		want string
	}{
		{0.41, units.MM, "Cross slide in to 10 div, 0.2 mm a side; "},
		{0.41, units.Inch, "Cross slide in to 10 div, 0.0079 in a side; "},
		{0.45, units.MM, "Cross slide in to 1 div, then, measured, to 11 div, 0.22 mm a side. Each: "},
		{2.41, units.MM, "Cross slide in to 25 div, 50 div, then, measured, to 60 div, 1.2 mm a side. Each: "},
		{
			6.01, units.MM,
			"Cross slide in to 1 turn + 40 div in 6 cuts of at most 0.5 mm (25 div), then, measured, to 1 turn + 50 div, 3 mm " +
				"a side. Each: ",
		},
	} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input: tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
			Measured: []gauge.Reading{
				at(0, 30+tc.left), at(60, 20+tc.left),
			},
			Care:  gauge.Care{ReadingError: length("0.0001mm"), Unit: tc.unit},
			Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100},
		})
		if err != nil {
			t.Fatal(err)
		}
		if text := words(r, tc.unit, true); !strings.Contains(text, tc.want) {
			t.Errorf("%v: want %s\n%s", tc.left, tc.want, text)
		}
	}
}

// A gap of 0.03 on a taper of 1:20 is cut along the whole side 0.015 in, less than a line of 0.02: the
// carriage does it, 0.015/tan a = 0.6, and the compound begins 0.015/sin a = 0.6002 sooner. Of a gap of 0.05
// one line does 0.02, and the carriage 0.005/tan a = 0.2. Between centres, where it does nothing, 0.025 is
// 1.25 lines by eye.
func TestNoDeeperThanTheGap(t *testing.T) {
	ratio, err := tapers.ParseRatio("1:20")
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		gap     string
		centres *units.Length
		want    string
	}{
		{
			"0.03mm", nil,
			"Cross slide in to 0; compound in 60.019 mm; cross slide out again, compound back past 0 by its slack, to 0. Then " +
				"unlock, carriage 0.6 mm toward the headstock, lock it; the same pass begun and ended 0.6 mm sooner. It then " +
				"cuts along the whole side: that is 0.015 mm a side in all, 0.03 mm on the diameter at the small end, and the " +
				"socket goes 0.6 mm further on.",
		},
		{
			"0.05mm", nil,
			"Cross slide in to 0.02 mm (1 div); compound in 60.019 mm; cross slide out again, compound back past 0 by its " +
				"slack, to 0. Then unlock, carriage 0.2 mm toward the headstock, lock it; the same pass begun and ended 0.2 mm " +
				"sooner.",
		},
		{"0.05mm", length("200mm"), "Cross slide in to 0.025 mm (1.2 div, by eye); feed"},
	} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input: tapers.Input{Large: length("30mm"), Length: length("60mm"), Ratio: &ratio}, Blue: gauge.AtSmall,
			Gap: length(tc.gap), Between: tc.centres, Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100},
			Compound: &shop.Compound{Travel: length("100mm")},
		})
		if err != nil {
			t.Fatal(err)
		}
		if text := words(r, units.MM, true); !strings.Contains(text, tc.want) {
			t.Errorf("%s: want %s\n%s", tc.gap, tc.want, text)
		}
	}
}

// The bites are those that the compound's own sheet has: at a mark near by and where none is near, with a
// dial on the carriage and without, on either page.
func TestBitesAsCompoundSays(t *testing.T) {
	carriage := regexp.MustCompile(`carriage ([\d.]+ (?:mm|in))`)
	for n := range 40 {
		in := inThree()
		in.Compound.Scale.Step = units.Degrees(1)
		half := float64(n/4+1) + 0.0005*float64(n%4) + 0.3*float64(n%3/2)
		in.Large = mm(20 + 400*math.Tan(half*math.Pi/180))
		in.StickOut, in.SmallEnd = length("9mm"), tapers.Ends[n%2]
		if n%5 == 0 {
			in.Carriage = &shop.Dial{Lead: units.MustLength("18mm"), Divisions: 90}
		}
		if n%7 == 0 {
			in.Unit = units.Inch
		}
		ask := compound.Input{Input: in.Input, SmallEnd: in.SmallEnd, Tools: swivel.Tools{Unit: in.Unit}}
		ask.Lathe = shop.Lathe{Compound: in.Compound, CrossSlide: in.Cross, Carriage: in.Carriage}
		set, err := compound.Set(ask)
		if err != nil {
			t.Fatal(err)
		}
		r, err := gauge.Correct(in)
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		for _, step := range set.Sheet().Procedure {
			text += step.Whole().In(units.MM) + "\n"
		}
		want, got := carriage.FindStringSubmatch(text), carriage.FindStringSubmatch(words(r, units.MM, false))
		if want == nil || got == nil || want[1] != got[1] {
			t.Errorf("%v deg: %q, %q\n%s\n%s", half, want, got, text, words(r, units.MM, false))
		}
	}
}

// Obeyed, the compound's sheet begins a bite where the carriage brings it less what it says that the slide
// runs in; the sheet that puts it right touches before there by a turn of the handle and by 1 mm, with the tip
// brought to the end of the work 0.3 off by eye, and says no more than the rest; and where it tells places they
// lie clear of what either side of a joint has cut, on the page that the compound's sheet was read from and on
// the other.
func TestTouchedClearOfJoints(t *testing.T) {
	touched := regexp.MustCompile(`ompound (?:in|out) ([\d.]+) (mm|in) \((\d+) turns?\), tip clear, ([\d.]+) ` +
		`(?:mm|in) short of bite 2, touch`)
	runs := regexp.MustCompile(`the tip ([\d.]+) (mm|in) of slide before`)
	carriage := regexp.MustCompile(`carriage ([\d.]+) (mm|in)`)
	each := regexp.MustCompile(`each pass: compound (?:in|out) (?:those [\d.]+ (?:mm|in) and )?([\d.]+) (mm|in)`)
	places := regexp.MustCompile(`bite (\d+) is from ([\d.]+) (mm|in) to ([\d.]+) (?:mm|in)`)
	mmOf := func(v, unit string) float64 {
		is, err := strconv.ParseFloat(v, 64)
		if err != nil {
			t.Fatal(err)
		}
		if unit == "in" {
			is *= 25.4
		}
		return is
	}
	type screw struct {
		lead      string
		divisions int
		unit      units.Unit
	}
	far, offered := 0, 0
	for _, s := range []screw{
		{"1mm", 50, units.MM}, {"1.5mm", 60, units.MM}, {"2.5mm", 100, units.MM}, {"0.1in", 100, units.Inch},
	} {
		for _, asked := range []units.Unit{units.MM, units.Inch} {
			for n := range 24 {
				half := []float64{0.5, 1.432, 2.9, 8}[n%4] * math.Pi / 180
				long := []float64{70, 83.3, 110, 120, 150, 163.7}[n/4]
				small, end := 24.0, tapers.Ends[n/2%2]
				in := gauge.CorrectInput{
					Input: tapers.Input{
						Large: mm(small + 2*long*math.Tan(half)), Small: mm(small), Length: mm(long),
					},
					SmallEnd: end, Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100}, Care: gauge.Care{Unit: asked},
					Compound: &shop.Compound{
						Travel: length("65mm"), Screw: &shop.Dial{Lead: units.MustLength(s.lead), Divisions: s.divisions, Unit: s.unit},
						Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)},
					},
				}
				ask := compound.Input{Input: in.Input, SmallEnd: end, Tools: swivel.Tools{Unit: asked}}
				ask.Lathe = shop.Lathe{Compound: in.Compound, CrossSlide: in.Cross}
				set, err := compound.Set(ask)
				if err != nil {
					t.Fatal(err)
				}
				for _, page := range []units.Unit{units.MM, units.Inch} {
					sheet := ""
					for _, step := range set.Sheet().Procedure {
						sheet += step.Brief().Whole().In(page) + "\n"
					}
					c := carriage.FindStringSubmatch(sheet)
					if c == nil {
						t.Fatalf("no bites\n%s", sheet)
					}
					before := 0.0
					if m := runs.FindStringSubmatch(sheet); m != nil {
						before = mmOf(m[1], m[2]) * math.Cos(half)
					}
					joint := mmOf(c[1], c[2]) - before
					atSmall := regexp.MustCompile(`carriage [\d.]+ \w+ toward the headstock`).MatchString(sheet) ==
						(end == tapers.AtTailstock) // the first bite begins there
					// Out by 0.05 in its own end's way, so that most is left where the first bite ends.
					k := 2 * math.Tan(half) * 0.97
					low, high := 8.0, joint-8
					if atSmall == (n%3 == 0) {
						k = 2 * math.Tan(half) * 1.03
					}
					dia := func(u float64) gauge.Reading {
						if atSmall {
							return at(long-u, small+3+k*u)
						}
						return at(u, small+3+2*long*math.Tan(half)-k*u)
					}
					in.Measured = []gauge.Reading{dia(low), dia(high)}
					r, err := gauge.Correct(in)
					if err != nil {
						t.Fatal(err)
					}
					text := words(r, page, true)
					if m := touched.FindStringSubmatch(text); m != nil {
						far++
						lead := units.MustLength(s.lead).MM()
						tip := mmOf(m[1], m[2]) * math.Cos(half)
						clear := joint - tip
						if clear < max(1, lead*math.Cos(half))-0.003 || clear > max(1, lead)+lead+0.6 {
							t.Errorf("touched at %v, bite 2 begins at %v\n%s\n%s", tip, joint, sheet, text)
						}
						if left := mmOf(m[4], m[2]) * math.Cos(half); left > clear+0.03 || left < clear-0.6 {
							t.Errorf("it says %v is left, %v is\n%s", left, clear, text)
						}
					}
					across := in
					across.Measured = []gauge.Reading{dia(low), dia(long - 5)}
					if r, err = gauge.Correct(across); err != nil {
						t.Fatal(err)
					}
					cut := mmOf(each.FindStringSubmatch(strings.ToLower(sheet))[1], c[2]) * math.Cos(half)
					for _, m := range places.FindAllStringSubmatch(words(r, page, true), -1) {
						offered++
						bite, _ := strconv.ParseFloat(m[1], 64)
						from, to := mmOf(m[2], m[3]), mmOf(m[4], m[3])
						if strings.Contains(r.Sheet().Procedure[0].String(), "from the large end") == atSmall {
							from, to = long-to, long-from
						}
						z := mmOf(c[1], c[2])
						if bite > 1 && from < z*(bite-2)+cut+0.99 || to < long-0.01 && to > z*bite-before-0.99 {
							t.Errorf("bite %v is told to be from %v to %v\n%s\n%s", bite, from, to, sheet, words(r, page, true))
						}
					}
				}
			}
		}
	}
	if far < 50 || offered < 300 {
		t.Error("asked of too few:", far, offered)
	}
}

// A taper of 2.65 over 152 whose swivel is kept at a mark is cut in two bites of a slide of 80: the carriage goes 76,
// the cross slide 0.68, 34 lines of 0.02, and 76·2.65/304 = 0.6625 would be along the side: bite 2 stands 2·0.0175 =
// 0.035 higher, on the diameter. What is left counts that. Taken off in both bites by what is measured in bite
// 2, bite 1 would come out under size by as much.
//
// With 0.6 left in bite 1, and 0.635 in bite 2, 14 lines take 0.56 and leave 0.04 and 0.075: a line more would
// take all of it, and the readings may be off.
func TestStepsAreLeft(t *testing.T) {
	in := gauge.CorrectInput{
		Input: tapers.Input{Large: length("21.65mm"), Small: length("19mm"), Length: length("152mm")},
		Cross: &shop.Dial{Lead: units.MustLength("2.5mm"), Divisions: 125},
		Compound: &shop.Compound{
			Travel: length("80mm"), Screw: &shop.Dial{Lead: units.MustLength("1.5mm"), Divisions: 60},
			Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(5)},
		},
		Care: gauge.Care{ReadingError: length("0.0001mm")},
	}
	for _, tc := range []struct {
		near, far, stands float64
		less              string
	}{
		{90, 148, 0, "What is left: half of it farther in, by eye in every bite."},
		{
			5, 65, 0.035, "What is left but for the 0.035 mm that bite 2 stands higher: half of it farther in, by eye in " +
				"every bite.",
		},
	} {
		const k = 2.65 / 152
		in.Measured = []gauge.Reading{at(tc.near, 22.25+tc.stands-k*tc.near), at(tc.far, 22.25+tc.stands-k*tc.far)}
		r, err := gauge.Correct(in)
		if err != nil {
			t.Fatal(err)
		}
		text := words(r, units.MM, true)
		for _, want := range []string{
			"Cross slide in to 4 div, then, measured, to 14 div, 0.28 mm a side.",
			"Takes 0.56 mm off", "leaves 0.075 mm", tc.less,
		} {
			if !strings.Contains(text, want) {
				t.Errorf("no %q in\n%s", want, text)
			}
		}
	}
	// It stands out by what bite 2 is higher, 0.035·152/2.65 = 2.007: no bite is cut for that.
	in.Measured, in.StickOut = nil, length("2mm")
	r, err := gauge.Correct(in)
	const stands = "Leave the slide as it stands: it stands out by no more than one bite does beyond the first, " +
		"0.035 mm on the diameter: polish that off."
	if err != nil || strings.TrimSpace(words(r, units.MM, true)) != stands {
		t.Error(words(r, units.MM, true), err)
	}
}
