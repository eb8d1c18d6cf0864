package plan

import (
	"math"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
	"setover/tapers/fouling"
)

// A waist is what lies behind something larger, seen from the end that stands out, and is
// no plain cylinder: two tapers that meet in a valley, the groove of a belt, a neck that
// tapers. Roughing from the end does not get there, and no tool with a hand cuts one side of
// it while the other still stands. A tool that goes straight in roughs it to steps, so low
// that a finishing tool's trailing edge passes over them.

// waistRough names the roughing of the waists of a side.
func waistRough(c chucking) string { return "rough-waist-" + string(c.out) }

// behindLarger returns the stretches of a chucking that dip behind something larger, an arc
// where all of it does: where it rises past that it is turned by its own steps.
func behindLarger(c chucking) []outline.Stretch {
	var list []outline.Stretch
	most := c.stub
	for _, x := range c.stretches {
		outer, least := x.Left.Turned, units.Min(x.Left.Turned, x.Right.Turned)
		if c.out == part.Right {
			outer = x.Right.Turned
		}
		if x.Kind() == outline.Curve {
			least = x.Large()
		}
		if most = units.Max(most, outer); least.Less(most) {
			list = append(list, x)
		}
		most = units.Max(most, x.Large())
	}
	return list
}

// waisted reports whether a chucking has a waist.
func waisted(c chucking) bool {
	for _, x := range behindLarger(c) {
		if x.Kind() != outline.Cylinder {
			return true
		}
	}
	return false
}

// waists returns the way in which the waists are roughed to steps, where a tool with a hand
// does not get at one.
func (w way) waists(d *attempt) []way {
	if w.waist {
		return nil
	}
	for _, c := range d.chuckings {
		if !waisted(c) {
			continue
		}
		for _, o := range d.ops {
			if o.Setup.Out == c.out && (o.Kind == op.Taper || o.Kind == op.Curve) &&
				slices.ContainsFunc(o.Checks, func(c op.Check) bool {
					return !c.OK && (c.Code == problem.ToolSide || c.Code == problem.Fouling)
				}) {
				w.waist = true
				return []way{w}
			}
		}
	}
	return nil
}

// waistSteps returns a waist's stretch as it is roughed to steps, each a cylinder. With r0 the
// least radius of a side that only rises, and t the distance from there, a step from t to u is
// as thick as the drawing at u and what is left for finishing, and at its near corner it may
// stand above r0 by
//
//	e + t·tan(trail - 2 deg)
//
// with e what an edge takes as it grazes: what roughing leaves, a side. ok is false where the
// steps would be finer than they are worth.
func (t *task) waistSteps(x outline.Stretch) (list []pass, ok bool) {
	sides := []op.Span{x.Span}
	switch x.Kind() {
	case outline.Cylinder:
		return []pass{{x.Span, roughSize(x)}}, true
	case outline.Curve:
		sides = flanks(x)
	}
	for _, f := range sides {
		up, ok := t.flankSteps(x, f)
		if !ok {
			return nil, false
		}
		list = append(list, up...)
	}
	return list, true
}

// flankSteps returns the steps of one side, from its thin end up.
func (t *task) flankSteps(x outline.Stretch, side op.Span) (list []pass, ok bool) {
	low, high := side.From.MM(), side.To.MM()
	radius := func(z float64) float64 { return x.At(units.FromFloat(z)).Turned.MM() / 2 }
	if radius(high) < radius(low) {
		low, high = high, low
	}
	line := t.edgeLine(math.Atan2(radius(high)-radius(low), math.Abs(high-low)))
	leave, grazes := practice.LeaveWaist.Length().MM()/2, practice.LeaveTurning.Length().MM()/2
	if d := t.Shop.Lathe.CrossSlide; d != nil { // a step is set to a line, on the safe side
		grazes -= d.Division().MM()
	}
	step, floor, way := t.waistStep(), radius(low), math.Copysign(1, high-low)
	for done, all := 0.0, math.Abs(high-low); done < all; {
		most := floor + grazes + done*line - leave
		to := farthest(done, all, func(u float64) bool { return radius(low+way*u) <= most })
		if to < all {
			if to = math.Floor(to/step) * step; to-done < step/2 || len(list) >= int(practice.WaistSteps.Number()) {
				return nil, false
			}
		}
		a, b := units.FromFloat(low+way*done), units.FromFloat(low+way*to)
		over := op.Span{From: units.Min(a, b), To: units.Max(a, b)}
		list = append(list, pass{over, units.FromFloat(2 * (radius(low+way*to) + leave))})
		done = to
	}
	return list, true
}

