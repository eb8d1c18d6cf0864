package plan

import (
	"fmt"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// centreWays returns the ways in which the outside is turned between centres: while it is
// a bar both ends are faced, bored and centred close to the jaws; then a dog drives it by
// one end while the other part of it is cut, and it is turned end for end. So many
// stretches as there are choices are cut first; none of the rest is shorter than the dog
// is wide, nor the first end, which carries the dog next: a cylinder without a thread.
func (j *job) centreWays(first part.End) []way {
	lathe := j.Shop.Lathe
	if lathe.Tailstock == nil || lathe.Chuck == nil && lathe.FourJaw == nil {
		return nil
	}
	if slices.ContainsFunc(j.shape.Threads, func(x outline.Thread) bool { return !x.Inside }) && !j.screwCuts() {
		return nil // a die goes on over an end that a centre holds
	}
	all := slices.Clone(j.shape.Stretches)
	if first == part.Right {
		slices.Reverse(all)
	}
	dog := practice.DogWidth.Length()
	if all[0].Kind() != outline.Cylinder || all[0].Thread != nil || all[0].Length().Less(dog) {
		return nil
	}
	var list []way
	for n := range len(all) - 1 {
		rest := all[len(all)-1].To.Minus(all[n+1].From)
		if first == part.Right {
			rest = all[n+1].To.Minus(all[len(all)-1].From)
		}
		w := way{first: first, grip: inDog, barEnds: true, centre: [2]bool{true, true}, split: n + 1, single: true}
		if dog.Cmp(rest) <= 0 && j.reaches(w) {
			list = append(list, w)
		}
	}
	return list
}

// opens reports whether a bore comes out of an end.
func (j *job) opens(end part.End) bool {
	return slices.ContainsFunc(j.shape.Bores, func(b outline.Bore) bool { return b.From == end || b.Through })
}

// dogged returns the chucking between centres with an end out: it is faced, bored and
// centred while it is a bar.
func (t *task) dogged(out part.End, stretches []outline.Stretch) chucking {
	c := chucking{out: out, stretches: slices.Clone(stretches)}
	if out == part.Right {
		slices.Reverse(c.stretches)
	}
	driven := t.stubEnd(other(out))
	c.setup = op.Setup{
		Machine: op.Lathe, Device: op.Centres, On: op.Surface{Shape: op.CentreHoles}, Out: out, Support: op.AtCentre,
		Held: work.Span{From: driven, To: driven},
	}
	if t.opens(out) {
		c.setup.Support = op.AtMouth
	}
	c.facing = t.asBar(out)
	c.axial, c.stub = c.facing, t.stubDia(out)
	return c
}

// stubbed returns the ways in which a longer stub is left for a centre, where something
// fouls while that carries an end that is not bored, or where no centre hole may stay in that.
func (w way) stubbed(d *attempt) []way {
	var list []way
	fouls := d.failsWith(problem.Fouling)
	for i, c := range d.chuckings {
		stays := d.round.Centres == part.RemoveCentres && !d.thin(c.out)
		if (fouls[c.out] || stays) && w.centre[i] && !w.stubs[i] && !d.opens(c.out) {
			next := w
			next.stubs[i] = true
			list = append(list, next)
		}
	}
	return list
}

// carry makes what a centre stands in at an end: its hole, or the mouth of a bore.
func carry(t *task, c chucking) steps {
	switch c.setup.Support {
	case op.AtCentre:
		return centre(t, c)
	case op.AtMouth:
		return mouthFor(t, c)
	}
	return steps{}
}

// mouthFor chamfers the mouth of the widest bore of an end for a centre's nose. That of a
// thread is countersunk wide enough.
func mouthFor(t *task, c chucking) steps {
	var w steps
	n := -1
	for i, b := range t.shape.Bores {
		if (b.From == c.out || b.Through) && (n < 0 || t.shape.Bores[n].Dia.Less(b.Dia)) {
			n = i
		}
	}
	b := t.shape.Bores[n]
	if slices.ContainsFunc(b.Threads, func(x *outline.Thread) bool { return x.From == c.out }) {
		return w
	}
	wide := b.Dia.Plus(practice.CentreSeat.Length().Times(2))
	base := op.Op{
		Setup: c.axial, Feature: op.Feature{Kind: op.Bore, N: n + 1},
		Cuts: t.shape.FromEnd(c.out, practice.CentreSeat.Length()), Axial: true, Dia: b.Dia,
	}
	o := w.add(base.As(fmt.Sprintf("seat-%s", c.out), op.Countersink,
		say.Of("chamfer the mouth of the ", b.Dia, " bore for the centre"), "countersink of 60 deg"))
	o.Set("to", wide, "60 deg, true with the bore: a centre runs in it")
	o.Do = func(as work.State) {
		hole := as.Bore(op.LenOf(endOf(t.shape, c.out)))
		deep := op.LenOf(units.FromFloat((wide.MM() - hole.MM()) / 2 / practice.CentreCone.Angle().Half().Tan()))
		o.Removed(work.Bore{From: c.out, Dia: op.LenOf(wide), EndDia: hole, Depth: deep, Point: 180e6, Opens: true},
			op.CountersinkOK)
	}
	o.Push = op.Cut{Side: true}
	t.cut(o, 1, cutting(feeds.Countersink, wide))
	return w
}
