package plan

import (
	"fmt"
	"slices"
	"strings"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
)

// crossHole is one hole across the bar, rows expanded.
type crossHole struct {
	n       int // from 1, in the order of the file
	feature string
	z, dia  units.Length
	roll    units.Angle
	offset  units.Length
	depth   *units.Length
}

// allHoles returns every cross hole in the file's order: holes, then rows roll
// by roll.
func (d *draft) allHoles() ([]crossHole, error) {
	var list []crossHole
	for i, h := range d.round.Holes {
		list = append(list, crossHole{i + 1, fmt.Sprintf("hole %d", i+1), h.Z, h.Dia, h.Roll, h.Offset, h.Depth})
	}
	var bad problem.List
	for i, w := range d.round.Rows {
		row := holes.Row{From: w.From, Dias: w.Dias, Count: w.Count, Web: w.Web, Pitch: w.Pitch, Span: w.Span, Rolls: w.Rolls, Stagger: w.Stagger}
		centres, err := row.Expand()
		if err != nil {
			var one problem.List
			one.Add(err)
			for _, p := range one {
				bad = append(bad, p.In(w.At))
			}
			continue
		}
		for _, c := range centres {
			if d.round.Length().Less(c.At) || c.At.Sign() < 0 {
				bad = append(bad, problem.New(problem.Impossible, "rows", c.At, fmt.Sprintf("hole %d of the row lies beyond the part, which is %v long", c.N, d.round.Length())).In(w.At))
				continue
			}
			list = append(list, crossHole{len(list) + 1, fmt.Sprintf("row %d hole %d", i+1, c.N), c.At, c.Dia, c.Roll, w.Offset, w.Depth})
		}
	}
	return list, bad.Err()
}

// crossHoles makes the operations of the cross holes: a datum, then for each
// roll spot all its holes and drill them size by size.
func (d *draft) crossHoles() error {
	list, err := d.allHoles()
	if err != nil || len(list) == 0 {
		return err
	}
	machine := d.drillingMachine()
	if machine == "" {
		d.fails.Add(problem.New(problem.NotAvailable, "drill_press", nil, "cross holes need a mill or a drill press, and this shop has neither (mill, drill_press)"))
		return nil
	}
	on, held, dia := d.inBlocks()
	setup := op.Setup{Machine: machine, Hold: d.blocks(), On: on, Out: d.way.first}
	if d.shop.VBlocks == nil {
		setup.Hold = op.Vice
		d.Warnings.Add("not-checked", "no V-blocks in this shop: the bar lies in a vice, heights are not given (v_blocks)")
	}
	byRoll := map[float64][]crossHole{}
	var rolls []units.Angle
	for _, h := range list {
		if _, known := byRoll[h.roll.Deg()]; !known {
			rolls = append(rolls, h.roll)
		}
		byRoll[h.roll.Deg()] = append(byRoll[h.roll.Deg()], h)
	}
	first := setup
	first.State = rollState(rolls[0])
	d.rollDatum(first, held, dia)
	for i, roll := range rolls {
		s := setup
		s.State = rollState(roll)
		base := op.Op{Setup: s, Held: held, Feature: fmt.Sprintf("roll %d", i+1), Roll: &rolls[i]}
		if err := d.drillRoll(base, i+1, dia, byRoll[roll.Deg()]); err != nil {
			return err
		}
	}
	d.plug(list)
	return nil
}

// plug fills the cross holes of wood and laminate before they are turned over.
func (d *draft) plug(list []crossHole) {
	if d.material.Group != materials.Wood && d.material.Group != materials.Laminate {
		return
	}
	span := op.Span{From: list[0].z, To: list[0].z}
	for _, h := range list {
		span = op.Span{From: units.Min(span.From, h.z.Minus(h.dia.Half())), To: units.Max(span.To, h.z.Plus(h.dia.Half()))}
	}
	o := d.add(&op.Op{
		ID: "plug-holes", Kind: op.Plug, Name: "plug the cross holes", Tool: "dowels", Feature: "plugs", Cuts: span,
		Setup: op.Setup{Machine: op.Bench, Hold: op.ByHand},
	})
	o.Set("plugs", "tight, of the same or a softer stuff", "drive them out when the outside is finished")
}

// blocks is how the bar lies in the V-blocks.
func (d *draft) blocks() string {
	if d.way.shim {
		return op.Shimmed
	}
	return op.VBlocks
}

func rollState(roll units.Angle) string {
	return fmt.Sprintf("rolled to %s deg", strings.TrimSuffix(roll.String(), " deg"))
}

