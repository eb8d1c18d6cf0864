package problem_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"setover/setup/base/problem"
	"setover/setup/base/say"
)

// How a problem reads, on the command line and in a file.
func TestError(t *testing.T) {
	line := "  profil:"
	for _, tc := range []struct {
		p    problem.Problem
		want string
	}{
		{problem.New(problem.Missing, "", nil, "needs a part"), "needs a part"},
		{problem.New(problem.Missing, "between", nil, "is needed"), "between: is needed"},
		{problem.New(problem.OutOfRange, "large", "-3 mm", "must be above 0"), "large: -3 mm: must be above 0"},
		{
			problem.New(problem.OutOfRange, "sides", 2, "a polygon has 3 sides or more"),
			"sides: 2: a polygon has 3 sides or more",
		},
		{
			problem.New(problem.Unknown, "material", "bras", "not a material known here").Near([]string{"brass", "bronze"}),
			"material: bras: not a material known here\n  did you mean brass?",
		},
		{
			problem.New(problem.UnknownKey, "profil", "profil", "unknown key").
				In(problem.Pos{File: "plumb-bob.yaml", Line: 14, Col: 3, Source: line, Width: 6}).Near([]string{
				"profile",
				"stock",
			}),
			"plumb-bob.yaml:14:3: profil: unknown key\n  14 |   profil:\n     |   ^^^^^^\n  did you mean profile?",
		},
		{
			problem.New(problem.OutOfRange, "dia", "-4", "must be above 0").
				In(problem.Pos{File: "part.yaml", Line: 9, Col: 10, Source: "    dia: -4"}),
			"part.yaml:9:10: dia: -4: must be above 0\n  9 |     dia: -4\n    |          ^",
		},
		{
			problem.New(problem.Missing, "material", nil, "is needed").In(problem.Pos{File: "part.yaml"}),
			"part.yaml: material: is needed",
		},
		{ // a tab takes one column, and the mark stands under its spot
			problem.New(problem.Syntax, "", "x", "not here").In(problem.Pos{File: "a.yaml", Line: 1, Col: 3, Source: "\ta\tx"}),
			"a.yaml:1:3: x: not here\n  1 |  a x\n    |   ^",
		},
		{ // a place past the end of its line
			problem.New(problem.Syntax, "", "", "ends too soon").In(problem.Pos{File: "a.yaml", Line: 1, Col: 99, Source: "ab"}),
			"a.yaml:1:99: ends too soon\n  1 | ab\n    |   ^",
		},
		{ // what is not printable is not printed
			problem.New(problem.Unknown, "material", "\x1b[2Jbrass\x9b", "not a material"),
			"material: \ufffd[2Jbrass\ufffd: not a material",
		},
	} {
		if got := tc.p.Error(); got != tc.want {
			t.Errorf("got\n%s\nwant\n%s", got, tc.want)
		}
	}
}

// A long line is shown around its spot, and the marks end with it.
func TestLongLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		source := strings.Repeat("-", rapid.IntRange(0, 200).Draw(t, "before")) + "X" + strings.Repeat("-",
			rapid.IntRange(0, 200).Draw(t, "after"))
		col := strings.Index(source, "X") + 1
		width := rapid.IntRange(0, 300).Draw(t, "width")
		p := problem.New(problem.Syntax, "", "x", "wrong").In(problem.Pos{
			File: "a.yaml", Line: 7, Col: col, Source: source,
			Width: width,
		})
		lines := strings.Split(p.Error(), "\n")
		if len(lines) != 3 {
			t.Fatalf("%q", lines)
		}
		shown, marks := lines[1], lines[2]
		if utf8.RuneCountInString(shown) > 80 || utf8.RuneCountInString(marks) > max(utf8.RuneCountInString(shown),
			strings.Index(marks, "^")+1) {
			t.Fatalf("too wide:\n%s\n%s", shown, marks)
		}
		if strings.Index(shown, "X") != strings.Index(marks, "^") {
			t.Fatalf("the mark is not under its spot:\n%s\n%s", shown, marks)
		}
	})
}

// A list says everything, one below the other, and is no error when empty.
func TestList(t *testing.T) {
	var list problem.List
	if err := list.Err(); err != nil {
		t.Errorf("an empty list is the error %v", err)
	}
	list.Add(nil)
	list.Add(problem.New(problem.Missing, "large", nil, "is needed"))
	list.Add(problem.List{
		problem.New(problem.Missing, "small", nil, "is needed"),
		problem.New(problem.Missing, "length", nil, "is needed"),
	})
	list.Add(errors.New("something else"))
	list.Add(fmt.Errorf("in the second file: %w", problem.New(problem.Duplicate, "part", "cap", "said twice")))
	want := "large: is needed\nsmall: is needed\nlength: is needed\nsomething else\n" +
		"in the second file: part: cap: said twice"
	if err := list.Err(); err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
}

