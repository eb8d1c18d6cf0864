package certify

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"setover/feeds/stiffness"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// outerCut returns where along z an operation cuts the outside, its ends or
// across it.
func (k *checker) outerCut() (work.Span, bool) {
	return k.cutOf(func(r work.Removal) bool {
		switch r := r.(type) {
		case work.Bore, work.Centre:
			return false
		case work.Thread:
			return !r.Inside
		}
		return true
	})
}

// cutAlong returns where along z an operation cuts.
func (k *checker) cutAlong() (work.Span, bool) {
	return k.cutOf(func(work.Removal) bool { return true })
}

// cutOf returns the span of what an operation takes off, of those removals that
// are meant: of the outside only where there is metal to cut, of an end that is
// cut off only the kerf.
func (k *checker) cutOf(meant func(work.Removal) bool) (s work.Span, ok bool) {
	add := func(t work.Span) {
		if !ok {
			s, ok = t, true
			return
		}
		s = work.Span{From: min(s.From, t.From), To: max(s.To, t.To)}
	}
	for _, r := range k.Op.Removes {
		if !meant(r) {
			continue
		}
		switch r := r.(type) {
		case work.Outside:
			for _, c := range k.cuts {
				if t := c.Meet(r.Span(k.Before)); t.Length() > 0 {
					add(t)
				}
			}
		case work.EndCut:
			add(k.endCut(r))
		default:
			add(r.Span(k.Before))
		}
	}
	return s, ok
}

// endCut returns where an end is cut away: all of it where it is faced, the kerf
// where it comes off in one piece.
func (k *checker) endCut(r work.EndCut) work.Span {
	if k.Op.Kind != op.PartOff && k.Op.Kind != op.Saw {
		return r.Span(k.Before)
	}
	return beyond(r.Z, r.End, k.kerf()).Meet(r.Span(k.Before))
}

// kerf returns the width of the parting blade, 0 where there is none.
func (k *checker) kerf() work.Len {
	if k.Shop.Parting == nil {
		return 0
	}
	return op.LenOf(k.Shop.Parting.Blade)
}

// reach returns how far the far end of the cut stands out of the jaws.
func (k *checker) reach() work.Len {
	s := k.Op.Setup
	cut, ok := k.cutAlong()
	if !ok {
		return away(k.Before.Reach(s.Out), s.Face(), s.Out)
	}
	return away(far(cut, s.Out), s.Face(), s.Out)
}

// onArbor reports whether a device carries the work by its bore.
func onArbor(d op.Device) bool { return d == op.Mandrel || d == op.Arbor || d == op.ThreadedStub }

// root returns where the work is built in: the jaws' face; on a mandrel, an
// arbor or a stub the jaws that hold those, clear of its end at the headstock;
// between centres that end's centre.
func (k *checker) root() work.Len {
	s := k.Op.Setup
	switch s.Device {
	case op.Mandrel, op.Arbor, op.ThreadedStub:
		return far(beyond(near(s.Held, s.Out), other(s.Out), k.jawClear), other(s.Out))
	case op.Centres:
		return k.Before.Reach(other(s.Out))
	}
	return s.Face()
}

// carries reports whether a device holds the work so that it can spring.
func carries(d op.Device) bool { return d.Jaws() || onArbor(d) || d == op.Centres }

