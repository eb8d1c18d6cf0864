package drills_test

import (
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/page/published"
)

// set returns a named set.
func set(t *testing.T, name string) []drills.Drill {
	t.Helper()
	list, err := drills.Set(name)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Every gauge there is, against the definitions of GNU units as Debian ships
// them: the program is asked for each name. It interpolates the 15 numbers its
// table leaves out, which come out right to the last place.
func TestGaugesAgainstUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("CI needs Debian's package units: ", err)
		}
		t.Skip("Debian's package units is not installed")
	}
	gauges := append(set(t, "number"), set(t, "letter")...)
	if len(gauges) != 80+26 {
		t.Fatalf("%d gauges", len(gauges))
	}
	var ask strings.Builder
	for _, d := range gauges {
		name := "drill" + d.Name
		if n, number := strings.CutPrefix(d.Name, "No"); number {
			name = "drillgauge(" + n + ")"
		}
		fmt.Fprintf(&ask, "%s\nin\n", name)
	}
	run := exec.Command(program, "--terse", "--quiet", "--digits", "10")
	run.Stdin = strings.NewReader(ask.String())
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Fields(string(out))
	if len(said) != len(gauges) {
		t.Fatalf("units answered %d of %d", len(said), len(gauges))
	}
	for i, d := range gauges {
		if want := units.MustLength(said[i] + "in"); !d.Dia.Equal(want) {
			t.Errorf("%s: %v, units says %s in", d.Name, d.Dia.Decimal(), said[i])
		}
	}
}

// The published lists of gauges and fractions: every size, at the precision
// each source prints.
func TestPublishedSizes(t *testing.T) {
	ours := map[string]units.Length{}
	for _, d := range drills.All() {
		ours[d.Name] = d.Dia
	}
	// Where a source disagrees, and who is right.
	disagrees := map[string]string{
		"No40 0.9800":    "a slip of the point: every other list has 0.0980",
		"5/32 in 0.1562": "0.15625 cut, not rounded", "9/32 in 0.2812": "0.28125 cut",
		"17/32 in 0.5312": "0.53125 cut", "21/32 in 0.6562": "0.65625 cut",
		"24/32 in 0.7812": "25/32 in is meant, whose size stands beside it, cut",
	}
	compared := 0
	for _, r := range published.Rows(t, "threads/drills.csv") {
		var name string
		switch r["series"] {
		case "number":
			n, err := strconv.Atoi(strings.TrimPrefix(r["name"], "#"))
			if err != nil || n > 80 { // smaller than No80 is watchmaking
				continue
			}
			name = fmt.Sprintf("No%d", n)
		case "letter":
			name = r["name"]
		case "fraction":
			name = r["name"] + " in"
		default:
			continue
		}
		compared++
		got := units.AsPrinted(ours[name], r["size"]+"in")
		if why := disagrees[name+" "+r["size"]]; (got == r["size"]+"in") == (why != "") {
			t.Errorf("%s: got %s; %s prints %s (%s)", name, got, r["source"], r["size"], why)
		}
	}
	if compared < 250 {
		t.Errorf("only %d sizes compared", compared)
	}
}

