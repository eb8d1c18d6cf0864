package plan

import (
	"math"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
	"setover/tapers/curves"
)

// line says what the cross slide's dial leaves more, where a cut stops at its last line that is
// not too far; "" without one.
func (t *task) line() say.Text {
	d := t.Shop.Lathe.CrossSlide
	if d == nil {
		return ""
	}
	return say.Of(", and up to a line of the dial more, ", d.Division(), ",")
}

// within returns the steps of an arc that lie on one of its sides.
func within(list []curves.Step, x outline.Stretch, side op.Span) []curves.Step {
	var in []curves.Step
	for _, s := range list {
		if z := x.From.Plus(s.At); side.From.Cmp(z) <= 0 && z.Cmp(side.To) <= 0 {
			in = append(in, s)
		}
	}
	return in
}

// place is where one step of an arc is fed to, and the diameter it is cut at. Line is what the
// carriage's dial shows there, from the face of the end that stands out; "" without a dial.
type place struct {
	z, dia, in units.Length
	line       say.Text
}

// arc puts a side of an arc on the card, step by step, and takes it off the work: what is left
// when the cusps are filed is the arc. The steps are cut from the large end down, each fed from
// the small end to its place, so that none takes more than what it goes deeper than the one
// before, and no bite more than a finishing cut. With L the mean of those lengths, m bites to n
// places take
//
//	m·(time of L, there and back) + n·(time to set a place)
func (t *task) arc(o *op.Op, c chucking, x outline.Stretch, side op.Span, all curves.Result, as work.State) {
	start, slide := as.Largest(inWork(side)).Length(), t.Shop.Lathe.CrossSlide
	list := t.places(c.out, x, side, all, start)
	large, small := side.From, side.To
	if x.At(large).Turned.Less(x.At(small).Turned) {
		large, small = small, large
	}
	o.Set("steps", sheet.Count(len(list)), "leaving cusps of ", t.left(x, side, all, list).Up(), t.line(),
		" to file and polish")
	o.Set("from z", large, "the large end, down to z ", small,
		": each is wound in to its diameter at z ", small, ", or just clear of it, fed to its z, and drawn out there")
	o.Set("point", say.Text("sharp"), "its corner stands at each position; with a rounded nose touch the face with its ",
		"side for z and the work with its tip for the diameter: counted from the middle of the round it cuts below the arc")
	face := say.Of("counted from the ", c.out, " face")
	switch lathe := t.Shop.Lathe; {
	case lathe.Carriage != nil:
		o.Set("carriage", say.Text("by dial"), face, ": its line stands with each position")
	case lathe.Readout:
		o.Set("carriage", say.Text("by readout"), face)
	default:
		o.Set("carriage", say.Text("by measuring"), face, ", with a rule or to a stop: no dial of it is known ",
			"(lathe: carriage)")
	}
	t.chosen(o, finishing(x.Large(), side.Length()))
	depth := t.finishDepth()
	why := say.Text("")
	if t.light {
		why = "; it springs under more"
	}
	o.Set("depth a pass", depth, "a side: a position that lies deeper than that under the one before is come to ",
		"in bites", why)
	fed, cuts, from := 0.0, 0.0, say.Of("touching the work ", asCut(o.Before))
	var before units.Length
	for _, p := range list {
		what := say.Of("to ", p.dia, " at z ", p.z, ", ", fromEnd(t.shape, c.out, p.z).Plus(t.stub(c.out)), " from the face")
		if p.line != "" {
			what += ", carriage " + p.line
		}
		o.ShortOnDial(what+", from the work "+asCut(o.Before), op.CrossSlide, slide, p.in, from)
		bites := max(1, float64(p.in.Minus(before).Steps(depth, units.Up)))
		fed, before = fed+bites*p.z.Minus(small).Abs().MM(), p.in
		cuts += bites
	}
	mean := units.FromFloat(fed / cuts)
	o.Minutes += cuts*t.minutes(o, finishing(x.Large(), mean)) + float64(len(list))*practice.PlaceMinutes.Number()
	if side.To.Equal(x.To) {
		o.Foresee(t.limits.TaperEnd(x, part.Right), say.Of("right end of the arc, ", x.Span),
			units.Min(start, x.Right.Turned), byFiling)
	}
	o.Removed(work.Outside{Profile: drawn(x, side), Stage: work.Finished})
	o.Push = t.finishPush()
}

// places returns the steps of a side of an arc in the order they are cut: those that the dials
// tell from the one before.
func (t *task) places(out part.End, x outline.Stretch, side op.Span, all curves.Result, start units.Length) []place {
	steps, slide := within(all.Steps, x, side), t.Shop.Lathe.CrossSlide
	slices.SortStableFunc(steps, func(a, b curves.Step) int { return b.Dia.Cmp(a.Dia) })
	var list []place
	var before *units.Length
	for _, s := range steps {
		p := place{z: x.From.Plus(s.At), dia: s.Dia}
		if d := t.Shop.Lathe.Carriage; d != nil {
			p = t.carried(out, x, side, p)
		}
		p.in = units.Max(start.Minus(p.dia).Half(), units.Length{})
		set := p.in
		if slide != nil {
			line, _ := slide.Short(p.in)
			set = line.Set
		}
		if before == nil || !set.Equal(*before) {
			list, before = append(list, p), &set
		}
	}
	return list
}

// carried moves a place to the carriage's nearest line on its side of the arc, where there is one:
// it is cut at the diameter that the arc has there.
func (t *task) carried(out part.End, x outline.Stretch, side op.Span, p place) place {
	dial, stub := t.Shop.Lathe.Carriage, t.stub(out)
	exact := fromEnd(t.shape, out, p.z).Plus(stub)
	near, _ := dial.Set(exact)
	for _, try := range []units.Length{near.Set, near.Set.Plus(dial.Division()), near.Set.Minus(dial.Division())} {
		z := fromEnd(t.shape, out, try.Minus(stub))
		if side.From.Cmp(z) <= 0 && z.Cmp(side.To) <= 0 {
			_, turns := dial.Set(try)
			return place{z: z, dia: x.At(z).Turned, line: say.Text(turns.String())}
		}
	}
	return place{z: p.z, dia: p.dia, line: "between two lines"}
}

// left returns the highest cusp that the steps of a side leave: that of the steps, or where the
// carriage's dial moves them the highest corner between two, which has the diameter of the one and
// the place of the next, and that of the last at the small end.
func (t *task) left(x outline.Stretch, side op.Span, all curves.Result, list []place) units.Length {
	most := all.Cusp
	if t.Shop.Lathe.Carriage == nil {
		return most
	}
	small := side.To
	if x.At(side.From).Turned.Less(x.At(side.To).Turned) {
		small = side.From
	}
	for i, p := range list {
		z := small
		if i+1 < len(list) {
			z = list[i+1].z
		}
		off := math.Hypot(z.MM()-x.Arc.Z, p.dia.MM()/2-x.Arc.R) - x.Arc.Radius.MM()
		most = units.Max(most, units.FromFloat(math.Abs(off)))
	}
	return most
}
