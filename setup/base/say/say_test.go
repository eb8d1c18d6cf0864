package say_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/say"
)

// inch is a quantity for these tests: a number of inches.
type inch int64

func (i inch) Words() (mm, in string) {
	return string(say.Num(25.4*float64(i), 3)) + " mm", string(say.Of(int64(i))) + " in"
}

type word string

type named struct{}

func (named) String() string { return "M8x1" }

// What a sentence is made of, and how it is worded on both pages.
func TestOf(t *testing.T) {
	var none *inch
	for _, tc := range []struct {
		pieces   []any
		mm, inch string
	}{
		{nil, "", ""},
		{[]any{"no quantity"}, "no quantity", "no quantity"},
		{[]any{"leave ", inch(2), " on it"}, "leave 50.8 mm on it", "leave 2 in on it"},
		{[]any{inch(1), " to ", inch(2)}, "25.4 mm to 50.8 mm", "1 in to 2 in"},
		{[]any{3, " of ", int64(-4), word(" words"), nil, none}, "3 of -4 words", "3 of -4 words"},
		{[]any{named{}, ": ", errors.New("it broke")}, "M8x1: it broke", "M8x1: it broke"},
		{[]any{say.Of("in ", inch(1)), say.Text(" more")}, "in 25.4 mm more", "in 1 in more"},
		{[]any{say.Either("per 100 mm", "per inch")}, "per 100 mm", "per inch"},
		{[]any{inch(1), ", ", say.Other(inch(1))}, "25.4 mm, 1 in", "1 in, 25.4 mm"},
		{[]any{"leave out ", say.Key("first")}, "leave out first", "leave out first"},
		{[]any{say.Plain("bob\ue000 and\ue001 ann\ue002\ue003")}, "bob and ann", "bob and ann"},
		{[]any{say.Count(1, "pass", "passes"), ", ", say.Count(3, "pass", "passes")}, "1 pass, 3 passes", "1 pass, 3 passes"},
		{[]any{say.Join([]inch{1, 2, 3}, ", ")}, "25.4 mm, 50.8 mm, 76.2 mm", "1 in, 2 in, 3 in"},
		{
			[]any{say.Choice([]string{"a", "b", "c"}), " ", say.Choice([]string{"a"}), say.Choice([]string{})},
			"a, b or c a", "a, b or c a",
		},
		{[]any{say.Num(1.2500, 3), " ", say.Num(-1e-9, 3), " ", say.Num(100, 0)}, "1.25 0 100", "1.25 0 100"},
	} {
		got := say.Of(tc.pieces...)
		if mm, in := got.Words(); mm != tc.mm || in != tc.inch {
			t.Errorf("%q: %q and %q, want %q and %q", got, mm, in, tc.mm, tc.inch)
		}
	}
}

// A number with decimals, and a struct, have no words: how many decimals would
// be a guess.
func TestOfRefuses(t *testing.T) {
	for _, p := range []any{1.5, struct{}{}, math.Pi, []int{1}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%v was worded", p)
				}
			}()
			say.Of(p)
		}()
	}
}

// A short page leaves out what is said aside; every other has all of it.
func TestBrief(t *testing.T) {
	s := say.Of("wind", say.Aside(" it ", inch(2), " ", say.Key("in")), ", ", say.Shorter("and look again", "look"), ".")
	for _, tc := range []struct {
		got  string
		want string
	}{
		{s.In(say.MM), "wind it 50.8 mm in, and look again."},
		{s.Brief().In(say.MM), "wind, look."},
		{s.Whole().In(say.Inch), "wind it 2 in in, and look again."},
		{s.Keys(func(key string) string { return "--" + key }).In(say.Inch), "wind it 2 in --in, and look again."},
		{say.Shorter(s, "do "+s).In(say.MM), s.In(say.MM)},
		{say.Shorter(s, "do "+s).Brief().In(say.MM), "do wind, look."},
		{say.Either(s.In(say.MM), s.In(say.Inch)).Brief().In(say.Inch), s.In(say.Inch)},
		{say.Text("a" + say.Long + "b" + say.Short + "c" + say.End + "d").Brief().In(say.MM), "acd"},
		{say.Plain("a" + say.Long + "b" + say.Short + say.End).Brief().In(say.MM), "ab"},
	} {
		if tc.got != tc.want {
			t.Errorf("%q, want %q", tc.got, tc.want)
		}
	}
	if got, err := json.Marshal(s); err != nil || string(got) != `"wind it 50.8 mm --in, and look again."` {
		t.Errorf("%s %v", got, err)
	}
}

// Keys are flags on a command line and stay words in a file.
func TestKeys(t *testing.T) {
	s := say.Of("two of ", say.Key("large"), " and ", say.Key("small"), " with ", inch(1))
	dashed := s.Keys(func(key string) string { return "--" + key })
	if got, want := dashed.In(say.Inch), "two of --large and --small with 1 in"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := s.In(say.MM), "two of large and small with 25.4 mm"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A sentence in JSON is in millimetres, with its marks as they stand in text, and
// its keys are flags.
func TestJSON(t *testing.T) {
	got, err := json.Marshal([]say.Text{say.Of("a < ", inch(1), " & \"b\"")})
	if flag, err := json.Marshal(say.Of("give ", say.Key("feed"))); err != nil || string(flag) != `"give --feed"` {
		t.Errorf("%s %v", flag, err)
	}
	if want := `["a \u003c 25.4 mm \u0026 \"b\""]`; err != nil || string(got) != want {
		t.Errorf("%s %v, want %s", got, err, want)
	}
}

// Whatever stands in a text, no mark is left when it is worded, and what has no
// marks is left alone.
func TestNoMarksAreLeft(t *testing.T) {
	const marks = "\ue000\ue001\ue002\ue003" + say.Long + say.Short + say.End
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching("[ab"+marks+"]{0,12}").Draw(t, "text")
		for _, u := range []say.Unit{say.MM, say.Inch} {
			got := say.Of(text, inch(1), text).In(u)
			aside := say.Aside(say.Text(text))
			for _, said := range []string{got, say.Text(text).In(u), aside.In(u), aside.Brief().In(u)} {
				if strings.ContainsAny(said, marks) {
					t.Fatalf("%q", said)
				}
			}
			if plain := strings.Trim(text, "ab") == ""; plain && !strings.HasPrefix(got, text) {
				t.Fatalf("%q from %q", got, text)
			}
		}
	})
}

// A sentence begins with a capital however it begins, on a whole page and on a short one.
func TestCapital(t *testing.T) {
	for _, tc := range []struct {
		text         say.Text
		whole, brief string
	}{
		{"turn it", "Turn it", "Turn it"},
		{say.Of(say.Shorter("wind the compound ", "compound "), "in"), "Wind the compound in", "Compound in"},
		{say.Of(say.Aside("then "), "wind it ", say.Aside("right "), "in"), "Then wind it right in", "Wind it in"},
		{say.Of(inch(2), " in"), "50.8 mm in", "50.8 mm in"},
		{"", "", ""},
	} {
		got := tc.text.Capital()
		if got.Whole().String() != tc.whole || got.Brief().String() != tc.brief {
			t.Errorf("%q: whole %q, short %q", tc.text, got.Whole(), got.Brief())
		}
	}
}
