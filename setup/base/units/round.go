package units

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// Direction names a way of rounding, so that no size is rounded without one.
type Direction int

// The ways of rounding. Toward is by the size that comes out: Down is toward
// the smaller number, whatever its sign.
const (
	Nearest Direction = iota // to the nearest step, a half away from zero
	Down                     // never above: a blind depth, a bore, a speed
	Up                       // never below: a blank, a through hole, a tapping depth
)

// RoundTo returns l on the grid of whole steps from 0, in the direction dir.
// It is exact. step must be above 0.
func (l Length) RoundTo(step Length, dir Direction) Length {
	n := roundRat(new(big.Rat).Quo(l.mm.Rat(), step.mm.Rat()), dir)
	return Length{step.mm.Mul(decimal.NewFromBigInt(n, 0))}
}

// Steps returns how many whole steps make l, in the direction dir.
func (l Length) Steps(step Length, dir Direction) int64 {
	return roundRat(new(big.Rat).Quo(l.mm.Rat(), step.mm.Rat()), dir).Int64()
}

// Fixed returns l in the unit u with exactly that many decimals and no unit
// name, rounded from the exact value in the direction dir. There is no "-0".
func (l Length) Fixed(u Unit, places int32, dir Direction) string {
	if n, ok := l.whole(u, places, dir); ok {
		return steps(n, int(places))
	}
	return l.fixed(u, places, dir)
}

// whole returns how many steps of 10^-places are in l, in 64 bits; ok is false where they do
// not hold it. An inch is 254/10 mm.
func (l Length) whole(u Unit, places int32, dir Direction) (n int64, ok bool) {
	n, shift := l.mm.CoefficientInt64(), l.mm.Exponent()+places
	if l.mm.NumDigits() > digits64 {
		return 0, false
	}
	over := int64(1)
	if u == Inch {
		over, shift = perInch.Shift(1).IntPart(), shift+1
	}
	for ; shift > 0; shift-- {
		if n > math.MaxInt64/10 || n < -math.MaxInt64/10 {
			return 0, false
		}
		n *= 10
	}
	for ; shift < 0; shift++ {
		if over > math.MaxInt64/20 { // twice a remainder must fit, too
			return 0, false
		}
		over *= 10
	}
	floor, rest := n/over, n%over
	if rest < 0 {
		floor, rest = floor-1, rest+over
	}
	switch half := 2*rest - over; {
	case rest == 0 || dir == Down:
		return floor, true
	case dir == Up || half > 0 || half == 0 && n > 0:
		return floor + 1, true
	}
	return floor, true
}

// steps writes n steps of 10^-places with all their decimals.
func steps(n int64, places int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	digits := strconv.FormatInt(n, 10)
	if missing := places + 1 - len(digits); missing > 0 {
		digits = strings.Repeat("0", missing) + digits
	}
	if places == 0 {
		return sign + digits
	}
	point := len(digits) - places
	return sign + digits[:point] + "." + digits[point:]
}

// digits64 is how many decimal digits 64 bits always hold.
const digits64 = 18

// fixed is Fixed in figures of any size.
func (l Length) fixed(u Unit, places int32, dir Direction) string {
	r := l.mm.Rat()
	if u == Inch {
		r = new(big.Rat).Quo(r, perInch.Rat())
	}
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	n := roundRat(new(big.Rat).Mul(r, new(big.Rat).SetInt(scale)), dir)
	return decimal.NewFromBigInt(n, -places).StringFixed(places)
}

// roundRat returns r as a whole number in the direction dir.
func roundRat(r *big.Rat, dir Direction) *big.Int {
	floor := new(big.Int).Div(r.Num(), r.Denom()) // Euclidean: floor, as Denom > 0
	if r.IsInt() || dir == Down {
		return floor
	}
	up := new(big.Int).Add(floor, big.NewInt(1))
	if dir == Up {
		return up
	}
	twice := new(big.Rat).Sub(r, new(big.Rat).SetInt(floor))
	twice.Add(twice, twice)
	switch twice.Cmp(big.NewRat(1, 1)) {
	case -1:
		return floor
	case 1:
		return up
	}
	if r.Sign() < 0 {
		return floor
	}
	return up
}

// Fraction is an inch size as a rule shows it: Num/Den of an inch in lowest
// terms, and what the length is over (+) or under (-) that.
type Fraction struct {
	Num, Den int64
	Rest     Length
}

// NearestFraction returns the fraction with the denominator den (64 for a
// rule) that is nearest to l, in lowest terms, with the exact remainder. den is
// a power of 2; it panics on one whose fractions have no finite decimal.
func (l Length) NearestFraction(den int64) Fraction {
	r := new(big.Rat).Quo(l.mm.Rat(), perInch.Rat())
	n := roundRat(r.Mul(r, new(big.Rat).SetInt64(den)), Nearest)
	f := new(big.Rat).SetFrac(n, big.NewInt(den))
	mm, ok := finite(new(big.Rat).Mul(f, perInch.Rat()))
	if !ok {
		panic("units: a fraction without a finite decimal")
	}
	return Fraction{f.Num().Int64(), f.Denom().Int64(), Length{l.mm.Sub(mm)}}
}

// String returns the fraction as the trade writes it: "1-3/8 in".
func (f Fraction) String() string {
	n, sign := f.Num, ""
	if n < 0 {
		n, sign = -n, "-"
	}
	whole, part := n/f.Den, n%f.Den
	text := func(i int64) string { return big.NewInt(i).String() }
	switch {
	case part == 0:
		return sign + text(whole) + " in"
	case whole == 0:
		return sign + text(part) + "/" + text(f.Den) + " in"
	}
	return sign + text(whole) + "-" + text(part) + "/" + text(f.Den) + " in"
}

// AsPrinted returns l as a book prints it: in the unit and with the number of
// decimals of the text want, rounded half away from zero. It is for comparing
// a result with a published figure at the figure's own precision.
//
//	AsPrinted(l, "7.188mm") // "7.188mm" when they agree
func AsPrinted(l Length, want string) string {
	number, unit := split(want)
	places := int32(0)
	for i := range number {
		if number[i] == '.' {
			places = int32(len(number) - i - 1)
		}
	}
	u := MM
	if unit == "in" {
		u = Inch
	}
	text := l.Fixed(u, places, Nearest)
	if len(number) > 0 && number[0] == '.' && len(text) > 1 && text[0] == '0' {
		text = text[1:] // inch tables leave the leading 0 out
	}
	return text + unit
}
