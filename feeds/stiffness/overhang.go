package stiffness

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/page/sheet"
)

// Input is a bar and what presses on it. The bar is Dia by Length, or its
// Stations; the force in N, or the depth a side and the feed of a turning cut
// it comes from. RPM is the speed the bar is to turn at.
type Input struct {
	Material string              `json:"material"`
	Dia      *units.Length       `json:"dia_mm,omitempty"`
	Length   *units.Length       `json:"length_mm,omitempty"`
	Stations []Station           `json:"stations,omitempty"`
	Support  Support             `json:"support"`
	Force    *units.Number       `json:"force_n,omitempty"`
	Depth    *units.Length       `json:"depth_mm,omitempty"`
	Feed     *units.Feed         `json:"feed_mm_rev,omitempty"`
	RPM      *units.SpindleSpeed `json:"rpm,omitempty"`
}

// Place is what the spring of the work does with the tool at one place.
type Place struct {
	At         units.Length `json:"at_mm"`
	Dia        units.Length `json:"dia_mm"`
	Deflection units.Length `json:"deflection_mm"`
	Larger     units.Length `json:"diameter_error_mm"`
}

// Result is how far the bar gives way where it gives way most, and the taper
// that leaves: the diameter comes out larger by twice the deflection. Force is
// the one that bends the bar away from the tool; of a cut it is RadialPart of
// the cutting force.
type Result struct {
	Inputs       Input              `json:"inputs"`
	CuttingForce *units.Number      `json:"cutting_force_n"`
	Force        units.Number       `json:"force_n"`
	Deflection   units.Length       `json:"deflection_mm"`
	At           units.Length       `json:"at_mm"`
	Taper        units.Length       `json:"taper_mm"`
	Places       []Place            `json:"places"`
	Ratio        units.Number       `json:"overhang_ratio"`
	RuleRatio    units.Number       `json:"rule_ratio"`
	RuleLength   units.Length       `json:"rule_length_mm"`
	WithinRule   bool               `json:"within_rule"`
	Whirling     units.SpindleSpeed `json:"whirling_rpm"`
	WhirlLimit   units.SpindleSpeed `json:"whirling_limit_rpm"`
	Modulus      units.Number       `json:"modulus_gpa"`
	Source       string             `json:"source"`
	sheet.Remarks

	material *materials.Material
	fails    problem.List
}

// RadialPart is the part of the cutting force that pushes a turning tool away
// from the work (common practice, no source: 0.3 to 0.5 for a sharp tool).
const RadialPart = 0.5

// WhirlPart is the part of the whirling speed a bar may be run at: unbalance
// bends a bar well before it whirls (common practice, no source).
const WhirlPart = 0.5

// steadyRatio is the length in diameters beyond which a supported bar wants a
// steady (common practice, no source).
const steadyRatio = 10

// placesShown is how many places along the bar are worked out.
const placesShown = 5

// RuleRatio returns how many diameters a bar may stick out of a chuck without
// a centre (common practice, no source).
func RuleRatio(g materials.Group) float64 {
	switch g {
	case materials.CopperAlloy, materials.Aluminium, materials.Magnesium, materials.Zinc:
		return 2.5
	case materials.Laminate:
		return 2
	case materials.Plastic, materials.Wood:
		return 1.5
	}
	return 3
}

// CuttingForce returns the main force of a turning cut in N:
//
//	Fc = 1000·U·a·f
//
// U is the specific energy in W.s/mm3, a the depth a side and f the feed, in
// mm.
//
// Source: Mitsubishi Materials, cutting power for turning (Fc = ap·f·Kc).
func CuttingForce(energy float64, depth units.Length, feed units.Feed) float64 {
	return 1000 * energy * depth.MM() * feed.MM()
}

