package plan

import (
	"fmt"
	"strconv"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/tapers/curves"
	"setover/threads/limits"
)

// outside cuts the outside in one grip: face, centre, rough, then cylinders,
// tapers, arcs and threads. The first grip makes the face z is measured from.
func outside(t *task, c chucking, first bool) work {
	list := []work{face(t, c, first)}
	if c.setup.Centre {
		list = append(list, centre(t, c))
	}
	if len(c.stretches) == 0 {
		return together(list...)
	}
	list = append(list, rough(t, c))
	for _, x := range t.joined(c.stretches) {
		switch x.Kind() {
		case outline.Cylinder:
			list = append(list, turned(t, c, x))
		case outline.Taper:
			list = append(list, taper(t, c, x))
		default:
			list = append(list, curve(t, c, x))
		}
	}
	for i, x := range t.shape.Threads {
		if !x.Inside && x.From == c.out {
			list = append(list, outsideThread(t, c, x, i+1))
		}
	}
	return together(list...)
}

func face(t *task, c chucking, first bool) work {
	var w work
	o := w.add(&op.Op{
		ID: fmt.Sprintf("face-%s", c.out), Kind: op.Face, Name: say.Of("face the ", c.out, " end"), Setup: c.setup.Plain(),
		Held: c.held, Tool: "facing tool", Cuts: t.shape.FromEnd(c.out, units.Length{}), Dia: t.bar, Zero: first,
	})
	if first {
		o.Set("take", practice.SawnFace.Length(), "or until it is clean: z is measured from here")
	} else {
		o.Set("to length", t.shape.Length, "from the other face")
	}
	t.gripNote(o, c)
	t.cut(o, 1, cutting(feeds.Face, t.bar, t.bar.Half()))
	t.fitsLathe(o)
	return w
}

// fitsLathe checks the bar against the lathe's size.
func (t *task) fitsLathe(o *op.Op) {
	check := func(what, key string, is units.Length, most *units.Length, mend say.Text) {
		if most == nil {
			o.Warn("not-checked", what, " was not checked (lathe: ", key, ")")
			return
		}
		o.Check(problem.TravelShort, is.Cmp(*most) <= 0, op.With(is.Up(), what), *most, mend)
	}
	lathe := t.Shop.Lathe
	check("diameter over the slide", "swing_over_slide", t.bar, lathe.SwingOverSlide, "a larger lathe")
	check("length between centres", "between_centres", *t.blank.Length, lathe.BetweenCentres,
		"a longer lathe, or the part in two pieces that are joined")
}

// centre drills the centre of an end: in the stub, where the end is thin.
func centre(t *task, c chucking) work {
	var w work
	dia, where := t.turned(c.out), ""
	if t.thin(c.out) {
		dia, where = practice.StubDia.Length(), " in the stub"
	}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("centre-%s", c.out), Kind: op.Centre, Name: say.Of("centre the ", c.out, " end", where),
		Setup: c.setup.Plain(), Held: c.held, Tool: w.centreDrill(t, dia),
		Cuts: t.shape.FromEnd(c.out, units.Length{}), Dia: dia,
	})
	t.cut(o, 1, cutting(feeds.Drill, widestCentre()))
	return w
}

// widestCentre is the largest pilot a centre drill has: it sets the speed.
func widestCentre() units.Length { return practice.CentreDrill.Length(units.Millimetres(1000)) }

// spotPilot is the pilot that starts a hole across a bar or in a block.
func spotPilot() units.Length { return practice.CentreDrill.Length(practice.SpotAs.Length()) }

// turnedTo returns the diameter a cylinder is turned to: the drawing's, or the
// blank of the thread that is cut on it.
func turnedTo(x outline.Stretch) units.Length {
	if x.Thread != nil {
		if turn, err := limits.TurnDown(x.Thread.Designation, ""); err == nil {
			return turn.Max.Plus(turn.Min).Half()
		}
	}
	return x.Left.Turned
}

