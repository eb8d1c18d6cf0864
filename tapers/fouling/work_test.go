package fouling_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/fouling"
)

// on puts a taper into the outline of the work: from one corner to the next.
func on(p fouling.Profile, i int) fouling.Input {
	mm := units.FromFloat
	a, b := p[i], p[i+1]
	in := shed("1mm", "1mm", "1mm", "0mm")
	in.Head, in.Tail, in.Length = mm(a.Dia), mm(b.Dia), mm(b.Z-a.Z)
	in.FromJaws, in.Work = new(mm(a.Z)), p
	in.HalfAngle = units.Radians(math.Atan2(math.Abs(a.Dia-b.Dia)/2, b.Z-a.Z))
	return in
}

// A taper longer than the slide is cut in bites, and what the later ones cut is in the post's way. By pencil: from 12
// to 56 over 90 with a slide of 55 are two bites, and with the tip at the small end, 6 from the axis, a post 20 behind
// it stands 26 from it, over the bar of the second bite, 28 from it: 2 deep. A bar of 52 it just clears; on the other
// side of the holder it lies over what is cut.
func TestBarOfTheLaterBites(t *testing.T) {
	for _, tc := range []struct {
		name       string
		head, tail string
		raw        string
		hand       fouling.Hand
		side       fouling.Side
		want       string
	}{
		{"from the headstock end", "12mm", "56mm", "56mm", fouling.Left, fouling.HeadstockSide, "2.000"},
		{"a thinner bar", "12mm", "52mm", "52mm", fouling.Left, fouling.HeadstockSide, ""},
		{"a thicker bar", "12mm", "52mm", "60mm", fouling.Left, fouling.HeadstockSide, "4.000"},
		{"the other side", "12mm", "56mm", "56mm", fouling.Left, fouling.TailstockSide, ""},
		{"from the tailstock end", "56mm", "12mm", "56mm", fouling.Right, fouling.TailstockSide, "2.000"},
		{"in four from there", "56mm", "12mm", "56mm", fouling.Right, fouling.TailstockSide, "2.000"},
		{"with the post behind", "56mm", "12mm", "56mm", fouling.Right, fouling.HeadstockSide, ""},
		{"not looked at", "12mm", "56mm", "", fouling.Left, fouling.HeadstockSide, ""},
	} {
		in := shed(tc.head, tc.tail, "90mm", "200mm")
		in.Lathe.Compound = &shop.Compound{Travel: length("55mm")}
		if strings.HasPrefix(tc.name, "in four") {
			in.Lathe.Compound.Travel = length("24mm")
		}
		in.Lathe.ToolPost.Overhang = units.MustLength("20mm")
		trail := units.MustAngle("20")
		in.Lathe.Tools = []shop.Tool{{Hand: "right", Trail: trail}, {Hand: "left", Trail: trail}}
		in.ToolHand, in.PostSide = tc.hand, tc.side
		if tc.raw != "" {
			in.Raw = length(tc.raw)
		}
		_, fouls, err := fouling.Meets(in)
		got := ""
		for _, f := range fouls {
			if got = f.MM.Neg().Fixed(units.MM, 3, units.Nearest); f.Body != "post" || f.Obstacle != "work" {
				t.Errorf("%s: the %s runs into the %s", tc.name, f.Body, f.Obstacle)
			}
		}
		if err != nil || got != tc.want {
			t.Errorf("%s: %s mm deep, by pencil %s; %v", tc.name, got, tc.want, err)
		}
		drawn := slices.ContainsFunc(check(t, in).Outlines, func(o fouling.Outline) bool { return o.Name == "uncut" })
		if tc.want != "" && !drawn || tc.raw == "" && drawn {
			t.Errorf("%s: the bar that it runs into is drawn: %v", tc.name, drawn)
		}
	}
}

