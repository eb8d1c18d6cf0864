package gauge_test

import (
	"encoding/json"
	"fmt"
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
	"setover/setup/page/render"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
	"setover/tapers/gauge"
)

// hundredths draws a number of hundredths.
func hundredths(rt *rapid.T, name string, from, to int) float64 {
	return float64(rapid.IntRange(from, to).Draw(rt, name)) / 100
}

// warned reports whether a result warns by a code.
func warned(r gauge.CorrectResult, code string) bool {
	return slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool { return w.Code == code })
}

// at is a reading.
func at(z, dia float64) gauge.Reading {
	return gauge.Reading{Z: units.FromFloat(z), Dia: units.FromFloat(dia)}
}

// A cone cut with a wrong setting, measured, corrected: cut again it is right.
func TestCorrect(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		want := units.Degrees(float64(rapid.IntRange(50, 4000).Draw(rt, "wanted")) / 100)
		set := want.Deg() + float64(rapid.IntRange(-40, 40).Draw(rt, "off"))/100
		cut := func(z float64) units.Length { return units.FromFloat(100 - 2*z*math.Tan(set*math.Pi/180)) }
		l := units.MustLength("30mm")
		between := units.MustLength("200mm")
		in := gauge.CorrectInput{
			Input:    tapers.Input{HalfAngle: &want, Length: &l, Large: length("100mm")},
			Measured: []gauge.Reading{{Z: units.MustLength("2mm"), Dia: cut(2)}, {Z: units.MustLength("29mm"), Dia: cut(29)}},
			Care:     gauge.Care{ReadingError: length("0.00000001mm")}, Within: length("0.0000001mm"),
		}
		slide, err := gauge.Correct(in)
		if err != nil {
			rt.Fatal(err)
		}
		in.Between = &between
		r, err := gauge.Correct(in)
		if err != nil {
			rt.Fatal(err)
		}
		if got := set + r.Correction.Deg(); math.Abs(got-want.Deg()) > 1e-6 {
			rt.Fatalf("set to %v and corrected to %v, wanted %v", set, got, want)
		}
		// The scale was out by what the cone shows: set anew by as much the other way.
		if got := slide.NewAngle.Deg() + set - want.Deg(); math.Abs(got-want.Deg()) > 1e-6 {
			rt.Fatalf("the new angle %v cuts %v, wanted %v", slide.NewAngle, got, want)
		}
		turn := "none"
		if set < want.Deg()-1e-9 {
			turn = "further"
		} else if set > want.Deg()+1e-9 {
			turn = "back"
		}
		if math.Abs(set-want.Deg()) > 1e-6 && r.Turn != turn {
			rt.Fatalf("set to %v for %v: turn %s", set, want, r.Turn)
		}
		// The tailstock's offset that made this cone, moved by what is told.
		offset := 200*math.Sin(set*math.Pi/180) + r.OffsetChange.MM()
		if math.Abs(offset-r.Offset.MM()) > 1e-6 {
			rt.Fatalf("the offset comes to %v, wanted %v", offset, r.Offset.Decimal())
		}
		if got := 100 - 2*30*want.Tan() - cut(30).MM(); math.Abs(got-r.DiameterError.MM()) > 1e-5 {
			rt.Fatalf("diameter error %v, cut %v", r.DiameterError.Decimal(), got)
		}
		// A millimetre of diameter, walked along the cone.
		if got := float64(r.Axial) * 2 * want.Tan(); math.Abs(got-1) > 1e-9 {
			rt.Fatalf("along the axis: %v mm of diameter", got)
		}
	})
	// Measured at over twice what is wanted, 26.565 deg for 5: no angle to set.
	far, err := gauge.Correct(gauge.CorrectInput{
		Input: tapers.Input{HalfAngle: angle("5")},
		Measured: []gauge.Reading{{units.MustLength("0"), units.MustLength("10")}, {
			units.MustLength("10"), units.MustLength("20"),
		}},
	})
	if err != nil || far.NewAngle != nil || !warned(far, "far-out") || far.Turn != "back" {
		t.Error(far.NewAngle, far.Warnings, far.Turn, err)
	}
	// Blue: a plug that rubs at its large end is too steep; a bore is too flat.
	for _, tc := range []struct {
		end      gauge.End
		internal bool
		want     string
	}{
		{gauge.AtLarge, false, "back"},
		{gauge.AtSmall, false, "further"},
		{gauge.AtLarge, true, "further"},
		{gauge.AtSmall, true, "back"},
	} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input: tapers.Input{HalfAngle: angle("1.4307"), Large: length("0.7in"), Length: length("2-9/16in")}, Blue: tc.end,
			Internal: tc.internal, SmallEnd: tapers.AtHeadstock,
		})
		if err != nil {
			t.Fatal(err)
		}
		if r.Verdict != "off" || r.Turn != tc.want || r.Correction != nil {
			t.Errorf("%s, bore %v: turn %s", tc.end, tc.internal, r.Turn)
		}
		// 0.01 mm over 65.0875 mm, by cutting the two cones.
		flat := math.Atan(math.Tan(1.4307*math.Pi/180)-0.01/2/65.0875) * 180 / math.Pi
		if got := 1.4307 - flat; math.Abs(got-float64(*r.PerHundredth)) > 1e-6 {
			t.Errorf("0.01 mm is %v, cut %v", r.PerHundredth, got)
		}
	}
}

// Cones whose readings are off as far as they may be: what is told holds. The half
// angle lies between its bounds; a taper that is called right is right, one that is
// called out is out that way, and what is untold is told by readings as far apart as
// is said.
func TestReadingsAreOff(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		want := hundredths(rt, "wanted", 50, 3000)
		set := want + hundredths(rt, "off", -10, 10)
		e := hundredths(rt, "each reading", 0, 3)
		const long = 60.0
		within := hundredths(rt, "within", 1, 40)
		reading := func(z float64) gauge.Reading {
			off := e * float64(rapid.IntRange(-100, 100).Draw(rt, "part")) / 100
			return at(z, 120-2*z*math.Tan(set*math.Pi/180)+off)
		}
		half, large, length := units.Degrees(want), units.FromFloat(120), units.FromFloat(long)
		off, most := units.FromFloat(e), units.FromFloat(within)
		in := gauge.CorrectInput{
			Input:    tapers.Input{HalfAngle: &half, Large: &large, Length: &length},
			Measured: []gauge.Reading{reading(hundredths(rt, "first", 0, 2500)), reading(hundredths(rt, "second", 2600, 6000))},
			Care:     gauge.Care{ReadingError: &off}, Within: &most,
		}
		if rapid.Bool().Draw(rt, "a third") {
			in.Measured = append(in.Measured, reading(hundredths(rt, "third", 0, 6000)))
		}
		r, err := gauge.Correct(in)
		if err != nil {
			rt.Fatal(err)
		}
		seen[r.Verdict]++
		if needs := want - set; needs < r.Least.Deg()-1e-6 || needs > r.Most.Deg()+1e-6 {
			rt.Fatalf("needs %v: not from %v to %v", needs, r.Least, r.Most)
		}
		out := 2 * long * (math.Tan(set*math.Pi/180) - math.Tan(want*math.Pi/180))
		if math.Abs(out-r.DiameterError.MM()) > r.ToldTo.MM()*1.001+1e-6 {
			rt.Fatalf("out by %v, told as %v within %v", out, r.DiameterError, r.ToldTo)
		}
		switch r.Verdict {
		case "right":
			if math.Abs(out) > within+1e-6 {
				rt.Fatalf("called right, and out by %v where %v is allowed", out, within)
			}
		case "off", "within":
			if (r.Turn == "further") != (out < 0) || r.Turn == "none" {
				rt.Fatalf("out by %v: turn %s", out, r.Turn)
			}
		case "untold":
			if r.Turn != "none" || r.Apart == nil && r.LeastError == nil || (r.LeastError == nil) != (r.TellsTo == nil) {
				rt.Fatalf("untold: turn %s, apart %v, error %v, tells to %v", r.Turn, r.Apart, r.LeastError, r.TellsTo)
			}
			const most = long - 2 - 2 // from the ends
			far := most
			if r.Apart != nil {
				far = r.Apart.MM()
			} else {
				for _, m := range in.Measured {
					for _, n := range in.Measured {
						far = max(far, m.Z.MM()-n.Z.MM())
					}
				}
			}
			if r.Apart != nil && far > most {
				rt.Fatalf("%v apart on what is %v long", far, long)
			}
			in.Measured = []gauge.Reading{reading(long - far), reading(long)}
			if r.LeastError != nil {
				if again, err := gauge.Correct(in); err != nil || math.Abs(again.ToldTo.MM()-r.TellsTo.MM()) > 1e-6 {
					rt.Fatalf("measured %v apart it is told to %v, not %v (%v)", far, again.ToldTo, r.TellsTo, err)
				}
				in.ReadingError, e = r.LeastError, r.LeastError.MM()
				in.Measured = []gauge.Reading{reading(long - far), reading(long)}
			}
			if again, err := gauge.Correct(in); err != nil || again.Verdict == "untold" {
				rt.Fatalf("measured %v apart to %v it is %s (%v)", far, in.ReadingError, again.Verdict, err)
			}
		}
	})
	for _, verdict := range []string{"off", "within", "right", "untold"} {
		if seen[verdict] == 0 {
			t.Errorf("no cone was %s: %v", verdict, seen)
		}
	}
}

