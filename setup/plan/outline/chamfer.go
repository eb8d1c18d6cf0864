package outline

import (
	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// Chamfer is a short cone at an edge of the outside: at an end of the part or
// at the larger side of a shoulder. Left and Right are its diameters at the ends
// of its span. On a polygon they are across its corners.
type Chamfer struct {
	part.Chamfer
	N           int // from 1, as in the file
	Span        Span
	Left, Right units.Length
}

// ID returns the chamfer's id.
func (c Chamfer) ID() string { return ChamferID(c.N) }

// Inner returns where it ends in the full diameter, along the bar.
func (c Chamfer) Inner() units.Length {
	if c.Span.From.Equal(c.Z) {
		return c.Span.To
	}
	return c.Span.From
}

// On reports whether the chamfer is cut off a stretch.
func (c Chamfer) On(s Stretch) bool { return s.Span.Overlaps(c.Span) }

// DiaAt returns its diameter at z, which lies in its span: exact where it
// divides, else to 1e-9 mm.
func (c Chamfer) DiaAt(z units.Length) units.Length {
	a := part.Station{Z: c.Span.From, Dia: c.Left}
	return a.Toward(part.Station{Z: c.Span.To, Dia: c.Right}, z)
}

// chamfer places the n-th chamfer. Of the stretches that meet at its edge it is on the
// larger one, and runs from there to where the outside has its full diameter.
// It is left out where there is no edge, which part.Check refuses.
func (o *Outline) chamfer(n int, c part.Chamfer) {
	var on *Stretch
	for i := range o.Stretches {
		s := &o.Stretches[i]
		if !s.From.Equal(c.Z) && !s.To.Equal(c.Z) {
			continue
		}
		if on == nil || on.At(c.Z).Drawn.Less(s.At(c.Z).Drawn) {
			on = s
		}
	}
	if on == nil {
		return
	}
	x := Chamfer{Chamfer: c, N: n}
	deep, along := c.Size.Times(2), on.chamfered(c)
	if on.From.Equal(c.Z) {
		x.Span = Span{c.Z, c.Z.Plus(along)}
		x.Left, x.Right = on.At(c.Z).Corners.Minus(deep), on.At(x.Span.To).Corners
	} else {
		x.Span = Span{c.Z.Minus(along), c.Z}
		x.Left, x.Right = on.At(x.Span.From).Corners, on.At(c.Z).Corners.Minus(deep)
	}
	o.Chamfers = append(o.Chamfers, x)
}

// chamfered returns how far along the bar a chamfer of the size c at an end of a stretch
// goes, at 45 deg: to where it meets a side that rises by m inward,
//
//	c / (1 - m)
//
// the chord of an arc for its side. One that rises by 45 deg or more it meets nowhere: c.
func (s *Stretch) chamfered(c part.Chamfer) units.Length {
	inner := c.Z.Plus(c.Size)
	if s.To.Equal(c.Z) {
		inner = c.Z.Minus(c.Size)
	}
	if s.Kind() == Cylinder || inner.Less(s.From) || s.To.Less(inner) {
		return c.Size
	}
	rise := s.At(inner).Turned.Minus(s.At(c.Z).Turned).Half().Over(c.Size)
	if rise >= 1 {
		return c.Size
	}
	return units.Min(units.FromFloat(c.Size.MM()/(1-rise)), s.Length())
}
