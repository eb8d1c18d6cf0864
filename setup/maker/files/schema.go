package files

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// field is one key of a mapping that is read into a T. The same value reads
// files and makes the table of keys.
type field[T any] struct {
	key    string
	kind   string // what it is, for people: "length", "list of lengths"
	bare   string // what a bare number means; "" where there is no number
	needed bool
	doc    string // what it says
	def    string // what is taken when it is absent
	absent string // what its absence means
	read   func(r *reader, n ast.Node, t *T)
	sub    func() []Row
	rule   func(r *reader, n ast.Node, t *T, wrote map[string]bool)
}

// rule makes a field that is no key but a check of the whole mapping, which
// knows the keys that were written. It runs once all of them were read without
// a problem, and may set defaults.
func rule[T any](check func(r *reader, n ast.Node, t *T, wrote map[string]bool)) field[T] {
	return field[T]{rule: check}
}

// says gives the field its caption in the table of keys.
func (f field[T]) says(doc string) field[T] { f.doc = doc; return f }

// required marks a key that must be there.
func (f field[T]) required() field[T] { f.needed = true; return f }

// defaults says what is taken when the key is absent. The zero value of the
// target must already be that, or the reader of the mapping sets it.
func (f field[T]) defaults(text string) field[T] { f.def = text; return f }

// without says what the key's absence means.
func (f field[T]) without(text string) field[T] { f.absent = text; return f }

// Row is one line of the table of keys.
type Row struct {
	Key, Kind, Bare, Default, Absent, Doc string
	Required                              bool
}

// rows returns the table of keys of a mapping, nested keys after their parent.
func rows[T any](fields []field[T], prefix string) []Row {
	var list []Row
	for _, f := range fields {
		if f.rule != nil {
			continue
		}
		key := prefix + f.key
		list = append(list, Row{key, f.kind, f.bare, f.def, f.absent, f.doc, f.needed})
		if f.sub != nil {
			for _, s := range f.sub() {
				s.Key = key + "." + s.Key
				list = append(list, s)
			}
		}
	}
	return list
}

// mapping reads the keys of n into t.
func mapping[T any](r *reader, n ast.Node, key string, t *T, fields []field[T]) {
	entries, ok := r.entries(n)
	if !ok {
		if _, null := n.(*ast.NullNode); null {
			r.add(n, problem.Problem{Code: problem.Missing, At: problem.Pos{Key: key}, Want: "has no keys under it"})
			return
		}
		r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: key}, Want: "must be a group of keys"})
		return
	}
	var names []string
	var rules []field[T]
	for _, f := range fields {
		if f.rule != nil {
			rules = append(rules, f)
			continue
		}
		names = append(names, f.key)
	}
	before := len(r.problems)
	seen := map[string]bool{}
	for _, e := range entries {
		seen[e.key] = true
		if e.node == nil {
			continue
		}
		if e.key == "notes" {
			r.notes(e.node)
			continue
		}
		i := slices.IndexFunc(fields, func(f field[T]) bool { return f.rule == nil && f.key == e.key })
		if i < 0 {
			p := problem.Problem{Code: problem.UnknownKey, Found: e.key, Want: "unknown key"}
			p = p.Near(names)
			if p.Nearest == "" {
				p.Want += ": the keys here are " + strings.Join(names, ", ")
			}
			r.add(e.at, p)
			r.harmless++
			continue
		}
		fields[i].read(r, e.node, t)
	}
	for _, f := range fields {
		if f.needed && !seen[f.key] {
			r.add(n, problem.Problem{Code: problem.Missing, At: problem.Pos{Key: f.key}, Want: "is needed here: " + f.doc})
		}
	}
	if len(r.problems) > before {
		return
	}
	for _, f := range rules {
		f.rule(r, n, t, seen)
	}
}

// notes allows a text or a list of texts.
func (r *reader) notes(n ast.Node) {
	if items, ok := r.items(n); ok {
		for _, i := range items {
			r.text(i, "notes", "a text")
		}
		return
	}
	r.text(n, "notes", "a text")
}

