// Package work is the work as it stands: the metal on the machine between two
// operations, what an operation takes off it, and what is left. It knows nothing
// of why an operation is done.
//
// Everything stands in the drawing's coordinates: z is 0 at the left end of the
// finished part and grows to the right, a roll is counted counter-clockwise seen
// from the right end. Lengths are whole millionths of a millimetre, so that two
// states are equal or not. Where a line is cut by another the place is rounded to a
// millionth, and so is a slope's diameter there: each cut through a slope may move
// it by a millionth, a cylinder never.
//
// A State is not changed when it is made: After returns another. Its outside and
// its bores are as they are cut; of cross holes, slots, threads and blocks it only
// keeps what was made.
package work

import (
	"math"
	"slices"

	"setover/setup/maker/part"
)

// Stage is how far a piece of the outside has come.
type Stage int

// The stages.
const (
	Bought Stage = iota
	Rough
	Finished
	Facetted
	Threaded
)

// stages are their names.
var stages = []string{"bought", "rough", "finished", "facetted", "threaded"}

// String returns the stage's name.
func (s Stage) String() string { return stages[s] }

// MarshalJSON writes the name.
func (s Stage) MarshalJSON() ([]byte, error) { return []byte(`"` + s.String() + `"`), nil }

// Span is a range along z.
type Span struct {
	From Len `json:"from_mm"`
	To   Len `json:"to_mm"`
}

// Length returns how long the span is.
func (s Span) Length() Len { return s.To - s.From }

// Overlaps reports whether two spans share more than a point.
func (s Span) Overlaps(t Span) bool { return max(s.From, t.From) < min(s.To, t.To) }

// Covers reports whether t lies within s.
func (s Span) Covers(t Span) bool { return s.From <= t.From && t.To <= s.To }

// Meet returns what two spans share; its length is 0 or less where they share
// nothing.
func (s Span) Meet(t Span) Span { return Span{max(s.From, t.From), min(s.To, t.To)} }

// Piece is a piece of the outside between two z, straight from the diameter at
// its left to that at its right. Sides is 0 where it is round; on a polygon the
// diameters are those through the corners, on a pair of flats (2 sides) those of
// the round. FlatLeft and FlatRight are the diameter of the circle that its flats
// touch, 0 where it is round; corners that were turned off leave a polygon as long
// as that circle is smaller, but for the rounding where it begins.
type Piece struct {
	Span
	Left, Right         Len
	Stage               Stage
	Sides               int
	FlatLeft, FlatRight Len
}

// at returns the piece's diameter at z, which lies in it.
func (p Piece) at(z Len) Len { return along(p.From, p.To, p.Left, p.Right, z) }

// flat returns the circle its flats touch at z, which lies in it.
func (p Piece) flat(z Len) Len { return along(p.From, p.To, p.FlatLeft, p.FlatRight, z) }

// cut returns the part of the piece within a span that overlaps it.
func (p Piece) cut(s Span) Piece {
	q := p
	q.Span = p.Meet(s)
	q.Left, q.Right = p.at(q.From), p.at(q.To)
	if p.Sides > 0 {
		q.FlatLeft, q.FlatRight = p.flat(q.From), p.flat(q.To)
	}
	return q
}

// Cylinder reports whether its diameter is one.
func (p Piece) Cylinder() bool { return p.Left == p.Right }

// prism reports whether its shape is one all along.
func (p Piece) prism() bool { return p.Left == p.Right && p.FlatLeft == p.FlatRight }

// round returns the piece without flats.
func (p Piece) round() Piece {
	p.Sides, p.FlatLeft, p.FlatRight = 0, 0, 0
	return p
}

// End is how an end of the work stands.
type End struct {
	Faced  bool
	Centre *Centre // the centre hole in it, or nil
	Rim    Len     // across the mouth that is left of a centre hole that a bore went through, or 0
}

