// Package shop is what stands in the workshop: the machines, their slides,
// dials and scales, and the tools in the drawer. Each instrument knows the
// nearest thing it can be set to.
//
// An instrument that is nil or empty is not owned. Calculators take the
// instrument they need, never the whole shop, and say what was not checked.
package shop

import (
	"setover/setup/base/units"
	"setover/setup/maker/part"
)

// Setting is what was asked of an instrument, what it can be set to, what that
// loses (set minus exact), and what the hand looks for.
type Setting[T any] struct {
	Exact, Set, Lost T
	Mark             string
}

// Shop is one workshop.
type Shop struct {
	Name    string
	From    string     // the file it was read from, or "built in"
	Hash    string     // the first digits of the file's SHA-256, for the foot of a page
	Units   units.Unit // what its bare numbers are
	Display units.Unit // how lengths are shown when the command does not say

	Lathe        *Lathe
	Mill         *Mill
	DrillPress   *DrillPress
	BeltGrinder  *BeltGrinder
	DividingHead *DividingHead
	RotaryTable  *RotaryTable
	VBlocks      *VBlocks
	SineBar      *units.Length
	GaugeBlocks  *GaugeBlocks
	Drills       Drawer
	Reamers      []units.Length
	Taps, Dies   []string // thread designations as written
	CentreDrills []units.Length
	Parting      *Parting
	BoringBars   []BoringBar
	ColletBlocks []int // sides: 4, 6
	Stock        []Bar // bars on hand
}

// Lathe is a centre lathe.
type Lathe struct {
	Spindle        *Spindle
	Motor          *units.Power
	SpindleBore    *units.Length // what passes through it
	BetweenCentres *units.Length
	SwingOverBed   *units.Length // largest diameter over the bed
	SwingOverSlide *units.Length // largest diameter over the cross slide
	Chuck          *Chuck
	FourJaw        *Chuck // a four-jaw with independent jaws
	SoftJaws       bool   // jaws that are bored to fit the work
	Mandrels       []units.Length
	CentreNose     *units.Length  // the widest mouth the centre's cone holds
	Collets        []units.Length // sizes; empty when a name was given
	ColletName     string         // "ER32"
	CrossSlide     *Dial
	Carriage       *Dial // the handwheel's dial along the bed
	Compound       *Compound
	ToolPost       *ToolPost
	Tools          []Tool
	Tailstock      *Tailstock
	Leadscrew      *units.Pitch
	StudRatio      *int64 // turns of the spindle to one of the stud
	BanjoClearance *int64 // teeth
	ChangeGears    []int
	ThreadDial     *ThreadDial
	Steady         *Range
	PowerFeed      bool
	Readout        bool
}

// Chuck is a scroll chuck or a four-jaw.
type Chuck struct {
	Diameter  units.Length
	Jaws      int
	JawLength *units.Length // how far the jaws stand out of the body
	JawCircle *units.Length // circle the jaws sweep as gripped
	Range     *Range        // diameters it grips
	Through   *units.Length // diameter of the hole through it
	MaxRPM    *units.SpindleSpeed
}

// ToolPost is a square post with its holder: Overhang is the tip beyond the
// post's front face.
type ToolPost struct {
	Size, HolderWidth, Overhang units.Length
}

// Tool is a turning tool: the hand it cuts toward and its trailing edge's
// angle from the work.
type Tool struct {
	Hand  string // right or left
	Trail units.Angle
}

// Tailstock carries the centre.
type Tailstock struct {
	Toward, Away *units.Length // setover either way
	Taper        string        // of its barrel: "MT2"
	Barrel       *units.Length // diameter
	BarrelOut    *units.Length
	BodyWidth    *units.Length
	BodyBelow    *units.Length // how far the body reaches under the axis
}

// ThreadDial is the threading dial: the gears it can carry and its marks.
type ThreadDial struct {
	Gears []int
	Marks int
}

// Range is a span of sizes, both ends included.
type Range struct{ From, To units.Length }

// Mill is a bench or knee mill.
type Mill struct {
	Spindle *Spindle
	Motor   *units.Power
	Table   *Dial

	PowerFeed, Readout bool
}

// DrillPress is a bench or pillar drill.
type DrillPress struct {
	Spindle   *Spindle
	Motor     *units.Power
	PowerFeed bool
}

// BeltGrinder is a belt grinder's drive wheel, and how wide the belt is.
type BeltGrinder struct {
	Wheel units.Length
	RPM   units.SpindleSpeed
	Width *units.Length
}

// DividingHead is a worm head with hole plates.
type DividingHead struct {
	Ratio  int
	Plates [][]int
}

// RotaryTable is a worm table: Ratio turns of the handwheel to one of the
// table.
type RotaryTable struct{ Ratio int }

// VBlocks is a V-block or a pair. Apex is the height of the sharp point the
// faces would meet in above the base; Relief the width of the slot at the
// bottom.
type VBlocks struct {
	Angle                 units.Angle
	Apex, Opening, Relief *units.Length
	Pair                  bool
}

// GaugeBlocks is a set by name or by its pieces.
type GaugeBlocks struct {
	Set    string
	Pieces []units.Length
}

// Parting is what bars are parted off with: the width of the blade, the largest
// diameter that is parted with it, and how deep it reaches.
type Parting struct {
	Blade       units.Length
	Most, Reach *units.Length
}

// Bar is a bar on hand.
type Bar struct {
	part.Stock
	Material string        // a material's name
	Length   *units.Length // nil: not known
}

// BoringBar is a boring bar: its diameter and how deep it reaches.
type BoringBar struct{ Diameter, Reach units.Length }
