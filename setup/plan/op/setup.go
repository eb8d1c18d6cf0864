package op

import (
	"math/big"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/work"
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

// Len and Deg are those of the work: unlike a units.Length they can be compared
// as they stand, so that set-ups can.
type (
	Len = work.Len
	Deg = work.Deg
)

// LenOf returns a length to the nearest millionth of a millimetre.
func LenOf(l units.Length) Len { return work.LenOf(l) }

// DegOf returns an angle to the nearest millionth of a degree.
func DegOf(a units.Angle) Deg { return work.DegOf(a) }

// Device is what holds the work.
type Device string

// The devices.
const (
	Chuck        Device = "chuck"
	FourJaw      Device = "four-jaw"
	SoftJaws     Device = "soft-jaws"
	Collet       Device = "collet"
	Centres      Device = "between-centres"
	Mandrel      Device = "mandrel"
	Arbor        Device = "arbor"
	ThreadedStub Device = "threaded-stub"
	SplitNut     Device = "split-nut"
	VBlocks      Device = "v-blocks"
	Vice         Device = "vice"
	ColletBlock  Device = "collet-block"
	DividingHead Device = "dividing-head"
	RotaryTable  Device = "rotary-table"
	Cradle       Device = "cradle"
	ByHand       Device = "hand"
)

// devices says of each device what a card calls it, whether it finds the axis by
// itself, and the roll by its datum, so that taking the work out and putting it
// back in loses nothing (a chuck does not run true again: common practice, no
// source), whether it spares a finished surface, and the minutes it takes to put
// up.
var devices = map[Device]struct {
	words     say.Text
	findsAxis bool
	spares    bool
	minutes   func() float64
}{
	Chuck:        {"chuck", false, false, practice.RechuckMinutes.Number},
	FourJaw:      {"four-jaw chuck", false, false, practice.RechuckMinutes.Number},
	SoftJaws:     {"soft jaws bored for it", true, true, practice.RechuckMinutes.Number},
	Collet:       {"collet", true, true, practice.RechuckMinutes.Number},
	Centres:      {"between centres", true, true, practice.RechuckMinutes.Number},
	Mandrel:      {"mandrel", true, true, practice.RechuckMinutes.Number},
	Arbor:        {"arbor turned for it", true, true, practice.ArborMinutes.Number},
	ThreadedStub: {"threaded stub turned for it", true, true, practice.RechuckMinutes.Number},
	SplitNut:     {"split nut turned for it", true, true, practice.NutMinutes.Number},
	VBlocks:      {"V-blocks", true, true, practice.VblockMinutes.Number},
	Vice:         {"vice", false, false, practice.RechuckMinutes.Number},
	ColletBlock:  {"collet block", true, true, practice.RechuckMinutes.Number},
	DividingHead: {"dividing head", true, false, practice.DividingMinutes.Number},
	RotaryTable:  {"rotary table", false, false, practice.DividingMinutes.Number},
	Cradle:       {"cradle", false, true, practice.RechuckMinutes.Number},
	ByHand:       {"by hand", false, true, practice.RechuckMinutes.Number},
}

// Minutes returns how long it takes to put the work in.
func (d Device) Minutes() float64 { return devices[d].minutes() }

// Spares reports whether it leaves a finished surface as it is.
func (d Device) Spares() bool { return devices[d].spares }

// Jaws reports whether it grips the outside from a face, along a length.
func (d Device) Jaws() bool {
	switch d {
	case Chuck, FourJaw, SoftJaws, Collet, SplitNut, ColletBlock, DividingHead, RotaryTable:
		return true
	}
	return false
}

// Words implements say.Quantity.
func (d Device) Words() (mm, inch string) { return devices[d].words.Words() }

// Shape is what kind of surface work is held on.
type Shape int

// The shapes. A block has faces.
const (
	NoSurface Shape = iota
	Bar
	Cylinder
	Hole // a bore
	Cone
	CentreHoles
	Faces
	Sides
	EndFaces
	BaseAndTop
	Polygon // its flats
)

// Surface is a surface of the work, by value: where it lies along z and its
// diameter, its large one, where it is one of the part's own.
type Surface struct {
	Shape         Shape
	From, To, Dia Len
	Stage         work.Stage
}

// Stock is the bar as it was bought.
var Stock = Surface{Shape: Bar}

// SurfaceOf returns a finished surface of the part.
func SurfaceOf(shape Shape, span Span, dia units.Length) Surface {
	return Surface{shape, LenOf(span.From), LenOf(span.To), LenOf(dia), work.Finished}
}

// State is what is special about a set-up; the zero State is nothing. An angle
// of 0 is one that is set, too, so a flag says that it is.
type State struct {
	Rolled, Swung, Tilted bool
	Roll                  Deg       // of the bar
	Compound              Deg       // half angle, above 0 where the compound is swung clockwise
	Offset                Len       // of the tailstock, above 0 toward the operator
	Tilt, TiltY           Deg       // of the work, and then along y
	Lead                  Lead      // the lathe is geared for
	Up, Fixed             part.Face // of a block: which is up, and which against the fixed jaw
	Shim                  bool      // a shim lies under the small end's V-block
}

// Lead is a thread's lead in millimetres as a fraction, and whether it is
// spoken of by the inch.
type Lead struct {
	Over, Under int64
	Inch        bool
}

// LeadOf returns the lead of a thread.
func LeadOf(p units.Pitch) Lead {
	r := p.Rat()
	return Lead{r.Num().Int64(), r.Denom().Int64(), p.IsInch()}
}

// Pitch returns the lead as it was written.
func (l Lead) Pitch() units.Pitch {
	p := units.PitchOf(big.NewRat(l.Over, l.Under))
	if l.Inch {
		return units.PerInch(p.TPI())
	}
	return p
}

// Support is what holds the end that stands out.
type Support string

// The supports.
const (
	NoSupport Support = ""
	AtCentre  Support = "centre"
	AtMouth   Support = "bore-mouth"
	AtSteady  Support = "steady"
)

// Setup is how the work stands: two operations share a set-up when all of it is
// equal. Held is where it is gripped along z; on a device with jaws their face
// is the end of it that lies toward the end that stands out. Steady is where the
// middle of a steady stands; 0 is on the outermost cylinder that it can.
type Setup struct {
	Machine shop.Machine
	Device  Device
	On      Surface
	Held    work.Span
	Out     part.End // the end that stands out
	Support Support  // of that end
	Steady  Len
	State   State
}

// Grip is what changes when the work is taken out and put back.
type Grip struct {
	Machine shop.Machine
	Device  Device
	On      Surface
	Held    work.Span
	Out     part.End

	Up, Fixed part.Face // of a block
	Tilted    bool
}

// Grip returns the set-up without its state, but for how a block lies, and without its
// support.
func (s Setup) Grip() Grip {
	lies := s.State.Up != part.NoFace
	return Grip{s.Machine, s.Device, s.On, s.Held, s.Out, s.State.Up, s.State.Fixed, lies && s.State.Tilted}
}

// Upright reports whether a block is stood up by a square: on its sawn right end, its left
// up.
func (s State) Upright() bool { return s.Up == part.LeftF }

// Plain returns the set-up without its support.
func (s Setup) Plain() Setup {
	s.Support, s.Steady = NoSupport, 0
	return s
}

// Steadied returns the set-up with a steady in the place of its support.
func (s Setup) Steadied(middle Len) Setup {
	s.Support, s.Steady = AtSteady, middle
	return s
}

// SteadyLand returns what a steady's fingers run on.
func SteadyLand(s Setup) work.Span {
	half := LenOf(practice.SteadyLand.Length()) / 2
	return work.Span{From: s.Steady - half, To: s.Steady + half}
}

// RunsTrue reports whether taking this grip loses neither axis nor roll.
func (s Setup) RunsTrue() bool { return devices[s.Device].findsAxis }

// Face returns the z of the jaws' face.
func (s Setup) Face() Len {
	if s.Out == part.Right {
		return s.Held.To
	}
	return s.Held.From
}
