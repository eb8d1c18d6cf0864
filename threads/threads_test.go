package threads_test

import (
	"fmt"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/threads"
)

// Every standard size reads back from its own name, names are unique, and
// sizes rise within a form.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	last := threads.Designation{}
	for _, d := range threads.All() {
		name := d.String()
		if seen[name] {
			t.Errorf("%s stands twice", name)
		}
		seen[name] = true
		got, err := threads.Parse(name)
		if err != nil || got.String() != name || !got.Major.Equal(d.Major) || !got.Pitch.Equal(d.Pitch) {
			t.Errorf("%s reads back as %v, %v", name, got, err)
		}
		// BA numbers rise as sizes fall
		if d.Form == last.Form && d.Series == last.Series && d.Major.Less(last.Major) != (d.Form.Key == "ba") {
			t.Errorf("%s stands after %s", name, last)
		}
		if d.Source() == "" {
			t.Errorf("%s has no source", name)
		}
		s := d.Sizes()
		if s.MinorExternal.Sign() <= 0 || s.PitchDiameter.Cmp(s.MinorInternal) <= 0 || s.Major.Cmp(s.PitchDiameter) < 0 {
			t.Errorf("%s has impossible sizes: %+v", name, s)
		}
		last = d
	}
}

// What people write, and its one written form.
func TestDesignations(t *testing.T) {
	for _, tc := range []struct{ text, want, major, lead string }{
		{"M8", "M8", "8 mm", "1.25 mm"},
		{"M8x1.25", "M8", "8 mm", "1.25 mm"},
		{"M8×1-6g", "M8x1-6g", "8 mm", "1 mm"},
		{"M 12 x 1.5 - 4g6g - LH", "M12x1.5-4g6g-LH", "12 mm", "1.5 mm"},
		{"M8-6H/6g", "M8-6H/6g", "8 mm", "1.25 mm"},
		{"1/4-20", "1/4-20UNC", "6.35 mm", "20 tpi"},
		{"1/4-28 UNF-2A", "1/4-28UNF-2A", "6.35 mm", "28 tpi"},
		{"8-32", "No8-32UNC", "4.1656 mm", "32 tpi"},
		{"#10-24", "No10-24UNC", "4.826 mm", "24 tpi"},
		{"No.8-32UNC-LH", "No8-32UNC-LH", "4.1656 mm", "32 tpi"},
		{"1-8", "1-8UNC", "25.4 mm", "8 tpi"},
		{"1-64", "No1-64UNC", "1.8542 mm", "64 tpi"},
		{"1 1/4-7", "1-1/4-7UNC", "31.75 mm", "7 tpi"},
		{"2-4.5", "2-4.5UNC", "50.8 mm", "4.5 tpi"},
		{"2-1/2-16UN", "2-1/2-16UN", "63.5 mm", "16 tpi"},
		{"10-28UNS", "No10-28UNS", "4.826 mm", "28 tpi"},
		{"1/8-20UNS", "1/8-20UNS", "3.175 mm", "20 tpi"}, // 2.5 pitches wide
		{"19/64-36UNS-2B", "19/64-36UNS-2B", "7.540625 mm", "36 tpi"},
		{"3/8 BSW", "3/8BSW", "9.525 mm", "16 tpi"},
		{"3/8-20BSF", "3/8BSF", "9.525 mm", "20 tpi"},
		{"2 BA", "2BA", "4.7 mm", "0.81 mm"},
		{"G1/4", "G1/4", "13.157 mm", "19 tpi"},
		{"G 1 1/4 A", "G1-1/4A", "41.91 mm", "11 tpi"},
		{"R1/2", "R1/2", "20.955 mm", "14 tpi"},
		{"1/4-18NPT", "1/4NPT", "13.716 mm", "18 tpi"},
		{"Tr12x3", "Tr12x3", "12 mm", "3 mm"},
		{"Tr40x14P7", "Tr40x14P7", "40 mm", "14 mm"},
		{"Tr40x14(P7)LH", "Tr40x14P7-LH", "40 mm", "14 mm"},
		{"1/2-10ACME-2G", "1/2-10ACME-2G", "12.7 mm", "10 tpi"},
	} {
		d, err := threads.Parse(tc.text)
		if err != nil {
			t.Errorf("%s: %v", tc.text, err)
			continue
		}
		if d.String() != tc.want || d.Major.Typed().String() != tc.major ||
			!d.Lead().Equal(units.MustPitch(strings.ReplaceAll(tc.lead, " ", ""))) {
			t.Errorf("%s: %s, major %v, lead %v", tc.text, d, d.Major.Typed(), d.Lead())
		}
		if again, err := threads.Parse(d.String()); err != nil || again.String() != d.String() {
			t.Errorf("%s does not read back: %v", d, err)
		}
	}
}

