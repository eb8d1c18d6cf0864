package plan

import (
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/certify"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
	"setover/tapers/facets"
)

// clamping is a way to hold a squared block in the vice: which face is up, and which lies
// against the fixed jaw. A slope lies level under the cutter where it is tilted, along x
// and then along y.
type clamping struct {
	up, fixed   part.Face
	tilted      bool
	tilt, tiltY op.Deg
}

// setup returns the set-up.
func (c clamping) setup() op.Setup {
	s := inVice(work.Finished, c.up, c.fixed)
	s.State.Tilted, s.State.Tilt, s.State.TiltY = c.tilted, c.tilt, c.tiltY
	return s
}

// trues returns the faces that must be flat by then: the one that is cut into, those that
// places on it are measured from, and those in the jaws.
func (c clamping) trues() []part.Face {
	u, v, _ := c.up.Axes()
	return []part.Face{c.up, u.Datum(), v.Datum(), c.fixed, c.fixed.Opposite()}
}

// onFace returns a face, the top where none is said.
func onFace(f part.Face) part.Face {
	if f == part.NoFace {
		return part.Top
	}
	return f
}

// into returns the clampings in which a face is cut into: on either pair of the faces
// beside it, its datum against the fixed jaw.
func into(f part.Face) []clamping {
	u, v, _ := f.Axes()
	list := []clamping{{up: f, fixed: v.Datum()}, {up: f, fixed: u.Datum()}}
	if u != part.AlongX { // an end is held on the long sides first
		slices.Reverse(list)
	}
	return list
}

// blockCut is a slope, a slot or a hole of a block, the clampings that it may be cut in,
// and how it is made.
type blockCut struct {
	removal work.Removal
	in      []clamping
	make    func(t *task, c clamping) steps
}

// holeOf, slotOf and slopeOf return what they remove as they are drawn.
func holeOf(h part.BlockHole) work.BlockHole {
	return work.BlockHole{
		Face: onFace(h.Face), X: op.LenOf(h.X), Y: op.LenOf(h.Y), Dia: op.LenOf(h.Dia), Depth: work.Optional(h.Depth),
	}
}

func slotOf(s part.Slot) work.BlockSlot {
	return work.BlockSlot{
		Face: onFace(s.Face), X: op.LenOf(s.X), Y: op.LenOf(s.Y), Length: op.LenOf(s.Length), Width: op.LenOf(s.Width),
		Angle: op.DegOf(s.Angle), Depth: work.Optional(s.Depth),
	}
}

func slopeOf(s part.Slope) work.Slope {
	return work.Slope{
		Face: onFace(s.Face), FromX: op.LenOf(s.FromX), ToX: op.LenOf(s.ToX), AlongX: op.DegOf(s.AlongX),
		AlongY: op.DegOf(s.AlongY),
	}
}

// cuts returns the cuts of a block, each with the clampings that hold the whole block for
// it; one that none holds has them all, so that the plan says why. What goes through is
// cut from its own face or from the one across. A slope is tilted between the jaws in the
// plane that they leave free: along x on the front and the back, along y alone on the ends
// too; along both on the front and the back, in a vice that tilts.
func (j *job) cuts() (list []blockCut) {
	from := func(f part.Face, through bool) []clamping {
		ways := into(onFace(f))
		if through {
			ways = append(ways, into(onFace(f).Opposite())...)
		}
		return ways
	}
	for i, h := range j.block.Holes {
		for _, d := range j.drillings(h, i+1) {
			list = append(list, blockCut{holeOf(d.BlockHole), from(d.Face, d.Depth == nil), func(t *task, c clamping) steps {
				return blockHole(t, d, c)
			}})
		}
	}
	for i, s := range j.block.Slots {
		for _, m := range j.millings(s, i+1) {
			list = append(list, blockCut{slotOf(m.Slot), from(m.Face, m.Depth == nil), func(t *task, c clamping) steps {
				return blockSlot(t, m, c)
			}})
		}
	}
	for i, s := range j.block.Slopes {
		list = append(list, blockCut{slopeOf(s), tilts(s), func(t *task, c clamping) steps {
			return slope(t, s, i+1, c)
		}})
	}
	for i, c := range list {
		fits := slices.DeleteFunc(slices.Clone(c.in), func(x clamping) bool { return !j.holdsFor(x, c.removal) })
		if len(fits) > 0 {
			list[i].in = fits
		}
	}
	return list
}