// Two readings 10 apart, each off by 0.005, tell 2·0.005/10·60 = 0.06 over 60. A
// taper that may be out by 0.02 wants them 4·0.005·60/0.02 = 60 apart, and lets 2 from either end, 56:
// they tell 2·0.005·60/56 = 0.0107 there, and a micrometer of 0.02·56/(4·60) = 0.00467 tells it. One that
// may be out by 0.002 wants a tenth of that.
func TestUntoldByHand(t *testing.T) {
	for _, tc := range []struct{ within, tells, setting string }{
		{
			"0.02mm", "56.0000 0.0047 0.0107",
			"leave the slide as it stands for now: these readings do not tell whether the taper is out",
		},
		{
			"0.002mm", "56.0000 0.0005 0.0107",
			"leave the slide as it stands for now: these readings do not tell whether the taper is out",
		},
		{"0.07mm", "- - -", "leave the slide as it stands: the taper is right to 0.07 mm over its length"},
	} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
			Measured: []gauge.Reading{at(10, 29), at(20, 27.334)}, Within: length(tc.within),
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := fixed(units.MM, r.Apart, r.LeastError, r.TellsTo); got != tc.tells || r.Setting.String() != tc.setting {
			t.Errorf("%s: %s, %s", tc.within, got, r.Setting)
		}
		if got := fixed(units.MM, r.DiameterError, r.ToldTo); got != "-0.0040 0.0600" {
			t.Error(tc.within, got)
		}
	}
}

// The line nearest to many readings, against a search over lines; and a side that is
// not straight.
func TestFit(t *testing.T) {
	list := []gauge.Reading{at(3, 29.51), at(17, 28.79), at(17, 28.83), at(31, 28.12), at(55, 26.91)}
	squares := func(p, k float64) (sum float64) {
		for _, m := range list {
			d := m.Dia.MM() - p - k*m.Z.MM()
			sum += d * d
		}
		return sum
	}
	best := func(k float64) float64 { // the height that suits a slope, by halving
		lo, hi := 0.0, 60.0
		for range 200 {
			a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
			if squares(a, k) < squares(b, k) {
				hi = b
			} else {
				lo = a
			}
		}
		return squares((lo+hi)/2, k)
	}
	lo, hi := -1.0, 1.0
	for range 200 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if best(a) < best(b) {
			hi = b
		} else {
			lo = a
		}
	}
	in := gauge.CorrectInput{
		Input: tapers.Input{Ratio: &tapers.Ratio{}}, Measured: list, Care: gauge.Care{ReadingError: length("0.02mm")},
	}
	ratio, err := tapers.ParseRatio("1:20")
	if err != nil {
		t.Fatal(err)
	}
	in.Ratio = &ratio
	r, err := gauge.Correct(in)
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Atan(-(lo+hi)/4) * 180 / math.Pi; math.Abs(r.Measured.Deg()-want) > 1e-5 {
		t.Errorf("half angle %v, searched %v", r.Measured, want)
	}
	bent := func(middle float64) string {
		in.Measured = []gauge.Reading{at(0, 30), at(30, middle), at(60, 27)}
		r, err := gauge.Correct(in)
		if err != nil {
			t.Fatal(err)
		}
		var texts []string
		for _, w := range r.Warnings {
			if w.Code == "not-straight" {
				texts = append(texts, w.Text.String())
			}
		}
		return strings.Join(texts, "; ")
	}
	// 0.09 off in the middle is 0.06 off the line, which lies 0.03 nearer; 0.06 is 0.04,
	// as two readings of 0.02 may make it.
	for middle, want := range map[float64]string{
		28.5: "", 28.44: "", 28.56: "",
		28.41: "the side is not straight: at 30 mm it is 0.06 mm smaller than the line through all of them; a tool off " +
			"centre height leaves the middle small",
		28.59: "the side is not straight: at 30 mm it is 0.06 mm larger than the line through all of them; something gave " +
			"way, or a reading is wrong",
	} {
		if got := bent(middle); got != want {
			t.Errorf("%v: %q, want %q", middle, got, want)
		}
	}
}

// dial1 is a cross slide of 1 mm in 40 divisions, dialIn one of 0.1 in in 100.
var (
	dial1  = &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 40, OnDiameter: true}
	dialIn = &shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch}
)

