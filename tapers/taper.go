// Package tapers says what a taper is and solves one from whatever the sketch
// gives.
//
// A plain taper is a truncated cone: the large diameter D at one end, the small
// diameter d at the other, the length l between them along the axis, and the
// half angle a between the axis and the side. A plane through the axis cuts it
// in two right-angled triangles with the legs (D - d)/2 and l, so
//
//	tan a = (D - d) / (2·l)
//
// and every other way to state the slope is that one turned about:
//
//	included angle   2·a
//	1 : N            N = l / (D - d) = 1 / (2·tan a), on the diameter
//	percent          100 / N
//	taper per foot   12 / N = 24·tan a, in inches
//	slope length     l / cos a, what the compound's slide travels
//
// Half angle and included angle are never called just "angle": confusing them
// doubles or halves the taper. The included angle of a taper per foot is twice
// atan(tpf/24); atan(tpf/12) is a common slip.
//
// The packages inside this one import it: compound and tailstock set a taper
// on a machine, stages takes several in a row, fouling says what runs into what
// on the way, curves turns arcs by steps, standard holds the tapers that have a
// name, gauge measures them and puts them right, sine stacks the blocks under a
// sine bar, facets cuts flats on one.
package tapers

import (
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Input is what is known of a taper. Each field is nil when not given; the
// field's key in a problem is its flag: large, small, length, half-angle,
// included, ratio, per-foot, percent.
type Input struct {
	Large     *units.Length `json:"large_mm,omitempty"`
	Small     *units.Length `json:"small_mm,omitempty"`
	Length    *units.Length `json:"length_mm,omitempty"`
	HalfAngle *units.Angle  `json:"half_angle_deg,omitempty"`
	Included  *units.Angle  `json:"included_angle_deg,omitempty"`
	Ratio     *Ratio        `json:"ratio,omitempty"`
	PerFoot   *units.Number `json:"taper_per_foot_in,omitempty"`
	Percent   *units.Number `json:"percent,omitempty"`

	// Standard is the name the sizes come from, for the echo alone.
	Standard string `json:"standard,omitempty"`
}

// Taper is a taper solved. Large, Small, Length and SlopeLength are nil when
// only the slope is known.
type Taper struct {
	HalfAngle   units.Angle   `json:"half_angle_deg" show:"half angle" as:"minutes"`
	Included    units.Angle   `json:"included_angle_deg" show:"included angle" as:"minutes" note:"from side to side"`
	Ratio       units.Number  `json:"ratio" show:"one in" as:"4" note:"on the diameter"`
	Percent     units.Number  `json:"percent" show:"percent" as:"4 %" note:"on the diameter"`
	PerFoot     units.Number  `json:"taper_per_foot_in" show:"taper per foot" as:"4 in" note:"on the diameter"`
	Large       *units.Length `json:"large_mm" show:"large diameter"`
	Small       *units.Length `json:"small_mm" show:"small diameter"`
	Length      *units.Length `json:"length_mm" show:"length" note:"along the axis"`
	SlopeLength *units.Length `json:"slope_length_mm" show:"slope length" note:"along the side"`
}

// End says at which end of the lathe a taper is small.
type End string

// The two ends.
const (
	AtTailstock End = "tailstock"
	AtHeadstock End = "headstock"
)

// Ends are the words for an end.
var Ends = []End{AtTailstock, AtHeadstock}

// Ratio is a taper on the diameter written M:N, as in 1:20 or 7:24.
type Ratio struct{ M, N decimal.Decimal }

// ParseRatio reads "1:20" or "7:24": two numbers above 0.
func ParseRatio(text string) (Ratio, error) {
	m, n, ok := strings.Cut(text, ":")
	var parts [2]decimal.Decimal
	for i, part := range []string{m, n} {
		d, err := decimal.NewFromString(strings.TrimSpace(part))
		if !ok || err != nil || d.Sign() <= 0 || strings.ContainsAny(part, "eE+") || len(part) > 12 {
			return Ratio{}, problem.New(problem.Malformed, "ratio", text, "not a taper on the diameter: write 1:20 or 7:24")
		}
		parts[i] = d
	}
	return Ratio{parts[0], parts[1]}, nil
}

// String returns "7:24".
func (r Ratio) String() string { return r.M.String() + ":" + r.N.String() }

// MarshalJSON returns N of 1:N as a number.
func (r Ratio) MarshalJSON() ([]byte, error) {
	return []byte(r.N.DivRound(r.M, 9).String()), nil
}

// HalfAngle returns the half angle of a taper from D to d over the length l:
//
//	a = atan((D - d) / (2·l))
//
// D and d are diameters with D > d >= 0, l > 0. The result is float64, good to
// 1e-13 deg.
//
// Source: elementary; the worked form is in NAVEDTRA 14076, lathe chapter.
func HalfAngle(large, small, length units.Length) units.Angle {
	return units.Radians(math.Atan2(large.Minus(small).MM(), 2*length.MM()))
}

// HalfAngleOfRatio returns the half angle of a taper of M in N on the
// diameter: atan(M/(2·N)).
func HalfAngleOfRatio(r Ratio) units.Angle {
	return units.Radians(math.Atan2(r.M.InexactFloat64(), 2*r.N.InexactFloat64()))
}

func checkSizes(large, small, length *units.Length) error {
	var bad check.List
	bad.Above0("large", large)
	bad.NotBelow0("small", small)
	bad.Above0("length", length)
	if len(bad.List) == 0 && large != nil && small != nil {
		bad.Above("large", large, *small, "the small diameter")
	}
	return bad.Err()
}

// slope is one statement of a slope: the key it came from (none: the sizes),
// how it was written and its half angle.
type slope struct {
	key  string
	text say.Text
	half units.Angle
}

// slopes returns every slope that was stated, or the problems with them.
func (in Input) slopes() ([]slope, error) {
	var bad check.List
	bad.Inside("half-angle", in.HalfAngle, units.Degrees(0), units.Degrees(90))
	bad.Inside("included", in.Included, units.Degrees(0), units.Degrees(180))
	bad.Above0("per-foot", in.PerFoot)
	bad.Above0("percent", in.Percent)
	var list []slope
	add := func(key string, half units.Angle, text ...any) {
		list = append(list, slope{key, say.Of(text...), half})
	}
	if a := in.HalfAngle; a != nil {
		add("half-angle", *a, a)
	}
	if a := in.Included; a != nil {
		add("included", a.Half(), a)
	}
	if r := in.Ratio; r != nil {
		add("ratio", HalfAngleOfRatio(*r), r)
	}
	if n := in.PerFoot; n != nil {
		add("per-foot", units.Radians(math.Atan(float64(*n)/24)), say.Num(float64(*n), 9), " in/ft")
	}
	if n := in.Percent; n != nil {
		add("percent", units.Radians(math.Atan(float64(*n)/200)), say.Num(float64(*n), 9), " %")
	}
	return list, bad.Err()
}

// theSizes names the sizes of a taper in a sentence.
func theSizes() say.Text {
	return say.Of(say.Key("large"), ", ", say.Key("small"), " and ", say.Key("length"))
}

// NeedsSizes returns the problem of something that a slope alone does not give.
func NeedsSizes(key, what string) problem.Problem {
	return problem.New(problem.Missing, key, nil, what, " the taper's sizes: two of ", theSizes(), " beside the slope")
}

// agree is how far two statements of one taper may lie apart on the diameter:
// half of the finest division of an ordinary cross-slide dial.
var agree = units.MustLength("0.005mm")

// Solve returns the taper that in states. Any of these is enough: a slope
// alone; a slope with one diameter and the length; a slope with both
// diameters; both diameters and the length. More than enough must agree to
// 0.005 mm on the diameter over the length, and two slopes to the same over
// 100 mm; the problem says by how much they do not. Sizes come out rounded to
// 1e-9 mm.
//
// It fails on sizes out of range, on too few facts (and names what is
// missing), on contradictory ones, and when the small diameter would come out
// negative.
func Solve(in Input) (Taper, error) {
	slopes, err := in.slopes()
	var bad problem.List
	bad.Add(err)
	bad.Add(checkSizes(in.Large, in.Small, in.Length))
	if len(bad) > 0 {
		return Taper{}, bad
	}
	t := Taper{Large: in.Large, Small: in.Small, Length: in.Length}
	var given []say.Text
	for _, o := range []check.Option{
		check.If("large", in.Large), check.If("small", in.Small), check.If("length", in.Length),
	} {
		if o.Given {
			given = append(given, say.Key(o.Key))
		}
	}
	only := say.Text("")
	if len(given) > 0 {
		only = "only " + say.Join(given, " and ")
	}
	switch {
	case len(given) == 3:
		t.HalfAngle = HalfAngle(*in.Large, *in.Small, *in.Length)
		slopes = append([]slope{{half: t.HalfAngle}}, slopes...)
	case len(slopes) == 0:
		return Taper{}, problem.New(problem.Missing, "taper", only, "needs one of ", say.Choice([]say.Text{
			say.Key("half-angle"), say.Key("included"), say.Key("ratio"), say.Key("per-foot"), say.Key("percent"),
		}), ", or all of ", theSizes())
	case len(given) == 1:
		return Taper{}, problem.New(problem.Missing, "taper", only,
			"needs two of ", theSizes(), " beside the slope, or the slope alone")
	default:
		t.HalfAngle = slopes[0].half
	}
	if err := in.consistent(slopes); err != nil {
		return Taper{}, err
	}
	if err := t.fill(len(given)); err != nil {
		return Taper{}, err
	}
	tan := t.HalfAngle.Tan()
	t.Included = t.HalfAngle.Times(2)
	t.Ratio, t.Percent, t.PerFoot = units.Number(1/(2*tan)), units.Number(200*tan), units.Number(24*tan)
	return t, nil
}

// consistent compares every stated slope with the first.
func (in Input) consistent(slopes []slope) error {
	over := units.Millimetres(100)
	if in.Length != nil {
		over = *in.Length
	}
	first := slopes[0]
	name := say.Key(first.key)
	if first.key == "" {
		name = theSizes()
	}
	var bad problem.List
	for _, s := range slopes[1:] {
		apart := units.FromFloat(2 * over.MM() * (s.half.Tan() - first.half.Tan())).Abs()
		if apart.Cmp(agree) > 0 {
			bad.Add(problem.New(problem.Contradiction, s.key, s.text, "contradicts ", name,
				": half angle ", say.Num(s.half.Deg(), 4), " deg against ", say.Num(first.half.Deg(), 4), " deg, ",
				apart, " apart on the diameter over ", over))
		}
	}
	return bad.Err()
}

// fill computes the missing one of Large, Small and Length from the other two
// and the half angle, and the slope length.
func (t *Taper) fill(given int) error {
	tan := t.HalfAngle.Tan()
	switch {
	case given < 2:
		return nil
	case t.Length == nil:
		t.Length = new(units.FromFloat(t.Large.Minus(*t.Small).MM() / (2 * tan)))
	case t.Large == nil:
		t.Large = new(t.Small.Plus(units.FromFloat(2 * t.Length.MM() * tan)))
	case t.Small == nil:
		d := t.Large.Minus(units.FromFloat(2 * t.Length.MM() * tan))
		if d.Sign() < 0 {
			most := units.FromFloat(t.Large.MM() / (2 * tan))
			most = most.RoundTo(units.MustLength("0.000001mm"), units.Nearest) // no last bits
			return problem.New(problem.Impossible, "length", t.Length,
				"the taper comes to a point first: at most ", most.Down(), " from ", t.Large, " with this slope")
		}
		t.Small = &d
	}
	t.SlopeLength = new(units.FromFloat(t.Length.MM() / t.HalfAngle.Cos()))
	return nil
}

// Solution is the answer to "what taper is this?".
type Solution struct {
	Inputs Input `json:"inputs"`
	Taper
	sheet.Remarks
}

// SolveSheet solves a taper and returns it with what was asked.
func SolveSheet(in Input) (Solution, error) {
	t, err := Solve(in)
	return Solution{Inputs: in, Taper: t}, err
}

// Sheet implements sheet.Result.
func (s Solution) Sheet() sheet.Sheet {
	out := sheet.Of(&s, "Taper")
	s.Explain(out)
	out.Figures()
	return *out
}

// Explain says on the sheet of a result that holds t what the half angle is,
// and gives the formulas that turn what is known into the taper.
func (t *Taper) Explain(s *sheet.Sheet) {
	s.Remark(&t.HalfAngle, "from the axis to the side; what a compound is set to")
	if t.SlopeLength != nil {
		t.WorkSlope(s)
		s.Step("s", "l/cos(a)", t.SlopeLength, "l", t.Length, "a", t.HalfAngle)
	}
	s.Step("included", "2*a", t.Included, "a", t.HalfAngle)
	s.Step("N", "1/(2*tan(a))", t.Ratio, "a", t.HalfAngle)
	s.Step("tpf", "24*tan(a)", sheet.Number{V: float64(t.PerFoot), Unit: "in"}, "a", t.HalfAngle)
}

// WorkSlope gives the formula of the half angle by the sizes, which are known.
func (t *Taper) WorkSlope(s *sheet.Sheet) {
	s.Step("a", "atan((D - d)/(2*l))", t.HalfAngle, "D", t.Large, "d", t.Small, "l", t.Length)
}
