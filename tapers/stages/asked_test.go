package stages_test

import (
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/fouling"
	"setover/tapers/stages"
)

// What is said under a refusal is done and asked again: the post square and the hand of the tool left out make the
// whole of it, a tool that is ground at least the stage that it is named for, and none is named that is there.
func TestWhatWouldDoAskedAgain(t *testing.T) {
	plain := regexp.MustCompile(`with (the post square)?( and )?(tool-hand left out)? (it is cut|they can be cut)`)
	ground := regexp.MustCompile(`stage (\d+): no tool here.*; a (right-hand|left-hand|pointed) tool whose edges? ` +
		`trails? by ([\d.]+) deg`)
	rng := rand.New(rand.NewPCG(1, 12))
	seen := map[string]int{}
	for k := range 1500 {
		var list []stages.Station
		for i, z := 0, 0; i < 3+rng.IntN(3); i++ {
			list = append(list, outside(float64(z), float64(2*(5+rng.IntN(13))))...)
			if i == 0 || rng.IntN(3) > 0 || list[i].Z.Equal(list[i-1].Z) {
				z += 14 + rng.IntN(50)
			}
		}
		in := stages.Input{Stations: list, Place: mounted(tools...)}
		switch turn := float64(rng.IntN(25)-12) / 2; {
		case k%4 == 0:
			in.PostTurn = fouling.WithSlide
		case turn != 0:
			in.PostTurned = new(units.Degrees(turn))
		}
		if k%3 == 0 {
			in.ToolHand = fouling.Hands[rng.IntN(2)]
		}
		r, err := stages.Of(in)
		if err != nil {
			continue
		}
		for _, p := range r.Fails() {
			text := p.Want.In(say.MM)
			if m := plain.FindStringSubmatch(text); m != nil {
				again := in
				if m[1] != "" {
					again.PostTurn, again.PostTurned = fouling.Square, nil
				}
				if m[3] != "" {
					again.ToolHand = ""
				}
				if r, err := stages.Of(again); err != nil || len(r.Fails()) > 0 {
					t.Fatalf("%v %+v: %s: %v %v", list, in.Arrangement, text, r.Fails(), err)
				}
				seen[m[1]+m[2]+m[3]]++
			} else if m := ground.FindStringSubmatch(text); m != nil {
				deg, _ := strconv.ParseFloat(m[3], 64)
				hand := map[string]fouling.Hand{
					"right-hand": fouling.Right, "left-hand": fouling.Left, "pointed": fouling.Neutral,
				}[m[2]]
				if hand != fouling.Neutral && deg <= 8 {
					t.Fatalf("%v %+v: there is one: %s", list, in.Arrangement, text)
				}
				again := in
				again.Lathe.Tools = append(tools[:2:2], shop.Tool{Hand: string(hand), Trail: units.Degrees(deg)})
				r, err := stages.Of(again)
				if err != nil {
					t.Fatal(err)
				}
				for _, p := range r.Fails() {
					if strings.Contains(p.Want.In(say.MM), "stage "+m[1]+": no tool here") {
						t.Fatalf("%v %+v: %s; and then %s", list, in.Arrangement, text, p.Want.In(say.MM))
					}
				}
				seen["ground"]++
			}
		}
	}
	for _, kind := range []string{
		"the post square", "tool-hand left out", "the post square and tool-hand left out", "ground",
	} {
		if seen[kind] < 3 {
			t.Error("too few:", kind, seen)
		}
	}
}

// A groove is no narrower than the blade that cuts it: 62.4 less 57.6 wants 2 mm of it and no more, the post turned.
func TestGrooveAsWideAsTheBlade(t *testing.T) {
	in := stages.Input{
		Stations: outside(0, 57.6, 137.513, 62.4), Place: mounted(tools...), Blade: new(units.MustLength("3mm")),
		BladeReach: new(units.MustLength("20mm")),
	}
	in.FromJaws, in.PostTurned = new(units.Millimetres(32)), new(units.Degrees(2))
	r, err := stages.Of(in)
	if err != nil || len(r.Fails()) > 0 || len(r.Necks) != 1 {
		t.Fatal(err, r.Fails(), r.Necks)
	}
	if wide := r.Necks[0].To.Minus(*r.Necks[0].From); wide.MM() < 3 {
		t.Error(wide.MM())
	}
}
