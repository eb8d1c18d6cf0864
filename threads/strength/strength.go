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
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/limits"
)

// Stuff is a material by its tensile strength in MPa: what is reckoned with,
// and the range it may have.
type Stuff struct {
	Name    string          `json:"name"`
	Tensile units.Number    `json:"tensile_strength_mpa"`
	Low     units.Number    `json:"tensile_strength_min_mpa"`
	High    units.Number    `json:"tensile_strength_max_mpa"`
	Group   materials.Group `json:"-"`
	Source  string          `json:"source"`
}

// StuffOf finds a material of the table and its tensile strength. It fails
// where materials.Find does.
func StuffOf(name string) (Stuff, error) {
	m, err := materials.Find(name)
	if err != nil {
		return Stuff{}, err
	}
	f := m.TensileStrength()
	return Stuff{m.Name, units.Number(f.Chosen), units.Number(f.Low), units.Number(f.High), m.Group, f.Source}, nil
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
	Length      units.Length `json:"length_mm"`
	Rule        units.Length `json:"rule_of_thumb_mm"`
	Worst       units.Length `json:"length_worst_mm"`
	ScrewLength units.Length `json:"length_screw_mm"`
	NutLength   units.Length `json:"length_nut_mm"`
	Strips      string       `json:"strips_first"` // screw or nut, when it is shorter
	StressArea  units.Number `json:"stress_area_mm2"`
	External    units.Number `json:"shear_area_external_mm2_per_mm"`
	Internal    units.Number `json:"shear_area_internal_mm2_per_mm"`
	Load        units.Number `json:"breaking_load_n"`
	ScrewClass  *string      `json:"class_external"`
	NutClass    *string      `json:"class_internal"`
	sheet.Remarks

	es, kn, ds, en units.Length
}

// ExternalArea returns the area the screw's thread strips along for each mm of
// engagement, in mm2:
//
//	ASs = π·Kn/P·(P/2 + tan a·(Es - Kn))
//
// p is the pitch, half the flank's half angle, es the least pitch diameter of
// the screw and kn the largest minor diameter of the nut, all above 0. It is
// float64, good to 1e-12 of itself. Source: FED-STD-H28/2.
func ExternalArea(p units.Pitch, half units.Angle, es, kn units.Length) float64 {
	return area(p, half, kn, es.Minus(kn))
}

// InternalArea returns the area the nut's thread strips along for each mm of
// engagement, in mm2:
//
//	ASn = π·Ds/P·(P/2 + tan a·(Ds - En))
//
// with ds the least major diameter of the screw and en the largest pitch
// diameter of the nut. Otherwise as ExternalArea.
func InternalArea(p units.Pitch, half units.Angle, ds, en units.Length) float64 {
	return area(p, half, ds, ds.Minus(en))
}

func area(p units.Pitch, half units.Angle, at, past units.Length) float64 {
	return math.Pi * at.MM() / p.MM() * (p.MM()/2 + half.Tan()*past.MM())
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
	var list problem.List
	sizes := in.Spec.Sizes()
	if sizes.StressArea == nil {
		list.Add(problem.New(problem.OutOfRange, "thread", in.Spec, "a taper pipe thread seals and has no stress area: give a parallel thread"))
	}
	for _, s := range []struct {
		key string
		v   Stuff
	}{{"screw", in.Screw}, {"nut", in.Nut}} {
		if s.v.Low <= 0 || s.v.Tensile < s.v.Low || s.v.High < s.v.Tensile {
			list.Add(problem.New(problem.OutOfRange, s.key, s.v.Name, "its tensile strength must be above 0 and inside its range"))
		}
	}
	external, internal, err := limits.Choose(in.Spec, in.Class)
	list.Add(err)
	if len(list) > 0 {
		return Result{}, list
	}
	r := Result{Inputs: in, StressArea: *sizes.StressArea}
	r.es, r.kn, r.ds, r.en = sizes.PitchDiameter, sizes.MinorInternal, sizes.Major, sizes.PitchDiameter
	l := limits.Of(in.Spec, external, internal)
	if l.External != nil {
		r.es, r.ds, r.ScrewClass = l.External.PitchMin, l.External.MajorMin, &external
	}
	if l.Internal != nil {
		r.kn, r.en, r.NutClass = l.Internal.MinorMax, l.Internal.PitchMax, &internal
	}
	if l.External == nil || l.Internal == nil {
		r.Warnings.Add("basic-sizes", "no limits of size are known for this thread: the areas are those of the basic sizes, so engage about a tenth more")
	}
	half, p := in.Spec.Form.HalfAngle(), in.Spec.Pitch
	ext, inn := ExternalArea(p, half, r.es, r.kn), InternalArea(p, half, r.ds, r.en)
	r.External, r.Internal = units.Number(ext), units.Number(inn)
	at := float64(r.StressArea)
	r.ScrewLength = units.FromFloat(2 * at / ext)
	nut := func(rs, rn units.Number) units.Length { return units.FromFloat(2 * at * float64(rs/rn) / inn) }
	r.NutLength = nut(in.Screw.Tensile, in.Nut.Tensile)
	r.Worst = units.Max(r.ScrewLength, nut(in.Screw.High, in.Nut.Low))
	r.Length, r.Strips = r.ScrewLength, "screw"
	if r.ScrewLength.Less(r.NutLength) {
		r.Length, r.Strips = r.NutLength, "nut"
	}
	r.Load = units.Number(at * float64(in.Screw.Tensile))
	r.Rule = sizes.Major.Times(rule(in.Nut.Group)).Half()
	r.remark(sizes.Major)
	return r, nil
}

