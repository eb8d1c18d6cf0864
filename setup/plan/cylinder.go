package plan

import (
	"fmt"
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
)

// What a cylinder is brought to its size by: the dial of the cross slide, or a file and abrasive
// paper to the micrometer.

// micrometer returns how far a diameter may be off that is measured, either way, in the unit that the
// lathe counts in.
//
// Source: the row micrometer-error of practice.
func (j *job) micrometer() units.Length {
	if slide := j.Shop.Lathe.CrossSlide; slide != nil {
		return practice.MicrometerError.Length(slide.Unit)
	}
	return practice.MicrometerError.Length(j.Shop.Units)
}

// readTo returns how far a diameter may be off what is told of it, either way, that is measured and
// then cut on the cross slide: by the micrometer e, and where there is a dial by half a division of
// it, of which an eye loses the part q where the work is touched and again where the line is set:
//
//	e + 2·(2·q·division)
//
// The slide travels on the radius, which is why it counts twice. A readout counts in its own step.
//
// Source: the rows micrometer-error and eye-part of practice.
func (j *job) readTo() units.Length {
	slide := j.Shop.Lathe.CrossSlide
	if slide == nil {
		return j.micrometer()
	}
	step := slide.Division()
	if j.Shop.Lathe.Readout {
		step = units.Min(step, practice.ReadoutStep.Length())
	}
	return j.micrometer().Plus(practice.EyePart.Of(step.Times(4)))
}

// kept is a diameter that a cylinder must keep, or the blank of its thread, and what it is called.
type kept struct {
	limits.Dimension
	words say.Text
}

// sizesOver returns the diameters of the stretches that are turned as one.
func (t *task) sizesOver(x outline.Stretch) (list []kept) {
	for _, y := range t.shape.Over(x.Span) {
		d := kept{t.limits.Outside(y), say.Of("diameter ", y.Left.Turned, ", ", y.Span)}
		if d.From, d.To = t.unrelieved(y); d.To.Cmp(d.From) <= 0 {
			continue
		}
		if left := (op.Span{From: d.From, To: d.To}); left != y.Span { // the rest is a thread's relief
			d.words = say.Of("diameter ", y.Left.Turned, ", ", left)
		}
		if y.Thread != nil {
			d = kept{t.limits.ThreadBlank(*y.Thread), say.Of("thread blank, ", y.Span)}
		}
		if d.Known() {
			list = append(list, d)
		}
	}
	return list
}

// keep reports whether all of them are kept by a diameter that may be off so far either way.
func keep(list []kept, out, off units.Length) bool {
	for _, d := range list {
		if !d.Holds(out.Minus(off)) || !d.Holds(out.Plus(off)) {
			return false
		}
	}
	return true
}

// aim returns the size to work to where the drawn one is not kept: the middle of what all of them
// allow, in whole thousandths of a millimetre.
func aim(list []kept, drawn units.Length) units.Length {
	return middleOf(list, drawn).RoundTo(depthStep, units.Nearest)
}

// middleOf returns the middle of what all of them allow, what is drawn where there are none.
func middleOf(list []kept, drawn units.Length) units.Length {
	if len(list) == 0 {
		return drawn
	}
	low, high := list[0].Low, list[0].High
	for _, d := range list[1:] {
		low, high = units.Max(low, d.Low), units.Min(high, d.High)
	}
	return low.Plus(high).Half()
}

// lastCut is how the last cut of a cylinder is set: to what, and on which line.
type lastCut struct {
	to    units.Length // what is aimed at
	short bool         // the last line that is not past it, else the nearest
	why   say.Text
}

// lastCut returns how the last cut from a diameter is set: to what is drawn, on the last line that
// is not past it, so that nothing is cut below it; where that, as it is told, is not kept, on the
// nearest line; and then the same to the middle of what is allowed. Where none keeps it, on the
// line that is nearest to the middle.
func (t *task) lastCut(list []kept, start, drawn units.Length) lastCut {
	slide := t.Shop.Lathe.CrossSlide
	off, middle := t.readTo(), aim(list, drawn)
	if slide == nil {
		if to := drawn; keep(list, to, off) {
			return lastCut{to, false, byMeasuring}
		}
		return lastCut{middle, false, byMeasuring}
	}
	for _, to := range []units.Length{drawn, middle} {
		for _, short := range []bool{true, false} {
			set := slide.Set
			if short {
				set = slide.Short
			}
			in := units.Max(start.Minus(to).Half(), units.Length{})
			if line, _ := set(in); keep(list, predict.Diameter(start, line.Set), off) {
				return lastCut{to, short, lineWhy(short)}
			}
		}
	}
	return lastCut{middle, false, byCrossSlide}
}

// lineWhy says what a size is owed to that is set on a line.
func lineWhy(short bool) say.Text {
	if short {
		return byShortLine
	}
	return byCrossSlide
}

// set sets the last cut on the dial and returns its travel.
func (l lastCut) set(o *op.Op, what say.Text, slide *shop.Dial, start units.Length) units.Length {
	exact := start.Minus(l.to).Half()
	if l.short && exact.Sign() >= 0 {
		return o.ShortOnDial(what, op.CrossSlide, slide, exact, "touching the work")
	}
	return o.OnDial(what, op.CrossSlide, slide, exact, "touching the work")
}

// mostTurned returns how large a cylinder may come out: a line of the dial over what it is turned to.
func (t *task) mostTurned(x outline.Stretch) units.Length {
	d := turnedTo(x)
	if slide := t.Shop.Lathe.CrossSlide; slide != nil && !t.asBought(x) {
		d = d.Plus(slide.Division().Times(2))
	}
	return d
}

