package op

import (
	"math"
	"math/big"

	"github.com/shopspring/decimal"

	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
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

// Len is a length in millionths of a millimetre and Deg an angle in millionths
// of a degree: unlike a units.Length they can be compared as they stand, so
// that set-ups can.
type (
	Len int64
	Deg int64
)

// LenOf returns l to the nearest millionth of a millimetre.
func LenOf(l units.Length) Len { return Len(l.Decimal().Shift(6).Round(0).IntPart()) }

// Length returns l as a length.
func (l Len) Length() units.Length { return units.FromDecimal(decimal.New(int64(l), -6)) }

// DegOf returns a to the nearest millionth of a degree.
func DegOf(a units.Angle) Deg { return Deg(math.Round(a.Deg() * 1e6)) }

// Angle returns d as an angle.
func (d Deg) Angle() units.Angle { return units.Degrees(float64(d) / 1e6) }

// Device is what holds the work.
type Device string

// The devices.
const (
	Chuck        Device = "chuck"
	Centres      Device = "between centres"
	VBlocks      Device = "V-blocks"
	DividingHead Device = "dividing head"
	ColletBlock  Device = "collet block"
	Vice         Device = "vice"
	Cradle       Device = "cradle"
	Hand         Device = "by hand"
)

// devices says of each device whether it finds the axis by itself, and the roll
// by its datum, so that taking the work out and putting it back in loses nothing
// (a chuck does not run true again: common practice, no source), and the minutes
// it takes to put up.
var devices = map[Device]struct {
	findsAxis bool
	minutes   func() float64
}{
	Chuck:        {false, practice.RechuckMinutes.Number},
	Centres:      {true, practice.RechuckMinutes.Number},
	VBlocks:      {true, practice.VblockMinutes.Number},
	DividingHead: {false, practice.DividingMinutes.Number},
	ColletBlock:  {false, practice.RechuckMinutes.Number},
	Vice:         {false, practice.RechuckMinutes.Number},
	Cradle:       {false, practice.RechuckMinutes.Number},
	Hand:         {false, practice.RechuckMinutes.Number},
}

// Minutes returns how long it takes to put the work in.
func (d Device) Minutes() float64 { return devices[d].minutes() }

// Stage is how far a surface has come.
type Stage int

// The stages.
const (
	Bought Stage = iota
	Finished
)

// Shape is what kind of surface work is held on.
type Shape int

// The shapes. A block has faces.
const (
	NoSurface Shape = iota
	Bar
	Cylinder
	Cone
	CentreHoles
	Faces
	Sides
	EndFaces
	BaseAndTop
)

// Surface is a surface of the work, by value: where it lies along z and its
// diameter, its large one, where it is one of the part's own.
type Surface struct {
	Shape         Shape
	From, To, Dia Len
	Stage         Stage
}

// Stock is the bar as it was bought.
var Stock = Surface{Shape: Bar}

// SurfaceOf returns a finished surface of the part.
func SurfaceOf(shape Shape, span Span, dia units.Length) Surface {
	return Surface{shape, LenOf(span.From), LenOf(span.To), LenOf(dia), Finished}
}

// Up is which face of a block is up in the vice.
type Up int

// The faces.
const (
	FirstUp Up = iota + 1
	SideUp
	EndUp
	TopUp
)

// State is what is special about a set-up; the zero State is nothing. An angle
// of 0 is one that is set, too, so a flag says that it is.
type State struct {
	Rolled, Swung, Tilted bool
	Roll                  Deg  // of the bar
	Compound              Deg  // half angle, above 0 where the compound is swung clockwise
	Offset                Len  // of the tailstock, above 0 toward the operator
	Tilt, TiltY           Deg  // of the work, and then along y
	Lead                  Lead // the lathe is geared for
	Up                    Up
	Shim                  bool // a shim lies under the small end's V-block
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

// Setup is how the work stands: two operations share a set-up when all of it is
// equal.
type Setup struct {
	Machine shop.Machine
	Device  Device
	On      Surface
	Out     part.End // the end that stands out
	Centre  bool     // a centre holds that end
	State   State
}

// Grip is what changes when the work is taken out and put back.
type Grip struct {
	Machine shop.Machine
	Device  Device
	On      Surface
	Out     part.End
}

// Grip returns the set-up without its state and its centre.
func (s Setup) Grip() Grip { return Grip{s.Machine, s.Device, s.On, s.Out} }

// Plain returns the set-up without its centre.
func (s Setup) Plain() Setup {
	s.Centre = false
	return s
}

// RunsTrue reports whether taking this grip loses neither axis nor roll.
func (s Setup) RunsTrue() bool { return devices[s.Device].findsAxis }
