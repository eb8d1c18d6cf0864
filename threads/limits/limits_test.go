package limits_test

import (
	"fmt"
	"slices"
	"testing"

	"setover/setup/base/units"
	"setover/threads"
	"setover/threads/limits"
)

// Which classes stand for a designation and a class asked for beside it.
func TestChoose(t *testing.T) {
	for _, tc := range []struct{ spec, class, external, internal, err string }{
		{"M8", "", "6g", "6H", ""},
		{"M1.6", "", "6g", "6H", ""},
		{"M1.4", "", "6h", "5H", ""}, // under M1.6; 5H from memory
		{"M8-4g6g", "", "4g6g", "6H", ""},
		{"M8-6H", "", "6g", "6H", ""},
		{"M8-5H6H/8g", "", "8g", "5H6H", ""},
		{"M8", "6h", "6h", "6H", ""},
		{"M8-6g", "6g", "6g", "6H", ""},
		{"M8-6g", "7H", "6g", "7H", ""},
		{"M8-6g", "6h", "", "", "class: 6h: contradicts the designation, which says 6g"},
		{"M8-6H/6g", "5H", "", "", "class: 5H: contradicts the designation, which says 6H"},
		{"M8", "6x", "", "", "class: 6x: write a grade and a position: external such as 6g, 6h or 4g6g (pitch diameter " +
			"first), internal such as 6H, 5H or 6G"},
		{"M8", "2A", "", "", "class: 2A: write a grade and a position: external such as 6g, 6h or 4g6g (pitch diameter " +
			"first), internal such as 6H, 5H or 6G"},
		{"1/4-20", "", "2A", "2B", ""},
		{"1/4-20-3A", "", "3A", "2B", ""},
		{"1/4-20", "3B", "2A", "3B", ""},
		{"1/4-20", "4A", "", "", "class: 4A: write 1A, 2A or 3A for the screw, 1B, 2B or 3B for the nut"},
		{"G1/4", "", "A", "G", ""},
		{"G1/4B", "", "B", "G", ""},
		{"G1/4", "b", "", "", "class: b: write A or B for the external thread; the internal one has one class\n" +
			"  did you mean B?"},
		{"1/2-10ACME", "", "2G", "2G", ""},
		{"2BA", "", "", "", ""},
		{"2BA", "6g", "", "", "class: 6g: no classes of BA threads are known here"},
		{"M400x6", "", "", "", ""},
	} {
		external, internal, err := limits.Choose(threads.MustParse(tc.spec), tc.class)
		text := ""
		if err != nil {
			text = err.Error()
		}
		if external != tc.external || internal != tc.internal || text != tc.err {
			t.Errorf("%s, %s: %s %s %q", tc.spec, tc.class, external, internal, text)
		}
	}
}

// Every standard size in every usual class: a maximum above its minimum, the
// screw not above the basic size and the nut not under it, and the nut's
// threads clear of the screw's.
func TestLimitsHoldTogether(t *testing.T) {
	for _, d := range threads.All() {
		external, internal := limits.Classes(d)
		s := d.Sizes()
		for _, class := range external {
			e := limits.Of(d, class, "").External
			switch {
			case e == nil:
				t.Errorf("%s %s: no limits", d, class)
			case e.MajorMax.Cmp(e.MajorMin) <= 0 || e.PitchMax.Cmp(e.PitchMin) <= 0 || s.Major.Less(e.MajorMax) ||
				e.MinorMax.Cmp(e.PitchMin) >= 0:
				t.Errorf("%s %s: %+v", d, class, e)
			}
		}
		for _, class := range internal {
			i := limits.Of(d, "", class).Internal
			switch {
			case i == nil:
				t.Errorf("%s %s: no limits", d, class)
			case i.MinorMax.Cmp(i.MinorMin) <= 0 || i.PitchMax.Cmp(i.PitchMin) <= 0 ||
				i.MajorMin.Less(s.Major.Minus(units.MustLength("0.001mm"))):
				t.Errorf("%s %s: %+v", d, class, i)
			}
		}
		if len(external) > 0 {
			l := limits.Of(d, external[0], internal[0])
			if l.Internal.PitchMin.Less(l.External.PitchMax) ||
				l.Internal.MinorMin.Less(l.External.MinorMax.Minus(units.MustLength("0.02mm"))) {
				t.Errorf("%s: %s does not go into %s", d, external[0], internal[0])
			}
		}
	}
}

