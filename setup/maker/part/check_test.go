package part_test

import (
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/part"
)

func mm(text string) units.Length { return units.MustLength(text) }

func size(text string) *units.Length {
	l := mm(text)
	return &l
}

func bought(text string) *part.Stock {
	s := part.RoundStock(mm(text))
	return &s
}

// bar is a sound round part of 20 mm, 16 mm over its last 20, 60 mm long.
func bar() *part.Round {
	return &part.Round{
		At: problem.Pos{Key: "round"},
		Profile: []part.Station{
			{Z: mm("0"), Dia: mm("20")},
			{Z: mm("40"), Dia: mm("20")},
			{Z: mm("40"), Dia: mm("16")},
			{Z: mm("60"), Dia: mm("16")},
		},
	}
}

// block is a sound block of 64 by 24 by 16 mm.
func block() *part.Block { return &part.Block{X: mm("64"), Y: mm("24"), Z: mm("16")} }

// at is a place of the kind reading gives a feature.
func at(key string, line int) problem.Pos { return problem.Pos{Key: key, Line: line} }

func check(t *testing.T, name string, p part.Part, want ...string) {
	t.Helper()
	var got []string
	for _, x := range p.Check() {
		got = append(got, x.At.Key+": "+x.Message())
	}
	if len(got) != len(want) {
		t.Errorf("%s: got %q, want %q", name, got, want)
		return
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("%s: got  %s\nwant %s", name, got[i], want[i])
		}
	}
}

