package fits

import (
	"cmp"
	"regexp"
	"strings"
	"sync"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/tables"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// Spec is a size with the class of a hole, of a shaft, or of both.
type Spec struct {
	Size        units.Length
	Hole, Shaft *Class
}

// Text returns "20 mm H7/g6", the size as it was typed.
func (s Spec) Text() say.Text {
	var classes []Class
	for _, c := range []*Class{s.Hole, s.Shaft} {
		if c != nil {
			classes = append(classes, *c)
		}
	}
	return say.Of(s.Size.Typed(), " ", say.Join(classes, "/"))
}

// MarshalText returns the same in millimetres.
func (s Spec) MarshalText() ([]byte, error) { return []byte(s.Text().String()), nil }

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
	return Spec{}, problem.New(problem.Malformed, "fit", say.Plain(text),
		"not a fit: write a size and its classes, such as 20H7/g6, 20H7 or 20g6")
}

// spec puts the two classes in their places.
func spec(text string, size units.Length, first, second string) (Spec, error) {
	var list problem.List
	class, err := ParseClass(first)
	list.Add(err)
	switch {
	case second == "" && class.Hole():
		return Spec{size, &class, nil}, list.Err()
	case second == "":
		return Spec{size, nil, &class}, list.Err()
	}
	shaft, err := ParseClass(second)
	list.Add(err)
	if len(list) == 0 && (!class.Hole() || shaft.Hole()) {
		list.Add(problem.New(problem.Contradiction, "fit", say.Plain(text),
			"the hole comes first, in a capital, and the shaft behind the stroke, in a small letter: 20H7/g6"))
	}
	return Spec{size, &class, &shaft}, list.Err()
}

