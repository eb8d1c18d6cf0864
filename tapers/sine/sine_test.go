package sine_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/big"
	"math/bits"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/published"
	"setover/tapers/sine"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

// wrung words blocks that stand together.
func wrung(list []units.Length) string { return say.Of(sine.Blocks(list)).In(units.MM) }

// The sets, piece by piece, against the published lists.
func TestPublishedSets(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(published.Dir(), "gauge_blocks.json"))
	if err != nil {
		t.Fatal(err)
	}
	var lists map[string]struct {
		Count  int
		Blocks []json.Number
	}
	if err := json.Unmarshal(text, &lists); err != nil {
		t.Fatal(err)
	}
	for name, key := range map[string]string{
		"inch-81":    "inch 81",
		"inch-36":    "inch 36",
		"inch-83":    "inch 83 (81 + two .050 wear blocks)",
		"metric-112": "metric 112",
		"metric-103": "metric 103",
		"metric-88":  "metric 88",
		"metric-47":  "metric 47",
	} {
		got, err := sine.Pieces(name)
		if err != nil {
			t.Fatal(err)
		}
		unit := "mm"
		if name[:4] == "inch" {
			unit = "in"
		}
		var want []units.Length
		for _, b := range lists[key].Blocks {
			want = append(want, units.MustLength(string(b)+unit))
		}
		slices.SortFunc(got, units.Length.Cmp)
		slices.SortFunc(want, units.Length.Cmp)
		if len(want) != lists[key].Count || !slices.EqualFunc(got, want, units.Length.Equal) {
			t.Errorf("%s: %d pieces, the list has %d", name, len(got), lists[key].Count)
		}
	}
	if _, err := sine.Pieces("metric-48"); err == nil ||
		err.Error() != "set: metric-48: write metric-47, metric-88, metric-103, metric-112, inch-36, inch-81 or "+
			"inch-83\n  did you mean metric-47?" {
		t.Error(err)
	}
}

// Stacks that somebody printed. Ours have no more blocks.
func TestPublishedStacks(t *testing.T) {
	for _, tc := range []struct{ set, height, want, src string }{
		{"inch-36", "4.3301in", "0.1001in 0.13in 0.1in 4in", "worked example SB06: 5 in at 60 deg"},
		// The laboratory's rule, finest digit first, takes five: 1.005 1.04 1.3 5
		// 50. The set has 1.34, so four will do.
		{"metric-112", "58.345mm", "1.005mm 1.34mm 6mm 50mm", "npl-blocks, with a block less"},
	} {
		pieces, err := sine.Pieces(tc.set)
		if err != nil {
			t.Fatal(err)
		}
		got, _, err := sine.Stack(pieces, units.MustLength(tc.height))
		if err != nil {
			t.Fatal(err)
		}
		sum := units.Length{}
		for _, b := range got {
			sum = sum.Plus(b)
		}
		n := 1
		for _, c := range tc.want {
			if c == ' ' {
				n++
			}
		}
		if !sum.Equal(units.MustLength(tc.height)) || len(got) != n {
			t.Errorf("%s: %v; %s has %s", tc.height, wrung(got), tc.src, tc.want)
		}
	}
}

// The fewest blocks, against every choice of blocks there is.
func TestFewest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "pieces")
		pieces := make([]units.Length, n)
		step := rapid.SampledFrom([]string{"0.005mm", "0.001in", "0.5mm"}).Draw(t, "step")
		for i := range pieces {
			pieces[i] = units.MustLength(step).Times(int64(rapid.IntRange(1, 60).Draw(t, "piece")))
		}
		height := units.MustLength(step).Times(int64(
			rapid.IntRange(0, 300).Draw(t, "height"),
		)).Plus(units.MustLength("0.0003mm"))
		got, grid, err := sine.Stack(pieces, height)
		if err != nil {
			t.Fatal(err)
		}
		sum, left := units.Length{}, slices.Clone(pieces)
		for _, b := range got {
			sum = sum.Plus(b)
			i := slices.IndexFunc(left, b.Equal)
			if i < 0 {
				t.Fatalf("%v is not among what is left of %v", b.Decimal(), wrung(pieces))
			}
			left = slices.Delete(left, i, i+1)
		}
		best, fewest := units.Length{}, 0
		for choice := uint(1); choice < 1<<n; choice++ {
			s := units.Length{}
			for i := range n {
				if choice&(1<<i) != 0 {
					s = s.Plus(pieces[i])
				}
			}
			off, bestOff := s.Minus(height).Abs(), best.Minus(height).Abs()
			if k := bits.OnesCount(choice); fewest == 0 || off.Less(bestOff) || off.Equal(bestOff) && (s.Less(best) ||
				s.Equal(best) && k < fewest) {
				best, fewest = s, k
			}
		}
		if !sum.Equal(best) || len(got) != fewest {
			t.Fatalf("%v from %v: %v, best %v with %d", height.Decimal(), wrung(pieces), wrung(got), best.Decimal(), fewest)
		}
		for _, p := range pieces {
			if !p.RoundTo(grid, units.Down).Equal(p) {
				t.Fatalf("%v is not on the grid %v", p.Decimal(), grid.Decimal())
			}
		}
	})
}

