package check_test

import (
	"testing"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// Each check lets what is right pass, and says one sentence of what is wrong.
func TestChecks(t *testing.T) {
	mm, none, zero := units.MustLength, (*units.Length)(nil), units.Length{}
	short := mm("-0.0254mm")
	for _, tc := range []struct {
		name  string
		check func(l *check.List)
		want  string
	}{
		{"above 0", func(l *check.List) {
			l.Above0("a", mm("1mm"))
			l.Above0("b", none, "c", 1)
			l.Above0("d", units.Number(0.5))
			l.Above0("e", units.Degrees(1))
		}, ""},
		{"not above 0", func(l *check.List) {
			l.Above0("a", zero)
			l.Above0("b", &short)
			l.Above0("c", 0, "d", -0.5, "e", units.Degrees(0))
		}, "a: 0 mm: must be above 0\nb: -0.0254 mm: must be above 0\nc: 0: must be above 0\n" +
			"d: -0.5: must be above 0\ne: 0 deg: must be above 0"},
		{"not below 0", func(l *check.List) {
			l.NotBelow0("a", zero)
			l.NotBelow0("b", none, "c", mm("-1mm"))
		}, "c: -1 mm: cannot be negative"},
		{"refused", func(l *check.List) {
			l.Refuse(short.Sign() > 0, problem.Impossible, "a", none, "is above 0")
			l.Refuse(short.Sign() < 0, problem.Impossible, "b", short, "is under ", zero)
		}, "b: -0.0254 mm: is under 0 mm"},
		{"above 0 to", func(l *check.List) {
			l.Above0To("a", units.Degrees(180), units.Degrees(180))
			l.Above0To("b", (*units.Angle)(nil), units.Degrees(180))
			l.Above0To("c", units.Degrees(180.1), units.Degrees(180))
			l.Above0To("d", zero, mm("500mm"))
		}, "c: 180.1 deg: must be above 0 and at most 180 deg\nd: 0 mm: must be above 0 and at most 500 mm"},
		{"above", func(l *check.List) {
			l.Above("a", mm("1.0001mm"), mm("1mm"))
			l.Above("b", none, zero)
			l.Above("c", mm("1mm"), mm("1mm"), "the ", "pin")
			l.Above("d", 2, 2.5)
		}, "c: 1 mm: must be above 1 mm, the pin\nd: 2: must be above 2.5"},
		{"between", func(l *check.List) {
			l.Between("a", 1, 1, 100, "passes")
			l.Between("a", 100, 1, 100, "passes")
			l.Between("b", none, zero, mm("5mm"))
			l.Between("c", 0, 1, 100, "passes")
			l.Between("d", mm("5.0001mm"), mm("1mm"), mm("5mm"))
			l.Between("e", 101, 1, 100, "passes")
			l.Between("f", units.Number(0.1), 0.2, 10.0, "s")
		}, "c: 0: write 1 to 100 passes\nd: 5.0001 mm: write 1 mm to 5 mm\n" +
			"e: 101: write 1 to 100 passes\nf: 0.1: write 0.2 to 10 s"},
		{"inside", func(l *check.List) {
			l.Inside("a", units.Degrees(45), units.Degrees(0), units.Degrees(90))
			l.Inside("b", units.Degrees(90), units.Degrees(0), units.Degrees(90))
			l.Inside("c", zero, zero, mm("3mm"), "the ", "bar")
		}, "b: 90 deg: must be above 0 deg and below 90 deg\nc: 0 mm: must be above 0 mm and below 3 mm, the bar"},
		{"one of", func(l *check.List) {
			check.OneOf(l, "a", "left", []string{"left", "right"})
			check.OneOf(l, "b", "lefd", []string{"left", "right"})
		}, "b: lefd: write left or right\n  did you mean left?"},
		{"exactly one", func(l *check.List) {
			l.ExactlyOne(check.If("a", &short), check.If("b", none))
			l.ExactlyOne(check.Option{Key: "a"}, check.Option{Key: "b"}, check.Option{Key: "c"})
			l.ExactlyOne(check.Option{Key: "a", Given: true}, check.Option{Key: "b", Given: true})
		}, "a: needs exactly one of a, b and c\na: a and b: give one of them"},
		{"at most one", func(l *check.List) {
			l.AtMostOne(check.Option{Key: "a"}, check.Option{Key: "b"})
			l.AtMostOne(check.Option{Key: "a", Given: true}, check.Option{Key: "b", Given: true})
		}, "a: a and b: give one of them"},
		{"together", func(l *check.List) {
			l.Together(check.Option{Key: "a"}, check.Option{Key: "b"})
			l.Together(check.Option{Key: "a", Given: true}, check.Option{Key: "b", Given: true})
			l.Together(check.Option{Key: "a", Given: true}, check.Option{Key: "b"}, check.Option{Key: "c", Given: true})
		}, "b: is needed with a and c"},
	} {
		var l check.List
		tc.check(&l)
		got := ""
		if err := l.Err(); err != nil {
			got = err.Error()
		}
		if got != tc.want {
			t.Errorf("%s: got\n%s\nwant\n%s", tc.name, got, tc.want)
		}
	}
}
