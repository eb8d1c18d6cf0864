package plan

import (
	"fmt"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
	"setover/threads"
	"setover/threads/cut"
	"setover/threads/drill"
)

// bores makes the holes on the bar's axis, and the threads in them.
func bores(t *task) steps {
	var list []steps
	for i, b := range t.shape.Bores {
		c := t.chuckings[0]
		if len(t.chuckings) > 1 && b.From != c.out && !(t.sawn && b.Through) {
			c = t.chuckings[1]
		}
		base := op.Op{
			Setup: c.setup.Plain(), Feature: op.Feature{Kind: op.Bore, N: i + 1},
			Cuts: b.Span, Axial: true, Dia: b.Dia,
		}
		made, twist := bore(t, base, b)
		list = append(list, made)
		for _, x := range b.Threads {
			cut := base
			cut.Setup = t.chuckingFor(x.From).setup.Plain()
			n := nut{spec: x.Designation, length: x.Length, dia: b.Dia, deep: b.Depth, through: b.Through, drill: twist.Name}
			n.thread = t.screwed(*x, true)
			id := b.ID()
			if x.From != b.From { // the far end of a through bore has its own
				id += "-" + string(x.From)
			}
			list = append(list, tapped(t, cut, id, n, x.ID()))
		}
	}
	return together(list...)
}

// chuckingFor returns the chucking in which an end stands out, the first where
// none does.
func (t *task) chuckingFor(end part.End) chucking {
	for _, c := range t.chuckings {
		if c.out == end {
			return c
		}
	}
	return t.chuckings[0]
}

// screwed returns a thread as it is cut: toward the headstock from the end that
// stands out.
func (t *task) screwed(x outline.Thread, inside bool) *work.Thread {
	s := inWork(x.Span)
	return &work.Thread{
		From: s.From, To: s.To, Spec: x.Spec, Inside: inside, Cut: work.ToHeadstock,
		Major: op.LenOf(x.Designation.Major),
	}
}

// inEnd returns a bore's drilling to a diameter, deep from its face.
func inEnd(b outline.Bore, dia units.Length, deep units.Length, point units.Angle) work.Bore {
	return work.Bore{
		From: b.From, Dia: op.LenOf(dia), Depth: op.LenOf(deep), Point: op.DegOf(point), Through: b.Through,
	}
}

// bore spots, drills and, where no drill has the size, reams or bores a hole.
func bore(t *task, base op.Op, b outline.Bore) (steps, drills.Drill) {
	var w steps
	depth, id := b.Span.Length(), b.ID()
	w.spotted(t, base, b)
	reamer := t.reamer(b.Dia, t.limits.Bore(b))
	var twist drills.Drill
	exact := false
	if reamer != nil {
		twist = w.drillUnder(t, *reamer)
	} else {
		twist, exact = w.drilledFor(t, b)
	}
	drill := base.As(id+"-drill", op.Drill, say.Of("drill ", twist.Name), say.Of(twist.Name, " drill"))
	drill.Push = op.Cut{Side: true}
	deep := holes.DepthOf(twist.Dia, practice.PointAngle.Angle(), depth, b.Through)
	drill.Set("depth", deep.Total.Down(), "to the point, ", deep.Point, " of which is the point")
	t.pecked(w.add(drill), 1, twist.Dia, deep.Total)
	t.boreWall(drill, b)
	name := say.Of("bore from the ", b.From, ", ", b.Dia)
	comes := predict.Drilled(twist.Dia)
	drill.Removed(inEnd(b, comes, depth, practice.PointAngle.Angle()))
	finish := drill
	switch {
	case reamer != nil:
		finish = base.As(id+"-ream", op.Ream, say.Of("ream to ", b.Dia), say.Of("reamer ", *reamer))
		finish.Set("depth", depth.Down(), "by hand pressure of the tailstock, never turned backwards")
		finish.Removed(inEnd(b, *reamer, depth, units.Degrees(180)))
		finish.Push = op.Cut{Side: true}
		t.cut(w.add(finish), 1, cutting(feeds.Ream, b.Dia, depth))
		w.needs(finish.Tool.Name, say.Of("for a bore of ", b.Dia), true)
		finish.Foresee(t.limits.Bore(b), name, *reamer, "reamed")
	case exact:
		drill.Foresee(t.limits.Bore(b), name, comes, drilledWith(twist))
	default:
		finish = t.boredOut(&w, base, b, comes)
	}
	finish.Makes = append(finish.Makes, id)
	if !b.Through {
		finish.Foresee(t.limits.BoreDepth(b), say.Of("depth of the ", b.Dia, " bore"), depth, "drilled to a mark")
	}
	return w, twist
}

