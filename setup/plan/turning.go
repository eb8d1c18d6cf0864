package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
	"setover/tapers/curves"
	"setover/threads"
	"setover/threads/cut"
	"setover/threads/drill"
	"setover/threads/limits"
)

// lathe makes the operations on the outside in one grip: face, centre, rough,
// cylinders, tapers, threads.
func (d *draft) lathe(c chucking, datum bool) {
	name := func(what string) string { return fmt.Sprintf("%s-%s", what, c.out) }
	plain := c.setup
	plain.Support = ""
	face := d.add(&op.Op{
		ID: name("face"), Kind: op.Face, Name: fmt.Sprintf("face the %s end", c.out), Setup: plain, Held: c.held,
		Tool: "facing tool", Cuts: d.shape.fromEnd(c.out, units.Length{}), Dia: d.bar, Feature: "face",
	})
	if datum {
		face.Feature = "datum face"
		face.Set("take", size(d.usual.sawnFace), "or until it is clean: z is measured from here")
	} else {
		face.Set("to length", size(d.round.Length()), "from the other face")
	}
	d.gripNote(face, c)
	d.cutOrFail(face, feeds.Input{Operation: feeds.Face, Diameter: d.bar, Length: ptr(d.bar.Half())}, 1)
	d.swingOver(face)
	if c.setup.Support != "" {
		d.centre(c)
	}
	if len(c.stretches) == 0 {
		return
	}
	rough := d.rough(c)
	d.overhang(rough, c)
	for _, x := range d.joined(c.stretches) {
		switch x.kind {
		case op.Turn:
			d.cylinder(c, x)
		case op.Taper:
			d.taper(c, x)
		default:
			d.curve(c, x)
		}
	}
	for i, t := range d.shape.threads {
		if !t.Inside && t.From == c.out {
			d.outsideThread(c, t, i)
		}
	}
}

// centre drills the centre of an end, once.
func (d *draft) centre(c chucking) {
	id := fmt.Sprintf("centre-%s", c.out)
	if slices.ContainsFunc(d.ops, func(o *op.Op) bool { return o.ID == id }) {
		return
	}
	dia, where := d.shape.endDia(c.out), ""
	if dia.Less(d.usual.thinEnd) {
		dia, where = d.usual.stubDia, " in the stub"
	}
	plain := c.setup
	plain.Support = ""
	o := d.add(&op.Op{
		ID: id, Kind: op.Centre, Name: fmt.Sprintf("centre the %s end%s", c.out, where), Setup: plain, Held: c.held,
		Tool: d.centreDrill(dia), Cuts: d.shape.fromEnd(c.out, units.Length{}), Dia: dia, Feature: id,
	})
	d.cutOrFail(o, feeds.Input{Operation: feeds.Drill, Diameter: units.MustLength("3.15mm")}, 1)
}

func ptr[T any](v T) *T { return &v }

// leadOf returns a thread's lead as the feed it is cut at.
func leadOf(spec threads.Designation) *units.Feed {
	return ptr(units.MillimetresPerRev(spec.Lead().MM()))
}

// cutOrFail is cut where the only possible failure is one of the tool for the
// material, which is then told on the card.
func (d *draft) cutOrFail(o *op.Op, in feeds.Input, passes int) feeds.Result {
	r, err := d.cut(o, in, passes)
	if err != nil {
		var list problem.List
		list.Add(err)
		for _, p := range list {
			o.Checks = append(o.Checks, op.Check{Code: string(p.Code), Value: p.Found, Limit: p.Want, Remedy: "another tool or machine"})
		}
	}
	return r
}

// swingOver checks the bar against the lathe's size.
func (d *draft) swingOver(o *op.Op) {
	for _, limit := range []struct {
		what string
		most *units.Length
		is   units.Length
		key  string
		mend string
	}{
		{"diameter over the slide", d.shop.Lathe.SwingOverSlide, d.bar, "swing_over_slide", "a larger lathe"},
		{"length between centres", d.shop.Lathe.BetweenCentres, *d.blank.Length, "between_centres", "a longer lathe, or the part in two pieces that are joined"},
	} {
		if limit.most == nil {
			o.Warnings.Add("not-checked", limit.what+" was not checked (lathe: "+limit.key+")")
			continue
		}
		ok := limit.is.Cmp(*limit.most) <= 0
		check := op.Check{Code: string(problem.TravelShort), OK: ok, Value: limit.what + " " + size(limit.is), Limit: size(*limit.most)}
		if !ok {
			check.Remedy = limit.mend
		}
		o.Checks = append(o.Checks, check)
	}
}