// State is the work as it stands.
type State struct {
	Length  Len     // of the finished part: its right end's z
	Outside []Piece // from left to right, without gaps
	Left    End
	Right   End
	Bores   []Bore
	Cross   []Cross
	Slots   []Slot
	Flats   []Flats
	Threads []Thread
	Box     *Block      // of a block: what is left of it,
	Faced   []part.Face // the faces that were milled flat,
	Milled  []Removal   // and the slopes, slots and holes that were cut in it
}

// Bar returns a bar as it was bought, for a part so long: dia is its diameter,
// through the corners where it has sides, and bore that of a tube, 0 of a bar.
func Bar(length Len, s Span, dia Len, sides int, bore Len) State {
	p := Piece{Span: s, Left: dia, Right: dia, Sides: sides}
	if sides > 0 {
		p.FlatLeft = Float(dia.MM() * math.Cos(math.Pi/float64(sides)))
		p.FlatRight = p.FlatLeft
	}
	w := State{Length: length, Outside: []Piece{p}}
	if bore > 0 {
		w.Bores = []Bore{{From: part.Left, Dia: bore, Depth: length, Through: true, Point: flatFloor}}
	}
	return w
}

// Span returns where the work lies.
func (w State) Span() Span {
	if len(w.Outside) == 0 {
		return Span{}
	}
	return Span{w.Outside[0].From, w.Outside[len(w.Outside)-1].To}
}

// EndAt returns how an end stands.
func (w State) EndAt(e part.End) End {
	if e == part.Right {
		return w.Right
	}
	return w.Left
}

func (w *State) setEnd(e part.End, to End) {
	if e == part.Right {
		w.Right = to
	} else {
		w.Left = to
	}
}

// Reach returns the z of an end of the work as it stands.
func (w State) Reach(e part.End) Len {
	if e == part.Right {
		return w.Span().To
	}
	return w.Span().From
}

// Over returns the pieces of the outside that share more than a point with a
// span, cut to it.
func (w State) Over(s Span) []Piece {
	var list []Piece
	for _, p := range w.Outside {
		if p.Overlaps(s) {
			list = append(list, p.cut(s))
		}
	}
	return list
}

// At returns the outside's diameter just left and just right of z: 0 beyond the
// work.
func (w State) At(z Len) (left, right Len) {
	for _, p := range w.Outside {
		if p.From < z && z <= p.To {
			left = p.at(z)
		}
		if p.From <= z && z < p.To {
			right = p.at(z)
		}
	}
	return left, right
}

// Dia returns the outside's diameter at z, the larger one at a step.
func (w State) Dia(z Len) Len { return max(w.At(z)) }

// Largest returns the largest diameter of the outside within a span, that at z
// where the span is a point, and 0 beyond the work. What only touches the span's
// ends does not count.
func (w State) Largest(s Span) Len {
	if s.From == s.To {
		return w.Dia(s.From)
	}
	d := Len(0)
	for _, p := range w.Outside {
		if p.Overlaps(s) {
			in := p.Meet(s)
			d = max(d, p.at(in.From), p.at(in.To))
		}
	}
	return d
}

// Smallest returns the smallest diameter, as Largest the largest. Where a span
// runs out of the work, what is beyond does not count.
func (w State) Smallest(s Span) Len {
	if s.From == s.To {
		left, right := w.At(s.From)
		if left == 0 || right == 0 { // an end of the work
			return max(left, right)
		}
		return min(left, right)
	}
	d, found := Len(0), false
	for _, p := range w.Outside {
		if p.Overlaps(s) {
			in := p.Meet(s)
			least := min(p.at(in.From), p.at(in.To))
			if !found || least < d {
				d, found = least, true
			}
		}
	}
	return d
}

// Surface returns the outside over a span as one piece, where it is one: one
// diameter and one shape. Its stage is that of the least finished part of it, but
// flats or a thread anywhere on it are told. ok is false where there is no metal
// somewhere in the span, or the diameter or the shape changes.
func (w State) Surface(s Span) (p Piece, ok bool) {
	if s.Length() <= 0 || !w.Span().Covers(s) {
		return Piece{}, false
	}
	least, most := Threaded, Bought
	for _, q := range w.Outside {
		if !q.Overlaps(s) {
			continue
		}
		least, most = min(least, q.Stage), max(most, q.Stage)
		q.Span, q.Stage = s, Bought
		if !ok {
			p, ok = q, true
		}
		if !q.prism() || q != p {
			return Piece{}, false
		}
	}
	if p.Stage = least; most > Finished {
		p.Stage = most
	}
	return p, ok
}