// What is refused, and what is said.
func TestRefusals(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"", "thread: not a thread's designation: write one such as M8x1-6g, 1/4-20UNC-2A, 3/8BSF, 2BA, G1/4, 1/4NPT, " +
			"Tr12x3 or 1/2-10ACME"},
		{"M8x", "thread: M8x: a pitch must follow the x"},
		{"M8x1,25", "thread: M8x1,25: a comma is not read as a decimal point: write M8x1.25"},
		{"m8", "thread: m8: not a thread's designation: write one such as M8x1-6g, 1/4-20UNC-2A, 3/8BSF, 2BA, G1/4, " +
			"1/4NPT, Tr12x3 or 1/2-10ACME\n  did you mean M8?"},
		{"M8x1.1", "thread: M8x1.1: no such thread: M8 is made as M8 (1.25 mm), M8x1, M8x0.8, M8x0.75 or M8x0.5\n  did " +
			"you mean M8x1?"},
		{"M13", "thread: M13: no metric thread has this size: there are M10, M11, M12, M14, M15, M16 (of M1 to M600)"},
		{"M200", "thread: M200: this size has no coarse pitch: write M200x8, M200x6, M200x4, M200x3 or M200x2"},
		{"M1000", "thread: M1000: no metric thread has this size: there are M580, M590, M600 (of M1 to M600)"},
		{"M15", "thread: M15: this size has no coarse pitch: write M15x1.5 or M15x1"},
		{"M8-6k", "thread: M8-6k: 6k is not a class here: write a grade and a position: external such as 6g, 6h or 4g6g " +
			"(pitch diameter first), internal such as 6H, 5H or 6G"},
		{"M8-7g", "thread: M8-7g: 7g is not a class here: write a grade and a position: external such as 6g, 6h or 4g6g " +
			"(pitch diameter first), internal such as 6H, 5H or 6G"},
		{"M8-9H", "thread: M8-9H: 9H is not a class here: write a grade and a position: external such as 6g, 6h or 4g6g " +
			"(pitch diameter first), internal such as 6H, 5H or 6G"},
		{"M8-2A", "thread: M8-2A: 2A is not a class here: write a grade and a position: external such as 6g, 6h or 4g6g " +
			"(pitch diameter first), internal such as 6H, 5H or 6G"},
		{"1/4-24", "thread: 1/4-24: no such thread: 1/4 is made as 1/4-20UNC, 1/4-28UNF or 1/4-32UNEF; a special thread " +
			"is written with UNS"},
		{"1/4-20UNF", "thread: 1/4-20UNF: this size and pitch is UNC: write 1/4-20UNC"},
		{"1/4-20UNJ", "thread: 1/4-20UNJ: UNJ is not a series here: write UNC, UNF, UNEF, UN or UNS"},
		{"3/7-20", "thread: 3/7-20: no unified thread has this size: there are 1/4, 5/16, 3/8, 7/16, 1/2, 9/16 (of No0 " +
			"to 6)"},
		{"1/4-19UNS", "thread: 1/4-19UNS: no such number of threads per inch: there are 4, 4.5, 5, 6, 7, 8, 9, 10, 11, " +
			"12, 13, 14, 16, 18, 20, 24, 27, 28, 32, 36, 40, 44, 48, 50, 56, 64, 72, 80"},
		{"1/64-72UNS", "thread: 1/64-72UNS: a unified thread is 0.06 to 6 in"},
		{"7-20UNS", "thread: 7-20UNS: a unified thread is 0.06 to 6 in"},
		{"1/8-4UNS", "thread: 1/8-4UNS: the pitch is too coarse for the diameter"},
		{"9-32", "thread: 9-32: no unified thread has this size: there are No5, No6, No8, No10, No12, 1/4 (of No0 to 6)"},
		{"1/4-20UNC-2C", "thread: 1/4-20UNC-2C: 2C is not a class here: write 1A, 2A or 3A for the screw, 1B, 2B or 3B " +
			"for the nut"},
		{"3/8-18BSW", "thread: 3/8-18BSW: no such thread: 3/8 is made as 3/8BSW or 3/8BSF\n  did you mean 3/8BSW?"},
		{"23/8BSW", "thread: 23/8BSW: no Whitworth thread has this size: there are 2-1/4, 2-1/2, 2-3/4, 3 (of 1/16 to 3)"},
		{"17BA", "thread: 17BA: no BA thread has this size: there are 0BA, 1BA, 2BA, 3BA, 4BA, 5BA, 6BA, 7BA, 8BA, 9BA, " +
			"10BA, 11BA, 12BA, 13BA, 14BA, 15BA, 16BA"},
		{"G7", "thread: G7: no G thread has this size: there are G1/16, G1/8, G1/4, G3/8, G1/2, G5/8, G3/4, G7/8, G1, " +
			"G1-1/8, G1-1/4, G1-1/2, G1-3/4, G2, G2-1/4, G2-1/2, G2-3/4, G3, G3-1/2, G4, G4-1/2, G5, G5-1/2, G6"},
		{"G1/4C", "thread: G1/4C: C is not a class here: write A or B for the external thread; the internal one has one " +
			"class"},
		{"Tr12x4", "thread: Tr12x4: no such thread: Tr12 is made as Tr12x3 or Tr12x2\n  did you mean Tr12x3?"},
		{"Tr40x15P7", "thread: Tr40x15P7: the lead must be 1 to 12 times the pitch, 7 mm"},
		{"Tr40x91P7", "thread: Tr40x91P7: the lead must be 1 to 12 times the pitch, 7 mm"},
		{"Tr13x3", "thread: Tr13x3: no trapezoidal thread has this size: there are Tr10, Tr11, Tr12, Tr14, Tr16, Tr18 " +
			"(of Tr8 to Tr120)"},
		{"1/2-11ACME", "thread: 1/2-11ACME: no such thread: 1/2 is made as 1/2-10ACME\n  did you mean 1/2-10ACME?"},
		{"1/2NPTF", "thread: 1/2NPTF: not a thread's designation: write one such as M8x1-6g, 1/4-20UNC-2A, 3/8BSF, 2BA, " +
			"G1/4, 1/4NPT, Tr12x3 or 1/2-10ACME\n  did you mean 1/2NPT?"},
		{
			"a designation that goes on and on and on for ever",
			"thread: a designation that goes on and on and on…: too long: a designation has at most 40 characters",
		},
	} {
		_, err := threads.Parse(tc.text)
		if err == nil || err.Error() != tc.want {
			t.Errorf("%s\ngot  %v\nwant %s", tc.text, err, tc.want)
		}
	}
}

