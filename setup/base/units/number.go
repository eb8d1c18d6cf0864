package units

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"setover/setup/base/problem"
	"setover/setup/base/say"
)

// maxText is the longest number with its unit that is read.
const maxText = 32

// Unit is the unit lengths are shown in, and the one a bare number has.
type Unit = say.Unit

// The units of the two kinds of drawing.
const (
	MM   = say.MM
	Inch = say.Inch
)

// ParseUnit reads "mm" or "in"; "inch" and "inches" are the same.
func ParseUnit(text string) (Unit, error) {
	switch text {
	case "mm":
		return MM, nil
	case "in", "inch", "inches":
		return Inch, nil
	}
	p := problem.New(problem.Unknown, "units", say.Plain(text), "not a unit for drawings: write mm or in")
	return MM, p.Near([]string{"mm", "in"})
}

// split parts text into its number and the unit behind it, both trimmed.
func split(text string) (number, unit string) {
	text = strings.TrimSpace(text)
	i := strings.IndexFunc(text, func(r rune) bool {
		return (r < '0' || r > '9') && !strings.ContainsRune("+-./ ,_", r)
	})
	if i < 0 {
		return text, ""
	}
	return strings.TrimSpace(text[:i]), text[i:]
}

// bad returns the problem of a text that is no quantity of the kind, with
// examples of what is.
func bad(code problem.Code, kind, text, want string) error {
	if len(text) > maxText {
		end := maxText
		for end > 0 && !utf8.RuneStart(text[end]) {
			end--
		}
		text = text[:end] + "…"
	}
	return problem.New(code, kind, quoted(text), want)
}

// wrongUnit returns the problem of a quantity of the kind, "a length", whose
// unit is none of names.
func wrongUnit(kind, unit, text, forms string, names ...string) error {
	_, what, _ := strings.Cut(kind, " ")
	return problem.New(problem.WrongUnit, kind, quoted(unit),
		"not a unit of ", what, " in ", quoted(text), ": write ", forms).Near(names)
}

// quoted returns text as it can be shown on one line.
func quoted(text string) string {
	if text == "" {
		return `""`
	}
	for _, r := range text {
		if r == '\ufffd' || !unicode.IsPrint(r) {
			return fmt.Sprintf("%q", text)
		}
	}
	return text
}

// parseDecimal reads a plain decimal number: digits with at most one point
// among them, and a minus before them. kind and whole are for the message.
func parseDecimal(number, kind, whole, examples string) (decimal.Decimal, error) {
	malformed := func(code problem.Code, want string) (decimal.Decimal, error) {
		return decimal.Decimal{}, bad(code, kind, whole, want)
	}
	if len(whole) > maxText {
		return malformed(problem.Malformed, fmt.Sprintf("too long: a number has at most %d characters", maxText))
	}
	switch strings.Count(number, ",") {
	case 0:
	case 1:
		point := strings.Replace(strings.TrimSpace(whole), ",", ".", 1)
		return malformed(problem.DecimalComma, "a comma is not read as a decimal point: write "+quoted(point))
	default:
		return malformed(problem.DecimalComma, "commas are not read: write the number without them")
	}
	digits := strings.TrimPrefix(number, "-")
	before, after, point := strings.Cut(digits, ".")
	if (before == "" && after == "") || (point && after == "") || strings.Trim(before+after, "0123456789") != "" {
		return malformed(problem.Malformed, "not "+kind+": write "+examples)
	}
	d, err := decimal.NewFromString(number)
	if err != nil {
		return malformed(problem.Malformed, "not "+kind+": write "+examples)
	}
	return d, nil
}

// parseFraction reads "3/8", "1-3/8" or "1 3/8", with a minus before it for a
// negative one. ok is false when the text has no stroke at all.
func parseFraction(number, kind, whole, examples string) (r *big.Rat, ok bool, err error) {
	if !strings.Contains(number, "/") {
		return nil, false, nil
	}
	fail := func(want string) (*big.Rat, bool, error) {
		return nil, true, bad(problem.Malformed, kind, whole, want)
	}
	if len(whole) > maxText {
		return fail(fmt.Sprintf("too long: a number has at most %d characters", maxText))
	}
	text := strings.TrimPrefix(number, "-")
	negative := text != number
	top, bottom, _ := strings.Cut(text, "/")
	units, mixed := "0", false
	if i := strings.LastIndexAny(top, "- "); i >= 0 {
		mixed = true
		units, top = strings.TrimSpace(top[:i]), top[i+1:]
	}
	var n [3]*big.Int
	for i, s := range []string{units, top, bottom} {
		v, good := new(big.Int).SetString(s, 10)
		if !good || strings.Trim(s, "0123456789") != "" {
			return fail("not " + kind + ": write " + examples)
		}
		n[i] = v
	}
	if n[2].Sign() == 0 {
		return fail("a fraction over 0 is no number")
	}
	if mixed && n[1].Cmp(n[2]) >= 0 {
		return fail("the fraction beside a whole number is below 1")
	}
	r = new(big.Rat).SetFrac(n[1], n[2])
	r.Add(r, new(big.Rat).SetInt(n[0]))
	if negative {
		r.Neg(r)
	}
	return r, true, nil
}

// finite returns r as a decimal when its expansion ends.
func finite(r *big.Rat) (decimal.Decimal, bool) {
	den := new(big.Int).Set(r.Denom())
	places := int32(0)
	ten, rem := big.NewInt(10), new(big.Int)
	pow := big.NewInt(1)
	for ; places < 64; places++ {
		if rem.Mod(pow, den); rem.Sign() == 0 {
			num := new(big.Int).Mul(r.Num(), new(big.Int).Div(pow, den))
			return decimal.NewFromBigInt(num, -places), true
		}
		pow = new(big.Int).Mul(pow, ten)
	}
	return decimal.Decimal{}, false
}
