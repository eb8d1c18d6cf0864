package fits

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/page/sheet"
)

// Spec is a size with the class of a hole, of a shaft, or of both.
type Spec struct {
	Size        units.Length
	Hole, Shaft *Class
}

// String returns "20 mm H7/g6".
func (s Spec) String() string {
	text := s.Size.String() + " "
	if s.Hole != nil {
		text += s.Hole.String()
	}
	if s.Hole != nil && s.Shaft != nil {
		text += "/"
	}
	if s.Shaft != nil {
		text += s.Shaft.String()
	}
	return text
}

// MarshalText returns the same text as String.
func (s Spec) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

var classText = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z]{1,2}[0-9]{1,2}$`) })

// ParseSpec reads "20H7/g6", "20H7", "20g6", "3/8in H7" and the like: a size
// as units.ParseLength reads it, then the class of the hole, of the shaft, or
// the hole's and the shaft's with a stroke between.
func ParseSpec(text string, bare units.Unit) (Spec, error) {
	whole, second := text, ""
	if i := strings.LastIndex(text, "/"); i >= 0 && classText().MatchString(text[i+1:]) {
		whole, second = text[:i], text[i+1:]
	}
	grade := len(strings.TrimRight(whole, "0123456789"))
	malformed := problem.New(problem.Malformed, "fit", text, "not a fit: write a size and its classes, such as 20H7/g6, 20H7 or 20g6")
	for _, n := range []int{1, 2} { // the letters before the grade
		if grade < n+1 || grade == len(whole) {
			break
		}
		size, err := units.ParseLength(strings.TrimSpace(whole[:grade-n]), bare)
		if err != nil {
			continue
		}
		return spec(text, size, whole[grade-n:], second)
	}
	return Spec{}, malformed
}

// spec puts the two classes in their places.
func spec(text string, size units.Length, first, second string) (Spec, error) {
	s := Spec{Size: size}
	var list problem.List
	var classes []Class
	for _, c := range []string{first, second} {
		if c == "" {
			continue
		}
		class, err := ParseClass(c)
		list.Add(err)
		classes = append(classes, class)
	}
	switch {
	case len(list) > 0:
		return Spec{}, list
	case len(classes) == 2 && (!classes[0].Hole() || classes[1].Hole()):
		return Spec{}, problem.New(problem.Contradiction, "fit", text, "the hole comes first, in a capital, and the shaft behind the stroke, in a small letter: 20H7/g6")
	}
	for i := range classes {
		if classes[i].Hole() {
			s.Hole = &classes[i]
		} else {
			s.Shaft = &classes[i]
		}
	}
	return s, nil
}

// Input is a fit, or one half of one. Heated is what the outer part is made
// of, for a shrink fit, and Slip the clearance it should then have to drop on;
// nil for a thousandth of the size.
type Input struct {
	Spec
	Heated *materials.Material `json:"-"`
	Slip   *units.Length       `json:"slip_mm,omitempty"`
}

// Kind is what two parts do.
type Kind string

// The kinds of fit.
const (
	Clearance    Kind = "clearance"
	Transition   Kind = "transition"
	Interference Kind = "interference"
)

// Allowance is what to leave on the diameter for another way of joining: a
// clearance with +, an interference with -.
type Allowance struct {
	Use string       `json:"use"`
	Min units.Length `json:"clearance_min_mm"`
	Max units.Length `json:"clearance_max_mm"`
}

// Result is the limits of a size and what the fit comes to. What is not asked
// for is nil. Clearances are hole minus shaft: below 0 it is an interference.
type Result struct {
	Inputs       Input         `json:"inputs"`
	Fit          string        `json:"fit"`
	HoleMax      *units.Length `json:"hole_max_mm"`
	HoleMin      *units.Length `json:"hole_min_mm"`
	ShaftMax     *units.Length `json:"shaft_max_mm"`
	ShaftMin     *units.Length `json:"shaft_min_mm"`
	HoleMaxIn    *units.Number `json:"hole_max_in"`
	HoleMinIn    *units.Number `json:"hole_min_in"`
	ShaftMaxIn   *units.Number `json:"shaft_max_in"`
	ShaftMinIn   *units.Number `json:"shaft_min_in"`
	ClearanceMax *units.Length `json:"clearance_max_mm"`
	ClearanceMin *units.Length `json:"clearance_min_mm"`
	Kind         *Kind         `json:"kind"`
	Advice       string        `json:"advice"`
	HeatRise     *units.Number `json:"heat_rise_k"`
	Allowances   []Allowance   `json:"allowances"`
	sheet.Remarks
}

// inches returns a length in inches.
func inches(l units.Length) *units.Number {
	n := units.Number(l.Over(units.MustLength("1in")))
	return &n
}

// HeatRise returns how much warmer an outer part must be for its bore, of the
// size D, to be larger by i:
//
//	t = i/(a·D)
//
// a is the coefficient of linear expansion in 1e-6/K, D above 0. The result is
// in kelvins, for an expansion that does not change with the temperature: good
// to a few percent for metals below 200 deg C.
//
// Source: elementary.
func HeatRise(interference, size units.Length, expansion float64) float64 {
	return interference.MM() / (expansion * 1e-6 * size.MM())
}

// Of returns the limits of a fit. It fails where Class.Deviations does, and
// when Slip is negative or Heated is given without an interference.
func Of(in Input) (Result, error) {
	r := Result{Inputs: in, Fit: in.Spec.String()}
	var list problem.List
	if in.Hole != nil {
		upper, lower, err := in.Hole.Deviations(in.Size)
		list.Add(err)
		most, least := in.Size.Plus(upper), in.Size.Plus(lower)
		r.HoleMax, r.HoleMin, r.HoleMaxIn, r.HoleMinIn = &most, &least, inches(most), inches(least)
	}
	if in.Shaft != nil && (len(list) == 0 || checkSize(in.Size) == nil) {
		upper, lower, err := in.Shaft.Deviations(in.Size)
		list.Add(err)
		most, least := in.Size.Plus(upper), in.Size.Plus(lower)
		r.ShaftMax, r.ShaftMin, r.ShaftMaxIn, r.ShaftMinIn = &most, &least, inches(most), inches(least)
	}
	if in.Slip != nil && in.Slip.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "slip", in.Slip, "cannot be negative"))
	}
	if len(list) > 0 {
		return Result{}, list
	}
	if in.Hole != nil && in.Shaft != nil {
		r.pair()
	}
	if in.Heated != nil {
		if err := r.heat(); err != nil {
			return Result{}, err
		}
	}
	r.allow()
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// pair works out what the hole and the shaft do together.
func (r *Result) pair() {
	loosest, tightest := r.HoleMax.Minus(*r.ShaftMin), r.HoleMin.Minus(*r.ShaftMax)
	kind := Transition
	switch {
	case tightest.Sign() >= 0:
		kind = Clearance
	case loosest.Sign() <= 0:
		kind = Interference
	}
	r.ClearanceMax, r.ClearanceMin, r.Kind = &loosest, &tightest, &kind
	r.Advice = advice(r.Inputs.Hole.String()+"/"+r.Inputs.Shaft.String(), kind)
}

// preferred is the preferred fits: the fit, written either way, and its name.
var preferred = sync.OnceValue(func() map[string]string {
	list := map[string]string{}
	for _, r := range tables.Rows("preferred.csv", preferredCSV) {
		list[r["hole_basis"]], list[r["shaft_basis"]] = r["kind"], r["kind"]
	}
	return list
})

// Preferred lists the preferred fits on the basic hole, loosest first.
func Preferred() []string {
	var list []string
	for _, r := range tables.Rows("preferred.csv", preferredCSV) {
		list = append(list, r["hole_basis"])
	}
	return list
}

// plain says what a kind of fit is good for: common practice, no source.
var plain = map[string]string{
	"loose running":           "loose: dirt, paint and heat do not jam it",
	"free running":            "runs freely at speed, with oil, where running true does not matter much",
	"close running":           "runs true at moderate speed, with oil",
	"sliding":                 "slides and turns by hand, and does not shake",
	"locational clearance":    "goes together by hand and locates; it does not run",
	"locational transition":   "goes together with a mallet or a light press, and locates",
	"locational interference": "goes in under a press and stays, for position more than for torque",
	"medium drive":            "a press fit for steel, a shrink fit for light parts",
	"force":                   "a shrink fit: heat the outer part",
	string(Clearance):         "goes together by hand",
	string(Transition):        "may be loose or tight, as the two parts fall: measure and choose",
	string(Interference):      "is pressed or shrunk together",
}

func advice(fit string, kind Kind) string {
	if name, ok := preferred()[fit]; ok {
		return name + " fit: " + plain[name]
	}
	return string(kind) + " fit: " + plain[string(kind)]
}

// heat works out how warm the outer part must be to drop on.
func (r *Result) heat() error {
	in := r.Inputs
	if r.ClearanceMin == nil || r.ClearanceMin.Sign() >= 0 {
		return problem.New(problem.Contradiction, "heat", in.Heated.Name, "only a fit with interference is shrunk on")
	}
	if slices.Contains([]materials.Group{materials.Plastic, materials.Laminate, materials.Wood}, in.Heated.Group) {
		return problem.New(problem.Impossible, "heat", in.Heated.Name, "is not shrunk on: heat spoils it; glue it with a clearance")
	}
	slip := units.FromFloat(in.Size.MM() / 1000)
	if in.Slip != nil {
		slip = *in.Slip
	}
	rise := units.Number(HeatRise(slip.Minus(*r.ClearanceMin), in.Size, in.Heated.Expansion().Chosen))
	r.HeatRise, r.Inputs.Slip = &rise, &slip
	r.Caution(cautions.HotPart)
	if rise > 200 {
		r.Warnings.Add("hot", fmt.Sprintf("%.0f K is hot enough to draw the temper of hardened steel and to soften brass and aluminium: cool the shaft as well, or take a lighter fit", float64(rise)))
	}
	return nil
}

// allow fills in what to leave for glue and for a press: common practice, no
// source.
func (r *Result) allow() {
	mm := units.MustLength
	d := r.Inputs.Size.MM()
	r.Allowances = []Allowance{
		{"epoxy", mm("0.10mm"), mm("0.20mm")},
		{"retaining compound", mm("0.03mm"), mm("0.05mm")},
		{"a press, metal in metal", units.FromFloat(-d / 1000), units.FromFloat(-d / 2000)},
	}
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Sheet{Title: "Fit " + r.Fit, Warnings: r.Warnings, Cautions: r.Cautions}
	add := func(key, name string, most, least *units.Length) {
		if most == nil {
			return
		}
		s.Facts = append(s.Facts,
			sheet.Fact{Key: key + "_max_mm", Label: name + ", most", Value: sheet.Down(*most), Remark: most.Fixed(units.Inch, 5, units.Down) + " in"},
			sheet.Fact{Key: key + "_min_mm", Label: name + ", least", Value: sheet.Up(*least), Remark: least.Fixed(units.Inch, 5, units.Up) + " in"})
	}
	add("hole", partName("hole", in.Hole), r.HoleMax, r.HoleMin)
	add("shaft", partName("shaft", in.Shaft), r.ShaftMax, r.ShaftMin)
	if r.Kind != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "kind", Label: "kind of fit", Value: sheet.Text(*r.Kind), Remark: r.Advice},
			sheet.Fact{Key: "clearance_max_mm", Label: "loosest", Value: sheet.Fine(*r.ClearanceMax), Remark: "hole less shaft; - is interference"},
			sheet.Fact{Key: "clearance_min_mm", Label: "tightest", Value: sheet.Fine(*r.ClearanceMin)})
		s.Working = []sheet.Step{
			sheet.Work("loosest", "HX - SN", r.ClearanceMax.MM(), "mm", sheet.Let("HX", r.HoleMax.MM()), sheet.Let("SN", r.ShaftMin.MM())),
			sheet.Work("tightest", "HN - SX", r.ClearanceMin.MM(), "mm", sheet.Let("HN", r.HoleMin.MM()), sheet.Let("SX", r.ShaftMax.MM())),
		}
	}
	if r.HeatRise != nil {
		e := in.Heated.Expansion()
		s.Facts = append(s.Facts, sheet.Fact{Key: "heat_rise_k", Label: "warm the outer part by", Value: sheet.Num(float64(*r.HeatRise), 0, "K"), Remark: fmt.Sprintf(
			"so that it drops on with %v to spare; %s, %g·10⁻⁶ per K (%s)", in.Slip, in.Heated.Title, e.Chosen, e.Source)})
		s.Working = append(s.Working, sheet.Work("t", "(i + slip)/(a*D)", float64(*r.HeatRise), "K",
			sheet.Let("i", r.ClearanceMin.Neg().MM()), sheet.Let("slip", in.Slip.MM()), sheet.Let("a", e.Chosen*1e-6), sheet.Let("D", in.Size.MM())))
		s.Notes = append(s.Notes, "Heat evenly, and have the shaft cold, oiled and a stop in place: it grips within seconds.")
	}
	for _, x := range r.Allowances {
		s.Notes = append(s.Notes, fmt.Sprintf("Joined by %s instead: hole less shaft %s to %s mm.", x.Use, x.Min.Fixed(units.MM, 3, units.Nearest), x.Max.Fixed(units.MM, 3, units.Nearest)))
	}
	s.Notes = append(s.Notes, "Never press into laminate or wood: glue it.", "Allowances for glue and press are common practice; the limits are those of ISO 286, at 20 deg C.")
	return s
}

// partName names a part with its class.
func partName(name string, c *Class) string {
	if c == nil {
		return name
	}
	return name + " " + c.String()
}
