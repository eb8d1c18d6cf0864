package cli

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"setover/setup/page/sheet"
	"setover/tapers"
)

// schema is a JSON Schema, as far as results need one.
type schema struct {
	Type       any                `json:"type,omitempty"` // a word or a list of words
	Properties map[string]*schema `json:"properties,omitempty"`
	Required   []string           `json:"required,omitempty"`
	Items      *schema            `json:"items,omitempty"`
	Others     any                `json:"additionalProperties,omitempty"` // false, or a *schema
	AnyOf      []*schema          `json:"anyOf,omitempty"`
}

// page is the file of all of them: one definition a command.
type page struct {
	Schema string             `json:"$schema"`
	Title  string             `json:"title"`
	Defs   map[string]*schema `json:"$defs"`
}

// schemaOf returns the schema of a type. samples are values of it, which are
// looked into only where the type itself does not say what its JSON is.
func schemaOf(t reflect.Type, samples []reflect.Value) *schema {
	switch t.Kind() {
	case reflect.Pointer:
		return nullable(schemaOf(t.Elem(), elements(samples)))
	case reflect.Slice, reflect.Array:
		return &schema{Type: "array", Items: schemaOf(t.Elem(), elements(samples))}
	}
	if t.Kind() == reflect.Interface || t.Implements(reflect.TypeFor[json.Marshaler]()) {
		return written(t, samples)
	}
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return &schema{Type: "string"}
	}
	switch t.Kind() {
	case reflect.Struct:
		s := &schema{Type: "object", Properties: map[string]*schema{}, Others: false}
		s.fields(t, samples)
		slices.Sort(s.Required)
		return s
	case reflect.Map:
		return &schema{Type: "object", Others: schemaOf(t.Elem(), elements(samples))}
	case reflect.Bool:
		return &schema{Type: "boolean"}
	case reflect.String:
		return &schema{Type: "string"}
	case reflect.Int, reflect.Int64, reflect.Int32:
		return &schema{Type: "integer"}
	case reflect.Float64:
		return &schema{Type: "number"}
	}
	panic(fmt.Sprintf("no JSON kind for %v", t))
}

// fields adds the fields of a struct by their keys, those of embedded structs
// among them.
func (s *schema) fields(t reflect.Type, samples []reflect.Value) {
	for i := range t.NumField() {
		f := t.Field(i)
		tag := f.Tag.Get("json")
		key, options, _ := strings.Cut(tag, ",")
		var inside []reflect.Value
		for _, v := range samples {
			inside = append(inside, v.Field(i))
		}
		switch {
		case tag == "-":
		case f.Anonymous && key == "" && f.Type.Kind() == reflect.Pointer:
			needed := s.Required
			s.fields(f.Type.Elem(), elements(inside))
			s.Required = needed // all of them are left out where it is nil
		case f.Anonymous && key == "":
			s.fields(f.Type, inside)
		case !f.IsExported():
		default:
			if key == "" {
				key = f.Name
			}
			kind := f.Type
			if strings.Contains(options, "omitempty") {
				if kind.Kind() == reflect.Pointer { // left out, never null
					kind, inside = kind.Elem(), elements(inside)
				}
			} else {
				s.Required = append(s.Required, key)
			}
			s.Properties[key] = schemaOf(kind, inside)
		}
	}
}

// elements returns what samples point to or hold.
func elements(samples []reflect.Value) []reflect.Value {
	var list []reflect.Value
	for _, v := range samples {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				list = append(list, v.Elem())
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				list = append(list, v.Index(i))
			}
		case reflect.Map:
			for _, k := range v.MapKeys() {
				list = append(list, v.MapIndex(k))
			}
		}
	}
	return list
}

// written returns the schema of a type that writes its own JSON or stands for
// many, from what is written of the samples, or of its zero value where there are none.
func written(t reflect.Type, samples []reflect.Value) *schema {
	if len(samples) == 0 {
		zero := reflect.Zero(t)
		if t == reflect.TypeFor[tapers.Ratio]() { // its zero value is no ratio
			zero = reflect.ValueOf(tapers.Ratio{M: decimal.NewFromInt(1), N: decimal.NewFromInt(20)})
		}
		samples = []reflect.Value{zero}
	}
	var all *schema
	for _, v := range samples {
		if !v.CanInterface() {
			continue
		}
		text, err := json.Marshal(v.Interface())
		if err != nil {
			panic(err)
		}
		var x any
		if err := json.Unmarshal(text, &x); err != nil {
			panic(fmt.Sprintf("%v writes %s: %v", t, text, err))
		}
		all = merge(all, observed(x))
	}
	return all
}