// roughTo returns the cylinder that roughing leaves of a stretch, as it is
// asked for: a taper is roughed to its large end.
func roughTo(x outline.Stretch) units.Length {
	return units.Max(turnedTo(x), x.Large()).Plus(practice.LeaveTurning.Length())
}

// roughed returns the diameter that roughing left of a stretch: what was
// measured, or what comes of the setting of the cross slide.
func (t *task) roughed(x outline.Stretch) units.Length {
	if m, ok := t.measured(x); ok {
		return m
	}
	to := roughTo(x)
	if t.bar.Cmp(to) <= 0 {
		return t.bar
	}
	return predict.Diameter(t.bar, onLine(t.Shop.Lathe.CrossSlide, t.bar.Minus(to).Half()))
}

// onLine returns the travel that the nearest line of a dial stands for, or the
// travel itself where there is no dial.
func onLine(d *shop.Dial, travel units.Length) units.Length {
	if d == nil {
		return travel
	}
	s, _ := d.Set(travel)
	return s.Set
}

// roughID names the roughing of a side.
func roughID(out part.End) string { return "rough-" + string(out) }

// rough takes the bar down to what is left for finishing, in one operation for
// the whole grip.
func rough(t *task, c chucking) work {
	var w work
	o := w.add(&op.Op{
		ID: roughID(c.out), Kind: op.Turn, Name: say.Of("rough the ", c.out, " side"), Setup: c.setup, Held: c.held,
		Tool: "roughing tool", Rough: true, Relieved: t.Part.StressRelief, Dia: t.bar,
		Cuts: spanning(c.stretches[0].Span, c.stretches[len(c.stretches)-1].Span),
	})
	r := t.cut(o, 1, cutting(feeds.Turn, t.bar, o.Cuts.Length()))
	passes := 0
	slide := t.Shop.Lathe.CrossSlide
	for _, x := range roughing(c) {
		travel := t.bar.Minus(x.to).Half()
		if travel.Sign() <= 0 {
			continue
		}
		if r.Depth != nil {
			passes += int(travel.Steps(*r.Depth, units.Up))
		}
		comes := predict.Diameter(t.bar, onLine(slide, travel))
		o.OnDial(say.Of("to ", comes, " over ", x.over), op.CrossSlide, slide, travel)
	}
	if r.Depth != nil {
		o.Set("depth a pass", *r.Depth, "a side, ", passes, " passes in all")
		if r.Time != nil && passes > 1 {
			o.Minutes += float64(*r.Time) * float64(passes-1)
		}
	}
	o.Set("leave", practice.LeaveTurning.Length(), "on diameter, for finishing")
	if ratio := c.reach.Over(c.dia); c.setup.Centre {
		o.Check(problem.CannotBeHeld, true, tenths(ratio, "diameters out of the chuck"), say.Text("on a centre"))
	} else {
		most := t.overhang()
		o.Check(problem.CannotBeHeld, ratio <= most, tenths(ratio, "diameters out of the chuck"),
			tenths(most, "without a centre"), "hold it on a centre")
	}
	if c.setup.Centre {
		o.Cautions = append(o.Cautions, cautions.Overhang)
	}
	return w
}

// tenths is a number with its one decimal, a 0 too, and what it counts.
func tenths(v float64, of string) op.Figure {
	return op.With(say.Text(strconv.FormatFloat(v, 'f', 1, 64)), of)
}

// pass is a stretch as it is roughed.
type pass struct {
	over op.Span
	to   units.Length
}

// roughing returns the outside of a chucking as it is roughed: neighbours of
// one diameter made one.
func roughing(c chucking) []pass {
	var out []pass
	for _, x := range c.stretches {
		to := roughTo(x)
		if n := len(out) - 1; n >= 0 && out[n].to.Equal(to) {
			out[n].over = spanning(out[n].over, x.Span)
			continue
		}
		out = append(out, pass{x.Span, to})
	}
	return out
}

