package plan

import (
	"fmt"
	"slices"
	"strings"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/walls"
)

// crossHoles makes the holes across the bar: a datum, then for each roll spot
// all its holes and drill them size by size.
func crossHoles(t *task) work {
	all := t.shape.Holes
	if len(all) == 0 {
		return work{}
	}
	w, thinnest := crossWalls(t)
	machine := t.drillingMachine()
	if machine == "" {
		w.no.Add(problem.New(problem.NotAvailable, "drill_press", nil,
			"cross holes need a mill or a drill press, and this shop has neither (mill, drill_press)"))
		return w
	}
	if t.Shop.VBlocks == nil {
		w.warnings.Add("not-checked", "no V-blocks in this shop: the bar lies in a vice, heights are not given (v_blocks)")
	}
	var rolls []units.Angle
	for _, h := range all {
		if !slices.Contains(rolls, h.Roll) {
			rolls = append(rolls, h.Roll)
		}
	}
	list := []work{w, rollDatum(t, t.across(machine, rolls[0]))}
	for i, roll := range rolls {
		r := rolled{task: t, base: t.across(machine, roll), n: i + 1, table: t.table(machine)}
		for _, h := range all {
			if h.Roll == roll {
				r.holes = append(r.holes, h)
			}
		}
		r.base.Feature, r.base.Roll, r.base.Cuts = op.Feature{Kind: op.CrossDrill, N: i + 1}, &rolls[i], covering(r.holes)
		list = append(list, r.spot(thinnest), r.drill())
	}
	return together(append(list, plug(t))...)
}

// covering returns the span that holes take up.
func covering(list []outline.Hole) op.Span {
	span := op.Span{From: list[0].Z, To: list[0].Z}
	for _, h := range list {
		span = spanning(span, about(h.Z, h.Dia))
	}
	return span
}

// across returns what operations across the bar share: how it lies, in the
// V-blocks or else a vice.
func (t *task) across(machine shop.Machine, roll units.Angle) op.Op {
	on, held, _ := t.inBlocks()
	s := op.Setup{Machine: machine, Device: op.VBlocks, On: on, Out: t.first}
	s.State = op.State{Rolled: true, Roll: op.DegOf(roll), Shim: t.shim}
	if t.Shop.VBlocks == nil {
		s.Device, s.State.Shim = op.Vice, false
	}
	return op.Op{Setup: s, Held: held}
}

// plug fills the cross holes whose edges would break out when they are turned
// over.
func plug(t *task) work {
	var w work
	if !t.material.Has(materials.BreaksOut) {
		return w
	}
	o := w.add(&op.Op{
		ID: "plug-holes", Kind: op.Plug, Name: "plug the cross holes", Tool: "dowels", Feature: op.Feature{Kind: op.Plug},
		Cuts: covering(t.shape.Holes), Setup: op.Setup{Machine: op.Bench, Device: op.Hand},
	})
	o.Set("plugs", say.Text("tight, of the same or a softer stuff"), "drive them out when the outside is finished")
	return w
}

// drillingMachine returns where cross holes are drilled: the mill when its
// table has a dial, else the drill press, else a mill without one.
func (t *task) drillingMachine() shop.Machine {
	switch mill := t.Shop.Mill; {
	case mill != nil && (mill.Table != nil || t.Shop.DrillPress == nil):
		return op.MillMachine
	case t.Shop.DrillPress != nil:
		return op.DrillPress
	}
	return ""
}

// table returns the dial that sets positions along the bar, or nil.
func (t *task) table(machine shop.Machine) *shop.Dial {
	if machine == op.MillMachine {
		return t.Shop.Mill.Table
	}
	return nil
}

// lies puts the bar's height in the V-blocks on the card.
func (t *task) lies(o *op.Op) {
	o.Cautions = append(o.Cautions, cautions.VBlocks)
	if t.Shop.VBlocks == nil {
		return
	}
	_, _, dia := t.inBlocks()
	in := holes.VInput{Dia: dia, Blocks: t.Shop.VBlocks}
	if x := seat(t.far); t.shim {
		in.Small, in.Span, in.Support = new(units.Min(x.Left.Turned, x.Right.Turned)), new(x.Length()), holes.LongV
		if t.Shop.VBlocks.Pair {
			in.Support = holes.TwoEdges
		}
	}
	v, err := holes.InV(in)
	if err != nil {
		o.Warn("not-checked", err)
		return
	}
	if v.Shim != nil {
		o.Set("shim", *v.Shim, "under the small end's block, so that the axis lies level; ", in.Span, " apart")
	}
	o.Set("top of the bar", v.TopHeight, "above the V-blocks' base")
	o.Set("centre of the bar", v.CentreHeight, "above the base: for the scribing block")
	if v.Fits != nil && !*v.Fits {
		o.Check(problem.CannotBeHeld, false, op.With(dia, "bar"), say.Text("the V's opening and relief"),
			"larger V-blocks, or the vice")
	}
}

