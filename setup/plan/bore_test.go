package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// bored is a steel part with these lines under round.
func bored(t *testing.T, round string) *part.Part {
	t.Helper()
	return parse(t, "material: low-carbon-steel\nround:\n"+round)
}

// withoutTailstock is the shed's lathe without its tailstock.
func withoutTailstock(t *testing.T) *shop.Shop {
	t.Helper()
	s := *loadShop(t, nil)
	lathe := *s.Lathe
	lathe.Tailstock = nil
	s.Lathe = &lathe
	return &s
}

// spots returns the ids of the operations that spot.
func spots(r Result) []string {
	list := []string{}
	for _, o := range r.Operations {
		if o.Kind == op.Spot {
			list = append(list, o.ID)
		}
	}
	return list
}

// A centre drill is only for metal that is there. In a tube of 20 nothing is spotted
// for a bore of 24; a counterbore follows the narrow hole that is drilled before it,
// from its own end and from the other.
func TestSpotsMetal(t *testing.T) {
	for name, tc := range map[string]struct {
		round string
		want  []string
	}{
		"a tube": {
			"  stock: {tube: [38, 20]}\n  profile: [[0, 36], [40, 36]]\n  bores: [{from: left, dia: 24, through: true}]\n", nil,
		},
		"a solid bar": {
			"  profile: [[0, 36], [40, 36]]\n  bores: [{from: left, dia: 12, through: true}]\n", []string{"bore-1-spot"},
		},
		"counterbores at both ends": {
			"  profile: [[0, 30], [50, 30]]\n  bores:\n    - {from: left, dia: 16, depth: 20}\n" +
				"    - {from: right, dia: 12, depth: 20}\n    - {from: left, dia: 6, through: true}\n",
			[]string{"bore-3-spot"},
		},
		"two that do not meet": {
			"  profile: [[0, 30], [50, 30]]\n  bores: [{from: left, dia: 12, depth: 10}, {from: right, dia: 6, depth: 10}]\n",
			[]string{"bore-1-spot", "bore-2-spot"},
		},
	} {
		r := make1(t, bored(t, tc.round), loadShop(t, nil))
		if len(r.Refused) > 0 {
			t.Errorf("%s: refused, %v", name, codes(r))
		}
		got := spots(r)
		slices.Sort(got)
		if !slices.Equal(got, tc.want) {
			t.Errorf("%s: spotted %v, by hand %v", name, got, tc.want)
		}
	}
}

