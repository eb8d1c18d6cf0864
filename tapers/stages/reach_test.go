package stages_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/fouling"
	"setover/tapers/stages"
)

// mounted is lathe with a post: a holder of 16, the tip 25 beyond a post of 65.
func mounted(tools ...shop.Tool) fouling.Place {
	p := lathe(tools...)
	p.Lathe.ToolPost = &shop.ToolPost{
		Size: units.MustLength("65mm"), HolderWidth: units.MustLength("16mm"), Overhang: units.MustLength("25mm"),
	}
	return p
}

// outside reads z and diameter in turn, in mm.
func outside(v ...float64) (list []stages.Station) {
	for i := 0; i < len(v); i += 2 {
		list = append(list, stages.Station{Z: units.FromFloat(v[i]), Dia: units.FromFloat(v[i+1])})
	}
	return list
}

// Which tool gets at what, read off a drawing. The tools trail by 8 deg, of which 6
// are theirs to use.
func TestTools(t *testing.T) {
	mm := func(text string) *units.Length {
		l := units.MustLength(text)
		return &l
	}
	for _, tc := range []struct {
		name     string
		stations []stages.Station
		blade    string
		want     string // stage by stage, the order, what is roughed out together
		no       string
	}{
		{
			"a step at the end", outside(0, 40, 20, 40, 20, 20, 60, 20), "",
			"right right right, [1 3 2] []", "",
		},
		{
			"a step at the headstock's end", outside(0, 20, 40, 20, 40, 40, 60, 40), "",
			"left left right, [3 1 2] []", "",
		},
		{
			// Turned down to 20, the taper is the shoulder's foot: it is faced before the
			// compound is set. A foot that the taper itself cuts has to be waited for.
			"a taper at a shoulder", outside(0, 40, 30, 40, 30, 20, 60, 12), "",
			"right right right, [1 2 3] []", "",
		},
		{
			"a taper that grows from a shoulder", outside(0, 40, 30, 40, 30, 20, 90, 25), "",
			"right right right, [1 3 2] []", "",
		},
		{
			// 40 between shoulders: a holder of 16 has 24 of it on either side, 48 in all.
			"a waist of 40", outside(0, 40, 20, 40, 20, 20, 60, 20, 60, 40, 80, 40), "3mm/10mm",
			"right right both left right, [1 5 3 2 4] []", "",
		},
		{
			// Nothing opens it.
			"a waist of 40 without a blade", outside(0, 40, 20, 40, 20, 20, 60, 20, 60, 40, 80, 40), "",
			"right right right left right, [1 5 3 2 4] []",
			"station: stage 3: no tool here gets at it: the right-hand tool's trailing edge is 84 deg short; a parting " +
				"blade no wider than 40 mm that reaches 10 mm would",
		},
		{
			// 31 leave 15 on either side, 30 in all.
			"a waist of 31", outside(0, 40, 20, 40, 20, 20, 51, 20, 51, 40, 71, 40), "",
			"right right right left right, [1 5 3 2 4] []",
			"station: stage 3: no tool here gets at it: the right-hand tool's trailing edge is 84 deg short; " +
				"a parting blade no wider than 31 mm that reaches 10 mm would",
		},
		{
			"and with a blade of 3 that reaches 10", outside(0, 40, 20, 40, 20, 20, 51, 20, 51, 40, 71, 40), "3mm/10mm",
			"right right blade left right, [1 5 3 2 4] []", "",
		},
		{
			"and of 3 that reaches 9.9", outside(0, 40, 20, 40, 20, 20, 51, 20, 51, 40, 71, 40), "3mm/9.9mm",
			"right right right left right, [1 5 3 2 4] []",
			"station: stage 3: no tool here gets at it: the right-hand tool's trailing edge is 84 deg short; " +
				"a parting blade no wider than 31 mm that reaches 10 mm would",
		},
		{
			// Flanks of 10 up over 8, 51.3402 deg: 45.3402 more than 6, and 2 over it ground, 54
			// in whole degrees.
			"a waist between flanks", outside(0, 40, 20, 40, 28, 20, 36, 40, 56, 40), "",
			"right right right right, [1 4 2 3] [[2 3]]",
			"station: stage 2: no tool here gets at it: the right-hand tool's trailing edge is 45.4 deg short; " +
				"a right-hand tool whose edge trails by 54 deg from the work would\n" +
				"station: stage 3: no tool here gets at it: the right-hand tool's trailing edge is 45.4 deg short; " +
				"a right-hand tool whose edge trails by 54 deg from the work would",
		},
		{
			// Flanks of 1 up over 10, 5.7106 deg: a left-hand tool trails up the first and cuts
			// toward the stock that stands beyond it still.
			"a gentle waist", outside(0, 24, 20, 24, 40, 20, 60, 24, 80, 24), "",
			"right left right right, [1 4 2 3] []", "",
		},
		{
			// The last taper is turned down to 20 first, so that the one before it is open.
			"a point", outside(0, 40, 30, 20, 60, 0), "",
			"right right, [1 2] []", "",
		},
	} {
		in := stages.Input{Stations: tc.stations, Place: mounted(tools...)}
		if blade, reach, ok := strings.Cut(tc.blade, "/"); ok {
			in.Blade, in.BladeReach = mm(blade), mm(reach)
		}
		r, err := stages.Of(in)
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		var hands []string
		for _, s := range r.Stages {
			hands = append(hands, string(s.ToolHand))
		}
		got := fmt.Sprintf("%s, %v %v", strings.Join(hands, " "), r.Order, r.Together)
		if steps := r.Sheet().Procedure; (len(steps) == 0) != (tc.no != "") {
			t.Errorf("%s: what to do where the answer is %q: %v", tc.name, tc.no, steps)
		}
		if no := r.Fails().Error(); got != tc.want || no != tc.no {
			t.Errorf("%s:\ngot  %s\nwant %s\ngot  %s\nwant %s", tc.name, got, tc.want, no, tc.no)
		}
	}
	r, err := stages.Of(stages.Input{Stations: outside(0, 40, 30, 20, 60, 0), Place: mounted(tools...)})
	if err != nil || r.Stages[0].TurnDown != nil || !r.Stages[1].TurnDown.Equal(units.Millimetres(20)) {
		t.Errorf("%+v %v", r.Stages, err)
	}
}

