package convert_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/convert"
	"setover/setup/page/published"
)

func of(t testing.TB, text string, bare units.Unit) convert.Result {
	t.Helper()
	q, err := convert.Parse(text, bare)
	if err != nil {
		t.Fatal(text, err)
	}
	r, err := convert.Convert(convert.Input{Value: q})
	if err != nil {
		t.Fatal(text, err)
	}
	return r
}

// Every drill chart's size, as it is printed, is that fraction and that drill:
// the printed decimal is never further from its fraction than its last digit.
func TestDrillCharts(t *testing.T) {
	fractions := 0
	for _, row := range published.Rows(t, "threads/drills.csv") {
		r := of(t, row["size"]+row["unit"], units.MM)
		if strings.Contains(row["name"], "/") {
			fractions++
			if row["name"] == "24/32" { // a misprint there: its 0.7812 is 25/32
				row["name"] = "25/32"
			}
			if want := units.MustLength(row["name"] + "in").NearestFraction(64).String(); *r.Fraction != want {
				t.Errorf("%s (%s): %s in is nearest to %s", row["name"], row["source"], row["size"], *r.Fraction)
			}
		}
		if r.Drill == nil || r.DrillSize.MM() > 25.4 {
			t.Errorf("%s: no drill near %s %s", row["name"], row["size"], row["unit"])
		}
	}
	if fractions < 60 {
		t.Errorf("only %d fractions were compared", fractions)
	}
}

// The figures are the definitions (1 in = 25.4 mm, 1 ft = 0.3048 m) and what
// rules and charts print: 25/64 is 0.390625 in in every table of decimal
// equivalents, No7 is 0.2010 in (GNU units 2.22 definitions).
func TestConvert(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"3/8in", "9.525 mm, 0.375 in, 0.9525 cm, 9525 um, 375 thou; 3/8 in 0 mm; 3/8 in 0 mm"},
		{"10mm", "10 mm, 0.393700787 in, 1 cm, 10000 um, 393.700787402 thou; 25/64 in 0.078125 mm; 10 mm 0 mm"},
		{"0.2in", "5.08 mm, 0.2 in, 0.508 cm, 5080 um, 200 thou; 13/64 in -0.079375 mm; 5.1 mm 0.02 mm"},
		{"5.11mm", "5.11 mm, 0.201181102 in, 0.511 cm, 5110 um, 201.181102362 thou; 13/64 in -0.049375 mm; No7 -0.0046 mm"},
		{"1-3/8in", "34.925 mm, 1.375 in, 3.4925 cm, 34925 um, 1375 thou; 1-3/8 in 0 mm; none"},
		{"20tpi", "1.27 mm, 20 tpi, 0.05 in"},
		{"100sfm", "30.48 m/min, 100 sfm, 0.508 m/s"},
		{"0.004in/rev", "0.1016 mm/rev, 0.004 in/rev"},
		{"1hp", "745.7 W, 0.7457 kW, 1 hp"},
		{"6d15m", "6.25 deg, 0.109083078 rad"},
	} {
		r := of(t, tc.text, units.MM)
		var words []string
		for _, v := range r.Values {
			text, err := json.Marshal(v.Value)
			if err != nil {
				t.Fatal(err)
			}
			words = append(words, string(text)+" "+v.Unit)
		}
		got := strings.Join(words, ", ")
		if r.Length != nil {
			got += fmt.Sprintf("; %s %v mm", *r.Fraction, r.Over.Decimal())
			if r.Drill == nil {
				got += "; none"
			} else {
				got += fmt.Sprintf("; %s %v mm", *r.Drill, r.DrillError.Decimal())
			}
		}
		if got != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.text, got, tc.want)
		}
		r.Sheet()
	}
}

// How far the fraction and the drill are off, and to which side: 0.2 in is
// 0.003125 in under 13/64, and 5.1 mm is 0.02 mm larger than it.
func TestApart(t *testing.T) {
	for text, want := range map[string]string{
		"0.2in":  "0.0794 mm (0.0031 in) under; 5.1 mm, 0.02 mm (0.0008 in) larger",
		"10mm":   "0.0781 mm (0.0031 in) over; exactly",
		"3/8in":  "exactly; exactly",
		"5.11mm": "0.0494 mm (0.0019 in) under; 5.1054 mm, 0.0046 mm (0.0002 in) smaller",
	} {
		facts := of(t, text, units.MM).Sheet().Facts
		fraction, drill := facts[len(facts)-2], facts[len(facts)-1]
		if got := say.Text(fraction.Remark + "; " + drill.Remark).String(); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// A length put together again from its fraction and what is over is the same,
// exactly, and never more than half a 64th away.
func TestFractionAndRest(t *testing.T) {
	half := units.MustLength("0.0078125in")
	rapid.Check(t, func(t *rapid.T) {
		text := fmt.Sprintf("%d.%03d%s", rapid.IntRange(0, 99).Draw(t, "whole"), rapid.IntRange(0, 999).Draw(t, "part"),
			rapid.SampledFrom([]string{"mm", "in"}).Draw(t, "unit"))
		q, err := convert.Parse(text, units.MM)
		if err != nil {
			t.Fatal(err)
		}
		r, err := convert.Convert(convert.Input{Value: q})
		if err != nil {
			t.Fatal(err)
		}
		again := units.MustLength(strings.ReplaceAll(*r.Fraction, " in", "in")).Plus(*r.Over)
		if !again.Equal(*r.Length) || half.Less(r.Over.Abs()) {
			t.Fatalf("%s: %s and %v", text, *r.Fraction, r.Over.Decimal())
		}
	})
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct{ text, to, want string }{
		{"10mm", "hp", "to: hp: not a unit of length: write mm, in, cm, um, thou, fraction or drill"},
		{"10mm", "inn", "to: inn: not a unit of length: write mm, in, cm, um, thou, fraction or drill\n  did you mean in?"},
		{"20tpi", "drill", "to: drill: not a unit of pitch: write mm, tpi or in"},
		{"30mm", "drill", "to: drill: no drill is near 30 mm"},
		{"0mm", "drill", "to: drill: no drill is near 0 mm"},
	} {
		q, err := convert.Parse(tc.text, units.MM)
		if err != nil {
			t.Fatal(tc.text, err)
		}
		_, err = convert.Convert(convert.Input{Value: q, To: tc.to})
		if err == nil || err.Error() != tc.want {
			t.Errorf("%s to %s: got %v, want %s", tc.text, tc.to, err, tc.want)
		}
	}
	for _, text := range []string{"3x8", "0tpi", "m/min", "1,5"} {
		if _, err := convert.Parse(text, units.MM); err == nil {
			t.Errorf("%s was read", text)
		}
	}
}
