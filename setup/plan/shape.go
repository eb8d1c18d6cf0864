package plan

import (
	"fmt"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/tapers/compound"
	"setover/tapers/facets"
	"setover/threads"
)

// stretch is a piece of the outside as it is turned: its diameters at both
// ends (through the corners, with what is left for grinding, where it is
// facetted), and what it is.
type stretch struct {
	op.Span
	A, B  units.Length
	kind  op.Kind // Turn, Taper or Curve
	facet *part.Facets
	arc   *part.Arc
}

func (s stretch) large() units.Length { return units.Max(s.A, s.B) }

// name is how a set-up calls a cylinder it is held on.
func (s stretch) name() string {
	return fmt.Sprintf("the %s cylinder, %v", size(s.A), s.Span)
}

// shape is the part as it is turned, and what the planner must know of it
// before it decides how to hold it.
type shape struct {
	usual     usual
	part      *part.Part
	round     *part.Round
	material  *materials.Material
	stretches []stretch
	threads   []thread

	// What several ways of holding the part ask alike is worked out once.
	cleared memo[compound.Result]
}

// memo keeps the answers to questions that are asked again.
type memo[T any] map[string]T

// of returns the answer to a question, made the first time it is asked.
func (m memo[T]) of(question string, answer func() (T, error)) (T, error) {
	if a, ok := m[question]; ok {
		return a, nil
	}
	a, err := answer()
	if err == nil {
		m[question] = a
	}
	return a, err
}

// thread is a thread of the part with its designation read.
type thread struct {
	part.Thread
	spec threads.Designation
	span op.Span
}

func newShape(p *part.Part, m *materials.Material) (*shape, error) {
	s := &shape{cleared: memo[compound.Result]{}, usual: usually(), part: p, round: p.Round, material: m}
	var list problem.List
	for _, t := range p.Round.Threads {
		spec, err := threads.Parse(t.Spec)
		if err != nil {
			var one problem.List
			one.Add(err)
			for i := range one {
				one[i] = one[i].In(t.At)
				one[i].At.Key = "spec"
			}
			list = append(list, one...)
			continue
		}
		s.threads = append(s.threads, thread{t, spec, s.fromEnd(t.From, t.Length)})
	}
	s.stretches = s.outline()
	return s, list.Err()
}

// fromEnd returns the span from one end of the part inward.
func (s *shape) fromEnd(end part.End, l units.Length) op.Span {
	if end == part.Left {
		return op.Span{To: l}
	}
	return op.Span{From: s.round.Length().Minus(l), To: s.round.Length()}
}

// outline cuts the profile where facets, arcs and outside threads begin and
// end, and turns diameters across flats into those through the corners.
func (s *shape) outline() []stretch {
	var list []stretch
	for i, b := range s.round.Profile[1:] {
		a := s.round.Profile[i]
		if a.Z.Equal(b.Z) {
			continue
		}
		cuts := []units.Length{a.Z, b.Z}
		inside := func(z units.Length) {
			if a.Z.Less(z) && z.Less(b.Z) {
				cuts = append(cuts, z)
			}
		}
		for _, f := range s.round.Facets {
			inside(f.From)
			inside(f.To)
		}
		for _, c := range s.round.Arcs {
			inside(c.From)
			inside(c.To)
		}
		for _, t := range s.threads {
			if !t.Inside {
				inside(t.span.From)
				inside(t.span.To)
			}
		}
		slices.SortFunc(cuts, units.Length.Cmp)
		cuts = slices.CompactFunc(cuts, units.Length.Equal)
		at := func(z units.Length) units.Length {
			f := z.Minus(a.Z).Over(b.Z.Minus(a.Z))
			return a.Dia.Plus(units.FromFloat(f * b.Dia.Minus(a.Dia).MM()))
		}
		for k, to := range cuts[1:] {
			list = append(list, s.stretch(op.Span{From: cuts[k], To: to}, at(cuts[k]), at(to)))
		}
	}
	return s.merge(list)
}

// stretch returns one piece between two cuts.
func (s *shape) stretch(span op.Span, a, b units.Length) stretch {
	x := stretch{Span: span, A: a, B: b, kind: op.Taper}
	if a.Equal(b) {
		x.kind = op.Turn
	}
	for i, f := range s.round.Facets {
		if f.From.Cmp(span.From) <= 0 && span.To.Cmp(f.To) <= 0 {
			x.facet = &s.round.Facets[i]
			x.A, x.B = turnedFor(f, a), turnedFor(f, b)
		}
	}
	for i, c := range s.round.Arcs {
		if c.From.Cmp(span.From) <= 0 && span.To.Cmp(c.To) <= 0 {
			x.arc, x.kind = &s.round.Arcs[i], op.Curve
		}
	}
	return x
}

// polygon returns the facets' polygon where the profile has the diameter d.
func polygon(f part.Facets, d units.Length) facets.Polygon {
	if f.Corners {
		return facets.OfCorners(f.Sides, d)
	}
	return facets.OfFlats(f.Sides, d)
}

// turnedFor returns the round to turn where the profile has the diameter d. A
// diameter across corners with nothing left on the flats is that round itself.
func turnedFor(f part.Facets, d units.Length) units.Length {
	if f.Corners && f.Leave.Sign() == 0 {
		return d
	}
	return polygon(f, d).Blank(f.Leave)
}

