package outline

import (
	"math"

	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/tapers/facets"
)

// Size is how large the part is at one place. On a round all its figures are
// one diameter.
type Size struct {
	Drawn   units.Length // as the profile has it
	Flats   units.Length // across flats, finished; with an odd number of sides from flat to corner
	Corners units.Length // across corners, finished
	Core    units.Length // of the circle that touches the flats, finished
	Turned  units.Length // of the round it is turned to: through the corners, of drawn flats with what is left on them
}

// Stretch is a piece of the outside with nothing beginning or ending in it: a
// cylinder, a taper or a curve, round or facetted all the way, threaded all the
// way or not at all.
type Stretch struct {
	Span
	N           int     // from 1, from the left
	Left, Right Size    // at its two ends
	Facets      *Facets // nil where it is round
	Arc         *Arc    // nil where it is straight
	Thread      *Thread // the outside thread on it, or nil

	a, b part.Station // of the profile, between which it lies
}

// Kind is what a stretch is as it is turned, before flats are cut.
type Kind string

// The kinds of stretch.
const (
	Cylinder Kind = "cylinder"
	Taper    Kind = "taper"
	Curve    Kind = "curve"
)

// Kind returns what a stretch is.
func (s Stretch) Kind() Kind {
	switch {
	case s.Arc != nil:
		return Curve
	case s.Left.Drawn.Equal(s.Right.Drawn):
		return Cylinder
	}
	return Taper
}

// continues reports whether a stretch and the one before it are one cylinder.
func (s Stretch) continues(o Stretch) bool {
	return s.Kind() == Cylinder && o.Kind() == Cylinder && s.Left.Drawn.Equal(o.Right.Drawn) &&
		s.Facets == o.Facets && s.Thread == o.Thread
}

// At returns how large it is at z, which lies in it.
func (s Stretch) At(z units.Length) Size {
	dia := s.a.Toward(s.b, z)
	if s.Arc != nil && !z.Equal(s.a.Z) && !z.Equal(s.b.Z) {
		dia = units.FromFloat(2 * s.Arc.radiusAt(z.MM()))
	}
	if s.Facets != nil {
		return s.Facets.size(dia)
	}
	return Size{dia, dia, dia, dia, dia}
}

// Large returns the largest diameter it is turned to: that of its larger end,
// or of the crest of an arc.
func (s Stretch) Large() units.Length {
	d := units.Max(s.Left.Turned, s.Right.Turned)
	if s.Arc == nil {
		return d
	}
	crest := units.FromFloat(s.Arc.Z)
	return units.Max(d, s.At(units.Max(s.From, units.Min(crest, s.To))).Turned)
}

// Core returns the diameter of the largest rod inside it over a span, which
// overlaps it: that of the circle its flats touch, and of a thread's root.
func (s Stretch) Core(span Span) units.Length {
	from, to := units.Max(s.From, span.From), units.Min(s.To, span.To)
	d := units.Min(s.At(from).Core, s.At(to).Core)
	if s.Arc != nil && !s.Arc.Out { // its waist
		waist := units.Max(from, units.Min(units.FromFloat(s.Arc.Z), to))
		d = units.Min(d, s.At(waist).Core)
	}
	if s.Thread != nil {
		d = units.Min(d, s.Thread.Designation.Sizes().MinorExternal)
	}
	return d
}

// Shoulder is a step of the profile: the diameters to the left and the right
// of it, as drawn.
type Shoulder struct {
	N              int // from 1, from the left
	Z, Left, Right units.Length
}

// Arc is a curve of the profile with its centre in mm: Z along the bar, and R
// from its axis, below 0 beyond it.
type Arc struct {
	part.Arc
	Z, R float64
}

// arcBetween returns the arc that takes the place of the line from a to b, or
// nil. Its centre stands square to the chord c over its middle, at
//
//	h = √(R² - c²/4)
//
// from it, toward the axis where the arc bulges out.
//
// Source: elementary.
func arcBetween(list []part.Arc, a, b part.Station) *Arc {
	for _, c := range list {
		if !c.From.Equal(a.Z) {
			continue
		}
		z1, r1, z2, r2 := a.Z.MM(), a.Dia.MM()/2, b.Z.MM(), b.Dia.MM()/2
		radius, chord := c.Radius.MM(), math.Hypot(z2-z1, r2-r1)
		h := math.Sqrt(max(0, radius*radius-chord*chord/4)) / chord
		if !c.Out {
			h = -h
		}
		return &Arc{c, (z1+z2)/2 + h*(r2-r1), (r1+r2)/2 - h*(z2-z1)}
	}
	return nil
}

// radiusAt returns how far the arc is from the bar's axis at z, in mm.
func (a Arc) radiusAt(z float64) float64 {
	radius := a.Radius.MM()
	rise := math.Sqrt(max(0, radius*radius-(z-a.Z)*(z-a.Z)))
	if !a.Out {
		rise = -rise
	}
	return max(0, a.R+rise)
}

// Facets is a stretch of the outside that is a polygon.
type Facets struct {
	part.Facets
	N    int // from 1, as in the file
	Span Span
}

// size returns how large the polygon is where the profile has the diameter d. A
// diameter across corners is the round to turn, whatever is left on the flats: it is what
// is drawn, and the flats come down into it until they meet. One across flats is turned so
// large that the flats meet with what is left on them.
// Two flats leave the round between them as it is.
func (f Facets) size(d units.Length) Size {
	if f.Sides == 2 {
		return Size{d, f.Across, d, units.Min(f.Across, d), d}
	}
	p := facets.OfFlats(f.Sides, d)
	if f.Corners {
		p = facets.OfCorners(f.Sides, d)
	}
	s := Size{d, p.AcrossFlats(), p.AcrossCorners(), p.Apothem.Times(2), p.Blank(f.Leave)}
	switch {
	case !f.Corners:
		s.Flats = d
	default:
		s.Corners, s.Turned = d, d
	}
	return s
}
