package certify

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
	foul "setover/tapers/fouling"
)

// A right-hand tool that trails 8 deg, of which 2 are to clear: from a neck of 20
// beside a head of 30 on the tailstock's side it is 90 - 6 = 84 deg short. Down a
// cone that grows 1 in 10 on the radius, 5.71 deg, toward the tailstock it
// clears by 0.29; 1 in 9 is 6.34.
func TestToolSide(t *testing.T) {
	r := setUp(t, rod, shed)
	cut := func(hand op.Hand, removes ...work.Removal) op.Op {
		return op.Op{
			Kind: op.Turn, Setup: chucked(op.Chuck, 0, 28), Tool: op.Tool{Name: "tool", Hand: hand}, Removes: removes,
		}
	}
	cone := func(large work.Len) work.Removal {
		return work.Outside{Profile: []work.Point{{Z: 100 * mm, Dia: 20 * mm}, {Z: 145 * mm, Dia: large}}}
	}
	bar := r.bar(0, 300, 30)
	toward := turned(100, 300, 20, work.Finished)
	neck := turned(100, 130, 20, work.Finished)
	// roughed to 20.4 all along; 0.4 of it is to go, and 0.1 is no wall
	roughed := bar.After(turned(100, 300, 20, work.Rough)).Measured(110*mm, 20400000)
	unsaid := setUp(t, rod, without(t, shed, "  tool_post: {size: 65, holder_width: 16, overhang: 25}\n"))
	// 20 over z 0 to 140 and a head of 30 from there: a cut that ends at z 120 has it 20 from
	// the tip, beyond the holder's 16; it rises 5, less 0.05, and the tip stands out 4
	short := setUp(t, rod, strings.Replace(shed, "overhang: 25}", "overhang: 4}", 1))
	milled := with(cut(op.NoHand, neck), func(o *op.Op) { o.Setup.Machine = op.MillMachine })
	beside := bar.After(turned(130, 300, 20, work.Finished))
	end := r.bar(0, 300, 30).After(turned(0, 120, 21, work.Rough), turned(120, 140, 20, work.Finished))
	waist := r.bar(0, 300, 30).After(turned(100, 120, 21, work.Rough), turned(120, 140, 20, work.Finished))
	wide := setUp(t, rod, strings.Replace(shed, "most: 25", "most: 28", 1))
	die := cut(op.Form, work.Thread{From: 260 * mm, To: 290 * mm, Spec: "M20", Major: 20 * mm, RunOut: 5 * mm})
	die.OnEnd = true
	check(t, problem.ToolSide, []row{
		{"up to a shoulder", r.of(cut(op.Right, toward), bar), "ok"},
		{
			"behind a head", r.of(cut(op.Right, neck), bar),
			"84 deg is missing from the angle of the tool's edge at z 100 mm to 130 mm | " + onItsTailstock,
		},
		{
			"with a left-hand tool", r.of(cut(op.Left, toward), bar),
			"84 deg is missing from the angle of the tool's edge at z 100 mm to 300 mm | " + onItsHeadstock,
		},
		{"with a form tool", r.of(cut(op.Form, neck), bar), "ok"},
		{"straight in 12.5 deep", r.of(cut(op.Form, neck), r.bar(0, 300, 45)), "ok"},
		{
			"straight in 13 deep", r.of(cut(op.Form, neck), r.bar(0, 300, 46)),
			"13 mm deep, straight in at z 100 mm to 130 mm | 12.5 mm at the most",
		},
		{"a shop that parts 28", wide.of(cut(op.Form, neck), r.bar(0, 300, 46)), "ok"},
		{
			"finishing between walls 13 high",
			r.of(cut(op.Form, neck), r.bar(0, 300, 46).After(turned(100, 130, 21, work.Rough))),
			"13 mm deep, straight in at z 100 mm to 130 mm | 12.5 mm at the most",
		},
		{"8 deep, 1 wide", r.of(cut(op.Form, turned(100, 101, 14, work.Finished)), bar), "ok"},
		{
			"9 deep, 1 wide", r.of(cut(op.Form, turned(100, 101, 12, work.Finished)), bar),
			"9 mm deep, straight in at z 100 mm to 101 mm | 8 mm at the most",
		},
		{"a die", r.of(die, bar.After(turned(250, 300, 20, work.Finished))), "nothing"},
		{
			"a die over a stub", r.of(die, bar.After(turned(250, 295, 20, work.Finished))),
			"30 mm stands before the thread | 20 mm is what a die passes over",
		},
		{"filed", r.of(cut(op.File, neck), bar), "ok"},
		{"no hand", r.of(cut(op.NoHand, neck), bar), "no hand is said | the hand of the tool is wanted"},
		{"up a slow cone", r.of(cut(op.Right, cone(29*mm)), bar.After(turned(145, 300, 29, work.Finished))), "ok"},
		{
			"up a faster one", r.of(cut(op.Right, cone(30*mm)), bar),
			"0.3 deg is missing from the angle of the tool's edge at z 100 mm to 145 mm | " + onItsTailstock,
		},
		{"beside rough work", r.of(cut(op.Right, turned(100, 130, 20, work.Finished)), roughed), "ok"},
		{"a step of 0.1", r.of(cut(op.Right, neck), beside.Measured(200*mm, 20100000)), "ok"},
		{
			"a step of 0.2", r.of(cut(op.Right, neck), beside.Measured(200*mm, 20200000)),
			"84 deg is missing from the angle of the tool's edge at z 100 mm to 130 mm | " + onItsTailstock,
		},
		{"on the mill", r.of(milled, bar), "nothing"},
		{
			"hung on the other side of the post", short.of(cut(op.Right, turned(100, 120, 20, work.Finished)), end), "ok",
		},
		{
			"under the post", short.of(cut(op.Right, turned(100, 120, 20, work.Finished)), waist),
			"0.95 mm of the work stands in the post's way at z 100 mm to 120 mm | it does not pass on the tailstock's side",
		},
	})
	if got := fmt.Sprint(unsaid.of(cut(op.Right, toward), bar).Check().NotChecked); got != "[lathe.tool_post]" {
		t.Errorf("not checked: %s", got)
	}
	for _, c := range r.of(cut(op.Right, neck), bar).Check().Checks {
		if c.Code == problem.ToolSide && c.Remedy != "a grooving tool, straight in" {
			t.Errorf("between shoulders: %s", c.Remedy)
		}
	}
}

