package standard

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"github.com/shopspring/decimal"

	"setover/setup/base/problem"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// Standard is a taper with a name. Large, Small and Length are nil where the
// name does not fix them. NamedBy says which end the name's number means, and
// Source where the figures are printed.
type Standard struct {
	Name    string `json:"name"`
	Series  string `json:"series"`
	NamedBy string `json:"named_by"`
	tapers.Taper
	Source  string `json:"source"`
	Checked string `json:"checked"`
	Note    string `json:"note"`
	sheet.Remarks

	in tapers.Input
}

//go:embed tapers.csv
var tapersCSV string

// maxJarno is the largest Jarno taper.
const maxJarno = 20

// All returns every standard taper, in the table's order, Jarno tapers last.
var All = sync.OnceValue(func() []Standard {
	var list []Standard
	for _, row := range tables.Rows("tapers.csv", tapersCSV) {
		list = append(list, ofRow(row))
	}
	for n := int64(1); n <= maxJarno; n++ {
		list = append(list, Jarno(n))
	}
	return list
})

// Jarno returns the Jarno taper number n by its rule: D = n/8 in, d = n/10 in,
// l = n/2 in. n is 1 to 20; it panics below 1. It is exact.
//
// Source: Lobben, Machinists' and Draftsmen's Handbook (1899), p. 477.
func Jarno(n int64) Standard {
	inch := units.MustLength("1in").Times(n)
	of := func(part string) *units.Length {
		l := inch.Scale(decimal.RequireFromString(part))
		return &l
	}
	s := Standard{Name: fmt.Sprintf("Jarno%d", n), Series: "Jarno", Source: "lobben", Note: "a rule: n/8 in, n/10 in, n/2 in long"}
	return s.solved(tapers.Input{Large: of("0.125"), Small: of("0.1"), Length: of("0.5")})
}

// ofRow returns the taper of a row of the table.
func ofRow(cell map[string]string) Standard {
	size := func(column string) *units.Length {
		if cell[column] == "" {
			return nil
		}
		l := units.MustLength(cell[column] + cell["unit"])
		return &l
	}
	s := Standard{
		Name: cell["name"], Series: cell["series"], NamedBy: cell["named_by"],
		Source: cell["src"], Checked: cell["checked"], Note: cell["note"],
	}
	in := tapers.Input{Large: size("large"), Small: size("small"), Length: size("length")}
	switch text := cell["slope"]; {
	case text == "":
	case strings.Contains(text, ":"):
		r, err := tapers.ParseRatio(text)
		if err != nil {
			panic("standard: tapers.csv: " + err.Error())
		}
		in.Ratio = &r
	case strings.HasSuffix(text, "in/ft"):
		d, err := strconv.ParseFloat(strings.TrimSuffix(text, "in/ft"), 64)
		if err != nil {
			panic("standard: tapers.csv: " + err.Error())
		}
		n := units.Number(d)
		in.PerFoot = &n
	default:
		a := units.MustAngle(text)
		in.HalfAngle = &a
	}
	return s.solved(in)
}

// solved returns s with the figures that follow from what its name fixes.
func (s Standard) solved(in tapers.Input) Standard {
	all := in
	if in.Length == nil { // a slope with at most one size
		all.Large, all.Small = nil, nil
	}
	t, err := tapers.Solve(all)
	if err != nil {
		panic("standard: " + s.Name + ": " + err.Error())
	}
	s.Taper, s.in = t, in
	s.Large, s.Small = in.Large, in.Small
	return s
}

// Names returns the name of every standard taper.
func Names() []string {
	list := make([]string, len(All()))
	for i, s := range All() {
		list[i] = s.Name
	}
	return list
}

// Find returns the taper of a name such as MT2, JT33, BS7, Jarno6, 7/24-40,
// M1:20-6, PIN-1:50-6, PIN-1:48-2, R8, 5C or ER. Case and blanks do not matter,
// and Morse 4-1/2 may be written MT4.5. An unknown name is a problem with the
// nearest one.
func Find(name string) (Standard, error) {
	plain := strings.ReplaceAll(strings.ReplaceAll(name, " ", ""), "4.5", "4-1/2")
	for _, s := range All() {
		if strings.EqualFold(s.Name, plain) {
			return s, nil
		}
	}
	return Standard{}, problem.New(problem.Unknown, "standard", name,
		"not a standard taper known here: write one such as MT2, JT33, BS7, Jarno6, 7/24-40, M1:20-6, PIN-1:50-6, PIN-1:48-2, R8, 5C or ER (taper standards lists them)").Near(Names())
}

