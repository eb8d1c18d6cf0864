package fits

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"setover/setup/base/problem"
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

// span is a range of sizes: above from, up to and with to.
type span struct{ from, to units.Length }

// chart is one table: a row of cells for each key, by range of size. An empty
// cell is nil.
type chart struct {
	spans []span
	rows  map[string][]*units.Length
	keys  []string // in the table's order
}

// read reads a table whose first column is key and whose other columns are
// ranges of sizes, in um.
func read(name, text, key string) chart {
	c := chart{rows: map[string][]*units.Length{}}
	var heads []string
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, key+",") {
			heads = strings.Split(line, ",")
		}
	}
	for _, h := range heads {
		from, to, ok := strings.Cut(h, "-")
		if !ok {
			continue
		}
		c.spans = append(c.spans, span{units.MustLength(from + "mm"), units.MustLength(to + "mm")})
	}
	for _, row := range tables.Rows(name, text) {
		var cells []*units.Length
		for _, h := range heads[1 : 1+len(c.spans)] {
			if row[h] == "" {
				cells = append(cells, nil)
				continue
			}
			l := units.MustLength(row[h] + "um")
			cells = append(cells, &l)
		}
		c.rows[row[key]] = cells
		c.keys = append(c.keys, row[key])
	}
	return c
}

// at returns the cell of a row for a size; nil when there is none.
func (c chart) at(key string, size units.Length) *units.Length {
	for i, s := range c.spans {
		if s.from.Less(size) && size.Cmp(s.to) <= 0 {
			if row := c.rows[key]; row != nil {
				return row[i]
			}
		}
	}
	return nil
}

var (
	grades = sync.OnceValue(func() chart { return read("grades.csv", gradesCSV, "grade") })
	shafts = sync.OnceValue(func() chart { return read("shafts.csv", shaftsCSV, "letter") })
	holes  = sync.OnceValue(func() chart { return read("holes.csv", holesCSV, "class") })
)

// Grades lists the tolerance grades: 01, 0, 1 to 18.
func Grades() []string { return grades().keys }

// Letters lists the letters of the shafts. Those of the holes are the same in
// capitals.
func Letters() []string {
	list := []string{"j", "js"}
	for _, k := range shafts().keys {
		if !strings.ContainsAny(k, "0123456789") {
			list = append(list, k)
		}
	}
	slices.Sort(list)
	return list
}

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
	known := slices.Contains(Letters(), strings.ToLower(letter)) && (c.Hole() || letter == strings.ToLower(letter))
	if !known {
		return Class{}, problem.New(problem.Unknown, "fit", text, "not a tolerance class: write a letter and a grade, such as H7 for a hole or g6 for a shaft")
	}
	if !slices.Contains(Grades(), c.Grade) {
		return Class{}, problem.New(problem.Unknown, "fit", text, "not a grade: 01, 0 and 1 to 18 follow the letter")
	}
	return c, nil
}

// Tolerance returns the standard tolerance of a grade for a size, from the
// table. The size is above 0 and at most 500 mm; the grades above 13 begin
// above 1 mm. It is the table's figure, exact.
//
// Source: ISO 286-1, table of standard tolerance grades.
func Tolerance(grade string, size units.Length) (units.Length, error) {
	if err := checkSize(size); err != nil {
		return units.Length{}, err
	}
	it := grades().at(grade, size)
	if it == nil {
		return units.Length{}, problem.New(problem.Unknown, "fit", "IT"+grade, "not a grade: 01, 0 and 1 to 18 are standard")
	}
	if size.Cmp(units.Millimetres(1)) <= 0 && rank(grade) > 13 {
		return units.Length{}, notStandard("IT"+grade, size, "the grades above 13 begin above 1 mm")
	}
	return *it, nil
}

func checkSize(size units.Length) error {
	if size.Sign() <= 0 || MaxSize.Less(size) {
		return problem.New(problem.OutOfRange, "fit", size, fmt.Sprintf("a size here is above 0 and at most %v", MaxSize))
	}
	return nil
}

