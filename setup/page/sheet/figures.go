package sheet

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// A figure of a result is said once, where its field is declared:
//
//	Bites *int `json:"bites" show:"bites"`
//	Reach *units.Length `json:"reach_mm" show:"reach" as:"down" note:"what this bar has"`
//
// The json tag is its key in JSON and its heading in CSV. The show tag is its
// name for people: its label as a fact and its heading in a table; a field
// without one is for machines alone. The note tag is what there always is to
// say about it. A field that is for people alone has json:"-" and a key tag.
//
// The as tag says how it is shown, in words with blanks between, in this order:
//
//	2           a number, an angle or a speed has that many decimals
//	1/2         a speed has so many on a page in mm, and so many on one in inches
//	up, down    a length, or a speed with its decimals, is never shown smaller, larger
//	fine        a length is a small difference, with its sign and one decimal more
//	minutes     an angle has degrees and minutes beside it
//	signed      a number or an angle has its sign
//	%, ppm …    the unit of a number
//
// A test in package setup refuses any other word. Every up and down stands in
// setup/testdata/directions.txt, with the reason.
//
// A nil pointer is a figure that does not exist: an empty cell under its key for
// machines, and no fact for people. A pitch is shown as a length, with decimals
// in mm on every page. A list has commas between its words, and blanks between
// whole numbers.

// figure is a field with its tags.
type figure struct {
	key, name, note string
	look            look
	value           reflect.Value
}

// look is an as tag.
type look struct {
	dir                   units.Direction
	fine, minutes, signed bool
	places, inches        int // on a page in mm and on one in inches; -1: not said
	unit                  string
}

func lookOf(tag string) look {
	l := look{places: -1}
	for word := range strings.FieldsSeq(tag) {
		mm, inch, both := strings.Cut(word, "/")
		switch n, err := strconv.Atoi(mm); {
		case err == nil:
			l.places, l.inches = n, n
			if both {
				l.inches, _ = strconv.Atoi(inch)
			}
		case word == "up":
			l.dir = units.Up
		case word == "down":
			l.dir = units.Down
		case word == "fine":
			l.fine = true
		case word == "minutes":
			l.minutes = true
		case word == "signed":
			l.signed = true
		default:
			l.unit = word
		}
	}
	return l
}

// eachFigure calls do with every exported field of a struct and of those
// embedded in it, in the order they are declared. One that is embedded under a
// key stands under it in JSON, and on the page like any other.
func eachFigure(v reflect.Value, do func(figure)) {
	t := v.Type()
	for i := range t.NumField() {
		f, fv := t.Field(i), v.Field(i)
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous:
			if fv.Kind() == reflect.Pointer {
				if fv.IsNil() {
					continue
				}
				fv = fv.Elem()
			}
			if fv.Kind() == reflect.Struct {
				eachFigure(fv, do)
			}
		case f.IsExported():
			if key == "-" || key == "" {
				key = f.Tag.Get("key")
			}
			do(figure{key, f.Tag.Get("show"), f.Tag.Get("note"), lookOf(f.Tag.Get("as")), fv})
		}
	}
}

// shown returns a field as a value, or nil where it does not exist.
func (f figure) shown() Value { return shown(f.value, f.look) }

// shown returns a value of any kind that a field may have, shown so.
//
// Long: one case a kind.
func shown(v reflect.Value, l look) Value {
	if v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface {
		if v.IsNil() {
			return nil
		}
		if v.Kind() == reflect.Interface {
			if x, ok := v.Interface().(Value); ok {
				return x
			}
		}
		return shown(v.Elem(), l)
	}
	number := func(x float64) Value {
		n := Number{V: x, Places: l.places, Unit: l.unit, Signed: l.signed}
		if l.places < 0 {
			n.Places = decimals(x)
		}
		return n
	}
	switch x := v.Interface().(type) {
	case units.Length:
		return units.Rounded{Length: x, Dir: l.dir, Fine: l.fine}
	case units.Angle:
		if l.signed || l.places >= 0 {
			return Number{V: x.Deg(), Places: max(l.places, 0), Unit: "deg", Signed: l.signed}
		}
		return Angle{x, l.minutes}
	case units.Pitch:
		if l.places >= 0 {
			return Number{V: x.MM(), Places: l.places, Unit: "mm"}
		}
		return units.Rounded{Length: x.Length(1), Dir: l.dir, Fine: l.fine}
	case units.Measured:
		if l.places >= 0 {
			return rounded{x, l.places, l.inches, l.dir}
		}
		return x
	case Value:
		return x
	case fmt.Stringer:
		return say.Of(x)
	case bool:
		return YesNo(x)
	}
	switch {
	case v.CanInt():
		return Number{V: float64(v.Int()), Unit: l.unit, Signed: l.signed}
	case v.CanFloat():
		return number(v.Float())
	case v.Kind() == reflect.String:
		return Text(say.Plain(v.String()))
	case v.Kind() == reflect.Slice:
		words := make([]Text, v.Len())
		for i := range words {
			words[i] = say.Of(shown(v.Index(i), l))
		}
		if v.Type().Elem().Kind() == reflect.Int {
			return say.Join(words, " ")
		}
		return say.Join(words, ", ")
	}
	panic(fmt.Sprintf("sheet: a %v has no value for people", v.Type()))
}