// turnedTo returns the diameter a cylinder is turned to: the drawing's, or the
// blank of the thread that is cut on it.
func (d *draft) turnedTo(x stretch) units.Length {
	for _, t := range d.shape.threads {
		if !t.Inside && t.span.Overlaps(x.Span) {
			if turn, err := limits.TurnDown(t.spec, ""); err == nil {
				return turn.Max.Plus(turn.Min).Half()
			}
		}
	}
	return x.A
}

// roughID names the roughing of a side.
func roughID(out part.End) string { return "rough-" + string(out) }

// rough takes the bar down to what is left for finishing, in one operation for
// the whole grip: every cylinder, and every taper as a cylinder of its large
// end.
func (d *draft) rough(c chucking) *op.Op {
	last := c.stretches[len(c.stretches)-1]
	first := c.stretches[0]
	o := d.add(&op.Op{
		ID: roughID(c.out), Kind: op.Turn, Name: fmt.Sprintf("rough the %s side", c.out), Setup: c.setup, Held: c.held,
		Tool: "roughing tool", Rough: true, Feature: fmt.Sprintf("outside %s", c.out), Dia: d.bar,
		Cuts: op.Span{From: units.Min(first.From, last.From), To: units.Max(first.To, last.To)},
	})
	r := d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: d.bar, Length: ptr(o.Cuts.Length())}, 1)
	passes := 0
	for _, x := range d.roughing(c) {
		to := x.A
		if d.bar.Cmp(to) <= 0 {
			continue
		}
		if r.Depth != nil {
			passes += int(math.Ceil(d.bar.Minus(to).Half().MM()/r.Depth.MM() - 1e-9))
		}
		set := d.onDial(o, fmt.Sprintf("%s over %v, from the bar", sheet.Inline(to, units.Nearest), x.Span), "cross slide", d.shop.Lathe.CrossSlide, d.bar.Minus(to).Half())
		o.Dials[len(o.Dials)-1].What = fmt.Sprintf("to %s over %v", sheet.Inline(predict.Diameter(d.bar, set), units.Nearest), x.Span)
	}
	if r.Depth != nil {
		o.Set("depth a pass", size(*r.Depth), fmt.Sprintf("a side, %d passes in all", passes))
		if r.Time != nil && passes > 1 {
			o.Minutes += float64(*r.Time) * float64(passes-1)
		}
	}
	o.Set("leave", size(d.usual.leaveTurning), "on diameter, for finishing")
	return o
}

// roughing returns the outside of a chucking as it is roughed: cylinders with
// what is left for finishing, neighbours of one diameter made one.
func (d *draft) roughing(c chucking) []stretch {
	var out []stretch
	for _, x := range c.stretches {
		to := units.Max(d.turnedTo(x), x.large()).Plus(d.usual.leaveTurning)
		if n := len(out) - 1; n >= 0 && out[n].A.Equal(to) {
			out[n].From, out[n].To = units.Min(out[n].From, x.From), units.Max(out[n].To, x.To)
			continue
		}
		out = append(out, stretch{Span: x.Span, A: to, B: to, kind: op.Turn})
	}
	return out
}

// roughed returns the diameter that roughing left of a stretch, computed from
// what the cross slide was set to.
func (d *draft) roughed(x stretch) units.Length {
	if m, ok := d.measured(x); ok {
		return m
	}
	to := units.Max(d.turnedTo(x), x.large()).Plus(d.usual.leaveTurning)
	if d.bar.Cmp(to) <= 0 {
		return d.bar
	}
	travel := d.bar.Minus(to).Half()
	if dial := d.shop.Lathe.CrossSlide; dial != nil {
		s, _ := dial.Set(travel)
		travel = s.Set
	}
	return predict.Diameter(d.bar, travel)
}

