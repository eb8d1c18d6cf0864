// Package work is the work as it stands: the metal on the machine between two
// operations, what an operation takes off it, and what is left. It knows nothing
// of why an operation is done.
//
// Everything stands in the drawing's coordinates: z is 0 at the left end of the
// finished part and grows to the right, a roll is counted counter-clockwise seen
// from the right end. Lengths are whole millionths of a millimetre, so that two
// states are equal or not; where a line is cut by another, the place is rounded
// once to a millionth.
//
// A State is not changed when it is made: After returns another.
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
func (s Span) Overlaps(t Span) bool { return s.From < t.To && t.From < s.To }

// Covers reports whether t lies within s.
func (s Span) Covers(t Span) bool { return s.From <= t.From && t.To <= s.To }

// Meet returns what two spans share; its length is 0 or less where they share
// nothing.
func (s Span) Meet(t Span) Span { return Span{max(s.From, t.From), min(s.To, t.To)} }

// Piece is a piece of the outside between two z, straight from the diameter at
// its left to that at its right. Sides is 0 where it is round; on a polygon the
// diameters are those through the corners, on a pair of flats those of the round.
type Piece struct {
	Span
	Left, Right Len
	Stage       Stage
	Sides       int
}

// at returns the piece's diameter at z, which lies in it.
func (p Piece) at(z Len) Len {
	switch {
	case z == p.From:
		return p.Left
	case z == p.To:
		return p.Right
	}
	return along(p.From, p.To, p.Left, p.Right, z)
}

// cut returns the part of the piece within a span that overlaps it.
func (p Piece) cut(s Span) Piece {
	s = p.Meet(s)
	p.Left, p.Right, p.Span = p.at(s.From), p.at(s.To), s
	return p
}

// Cylinder reports whether its diameter is one.
func (p Piece) Cylinder() bool { return p.Left == p.Right }

// End is how an end of the work stands.
type End struct {
	Faced  bool
	Centre *Centre // the centre hole in it, or nil
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
	Box     *Block // of a block: what is left of it
}

