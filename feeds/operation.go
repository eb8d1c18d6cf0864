package feeds

import (
	"math"
	"slices"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
)

// Operation is what is cut.
type Operation string

// The operations.
const (
	Turn        Operation = "turn"
	Face        Operation = "face"
	Bore        Operation = "bore"
	PartOff     Operation = "part-off"
	Thread      Operation = "thread"
	Drill       Operation = "drill"
	Ream        Operation = "ream"
	Tap         Operation = "tap"
	Countersink Operation = "countersink"
	Mill        Operation = "mill"
	Saw         Operation = "saw"
	Grind       Operation = "grind"
)

// facts is what is known of an operation. The machines stand the usual one
// first; speed and feed are the rules for a material that has no figures of
// its own.
type facts struct {
	op          Operation
	title       string
	machines    []shop.Machine
	speed, feed rule
	chip        chip
	size        sizes
	cautions    []say.Text
	slowed      say.Text // how it is done where the machine runs too fast

	onWork   bool // the diameter is the work's, or the hole's in it
	finishes bool // may be a finishing cut
	along    bool // its depth is along the tool, not a side
	radial   bool // runs from the rim to the middle, or to the other diameter
	toPoint  bool // its other end may be a point
	midway   bool // its speed is that of the middle between both ends
	pitch    bool // its feed is a thread's pitch
	back     bool // comes back out at its feed
	clamped  bool // the work is clamped under it, off the lathe
	lips     int  // edges that share the feed a revolution; 0 is one
}

// rule says which part of another operation's figure serves where a material
// has none for this one.
type rule struct {
	base   Operation
	factor float64
	source string
}

const noSource = "common practice, no source"

// chip is what one revolution takes away: its volume in mm3 as a formula in
// the letters of --working and as what is computed, and its section in mm2,
// which presses on the edge (for milling the mean over a revolution). Deepest
// is the most a depth can be, in diameters, 0 where no depth is set.
//
// Source: S. Kalpakjian, S. R. Schmid, Manufacturing Engineering and
// Technology, ch. 22-23.
type chip struct {
	formula         string
	ring            string // the same round a hole that is there already, to the diameter d
	volume, section func(cut) float64
	deepest         float64
}

// cut is a cut in mm: the diameter D, its small end d, the width w, the depth a
// and the feed f a revolution.
type cut struct{ D, d, w, a, f float64 }

// sizes are the sizes an operation takes where nobody says them, each with
// what there is to say of it; nil where it has none.
type sizes struct {
	width, depth func(Input) (units.Length, say.Text)
}

// endless is the most of a depth that the work does not bound, in diameters.
const endless = 1000

func edge(c cut) float64 { return c.a * c.f }

var (
	onLathe = []shop.Machine{shop.OnLathe}
	drilled = []shop.Machine{shop.OnDrillPress, shop.OnMill, shop.OnLathe}
)