// Where the work stands that is in a tool's way.
const (
	onItsHeadstock = "the work on its headstock's side stands in its way"
	onItsTailstock = "the work on its tailstock's side stands in its way"
)

// What would get at a cut: an edge that is 0.3 deg short of 8 and stands 2 clear trails by
// more, 9 in whole degrees; a post that 0.95 mm stands under is further from its tool by
// as much; up a shoulder only a tool that goes straight in cuts.
func TestToolSideRemedy(t *testing.T) {
	for deg, want := range map[float64]string{
		8.3: "a tool whose edge trails by 9 deg (lathe: tools)", 88.2: "a tool whose edge trails by 89 deg (lathe: tools)",
		90: "a grooving tool, straight in", 92: "a grooving tool, straight in",
	} {
		if got := trailing(deg).In(units.MM); got != want {
			t.Errorf("%v deg: %s, want %s", deg, got, want)
		}
	}
}

// cone is a rod with a taper from 30 to 20 over z 40 to 90, whose half angle is
// atan(5/50) = 5.71 deg.
const cone = `
format: 1
part: Cone
units: mm
material: mild-steel
round:
  profile: [[0, 30], [40, 30], [90, 20]]
`

// With the right end out the taper shrinks toward the tailstock, and a right-hand
// tool clears the jaws, 12 from it; with the left end out it grows there, and
// the edge clears by 8 - 5.71 - 2 = 0.29 deg. A head of 40 before it is in the
// holder's way; so is a bar of 34 behind a left-hand tool at the large end, by
// (34 - 0.1 - 30)/2 = 1.95 less what the overrun clears.
func TestFouling(t *testing.T) {
	r := setUp(t, cone, shed)
	taper := work.Outside{Profile: []work.Point{{Z: 40 * mm, Dia: 30 * mm}, {Z: 90 * mm, Dia: 20 * mm}}}
	cut := func(from, to work.Len, out part.End) op.Op {
		o := op.Op{
			Kind: op.Taper, Tool: op.Tool{Name: "tool", Hand: op.Right}, Removes: []work.Removal{taper},
			Setup: op.Setup{Machine: op.Lathe, Device: op.Chuck, Held: span(from, to), Out: out},
		}
		o.Stands.Compound = new(units.Degrees(5.71))
		o.Stands.Arrangement = &foul.Arrangement{
			ToolHand: foul.Right, PostSide: foul.HeadstockSide, PostTurn: foul.Square, Handle: foul.Normal,
		}
		return o
	}
	bar := r.bar(0, 90, 31)
	headed := r.bar(0, 110, 40).After(turned(0, 100, 31, work.Rough))
	left := with(cut(0, 10, part.Right), func(o *op.Op) { o.Stands.Arrangement.ToolHand = foul.Left })
	straight := with(cut(0, 28, part.Right), func(o *op.Op) { o.Stands.Compound = nil })
	unsaid := setUp(t, cone, without(t, shed, "  tool_post: {size: 65, holder_width: 16, overhang: 25}\n"))
	check(t, problem.Fouling, []row{
		{"clear of the jaws", r.of(cut(0, 28, part.Right), bar), "ok"},
		{
			"a head before it", r.of(cut(0, 28, part.Right), headed),
			judged(r.of(cut(0, 28, part.Right), headed).Check(), problem.Fouling),
		},
		{"nothing is swung", r.of(straight, bar), "nothing"},
		{
			"a left-hand tool before a wall", r.of(left, r.bar(-18, 90, 34)),
			"-1.94 mm between holder and work | 0 mm at the least",
		},
		{"a left-hand tool", r.of(left, r.bar(-18, 90, 31).After(turned(0, 40, 30, work.Finished))), "ok"},
	})
	if got := judged(r.of(cut(0, 28, part.Right), headed).Check(), problem.Fouling); !strings.Contains(got, "work") {
		t.Errorf("a head before it: %s", got)
	}
	if got := fmt.Sprint(unsaid.of(cut(0, 28, part.Right), bar).Check().NotChecked); got != "[lathe.tool_post]" {
		t.Errorf("not checked: %s", got)
	}
}

