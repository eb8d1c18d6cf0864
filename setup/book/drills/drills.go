// Package drills holds the twist drills that can be bought: number, letter and
// fractional inch sizes and metric sizes, and the sets they are sold in.
//
// Number and letter sizes are a table (gauges.csv, the American wire and
// letter gauges); fractional and metric sizes are steps and are computed, so
// they are exact. The table is parsed on first use.
package drills

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
)

// Drill is one size of twist drill. Name is how it is printed: "No7", "F",
// "3/8 in", "6.8 mm".
type Drill struct {
	Name   string
	Dia    units.Length
	Series string // number, letter, fraction-64 or metric
}

// Words implements say.Quantity: a drill has one name on every page.
func (d Drill) Words() (mm, inch string) { return d.Name, d.Name }

//go:embed gauges.csv
var gaugesCSV string

// Sets lists the named sets a shop file may own.
func Sets() []string {
	return []string{"number", "letter", "fraction-64", "metric-0.1", "metric-0.5"}
}

// Set returns the drills of a named set, smallest first.
//
//	number       No80 to No1, 0.0135 to 0.228 in
//	letter       A to Z, 0.234 to 0.413 in
//	fraction-64  1/64 to 1 in by 1/64
//	metric-0.1   1 to 13 mm by 0.1
//	metric-0.5   1 to 13 mm by 0.5
func Set(name string) ([]Drill, error) {
	step, metrics := strings.CutPrefix(name, "metric-")
	switch {
	case !slices.Contains(Sets(), name):
		return nil, problem.New(problem.Unknown, "drills", say.Plain(name), "not a set of drills: write ",
			say.Join(Sets(), ", "), " or a single size such as 6.8mm").Near(Sets())
	case metrics:
		return metric("1mm", "13mm", step+"mm"), nil
	}
	return slices.DeleteFunc(slices.Clone(All()), func(d Drill) bool { return d.Series != name }), nil
}

// metric returns the metric sizes from one to another by a step.
func metric(from, to, step string) []Drill {
	var list []Drill
	s, end := units.MustLength(step), units.MustLength(to)
	for l := units.MustLength(from); !end.Less(l); l = l.Plus(s) {
		list = append(list, Of(l))
	}
	return list
}

// Of returns the drill of the size l as one in millimetres.
func Of(l units.Length) Drill { return Drill{l.Typed().String(), l, "metric"} }

// Stamped returns what a reamer, a centre drill or a collet of the size l is
// called: by the fraction of an inch where it is one, else in millimetres.
func Stamped(l units.Length) Drill {
	if f := l.NearestFraction(64); f.Rest.Sign() == 0 {
		return Drill{f.String(), l, "fraction-64"}
	}
	return Of(l)
}

// All returns every size there is, smallest first: number, letter and
// fractional sizes to 1 in, and the metric sizes of Metric. Of sizes alike the
// gauge comes first, then the fraction.
var All = sync.OnceValue(func() []Drill {
	var list []Drill
	for _, row := range tables.Rows("gauges.csv", gaugesCSV) {
		series := "letter"
		if strings.HasPrefix(row["name"], "No") {
			series = "number"
		}
		list = append(list, Drill{row["name"], units.MustLength(row["size_in"] + "in"), series})
	}
	for n := range 64 {
		l := units.MustLength(strconv.Itoa(n+1) + "/64in")
		list = append(list, Drill{l.NearestFraction(64).String(), l, "fraction-64"})
	}
	return sorted(append(list, Metric()...))
})

// Metric returns every metric size there is, smallest first: from 0.2 to 1 mm
// by 0.05 with the sizes 0.02 and 0.03 beside the tenths, by 0.05 to 3 mm, by
// 0.1 to 14 mm with the quarter millimetres, and by 0.25 to 25 mm.
//
// Source: BS 328, compared in the tests of threads/drill; the quarter
// millimetres under 14 mm from memory.
func Metric() []Drill {
	var list []Drill
	for _, part := range [][3]string{
		{"0.2mm", "1mm", "0.05mm"},
		{"0.22mm", "0.92mm", "0.1mm"},
		{"0.28mm", "0.98mm", "0.1mm"},
		{"1.05mm", "3mm", "0.05mm"},
		{"3.1mm", "14mm", "0.1mm"},
		{"3.25mm", "13.75mm", "0.5mm"},
		{"14.25mm", "25mm", "0.25mm"},
	} {
		list = append(list, metric(part[0], part[1], part[2])...)
	}
	return sorted(list)
}

// Names returns what every drill is called, smallest first.
func Names() []string {
	names := make([]string, len(All()))
	for i, d := range All() {
		names[i] = d.Name
	}
	return names
}

// Find reads a drill as it is called in the shop: "No7" or "#7", "F", or a
// length with its unit that is a size drills are made in. An unknown one is a
// problem that names the nearest size.
func Find(text string) (Drill, error) {
	name := strings.TrimSpace(text)
	if strings.HasPrefix(name, "#") {
		name = "No" + name[1:]
	}
	if i := slices.IndexFunc(All(), func(d Drill) bool { return strings.EqualFold(d.Name, name) }); i >= 0 {
		return All()[i], nil
	}
	if strings.Trim(name, "0123456789.") == "" && name != "" {
		want := "a drill needs its unit or its gauge: write " + name + "mm"
		if !strings.Contains(name, ".") {
			want += " or No" + name
		}
		return Drill{}, problem.New(problem.MissingUnit, "drill", say.Plain(text), want)
	}
	l, err := units.ParseLength(name, units.MM)
	if err != nil {
		return Drill{}, problem.New(problem.Unknown, "drill", say.Plain(text),
			"not a drill: write a gauge (No7, F), a fraction (3/8in) or a metric size (6.8mm)")
	}
	near := Nearest(All(), l)
	if !near.Dia.Equal(l) {
		p := problem.New(problem.Unknown, "drill", say.Plain(text), "no drill is made in this size")
		p.Nearest = near.Name
		return Drill{}, p
	}
	inches := strings.Contains(name, "in") || strings.Contains(name, `"`)
	for _, d := range All() { // keep the name in the system it was asked in
		if d.Dia.Equal(l) && inches == (d.Series != "metric") {
			return d, nil
		}
	}
	return near, nil
}

// Nearest returns the drill in list (smallest first) whose size is nearest to
// l; of two equally near the smaller. The list must not be empty.
func Nearest(list []Drill, l units.Length) Drill {
	return slices.MinFunc(list, func(a, b Drill) int { return a.Dia.Minus(l).Abs().Cmp(b.Dia.Minus(l).Abs()) })
}

// sorted sorts a list by size.
func sorted(list []Drill) []Drill {
	slices.SortStableFunc(list, func(a, b Drill) int { return a.Dia.Cmp(b.Dia) })
	return list
}
