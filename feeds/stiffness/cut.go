package stiffness

import (
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
)

// CuttingForce returns the main force of a turning cut in N, and the part of it
// that pushes the work away from the tool:
//
//	Fc = kc(h)·a·f    Fp = 0.5·Fc
//
// a is the depth a side and f the feed, in mm and above 0. The chip is taken
// as thick as the feed, h = f, as a tool leaves it whose edge is square to the
// axis. In parting and grooving a is the width of the blade.
//
// Source: Mitsubishi Materials, cutting power for turning (Fc = ap·f·Kc); the
// part is the practice row radial-part.
func CuttingForce(m *materials.Material, depth units.Length, feed units.Feed) (cutting, radial units.Number) {
	const newtons = 1000 // N/mm2 in a W.s/mm3
	cutting = units.Number(newtons * m.ChipEnergy(feed.MM()) * depth.MM() * feed.MM())
	return cutting, cutting * units.Number(practice.RadialPart.Number())
}

// SideForce returns the force in N that facing, centring and drilling push the
// work aside with.
func SideForce() units.Number { return units.Number(practice.SideForce.Number()) }

// Cut is what a cut is for, which says how far the work may spring from it.
type Cut string

// The cuts.
const (
	Roughing  Cut = "roughing"
	Finishing Cut = "finishing"
	Endwise   Cut = "endwise" // facing, centring and drilling
)

// MostSpring returns how far the work may give way under a cut. limits is the
// width of the limits of what a finishing cut makes, on the diameter, where
// twice the spring is to keep within a part of it; the other cuts have a
// figure of their own.
func (c Cut) MostSpring(limits units.Length) units.Length {
	switch c {
	case Finishing:
		return practice.SpringFinish.Of(limits).Half()
	case Roughing:
		return practice.SpringRough.Length()
	}
	return practice.SpringAside.Length()
}

// StandsTooFar reports whether the work stands out further than it may beyond
// the last thing that carries it, and the most diameters that it may.
func (b *Beam) StandsTooFar() (too bool, most float64) {
	most = practice.StandOut.Number()
	return b.Free() > most*(1+1e-9), most
}