// notStandard is the problem of a class the standard does not have at a size.
func notStandard(class string, size units.Length, why string) error {
	return problem.New(problem.Impossible, "fit", class, fmt.Sprintf("is not standard for %v: %s", size, why))
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
		return units.Length{}, units.Length{}, err
	}
	letter := strings.ToLower(c.Letter)
	if letter == "js" {
		return it.Half(), it.Half().Neg(), nil
	}
	if c.Hole() {
		return c.hole(letter, size, it)
	}
	fd, err := c.fundamental(letter, size)
	if err != nil {
		return units.Length{}, units.Length{}, err
	}
	if letter < "i" { // a to h lie below the nominal size
		return fd, fd.Minus(it), nil
	}
	return fd.Plus(it), fd, nil
}

// fundamental returns the deviation of the shaft of a letter: es for a to h,
// ei for j to zc.
func (c Class) fundamental(letter string, size units.Length) (units.Length, error) {
	key, g := letter, rank(c.Grade)
	switch {
	case letter == "j" && (g == 5 || g == 6):
		key = "j5-6"
	case letter == "j" && g == 7:
		key = "j7"
	case letter == "j":
		return units.Length{}, notStandard(c.String(), size, "j comes in grades 5 to 7; write js")
	case letter == "k" && g >= 4 && g <= 7:
		key = "k4-7"
	case (letter == "a" || letter == "b") && size.Cmp(units.Millimetres(1)) <= 0:
		return units.Length{}, notStandard(c.String(), size, "a and b begin above 1 mm")
	}
	fd := shafts().at(key, size)
	if fd == nil {
		return units.Length{}, notStandard(c.String(), size, "the table has no figure for this letter there")
	}
	return *fd, nil
}

// hole returns the deviations of a hole from those of the shaft of its letter.
func (c Class) hole(letter string, size, it units.Length) (upper, lower units.Length, err error) {
	three, g := units.Millimetres(3), rank(c.Grade)
	if letter == "j" {
		es := holes().at(c.String(), size)
		if es == nil {
			return units.Length{}, units.Length{}, notStandard(c.String(), size, "J comes in grades 6 to 8; write JS")
		}
		return *es, es.Minus(it), nil
	}
	shaft := Class{letter, c.Grade}
	if letter == "k" {
		if g > 8 && three.Less(size) {
			return units.Length{}, units.Length{}, notStandard(c.String(), size, "K ends at grade 8")
		}
		shaft.Grade = "7" // K takes the deviation of k4 to k7
	}
	fd, err := shaft.fundamental(letter, size)
	if err != nil {
		return units.Length{}, units.Length{}, notStandard(c.String(), size, strings.ReplaceAll(reason(err), "a and b", "A and B"))
	}
	if letter < "i" {
		return fd.Neg().Plus(it), fd.Neg(), nil
	}
	most := 7
	if letter == "k" || letter == "m" || letter == "n" {
		most = 8
	}
	es := fd.Neg()
	switch {
	case letter == "n" && g > 8 && size.Cmp(units.Millimetres(1)) <= 0:
		return units.Length{}, units.Length{}, notStandard(c.String(), size, "N above grade 8 begins above 1 mm")
	case letter == "n" && g > 8 && three.Less(size):
		es = units.Length{}
	case c.String() == "M6" && units.Millimetres(250).Less(size) && size.Cmp(units.Millimetres(315)) <= 0:
		es = units.MustLength("-9um")
	case g <= most && three.Less(size):
		if g < 3 {
			return units.Length{}, units.Length{}, notStandard(c.String(), size, "K to ZC begin at grade 3")
		}
		finer, err := Tolerance(strconv.Itoa(g-1), size)
		if err != nil {
			return units.Length{}, units.Length{}, err
		}
		es = es.Plus(it).Minus(finer)
	}
	return es, es.Minus(it), nil
}

// reason returns why a class is not standard, out of its problem.
func reason(err error) string {
	_, why, _ := strings.Cut(err.(problem.Problem).Want, ": ")
	return why
}
