package practice

import (
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

	"setover/setup/base/units"
	"setover/setup/book/materials"
)

// constants returns the keys as keys.go declares them: name, type and key.
func constants(t *testing.T) (list [][3]string) {
	file, err := parser.ParseFile(token.NewFileSet(), "keys.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok {
			key, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, [3]string{v.Names[0].Name, v.Type.(*ast.Ident).Name, key})
		}
		return true
	})
	return list
}

// kind returns the type that a key with this row has.
func (r Row) kind() string {
	kind, ok := map[string]string{"mm": "length", "in": "length", "deg": "angle", "mm/rev": "feed"}[r.Unit]
	if !ok {
		kind = "number"
	}
	if word, size, ok := strings.Cut(r.For, " "); ok {
		if _, err := units.ParseLength(size, units.MM); err == nil && slices.Contains(bounds, word) {
			return kind + "By"
		}
		return "neither a material nor a size: " + r.For
	}
	if r.For == "mm" || r.For == "in" {
		return kind + "In"
	}
	if r.For != "" {
		return kind + "Of"
	}
	return kind
}

// unitOf returns the unit that a row has: that of its key's first, or the one it is for.
func unitOf(r, first Row) string {
	if r.For == "in" {
		return r.For
	}
	return first.Unit
}

var bounds = []string{"under", "to", "at", "over"}

// Every key has its rows, all of the kind its type says, and every row a key.
func TestKeysAndRows(t *testing.T) {
	left := map[string][]Row{}
	for _, r := range Rows() {
		left[r.Key] = append(left[r.Key], r)
	}
	for _, c := range constants(t) {
		name, kind, key := c[0], c[1], c[2]
		camel := ""
		for _, word := range strings.Split(key, "-") {
			camel += strings.ToUpper(word[:1]) + word[1:]
		}
		if name != camel {
			t.Errorf("%s is called %q, want %s", name, key, camel)
		}
		rows := left[key]
		delete(left, key)
		if len(rows) == 0 {
			t.Errorf("%s: no row", key)
			continue
		}
		once := map[string]bool{}
		for _, r := range rows {
			if r.kind() != kind || r.Unit != unitOf(r, rows[0]) || once[r.For] {
				t.Errorf("%s, %q: a %s in %s beside a %s in %s, or said twice", key, r.For, r.kind(), r.Unit, kind, rows[0].Unit)
			}
			once[r.For] = true
		}
		switch {
		case strings.HasSuffix(kind, "Of"):
			if !once["any"] {
				t.Errorf("%s: no row for any", key)
			}
		case strings.HasSuffix(kind, "By"):
			rising(t, rows)
		case strings.HasSuffix(kind, "In"):
			if !once["mm"] || !once["in"] {
				t.Errorf("%s: no row for mm or for in", key)
			}
		case len(rows) > 1:
			t.Errorf("%s: said %d times", key, len(rows))
		}
	}
	for key := range left {
		t.Errorf("%s: a row that no key asks for", key)
	}
}

// rising demands that the sizes of a key rise, and that no size is left out:
// the last row holds for all that are larger.
func rising(t *testing.T, rows []Row) {
	var last units.Length
	for i, r := range rows {
		word, text, _ := strings.Cut(r.For, " ")
		size := units.MustLength(text)
		end := i == len(rows)-1
		if i > 0 && (size.Less(last) || size.Equal(last) && word != "over") || (word == "over") != end && word != "at" {
			t.Errorf("%s, %s: out of its order", r.Key, r.For)
		}
		last = size
	}
}

// plausible are the bounds of a figure by its unit.
var plausible = map[string][2]float64{
	"mm": {0, 25}, "in": {0.0005, 1}, "deg": {0.1, 120}, "mm/rev": {0.01, 0.2}, "mm/min": {100, 5000}, "ppm": {10, 5000},
	"D": {0, 10}, "d": {0.5, 3}, "P": {0.1, 8}, "%": {5, 110}, "part": {0.1, 1}, "times": {1, 15}, "steps": {10, 60},
	"min": {1, 30}, "s": {0.2, 5}, "turns": {1, 10}, "teeth": {1, 8}, "passes": {1, 100}, "N": {5, 50},
	"in/ft": {0.0005, 0.01}, "1/min": {10, 120},
}

