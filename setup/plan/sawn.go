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

// sawnOff returns the ways in which all of the outside is cut with one end out, the
// part is sawn off the bar and its other end is faced, held on each cylinder there is.
// None is where the end that is sawn is too thin to carry the rest.
func (j *job) sawnOff(first part.End) []way {
	var list []way
	if j.thin(other(first)) {
		return nil
	}
	for i := range j.shape.Stretches {
		w := way{first: first, grip: i, sawn: true}
		w.in[1] = j.gripOf(i, op.Collet, op.SoftJaws)
		if w.in[1] != "" && j.reaches(w) {
			list = append(list, w)
		}
	}
	if _, ok := j.filled(); ok {
		if w := (way{first: first, grip: inBore, sawn: true}); j.reaches(w) {
			list = append(list, w)
		}
	}
	return list
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

// spreads has an arbor split and spread in the bore of work that slips on a plain one.
func spreads(o *op.Op, as work.State) {
	held := o.Setup.Held
	bore := as.Bore(held.From + held.Length()/2)
	if o.Setup.Device != op.Arbor || as.Largest(as.Span()).Length().Cmp(practice.ArborAcross.Of(bore.Length())) <= 0 {
		return
	}
	o.Spread = true
	o.Set("arbor", say.Text("spread"), "split, a taper screw in its end: the work slips on a plain one")
}

// failsToPart reports whether it cannot be cut off the bar as it is planned.
func (d *attempt) failsToPart() bool {
	return slices.ContainsFunc(d.ops, func(o *op.Op) bool {
		return o.ID == partingOff && slices.ContainsFunc(o.Checks, func(c op.Check) bool { return !c.OK })
	})
}

// onArbor holds the part by its bore, short of the end that is faced.
func (t *task) onArbor() chucking {
	b, _ := t.filled()
	c := chucking{out: other(t.first)}
	end := inward(op.LenOf(endOf(t.shape, c.out)), op.LenOf(practice.JawClear.Length()), c.out)
	held := behind(end, op.LenOf(t.shape.Length.Minus(practice.JawClear.Length())), c.out)
	c.setup = op.Setup{
		Machine: op.Lathe, Device: t.mandrel(b.Dia), On: op.SurfaceOf(op.Hole, t.shape.Whole(), b.Dia), Held: held,
		Out: c.out,
	}
	c.facing = c.setup
	return c
}
