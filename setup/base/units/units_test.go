package units_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"setover/setup/base/units"
)

// full returns a length as it is written to be read again.
func full(l units.Length) string {
	text, _ := l.MarshalText()
	return string(text)
}

// What is read as a length, and how much it is in mm. The inch is 25.4 mm
// (ISO 31-1); the rest is arithmetic.
func TestParseLength(t *testing.T) {
	for _, tc := range []struct {
		text string
		bare units.Unit
		want string
	}{
		{"12.5", units.MM, "12.5 mm"},
		{"12.5", units.Inch, "317.5 mm"},
		{"12.5mm", units.Inch, "12.5 mm"},
		{" 12.5 mm ", units.MM, "12.5 mm"},
		{"1.2cm", units.MM, "12 mm"},
		{"25um", units.MM, "0.025 mm"},
		{"25µm", units.MM, "0.025 mm"}, // U+00B5, the micro sign
		{"25μm", units.MM, "0.025 mm"}, // U+03BC, the Greek letter
		{"0.4921in", units.MM, "12.49934 mm"},
		{`0.5"`, units.MM, "12.7 mm"},
		{"0.5″", units.MM, "12.7 mm"},
		{"3/8in", units.MM, "9.525 mm"},
		{`3/8"`, units.MM, "9.525 mm"},
		{"3/8", units.Inch, "9.525 mm"},
		{"1-3/8in", units.MM, "34.925 mm"},
		{"1 3/8 in", units.MM, "34.925 mm"},
		{"1 3/8", units.Inch, "34.925 mm"},
		{"-1-3/8in", units.MM, "-34.925 mm"},
		{"9/8in", units.MM, "28.575 mm"},
		{"1/64in", units.MM, "0.396875 mm"},
		{"1/5in", units.MM, "5.08 mm"},
		{"10thou", units.MM, "0.254 mm"},
		{".5", units.MM, "0.5 mm"},
		{"-.5", units.MM, "-0.5 mm"},
		{"-5mm", units.MM, "-5 mm"},
		{"-0", units.MM, "0 mm"},
		{"010", units.MM, "10 mm"},
		{"0.1234567890123456789", units.MM, "0.1234567890123456789 mm"},
		{"100000mm", units.MM, "100000 mm"},
	} {
		l, err := units.ParseLength(tc.text, tc.bare)
		if err != nil || full(l) != tc.want {
			t.Errorf("%q (%v): got %v, %v; want %s", tc.text, tc.bare, full(l), err, tc.want)
		}
	}
}