// overhang: measured from the jaws to the far end of the cut, the work springs
// no more than the cut may, and nothing stands out further than 10 d without
// support. While it is parted off all that hangs out is looked at, to its end.
//
// The work is a beam of steps as the cut leaves it, which is weaker than what it
// found; where the cut takes an end away it is the work as it was. A polygon
// counts by its core, the circle that its flats touch, a bore as if its widest
// went all along, a point as thick as twice the depth of the cut: under that the
// tool has all that is there. A mandrel, an arbor or a stub is what bends as far
// as it reaches into the work, which is slid on and makes it no stiffer.
//
// The force is the radial part of the cut's, of a milling cut's that of the mean
// force at the cutter's rim, or 20 N aside in facing, centring
// and drilling. A finishing cut may spring so that twice of it is within a
// quarter of the width of the limits of what it makes, the closest of them; a
// roughing cut by 0.25 mm; 0.1 mm aside. Where a half angle has limits the two ends of the
// taper may spring so differently that it is within a quarter of their width too.
func overhang(k *checker) {
	s := k.Op.Setup
	if !carries(s.Device) || k.held.Grip == nil && s.Device != op.Centres {
		return
	}
	k.standsOut()
	k.screwedOut()
	k.bends()
	force := k.force()
	cut, ok := k.cutAlong()
	if force == 0 || !ok {
		return // nothing pushes it
	}
	root := k.root()
	w := stiffness.Layout{
		Modulus: k.Material.Modulus().Chosen, Sections: k.sections(root), Between: s.Device == op.Centres,
		Supports: k.supports(root),
	}
	b, err := w.Beam()
	if err != nil || k.severed(order(root, near(cut, s.Out))) {
		k.fail(problem.Overhang, words("no metal is left between what holds it and the cut"),
			words("a wall is wanted all along"),
			"hold it nearer to the cut")
		return
	}
	k.necked(root, cut)
	from, to := away(near(cut, s.Out), root, s.Out).MM(), away(far(cut, s.Out), root, s.Out).MM()
	if k.Op.Kind == op.PartOff {
		to = b.Length()
	}
	give := b.At(to, 1)
	if len(w.Supports) > 0 {
		_, give = b.Worst(max(0, from), to)
	}
	k.springs(give * force)
	k.leans(b, root, force)
	if p := k.Op.Push; p.Roughing > 0 {
		k.atMost(problem.Overhang, work.Float(give*p.Roughing), work.Float(k.springRough), "of spring in roughing",
			func() say.Text { return k.stiffer(give * p.Roughing / k.springRough) })
	}
}

// springs judges how far the work gives way.
func (k *checker) springs(spring float64) {
	value := units.FromFloat(spring)
	k.Spring = &value
	shown, most, of := spring, k.springRough, say.Text("of spring in roughing")
	switch {
	case k.Op.Push.Side:
		most, of = k.springAside, "of spring aside"
	case k.Op.Push.Finish:
		most, shown, of = k.width()*k.springFinish, 2*spring, "of diameter by the spring"
	}
	v, l := op.Figure{Value: units.FromFloat(shown).Up(), After: of}, op.With(units.FromFloat(most), "at the most")
	if shown <= most {
		k.pass(problem.Overhang, v, l, false)
		return
	}
	k.fail(problem.Overhang, v, l, k.stiffer(shown/most))
}

// leans judges how far the work leans away from a cone whose half angle has limits: by yl and ys under
// the last pass at its large and its small end, l apart,
//
//	b = atan((yl - ys)/l)
//
// It is within a part of the width of the limits, as twice the spring is of a diameter's.
//
// Source: elementary.
func (k *checker) leans(b *stiffness.Beam, root work.Len, force float64) {
	if k.Op.Kind != op.Taper || !k.Op.Push.Finish || k.Op.Rough {
		return
	}
	for _, x := range k.Shape.Stretches {
		limit, written := k.Limits.HalfAngle(x)
		if !written || !slices.Contains(k.Op.Makes, x.ID()) {
			continue
		}
		give := func(z units.Length) float64 { return b.At(away(op.LenOf(z), root, k.Op.Setup.Out).MM(), force) }
		leans := units.Radians(math.Atan(math.Abs(give(x.From)-give(x.To)) / x.Length().MM())).Deg()
		most := limit.HighAngle.Minus(limit.LowAngle).Deg() * k.springFinish
		const places = 4
		v := op.Figure{Value: sheet.Num(leans, places, "deg"), After: "of half angle by the spring"}
		l := op.With(sheet.Num(most, places, "deg"), "at the most")
		if leans <= most {
			k.pass(problem.Overhang, v, l, false)
			continue
		}
		k.fail(problem.Overhang, v, l, k.straighter())
	}
}

// straighter says what would mend a cone that leans away.
func (k *checker) straighter() say.Text {
	s := k.Op.Setup
	var nearer, centre say.Text
	if s.Support == op.NoSupport {
		nearer, centre = "let it stand out less", k.centreMends()
	}
	return either(centre, nearer, "cut it before what is thin is cut", "wider limits of the angle")
}