// byHandToo reports whether a cylinder may come out beyond its limits by the dial, whichever line is
// the one: with the nearest to the middle a division of travel either way is a division less half on
// the radius, so half its width is no less than a division and what it is told to.
func (t *task) byHandToo(list []kept) bool {
	slide := t.Shop.Lathe.CrossSlide
	if slide == nil {
		return false
	}
	for _, d := range list {
		if d.Width().Half().Less(slide.Division().Plus(t.readTo())) {
			return true
		}
	}
	return false
}

// polishTo returns what a cylinder is filed and polished to: what is drawn where that keeps all of
// them as a micrometer tells it, else the middle of what they allow, round where that keeps them.
func (t *task) polishTo(list []kept, drawn units.Length) units.Length {
	for _, to := range []units.Length{drawn, aim(list, drawn)} {
		if keep(list, to, t.micrometer()) {
			return to
		}
	}
	return middleOf(list, drawn)
}

// filedCut returns how the cut is set that leaves a cylinder to be filed: on the last line that as it
// is told, and as the micrometer is, does not take it under any of its low limits.
func (t *task) filedCut(list []kept, start units.Length) lastCut {
	return lastCut{t.forTheFile(list), true, byShortLine}
}

// forTheFile returns what a cut is set to at the least over a cylinder that is filed to its size later.
func (t *task) forTheFile(list []kept) units.Length {
	var low units.Length
	for _, d := range list {
		low = units.Max(low, d.Low)
	}
	return low.Plus(t.readTo()).Plus(t.micrometer())
}

// overFiled returns what a stretch is finished to at the least, since its cut runs in over what is filed to its size
// later; 0 where it does not.
func (t *task) overFiled(c chucking, x outline.Stretch, to units.Length) (least units.Length) {
	run := t.entered(c, x, to)
	for _, y := range c.stretches {
		if y.Overlaps(x.Span) {
			break
		}
		s, list := inWork(y.Span), t.sizesOver(y)
		over := y.Kind() == outline.Cylinder && s.From >= run.From && s.To <= run.To
		if over && t.byHandToo(list) && t.method(y.ID(), bothMethods) == 1 {
			least = units.Max(least, t.forTheFile(list))
		}
	}
	return least
}

// bothMethods is how many ways a cylinder is finished by: the dial, and the file after it.
const bothMethods = 2

// leaves says how much a cylinder is left larger for the file and the paper, which is no more than
// they take beside a line of the dial.
//
// Source: the row leave-polish of practice.
func (t *task) leaves(o *op.Op, leave units.Length) {
	o.Set("leave", leave, "on diameter, for the file and the paper")
	most := practice.LeavePolish.Length().Plus(t.micrometer())
	if slide := t.Shop.Lathe.CrossSlide; slide != nil {
		most = most.Plus(slide.Division().Times(2))
	}
	o.Check(problem.NotReachable, leave.Cmp(most) <= 0, op.With(leave.Up(), "to be filed off"),
		op.With(most, "at the most"), "a wider limit, or a finer dial")
}

// reads says what a micrometer that is off by so much has to show for limits to be kept: from here
// to there; the middle where that leaves less than it is off by.
func reads(o *op.Op, low, high, off units.Length) {
	const how say.Text = "by micrometer, cold, all along"
	least, most := low.Plus(off), high.Minus(off)
	from, to := units.Inward(low, high)
	keeps := say.Of("that keeps ", from, " to ", to, " with a reading that is ", off, " off")
	if most.Minus(least).Less(off) {
		o.Set("measure", low.Plus(high).Half().Nearest(), how, ", as near as it can be read: ", keeps)
		return
	}
	first, last := units.Inward(least, most)
	o.Set("measure", first, "to ", last, " ", how, ": ", keeps)
}

// polished files and polishes a cylinder that the tool has left a little on to its size, measured
// by micrometer.
func polished(t *task, c chucking, x outline.Stretch) steps {
	var w steps
	list, off := t.sizesOver(x), t.micrometer()
	to := t.polishTo(list, turnedTo(x))
	o := w.add(&op.Op{
		ID: fmt.Sprintf("polish-z%s", x.From.Decimal()), Kind: op.Turn, Setup: c.setup,
		Tool: op.Tool{Name: "file and abrasive paper", Hand: op.File},
		Name: say.Of("file and polish to ", to, " over ", x.Span), Leaves: cylinder(x), Cuts: x.Span, Dia: to,
		Makes: t.idsOver(x.Span), Ends: [2]op.Len{op.LenOf(to), op.LenOf(to)},
	})
	o.Do = func(as work.State) {
		start := as.Largest(inWork(x.Span)).Length()
		out := units.Min(to, start)
		o.Set("speed", say.Text("as turned"), "the tool well back")
		o.Set("take", start.Minus(out), "on diameter: the file takes what stands high, and the paper, backed by the file "+
			"or a flat stick, the rest")
		for i, d := range list {
			alike := func(e kept) bool { return e.Low.Equal(d.Low) && e.High.Equal(d.High) }
			if !slices.ContainsFunc(list[:i], alike) { // of stretches that are cut as one
				reads(o, d.Low, d.High, off)
			}
		}
		o.Cautions = append(o.Cautions, cautions.Files, cautions.EyeProtection)
		o.Removed(work.Turned(inWork(x.Span), op.LenOf(out), work.Finished))
		area := math.Pi * out.MM() * x.Length().MM() / 100                              // cm2
		o.Minutes = practice.PolishMinutes.Number() * area * start.Minus(out).MM() * 10 // 0.1 mm
		for _, d := range list {
			o.ForeseeTold(d.Dimension, d.words, out, off, byPolishing)
		}
	}
	return w
}