// drillingMachine returns where cross holes are drilled: the mill when its
// table has a dial, else the drill press, else a mill without one.
func (d *draft) drillingMachine() shop.Machine {
	switch {
	case d.shop.Mill != nil && d.shop.Mill.Table != nil:
		return op.MillMachine
	case d.shop.DrillPress != nil:
		return op.DrillPress
	case d.shop.Mill != nil:
		return op.MillMachine
	}
	return ""
}

// table returns the dial that sets positions along the bar, or nil.
func (d *draft) table(machine shop.Machine) *shop.Dial {
	if machine == op.MillMachine && d.shop.Mill.Table != nil {
		return d.shop.Mill.Table
	}
	return nil
}

// vSettings puts the bar's height in the V-blocks on the card.
func (d *draft) vSettings(o *op.Op, dia units.Length) {
	o.Cautions = append(o.Cautions, cautions.VBlocks)
	if d.shop.VBlocks == nil {
		return
	}
	in := holes.VInput{Dia: dia, Blocks: d.shop.VBlocks}
	if x, ok := d.shape.seat(d.way); ok && d.way.shim {
		in.Small, in.Span, in.Support = ptr(units.Min(x.A, x.B)), ptr(x.Length()), holes.LongV
		if d.shop.VBlocks.Pair {
			in.Support = holes.TwoEdges
		}
	}
	v, err := holes.InV(in)
	if err != nil {
		o.Warnings.Add("not-checked", err.Error())
		return
	}
	if v.Shim != nil {
		o.Set("shim", sheet.Inline(*v.Shim, units.Nearest), fmt.Sprintf("under the small end's block, so that the axis lies level; %s apart", size(*in.Span)))
	}
	o.Set("top of the bar", sheet.Inline(v.TopHeight, units.Nearest), "above the V-blocks' base")
	o.Set("centre of the bar", sheet.Inline(v.CentreHeight, units.Nearest), "above the base: for the scribing block")
	if v.Fits != nil && !*v.Fits {
		o.Checks = append(o.Checks, op.Check{Code: string(problem.CannotBeHeld), Value: size(dia) + " bar", Limit: "the V's opening and relief", Remedy: "larger V-blocks, or the vice"})
	}
}

// drillRoll makes the operations of all holes at one roll.
func (d *draft) drillRoll(base op.Op, n int, dia units.Length, list []crossHole) error {
	span := op.Span{From: list[0].z, To: list[0].z}
	for _, h := range list {
		span = op.Span{From: units.Min(span.From, h.z.Minus(h.dia.Half())), To: units.Max(span.To, h.z.Plus(h.dia.Half()))}
	}
	base.Cuts = span
	roll := strings.TrimSuffix(base.Roll.String(), " deg")
	table := d.table(base.Setup.Machine)
	spot := base
	spot.ID, spot.Kind, spot.Tool = fmt.Sprintf("spot-roll-%d", n), op.Spot, d.centreDrill(units.Millimetres(10))
	spot.Name = fmt.Sprintf("spot %d holes at roll %s", len(list), roll)
	if len(list) == 1 {
		spot.Name = "spot the hole at roll " + roll
	}
	o := d.add(&spot)
	d.vSettings(o, dia)
	d.thinnestWall(o, list)
	set := make([]units.Length, len(list))
	for i, h := range list {
		set[i] = d.position(o, table, h)
	}
	o.Set("zero", "at the "+string(d.way.first)+" face", "all positions from it, approached from one side")
	d.cutOrFail(o, feeds.Input{Operation: feeds.Drill, Diameter: units.Millimetres(1)}, len(list))
	return d.drillSizes(base, n, list, set, table)
}

// position sets one hole's place along the bar and returns it as set, z from
// the left end.
func (d *draft) position(o *op.Op, table *shop.Dial, h crossHole) units.Length {
	set := d.onDial(o, fmt.Sprintf("%s, %s hole", h.feature, size(h.dia)), "mill table", table, d.fromFace(h.z))
	if table == nil {
		o.Dials[len(o.Dials)-1].Slide = "marked out"
	}
	return d.fromFace(set)
}

// fromFace turns a z into the distance from the face that is cut first, which
// positions are measured from, and back.
func (d *draft) fromFace(z units.Length) units.Length {
	if d.way.first == part.Right {
		return d.round.Length().Minus(z)
	}
	return z
}

