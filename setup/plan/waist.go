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
// where it nowhere rises past that: else it is turned by its own steps.
func behindLarger(c chucking) []outline.Stretch {
	var list []outline.Stretch
	most := c.stub
	for _, x := range c.stretches {
		outer, least := x.Left.Turned, units.Min(x.Left.Turned, x.Right.Turned)
		if c.out == part.Right {
			outer = x.Right.Turned
		}
		if x.Kind() == outline.Curve {
			if least = x.Large(); least.Cmp(most) <= 0 {
				least = thinnest(x)
			}
		}
		if most = units.Max(most, outer); least.Less(most) {
			list = append(list, x)
		}
		most = units.Max(most, x.Large())
	}
	return list
}

// thinnest returns the least diameter of an arc: at an end, or in its waist.
func thinnest(x outline.Stretch) units.Length {
	least := x.Large()
	for _, side := range flanks(x) {
		least = units.Min(least, units.Min(x.At(side.From).Turned, x.At(side.To).Turned))
	}
	return least
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
			sides := o.Kind == op.Taper || o.Kind == op.Curve
			if sides && o.Setup.Out == c.out && o.Fails(problem.ToolSide, problem.Fouling) {
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
// with e what an edge takes as it grazes, a side, near to the bottom as much as it takes in
// passes. ok is false where the steps would be finer than they are worth.
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
	trail := t.passing(math.Atan2(radius(high)-radius(low), math.Abs(high-low)))
	line := trail.Minus(practice.TrailClear.Angle()).Tan()
	leave, coarse := practice.LeaveWaist.Length().MM()/2, practice.ReadoutStep.Length().MM()
	if d := t.Shop.Lathe.CrossSlide; d != nil { // a step, and what is finished, is set to a line
		coarse = 2 * d.Division().MM()
	}
	grazes := func(far float64) float64 {
		if far < practice.EdgeCuts.Length().MM() {
			return fouling.Grazes(trail).MM() - coarse
		}
		return practice.LeaveTurning.Length().MM()/2 - coarse
	}
	step, floor, way := t.waistStep(), radius(low), math.Copysign(1, high-low)
	for done, all := 0.0, math.Abs(high-low); done < all; {
		most := floor + grazes(done) + done*line - leave
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

// passing returns the trail of the tool that cuts a side of the angle a, which is turned past
// it: of the tools that can be had and pass such a side the one that trails least, and where
// none does the one that trails most.
func (t *task) passing(a float64) units.Angle {
	var best units.Angle
	steep := a + practice.TrailClear.Angle().Rad()
	trails := fouling.GroundTrails()
	for _, x := range fouling.OnHand(t.Shop.Lathe.Tools) {
		trails = append(trails, x.Trail)
	}
	for _, x := range trails {
		passes, passed := steep < x.Rad(), steep < best.Rad()
		less := x.Rad() < best.Rad()
		if passes && (!passed || less) || !passes && !passed && !less {
			best = x
		}
	}
	return best
}

// roughWaists takes the waists of a side down to their steps with a tool that goes straight
// in, in one operation.
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
	slices.SortFunc(list, func(a, b pass) int { return a.over.From.Cmp(b.over.From) })
	blade := t.plunger()
	var groups [][]pass
	for _, g := range apart(list) {
		wide, ok := bladed(g, blade)
		if !ok {
			w.no.Add(problem.New(problem.ToolSide, "", nil, "a waist at z ", g[0].over.From, " is narrower than the blade, ",
				blade))
			return w
		}
		groups = append(groups, wide)
	}
	o := w.add(&op.Op{
		ID: waistRough(c), Kind: op.Turn, Name: say.Of("rough the waist to steps, ", whole), Setup: c.setup,
		Tool: op.Tool{Name: "grooving tool", Hand: op.Form}, Rough: true, Cuts: whole,
	})
	o.Do = func(as work.State) { t.stepped(o, groups, blade, as) }
	return w
}

// plunger returns how wide the tool that goes straight in cuts: all of it, and half in light cuts.
func (t *task) plunger() units.Length {
	if t.light {
		return t.grooving().Half()
	}
	return t.grooving()
}

// apart parts steps, from left to right, where one does not begin at the end of the one before.
func apart(list []pass) (groups [][]pass) {
	for i, x := range list {
		if i == 0 || !x.over.From.Equal(list[i-1].over.To) {
			groups = append(groups, nil)
		}
		n := len(groups) - 1
		groups[n] = append(groups[n], x)
	}
	return groups
}

// bladed returns what a blade of a width leaves of steps that stand side by side, where it
// goes no deeper anywhere than the thickest step under it: at each place the least of what it
// leaves in every stand that covers the place. Between the ends of two steps nothing changes,
// nor between two stands with an edge at the end of one, so that those are all there are. ok
// is false where it does not go in between what is beside the steps.
func bladed(list []pass, blade units.Length) (wide []pass, ok bool) {
	first, last := list[0].over.From, list[len(list)-1].over.To
	var stands []units.Length // the blade's left edge
	var ends []units.Length
	for _, x := range list {
		for _, left := range []units.Length{first, x.over.From, x.over.To.Minus(blade), last.Minus(blade)} {
			if first.Cmp(left) <= 0 && left.Plus(blade).Cmp(last) <= 0 {
				stands, ends = append(stands, left), append(ends, left, left.Plus(blade))
			}
		}
		ends = append(ends, x.over.From, x.over.To)
	}
	if len(stands) == 0 {
		return nil, false
	}
	slices.SortFunc(ends, units.Length.Cmp)
	for i, to := range ends[1:] {
		over := op.Span{From: ends[i], To: to}
		if over.Length().Sign() == 0 {
			continue
		}
		least := downTo(list, stands, blade, over)
		if n := len(wide) - 1; n >= 0 && wide[n].to.Equal(least) {
			wide[n].over.To = to
		} else {
			wide = append(wide, pass{over, least})
		}
	}
	return wide, true
}

// downTo returns how far down a blade goes at a place, in the best of its stands.
func downTo(list []pass, stands []units.Length, blade units.Length, at op.Span) (least units.Length) {
	found := false
	take := func(dia units.Length) {
		if !found || dia.Less(least) {
			least, found = dia, true
		}
	}
	for _, x := range list { // within one step
		if x.over.Covers(at) && blade.Cmp(x.over.Length()) <= 0 {
			take(x.to)
		}
	}
	for _, left := range stands {
		under := op.Span{From: left, To: left.Plus(blade)}
		if !under.Covers(at) {
			continue
		}
		var thickest units.Length
		for _, x := range list {
			if x.over.Overlaps(under) {
				thickest = units.Max(thickest, x.to)
			}
		}
		take(thickest)
	}
	return least
}

// stepped says what each step of the waists is set to, and takes them off.
func (t *task) stepped(o *op.Op, groups [][]pass, blade units.Length, as work.State) {
	start := as.Largest(inWork(o.Cuts)).Length()
	in := cutting(feeds.PartOff, start)
	in.Blade = &blade
	r := t.chosen(o, in)
	count := 0
	for _, list := range groups {
		var profile []work.Point
		for _, x := range list {
			to := t.plunged(o, x, start)
			s := inWork(x.over)
			profile = append(profile, work.Point{Z: s.From, Dia: op.LenOf(to)}, work.Point{Z: s.To, Dia: op.LenOf(to)})
			if to.Less(start) {
				count++
				n := x.over.Length().Steps(blade, units.Up)
				in.Diameter, in.To = start, &to
				o.Minutes += float64(n) * (t.minutes(o, in) + practice.PlungeMinutes.Number())
			}
		}
		o.Removed(work.Outside{Profile: profile, Stage: work.Rough})
	}
	o.Set("steps", sheet.Count(count), "straight in, each to its own diameter, the blade over what is down already")
	o.Set("width a plunge", blade, "at the most")
	o.Set("leave", practice.LeaveWaist.Length(), "on diameter at the thick end of each step, for finishing")
	o.Push = op.Cut{Depth: blade.MM(), Feed: mmPerRev(r)}
}

// plunged sets the cross slide for a step, on a line and never deeper, and returns what comes.
func (t *task) plunged(o *op.Op, x pass, start units.Length) units.Length {
	slide, travel := t.Shop.Lathe.CrossSlide, start.Minus(x.to).Half()
	if slide != nil {
		travel = slide.Division().Times(travel.Steps(slide.Division(), units.Down))
	}
	if travel.Sign() <= 0 {
		return start
	}
	to := predict.Diameter(start, travel)
	o.OnDial(say.Of("to ", to, " over ", x.over), op.CrossSlide, slide, travel,
		"touching the ", start, " that stands there")
	return to
}
