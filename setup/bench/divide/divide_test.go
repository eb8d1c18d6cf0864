package divide_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/bench/divide"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
	"setover/setup/page/sheet"
)

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

// heads are the heads with the plates they are sold with, from
// testdata/reference/dividing_plates.json.
func heads(t *testing.T) map[string]*shop.DividingHead {
	text, err := os.ReadFile(filepath.Join(published.Dir(), "dividing_plates.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list map[string]struct {
		Ratio   int     `json:"ratio"`
		Circles [][]int `json:"circles"`
	}
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	all := map[string]*shop.DividingHead{}
	for name, h := range list {
		all[name] = &shop.DividingHead{Ratio: h.Ratio, Plates: h.Circles}
	}
	return all
}

// Published divisions. Each names the circle and the spaces its source uses;
// they must be among the solutions, exact or off by what is noted.
func TestPublished(t *testing.T) {
	const (
		army     = "US Army OD 16448, Fundamentals of milling machine operation: figure 11 and its examples"
		practice = "Differential and angular indexing practice sheet"
		fox      = "Advanced Milling: angular indexing; Fox Valley Technical College"
		oberg    = "Machinery's Handbook, Oberg and Jones, 1916: indexing for angles"
	)
	for _, tc := range []struct {
		n                     int
		angle                 string
		ratio                 int
		turns, spaces, circle int
		src                   string
	}{
		{6, "", 40, 6, 12, 18, army},
		{6, "", 40, 6, 26, 39, army},
		{42, "", 40, 0, 40, 42, army},
		{42, "", 40, 0, 20, 21, army},
		{15, "", 40, 2, 18, 27, practice},
		{15, "", 40, 2, 24, 36, practice},
		{0, "15deg", 40, 1, 18, 27, practice},
		{0, "15deg", 40, 1, 24, 36, practice},
		{0, "54m", 40, 0, 2, 20, army},
		{0, "45deg", 40, 5, 0, 54, fox},
		{0, "19deg", 40, 2, 6, 54, fox},
		{0, "8d50m", 40, 0, 53, 54, fox},
		{0, "35deg", 40, 3, 16, 18, oberg},
		{0, "11d30m", 40, 1, 5, 18, oberg},
	} {
		in := divide.Input{N: tc.n, Ratio: tc.ratio, Circles: []int{tc.circle}}
		if tc.angle != "" {
			in.Angle = angle(strings.Replace(tc.angle, "54m", "0d54m", 1))
		}
		r, err := divide.Divide(in)
		if err != nil {
			t.Fatal(err)
		}
		if s := r.Solutions[0]; s.Turns != tc.turns || s.Spaces != tc.spaces || !s.Exact || s.SectorHoles != tc.spaces+1 {
			t.Errorf("%d %s: %+v; %s has %d turns and %d on %d", tc.n, tc.angle, s, tc.src, tc.turns, tc.spaces, tc.circle)
		}
	}
}

// The Army manual makes 24 minutes one hole of 23 and calls the error very
// small. One hole of 23 is 540/23 = 23.478 minutes: 0.52 minutes short.
func TestTheArmysMinutes(t *testing.T) {
	r, err := divide.Divide(divide.Input{Angle: angle("0d24m"), Ratio: 40, Circles: []int{23}})
	if err != nil {
		t.Fatal(err)
	}
	if got := strconv.FormatFloat(r.Error.Deg()*60, 'f', 2, 64); got != "-0.52" || *r.Exact || *r.Spaces != 1 {
		t.Errorf("off by %s minutes, exact %v", got, *r.Exact)
	}
	if w := r.Warnings[0]; w.Code != "no-exact-circle" || w.Text != "no circle here divides this exactly: the nearest "+
		"is off by -31.30 seconds a division" {
		t.Error(w)
	}
}

// A practice sheet sets 125 divisions at 72:1 on circles of 24, 25, 27, 28 and
// 30 holes. None is exact, since 72/125 needs 125 holes or a multiple.
func TestNoExactCircle(t *testing.T) {
	r, err := divide.Divide(divide.Input{N: 125, Ratio: 72, Circles: []int{24, 25, 27, 28, 30}})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Solutions {
		if s.Exact {
			t.Errorf("%+v is called exact", s)
		}
	}
}

// Every number of divisions from 1 to 1,000 on every standard plate, against
// trying each hole of each circle in whole numbers: which are exact, that they
// stand first, and that the best of the others is the nearest there is. Above
// 60 it is every 29th number unless SETOVER_SLOW is set.
func TestAgainstBruteForce(t *testing.T) {
	step := 29
	if os.Getenv("SETOVER_SLOW") != "" {
		step = 1
	}
	for name, head := range heads(t) {
		for n := 1; n <= 1000; n++ {
			if n > 60 && n%step != 0 {
				continue
			}
			r, err := divide.Divide(divide.Input{N: n, Head: head})
			if err != nil {
				t.Fatal(name, n, err)
			}
			exact := map[int]bool{}
			least := big.NewRat(1, 1)
			for _, plate := range head.Plates {
				for _, c := range plate {
					for k := 0; k <= head.Ratio*c; k++ { // k spaces in all against ratio/n turns
						if k*n == head.Ratio*c {
							exact[c] = true
						}
						near := head.Ratio * c / n
						if k < near || k > near+1 {
							continue // further than a hole away
						}
						off := new(big.Rat).Sub(big.NewRat(int64(k), int64(c)), big.NewRat(int64(head.Ratio), int64(n)))
						if off.Abs(off).Cmp(least) < 0 {
							least = off
						}
					}
				}
			}
			for i, s := range r.Solutions {
				if s.Exact != exact[s.Circle] || s.Exact && i >= len(exact) {
					t.Fatalf("%s, %d divisions: circle %d is %v at place %d, brute force says %v", name, n, s.Circle, s.Exact, i,
						exact[s.Circle])
				}
				if s.Exact && (s.Turns*s.Circle+s.Spaces)*n != head.Ratio*s.Circle {
					t.Fatalf("%s, %d divisions: %+v does not come round", name, n, s)
				}
			}
			warned := slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool { return w.Code == "no-exact-circle" })
			if warned != (len(exact) == 0) {
				t.Fatalf("%s, %d divisions: warned %v, %d exact circles", name, n, warned, len(exact))
			}
			want, _ := least.Float64()
			if got := math.Abs(r.Error.Deg()) * float64(head.Ratio) / 360; math.Abs(got-want) > 1e-12 {
				t.Fatalf("%s, %d divisions: off by %v turns, the nearest hole by %v", name, n, got, want)
			}
		}
	}
}

