package limits

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
)

// line is a piece of the profile between two of its points, shoulders left out,
// with how far the diameters at its ends may be off.
type line struct {
	a, b        part.Station
	left, right band
}

// draw fills in the general tolerances of everything that a row of limits may
// change.
func (l *Limits) draw(r *part.Round) {
	for i, b := range r.Profile[1:] {
		if a := r.Profile[i]; a.Z.Less(b.Z) {
			l.lines = append(l.lines, line{a, b, l.general(a.Dia), l.general(b.Dia)})
		}
	}
	for _, s := range l.outline.Stretches {
		l.turned = append(l.turned, l.general(s.Left.Drawn))
	}
	for _, s := range l.outline.Shoulders {
		l.shoulders = append(l.shoulders, l.general(s.Z))
	}
	l.whole = l.general(l.outline.Length)
}

// flatsDrawn reports whether the profile's diameters are across flats there.
// Two flats leave them what they are.
func flatsDrawn(s outline.Stretch) bool {
	return s.Facets != nil && !s.Facets.Corners && s.Facets.Sides > 2
}

// outside adds what a stretch is held by: the diameter or, of a taper or a
// curve, those at its ends; and the size across its flats. A thread's stretch
// is held by the thread.
func (l *Limits) outside(s outline.Stretch) {
	if s.Thread == nil && !flatsDrawn(s) {
		if s.Kind() == outline.Cylinder {
			l.add(key{kind: Diameter, feature: s.ID()}, s.Span, s.Left.Drawn, l.turned[s.N-1])
		} else {
			l.add(taperEnd(s, part.Left), at(s.From), s.Left.Drawn, l.onLine(s, s.From))
			l.add(taperEnd(s, part.Right), at(s.To), s.Right.Drawn, l.onLine(s, s.To))
		}
	}
	switch {
	case s.Facets == nil:
	case s.Left.Flats.Equal(s.Right.Flats) && s.Arc == nil:
		l.add(flats(s, part.Left), s.Span, s.Left.Flats, l.acrossFlats(s, s.From, s.Left.Flats))
		l.found[flats(s, part.Right)] = l.found[flats(s, part.Left)]
	default:
		l.add(flats(s, part.Left), at(s.From), s.Left.Flats, l.acrossFlats(s, s.From, s.Left.Flats))
		l.add(flats(s, part.Right), at(s.To), s.Right.Flats, l.acrossFlats(s, s.To, s.Right.Flats))
	}
}

func taperEnd(s outline.Stretch, end part.End) key {
	return key{kind: TaperEnd, feature: s.ID(), end: end}
}

func flats(s outline.Stretch, end part.End) key {
	return key{kind: AcrossFlats, feature: s.Facets.ID(), stretch: s.N, end: end}
}

// acrossFlats returns how far a size across flats may be off: what the profile's
// diameter may be, where it is drawn across flats.
func (l *Limits) acrossFlats(s outline.Stretch, z, across units.Length) band {
	switch {
	case !flatsDrawn(s):
		return l.general(across)
	case s.Kind() == outline.Cylinder:
		return l.turned[s.N-1]
	}
	return l.onLine(s, z)
}

// onLine returns how far the diameter may be off at one end of a stretch that is
// no cylinder. Where the stretch ends between two points of the profile the
// limits lie on the straight lines between theirs.
func (l *Limits) onLine(s outline.Stretch, z units.Length) band {
	n := l.lineOf(s.Span)
	x := l.lines[n]
	switch {
	case z.Equal(x.a.Z):
		return x.left
	case z.Equal(x.b.Z):
		return x.right
	}
	part := z.Minus(x.a.Z).Over(x.b.Z.Minus(x.a.Z))
	between := func(a, b units.Length) units.Length {
		return a.Plus(units.FromFloat(part * b.Minus(a).MM()))
	}
	why := x.left.why
	if why != x.right.why {
		why = say.Of("between ", x.left.why, " and ", x.right.why)
	}
	return band{
		between(x.left.lower, x.right.lower), between(x.left.upper, x.right.upper), why, x.left.general && x.right.general,
	}
}

// lineOf returns which line of the profile a stretch lies on.
func (l *Limits) lineOf(s outline.Span) int {
	for i, x := range l.lines {
		if x.a.Z.Cmp(s.From) <= 0 && s.To.Cmp(x.b.Z) <= 0 {
			return i
		}
	}
	panic("limits: a taper that is on no line of the profile")
}
