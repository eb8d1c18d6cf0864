package tapers

import (
	"fmt"
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"setover/setup/base/problem"
	"setover/setup/base/units"
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
	Large       *units.Length `json:"large_mm"`
	Small       *units.Length `json:"small_mm"`
	Length      *units.Length `json:"length_mm"`
	HalfAngle   units.Angle   `json:"half_angle_deg"`
	Included    units.Angle   `json:"included_angle_deg"`
	Ratio       units.Number  `json:"ratio"`
	Percent     units.Number  `json:"percent"`
	PerFoot     units.Number  `json:"taper_per_foot_in"`
	SlopeLength *units.Length `json:"slope_length_mm"`
}

// End says at which end of the lathe a taper is small.
type End string

// The two ends.
const (
	AtTailstock End = "tailstock"
	AtHeadstock End = "headstock"
)

// Check returns the problem of an end that is neither.
func (e End) Check() error {
	if e == AtTailstock || e == AtHeadstock {
		return nil
	}
	return problem.New(problem.Unknown, "small-end", string(e), "not an end of the lathe: write tailstock or headstock").
		Near([]string{string(AtTailstock), string(AtHeadstock)})
}

// Ratio is a taper on the diameter written M:N, as in 1:20 or 7:24.
type Ratio struct{ M, N decimal.Decimal }

// ParseRatio reads "1:20" or "7:24": two numbers above 0.
func ParseRatio(text string) (Ratio, error) {
	m, n, ok := strings.Cut(text, ":")
	var r Ratio
	for i, part := range []string{m, n} {
		d, err := decimal.NewFromString(strings.TrimSpace(part))
		if !ok || err != nil || d.Sign() <= 0 || strings.ContainsAny(part, "eE+") || len(part) > 12 {
			return Ratio{}, problem.New(problem.Malformed, "ratio", text, "not a taper on the diameter: write 1:20 or 7:24")
		}
		if i == 0 {
			r.M = d
		} else {
			r.N = d
		}
	}
	return r, nil
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
// 1e-13 deg. It fails when D is not above d, d is negative or l not above 0.
//
// Source: elementary; the worked form is in NAVEDTRA 14076, lathe chapter.
func HalfAngle(large, small, length units.Length) (units.Angle, error) {
	if err := checkSizes(&large, &small, &length); err != nil {
		return units.Angle{}, err
	}
	return units.Radians(math.Atan2(large.Minus(small).MM(), 2*length.MM())), nil
}

// PerFoot returns the taper per foot of a half angle, in inches on the
// diameter: 24·tan a. a is above 0 and below 90 deg.
func PerFoot(half units.Angle) float64 { return 24 * half.Tan() }

// HalfAngleOfPerFoot returns the half angle of a taper per foot in inches on
// the diameter: atan(tpf/24). tpf is above 0.
func HalfAngleOfPerFoot(tpf float64) units.Angle { return units.Radians(math.Atan(tpf / 24)) }

// HalfAngleOfRatio returns the half angle of a taper of M in N on the
// diameter: atan(M/(2·N)).
func HalfAngleOfRatio(r Ratio) units.Angle {
	return units.Radians(math.Atan2(r.M.InexactFloat64(), 2*r.N.InexactFloat64()))
}

func checkSizes(large, small, length *units.Length) error {
	var list problem.List
	if large != nil && large.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "large", large, "the large diameter must be above 0"))
	}
	if small != nil && small.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "small", small, "the small diameter cannot be negative"))
	}
	if length != nil && length.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "length", length, "the length must be above 0"))
	}
	if len(list) == 0 && large != nil && small != nil && large.Cmp(*small) <= 0 {
		want := fmt.Sprintf("the large diameter must be larger than the small one, %v", *small)
		list.Add(problem.New(problem.OutOfRange, "large", large, want))
	}
	return list.Err()
}

// slope is one statement of a slope: the flag it came from and its half angle.
type slope struct {
	key, text string
	half      units.Angle
}

