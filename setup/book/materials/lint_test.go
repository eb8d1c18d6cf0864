package materials

import (
	"encoding/csv"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/tables"
)

// traits returns the traits as traits.go declares them: the constants by what
// the tables write.
func traits(t *testing.T) map[string]string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "traits.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok {
			word, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			words[word] = v.Names[0].Name
		}
		return true
	})
	return words
}

// lint is what is wrong with the three tables, every problem of them.
type lint struct {
	list   []string
	groups []string
	traits map[string]string
	words  map[string]string // who answers to each word so far
	rows   map[string]map[key]bool
}

func (l *lint) add(file, of, format string, args ...any) {
	l.list = append(l.list, file+": "+of+": "+fmt.Sprintf(format, args...))
}

func lintTables(t *testing.T, materialsCSV, groupsCSV, figuresCSV string) []string {
	t.Helper()
	l := &lint{traits: traits(t), words: map[string]string{}, rows: map[string]map[key]bool{}}
	for name, text := range map[string]string{"materials.csv": materialsCSV, "figures.csv": figuresCSV} {
		r := csv.NewReader(strings.NewReader(text))
		r.Comment = '#'
		if _, err := r.ReadAll(); err != nil {
			return []string{name + ": " + err.Error()}
		}
	}
	for _, row := range tables.Rows("groups.csv", groupsCSV) {
		l.groups = append(l.groups, row["group"])
		l.traitsOf("groups.csv", row["group"], row["traits"])
	}
	refused := map[string]bool{}
	var names []string
	for _, row := range tables.Rows("materials.csv", materialsCSV) {
		l.material(row)
		names = append(names, row["name"])
		refused[row["name"]] = strings.Contains(row["traits"], string(HSSRefused))
		l.rows[row["name"]] = map[key]bool{}
	}
	for _, row := range tables.Rows("figures.csv", figuresCSV) {
		l.figure(row)
	}
	for _, name := range names {
		l.complete(name, refused[name])
	}
	return l.list
}

// traitsOf demands that a cell says its traits, or that there are none.
func (l *lint) traitsOf(file, name, cell string) {
	for word := range strings.SplitSeq(cell, ";") {
		if _, ok := l.traits[word]; !ok && cell != "none" {
			l.add(file, name, "no trait %q", word)
		}
	}
}

// material checks a row of materials.csv.
func (l *lint) material(row map[string]string) {
	name := row["name"]
	for _, w := range append([]string{name}, list[string](row["aliases"])...) {
		if fold(w) != w {
			l.add("materials.csv", name, "%q is not lower case with hyphens", w)
		}
		if other, ok := l.words[w]; ok {
			l.add("materials.csv", name, "%q also names %s", w, other)
		}
		l.words[w] = name
	}
	if row["title"] == "" {
		l.add("materials.csv", name, "no title")
	}
	if !slices.Contains(l.groups, row["group"]) {
		l.add("materials.csv", name, "no group %q", row["group"])
	}
	l.traitsOf("materials.csv", name, row["traits"])
}

// figure checks a row of figures.csv.
func (l *lint) figure(row map[string]string) {
	name, k := row["material"], key{row["quantity"], row["operation"], row["tool"]}
	bad := func(format string, args ...any) {
		l.add("figures.csv", strings.Join([]string{name, k.quantity, k.op, k.tool}, ","), format, args...)
	}
	u, ok := units[k.quantity][row["unit"]]
	switch {
	case l.rows[name] == nil:
		l.add("figures.csv", name, "not in materials.csv")
		return
	case units[k.quantity] == nil:
		bad("no such quantity")
	case !ok:
		bad("unit %q does not fit", row["unit"])
	case !slices.Contains(operations, k.op):
		bad("no such operation")
	case !slices.Contains(tools, k.tool):
		bad("no such tool")
	case k.quantity != cuttingSpeed && k.quantity != feed && (k.op != anyOf || k.tool != anyOf):
		bad("a property has no operation or tool")
	case k.quantity == feed && (k.op == "mill") != (u.base == "mm/tooth"):
		bad("unit %q does not fit the operation", row["unit"])
	case row["src"] == "":
		bad("no source")
	case l.rows[name][k]:
		bad("said twice")
	}
	l.rows[name][k] = true
	var v []float64
	for _, column := range []string{"low", "chosen", "high"} {
		f, err := strconv.ParseFloat(row[column], 64)
		if err != nil || strings.Trim(row[column], "0123456789.") != "" || f <= 0 {
			bad("%q is not a number above 0", row[column])
			return
		}
		v = append(v, f)
	}
	if !slices.IsSorted(v) {
		bad("chosen is outside low to high")
	}
}