// AcrossFlats returns the distance across the flats at z, the smaller one where
// two shapes meet, and whether there are any: of an even number of sides from flat
// to flat, of an odd one from a flat to the corner opposite as it stands.
func (w State) AcrossFlats(z Len) (across Len, ok bool) {
	for _, p := range w.Outside {
		if p.Sides == 0 || z < p.From || p.To < z {
			continue
		}
		a := p.flat(z)
		if p.Sides%2 == 1 {
			a = (a + p.at(z)) / 2
		}
		if !ok || a < across {
			across, ok = a, true
		}
	}
	return across, ok
}

// Bore returns how wide the work is bored at z, 0 where it is solid and beyond it.
// At the floor of a bore that is its diameter. Centre holes are not counted.
func (w State) Bore(z Len) Len {
	if s := w.Span(); z < s.From || s.To < z {
		return 0
	}
	d := Len(0)
	for _, b := range w.Bores {
		d = max(d, b.at(z, w))
	}
	return d
}

// Mouth returns how wide the cone is that a 60 deg centre could stand in at an end
// now: the mouth of its centre hole, what is left of that where a bore went through
// it, or the widest countersink of a bore, of 60 deg included or more. ok is false
// where there is none, or a bore as wide has taken it away.
func (w State) Mouth(e part.End) (dia Len, ok bool) {
	end := w.EndAt(e)
	dia = end.Rim
	if end.Centre != nil {
		dia = max(dia, end.Centre.Dia)
	}
	z, straight := w.Reach(e), Len(0)
	for _, b := range w.Bores {
		switch d := b.at(z, w); {
		case b.From != e || b.Cone() < centreAngle:
			straight = max(straight, d)
		case z != b.z(b.Depth, w.Length): // else it is cut away to its bottom
			dia = max(dia, d)
		}
	}
	return dia, dia > straight
}

// After returns the work after removals, one after the other. What meets no metal
// changes nothing.
func (w State) After(list ...Removal) State {
	for _, r := range list {
		w = r.from(w)
	}
	return w
}

// Measured returns the work where the piece about z has the diameter that was
// measured on it: the whole of it, moved in or out alike. At a step that is the
// piece on its right; beyond the work nothing changes.
func (w State) Measured(z, dia Len) State { return w.MeasuredOver(w.Span(), z, dia) }

// MeasuredOver is the same of what of the piece lies in a span: where a surface
// that is still rough was measured for what is finished there.
func (w State) MeasuredOver(s Span, z, dia Len) State {
	for i, p := range w.Outside {
		if p.From > z || z > p.To || z == p.To && i < len(w.Outside)-1 {
			continue
		}
		mid := p.Meet(s)
		list := slices.Clone(w.Outside[:i])
		for _, part := range []Span{{p.From, mid.From}, mid, {mid.To, p.To}} {
			switch {
			case part.Length() <= 0:
			case part == mid:
				list = append(list, p.cut(part).moved(dia-p.at(z)))
			default:
				list = append(list, p.cut(part))
			}
		}
		w.Outside = joined(append(list, w.Outside[i+1:]...))
		return w
	}
	return w
}

// moved returns the piece with its diameters, and those of a polygon's flats,
// larger by off.
func (p Piece) moved(off Len) Piece {
	p.Left, p.Right = max(0, p.Left+off), max(0, p.Right+off)
	if p.Sides > 2 {
		p.FlatLeft, p.FlatRight = max(0, p.FlatLeft+off), max(0, p.FlatRight+off)
	}
	if p.Sides == 2 && p.FlatLeft+p.FlatRight >= p.Left+p.Right {
		p = p.round()
	}
	return p
}
