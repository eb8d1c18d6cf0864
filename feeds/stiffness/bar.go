// Package stiffness says how far work bends away from the tool, what taper that
// leaves, and how fast a bar may turn before it whips.
//
// The work is round and may be stepped, tapered and bored: a Beam, built in at
// the jaws or between centres, carried by centres and steadies. The deflection
// under the tool comes from the unit-load integral
//
//	y(a) = F·∫ m(z)²/(E·I(z)) dz,    I = π·(D⁴ - d⁴)/64
//
// with m the bending moment of a force of 1 at the tool. Chuck, centres and
// steadies are taken as stiff: the real machine gives way more.
//
// Source: beam theory, S. P. Timoshenko; the closed forms it is tested
// against stand in the tests with theirs.
package stiffness

import "setover/setup/base/units"

// Support is how the bar is held.
type Support string

// The supports. z = 0 is at the chuck or the first centre.
const (
	Chuck   Support = "chuck"   // in a chuck, the other end free
	Centre  Support = "centre"  // in a chuck, the other end on a centre
	Between Support = "between" // between centres
)

// Supports lists them.
func Supports() []Support { return []Support{Chuck, Centre, Between} }

// Station is a place on the bar and the diameter there.
type Station struct {
	Z   units.Length `json:"z_mm"`
	Dia units.Length `json:"dia_mm"`
}

// Bar is a bar in its support. Modulus is in GPa and Density in kg/m3.
// Stations run from z = 0 to the end; two at one z make a shoulder. Bore goes
// right through it, 0 where there is none; Steadies are the places of steadies.
type Bar struct {
	Stations []Station
	Bore     units.Length
	Steadies []units.Length
	Modulus  float64
	Density  float64
	Support  Support
}

// layout returns the bar as the sections between its stations.
func (b Bar) layout() Layout {
	w := Layout{Modulus: b.Modulus, Between: b.Support == Between}
	for i := 1; i < len(b.Stations); i++ {
		p, q := b.Stations[i-1], b.Stations[i]
		if from, to := p.Z.MM(), q.Z.MM(); from < to {
			w.Sections = append(w.Sections, Section{
				From: from, To: to, DiaFrom: p.Dia.MM(), DiaTo: q.Dia.MM(), BoreFrom: b.Bore.MM(), BoreTo: b.Bore.MM(),
			})
		}
	}
	for _, z := range b.Steadies {
		w.Supports = append(w.Supports, z.MM())
	}
	if b.Support != Chuck {
		w.Supports = append(w.Supports, b.Stations[len(b.Stations)-1].Z.MM())
	}
	return w
}

// Beam makes the bar ready. It fails as that of a Layout does.
func (b Bar) Beam() (*Beam, error) { return b.layout().Beam() }