// Bar returns a bar as it was bought, of a part so long.
func Bar(length Len, s Span, dia Len, sides int, bore Len) State {
	w := State{Length: length, Outside: []Piece{{Span: s, Left: dia, Right: dia, Sides: sides}}}
	if bore > 0 {
		w.Bores = []Bore{{From: part.Left, Dia: bore, Depth: length, Through: true, Point: 180e6}}
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

// Largest and Smallest return the largest and the smallest diameter of the
// outside within a span, 0 beyond the work.
func (w State) Largest(s Span) Len {
	d := Len(0)
	for _, p := range w.Over(s) {
		d = max(d, p.Left, p.Right)
	}
	return d
}

// Smallest is Largest's other side.
func (w State) Smallest(s Span) Len {
	list := w.Over(s)
	if len(list) == 0 {
		return 0
	}
	d := list[0].Left
	for _, p := range list {
		d = min(d, p.Left, p.Right)
	}
	return d
}

// Surface returns the outside over a span as one piece, where it is one: one
// diameter, one shape, and the least finished stage of it. ok is false where
// there is no metal somewhere in the span, or the diameter changes.
func (w State) Surface(s Span) (p Piece, ok bool) {
	list := w.Over(s)
	if len(list) == 0 || !w.Span().Covers(s) || s.Length() <= 0 {
		return Piece{}, false
	}
	p = list[0]
	for _, q := range list {
		if !q.Cylinder() || q.Left != p.Left || q.Sides != p.Sides {
			return Piece{}, false
		}
		p.Stage = min(p.Stage, q.Stage)
	}
	for _, q := range list { // a thread or flats anywhere on it are told
		if q.Stage > Finished {
			p.Stage = q.Stage
		}
	}
	p.Span = s
	return p, true
}

// AcrossFlats returns the distance across the flats that were cut over z, and
// whether any were.
func (w State) AcrossFlats(z Len) (across Len, ok bool) {
	for _, f := range w.Flats {
		if f.From <= z && z <= f.To {
			a := along(f.From, f.To, f.AcrossFrom, f.AcrossTo, z)
			if !ok || a < across {
				across, ok = a, true
			}
		}
	}
	return across, ok
}

// Bore returns the widest bore at z, 0 where it is solid.
func (w State) Bore(z Len) Len {
	d := Len(0)
	for _, b := range w.Bores {
		d = max(d, b.at(z, w.Length))
	}
	return d
}

// Volume returns how much metal there is, in mm³: frustums of the outside less
// what is bored out of it,
//
//	V = π/12·h·(D² + D·d + d²)
//
// Cross holes, slots and flats are left out. Source: elementary.
func (w State) Volume() float64 {
	v := 0.0
	for _, p := range w.Outside {
		v += frustum(p.Length(), p.Left, p.Right)
	}
	for _, b := range w.Bores {
		for _, s := range b.spans(w.Length) {
			if in := s.Meet(w.Span()); in.Length() > 0 {
				v -= frustum(in.Length(), b.at(in.From, w.Length), b.at(in.To, w.Length))
			}
		}
	}
	return v
}

func frustum(h, large, small Len) float64 {
	d, e := large.MM(), small.MM()
	return math.Pi / 12 * h.MM() * (d*d + d*e + e*e)
}

// After returns the work after removals, one after the other.
func (w State) After(list ...Removal) State {
	for _, r := range list {
		w = r.from(w)
	}
	return w
}

// lowered returns the outside where it is at most the profile, of which every
// piece that was cut is at a stage. The profile runs from left to right.
func (w State) lowered(profile []Point, stage Stage, sides int) State {
	out := slices.Clone(w.Outside)
	for i := 1; i < len(profile); i++ {
		a, b := profile[i-1], profile[i]
		if a.Z < b.Z {
			out = lowerTo(out, Piece{Span{a.Z, b.Z}, a.Dia, b.Dia, stage, sides})
		}
	}
	w.Outside = joined(out)
	return w
}

// lowerTo cuts the outside down to one straight piece.
func lowerTo(out []Piece, tool Piece) []Piece {
	var list []Piece
	for _, p := range out {
		if !p.Overlaps(tool.Span) {
			list = append(list, p)
			continue
		}
		if p.From < tool.From {
			list = append(list, p.cut(Span{p.From, tool.From}))
		}
		list = append(list, lower(p.cut(tool.Span), tool.cut(p.Span))...)
		if tool.To < p.To {
			list = append(list, p.cut(Span{tool.To, p.To}))
		}
	}
	return list
}

// lower returns the lower of two pieces over one span, in two where they cross.
func lower(p, tool Piece) []Piece {
	left, right := p.Left-tool.Left, p.Right-tool.Right // above 0: metal is cut there
	switch {
	case left >= 0 && right >= 0:
		if left == 0 && right == 0 {
			tool.Stage, tool.Sides = max(p.Stage, tool.Stage), max(p.Sides, tool.Sides)
		}
		return []Piece{tool}
	case left <= 0 && right <= 0:
		return []Piece{p}
	}
	z := p.From + mulDiv(p.Length(), abs(left), abs(left)+abs(right))
	if z == p.From || z == p.To { // they cross within a millionth of an end
		if abs(left) > abs(right) == (left > 0) {
			return []Piece{tool}
		}
		return []Piece{p}
	}
	near, far := p.cut(Span{p.From, z}), tool.cut(Span{z, p.To})
	if left > 0 {
		near, far = tool.cut(Span{p.From, z}), p.cut(Span{z, p.To})
	}
	far.Left = near.Right
	return []Piece{near, far}
}

// joined makes neighbours that are one cylinder one piece.
func joined(list []Piece) []Piece {
	out := list[:0:0]
	for _, p := range list {
		if p.Length() <= 0 {
			continue
		}
		if n := len(out) - 1; n >= 0 && p.Cylinder() && out[n].Cylinder() && out[n].Left == p.Left &&
			out[n].Stage == p.Stage && out[n].Sides == p.Sides {
			out[n].To = p.To
			continue
		}
		out = append(out, p)
	}
	return out
}

// staged puts a span of the outside at a stage.
func (w State) staged(s Span, stage Stage, sides int) State {
	var list []Piece
	for _, p := range w.Outside {
		if !p.Overlaps(s) {
			list = append(list, p)
			continue
		}
		if p.From < s.From {
			list = append(list, p.cut(Span{p.From, s.From}))
		}
		q := p.cut(s)
		q.Stage, q.Sides = stage, max(q.Sides, sides)
		list = append(list, q)
		if s.To < p.To {
			list = append(list, p.cut(Span{s.To, p.To}))
		}
	}
	w.Outside = joined(list)
	return w
}

// Measured returns the work where the piece about z has the diameter that was
// measured on it: the whole of it, moved in or out alike.
func (w State) Measured(z, dia Len) State {
	w.Outside = slices.Clone(w.Outside)
	for i, p := range w.Outside {
		if p.From <= z && z <= p.To && (z < p.To || i == len(w.Outside)-1) {
			off := dia - p.at(z)
			w.Outside[i].Left, w.Outside[i].Right = max(0, p.Left+off), max(0, p.Right+off)
			return w
		}
	}
	return w
}
