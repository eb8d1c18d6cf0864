// Package problem is the one shape an error takes: what is wrong, where it
// stands, what was found, what would be accepted, and the nearest word that
// would have been right.
//
// A calculator names the offending argument by its key (the flag's name
// without dashes). The command line puts the dashes back; the file loader
// adds file, line, column and the line itself. A List holds every problem of
// one run, so that nobody has to mend a file one line at a time.
package problem

import (
	"fmt"
	"reflect"
	"strings"
	"unicode"
	"unicode/utf8"

	"setover/setup/base/say"
)

// Code names a kind of problem. It is stable: scripts may match it, and
// testdata/refusals holds one example of each.
type Code string

// The kinds of problem.
const (
	Malformed     Code = "malformed"      // the text is not a value of this kind
	DecimalComma  Code = "decimal-comma"  // a comma where only a point is read
	MissingUnit   Code = "missing-unit"   // a bare number where a unit is needed
	WrongUnit     Code = "wrong-unit"     // a unit of another kind
	OutOfRange    Code = "out-of-range"   // a value of the kind, beyond its bounds
	Unknown       Code = "unknown"        // a word that is not in the table
	UnknownKey    Code = "unknown-key"    // a key the file format does not have
	UnknownFlag   Code = "unknown-flag"   // a flag the command does not have
	Missing       Code = "missing"        // a fact that is needed and was not given
	Contradiction Code = "contradiction"  // two facts that cannot both hold
	Duplicate     Code = "duplicate"      // said twice
	WrongType     Code = "wrong-type"     // a list where a value is wanted, and the like
	Syntax        Code = "syntax"         // the file is not well-formed
	Forbidden     Code = "forbidden"      // well-formed, but not accepted in these files
	TooLarge      Code = "too-large"      // a file or list beyond the limit
	NotAvailable  Code = "not-available"  // needs an instrument this shop does not have
	Exists        Code = "exists"         // an output file that is already there
	Usage         Code = "usage"          // the command line has the wrong shape
	Impossible    Code = "impossible"     // well-formed, but no such part can exist
	Fouls         Code = "fouls"          // answer no: tool post, slide or tool meets something
	WallTooThin   Code = "wall-too-thin"  // answer no: a wall under its minimum
	TravelShort   Code = "travel-short"   // answer no: a slide, barrel or offset does not reach
	NotReachable  Code = "not-reachable"  // answer no: this shop has nothing that does it
	OverRating    Code = "over-rating"    // answer no: a speed above a rating
	OutOfLimits   Code = "out-of-limits"  // answer no: a reading outside its class
	CannotBeHeld  Code = "cannot-be-held" // answer no: nothing left to grip
	GripSurface   Code = "grip-surface"   // answer no: what is held is not there, or not what the device holds
	GripLength    Code = "grip-length"    // answer no: held over too little
	JawRoom       Code = "jaw-room"       // answer no: something stands where the jaws are, or does not pass them
	GripRange     Code = "grip-range"     // answer no: larger or smaller than the device holds
	Bruise        Code = "bruise"         // answer no: a finished surface is held bare
	Overhang      Code = "overhang"       // answer no: the work springs, or stands out too far
	Support       Code = "support"        // answer no: a centre or a steady has nothing to stand in
	ToolSide      Code = "tool-side"      // answer no: the tool does not get at the cut
	Fouling       Code = "fouling"        // answer no: the holder, the post or the slide meets something
	IntoShoulder  Code = "shoulder"       // answer no: a thread runs into a shoulder
	SupportV      Code = "support-v"      // answer no: it does not lie in the V-blocks as is said
	Parting       Code = "parting"        // answer no: the blade does not part it
	Gouge         Code = "gouge"          // answer no: the work comes out smaller than the drawing
	StartSize     Code = "start-size"     // answer no: what is there is under size already
	Complete      Code = "complete"       // answer no: a feature that has no place, or is not made
	RulesCollide  Code = "rules-collide"  // answer no: two rules ask for opposite orders
)

// Pos says where a problem stands: under the key of a question, which is a flag
// or an argument where it came from a command line, or at a place in a file. Key
// has no dashes.
type Pos struct {
	File      string
	Line, Col int
	Key       string
	Source    string // the line itself, for files
	Width     int    // how many columns to underline; 0 means 1
}

// String returns "file:line:col" or the key, whichever is known.
func (p Pos) String() string {
	switch {
	case p.File != "" && p.Line > 0:
		return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
	case p.File != "":
		return p.File
	}
	return p.Key
}

// Problem is one thing that is wrong, said so that it can be put right.
type Problem struct {
	Code    Code
	At      Pos
	Found   say.Text // what was written, as written
	Want    say.Text // what is wrong and what would be accepted
	Nearest string   // the nearest valid word, if one is near
}