// complete says what a material still lacks: the cutting speeds for turn, drill
// and mill with carbide and, unless refused, high-speed steel; the feeds for
// turn and drill; and every property.
func (l *lint) complete(name string, refused bool) {
	m := &Material{figures: map[key]Figure{}}
	for k := range l.rows[name] {
		m.figures[k] = Figure{Unit: "some"}
	}
	cutters := []string{"hss", "carbide"}
	if refused {
		cutters = cutters[1:]
	}
	for _, tool := range cutters {
		for _, op := range []string{"turn", "drill", "mill"} {
			if _, ok := m.CuttingSpeed(op, tool); !ok {
				l.add("figures.csv", name, "no cutting speed for %s with %s", op, tool)
			}
		}
		for _, op := range []string{"turn", "drill"} {
			if _, ok := m.Feed(op, tool); !ok {
				l.add("figures.csv", name, "no feed for %s with %s", op, tool)
			}
		}
	}
	for _, q := range []string{specificEnergy, tensileStrength, modulus, density, expansion} {
		if m.property(q).Unit == "" {
			l.add("figures.csv", name, "no %s", q)
		}
	}
}

// The tables as they stand have none of it, and TestLint shows that it would be
// seen.
func TestTables(t *testing.T) {
	for _, problem := range lintTables(t, materialsCSV, groupsCSV, figuresCSV) {
		t.Error(problem)
	}
	var listed, inOrder []Group
	for _, row := range tables.Rows("groups.csv", groupsCSV) {
		listed = append(listed, Group(row["group"]))
	}
	for _, m := range All() {
		inOrder = append(inOrder, m.Group)
	}
	if inOrder = slices.Compact(inOrder); !slices.Equal(inOrder, listed) {
		t.Errorf("the materials' groups are %s, listed are %s", inOrder, listed)
	}
}

func TestLint(t *testing.T) {
	const heading = "name,title,group,aliases,traits\n"
	const groups = "group,traits\nwood,none\n"
	const figures = "material,quantity,operation,tool,low,high,chosen,unit,src,checked\n"
	first := func(materials, groups, figures string) string {
		return lintTables(t, heading+materials, groups, figures)[0]
	}
	for _, tc := range []struct{ row, want string }{
		{"y,density,any,any,1,1,1,kg/m3,s,", "figures.csv: y: not in materials.csv"},
		{"x,colour,any,any,1,1,1,kg/m3,s,", "figures.csv: x,colour,any,any: no such quantity"},
		{"x,density,any,any,1,1,1,GPa,s,", `figures.csv: x,density,any,any: unit "GPa" does not fit`},
		{"x,cutting-speed,whittle,hss,1,1,1,m/min,s,", "figures.csv: x,cutting-speed,whittle,hss: no such operation"},
		{"x,cutting-speed,turn,stone,1,1,1,m/min,s,", "figures.csv: x,cutting-speed,turn,stone: no such tool"},
		{"x,density,turn,any,1,1,1,kg/m3,s,", "figures.csv: x,density,turn,any: a property has no operation or tool"},
		{"x,feed,mill,hss,1,1,1,mm/rev,s,", `figures.csv: x,feed,mill,hss: unit "mm/rev" does not fit the operation`},
		{"x,feed,turn,hss,1,1,1,in/tooth,s,", `figures.csv: x,feed,turn,hss: unit "in/tooth" does not fit the operation`},
		{"x,density,any,any,1,1,1,kg/m3,,", "figures.csv: x,density,any,any: no source"},
		{"x,density,any,any,2,3,1,kg/m3,s,", "figures.csv: x,density,any,any: chosen is outside low to high"},
		{"x,density,any,any,1,2,3,kg/m3,s,", "figures.csv: x,density,any,any: chosen is outside low to high"},
		{"x,density,any,any,0,1,1,kg/m3,s,", `figures.csv: x,density,any,any: "0" is not a number above 0`},
		{"x,density,any,any,1,Inf,1,kg/m3,s,", `figures.csv: x,density,any,any: "Inf" is not a number above 0`},
		{"x,density,any,any,1,1e3,1,kg/m3,s,", `figures.csv: x,density,any,any: "1e3" is not a number above 0`},
		{"x,density,any,any,1,,1,kg/m3,s,", `figures.csv: x,density,any,any: "" is not a number above 0`},
		{
			"x,density,any,any,1,1,1,kg/m3,s,\nx,density,any,any,1,1,1,kg/m3,s,",
			"figures.csv: x,density,any,any: said twice",
		},
		{"x,density", "figures.csv: record on line 2: wrong number of fields"},
	} {
		if got := first("x,X,wood,,none\n", groups, figures+tc.row+"\n"); got != tc.want {
			t.Errorf("%s: got %s; want %s", tc.row, got, tc.want)
		}
	}
	for _, tc := range []struct{ rows, want string }{
		{"x,X,wood,,none\nx,X,wood,,none\n", `materials.csv: x: "x" also names x`},
		{"x,X,wood,a;b,none\ny,Y,wood,b,none\n", `materials.csv: y: "b" also names x`},
		{"X,X,wood,,none\n", `materials.csv: X: "X" is not lower case with hyphens`},
		{"x,X,wood,a b,none\n", `materials.csv: x: "a b" is not lower case with hyphens`},
		{"x,,wood,,none\n", "materials.csv: x: no title"},
		{"x,X,metal,,none\n", `materials.csv: x: no group "metal"`},
		{"x,X,wood,,bites\n", `materials.csv: x: no trait "bites"`},
		{"x,X,wood,,\n", `materials.csv: x: no trait ""`},
		{"x,X\n", "materials.csv: record on line 2: wrong number of fields"},
	} {
		if got := first(tc.rows, groups, figures); got != tc.want {
			t.Errorf("%q: got %s; want %s", tc.rows, got, tc.want)
		}
	}
	if got := first("", "group,traits\nwood,rots\n", figures); got != `groups.csv: wood: no trait "rots"` {
		t.Error(got)
	}
	lacks := []string{
		"no cutting speed for turn with hss", "no cutting speed for drill with hss", "no cutting speed for mill with hss",
		"no feed for turn with hss", "no feed for drill with hss",
		"no cutting speed for turn with carbide", "no cutting speed for drill with carbide",
		"no cutting speed for mill with carbide",
		"no feed for turn with carbide", "no feed for drill with carbide",
		"no specific-energy", "no tensile-strength", "no modulus", "no density", "no expansion",
	}
	for _, tc := range []struct {
		traits string
		lacks  []string
	}{{"none", lacks}, {string(HSSRefused), lacks[5:]}} {
		want := "figures.csv: x: " + strings.Join(tc.lacks, "\nfigures.csv: x: ")
		got := strings.Join(lintTables(t, heading+"x,X,wood,,"+tc.traits+"\n", groups, figures), "\n")
		if got != want {
			t.Errorf("a bare material, traits %q: got %s; want %s", tc.traits, got, want)
		}
	}
}