// tilts returns the clampings that a slope is milled in.
func tilts(s part.Slope) []clamping {
	c := clamping{up: onFace(s.Face), fixed: part.Front, tilted: true}
	set, err := facets.SlopeOf(facets.SlopeInput{AlongX: s.AlongX, AlongY: s.AlongY})
	if err == nil { // else it is refused where it is milled
		c.tilt, c.tiltY = op.DegOf(set.First), op.DegOf(set.Second)
	}
	if s.AlongX.Deg() != 0 {
		return []clamping{c}
	}
	onEnds := c
	onEnds.fixed = part.LeftF
	return []clamping{onEnds, c}
}

// holdsFor reports whether the whole block is held in a clamping while something is cut.
func (j *job) holdsFor(c clamping, list ...work.Removal) bool {
	least := op.LenOf(practice.GripLeast.Length())
	v := j.clampedIn(c)
	return v.Length() >= least && v.HeldFor(least, list...) >= op.LenOf(practice.ViceHold.Length())
}

// whole returns the block as it is squared.
func (j *job) whole() work.Block {
	return work.Block{Size: [3]op.Len{op.LenOf(j.block.X), op.LenOf(j.block.Y), op.LenOf(j.block.Z)}}
}

// along returns where along x a removal cuts.
func (j *job) along(r work.Removal) op.Span {
	x, _ := j.whole().Around(r)
	return op.Span{From: x.From[0].Length(), To: x.To[0].Length()}
}

// clampedIn returns how the squared block lies in a clamping after some cuts.
func (j *job) clampedIn(c clamping, list ...work.Removal) certify.InVice {
	return certify.InVice{
		Block: j.whole(), Up: c.up, Fixed: c.fixed, Cut: list, Wall: op.LenOf(practice.LeastWall.Length(j.material)),
	}
}

// spoilt reports whether a cut leaves too little to hold the block by in a clamping while
// something else is cut, or to rest it on, where the whole block is held so.
func (j *job) spoilt(c clamping, by work.Removal, list ...work.Removal) bool {
	if !j.holdsFor(c, list...) {
		return false
	}
	v := j.clampedIn(c, by)
	rests := units.FromFloat(v.Length().MM() * practice.ViceRest.Number())
	lies := !c.tilted && !c.setup().State.Upright()
	held := v.HeldFor(op.LenOf(practice.GripLeast.Length()), list...)
	return held < op.LenOf(practice.ViceHold.Length()) || lies && v.Rests() < op.LenOf(rests)
}

// spoils returns the grips of this way to hold the block that a cut spoils.
func (t *task) spoils(by work.Removal) (list []op.Grip) {
	add := func(c clamping, cut ...work.Removal) {
		if g := c.setup().Grip(); !slices.Contains(list, g) && t.spoilt(c, by, cut...) {
			list = append(list, g)
		}
	}
	for i, c := range t.cuts() {
		add(t.clamps.of[i], c.removal)
	}
	for _, c := range t.clamps.squared() {
		add(c)
	}
	return list
}

// clampings is a way to hold a block: a clamping for every cut, and what lies against the
// fixed jaw while its ends are milled, the front or the bottom.
type clampings struct {
	ends part.Face
	of   []clamping
}

// squared are the clampings that the ends and the top are milled in.
func (w clampings) squared() []clamping {
	return []clamping{{up: part.LeftF, fixed: w.ends}, {up: part.RightF, fixed: w.ends}, {up: part.Top, fixed: part.Front}}
}

// mostClampings is how many ways to hold a block are listed: of the cuts that are left
// then only the first clamping is.
const mostClampings = 4096

// mostTried is how many of them are planned at the most.
const mostTried = 128

// held returns the ways to hold a block, those of the fewest clampings first, of as many
// those that hold it on the front and the back while the ends are milled.
//
// Cuts that may be cut in the same clampings and spoil none are held alike: to part them
// only adds a clamping.
func (j *job) held() (list []clampings) {
	cuts := j.cuts()
	ways := [][]clamping{nil}
	for n, c := range cuts {
		alike := slices.IndexFunc(cuts[:n], func(d blockCut) bool {
			return slices.Equal(c.in, d.in) && !j.harms(c, cuts) && !j.harms(d, cuts)
		})
		var more [][]clamping
		for _, w := range ways {
			if alike >= 0 {
				more = append(more, append(slices.Clone(w), w[alike]))
				continue
			}
			for i, x := range c.in {
				if i == 0 || len(ways)*len(c.in) <= mostClampings {
					more = append(more, append(slices.Clone(w), x))
				}
			}
		}
		ways = more
	}
	fits := func(f part.Face) bool { return j.holdsFor(clamping{up: part.LeftF, fixed: f}) }
	for _, f := range []part.Face{part.Front, part.Bottom} {
		if !fits(f) && (f == part.Bottom || fits(part.Bottom)) {
			continue
		}
		for _, w := range ways {
			list = append(list, clampings{f, w})
		}
	}
	slices.SortStableFunc(list, func(a, b clampings) int { return a.count() - b.count() })
	return list
}

