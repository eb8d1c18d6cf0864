package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
)

// What a bore is brought to its size by: the dial of the cross slide, measured before the last cut,
// or abrasive paper to a plug gauge.

// gauged returns how far a bore may be off that is measured by a gauge, either way, in the unit that
// the lathe counts in.
//
// Source: the row bore-error of practice.
func (j *job) gauged() units.Length {
	if slide := j.Shop.Lathe.CrossSlide; slide != nil {
		return practice.BoreError.Length(slide.Unit)
	}
	return practice.BoreError.Length(j.Shop.Units)
}

// boredTold returns how far a bore may be off what is told of it, either way, that is measured and
// then bored on the cross slide: as an outside may, but by the gauge of a bore in the micrometer's
// place.
//
// Source: as readTo.
func (j *job) boredTold() units.Length { return j.readTo().Minus(j.micrometer()).Plus(j.gauged()) }

// stepped returns what a bore made half from each end is less where the halves meet, for what has to
// go through it: work that runs true to r on a full turn lies r/2 off, and two circles so far apart
// let through r/2 less than either. What finds the axis by itself is no nearer.
//
// Source: the row bore-true of practice, halved by geometry.
func (x axial) stepped() units.Length {
	if !x.how.halves {
		return units.Length{}
	}
	unit := units.MM
	if d := x.Shop.Lathe.CrossSlide; d != nil {
		unit = d.Unit
	}
	return practice.BoreTrue.Length(unit).Half()
}

// lappedToo reports whether a bore may come out beyond its limits by the dial, whichever line is the
// one, as byHandToo does of the outside.
func (t *task) lappedToo(d limits.Dimension) bool {
	slide := t.Shop.Lathe.CrossSlide
	return !d.General && slide != nil && d.Width().Half().Less(slide.Division().Plus(t.boredTold()))
}

// lastBore is how the last cut of a bore is set: how far the slide travels from the hole that is
// there, on a line of the dial where there is one.
type lastBore struct {
	travel, off units.Length
	why         say.Text
}

// lastBore returns how the last cut of a bore is set from what is open to a diameter: to what is
// drawn, on the last line that is not past it; where that, as it is told, is not kept, on the nearest
// line; and then the same to the middle of what is allowed. Where none keeps it, on the line nearest
// to the middle. One to be lapped is bored to the last line that as it is told is in its limits.
func (t *task) lastBore(x axial, from units.Length, c chucking) lastBore {
	slide, d, off := t.Shop.Lathe.CrossSlide, t.limits.Bore(x.Bore), t.boredTold().Plus(x.stepped())
	middle := d.Aim().RoundTo(depthStep, units.Nearest)
	in := func(to units.Length) units.Length { return units.Max(to.Minus(from).Half(), units.Length{}) }
	list := []kept{{d, x.words()}}
	if slide == nil {
		to := x.Dia
		if !keep(list, to, off) {
			to = middle
		}
		return lastBore{in(to), off, "no dial: bored to a measured size"}
	}
	if x.how.lapped {
		line, _ := slide.Short(in(d.High.Minus(t.boredTold())))
		return lastBore{line.Set, off, byShortLine}
	}
	for _, to := range []units.Length{x.Dia, middle} {
		for _, short := range []bool{true, false} {
			set := slide.Set
			if short {
				set = slide.Short
			}
			if line, _ := set(in(to)); keep(list, from.Plus(line.Set.Times(2)), off) {
				return lastBore{line.Set, off, lineWhy(short)}
			}
		}
	}
	line, _ := slide.Set(in(middle))
	return lastBore{line.Set, off, byCrossSlide}
}

// bringTo puts on the card how a bore is brought to its size from what is open to a diameter, and
// returns that: cut by cut until so much is left as the last one wants, measured, and then on its
// line. What is told of it, what it is set to and what is measured are one size.
func (x axial) bringTo(o *op.Op, last lastBore, from units.Length) units.Length {
	dial, d := x.Shop.Lathe.CrossSlide, x.limits.Bore(x.Bore)
	out := from.Plus(last.travel.Times(2))
	if d.General && out.Cmp(x.Dia) <= 0 { // nobody fits it: as it is drawn
		o.ShortOnDial(say.Of("out to ", x.Dia, " from the hole of ", from), op.CrossSlide, dial, x.Dia.Minus(from).Half(),
			"touching the hole")
		o.Set("size", x.Dia.Down(), "never larger: measure before the last cut")
		return out
	}
	leave := practice.LeaveMeasure.Length()
	if dial != nil {
		if first, _ := dial.Short(last.travel.Minus(leave.Half())); first.Set.Sign() > 0 {
			under := from.Plus(first.Set.Times(2))
			o.ShortOnDial(say.Of("first out to ", under, " from the hole of ", from), op.CrossSlide, dial, first.Set,
				"touching the hole")
			o.Set("measure first", under, "after the first of the two lines below: what it is more or less than that, take the "+
				"second so much nearer or further; a division is ", dial.Division().Times(2), " of the diameter")
		}
		o.OnDial(say.Of("out to ", out, " from the hole of ", from), op.CrossSlide, dial, last.travel, "touching the hole")
	} else {
		o.OnDial(say.Of("out to ", out, " from the hole of ", from), op.CrossSlide, nil, last.travel, "touching the hole")
	}
	gauge := x.task.gauged()
	if x.how.lapped {
		o.Name = say.Of("bore to ", out, ", to be lapped")
		o.Set("leave", units.Max(x.lapTo().Minus(out), units.Length{}).Up(), "on diameter, for the lap")
		o.Set("size", out, "as near as it goes, and never over ", d.High.Minus(gauge).Down(), " by the gauge")
		return out
	}
	if !d.General {
		o.Name = say.Of("bore to ", out)
	}
	least, most := units.Inward(d.Low.Plus(gauge), d.High.Minus(gauge))
	low, high := units.Inward(d.Low, d.High)
	o.Set("measure", least, "to ", most, " by bore gauge, or by telescopic "+
		"gauge and micrometer, cold, at both ends: that keeps ", low, " to ", high, " with a reading that is ",
		gauge, " off")
	return out
}