func TestCheckRound(t *testing.T) {
	point := func(z, dia string) part.Station {
		return part.Station{Z: mm(z), Dia: mm(dia), At: at("profile", 7)}
	}
	profile := func(p ...part.Station) func(*part.Round) { return func(r *part.Round) { r.Profile = p } }
	arc := func(from, to, radius string) func(*part.Round) {
		return func(r *part.Round) {
			r.Arcs = []part.Arc{{From: mm(from), To: mm(to), Radius: mm(radius), At: at("arcs", 9)}}
		}
	}
	facets := func(f ...part.Facets) func(*part.Round) { return func(r *part.Round) { r.Facets = f } }
	flats := func(sides int, from, to string, corners bool) part.Facets {
		return part.Facets{Sides: sides, From: mm(from), To: mm(to), Corners: corners, At: at("facets", 9)}
	}
	leaving := func(f part.Facets, l string) part.Facets { f.Leave = mm(l); return f }
	bore := func(from part.End, dia, depth string, through bool) func(*part.Round) {
		return func(r *part.Round) {
			r.Bores = []part.Bore{{From: from, Dia: mm(dia), Depth: mm(depth), Through: through, At: at("bores", 9)}}
		}
	}
	thread := func(inside bool, length string) func(*part.Round) {
		return func(r *part.Round) {
			r.Threads = []part.Thread{{From: part.Left, Spec: "M8", Inside: inside, Length: mm(length), At: at("threads", 9)}}
		}
	}
	hole := func(z, dia, offset string, depth *units.Length) func(*part.Round) {
		return func(r *part.Round) {
			r.Holes = []part.Hole{{Z: mm(z), Dia: mm(dia), Offset: mm(offset), Depth: depth, At: at("holes", 9)}}
		}
	}
	row := func(from string, count int, dias []string, set func(*part.Row)) func(*part.Round) {
		return func(r *part.Round) {
			w := part.Row{From: mm(from), Count: count, At: at("rows", 9)}
			for _, d := range dias {
				w.Dias = append(w.Dias, mm(d))
			}
			if set != nil {
				set(&w)
			}
			r.Rows = []part.Row{w}
		}
	}
	pitch := func(w *part.Row) { w.Pitch = size("5mm") }
	slot := func(z, length, width string) func(*part.Round) {
		return func(r *part.Round) {
			r.Slots = []part.Slot{{Z: mm(z), Length: mm(length), Width: mm(width), At: at("slots", 9)}}
		}
	}
	for _, c := range []struct {
		name  string
		alter func(*part.Round)
		want  []string
	}{
		{"sound", func(*part.Round) {}, nil},
		{"a point at either end is sound", profile(point("0", "0"), point("5", "10"), point("9", "0")), nil},
		{"one point", profile(point("0", "20")), []string{"profile: needs at least two points"}},
		{"a negative diameter, and none on the way", profile(point("0", "-1"), point("5", "0"), point("9", "0")), []string{
			"profile: -1 mm: a diameter must be above 0 (an end may come to a point)",
			"profile: 0 mm: a diameter must be above 0 (an end may come to a point)",
		}},
		{
			"not from 0", profile(point("1", "20"), point("9", "20")),
			[]string{"profile: 1 mm: the profile begins at z = 0, the left end"},
		},
		{
			"back to the left", profile(point("0", "20"), point("9", "20"), point("8", "16"), point("12", "16")),
			[]string{"profile: 8 mm: points run from left to right: this one stands left of 9 mm"},
		},
		{
			"a point twice", profile(point("0", "20"), point("9", "20"), point("9", "20")),
			[]string{"profile: [9 mm, 20 mm]: the same point twice"},
		},
		{
			"three at one z", profile(point("0", "20"), point("9", "20"), point("9", "16"), point("9", "12"), point("10", "12")),
			[]string{"profile: 9 mm: a shoulder is two points at one z, this is the third"},
		},
		{"no length", profile(point("0", "20"), point("0", "16")), []string{"profile: 0 mm: the part has no length"}},
		{"a bar as thick as the part", func(r *part.Round) { r.Stock = bought("20mm") }, nil},
		{
			"a bar too thin", func(r *part.Round) { r.Stock = bought("3/4in") },
			[]string{"stock: 19.05 mm: smaller than the part's largest diameter, 20 mm"},
		},
		{"an arc as a half circle", arc("0", "40", "20"), nil},
		{"an arc too tight", arc("0", "40", "19.999"), []string{"radius: 19.999 mm: too small to reach over 40 mm"}},
		{ // 30 along and 40 on the radius are 50 from end to end
			"a steep arc too tight", func(r *part.Round) {
				r.Profile = []part.Station{point("0", "20"), point("30", "100"), point("60", "100")}
				arc("0", "30", "24.999")(r)
			}, []string{"radius: 24.999 mm: too small to reach over 50 mm"},
		},
		{"a steep arc that reaches", func(r *part.Round) {
			r.Profile = []part.Station{point("0", "20"), point("30", "100"), point("60", "100")}
			arc("0", "30", "25")(r)
		}, nil},
		{"an arc the wrong way", arc("40", "40", "20"), []string{"to: 40 mm: must lie to the right of from, 40 mm"}},
		{
			"an arc beyond the end", arc("40", "61", "200"),
			[]string{"arcs: 40 mm to 61 mm: lies beyond the part, which is 60 mm long"},
		},
		{
			"an arc before the start", arc("-1", "40", "200"),
			[]string{"arcs: -1 mm to 40 mm: lies beyond the part, which is 60 mm long"},
		},
		{"facets end to end", facets(flats(8, "0", "20", false), flats(5, "20", "40", true)), nil},
		{
			"odd facets across flats", facets(flats(5, "0", "20", false)),
			[]string{"across: flats: an odd number of sides is given across corners"},
		},
		{
			"facets that leave less than nothing", facets(leaving(flats(8, "0", "20", false), "-0.1")),
			[]string{"leave: -0.1 mm: cannot be negative"},
		},
		{
			"facets over facets", facets(flats(8, "0", "20", false), flats(6, "19.9", "40", false)),
			[]string{"from: 19.9 mm: overlaps the facets on line 9"},
		},
		{
			"facets beyond the end", facets(flats(8, "50", "2.5in", false)),
			[]string{"facets: 50 mm to 63.5 mm: lies beyond the part, which is 60 mm long"},
		},
		{"a bore as deep as the part", bore(part.Left, "6", "60", false), nil},
		{"a bore through", bore(part.Right, "6", "0", true), nil},
		{
			"a bore through with a depth", bore(part.Left, "6", "10", true),
			[]string{"depth: 10 mm: a bore through has no depth"},
		},
		{"a bore of no depth", bore(part.Left, "6", "0", false), []string{"depth: a bore needs its depth, or through: true"}},
		{
			"a bore too deep", bore(part.Left, "6", "60.1", false),
			[]string{"depth: 60.1 mm: deeper than the part is long, 60 mm: write through: true"},
		},
		{
			"a bore that leaves nothing", bore(part.Right, "16", "10", false),
			[]string{"dia: 16 mm: as large as the part is at that end, 16 mm"},
		},
		{"the same at the thick end is sound", bore(part.Left, "16", "10", false), nil},
		{"an outside thread of no length", thread(false, "0"), []string{"length: an outside thread needs its length"}},
		{"an inside thread of no depth", thread(true, "0"), []string{"depth: an inside thread needs its depth"}},
		{"an outside thread too long", thread(false, "60.1"), []string{"length: 60.1 mm: longer than the part, 60 mm"}},
		{"an inside thread too deep", thread(true, "60.1"), []string{"depth: 60.1 mm: longer than the part, 60 mm"}},
		{"a hole at the very end", hole("60", "3", "0", nil), nil},
		{"a hole at the very start", hole("0", "3", "0", nil), nil},
		{"a hole beyond the end", hole("60.1", "3", "0", nil), []string{"at: 60.1 mm: beyond the part, which is 60 mm long"}},
		{
			"a hole before the start", hole("-0.1", "3", "0", nil),
			[]string{"at: -0.1 mm: beyond the part, which is 60 mm long"},
		},
		{
			"a hole beside the bar", hole("50", "3", "-8", nil),
			[]string{"offset: -8 mm: misses the part, which is 16 mm in diameter there"},
		},
		{"at a shoulder the larger diameter counts", hole("40", "3", "9", nil), nil},
		{
			"a blind hole through", hole("50", "3", "0", size("16")),
			[]string{"depth: 16 mm: deeper than the part is there, 16 mm: leave depth out for a hole through"},
		},
		{"a blind hole", hole("50", "3", "0", size("15.9")), nil},
		{"a row of two sizes", row("5", 0, []string{"3", "1/8in"}, pitch), nil},
		{"a row of one size", row("5", 3, []string{"3"}, pitch), nil},
		{"one hole needs no pitch", row("5", 1, []string{"3"}, nil), nil},
		{"a row of nothing", row("5", 3, nil, pitch), []string{"dias: a row needs dias, or dia with count"}},
		{
			"a row whose count differs", row("5", 3, []string{"3", "4"}, pitch),
			[]string{"count: 3: but 2 diameters are listed"},
		},
		{"one size without a count", row("5", 0, []string{"3"}, pitch), []string{"count: one diameter needs a count"}},
		{
			"a row without a step", row("5", 3, []string{"3"}, nil),
			[]string{"pitch: needs exactly one of pitch, span and web"},
		},
		{
			"a row of two steps", row("5", 3, []string{"3"}, func(w *part.Row) { pitch(w); w.Span = size("10") }),
			[]string{"pitch: pitch and span: give one of them"},
		},
		{
			"a row beyond the end", row("61", 3, []string{"3"}, pitch),
			[]string{"from: 61 mm: beyond the part, which is 60 mm long"},
		},
		{
			"a row that runs beyond the end", row("51", 3, []string{"3"}, pitch),
			[]string{"pitch: 61 mm: the last hole's centre lies beyond the part, which is 60 mm long"},
		},
		{"a row that ends at the end", row("50", 3, []string{"3"}, pitch), nil},
		{
			"a span beyond the end", row("5", 3, []string{"3"}, func(w *part.Row) { w.Span = size("56") }),
			[]string{"span: 61 mm: the last hole's centre lies beyond the part, which is 60 mm long"},
		},
		// Centres by the web: 3/2 + 2 + 4/2 = 5.5, then 4/2 + 2 + 5/2 = 6.5.
		{"webs that run to the end", row("48", 0, []string{"3", "4", "5"}, func(w *part.Row) { w.Web = size("2") }), nil},
		{
			"webs beyond the end", row("48.1", 0, []string{"3", "4", "5"}, func(w *part.Row) { w.Web = size("2") }),
			[]string{"web: 60.1 mm: the last hole's centre lies beyond the part, which is 60 mm long"},
		},
		{"a slot to both ends", slot("30", "60", "5"), nil},
		{
			"a slot beyond the start", slot("4", "10", "3"),
			[]string{"at: 4 mm: the slot runs beyond the part, which is 60 mm long"},
		},
		{
			"a slot beyond the end", slot("56", "10", "3"),
			[]string{"at: 56 mm: the slot runs beyond the part, which is 60 mm long"},
		},
		{"a slot wider than long", slot("30", "3", "5"), []string{"length: 3 mm: shorter than the slot is wide, 5 mm"}},
	} {
		r := bar()
		c.alter(r)
		check(t, c.name, part.Part{Round: r}, c.want...)
	}
}