// A lathe that is too small is a no where nothing is known of the jaws, too.
func TestTooLarge(t *testing.T) {
	in := stages.Input{Stations: outside(0, 300, 50, 280), Place: mounted(tools...)}
	swing := units.MustLength("200mm")
	in.Lathe.SwingOverBed = &swing
	r, err := stages.Of(in)
	if err != nil || len(r.Fails()) != 1 {
		t.Error(r.Fails(), err)
	}
}

// step is the width of a column of the sampled work.
const step = 0.25

// column is how thick the work is in each column of a quarter of a mm: what is cut
// by its stations, a taper that is turned down as thick as its larger end, the rest
// as thick as the bar.
func columns(in []stages.Station, cut func(i int) bool, down func(i int) float64) (radius []float64) {
	bar := 0.0
	for _, s := range in {
		bar = max(bar, s.Dia.MM())
	}
	for i := range in[1:] {
		a, b := in[i], in[i+1]
		long := b.Z.MM() - a.Z.MM()
		for k := range int(math.Round(long / step)) {
			z := (float64(k) + 0.5) * step
			r := (a.Dia.MM() + (b.Dia.MM()-a.Dia.MM())*z/long) / 2
			switch d := down(i); {
			case cut(i):
			case d > 0:
				r = d / 2
			default:
				r = bar / 2
			}
			radius = append(radius, r)
		}
	}
	return radius
}

