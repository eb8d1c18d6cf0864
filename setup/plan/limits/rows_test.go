package limits_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/outline"
)

// kept returns the dimensions of one kind.
func kept(l *limits.Limits, kind limits.Kind) []string {
	var list []string
	for _, d := range l.All() {
		if d.Kind == kind {
			list = append(list, told(d))
		}
	}
	return list
}

// A size that is exactly where a range ends belongs to the range below: 3, 6 and
// 30 mm, in ISO 2768-1 and in ISO 286 alike (h7 is 10 um to 3 mm, 12 to 6).
func TestEndsOfRanges(t *testing.T) {
	l, _ := of(t, `
round:
  profile: [[0, 3], [3, 3], [3, 3.001], [6, 3.001], [6, 6], [30, 6], [30, 6.001], [31, 6.001], [31, 30], [40, 30],
    [40, 30.001], [50, 30.001]]
  bores: [{from: right, dia: 3, depth: 3, fit: H7}, {from: right, dia: 3.001, depth: 6, fit: H7}]
`)
	compare(t, "diameters", kept(l, limits.Diameter), `
		diameter outside-1 0-3: 3: 2.9 to 3.1 (ISO 2768-1, medium)
		diameter outside-2 3-6: 3.001: 2.901 to 3.101 (ISO 2768-1, medium)
		diameter outside-3 6-30: 6: 5.9 to 6.1 (ISO 2768-1, medium)
		diameter outside-4 30-31: 6.001: 5.801 to 6.201 (ISO 2768-1, medium)
		diameter outside-5 31-40: 30: 29.8 to 30.2 (ISO 2768-1, medium)
		diameter outside-6 40-50: 30.001: 29.701 to 30.301 (ISO 2768-1, medium)`)
	compare(t, "places", kept(l, limits.Place), `
		place shoulder-1 3: 3: 2.9 to 3.1 (ISO 2768-1, medium)
		place shoulder-2 6: 6: 5.9 to 6.1 (ISO 2768-1, medium)
		place shoulder-3 30: 30: 29.8 to 30.2 (ISO 2768-1, medium)
		place shoulder-4 31: 31: 30.7 to 31.3 (ISO 2768-1, medium)
		place shoulder-5 40: 40: 39.7 to 40.3 (ISO 2768-1, medium)`)
	compare(t, "bores", kept(l, limits.Bore), `
		bore bore-1 47-50: 3: 3 to 3.01 (fit H7)
		bore bore-2 44-50: 3.001: 3.001 to 3.013 (fit H7)`)
	compare(t, "depths", kept(l, limits.Depth), `
		depth bore-1 47-50: 3: 2.9 to 3.1 (ISO 2768-1, medium)
		depth bore-2 44-50: 6: 5.9 to 6.1 (ISO 2768-1, medium)`)
}

// slow is ISO 2768-1's table 1, once more and in another way.
func slow(class part.General, mm float64) float64 {
	column := map[part.General]int{part.Fine: 0, part.Medium: 1, part.Coarse: 2}[class]
	rows := []struct {
		most float64
		off  [3]float64
	}{
		{3, [3]float64{0.05, 0.1, 0.2}},
		{6, [3]float64{0.05, 0.1, 0.3}},
		{30, [3]float64{0.1, 0.2, 0.5}},
		{120, [3]float64{0.15, 0.3, 0.8}},
		{400, [3]float64{0.2, 0.5, 1.2}},
		{1000, [3]float64{0.3, 0.8, 2}},
		{2000, [3]float64{0.5, 1.2, 3}},
	}
	if mm < 0.5 {
		return 0.1
	}
	for _, r := range rows {
		if mm <= r.most {
			return r.off[column]
		}
	}
	return math.NaN()
}

