package plan

import (
	"fmt"
	"math"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
	"setover/tapers/facets"
	"setover/threads"
)

// The surfaces of a block by what they are called when it is held on them.
const (
	onSawn  = "the sawn faces"
	onSides = "the two long sides"
	onEnds  = "the two ends"
	onBase  = "base and top"
)

// newBlock makes the operations of a part that is milled from a block: squared
// face by face, then worked from the top with its base on parallels.
func newBlock(in Input, m *materials.Material) (*draft, error) {
	d := &draft{usual: usually(), in: in, part: in.Part, block: in.Part.Block, material: m, shop: in.Shop}
	if d.shop.Mill == nil {
		d.fails.Add(problem.Problem{Code: problem.NotAvailable, At: d.block.At, Want: "a block is milled, and this shop has no mill (mill)"})
	}
	extra := d.usual.sawnFace.Times(2)
	x, y, z := d.block.X.Plus(extra), d.block.Y.Plus(extra), d.block.Z.Plus(extra)
	d.blank = Blank{X: &x, Y: &y, Z: &z, Because: fmt.Sprintf("the finished block and %s on every face to mill it square", size(d.usual.sawnFace))}
	if d.shop.Mill == nil {
		return d, nil
	}
	d.squares()
	for i, h := range d.block.Holes {
		if err := d.blockHole(i, h); err != nil {
			return nil, err
		}
	}
	for i, s := range d.block.Slots {
		setup := d.fromTop()
		base := op.Op{Setup: setup, Feature: fmt.Sprintf("slot %d", i+1), Cuts: op.Span{From: s.X.Minus(s.Length.Half()), To: s.X.Plus(s.Length.Half())}}
		if err := d.slot(base, s, i+1, s.X, s.Y); err != nil {
			return nil, err
		}
	}
	for i, s := range d.block.Slopes {
		if err := d.slope(i, s); err != nil {
			return nil, err
		}
	}
	d.processes()
	return d, nil
}

// fromTop is the set-up in which a block is worked from above.
func (d *draft) fromTop() op.Setup {
	return op.Setup{Machine: op.MillMachine, Hold: op.Vice, On: onSides, State: "base on parallels, top up"}
}

// squares saws the block and mills it square: each pair of faces while it is
// held on another.
func (d *draft) squares() {
	b := d.block
	saw := d.add(&op.Op{
		ID: "saw", Kind: op.Saw, Name: "saw the block", Tool: "saw", Feature: "blank", Setup: op.Setup{Machine: op.BandSaw, Hold: op.Vice},
	})
	saw.Set("size", size(*d.blank.X)+" x "+size(*d.blank.Y)+" x "+size(*d.blank.Z), "at the least")
	cutter := units.Millimetres(20)
	for _, f := range []struct {
		id, name, on, makes, state, size string
		to, length                       units.Length
	}{
		{"square-base", "mill base and top parallel", onSawn, onBase, "first faces up", "height z", b.Z, b.X},
		{"square-sides", "mill the long sides square to the base", onBase, onSides, "a side up", "width y", b.Y, b.X},
		{"square-ends", "mill the ends square", onSides, onEnds, "an end up", "length x", b.X, b.Y},
	} {
		o := d.add(&op.Op{
			ID: f.id, Kind: op.Mill, Name: f.name, Tool: "face mill", Feature: f.makes, Dia: f.to,
			Setup: op.Setup{Machine: op.MillMachine, Hold: op.Vice, On: f.on, State: f.state},
		})
		o.Set("to", sheet.Inline(f.to, units.Nearest), "measured over the two faces; take "+size(d.usual.sawnFace)+" off each")
		d.cutOrFail(o, feeds.Input{Operation: feeds.Mill, Diameter: cutter, Length: &f.length}, 2)
		d.predict(f.size, f.to, f.to, "milled to size by measuring")
	}
}