// The tube's own bore is left as it was bought.
func TestTubeAsBought(t *testing.T) {
	p := bored(t, "  stock: {tube: [38, 20]}\n  profile: [[0, 36], [40, 36]]\n"+
		"  bores: [{from: left, dia: 20, through: true}]\n")
	for name, s := range map[string]*shop.Shop{"with a tailstock": loadShop(t, nil), "without": withoutTailstock(t)} {
		r := make1(t, p, s)
		if len(r.Refused) > 0 || slices.ContainsFunc(ids(r), func(id string) bool { return strings.HasPrefix(id, "bore") }) {
			t.Errorf("%s: %v, refused %v", name, ids(r), codes(r))
		}
		for _, f := range r.Sheet().Facts {
			const says = "diameter, a tube with 20 mm through it"
			if got := f.Remark.In(units.MM); f.Label == "bar" && got != says {
				t.Errorf("%s: the bar is of %q, and it is %q", name, got, says)
			}
		}
		if got := r.Blank.Because.In(units.MM); !strings.HasPrefix(got, "the tube on hand (stock); ") {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// The bar goes into the hole as it was drilled. The shed's largest drill of 25.4 makes
// 25.53, and 0.8 of that is 20.424. Where the drawer ends at 13 the hole is 13.13, of
// which a bar may fill 10.504: 12 does not go in, 8 does where it reaches; one of 12
// wants a hole of 12/0.8 = 15.
func TestBarEntersTheDrilledHole(t *testing.T) {
	for _, tc := range []struct{ bars, depth, tool, no string }{
		{"[{diameter: 8, reach: 60}, {diameter: 12, reach: 60}]", "60", "boring bar 8 mm", ""},
		{"[{diameter: 8, reach: 40}, {diameter: 10.5, reach: 60}]", "60", "boring bar 10.5 mm", ""},
		{
			"[{diameter: 8, reach: 40}, {diameter: 12, reach: 60}]", "60", "boring bar",
			"a drill of 15 mm or more first (drills), a boring bar of at most 10.504 mm that reaches 60 mm (boring_bars), " +
				"or a reamer of 25 mm",
		},
		{
			"[{diameter: 8, reach: 40}, {diameter: 22, reach: 60}]", "60", "boring bar",
			"a boring bar of at most 10.504 mm that reaches 60 mm (boring_bars), or a reamer of 25 mm",
		},
	} {
		s := loadShop(t, map[string]string{
			"[{diameter: 8, reach: 50}]": tc.bars, "[metric-0.5, number, letter, fraction-64, 6.8mm, 3.2mm]": "[metric-0.1]",
		})
		r := make1(t, bored(t, "  profile: [[0, 40], [70, 40]]\n  bores: [{from: left, dia: 25, depth: "+tc.depth+"}]\n"), s)
		o := op1(t, r, "bore-1-bore")
		no := ""
		for _, c := range o.Checks {
			if !c.OK && c.Code == problem.NotReachable {
				no = c.Remedy.In(units.MM)
			}
		}
		if o.Tool.Name.In(units.MM) != tc.tool || no != tc.no || (len(r.Refused) > 0) != (tc.no != "") {
			t.Errorf("%s: %s, %q, refused %v\nby hand %s, %q", tc.bars, o.Tool.Name, no, codes(r), tc.tool, tc.no)
		}
	}
}

// Without a tailstock nothing is drilled or tapped on the lathe's axis: each bore is
// refused with its key. A tube is bored with the bar that goes into it.
func TestNoTailstock(t *testing.T) {
	s := withoutTailstock(t)
	r := make1(t, bored(t, "  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 8.5, through: true}]\n"+
		"  threads: [{from: left, spec: M10, depth: 15, inside: true}]\n"), s)
	want := []string{"not-available bore-1", "not-available thread-1"}
	if got := codes(r); !slices.Equal(got, want) {
		t.Errorf("refused %v, by hand %v", got, want)
	}
	for _, o := range r.Operations {
		if slices.Contains([]op.Kind{op.Spot, op.Drill, op.Ream, op.Tap, op.Countersink, op.Centre}, o.Kind) {
			t.Errorf("step %d, %s, wants a tailstock", o.N, o.ID)
		}
	}
	tube := "  stock: {tube: [38, 23]}\n  profile: [[0, 36], [40, 36]]\n" +
		"  bores: [{from: left, dia: 23.1, through: true, tol: 0.02}]\n"
	r = make1(t, bored(t, tube), s)
	if len(r.Refused) > 0 || op1(t, r, "bore-1-bore").Tool.Name.In(units.MM) != "boring bar 8 mm" {
		t.Errorf("a tube: refused %v", codes(r))
	}
}

// A drill of 8 mm is fluted for 75 and one of the extra long series for 165, of 3 for
// 33 and 100. An 8 mm hole through 60 goes in from one end: 60 + 1 + 0.3004 x 8 = 63.4;
// through 120, 123.4 from one end, from both: 60 + 2.4 and 61 + 2.4. Blind and 100 deep
// it wants a long drill, 102.4; of 3 mm, 100.9, there is none.
func TestDrillLength(t *testing.T) {
	for _, tc := range []struct {
		bore, tools string
		no          bool
	}{
		{"dia: 8.2, depth: 60", "8.2 mm drill", false},
		{"dia: 8.2, depth: 100", "8.2 mm drill, a long one", false},
		{"dia: 3, depth: 100", "3 mm drill", true},
		{"dia: 8.2, through: true", "8.2 mm drill, 8.2 mm drill", false},
	} {
		s := loadShop(t, map[string]string{"[metric-0.5, number, letter, fraction-64, 6.8mm, 3.2mm]": "[metric-0.1]"})
		r := make1(t, bored(t, "  profile: [[0, 30], [120, 30]]\n  bores: [{from: left, "+tc.bore+"}]\n"), s)
		var tools []say.Text
		no := false
		for _, o := range r.Operations {
			if o.Kind != op.Drill {
				continue
			}
			tools = append(tools, o.Tool.Name)
			for _, c := range o.Checks {
				no = no || !c.OK && c.Code == problem.NotReachable
			}
		}
		if got := say.Join(tools, ", ").In(units.MM); got != tc.tools || no != tc.no || (len(r.Refused) > 0) != tc.no {
			t.Errorf("%s: %s, refused %v; by hand %s, %v", tc.bore, got, codes(r), tc.tools, tc.no)
		}
	}
}

// Drilled from both ends, each in the grip in which it stands out: the first to the
// middle, 60, the other to it and the breakthrough, 61.
func TestFromBothEnds(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 30], [120, 30]]\n  bores: [{from: left, dia: 8.5, through: true}]\n"),
		loadShop(t, nil))
	for id, want := range map[string]work.Bore{
		"bore-1-drill":       {From: part.Left, Depth: 60 * work.MM},
		"bore-1-right-drill": {From: part.Right, Depth: 61 * work.MM},
	} {
		o := op1(t, r, id)
		got := o.Removes[0].(work.Bore)
		if got.From != want.From || got.Depth != want.Depth || got.Through || o.op.Setup.Out != want.From {
			t.Errorf("%s: %+v with the %s end out", id, got, o.op.Setup.Out)
		}
	}
	if made := op1(t, r, "bore-1-right-drill").Makes; !slices.Equal(made, []string{"bore-1"}) {
		t.Errorf("the second half makes %v", made)
	}
}

