// Package standard holds the tapers that have a name, each with the source of
// its figures.
//
// A self-holding taper (Morse, Brown and Sharpe, Jarno, Jacobs, metric 1:20) is
// given by two diameters and the depth between them, so the slope follows from
// the sizes:
//
//	tan a = (D - d) / (2·l)
//
// The length is the gauge depth, over which both diameters hold. Lists that
// print the shank's length beside the same diameters give a Morse 2 of 0.6144
// in per foot; it is 0.5994.
//
// Others are a slope alone: 7/24 shanks, collets, pins, pipe threads. There the
// name gives the angle and, where it names a diameter, one size; a length comes
// from the drawing. Inch taper pins are numbered by the large end, metric pins
// named by the small one. The half angle of 7/24 is atan(7/48) = 8.2971 deg;
// 8.1301 is half of atan(7/24), a common slip.
//
// A Jarno taper is a rule: number n is n/8 in at the large end, n/10 in at the
// small end and n/2 in long, 0.6 in per foot for every n.
package standard

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// Standard is a taper with a name. Large, Small and Length are nil where the
// name does not fix them. NamedBy says which end the name's number means, and
// Source where the figures are printed.
type Standard struct {
	Name   string `json:"name"`
	Series string `json:"series" show:"series"`
	tapers.Taper
	NamedBy string `json:"named_by"`
	Source  string `json:"source" show:"source"`
	Checked string `json:"checked"`
	Note    string `json:"note"`
	sheet.Remarks

	in tapers.Input
}

//go:embed tapers.csv
var tapersCSV string

// All returns every standard taper, in the table's order, Jarno tapers last.
var All = sync.OnceValue(func() []Standard {
	var list []Standard
	for _, row := range tables.Rows("tapers.csv", tapersCSV) {
		list = append(list, ofRow(row))
	}
	for n := int64(1); n <= 20; n++ {
		list = append(list, Jarno(n))
	}
	return list
})

// Jarno returns the Jarno taper number n by its rule: D = n/8 in, d = n/10 in,
// l = n/2 in. n is 1 to 20; it panics below 1. It is exact.
//
// Source: Lobben, Machinists' and Draftsmen's Handbook (1899), p. 477.
func Jarno(n int64) Standard {
	of := func(part string) *units.Length { return new(units.MustLength(part).Times(n)) }
	name := fmt.Sprintf("Jarno%d", n)
	s := Standard{Name: name, Series: "Jarno", Source: "lobben", Note: "a rule: n/8 in, n/10 in, n/2 in long"}
	return s.solved(tapers.Input{Large: of("1/8in"), Small: of("0.1in"), Length: of("1/2in")})
}

