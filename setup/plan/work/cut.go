package work

import "slices"

// reshaped returns the work with its outside changed over a span. breaks adds the
// places within a piece where it goes from changed to not, change returns a part
// of a piece between two of them as it is then and whether it is changed. What is
// not changed stays in one piece, so that no line is rounded twice.
func (w State) reshaped(s Span, breaks func(p Piece, list []Len) []Len, change func(p Piece) (Piece, bool)) State {
	list := make([]Piece, 0, len(w.Outside)+4)
	var places [8]Len
	for _, p := range w.Outside {
		if !p.Overlaps(s) {
			list = append(list, p)
			continue
		}
		in := p.Meet(s)
		ends := append(breaks(p.cut(in), append(places[:0], in.From)), in.To)
		slices.Sort(ends)
		done := p.From // up to here p is in the list
		for i := 1; i < len(ends); i++ {
			if ends[i-1] == ends[i] {
				continue
			}
			q, changed := change(p.cut(Span{ends[i-1], ends[i]}))
			if !changed {
				continue
			}
			if done < q.From {
				list = append(list, p.cut(Span{done, q.From}))
			}
			list = append(list, q)
			done = q.To
		}
		switch {
		case done == p.From:
			list = append(list, p)
		case done < p.To:
			list = append(list, p.cut(Span{done, p.To}))
		}
	}
	w.Outside = joined(list)
	return w
}

// fine is what the rounding of places and diameters leaves: lines that are so near
// do not cross, so that what was cut to a line is not cut to it again.
const fine Len = 2

// crossing adds the place inside a span where two lines over it cross, each given
// by its value at the ends.
func crossing(list []Len, s Span, aLeft, aRight, bLeft, bRight Len) []Len {
	left, right := aLeft-bLeft, aRight-bRight
	if min(left, right) >= -fine || max(left, right) <= fine {
		return list
	}
	z := s.From + mulDiv(s.Length(), abs(left), abs(left)+abs(right))
	if z <= s.From+fine || z >= s.To-fine {
		return list
	}
	return append(list, z)
}

// joined makes neighbours that are one cylinder or prism one piece.
func joined(list []Piece) []Piece {
	out := list[:0]
	for _, p := range list {
		if n := len(out) - 1; n >= 0 && p.prism() {
			q := out[n]
			q.Span = p.Span
			if q == p {
				out[n].To = p.To
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

// lowered returns the work where its outside is at most a straight line from a to
// b, of which every piece that was cut, or is met exactly, is at a stage. Flats
// stay where they are deeper than that.
func (w State) lowered(a, b Point, stage Stage) State {
	line := Piece{Span: Span{a.Z, b.Z}, Left: max(0, a.Dia), Right: max(0, b.Dia)}
	breaks := func(p Piece, list []Len) []Len {
		t := line.cut(p.Span)
		list = crossing(list, p.Span, p.Left, p.Right, t.Left, t.Right)
		if p.Sides > 0 {
			list = crossing(list, p.Span, p.FlatLeft, p.FlatRight, t.Left, t.Right)
		}
		return list
	}
	return w.reshaped(line.Span, breaks, func(p Piece) (Piece, bool) {
		t := line.cut(p.Span)
		switch exact := p.Left == t.Left && p.Right == t.Right; {
		case exact && p.Stage < stage:
			p.Stage = stage
			return p, true
		case p.Left+p.Right <= t.Left+t.Right:
			return p, false
		}
		p = p.within(t)
		if p.Sides > 0 && p.FlatLeft+p.FlatRight < p.Left+p.Right {
			p.Stage = max(p.Stage, stage)
			return p, true
		}
		p.Stage = stage
		return p.round(), true
	})
}

// within returns the piece cut down to a line that does not cross it: it is the
// line then, also where rounding the place put it a millionth or two beyond.
func (p Piece) within(line Piece) Piece {
	if p.Left+p.Right > line.Left+line.Right {
		p.Left, p.Right = line.Left, line.Right
	}
	return p
}

// flatted returns the work with flats cut on it, where it reaches beyond them. Of
// two sets of flats on one stretch the deeper one is told, as if the other were not
// there.
func (w State) flatted(f Flats) State {
	corners, flats := f.lines()
	breaks := func(p Piece, list []Len) []Len {
		c, t := corners.cut(p.Span), flats.cut(p.Span)
		list = crossing(list, p.Span, p.Left, p.Right, t.Left, t.Right)
		if f.Sides > 2 {
			list = crossing(list, p.Span, p.Left, p.Right, c.Left, c.Right)
		}
		if p.Sides > 0 {
			list = crossing(list, p.Span, p.FlatLeft, p.FlatRight, t.Left, t.Right)
		}
		return list
	}
	return w.reshaped(corners.Span, breaks, func(p Piece) (Piece, bool) {
		t := flats.cut(p.Span)
		if p.Left+p.Right <= t.Left+t.Right {
			return p, false
		}
		was := p
		if f.Sides > 2 {
			p = p.within(corners.cut(p.Span))
		}
		if p.Sides == 0 || t.Left+t.Right <= p.FlatLeft+p.FlatRight {
			p.Sides, p.FlatLeft, p.FlatRight = f.Sides, t.Left, t.Right
			p.Stage = max(p.Stage, Facetted)
		}
		return p, p != was
	})
}

// threaded returns the work with an outside thread over a span.
func (w State) threaded(s Span) State {
	none := func(_ Piece, list []Len) []Len { return list }
	return w.reshaped(s, none, func(p Piece) (Piece, bool) {
		changed := p.Stage != Threaded
		p.Stage = Threaded
		return p, changed
	})
}
