// Package fits gives the limits of a size in the ISO system of limits and fits
// (ISO 286-1), for sizes up to 500 mm, and what a fit of a hole and a shaft
// comes to; and the general tolerances of a size that has no limits of its own
// (ISO 2768-1).
//
// The standard's tables are data here, not its formulas: the tables are rounded
// by hand and differ from the formulas by up to a third. A range of sizes has
// its upper end in it: 30 belongs to 18-30.
//
// Holes follow from the shafts. With es and ei the upper and lower deviation of
// the shaft of the same letter and IT the tolerance of the grade n:
//
//	A to H   EI = -es              ES = EI + IT
//	JS       ES = +IT/2            EI = -IT/2
//	J        ES from its own table EI = ES - IT
//	K to ZC  ES = -ei + D          EI = ES - IT
//
// with D = IT(n) - IT(n-1) above 3 mm for K, M, N up to IT8 and for P to ZC up
// to IT7, and D = 0 otherwise. Two exceptions of the standard's table: N above
// IT8 has ES = 0 above 3 mm, and M6 from 250 to 315 mm has ES = -9 um.
//
// Sources: see the rows of the tables. Rows marked as from memory for small
// sizes were checked against a catalogue's technical pages, in the tests.
package fits

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
)

//go:embed grades.csv
var gradesCSV string

//go:embed shafts.csv
var shaftsCSV string

//go:embed holes.csv
var holesCSV string

//go:embed preferred.csv
var preferredCSV string

// MaxSize is the largest size in the tables.
var MaxSize = units.Millimetres(500)

// chart is one of the standards' tables: rows by their key, each with a cell for
// a range of sizes, "18-30". An empty cell has no figure.
type chart map[string]map[string]string

func read(name, text, key string) func() chart {
	return sync.OnceValue(func() chart {
		c := chart{}
		for _, row := range tables.Rows(name, text) {
			c[row[key]] = row
		}
		return c
	})
}

// cell returns the cell of a row for a size; "" when there is none. The upper
// end of a range belongs to it; a range without one goes on.
func (c chart) cell(key string, size units.Length) string {
	for head, cell := range c[key] {
		from, to, sizes := strings.Cut(head, "-")
		if !sizes || !units.MustLength(from+"mm").Less(size) {
			continue
		}
		if to == "" || !units.MustLength(to+"mm").Less(size) {
			return cell
		}
	}
	return ""
}

// um returns the cell of a row in um for a size; nil when there is none.
func (c chart) um(key string, size units.Length) *units.Length {
	cell := c.cell(key, size)
	if cell == "" {
		return nil
	}
	return new(units.MustLength(cell + "um"))
}

var (
	grades = read("grades.csv", gradesCSV, "grade")
	shafts = read("shafts.csv", shaftsCSV, "letter")
	holes  = read("holes.csv", holesCSV, "class")
)

// Class is a tolerance class: a letter and a grade, "H7" for a hole and "g6"
// for a shaft.
type Class struct {
	Letter string // as written: capitals for a hole
	Grade  string // 01, 0, 1 to 18
}

// String returns "H7".
func (c Class) String() string { return c.Letter + c.Grade }

// Hole reports whether the class is that of a hole.
func (c Class) Hole() bool { return c.Letter == strings.ToUpper(c.Letter) }

// MarshalText returns the same text as String.
func (c Class) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// ParseClass reads "H7", "g6" or "js5". The letter is one of the table's and
// all of one case, the grade 01, 0 or 1 to 18.
func ParseClass(text string) (Class, error) {
	letter := strings.TrimRight(text, "0123456789")
	c := Class{letter, text[len(letter):]}
	small := strings.ToLower(letter)
	known := shafts()[small] != nil || small == "j" || small == "js"
	if !known || !c.Hole() && letter != small {
		return Class{}, problem.New(problem.Unknown, "fit", say.Plain(text),
			"not a tolerance class: write a letter and a grade, such as H7 for a hole or g6 for a shaft")
	}
	if grades()[c.Grade] == nil {
		return Class{}, problem.New(problem.Unknown, "fit", say.Plain(text),
			"not a grade: 01, 0 and 1 to 18 follow the letter")
	}
	return c, nil
}

