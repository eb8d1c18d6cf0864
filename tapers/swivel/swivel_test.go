package swivel_test

import (
	"fmt"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers/swivel"
)

// on returns a compound with a scale along the axis in half degrees, a handle of 1 mm
// a turn and 75 mm of travel.
func on() *shop.Compound {
	return machine{zero: "along", step: "0.5deg", travel: "75mm", lead: "1mm"}.compound()
}

// What an indicator shows and over what, by hand. In whole turns near 20 mm or 1 in,
// no further than the slide and a plunger of 10 mm, or 1 in, go.
//
//   - 20·sin 30 = 10, which a plunger of 10 mm takes;
//   - 3 mm a turn: 6.67 turns are 7, and 21·sin 10 = 3.64661;
//   - 45 deg: 10.005/sin 45 = 14.15, so 14 turns, 14·sin 45 = 9.899495;
//   - 45.1 deg: along the axis, 10.005/cos 45.1 = 14.17, and 14·cos 45.1 = 9.882202;
//   - 60 deg: 20·cos 60 = 10;
//   - 0.1 in a turn: 10 turns are 1 in, sin 4.763642 = 0.083045 in = 2.109355 mm;
//   - 0.1 in a turn, indicator in mm: 20/2.54 = 7.87, 8 turns, 20.32·sin 30 = 10.16,
//     too far: 10.005/sin 30 = 20.01, 7 turns, 17.78·sin 30 = 8.89;
//   - 1 mm a turn, indicator in inches: 25.4 turns are 25, 25·sin 4.763642 = 2.076137;
//   - a screw that is not known: the travel as it stands, whole millimetres where it is
//     cut short;
//   - a turn that is longer than the slide: what the slide goes.
func TestDial(t *testing.T) {
	for _, tc := range []struct {
		half, lead, travel string
		unit               units.Unit
		want               string
	}{
		{"30", "1mm", "75mm", units.MM, "cross 20 turns 20 mm 10.000000"},
		{"10", "3mm", "110mm", units.MM, "cross 7 turns 21 mm 3.646612"},
		{"45", "1mm", "75mm", units.MM, "cross 14 turns 14 mm 9.899495"},
		{"45.1", "1mm", "75mm", units.MM, "axis 14 turns 14 mm 9.882202"},
		{"60", "1mm", "75mm", units.MM, "axis 20 turns 20 mm 10.000000"},
		{"4.763642", "0.1in", "2.5in", units.Inch, "cross 10 turns 25.4 mm 2.109355"},
		{"30", "0.1in", "2.5in", units.MM, "cross 7 turns 17.78 mm 8.890000"},
		{"4.763642", "1mm", "75mm", units.Inch, "cross 25 turns 25 mm 2.076137"},
		{"30", "", "75mm", units.MM, "cross 0 turns 20 mm 10.000000"},
		{"45", "", "75mm", units.MM, "cross 0 turns 14 mm 9.899495"},
		{"30", "", "12mm", units.MM, "cross 0 turns 12 mm 6.000000"},
		{"4.763642", "", "2.5in", units.Inch, "cross 0 turns 25.4 mm 2.109355"},
		{"30", "25mm", "12mm", units.MM, "cross 0 turns 12 mm 6.000000"},
	} {
		c := machine{zero: "along", step: "1deg", travel: tc.travel, lead: tc.lead}.compound()
		d := swivel.Input{HalfAngle: *angle(tc.half), Compound: c, Tools: swivel.Tools{Unit: tc.unit}}.Dial()
		exact := d.Exact.Fixed(units.MM, 6, units.Nearest)
		got := fmt.Sprintf("%s %d turns %s %s", d.Along, d.Turns, mm(say.Of(d.Travel)), exact)
		if got != tc.want {
			t.Errorf("%s deg, %s a turn, %s: got %s, by hand %s", tc.half, tc.lead, tc.travel, got, tc.want)
		}
	}
	// Nothing known of the compound: 20 mm. 0.01 deg more at 30 deg is 20·cos 30·π/18000,
	// and as much at 60 along the axis.
	for _, half := range []string{"30", "60"} {
		d := swivel.Input{HalfAngle: *angle(half)}.Dial()
		if got := d.Per.Fixed(units.MM, 6, units.Nearest); got != "0.003023" || d.Travel.MM() != 20 {
			t.Errorf("%s deg: 0.01 deg is %s over %v", half, got, d.Travel.MM())
		}
	}
}

