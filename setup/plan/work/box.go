package work

import (
	"math"
	"slices"

	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// milled returns the work with a slope, a slot or a hole more in it.
func (w State) milled(r Removal) State {
	w.Milled = append(slices.Clone(w.Milled), r)
	return w
}

// Cuboid is a box within a block: from the left front lower corner to the right back
// upper one.
type Cuboid struct{ From, To [3]Len }

// on returns a face, the top where none is said.
func on(f part.Face) part.Face {
	if f == part.NoFace {
		return part.Top
	}
	return f
}

// into returns the box of what is cut from a face: over two ranges along the face's
// axes, and so deep, nil through.
func (b Block) into(f part.Face, u, v Span, depth *Len) Cuboid {
	f = on(f)
	a, c, w := f.Axes()
	var x Cuboid
	x.From[a], x.To[a] = max(0, u.From), min(b.Size[a], u.To)
	x.From[c], x.To[c] = max(0, v.From), min(b.Size[c], v.To)
	x.To[w] = b.Size[w]
	switch {
	case depth == nil:
	case f.Far():
		x.From[w] = b.Size[w] - *depth
	default:
		x.To[w] = *depth
	}
	return x
}

// Around returns the smallest box round what a removal takes of a block: what is left
// of the block is never less than what is left beside it. ok is false for one that is
// none of a block's.
func (b Block) Around(r Removal) (x Cuboid, ok bool) {
	wide := func(at, half Len) Span { return Span{at - half, at + half} }
	switch r := r.(type) {
	case Slope:
		deep := r.Drop(b)
		return b.into(r.Face, Span{r.FromX, r.ToX}, Span{0, b.Size[1]}, &deep), true
	case BlockHole:
		return b.into(r.Face, wide(r.X, r.Dia/2), wide(r.Y, r.Dia/2), r.Depth), true
	case BlockSlot: // a slot reaches half its width beyond the middles of its round ends
		a, reach := float64(r.Angle)/1e6*math.Pi/180, (r.Length-r.Width).MM()/2
		u, v := Float(reach*math.Abs(math.Cos(a)))+r.Width/2, Float(reach*math.Abs(math.Sin(a)))+r.Width/2
		return b.into(r.Face, wide(r.X, u), wide(r.Y, v), r.Depth), true
	}
	return Cuboid{}, false
}

// Drop returns how far the lowest corner of a slope lies below its face: see
// part.Slope.
func (s Slope) Drop(b Block) Len {
	x, y := units.Degrees(float64(s.AlongX)/1e6), units.Degrees(float64(s.AlongY)/1e6)
	return Float((s.ToX-s.FromX).MM()*math.Abs(x.Tan()) + b.Size[1].MM()*math.Abs(y.Tan()))
}

// Fall returns how far a slope lies below its face at x and y, also beyond its ends, where
// it rises above the face: see part.Slope.
func (s Slope) Fall(b Block, x, y Len) Len {
	rise := func(l Len, a Deg) float64 { return l.MM() * units.Degrees(float64(a)/1e6).Tan() }
	high := max(rise(s.FromX, s.AlongX), rise(s.ToX, s.AlongX)) + max(0, rise(b.Size[1], s.AlongY))
	return Float(high - rise(x, s.AlongX) - rise(y, s.AlongY))
}

// Touches reports whether a box reaches a face of the block, or leaves less than a wall
// before it.
func (b Block) Touches(x Cuboid, f part.Face, wall Len) bool {
	_, _, w := on(f).Axes()
	if f.Far() || f == part.NoFace {
		return b.Size[w]-x.To[w] < wall
	}
	return x.From[w] < wall
}
