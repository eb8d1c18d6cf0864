package certify

import (
	"testing"

	"setover/setup/base/problem"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// A vice holds a block of 60 by 30 by 20 over 8 of its length and 3 of its height at
// the least. A slope of 18 deg over 50 takes 50·tan 18 = 16.246 of it, one of 19
// 17.216, which leaves 2.784. A slot of 10 whose middle is 6.5 from the side leaves a
// wall of 1.5, which is the least, and at 6.4 it is open: 17 deep it leaves 3, and
// through nothing. Turned by 90 deg one 12 long and 10 wide reaches 1 + 5 from its
// middle, and at 7.4 it is open.
func TestInVice(t *testing.T) {
	r := setUp(t, shaft, shed) // of the part only its material is asked
	block := func(x, y, z work.Len) work.State {
		return work.State{Box: &work.Block{Size: [3]work.Len{x * mm, y * mm, z * mm}}}
	}
	held := func(up op.Up, list ...work.Removal) op.Op {
		s := op.Setup{Machine: op.MillMachine, Device: op.Vice, State: op.State{Up: up}}
		return op.Op{Kind: op.Mill, Setup: s, Removes: list}
	}
	slope := func(deg work.Deg) work.Slope { return work.Slope{ToX: 50 * mm, AlongX: deg * 1e6} }
	slot := func(y work.Len, deep work.Len, turned work.Deg) work.BlockSlot {
		s := work.BlockSlot{X: 30 * mm, Y: y, Length: 12 * mm, Width: 10 * mm, Angle: turned * 1e6}
		if deep > 0 {
			s.Depth = new(deep * mm)
		}
		return s
	}
	whole := block(60, 30, 20)
	const high = " mm of its height is left for the vice's jaws | 3 mm wanted"
	check(t, problem.GripLength, []row{
		{"a block", r.of(held(op.TopUp), whole), "ok"},
		{"8 long and 3 high", r.of(held(op.TopUp), block(8, 5, 3)), "ok"},
		{"7 long", r.of(held(op.TopUp), block(7, 5, 5)), "7 mm of its length in the vice's jaws | 8 mm wanted"},
		{"2 high", r.of(held(op.TopUp), block(60, 30, 2)), "2" + high},
		{"2 wide, on its side", r.of(held(op.SideUp), block(60, 2, 20)), "2" + high},
		{"5 high, on its end", r.of(held(op.EndUp), block(60, 30, 5)), "5 mm of its length in the vice's jaws | 8 mm wanted"},
		{"a slope that leaves 3.754", r.of(held(0, slope(18)), whole), "ok"},
		{"a slope that leaves 2.784", r.of(held(0, slope(-19)), whole), "2.784" + high},
		{"a slot with a wall", r.of(held(op.TopUp, slot(6500*mm/1000, 0, 0)), whole), "ok"},
		{"an open slot that leaves 3", r.of(held(op.TopUp, slot(6400*mm/1000, 17, 0)), whole), "ok"},
		{"one that leaves 2", r.of(held(op.TopUp, slot(23600*mm/1000, 18, 0)), whole), "2" + high},
		{"one through", r.of(held(op.TopUp, slot(6400*mm/1000, 0, 0)), whole), "0" + high},
		{"turned, open", r.of(held(op.TopUp, slot(7400*mm/1000, 0, 90)), whole), "0" + high},
		{"turned, with a wall", r.of(held(op.TopUp, slot(7500*mm/1000, 0, 90)), whole), "ok"},
	})
	if got := r.of(held(op.TopUp), whole).Check().NotChecked; len(got) != 1 || got[0] != "mill.vice" {
		t.Errorf("not checked: %v", got)
	}
}