// joined returns stretches with neighbouring cylinders of one diameter made
// one: flats are cut later, and the tool knows nothing of them. A cylinder that
// is held later keeps its own.
func (d *draft) joined(list []stretch) []stretch {
	var out []stretch
	for i, x := range list {
		if n := len(out) - 1; i > 0 && x.kind == op.Turn && out[n].kind == op.Turn && d.turnedTo(x).Equal(d.turnedTo(out[n])) && !d.isGrip(x) && !d.isGrip(out[n]) {
			out[n].From, out[n].To = units.Min(out[n].From, x.From), units.Max(out[n].To, x.To)
			continue
		}
		out = append(out, x)
	}
	return out
}

// isGrip reports whether a stretch is the one that is held later.
func (d *draft) isGrip(x stretch) bool {
	return d.way.grip >= 0 && d.shape.stretches[d.way.grip].Span == x.Span
}

// cylinder finishes one cylinder.
func (d *draft) cylinder(c chucking, x stretch) {
	to := d.turnedTo(x)
	o := d.add(&op.Op{
		ID: fmt.Sprintf("turn-z%s", x.From.Decimal()), Kind: op.Turn, Name: fmt.Sprintf("finish %s over %v", sheet.Inline(to, units.Nearest), x.Span),
		Setup: c.setup, Held: c.held, Tool: "finishing tool", Feature: x.name(), Cuts: x.Span, Dia: to,
	})
	d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: to, Length: ptr(x.Length()), Finish: true}, 1)
	start := d.roughed(x)
	set := d.onDial(o, fmt.Sprintf("in from %s as measured after roughing", sheet.Inline(start, units.Nearest)), "cross slide", d.shop.Lathe.CrossSlide, start.Minus(to).Half())
	out := predict.Diameter(start, set)
	d.working = append(d.working, sheet.Work("diameter at z "+x.From.Decimal().String(), "start - 2*travel", out.MM(), "mm", sheet.Let("start", start.MM()), sheet.Let("travel", set.MM())))
	feature := fmt.Sprintf("diameter %s, %v", size(x.A), x.Span)
	drawn := x.A
	if !to.Equal(x.A) {
		feature, drawn = fmt.Sprintf("thread blank of %s, %v", sheet.Inline(to, units.Nearest), x.Span), to
	}
	why := "the nearest line of the cross slide's dial"
	if d.shop.Lathe.CrossSlide == nil {
		why = "no dial: turned to a measured size"
	}
	if m, ok := d.measured(x); ok && d.isDone(o.ID) {
		out, why = m, "measured"
	}
	d.predict(feature, drawn, out, why)
}

// curve turns a dome, ball or arc by steps.
func (d *draft) curve(c chucking, x stretch) {
	o := d.add(&op.Op{
		ID: fmt.Sprintf("curve-z%s", x.From.Decimal()), Kind: op.Curve, Setup: c.setup, Held: c.held, Tool: "pointed tool",
		Name:    fmt.Sprintf("turn the arc of %s, %v", size(x.arc.Radius), x.Span),
		Feature: fmt.Sprintf("arc %v", x.Span), Cuts: x.Span, Dia: units.Min(x.A, x.B),
	})
	d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: x.large(), Length: ptr(x.Length()), Finish: true}, 4)
	bulge := curves.Out
	if !x.arc.Out {
		bulge = curves.In
	}
	steps, err := curves.Of(curves.Input{Radius: x.arc.Radius, From: x.A, To: x.B, Length: ptr(x.Length()), Bulge: bulge, Cusp: &d.usual.cusp})
	if err != nil {
		d.fails.Add(at(err, x.arc.At))
		return
	}
	o.Set("steps", fmt.Sprint(len(steps.Steps)), fmt.Sprintf("with a pointed tool, leaving cusps of %s to file and polish", size(steps.Cusp)))
	start := d.roughed(x)
	for _, s := range steps.Steps {
		set := d.onDial(o, fmt.Sprintf("to %s at z %s, from the roughed bar", size(s.Dia), size(x.From.Plus(s.At))), "cross slide", d.shop.Lathe.CrossSlide, start.Minus(s.Dia).Half())
		if s.N == len(steps.Steps) {
			d.predict("right end of the arc, "+x.Span.String(), s.Dia, predict.Diameter(start, set), "the nearest line of the cross slide's dial")
		}
	}
}