// Positions with no error carried: they come round exactly, and none is
// further off than half a hole, though the nearest division times N is.
func TestPositions(t *testing.T) {
	head := heads(t)["three-plate"]
	for _, n := range []int{51, 127, 360, 997} {
		r, err := divide.Divide(divide.Input{N: n, Head: head, List: true})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0
		for _, p := range r.Positions {
			sum += p.Turns**r.Circle + p.Spaces
			if half := 180 / float64(head.Ratio**r.Circle); math.Abs(p.Error.Deg()) > half+1e-12 {
				t.Errorf("%d: position %d is %v off, half a hole is %v", n, p.N, p.Error, half)
			}
		}
		if sum != head.Ratio**r.Circle || len(r.Positions) != n {
			t.Errorf("%d: %d spaces in all, want %d", n, sum, head.Ratio**r.Circle)
		}
	}
}

// The handbooks' 51 by way of 50: -4/5, so the plate turns against the crank.
func TestPlateRatios(t *testing.T) {
	for _, e := range published.Answers(t, "diff_ratio") {
		n, as := int(e.Num(t, 0)), int(e.Num(t, 1))
		if got := strconv.Quote(divide.PlateRatio(n, as, 40).RatString()); got != string(e.Raw) {
			t.Errorf("%d by way of %d: %s; %s has %s", n, as, got, e.Source, e.Raw)
		}
	}
	// 57 by way of 56 is -5/7: the handbooks gear it 40 to 56, from memory.
	if got := divide.PlateRatio(57, 56, 40).RatString(); got != "-5/7" {
		t.Error(got)
	}
}