// What a plan asks of its operations, the rows that cost most among them.
func BenchmarkCheck(b *testing.B) {
	r, n := setUp(b, shaft, shed), setUp(b, nut, shed)
	finish := op.Cut{Depth: 0.2, Feed: 0.1, Finish: true}
	bar := r.bar(0, 101, 32)
	rough := bar.After(turned(0, 100, 30, work.Rough), turned(60, 100, 20, work.Rough))
	centred := rough.After(work.Centre{End: part.Right, Dia: 4 * mm, Pilot: 2 * mm})
	bored := rough.After(work.Bore{From: part.Right, Dia: 8 * mm, Depth: 60 * mm, Point: 118e6})
	turn := op.Op{
		Kind: op.Turn, Setup: chucked(op.Chuck, 2, 30), Push: finish, Tool: op.Tool{Hand: op.Right},
		Removes: []work.Removal{turned(60, 100, 20, work.Finished)}, Makes: []string{"outside-3"},
	}
	with := func(kind op.Kind, r work.Removal) op.Op {
		return op.Op{
			Kind: kind, Setup: chucked(op.Chuck, 2, 30), Push: op.Cut{Side: true}, Removes: []work.Removal{r},
		}
	}
	short, held := turn, turn
	short.Setup.Held = span(25, 40)
	held.Setup.Support = op.AtCentre
	lying := op.Op{
		Kind: op.CrossDrill, Stands: op.Stands{Blocks: []op.Len{5 * mm, 25 * mm}},
		Setup: op.Setup{Machine: op.MillMachine, Device: op.VBlocks, Held: span(2, 30), Out: part.Right},
	}
	cases := map[string]Case{
		"turn":     r.of(turn, rough),
		"bored":    r.of(turn, bored),
		"refused":  r.of(short, bar),
		"centre":   r.of(held, centred),
		"face":     r.of(with(op.Face, work.EndCut{End: part.Right, Z: 100 * mm}), bar),
		"drill":    n.of(with(op.Drill, work.Bore{From: part.Right, Dia: 10 * mm, Depth: 60 * mm}), n.bar(0, 60, 31)),
		"v-blocks": r.of(lying, rough),
	}
	c := setUp(b, cone, shed)
	taper := work.Outside{Profile: []work.Point{{Z: 40 * mm, Dia: 30 * mm}, {Z: 90 * mm, Dia: 20 * mm}}}
	o := op.Op{
		Kind: op.Taper, Tool: op.Tool{Hand: op.Right}, Removes: []work.Removal{taper},
		Setup: chucked(op.Chuck, 0, 28), Push: finish,
	}
	o.Stands.Compound = new(units.Degrees(5.71))
	cases["taper"] = c.of(o, c.bar(0, 90, 31))
	cases["taper that fouls"] = c.of(o, c.bar(0, 110, 40).After(turned(0, 100, 31, work.Rough)))
	for name, x := range cases {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				x.Check()
			}
		})
	}
}

