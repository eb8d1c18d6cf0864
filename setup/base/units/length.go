package units

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"setover/setup/base/problem"
)

// Length is an exact decimal number of millimetres. The zero value is 0 mm.
// Compare lengths with Equal or Cmp, not with ==.
type Length struct{ mm decimal.Decimal }

// maxLength bounds every length that is read: 100 m.
var maxLength = decimal.New(100_000, 0)

// finest is how many decimals of a millimetre are read. With it the text of
// every length that was read is short enough to be read again.
const finest = 20

var perInch = decimal.New(254, -1)

const lengthForms = "12.5mm, 0.5in, 3/8in, 1-3/8in or 10thou"

// ParseLength reads a length: a decimal number or an inch fraction, with an
// optional unit.
//
//	12.5  12.5mm  1.2cm  25um  0.4921in  3/8in  3/8"  1-3/8in  "1 3/8 in"  10thou
//
// A bare number has the unit bare. A fraction is in inches; it must have a
// finite decimal (1/64in has, 1/24in has not), and beside a whole number it is
// below 1. Lengths up to 100 m are read, to 20 decimals of a millimetre. It is
// exact.
func ParseLength(text string, bare Unit) (Length, error) {
	number, unit := split(text)
	r, isFraction, err := parseFraction(number, "a length", text, lengthForms)
	if err != nil {
		return Length{}, err
	}
	if isFraction {
		return inches(r, number, unit, text, bare)
	}
	d, err := parseDecimal(number, "a length", text, lengthForms)
	if err != nil {
		return Length{}, err
	}
	if unit == "" {
		unit = bare.String()
	}
	switch unit {
	case "mm":
	case "cm":
		d = d.Shift(1)
	case "um", "µm", "μm":
		d = d.Shift(-3)
	case "in", `"`, "″":
		d = d.Mul(perInch)
	case "thou":
		d = d.Mul(perInch).Shift(-3)
	default:
		return Length{}, wrongUnit("a length", unit, text, "mm, cm, um, in or thou", "mm", "cm", "um", "in", "thou")
	}
	return bounded(d, text)
}

// inches returns a fraction of an inch as a length.
func inches(r *big.Rat, number, unit, text string, bare Unit) (Length, error) {
	if unit == "" && bare == Inch {
		unit = "in"
	}
	switch unit {
	case "in", `"`, "″":
	case "":
		return Length{}, bad(problem.MissingUnit, "a length", text, "a fraction is in inches: write "+number+"in")
	default:
		return Length{}, bad(problem.WrongUnit, "a length", text, "a fraction is in inches: write "+number+"in")
	}
	d, ok := finite(r)
	if !ok {
		return Length{}, bad(problem.Malformed, "a length", text,
			"has no finite decimal in inches: write the decimal you mean")
	}
	return bounded(d.Mul(perInch), text)
}

func bounded(d decimal.Decimal, text string) (Length, error) {
	if d.Abs().Cmp(maxLength) > 0 {
		return Length{}, bad(problem.OutOfRange, "a length", text, "longer than any machine here: up to 100 m is read")
	}
	if !d.Equal(d.Truncate(finest)) {
		return Length{}, bad(problem.OutOfRange, "a length", text,
			fmt.Sprintf("finer than any machine here: up to %d decimals of a millimetre are read", finest))
	}
	return Length{d}, nil
}

// MustLength is ParseLength for text known to be right; a bare number is mm.
// It panics on any other.
func MustLength(text string) Length {
	l, err := ParseLength(text, MM)
	if err != nil {
		panic(err)
	}
	return l
}

// FromDecimal returns the length of d millimetres.
func FromDecimal(d decimal.Decimal) Length { return Length{d} }

// Millimetres returns the length of n millimetres.
func Millimetres(n int64) Length { return Length{decimal.New(n, 0)} }

// FromFloat returns the length of mm millimetres rounded to 1e-9 mm, half away
// from zero. It is how trigonometry comes back. It panics on a value that is
// no number or infinite: a calculator must refuse its input before that.
func FromFloat(mm float64) Length {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		panic("units: a length that is no number")
	}
	return Length{decimal.NewFromFloat(mm).Round(9)}
}

// Decimal returns the length in millimetres, exactly.
func (l Length) Decimal() decimal.Decimal { return l.mm }

// MM returns the length in millimetres, to the nearest float64.
func (l Length) MM() float64 { return l.mm.InexactFloat64() }

// Plus returns l + m, exactly.
func (l Length) Plus(m Length) Length { return Length{l.mm.Add(m.mm)} }

// Minus returns l - m, exactly.
func (l Length) Minus(m Length) Length { return Length{l.mm.Sub(m.mm)} }

// Times returns n times l, exactly.
func (l Length) Times(n int64) Length { return Length{l.mm.Mul(decimal.New(n, 0))} }

// Scale returns l times the exact decimal f.
func (l Length) Scale(f decimal.Decimal) Length { return Length{l.mm.Mul(f)} }

// Half returns l/2, exactly.
func (l Length) Half() Length { return Length{l.mm.Mul(decimal.New(5, -1))} }

// Neg returns -l.
func (l Length) Neg() Length { return Length{l.mm.Neg()} }

// Abs returns l without its sign.
func (l Length) Abs() Length { return Length{l.mm.Abs()} }

// Over returns l/m to the nearest float64. m must not be 0.
func (l Length) Over(m Length) float64 {
	f, _ := new(big.Rat).Quo(l.mm.Rat(), m.mm.Rat()).Float64()
	return f
}

// Sign returns -1, 0 or +1.
func (l Length) Sign() int { return l.mm.Sign() }

// Cmp compares l with m: -1 when l is the smaller, 0 when equal, +1.
func (l Length) Cmp(m Length) int { return l.mm.Cmp(m.mm) }

// Less reports whether l is shorter than m.
func (l Length) Less(m Length) bool { return l.mm.Cmp(m.mm) < 0 }

// Equal reports whether l and m are the same length.
func (l Length) Equal(m Length) bool { return l.mm.Equal(m.mm) }

// Min returns the shorter of l and m.
func Min(l, m Length) Length {
	if m.Less(l) {
		return m
	}
	return l
}

// Max returns the longer of l and m.
func Max(l, m Length) Length {
	if l.Less(m) {
		return m
	}
	return l
}

// MarshalText returns the length in millimetres in full, with its unit: "9.525
// mm". ParseLength reads back every length that it has read. There is no String:
// a sentence is built with package say, which knows the unit of the page.
func (l Length) MarshalText() ([]byte, error) { return []byte(l.mm.String() + " mm"), nil }

// UnmarshalText is ParseLength with a bare number in millimetres.
func (l *Length) UnmarshalText(text []byte) (err error) {
	*l, err = ParseLength(string(text), MM)
	return err
}

// MarshalJSON returns the length in millimetres as a JSON number, in full.
func (l Length) MarshalJSON() ([]byte, error) { return []byte(l.mm.String()), nil }

// UnmarshalJSON reads a JSON number of millimetres.
func (l *Length) UnmarshalJSON(text []byte) (err error) {
	*l, err = ParseLength(strings.TrimSpace(string(text)), MM)
	return err
}
