package stages_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/fouling"
	"setover/tapers/stages"
)

// radius is how thick the work stands at z: what is cut as it is drawn, a taper that is turned
// down as thick as that, the rest as the bar; before the stations the bar but for a neck, and
// nothing after them.
func radius(r stages.Result, z float64, cut, down map[int]bool) float64 {
	list := r.Inputs.Stations
	bar := 0.0
	for _, s := range list {
		bar = max(bar, s.Dia.MM()/2)
	}
	if z < list[0].Z.MM() {
		for _, k := range r.Necks {
			if k.End == tapers.AtHeadstock && z > k.From.MM() {
				return k.Dia.MM() / 2
			}
		}
		return bar // whoever has turned nothing down there has it as it was
	}
	for _, s := range r.Stages {
		from, to := s.From.MM(), s.To.MM()
		if z < from || z > to || from == to {
			continue
		}
		switch {
		case cut[s.N]:
			return (s.FromDia.MM() + (s.ToDia.MM()-s.FromDia.MM())*(z-from)/(to-from)) / 2
		case down[s.N]:
			return s.TurnDown.MM() / 2
		}
		return bar
	}
	return 0
}

// Whatever the post is turned by, and whichever tools there are: no tool, at any place of its
// travel along a taper, has under the line of its trailing edge, less the 2 deg that it stands
// clear by, metal that stands there still; and its leading edge, which stands as much off square
// as the post is turned, leans by no more than the 0.1 mm that a guide tells into what is cut
// later, and not at all into what is left. The steps of the sheet are in that order.
func TestNoToolInWhatIsYetToBeCut(t *testing.T) {
	const (
		wide    = 16.0 // of the holder
		told    = 0.1
		nothing = 0.002
	)
	done, groups := 0, 0
	outsides := [][]stages.Station{
		outside(0, 34, 62, 20, 106, 30), outside(0, 30, 44, 20, 106, 34), outside(0, 20, 40, 30, 80, 20),
		outside(0, 30, 20, 30, 60, 26, 100, 30), outside(0, 40, 20, 40, 28, 20, 36, 40, 56, 40),
		outside(0, 24, 30, 20, 60, 24, 90, 20), outside(0, 30, 30, 20, 30, 26, 70, 20),
		outside(0, 20, 30, 24, 30, 30, 60, 36), outside(0, 36, 0.05, 20, 60, 22),
	}
	for _, trail := range []float64{8, 9, 14} {
		for _, hands := range [][]fouling.Hand{{fouling.Right}, {fouling.Left}, fouling.Hands} {
			var tools []shop.Tool
			for _, h := range hands {
				tools = append(tools, shop.Tool{Hand: string(h), Trail: units.Degrees(trail)})
			}
			for _, list := range outsides {
				for _, turn := range []float64{-8, -4.5, -2, -0.5, 0.5, 1, 3, 6.5, 8} { // deg
					for _, known := range []bool{false, true} {
						in := stages.Input{Stations: list, Place: mounted(tools...)}
						in.PostTurned, in.Brief = new(units.Degrees(turn)), true
						if known {
							in.FromJaws = new(units.Millimetres(40))
						}
						r, err := stages.Of(in)
						if err != nil {
							t.Fatal(err)
						}
						if len(r.Together) > 0 {
							groups++
							if len(r.Fails()) == 0 {
								t.Fatalf("%v %v %v: %v stand in each other's way, and it is a yes", list, hands, turn, r.Together)
							}
						}
						if len(r.Fails()) > 0 {
							continue
						}
						done++
						name := fmt.Sprint(list, " ", hands, " trailing ", trail, ", the post turned ", turn, ", place known ", known)
						cut, down := map[int]bool{}, map[int]bool{}
						for _, n := range r.Order {
							for _, o := range r.Stages {
								down[o.N] = down[o.N] || o.TurnDownBefore != nil && *o.TurnDownBefore == n
							}
							s := r.Stages[n-1]
							if cut[n] = true; s.Kind != stages.Taper {
								continue
							}
							way, lean := 1.0, turn // the trailing side of a right-hand tool is the tailstock's
							if s.ToolHand == fouling.Left {
								way, lean = -1, -turn
							}
							edge, off := math.Tan((trail-2+lean)*math.Pi/180), math.Tan(lean*math.Pi/180)
							for part := 0.0; part <= 1; part += 1.0 / 32 {
								tip := s.From.MM() + part*(s.To.MM()-s.From.MM())
								high := (s.FromDia.MM() + (s.ToDia.MM()-s.FromDia.MM())*part) / 2
								for d := 0.02; d < wide-0.1; d += 0.25 {
									if rises := radius(r, tip+way*d, cut, down) - high; rises > d*edge+nothing {
										t.Fatalf("%s: stage %d by a %s-hand tool, order %v, at z %v: %v rises %v", name, n, s.ToolHand,
											r.Order, tip, tip+way*d, rises)
									}
								}
							}
							end, high := s.From.MM(), s.FromDia.MM()/2
							if way < 0 {
								end, high = s.To.MM(), s.ToDia.MM()/2
							}
							all := map[int]bool{}
							for i := range r.Stages {
								all[i+1] = true
							}
							for d := 0.02; d < 10 && lean > 0; d += 0.05 {
								stands := (radius(r, end-way*d, cut, down)-high)*off - d
								left := (radius(r, end-way*d, all, nil)-high)*off - d
								if stands > told || left > nothing {
									t.Fatalf("%s: stage %d leans %v into the work, and %v into what is left", name, n, stands, left)
								}
							}
						}
						if steps := r.Sheet().Procedure; len(steps) == 0 || slices.Contains(r.Order, 0) {
							t.Fatal(name, "no steps")
						}
					}
				}
			}
		}
	}
	if done < 200 || groups < 10 {
		t.Error("asked of too few:", done, groups)
	}
}