// spotted starts a bore.
func (w *steps) spotted(t *task, base op.Op, b outline.Bore) {
	spot := base.As(b.ID()+"-spot", op.Spot, say.Of("spot for the ", b.Dia, " bore"), w.centreDrill(t, b.Dia))
	pilot := units.Min(practice.CentreDrill.Length(b.Dia), b.Dia.Half())
	spot.Push = op.Cut{Side: true}
	mouth := units.Min(centreMouth(pilot), b.Dia)
	spot.Removed(work.Centre{End: b.From, Dia: op.LenOf(mouth), Pilot: op.LenOf(pilot)}, op.CentreHoleOK)
	t.cut(w.add(spot), 1, cutting(feeds.Drill, units.Min(b.Dia, widestCentre())))
}

// reamer returns the reamer of the drawer that keeps a bore's limits, or nil.
func (t *task) reamer(dia units.Length, d limits.Dimension) *units.Length {
	for i, r := range t.Shop.Reamers {
		if r.Equal(dia) && d.Holds(r) {
			return &t.Shop.Reamers[i]
		}
	}
	return nil
}

// boredOut bores a drilled hole to its size.
func (t *task) boredOut(w *steps, base op.Op, b outline.Bore, from units.Length) *op.Op {
	depth := b.Span.Length()
	o := base.As(b.ID()+"-bore", op.Bore, say.Of("bore to ", b.Dia), "boring bar")
	o.Push = op.Cut{Side: true}
	in := cutting(feeds.Bore, b.Dia, depth)
	in.Bars = t.Shop.BoringBars
	if r := t.cut(w.add(o), 2, in); r.BoringBar == nil && len(in.Bars) > 0 {
		o.Check(problem.NotReachable, false, op.With(depth.Up(), "deep, ", b.Dia, " wide"),
			say.Text("the boring bars on hand"),
			"a longer or thinner bar, a reamer of ", b.Dia, ", or a shallower bore")
	}
	set := o.OnDial(say.Of("out to ", b.Dia, " from the drilled hole"), op.CrossSlide, t.Shop.Lathe.CrossSlide,
		b.Dia.Minus(from).Half(), "touching the drilled hole")
	o.Set("size", b.Dia.Down(), "never larger: measure before the last cut")
	out := from.Plus(set.Times(2))
	o.Removed(inEnd(b, out, depth, units.Degrees(180)))
	o.Foresee(t.limits.Bore(b), say.Of("bore from the ", b.From, ", ", b.Dia), out, "bored by the cross slide's dial")
	return o
}

// boreWall checks the wall that a bore, with the thread in it, leaves to the
// outside: the roots of outside threads and the flats of facets count.
func (t *task) boreWall(o *op.Op, b outline.Bore) {
	dia := b.Dia
	for _, x := range b.Threads {
		dia = units.Max(dia, x.Designation.Major)
	}
	outside := t.shape.Core(b.Span)
	wall := outside.Minus(dia).Half()
	var limit units.Length // nothing to fail by, unless it is written
	least := practice.LeastWall.Length(nil)
	if t.round.MinWall != nil {
		limit, least = *t.round.MinWall, *t.round.MinWall
	}
	ok := wall.Sign() > 0 && wall.Cmp(limit) >= 0
	remedy := say.Of("a bore of at most ", outside.Minus(least.Times(2)).Down())
	if most := t.deepest(b, dia.Plus(least.Times(2))); most.Sign() > 0 {
		remedy += say.Of(", or one no deeper than ", most.Down())
	}
	o.Check(problem.WallTooThin, ok, op.With(wall.Down(), "of wall round the bore"), op.With(least, "wanted"), remedy)
	if ok && wall.Less(least) {
		o.Warn("thin-wall", "only ", wall.Down(), " of wall round the bore, under the usual ", least)
	}
}