// count returns how many clampings a way has, those that square the ends and the top
// included.
func (w clampings) count() int {
	list := w.squared()
	for _, c := range w.of {
		if !slices.Contains(list, c) {
			list = append(list, c)
		}
	}
	return len(list)
}

// harms reports whether a cut spoils any clamping.
func (j *job) harms(c blockCut, cuts []blockCut) bool {
	for _, d := range cuts {
		for _, x := range d.in {
			if j.spoilt(x, c.removal, d.removal) {
				return true
			}
		}
	}
	return slices.ContainsFunc(part.Faces, func(f part.Face) bool {
		return slices.ContainsFunc(into(f), func(x clamping) bool { return j.spoilt(x, c.removal) })
	})
}

// clamped returns the way to hold a block that says no to least, and of those the one of
// the fewest set-ups. The ways come by their clampings, which are the fewest set-ups that
// each can have: the first that keeps to that is the best. A way that fails is tried again
// in the orders that let its first step be done that could not be.
func (j *job) clamped() (best *attempt, rings problem.List, err error) {
	n := 0
	for _, way := range j.held() {
		for todo := []bonds{{}}; len(todo) > 0; todo = todo[1:] {
			n++
			if n > mostTried || best != nil && best.isHeld() && way.count()+ofSaw >= best.cost.Setups {
				return best, rings, nil
			}
			d, ring, err := j.attempt(squaredBlock(j, way), todo[0])
			switch {
			case err != nil:
				return nil, nil, err
			case ring != nil:
				if !slices.ContainsFunc(rings, func(p problem.Problem) bool { return p.Error() == ring.Error() }) {
					rings.Add(ring)
				}
			case d != nil:
				d.lastHalves()
				todo = append(todo, todo[0].more(d)...)
				if best == nil || d.betterThan(best) {
					best = d
				}
			}
		}
	}
	return best, rings, nil
}

// isHeld reports whether nothing stands against how the block is held: what else says no,
// a drill that is too short or a size that is not kept, does so in every clamping.
func (d *attempt) isHeld() bool {
	return !slices.ContainsFunc(d.ops, func(o *op.Op) bool {
		return o.Fails(problem.GripLength, problem.GripSurface, problem.ToolSide)
	})
}

// lastHalves says of a hole or a slot that is cut from both faces that the later half makes
// it.
func (d *attempt) lastHalves() {
	seen := map[string]*op.Op{}
	for _, i := range d.sequence {
		o := d.ops[i]
		near := strings.Replace(o.ID, "-far", "", 1)
		if before := seen[near]; before != nil {
			o.Makes, before.Makes = slices.Concat(before.Makes, o.Makes), nil
		}
		seen[near] = o
	}
}

// ofSaw is how many set-ups a block takes beside its clampings in the vice that are
// counted: the saw, the bottom, the front and the back.
const ofSaw = 4

// blockSlot mills a slot.
func blockSlot(t *task, s milling, c clamping) steps {
	base := op.Op{Setup: c.setup(), Cuts: t.along(slotOf(s.Slot))}
	w := slot(t, base, s, s.X, s.Y)
	if len(w.ops) == 0 {
		return w
	}
	last := w.ops[len(w.ops)-1]
	switch {
	case s.half:
		last.Set("depth", s.Depth.Up(), "to the middle")
	case s.Depth != nil:
		last.Set("depth", s.Depth.Down(), "never deeper")
	}
	last.Removed(slotOf(s.Slot))
	return w
}

// millings returns a slot as it is milled: one through the block that is deeper than its end
// mill is fluted is milled from both faces, half each, so that the two meet.
func (j *job) millings(s part.Slot, n int) []milling {
	whole := milling{Slot: s, n: n}
	_, _, deepest := s.Face.Axes()
	if s.Depth != nil || j.block.Size(deepest).Cmp(practice.LongMillFlute.Length(s.Width)) <= 0 {
		return []milling{whole}
	}
	near, far := whole, whole
	near.half, far.half, far.far = true, true, true
	near.Depth = new(j.block.Size(deepest).Half())
	far.Depth, far.Face = new(j.block.Size(deepest).Minus(*near.Depth)), onFace(s.Face).Opposite()
	far.ChainDrill = false
	return []milling{near, far}
}
