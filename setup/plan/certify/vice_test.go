package certify

import (
	"testing"

	"setover/setup/base/problem"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// milledBlock is a block of whole millimetres whose faces are all milled.
func milledBlock(x, y, z work.Len, cuts ...work.Removal) work.State {
	return work.State{
		Box: &work.Block{Size: [3]work.Len{x * mm, y * mm, z * mm}}, Faced: part.Faces, Milled: cuts,
	}
}

// clamped is a cut in the vice.
func clamped(up, fixed part.Face, list ...work.Removal) op.Op {
	s := op.Setup{
		Machine: op.MillMachine, Device: op.Vice, On: op.Surface{Stage: work.Finished}, State: op.State{Up: up, Fixed: fixed},
	}
	return op.Op{Kind: op.Slot, Setup: s, Removes: list}
}

// tilted is the same with the block tilted.
func tilted(up, fixed part.Face, list ...work.Removal) op.Op {
	o := clamped(up, fixed, list...)
	o.Kind, o.Setup.State.Tilted = op.Mill, true
	return o
}

// topSlot is a slot of 10 by 12 into the top, its middle at x 30, so deep, through where 0.
func topSlot(y work.Len, deep work.Len, turned work.Deg) work.BlockSlot {
	s := work.BlockSlot{
		Face: part.Top, X: 30 * mm, Y: y, Length: 12 * mm, Width: 10 * mm, Angle: turned * 1e6,
	}
	if deep > 0 {
		s.Depth = new(deep * mm)
	}
	return s
}

// A vice holds a block of 60 by 30 by 20 over 8 of its length and 3 of its height at
// the least. A slot of 10 whose middle is 6.5 from the side leaves a wall of 1.5, which is
// the least, and at 6.4 it is open: 17 deep it leaves 3, and through nothing. Turned by
// 90 deg one 12 long and 10 wide reaches 1 + 5 from its middle, and at 7.4 it is open.
//
// A slope lies level under the cutter, and the jaws stand under it. One of 19 deg over
// 50 of the 60 takes 50·tan 19 = 17.216 at x 0, where 2.784 is left, and its plane rises
// above the top beyond x 50: under it lie triangles. Of a block 4 high and 60 long
// one of 3 deg leaves 4 - 3.144 = 0.856 at one end, and over 8 at the other a band
// square to it of (4 - 8·tan 3)·cos 3 = 3.576 at the most, 3.5 in steps of 0.5; on a block
// 3 high one of 2 deg leaves (3 - 8·tan 2)·cos 2 = 2.719: 2.5.
func TestInVice(t *testing.T) {
	r := setUp(t, shaft, shed) // of the part only its material is asked
	slope := func(deg work.Deg, to work.Len) work.Slope {
		return work.Slope{Face: part.Top, ToX: to * mm, AlongX: deg * 1e6}
	}
	whole := milledBlock(60, 30, 20)
	const high = " mm of its height is left for the vice's jaws | 3 mm wanted"
	top := func(list ...work.Removal) op.Op { return clamped(part.Top, part.Front, list...) }
	sloped := func(list ...work.Removal) op.Op { return tilted(part.Top, part.Front, list...) }
	check(t, problem.GripLength, []row{
		{"a block", r.of(top(), whole), "ok"},
		{"8 long and 3 high", r.of(top(), milledBlock(8, 5, 3)), "ok"},
		{"7 long", r.of(top(), milledBlock(7, 5, 5)), "7 mm of its length in the vice's jaws | 8 mm wanted"},
		{"7 long, on its ends", r.of(clamped(part.Top, part.LeftF), milledBlock(7, 9, 5)), "ok"},
		{"2 high", r.of(top(), milledBlock(60, 30, 2)), "2" + high},
		{"2 wide, on its side", r.of(clamped(part.Front, part.Bottom), milledBlock(60, 2, 20)), "2" + high},
		{
			"5 high, on its end", r.of(clamped(part.RightF, part.Front), milledBlock(60, 30, 5)),
			"5 mm of its length in the vice's jaws | 8 mm wanted",
		},
		{"5 high, on its end by its top", r.of(clamped(part.RightF, part.Bottom), milledBlock(60, 30, 5)), "ok"},
		{"a slope that leaves 2.784 at one end", r.of(sloped(slope(-19, 50)), whole), "ok"},
		{"a slope of 3 deg on 4", r.of(sloped(slope(3, 60)), milledBlock(60, 30, 4)), "ok"},
		{"one that falls", r.of(sloped(slope(-3, 60)), milledBlock(60, 30, 4)), "ok"},
		{"a slope on 3", r.of(sloped(slope(2, 60)), milledBlock(60, 30, 3)), "2.5" + high},
		{"a slot with a wall", r.of(top(topSlot(6500*mm/1000, 0, 0)), whole), "ok"},
		{"an open slot that leaves 3", r.of(top(topSlot(6400*mm/1000, 17, 0)), whole), "ok"},
		{"one that leaves 2", r.of(top(topSlot(23600*mm/1000, 18, 0)), whole), "2" + high},
		{"one through", r.of(top(topSlot(6400*mm/1000, 0, 0)), whole), "0" + high},
		{
			"one through, held on the ends", r.of(clamped(part.Top, part.LeftF, topSlot(6400*mm/1000, 0, 0)), whole), "ok",
		},
		{"turned, open", r.of(top(topSlot(7400*mm/1000, 0, 90)), whole), "0" + high},
		{"turned, with a wall", r.of(top(topSlot(7500*mm/1000, 0, 90)), whole), "ok"},
	})
	if got := r.of(top(), whole).Check().NotChecked; len(got) != 1 || got[0] != "mill.vice" {
		t.Errorf("not checked: %v", got)
	}
}

// What was cut before is not pressed on. Slopes of 15 deg over the left 30 and the right 30 of
// 60 take 8.038: of 20 high the jaws have the lower 11.962. A slot of 10 all along it,
// 12 deep in 20, leaves prongs on the front and the back: 8 below it. One 9 deep is no more
// than half of it, and is held over all. One 6 deep from the top and one from the bottom leave
// the 8 between them, and two of 10 nothing. Two notches of 27 through the front leave 6 of the
// length.
//
// Of a block 24 high a slope of 10 deg over 60 takes 10.580 of the top, and one of the bottom
// parallel to it leaves (24 - 10.580)·cos 10 = 13.216 between them: 13 in steps of 0.5.
// At 20 deg it is (24 - 21.838)·cos 20 = 2.031: 2.
func TestInViceAfter(t *testing.T) {
	r := setUp(t, shaft, shed)
	slope := func(face part.Face, from, to work.Len, deg work.Deg) work.Slope {
		return work.Slope{Face: face, FromX: from * mm, ToX: to * mm, AlongX: deg * 1e6}
	}
	along := func(deep work.Len) work.BlockSlot {
		return work.BlockSlot{
			Face: part.Top, X: 30 * mm, Y: 15 * mm, Length: 80 * mm, Width: 10 * mm, Depth: new(deep * mm),
		}
	}
	from := func(face part.Face, deep work.Len) work.BlockSlot {
		s := along(deep)
		s.Face = face
		return s
	}
	notch := func(x work.Len) work.BlockSlot {
		return work.BlockSlot{Face: part.Top, X: x, Y: 2 * mm, Length: 27 * mm, Width: 6 * mm}
	}
	up := func(list ...work.Removal) op.Op { return clamped(part.Top, part.Front, list...) }
	down := clamped(part.Bottom, part.Front)
	roof := []work.Removal{slope(part.Top, 0, 30, 15), slope(part.Top, 30, 60, -15)}
	held := func(o op.Op, high work.Len, list ...work.Removal) work.Len {
		s := o.Setup.State
		v := InVice{*milledBlock(60, 30, high).Box, s.Up, s.Fixed, list, 1500 * mm / 1000}
		return v.HeldFor(8*mm, o.Removes...)
	}
	for _, c := range []struct {
		name string
		got  work.Len
		want work.Len
	}{
		{"whole", held(up(), 20), 20 * mm},
		{"a roof, top up", held(up(), 20, roof...), 11_961_524},
		{"a roof, top down", held(down, 20, roof...), 11_961_524},
		{"prongs", held(up(), 20, along(12)), 8 * mm},
		{"short prongs", held(up(), 20, along(9)), 20 * mm},
		{"an H", held(up(), 20, from(part.Top, 6), from(part.Bottom, 6)), 8 * mm},
		{"through from both sides", held(up(), 20, from(part.Top, 10), from(part.Bottom, 10)), 0},
		{"two notches", held(up(), 20, notch(13500*mm/1000), notch(46500*mm/1000)), 0},
		{"parallel slopes", held(tilted(part.Bottom, part.Front, slope(part.Bottom, 0, 60, -10)), 24,
			slope(part.Top, 0, 60, 10)), 13 * mm},
		{"steep parallel slopes", held(tilted(part.Bottom, part.Front, slope(part.Bottom, 0, 60, -20)), 24,
			slope(part.Top, 0, 60, 20)), 2 * mm},
	} {
		if c.got != c.want {
			t.Errorf("%s: %.3f is held, by hand %.3f", c.name, c.got.MM(), c.want.MM())
		}
	}
	lane := func(y work.Len) work.BlockSlot { // 10 of the 30, over 40
		return work.BlockSlot{
			Face: part.Top, X: 30 * mm, Y: y * mm, Length: 40 * mm, Width: 10 * mm, Depth: new(work.Len(2 * mm)),
		}
	}
	const rests = " of the top rests on the parallels | 30 mm wanted"
	check(t, problem.GripSurface, []row{
		{"on a roof", r.of(down, milledBlock(60, 30, 20, roof...)), "0 mm" + rests},
		{"on half of it", r.of(down, milledBlock(60, 30, 20, roof[0])), "ok"},
		{"on less than half", r.of(down, milledBlock(60, 30, 20, slope(part.Top, 0, 31, 15))), "29 mm" + rests},
		{"tilted", r.of(tilted(part.Bottom, part.Front), milledBlock(60, 30, 20, roof...)), "nothing"},
		{"on what two slots leave of it", r.of(down, milledBlock(60, 30, 20, lane(8), lane(22))), "20 mm" + rests},
		{"on what one leaves", r.of(down, milledBlock(60, 30, 20, lane(8))), "ok"},
	})
}

// A block is held on faces that are milled, and lies on one; the first is milled between
// sawn ones, and the left end is stood up by a square.
func TestFlatFaces(t *testing.T) {
	r := setUp(t, shaft, shed)
	faced := func(list ...part.Face) work.State {
		s := milledBlock(60, 30, 20)
		s.Faced = list
		return s
	}
	mill := func(up, fixed part.Face, stage work.Stage) op.Op {
		o := clamped(up, fixed)
		o.Kind, o.Mills, o.Setup.On.Stage = op.Mill, up, stage
		return o
	}
	sawn := func(f string) string { return "the " + f + " is still as it was sawn | a flat face is wanted" }
	check(t, problem.GripSurface, []row{
		{"the first", r.of(mill(part.Bottom, part.Back, work.Bought), faced()), "nothing"},
		{"the second", r.of(mill(part.Front, part.Bottom, work.Bought), faced(part.Bottom)), "nothing"},
		{"the second on a sawn face", r.of(mill(part.Front, part.Top, work.Bought), faced(part.Bottom)), sawn("top")},
		{
			"the left end", r.of(mill(part.LeftF, part.Front, work.Finished), faced(part.Bottom, part.Front, part.Back)),
			"nothing",
		},
		{
			"the right end", r.of(mill(part.RightF, part.Front, work.Finished), faced(part.Bottom, part.Front, part.Back)),
			sawn("left"),
		},
		{
			"a slot into a sawn face",
			r.of(clamped(part.Top, part.Front), faced(part.Bottom, part.Front, part.Back)), sawn("top"),
		},
	})
	spot := clamped(part.Top, part.Front)
	spot.Kind, spot.Cuts = op.Spot, op.Span{From: (8 * mm).Length(), To: (12 * mm).Length()}
	slope := work.Slope{Face: part.Top, ToX: 10 * mm, AlongX: 5e6}
	below := slope
	below.Face = part.Bottom
	check(t, problem.ToolSide, []row{
		{
			"a drill on a slope", r.of(spot, milledBlock(60, 30, 20, slope)),
			"the drill starts on a slope | a level face is wanted",
		},
		{"across from one", r.of(spot, milledBlock(60, 30, 20, below)), "nothing"},
	})
}
