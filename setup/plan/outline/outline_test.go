package outline_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
)

func mm(text string) units.Length { return units.MustLength(text) }

func must(t testing.TB, r *part.Round) *outline.Outline {
	t.Helper()
	o, err := outline.New(r)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// digits returns lengths in mm with at most four decimals.
func digits(list ...units.Length) string {
	words := make([]string, len(list))
	for i, l := range list {
		words[i] = strings.TrimSuffix(strings.TrimRight(l.Fixed(units.MM, 4, units.Nearest), "0"), ".")
	}
	return strings.Join(words, " ")
}

// told lists an outline in a line for each thing on it.
func told(o *outline.Outline) []string {
	var list []string
	for _, s := range o.Stretches {
		line := fmt.Sprintf("%s %s: %s", digits(s.From, s.To), s.Kind(), digits(s.Left.Drawn, s.Right.Drawn))
		if f := s.Facets; f != nil {
			line += fmt.Sprintf(", %d sides: flats %s, corners %s, core %s, turned %s", f.Sides,
				digits(s.Left.Flats, s.Right.Flats), digits(s.Left.Corners, s.Right.Corners),
				digits(s.Left.Core, s.Right.Core), digits(s.Left.Turned, s.Right.Turned))
		}
		if s.Thread != nil {
			line += ", " + s.Thread.Designation.String()
		}
		list = append(list, line)
	}
	for _, s := range o.Shoulders {
		list = append(list, "shoulder "+digits(s.Z, s.Left, s.Right))
	}
	for _, b := range o.Bores {
		line := fmt.Sprintf("bore %s: %s, tip %s", digits(b.Dia), digits(b.Span.From, b.Span.To), digits(b.Tip))
		for _, t := range b.Threads {
			line += fmt.Sprintf(", %s over %s", t.Designation, digits(t.Span.From, t.Span.To))
		}
		list = append(list, line)
	}
	for _, t := range o.Threads {
		if !t.Inside {
			on := "nothing"
			if t.On != nil {
				on = digits(t.On.From, t.On.To)
			}
			list = append(list, fmt.Sprintf("%s over %s on %s", t.Designation, digits(t.Span.From, t.Span.To), on))
		}
	}
	for _, h := range o.Holes {
		list = append(list, fmt.Sprintf("%s: %s at %s, %s", h.Feature(), digits(h.Dia), digits(h.Z), h.Roll))
	}
	for _, s := range o.Slots {
		list = append(list, "slot "+digits(s.Span.From, s.Span.To))
	}
	return list
}

// The demo parts, worked by hand. Across corners an octagon is 1/cos 22.5° =
// 1.0823922 times its size across flats, and 2·0.3 on the flats are 0.6494 more
// on the round; a square is 1/√2 = 0.707107 of its corners across flats. A point
// of 118° is 0.300430 of its diameter long. Rows: 4 mm of web and half of each
// hole, 58 + 8.5 + 7.6.
func TestDemoParts(t *testing.T) {
	for name, want := range map[string]string{
		"plumb-bob": `
			0 10 cylinder: 16 16, M16x1.5
			10 14 cylinder: 16 16
			14 48 cylinder: 32 32
			48 92 taper: 32 20, 8 sides: flats 32 20, corners 34.6366 21.6478, core 32 20, turned 35.286 22.2973
			92 124 taper: 20 6
			shoulder 14 16 32
			bore 6.8: 0 18, tip 20.0429, M8 over 0 12
			M16x1.5 over 0 10 on 0 10
			hole 1: 4 at 31, 0 deg
			row 1 hole 1: 5 at 58, 0 deg
			row 1 hole 2: 4 at 66.5, 0 deg
			row 1 hole 3: 3.2 at 74.1, 0 deg
			row 1 hole 4: 5 at 58, 90 deg
			row 1 hole 5: 4 at 66.5, 90 deg
			row 1 hole 6: 3.2 at 74.1, 90 deg`,
		"cap": `
			0 32 cylinder: 30 30
			bore 14.5: 0 18, tip 22.3562, M16x1.5 over 0 12
			bore 3: 20 32, tip 19.0987
			hole 1: 4 at 26, 0 deg`,
		"spindle": `
			0 2 cylinder: 14 14
			2 18 cylinder: 14 14, 4 sides: flats 9.8995 9.8995, corners 14 14, core 9.8995 9.8995, turned 14 14
			18 20 cylinder: 14 14
			20 44 cylinder: 18 18
			44 150 taper: 18 12
			150 170 cylinder: 9 9
			shoulder 20 14 18
			shoulder 150 12 9
			row 1 hole 1: 2 at 60, 0 deg
			row 1 hole 2: 2 at 72, 0 deg
			row 1 hole 3: 2 at 84, 0 deg
			row 1 hole 4: 2 at 96, 0 deg
			row 1 hole 5: 2 at 60, 90 deg
			row 1 hole 6: 2 at 72, 90 deg
			row 1 hole 7: 2 at 84, 90 deg
			row 1 hole 8: 2 at 96, 90 deg`,
	} {
		p, _, err := files.Part("../../../testdata/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		got := told(must(t, p.Round))
		lines := strings.Split(strings.TrimSpace(want), "\n")
		for i := range max(len(got), len(lines)) {
			g, w := "nothing", "nothing"
			if i < len(got) {
				g = got[i]
			}
			if i < len(lines) {
				w = strings.TrimSpace(lines[i])
			}
			if g != w {
				t.Errorf("%s:\ngot  %s\nwant %s", name, g, w)
			}
		}
	}
}

// points reads "0:36 60:20": z and diameter.
func points(text string) []part.Station {
	var list []part.Station
	for w := range strings.FieldsSeq(text) {
		z, d, _ := strings.Cut(w, ":")
		list = append(list, part.Station{Z: mm(z), Dia: mm(d)})
	}
	return list
}

// What is asked of an outline, by hand. The dome of 25 mm radius over a chord
// of 30 mm rises 25 - 20 = 5 mm; seven along from its middle it is √(625 - 49)
// = 24 from its centre, so it has fallen by 1.
func TestLookups(t *testing.T) {
	dome := &part.Round{
		Profile: points("0:20 10:20 10:30 40:30 40:24 60:24 60:16 90:10"),
		Arcs:    []part.Arc{{From: mm("10"), To: mm("40"), Radius: mm("25"), Out: true}},
		Threads: []part.Thread{{From: part.Right, Spec: "M16", Length: mm("4")}},
		Facets:  []part.Facets{{Sides: 6, From: mm("42"), To: mm("55"), Leave: mm("0.5")}},
		Slots:   []part.Slot{{Z: mm("50"), Length: mm("7"), Width: mm("3")}},
	}
	waist := *dome
	waist.Arcs = []part.Arc{{From: mm("10"), To: mm("40"), Radius: mm("25")}}
	o, w := must(t, dome), must(t, &waist)
	stud := must(t, &part.Round{
		Profile: points("0:8 2:16 40:16 60:20"),
		Threads: []part.Thread{{From: part.Left, Spec: "M16", Length: mm("10")}},
	})
	neck := must(t, &part.Round{
		Profile: points("0:10 60:10"),
		Arcs:    []part.Arc{{From: mm("0"), To: mm("60"), Radius: mm("40")}},
	})
	span := func(from, to string) outline.Span { return outline.Span{From: mm(from), To: mm(to)} }
	for _, tc := range []struct {
		what, want string
		got        units.Length
	}{
		{"the crest of the dome", "40", o.DiaAt(mm("25"))},
		{"seven along", "38", o.DiaAt(mm("32"))},
		{"seven back", "38", o.DiaAt(mm("18"))},
		{"seven along the waist", "22", w.DiaAt(mm("32"))},
		{"the waist", "20", w.DiaAt(mm("25"))},
		{"a shoulder has the larger", "30", o.DiaAt(mm("10"))},
		{"the other end of the arc", "30", o.DiaAt(mm("40"))},
		{"a third down the taper", "14", o.DiaAt(mm("70"))},
		{"the end", "10", o.DiaAt(mm("90"))},
		{"beyond it", "0", o.DiaAt(mm("90.1"))},
		{"before the start", "0", o.DiaAt(mm("-0.1"))},
		{"the bar must hold the dome", "40", o.Largest()},
		{"and with the waist the ends of it, above 25/cos 30° = 28.8675", "30", w.Largest()},
		{"left end", "20", o.End(part.Left).Turned},
		{"right end", "10", o.End(part.Right).Turned},
		{"a rod in the dome, which is as thick at both ends", "30", o.Core(span("10", "40"))},
		{"a rod in a part of the dome", "38", o.Core(span("18", "26"))},
		{"a rod in the waist", "20", w.Core(span("18", "26"))},
		{"a rod in the waist beside its middle", "22", w.Core(span("32", "40"))},
		{"a rod in the flats", "24", o.Core(span("43", "59"))},
		{"a rod in the taper", "14", o.Core(span("65", "70"))},
		{"a rod in the thread is its root where that is under the taper", "10", o.Core(span("86", "90"))},
		{"a rod beyond the part", "0", o.Core(span("90", "95"))},
		{"a rod over several", "14.8", o.Core(span("41", "66"))},
		{"a rod in M16, 1.226869 of its pitch thinner", "13.5463", stud.Core(span("4", "8"))},
		{"a taper begins small", "8", stud.End(part.Left).Drawn},
		{"and ends large", "20", stud.End(part.Right).Drawn},
		{"an arc that would cut through the axis", "0", neck.Stretches[0].At(mm("30")).Drawn},
	} {
		if got := digits(tc.got); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.what, got, tc.want)
		}
	}
	counts := func(list []outline.Stretch) string {
		var words []string
		for _, s := range list {
			words = append(words, digits(s.From, s.To))
		}
		return strings.Join(words, ", ")
	}
	for _, tc := range []struct{ what, want, got string }{
		{"at a shoulder", "0 10, 10 40", counts(o.At(mm("10")))},
		{"within", "10 40", counts(o.At(mm("11")))},
		{"at the end", "86 90", counts(o.At(mm("90")))},
		{"at the start", "0 10", counts(o.At(mm("0")))},
		{"beyond", "", counts(o.At(mm("91")))},
		{"over a shoulder's neighbours", "10 40", counts(o.Over(span("10", "40")))},
		{"over two and a bit", "0 10, 10 40, 40 42", counts(o.Over(span("9", "41")))},
		{"over nothing", "", counts(o.Over(span("90", "95")))},
		{"from the left", "0 12", digits(o.FromEnd(part.Left, mm("12")).From, o.FromEnd(part.Left, mm("12")).To)},
		{"from the right", "78 90", digits(o.FromEnd(part.Right, mm("12")).From, o.FromEnd(part.Right, mm("12")).To)},
		{"in words", "z 9 mm to 41 mm", say.Of(span("9", "41")).In(say.MM)},
		{"in inches", "z 1 in to 2 in", say.Of(span("1in", "2in")).In(say.Inch)},
		{"the slot", "46.5 53.5", digits(o.Slots[0].Span.From, o.Slots[0].Span.To)},
	} {
		if tc.got != tc.want {
			t.Errorf("%s: %s, want %s", tc.what, tc.got, tc.want)
		}
	}
}

