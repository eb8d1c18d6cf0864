package fits

import (
	_ "embed"
	"strings"
	"sync"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
)

//go:embed general.csv
var generalCSV string

//go:embed edges.csv
var edgesCSV string

//go:embed angles.csv
var anglesCSV string

// generals are the three tables of ISO 2768-1, read on first use.
var generals = sync.OnceValue(func() (t struct{ linear, edges, angles chart }) {
	t.linear = read("general.csv", generalCSV, "class")()
	t.edges = read("edges.csv", edgesCSV, "class")()
	t.angles = read("angles.csv", anglesCSV, "class")()
	return t
})

// General is a class of general tolerances: how far a size may be off that has
// no limits of its own on its drawing.
type General string

// The classes of ISO 2768-1, f m c v.
const (
	Fine       General = "fine"
	Medium     General = "medium"
	Coarse     General = "coarse"
	VeryCoarse General = "very-coarse"
)

// Generals are the classes, finest first.
var Generals = []General{Fine, Medium, Coarse, VeryCoarse}

// GeneralRange returns the sizes that the tables begin and end with.
func GeneralRange() (least, most units.Length) {
	return units.MustLength("0.5mm"), units.Millimetres(4000)
}

// ParseGeneral reads a class by its name or by the standard's letter: "fine" or
// "f", "medium" or "m", "coarse" or "c", "very-coarse" or "v".
func ParseGeneral(text string) (General, error) {
	for _, g := range Generals {
		if strings.EqualFold(text, string(g)) || strings.EqualFold(text, string(g[:1])) {
			return g, nil
		}
	}
	names := make([]string, len(Generals))
	for i, g := range Generals {
		names[i] = string(g)
	}
	return "", problem.New(problem.Unknown, "general", say.Plain(text),
		"not a class of general tolerances: write ", say.Choice(names)).Near(names)
}

// Linear returns how far a linear size may be off either way: a diameter, a
// length, a depth, a distance.
//
// The size is 0 to 4000 mm. Below 0.5 mm the standard wants limits on the
// drawing; there it is practice's 0.1 mm, in every class. It fails for fine
// above 2000 mm and for very coarse up to 3 mm, where the table has no figure.
// It is the table's figure, exact.
//
// Source: ISO 2768-1, table 1.
func (g General) Linear(size units.Length) (units.Length, error) {
	return g.figure(generals().linear, size)
}

// Edge returns how far an external radius or the height of a chamfer may be off
// either way. The size is 0 to 4000 mm; below 0.5 mm it is as Linear has it. It
// is the table's figure, exact.
//
// Source: ISO 2768-1, table 2.
func (g General) Edge(size units.Length) (units.Length, error) {
	return g.figure(generals().edges, size)
}

// Angular returns how far an angle may be off either way, by the length of its
// shorter leg, above 0 and at most 4000 mm. It is the table's figure, exact.
//
// Source: ISO 2768-1, table 3.
func (g General) Angular(leg units.Length) (units.Angle, error) {
	var l check.List
	_, most := GeneralRange()
	l.Above0To("general", leg, most)
	if err := l.Err(); err != nil {
		return units.Angle{}, err
	}
	return units.MustAngle(generals().angles.cell(string(g), leg)), nil
}

// figure returns the cell of a table in mm.
func (g General) figure(table chart, size units.Length) (units.Length, error) {
	var l check.List
	least, most := GeneralRange()
	l.Between("general", size, units.Length{}, most)
	if err := l.Err(); err != nil {
		return units.Length{}, err
	}
	if size.Less(least) {
		return practice.GeneralBelow.Length(), nil
	}
	if cell := table.cell(string(g), size); cell != "" {
		return units.MustLength(cell + "mm"), nil
	}
	return units.Length{}, problem.New(problem.Impossible, "general", g, "has no general tolerance for ", size.Typed(),
		": write limits on it, or take another class")
}
