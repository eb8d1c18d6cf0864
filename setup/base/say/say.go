// Package say builds sentences out of typed pieces. A quantity in a sentence
// stands there in millimetres and in inches until somebody knows the unit of
// the page; a key of the question stands there as a key until somebody knows
// whether it is a flag of a command line or a word of a file.
//
//	say.Of("between bites the carriage moves ", move, " toward the headstock")
package say

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// Unit is the unit lengths are shown in, and the one a bare number has.
type Unit int

// The units of the two kinds of drawing.
const (
	MM Unit = iota
	Inch
)

// String returns "mm" or "in".
func (u Unit) String() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// Quantity is a value that is worded by the unit of the page, its own unit
// included: "12.5 mm" or "0.4921 in".
type Quantity interface {
	Words() (mm, inch string)
}

// Typed is a quantity that can be given back as exactly as it was typed: what a
// refusal says was found.
type Typed interface {
	Typed() Text
}

// Text is a sentence or a piece of one. It can be compared and joined like a
// string; only In and Keys know that what depends on the page is kept inside
// it between marks. A constant is a Text as it stands.
type Text string

// The marks: around and between the two wordings of a quantity, and around a
// key. They are of the range that Unicode leaves to private use, and Of takes
// them out of what it is given.
const (
	open  = "\ue000"
	or    = "\ue001"
	shut  = "\ue002"
	keyed = "\ue003"
)

// The marks of a piece that a short page leaves out or words in short: what is long
// stands after Long, the short of it after Short. Shorter and Aside set them; a
// constant sentence may too.
const (
	Long  = "\ue004"
	Short = "\ue005"
	End   = "\ue006"
)

var strip = strings.NewReplacer(open, "", or, "", shut, "", keyed, "", Long, "", Short, "", End, "")

// Of joins pieces: words, Texts, quantities, whole numbers, and anything that
// has one name for every page (a thread's designation, an angle). A number with
// decimals has no place here without Num, which says how many. It panics on
// what is none of these: that is a defect of the caller's.
func Of(pieces ...any) Text {
	var b strings.Builder
	for _, p := range pieces {
		b.WriteString(string(piece(p)))
	}
	return Text(b.String())
}

func piece(p any) Text {
	switch p := p.(type) {
	case nil:
		return ""
	case Text:
		return p
	case string:
		return Plain(p)
	case Quantity:
		if v := reflect.ValueOf(p); v.Kind() == reflect.Pointer && v.IsNil() {
			return ""
		}
		return Either(p.Words())
	case fmt.Stringer:
		return Text(strip.Replace(p.String()))
	case error:
		return Text(p.Error())
	}
	switch v := reflect.ValueOf(p); {
	case v.Kind() == reflect.String:
		return Text(strip.Replace(v.String()))
	case v.CanInt():
		return Text(strconv.FormatInt(v.Int(), 10))
	}
	panic(fmt.Sprintf("say: a %T has no words of its own", p))
}

// Either returns a piece that has one wording on a page in millimetres and
// another on one in inches.
func Either(mm, inch string) Text {
	mm, inch = strip.Replace(mm), strip.Replace(inch)
	if mm == inch {
		return Text(mm)
	}
	return Text(open + mm + or + inch + shut)
}

// Other returns a quantity as the other page words it: the inches beside the
// millimetres, and the other way round.
func Other(q Quantity) Text {
	mm, inch := q.Words()
	return Either(inch, mm)
}

// Plain returns what somebody typed as a piece: marks in it are taken out.
func Plain(typed string) Text { return Text(strip.Replace(typed)) }

// Key returns the name of a flag or of a key of a file as a piece. Dashes are
// put before it where the question came from a command line.
func Key(name string) Text { return Text(keyed + strip.Replace(name) + shut) }

// Aside returns a piece that a short page leaves out: a reason, what can be read off
// elsewhere, more words than are needed to obey.
func Aside(pieces ...any) Text { return Shorter(Of(pieces...), "") }

// Shorter returns a piece with what a short page says in its place.
func Shorter(whole, short Text) Text { return Long + whole.Whole() + Short + short.Brief() + End }