// The ends of an arc are the profile's own, to the last digit.
func TestArcEndsAreExact(t *testing.T) {
	o := must(t, &part.Round{
		Profile: points("0:10.00000000004 60:20.000000000003"),
		Arcs:    []part.Arc{{From: mm("0"), To: mm("60"), Radius: mm("100")}},
	})
	a, b := o.End(part.Left).Drawn, o.End(part.Right).Drawn
	if !a.Equal(mm("10.00000000004")) || !b.Equal(mm("20.000000000003")) {
		t.Errorf("the ends are %s and %s", a.Decimal(), b.Decimal())
	}
}

// A hole of a row has all that the row says, and its number among all holes.
func TestHolesOfRows(t *testing.T) {
	depth := mm("7")
	o := must(t, &part.Round{
		Profile: points("0:30 80:30"),
		Holes:   []part.Hole{{Z: mm("5"), Dia: mm("2")}},
		Rows: []part.Row{
			{
				From: mm("10"), Dias: []units.Length{mm("3")}, Count: 1, Offset: mm("-4"), Depth: &depth,
				MissBore: true, Crossing: true, ThroughThread: true,
			},
			{From: mm("40"), Dias: []units.Length{mm("4")}, Count: 2, Pitch: &depth},
		},
	})
	var got []string
	for _, h := range o.Holes {
		got = append(got, fmt.Sprintf("%d %d %d %s %t %t %t %t", h.N, h.Row, h.InRow, digits(h.Z, h.Dia, h.Offset),
			h.Depth != nil, h.MissBore, h.Crossing, h.ThroughThread))
	}
	want := []string{
		"1 0 0 5 2 0 false false false false",
		"2 1 1 10 3 -4 true true true true",
		"3 2 1 40 4 0 false false false false",
		"4 2 2 47 4 0 false false false false",
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("got %s, want %s", got[i], want[i])
		}
	}
}