// rollDatum scribes the roll datum.
func rollDatum(t *task, base op.Op) work {
	var w work
	o := base.As("roll-datum", op.Datum, "scribe the roll datum along the top", "scribing block")
	o.Cuts, o.Roll = t.shape.Whole(), new(units.Angle{})
	t.lies(w.add(o))
	return w
}

// fromFace turns a z into the distance from the face that is cut first, which
// positions are measured from, and back.
func (t *task) fromFace(z units.Length) units.Length {
	if t.first == part.Right {
		return t.shape.Length.Minus(z)
	}
	return z
}

// rolled is the holes at one roll.
type rolled struct {
	*task
	base  op.Op
	n     int
	table *shop.Dial
	holes []outline.Hole
}

// position sets one hole's place along the bar and returns it as set, z from
// the left end.
func (r rolled) position(o *op.Op, h outline.Hole) units.Length {
	slide := op.Table
	if r.table == nil {
		slide = op.MarkedOut
	}
	return r.fromFace(o.OnDial(say.Of(h.Feature(), ", ", h.Dia, " hole"), slide, r.table, r.fromFace(h.Z)))
}

// spot starts the holes.
func (r rolled) spot(thinnest []thinWall) work {
	var w work
	what := say.Of(len(r.holes), " holes")
	if len(r.holes) == 1 {
		what = "the hole"
	}
	o := w.add(r.base.As(fmt.Sprintf("spot-roll-%d", r.n), op.Spot,
		say.Of("spot ", what, " at roll ", degrees(*r.base.Roll)), w.centreDrill(r.task, practice.SpotAs.Length())))
	r.lies(o)
	r.thinnest(o, thinnest)
	for _, h := range r.holes {
		r.position(o, h)
	}
	o.Set("zero", say.Of("at the ", r.first, " face"), "all positions from it, approached from one side")
	r.cut(o, len(r.holes), cutting(feeds.Drill, spotPilot()))
	return w
}

// degrees words an angle without its unit.
func degrees(a units.Angle) string { return strings.TrimSuffix(a.String(), " deg") }

// drill drills the holes size by size, with the drill on hand.
func (r rolled) drill() work {
	var w work
	var names []string // of the drills, in the order of their first hole
	with, exact, group := map[string]drills.Drill{}, map[string]bool{}, map[string][]outline.Hole{}
	for _, h := range r.holes {
		d, is := w.drill(r.task, h.Dia)
		if len(group[d.Name]) == 0 {
			names = append(names, d.Name)
			with[d.Name], exact[d.Name] = d, is
		}
		group[d.Name] = append(group[d.Name], h)
	}
	for _, name := range names {
		d, list := with[name], group[name]
		var places []units.Length
		for _, h := range list {
			places = append(places, h.Z)
		}
		o := w.add(r.base.As(fmt.Sprintf("drill-%s-roll-%d", strings.ReplaceAll(name, " ", ""), r.n), op.CrossDrill,
			say.Of("drill ", name, " across at z ", say.Join(places, ", ")), say.Of(name, " drill")))
		o.Dia = d.Dia
		for _, h := range list {
			why := say.Text(byTable)
			if r.table == nil {
				why = "marked out, no dial"
			}
			w.predict(say.Of("place of ", h.Feature()), h.Z, r.position(o, h), why)
			w.drilled(say.Of("diameter of ", h.Feature()), h.Dia, d)
		}
		if !exact[name] {
			h := list[0]
			w.needs(say.Of("drill ", h.Dia), say.Of("for ", h.Feature()), false)
			o.Warn("kit-missing", "no drill of ", h.Dia, " is on hand: ", name, " is the nearest under it")
		}
		deepest := r.depths(o, list, d)
		o.Cautions = append(o.Cautions, cautions.ClampDrill)
		r.cut(o, len(list), cutting(feeds.Drill, d.Dia, deepest))
	}
	return w
}