// What is left, by hand. Wanted 30 to 20 over 60, tan a = 1/12, so that 1 mm of
// diameter is 6 along the axis.
//
// Measured 29.9 at 5 and 21.6 at 55: 0.166 a mm, 30.73 at 0 and 20.77 at 60. The most
// is left at the small end, 0.77, which is 4.62 along. Each end is told to (1.1 + 0.1)
// times 0.005, so that (0.77 - 0.006)/2 = 0.382 a side may go: 15 lines of 0.025, and
// 0.77 - 0.75 = 0.02 is left. Measured from the other end it is the same.
//
// A bore of 29.4 at 5 and 21.4 at 55, 0.16 a mm, is 30.2 at 0: 0.2 too large. One of
// 29.1 and 20.6, 0.17 a mm, is 29.95 at 0 and 19.75 at 60: 0.05 and 0.25 left, 0.122 a
// side and 4 lines, which leave 0.05.
//
// It stands out by 3: 0.5 at the end that touches. With a gap of 0.06 at the other, a
// plug that touches at its large end has 0.44 left there at the small one, and a bore
// too. In inches it stands out by 0.12: 0.02 in, 0.01 in a side, 10 lines.
func TestRemainingByHand(t *testing.T) {
	mm := []string{"30mm", "20mm", "60mm"}
	for _, tc := range []struct {
		name string
		in   gauge.CorrectInput
		unit units.Unit
		want string // left large, left small, taken off, axial move, infeed, set, left after
		dial string // turns and divisions, cuts
		no   string
	}{
		{
			"plug",
			gauge.CorrectInput{Measured: []gauge.Reading{at(5, 29.9), at(55, 21.6)}, Cross: dial1},
			units.MM,
			"0.7300 0.7700 0.7700 4.6200 0.3820 0.3750 0.0200", "0 15 2", "",
		},
		{
			"plug, from its small end",
			gauge.CorrectInput{Measured: []gauge.Reading{at(55, 29.9), at(5, 21.6)}, Cross: dial1},
			units.MM,
			"0.7300 0.7700 0.7700 4.6200 0.3820 0.3750 0.0200", "0 15 2", "",
		},
		{
			"bore",
			gauge.CorrectInput{
				Measured: []gauge.Reading{at(5, 29.1), at(55, 20.6)}, Cross: dial1, Internal: true,
				SmallEnd: tapers.AtHeadstock,
			},
			units.MM,
			"0.0500 0.2500 0.2500 1.5000 0.1220 0.1000 0.0500", "0 4 1", "",
		},
		{
			"bore too large",
			gauge.CorrectInput{
				Measured: []gauge.Reading{at(5, 29.4), at(55, 21.4)}, Cross: dial1, Internal: true,
				SmallEnd: tapers.AtHeadstock,
			},
			units.MM,
			"-0.2000 -0.6000 - - - - -", "",
			"measured: the bore is 0.6 mm too large at its small end already: it is right again where 3.6 mm is faced off " +
				"its mouth, the large end, if it may be as much shorter, or start again",
		},
		// Its mouth is the small end, which gets no smaller when it is faced.
		{
			"bore too large, small at its mouth",
			gauge.CorrectInput{
				Measured: []gauge.Reading{at(5, 29.4), at(55, 21.4)}, Cross: dial1, Internal: true,
				SmallEnd: tapers.AtTailstock,
			},
			units.MM,
			"-0.2000 -0.6000 - - - - -", "",
			"measured: the bore is 0.6 mm too large at its small end already: it is right again where 3.6 mm is faced off " +
				"its large end, at the chuck, if it may be as much shorter, or start again",
		},
		{
			"plug too small",
			gauge.CorrectInput{Measured: []gauge.Reading{at(5, 29.9), at(55, 20.8)}, Cross: dial1},
			units.MM, "0.8100 -0.1100 - - - - -", "",
			"measured: the small end is 0.11 mm under size already: it is right again where the taper is cut 0.66 mm " +
				"further on toward its large end, if the work is long enough there, or start again",
		},
		{
			"stands out",
			gauge.CorrectInput{StickOut: length("3mm"), Cross: dial1},
			units.MM,
			"0.5000 0.5000 0.5000 3.0000 0.2500 0.2500 0.0000", "0 10 2", "",
		},
		{
			"stands out in inches",
			gauge.CorrectInput{StickOut: length("0.12in"), Cross: dialIn},
			units.Inch,
			"0.0200 0.0200 0.0200 0.1200 0.0100 0.0100 0.0000", "0 10 2", "",
		},
		{
			"goes in too far",
			gauge.CorrectInput{StickOut: length("-0.6mm"), Cross: dial1},
			units.MM,
			"-0.1000 -0.1000 - - - - -", "",
			"stick-out: the large end is 0.1 mm under size already: it is right again where the taper is cut 0.6 mm " +
				"further on toward its large end, if the work is long enough there, or start again",
		},
		{
			"blue at its large end",
			gauge.CorrectInput{
				Blue: gauge.AtLarge, Gap: length("0.06mm"), StickOut: length("3mm"), Cross: dial1,
			},
			units.MM,
			"0.5000 0.4400 0.5000 3.0000 0.2500 0.2500 0.0000", "0 10 2", "",
		},
		{
			"blue at its small end",
			gauge.CorrectInput{
				Blue: gauge.AtSmall, Gap: length("0.06mm"), StickOut: length("3mm"), Cross: dial1,
			},
			units.MM,
			"0.4400 0.5000 0.5000 3.0000 0.2500 0.2500 0.0000", "0 10 2", "",
		},
		{
			"blue at a bore's small end",
			gauge.CorrectInput{
				Blue: gauge.AtSmall, Gap: length("0.06mm"), StickOut: length("3mm"), Cross: dial1, Internal: true,
				SmallEnd: tapers.AtHeadstock,
			},
			units.MM,
			"0.4400 0.5000 0.5000 3.0000 0.2500 0.2500 0.0000", "0 10 2", "",
		},
		{
			"blue at a bore's large end",
			gauge.CorrectInput{
				Blue: gauge.AtLarge, Gap: length("0.06mm"), StickOut: length("3mm"), Cross: dial1, Internal: true,
				SmallEnd: tapers.AtHeadstock,
			},
			units.MM,
			"0.5000 0.4400 0.5000 3.0000 0.2500 0.2500 0.0000", "0 10 2", "",
		},
		{
			"blue without a gap",
			gauge.CorrectInput{Blue: gauge.AtLarge, StickOut: length("3mm"), Cross: dial1},
			units.MM,
			"0.5000 - 0.5000 3.0000 0.2500 0.2500 0.0000", "0 10 2", "",
		},
		{
			"no dial",
			gauge.CorrectInput{StickOut: length("3mm")},
			units.MM,
			"0.5000 0.5000 0.5000 3.0000 0.2500 - 0.0000", "- - 2", "",
		},
	} {
		tc.in.Input = tapers.Input{Large: length(mm[0]), Small: length(mm[1]), Length: length(mm[2])}
		r, err := gauge.Correct(tc.in)
		if err != nil {
			t.Error(tc.name, err)
			continue
		}
		got := fixed(tc.unit, r.LeftLarge, r.LeftSmall, r.TakeOff, r.AxialMove, r.Infeed, r.InfeedSet, r.Leaves)
		dial := ""
		if r.Cuts != nil {
			dial = "- - " + fmt.Sprint(*r.Cuts)
			if r.InfeedTurns != nil {
				dial = fmt.Sprint(*r.InfeedTurns, *r.InfeedDivisions, *r.Cuts)
			}
		}
		no := ""
		if fails := r.Fails(); len(fails) > 0 {
			no = fails.Error()
		}
		if got != tc.want || dial != tc.dial || no != tc.no {
			t.Errorf("%s: %s, %s, %q; want %s, %s, %q", tc.name, got, dial, no, tc.want, tc.dial, tc.no)
		}
	}
}

// Cones that are finished as the sheet says: the slide turned to what is wanted, the
// tool brought to the end that is named and wound in by the dial. Whatever the
// readings are off, nothing comes out under size, and no more is left than they and a
// line of the dial are worth.
func TestFinishedAsSaid(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tan := math.Tan(hundredths(rt, "wanted", 50, 2000) * math.Pi / 180)
		wrong := tan + hundredths(rt, "off", -10, 10)/100
		e, long := hundredths(rt, "each reading", 0, 2), 40.0
		small := 10.0
		large := small + 2*long*tan
		bore := rapid.Bool().Draw(rt, "bore")
		sign := 1.0
		if bore {
			sign = -1
		}
		// What is there: the wrong cone, with so much left at the end with less.
		most, lean := hundredths(rt, "left", 10, 200), 2*long*(wrong-tan)*sign
		has := func(z float64) float64 { // from the large end
			less := most + max(0, -lean)
			return large - 2*z*tan + sign*(less+lean*(1-z/long))
		}
		reading := func(z float64) gauge.Reading {
			return at(z, has(z)+e*float64(rapid.IntRange(-100, 100).Draw(rt, "part"))/100)
		}
		off, cross := units.FromFloat(e), dial1
		d, s, l := units.FromFloat(large), units.FromFloat(small), units.FromFloat(long)
		in := gauge.CorrectInput{
			Input:    tapers.Input{Large: &d, Small: &s, Length: &l},
			Measured: []gauge.Reading{reading(hundredths(rt, "first", 0, 800)), reading(hundredths(rt, "second", 3000, 4000))},
			Care:     gauge.Care{ReadingError: &off}, Internal: bore, SmallEnd: tapers.AtHeadstock, Cross: cross,
		}
		r, err := gauge.Correct(in)
		if err != nil || len(r.Fails()) > 0 {
			rt.Fatal(err, r.Fails())
		}
		if r.InfeedSet == nil && r.Verdict == "untold" && r.Apart != nil { // measured farther apart first
			rt.Skip()
		}
		atLarge, atSmall := sign*(has(0)-large), sign*(has(long)-small)
		touched := max(atLarge, atSmall)
		after := touched - 2*r.InfeedSet.MM()
		if after < -1e-6 {
			rt.Fatalf("%v and %v are left, %v a side is taken: %v too much", atLarge, atSmall, r.InfeedSet, -after)
		}
		if told := 4*1.6*e + 2*cross.Division().MM(); after > told+1e-6 {
			rt.Fatalf("%v and %v are left, %v a side is taken: %v still left", atLarge, atSmall, r.InfeedSet, after)
		}
	})
}

