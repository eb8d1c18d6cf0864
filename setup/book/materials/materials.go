// Package materials holds what is known about the materials a small shop cuts:
// cutting speeds and feeds, the energy a chip takes, strength, stiffness,
// density, thermal expansion, and what to be careful of.
//
// Every figure is a row of figures.csv with the source on it, as the source
// prints it; a row may say "from memory" or "common practice, no source".
// Here the figures are converted to the base unit of their quantity. The
// tables are parsed on first use.
package materials

import (
	_ "embed"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/tables"
)

// Group is the kind of stuff a material is, a row of groups.csv.
type Group string

// Figure is one published or practised figure, in the base unit of its
// quantity. Low and High are the range the source gives, equal when it gives
// one figure; Chosen lies inside it and is what the calculators use, on the
// careful side for a small machine.
type Figure struct {
	Low, High, Chosen float64
	Unit              string // the base unit: m/min, mm/rev, mm/tooth, W.s/mm3, 1, MPa, GPa, kg/m3 or 1e-6/K
	Printed           string // the range as the source prints it, with its unit
	Source            string // a key of testdata/reference/SOURCES.md, or an admission that there is none
	Checked           string // the key of a second source that agrees, or empty
}

// Material is one material. It is shared: treat it as read only.
type Material struct {
	Name    string   // how it is written and printed: "free-cutting-brass"
	Title   string   // for people: "Free-cutting brass"
	Group   Group    // what kind of stuff it is
	Aliases []string // other words and standard designations it answers to
	Traits  []Trait  // its own and its group's

	figures map[key]Figure
}

// key says what a figure is about. op and tool are "any" where they do not
// matter.
type key struct{ quantity, op, tool string }

// anyOf stands in a row for every operation or every tool.
const anyOf = "any"

// The quantities.
const (
	cuttingSpeed    = "cutting-speed"
	feed            = "feed"
	specificEnergy  = "specific-energy"
	chipExponent    = "chip-exponent"
	tensileStrength = "tensile-strength"
	modulus         = "modulus"
	density         = "density"
	expansion       = "expansion"
)

// unit says what a source's unit measures and what one of it is in the base
// unit.
type unit struct {
	base   string
	factor float64
}

// Exact definitions: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity
// 9.80665 m/s2; 1 MPa of specific cutting force is 1e-3 W.s/mm3.
const (
	inch = 25.4
	psi  = 0.45359237 * 9.80665 / (inch * inch) // MPa
	lbIn = 0.45359237 / (inch * inch * inch) * 1e9
	lbFt = lbIn / (12 * 12 * 12)
)

// units lists the units each quantity may be printed in.
var units = map[string]map[string]unit{
	cuttingSpeed: {"m/min": {"m/min", 1}, "m/s": {"m/min", 60}, "ft/min": {"m/min", 0.3048}},
	feed: {
		"mm/rev": {"mm/rev", 1}, "in/rev": {"mm/rev", inch},
		"mm/tooth": {"mm/tooth", 1}, "in/tooth": {"mm/tooth", inch},
	},
	specificEnergy:  {"W.s/mm3": {"W.s/mm3", 1}, "MPa": {"W.s/mm3", 1e-3}},
	chipExponent:    {"1": {"1", 1}},
	tensileStrength: {"MPa": {"MPa", 1}, "ksi": {"MPa", psi * 1e3}},
	modulus:         {"GPa": {"GPa", 1}, "ksi": {"GPa", psi}, "Mpsi": {"GPa", psi * 1e3}},
	density: {
		"kg/m3": {"kg/m3", 1}, "g/cm3": {"kg/m3", 1e3},
		"lb/in3": {"kg/m3", lbIn}, "lb/ft3": {"kg/m3", lbFt},
	},
	expansion: {"1e-6/K": {"1e-6/K", 1}, "1e-6/F": {"1e-6/K", 1.8}},
}

// The operations and the cutters the rows know.
var (
	operations = []string{"turn", "drill", "ream", "tap", "thread", "mill", "saw", "part-off", "countersink", anyOf}
	tools      = []string{"hss", "carbide", "carbon", anyOf}
)

//go:embed materials.csv
var materialsCSV string

//go:embed groups.csv
var groupsCSV string

//go:embed figures.csv
var figuresCSV string

var table = sync.OnceValue(func() []*Material { return parse(materialsCSV, groupsCSV, figuresCSV) })

// All returns every material in the order of the table: steels, stainless,
// irons, copper alloys, aluminium, titanium, magnesium, zinc, plastics,
// laminates, woods.
func All() []*Material { return slices.Clone(table()) }

// Names returns the name of every material, in the order of All.
func Names() []string {
	var names []string
	for _, m := range All() {
		names = append(names, m.Name)
	}
	return names
}

// Find returns the material called name, which may be its name or one of its
// aliases; case does not matter, and spaces, hyphens and underscores are
// alike. It fails if nothing is called so: with the materials to choose from
// if name is a group ("steel"), else with the nearest name.
func Find(name string) (*Material, error) {
	if m, known := byName()[name]; known {
		return m, nil
	}
	want := fold(name)
	var words, members []string
	for _, m := range All() {
		for _, w := range append([]string{m.Name}, m.Aliases...) {
			if fold(w) == want {
				return m, nil
			}
			words = append(words, w)
		}
		if string(m.Group) == want {
			members = append(members, m.Name)
		}
	}
	switch {
	case want == "":
		return nil, problem.New(problem.Missing, "material", nil,
			"a material is needed, such as free-cutting-brass or mild-steel")
	case len(members) > 0:
		return nil, problem.New(problem.Unknown, "material", say.Plain(name), "not one material: write ", say.Choice(members))
	}
	p := problem.New(problem.Unknown, "material", say.Plain(name), "not a material in the table")
	p.Nearest = problem.Nearest(want, words)
	return nil, p
}

