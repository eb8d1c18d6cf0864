// Package outline is a turned part as its drawing means it, worked out once for
// everything that looks at the metal: the outside cut into stretches where
// anything begins or ends on it, shoulders, ends, and every feature with its
// place along z and with what it lies on.
//
// z is the drawing's: 0 at the left end, growing to the right. Sizes are those
// of the finished part, but for Size.Turned, which is before flats are cut.
// Lengths are exact where the drawing's are; what comes of a division, a root
// or an angle is rounded once, to 1e-9 mm.
//
// An Outline is not changed when it is made, and its features point at one
// another: copy it, and the copy points into the first.
package outline

import (
	"slices"
	"sort"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// Outline is a turned part. Stretches run from left to right without a gap.
// Every list but Stretches and Shoulders is in the order of the file.
type Outline struct {
	Length    units.Length
	Stretches []Stretch
	Shoulders []Shoulder
	Facets    []Facets
	Threads   []Thread
	Bores     []Bore
	Holes     []Hole // rows expanded, roll by roll, after the single ones
	Slots     []Slot
	Chamfers  []Chamfer // cut off the stretches, which are as the profile has them

	unfit problem.List
}

// New works a part out. It fails on a thread whose designation is none, on a
// row of holes that cannot be, and on a hole of a row beyond the part. What
// part.Check refuses is not looked for again.
func New(r *part.Round) (*Outline, error) {
	o := &Outline{Length: r.Length()}
	var bad problem.List
	bad.Add(o.drill(r))
	bad.Add(o.thread(r))
	if len(bad) > 0 {
		return nil, bad
	}
	for _, f := range r.Facets {
		o.Facets = append(o.Facets, Facets{Facets: f, Span: Span{f.From, f.To}})
	}
	for _, b := range r.Bores {
		o.Bores = append(o.Bores, o.bore(b))
	}
	for _, s := range r.Slots {
		half := s.Length.Half()
		o.Slots = append(o.Slots, Slot{Slot: s, Span: Span{s.Z.Minus(half), s.Z.Plus(half)}})
	}
	o.cut(r)
	for i, c := range r.Chamfers {
		o.chamfer(i+1, c)
	}
	o.number()
	o.bind()
	return o, nil
}

// Span is a range along z.
type Span struct {
	From units.Length `json:"from_mm"`
	To   units.Length `json:"to_mm"`
}

// Length returns how long the span is.
func (s Span) Length() units.Length { return s.To.Minus(s.From) }

// Overlaps reports whether two spans share more than a point.
func (s Span) Overlaps(t Span) bool { return s.From.Less(t.To) && t.From.Less(s.To) }

// Covers reports whether t lies within s.
func (s Span) Covers(t Span) bool { return s.From.Cmp(t.From) <= 0 && t.To.Cmp(s.To) <= 0 }

// Words implements say.Quantity: "z 14 mm to 46 mm".
func (s Span) Words() (mm, inch string) { return say.Of("z ", s.From, " to ", s.To).Words() }

// Whole returns the span of the part.
func (o *Outline) Whole() Span { return Span{To: o.Length} }

// FromEnd returns the span from one end of the part inward.
func (o *Outline) FromEnd(end part.End, l units.Length) Span {
	if end == part.Right {
		return Span{From: o.Length.Minus(l), To: o.Length}
	}
	return Span{To: l}
}

// End returns how large the part is at one of its ends.
func (o *Outline) End(end part.End) Size {
	if end == part.Right {
		return o.Stretches[len(o.Stretches)-1].Right
	}
	return o.Stretches[0].Left
}

// At returns the stretches that touch z: one, two where they meet there, none
// beyond the part.
func (o *Outline) At(z units.Length) []Stretch {
	i := sort.Search(len(o.Stretches), func(i int) bool { return z.Cmp(o.Stretches[i].To) <= 0 })
	j := i
	for j < len(o.Stretches) && o.Stretches[j].From.Cmp(z) <= 0 {
		j++
	}
	return o.Stretches[i:j]
}

// Over returns the stretches that share more than a point with a span.
func (o *Outline) Over(s Span) []Stretch {
	i := sort.Search(len(o.Stretches), func(i int) bool { return s.From.Less(o.Stretches[i].To) })
	j := i
	for j < len(o.Stretches) && o.Stretches[j].Overlaps(s) {
		j++
	}
	return o.Stretches[i:j]
}

// DiaAt returns the outside's diameter at z as it is drawn, the larger at a
// shoulder, 0 beyond the part. Chamfers count.
func (o *Outline) DiaAt(z units.Length) units.Length {
	var d units.Length
	for _, s := range o.At(z) {
		here := s.At(z).Drawn
		for _, c := range o.Chamfers {
			if c.On(s) && c.Span.Covers(Span{z, z}) {
				here = units.Min(here, c.DiaAt(z))
			}
		}
		d = units.Max(d, here)
	}
	return d
}

// Largest returns the largest diameter that is turned: what the bar must have.
func (o *Outline) Largest() units.Length {
	var d units.Length
	for _, s := range o.Stretches {
		d = units.Max(d, s.Large())
	}
	return d
}

// Core returns the diameter of the largest rod inside the outside over a span:
// what flats and the roots of outside threads leave. It is 0 beyond the part.
func (o *Outline) Core(span Span) units.Length {
	var d units.Length
	for i, s := range o.Over(span) {
		c := s.Core(span)
		if i == 0 || c.Less(d) {
			d = c
		}
	}
	return d
}

// cut fills the stretches and shoulders: it cuts the profile where facets and
// outside threads begin and end, and joins cylinders that nothing parts.
func (o *Outline) cut(r *part.Round) {
	var cuts []units.Length
	for _, f := range o.Facets {
		cuts = append(cuts, f.From, f.To)
	}
	for _, t := range o.Threads {
		if !t.Inside {
			cuts = append(cuts, t.Span.From, t.Span.To)
		}
	}
	slices.SortFunc(cuts, units.Length.Cmp)
	cuts = slices.CompactFunc(cuts, units.Length.Equal)
	for i, b := range r.Profile[1:] {
		a := r.Profile[i]
		if a.Z.Equal(b.Z) {
			o.Shoulders = append(o.Shoulders, Shoulder{Z: a.Z, Left: a.Dia, Right: b.Dia})
			continue
		}
		s := Stretch{Span: Span{From: a.Z}, Arc: arcBetween(r.Arcs, a, b), a: a, b: b}
		for _, z := range cuts {
			if s.From.Less(z) && z.Less(b.Z) {
				s.To = z
				o.add(s)
				s.From = z
			}
		}
		s.To = b.Z
		o.add(s)
	}
}

// add adds a stretch with what lies on it, or lengthens the last one by it.
func (o *Outline) add(s Stretch) {
	for i := range o.Facets {
		if o.Facets[i].Span.Covers(s.Span) {
			s.Facets = &o.Facets[i]
		}
	}
	for i := range o.Threads {
		if t := &o.Threads[i]; !t.Inside && t.Span.Covers(s.Span) {
			s.Thread = t
		}
	}
	s.Left, s.Right = s.At(s.From), s.At(s.To)
	if n := len(o.Stretches) - 1; n >= 0 && s.continues(o.Stretches[n]) {
		o.Stretches[n].To = s.To
		return
	}
	o.Stretches = append(o.Stretches, s)
}