// Input returns what the name fixes, with the sizes in more that it leaves
// open: a pin's length, both diameters of an ER seat. Saying what the name
// fixes already is a contradiction.
func (s Standard) Input(more tapers.Input) (tapers.Input, error) {
	var list problem.List
	says := func(key string) {
		list.Add(problem.New(problem.Contradiction, "standard", s.Name, "fixes --"+key+" already: leave out one of the two"))
	}
	for _, f := range []struct {
		key   string
		given bool
	}{
		{"half-angle", more.HalfAngle != nil},
		{"included", more.Included != nil},
		{"ratio", more.Ratio != nil},
		{"per-foot", more.PerFoot != nil},
		{"percent", more.Percent != nil},
	} {
		if f.given {
			says(f.key)
		}
	}
	out := s.in
	out.Standard = s.Name
	for _, f := range []struct {
		key  string
		dst  **units.Length
		more *units.Length
	}{{"large", &out.Large, more.Large}, {"small", &out.Small, more.Small}, {"length", &out.Length, more.Length}} {
		if f.more == nil {
			continue
		}
		if *f.dst != nil {
			says(f.key)
		}
		*f.dst = f.more
	}
	if s.in.Length == nil && more.Large == nil && more.Small == nil && more.Length == nil {
		out.Large, out.Small = nil, nil // one diameter and no length: the slope is all there is to say
	}
	return out, list.Err()
}

// Sheet implements sheet.Result.
func (s Standard) Sheet() sheet.Sheet {
	out := sheet.Sheet{Title: "Standard taper " + s.Name, Working: s.Working(), Warnings: s.Warnings, Cautions: s.Cautions}
	out.Facts = append(out.Facts, sheet.Fact{Key: "series", Label: "series", Value: sheet.Text(s.Series), Remark: s.Note})
	if s.SlopeLength == nil {
		for _, f := range []struct {
			key, label string
			l          *units.Length
		}{{"large_mm", "large diameter", s.Large}, {"small_mm", "small diameter", s.Small}} {
			if f.l != nil {
				out.Facts = append(out.Facts, sheet.Fact{Key: f.key, Label: f.label, Value: sheet.Len(*f.l), Remark: "the number names the " + s.NamedBy})
			}
		}
	}
	out.Facts = append(out.Facts, s.Facts()...)
	src := s.Source
	if s.Checked != "" {
		src += ", compared with " + s.Checked
	}
	out.Facts = append(out.Facts, sheet.Fact{Key: "source", Label: "source", Value: sheet.Text(src), Remark: "as listed in testdata/reference/SOURCES.md"})
	if s.Length != nil {
		out.Notes = append(out.Notes, "The length is the gauge depth, over which both diameters hold, not the shank's length.")
	}
	return out
}

// List is every standard taper.
type List struct {
	Standards []Standard `json:"standards"`
	sheet.Remarks
}

// Listed returns every standard taper as one result.
func Listed() List { return List{Standards: All()} }

// Rows returns the tapers as a table: the wall chart's rows.
func Rows(list []Standard) sheet.Table {
	t := sheet.Table{Cols: []sheet.Column{
		{Key: "name", Head: "name"},
		{Key: "large_mm", Head: "large"},
		{Key: "small_mm", Head: "small"},
		{Key: "length_mm", Head: "length"},
		{Key: "half_angle_deg", Head: "half angle"},
		{Key: "taper_per_foot_in", Head: "per foot"},
		{Key: "ratio", Head: "one in"},
		{Key: "source", Head: "source"},
	}}
	for _, s := range list {
		t.Add(sheet.Text(s.Name), sheet.LenOrNone(s.Large), sheet.LenOrNone(s.Small), sheet.LenOrNone(s.Length),
			sheet.Number{V: s.HalfAngle.Deg(), Places: 4, Unit: "deg"}, sheet.Num(float64(s.PerFoot), 4, "in"), sheet.Num(float64(s.Ratio), 4, ""), sheet.Text(s.Source))
	}
	return t
}

// Sheet implements sheet.Result.
func (l List) Sheet() sheet.Sheet {
	return sheet.Sheet{
		Title: "Standard tapers", Tables: []sheet.Table{Rows(l.Standards)}, Warnings: l.Warnings, Cautions: l.Cautions,
		Notes: []string{"Lengths are gauge depths. Inch taper pins are numbered by the large end, metric pins named by the small end."},
	}
}