// What the work itself is in the way of, read off the drawing.
func TestWork(t *testing.T) {
	for _, tc := range []struct {
		name string
		work fouling.Profile
		i    int
		hand fouling.Hand
		want string
	}{
		{
			// A taper behind a collar on the headstock's side: the tool cuts up to it.
			"up to a shoulder", profile(60, 50, 70, 50, 70, 30, 120, 26, 140, 26), 2, fouling.Right, "",
		},
		{
			// The same, and left-handed: the holder of 16 has the collar of 10 mm beside it.
			// With the tip at the taper's end, 15 from the axis, the collar's rim beside it
			// is 10 up; square to the edge, which rises by 6 deg, 10·cos 6 deg = 9.945.
			"left-handed beside it", profile(60, 50, 70, 50, 70, 30, 120, 26, 140, 26), 2, fouling.Left,
			"tool-hand: the holder runs into the work by 10 mm",
		},
		{
			// A cylinder of the small end's size behind the cut: the tool trails over it.
			"a cylinder behind", profile(60, 50, 110, 30, 160, 30), 0, fouling.Right, "",
		},
		{
			// A cone of 7 deg behind it stands above the 6 that 8 of trail leave: over 16
			// mm it rises by 1.9645, and square to the edge that is 1.9645·cos 6 deg -
			// 16·sin 6 deg = 0.281 more.
			"a cone of 7 deg behind", profile(60, 50, 110, 30, 126, 33.929, 160, 33.929), 0, fouling.Right,
			"tool-hand: the holder runs into the work by 0.3 mm",
		},
		{
			// One of 5.9 deg, 1.6535 up, does not.
			"a cone of 5.9 deg behind", profile(60, 50, 110, 30, 126, 33.307, 160, 33.307), 0, fouling.Right, "",
		},
		{
			// A collar 16 mm beyond the small end just passes the holder.
			"a collar 16 beyond", profile(60, 50, 110, 30, 126, 30, 126, 50, 140, 50), 0, fouling.Right, "",
		},
		{
			// At 12 it is met over 4 mm, and the least way out is along the work.
			"a collar 12 beyond", profile(60, 50, 110, 30, 122, 30, 122, 50, 140, 50), 0, fouling.Right,
			"tool-hand: the holder runs into the work by 4 mm",
		},
	} {
		in := on(tc.work, tc.i)
		in.ToolHand = tc.hand
		if got := check(t, in).Fails().Error(); got != tc.want {
			t.Errorf("%s: got  %s\nwant %s", tc.name, got, tc.want)
		}
	}
}

// A waist between two flanks of 10 up over 8, 51 deg: no hand of tool with 8 deg of trail cuts
// either flank, a pointed one both. With 20 mm between them a holder of 16 fits
// in: each hand cuts the flank that it leads up.
func TestWaist(t *testing.T) {
	waist := profile(150, 40, 170, 40, 178, 20, 186, 40, 210, 40)
	for _, i := range []int{1, 2} {
		for _, hand := range fouling.Hands {
			in := on(waist, i)
			in.ToolHand = hand
			c := check(t, in)
			if len(c.Fouls) == 0 {
				t.Errorf("flank at %d, %s-hand: clears by %v", i, hand, say.Of(c.Clearance))
			}
			for _, a := range c.Alternatives { // 51.3402 and 2 deg
				if a.ToolTrail == nil || a.ToolTrail.Deg() != 54 {
					t.Errorf("flank at %d, %s-hand: %v", i, hand, a.Say)
				}
			}
		}
		in := on(waist, i)
		in.ToolHand = fouling.Neutral
		in.Lathe.Tools = append(in.Lathe.Tools, shop.Tool{Hand: "neutral", Trail: units.MustAngle("60")})
		if c := check(t, in); len(c.Fouls) > 0 {
			t.Errorf("flank at %d, pointed: %v", i, c.Fails())
		}
	}
	wide := profile(150, 40, 170, 40, 180, 20, 200, 20, 210, 40, 230, 40)
	for i, hand := range map[int]fouling.Hand{1: fouling.Right, 3: fouling.Left} {
		in := on(wide, i)
		in.ToolHand = hand
		if c := check(t, in); len(c.Fouls) > 0 {
			t.Errorf("a wide waist, flank at %d, %s-hand: %v", i, hand, c.Fails())
		}
	}
}

