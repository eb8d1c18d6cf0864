package certify

import (
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
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