// Through a bore of 8.5 threads are tapped in the grip in which their end stands out.
func TestThreadsAtBothEnds(t *testing.T) {
	for _, length := range []string{"50", "120"} { // drilled from one end, and from both
		r := make1(t, bored(t, "  profile: [[0, 20], ["+length+", 20]]\n  bores: [{from: left, dia: 8.5, through: true}]\n"+
			"  threads:\n    - {from: left, spec: M10, depth: 15, inside: true}\n"+
			"    - {from: right, spec: M10, depth: 15, inside: true}\n"), loadShop(t, nil))
		if len(r.Refused) > 0 {
			t.Errorf("%s long: refused, %v", length, r.Fails())
		}
		for id, out := range map[string]part.End{
			"bore-1-countersink": part.Left, "bore-1-tap": part.Left,
			"bore-1-right-countersink": part.Right, "bore-1-right-tap": part.Right,
		} {
			if got := op1(t, r, id).op.Setup.Out; got != out {
				t.Errorf("%s long: %s with the %s end out", length, id, got)
			}
		}
	}
}

// A drill that opens a hole cuts the ring: 15/16 in, 23.8125, at 0.381 mm/rev and 200
// rpm in a tube of 20 cuts (23.8125^2 - 20^2)/23.8125^2 = 0.2946 of what it would cut
// in the solid. The shed's motor drives 0.0769 there, 0.261 in the tube.
func TestDrillsTheRing(t *testing.T) {
	feed := func(round string) float64 {
		o := op1(t, make1(t, bored(t, round), loadShop(t, nil)), "bore-1-drill")
		for _, s := range o.Settings {
			if f, ok := s.Value.Value.(units.Feed); ok && s.Name == "feed" {
				return f.MM()
			}
		}
		t.Fatal("no feed")
		return 0
	}
	part24 := "  profile: [[0, 36], [40, 36]]\n  bores: [{from: left, dia: 24, through: true}]\n"
	j := jobOf(t, bored(t, part24), loadShop(t, nil))
	task := j.hold(j.ways()[0])
	in := cutting(feeds.Drill, units.MustLength("15/16in"), units.Millimetres(40))
	r, err := feeds.Choose(task.asked(&op.Op{Setup: op.Setup{Machine: op.Lathe}}, in))
	if err != nil {
		t.Fatal(err)
	}
	solid, ring := r.Feed.MM(), feed("  stock: {tube: [38, 20]}\n"+part24)
	if part := solid / ring; part < 0.29 || part > 0.30 {
		t.Errorf("%.4f mm/rev in the solid and %.4f in the tube: %.4f, by hand 0.2946", solid, ring, part)
	}
}

