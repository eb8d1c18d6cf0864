package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"setover/feeds"
	"setover/setup/part"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
	"setover/setup/problem"
	"setover/setup/units"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/threads"
	"setover/threads/cut"
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
		face.Set("take", sawnFace.String(), "or until it is clean: z is measured from here")
	} else {
		face.Set("to length", d.round.Length().String(), "from the other face")
	}
	d.cutOrFail(face, feeds.Input{Operation: feeds.Face, Diameter: d.bar, Length: ptr(d.bar.Half())}, 1)
	d.swingOver(face)
	if c.setup.Support != "" {
		dia := d.shape.endDia(c.out)
		where := ""
		if dia.Less(thinEnd) {
			dia, where = stubDia, " in the stub"
		}
		o := d.add(&op.Op{
			ID: name("centre"), Kind: op.Centre, Name: fmt.Sprintf("centre the %s end%s", c.out, where), Setup: plain, Held: c.held,
			Tool: d.centreDrill(dia), Cuts: d.shape.fromEnd(c.out, units.Length{}), Dia: dia, Feature: name("centre"),
		})
		d.cutOrFail(o, feeds.Input{Operation: feeds.Drill, Diameter: units.MustLength("3.15mm")}, 1)
	}
	if len(c.stretches) == 0 {
		return
	}
	rough := d.rough(c)
	d.overhang(rough, c)
	for _, x := range c.stretches {
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
	}{
		{"diameter over the slide", d.shop.Lathe.SwingOverSlide, d.bar, "swing_over_slide"},
		{"length between centres", d.shop.Lathe.BetweenCentres, *d.blank.Length, "between_centres"},
	} {
		if limit.most == nil {
			o.Warnings = append(o.Warnings, limit.what+" was not checked (lathe: "+limit.key+")")
			continue
		}
		ok := limit.is.Cmp(*limit.most) <= 0
		check := op.Check{Code: string(problem.TravelShort), OK: ok, Value: limit.what + " " + limit.is.String(), Limit: limit.most.String()}
		if !ok {
			check.Remedy = "a larger lathe, or a shorter part in two pieces"
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

// rough takes the bar down to what is left for finishing, in one operation for
// the whole grip: every cylinder, and every taper as a cylinder of its large
// end.
func (d *draft) rough(c chucking) *op.Op {
	last := c.stretches[len(c.stretches)-1]
	first := c.stretches[0]
	o := d.add(&op.Op{
		ID: fmt.Sprintf("rough-%s", c.out), Kind: op.Turn, Name: fmt.Sprintf("rough the %s side", c.out), Setup: c.setup, Held: c.held,
		Tool: "roughing tool", Rough: true, Feature: fmt.Sprintf("outside %s", c.out), Dia: d.bar,
		Cuts: op.Span{From: units.Min(first.From, last.From), To: units.Max(first.To, last.To)},
	})
	r := d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: d.bar, Length: ptr(o.Cuts.Length())}, 1)
	passes := 0
	for _, x := range c.stretches {
		to := units.Max(d.turnedTo(x), x.large()).Plus(leaveTurning)
		if d.bar.Cmp(to) <= 0 {
			continue
		}
		if r.Depth != nil {
			passes += int(math.Ceil(d.bar.Minus(to).Half().MM()/r.Depth.MM() - 1e-9))
		}
		set := d.onDial(o, fmt.Sprintf("%s mm over %v, from the bar", to.Fixed(units.MM, 2, units.Nearest), x.Span), "cross slide", d.shop.Lathe.CrossSlide, d.bar.Minus(to).Half())
		o.Dials[len(o.Dials)-1].What = fmt.Sprintf("to %s mm over %v", predict.Diameter(d.bar, set).Fixed(units.MM, 2, units.Nearest), x.Span)
	}
	if r.Depth != nil {
		o.Set("depth a pass", r.Depth.String(), fmt.Sprintf("a side, %d passes in all", passes))
		if r.Time != nil && passes > 1 {
			o.Minutes += float64(*r.Time) * float64(passes-1)
		}
	}
	o.Set("leave", leaveTurning.String(), "on diameter, for finishing")
	return o
}

