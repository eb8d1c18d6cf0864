package walls_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/page/published"
	"setover/setup/plan/outline"
	"setover/setup/plan/walls"
)

func mm(text string) units.Length { return units.MustLength(text) }

func length(text string) *units.Length {
	l := mm(text)
	return &l
}

// profile reads "0:36 60:20": z and diameter.
func profile(text string) []part.Station {
	var list []part.Station
	for _, w := range strings.Fields(text) {
		z, d, _ := strings.Cut(w, ":")
		list = append(list, part.Station{Z: mm(z), Dia: mm(d)})
	}
	return list
}

// turned returns a brass part with that profile, changed.
func turned(points string, change func(*part.Round)) walls.Input {
	r := &part.Round{Profile: profile(points)}
	if change != nil {
		change(r)
	}
	return walls.Input{Name: "test", Part: &part.Part{Material: "free-cutting-brass", Round: r}}
}

func check(t *testing.T, in walls.Input) walls.Result {
	t.Helper()
	r, err := walls.Check(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func cross(at, dia string, roll float64) part.Hole {
	return part.Hole{Z: mm(at), Dia: mm(dia), Roll: units.Degrees(roll)}
}

// with drills holes across a part.
func with(list ...part.Hole) func(*part.Round) {
	return func(r *part.Round) { r.Holes = list }
}

// screwed drills a hole through a part with the thread M16x1.5 from an end.
func screwed(from part.End, length string, h part.Hole) func(*part.Round) {
	return func(r *part.Round) {
		r.Holes = []part.Hole{h}
		r.Threads = []part.Thread{{From: from, Spec: "M16x1.5", Length: mm(length)}}
	}
}

// flatted drills a hole through a part with two flats 12 mm apart from its left
// end on.
func flatted(h part.Hole, to string) func(*part.Round) {
	return func(r *part.Round) {
		r.Holes = []part.Hole{h}
		r.Facets = []part.Facets{{Sides: 2, To: mm(to), Across: mm("12")}}
	}
}

// offset moves a hole beside the bar's axis.
func offset(h part.Hole, by string) part.Hole { h.Offset = mm(by); return h }

func figure(l *units.Length) string {
	if l == nil {
		return "-"
	}
	return l.Fixed(units.MM, 4, units.Nearest)
}

// Walls that can be worked out by hand; no source is needed. side, end, next,
// bore and mouth in mm.
func TestByHand(t *testing.T) {
	const plain = "0:40 100:40"
	for _, tc := range []struct {
		name   string
		points string
		change func(*part.Round)
		want   string
	}{
		{"a plain bar: 20 - 5, 50 - 5", plain, with(cross("50", "10", 0)), "15.0000 45.0000 - - -"},
		{"in inches", "0in:2in 4in:2in", with(cross("1in", "1/4in", 0)), "22.2250 22.2250 - - -"},
		{"off the axis by 4, either way", plain, with(offset(cross("50", "10", 0), "-4")), "11.0000 45.0000 - - -"},
		{
			"a hole that comes out at the side: 18 + 5 - 20", plain, with(offset(cross("50", "10", 0), "18")),
			"-3.0000 45.0000 - - -",
		},
		{"at the other side", plain, with(offset(cross("50", "10", 0), "-18")), "-3.0000 45.0000 - - -"},
		{"two beside each other", plain, with(cross("40", "10", 0), cross("52", "6", 0)), "15.0000 35.0000 4.0000 - -"},
		{
			"two that cross on the axis", plain, with(cross("40", "10", 0), cross("40", "6", 90)),
			"15.0000 35.0000 -8.0000 - -",
		},
		// 20 - 8 - 3·cot 59° = 10.1974, less 3 and 5, its end taken round
		{"a blind one that stops short of a crossing one", plain, func(r *part.Round) {
			h := cross("40", "6", 90)
			h.Depth = length("8mm")
			r.Holes = []part.Hole{cross("40", "10", 0), h}
		}, "15.0000 35.0000 2.1974 - -"},
		{"past a bore: 50 - 5 - 20 - 3·cot 59°", plain, func(r *part.Round) {
			r.Holes = []part.Hole{cross("50", "10", 0)}
			r.Bores = []part.Bore{{From: part.Left, Dia: mm("6mm"), Depth: mm("20mm")}}
		}, "15.0000 45.0000 - 23.1974 -"},
		{"into a bore from the right", plain, func(r *part.Round) {
			r.Holes = []part.Hole{cross("90", "4", 0)}
			r.Bores = []part.Bore{{From: part.Right, Dia: mm("6mm"), Depth: mm("20mm")}}
		}, "18.0000 8.0000 - -5.0000 -"},
		{"beside a bore through: 10 - 2 - 3", plain, func(r *part.Round) {
			h := cross("50", "4", 0)
			h.Offset = mm("10mm")
			r.Holes = []part.Hole{h}
			r.Bores = []part.Bore{{From: part.Left, Dia: mm("6mm"), Through: true}}
		}, "8.0000 48.0000 - 5.0000 -"},
		{"blind above a bore: 20 - 10 - 2·cot 59° - 3", plain, func(r *part.Round) {
			h := cross("50", "4", 0)
			h.Depth = length("10mm")
			r.Holes = []part.Hole{h}
			r.Bores = []part.Bore{{From: part.Left, Dia: mm("6mm"), Through: true}}
		}, "18.0000 48.0000 - 5.7983 -"},
		{"an inside thread counts at its major diameter: M8 in 6.8 mm", plain, func(r *part.Round) {
			h := cross("10", "4", 0)
			h.Offset = mm("10mm")
			r.Holes = []part.Hole{h}
			r.Bores = []part.Bore{{From: part.Left, Dia: mm("6.8mm"), Depth: mm("30mm")}}
			r.Threads = []part.Thread{{From: part.Left, Spec: "M8", Inside: true, Length: mm("20mm")}}
		}, "8.0000 8.0000 - 4.0000 -"},
		// The root of M16x1.5 is 16 - 1.226869·1.5 = 14.1597 (ISO 68-1).
		{
			"an outside thread counts at its root", "0:16 40:16", screwed(part.Left, "20", cross("12", "4", 0)),
			"5.0798 10.0000 - - 6.0000",
		},
		{"from the right", "0:16 40:16", screwed(part.Right, "20", cross("25", "4", 0)), "5.0798 13.0000 - - 3.0000"},
		// The root meets a taper of 1 in 5 where that is 14.1597 thick; beyond, r·cos(atan 0.1) = 6.5·0.995037.
		{
			"a thread on a taper, its root", "0:20 40:12", screwed(part.Left, "40", cross("10", "4", 0)),
			"5.0798 8.0000 - - 28.0000",
		},
		{"and the taper", "0:20 40:12", screwed(part.Left, "40", cross("35", "4", 0)), "4.4677 3.0000 - - 3.0000"},
		{
			"a taper that rises into a root", "0:12 40:20", screwed(part.Left, "40", cross("5", "4", 0)),
			"4.4677 3.0000 - - 33.0000",
		},
		{"at the very end", plain, with(cross("100", "4", 0)), "18.0000 -2.0000 - - -"},
		{"at the very start", plain, with(cross("0", "4", 0)), "18.0000 -2.0000 - - -"},
		// 3 along and 5 in from the hole's centre is the root of 34, less 2
		{"a shoulder's corner", "0:10 30:10 30:40 60:40", func(r *part.Round) {
			r.Holes = []part.Hole{cross("33", "4", 0)}
		}, "3.8310 25.0000 - - 1.0000"},
		{"square across flats, along a flat's normal: 15 - 2; corners at 15", "0:30 60:30", func(r *part.Round) {
			r.Holes = []part.Hole{cross("30", "4", 0)}
			r.Facets = []part.Facets{{Sides: 4, From: mm("0mm"), To: mm("60mm")}}
		}, "13.0000 28.0000 - - 13.0000"},
		// 15·√2 - 2, and the corner in the middle of the mouth
		{"square across flats, along a corner", "0:30 60:30", func(r *part.Round) {
			r.Holes = []part.Hole{cross("30", "4", 45)}
			r.Facets = []part.Facets{{Sides: 4, From: mm("0mm"), To: mm("60mm")}}
		}, "19.2132 28.0000 - - -2.0000"},
		// 15·√2 - 18 - 1 to the edges beside it, which are the side wall's; 18 - 1 to those at its mouths
		{"square, beside two corners", "0:30 60:30", func(r *part.Round) {
			r.Holes = []part.Hole{offset(cross("30", "2", 45), "18")}
			r.Facets = []part.Facets{{Sides: 4, From: mm("0mm"), To: mm("60mm")}}
		}, "2.2132 29.0000 - - 17.0000"},
		{"hexagon across corners 40: the flat's normal is square to the hole at 17.3205", "0:40 60:40", func(r *part.Round) {
			h := cross("30", "4", 90)
			r.Holes = []part.Hole{h}
			r.Facets = []part.Facets{{Sides: 6, From: mm("0mm"), To: mm("60mm"), Corners: true}}
		}, "15.3205 28.0000 - - -2.0000"},
		// Two flats 12 apart on 20: a flat meets the round √(10² - 6²) = 8 beside the normal.
		{
			"along the normal of two flats: 10 - 2, the edges at 8", "0:20 60:20", flatted(cross("30", "4", 0), "60"),
			"8.0000 28.0000 - - 6.0000",
		},
		{"across them: 6 - 2", "0:20 60:20", flatted(cross("30", "4", 90), "60"), "4.0000 28.0000 - - 4.0000"},
		// 6/cos 45° - 2; an edge is acos 0.6 - 45 = 8.1301° from the hole's roll, 10·sin of it is 1.4142
		{"slantwise", "0:20 60:20", flatted(cross("30", "4", 45), "60"), "6.4853 28.0000 - - -0.5858"},
		{
			"across them, off the axis by 3", "0:20 60:20", flatted(offset(cross("30", "4", 90), "3"), "60"),
			"1.0000 28.0000 - - 1.0000",
		},
		{"near where they end", "0:20 60:20", flatted(cross("35", "4", 90), "40"), "4.0000 23.0000 - - 3.0000"},
		{
			"beyond them, 5 along and 6 in: √61 - 2", "0:20 60:20", flatted(cross("45", "4", 90), "40"),
			"5.8102 13.0000 - - 3.0000",
		},
		// On a taper of r = 10 - z/10 the edges are 6 beside the axis across the flats. Along their normal
		// they are √(r² - 36) beside it, nearest to the hole at z = 22/2.02: √(0.7940 + 43.4040) = 6.6482.
		{"across flats on a taper", "0:20 40:12", flatted(cross("10", "4", 90), "40"), "4.0000 8.0000 - - 4.0000"},
		{
			"along their normal: 9·cos(atan 0.1) - 2", "0:20 40:12", flatted(cross("10", "4", 0), "40"),
			"6.9553 8.0000 - - 4.6482",
		},
		// From the end's edge at 15: √(6² + 15²) - 2. The chamfer ends 5 from the end.
		{"a chamfered end", plain, func(r *part.Round) {
			r.Holes = []part.Hole{cross("6", "4", 0)}
			r.Chamfers = []part.Chamfer{{Z: mm("0"), Size: mm("5")}}
		}, "14.1555 4.0000 - - -1.0000"},
		{"a chamfered shoulder", "0:10 30:10 30:40 60:40", func(r *part.Round) {
			r.Holes = []part.Hole{cross("50", "4", 0)}
			r.Chamfers = []part.Chamfer{{Z: mm("30"), Size: mm("2")}}
		}, "18.0000 8.0000 - - 16.0000"},
		// A cone of 1 in 2: the distance to its side is r·cos(atan 0.25) = 15·0.970143.
		{"a cone", "0:40 40:20", with(cross("20", "4", 0)), "12.5521 18.0000 - - -"},
		// An arc of 50 mm radius over a chord of 60 bulges 50 - 40 = 10 mm: a waist of 20 becomes 10.
		{"a waist", "0:40 60:40", func(r *part.Round) {
			r.Holes = []part.Hole{cross("30", "4", 0)}
			r.Arcs = []part.Arc{{From: mm("0mm"), To: mm("60mm"), Radius: mm("50mm")}}
		}, "8.0000 28.0000 - - -"},
		{"a belly", "0:40 60:40", func(r *part.Round) {
			r.Holes = []part.Hole{cross("30", "4", 0)}
			r.Arcs = []part.Arc{{From: mm("0mm"), To: mm("60mm"), Radius: mm("50mm"), Out: true}}
		}, "28.0000 28.0000 - - -"},
		{"rows come after single holes, roll by roll", plain, func(r *part.Round) {
			four := []units.Length{mm("4")}
			r.Rows = []part.Row{{From: mm("40"), Dias: four, Count: 2, Pitch: length("10"), Rolls: []units.Angle{{}}}}
		}, "18.0000 38.0000 6.0000 - -"},
	} {
		r := check(t, turned(tc.points, tc.change))
		h := r.Holes[0]
		got := fmt.Sprintf("%s %s %s %s %s", figure(&h.Side), figure(&h.End), figure(h.Next), figure(h.Bore), figure(h.Mouth))
		if got != tc.want {
			t.Errorf("%s: %s, want %s", tc.name, got, tc.want)
		}
	}
}

// The hole's diameter over the width there.
func TestHoleToWidth(t *testing.T) {
	r := check(t, turned("0:1in 3in:1in", with(cross("1in", "1/4in", 0))))
	if r.Holes[0].HoleToWidth != 0.25 {
		t.Error(r.Holes[0].HoleToWidth)
	}
	for _, profile := range []string{"0:20 30:20 30:30 60:30", "0:30 30:30 30:20 60:20"} { // the thinner at a step
		if got := check(t, turned(profile, with(cross("30", "4", 0)))).Holes[0].HoleToWidth; got != 0.2 {
			t.Errorf("%s: %g", profile, float64(got))
		}
	}
}

// Of two as near the one that is drilled first is the next; that it is blind is
// said.
func TestNextOfTwo(t *testing.T) {
	blind := cross("30", "4", 0)
	blind.Depth = length("5")
	h := check(t, turned("0:20 60:20", with(cross("40", "4", 0), blind, cross("50", "4", 0)))).Holes
	if figure(h[0].Next) != "6.0000" || !h[0].Conservative || h[2].Conservative {
		t.Errorf("next %s, its end taken round %t and %t", figure(h[0].Next), h[0].Conservative, h[2].Conservative)
	}
}

// measured is the table that the solid modeller's script writes.
func measured(t testing.TB) []walls.Input {
	t.Helper()
	var list []walls.Input
	last := ""
	for _, row := range published.Rows(t, "walls.csv") {
		if row["part"] != last {
			last = row["part"]
			list = append(list, turned(row["profile"], func(r *part.Round) {
				for _, w := range strings.Fields(row["arcs"]) {
					f := strings.Split(w, ":")
					r.Arcs = append(r.Arcs, part.Arc{From: mm(f[0]), To: mm(f[1]), Radius: mm(f[2]), Out: f[3] == "out"})
				}
				for _, w := range strings.Fields(row["facets"]) {
					f := strings.Split(w, ":")
					n, err := strconv.Atoi(f[0])
					if err != nil {
						t.Fatal(err)
					}
					r.Facets = append(r.Facets, part.Facets{
						Sides: n, From: mm(f[1]), To: mm(f[2]), Corners: f[3] == "corners", Roll: units.MustAngle(f[4]),
					})
				}
				for _, w := range strings.Fields(row["bores"]) {
					f := strings.Split(w, ":")
					r.Bores = append(r.Bores, part.Bore{From: part.End(f[0]), Dia: mm(f[1]), Depth: mm(f[2])})
				}
			}))
		}
		r := list[len(list)-1].Part.Round
		h := cross(row["at_mm"], row["dia_mm"], units.MustAngle(row["roll_deg"]).Deg())
		h.Offset = mm(row["offset_mm"])
		r.Holes = append(r.Holes, h)
	}
	return list
}

// At least 200 random parts against a solid modeller, to 0.02 mm: its table is
// testdata/reference/walls.csv, the script that made it stands in walls beside
// it. Where the modeller finds no gap, ours must be at most 0.02.
func TestAgainstASolidModeller(t *testing.T) {
	parts := measured(t)
	if len(parts) < 200 {
		t.Fatalf("only %d parts", len(parts))
	}
	rows := published.Rows(t, "walls.csv")
	compared := map[string]int{}
	i := 0
	for _, in := range parts {
		for _, h := range check(t, in).Holes {
			row := rows[i]
			i++
			for key, got := range map[string]*units.Length{
				"side_mm": &h.Side, "end_mm": &h.End, "next_mm": h.Next, "bore_mm": h.Bore, "mouth_mm": h.Mouth,
			} {
				want := row[key]
				switch {
				case want == "" && (key == "bore_mm" || got == nil):
				case want == "<0":
					compared[key+" <0"]++
					if got == nil || got.MM() > 0.02 {
						t.Errorf("part %s hole %s: %s %s, the modeller finds no gap", row["part"], row["n"], key, figure(got))
					}
				case want == "" || got == nil:
					t.Errorf("part %s hole %s: %s %s, the modeller has %q", row["part"], row["n"], key, figure(got), want)
				default:
					compared[key]++
					w, err := strconv.ParseFloat(want, 64)
					if err != nil {
						t.Fatal(err)
					}
					if math.Abs(got.MM()-w) > 0.02 {
						t.Errorf("part %s hole %s: %s %s, the modeller has %s", row["part"], row["n"], key, figure(got), want)
					}
				}
			}
		}
	}
	if i != len(rows) {
		t.Errorf("%d holes of %d were compared", i, len(rows))
	}
	for key, least := range map[string]int{
		"side_mm": 500, "end_mm": 500, "next_mm": 200, "bore_mm": 50, "mouth_mm": 300, "next_mm <0": 50, "bore_mm <0": 50,
	} {
		if compared[key] < least {
			t.Errorf("%s was compared %d times only", key, compared[key])
		}
	}
}

// The sweep against every pair, with blind holes, offsets and many at one
// place: the distance of two axes worked out by walking both.
func TestSweepAgainstEveryPair(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		in := turned("0:50 120:50", func(r *part.Round) {
			for range 25 {
				at, dia := strconv.Itoa(5+random.IntN(23)*5), fmt.Sprintf("%d.5", 1+random.IntN(5))
				h := cross(at, dia, float64(random.IntN(24)*15))
				h.Offset = mm(strconv.Itoa(random.IntN(31) - 15))
				if random.IntN(3) == 0 {
					h.Depth = length(strconv.Itoa(2 + random.IntN(12)))
				}
				r.Holes = append(r.Holes, h)
			}
		})
		res := check(t, in)
		for i, h := range in.Part.Round.Holes {
			best := math.Inf(1)
			for j, o := range in.Part.Round.Holes {
				if i != j {
					best = min(best, walked(h, o)-h.Dia.MM()/2-o.Dia.MM()/2)
				}
			}
			if got := res.Holes[i].Next.MM(); math.Abs(got-best) > 1e-4 {
				t.Fatalf("hole %d: next %g, every pair gives %g", i+1, got, best)
			}
		}
	}
}

// walked is the least distance of two holes' axes on a bar of 50 mm, by
// walking along one and taking the foot on the other, and closing in on the
// least.
func walked(h, o part.Hole) float64 {
	run := func(h part.Hole) (a, b [2]float64) {
		off, half := h.Offset.MM(), math.Sqrt(625-h.Offset.MM()*h.Offset.MM())
		from := -half
		if h.Depth != nil {
			from = max(from, half-h.Depth.MM()-h.Dia.MM()/2/math.Tan(59*math.Pi/180))
		}
		s, c := h.Roll.Sin(), h.Roll.Cos()
		at := func(t float64) [2]float64 { return [2]float64{t*c - off*s, t*s + off*c} }
		return at(from), at(half)
	}
	a, b := run(h)
	c, d := run(o)
	dist := func(t float64) float64 {
		x, y := a[0]+(b[0]-a[0])*t, a[1]+(b[1]-a[1])*t
		ux, uy := d[0]-c[0], d[1]-c[1]
		s := min(1, max(0, ((x-c[0])*ux+(y-c[1])*uy)/(ux*ux+uy*uy)))
		return math.Hypot(x-c[0]-s*ux, y-c[1]-s*uy)
	}
	lo, hi := 0.0, 1.0 // the distance to a segment is convex along a line
	for range 200 {
		m, n := lo+(hi-lo)/3, hi-(hi-lo)/3
		if dist(m) < dist(n) {
			hi = n
		} else {
			lo = m
		}
	}
	return math.Hypot(dist((lo+hi)/2), o.Z.MM()-h.Z.MM())
}

// Every wall that falls short names a change, and with that change made the
// wall is restored and no other one spoilt.
func TestChangesRestore(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	changed, unmended := map[walls.Change]int{}, 0
	for range 60 {
		in := turned("0:30 50:30 50:18 90:14 90:26 120:26", func(r *part.Round) {
			r.MinWall = length("2mm")
			r.Facets = []part.Facets{{Sides: 6, From: mm("0"), To: mm("50")}}
			r.Bores = []part.Bore{{From: part.Left, Dia: mm("5mm"), Depth: mm("20mm")}}
			for range 6 {
				at := fmt.Sprintf("%d.%02d", 2+random.IntN(116), random.IntN(100))
				dia := fmt.Sprintf("%d.%d", 2+random.IntN(6), random.IntN(10))
				h := cross(at, dia, float64(random.IntN(12)*30))
				h.Offset = mm(strconv.Itoa(random.IntN(9) - 4))
				h.Crossing, h.MissBore = random.IntN(2) == 0, random.IntN(2) == 0
				r.Holes = append(r.Holes, h)
			}
		})
		res, err := walls.Check(in)
		if err != nil {
			continue // a hole missed the part
		}
		for _, thin := range res.Thin {
			changed[thin.Change]++
			if thin.Change == "" {
				unmended++
				continue
			}
			again := in
			p, r := *in.Part, *in.Part.Round
			again.Part, p.Round = &p, &r
			r.Holes = append([]part.Hole{}, r.Holes...)
			h := &r.Holes[thin.N-1]
			if thin.Change == walls.Smaller {
				h.Dia = thin.To
			} else {
				h.Z = thin.To
			}
			for _, left := range check(t, again).Thin {
				known := false
				for _, before := range res.Thin {
					known = known || before.N == left.N && before.Wall == left.Wall
				}
				if left.N == thin.N && (left.Wall == thin.Wall || !known) {
					t.Errorf("hole %d: %s %s: %s to %s leaves the %s at %s", thin.N, thin.Wall, figure(&thin.Value),
						thin.Change, figure(&thin.To), left.Wall, figure(&left.Value))
				}
			}
			// A hundredth less would not have done.
			back := units.MustLength("0.01mm")
			if thin.By.Abs().Cmp(back.Plus(back)) <= 0 {
				continue
			}
			if thin.By.Sign() > 0 {
				back = back.Neg()
			}
			if thin.Change == walls.Smaller {
				h.Dia = thin.To.Plus(back)
			} else {
				h.Z = thin.To.Plus(back)
			}
			nearer := check(t, again)
			was, is := res.Holes[thin.N-1], nearer.Holes[thin.N-1]
			// Onto an edge, or into a hole that it may meet, does not count as mended.
			spoilt := was.Mouth.Sign() > 0 && is.Mouth.Sign() <= 0 || is.Next.Sign() < 0
			for _, left := range nearer.Thin {
				spoilt = spoilt || left.N == thin.N
			}
			if !spoilt {
				t.Errorf("hole %d: %s %s: %s to %s goes further than it must", thin.N, thin.Wall, figure(&thin.Value),
					thin.Change, figure(&thin.To))
			}
		}
	}
	if changed[walls.Smaller] < 20 || changed[walls.Move] < 20 {
		t.Errorf("too few changes were tried: %v", changed)
	}
	t.Log(changed, unmended, "not mended by one change")
}

// What fails, what only warns, and what is meant.
func TestVerdicts(t *testing.T) {
	in := func(material string, change func(*part.Round)) walls.Input {
		i := turned("0:20 60:20", change)
		i.Part.Material = material
		return i
	}
	brass := func(change func(*part.Round)) walls.Input { return in("free-cutting-brass", change) }
	meant := func(h part.Hole) part.Hole { h.Crossing, h.MissBore, h.ThroughThread = true, true, true; return h }
	bored := func(h part.Hole) func(*part.Round) {
		return func(r *part.Round) {
			r.Holes = []part.Hole{h}
			r.Bores = []part.Bore{{From: part.Left, Dia: mm("4mm"), Depth: mm("20mm")}}
		}
	}
	thread := func(h part.Hole) walls.Input { return turned("0:16 40:16", screwed(part.Left, "20", h)) }
	tapped := func(h part.Hole) walls.Input {
		return turned("0:30 60:30", func(r *part.Round) {
			r.Holes = []part.Hole{h}
			r.Bores = []part.Bore{{From: part.Left, Dia: mm("6.8mm"), Depth: mm("30mm")}}
			r.Threads = []part.Thread{{From: part.Left, Spec: "M8", Inside: true, Length: mm("20mm")}}
		})
	}
	written := func(r *part.Round) {
		r.MinWall = length("3mm")
		r.Holes = []part.Hole{cross("7", "10", 0)}
	}
	const g10 = "glass-epoxy-laminate"
	for _, tc := range []struct {
		name  string
		in    walls.Input
		fails string
		warns string
	}{
		{
			"a written wall fails", brass(written), "hole 1: the end wall is 2 mm, under the 3 mm that is written; " +
				"moving it 1 mm to the right, to 8 mm, restores it", "",
		},
		{
			"the default only warns", brass(with(cross("6", "10", 0))), "",
			"hole 1: the end wall is 1 mm, under the usual 1.5 mm; moving it 0.5 mm to the right, to 6.5 mm, restores it",
		},
		{
			"a wall is never said to be thicker than it is", brass(with(cross("6.4996", "10", 0))), "",
			"hole 1: the end wall is 1.499 mm, under the usual 1.5 mm; drilling it 9.99 mm restores it",
		},
		{
			"under 0 fails all the same", brass(with(cross("4.5", "10", 0))),
			"hole 1: the end wall is -0.5 mm, under 0; moving it 2 mm to the right, to 6.5 mm, restores it", "",
		},
		{"a wall that is thick enough", brass(with(cross("6.5", "10", 0))), "", ""},
		{
			"laminate: the larger of 2 mm and half the hole", in(g10, with(cross("9.99", "10", 0))), "",
			"hole 1: the end wall is 4.99 mm, under the usual 5 mm; drilling it 9.99 mm restores it",
		},
		{
			"laminate, a small hole", in(g10, with(cross("3.99", "4", 0))), "",
			"hole 1: the end wall is 1.99 mm, under the usual 2 mm; moving it 0.01 mm to the right, to 4 mm, restores it",
		},
		{
			"wood: the larger of 3 mm and the hole", in("oak", with(cross("20", "5", 0), cross("29.9", "5", 0))), "",
			"hole 1: the wall to the next hole is 4.9 mm, under the usual 5 mm; drilling it 4.93 mm restores it\n" +
				"hole 2: the wall to the next hole is 4.9 mm, under the usual 5 mm; drilling it 4.93 mm restores it",
		},
		{
			"crossing holes fail", brass(with(cross("20", "4", 0), cross("20", "4", 90))),
			"hole 1: the wall to the next hole is -4 mm, under 0; " +
				"moving it 5.5 mm to the right, to 25.5 mm, restores it\n" +
				"hole 2: the wall to the next hole is -4 mm, under 0; moving it 5.5 mm to the right, to 25.5 mm, restores it", "",
		},
		{"unless one of them says it is meant", brass(with(meant(cross("20", "4", 0)), cross("20", "4", 90))), "", ""},
		{
			"and then the next wall counts",
			brass(with(meant(cross("20", "4", 0)), cross("20", "4", 90), cross("24.5", "4", 90))), "",
			"hole 1: the wall to the next hole is 0.5 mm, under the usual 1.5 mm; " +
				"moving it 1 mm to the left, to 19 mm, restores it\n" +
				"hole 2: the wall to the next hole is 0.5 mm, under the usual 1.5 mm; " +
				"moving it 1 mm to the left, to 19 mm, restores it\n" +
				"hole 3: the wall to the next hole is 0.5 mm, under the usual 1.5 mm; " +
				"moving it 1 mm to the right, to 25.5 mm, restores it",
		},
		{"a bore may be opened", brass(bored(cross("10", "4", 0))), "", ""},
		{
			"unless it is to be missed", brass(bored(meant(cross("22", "4", 0)))),
			"hole 1: the wall to the bore is -4 mm, under 0; moving it 2.71 mm to the right, to 24.71 mm, restores it", "",
		},
		{
			"a thread is not drilled through", thread(cross("10", "4", 0)),
			"hole 1: runs through the thread M16x1.5: write through_thread: ok if that is meant", "",
		},
		{"unless that is meant", thread(meant(cross("10", "4", 0))), "", ""},
		{
			"nor at its end", thread(cross("21.5", "4", 0)),
			"hole 1: runs through the thread M16x1.5: write through_thread: ok if that is meant", "",
		},
		{"past it", thread(cross("23.5", "4", 0)), "", ""},
		{
			"an inside one neither", tapped(offset(cross("10", "4", 0), "5.9")),
			"hole 1: runs through the thread M8: write through_thread: ok if that is meant", "",
		},
		{
			"beside it is thin", tapped(offset(cross("10", "4", 0), "6.2")), "",
			"hole 1: the wall to the bore is 0.2 mm, under the usual 1.5 mm; drilling it 1.4 mm restores it",
		},
		{
			"a wall of nothing is under the usual, not under 0", brass(with(cross("5", "10", 0))), "",
			"hole 1: the end wall is 0 mm, under the usual 1.5 mm; moving it 1.5 mm to the right, to 6.5 mm, restores it",
		},
		{ // 6.5 would stand on the step at 11.5, and less is left of 4
			"a hole is not moved onto a step", turned("0:20 11.5:20 11.5:30 60:30", with(cross("6", "10", 0))), "",
			"hole 1: the end wall is 1 mm, under the usual 1.5 mm; drilling it 9 mm restores it\n" +
				"hole 1: the margin at the mouth is 0.5 mm, under the usual 1.5 mm; " +
				"moving it 1 mm to the left, to 5 mm, restores it",
		},
		{ // 1.8 to the left it would open the bore, whose point ends at 20 + 2·cot 59° = 21.2017
			"a hole is not moved into a bore", brass(func(r *part.Round) {
				bored(cross("25", "4", 0))(r)
				r.Holes = append(r.Holes, cross("29", "4", 0))
			}), "",
			"hole 1: the wall to the next hole is 0 mm, under the usual 1.5 mm; drilling it 1 mm restores it\n" +
				"hole 2: the wall to the next hole is 0 mm, under the usual 1.5 mm; " +
				"moving it 1.5 mm to the right, to 30.5 mm, restores it",
		},
		{ // 0.5 to the right it would run into hole 2, and so it does until it is past it
			"a hole is not moved into one that it may meet",
			brass(with(cross("6", "10", 0), meant(cross("13.2", "4", 0)))), "",
			"hole 1: the end wall is 1 mm, under the usual 1.5 mm; drilling it 9 mm restores it\n" +
				"hole 1: the wall to the next hole is 0.2 mm, under the usual 1.5 mm; " +
				"moving it 1.3 mm to the left, to 4.7 mm, restores it\n" +
				"hole 2: the wall to the next hole is 0.2 mm, under the usual 1.5 mm; " +
				"moving it 1.3 mm to the right, to 14.5 mm, restores it",
		},
	} {
		r := check(t, tc.in)
		var fails, warns []string
		for _, p := range r.Fails() {
			fails = append(fails, p.Message())
			key := "holes"
			if strings.Contains(p.Want.String(), "through_thread") {
				key = "through_thread"
			}
			if p.Code != problem.WallTooThin || p.At.Key != key {
				t.Errorf("%s: %s at %s", tc.name, p.Code, p.At.Key)
			}
		}
		for _, w := range r.Warnings {
			warns = append(warns, say.Text(w.Text).In(say.MM))
		}
		if got := strings.Join(fails, "\n"); got != tc.fails {
			t.Errorf("%s: fails\n%s\nwant\n%s", tc.name, got, tc.fails)
		}
		if got := strings.Join(warns, "\n"); got != tc.warns {
			t.Errorf("%s: warns\n%s\nwant\n%s", tc.name, got, tc.warns)
		}
	}
	// In inches too no drill is said larger than it is: 9.99 mm is 0.39331 in.
	want := "hole 1: the end wall is 0.1964 in, under the usual 0.1969 in; drilling it 0.3933 in restores it"
	r := check(t, in(g10, with(cross("9.99", "10", 0))))
	if got := say.Text(r.Warnings[0].Text).In(say.Inch); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Common practice: metals 1.5 mm; laminates and plastics the larger of 2 mm and
// half the hole; wood the larger of 3 mm and the hole; what is written stands
// before all of them.
func TestLeast(t *testing.T) {
	for _, tc := range []struct{ material, dia, want string }{
		{"low-carbon-steel", "20mm", "1.5"},
		{"tin-bronze", "1mm", "1.5"},
		{"glass-epoxy-laminate", "3mm", "2"},
		{"glass-epoxy-laminate", "1/2in", "6.35"},
		{"acetal", "10mm", "5"},
		{"oak", "2mm", "3"},
		{"oak", "8mm", "8"},
	} {
		m, err := materials.Find(tc.material)
		if err != nil {
			t.Fatal(err)
		}
		if got := walls.Least(nil, m, mm(tc.dia)); !got.Equal(mm(tc.want)) {
			t.Errorf("%s, %s: %s, want %s", tc.material, tc.dia, figure(&got), tc.want)
		}
		if got := walls.Least(length("0.7mm"), m, mm(tc.dia)); !got.Equal(mm("0.7mm")) {
			t.Errorf("written: %s", figure(&got))
		}
	}
}

// At drilling time the bar is parallel, and a countersink widens the mouths.
func TestStages(t *testing.T) {
	in := turned("0:40 40:20 40:40 60:40", with(cross("20", "4", 0)))
	in.Part.Round.Chamfers = []part.Chamfer{{Z: mm("40"), Size: mm("1")}, {Z: mm("60"), Size: mm("1")}}
	in.Bar = length("42mm")
	if h := check(t, in).Holes[0]; figure(&h.Side) != "19.0000" || h.Mouth != nil {
		t.Errorf("in the bar: side %s, mouth %s", figure(&h.Side), figure(h.Mouth))
	}
	in.Bar, in.Countersink = nil, length("10mm")
	if h := check(t, in).Holes[0]; figure(h.Mouth) != "15.0000" {
		t.Errorf("countersunk: mouth %s", figure(h.Mouth))
	}
}

func TestRefusals(t *testing.T) {
	at := problem.Pos{File: "bob.yaml", Line: 9, Col: 5}
	change := func(f func(*walls.Input)) walls.Input {
		in := turned("0:20 60:20", with(cross("20", "4", 0)))
		f(&in)
		return in
	}
	round := func(f func(*part.Round)) walls.Input {
		return change(func(in *walls.Input) { f(in.Part.Round) })
	}
	three := part.Row{From: mm("50"), Dias: []units.Length{mm("3")}, Count: 3, At: at}
	beyond := three
	beyond.Pitch = length("6")
	for _, tc := range []struct {
		in   walls.Input
		want string
	}{
		{
			walls.Input{Name: "b.yaml", Part: &part.Part{Block: &part.Block{}}},
			"PART: b.yaml: is not a turned part: walls are those of holes across a bar",
		},
		{
			change(func(in *walls.Input) { in.Bar, in.Countersink = length("0mm"), length("-1mm") }),
			"bar: 0 mm: must be above 0\ncountersink: -1 mm: must be above 0\nbar: 0 mm: smaller than the part, 20 mm",
		},
		{change(func(in *walls.Input) { in.Bar = length("19mm") }), "bar: 19 mm: smaller than the part, 20 mm"},
		{
			change(func(in *walls.Input) { in.Part.Material, in.Part.MaterialAt = "bras", at }),
			"bob.yaml:9:5: material: bras: not a material in the table\n  did you mean brass?",
		},
		{
			round(func(r *part.Round) {
				r.Threads = []part.Thread{{From: part.Left, Spec: "M8x", Length: mm("5mm"), At: at}}
				r.Rows = []part.Row{three}
			}),
			"bob.yaml:9:5: pitch: needs exactly one of pitch, span and web\n" +
				"bob.yaml:9:5: spec: M8x: a pitch must follow the x",
		},
		{
			round(func(r *part.Round) { r.Rows = []part.Row{beyond} }),
			"bob.yaml:9:5: rows: 62 mm: hole 3 of the row lies beyond the part, which is 60 mm long",
		},
		{
			round(func(r *part.Round) { r.Holes[0].Z, r.Holes[0].At = mm("60.1mm"), at }),
			"bob.yaml:9:5: at: 60.1 mm: hole 1 is beyond the part, which is 60 mm long",
		},
		{
			round(func(r *part.Round) { r.Holes[0].Z = mm("-0.1mm") }),
			"at: -0.1 mm: hole 1 is beyond the part, which is 60 mm long",
		},
		{
			round(func(r *part.Round) { r.Holes[0].Offset, r.Holes[0].At = mm("11mm"), at }),
			"bob.yaml:9:5: offset: 11 mm: hole 1 misses the part at 20 mm",
		},
		{round(func(r *part.Round) {
			thousandth := length("0.001")
			r.Rows = []part.Row{{From: mm("1"), Dias: []units.Length{*thousandth}, Count: 10000, Pitch: thousandth}}
			for range 90_001 {
				r.Holes = append(r.Holes, cross("30", "1", 0))
			}
		}), "rows: 100002: more than 100000 holes"},
	} {
		_, err := walls.Check(tc.in)
		if err == nil || err.Error() != tc.want {
			t.Errorf("got  %v\nwant %s", err, tc.want)
		}
	}
}

// many is a tapering octagon with that many holes in rows, rolls and offsets.
func many(n int) walls.Input {
	l := strconv.Itoa(4*n + 10)
	return turned("0:60 "+l+":50", func(r *part.Round) {
		r.Facets = []part.Facets{{Sides: 8, From: mm("0"), To: mm(l)}}
		random := rand.New(rand.NewPCG(5, 6))
		for i := range n {
			h := cross(fmt.Sprintf("%d.%03d", 5+4*i, random.IntN(1000)), "1", float64(random.IntN(24)*15))
			h.Offset = mm(strconv.Itoa(random.IntN(21) - 10))
			r.Holes = append(r.Holes, h)
		}
		for i := range n { // neighbours in the file are not neighbours on the bar
			j := random.IntN(n)
			r.Holes[i], r.Holes[j] = r.Holes[j], r.Holes[i]
		}
	})
}

// 10,000 holes are checked in under a second, and ten times as many take
// hardly more than ten times as long: near n log n, far from n².
func TestManyHoles(t *testing.T) {
	took := map[int]time.Duration{}
	for _, n := range []int{100, 1000, 10_000} {
		in := many(n)
		took[n] = time.Hour
		for range 3 { // the machine may be busy with something else
			began := time.Now()
			check(t, in)
			took[n] = min(took[n], time.Since(began))
		}
		t.Logf("%6d holes: %v", n, took[n])
	}
	if took[10_000] > time.Second {
		t.Errorf("10,000 holes took %v", took[10_000])
	}
	// All in one place, and nothing that mends it.
	in := many(10_000)
	for i := range in.Part.Round.Holes {
		in.Part.Round.Holes[i].Z = mm(fmt.Sprintf("%d.%03d", 100+i%200, i/10))
	}
	began := time.Now()
	if r := check(t, in); len(r.Thin) < 9000 || r.Warnings[len(r.Warnings)-1].Code != "many-thin" {
		t.Errorf("%d walls are thin", len(r.Thin))
	}
	t.Logf("all thin: %v", time.Since(began))
	if growth := float64(took[10_000]) / float64(took[1000]); growth > 40 {
		t.Errorf("ten times as many took %.0f times as long", growth)
	}
}

func BenchmarkCheck(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			in := many(n)
			for b.Loop() {
				if _, err := walls.Check(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func ExampleCheck() {
	bob := &part.Part{Material: "free-cutting-brass", Round: &part.Round{
		Profile: []part.Station{{Dia: mm("30mm")}, {Z: mm("60mm"), Dia: mm("30mm")}},
		Holes:   []part.Hole{{Z: mm("20mm"), Dia: mm("6mm")}, {Z: mm("30mm"), Dia: mm("5mm")}},
	}}
	r, err := walls.Check(walls.Input{Name: "bob", Part: bob})
	if err != nil {
		panic(err)
	}
	for _, h := range r.Holes {
		fmt.Println(say.Of("hole ", h.N, " side ", h.Side, " next ", h.Next))
	}
	// Output:
	// hole 1 side 12 mm next 4.5 mm
	// hole 2 side 12.5 mm next 4.5 mm
}

// Walls beside two flats against a walk along the outline: in a direction it is
// the round's radius, or the flat's distance over the cosine to its normal.
func TestTwoFlatsAgainstAWalk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, from, to int64) float64 { return float64(rapid.Int64Range(from, to).Draw(t, name)) }
		d1, d2 := draw("left", 16, 30), draw("right", 16, 30)
		z, roll, turn := draw("z", 10, 50), draw("roll", 0, 359), draw("flats", 0, 179)
		across, off := draw("across", 8, 28), draw("offset", -3, 3)
		from, to := draw("from", 0, 20), draw("to", 30, 60)
		size := func(v float64) units.Length { return units.FromFloat(v) }
		r := walkable(t, turned("0:1 60:1", func(r *part.Round) {
			r.Profile[0].Dia, r.Profile[1].Dia = size(d1), size(d2)
			h := part.Hole{Z: size(z), Dia: mm("2"), Roll: units.Degrees(roll), Offset: size(off)}
			r.Holes = []part.Hole{h}
			f := part.Facets{Sides: 2, From: size(from), To: size(to), Across: size(across), Roll: units.Degrees(turn)}
			r.Facets = []part.Facets{f}
		}))
		best := math.Inf(1)
		for _, side := range []float64{90, -90} {
			cos := math.Abs(math.Cos((roll + side - turn) * math.Pi / 180))
			beside := off * side / 90
			for i := range 60_001 {
				at := float64(i) / 1000
				radius := (d1 + (d2-d1)*at/60) / 2
				if from <= at && at <= to {
					radius = math.Min(radius, across/2/cos)
				}
				best = math.Min(best, math.Hypot(at-z, radius-beside))
			}
		}
		if got := r.Holes[0].Side.MM(); math.Abs(got-(best-1)) > 0.002 {
			t.Fatalf("side wall %v, walked %v", got, best-1)
		}
	})
}

// walkable skips a part that cannot be: flats wider than it, a hole beside it.
func walkable(t *rapid.T, in walls.Input) walls.Result {
	r, err := walls.Check(in)
	if err != nil {
		t.Skip(err)
	}
	return r
}

// A groove of 16 beside the drawing, z 40 to 44 of a bar of 20: a hole of 4 in it has
// 16/2 - 2 = 6 beside it and not 8, and a margin of 2 - 2 = 0 to the groove's edges.
func TestUnderARelief(t *testing.T) {
	in := turned("0:20 100:20", with(cross("42", "4", 0)))
	if plain := check(t, in).Holes[0]; figure(&plain.Side) != "8.0000" {
		t.Fatal(plain)
	}
	in.Reliefs = []walls.Relief{{Span: outline.Span{From: mm("40"), To: mm("44")}, Dia: mm("16")}}
	h := check(t, in).Holes[0]
	if side, mouth := figure(&h.Side), figure(h.Mouth); side != "6.0000" || mouth != "0.0000" {
		t.Errorf("side %s, mouth %s, by hand 6 and 0", side, mouth)
	}
}