// outsideThread chamfers, relieves and cuts a thread on the outside.
func (d *draft) outsideThread(c chucking, t thread, n int) {
	sizes := t.spec.Sizes()
	setup := c.setup
	feature := fmt.Sprintf("thread %d", n+1)
	chamfer := d.add(&op.Op{
		ID: fmt.Sprintf("chamfer-%d", n+1), Kind: op.Chamfer, Name: fmt.Sprintf("chamfer and relieve for %s", t.spec), Setup: setup, Held: c.held,
		Tool: "chamfering tool", Feature: feature, Cuts: t.span, Dia: sizes.Major,
	})
	chamfer.Set("chamfer", "to "+sheet.Inline(sizes.MinorExternal, units.Down)+" at the end", "45 deg, down to the root")
	relief := t.spec.Pitch.Length(3)
	if room := d.roomBehind(t); room.Sign() > 0 {
		chamfer.Set("relief", sheet.Inline(units.Min(relief, room), units.Down)+" wide", "down to "+d.reliefDia(t.spec)+", behind the thread")
	} else {
		chamfer.Set("relief", "none", "the thread runs out at the end of the cylinder")
	}
	o := &op.Op{
		ID: fmt.Sprintf("thread-%d", n+1), Kind: op.Thread, Setup: setup, Held: c.held, Feature: feature, Cuts: t.span, Dia: sizes.Major,
	}
	die := slices.ContainsFunc(d.shop.Dies, func(s string) bool { return sameThread(s, t.spec) })
	lathe := d.shop.Lathe
	switch {
	case die:
		o.Name, o.Tool = fmt.Sprintf("cut %s with the die", t.spec), "die "+t.spec.String()
		d.needs(o.Tool, "for "+t.spec.String(), true)
	case lathe.Leadscrew != nil && len(lathe.ChangeGears) > 0:
		o.Name, o.Tool = fmt.Sprintf("cut %s with a single point", t.spec), "threading tool"
		o.Setup.State = "geared for " + t.spec.Lead().String()
		d.geared(o, t.spec)
	default:
		o.Name, o.Tool = fmt.Sprintf("cut %s with a die", t.spec), "die "+t.spec.String()
		d.needs(o.Tool, "for "+t.spec.String(), false)
	}
	o.Set("length", size(t.Length), "of full thread")
	d.add(o)
	d.cutOrFail(o, feeds.Input{Operation: feeds.Thread, Diameter: sizes.Major, Feed: leadOf(t.spec)}, 1)
	o.Minutes += threadMinutes
}

// geared puts the change gears on the card.
func (d *draft) geared(o *op.Op, spec threads.Designation) {
	lathe := d.shop.Lathe
	in := cut.GearsInput{Thread: cut.Of(spec), Leadscrew: lathe.Leadscrew, Wheels: lathe.ChangeGears, StudRatio: lathe.StudRatio, Most: 4}
	if lathe.BanjoClearance != nil {
		in.Space = lathe.BanjoClearance
	}
	r, err := cut.Gears(in)
	if err != nil || len(r.Trains) == 0 {
		o.Checks = append(o.Checks, op.Check{Code: string(problem.NotReachable), Value: "no train of these wheels", Limit: spec.Lead().String(), Remedy: "a wheel more, or a die"})
		return
	}
	best := r.Trains[0]
	note := "driver over driven, from the stud to the leadscrew; exact"
	if best.PPM != 0 {
		note = fmt.Sprintf("driver over driven; %.1f ppm off, %.4f mm over 100 mm", float64(best.PPM), float64(best.Per100))
	}
	o.Set("gears", best.Text(), note)
}

// threadMinutes is what a thread takes with its measuring: a guess.
const threadMinutes = 6

func (d *draft) reliefDia(spec threads.Designation) string {
	return sheet.Inline(spec.Major.Minus(spec.Pitch.Length(1.6)), units.Nearest)
}