// A list puts what has no place yet where it is told.
func TestAddAt(t *testing.T) {
	at := problem.Pos{File: "a.yaml", Line: 2, Col: 1}
	var list problem.List
	list.AddAt(at, nil)
	list.AddAt(at, problem.List{
		problem.New(problem.Missing, "dia", nil, "is needed"),
		problem.New(problem.Missing, "web", nil, "is needed").In(problem.Pos{File: "b.yaml"}),
		problem.New(problem.Missing, "span", nil, "is needed").In(problem.Pos{Line: 7}),
	})
	want := "a.yaml:2:1: dia: is needed\nb.yaml: web: is needed\nspan: is needed"
	if err := list.Err(); err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
}

// The key of a refusal is worded, and that of an answer is not; a place in a
// file is no key of a question.
func TestKeyWorded(t *testing.T) {
	p := problem.New(problem.OutOfRange, "large", "-3 mm", "leave ", say.Key("small"), " out")
	dashes := func(key string) string { return "--" + key }
	for _, tc := range []struct {
		p    problem.Problem
		w    problem.Wording
		want string
	}{
		{p, problem.Wording{Key: dashes, Refusal: true}, "--large: -3 mm: leave --small out"},
		{p, problem.Wording{Key: dashes}, "large: -3 mm: leave --small out"},
		{p, problem.Wording{Refusal: true}, "large: -3 mm: leave small out"},
		{
			p.In(problem.Pos{File: "a.yaml"}),
			problem.Wording{Key: dashes, Refusal: true},
			"a.yaml: large: -3 mm: leave --small out",
		},
	} {
		if got := tc.p.Worded(tc.w); got != tc.want {
			t.Errorf("got %s, want %s", got, tc.want)
		}
	}
}

// In keeps the key unless the place has one.
func TestIn(t *testing.T) {
	p := problem.New(problem.Missing, "dia", nil, "is needed")
	if got := p.In(problem.Pos{File: "a.yaml", Line: 2, Col: 1}).At.Key; got != "dia" {
		t.Errorf("the key became %q", got)
	}
	if got := p.In(problem.Pos{File: "a.yaml", Key: "depth"}).At.Key; got != "depth" {
		t.Errorf("the key became %q", got)
	}
}

// Which word was meant.
func TestNearest(t *testing.T) {
	words := []string{"profile", "stock", "material", "mm", "in", "M8", "M10"}
	for _, tc := range []struct{ found, want string }{
		{"profil", "profile"},    // left out
		{"proffile", "profile"},  // one too many
		{"prafile", "profile"},   // another
		{"porfile", "profile"},   // neighbours swapped
		{"PROFILE", "profile"},   // capitals
		{"materail", "material"}, // swapped
		{"stcok", "stock"},
		{"MM", "mm"},
		{"M80", "M8"},
		{"M9", ""}, // one of two letters is another word
		{"cm", ""},
		{"banjo", ""},
		{"", ""},
		{"matériau", "material"}, // letters, not bytes, are counted
	} {
		if got := problem.Nearest(tc.found, words); got != tc.want {
			t.Errorf("%q: %q, want %q", tc.found, got, tc.want)
		}
	}
	if got := problem.Nearest("anything", nil); got != "" {
		t.Errorf("no words, and %q is near", got)
	}
	if got := problem.Nearest("brasz", []string{"brash", "brass"}); got != "brash" {
		t.Errorf("of two as near the first is taken, not %q", got)
	}
}

// A word is nearest to itself, and stays found with one letter changed.
func TestNearestFindsItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z]{4,12}`), 1, 8,
			func(s string) string { return s }).Draw(t, "words")
		w := rapid.SampledFrom(words).Draw(t, "word")
		if got := problem.Nearest(w, words); got != w {
			t.Fatalf("%q: %q", w, got)
		}
		i := rapid.IntRange(0, len(w)-1).Draw(t, "at")
		if problem.Nearest(w[:i]+"#"+w[i+1:], words) == "" {
			t.Fatalf("%q with letter %d changed has no nearest", w, i)
		}
	})
}