// Every stage is cut by the tool that is named, in the order that is told: from the
// middle of every column of it, nothing that stands then rises on the trailing side
// within the holder's 16 mm above 6 deg, by more than what a quarter of a column is
// worth. What is told to be out of reach is so for every hand even in the finished
// work. Shares no code with what it checks.
func TestOrderBySampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var in []stages.Station
		z, dia := 0.0, 0.0
		for i := range rapid.IntRange(2, 7).Draw(t, "stations") {
			if i > 0 && (i == 1 || rapid.IntRange(0, 2).Draw(t, "shoulder") > 0 || in[i-1].Z.Equal(in[max(i-2, 0)].Z)) {
				z += float64(rapid.IntRange(1, 30).Draw(t, "along"))
			}
			next := float64(2 * rapid.IntRange(3, 15).Draw(t, "radius"))
			if i > 0 && z == in[i-1].Z.MM() && next == dia {
				next += 2
			}
			dia = next
			in = append(in, stages.Station{Z: units.FromFloat(z), Dia: units.FromFloat(dia)})
		}
		if n := len(in); in[n-1].Z.Equal(in[n-2].Z) {
			t.Skip("a face in the air")
		}
		r, err := stages.Of(stages.Input{Stations: in, Place: mounted(tools...)})
		if err != nil {
			t.Fatal(err)
		}
		refused := r.Fails().Error()
		is := func(n int) bool { return strings.Contains(refused, fmt.Sprintf("stage %d:", n)) }
		done, turned := map[int]bool{}, map[int]bool{}
		for _, n := range r.Order {
			s := r.Stages[n-1]
			for i, o := range r.Stages {
				turned[i] = turned[i] || o.TurnDownBefore != nil && *o.TurnDownBefore == n
			}
			with := []int{n}
			for _, g := range r.Together {
				if slices.Contains(g, n) {
					with = g
				}
			}
			down := func(i int) float64 {
				if turned[i] {
					return r.Stages[i].TurnDown.MM()
				}
				return 0
			}
			work := columns(in, func(i int) bool { return done[i+1] || slices.Contains(with, i+1) }, down)
			if s.Kind != stages.Shoulder && !is(n) {
				first, last := int(s.From.MM()/step), int(s.To.MM()/step)-1
				hands := []fouling.Hand{s.ToolHand}
				if s.ToolHand == stages.Both {
					hands = fouling.Hands
				}
				for k := first; k <= last; k++ {
					if !slices.ContainsFunc(hands, func(h fouling.Hand) bool { return open(work, k, h) }) {
						t.Fatalf("%v: stage %d by a %s-hand tool in the order %v, %v: not open at %v",
							in, n, s.ToolHand, r.Order, r.Together, float64(k)*step)
					}
				}
			}
			for _, m := range with {
				if len(with) == 1 || n == with[len(with)-1] {
					done[m] = true
				}
			}
		}
		finished := columns(in, func(int) bool { return true }, func(int) float64 { return 0 })
		for _, s := range r.Stages {
			if s.Kind == stages.Shoulder || !is(s.N) {
				continue
			}
			first, last := int(s.From.MM()/step), int(s.To.MM()/step)-1
			for _, h := range fouling.Hands {
				closed := false
				for k := first; k <= last; k++ {
					closed = closed || !clear(finished, k, h)
				}
				if !closed && !is(s.N-1) && !is(s.N+1) {
					t.Fatalf("%v: stage %d is refused, and open to a %s-hand tool: %s", in, s.N, h, refused)
				}
			}
		}
	})
}

// rises is how much the work rises above 6 deg over a tip on the trailing side.
func rises(work []float64, k int, h fouling.Hand) float64 {
	way := 1
	if h == fouling.Left {
		way = -1
	}
	most := math.Inf(-1)
	for j := k + way; j >= 0 && j < len(work) && math.Abs(float64(j-k))*step < 16-step; j += way {
		most = max(most, work[j]-work[k]-math.Abs(float64(j-k))*step*math.Tan(6*math.Pi/180))
	}
	return most
}

// open reports whether a tip gets there but for what a column is worth, and clear
// that it does with as much to spare.
func open(work []float64, k int, h fouling.Hand) bool  { return rises(work, k, h) < step }
func clear(work []float64, k int, h fouling.Hand) bool { return rises(work, k, h) < -step }

// shoulders is an outside with a shoulder in it, of few stages.
func shoulders(t *rapid.T) (in []stages.Station) {
	z := 0.0
	for i := range rapid.IntRange(4, 6).Draw(t, "stations") {
		if i > 0 && (i == 1 || in[i-1].Z.Equal(in[i-2].Z) || rapid.Bool().Draw(t, "along")) {
			z += float64(rapid.IntRange(4, 30).Draw(t, "by"))
		}
		dia := float64(4 * rapid.IntRange(2, 8).Draw(t, "dia"))
		if i > 0 && z == in[i-1].Z.MM() && dia == in[i-1].Dia.MM() {
			dia += 4
		}
		in = append(in, stages.Station{Z: units.FromFloat(z), Dia: units.FromFloat(dia)})
	}
	if n := len(in); in[n-1].Z.Equal(in[n-2].Z) {
		t.Skip("a face in the air")
	}
	return in
}

// late counts the shoulders that are faced after a taper is cut.
func late(list []stages.Stage, order []int) (n int) {
	taper := false
	for _, i := range order {
		taper = taper || list[i].Kind == stages.Taper
		if taper && list[i].Kind == stages.Shoulder {
			n++
		}
	}
	return n
}

// A shoulder is faced as soon as its foot is there: of all orders of all cuts, and of
// all places between them where a taper can be turned down, none faces fewer of them
// with the compound swung. What the order itself does is looked at above.
func TestShouldersByEveryOrder(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		in := shoulders(t)
		r, err := stages.Of(stages.Input{Stations: in, Place: mounted(tools...)})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Fails()) > 0 || len(r.Together) > 0 {
			t.Skip("no order does it")
		}
		order := make([]int, len(r.Order))
		for i, n := range r.Order {
			order[i] = n - 1
		}
		best := fewest(in, r.Stages, map[int]bool{}, map[int]bool{}, false, late(r.Stages, order))
		if got := late(r.Stages, order); got > best {
			t.Fatalf("%v: the order %v faces %d shoulders after a taper, and there is one that faces %d", in, r.Order, got, best)
		}
		compared++
	})
	if compared < 20 {
		t.Error("only", compared, "outsides were compared")
	}
}