// rollDatum scribes the roll datum, once.
func (d *draft) rollDatum(setup op.Setup, held op.Span, dia units.Length) {
	if slices.ContainsFunc(d.ops, func(o *op.Op) bool { return o.Kind == op.Datum }) {
		return
	}
	datum := d.add(&op.Op{
		ID: "roll-datum", Kind: op.Datum, Name: "scribe the roll datum along the top", Setup: setup, Held: held,
		Tool: "scribing block", Feature: "roll datum", Cuts: d.whole(), Roll: ptr(units.Angle{}),
	})
	d.vSettings(datum, dia)
}

// drillSizes drills the holes of a roll size by size, with the drill on hand.
func (d *draft) drillSizes(base op.Op, n int, list []crossHole, set []units.Length, table *shop.Dial) error {
	var done []string
	for _, h := range list {
		drill, exact := d.drill(h.dia)
		if slices.Contains(done, drill.Name) {
			continue
		}
		done = append(done, drill.Name)
		o := base
		o.ID, o.Kind, o.Tool, o.Dia = fmt.Sprintf("drill-%s-roll-%d", strings.ReplaceAll(drill.Name, " ", ""), n), op.CrossDrill, drill.Name+" drill", drill.Dia
		var group []crossHole
		var places []string
		for i, k := range list {
			if with, _ := d.drill(k.dia); with != drill {
				continue
			}
			group, places = append(group, k), append(places, size(k.z))
			d.position(&o, table, k)
			d.predictHole(k, set[i], drill, table)
		}
		o.Name = fmt.Sprintf("drill %s across at z %s", drill.Name, strings.Join(places, ", "))
		p := d.add(&o)
		if !exact {
			d.needs("drill "+h.dia.String(), "for "+h.feature, false)
			p.Warnings.Add("kit-missing", fmt.Sprintf("no drill of %s is on hand: %s is the nearest under it", size(h.dia), drill.Name))
		}
		deepest := d.drillDepths(p, group, drill)
		p.Cautions = append(p.Cautions, cautions.ClampDrill)
		if _, err := d.cut(p, feeds.Input{Operation: feeds.Drill, Diameter: drill.Dia, Length: &deepest}, len(group)); err != nil {
			return err
		}
	}
	return nil
}

// predictHole notes where a hole comes out and how large.
func (d *draft) predictHole(h crossHole, at units.Length, drill drills.Drill, table *shop.Dial) {
	why := "the nearest line of the table's dial"
	if table == nil {
		why = "marked out, no dial"
	}
	d.predict("place of "+h.feature, h.z, at, why)
	d.predict("diameter of "+h.feature, h.dia, predict.Drilled(drill.Dia), "drilled "+drill.Name+"; a drill cuts a little over its size")
}

// drillDepths puts on the card how deep each hole is drilled: through holes all
// to the deepest, blind ones each to its own, never deeper. It returns the
// deepest.
func (d *draft) drillDepths(o *op.Op, group []crossHole, drill drills.Drill) units.Length {
	var through, deepest units.Length
	for _, h := range group {
		depth := d.drillDepth(h, drill)
		deepest = units.Max(deepest, depth)
		if h.depth == nil {
			through = units.Max(through, depth)
			continue
		}
		o.Set("depth of "+h.feature, sheet.Inline(depth, units.Down), "from the bar's top, the point included")
	}
	if through.Sign() > 0 {
		o.Set("depth", sheet.Inline(through, units.Up), "from the bar's top, point and breakthrough included")
	}
	peck, both := holes.Manner(drill.Dia, deepest, through.Sign() > 0)
	switch {
	case both:
		o.Set("manner", "in pecks, from both sides", "it is deeper than 5 diameters: turn the bar half round in the V-blocks and meet in the middle")
	case peck:
		o.Set("manner", "in pecks", "it is deeper than 3 diameters")
	}
	return deepest
}

// drillDepth returns how deep a hole is drilled while the bar is still round:
// through it with the point, or so that the finished hole has its depth.
func (d *draft) drillDepth(h crossHole, drill drills.Drill) units.Length {
	if h.depth == nil {
		return holes.DepthOf(drill.Dia, practice.PointAngle.Angle(), d.bar, true).Total
	}
	stock := d.bar.Minus(d.round.DiaAt(h.z)).Half() // what is turned off later
	if d.way.shim {
		stock = units.Length{}
	}
	near, far := d.shape.covered(d.way)
	for _, x := range near { // turned already, unless nothing is before drilling
		if len(far) > 0 && x.From.Cmp(h.z) <= 0 && h.z.Cmp(x.To) <= 0 {
			stock = units.Length{}
		}
	}
	return holes.DepthOf(drill.Dia, practice.PointAngle.Angle(), h.depth.Plus(stock), false).Total
}