// Every row says what it is and where it comes from, its value is a plain
// number of a size that a workshop knows, and whom it is for exists.
func TestRows(t *testing.T) {
	words := map[string]bool{"": true, "any": true}
	for _, m := range materials.All() {
		words[m.Name], words[string(m.Group)] = true, true
	}
	for _, r := range Rows() {
		b, ok := plausible[r.Unit]
		v, err := strconv.ParseFloat(r.Value, 64)
		if slices.Contains([]string{
			"test-bar-travel", "barrel-more", "bar-longer", "hand-room", "indicator-long", "slope-length",
		}, r.Key) {
			b[1] = 100 // lengths that are none of the work's or a tool's
		}
		if slices.Contains([]string{"indicator-read", "within-taper", "within-named"}, r.Key) {
			b[0] = 0 // what is read, and what may be out
		}
		if r.Key == "file-end-most" || r.Key == "belt-width" {
			b[1] = 50 // across an end of wood, and a belt
		}
		if r.Key == "place-minutes" {
			b[0] = 0.2 // one place of an arc: set, fed, back
		}
		if strings.HasSuffix(r.Key, "-flute") {
			b[1] = 250 // how long drills and end mills are
		}
		if slices.Contains([]string{"chuck-body", "dial-divisions"}, r.Key) {
			b[1] = 250 // how large the body of a chuck is, and marks of a dial
		}
		if strings.HasSuffix(r.Key, "-error") && r.Unit == "in" {
			b[0] = 0.0001 // what an instrument is told to
		}
		if !ok || err != nil || v < b[0] || v > b[1] || strings.Trim(r.Value, "0123456789.") != "" {
			t.Errorf("%s, %q: %q %s is not plausible", r.Key, r.For, r.Value, r.Unit)
		}
		if r.What == "" || r.Source == "" {
			t.Errorf("%s, %q: says %q and has the source %q", r.Key, r.For, r.What, r.Source)
		}
		if !strings.HasSuffix(r.kind(), "By") && !strings.HasSuffix(r.kind(), "In") && !words[r.For] {
			t.Errorf("%s: no material or kind of material %q", r.Key, r.For)
		}
	}
}

// Figures that belong together agree.
func TestAgree(t *testing.T) {
	if left := LeaveTurning.Length().Half(); !left.Equal(FinishDepth.Length()) {
		t.Errorf("roughing leaves %s a side, and finishing takes %s", left.Decimal(), FinishDepth.Length().Decimal())
	}
	if first, deep := PeckFirst.Number(), PeckDeepFrom.Number(); first >= deep || PeckDeep.Number() >= PeckThen.Number() {
		t.Error("pecks do not get shorter")
	}
	for _, pair := range [][2]number{
		{BoringBarSteel, BoringBarCarbide},
		{PressLeast, PressMost},
		{FormingLeast, FormingMost},
		{TapLeadBottoming, TapLeadPlug},
		{TapLeadPlug, TapLeadTaper},
		{ToolMinutes, RechuckMinutes},
	} {
		if pair[0].Number() >= pair[1].Number() {
			t.Errorf("%s is not under %s", pair[0], pair[1])
		}
	}
	if !EpoxyLeast.Length().Less(EpoxyMost.Length()) || !RetainingLeast.Length().Less(RetainingMost.Length()) {
		t.Error("glue: the least clearance is not the least")
	}
}

