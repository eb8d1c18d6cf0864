package plan

import (
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// blindArbors returns the ways in which the part is held by a blind bore of the first end, on a stub
// arbor that is turned for it, when it is turned end for end or, where nothing starts there, sawn off.
// They are tried where none of the last resorts passes: no axis is lost, but nothing but its fit holds
// it, so the cuts are light.
func (j *job) blindArbors() []way {
	var list []way
	for _, b := range j.shape.Bores {
		if !j.stubFills(b) {
			continue
		}
		all := slices.Clone(j.shape.Stretches)
		if b.From == part.Right {
			slices.Reverse(all)
		}
		w := way{first: b.From, grip: inBore, blind: b.N, light: true, split: widest(all)}
		if j.reaches(w) {
			list = append(list, w)
		}
		if w.split, w.sawn = 0, true; j.startsAll(w.first) && j.reaches(w) {
			list = append(list, w)
		}
	}
	return list
}

// stubFills reports whether a stub arbor fills a bore: a blind one, the widest of its end, without
// a thread, no thinner than a stub, and as deep as what is held by nothing but its fit must be.
func (j *job) stubFills(b outline.Bore) bool {
	lathe := j.Shop.Lathe
	if lathe.Tailstock == nil || lathe.Chuck == nil || b.Through || len(b.Threads) > 0 ||
		b.Dia.Less(practice.StubDia.Length()) {
		return false
	}
	wider := func(o outline.Bore) bool { return b.Dia.Less(o.Dia) && (o.Through || o.From == b.From) }
	need := units.Max(practice.GripLeast.Length(), practice.GripThread.Of(b.Dia))
	return !slices.ContainsFunc(j.shape.Bores, wider) &&
		need.Plus(practice.JawClear.Length()).Cmp(b.Span.Length()) <= 0
}

// carrier returns the bore that the part is held by on a mandrel or an arbor in this way.
func (t *task) carrier() (b outline.Bore, ok bool) {
	switch {
	case t.grip != inBore:
		return b, false
	case t.blind > 0:
		return t.shape.Bores[t.blind-1], true
	}
	return t.filled()
}

// insideWays returns the ways in which the part is held from within when it is turned
// end for end: by a bore that is through, on a mandrel or an arbor, or by an inside
// thread of the first end, on a threaded stub. What lies beyond its largest diameter is
// cut then; the rest is cut in the first grip.
func (j *job) insideWays(first part.End) []way {
	var list []way
	add := func(grip int) {
		all := slices.Clone(j.shape.Stretches)
		if first == part.Right {
			slices.Reverse(all)
		}
		w := way{first: first, grip: grip, split: widest(all)}
		if j.reaches(w) {
			list = append(list, w)
		}
	}
	if _, ok := j.filled(); ok {
		add(inBore)
	}
	for i, x := range j.shape.Threads {
		if j.screwsOn(x, first) {
			add(onScrew - i)
		}
	}
	return list
}

// screwsOn reports whether a threaded stub holds the part by a thread: one inside the
// end that is cut first, with enough of it.
func (j *job) screwsOn(x outline.Thread, first part.End) bool {
	return x.Inside && x.From == first && j.Shop.Lathe.Tailstock != nil &&
		j.leastGrip(op.ThreadedStub, x.Designation.Major).Cmp(x.Length) <= 0
}

// onStub holds the part by an inside thread, screwed up to its end.
func (t *task) onStub() chucking {
	n, _ := t.screw()
	x := t.shape.Threads[n]
	c := chucking{out: other(t.first), stretches: slices.Clone(t.far)}
	if c.out == part.Right {
		slices.Reverse(c.stretches)
	}
	c.setup = op.Setup{
		Machine: op.Lathe, Device: op.ThreadedStub, On: op.SurfaceOf(op.Hole, x.Span, x.Designation.Major),
		Held: inWork(x.Span), Out: c.out,
	}
	c.facing = c.setup
	return c
}

// filled returns the bore that a mandrel or an arbor goes through: the widest of
// those that are through and have no thread, where it is all of one size.
func (j *job) filled() (best outline.Bore, ok bool) {
	if j.Shop.Lathe.Tailstock == nil { // nothing is drilled
		return best, false
	}
	for _, b := range j.shape.Bores {
		if b.Through && len(b.Threads) == 0 && best.Dia.Less(b.Dia) {
			best, ok = b, true
		}
	}
	wider := func(b outline.Bore) bool { return best.Dia.Less(b.Dia) }
	return best, ok && !slices.ContainsFunc(j.shape.Bores, wider)
}

// fills reports whether a bore that is through is made before the part is held by a bore: a tool that
// comes out of it would meet the mandrel or the arbor.
func (t *task) fills(b outline.Bore) bool { return t.grip == inBore && b.Through }

// mandrel returns the device that fills a bore: a mandrel that is owned, or an arbor
// that is turned for it.
func (j *job) mandrel(bore units.Length) op.Device {
	if practice.ArborAcross.Of(bore.Minus(practice.MandrelFit.Length())).Less(j.bar) {
		return op.Arbor // it slips on one
	}
	for _, m := range j.Shop.Lathe.Mandrels {
		if m.Minus(bore).Abs().Cmp(practice.MandrelFit.Length()) <= 0 {
			return op.Mandrel
		}
	}
	return op.Arbor
}

// onArbor holds the part by its bore, short of the end that is faced, or of a blind one short of
// its floor.
func (t *task) onArbor() chucking {
	b, _ := t.carrier()
	c := chucking{out: other(t.first), stretches: slices.Clone(t.far)}
	if c.out == part.Right {
		slices.Reverse(c.stretches)
	}
	device, in := t.mandrel(b.Dia), t.shape.Whole()
	if !b.Through {
		device, in = op.Arbor, b.Span
	}
	inner := in.To
	if c.out == part.Left {
		inner = in.From
	}
	clear := practice.JawClear.Length()
	held := behind(inward(op.LenOf(inner), op.LenOf(clear), c.out), op.LenOf(in.Length().Minus(clear)), c.out)
	c.setup = op.Setup{
		Machine: op.Lathe, Device: device, On: op.SurfaceOf(op.Hole, in, b.Dia), Held: held, Out: c.out,
	}
	c.facing = c.setup
	return c
}

// spreads has an arbor split and spread in the bore of work that slips on a plain one.
func spreads(o *op.Op, as work.State) {
	held := o.Setup.Held
	bore := as.Bore(held.From + held.Length()/2)
	blind := o.Setup.On.From > 0 || o.Setup.On.To < as.Length // nothing gets at the screw in its end
	plain := as.Largest(as.Span()).Length().Cmp(practice.ArborAcross.Of(bore.Length())) <= 0
	if blind || plain || o.Setup.Device != op.Arbor {
		return
	}
	o.Spread = true
	o.Set("arbor", say.Text("spread"), "split, a taper screw in its end: the work slips on a plain one")
}
