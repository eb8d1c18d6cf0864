package fouling_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers/fouling"
)

// found returns the first alternative of a kind, nil where there is none.
func found(c fouling.Finding, change fouling.Change) *fouling.Alternative {
	i := slices.IndexFunc(c.Alternatives, func(a fouling.Alternative) bool { return a.Change == change })
	if i < 0 {
		return nil
	}
	return &c.Alternatives[i]
}

// What a person would do at the lathe, each with the sum for the least of it.
func TestLeastThatClears(t *testing.T) {
	// 20 to 40 over 50 is 11.3099 deg; 2 more less 8 of trail: the post is turned by
	// 5.3099 deg, to the next half 5.5. Turned end for end it shrinks, and the
	// holder is the nearest to the jaws, 3 mm and cos 11.3099 deg of overrun.
	in := shed("20mm", "40mm", "50mm", "200mm")
	in.ToolHand = fouling.Right
	c := check(t, in)
	if a := found(c, fouling.TurnPost); a == nil || a.PostTurned == nil || a.PostTurned.Deg() != 5.5 {
		t.Errorf("post: %+v", a)
	}
	if a := found(c, fouling.TurnWork); a == nil || math.Abs(a.FromJaws.MM()-3.980581) > 1e-5 {
		t.Errorf("end for end: %+v", a)
	}
	// With 40 mm in diameter beyond the taper 0.6 d = 24 mm are gripped: of 28 mm 4 are
	// left, of 27.9 not quite.
	for long, want := range map[float64]bool{28: true, 27.9: false} {
		in.Work = profile(200, 20, 250, 40, 250+long, 40)
		if a := found(check(t, in), fouling.TurnWork); (a != nil) != want {
			t.Errorf("end for end with %v beyond: %+v", long, a)
		}
	}

	// 20 to 30 over 40 is 7.1250 deg, 1.1250 more than the 6: the post is turned by 1.5,
	// and leans to the jaws' corner at 55. From the tip at 4.01 - cos 7.1250 deg = 3.0177
	// and 10 - sin 7.1250 deg = 9.8760 that is 3.0177·cos 1.5 deg - 45.1240·sin 1.5 deg =
	// 1.8355 away, so (3 - 1.8355)/cos 1.5 deg = 1.1649 more.
	in = shed("20mm", "30mm", "40mm", "4.01mm")
	in.Lathe.Compound = nil
	if a := found(check(t, in), fouling.TurnPost); a == nil || a.PostTurned == nil || a.PostTurned.Deg() != 1.5 ||
		!a.Moved || math.Abs(a.MoreFromJaws.MM()-1.164920) > 1e-5 {
		t.Errorf("post and work: %+v", a)
	}

	// On the post's front the post stands 24.5 to the left of the tip, over a collar
	// of 55 in radius that ends where the taper begins. At the other end, 20 and the
	// overrun to the right, it is over it still, and the tip at 29 - sin 2.8624 deg =
	// 28.9501: for 3 mm over the collar the tip stands 58 - 28.9501 = 29.0499 out, by a
	// rule 29.5, and by one in inches 29.0499/25.4 = 1.1437, 37/32 = 1.1563 in.
	in = shed("60mm", "58mm", "20mm", "100mm")
	in.PostSide, in.Lathe.Compound = fouling.Front, nil
	in.Work = profile(80, 110, 100, 110, 100, 60, 120, 58, 150, 58)
	if a := found(check(t, in), fouling.MoveTool); a == nil || a.Overhang.MM() != 29.5 ||
		a.Say.In(say.Inch) != "let the tool out to stand 1.1563 in beyond the post, not 0.9843 in" {
		t.Errorf("tool out: %+v", a)
	}

	// The post, 81 to the right of the tip at the most and 25 behind it, would run
	// into the tailstock's body, 35 either side, 40 from a centre at 125: with the tip
	// at 100 + cos 1.4321 deg the post ends at 181.9997, and with 3 mm the barrel is
	// out by 59.9997.
	in = shed("12mm", "10mm", "40mm", "60mm")
	in.CentreAt, in.Lathe.Compound = length("125mm"), nil
	if a := found(check(t, in), fouling.MoveBarrel); a == nil || a.BarrelOut.MM() != 60 {
		t.Errorf("barrel: %+v", a)
	}
	in.Lathe.Tailstock.BarrelOut = length("19.9mm")                                        // 40.1 more are too many
	if a := found(check(t, in), fouling.MoveBarrel); a == nil || a.BarrelOut.MM() != 59 || // for 2 mm 39.1
		!strings.HasSuffix(a.Say.In(say.MM), "which is tight") {
		t.Errorf("barrel: %+v", a)
	}
}

