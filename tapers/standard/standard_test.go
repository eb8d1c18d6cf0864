package standard_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/tapers"
	"setover/tapers/standard"
)

func find(t *testing.T, name string) standard.Standard {
	t.Helper()
	s, err := standard.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Every row: its source is listed, names are unique, the diameters of a series
// rise with the number.
func TestTable(t *testing.T) {
	f, err := os.Open(filepath.Join(published.Dir(), "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	listed := map[string]bool{"from memory": true, "": true}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if name, _, ok := strings.Cut(strings.TrimPrefix(lines.Text(), "- "), ": "); ok {
			listed[name] = true
		}
	}
	seen, last := map[string]bool{}, map[string]float64{}
	for _, s := range standard.All() {
		if s.Source == "" || !listed[s.Source] || !listed[s.Checked] {
			t.Errorf("%s: the source %q or %q is not listed", s.Name, s.Source, s.Checked)
		}
		if seen[s.Name] {
			t.Errorf("%s stands twice", s.Name)
		}
		seen[s.Name] = true
		if s.Large == nil || s.Series == "Jacobs" { // Jacobs numbers do not run by size
			continue
		}
		if s.Large.MM() <= last[s.Series] {
			t.Errorf("%s: %v does not rise above %v mm", s.Name, s.Large.Decimal(), last[s.Series])
		}
		last[s.Series] = s.Large.MM()
	}
}

// Why a published slope is not ours.
var disagree = map[string]string{
	"Jacobs 0 taper_per_foot_published":  "0.25 to 0.22844 over 7/16 gives 0.5914: the sheet doubled a rounded angle",
	"Jacobs 0 half_angle_deg_published":  "1.4115 by the sizes: the sheet's own angle is rounded from minutes",
	"Jacobs 2 taper_per_foot_published":  "0.97865 rounds to 0.9787: the sheet cut it short",
	"Jacobs 3 half_angle_deg_published":  "1.5252 by the sizes: the sheet's own angle is rounded from minutes",
	"Jacobs 4 half_angle_deg_published":  "1.5010 by the sizes: the sheet's own angle is rounded from minutes",
	"Jacobs 5 half_angle_deg_published":  "1.4800 by the sizes: the sheet's own angle is rounded from minutes",
	"Jacobs 33 taper_per_foot_published": "0.7620 by the sizes: one in the last place",
	"Jacobs 33 half_angle_deg_published": "1.8185 by the sizes: one in the last place",
}

// prefix is what our names start with in each series of the published table.
var prefix = map[string]string{
	"Morse": "MT", "Brown & Sharpe": "BS", "Jarno": "Jarno", "Jacobs": "JT",
	"7/24 steep (ISO 7388 / NMTB)": "7/24-", "Metric (ISO 296)": "M1:20-",
}

// The slopes against the published ones, at the printed precision.
func TestPublishedSlopes(t *testing.T) {
	n := 0
	for _, row := range published.Rows(t, "tapers.csv") {
		start, ok := prefix[row["series"]]
		if !ok || row["series"] == "Morse" && row["unit"] == "mm" {
			continue
		}
		size := strings.NewReplacer(" short", "S", "4.5", "4-1/2").Replace(row["size"])
		s := find(t, start+size)
		if row["series"] == "Morse" || row["series"] == "Jacobs" || row["series"] == "Brown & Sharpe" { // the sizes as well
			for column, got := range map[string]*units.Length{
				"large_dia": s.Large, "small_dia": s.Small, "gauge_length": s.Length,
			} {
				if want := row[column]; want != "" && (got == nil || !got.Equal(units.MustLength(want+row["unit"]))) {
					t.Errorf("%s %s: %s is %v, printed %s %s", row["series"], size, column, got.Decimal(), want, row["unit"])
				}
			}
		}
		for column, got := range map[string]float64{
			"taper_per_foot_published": float64(s.PerFoot), "half_angle_deg_published": s.HalfAngle.Deg(),
		} {
			want := row[column]
			if want == "" {
				continue
			}
			n++
			key := row["series"] + " " + size + " " + column
			if why, known := disagree[key]; known == (published.Printed(got, want) == want) {
				t.Errorf("%s: got %v; %s prints %s (noted: %q)", key, got, row["source"], want, why)
			}
		}
	}
	if n < 50 {
		t.Errorf("only %d published figures were compared", n)
	}
}

// Morse tapers against the metric standard: gauge diameter and 1:N.
func TestMorseMetric(t *testing.T) {
	for _, tc := range []struct{ name, large, ratio string }{ // DIN 807 (1966), from DIN 228
		{"MT0", "9.045mm", "19.212"},
		{"MT1", "12.065mm", "20.047"},
		{"MT2", "17.780mm", "20.020"},
		{"MT3", "23.825mm", "19.922"},
		{"MT4", "31.267mm", "19.254"},
		{"MT5", "44.399mm", "19.002"},
		{"MT6", "63.348mm", "19.180"},
	} {
		s := find(t, tc.name)
		if got := units.AsPrinted(*s.Large, tc.large); got != tc.large {
			t.Errorf("%s: %s, DIN 807 prints %s", tc.name, got, tc.large)
		}
		if got := published.Printed(float64(s.Ratio), tc.ratio); got != tc.ratio {
			t.Errorf("%s: 1:%s, DIN 807 prints 1:%s", tc.name, got, tc.ratio)
		}
	}
}

// The slips these tables invite.
func TestTraps(t *testing.T) {
	seven := find(t, "7/24-40")
	if got := published.Printed(seven.HalfAngle.Deg(), "8.2971"); got != "8.2971" { // the list that warns of 8.1301
		t.Error("7/24:", got)
	}
	if wrong := math.Atan(7.0/24) / 2 * 180 / math.Pi; published.Printed(wrong, "8.1301") != "8.1301" ||
		seven.HalfAngle.Deg() == wrong {
		t.Error("the slip itself has moved:", wrong)
	}
	// Gauge depth, not shank length: a Morse 2 on its 2-1/2 in of shank would
	// be 0.6144 in per foot.
	mt2 := find(t, "MT2")
	if got := published.Printed(float64(mt2.PerFoot), "0.5994"); got != "0.5994" {
		t.Error("Morse 2:", got)
	}
	shank := 12 * mt2.Large.Minus(*mt2.Small).MM() / 63.5
	if got := published.Printed(shank, "0.6144"); got != "0.6144" {
		t.Error("the slip itself has moved:", got)
	}
	// Pins: No. 2 inch is 0.193 in at the large end, a metric 6 is 6 mm at
	// the small end.
	inch, err := find(t, "PIN-1:48-2").Input(tapers.Input{Length: length("1in")})
	if err != nil {
		t.Fatal(err)
	}
	a, err := tapers.Solve(inch)
	if err != nil {
		t.Fatal(err)
	}
	// d = D - L/48 (the wiki's table): 0.193 - 0.0208 = 0.1722.
	if large, small := units.AsPrinted(*a.Large, "0.193in"), units.AsPrinted(*a.Small, "0.1722in"); large != "0.193in" ||
		small != "0.1722in" {
		t.Error("inch pin:", large, small)
	}
	metric, err := find(t, "PIN-1:50-6").Input(tapers.Input{Length: length("50mm")})
	if err != nil {
		t.Fatal(err)
	}
	b, err := tapers.Solve(metric)
	if err != nil {
		t.Fatal(err)
	}
	if !b.Small.Equal(units.Millimetres(6)) || !b.Large.Equal(units.Millimetres(7)) {
		t.Error("metric pin:", b.Small.Decimal(), b.Large.Decimal())
	}
	// 16 deg 51 min included, and degrees are not decimals: 8.425, not 8.255.
	if got := find(t, "R8").Included.DMS(false); got != "16°51'" {
		t.Error("R8:", got)
	}
	for name, half := range map[string]float64{"5C": 10, "ER": 8} { // from memory
		if got := find(t, name).HalfAngle.Deg(); got != half {
			t.Error(name, got)
		}
	}
	// The taper of pipe threads in table 13: half of 3° 34' 44", cut short.
	if got := find(t, "NPT").HalfAngle.DMS(false); got != "1°47'" {
		t.Error("pipe:", got)
	}
}

// The pins' large ends, as the published table has them.
func TestPublishedPins(t *testing.T) {
	for _, row := range published.Rows(t, "taper_pins_inch.csv") {
		s := find(t, "PIN-1:48-"+row["number"])
		if want := row["large_end_in"] + "in"; units.AsPrinted(*s.Large, want) != want {
			t.Errorf("pin %s: %v, %s", row["number"], s.Large.Decimal(), want)
		}
	}
	for _, e := range published.Examples(t, "dia_change") {
		// 1/4 in per foot over 1 in is 0.020833: the wiki's 0.2083 is ten times
		// that, a slip of the point.
		change := e.Num(t, 0) / 12 * e.Num(t, 1)
		if want, _ := e.Published.Float64(); published.Printed(change*10, "0.2083") != strconv.FormatFloat(want, 'f', 4, 64) {
			t.Error(change, want)
		}
		if got := float64(find(t, "PIN-1:48-0").PerFoot) / 12; math.Abs(got-change) > 1e-12 {
			t.Error("pin:", got, change)
		}
	}
}

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

// What a name fixes, what it leaves open, and what it refuses.
func TestInput(t *testing.T) {
	half := units.MustAngle("5")
	for _, tc := range []struct {
		name string
		more tapers.Input
		want string
	}{
		{"MT2", tapers.Input{}, "17.78 14.5288 65.0875"},
		{"mt 2", tapers.Input{}, "17.78 14.5288 65.0875"},
		{"MT4.5", tapers.Input{}, "38.1 32.1564 114.3"},
		{"Jarno6", tapers.Input{}, "19.05 15.24 76.2"},
		{"7/24-40", tapers.Input{}, "slope alone"},
		{"7/24-40", tapers.Input{Length: length("24mm")}, "44.45 37.45 24"},
		{"ER", tapers.Input{Large: length("10mm"), Small: length("8mm")}, "10 8 7.115369722"}, // 1/tan 8
		{"MT2", tapers.Input{Large: length("18mm")}, "standard: MT2: fixes large already: leave out one of the two"},
		{"R8", tapers.Input{HalfAngle: &half}, "standard: R8: fixes half-angle already: leave out one of the two"},
		{
			"ER",
			tapers.Input{Large: length("10mm")},
			"taper: only large: needs two of large, small and length beside the slope, or the slope alone",
		},
	} {
		got := ""
		in, err := find(t, tc.name).Input(tc.more)
		if err == nil {
			var s tapers.Taper
			if s, err = tapers.Solve(in); err == nil {
				got = "slope alone"
				if s.Length != nil {
					got = fmt.Sprint(s.Large.Decimal(), " ", s.Small.Decimal(), " ", s.Length.Decimal())
				}
			}
		}
		if err != nil {
			got = err.Error()
		}
		if got != tc.want {
			t.Errorf("%s: got %s, want %s", tc.name, got, tc.want)
		}
	}
	_, err := standard.Find("MT22")
	want := "standard: MT22: not a standard taper known here: write one such as MT2, B16, JT33, BS7, Jarno6, ISO40, " +
		"M1:20-6, PIN-1:50-6, PIN-1:48-2, D1-4, R8, 5C or ER32 (taper standards lists them)\n  did you mean MT2?"
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// A drill chuck taper is a part of a Morse taper (ISO 239 page: B10 and B12 of
// Morse 1, B16 and B18 of 2, B22 and B24 of 3), so it has its slope and no larger
// end; the odd ones start at the Morse taper's own gauge diameter. The small ends
// are those of the standard's drawing, from memory.
func TestDrillChuck(t *testing.T) {
	for _, tc := range []struct {
		name, morse, small string
		starts             bool
	}{
		{"B10", "MT1", "9.4mm", false},
		{"B12", "MT1", "11.1mm", true},
		{"B16", "MT2", "14.5mm", false},
		{"B18", "MT2", "16.2mm", true},
		{"B22", "MT3", "19.8mm", false},
		{"B24", "MT3", "21.3mm", true},
	} {
		b, m := find(t, tc.name), find(t, tc.morse)
		if got, want := fmt.Sprintf("%.3f", b.Ratio), fmt.Sprintf("%.3f", m.Ratio); got != want {
			t.Errorf("%s: 1:%s, %s is 1:%s", tc.name, got, tc.morse, want)
		}
		if got := units.AsPrinted(*b.Small, tc.small); got != tc.small {
			t.Errorf("%s: %s at the small end, want %s", tc.name, got, tc.small)
		}
		// DIN 807 rounds the gauge diameters to 0.001 mm.
		off := m.Large.Minus(*b.Large)
		if starts := off.Abs().Less(units.MustLength("0.001mm")); starts != tc.starts || off.Sign() < 0 && !starts {
			t.Errorf("%s: %v, %s starts at %v", tc.name, b.Large.Decimal(), tc.morse, m.Large.Decimal())
		}
	}
}

// The figures that other publications print.
func TestNoses(t *testing.T) {
	for name, most := range map[string]string{ // the chart's upper limits, each 0.008 to 0.016 mm over
		"D1-3": "53.983mm", "D1-4": "63.521mm", "D1-5": "82.573mm", "D1-6": "106.385mm", "D1-8": "139.731mm",
		"D1-11": "196.883mm",
	} {
		over := units.MustLength(most).Minus(*find(t, name).Large)
		if over.Less(units.MustLength("0.007mm")) || units.MustLength("0.016mm").Less(over) {
			t.Errorf("%s: the chart is %v over", name, over.Decimal())
		}
	}
	for _, size := range []string{"11", "16", "20", "25", "32", "40"} { // the holders' d2
		s := find(t, "ER"+size)
		if want := units.MustLength(size + "mm"); !s.Large.Equal(want) || s.Included.Deg() != 16 {
			t.Errorf("ER%s: %v, %v deg", size, s.Large.Decimal(), s.Included.Deg())
		}
	}
	if got := find(t, "D1-4").Ratio; math.Abs(float64(got)-4) > 1e-4 { // 7 deg 7' 30" is 1:4
		t.Error("short taper nose: 1 in", got)
	}
	if a, b := find(t, "L00").HalfAngle.Deg(), find(t, "7/24-40").HalfAngle.Deg(); math.Abs(a-b) > 1e-9 {
		t.Error("3.5 in per foot is 7/24:", a, b)
	}
}

// What people write, and what must not be guessed.
func TestWritten(t *testing.T) {
	for want, written := range map[string][]string{
		"MT2":        {"mt2", "MT 2", "2MT", "Morse 2", "Morse No. 2", "morse #2", "MK2", "CM 2", "Morse taper 2", "MTB2"},
		"MT4-1/2":    {"MT4.5", "Morse 4 1/2", "MT 4½"},
		"M1:20-80":   {"metric 80", "ME 80", "m1:20-80"},
		"BS7":        {"B&S 7", "Brown & Sharpe 7", "Brown and Sharpe No 7", "7BS"},
		"JT33":       {"Jacobs 33", "33JT", "Jacobs no. 33"},
		"JT2S":       {"JT2 short", "Jacobs 2 short"},
		"Jarno6":     {"JARNO 6", "Jarno No. 6", "jarno taper 6"},
		"7/24-40":    {"ISO 40", "ISO40", "SK40", "BT40", "CAT 40", "NMTB-40", "INT40", "40INT", "7/24 No 40", "7:24-40"},
		"7/24-30":    {"ISO30", "QC 30", "NT30"},
		"7/24-50":    {"ISO 50", "DIN 2080-50"},
		"B16":        {"b16", "B 16"},
		"ER32":       {"ER-32", "er 32", "ER collet 32"},
		"ER":         {"er"},
		"D1-4":       {"D1 4", "A2-4", "Camlock D1-4"},
		"PIN-1:48-4": {"Pin #4", "taper pin no 4", "1:48-4"},
		"PIN-1:50-6": {"1:50-6", "DIN 1-6"},
		"5C":         {"5c", "5-C"},
		"NPT":        {"npt"},
	} {
		for _, w := range written {
			if s, err := standard.Find(w); err != nil || s.Name != want {
				t.Errorf("%s: %s, %v, want %s", w, s.Name, err, want)
			}
		}
	}
	for _, w := range []string{
		"", "2", "MT", "MT8", "ISO41", "PIN4", "taper pin 6", "Morse", "B13", "ER33", "No", "J33", "X2MT",
	} {
		if s, err := standard.Find(w); err == nil {
			t.Errorf("%q was taken for %s", w, s.Name)
		}
	}
	for _, s := range standard.All() {
		if got, err := standard.Find(s.Name); err != nil || got.Name != s.Name {
			t.Errorf("%s finds %s, %v", s.Name, got.Name, err)
		}
	}
}

// Morse No. 2 as the sheet of standard tapers prints it: 0.5994 in per foot,
// 1.4307 deg half angle.
func ExampleFind() {
	s, err := standard.Find("MT2")
	if err != nil {
		panic(err)
	}
	fmt.Printf(
		"%.4f in per foot, half angle %.4f deg, %v mm at the large end\n", s.PerFoot, s.HalfAngle.Deg(), s.Large.Decimal(),
	)
	// Output: 0.5994 in per foot, half angle 1.4307 deg, 17.78 mm at the large end
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	published.Works(t, find(t, "MT2").Sheet())
	published.Works(t, find(t, "R8").Sheet())
}