// The point of the 25/32 in drill that a bore of 20 is drilled with is (19.844 - 4)/2/
// tan 59 = 4.760 deep down to the 4 mm hole behind it, so of a floor of 5 it leaves 0.240,
// less than an edge is broken by, and of 5.1 it leaves 0.340; 1.5 is left at 60 - 4.760 -
// 1.5 = 53.740, so 53.5 mends it. It is the wide bore that is told.
func TestPointThroughTheFloor(t *testing.T) {
	for _, tc := range []struct {
		depth string
		want  []string
	}{
		{"55", []string{"wall-too-thin bore-1"}},
		{"54.95", []string{"wall-too-thin bore-1"}},
		{"54.9", []string{}},
		{"53.73", []string{}},
	} {
		r := make1(t, bored(t, "  profile: [[0, 25], [60, 25]]\n  bores:\n    - {from: left, dia: 20, depth: "+tc.depth+
			"}\n    - {from: right, dia: 4, through: true}\n"), loadShop(t, nil))
		if got := codes(r); !slices.Equal(got, tc.want) {
			t.Errorf("%s deep: refused %v, by hand %v", tc.depth, got, tc.want)
		}
		for _, f := range r.Refused {
			far := map[string]string{"55": "53.5", "54.95": "53"}[tc.depth] // to the half mm, from 1.5 less on
			by := "the bore of 20 mm " + far + " mm deep in place of " + tc.depth + " mm"
			if !slices.ContainsFunc(f.Remedies, func(m Remedy) bool { return m.Say.In(units.MM) == by }) {
				t.Errorf("%s deep: %v", tc.depth, told(r))
			}
		}
	}
}

// Behind a counterbore of 18, 6 deep, the drawing has metal for M8 from 6 + 10/2/tan 59 =
// 9.004 deep on, at z 20.996. The drill of 45/64 in makes 17.859 + 0.13 = 17.989 and its
// point leaves it sooner, from 9.001. The mouth of 8.4 begins 6 + 9.589/2/tan 59 = 8.881
// deep and goes (8.4 - 6.8)/2 further. What is spotted is the face.
func TestThreadBehindACounterbore(t *testing.T) {
	p := brass(t, "  profile: [[0, 25], [30, 25]]\n  bores: [{from: right, dia: 18, depth: 6}, "+
		"{from: right, dia: 6.8, depth: 20}]\n  threads: [{from: right, spec: M8, depth: 14, inside: true}]\n")
	r := make1(t, p, loadShop(t, nil))
	if len(r.Refused) > 0 {
		t.Fatal(r.Fails())
	}
	round := func(l op.Len) string { return say.Of(l.Length()).In(units.MM) }
	mouth := op1(t, r, "bore-2-countersink").Removes[0].(work.Bore)
	if round(mouth.Start) != "8.881 mm" || round(mouth.Depth) != "9.681 mm" {
		t.Errorf("the mouth is %s to %s deep, by hand 8.881 to 9.681", round(mouth.Start), round(mouth.Depth))
	}
	thread := op1(t, r, "bore-2-tap").Removes[0].(work.Thread)
	if round(thread.From) != "16 mm" || round(thread.To) != "20.996 mm" {
		t.Errorf("threaded from z %s to %s, by hand 16 to 20.996", round(thread.From), round(thread.To))
	}
	if got := spots(r); !slices.Equal(got, []string{"bore-2-spot"}) {
		t.Errorf("spotted %v", got)
	}
}

