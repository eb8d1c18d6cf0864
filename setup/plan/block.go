package plan

import (
	"fmt"
	"math"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
	"setover/tapers/facets"
	"setover/threads"
)

// blockBar is the section of a bar that a block is sawn from.
const blockBar part.Shape = "block"

// squaredBlock is the task of milling a block that is held in one way: clamps says how
// for each of its cuts.
func squaredBlock(j *job, clamps clampings) *task {
	face := practice.SawnFace.Length()
	x, y, z := j.block.X.Plus(face.Times(2)), j.block.Y.Plus(face.Times(2)), j.block.Z.Plus(face.Times(2))
	b := Blank{
		Shape: blockBar, Pieces: max(1, j.Part.Quantity), X: &x, Y: &y, Z: &z, Length: &x,
		Span:    work.Span{From: -op.LenOf(face), To: op.LenOf(x.Minus(face))},
		Because: say.Of("the finished block and ", face, " on every face to mill it square"),
	}
	b.From, b.To = &b.Span.From, &b.Span.To
	b.Bar = new(x.Plus(practice.Kerf.Length()).Times(int64(b.Pieces)))
	return &task{job: j, blank: b, clamps: clamps}
}

// milled makes a part from a block: squared face by face, then every cut in its own
// clamping.
func milled(t *task) steps {
	if t.Shop.Mill == nil {
		return steps{no: problem.List{problem.New(problem.NotAvailable, "", nil,
			"a block is milled, and this shop has no mill (mill)").In(t.block.At)}}
	}
	list := []steps{squares(t)}
	for i, c := range t.cuts() {
		w := c.make(t, t.clamps.of[i])
		for _, o := range w.ops {
			o.Trues, o.Opens = t.clamps.of[i].trues(), t.spoils(c.removal)
		}
		list = append(list, w)
	}
	for _, w := range list {
		for _, o := range w.ops {
			o.Stands.Up, o.Stands.Fixed = o.Setup.State.Up, o.Setup.State.Fixed
		}
	}
	return together(append(list, processes(t.job, op.Span{}))...)
}

// inVice is a block held on two of its faces, with one up and one against the fixed jaw.
func inVice(stage work.Stage, up, fixed part.Face) op.Setup {
	on := map[part.Axis]op.Shape{part.AlongX: op.EndFaces, part.AlongY: op.Sides, part.AlongZ: op.BaseAndTop}
	_, _, across := fixed.Axes()
	s := op.Setup{
		Machine: op.MillMachine, Device: op.Vice, On: op.Surface{Shape: on[across], Stage: stage},
		State: op.State{Up: up, Fixed: fixed},
	}
	if stage == work.Bought {
		s.On.Shape = op.Faces
	}
	return s
}

// squaring is a face that is milled: the faces that are flat by then, the dimension that it
// brings to size and what that is called, how it is held true, and how long it is.
type squaring struct {
	face   part.Face
	setup  op.Setup
	trues  []part.Face
	size   string
	name   say.Text
	by     say.Text
	length units.Length
}

// squarings are the faces of a block, each milled from those that are flat: the bottom
// first, which the front and the back are squared from against the fixed jaw; then the
// ends by a square, and the top on parallels last, so that what is cut from above is cut in
// that clamping. A plate's ends are milled after its top, held by that.
func (t *task) squarings() []squaring {
	b := t.block
	ends, by := []part.Face{part.Bottom, part.Front, part.Back}, part.Bottom
	if t.clamps.ends == part.Bottom {
		ends, by = append(ends, part.Top), part.Front
	}
	return []squaring{
		{
			part.Bottom, inVice(work.Bought, part.Bottom, part.Back), nil, "", "",
			"packed with card on the sawn sides: clean it up flat", b.X,
		},
		{
			part.Front, inVice(work.Bought, part.Front, part.Bottom),
			[]part.Face{part.Bottom},
			"", "",
			"a round bar between the moving jaw and the sawn top, so that the bottom lies flat on the fixed jaw", b.X,
		},
		{
			part.Back, inVice(work.Bought, part.Back, part.Bottom),
			[]part.Face{part.Bottom, part.Front},
			outline.WholeWidth, "width y", "the round bar again; tap it down until the front lies on both parallels", b.X,
		},
		{
			part.LeftF, inVice(work.Finished, part.LeftF, t.clamps.ends), ends, "", "",
			say.Of("upright by a square from the ", by), b.Y,
		},
		{
			part.RightF, inVice(work.Finished, part.RightF, t.clamps.ends), append(slices.Clone(ends), part.LeftF),
			outline.WholeLength, "length x", "tap it down until the left end lies on the parallels", b.Y,
		},
		{
			part.Top, inVice(work.Finished, part.Top, part.Front),
			[]part.Face{part.Bottom, part.Front, part.Back},
			outline.WholeHeight, "height z", "tap it down until both parallels are tight", b.X,
		},
	}
}

