package tailstock_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/tailstock"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func set(t *testing.T, in tailstock.Input) tailstock.Result {
	t.Helper()
	if in.SmallEnd == "" {
		in.SmallEnd = tapers.AtTailstock
	}
	r, err := tailstock.Set(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The shop's rule as it is printed, and the exact figure beside it.
func TestPublishedOffsets(t *testing.T) {
	for _, e := range published.Examples(t, "setover_tpf") {
		perFoot := units.Number(e.Num(t, 0))
		r := set(t, tailstock.Input{
			Input: tapers.Input{PerFoot: &perFoot}, Between: length(string(e.Arguments[1]) + "in"),
		})
		want := string(*e.Published)
		if got := r.Rule.Fixed(units.Inch, int32(e.Places()), units.Nearest); got != want {
			t.Errorf("rule: got %s; %s prints %s", got, e.Source, want)
		}
		// The rule is not exact: 0.3747 in is.
		if got := units.AsPrinted(r.Offset, "0.0000in"); got != "0.3747in" {
			t.Errorf("exact: got %s", got)
		}
	}
	// 1-1/2 in per foot over 8 in: the rule gives 0.5000 in, the sine 0.4990.
	perFoot := units.Number(1.5)
	r := set(t, tailstock.Input{Input: tapers.Input{PerFoot: &perFoot}, Between: length("8in")})
	if rule, exact := units.AsPrinted(r.Rule, "0.0000in"), units.AsPrinted(r.Offset, "0.0000in"); rule != "0.5000in" ||
		exact != "0.4990in" {
		t.Errorf("rule %s, exact %s", rule, exact)
	}
	// The whole length between the centres counts, not the taper's.
	sizes := tapers.Input{Large: length("30mm"), Small: length("29mm"), Length: length("50mm")}
	short := set(t, tailstock.Input{Input: sizes, Between: length("50mm")})
	long := set(t, tailstock.Input{Input: sizes, Between: length("200mm")})
	if math.Abs(long.Offset.Over(short.Offset)-4) > 1e-6 { // both rounded to 1e-9 mm
		t.Errorf("four times the length: %v against %v", long.Offset.Decimal(), short.Offset.Decimal())
	}
}

// The cone that comes off the machine: the work turns about the line between
// the centres, the tool travels along the bed. Cut a point at each end and
// measure its distance from that line.
func TestConeFromTheMachine(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		between := float64(rapid.IntRange(5000, 40000).Draw(rt, "between")) / 100
		half := float64(rapid.IntRange(1, 800).Draw(rt, "half")) / 100
		end := rapid.SampledFrom([]tapers.End{tapers.AtTailstock, tapers.AtHeadstock}).Draw(rt, "end")
		a := units.Degrees(half)
		r, err := tailstock.Set(tailstock.Input{
			Input: tapers.Input{HalfAngle: &a}, Between: new(units.FromFloat(between)), SmallEnd: end,
		})
		if err != nil {
			rt.Fatal(err)
		}
		// From above: x to the tailstock, y to the operator; the headstock's
		// centre at 0, the tailstock's at the offset, the work's length kept.
		y := r.Offset.MM()
		if r.Direction == tailstock.AwayFromOperator {
			y = -y
		}
		x := math.Sqrt(between*between - y*y)
		cut := func(at float64) (radius, along float64) {
			tx, ty := at, 60.0 // the tool, on the operator's side
			along = (tx*x + ty*y) / between
			return math.Abs(tx*y-ty*x) / between, along
		}
		r1, z1 := cut(0)
		r2, z2 := cut(x)
		rise := (r2 - r1) / (z2 - z1) // grows toward the tailstock
		want := math.Tan(half * math.Pi / 180)
		if end == tapers.AtTailstock {
			want = -want
		}
		if math.Abs(rise-want) > 1e-9 {
			rt.Fatalf("the work rises by %v, asked for %v", rise, want)
		}
	})
}