// What is not read, and what is said.
func TestRefusals(t *testing.T) {
	length := func(text string) error { _, err := units.ParseLength(text, units.MM); return err }
	inches := func(text string) error { _, err := units.ParseLength(text, units.Inch); return err }
	angle := func(text string) error { _, err := units.ParseAngle(text); return err }
	pitch := func(text string) error { _, err := units.ParsePitch(text); return err }
	speed := func(text string) error { _, err := units.ParseSurfaceSpeed(text); return err }
	rpm := func(text string) error { _, err := units.ParseSpindleSpeed(text); return err }
	feed := func(text string) error { _, err := units.ParseFeed(text, units.MM); return err }
	power := func(text string) error { _, err := units.ParsePower(text); return err }
	unit := func(text string) error { _, err := units.ParseUnit(text); return err }
	const (
		notLength = "not a length: write 12.5mm, 0.5in, 3/8in, 1-3/8in or 10thou"
		notAngle  = "not an angle: write 6.25deg, 6d15m, 6d15m30s or 6°15'30\""
		notPitch  = "not a pitch: write 1.25mm or 20tpi"
		lengths   = "write mm, cm, um, in or thou"
		tooLong   = "too long: a number has at most 32 characters"
	)
	for _, tc := range []struct {
		read       func(string) error
		text, want string
	}{
		{length, "", `a length: "": ` + notLength},
		{length, "mm", "a length: mm: " + notLength},
		{length, "-", "a length: -: " + notLength},
		{length, ".", "a length: .: " + notLength},
		{length, "5.", "a length: 5.: " + notLength},
		{length, "+5", "a length: +5: " + notLength},
		{length, "5+", "a length: 5+: " + notLength},
		{length, "--5", "a length: --5: " + notLength},
		{length, "1.2.3", "a length: 1.2.3: " + notLength},
		{length, "1 000", "a length: 1 000: " + notLength},
		{length, "1_000", "a length: 1_000: " + notLength},
		{length, "30,5", "a length: 30,5: a comma is not read as a decimal point: write 30.5"},
		{length, "1,000,000", "a length: 1,000,000: commas are not read: write the number without them"},
		{length, "30,5\x1b[2J", "a length: \"30,5\\x1b[2J\": a comma is not read as a decimal point: write \"30.5\\x1b[2J\""},
		{length, "1e3", "a length: e3: not a unit of length in 1e3: " + lengths},
		{length, "1E-3mm", "a length: E-3mm: not a unit of length in 1E-3mm: " + lengths},
		{length, "0x10", "a length: x10: not a unit of length in 0x10: " + lengths},
		{length, "5m", "a length: m: not a unit of length in 5m: " + lengths},
		{length, "5 MM", "a length: MM: not a unit of length in 5 MM: " + lengths + "\n  did you mean mm?"},
		{length, "5thuo", "a length: thuo: not a unit of length in 5thuo: " + lengths + "\n  did you mean thou?"},
		{length, "5deg", "a length: deg: not a unit of length in 5deg: " + lengths},
		{length, "5\x00", `a length: "\x00": not a unit of length in "5\x00": ` + lengths},
		{length, "NaN", "a length: NaN: " + notLength},
		{length, "inf", "a length: inf: " + notLength},
		{length, "٣mm", "a length: ٣mm: " + notLength}, // a digit, but not 0 to 9
		{length, "1/24in", "a length: 1/24in: has no finite decimal in inches: write the decimal you mean"},
		{length, "3/8", "a length: 3/8: a fraction is in inches: write 3/8in"},
		{length, "3/8mm", "a length: 3/8mm: a fraction is in inches: write 3/8in"},
		{length, "3/8thou", "a length: 3/8thou: a fraction is in inches: write 3/8in"},
		{length, "3/0in", "a length: 3/0in: a fraction over 0 is no number"},
		{length, "3/in", "a length: 3/in: " + notLength},
		{length, "/8in", "a length: /8in: " + notLength},
		{length, "3/8/2in", "a length: 3/8/2in: " + notLength},
		{length, "3/-8in", "a length: 3/-8in: " + notLength},
		{length, "1.5-3/8in", "a length: 1.5-3/8in: " + notLength},
		{length, "1--3/8in", "a length: 1--3/8in: " + notLength},
		{length, "3,5/8in", "a length: 3,5/8in: " + notLength},
		{length, "1-9/8in", "a length: 1-9/8in: the fraction beside a whole number is below 1"},
		{length, "1-8/8in", "a length: 1-8/8in: the fraction beside a whole number is below 1"},
		{length, "100000.001", "a length: 100000.001: longer than any machine here: up to 100 m is read"},
		{length, "-100000.001", "a length: -100000.001: longer than any machine here: up to 100 m is read"},
		{inches, "3938", "a length: 3938: longer than any machine here: up to 100 m is read"},
		{length, "0.000000000000000000001", "a length: 0.000000000000000000001: finer than any machine here: " +
			"up to 20 decimals of a millimetre are read"},
		{length, strings.Repeat("1", 33), "a length: " + strings.Repeat("1", 32) + "…: " + tooLong},
		{length, "1/" + strings.Repeat("2", 31) + "in", "a length: 1/" + strings.Repeat("2", 30) + "…: " + tooLong},
		{length, "5" + strings.Repeat("°", 20), "a length: 5" + strings.Repeat("°", 15) + "…: " + tooLong},

		{angle, "", `an angle: "": ` + notAngle},
		{angle, "6,25", "an angle: 6,25: a comma is not read as a decimal point: write 6.25"},
		{angle, "+6", "an angle: +6: " + notAngle},
		{angle, "1/2deg", "an angle: 1/2deg: " + notAngle},
		{angle, "6rad", "an angle: rad: not a unit of angle in 6rad: write 6.25deg, 6d15m, 6d15m30s or 6°15'30\""},
		{angle, "6dge", "an angle: 6dge: " + notAngle},
		{angle, "6de", "an angle: 6de: " + notAngle},
		{angle, "6d15", "an angle: 6d15: " + notAngle},
		{angle, "6d30s", "an angle: 6d30s: " + notAngle},
		{angle, "6d15m30", "an angle: 6d15m30: " + notAngle},
		{angle, "6d15m30s5", "an angle: 6d15m30s5: " + notAngle},
		{angle, "60'", "an angle: 60': minutes and seconds run from 0 to 59"},
		{angle, "4'5", "an angle: 4'5: " + notAngle},
		{angle, "'", `an angle: ': ` + notAngle},
		{angle, "1/2'", "an angle: 1/2': " + notAngle},
		{angle, `30"`, `an angle: ": not a unit of angle in 30": write 6.25deg, 6d15m, 6d15m30s or 6°15'30"`},
		{angle, "6d60m", "an angle: 6d60m: minutes and seconds run from 0 to 59"},
		{angle, "6d15m60s", "an angle: 6d15m60s: minutes and seconds run from 0 to 59"},
		{angle, "6d-15m", "an angle: 6d-15m: minutes and seconds run from 0 to 59"},
		{angle, "6d15.5m30s", "an angle: 6d15.5m30s: only the last part of an angle may have decimals"},
		{angle, "6.5d15m", "an angle: 6.5d15m: degrees with minutes are whole"},
		{angle, "3600.1", "an angle: 3600.1: more than ten turns: up to 3600 deg is read"},
		{angle, "-3601deg", "an angle: -3601deg: more than ten turns: up to 3600 deg is read"},
		{angle, "6d" + strings.Repeat("0", 40) + "m", "an angle: 6d" + strings.Repeat("0", 30) + "…: " + tooLong},

		{pitch, "", `a pitch: "": ` + notPitch},
		{pitch, "1.25", "a pitch: 1.25: a pitch needs its unit: write 1.25mm or 1.25tpi"},
		{pitch, "1/20", "a pitch: 1/20: a pitch needs its unit: write 1/20in"},
		{pitch, "1,25mm", "a pitch: 1,25mm: a comma is not read as a decimal point: write 1.25mm"},
		{pitch, "20Tpi", "a pitch: Tpi: not a unit of pitch in 20Tpi: write 1.25mm or 20tpi\n  did you mean tpi?"},
		{pitch, "0mm", "a pitch: 0mm: a pitch is above 0 and at most 100 mm"},
		{pitch, "0tpi", "a pitch: 0tpi: a pitch is above 0 and at most 100 mm"},
		{pitch, "-20tpi", "a pitch: -20tpi: a pitch is above 0 and at most 100 mm"},
		{pitch, "100.1mm", "a pitch: 100.1mm: a pitch is above 0 and at most 100 mm"},
		{pitch, "4in", "a pitch: 4in: a pitch is above 0 and at most 100 mm"},
		{pitch, "0.25tpi", "a pitch: 0.25tpi: a pitch is above 0 and at most 100 mm"},

		{speed, "30", "a surface speed: 30: needs its unit: write 30m/min or 100sfm"},
		{speed, "0sfm", "a surface speed: 0sfm: a surface speed is above 0 and at most 10000 m/min"},
		{speed, "30mm/min", "a surface speed: mm/min: not a unit of surface speed in 30mm/min: write 30m/min or 100sfm\n" +
			"  did you mean m/min?"},
		{rpm, "0", "a spindle speed: 0: a spindle speed is above 0 and at most 60000 rpm"},
		{rpm, "-540rpm", "a spindle speed: -540rpm: a spindle speed is above 0 and at most 60000 rpm"},
		{rpm, "60001", "a spindle speed: 60001: a spindle speed is above 0 and at most 60000 rpm"},
		{rpm, "1,450", "a spindle speed: 1,450: a comma is not read as a decimal point: write 1.450"},
		{feed, "0", "a feed: 0: a feed is above 0 and at most 20 mm/rev"},
		{feed, "1in/rev", "a feed: 1in/rev: a feed is above 0 and at most 20 mm/rev"},
		{feed, "0.1mm", "a feed: mm: not a unit of feed in 0.1mm: write 0.1mm/rev or 0.004in/rev"},
		{power, "550", "a power: 550: needs its unit: write 550W, 0.55kW or 0.75hp"},
		{power, "3/4", "a power: 3/4: needs its unit: write 550W, 0.55kW or 0.75hp"},
		{power, "3/0hp", "a power: 3/0hp: a fraction over 0 is no number"},
		{power, "3//4hp", "a power: 3//4hp: not a power: write 550W, 0.55kW or 0.75hp"},
		{power, "0W", "a power: 0W: a power is above 0 and at most 100000 W"},
		{power, "101kW", "a power: 101kW: a power is above 0 and at most 100000 W"},
		{power, "1w", "a power: w: not a unit of power in 1w: write 550W, 0.55kW or 0.75hp\n  did you mean W?"},
		{unit, "cm", "units: cm: not a unit for drawings: write mm or in"},
		{unit, "incs", "units: incs: not a unit for drawings: write mm or in"},
		{unit, "IN", "units: IN: not a unit for drawings: write mm or in\n  did you mean in?"},
	} {
		if err := tc.read(tc.text); err == nil || err.Error() != tc.want {
			t.Errorf("%q\ngot  %v\nwant %s", tc.text, err, tc.want)
		}
	}
}