// stiffer says what would mend a spring that is so many times too much, each only
// where it can be: a bar that is built in gives way by the cube of its length, so it
// is held nearer where it then still reaches over the cut; a centre where the end is
// not cut and may have one; a steady where none is owned, since one that is was tried.
func (k *checker) stiffer(times float64) say.Text {
	s := k.Op.Setup
	var nearer, centre, steady say.Text
	lighter := say.Text("a lighter cut")
	if k.Op.Push.Finish {
		lighter = "wider limits"
	}
	if k.Op.Push.Side {
		lighter = ""
	}
	if k.Op.Kind == op.PartOff { // all that hangs out springs, and no centre is in
		nearer, lighter = "saw it off and face the end", ""
	} else if s.Support == op.NoSupport {
		reach := units.FromFloat(k.reach().MM()/math.Cbrt(times)).RoundTo(units.Millimetres(1), units.Down)
		if cut, ok := k.cutAlong(); ok && cut.Length() <= op.LenOf(reach) {
			nearer = say.Of("let it stand out no more than about ", reach, " to the end of the cut")
		}
		centre = k.centreMends()
	}
	if k.Shop.Lathe.Steady == nil {
		steady = "run it in a steady"
	}
	return either(nearer, centre, steady, lighter)
}

// centreMends says to put a centre in the end that stands out, where the shop has a
// tailstock, the end itself is not cut, and the drawing lets one stay there.
func (k *checker) centreMends() say.Text {
	if k.cutsEnd(k.Op.Setup.Out) || k.Shop.Lathe.Tailstock == nil || k.Centres == part.RemoveCentres {
		return ""
	}
	return "put a centre in its end"
}

// force returns what pushes the work away, in N.
func (k *checker) force() float64 {
	p := k.Op.Push
	if p.Side {
		return k.sideForce
	}
	if p.Force > 0 {
		return p.Force
	}
	if p.Depth <= 0 || p.Feed <= 0 {
		return 0
	}
	_, radial := stiffness.CuttingForce(k.Material, units.FromFloat(p.Depth), units.MillimetresPerRev(p.Feed))
	return float64(radial)
}

// standsOut: nothing stands out further than 10 d without support, of the jaws or
// of a steady: at no place does more hang out beyond it, as the cut leaves it, than 10
// times its diameter there, across its flats where it has some. A bore, a cross hole
// and a slot do not count. A thin neck bends where it is held, too.
func (k *checker) standsOut() {
	s := k.Op.Setup
	root, d := k.root(), work.Len(0)
	switch p, ok := k.steady(); {
	case s.Support == op.AtSteady && ok:
		root, d = middle(p.Span), p.Left
	case s.Support != op.NoSupport || s.Device == op.Centres:
		return
	default:
		d = k.held.Grip.Dia
	}
	w := k.beam()
	end := w.Reach(s.Out)
	hangs := away(end, root, s.Out)
	if hangs <= 0 {
		return
	}
	place := root
	look := func(z, dia work.Len) {
		if long := away(end, z, s.Out); long-times(dia, k.standOut) > hangs-times(d, k.standOut) {
			place, hangs, d = z, long, dia
		}
	}
	for _, p := range w.Outside {
		m := p.Meet(order(root, end))
		if onArbor(s.Device) { // the arbor bends, not the work on it
			m = m.Meet(order(far(s.Held, s.Out), end))
		}
		if m.Length() > 0 {
			part := core(p, w)
			look(m.From, times(within(p, m.From), part))
			look(m.To, times(within(p, m.To), part))
		}
	}
	what := say.Text("stands out without support")
	if place != root {
		what = say.Of("hangs on ", d.Length(), " at z ", place.Length(), " without support")
	}
	k.atMost(problem.Overhang, hangs, times(d, k.standOut), what, func() say.Text {
		most := times(d, k.standOut).Length().RoundTo(units.Millimetres(1), units.Down)
		steady, nearer := say.Text(""), say.Of("let it stand out no more than ", most)
		if k.Shop.Lathe.Steady == nil {
			steady = "run it in a steady"
		}
		if place != root {
			nearer = "hold it by what hangs there"
		}
		return either(k.centreMends(), steady, nearer)
	})
}