// Every height of a set's step over a stretch, and none with more than five
// blocks: what the makers promise of a 112-piece set (common practice, no
// source).
func TestWholeSet(t *testing.T) {
	pieces, err := sine.Pieces("metric-112")
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []string{"2.0005mm", "17.3645mm", "99.9995mm", "57.3575mm"} {
		got, grid, err := sine.Stack(pieces, units.MustLength(h))
		if err != nil {
			t.Fatal(err)
		}
		sum := units.Length{}
		for _, b := range got {
			sum = sum.Plus(b)
		}
		if !sum.Equal(units.MustLength(h)) || len(got) > 5 || !grid.Equal(units.MustLength("0.0005mm")) {
			t.Errorf("%s: %v", h, wrung(got))
		}
	}
}

// The sine bar against a printed height, there and back, and in 200-bit
// arithmetic.
func TestSine(t *testing.T) {
	for _, e := range published.Examples(t, "sine_h") {
		h := sine.Height(units.Degrees(e.Num(t, 1)), units.MustLength(string(e.Arguments[0])+"in"))
		want := string(*e.Published)
		if got := h.Fixed(units.Inch, int32(e.Places()), units.Nearest); got != want {
			t.Errorf("got %s; %s prints %s", got, e.Source, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := units.Degrees(float64(rapid.IntRange(1, 8900).Draw(t, "a")) / 100)
		bar := units.MustLength(rapid.SampledFrom([]string{"100mm", "5in", "200mm"}).Draw(t, "bar"))
		if back := sine.Angle(sine.Height(a, bar), bar); math.Abs(back.Deg()-a.Deg()) > 1e-6 {
			t.Fatalf("%v came back as %v", a, back)
		}
	})
	// sin 18 = (√5 - 1)/4, in 200 bits.
	root := new(big.Float).SetPrec(200).SetInt64(5)
	root.Sqrt(root)
	root.Sub(root, big.NewFloat(1))
	want, _ := root.Mul(root, big.NewFloat(25)).Float64() // of a 100 mm bar
	if got := sine.Height(units.MustAngle("18"), units.MustLength("100mm")).MM(); math.Abs(got-want) > 0.5e-9 {
		t.Errorf("18 deg: %v, exactly %v", got, want)
	}
}

// The stack computes back, wear blocks included.
func TestSineStack(t *testing.T) {
	r, err := sine.Of(sine.Input{
		Angle: angle("30"), Bar: units.MustLength("100mm"), Set: "metric-47",
		Wear: []units.Length{units.MustLength("2mm"), units.MustLength("2mm")},
	})
	if err != nil {
		t.Fatal(err)
	}
	// 50 less the wear blocks is 46: 21 and 25, or the like.
	if len(r.Stack) != 4 || !r.Stack[0].Equal(units.MustLength("2mm")) || !r.Stack[3].Equal(units.MustLength("2mm")) ||
		r.StackError.Sign() != 0 || math.Abs(r.AngleError.Deg()) > 1e-9 {
		t.Errorf("%v out by %v, %v", wrung(r.Stack), r.StackError.Decimal(), r.AngleError)
	}
	r, err = sine.Of(sine.Input{Angle: angle("10"), Bar: units.MustLength("5in"), Set: "inch-81"})
	if err != nil {
		t.Fatal(err)
	}
	// 5·sin 10 = 0.868241 in: the set makes 0.8682, 41 millionths low.
	if got := units.AsPrinted(*r.StackHeight, "0.8682in"); got != "0.8682in" ||
		units.AsPrinted(*r.StackError, "-0.000041in") != "-0.000041in" {
		t.Errorf("%s, %v", got, r.StackError.Decimal())
	}
	back := math.Asin(r.StackHeight.MM()/127) * 180 / math.Pi
	if math.Abs(back-10-r.AngleError.Deg()) > 1e-9 {
		t.Errorf("angle error %v, back %v", r.AngleError, back-10)
	}
	r, err = sine.Of(sine.Input{Height: length("0.3mm"), Bar: units.MustLength("100mm"), Set: "metric-47"})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Fails().Error(); got != "height: 0.3 mm: no stack of these blocks comes nearer than 0.7 mm" {
		t.Error(got)
	}
	// A step of 1 mm comes within half of it everywhere, up to their sum.
	for height, want := range map[string]string{
		"2.5mm": "", "3.5mm": "", "3.6mm": "height: 3.6 mm: no stack of these blocks comes nearer than 0.6 mm",
	} {
		r, err := sine.Of(sine.Input{
			Height: length(height), Bar: units.MustLength("100mm"),
			Blocks: []units.Length{units.MustLength("1mm"), units.MustLength("2mm")},
		})
		got := ""
		if len(r.Fails()) > 0 {
			got = r.Fails().Error()
		}
		if err != nil || got != want {
			t.Errorf("%s: %q, want %q (%v)", height, got, want, err)
		}
	}
	// Two wear blocks that are the height by themselves, and one too many.
	for _, tc := range []struct{ height, want string }{
		{"4mm", "2 + 2 mm"}, {"4.4mm", "2 + 2 mm"}, {"5mm", "2 + 1 + 2 mm"},
	} {
		r, err := sine.Of(sine.Input{
			Height: length(tc.height), Bar: units.MustLength("100mm"), Set: "metric-47",
			Wear: []units.Length{units.MustLength("2mm"), units.MustLength("2mm")},
		})
		if err != nil {
			t.Fatal(err)
		}
		if got := wrung(r.Stack); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.height, got, tc.want)
		}
	}
	// The first wear block stands at one end, the second at the other.
	r, err = sine.Of(sine.Input{
		Height: length("8mm"), Bar: units.MustLength("100mm"), Set: "metric-47",
		Wear: []units.Length{units.MustLength("1mm"), units.MustLength("2mm")},
	})
	if err != nil || wrung(r.Stack) != "1 + 5 + 2 mm" {
		t.Error(wrung(r.Stack), err)
	}
	for a, want := range map[string]int{"60": 0, "60.1": 1, "89": 1} {
		r, err := sine.Of(sine.Input{Angle: angle(a), Bar: units.MustLength("5in"), Set: "inch-81"})
		if err != nil || len(r.Warnings) != want {
			t.Errorf("%s deg: %v, %v", a, r.Warnings, err)
		}
	}
}

