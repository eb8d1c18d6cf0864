// Package op says what an operation is: one thing done to the work in one
// set-up with one tool, with what it cuts, what it is set to and what it
// leaves behind. Nothing here has words for a card but what is said of a
// single figure.
package op

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

// Before is what last cut the thickest place that an operation begins from: the step's number,
// 0 where the work is as it was bought there, and whether that roughed it.
type Before struct {
	N     int
	Rough bool
}

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

// Slide is what a position is set on.
type Slide string

// The slides.
const (
	CrossSlide Slide = "cross slide"
	Carriage   Slide = "carriage"
	Table      Slide = "mill table"
	MarkedOut  Slide = "marked out" // no dial: scribed on the work
)

// Dial is a position set on a dial: where it should be, where the nearest line
// puts it, and how to get there from zero. From says where zero is.
type Dial struct {
	What      say.Text      `json:"what"`
	Slide     Slide         `json:"slide"`
	Exact     units.Length  `json:"exact_mm"`
	Set       *units.Length `json:"set_mm"`
	Turns     *int64        `json:"turns"`
	Divisions *int64        `json:"divisions"`
	From      say.Text      `json:"from"`
	Readout   *units.Length `json:"-"` // what a readout shows there, as far as the slide goes
	Mark      string        `json:"-"` // as the hand counts it
}

// Check is one thing that was checked: whether it holds, the value, the limit,
// and what would mend it.
type Check struct {
	Code   problem.Code
	OK     bool
	Value  Figure
	Limit  Figure
	Remedy say.Text
	Quiet  bool // it has no line on a card where it holds
	Is     Bound
}

// Bound is which side of its limit a value must be on; where it says nothing the words behind
// the limit do.
type Bound string

// The bounds.
const (
	Most  Bound = "most"
	Least Bound = "least"
)

// Feature is what an operation belongs to: the kind that stands for it, and a
// number from 1. Operations of one feature make it together.
type Feature struct {
	Kind Kind
	N    int
}

// Hand is how a lathe's tool cuts: the hand of its edge, or its form.
type Hand string

// The hands.
const (
	NoHand  Hand = ""
	Right   Hand = "right"
	Left    Hand = "left"
	Neutral Hand = "neutral"
	Form    Hand = "form"
	File    Hand = "file"
)

// Tool is what cuts. Two operations use one tool when both are equal. Trail is what its edge is
// ground to for the job, 0 where it is as it is usually ground.
type Tool struct {
	Name  say.Text
	Hand  Hand
	Trail units.Angle
}

// Cut is how hard a cut pushes the work: the depth a side and the feed of a
// turning cut, or Side where it is only the side force of a drill or of facing.
// Force is what pushes it in milling, in N, where that was worked out, and Roughing
// the same of the passes before the last.
// Finish says that its width is judged by the limits and not by roughing's. The
// zero Cut pushes nothing.
type Cut struct {
	Depth, Feed float64 // mm, mm/rev
	Force       float64
	Roughing    float64
	Side        bool
	Finish      bool
}

// Allowed names what may be smaller than the drawing.
type Allowed string

// The names.
const (
	ThreadBlank   Allowed = "thread-blank"
	ThreadRelief  Allowed = "thread-relief"
	ThreadChamfer Allowed = "thread-chamfer"
	BrokenEdge    Allowed = "broken-edge"
	CountersinkOK Allowed = "countersink"
	CentreHoleOK  Allowed = "centre-hole"
	ReamerLead    Allowed = "reamer-lead"
)

// Predicted is one size of the part as it will come out: an angle where its
// dimension is one.
type Predicted struct {
	limits.Dimension
	Words    say.Text // what people call it
	Out      units.Length
	OutAngle units.Angle
	Told     units.Length // how far it may be off that, either way, as it is read and set; 0 where nothing is said
	Because  say.Text
}

// Error returns how far it is off the drawing.
func (p Predicted) Error() units.Length { return p.Out.Minus(p.Drawn) }

