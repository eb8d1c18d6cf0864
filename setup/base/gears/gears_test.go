package gears_test

import (
	"encoding/json"
	"fmt"
	"math/big"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"setover/setup/base/gears"
	"setover/setup/page/published"
)

func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		panic(text)
	}
	return r
}

// ratio multiplies a train out, pair by pair.
func ratio(t gears.Train) *big.Rat {
	r := big.NewRat(1, 1)
	for i := range t.Drivers {
		r.Mul(r, big.NewRat(int64(t.Drivers[i]), int64(t.Driven[i])))
	}
	return r
}

func box(t testing.TB, wheels []int, most int, space *int) *gears.Box {
	t.Helper()
	b, err := gears.New(wheels, most, space)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Trains printed in old books: leadscrew, wheels, and the threads per inch they
// say it cuts. Threads per inch = leadscrew tpi · driven / drivers.
func TestPublishedTrains(t *testing.T) {
	// The head row prints 32 under 6 for 18 threads on a 3-thread screw. Its
	// neighbours follow the definition, and so does 36: a misprint.
	misprint := map[string]bool{"[3 [6] [32]]": true}
	for _, e := range published.Examples(t, "tpi_cut") {
		screw := rat(string(e.Arguments[0]))
		train := gears.Train{Drivers: wheels(t, e, 1), Driven: wheels(t, e, 2)}
		got := new(big.Rat).Quo(screw, ratio(train))
		want := rat(string(*e.Published))
		key := fmt.Sprintf("[%s %v %v]", screw.RatString(), train.Drivers, train.Driven)
		if same := got.Cmp(want) == 0; same == misprint[key] {
			t.Errorf("%s: %s gives %s tpi; %s prints %s", key, train.Text(), got.RatString(), e.Source, want.RatString())
		}
		if misprint[key] {
			continue
		}
		// The search finds that train when these wheels are all there is.
		found, err := box(t, slices.Concat(train.Drivers, train.Driven), 2, nil).
			Search(new(big.Rat).Quo(screw, want), gears.Query{Limit: new(big.Rat)})
		if err != nil || len(found) != 1 || found[0].Text() != train.Text() {
			t.Errorf("%s: found %v, %v", key, found, err)
		}
	}
}

func wheels(t *testing.T, e published.Example, i int) []int {
	t.Helper()
	var list []int
	if err := json.Unmarshal(e.Arguments[i], &list); err != nil {
		t.Fatal(e.Quantity, err)
	}
	return list
}

// Trains with a known answer.
func TestKnownTrains(t *testing.T) {
	hobby := []int{20, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 127}
	for _, tc := range []struct {
		name, target string
		wheels       []int
		most         int
		ratio        string
		src          string
	}{
		{
			"127 makes metric from an 8 tpi screw exact", "1.5/3.175", hobby, 4, "60/127",
			"1 in = 25.4 mm: 1.5 mm on 8 tpi is 60/127, the handbooks' translating wheel",
		},
		{"20 tpi on a 3 mm screw", "1.27/3", hobby, 6, "127/300", "arithmetic: 25.4/20/3"},
		{
			"without it 63 comes within 125 ppm", "1.5/3.175",
			[]int{60, 63, 80, 100},
			4, "189/400",
			"arithmetic: 60*63/(80*100) against 60/127 is 8001/8000",
		},
		{
			"differential dividing of 51 by 50", "4/5",
			[]int{24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100},
			4, "4/5",
			"ratio from memory (worked_examples.json DF51)",
		},
	} {
		num, den, _ := cut(tc.target)
		target := new(big.Rat).Quo(rat(num), rat(den))
		found, err := box(t, tc.wheels, tc.most, nil).Search(target, gears.Query{Keep: 1})
		if err != nil || len(found) != 1 {
			t.Fatal(tc.name, err)
		}
		if found[0].Ratio.Cmp(rat(tc.ratio)) != 0 {
			t.Errorf("%s: %s = %s, want %s (%s)", tc.name, found[0].Text(), found[0].Ratio.RatString(), tc.ratio, tc.src)
		}
	}
}

func cut(text string) (string, string, bool) {
	for i := range text {
		if text[i] == '/' {
			return text[:i], text[i+1:], true
		}
	}
	return text, "1", false
}

// plain is a train as the plain recursion finds it.
type plain struct {
	drivers, driven []int // smallest first
	off             *big.Rat
}

// everyTrain sets wheels on the lathe one after the other, in every order, and
// keeps each train whose order leaves the room; trains alike but for the order
// count once.
func everyTrain(wheels []int, most int, space *int, target *big.Rat) []plain {
	seen := map[string]plain{}
	used := make([]bool, len(wheels))
	var on []int
	var set func()
	set = func() {
		if n := len(on); n > 0 && n%2 == 0 {
			fits := true
			for i := 0; space != nil && i+2 < n; i += 2 {
				a, b, c, d := on[i], on[i+1], on[i+2], on[i+3]
				fits = fits && a+b > c+*space && c+d > b+*space
			}
			if fits {
				p := plain{}
				ratio := big.NewRat(1, 1)
				for i := 0; i < n; i += 2 {
					p.drivers, p.driven = append(p.drivers, on[i]), append(p.driven, on[i+1])
					ratio.Mul(ratio, big.NewRat(int64(on[i]), int64(on[i+1])))
				}
				slices.Sort(p.drivers)
				slices.Sort(p.driven)
				p.off = ratio.Sub(ratio.Quo(ratio, target), big.NewRat(1, 1))
				p.off.Abs(p.off)
				seen[fmt.Sprint(p.drivers, p.driven)] = p
			}
		}
		if len(on) == most {
			return
		}
		for i, w := range wheels {
			if used[i] {
				continue
			}
			used[i] = true
			on = append(on, w)
			set()
			on = on[:len(on)-1]
			used[i] = false
		}
	}
	set()
	var list []plain
	for _, p := range seen {
		list = append(list, p)
	}
	sum := func(p plain) int {
		n := 0
		for _, w := range slices.Concat(p.drivers, p.driven) {
			n += w
		}
		return n
	}
	slices.SortFunc(list, func(a, b plain) int {
		for _, c := range []int{
			a.off.Cmp(b.off), len(a.drivers) - len(b.drivers), sum(a) - sum(b),
			slices.Compare(a.drivers, b.drivers), slices.Compare(a.driven, b.driven),
		} {
			if c != 0 {
				return c
			}
		}
		return 0
	})
	return list
}

// The search against a plain recursion over all orders of all wheels: the
// whole list, the best few, and those within a limit.
func TestSearchIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Few sizes, so that ratios coincide and wheels are owned twice.
		owned := rapid.SliceOfN(rapid.SampledFrom([]int{20, 21, 24, 25, 30, 40, 50, 60, 63, 100, 127}), 2,
			6).Draw(t, "wheels")
		most := rapid.SampledFrom([]int{2, 4, 6}).Draw(t, "most")
		var space *int
		if rapid.Bool().Draw(t, "room is known") {
			k := rapid.SampledFrom([]int{0, 3, 10, 20, 45}).Draw(t, "room")
			space = &k
		}
		target := big.NewRat(rapid.Int64Range(1, 3000).Draw(t, "p"), rapid.Int64Range(1, 3000).Draw(t, "q"))
		want := everyTrain(owned, most, space, target)
		b, err := gears.New(owned, most, space)
		if err != nil {
			t.Fatal(err)
		}
		compare := func(what string, q gears.Query, want []plain) {
			got, err := b.Search(target, q)
			if err != nil {
				t.Fatal(what, err)
			}
			if len(got) != len(want) {
				t.Fatalf("%s: %d trains, the recursion finds %d", what, len(got), len(want))
			}
			for i, f := range got {
				drivers, driven := slices.Sorted(slices.Values(f.Drivers)), slices.Sorted(slices.Values(f.Driven))
				if !slices.Equal(drivers, want[i].drivers) || !slices.Equal(driven, want[i].driven) {
					t.Fatalf("%s, place %d: %s, the recursion has %v/%v", what, i, f.Text(), want[i].drivers, want[i].driven)
				}
				if new(big.Rat).Abs(f.Error).Cmp(want[i].off) != 0 || f.Ratio.Cmp(ratio(f.Train)) != 0 {
					t.Fatalf("%s: %s: error %v, exactly %v", what, f.Text(), f.Error, want[i].off)
				}
				if room, ok := f.Room(); space != nil && ok && room <= *space {
					t.Fatalf("%s: %s has room of %d teeth, and %d are asked for", what, f.Text(), room, *space)
				}
			}
		}
		compare("all", gears.Query{}, want)
		n := rapid.IntRange(1, 25).Draw(t, "keep")
		compare("the best", gears.Query{Keep: n}, want[:min(n, len(want))])
		limit := big.NewRat(rapid.Int64Range(0, 300).Draw(t, "limit"), 1000)
		if len(want) > 0 && rapid.Bool().Draw(t, "a limit that is just met") {
			limit = want[rapid.IntRange(0, len(want)-1).Draw(t, "which")].off
		}
		inside := want[:0:0]
		for _, p := range want {
			if p.off.Cmp(limit) <= 0 {
				inside = append(inside, p)
			}
		}
		compare("within a limit", gears.Query{Limit: limit}, inside)
	})
}

