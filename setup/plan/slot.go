package plan

import (
	"fmt"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// slots makes the slots across a bar: cut while it lies parallel in the
// V-blocks.
func slots(t *task) work {
	var list []work
	for i, s := range t.shape.Slots {
		if t.Shop.Mill == nil {
			list = append(list, work{no: problem.List{problem.New(problem.NotAvailable, "", nil,
				"a slot needs a mill, and this shop has none (mill)").In(s.At)}})
			continue
		}
		base := t.across(op.MillMachine, s.Roll)
		if len(t.shape.Slots)+len(t.shape.Facets) > 1 { // something else has a roll too
			list = append(list, rollDatum(t, base))
		}
		base.Cuts, base.Roll = s.Span, &t.shape.Slots[i].Roll
		list = append(list, slot(t, base, s.Slot, i+1, t.fromFace(s.Z), units.Length{}))
	}
	return together(list...)
}

// slot chain-drills the nth slot where that is asked for, and mills it. x and y
// are its middle as it lies on the mill's table.
func slot(t *task, base op.Op, s part.Slot, n int, x, y units.Length) work {
	var w work
	base.Feature = op.Feature{Kind: op.Slot, N: n}
	place := func(o *op.Op, where, along string, at units.Length) units.Length {
		return o.OnDial(say.Of(where, along), op.Table, t.Shop.Mill.Table, at)
	}
	oblique := y.Sign() != 0 || s.Angle.Deg() != 0
	if s.ChainDrill {
		chain, err := holes.ChainDrill(holes.SlotInput{
			Length: s.Length, Width: s.Width, Web: practice.ChainWeb.Length(),
			CentreX: x, CentreY: y, Angle: s.Angle, Drawer: t.Shop.Drills,
		})
		if err != nil {
			w.wrong.Add(placed(err, s.At))
			return w
		}
		o := w.add(base.As(fmt.Sprintf("chain-slot-%d", n), op.CrossDrill,
			say.Of("chain-drill the slot: ", chain.Count, " holes of ", chain.Drill), say.Of(chain.Drill, " drill")))
		o.Dia = chain.Dia
		for k, h := range chain.Holes {
			hole := fmt.Sprintf("hole %d, along ", k+1)
			place(o, hole, "x", h.X)
			if oblique {
				place(o, hole, "y", h.Y)
			}
		}
		w.needs(say.Of("drill ", chain.Drill), "to chain-drill the slot", len(t.Shop.Drills) > 0)
		t.cut(o, chain.Count, cutting(feeds.Drill, chain.Dia))
	}
	o := w.add(base.As(fmt.Sprintf("slot-%d", n), op.Slot,
		say.Of("mill the slot ", s.Width, " wide, ", s.Length, " long"), say.Of("end mill ", s.Width)))
	o.Dia = s.Width
	reach := s.Length.Minus(s.Width).Half().MM()
	for _, end := range []struct {
		name string
		by   float64
	}{{"one end", -reach}, {"the other", reach}} {
		drawn := x.Plus(units.FromFloat(end.by * s.Angle.Cos()))
		set := place(o, end.name, ", cutter's centre along x", drawn)
		if oblique {
			place(o, end.name, ", along y", y.Plus(units.FromFloat(end.by*s.Angle.Sin())))
		}
		w.predict(say.Of("slot ", n, ", ", end.name), drawn, set, byTable)
	}
	if s.Depth != nil {
		o.Set("depth", s.Depth.Down(), "never deeper")
	} else {
		o.Set("depth", say.Text("through"))
	}
	w.predict(say.Of("slot ", n, ", width"), s.Width, s.Width, "the cutter's own width")
	t.cut(o, 1, cutting(feeds.Mill, s.Width, s.Length))
	return w
}