// The root of M12, of pitch 1.75, is 12 - 1.226869 x 1.75 = 9.853. A neck that is drawn
// as small and at least a pitch wide is its relief: no other is cut, the tool runs out over
// the neck, at most 3 x 1.75 = 5.25 of it, and the neck is turned before the thread. One a
// little larger is none, and the tool is drawn out over it.
func TestDrawnRelief(t *testing.T) {
	for _, tc := range []struct {
		neck, wide string
		runOut     op.Len
		refused    []string
	}{
		{"9", "4", 4 * work.MM, nil},
		{"9.85", "1.75", 1750 * work.MM / 1000, nil},
		{"9", "8", 5250 * work.MM / 1000, nil},
		{"9", "1.7", 0, []string{"shoulder thread-1"}},
		{"9.9", "4", 0, nil},
	} {
		to := say.Of(units.MustLength(tc.wide + "mm").Plus(units.MustLength("12mm")).Decimal()).In(units.MM)
		profile := "[[0, 12], [12, 12], [12, " + tc.neck + "], [" + to + ", " + tc.neck + "], [" + to + ", 20], [40, 20]]"
		for end, drawn := range map[part.End]string{part.Left: profile, part.Right: mirrored(t, profile, "40")} {
			p := bored(t, "  profile: "+drawn+"\n  threads: [{from: "+string(end)+", spec: M12, length: 12}]\n")
			r := make1(t, p, loadShop(t, nil))
			if got := codes(r); len(got) != len(tc.refused) || len(got) > 0 && got[0] != tc.refused[0] {
				t.Errorf("a neck of %s, %s wide, %s: refused %v", tc.neck, tc.wide, end, r.Fails())
			}
			if len(tc.refused) > 0 {
				continue
			}
			thread := op1(t, r, "thread-1")
			if got := thread.Removes[0].(work.Thread).RunOut; got != tc.runOut {
				t.Errorf("a neck of %s, %s wide, %s: it runs out over %v", tc.neck, tc.wide, end, got.MM())
			}
			if slices.Contains(op1(t, r, "chamfer-1").Allowed, op.ThreadRelief) {
				t.Errorf("a neck of %s, %s wide, %s: a relief is cut", tc.neck, tc.wide, end)
			}
			neck := slices.IndexFunc(r.Operations, func(o Operation) bool { return slices.Contains(o.Makes, "outside-2") })
			if neck < 0 || neck >= thread.N-1 {
				t.Errorf("a neck of %s, %s wide, %s: turned in step %d, threaded in %d", tc.neck, tc.wide, end, neck+1, thread.N)
			}
		}
	}
}

// mirrored turns a profile end for end.
func mirrored(t *testing.T, profile, length string) string {
	t.Helper()
	p := bored(t, "  profile: "+profile+"\n").Round.Profile
	var list []say.Text
	for _, x := range slices.Backward(p) {
		z := units.MustLength(length + "mm").Minus(x.Z)
		list = append(list, say.Of("[", z.Decimal(), ", ", x.Dia.Decimal(), "]"))
	}
	return "[" + say.Join(list, ", ").In(units.MM) + "]"
}