// squares saws the block and mills it square, a face at a time.
func squares(t *task) steps {
	var w steps
	face := practice.SawnFace.Length()
	saw := w.add(&op.Op{
		ID: "saw", Kind: op.Saw, Name: "saw the block", Tool: op.Tool{Name: "saw"},
		Setup: op.Setup{Machine: op.BandSaw, Device: op.Vice},
	})
	for _, side := range []struct {
		axis say.Text
		l    *units.Length
	}{{"x", t.blank.X}, {"y", t.blank.Y}, {"z", t.blank.Z}} {
		saw.Set(side.axis, side.l.Up(), "at the least")
	}
	for _, f := range t.squarings() {
		_, _, axis := f.face.Axes()
		to := t.block.Size(axis)
		o := w.add(&op.Op{
			ID: "square-" + string(f.face), Kind: op.Mill, Name: say.Of("mill the ", f.face, " square"),
			Tool: op.Tool{Name: "face mill"}, Setup: f.setup, Mills: f.face, Trues: f.trues, Dia: to,
			Feature: op.Feature{Kind: op.Mill, N: int(axis) + 1},
		})
		if f.face == part.Bottom {
			o.Name = "mill the bottom flat"
		}
		_, _, across := f.setup.State.Fixed.Axes()
		o.Set("vice", op.With(t.between(across, f.setup.On.Stage), "between the jaws"), f.by)
		t.cut(o, 1, cutting(feeds.Mill, practice.FaceMill.Length(), f.length))
		if f.size == "" {
			to = to.Plus(face)
			o.Set("to", to.Up(), "over this and the sawn face across: take ", face, " off")
		} else {
			o.Set("to", to, "measured over the two faces; take ", face, " off")
			o.Foresee(t.limits.BlockSize(f.size), f.name, to, "milled to size by measuring")
		}
		o.Do = func(as work.State) {
			whole := work.Block{Size: [3]op.Len{op.LenOf(*t.blank.X), op.LenOf(*t.blank.Y), op.LenOf(*t.blank.Z)}}
			if as.Box != nil {
				whole = *as.Box
			}
			whole.Size[axis] -= op.LenOf(face)
			whole.Face = f.face
			o.Removed(whole)
		}
	}
	return w
}

// between returns how far the vice opens over an axis of the block as it stands.
func (t *task) between(a part.Axis, stage work.Stage) units.Length {
	l := t.block.Size(a)
	if stage == work.Bought {
		l = l.Plus(practice.SawnFace.Length())
		if a == part.AlongY {
			l = l.Plus(practice.SawnFace.Length())
		}
	}
	return l
}

// drilling is a hole of a block that is drilled in one clamping: the nth, or a half of it
// from one of two faces, of which far is the second.
type drilling struct {
	part.BlockHole
	n         int
	half, far bool
}

// tip returns how deep its drill goes.
func (t *task) tip(h drilling, dia units.Length) units.Length {
	_, _, deepest := h.Face.Axes()
	deep, through := t.block.Size(deepest), h.Depth == nil
	if !through {
		deep = *h.Depth
	}
	return holes.DepthOf(dia, practice.PointAngle.Angle(), deep, through).Total
}

// drillings returns a hole as it is drilled: a plain one through the block that is deeper than
// its drill is fluted is drilled from both faces, half each, so that the two meet.
func (j *job) drillings(h part.BlockHole, n int) []drilling {
	whole := drilling{BlockHole: h, n: n}
	t := task{job: j}
	if h.Depth != nil || h.Spec != "" || t.tip(whole, h.Dia).Cmp(practice.LongDrillFlute.Length(h.Dia)) <= 0 {
		return []drilling{whole}
	}
	_, _, deepest := h.Face.Axes()
	near, far := whole, whole
	near.half, far.half, far.far = true, true, true
	near.Depth = new(j.block.Size(deepest).Half())
	far.Depth, far.Face = new(j.block.Size(deepest).Minus(*near.Depth)), onFace(h.Face).Opposite()
	return []drilling{near, far}
}