// deepest returns how deep a bore may go: to the first stretch that is thinner
// than need.
func (t *task) deepest(b outline.Bore, need units.Length) units.Length {
	most := t.shape.Length
	for _, x := range t.shape.Stretches {
		if x.Core(x.Span).Cmp(need) >= 0 {
			continue
		}
		near := x.From
		if b.From == part.Right {
			near = t.shape.Length.Minus(x.To)
		}
		most = units.Min(most, near)
	}
	return most
}

// sameThread reports whether a tap or die cuts the thread.
func sameThread(have string, want threads.Designation) bool {
	h, err := threads.Parse(have)
	return err == nil && same(h, want)
}

func same(h, want threads.Designation) bool {
	return h.Major.Equal(want.Major) && h.Pitch.Equal(want.Pitch) && h.Form == want.Form &&
		h.Starts == want.Starts && h.Left == want.Left
}

// onHand reports whether one of a drawer's taps or dies cuts the thread.
func (j *job) onHand(list []string, want threads.Designation) bool {
	return slices.ContainsFunc(list, func(s string) bool {
		h, known := j.parsed[s]
		if !known {
			h, _ = threads.Parse(s)
			j.parsed[s] = h
		}
		return same(h, want)
	})
}

// screwCuts reports whether the lathe cuts threads with a single point.
func (t *task) screwCuts() bool {
	lathe := t.Shop.Lathe
	return lathe != nil && lathe.Leadscrew != nil && len(lathe.ChangeGears) > 0
}

// outsideThread chamfers, relieves and cuts the nth thread, on the outside.
func outsideThread(t *task, c chucking, x outline.Thread, n int) steps {
	var w steps
	spec, sizes := x.Designation, x.Designation.Sizes()
	feature := op.Feature{Kind: op.Thread, N: n}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("chamfer-%d", n), Kind: op.Chamfer, Name: say.Of("chamfer and relieve for ", spec), Setup: c.setup,
		Tool: op.Tool{Name: "chamfering tool", Hand: op.Form}, Feature: feature, Cuts: x.Span, Dia: sizes.Major,
	})
	cut := t.screwed(x, false)
	o.Set("chamfer to", op.With(sizes.MinorExternal.Down(), "at the end"), "45 deg, down to the root")
	wide := t.relief(x)
	deep := spec.Major.Minus(spec.Pitch.Length(practice.ReliefDepth.Number()))
	if wide.Sign() > 0 {
		o.Set("relief", op.With(wide.Down(), "wide"), "down to ", deep, ", behind the thread")
		over := behind(inner(cut, x.From), op.LenOf(wide), x.From)
		o.Removed(work.Turned(over, op.LenOf(deep), work.Finished), op.ThreadRelief)
	} else {
		o.Set("relief", say.Text("none"), "the thread runs out at the end of the cylinder")
	}
	o.Removed(chamfered(x, sizes.MinorExternal), op.ThreadChamfer)
	cut.RunOut = op.LenOf(wide)
	o = w.add(&op.Op{
		ID: fmt.Sprintf("thread-%d", n), Kind: op.Thread, Name: say.Of("cut ", spec, " with the die"), Setup: c.setup,
		Tool: op.Tool{Name: say.Of("die ", spec), Hand: op.Form}, Feature: feature, Cuts: x.Span, Dia: sizes.Major,
		Makes: []string{x.ID()},
	})
	switch have := t.onHand(t.Shop.Dies, spec); {
	case have:
		w.needs(o.Tool.Name, say.Of("for ", spec), true)
	case t.screwCuts():
		o.Name, o.Tool = say.Of("cut ", spec, " with a single point"), op.Tool{Name: "threading tool", Hand: op.Form}
		t.geared(o, spec)
	default:
		o.Name = say.Of("cut ", spec, " with a die")
		w.needs(o.Tool.Name, say.Of("for ", spec), false)
	}
	o.Set("length", x.Length, "of full thread")
	o.Removed(*cut)
	t.cutThread(o, spec)
	return w
}

