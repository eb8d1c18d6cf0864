package limits

import (
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/threads"
)

// External are the limits of a screw. MinorMax is the largest root: of the
// flat form for metric threads, of the rounded UNR root for unified ones.
// MinorMin is the least rounded root, nil where the standard has none.
type External struct {
	Class    string        `json:"class"`
	MajorMax units.Length  `json:"major_max_mm"`
	MajorMin units.Length  `json:"major_min_mm"`
	PitchMax units.Length  `json:"pitch_max_mm"`
	PitchMin units.Length  `json:"pitch_min_mm"`
	MinorMax units.Length  `json:"minor_max_mm"`
	MinorMin *units.Length `json:"minor_min_mm"`
}

// Internal are the limits of a nut. MajorMax is the largest root a tap may
// leave, nil where the standard has none.
type Internal struct {
	Class    string        `json:"class"`
	MinorMin units.Length  `json:"minor_min_mm"`
	MinorMax units.Length  `json:"minor_max_mm"`
	PitchMin units.Length  `json:"pitch_min_mm"`
	PitchMax units.Length  `json:"pitch_max_mm"`
	MajorMin units.Length  `json:"major_min_mm"`
	MajorMax *units.Length `json:"major_max_mm"`
}

// Limits are the limits of both parts, nil for a form or size that has none
// here.
type Limits struct {
	External *External `json:"external"`
	Internal *Internal `json:"internal"`
}

// Classes returns the classes of a thread's screw and nut that limits are
// known for, the usual one first; both empty when there are none.
func Classes(d threads.Designation) (external, internal []string) {
	switch d.Form {
	case threads.Metric:
		if d.Major.Cmp(units.MustLength("355mm")) > 0 {
			return nil, nil
		}
		external = []string{"6g", "4g6g", "4h", "5h6h", "6e", "6f", "6h", "8g"}
		internal = []string{"6H", "4H", "5H", "6G", "7H", "7G", "8H"}
		if d.Major.Cmp(units.MustLength("1.6mm")) < 0 {
			external = []string{"6h", "6g", "4h"}
			internal = []string{"5H", "4H"}
		}
	case threads.Unified:
		return []string{"2A", "1A", "3A"}, []string{"2B", "1B", "3B"}
	case threads.Acme:
		return []string{"2G"}, []string{"2G"}
	case threads.ParallelG:
		return []string{"A", "B"}, []string{"G"}
	}
	return external, internal
}

// Names returns the usual classes of every form, for completion.
func Names() []string {
	return []string{"6g", "6h", "4g6g", "6H", "5H", "6G", "2A", "1A", "3A", "2B", "1B", "3B", "2G", "A", "B"}
}

// Choose returns the classes of screw and nut for a designation and a class
// asked for beside it, the usual ones where nothing was said. A class that
// contradicts the designation's is a problem; the other part's class is not a
// contradiction.
func Choose(d threads.Designation, class string) (external, internal string, err error) {
	ext, in := Classes(d)
	if len(ext) > 0 {
		external, internal = ext[0], in[0]
	}
	said := map[bool]string{} // by whether it is the nut's
	for i, text := range []string{d.Class, class} {
		for _, one := range strings.Split(text, "/") {
			if one == "" {
				continue
			}
			if i == 1 {
				if err := known(d, one); err != nil {
					return "", "", err
				}
			}
			nut := isInternal(one)
			if before := said[nut]; before != "" && before != one {
				return "", "", problem.New(problem.Contradiction, "class", one, "contradicts the designation, which says "+before)
			}
			said[nut] = one
			if nut {
				internal = one
			} else {
				external = one
			}
			if d.Form == threads.Acme {
				external, internal = one, one
			}
		}
	}
	return external, internal, nil
}

// ForNut reports whether a class is a nut's alone: "6H", "2B". "6H/6g" and
// "2G" are not.
func ForNut(class string) bool {
	return class != "" && !strings.Contains(class, "/") && isInternal(class)
}

func isInternal(class string) bool {
	last := class[len(class)-1]
	return last == 'H' || last == 'G' && class != "2G" || last == 'B' && len(class) == 2
}

// known checks a class by reading the designation with it.
func known(d threads.Designation, class string) error {
	d.Class = class
	text := d.String()
	if _, err := threads.Parse(text); err != nil {
		p := err.(problem.Problem)
		ext, in := Classes(d)
		p = problem.New(problem.Unknown, "class", class, strings.TrimPrefix(p.Want, class+" is not a class here: ")).Near(slices.Concat(ext, in))
		return p
	}
	return nil
}

// Of returns the limits of a thread in the classes of its screw and its nut.
// Classes are those Parse reads; an empty one gives nil. A metric thread above
// 355 mm and the forms without classes have none.
//
// Metric limits are exact to the micrometre and unified ones to the 0.0001 in
// the tables print; both are compared with them in the tests.
func Of(d threads.Designation, external, internal string) Limits {
	var l Limits
	switch d.Form {
	case threads.Metric:
		if external != "" {
			l.External, _ = metricExternal(d, readMetric(external))
		}
		if internal != "" {
			l.Internal, _ = metricInternal(d, readMetric(internal))
		}
	case threads.Unified:
		if external != "" {
			l.External = unifiedExternal(d, external)
		}
		if internal != "" {
			l.Internal = unifiedInternal(d, internal)
		}
	case threads.Acme:
		if external != "" {
			l.External = acmeExternal(d)
		}
		if internal != "" {
			l.Internal = acmeInternal(d)
		}
	case threads.ParallelG:
		if external != "" {
			l.External = pipeExternal(d, external)
		}
		if internal != "" {
			l.Internal = pipeInternal(d)
		}
	}
	return l
}