// roomBehind returns how much of its cylinder is left behind a thread.
func (d *draft) roomBehind(t thread) units.Length {
	list := slices.Clone(d.shape.stretches)
	end := t.span.To
	if t.From == part.Right {
		slices.Reverse(list)
		end = t.span.From
	}
	var room, dia units.Length
	for _, x := range list {
		switch {
		case x.Overlaps(t.span):
			dia = x.A
		case dia.Sign() > 0 && x.kind == op.Turn && x.A.Equal(dia):
			far := x.To
			if t.From == part.Right {
				far = x.From
			}
			room = far.Minus(end).Abs()
		case dia.Sign() > 0:
			return room
		}
	}
	return room
}

// sameThread reports whether a tap or die on hand cuts the thread.
func sameThread(have string, want threads.Designation) bool {
	h, err := threads.Parse(have)
	return err == nil && h.Major.Equal(want.Major) && h.Pitch.Equal(want.Pitch) && h.Form == want.Form && h.Starts == want.Starts && h.Left == want.Left
}

// tap countersinks and taps an axial hole.
func (d *draft) tap(base op.Op, t thread, b part.Bore) error {
	sink := base
	sink.ID, sink.Kind, sink.Tool = strings.ReplaceAll(base.Feature, " ", "-")+"-countersink", op.Countersink, "countersink"
	mouth := units.FromFloat(1.05 * t.spec.Major.MM())
	sink.Name = fmt.Sprintf("countersink for %s", t.spec)
	o := d.add(&sink)
	o.Set("to", sheet.Inline(mouth, units.Nearest), "1.05 of the thread")
	if _, err := d.cut(o, feeds.Input{Operation: feeds.Countersink, Diameter: mouth}, 1); err != nil {
		return err
	}
	tap := base
	tap.ID, tap.Kind, tap.Tool = strings.ReplaceAll(base.Feature, " ", "-")+"-tap", op.Tap, "tap "+t.spec.String()
	tap.Name = "tap " + t.spec.String()
	have := slices.ContainsFunc(d.shop.Taps, func(s string) bool { return sameThread(s, t.spec) })
	if lathe := d.shop.Lathe; !have && base.Setup.Machine == op.Lathe && lathe.Leadscrew != nil && len(lathe.ChangeGears) > 0 && b.Dia.Cmp(d.usual.insideTool) >= 0 {
		tap.ID, tap.Kind, tap.Tool = strings.ReplaceAll(base.Feature, " ", "-")+"-thread", op.Thread, "inside threading tool"
		tap.Name = fmt.Sprintf("cut %s inside with a single point", t.spec)
		tap.Setup.State = "geared for " + t.spec.Lead().String()
		o = d.add(&tap)
		d.geared(o, t.spec)
		o.Set("depth", size(t.Length), "of full thread: stop in a relief or pull out at the mark")
		o.Minutes += threadMinutes
		_, err := d.cut(o, feeds.Input{Operation: feeds.Thread, Diameter: t.spec.Major, Feed: leadOf(t.spec)}, 1)
		return err
	}
	d.needs(tap.Tool, "for "+t.spec.String(), have)
	o = d.add(&tap)
	o.Set("depth", size(t.Length), "of full thread")
	o.Set("thread", fmt.Sprintf("%.0f %%", drill.Percent(t.spec, b.Dia)), "of full depth at the drawn bore (100 % = 1.299038 P)")
	drills := "shop"
	if len(d.shop.Drills) == 0 {
		drills = "all"
	}
	drawn, _ := d.drill(b.Dia)
	if best, err := drill.For(drill.Input{Thread: t.spec, Material: d.material.Name, Depth: &t.Length, Drills: drills, Drawer: d.shop.Drills}); err == nil && best.Recommended != nil && *best.Recommended != drawn.Name {
		o.Set("tap drill", *best.Recommended, "is nearer to what suits this material; the drawing says "+size(b.Dia))
	}
	room := b.Depth.Minus(t.Length)
	lead := t.spec.Pitch.Length(2)
	if !b.Through {
		o.Checks = append(o.Checks, op.Check{
			Code: string(problem.TravelShort), OK: room.Cmp(lead) >= 0, Value: size(room) + " of hole beyond the thread",
			Limit: size(lead) + " for a bottoming tap's lead (2 P)", Remedy: "drill the hole " + size(lead.Minus(room)) + " deeper",
		})
	}
	_, err := d.cut(o, feeds.Input{Operation: feeds.Tap, Diameter: t.spec.Major, Feed: leadOf(t.spec)}, 1)
	return err
}