// roughed returns the diameter that roughing left of a stretch, computed from
// what the cross slide was set to.
func (d *draft) roughed(x stretch) units.Length {
	to := units.Max(d.turnedTo(x), x.large()).Plus(leaveTurning)
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

// cylinder finishes one cylinder.
func (d *draft) cylinder(c chucking, x stretch) {
	to := d.turnedTo(x)
	o := d.add(&op.Op{
		ID: fmt.Sprintf("turn-z%s", x.From.Decimal()), Kind: op.Turn, Name: fmt.Sprintf("finish %s mm over %v", to.Fixed(units.MM, 2, units.Nearest), x.Span),
		Setup: c.setup, Held: c.held, Tool: "finishing tool", Feature: x.name(), Cuts: x.Span, Dia: to,
	})
	d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: to, Length: ptr(x.Length()), Finish: true}, 1)
	start := d.roughed(x)
	set := d.onDial(o, fmt.Sprintf("in from %s mm as measured after roughing", start.Fixed(units.MM, 3, units.Nearest)), "cross slide", d.shop.Lathe.CrossSlide, start.Minus(to).Half())
	out := predict.Diameter(start, set)
	feature := fmt.Sprintf("diameter %s, %v", x.A.Decimal(), x.Span)
	drawn := x.A
	if !to.Equal(x.A) {
		feature, drawn = fmt.Sprintf("thread blank %s, %v", to.Fixed(units.MM, 3, units.Nearest), x.Span), to
	}
	why := "the nearest line of the cross slide's dial"
	if d.shop.Lathe.CrossSlide == nil {
		why = "no dial: turned to a measured size"
	}
	d.predict(feature, drawn, out, why)
}

// smallEnd says at which end of the lathe a stretch is small: the end that
// stands out is the tailstock's.
func smallEnd(x stretch, out part.End) tapers.End {
	small := part.Right
	if x.A.Less(x.B) {
		small = part.Left
	}
	if small == out {
		return tapers.AtTailstock
	}
	return tapers.AtHeadstock
}

// taper cuts a taper with the compound.
func (d *draft) taper(c chucking, x stretch) {
	large, small, length := x.large(), units.Min(x.A, x.B), x.Length()
	in := compound.Input{
		Input: tapers.Input{Large: &large, Small: &small, Length: &length}, SmallEnd: smallEnd(x, c.out),
		Compound: d.shop.Lathe.Compound, Cross: d.shop.Lathe.CrossSlide,
		Place: d.place(c, x), Chuck: d.shop.Lathe.Chuck, Post: d.shop.Lathe.ToolPost, Tools: d.shop.Lathe.Tools, Tailstock: d.shop.Lathe.Tailstock,
	}
	o := &op.Op{
		ID: fmt.Sprintf("taper-z%s", x.From.Decimal()), Kind: op.Taper, Setup: c.setup, Held: c.held, Tool: "finishing tool",
		Name:    fmt.Sprintf("cut the taper %s to %s mm, %v", large.Fixed(units.MM, 2, units.Nearest), small.Fixed(units.MM, 2, units.Nearest), x.Span),
		Feature: fmt.Sprintf("taper %v", x.Span), Cuts: x.Span, Dia: small,
	}
	r, err := d.clearing(in)
	if err != nil {
		d.fails.Add(err)
		return
	}
	d.add(o)
	o.Setup.State = d.compoundSettings(o, r)
	for _, w := range r.Warnings {
		o.Warnings = append(o.Warnings, w.Text)
	}
	o.Cautions = append(o.Cautions, r.Cautions...)
	d.foulingCheck(o, r)
	passes := int(math.Ceil(d.roughed(x).Minus(small).Half().MM() / 0.5)) // half a millimetre a side: common practice
	d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: large, To: ptr(units.Max(small, units.Millimetres(1))), Length: r.SlideTravel, Finish: true}, max(1, passes))
	outLarge := large
	outSmall := predict.SmallEnd(outLarge, length, r.SetHalfAngle)
	why := "the compound at its nearest mark"
	if r.Mark == nil {
		why = "the compound set by indicator"
	}
	d.predict(fmt.Sprintf("small end of the taper, %v", x.Span), small, outSmall, why)
	if x.facet != nil {
		d.predictFlats(x, outLarge, outSmall, why)
	}
}

