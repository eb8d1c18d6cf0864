package files

import (
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Row is one line of the table of keys: its kind for people ("length", "list of
// lengths"), what a bare number means ("" where there is no number), what is
// taken when it is absent or what its absence means, and what it says.
type Row struct {
	Key, Kind, Bare, Default, Absent, Doc string
	Required                              bool
}

// field is one key of a mapping, bound to where its value goes: the same list
// of fields reads a file and makes the table of keys.
type field struct {
	Row
	read func(r *reader, n ast.Node)
	set  func(text string) // takes a default
	sub  func() []Row      // the keys under it

	// In place of a key, what is done with the mapping itself.
	place *problem.Pos
	check func(r *reader, n ast.Node, wrote map[string]bool)
}

// rule is a check of the whole mapping, which knows the keys that were written.
// It runs once all of them were read without a problem.
func rule(check func(r *reader, n ast.Node, wrote map[string]bool)) field { return field{check: check} }

// here keeps the place of the mapping.
func here(at *problem.Pos) field { return field{place: at} }

// needed marks a key that must be there.
func (f field) needed() field { f.Required = true; return f }

// without says what the key's absence means.
func (f field) without(text string) field { f.Absent = text; return f }

// defaults takes a value before the file is read, and says so.
func (f field) defaults(text string) field { f.set(text); return f.taken(text) }

// taken only says what is taken when the key is absent: the target's zero value
// stands for it.
func (f field) taken(text string) field { f.Default = text; return f }

// then adds what is done once the value was read.
func (f field) then(more func(r *reader, n ast.Node)) field {
	read := f.read
	f.read = func(r *reader, n ast.Node) { read(r, n); more(r, n) }
	return f
}

// at keeps the place of the value.
func (f field) at(dst *problem.Pos) field {
	return f.then(func(r *reader, n ast.Node) { *dst = r.under(n, f.Key) })
}

// rows returns the table of keys of a mapping, nested keys after their parent.
func rows(fields []field) []Row {
	var list []Row
	for _, f := range fields {
		if f.Key == "" {
			continue
		}
		list = append(list, f.Row)
		if f.sub != nil {
			for _, s := range f.sub() {
				s.Key = f.Key + "." + s.Key
				list = append(list, s)
			}
		}
	}
	return list
}

// mapping reads the keys of n, which stands under key.
func (r *reader) mapping(n ast.Node, key string, fields []field) {
	entries, ok := r.entries(n)
	if _, null := n.(*ast.NullNode); null {
		r.no(n, problem.Missing, key, nil, "has no keys under it")
		return
	} else if !ok {
		r.no(n, problem.WrongType, key, nil, "must be a group of keys")
		return
	}
	before := len(r.problems)
	wrote := map[string]bool{}
	for _, e := range entries {
		name, i := find(fields, e.key)
		twice := wrote[name]
		wrote[name] = true
		switch {
		case twice:
			r.no(e.at, problem.Duplicate, "", e.key, "is another spelling of ", name, ", which stands here too: say it once")
			r.harmless++
		case e.node == nil:
		case e.key == "notes":
			r.notes(e.node)
		case i >= 0:
			fields[i].read(r, e.node)
		default:
			r.unknown(e, fields)
		}
	}
	for _, f := range fields {
		if f.Required && !wrote[f.Key] {
			r.no(n, problem.Missing, f.Key, nil, "is needed here: ", f.Doc)
		}
		if f.place != nil {
			*f.place = r.under(n, key)
		}
	}
	if len(r.problems) > before {
		return
	}
	for _, f := range fields {
		if f.check != nil {
			f.check(r, n, wrote)
		}
	}
}

// find returns the field of a key by its name, and which it is; -1 where there
// is none. A center is a centre.
func find(fields []field, key string) (name string, i int) {
	for _, name := range []string{key, strings.ReplaceAll(key, "center", "centre")} {
		i := slices.IndexFunc(fields, func(f field) bool { return f.Key == name && f.read != nil })
		if i >= 0 {
			return name, i
		}
	}
	return key, -1
}

// unknown refuses a key that is none of the fields, with the nearest of them.
func (r *reader) unknown(e entry, fields []field) {
	var names []string
	for _, f := range fields {
		if f.Key != "" {
			names = append(names, f.Key)
		}
	}
	p := problem.New(problem.UnknownKey, "", e.key, "unknown key").Near(names)
	if p.Nearest == "" {
		p = problem.New(problem.UnknownKey, "", e.key, "unknown key: the keys here are ", say.Join(names, ", "))
	}
	r.problems = append(r.problems, p.In(r.at(e.at)))
	r.harmless++
}

// notes allows a text or a list of texts.
func (r *reader) notes(n ast.Node) {
	items, ok := r.items(n)
	if !ok {
		items = []ast.Node{n}
	}
	for _, i := range items {
		r.text(i, "notes", "a text")
	}
}

// kind is a kind of scalar: its name for people, what a bare number is, and how
// its text is read.
type kind[V any] struct {
	name, bare string
	parse      func(text string, r *reader) (V, error)
}

// scalar reads one value of the kind, or keeps the problem.
func (k kind[V]) scalar(r *reader, n ast.Node, key string) (v V, ok bool) {
	text, ok := r.text(n, key, article(k.name))
	if !ok {
		return v, false
	}
	v, err := k.parse(text, r)
	if err != nil {
		r.refused(n, key, err)
		return v, false
	}
	return v, true
}

// field binds a key to what is done with its value.
func (k kind[V]) field(key, doc string, keep func(V)) field {
	return field{
		Row: Row{Key: key, Kind: k.name, Bare: k.bare, Doc: doc},
		read: func(r *reader, n ast.Node) {
			if v, ok := k.scalar(r, n, key); ok {
				keep(v)
			}
		},
		set: func(text string) {
			v, err := k.parse(text, &reader{})
			if err != nil {
				panic("files: the default of " + key + ": " + err.Error())
			}
			keep(v)
		},
	}
}

// into binds a key to its target.
func (k kind[V]) into(key string, dst *V, doc string) field {
	return k.field(key, doc, func(v V) { *dst = v })
}

// maybe is into for a target that is nil when the key is absent.
func (k kind[V]) maybe(key string, dst **V, doc string) field {
	return k.field(key, doc, func(v V) { *dst = &v })
}

// list binds a key to a list of values.
func (k kind[V]) list(key string, dst *[]V, doc string) field {
	return field{
		Row: Row{Key: key, Kind: "list of " + k.name + "s", Bare: k.bare, Doc: doc},
		read: func(r *reader, n ast.Node) {
			*dst = k.all(r, n, key)
			if k.name == "length" {
				r.warnComma(n)
			}
		},
	}
}

// all reads a list of values.
func (k kind[V]) all(r *reader, n ast.Node, key string) []V {
	items, ok := r.items(n)
	if !ok {
		r.no(n, problem.WrongType, key, nil, "must be a list, such as [a, b]")
		return nil
	}
	var out []V
	for _, i := range items {
		if v, ok := k.scalar(r, i, key); ok {
			out = append(out, v)
		}
	}
	return out
}

// sizes binds a key to a list of sizes or, in place of it, to a name.
func sizes(key, what string, list *[]units.Length, name *string, doc string) field {
	f := size.list(key, list, doc)
	read := f.read
	f.read = func(r *reader, n ast.Node) {
		if _, isList := n.(*ast.SequenceNode); isList {
			read(r, n)
			return
		}
		*name, _ = r.text(n, key, what)
	}
	return f
}

// tuple binds a key to a list of exactly so many lengths, written as shape.
func tuple(key, shape string, k kind[units.Length], doc string, dst ...*units.Length) field {
	return field{
		Row:  Row{Key: key, Kind: "list of " + strconv.Itoa(len(dst)) + " lengths", Bare: fileUnits, Doc: doc},
		read: func(r *reader, n ast.Node) { r.tuple(n, key, shape, k, dst...) },
	}
}

// tuple reads a list of exactly so many lengths.
func (r *reader) tuple(n ast.Node, key, shape string, k kind[units.Length], dst ...*units.Length) bool {
	if _, ok := n.(*ast.SequenceNode); !ok {
		r.no(n, problem.WrongType, key, nil, "must be ", shape)
		return false
	}
	before := len(r.problems)
	l := k.all(r, n, key)
	if len(r.problems) > before {
		return false
	}
	if len(l) != len(dst) {
		r.wrongLength(n, key, len(l), shape)
		return false
	}
	for i := range dst {
		*dst[i] = l[i]
	}
	return true
}

// list binds a key to a list whose items are read one by one; want is what it
// must be.
func list(key, kind, doc, want string, item func(r *reader, n ast.Node)) field {
	return field{Row: Row{Key: key, Kind: kind, Doc: doc}, read: func(r *reader, n ast.Node) {
		items, ok := r.items(n)
		if !ok {
			r.no(n, problem.WrongType, key, nil, "must be a list", want)
		}
		for _, i := range items {
			item(r, i)
		}
	}}
}

// within binds a key to a group of keys that have their targets already.
func within(key string, fields []field, doc string) field {
	return field{
		Row:  Row{Key: key, Kind: "group", Doc: doc},
		sub:  func() []Row { return rows(fields) },
		read: func(r *reader, n ast.Node) { r.mapping(n, key, fields) },
	}
}

// group binds a key to a group that is nil when absent.
func group[S any](key string, dst **S, fields func(*S) []field, doc string) field {
	s := new(S)
	return within(key, fields(s), doc).then(func(*reader, ast.Node) { *dst = s })
}

// groups binds a key to a list of groups.
func groups[S any](key string, dst *[]S, fields func(*S) []field, doc string) field {
	f := list(key, "list of groups", doc, ": put - before each", func(r *reader, n ast.Node) {
		s := new(S)
		before, harmless := len(r.problems), r.harmless
		r.mapping(n, key, fields(s))
		if wrong := len(r.problems) - before; wrong > 0 {
			r.harmless = harmless + wrong // the item is left out, and the others can be checked
			return
		}
		*dst = append(*dst, *s)
	})
	f.sub = func() []Row { return rows(fields(new(S))) }
	return f
}

// fileUnits is what a bare length is.
const fileUnits = "the file's units"

// The kinds of scalar.
var (
	length = kind[units.Length]{"length", fileUnits, asLength}
	size   = kind[units.Length]{"length", fileUnits, asSize}
	angle  = kind[units.Angle]{"angle", "degrees", bare(units.ParseAngle)}
	rpm    = kind[units.SpindleSpeed]{"speed", "rpm", bare(units.ParseSpindleSpeed)}
	power  = kind[units.Power]{"power", "no", bare(units.ParsePower)}
	pitch  = kind[units.Pitch]{"pitch", "no", bare(units.ParsePitch)}
	unit   = kind[units.Unit]{"word", "", bare(units.ParseUnit)}
	text   = kind[string]{"text", "", bare(asText)}
	yesNo  = kind[bool]{"true or false", "", bare(asBool)}
)

// bare makes a reader that needs nothing of the file fit the others.
func bare[V any](parse func(string) (V, error)) func(string, *reader) (V, error) {
	return func(text string, _ *reader) (V, error) { return parse(text) }
}

func asLength(text string, r *reader) (units.Length, error) { return units.ParseLength(text, r.bare) }

func asSize(text string, r *reader) (units.Length, error) {
	l, err := asLength(text, r)
	if err == nil && l.Sign() <= 0 {
		err = problem.New(problem.OutOfRange, "", text, "a size must be above 0")
	}
	return l, err
}

func asText(text string) (string, error) {
	if strings.TrimSpace(text) == "" {
		return "", problem.New(problem.Missing, "", nil, "is empty")
	}
	if strings.Contains(text, "\n") {
		return "", problem.New(problem.Malformed, "", strconv.Quote(text), "must stand on one line")
	}
	return text, nil
}

func asBool(text string) (bool, error) {
	switch text {
	case "true", "yes":
		return true, nil
	case "false", "no":
		return false, nil
	}
	return false, problem.New(problem.Malformed, "", text, "write true or false").Near([]string{"true", "false"})
}

// flag binds a key that is true or false, false when absent.
func flag(key string, dst *bool, doc string) field {
	return yesNo.into(key, dst, doc).defaults("false")
}

// limited is angle within bounds, told by want when it is outside of them.
func limited(inside func(deg float64) bool, want string) kind[units.Angle] {
	k := angle
	k.parse = func(text string, _ *reader) (units.Angle, error) {
		a, err := units.ParseAngle(text)
		if err == nil && !inside(a.Deg()) {
			err = problem.New(problem.OutOfRange, "", text, want)
		}
		return a, err
	}
	return k
}

// count is whole numbers within bounds.
func count(from, to int) kind[int] { return whole[int](from, to) }

func whole[N int | int64](from, to N) kind[N] {
	return kind[N]{"whole number", "yes", func(text string, _ *reader) (N, error) {
		if !digits(text) || len(text) > 9 {
			return 0, problem.New(problem.Malformed, "", text, "not a whole number")
		}
		n, err := strconv.ParseInt(text, 10, 64)
		if err == nil && (N(n) < from || N(n) > to) {
			err = problem.New(problem.OutOfRange, "", text, "must be ", from, " to ", to)
		}
		return N(n), err
	}}
}

// oneOf is one of a few words.
func oneOf[T ~string](words ...T) kind[T] {
	names := make([]string, len(words))
	for i, w := range words {
		names[i] = string(w)
	}
	return kind[T]{name: "word", parse: func(text string, _ *reader) (T, error) {
		if !slices.Contains(names, text) {
			return "", problem.New(problem.Unknown, "", text, "write ", say.Choice(names)).Near(names)
		}
		return T(text), nil
	}}
}

// whether binds a key that takes one of a few words to whether it is yes.
func whether(key string, dst *bool, yes, doc string, words ...string) field {
	return oneOf(words...).field(key, doc, func(w string) { *dst = w == yes })
}

// article puts a or an before a kind.
func article(kind string) string {
	if kind != "" && strings.ContainsRune("aeiou", rune(kind[0])) {
		return "an " + kind
	}
	return "a " + kind
}