// What is less than a line is not wound: 30.03 mm at the large end is 0.03 mm too much, and less
// the 0.005 mm that a reading may be off 0.0125 mm a side, no line of 0.025 mm. 30.1 mm are
// (0.1 - 0.005)/2 = 0.0475 mm a side, one line.
func TestLessThanALine(t *testing.T) {
	for _, tc := range []struct{ large, want, not string }{
		{"30.03mm", "The 0.03 mm left on the diameter at the large end is less than a line", "wind it"},
		{"30.1mm", "Cross slide in to 1 div, 0.025 mm a side", "less than a line"},
	} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input:    tapers.Input{Large: length("30mm"), Small: length("28mm"), Length: length("120mm")},
			Measured: []gauge.Reading{at(0, 28), at(120, units.MustLength(tc.large).MM())},
			Between:  length("200mm"), Cross: dial1,
		})
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, s := range r.Sheet().Procedure {
			all = append(all, s.String())
		}
		if said := strings.Join(all, "\n"); !strings.Contains(said, tc.want) || strings.Contains(said, tc.not) {
			t.Errorf("%s: want %q:\n%s", tc.large, tc.want, said)
		}
	}
}

// reads returns what a scale shows by the picture of it: the angle between the handle
// and where the handle stands at zero, counted back past 90 where the scale does.
func reads(half float64, zero shop.Zero, back, grows, reversed bool) float64 {
	rise := math.Tan(half * math.Pi / 180)
	if !grows {
		rise = -rise
	}
	z, y := 1.0, rise
	if reversed {
		z, y = -1, -rise
	}
	from := z // along the axis, toward the tailstock
	if zero == shop.Across {
		from = y // toward the operator
	}
	turn := math.Acos(from/math.Hypot(z, y)) * 180 / math.Pi
	if back && turn > 90 {
		return 180 - turn
	}
	return turn
}

// A scale that is out by a bit, on every kind of it: it reads what it claims, the cone
// is what was really set, and afterwards it reads what makes the taper right.
func TestScaleAfterwards(t *testing.T) {
	for _, zero := range []shop.Zero{shop.Along, shop.Across} {
		for _, back := range []bool{false, true} {
			for _, end := range tapers.Ends {
				for _, handle := range fouling.Handles {
					for _, half := range []float64{5, 30, 60, 85} {
						grows, reversed := end == tapers.AtHeadstock, handle == fouling.Reversed
						real, out := half+0.31, 0.23 // what was set, and by how much the scale is out
						tan := math.Tan(real * math.Pi / 180)
						shown := units.Degrees(reads(real+out, zero, back, grows, reversed))
						r, err := gauge.Correct(gauge.CorrectInput{
							Input:    tapers.Input{HalfAngle: new(units.Degrees(half))},
							Measured: []gauge.Reading{at(0, 800), at(20, 800-40*tan)}, SmallEnd: end, Handle: handle, SetAt: &shown,
							Compound: &shop.Compound{Scale: shop.Scale{Zero: zero, Step: units.Degrees(0.5), BackAfter90: back}},
						})
						if err != nil {
							t.Fatal(err)
						}
						want := reads(half+out, zero, back, grows, reversed)
						if r.Reading == nil || math.Abs(r.Reading.Deg()-want) > 1e-6 {
							t.Errorf("%s, counts back %v, small at the %s, handle %s, %v: from %v to %v, want %v", zero, back, end, handle,
								half, shown, r.Reading, want)
						}
					}
				}
			}
		}
	}
}

// An indicator that runs along the cone as it stands, the slide turned to what is
// wanted: the plunger's line is brought to the side, point by point.
func TestIndicatorOnTheCone(t *testing.T) {
	for _, tc := range []struct{ wanted, cut float64 }{{5, 5.3}, {30, 29.5}, {44, 44.4}, {60, 60.3}, {80, 79.8}} {
		long := units.FromFloat(10)
		tan := math.Tan(tc.cut * math.Pi / 180)
		r, err := gauge.Correct(gauge.CorrectInput{
			Input:    tapers.Input{HalfAngle: new(units.Degrees(tc.wanted)), Length: &long, Large: length("300mm")},
			Measured: []gauge.Reading{at(0, 300), at(10, 300-20*tan)},
			Compound: &shop.Compound{Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 100}},
		})
		if err != nil {
			t.Fatal(err)
		}
		if r.OnCone == nil {
			t.Errorf("%v: nothing runs along the cone", tc)
			continue
		}
		// The tool post goes the travel; the side is y = tan m·z through its start.
		a := tc.wanted * math.Pi / 180
		z, y := r.OnConeTravel.MM()*math.Cos(a), r.OnConeTravel.MM()*math.Sin(a)
		across, along := math.Abs(y-tan*z), math.Abs(z-y/tan)
		want := across
		if tc.wanted > 45 {
			want = along
		}
		if math.Abs(r.OnCone.MM()-want) > 1e-6 {
			t.Errorf("%v: %v, by its picture %v", tc, r.OnCone.Decimal(), want)
		}
	}
}

// Rolls and balls tell what they tell by themselves, and what is left at both ends. A
// plug of 3-4-5 wanted, 80 to 20 over 40, and rolls of 10 on blocks of 20: over 50 and
// raised 79 tan m is 29/40, and the plug stands on 20.0 and a bit: 10·(1 + tan(45 +
// m/2)) is taken off 50. A bore of 3-4-5, 80 to 20, by balls of 40 and 16.
func TestByRollsAndBalls(t *testing.T) {
	cone := tapers.Input{Large: length("80mm"), Small: length("20mm"), Length: length("40mm")}
	r, err := gauge.Correct(gauge.CorrectInput{
		Input: cone, Roll: length("10mm"), Height: length("20mm"), Over: length("50mm"), OverRaised: length("79mm"),
	})
	if err != nil {
		t.Fatal(err)
	}
	m := math.Atan(29.0 / 40)
	small := 50 - 10*(1+math.Tan(math.Pi/4+m/2)) - 20
	large := small + 20 + 80*math.Tan(m) - 80
	if math.Abs(r.Measured.Rad()-m) > 1e-9 || math.Abs(r.LeftSmall.MM()-small) > 1e-6 ||
		math.Abs(r.LeftLarge.MM()-large) > 1e-6 || r.Turn != "further" {
		t.Error(r.Measured, r.LeftSmall.Decimal(), small, r.LeftLarge.Decimal(), large, r.Turn)
	}
	r, err = gauge.Correct(gauge.CorrectInput{
		Input: cone, LargeBall: length("40mm"), SmallBall: length("16mm"), LargeDepth: length("1mm"),
		SmallDepth: length("32mm"), SmallEnd: tapers.AtHeadstock,
	})
	if err != nil {
		t.Fatal(err)
	}
	m = math.Asin(12.0 / 19) // the middles come 40 - 21 apart
	mouth := 2 * (20/math.Cos(m) + 21*math.Tan(m))
	if math.Abs(r.Measured.Rad()-m) > 1e-9 || math.Abs(r.LeftLarge.MM()-(80-mouth)) > 1e-6 ||
		math.Abs(r.LeftSmall.MM()-(20-(mouth-80*math.Tan(m)))) > 1e-6 || r.Turn != "back" {
		t.Error(r.Measured, r.LeftLarge.Decimal(), r.LeftSmall.Decimal(), r.Turn)
	}
}

