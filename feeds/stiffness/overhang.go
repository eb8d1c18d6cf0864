package stiffness

import (
	"cmp"
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// Input is a bar and what presses on it. The bar is Dia by Length, or its
// Stations, with a Bore right through; Steadies carry it beside its Support. The
// force is in N, or the depth a side and the feed of a turning cut
// it comes from. RPM is the speed the bar is to turn at.
type Input struct {
	Material string              `json:"material"`
	Dia      *units.Length       `json:"dia_mm,omitempty"`
	Length   *units.Length       `json:"length_mm,omitempty"`
	Stations []Station           `json:"stations,omitempty"`
	Bore     *units.Length       `json:"bore_mm,omitempty"`
	Support  Support             `json:"support"`
	Steadies []units.Length      `json:"steadies_mm,omitempty"`
	Force    *units.Number       `json:"force_n,omitempty"`
	Depth    *units.Length       `json:"depth_mm,omitempty"`
	Feed     *units.Feed         `json:"feed_mm_rev,omitempty"`
	RPM      *units.SpindleSpeed `json:"rpm,omitempty"`
}

// Place is what the spring of the work does with the tool at one place.
type Place struct {
	At         units.Length `json:"at_mm" show:"at"`
	Dia        units.Length `json:"dia_mm" show:"diameter"`
	Deflection units.Length `json:"deflection_mm" show:"gives way" as:"fine"`
	Larger     units.Length `json:"diameter_error_mm" show:"larger by" as:"fine"`
}

// Result is how far the bar gives way where it gives way most, and the taper
// that leaves: the diameter comes out larger by twice the deflection. Ratio is
// the length over the mean diameter, with steadies that of the stretch which is
// longest by the shop's rule, from one thing that carries it to the next. Force is
// the one that bends the bar away from the tool; of a cut it is the part of
// the cutting force that practice says. Whirling is the speed at which the bar
// whips by itself, and WhirlLimit the part of it that it may be run at.
type Result struct {
	Inputs       Input              `json:"inputs"`
	CuttingForce *units.Number      `json:"cutting_force_n"`
	Deflection   units.Length       `json:"deflection_mm" show:"it gives way" as:"fine"`
	At           units.Length       `json:"at_mm"`
	Taper        units.Length       `json:"taper_mm" show:"so the diameter is out" as:"fine"`
	Force        units.Number       `json:"force_n" show:"under a force of" as:"0 N"`
	Places       []Place            `json:"places"`
	Ratio        units.Number       `json:"overhang_ratio" show:"it is long" as:"1 diameters"`
	RuleRatio    units.Number       `json:"rule_ratio"`
	RuleLength   units.Length       `json:"rule_length_mm"`
	WithinRule   bool               `json:"within_rule"`
	Modulus      units.Number       `json:"modulus_gpa" show:"modulus" as:"1 GPa"`
	Source       string             `json:"source"`
	Whirling     units.SpindleSpeed `json:"whirling_rpm" show:"it whirls at" as:"0 down"`
	WhirlLimit   units.SpindleSpeed `json:"whirling_limit_rpm"`
	sheet.Remarks

	material *materials.Material
	longest  stretch // by the shop's rule
}

// placesShown is how many places along the bar are worked out.
const placesShown = 5

// check returns the bar, the material, and every problem with the input.
func (in *Input) check() (Bar, *materials.Material, error) {
	var list check.List
	m, err := materials.Find(in.Material)
	list.Add(err)
	check.OneOf(&list, "support", in.Support, Supports())
	dia, length, stations := say.Key("dia"), say.Key("length"), in.Stations
	plain := in.Dia != nil || in.Length != nil
	switch {
	case plain && len(stations) > 0:
		list.Add(problem.New(problem.Contradiction, "station", nil, "give the stations, or ", dia, " and ", length))
	case len(stations) == 0 && (in.Dia == nil || in.Length == nil):
		list.Add(problem.New(problem.Missing, "dia", nil,
			"needs ", dia, " and ", length, ", or the stations of a stepped bar"))
	case plain:
		list.Above0("dia", in.Dia)
		list.Above0("length", in.Length)
		stations = []Station{{units.Length{}, *in.Dia}, {*in.Length, *in.Dia}}
	default:
		list.Add(checkStations(stations))
	}
	in.checkForce(&list)
	list.Above0("bore", in.Bore)
	if err := list.Err(); err != nil {
		return Bar{}, nil, err
	}
	b := Bar{
		Stations: stations, Steadies: in.Steadies, Support: in.Support,
		Modulus: m.Modulus().Chosen, Density: m.Density().Chosen,
	}
	if in.Bore != nil {
		b.Bore = *in.Bore
	}
	return b, m, b.check()
}

// checkForce demands the force or the cut it comes from, not both.
func (in *Input) checkForce(list *check.List) {
	depth, feed := say.Key("depth"), say.Key("feed")
	switch {
	case in.Force != nil && (in.Depth != nil || in.Feed != nil):
		list.Add(problem.New(problem.Contradiction, "force", *in.Force, "give the force, or ", depth, " and ", feed))
	case in.Force == nil && (in.Depth == nil || in.Feed == nil):
		list.Add(problem.New(problem.Missing, "force", nil,
			"needs ", say.Key("force"), ", or ", depth, " and ", feed, " of the cut"))
	default:
		list.Above0("force", in.Force)
		list.Above0("depth", in.Depth)
	}
}

// mostSteadies is how many steadies carry a bar beside a centre.
const mostSteadies = mostSupports - 1

// check returns what is wrong with the bore and the steadies of a bar whose
// outside is right.
func (b Bar) check() error {
	var list problem.List
	thinnest := b.Stations[0].Dia
	for _, s := range b.Stations {
		thinnest = units.Min(thinnest, s.Dia)
	}
	if !b.Bore.Less(thinnest) {
		list.Add(problem.New(problem.Impossible, "bore", b.Bore, "leaves nothing of the bar where it is ", thinnest))
	}
	end := b.Stations[len(b.Stations)-1].Z
	for i, z := range b.Steadies {
		switch {
		case z.Sign() <= 0 || end.Less(z) || end.Equal(z) && b.Support != Chuck:
			list.Add(problem.New(problem.OutOfRange, "steady", z,
				"stands between 0 and ", end, ", where nothing carries the bar"))
		case slices.ContainsFunc(b.Steadies[:i], z.Equal):
			list.Add(problem.New(problem.Duplicate, "steady", z, "said twice"))
		}
	}
	if n := len(b.Steadies); n > mostSteadies {
		list.Add(problem.New(problem.TooLarge, "steady", n, "at most ", mostSteadies, " steadies"))
	}
	return list.Err()
}

// Words implements say.Quantity: a station as it is asked for, z=diameter.
func (s Station) Words() (mm, inch string) { return say.Of(s.Z, "=", s.Dia).Words() }

func checkStations(stations []Station) error {
	var list problem.List
	bad := func(code problem.Code, s Station, want ...any) { list.Add(problem.New(code, "station", s, want...)) }
	for i, s := range stations {
		if s.Dia.Sign() <= 0 {
			bad(problem.OutOfRange, s, "a diameter must be above 0: a point carries no force")
		}
		if i == 0 && s.Z.Sign() != 0 {
			bad(problem.OutOfRange, s, "the first station is at the chuck, at 0")
		}
		if i > 0 && s.Z.Less(stations[i-1].Z) {
			bad(problem.Contradiction, s, "stations run outward from the chuck: this one stands before ", stations[i-1].Z)
		}
	}
	if len(list) == 0 && stations[len(stations)-1].Z.Sign() == 0 {
		station := say.Key("station")
		list.Add(problem.New(problem.Missing, "station", nil, "needs a station further out, such as ",
			station, " 0=20 ", station, " 60=12"))
	}
	return list.Err()
}

// Overhang returns how far a bar gives way under a force and how fast it may
// turn. It fails on an unknown material or support, on a bar that is not given
// or given twice, on sizes and a force that are not above 0, and on stations
// that do not run outward from 0, on a bore that leaves no metal, and on steadies
// beside the bar.
//
// The answer is no when RPM is above half of the whirling speed.
func Overhang(in Input) (Result, error) {
	bar, m, err := in.check()
	if err != nil {
		return Result{}, err
	}
	b, err := bar.Beam()
	if err != nil {
		return Result{}, err
	}
	in.Material = m.Name
	r := Result{
		Inputs: in, material: m, Modulus: units.Number(bar.Modulus), Source: m.Modulus().Source,
	}
	if in.Force != nil {
		r.Force = *in.Force
	} else {
		cutting, radial := CuttingForce(m, *in.Depth, *in.Feed)
		r.CuttingForce, r.Force = &cutting, radial
	}
	r.places(b)
	r.rule(b, bar)
	whirl := b.Whirling(bar.Density)
	r.Whirling, r.WhirlLimit = units.RPM(whirl), units.RPM(math.Floor(whirl*practice.WhirlPart.Number()))
	if in.RPM != nil && in.RPM.RPM() > r.WhirlLimit.RPM() {
		r.No(problem.New(problem.OverRating, "rpm", *in.RPM, "this bar whirls at ", units.RPM(math.Floor(whirl)),
			": run it at ", r.WhirlLimit, " at the most, or carry its end"))
	}
	if r.mayWhirl() {
		r.Caution(cautions.Whip)
	}
	r.Caution(cautions.Overhang, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// places works out the spring along the bar, and where it is worst.
func (r *Result) places(b *Beam) {
	force := float64(r.Force)
	for i := range placesShown {
		z := b.Length() * float64(i) / (placesShown - 1)
		dia, _ := b.dia(z)
		y := units.FromFloat(b.At(z, force))
		r.Places = append(r.Places, Place{units.FromFloat(z), units.FromFloat(dia), y, y.Times(2)})
	}
	z, give := b.Worst(0, b.Length())
	r.At = units.FromFloat(z).RoundTo(units.MustLength("0.01mm"), units.Nearest)
	r.Deflection = units.FromFloat(give * force)
	r.Taper = r.Deflection.Times(2)
}

// stretch is a part of a bar between what carries it, or beyond the last, and
// how many diameters the shop's rule gives it.
type stretch struct {
	from, to, most float64
	free           bool
}

// stretches returns the parts of the bar.
func (r *Result) stretches(b Bar) []stretch {
	held := b.layout().Supports
	slices.Sort(held)
	var list []stretch
	from := 0.0
	for _, z := range held {
		list = append(list, stretch{from: from, to: z, most: practice.SteadyAbove.Number()})
		from = z
	}
	if end := b.Stations[len(b.Stations)-1].Z.MM(); from < end {
		list = append(list, stretch{from: from, to: end, most: practice.Overhang.Number(r.material), free: true})
	}
	return list
}

// rule compares the stretch that is longest by the shop's rule with it.
func (r *Result) rule(b *Beam, bar Bar) {
	part := func(s stretch) float64 { return b.diameters(s.from, s.to) / s.most }
	worst := slices.MaxFunc(r.stretches(bar), func(s, t stretch) int { return cmp.Compare(part(s), part(t)) })
	r.longest = worst
	length, long := worst.to-worst.from, b.diameters(worst.from, worst.to)
	most, mean := worst.most, length/long
	r.Ratio, r.RuleRatio = units.Number(long), units.Number(most)
	r.RuleLength = units.FromFloat(most*mean).RoundTo(units.MustLength("0.1mm"), units.Down)
	r.WithinRule = length <= most*mean+1e-9
	if r.WithinRule {
		return
	}
	ratio, rule := say.Num(long, 1), say.Num(most, 1)
	another, past := say.Text("a steady"), say.Text("")
	if len(bar.Steadies) > 0 {
		another, past = "another steady", " past the steady"
	}
	if worst.free {
		r.Warn("overhang", "it sticks out ", ratio, " diameters", past, " and the rule is ", rule,
			": put a centre in its end")
	} else {
		r.Warn("overhang", "it is ", ratio, " diameters long and the rule is ", rule, ": carry it with ", another)
	}
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "How far the work springs: ", r.material.Title)
	s.Remark(&r.Deflection, "at ", r.At, " from the ", r.from())
	s.Remark(&r.Taper, "larger there than where it does not give")
	s.Remark(&r.Force, "square to the bar, away from the tool")
	if r.CuttingForce != nil {
		s.Remark(&r.Force, say.Num(practice.RadialPart.Number()*100, 0), " % of the cutting force of ",
			say.Num(float64(*r.CuttingForce), 0), " N, common practice")
	}
	within := say.Text("within it")
	if !r.WithinRule {
		within = "beyond it"
	}
	rule := say.Num(float64(r.RuleRatio), 1)
	if len(r.Inputs.Steadies) > 0 {
		within = say.Of(within, ", from ", units.FromFloat(r.longest.from), " to ", units.FromFloat(r.longest.to))
	}
	s.Remark(&r.Ratio, "the rule is ", rule, ", or ", r.RuleLength.Down(), " (common practice): ", within)
	s.Remark(&r.Modulus, r.Source)
	s.Remark(&r.Whirling, "run it at ", r.WhirlLimit, " at the most")
	if !r.mayWhirl() {
		s.Skip(&r.Whirling)
	}
	s.Figures()
	s.Table(r.Places, "Along the bar")
	if in := r.Inputs; in.Dia != nil && in.Support == Chuck && in.Bore == nil && len(in.Steadies) == 0 {
		pi, d := sheet.Let("pi", math.Pi), sheet.Let("d", in.Dia.MM())
		s.Work("I", "pi*d^4/64", math.Pi*math.Pow(in.Dia.MM(), 4)/64, "mm4", pi, d)
		s.Work("y", "64*F*L^3/(3*E*1000*pi*d^4)", r.Deflection.MM(), "mm", sheet.Let("F", float64(r.Force)),
			sheet.Let("L", in.Length.MM()), sheet.Let("E", float64(r.Modulus)), pi, d)
	}
	s.Note("Chuck, centres and slides give way too: the real spring is larger. " +
		"A light last cut, or a second pass at the same setting, takes most of it out.")
	return *s
}

// mayWhirl reports whether a shop's lathe comes near the whirling speed.
func (r Result) mayWhirl() bool { return r.WhirlLimit.RPM() < 5000 || r.Inputs.RPM != nil }

func (r Result) from() string {
	if r.Inputs.Support == Between {
		return "left centre"
	}
	return "chuck"
}
