// Package op says what an operation is: one thing done to the work in one
// set-up with one tool, with what it cuts, what it is set to and what it
// leaves behind.
package op

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
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
	Clock       Kind = "clock"
	Fit         Kind = "fit"
	Harden      Kind = "harden"
	Glue        Kind = "glue"
	Wait        Kind = "wait"
	Grind       Kind = "grind"
	Etch        Kind = "etch"
	Polish      Kind = "polish"
	Mark        Kind = "mark"
)

// The machines.
const (
	Lathe       = shop.OnLathe
	MillMachine = shop.OnMill
	DrillPress  = shop.OnDrillPress
	BeltGrinder = shop.OnBeltGrinder
	BandSaw     = shop.OnSaw
	Bench       = shop.OnBench
)

// StockSurface is what a bar is held on before anything is cut.
const StockSurface = "the bar as bought"

// Setup is how the work stands: two operations share a set-up when all of it
// is the same. On names the surface that is held and Held its span; State is
// what is special about the machine (compound swung, bar rolled, head tilted).
type Setup struct {
	Machine shop.Machine
	Hold    string
	On      string
	Out     part.End // the end that stands out
	Support string   // "centre" or ""
	State   string
}

// Grip returns the set-up without its state and support: what changes when the
// work is taken out and put back.
func (s Setup) Grip() string {
	return string(s.Machine) + "|" + s.Hold + "|" + s.On + "|" + string(s.Out)
}

// RunsTrue reports whether taking this grip loses nothing: V-blocks find the
// axis by themselves, and the roll is set against its datum; centres do so at
// every change. A chuck does not run true again when the work is put back.
func (s Setup) RunsTrue() bool { return s.Hold == VBlocks || s.Hold == Shimmed || s.Hold == Centres }

// The ways to hold.
const (
	Chuck        = "chuck"
	VBlocks      = "V-blocks"
	Shimmed      = "V-blocks with a shim" // under a taper that is cut already
	DividingHead = "dividing head"
	ColletBlock  = "collet block"
	Vice         = "vice"
	ByHand       = "by hand"
	Jig          = "cradle"
	Centres      = "between centres"
)

// String returns the holding as a sheet names it.
func (s Setup) String() string {
	text := s.Hold
	if s.On != "" {
		text += " on " + s.On
	}
	if s.Out != "" {
		text += ", " + string(s.Out) + " end out"
	}
	if s.Support != "" {
		text += ", " + s.Support + " in the other end"
	}
	if s.State != "" {
		text += "; " + s.State
	}
	return text
}

// Span is a stretch of the part along z, in the drawing's direction.
type Span struct {
	From units.Length `json:"from_mm"`
	To   units.Length `json:"to_mm"`
}

// Overlaps reports whether two spans share more than a point.
func (s Span) Overlaps(t Span) bool { return s.From.Less(t.To) && t.From.Less(s.To) }

// Length returns the span's length.
func (s Span) Length() units.Length { return s.To.Minus(s.From) }

// String returns "z 14 mm to 46 mm", in the unit of the page.
func (s Span) String() string {
	return fmt.Sprintf("z %s to %s", sheet.Inline(s.From, units.Nearest), sheet.Inline(s.To, units.Nearest))
}

// Setting is one thing that is set: its name, its value as the hand finds it,
// and what there is to say.
type Setting struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Note  string `json:"note,omitempty"`
}

// Dial is a position set on a dial: where it should be, where the nearest line
// puts it, and how to get there from zero.
type Dial struct {
	What      string        `json:"what"`
	Slide     string        `json:"slide"`
	Exact     units.Length  `json:"exact_mm"`
	Set       *units.Length `json:"set_mm"`
	Turns     *int64        `json:"turns"`
	Divisions *int64        `json:"divisions"`
	Mark      string        `json:"mark"` // as the hand counts it
}

// Check is one thing that was checked: whether it holds, the value, the limit,
// and what would mend it.
type Check struct {
	Code   string `json:"code"`
	OK     bool   `json:"ok"`
	Value  string `json:"value"`
	Limit  string `json:"limit"`
	Remedy string `json:"remedy"`
}

// Op is one operation.
type Op struct {
	ID      string // lower-case words that name it: "turn-left-16"
	Kind    Kind
	Name    string // for people: "finish 16 mm over 14 mm"
	Setup   Setup
	Tool    string
	Feature string // the feature it makes, shared by the operations that make it
	Rough   bool

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
	Cautions []string
}

// Set adds a setting.
func (o *Op) Set(name, value, note string) {
	o.Settings = append(o.Settings, Setting{name, value, note})
}