// mm words a sentence for a page in mm.
func mm(text say.Text) string { return text.In(units.MM) }

// What each way may leave 40 mm on, at 14.25 deg on marks of half a degree:
//
//   - the mark of 14 or 14.5: 80·(tan 14.5 - tan 14.25) = 0.3720;
//   - 14.25 between them, told to an eighth of a step: 80·(tan 14.3125 - tan 14.25) = 0.0929;
//   - 20·sin 14.25 = 4.9231, read as 4.92, is 14.24094, and half of 0.01 more or less is
//     0.01478: 80·(tan 14.25 - tan 14.22616) = 0.0354;
//   - with a turn left at either end 73·sin 14.25 = 17.9692, read as 17.97, 14.25067 and
//     0.00405: 80·(tan 14.25472 - tan 14.25) = 0.0070;
//   - 100·sin 14.25 = 24.6153 on blocks of 24.615, 14.24981, and 0.002 over 73 mm, 0.00157:
//     0.0026.
//
// The least trouble that keeps what is asked is taken.
func TestLeastTrouble(t *testing.T) {
	in := swivel.Input{HalfAngle: *angle("14.25"), Grows: true, Compound: on(), Tools: machine{bar: "100mm"}.tools()}
	for _, tc := range []struct{ within, want string }{
		{"0.38", "mark 0.3720 true"},
		{"0.37", "between-marks 0.0929 true"},
		{"0.09", "indicator 0.0354 true"},
		{"0.03", "indicator 0.0070 true"},
		{"0.005", "sine-bar 0.0026 true"},
		{"0.002", "sine-bar 0.0026 false"},
	} {
		f := swivel.Set(in, swivel.Asked{Within: units.MustLength(tc.within), Length: length("40mm")})
		if got := fmt.Sprint(f.Method, " ", f.FarEnd.Fixed(units.MM, 4, units.Nearest), " ", f.Kept); got != tc.want {
			t.Errorf("within %s: %s, by hand %s", tc.within, got, tc.want)
		}
		if len(f.Ways) != 5 {
			t.Errorf("%d ways", len(f.Ways))
		}
		if not := f.Choice().Not; (len(not) == 0) != (tc.within == "0.38") || f.SetHalfAngle != f.Choice().HalfAngle {
			t.Errorf("within %s: turned down %v", tc.within, not)
		}
	}
}

// A slope without sizes is judged over 100 mm of its side, and 4 in: on a mark 0.1 deg off
// at 5 deg, 200·cos 4.9·(tan 5 - tan 4.9) = 0.3504 mm, and 203.2/200 of it.
func TestSlopeAlone(t *testing.T) {
	for unit, want := range map[units.Unit]string{units.MM: "0.3504", units.Inch: "0.3560"} {
		in := swivel.Input{HalfAngle: *angle("4.9"), Compound: on(), Tools: swivel.Tools{Unit: unit}}
		f := swivel.Set(in, swivel.Asked{Within: units.MustLength("1mm")})
		if got := f.FarEnd.Fixed(units.MM, 4, units.Nearest); got != want || f.DiameterError != nil {
			t.Errorf("%v: %s, by hand %s", unit, got, want)
		}
	}
}

