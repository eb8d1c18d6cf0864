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
	"setover/setup/plan/predict"
	"setover/setup/plan/walls"
	"setover/setup/plan/work"
)

// crossHoles makes the holes across the bar: a datum, then for each roll spot
// all its holes and drill them size by size.
func crossHoles(t *task) steps {
	all := t.shape.Holes
	if len(all) == 0 {
		return steps{}
	}
	w, thinnest := t.crossWalls()
	machine := t.drillingMachine()
	if t.indexed != "" {
		machine = op.MillMachine
	}
	if machine == "" {
		w.no.Add(problem.New(problem.NotAvailable, all[0].ID(), nil,
			"cross holes need a mill or a drill press, and this shop has neither (mill, drill_press)"))
		return w
	}
	if t.Shop.VBlocks == nil && t.indexed == "" {
		w.warnings.Add("not-checked", "no V-blocks in this shop: the bar lies in a vice, heights are not given (v_blocks)")
	}
	var rolls []units.Angle
	for _, h := range all {
		if !slices.Contains(rolls, h.Roll) {
			rolls = append(rolls, h.Roll)
		}
	}
	span := covering(all)
	list := []steps{w, rollDatum(t, t.across(machine, rolls[0], span))}
	for i, roll := range rolls {
		for k, holes := range t.levels(all, roll) {
			r := rolled{
				task: t, base: t.across(machine, roll, span), name: fmt.Sprintf("roll-%d", i+1), table: t.table(machine),
				holes: holes,
			}
			if k > 0 {
				r.name += fmt.Sprintf("-%d", k+1)
			}
			r.base.Feature, r.base.Roll, r.base.Cuts = op.Feature{Kind: op.CrossDrill, N: i + 1}, &rolls[i], covering(holes)
			list = append(list, r.spot(thinnest), r.drill())
		}
	}
	return together(append(list, plug(t))...)
}

// levels returns the holes at a roll by the surface they are drilled from, which
// gives an operation its one height: that of the bar, of what roughing left, of
// the band that lies in the V-blocks; on a cone each hole has its own.
func (t *task) levels(all []outline.Hole, roll units.Angle) [][]outline.Hole {
	var list [][]outline.Hole
	numbers := map[op.Len]int{}
	for _, h := range all {
		if h.Roll != roll {
			continue
		}
		level := t.level(h)
		n, known := numbers[level]
		if !known {
			n = len(list)
			numbers[level] = n
			list = append(list, nil)
		}
		list[n] = append(list[n], h)
	}
	return list
}

