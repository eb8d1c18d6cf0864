package outline

import (
	"strconv"

	"setover/setup/maker/part"
)

// A feature's id is a lower-case word and, where a part can have several, a
// dash and its number from 1. What the file lists is numbered as the file has
// it, holes of rows after the single ones; what the profile makes is numbered
// from the left:
//
//	outside-2    the second stretch of the outside
//	shoulder-1   the first step of the profile
//	bore-1       the first of bores; hole-3, row-1, thread-2, facets-1, slot-1,
//	             slope-1 and chamfer-1 likewise
//	face-left    the face at the left end; face-right
//	length       the part from face to face; length-2 the length between two
//	             places that the second row of limits holds
//	width        a block's size along y; height along z
//
// The ids of how large the whole part is: along the bar or along x, and of a
// block along y and z.
const (
	WholeLength = "length"
	WholeWidth  = "width"
	WholeHeight = "height"
)

// Words of the ids that have a number.
const (
	outside  = "outside"
	shoulder = "shoulder"
	bore     = "bore"
	hole     = "hole"
	row      = "row"
	thread   = "thread"
	facet    = "facets"
	slot     = "slot"
	slope    = "slope"
	chamfer  = "chamfer"
)

func numbered(word string, n int) string { return word + "-" + strconv.Itoa(n) }

// FaceID returns the id of the face at an end of the part.
func FaceID(end part.End) string { return "face-" + string(end) }

// LengthID returns the id of the length that a row of limits holds, the row's
// number from 1.
func LengthID(limit int) string { return numbered(WholeLength, limit) }

// RowID returns the id of a row of holes, its number from 1; 0 gives "".
func RowID(n int) string {
	if n == 0 {
		return ""
	}
	return numbered(row, n)
}

// ChamferID returns the id of a chamfer, its number from 1.
func ChamferID(n int) string { return numbered(chamfer, n) }

// HoleID, SlotID and SlopeID return the ids of a block's features, which have
// no outline, their numbers from 1.
func HoleID(n int) string { return numbered(hole, n) }

// SlotID returns the id of a slot.
func SlotID(n int) string { return numbered(slot, n) }

// SlopeID returns the id of a slope.
func SlopeID(n int) string { return numbered(slope, n) }

// ID returns the stretch's id.
func (s Stretch) ID() string { return numbered(outside, s.N) }

// ID returns the shoulder's id.
func (s Shoulder) ID() string { return numbered(shoulder, s.N) }

// ID returns the facets' id.
func (f Facets) ID() string { return numbered(facet, f.N) }

// ID returns the thread's id.
func (t Thread) ID() string { return numbered(thread, t.N) }

// ID returns the bore's id.
func (b Bore) ID() string { return numbered(bore, b.N) }

// ID returns the hole's id.
func (h Hole) ID() string { return numbered(hole, h.N) }

// ID returns the slot's id.
func (s Slot) ID() string { return numbered(slot, s.N) }

// number gives every feature its number.
func (o *Outline) number() {
	for i := range o.Stretches {
		o.Stretches[i].N = i + 1
	}
	for i := range o.Shoulders {
		o.Shoulders[i].N = i + 1
	}
	for i := range o.Facets {
		o.Facets[i].N = i + 1
	}
	for i := range o.Threads {
		o.Threads[i].N = i + 1
	}
	for i := range o.Bores {
		o.Bores[i].N = i + 1
	}
	for i := range o.Slots {
		o.Slots[i].N = i + 1
	}
}
