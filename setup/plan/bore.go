package plan

import (
	"fmt"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/threads"
	"setover/threads/cut"
	"setover/threads/drill"
)

// bores makes the holes on the bar's axis, and the threads in them.
func bores(t *task) work {
	var list []work
	for i, b := range t.shape.Bores {
		c := t.chuckings[0]
		if len(t.chuckings) > 1 && b.From != c.out {
			c = t.chuckings[1]
		}
		base := op.Op{
			Setup: c.setup.Plain(), Held: c.held, Feature: op.Feature{Kind: op.Bore, N: i + 1},
			Cuts: b.Span, Axial: true, Dia: b.Dia,
		}
		id := fmt.Sprintf("bore-%d", i+1)
		list = append(list, bore(t, base, id, b))
		for _, x := range b.Threads {
			list = append(list, tapped(t, base, id, nut{x.Designation, x.Length, b.Dia, b.Depth, b.Through}))
		}
	}
	return together(list...)
}

// bore spots, drills and, where no drill has the size, bores a hole.
func bore(t *task, base op.Op, id string, b outline.Bore) work {
	var w work
	depth := b.Span.Length()
	spot := base.As(id+"-spot", op.Spot, say.Of("spot for the ", b.Dia, " bore"), w.centreDrill(t, b.Dia))
	t.cut(w.add(spot), 1, cutting(feeds.Drill, units.Min(b.Dia, widestCentre())))

	twist, exact := w.drill(t, b.Dia)
	drill := base.As(id+"-drill", op.Drill, say.Of("drill ", twist.Name), say.Of(twist.Name, " drill"))
	deep := holes.DepthOf(twist.Dia, practice.PointAngle.Angle(), depth, b.Through)
	drill.Set("depth", deep.Total.Down(), "to the point, ", deep.Point, " of which is the point")
	t.cut(w.add(drill), 1, cutting(feeds.Drill, twist.Dia, deep.Total))
	t.boreWall(drill, b)
	name := say.Of("bore from the ", b.From, ", ", b.Dia)
	if exact {
		w.drilled(name, b.Dia, twist)
		return w
	}
	bar := base.As(id+"-bore", op.Bore, say.Of("bore to ", b.Dia), "boring bar")
	in := cutting(feeds.Bore, b.Dia, depth)
	in.Bars = t.Shop.BoringBars
	t.cut(w.add(bar), 2, in)
	out := predict.Drilled(twist.Dia)
	set := bar.OnDial(say.Of("out to ", b.Dia, " from the drilled hole"), op.CrossSlide, t.Shop.Lathe.CrossSlide,
		b.Dia.Minus(out).Half())
	bar.Set("size", b.Dia.Down(), "never larger: measure before the last cut")
	w.predict(name, b.Dia, out.Plus(set.Times(2)), "bored by the cross slide's dial")
	return w
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
	o.Check(problem.WallTooThin, ok, op.With(wall.Down(), "of wall round the bore"), least, remedy)
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

// sameThread reports whether a tap or die on hand cuts the thread.
func sameThread(have string, want threads.Designation) bool {
	h, err := threads.Parse(have)
	return err == nil && h.Major.Equal(want.Major) && h.Pitch.Equal(want.Pitch) && h.Form == want.Form &&
		h.Starts == want.Starts && h.Left == want.Left
}

// onHand reports whether one of a drawer's taps or dies cuts the thread.
func onHand(list []string, want threads.Designation) bool {
	return slices.ContainsFunc(list, func(s string) bool { return sameThread(s, want) })
}

// screwCuts reports whether the lathe cuts threads with a single point.
func (t *task) screwCuts() bool {
	lathe := t.Shop.Lathe
	return lathe != nil && lathe.Leadscrew != nil && len(lathe.ChangeGears) > 0
}

// outsideThread chamfers, relieves and cuts the nth thread, on the outside.
func outsideThread(t *task, c chucking, x outline.Thread, n int) work {
	var w work
	spec, sizes := x.Designation, x.Designation.Sizes()
	feature := op.Feature{Kind: op.Thread, N: n}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("chamfer-%d", n), Kind: op.Chamfer, Name: say.Of("chamfer and relieve for ", spec), Setup: c.setup,
		Held: c.held, Tool: "chamfering tool", Feature: feature, Cuts: x.Span, Dia: sizes.Major,
	})
	o.Set("chamfer to", op.With(sizes.MinorExternal.Down(), "at the end"), "45 deg, down to the root")
	if room := t.roomBehind(x); room.Sign() > 0 {
		wide := units.Min(spec.Pitch.Length(practice.ReliefWidth.Number()), room)
		deep := spec.Major.Minus(spec.Pitch.Length(practice.ReliefDepth.Number()))
		o.Set("relief", op.With(wide.Down(), "wide"), "down to ", deep, ", behind the thread")
	} else {
		o.Set("relief", say.Text("none"), "the thread runs out at the end of the cylinder")
	}
	o = w.add(&op.Op{
		ID: fmt.Sprintf("thread-%d", n), Kind: op.Thread, Name: say.Of("cut ", spec, " with the die"), Setup: c.setup,
		Held: c.held, Tool: say.Of("die ", spec), Feature: feature, Cuts: x.Span, Dia: sizes.Major,
	})
	switch have := onHand(t.Shop.Dies, spec); {
	case have:
		w.needs(o.Tool, say.Of("for ", spec), true)
	case t.screwCuts():
		o.Name, o.Tool = say.Of("cut ", spec, " with a single point"), "threading tool"
		t.geared(o, spec)
	default:
		o.Name = say.Of("cut ", spec, " with a die")
		w.needs(o.Tool, say.Of("for ", spec), false)
	}
	o.Set("length", x.Length, "of full thread")
	t.cutThread(o, spec)
	return w
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
		o.Check(problem.NotReachable, false, say.Text("no train of these wheels"), say.Of(spec.Lead()),
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
}

