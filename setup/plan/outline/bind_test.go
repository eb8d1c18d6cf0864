package outline_test

import (
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
)

// drilled reads bores as "left 10x8, right 6.8x, left 6x20": a bore without a
// depth runs through.
func drilled(text string) (list []part.Bore) {
	for i, item := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' }) {
		words := strings.Fields(item)
		dia, depth, _ := strings.Cut(words[1], "x")
		b := part.Bore{From: part.End(words[0]), Dia: units.MustLength(dia), At: problem.Pos{Line: 20 + i}}
		if b.Through = depth == ""; !b.Through {
			b.Depth = units.MustLength(depth)
		}
		list = append(list, b)
	}
	return list
}

// tapped reads threads as "left M8 12 in, right M16x1.5 10 out".
func tapped(text string) (list []part.Thread) {
	for i, item := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' }) {
		w := strings.Fields(item)
		list = append(list, part.Thread{
			From: part.End(w[0]), Spec: w[1], Length: units.MustLength(w[2]), Inside: w[3] == "in",
			At: problem.Pos{Line: 30 + i},
		})
	}
	return list
}

// Threads and the bores and cylinders they need. The percentages by hand, of
// 1.299038·P: M8 takes off 1.25·1.299038 = 1.6238 mm, so 6 mm leaves 2/1.6238 =
// 123 %, 5 mm 185 %, 6.8 mm 74 %; 90 % is a bore of 8 - 1.4614 = 6.539 mm and 50
// % one of 7.188. A thread of 55 deg counts its own depth: 1/4BSW is 0.25 in and
// 0.640327·2/20 = 0.0640 in deep, 0.186 in at its root.
func TestUnfit(t *testing.T) {
	const bar = "0:20 60:20"
	for _, tc := range []struct{ name, profile, bores, threads, want string }{
		{"a thread and its bore", bar, "left 6.8x20", "left M8 12 in", ""},
		{
			"no bore at all", bar, "", "left M8 12 in",
			"30: thread-1: no bore at the left end for M8; it needs 6.539 mm to 7.188 mm, 50 to 90 % of full thread",
		},
		{
			"its bore is at the other end", bar, "right 6.8x20", "left M8 12 in",
			"30: thread-1: no bore at the left end for M8: at the other end there is 6.8 mm (74 %); " +
				"it needs 6.539 mm to 7.188 mm, 50 to 90 % of full thread",
		},
		{
			"123 %", bar, "left 6x20", "left M8 12 in",
			"30: thread-1: no bore of the right size for M8: there is 6 mm (123 %); " +
				"it needs 6.539 mm to 7.188 mm, 50 to 90 % of full thread",
		},
		{
			"185 %", bar, "left 5x20", "left M8 12 in",
			"30: thread-1: no bore of the right size for M8: there is 5 mm (185 %); " +
				"it needs 6.539 mm to 7.188 mm, 50 to 90 % of full thread",
		},
		{
			"a bore wider than the thread, and one too small", bar, "left 10x8, left 6x20", "left M8 12 in",
			"30: thread-1: no bore of the right size for M8: there are 10 mm (0 %) and 6 mm (123 %); " +
				"it needs 6.539 mm to 7.188 mm, 50 to 90 % of full thread",
		},
		{"the bounds themselves, and just beyond", bar, "left 6.54x20", "left M8 12 in", ""},
		{"50 %", bar, "left 7.188x20", "left M8 12 in", ""},
		{
			"under 50 %", bar, "left 7.189x20", "left M8 12 in",
			"30: thread-1: no bore of the right size for M8: there is 7.189 mm (50 %); " +
				"it needs 6.539 mm to 7.188 mm, 50 to 90 % of full thread",
		},
		{"in inches", bar, "left 0.201inx1in", "left 1/4-20 0.5in in", ""},

		{"both ends of a bore through", bar, "left 6.8x", "left M8 20 in, right M8 20 in", ""},
		{"they meet in the middle", bar, "left 6.8x", "left M8 30 in, right M8 30 in", ""},
		{
			"they overlap", bar, "left 6.8x", "left M8 31 in, right M8 30 in",
			"31: thread-2: M8: runs into the thread from the other end of the bore, M8 on line 30: " +
				"together they are longer than the bore",
		},
		{
			"another size at the other end", bar, "left 6.8x", "left M8 20 in, right M10 20 in",
			"31: thread-2: no bore of the right size for M10: there is 6.8 mm (164 %); " +
				"it needs 8.247 mm to 9.025 mm, 50 to 90 % of full thread",
		},
		{
			"two from one end", bar, "left 6.8x", "left M8 20 in, left M8 10 in",
			"31: thread-2: M8: the bore of 6.8 mm has a thread from the left already, M8 on line 30",
		},

		{"behind a counterbore", bar, "left 9x6, left 5x30", "left M6 20 in", ""},
		{"the counterbore is tapped too", bar, "left 10.2x12, left 5x30", "left M12 10 in, left M6 25 in", ""},
		{
			"no further than the counterbore", bar, "left 9x6, left 5x30", "left M6 6 in",
			"30: thread-1: 6 mm: ends in the counterbore: the point of its drill leaves metal for M6 from 6.902 mm deep on, " +
				"and a thread's depth counts from the face of the end",
		},
		{
			"no further than its point", bar, "left 9x6, left 5x30", "left M6 6.9 in",
			"30: thread-1: 6.9 mm: ends in the counterbore: the point of its drill leaves metal for M6 from 6.902 mm " +
				"deep on, and a thread's depth counts from the face of the end",
		},
		{
			"deeper than its bore", bar, "left 5x10", "left M6 12 in",
			"30: thread-1: 12 mm: deeper than the bore for M6, which is 10 mm deep",
		},
		{
			"a bore inside another one", bar, "left 9x20, left 5x20", "",
			"21: bore-2: 5 mm: nothing of this bore is left: the one of 9 mm on line 20 is as deep",
		},
		{
			"a bore twice", bar, "left 9x20, left 9x20", "",
			"21: bore-2: 9 mm: nothing of this bore is left: the one of 9 mm on line 20 is as deep",
		},
		{
			"a bore of the same size, deeper", bar, "left 9x10, left 9x20", "",
			"20: bore-1: 9 mm: nothing of this bore is left: the one of 9 mm on line 21 is as deep",
		},
		{
			"a bore inside one through", bar, "right 9x, left 5x20", "",
			"21: bore-2: 5 mm: nothing of this bore is left: the one of 9 mm on line 20 is as deep",
		},

		{"a form of its own depth, bored to its root", bar, "left 0.186inx1in", "left 1/4BSW 0.5in in", ""},
		{"a trapezoidal nut, bored to its root", bar, "left 12x", "left Tr16x4 20 in", ""},
		{
			"and one that is not", bar, "left 10x", "left Tr16x4 20 in",
			"30: thread-1: no bore of the right size for Tr16x4: there is 10 mm (150 %); " +
				"it needs 11.8 mm to 14 mm, 50 to 105 % of full thread",
		},
		{"a taper pipe thread", bar, "left 7/16inx1in", "left 1/4NPT 0.4in in", ""},
		{
			"and one in a bore as wide as the pipe", bar, "left 13.7x20", "left 1/4NPT 10 in",
			"30: thread-1: no bore of the right size for 1/4NPT: there is 13.7 mm; it needs 10.856 mm to 11.499 mm",
		},

		{"on a cylinder", "0:16 20:16 20:20 60:20", "", "left M16x1.5 12 out", ""},
		{"as long as the cylinder", "0:16 20:16 20:20 60:20", "", "left M16x1.5 20 out", ""},
		{"drawn to a hundredth", "0:4.17 20:4.17 20:20 60:20", "", "left No8-32 12 out", ""},
		{
			"longer than its cylinder, into a shoulder", "0:16 12:16 12:20 60:20", "", "left M16x1.5 20 out",
			"30: thread-1: 20 mm: longer than the cylinder of 16 mm that M16x1.5 lies on, " +
				"which is 12 mm long to the shoulder at z 12 mm",
		},
		{
			"from the right", "0:20 48:20 48:16 60:16", "", "right M16x1.5 20 out",
			"30: thread-1: 20 mm: longer than the cylinder of 16 mm that M16x1.5 lies on, " +
				"which is 12 mm long to the shoulder at z 48 mm",
		},
		{
			"into a taper", "0:16 12:16 60:20", "", "left M16x1.5 20 out",
			"30: thread-1: 20 mm: longer than the cylinder of 16 mm that M16x1.5 lies on, " +
				"which is 12 mm long to the taper at z 12 mm",
		},
		{
			"on another size", "0:15 20:15 20:20 60:20", "", "left M16x1.5 12 out",
			"30: thread-1: M16x1.5: lies on a cylinder of 15 mm: its major diameter is 16 mm",
		},
		{
			"on a larger one", bar, "", "left M16x1.5 12 out",
			"30: thread-1: M16x1.5: lies on a cylinder of 20 mm: its major diameter is 16 mm",
		},
		{
			"on a taper", "0:14 20:16 60:16", "", "left M16x1.5 12 out",
			"30: thread-1: M16x1.5: lies on a taper, z 0 mm to 12 mm: it is cut on a cylinder of 16 mm",
		},
	} {
		r := &part.Round{Profile: points(tc.profile), Bores: drilled(tc.bores), Threads: tapped(tc.threads)}
		o := must(t, r)
		var got []string
		for _, p := range o.Unfit() {
			if p.Code != problem.Complete {
				t.Errorf("%s: code %s", tc.name, p.Code)
			}
			got = append(got, digits(units.Millimetres(int64(p.At.Line)))+": "+p.At.Key+": "+p.Message())
		}
		if list := strings.Join(got, "\n"); list != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.name, list, tc.want)
		}
	}
}