func TestSineRefusals(t *testing.T) {
	bar := units.MustLength("100mm")
	for _, tc := range []struct {
		in   sine.Input
		want string
	}{
		{sine.Input{Bar: bar}, "angle: needs exactly one of angle and height"},
		{sine.Input{Bar: bar, Angle: angle("10"), Height: length("10mm")}, "angle: angle and height: give one of them"},
		{sine.Input{Bar: bar, Angle: angle("90")}, "angle: 90 deg: must be above 0 deg and below 90 deg"},
		{sine.Input{Bar: bar, Height: length("100mm")}, "height: 100 mm: must be above 0 mm and below 100 mm, " +
			"the bar's length"},
		{sine.Input{Angle: angle("10")}, "bar: 0 mm: must be above 0"},
		{
			sine.Input{Bar: bar, Angle: angle("10"), Set: "metric-46"},
			"set: metric-46: write metric-47, metric-88, metric-103, metric-112, inch-36, inch-81 or inch-83\n" +
				"  did you mean metric-47?",
		},
		{
			sine.Input{Bar: bar, Angle: angle("10"), Blocks: []units.Length{units.MustLength("0mm")}},
			"block: 0 mm: must be above 0",
		},
		{
			sine.Input{Bar: bar, Angle: angle("10"), Blocks: []units.Length{
				units.MustLength("25mm"), units.MustLength("0.00000001mm"),
			}},
			"block: 2 blocks in steps of 0.00000001 mm: too fine a step to search: leave out odd sizes, or keep to inch or " +
				"metric blocks",
		},
	} {
		if _, err := sine.Of(tc.in); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// What Stack itself refuses.
func TestStackRefusals(t *testing.T) {
	if _, _, err := sine.Stack(nil, units.MustLength("10mm")); err == nil ||
		err.Error() != "block: no gauge blocks to choose from" {
		t.Error(err)
	}
	// Nothing stands lower than the smallest block.
	got, _, err := sine.Stack([]units.Length{units.MustLength("2mm"), units.MustLength("1mm")}, units.MustLength("-5mm"))
	if err != nil || len(got) != 1 || !got[0].Equal(units.MustLength("1mm")) {
		t.Error(wrung(got), err)
	}
}

// 18 deg on a 5 in bar (the sine-bar page prints 1.545 in).
func ExampleOf() {
	a := units.MustAngle("18")
	r, err := sine.Of(sine.Input{Angle: &a, Bar: units.MustLength("5in"), Set: "inch-81"})
	if err != nil {
		panic(err)
	}
	fmt.Println(r.Height.Fixed(units.Inch, 3, units.Nearest), "in,", len(r.Stack), "blocks")
	// Output: 1.545 in, 4 blocks
}

// The working, put into a calculator.
func TestWorking(t *testing.T) {
	for _, in := range []sine.Input{
		{Angle: angle("18"), Bar: units.MustLength("5in")},
		{Height: length("18mm"), Bar: units.MustLength("100mm"), Set: "metric-47"},
	} {
		r, err := sine.Of(in)
		if err != nil {
			t.Fatal(err)
		}
		published.Works(t, r.Sheet())
	}
}
