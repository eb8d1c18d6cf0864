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
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"setover/setup/base/problem"
)

// Group is the kind of stuff a material is.
type Group string

// The groups.
const (
	Steel       Group = "steel"
	Stainless   Group = "stainless"
	Iron        Group = "iron"
	CopperAlloy Group = "copper-alloy"
	Aluminium   Group = "aluminium"
	Titanium    Group = "titanium"
	Magnesium   Group = "magnesium"
	Zinc        Group = "zinc"
	Plastic     Group = "plastic"
	Laminate    Group = "laminate"
	Wood        Group = "wood"
)

var groups = []Group{Steel, Stainless, Iron, CopperAlloy, Aluminium, Titanium, Magnesium, Zinc, Plastic, Laminate, Wood}

// Figure is one published or practised figure, in the base unit of its
// quantity. Low and High are the range the source gives, equal when it gives
// one figure; Chosen lies inside it and is what the calculators use, on the
// careful side for a small machine.
type Figure struct {
	Low, High, Chosen float64
	Unit              string // the base unit: m/min, mm/rev, mm/tooth, W.s/mm3, MPa, GPa, kg/m3 or 1e-6/K
	Printed           string // the range as the source prints it, with its unit
	Source            string // a key of testdata/reference/SOURCES.md, or an admission that there is none
	Checked           string // the key of a second source that agrees, or empty
}

// Material is one material. It is shared: treat it as read only.
type Material struct {
	Name     string   // how it is written and printed: "free-cutting-brass"
	Title    string   // for people: "Free-cutting brass"
	Group    Group    // what kind of stuff it is
	Aliases  []string // other words and standard designations it answers to
	Cautions []string // caution codes, see CautionCodes

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
	tensileStrength: {"MPa": {"MPa", 1}, "ksi": {"MPa", psi * 1e3}},
	modulus:         {"GPa": {"GPa", 1}, "ksi": {"GPa", psi}, "Mpsi": {"GPa", psi * 1e3}},
	density: {
		"kg/m3": {"kg/m3", 1}, "g/cm3": {"kg/m3", 1e3},
		"lb/in3": {"kg/m3", lbIn}, "lb/ft3": {"kg/m3", lbFt},
	},
	expansion: {"1e-6/K": {"1e-6/K", 1}, "1e-6/F": {"1e-6/K", 1.8}},
}

var (
	operations = []string{"turn", "drill", "ream", "tap", "thread", "mill", "saw", "part-off", "countersink", anyOf}
	tools      = []string{"hss", "carbide", "carbon", anyOf}
)

//go:embed materials.csv
var materialsCSV string

//go:embed figures.csv
var figuresCSV string

var table = sync.OnceValues(func() ([]*Material, error) { return parse(materialsCSV, figuresCSV) })