// A thread's depth counts from the face of its end; behind a counterbore it
// begins where the point of its drill has narrowed to the thread: from 9 to 6 that is
// 3/2/tan 59 = 0.9013.
func TestBehindACounterbore(t *testing.T) {
	for _, tc := range []struct{ bores, threads, want string }{
		{"left 9x6, left 5x30", "left M6 20 in", "6.9013 20"},
		{"left 9x6, left 12x2, left 5x30", "left M6 20 in", "6.9013 20"},
		{"right 9x6, right 5x30", "right M6 20 in", "40 53.0987"},
		{"right 9x6, left 5x", "left M6 20 in", "0 20"},
		{"right 9x6, left 5x", "right M6 20 in", "40 53.0987"},
		{"left 10.2x12, left 5x30", "left M12 10 in", "0 10"},
	} {
		o := must(t, &part.Round{Profile: points("0:20 60:20"), Bores: drilled(tc.bores), Threads: tapped(tc.threads)})
		x := o.Threads[0]
		if got := digits(x.Span.From, x.Span.To); got != tc.want || len(o.Unfit()) > 0 || x.In == nil {
			t.Errorf("%s, %s: over %s, %v; want %s", tc.bores, tc.threads, got, o.Unfit(), tc.want)
		}
	}
}

// An outside thread may lie on flats when they are two, and on nothing else
// that is cut after it.
func TestThreadOnFlats(t *testing.T) {
	for _, tc := range []struct {
		name  string
		sides int
		want  string
	}{
		{"two flats", 2, ""},
		{"a square", 4, "M20: lies on 4 sides: it is cut on a cylinder of 20 mm"},
	} {
		o := must(t, &part.Round{
			Profile: points("0:20 60:20"), Threads: tapped("left M20 20 out"),
			Facets: []part.Facets{{Sides: tc.sides, To: units.MustLength("10"), Across: units.MustLength("17")}},
		})
		got := ""
		for _, p := range o.Unfit() {
			got += p.Message()
		}
		if got != tc.want || (o.Threads[0].On == nil) != (tc.want != "") {
			t.Errorf("%s: got %q, on %v; want %q", tc.name, got, o.Threads[0].On, tc.want)
		}
	}
}

