// Package strength says how much thread a screw needs so that it breaks before
// either thread strips.
//
// A screw in tension breaks across its stress area At. A thread strips along a
// cylinder: the screw's at the minor diameter of the nut, the nut's at the
// major diameter of the screw. At the limits of size that leave the least
// metal the areas for each mm of engagement are, with the pitch P and the
// flank's half angle a (tan 30 deg = 0.57735),
//
//	ASs = π·Kn/P·(P/2 + tan a·(Es - Kn))    the screw's thread
//	ASn = π·Ds/P·(P/2 + tan a·(Ds - En))    the nut's thread
//
//	Kn  largest minor diameter of the nut    Es  least pitch diameter of the screw
//	Ds  least major diameter of the screw    En  largest pitch diameter of the nut
//
// The shear strength is taken as half the tensile strength, so the thread that
// holds must have twice the stress area, and more in proportion where the
// nut is the weaker stuff:
//
//	screw's thread  L = 2·At/ASs
//	nut's thread    L = 2·At·Rs/(ASn·Rn)
//
// The longer of the two is the least engagement.
//
// Source: FED-STD-H28/2, screw-thread standards for federal services,
// appendix on thread strength; the same in the handbooks. Half the tensile
// strength for the shear strength is that standard's simplification for metals.
package strength

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/limits"
)

// Stuff is a material by its tensile strength in MPa: what is reckoned with,
// and the range it may have.
type Stuff struct {
	Name    string       `json:"name"`
	Tensile units.Number `json:"tensile_strength_mpa"`
	Low     units.Number `json:"tensile_strength_min_mpa"`
	High    units.Number `json:"tensile_strength_max_mpa"`
	Source  string       `json:"source"`

	material *materials.Material // nil for one that is none of the table
}

// StuffOf finds a material of the table and its tensile strength. It fails
// where materials.Find does.
func StuffOf(name string) (Stuff, error) {
	m, err := materials.Find(name)
	if err != nil {
		return Stuff{}, err
	}
	f := m.TensileStrength()
	return Stuff{m.Name, units.Number(f.Chosen), units.Number(f.Low), units.Number(f.High), f.Source, m}, nil
}

// Input is a thread, what screw and nut are made of, and the class of one or
// both ("6g", "6H", "6H/6g"); empty is the usual one.
type Input struct {
	Spec  threads.Designation `json:"thread"`
	Screw Stuff               `json:"screw"`
	Nut   Stuff               `json:"nut"`
	Class string              `json:"class"`
}

// Result is the least engagement and what it comes from. Rule is the shop's
// rule of thumb beside it; Worst is for a screw as strong and a nut as weak as
// their materials' ranges allow.
type Result struct {
	Inputs      Input        `json:"inputs"`
	Length      units.Length `json:"length_mm" show:"least full thread engaged" as:"up"`
	Rule        units.Length `json:"rule_of_thumb_mm" show:"by the rule of thumb"`
	Worst       units.Length `json:"length_worst_mm" show:"at the worst" as:"up"`
	Strips      Part         `json:"strips_first" show:"when shorter, strips"`
	ScrewLength units.Length `json:"length_screw_mm" show:"for the screw's thread" as:"up"`
	NutLength   units.Length `json:"length_nut_mm" show:"for the nut's thread" as:"up"`
	StressArea  units.Number `json:"stress_area_mm2" show:"stress area" as:"3 mm²"`
	External    units.Number `json:"shear_area_external_mm2_per_mm" show:"screw's thread strips on" as:"3 mm²"`
	Internal    units.Number `json:"shear_area_internal_mm2_per_mm" show:"nut's thread strips on" as:"3 mm²"`
	Load        units.Number `json:"breaking_load_n" show:"the screw breaks at" as:"0 N"`
	ScrewClass  *string      `json:"class_external"`
	NutClass    *string      `json:"class_internal"`
	sheet.Remarks

	es, kn, ds, en units.Length
}

// Part is the screw or the nut.
type Part string

// The parts.
const (
	Screw Part = "screw"
	Nut   Part = "nut"
)

// Words implements sheet.Value.
func (p Part) Words() (mm, inch string) {
	return "the " + string(p) + "'s thread", "the " + string(p) + "'s thread"
}

// Area returns the area a thread strips along for each mm of engagement, in
// mm2, where dia is the cylinder it strips on and past how far the pitch
// diameter of its metal lies beyond it:
//
//	AS = π·dia/P·(P/2 + tan a·past)
//
// p is the pitch and half the flank's half angle; all are above 0 but past,
// which may be 0. It is float64, good to 1e-12 of itself. Source: FED-STD-H28/2.
func Area(p units.Pitch, half units.Angle, dia, past units.Length) float64 {
	return math.Pi * dia.MM() / p.MM() * (p.MM()/2 + half.Tan()*past.MM())
}