// blockHole spots and drills one hole from the top, and taps it where it has a
// thread.
func (d *draft) blockHole(i int, h part.BlockHole) error {
	feature := fmt.Sprintf("hole %d", i+1)
	base := op.Op{Setup: d.fromTop(), Feature: feature, Cuts: op.Span{From: h.X.Minus(h.Dia.Half()), To: h.X.Plus(h.Dia.Half())}, Dia: h.Dia}
	table := d.shop.Mill.Table
	id := func(what string) string { return fmt.Sprintf("hole-%d-%s", i+1, what) }
	place := func(o *op.Op, note bool) {
		for _, axis := range []struct {
			name string
			at   units.Length
		}{{"x", h.X}, {"y", h.Y}} {
			set := d.onDial(o, fmt.Sprintf("%s, along %s", feature, axis.name), "mill table", table, axis.at)
			if note {
				d.predict(fmt.Sprintf("place of %s along %s", feature, axis.name), axis.at, set, "the nearest line of the table's dial")
			}
		}
	}
	spot := base
	spot.ID, spot.Kind, spot.Name, spot.Tool = id("spot"), op.Spot, "spot "+feature, d.centreDrill(units.Millimetres(10))
	o := d.add(&spot)
	place(o, true)
	o.Set("zero", "at the left front edges", "all positions from them, approached from one side")
	d.cutOrFail(o, feeds.Input{Operation: feeds.Drill, Diameter: units.Millimetres(1)}, 1)

	twist, _ := d.drill(h.Dia)
	drill := base
	drill.ID, drill.Kind, drill.Name, drill.Tool = id("drill"), op.Drill, fmt.Sprintf("drill %s for %s", twist.Name, feature), twist.Name+" drill"
	o = d.add(&drill)
	place(o, false)
	d.blockDepth(o, h, twist)
	d.blockWall(o, h)
	o.Cautions = append(o.Cautions, cautions.ClampDrill)
	d.predict("diameter of "+feature, h.Dia, predict.Drilled(twist.Dia), "drilled "+twist.Name+"; a drill cuts a little over its size")
	if h.Spec == "" {
		return nil
	}
	spec, err := threads.Parse(h.Spec)
	if err != nil {
		return at(err, h.At)
	}
	t := thread{Thread: part.Thread{Spec: h.Spec, Inside: true, Length: d.block.Z}, spec: spec}
	if h.Depth != nil {
		t.Length = h.Depth.Minus(spec.Pitch.Length(2)) // a bottoming tap's lead stays free
	}
	return d.tap(base, t, part.Bore{Dia: h.Dia, Depth: d.holeDepth(h), Through: h.Depth == nil})
}

// holeDepth returns the depth of a hole's full diameter.
func (d *draft) holeDepth(h part.BlockHole) units.Length {
	if h.Depth == nil {
		return d.block.Z
	}
	return *h.Depth
}

// blockWall checks the wall from a hole to the nearest side of the block.
func (d *draft) blockWall(o *op.Op, h part.BlockHole) {
	least := h.X
	for _, l := range []units.Length{h.Y, d.block.X.Minus(h.X), d.block.Y.Minus(h.Y)} {
		least = units.Min(least, l)
	}
	wall := least.Minus(h.Dia.Half())
	limit := units.Length{}
	if d.block.MinWall != nil {
		limit = *d.block.MinWall
	}
	o.Checks = append(o.Checks, op.Check{
		Code: string(problem.WallTooThin), OK: wall.Cmp(limit) >= 0 && wall.Sign() > 0, Value: sheet.Inline(wall, units.Down) + " of wall to the nearest side",
		Limit: size(limit), Remedy: fmt.Sprintf("move the hole in by %s", sheet.Inline(limit.Minus(wall), units.Up)),
	})
}