// relief returns how wide the relief behind an outside thread is: as practice has
// it, where its cylinder has that room.
func (t *task) relief(x outline.Thread) units.Length {
	return units.Min(x.Designation.Pitch.Length(practice.ReliefWidth.Number()), t.roomBehind(x))
}

// chamfered returns the chamfer at a thread's end, down to its root.
func chamfered(x outline.Thread, root units.Length) work.Outside {
	s, major, low := inWork(x.Span), op.LenOf(x.Designation.Major), op.LenOf(root)
	long := (major - low) / 2
	if x.From == part.Right {
		return work.Outside{Profile: []work.Point{{Z: s.To - long, Dia: major}, {Z: s.To, Dia: low}}, Stage: work.Finished}
	}
	return work.Outside{Profile: []work.Point{{Z: s.From, Dia: low}, {Z: s.From + long, Dia: major}}, Stage: work.Finished}
}

// inner returns the z of a thread's end that lies inward of the end it is cut
// from.
func inner(x *work.Thread, from part.End) op.Len {
	if from == part.Right {
		return x.From
	}
	return x.To
}

// cutThread gives a thread that is cut its speed and minutes.
func (t *task) cutThread(o *op.Op, spec threads.Designation) {
	t.cut(o, 1, atLead(feeds.Thread, spec))
	o.Minutes += practice.ThreadMinutes.Number()
}

// atLead is the question of how a thread is cut, at its lead as the feed.
func atLead(what feeds.Operation, spec threads.Designation) feeds.Input {
	in := cutting(what, spec.Major)
	in.Feed = new(units.MillimetresPerRev(spec.Lead().MM()))
	return in
}

// geared gears the lathe for a thread.
func (t *task) geared(o *op.Op, spec threads.Designation) {
	lathe := t.Shop.Lathe
	o.Setup.State.Lead = op.LeadOf(spec.Lead())
	r, err := cut.Gears(cut.GearsInput{
		Thread: cut.Of(spec), Leadscrew: lathe.Leadscrew, Wheels: lathe.ChangeGears, StudRatio: lathe.StudRatio, Most: 4,
		Space: lathe.BanjoClearance,
	})
	if err != nil || len(r.Trains) == 0 {
		o.Check(problem.NotReachable, false, say.Text("no train of these wheels cuts it"),
			say.Of("its lead is ", spec.Lead()),
			"a wheel more, or a die")
		return
	}
	best := r.Trains[0]
	note := say.Text("driver over driven, from the stud to the leadscrew; exact")
	if best.PPM != 0 {
		off := units.FromFloat(float64(best.Per100))
		note = say.Of("driver over driven; ", say.Num(float64(best.PPM), 1), " ppm off, ",
			off.Fine(), " over ", units.Millimetres(100))
	}
	o.Set("gears", say.Text(best.Text()), note)
	o.Stands.Gears = best.Text()
}

// roomBehind returns how much of its cylinder is left behind a thread.
func (t *task) roomBehind(x outline.Thread) units.Length {
	list := slices.Clone(t.shape.Stretches)
	end := x.Span.To
	if x.From == part.Right {
		slices.Reverse(list)
		end = x.Span.From
	}
	var room, dia units.Length
	for _, s := range list {
		far := s.To
		if x.From == part.Right {
			far = s.From
		}
		switch {
		case s.Overlaps(x.Span):
			dia = s.Left.Turned
		case dia.Sign() > 0 && s.Kind() == outline.Cylinder && s.Left.Turned.Equal(dia):
			room = far.Minus(end).Abs()
		case dia.Sign() > 0:
			return room
		}
	}
	return room
}

// nut is a thread in a hole that is drilled to dia, deep to its full diameter.
type nut struct {
	spec      threads.Designation
	length    units.Length // of full thread
	dia, deep units.Length
	through   bool
	thread    *work.Thread // as it is cut in a bar, nil in a block
	drill     string       // that the hole was drilled with, by name
}