func TestCheckBlock(t *testing.T) {
	slope := func(from, to, x, y string) part.Slope {
		return part.Slope{
			FromX: mm(from), ToX: mm(to), AlongX: units.MustAngle(x), AlongY: units.MustAngle(y), At: at("slopes", 9),
		}
	}
	slopes := func(s ...part.Slope) func(*part.Block) { return func(b *part.Block) { b.Slopes = s } }
	slot := func(x, y, length, width string, depth *units.Length) func(*part.Block) {
		return func(b *part.Block) {
			b.Slots = []part.Slot{{X: mm(x), Y: mm(y), Length: mm(length), Width: mm(width), Depth: depth, At: at("slots", 9)}}
		}
	}
	under := func(s part.Slope) part.Slope { s.Face = part.Bottom; return s }
	into := func(f part.Face, alter func(*part.Block)) func(*part.Block) {
		return func(b *part.Block) { alter(b); b.Slots[0].Face = f }
	}
	hole := func(x, y string, depth *units.Length) func(*part.Block) {
		return func(b *part.Block) {
			b.Holes = []part.BlockHole{{X: mm(x), Y: mm(y), Dia: mm("4"), Depth: depth, At: at("holes", 9)}}
		}
	}
	const outside = ": must run left to right within the block, 0 to 64 mm"
	for _, c := range []struct {
		name  string
		alter func(*part.Block)
		want  []string
	}{
		{"sound", func(*part.Block) {}, nil},
		{"two slopes side by side", slopes(slope("0", "32", "9", "0"), slope("32", "64", "-9", "3")), nil},
		{"a slope the wrong way", slopes(slope("32", "32", "9", "0")), []string{"from_x: 32 mm to 32 mm" + outside}},
		{"a slope before the block", slopes(slope("-1", "32", "9", "0")), []string{"from_x: -1 mm to 32 mm" + outside}},
		{"a slope beyond the block", slopes(slope("32", "65", "9", "0")), []string{"from_x: 32 mm to 65 mm" + outside}},
		{"slopes too steep", slopes(slope("0", "32", "-60", "60")), []string{
			"along_x: -60 deg: must be above -60 deg and below 60 deg",
			"along_y: 60 deg: must be above -60 deg and below 60 deg",
		}},
		{"as steep as may be", slopes(slope("0", "5", "-59.9", "0")), nil},
		{ // 50·tan 10 = 8.8163 and 24·tan 17 = 7.3375 are 16.1539
			"a slope through the block", slopes(slope("0", "50", "10", "17")),
			[]string{"along_x: 10 deg: the slope falls 16.154 mm to its lowest corner, and the block is 16 mm high: " +
				"a gentler slope, or a higher block"},
		},
		{"a slope that leaves a little", slopes(slope("0", "50", "10", "16")), nil}, // 15.6984
		{
			"a slope along y through the block", slopes(slope("0", "50", "0", "-40")), // 24·tan 40 = 20.1384
			[]string{"along_y: -40 deg: the slope falls 20.139 mm to its lowest corner, and the block is 16 mm high: " +
				"a gentler slope, or a higher block"},
		},
		{
			"slopes over one another", slopes(slope("0", "32", "9", "0"), slope("31", "64", "-9", "0")),
			[]string{"from_x: 31 mm: overlaps the slope on line 9"},
		},
		// 50·tan 10 = 8.8163 off the top at x 0, and the same off the bottom at x 50: 16 - 8.8163
		// is left everywhere; at x 0 both leave nothing.
		{"parallel slopes", slopes(slope("0", "50", "10", "0"), under(slope("0", "50", "-10", "0"))), nil},
		{
			"slopes that meet", slopes(slope("0", "50", "10", "0"), under(slope("0", "50", "10", "0"))),
			[]string{"along_x: 10 deg: leaves nothing between it and the slope on line 9: a gentler slope, or a higher block"},
		},
		{
			"slopes of the top and the bottom, apart",
			slopes(slope("0", "30", "20", "0"), under(slope("30", "60", "20", "0"))), nil,
		},
		{"a slot", slot("20", "12", "18", "6", size("15.9")), nil},
		{"a slot in the front, as deep as it is wide", into(part.Front, slot("20", "12", "18", "6", size("24"))), []string{
			"depth: 24 mm: as deep as the block is wide, 24 mm: leave depth out to go through",
		}},
		{"a slot above the front", into(part.Front, slot("20", "17", "18", "6", nil)), []string{
			"at: [20 mm, 17 mm]: beyond the block, 64 mm by 16 mm",
		}},
		{"a slot in an end", into(part.LeftF, slot("20", "12", "18", "6", size("63"))), nil},
		{
			"a slot wider than long", slot("20", "12", "5", "6", nil),
			[]string{"length: 5 mm: shorter than the slot is wide, 6 mm"},
		},
		{
			"a slot as deep as the block", slot("20", "12", "18", "6", size("16")),
			[]string{"depth: 16 mm: as deep as the block is high, 16 mm: leave depth out to go through"},
		},
		{
			"a slot beside the block", slot("65", "12", "18", "6", nil),
			[]string{"at: [65 mm, 12 mm]: beyond the block, 64 mm by 24 mm"},
		},
		{"a hole in the corner", hole("64", "0", nil), nil},
		{"a hole beside the block", hole("1", "1in", nil), []string{"at: [1 mm, 25.4 mm]: beyond the block, 64 mm by 24 mm"}},
		{
			"a hole beside the block, too deep too", hole("-1", "5", size("17")),
			[]string{"at: [-1 mm, 5 mm]: beyond the block, 64 mm by 24 mm"},
		},
		{"a hole left of the block", hole("-1", "5", nil), []string{"at: [-1 mm, 5 mm]: beyond the block, 64 mm by 24 mm"}},
		{"a hole as deep as the block", hole("5", "5", size("5/8in")), nil},
		{
			"a hole deeper than the block", hole("5", "5", size("17")),
			[]string{"depth: 17 mm: as deep as the block is high, 16 mm: leave depth out to go through"},
		},
	} {
		b := block()
		c.alter(b)
		check(t, c.name, part.Part{Block: b}, c.want...)
	}
	check(t, "a part of nothing", part.Part{})
}