// What a tailstock cannot do, and what is not checked.
func TestLimits(t *testing.T) {
	ts := &shop.Tailstock{Toward: length("9mm"), Away: length("7mm")}
	sizes := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("100mm")}
	lathe := shop.Lathe{Tailstock: ts}
	r := set(t, tailstock.Input{Input: sizes, Between: length("160mm"), Lathe: lathe}) // 160·sin 2.8624 = 7.99
	if !*r.Possible || len(r.Fails()) != 0 {
		t.Error("toward the operator 9 mm reach:", r.Fails())
	}
	r = set(t, tailstock.Input{
		Input: sizes, Between: length("160mm"), SmallEnd: tapers.AtHeadstock, Lathe: lathe,
	})
	want := "offset: 7.99 mm: the tailstock moves only 7 mm that way: the steepest half angle at this length is " +
		"2°30', the longest work at this angle 140.174 mm; use the compound"
	if *r.Possible || r.Fails().Error() != want {
		t.Errorf("got  %v\nwant %s", r.Fails(), want)
	}
	for end, key := range map[tapers.End]string{tapers.AtTailstock: "toward", tapers.AtHeadstock: "away"} {
		r = set(t, tailstock.Input{Input: sizes, Between: length("160mm"), SmallEnd: end})
		want := "whether the tailstock moves that far was not checked (lathe: tailstock: setover: " + key + ")"
		if r.Possible != nil || r.Warnings[0].Text.String() != want {
			t.Errorf("small end at the %s: %v", end, r.Warnings)
		}
	}
	// The longest and the steepest, cut: they take up the setover whole.
	for _, tc := range []struct{ end, moves string }{{"tailstock", "9mm"}, {"headstock", "7mm"}} {
		in := tailstock.Input{Input: sizes, Between: length("160mm"), SmallEnd: tapers.End(tc.end), Lathe: lathe}
		r := set(t, in)
		in.Between = r.Longest
		if got := set(t, in).Offset; got.Minus(units.MustLength(tc.moves)).Abs().Cmp(units.MustLength("0.000001mm")) > 0 {
			t.Errorf("the longest work is set over %v of %s", got.Decimal(), tc.moves)
		}
		in = tailstock.Input{
			Input: tapers.Input{HalfAngle: r.Steepest}, Between: length("160mm"), SmallEnd: tapers.End(tc.end),
		}
		if got := set(t, in).Offset; got.Minus(units.MustLength(tc.moves)).Abs().Cmp(units.MustLength("0.000001mm")) > 0 {
			t.Errorf("the steepest taper is set over %v of %s", got.Decimal(), tc.moves)
		}
	}
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var keys map[string]any
	if err := json.Unmarshal(text, &keys); err != nil || keys["possible"] != nil {
		t.Error("possible must be null:", keys["possible"], err)
	}
}

// Sines that end: a 3-4-5 taper on 100 mm is set over 60 mm, to the last of the
// nine decimals that are stated.
func TestExact(t *testing.T) {
	for _, tc := range []struct{ rise, run, want string }{
		{"3mm", "4mm", "60"}, {"5mm", "12mm", "38.461538462"}, {"8in", "15in", "47.058823529"},
	} {
		large := units.MustLength(tc.rise).Times(2)
		a := tapers.HalfAngle(large, units.Length{}, units.MustLength(tc.run))
		if got := tailstock.Offset(a, units.MustLength("100mm")); got.Decimal().String() != tc.want {
			t.Errorf("%s in %s: %v, exactly %s", tc.rise, tc.run, got.Decimal(), tc.want)
		}
	}
}

// A tailstock that moves just as far: 15 in 112 is 15 in 113 along the side, so 15 on 113 mm, and
// 0.001 mm less is not enough.
func TestJustEnough(t *testing.T) {
	large, small, l := units.Millimetres(30), units.Length{}, units.Millimetres(112)
	for moves, want := range map[string]bool{"15mm": true, "14.999mm": false} {
		r := set(t, tailstock.Input{
			Input:   tapers.Input{Large: &large, Small: &small, Length: &l},
			Between: new(units.Millimetres(113)), Lathe: shop.Lathe{Tailstock: &shop.Tailstock{Toward: length(moves)}},
		})
		if *r.Possible != want || len(r.Fails()) > 0 == want {
			t.Errorf("%s: possible %v, %v", moves, *r.Possible, r.Fails())
		}
	}
}

// The dial on a test bar: both centres built, the bar between them, the
// carriage moved 100 mm along the bed.
func TestIndicator(t *testing.T) {
	half := units.MustAngle("3d")
	r := set(t, tailstock.Input{Input: tapers.Input{HalfAngle: &half}, Between: length("200mm")})
	e, l := r.Offset.MM(), 200.0
	bed := math.Sqrt(l*l - e*e) // along the bed from centre to centre
	if got, want := r.Indicator.MM(), 100*e/bed; math.Abs(got-want) > 1e-6 {
		t.Errorf("the dial shows %v, built %v", got, want)
	}
}