// OK reports whether it is within its limits, as far as it may be off either way.
func (p Predicted) OK() bool {
	if p.Kind == limits.Angle {
		return p.HoldsAngle(p.OutAngle)
	}
	return p.Holds(p.Out.Minus(p.Told)) && p.Holds(p.Out.Plus(p.Told))
}

// Op is one operation. What it is, where it is done and what it cuts is known
// before the order is; what it is set to, what it takes off and what comes out
// is asked of the work as it stands then, by Do.
type Op struct {
	ID       string // lower-case words that name it: "turn-left-16"
	Kind     Kind
	Name     say.Text // for people: "finish 16 mm over z 0 mm to 14 mm"
	Setup    Setup
	Tool     Tool
	Feature  Feature
	Makes    []string // ids of the features that it makes
	Leaves   Surface  // what it leaves to be held on
	Rough    bool
	Relieved bool // the whole part is relieved of stress after it
	Zero     bool // it makes the face that z is measured from

	Ends    [2]Len // of an outside that is turned: its diameters at the left and the right
	Roughed Len    // and what roughing leaves of it
	Gauged  bool   // a taper whose half angle has limits

	Cuts   Span // what it cuts along z
	Dia    units.Length
	Root   units.Length // of an outside thread: its minor diameter
	Cutter units.Length // of the end mill that flats are milled with
	Axial  bool         // on the bar's axis: bores and their threads
	Past   Len          // how far its tool goes past the far end of the part
	OnEnd  bool         // its tool is put on over the end that stands out: a die
	// DieTurned says that its die is turned round at the end, so that its short side cuts up to a shoulder.
	DieTurned bool
	Spread    bool         // the arbor is split and spread, and the cuts are light
	Roll      *units.Angle // direction around the bar, for what has one

	Mills part.Face   // of a block: the face that it mills flat
	Trues []part.Face // the faces that must be flat by then
	Opens []Grip      // the grips in which it leaves too little to hold, or to rest on

	Before Before // settled when its place in the order is known

	Do func(w work.State) // settles what stands below; nil where nothing depends on the work

	Removes   []work.Removal
	Allowed   []Allowed
	Push      Cut
	Stands    Stands
	Plunges   []Plunge // where the blade of a grooving tool goes in on an arc, in their order
	Predicted []Predicted
	Working   []sheet.Step
	Settings  []Setting
	Dials     []Dial
	Steps     func() []say.Text // what the hand does, one after the other; nil where the settings say it
	// SetOver says how the tailstock is set over for it, and how it is brought back; nil where
	// it is not. What stands so already is not set again.
	SetOver    func() (set, back []say.Text)
	Checks     []Check
	NotChecked []string
	Spring     *units.Length
	Minutes    float64
	Warnings   sheet.Warnings
	Cautions   []say.Text
	Best       say.Text // the best that can be had, where it leaves a size beyond its limits
}

// Plunge is where a grooving tool goes straight in: its corner toward the headstock at Z, the blade so
// Wide from there toward the end that stands out, to a diameter.
type Plunge struct{ Z, Wide, Dia Len }

// Stands is how the work stands in an operation's set-up, where that is worked
// out from the work itself; of a block which face is up, which lies against the fixed
// jaw, and how far it is tilted in the vice. What is nil is not so.
type Stands struct {
	Compound    *units.Angle         `json:"compound_deg,omitempty"`
	Method      swivel.Method        `json:"method,omitempty"`
	Arrangement *fouling.Arrangement `json:"arrangement,omitempty"`
	Offset      *units.Length        `json:"tailstock_offset_mm,omitempty"`
	Tilt        *units.Angle         `json:"tilt_deg,omitempty"`
	Shim        *units.Length        `json:"shim_mm,omitempty"`
	Gears       string               `json:"gears,omitempty"`
	Blocks      []Len                `json:"blocks_mm,omitempty"`
	Top         *units.Length        `json:"top_height_mm,omitempty"`
	Centre      *units.Length        `json:"centre_height_mm,omitempty"`
	Up          part.Face            `json:"up,omitempty"`
	Fixed       part.Face            `json:"fixed_jaw,omitempty"`
	TiltX       *units.Angle         `json:"tilt_x_deg,omitempty"`
	TiltY       *units.Angle         `json:"tilt_y_deg,omitempty"`
}