// Differential dividing, worked round: N times the crank's step against the
// plate and the plate's own turns must be one turn of the spindle, exactly.
func TestDifferentialComesRound(t *testing.T) {
	wheels := []int{20, 24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100}
	head := heads(t)["three-plate"]
	geared := 0
	for n := 51; n <= 400; n++ {
		r, err := divide.Divide(divide.Input{N: n, Head: head, Wheels: wheels})
		if err != nil {
			t.Fatal(err)
		}
		d := r.Differential
		if *r.Exact && d != nil {
			t.Fatalf("%d: a train where a circle serves", n)
		}
		if d == nil {
			continue
		}
		geared++
		drive := big.NewRat(1, 1)
		for i := range d.Drivers {
			drive.Mul(drive, big.NewRat(int64(d.Drivers[i]), int64(d.Driven[i])))
		}
		if d.Direction == divide.AgainstCrank {
			drive.Neg(drive)
		}
		// One turn of the spindle: n steps of the crank against the plate, and the plate's own turns.
		steps := big.NewRat(int64(d.Index.Turns*d.Index.Circle+d.Index.Spaces)*int64(n), int64(d.Index.Circle))
		if got := steps.Add(steps, drive); got.Cmp(big.NewRat(int64(head.Ratio), 1)) != 0 {
			t.Fatalf("%d: %+v comes to %s turns of the worm", n, d, got.RatString())
		}
		// A pair turns the sense round, and so does an idler; the plate is to turn with the crank when even.
		if reversed := (len(d.Drivers)+d.Idlers)%2 == 1; reversed != (d.Direction == divide.AgainstCrank) {
			t.Fatalf("%d: %d pairs and %d idlers for a plate that turns %s", n, len(d.Drivers), d.Idlers, d.Direction)
		}
	}
	if geared < 200 {
		t.Errorf("only %d numbers were geared", geared)
	}
}