// A ball let down a 60 deg hole until it touches, by trying.
func TestBallCentre(t *testing.T) {
	for _, tc := range []struct{ ball, mouth string }{{"8mm", "8mm"}, {"1/4in", "0.3in"}, {"5mm", "9mm"}} {
		b, m := units.MustLength(tc.ball), units.MustLength(tc.mouth)
		apex := m.MM() / 2 / math.Tan(math.Pi/6) // under the face
		gap := func(out float64) float64 {       // from the ball to the hole's side, by the nearest of many points
			near := math.Inf(1)
			for i := range 50001 {
				up := apex * float64(i) / 50000 // along the axis from the apex
				near = math.Min(near, math.Hypot(up*math.Tan(math.Pi/6), up-apex-out))
			}
			return near - b.MM()/2
		}
		lo, hi := -apex, b.MM()
		for range 40 {
			if mid := (lo + hi) / 2; gap(mid) < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		if got := tailstock.BallOut(b, m).MM(); math.Abs(got-hi) > 1e-4 {
			t.Errorf("%v: %v outside, let down to %v", tc, got, hi)
		}
	}
}

func TestRefusals(t *testing.T) {
	sizes := tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("100mm")}
	for _, tc := range []struct {
		in   tailstock.Input
		want string
	}{
		{tailstock.Input{Input: sizes, Between: length("0")}, "between: 0 mm: must be above 0"},
		{
			tailstock.Input{Input: sizes, Between: length("99.9")},
			"between: 99.9 mm: shorter than the taper, 100 mm: give the whole length between the centres",
		},
		{
			tailstock.Input{Input: sizes, Between: length("160"), Ball: length("8mm")},
			"centre-hole: is needed with ball",
		},
		{
			tailstock.Input{Input: sizes, Between: length("160"), Ball: length("0mm"), Hole: length("5mm")},
			"ball: 0 mm: must be above 0",
		},
		{
			tailstock.Input{Input: sizes, Between: length("160"), Ball: length("8mm"), Hole: length("6.9mm")},
			"centre-hole: 6.9 mm: the ball of 8 mm rides on the mouth's edge: more than 6.929 mm",
		},
		{
			tailstock.Input{Input: sizes},
			"between: is needed: the whole length between the centre-hole contacts, or faces with ball centres",
		},
		{
			tailstock.Input{Input: sizes, Between: length("160"), Faces: length("160"), Ball: length("8"), Hole: length("8")},
			"between: between and faces: give one of them",
		},
		{
			tailstock.Input{Input: sizes, Faces: length("160")},
			"ball: is needed with faces: the diameter of the ball centres",
		},
		{
			tailstock.Input{Input: sizes, Faces: length("99"), Ball: length("8mm"), Hole: length("8mm")},
			"faces: 99 mm: shorter than the taper, 100 mm: give the whole length over the faces",
		},
		{tailstock.Input{Input: sizes, Between: length("160"), Within: length("0")}, "within: 0 mm: must be above 0"},
		{tailstock.Input{Input: sizes, Between: length("160"), TestBar: length("-1")}, "test-bar: -1 mm: must be above 0"},
		{
			tailstock.Input{Input: sizes, Between: length("160"), TestBar: length("7")},
			"test-bar: 7 mm: must be longer than the offset, 7.99 mm",
		},
		{
			tailstock.Input{Input: sizes, Between: length("160"), SmallEnd: "left"},
			"small-end: left: write tailstock or headstock",
		},
	} {
		if tc.in.SmallEnd == "" {
			tc.in.SmallEnd = tapers.AtTailstock
		}
		if _, err := tailstock.Set(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// Jones, Turning and Boring (1914): 1 in per foot, 9 in between centres, is
// set over 3/8 in.
func ExampleSet() {
	perFoot := units.Number(1)
	r, err := tailstock.Set(tailstock.Input{
		Input: tapers.Input{PerFoot: &perFoot}, Between: length("9in"), SmallEnd: tapers.AtTailstock,
	})
	if err != nil {
		panic(err)
	}
	inches := func(l units.Length) string { return l.Fixed(units.Inch, 4, units.Nearest) }
	fmt.Printf("by the rule %s in, exactly %s in, %s\n", inches(r.Rule), inches(r.Offset), r.Direction)
	// Output: by the rule 0.3750 in, exactly 0.3747 in, toward-operator
}

// What the shop's rule is off by is said where it shows: L·(tan a - sin a) with
// tan a = 0.05 and 0.0115 on 150 mm is 0.00936 and 0.000114 mm, with 0.003 on
// 200 mm it is 0.0000027 mm.
func TestRuleOff(t *testing.T) {
	for _, tc := range []struct{ small, between, mm, inch string }{
		{"20mm", "150mm", "+0.0094 mm off exact", "+0.00037 in off exact"},
		{"27.7mm", "150mm", "+0.0001 mm off exact", "the same to this digit"},
		{"29.4mm", "200mm", "the same to this digit", "the same to this digit"},
	} {
		s := set(t, tailstock.Input{
			Input:   tapers.Input{Large: length("30mm"), Small: length(tc.small), Length: length("100mm")},
			Between: length(tc.between),
		}).Sheet()
		i := slices.IndexFunc(s.Facts, func(f sheet.Fact) bool { return f.Key == "offset_rule_mm" })
		if mm, inch := s.Facts[i].Remark.Words(); mm != tc.mm || inch != tc.inch {
			t.Errorf("%s: %s or %s, want %s or %s", tc.small, mm, inch, tc.mm, tc.inch)
		}
	}
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	published.Works(
		t,
		set(t, tailstock.Input{
			Input:   tapers.Input{Large: length("30mm"), Small: length("20mm"), Length: length("100mm")},
			Between: length("160mm"),
		}).Sheet(),
	)
}
