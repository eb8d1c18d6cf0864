package cut_test

import (
	"fmt"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/threads"
	"setover/threads/cut"
)

// The marks in words. A gear of 16 teeth on 8 tpi with 8 marks goes on by two
// threads of the leadscrew a mark: a lead of 4 threads wants every second one,
// of 8 every fourth, which is the one opposite. Nine teeth and nine marks go by
// one: a lead of three threads wants every third.
func TestDialWords(t *testing.T) {
	for _, tc := range []struct {
		thread, screw string
		gear, marks   int
		want, say     string
	}{
		{"4tpi", "8tpi", 16, 8, "[1 2 3 4 5 6 7 8]", "any mark"},
		{"2tpi", "8tpi", 16, 8, "[1 3 5 7]", "every second mark"},
		{"1tpi", "8tpi", 16, 8, "[1 5]", "the same mark or the one opposite"},
		{"0.5tpi", "8tpi", 16, 8, "[1]", "the same mark every time"},
		{"9mm", "3mm", 9, 9, "[1 4 7]", "every 3 marks"},
		{"1mm", "8tpi", 16, 8, "[]", "none: keep the half-nuts closed"},
	} {
		in := cut.DialInput{Thread: thread(tc.thread), Leadscrew: pitch(tc.screw), Gears: []int{tc.gear}, Marks: tc.marks}
		r, err := cut.Dial(in)
		if err != nil {
			t.Fatal(err)
		}
		if m := r.Marks[0]; fmt.Sprint(m.Marks) != tc.want || string(m.Say) != tc.say {
			t.Errorf("%s on %s: %v, %s; want %s, %s", tc.thread, tc.screw, m.Marks, m.Say, tc.want, tc.say)
		}
	}
}

// One gear of several that serves is enough, whichever it is: 1.25 mm on 3 mm
// wants a gear with a multiple of 5 teeth.
func TestDialKeep(t *testing.T) {
	for text, want := range map[string]bool{"14": true, "15": false, "15 14": false, "14 15 16": false, "14 16": true} {
		var gears []int
		for _, word := range strings.Fields(text) {
			var n int
			fmt.Sscan(word, &n)
			gears = append(gears, n)
		}
		r, err := cut.Dial(cut.DialInput{Thread: thread("M8"), Leadscrew: pitch("3mm"), Gears: gears, Marks: 4})
		if err != nil || r.Keep != want || r.Teeth != 5 {
			t.Errorf("%s teeth: keep closed %v, a multiple of %v, %v", text, r.Keep, r.Teeth, err)
		}
	}
}

// Shims by hand, on a lead of 1.5 mm: 4, 8, 16 and 32 deg are 1/60, 1/30, 1/15
// and 2/15 mm. Eight sides, 45 deg apart, want all four, since 4 + 8 + 16 = 28
// leave 17; twelve, 30 apart, are within 2 with three.
func TestShims(t *testing.T) {
	for sides, want := range map[int]string{
		8:  "0.017 mm 4 deg, 0.033 mm 8 deg, 0.067 mm 16 deg, 0.133 mm 32 deg",
		12: "0.017 mm 4 deg, 0.033 mm 8 deg, 0.067 mm 16 deg",
	} {
		in := cut.ClockInput{Thread: thread("M16x1.5"), Sides: number(sides), Within: units.Degrees(2)}
		r, err := cut.Clock(in)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, row := range r.Sheet().Tables[0].Rows {
			got = append(got, say.Of(row[0], " ", row[1]).In(units.MM))
		}
		if text := strings.Join(got, ", "); text != want || len(r.Shims) != len(got) {
			t.Errorf("%d sides: %s, want %s", sides, text, want)
		}
	}
}

// A turn within what pulling up gives is told of, and none beyond it.
func TestPullUp(t *testing.T) {
	for turn, want := range map[string]int{"4.9": 1, "5": 1, "5.1": 0} {
		in := cut.ClockInput{Thread: thread("0.5mm"), Turn: angle(turn), Short: units.Degrees(5), Within: units.Degrees(2)}
		if r, err := cut.Clock(in); err != nil || len(r.Warnings) != want {
			t.Errorf("%s deg: %v, %v", turn, r.Warnings, err)
		}
	}
}

// A first cut of the whole depth is no first cut.
func TestFirstCutOfTheDepth(t *testing.T) {
	in := cut.PassesInput{Spec: threads.MustParse("M10"), Reaction: 1}
	depth := passes(t, in).Depth
	in.First = &depth
	if _, err := cut.Passes(in); err == nil {
		t.Error("a first cut as deep as the thread was taken")
	}
}

// The last of n passes of equal section over M10's 0.974 mm takes about
// (0.974 + 0.162)/(2n) mm: 0.024 mm of 24, which rubs, and 0.036 mm of 16.
func TestThinCut(t *testing.T) {
	for n, want := range map[int]bool{16: false, 24: true, 100: true} {
		r := passes(t, cut.PassesInput{Spec: threads.MustParse("M10"), Reaction: 1, Passes: &n})
		thin := false
		for _, w := range r.Warnings {
			thin = thin || w.Code == "thin"
		}
		if last := r.Passes[n-1].Cut; thin != want || last.MM() < 0.974/2/float64(n) || last.MM() > 1.4/2/float64(n) {
			t.Errorf("%d passes: the last takes %s mm, thin %v", n, last.Decimal(), thin)
		}
	}
}

// NPT has flats and no rounding: its full nose is its flat one. ASME B1.20.1
// has 0.8 P for its depth and 0.033 P for the truncation.
func TestFlatForm(t *testing.T) {
	d := threads.MustParse("1/2NPT")
	full, err := cut.GrooveOf(d, false, cut.Full)
	if err != nil {
		t.Fatal(err)
	}
	flat, _ := cut.GrooveOf(d, false, cut.Flat)
	p := d.Pitch.MM()
	if full != flat || full.R != 0 || fmt.Sprintf("%.3f %.3f", full.Depth/p, full.T/p) != "0.800 0.033" {
		t.Errorf("%+v and %+v", full, flat)
	}
}