// joined returns stretches with neighbouring cylinders of one diameter made
// one: flats are cut later, and the tool knows nothing of them. A cylinder that
// is held later keeps its own.
func (t *task) joined(list []outline.Stretch) []outline.Stretch {
	isGrip := func(x outline.Stretch) bool {
		return t.grip != offBar && cylinder(t.shape.Stretches[t.grip]) == cylinder(x)
	}
	alike := func(x, y outline.Stretch) bool {
		return x.Kind() == outline.Cylinder && y.Kind() == outline.Cylinder && turnedTo(x).Equal(turnedTo(y))
	}
	var out []outline.Stretch
	for _, x := range list {
		if n := len(out) - 1; n >= 0 && alike(x, out[n]) && !isGrip(x) && !isGrip(out[n]) {
			out[n].Span = spanning(out[n].Span, x.Span)
			continue
		}
		out = append(out, x)
	}
	return out
}

// turned finishes one cylinder.
func turned(t *task, c chucking, x outline.Stretch) work {
	var w work
	to := turnedTo(x)
	o := w.add(&op.Op{
		ID: fmt.Sprintf("turn-z%s", x.From.Decimal()), Kind: op.Turn, Name: say.Of("finish ", to, " over ", x.Span),
		Setup: c.setup, Held: c.held, Tool: "finishing tool", Makes: cylinder(x),
		Cuts: x.Span, Dia: to,
	})
	t.cut(o, 1, finishing(to, x.Length()))
	start, slide := t.roughed(x), t.Shop.Lathe.CrossSlide
	set := o.OnDial(say.Of("in from ", start, " as measured after roughing"), op.CrossSlide, slide, start.Minus(to).Half())
	out := predict.Diameter(start, set)
	w.working = append(w.working, sheet.Work(say.Of("diameter at z ", x.From).String(), "start - 2*travel",
		out.MM(), "mm", sheet.Let("start", start.MM()), sheet.Let("travel", set.MM())))
	feature := say.Of("diameter ", x.Left.Turned, ", ", x.Span)
	if !to.Equal(x.Left.Turned) {
		feature = say.Of("thread blank of ", to, ", ", x.Span)
	}
	why := byCrossSlide
	if slide == nil {
		why = "no dial: turned to a measured size"
	}
	if m, ok := t.measured(x); ok && t.done[o.ID] {
		out, why = m, "measured"
	}
	w.predict(feature, to, out, why)
	return w
}

// curve turns a dome, ball or arc by steps.
func curve(t *task, c chucking, x outline.Stretch) work {
	var w work
	o := w.add(&op.Op{
		ID: fmt.Sprintf("curve-z%s", x.From.Decimal()), Kind: op.Curve, Setup: c.setup, Held: c.held, Tool: "pointed tool",
		Name: say.Of("turn the arc of ", x.Arc.Radius, ", ", x.Span),
		Cuts: x.Span, Dia: units.Min(x.Left.Turned, x.Right.Turned),
	})
	t.cut(o, 4, finishing(x.Large(), x.Length()))
	in := curves.Input{
		Radius: x.Arc.Radius, From: x.Left.Turned, To: x.Right.Turned, Length: new(x.Length()),
		Bulge: curves.In, Cusp: new(practice.ArcCusp.Length()),
	}
	if x.Arc.Out {
		in.Bulge = curves.Out
	}
	steps, err := curves.Of(in)
	if err != nil {
		w.no.Add(placed(err, x.Arc.At))
		return w
	}
	o.Set("steps", sheet.Count(len(steps.Steps)),
		"with a pointed tool, leaving cusps of ", steps.Cusp, " to file and polish")
	start, slide := t.roughed(x), t.Shop.Lathe.CrossSlide
	for _, s := range steps.Steps {
		what := say.Of("to ", s.Dia, " at z ", x.From.Plus(s.At), ", from the roughed bar")
		set := o.OnDial(what, op.CrossSlide, slide, start.Minus(s.Dia).Half())
		if s.N == len(steps.Steps) {
			w.predict(say.Of("right end of the arc, ", x.Span), s.Dia, predict.Diameter(start, set), byCrossSlide)
		}
	}
	return w
}
