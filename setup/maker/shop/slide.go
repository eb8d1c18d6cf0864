package shop

// The slides that have a dial.
const (
	CrossSlide    = "cross"
	CarriageSlide = "carriage"
	CompoundSlide = "compound"
	TableSlide    = "table"
)

// Slide returns the dial of a slide and whether its machine has a readout.
// The dial is nil where the shop has none.
func (s Shop) Slide(name string) (d *Dial, readout bool) {
	switch {
	case name == CrossSlide && s.Lathe != nil:
		return s.Lathe.CrossSlide, s.Lathe.Readout
	case name == CarriageSlide && s.Lathe != nil:
		return s.Lathe.Carriage, s.Lathe.Readout
	case name == CompoundSlide && s.Lathe != nil && s.Lathe.Compound != nil:
		return s.Lathe.Compound.Screw, false
	case name == TableSlide && s.Mill != nil:
		return s.Mill.Table, s.Mill.Readout
	}
	return nil, false
}