// Input is a fit, or one half of one. Heated is what the outer part is made
// of, for a shrink fit, and Slip the clearance it should then have to drop on;
// nil for a thousandth of the size.
type Input struct {
	Spec   Spec                `json:"fit"`
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
	Fit          say.Text      `json:"fit"`
	HoleMax      *units.Length `json:"hole_max_mm" show:"hole, most" as:"down"`
	HoleMin      *units.Length `json:"hole_min_mm" show:"hole, least" as:"up"`
	ShaftMax     *units.Length `json:"shaft_max_mm" show:"shaft, most" as:"down"`
	ShaftMin     *units.Length `json:"shaft_min_mm" show:"shaft, least" as:"up"`
	HoleMaxIn    *units.Number `json:"hole_max_in"`
	HoleMinIn    *units.Number `json:"hole_min_in"`
	ShaftMaxIn   *units.Number `json:"shaft_max_in"`
	ShaftMinIn   *units.Number `json:"shaft_min_in"`
	Kind         *Kind         `json:"kind" show:"kind of fit"`
	ClearanceMax *units.Length `json:"clearance_max_mm" show:"loosest" as:"fine" note:"hole less shaft; - is interference"`
	ClearanceMin *units.Length `json:"clearance_min_mm" show:"tightest" as:"fine"`
	Advice       string        `json:"advice"`
	HeatRise     *units.Number `json:"heat_rise_k" show:"warm the outer part by" as:"0 K"`
	Allowances   []Allowance   `json:"allowances"`
	sheet.Remarks
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
	r := Result{Inputs: in, Fit: in.Spec.Text()}
	var l check.List
	l.Above0To("fit", in.Spec.Size, MaxSize)
	if l.Err() == nil {
		var err error
		r.HoleMax, r.HoleMin, r.HoleMaxIn, r.HoleMinIn, err = in.Spec.limits(in.Spec.Hole)
		l.Add(err)
		r.ShaftMax, r.ShaftMin, r.ShaftMaxIn, r.ShaftMinIn, err = in.Spec.limits(in.Spec.Shaft)
		l.Add(err)
	}
	l.NotBelow0("slip", in.Slip)
	if err := l.Err(); err != nil {
		return Result{}, err
	}
	if in.Spec.Hole != nil && in.Spec.Shaft != nil {
		r.pair()
	}
	if in.Heated != nil {
		if err := r.heat(); err != nil {
			return Result{}, err
		}
	}
	r.Allowances = []Allowance{
		{"epoxy", practice.EpoxyLeast.Length(), practice.EpoxyMost.Length()},
		{"retaining compound", practice.RetainingLeast.Length(), practice.RetainingMost.Length()},
		{"a press, metal in metal", practice.PressMost.Of(in.Spec.Size).Neg(), practice.PressLeast.Of(in.Spec.Size).Neg()},
	}
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// limits returns the largest and the smallest size of a class, in inches too;
// nothing for no class.
func (s Spec) limits(c *Class) (most, least *units.Length, mostIn, leastIn *units.Number, err error) {
	if c == nil {
		return
	}
	upper, lower, err := c.Deviations(s.Size)
	inches := func(l units.Length) *units.Number { return new(units.Number(l.Over(units.MustLength("1in")))) }
	upper, lower = s.Size.Plus(upper), s.Size.Plus(lower)
	return &upper, &lower, inches(upper), inches(lower), err
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
	r.Advice = advice(r.Inputs.Spec.Hole.String()+"/"+r.Inputs.Spec.Shaft.String(), kind)
}

// preferred is the rows of the preferred fits, loosest first.
var preferred = sync.OnceValue(func() []map[string]string { return tables.Rows("preferred.csv", preferredCSV) })

// Preferred lists the preferred fits on the basic hole, loosest first.
func Preferred() []string {
	var list []string
	for _, r := range preferred() {
		list = append(list, r["hole_basis"])
	}
	return list
}

// general says what any other fit of a kind does: common practice, no source.
var general = map[Kind]string{
	Clearance:    "goes together by hand",
	Transition:   "may be loose or tight, as the two parts fall: measure and choose",
	Interference: "is pressed or shrunk together",
}

func advice(fit string, kind Kind) string {
	for _, r := range preferred() {
		if r["hole_basis"] == fit || r["shaft_basis"] == fit {
			return r["kind"] + " fit: " + r["advice"]
		}
	}
	return string(kind) + " fit: " + general[kind]
}

// heat works out how warm the outer part must be to drop on.
func (r *Result) heat() error {
	in := r.Inputs
	if r.ClearanceMin == nil || r.ClearanceMin.Sign() >= 0 {
		return problem.New(problem.Contradiction, "heat", in.Heated.Name, "only a fit with interference is shrunk on")
	}
	if in.Heated.Has(materials.HeatSpoils) {
		return problem.New(problem.Impossible, "heat", in.Heated.Name,
			"is not shrunk on: heat spoils it; glue it with a clearance")
	}
	slip := cmp.Or(in.Slip, new(practice.ShrinkSlip.Of(in.Spec.Size)))
	rise := units.Number(HeatRise(slip.Minus(*r.ClearanceMin), in.Spec.Size, in.Heated.Expansion().Chosen))
	r.HeatRise, r.Inputs.Slip = &rise, slip
	r.Caution(cautions.HotPart)
	if rise > 200 {
		r.Warn("hot", say.Num(float64(rise), 0), " K is hot enough to draw the temper of hardened steel ",
			"and to soften brass and aluminium: cool the shaft as well, or take a lighter fit")
	}
	return nil
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Fit ", r.Fit)
	if in.Spec.Hole != nil {
		s.ShowAs(&r.HoleMax, say.Of("hole ", in.Spec.Hole, ", most"), inches(r.HoleMax, units.Down))
		s.ShowAs(&r.HoleMin, say.Of("hole ", in.Spec.Hole, ", least"), inches(r.HoleMin, units.Up))
	}
	if in.Spec.Shaft != nil {
		s.ShowAs(&r.ShaftMax, say.Of("shaft ", in.Spec.Shaft, ", most"), inches(r.ShaftMax, units.Down))
		s.ShowAs(&r.ShaftMin, say.Of("shaft ", in.Spec.Shaft, ", least"), inches(r.ShaftMin, units.Up))
	}
	s.Remark(&r.Kind, r.Advice)
	if r.Kind != nil {
		s.Step("loosest", "HX - SN", r.ClearanceMax, "HX", r.HoleMax, "SN", r.ShaftMin)
		s.Step("tightest", "HN - SX", r.ClearanceMin, "HN", r.HoleMin, "SX", r.ShaftMax)
	}
	if r.HeatRise != nil {
		e := in.Heated.Expansion()
		s.Remark(&r.HeatRise, "so that it drops on with ", in.Slip, " to spare; ", in.Heated.Title, ", ",
			say.Num(e.Chosen, 3), "·10⁻⁶ per K (", e.Source, ")")
		s.Step("t", "(i + slip)/(a*D)", sheet.Num(float64(*r.HeatRise), 0, "K"),
			"i", r.ClearanceMin.Neg(), "slip", in.Slip, "a", e.Chosen*1e-6, "D", in.Spec.Size)
		s.Note("Heat evenly, and have the shaft cold, oiled and a stop in place: it grips within seconds.")
	}
	s.Figures()
	for _, x := range r.Allowances {
		s.Note("Joined by ", x.Use, " instead: hole less shaft ", x.Min, " to ", x.Max, ".")
	}
	s.Note("Never press into laminate or wood: glue it.")
	s.Note("Allowances for glue and press are common practice; the limits are those of ISO 286, at 20 deg C.")
	return *s
}

// inches words a limit to a hundredth of a thousandth on every page.
func inches(l *units.Length, dir units.Direction) units.Rounded {
	inch := units.Inch
	return units.Rounded{Length: *l, Dir: dir, More: 1, Unit: &inch}
}