// What is said, word for word, in millimetres and in inches. Wanted 1 in 12 a side and
// cut 0.083: a is 4.7636 deg and m 4.7448; over 68 mm sin a is 5.6471 and sin m 5.6247, and over
// 2.8 in 0.2325 and 0.2316. The side is 60/cos a = 60.208 long, and 1/(2·sin a) is 6.02.
//
// In four bites of 60.208/4 = 15.052 the carriage goes 15 and the cross slide 15/12 = 1.25. Cut
// 0.08 a side m is 4.5739 deg, and 20·sin m 1.5949. What is measured between 2 and 13 is 28.32 at 15,
// where the last bite begins and 27.5 is wanted: 0.82, less 0.0068 for the readings 0.407 a side, 16
// lines of 0.025; 0.82 - 0.8 is left. The first bite is touched 13 along it where that is proud, 2.052
// before it ends, and 0.01 of gap over 15 is 0.01·cos² a/30 = 0.000331 of a radian.
func TestSaid(t *testing.T) {
	small := &shop.Compound{
		Scale:  shop.Scale{Zero: shop.Along, Step: units.Degrees(1)},
		Travel: length("20mm"), Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 40},
	}
	inch := &shop.Compound{
		Scale:  shop.Scale{Zero: shop.Across, Step: units.Degrees(1), Limit: angle("95deg")},
		Travel: length("3in"), Screw: &shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch},
	}
	long := &shop.Compound{
		Scale:  shop.Scale{Zero: shop.Along, Step: units.Degrees(1)},
		Travel: length("70mm"), Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 40},
	}
	cone := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")}
	flat := []gauge.Reading{at(5, 29.9), at(55, 21.6)}
	for _, tc := range []struct {
		name string
		in   gauge.CorrectInput
		want []string
	}{
		{
			"off", gauge.CorrectInput{Measured: flat, Compound: long, Cross: dial1, SetAt: angle("4.5deg")}, []string{
				"Indicator in the tool post at centre height, its plunger square to the axis on a straight bar that " +
					"runs true along it. With the slack of the compound's handle taken up it shows about 5.625 mm over 68" +
					" turns, 68 mm: what it really shows counts.",
				"Slack the swivel's bolts until it moves by a tap. Move the handle end 0.019 deg away from you: the " +
					"indicator from 5.625 mm to 5.647 mm, 0.022 mm more, over 68 turns of its handle, 68 mm. A point 100 " +
					"mm from the swivel's middle goes 0.033 mm. On the scale that is from 4.5 to 4.519 deg, less than its" +
					" marks of 1 deg tell. Tighten the bolts in turn, and look at the indicator again: that moves it.",
				"Tool in the post, tip at centre height. Wind the compound right in, then out 63.225 mm (63 turns + 9" +
					" div) and its slack, then in until the slide just moves. With the carriage bring the tip to the very" +
					" tailstock end of the taper, not beyond it, and lock it: only the compound feeds. Touch the turning" +
					" work there, and set the collars of both slides to 0. Cross slide out half a turn and its slack.",
				"Cross slide in to 7 div, then, when it has been measured, to 15 div, 0.375 mm a side, always in so " +
					"that its slack is out. For each: compound in, toward the headstock, 60.208 mm (60 turns + 8 div); " +
					"cross slide out again, compound back past 0 by its slack, to 0. That takes 0.75 mm off the diameter:" +
					" the socket goes 4.5 mm further on. It leaves 0.02 mm, which is 0.12 mm along.",
				"Measure at the same places again, each with the same edge of the anvils. What is left on the " +
					"diameter then comes off by the carriage: unlock it, move it 6 times as much toward the headstock, lock it, and " +
					"the same pass again, begun and ended 6.02 times as much sooner.",
			},
		},
		{
			"off, in bites", gauge.CorrectInput{
				Measured: []gauge.Reading{at(2, 30.4), at(13, 28.64)}, Compound: small, Cross: dial1, SetAt: angle("4.5deg"),
			}, []string{
				"Indicator in the tool post at centre height, its plunger square to the axis on a straight bar that " +
					"runs true along it. With the slack of the compound's handle taken up it shows about 1.595 mm over 20" +
					" turns, 20 mm: what it really shows counts.",
				"Slack the swivel's bolts until it moves by a tap. Move the handle end 0.19 deg away from you: the " +
					"indicator from 1.595 mm to 1.661 mm, 0.066 mm more, over 20 turns of its handle, 20 mm. A point 100 " +
					"mm from the swivel's middle goes 0.331 mm. On the scale that is from 4.5 to 4.69 deg, less than its " +
					"marks of 1 deg tell. Tighten the bolts in turn, and look at the indicator again: that moves it.",
				"Tool in the post, tip at centre height. Wind the compound right in, then out 18.075 mm (18 turns + 3" +
					" div) and its slack, then in until the slide just moves. Cross slide out, clear of all bites, then " +
					"with the carriage bring the tip to the very tailstock end of the taper, not beyond it, and lock it:" +
					" only the compound feeds. Touch the turning work there, and set the collars of both slides to 0. " +
					"Cross slide out half a turn and its slack.",
				"Cross slide in to 8 div, then, when it has been measured, to 16 div, 0.4 mm a side, always in so " +
					"that its slack is out. For each: compound in, toward the headstock, 15.052 mm (15 turns + 2 div); " +
					"cross slide out again, compound back past 0 by its slack, to 0. That takes 0.8 mm off the diameter: " +
					"the socket goes 4.8 mm further on. It leaves 0.02 mm, which is 0.12 mm along.",
				"Then the next bite, and so on as far as they were cut, of 4: cross slide out as after the touch, and" +
					" on by 1.25 mm (1 turn + 10 div), then unlock and move the carriage 15 mm toward the headstock, by " +
					"indicator or against a stop, lock it; the same cuts, each line as much farther out than in the bite before.",
				"Measure at the same places again, each with the same edge of the anvils. What is left then comes off" +
					" by the cross slide: half of it farther in, by eye between the dial's lines, and the same pass again" +
					" in every bite.",
			},
		},
		{
			"bore, inches", gauge.CorrectInput{
				Measured: flat, Compound: inch, Cross: dialIn, Internal: true, SmallEnd: tapers.AtHeadstock,
				SetAt: angle("85.5deg"), Care: gauge.Care{Unit: units.Inch},
			}, []string{
				"Indicator in the tool post at centre height, its plunger square to the axis on a straight bar that " +
					"runs true along it. With the slack of the compound's handle taken up it shows about 0.2316 in over " +
					"28 turns, 2.8 in: what it really shows counts.",
				"Slack the swivel's bolts until it moves by a tap. Move the handle end 0.019 deg toward you: the " +
					"indicator from 0.2316 in to 0.2325 in, 0.0009 in more, over 28 turns of its handle, 2.8 in. A point " +
					"4 in from the swivel's middle goes 0.0013 in. On the scale that is from 85.5 to 85.481 deg, less " +
					"than its marks of 1 deg tell. Tighten the bolts in turn, and look at the indicator again: that moves" +
					" it.",
			},
		},
		{
			"blue", gauge.CorrectInput{Blue: gauge.AtLarge, Compound: small}, []string{
				"Indicator in the tool post at centre height, its plunger square to the axis on a straight bar that " +
					"runs true along it. With the slack of the compound's handle taken up it shows about 1.661 mm over 20" +
					" turns, 20 mm: what it really shows counts.",
				"Slack the swivel's bolts until it moves by a tap. Move the handle end toward you a little: for each " +
					"0.01 mm of gap on the diameter at the end that does not touch 0.01897 deg, which is 0.0066 mm less " +
					"on the indicator. Tighten the bolts in turn, and look at the indicator again: that moves it.",
				"Tool in the post, tip at centre height. Wind the compound right in, then out 18.075 mm (18 turns + 3" +
					" div) and its slack, then in until the slide just moves. Cross slide out, clear of all bites, then " +
					"with the carriage bring the tip to the very tailstock end of the taper, not beyond it, and lock it:" +
					" only the compound feeds.",
				"Wind the compound in 11 mm (11 turns) and no farther, where most is left, the tip clear of the work, " +
					"1.511 mm short of where bite 2 begins, touch the turning work there, and set the collars of both " +
					"slides to 0. Cross slide out half a turn and its slack, compound back as far and its slack.",
				"Cross slide in to 0.05 mm, always in so that its slack is out; compound in, toward the headstock, to" +
					" 0 and on 4.052 mm (4 turns + 2 div); cross slide out again, compound back as after the touch, and so" +
					" on, 0.05 mm deeper at a time, until it cuts along the whole side.",
				"Then the next bite, and so on as far as they were cut, of 4: cross slide out as after the touch, and" +
					" on by 1.25 mm, then unlock and move the carriage 15 mm toward the headstock, by indicator or " +
					"against a stop, lock it; the same cuts, each line as much farther out than in the bite before.",
				"Blue it again.",
			},
		},
		{
			"between centres", gauge.CorrectInput{Measured: flat, Between: length("200mm")}, []string{
				"Slacken the tailstock's clamp just enough to move it, the barrel clamped where it is. Lock the " +
					"carriage, and set the indicator against your side of the barrel, close to its end, its hand to 0.",
				"Move the tailstock 0.066 mm toward you. That is until it is pushed in by as much.",
				"Clamp the tailstock, take up the centre with the barrel, and look again: clamping moves it. " +
					"Unlock the carriage.",
				"Tool in the post, tip at centre height. With the carriage bring the tip to the small end, where most" +
					" is left. Touch the turning work there, and set the cross slide's collar to 0. Cross slide out half " +
					"a turn and its slack, carriage to the very tailstock end of the taper, not beyond it.",
				"Cross slide in to 0.181 mm, then, when it has been measured, to 0.381 mm a side, always in so that " +
					"its slack is out. For each: feed with the carriage toward the headstock along the whole side; cross " +
					"slide out again, carriage back. That takes 0.764 mm off the diameter: the socket goes 4.584 mm " +
					"further on. It leaves 0.006 mm, which is 0.036 mm along.",
				"Measure at the same places again, each with the same edge of the anvils. What is left then comes off" +
					" by the cross slide: half of it farther in, and the same pass again.",
				"Afterwards bring the tailstock back to true: an indicator in the tool post shows the same all along a " +
					"parallel bar between the centres.",
			},
		},
		{
			"blue between centres, the small end at the headstock",
			gauge.CorrectInput{Blue: gauge.AtSmall, Between: length("200mm"), SmallEnd: tapers.AtHeadstock},
			[]string{
				"Slacken the tailstock's clamp just enough to move it, the barrel clamped where it is. Lock the " +
					"carriage, and set the indicator against your side of the barrel, close to its end, pushed in a " +
					"little, its hand to 0.",
				"Move the tailstock away from you a little: it comes out by as much.",
				"Clamp the tailstock, take up the centre with the barrel, and look again: clamping moves it. " +
					"Unlock the carriage.",
				"Tool in the post, tip at centre height. With the carriage bring the tip to the small end, where it " +
					"is proud now. Touch the turning work there, and set the cross slide's collar to 0. Cross slide out " +
					"half a turn and its slack, carriage to the very tailstock end of the taper, not beyond it.",
				"Cross slide in to 0.05 mm, always in so that its slack is out; feed with the carriage toward the " +
					"headstock along the whole side; cross slide out again, carriage back, and so on, 0.05 mm deeper at a" +
					" time, until it cuts along the whole side.",
				"Blue it again.",
				"Afterwards bring the tailstock back to true: an indicator in the tool post shows the same all along a " +
					"parallel bar between the centres.",
			},
		},
		{
			"untold", gauge.CorrectInput{Measured: []gauge.Reading{at(10, 29), at(20, 27.334)}}, []string{
				"Leave the slide as it stands for now: these readings do not tell whether the taper is out. It " +
					"differs by 0.004 mm over its length, give or take 0.06 mm. Measure 56 mm apart, as far as the taper lets: " +
					"that tells it to 0.011 mm over its length, 0.0051 deg.",
				"Tool in the post, tip at centre height. Wind the compound out until it has the whole side to go and " +
					"a little more, then in until the slide just moves. With the carriage bring the tip to the very " +
					"tailstock end of the taper, not beyond it, and lock it: only the compound feeds. Touch the turning " +
					"work there, and set the collars of both slides to 0. Cross slide out half a turn and its slack.",
				"Cross slide in to 0.113 mm, then, when it has been measured, to 0.313 mm a side, always in so that " +
					"its slack is out. For each: compound in, toward the headstock, along the whole side; cross slide out" +
					" again, compound back to where it began. That takes 0.625 mm off the diameter: the socket goes 3.75 " +
					"mm further on. It leaves 0.045 mm, which is 0.27 mm along.",
			},
		},
		{
			"within", gauge.CorrectInput{Measured: flat, Compound: long, Within: length("0.05mm")}, []string{
				"Slack the swivel's bolts until it moves by a tap. Move the handle end 0.019 deg away from you: the indicator " +
					"from 5.625 mm to 5.647 mm, 0.022 mm more, over 68 turns of its handle, 68 mm; or leave it, 0.05 mm is " +
					"allowed over its length. A point 100 mm from the swivel's middle goes 0.033 mm. Tighten the bolts in turn, " +
					"and look at the indicator again: that moves it.",
			},
		},
	} {
		tc.in.Input = cone
		r, err := gauge.Correct(tc.in)
		if err != nil {
			t.Error(tc.name, err)
			continue
		}
		var got []string
		for _, step := range r.Sheet().Procedure {
			got = append(got, step.In(tc.in.Unit))
		}
		if len(tc.want) == 1 { // the one that differs
			got = slices.DeleteFunc(got, func(s string) bool { return s != tc.want[0] })
		}
		if !slices.Equal(got, tc.want) {
			t.Errorf("%s:\n%s", tc.name, strings.Join(got, "\n"))
		}
	}
}