func (d *draft) blockDepth(o *op.Op, h part.BlockHole, twist drills.Drill) {
	deep := holes.DepthOf(twist.Dia, practice.PointAngle.Angle(), d.holeDepth(h), h.Depth == nil)
	dir, note := units.Down, "never deeper; the point included"
	if h.Depth == nil {
		dir, note = units.Up, "point and breakthrough included"
	}
	o.Set("depth", sheet.Inline(deep.Total, dir), note)
	d.cutOrFail(o, feeds.Input{Operation: feeds.Drill, Diameter: twist.Dia, Length: &deep.Total}, 1)
}

// slope mills one plane off the top, the block tilted so that the plane lies
// level under the cutter. What comes out is computed back from the angles as
// they are set, to the mark of an ordinary protractor.
func (d *draft) slope(i int, s part.Slope) error {
	set, err := facets.SlopeOf(facets.SlopeInput{AlongX: s.AlongX, AlongY: s.AlongY})
	if err != nil {
		return at(err, s.At)
	}
	feature := fmt.Sprintf("slope %d", i+1)
	o := d.add(&op.Op{
		ID: fmt.Sprintf("slope-%d", i+1), Kind: op.Mill, Tool: "face mill", Feature: feature, Cuts: op.Span{From: s.FromX, To: s.ToX},
		Name:  fmt.Sprintf("mill the slope from x %s to %s", size(s.FromX), size(s.ToX)),
		Setup: op.Setup{Machine: op.MillMachine, Hold: op.Vice, On: onSides, State: fmt.Sprintf("tilted %.3f deg along x, then %.3f deg along y", set.First.Deg(), set.Second.Deg())},
	})
	first, second := set.First.RoundTo(units.Degrees(viceStep), units.Nearest), set.Second.RoundTo(units.Degrees(viceStep), units.Nearest)
	o.Set("first tilt", fmt.Sprintf("%.2f deg along x", first.Deg()), fmt.Sprintf("exact %.4f deg (%s)", set.First.Deg(), set.First.DMS(false)))
	o.Set("second tilt", fmt.Sprintf("%.2f deg along y", second.Deg()), fmt.Sprintf("exact %.4f deg, less than the drawing's: the edge stands on a slope by then", set.Second.Deg()))
	o.Set("or one tilt", fmt.Sprintf("%.3f deg with the block turned %.3f deg", set.Tilt.Deg(), set.Rotation.Deg()), "in plan, away from x toward y")
	span := s.ToX.Minus(s.FromX)
	drop := units.FromFloat(math.Abs(span.MM()*s.AlongX.Tan()) + math.Abs(d.block.Y.MM()*s.AlongY.Tan()))
	o.Set("depth", sheet.Inline(drop, units.Down), "at its lowest corner, below the top; its highest corner stays")
	if d.block.Z.Cmp(drop) <= 0 {
		o.Checks = append(o.Checks, op.Check{
			Code: string(problem.Impossible), Value: sheet.Inline(drop, units.Up) + " deep", Limit: "the block is " + size(d.block.Z) + " high",
			Remedy: "a higher block, or a gentler slope",
		})
	}
	d.cutOrFail(o, feeds.Input{Operation: feeds.Mill, Diameter: units.Millimetres(20), Length: &span}, 3)
	// Back from what was set: tan Y = tan(second)/cos(first).
	outY := units.Radians(math.Atan(second.Tan() / first.Cos()))
	why := fmt.Sprintf("the vice set to %.2f deg", viceStep)
	low := func(ax, ay units.Angle) units.Length {
		return d.block.Z.Minus(units.FromFloat(math.Abs(span.MM()*ax.Tan()) + math.Abs(d.block.Y.MM()*ay.Tan())))
	}
	d.predict("lowest corner of "+feature, low(s.AlongX, s.AlongY), low(first, outY), why)
	return nil
}

// viceStep is what a tilting vice is set to, in degrees: the quarter of a
// protractor's mark that an eye divides (common practice, no source).
const viceStep = 0.25