// Every trait is some material's, and something asks for it.
func TestTraits(t *testing.T) {
	carried, asked := map[string]bool{}, map[string]bool{}
	for _, m := range All() {
		for _, trait := range m.Traits {
			carried[string(trait)] = true
		}
	}
	name := regexp.MustCompile(`\bmaterials\.([A-Z]\w*)`)
	err := filepath.WalkDir("../../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		for _, m := range name.FindAllStringSubmatch(string(text), -1) {
			asked[m[1]] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for word, constant := range traits(t) {
		if !carried[word] {
			t.Errorf("%s: no material has it", word)
		}
		if !asked[constant] {
			t.Errorf("%s: nothing asks for it", word)
		}
	}
}

// What the tables must keep saying: the materials that calculators used to ask
// for by name or by group.
func TestTraitsOf(t *testing.T) {
	for _, tc := range []struct {
		trait    Trait
		yes, not string
	}{
		{CoarseThreads, "acetal g10 softwood", "zinc brass mild-steel"},
		{Crumbles, "cast-iron ductile-iron g10 hardwood brass hardened-steel", "mild-steel aluminium acetal cartridge-brass"},
		{HeatSpoils, "acetal g10 softwood", "brass mild-steel"},
		{NotMetal, "acetal g10 softwood", "zinc magnesium"},
		{Crushes, "g10 softwood", "acetal brass"},
		{ThreeSided, "acetal", "g10 softwood"},
		{BreaksOut, "g10 softwood", "acetal brass"},
		{ClosesOnTap, "nylon", "g10 brass"},
		{SplitsOnTap, "g10 ebony", "nylon"},
		{RoughStart, "softwood stabilised", "g10 acetal"},
		{HSSRefused, "hardened-steel", "silver-steel"},
		{GrabsDrill, "brass acrylic", "mild-steel"},
	} {
		for i, names := range []string{tc.yes, tc.not} {
			for name := range strings.FieldsSeq(names) {
				if m, err := Find(name); err != nil || m.Has(tc.trait) != (i == 0) {
					t.Errorf("%s, %s: %v, %v", name, tc.trait, i != 0, err)
				}
			}
		}
	}
	if (*Material)(nil).Has(Abrasive) {
		t.Error("no material has a trait")
	}
}
