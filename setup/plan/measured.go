package plan

import (
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// Measure is a diameter as it was measured on the work: of a project on its Part.
type Measure struct {
	Part string       `json:"part,omitempty"`
	Z    units.Length `json:"z_mm"`
	Dia  units.Length `json:"dia_mm"`
}

// ParseMeasure reads "dia@31=31.96", the diameter at z = 31; of a project's part
// "body:dia@31=31.96".
func ParseMeasure(text string, bare units.Unit) (Measure, error) {
	key, own, of := strings.Cut(text, ":")
	if !of {
		key, own = "", text
	}
	rest, ok := strings.CutPrefix(own, "dia@")
	z, dia, cut := strings.Cut(rest, "=")
	if !ok || !cut {
		return Measure{}, problem.New(problem.Malformed, "measured", text,
			"not a measured diameter: write dia@z=diameter, such as dia@31=31.96")
	}
	m := Measure{Part: key}
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

// check refuses measurements on a block, and beyond the part.
func (j *job) check() error {
	var list problem.List
	if j.round == nil && len(j.Measured) > 0 {
		return problem.New(problem.Contradiction, "measured", nil,
			"diameters are measured on round parts, and this is a block")
	}
	for _, m := range j.Measured {
		if m.Part != "" {
			list.Add(problem.New(problem.Contradiction, "measured", m.Part, "names a part, and this is one part: leave it out"))
		}
		if m.Z.Sign() < 0 || j.shape.Length.Less(m.Z) {
			list.Add(problem.New(problem.OutOfRange, "measured", m.Z, "beyond the part, which is ", j.shape.Length, " long"))
		}
	}
	return list.Err()
}