// Errors too near for float64 to tell apart are still put in order: 100/99 and
// 99/98 miss a target between them by amounts that differ in the 20th place.
func TestNearTies(t *testing.T) {
	a, b := rat("100/99"), rat("99/98")
	mid := new(big.Rat).Add(a, b) // midway both are off by the same
	mid.Quo(mid, rat("2"))
	for _, tc := range []struct{ nudge, want string }{
		{"-1/100000000000000000000", "100/99"}, {"1/100000000000000000000", "99/98"},
	} {
		target := new(big.Rat).Add(mid, rat(tc.nudge))
		found, err := box(t, []int{98, 99, 99, 100}, 2, nil).Search(target, gears.Query{Keep: 2})
		if err != nil {
			t.Fatal(err)
		}
		if found[0].Text() != tc.want {
			t.Errorf("nudged by %s: %s first, want %s", tc.nudge, found[0].Text(), tc.want)
		}
	}
}

// All trains are listed up to 100,000. Of 14 different wheels there are 66,248:
// 14·13 of two, C(14,2)·C(12,2) of four and C(14,3)·C(11,3) of six; of 15 there
// are 108,500.
func TestHowManyTrains(t *testing.T) {
	all, err := box(t, twentyFour[:14], 6, nil).Search(rat("1"), gears.Query{})
	if err != nil || len(all) != 66_248 {
		t.Errorf("%d trains, %v", len(all), err)
	}
	if _, err := box(t, twentyFour[:15], 6, nil).Search(rat("1"), gears.Query{}); err == nil {
		t.Error("more than 100,000 trains were listed")
	}
}