// screwedOut: what a split nut or a threaded stub holds stands out of it no further than 3 times the
// diameter of the thread, without a centre or a steady: a few turns of thread in a nut turned for the
// job are all that carries it. On a stub it sits against the shoulder of that, and what is beyond the
// thread hangs.
func (k *checker) screwedOut() {
	s, g := k.Op.Setup, k.held.Grip
	if s.Support != op.NoSupport || s.Device != op.SplitNut && s.Device != op.ThreadedStub {
		return
	}
	hangs, most := away(k.beam().Reach(s.Out), far(s.Held, s.Out), s.Out), times(g.Dia, k.standOutScrewed)
	k.atMost(problem.Overhang, hangs, most, say.Of("stands out of the ", s.Device, " without a centre"), func() say.Text {
		steady := say.Text("")
		if k.Shop.Lathe.Steady == nil {
			steady = "run it in a steady"
		}
		return either(k.centreMends(), steady, k.elsewhere())
	})
}

// bends: at no place between what holds it and the cut is the work so thin that the cut bends it by
// more than a fifth of its tensile strength, without a centre. A round of diameter d carries
//
//	M = F·a    σ = 32·M/(π·d³) <= Rm/5    d >= (32·F·a/(π·Rm/5))^(1/3)
//
// F is the force that springs it, aside half as much again, since a sawn end jerks; a is from the
// place to the far end of the cut. What is bored by b counts as ((d⁴ - b⁴)/d)^(1/3). Under the cut the
// metal that it finds is there yet.
//
// Source: beam theory, S. P. Timoshenko.
func (k *checker) bends() {
	s := k.Op.Setup
	cut, ok := k.cutAlong()
	force := k.jerked()
	if !ok || force == 0 || !s.Device.Jaws() || s.Support == op.AtCentre || s.Support == op.AtMouth {
		return
	}
	root, end := k.root(), far(cut, s.Out)
	if p, ok := k.steady(); ok && s.Support == op.AtSteady {
		root = middle(p.Span)
	}
	if away(end, root, s.Out) <= 0 {
		return // the cut is between what carries it
	}
	place, is, wanted := k.weakest(order(root, end), k.point(), func(z work.Len) float64 {
		return force * away(end, z, s.Out).MM()
	})
	k.atLeast(problem.Overhang, work.Float(is), work.Float(wanted),
		say.Of("carries the cut at z ", place.Length()), true, func() say.Text {
			steady := say.Text("")
			if k.Shop.Lathe.Steady == nil {
				steady = "run it in a steady"
			}
			return either(k.centreMends(), steady, "hold it on the other side of what is thin")
		})
}

// weakest returns where over a span of the work a moment in N·mm asks most of it, as what diameter
// in mm that place counts, no thinner than least, and what is wanted there.
func (k *checker) weakest(over work.Span, least float64, moment func(z work.Len) float64) (
	place work.Len, is, wanted float64,
) {
	hollow := k.hollow(k.Before)
	for _, p := range k.Before.Outside {
		m := p.Meet(over)
		if m.Length() <= 0 {
			continue
		}
		part, bore := core(p, k.Before), boreAt(hollow, m)
		for _, z := range []work.Len{m.From, m.To} {
			dia := max(within(p, z).MM()*part, least)
			carries := math.Cbrt((math.Pow(dia, 4) - math.Pow(min(bore, dia), 4)) / max(dia, thinnest))
			asked := math.Cbrt(32 * moment(z) / (math.Pi * k.bendPart * k.tensile))
			if wanted == 0 || asked-carries > wanted-is {
				place, is, wanted = z, carries, asked
			}
		}
	}
	return place, is, wanted
}