// Any part of cylinders: every size is held by its general tolerance, and what
// is drawn is in the middle of its limits, which is what is aimed at.
func TestGeneralOnAnyPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		class := rapid.SampledFrom([]part.General{"", part.Fine, part.Medium, part.Coarse}).Draw(t, "class")
		of := class
		if of == "" {
			of = part.Medium
		}
		var z units.Length
		r := &part.Round{}
		for range rapid.IntRange(1, 6).Draw(t, "cylinders") {
			step := units.Millimetres(rapid.Int64Range(1, 300_000).Draw(t, "length")).Scale(thousandth)
			dia := units.Millimetres(rapid.Int64Range(1, 500_000).Draw(t, "dia")).Scale(thousandth)
			r.Profile = append(r.Profile, part.Station{Z: z, Dia: dia}, part.Station{Z: z.Plus(step), Dia: dia})
			z = z.Plus(step)
		}
		o, err := outline.New(r)
		if err != nil {
			t.Fatal(err)
		}
		l, err := limits.Of(&part.Part{General: class, Round: r}, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range l.All() {
			off := units.FromFloat(slow(of, d.Drawn.MM()))
			if !d.Aim().Equal(d.Drawn) || !d.Holds(d.Drawn.Plus(off)) || !d.Holds(d.Drawn.Minus(off)) ||
				!d.Width().Equal(off.Times(2)) {
				t.Fatal(told(d))
			}
		}
		if want := 1 + len(o.Shoulders) + len(o.Stretches); len(l.All()) != want {
			t.Fatalf("%d dimensions, want %d", len(l.All()), want)
		}
	})
}

var thousandth = mm("0.001").Decimal()

// Limits of tapers, by hand. A cone of 20 to 12 over 80 mm that facets begin on
// at a quarter of it: the limits of the 18 mm there are those of 20 (h9, 0 and
// -0.052) and of 12 (0.2 either way), three to one: 0.05 and -0.089. The point
// in the middle of the second cone lies on a straight line: it is one taper.
func TestTapers(t *testing.T) {
	l, o := of(t, `
round:
  profile: [[0, 20], [80, 12], [90, 12], [100, 14], [110, 16], [120, 10]]
  arcs: [{from: 110, to: 120, radius: 40, bulge: in}]
  facets: [{sides: 6, from: 20, to: 80, across: flats}]
  limits:
    - {at: 0, fit: h9}
    - {from: 90, to: 110, angle: 0.1}
    - {at: 110, tol: [0.04, 0]}
    - {at: 100, tol: 0.01}
`)
	compare(t, "ends", kept(l, limits.TaperEnd), `
		taper-end outside-1 0: 20: 19.948 to 20 (fit h9)
		taper-end outside-1 20: 18: 17.911 to 18.05 (between fit h9 and ISO 2768-1, medium)
		taper-end outside-4 90: 12: 11.8 to 12.2 (ISO 2768-1, medium)
		taper-end outside-4 100: 14: 13.99 to 14.01 (as written)
		taper-end outside-5 100: 14: 13.99 to 14.01 (as written)
		taper-end outside-5 110: 16: 16 to 16.04 (as written)
		taper-end outside-6 110: 16: 16 to 16.04 (as written)
		taper-end outside-6 120: 10: 9.8 to 10.2 (ISO 2768-1, medium)`)
	compare(t, "flats", kept(l, limits.AcrossFlats), `
		across-flats facets-1 20: 18: 17.911 to 18.05 (between fit h9 and ISO 2768-1, medium)
		across-flats facets-1 80: 12: 11.8 to 12.2 (ISO 2768-1, medium)`)
	compare(t, "angles", kept(l, limits.Angle), `
		angle outside-4 90-110: 5.7106 deg: 5.6106 to 5.8106 (as written)`)
	for i, want := range []bool{false, false, false, true, true, false} {
		if _, ok := l.HalfAngle(o.Stretches[i]); ok != want {
			t.Errorf("%s: %v", o.Stretches[i].ID(), ok)
		}
	}
}

