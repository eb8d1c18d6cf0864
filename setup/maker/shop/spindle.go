package shop

import (
	"fmt"
	"math"
	"slices"

	"setover/setup/base/units"
)

// Spindle is a machine's speeds: a row of them (belts or gears), or a range
// without steps.
type Spindle struct {
	Speeds   []units.SpindleSpeed // rising; empty for a range
	From, To units.SpindleSpeed
}

// Set returns the speed the machine runs at when ideal is wanted: the highest
// it has that is not above ideal, or its lowest when all are above (Lost is
// then positive). A range runs at ideal rounded down to 5 rpm.
func (s Spindle) Set(ideal units.SpindleSpeed) Setting[units.SpindleSpeed] {
	set := s.Lowest()
	if len(s.Speeds) > 0 {
		for _, v := range s.Speeds {
			if v.RPM() <= ideal.RPM() {
				set = v
			}
		}
	} else {
		v := math.Floor(math.Min(ideal.RPM(), s.To.RPM())/5) * 5
		set = units.RPM(math.Max(v, s.From.RPM()))
	}
	return Setting[units.SpindleSpeed]{ideal, set, units.RPM(set.RPM() - ideal.RPM()), fmt.Sprintf("%.0f rpm", set.RPM())}
}

// Lowest returns the slowest speed.
func (s Spindle) Lowest() units.SpindleSpeed {
	if len(s.Speeds) == 0 {
		return s.From
	}
	return slices.MinFunc(s.Speeds, func(a, b units.SpindleSpeed) int { return int(math.Copysign(1, a.RPM()-b.RPM())) })
}