// Behind M10, of pitch 1.5, a relief is 4.5 wide where there is more room; what is left of the
// stretch is foreseen. Of 4 and of 1.5 it takes all, up to the shoulder; of 4 that has limits of its
// own half, and of 2.5 the pitch that the tool wants. Of 1.4 there is none, and it is refused.
func TestReliefLeavesTheStretch(t *testing.T) {
	for _, tc := range []struct {
		room, wide, left string
		refused          bool
		more             string
	}{
		{"6", "4.5 mm", "z 16.5 mm to 18 mm", false, ""},
		{"4", "4 mm", "", false, ""},
		{"1.5", "1.5 mm", "", false, ""},
		{"4", "2 mm", "z 14 mm to 16 mm", false, "  limits: [{at: 14, tol: 0.3}]\n"},
		{"2.5", "1.5 mm", "z 13.5 mm to 14.5 mm", false, "  limits: [{at: 13, tol: 0.3}]\n"},
		{"1.4", "0 mm", "z 12 mm to 13.4 mm", true, ""},
	} {
		to := units.MustLength(tc.room + "mm").Plus(units.MustLength("12mm"))
		z := say.Of(to.Decimal()).In(units.MM)
		r := make1(t, bored(t, "  profile: [[0, 10], ["+z+", 10], ["+z+", 20], [50, 20]]\n"+
			"  threads: [{from: left, spec: M10, length: 12}]\n"+tc.more), loadShop(t, nil))
		var wide units.Length
		for _, x := range op1(t, r, "chamfer-1").Removes {
			if s := x.Span(work.State{}); s.From == 12*work.MM {
				wide = s.Length().Length()
			}
		}
		left := ""
		for _, p := range r.Predicted {
			if p.Feature == "outside-2" {
				left = say.Of(op.Span{From: p.From, To: p.To}).In(units.MM)
				if words := p.Words.In(units.MM); !strings.HasSuffix(words, left) {
					t.Errorf("room of %s: %s, of which %s is left", tc.room, words, left)
				}
			}
		}
		if got := say.Of(wide).In(units.MM); got != tc.wide || left != tc.left || (len(r.Refused) > 0) != tc.refused {
			t.Errorf("room of %s: a relief %s wide leaves %s, refused %v; by hand %s, %s", tc.room, got, left, codes(r),
				tc.wide, tc.left)
		}
	}
}

// The point of 25/32 in, 9.922 / tan 59 = 5.96, comes through a floor of 5: a drill is taken
// whose point leaves 1.5 of it, 3.5·tan 59·2 = 11.65 across at the most, and the bar makes the
// floor flat.
func TestFlatFloor(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 25], [45, 25]]\n  bores: [{from: left, dia: 20, depth: 40}]\n"),
		loadShop(t, nil))
	if got := codes(r); len(got) > 0 {
		t.Fatal(got)
	}
	drill, bar := op1(t, r, "bore-1-drill"), op1(t, r, "bore-1-bore")
	if d := drill.Removes[0].(work.Bore).Dia.MM(); d < 11 || 11.8 < d {
		t.Errorf("drilled %v first", d)
	}
	if b := bar.Removes[0].(work.Bore); b.Depth != 40*work.MM || b.Point != 180e6 {
		t.Errorf("bored %+v", b)
	}
}

// A hole of 6 H7, 6 to 6.012, across a bar of 25: no drill keeps that, the reamer does after
// a drill of 0.2 less. One of 10 is over a third of the bar, and would lie in the V-blocks
// again: it is refused.
func TestReamedAcross(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 24], [60, 24]]\n  holes: [{at: 20, dia: 6, fit: H7}]\n"), loadShop(t, nil))
	if got := codes(r); len(got) > 0 {
		t.Fatal(got)
	}
	drill, ream := op1(t, r, "hole-1-drill"), op1(t, r, "hole-1-ream")
	if d := drill.Removes[0].(work.Cross).Dia; d >= 6*work.MM || d < 5700*work.MM/1000 {
		t.Errorf("drilled %v first", d.MM())
	}
	c := ream.Removes[0].(work.Cross)
	if c.Dia != 6*work.MM || c.Depth != nil || !slices.Equal(ream.Makes, []string{"hole-1"}) {
		t.Errorf("reamed %+v, makes %v", c, ream.Makes)
	}
	r = make1(t, bored(t, "  profile: [[0, 24], [60, 24]]\n  holes: [{at: 20, dia: 10, fit: H7}]\n"), loadShop(t, nil))
	if got := codes(r); len(got) == 0 || !strings.HasPrefix(got[0], "out-of-limits") {
		t.Errorf("10 H7: %v", got)
	}
}