// lapTo returns what a bore is lapped to: as soon as the plug gauge of its low limit goes in with
// the error of the micrometer that tells it.
func (x axial) lapTo() units.Length {
	d, off := x.limits.Bore(x.Bore), x.task.micrometer()
	return units.Min(d.Low.Plus(off).RoundTo(depthStep, units.Up), d.Aim())
}

// lap brings a through bore to its size with abrasive paper on a split dowel, to a plug gauge.
func (x axial) lap(w steps, bored *op.Op, c chucking, from units.Length) steps {
	d, off := x.limits.Bore(x.Bore), x.task.micrometer()
	to := units.Max(x.lapTo(), from)
	bored.Makes = nil
	o := w.add(x.base(c, x.Span).As(x.ID()+"-lap", op.Bore, say.Of("lap the bore to ", to),
		"split dowel and abrasive paper"))
	o.Tool.Hand, o.Push = op.File, op.Cut{Side: true}
	take := to.Minus(from)
	o.Set("speed", say.Text("the lowest"), "the tool well back; the dowel by a handle, never a finger in the bore")
	o.Set("take", take.Up(), "on diameter: the paper wound on a dowel that is slit for its end, with oil, along the bore "+
		"and back without a stop, no further out of either end than half of the paper's width")
	o.Set("depth", x.Span.Length().Plus(practice.Breakthrough.Length()).Up(), "right through, from end to end")
	o.Set("gauge", d.Low.Plus(off).Up(), "is the plug that goes, turned for it and told by micrometer: wash the bore, "+
		"let it cool, and stop when the plug goes through; one of ", d.High.Minus(off).Down(), " must not go in")
	o.Cautions = append(o.Cautions, cautions.Files, cautions.EyeProtection)
	most := practice.LapMost.Length()
	if dial := x.Shop.Lathe.CrossSlide; dial != nil {
		most = most.Plus(dial.Division().Times(2))
	}
	o.Check(problem.NotReachable, take.Cmp(most) <= 0, op.With(take.Up(), "to be lapped off"),
		op.With(most, "at the most"), "a reamer of ", x.Dia)
	o.Minutes = practice.LapMinutes.Number() * take.MM() * 100 * x.Span.Length().MM() / 10 // 0.01 mm, 10 mm
	o.Removed(x.removal(c.out, to, x.Span.Length(), units.Degrees(180)))
	w.needs(say.Of("plug gauge ", d.Low.Plus(off).Up()), say.Of("for the ", x.Dia, " bore, turned for it"), true)
	o.ForeseeTold(d, x.words(), to, off, "lapped to a plug gauge")
	x.made(o)
	return w
}

// beforeBar returns the drill that goes before the boring bar: the largest that leaves enough to
// be measured before the last cut in a hole that a bar on hand enters; else the largest that leaves
// a cut at all in such a hole; else the first of these, or what is nearest under the size.
func (t *task) beforeBar(b outline.Bore, c choice) drills.Drill {
	line := units.Length{}
	if slide := t.Shop.Lathe.CrossSlide; slide != nil {
		line = units.FromFloat(slide.Division().MM() * 2 * practice.LeastLines.Number())
	}
	var best [3]*twist
	for _, x := range slices.Clone(t.twists()) {
		left := b.Dia.Minus(x.hole).Minus(x.told(t.limits.Bore(b)))
		whole, some := practice.LeaveMeasure.Length().Plus(line).Cmp(left) <= 0, line.Cmp(left) <= 0
		enters := len(t.entering(x.hole, b.Span.Length())) > 0
		for i, fits := range []bool{whole && enters, some && enters, whole} {
			if fits && (best[i] == nil || best[i].Dia.Less(x.Dia)) {
				best[i] = &x
			}
		}
	}
	for _, x := range best {
		if x != nil {
			return x.Drill
		}
	}
	return c.Drill
}