// What is refused, and what is warned of.
func TestCorrectRefusals(t *testing.T) {
	cone := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")}
	flat := []gauge.Reading{at(5, 29.9), at(55, 21.6)}
	across := &shop.Compound{Scale: shop.Scale{Zero: shop.Across, Step: units.Degrees(1)}}
	for _, tc := range []struct {
		in   gauge.CorrectInput
		want string
	}{
		{gauge.CorrectInput{Measured: flat, Blue: gauge.AtLarge}, "measured: measured and blue: give one of them"},
		{gauge.CorrectInput{Gap: length("1mm"), StickOut: length("1mm")}, "blue: is needed with gap: the end that touches"},
		{gauge.CorrectInput{Blue: gauge.AtLarge, Gap: length("-1mm")}, "gap: -1 mm: cannot be negative"},
		{
			gauge.CorrectInput{StickOut: length("60mm")},
			"stick-out: 60 mm: less than the 60 mm that the taper is long: it is counted from where it is home",
		},
		{gauge.CorrectInput{Roll: length("10mm"), Over: length("50mm")}, "height: is needed with roll and over"},
		{
			gauge.CorrectInput{
				Roll: length("10mm"), Height: length("20mm"), Over: length("50mm"), OverRaised: length("80mm"), Internal: true,
				SmallEnd: tapers.AtHeadstock,
			},
			"over: 50 mm: rolls measure an outside, not a bore",
		},
		{
			gauge.CorrectInput{LargeBall: length("40mm"), SmallEnd: tapers.AtHeadstock},
			"small-ball: is needed with large-ball",
		},
		{
			gauge.CorrectInput{
				LargeBall: length("40mm"), SmallBall: length("40mm"), LargeDepth: length("0mm"), SmallDepth: length("9mm"),
				SmallEnd: tapers.AtHeadstock,
			},
			"large-ball: 40 mm: must be above 40 mm, the small one",
		},
		{
			gauge.CorrectInput{Measured: flat, Internal: true},
			"small-end: a bore needs it said which end is small: write tailstock or headstock",
		},
		{
			gauge.CorrectInput{Measured: flat, Internal: true, SmallEnd: tapers.AtHeadstock, Between: length("200mm")},
			"between: 200 mm: a bore is not cut between centres",
		},
		{
			gauge.CorrectInput{Measured: flat, SetAt: angle("5deg"), Between: length("200mm")},
			"set-at: 5 deg: is of the compound, and between of the tailstock: give one of them",
		},
		{gauge.CorrectInput{Measured: flat, SetAt: angle("181deg")}, "set-at: 181 deg: write 0 deg to 180 deg"},
		{
			gauge.CorrectInput{Measured: flat, SetAt: angle("4.7deg"), Compound: across},
			"set-at: 4.7 deg: what was cut stands near 94.7 deg on this scale, whose zero is with the slide square to the " +
				"axis, handle toward you: write what the scale reads now",
		},
		{
			gauge.CorrectInput{Blue: gauge.AtLarge, SetAt: angle("4.7deg"), Compound: across},
			"set-at: 4.7 deg: this taper stands near 94.8 deg on this scale, whose zero is with the slide square to the " +
				"axis, handle toward you: write what the scale reads now",
		},
		{
			gauge.CorrectInput{Measured: flat, SmallEnd: "tail", Handle: "back", Within: length("0mm")},
			"small-end: tail: write tailstock or headstock\nhandle: back: write normal or reversed\n" +
				"within: 0 mm: must be above 0",
		},
	} {
		tc.in.Input = cone
		if _, err := gauge.Correct(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
	_, err := gauge.Correct(gauge.CorrectInput{
		Input: tapers.Input{HalfAngle: angle("5deg")}, Blue: gauge.AtLarge, Gap: length("0.02mm"),
	})
	const want = "gap: what a gap is worth needs the taper's sizes: two of large, small and length beside the slope"
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	over, err := gauge.Correct(gauge.CorrectInput{
		Input: cone, Measured: flat, Between: length("200mm"), Tailstock: &shop.Tailstock{Toward: length("8mm")},
	})
	const no = "between: 200 mm: the tailstock moves only 8 mm that way, and this taper takes 16.61 mm: use the compound"
	if err != nil || over.Fails().Error() != no {
		t.Error(over.Fails(), err)
	}
	for code, in := range map[string]gauge.CorrectInput{
		"off-scale": {
			Measured: flat, SetAt: angle("4.7deg"),
			Compound: &shop.Compound{Scale: shop.Scale{Step: units.Degrees(1), Limit: angle("4.71deg")}},
		},
		"too-fine": {Measured: flat, Compound: &shop.Compound{Travel: length("10mm")}},
	} {
		if in.Input = cone; code == "too-fine" { // of no length, so that it is in no bites
			in.Input = tapers.Input{HalfAngle: angle("4.763642")}
		}
		if r, err := gauge.Correct(in); err != nil || !warned(r, code) {
			t.Errorf("%s: %v %v", code, r.Warnings, err)
		}
	}
}

// A scale that was read, against what was cut. 60 deg with the slide the other way round
// stands 120 from a zero along the axis, which no scale up to 60 shows; the usual way
// round it stands at 60. tan m is 17.4/10 there: 60.1 deg. The cone's 4.764 cut as atan
// 0.083 = 4.7447 is not what a scale claims that reads 4, 0.74 deg less.
func TestScaleAgainstWork(t *testing.T) {
	upTo60 := &shop.Compound{Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(0.5), Limit: angle("60deg")}}
	steep := gauge.CorrectInput{
		Input: tapers.Input{HalfAngle: angle("60deg")}, Measured: []gauge.Reading{at(0, 30), at(5, 12.6)}, Compound: upTo60,
	}
	for _, read := range []string{"60deg", "119.9deg"} {
		steep.SetAt = angle(read)
		want := "set-at: " + strings.Replace(read, "deg", " deg", 1) + ": what was cut stands 119.9 deg from the zero of " +
			"this scale, which ends at 60 deg: leave set-at off, or write handle normal where the handle is on the usual side"
		if _, err := gauge.Correct(steep); err == nil || err.Error() != want {
			t.Errorf("got  %v\nwant %s", err, want)
		}
	}
	steep.SetAt, steep.Handle = angle("60deg"), "normal"
	if r, err := gauge.Correct(steep); err != nil || r.Reading == nil || r.Reading.String() == "" {
		t.Error(err)
	}
	for read, apart := range map[string]string{"4deg": "0.74 deg", "5.5deg": "0.76 deg", "4.75deg": "", "4.8deg": ""} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
			Measured: []gauge.Reading{at(5, 29.9), at(55, 21.6)}, Compound: upTo60, SetAt: angle(read),
		})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, w := range r.Warnings {
			if w.Code == "scale-apart" {
				said = say.Text(w.Text).In(units.MM)
			}
		}
		if (said == "") != (apart == "") || !strings.Contains(said, apart) {
			t.Errorf("read %s: %q", read, said)
		}
	}
}