// necked: at no place between the cut and the centre that carries the end is the work so thin that
// what the centre takes bends it by more than a fifth of its tensile strength. Of a force F at c from
// what holds the work a centre at s takes no more than F·c/s, since work that is built in bends ever
// more the further out; so a place at z carries
//
//	M = F·c/s·(s - z)
//
// and is as thick as under bends.
//
// Source: beam theory, S. P. Timoshenko.
func (k *checker) necked(root work.Len, cut work.Span) {
	s, force := k.Op.Setup, k.jerked()
	if s.Support != op.AtCentre && s.Support != op.AtMouth || !s.Device.Jaws() || force == 0 {
		return
	}
	end := k.Before.Reach(s.Out)
	c, long := away(far(cut, s.Out), root, s.Out).MM(), away(end, root, s.Out).MM()
	if c <= 0 || long <= 0 {
		return
	}
	place, is, wanted := k.weakest(order(far(cut, s.Out), end), thinnest, func(z work.Len) float64 {
		return force * c / long * away(end, z, s.Out).MM()
	})
	k.atLeast(problem.Overhang, work.Float(is), work.Float(wanted),
		say.Of("carries what the centre takes at z ", place.Length()), true, func() say.Text {
			return "cut it before what is thin is cut"
		})
}

// jerked returns the most that pushes the work aside in N, where an end is cut with the jerk of it.
func (k *checker) jerked() float64 {
	force := max(k.force(), k.Op.Push.Roughing)
	if k.Op.Push.Side {
		force *= k.bendJerk
	}
	return force
}

// boreAt returns the widest that is bored out of a stretch.
func boreAt(hollow [][]stiffness.Point, s work.Span) (dia float64) {
	for _, b := range hollow {
		if b[0].Z < s.To.MM() && s.From.MM() < b[len(b)-1].Z {
			dia = max(dia, b[0].Dia, b[len(b)-1].Dia)
		}
	}
	return dia
}

// supports returns where centres and steadies stand, from the root in mm.
func (k *checker) supports(root work.Len) []float64 {
	s := k.Op.Setup
	place := func(z work.Len) float64 { return away(z, root, s.Out).MM() }
	switch end := place(k.Before.Reach(s.Out)); {
	case s.Device == op.Centres:
		return []float64{end}
	case s.Support == op.AtCentre || s.Support == op.AtMouth:
		return []float64{end}
	case s.Support == op.AtSteady:
		if p, ok := k.steady(); ok {
			return []float64{place(p.From + p.Length()/2)}
		}
	}
	return nil
}

// beam returns the work that bends: as the cut leaves it, but for a cut that
// takes an end away.
func (k *checker) beam() work.State {
	for _, r := range k.Op.Removes {
		if _, ok := r.(work.EndCut); ok {
			return k.Before
		}
	}
	return k.After
}

// point is how thick a place counts at the least: twice the depth of the cut, and twice
// a broken edge.
func (k *checker) point() float64 { return max(2*k.Op.Push.Depth, 2*k.brokenEdge.MM()) }

// severed reports whether the work is thinner than that between what holds it and the
// cut, where no tool stands.
func (k *checker) severed(between work.Span) bool {
	least := work.Float(k.point())
	return slices.ContainsFunc(k.Before.Outside, func(p work.Piece) bool {
		m := p.Meet(between)
		return m.Length() > 0 && min(within(p, m.From), within(p, m.To)) < least
	})
}

// arborStuff is what arbors and stubs are turned of, and mandrels made of: any steel is
// as stiff.
var arborStuff = sync.OnceValue(func() float64 {
	m, err := materials.Find("mild-steel")
	if err != nil {
		panic(err)
	}
	return m.Modulus().Chosen
})

// arbor returns what stands out inside the work, from the jaws that hold it, and how
// thick work of the same stiffness is.
func (k *checker) arbor() (s work.Span, dia work.Len) {
	out, held := k.Op.Setup.Out, k.held.Grip
	dia = held.Dia
	if k.Op.Setup.Device == op.ThreadedStub {
		dia = k.stubRoot(held.Span())
	}
	return order(k.root(), far(held.Span(), out)), times(dia, math.Pow(arborStuff()/k.Material.Modulus().Chosen, 0.25))
}

// stubRoot returns the root of the outside thread on a stub that fills the inside thread over a span:
// what of the stub bends.
func (k *checker) stubRoot(held work.Span) work.Len {
	for _, t := range k.Before.Threads {
		if !t.Inside || !(work.Span{From: t.From, To: t.To}).Covers(held) {
			continue
		}
		for i := range k.Shape.Threads {
			if d := &k.Shape.Threads[i]; d.Spec == t.Spec {
				return op.LenOf(d.Designation.Sizes().MinorExternal)
			}
		}
	}
	return k.Before.Bore(middle(held)) // no thread is there, which is another row's no
}