// operations is the table of them, in the order they are listed.
var operations = []facts{
	{
		op: Turn, title: "Turning", machines: onLathe,
		chip: chip{
			formula: "pi*(D - a)*a*f", section: edge, deepest: 0.5,
			volume: func(c cut) float64 { return math.Pi * (c.D - c.a) * c.a * c.f },
		},
		cautions: []say.Text{cautions.Overhang}, onWork: true, finishes: true,
	},
	{
		op: Face, title: "Facing", machines: onLathe,
		speed: rule{Turn, 1, noSource}, feed: rule{Turn, 1, noSource},
		chip: chip{ // at the rim
			formula: "pi*D*a*f", section: edge, deepest: endless,
			volume: func(c cut) float64 { return math.Pi * c.D * c.a * c.f },
		},
		onWork: true, finishes: true, along: true, radial: true, toPoint: true,
	},
	{
		op: Bore, title: "Boring", machines: onLathe,
		speed: rule{Turn, 0.8, noSource}, feed: rule{Turn, 1, noSource},
		chip: chip{
			formula: "pi*(D + a)*a*f", section: edge, deepest: endless,
			volume: func(c cut) float64 { return math.Pi * (c.D + c.a) * c.a * c.f },
		},
		onWork: true, finishes: true,
	},
	{
		op: PartOff, title: "Parting off", machines: onLathe,
		speed: rule{Turn, 0.5, noSource}, feed: rule{Turn, 0.5, noSource},
		chip: chip{ // at the rim
			formula: "pi*D*w*f", section: func(c cut) float64 { return c.w * c.f },
			volume: func(c cut) float64 { return math.Pi * c.D * c.w * c.f },
		},
		size: sizes{width: blade}, onWork: true, radial: true,
	},
	{
		op: Thread, title: "Threading with a single point", machines: onLathe, speed: rule{Turn, 1.0 / 3, noSource},
		cautions: []say.Text{cautions.Overhang}, onWork: true, pitch: true,
	},
	{
		op: Drill, title: "Drilling", machines: drilled,
		chip: chip{
			formula: "pi*D^2*f/4", ring: "pi*(D^2 - d^2)*f/4",
			volume: func(c cut) float64 { return math.Pi * (c.D*c.D - c.d*c.d) * c.f / 4 },
		},
		onWork: true, clamped: true, lips: 2, // of a twist drill
	},
	{
		op: Ream, title: "Reaming", machines: drilled,
		speed: rule{Drill, 0.5, "machine-shop-course"}, feed: rule{Drill, 2, "machine-shop-course"},
		chip: chip{
			formula: "pi*(D - a)*a*f",
			volume:  func(c cut) float64 { return math.Pi * (c.D - c.a) * c.a * c.f },
		},
		size: sizes{depth: allowance}, onWork: true, clamped: true,
	},
	{
		op: Tap, title: "Tapping", machines: drilled, speed: rule{Drill, 1.0 / 3, noSource},
		cautions: []say.Text{cautions.TapBreak}, slowed: "turn the tap by hand", pitch: true, back: true, clamped: true,
	},
	{
		op: Countersink, title: "Countersinking", machines: drilled,
		speed: rule{Drill, 1, "somta"}, feed: rule{Drill, 0.5, noSource},
		chip: chip{
			formula: "pi*(D^2 - d^2)*f/4",
			volume:  func(c cut) float64 { return math.Pi * (c.D*c.D - c.d*c.d) * c.f / 4 },
		},
		toPoint: true, midway: true, clamped: true,
	},
	{
		op: Mill, title: "Milling", machines: []shop.Machine{shop.OnMill},
		chip: chip{
			formula: "a*w*f", deepest: 1,
			section: func(c cut) float64 { return c.a * c.w * c.f / (math.Pi * c.D) },
			volume:  func(c cut) float64 { return c.a * c.w * c.f },
		},
		size: sizes{width: half}, cautions: []say.Text{cautions.WheelRating}, along: true,
	},
	{op: Saw, title: "Sawing"},
	{
		op: Grind, title: "Belt grinding", machines: []shop.Machine{shop.OnBeltGrinder},
		cautions: []say.Text{cautions.WheelRating, cautions.GrindDust}, slowed: "a smaller drive wheel is what slows a belt",
	},
}

// blade returns the width of a parting blade: the shop's, else by the bar.
func blade(in Input) (units.Length, say.Text) {
	if in.Blade != nil {
		return *in.Blade, ""
	}
	w := practice.PartingBlade.Length(in.Diameter)
	return w, say.Of("a blade ", w, " wide")
}

// half returns the width of a milling cut.
func half(in Input) (units.Length, say.Text) {
	w := practice.MillWidth.Of(in.Diameter)
	return w, say.Of(w, " wide, ", say.Num(practice.MillWidth.Number(), 2), " of the cutter")
}

// allowance returns what a reamer takes, a side.
func allowance(in Input) (units.Length, say.Text) {
	left := practice.ReamAllowance.Length(in.Diameter)
	return left.Half(), say.Of(left, " left on the diameter for the reamer")
}

// Operations lists the operations.
func Operations() []Operation {
	list := make([]Operation, len(operations))
	for i, f := range operations {
		list[i] = f.op
	}
	return list
}

// facts returns what is known of an operation, and nothing of any other word.
func (op Operation) facts() facts {
	if i := slices.Index(Operations(), op); i >= 0 {
		return operations[i]
	}
	return facts{op: op}
}

// lathe reports whether an operation is usually done on the lathe.
func (f facts) lathe() bool {
	return slices.Contains(f.machines[:min(1, len(f.machines))], shop.OnLathe)
}

// Tool is what the cutting edge is made of.
type Tool string

// The tools.
const (
	HSS     Tool = "hss"
	Carbide Tool = "carbide"
	Carbon  Tool = "carbon"
)

// tools says how fast each runs beside high-speed steel where nothing better
// is known. The source for carbide says at least twice; that for carbon steel
// gives it for drills.
var tools = []struct {
	tool   Tool
	factor float64
	source string
}{
	{HSS, 1, ""},
	{Carbide, 2, "lab-sheet-carbide"},
	{Carbon, 0.5, "navedtra-14345"},
}

// Tools lists them.
func Tools() []Tool {
	list := make([]Tool, len(tools))
	for i, t := range tools {
		list[i] = t.tool
	}
	return list
}

// Machines lists the machines an operation may be asked for on.
func Machines() []shop.Machine {
	return []shop.Machine{shop.OnLathe, shop.OnMill, shop.OnDrillPress}
}

// MachinesFor returns the machines for an operation, the usual one first; a
// machine that was asked for stands alone. Sawing has none in a shop file.
func MachinesFor(op Operation, asked shop.Machine) []shop.Machine {
	if asked != "" {
		return []shop.Machine{asked}
	}
	return op.facts().machines
}