// Two tapers that meet at their small ends, and a right-hand tool that trails by half a degree
// too little for the second: the post turned by that, the second is cut first, and the leading
// edge comes up to the bar beside it. What was said would clear does, asked again.
func TestRemedyAskedAgain(t *testing.T) {
	in := stages.Input{
		Stations: outside(0, 34, 62, 20, 106, 30),
		Place:    mounted(shop.Tool{Hand: "right", Trail: units.Degrees(8)}),
	}
	in.FromJaws = new(units.Millimetres(20))
	r, err := stages.Of(in)
	if err != nil || len(r.Fails()) == 0 {
		t.Fatal(r.Fails(), err)
	}
	asked := 0
	for _, s := range r.Stages {
		for _, a := range s.Alternatives {
			if !a.Stays() {
				continue
			}
			again := in
			again.Arrangement = a.Arrangement
			if r, err := stages.Of(again); err != nil || len(r.Fails()) > 0 {
				t.Error(a.Say, r.Fails(), err)
			}
			asked++
		}
	}
	if asked == 0 {
		t.Error("nothing would clear")
	}
	in.PostTurned = new(units.Degrees(0.5))
	if r, err = stages.Of(in); err != nil || len(r.Fails()) > 0 || !slices.Equal(r.Order, []int{2, 1}) {
		t.Error(r.Order, r.Fails(), err)
	}
}

// bar is an outside as it stands, a radius for each slice: whoever obeys a sheet cuts it down.
type bar struct {
	t     *testing.T
	words string
	whole float64 // as thick it goes on to the chuck
	radii []float64
}

const (
	thin  = 0.1  // of a slice
	ahead = 60.0 // of the bar beyond the stations
)

func (b *bar) k(z float64) int { return int(math.Round((z + ahead) / thin)) }

// plunges cuts a groove straight in.
func (b *bar) plunges(from, to, dia float64) {
	for k := b.k(from); k < b.k(to); k++ {
		b.radii[k] = min(b.radii[k], dia/2)
	}
}

// opened cuts a stretch from a slot on: a right-hand tool to its headstock's end, then a left-hand one to the other.
func (b *bar) opened(line string, from, to, slotFrom, slotTo, dia float64) {
	if slotTo-slotFrom <= 16 || slotFrom < from || slotTo > to {
		b.t.Fatalf("no holder goes into it: %s\n%s", line, b.words)
	}
	b.plunges(slotFrom, slotTo, dia)
	for k := b.k(slotFrom); k >= b.k(from); k-- {
		if b.radii[k] = dia / 2; b.rises(k, 1, dia/2) {
			b.t.Fatalf("the right-hand tool stands in the work: %s\n%s", line, b.words)
		}
	}
	for k := b.k(slotTo) - 1; k < b.k(to); k++ {
		if b.radii[k] = dia / 2; b.rises(k, -1, dia/2) {
			b.t.Fatalf("the left-hand tool stands in the work: %s\n%s", line, b.words)
		}
	}
}