// A bore through ends at the far face; a blind one in its point, 0.30043 of the
// diameter beyond its depth at 118°.
func TestTips(t *testing.T) {
	for _, tc := range []struct {
		from  part.End
		depth string
		want  string
	}{
		{part.Left, "0", "0 60, 60"},
		{part.Right, "0", "0 60, 0"},
		{part.Left, "20", "0 20, 23.0043"},
		{part.Right, "20", "40 60, 36.9957"},
	} {
		b := part.Bore{From: tc.from, Dia: mm("10"), Depth: mm(tc.depth), Through: tc.depth == "0"}
		x := must(t, &part.Round{Profile: points("0:20 60:20"), Bores: []part.Bore{b}}).Bores[0]
		if got := digits(x.Span.From, x.Span.To) + ", " + digits(x.Tip); got != tc.want {
			t.Errorf("%s %s: %s, want %s", tc.from, tc.depth, got, tc.want)
		}
	}
}

// Which cylinder and which bore a thread is bound to. The minor diameter of an
// M8 nut is 6.647, that of an M12 10.106 (ISO 724).
func TestThreadsAreBound(t *testing.T) {
	bore := func(from part.End, dia, depth string) part.Bore {
		return part.Bore{From: from, Dia: mm(dia), Depth: mm(depth), Through: depth == "0"}
	}
	thread := func(from part.End, spec, length string, inside bool) part.Thread {
		return part.Thread{From: from, Spec: spec, Length: mm(length), Inside: inside}
	}
	two := []part.Bore{bore(part.Left, "10.2", "8"), bore(part.Left, "6.8", "20")}
	through := []part.Bore{bore(part.Left, "6.8", "0")}
	for _, tc := range []struct {
		name, profile string
		bores         []part.Bore
		thread        part.Thread
		want          string
	}{
		{"the small one of a counterbore", "0:20 60:20", two, thread(part.Left, "M8", "12", true), "in 6.8"},
		{"the large one", "0:20 60:20", two, thread(part.Left, "M12", "6", true), "in 10.2"},
		{
			"the nearest to what is drilled for it", "0:20 60:20",
			[]part.Bore{bore(part.Left, "6.8", "20"), bore(part.Left, "7.5", "8")},
			thread(part.Left, "M8", "12", true), "in 6.8",
		},
		{
			"from below too", "0:20 60:20",
			[]part.Bore{bore(part.Left, "6", "20"), bore(part.Left, "6.7", "8")},
			thread(part.Left, "M8", "12", true), "in 6.7",
		},
		{"none at that end", "0:20 60:20", two, thread(part.Right, "M8", "12", true), "in nothing"},
		{"a bore through has two ends", "0:20 60:20", through, thread(part.Right, "M8", "12", true), "in 6.8"},
		{"not on the outside", "0:20 12:20 12:30 60:30", two, thread(part.Left, "M8", "12", true), "in 6.8"},
		{"a cylinder", "0:20 60:20", nil, thread(part.Right, "M20", "12", false), "on 48 60"},
		{"all of one", "0:20 60:20", nil, thread(part.Left, "M20", "60", false), "on 0 60"},
		{"points in the cylinder do not part it", "0:20 5:20 60:20", nil, thread(part.Left, "M20", "12", false), "on 0 12"},
		{"a taper is none", "0:20 60:10", nil, thread(part.Left, "M20", "12", false), "on nothing"},
		{"flats", "0:20 60:20", nil, thread(part.Right, "M20", "4", false), "on nothing"},
		{"over a shoulder", "0:20 10:20 10:16 60:16", nil, thread(part.Left, "M20", "12", false), "on nothing"},
	} {
		r := &part.Round{Profile: points(tc.profile), Bores: tc.bores, Threads: []part.Thread{tc.thread}}
		if tc.name == "flats" {
			r.Facets = []part.Facets{{Sides: 4, From: mm("56"), To: mm("60")}}
		}
		o := must(t, r)
		got := "on nothing"
		if tc.thread.Inside {
			got = "in nothing"
		}
		switch x := o.Threads[0]; {
		case x.On != nil:
			got = "on " + digits(x.On.From, x.On.To)
			if x.On.Thread != &o.Threads[0] {
				t.Errorf("%s: the cylinder has another thread", tc.name)
			}
		case x.In != nil:
			for _, s := range o.Stretches {
				if s.Thread != nil {
					t.Errorf("%s: it is on the outside too", tc.name)
				}
			}
			got = "in " + digits(x.In.Dia)
			if len(x.In.Threads) != 1 || x.In.Threads[0] != &o.Threads[0] {
				t.Errorf("%s: the bore has other threads", tc.name)
			}
		}
		if got != tc.want {
			t.Errorf("%s: %s, want %s", tc.name, got, tc.want)
		}
	}
}

