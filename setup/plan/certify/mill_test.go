package certify

import (
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// Six flats from z 30 to 50, 16 apart, on a bar held in a dividing head at its left.
// Where the bar is 20 on both sides an end mill of 10 stops at the shoulders: it goes
// in between them, 20 apart, and stays 1 mm clear of the jaws. Where the bar is
// turned to 12 to the left it runs out by half of it, 5 mm. A neck of 3 mm between
// flats and shoulder is room, too: 20 + 3.
func TestMillRoom(t *testing.T) {
	r := setUp(t, shaft, shed)
	bar := r.bar(0, 100, 20)
	necked := bar.After(turned(0, 30, 12, work.Finished))
	grooved := bar.After(turned(27, 30, 12, work.Finished))
	mill := func(face work.Len, cutter string, change ...func(*op.Op)) op.Op {
		o := op.Op{
			Kind:   op.Facet,
			Setup:  op.Setup{Machine: op.MillMachine, Device: op.DividingHead, Held: span(0, face), Out: part.Right},
			Cutter: units.MustLength(cutter),
			Removes: []work.Removal{work.Flats{
				From: 30 * mm, To: 50 * mm, Sides: 6, AcrossFrom: 16 * mm, AcrossTo: 16 * mm,
			}},
		}
		for _, f := range change {
			f(&o)
		}
		return o
	}
	check(t, problem.ToolSide, []row{
		{"a shoulder, 1 from the jaws", r.of(mill(29, "10mm"), bar), "ok"},
		{
			"a shoulder against the jaws", r.of(mill(30, "10mm"), bar),
			"0 mm between the flats and the jaws, for an end mill of 10 mm | 1 mm wanted",
		},
		{"it runs out by half of it", r.of(mill(25, "10mm"), necked), "ok"},
		{
			"it runs out into the jaws", r.of(mill(26, "10mm"), necked),
			"4 mm between the flats and the jaws, for an end mill of 10 mm | 5 mm wanted",
		},
		{"a smaller one runs out", r.of(mill(26, "8mm"), necked), "ok"},
		{"it goes in between", r.of(mill(20, "20mm"), bar), "ok"},
		{
			"it does not", r.of(mill(20, "21mm"), bar),
			"20 mm between two shoulders, for the end mill | 21 mm wanted",
		},
		{"with the neck it does", r.of(mill(10, "21mm"), grooved), "ok"},
		{
			"not with 24", r.of(mill(10, "24mm"), grooved),
			"23 mm between two shoulders, for the end mill | 24 mm wanted",
		},
	})
}

// What is drilled or milled across work in jaws, their face at z 20, stands 25 out of them by the
// middle of it: a hole at 45, and a slot of 6 from 42 on, whose cutter's middle comes to 45. What lies
// in V-blocks has no jaws, and what holds the head's end out to the left is as far on that side.
func TestAcrossBesideJaws(t *testing.T) {
	r := setUp(t, rod, shed)
	bar := r.bar(0, 100, 20)
	cut := func(d op.Device, x work.Removal) op.Op {
		return op.Op{
			Kind: op.CrossDrill, Roll: new(units.Angle), Removes: []work.Removal{x},
			Setup: op.Setup{Machine: op.MillMachine, Device: d, Held: span(0, 20), Out: part.Right},
		}
	}
	left := cut(op.DividingHead, work.Cross{Z: 55 * mm, Dia: 4 * mm})
	left.Setup.Held, left.Setup.Out = span(80, 100), part.Left
	nearer := left
	nearer.Removes = []work.Removal{work.Cross{Z: 56 * mm, Dia: 4 * mm}}
	const says = "24 mm from the jaws to the middle of the cut, for what holds the drill | 25 mm wanted"
	check(t, problem.ToolSide, []row{
		{"a hole", r.of(cut(op.DividingHead, work.Cross{Z: 45 * mm, Dia: 4 * mm}), bar), "ok"},
		{"a hole, nearer", r.of(cut(op.DividingHead, work.Cross{Z: 44 * mm, Dia: 4 * mm}), bar), says},
		{"in a block", r.of(cut(op.ColletBlock, work.Cross{Z: 44 * mm, Dia: 4 * mm}), bar), says},
		{"in V-blocks", r.of(cut(op.VBlocks, work.Cross{Z: 44 * mm, Dia: 4 * mm}), bar), "nothing"},
		{"a slot", r.of(cut(op.DividingHead, work.Slot{From: 42 * mm, To: 60 * mm, Width: 6 * mm}), bar), "ok"},
		{"a slot, nearer", r.of(cut(op.DividingHead, work.Slot{From: 41 * mm, To: 60 * mm, Width: 6 * mm}), bar), says},
		{"the left end out", r.of(left, bar), "ok"},
		{"nearer, the left end out", r.of(nearer, bar), says},
	})
}

// What is filed in the lathe stands 10 clear of the jaws, at z 20; a cut by a tool as near as it may.
func TestFileRoom(t *testing.T) {
	r := setUp(t, rod, shed)
	filed := func(from work.Len, hand op.Hand) op.Op {
		return op.Op{
			Kind: op.Turn, Setup: chucked(op.Chuck, 0, 20), Tool: op.Tool{Hand: hand},
			Removes: []work.Removal{turned(from, 60, 19, work.Finished)},
		}
	}
	bar := r.bar(0, 100, 20).After(turned(60, 100, 19, work.Finished))
	check(t, problem.ToolSide, []row{
		{"10 from the jaws", r.of(filed(30, op.File), bar), "ok"},
		{"9 from them", r.of(filed(29, op.File), bar), "9 mm of room for a file to the jaws | 10 mm wanted"},
		{"turned 9 from them", r.of(filed(29, op.Right), bar), "ok"},
	})
}

// A belt of 50, or as wide as the shop says, and a file of 6 go in between two shoulders;
// at an end that is open they run out.
func TestBeltBetweenShoulders(t *testing.T) {
	r, narrow := setUp(t, shaft, shed), setUp(t, shaft, shed+"belt_grinder: {wheel: 200, rpm: 2850, width: 25}\n")
	flats := func(machine shop.Machine, from, to work.Len) op.Op {
		o := op.Op{
			Kind: op.Facet, Setup: op.Setup{Machine: machine, Device: op.Cradle, Held: span(-20, 0), Out: part.Right},
			Removes: []work.Removal{work.Flats{
				From: from * mm, To: to * mm, Sides: 4, AcrossFrom: 8 * mm, AcrossTo: 8 * mm,
			}},
		}
		if machine == op.Bench {
			o.Tool.Hand = op.File
		}
		return o
	}
	waist := func(from, to work.Len) work.State {
		return r.bar(-20, 100, 20).After(turned(from, to, 12, work.Finished))
	}
	check(t, problem.ToolSide, []row{
		{"a file in a waist of 6", r.of(flats(op.Bench, 40, 46), waist(40, 46)), "ok"},
		{
			"a file in one of 5", r.of(flats(op.Bench, 40, 45), waist(40, 45)),
			"5 mm between two shoulders, for a file | 6 mm wanted",
		},
		{
			"a belt in a waist of 49", r.of(flats(op.BeltGrinder, 40, 89), waist(40, 89)),
			"49 mm between two shoulders, for the belt | 50 mm wanted",
		},
		{"a belt in a waist of 50", r.of(flats(op.BeltGrinder, 40, 90), waist(40, 90)), "ok"},
		{"a belt of 25 in one of 25", narrow.of(flats(op.BeltGrinder, 40, 65), waist(40, 65)), "ok"},
		{
			"in one of 24", narrow.of(flats(op.BeltGrinder, 40, 64), waist(40, 64)),
			"24 mm between two shoulders, for the belt | 25 mm wanted",
		},
		{"a belt at the end", r.of(flats(op.BeltGrinder, 90, 100), waist(90, 100)), "nothing"},
	})
}

// A mill that pushes with 100 N on a bar of 20 that stands out 50 to the end of the
// cut: 100·50³/(3·E·I) with E of 205 000 and I of π·20⁴/64 = 7854 is 0.0026, and of
// 16 across flats from z 30 to 50 on, I·(16/20)⁴ = 3217 and more of it: it is no
// more than with 16 all along, 0.0063.
func TestMillingPushes(t *testing.T) {
	r := setUp(t, shaft, shed)
	o := op.Op{
		Kind:  op.Facet,
		Setup: op.Setup{Machine: op.MillMachine, Device: op.DividingHead, Held: span(-20, 0), Out: part.Right},
		Push:  op.Cut{Force: 100},
		Removes: []work.Removal{work.Flats{
			From: 30 * mm, To: 50 * mm, Sides: 6, AcrossFrom: 16 * mm, AcrossTo: 16 * mm,
		}},
	}
	got := r.of(o, r.bar(-20, 100, 20)).Check()
	switch {
	case got.Spring == nil:
		t.Error("it does not spring")
	case got.Spring.MM() < 0.0025 || got.Spring.MM() > 0.0064:
		t.Errorf("it springs %s", say.Of(got.Spring.Up()))
	}
	o.Push.Force = 0
	if got := r.of(o, r.bar(-20, 100, 20)).Check(); got.Spring != nil {
		t.Error("nothing pushes it, and it springs")
	}
}
