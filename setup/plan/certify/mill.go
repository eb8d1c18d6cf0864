package certify

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// millRoom: an end mill gets at the flats that it cuts. Where nothing stands higher
// beyond their end it runs out by half its diameter, and the jaws leave it so much
// room; where a shoulder stops it, it stays as clear of the jaws as any cut. It goes
// in between two shoulders.
//
// What its round edge leaves beside a shoulder it takes off as it is run across the
// flat. A belt or a file goes in between two as well.
func millRoom(k *checker) {
	k.acrossBesideJaws()
	for _, r := range k.Op.Removes {
		f, ok := r.(work.Flats)
		switch {
		case !ok:
		case k.Op.Cutter.Sign() > 0:
			k.besideJaws(f)
			k.betweenShoulders(f, op.LenOf(k.Op.Cutter), "the end mill", "a smaller end mill, or flats that are filed")
		case k.Op.Setup.Machine == op.BeltGrinder:
			k.betweenShoulders(f, k.beltWide(), "the belt", "a narrower belt, or flats that are milled")
		case k.Op.Tool.Hand == op.File:
			k.betweenShoulders(f, k.fileWidth, "a file", "flats that are milled, or longer ones")
		}
	}
}

// acrossBesideJaws checks that what turns with the drill or the cutter clears the jaws, where the
// work is held in some while it is cut across.
func (k *checker) acrossBesideJaws() {
	o := k.Op
	if o.Setup.Machine != op.MillMachine || !o.Setup.Device.Jaws() || o.Roll == nil {
		return
	}
	least, found := work.Len(0), false
	for _, r := range o.Removes {
		var z work.Len // where the drill or the cutter comes nearest to them
		switch x := r.(type) {
		case work.Cross:
			z = x.Z
		case work.Slot:
			z = near(work.Span{From: x.From + x.Width/2, To: x.To - x.Width/2}, o.Setup.Out)
		default:
			continue
		}
		if room := away(z, o.Setup.Face(), o.Setup.Out); !found || room < least {
			least, found = room, true
		}
	}
	if found {
		const of = "from the jaws to the middle of the cut, for what holds the drill"
		k.atLeast(problem.ToolSide, least, k.besideJawsLeast, of, true, func() say.Text {
			return "let it stand further out of the jaws, or V-blocks"
		})
	}
}

// beltWide returns how wide the grinder's belt is, a usual one where nobody says.
func (k *checker) beltWide() work.Len {
	if g := k.Shop.BeltGrinder; g != nil && g.Width != nil {
		return op.LenOf(*g.Width)
	}
	return k.beltWidth
}

// besideJaws checks the room between the flats and the jaws' face.
func (k *checker) besideJaws(f work.Flats) {
	s, cutter := k.Op.Setup, op.LenOf(k.Op.Cutter)
	if !s.Device.Jaws() {
		return
	}
	end := near(f.Span(k.Before), s.Out)
	need := cutter / 2
	if _, free := k.runsOut(f, other(s.Out)); free == 0 {
		need = k.jawClear
	}
	of := say.Of("between the flats and the jaws, for an end mill of ", k.Op.Cutter)
	k.atLeast(problem.ToolSide, away(end, s.Face(), s.Out), need, of, true, func() say.Text {
		return "let it stand further out of the jaws, or a smaller end mill"
	})
}

// betweenShoulders checks that what cuts the flats, so wide, goes in between two.
func (k *checker) betweenShoulders(f work.Flats, wide work.Len, tool, remedy say.Text) {
	left, a := k.runsOut(f, part.Left)
	right, b := k.runsOut(f, part.Right)
	if !left || !right {
		return
	}
	k.atLeast(problem.ToolSide, f.To-f.From+a+b, wide, "between two shoulders, for "+tool, true,
		func() say.Text { return remedy })
}

// runsOut returns how far beyond an end of the flats an end mill goes before
// something stands in its way that is higher than they are, and whether anything
// does.
func (k *checker) runsOut(f work.Flats, e part.End) (stopped bool, free work.Len) {
	z, core := f.From, f.AcrossFrom
	if e == part.Right {
		z, core = f.To, f.AcrossTo
	}
	if f.Sides%2 == 1 { // from a flat to the corner opposite: twice the flat's distance from the axis
		core = 2*core - work.Corners(f.Sides, core)
	}
	free = math.MaxInt64
	for _, p := range k.Before.Outside {
		from, to := max(p.From, z), p.To
		if e == part.Left {
			from, to = p.From, min(p.To, z)
		}
		if from >= to || max(within(p, from), within(p, to)) <= core+fine {
			continue
		}
		free = min(free, max(0, away(near(work.Span{From: from, To: to}, e), z, e)))
	}
	return free < math.MaxInt64, free
}