// rises reports whether a trailing edge of 8 deg that stands clear by 2 meets what stands on that side of a tip,
// as far as the holder of 16 is wide.
func (b *bar) rises(k, way int, tip float64) bool {
	for d := 1; float64(d)*thin < 16-thin; d++ {
		high := b.whole // it goes on as thick as it is, and ends where it ends
		switch at := k + way*d; {
		case at >= len(b.radii):
			return false
		case at >= 0:
			high = b.radii[at]
		}
		if high-tip > float64(d)*thin*math.Tan(6*math.Pi/180)+0.02 {
			return true
		}
	}
	return false
}

// high is how thick a stage leaves a slice.
func (b *bar) high(s stages.Stage, k int) float64 {
	part := (float64(k)*thin + thin/2 - ahead - s.From.MM()) / (s.To.MM() - s.From.MM())
	return (s.FromDia.MM() + part*(s.ToDia.MM()-s.FromDia.MM())) / 2
}

// turns cuts a stretch parallel with the tool that is named, and fails where that stands in the work.
func (b *bar) turns(line, tool string, from, to, dia float64) {
	first, last := b.k(from), b.k(to)-1
	tip := dia / 2
	for k := first; k <= last; k++ { // what it has cut is out of its way
		b.radii[k] = min(b.radii[k], tip)
	}
	right, left := true, true
	for k := first; k <= last; k++ {
		r, l := !b.rises(k, 1, tip), !b.rises(k, -1, tip)
		right, left = right && r, left && l
	}
	gets := map[string]bool{
		"right-hand tool": right, "left-hand tool": left, "pointed tool": right && left, "plunged": true,
	}
	if is, known := gets[tool]; !known || !is {
		b.t.Fatalf("%q stands in the work: %s\n%s", tool, line, b.words)
	}
}