// What is read as an angle.
func TestParseAngle(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"6.25", "6.25 deg"},
		{"6.25deg", "6.25 deg"},
		{"6.25 deg", "6.25 deg"},
		{"6.25°", "6.25 deg"},
		{"6d", "6 deg"},
		{"6d15m", "6.25 deg"},
		{"6°15'", "6.25 deg"},
		{"6°15′", "6.25 deg"},
		{"6d15m30s", "6.258333333 deg"},
		{`6°15'30"`, "6.258333333 deg"},
		{"6°15′30″", "6.258333333 deg"},
		{"6d15m30.5s", "6.258472222 deg"},
		{"6d15.5m", "6.258333333 deg"},
		{"4'", "0.066666667 deg"}, // 4/60
		{"4.5'", "0.075 deg"},
		{`4'30"`, "0.075 deg"},
		{"-4'30″", "-0.075 deg"},
		{"-6d15m", "-6.25 deg"},
		{"-0d15m", "-0.25 deg"},
		{"-0", "0 deg"},
		{"12d48m", "12.8 deg"},
		{"3600", "3600 deg"},
		{"-3600", "-3600 deg"},
	} {
		a, err := units.ParseAngle(tc.text)
		if err != nil || a.String() != tc.want {
			t.Errorf("%q: got %v, %v; want %s", tc.text, a, err, tc.want)
		}
	}
}