// observed returns the schema of one JSON value.
func observed(x any) *schema {
	switch x := x.(type) {
	case nil:
		return &schema{Type: "null"}
	case bool:
		return &schema{Type: "boolean"}
	case string:
		return &schema{Type: "string"}
	case float64:
		return &schema{Type: "number"}
	case []any:
		s := &schema{Type: "array"}
		for _, i := range x {
			s.Items = merge(s.Items, observed(i))
		}
		return s
	}
	s := &schema{Type: "object", Properties: map[string]*schema{}, Others: false}
	for k, v := range x.(map[string]any) {
		s.Properties[k] = observed(v)
		s.Required = append(s.Required, k)
	}
	slices.Sort(s.Required)
	return s
}

// merge returns the schema of what is either a or b.
func merge(a, b *schema) *schema {
	switch {
	case a == nil:
		return b
	case b == nil || reflect.DeepEqual(a, b):
		return a
	case a.Type == "null":
		return nullable(b)
	case b.Type == "null":
		return nullable(a)
	}
	if a.Type == "array" && b.Type == "array" {
		return &schema{Type: "array", Items: merge(a.Items, b.Items)}
	}
	if a.Type == "object" && b.Type == "object" && a.Properties != nil && b.Properties != nil {
		s := &schema{Type: "object", Properties: maps.Clone(a.Properties), Others: false}
		for k, v := range b.Properties {
			s.Properties[k] = merge(s.Properties[k], v)
		}
		for _, k := range a.Required {
			if slices.Contains(b.Required, k) {
				s.Required = append(s.Required, k)
			}
		}
		return s
	}
	return &schema{Type: either(append(kinds(a.Type), kinds(b.Type)...)), Items: merge(a.Items, b.Items)}
}

// nullable returns the schema of s or null.
func nullable(s *schema) *schema {
	c := *s
	c.Type = either(append(kinds(s.Type), "null"))
	return &c
}

// either returns types each once, in one order, null last.
func either(types []string) []string {
	slices.SortFunc(types, func(a, b string) int {
		switch {
		case a == b:
			return 0
		case a == "null":
			return 1
		case b == "null":
			return -1
		}
		return strings.Compare(a, b)
	})
	return slices.Compact(types)
}

// kinds returns a schema's types as a list of its own.
func kinds(t any) []string {
	switch t := t.(type) {
	case string:
		return []string{t}
	case []string:
		return slices.Clone(t)
	case []any:
		var list []string
		for _, w := range t {
			list = append(list, w.(string))
		}
		return list
	}
	return nil
}

// check returns where a JSON value is not as the schema says.
func (s *schema) check(at string, x any) []string {
	if len(s.AnyOf) > 0 {
		var worst []string
		for _, o := range s.AnyOf {
			if worst = o.check(at, x); len(worst) == 0 {
				return nil
			}
		}
		return worst
	}
	kind := observed(x).Type.(string)
	types := kinds(s.Type)
	if n, ok := x.(float64); ok && n == float64(int64(n)) && slices.Contains(types, "integer") {
		kind = "integer"
	}
	if !slices.Contains(types, kind) {
		return []string{fmt.Sprintf("%s is %s, not %v", at, kind, s.Type)}
	}
	var wrong []string
	switch x := x.(type) {
	case []any:
		for i, v := range x {
			if s.Items != nil {
				wrong = append(wrong, s.Items.check(fmt.Sprintf("%s.%d", at, i), v)...)
			}
		}
	case map[string]any:
		for _, k := range s.Required {
			if _, ok := x[k]; !ok {
				wrong = append(wrong, at+" has no "+k)
			}
		}
		for k, v := range x {
			sub := s.Properties[k]
			if others, ok := s.Others.(*schema); ok && sub == nil {
				sub = others
			}
			if sub == nil {
				wrong = append(wrong, at+" has "+k+", which the schema has not")
				continue
			}
			wrong = append(wrong, sub.check(at+"."+k, v)...)
		}
	}
	return wrong
}

// keys adds the paths of the schema's keys to found.
func (s *schema) keys(at string, found map[string]bool) {
	if s == nil {
		return
	}
	for _, o := range s.AnyOf {
		o.keys(at, found)
	}
	for k, v := range s.Properties {
		found[at+"."+k] = true
		v.keys(at+"."+k, found)
	}
	s.Items.keys(at, found)
	if others, ok := s.Others.(*schema); ok {
		others.keys(at, found)
	}
}

// leaves calls do with every command that holds no others.
func leaves(c *cobra.Command, do func(*cobra.Command)) {
	if !c.HasSubCommands() {
		do(c)
		return
	}
	for _, sub := range c.Commands() {
		leaves(sub, do)
	}
}

// everything returns the whole tree of commands.
func everything() *cobra.Command {
	return newRoot(&app{Process: Process{Env: os.LookupEnv}, everything: true}, nil)
}

// exampleLines returns the examples of README.md and of every command's help.
func exampleLines(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	lines := regexp.MustCompile(`(?m)^setover .*`).FindAllString(string(text), -1)
	leaves(everything(), func(c *cobra.Command) {
		if c.Name() != "completion" { // its examples are lines for a shell
			lines = append(lines, strings.Split(c.Example, "\n")...)
		}
	})
	return slices.Compact(slices.Sorted(slices.Values(lines)))
}

