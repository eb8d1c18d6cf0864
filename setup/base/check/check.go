// Package check has the checks that inputs share, each with the one sentence it
// is refused with. All that is wrong with an input is collected in one list. A
// nil pointer is a figure that was not given, which is never wrong.
package check

import (
	"cmp"
	"reflect"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// List is what is wrong with an input; it starts empty.
type List struct{ problem.List }

// Refuse adds a problem where there is something bad; what it says is worked out
// either way.
func (l *List) Refuse(bad bool, code problem.Code, key string, found any, want ...any) {
	if bad {
		l.Add(problem.New(code, key, found, want...))
	}
}

// sign returns -1, 0 or 1, and false where nothing was given.
func sign(v any) (int, bool) {
	switch v := given(v).(type) {
	case nil:
		return 0, false
	case interface{ Sign() int }:
		return v.Sign(), true
	case units.Angle:
		return cmp.Compare(v.Deg(), 0), true
	default:
		return cmp.Compare(float(v), 0), true
	}
}

// given returns what a pointer points to, nil for a nil one.
func given(v any) any {
	if r := reflect.ValueOf(v); r.Kind() == reflect.Pointer {
		if r.IsNil() {
			return nil
		}
		return r.Elem().Interface()
	}
	return v
}

func float(v any) float64 {
	switch r := reflect.ValueOf(v); {
	case r.CanInt():
		return float64(r.Int())
	case r.CanFloat():
		return r.Float()
	}
	if m, ok := v.(units.Measured); ok {
		f, _ := m.In(units.MM)
		return f
	}
	return v.(units.Angle).Deg()
}

// compare compares two values of one kind, lengths exactly.
func compare(a, b any) int {
	if l, ok := a.(units.Length); ok {
		return l.Cmp(b.(units.Length))
	}
	return cmp.Compare(float(a), float(b))
}

// words words a bound: a number with the decimals it needs.
func words(v any) any {
	if r := reflect.ValueOf(v); r.CanFloat() {
		return say.Num(r.Float(), 9)
	}
	return v
}

// Above0 refuses what is not above 0. More keys and values may follow.
func (l *List) Above0(key string, v any, more ...any) {
	if s, ok := sign(v); ok && s <= 0 {
		l.Add(problem.New(problem.OutOfRange, key, given(v), "must be above 0"))
	}
	if len(more) > 0 {
		l.Above0(more[0].(string), more[1], more[2:]...)
	}
}

// Above0To refuses what is not above 0 or is over most.
func (l *List) Above0To(key string, v, most any) {
	if s, ok := sign(v); ok && (s <= 0 || compare(given(v), most) > 0) {
		l.Add(problem.New(problem.OutOfRange, key, given(v), "must be above 0 and at most ", words(most)))
	}
}

// Above refuses what is not above least; of says what that is: "must be above
// 20 mm, the small end".
func (l *List) Above(key string, v, least any, of ...any) {
	x := given(v)
	if x == nil || compare(x, least) > 0 {
		return
	}
	want := say.Of("must be above ", words(least))
	if len(of) > 0 {
		want += ", " + say.Of(of...)
	}
	l.Add(problem.New(problem.OutOfRange, key, x, want))
}

// NotBelow0 refuses what is below 0. More keys and values may follow.
func (l *List) NotBelow0(key string, v any, more ...any) {
	if s, ok := sign(v); ok && s < 0 {
		l.Add(problem.New(problem.OutOfRange, key, given(v), "cannot be negative"))
	}
	if len(more) > 0 {
		l.NotBelow0(more[0].(string), more[1], more[2:]...)
	}
}

// Between refuses what is under least or over most; of says of what there are
// so many: "write 1 to 100 passes".
func (l *List) Between(key string, v, least, most any, of ...any) {
	x := given(v)
	if x == nil || compare(x, least) >= 0 && compare(x, most) <= 0 {
		return
	}
	want := say.Of("write ", words(least), " to ", words(most))
	if len(of) > 0 {
		want += " " + say.Of(of...)
	}
	l.Add(problem.New(problem.OutOfRange, key, x, want))
}

// Inside refuses what is not above least and below most; of says what most is:
// "must be above 0 mm and below 100 mm, the bar's length".
func (l *List) Inside(key string, v, least, most any, of ...any) {
	x := given(v)
	if x == nil || compare(x, least) > 0 && compare(x, most) < 0 {
		return
	}
	want := say.Of("must be above ", words(least), " and below ", words(most))
	if len(of) > 0 {
		want += ", " + say.Of(of...)
	}
	l.Add(problem.New(problem.OutOfRange, key, x, want))
}

// OneOf refuses a word that is none of words, with the nearest of them.
func OneOf[T ~string](l *List, key string, word T, words []T) {
	if slices.Contains(words, word) {
		return
	}
	names := make([]string, len(words))
	for i, w := range words {
		names[i] = string(w)
	}
	l.Add(problem.New(problem.Unknown, key, say.Plain(string(word)), "write ", say.Choice(names)).Near(names))
}

// Option is a key and whether it was given.
type Option struct {
	Key   string
	Given bool
}

// If returns the option of a figure that a pointer leaves open.
func If[T any](key string, figure *T) Option { return Option{key, figure != nil} }

// keys lists the options' keys, all of them or those that were given.
func keys(options []Option, all bool) []say.Text {
	var list []say.Text
	for _, o := range options {
		if all || o.Given {
			list = append(list, say.Key(o.Key))
		}
	}
	return list
}

// and lists words: "a, b and c".
func and(list []say.Text) say.Text {
	if len(list) < 2 {
		return say.Join(list, "")
	}
	last := len(list) - 1
	return say.Join(list[:last], ", ") + " and " + list[last]
}

// ExactlyOne refuses options of which not exactly one was given. It reports
// whether one was.
func (l *List) ExactlyOne(options ...Option) bool {
	given := keys(options, false)
	switch len(given) {
	case 0:
		l.Add(problem.New(problem.Missing, options[0].Key, nil, "needs exactly one of ", and(keys(options, true))))
	case 1:
		return true
	default:
		l.Add(problem.New(problem.Contradiction, options[0].Key, and(given), "give one of them"))
	}
	return false
}

// AtMostOne refuses options of which more than one was given.
func (l *List) AtMostOne(options ...Option) {
	if given := keys(options, false); len(given) > 1 {
		l.Add(problem.New(problem.Contradiction, options[0].Key, and(given), "give one of them"))
	}
}

// Together refuses options of which some were given and some were not. It
// reports whether all were.
func (l *List) Together(options ...Option) bool {
	given := keys(options, false)
	if len(given) > 0 && len(given) < len(options) {
		for _, o := range options {
			if !o.Given {
				l.Add(problem.New(problem.Missing, o.Key, nil, "is needed with ", and(given)))
				break
			}
		}
	}
	return len(given) == len(options)
}
