package fouling_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/fouling"
)

// profile reads z and diameter in turn.
func profile(v ...float64) (p fouling.Profile) {
	for i := 0; i < len(v); i += 2 {
		p = append(p, fouling.Corner{Z: v[i], Dia: v[i+1]})
	}
	return p
}

var (
	rightHand = fouling.Tool{Hand: fouling.Right, Trail: 8, Width: 16}
	leftHand  = fouling.Tool{Hand: fouling.Left, Trail: 8, Width: 16}
	blunt     = fouling.Tool{Hand: fouling.Neutral, Trail: 30, Width: 16}
	pointed   = fouling.Tool{Hand: fouling.Neutral, Trail: 60, Width: 16}
)

var (
	mounted = fouling.Tool{Hand: fouling.Right, Trail: 8, Width: 16, Over: 25, Post: 65}
	beside4 = profile(-20, 20, 4, 20, 16, 20, 30, 20).InJaws(&shop.Chuck{
		JawLength: length("28mm"), JawCircle: length("110mm"),
	})
)

func blade(width float64) fouling.Tool { return fouling.Tool{Hand: fouling.Form, Width: width} }

// Sums that can be done with a pencil.
func TestReaches(t *testing.T) {
	waist := profile(0, 40, 20, 40, 20, 20, 50, 20, 50, 40, 70, 40)
	flanks := profile(0, 40, 20, 40, 30, 20, 50, 20, 60, 40, 80, 40) // 10 up over 10: 45 deg
	for _, tc := range []struct {
		name     string
		work     fouling.Profile
		from, to float64
		tool     fouling.Tool
		clears   bool
		deg, mm  float64
	}{
		// A neck beside the jaws, open toward the tailstock: nothing rises.
		{"up to a shoulder", profile(0, 40, 20, 40, 20, 20, 60, 20), 20, 60, rightHand, true, math.Inf(1), math.Inf(1)},
		// The shoulder stands against the trailing edge: 90 deg of slope, 6 are allowed.
		{"into a shoulder", profile(0, 20, 40, 20, 40, 40, 60, 40), 0, 40, rightHand, false, 6 - 90, math.Inf(1)},
		{"away from it", profile(0, 20, 40, 20, 40, 40, 60, 40), 0, 40, leftHand, true, math.Inf(1), math.Inf(1)},
		// 15 from the shoulder the holder of 16 still meets it: 10 up in 15 are
		// atan(2/3) = 33.690 deg; 16 from it the holder just passes.
		{"15 from a shoulder", waist, 20, 35, rightHand, false, 6 - 33.690068, math.Inf(1)},
		{"16 from a shoulder", waist, 20, 34, rightHand, true, math.Inf(1), math.Inf(1)},
		{"16 from the other", waist, 36, 50, leftHand, true, math.Inf(1), math.Inf(1)},
		{"a waist with shoulders", waist, 20, 50, rightHand, false, 6 - 90, math.Inf(1)},
		{"and left-handed", waist, 20, 50, leftHand, false, 6 - 90, math.Inf(1)},
		{"and pointed", waist, 20, 50, pointed, false, 58 - 90, math.Inf(1)},
		// The tip of a pointed one is at the middle of its holder: 9 from either wall the 8
		// clear, 7 from them 10 up are 55.008 deg.
		{"pointed, 9 from the walls", waist, 29, 41, blunt, true, math.Inf(1), math.Inf(1)},
		{"pointed, 7 from the walls", waist, 27, 43, blunt, false, 28 - 55.007980, math.Inf(1)},
		{"a blade of 3 in a groove of 30", waist, 20, 50, blade(3), true, math.Inf(1), 27},
		{"a blade of 31", waist, 20, 50, blade(31), false, math.Inf(1), -1},
		// A blade hangs over what is lower than the cut: the collar from 50 on is open
		// to its right.
		{
			"a blade on a collar", profile(0, 40, 20, 40, 20, 30, 25, 30, 25, 20, 60, 20), 20, 25, blade(9),
			true, math.Inf(1), math.Inf(1),
		},
		// Flanks of 45 deg: 39 more than 6, 13 less than 58.
		{"a waist between flanks", flanks, 30, 50, rightHand, false, 6 - 45, math.Inf(1)},
		{"and left-handed", flanks, 30, 50, leftHand, false, 6 - 45, math.Inf(1)},
		{"and pointed", flanks, 30, 50, pointed, true, 58 - 45, math.Inf(1)},
		// A gentle cone behind the cut: 1 up over 20 is 2.862 deg.
		{"a gentle cone behind", profile(0, 20, 30, 20, 50, 22), 0, 30, rightHand, true, 6 - 2.862405, math.Inf(1)},
		// The cut is a cone itself, 1:10 up is 5.711 deg, then 1 up over 5: the edge of
		// 16 sees 3.1 up in 16 from its end at z 40, but a tip at z 40 - 11 = 29
		// less; from 40 itself 1 in 5 is 11.310 deg.
		{
			"a cone up to a steeper one", profile(0, 20, 40, 28, 45, 30, 80, 30), 0, 40, rightHand,
			false, 6 - 11.309932, math.Inf(1),
		},
		// Where the width is not known a shoulder is in the way however far it is: 10 up
		// in 16 are 32.005 deg.
		{
			"a width not known", waist, 20, 34,
			fouling.Tool{Hand: fouling.Right, Trail: 8},
			false, 6 - 32.005383, math.Inf(1),
		},
		// A post of 65 that stands 25 behind the tip passes over what rises by 24 and
		// not over 26, from the holder's 16 on to 81, and a wall at 82 is beyond it.
		{"under the post", profile(0, 20, 30, 20, 60, 20, 60, 68, 70, 68), 0, 30, mounted, true, math.Inf(1), 1},
		{"not under it", profile(0, 20, 30, 20, 60, 20, 60, 72, 70, 72), 0, 30, mounted, false, math.Inf(1), -1},
		{
			"beyond it", profile(0, 20, 30, 20, 112, 20, 112, 72, 120, 72), 0, 30, mounted,
			true, math.Inf(1), math.Inf(1),
		},
		// Beside the jaws of 110: a left-hand holder of 16 has them behind it, 45 up over
		// 4 mm.
		{"beside the jaws", beside4, 4, 30, leftHand, false, 6 - 84.920392, math.Inf(1)},
		{"the holder clear of them", beside4, 16, 30, leftHand, true, math.Inf(1), math.Inf(1)},
		// A step down within the cut is cut toward the headstock only.
		{"steps down", profile(0, 40, 20, 40, 20, 30, 40, 30), 0, 40, rightHand, true, math.Inf(1), math.Inf(1)},
		{"steps up", profile(0, 30, 20, 30, 20, 40, 40, 40), 0, 40, rightHand, false, 6 - 90, math.Inf(1)},
	} {
		got := tc.work.Reaches(tc.from, tc.to, tc.tool)
		near := func(a, b float64) bool { return a == b || math.Abs(a-b) < 1e-5 }
		if got.Clears != tc.clears || !near(got.Deg, tc.deg) || !near(got.MM, tc.mm) {
			t.Errorf("%s: %+v, want %v, %v deg, %v mm", tc.name, got, tc.clears, tc.deg, tc.mm)
		}
	}
}

