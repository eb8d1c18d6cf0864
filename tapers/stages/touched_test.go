package stages_test

import (
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/stages"
)

// No taper is touched on an edge: where what stands beside the end is not as thick, the tip is at least 1 mm and a
// turn of the handle inside of it. Obeyed, with the tip going s·sin a deeper for s along the slide, the last pass
// leaves the end as drawn, never below, the first only meets the work, and a pass goes as far as the side is long.
func TestTouchedInsideOfTheEdge(t *testing.T) {
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(s, 64)
		return v
	}
	begins := regexp.MustCompile(`^Stage (\d+), from z .*?(?:Unlock the carriage, |With the carriage the )tip ` +
		`(?:to|(\d+) mm of)`)
	touch := regexp.MustCompile(`Compound (?:in|out)(?:, tip clear, to ([\d.]+) mm of slide (short of|past) z ` +
		`([\d.]+) mm| ([\d.]+) mm \((\d+) turns?\), tip clear), touch the work`)
	first := regexp.MustCompile(`Cross slide in to ([\d.]+) mm out from 0`)
	last := regexp.MustCompile(`to past 0 by (?:([\d.]+) mm and )?half of what the work measures there over [\d.]+ mm` +
		`(?:, less ([\d.]+) mm)?|the last line is (?:([\d.]+) mm \([^)]*\) (past 0|out from 0)|0)`)
	feed := regexp.MustCompile(`Each pass: compound (?:in|out)(?: to 0: its slack,)?( those 2 mm and)? ([\d.]+) mm` +
		`(?: more)?(?: \([^)]*\))?(?:, and on ([\d.]+) mm)?`)
	backs := regexp.MustCompile(`compound back (\d+) turns`) // of 1 mm
	rng := rand.New(rand.NewPCG(30, 22))
	seen := map[string]int{}
	for range 700 {
		var in []stages.Station
		z := 0
		for i := range 2 + rng.IntN(4) {
			if i == 1 || i > 0 && (rng.IntN(4) > 0 || in[i-1].Z.Equal(in[i-2].Z)) {
				z += 12 + rng.IntN(70)
			}
			in = append(in, outside(float64(z), float64(2*(5+rng.IntN(13))))...)
		}
		ask := stages.Input{Stations: in, Place: mounted(tools...), Blade: new(units.MustLength("3mm"))}
		compound := *ask.Lathe.Compound
		compound.Screw = &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50}
		ask.Lathe.Compound = &compound
		ask.Lathe.CrossSlide = &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100}
		r, err := stages.Of(ask)
		if err != nil || len(r.Fails()) > 0 {
			continue
		}
		var lines []string
		for _, step := range r.Sheet().Procedure {
			lines = append(lines, step.Brief().In(units.MM))
		}
		for k, line := range lines {
			b := begins.FindStringSubmatch(line)
			if b == nil || k+3 >= len(lines) || strings.Contains(lines[k+1]+lines[k+2]+lines[k+3], "as step") {
				continue
			}
			s := r.Stages[int(number(b[1]))-1]
			m, f := touch.FindStringSubmatch(lines[k+1]), feed.FindStringSubmatch(lines[k+3])
			if m == nil || k+4 < len(lines) && strings.Contains(lines[k+4], "bites") {
				seen["not inside"]++
				continue
			}
			along := number(m[1] + m[4])
			if along < 1 || math.Mod(along, 1) != 0 {
				t.Fatalf("touched %v inside: %s", along, lines[k+1])
			}
			if back := backs.FindStringSubmatch(lines[k+1]); m[2] == "past" && (back == nil ||
				number(back[1]) != along+number(b[2])) {
				t.Fatalf("comes back %v: %s", back, lines[k+1])
			}
			a := s.HalfAngle.Rad()
			if s.Set != nil {
				a = s.Set.SetHalfAngle.Rad()
			}
			slope := s.To.Minus(s.From).MM() / math.Cos(a)
			headFirst := strings.Contains(line, "eft-hand tool on") // it begins at the headstock's end
			touchesHead := headFirst != (m[2] == "short of")
			grows := s.FromDia.Less(s.ToDia)
			small := touchesHead == grows
			deep := along * math.Sin(a)
			meets := slope*math.Sin(a) - deep // at the small end, when the large was touched
			if small {
				deep, meets = -deep, along*math.Sin(a)
			}
			out := 0.0
			if o := first.FindStringSubmatch(lines[k+2]); o != nil {
				out = number(o[1])
			}
			if out < meets-0.002 || out > meets+0.03 {
				t.Fatalf("%v: begins %v out, meets the work at %v: %s", in, out, meets, strings.Join(lines[k:k+4], "\n"))
			}
			l := last.FindStringSubmatch(lines[k+2])
			if l == nil {
				t.Fatal(lines[k+2])
			}
			goes := number(l[1]) - number(l[2])
			line := 0.0
			if strings.Contains(lines[k+2], "the last line") {
				goes, line = number(l[3]), 0.02
				if l[4] == "out from 0" {
					goes = -goes
				}
				thick := s.TurnDown.MM()
				drawn := max(s.FromDia.MM(), s.ToDia.MM())
				if small {
					drawn = min(s.FromDia.MM(), s.ToDia.MM())
				}
				goes -= (thick - drawn) / 2
				seen["turned down"]++
			}
			if goes > deep+0.001 || goes < deep-0.002-line {
				t.Fatalf("%v: stage %d goes %v past 0, %v is to size: %s", in, s.N, goes, deep, strings.Join(lines[k:k+4], "\n"))
			}
			if far := number(f[2]) + number(f[3]); math.Abs(far-slope) > 0.002 {
				t.Fatalf("%v: stage %d is wound %v along a side of %v: %s", in, s.N, far, slope, lines[k+3])
			}
			seen[m[2]]++
			if small {
				seen["small"]++
			}
		}
	}
	for _, kind := range []string{"not inside", "short of", "turned down"} {
		if seen[kind] < 10 {
			t.Error("too few:", kind, seen)
		}
	}
}

