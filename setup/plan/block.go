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
	"setover/setup/plan/op"
	"setover/tapers/facets"
	"setover/threads"
)

// squaredBlock is the task of milling a block: there is one way to hold it, on
// its squared faces.
func squaredBlock(j *job) *task {
	face := practice.SawnFace.Length()
	x, y, z := j.block.X.Plus(face.Times(2)), j.block.Y.Plus(face.Times(2)), j.block.Z.Plus(face.Times(2))
	b := Blank{X: &x, Y: &y, Z: &z, Because: say.Of("the finished block and ", face, " on every face to mill it square")}
	return &task{job: j, blank: b}
}

// milled makes a part from a block: squared face by face, then worked from the
// top with its base on parallels.
func milled(t *task) work {
	if t.Shop.Mill == nil {
		return work{no: problem.List{problem.New(problem.NotAvailable, "", nil,
			"a block is milled, and this shop has no mill (mill)").In(t.block.At)}}
	}
	list := []work{squares(t)}
	for i, h := range t.block.Holes {
		list = append(list, blockHole(t, h, i+1))
	}
	for i, s := range t.block.Slots {
		base := op.Op{Setup: fromTop(), Cuts: about(s.X, s.Length)}
		list = append(list, slot(t, base, s, i+1, s.X, s.Y))
	}
	for i, s := range t.block.Slopes {
		list = append(list, slope(t, s, i+1))
	}
	return together(append(list, processes(t.job, op.Span{}))...)
}

// inVice is a block held on two of its faces, with one up.
func inVice(on op.Shape, stage op.Stage, up op.Up) op.Setup {
	return op.Setup{
		Machine: op.MillMachine, Device: op.Vice, On: op.Surface{Shape: on, Stage: stage}, State: op.State{Up: up},
	}
}

// fromTop is the set-up in which a block is worked from above.
func fromTop() op.Setup { return inVice(op.Sides, op.Finished, op.TopUp) }

// squares saws the block and mills it square: each pair of faces while it is
// held on another.
func squares(t *task) work {
	var w work
	b, face := t.block, practice.SawnFace.Length()
	saw := w.add(&op.Op{
		ID: "saw", Kind: op.Saw, Name: "saw the block", Tool: "saw", Setup: op.Setup{Machine: op.BandSaw, Device: op.Vice},
	})
	saw.Set("size", say.Of(t.blank.X.Up(), " x ", t.blank.Y.Up(), " x ", t.blank.Z.Up()), "at the least")
	for _, f := range []struct {
		id         string
		name, size say.Text
		makes      op.Shape
		setup      op.Setup
		to, length units.Length
	}{
		{"base", "mill base and top parallel", "height z", op.BaseAndTop, inVice(op.Faces, op.Bought, op.FirstUp), b.Z, b.X},
		{
			"sides", "mill the long sides square to the base", "width y", op.Sides,
			inVice(op.BaseAndTop, op.Finished, op.SideUp), b.Y, b.X,
		},
		{"ends", "mill the ends square", "length x", op.EndFaces, inVice(op.Sides, op.Finished, op.EndUp), b.X, b.Y},
	} {
		o := w.add(&op.Op{
			ID: "square-" + f.id, Kind: op.Mill, Name: f.name, Tool: "face mill", Setup: f.setup, Dia: f.to,
			Feature: op.Feature{Kind: op.Mill, N: int(f.makes)}, Makes: op.Surface{Shape: f.makes, Stage: op.Finished},
		})
		o.Set("to", f.to, "measured over the two faces; take ", face, " off each")
		t.cut(o, 2, cutting(feeds.Mill, practice.FaceMill.Length(), f.length))
		w.predict(f.size, f.to, f.to, "milled to size by measuring")
	}
	return w
}

// blockHole spots and drills the nth hole from the top, and taps it where it
// has a thread.
func blockHole(t *task, h part.BlockHole, n int) work {
	var w work
	feature, id := say.Of("hole ", n), fmt.Sprintf("hole-%d", n)
	base := op.Op{Setup: fromTop(), Feature: op.Feature{Kind: op.Drill, N: n}, Cuts: about(h.X, h.Dia), Dia: h.Dia}
	place := func(o *op.Op) (x, y units.Length) {
		table := t.Shop.Mill.Table
		x = o.OnDial(feature+", along x", op.Table, table, h.X)
		return x, o.OnDial(feature+", along y", op.Table, table, h.Y)
	}
	spot := base.As(id+"-spot", op.Spot, "spot "+feature, w.centreDrill(t, practice.SpotAs.Length()))
	x, y := place(spot)
	w.predict("place of "+feature+" along x", h.X, x, byTable)
	w.predict("place of "+feature+" along y", h.Y, y, byTable)
	spot.Set("zero", say.Text("at the left front edges"), "all positions from them, approached from one side")
	t.cut(w.add(spot), 1, cutting(feeds.Drill, spotPilot()))

	twist, _ := w.drill(t, h.Dia)
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
	t.cut(w.add(drill), 1, cutting(feeds.Drill, twist.Dia, total))
	t.sideWall(drill, h)
	drill.Cautions = append(drill.Cautions, cautions.ClampDrill)
	w.drilled("diameter of "+feature, h.Dia, twist)
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
	return together(w, tapped(t, base, id, nut{spec, full, h.Dia, deep, through}))
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
		op.With(wall.Down(), "of wall to the nearest side"), limit, "move the hole in by ", limit.Minus(wall).Up())
}

// slope mills the nth plane off the top, the block tilted so that the plane
// lies level under the cutter. What comes out is computed back from the angles
// as they are set, to the mark of an ordinary protractor: with tan Y = tan
// second/cos first the lowest corner is z - x·tan first - y·tan Y.
func slope(t *task, s part.Slope, n int) work {
	var w work
	set, err := facets.SlopeOf(facets.SlopeInput{AlongX: s.AlongX, AlongY: s.AlongY})
	if err != nil {
		w.wrong.Add(placed(err, s.At))
		return w
	}
	setup := inVice(op.Sides, op.Finished, 0)
	setup.State = op.State{Tilted: true, Tilt: op.DegOf(set.First), TiltY: op.DegOf(set.Second)}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("slope-%d", n), Kind: op.Mill, Tool: "face mill", Feature: op.Feature{Kind: op.Facet, N: n},
		Cuts: op.Span{From: s.FromX, To: s.ToX}, Name: say.Of("mill the slope from x ", s.FromX, " to ", s.ToX), Setup: setup,
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
	drop := func(x, y units.Angle) units.Length {
		return units.FromFloat(math.Abs(span.MM()*x.Tan()) + math.Abs(t.block.Y.MM()*y.Tan()))
	}
	deep := drop(s.AlongX, s.AlongY)
	o.Set("depth", deep.Down(), "at its lowest corner, below the top; its highest corner stays")
	if t.block.Z.Cmp(deep) <= 0 {
		o.Check(problem.Impossible, false, op.With(deep.Up(), "deep"), say.Of("the block is ", t.block.Z, " high"),
			"a higher block, or a gentler slope")
	}
	t.cut(o, 3, cutting(feeds.Mill, practice.FaceMill.Length(), span))
	outY := units.Radians(math.Atan(second.Tan() / first.Cos()))
	w.predict(say.Of("lowest corner of slope ", n), t.block.Z.Minus(deep), t.block.Z.Minus(drop(first, outY)),
		"the vice set to ", step)
	return w
}