// Degrees and minutes carry: there is no 60th minute and no 60th second.
func TestDMS(t *testing.T) {
	for _, tc := range []struct {
		deg                 float64
		minutes, andSeconds string
	}{
		{12.8, "12°48'", `12°48'00"`},
		{5.9999999, "6°00'", `6°00'00"`},
		{5.9917, "6°00'", `5°59'30"`},
		{5.99, "5°59'", `5°59'24"`},
		{6.25, "6°15'", `6°15'00"`},
		{8.29714497, "8°18'", `8°17'50"`}, // half angle of a 7:24 shank, ISO 7388-1
		{0, "0°00'", `0°00'00"`},
		{0.001, "0°00'", `0°00'04"`},
		{-0.001, "0°00'", `-0°00'04"`},
		{-0.0001, "0°00'", `0°00'00"`},
		{-12.8, "-12°48'", `-12°48'00"`},
		{-5.9999999, "-6°00'", `-6°00'00"`},
		{359.99999, "360°00'", `360°00'00"`},
	} {
		a := units.Degrees(tc.deg)
		if got := a.DMS(false); got != tc.minutes {
			t.Errorf("%v: %s, want %s", tc.deg, got, tc.minutes)
		}
		if got := a.DMS(true); got != tc.andSeconds {
			t.Errorf("%v: %s, want %s", tc.deg, got, tc.andSeconds)
		}
	}
}

// What is read as a pitch, and how much it is in mm.
func TestParsePitch(t *testing.T) {
	for _, tc := range []struct {
		text, show string
		num, den   int64
		inch       bool
	}{
		{"1.25mm", "1.25 mm", 5, 4, false},
		{"20tpi", "20 tpi", 127, 100, true},
		{"20TPI", "20 tpi", 127, 100, true},
		{"24tpi", "24 tpi", 127, 120, true}, // no finite decimal in mm
		{"11.5tpi", "11.5 tpi", 254, 115, true},
		{"4-1/2tpi", "4.5 tpi", 254, 45, true},
		{"0.05in", "20 tpi", 127, 100, true},
		{"1/20in", "20 tpi", 127, 100, true},
		{`1/20"`, "20 tpi", 127, 100, true},
		{"1/3in", "3 tpi", 127, 15, true},
		{"0.07in", "0.07 in", 889, 500, true}, // 14.2857… tpi
		{"100mm", "100 mm", 100, 1, false},
	} {
		p, err := units.ParsePitch(tc.text)
		if number, _, _ := strings.Cut(tc.show, " "); p.Number() != number {
			t.Errorf("%q without its unit: %s, want %s", tc.text, p.Number(), number)
		}
		if err != nil || p.String() != tc.show || p.Rat().Cmp(big.NewRat(tc.num, tc.den)) != 0 || p.IsInch() != tc.inch {
			t.Errorf("%q: got %v = %v mm, inch %v, %v; want %s = %d/%d mm",
				tc.text, p, p.Rat(), p.IsInch(), err, tc.show, tc.num, tc.den)
		}
	}
	if p := units.MustPitch("8tpi").Times(2); p.String() != "4 tpi" || !p.IsInch() {
		t.Errorf("two starts of 8 tpi have the lead of %v", p)
	}
	pitch := units.MustPitch
	if !pitch("20tpi").Equal(pitch("1.27mm")) || pitch("1mm").Cmp(pitch("24tpi")) != -1 {
		t.Error("20 tpi is 1.27 mm, and 1 mm is finer than 24 tpi")
	}
	if got := full(units.MustPitch("24tpi").Length(1)); got != "1.058333333 mm" {
		t.Errorf("24 tpi as a length: %s", got)
	}
	if got := (units.Pitch{}).String(); got != "0 mm" {
		t.Errorf("no pitch is shown as %q", got)
	}
}