// Basic sizes in float64 against √3 in 100 digits: within the 1e-9 mm that
// Sizes states, from the smallest thread to the largest.
func TestErrorBound(t *testing.T) {
	root3 := new(big.Float).SetPrec(400).Sqrt(new(big.Float).SetPrec(400).SetInt64(3))
	for _, tc := range []struct {
		spec     string
		num, den int64 // of √3·P under the major diameter
		got      func(threads.Sizes) units.Length
	}{
		{"M1x0.2", 3, 8, func(s threads.Sizes) units.Length { return s.PitchDiameter }},
		{"M8", 5, 8, func(s threads.Sizes) units.Length { return s.MinorInternal }},
		{"M8x1", 17, 24, func(s threads.Sizes) units.Length { return s.MinorExternal }},
		{"M300x8", 17, 24, func(s threads.Sizes) units.Length { return s.MinorExternal }},
		{"No0-80UNF", 3, 8, func(s threads.Sizes) units.Length { return s.PitchDiameter }},
		{"6-4UN", 11, 16, func(s threads.Sizes) units.Length { return s.MinorExternal }},
	} {
		d := threads.MustParse(tc.spec)
		p := new(big.Float).SetPrec(400).SetRat(d.Pitch.Rat())
		want := new(big.Float).SetPrec(400).SetRat(d.Major.Decimal().Rat())
		cut := new(big.Float).SetPrec(400).Mul(root3, p)
		cut.Mul(cut, new(big.Float).SetPrec(400).SetRat(big.NewRat(tc.num, tc.den)))
		off, _ := want.Sub(want, cut).Sub(want,
			new(big.Float).SetPrec(400).SetRat(tc.got(d.Sizes()).Decimal().Rat())).Float64()
		if math.Abs(off) > 1e-9 {
			t.Errorf("%s: off by %g mm", tc.spec, off)
		}
	}
}