// Engage returns the least engagement of a screw in a nut so that the screw
// breaks first. Threads without limits of size are taken at their basic sizes,
// and a warning says so. Screws above 690 MPa are given the larger, basic
// stress area like the others, which errs to the long side.
//
// It fails on taper pipe threads, which have no stress area, on a tensile
// strength that is not above 0 or outside its own range, and where
// limits.Choose does.
func Engage(in Input) (Result, error) {
	var list check.List
	sizes := in.Spec.Sizes()
	if sizes.StressArea == nil {
		list.Add(problem.New(problem.OutOfRange, "thread", in.Spec,
			"a taper pipe thread seals and has no stress area: give a parallel thread"))
	}
	list.Add(in.Screw.sound(Screw))
	list.Add(in.Nut.sound(Nut))
	external, internal, err := limits.Choose(in.Spec, in.Class)
	list.Add(err)
	if err := list.Err(); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in, StressArea: *sizes.StressArea, Rule: rule(in)}
	r.es, r.kn, r.ds, r.en = sizes.PitchDiameter, sizes.MinorInternal, sizes.Major, sizes.PitchDiameter
	l := limits.Of(in.Spec, external, internal)
	if e := l.External; e != nil {
		r.es, r.ds, r.ScrewClass = e.PitchMin, e.MajorMin, &external
	}
	if i := l.Internal; i != nil {
		r.kn, r.en, r.NutClass = i.MinorMax, i.PitchMax, &internal
	}
	if l.External == nil || l.Internal == nil {
		r.Warn("basic-sizes", "no limits of size are known for this thread: the areas are those of the basic sizes, ",
			"so engage about a tenth more")
	}
	half, p := in.Spec.Form.HalfAngle(), in.Spec.Pitch
	screw, nut := Area(p, half, r.kn, r.es.Minus(r.kn)), Area(p, half, r.ds, r.ds.Minus(r.en))
	r.External, r.Internal = units.Number(screw), units.Number(nut)
	at := float64(r.StressArea)
	r.ScrewLength = units.FromFloat(2 * at / screw)
	weaker := func(rs, rn units.Number) units.Length { return units.FromFloat(2 * at * float64(rs/rn) / nut) }
	r.NutLength = weaker(in.Screw.Tensile, in.Nut.Tensile)
	r.Worst = units.Max(r.ScrewLength, weaker(in.Screw.High, in.Nut.Low))
	r.Length, r.Strips = r.ScrewLength, Screw
	if r.ScrewLength.Less(r.NutLength) {
		r.Length, r.Strips = r.NutLength, Nut
	}
	r.Load = units.Number(at * float64(in.Screw.Tensile))
	r.remark(sizes.Major)
	return r, nil
}

// sound returns what is wrong with a tensile strength, or nil.
func (s Stuff) sound(of Part) error {
	if s.Low > 0 && s.Low <= s.Tensile && s.Tensile <= s.High {
		return nil
	}
	return problem.New(problem.OutOfRange, string(of), s.Name, "its tensile strength must be above 0 and inside its range")
}

// rule returns the engagement of the shop's rule of thumb, by what the nut is
// made of (common practice, no source).
func rule(in Input) units.Length {
	return units.FromFloat(in.Spec.Major.MM() * practice.Engagement.Number(in.Nut.material))
}

// remark adds what the formula does not know.
func (r *Result) remark(d units.Length) {
	for _, s := range []Stuff{r.Inputs.Screw, r.Inputs.Nut} {
		if s.material.Has(materials.NotMetal) {
			r.Warn("not-a-metal", s.Name, ": half the tensile strength stands for the shear strength of metals only: ",
				"try a piece to breaking")
		}
	}
	if d.Times(2).Less(r.Length) {
		r.Warn("long", "beyond about two diameters the first threads carry nearly all: ",
			"use a stronger nut, an insert or a larger thread")
	}
	r.Caution(cautions.Manual)
}

// mpa words a strength.
func mpa(n units.Number) sheet.Text { return say.Num(float64(n), 1) + " MPa" }

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Engagement of ", in.Spec, ": screw of ", in.Screw.Name, ", nut of ", in.Nut.Name)
	times := func(l units.Length) sheet.Value { return sheet.Num(l.Over(in.Spec.Major), 2, "d") }
	s.Remark(&r.Length, times(r.Length), ": from here on the screw breaks first")
	s.Remark(&r.Rule, times(r.Rule), ", by what the nut is made of")
	s.Remark(&r.Worst, "screw of ", mpa(in.Screw.High), ", nut of ", mpa(in.Nut.Low), ": the ends of their ranges")
	s.Remark(&r.External, "for each mm engaged", ofClass(r.ScrewClass))
	s.Remark(&r.Internal, "for each mm engaged", ofClass(r.NutClass))
	s.Remark(&r.Load, "at ", mpa(in.Screw.Tensile), " (", in.Screw.Source, ")")
	s.Figures()
	p, a := sheet.Let("P", in.Spec.Pitch.MM()), sheet.Let("a", in.Spec.Form.Half)
	at, screw := sheet.Let("At", float64(r.StressArea)), sheet.Let("ASs", float64(r.External))
	nut := sheet.Let("ASn", float64(r.Internal))
	s.Work("ASs", "3.141592653590*Kn/P*(P/2 + tan(a)*(Es - Kn))", screw.Value, "mm² a mm", p, a,
		sheet.Let("Kn", r.kn.MM()), sheet.Let("Es", r.es.MM()))
	s.Work("ASn", "3.141592653590*Ds/P*(P/2 + tan(a)*(Ds - En))", nut.Value, "mm² a mm", p, a,
		sheet.Let("Ds", r.ds.MM()), sheet.Let("En", r.en.MM()))
	s.Work("L of the screw", "2*At/ASs", r.ScrewLength.MM(), "mm", at, screw)
	s.Work("L of the nut", "2*At*Rs/(ASn*Rn)", r.NutLength.MM(), "mm", at, nut,
		sheet.Let("Rs", float64(in.Screw.Tensile)), sheet.Let("Rn", float64(in.Nut.Tensile)))
	s.Note("Full threads only: chamfers, the tap's lead and the die's come on top. ",
		"Threads at the limits of their class that leave the least metal.")
	s.Note("The shear strength is taken as half the tensile strength. Steady pull: shock, heat and shaking need more.")
	s.Note("The nut's ", in.Nut.Name, " is taken at ", mpa(in.Nut.Tensile), " (", in.Nut.Source, ").")
	return *s
}

// ofClass names the class whose limits were used.
func ofClass(class *string) string {
	if class == nil {
		return ", basic size"
	}
	return ", class " + *class
}