// A bottoming tap's lead of two pitches goes on beyond the full thread: 2 x 1.25 of M8.
func TestWhatALeadLeaves(t *testing.T) {
	r := make1(t, bored(t, "  profile: [[0, 20], [40, 20]]\n  bores: [{from: left, dia: 6.8, depth: 14.5}]\n"+
		"  threads: [{from: left, spec: M8, depth: 12, inside: true}]\n"), loadShop(t, nil))
	if got := step1(t, r, "bore-1-tap").op.Removes[0].(work.Thread).RunOut; got != 2500*work.MM/1000 {
		t.Errorf("the tap runs out over %v", got.MM())
	}
}

// A thread M12, 1.75 of pitch, is cut with a single point 9 deep in a bore of 12, where no tap is on
// hand: the point is drawn out over one pitch of the 3 behind it.
func TestASinglePointRunsOut(t *testing.T) {
	r := make1(t, brass(t, "  profile: [[0, 26], [6, 26], [6, 36], [31, 32]]\n"+
		"  bores: [{from: left, dia: 10.2, depth: 12}]\n"+
		"  threads: [{from: left, spec: M12, depth: 9, inside: true}]\n"), loadShop(t, nil))
	got := card(op1(t, r, "bore-1-thread"))
	for _, want := range []string{"stop in a relief or pull out at the mark", `"run_out_mm":1.75,`} {
		if !strings.Contains(got, want) {
			t.Errorf("want %q in\n%s", want, got)
		}
	}
}

// A sleeve of 60 bored 40 through, half from each end with a bar that reaches 50, out of a hole of 25.53:
// (40 - 25.53)/2 = 7.235 to go, 14 passes of 0.5 and one of 0.235 by the half millimetres, and a last one:
// 16. The line at 7.24 is 40.01, so it is bored to the one at 7.22, 39.97. Turned round in the chuck
// it is trued first; a chuck does not find the axis.
func TestABoreFromBothEnds(t *testing.T) {
	r := make1(t, parse(t, "material: low-carbon-steel\nround:\n  profile: [[0, 52], [60, 52]]\n"+
		"  bores: [{from: left, dia: 40, through: true}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	const trued = "true it = 0.02 mm | by indicator, before the first cut, on the half that is bored or on what was " +
		"turned with it"
	first, second := card(op1(t, r, "bore-1-bore")), card(op1(t, r, "bore-1-right-bore"))
	for _, got := range []string{first, second} {
		for _, want := range []string{
			"depth a pass = 0.5 mm | a side at the most, in 16 passes: the last takes 0.2 mm or less\n",
			"out to 40 mm from the hole of 25.53 mm: 7.235 mm -> 7.22 mm",
		} {
			if !strings.Contains(got, want) {
				t.Errorf("want %q in\n%s", want, got)
			}
		}
	}
	if strings.Contains(first, "true it") || !strings.Contains(second, trued) {
		t.Errorf("it is trued in the wrong one\n%s\n%s", first, second)
	}
}

// A sleeve of 40 bored 36 from one end, 35.97 by the dial, has a wall of 2.015 there, less than a tenth
// of 40: the jaws that hold it by that half bruise nothing, but press it out of round. With a bore of 32
// it is 4, a tenth.
func TestJawsOnAThinWall(t *testing.T) {
	for bore, want := range map[string]bool{"36": true, "32": false} {
		r := make1(t, parse(t, "material: aluminium-6082\nround:\n  profile: [[0, 40], [60, 40]]\n"+
			"  bores: [{from: left, dia: "+bore+", through: true}]\n"), loadShop(t, nil))
		said := slices.ContainsFunc(r.Warnings, func(w sheet.Warning) bool {
			text := say.Text(w.Text).In(units.MM)
			return w.Code == "thin-grip" && strings.Contains(text, "on a wall of 2.015 mm: a plug that fits")
		})
		if said != want || len(r.Fails()) > 0 {
			t.Errorf("%s: %v %v", bore, r.Fails(), r.Warnings)
		}
	}
}