// decimals returns how many of at most 3 decimals x needs.
func decimals(x float64) int {
	_, after, _ := strings.Cut(string(say.Num(tidy(x), 3)), ".")
	return len(after)
}

// rounded is a measured quantity with a fixed number of decimals, and the
// direction it is rounded in.
type rounded struct {
	units.Measured
	places, inches int
	dir            units.Direction
}

// Words implements Value.
func (r rounded) Words() (mm, inch string) {
	word := func(u units.Unit, places int) string {
		v, unit := r.In(u)
		v = tidy(v)
		one := math.Pow10(places)
		switch r.dir {
		case units.Up:
			v = math.Ceil(v*one) / one
		case units.Down:
			v = math.Floor(v*one) / one
		}
		return strconv.FormatFloat(v, 'f', places, 64) + " " + unit
	}
	return word(units.MM, r.places), word(units.Inch, r.inches)
}

// Of starts the sheet of a result, which r points to: its title, and its
// warnings and cautions where it has Remarks. Show and Figures then find the
// fields of r by where they stand in it.
func Of(r any, title ...any) *Sheet {
	v := reflect.ValueOf(r).Elem()
	s := &Sheet{Title: say.Of(title...), fields: map[any]figure{}}
	eachFigure(v, func(f figure) {
		if f.value.CanAddr() {
			s.fields[f.value.Addr().Interface()] = f
		}
		if f.name != "" {
			s.order = append(s.order, f.value.Addr().Interface())
		}
	})
	if f := v.FieldByName("Remarks"); f.IsValid() {
		remarks := f.Interface().(Remarks)
		s.Warnings, s.Cautions = remarks.Warnings, remarks.Cautions
	}
	return s
}

// figureAt returns the figure a pointer into the result stands for. It panics
// on any other: that is a defect of the caller's.
func (s *Sheet) figureAt(field any) figure {
	f, ok := s.fields[field]
	if !ok {
		panic(fmt.Sprintf("sheet: %T is no field of this result", field))
	}
	return f
}

// Show adds a field of the result as a fact, under the name its declaration
// gives it, and what there is to say about it: the remark, or the declaration's
// own. A figure that does not exist is a fact without a value.
func (s *Sheet) Show(field any, remark ...any) { s.ShowAs(field, "", remark...) }

// ShowAs is Show under another name: that of this answer.
func (s *Sheet) ShowAs(field any, name Text, remark ...any) {
	f := s.figureAt(field)
	s.done(field)
	if name == "" {
		name = Text(f.name)
	}
	if len(remark) == 0 {
		remark = []any{f.note}
		if said, ok := s.remarks[field]; ok {
			remark = []any{said}
		}
	}
	s.Facts = append(s.Facts, Fact{f.key, name, f.shown(), say.Of(remark...), s.behind[field]})
}

// Fact adds an answer that is no field of the result.
func (s *Sheet) Fact(name Text, v Value, remark ...any) {
	s.Facts = append(s.Facts, Fact{Label: name, Value: v, Remark: say.Of(remark...)})
}

// Keyed is Fact with a key for machines, where the answer chooses it.
func (s *Sheet) Keyed(key string, name Text, v Value, remark ...any) {
	s.Fact(name, v, remark...)
	s.Facts[len(s.Facts)-1].Key = key
}

// done takes a field off the list of those that Figures shows.
func (s *Sheet) done(field any) {
	for i, f := range s.order {
		if f == field {
			s.order = append(s.order[:i:i], s.order[i+1:]...)
			return
		}
	}
}

// Remark gives a field that Figures shows something to say about it in place of
// the declaration's note.
func (s *Sheet) Remark(field any, remark ...any) {
	s.figureAt(field)
	if s.remarks == nil {
		s.remarks = map[any]Text{}
	}
	s.remarks[field] = say.Of(remark...)
}

// Skip leaves fields out of what Figures shows.
func (s *Sheet) Skip(fields ...any) {
	for _, f := range fields {
		s.figureAt(f)
		s.done(f)
	}
}

// Behind leaves fields to those who ask for the working: a page that is to be
// obeyed is short.
func (s *Sheet) Behind(fields ...any) {
	if s.behind == nil {
		s.behind = map[any]bool{}
	}
	for _, f := range fields {
		s.figureAt(f)
		s.behind[f] = true
	}
}

// Do adds a step of what is to be done; they are numbered where they are shown.
func (s *Sheet) Do(pieces ...any) { s.Procedure = append(s.Procedure, say.Of(pieces...)) }

// Figures shows every field that has a name and was not shown yet, in the
// order they are declared.
func (s *Sheet) Figures() {
	for len(s.order) > 0 {
		s.Show(s.order[0])
	}
}

