package units

import (
	"math/big"

	"github.com/shopspring/decimal"

	"setover/setup/base/problem"
)

// Pitch is the distance from one thread to the next (or the lead, where the
// text says so), an exact rational number of millimetres. Compare pitches with
// Equal or Cmp.
type Pitch struct {
	mm   *big.Rat
	inch bool // written in threads per inch, and shown so
}

const pitchForms = "1.25mm or 20tpi"

// maxPitch is the coarsest pitch that is read: 100 mm.
var maxPitch = big.NewRat(100, 1)

// ParsePitch reads a pitch: millimetres (1.25mm), inches (0.05in, 1/20in) or
// threads per inch (20tpi, 11.5tpi, 20TPI). A bare number is refused, since 20 could
// be either. It is exact. A pitch is above 0 and at most 100 mm.
func ParsePitch(text string) (Pitch, error) {
	number, unit := split(text)
	if unit == "" {
		if _, isFraction, err := parseFraction(number, "a pitch", text, pitchForms); err == nil && isFraction {
			return Pitch{}, bad(problem.MissingUnit, "a pitch", text, "a pitch needs its unit: write "+number+"in")
		}
		if _, err := parseDecimal(number, "a pitch", text, pitchForms); err != nil {
			return Pitch{}, err
		}
		return Pitch{}, bad(problem.MissingUnit, "a pitch", text,
			"a pitch needs its unit: write "+number+"mm or "+number+"tpi")
	}
	r, isFraction, err := parseFraction(number, "a pitch", text, pitchForms)
	if err != nil {
		return Pitch{}, err
	}
	if !isFraction {
		d, err := parseDecimal(number, "a pitch", text, pitchForms)
		if err != nil {
			return Pitch{}, err
		}
		r = d.Rat()
	}
	inch := unit != "mm"
	switch unit {
	case "mm":
	case "in", `"`, "″":
		r.Mul(r, perInch.Rat())
	case "tpi", "TPI":
		if r.Sign() > 0 {
			r = new(big.Rat).Quo(perInch.Rat(), r)
		}
	default:
		return Pitch{}, wrongUnit("a pitch", unit, text, pitchForms, "mm", "tpi", "in")
	}
	if r.Sign() <= 0 || r.Cmp(maxPitch) > 0 {
		return Pitch{}, bad(problem.OutOfRange, "a pitch", text, "a pitch is above 0 and at most 100 mm")
	}
	return Pitch{r, inch}, nil
}

// MustPitch is ParsePitch for text known to be right. It panics on any other.
func MustPitch(text string) Pitch {
	p, err := ParsePitch(text)
	if err != nil {
		panic(err)
	}
	return p
}

// PitchOf returns the pitch of r millimetres, shown in mm. r must be above 0.
func PitchOf(r *big.Rat) Pitch { return Pitch{mm: new(big.Rat).Set(r)} }

// PerInch returns the pitch of tpi threads per inch. tpi must be above 0.
func PerInch(tpi *big.Rat) Pitch {
	return Pitch{new(big.Rat).Quo(perInch.Rat(), tpi), true}
}

// Rat returns the pitch in millimetres, exactly.
func (p Pitch) Rat() *big.Rat {
	if p.mm == nil {
		return new(big.Rat)
	}
	return new(big.Rat).Set(p.mm)
}

// TPI returns the threads per inch, exactly. The pitch must not be 0.
func (p Pitch) TPI() *big.Rat { return new(big.Rat).Quo(perInch.Rat(), p.mm) }

// MM returns the pitch in millimetres, to the nearest float64.
func (p Pitch) MM() float64 {
	f, _ := p.Rat().Float64()
	return f
}

// Length returns f times the pitch as a length, rounded to 1e-9 mm.
func (p Pitch) Length(f float64) Length {
	r := new(big.Rat).SetFloat64(f)
	r.Mul(r, p.Rat())
	return Length{decimal.NewFromBigRat(r, 9)}
}

// Times returns n times the pitch: the lead of n starts.
func (p Pitch) Times(n int64) Pitch {
	return Pitch{new(big.Rat).Mul(p.Rat(), new(big.Rat).SetInt64(n)), p.inch}
}

// Sign returns 0 for no pitch and 1 for any other.
func (p Pitch) Sign() int { return p.Rat().Sign() }

// Cmp compares two pitches: -1 when p is the finer.
func (p Pitch) Cmp(q Pitch) int { return p.Rat().Cmp(q.Rat()) }

// Equal reports whether two pitches are the same, however they were written.
func (p Pitch) Equal(q Pitch) bool { return p.Cmp(q) == 0 }

// IsInch reports whether the pitch was written in inches or threads per inch.
func (p Pitch) IsInch() bool { return p.inch }

// String returns the pitch as it was meant: "1.25 mm" or "20 tpi", or in
// inches where only those have an end: "0.07 in". A pitch that has no finite
// decimal either way is shown with 6 decimals.
func (p Pitch) String() string {
	number, unit := p.written()
	return number + " " + unit
}

// Number returns the pitch as String has it, without its unit.
func (p Pitch) Number() string {
	number, _ := p.written()
	return number
}

func (p Pitch) written() (number, unit string) {
	if p.Sign() == 0 || !p.inch {
		return ratText(p.Rat()), "mm"
	}
	inches := new(big.Rat).Quo(p.mm, perInch.Rat())
	if _, ends := finite(p.TPI()); !ends {
		if d, ends := finite(inches); ends {
			return d.String(), "in"
		}
	}
	return ratText(p.TPI()), "tpi"
}

// ratText returns r in full when its decimal ends, else with 6 decimals.
func ratText(r *big.Rat) string {
	if d, ok := finite(r); ok {
		return d.String()
	}
	f, _ := r.Float64()
	return trimmed(f, 6)
}

// MarshalText returns the same text as String.
func (p Pitch) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText is ParsePitch.
func (p *Pitch) UnmarshalText(text []byte) (err error) {
	*p, err = ParsePitch(string(text))
	return err
}

// MarshalJSON returns the pitch in millimetres as a JSON number, with up to 9
// decimals.
func (p Pitch) MarshalJSON() ([]byte, error) {
	return []byte(decimal.NewFromBigRat(p.Rat(), 9).String()), nil
}