// Nothing is turned by a tool that stands in what is left beside it, nor by one that nobody named: every line of the
// sheet, read and obeyed in its order, outsides of every kind, whichever tools and whether or not there is a parting
// blade. The order that the sheet tells is that of its lines.
func TestTurnedInTheOrderOfTheLines(t *testing.T) {
	neck := regexp.MustCompile(`(?:^Plunge|^Before it is held so, turn) the bar beyond z 0 mm (?:down )?to ([\d.]+) ` +
		`mm(?:, from z -([\d.]+) mm to z 0 mm, with the parting blade, 3 mm wide| for ([\d.]+) mm ` +
		`at the least)`)
	slot := regexp.MustCompile(`: first plunge a slot to ([\d.]+) mm, from z ([\d.]+) mm to z ([\d.]+) mm, ` +
		`with the parting blade, 3 mm wide: straight in, one cut beside the other\. Then `)
	turn := regexp.MustCompile(`^Stage (\d+): (?:unlock the carriage, )?(turn|plunge) it (down )?to ([\d.]+) mm, from z ` +
		`([\d.]+) mm to (?:z )?([\d.]+) mm(.*)$`)
	tools := regexp.MustCompile(`right-hand tool up to .* left-hand one up to|(?:right|left)-hand tool|pointed tool`)
	blade := regexp.MustCompile(`with a grooving tool no wider than ([\d.]+) mm: the parting blade is ([\d.]+) mm wide`)
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(s, 64)
		return v
	}
	seen := map[string]int{}
	rng := rand.New(rand.NewPCG(15, 30))
	for range 2500 {
		var in []stages.Station
		z := 0
		for i := range 3 + rng.IntN(4) {
			if i > 0 && (i == 1 || 0+rng.IntN(4) > 0 || in[i-1].Z.Equal(in[i-2].Z)) {
				z += (8 + rng.IntN(38))
			}
			dia := 2 * (5 + rng.IntN(13))
			if i > 0 && in[i-1].Z.MM() == float64(z) && in[i-1].Dia.MM() == float64(dia) {
				dia += 2
			}
			in = append(in, outside(float64(z), float64(dia))...)
		}
		if n := len(in); in[n-1].Z.Equal(in[n-2].Z) {
			continue
		}
		var owned []shop.Tool
		for _, h := range [][]fouling.Hand{{fouling.Right}, {fouling.Left}, fouling.Hands}[rng.IntN(3)] {
			owned = append(owned, shop.Tool{Hand: string(h), Trail: units.Degrees(8)})
		}
		ask := stages.Input{Stations: in, Place: mounted(owned...)}
		if rng.IntN(2) == 0 {
			ask.Blade, ask.BladeReach = new(units.MustLength("3mm")), new(units.MustLength("20mm"))
		}
		r, err := stages.Of(ask)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Fails()) > 0 {
			continue
		}
		b, most := &bar{t: t}, 0.0
		for _, s := range in {
			most = max(most, s.Dia.MM()/2)
		}
		b.whole = most
		for range b.k(in[len(in)-1].Z.MM()) {
			b.radii = append(b.radii, most)
		}
		var steps []string
		for _, step := range r.Sheet().Procedure {
			steps = append(steps, step.Brief().In(units.MM))
		}
		b.words = strings.Join(steps, "\n")
		done := map[int]bool{}
		var order []string
		for _, line := range steps {
			if m := neck.FindStringSubmatch(line); m != nil {
				if seen["neck"]++; m[3] != "" {
					seen["neck before it is held"]++
				}
				b.plunges(-number(m[2]+m[3]), 0, number(m[1]))
				continue
			}
			opens := slot.FindStringSubmatch(line)
			line = slot.ReplaceAllString(line, ": ")
			if m := turn.FindStringSubmatch(line); m != nil {
				tool := tools.FindString(m[7])
				if strings.HasPrefix(tool, "right-hand tool up to") {
					tool = "both"
				}
				if w := blade.FindStringSubmatch(m[7]); m[2] == "plunge" && w != nil && ask.Blade != nil &&
					number(w[2]) <= number(w[1])+1e-9 && math.Abs(number(w[1])-(number(m[6])-number(m[5]))) < 1e-9 {
					tool = "plunged"
				}
				seen[m[3]+tool]++
				if opens != nil && tool == "both" && ask.Blade != nil && opens[1] == m[4] {
					b.opened(line, number(m[5]), number(m[6]), number(opens[2]), number(opens[3]), number(m[4]))
				} else {
					b.turns(line, tool, number(m[5]), number(m[6]), number(m[4]))
				}
				if m[3] != "" {
					order = append(order, m[1]+" turned down")
				} else {
					order, done[int(number(m[1]))] = append(order, m[1]), true
				}
				continue
			}
			m := regexp.MustCompile(`^Stages? (\d+)(, from z |: (?:unlock the carriage, )?face)`).FindStringSubmatch(line)
			if m == nil {
				continue
			}
			n := int(number(m[1]))
			if order = append(order, m[1]); done[n] {
				t.Fatalf("stage %d twice\n%s", n, b.words)
			}
			done[n] = true
			s := r.Stages[n-1]
			if strings.Contains(line, "the bar beyond") { // which is a step of its own
				t.Fatalf("what is beyond is no bar: %s\n%s", line, b.words)
			}
			if s.Kind == stages.Taper && strings.Contains(line, "eft-hand tool") {
				for k := b.k(s.From.MM()); k < b.k(s.To.MM()); k++ {
					if b.radii[k] = b.high(s, k); b.rises(k, -1, b.radii[k]) {
						t.Fatalf("the left-hand tool stands in the work: %s\n%s", line, b.words)
					}
				}
			}
			for k := b.k(s.From.MM()); k < b.k(s.To.MM()); k++ {
				b.radii[k] = min(b.radii[k], b.high(s, k))
			}
		}
		if len(r.Stages) < 2 {
			continue
		}
		told := ""
		for _, note := range r.Sheet().Notes {
			if _, list, ok := strings.Cut(note.Whole().In(units.MM), "Cut the stages in the order "); ok {
				told, _, _ = strings.Cut(list, ":")
			}
		}
		if is := strings.Join(order, ", "); told != is {
			t.Fatalf("it is told to be cut in the order %s, the lines have %s\n%s", told, is, b.words)
		}
	}
	for _, kind := range []string{
		"down right-hand tool", "down left-hand tool", "right-hand tool", "left-hand tool", "both", "plunged", "neck",
		"neck before it is held",
	} {
		if seen[kind] == 0 {
			t.Error("never:", kind, seen)
		}
	}
}