// The other quantities and the units they are read in. A foot is 0.3048 m and
// an inch 25.4 mm exactly; the horsepower is 550 ft lbf/s = 745.7 W (NIST SP
// 811, table B.8).
func TestSpeedsFeedsPower(t *testing.T) {
	for _, tc := range []struct {
		text string
		read func(string) (fmt.Stringer, error)
		want string
	}{
		{"540", spindle, "540 rpm"},
		{"540rpm", spindle, "540 rpm"},
		{"60000", spindle, "60000 rpm"},
		{"30m/min", surface, "30 m/min"},
		{"100sfm", surface, "30.48 m/min"},
		{"100ft/min", surface, "30.48 m/min"},
		{"20m/s", surface, "1200 m/min"},
		{"0.1", feedIn(units.MM), "0.1 mm/rev"},
		{"0.004", feedIn(units.Inch), "0.1016 mm/rev"},
		{"0.004in/rev", feedIn(units.MM), "0.1016 mm/rev"},
		{"0.05mm/tooth", feedIn(units.MM), "0.05 mm/rev"},
		{"550W", watts, "550 W"},
		{"0.75kW", watts, "750 W"},
		{"1hp", watts, "745.7 W"},
		{"3/4hp", watts, "559.3 W"},    // 3 · 745.7 / 4 = 559.275
		{"1-1/4 HP", watts, "932.1 W"}, // 932.125
		{"1/3hp", watts, "248.6 W"},
	} {
		got, err := tc.read(tc.text)
		if err != nil || got.String() != tc.want {
			t.Errorf("%q: got %v, %v; want %s", tc.text, got, err, tc.want)
		}
	}
	if got := units.MetresPerMinute(30.48).FeetPerMinute(); math.Abs(got-100) > 1e-12 {
		t.Errorf("30.48 m/min are %v ft/min", got)
	}
}

func spindle(text string) (fmt.Stringer, error) { return units.ParseSpindleSpeed(text) }
func surface(text string) (fmt.Stringer, error) { return units.ParseSurfaceSpeed(text) }
func watts(text string) (fmt.Stringer, error)   { return units.ParsePower(text) }
func feedIn(u units.Unit) func(string) (fmt.Stringer, error) {
	return func(text string) (fmt.Stringer, error) { return units.ParseFeed(text, u) }
}

// Rounding has a direction, by the size that comes out.
func TestRounding(t *testing.T) {
	for _, tc := range []struct {
		l, step           string
		nearest, down, up string
	}{
		{"10.24mm", "0.1mm", "10.2 mm", "10.2 mm", "10.3 mm"},
		{"10.25mm", "0.1mm", "10.3 mm", "10.2 mm", "10.3 mm"}, // a half goes away from zero
		{"-10.25mm", "0.1mm", "-10.3 mm", "-10.3 mm", "-10.2 mm"},
		{"-10.24mm", "0.1mm", "-10.2 mm", "-10.3 mm", "-10.2 mm"},
		{"10.3mm", "0.1mm", "10.3 mm", "10.3 mm", "10.3 mm"}, // on the mark stays there
		{"0mm", "0.1mm", "0 mm", "0 mm", "0 mm"},
		{"0.01mm", "1/64in", "0 mm", "0 mm", "0.396875 mm"},
		{"1in", "0.3mm", "25.5 mm", "25.2 mm", "25.5 mm"},
	} {
		l, step := units.MustLength(tc.l), units.MustLength(tc.step)
		for dir, want := range map[units.Direction]string{units.Nearest: tc.nearest, units.Down: tc.down, units.Up: tc.up} {
			if got := l.RoundTo(step, dir); full(got) != want {
				t.Errorf("%s to %s, direction %v: %v, want %s", tc.l, tc.step, dir, full(got), want)
			}
			if got := step.Times(l.Steps(step, dir)); full(got) != want {
				t.Errorf("%s in steps of %s, direction %v: %v, want %s", tc.l, tc.step, dir, full(got), want)
			}
		}
	}
	for _, tc := range []struct {
		a, step           float64
		nearest, down, up float64
	}{
		{6.3, 1, 6, 6, 7},
		{6.5, 1, 7, 6, 7},
		{-6.3, 1, -6, -7, -6},
		{6.9999999999, 1, 7, 7, 7}, // a float's last bits are not a step
		{7.0000000001, 1, 7, 7, 7},
		{6.3, 0.5, 6.5, 6, 6.5},
	} {
		for dir, want := range map[units.Direction]float64{units.Nearest: tc.nearest, units.Down: tc.down, units.Up: tc.up} {
			if got := units.Degrees(tc.a).RoundTo(units.Degrees(tc.step), dir).Deg(); got != want {
				t.Errorf("%v deg to %v, direction %v: %v, want %v", tc.a, tc.step, dir, got, want)
			}
		}
	}
}