// value makes a field of a scalar: parse reads its text.
func value[T, V any](key, kind, bare string, get func(*T) *V, parse func(string, *reader) (V, error)) field[T] {
	return field[T]{key: key, kind: kind, bare: bare, read: func(r *reader, n ast.Node, t *T) {
		if v, ok := scalar(r, n, key, kind, parse); ok {
			*get(t) = v
		}
	}}
}

// option is value for a target that is nil when the key is absent.
func option[T, V any](key, kind, bare string, get func(*T) **V, parse func(string, *reader) (V, error)) field[T] {
	return field[T]{key: key, kind: kind, bare: bare, read: func(r *reader, n ast.Node, t *T) {
		if v, ok := scalar(r, n, key, kind, parse); ok {
			*get(t) = &v
		}
	}}
}

// scalar reads one value of the kind, or keeps the problem.
func scalar[V any](r *reader, n ast.Node, key, kind string, parse func(string, *reader) (V, error)) (v V, ok bool) {
	text, ok := r.text(n, key, article(kind))
	if !ok {
		return v, false
	}
	v, err := parse(text, r)
	if err != nil {
		r.addErr(n, key, err)
		return v, false
	}
	return v, true
}

// list makes a field of a list of scalars.
func list[T, V any](key, kind, bare string, get func(*T) *[]V, parse func(string, *reader) (V, error)) field[T] {
	return field[T]{key: key, kind: "list of " + kind + "s", bare: bare, read: func(r *reader, n ast.Node, t *T) {
		*get(t) = readList(r, n, key, kind, parse)
		if kind == "length" {
			r.warnComma(n)
		}
	}}
}

func readList[V any](r *reader, n ast.Node, key, kind string, parse func(string, *reader) (V, error)) []V {
	items, ok := r.items(n)
	if !ok {
		r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: key}, Want: "must be a list, such as [a, b]"})
		return nil
	}
	var out []V
	for _, i := range items {
		if v, ok := scalar(r, i, key, kind, parse); ok {
			out = append(out, v)
		}
	}
	return out
}

// group makes a field of a mapping that is nil when absent.
func group[T, S any](key string, get func(*T) **S, fields func() []field[S]) field[T] {
	return field[T]{
		key: key, kind: "group", sub: func() []Row { return rows(fields(), "") },
		read: func(r *reader, n ast.Node, t *T) {
			s := new(S)
			mapping(r, n, key, s, fields())
			*get(t) = s
		},
	}
}

// groups makes a field of a list of mappings; place keeps where each stands.
func groups[T, S any](key string, get func(*T) *[]S, place func(*S, problem.Pos), fields func() []field[S]) field[T] {
	return field[T]{
		key: key, kind: "list of groups", sub: func() []Row { return rows(fields(), "") },
		read: func(r *reader, n ast.Node, t *T) {
			items, ok := r.items(n)
			if !ok {
				r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: key}, Want: "must be a list: put - before each"})
				return
			}
			for _, i := range items {
				var s S
				before, harmless := len(r.problems), r.harmless
				mapping(r, i, key, &s, fields())
				if wrong := len(r.problems) - before; wrong > 0 {
					r.harmless = harmless + wrong // the item is left out, and the others can be checked
					continue
				}
				if place != nil {
					at := r.at(i)
					at.Key = key
					place(&s, at)
				}
				*get(t) = append(*get(t), s)
			}
		},
	}
}

// The kinds of scalar.

func asLength(text string, r *reader) (units.Length, error) { return units.ParseLength(text, r.bare) }

func asSize(text string, r *reader) (units.Length, error) {
	l, err := asLength(text, r)
	if err == nil && l.Sign() <= 0 {
		err = problem.New(problem.OutOfRange, "", text, "a size must be above 0")
	}
	return l, err
}

func asAngle(text string, _ *reader) (units.Angle, error) { return units.ParseAngle(text) }