// A Morse 2 is 0.7 to 0.572 in over 2.5625 in: 0.599415 in a foot and a half
// angle of 1.430715 deg. At 0.601415 in a foot it is 1.435486 deg (a web table of
// Morse tapers prints the 0.002 in and that shanks have them only upwards).
func TestNamedTaper(t *testing.T) {
	l, o := of(t, `
round:
  profile: [[0, 17.78], [65.09, 14.53], [70, 14.53]]
  limits: [{from: 0, to: 65.09, gauge: MT2}]
`)
	d, ok := l.HalfAngle(o.Stretches[0])
	if !ok {
		t.Fatal("no angle")
	}
	want := "angle outside-1 0-65.09: 1.4307 deg: 1.4307 to 1.4355 (gauge MT2, at most 0.002 in a foot steeper)"
	if got := told(d); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	for _, tc := range []struct {
		deg  float64
		want bool
	}{{1.4306, false}, {d.DrawnAngle.Deg(), true}, {1.4331, true}, {1.4354, true}, {1.4356, false}} {
		if got := d.HoldsAngle(units.Degrees(tc.deg)); got != tc.want {
			t.Errorf("%v deg: %v", tc.deg, got)
		}
	}
	if aim := d.AimAngle().Deg(); math.Abs(aim-1.4331) > 0.0001 {
		t.Errorf("aims at %v", aim)
	}
}

// What a thread without limits is cut on: from 0.1 of its pitch under its size
// up to it (common practice, no source). 3/8 BSW is 9.525 with 16 to the inch,
// 1.5875: 9.36625.
func TestBlankWithoutLimits(t *testing.T) {
	l, o := of(t, `
round:
  profile: [[0, 9.525], [30, 9.525]]
  threads: [{from: left, spec: 3/8 BSW, length: 20}, {from: right, spec: M9, length: 5}]
`)
	compare(t, "blanks", kept(l, limits.ThreadBlank), `
		thread-blank thread-1 0-20: 9.525: 9.36625 to 9.525 (turned for 3/8BSW)
		thread-blank thread-2 25-30: 9.525: 8.76 to 8.972 (turned for M9)`)
	if d := l.Thread(o.Threads[0]); d.Known() {
		t.Error(told(d))
	}
}

// The size aimed at is the middle: a shaft h6 of 20 mm is 19.987 to 20.
func TestAim(t *testing.T) {
	l, o := of(t, "round: {profile: [[0, 20], [30, 20]], limits: [{at: 3, fit: h6}]}")
	d := l.Outside(o.Stretches[0])
	if !d.Aim().Equal(mm("19.9935")) || !d.Width().Equal(mm("0.013")) {
		t.Errorf("aims at %s, %s wide", digits(d.Aim()), digits(d.Width()))
	}
	for _, tc := range []struct {
		size string
		want bool
	}{{"19.9869", false}, {"19.987", true}, {"20", true}, {"20.0001", false}} {
		if got := d.Holds(mm(tc.size)); got != tc.want {
			t.Errorf("%s: %v", tc.size, got)
		}
	}
}