// On a rotary table: 1/7 of the circle is 51°25'43", to the nearest second. At
// 90 to 1 a turn is 4 deg, so that is 12 turns and 3°25'43".
func TestRotary(t *testing.T) {
	r, err := divide.Divide(divide.Input{N: 7, Rotary: &shop.RotaryTable{Ratio: 90}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{
		`0°00'00" 0 0°00'00"`, `51°25'43" 12 3°25'43"`, `102°51'26" 25 2°51'26"`,
		`154°17'09" 38 2°17'09"`, `205°42'51" 51 1°42'51"`,
	} {
		p := r.Rotary[i]
		if got := fmt.Sprintf("%s %d %s", p.DMS, *p.Turns, *p.Handwheel); got != want {
			t.Errorf("cut %d: %s, want %s", p.N, got, want)
		}
	}
	// What is a whole turn but for a thousandth of a second is said as one.
	r, err = divide.Divide(divide.Input{Angle: angle("11.9999999"), Rotary: &shop.RotaryTable{Ratio: 90}})
	if err != nil {
		t.Fatal(err)
	}
	if p := r.Rotary[0]; *p.Turns != 3 || *p.Handwheel != `0°00'00"` || len(r.Rotary) != 1 {
		t.Errorf("%d turns and %s", *p.Turns, *p.Handwheel)
	}
	// Every position, whole turns and rest together, is its part of the circle.
	for n := 1; n <= 400; n += 3 {
		r, err := divide.Divide(divide.Input{N: n, Rotary: &shop.RotaryTable{Ratio: 40}})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range r.Rotary {
			if got := float64(*p.Turns)*9 + p.Remainder.Deg(); math.Abs(got-360*float64(p.N-1)/float64(n)) > 1e-9 {
				t.Fatalf("%d: cut %d at %v", n, p.N, got)
			}
		}
	}
}

// A sheet lists the five nearest circles where none is exact, and 36 positions
// unless all are asked for.
func TestWhatASheetLists(t *testing.T) {
	head := heads(t)["three-plate"]
	for list, want := range map[bool]int{false: 36, true: 51} {
		r, err := divide.Divide(divide.Input{N: 51, Head: head, List: list})
		if err != nil {
			t.Fatal(err)
		}
		tables := r.Sheet().Tables
		if n, m := len(tables[0].Rows), len(tables[len(tables)-1].Rows); n != 5 || m != want {
			t.Errorf("%d circles and %d positions, want 5 and %d", n, m, want)
		}
	}
}

// What sides divide: each side, or every so many.
func TestBlocks(t *testing.T) {
	for _, tc := range []struct {
		in   divide.Input
		want string
	}{
		{divide.Input{N: 2}, "collet block 4/2, collet block 6/3"},
		{divide.Input{N: 3}, "collet block 6/2, chuck jaws 3/1"},
		{divide.Input{N: 5}, ""},
		{divide.Input{Angle: angle("120")}, "collet block 6/2, chuck jaws 3/1"},
		{divide.Input{Angle: angle("90deg")}, "collet block 4/1"},
	} {
		tc.in.Blocks, tc.in.Jaws = []int{4, 6}, 3
		r, err := divide.Divide(tc.in)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, b := range r.Blocks {
			got = append(got, fmt.Sprintf("%s %d/%d", b.Kind, b.Sides, b.Step))
		}
		if s := strings.Join(got, ", "); s != tc.want {
			t.Errorf("%v: %s, want %s", tc.in, s, tc.want)
		}
		if r.Turns != nil || r.Warnings[0].Text != "no dividing head in this shop: no circle was looked for (dividing_head)" {
			t.Errorf("without a head: %v", r.Warnings)
		}
	}
}

// The number of divisions is taken for the nearest one that a circle gives, the
// smaller of two alike, and counted on the circle with the fewest spaces: 59 of
// 40:1 is geared by 58, which is 20 spaces of 29 and 40 of 58 (40/58 = 20/29),
// though 60 would do as well (40/60 = 10/15).
func TestDifferentialTakesTheNearest(t *testing.T) {
	r, err := divide.Divide(divide.Input{
		N: 59, Ratio: 40, Circles: []int{58, 29, 15}, Wheels: []int{20, 24, 28, 29, 32, 40, 44, 48, 56, 58, 64, 72},
	})
	if err != nil {
		t.Fatal(err)
	}
	d := r.Differential
	if d == nil || d.As != 58 || d.Ratio != "-20/29" || d.Index.Circle != 29 || d.Index.Spaces != 20 {
		t.Errorf("%+v", d)
	}
}

// An angle is read to the thousandth of a second, either way: a third of a turn
// typed with nine decimals is exact on a circle of 3, and so is 40 minutes,
// 2/3 deg, on one of 27: 40/540 of a turn of the crank is 2/27. 65 minutes are
// 13/108 of a turn.
func TestAnglesAreExact(t *testing.T) {
	for _, tc := range []struct {
		angle  string
		circle int
	}{{"120", 3}, {"0d40m", 27}, {"1d5m", 108}, {"0.1", 90}, {"0.7", 90}, {"0d0m36s", 900}} {
		r, err := divide.Divide(divide.Input{Angle: angle(tc.angle), Ratio: 40, Circles: []int{tc.circle}})
		if err != nil {
			t.Fatal(err)
		}
		if !*r.Exact {
			t.Errorf("%s deg on a circle of %d is off by %s", tc.angle, tc.circle, r.Error)
		}
	}
}

// Errors are told in seconds under a minute and in minutes from there. 1/50 of
// 40:1 is 5.6 spaces of 7, so 6 are 0.4/280 of the circle too many, 30.86
// minutes; 1/51 is 39.216 of 50, so 39 are 0.216/2,000 short, 2.33 minutes, and
// 784.31 of 1,000, so 784 are 0.31/40,000 short, 10.16 seconds.
func TestErrorsInWords(t *testing.T) {
	for _, tc := range []struct {
		n, circle int
		want      string
	}{{50, 7, "+30.86 minutes"}, {51, 50, "-2.33 minutes"}, {51, 1000, "-10.16 seconds"}} {
		r, err := divide.Divide(divide.Input{N: tc.n, Ratio: 40, Circles: []int{tc.circle}})
		if err != nil {
			t.Fatal(err)
		}
		want := "no circle here divides this exactly: the nearest is off by " + tc.want + " a division"
		if got := r.Warnings[0].Text.String(); got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		in   divide.Input
		want string
	}{
		{divide.Input{}, "divisions: needs exactly one of divisions and angle"},
		{divide.Input{N: 6, Angle: angle("60")}, "divisions: divisions and angle: give one of them"},
		{divide.Input{N: -1}, "divisions: -1: write 1 to 10000 divisions"},
		{divide.Input{N: 10001}, "divisions: 10001: write 1 to 10000 divisions"},
		{divide.Input{Angle: angle("0")}, "angle: 0 deg: must be above 0 and at most 360 deg"},
		{divide.Input{Angle: angle("361")}, "angle: 361 deg: must be above 0 and at most 360 deg"},
		{divide.Input{N: 6, Ratio: -1}, "ratio: -1: write 1 to 1000"},
		{divide.Input{N: 6, Ratio: 1001, Circles: []int{0, 1001}}, "ratio: 1001: write 1 to 1000\n" +
			"circles: 0: write 1 to 1000 holes in a circle\ncircles: 1001: write 1 to 1000 holes in a circle"},
		{divide.Input{N: 6, Circles: []int{18}}, "ratio: is needed with circles: no dividing head in this shop " +
			"(dividing_head)"},
	} {
		_, err := divide.Divide(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

func ExampleDivide() {
	r, err := divide.Divide(divide.Input{N: 42, Ratio: 40, Circles: []int{42, 21}})
	if err != nil {
		panic(err)
	}
	for _, s := range r.Solutions {
		fmt.Printf("%d turns and %d spaces on %d, %d holes in the sector\n", s.Turns, s.Spaces, s.Circle, s.SectorHoles)
	}
	// Output:
	// 0 turns and 20 spaces on 21, 21 holes in the sector
	// 0 turns and 40 spaces on 42, 41 holes in the sector
}