func TestRefusals(t *testing.T) {
	at := problem.Pos{File: "bob.yaml", Line: 9, Col: 5, Key: "rows"}
	row := func(from string, pitch *units.Length) part.Row {
		return part.Row{From: mm(from), Dias: []units.Length{mm("3")}, Count: 3, Pitch: pitch, At: at}
	}
	six := mm("6")
	_, err := outline.New(&part.Round{
		Profile: points("0:20 60:20"),
		Threads: []part.Thread{{From: part.Left, Spec: "M8x", Length: mm("5"), At: at}},
		Rows:    []part.Row{row("10", nil), row("50", &six), row("-1", &six), row("48", &six)},
	})
	const beyond = " of the row lies beyond the part, which is 60 mm long"
	want := "bob.yaml:9:5: rows: needs exactly one of pitch, span and web\n" +
		"bob.yaml:9:5: rows: 62 mm: hole 3" + beyond + "\nbob.yaml:9:5: rows: -1 mm: hole 1" + beyond +
		"\nbob.yaml:9:5: spec: M8x: a pitch must follow the x"
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// aPart draws a part on whole millimetres: with steps, tapers and an arc here
// and there, facets of any kind, threads from both ends.
func aPart(t *rapid.T) *part.Round {
	r := &part.Round{}
	z, dia := 0, func() units.Length { return units.Millimetres(rapid.Int64Range(4, 40).Draw(t, "dia")) }
	r.Profile = []part.Station{{Dia: dia()}}
	for range rapid.IntRange(1, 6).Draw(t, "lines") {
		last := r.Profile[len(r.Profile)-1]
		from := z
		z += rapid.IntRange(1, 30).Draw(t, "length")
		next := part.Station{Z: units.Millimetres(int64(z)), Dia: last.Dia}
		kind := rapid.SampledFrom([]string{"cylinder", "taper", "arc", "arc"}).Draw(t, "kind")
		if kind != "cylinder" {
			next.Dia = dia()
		}
		if slope := next.Dia.Minus(last.Dia).Abs().Half(); kind == "arc" && slope.MM() < float64(z-from) {
			// of at least the chord's length and so slight that it does not turn back
			chord := math.Hypot(float64(z-from), slope.MM())
			flat := chord * chord / 2 / (float64(z-from) - slope.MM())
			radius := units.FromFloat(math.Ceil(max(chord, flat) * 2))
			r.Arcs = append(r.Arcs, part.Arc{From: last.Z, To: next.Z, Radius: radius, Out: rapid.Bool().Draw(t, "out")})
		}
		r.Profile = append(r.Profile, next)
		if d := dia(); rapid.Bool().Draw(t, "shoulder") && !d.Equal(next.Dia) {
			r.Profile = append(r.Profile, part.Station{Z: next.Z, Dia: d})
		}
	}
	if n := len(r.Profile); r.Profile[n-1].Z.Equal(r.Profile[n-2].Z) {
		r.Profile = r.Profile[:n-1]
	}
	for from := 0; from < z && len(r.Facets) < 3; {
		from += rapid.IntRange(0, 20).Draw(t, "gap")
		to := from + rapid.IntRange(1, 20).Draw(t, "facets")
		if to <= z {
			sides := rapid.IntRange(3, 9).Draw(t, "sides")
			r.Facets = append(r.Facets, part.Facets{
				Sides: sides, From: units.Millimetres(int64(from)), To: units.Millimetres(int64(to)),
				Corners: sides%2 == 1 || rapid.Bool().Draw(t, "corners"),
				Leave:   units.Millimetres(rapid.Int64Range(0, 3).Draw(t, "leave")).Half(),
			})
		}
		from = to
	}
	for _, end := range []part.End{part.Left, part.Right} {
		if l := rapid.IntRange(0, z/2).Draw(t, "thread"); l > 0 {
			r.Threads = append(r.Threads, part.Thread{From: end, Spec: "M6", Length: units.Millimetres(int64(l))})
		}
	}
	return r
}

// sample is what there is at one place, asked of the drawing and nothing else.
type sample struct {
	drawn, flats, corners, core, turned float64
	sides                               int
	thread                              part.End
}

// sampleAt looks at a place that is no corner of anything.
func sampleAt(r *part.Round, z float64) sample {
	var s sample
	for i, b := range r.Profile[1:] {
		z1, d1, z2, d2 := r.Profile[i].Z.MM(), r.Profile[i].Dia.MM(), b.Z.MM(), b.Dia.MM()
		if z < z1 || z2 < z {
			continue
		}
		s.drawn = d1 + (d2-d1)*(z-z1)/(z2-z1)
		for _, a := range r.Arcs {
			if a.From.MM() == z1 && a.To.MM() == z2 {
				s.drawn = 2 * onArc(z, z1, d1/2, z2, d2/2, a)
			}
		}
	}
	s.flats, s.corners, s.core, s.turned = s.drawn, s.drawn, s.drawn, s.drawn
	for _, f := range r.Facets {
		if z < f.From.MM() || f.To.MM() < z {
			continue
		}
		half := math.Pi / float64(f.Sides)
		apothem := s.drawn / 2
		if f.Corners {
			apothem *= math.Cos(half)
		}
		s.sides, s.core, s.flats, s.corners = f.Sides, 2*apothem, 2*apothem, 2*apothem/math.Cos(half)
		if f.Sides%2 == 1 {
			s.flats = apothem + apothem/math.Cos(half)
		}
		if s.turned = s.corners; !f.Corners {
			s.turned = 2 * (apothem + f.Leave.MM()) / math.Cos(half)
		}
	}
	for _, t := range r.Threads {
		if t.From == part.Left && z < t.Length.MM() || t.From == part.Right && r.Length().MM()-z < t.Length.MM() {
			s.thread = t.From
		}
	}
	return s
}

// onArc walks the centre out from the chord until both its ends are a radius
// away, and then the point at z away from the chord until it is.
func onArc(z, z1, r1, z2, r2 float64, a part.Arc) float64 {
	radius, chord, side := a.Radius.MM(), math.Hypot(z2-z1, r2-r1), 1.0
	if !a.Out {
		side = -1
	}
	far := 0.0 // from the chord to the centre
	for step := radius; step > 1e-13; step /= 2 {
		if math.Hypot(far+step, chord/2) <= radius {
			far += step
		}
	}
	cz, cr := (z1+z2)/2+side*far*(r2-r1)/chord, (r1+r2)/2-side*far*(z2-z1)/chord
	r := r1 + (r2-r1)*(z-z1)/(z2-z1)
	for step := 2 * radius; step > 1e-13; step /= 2 {
		if math.Hypot(z-cz, r+side*step-cr) <= radius {
			r += side * step
		}
	}
	return r
}

// Every place of a random part against the slow way, and stretches that join,
// end where something does, and are no more than are needed.
func TestAgainstSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := aPart(t)
		if len(part.Part{Round: r}.Check()) > 0 {
			t.Skip()
		}
		o, err := outline.New(r)
		if err != nil {
			t.Fatal(err)
		}
		corners := map[string]bool{}
		for i, s := range o.Stretches {
			if i == 0 && s.From.Sign() != 0 || i > 0 && !o.Stretches[i-1].To.Equal(s.From) || s.Length().Sign() <= 0 {
				t.Fatalf("stretch %d begins at %s", i, digits(s.From))
			}
			corners[digits(s.From)], corners[digits(s.To)] = true, true
			if i == 0 {
				continue
			}
			p := o.Stretches[i-1]
			if s.Kind() == outline.Cylinder && p.Kind() == outline.Cylinder && s.Left.Drawn.Equal(p.Right.Drawn) &&
				s.Facets == p.Facets && s.Thread == p.Thread {
				t.Fatalf("nothing parts the cylinder at %s", digits(s.From))
			}
		}
		if !o.Stretches[len(o.Stretches)-1].To.Equal(r.Length()) {
			t.Fatal("the last stretch does not end with the part")
		}
		var largest float64
		for half := 1; half < 2*int(r.Length().MM()); half++ {
			z := float64(half) / 2
			if half%2 == 0 && corners[strconv.Itoa(half/2)] {
				continue // a corner has two sides
			}
			want := sampleAt(r, z)
			s := o.At(units.FromFloat(z))
			if len(s) != 1 {
				t.Fatalf("%d stretches at %g", len(s), z)
			}
			is := s[0].At(units.FromFloat(z))
			got := sample{is.Drawn.MM(), is.Flats.MM(), is.Corners.MM(), is.Core.MM(), is.Turned.MM(), 0, ""}
			if s[0].Facets != nil {
				got.sides = s[0].Facets.Sides
			}
			if s[0].Thread != nil {
				got.thread = s[0].Thread.From
			}
			if !near(got, want) {
				t.Fatalf("at %g: %v, the slow way %v", z, got, want)
			}
			largest = max(largest, want.turned)
		}
		if o.Largest().MM() < largest-1e-8 {
			t.Fatalf("a bar of %s for %g", digits(o.Largest()), largest)
		}
	})
}

// near reports whether two samples are the same to 1e-7 mm: what a bisected arc
// is good for.
func near(a, b sample) bool {
	is := []float64{a.drawn, a.flats, a.corners, a.core, a.turned}
	for i, v := range []float64{b.drawn, b.flats, b.corners, b.core, b.turned} {
		if math.Abs(is[i]-v) > 1e-7 {
			return false
		}
	}
	return a.sides == b.sides && a.thread == b.thread
}