// edge is by how much, in deg, an edge of a tool stands clear of the taper under it,
// negative where it is in it: the edge drawn from the tip as a vector and turned with
// the post, against the taper's own side drawn the same way. trail is what it is
// ground to.
func edge(in fouling.Input, a fouling.Arrangement, trail float64) float64 {
	side := math.Atan2((in.Tail.MM()-in.Head.MM())/2, in.Length.MM()) // of the line toward the tailstock
	turn := 0.0
	if a.PostTurn == fouling.WithSlide {
		turn = side
	} else if a.PostTurned != nil {
		turn = a.PostTurned.Rad()
	}
	trail *= math.Pi / 180
	clear := math.Inf(1)
	look := func(z, y, want float64, way float64) { // an edge toward the tailstock, or the headstock
		dir := math.Atan2(z*math.Sin(turn)+y*math.Cos(turn), way*(z*math.Cos(turn)-y*math.Sin(turn)))
		clear = min(clear, (dir-way*side)*180/math.Pi-want)
	}
	switch a.ToolHand {
	case fouling.Right:
		look(math.Cos(trail), math.Sin(trail), 2, 1)
		look(0, 1, 0, -1)
	case fouling.Left:
		look(-math.Cos(trail), math.Sin(trail), 2, -1)
		look(0, 1, 0, 1)
	default:
		look(math.Cos(trail), math.Sin(trail), 2, 1)
		look(-math.Cos(trail), math.Sin(trail), 2, -1)
	}
	return clear
}

// No way that is listed is short anywhere: each is done, and what moves is tried in
// 60 places of the tip, the tool's edges as vectors.
func TestNoneIsShort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := func(name string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) }
		mm := func(v float64) string { return fmt.Sprint(v, "mm") }
		head, tail := r("head", 3, 60), r("tail", 3, 60)
		if head == tail {
			t.Skip("no taper")
		}
		long, from := r("length", 3, 60), r("from the jaws", 0, 60)
		in := shed(mm(head), mm(tail), mm(long), mm(from))
		if rapid.Bool().Draw(t, "centre") {
			in.CentreAt = new(units.FromFloat(from + long + r("beyond", 0, 40)))
		}
		in.ToolHand = rapid.SampledFrom(fouling.Hands).Draw(t, "hand")
		in.PostSide = rapid.SampledFrom(fouling.Sides).Draw(t, "side")
		c, err := fouling.Check(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range c.Alternatives {
			there, trail := in, 8.0
			there.Lathe.Tools = nil
			if a.ToolTrail != nil {
				trail = a.ToolTrail.Deg()
			}
			there = standing(there, a)
			if a.CentreAt != nil {
				there.CentreAt = new(a.CentreAt.Plus(there.FromJaws.Minus(*in.FromJaws)))
			}
			if short := edge(there, a.Arrangement, trail); short < -1e-6 {
				t.Fatalf("%v: an edge is %v deg short", a.Say, -short)
			}
			want, got := sampled(there, a.Arrangement, 0, 60), a.Clearance.MM()
			if got > want+0.02 || a.Moved && want < 2.98 && !strings.HasSuffix(a.Say.In(say.MM), "which is tight") {
				t.Fatalf("%v: %v, sampled %v (%v to %v over %v from %v)", a.Say, got, want, head, tail, long, from)
			}
		}
	})
}

// standing returns what is asked with the work where an alternative has it: turned end for
// end, or further out with the centre that holds it.
func standing(in fouling.Input, a fouling.Alternative) fouling.Input {
	there := in
	switch {
	case a.FromJaws != nil:
		there.Head, there.Tail, there.FromJaws = in.Tail, in.Head, a.FromJaws
	case a.Moved:
		there.FromJaws = new(in.FromJaws.Plus(*a.MoreFromJaws))
		if in.CentreAt != nil {
			there.CentreAt = new(in.CentreAt.Plus(*a.MoreFromJaws))
		}
	}
	return there
}

