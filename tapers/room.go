package tapers

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Room is what a lathe takes: the longest work between its centres and the
// largest diameters that swing over its bed and over its cross slide. Each is
// nil where the shop does not say.
type Room struct {
	BetweenCentres, OverBed, OverSlide *units.Length
}

// RoomOf returns the room of a lathe.
func RoomOf(l shop.Lathe) Room { return Room{l.BetweenCentres, l.SwingOverBed, l.SwingOverSlide} }

// Stands is the work that a lathe must have room for, by the keys of the question
// that say it: how long it is at the least, and how large across. What is not
// known is nil. Beside says that the cross slide stays beside the work and never
// goes under it: in a bore, and where a cone is cut as an end is faced.
type Stands struct {
	LongKey, AcrossKey string
	Long, Across       *units.Length
	Beside             bool
}

// Take adds to r why the lathe has no room for the work, which is a no, and what
// of that was not checked.
func (m Room) Take(r *sheet.Remarks, w Stands) {
	var missing []say.Text
	compare := func(most *units.Length, size *units.Length, key, name string, why ...any) {
		switch {
		case size == nil:
		case most == nil:
			missing = append(missing, say.Text(name))
		case most.Less(*size):
			r.No(problem.New(problem.TravelShort, key, size, say.Of(why...), *most))
		}
	}
	compare(m.BetweenCentres, w.Long, w.LongKey, "between_centres", "the lathe takes no more between its centres than ")
	compare(m.OverBed, w.Across, w.AcrossKey, "swing_over_bed", "does not swing over the bed, which clears ")
	swings := m.OverBed == nil || w.Across == nil || w.Across.Cmp(*m.OverBed) <= 0
	if !w.Beside && swings {
		compare(m.OverSlide, w.Across, w.AcrossKey, "swing_over_slide", "does not swing over the cross slide, which clears ")
	}
	if len(missing) > 0 {
		r.NotChecked("lathe: "+string(say.Join(missing, ", ")), "whether the lathe takes work of this size was not checked")
	}
}