// Limits that no table of the reference folder holds: the crests of G screws
// and the ACME nut. In mm and in inches; all from memory of ISO 228-1 and ASME
// B1.5, table for class 2G.
func TestFromMemory(t *testing.T) {
	for _, tc := range []struct{ spec, majorMin string }{
		{"G1/8", "9.514mm"}, {"G1/4", "12.907mm"}, {"G1/2", "20.671mm"}, {"G1", "32.889mm"}, {"G2B", "59.254mm"},
	} {
		d := threads.MustParse(tc.spec)
		e := limits.Of(d, "A", "").External
		if got := units.AsPrinted(e.MajorMin, tc.majorMin); got != tc.majorMin {
			t.Errorf("%s: major at least %s, ISO 228-1 has %s", tc.spec, got, tc.majorMin)
		}
	}
	for _, tc := range []struct{ spec, major, pitchMin, pitchMax, minorMin, minorMax string }{
		{"1/2-10ACME", "0.5200in", "0.4500in", "0.4637in", "0.4000in", "0.4050in"},
		{"1-5ACME", "1.0200in", "0.9000in", "0.9194in", "0.8000in", "0.8100in"},
		{"1/4-16ACME", "0.2600in", "0.2188in", "0.2293in", "0.1875in", "0.1925in"}, // 0.005 in at the least
	} {
		i := limits.Of(threads.MustParse(tc.spec), "", "2G").Internal
		for _, f := range []struct {
			l    units.Length
			want string
		}{{i.MajorMin, tc.major}, {i.PitchMin, tc.pitchMin}, {i.PitchMax, tc.pitchMax}, {
			i.MinorMin,
			tc.minorMin,
		}, {i.MinorMax, tc.minorMax}} {
			if got := units.AsPrinted(f.l, f.want); got != f.want {
				t.Errorf("%s: %s, ASME B1.5 has %s", tc.spec, got, f.want)
			}
		}
	}
}

// What the blank's diameter stands for on a cone, and what is said of a form
// without limits: nothing of a straight blank where there is none.
func TestShowWords(t *testing.T) {
	const (
		basic = "no limits are known here for this form: the sizes are basic"
		blank = ", and the blank is turned from 0.1 P under the basic diameter up to it"
		cone  = "pitch and minor diameter stand at the gauge plane; the thread is on a cone of 1:16, so the blank is " +
			"turned to that taper"
		left  = "left-hand: with the spindle forward the leadscrew is reversed, and the carriage runs toward the tailstock"
		usual = "before a single-point tool or a die"
	)
	for _, tc := range []struct {
		spec, remark string
		warnings     []string
	}{
		{"M8", usual, nil},
		{"1/4-20-LH", usual, []string{left}},
		{"2BA", usual, []string{basic + blank}},
		{"M400x6", usual, []string{"ISO 965-1 has no tolerances for this diameter: the sizes are basic" + blank}},
		{"1/4NPT", "the pipe's outside, before the taper is turned", []string{basic, cone}},
		{"R1/2-LH", "at the gauge plane; the taper goes on past it", []string{basic, cone, left}},
	} {
		r, err := limits.Show(limits.Input{Thread: threads.MustParse(tc.spec)})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, w := range r.Warnings {
			got = append(got, w.Text.String())
		}
		if remark := r.Sheet().Facts[0].Remark.String(); remark != tc.remark || !slices.Equal(got, tc.warnings) {
			t.Errorf("%s: %q, %q", tc.spec, remark, got)
		}
	}
}

// The blank: the class's own limits, 0.1 P under basic for a die and within
// them; 0.1 P (common practice, no source) where there are none.
func TestTurnDown(t *testing.T) {
	for _, tc := range []struct{ spec, class, want string }{
		{"M8", "", "7.972 mm 7.76 mm 7.88 mm"},
		{"M8", "6e", "7.937 mm 7.725 mm 7.88 mm"},
		{"M6-6h", "", "6 mm 5.82 mm 5.9 mm"},
		{"1/4-20", "", "6.32206 mm 6.11632 mm 6.22 mm"},
		{"2BA", "", "4.7 mm 4.62 mm 4.62 mm"},
		{"M400x6", "", "400 mm 399.4 mm 399.4 mm"},
	} {
		got, err := limits.TurnDown(threads.MustParse(tc.spec), tc.class)
		if text := fmt.Sprintf("%v %v %v", got.Max.Typed(), got.Min.Typed(), got.ForDie.Typed()); err != nil ||
			text != tc.want {
			t.Errorf("%s %s: %s, %v; want %s", tc.spec, tc.class, text, err, tc.want)
		}
	}
}

func ExampleOf() {
	d := threads.MustParse("3/8-16UNC")
	l := limits.Of(d, "2A", "2B")
	fmt.Println("screw", l.External.MajorMax.Fixed(units.Inch, 4, units.Nearest), "hole",
		l.Internal.MinorMin.Fixed(units.Inch, 3, units.Nearest), l.Internal.MinorMax.Fixed(units.Inch, 3, units.Nearest))
	// Output: screw 0.3737 hole 0.307 0.321
}