// feature and id name it.
func (h drilling) feature() say.Text {
	if h.half {
		return say.Of("hole ", h.n, " from the ", h.Face)
	}
	return say.Of("hole ", h.n)
}

func (h drilling) id() string {
	if h.far {
		return fmt.Sprintf("hole-%d-far", h.n)
	}
	return fmt.Sprintf("hole-%d", h.n)
}

// made is the feature that its steps are of: each half has its own.
func (h drilling) made() op.Feature {
	if h.far {
		return op.Feature{Kind: op.CrossDrill, N: h.n}
	}
	return op.Feature{Kind: op.Drill, N: h.n}
}

// blockHole spots and drills a hole, reams it where a reamer makes it, and taps it where it has a thread.
func blockHole(t *task, h drilling, c clamping) steps {
	var w steps
	feature, id := h.feature(), h.id()
	first, second, _ := h.Face.Axes()
	base := op.Op{Setup: c.setup(), Feature: h.made(), Cuts: t.along(holeOf(h.BlockHole)), Dia: h.Dia}
	pilot := t.spotPilot(h.Dia)
	spot := base.As(id+"-spot", op.Spot, "spot "+feature, w.centreDrill(t, pilot))
	x, y := t.placeIn(spot, h)
	alongX, alongY := t.limits.BlockHolePlace(h.n)
	spot.Foresee(alongX, say.Of("place of ", feature, " along ", first), x, byTable)
	spot.Foresee(alongY, say.Of("place of ", feature, " along ", second), y, byTable)
	spot.Set("zero", say.Of(first.Datum(), " ", second.Datum()),
		"the edges there: all positions from them, approached from one side")
	spotDeep(spot, pilot, h.Depth)
	t.cut(w.add(spot), 1, cutting(feeds.Drill, pilot))

	made := holeOf(h.BlockHole)
	made.X, made.Y = op.LenOf(x), op.LenOf(y)
	if reamer := t.reamed(h); reamer != nil {
		return t.reamHole(w, h, base, made, *reamer)
	}
	twist, good := w.drill(t, t.limits.BlockHole(h.n))
	drill := t.drillHole(&w, h, base, twist)
	if !good {
		t.noReamer(drill, h)
	}
	foreseeDrilled(drill, t.limits.BlockHole(h.n), "diameter of "+feature, twist)
	if !h.half || h.far {
		drill.Makes = []string{outline.HoleID(h.n)}
	}
	made.Dia = op.LenOf(predict.Drilled(twist.Dia))
	drill.Removed(made)
	if h.Spec == "" {
		return w
	}
	return together(w, blockThread(t, h, base, twist.Name))
}

// placeIn puts on the table's dials where a hole is, and returns where that comes to.
func (t *task) placeIn(o *op.Op, h drilling) (x, y units.Length) {
	first, second, _ := h.Face.Axes()
	table := t.Shop.Mill.Table
	x = o.OnDial(say.Of(h.feature(), ", along ", first), op.Table, table, h.X)
	return x, o.OnDial(say.Of(h.feature(), ", along ", second), op.Table, table, h.Y)
}

// drillHole drills a hole with a drill.
func (t *task) drillHole(w *steps, h drilling, base op.Op, twist drills.Drill) *op.Op {
	drill := w.add(base.As(h.id()+"-drill", op.Drill, say.Of("drill ", twist.Name, " for ", h.feature()),
		say.Of(twist.Name, " drill")))
	t.placeIn(drill, h)
	total := t.tip(h, twist.Dia)
	h.goes(drill, total)
	t.pecked(drill, 1, twist.Dia, total)
	t.sideWall(drill, h, total)
	most, ok := w.fluted(drill, twist.Dia, total, practice.DrillFlute, practice.LongDrillFlute)
	if !ok {
		drill.Check(problem.NotReachable, false, op.With(total.Up(), "deep to the drill's point"),
			op.With(most, "is the most that a twist drill of ", twist.Dia, " is fluted"), "a larger hole, or one less deep")
	}
	drill.Cautions = append(drill.Cautions, cautions.ClampDrill)
	return drill
}

// reamed returns the reamer of a hole that one on hand brings to its limits and no drill does; else nil.
func (t *task) reamed(h drilling) *units.Length {
	d := t.limits.BlockHole(h.n)
	if t.chosenFor(d).good || !t.reamableInto(h) {
		return nil
	}
	return t.reamerOf(h.Dia, d)
}