// Fixed never crosses: down is not above and up not below the exact size, in
// either unit, and both are within one of the last place.
func TestFixedNeverCrosses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLength(t)
		u := rapid.SampledFrom([]units.Unit{units.MM, units.Inch}).Draw(t, "unit")
		places := rapid.Int32Range(0, 6).Draw(t, "places")
		show := func(dir units.Direction) units.Length {
			text := l.Fixed(u, places, dir)
			if text == "-0" || strings.HasPrefix(text, "-0") && strings.Trim(text, "-0.") == "" {
				t.Fatalf("%v is shown as %s", full(l), text)
			}
			if _, after, _ := strings.Cut(text, "."); len(after) != int(places) {
				t.Fatalf("%v with %d places is shown as %s", full(l), places, text)
			}
			return units.MustLength(text + u.String())
		}
		down, nearest, up := show(units.Down), show(units.Nearest), show(units.Up)
		step := units.FromDecimal(decimal.New(1, -places))
		if u == units.Inch {
			step = step.Scale(decimal.New(254, -1))
		}
		if l.Less(down) || up.Less(l) {
			t.Fatalf("%v lies outside %v to %v", full(l), full(down), full(up))
		}
		if step.Less(up.Minus(down)) {
			t.Fatalf("%v: %v to %v is more than one step of %v", full(l), full(down), full(up), full(step))
		}
		if step.Less(l.Minus(nearest).Abs().Times(2)) {
			t.Fatalf("%v: %v is not the nearest", full(l), full(nearest))
		}
		for dir, want := range map[units.Direction]units.Length{units.Down: down, units.Up: up, units.Nearest: nearest} {
			if got := l.RoundTo(step, dir); !got.Equal(want) {
				t.Fatalf("%v to steps of %v, direction %v: rounded %v, shown %v", full(l), full(step), dir, full(got), full(want))
			}
		}
	})
}

// drawLength draws a length as it may be written, in any unit.
func drawLength(t *rapid.T) units.Length {
	unit := rapid.SampledFrom([]string{"mm", "in", "cm", "um", "thou"}).Draw(t, "unit")
	sign := rapid.SampledFrom([]string{"", "-"}).Draw(t, "sign")
	digits := rapid.StringMatching(`[0-9]{1,3}(\.[0-9]{1,10})?`).Draw(t, "digits")
	return units.MustLength(sign + digits + unit)
}

// A length that was read comes back unchanged from its text, from JSON and
// from the text of a file.
func TestLengthThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLength(t)
		back, err := units.ParseLength(full(l), units.Inch)
		if err != nil || !back.Equal(l) {
			t.Fatalf("%v came back as %v, %v", full(l), full(back), err)
		}
		text, err := json.Marshal(l)
		if err != nil {
			t.Fatal(err)
		}
		var again, marshalled units.Length
		if err := json.Unmarshal(text, &again); err != nil || !again.Equal(l) {
			t.Fatalf("%v came back from JSON %s as %v, %v", full(l), text, full(again), err)
		}
		if text, err = l.MarshalText(); err != nil {
			t.Fatal(err)
		}
		if err := marshalled.UnmarshalText(text); err != nil || !marshalled.Equal(l) {
			t.Fatalf("%v came back as %v, %v", full(l), marshalled, err)
		}
		inches := units.FromDecimal(l.Decimal().Mul(decimal.New(254, -1)))
		if inch, err := units.ParseLength(l.Decimal().String()+"in", units.MM); err == nil && !inch.Equal(inches) {
			t.Fatalf("%v in is %v, not %v", l.Decimal(), full(inch), full(inches))
		}
	})
}

// An angle in whole seconds comes back unchanged from its degrees, minutes and
// seconds, and any angle to a billionth from its text and JSON.
func TestAngleThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seconds := rapid.IntRange(-3600*3600, 3600*3600).Draw(t, "seconds")
		a := units.Degrees(float64(seconds) / 3600)
		back, err := units.ParseAngle(a.DMS(true))
		if err != nil || math.Abs(back.Deg()-a.Deg()) > 1e-12 {
			t.Fatalf("%v came back from %s as %v, %v", a, a.DMS(true), back, err)
		}
		b := units.Degrees(rapid.Float64Range(-3600, 3600).Draw(t, "degrees"))
		back, err = units.ParseAngle(b.String())
		if err != nil || math.Abs(back.Deg()-b.Deg()) > 1e-9 {
			t.Fatalf("%v came back as %v, %v", b, back, err)
		}
		text, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		var again units.Angle
		if err := json.Unmarshal(text, &again); err != nil || again != back {
			t.Fatalf("%v came back from JSON %s as %v, %v", b, text, again, err)
		}
	})
}

// A pitch comes back unchanged from its text, in the unit it was written in.
func TestPitchThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"%d.%02dmm", "%d.%02dtpi", "0.%d%02din"}).Draw(t, "form")
		whole, hundredths := rapid.IntRange(1, 80).Draw(t, "whole"), rapid.IntRange(0, 99).Draw(t, "hundredths")
		p := units.MustPitch(fmt.Sprintf(text, whole, hundredths))
		back, err := units.ParsePitch(p.String())
		if err != nil || !back.Equal(p) || back.IsInch() != p.IsInch() {
			t.Fatalf("%v came back as %v, %v", p, back, err)
		}
	})
}

