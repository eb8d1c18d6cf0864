package certify

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// InVice is a block in a vice: one face up, another against the fixed jaw, with what was
// cut in it before. Wall is the least that the jaws do not press in.
type InVice struct {
	work.Block
	Up, Fixed part.Face
	Cut       []work.Removal
	Wall      work.Len
}

// lies returns the axis along the jaws, and the one that is upright.
func (v InVice) lies() (along, upright part.Axis) {
	_, _, upright = v.Up.Axes()
	_, _, across := v.Fixed.Axes()
	return part.AlongX + part.AlongY + part.AlongZ - upright - across, upright
}

// heights returns between which heights above the face that is down a box lies.
func (v InVice) heights(x work.Cuboid) work.Span {
	_, upright := v.lies()
	if v.Up.Far() {
		return work.Span{From: x.From[upright], To: x.To[upright]}
	}
	return work.Span{From: v.Size[upright] - x.To[upright], To: v.Size[upright] - x.From[upright]}
}

// pressed reports whether the jaws cannot press on the block beside a box: it reaches one
// of them, or it runs out at an end and parts the block into two prongs, with what is cut
// over and under it more than half of the height long.
func (v InVice) pressed(x work.Cuboid) bool {
	return v.runsOut(x) && v.prongs(x) || v.Touches(x, v.Fixed, v.Wall) || v.Touches(x, v.Fixed.Opposite(), v.Wall)
}

// runsOut reports whether a box reaches an end of the block along the jaws.
func (v InVice) runsOut(x work.Cuboid) bool {
	along, _ := v.lies()
	return x.From[along] <= 0 || x.To[along] >= v.Size[along]
}

// prongs reports whether a box and those that run out over or under it are more than half as
// high as the block together.
func (v InVice) prongs(x work.Cuboid) bool {
	_, upright := v.lies()
	spans := []work.Span{v.heights(x)}
	for _, r := range v.Cut {
		y, ok := v.Around(r)
		if ok && v.runsOut(y) && beside(x, y, upright) {
			spans = append(spans, v.heights(y))
		}
	}
	return 2*free(v.High(), spans) < v.High()
}

// beside reports whether two boxes overlap but for one axis.
func beside(x, y work.Cuboid, but part.Axis) bool {
	for a := range x.From {
		if part.Axis(a) != but && (x.To[a] <= y.From[a] || y.To[a] <= x.From[a]) {
			return false
		}
	}
	return true
}

// free returns what is left of a length, from 0, beside spans.
func free(long work.Len, spans []work.Span) work.Len {
	slices.SortFunc(spans, func(a, b work.Span) int { return int(a.From - b.From) })
	left, come := work.Len(0), work.Len(0)
	for _, s := range spans {
		left += max(0, s.From-come)
		come = max(come, s.To)
	}
	return left + max(0, long-come)
}

// Held returns over how much of its height below a limit the jaws press on both sides,
// along at least so much of its length together: over the highest of all bands in which
// enough is left.
func (v InVice) Held(least, below work.Len) work.Len {
	along, _ := v.lies()
	edges := []work.Len{0, below}
	var boxes []work.Cuboid
	for _, r := range v.Cut {
		if x, ok := v.Around(r); ok && v.pressed(x) {
			h := v.heights(x)
			boxes, edges = append(boxes, x), append(edges, min(h.From, below), min(h.To, below))
		}
	}
	best := work.Len(0)
	for _, from := range edges {
		for _, to := range edges {
			band := work.Span{From: from, To: to}
			if band.Length() <= best {
				continue
			}
			var gone []work.Span
			for _, x := range boxes {
				if v.heights(x).Overlaps(band) {
					gone = append(gone, work.Span{From: x.From[along], To: x.To[along]})
				}
			}
			if free(v.Size[along], gone) >= least {
				best = band.Length()
			}
		}
	}
	return best
}

// HeldFor returns the same while it is cut: below the cut, and of a slope, which lies level
// then, below its plane.
func (v InVice) HeldFor(least work.Len, cuts ...work.Removal) work.Len {
	for _, r := range cuts {
		if s, ok := r.(work.Slope); ok {
			return v.heldUnder(v.plane(s), least)
		}
	}
	return v.Held(least, v.Below(cuts...))
}

// High returns how high the block stands.
func (v InVice) High() work.Len {
	_, upright := v.lies()
	return v.Size[upright]
}