// reamableInto is reamable of a hole of a block: below a blind one is left as much as a wall is to be. One that
// is drilled from both faces is not reamed: no reamer is as long.
func (j *job) reamableInto(h drilling) bool {
	if h.half || h.Spec != "" {
		return false
	}
	if h.Depth == nil {
		return true
	}
	_, _, deepest := h.Face.Axes()
	h.Depth = new(h.Depth.Plus(practice.ReamerLead.Length()))
	t := task{job: j}
	return j.usualWall().Cmp(j.block.Size(deepest).Minus(t.tip(h, h.Dia))) <= 0
}

// noReamer says of a hole that no drill gives its size why no reamer does.
func (t *task) noReamer(o *op.Op, h drilling) {
	if r := t.reamerOf(h.Dia, t.limits.BlockHole(h.n)); r != nil && h.Spec == "" {
		why := say.Of("but its lead of ", practice.ReamerLead.Length(), " finds no room below the depth that is drawn")
		if h.half {
			why = "but it is no longer than a drill, which goes half of the way from each face"
		}
		o.Warn("reamer-lead", "a reamer of ", *r, " is on hand, ", why)
	}
}

// reamHole drills a hole under its size and reams it where it stands.
func (t *task) reamHole(w steps, h drilling, base op.Op, made work.BlockHole, reamer units.Length) steps {
	twist := w.drillUnder(t, reamer)
	under, pilot := h, made
	if h.Depth != nil {
		under.Depth = new(h.Depth.Plus(practice.ReamerLead.Length()))
		pilot.Depth = work.Optional(under.Depth)
	}
	drill := t.drillHole(&w, under, base, twist)
	if h.Depth != nil {
		deeper(drill)
	}
	pilot.Dia = op.LenOf(predict.Drilled(twist.Dia))
	drill.Removed(pilot)

	_, _, deepest := h.Face.Axes()
	o := w.add(base.As(h.id()+"-ream", op.Ream, say.Of("ream ", h.feature(), " to ", reamer), say.Of("reamer ", reamer)))
	o.Makes = []string{outline.HoleID(h.n)}
	w.needs(o.Tool.Name, say.Of("for ", h.feature()), true)
	t.placeIn(o, h)
	long := t.block.Size(deepest)
	if h.Depth == nil {
		o.Set("depth", say.Text("right through"), "its lead out of the far side, never turned backwards")
	} else {
		long = *under.Depth
		o.Set("depth", long.Down(), practice.ReamerLead.Length(),
			" of it below the depth that is drawn, for the lead; never turned backwards")
	}
	t.cut(o, 1, cutting(feeds.Ream, reamer, long))
	o.Foresee(t.limits.BlockHole(h.n), "diameter of "+h.feature(), reamer, "reamed")
	made.Dia = op.LenOf(reamer)
	o.Removed(made)
	return w
}

// goes sets how deep the drill goes.
func (h drilling) goes(o *op.Op, total units.Length) {
	switch {
	case h.Depth == nil:
		o.Set("depth", total.Up(), "point and breakthrough included: the parallels and the vice's bed stand clear of it")
	case h.half:
		o.Set("depth", total.Up(), "to the middle; the point included")
	default:
		o.Set("depth", total.Down(), "never deeper; the point included")
	}
}

// blockThread taps a hole.
func blockThread(t *task, h drilling, base op.Op, drill string) steps {
	spec, err := threads.Parse(h.Spec)
	if err != nil {
		var w steps
		w.wrong.Add(placed(err, h.At))
		return w
	}
	_, _, deepest := h.Face.Axes()
	deep, through := t.block.Size(deepest), h.Depth == nil
	full := deep
	if !through { // a bottoming tap's lead stays free
		deep = *h.Depth
		full = deep.Minus(spec.Pitch.Length(practice.TapLeadBottoming.Number()))
	}
	screw := nut{spec: spec, length: full, dia: h.Dia, deep: deep, through: through, drill: drill}
	return tapped(t, base, h.id(), screw, outline.HoleID(h.n))
}

