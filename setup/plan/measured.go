package plan

import (
	"fmt"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// Measure is a diameter as it was measured on the work.
type Measure struct {
	Z   units.Length `json:"z_mm"`
	Dia units.Length `json:"dia_mm"`
}

// ParseMeasure reads "dia@31=31.96": the diameter at z = 31.
func ParseMeasure(text string, bare units.Unit) (Measure, error) {
	rest, ok := strings.CutPrefix(text, "dia@")
	z, dia, cut := strings.Cut(rest, "=")
	if !ok || !cut {
		return Measure{}, problem.New(problem.Malformed, "measured", text, "not a measured diameter: write dia@z=diameter, such as dia@31=31.96")
	}
	var m Measure
	var list problem.List
	var err error
	m.Z, err = units.ParseLength(z, bare)
	list.Add(err)
	m.Dia, err = units.ParseLength(dia, bare)
	list.Add(err)
	if len(list) == 0 && m.Dia.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "measured", text, "a measured diameter is above 0"))
	}
	return m, list.Err()
}

// measured returns what was measured on a stretch.
func (d *draft) measured(x stretch) (units.Length, bool) {
	for _, m := range d.in.Measured {
		if x.From.Cmp(m.Z) <= 0 && m.Z.Cmp(x.To) <= 0 {
			return m.Dia, true
		}
	}
	return units.Length{}, false
}

// isDone reports whether an operation was done before this plan.
func (d *draft) isDone(id string) bool { return d.done[id] }

// checkMeasured refuses measurements beyond the part.
func (in Input) checkMeasured() error {
	var list problem.List
	for _, m := range in.Measured {
		if l := in.Part.Round.Length(); m.Z.Sign() < 0 || l.Less(m.Z) {
			list.Add(problem.New(problem.OutOfRange, "measured", fmt.Sprintf("dia@%s", m.Z.Decimal()), fmt.Sprintf("beyond the part, which is %v long", l)))
		}
	}
	return list.Err()
}