// The sentences, as they are read aloud.
func TestSentences(t *testing.T) {
	for _, tc := range []struct {
		in     swivel.Input
		within string
		unit   units.Unit
		want   string
	}{
		{
			swivel.Input{HalfAngle: *angle("4.9"), Compound: on()},
			"1mm", units.MM,
			"from zero (slide along the axis, handle toward the tailstock) move the handle end away from you to 5 deg on " +
				"the scale; exact 4.9 deg",
		},
		{
			swivel.Input{HalfAngle: *angle("5.13"), Grows: true, Compound: on()},
			"0.3mm", units.MM,
			"from zero (slide along the axis, handle toward the tailstock) move the handle end toward you to 5.125 deg on " +
				"the scale, standing at 5.125, a quarter past 5 toward 5.5; exact 5.13 deg",
		},
		{
			swivel.Input{HalfAngle: *angle("5"), Compound: machines[6].compound()},
			"1mm", units.MM,
			"from zero (slide square to the axis, handle toward you) move the handle end toward the tailstock, past 90 and " +
				"on away from you, to 95 deg on the scale; exact 95 deg",
		},
		{
			swivel.Input{HalfAngle: *angle("5"), Grows: true, Compound: machines[6].compound()},
			"1mm", units.MM,
			"from zero (slide square to the axis, handle toward you) move the handle end toward the tailstock to 85 deg on " +
				"the scale; exact 85 deg",
		},
		{
			swivel.Input{HalfAngle: *angle("5"), Compound: machines[7].compound()},
			"1mm", units.MM,
			"from zero (slide square to the axis, handle toward you) move the handle end toward the tailstock, past 90 and " +
				"on away from you, to 85 deg on the scale, 95 from zero, since it counts back past 90; exact 85 deg",
		},
		{
			swivel.Input{HalfAngle: *angle("60"), Reversed: true, Compound: on()},
			"1mm", units.MM,
			"from zero (slide along the axis, handle toward the tailstock) move the handle end toward you, past 90 and on " +
				"toward the headstock, to 120 deg on the scale; exact 120 deg",
		},
		{
			swivel.Input{HalfAngle: *angle("60"), Reversed: true, Compound: machines[3].compound()},
			"1mm", units.MM,
			"from zero (slide along the axis, handle toward the tailstock) move the handle end toward you, past 90 and on " +
				"toward the headstock, past the end of the scale at 60 deg, 120 from zero in all. Then by indicator: 10 mm, its " +
				"plunger along the axis, while the slide goes 20 mm (20 turns of its handle); exact 10 mm",
		},
		{
			swivel.Input{
				HalfAngle: *angle("4.763642"), Compound: machines[1].compound(), Grows: true,
				Tools: swivel.Tools{Unit: units.Inch},
			},
			"0.1mm", units.Inch,
			"from zero (slide square to the axis, handle toward you) move the handle end toward the tailstock to about 85.2 " +
				"deg on the scale; exact 85.236 deg. Then by indicator: 0.083 in, its plunger square to the axis, while the " +
				"slide goes 1 in (10 turns of its handle); exact 0.083 in",
		},
		{
			swivel.Input{HalfAngle: *angle("70.1"), Grows: true, Compound: machines[3].compound()},
			"1mm", units.MM,
			"from zero (slide along the axis, handle toward the tailstock) move the handle end toward you, past the end of " +
				"the scale at 60 deg, 70.1 from zero in all. Then by indicator: 6.81 mm, its plunger along the axis, while the " +
				"slide goes 20 mm (20 turns of its handle); exact 6.808 mm",
		},
		{
			swivel.Input{HalfAngle: *angle("4.763642")},
			"0.1mm", units.MM,
			"from along the axis, handle toward the tailstock, move the handle end away from you by 4.764 deg. Then by " +
				"indicator: 1.66 mm, its plunger square to the axis, while the slide goes 20 mm; exact 1.661 mm",
		},
		{
			swivel.Input{HalfAngle: *angle("60"), Reversed: true},
			"1mm", units.MM,
			"set the slide 60 deg from along the axis, counter-clockwise as seen from above, handle toward the operator. " +
				"Then by indicator: 10 mm, its plunger along the axis, while the slide goes 20 mm; exact 10 mm",
		},
		{
			swivel.Input{HalfAngle: *angle("1.4307"), Compound: on(), Tools: machine{bar: "100mm"}.tools()},
			"0.01mm", units.MM,
			"from zero (slide along the axis, handle toward the tailstock) move the handle end away from you to about 1.4 " +
				"deg on the scale; exact 1.431 deg. Then along the sine bar of 100 mm on 2.5 mm of blocks, 1.2 + 1.3 mm, " +
				"under its headstock-side roll: an indicator stands still along it while the slide goes 73 mm",
		},
	} {
		f := swivel.Set(tc.in, swivel.Asked{Within: units.MustLength(tc.within)})
		if got := f.Setting.In(tc.unit); got != tc.want {
			t.Errorf("%s\ngot  %s\nwant %s", tc.in.HalfAngle, got, tc.want)
		}
		for _, how := range f.How() {
			if text := how.In(tc.unit); !strings.HasSuffix(text, ".") || strings.Contains(text, "  ") ||
				tc.unit == units.Inch && strings.Contains(text, " mm") {
				t.Error(text)
			}
		}
	}
}