// What is tight with one thing done otherwise, and a little more overhang. The slide is
// 125 long to the handle's middle, which stands 125·sin 4.7636 deg = 10.3806 nearer to
// the axis than the post's middle, 32.5 behind its face: from the tip, out by o, at 10 -
// sin 4.7636 deg = 9.9170, its edge is at 9.9170 + o + 32.5 - 10.3806 - 35 = o - 2.9636,
// and 3 from the tailstock's 35 at o = 40.9636, 2 at 39.9636. To the jaws it is 3 - cos
// 4.7636 deg = 2.0035, and so 0.9965 more for 3 mm.
func TestTightAndSimple(t *testing.T) {
	in := shed("30mm", "20mm", "60mm", "3mm")
	in.CentreAt = length("84mm")
	c := check(t, in)
	if a := c.Alternatives[0]; a.Overhang == nil || a.Overhang.MM() != 41 || a.Change != fouling.MoveTool ||
		math.Abs(a.MoreFromJaws.MM()-0.996546) > 1e-5 {
		t.Errorf("%v: %+v", a.Say, a)
	}
	var s sheet.Sheet // the centre moves with the work
	if c.List(&s); !strings.Contains(fmt.Sprint(s.Notes), "centre-at") {
		t.Error(s.Notes)
	}
	i := slices.IndexFunc(c.Alternatives, func(a fouling.Alternative) bool { return a.Overhang != nil && !a.Moved })
	if a := c.Alternatives[i]; a.Overhang.MM() != 40 || math.Abs(a.Clearance.MM()-2.003454) > 1e-5 ||
		a.Say.In(say.MM) != "let the tool out to stand 40 mm beyond the post, not 25 mm, which is tight" {
		t.Errorf("%v: %+v", a.Say, a)
	}
	// The centre stands 3 from the taper, so the barrel 2.0035 from the tip: a left-hand
	// holder, 16 before the tip, is 2 from the jaws with 2 + 16 - 2.0035 = 15.9965 more.
	in.CentreAt = length("66mm")
	if a := check(t, in).Alternatives[0]; a.ToolHand != fouling.Left || a.Overhang.MM() != 40 ||
		math.Abs(a.MoreFromJaws.MM()-15.996546) > 1e-5 || math.Abs(a.Clearance.MM()-2) > 1e-5 {
		t.Errorf("%v: %+v", a.Say, a)
	}
}

