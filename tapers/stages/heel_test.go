package stages_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/fouling"
	"setover/tapers/stages"
)

// Wherever a taper is touched, the tip comes down on the work and not the heel of the tool, however the post is
// turned: the line of the trailing edge, as long as the holder is wide, has nothing above it with the tip on the work
// as it stands then. What stands is cut in the order of the lines.
func TestTheTipTouchesFirst(t *testing.T) {
	const trail, wide, told = 8.0, 16.0, 0.05
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(s, 64)
		return v
	}
	at := regexp.MustCompile(`Compound (?:in|out), tip clear, (?:to ([\d.]+) mm of slide (short of|past)|to the \w+ ` +
		`end,) z ([\d.]+) mm|Compound (?:in|out) ([\d.]+) mm(?: \(\d+ turns?\))?, tip clear, touch|[Tt]ouch the work`)
	rng := rand.New(rand.NewPCG(16, 1))
	seen := map[string]int{}
	for k := range 2400 {
		var in []stages.Station
		for i, z := 0, 0; i < 2+rng.IntN(4); i++ {
			in = append(in, outside(float64(z), float64(2*(5+rng.IntN(13))))...)
			if i == 0 || rng.IntN(4) > 0 || in[i].Z.Equal(in[i-1].Z) {
				z += 14 + rng.IntN(50)
			}
		}
		ask := stages.Input{Stations: in, Place: mounted(tools[rng.IntN(2):]...), Blade: new(units.MustLength("3mm"))}
		turn := float64(rng.IntN(41)-20) / 2
		if k%3 == 0 { // a left-hand tool that leans back is the rarest
			ask.Lathe.Tools, turn = tools[1:], 6+float64(rng.IntN(5))
			thin, thick := float64(10+rng.IntN(10)), float64(30+rng.IntN(10))
			in = outside(0, thin, 25, thin, 25, thin+8, float64(40+rng.IntN(40)), thick)
			ask.Stations = in
		}
		if k%3 != 0 && rng.IntN(4) == 0 {
			ask.PostTurn = fouling.WithSlide
		} else if turn != 0 {
			ask.PostTurned = new(units.Degrees(turn))
		}
		compound := *ask.Lathe.Compound
		compound.Screw = &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50}
		ask.Lathe.Compound = &compound
		ask.Lathe.CrossSlide = &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100}
		r, err := stages.Of(ask)
		if err != nil || len(r.Fails()) > 0 {
			continue
		}
		cut, down := map[int]bool{}, map[int]bool{}
		for _, n := range r.Order {
			for _, o := range r.Stages {
				down[o.N] = down[o.N] || o.TurnDownBefore != nil && *o.TurnDownBefore == n
			}
			s := r.Stages[n-1]
			if s.Kind != stages.Taper {
				cut[n] = true
				continue
			}
			touch := s.Steps[1].Brief().In(units.MM)
			m := at.FindStringSubmatch(touch)
			if m == nil {
				t.Fatal("not understood: ", touch)
			}
			right := s.ToolHand == fouling.Right
			begins, off, way := s.From.MM(), 0.0, 1.0 // of the feed
			if right {
				begins, way = s.To.MM(), -1
			}
			tip := begins
			switch {
			case m[3] != "" && m[2] == "short of":
				tip, off = number(m[3]), -number(m[1])
			case m[3] != "" && m[2] == "past":
				tip, off = number(m[3]), number(m[1])
			case m[3] != "":
				tip = number(m[3])
			case m[4] != "":
				off = number(m[4])
			}
			tip += way * off * s.Set.SetHalfAngle.Cos()
			lean := 0.0 // clockwise is above 0
			switch turned := ask.PostTurned; {
			case ask.PostTurn == fouling.WithSlide && s.FromDia.Less(s.ToDia):
				lean = s.HalfAngle.Deg()
			case ask.PostTurn == fouling.WithSlide:
				lean = -s.HalfAngle.Deg()
			case turned != nil:
				lean = turned.Deg()
			}
			if !right {
				lean = -lean
			}
			edge := math.Tan((trail + lean) * math.Pi / 180)
			stands := func(z float64) float64 { return radius(r, z, cut, down) }
			inside := math.Min(math.Max(tip, s.From.MM()+1e-6), s.To.MM()-1e-6)
			high := stands(inside)
			for d := 0.25; d < wide; d += 0.25 {
				z := inside - way*d
				if z < in[0].Z.MM() {
					break // what is open there is asked of the lines in another test
				}
				if rises := stands(z) - high - d*edge; rises > told {
					t.Fatalf("%v, %s tool leaning %v, stage %d of the order %v: the heel is %v in the work at z %v, touched at %v\n%s",
						in, s.ToolHand, lean, n, r.Order, rises, z, tip, touch)
				}
			}
			kind := "plain"
			if trail+lean < 2 {
				kind = "heel first"
			}
			if edges := strings.Contains(touch, "very edge"); edges != (kind == "heel first") {
				t.Fatal(fmt.Sprint(in), lean, touch)
			}
			seen[kind+" "+string(s.ToolHand)]++
			cut[n] = true
		}
	}
	for _, kind := range []string{"plain right", "plain left", "heel first right", "heel first left"} {
		if seen[kind] < 10 {
			t.Error("too few:", kind, seen)
		}
	}
}