// A thread in a block needs a hole of its size as one in a bar does: M6 in 5 mm
// is 1/1.299038 = 77 %, in 4 mm 154 %. A taper thread is told without a percentage.
func TestUnfitBlock(t *testing.T) {
	at := func(line int) problem.Pos { return problem.Pos{Line: line, Key: "holes"} }
	size := units.MustLength
	list := outline.UnfitBlock(&part.Block{Holes: []part.BlockHole{
		{Dia: size("5"), Spec: "M6", At: at(1)},
		{Dia: size("4"), Spec: "M6", At: at(2)},
		{Dia: size("9"), At: at(3)},
		{Dia: size("9"), Spec: "M6x", At: at(4)},
		{Dia: size("1/4in"), Spec: "1/4-20", At: at(5)},
	}})
	want := []string{
		"hole-2: not of the right size for M6: it is 4 mm (154 %); it needs 4.831 mm to 5.35 mm, 50 to 90 % of full thread",
		"hole-5: not of the right size for 1/4-20UNC: it is 6.35 mm (0 %); it needs 4.866 mm to 5.525 mm, " +
			"50 to 90 % of full thread",
	}
	for i, p := range list {
		if got := p.At.Key + ": " + p.Message(); i >= len(want) || got != want[i] {
			t.Errorf("got %s", got)
		}
	}
	if len(list) != len(want) {
		t.Errorf("%d problems", len(list))
	}
}