// outside draws a profile with corners at whole mm.
func outside(t *rapid.T) (p fouling.Profile) {
	z := 0.0
	for i := range rapid.IntRange(2, 8).Draw(t, "corners") {
		if i > 0 {
			least := 0
			if i > 1 && p[i-1].Z == p[i-2].Z { // three at one z are a groove without width
				least = 1
			}
			z += float64(rapid.IntRange(least, 12).Draw(t, "along"))
		}
		p = append(p, fouling.Corner{Z: z, Dia: float64(2 * rapid.IntRange(3, 15).Draw(t, "radius"))})
	}
	return p
}

// spot is a place on an outline walked in steps: start and end say that it is
// its stretch's first or last, wall that the stretch is a shoulder.
type spot struct {
	z, r             float64
	start, end, wall bool
}

func walked(p fouling.Profile) (list []spot) {
	const parts = 4 // to a mm
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		n := max(int(b.Z-a.Z)*parts, 1)
		for k := range n + 1 {
			f := float64(k) / float64(n)
			list = append(list, spot{a.Z + f*(b.Z-a.Z), (a.Dia + f*(b.Dia-a.Dia)) / 2, k == 0, k == n, a.Z == b.Z})
		}
	}
	return list
}

// slopes is the steepest line from any place of the cut to any beyond it, and the
// most that any rises from the width of the tool on over so much more, tried one
// after the other.
func slopes(p fouling.Profile, from, to, width, post float64) (steep, rises float64) {
	steep = math.Inf(-1)
	spots := walked(p)
	for i, tip := range spots {
		if tip.wall && (tip.z <= from || tip.z >= to) || !tip.wall && (tip.z < from || tip.z > to) ||
			tip.z == to && !tip.end && !tip.wall || tip.z == from && tip.end && !tip.wall {
			continue
		}
		for _, s := range spots[i+1:] {
			run, rise := s.z-tip.z, s.r-tip.r
			if run >= width && run <= width+post {
				rises = max(rises, rise)
			}
			inside := run < width || run == width && (!s.wall && !s.start || !tip.end && !tip.wall)
			switch {
			case !inside || run == 0 && rise <= 0:
			case run == 0:
				steep = math.Inf(1)
			default:
				steep = max(steep, rise/run)
			}
		}
	}
	return steep, rises
}

