package plan

import (
	"cmp"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// way is one way to hold the part from first to last: which end stands out
// first, the cylinder it is held on when it is turned end for end (its stretch,
// or offBar when it is finished in one chucking and parted off), what it lies on
// while it is worked across, and for each chucking whether a centre holds the end
// that stands out. Where it is sawn, all of the outside is cut in the first grip, the
// part is sawn off the bar, and the second grip holds any cylinder of it while the
// other end is faced. The first grip stands further out of the jaws by extra, and far
// says that the second stands as far out as its band allows. With close the first
// end is faced and centred close to the jaws, before it is drawn out. What holds it in
// each grip is in, and what the shop holds a bar in where that says nothing; a steady
// carries it while it is bored, parted off, or sawn off and faced. So many stretches from
// the first end as split says are cut in the first grip, those up to what it is held on
// next where it is 0. With light the finishing cuts are light ones,
// and roughing takes half of its depth in a pass. With single an outside
// thread is cut with a single point, on the centre, where a die would go on over the end.
// With thick the bar is left as thick as it is past the end that is parted off.
type way struct {
	first   part.End
	grip    int
	lies    lying
	centre  [2]bool
	sawn    bool
	in      [2]op.Device
	steady  [2]bool // while it is worked along the axis
	extra   op.Len
	far     bool
	close   bool
	split   int
	light   bool
	long    bool
	single  bool
	thick   bool
	barEnds bool      // the second end is faced, and bored, while it is a bar, close to the jaws
	stubs   [2]bool   // a stub on an end for its centre, so long that the tailstock clears the tool
	room    bool      // turned on past the end that is cut off, so far that a left-hand tool starts there
	necked  bool      // the bar past the end that is parted off is necked to what the blade parts, or to what is filed
	waist   bool      // what lies behind something larger is roughed to steps
	filed   bool      // it is sawn off the bar and the end filed flat at the bench
	indexed op.Device // what turns it while it is worked across at several rolls, none where it lies in the V-blocks
	blind   int       // the number of the blind bore that it is held by on an arbor, 0 where that is through
	how     picks     // the method of each feature
}

// What is in the place of a cylinder to hold it on: nothing, since it is parted off
// the bar; its bore, on a mandrel or an arbor; nothing, since a dog drives it between
// centres; or from onScrew down the inside threads of the part, on a threaded stub.
const (
	offBar  = -1
	inBore  = -2
	inDog   = -3
	onScrew = -4
)

// screw returns which inside thread a threaded stub holds it by, false where none does.
func (w way) screw() (n int, ok bool) { return onScrew - w.grip, w.grip <= onScrew }

// lying is what the work lies on while it is worked across.
type lying int

// The bar as bought comes first, so that of two ways that cost the same it wins.
const (
	onBar  lying = iota
	onGrip       // the cylinder it is held on next
	onShim       // the taper, the small end on a shim
)

// chucking is one grip in the lathe, and what is cut in it.
type chucking struct {
	setup     op.Setup
	facing    op.Setup          // in which its end is faced and centred
	axial     op.Setup          // in which it is bored and parted off
	stretches []outline.Stretch // from the end that stands out inward
	out       part.End
	stub      units.Length // the diameter of the stub that stands out beyond a thin end, 0 where there is none
	past      units.Length // how far the outside is turned on past the end that is cut off later, 0 where none is
}

// spanning returns the span that holds both.
func spanning(a, b op.Span) op.Span {
	return op.Span{From: units.Min(a.From, b.From), To: units.Max(a.To, b.To)}
}

// about returns the span of a length about its middle.
func about(middle, length units.Length) op.Span {
	return op.Span{From: middle.Minus(length.Half()), To: middle.Plus(length.Half())}
}

// inWork returns a span of the drawing as one of the work.
func inWork(s op.Span) work.Span { return work.Span{From: op.LenOf(s.From), To: op.LenOf(s.To)} }

func other(e part.End) part.End {
	if e == part.Left {
		return part.Right
	}
	return part.Left
}

// ways returns every way to hold the part that could serve, without a centre and
// close to the jaws: what a way fails by is tried with them after.
func (j *job) ways() []way {
	var list []way
	for _, first := range []part.End{part.Left, part.Right} {
		for i := range j.shape.Stretches {
			w := way{first: first, grip: i}
			_, far := j.covered(w)
			carried := len(far) > 0 || !j.thin(other(first)) // the bar holds it by that end
			w.in[1] = j.gripOf(i, op.Collet)
			if carried && w.in[1] != "" && j.reaches(w) {
				list = append(list, w)
			}
		}
		list = append(list, j.insideWays(first)...)
		if j.partsOff(first) {
			list = append(list, way{first: first, grip: offBar})
		} else {
			list = append(list, j.sawnOff(first)...)
		}
	}
	for _, first := range []part.End{part.Left, part.Right} {
		list = append(list, j.centreWays(first)...)
	}
	if len(j.shape.Holes)+len(j.shape.Slots) == 0 {
		return list
	}
	for _, w := range slices.Clone(list) {
		if w.grip >= 0 {
			w.lies = onGrip
			list = append(list, w)
		}
		if w.lies = onShim; j.seats(w) && j.Shop.VBlocks != nil {
			list = append(list, w)
		}
	}
	return list
}

// seats reports whether what is to lie in the V-blocks on a shim, a taper of what is cut
// with the second end out, is there.
func (j *job) seats(w way) bool {
	_, far := j.covered(w)
	return w.lies != onShim || seat(far).Length().Sign() > 0
}

// more returns the ways that could mend what a way failed by: a centre where
// something springs, its end faced close to the jaws, a grip further out where
// something fouls.
func (w way) more(d *attempt) []way {
	list := w.otherwise(d)
	if d.failing() == 0 {
		return list
	}
	if w.grip == offBar && !w.filed && (d.failsToPart() || len(d.failsWith(problem.ToolSide)) > 0) {
		list = append(list, d.sawnOff(w.first)...)
	}
	if d.failsWith(problem.JawRoom)[other(w.first)] && !w.far && w.grip >= 0 {
		next := w
		next.far = true
		list = append(list, next)
	}
	list = append(list, w.stiffer(d)...)
	list = append(list, w.inGroove(d)...)
	list = append(list, w.splits(d)...)
	list = append(list, w.others(d)...)
	list = append(list, w.facedFirst(d)...)
	stubbed := w.stubbed(d)
	list = append(list, stubbed...)
	for _, w := range append(stubbed, w) {
		list = append(list, w.waists(d)...)
	}
	if d.chuckings[0].past.Sign() > 0 && !w.room && d.failsWith(problem.Fouling)[w.first] {
		next := w
		next.room = true
		list = append(list, next)
	}
	return append(append(list, w.drawnOut(d)...), w.further(d)...)
}

// stiffer returns the ways in which what springs is held better, or cut lightly.
func (w way) stiffer(d *attempt) []way {
	list := w.steadied(d)
	springs := d.failsWith(problem.Overhang)
	for i, c := range d.chuckings {
		if springs[c.out] && !w.centre[i] && d.Shop.Lathe.Tailstock != nil {
			next := w
			next.centre[i] = true
			list = append(list, next)
		}
	}
	if springs[w.first] && w.centre[0] && !w.close {
		next := w
		next.close = true
		list = append(list, next)
	}
	if w.grip == offBar && d.failsToPart() {
		list = append(list, w.toPart(d.task)...)
	}
	if d.dieSprings() && !w.single {
		next := w
		next.single = true
		list = append(list, next)
	}
	if springs[w.first] || springs[other(w.first)] {
		next := w
		next.light = true
		list = append(list, next)
	}
	return list
}

// toPart returns the ways in which the bar is as thick as it was bought where it is parted off,
// or necked down there; what would want a long drill for it is turned end for end first.
func (w way) toPart(t *task) []way {
	if w.thick || w.necked {
		return nil
	}
	thick, necked := w, w
	thick.thick, necked.necked = true, true
	if slices.ContainsFunc(t.shape.Bores, t.deepThrough) {
		return []way{thick}
	}
	return []way{thick, necked}
}

// dieSprings reports whether the work stands out too far for a die, without the centre
// that it is put on in the place of, or has no room for one, where a single point would cut the thread.
func (d *attempt) dieSprings() bool {
	return d.screwCuts() && slices.ContainsFunc(d.ops, func(o *op.Op) bool {
		return o.OnEnd && o.Fails(problem.Overhang, problem.ToolSide, problem.IntoShoulder)
	})
}

// splits returns the ways in which a stretch that no tool gets at is cut with the
// other end out.
func (w way) splits(d *attempt) []way {
	var list []way
	for _, o := range d.ops {
		if !o.Fails(problem.ToolSide, problem.Fouling) || o.Setup.Machine != op.Lathe {
			continue
		}
		i := slices.IndexFunc(d.shape.Stretches, func(x outline.Stretch) bool { return x.Overlaps(o.Cuts) })
		split := d.place(w.first, i)
		if o.Setup.Out != w.first {
			split++
		}
		list = append(list, d.splitAt(w, split)...)
	}
	return list
}

// place returns which a stretch is, from 0, counted from the end that is cut first.
func (j *job) place(first part.End, i int) int {
	if first == part.Right {
		return len(j.shape.Stretches) - 1 - i
	}
	return i
}

// splitAt returns the way with so many stretches cut in the first grip, where it is
// turned end for end and they reach over what it is held on then.
func (j *job) splitAt(w way, split int) []way {
	next, least := w, 0
	next.split, next.sawn = split, false
	if w.grip >= 0 {
		least = j.place(w.first, w.grip)
	}
	if w.grip == offBar || split <= least || split > len(j.shape.Stretches) || !j.reaches(next) || !j.seats(next) {
		return nil
	}
	return []way{next}
}

// otherSplits returns the ways in which more or less of the outside is cut in the first
// grip, where the rules collide in a way.
func (j *job) otherSplits(w way) []way {
	var list []way
	if w.split == 0 {
		for n := range j.shape.Stretches {
			list = append(list, j.splitAt(w, n+1)...)
		}
	}
	return list
}

// longer returns the way in which a long drill goes in from one end, where ordinary
// ones would from both.
func (w way) longer(t *task) []way {
	if w.long || !slices.ContainsFunc(t.shape.Bores, t.halved) {
		return nil
	}
	w.long = true
	return []way{w}
}

// drawnOut returns the way in which the bar is drawn out of the jaws until it ends in them, where what
// is behind them in the first grip does not go through.
func (w way) drawnOut(d *attempt) []way {
	held, bar := d.chuckings[0].setup.Held, d.blank.Span
	behind := bar.To - held.To
	if w.first == part.Right {
		behind = held.From - bar.From
	}
	if w.extra > 0 || w.grip == inDog || behind <= 0 || !d.failsWith(problem.JawRoom)[w.first] {
		return nil
	}
	w.extra = behind
	return []way{w}
}

// further returns the ways that stand further out of the jaws, where something
// would clear then.
func (w way) further(d *attempt) []way {
	var list []way
	for _, f := range d.further {
		next := w
		switch {
		case f.out == w.first && w.extra == 0:
			next.extra = f.by
		case f.out != w.first && !w.far && w.grip >= 0:
			next.far = true
		default:
			continue
		}
		list = append(list, next)
	}
	return list
}

// failsWith returns with which ends out a check fails.
func (d *attempt) failsWith(code problem.Code) map[part.End]bool {
	ends := map[part.End]bool{}
	for _, o := range d.ops {
		if o.Fails(code) {
			ends[o.Setup.Out] = true
		}
	}
	return ends
}

// inNut returns what a nut holds an outside thread by: all of it but the chamfer
// at its end, a pitch at the most.
func inNut(x outline.Thread) op.Span {
	s, chamfer := x.Span, x.Designation.Pitch.Length(1)
	if x.From == part.Left {
		s.From = s.From.Plus(chamfer)
	} else {
		s.To = s.To.Minus(chamfer)
	}
	return s
}

// covered returns the stretches that are cut with the first end out, from that
// end to the far side of the grip, and the rest.
func (j *job) covered(w way) (near, far []outline.Stretch) {
	all := j.shape.Stretches
	switch {
	case w.split > 0 && w.first == part.Left:
		return all[:w.split], all[w.split:]
	case w.split > 0:
		return all[len(all)-w.split:], all[:len(all)-w.split]
	case w.grip == offBar || w.sawn:
		return all, nil
	case w.first == part.Left:
		n := w.grip + 1
		if all[w.grip].Thread != nil {
			n += widest(all[n:])
		}
		return all[:n], all[n:]
	}
	n := w.grip
	if all[w.grip].Thread != nil {
		before := slices.Clone(all[:n])
		slices.Reverse(before)
		n -= widest(before)
	}
	return all[n:], all[:n]
}

// widest returns how many stretches there are up to the last of the largest ones, which
// stands against the nut that a thread is held in. One that only falls from what the one before it
// has there is none of them.
func widest(list []outline.Stretch) int {
	n := 0
	for i, x := range list {
		falls := i > 0 && n == i && x.Large().Equal(list[i-1].Large()) && x.Kind() != outline.Cylinder &&
			!units.Max(x.Left.Turned, x.Right.Turned).Less(x.Large())
		if n == 0 || list[n-1].Large().Cmp(x.Large()) <= 0 && !falls {
			n = i + 1
		}
	}
	return n
}

// seat returns the longest plain taper of a side: what lies in the V-blocks on
// a shim.
func seat(side []outline.Stretch) outline.Stretch {
	var best outline.Stretch
	for _, x := range side {
		if x.Kind() == outline.Taper && best.Length().Less(x.Length()) {
			best = x
		}
	}
	return best
}

// reaches reports whether every outside thread lies within what is cut from its
// end.
func (j *job) reaches(w way) bool {
	near, far := j.covered(w)
	for _, t := range j.shape.Threads {
		side := near
		if t.From != w.first {
			side = far
		}
		if !t.Inside && !slices.ContainsFunc(side, func(x outline.Stretch) bool { return x.Overlaps(t.Span) }) {
			return false
		}
	}
	return true
}

// partsOff reports whether everything can be cut with one end out and the part
// cut off the bar: nothing starts at the other end.
func (j *job) partsOff(out part.End) bool { return j.Shop.Parting != nil && j.startsAll(out) }

// startsAll reports whether nothing starts at the other end.
func (j *job) startsAll(out part.End) bool {
	return !slices.ContainsFunc(j.shape.Threads, func(t outline.Thread) bool { return t.From != out }) &&
		!slices.ContainsFunc(j.shape.Bores, func(b outline.Bore) bool { return b.From != out && !b.Through })
}

// hold returns the task of making the part in one way.
func (j *job) hold(w way) *task {
	t := &task{job: j, way: w}
	t.near, t.far = j.covered(w)
	if w.grip != offBar && w.grip != inDog && !w.sawn {
		t.near, t.far = t.worked(t.near, t.far)
	}
	switch w.grip {
	case inDog:
		t.chuckings = []chucking{t.dogged(w.first, t.near), t.dogged(other(w.first), t.far)}
	case offBar:
		t.chuckings = []chucking{t.firstChucking()}
	default:
		t.chuckings = []chucking{t.firstChucking(), t.secondChucking()}
	}
	for i := range t.chuckings {
		t.steadies(i)
	}
	if t.barEnds && t.grip != inDog {
		t.chuckings[1].axial = t.chuckings[1].facing
	}
	t.blank = t.barBlank()
	return t
}

// cylinder returns a stretch as a surface to be held on.
func cylinder(x outline.Stretch) op.Surface {
	if x.Facets != nil {
		return op.SurfaceOf(op.Polygon, x.Span, x.Left.Turned)
	}
	return op.SurfaceOf(op.Cylinder, x.Span, x.Left.Turned)
}

// behind returns the span of a length that begins at z and runs away from the
// end that stands out.
func behind(z, length op.Len, out part.End) work.Span {
	if out == part.Left {
		return work.Span{From: z, To: z + length}
	}
	return work.Span{From: z - length, To: z}
}

// inward returns z moved by a length away from the end that stands out.
func inward(z, by op.Len, out part.End) op.Len {
	if out == part.Left {
		return z + by
	}
	return z - by
}

// firstChucking holds the bar as bought, clear of what is cut and of what the
// parting blade takes. The stretches run from the end that stands out.
func (t *task) firstChucking() chucking {
	c := chucking{out: t.first, stretches: slices.Clone(t.near)}
	if t.first == part.Right {
		slices.Reverse(c.stretches)
	}
	z := t.inmost(c)
	var cutOff units.Length
	switch {
	case t.grip == offBar && !t.filed:
		if cutOff = t.parting(); t.necked { // the blade wants room beside it
			cutOff = cutOff.Times(2)
		}
	case t.sawn || t.filed:
		cutOff = practice.SawnFace.Length().Plus(practice.Kerf.Length())
	}
	if end := other(t.first); z.Equal(endOf(t.shape, end)) && !t.thin(end) && !t.thick {
		if t.room {
			cutOff = units.Max(cutOff, practice.RoomPast.Length())
		}
		c.past = cutOff
	}
	clear := units.Max(practice.RunOut.Length(), t.jawsBehind(c, z)).Plus(cutOff)
	device := cmp.Or(t.in[0], t.barHolder())
	face := t.besideIndex(inward(op.LenOf(z), op.LenOf(clear)+t.way.extra, t.first))
	held := t.heldBehind(device, face)
	c.setup = t.chuck(op.Stock, behind(face, op.LenOf(held), t.first), t.first, t.centre[0])
	c.setup.Device = device
	c.facing, c.stub = c.setup.Plain(), t.stubDia(t.first)
	if t.way.close {
		near := inward(t.stubEnd(t.first), op.LenOf(practice.CloseOut.Length()), t.first)
		c.facing.Held = behind(near, op.LenOf(held), t.first)
	}
	return c
}

// heldBehind returns how much of the bar a device holds at first, its jaws' face at a place: all that
// goes in the jaws, but no more than there is where both its ends are faced first, or where more than
// that would only be sawn off what is indexed.
func (t *task) heldBehind(device op.Device, face op.Len) units.Length {
	held, enough := t.gripped(device, t.bar), units.Max(t.leastGrip(device, t.bar), t.leastGrip(op.Collet, t.bar))
	if t.barEnds { // there is no more of it than the part
		end := t.stubEnd(other(t.first))
		held = units.Min(held, max(end-face, face-end).Length())
	}
	if room := t.barBehind(face); t.indexed != "" && enough.Cmp(room) <= 0 {
		held = units.Min(held, room)
	}
	return held
}

// inmost returns where the inmost of the stretches of a chucking ends, by the jaws; where there is
// none, the end that stands out.
func (t *task) inmost(c chucking) units.Length {
	n := len(c.stretches)
	switch {
	case n == 0:
		return endOf(t.shape, c.out)
	case c.out == part.Left:
		return c.stretches[n-1].To
	}
	return c.stretches[n-1].From
}

// worked returns the stretches of the first and the second grip without what lies by the jaws in the
// first and stays as the bar was bought, so that they may stand on it: of that only the chamfers of its
// edges are cut, each in the grip whose end they face.
func (t *task) worked(near, far []outline.Stretch) (first, second []outline.Stretch) {
	if t.first == part.Right {
		near, far = backward(near), backward(far)
	}
	for n := len(near); n > 0 && t.asBought(near[n-1]); n = len(near) {
		x := near[n-1]
		left, right := x, x
		left.To, right.From = t.unchamfered(x).From, t.unchamfered(x).To
		if t.first == part.Right {
			left, right = right, left
		}
		near = near[:n-1]
		if right.Length().Sign() > 0 {
			far = append([]outline.Stretch{right}, far...)
		}
		if left.Length().Sign() > 0 {
			near = append(slices.Clone(near), left)
			break
		}
	}
	if t.first == part.Right {
		near, far = backward(near), backward(far)
	}
	return near, far
}

// backward returns stretches from the other end.
func backward(list []outline.Stretch) []outline.Stretch {
	list = slices.Clone(list)
	slices.Reverse(list)
	return list
}

// secondChucking holds the band that was turned for it: with as much of it in the
// jaws as goes in, or as little as must.
func (t *task) secondChucking() chucking {
	switch _, screwed := t.screw(); {
	case t.grip == inBore:
		return t.onArbor()
	case screwed:
		return t.onStub()
	}
	g := t.shape.Stretches[t.grip]
	c := chucking{out: other(t.first), stretches: slices.Clone(t.far)}
	if c.out == part.Right {
		slices.Reverse(c.stretches)
	}
	device := cmp.Or(t.in[1], t.gripOf(t.grip))
	need, clear, band := t.leastGrip(device, t.mostTurned(g)), practice.RunOut.Length(), t.unchamfered(g)
	if device == op.SplitNut { // it is run up to the end of the thread
		clear, band = units.Length{}, inNut(*g.Thread)
	}
	z := band.From
	if c.out == part.Right {
		z = band.To
	}
	clear = units.Max(clear, t.jawsBehind(c, z))
	clear = units.Min(clear, band.Length().Minus(need))
	if t.way.far {
		clear = band.Length().Minus(need)
	}
	held := band.Length().Minus(clear)
	if most := t.longest(device); most != nil {
		held = units.Min(held, *most)
	}
	face := inward(op.LenOf(z), op.LenOf(clear), c.out)
	c.setup = t.chuck(cylinder(g), behind(face, op.LenOf(held), c.out), c.out, t.centre[1])
	c.setup.Device = device
	c.facing, c.stub = c.setup.Plain(), t.stubDia(c.out)
	if t.barEnds {
		c.facing = t.asBar(c.out)
	}
	return c
}

// stubEnd returns the z of an end of the part, or of the stub on it for a centre.
func (t *task) stubEnd(end part.End) op.Len {
	return inward(op.LenOf(endOf(t.shape, end)), -op.LenOf(t.stub(end)), end)
}

// asBar holds the bar as bought close to an end, or, where it does not go through the jaws,
// drawn out until it ends in them.
func (t *task) asBar(out part.End) op.Setup {
	device := cmp.Or(t.in[0], t.barHolder())
	held := t.gripped(device, t.bar)
	near := inward(t.stubEnd(out), op.LenOf(practice.CloseOut.Length()), out)
	end := t.stubEnd(other(out)) // there is no more of it than the part
	in := behind(near, op.LenOf(units.Min(held, max(end-near, near-end).Length())), out)
	s := t.chuck(op.Stock, in, out, false)
	s.Device = device
	if t.certifies.GoesThrough(s, op.LenOf(t.bar)) {
		return s
	}
	if out == t.first { // the other end is as it was sawn
		end = inward(end, op.LenOf(practice.SawnFace.Length()), out)
	}
	if drawn := behind(inward(end, -op.LenOf(held), out), op.LenOf(held), out); !drawn.Covers(in) {
		s.Held = drawn
	}
	return s
}

// facedFirst returns the way in which the second end is faced, and bored, while the
// work is a bar, where that fails when it is turned end for end.
func (w way) facedFirst(d *attempt) []way {
	last := d.chuckings[len(d.chuckings)-1]
	if w.barEnds || w.sawn || len(d.chuckings) < 2 {
		return nil
	}
	fails := slices.ContainsFunc(d.ops, func(o *op.Op) bool {
		return o.Setup.Out == last.out && (o.Setup == last.facing || o.Axial) && failed(o)
	})
	if !fails {
		return nil
	}
	w.barEnds = true
	return []way{w}
}

// chuck returns the set-up in the lathe's chuck.
func (t *task) chuck(on op.Surface, held work.Span, out part.End, centre bool) op.Setup {
	s := op.Setup{Machine: op.Lathe, Device: op.Chuck, On: on, Held: held, Out: out}
	if centre {
		s.Support = op.AtCentre
	}
	return s
}

// endDia returns the diameter an end is turned to.
func (j *job) endDia(e part.End) units.Length { return j.shape.End(e).Turned }

// thin reports whether an end is too thin for a centre.
func (j *job) thin(e part.End) bool { return j.endDia(e).Less(practice.ThinEnd.Length()) }

// inBlocks returns what lies in the V-blocks while the bar is worked across, and
// where: the bar as bought about the holes; the cylinder it is held on next; on a
// shim the taper that is cut by then.
func (t *task) inBlocks(holes op.Span) (on op.Surface, held work.Span) {
	switch t.lies {
	case onShim:
		x := seat(t.far)
		return op.SurfaceOf(op.Cone, x.Span, x.Large()), inWork(t.unchamfered(x))
	case onGrip:
		g := t.shape.Stretches[t.grip]
		if g.Thread != nil { // its blank, short of the chamfer that it starts with
			return cylinder(g), inWork(inNut(*g.Thread))
		}
		return cylinder(g), inWork(t.unchamfered(g))
	}
	out := op.LenOf(t.bar.Half())
	s := inWork(holes)
	lies := work.Span{From: s.From - out, To: s.To + out}.Meet(t.blank.Span)
	if end := op.LenOf(t.shape.Length); t.first == part.Right { // it was faced
		lies.To = min(lies.To, end)
	} else {
		lies.From = max(lies.From, 0)
	}
	return op.Stock, lies
}

// unchamfered returns what the chamfers at the edges of a stretch leave of it.
func (j *job) unchamfered(x outline.Stretch) op.Span {
	s := x.Span
	for _, c := range j.shape.Chamfers {
		switch {
		case !c.On(x):
		case c.Z.Equal(x.From):
			s.From = units.Max(s.From, c.Inner())
		default:
			s.To = units.Min(s.To, c.Inner())
		}
	}
	return s
}

// gripNote says how the work is held without harm: how much of it, and what
// keeps a finished band or a soft stuff from being marked.
func (t *task) gripNote(o *op.Op, c chucking) {
	switch {
	case o.Setup.On == op.Stock:
		if inJaws(c.setup) && t.marksBought(o.Setup.Held) {
			o.Set("over", say.Text("card"), "or a strip of brass: what the jaws hold stays as it was bought")
		}
	case t.grip == inBore && t.blind > 0:
		o.Set("reaches in", c.setup.Held.Length().Length(), "the arbor into the bore, short of the floor")
		o.Set("arbor", say.Text("wrung on"), "turned where it stays, so that the bore just goes on; a flat filed ",
			"along it lets the air out, and the work comes off with a twist")
	case c.setup.On.Shape == op.Hole:
		o.Set("reaches in", c.setup.Held.Length().Length(),
			"what it is held on into the bore, short of the end that is faced")
	case c.setup.On != op.Stock:
		o.Set("held over", c.setup.Held.Length().Length(),
			spared(c.setup.Device))
	}
	if c.setup.Device == op.FourJaw {
		o.Set("centred", say.Text("by indicator"), "each jaw is set by itself")
	}
	switch m := t.material; {
	case c.setup.On.Shape == op.Hole: // no jaws press on it
	case m.Has(materials.Crushes):
		o.Set("grip", say.Text("light"),
			"on the whole length of the jaws: it crushes and splits, a split bush spreads the jaws")
	case m.Has(materials.ThreeSided):
		o.Set("grip", say.Text("light"), "it gives way and comes out three-sided: a split bush spreads the jaws")
	}
}

// marksBought reports whether what is held of the bar stays on the part as it was bought.
func (t *task) marksBought(held work.Span) bool {
	return slices.ContainsFunc(t.shape.Stretches, func(x outline.Stretch) bool {
		return t.asBought(x) && inWork(x.Span).Meet(held).Length() > 0
	})
}
