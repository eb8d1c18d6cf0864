package cut_test

import (
	"testing"

	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/cut"
)

// Every formula that is shown comes to what is printed behind it.
func TestWorking(t *testing.T) {
	must := func(r sheet.Result, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		published.Works(t, r.Sheet())
	}
	for _, spec := range []string{"M10", "M16x1.5-6g", "1/4-20", "11.5tpi", "Tr40x14P7", "2BA"} {
		r, err := cut.Gears(cut.GearsInput{Thread: thread(spec), Leadscrew: pitch("8tpi"), Wheels: []int{
			20, 30, 35, 45, 60,
			63, 127,
		}, StudRatio: number(int64(2)), Most: 6})
		must(r, err)
		d, err := cut.Dial(cut.DialInput{Thread: thread(spec), Leadscrew: pitch("3mm"), Gears: []int{14}, Marks: 4})
		must(d, err)
		in := cut.ClockInput{Thread: thread(spec), Turn: angle("33d20m"), Short: units.Degrees(5), Within: units.Degrees(2)}
		c, err := cut.Clock(in)
		must(c, err)
		in.Turn, in.Sides = nil, number(7)
		c, err = cut.Clock(in)
		must(c, err)
	}
	for _, spec := range []string{"M10", "1/4-20", "Tr40x14P7", "2BA"} {
		p, err := cut.Passes(cut.PassesInput{Spec: threads.MustParse(spec), Reaction: 0.7})
		must(p, err)
		f, err := cut.Flats(cut.FlatsInput{Spec: threads.MustParse(spec), Bar: bar("9.1x4.2")})
		if err != nil || f.Fraction > 0 {
			must(f, err)
		}
	}
}