// The profile is straight between its points; at a shoulder the larger counts.
func TestDiaAt(t *testing.T) {
	r := part.Round{Profile: []part.Station{
		{Z: mm("0"), Dia: mm("10")},
		{Z: mm("30"), Dia: mm("20")},
		{Z: mm("30"), Dia: mm("1in")},
		{Z: mm("60"), Dia: mm("1in")},
	}}
	for z, want := range map[string]string{
		"0": "10", "15": "15", "3": "11", "30": "25.4", "45": "25.4", "60": "25.4", "60.1": "0", "0.7": "10.233333333",
	} {
		if got := r.DiaAt(mm(z)); !got.Equal(mm(want)) {
			t.Errorf("at %s: got %s, want %s", z, got.Decimal(), want)
		}
	}
	if got := r.Largest(); !got.Equal(mm("1in")) {
		t.Errorf("largest %s", got.Decimal())
	}
}

// edged is a part with a chamfered end, a shoulder and a taper:
// 16 mm to z 20, 20 mm to z 50, a taper down to 10 mm at z 80.
func edged() *part.Round {
	return &part.Round{At: at("round", 6), Profile: []part.Station{
		{Z: mm("0"), Dia: mm("16")},
		{Z: mm("20"), Dia: mm("16")},
		{Z: mm("20"), Dia: mm("20")},
		{Z: mm("50"), Dia: mm("20")},
		{Z: mm("80"), Dia: mm("10")},
	}}
}