// depths puts on the card how deep each hole is drilled: through holes all to
// the deepest, blind ones each to its own, never deeper. It returns the
// deepest.
func (r rolled) depths(o *op.Op, list []outline.Hole, d drills.Drill) units.Length {
	var through, deepest units.Length
	for _, h := range list {
		deep := r.depth(h, d)
		deepest = units.Max(deepest, deep)
		if h.Depth == nil {
			through = units.Max(through, deep)
			continue
		}
		o.Set(say.Of("depth of ", h.Feature()), deep.Down(), "from the bar's top, the point included")
	}
	if through.Sign() > 0 {
		o.Set("depth", through.Up(), "from the bar's top, point and breakthrough included")
	}
	peck, both := holes.Manner(d.Dia, deepest, through.Sign() > 0)
	switch {
	case both:
		o.Set("manner", say.Text("in pecks, from both sides"),
			"it is deeper than 5 diameters: turn the bar half round in the V-blocks and meet in the middle")
	case peck:
		o.Set("manner", say.Text("in pecks"), "it is deeper than 3 diameters")
	}
	return deepest
}

// depth returns how deep a hole is drilled while the bar is still round:
// through it with the point, or so that the finished hole has its depth. What
// is turned off later is still on, but on the side that was turned before.
func (r rolled) depth(h outline.Hole, d drills.Drill) units.Length {
	if h.Depth == nil {
		return holes.DepthOf(d.Dia, practice.PointAngle.Angle(), r.bar, true).Total
	}
	done := r.shim
	for _, x := range r.near {
		done = done || len(r.far) > 0 && x.From.Cmp(h.Z) <= 0 && h.Z.Cmp(x.To) <= 0
	}
	depth := *h.Depth
	if !done {
		depth = depth.Plus(r.bar.Minus(r.shape.DiaAt(h.Z)).Half())
	}
	return holes.DepthOf(d.Dia, practice.PointAngle.Angle(), depth, false).Total
}

// thinWall is the thinnest wall of a hole, those that are meant to be open left
// out.
type thinWall struct {
	n    int
	what walls.Wall
	is   units.Length
}

// crossWalls checks the wall of every cross hole, in the finished part and
// while the bar is still round, and returns the thinnest of each.
func crossWalls(t *task) (work, []thinWall) {
	var w work
	if t.bar.Less(t.round.Largest()) {
		return w, nil
	}
	finished, err := walls.Check(walls.Input{Name: t.Part.Name, Part: t.Part})
	drilling, also := walls.Check(walls.Input{Name: t.Part.Name, Part: t.Part, Bar: &t.bar})
	if w.wrong.Add(err); err == nil {
		w.wrong.Add(also)
	}
	w.no, w.warnings = append(w.no, finished.Fails()...), finished.Warnings
	for _, d := range drilling.Thin {
		told := slices.ContainsFunc(finished.Thin, func(f walls.Thin) bool {
			return f.Refused != nil && f.N == d.N && f.Wall == d.Wall
		})
		if d.Refused != nil && !told {
			p := *d.Refused
			p.Want = say.Of("while the bar is still ", t.bar, ": ", p.Want)
			w.no.Add(p)
		}
	}
	var list []thinWall
	for _, h := range finished.Holes {
		thin := thinWall{h.N, walls.Side, h.Side}
		look := func(what walls.Wall, l *units.Length) {
			if l != nil && l.Sign() > 0 && l.Less(thin.is) {
				thin = thinWall{h.N, what, *l}
			}
		}
		look(walls.End, &h.End)
		look(walls.Next, h.Next)
		look(walls.Bore, h.Bore)
		look(walls.Mouth, h.Mouth)
		list = append(list, thin)
	}
	return w, list
}

// thinnest puts the thinnest wall of the holes on the card that starts them.
func (r rolled) thinnest(o *op.Op, list []thinWall) {
	if len(list) == 0 {
		return
	}
	thin := list[r.holes[0].N-1]
	for _, h := range r.holes[1:] {
		if w := list[h.N-1]; w.is.Less(thin.is) {
			thin = w
		}
	}
	least := walls.Least(r.round.MinWall, r.material, r.holes[0].Dia)
	o.Set("thinnest wall", thin.is.Down(), string(thin.what), " of hole ", thin.n, "; at least ", least,
		" wanted; all of them: setover holes wall")
}