// Every remedy of twenty cases that foul is done and asked again: it clears as
// promised, and by less than 3 mm only where that is said.
func TestAskedAgain(t *testing.T) {
	cases, tried := 0, 0
	for _, tc := range []struct{ head, tail, long, from, centre float64 }{
		{30, 20, 60, 3, 84},
		{30, 20, 60, 3, 66},
		{20, 40, 50, 3, 0},
		{20, 40, 50, 60, 0},
		{40, 20, 50, 0, 0},
		{12, 10, 40, 60, 125},
		{60, 58, 20, 4, 30},
		{10, 50, 30, 20, 60},
		{50, 10, 30, 5, 40},
		{26, 25, 60, 1, 63},
		{20, 30, 44, 92, 0},
	} {
		for _, hand := range fouling.Hands {
			mm := func(v float64) string { return fmt.Sprint(v, "mm") }
			in := shed(mm(tc.head), mm(tc.tail), mm(tc.long), mm(tc.from))
			in.ToolHand, in.PostSide = hand, fouling.TailstockSide
			if tc.centre > 0 {
				in.CentreAt, in.PostSide = length(mm(tc.centre)), fouling.HeadstockSide
			}
			c := check(t, in)
			if len(c.Fouls) == 0 {
				continue
			}
			cases++
			for _, a := range c.Alternatives {
				tried++
				for _, b := range c.Alternatives { // nor is what clears by itself asked for with something else
					less, more := a.Say.In(say.MM), b.Say.In(say.MM)
					alike := a.ToolHand == b.ToolHand && a.PostSide == b.PostSide && a.PostTurn == b.PostTurn && a.Handle == b.Handle
					if alike && (strings.HasPrefix(more, less+", and ") || strings.HasSuffix(more, ", and "+less)) {
						t.Errorf("%+v: %s; and %s", tc, less, more)
					}
				}
				there := in
				there.Arrangement = a.Arrangement
				there = standing(there, a)
				if a.CentreAt != nil {
					there.CentreAt = a.CentreAt
				}
				if a.ToolTrail != nil {
					there.Lathe.Tools = []shop.Tool{{Hand: string(a.ToolHand), Trail: *a.ToolTrail}}
				}
				if err := there.Place.Check(); err != nil && a.ToolHand != fouling.Neutral {
					t.Fatalf("%+v: %v cannot be asked: %v", tc, a.Say, err)
				}
				gap, fouls, err := fouling.Meets(there)
				if err != nil || len(fouls) > 0 || gap.MM() < a.Clearance.MM()-1e-6 {
					t.Errorf("%+v: %v: %v clear; %v %v", tc, a.Say, say.Of(gap, ", promised ", a.Clearance), fouls, err)
				}
				said := strings.HasSuffix(a.Say.In(say.MM), "which is tight")
				if tight := gap.MM() < 3-1e-6; tight != said {
					t.Errorf("%+v: %v: %v clear", tc, a.Say.In(say.MM), say.Of(gap).In(say.MM))
				}
			}
		}
	}
	if cases < 15 || tried < 100 {
		t.Errorf("%d cases, %d remedies", cases, tried)
	}
}

// A left-hand tool whose holder runs into the jaws: the work further out alone
// comes before the same and the post turned with it, and before the other tool.
func TestMovedWork(t *testing.T) {
	in := shed("30mm", "20mm", "60mm", "10mm")
	in.ToolHand, in.Lathe.Compound = fouling.Left, nil
	c := check(t, in)
	for i, want := range []fouling.Change{fouling.MoveWork, fouling.TurnPost, fouling.OtherTool} {
		if a := c.Alternatives[i]; a.Change != want || a.Moved != (i < 2) {
			t.Errorf("%d: %v", i, a.Say)
		}
	}
	// It stands 6.9966 in the jaws, as in TestByPencil, and goes out by that and 3.
	if a := c.Alternatives[0]; math.Abs(a.MoreFromJaws.MM()-9.996546) > 1e-5 {
		t.Error(a.Say)
	}
}

// A slide turned round has its handle's middle 125 to the left of the post's, which
// is 48.5 to the right of the tip and 72.5 from the axis. From the jaws' corner, 51.235
// from the axis at the slide's height, it wants 35 and a hand's 40: sqrt(75² -
// 21.265²) = 71.922 along the axis, so the tip may go to 148.422 from the jaws, and
// 1 mm less.
func TestHandRoom(t *testing.T) {
	for from, want := range map[string]bool{"149.42mm": false, "149.43mm": true} {
		in := shed("30mm", "30mm", "20mm", from)
		in.HalfAngle = units.Angle{}
		round := false
		for _, a := range check(t, in).Alternatives {
			round = round || a.Handle == fouling.Reversed && a.ToolHand == fouling.Right &&
				a.PostSide == fouling.HeadstockSide && a.PostTurn == fouling.Square && !a.Moved
		}
		if round != want {
			t.Errorf("%s from the jaws: the slide turned round %v", from, round)
		}
	}
}

