package plan

import (
	"fmt"
	"math"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/cautions"
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

// squaredBlock is the task of milling a block: there is one way to hold it, on
// its squared faces.
func squaredBlock(j *job) *task {
	face := practice.SawnFace.Length()
	x, y, z := j.block.X.Plus(face.Times(2)), j.block.Y.Plus(face.Times(2)), j.block.Z.Plus(face.Times(2))
	b := Blank{
		Shape: blockBar, Pieces: max(1, j.Part.Quantity), X: &x, Y: &y, Z: &z, Length: &x,
		Span:    work.Span{From: -op.LenOf(face), To: op.LenOf(x.Minus(face))},
		Because: say.Of("the finished block and ", face, " on every face to mill it square"),
	}
	b.From, b.To = &b.Span.From, &b.Span.To
	b.Bar = new(x.Plus(practice.Kerf.Length()).Times(int64(b.Pieces)))
	return &task{job: j, blank: b}
}

// milled makes a part from a block: squared face by face, then worked from the
// top with its base on parallels.
func milled(t *task) steps {
	if t.Shop.Mill == nil {
		return steps{no: problem.List{problem.New(problem.NotAvailable, "", nil,
			"a block is milled, and this shop has no mill (mill)").In(t.block.At)}}
	}
	list := []steps{squares(t)}
	for i, h := range t.block.Holes {
		list = append(list, blockHole(t, h, i+1))
	}
	for i, s := range t.block.Slots {
		base := op.Op{Setup: fromTop(), Cuts: about(s.X, s.Length)}
		w := slot(t, base, s, i+1, s.X, s.Y)
		if len(w.ops) == 0 {
			list = append(list, w)
			continue
		}
		if s.Depth != nil {
			w.ops[len(w.ops)-1].Set("depth", s.Depth.Down(), "never deeper")
		}
		w.ops[len(w.ops)-1].Removed(work.BlockSlot{
			X: op.LenOf(s.X), Y: op.LenOf(s.Y), Length: op.LenOf(s.Length), Width: op.LenOf(s.Width), Angle: op.DegOf(s.Angle),
			Depth: work.Optional(s.Depth),
		})
		list = append(list, w)
	}
	for i, s := range t.block.Slopes {
		list = append(list, slope(t, s, i+1))
	}
	return together(append(list, processes(t.job, op.Span{}))...)
}

// inVice is a block held on two of its faces, with one up.
func inVice(on op.Shape, stage work.Stage, up op.Up) op.Setup {
	return op.Setup{
		Machine: op.MillMachine, Device: op.Vice, On: op.Surface{Shape: on, Stage: stage}, State: op.State{Up: up},
	}
}

// fromTop is the set-up in which a block is worked from above.
func fromTop() op.Setup { return inVice(op.Sides, work.Finished, op.TopUp) }

// squares saws the block and mills it square: each pair of faces while it is
// held on another.
func squares(t *task) steps {
	var w steps
	b, face := t.block, practice.SawnFace.Length()
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
	whole := work.Block{Size: [3]op.Len{op.LenOf(*t.blank.X), op.LenOf(*t.blank.Y), op.LenOf(*t.blank.Z)}}
	for _, f := range []struct {
		id         string
		axis       int
		dimension  string
		name, size say.Text
		makes      op.Shape
		setup      op.Setup
		to, length units.Length
		between    units.Length // the vice's jaws
	}{
		{
			"base", 2, outline.WholeHeight, "mill base and top parallel", "height z", op.BaseAndTop,
			inVice(op.Faces, work.Bought, op.FirstUp), b.Z, b.X, *t.blank.Y,
		},
		{
			"sides", 1, outline.WholeWidth, "mill the long sides square to the base", "width y", op.Sides,
			inVice(op.BaseAndTop, work.Finished, op.SideUp), b.Y, b.X, b.Z,
		},
		{
			"ends", 0, outline.WholeLength, "mill the ends square", "length x", op.EndFaces,
			inVice(op.Sides, work.Finished, op.EndUp), b.X, b.Y, b.Y,
		},
	} {
		o := w.add(&op.Op{
			ID: "square-" + f.id, Kind: op.Mill, Name: f.name, Tool: op.Tool{Name: "face mill"}, Setup: f.setup, Dia: f.to,
			Feature: op.Feature{Kind: op.Mill, N: int(f.makes)}, Leaves: op.Surface{Shape: f.makes, Stage: work.Finished},
		})
		o.Set("vice", op.With(f.between, "between the jaws"), "how far a vice opens is not in the shop's file: not checked")
		o.Set("to", f.to, "measured over the two faces; take ", face, " off each")
		t.cut(o, 2, cutting(feeds.Mill, practice.FaceMill.Length(), f.length))
		o.Foresee(t.limits.BlockSize(f.dimension), f.size, f.to, "milled to size by measuring")
		whole.Size[f.axis] = op.LenOf(f.to)
		o.Removed(whole)
	}
	return w
}

// blockHole spots and drills the nth hole from the top, and taps it where it
// has a thread.
func blockHole(t *task, h part.BlockHole, n int) steps {
	var w steps
	feature, id := say.Of("hole ", n), fmt.Sprintf("hole-%d", n)
	base := op.Op{Setup: fromTop(), Feature: op.Feature{Kind: op.Drill, N: n}, Cuts: about(h.X, h.Dia), Dia: h.Dia}
	place := func(o *op.Op) (x, y units.Length) {
		table := t.Shop.Mill.Table
		x = o.OnDial(feature+", along x", op.Table, table, h.X)
		return x, o.OnDial(feature+", along y", op.Table, table, h.Y)
	}
	pilot := t.spotPilot(h.Dia)
	spot := base.As(id+"-spot", op.Spot, "spot "+feature, w.centreDrill(t, pilot))
	x, y := place(spot)
	where := outline.HoleID(n)
	alongX, alongY := t.limits.BlockHolePlace(n)
	spot.Foresee(alongX, "place of "+feature+" along x", x, byTable)
	spot.Foresee(alongY, "place of "+feature+" along y", y, byTable)
	spot.Set("zero", say.Text("left front"), "the edges there: all positions from them, approached from one side")
	t.cut(w.add(spot), 1, cutting(feeds.Drill, pilot))

	twist, _ := w.drill(t, t.limits.BlockHole(n))
	drill := base.As(id+"-drill", op.Drill, say.Of("drill ", twist.Name, " for ", feature), say.Of(twist.Name, " drill"))
	place(drill)
	through, deep := h.Depth == nil, t.block.Z
	if !through {
		deep = *h.Depth
	}
	total := holes.DepthOf(twist.Dia, practice.PointAngle.Angle(), deep, through).Total
	if through {
		drill.Set("depth", total.Up(), "point and breakthrough included")
	} else {
		drill.Set("depth", total.Down(), "never deeper; the point included")
	}
	t.pecked(w.add(drill), 1, twist.Dia, total)
	t.sideWall(drill, h)
	drill.Cautions = append(drill.Cautions, cautions.ClampDrill)
	out := predict.Drilled(twist.Dia)
	drill.Foresee(t.limits.BlockHole(n), "diameter of "+feature, out, drilledWith(twist))
	drill.Makes = []string{where}
	drill.Removed(work.BlockHole{X: op.LenOf(x), Y: op.LenOf(y), Dia: op.LenOf(out), Depth: work.Optional(h.Depth)})
	if h.Spec == "" {
		return w
	}
	spec, err := threads.Parse(h.Spec)
	if err != nil {
		w.wrong.Add(placed(err, h.At))
		return w
	}
	full := t.block.Z
	if !through { // a bottoming tap's lead stays free
		full = deep.Minus(spec.Pitch.Length(practice.TapLeadBottoming.Number()))
	}
	screw := nut{spec: spec, length: full, dia: h.Dia, deep: deep, through: through, drill: twist.Name}
	return together(w, tapped(t, base, id, screw, where))
}

// sideWall checks the wall from a hole to the nearest side of the block.
func (t *task) sideWall(o *op.Op, h part.BlockHole) {
	b := t.block
	wall := units.Min(units.Min(h.X, h.Y), units.Min(b.X.Minus(h.X), b.Y.Minus(h.Y))).Minus(h.Dia.Half())
	var limit units.Length
	if b.MinWall != nil {
		limit = *b.MinWall
	}
	o.Check(problem.WallTooThin, wall.Cmp(limit) >= 0 && wall.Sign() > 0,
		op.With(wall.Down(), "of wall to the nearest side"), op.With(limit, "wanted"),
		"move the hole in by ", limit.Minus(wall).Up())
}

// slope mills the nth plane off the top, the block tilted so that the plane
// lies level under the cutter. What comes out is computed back from the angles
// as they are set, to the mark of an ordinary protractor: with tan Y = tan
// second/cos first the lowest corner is z - x·tan first - y·tan Y.
func slope(t *task, s part.Slope, n int) steps {
	var w steps
	set, err := facets.SlopeOf(facets.SlopeInput{AlongX: s.AlongX, AlongY: s.AlongY})
	if err != nil {
		w.wrong.Add(placed(err, s.At))
		return w
	}
	setup := inVice(op.Sides, work.Finished, 0)
	setup.State = op.State{Tilted: true, Tilt: op.DegOf(set.First), TiltY: op.DegOf(set.Second)}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("slope-%d", n), Kind: op.Mill, Tool: op.Tool{Name: "face mill"},
		Feature: op.Feature{Kind: op.Facet, N: n},
		Cuts:    op.Span{From: s.FromX, To: s.ToX}, Setup: setup,
		Name: say.Of("mill the slope from x ", s.FromX, " to ", s.ToX),
	})
	step := practice.ViceStep.Angle()
	first, second := set.First.RoundTo(step, units.Nearest), set.Second.RoundTo(step, units.Nearest)
	quarter := func(a units.Angle) sheet.Number { return sheet.Number{V: a.Deg(), Places: 2, Unit: "deg"} }
	exact := func(a units.Angle) sheet.Number { return sheet.Number{V: a.Deg(), Places: 4, Unit: "deg"} }
	o.Set("first tilt", op.With(quarter(first), "along x"), "exact ", exact(set.First), " (", set.First.DMS(false), ")")
	o.Set("second tilt", op.With(quarter(second), "along y"),
		"exact ", exact(set.Second), ", less than the drawing's: the edge stands on a slope by then")
	o.Set("or one tilt", op.With(sheet.Deg(set.Tilt), "with the block turned ", sheet.Deg(set.Rotation)),
		"in plan, away from x toward y")
	span := s.ToX.Minus(s.FromX)
	deep := s.Drop(t.block.Y)
	o.Set("depth", deep.Down(), "at its lowest corner, below the top; its highest corner stays")
	t.cut(o, 3, cutting(feeds.Mill, practice.FaceMill.Length(), span))
	out := s
	out.AlongX, out.AlongY = first, units.Radians(math.Atan(second.Tan()/first.Cos()))
	o.Foresee(t.general(&w, limits.Depth, outline.SlopeID(n), t.block.Z.Minus(deep)), say.Of("lowest corner of slope ", n),
		t.block.Z.Minus(out.Drop(t.block.Y)), "the vice set to ", step)
	o.Makes = []string{outline.SlopeID(n)}
	o.Removed(work.Slope{
		FromX: op.LenOf(s.FromX), ToX: op.LenOf(s.ToX), AlongX: op.DegOf(s.AlongX), AlongY: op.DegOf(s.AlongY),
	})
	return w
}