// Brief returns the sentence as a short page has it.
func (t Text) Brief() Text { return t.told(func(_, short string) string { return short }) }

// Whole returns the sentence as every other page has it.
func (t Text) Whole() Text { return t.told(func(whole, _ string) string { return whole }) }

// Capital returns the sentence with its first letter large, in both wordings.
func (t Text) Capital() Text {
	if strings.HasPrefix(string(t), Long) {
		return Shorter(t.Whole().Capital(), t.Brief().Capital())
	}
	if t == "" || t[0] < 'a' || 'z' < t[0] {
		return t
	}
	return Text(strings.ToUpper(string(t[:1]))) + t[1:]
}

// told returns the sentence with one of the two wordings of what may be left out.
func (t Text) told(pick func(whole, short string) string) Text {
	var b strings.Builder
	s := string(t)
	for {
		before, rest, ok := strings.Cut(s, Long)
		b.WriteString(before)
		inside, after, closed := strings.Cut(rest, End)
		whole, short, two := strings.Cut(inside, Short)
		if !ok || !closed || !two {
			b.WriteString(rest)
			return Text(b.String())
		}
		b.WriteString(pick(whole, short))
		s = after
	}
}

// Num returns v with at most places decimals and no zeros behind.
func Num(v float64, places int) Text {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return Text(s)
}

// Count returns how many there are of something: "1 pass", "3 passes".
func Count[N ~int | ~int64](n N, one, many string) Text {
	if n == 1 {
		many = one
	}
	return Of(int64(n), " ", many)
}

// Join joins a list with a separator between its members.
func Join[T any](list []T, separator string) Text {
	var b strings.Builder
	for i, x := range list {
		if i > 0 {
			b.WriteString(separator)
		}
		b.WriteString(string(piece(x)))
	}
	return Text(b.String())
}

// Choice lists words as a choice: "a, b or c".
func Choice[T any](words []T) Text {
	if len(words) < 2 {
		return Join(words, "")
	}
	last := len(words) - 1
	return Join(words[:last], ", ") + " or " + piece(words[last])
}

// In returns the sentence for a page in the unit u, keys as they are named.
func (t Text) In(u Unit) string {
	s := string(t)
	if !strings.ContainsAny(s, open+keyed+or+shut+Long+Short+End) {
		return s
	}
	s = string(t.Whole())
	var b strings.Builder
	for {
		i := strings.IndexAny(s, open+keyed)
		if i < 0 {
			break
		}
		inside, after, whole := strings.Cut(s[i+len(open):], shut)
		mm, inch, two := strings.Cut(inside, or)
		pair := whole && two == strings.HasPrefix(s[i:], open) && !strings.ContainsAny(inside, open+keyed)
		if !pair { // a mark that stands alone
			b.WriteString(s[:i])
			s = s[i+len(open):]
			continue
		}
		b.WriteString(s[:i])
		if u == Inch && two {
			mm = inch
		}
		b.WriteString(mm)
		s = after
	}
	b.WriteString(s)
	return strip.Replace(b.String())
}

// Keys returns the sentence with its keys worded, each by what word makes of
// its name.
func (t Text) Keys(word func(key string) string) Text {
	var b strings.Builder
	s := string(t)
	for {
		before, rest, ok := strings.Cut(s, keyed)
		b.WriteString(before)
		key, after, whole := strings.Cut(rest, shut)
		if !ok || !whole {
			b.WriteString(rest)
			return Text(b.String())
		}
		b.WriteString(word(key))
		s = after
	}
}

// String returns the sentence in millimetres, for a test or a log.
func (t Text) String() string { return t.In(MM) }

// Words implements Quantity: a sentence may be a cell or a piece of another.
func (t Text) Words() (mm, inch string) { return t.In(MM), t.In(Inch) }

// MarshalJSON returns the sentence in millimetres, its keys as flags: whoever
// reads JSON asked on a command line.
func (t Text) MarshalJSON() ([]byte, error) {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(t.Keys(func(key string) string { return "--" + key }).In(MM))
	return []byte(strings.TrimSpace(b.String())), err
}