// slopes returns every slope that was stated, or the problems with them.
func (in Input) slopes() ([]slope, error) {
	var list []slope
	var bad problem.List
	angle := func(key string, a *units.Angle, most, part float64) {
		if a == nil {
			return
		}
		if a.Deg() <= 0 || a.Deg() >= most {
			bad.Add(problem.New(problem.OutOfRange, key, a, fmt.Sprintf("must be above 0 and below %g deg", most)))
			return
		}
		list = append(list, slope{key, a.String(), a.Times(part)})
	}
	positive := func(key string, d *units.Number, per float64, unit string) {
		if d == nil {
			return
		}
		if *d <= 0 {
			bad.Add(problem.New(problem.OutOfRange, key, *d, "must be above 0"))
			return
		}
		list = append(list, slope{key, fmt.Sprint(*d) + unit, units.Radians(math.Atan(float64(*d) / per))})
	}
	angle("half-angle", in.HalfAngle, 90, 1)
	angle("included", in.Included, 180, 0.5)
	if in.Ratio != nil {
		list = append(list, slope{"ratio", in.Ratio.String(), HalfAngleOfRatio(*in.Ratio)})
	}
	positive("per-foot", in.PerFoot, 24, " in/ft")
	positive("percent", in.Percent, 200, " %")
	return list, bad.Err()
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
	var list problem.List
	list.Add(err)
	list.Add(checkSizes(in.Large, in.Small, in.Length))
	if len(list) > 0 {
		return Taper{}, list
	}
	t := Taper{Large: in.Large, Small: in.Small, Length: in.Length}
	sizes := 0
	for _, l := range []*units.Length{in.Large, in.Small, in.Length} {
		if l != nil {
			sizes++
		}
	}
	switch {
	case sizes == 3:
		t.HalfAngle, err = HalfAngle(*in.Large, *in.Small, *in.Length)
		if err != nil {
			return Taper{}, err
		}
		slopes = append([]slope{{"large, small and length", "", t.HalfAngle}}, slopes...)
	case len(slopes) == 0:
		return Taper{}, in.missing("needs one of --half-angle, --included, --ratio, --per-foot or --percent, or all of --large, --small and --length")
	case sizes == 1:
		return Taper{}, in.missing("needs two of --large, --small and --length beside the slope, or the slope alone")
	default:
		t.HalfAngle = slopes[0].half
	}
	if err := in.consistent(slopes); err != nil {
		return Taper{}, err
	}
	if sizes >= 2 {
		if err := t.fill(); err != nil {
			return Taper{}, err
		}
	}
	tan := t.HalfAngle.Tan()
	t.Included = t.HalfAngle.Times(2)
	t.Ratio, t.Percent, t.PerFoot = units.Number(1/(2*tan)), units.Number(200*tan), units.Number(24*tan)
	return t, nil
}

// missing returns the problem of too few facts.
func (in Input) missing(want string) error {
	var have []string
	for _, f := range []struct {
		name  string
		given bool
	}{
		{"large", in.Large != nil}, {"small", in.Small != nil}, {"length", in.Length != nil},
	} {
		if f.given {
			have = append(have, "--"+f.name)
		}
	}
	found := ""
	if len(have) > 0 {
		found = "only " + strings.Join(have, " and ")
	}
	return problem.New(problem.Missing, "taper", found, want)
}

// consistent compares every stated slope with the first.
func (in Input) consistent(slopes []slope) error {
	over := units.Millimetres(100)
	if in.Length != nil {
		over = *in.Length
	}
	var list problem.List
	for _, s := range slopes[1:] {
		apart := units.FromFloat(2 * over.MM() * (s.half.Tan() - slopes[0].half.Tan()))
		if apart.Abs().Cmp(agree) <= 0 {
			continue
		}
		list.Add(problem.New(problem.Contradiction, s.key, s.text, fmt.Sprintf(
			"contradicts %s: half angle %.4f deg against %.4f deg, %s mm apart on the diameter over %v",
			slopes[0].key, s.half.Deg(), slopes[0].half.Deg(), apart.Abs().Fixed(units.MM, 3, units.Nearest), over)))
	}
	return list.Err()
}

// fill computes the missing one of Large, Small and Length from the other two
// and the half angle, and the slope length.
func (t *Taper) fill() error {
	tan := t.HalfAngle.Tan()
	switch {
	case t.Length == nil:
		l := units.FromFloat(t.Large.Minus(*t.Small).MM() / (2 * tan))
		t.Length = &l
	case t.Large == nil:
		d := t.Small.Plus(units.FromFloat(2 * t.Length.MM() * tan))
		t.Large = &d
	case t.Small == nil:
		d := t.Large.Minus(units.FromFloat(2 * t.Length.MM() * tan))
		if d.Sign() < 0 {
			most := units.FromFloat(t.Large.MM() / (2 * tan))
			return problem.New(problem.Impossible, "length", t.Length, fmt.Sprintf(
				"the taper comes to a point first: at most %s mm from %v with this slope", most.Fixed(units.MM, 3, units.Down), t.Large))
		}
		t.Small = &d
	}
	s := units.FromFloat(t.Length.MM() / t.HalfAngle.Cos())
	t.SlopeLength = &s
	return nil
}
