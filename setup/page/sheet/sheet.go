// Package sheet is what a result looks like before it is put on a screen or on
// paper: a title, facts, typed tables with a check line, drawings, notes,
// warnings and cautions. Nothing here knows about terminals or files.
//
// Values keep their kind to the end. A renderer chooses the unit and the
// number of decimals; the value says in which direction it may be rounded.
package sheet

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Result is what every calculation returns: it can draw itself as a sheet, and
// it knows what makes its answer a no. JSON is the result itself, never the
// sheet.
type Result interface {
	// Sheet returns the result for people.
	Sheet() Sheet
	// Fails returns why the answer is no; empty when it is yes.
	Fails() problem.List
}

// Sheet is one page of answers. Every part may be empty.
type Sheet struct {
	Title     Text
	Facts     []Fact // single answers, the most wanted first
	Procedure []Text // what to do, in this order
	Tables    []Table
	Drawings  []Drawing
	Working   []Step
	Notes     []Text
	Warnings  Warnings
	Cautions  Cautions

	// Brief says that the plain question is answered on one screen: what is said aside
	// is shown with the working alone.
	Brief bool

	fields  map[any]figure // of the result, by the pointer to each
	order   []any          // those that have a name and were not shown yet
	remarks map[any]Text   // what this answer says about some of them
	behind  map[any]bool   // those that people see with the working alone
}

// Fact is one answer: its key in JSON and CSV, its name for people, its value,
// and what there is to say about it. One without a value does not exist: an empty
// cell under its key in CSV, and nothing for people. One that is Behind is shown
// to people with the working alone.
type Fact struct {
	Key    string
	Label  Text
	Value  Value
	Remark Text
	Behind bool
}

// Table is a list with typed columns. Check, when present, is a last row that
// must come out the same when the list is worked through from the other end.
// Every row has one value a column.
type Table struct {
	Title Text
	Cols  []Column
	Rows  [][]Value
	Check []Value
}

// Column is a table's column: its key in JSON and CSV and its heading. One that
// is unseen is for machines alone; one that is Behind people see with the working
// alone, where the sheet is brief.
type Column struct {
	Key    string
	Head   Text
	Unseen bool
	Behind bool
}

// Add appends a row. It panics when the row does not fit the columns.
func (t *Table) Add(row ...Value) {
	if len(row) != len(t.Cols) {
		panic("sheet: a row that does not fit the columns of " + t.Title.String())
	}
	t.Rows = append(t.Rows, row)
}

// Warning is something the reader should know, with a stable code. Key is the
// key of the shop's file that would let what was not checked be checked.
type Warning struct {
	Code string `json:"code"`
	Text Text   `json:"text"`
	Key  string `json:"-"`
	// Look says that what was not checked is for the eye at the machine: a short page tells it in full.
	Look bool `json:"-"`
}

// Warnings is a list of warnings; in JSON it is never null.
type Warnings []Warning

// Add appends a warning.
func (w *Warnings) Add(code string, pieces ...any) {
	*w = append(*w, Warning{Code: code, Text: say.Of(pieces...)})
}

// MarshalJSON writes the list, empty as [].
func (w Warnings) MarshalJSON() ([]byte, error) { return list([]Warning(w)) }

// Cautions is a list of sentences about what can hurt; in JSON never null.
type Cautions []Text

// MarshalJSON writes the list, empty as [].
func (c Cautions) MarshalJSON() ([]byte, error) { return list([]Text(c)) }

// list writes a list as JSON, and none as an empty one.
func list[T any](l []T) ([]byte, error) {
	if l == nil {
		l = []T{}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(l)
	return b.Bytes(), err
}

// Remarks is embedded in every result: the two lists every JSON object has.
type Remarks struct {
	Warnings Warnings `json:"warnings"`
	Cautions Cautions `json:"cautions"`

	nos problem.List // why the answer is no
}

// Warn appends a warning, with a stable code.
func (r *Remarks) Warn(code string, pieces ...any) {
	r.Warnings.Add(code, pieces...)
}

// NotChecked appends the warning that something was not looked at, and the key
// of the shop's file that would let it: "lathe: compound: travel".
func (r *Remarks) NotChecked(key string, pieces ...any) {
	r.Warnings = append(r.Warnings, Warning{
		Code: "not-checked", Text: say.Of(append(pieces, " (", key, ")")...), Key: key,
	})
}

// No adds a reason why the answer is no.
func (r *Remarks) No(err error) { r.nos.Add(err) }

// Caution appends cautions, each once.
func (r *Remarks) Caution(texts ...Text) {
	for _, t := range texts {
		if !slices.Contains(r.Cautions, t) {
			r.Cautions = append(r.Cautions, t)
		}
	}
}

// Fails implements Result: why the answer is no, empty when it is yes.
func (r Remarks) Fails() problem.List { return r.nos }

// Value is a cell: a length with its rounding, an angle, a number, a measured
// quantity or a text, or nil for a figure that does not exist.
type Value = say.Quantity

// Text is a word or a sentence.
type Text = say.Text

// Angle is an angle; Minutes asks for degrees and minutes beside the decimal.
// It is shown with Places decimals, 3 where that is 0.
type Angle struct {
	V       units.Angle
	Minutes bool
}

// Words implements Value.
func (a Angle) Words() (mm, inch string) {
	s := string(say.Num(tidy(a.V.Deg()), 3)) + " deg"
	if a.Minutes {
		s += " (" + a.V.DMS(false) + ")"
	}
	return s, s
}

// Number is any other number with its decimals and its unit as shown.
type Number struct {
	V      float64
	Places int
	Unit   string
	Signed bool
}

// Words implements Value.
func (n Number) Words() (mm, inch string) {
	s := string(say.Num(tidy(n.V), n.Places))
	if n.Signed && tidy(n.V) > 0 && s != "0" {
		s = "+" + s
	}
	s = strings.TrimSpace(s + " " + n.Unit)
	return s, s
}

// MarshalJSON returns the number alone.
func (n Number) MarshalJSON() ([]byte, error) { return units.Number(n.V).MarshalJSON() }

// tidy takes the last few bits off a float, so that 6.2499999999999 is shown
// as the 6.25 it stands for.
func tidy(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// Ang returns a as decimal degrees with degrees and minutes beside it.
func Ang(a units.Angle) Value { return Angle{a, true} }

// Deg returns a as decimal degrees.
func Deg(a units.Angle) Value { return Angle{V: a} }

// Count returns a whole number.
func Count(n int) Value { return Number{V: float64(n)} }

// Num returns a number with its decimals and unit.
func Num(v float64, places int, unit string) Value {
	return Number{V: v, Places: places, Unit: unit}
}

// Sound reports whether a number can be shown: no NaN, no infinity.
func (n Number) Sound() bool { return !math.IsNaN(n.V) && !math.IsInf(n.V, 0) }

// YesNo returns "yes" or "no".
func YesNo(b bool) Value {
	if b {
		return Text("yes")
	}
	return Text("no")
}