// Against every pair of places along the outline, a quarter of a mm apart: all
// corners are at whole mm, so the steepest is among them.
func TestReachesAgainstWalking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := outside(t)
		i := rapid.IntRange(0, len(p)-2).Draw(t, "from")
		j := rapid.IntRange(i+1, len(p)-1).Draw(t, "to")
		from, to := p[i].Z, p[j].Z
		if from == to {
			t.Skip("no stretch")
		}
		width := float64(rapid.IntRange(1, 20).Draw(t, "width"))
		trail := float64(rapid.IntRange(3, 60).Draw(t, "trail"))
		for hand, work := range map[fouling.Hand]fouling.Profile{fouling.Right: p, fouling.Left: p.Mirrored()} {
			a, b := from, to
			if hand == fouling.Left {
				a, b = -to, -from
			}
			got := work.Reaches(a, b, fouling.Tool{Hand: hand, Trail: trail, Width: width, Over: 5, Post: 10})
			steep, rises := slopes(p, from, to, width, 10)
			want, spare := trail-2-math.Atan(steep)*180/math.Pi, 5-rises
			if want > trail-2-1e-6 {
				want = math.Inf(1) // nothing rises
			}
			if rises == 0 {
				spare = math.Inf(1)
			}
			if got.MM != spare && math.Abs(got.MM-spare) > 1e-6 {
				t.Fatalf("%s %v, %v to %v, width %v: %+v, walked %v mm", hand, work, a, b, width, got, spare)
			}
			clears := want > 0 && spare > -1e-6
			if got.Deg != want && math.Abs(got.Deg-want) > 1e-6 || math.Abs(want) > 1e-6 && got.Clears != clears {
				t.Fatalf("%s %v, %v to %v, width %v, trail %v: %+v, walked %v", hand, work, a, b, width, trail, got, want)
			}
		}
	})
}

// What is always there: tools that a person grinds.
func TestOnHand(t *testing.T) {
	list := func(tools []shop.Tool) (out string) {
		for _, o := range fouling.OnHand(tools) {
			out += o.Hand + " " + o.Trail.String() + ", "
		}
		return out
	}
	if got := list(nil); got != "right 8 deg, left 8 deg, neutral 30 deg, " {
		t.Error(got)
	}
	if got := list([]shop.Tool{{Hand: "left", Trail: units.MustAngle("12")}}); got != "left 12 deg, neutral 30 deg, " {
		t.Error(got)
	}
}

// A plain cut is asked after thousands of times: nothing is allocated.
func TestReachesAllocates(t *testing.T) {
	p := profile(0, 40, 20, 40, 20, 20, 50, 20, 50, 40, 70, 40)
	if n := testing.AllocsPerRun(100, func() { p.Reaches(20, 50, pointed) }); n > 0 {
		t.Error(n, "allocations")
	}
}

func BenchmarkReaches(b *testing.B) {
	p := profile(0, 40, 20, 40, 20, 20, 50, 20, 60, 40, 70, 40, 70, 30, 90, 30, 90, 20, 120, 20)
	for range b.N {
		p.Reaches(20, 50, rightHand)
	}
}

// What a person grinds for a job is not put among the tools that the shop owns.
func TestGroundIsNotOwned(t *testing.T) {
	room := make([]shop.Tool, 1, 8)
	room[0] = shop.Tool{Hand: string(fouling.Neutral)}
	for _, tc := range []struct {
		trail float64
		tools int
	}{{30, 4}, {60, 4}, {61, 2}, {75, 2}} { // a tool that is square on one side keeps a point of 30 deg
		if n := len(fouling.WithGround(shop.Lathe{Tools: room}, units.Degrees(tc.trail)).Tools); n != tc.tools {
			t.Errorf("%g deg: %d tools, %d wanted: the shop's, a pointed one, and one of either hand", tc.trail, n, tc.tools)
		}
	}
	if spare := room[:2][1]; spare != (shop.Tool{}) {
		t.Errorf("%+v stands in the shop's list", spare)
	}
}

// What stands roughed beside a taper, in steps: a left-hand tool of 8 deg begins at 14.055 mm, 2.8
// mm off a step of 14.92 mm. (14.92 - 14.055)/2 - 2.8·tan 8° = 0.4325 - 0.3935 = 0.039 mm. A
// right-hand one leads there; on the other side the work of 20 mm goes on beside its end of 20 mm,
// and a step of 22 mm beyond the 16 mm that the holder is wide is no edge's.
func TestRubs(t *testing.T) {
	steps := fouling.Profile{{57.2 - 4, 14.92}, {57.2, 14.92}, {57.2, 14.48}, {60, 14.48}, {100, 20}, {117, 20}, {117, 22}}
	for _, tc := range []struct {
		hand fouling.Hand
		turn string
		want float64
	}{
		{fouling.Left, "", 0.039},
		{fouling.Left, "-1deg", 0.4325 - 2.8*math.Tan(9*math.Pi/180)},
		{fouling.Right, "", 0},
	} {
		in := shed("14.055mm", "20mm", "40mm", "60mm")
		in.ToolHand = tc.hand
		if tc.turn != "" {
			in.PostTurned = new(units.MustAngle(tc.turn))
		}
		if got := in.Rubs(steps).MM(); math.Abs(got-max(tc.want, 0)) > 0.0005 {
			t.Errorf("%s, post turned %s: %.4f; want %.4f", tc.hand, tc.turn, got, tc.want)
		}
	}
}