// Against sampling, over works of all shapes: the tip at 200 places, the outline
// a tenth of a mm apart. The holder beside the work is told apart from the rest:
// where it is in the work, that it is must be told.
func TestWorkAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := outside(t)
		if n := len(p); p[0].Z == p[1].Z || p[n-1].Z == p[n-2].Z {
			t.Skip("a face in the air")
		}
		if rapid.Bool().Draw(t, "large") { // up to 45 in radius: the slide's top is 20 below the axis
			for i := range p {
				p[i].Dia *= 3
			}
		}
		p = p.Moved(float64(rapid.IntRange(0, 40).Draw(t, "from the jaws")))
		i := rapid.IntRange(0, len(p)-2).Draw(t, "taper")
		if p[i].Z == p[i+1].Z {
			t.Skip("a shoulder")
		}
		in := on(p, i)
		a := fouling.Arrangement{
			ToolHand: rapid.SampledFrom(fouling.Hands).Draw(t, "hand"),
			PostSide: rapid.SampledFrom(fouling.Sides).Draw(t, "side"),
			PostTurn: rapid.SampledFrom(fouling.Turns).Draw(t, "turn"),
			Handle:   rapid.SampledFrom(fouling.Handles).Draw(t, "handle"),
		}
		in.Arrangement, in.Brief = a, true
		c, err := fouling.Check(in)
		if err != nil {
			t.Fatal(err)
		}
		short := a.Short(in.Lathe.Tools, in.HalfAngle, in.Head.Less(in.Tail)) != nil
		rest, holder := sampled(in, a, 0, 200), beside(in, a, 0)
		step := (in.Length.MM()/in.HalfAngle.Cos() + 2) / 200
		got := c.Clearance.MM()
		met := false
		for _, f := range c.Fouls {
			met = met || f.Body == "holder" && f.Obstacle == "work"
		}
		switch {
		case holder < 0 && !met && !short:
			t.Fatalf("%v in %v: the holder is in the work, not told: %v", a, p, c.Fouls)
		case holder >= 0 && met && !short:
			t.Fatalf("%v in %v: the holder is told to be in the work: %v", a, p, say.Of(c.Clearance))
		case holder >= 0 && !short:
			want := min(rest, holder)
			if got > want+0.02 || got < want-step-0.15 {
				t.Fatalf("%v in %v: %v, sampled %v and the holder %v", a, p, got, rest, holder)
			}
		case got > rest+0.02:
			t.Fatalf("%v in %v: %v, sampled %v", a, p, got, rest)
		}
	})
}

// What Held takes of the list clears, and Meets sees of one arrangement what Check
// does.
func TestHeld(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := func(name string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) }
		z := r("from the jaws", 0, 60)
		end := z + r("length", 5, 60)
		p := profile(0, 2*r("neck", 3, 30), z, 2*r("head", 3, 30), end, 2*r("tail", 3, 30))
		p = append(p, fouling.Corner{Z: end + r("beyond", 1, 30), Dia: 2 * r("end", 3, 30)})
		in := on(p, 1)
		if rapid.Bool().Draw(t, "centre") {
			in.CentreAt = new(units.FromFloat(p[3].Z + 5))
		}
		in.Brief = rapid.IntRange(0, 4).Draw(t, "not as a plan asks") > 0
		c, err := fouling.Check(in)
		if err != nil {
			t.Fatal(err)
		}
		a, ok := c.Held(units.Length{})
		if c.PassedOver != nil { // another than the first, of which Meets is asked
			in.ToolHand = c.Arrangement.ToolHand
		}
		if gap, fouls, err := fouling.Meets(in); err != nil || !gap.Equal(*c.Clearance) || len(fouls) != len(c.Fouls) {
			t.Fatalf("%v: meets %v %v, checked %v", p, gap, fouls, c.Fouls)
		}
		if in.Arrangement = a; ok {
			if again, err := fouling.Check(in); err != nil || len(again.Fouls) > 0 {
				t.Fatalf("%v: %v fouls: %v", p, a, again.Fails())
			}
		}
	})
}

// What a plan asks often: one arrangement.
func BenchmarkMeets(b *testing.B) {
	p := profile(10, 40, 30, 40, 30, 30, 70, 26, 80, 26, 80, 24, 100, 24, 100, 20, 130, 20)
	in := on(p, 2)
	in.CentreAt = length("145mm")
	b.Run("meets", func(b *testing.B) {
		for range b.N {
			if _, _, err := fouling.Meets(in); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// A cylinder is a taper of half angle 0: what Reaches says of the edge is what the
// plan view says of the holder.
func TestReachesAgainstMeets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := outside(t)
		i := rapid.IntRange(0, len(p)-2).Draw(t, "cylinder")
		p[i+1].Dia = p[i].Dia
		if n := len(p); p[i].Z == p[i+1].Z || p[0].Z == p[1].Z || p[n-1].Z == p[n-2].Z {
			t.Skip("no length, or a face in the air")
		}
		p = p.Moved(40)
		in := on(p, i)
		in.ToolHand = rapid.SampledFrom(fouling.Hands).Draw(t, "hand")
		tool, ok := fouling.Mounted(in.Lathe.Tools, in.Lathe.ToolPost, in.ToolHand)
		if !ok || tool.Width != 16 || tool.Over != 25 || tool.Post != 65 || tool.Trail != 8 {
			t.Fatalf("%+v", tool)
		}
		r := p.Reaches(p[i].Z, p[i+1].Z, tool)
		_, fouls, err := fouling.Meets(in)
		if err != nil {
			t.Fatal(err)
		}
		met := false
		for _, f := range fouls {
			met = met || f.Body == "holder" && f.Obstacle == "work"
		}
		if met != (r.Deg < -1e-6) {
			t.Fatalf("%s in %v from %v: %+v, but %v", in.ToolHand, p, p[i].Z, r, fouls)
		}
	})
}