// What is said of the indicator is the difference of what is shown: 6.002 and 6.062 of 73
// turns are 0.06 apart. Over 75, 6.167 and 6.228 are 0.061 apart, where exactly it is
// 75·(sin 4.7636 - sin 4.7163) = 0.0617.
func TestShownDifference(t *testing.T) {
	in := gauge.CorrectInput{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		Measured: []gauge.Reading{at(0, 30), at(60, 20.1)},
		Compound: &shop.Compound{Travel: length("75mm"), Scale: shop.Scale{Step: units.Degrees(0.5)}, Screw: dial1},
	}
	r, err := gauge.Correct(in)
	if err != nil {
		t.Fatal(err)
	}
	const want = "the indicator from 6.002 mm to 6.062 mm, 0.06 mm more, over 73 turns"
	if got := r.Setting.In(units.MM); !strings.Contains(got, want) {
		t.Error(got)
	}
	for _, unit := range []units.Unit{units.MM, units.Inch} {
		for small := 19900; small < 20100; small += 7 {
			in.Unit, in.Measured[1] = unit, at(60, float64(small)/1000)
			r, err := gauge.Correct(in)
			if err != nil {
				t.Fatal(err)
			}
			said := regexp.MustCompile(`from ([0-9.]+) \w+ to ([0-9.]+) \w+, ([0-9.]+) \w+ (more|less)`).
				FindStringSubmatch(r.Setting.In(unit))
			if said == nil {
				continue
			}
			var n [3]float64
			for i := range n {
				n[i], _ = strconv.ParseFloat(said[i+1], 64)
			}
			if math.Abs(math.Abs(n[0]-n[1])-n[2]) > 1e-9 {
				t.Errorf("%v", said)
			}
		}
	}
}

