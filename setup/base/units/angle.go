package units

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"setover/setup/base/problem"
)

// Angle is an angle in degrees, float64.
type Angle struct{ deg float64 }

const angleForms = "6.25deg, 6d15m, 6d15m30s or 6°15'30\""

// maxAngle bounds every angle that is read: ten turns, in degrees.
const maxAngle = 3600

// Degrees returns the angle of deg degrees. It panics on a value that is no
// number or infinite.
func Degrees(deg float64) Angle {
	if math.IsNaN(deg) || math.IsInf(deg, 0) {
		panic("units: an angle that is no number")
	}
	return Angle{deg}
}

// Radians returns the angle of rad radians.
func Radians(rad float64) Angle { return Degrees(rad * 180 / math.Pi) }

// ParseAngle reads an angle: degrees with an optional unit, or degrees,
// minutes and seconds.
//
//	6.25  6.25deg  6.25°  6d15m  6d15m30s  6°15'  6°15'30"  4'  4'30"
//
// Minutes and seconds are whole below 60, the last may have decimals. A comma
// is refused. Angles up to 3600 deg either way are read.
func ParseAngle(text string) (Angle, error) {
	number, rest := split(text)
	if strings.HasPrefix(rest, "'") || strings.HasPrefix(rest, "′") {
		return smallAngle(number, rest, text)
	}
	d, err := parseDecimal(number, "an angle", text, angleForms)
	if err != nil {
		return Angle{}, err
	}
	deg := d.Abs().InexactFloat64()
	switch {
	case rest == "" || rest == "deg" || rest == "°" || rest == "d":
	case strings.HasPrefix(rest, "d") || strings.HasPrefix(rest, "°"):
		part, err := minutes(rest, text)
		if err != nil {
			return Angle{}, err
		}
		if !d.IsInteger() {
			return Angle{}, bad(problem.Malformed, "an angle", text, "degrees with minutes are whole")
		}
		deg += part
	default:
		return Angle{}, wrongUnit("an angle", rest, text, angleForms, "deg")
	}
	if deg > maxAngle {
		return Angle{}, bad(problem.OutOfRange, "an angle", text, "more than ten turns: up to 3600 deg is read")
	}
	if strings.HasPrefix(number, "-") {
		deg = -deg
	}
	return Angle{deg}, nil
}

// smallAngle reads an angle below a degree: minutes, and seconds behind them.
func smallAngle(number, rest, text string) (Angle, error) {
	behind := "d" + strings.TrimPrefix(number, "-") + rest
	deg, err := minutes(behind, text)
	if strings.HasPrefix(number, "-") {
		deg = -deg
	}
	return Angle{deg}, err
}

// minutes reads the minutes and seconds behind the degrees, from the mark of
// the degrees on, and returns them in degrees.
func minutes(rest, text string) (deg float64, err error) {
	malformed := func(want string) (float64, error) {
		return 0, bad(problem.Malformed, "an angle", text, want)
	}
	rest = strings.NewReplacer("°", "d", "'", "m", "′", "m", `"`, "s", "″", "s").Replace(rest)[1:]
	for i, mark := range []string{"m", "s"} {
		if rest == "" {
			break
		}
		part, after, ok := strings.Cut(rest, mark)
		if !ok || part == "" {
			return malformed("not an angle: write " + angleForms)
		}
		p, err := parseDecimal(part, "an angle", text, angleForms)
		if err != nil {
			return 0, err
		}
		v := p.InexactFloat64()
		if v < 0 || v >= 60 {
			return malformed("minutes and seconds run from 0 to 59")
		}
		if !p.IsInteger() && after != "" {
			return malformed("only the last part of an angle may have decimals")
		}
		deg += v / math.Pow(60, float64(i+1))
		rest = after
	}
	if rest != "" {
		return malformed("not an angle: write " + angleForms)
	}
	return deg, nil
}

// MustAngle is ParseAngle for text known to be right. It panics on any other.
func MustAngle(text string) Angle {
	a, err := ParseAngle(text)
	if err != nil {
		panic(err)
	}
	return a
}

// Deg returns the angle in degrees.
func (a Angle) Deg() float64 { return a.deg }

// Rad returns the angle in radians.
func (a Angle) Rad() float64 { return a.deg * math.Pi / 180 }

// Sin returns the sine of the angle.
func (a Angle) Sin() float64 { return math.Sin(a.Rad()) }

// Cos returns the cosine of the angle.
func (a Angle) Cos() float64 { return math.Cos(a.Rad()) }

// Tan returns the tangent of the angle.
func (a Angle) Tan() float64 { return math.Tan(a.Rad()) }

// Plus returns a + b.
func (a Angle) Plus(b Angle) Angle { return Angle{a.deg + b.deg} }

// Minus returns a - b.
func (a Angle) Minus(b Angle) Angle { return Angle{a.deg - b.deg} }

// Times returns f times a.
func (a Angle) Times(f float64) Angle { return Angle{a.deg * f} }

// Half returns a/2.
func (a Angle) Half() Angle { return Angle{a.deg / 2} }

// RoundTo returns the angle on the grid of whole steps from 0, in the
// direction dir. A value within 1e-9 of a step is that step. step must be
// above 0.
func (a Angle) RoundTo(step Angle, dir Direction) Angle {
	n := a.deg / step.deg
	if near := math.Round(n); math.Abs(n-near) < 1e-9 {
		n = near
	} else {
		switch dir {
		case Down:
			n = math.Floor(n)
		case Up:
			n = math.Ceil(n)
		default:
			n = near
		}
	}
	return Angle{n * step.deg}
}

// DMS returns the angle in degrees and minutes, with seconds when seconds is
// true, rounded to the nearest of the last part: "12°48'", "6°15'30\"".
func (a Angle) DMS(seconds bool) string {
	sign, per := "", int64(60)
	if seconds {
		per = 3600
	}
	n := int64(math.Round(math.Abs(a.deg) * float64(per)))
	if a.deg < 0 && n != 0 {
		sign = "-"
	}
	if seconds {
		return fmt.Sprintf("%s%d°%02d'%02d\"", sign, n/3600, n/60%60, n%60)
	}
	return fmt.Sprintf("%s%d°%02d'", sign, n/60, n%60)
}

// String returns the angle in degrees with its unit: "6.25 deg".
func (a Angle) String() string { return trimmed(a.deg, 9) + " deg" }

// MarshalText returns the same text as String.
func (a Angle) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText is ParseAngle.
func (a *Angle) UnmarshalText(text []byte) (err error) {
	*a, err = ParseAngle(string(text))
	return err
}

// MarshalJSON returns the angle in degrees as a JSON number with up to 9
// decimals.
func (a Angle) MarshalJSON() ([]byte, error) { return []byte(trimmed(a.deg, 9)), nil }

// UnmarshalJSON reads a JSON number of degrees.
func (a *Angle) UnmarshalJSON(text []byte) error { return json.Unmarshal(text, &a.deg) }

// trimmed returns v with at most places decimals and no trailing zeros, and
// never "-0".
func trimmed(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
