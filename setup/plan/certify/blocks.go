package certify

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// supportV: what lies in the V-blocks is parallel now, or lies on a shim that
// levels it or tilted as it is said; the blocks stand at two places, holes lie
// between them or within one diameter outside, and the heights are those of the
// surface under the drill. Each block has its room along the work, and nothing that
// is thicker comes down to the table they stand on.
func supportV(k *checker) {
	const code = problem.SupportV
	if k.Op.Setup.Device != op.VBlocks {
		return
	}
	if k.Shop.VBlocks == nil {
		k.fail(code, words("it lies in V-blocks"), words("there are none in this shop"),
			"hold it in the vice, or in a collet block")
		return
	}
	at := k.Op.Stands.Blocks
	if len(at) != 2 {
		k.fail(code, words("it lies in V-blocks"), words("at two places is wanted"), "say where the two blocks stand")
		return
	}
	first, ok := k.lies(at[0])
	second, also := k.lies(at[1])
	if !ok || !also {
		k.fail(code, words(say.Of("V-blocks at z ", at[0].Length(), " and ", at[1].Length())),
			words("round work is wanted at both"), "stand them under plain stretches of the work")
		return
	}
	if k.level(first, second, at) && k.seated(max(first.dia, second.dia)) {
		k.between(at, min(first.dia, second.dia))
		k.meetsBlock(at[0], first.dia)
		k.meetsBlock(at[1], second.dia)
		k.heights(max(first.dia, second.dia))
		k.roomFor(at)
		k.overTable(at, first.dia, second.dia)
	}
}

// roomFor checks that the two blocks stand beside one another, and that neither meets
// what is thicker beside what lies in it. A block may reach beyond an end of the work.
func (k *checker) roomFor(at []work.Len) {
	if apart := max(at[0]-at[1], at[1]-at[0]); apart < k.blockWidth {
		k.fail(problem.SupportV, figure(apart, "from the middle of one V-block to the other"),
			figure(k.blockWidth, "is how wide each is"), otherBlocks)
		return
	}
	for _, z := range at {
		block, own := order(z-k.blockWidth/2, z+k.blockWidth/2), k.Before.Dia(z)
		for _, p := range k.Before.Over(block) {
			most := max(within(p, p.From), within(p, p.To))
			if lies := p.From <= z && z <= p.To; !lies && most > own+fine {
				k.fail(problem.SupportV, figure(p.Meet(block).Length(), say.Of("of the V-block at z ", z.Length(),
					" is where the work is ", most.Length())),
					words(say.Of("it is ", k.blockWidth.Length(), " wide, and ", own.Length(), " lies in it")), otherBlocks)
				return
			}
		}
	}
}

// otherBlocks mends blocks that have no room.
const otherBlocks = "lay it on a longer cylinder, or on the bar while it is parallel"

// overTable checks that what is thicker than what lies in the blocks hangs clear of the
// table that they stand on: its radius is at the most the height of the axis there.
// That is
//
//	apex + D/2/sin(A/2)
//
// over each block, and on the straight line through both elsewhere; a shim lifts the
// smaller as high as the larger.
//
// Source: elementary.
func (k *checker) overTable(at []work.Len, first, second work.Len) {
	rise := []work.Len{k.rises(first), k.rises(second)}
	if k.Op.Stands.Shim != nil {
		rise[0], rise[1] = max(rise[0], rise[1]), max(rise[0], rise[1])
	}
	slope := (rise[1] - rise[0]).MM() / (at[1] - at[0]).MM()
	var z, radius, axis work.Len // where it comes down furthest; the axis above the apex
	for _, p := range k.Before.Outside {
		for _, end := range []work.Len{p.From, p.To} {
			r, a := within(p, end)/2, rise[0]+times(end-at[0], slope)
			if axis == 0 || r-a > radius-axis {
				z, radius, axis = end, r, a
			}
		}
	}
	v := k.Shop.VBlocks
	switch {
	case radius <= axis: // however low the blocks are
		return
	case v.Apex == nil:
		k.missing("v_blocks.apex")
		return
	}
	k.atMost(problem.SupportV, radius, axis+op.LenOf(*v.Apex),
		say.Of("from the axis down to the work's underside at z ", z.Length(), ", over the V-blocks' table"),
		func() say.Text { return otherBlocks })
}

