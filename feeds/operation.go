package feeds

import (
	"fmt"
	"math"
	"slices"

	"setover/setup/base/units"
	"setover/setup/book/materials"
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

// Operations lists them.
func Operations() []Operation {
	return []Operation{Turn, Face, Bore, PartOff, Thread, Drill, Ream, Tap, Countersink, Mill, Saw, Grind}
}

// Tool is what the cutting edge is made of.
type Tool string

// The tools.
const (
	HSS     Tool = "hss"
	Carbide Tool = "carbide"
	Carbon  Tool = "carbon"
)

// Tools lists them.
func Tools() []string { return []string{string(HSS), string(Carbide), string(Carbon)} }

// Machines lists the machines an operation may be asked for on.
func Machines() []shop.Machine {
	return []shop.Machine{shop.OnLathe, shop.OnMill, shop.OnDrillPress}
}

// MachinesFor returns the machines for an operation, the usual one first; a
// machine that was asked for stands alone. Sawing has none in a shop file.
func MachinesFor(op Operation, asked shop.Machine) []shop.Machine {
	switch {
	case asked != "":
		return []shop.Machine{asked}
	case op == Grind:
		return []shop.Machine{shop.OnBeltGrinder}
	case op == Mill:
		return []shop.Machine{shop.OnMill}
	case op == Saw:
		return nil
	case slices.Contains([]Operation{Drill, Ream, Tap, Countersink}, op):
		return []shop.Machine{shop.OnDrillPress, shop.OnMill, shop.OnLathe}
	}
	return []shop.Machine{shop.OnLathe}
}

// rule says which part of another operation's figure serves where a material
// has none for this one.
type rule struct {
	base   Operation
	factor float64
	source string
}

const noSource = "common practice, no source"

// speedRule returns the rule for an operation's speed; ok is false where only
// figures serve.
func speedRule(op Operation) (r rule, ok bool) {
	switch op {
	case Face:
		return rule{Turn, 1, noSource}, true
	case Bore:
		return rule{Turn, 0.8, noSource}, true
	case PartOff:
		return rule{Turn, 0.5, noSource}, true
	case Thread:
		return rule{Turn, 1.0 / 3, noSource}, true
	case Ream:
		return rule{Drill, 0.5, "machine-shop-course"}, true
	case Tap:
		return rule{Drill, 1.0 / 3, noSource}, true
	case Countersink:
		return rule{Drill, 1, "somta"}, true
	}
	return rule{}, false
}

// feedRule returns the rule for an operation's feed. A drilling feed is for
// the drill's own diameter.
func feedRule(op Operation) (r rule, ok bool) {
	switch op {
	case Face, Bore:
		return rule{Turn, 1, noSource}, true
	case PartOff:
		return rule{Turn, 0.5, noSource}, true
	case Ream:
		return rule{Drill, 2, "machine-shop-course"}, true
	case Countersink:
		return rule{Drill, 0.5, noSource}, true
	}
	return rule{}, false
}

// carbonOfHSS is the part of a high-speed-steel tool's speed that one of
// carbon steel stands.
//
// Source: US Navy NETPDTC, course 14345, which gives it for drills.
const carbonOfHSS = 0.5

// carbideOfHSS is how much faster a carbide edge runs than one of high-speed
// steel where nothing better is known.
//
// Source: a laboratory shop sheet, "carbide at least twice".
const carbideOfHSS = 2

// scaled returns a figure times a factor, which stands behind what is printed,
// with the rule's source behind its own.
func scaled(f materials.Figure, factor float64, source string) materials.Figure {
	if factor == 1 && source == noSource {
		return f
	}
	f.Low, f.High, f.Chosen = f.Low*factor, f.High*factor, f.Chosen*factor
	if factor != 1 {
		f.Printed += fmt.Sprintf(" x %.3g", factor)
	}
	f.Source += "; " + source
	f.Checked = ""
	return f
}

// speedFor returns the cutting speed in m/min: the material's own figure, else
// by the rules. ok is false where nothing gives one.
func speedFor(m *materials.Material, op Operation, tool Tool) (f materials.Figure, ok bool) {
	if op == Grind {
		return beltSpeed(m)
	}
	if f, ok = m.CuttingSpeed(string(op), string(tool)); ok {
		return f, true
	}
	if r, known := speedRule(op); known {
		if f, ok = speedFor(m, r.base, tool); ok {
			return scaled(f, r.factor, r.source), true
		}
	}
	switch tool {
	case Carbon:
		if f, ok = speedFor(m, op, HSS); ok {
			return scaled(f, carbonOfHSS, "navedtra-14345"), true
		}
	case Carbide:
		if f, ok = m.CuttingSpeed(string(op), string(HSS)); ok {
			return scaled(f, carbideOfHSS, "lab-sheet-carbide"), true
		}
	}
	return materials.Figure{}, false
}

// figureDrill is the drill that a material's drilling feed is for, in mm: the
// middle of 1/8 to 1/4 in.
const figureDrill = 4.7625

// chipOfCutter is the most a milling tooth takes, in parts of the cutter's
// diameter (common practice, no source): small cutters break first.
const chipOfCutter = 0.01

// finishFeed is the feed of a finishing cut in mm/rev, common practice.
const finishFeed = 0.06

// feedFor returns the feed in mm/rev, for milling in mm/tooth: the material's
// figure, else by the rules. A drill's grows with its diameter, as in the
// shop's rule of 0.001 in a revolution for each 1/16 in. ok is false where the
// feed is a pitch, the hand's, or the belt's.
func feedFor(m *materials.Material, op Operation, tool Tool, dia units.Length) (f materials.Figure, ok bool) {
	if f, ok = m.Feed(string(op), string(tool)); ok {
		switch op {
		case Drill:
			return scaled(f, dia.MM()/figureDrill, "norseman"), true
		case Mill:
			if most := chipOfCutter * dia.MM(); most < f.Chosen {
				return scaled(f, most/f.Chosen, noSource), true
			}
		}
		return f, true
	}
	if r, known := feedRule(op); known {
		if f, ok = feedFor(m, r.base, tool, dia); ok {
			return scaled(f, r.factor, r.source), true
		}
	}
	if tool == Carbon {
		return feedFor(m, op, HSS, dia)
	}
	return materials.Figure{}, false
}

// depthFor returns the depth of a roughing cut in mm, a side, by the kind of
// material (common practice, no source).
func depthFor(g materials.Group) float64 {
	switch g {
	case materials.CopperAlloy, materials.Aluminium, materials.Magnesium, materials.Zinc, materials.Plastic, materials.Wood:
		return 1
	case materials.Stainless, materials.Titanium:
		return 0.4
	}
	return 0.5
}

// finishDepth is the depth of a finishing cut in mm, a side.
const finishDepth = 0.15

// reamAllowance returns what a reamer takes off the diameter in mm (common
// practice, no source).
func reamAllowance(dia units.Length) float64 {
	switch d := dia.MM(); {
	case d < 6:
		return 0.1
	case d < 12:
		return 0.2
	}
	return 0.3
}

// bladeFor returns the width of a parting blade in mm for a bar, where the
// shop does not say (common practice, no source).
func bladeFor(dia units.Length) units.Length {
	if dia.MM() <= 25 {
		return units.Millimetres(2)
	}
	return units.Millimetres(3)
}

// WoodStart returns the speed in rev/min above which a rough piece of wood of
// the diameter D is not started on a lathe:
//
//	n = 9000/D
//
// D is in inches, above 0.
//
// Source: wood-turning-rule, a wood lathe speed guide of the 2020s.
func WoodStart(d units.Length) units.SpindleSpeed {
	return units.RPM(9000 / d.Over(units.MustLength("1in")))
}

// woodStart returns WoodStart where it applies, else 0.
func woodStart(g materials.Group, op Operation, d units.Length) float64 {
	if g != materials.Wood || !onLathe(op) {
		return 0
	}
	return math.Floor(WoodStart(d).RPM())
}

// SpindleSpeed returns the speed of rotation at which the diameter D runs at
// the surface speed v:
//
//	n = 1000·v/(π·D)
//
// v is in m/min, D in mm above 0, n in rev/min; good to 15 figures.
//
// Source: TM 1-420 Lathes, US War Department 1942, para. 19, which prints the
// inch form, v = 0.2618·D·n ft/min.
func SpindleSpeed(v units.SurfaceSpeed, d units.Length) units.SpindleSpeed {
	return units.RPM(1000 * v.MetresPerMinute() / (math.Pi * d.MM()))
}

// SurfaceSpeed returns the speed of the surface of the diameter D at n:
//
//	v = π·D·n/1000
//
// D is in mm, n in rev/min, v in m/min; good to 15 figures. A diameter of 0
// stands still.
//
// Source: as for SpindleSpeed.
func SurfaceSpeed(n units.SpindleSpeed, d units.Length) units.SurfaceSpeed {
	return units.MetresPerMinute(math.Pi * d.MM() * n.RPM() / 1000)
}

// FeedRate returns how fast a tool of z teeth advances at n with a feed f a
// tooth; z is 1 for a feed a revolution:
//
//	F = f·z·n
//
// f is in mm, n in rev/min, F in mm/min.
//
// Source: Niagara Cutter, New Concepts in Milling, 1973.
func FeedRate(f units.Feed, teeth int, n units.SpindleSpeed) float64 {
	return f.MM() * float64(teeth) * n.RPM()
}

// CutTime returns the minutes a tool takes to travel a length L at the feed f
// and n: t = L/(f·n). L is in mm, f in mm/rev above 0, n in rev/min above 0.
//
// Source: P. C. Sharma, A Textbook of Production Engineering, ch. 4.
func CutTime(length units.Length, f units.Feed, n units.SpindleSpeed) float64 {
	return length.MM() / (f.MM() * n.RPM())
}

// Power returns the power in W that a removal rate takes:
//
//	P = U·Q
//
// U is the specific energy in W.s/mm3 (the specific cutting force in N/mm2
// over 1000) and Q the volume cut away, in mm3/min.
//
// Source: Mitsubishi Materials, cutting power for turning, which prints
// Pc = ap·f·vc·Kc/(60·10³·η) kW.
func Power(energy, removal float64) float64 { return energy * removal / 60 }