// ofRow returns the taper of a row of the table.
func ofRow(cell map[string]string) Standard {
	size := func(column string) *units.Length {
		if cell[column] == "" {
			return nil
		}
		return new(units.MustLength(cell[column] + cell["unit"]))
	}
	s := Standard{
		Name: cell["name"], Series: cell["series"], NamedBy: cell["named_by"],
		Source: cell["src"], Checked: cell["checked"], Note: cell["note"],
	}
	in := tapers.Input{Large: size("large"), Small: size("small"), Length: size("length")}
	var err error
	switch text := cell["slope"]; {
	case text == "":
	case strings.Contains(text, ":"):
		in.Ratio = new(tapers.Ratio)
		*in.Ratio, err = tapers.ParseRatio(text)
	case strings.HasSuffix(text, "in/ft"):
		var d float64
		d, err = strconv.ParseFloat(strings.TrimSuffix(text, "in/ft"), 64)
		in.PerFoot = new(units.Number(d))
	default:
		in.HalfAngle = new(units.MustAngle(text))
	}
	if err != nil {
		panic("standard: tapers.csv: " + err.Error())
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
	if in.Length == nil {
		s.Large, s.Small = in.Large, in.Small
	}
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

//go:embed also.csv
var alsoCSV string

// also returns the other ways a series is written, the longest first.
var also = sync.OnceValue(func() []map[string]string {
	rows := tables.Rows("also.csv", alsoCSV)
	slices.SortStableFunc(rows, func(a, b map[string]string) int { return len(b["written"]) - len(a["written"]) })
	return rows
})

// plain is a name in capitals without what people leave out or put between.
var plain = strings.NewReplacer(" ", "", "-", "", "_", "", "#", "NO", "NUMBER", "NO", "NO.", "NO", "4.5", "41/2",
	"4½", "41/2", "SHORT", "S", "&AMP;", "&")

// byName finds a taper by its own name alone.
func byName(key string) (Standard, bool) {
	for _, s := range All() {
		if plain.Replace(strings.ToUpper(s.Name)) == key {
			return s, true
		}
	}
	return Standard{}, false
}

// Find returns the taper of a name such as MT2, B16, JT33, BS7, Jarno6, 7/24-40,
// M1:20-6, PIN-1:50-6, PIN-1:48-2, R8, 5C or ER32. Case, blanks and hyphens do not
// matter, "No" and "#" may stand before the number, Morse 4-1/2 may be written
// MT4.5, and a series may be called as also.csv has it, the number before it or
// behind: Morse 2, 2MT, MK2, ISO 40, BT40, B&S 7, Jacobs 33. An unknown name is a
// problem with the nearest one.
func Find(name string) (Standard, error) {
	key := plain.Replace(strings.ToUpper(name))
	// A word for a series is looked for before "No" is taken off: PIN No 4 is an inch pin.
	bare := key
	if i := strings.LastIndex(key, "NO"); i >= 0 {
		bare = key[:i] + key[i+len("NO"):]
	}
	for _, k := range []string{key, bare} {
		if s, ok := byName(k); ok {
			return s, nil
		}
		for _, row := range also() {
			number, before := strings.CutPrefix(k, row["written"])
			if !before {
				number, before = strings.CutSuffix(k, row["written"])
			}
			if s, ok := byName(row["as"] + number); before && ok {
				return s, nil
			}
		}
	}
	return Standard{}, problem.New(problem.Unknown, "standard", say.Plain(name),
		"not a standard taper known here: write one such as MT2, B16, JT33, BS7, Jarno6, ISO40, M1:20-6, PIN-1:50-6, ",
		"PIN-1:48-2, D1-4, R8, 5C or ER32 (taper standards lists them)").Near(Names())
}

// Input returns what the name fixes, with the sizes in more that it leaves
// open: a pin's length, both diameters of an ER seat. Saying what the name
// fixes already is a contradiction.
func (s Standard) Input(more tapers.Input) (tapers.Input, error) {
	out := s.in
	out.Standard = s.Name
	var bad check.List
	fixes := func(o check.Option) {
		bad.Refuse(o.Given, problem.Contradiction, "standard", s.Name,
			"fixes ", say.Key(o.Key), " already: leave out one of the two")
	}
	fixes(check.If("half-angle", more.HalfAngle))
	fixes(check.If("included", more.Included))
	fixes(check.If("ratio", more.Ratio))
	fixes(check.If("per-foot", more.PerFoot))
	fixes(check.If("percent", more.Percent))
	size := func(key string, dst **units.Length, more *units.Length) {
		if more != nil {
			fixes(check.If(key, *dst))
			*dst = more
		}
	}
	size("large", &out.Large, more.Large)
	size("small", &out.Small, more.Small)
	size("length", &out.Length, more.Length)
	if s.in.Length == nil && more.Large == nil && more.Small == nil && more.Length == nil {
		out.Large, out.Small = nil, nil // one diameter and no length: the slope is all there is to say
	}
	return out, bad.Err()
}

// Sheet implements sheet.Result.
func (s Standard) Sheet() sheet.Sheet {
	out := sheet.Of(&s, "Standard taper ", s.Name)
	out.Remark(&s.Series, s.Note)
	if s.Checked != "" {
		s.Source += ", compared with " + s.Checked
	}
	if s.SlopeLength == nil && s.NamedBy != "" {
		out.Remark(&s.Large, "the number names the ", s.NamedBy)
		out.Remark(&s.Small, "the number names the ", s.NamedBy)
	}
	out.Remark(&s.Source, "as listed in testdata/reference/SOURCES.md")
	s.Explain(out)
	out.Figures()
	if s.Length != nil {
		out.Note("The length is the gauge depth, over which both diameters hold, not the shank's length.")
	}
	return *out
}

// List is every standard taper.
type List struct {
	Standards []Standard `json:"standards"`
	sheet.Remarks
}

// row is a taper in the list.
type row struct {
	Name      string        `json:"name" show:"name"`
	Large     *units.Length `json:"large_mm" show:"large"`
	Small     *units.Length `json:"small_mm" show:"small"`
	Length    *units.Length `json:"length_mm" show:"length"`
	HalfAngle units.Angle   `json:"half_angle_deg" show:"half angle" as:"4"`
	PerFoot   units.Number  `json:"taper_per_foot_in" show:"per foot" as:"4 in"`
	Ratio     units.Number  `json:"ratio" show:"one in" as:"4"`
	Source    string        `json:"source" show:"source"`
}

// Listed returns every standard taper as one result.
func Listed() List { return List{Standards: All()} }

// Sheet implements sheet.Result.
func (l List) Sheet() sheet.Sheet {
	s := sheet.Of(&l, "Standard tapers")
	rows := make([]row, len(l.Standards))
	for i, t := range l.Standards {
		rows[i] = row{t.Name, t.Large, t.Small, t.Length, t.HalfAngle, t.PerFoot, t.Ratio, t.Source}
	}
	s.Table(rows)
	s.Note("Lengths are gauge depths. Inch taper pins are numbered by the large end, ",
		"metric pins named by the small end.")
	return *s
}
