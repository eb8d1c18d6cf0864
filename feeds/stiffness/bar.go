// Package stiffness says how far work bends away from the tool, what taper that
// leaves, and how fast a bar may turn before it whips.
//
// The bar is round and may be stepped and tapered: its outside is given by
// stations, straight between them. The deflection under the tool comes from
// the unit-load integral
//
//	y(a) = F·∫ m(z)²/(E·I(z)) dz,    I = π·d⁴/64
//
// with m the bending moment of a force of 1 at the tool. The integral is taken
// numerically (Gauss-Legendre, eight points in each of sixteen parts of every
// stretch), good to 9 figures for a bar that does not shrink to less than a
// twentieth along one stretch. The chuck and the centres are taken as stiff:
// the real machine gives way more.
//
// Source: beam theory, S. P. Timoshenko; the closed forms it is tested
// against stand in the tests with theirs.
package stiffness

import (
	"math"
	"slices"

	"setover/setup/base/units"
)

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
// Stations run from z = 0 to the end; two at one z make a shoulder.
type Bar struct {
	Stations []Station
	Modulus  float64
	Density  float64
	Support  Support
}

// length returns the length of the bar in mm.
func (b Bar) length() float64 { return b.Stations[len(b.Stations)-1].Z.MM() }

// dia returns the diameter at z in mm; on a shoulder that of the left side.
func (b Bar) dia(z float64) float64 {
	for i := 1; i < len(b.Stations); i++ {
		p, q := b.Stations[i-1], b.Stations[i]
		if zq := q.Z.MM(); z <= zq && p.Z.MM() < zq {
			t := (z - p.Z.MM()) / (zq - p.Z.MM())
			return p.Dia.MM() + t*(q.Dia.MM()-p.Dia.MM())
		}
	}
	return b.Stations[len(b.Stations)-1].Dia.MM()
}

// stiff returns E·I at z, in N.mm2: E in GPa is 1000 N/mm2.
func (b Bar) stiff(z float64) float64 {
	return b.Modulus * 1000 * math.Pi * math.Pow(b.dia(z), 4) / 64
}

// The eight-point Gauss-Legendre rule on -1 to 1, by symmetry.
var (
	gaussAt     = [4]float64{0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363}
	gaussWeight = [4]float64{0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}
)

// grid is the points of the rule over a bar, with each weight already over
// E·I there.
type grid struct{ z, weight []float64 }

// grid returns the rule's points on every stretch between the stations and the
// places at, each cut into parts.
func (b Bar) grid(parts int, at ...float64) grid {
	cuts := append([]float64{}, at...)
	for _, s := range b.Stations {
		cuts = append(cuts, s.Z.MM())
	}
	slices.Sort(cuts)
	var g grid
	for i := 1; i < len(cuts); i++ {
		h := (cuts[i] - cuts[i-1]) / float64(parts)
		if h <= 0 {
			continue
		}
		for k := range parts {
			mid := cuts[i-1] + (float64(k)+0.5)*h
			for j, x := range gaussAt {
				for _, z := range []float64{mid - x*h/2, mid + x*h/2} {
					g.z = append(g.z, z)
					g.weight = append(g.weight, gaussWeight[j]*h/2/b.stiff(z))
				}
			}
		}
	}
	return g
}

// moment returns the bending moment at z of a force of 1 at a, with no
// support at the far end of a chucked bar.
func (b Bar) moment(z, a float64) float64 {
	if b.Support == Between {
		l := b.length()
		if z < a {
			return z * (l - a) / l
		}
		return a * (l - z) / l
	}
	return math.Max(0, a-z)
}

// primary returns how far the bar gives way at a, in mm, for each N at c, with
// no support at the far end of a chucked bar.
func (b Bar) primary(g grid, a, c float64) float64 {
	sum := 0.0
	for k, z := range g.z {
		sum += g.weight[k] * b.moment(z, a) * b.moment(z, c)
	}
	return sum
}

// influence returns how far the bar gives way at each place for a force of 1 N
// at each other, in mm.
//
// With a centre the bar is held at one place too many: the centre's force R
// follows from there being no deflection at it, R·y(L, L) = F·y(L, c).
func (b Bar) influence(parts int, at ...float64) [][]float64 {
	g, l := b.grid(parts, at...), b.length()
	end, toEnd := 1.0, make([]float64, len(at))
	if b.Support == Centre {
		end = b.primary(g, l, l)
		for i, z := range at {
			toEnd[i] = b.primary(g, l, z)
		}
	}
	y := make([][]float64, len(at))
	for i := range at {
		y[i] = make([]float64, len(at))
		for j := range i + 1 {
			y[i][j] = b.primary(g, at[i], at[j]) - toEnd[i]*toEnd[j]/end
			y[j][i] = y[i][j]
		}
	}
	return y
}

// Deflection returns how far the bar gives way under a force at z, both square
// to the axis:
//
//	y = F·∫ m²/(E·I) dz
//
// force is in N; z is from 0 to the length. Good to 1e-9 of its value, with
// supports that do not give.
//
// Source: the unit-load method, in any strength of materials; A. C. Ugural,
// Mechanical Design of Machine Components, example 9.6 for a stepped shaft.
func (b Bar) Deflection(force float64, z units.Length) units.Length {
	return units.FromFloat(force * b.influence(stretchParts, z.MM())[0][0])
}

// stretchParts is into how many pieces each stretch is cut for a deflection.
const stretchParts = 16

// lumps is how many masses stand for the bar when it whirls.
const lumps = 48

// Whirling returns the first critical speed of the bar turning by itself, in
// rev/min: the speed of its lowest bending vibration,
//
//	n = 60/(2·π·√λ)
//
// with λ the largest eigenvalue of influence times mass, found by repeated
// multiplication on 48 masses. It is within 0.1 % of beam theory for a plain
// bar; a density of 0 has none and returns infinity.
//
// Source: the method of A. Stodola; the constants for plain bars (3.516,
// 15.42, 9.870) are in S. P. Timoshenko, Vibration Problems in Engineering.
func (b Bar) Whirling() float64 {
	h := b.length() / lumps
	at, mass := make([]float64, lumps), make([]float64, lumps)
	for i := range lumps {
		at[i] = (float64(i) + 0.5) * h
		d := b.dia(at[i]) / 1000
		mass[i] = b.Density * math.Pi * d * d / 4 * h / 1000 // kg
	}
	y := b.influence(1, at...)
	shape := slices.Repeat([]float64{1}, lumps)
	lambda := 0.0
	for range 60 {
		next := make([]float64, lumps)
		for i := range lumps {
			for j := range lumps {
				next[i] += y[i][j] / 1000 * mass[j] * shape[j] // m/N times kg
			}
		}
		lambda = slices.Max(next)
		for i := range next {
			shape[i] = next[i] / lambda
		}
	}
	return 60 / (2 * math.Pi * math.Sqrt(lambda))
}