// A peak is no place to touch once the side beyond it is cut: 14 to 34 over 13 falls off by 1.54 on the diameter
// for each 1 along, 26 to 40 over 21 by 0.67. The side that is cut second is touched whole turns inside.
func TestTouchedInsideOfAPeak(t *testing.T) {
	for _, in := range [][]stages.Station{
		slices.Concat(outside(0, 14), outside(13, 34), outside(64, 30)),
		slices.Concat(outside(0, 26), outside(21, 40), outside(72, 24)),
	} {
		ask := stages.Input{Stations: in, Place: mounted(tools...)}
		compound := *ask.Lathe.Compound
		compound.Screw = &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50}
		ask.Lathe.Compound = &compound
		ask.Lathe.CrossSlide = &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100}
		r, err := stages.Of(ask)
		if err != nil || len(r.Fails()) > 0 || len(r.Order) != 2 {
			t.Fatal(err, r.Fails(), r.Order)
		}
		second, told := "Stage "+strconv.Itoa(r.Order[1])+":", ""
		for _, step := range r.Sheet().Procedure {
			if line := step.Brief().In(units.MM); strings.HasPrefix(line, second) && strings.Contains(line, ", touch the work") {
				told = line
			}
		}
		if !regexp.MustCompile(`to \d+ mm of slide (short of|past) z`).MatchString(told) {
			t.Errorf("%v: %q", in, told)
		}
	}
}

// What is no taper is cut with the post square, where it is turned for the tapers: said so, and not otherwise.
func TestPostSquare(t *testing.T) {
	for _, turned := range []bool{true, false} {
		in := stages.Input{
			Stations: slices.Concat(outside(0, 30), outside(25, 30), outside(60, 22), outside(60, 16), outside(80, 16)),
			Place:    mounted(tools...),
		}
		if turned {
			in.PostTurned = new(units.Degrees(-2))
		}
		r, err := stages.Of(in)
		if err != nil {
			t.Fatal(err)
		}
		cuts := 0
		for _, step := range r.Sheet().Procedure {
			line := step.Whole().In(units.MM)
			if !strings.Contains(line, "turn it to") && !strings.Contains(line, "face the shoulder") {
				continue
			}
			cuts++
			if strings.Contains(line, ", post square.") != turned {
				t.Errorf("turned %v: %s", turned, line)
			}
		}
		if cuts != 3 {
			t.Errorf("%d cuts are told, two cylinders and a shoulder are drawn", cuts)
		}
	}
}

// The next bites of a taper that is touched at its small end begin on the line where the tip only just meets them:
// where bite k begins the taper is (k - 1)·b·tan a thicker a side, so that much of what bite 1 takes off is not there.
func TestNextBitesBeginWhereTheyMeet(t *testing.T) {
	bites := regexp.MustCompile(`bite (\d+) from ([\d.]+) mm \([^)]*\) past 0`)
	first := regexp.MustCompile(`to ([\d.]+) mm of slide past z`)
	carriage := regexp.MustCompile(`carriage ([\d.]+) mm`)
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(s, 64)
		return v
	}
	seen := 0
	for _, tc := range [][3]float64{{56, 163, 24}, {40, 300, 30}, {50, 200, 12}, {30, 140, 22}, {56, 250, 55}} {
		for _, flat := range []bool{false, true} {
			list := outside(0, tc[0], tc[1], tc[2])
			if flat {
				list = append(list, outside(tc[1]+30, tc[2])...)
			}
			ask := stages.Input{Stations: list, Place: mounted(tools...)}
			ask.Lathe.CrossSlide = &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100}
			r, err := stages.Of(ask)
			if err != nil || len(r.Fails()) > 0 {
				t.Fatal(err, r.Fails())
			}
			words := ""
			for _, step := range r.Stages[0].Steps {
				words += step.Brief().In(units.MM) + "\n"
			}
			inside := 0.0
			if m := first.FindStringSubmatch(words); m != nil {
				inside = number(m[1])
			} else if strings.Contains(words, "tip clear, touch") {
				inside = 3
			}
			a, move := r.Stages[0].Set.SetHalfAngle.Rad(), number(carriage.FindStringSubmatch(words)[1])
			for _, m := range bites.FindAllStringSubmatch(words, -1) {
				seen++
				meets := (number(m[1])-1)*move*math.Tan(a) - inside*math.Sin(a)
				if says := number(m[2]); says > meets+0.012 || says < meets-0.032 { // it moves on lines
					t.Errorf("%v: bite %s from %v, it meets the work at %v\n%s", tc, m[1], says, meets, words)
				}
			}
		}
	}
	if seen < 12 {
		t.Error("too few:", seen)
	}
}