// place says where a taper stands in a chucking, for what may foul.
func (d *draft) place(c chucking, x stretch) fouling.Place {
	head := x.From // the end of the taper at the headstock's side
	if c.out == part.Left {
		head = x.To
	}
	p := fouling.Place{FromJaws: ptr(c.reach(head))}
	if c.setup.Support != "" {
		p.CentreAt = ptr(c.from.Plus(c.standoff))
		if d.stub {
			p.CentreAt = ptr(p.CentreAt.Plus(stubLength))
		}
	}
	return p
}

// clearing sets a taper on the compound, with the tool held so that nothing
// fouls: as it usually is if that clears, else the first way that does.
func (d *draft) clearing(in compound.Input) (compound.Result, error) {
	r, err := compound.Set(in)
	if err != nil || r.Finding == nil || len(r.Finding.Fouls) == 0 {
		return r, err
	}
	for _, a := range r.Finding.Alternatives {
		if a.Clearance == nil || a.Clearance.Sign() < 0 || a.ShortDeg != nil {
			continue
		}
		in.Arrangement = a.Arrangement
		if other, err := compound.Set(in); err == nil && len(other.Finding.Fouls) == 0 {
			return other, nil
		}
	}
	return r, nil
}

// foulingCheck puts on the card how the tool is held and what it clears by.
func (d *draft) foulingCheck(o *op.Op, r compound.Result) {
	f := r.Finding
	if f == nil || f.Clearance == nil {
		return
	}
	a := f.Arrangement
	o.Set("tool", fmt.Sprintf("%s-hand, on the post's %s side", a.ToolHand, a.PostSide), fmt.Sprintf("post %s, handle %s", strings.ReplaceAll(string(a.PostTurn), "-", " "), a.Handle))
	check := op.Check{Code: string(problem.Fouls), OK: len(f.Fouls) == 0, Value: f.Clearance.Fixed(units.MM, 1, units.Down) + " mm clear of chuck and tailstock", Limit: "3 mm to be easy, 0 at the least"}
	if !check.OK {
		check.Remedy = "no way of holding the tool clears: cut it with a longer grip, or between centres"
		for _, alt := range f.Alternatives {
			if alt.MoreFromJaws != nil && alt.ShortDeg == nil {
				check.Remedy = fmt.Sprintf("stand the work %s mm further out of the jaws, with a %s-hand tool on the post's %s side", alt.MoreFromJaws.Fixed(units.MM, 1, units.Up), alt.ToolHand, alt.PostSide)
				break
			}
		}
	}
	o.Checks = append(o.Checks, check)
}

// compoundSettings puts the compound's setting on the card and returns the
// machine's special state.
func (d *draft) compoundSettings(o *op.Op, r compound.Result) string {
	state := fmt.Sprintf("compound at %.3f deg, %s", r.SetHalfAngle.Deg(), r.Swing)
	turn := ""
	if r.TurnDirection != nil {
		turn = fmt.Sprintf("%s from the %s zero, handle toward the %s", *r.TurnDirection, *r.ScaleZero, r.HandleToward)
	}
	if r.Mark != nil {
		o.Set("compound", fmt.Sprintf("%.2f deg on the scale", r.Mark.Deg()), turn+fmt.Sprintf("; exact %.3f deg", r.Reading.Deg()))
	} else {
		o.Set("compound", fmt.Sprintf("half angle %.3f deg by indicator", r.HalfAngle.Deg()), turn)
	}
	o.Set("indicator", r.IndicatorReading.Fixed(units.MM, 3, units.Nearest)+" mm", fmt.Sprintf("while the slide travels %v, for the exact angle", r.IndicatorTravel))
	if r.Bites != nil && *r.Bites > 1 {
		o.Set("bites", fmt.Sprint(*r.Bites), fmt.Sprintf("between them carriage %s mm, cross slide %s mm",
			r.CarriageMove.Fixed(units.MM, 3, units.Nearest), r.CrossSlideMove.Fixed(units.MM, 3, units.Nearest)))
	}
	return state
}

