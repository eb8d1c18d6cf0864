package work

import "setover/setup/maker/part"

// Above returns how long along z an operation that leaves the work as after cuts
// metal of the layer from the diameter low up to high: where the work reaches
// into the layer and is cut there. What is cut off with an end does not count.
func (w State) Above(after State, low, high Len) Len {
	var long Len
	for _, p := range w.Outside {
		for _, q := range after.Over(p.Span) {
			b := p.cut(q.Span)
			s := q.Span
			s = s.Meet(above(q.Span, b.Left-low, b.Right-low))
			s = s.Meet(above(q.Span, b.Left-q.Left, b.Right-q.Right))
			s = s.Meet(above(q.Span, high-q.Left, high-q.Right))
			long += max(0, s.Length())
		}
	}
	return long
}

// AboveBy returns how long along z the work is cut by more than off on the
// diameter: what a pass that still leaves off meets.
func (w State) AboveBy(after State, off Len) Len {
	var long Len
	for _, p := range w.Outside {
		for _, q := range after.Over(p.Span) {
			b := p.cut(q.Span)
			long += above(q.Span, b.Left-q.Left-off, b.Right-q.Right-off).Length()
		}
	}
	return long
}

// above returns where over a span the line from l to r is above 0, and by more
// than rounding leaves; the place where it gets there is rounded to a millionth.
func above(s Span, l, r Len) Span {
	switch {
	case max(l, r) <= fine:
		return Span{s.From, s.From}
	case l >= 0 && r >= 0:
		return s
	}
	z := s.From + mulDiv(s.Length(), abs(l), abs(l)+abs(r))
	if l > 0 {
		return Span{s.From, z}
	}
	return Span{z, s.To}
}

// Grown returns a span that reaches further at one end.
func (s Span) Grown(e part.End, by Len) Span {
	if e == part.Right {
		s.To += by
	} else {
		s.From -= by
	}
	return s
}