// byName are the materials by their own names.
var byName = sync.OnceValue(func() map[string]*Material {
	list := map[string]*Material{}
	for _, m := range All() {
		list[m.Name] = m
	}
	return list
})

// fold brings the ways of writing a name to one.
func fold(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_'
	}), "-")
}

// CuttingSpeed returns the cutting speed in m/min for an operation (turn,
// drill, ream, tap, thread, mill, saw, part-off, countersink) with a tool of
// hss, carbide or carbon steel. It reports false where no row gives one: rules
// such as half the drilling speed for reaming belong to the caller.
func (m *Material) CuttingSpeed(op, tool string) (Figure, bool) {
	return m.lookup(cuttingSpeed, op, tool)
}

// Feed returns the feed of an operation, in mm/rev, or in mm/tooth for
// milling. A drill's is that of drills of 3 to 6 mm (1/8 to 1/4 in). It
// reports false where no row gives one.
func (m *Material) Feed(op, tool string) (Figure, bool) {
	return m.lookup(feed, op, tool)
}

// lookup returns the row for just this operation and tool, else the one that
// says any tool, any operation or both.
func (m *Material) lookup(quantity, op, tool string) (Figure, bool) {
	if slices.Contains(operations, op) && slices.Contains(tools, tool) {
		for _, k := range [][2]string{{op, tool}, {op, anyOf}, {anyOf, tool}, {anyOf, anyOf}} {
			if f, ok := m.figures[key{quantity, k[0], k[1]}]; ok {
				return f, true
			}
		}
	}
	return Figure{}, false
}

// SpecificEnergy returns the energy a sharp tool takes to cut a volume away,
// in W.s/mm3 (J/mm3). Chosen is for a chip about 0.1 mm thick where the source
// tells thin from thick; thicker chips take less.
func (m *Material) SpecificEnergy() Figure { return m.property(specificEnergy) }

// ChipExponent returns mc, by how much thicker chips take less, a power of
// their thickness; of no value where the source has one figure for all chips.
func (m *Material) ChipExponent() Figure { return m.property(chipExponent) }

// chosenChip is the thickness in mm of the chip that SpecificEnergy is for.
const chosenChip = 0.1

// ChipEnergy returns the specific energy in W.s/mm3 for a chip of a thickness
// in mm, above 0:
//
//	kc(h) = kc1·h^-mc, or U(h) = U(0.1)·(0.1/h)^mc
//
// It holds from about 0.05 to 1 mm; a thinner chip takes more than it says.
//
// Source: O. Kienzle's law, as vdi-3323-kc prints its constants.
func (m *Material) ChipEnergy(chip float64) float64 {
	return m.SpecificEnergy().Chosen * math.Pow(chosenChip/chip, m.ChipExponent().Chosen)
}

// TensileStrength returns the ultimate tensile strength in MPa, along the
// grain for wood and across the sheet's weaker direction for laminates.
func (m *Material) TensileStrength() Figure { return m.property(tensileStrength) }

// Modulus returns the modulus of elasticity in GPa, in bending for wood and
// laminates.
func (m *Material) Modulus() Figure { return m.property(modulus) }

// Density returns the density in kg/m3.
func (m *Material) Density() Figure { return m.property(density) }

// Expansion returns the coefficient of linear thermal expansion at room
// temperature in 1e-6/K, along the grain for wood and in the sheet's plane for
// laminates.
func (m *Material) Expansion() Figure { return m.property(expansion) }

// property returns a figure that has no operation or tool.
func (m *Material) property(quantity string) Figure { return m.figures[key{quantity, anyOf, anyOf}] }

// parse reads the tables. They are our own: the tests walk every row, and a
// row that makes no sense panics here.
func parse(materialsCSV, groupsCSV, figuresCSV string) []*Material {
	ofGroup := map[Group][]Trait{}
	for _, row := range tables.Rows("groups.csv", groupsCSV) {
		ofGroup[Group(row["group"])] = list[Trait](row["traits"])
	}
	var all []*Material
	byName := map[string]*Material{}
	for _, row := range tables.Rows("materials.csv", materialsCSV) {
		m := &Material{
			Name: row["name"], Title: row["title"], Group: Group(row["group"]),
			Aliases: list[string](row["aliases"]), figures: map[key]Figure{},
		}
		m.Traits = append(list[Trait](row["traits"]), ofGroup[m.Group]...)
		byName[m.Name] = m
		all = append(all, m)
	}
	for _, row := range tables.Rows("figures.csv", figuresCSV) {
		byName[row["material"]].figures[key{row["quantity"], row["operation"], row["tool"]}] = figure(row)
	}
	return all
}

// list returns the words of a cell that holds a list.
func list[T ~string](cell string) []T {
	if cell == "" || cell == "none" {
		return nil
	}
	var words []T
	for w := range strings.SplitSeq(cell, ";") {
		words = append(words, T(w))
	}
	return words
}

// figure reads a row of figures.csv.
func figure(row map[string]string) Figure {
	u := units[row["quantity"]][row["unit"]]
	value := func(column string) float64 {
		v, err := strconv.ParseFloat(row[column], 64)
		if err != nil {
			panic("materials: figures.csv: " + err.Error())
		}
		return v * u.factor
	}
	printed := row["low"]
	if row["low"] != row["high"] {
		printed += " to " + row["high"]
	}
	return Figure{
		Low: value("low"), High: value("high"), Chosen: value("chosen"),
		Unit: u.base, Printed: printed + " " + row["unit"], Source: row["src"], Checked: row["checked"],
	}
}