// A length is as long in inches as in mm, and its parts add up.
func TestLengthArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawLength(t), drawLength(t)
		if !a.Plus(b).Minus(b).Equal(a) || !a.Half().Times(2).Equal(a) || !a.Neg().Neg().Equal(a) {
			t.Fatalf("%v and %v do not add up", full(a), full(b))
		}
		if low, high := units.Min(a, b), units.Max(a, b); high.Less(low) || !low.Plus(high).Equal(a.Plus(b)) {
			t.Fatalf("%v and %v: least %v, most %v", full(a), full(b), full(low), full(high))
		}
		if b.Sign() != 0 && math.Abs(a.Over(b)*b.MM()-a.MM()) > 1e-12*math.Max(1, a.Abs().MM()) {
			t.Fatalf("%v over %v is %v", full(a), full(b), a.Over(b))
		}
	})
	if got := units.MustLength("3/8in").MM(); got != 9.525 {
		t.Errorf("3/8 in is %v mm", got)
	}
	if got := full(units.FromFloat(1.0 / 3)); got != "0.333333333 mm" {
		t.Errorf("a third came back from trigonometry as %s", got)
	}
}

// Inch fractions as a rule shows them.
func TestNearestFraction(t *testing.T) {
	for _, tc := range []struct {
		l          string
		den        int64
		want, rest string
	}{
		{"3/8in", 64, "3/8 in", "0 mm"},
		{"9.6mm", 64, "3/8 in", "0.075 mm"},
		{"9.4mm", 64, "3/8 in", "-0.125 mm"},
		{"1-3/8in", 64, "1-3/8 in", "0 mm"},
		{"2in", 64, "2 in", "0 mm"},
		{"0.1mm", 64, "0 in", "0.1 mm"},
		{"25.3mm", 64, "1 in", "-0.1 mm"}, // 63.75/64
		{"-9.6mm", 64, "-3/8 in", "-0.075 mm"},
		{"7.1mm", 64, "9/32 in", "-0.04375 mm"},
		{"7.1mm", 16, "1/4 in", "0.75 mm"},
	} {
		f := units.MustLength(tc.l).NearestFraction(tc.den)
		if f.String() != tc.want || full(f.Rest) != tc.rest {
			t.Errorf("%s in 1/%d: %v and %v, want %s and %s", tc.l, tc.den, f, full(f.Rest), tc.want, tc.rest)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		l := drawLength(t)
		f := l.NearestFraction(64)
		if units.MustLength("1/128in").Less(f.Rest.Abs()) {
			t.Fatalf("%v: %v leaves %v, more than half a 64th", full(l), f, full(f.Rest))
		}
		if back, err := units.ParseLength(f.String(), units.MM); err != nil || !back.Plus(f.Rest).Equal(l) {
			t.Fatalf("%v: %v and %v do not add up, %v", full(l), f, full(f.Rest), err)
		}
	})
}

// A figure is compared at the precision its book prints.
func TestAsPrinted(t *testing.T) {
	for _, tc := range []struct{ l, want string }{
		{"7.18814mm", "7.188mm"},
		{"0.21752in", "0.2175in"},
		{"0.21752in", ".2175in"},
		{"7.1885mm", "7.189mm"},
		{"-7.1885mm", "-7.189mm"},
		{"25.4mm", "25mm"},
	} {
		if got := units.AsPrinted(units.MustLength(tc.l), tc.want); got != tc.want {
			t.Errorf("%s as %s: %s", tc.l, tc.want, got)
		}
	}
}

// JSON carries no bit noise, no negative zero and no exponent.
func TestJSON(t *testing.T) {
	for _, tc := range []struct {
		v    any
		want string
	}{
		{units.MustLength("3/8in"), "9.525"},
		{units.MustLength("0.1234567890123456789"), "0.1234567890123456789"},
		{units.MustLength("-0"), "0"},
		{units.MustLength("12.34567mm").Down(), "12.34567"},
		{units.MustLength("9.525mm").Always(units.MM), "9.525"},
		{units.MustLength("1mm").Always(units.Inch), "0.039370079"},
		{units.Degrees(0.1 + 0.2), "0.3"},
		{units.Degrees(math.Copysign(0, -1)), "0"},
		{units.Degrees(-1e-12), "0"},
		{units.Number(5.999999999999999), "6"},
		{units.Number(123456789), "123456789"},
		{units.MustPitch("24tpi"), "1.058333333"},
		{units.MustPitch("1.25mm"), "1.25"},
		{units.RPM(540), "540"},
		{units.MetresPerMinute(30.48), "30.48"},
	} {
		got, err := json.Marshal(tc.v)
		if err != nil || string(got) != tc.want {
			t.Errorf("%v: %s, %v; want %s", tc.v, got, err, tc.want)
		}
	}
	for _, v := range []units.Number{units.Number(math.NaN()), units.Number(math.Inf(1))} {
		if got, err := json.Marshal(v); err == nil {
			t.Errorf("%v was written as %s", float64(v), got)
		}
	}
	var l units.Length
	for _, text := range []string{`null`, `"12.5"`, `1e3`, `true`, `[1]`} {
		if err := json.Unmarshal([]byte(text), &l); err == nil && l.Sign() != 0 {
			t.Errorf("%s was read as the length %v", text, full(l))
		}
	}
}