// Slack is taken up the way that the travel is then wound, on the short page and on the whole one, however much of
// the slide that takes: the hand is set after it.
func TestSlackTheWayItIsWound(t *testing.T) {
	for travel, far := range map[string]string{"20mm": "right out", "100mm": "well out"} {
		in := on()
		in.Travel = length(travel)
		how := say.Join(swivel.Set(swivel.Input{HalfAngle: *angle("9.3"), Compound: in},
			swivel.Asked{Within: units.MustLength("0.1mm"), Length: length("60mm")}).How(), " ")
		brief, whole := how.Brief().In(units.MM), mm(how.Whole())
		if want := "Compound " + far + ", in by its slack, hand to 0, wind in "; !strings.Contains(brief, want) {
			t.Errorf("%q is not in %s", want, brief)
		}
		want := "Wind the compound " + far + ", then in until its slack is out, set the hand to 0, wind on in "
		if !strings.Contains(whole, want) {
			t.Errorf("%q is not in %s", want, whole)
		}
	}
}

// An angle so near a cylinder or a flat face that the indicator does not tell it from one
// is set to what is exact: the slide is never said to stand at 0 or at 90 deg.
func TestNearlyFlat(t *testing.T) {
	for _, half := range []string{"0.0001", "0.005", "89.995", "89.9999"} {
		f := swivel.Set(swivel.Input{HalfAngle: *angle(half), Compound: on()}, swivel.Asked{Within: units.MustLength("9mm")})
		if a := f.SetHalfAngle.Deg(); f.Method != swivel.ByIndicator || a <= 0 || a >= 90 {
			t.Errorf("%s deg: set to %v by %s", half, a, f.Method)
		}
	}
}

// What proves a mark is what the slide shows on that mark: at 5 deg 20·sin 5 = 1.7431,
// whatever is exact; at the exact 4.763642 deg it would be 1.661.
func TestProofOfTheMark(t *testing.T) {
	in := swivel.Input{HalfAngle: *angle("4.763642"), Compound: on()}
	f := swivel.Set(in, swivel.Asked{Within: units.MustLength("1mm"), Length: length("60mm")})
	how := mm(say.Join(f.Choice().How(), " "))
	if f.Method != swivel.ByMark || !strings.Contains(how, "by indicator: 1.74 mm,") {
		t.Errorf("%s: %s", f.Method, how)
	}
	if got := f.IndicatorReading.Fixed(units.MM, 3, units.Nearest); got != "1.661" {
		t.Errorf("exact %s", got)
	}
}

