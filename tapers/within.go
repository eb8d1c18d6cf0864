package tapers

import (
	"setover/setup/base/units"
	"setover/setup/book/practice"
)

// Within returns what the difference of the diameters may be out over the length
// of a taper: what was asked for, else what is usual, which is less for a taper
// that has a name, since it fits one that somebody else made; it is
// a round figure of the unit that is worked in.
func (in Input) Within(asked *units.Length, u units.Unit) units.Length {
	switch {
	case asked != nil:
		return *asked
	case in.Standard != "":
		return practice.WithinNamed.Length(u)
	}
	return practice.WithinTaper.Length(u)
}
