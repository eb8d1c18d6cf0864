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
