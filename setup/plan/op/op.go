// Package op says what an operation is: one thing done to the work in one
// set-up with one tool, with what it cuts, what it is set to and what it
// leaves behind. Nothing here has words for a card but what is said of a
// single figure.
package op

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/outline"
)

// Kind is what is done.
type Kind string

// The kinds of operation.
const (
	Saw         Kind = "saw"
	Face        Kind = "face"
	Centre      Kind = "centre"
	Datum       Kind = "datum"
	Turn        Kind = "turn"
	Bore        Kind = "bore"
	Drill       Kind = "drill"
	Spot        Kind = "spot"
	Ream        Kind = "ream"
	Countersink Kind = "countersink"
	Chamfer     Kind = "chamfer"
	Tap         Kind = "tap"
	CrossDrill  Kind = "cross-drill"
	Plug        Kind = "plug"
	Taper       Kind = "taper"
	Curve       Kind = "curve"
	Thread      Kind = "thread"
	Facet       Kind = "facet"
	Mill        Kind = "mill"
	Slot        Kind = "slot"
	PartOff     Kind = "part-off"
	Harden      Kind = "harden"
	Glue        Kind = "glue"
	Wait        Kind = "wait"
	Grind       Kind = "grind"
	Etch        Kind = "etch"
	Polish      Kind = "polish"
	Mark        Kind = "mark"
)

// Span is a range along z.
type Span = outline.Span

// Figure is a value on a card: a quantity, a number or a word, and the words
// that stand behind it.
type Figure struct {
	Value say.Quantity
	After say.Text
}

// With returns a value with words behind it: 0.5 mm "wide".
func With(v say.Quantity, after ...any) Figure { return Figure{v, say.Of(after...)} }

// figure returns a value as a figure.
func figure(v say.Quantity) Figure {
	if f, ok := v.(Figure); ok {
		return f
	}
	return Figure{Value: v}
}

// Words implements say.Quantity.
func (f Figure) Words() (mm, inch string) {
	if f.After == "" {
		return f.Value.Words()
	}
	return say.Of(f.Value, " ", f.After).Words()
}

// MarshalJSON writes it as words in millimetres.
func (f Figure) MarshalJSON() ([]byte, error) { return say.Of(f).MarshalJSON() }

// Setting is one thing that is set: its name, its value as the hand finds it,
// and what there is to say.
type Setting struct {
	Name  say.Text `json:"name"`
	Value Figure   `json:"value"`
	Say   say.Text `json:"note,omitempty"`
}

// Slide is what a position is set on.
type Slide string

// The slides.
const (
	CrossSlide Slide = "cross slide"
	Table      Slide = "mill table"
	MarkedOut  Slide = "marked out" // no dial: scribed on the work
)

// Dial is a position set on a dial: where it should be, where the nearest line
// puts it, and how to get there from zero.
type Dial struct {
	What      say.Text      `json:"what"`
	Slide     Slide         `json:"slide"`
	Exact     units.Length  `json:"exact_mm"`
	Set       *units.Length `json:"set_mm"`
	Turns     *int64        `json:"turns"`
	Divisions *int64        `json:"divisions"`
	Mark      string        `json:"mark"` // as the hand counts it
}

// Check is one thing that was checked: whether it holds, the value, the limit,
// and what would mend it.
type Check struct {
	Code   problem.Code `json:"code"`
	OK     bool         `json:"ok"`
	Value  Figure       `json:"value"`
	Limit  Figure       `json:"limit"`
	Remedy say.Text     `json:"remedy"`
}

// Feature is what an operation belongs to: the kind that stands for it, and a
// number from 1. Operations of one feature make it together.
type Feature struct {
	Kind Kind
	N    int
}

// Op is one operation. Two operations use one tool when it has the same words.
type Op struct {
	ID       string // lower-case words that name it: "turn-left-16"
	Kind     Kind
	Name     say.Text // for people: "finish 16 mm over z 0 mm to 14 mm"
	Setup    Setup
	Tool     say.Text
	Feature  Feature
	Makes    Surface // what it leaves to be held on
	Rough    bool
	Relieved bool // the whole part is relieved of stress after it
	Zero     bool // it makes the face that z is measured from

	Cuts  Span // what it cuts along z
	Held  Span // what the set-up holds along z
	Dia   units.Length
	Axial bool         // on the bar's axis: bores and their threads
	Roll  *units.Angle // direction around the bar, for what has one

	Settings []Setting
	Dials    []Dial
	Checks   []Check
	Minutes  float64
	Warnings sheet.Warnings
	Cautions []say.Text
}

// As returns another operation of the same set-up and feature.
func (o Op) As(id string, kind Kind, name, tool say.Text) *Op {
	o.ID, o.Kind, o.Name, o.Tool = id, kind, name, tool
	return &o
}

// Set adds a setting and what there is to say of it.
func (o *Op) Set(name say.Text, v say.Quantity, remark ...any) {
	o.Settings = append(o.Settings, Setting{name, figure(v), say.Of(remark...)})
}

// Warn adds a warning, with a stable code.
func (o *Op) Warn(code string, pieces ...any) { o.Warnings.Add(code, pieces...) }

// Check adds what was checked; the remedy is told where it does not hold.
func (o *Op) Check(code problem.Code, ok bool, value, limit say.Quantity, remedy ...any) {
	if ok {
		remedy = nil
	}
	o.Checks = append(o.Checks, Check{code, ok, figure(value), figure(limit), say.Of(remedy...)})
}

// OnDial adds a position, from where it is measured, and the nearest line of
// the dial. It returns what the dial was set to, the position itself where
// there is none.
func (o *Op) OnDial(what say.Text, slide Slide, dial *shop.Dial, exact units.Length) units.Length {
	line := Dial{What: what, Slide: slide, Exact: exact}
	set := exact
	if dial != nil {
		s, t := dial.Set(exact)
		set = s.Set
		line.Set, line.Turns, line.Divisions, line.Mark = &s.Set, &t.Turns, &t.Divisions, s.Mark
	}
	o.Dials = append(o.Dials, line)
	return set
}
