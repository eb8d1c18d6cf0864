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
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
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
