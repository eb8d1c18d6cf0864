package stiffness

import (
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Section is a stretch of a beam in mm: a cylinder or a cone, and the bore in
// it, 0 where there is none. A polygon's section is its core circle, across
// flats.
type Section struct{ From, To, DiaFrom, DiaTo, BoreFrom, BoreTo float64 }

// Layout is what stands out of the machine and what carries it. z = 0 is the
// face of the jaws, where it is built in; Between puts a centre there instead,
// and then it needs a support more. Sections run from 0 outward without a gap;
// a point, of no diameter, may stand at the far end alone. Supports are the
// places of centres and steadies in mm, at most four, in any order: the work
// may turn over one and not give way. Modulus is in GPa.
type Layout struct {
	Modulus  float64
	Sections []Section
	Supports []float64
	Between  bool
}

// same is what part of its spring without supports a place must have left, to be
// carried by one more.
const same = 1e-12

// mostSupports is how many places a beam is carried at beside its root.
const mostSupports = 4

// panelSpans is how many times thicker a panel of a bored cone is at one end
// than at the other, in metal or in wall: the rule of eight points is good to 9
// figures in it.
const panelSpans = 1.5

// Beam is work made ready to be asked how far it gives way. It is read only,
// and asking it allocates nothing.
//
// With J the integrals over the beam from its root to z, u the way to z,
//
//	J0 = ∫ 1/(E·I) du    J1 = ∫ u/(E·I) du    J2 = ∫ u²/(E·I) du    I = π·(D⁴ - d⁴)/64
//
// a force of 1 at z bends a beam that is built in and else free by J2 there
// and turns it by J1, so that it gives way by J2 + (c - z)·J1 at c beyond, and
// as much at z for a force at c. All terms are above 0 and none is lost in a
// difference. For a solid cone of D = a to b over h they are closed,
//
//	J2 = 64·h³/(3·π·E·a³·b)    J1 = 64·h²/(π·E)·(1/(3·a³·b) + 1/(6·a²·b²))
//
// and for a cylinder, bored or not, h³/(3·E·I) and h²/(2·E·I); a bored cone is
// integrated (Gauss-Legendre, eight points a panel) to 9 figures.
//
// A support takes away what its force takes back: the force method, one
// unknown a support, which is Cholesky's elimination of the matrix of what
// each support gives way for a force at each other.
//
// Jaws, centres and steadies are taken as stiff, and shear is left out: for a
// plain steel bar that is built in it adds 0.55·(d/L)², which is 2 % at five
// diameters and 14 % at two.
//
// Source: beam theory, S. P. Timoshenko; the force method is in any strength of
// materials.
type Beam struct {
	panels   []panel
	supports []support // what is eliminated, in order
	between  bool
	far      support // the far one of two centres
}

// panel is a stretch with what there is to know of it: the diameters at its
// ends, and the integrals up to its start.
type panel struct {
	Section
	compliance float64 // 64/(π·E), mm2/N
	start      flex
}

// flex is J0, J1 and J2 at a place.
type flex struct{ turn, slope, give float64 }

// support is a place that is held: its integrals and its row of the eliminated
// matrix.
type support struct {
	z   float64
	at  flex
	row [mostSupports]float64
}

// Beam makes the work ready. It fails on sections that leave a gap, lap over
// or have no wall, on a support that is not on the work, at a point or said
// twice, on more than four, and on work between centres with one alone.
func (w Layout) Beam() (*Beam, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	b := &Beam{between: w.Between, panels: make([]panel, 0, len(w.Sections))}
	compliance := 64 / (math.Pi * w.Modulus * 1000)
	for _, s := range w.Sections {
		b.add(panel{Section: s, compliance: compliance})
	}
	held := slices.Sorted(slices.Values(w.Supports))
	if last := len(held) - 1; w.Between {
		b.far = support{z: held[last], at: b.flex(held[last])}
		held = held[:last]
	}
	for _, z := range held {
		s := support{z: z, at: b.flex(z)}
		s.row = b.eliminated(z, s.at)
		pivot := b.free(z, s.at, z, s.at)
		for _, r := range s.row {
			pivot -= r * r
		}
		if pivot < s.at.give*same { // it stands where another does, or is a micrometre off
			continue
		}
		s.row[len(b.supports)] = math.Sqrt(pivot)
		b.supports = append(b.supports, s)
	}
	return b, nil
}

// check returns every problem with the work.
func (w Layout) check() error {
	var list problem.List
	if w.Modulus <= 0 {
		list.Add(problem.New(problem.OutOfRange, "modulus", say.Num(w.Modulus, 1), "must be above 0"))
	}
	if len(w.Sections) == 0 {
		list.Add(problem.New(problem.Missing, "section", nil, "needs a section"))
		return list
	}
	w.checkSections(&list)
	w.checkSupports(&list)
	return list.Err()
}

func (w Layout) checkSections(list *problem.List) {
	end := 0.0
	for i, s := range w.Sections {
		if s.From != end || s.To <= s.From {
			list.Add(problem.New(problem.Contradiction, "section", units.FromFloat(s.From),
				"sections run outward from 0 without a gap"))
		}
		solid := s.DiaFrom > s.BoreFrom && s.DiaTo > s.BoreTo && s.BoreFrom >= 0 && s.BoreTo >= 0
		point := i == len(w.Sections)-1 && s.DiaFrom > 0 && s.BoreFrom == 0 && s.DiaTo == 0 && s.BoreTo == 0
		if !solid && !point {
			list.Add(problem.New(problem.Impossible, "section", units.FromFloat(s.From), "no metal is left there"))
		}
		end = s.To
	}
}

func (w Layout) checkSupports(list *problem.List) {
	last := w.Sections[len(w.Sections)-1]
	for i, z := range w.Supports {
		switch found := units.FromFloat(z); {
		case z <= 0 || z > last.To || z == last.To && last.DiaTo == 0:
			list.Add(problem.New(problem.OutOfRange, "support", found, "nothing stands there to be carried"))
		case slices.Contains(w.Supports[:i], z):
			list.Add(problem.New(problem.Duplicate, "support", found, "said twice"))
		}
	}
	if n := len(w.Supports); n > mostSupports || w.Between && n == 0 {
		list.Add(problem.New(problem.OutOfRange, "support", n, "1 to ", mostSupports,
			" places carry work between centres, 0 to ", mostSupports, " work in jaws"))
	}
}

// add puts a stretch at the end of the beam, cut in two as often as the rule
// needs.
func (b *Beam) add(p panel) {
	wall := func(dia, bore float64) float64 { return dia - bore }
	wide := func(x, y float64) bool { return max(x, y) > panelSpans*min(x, y) }
	if p.bored() && !p.plain() &&
		(wide(p.DiaFrom, p.DiaTo) || wide(wall(p.DiaFrom, p.BoreFrom), wall(p.DiaTo, p.BoreTo))) {
		left, right := p, p
		mid := (p.From + p.To) / 2
		dia, bore := p.dia(mid)
		left.To, left.DiaTo, left.BoreTo = mid, dia, bore
		right.From, right.DiaFrom, right.BoreFrom = mid, dia, bore
		b.add(left)
		b.add(right)
		return
	}
	if n := len(b.panels); n > 0 {
		p.start = b.panels[n-1].flex(b.panels[n-1].To)
	}
	b.panels = append(b.panels, p)
}

func (p *panel) bored() bool { return p.BoreFrom > 0 || p.BoreTo > 0 }

// plain reports whether the section is the same all along.
func (p *panel) plain() bool { return p.DiaFrom == p.DiaTo && p.BoreFrom == p.BoreTo }

// dia returns the diameter and the bore at z.
func (p *panel) dia(z float64) (dia, bore float64) {
	if z >= p.To {
		return p.DiaTo, p.BoreTo
	}
	part := (z - p.From) / (p.To - p.From)
	return p.DiaFrom + part*(p.DiaTo-p.DiaFrom), p.BoreFrom + part*(p.BoreTo-p.BoreFrom)
}

// The eight-point Gauss-Legendre rule on -1 to 1, by symmetry.
var (
	gaussAt     = [4]float64{0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363}
	gaussWeight = [4]float64{0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}
)

// flex returns the integrals up to z, a place of the panel: those up to its
// start, seen from z, and its own.
func (p *panel) flex(z float64) flex {
	h := z - p.From
	s := p.start
	f := flex{s.turn, s.slope + h*s.turn, s.give + h*(2*s.slope+h*s.turn)}
	switch {
	case !p.bored():
		a := p.DiaFrom
		b, _ := p.dia(z)
		near, both, away := 1/(3*a*a*a*b), 1/(6*a*a*b*b), 1/(3*a*b*b*b)
		f.turn += p.compliance * h * (near + 2*both + away)
		f.slope += p.compliance * h * h * (near + both)
		f.give += p.compliance * h * h * h * near
	case p.plain():
		one := p.compliance / (math.Pow(p.DiaFrom, 4) - math.Pow(p.BoreFrom, 4))
		f.turn += one * h
		f.slope += one * h * h / 2
		f.give += one * h * h * h / 3
	default:
		for i, x := range gaussAt {
			for _, u := range [2]float64{(1 - x) * h / 2, (1 + x) * h / 2} {
				dia, bore := p.dia(z - u)
				dia, bore = dia*dia, bore*bore
				one := p.compliance * gaussWeight[i] * h / 2 / ((dia - bore) * (dia + bore))
				f.turn += one
				f.slope += one * u
				f.give += one * u * u
			}
		}
	}
	return f
}

// flex returns the integrals up to z.
func (b *Beam) flex(z float64) flex {
	i := 0
	for i < len(b.panels)-1 && z > b.panels[i].To {
		i++
	}
	return b.panels[i].flex(z)
}

// Length returns how far the beam stands out, in mm.
func (b *Beam) Length() float64 { return b.panels[len(b.panels)-1].To }

// on returns z, or the end of the beam that it is beyond.
func (b *Beam) on(z float64) float64 { return min(max(z, 0), b.Length()) }

// cantilever returns how far the beam gives way at one place for a force of 1
// at the other, built in at its root and else free.
func cantilever(z float64, fz flex, c float64, fc flex) float64 {
	switch {
	case z == c: // at a point the slope is infinite too
		return fz.give
	case z > c:
		z, c, fz = c, z, fc
	}
	return fz.give + (c-z)*fz.slope
}

// free returns the same on the root that the beam has, before any support
// beside it. Between centres the beam turns about the near one until it is
// back on the far one.
func (b *Beam) free(z float64, fz flex, c float64, fc flex) float64 {
	y := cantilever(z, fz, c, fc)
	if !b.between {
		return y
	}
	l, fl := b.far.z, b.far.at
	return y - cantilever(z, fz, l, fl)*c/l - cantilever(c, fc, l, fl)*z/l + fl.give*(z/l)*(c/l)
}

// eliminated returns what a force of 1 at z leaves of itself at each support
// after the ones before it.
func (b *Beam) eliminated(z float64, fz flex) (v [mostSupports]float64) {
	for i := range b.supports {
		s := &b.supports[i]
		left := b.free(z, fz, s.z, s.at)
		for j := range i {
			left -= s.row[j] * v[j]
		}
		v[i] = left / s.row[i]
	}
	return v
}

// Influence returns how far the work gives way at z for each newton at c, in
// mm; as much as at c for each newton at z. Both are in mm from the root; what
// is not on the work is taken as at its end.
func (b *Beam) Influence(z, c float64) float64 {
	z, c = b.on(z), b.on(c)
	fz, fc := b.flex(z), b.flex(c)
	y := b.free(z, fz, c, fc)
	v, w := b.eliminated(z, fz), b.eliminated(c, fc)
	for i := range b.supports {
		y -= v[i] * w[i]
	}
	return y
}

// At returns how far the work gives way under a force at z, in mm: z in mm
// from the root, the force in N and square to the axis. It is infinite at a
// point. Good to 9 figures of what it is without the supports.
func (b *Beam) At(z, force float64) float64 {
	z = b.on(z)
	f := b.flex(z)
	y := b.free(z, f, z, f)
	for _, v := range b.eliminated(z, f) {
		y -= v * v
	}
	return force * max(0, y)
}

// samples is how many parts of a stretch are looked at for the worst place, and
// near is from what part of the most that is found there a place is narrowed
// down.
const (
	samples = 8
	near    = 0.8
)

// Worst returns where between two places the work gives way most under a force
// of 1 N there, and how far. Between steps and supports it looks at nine places,
// and narrows the worst ones down to 1e-4 mm; where the spring has two hills
// between two of them, it may be a thousandth short.
func (b *Beam) Worst(from, to float64) (z, give float64) {
	from, to = b.on(from), b.on(to)
	z, give = from, b.At(from, 1)
	for start := from; start < to; {
		end := b.step(start, to)
		for i := range samples {
			at := start + (end-start)*float64(i+1)/samples
			if y := b.At(at, 1); y > give {
				z, give = at, y
			}
		}
		start = end
	}
	least := near * give
	for start := from; start < to; {
		end := b.step(start, to)
		h := (end - start) / samples
		for i := range samples + 1 {
			mid := start + float64(i)*h
			low, high := max(start, mid-h), min(end, mid+h)
			if y := b.At(mid, 1); y < least || y < b.At(low, 1) || y < b.At(high, 1) {
				continue
			}
			if at, y := b.narrowed(low, high); y > give {
				z, give = at, y
			}
		}
		start = end
	}
	return z, give
}

// step returns where the stretch from start ends: at the next step or support,
// or at to.
func (b *Beam) step(start, to float64) float64 {
	end := to
	next := func(z float64) {
		if z > start && z < end {
			end = z
		}
	}
	for i := range b.panels {
		next(b.panels[i].To)
	}
	for i := range b.supports {
		next(b.supports[i].z)
	}
	next(b.far.z)
	return end
}

// narrowed returns the worst place between two, of which there is one.
func (b *Beam) narrowed(low, high float64) (z, give float64) {
	for high-low > 1e-4 {
		a, c := low+(high-low)/3, high-(high-low)/3
		if b.At(a, 1) < b.At(c, 1) {
			low = a
		} else {
			high = c
		}
	}
	z = (low + high) / 2
	return z, b.At(z, 1)
}

// diameters returns the length of a stretch over its mean diameter, 0 of none.
func (b *Beam) diameters(from, to float64) float64 {
	length, area := to-from, 0.0
	for i := range b.panels {
		p := &b.panels[i]
		if start, end := max(from, p.From), min(to, p.To); start < end {
			near, _ := p.dia(start)
			far, _ := p.dia(end)
			area += (end - start) * (near + far) / 2
		}
	}
	if area == 0 {
		return 0
	}
	return length * length / area
}

// lumps is how many masses stand for the work when it whirls.
const lumps = 48

// Whirling returns the first critical speed of the work turning by itself, in
// rev/min: the speed of its lowest bending vibration,
//
//	n = 60/(2·π·√λ)
//
// with λ the largest eigenvalue of influence times mass, found by repeated
// multiplication on 48 masses. It is within 0.1 % of beam theory for a plain
// bar. density is in kg/m3; one of 0 has no such speed and returns infinity.
//
// Source: the method of A. Stodola; the constants for plain bars (3.516,
// 15.42, 9.870) are in S. P. Timoshenko, Vibration Problems in Engineering.
func (b *Beam) Whirling(density float64) float64 {
	h := b.Length() / lumps
	var mass, shape [lumps]float64
	var y [lumps][lumps]float64
	place := func(i int) float64 { return (float64(i) + 0.5) * h }
	for i := range lumps {
		dia, bore := b.dia(place(i))
		mass[i] = density * math.Pi * (dia*dia - bore*bore) / 4 * h / 1e9 // kg
		shape[i] = float64(i + 1)                                         // not alike on both sides of a steady in the middle
		for j := range i + 1 {
			y[i][j] = b.Influence(place(i), place(j)) / 1000 // m/N
			y[j][i] = y[i][j]
		}
	}
	lambda := 0.0
	for range 60 {
		var next [lumps]float64
		for i := range lumps {
			for j := range lumps {
				next[i] += y[i][j] * mass[j] * shape[j]
			}
		}
		lambda = 0
		for _, x := range next {
			lambda = max(lambda, math.Abs(x))
		}
		for i := range next {
			shape[i] = next[i] / lambda
		}
	}
	return 60 / (2 * math.Pi * math.Sqrt(lambda))
}

// dia returns the diameter and the bore at z; on a shoulder those of the left
// side.
func (b *Beam) dia(z float64) (dia, bore float64) {
	i := 0
	for i < len(b.panels)-1 && z > b.panels[i].To {
		i++
	}
	return b.panels[i].dia(z)
}