func TestCheckChamfers(t *testing.T) {
	for _, tc := range []struct {
		name, z, size string
		want          []string
	}{
		{"an end", "0", "1", nil},
		{"the far end, of a taper", "80", "1", nil},
		{"a shoulder, as high as it is", "20", "2", nil},
		{"in inches", "0", "1/16in", nil},
		{"no edge", "10", "1", []string{"at: 10 mm: no edge there: a chamfer is at an end or at a shoulder"}},
		{
			"a corner of the profile is none", "50", "1",
			[]string{"at: 50 mm: no edge there: a chamfer is at an end or at a shoulder"},
		},
		{"beyond the part", "81", "1", []string{"at: 81 mm: beyond the part, which is 80 mm long"}},
		{"larger than the shoulder", "20", "2.1", []string{"size: 2.1 mm: larger than the shoulder is high, 2 mm"}},
		{"to a point", "0", "8", []string{"size: 8 mm: leaves nothing of the end, which is 16 mm in diameter"}},
		{"into a bore", "0", "5", []string{"size: 5 mm: runs into the bore of 7 mm on line 12"}},
		{"as far as the bore", "0", "4.5", nil},
		{"the bore is at the other end", "80", "4", nil},
	} {
		r := edged()
		r.Bores = []part.Bore{{From: part.Left, Dia: mm("7"), Depth: mm("10"), At: at("bores", 12)}}
		r.Chamfers = []part.Chamfer{{Z: mm(tc.z), Size: mm(tc.size), At: at("chamfers", 9)}}
		check(t, tc.name, part.Part{Round: r}, tc.want...)
	}
	r := edged()
	r.Profile[1].Z, r.Profile[2].Z = mm("0.5"), mm("0.5")
	r.Chamfers = []part.Chamfer{
		{Z: mm("0"), Size: mm("1"), At: at("chamfers", 9)}, {Z: mm("0"), Size: mm("0.4"), At: at("chamfers", 10)},
	}
	check(t, "longer than its stretch, and twice", part.Part{Round: r},
		"size: 1 mm: longer than what it is on, which is 0.5 mm long",
		"at: 0 mm: has a chamfer on line 9 already")
}

