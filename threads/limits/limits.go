package limits

import (
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/threads"
)

// part are the limits of a screw or of a nut, by what its largest major and its
// least minor diameter are: a length, or one that not every standard has.
type part[Major, Minor units.Length | *units.Length] struct {
	Of       string       `json:"-" key:"part" show:"part"`
	Class    string       `json:"class" show:"class"`
	MajorMax Major        `json:"major_max_mm" show:"major max" as:"down"`
	MajorMin units.Length `json:"major_min_mm" show:"major min" as:"up"`
	PitchMax units.Length `json:"pitch_max_mm" show:"pitch dia. max" as:"down"`
	PitchMin units.Length `json:"pitch_min_mm" show:"pitch dia. min" as:"up"`
	MinorMax units.Length `json:"minor_max_mm" show:"minor max" as:"down"`
	MinorMin Minor        `json:"minor_min_mm" show:"minor min" as:"up"`
}

// External are the limits of a screw. MinorMax is the largest root: of the
// flat form for metric threads, of the rounded UNR root for unified ones.
// MinorMin is the least rounded root. Internal are the limits of a nut; its
// MajorMax is the largest root a tap may leave.
type (
	External = part[units.Length, *units.Length]
	Internal = part[*units.Length, units.Length]
)

// Limits are the limits of both parts, nil for a form or size that has none
// here.
type Limits struct {
	External *External `json:"external"`
	Internal *Internal `json:"internal"`
}

// system is how a standard gives limits: the classes of screw and nut that are
// offered, the usual one first, and the limits of each.
type system struct {
	screws, nuts []string
	screw        func(d threads.Designation, class string) *External
	nut          func(d threads.Designation, class string) *Internal
}

var (
	metric = system{
		[]string{"6g", "4g6g", "4h", "5h6h", "6e", "6f", "6h", "8g"},
		[]string{"6H", "4H", "5H", "6G", "7H", "7G", "8H"},
		metricExternal, metricInternal,
	}
	smallMetric = system{[]string{"6h", "6g", "4h"}, []string{"5H", "4H"}, metricExternal, metricInternal}
	unified     = system{[]string{"2A", "1A", "3A"}, []string{"2B", "1B", "3B"}, unifiedExternal, unifiedInternal}
	acme        = system{[]string{both}, []string{both}, acmeExternal, acmeInternal}
	pipe        = system{[]string{"A", "B"}, []string{"G"}, pipeExternal, pipeInternal}
)

// both is the class of ACME screws and nuts alike.
const both = "2G"

// systemOf returns the system of a thread, nil where it has none: that of its
// form's standard, which metric threads above 355 mm are outside of.
func systemOf(d threads.Designation) *system {
	switch d.Form.Limits {
	case threads.ISO965:
		switch mm := d.Major.MM(); {
		case mm <= diameterSteps[0] || mm > diameterSteps[len(diameterSteps)-1]:
			return nil
		case mm < 1.6:
			return &smallMetric
		}
		return &metric
	case threads.ASMEB11:
		return &unified
	case threads.ASMEB15:
		return &acme
	case threads.ISO228:
		return &pipe
	case threads.NoLimits:
		return nil
	}
	panic("limits: no standard " + string(d.Form.Limits))
}

// Classes returns the classes of a thread's screw and nut that limits are
// known for, the usual one first; both empty when there are none.
func Classes(d threads.Designation) (external, internal []string) {
	if s := systemOf(d); s != nil {
		return s.screws, s.nuts
	}
	return nil, nil
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
	for i, text := range []string{d.Class, class} {
		for _, one := range strings.FieldsFunc(text, func(r rune) bool { return r == '/' }) {
			if i == 1 {
				if err := known(d, one); err != nil {
					return "", "", err
				}
			}
			said := &external
			if isInternal(one) {
				said = &internal
			}
			if *said != "" && *said != one {
				return "", "", problem.New(problem.Contradiction, "class", one, "contradicts the designation, which says ", *said)
			}
			*said = one
		}
	}
	screws, nuts := Classes(d)
	if external == "" && len(screws) > 0 {
		external = screws[0]
	}
	if internal == "" && len(nuts) > 0 {
		internal = nuts[0]
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
	return last == 'H' || last == 'G' && class != both || last == 'B' && len(class) == 2
}

// known checks a class by reading the designation with it.
func known(d threads.Designation, class string) error {
	d.Class = class
	if _, err := threads.Parse(d.String()); err == nil {
		return nil
	}
	screws, nuts := Classes(d)
	return problem.New(problem.Unknown, "class", class, d.Form.Want).Near(slices.Concat(screws, nuts))
}

// Of returns the limits of a thread in the classes of its screw and its nut.
// Classes are those Parse reads; an empty one gives nil. A metric thread above
// 355 mm and the forms without classes have none.
//
// Metric limits are exact to the micrometre and unified ones to the 0.0001 in
// the tables print; both are compared with them in the tests.
func Of(d threads.Designation, external, internal string) Limits {
	var l Limits
	s := systemOf(d)
	if s != nil && external != "" {
		l.External = s.screw(d, external)
		l.External.Of, l.External.Class = "screw", external
	}
	if s != nil && internal != "" {
		l.Internal = s.nut(d, internal)
		l.Internal.Of, l.Internal.Class = "nut", internal
	}
	return l
}