// Note adds a note.
func (s *Sheet) Note(pieces ...any) { s.Notes = append(s.Notes, say.Of(pieces...)) }

// Aside adds a note that people see with the working alone, where the sheet is brief.
func (s *Sheet) Aside(pieces ...any) { s.Notes = append(s.Notes, say.Aside(pieces...)) }

// Work adds a step of the working.
func (s *Sheet) Work(name, formula string, value float64, unit string, letters ...Var) {
	s.Working = append(s.Working, Work(name, formula, value, unit, letters...))
}

// Step adds a step of the working: what it comes to is a length, an angle, a
// number, or a Number with its unit. Letters are names and values by turns.
//
//	s.Step("point", "D/2/tan(h)", r.Point, "D", in.Dia, "h", in.Point.Half())
func (s *Sheet) Step(name, formula string, result any, letters ...any) {
	var vars []Var
	for i := 0; i < len(letters); i += 2 {
		v, _ := plainly(letters[i+1])
		vars = append(vars, Let(letters[i].(string), v))
	}
	v, unit := plainly(result)
	s.Work(name, formula, v, unit, vars...)
}

// plainly returns a value as a number in millimetres or degrees, and its unit.
func plainly(v any) (float64, string) {
	switch v := v.(type) {
	case interface{ MM() float64 }:
		return v.MM(), "mm"
	case interface{ Deg() float64 }:
		return v.Deg(), "deg"
	case Number:
		return v.V, v.Unit
	}
	r := reflect.Indirect(reflect.ValueOf(v))
	if r.CanInt() {
		return float64(r.Int()), ""
	}
	return r.Float(), ""
}

// Table adds a list of the result as a table: rows is a slice of structs, whose
// fields with a name are its columns. It returns the table, for what only this
// answer says of it.
func (s *Sheet) Table(rows any, title ...any) *Table {
	list := reflect.ValueOf(rows)
	if list.Kind() == reflect.Pointer {
		list = list.Elem()
	}
	t := Table{Title: say.Of(title...)}
	eachFigure(reflect.Zero(list.Type().Elem()), func(f figure) {
		if f.name != "" {
			t.Cols = append(t.Cols, Column{Key: f.key, Head: Text(f.name)})
		}
	})
	for i := range list.Len() {
		t.Rows = append(t.Rows, rowOf(list.Index(i)))
	}
	s.Tables = append(s.Tables, t)
	return &s.Tables[len(s.Tables)-1]
}

// rowOf returns the cells of a struct.
func rowOf(v reflect.Value) []Value {
	var row []Value
	eachFigure(v, func(f figure) {
		if f.name != "" {
			row = append(row, f.shown())
		}
	})
	return row
}

// Column returns where a column stands. It panics on a key that is none: that
// is a defect of the caller's.
func (t *Table) column(key string) int {
	for i, c := range t.Cols {
		if c.Key == key {
			return i
		}
	}
	panic("sheet: no column " + key + " in " + t.Title.String())
}

// Key gives a column another key: that of the unit it is shown in on every page.
func (t *Table) Key(key, other string) *Table {
	t.Cols[t.column(key)].Key = other
	return t
}

// Head gives a column another heading.
func (t *Table) Head(key string, heading ...any) *Table {
	t.Cols[t.column(key)].Head = say.Of(heading...)
	return t
}

// Without takes columns out of the table.
func (t *Table) Without(keys ...string) *Table {
	cut := func(row []Value, i int) []Value { return append(row[:i:i], row[i+1:]...) }
	for _, key := range keys {
		i := t.column(key)
		t.Cols = append(t.Cols[:i:i], t.Cols[i+1:]...)
		for r := range t.Rows {
			t.Rows[r] = cut(t.Rows[r], i)
		}
		if t.Check != nil {
			t.Check = cut(t.Check, i)
		}
	}
	return t
}

// WithoutEmpty hides the columns from people that have no value in any row.
func (t *Table) WithoutEmpty() *Table {
	for i := range t.Cols {
		t.Cols[i].Unseen = !slices.ContainsFunc(t.Rows, func(row []Value) bool { return row[i] != nil })
	}
	return t
}

// Leave leaves columns to those who ask for the working.
func (t *Table) Leave(keys ...string) *Table {
	for _, key := range keys {
		t.Cols[t.column(key)].Behind = true
	}
	return t
}

// Checked adds the row that must come out the same from the other end: the
// values of some columns by their keys.
func (t *Table) Checked(cells map[string]Value) *Table {
	t.Check = make([]Value, len(t.Cols))
	for key, v := range cells {
		t.Check[t.column(key)] = v
	}
	return t
}

// CheckedRow is Checked with a row of the table's own kind, whose cells under
// some keys stay empty.
func (t *Table) CheckedRow(row any, empty ...string) *Table {
	t.Check = rowOf(reflect.ValueOf(row))
	for _, key := range empty {
		t.Check[t.column(key)] = nil
	}
	return t
}