// tapped countersinks and threads a hole: with the tap on hand, else with a
// single point where that goes in. base is what the hole's operations share and
// id how their names begin.
func tapped(t *task, base op.Op, id string, n nut) work {
	var w work
	mouth := practice.ThreadMouth.Of(n.spec.Major)
	o := w.add(base.As(id+"-countersink", op.Countersink, say.Of("countersink for ", n.spec), "countersink"))
	o.Set("to", mouth, say.Num(practice.ThreadMouth.Number(), 2), " of the thread")
	t.cut(o, 1, cutting(feeds.Countersink, mouth))

	have := onHand(t.Shop.Taps, n.spec)
	if !have && base.Setup.Machine == op.Lathe && t.screwCuts() && n.dia.Cmp(practice.InsideThreadBore.Length()) >= 0 {
		p := w.add(base.As(id+"-thread", op.Thread, say.Of("cut ", n.spec, " inside with a single point"),
			"inside threading tool"))
		t.geared(p, n.spec)
		p.Set("depth", n.length.Up(), "of full thread: stop in a relief or pull out at the mark")
		t.cutThread(p, n.spec)
		return w
	}
	p := w.add(base.As(id+"-tap", op.Tap, say.Of("tap ", n.spec), say.Of("tap ", n.spec)))
	w.needs(p.Tool, say.Of("for ", n.spec), have)
	p.Set("depth", n.length.Up(), "of full thread")
	p.Set("thread", sheet.Number{V: drill.Percent(n.spec, n.dia), Unit: "%"},
		"of full depth at the drawn bore (100 % = 1.299038 P)")
	if better := w.betterDrill(t, n); better != "" {
		p.Set("tap drill", better, "is nearer to what suits this material; the drawing says ", n.dia)
	}
	if !n.through {
		room, lead := n.deep.Minus(n.length), n.spec.Pitch.Length(practice.TapLeadBottoming.Number())
		p.Check(problem.TravelShort, room.Cmp(lead) >= 0, op.With(room, "of hole beyond the thread"),
			op.With(lead, "for a bottoming tap's lead (2 P)"), "drill the hole ", lead.Minus(room), " deeper")
	}
	t.cut(p, 1, atLead(feeds.Tap, n.spec))
	return w
}

// betterDrill returns the tap drill that suits the material better than the one
// the hole is drilled with, or "".
func (w *work) betterDrill(t *task, n nut) say.Text {
	drawer := "shop"
	if len(t.Shop.Drills) == 0 {
		drawer = "all"
	}
	drawn, _ := w.drill(t, n.dia)
	best, err := drill.For(drill.Input{
		Thread: n.spec, Material: t.material.Name, Depth: &n.length, Drills: drawer, Drawer: t.Shop.Drills,
	})
	if err != nil || best.Recommended == nil || *best.Recommended == drawn.Name {
		return ""
	}
	return say.Text(*best.Recommended)
}