func asText(text string, _ *reader) (string, error) {
	if strings.TrimSpace(text) == "" {
		return "", problem.New(problem.Missing, "", nil, "is empty")
	}
	if strings.Contains(text, "\n") {
		return "", problem.New(problem.Malformed, "", strconv.Quote(text), "must stand on one line")
	}
	return text, nil
}

func asRPM(text string, _ *reader) (units.SpindleSpeed, error) { return units.ParseSpindleSpeed(text) }

func asPower(text string, _ *reader) (units.Power, error) { return units.ParsePower(text) }

func asPitch(text string, _ *reader) (units.Pitch, error) { return units.ParsePitch(text) }

func asBool(text string, _ *reader) (bool, error) {
	switch text {
	case "true", "yes":
		return true, nil
	case "false", "no":
		return false, nil
	}
	return false, problem.New(problem.Malformed, "", text, "write true or false").Near([]string{"true", "false"})
}

// asCount returns a reader of whole numbers within bounds.
func asCount(from, to int) func(string, *reader) (int, error) {
	return func(text string, _ *reader) (int, error) {
		if strings.Trim(text, "0123456789") != "" || text == "" || len(text) > 9 {
			return 0, problem.New(problem.Malformed, "", text, "not a whole number")
		}
		n, err := strconv.Atoi(text)
		if err == nil && (n < from || n > to) {
			err = problem.New(problem.OutOfRange, "", text, fmt.Sprintf("must be %d to %d", from, to))
		}
		return n, err
	}
}

func asCount64(from, to int) func(string, *reader) (int64, error) {
	return func(text string, r *reader) (int64, error) {
		n, err := asCount(from, to)(text, r)
		return int64(n), err
	}
}

// oneOf returns a reader of one of a few words.
func oneOf[T ~string](words ...T) func(string, *reader) (T, error) {
	return func(text string, _ *reader) (T, error) {
		names := make([]string, len(words))
		for i, w := range words {
			names[i] = string(w)
		}
		if !slices.Contains(names, text) {
			return "", problem.New(problem.Unknown, "", text, "write "+either(names)).Near(names)
		}
		return T(text), nil
	}
}

// either lists words as in "a, b or c".
func either(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// The fields that come most often.

const fileUnits = "the file's units"

func lengthOf[T any](key string, get func(*T) *units.Length) field[T] {
	return value(key, "length", fileUnits, get, asLength)
}

func sizeOf[T any](key string, get func(*T) *units.Length) field[T] {
	return value(key, "length", fileUnits, get, asSize)
}

func sizeMaybe[T any](key string, get func(*T) **units.Length) field[T] {
	return option(key, "length", fileUnits, get, asSize)
}

func angleOf[T any](key string, get func(*T) *units.Angle) field[T] {
	return value(key, "angle", "degrees", get, asAngle)
}

func flagOf[T any](key string, get func(*T) *bool) field[T] {
	return value(key, "true or false", "", get, asBool).defaults("false")
}

// pair reads a list of exactly two lengths.
func pair(r *reader, n ast.Node, key, want string) (a, b units.Length, ok bool) {
	l, ok := exactly(r, n, 2, key, want, asLength)
	if !ok {
		return a, b, false
	}
	return l[0], l[1], true
}

// exactly reads a list of so many lengths.
func exactly(r *reader, n ast.Node, count int, key, want string, parse func(string, *reader) (units.Length, error)) ([]units.Length, bool) {
	if _, ok := n.(*ast.SequenceNode); !ok {
		r.add(n, problem.Problem{Code: problem.WrongType, At: problem.Pos{Key: key}, Want: "must be " + want})
		return nil, false
	}
	before := len(r.problems)
	l := readList(r, n, key, "length", parse)
	if len(r.problems) > before {
		return nil, false
	}
	if len(l) != count {
		r.wrongLength(n, key, len(l), want)
		return nil, false
	}
	return l, true
}

// article puts a or an before a kind.
func article(kind string) string {
	if kind != "" && strings.ContainsRune("aeiou", rune(kind[0])) {
		return "an " + kind
	}
	return "a " + kind
}
