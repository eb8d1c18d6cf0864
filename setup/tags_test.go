package setup_test

import (
	"fmt"
	"go/ast"
	"go/types"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// shownAs is how a field of each kind may be shown: what its as tag may say,
// and the words of it in this order. See setup/page/sheet/figures.go.
var shownAs = map[string]*regexp.Regexp{
	"length":   regexp.MustCompile(`^(up|down|fine)$`),
	"pitch":    regexp.MustCompile(`^(up|down|fine|\d)$`),
	"angle":    regexp.MustCompile(`^(minutes|\d( signed)?)$`),
	"measured": regexp.MustCompile(`^\d(/\d)?( (up|down))?$`),
	"number":   regexp.MustCompile(`^(\d( signed)?( ` + unitWords + `)?|(signed )?` + unitWords + `|signed)$`),
	"whole":    regexp.MustCompile(`^((signed )?` + unitWords + `|signed)$`),
}

// unitWords are the units of numbers that have no type of their own.
const unitWords = `(%|GPa|K|N|Nm|deg|diameters|in|m/s|min|mm|mm²|ppm|turns|um)`

// kinds are the kinds of the quantities of setup/base/units.
var kinds = map[string]string{
	"Length": "length", "Pitch": "pitch", "Angle": "angle", "SpindleSpeed": "measured", "SurfaceSpeed": "measured",
	"Feed": "measured", "FeedRate": "measured", "Power": "measured",
}

// kind returns the kind of what is shown of a type, or of the members of a
// list: a key of shownAs, or "" for words.
func kind(t types.Type) string {
	switch t := types.Unalias(t).(type) {
	case *types.Pointer:
		return kind(t.Elem())
	case *types.Slice:
		return kind(t.Elem())
	case *types.Named:
		if o := t.Obj(); o.Pkg() != nil && o.Pkg().Path() == module+"setup/base/units" && kinds[o.Name()] != "" {
			return kinds[o.Name()]
		}
		return kind(t.Underlying())
	case *types.TypeParam: // of the kind that the first of its types is
		if u, ok := t.Constraint().Underlying().(*types.Interface).EmbeddedType(0).(*types.Union); ok {
			return kind(u.Term(0).Type())
		}
	case *types.Basic:
		switch {
		case t.Info()&types.IsInteger != 0:
			return "whole"
		case t.Info()&types.IsFloat != 0:
			return "number"
		}
	}
	return ""
}

// tagged calls do with every field that has a tag, and the type it stands in.
func (c *code) tagged(do func(in source, of string, f *ast.Field, tag reflect.StructTag)) {
	for _, file := range c.files {
		of := ""
		ast.Inspect(file.tree, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.TypeSpec:
				of = n.Name.Name
			case *ast.Field:
				if n.Tag != nil {
					text, _ := strconv.Unquote(n.Tag.Value)
					do(file, of, n, reflect.StructTag(text))
				}
			}
			return true
		})
	}
}

// key returns a field's key in JSON and CSV.
func key(tag reflect.StructTag) string {
	name, _, _ := strings.Cut(tag.Get("json"), ",")
	if name == "-" || name == "" {
		name = tag.Get("key")
	}
	return name
}

// wholeTag is a field's tag with the five keys there are.
var wholeTag = regexp.MustCompile(`^((json|key|show|as|note):"[^"]+"( |$))+$`)

// tags finds a field whose tag says what nobody reads: a key there is none of, a
// word that is none of its kind's, and what is to be shown of a field without a
// name or a key.
func tags(c *code) found {
	found := found{}
	c.tagged(func(in source, _ string, f *ast.Field, tag reflect.StructTag) {
		wrong := func(format string, args ...any) { found.add(in.name, c.line(f)+": "+format, args...) }
		if !wholeTag.MatchString(string(tag)) {
			wrong("the tag %s is not of json, key, show, as and note alone", tag)
		}
		as, shown := tag.Lookup("as")
		of := kind(c.info.TypeOf(f.Type))
		if allowed := shownAs[of]; shown && (allowed == nil || !allowed.MatchString(as)) {
			wrong("a %v is not shown as %q", c.info.TypeOf(f.Type), as)
		}
		switch name := tag.Get("show"); {
		case name == "" && (shown || tag.Get("note") != ""):
			wrong("what has no name is not shown")
		case name != "" && key(tag) == "":
			wrong("%q has no key", name)
		}
	})
	return found
}

// directions is the table of every figure that is rounded in one direction.
const directions = "testdata/directions.txt"

// Every figure that is rounded in one direction has a line in the table of
// directions, with the reason why, and the table has no other.
func TestDirections(t *testing.T) {
	text, err := os.ReadFile(directions)
	if err != nil {
		t.Fatal(err)
	}
	listed, order := map[string]bool{}, []string{}
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		words := strings.Fields(line)
		if len(words) < 5 {
			t.Fatalf("%s: %q: want the type, the key, up or down, and why", directions, line)
		}
		said := strings.Join(words[:3], " ")
		if listed[said] {
			t.Errorf("%s: %s stands there twice", directions, said)
		}
		listed[said], order = true, append(order, said)
	}
	if !slices.IsSorted(order) {
		t.Errorf("%s is not in the order of the alphabet", directions)
	}
	sources(t).tagged(func(in source, of string, f *ast.Field, tag reflect.StructTag) {
		for word := range strings.FieldsSeq(tag.Get("as")) {
			if in.test() || word != "up" && word != "down" {
				continue
			}
			room := in.name[:strings.LastIndex(in.name, "/")]
			said := fmt.Sprintf("%s.%s %s %s", room, of, key(tag), word)
			if !listed[said] {
				t.Errorf("%s: %s has no line in %s: judge it, and say why", in.name, said, directions)
			}
			delete(listed, said)
		}
	})
	for said := range listed {
		t.Errorf("%s: %s is no figure of the source", directions, said)
	}
}
