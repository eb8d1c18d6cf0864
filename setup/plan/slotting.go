package plan

import (
	"fmt"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
)

// slots makes the operations of the slots across a bar: cut while it lies
// parallel in the V-blocks.
func (d *draft) slots() error {
	for i, s := range d.round.Slots {
		if d.shop.Mill == nil {
			d.fails.Add(problem.Problem{Code: problem.NotAvailable, At: s.At, Want: "a slot needs a mill, and this shop has none (mill)"})
			continue
		}
		half := s.Length.Half()
		span := op.Span{From: s.Z.Minus(half), To: s.Z.Plus(half)}
		on, held, dia := d.inBlocks()
		setup := op.Setup{Machine: op.MillMachine, Hold: d.blocks(), On: on, Out: d.way.first, State: rollState(s.Roll)}
		if d.shop.VBlocks == nil {
			setup.Hold = op.Vice
		}
		if len(d.round.Slots)+len(d.round.Facets) > 1 { // something else has a roll too
			d.rollDatum(setup, held, dia)
		}
		base := op.Op{Setup: setup, Held: held, Feature: fmt.Sprintf("slot %d", i+1), Cuts: span, Roll: &d.round.Slots[i].Roll}
		if err := d.slot(base, s, i+1, d.fromFace(s.Z), units.Length{}); err != nil {
			return err
		}
	}
	return nil
}

// slot chain-drills a slot where that is asked for, and mills it. x and y are
// its middle as it lies on the mill's table.
func (d *draft) slot(base op.Op, s part.Slot, n int, x, y units.Length) error {
	table := d.shop.Mill.Table
	if s.ChainDrill {
		chain, err := holes.ChainDrill(holes.SlotInput{Length: s.Length, Width: s.Width, Web: d.usual.chainWeb, CentreX: x, CentreY: y, Angle: s.Angle, Drawer: d.shop.Drills})
		if err != nil {
			return at(err, s.At)
		}
		o := base
		o.ID, o.Kind, o.Tool, o.Dia = fmt.Sprintf("chain-slot-%d", n), op.CrossDrill, chain.Drill+" drill", chain.Dia
		o.Name = fmt.Sprintf("chain-drill the slot: %d holes of %s", chain.Count, chain.Drill)
		p := d.add(&o)
		for k, h := range chain.Holes {
			d.onDial(p, fmt.Sprintf("hole %d, along x", k+1), "mill table", table, h.X)
			if y.Sign() != 0 || s.Angle.Deg() != 0 {
				d.onDial(p, fmt.Sprintf("hole %d, along y", k+1), "mill table", table, h.Y)
			}
		}
		d.needs("drill "+chain.Drill, "to chain-drill the slot", len(d.shop.Drills) > 0)
		d.cutOrFail(p, feeds.Input{Operation: feeds.Drill, Diameter: chain.Dia}, chain.Count)
	}
	o := base
	o.ID, o.Kind, o.Name, o.Tool, o.Dia = fmt.Sprintf("slot-%d", n), op.Slot, fmt.Sprintf("mill the slot %s wide, %s long", size(s.Width), size(s.Length)), "end mill "+size(s.Width), s.Width
	p := d.add(&o)
	reach := s.Length.Minus(s.Width).Half()
	along := func(by units.Length, f float64) units.Length { return units.FromFloat(by.MM() * f) }
	for _, end := range []struct {
		name string
		by   units.Length
	}{{"one end", reach.Neg()}, {"the other", reach}} {
		ex := x.Plus(along(end.by, s.Angle.Cos()))
		set := d.onDial(p, end.name+", cutter's centre along x", "mill table", table, ex)
		if y.Sign() != 0 || s.Angle.Deg() != 0 {
			d.onDial(p, end.name+", along y", "mill table", table, y.Plus(along(end.by, s.Angle.Sin())))
		}
		d.predict(fmt.Sprintf("slot %d, %s", n, end.name), ex, set, "the nearest line of the table's dial")
	}
	if s.Depth != nil {
		p.Set("depth", sheet.Inline(*s.Depth, units.Down), "never deeper")
	} else {
		p.Set("depth", "through", "")
	}
	d.predict(fmt.Sprintf("slot %d, width", n), s.Width, predict.Diameter(s.Width, units.Length{}), "the cutter's own width")
	d.cutOrFail(p, feeds.Input{Operation: feeds.Mill, Diameter: s.Width, Length: ptr(s.Length)}, 1)
	return nil
}

// at places every problem of err at a feature of the part file.
func at(err error, pos problem.Pos) error {
	var list problem.List
	list.Add(err)
	for i := range list {
		key := list[i].At.Key
		list[i] = list[i].In(pos)
		list[i].At.Key = key
	}
	return list
}