// Rests returns along how much of its length the face that is down lies on parallels:
// where not half of its width or more is taken away in all.
func (v InVice) Rests() work.Len {
	along, upright := v.lies()
	across := part.AlongX + part.AlongY + part.AlongZ - along - upright
	var boxes []work.Cuboid
	edges := []work.Len{0, v.Size[along]}
	for _, r := range v.Cut {
		if x, ok := v.Around(r); ok && v.Touches(x, v.Up.Opposite(), 1) {
			boxes, edges = append(boxes, x), append(edges, x.From[along], x.To[along])
		}
	}
	slices.Sort(edges)
	var gone []work.Span
	for i := range len(edges) - 1 {
		s := work.Span{From: edges[i], To: edges[i+1]}
		var cut []work.Span
		for _, x := range boxes {
			if x.From[along] <= s.From && s.To <= x.To[along] {
				cut = append(cut, work.Span{From: x.From[across], To: x.To[across]})
			}
		}
		if 2*free(v.Size[across], cut) <= v.Size[across] {
			gone = append(gone, s)
		}
	}
	return free(v.Size[along], gone)
}

// Length returns how long the block is along the jaws.
func (v InVice) Length() work.Len {
	along, _ := v.lies()
	return v.Size[along]
}

// Below returns the height that the jaws stay under while something is cut: what reaches
// one of them, or leaves it less than a wall, ends above them.
func (v InVice) Below(cuts ...work.Removal) work.Len {
	below := v.High()
	for _, r := range cuts {
		x, ok := v.Around(r)
		if ok && (v.Touches(x, v.Fixed, v.Wall) || v.Touches(x, v.Fixed.Opposite(), v.Wall)) {
			below = min(below, v.heights(x).From)
		}
	}
	return below
}

// inVice: a block is held over enough of its length and of what is left of its height
// below the cut, on what is left of the two faces in the jaws; and unless it is tilted it
// rests on enough of the face that is down. How far a vice opens is not in the shop's
// file.
//
// A slope or an open slot that is cut ends above the jaws. A slot is open to a side where
// less than the least wall is left beside it: the jaws would press that in.
func inVice(k *checker) {
	s, box := k.Op.Setup, k.After.Box
	if s.Device != op.Vice || s.Machine != op.MillMachine || box == nil {
		return
	}
	k.missing("mill.vice")
	v := InVice{*box, s.State.Up, s.State.Fixed, k.Before.Milled, op.LenOf(practice.LeastWall.Length(k.Material))}
	held := v.HeldFor(k.gripLeast, k.Op.Removes...)
	other := func() say.Text {
		return "clamp it to the table or stick it to a plate, or leave it longer and cut that off last"
	}
	k.atLeast(problem.GripLength, v.Length(), k.gripLeast, "of its length in the vice's jaws", true, other)
	k.atLeast(problem.GripLength, held, k.viceHold, "of its height is left for the vice's jaws", false, other)
	k.flatFaces()
	if rests := times(v.Length(), practice.ViceRest.Number()); k.onParallels() {
		of := say.Of("of the ", s.State.Up.Opposite(), " rests on the parallels")
		k.atLeast(problem.GripSurface, v.Rests(), rests, of, true, func() say.Text {
			return "pack it up where it is cut away, or cut that after"
		})
	}
	k.startsLevel()
}

// onParallels reports whether the face that is down lies on parallels: not while the block
// is tilted, as sawn, or stood up by a square.
func (k *checker) onParallels() bool {
	s := k.Op.Setup
	return !s.State.Tilted && !s.State.Upright() && s.On.Stage != work.Bought
}

// flatFaces checks that what lies against the fixed jaw was milled flat; of a squared
// block also what lies against the moving one and on the parallels, and what is cut into.
// The first face of all is milled between sawn ones.
func (k *checker) flatFaces() {
	s := k.Op.Setup
	var wanted []part.Face
	switch {
	case s.On.Stage != work.Bought:
		wanted = []part.Face{s.State.Fixed, s.State.Fixed.Opposite()}
	case len(k.Before.Faced) > 0:
		wanted = []part.Face{s.State.Fixed}
	}
	if k.onParallels() {
		wanted = append(wanted, s.State.Up.Opposite())
	}
	if k.Op.Mills == part.NoFace {
		wanted = append(wanted, s.State.Up)
	}
	for _, f := range wanted {
		if !slices.Contains(k.Before.Faced, f) {
			k.fail(problem.GripSurface, words(say.Of("the ", f, " is still as it was sawn")), words("a flat face is wanted"),
				say.Of("mill the ", f, " square before"))
		}
	}
}

// startsLevel checks that a drill starts on a level face: not where a slope was cut.
func (k *checker) startsLevel() {
	if k.Op.Kind != op.Spot && k.Op.Kind != op.Drill {
		return
	}
	for _, r := range k.Before.Milled {
		slope, ok := r.(work.Slope)
		if !ok || slope.Face != k.Op.Setup.State.Up {
			continue
		}
		if x := slope.Span(k.Before); x.Overlaps(k.Op.Along()) {
			k.fail(problem.ToolSide, words("the drill starts on a slope"), words("a level face is wanted"),
				"drill it before the slope is milled")
		}
	}
}