// A train's sense and its room.
func TestTrain(t *testing.T) {
	for _, tc := range []struct {
		train    gears.Train
		text     string
		reverses bool
		room     int
	}{
		{gears.Train{Drivers: []int{20}, Driven: []int{40}}, "20/40", true, 0},
		// 20 + 65 - 30 = 55 beside the first shaft, 30 + 60 - 65 = 25 beside the last.
		{gears.Train{Drivers: []int{20, 30}, Driven: []int{65, 60}}, "20/65 x 30/60", false, 25},
		// 25 + 20 - 60 = -15: the 60 runs into the shaft of the 25.
		{gears.Train{Drivers: []int{25, 60}, Driven: []int{20, 50}}, "25/20 x 60/50", false, -15},
		// 40 + 55 - 45 = 50, and no other is less.
		{gears.Train{Drivers: []int{40, 45, 50}, Driven: []int{55, 60, 65}}, "40/55 x 45/60 x 50/65", true, 50},
	} {
		room, known := tc.train.Room()
		if tc.train.Text() != tc.text || tc.train.Reverses() != tc.reverses || known != (len(tc.train.Drivers) > 1) ||
			known && room != tc.room {
			t.Errorf("%s: reverses %v, room %d %v", tc.train.Text(), tc.train.Reverses(), room, known)
		}
	}
}