// Between centres whether the tailstock moves so far does not depend on the readings:
// 200·sin 4.7636 = 16.61 of 9.
func TestTailstockShort(t *testing.T) {
	for _, small := range []float64{20, 20.1, 19.9} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
			Measured: []gauge.Reading{at(0, 30), at(60, small)}, Between: length("200mm"),
			Tailstock: &shop.Tailstock{Toward: length("9mm")},
		})
		if err != nil || !strings.Contains(r.Fails().Error(), "moves only 9 mm that way, and this taper takes 16.61 mm") {
			t.Error(small, r.Fails(), err)
		}
	}
}

// Places that are off, by hand. A diameter that falls by 0.166 a mm is off by 0.0166
// where its place is by 0.1: with 0.005 of the reading 0.0216, which over 60 of
// readings 50 apart is 2·0.0216·60/50 = 0.05184, and as far apart as the taper lets, 56, 0.0463, which
// is 0.0463·cos²a/(2·60), 0.0219 deg. A taper that may be out by 0.02 is then told by no micrometer.
// A place beyond the taper is refused.
func TestPlacesAreOff(t *testing.T) {
	in := gauge.CorrectInput{
		Input:    tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("60mm")},
		Measured: []gauge.Reading{at(5, 29.9), at(55, 21.6)}, PlaceError: length("0.1mm"),
	}
	r, err := gauge.Correct(in)
	if err != nil || r.ToldTo.Fixed(units.MM, 5, units.Nearest) != "0.05184" || r.Verdict != "untold" {
		t.Error(r.ToldTo.Decimal(), r.Verdict, err)
	}
	const told = "Leave the slide as it stands for now: these readings do not tell whether the taper is out. It differs " +
		"by 0.04 mm over its length, give or take 0.052 mm. Places as far apart as the taper lets show no less than 0.047 " +
		"mm over its length, 0.0219 deg: blue it against a gauge, or measure it over rolls."
	if got := r.Sheet().Procedure[0].String(); got != told {
		t.Error(got)
	}
	in.PlaceError = nil
	r, err = gauge.Correct(in)
	if err != nil {
		t.Fatal(err)
	}
	const note = "A place that is 0.1 mm off counts like a diameter that is 0.017 mm off: say how far they may be with " +
		"place-error, or measure over rolls."
	if notes := r.Sheet().Notes; len(notes) == 0 || notes[0].String() != note {
		t.Error(notes)
	}
	in.Measured = []gauge.Reading{at(5, 29.9), at(61, 20.604)}
	const beyond = "measured: 61 mm: is not on the taper, which is 60 mm long: count the places from one of its ends, " +
		"and leave out what is not on it"
	if _, err = gauge.Correct(in); err == nil || err.Error() != beyond {
		t.Error(err)
	}
	if _, err := gauge.Correct(gauge.CorrectInput{
		Input: in.Input, Blue: gauge.AtLarge, PlaceError: length("0.1mm"),
	}); err == nil || err.Error() != "measured: is needed with place-error" {
		t.Error(err)
	}
}

// Whatever is asked, it is answered or refused: no figure is no number, and every sheet
// can be worded.
func TestNothingBreaks(t *testing.T) {
	answered := 0
	rapid.Check(t, func(rt *rapid.T) {
		maybe := func(name string, from, to int) *units.Length {
			if !rapid.Bool().Draw(rt, name+" given") {
				return nil
			}
			return new(units.FromFloat(hundredths(rt, name, from, to)))
		}
		in := gauge.CorrectInput{
			Input:    tapers.Input{HalfAngle: new(units.Degrees(hundredths(rt, "half", 1, 8999)))},
			StickOut: maybe("stick-out", -500, 500), Within: maybe("within", 1, 50), Between: maybe("between", 1, 90000),
			SmallEnd: rapid.SampledFrom([]tapers.End{"", tapers.AtTailstock, tapers.AtHeadstock}).Draw(rt, "end"),
			Handle:   rapid.SampledFrom([]fouling.Handle{"", fouling.Normal, fouling.Reversed}).Draw(rt, "handle"),
			Internal: rapid.IntRange(0, 3).Draw(rt, "bore") == 0,
			Care: gauge.Care{
				Unit: rapid.SampledFrom([]units.Unit{units.MM, units.Inch}).Draw(rt, "unit"), ReadingError: maybe("each", 0, 100),
			},
		}
		if l := maybe("length", 1, 20000); l != nil {
			in.Length, in.Small = l, new(units.FromFloat(hundredths(rt, "small", 0, 5000)))
		}
		switch rapid.IntRange(0, 4).Draw(rt, "way") {
		case 0, 1:
			for range rapid.IntRange(2, 4).Draw(rt, "readings") {
				in.Measured = append(in.Measured, at(hundredths(rt, "z", -100, 10000), hundredths(rt, "dia", 0, 20000)))
			}
			in.PlaceError = maybe("place", 0, 100)
		case 2:
			in.Blue, in.Gap = rapid.SampledFrom(gauge.Ends).Draw(rt, "blue"), maybe("gap", 0, 300)
		case 3:
			in.Roll, in.Height = length("10mm"), length("20mm")
			in.Over = new(units.FromFloat(hundredths(rt, "over", 0, 9000)))
			in.OverRaised = new(in.Over.Plus(units.FromFloat(hundredths(rt, "raised", 0, 9000))))
		}
		if rapid.Bool().Draw(rt, "a compound") {
			in.Compound = &shop.Compound{
				Scale: shop.Scale{
					Zero: rapid.SampledFrom([]shop.Zero{shop.Along, shop.Across}).Draw(rt, "zero"),
					Step: units.Degrees(0.5), BackAfter90: rapid.Bool().Draw(rt, "back"),
				},
				Travel: maybe("travel", 1, 20000),
			}
			if rapid.Bool().Draw(rt, "limited") {
				in.Compound.Scale.Limit = new(units.Degrees(hundredths(rt, "limit", 1000, 18000)))
			}
			if lead := maybe("lead", 50, 500); lead != nil {
				in.Compound.Screw = &shop.Dial{Lead: *lead, Divisions: 40}
			}
			if rapid.Bool().Draw(rt, "set") {
				in.SetAt = new(units.Degrees(hundredths(rt, "set at", 0, 18000)))
			}
		}
		if rapid.Bool().Draw(rt, "a dial") {
			in.Cross = dial1
		}
		r, err := gauge.Correct(in)
		if err != nil {
			return
		}
		answered++
		if _, err := json.Marshal(r); err != nil {
			rt.Fatal(err)
		}
		for _, unit := range []units.Unit{units.MM, units.Inch} {
			page, err := render.Bytes(r, render.Look{Format: render.Table, Units: unit, Working: true})
			if err != nil || strings.Contains(string(page), "NaN") || strings.Contains(string(page), "Inf") {
				rt.Fatal(err, string(page))
			}
		}
		if r.TakeOff != nil && (r.Infeed.Sign() < 0 || r.Leaves != nil && r.Leaves.Sign() < 0) {
			rt.Fatalf("wound in %v, leaves %v", r.Infeed.Decimal(), r.Leaves.Decimal())
		}
	})
	if answered == 0 {
		t.Error("nothing was answered")
	}
}
