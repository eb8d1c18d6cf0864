package stages_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/fouling"
	"setover/tapers/stages"
)

// radius is how thick the work stands at z: what is cut as it is drawn, a taper that is turned
// down as thick as that, the rest as the bar; before the stations as thick as they begin, and
// nothing after them.
func radius(r stages.Result, z float64, cut, down map[int]bool) float64 {
	list := r.Inputs.Stations
	bar := 0.0
	for _, s := range list {
		bar = max(bar, s.Dia.MM()/2)
	}
	if z < list[0].Z.MM() {
		return list[0].Dia.MM() / 2
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