// New returns a problem with the argument called key. Found is what was written
// there; nil or "" means that nothing was. Want reads on from it, in pieces as
// say.Of takes them: "a length above ", least.
func New(code Code, key string, found any, want ...any) Problem {
	if v := reflect.Indirect(reflect.ValueOf(found)); v.CanFloat() {
		found = say.Num(v.Float(), 9)
	} else if v.IsValid() && v.CanInterface() {
		if typed, ok := v.Interface().(say.Typed); ok {
			found = typed.Typed()
		}
	}
	return Problem{Code: code, At: Pos{Key: key}, Found: say.Of(found), Want: say.Of(want...)}
}

// Near returns the problem with the word in words nearest to what was found,
// if one is near enough to be meant.
func (p Problem) Near(words []string) Problem {
	p.Nearest = Nearest(p.Found.String(), words)
	return p
}

// In returns the problem placed at pos; the key stays if pos names none.
func (p Problem) In(pos Pos) Problem {
	if pos.Key == "" {
		pos.Key = p.At.Key
	}
	p.At = pos
	return p
}

// Message returns the problem without its place: found, then what is wanted.
func (p Problem) Message() string { return p.message(Wording{}) }

func (p Problem) message(w Wording) string {
	if p.Found == "" {
		return Printable(w.Text(p.Want))
	}
	return Printable(w.Text(p.Found + ": " + p.Want))
}

// Wording is how problems are worded: the unit of the page, and what becomes of
// the key of a question (nil: it stays as it is).
type Wording struct {
	Unit say.Unit
	Key  func(key string) string
	// Refusal words the key that a problem stands under, too: it is a flag to
	// mend, and not what an answer is about.
	Refusal bool
	// Brief leaves out what is said aside.
	Brief bool
}

// Text returns a sentence worded so.
func (w Wording) Text(t say.Text) string {
	if w.Brief {
		t = t.Brief()
	}
	if w.Key != nil {
		t = t.Keys(w.Key)
	}
	return t.In(w.Unit)
}

// Printable returns text with every character that would steer a terminal
// rather than stand on it replaced, new lines kept.
func Printable(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' {
			return utf8.RuneError
		}
		return r
	}, text)
}

// Error returns the whole problem: its place, what was found, what is wanted,
// and for a file the line with the spot underlined.
//
//	plumb-bob.yaml:14:3: profil: unknown key
//	  14 |   profil:
//	     |   ^^^^^^
//	  did you mean profile?
func (p Problem) Error() string { return p.Worded(Wording{}) }

// Worded returns what Error does, worded for a page.
func (p Problem) Worded(w Wording) string {
	var b strings.Builder
	at := p.At.String()
	if p.At.File == "" && w.Refusal && w.Key != nil {
		at = w.Key(at)
	}
	if at != "" {
		b.WriteString(at)
		b.WriteString(": ")
	}
	if p.At.File != "" && p.At.Key != "" && p.At.Key != p.Found.String() {
		b.WriteString(p.At.Key)
		b.WriteString(": ")
	}
	b.WriteString(p.message(w))
	if p.At.File != "" && p.At.Line > 0 && p.At.Source != "" {
		n := fmt.Sprint(p.At.Line)
		line, shift := window(p.At.Source, p.At.Col)
		marks := max(1, min(p.At.Width, utf8.RuneCountInString(line)-shift))
		fmt.Fprintf(&b, "\n  %s | %s\n  %s | %s%s", n, Printable(line),
			strings.Repeat(" ", len(n)), strings.Repeat(" ", shift), strings.Repeat("^", marks))
	}
	if p.Nearest != "" {
		fmt.Fprintf(&b, "\n  did you mean %s?", p.Nearest)
	}
	return b.String()
}

// window returns the part of a source line around col (from 1) that fits a
// terminal, and how far the mark under it is indented.
func window(line string, col int) (string, int) {
	r := []rune(strings.ReplaceAll(line, "\t", " "))
	at := min(max(col-1, 0), len(r))
	const width = 70
	if len(r) <= width {
		return string(r), at
	}
	from := max(0, at-width/2)
	to := min(len(r), from+width)
	return string(r[from:to]), at - from
}

// List is every problem of one run, in the order they were found. An empty
// list is no error: return List.Err, never the list itself.
type List []Problem

// Error returns the problems one below the other.
func (l List) Error() string { return l.Worded(Wording{}) }

// Worded returns what Error does, worded for a page.
func (l List) Worded(w Wording) string {
	lines := make([]string, len(l))
	for i, p := range l {
		lines[i] = p.Worded(w)
	}
	return strings.Join(lines, "\n")
}

// Err returns the list as an error, or nil when it is empty.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	return l
}

// AddAt appends the problems of err as Add does, put at a place of a file
// unless they stand in one already.
func (l *List) AddAt(at Pos, err error) {
	var list List
	list.Add(err)
	for _, p := range list {
		if p.At.File == "" && p.At.Line == 0 {
			p = p.In(at)
		}
		*l = append(*l, p)
	}
}

// Add appends err, which may be nil, a Problem or a List. Any other error
// becomes a problem with its text.
func (l *List) Add(err error) {
	switch e := err.(type) {
	case nil:
	case Problem:
		*l = append(*l, e)
	case List:
		*l = append(*l, e...)
	default:
		*l = append(*l, Problem{Code: Malformed, Want: say.Plain(err.Error())})
	}
}
