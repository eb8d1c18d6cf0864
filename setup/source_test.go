package setup_test

import (
	"flag"
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// What the source of every Go file is held to. A file that is not yet what a
// check asks for has a line in testdata/unclean/files.txt: the check's name and the
// file's. The list only gets shorter: a line that is no longer needed fails
// where SETOVER_SLOW is set, and -update takes it out.
const unclean = "testdata/unclean/files.txt"

var update = flag.Bool("update", false, "take out of "+unclean+" what is no longer needed")

// found is what a check finds: messages by file.
type found map[string][]string

func (f found) add(file, format string, args ...any) {
	f[file] = append(f[file], fmt.Sprintf(format, args...))
}

// checks are the checks by name.
var checks = map[string]func(*code) found{
	"byhand":  byHand,
	"clever":  clever,
	"columns": columns,
	"flags":   flags,
	"long":    long,
	"tags":    tags,
}

func TestSource(t *testing.T) {
	text, err := os.ReadFile(unclean)
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		listed[strings.TrimSuffix(line, "\n")] = true
	}
	c := sources(t)
	needed := map[string]bool{}
	for name, check := range checks {
		for file, messages := range check(c) {
			needed[name+" "+file] = true
			if !listed[name+" "+file] {
				t.Errorf("%s: %s", name, strings.Join(messages, "\n\t"))
			}
		}
	}
	var kept strings.Builder
	for _, line := range slices.Sorted(maps.Keys(listed)) {
		if needed[line] {
			kept.WriteString(line + "\n")
			continue
		}
		if os.Getenv("SETOVER_SLOW") != "" && !*update {
			t.Errorf("%s: %q is clean now: go test ./setup -update", unclean, line)
		}
	}
	if *update {
		if err := os.WriteFile(unclean, []byte(kept.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// The checks themselves: each finds the lines of testdata/unclean/unclean.txt
// that end in its name, and no other.
func TestSourceFinds(t *testing.T) {
	c := newCode(list(t))
	if _, err := c.add("setup/testdata/unclean", []string{"unclean.txt"}, c.compiled); err != nil {
		t.Fatal(err)
	}
	want, got := map[string]bool{}, map[string]bool{}
	number := 0
	for line := range strings.Lines(c.files[0].text) {
		number++
		if _, names, ok := strings.Cut(line, "// finds "); ok {
			for _, name := range strings.Fields(names) {
				want[fmt.Sprintf("%s %s:%d", name, c.files[0].name, number)] = true
			}
		}
	}
	for name, check := range checks {
		for _, messages := range check(c) {
			for _, m := range messages {
				place, _, _ := strings.Cut(m, ": ")
				got[name+" "+place] = true
			}
		}
	}
	if !maps.Equal(got, want) {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(slices.Sorted(maps.Keys(got)), "\n"),
			strings.Join(slices.Sorted(maps.Keys(want)), "\n"))
	}
}

// wordsMadeIn are the folders where a quantity's digits and words are made.
var wordsMadeIn = []string{"setup/base/units/", "setup/page/render/"}

// quantities are the types whose words depend on the page, and the methods that
// give their plain numbers. A pitch is written in its own unit on every page,
// so its String is its word.
var quantities = map[string][]string{
	"Length": {"MM"}, "Rounded": {"MM"}, "Feed": {"MM"}, "Power": {"Watts"},
	"SurfaceSpeed": {"MetresPerMinute", "FeetPerMinute"}, "FeedRate": {"MM"},
}

// quantity returns the name of the quantity an expression is, or "".
func (c *code) quantity(x ast.Expr) string {
	for v := c.info.TypeOf(x); ; {
		switch of := v.(type) {
		case *types.Pointer:
			v = of.Elem()
		case *types.Slice:
			v = of.Elem()
		case *types.Map:
			v = of.Elem()
		case *types.Named:
			o := of.Obj()
			if o.Pkg() != nil && o.Pkg().Path() == module+"setup/base/units" && quantities[o.Name()] != nil {
				return o.Name()
			}
			return ""
		default:
			return ""
		}
	}
}

// method returns the name of the method that x calls and what it is called on,
// which for a function is its package.
func method(x ast.Node) (name string, on ast.Expr) {
	if call, ok := x.(*ast.CallExpr); ok {
		if s, ok := call.Fun.(*ast.SelectorExpr); ok {
			return s.Sel.Name, s.X
		}
	}
	return "", nil
}

// writes reports whether a call makes text of any value it is given: in fmt, in
// a test's messages, or of plain numbers.
func (c *code) writes(call *ast.CallExpr) bool {
	s, ok := call.Fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	f, ok := c.info.Uses[s.Sel].(*types.Func)
	if !ok || f.Pkg() == nil {
		return false
	}
	switch f.Pkg().Path() {
	case "fmt", "testing":
		return true
	case "strconv":
		return f.Name() == "FormatFloat"
	}
	return f.Pkg().Path() == module+"setup/base/say" && f.Name() == "Num"
}

// number finds the plain number of a quantity in an expression and returns the
// quantity's name, or "".
func (c *code) number(x ast.Expr) (q string) {
	ast.Inspect(x, func(n ast.Node) bool {
		if name, on := method(n); on != nil && slices.Contains(quantities[c.quantity(on)], name) {
			q = c.quantity(on)
		}
		return q == ""
	})
	return q
}

// holds returns the name of a quantity that stands in a struct, or "". A type
// with a String says itself what it is.
func (c *code) holds(x ast.Expr) string {
	t := c.info.TypeOf(x)
	if p, ok := t.(*types.Pointer); ok {
		t = p.Elem()
	}
	named, ok := t.(*types.Named)
	if !ok {
		return ""
	}
	if m, _, _ := types.LookupFieldOrMethod(named, true, nil, "String"); m != nil {
		return ""
	}
	s, ok := named.Underlying().(*types.Struct)
	if !ok {
		return ""
	}
	for i := range s.NumFields() {
		if f, ok := s.Field(i).Type().(*types.Named); ok && f.Obj().Pkg() != nil &&
			f.Obj().Pkg().Path() == module+"setup/base/units" && quantities[f.Obj().Name()] != nil {
			return f.Obj().Name()
		}
	}
	return ""
}

// digits returns the quantity whose Decimal a chain of calls begins with, or "".
func (c *code) digits(on ast.Expr) string {
	for {
		name, of := method(on)
		if of == nil {
			return ""
		}
		if name == "Decimal" {
			return c.quantity(of)
		}
		on = of
	}
}

// ownUnit are the files whose numbers stand in mm or in on every page, and why.
var ownUnit = map[string]string{
	"tapers/taper.go":             "a taper per foot is in inches everywhere",
	"setup/page/sheet/figures.go": "a pitch with decimals of its own is a metric one",
}

// inMM reports whether a literal is a number whose unit is written as mm or in.
func inMM(c *code, lit *ast.CompositeLit) bool {
	t, ok := c.info.TypeOf(lit).(*types.Named)
	if !ok || t.Obj().Name() != "Number" {
		return false
	}
	for _, e := range lit.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			k, _ := kv.Key.(*ast.Ident)
			v, _ := kv.Value.(*ast.BasicLit)
			if k != nil && v != nil && k.Name == "Unit" && (v.Value == `"mm"` || v.Value == `"in"`) {
				return true
			}
		}
	}
	return false
}

// byHand finds a quantity that is formatted by hand, so that it stands in
// millimetres on a page in inches: given to what makes text, by itself, in a
// struct or as a plain number, its String, its Fixed, the text of its Decimal,
// and a number with mm for its unit. Tests may compare numbers and digits.
func byHand(c *code) found {
	f := found{}
	for _, file := range c.files {
		if slices.ContainsFunc(wordsMadeIn, func(here string) bool { return strings.HasPrefix(file.name, here) }) {
			continue
		}
		ast.Inspect(file.tree, func(n ast.Node) bool {
			if lit, ok := n.(*ast.CompositeLit); ok && !file.test() && ownUnit[file.name] == "" && inMM(c, lit) {
				f.add(file.name, "%s: a number in mm stays so on a page in inches: give a units.Length", c.line(lit))
			}
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			said := func(q, how string) {
				if q != "" {
					f.add(file.name, "%s: a %s %s: say.Of words it, by its Up, Down or Nearest", c.line(call), q, how)
				}
			}
			name, on := method(call)
			if c.writes(call) {
				for _, arg := range call.Args {
					said(c.quantity(arg), "is given to "+name)
					if !file.test() {
						said(c.number(arg), "is given to "+name+" as a number")
						said(c.holds(arg), "is given to "+name+" in a struct")
					}
				}
			}
			switch name {
			case "String", "StringFixed":
				said(c.quantity(on), "is made a String")
				if !file.test() {
					said(c.digits(on), "is written with all its digits")
				}
			case "Fixed":
				if !file.test() {
					said(c.quantity(on), "is written by hand")
				}
			}
			return true
		})
	}
	return f
}

// clever finds a choice dressed up as a table: a map from true and false, and a
// literal that is indexed on the spot by a sign or a comparison.
func clever(c *code) found {
	f := found{}
	for _, file := range c.files {
		ast.Inspect(file.tree, func(n ast.Node) bool {
			x, ok := n.(*ast.IndexExpr)
			if !ok {
				return true
			}
			table, ok := x.X.(*ast.CompositeLit)
			if !ok {
				return true
			}
			if m, ok := table.Type.(*ast.MapType); ok {
				if key, ok := m.Key.(*ast.Ident); ok && key.Name == "bool" {
					f.add(file.name, "%s: a map from true and false: write the condition", c.line(x))
				}
			}
			ast.Inspect(x.Index, func(n ast.Node) bool {
				if call, ok := n.(*ast.CallExpr); ok {
					if name, _ := method(call); name == "Sign" || name == "Cmp" {
						f.add(file.name, "%s: a literal indexed by %s: write a switch", c.line(x), name)
					}
				}
				return true
			})
			return true
		})
	}
	return f
}

// widest is how many columns a line may have; a tab counts as one.
const widest = 120

// columns finds lines that are too wide to read beside another file, in the
// tools of .ci as well.
func columns(c *code) found {
	f := found{}
	look := func(name, text string) {
		number := 0
		for line := range strings.Lines(text) {
			number++
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > widest {
				f.add(name, "%s:%d: %d columns, at most %d", name, number, n, widest)
			}
		}
	}
	for _, file := range c.files {
		look(file.name, file.text)
	}
	tools, _ := filepath.Glob("../.ci/*/*.go")
	for _, tool := range tools {
		text, _ := os.ReadFile(tool)
		look(filepath.ToSlash(tool[len("../"):]), string(text))
	}
	return f
}

// flags finds a flag that is written with its dashes below the command line.
func flags(c *code) found {
	f := found{}
	dashed := regexp.MustCompile(`(^|[^-\w])--[a-z]`)
	for _, file := range c.files {
		if file.test() || strings.HasPrefix(file.name, "cmd/") {
			continue
		}
		ast.Inspect(file.tree, func(n ast.Node) bool {
			if x, ok := n.(*ast.BasicLit); ok && x.Kind == token.STRING {
				if text, _ := strconv.Unquote(x.Value); dashed.MatchString(text) {
					f.add(file.name, "%s: a flag by hand: say.Key names it", c.line(x))
				}
			}
			return true
		})
	}
	return f
}

// A function longer or more branched than this says why, on a line of its
// comment that starts with "Long: ".
const (
	mostLines    = 60
	mostBranches = 15
)

// long finds functions that should be parted, tests aside.
func long(c *code) found {
	f := found{}
	for _, file := range c.files {
		if file.test() {
			continue
		}
		for _, d := range file.tree.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil || strings.Contains("\n"+fn.Doc.Text(), "\nLong: ") {
				continue
			}
			lines := c.fset.Position(fn.End()).Line - c.fset.Position(fn.Pos()).Line + 1
			if n := branches(fn); lines > mostLines || n > mostBranches {
				f.add(file.name, "%s: %s has %d lines and %d branches, at most %d and %d: part it, "+
					"or say in its comment why not, on a line that starts with \"Long: \"",
					c.line(fn), fn.Name.Name, lines, n, mostLines, mostBranches)
			}
		}
	}
	return f
}

// branches returns a function's cyclomatic complexity: one, and one for each
// place where the way parts.
func branches(fn *ast.FuncDecl) int {
	n := 1
	ast.Inspect(fn, func(x ast.Node) bool {
		switch x := x.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			n++
		case *ast.CaseClause:
			if x.List != nil {
				n++
			}
		case *ast.CommClause:
			if x.Comm != nil {
				n++
			}
		case *ast.BinaryExpr:
			if x.Op.String() == "&&" || x.Op.String() == "||" {
				n++
			}
		}
		return true
	})
	return n
}