// Preparation of the ends, by hand: M8 has its root at 6.466 mm, its pitch
// 1.25 mm (common practice, no source).
func TestEnds(t *testing.T) {
	for _, tc := range []struct{ spec, want string }{
		{"M8", "6.46 mm 0.77 mm 8.4 mm 3.75 mm 6 mm"},
		{"1/4-20", "4.83 mm 0.76 mm 6.6675 mm 3.81 mm 4.31 mm"},
		{"Tr12x3", "8.5 mm 1.75 mm 12.6 mm 9 mm 7.2 mm"},
	} {
		e := threads.MustParse(tc.spec).Ends()
		if got := fmt.Sprintf("%v %v %v %v %v", e.ChamferTo.Typed(), e.Chamfer.Typed(), e.Countersink.Typed(),
			e.ReliefWidth.Typed(), e.ReliefDiameter.Typed()); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.spec, got, tc.want)
		}
	}
	// ASME B1.20.1 has 0.7013 in, 17.813 mm, for the root at the small end of 1/2 NPT.
	e := threads.MustParse("1/2NPT").Ends()
	if e.ReliefWidth != nil || e.ReliefDiameter != nil || e.ChamferTo.Typed().String() != "17.81 mm" {
		t.Errorf("a taper thread has no relief and is chamfered to its small end's root: %s", e.ChamferTo.Typed())
	}
	for _, d := range threads.All() { // the relief clears the root of every form
		if e := d.Ends(); e.ReliefDiameter != nil && !e.ReliefDiameter.Less(d.Sizes().MinorExternal) {
			t.Errorf("%s: relief %v, root %v", d, e.ReliefDiameter.Typed(), d.Sizes().MinorExternal.Typed())
		}
	}
}

// Every source in sizes.csv is listed, or says that it is memory; how many
// sizes rest on memory may fall and not rise.
func TestSources(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(published.Dir(), "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	memory := map[string]int{}
	for _, d := range threads.All() {
		switch s := d.Source(); {
		case strings.Contains(s, "from memory"):
			memory[d.Form.Key]++
		case !strings.Contains(string(text), "- "+s+":"):
			t.Errorf("%s: the source %q is not in SOURCES.md", d, s)
		}
	}
	for form, most := range map[string]int{
		"metric": 0, "unified": 265, "whitworth": 25, "ba": 3, "g": 7, "r": 15, "npt": 3, "trapezoidal": 87, "acme": 18,
	} {
		t.Logf("%3d from memory: %s sizes", memory[form], form)
		if memory[form] > most {
			t.Errorf("%s: %d sizes rest on memory, there were %d", form, memory[form], most)
		}
	}
}

func ExampleParse() {
	d, err := threads.Parse("8-32 UNC-2A")
	if err != nil {
		panic(err)
	}
	s := d.Sizes()
	fmt.Println(d, s.Major.Fixed(units.Inch, 4, units.Nearest), s.PitchDiameter.Fixed(units.Inch, 4, units.Nearest))
	// Output: No8-32UNC-2A 0.1640 0.1437
}

func FuzzParse(f *testing.F) {
	for _, d := range threads.All() {
		f.Add(d.String())
	}
	f.Add("Tr40x14(P7)LH-7e")
	f.Fuzz(func(t *testing.T, text string) {
		d, err := threads.Parse(text)
		if err != nil {
			return
		}
		again, err := threads.Parse(d.String())
		if err != nil || again.String() != d.String() {
			t.Errorf("%q was read as %s, which reads as %s, %v", text, d, again, err)
		}
	})
}