// What is no number never becomes a quantity.
func TestNoNumbers(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for name, make := range map[string]func(){
			"a length": func() { units.FromFloat(v) },
			"an angle": func() { units.Degrees(v) },
		} {
			func() {
				defer func() {
					if recover() == nil {
						t.Errorf("%v became %s", v, name)
					}
				}()
				make()
			}()
		}
	}
	for _, must := range []func(){
		func() { units.MustLength("x") }, func() { units.MustAngle("x") }, func() { units.MustPitch("x") },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Error("x was read")
				}
			}()
			must()
		}()
	}
}

// The readers answer every text, and what they read they read again.

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{
		"12.5", "1-3/8in", "1/24in", "10thou", "30,5", "1e999", "-0", "٣", "5\xff", "0.00000000000000000000000001um",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, bare := range []units.Unit{units.MM, units.Inch} {
			l, err := units.ParseLength(text, bare)
			if err != nil {
				oneLine(t, err)
				continue
			}
			if back, err := units.ParseLength(full(l), units.Inch); err != nil || !back.Equal(l) {
				t.Errorf("%q: %v came back as %v, %v", text, full(l), full(back), err)
			}
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	for _, s := range []string{"6.25", "6d15m30s", `6°15'30"`, "-0d0m1s", "6d60m", "1e99", "6d15.5m30s", "6d\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := units.ParseAngle(text)
		if err != nil {
			oneLine(t, err)
			return
		}
		if back, err := units.ParseAngle(a.String()); err != nil || math.Abs(back.Deg()-a.Deg()) > 1e-9 {
			t.Errorf("%q: %v came back as %v, %v", text, a, back, err)
		}
		if s := a.DMS(true); strings.Contains(s, "°60") || strings.Contains(s, "'60") {
			t.Errorf("%q: %s", text, s)
		}
	})
}

func FuzzParsePitch(f *testing.F) {
	for _, s := range []string{"1.25mm", "20tpi", "1/20in", "1/3in", "0.07in", "7/3tpi", "20", "0tpi", "99999999999tpi"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := units.ParsePitch(text)
		if err != nil {
			oneLine(t, err)
			return
		}
		if p.Sign() != 1 || p.MM() > 100 {
			t.Errorf("%q was read as %v mm", text, p.MM())
		}
		if _, err := json.Marshal(p); err != nil {
			t.Error(err)
		}
	})
}

// oneLine reports a message that would break a terminal: a control character,
// or more than a message and a suggestion.
func oneLine(t *testing.T, err error) {
	t.Helper()
	lines := strings.Split(err.Error(), "\n")
	if len(lines) > 2 || len(lines) == 2 && !strings.HasPrefix(lines[1], "  did you mean ") {
		t.Errorf("a message of several lines: %q", err.Error())
	}
	for _, l := range lines {
		if strings.ContainsFunc(l, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			t.Errorf("a control character in %q", l)
		}
	}
}

// A length in a sentence follows the unit of the page and its direction, and
// loses the zeros behind; a small difference has its sign and one decimal more.
func TestWords(t *testing.T) {
	mm := units.MustLength
	third := units.FromDecimal(mm("1").Decimal().DivRound(mm("3").Decimal(), 40)) // longer than any text that is read
	for _, tc := range []struct {
		l        units.Rounded
		mm, inch string
	}{
		{mm("12.5").Nearest(), "12.5 mm", "0.4921 in"},
		{mm("10.0001").Up(), "10.001 mm", "0.3938 in"},
		{mm("10.0009").Down(), "10 mm", "0.3937 in"},
		{mm("100").Nearest(), "100 mm", "3.937 in"},
		{mm("-0.5in").Nearest(), "-12.7 mm", "-0.5 in"},
		{third.Up(), "0.334 mm", "0.0132 in"},
		{third.Down(), "0.333 mm", "0.0131 in"},
		{mm("0.0125").Fine(), "+0.0125 mm", "+0.00049 in"},
		{mm("-0.0125").Fine(), "-0.0125 mm", "-0.00049 in"},
		{mm("0.00001").Fine(), "0 mm", "0 in"},
		{mm("6.35").Always(units.Inch), "0.25 in", "0.25 in"},
	} {
		if m, in := tc.l.Words(); m != tc.mm || in != tc.inch {
			t.Errorf("%s and %s, want %s and %s", m, in, tc.mm, tc.inch)
		}
	}
	typed, inches := mm("0.0254").Typed().Words()
	if typed != "0.0254 mm" || inches != "0.001 in" {
		t.Errorf("as typed %s and %s", typed, inches)
	}
}