func find(t *testing.T, name string) *materials.Material {
	m, err := materials.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// What the rows say, in both of the table's ways to depend on something.
func TestFigures(t *testing.T) {
	mm := units.MustLength
	for _, tc := range []struct {
		what      string
		got, want units.Length
	}{
		{"a bar in mm", BarStep.Length(units.MM), mm("0.5mm")},
		{"a bar in inches", BarStep.Length(units.Inch), mm("1/16in")},
		{"cleaned up in inches", SkimBar.Length(units.Inch), mm("1.016mm")},
		{"leave", LeaveTurning.Length(), mm("0.4mm")},
		{"rough nothing said", RoughDepth.Length(nil), mm("0.5mm")},
		{"rough mild steel", RoughDepth.Length(find(t, "mild-steel")), mm("0.5mm")},
		{"rough brass", RoughDepth.Length(find(t, "brass")), mm("1mm")},
		{"nylon", ClosesIn.Length(find(t, "nylon")), mm("0.05mm")},
		{"acrylic", ClosesIn.Length(find(t, "acrylic")), mm("0mm")},
		{"ream 5.99", ReamAllowance.Length(mm("5.99mm")), mm("0.1mm")},
		{"ream 6", ReamAllowance.Length(mm("6mm")), mm("0.2mm")},
		{"ream 12", ReamAllowance.Length(mm("12mm")), mm("0.3mm")},
		{"ream 40", ReamAllowance.Length(mm("40mm")), mm("0.3mm")},
		{"blade 25", PartingBlade.Length(mm("25mm")), mm("2mm")},
		{"blade over 25", PartingBlade.Length(mm("25.01mm")), mm("3mm")},
		{"centre drill 18", CentreDrill.Length(mm("18mm")), mm("1.6mm")},
		{"centre drill 18.5", CentreDrill.Length(mm("18.5mm")), mm("2.5mm")},
		{"centre drill 60", CentreDrill.Length(mm("60mm")), mm("3.15mm")},
		{"drill of 0", DrillOver.Length(mm("0mm")), mm("0mm")},
		{"drill of 1.6", DrillOver.Length(mm("1.6mm")), mm("0.04mm")},
		{"drill of 2.4", DrillOver.Length(mm("2.4mm")), mm("0.06mm")},
		{"drill of 12.7", DrillOver.Length(mm("12.7mm")), mm("0.13mm")},
		{"drill of 30", DrillOver.Length(mm("30mm")), mm("0.13mm")},
		{"peck", PeckFirst.Of(mm("6.8mm")), mm("20.4mm")},
		{"boring bar", BoringBarFill.Of(mm("0.1in")), mm("0.08in")},
	} {
		if got := units.AsPrinted(tc.got, "0.0000mm"); got != units.AsPrinted(tc.want, "0.0000mm") {
			t.Errorf("%s: got %s mm, want %s", tc.what, tc.got.Decimal(), tc.want.Decimal())
		}
	}
	if a, n := PointAngle.Written(), SpringPasses.Written(); a != "118" || n != "2" {
		t.Errorf("written %s deg and %s passes", a, n)
	}
	if a, f := PointAngle.Angle().Deg(), FinishFeed.Feed().MM(); a != 118 || f != 0.06 {
		t.Errorf("point %v deg, finishing feed %v mm", a, f)
	}
	if steel, tool := ThreadPercent.Row(find(t, "mild-steel")),
		ThreadPercent.Number(find(t, "silver-steel")); steel.What != "65" || tool != 57.5 {
		t.Errorf("thread percentage of steel %q, of silver steel %v", steel.What, tool)
	}
}

// Every row is used somewhere in the program: a figure that nothing reads is
// no practice of ours.
func TestUsed(t *testing.T) {
	used := map[string]bool{}
	asked := regexp.MustCompile(`\bpractice\.([A-Z]\w*)`)
	err := filepath.WalkDir("../../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		for line := range strings.Lines(string(text)) {
			code, _, _ := strings.Cut(line, "//")
			for _, m := range asked.FindAllStringSubmatch(code, -1) {
				used[m[1]] = true
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range constants(t) {
		if !used[c[0]] {
			t.Errorf("practice.%s: nothing uses it", c[0])
		}
	}
}