// The tapers of a pointed bar are turned down from the tailstock's end on; where the bar is thick at both ends none
// is plunged that can wait for what stands beside it.
func TestTurnedDownFromTheEnd(t *testing.T) {
	for _, tc := range []struct {
		list []stages.Station
		want []string
	}{
		{
			outside(0, 30, 40, 26, 70, 20, 90, 14), []string{
				"Stage 3: turn it down to 20 mm, from z 70 mm to z 90 mm, right-hand tool, before the compound is set.",
				"Stage 2: turn it down to 26 mm, from z 40 mm to z 70 mm, right-hand tool, before the compound is set.",
			},
		},
		{
			outside(0, 20, 40, 26, 70, 26, 90, 34), []string{
				"Plunge the bar beyond z 0 mm to 20 mm, from z -17 mm to z 0 mm, with " +
					"the parting blade, 3 mm wide: straight in, one cut beside the other.",
				"Stage 1: turn it down to 26 mm, from z 0 mm to z 40 mm, left-hand tool, before the compound is set.",
				"Stage 2: turn it to 26 mm, from z 40 mm to z 70 mm, left-hand tool on the post's " +
					"tailstock side.",
			},
		},
	} {
		r, err := stages.Of(stages.Input{
			Stations: tc.list, Place: mounted(tools...), Blade: new(units.MustLength("3mm")),
			BladeReach: new(units.MustLength("20mm")),
		})
		if err != nil || len(r.Fails()) > 0 {
			t.Fatal(err, r.Fails())
		}
		for i, step := range r.Sheet().Procedure[1 : len(tc.want)+1] {
			if got := step.Brief().In(units.MM); got != tc.want[i] {
				t.Errorf("got  %s\nwant %s", got, tc.want[i])
			}
		}
	}
}

// A blade of which no more is known reaches eight times its width: 3 mm from a bar of 34 down to 20, 7 deep, and not
// one of 66 down to 10, 28 deep, where the bar is turned thin before it is held.
func TestNoNeckIsDeeperThanItsBladeReaches(t *testing.T) {
	for _, tc := range []struct{ large, small, want string }{
		{"34mm", "20mm", "Plunge the bar beyond z 0 mm to 20 mm"},
		{"66mm", "10mm", "Before it is held so, turn the bar beyond z 0 mm down to 10 mm"},
	} {
		in := stages.Input{
			Stations: []stages.Station{
				{Dia: units.MustLength(tc.small)}, {Z: units.MustLength("50mm"), Dia: units.MustLength(tc.large)},
			},
			Place: mounted(tools...), Blade: new(units.MustLength("3mm")),
		}
		r, err := stages.Of(in)
		if err != nil || len(r.Fails()) > 0 {
			t.Fatal(err, r.Fails())
		}
		if got := r.Sheet().Procedure[1].Brief().In(units.MM); !strings.HasPrefix(got, tc.want) {
			t.Errorf("got %s, want %s", got, tc.want)
		}
	}
}

// Beside the tailstock's end too: with a centre the bar goes on to it, and the tool comes out of a neck that is as wide
// as its holder, as deep as the work ends and no nearer to the centre than 3 mm.
func TestNeckAtTheCentre(t *testing.T) {
	for _, tc := range []struct{ centre, want string }{
		{"130mm", "Plunge the bar beyond z 81 mm to 20 mm, from z 81 mm to z 98 mm, with the parting blade, 3 mm wide: " +
			"straight in, one cut beside the other."},
		// 20 + 81 + 17 of a neck leave 2: what stands there cannot be plunged.
		{"120mm", "Before it is held so, turn the bar beyond z 81 mm down to 20 mm for 17 mm at the least."},
	} {
		in := stages.Input{
			Stations: outside(0, 34, 60, 34, 60, 20, 81, 20), Place: mounted(tools...),
			Blade: new(units.MustLength("3mm")), BladeReach: new(units.MustLength("20mm")),
		}
		in.FromJaws, in.CentreAt = new(units.Millimetres(20)), new(units.MustLength(tc.centre))
		r, err := stages.Of(in)
		if err != nil || len(r.Fails()) > 0 {
			t.Fatal(err, r.Fails())
		}
		var lines []string
		for _, step := range r.Sheet().Procedure {
			lines = append(lines, step.Brief().In(units.MM))
		}
		if !slices.Contains(lines, tc.want) {
			t.Errorf("want %s\ngot  %s", tc.want, strings.Join(lines, "\n     "))
		}
	}
}