// tapped countersinks and threads a hole: with the tap on hand, else with a
// single point where that goes in. base is what the hole's operations share, id
// how their names begin, and makes the thread's own id.
func tapped(t *task, base op.Op, id string, n nut, makes string) steps {
	var w steps
	mouth := practice.ThreadMouth.Of(n.spec.Major)
	o := w.add(base.As(id+"-countersink", op.Countersink, say.Of("countersink for ", n.spec), "countersink"))
	o.Set("to", mouth, say.Num(practice.ThreadMouth.Number(), 2), " of the thread")
	t.cut(o, 1, cutting(feeds.Countersink, mouth))
	o.Push = op.Cut{Side: true}
	if n.thread != nil {
		wide, hole := op.LenOf(mouth), op.LenOf(n.dia)
		o.Removed(work.Bore{
			From: base.Setup.Out, Dia: wide, EndDia: hole, Depth: (wide - hole) / 2, Point: 180e6, Opens: true,
		}, op.CountersinkOK)
	}

	have := t.onHand(t.Shop.Taps, n.spec)
	if !have && base.Setup.Machine == op.Lathe && t.screwCuts() && n.dia.Cmp(practice.InsideThreadBore.Length()) >= 0 {
		p := w.add(base.As(id+"-thread", op.Thread, say.Of("cut ", n.spec, " inside with a single point"),
			"inside threading tool"))
		p.Tool.Hand, p.Makes = op.Form, []string{makes}
		if n.thread != nil {
			p.Removed(*n.thread)
		}
		t.geared(p, n.spec)
		p.Set("depth", n.length.Up(), "of full thread: stop in a relief or pull out at the mark")
		t.cutThread(p, n.spec)
		return w
	}
	p := w.add(base.As(id+"-tap", op.Tap, say.Of("tap ", n.spec), say.Of("tap ", n.spec)))
	p.Makes = []string{makes}
	if n.thread != nil {
		p.Removed(*n.thread)
	}
	w.needs(p.Tool.Name, say.Of("for ", n.spec), have)
	p.Set("depth", n.length.Up(), "of full thread")
	p.Set("thread", sheet.Number{V: drill.Percent(n.spec, n.dia), Unit: "%"},
		"of full depth at the drawn bore (100 % = 1.299038 P)")
	if best, ok := t.tapDrill(n.spec, n.length); ok && best.Name != n.drill {
		p.Set("tap drill", best.Dia, best.Name, " is nearer to what suits this material; the drawing says ", n.dia)
	}
	if !n.through {
		room, lead := n.deep.Minus(n.length), n.spec.Pitch.Length(practice.TapLeadBottoming.Number())
		p.Check(problem.TravelShort, room.Cmp(lead) >= 0, op.With(room, "of hole beyond the thread"),
			op.With(lead, "wanted, the lead of a bottoming tap (2 P)"), "drill the hole ", lead.Minus(room), " deeper")
	}
	t.cut(p, 1, atLead(feeds.Tap, n.spec))
	return w
}

// tapDrill returns the drill that suits a thread in this material, so deep, and
// whether there is one.
func (j *job) tapDrill(spec threads.Designation, length units.Length) (drills.Drill, bool) {
	key := hole{feature: spec.String(), low: op.LenOf(length)}
	c, known := j.chosenDrills[key]
	if !known {
		c = j.suiting(spec, length)
		j.chosenDrills[key] = c
	}
	return c.Drill, c.good
}

// suiting asks for the tap drill.
func (j *job) suiting(spec threads.Designation, length units.Length) choice {
	drawer := "shop"
	if len(j.Shop.Drills) == 0 {
		drawer = "all"
	}
	best, err := drill.For(drill.Input{
		Thread: spec, Material: j.material.Name, Depth: &length, Drills: drawer, Drawer: j.Shop.Drills,
	})
	if err != nil || best.Recommended == nil {
		return choice{}
	}
	found, err := drills.Find(*best.Recommended)
	return choice{found, err == nil}
}

// drilledFor returns the drill for a bore: the tap drill of the thread in it
// where its hole keeps the drawing's limits, else the one that comes nearest.
func (w *steps) drilledFor(t *task, b outline.Bore) (twist drills.Drill, exact bool) {
	d := t.limits.Bore(b)
	for _, x := range b.Threads {
		if best, ok := t.tapDrill(x.Designation, x.Length); ok && d.Holds(predict.Drilled(best.Dia)) {
			w.needs(say.Of("drill ", best.Name), say.Of("for ", x.Designation), len(t.Shop.Drills) > 0)
			return best, true
		}
	}
	return w.drill(t, d)
}