// A row of limits that matches nothing says what is there; each problem stands
// at its line.
func TestWrongRows(t *testing.T) {
	const stock = `
round:
  profile: [[0, 16], [20, 16], [20, 30], [50, 30], [90, 10], [100, 0]]
  threads: [{from: left, spec: M16, length: 10}]
  limits:
`
	const points = "the profile has no point there, but at 0 mm, 20 mm, 50 mm, 90 mm, 100 mm"
	for _, tc := range []struct{ rows, want string }{
		{"{at: 101, tol: 0.1}", "9: at: 101 mm: beyond the part, which is 100 mm long"},
		{"{at: -1, tol: 0.1}", "9: at: -1 mm: beyond the part, which is 100 mm long"},
		{
			"{at: 20, tol: 0.1}", "9: at: 20 mm: a shoulder stands there, 16 mm to the left and 30 mm to the right: " +
				"write a z of the one that is meant",
		},
		{"{at: 5, fit: h6}", "9: at: 5 mm: the thread M16 is there, which its class holds: leave the limit out"},
		{
			"{at: 70, tol: 0.1}",
			"9: at: 70 mm: no diameter is drawn there but those at the ends of what lies between, 50 mm and 90 mm",
		},
		{"{at: 100, tol: 0.1}", "9: at: 100 mm: the part comes to a point there"},
		{"{at: 30, fit: js20}", "9: fit: js20: not a fit: write the letter and the grade of ISO 286, such as h6"},
		{"{at: 30, fit: v6}", ""},
		{"{at: 90, fit: v6}", "9: fit: v6: is not standard for 10 mm: the table has no figure for this letter there"},
		{"{at: 30, tol: 30}", "9: tol: -30 mm: leaves nothing of 30 mm"},
		{"{from: 0, to: 21, tol: 0.1}", "9: to: 21 mm: " + points},
		{"{from: 3, to: 7, tol: 0.1}", "9: from: 3 mm: " + points + "\n9: to: 7 mm: " + points},
		{"{from: 20, to: 20, tol: 0.1}", "9: to: 20 mm: must lie to the right of from, 20 mm"},
		{"{from: 50, to: 20, angle: 1}", "9: to: 20 mm: must lie to the right of from, 50 mm"},
		{
			"{from: 20, to: 50, angle: 1}",
			"9: from: z 20 mm to 50 mm: no taper runs there, but z 50 mm to 90 mm, z 90 mm to 100 mm",
		},
		{
			"{from: 50, to: 100, angle: 1}",
			"9: from: z 50 mm to 100 mm: no taper runs there, but z 50 mm to 90 mm, z 90 mm to 100 mm",
		},
		{
			"{from: 50, to: 89, gauge: MT2}",
			"9: from: z 50 mm to 89 mm: no taper runs there, but z 50 mm to 90 mm, z 90 mm to 100 mm",
		},
		{
			"{from: 50, to: 90, gauge: MT2}",
			"9: gauge: MT2: has a half angle of 1.431 deg (1°26'), and the profile draws one of 14.036 deg (14°02'), " +
				"which the limits of its two diameters do not make up for",
		},
		{"{from: 50, to: 90, gauge: MT22}", "9: gauge: MT22: not a standard taper known here"},
		{
			"{at: 30, tol: 0.1}\n    - {at: 40, tol: 0.2}",
			"10: limits: outside-3: limited twice, on line 9 too",
		},
		{
			"{at: 90, tol: 0.1}\n    - {at: 90, tol: 0.2}",
			"10: limits: the right end of outside-4: limited twice, on line 9 too",
		},
		{
			"{from: 0, to: 20, tol: 0.1}\n    - {from: 0, to: 20, tol: 0.2}",
			"10: limits: the length z 0 mm to 20 mm: limited twice, on line 9 too",
		},
		{
			"{from: 50, to: 90, angle: 1}\n    - {from: 50, to: 90, angle: 2}",
			"10: limits: the taper z 50 mm to 90 mm: limited twice, on line 9 too",
		},
	} {
		p, o, err := read(t, stock+"    - "+tc.rows+"\n")
		if err == nil {
			_, err = limits.Of(p, o)
		}
		if got := plain(err); got != tc.want && !strings.Contains(tc.want, "known here") ||
			!strings.HasPrefix(got, tc.want) {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.rows, got, tc.want)
		}
	}
	// Over 40 mm a Morse 2 falls 2.0; drawn is 0.1, which may become 0.5 at most.
	flat := "round: {profile: [[0, 20], [40, 19.9]], limits: [{from: 0, to: 40, gauge: MT2}]}"
	p, o := load(t, flat)
	_, err := limits.Of(p, o)
	if want := "4: gauge: MT2: has a half angle of 1.431 deg"; !strings.HasPrefix(plain(err), want) {
		t.Errorf("got  %s\nwant %s", plain(err), want)
	}
	none := "round: {profile: [[0, 20], [30, 20]], limits: [{from: 0, to: 30, angle: 1}]}"
	p, o = load(t, none)
	if _, err := limits.Of(p, o); plain(err) != "4: from: z 0 mm to 30 mm: the part has no taper" {
		t.Error(plain(err))
	}
}

var place = regexp.MustCompile(`(?m)^\S*part\.yaml:(\d+):\d+: `)

