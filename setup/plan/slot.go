package plan

import (
	"fmt"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// slots makes the slots across a bar: cut while it lies parallel in the
// V-blocks.
func slots(t *task) steps {
	var list []steps
	for i, s := range t.shape.Slots {
		if t.Shop.Mill == nil {
			no := problem.New(problem.NotAvailable, "", nil, "a slot needs a mill, and this shop has none (mill)").In(s.At)
			no.At.Key = s.ID()
			list = append(list, steps{no: problem.List{no}})
			continue
		}
		base := t.across(op.MillMachine, s.Roll, s.Span)
		if len(t.shape.Slots)+len(t.shape.Facets) > 1 { // something else has a roll too
			list = append(list, rollDatum(t, base))
		}
		base.Cuts, base.Roll = s.Span, &t.shape.Slots[i].Roll
		w := slot(t, base, milling{Slot: s.Slot, n: i + 1}, t.fromFace(s.Z), units.Length{})
		if len(w.ops) == 0 {
			list = append(list, w)
			continue
		}
		w.ops[len(w.ops)-1].Removed(work.Slot{
			From: op.LenOf(s.Span.From), To: op.LenOf(s.Span.To), Roll: op.DegOf(s.Roll), Width: op.LenOf(s.Width),
			Depth: work.Optional(s.Depth),
		})
		for _, o := range w.ops {
			o.Do = func(as work.State) {
				t.lay(o, as)
				if o == w.ops[0] && i == 0 && len(t.shape.Holes) == 0 {
					t.overAxis(o, say.Of("the ", o.Tool.Name), o.Dia, as)
				}
				o.Set("zero", say.Of(t.first, " face"), "all positions from it, approached from one side")
				deep := as.Largest(inWork(s.Span)).Length()
				if s.Depth != nil {
					deep = s.Depth.Plus(t.stillOn(s.Z, as))
				}
				if s.Depth != nil {
					o.Set("depth", deep.Down(), "from the bar's top, never deeper")
				}
				if o.Kind == op.Slot { // and not its chain of holes
					t.inPasses(o, s.Slot, deep, false)
				}
			}
		}
		list = append(list, w)
	}
	return together(list...)
}

// milling is a slot that is milled in one clamping: the nth, or of a block a half of it from
// one of two faces, of which far is the second.
type milling struct {
	part.Slot
	n         int
	half, far bool
}

// feature and id name it.
func (s milling) feature() say.Text {
	if s.half {
		return say.Of("slot ", s.n, " from the ", s.Face)
	}
	return say.Of("slot ", s.n)
}

func (s milling) id() string {
	if s.far {
		return fmt.Sprintf("slot-%d-far", s.n)
	}
	return fmt.Sprintf("slot-%d", s.n)
}

// slot chain-drills a slot where that is asked for, and mills it. x and y are its middle as
// it lies on the mill's table.
func slot(t *task, base op.Op, s milling, x, y units.Length) steps {
	var w steps
	base.Feature = op.Feature{Kind: op.Slot, N: s.n}
	first, second, _ := s.Face.Axes()
	oblique := y.Sign() != 0 || s.Angle.Deg() != 0
	if s.ChainDrill {
		w.chained(t, base, s, x, y, oblique)
		if len(w.wrong) > 0 {
			return w
		}
	}
	name := say.Of("mill the slot ", s.Width, " wide, ", s.Length, " long")
	if s.half {
		name += say.Of(", from the ", s.Face)
	}
	o := w.add(base.As(s.id(), op.Slot, name, say.Of("end mill ", s.Width)))
	o.Dia = s.Width
	reach := s.Length.Minus(s.Width).Half().MM()
	var ends []sized
	for _, end := range []struct {
		name string
		by   float64
	}{{"one end", -reach}, {"the other", reach}} {
		drawn := x.Plus(units.FromFloat(end.by * s.Angle.Cos()))
		set := t.onTable(o, end.name, ", cutter's centre along "+first.String(), drawn)
		if oblique {
			t.onTable(o, end.name, ", along "+second.String(), y.Plus(units.FromFloat(end.by*s.Angle.Sin())))
		}
		ends = append(ends, sized{say.Of(s.feature(), ", ", end.name), drawn, set})
	}
	w.millDeep(o, s.Slot, t.slotDeep(s.Slot))
	for _, e := range ends {
		if t.runsOut(first, e.drawn) {
			continue
		}
		o.Foresee(t.general(&w, limits.Place, outline.SlotID(s.n), e.drawn), e.feature, e.out, byTable)
	}
	o.Foresee(t.limits.SlotWidth(s.n), s.feature()+", width", s.Width, "the cutter's own width")
	if !s.half || s.far {
		o.Makes = []string{outline.SlotID(s.n)}
	}
	if t.block != nil {
		t.inPasses(o, s.Slot, t.slotDeep(s.Slot), t.runsOut(first, ends[0].drawn) || t.runsOut(first, ends[1].drawn))
	}
	return w
}

// inPasses says in how many passes a slot is milled, as deep as the cutter goes in one
// with its whole width, and where it goes in: from an end that is open, down the holes of
// a chain, or straight down.
func (t *task) inPasses(o *op.Op, s part.Slot, deep units.Length, open bool) {
	in := cutting(feeds.Mill, s.Width, s.Length)
	in.Width = &s.Width
	r, err := t.run(o, in)
	passes := 1
	if err == nil && r.Depth != nil && r.Depth.Sign() > 0 {
		passes = max(1, int(deep.Steps(*r.Depth, units.Up)))
		o.Set("depth a pass", units.Min(*r.Depth, deep).Down(), "at the most, ", say.Count(int64(passes), "pass", "passes"),
			" in all, each the whole length of the slot")
		in.Depth = new(units.Min(*r.Depth, deep))
	}
	if f, err := t.run(o, in); err == nil && f.Force != nil && t.block == nil {
		o.Push = op.Cut{Force: float64(*f.Force) * practice.RadialPart.Number()}
	}
	switch {
	case open:
		o.Set("start", say.Text("outside"), "come in from the end that is open, a pass at a time")
	case s.ChainDrill:
		o.Set("start", say.Text("chain"), "go down in the last hole of the chain, a pass at a time")
	default:
		o.Set("start", say.Text("straight down"), "at one end, a pass at a time, with a cutter that cuts at its middle; "+
			"any other wants a hole there first", t.startHole(s))
	}
	t.cut(o, passes, in)
}

// startHole says which hole an end mill that does not cut at its middle starts in.
func (t *task) startHole(s part.Slot) say.Text {
	from := t.Shop.Drills
	if len(from) == 0 {
		from = drills.All()
	}
	d, _, ok := from.Nearest(s.Width.Minus(practice.ChainLeave.Length().Times(2)), units.Down)
	switch {
	case !ok:
		return ""
	case s.Depth == nil:
		return say.Of(", ", d.Name, ", right through")
	}
	return say.Of(", ", d.Name, ", its point no deeper than the slot")
}

// onTable sets a place on the mill's table, and returns what it is set to. On round work it is
// counted from the face that is cut first, or from that of the stub on it.
func (t *task) onTable(o *op.Op, where, along string, at units.Length) units.Length {
	if t.block != nil {
		return o.OnDial(say.Of(where, along), op.Table, t.Shop.Mill.Table, at)
	}
	stub := t.stub(t.first)
	set := o.OnDial(say.Of(where, along), op.Table, t.Shop.Mill.Table, at.Plus(stub), "the ", t.first, " face")
	return set.Minus(stub)
}

// chained drills the chain of holes that makes room for the cutter.
func (w *steps) chained(t *task, base op.Op, s milling, x, y units.Length, oblique bool) {
	chain, err := holes.ChainDrill(holes.SlotInput{
		Length: s.Length, Width: s.Width, Web: practice.ChainWeb.Length(),
		Leave:   practice.ChainLeave.Length(),
		CentreX: x, CentreY: y, Angle: s.Angle, Drawer: t.Shop.Drills,
	})
	if err != nil {
		w.wrong.Add(placed(err, s.At))
		return
	}
	o := w.add(base.As("chain-"+s.id(), op.CrossDrill,
		say.Of("chain-drill the slot: ", chain.Count, " holes of ", chain.Drill), say.Of(chain.Drill, " drill")))
	o.Dia = chain.Dia
	first, second, _ := s.Face.Axes()
	for k, h := range chain.Holes {
		hole := fmt.Sprintf("hole %d, along ", k+1)
		t.onTable(o, hole, first.String(), h.X)
		if oblique {
			t.onTable(o, hole, second.String(), h.Y)
		}
	}
	w.needs(say.Of("drill ", chain.Drill), "to chain-drill the slot", len(t.Shop.Drills) > 0)
	deep := t.slotDeep(s.Slot)
	if most, ok := w.fluted(o, chain.Dia, deep, practice.DrillFlute, practice.LongDrillFlute); !ok {
		o.Check(problem.NotReachable, false, op.With(deep.Up(), "deep"),
			op.With(most, "is the most that a twist drill of ", chain.Dia, " is fluted"), "a wider slot, or one less deep")
	}
	t.cut(o, chain.Count, cutting(feeds.Drill, chain.Dia))
}

// millDeep says that a slot is through, and checks that an end mill is fluted as deep as it
// goes.
func (w *steps) millDeep(o *op.Op, s part.Slot, deep units.Length) {
	if s.Depth == nil {
		o.Set("depth", say.Text("through"), "the whole of it")
	}
	if most, ok := w.fluted(o, s.Width, deep, practice.MillFlute, practice.LongMillFlute); !ok {
		o.Check(problem.NotReachable, false, op.With(deep.Up(), "deep"),
			op.With(most, "is the most that an end mill of ", s.Width, " is fluted"), "a wider slot, or one less deep")
	}
}

// slotDeep returns how deep a slot is cut: through the block, or the thickest of the bar.
func (t *task) slotDeep(s part.Slot) units.Length {
	if s.Depth != nil {
		return *s.Depth
	}
	if t.block != nil {
		_, _, deepest := s.Face.Axes()
		return t.block.Size(deepest)
	}
	var deep units.Length
	half := s.Length.Half()
	for _, x := range t.shape.Over(op.Span{From: s.Z.Minus(half), To: s.Z.Plus(half)}) {
		deep = units.Max(deep, x.Large())
	}
	return deep
}

// runsOut reports whether a place lies beyond a block, along an axis.
func (t *task) runsOut(a part.Axis, place units.Length) bool {
	return t.block != nil && (place.Sign() < 0 || t.block.Size(a).Less(place))
}

// sized is a size as drawn and as it will come out.
type sized struct {
	feature    say.Text
	drawn, out units.Length
}