// threadEnds reports whether an outside thread ends at z.
func (s *shape) threadEnds(z units.Length) bool {
	return slices.ContainsFunc(s.threads, func(t thread) bool { return !t.Inside && (t.span.From.Equal(z) || t.span.To.Equal(z)) })
}

// merge joins neighbouring cylinders of one diameter that no thread parts.
func (s *shape) merge(list []stretch) []stretch {
	var out []stretch
	for _, x := range list {
		if n := len(out) - 1; n >= 0 && x.kind == op.Turn && out[n].kind == op.Turn && x.A.Equal(out[n].B) && x.facet == out[n].facet && !s.threadEnds(x.From) {
			out[n].To = x.To
			continue
		}
		out = append(out, x)
	}
	return out
}

// largest returns the largest diameter that is turned.
func (s *shape) largest() units.Length {
	var d units.Length
	for _, x := range s.stretches {
		d = units.Max(d, x.large())
	}
	return d
}

// endDia returns the diameter at an end as turned.
func (s *shape) endDia(e part.End) units.Length {
	if e == part.Left {
		return s.stretches[0].A
	}
	return s.stretches[len(s.stretches)-1].B
}

func other(e part.End) part.End {
	if e == part.Left {
		return part.Right
	}
	return part.Left
}

// way is one way to hold the part from first to last: which end stands out
// first, and the cylinder it is held on when it is turned end for end. grip is
// -1 when it is finished in one chucking and parted off.
type way struct {
	first part.End
	grip  int
	shim  bool // the cross holes are drilled after the taper, on a shim
}

// canGrip reports whether a stretch can be held in a chuck: a cylinder without
// facets or an outside thread, as long as its diameter and 12 mm at the least.
func (s *shape) canGrip(i int) bool {
	x := s.stretches[i]
	if x.kind != op.Turn || x.facet != nil || x.Length().Less(units.Max(s.usual.leastGrip, x.A)) {
		return false
	}
	for _, t := range s.threads {
		if !t.Inside && t.span.Overlaps(x.Span) {
			return false
		}
	}
	return true
}

// ways returns every way to hold the part that could serve.
func (s *shape) ways() []way {
	var list []way
	for _, first := range []part.End{part.Left, part.Right} {
		for i := range s.stretches {
			if s.canGrip(i) && s.reaches(first, i) {
				list = append(list, way{first: first, grip: i})
			}
		}
		if s.partsOff(first) {
			list = append(list, way{first: first, grip: -1})
		}
	}
	return list
}

// all returns every way to hold the part, those with a shim in the V-blocks
// last, so that of two that cost the same the plain one wins.
func (s *shape) all(blocks bool) []way {
	list := s.ways()
	for _, w := range slices.Clone(list) {
		if x, ok := s.shimmed(w); ok && blocks {
			list = append(list, x)
		}
	}
	return list
}

// shimmed returns the way with the cross holes drilled after the taper, and
// whether there is such a way: some taper is cut in the second grip.
func (s *shape) shimmed(w way) (way, bool) {
	w.shim = true
	_, ok := s.seat(w)
	return w, ok && len(s.round.Holes)+len(s.round.Rows) > 0
}

// seat returns the longest plain taper that is cut in the second grip: what
// lies in the V-blocks on a shim.
func (s *shape) seat(w way) (stretch, bool) {
	_, far := s.covered(w)
	var best stretch
	for _, x := range far {
		if x.kind == op.Taper && best.Length().Less(x.Length()) {
			best = x
		}
	}
	return best, best.Length().Sign() > 0
}

// covered returns the stretches that are cut with the first end out: from that
// end to the far side of the grip.
func (s *shape) covered(w way) (firstSide, secondSide []stretch) {
	switch {
	case w.grip < 0:
		return s.stretches, nil
	case w.first == part.Left:
		return s.stretches[:w.grip+1], s.stretches[w.grip+1:]
	}
	return s.stretches[w.grip:], s.stretches[:w.grip]
}

// reaches reports whether every feature that starts at an end lies within what
// is cut from that end.
func (s *shape) reaches(first part.End, grip int) bool {
	near, far := s.covered(way{first: first, grip: grip})
	within := func(end part.End, span op.Span) bool {
		side := near
		if end != first {
			side = far
		}
		return slices.ContainsFunc(side, func(x stretch) bool { return x.Overlaps(span) })
	}
	for _, t := range s.threads {
		if !t.Inside && !within(t.From, t.span) {
			return false
		}
	}
	return true
}

// partsOff reports whether everything can be cut with one end out and the part
// cut off the bar: nothing starts at the other end.
func (s *shape) partsOff(out part.End) bool {
	for _, t := range s.threads {
		if t.From != out {
			return false
		}
	}
	for _, b := range s.round.Bores {
		if b.From != out && !b.Through {
			return false
		}
	}
	return true
}

// slenderNeck reports whether a part that is cut off the bar hangs on a neck of
// less than a third of its largest diameter: it then needs a centre. Common
// practice, no source.
func (s *shape) slenderNeck(out part.End) bool {
	return s.endDia(other(out)).Times(3).Less(s.largest())
}

// unheld says why there is no way to hold the part.
func (s *shape) unheld() string {
	return "nothing to hold it on when it is turned end for end: no cylinder without facets or thread is as long as its diameter (12 mm at the least); " +
		"leave a spigot on the longer bar, or lengthen a cylinder"
}