// Tolerance returns the standard tolerance of a grade for a size, from the
// table. The size is above 0 and at most 500 mm; the grades above 13 begin
// above 1 mm. It is the table's figure, exact.
//
// Source: ISO 286-1, table of standard tolerance grades.
func Tolerance(grade string, size units.Length) (units.Length, error) {
	var l check.List
	l.Above0To("fit", size, MaxSize)
	if err := l.Err(); err != nil {
		return units.Length{}, err
	}
	it := grades().um(grade, size)
	if it == nil {
		return units.Length{}, problem.New(problem.Unknown, "fit", "IT"+grade, "not a grade: 01, 0 and 1 to 18 are standard")
	}
	if !units.Millimetres(1).Less(size) && rank(grade) > 13 {
		return units.Length{}, notStandard("IT"+grade, size, "the grades above 13 begin above 1 mm")
	}
	return *it, nil
}

// notStandard is the problem of a class the standard does not have at a size.
func notStandard(class string, size units.Length, why string) error {
	return problem.New(problem.Impossible, "fit", class, "is not standard for ", size.Typed(), ": ", why)
}

// rank returns a grade as a number: 01 is -1.
func rank(grade string) int {
	if grade == "01" {
		return -1
	}
	n, err := strconv.Atoi(grade)
	if err != nil {
		panic("fits: a grade that is no number: " + grade)
	}
	return n
}

// Deviations returns the upper and lower deviation of a class for a size, in
// the standard's sense: what the largest and the smallest size allowed are
// over (+) or under (-) the nominal one.
//
// The size is above 0 and at most 500 mm. It fails for a letter that is not
// standard at that size or grade. Exact: the table's figures.
//
// Source: ISO 286-1, by the rules in the package's comment.
func (c Class) Deviations(size units.Length) (upper, lower units.Length, err error) {
	it, err := Tolerance(c.Grade, size)
	if err != nil {
		return upper, lower, err
	}
	letter, why := strings.ToLower(c.Letter), ""
	switch {
	case letter == "js":
		return it.Half(), it.Half().Neg(), nil
	case c.Hole() && letter < "i": // A to H lie above the nominal size
		upper, why = Class{letter, c.Grade}.fundamental(size)
		lower = upper.Neg()
		upper = lower.Plus(it)
	case c.Hole():
		upper, why, err = c.hole(letter, size, it)
		lower = upper.Minus(it)
	case letter < "i": // a to h lie below it
		upper, why = c.fundamental(size)
		lower = upper.Minus(it)
	default:
		lower, why = c.fundamental(size)
		upper = lower.Plus(it)
	}
	if why != "" {
		err = notStandard(c.String(), size, why)
	}
	return upper, lower, err
}

// fundamental returns the deviation of a shaft: es for a to h, ei for j to zc;
// or why it has none.
func (c Class) fundamental(size units.Length) (fd units.Length, why string) {
	key, g := c.Letter, rank(c.Grade)
	switch {
	case key == "j" && (g == 5 || g == 6):
		key = "j5-6"
	case key == "j" && g == 7:
		key = "j7"
	case key == "j":
		return fd, "j comes in grades 5 to 7; write js"
	case key == "k" && g >= 4 && g <= 7:
		key = "k4-7"
	case (key == "a" || key == "b") && !units.Millimetres(1).Less(size):
		return fd, "this letter begins above 1 mm"
	}
	if cell := shafts().um(key, size); cell != nil {
		return *cell, ""
	}
	return fd, "the table has no figure for this letter there"
}

// hole returns the upper deviation of a hole J to ZC from that of the shaft of
// its letter, or why it has none.
// Long: a case for each exception of the standard.
func (c Class) hole(letter string, size, it units.Length) (es units.Length, why string, err error) {
	g, above3 := rank(c.Grade), units.Millimetres(3).Less(size)
	shaft, most := Class{letter, c.Grade}, 7
	switch letter {
	case "j":
		if cell := holes().um(c.String(), size); cell != nil {
			return *cell, "", nil
		}
		return es, "J comes in grades 6 to 8; write JS", nil
	case "k":
		if g > 8 && above3 {
			return es, "K ends at grade 8", nil
		}
		shaft.Grade = "7" // K takes the deviation of k4 to k7
		most = 8
	case "m", "n":
		most = 8
	}
	fd, why := shaft.fundamental(size)
	es = fd.Neg()
	switch {
	case why != "":
	case letter == "n" && g > 8 && !units.Millimetres(1).Less(size):
		why = "N above grade 8 begins above 1 mm"
	case letter == "n" && g > 8 && above3:
		es = units.Length{}
	case c.String() == "M6" && units.Millimetres(250).Less(size) && !units.Millimetres(315).Less(size):
		es = units.MustLength("-9um")
	case g <= most && above3 && g < 3:
		why = "K to ZC begin at grade 3"
	case g <= most && above3:
		finer, err := Tolerance(strconv.Itoa(g-1), size)
		return es.Plus(it).Minus(finer), "", err
	}
	return es, why, nil
}