// All returns every material in the order of the table: steels, stainless,
// irons, copper alloys, aluminium, titanium, magnesium, zinc, plastics,
// laminates, woods.
func All() []*Material {
	list, err := table()
	if err != nil {
		panic("materials: " + err.Error())
	}
	return slices.Clone(list)
}

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
		return nil, problem.New(problem.Missing, "material", "", "a material is needed, such as free-cutting-brass or mild-steel")
	case len(members) > 0:
		return nil, problem.New(problem.Unknown, "material", name, "not one material: write "+strings.Join(members, ", "))
	}
	p := problem.New(problem.Unknown, "material", name, "not a material in the table")
	p.Nearest = problem.Nearest(want, words)
	return nil, p
}

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
		for _, k := range []key{{quantity, op, tool}, {quantity, op, anyOf}, {quantity, anyOf, tool}, {quantity, anyOf, anyOf}} {
			if f, ok := m.figures[k]; ok {
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

// property returns a figure that every material has.
func (m *Material) property(quantity string) Figure { return m.figures[key{quantity, anyOf, anyOf}] }

// parse reads the two tables. It returns every problem they have.
func parse(materialsCSV, figuresCSV string) ([]*Material, error) {
	var list []*Material
	var errs []error
	rows, err := records("materials.csv", materialsCSV)
	if err != nil {
		return nil, err
	}
	byName := map[string]*Material{}
	words := map[string]string{}
	for _, row := range rows {
		m := &Material{Name: row[0], Title: row[1], Group: Group(row[2]), Aliases: split(row[3]), Cautions: split(row[4]), figures: map[key]Figure{}}
		errs = append(errs, m.check(words)...)
		byName[m.Name] = m
		list = append(list, m)
	}
	rows, err = records("figures.csv", figuresCSV)
	if err != nil {
		return nil, err
	}
	for _, row := range rows {
		m := byName[row[0]]
		if m == nil {
			errs = append(errs, fmt.Errorf("figures.csv: %s: not in materials.csv", row[0]))
			continue
		}
		if err := m.add(row); err != nil {
			errs = append(errs, fmt.Errorf("figures.csv: %s: %w", strings.Join(row[:4], ","), err))
		}
	}
	for _, m := range list {
		errs = append(errs, m.complete()...)
	}
	return list, errors.Join(errs...)
}

// records returns the rows of a table under its heading.
func records(name, text string) ([][]string, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return rows[1:], nil
}

// split returns the words of a cell that holds a list.
func split(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, ";")
}

// check returns what is wrong with the material itself. words holds who
// answers to each word so far.
func (m *Material) check(words map[string]string) []error {
	var errs []error
	for _, w := range append([]string{m.Name}, m.Aliases...) {
		if fold(w) != w {
			errs = append(errs, fmt.Errorf("materials.csv: %s: %q is not lower case with hyphens", m.Name, w))
		}
		if other, ok := words[w]; ok {
			errs = append(errs, fmt.Errorf("materials.csv: %s: %q also names %s", m.Name, w, other))
		}
		words[w] = m.Name
	}
	if m.Title == "" {
		errs = append(errs, fmt.Errorf("materials.csv: %s: no title", m.Name))
	}
	if !slices.Contains(groups, m.Group) {
		errs = append(errs, fmt.Errorf("materials.csv: %s: no group %q", m.Name, m.Group))
	}
	for _, c := range m.Cautions {
		if !slices.Contains(cautionCodes, c) {
			errs = append(errs, fmt.Errorf("materials.csv: %s: no caution %q", m.Name, c))
		}
	}
	return errs
}

// add reads a row of figures.csv into the material.
func (m *Material) add(row []string) error {
	k := key{row[1], row[2], row[3]}
	u, ok := units[k.quantity][row[7]]
	switch {
	case units[k.quantity] == nil:
		return errors.New("no such quantity")
	case !ok:
		return fmt.Errorf("unit %q does not fit", row[7])
	case !slices.Contains(operations, k.op):
		return errors.New("no such operation")
	case !slices.Contains(tools, k.tool):
		return errors.New("no such tool")
	case k.quantity != cuttingSpeed && k.quantity != feed && (k.op != anyOf || k.tool != anyOf):
		return errors.New("a property has no operation or tool")
	case k.quantity == feed && (k.op == "mill") != (u.base == "mm/tooth"):
		return fmt.Errorf("unit %q does not fit the operation", row[7])
	case row[8] == "":
		return errors.New("no source")
	}
	if _, ok := m.figures[k]; ok {
		return errors.New("said twice")
	}
	var v [3]float64
	for i, text := range row[4:7] {
		f, err := number(text)
		if err != nil {
			return err
		}
		v[i] = f
	}
	if v[0] > v[2] || v[2] > v[1] {
		return errors.New("chosen is outside low to high")
	}
	printed := row[4]
	if row[4] != row[5] {
		printed += " to " + row[5]
	}
	m.figures[k] = Figure{
		Low: v[0] * u.factor, High: v[1] * u.factor, Chosen: v[2] * u.factor,
		Unit: u.base, Printed: printed + " " + row[7], Source: row[8], Checked: row[9],
	}
	return nil
}

// number reads a plain decimal above 0.
func number(text string) (float64, error) {
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "0123456789.") != "" || f <= 0 {
		return 0, fmt.Errorf("%q is not a number above 0", text)
	}
	return f, nil
}

// complete returns what the material still lacks: the cutting speeds for turn,
// drill and mill with carbide and, unless refused, high-speed steel; the feeds
// for turn and drill; and every property.
func (m *Material) complete() []error {
	var errs []error
	cutters := []string{"hss", "carbide"}
	if slices.Contains(m.Cautions, HSSRefused) {
		cutters = cutters[1:]
	}
	for _, tool := range cutters {
		for _, op := range []string{"turn", "drill", "mill"} {
			if _, ok := m.CuttingSpeed(op, tool); !ok {
				errs = append(errs, fmt.Errorf("figures.csv: %s: no cutting speed for %s with %s", m.Name, op, tool))
			}
		}
		for _, op := range []string{"turn", "drill"} {
			if _, ok := m.Feed(op, tool); !ok {
				errs = append(errs, fmt.Errorf("figures.csv: %s: no feed for %s with %s", m.Name, op, tool))
			}
		}
	}
	for _, q := range []string{specificEnergy, tensileStrength, modulus, density, expansion} {
		if m.property(q).Unit == "" {
			errs = append(errs, fmt.Errorf("figures.csv: %s: no %s", m.Name, q))
		}
	}
	return errs
}