// waistStep returns what the lengths of a waist's steps are counted in, in mm.
func (t *task) waistStep() float64 {
	if t.Shop.Units == units.Inch {
		return practice.WaistStep.Length(units.Inch).MM()
	}
	return practice.WaistStep.Length(units.MM).MM()
}

// farthest returns how far from one place toward another something holds that holds up to
// there and then no more, to a micrometre.
func farthest(from, to float64, holds func(float64) bool) float64 {
	if holds(to) {
		return to
	}
	const fine = 0.001 // mm
	for to-from > fine {
		if mid := (from + to) / 2; holds(mid) {
			from = mid
		} else {
			to = mid
		}
	}
	return from
}

// edgeLine returns the slope of the line that the work must stay under behind a tool that
// cuts a side of the angle a, which is turned past it: of the tools on hand that pass such a
// side the one that trails least.
func (t *task) edgeLine(a float64) float64 {
	best := 0.0
	for _, x := range fouling.OnHand(t.Shop.Lathe.Tools) {
		line := x.Trail.Minus(practice.TrailClear.Angle()).Tan()
		switch passes, passed := line > math.Tan(a), best > math.Tan(a); {
		case passes && passed:
			best = min(best, line)
		case passes || !passed:
			best = max(best, line)
		}
	}
	return best
}

// roughWaists takes the waists of a side down to their steps with a tool that goes straight
// in, in one operation. Without one it is nil.
func roughWaists(t *task, c chucking) steps {
	var w steps
	var list []pass
	var whole op.Span
	for _, x := range behindLarger(c) {
		more, ok := t.waistSteps(x)
		if !ok {
			w.no.Add(problem.New(problem.ToolSide, "", nil, "the waist ", x.Span, " is too steep to be roughed to steps"))
			return w
		}
		if list = append(list, more...); whole == (op.Span{}) {
			whole = x.Span
		}
		whole = spanning(whole, x.Span)
	}
	o := w.add(&op.Op{
		ID: waistRough(c), Kind: op.Turn, Name: say.Of("rough the waist to steps, ", whole), Setup: c.setup,
		Tool: op.Tool{Name: "grooving tool", Hand: op.Form}, Rough: true, Cuts: whole,
	})
	slices.SortFunc(list, func(a, b pass) int { return a.over.From.Cmp(b.over.From) })
	o.Do = func(as work.State) { t.stepped(o, list, as) }
	return w
}

// stepped says what each step of a waist is set to, and takes it off.
func (t *task) stepped(o *op.Op, list []pass, as work.State) {
	slide := t.Shop.Lathe.CrossSlide
	blade := practice.Kerf.Length()
	if p := t.Shop.Parting; p != nil {
		blade = p.Blade
	}
	if t.light {
		blade = blade.Half()
	}
	start := as.Largest(inWork(o.Cuts)).Length()
	in := cutting(feeds.PartOff, start)
	in.Blade = &blade
	r := t.chosen(o, in)
	var profile []work.Point
	for _, x := range list {
		travel := start.Minus(x.to).Half()
		if slide != nil { // on a line, and never deeper
			travel = slide.Division().Times(travel.Steps(slide.Division(), units.Down))
		}
		if travel.Sign() <= 0 {
			continue
		}
		to := predict.Diameter(start, travel)
		o.OnDial(say.Of("to ", to, " over ", x.over), op.CrossSlide, slide, travel, "touching what stands before it")
		s := inWork(x.over)
		profile = append(profile, work.Point{Z: s.From, Dia: op.LenOf(to)}, work.Point{Z: s.To, Dia: op.LenOf(to)})
		n := x.over.Length().Steps(blade, units.Up)
		in.Diameter, in.To = start, &to
		o.Minutes += float64(n) * t.minutes(o, in)
	}
	o.Set("steps", sheet.Count(len(profile)/2), "straight in, a blade's width beside the last, each to its own diameter")
	o.Set("width a plunge", blade, "at the most")
	o.Set("leave", practice.LeaveWaist.Length(), "on diameter at the thick end of each step, for finishing")
	o.Push = op.Cut{Depth: blade.MM(), Feed: mmPerRev(r)}
	if len(profile) > 0 {
		o.Removed(work.Outside{Profile: profile, Stage: work.Rough})
	}
}