// check returns the bar, the material, and every problem with the input.
func (in *Input) check() (Bar, *materials.Material, error) {
	var list problem.List
	m, err := materials.Find(in.Material)
	list.Add(err)
	switch in.Support {
	case Chuck, Centre, Between:
	default:
		list.Add(problem.New(problem.Unknown, "support", string(in.Support), "not a support: write chuck, centre or between").Near(Supports()))
	}
	plain := in.Dia != nil || in.Length != nil
	switch {
	case plain && len(in.Stations) > 0:
		list.Add(problem.New(problem.Contradiction, "station", nil, "give the stations, or --dia and --length"))
	case len(in.Stations) == 0 && (in.Dia == nil || in.Length == nil):
		list.Add(problem.New(problem.Missing, "dia", nil, "needs --dia and --length, or the stations of a stepped bar"))
	case plain:
		for _, s := range []struct {
			key string
			l   *units.Length
		}{{"dia", in.Dia}, {"length", in.Length}} {
			if s.l.Sign() <= 0 {
				list.Add(problem.New(problem.OutOfRange, s.key, s.l, "must be above 0"))
			}
		}
	default:
		list.Add(checkStations(in.Stations))
	}
	cut := in.Depth != nil || in.Feed != nil
	switch {
	case in.Force != nil && cut:
		list.Add(problem.New(problem.Contradiction, "force", *in.Force, "give the force, or --depth and --feed"))
	case in.Force == nil && (in.Depth == nil || in.Feed == nil):
		list.Add(problem.New(problem.Missing, "force", nil, "needs --force, or --depth and --feed of the cut"))
	case in.Force != nil && *in.Force <= 0:
		list.Add(problem.New(problem.OutOfRange, "force", *in.Force, "must be above 0 N"))
	case in.Depth != nil && in.Depth.Sign() <= 0:
		list.Add(problem.New(problem.OutOfRange, "depth", in.Depth, "must be above 0"))
	}
	if len(list) > 0 {
		return Bar{}, nil, list
	}
	b := Bar{Stations: in.Stations, Modulus: m.Modulus().Chosen, Density: m.Density().Chosen, Support: in.Support}
	if plain {
		b.Stations = []Station{{units.Length{}, *in.Dia}, {*in.Length, *in.Dia}}
	}
	return b, m, nil
}

func checkStations(stations []Station) error {
	var list problem.List
	at := func(s Station) string { return fmt.Sprintf("%v=%v", s.Z, s.Dia) }
	for i, s := range stations {
		if s.Dia.Sign() <= 0 {
			list.Add(problem.New(problem.OutOfRange, "station", at(s), "a diameter must be above 0: a point carries no force"))
		}
		if i == 0 && s.Z.Sign() != 0 {
			list.Add(problem.New(problem.OutOfRange, "station", at(s), "the first station is at the chuck, at 0"))
		}
		if i > 0 && s.Z.Less(stations[i-1].Z) {
			list.Add(problem.New(problem.Contradiction, "station", at(s), fmt.Sprintf("stations run outward from the chuck: this one stands before %v", stations[i-1].Z)))
		}
	}
	if len(list) == 0 && stations[len(stations)-1].Z.Sign() == 0 {
		list.Add(problem.New(problem.Missing, "station", nil, "needs a station further out, such as --station 0=20 --station 60=12"))
	}
	return list.Err()
}