// Metric sizes from 0.2 to 25 mm are those of BS 328, with the quarter sizes
// below 14 mm beside them (from memory).
func TestMetricSizes(t *testing.T) {
	from, to := units.MustLength("0.2mm"), units.MustLength("25mm")
	var want []string
	for _, r := range published.Rows(t, "threads/drills.csv") {
		l, err := units.ParseLength(r["size"]+r["unit"], units.MM)
		if err != nil {
			t.Fatal(err)
		}
		if r["series"] == "metric" && l.Cmp(from) >= 0 && l.Cmp(to) <= 0 {
			want = append(want, l.Decimal().String()+" mm")
		}
	}
	for q := units.MustLength("3.25mm"); q.Less(units.MustLength("14mm")); q = q.Plus(units.MustLength("0.5mm")) {
		want = append(want, q.Decimal().String()+" mm")
	}
	var got []string
	for _, d := range drills.Metric() {
		got = append(got, d.Name)
		if d.Name != d.Dia.Decimal().String()+" mm" || d.Series != "metric" {
			t.Errorf("%+v", d)
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	want = slices.Compact(want)
	if !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

// Every list rises, and no name comes twice in it.
func TestOrder(t *testing.T) {
	lists := map[string][]drills.Drill{"all": drills.All(), "metric": drills.Metric()}
	for _, name := range drills.Sets() {
		lists[name] = set(t, name)
	}
	for name, l := range lists {
		seen := map[string]bool{}
		for i, d := range l {
			if i > 0 && d.Dia.Less(l[i-1].Dia) {
				t.Errorf("%s: %s after %s", name, d.Name, l[i-1].Name)
			}
			if seen[d.Name] || d.Dia.Sign() <= 0 {
				t.Errorf("%s: %s twice, or of no size", name, d.Name)
			}
			seen[d.Name] = true
		}
	}
	for name, want := range map[string]string{
		"number": "80 No80 No1", "letter": "26 A Z", "fraction-64": "64 1/64 in 1 in",
		"metric-0.1": "121 1 mm 13 mm", "metric-0.5": "25 1 mm 13 mm",
	} {
		l := lists[name]
		if got := fmt.Sprint(len(l), " ", l[0].Name, " ", l[len(l)-1].Name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

func TestFind(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"No7", "No7 5.1054 mm"}, // 0.201 in
		{"#7", "No7 5.1054 mm"},
		{"no80", "No80 0.3429 mm"}, // 0.0135 in
		{"F", "F 6.5278 mm"},       // 0.257 in
		{"f", "F 6.5278 mm"},
		{"3/8in", "3/8 in 9.525 mm"},
		{`3/8"`, "3/8 in 9.525 mm"},
		{"0.375in", "3/8 in 9.525 mm"},
		{"9.5mm", "9.5 mm 9.5 mm"},
		{" 6.8 mm ", "6.8 mm 6.8 mm"},
		{"0.5in", "1/2 in 12.7 mm"}, // one size in both systems keeps the name it was asked by
		{"12.70mm", "12.7 mm 12.7 mm"},
		{"0.25in", "E 6.35 mm"}, // E and 1/4 in are one size; the gauge comes first
	} {
		d, err := drills.Find(c.text)
		if got := d.Name + " " + d.Dia.Decimal().String() + " mm"; err != nil || got != c.want {
			t.Errorf("%q: got %s, %v; want %s", c.text, got, err, c.want)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"6.8", "6.8: a drill needs its unit or its gauge: write 6.8mm"},
		{"7", "7: a drill needs its unit or its gauge: write 7mm or No7"},
		{"", "not a drill: write a gauge (No7, F), a fraction (3/8in) or a metric size (6.8mm)"},
		{"No81", "No81: not a drill: write a gauge (No7, F), a fraction (3/8in) or a metric size (6.8mm)"},
		{"AA", "AA: not a drill: write a gauge (No7, F), a fraction (3/8in) or a metric size (6.8mm)"},
		{"6.85mm", "6.85mm: no drill is made in this size\n  did you mean 6.8 mm?"},
		{"33/32in", "33/32in: no drill is made in this size\n  did you mean 1 in?"},
		{"6,8mm", "6,8mm: not a drill: write a gauge (No7, F), a fraction (3/8in) or a metric size (6.8mm)"},
	} {
		_, err := drills.Find(c.text)
		_, got, _ := strings.Cut(fmt.Sprint(err), "drill: ")
		if got != c.want {
			t.Errorf("%q: got %v\nwant %s", c.text, got, c.want)
		}
	}
	const want = "drills: metric-0.25: not a set of drills: write number, letter, fraction-64, metric-0.1, metric-0.5 " +
		"or a single size such as 6.8mm\n  did you mean metric-0.5?"
	if _, err := drills.Set("metric-0.25"); fmt.Sprint(err) != want {
		t.Error(err)
	}
}

// A reamer, a centre drill or a collet is called by its fraction or in mm.
func TestStamped(t *testing.T) {
	for size, want := range map[string]string{
		"1/4in": "1/4 in", "5/64in": "5/64 in", "1/2in": "1/2 in", "1-1/8in": "1-1/8 in", "6mm": "6 mm", "3.15mm": "3.15 mm",
		"6.36mm": "6.36 mm",
	} {
		if got := drills.Stamped(units.MustLength(size)); got.Name != want || !got.Dia.Equal(units.MustLength(size)) {
			t.Errorf("%s: stamped %s, want %s", size, got.Name, want)
		}
	}
}

// Nearest takes the nearer, and of two equally near the smaller.
func TestNearest(t *testing.T) {
	list := set(t, "metric-0.5")
	for size, want := range map[string]string{
		"6.7mm": "6.5 mm", "6.75mm": "6.5 mm", "6.76mm": "7 mm", "0.1mm": "1 mm", "2in": "13 mm",
	} {
		if got := drills.Nearest(list, units.MustLength(size)).Name; got != want {
			t.Errorf("%s: got %s, want %s", size, got, want)
		}
	}
}