// results runs the examples, and returns the results that each command wrote,
// by its name.
func results(t *testing.T) map[string][]sheet.Result {
	t.Helper()
	seen := map[string][]sheet.Result{}
	for _, line := range exampleLines(t) {
		args := shellWords(line)[1:]
		c, _, err := everything().Find(args)
		if err != nil || c.HasSubCommands() {
			continue // another test says that this example does not work
		}
		name := strings.TrimPrefix(c.CommandPath(), "setover ")
		t.Run(line, func(t *testing.T) {
			if list := runOnce(t, line).results; len(list) > 0 {
				seen[name] = append(seen[name], list...)
			}
		})
	}
	return seen
}

// schemas returns the schema of every command's result. The types are those of
// the results its examples write: a command needs nothing but an example that
// works, one for each type it may return.
func schemas(seen map[string][]sheet.Result) page {
	p := page{
		"https://json-schema.org/draft/2020-12/schema", "What each command of setover writes with --format json",
		map[string]*schema{},
	}
	for name, list := range seen {
		byType := map[reflect.Type][]reflect.Value{}
		var types []reflect.Type
		for _, r := range list {
			t := reflect.TypeOf(r)
			if byType[t] == nil {
				types = append(types, t)
			}
			byType[t] = append(byType[t], reflect.ValueOf(r))
		}
		slices.SortFunc(types, func(a, b reflect.Type) int { return strings.Compare(a.String(), b.String()) })
		var any []*schema
		for _, t := range types {
			s := schemaOf(t, byType[t])
			s.Properties["shop"] = &schema{Type: "string"} // whose machines were used, if any
			any = append(any, s)
		}
		p.Defs[name] = &schema{AnyOf: any}
		if len(any) == 1 {
			p.Defs[name] = any[0]
		}
	}
	return p
}

const schemaFile = "docs/schema.json"

// The schema of every command's result is as committed, no key of it is gone,
// and what the examples write is as it says.
func TestSchema(t *testing.T) {
	seen := results(t)
	made := schemas(seen)
	leaves(everything(), func(c *cobra.Command) {
		name := strings.TrimPrefix(c.CommandPath(), "setover ")
		switch name {
		case "completion", "shop new", "part new": // write a file's text, not a result
		default:
			if made.Defs[name] == nil {
				t.Errorf("%s: none of its examples writes a result", name)
			}
		}
	})
	for name, list := range seen {
		for _, r := range list {
			text, err := json.Marshal(r)
			if err != nil {
				t.Fatal(name, err)
			}
			var x any
			if err := json.Unmarshal(text, &x); err != nil {
				t.Fatal(name, err)
			}
			for _, wrong := range made.Defs[name].check(name, x) {
				t.Error(wrong)
			}
		}
	}
	now := map[string]bool{}
	for name, s := range made.Defs {
		s.keys(name, now)
	}
	key := regexp.MustCompile(`^[a-z0-9]+(_[a-z0-9]+)*$`)
	for k := range now {
		if last := k[strings.LastIndex(k, ".")+1:]; !key.MatchString(last) {
			t.Errorf("%s is not in snake_case", k)
		}
	}
	var was page
	if text, err := os.ReadFile(schemaFile); err == nil {
		if err := json.Unmarshal(text, &was); err != nil {
			t.Fatal(err)
		}
	}
	gone := false
	for name, s := range was.Defs {
		before := map[string]bool{}
		s.keys(name, before)
		for k := range before {
			if !now[k] {
				gone = true
				t.Errorf("%s is gone: scripts that read it break (if it is meant, take it out of %s by hand)", k, schemaFile)
			}
		}
	}
	if !gone {
		compareDoc(t, schemaFile, indented(t, made))
	}
}

// UnmarshalJSON reads a schema, so that additionalProperties may be either.
func (s *schema) UnmarshalJSON(text []byte) error {
	type plain schema
	var p struct {
		plain
		Others json.RawMessage `json:"additionalProperties"`
	}
	if err := json.Unmarshal(text, &p); err != nil {
		return err
	}
	*s = schema(p.plain)
	if len(p.Others) > 0 && p.Others[0] == '{' {
		sub := new(schema)
		s.Others = sub
		return json.Unmarshal(p.Others, sub)
	}
	return nil
}

func indented(t *testing.T, v any) string {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(v); err != nil {
		t.Fatal(err)
	}
	// Short lists and objects of one type on a line each: the file is read too.
	text := regexp.MustCompile(`\[\s+("[^\]]*")\s+\]`).ReplaceAllStringFunc(b.String(), func(l string) string {
		return regexp.MustCompile(`\s+`).ReplaceAllString(l, "")
	})
	return regexp.MustCompile(`\{\s+("type": [^{}\n]*)\n\s+\}`).ReplaceAllString(text, "{$1}")
}