// A chamfer of 0.5 on an end of 24, 8 below the walls beside it: in a gap of 11 between a shoulder and the bar
// a chamfering tool goes in, 8·11 = 88 deep at the most; in one of 0.5 of its own it goes 4.
func TestChamferInAGap(t *testing.T) {
	r := setUp(t, rod, shed)
	o := op.Op{
		Kind: op.Chamfer, Setup: chucked(op.Chuck, 0, 20), Tool: op.Tool{Hand: op.Form},
		Removes: []work.Removal{work.Outside{
			Profile: []work.Point{{Z: 100 * mm, Dia: 23 * mm}, {Z: 100*mm + mm/2, Dia: 24 * mm}}, Stage: work.Finished,
		}},
	}
	gap := func(from, to work.Len) work.State {
		return r.bar(0, 140, 40).After(work.Turned(work.Span{From: from, To: to}, 24*mm, work.Finished))
	}
	check(t, problem.ToolSide, []row{
		{"a gap of 11", r.of(o, gap(97*mm, 108*mm)), "ok"},
		{
			"none but its own", r.of(o, gap(100*mm, 100*mm+mm/2)),
			"8.5 mm deep, straight in at z 100 mm to 100.5 mm | 4 mm at the most",
		},
	})
}

// The neck of 20 from z 100 to 130 of a bar of 30, plunged with a blade of 2 in 15 places side by side as an
// arc is: what is drawn there is 20, at the least 19.8, the blade reaches 14 and is 5 deep.
func TestPlungesOfAnArc(t *testing.T) {
	r, bar := setUp(t, rod, shed), setUp(t, rod, shed).bar(0, 300, 30)
	short := setUp(t, rod, strings.Replace(shed, "reach: 14", "reach: 4", 1))
	arc := func(spoil func(list []op.Plunge) []op.Plunge) op.Op {
		o := op.Op{
			Kind: op.Curve, Setup: chucked(op.Chuck, 0, 28), Tool: op.Tool{Name: "grooving tool", Hand: op.Form},
			Cuts:    op.Span{From: units.Millimetres(100), To: units.Millimetres(130)},
			Removes: []work.Removal{turned(100, 130, 20, work.Finished)},
		}
		for z := work.Len(100); z < 130; z += 2 {
			o.Plunges = append(o.Plunges, op.Plunge{Z: z * mm, Wide: 2 * mm, Dia: 20 * mm})
		}
		o.Plunges = spoil(o.Plunges)
		return o
	}
	as := func(list []op.Plunge) []op.Plunge { return list }
	check(t, problem.ToolSide, []row{
		{"side by side", r.of(arc(as), bar), "ok"},
		{
			"from the other end",
			r.of(arc(func(list []op.Plunge) []op.Plunge { slices.Reverse(list); return list }), bar), "ok",
		},
		{
			"one under what is drawn",
			r.of(arc(func(list []op.Plunge) []op.Plunge { list[3].Dia = 19 * mm; return list }), bar),
			"19 mm is plunged with the blade over z 106 mm to 108 mm | 19.8 mm is drawn there, at the least",
		},
		{
			"one left out", r.of(arc(func(list []op.Plunge) []op.Plunge { return slices.Delete(list, 3, 4) }), bar),
			"nothing is plunged from z 106 mm to 108 mm | each place is beside the one before",
		},
		{
			"the last left out", r.of(arc(func(list []op.Plunge) []op.Plunge { return list[:14] }), bar),
			"128 mm is plunged up to | 130 mm wanted",
		},
		{
			"a blade that reaches 4", short.of(arc(as), bar),
			"5 mm deep, straight in at z 100 mm to 130 mm | 4 mm at the most",
		},
	})
}
