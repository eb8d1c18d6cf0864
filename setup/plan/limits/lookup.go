package limits

import (
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
)

// What is asked for by the features of the outline comes back as one dimension,
// the zero one where the part has none such.

// General returns a dimension that has no method here, with the general
// tolerance of what is drawn. It fails where the part's class has none.
func (l *Limits) General(kind Kind, feature string, over outline.Span, drawn units.Length) (Dimension, error) {
	off, err := l.class.Linear(drawn)
	return Dimension{
		Kind: kind, Feature: feature, From: over.From, To: over.To,
		Drawn: drawn, Low: drawn.Minus(off), High: drawn.Plus(off), Why: l.byStandard(drawn), General: true,
	}, err
}

// Length returns the length of a turned part.
func (l *Limits) Length() Dimension { return l.get(key{kind: Length, feature: outline.WholeLength}) }

// Lengths returns the lengths between two points of the profile that rows of
// limits hold, in their order, and without that of the whole part.
func (l *Limits) Lengths() []Dimension { return l.lengths }

// Shoulder returns the place of a shoulder.
func (l *Limits) Shoulder(s outline.Shoulder) Dimension {
	return l.get(key{kind: Place, feature: s.ID()})
}

// Outside returns the diameter of a cylinder. There is none where a thread
// stands on it, or where the profile's diameter is across flats.
func (l *Limits) Outside(s outline.Stretch) Dimension {
	return l.get(key{kind: Diameter, feature: s.ID()})
}

// Diameter returns the diameter of the cylinder at z; of two that meet there
// that of the larger.
func (l *Limits) Diameter(z units.Length) Dimension {
	var d Dimension
	for _, s := range l.outline.At(z) {
		if x := l.Outside(s); !d.Known() || d.Drawn.Less(x.Drawn) {
			d = x
		}
	}
	return d
}

// TaperEnd returns the diameter at an end of a taper or a curve. There is none
// where the profile's diameters are across flats.
func (l *Limits) TaperEnd(s outline.Stretch, end part.End) Dimension { return l.get(taperEnd(s, end)) }

// HalfAngle returns the half angle of the taper that a stretch is of, where it
// has limits.
func (l *Limits) HalfAngle(s outline.Stretch) (Dimension, bool) {
	for _, d := range l.angles {
		if (outline.Span{From: d.From, To: d.To}).Covers(s.Span) {
			return d, true
		}
	}
	return Dimension{}, false
}

// Flats returns the size across the flats of a stretch at one of its ends; that
// of a stretch with parallel flats is the same at both.
func (l *Limits) Flats(s outline.Stretch, end part.End) Dimension {
	if s.Facets == nil {
		return Dimension{}
	}
	return l.get(flats(s, end))
}

// ThreadBlank returns the diameter that an outside thread is cut on.
func (l *Limits) ThreadBlank(t outline.Thread) Dimension {
	return l.get(key{kind: ThreadBlank, feature: t.ID()})
}

// Thread returns the pitch diameter of a thread.
func (l *Limits) Thread(t outline.Thread) Dimension { return l.get(key{kind: Thread, feature: t.ID()}) }

// Bore returns the diameter of a bore.
func (l *Limits) Bore(b outline.Bore) Dimension { return l.get(key{kind: Bore, feature: b.ID()}) }

// BoreDepth returns the depth of a bore that is not through.
func (l *Limits) BoreDepth(b outline.Bore) Dimension { return l.get(key{kind: Depth, feature: b.ID()}) }

// Hole returns the diameter of a cross hole.
func (l *Limits) Hole(h outline.Hole) Dimension { return l.get(key{kind: Hole, feature: h.ID()}) }

// HolePlace returns the place of a cross hole.
func (l *Limits) HolePlace(h outline.Hole) Dimension { return l.get(key{kind: Place, feature: h.ID()}) }

// HoleDepth returns the depth of a cross hole that is not through.
func (l *Limits) HoleDepth(h outline.Hole) Dimension { return l.get(key{kind: Depth, feature: h.ID()}) }

// BlockSize returns how large a block is: outline.WholeLength, WholeWidth or
// WholeHeight.
func (l *Limits) BlockSize(id string) Dimension { return l.get(key{kind: Length, feature: id}) }

// BlockHole returns the diameter of a block's n-th hole.
func (l *Limits) BlockHole(n int) Dimension {
	return l.get(key{kind: Hole, feature: outline.HoleID(n)})
}

// BlockHolePlace returns the places of a block's n-th hole along x and y.
func (l *Limits) BlockHolePlace(n int) (x, y Dimension) {
	id := outline.HoleID(n)
	return l.get(key{kind: Place, feature: id}), l.get(key{kind: Place, feature: id, alongY: true})
}

// BlockThread returns the pitch diameter of the thread in a block's n-th hole.
func (l *Limits) BlockThread(n int) Dimension {
	return l.get(key{kind: Thread, feature: outline.HoleID(n)})
}

// BlockHoleDepth returns the depth of a block's n-th hole that is not through.
func (l *Limits) BlockHoleDepth(n int) Dimension {
	return l.get(key{kind: Depth, feature: outline.HoleID(n)})
}

// SlotPlace returns the place of a slot across the bar.
func (l *Limits) SlotPlace(s outline.Slot) Dimension { return l.get(key{kind: Place, feature: s.ID()}) }

// SlotLength returns the length of the n-th slot of a bar or a block.
func (l *Limits) SlotLength(n int) Dimension {
	return l.get(key{kind: Length, feature: outline.SlotID(n)})
}

// SlotWidth returns the width of the n-th slot.
func (l *Limits) SlotWidth(n int) Dimension {
	return l.get(key{kind: Length, feature: outline.SlotID(n), alongY: true})
}

// SlotDepth returns the depth of the n-th slot that is not through.
func (l *Limits) SlotDepth(n int) Dimension {
	return l.get(key{kind: Depth, feature: outline.SlotID(n)})
}

// Chamfer returns the height of the n-th chamfer.
func (l *Limits) Chamfer(n int) Dimension {
	return l.get(key{kind: Length, feature: outline.ChamferID(n)})
}