// lying is what lies in a block: its diameter, or the distance of the flats that
// touch its faces, and whether that is the same along it.
type lying struct {
	dia      work.Len
	straight bool
}

// lies returns what lies in a block at z. A V of 90 deg holds squares by their
// flats.
func (k *checker) lies(z work.Len) (lying, bool) {
	for _, p := range k.Before.Outside {
		if p.From > z || p.To < z {
			continue
		}
		x := lying{within(p, z), p.Cylinder()}
		if p.Sides == 0 || p.Sides == 2 {
			return x, x.dia > 0
		}
		if p.Sides%4 == 0 && math.Abs(k.Shop.VBlocks.Angle.Deg()-90) < 1 {
			x.dia = across(p, k.Before)
			return x, true
		}
	}
	return lying{}, false
}

// rises returns how high the centre of a round lies above the apex of the V:
// D/2/sin(A/2). Source: see holes.CentreHeight.
func (k *checker) rises(dia work.Len) work.Len {
	return times(dia, 1/(2*k.Shop.VBlocks.Angle.Half().Sin()))
}

// level reports whether the work lies level, or tilted as it is said.
func (k *checker) level(first, second lying, at []work.Len) bool {
	const code = problem.SupportV
	stands := k.Op.Stands
	fall := k.rises(first.dia) - k.rises(second.dia)
	fall = max(fall, -fall)
	off := work.Len(0)
	switch {
	case stands.Shim != nil:
		off = op.LenOf(*stands.Shim) - fall
	case stands.Tilt != nil:
		run := max(at[1]-at[0], at[0]-at[1]).MM()
		off = work.Float(run*math.Abs(stands.Tilt.Tan())) - fall
	case !first.straight || !second.straight:
		off = max(fall, k.vHeight+1)
	default:
		off = fall
	}
	off = max(off, -off)
	if off <= k.vHeight {
		k.pass(code, figure(off, "out of level over the blocks"), figure(k.vHeight, ""), true)
		return true
	}
	k.fail(code, figure(first.dia, say.Of("lies in one block, ", second.dia.Length(), " in the other")),
		words("one cylinder in both is wanted, or a shim"),
		say.Of("a shim of ", fall.Length(), " under the smaller, or drill while the work is still parallel"))
	return false
}

// seated reports whether it touches the faces of the V, between its relief and
// its opening: at R·cos(A/2) from the middle.
func (k *checker) seated(dia work.Len) bool {
	v := k.Shop.VBlocks
	wide := times(dia, v.Angle.Half().Cos())
	switch {
	case v.Opening == nil:
		k.missing("v_blocks.opening")
	case wide > op.LenOf(*v.Opening):
		k.fail(problem.SupportV, figure(dia, "rests on the edges of the V"), words(say.Of("it opens ", *v.Opening)),
			"larger V-blocks, or the vice")
		return false
	}
	switch {
	case v.Relief == nil:
		k.missing("v_blocks.relief")
	case wide < op.LenOf(*v.Relief):
		k.fail(problem.SupportV, figure(dia, "drops into the relief of the V"), words(say.Of("it is ", *v.Relief, " wide")),
			"smaller V-blocks, or the vice")
		return false
	}
	return true
}

// between checks that the holes, and the middle of a cutter at both ends of a slot, lie between the
// blocks or within one diameter outside: of what lies in the blocks, or of the work there where that is
// less. Further out the cut tips the work out of them.
func (k *checker) between(at []work.Len, dia work.Len) {
	s := order(at[0], at[1])
	for _, r := range k.Op.Removes {
		var places []work.Len
		what := say.Text("the hole")
		switch r := r.(type) {
		case work.Cross:
			places = []work.Len{r.Z}
		case work.Slot:
			what, places = "the cutter", []work.Len{r.From + r.Width/2, r.To - r.Width/2}
		}
		for _, z := range places {
			out := max(s.From-z, z-s.To, 0)
			most := times(min(dia, k.Before.Dia(z)), k.vBeyond)
			if out > most {
				k.fail(problem.SupportV, figure(out, say.Of("beyond the blocks is ", what, " at z ", z.Length())),
					figure(most, "is the most, one diameter"), "stand a block nearer to it")
				return
			}
		}
	}
}