// curve turns a dome, ball or arc by steps.
func (d *draft) curve(c chucking, x stretch) {
	o := d.add(&op.Op{
		ID: fmt.Sprintf("curve-z%s", x.From.Decimal()), Kind: op.Curve, Setup: c.setup, Held: c.held, Tool: "round-nosed tool",
		Name:    fmt.Sprintf("turn the arc of %v, %v", x.arc.Radius, x.Span),
		Feature: fmt.Sprintf("arc %v", x.Span), Cuts: x.Span, Dia: units.Min(x.A, x.B),
	})
	d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: x.large(), Length: ptr(x.Length()), Finish: true}, 4)
	way := "out"
	if !x.arc.Out {
		way = "in"
	}
	o.Set("steps", fmt.Sprintf("taper curve --radius %s --from-dia %s --to-dia %s --bulge %s", x.arc.Radius.Decimal(), x.A.Decimal(), x.B.Decimal(), way), "the table of readings")
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
	chamfer.Set("chamfer", "to "+sizes.MinorExternal.Fixed(units.MM, 2, units.Down)+" mm at the end", "45 deg, down to the root")
	relief := t.spec.Pitch.Length(3)
	if room := d.roomBehind(t); room.Sign() > 0 {
		chamfer.Set("relief", units.Min(relief, room).Fixed(units.MM, 2, units.Down)+" mm wide", "down to "+d.reliefDia(t.spec)+" mm, behind the thread")
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
	o.Set("length", t.Length.String(), "of full thread")
	d.add(o)
	d.cutOrFail(o, feeds.Input{Operation: feeds.Thread, Diameter: sizes.Major, Feed: leadOf(t.spec)}, 1)
	o.Minutes += threadMinutes
}

// geared puts the change gears on the card.
func (d *draft) geared(o *op.Op, spec threads.Designation) {
	lathe := d.shop.Lathe
	in := cut.GearsInput{
		Thread: cut.Of(spec), Leadscrew: lathe.Leadscrew, Wheels: lathe.ChangeGears,
		StudRatio: lathe.StudRatio, Space: lathe.BanjoClearance, Most: 4,
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
	return spec.Major.Minus(spec.Pitch.Length(1.6)).Fixed(units.MM, 2, units.Nearest)
}

// roomBehind returns how much cylinder is left behind a thread.
func (d *draft) roomBehind(t thread) units.Length {
	for _, x := range d.shape.stretches {
		if !x.Overlaps(t.span) {
			continue
		}
		if t.From == part.Left {
			return x.To.Minus(t.span.To)
		}
		return t.span.From.Minus(x.From)
	}
	return units.Length{}
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
	o.Set("to", mouth.Fixed(units.MM, 2, units.Nearest)+" mm", "1.05 of the thread")
	if _, err := d.cut(o, feeds.Input{Operation: feeds.Countersink, Diameter: mouth}, 1); err != nil {
		return err
	}
	tap := base
	tap.ID, tap.Kind, tap.Tool = strings.ReplaceAll(base.Feature, " ", "-")+"-tap", op.Tap, "tap "+t.spec.String()
	tap.Name = "tap " + t.spec.String()
	have := slices.ContainsFunc(d.shop.Taps, func(s string) bool { return sameThread(s, t.spec) })
	d.needs(tap.Tool, "for "+t.spec.String(), have)
	o = d.add(&tap)
	o.Set("depth", t.Length.String(), "of full thread")
	percent := 100 * b.Dia.Minus(t.spec.Major).Abs().MM() / (1.299038 * t.spec.Pitch.MM())
	o.Set("thread", fmt.Sprintf("%.0f %%", percent), "of full depth at the drawn bore (100 % = 1.299038 P)")
	room := b.Depth.Minus(t.Length)
	lead := t.spec.Pitch.Length(2)
	if !b.Through {
		o.Checks = append(o.Checks, op.Check{
			Code: string(problem.TravelShort), OK: room.Cmp(lead) >= 0, Value: room.String() + " of hole beyond the thread",
			Limit: lead.String() + " for a bottoming tap's lead (2 P)", Remedy: "drill the hole " + lead.Minus(room).String() + " deeper",
		})
	}
	_, err := d.cut(o, feeds.Input{Operation: feeds.Tap, Diameter: t.spec.Major, Feed: leadOf(t.spec)}, 1)
	return err
}
