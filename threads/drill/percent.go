package drill

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/threads"
)

// Full depths of a 60° thread on the diameter, per unit of pitch.
const (
	sharp = 1.299038105676657970 // 3√3/4, the inch charts' 100 %
	iso   = 1.082531754730548308 // 5√3/8, ISO 68-1
)

// forming is the height a forming tap raises per percent and unit of pitch:
// hole = d - 0.0068·%·P. Source: tap makers' rule, from memory.
const forming = 0.0068

// sixty reports whether a thread has the two bases of 60° threads.
func sixty(d threads.Designation) bool { return d.Form == threads.Metric || d.Form == threads.Unified }

// full returns what 100 % takes off the major diameter: 1.299038 P for a 60°
// thread, twice its own depth for any other.
func full(d threads.Designation) units.Length {
	if sixty(d) {
		return d.Pitch.Length(sharp)
	}
	return d.Major.Minus(d.Sizes().MinorInternal)
}

// Hole returns the hole that gives a percentage of thread:
//
//	hole = d - %/100·1.299038·P    for 60° threads
//	hole = d - %/100·(d - D1)      for the others
//
// percent is above 0. A taper thread has none; see Target.
//
// Source: Machinery's Handbook, tap drills; the percentages of its table 2 are
// checked in the tests.
func Hole(d threads.Designation, percent float64) units.Length {
	return d.Major.Minus(units.FromFloat(percent / 100 * full(d).MM()))
}

// Percent returns the percentage of thread in a hole, 100·(d - hole)/full.
func Percent(d threads.Designation, hole units.Length) float64 {
	if sixty(d) {
		return 100 * d.Major.Minus(hole).MM() / (sharp * d.Pitch.MM())
	}
	return 100 * d.Major.Minus(hole).Over(full(d))
}

// PercentISO is Percent on the base of ISO 68-1, 100 % = 1.082532 P.
func PercentISO(d threads.Designation, hole units.Length) float64 {
	return 100 * d.Major.Minus(hole).MM() / (iso * d.Pitch.MM())
}

// FormingHole returns the hole for a forming tap, d - 0.0068·%·P.
func FormingHole(d threads.Designation, percent float64) units.Length {
	return d.Major.Minus(d.Pitch.Length(forming * percent))
}

// FormingPercent returns the percentage a forming tap raises in a hole.
func FormingPercent(d threads.Designation, hole units.Length) float64 {
	return d.Major.Minus(hole).MM() / (forming * d.Pitch.MM())
}

// Aim is a percentage of thread to aim at and why. (Common practice, no
// source; DEFAULTS of the shop.)
type Aim struct {
	Percent float64
	Because string
}

// Target returns the percentage to aim at: the middle of the material's range,
// 70 without one; at most 60 under 3 mm; 7.5 less where the thread is engaged
// deeper than 1.5 times its diameter. Trapezoidal and ACME nuts are bored to
// their minor diameter, 100 %. depth may be nil. Taper threads have none: ok
// is false.
func Target(d threads.Designation, m *materials.Material, depth *units.Length) (aim Aim, ok bool) {
	switch d.Form {
	case threads.TaperR, threads.NPT:
		return Aim{}, false
	case threads.Trapezoidal, threads.Acme:
		return Aim{100, "the nut of this form is bored to its minor diameter"}, true
	}
	aim = Aim{70, "no material said"}
	if m != nil {
		p, why := ofMaterial(m)
		aim = Aim{p, fmt.Sprintf("%s: %s", m.Title, why)}
	}
	if d.Major.Cmp(units.Millimetres(3)) < 0 && aim.Percent > 60 {
		aim = Aim{60, "under 3 mm: 60, so that the tap does not break"}
	}
	if depth != nil && depth.Cmp(units.FromFloat(1.5*d.Major.MM())) > 0 {
		aim.Percent -= 7.5
		aim.Because += "; deeper than 1.5 d: 5 to 10 less"
	}
	return aim, true
}

// ofMaterial returns the middle of a material's range.
func ofMaterial(m *materials.Material) (percent float64, why string) {
	switch m.Name {
	case "annealed-tool-steel", "silver-steel", "pattern-welded-steel", "hardened-steel":
		return 57.5, "55 to 60"
	}
	switch m.Group {
	case materials.Stainless, materials.Titanium:
		return 57.5, "55 to 60"
	case materials.Steel:
		return 65, "65"
	case materials.Plastic, materials.Laminate, materials.Wood:
		return 75, "75, coarse threads only"
	}
	return 72.5, "70 to 75"
}

// coarseOnly reports whether a material holds coarse threads only.
func coarseOnly(m *materials.Material) bool {
	return m != nil && (m.Group == materials.Plastic || m.Group == materials.Laminate || m.Group == materials.Wood)
}

// coarse reports whether a thread is its diameter's coarse one.
func coarse(d threads.Designation) bool {
	return d.Series == "coarse" || d.Series == "UNC" || d.Series == "BSW" || d.Series == "BA"
}

// oversize is how much larger than itself a twist drill cuts, in mm: handbook
// means, from memory.
var oversize = [][2]float64{{0, 0}, {1.6, 0.04}, {3.2, 0.08}, {6.4, 0.10}, {12.7, 0.13}}

// Cuts returns the hole a drill really makes: larger by 0.04 mm at 1.6 mm,
// 0.08 at 3.2, 0.10 at 6.4 and 0.13 from 12.7 mm, between them in proportion;
// acetal and nylon close in by 0.05. m may be nil.
//
// Source: handbook means, from memory.
func Cuts(drill units.Length, m *materials.Material) units.Length {
	if m != nil && (m.Name == "acetal" || m.Name == "nylon") {
		return drill.Minus(units.MustLength("0.05mm"))
	}
	return drill.Plus(units.FromFloat(interpolate(oversize, drill.MM())).RoundTo(units.MustLength("0.001mm"), units.Nearest))
}

// interpolate returns the value of a rising table at x; beyond its end the
// last value holds.
func interpolate(table [][2]float64, x float64) float64 {
	for i := 1; i < len(table); i++ {
		if a, b := table[i-1], table[i]; x < b[0] {
			return a[1] + (x-a[0])/(b[0]-a[0])*(b[1]-a[1])
		}
	}
	return table[len(table)-1][1]
}

// point is the length of a 118° point per unit of diameter: 1/(2·tan 59°).
const point = 0.300430309513780

// Tap is how long a tap's lead is: its first, unfinished threads.
type Tap string

// The taps.
const (
	TaperTap     Tap = "taper"
	PlugTap      Tap = "plug"
	BottomingTap Tap = "bottoming"
)

// Taps lists the taps.
func Taps() []string { return []string{string(TaperTap), string(PlugTap), string(BottomingTap)} }

// Lead returns the length of a tap's lead: 8 P taper, 4 P plug, 2 P bottoming.
//
// Source: common practice, no source.
func (t Tap) Lead(p units.Pitch) units.Length {
	n := map[Tap]int64{TaperTap: 8, PlugTap: 4, BottomingTap: 2}[t]
	return p.Times(n).Length(1)
}