// meetsBlock checks that no drill and no cutter that comes through the work meets
// the block at z. It may come out over the block where it goes into the V below
// the work: that is
//
//	w = (D/2/sin(A/2) - D/2 - b)·tan(A/2)
//
// wide from its middle, b below the work, which is how far a drill breaks through.
// The drill's point reaches r/tan(point/2) further and must end above the apex,
// D/2/sin(A/2) below the axis. The V's relief is left out, which is safe.
//
// Source: elementary.
func (k *checker) meetsBlock(z, dia work.Len) {
	for _, r := range k.Op.Removes {
		through, point := false, 0.0
		switch r := r.(type) {
		case work.Cross:
			through, point = r.Depth == nil, r.Dia.MM()/2/k.pointAngle.Half().Tan()
		case work.Slot:
			through = r.Depth == nil
		}
		s := r.Span(k.Before)
		clear := max(s.From-(z+k.blockWidth/2), z-k.blockWidth/2-s.To)
		if !through || clear >= 0 {
			continue
		}
		below := (k.rises(dia) - dia/2 - k.breakthrough).MM()
		half := s.Length().MM() / 2
		if half <= below*k.Shop.VBlocks.Angle.Half().Tan() && point <= below {
			continue
		}
		k.fail(problem.SupportV, figure(-clear, say.Of("of the V-block at z ", z.Length(), " lies under the cut at z ",
			middle(s).Length())), words(say.Of("it comes through into the block, which is ", k.blockWidth.Length(), " wide")),
			say.Of("stand the block clear of it, or hold the work in a vice over parallels"))
		return
	}
}

// crossed returns the holes that the operation makes across the bar.
func (k *checker) crossed() (list []work.Cross) {
	for _, r := range k.Op.Removes {
		if h, ok := r.(work.Cross); ok {
			list = append(list, h)
		}
	}
	return list
}

// heights checks the heights above the blocks' base against the work as it
// stands: the axis by what lies in the V, the top by what is under the drill.
func (k *checker) heights(dia work.Len) {
	const code = problem.SupportV
	list, v, stands := k.crossed(), k.Shop.VBlocks, k.Op.Stands
	if len(list) == 0 {
		return
	}
	if v.Apex == nil {
		k.missing("v_blocks.apex")
		return
	}
	axis := op.LenOf(*v.Apex) + k.rises(dia)
	if stands.Centre == nil || stands.Top == nil {
		k.fail(code, words("no height is said"), figure(axis, "is the height of the axis"), "say the heights")
		return
	}
	far := func(told, is work.Len) work.Len { return max(told-is, is-told) }
	if told := op.LenOf(*stands.Centre); far(told, axis) > k.vHeight {
		k.fail(code, figure(told, "is said for the axis"), figure(axis, "is its height"), "set it from the work as it lies")
		return
	}
	told, is := op.LenOf(*stands.Top), work.Len(0)
	for i, h := range list {
		top := axis + k.under(h)
		if i == 0 || far(told, top) < far(told, is) {
			is = top
		}
	}
	if far(told, is) > k.vHeight {
		k.fail(code, figure(told, "is said for the top"), figure(is, "is the surface under the drill"),
			"touch the drill off on the work where it goes in")
		return
	}
	k.pass(code, figure(told, "above the blocks' base"), figure(is, "is the surface under the drill"), true)
}

// under returns how far the surface that a hole begins on is from the axis: half
// the diameter there, or of a polygon half across its flats where the hole is
// square to one.
func (k *checker) under(h work.Cross) work.Len {
	for _, p := range k.Before.Outside {
		if h.Z < p.From || p.To < h.Z || p.Sides < 2 {
			continue
		}
		for _, f := range k.Before.Flats {
			turn := 360e6 / float64(f.Sides)
			off := math.Abs(math.Remainder(float64(h.Roll-f.FirstRoll), turn))
			if f.From <= h.Z && h.Z <= f.To && off < 1e6 {
				if flats, ok := k.Before.AcrossFlats(h.Z); ok && f.Sides%2 == 0 {
					return flats / 2
				}
			}
		}
	}
	return k.Before.Dia(h.Z) / 2
}
