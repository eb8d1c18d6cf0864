package certify

import (
	"encoding/json"
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// Over is what spares a finished surface from what holds it.
type Over string

// What spares it.
const (
	Bare         Over = ""
	Card         Over = "card"
	InSoftJaws   Over = "soft-jaws"
	InBush       Over = "bush"
	InColletHole Over = "collet"
)

// MarshalJSON writes null where nothing does.
func (o Over) MarshalJSON() ([]byte, error) {
	if o == Bare {
		return []byte("null"), nil
	}
	return json.Marshal(string(o))
}

// Sides is the shape of what is held: the number of sides, 0 where it is round.
type Sides int

// MarshalJSON writes "round" or the number.
func (s Sides) MarshalJSON() ([]byte, error) {
	if s == 0 {
		return []byte(`"round"`), nil
	}
	return json.Marshal(int(s))
}

// Grip is what is held. Dia is across the flats of a polygon, and of an odd
// number of sides from a flat to the corner opposite; inside it is the bore's,
// or the thread's.
type Grip struct {
	From   work.Len   `json:"from_mm"`
	To     work.Len   `json:"to_mm"`
	Dia    work.Len   `json:"dia_mm"`
	Shape  Sides      `json:"shape"`
	Stage  work.Stage `json:"stage"`
	Inside bool       `json:"inside"`
	Over   Over       `json:"over"`

	swing work.Len // the largest diameter of what is held, through its corners
	one   bool     // it is one surface, over all that is held
}

// Span returns where it is held.
func (g Grip) Span() work.Span { return work.Span{From: g.From, To: g.To} }

// Through is what reaches further back than the jaws are long.
type Through struct {
	Length work.Len `json:"length_mm"`
	Dia    work.Len `json:"dia_mm"`
}

// Carried is what holds the end that stands out.
type Carried struct {
	Kind op.Support `json:"kind"`
	At   *work.Len  `json:"at_mm"`
	Dia  *work.Len  `json:"dia_mm"` // of the mouth or the journal
}

// MarshalJSON writes its kind as a word, "none" too.
func (c Carried) MarshalJSON() ([]byte, error) {
	type plain Carried
	p := plain(c)
	if p.Kind == op.NoSupport {
		p.Kind = "none"
	}
	return json.Marshal(p)
}

// Held is how the work is held, for the JSON of a set-up. Grip is nil where
// nothing is gripped, JawFace and StickOut where there are no jaws.
type Held struct {
	Grip     *Grip     `json:"grip"`
	JawFace  *work.Len `json:"jaw_face_mm"`
	StickOut *work.Len `json:"stick_out_mm"`
	Through  *Through  `json:"through"`
	Support  Carried   `json:"support"`
}

// Hold returns how the work is held as it stands before an operation.
func Hold(c Case) Held {
	s := c.Op.Setup
	h := Held{Support: c.carried()}
	switch s.Device {
	case op.Mandrel, op.Arbor:
		h.Grip = c.gripInside()
	case op.ThreadedStub:
		h.Grip = c.gripScrewed()
	case op.Centres:
		if s.Out != "" {
			h.Grip = c.gripDogged()
		}
		return h
	case op.ByHand:
	default:
		if s.Held.Length() > 0 {
			h.Grip = c.gripOutside()
		}
	}
	if !s.Device.Jaws() || h.Grip == nil {
		return h
	}
	face := s.Face()
	h.JawFace, h.StickOut = &face, new(away(c.Before.Reach(s.Out), face, s.Out))
	back := other(s.Out)
	behind := work.Span{From: c.Before.Reach(back), To: c.Before.Reach(back)}
	if end := c.jawEnd(); away(behind.From, end, back) > 0 {
		behind = order(behind.From, end)
		h.Through = &Through{behind.Length(), c.Before.Largest(behind)}
	}
	return h
}

// order returns the span between two places.
func order(a, b work.Len) work.Span { return work.Span{From: min(a, b), To: max(a, b)} }

// jawEnd returns the z of the inner end of the jaws: as far behind their face as
// they are long, or as the work is held where that is not known. A split nut ends
// where the work is held: it is turned for it.
func (c Case) jawEnd() work.Len {
	s := c.Op.Setup
	long := s.Held.Length()
	if j, ok := c.jawsOn(s.Device); ok && j.length > 0 && s.Device != op.SplitNut {
		long = j.length
	}
	return near(beyond(s.Face(), other(s.Out), long), s.Out)
}

// gripOutside returns the outside that is held. What lies in V-blocks or a vice
// may end in them; jaws hold all along.
func (c Case) gripOutside() *Grip {
	s := c.Op.Setup
	held := s.Held
	if !s.Device.Jaws() {
		held = held.Meet(c.Before.Span())
	}
	g := &Grip{From: held.From, To: held.To, swing: c.Before.Largest(held)}
	p, ok := c.Before.Surface(held)
	if !ok { // what is not one surface is told by its largest diameter
		g.Dia = g.swing
		return g
	}
	g.one, g.Dia, g.Stage = true, p.Left, p.Stage
	if p.Sides > 1 {
		g.Shape = Sides(p.Sides)
		g.Dia = across(p, c.Before)
	}
	if g.Stage >= work.Finished {
		g.Over = spares(s.Device)
	}
	return g
}

// spares returns what keeps a finished surface from being marked in a device.
func spares(d op.Device) Over {
	switch d {
	case op.SoftJaws:
		return InSoftJaws
	case op.Collet, op.ColletBlock:
		return InColletHole
	case op.SplitNut:
		return InBush
	case op.Chuck, op.FourJaw, op.Vice, op.DividingHead, op.RotaryTable:
		return Card
	}
	return Bare
}

// gripDogged returns what the dog is clamped on.
func (c Case) gripDogged() *Grip {
	s := c.dog().Meet(c.Before.Span())
	g := &Grip{From: s.From, To: s.To, Dia: c.Before.Largest(s)}
	if p, ok := c.Before.Surface(s); ok {
		g.one, g.Dia, g.Stage = true, p.Left, p.Stage
		if p.Sides > 1 {
			g.Shape, g.Dia = Sides(p.Sides), across(p, c.Before)
		}
	}
	if g.Stage >= work.Finished {
		g.Over = Card
	}
	g.swing = c.Before.Largest(s)
	return g
}

// across returns the size across the flats of a polygon: as they were cut, or of
// a bar that was bought so from its corners,
//
//	even sides  C·cos(180°/n)
//	odd sides   C·(1 + cos(180°/n))/2, from a flat to the corner opposite
//
// Source: elementary.
func across(p work.Piece, w work.State) work.Len {
	if flats, ok := w.AcrossFlats(p.From + p.Length()/2); ok {
		return flats
	}
	cos := math.Cos(math.Pi / float64(p.Sides))
	if p.Sides%2 == 1 {
		return times(p.Left, (1+cos)/2)
	}
	return times(p.Left, cos)
}

// gripInside returns the bore that a mandrel or an arbor fills: the widest that
// is as wide all along.
func (c Case) gripInside() *Grip {
	held := c.Op.Setup.Held
	g := &Grip{From: held.From, To: held.To, Inside: true, Stage: work.Finished}
	for _, b := range c.Before.Bores {
		if s := plain(b, c.Before.Length); b.Dia > g.Dia && s.Covers(held) && held.Length() > 0 {
			g.Dia, g.one = b.Dia, true
		}
	}
	for _, b := range c.Before.Bores { // a wider one in a part of it
		if s := plain(b, c.Before.Length); b.Dia > g.Dia && s.Overlaps(held) {
			g.one = false
		}
	}
	for _, t := range c.Before.Threads {
		if t.Inside && (work.Span{From: t.From, To: t.To}).Overlaps(held) {
			g.Stage = work.Threaded
		}
	}
	g.swing = g.Dia
	return g
}

// plain returns where a bore has its full diameter, empty where it is a cone.
func plain(b work.Bore, length work.Len) work.Span {
	switch {
	case b.EndDia != 0 && b.EndDia != b.Dia:
		return work.Span{}
	case b.From == part.Right:
		return order(length-b.Start, length-b.Depth)
	}
	return work.Span{From: b.Start, To: b.Depth}
}

// gripScrewed returns the inside thread that a threaded stub fills.
func (c Case) gripScrewed() *Grip {
	held := c.Op.Setup.Held
	g := &Grip{From: held.From, To: held.To, Inside: true, Stage: work.Threaded}
	for _, t := range c.Before.Threads {
		if t.Inside && (work.Span{From: t.From, To: t.To}).Covers(held) {
			g.Dia, g.swing, g.one = t.Major, t.Major, held.Length() > 0
		}
	}
	return g
}

// onLathe reports whether the work turns.
func (k *checker) onLathe() bool { return k.Op.Setup.Machine == op.Lathe }

// gripSurface: what is held is there now. A cylinder, or a polygon that the
// device takes, over the whole gripped length; a plain bore for a mandrel or an
// arbor, a thread for a stub or a split nut and for nothing else; and no hole or
// slot in it that is wider than a third of it. A mandrel or an arbor goes past a
// hole: what it holds by is counted without it.
func gripSurface(k *checker) {
	const code = problem.GripSurface
	s, g := k.Op.Setup, k.held.Grip
	if g == nil {
		if s.Device.Jaws() || s.Device == op.Mandrel || s.Device == op.Arbor || s.Device == op.ThreadedStub {
			k.fail(code, words("nothing is held"), words(say.Of("a surface for the ", s.Device, " is wanted")), k.elsewhere())
		}
		return
	}
	if s.On == op.Stock && k.cutThere(s.Held) {
		k.fail(code, words(say.Of("held over ", over(g.Span()), ", which is cut")),
			words("the bar as bought is wanted there"), k.elsewhere())
		return
	}
	if s.Device == op.VBlocks { // whether it is parallel there is looked at where they stand
		k.holed(g)
		return
	}
	wrong := k.outsideWrong
	if g.Inside {
		wrong = k.insideWrong
	}
	switch want, remedy := wrong(g); {
	case want != "":
		k.fail(code, words(say.Of("held over ", over(g.Span()), k.threadThere(g))), words(want), remedy)
	case !k.takes(int(g.Shape)):
		k.fail(code, words(say.Of(int(g.Shape), " sides")), words(say.Of("which the ", s.Device, " does not hold")),
			"hold it on a round, or in jaws that match: three hold 3, 6, 9 and 12 sides, four hold 4, 8 and 12")
	case k.filling() || !k.holed(g):
		k.pass(code, op.Figure{Value: over(g.Span())}, words("one surface"), true)
	}
}

// cutThere reports whether anything of a stretch is not as it was bought.
func (k *checker) cutThere(s work.Span) bool {
	return slices.ContainsFunc(k.Before.Outside, func(p work.Piece) bool {
		return p.Stage != work.Bought && p.Meet(s).Length() > 0
	})
}

// threadThere says that a thread is held, where that is what is wrong.
func (k *checker) threadThere(g *Grip) say.Text {
	if g.one && !g.Inside && g.Stage == work.Threaded {
		return ", a thread"
	}
	return ""
}

// insideWrong returns what is wanted of a bore that is held, and what would mend
// it; nothing where it serves.
func (k *checker) insideWrong(g *Grip) (want, remedy say.Text) {
	stub := k.Op.Setup.Device == op.ThreadedStub
	switch {
	case stub && !g.one:
		return "an inside thread is wanted there", "cut the thread first, or hold it in the chuck"
	case !g.one:
		return "one plain bore is wanted there", "bore it first, or hold it by the outside"
	case !stub && g.Stage == work.Threaded:
		return "a bore without a thread is wanted there", "hold it on a threaded stub"
	}
	return "", ""
}

// outsideWrong is the same of the outside.
func (k *checker) outsideWrong(g *Grip) (want, remedy say.Text) {
	nut := k.Op.Setup.Device == op.SplitNut
	switch {
	case !g.one:
		return "one diameter all along is wanted there", k.elsewhere()
	case !nut && g.Stage == work.Threaded:
		return "which jaws would crush", say.Of("hold it in a split nut, or ", k.elsewhere())
	case nut && g.Stage != work.Threaded:
		return "a thread for the split nut is wanted there", "hold it in the chuck"
	case nut && k.onBothSides(g):
		return "the nut is screwed on from an end, and what stands on both sides of the thread is larger",
			"take that off first"
	}
	return "", ""
}

// onBothSides reports whether larger work stands on both sides of a thread.
func (k *checker) onBothSides(g *Grip) bool {
	w := k.Before.Span()
	left, right := k.Before.Largest(order(w.From, g.From)), k.Before.Largest(order(g.To, w.To))
	return min(left, right) > g.Dia+k.brokenEdge
}

// fourJaws is how many jaws a chuck has that holds squares.
const fourJaws = 4

// takes reports whether the device holds a polygon of so many sides.
func (k *checker) takes(sides int) bool {
	if sides == 0 {
		return true
	}
	threes, fours := []int{3, 6, 9, 12}, []int{4, 8, 12}
	switch d := k.Op.Setup.Device; d {
	case op.Vice:
		return sides%2 == 0
	case op.Chuck, op.SoftJaws, op.DividingHead, op.RotaryTable:
		if k.chuck.count == fourJaws {
			return slices.Contains(fours, sides)
		}
		return slices.Contains(threes, sides)
	case op.FourJaw:
		return slices.Contains(fours, sides)
	case op.Collet, op.ColletBlock, op.SplitNut: // round ones
		return false
	}
	return true
}

// plumb reports whether a cross hole stands upright where work lies across, so that it does not
// reach what presses on it: in V-blocks of 90 deg the faces bear at 45 deg, so a hole of less than
// D·sin 45 is clear of them, and a vice's jaws bear at 90.
func (k *checker) plumb(h work.Cross, dia work.Len) bool {
	o := k.Op
	across := o.Roll != nil && (o.Setup.Device == op.VBlocks || o.Setup.Device == op.Vice)
	return across && alike(h.Roll, op.DegOf(*o.Roll), halfTurn) && h.Offset == 0 && h.Dia < times(dia, math.Sqrt2/2)
}

// holed adds the check of a hole or a slot that is too wide where it is held.
func (k *checker) holed(g *Grip) bool {
	most := times(g.Dia, 1/k.gripHole)
	held := g.Span()
	no := func(what say.Text, s work.Span, wide work.Len) bool {
		if !s.Overlaps(held) || wide <= most {
			return false
		}
		k.fail(problem.GripSurface, figure(wide, say.Of("wide is the ", what, " where it is held")),
			figure(most, "is the most, a third of the diameter"), k.elsewhere(), ", or make the ", what, " later")
		return true
	}
	for _, h := range k.Before.Cross {
		if k.plumb(h, g.Dia) {
			continue
		}
		if no("hole", h.Span(k.Before), h.Dia) {
			return true
		}
	}
	for _, x := range k.Before.Slots {
		if no("slot", x.Span(k.Before), x.Width) {
			return true
		}
	}
	return false
}

// elsewhere says what else the work could be held on: its longest plain cylinder
// that this operation does not cut, where that is long enough for a chuck.
func (k *checker) elsewhere() say.Text {
	best := work.Piece{}
	cut, cuts := k.outerCut()
	for _, p := range k.Before.Outside {
		plain := p.Cylinder() && p.Stage < work.Facetted && p.Sides == 0
		if plain && p.Length() >= max(k.gripLeast, times(p.Left, k.gripPart)) && p.Length() > best.Length() &&
			!p.Overlaps(k.Op.Setup.Held) && !(cuts && p.Overlaps(cut)) && !slices.ContainsFunc(k.cuts, p.Overlaps) {
			best = p
		}
	}
	if best.Length() == 0 {
		return "leave more of the bar on to hold it by"
	}
	return say.Of("hold it on the ", best.Left.Length(), " over ", over(best.Span))
}

// gripLength: it is held over at least
//
//	chucks            the smaller of the jaws' length and max(8 mm, 0.6 d)
//	soft jaws         max(4 mm, 0.15 d), for facing and boring that reach less than 1 d
//	collets, heads    the smaller of 1 d and 20 mm
//	mandrels, arbors  half the bore's length, whole in one piece or on both sides of the cut;
//	                  in a blind one no less than max(8 mm, 0.6 d)
//	threaded stubs    0.6 d
func gripLength(k *checker) {
	g := k.held.Grip
	if g == nil || !g.one || k.Op.Setup.Device == op.VBlocks || k.Op.Setup.Device == op.Cradle {
		return
	}
	long, need, of := g.To-g.From, k.needs(g), say.Text("held")
	if k.filling() {
		if long = k.whole(g); long < g.To-g.From {
			of = "held, where the bore is whole"
		}
	}
	if j, ok := k.jawsOn(k.Op.Setup.Device); ok {
		if j.length > 0 {
			long, need = min(long, j.length), min(need, j.length)
		} else if j.there && long < need {
			k.missing(j.path + ".jaw_length")
		}
	}
	k.atLeast(problem.GripLength, long, need, of, false, func() say.Text { return k.longer(g, need) })
}

// filling reports whether the work is held by a bore that a mandrel or an arbor fills.
func (k *checker) filling() bool {
	d := k.Op.Setup.Device
	return d == op.Mandrel || d == op.Arbor
}

// whole returns over how much of a bore a mandrel or an arbor holds by friction: its longest piece that
// no hole and no slot breaks; all of it that is whole where some lies on both sides of what is cut.
func (k *checker) whole(g *Grip) work.Len {
	pieces := []work.Span{g.Span()}
	without := func(s work.Span, depth *work.Len) {
		wall := (op.LenOf(k.Shape.DiaAt((s.From + s.To).Length().Half())) - g.Dia) / 2
		if depth != nil && *depth < wall {
			return // it does not come through
		}
		var left []work.Span
		for _, p := range pieces {
			for _, x := range []work.Span{{From: p.From, To: min(p.To, s.From)}, {From: max(p.From, s.To), To: p.To}} {
				if x.Length() > 0 {
					left = append(left, x)
				}
			}
		}
		pieces = left
	}
	for _, h := range k.Before.Cross {
		without(h.Span(k.Before), h.Depth)
	}
	for _, x := range k.Before.Slots {
		without(x.Span(k.Before), x.Depth)
	}
	if len(pieces) == 0 {
		return 0
	}
	var longest, all work.Len
	for _, p := range pieces {
		longest, all = max(longest, p.Length()), all+p.Length()
	}
	cut, ok := k.outerCut()
	if ok && pieces[0].From < cut.From && cut.To < pieces[len(pieces)-1].To {
		return all
	}
	return longest
}

// longer says how it is held over a length: on the surface that it is held on
// where that is long enough, in soft jaws where they need less, or on another.
func (k *checker) longer(g *Grip, need work.Len) say.Text {
	room := work.Len(0)
	for _, p := range k.Before.Outside {
		if !g.Inside && p.Covers(g.Span()) && p.Cylinder() {
			room = p.Length()
		}
	}
	switch {
	case room >= need:
		return say.Of("hold ", need.Length().Up(), " of it, which is ", room.Length().Down(), " long")
	case k.light() && k.Shop.Lathe != nil && k.Shop.Lathe.SoftJaws && k.Op.Setup.Device == op.Chuck:
		return say.Of("hold it in soft jaws bored for it, or ", k.elsewhere())
	}
	return say.Of("a grip of ", need.Length().Up(), ": ", k.elsewhere())
}

// needs returns how long the grip must be, but for the length of the jaws.
func (k *checker) needs(g *Grip) work.Len {
	switch k.Op.Setup.Device {
	case op.Collet, op.ColletBlock, op.DividingHead:
		return min(times(g.Dia, k.gripCollet), k.gripColletMost)
	case op.Mandrel, op.Arbor:
		half := times(k.boreLength(g), k.gripMandrel)
		if k.through(g) {
			return half
		}
		return max(half, k.gripLeast, times(g.Dia, k.gripThread))
	case op.ThreadedStub:
		return times(g.Dia, k.gripThread)
	case op.SoftJaws:
		if k.light() && k.reach() < times(g.Dia, k.gripSoftReach) {
			return max(k.gripSoftLeast, times(g.Dia, k.gripSoftPart))
		}
	}
	return max(k.gripLeast, times(g.Dia, k.gripPart))
}

// light reports whether an operation is facing or boring: what works along the
// axis.
func (k *checker) light() bool {
	switch k.Op.Kind {
	case op.Face, op.Centre, op.Spot, op.Drill, op.Bore, op.Ream, op.Countersink:
		return true
	}
	return false
}

// boreLength returns how long the bore is that holds the work.
func (k *checker) boreLength(g *Grip) (long work.Len) {
	for _, b := range k.Before.Bores {
		if b.Dia == g.Dia {
			long = max(long, plain(b, k.Before.Length).Meet(k.Before.Span()).Length())
		}
	}
	return long
}

// through reports whether the bore that holds the work goes through it.
func (k *checker) through(g *Grip) bool {
	return slices.ContainsFunc(k.Before.Bores, func(b work.Bore) bool { return b.Dia == g.Dia && b.Through })
}

// jawRoom: nothing larger than the grip stands where the jaws are, what goes
// through them fits their hole and the spindle's, and nothing is cut where they
// stand, nor under the dog that drives work between centres.
func jawRoom(k *checker) {
	s, g := k.Op.Setup, k.held.Grip
	if s.Device == op.Centres {
		k.dogged()
		return
	}
	if !s.Device.Jaws() || g == nil {
		return
	}
	if cut, ok := k.outerCut(); ok {
		if inside := -away(near(cut, s.Out), s.Face(), s.Out); inside > fine {
			k.fail(problem.JawRoom, figure(inside, "of the cut lies behind the jaws' face"), figure(0, "is right"),
				"let it stand further out of the jaws, or cut it from the other end")
			return
		}
	}
	zone := order(s.Face(), k.jawEnd())
	if d := k.Before.Largest(zone); d > g.swing+fine {
		k.fail(problem.JawRoom, figure(d, "stands where the jaws are"), figure(g.swing, "is what they hold"),
			k.elsewhere(), ", where the jaws have room")
		return
	}
	switch {
	case k.held.Through != nil:
		k.passes(k.held.Through.Dia)
	case k.comesOut():
		k.passes(op.LenOf(k.Op.Dia))
	}
}

// comesOut reports whether the tool of a bore comes out of the work behind the jaws.
func (k *checker) comesOut() bool {
	back := other(k.Op.Setup.Out)
	if k.Op.Past == 0 {
		return false
	}
	face := work.Len(0)
	if back == part.Right {
		face = k.Before.Length
	}
	tip := far(beyond(face, back, k.Op.Past), back)
	return away(tip, k.Before.Reach(back), back) > fine && away(tip, k.jawEnd(), back) > fine
}

// dog returns where the dog is clamped: at the headstock's end, as wide as it is but for a
// chamfer there, over which it reaches.
func (c Case) dog() work.Span {
	out := c.Op.Setup.Out
	seat := beyond(c.Before.Reach(other(out)), out, c.dogWidth)
	for _, p := range c.Before.Outside {
		if near(p.Span, out) == near(seat, out) && p.Left != p.Right && p.Length() <= c.dogPast {
			return order(far(p.Span, out), far(seat, out))
		}
	}
	return seat
}

// dogged checks that nothing is cut where the dog is clamped, and that no cone is there: a
// dog slips off one.
func (k *checker) dogged() {
	s := k.Op.Setup
	seat := k.dog()
	for _, p := range k.Before.Outside {
		m := p.Meet(seat)
		if wide, thin := within(p, m.From), within(p, m.To); m.Length() > 0 && max(wide-thin, thin-wide) > fine {
			cone := figure(max(wide, thin), say.Of("down to ", min(wide, thin).Length(), " is clamped in the dog"))
			k.fail(problem.GripSurface, cone, words("a cylinder is wanted there"),
				"cut the cone when the work was turned end for end")
			return
		}
	}
	cut, ok := k.outerCut()
	if !ok {
		return
	}
	k.atLeast(problem.JawRoom, away(near(cut, s.Out), k.root(), s.Out), k.dogWidth, "is left for the dog", false,
		func() say.Text { return "turn it end for end, and cut that end then" })
}

// passes checks what goes through the jaws: it fits their hole and the
// spindle's, and where those are not said it is at most 0.36 of the chuck's
// diameter. A collet passes what it holds.
func (k *checker) passes(dia work.Len) {
	j, ok := k.jawsOn(k.Op.Setup.Device)
	if ok && !j.there {
		return
	}
	most, unsaid := k.widest(k.Op.Setup, k.held.Grip.swing)
	for _, path := range unsaid {
		k.missing(path)
	}
	k.atMost(problem.JawRoom, dia, most, say.Of("goes through the ", throughWord(ok)), func() say.Text {
		return say.Text("draw it out until it ends in the jaws, or hold it in a chuck that it goes through")
	})
}

// widest returns the most that goes through what holds it, and on the lathe through the
// spindle, and the keys of the shop's file that say nothing of it: what jaws pass is
// guessed then by the diameter of the chuck, and a collet passes what it holds.
func (j *Job) widest(s op.Setup, holds work.Len) (most work.Len, unsaid []string) {
	jaws, ok := j.jawsOn(s.Device)
	guess := times(jaws.dia, practised().jawsThrough)
	if !ok {
		guess, most = holds, holds
	}
	hole := func(size work.Len, path string) {
		if size == 0 {
			unsaid = append(unsaid, path)
			size = guess
		}
		if most == 0 || size < most {
			most = size
		}
	}
	if ok {
		hole(jaws.through, jaws.path+".through")
	}
	if s.Machine == op.Lathe {
		hole(j.bore, "lathe.spindle_bore")
	}
	return most, unsaid
}

// GoesThrough reports whether a bar passes through what it is held by.
func (j *Job) GoesThrough(s op.Setup, bar work.Len) bool {
	most, _ := j.widest(s, bar)
	return bar <= most
}

// throughWord says what the work goes through.
func throughWord(jaws bool) say.Text {
	if jaws {
		return "jaws"
	}
	return "collet"
}

// gripRange: the shop has the device, and the diameter is in its range.
//
// Long: a case a device.
func gripRange(k *checker) {
	g := k.held.Grip
	if g == nil {
		return
	}
	s := k.Op.Setup
	no := func(limit say.Text) {
		k.fail(problem.GripRange, figure(g.Dia, "is held"), words(limit), "hold it in a chuck or a collet that takes it")
	}
	if !k.owns(s.Device) {
		no(say.Of("no ", s.Device, " in this shop"))
		return
	}
	j, ok := k.jawsOn(s.Device)
	switch {
	case ok && j.most == 0 && j.dia > 0 && g.swing > j.dia:
		no(say.Of("its body is ", j.dia.Length()))
	case ok && j.most == 0:
		k.missing(j.path + ".range")
	case ok && (g.Dia < j.least || g.Dia > j.most):
		no(say.Of("it grips ", j.least.Length(), " to ", j.most.Length()))
	case s.Device == op.Mandrel && !k.mandrel(g.Dia):
		no(say.Of("the mandrels are of ", say.Join(k.Shop.Lathe.Mandrels, ", ")))
	case s.Device == op.Collet || s.Device == op.ColletBlock:
		if from, to, ok := k.collet(g.Dia); !ok {
			no(say.Of("the collets hold ", from.Length(), " to ", to.Length()))
		}
	}
	k.slips()
}

// slips looks at work that an arbor carries by its bore: no larger than so many times
// across as that, which holds it by nothing but its fit.
func (k *checker) slips() {
	g, s := k.held.Grip, k.Op.Setup
	if s.Device != op.Mandrel && s.Device != op.Arbor {
		return
	}
	across, most := k.Before.Largest(k.Before.Span()), k.arborAcross
	if k.Op.Spread && s.Device == op.Arbor {
		most = k.arborSpread
	}
	k.atMost(problem.GripRange, across, times(g.Dia, most), say.Of("across, on an arbor of ", g.Dia.Length()),
		func() say.Text { return "it slips: hold it by its outside, or clamp it on with a nut and a washer" })
}

// bruise: a finished surface is held over something that spares it.
func bruise(k *checker) {
	g, d := k.held.Grip, k.Op.Setup.Device
	if g == nil || g.Stage < work.Finished || g.Inside {
		return
	}
	if g.Over == Bare && !d.Spares() {
		k.fail(problem.Bruise, words(say.Of("a ", g.Stage, " surface is held bare")),
			words("soft jaws, a bush or card would spare it"),
			"hold it over a strip of card or copper")
		return
	}
	by := say.Text(g.Over)
	if g.Over == Bare {
		by = say.Of(d)
	}
	k.pass(problem.Bruise, words(say.Of("spared by ", by)), words("nothing marks it"), true)
}