// Along returns what it cuts along z.
func (o *Op) Along() work.Span { return work.Span{From: LenOf(o.Cuts.From), To: LenOf(o.Cuts.To)} }

// Foresee notes a size that the operation leaves. One that the part does not have
// is left out.
func (o *Op) Foresee(d limits.Dimension, words say.Text, out units.Length, because ...any) {
	if d.Known() {
		o.Predicted = append(o.Predicted, Predicted{Dimension: d, Words: words, Out: out, Because: say.Of(because...)})
	}
}

// ForeseeTold is Foresee of a size that may be off so far either way, as it is read and set.
func (o *Op) ForeseeTold(d limits.Dimension, words say.Text, out, off units.Length, because ...any) {
	o.Foresee(d, words, out, because...)
	if n := len(o.Predicted); d.Known() {
		o.Predicted[n-1].Told = off
	}
}

// Removed adds what the operation takes off, and what of it may be smaller than
// the drawing.
func (o *Op) Removed(r work.Removal, allowed ...Allowed) {
	o.Removes, o.Allowed = append(o.Removes, r), append(o.Allowed, allowed...)
}

// Read puts beside every position what a digital readout shows there: the line of
// the dial that it is set to, or where there is none the position, to the step
// that a readout counts in.
func (o *Op) Read() {
	for i, d := range o.Dials {
		switch {
		case d.Slide == MarkedOut:
		case d.Set != nil:
			o.Dials[i].Readout = d.Set
		default:
			o.Dials[i].Readout = new(d.Exact.RoundTo(practice.ReadoutStep.Length(), units.Nearest))
		}
	}
}

// As returns another operation of the same set-up and feature.
func (o Op) As(id string, kind Kind, name, tool say.Text) *Op {
	o.ID, o.Kind, o.Name, o.Tool = id, kind, name, Tool{Name: tool}
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
	o.Checks = append(o.Checks, Check{
		Code: code, OK: ok, Value: figure(value), Limit: figure(limit), Remedy: say.Of(remedy...),
	})
}

// Fails reports whether a check of one of the codes fails.
func (o *Op) Fails(codes ...problem.Code) bool {
	return slices.ContainsFunc(o.Checks, func(c Check) bool { return !c.OK && slices.Contains(codes, c.Code) })
}

// OnDial adds a position, from where it is measured, and the nearest line of
// the dial. It returns what the dial was set to, the position itself where
// there is none.
func (o *Op) OnDial(what say.Text, slide Slide, dial *shop.Dial, exact units.Length, from ...any) units.Length {
	return o.onDial(what, slide, dial, shop.Dial.Set, exact, from...)
}

// ShortOnDial is OnDial to the last line that does not pass a position of 0 or more: nothing is
// cut below what is drawn.
func (o *Op) ShortOnDial(what say.Text, slide Slide, dial *shop.Dial, exact units.Length, from ...any) units.Length {
	return o.onDial(what, slide, dial, shop.Dial.Short, exact, from...)
}

// onDial adds a position as set sets it on a dial.
func (o *Op) onDial(what say.Text, slide Slide, dial *shop.Dial,
	by func(d shop.Dial, travel units.Length) (shop.Setting[units.Length], shop.Turns), exact units.Length, from ...any,
) units.Length {
	line := Dial{What: what, Slide: slide, Exact: exact, From: say.Of(from...)}
	set := exact
	if dial != nil {
		s, t := by(*dial, exact)
		set = s.Set
		line.Set, line.Turns, line.Divisions, line.Mark = &s.Set, &t.Turns, &t.Divisions, s.Mark
	}
	o.Dials = append(o.Dials, line)
	return set
}