// Without a dial a travel is told by calliper to 0.1 mm: 73·sin 4.763642 = 6.0623, read
// as 6.06 to 0.005, over 73 ± 0.1: asin(6.055/73.1) = 4.75132 and asin(6.065/72.9) =
// 4.77235 are 0.01232 and 0.00871 off, 120·(tan 4.763642 - tan 4.75132) = 0.0260 mm over
// 60. That does not keep 0.02, and the sine bar is taken. One of which no travel is known
// is wound the usual 20 mm under it.
func TestWithoutADial(t *testing.T) {
	for travel, want := range map[string]string{"75mm": "73", "": "20"} {
		in := swivel.Input{HalfAngle: *angle("4.763642"), Compound: on(), Tools: machine{bar: "100mm"}.tools()}
		in.Compound.Screw = nil
		if travel == "" {
			in.Compound.Travel = nil
		}
		f := swivel.Set(in, swivel.Asked{Within: units.MustLength("0.02mm"), Length: length("60mm")})
		if got := f.Choice().Dial.Travel.Decimal().String(); f.Method != swivel.BySineBar || got != want {
			t.Errorf("travel %q: %s over %s", travel, f.Method, got)
		}
		for _, w := range f.Ways {
			if travel == "75mm" && w.Travel != nil && w.Travel.MM() == 73 && w.Method == swivel.ByIndicator {
				if got := w.FarEnd.Fixed(units.MM, 4, units.Nearest); got != "0.0260" {
					t.Errorf("by indicator %s", got)
				}
			}
		}
	}
}

// What no indicator tells is said with its decimals and with a warning; a warning of the
// scale names the way that is taken.
func TestWarnsOfWhatIsDone(t *testing.T) {
	var r sheet.Remarks
	asked := swivel.Asked{Within: units.MustLength("1mm")}
	f := swivel.Set(swivel.Input{HalfAngle: *angle("0.001"), Compound: on()}, asked)
	f.Tell(&r)
	const about = "to about 0.001 deg on the scale; exact 0.001 deg. Then by indicator: "
	if text := mm(f.Setting); !strings.Contains(text, about) || strings.Contains(text, ": 0 mm") ||
		len(r.Warnings) == 0 {
		t.Error(text, r.Warnings)
	}
	r = sheet.Remarks{}
	in := swivel.Input{HalfAngle: *angle("85"), Grows: true, Compound: machines[3].compound()}
	in.Tools = machine{bar: "100mm"}.tools()
	f = swivel.Set(in, swivel.Asked{Within: units.MustLength("0.001mm"), Length: length("20mm")})
	f.Tell(&r)
	if got := mm(r.Warnings[0].Text); f.Method != swivel.BySineBar || !strings.HasSuffix(got, ": set it by sine bar") {
		t.Error(f.Method, got)
	}
}

// Nothing keeps what is asked: a no where it was asked, a warning else, and nothing
// where whoever asks judges it.
func TestNothingKeeps(t *testing.T) {
	in := swivel.Input{HalfAngle: *angle("4.763642"), Compound: machines[2].compound()}
	asked := swivel.Asked{Within: units.MustLength("0.001mm"), Length: length("60mm")}
	tell := func(a swivel.Asked) sheet.Remarks {
		var r sheet.Remarks
		f := swivel.Set(in, a)
		f.Tell(&r)
		return r
	}
	const why = "nothing here keeps 0.001 mm: by indicator the far end may be out by 0.029 mm"
	r := tell(asked)
	if got := mm(r.Warnings[1].Text); got != why+"; cut it, measure it and correct the setting" || len(r.Fails()) > 0 {
		t.Error(got, r.Fails())
	}
	if got := mm(r.Warnings[0].Text); got != "whether a sine bar sets it nearer was not checked (sine_bar, gauge_blocks)" {
		t.Error(got)
	}
	asked.Given = true
	if got := tell(asked).Fails().Error(); got != "within: 0.001 mm: "+why {
		t.Error(got)
	}
	asked.Judged = true
	if r := tell(asked); len(r.Fails()) > 0 || len(r.Warnings) > 0 {
		t.Error(r)
	}
}