// Of a shop's tools the first that clears as it is, against trying each by hand: its edges as vectors, and
// what moves in 120 places of the tip. One that clears by 3 mm comes before one that is tight; the first of
// the shop stays where it fouls nothing, or where every other does.
func TestFirstThatClears(t *testing.T) {
	orders := [][]fouling.Hand{
		{fouling.Right, fouling.Left, fouling.Neutral},
		{fouling.Left, fouling.Neutral, fouling.Right},
		{fouling.Neutral, fouling.Right, fouling.Left},
	}
	trails := map[fouling.Hand]float64{fouling.Right: 8, fouling.Left: 5, fouling.Neutral: 30}
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		r := func(name string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) }
		mm := func(v float64) string { return fmt.Sprint(v, "mm") }
		head, tail := r("head", 3, 60), r("tail", 3, 60)
		if head == tail {
			t.Skip("no taper")
		}
		in := shed(mm(head), mm(tail), mm(r("length", 5, 80)), mm(r("from the jaws", 0, 80)))
		in.PostSide = rapid.SampledFrom(fouling.Sides).Draw(t, "side")
		order := rapid.SampledFrom(orders).Draw(t, "order")
		in.Lathe.Tools = []shop.Tool{{Hand: string(fouling.Form), Trail: units.MustAngle("45")}}
		for _, hand := range order {
			in.Lathe.Tools = append(in.Lathe.Tools, shop.Tool{Hand: string(hand), Trail: units.Degrees(trails[hand])})
		}
		a := fouling.Arrangement{PostSide: in.PostSide, PostTurn: fouling.Square, Handle: fouling.Normal}
		if tail < head && in.HalfAngle.Deg() > 45 {
			a.Handle = fouling.Reversed
		}
		clears := func(hand fouling.Hand) float64 { // below 0 where it does not
			a.ToolHand = hand
			gap := sampled(in, a, 0, 120)
			if math.IsNaN(gap) || math.Abs(gap) < 0.1 || math.Abs(gap-3) < 0.1 {
				t.Skip("as good as neither")
			}
			if edge(in, a, trails[hand]) < -1e-6 {
				return -1
			}
			return gap
		}
		want, why := order[0], "the first clears"
		if clears(order[0]) < 0 {
			why = "none clears"
			for _, hand := range []fouling.Hand{order[2], order[1]} {
				if gap := clears(hand); gap >= 0 && gap < 3 {
					want, why = hand, "another is tight"
				}
			}
			for _, hand := range []fouling.Hand{order[2], order[1]} {
				if clears(hand) >= 3 {
					want, why = hand, "another clears"
				}
			}
		}
		seen[why]++
		c, err := fouling.Check(in)
		if err != nil || c.Arrangement.ToolHand != want || (len(c.Fouls) == 0) != (why != "none clears") ||
			(c.PassedOver != nil) != strings.HasPrefix(why, "another") {
			t.Fatalf("%s: %v, passed over %v, fouls %v, want %v (%v)", why, c.Arrangement, c.PassedOver, c.Fouls, want, err)
		}
		in.Brief = true // a plan holds what is easiest for it
		if c, err := fouling.Check(in); err != nil || c.Arrangement.ToolHand != order[0] {
			t.Fatal(c.Arrangement, err)
		}
	})
	for _, why := range []string{"the first clears", "none clears", "another clears"} {
		if seen[why] == 0 {
			t.Errorf("nowhere %s: %v", why, seen)
		}
	}
}

// By hand: 20 to 40 over 60 grows by 9.46 deg, and the right-hand tool that trails 8 is 3.46 short of that and
// 2. With the tip 1 along the slide before 18.5 from the jaws the left-hand tool's holder, 16 wide on the
// chuck's side of it, comes to within 1.51, which is tight; the pointed one's, 8 wide there, to within 9.51.
func TestEasyBeforeTight(t *testing.T) {
	in := shed("20mm", "40mm", "60mm", "18.5mm")
	in.Lathe.Tools = append(in.Lathe.Tools, shop.Tool{Hand: string(fouling.Neutral), Trail: units.MustAngle("30")})
	for _, tc := range []struct {
		tools int
		want  fouling.Hand
		clear string
	}{{2, fouling.Left, "1.51"}, {3, fouling.Neutral, "9.51"}} {
		in := in
		in.Lathe.Tools = in.Lathe.Tools[:tc.tools]
		c := check(t, in)
		if got := c.Clearance.Fixed(units.MM, 2, units.Nearest); c.Arrangement.ToolHand != tc.want || got != tc.clear {
			t.Errorf("%d tools: %v, %s", tc.tools, c.Arrangement, got)
		}
		const why = " (not the right-hand tool listed first: its trailing edge would rub)"
		if got := c.Instead().Brief().In(units.MM); got != why || math.Abs(c.PassedOver.Fouls[0].Deg.Deg()-3.462) > 1e-3 {
			t.Error(got)
		}
	}
}