// plain returns problems with their lines alone, without the lines themselves.
func plain(err error) string {
	if err == nil {
		return ""
	}
	var list []string
	for line := range strings.Lines(err.Error()) {
		if at := place.FindStringSubmatch(line); at != nil {
			list = append(list, at[1]+": "+strings.TrimSpace(place.ReplaceAllString(line, "")))
		} else if !strings.HasPrefix(line, " ") {
			list = append(list, strings.TrimSpace(line))
		}
	}
	return strings.Join(list, "\n")
}

// A fit in the letter of the other half, and deviations that cannot be. The
// reader of files takes either letter, so these are parts made by hand.
func TestWrongFits(t *testing.T) {
	bar := func(change func(*part.Round)) error {
		r := &part.Round{Profile: []part.Station{{Dia: mm("20")}, {Z: mm("30"), Dia: mm("20")}}}
		change(r)
		o, err := outline.New(r)
		if err != nil {
			t.Fatal(err)
		}
		_, err = limits.Of(&part.Part{Round: r}, o)
		return err
	}
	fit := func(text string) *part.Tolerance { return &part.Tolerance{Fit: text} }
	bore := func(t *part.Tolerance) func(*part.Round) {
		return func(r *part.Round) { r.Bores = []part.Bore{{From: part.Left, Dia: mm("8"), Depth: mm("10"), Tol: t}} }
	}
	outside := func(t *part.Tolerance) func(*part.Round) {
		return func(r *part.Round) { r.Limits = []part.Limit{{Z: new(mm("3")), Tol: t}} }
	}
	row := func(t *part.Tolerance) func(*part.Round) {
		return func(r *part.Round) {
			r.Rows = []part.Row{{
				From: mm("5"), Dias: []units.Length{mm("3"), mm("4")}, Pitch: new(mm("9")), Tol: t,
				Rolls: []units.Angle{{}},
			}}
		}
	}
	length := func(t *part.Tolerance) func(*part.Round) {
		return func(r *part.Round) { r.Limits = []part.Limit{{From: new(mm("0")), To: new(mm("30")), Tol: t}} }
	}
	for _, tc := range []struct {
		what   string
		change func(*part.Round)
		want   string
	}{
		{"a shaft's letter on a bore", bore(fit("h7")), "fit: h7: a small letter is of a shaft, and this is a hole: " +
			"write a capital, such as H7"},
		{"on a row of holes, once", row(fit("g6")), "fit: g6: a small letter is of a shaft, and this is a hole: " +
			"write a capital, such as H7"},
		{"a hole's letter outside", outside(fit("H6")), "fit: H6: a capital is of a hole, and this is the outside: " +
			"write a small letter, such as h6"},
		{"no class", bore(fit("Q7")), "fit: Q7: not a tolerance class: write a letter and a grade, such as H7 for a hole " +
			"or g6 for a shaft"},
		{"not at that size", outside(fit("y6")), ""},
		{"not at that size", bore(fit("T6")), "fit: T6: is not standard for 8 mm: the table has no figure for this letter " +
			"there"},
		{"a length", length(fit("h6")), "fit: h6: is of a diameter: write tol for a length"},
		{
			"upside down", bore(&part.Tolerance{Upper: new(mm("0")), Lower: new(mm("0.1"))}),
			"tol: 0 mm: the upper deviation is under the lower one, 0.1 mm",
		},
		{"half of it", bore(&part.Tolerance{Upper: new(mm("0.1"))}), ""},
		{"none of it", outside(nil), ""},
		{
			"too long", func(r *part.Round) { r.Profile[1].Z = mm("4000.1") },
			"general: 4000.1 mm: write 0 mm to 4000 mm",
		},
	} {
		got := plain(bar(tc.change))
		if got != tc.want {
			t.Errorf("%s:\ngot  %s\nwant %s", tc.what, got, tc.want)
		}
	}
}

// A thread that is none, in a block.
func TestWrongThread(t *testing.T) {
	p, _, err := read(t, "block:\n  size: [64, 24, 5]\n  holes: [{at: [6, 12], dia: 5, spec: M8x}]\n")
	if err != nil {
		t.Fatal(err)
	}
	if _, err = limits.Of(p, nil); !strings.HasPrefix(plain(err), "6: ") || !strings.Contains(plain(err), "M8x") {
		t.Error(err)
	}
}
