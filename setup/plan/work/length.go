package work

import (
	"math"
	"math/bits"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"setover/setup/base/units"
)

// Len is a length in millionths of a millimetre, and Deg an angle in millionths
// of a degree. Unlike a units.Length they can be compared as they stand, so that
// states of the work and set-ups can.
type (
	Len int64
	Deg int64
)

// MM is a millimetre.
const MM Len = 1e6

// LenOf returns l to the nearest millionth of a millimetre.
func LenOf(l units.Length) Len {
	if exact, ok := Exact(l); ok {
		return exact
	}
	return Len(l.Decimal().Shift(6).Round(0).IntPart())
}

// Exact returns l in millionths of a millimetre, false where it is none of whole ones, or
// so long that it is not told.
func Exact(l units.Length) (exact Len, ok bool) {
	d := l.Decimal()
	const places, most = 6, 18 // the digits of a Len
	shift := int(d.Exponent()) + places
	if shift < 0 || d.NumDigits()+shift > most {
		return 0, false
	}
	exact = Len(d.CoefficientInt64())
	for range shift {
		exact *= 10
	}
	return exact, true
}

// Float returns l to the nearest millionth of a millimetre, from millimetres.
func Float(mm float64) Len { return Len(math.Round(mm * 1e6)) }

// Length returns l as a length.
func (l Len) Length() units.Length { return units.FromDecimal(decimal.New(int64(l), -6)) }

// MM returns l in millimetres.
func (l Len) MM() float64 { return float64(l) / 1e6 }

// Words implements say.Quantity.
func (l Len) Words() (mm, inch string) { return l.Length().Words() }

// MarshalJSON writes millimetres as a number.
func (l Len) MarshalJSON() ([]byte, error) { return micro(int64(l)), nil }

// DegOf returns a to the nearest millionth of a degree.
func DegOf(a units.Angle) Deg { return Deg(math.Round(a.Deg() * 1e6)) }

// Angle returns d as an angle.
func (d Deg) Angle() units.Angle { return units.Degrees(float64(d) / 1e6) }

// MarshalJSON writes degrees as a number.
func (d Deg) MarshalJSON() ([]byte, error) { return micro(int64(d)), nil }

// micro writes a number of millionths in decimals, without zeros at its end.
func micro(v int64) []byte {
	text := strconv.FormatInt(v, 10)
	sign := ""
	if v < 0 {
		sign, text = "-", text[1:]
	}
	if len(text) < 7 {
		text = strings.Repeat("0", 7-len(text)) + text
	}
	whole, part := text[:len(text)-6], strings.TrimRight(text[len(text)-6:], "0")
	if part != "" {
		part = "." + part
	}
	return []byte(sign + whole + part)
}

// along returns the value at z of the line from l at a to r at b, to the nearest
// millionth. a <= z <= b; at b it is r.
func along(a, b, l, r, z Len) Len {
	switch {
	case z == a || l == r:
		return l
	case z == b:
		return r
	}
	return l + mulDiv(r-l, z-a, b-a)
}

// mulDiv returns x·y/d to the nearest whole number, halves away from 0, with 128
// bits between. 0 <= y <= d, d > 0: it is no larger than x.
func mulDiv(x, y, d Len) Len {
	negative := (x < 0) != (y < 0)
	high, low := bits.Mul64(uint64(abs(x)), uint64(abs(y)))
	low, carry := bits.Add64(low, uint64(d)/2, 0)
	q, _ := bits.Div64(high+carry, low, uint64(d))
	if negative {
		return -Len(q)
	}
	return Len(q)
}

func abs(l Len) Len { return max(l, -l) }