// thinnest is the diameter in mm under which work is as good as cut through, so that
// nothing is divided by 0.
const thinnest = 0.05

// sections returns what bends from the root to the end that stands out: the work, and
// as far as an arbor reaches into it that.
func (k *checker) sections(root work.Len) []stiffness.Section {
	w, out := k.beam(), k.Op.Setup.Out
	least, bends := k.point(), order(root, w.Reach(out))
	if len(k.supports(root)) > 0 { // what a centre carries bends where it is thinnest
		least = min(least, thinnest)
	}
	outside := make([]stiffness.Point, 0, 2*len(w.Outside)+2)
	add := func(s work.Span, left, right float64) {
		outside = append(outside, stiffness.Point{Z: s.From.MM(), Dia: left}, stiffness.Point{Z: s.To.MM(), Dia: right})
	}
	arbor, thick := work.Span{}, 0.0
	if onArbor(k.Op.Setup.Device) {
		s, dia := k.arbor()
		arbor, thick, bends = s, dia.MM(), order(far(s, out), w.Reach(out))
	}
	if thick > 0 && out == part.Right { // from left to right: where it ends the work goes on
		add(arbor, thick, thick)
	}
	for _, p := range w.Outside {
		if m := p.Meet(bends); m.Length() > 0 {
			part := core(p, w)
			add(m, max(within(p, m.From).MM()*part, least), max(within(p, m.To).MM()*part, least))
		}
	}
	if thick > 0 && out == part.Left {
		add(arbor, thick, thick)
	}
	slices.SortStableFunc(outside, func(a, b stiffness.Point) int { return cmp.Compare(a.Z, b.Z) })
	return stiffness.Sections(root.MM(), w.Reach(out).MM(), outside, k.hollow(w)...)
}

// core returns the part of a piece's diameter that its stiffness counts by: of a
// polygon that of the circle its flats touch, of a pair of flats their distance.
func core(p work.Piece, w work.State) float64 {
	if p.Sides == 2 {
		if flats, ok := w.AcrossFlats(p.From + p.Length()/2); ok && p.Left > 0 {
			return min(1, flats.MM()/max(p.Left, p.Right).MM())
		}
	}
	return stiffness.CoreCircle(1, p.Sides)
}

// hollow returns what is bored out of the work, without what fills it.
func (k *checker) hollow(w work.State) [][]stiffness.Point {
	var list [][]stiffness.Point
	add := func(s work.Span, from, to work.Len) {
		if s.Length() > 0 {
			list = append(list, []stiffness.Point{{Z: s.From.MM(), Dia: from.MM()}, {Z: s.To.MM(), Dia: to.MM()}})
		}
	}
	filled := work.Span{}
	if onArbor(k.Op.Setup.Device) {
		filled, _ = k.arbor()
	}
	for _, b := range w.Bores {
		end := b.EndDia
		if end == 0 {
			end = b.Dia
		}
		s := opened(b, w)
		from, to := b.Dia, end
		if b.From == part.Right {
			from, to = end, b.Dia
		}
		if !filled.Overlaps(s) {
			add(s, from, to)
			continue
		}
		wide := max(from, to)
		add(work.Span{From: s.From, To: filled.From}, wide, wide)
		add(work.Span{From: filled.To, To: s.To}, wide, wide)
	}
	return list
}

// opened returns where a bore has its full diameter in the work: where it is open,
// on to the end of the bar.
func opened(b work.Bore, w work.State) work.Span {
	s := work.Span{From: b.Start, To: b.Depth}
	if b.From == part.Right {
		s = order(w.Length-b.Start, w.Length-b.Depth)
	}
	open := func(e part.End) bool { return b.Through || b.From == e && b.Start == 0 }
	if open(part.Left) {
		s.From = min(s.From, w.Span().From)
	}
	if open(part.Right) {
		s.To = max(s.To, w.Span().To)
	}
	return s
}