// surely reports whether a tip gets there with a degree to spare.
func surely(work []float64, k int, h fouling.Hand) bool {
	way := 1
	if h == fouling.Left {
		way = -1
	}
	for j := k + way; j >= 0 && j < len(work) && math.Abs(float64(j-k))*step < 16+step; j += way {
		if work[j]-work[k] > math.Abs(float64(j-k))*step*math.Tan(5*math.Pi/180)+1e-9 {
			return false
		}
	}
	return true
}

// fewest is the least number of shoulders that are faced after a taper, over every
// order of what is left, each cut with a degree to spare; most where none is better.
func fewest(in []stages.Station, list []stages.Stage, done, down map[int]bool, taper bool, most int) int {
	if most == 0 {
		return 0
	}
	bar := 0.0
	for _, s := range in {
		bar = max(bar, s.Dia.MM())
	}
	work := func(with, lowered int) []float64 {
		return columns(in, func(i int) bool { return done[i] || i == with }, func(i int) float64 {
			if down[i] || i == lowered {
				return units.Max(in[i].Dia, in[i+1].Dia).MM()
			}
			return 0
		})
	}
	reached := func(w []float64, s stages.Stage) bool {
		for k := int(s.From.MM() / step); k < int(s.To.MM()/step); k++ {
			if !slices.ContainsFunc(fouling.Hands, func(h fouling.Hand) bool { return surely(w, k, h) }) {
				return false
			}
		}
		return true
	}
	left := false
	for i, s := range list {
		if done[i] {
			continue
		}
		left = true
		costs, can := 0, false
		switch large := units.Max(s.FromDia, s.ToDia).MM(); {
		case s.Kind == stages.Shoulder:
			k, hand := int(s.From.MM()/step), fouling.Right // the column at its foot
			if s.FromDia.Less(s.ToDia) {
				k, hand = k-1, fouling.Left
			}
			w := work(-1, -1)
			low := units.Min(s.FromDia, s.ToDia).MM() / 2
			can = k >= 0 && k < len(w) && w[k] < low+1e-6 && surely(w, k, hand)
			if taper {
				costs = 1
			}
		default:
			can = reached(work(i, -1), s)
			if s.Kind == stages.Taper && !down[i] && large < bar && reached(work(-1, i), s) {
				down[i] = true
				most = min(most, fewest(in, list, done, down, taper, most))
				delete(down, i)
			}
		}
		if can && costs < most {
			done[i] = true
			most = min(most, costs+fewest(in, list, done, down, taper || s.Kind == stages.Taper, most-costs))
			delete(done, i)
		}
	}
	if !left {
		return 0
	}
	return most
}

// A taper in bites stands in the bar that the later ones cut. By pencil: from 10 to 66 over 100 with a slide of 60, the
// tip 5 from the axis and the post 25 behind it, the bar is 33 from the axis: 3 deep.
func TestPostOverTheLaterBites(t *testing.T) {
	in := stages.Input{Stations: outside(0, 10, 60, 10, 160, 66), Place: mounted(tools...)}
	in.Lathe.Compound = &shop.Compound{Travel: new(units.MustLength("60mm")), Scale: in.Lathe.Compound.Scale}
	in.FromJaws = new(units.MustLength("100mm"))
	for _, tc := range []struct {
		over string
		want bool
	}{{"25mm", true}, {"28mm", false}} {
		in.Overhang = new(units.MustLength(tc.over))
		r, err := stages.Of(in)
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, p := range r.Fails() {
			said += p.Want.In(units.MM)
		}
		if strings.Contains(said, "the post runs into the work by 3 mm") != tc.want || !tc.want && said != "" {
			t.Errorf("%s: %q", tc.over, said)
		}
	}
}

// Beside a point that the work ends in no bar is thin enough for a tool to come in: what a left-hand tool begins there
// is a no. A slope of 1 deg, which a right-hand tool cuts down to the point, and a point that is free are none.
func TestPointBesideTheBar(t *testing.T) {
	const no = "a tool would come in beyond z 0 mm, where the work is a point and the bar goes on to the chuck"
	for _, tc := range []struct {
		list []stages.Station
		want bool
	}{
		{outside(0, 0, 30, 20, 60, 20), true},
		{outside(0, 0, 30, 1, 38, 1), false},
		{outside(0, 20, 30, 20, 60, 0), false},
	} {
		r, err := stages.Of(stages.Input{Stations: tc.list, Place: mounted(tools...)})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, p := range r.Fails() {
			said += p.Want.In(units.MM)
		}
		if strings.HasPrefix(said, no) != tc.want || !tc.want && said != "" {
			t.Errorf("%v: %q", tc.list, said)
		}
	}
}