// A side that rises by 7.5 on 5, 56.3 deg, goes away from a line of 45 deg; one by 5 on 5 lies along it; one
// by 4.9 is met.
func TestChamferOnASteepSide(t *testing.T) {
	for dia, want := range map[string][]string{
		"30":   {"at: 35 mm: the side rises from there by 45 deg or more: no chamfer meets it"},
		"25":   {"at: 35 mm: the side rises from there by 45 deg or more: no chamfer meets it"},
		"24.8": nil,
	} {
		r := &part.Round{At: at("round", 6), Profile: []part.Station{
			{Z: mm("0"), Dia: mm("6")}, {Z: mm("30"), Dia: mm("6")}, {Z: mm("30"), Dia: mm(dia)}, {Z: mm("35"), Dia: mm("15")},
		}}
		r.Chamfers = []part.Chamfer{{Z: mm("35"), Size: mm("1"), At: at("chamfers", 9)}}
		check(t, dia, part.Part{Round: r}, want...)
	}
}

func TestCheckFlatsAndTubes(t *testing.T) {
	flats := func(across, from, to string) func(*part.Round) {
		return func(r *part.Round) {
			r.Facets = []part.Facets{{Sides: 2, From: mm(from), To: mm(to), Across: mm(across), At: at("facets", 9)}}
		}
	}
	bores := func(list ...part.Bore) func(*part.Round) {
		return func(r *part.Round) {
			r.Stock = &part.Stock{Shape: part.Tube, Size: mm("22"), Bore: mm("6")}
			r.Bores = list
		}
	}
	const solid = "stock: 22 mm tube with 6 mm through it: the part is solid where the tube is not: " +
		"it needs a bore of that size or more, from end to end"
	for _, tc := range []struct {
		name  string
		alter func(*part.Round)
		want  []string
	}{
		{"two flats", flats("12", "0", "12"), nil},
		{"in inches", flats("1/2in", "0", "12"), nil},
		{
			"that leave the round as it is", flats("16", "0", "20"),
			[]string{"across: 16 mm: as wide as the part is there, 16 mm: no flat is cut"},
		},
		{"up a shoulder", flats("16", "0", "21"), nil},
		{
			"without their distance", flats("0", "0", "12"),
			[]string{"across: two flats need how far they are apart: across: 8"},
		},
		{"a distance for a square", func(r *part.Round) { flats("12", "0", "12")(r); r.Facets[0].Sides = 4 }, []string{
			"across: 12 mm: a distance is that of two flats; of more sides the profile's diameters are: " +
				"write flats or corners",
		}},
		{"a tube with a bore through", bores(part.Bore{From: part.Left, Dia: mm("6"), Through: true}), nil},
		{"a tube bored from both ends", bores(
			part.Bore{From: part.Left, Dia: mm("8"), Depth: mm("40")},
			part.Bore{From: part.Right, Dia: mm("6"), Depth: mm("40")},
		), nil},
		{"a tube with a wall in the middle", bores(
			part.Bore{From: part.Left, Dia: mm("8"), Depth: mm("39.9")},
			part.Bore{From: part.Right, Dia: mm("6"), Depth: mm("40")},
		), []string{solid}},
		{"a tube wider than the bore", bores(part.Bore{From: part.Left, Dia: mm("5.9"), Through: true}), []string{solid}},
		{"a tube for a solid part", bores(), []string{solid}},
		{"a hexagon that holds it", func(r *part.Round) { r.Stock = &part.Stock{Shape: part.Hex, Size: mm("20")} }, nil},
		{
			"a square that does not", func(r *part.Round) { r.Stock = &part.Stock{Shape: part.Square, Size: mm("19")} },
			[]string{"stock: 19 mm: smaller than the part's largest diameter, 20 mm"},
		},
	} {
		r := edged()
		tc.alter(r)
		check(t, tc.name, part.Part{Round: r}, tc.want...)
	}
}

// A hexagon of 17 is 17/cos 30° = 19.6299 across its corners, a square of 20
// 28.2843 (√2 times).
func TestStock(t *testing.T) {
	for _, tc := range []struct {
		stock            part.Stock
		sides            int
		round, swing, is string
	}{
		{part.RoundStock(mm("38")), 0, "38", "38.0000", "38 mm round"},
		{part.Stock{Shape: part.Hex, Size: mm("17")}, 6, "17", "19.6299", "17 mm hex"},
		{part.Stock{Shape: part.Square, Size: mm("20")}, 4, "20", "28.2843", "20 mm square"},
		{
			part.Stock{Shape: part.Tube, Size: mm("38"), Bore: mm("20")},
			0, "38", "38.0000",
			"38 mm tube with 20 mm through it",
		},
	} {
		is, _ := tc.stock.Words()
		swing := tc.stock.Swing().Fixed(units.MM, 4, units.Nearest)
		if tc.stock.Sides() != tc.sides || !tc.stock.Round().Equal(mm(tc.round)) || swing != tc.swing || is != tc.is {
			t.Errorf("%s: %d sides, swings %s, %q", tc.is, tc.stock.Sides(), swing, is)
		}
	}
}