// rule returns the diameters of engagement of the shop's rule of thumb, in
// halves, by what the nut is made of (common practice, no source).
func rule(nut materials.Group) int64 {
	switch nut {
	case materials.Steel, materials.Stainless, materials.Titanium:
		return 2
	case materials.Iron, materials.CopperAlloy:
		return 3
	case materials.Aluminium, materials.Magnesium, materials.Zinc:
		return 4
	case materials.Wood:
		return 6
	}
	return 5 // plastics and laminates
}

// remark adds what the formula does not know.
func (r *Result) remark(d units.Length) {
	for _, s := range []Stuff{r.Inputs.Screw, r.Inputs.Nut} {
		switch s.Group {
		case materials.Plastic, materials.Laminate, materials.Wood:
			r.Warnings.Add("not-a-metal", s.Name+": half the tensile strength stands for the shear strength of metals only: try a piece to breaking")
		}
	}
	if d.Times(2).Less(r.Length) {
		r.Warnings.Add("long", "beyond about two diameters the first threads carry nearly all: use a stronger nut, an insert or a larger thread")
	}
	r.Caution(cautions.Manual)
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	d := in.Spec.Major
	times := func(l units.Length) string { return fmt.Sprintf("%.2f diameters", l.Over(d)) }
	s := sheet.Sheet{
		Title: fmt.Sprintf("Engagement of %v: screw of %s, nut of %s", in.Spec, in.Screw.Name, in.Nut.Name),
		Facts: []sheet.Fact{
			{Key: "length_mm", Label: "least full thread engaged", Value: sheet.Up(r.Length), Remark: times(r.Length) + ": from here on the screw breaks first"},
			{Key: "rule_of_thumb_mm", Label: "by the rule of thumb", Value: sheet.Len(r.Rule), Remark: times(r.Rule) + ", by what the nut is made of"},
			{Key: "length_worst_mm", Label: "at the worst", Value: sheet.Up(r.Worst), Remark: fmt.Sprintf("screw of %.4g MPa, nut of %.4g MPa: the ends of their ranges", float64(in.Screw.High), float64(in.Nut.Low))},
			{Key: "strips_first", Label: "when shorter, strips", Value: sheet.Text("the " + r.Strips + "'s thread")},
			{Key: "length_screw_mm", Label: "for the screw's thread", Value: sheet.Up(r.ScrewLength)},
			{Key: "length_nut_mm", Label: "for the nut's thread", Value: sheet.Up(r.NutLength)},
			{Key: "stress_area_mm2", Label: "stress area", Value: sheet.Num(float64(r.StressArea), 3, "mm²")},
			{Key: "shear_area_external_mm2_per_mm", Label: "screw's thread strips on", Value: sheet.Num(float64(r.External), 3, "mm²"), Remark: "for each mm engaged" + classRemark(r.ScrewClass)},
			{Key: "shear_area_internal_mm2_per_mm", Label: "nut's thread strips on", Value: sheet.Num(float64(r.Internal), 3, "mm²"), Remark: "for each mm engaged" + classRemark(r.NutClass)},
			{Key: "breaking_load_n", Label: "the screw breaks at", Value: sheet.Num(float64(r.Load), 0, "N"), Remark: fmt.Sprintf("at %.4g MPa (%s)", float64(in.Screw.Tensile), in.Screw.Source)},
		},
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
	p, a := in.Spec.Pitch.MM(), in.Spec.Form.HalfAngle().Deg()
	s.Working = []sheet.Step{
		sheet.Work("ASs", "3.141592653590*Kn/P*(P/2 + tan(a)*(Es - Kn))", float64(r.External), "mm² a mm",
			sheet.Let("Kn", r.kn.MM()), sheet.Let("P", p), sheet.Let("a", a), sheet.Let("Es", r.es.MM())),
		sheet.Work("ASn", "3.141592653590*Ds/P*(P/2 + tan(a)*(Ds - En))", float64(r.Internal), "mm² a mm",
			sheet.Let("Ds", r.ds.MM()), sheet.Let("P", p), sheet.Let("a", a), sheet.Let("En", r.en.MM())),
		sheet.Work("L of the screw", "2*At/ASs", r.ScrewLength.MM(), "mm", sheet.Let("At", float64(r.StressArea)), sheet.Let("ASs", float64(r.External))),
		sheet.Work("L of the nut", "2*At*Rs/(ASn*Rn)", r.NutLength.MM(), "mm", sheet.Let("At", float64(r.StressArea)),
			sheet.Let("ASn", float64(r.Internal)), sheet.Let("Rs", float64(in.Screw.Tensile)), sheet.Let("Rn", float64(in.Nut.Tensile))),
	}
	s.Notes = []string{
		"Full threads only: chamfers, the tap's lead and the die's come on top. Threads at the limits of their class that leave the least metal.",
		"The shear strength is taken as half the tensile strength. Steady pull: shock, heat and shaking need more.",
		fmt.Sprintf("The nut's %s is taken at %.4g MPa (%s).", in.Nut.Name, float64(in.Nut.Tensile), in.Nut.Source),
	}
	return s
}

// classRemark names the class whose limits were used.
func classRemark(class *string) string {
	if class == nil {
		return ", basic size"
	}
	return ", class " + *class
}