// sideWall checks the wall from a hole to the nearest side of the block, and what is left
// under the point of one that is not through.
func (t *task) sideWall(o *op.Op, h drilling, tip units.Length) {
	b := t.block
	u, v, deepest := h.Face.Axes()
	wall := units.Min(units.Min(h.X, h.Y), units.Min(b.Size(u).Minus(h.X), b.Size(v).Minus(h.Y))).Minus(h.Dia.Half())
	var limit units.Length
	if b.MinWall != nil {
		limit = *b.MinWall
	}
	o.Check(problem.WallTooThin, wall.Cmp(limit) >= 0 && wall.Sign() > 0,
		op.With(wall.Down(), "of wall to the nearest side"), op.With(limit, "wanted"),
		"move the hole in by ", limit.Minus(wall).Up())
	if h.Depth == nil || h.half {
		return
	}
	if floor := b.Size(deepest).Minus(tip); floor.Less(limit) || floor.Sign() <= 0 {
		o.Check(problem.WallTooThin, false, op.With(floor.Down(), "is left under the drill's point"),
			op.With(limit, "wanted"), "a hole through, or less deep by ", limit.Minus(floor).Up())
	}
}

// raised says which side of the block comes up so that a plane that rises so toward the second lies level: the
// side that it falls to.
func raised(rises units.Angle, first, second say.Text) say.Text {
	if rises.Deg() > 0 {
		return say.Of("the ", first, " raised; ")
	}
	return say.Of("the ", second, " raised; ")
}

// slope mills the nth plane off the top or the bottom, the block tilted so that the plane
// lies level under the cutter. What comes out is computed back from the angles
// as they are set, to the mark of an ordinary protractor: with tan Y = tan
// second/cos first the lowest corner is z - x·tan first - y·tan Y.
func slope(t *task, s part.Slope, n int, c clamping) steps {
	var w steps
	set, err := facets.SlopeOf(facets.SlopeInput{AlongX: s.AlongX, AlongY: s.AlongY})
	if err != nil {
		w.wrong.Add(placed(err, s.At))
		return w
	}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("slope-%d", n), Kind: op.Mill, Tool: op.Tool{Name: "face mill"},
		Feature: op.Feature{Kind: op.Facet, N: n},
		Cuts:    op.Span{From: s.FromX, To: s.ToX}, Setup: c.setup(),
		Name: say.Of("mill the slope of the ", onFace(s.Face), " from x ", s.FromX, " to ", s.ToX),
	})
	step := practice.ViceStep.Angle()
	first, second := set.First.RoundTo(step, units.Nearest), set.Second.RoundTo(step, units.Nearest)
	quarter := func(a units.Angle) sheet.Number { return sheet.Number{V: a.Deg(), Places: 2, Unit: "deg"} }
	exact := func(a units.Angle) sheet.Number { return sheet.Number{V: a.Deg(), Places: 4, Unit: "deg"} }
	along := say.Of(raised(s.AlongX, "left end", "right end"), "exact ", exact(set.First),
		" (", set.First.DMS(false), ")")
	across := raised(s.AlongY, "front", "back")
	switch {
	case s.AlongY.Deg() == 0:
		o.Set("tilt", op.With(quarter(first), "along x"), along)
	case s.AlongX.Deg() == 0:
		o.Set("tilt", op.With(quarter(second), "along y"), across, "exact ", exact(set.Second), " (",
			set.Second.DMS(false),
			"); the vice itself is tipped so, on packing or a tilting table")
	default:
		o.Set("first tilt", op.With(quarter(first), "along x"), along)
		o.Set("second tilt", op.With(quarter(second), "along y"),
			across, "exact ", exact(set.Second), ", less than the drawing's: the edge stands on a slope by then; the vice ",
			"itself is tipped so, on packing or a tilting table")
		o.Set("or one tilt", op.With(sheet.Deg(set.Tilt), "with the block turned ", sheet.Deg(set.Rotation)),
			"in plan, away from x toward y")
	}
	span := s.ToX.Minus(s.FromX)
	deep := s.Drop(t.block.Y)
	o.Set("depth", deep.Down(), "at its lowest corner, below the ", onFace(s.Face), "; its highest corner stays")
	t.cut(o, 3, cutting(feeds.Mill, practice.FaceMill.Length(), span))
	if s.AlongX.Deg() != 0 {
		o.Stands.TiltX = &first
	}
	if s.AlongY.Deg() != 0 {
		o.Stands.TiltY = &second
	}
	out := s
	out.AlongX, out.AlongY = first, units.Radians(math.Atan(second.Tan()/first.Cos()))
	o.Foresee(t.general(&w, limits.Depth, outline.SlopeID(n), t.block.Z.Minus(deep)), say.Of("lowest corner of slope ", n),
		t.block.Z.Minus(out.Drop(t.block.Y)), "the vice set to ", step)
	o.Makes = []string{outline.SlopeID(n)}
	o.Removed(slopeOf(out))
	return w
}