// level returns the diameter that stands where a hole is drilled.
func (t *task) level(h outline.Hole) op.Len {
	switch t.lies {
	case onBar: // or in what indexes it
		return op.LenOf(t.bar)
	case onShim:
		return op.LenOf(t.shape.DiaAt(h.Z))
	}
	if g := t.shape.Stretches[t.grip]; g.From.Cmp(h.Z) <= 0 && h.Z.Cmp(g.To) <= 0 {
		return op.LenOf(g.Left.Turned)
	}
	for _, x := range roughing(t.chuckings[0]) {
		if x.over.From.Cmp(h.Z) <= 0 && h.Z.Cmp(x.over.To) <= 0 {
			return op.LenOf(x.to)
		}
	}
	return op.LenOf(t.bar)
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
// V-blocks or else a vice, about what is cut; or what indexes it.
func (t *task) across(machine shop.Machine, roll units.Angle, cuts op.Span) op.Op {
	if t.indexed != "" {
		return op.Op{Setup: op.Setup{
			Machine: op.MillMachine, Device: t.indexed, On: op.Stock, Held: t.inIndex(), Out: t.first,
		}}
	}
	on, held := t.inBlocks(cuts)
	s := op.Setup{Machine: machine, Device: op.VBlocks, On: on, Held: held, Out: t.first}
	s.State = op.State{Rolled: true, Roll: op.DegOf(roll), Shim: t.lies == onShim}
	if t.Shop.VBlocks == nil || t.onFlat(op.DegOf(roll)) {
		s.Device, s.State.Shim = op.Vice, false
	}
	return op.Op{Setup: s}
}

// onFlat reports whether a square bar lies in the vice while it is worked across, a flat up: its
// jaws press on the two beside that. In a V it would stand on its corner.
func (t *task) onFlat(roll op.Deg) bool {
	if t.lies != onBar || t.sides() != fourSides {
		return false
	}
	quarter := op.DegOf(units.Degrees(90))
	for _, f := range t.shape.Facets {
		if t.ownFlats(f) && (roll-op.DegOf(f.Roll))%quarter != 0 {
			return false
		}
	}
	return true
}

// plug fills the cross holes whose edges would break out when they are turned
// over.
func plug(t *task) steps {
	var w steps
	if !t.material.Has(materials.BreaksOut) {
		return w
	}
	o := w.add(&op.Op{
		ID: "plug-holes", Kind: op.Plug, Name: "plug the cross holes", Tool: op.Tool{Name: "dowels"},
		Feature: op.Feature{Kind: op.Plug},
		Cuts:    covering(t.shape.Holes), Setup: op.Setup{Machine: op.Bench, Device: op.ByHand},
	})
	o.Set("plugs", say.Text("tight"), "of the same or a softer stuff: drive them out when the outside is finished")
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

// lay puts the bar's height in the V-blocks on the card, as it stands, or how it is turned there.
func (t *task) lay(o *op.Op, as work.State) {
	if t.indexed != "" {
		t.turnTo(o, *o.Roll)
		return
	}
	if t.onFlat(o.Setup.State.Roll) {
		o.Set("lies", say.Text("flat down"), "in the vice on a parallel, its jaws on the two flats beside that")
		return
	}
	o.Cautions = append(o.Cautions, cautions.VBlocks)
	if t.Shop.VBlocks == nil {
		return
	}
	o.Stands.Blocks = t.blocks(o.Setup, as)
	in := holes.VInput{Dia: t.inVee(o.Stands.Blocks[0], as), Blocks: t.Shop.VBlocks}
	if x := seat(t.far); o.Setup.State.Shim {
		in.Dia = x.Large()
		in.Small, in.Span, in.Support = new(units.Min(x.Left.Turned, x.Right.Turned)), new(x.Length()), holes.LongV
		if t.Shop.VBlocks.Pair {
			in.Support = holes.TwoEdges
		}
	}
	v, err := holes.InV(in)
	if err != nil {
		o.NotChecked = append(o.NotChecked, "v_blocks")
		o.Warn("not-checked", err)
		return
	}
	if v.Shim != nil {
		o.Set("shim", *v.Shim, "under the small end's block, so that the axis lies level; ", in.Span, " apart")
		o.Stands.Shim, o.Stands.Tilt = v.Shim, new(units.Degrees(0))
	}
	top := v.CentreHeight.Plus(t.under(o, as).Half())
	o.Set("top", top, "of the work where it is cut, above the V-blocks' base")
	o.Set("centre", v.CentreHeight, "of the bar, above the base: for the scribing block")
	o.Stands.Top, o.Stands.Centre = &top, &v.CentreHeight
}

// inVee returns what lies in a V at z: its diameter; of a bar of flats in fours, whose flats lie on
// the faces of the V, its size across them.
func (t *task) inVee(z op.Len, as work.State) units.Length {
	for _, p := range as.Outside {
		if s := t.round.Stock; s != nil && p.From <= z && z <= p.To && p.Sides > 0 && p.Sides%fourSides == 0 {
			return s.Size
		}
	}
	return as.Dia(z).Length()
}

// blocks returns where the two V-blocks stand: a little in from the ends of what
// lies in them, by half a block where something thicker is beside it, and beside one
// another; or as near to that as they are clear of every hole and slot that comes
// through there. Where no place is clear they stay; so they do under a shim, which is
// worked out for the ends of the taper.
func (t *task) blocks(s op.Setup, as work.State) []op.Len {
	held, wide := s.Held, op.LenOf(practice.BlockWidth.Length())
	margin := min(held.Length()/8, op.LenOf(practice.BlockMargin.Length()))
	left, right := held.From+margin, held.To-margin
	if s.State.Shim {
		return []op.Len{left, right}
	}
	mid := held.From + held.Length()/2
	free := held // where the middle of a block may be
	reach := wide/2 - margin
	if as.Largest(work.Span{From: held.From - reach, To: held.From}) > as.Dia(mid) {
		free.From, left = held.From+wide/2, held.From+wide/2
	}
	if as.Largest(work.Span{From: held.To, To: held.To + reach}) > as.Dia(mid) {
		free.To, right = held.To-wide/2, held.To-wide/2
	}
	left = max(free.From, min(left, right-wide))
	right = min(free.To, max(right, left+wide))
	return []op.Len{
		t.clearOf(left, work.Span{From: free.From, To: mid}), t.clearOf(right, work.Span{From: mid, To: free.To}),
	}
}

// clearOf returns the place nearest to z, within a span, where a V-block is clear
// of what comes through the work; z where there is none.
func (t *task) clearOf(z op.Len, within work.Span) op.Len {
	var cuts []work.Span // what the middle of a block must stay out of
	half := op.LenOf(practice.BlockWidth.Length()) / 2
	add := func(s work.Span, depth *units.Length) {
		if depth == nil {
			cuts = append(cuts, work.Span{From: s.From - half, To: s.To + half})
		}
	}
	for _, h := range t.shape.Holes {
		add(inWork(about(h.Z, t.limits.Hole(h).High)), h.Depth)
	}
	for _, s := range t.shape.Slots {
		add(inWork(s.Span), s.Depth)
	}
	places := []op.Len{z}
	for _, c := range cuts {
		places = append(places, c.From, c.To)
	}
	best, found := z, false
	for _, p := range places {
		clear := !slices.ContainsFunc(cuts, func(c work.Span) bool { return c.From < p && p < c.To })
		if clear && within.From <= p && p <= within.To && (!found || max(p-z, z-p) < max(best-z, z-best)) {
			best, found = p, true
		}
	}
	return best
}

// under returns the diameter under the drill or the cutter, the largest that an
// operation meets; across its flats where it is a polygon.
func (t *task) under(o *op.Op, as work.State) units.Length {
	s := o.Along()
	if o.Kind == op.Datum {
		s = o.Setup.Held
	}
	d := as.Largest(s)
	if across, ok := as.AcrossFlats((s.From + s.To) / 2); ok {
		d = across
	}
	return d.Length()
}

// rollDatum scribes the roll datum.
func rollDatum(t *task, base op.Op) steps {
	var w steps
	o := base.As("roll-datum", op.Datum, "scribe the roll datum along the top", "scribing block")
	o.Cuts, o.Roll = t.shape.Whole(), new(units.Angle{})
	w.add(o).Do = func(as work.State) { t.lay(o, as) }
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
	name  string
	table *shop.Dial
	holes []outline.Hole
}

// position sets one hole's place along the bar and returns it as set, z from
// the left end.
func (r rolled) position(o *op.Op, h outline.Hole) units.Length {
	slide := op.Table
	if r.table == nil && !r.Shop.HasReadout(r.base.Setup.Machine) {
		slide = op.MarkedOut
	}
	stub := r.stub(r.first)
	set := o.OnDial(say.Of(h.Feature(), ", ", h.Dia, " hole"), slide, r.table, r.fromFace(h.Z).Plus(stub),
		"the ", r.first, " face")
	if h.Offset.Sign() != 0 {
		side := say.Text("left")
		if (h.Offset.Sign() > 0) != (o.Setup.Out == part.Right) {
			side = "right"
		}
		o.Set(say.Of("off the axis, ", h.Feature()), h.Offset.Abs(), "to the ", side, " as you look at the ", o.Setup.Out,
			" end, from where the drill stands over the axis")
	}
	return r.fromFace(set.Minus(stub))
}

// spot starts the holes.
func (r rolled) spot(thinnest []thinWall) steps {
	var w steps
	what := say.Of(len(r.holes), " holes")
	if len(r.holes) == 1 {
		what = "the hole"
	}
	least := r.holes[0].Dia
	for _, h := range r.holes {
		least = units.Min(least, h.Dia)
	}
	with := r.spotPilot(least)
	o := w.add(r.base.As("spot-"+r.name, op.Spot,
		say.Of("spot ", what, " at roll ", degrees(*r.base.Roll)), w.centreDrill(r.task, with)))
	o.Push = op.Cut{Side: true}
	o.Do = func(as work.State) {
		r.lay(o, as)
		if r.name == "roll-1" {
			d := r.chosenFor(r.limits.Hole(r.holes[0])).Drill
			r.overAxis(o, say.Of("the shank of the ", d.Name, " drill"), d.Dia, as)
		}
		r.thinnest(o, thinnest)
		var blind []*units.Length
		for _, h := range r.holes {
			blind = append(blind, h.Depth)
		}
		deep := op.LenOf(spotDeep(o, with, blind...))
		for _, h := range r.holes {
			pilot := op.LenOf(units.Min(with, h.Dia))
			z := r.position(o, h)
			o.Removed(work.Cross{Z: op.LenOf(z), Roll: op.DegOf(h.Roll), Dia: pilot, Depth: &deep, Offset: op.LenOf(h.Offset)})
		}
		o.Set("zero", say.Of(r.first, " face"), "all positions from it, approached from one side")
		r.cut(o, len(r.holes), cutting(feeds.Drill, with))
	}
	return w
}

// degrees words an angle without its unit.
func degrees(a units.Angle) string { return strings.TrimSuffix(a.String(), " deg") }

// drill drills the holes size by size, with the drill on hand.
func (r rolled) drill() steps {
	var w steps
	var names []string // of the drills, in the order of their first hole
	with, exact, group := map[string]drills.Drill{}, map[string]bool{}, map[string][]outline.Hole{}
	for _, h := range r.holes {
		if reamer := r.reamed(h); reamer != nil {
			w = together(w, r.ream(h, *reamer))
			continue
		}
		d, is := w.drill(r.task, r.limits.Hole(h))
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
		o := w.add(r.base.As(fmt.Sprintf("drill-%s-%s", strings.ReplaceAll(name, " ", ""), r.name), op.CrossDrill,
			say.Of("drill ", name, " across at z ", say.Join(places, ", ")), say.Of(name, " drill")))
		o.Dia, o.Push = d.Dia, op.Cut{Side: true}
		for _, h := range list {
			o.Makes = append(o.Makes, h.ID())
		}
		if !exact[name] {
			w.noDrill(r, o, list[0], name)
		}
		o.Do = func(as work.State) { r.through(o, list, d, as) }
	}
	return w
}

// noDrill says why a hole is drilled with the nearest drill under it, by name: none of its size is
// on hand, or the hole of that is beyond the limits, and no reamer makes it, or one whose lead finds no room.
func (w *steps) noDrill(r rolled, o *op.Op, h outline.Hole, name string) {
	d, all := r.limits.Hole(h), r.twists()
	if i := slices.IndexFunc(all, func(x twist) bool { return x.Dia.Equal(h.Dia) }); i < 0 {
		w.needs(say.Of("drill ", h.Dia), say.Of("for ", h.Feature()), false)
		o.Warn("kit-missing", "no drill of ", h.Dia, " is on hand: ", name, " is the nearest under it")
	} else {
		o.Warn("drill-over", "a drill of ", h.Dia, " makes a hole of ", all[i].hole, ", and ", d.High.Down(),
			" is the most: ", name, " is the nearest under it")
	}
	if reamer := r.reamerOf(h.Dia, d); reamer != nil {
		o.Warn("reamer-lead", "a reamer of ", *reamer, " is on hand, but its lead of ", practice.ReamerLead.Length(),
			" finds no room below the depth that is drawn")
	}
}

// reamed returns the reamer of a hole, where one on hand keeps its limits and no drill does, and
// its lead has room below a blind one; else nil.
func (r rolled) reamed(h outline.Hole) *units.Length {
	if d := r.limits.Hole(h); !r.chosenFor(d).good && r.reamableAcross(h) {
		return r.reamerOf(h.Dia, d)
	}
	return nil
}

// ream drills a hole under its size and reams it.
func (r rolled) ream(h outline.Hole, reamer units.Length) steps {
	var w steps
	d := w.drillUnder(r.task, reamer)
	o := w.add(r.base.As(h.ID()+"-drill", op.CrossDrill, say.Of("drill ", d.Name, " across at z ", h.Z, " for the reamer"),
		say.Of(d.Name, " drill")))
	o.Dia, o.Push = d.Dia, op.Cut{Side: true}
	drilled := h
	if h.Depth != nil {
		drilled.Depth = new(h.Depth.Plus(practice.ReamerLead.Length()))
	}
	o.Do = func(as work.State) { r.through(o, []outline.Hole{drilled}, d, as) }
	f := w.add(r.base.As(h.ID()+"-ream", op.Ream, say.Of("ream to ", reamer, " across at z ", h.Z),
		say.Of("reamer ", reamer)))
	f.Dia, f.Push, f.Makes = reamer, op.Cut{Side: true}, []string{h.ID()}
	w.needs(f.Tool.Name, say.Of("for ", h.Feature()), true)
	f.Do = func(as work.State) {
		r.lay(f, as)
		at := r.position(f, h)
		long := as.Dia(op.LenOf(h.Z)).Length()
		if h.Depth == nil {
			f.Set("depth", say.Text("right through"), "its lead out of the far side, never turned backwards")
		} else {
			long = drilled.Depth.Plus(r.stillOn(h.Z, as))
			f.Set("depth", long.Down(), "from the bar's top, ", practice.ReamerLead.Length(),
				" of it below the depth that is drawn, for the lead; never turned backwards")
		}
		f.Foresee(r.limits.Hole(h), say.Of("diameter of ", h.Feature()), reamer, "reamed")
		f.Removed(work.Cross{
			Z: op.LenOf(at), Roll: op.DegOf(h.Roll), Dia: op.LenOf(reamer), Depth: work.Optional(h.Depth),
			Offset: op.LenOf(h.Offset),
		})
		r.cut(f, 1, cutting(feeds.Ream, reamer, long))
	}
	return w
}

// through drills holes of one size through the work as it stands.
func (r rolled) through(o *op.Op, list []outline.Hole, d drills.Drill, as work.State) {
	r.lay(o, as)
	why := say.Text(byTable)
	switch {
	case r.table != nil:
	case r.Shop.HasReadout(r.base.Setup.Machine):
		why = "the table's readout"
	default:
		why = "marked out, no dial"
	}
	for _, h := range list {
		at := r.position(o, h)
		out := predict.Drilled(d.Dia)
		o.Foresee(r.limits.HolePlace(h), say.Of("place of ", h.Feature()), at, why)
		if len(o.Makes) > 0 { // else a reamer follows
			foreseeDrilled(o, r.limits.Hole(h), say.Of("diameter of ", h.Feature()), d)
		}
		o.Removed(work.Cross{
			Z: op.LenOf(at), Roll: op.DegOf(h.Roll), Dia: op.LenOf(out), Depth: work.Optional(h.Depth),
			Offset: op.LenOf(h.Offset),
		})
	}
	deepest, times := r.depths(o, list, d, as)
	if len(o.Makes) == 0 && list[0].Depth != nil {
		deeper(o)
	}
	o.Cautions = append(o.Cautions, cautions.ClampDrill)
	r.pecked(o, times*len(list), d.Dia, deepest)
}

// depths puts on the card how deep each hole is drilled: through holes all to
// the deepest, blind ones each to its own, never deeper. It returns the
// deepest, and from how many sides each hole is drilled.
func (r rolled) depths(o *op.Op, list []outline.Hole, d drills.Drill, as work.State) (deepest units.Length, sides int) {
	var through units.Length
	for _, h := range list {
		deep := r.depth(h, d, as)
		deepest = units.Max(deepest, deep)
		if h.Depth == nil {
			through = units.Max(through, deep)
			continue
		}
		o.Set(say.Of("depth of ", h.Feature()), deep.Down(), "from the bar's top, the point included")
	}
	one := units.Min(deepest, r.oneWall(list, deepest, as))
	peck, both := holes.Manner(d.Dia, one, through.Sign() > 0)
	switch {
	case both:
		half := r.toMiddle(list, d, as)
		o.Set("depth", half.Up(), "from the top of each side, the point included")
		pecks := say.Text("")
		if peck, _ = holes.Manner(d.Dia, half, false); peck {
			pecks = "in pecks, "
		}
		o.Set("manner", say.Text("both sides"), pecks,
			"since with its point it is deeper than 5 diameters: ", r.halfRound(o), otherSide(list),
			" and meet in the middle")
		return half, bothSides
	case one.Less(through):
		o.Set("depth", through.Up(), "from the bar's top, both walls, point and breakthrough included")
		if peck {
			o.Set("manner", say.Text("pecks"), "each wall is deeper than 3 diameters")
		}
		return one, bothSides
	case through.Sign() > 0:
		o.Set("depth", through.Up(), "from the bar's top, point and breakthrough included")
	}
	if peck {
		o.Set("manner", say.Text("pecks"), "it is deeper than 3 diameters")
	}
	return deepest, 1
}

// otherSide says that what stands beside the axis stands on the other side of it when the work is turned half round.
func otherSide(list []outline.Hole) say.Text {
	var off []units.Length
	for _, h := range list {
		if by := h.Offset.Abs(); by.Sign() > 0 && !slices.ContainsFunc(off, by.Equal) {
			off = append(off, by)
		}
	}
	switch len(off) {
	case 0:
		return ""
	case 1:
		return say.Of(", set the drill ", off[0], " beside the axis on the other side,")
	}
	return ", set the drill as far beside the axis on the other side,"
}

// bothSides is how many sides a hole is drilled from that meets in the middle.
const bothSides = 2

// thick returns how thick the work stands where a hole is drilled: its diameter, or from flat to flat.
func (r rolled) thick(h outline.Hole, as work.State) units.Length {
	if r.onFlat(r.base.Setup.State.Roll) {
		return r.inVee(op.LenOf(h.Z), as)
	}
	return as.Dia(op.LenOf(h.Z)).Length()
}

// oneWall returns the most that the drill goes through at once, point and breakthrough included: of
// work that is bored already the wall on one side of the bore, where the hole comes out into that.
func (r rolled) oneWall(list []outline.Hole, whole units.Length, as work.State) (deep units.Length) {
	for _, h := range list {
		thick, bore := r.thick(h, as), as.Bore(op.LenOf(h.Z)).Length()
		if h.Depth != nil || bore.Cmp(h.Offset.Abs().Times(2).Plus(h.Dia)) <= 0 {
			return whole
		}
		wall := thick.Minus(bore).Half()
		deep = units.Max(deep, holes.DepthOf(h.Dia, practice.PointAngle.Angle(), wall, true).Total)
	}
	return deep
}

// toMiddle returns how deep through holes are drilled from each of two sides, so that
// the full diameters meet in the middle: half of the thickest, and the point.
func (r rolled) toMiddle(list []outline.Hole, d drills.Drill, as work.State) units.Length {
	var thick op.Len
	for _, h := range list {
		if h.Depth == nil {
			thick = max(thick, op.LenOf(r.thick(h, as)))
		}
	}
	return (thick / 2).Length().Plus(holes.PointLength(d.Dia, practice.PointAngle.Angle()))
}

// depth returns how deep a hole is drilled from the top of the work as it stands:
// through it with the point, or so that the finished hole has its depth.
func (r rolled) depth(h outline.Hole, d drills.Drill, as work.State) units.Length {
	now := r.thick(h, as)
	if h.Depth == nil {
		return holes.DepthOf(d.Dia, practice.PointAngle.Angle(), now, true).Total
	}
	return holes.DepthOf(d.Dia, practice.PointAngle.Angle(), h.Depth.Plus(r.stillOn(h.Z, as)), false).Total
}

// stillOn returns how much still stands on the finished surface at z, a side.
func (t *task) stillOn(z units.Length, as work.State) units.Length {
	more := as.Dia(op.LenOf(z)).Length().Minus(t.shape.DiaAt(z)).Half()
	return units.Max(more, units.Length{})
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
func (j *job) crossWalls() (steps, []thinWall) {
	if j.walled == nil { // it is the same in every way to hold the part
		j.walled = new(walled)
		j.walled.steps, j.walled.thin = j.workWalls()
	}
	return j.walled.steps, j.walled.thin
}

// walled is what the walls beside the cross holes are found to be.
type walled struct {
	steps
	thin []thinWall
}

// workWalls is crossWalls, worked out.
func (j *job) workWalls() (steps, []thinWall) {
	var w steps
	if j.bar.Less(j.round.Largest()) {
		return w, nil
	}
	finished, err := walls.Check(walls.Input{Name: j.Part.Name, Part: j.Part, Reliefs: j.reliefs()})
	drilling, also := walls.Check(walls.Input{Name: j.Part.Name, Part: j.Part, Bar: &j.bar})
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
			p.Want = say.Of("while the bar is still ", j.bar, ": ", p.Want)
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