// Overhang returns how far a bar gives way under a force and how fast it may
// turn. It fails on an unknown material or support, on a bar that is not given
// or given twice, on sizes and a force that are not above 0, and on stations
// that do not run outward from 0.
//
// The answer is no when RPM is above half of the whirling speed.
func Overhang(in Input) (Result, error) {
	b, m, err := in.check()
	if err != nil {
		return Result{}, err
	}
	in.Material = m.Name
	r := Result{
		Inputs: in, material: m, Modulus: units.Number(b.Modulus), Source: m.Modulus().Source,
	}
	if in.Force != nil {
		r.Force = *in.Force
	} else {
		fc := units.Number(CuttingForce(m.SpecificEnergy().Chosen, *in.Depth, *in.Feed))
		r.CuttingForce, r.Force = &fc, fc*RadialPart
	}
	r.places(b)
	r.rule(b)
	whirl := b.Whirling()
	r.Whirling, r.WhirlLimit = units.RPM(whirl), units.RPM(math.Floor(whirl*WhirlPart))
	if in.RPM != nil && in.RPM.RPM() > r.WhirlLimit.RPM() {
		r.fails.Add(problem.New(problem.OverRating, "rpm", *in.RPM, fmt.Sprintf(
			"this bar whirls at %.0f rpm: run it at %.0f at the most, or carry its end", math.Floor(whirl), r.WhirlLimit.RPM())))
	}
	if r.mayWhirl() {
		r.Caution(cautions.Whip)
	}
	r.Caution(cautions.Overhang, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// places works out the spring along the bar, and where it is worst: the worst
// of its shown places, narrowed down between its neighbours to 1e-6 mm.
func (r *Result) places(b Bar) {
	end := b.length()
	give := func(z float64) units.Length { return b.Deflection(float64(r.Force), units.FromFloat(z)) }
	worst := 0
	for i := range placesShown {
		z := end * float64(i) / (placesShown - 1)
		y := give(z)
		r.Places = append(r.Places, Place{units.FromFloat(z), units.FromFloat(b.dia(z)), y, y.Times(2)})
		if r.Places[worst].Deflection.Less(y) {
			worst = i
		}
	}
	step := end / (placesShown - 1)
	from, to := max(0, float64(worst-1)*step), min(end, float64(worst+1)*step)
	for to-from > 1e-6 {
		a, c := from+(to-from)/3, to-(to-from)/3
		if give(a).Less(give(c)) {
			from = a
		} else {
			to = c
		}
	}
	r.At, r.Deflection = units.FromFloat((from+to)/2).RoundTo(units.MustLength("0.01mm"), units.Nearest), give((from+to)/2)
	if last := r.Places[placesShown-1]; r.Deflection.Less(last.Deflection) {
		r.At, r.Deflection = last.At, last.Deflection
	}
	r.Taper = r.Deflection.Times(2)
}

// rule compares the length with the shop's rule.
func (r *Result) rule(b Bar) {
	length, area := b.length(), 0.0
	for i := 1; i < len(b.Stations); i++ {
		p, q := b.Stations[i-1], b.Stations[i]
		area += (q.Z.MM() - p.Z.MM()) * (p.Dia.MM() + q.Dia.MM()) / 2
	}
	mean := area / length
	most := RuleRatio(r.material.Group)
	if r.Inputs.Support != Chuck {
		most = steadyRatio
	}
	r.Ratio, r.RuleRatio = units.Number(length/mean), units.Number(most)
	r.RuleLength = units.FromFloat(most*mean).RoundTo(units.MustLength("0.1mm"), units.Down)
	r.WithinRule = length <= most*mean+1e-9
	if r.WithinRule {
		return
	}
	text := fmt.Sprintf("it sticks out %.1f diameters and the rule is %g: put a centre in its end", length/mean, most)
	if r.Inputs.Support != Chuck {
		text = fmt.Sprintf("it is %.1f diameters long and the rule is %g: carry it with a steady", length/mean, most)
	}
	r.Warnings.Add("overhang", text)
}

// Fails implements sheet.Result.
func (r Result) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "How far the work springs: " + r.material.Title, Warnings: r.Warnings, Cautions: r.Cautions}
	force := "square to the bar, away from the tool"
	if r.CuttingForce != nil {
		force = fmt.Sprintf("%.0f %% of the cutting force of %.0f N, common practice", RadialPart*100, float64(*r.CuttingForce))
	}
	within := "within it"
	if !r.WithinRule {
		within = "beyond it"
	}
	s.Facts = []sheet.Fact{
		{Key: "deflection_mm", Label: "it gives way", Value: sheet.Fine(r.Deflection), Remark: fmt.Sprintf("at %v from the %s", r.At, r.from())},
		{Key: "taper_mm", Label: "so the diameter is out", Value: sheet.Fine(r.Taper), Remark: "larger there than where it does not give"},
		{Key: "force_n", Label: "under a force of", Value: sheet.Num(float64(r.Force), 0, "N"), Remark: force},
		{Key: "overhang_ratio", Label: "it is long", Value: sheet.Num(float64(r.Ratio), 1, "diameters"), Remark: fmt.Sprintf("the rule is %g, or %v (common practice): %s", float64(r.RuleRatio), r.RuleLength, within)},
		{Key: "modulus_gpa", Label: "modulus", Value: sheet.Num(float64(r.Modulus), 1, "GPa"), Remark: r.Source},
	}
	if r.mayWhirl() {
		s.Facts = append(s.Facts, sheet.Fact{Key: "whirling_rpm", Label: "it whirls at", Value: sheet.Num(math.Floor(r.Whirling.RPM()), 0, "rpm"), Remark: fmt.Sprintf("run it at %.0f at the most", r.WhirlLimit.RPM())})
	}
	t := sheet.Table{Title: "Along the bar", Cols: []sheet.Column{
		{Key: "at_mm", Head: "at"}, {Key: "dia_mm", Head: "diameter"}, {Key: "deflection_mm", Head: "gives way"}, {Key: "diameter_error_mm", Head: "larger by"},
	}}
	for _, p := range r.Places {
		t.Add(sheet.Len(p.At), sheet.Len(p.Dia), sheet.Fine(p.Deflection), sheet.Fine(p.Larger))
	}
	s.Tables = []sheet.Table{t}
	if in := r.Inputs; in.Dia != nil && in.Support == Chuck {
		s.Working = []sheet.Step{
			sheet.Work("I", "pi*d^4/64", math.Pi*math.Pow(in.Dia.MM(), 4)/64, "mm4", sheet.Let("pi", math.Pi), sheet.Let("d", in.Dia.MM())),
			sheet.Work("y", "64*F*L^3/(3*E*1000*pi*d^4)", r.Deflection.MM(), "mm", sheet.Let("F", float64(r.Force)), sheet.Let("L", in.Length.MM()),
				sheet.Let("E", float64(r.Modulus)), sheet.Let("pi", math.Pi), sheet.Let("d", in.Dia.MM())),
		}
	}
	s.Notes = []string{"Chuck, centres and slides give way too: the real spring is larger. A light last cut, or a second pass at the same setting, takes most of it out."}
	return s
}

// mayWhirl reports whether a shop's lathe comes near the whirling speed.
func (r Result) mayWhirl() bool { return r.WhirlLimit.RPM() < 5000 || r.Inputs.RPM != nil }

func (r Result) from() string {
	if r.Inputs.Support == Between {
		return "left centre"
	}
	return "chuck"
}