// A train must leave more than the room asked for: of these wheels 20/60 x 30/65
// leaves the most, 35 teeth (30 + 65 - 60; beside the first shaft 20 + 60 - 30).
func TestTheLeastRoom(t *testing.T) {
	for space, want := range map[int]int{34: 1, 35: 0} {
		found, err := box(t, []int{20, 30, 60, 65}, 4, &space).Search(rat("2/13"), gears.Query{Limit: new(big.Rat)})
		if err != nil || len(found) != want {
			t.Errorf("%d teeth: %v, %v", space, found, err)
		}
	}
}

var twentyFour = []int{20, 24, 25, 28, 30, 32, 35, 36, 38, 40, 42, 45, 48, 50, 52, 55, 57, 60, 63, 65, 70, 72, 80, 127}

// 24 wheels in trains of six, wheels and products made anew each time.
func TestSixWheelsOfTwentyFourAreQuick(t *testing.T) {
	space := 3
	best := time.Hour
	for range 5 {
		start := time.Now()
		b := box(t, twentyFour, 6, &space)
		if _, err := b.Search(rat("1.4142135623730951"), gears.Query{Keep: 20}); err != nil {
			t.Fatal(err)
		}
		best = min(best, time.Since(start))
	}
	if best > 50*time.Millisecond {
		t.Errorf("the best of five takes %v, more than 50 ms", best)
	}
}

func BenchmarkSixWheels(b *testing.B) {
	space := 3
	for _, target := range []string{"1/2", "1.4142135623730951", "0.0001"} {
		b.Run(target[:3], func(b *testing.B) {
			for b.Loop() {
				if _, err := box(b, twentyFour, 6, &space).Search(rat(target), gears.Query{Keep: 20}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func TestRefusals(t *testing.T) {
	many := make([]int, 65)
	for i := range many {
		many[i] = 20 + i
	}
	k := func(n int) *int { return &n }
	for _, tc := range []struct {
		wheels []int
		most   int
		space  *int
		want   string
	}{
		{nil, 4, nil, "gears: 0 wheels: a train needs two wheels"},
		{[]int{20}, 4, nil, "gears: 1 wheel: a train needs two wheels"},
		{[]int{4, 20, 501}, 4, nil, "gears: 4: write 5 to 500 teeth in a wheel\ngears: 501: write 5 to 500 teeth in a wheel"},
		{[]int{20, 40}, 3, nil, "wheels: 3: a train here has 2, 4 or 6 wheels"},
		{[]int{20, 40}, 8, nil, "wheels: 8: a train here has 2, 4 or 6 wheels"},
		{[]int{20, 40}, 4, k(-1), "banjo: -1: write 0 to 100 teeth beside a wheel"},
		{[]int{20, 40}, 4, k(101), "banjo: 101: write 0 to 100 teeth beside a wheel"},
		{many, 2, nil, "gears: 65 sizes: at most 64 different wheels are searched"},
	} {
		if _, err := gears.New(tc.wheels, tc.most, tc.space); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
	for _, tc := range []struct {
		target string
		query  gears.Query
		want   string
	}{
		{"0", gears.Query{}, "ratio: 0: a ratio here is 1/1000000 to 1000000"},
		{"1/1000001", gears.Query{}, "ratio: 1/1000001: a ratio here is 1/1000000 to 1000000"},
		{"1000001", gears.Query{}, "ratio: 1000001: a ratio here is 1/1000000 to 1000000"},
		{"1", gears.Query{Keep: -1}, "keep: -1: cannot be negative"},
		{"1", gears.Query{Limit: rat("-1/1000")}, "max-error: -1/1000: cannot be negative"},
		{"1", gears.Query{}, "gears: these wheels make more than 100000 trains: give the largest error that will do"},
	} {
		if _, err := box(t, twentyFour, 6, nil).Search(rat(tc.target), tc.query); err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

func ExampleBox_Search() {
	b, err := gears.New([]int{20, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 127}, 4, nil)
	if err != nil {
		panic(err)
	}
	// 1.5 mm on a leadscrew of 8 threads to the inch, 3.175 mm.
	trains, err := b.Search(big.NewRat(1500, 3175), gears.Query{Keep: 2})
	if err != nil {
		panic(err)
	}
	for _, t := range trains {
		fmt.Printf("%s, error %.0f ppm\n", t.Text(), t.PPM())
	}
	// Output:
	// 60/127, error 0 ppm
	// 40/20 x 30/127, error 0 ppm
}
