package units

import (
	"github.com/shopspring/decimal"

	"setover/setup/base/problem"
)

// measure is a float64 quantity in its base unit. The named kinds below share
// how they are read and shown, and differ in their units.
type measure struct{ v float64 }

// scale is a unit with the factor that brings it to the base unit.
type scale struct {
	unit   string
	factor decimal.Decimal
}

func factor(text string) decimal.Decimal { return decimal.RequireFromString(text) }

// parseMeasure reads a number with one of the units; a bare number has the
// unit bare, or is refused where bare is "". The value is above 0 and at most
// limit, in the base unit.
func parseMeasure(text, kind, bare, forms string, limit float64, scales []scale) (measure, error) {
	number, unit := split(text)
	d, err := parseDecimalOrFraction(number, kind, text, forms)
	if err != nil {
		return measure{}, err
	}
	if unit == "" {
		if bare == "" {
			return measure{}, bad(problem.MissingUnit, kind, text, "needs its unit: write "+forms)
		}
		unit = bare
	}
	names := make([]string, len(scales))
	for i, s := range scales {
		names[i] = s.unit
		if s.unit != unit {
			continue
		}
		v := d.Mul(s.factor).InexactFloat64()
		if v <= 0 || v > limit {
			return measure{}, bad(problem.OutOfRange, kind, text,
				kind+" is above 0 and at most "+trimmed(limit, 3)+" "+scales[0].unit)
		}
		return measure{v}, nil
	}
	return measure{}, wrongUnit(kind, unit, text, forms, names...)
}

// parseDecimalOrFraction reads 0.75 or 3/4, to the nearest float64 where the
// fraction has no end.
func parseDecimalOrFraction(number, kind, text, forms string) (decimal.Decimal, error) {
	r, isFraction, err := parseFraction(number, kind, text, forms)
	if err != nil || !isFraction {
		if err == nil {
			return parseDecimal(number, kind, text, forms)
		}
		return decimal.Decimal{}, err
	}
	f, _ := r.Float64()
	return decimal.NewFromFloat(f), nil
}

// MarshalJSON returns the value in the base unit with up to 9 decimals.
func (m measure) MarshalJSON() ([]byte, error) { return []byte(trimmed(m.v, 9)), nil }

// SpindleSpeed is a speed of rotation in revolutions per minute.
type SpindleSpeed struct{ measure }

// RPM returns the speed of v revolutions per minute.
func RPM(v float64) SpindleSpeed { return SpindleSpeed{measure{v}} }

// ParseSpindleSpeed reads "540" or "540rpm", up to 60,000.
func ParseSpindleSpeed(text string) (SpindleSpeed, error) {
	m, err := parseMeasure(text, "a spindle speed", "rpm", "540rpm", 60_000, []scale{{"rpm", factor("1")}})
	return SpindleSpeed{m}, err
}

// RPM returns the speed in revolutions per minute.
func (s SpindleSpeed) RPM() float64 { return s.v }

// String returns "540 rpm".
func (s SpindleSpeed) String() string { return trimmed(s.v, 1) + " rpm" }

// SurfaceSpeed is the speed of the cut in metres per minute.
type SurfaceSpeed struct{ measure }

// MetresPerMinute returns the speed of v metres per minute.
func MetresPerMinute(v float64) SurfaceSpeed { return SurfaceSpeed{measure{v}} }

// ParseSurfaceSpeed reads "30m/min", "100sfm" or "100ft/min" (1 ft = 0.3048 m
// exactly), or "20m/s" as grinders are rated. A bare number is refused.
func ParseSurfaceSpeed(text string) (SurfaceSpeed, error) {
	m, err := parseMeasure(text, "a surface speed", "", "30m/min or 100sfm", 10_000, []scale{
		{"m/min", factor("1")}, {"sfm", factor("0.3048")}, {"ft/min", factor("0.3048")}, {"m/s", factor("60")},
	})
	return SurfaceSpeed{m}, err
}

// MetresPerMinute returns the speed in metres per minute.
func (s SurfaceSpeed) MetresPerMinute() float64 { return s.v }

// FeetPerMinute returns the speed in feet per minute.
func (s SurfaceSpeed) FeetPerMinute() float64 { return s.v / 0.3048 }

// String returns "30 m/min".
func (s SurfaceSpeed) String() string { return trimmed(s.v, 2) + " m/min" }

// Feed is the advance of the tool per revolution in millimetres.
type Feed struct{ measure }

// MillimetresPerRev returns the feed of v millimetres per revolution.
func MillimetresPerRev(v float64) Feed { return Feed{measure{v}} }

// ParseFeed reads "0.1mm/rev", "0.004in/rev" or a bare number in bare per
// revolution. For a cutter with teeth "mm/tooth" and "in/tooth" are read too:
// the caller knows which it asked for.
func ParseFeed(text string, bare Unit) (Feed, error) {
	m, err := parseMeasure(text, "a feed", bare.String()+"/rev", "0.1mm/rev or 0.004in/rev", 20, []scale{
		{"mm/rev", factor("1")}, {"in/rev", factor("25.4")}, {"mm/tooth", factor("1")}, {"in/tooth", factor("25.4")},
	})
	return Feed{m}, err
}

// MM returns the feed in millimetres per revolution.
func (f Feed) MM() float64 { return f.v }

// String returns "0.1 mm/rev".
func (f Feed) String() string { return trimmed(f.v, 4) + " mm/rev" }

// FeedRate is the advance of the tool in millimetres per minute.
type FeedRate struct{ measure }

// MillimetresPerMinute returns the feed rate of v millimetres per minute.
func MillimetresPerMinute(v float64) FeedRate { return FeedRate{measure{v}} }

// MM returns the feed rate in millimetres per minute.
func (f FeedRate) MM() float64 { return f.v }

// Power is a motor's power in watts.
type Power struct{ measure }

// wattsPerHP is the mechanical horsepower, 550 ft·lbf/s.
const wattsPerHP = 745.7

// Watts returns the power of v watts.
func Watts(v float64) Power { return Power{measure{v}} }

// ParsePower reads "550W", "0.75kW", "1hp" (745.7 W) or "3/4hp"; nameplates
// write HP, which is the same. A bare number is refused.
func ParsePower(text string) (Power, error) {
	m, err := parseMeasure(text, "a power", "", "550W, 0.55kW or 0.75hp", 100_000, []scale{
		{"W", factor("1")}, {"kW", factor("1000")}, {"hp", factor("745.7")}, {"HP", factor("745.7")}, // wattsPerHP
	})
	return Power{m}, err
}

// Watts returns the power in watts.
func (p Power) Watts() float64 { return p.v }

// String returns "550 W".
func (p Power) String() string { return trimmed(p.v, 1) + " W" }

// Number is any other figure of a result: a ratio, a percentage, a time. In
// JSON it has up to 9 decimals, so that 5.999999999999999 is written as the 6
// it stands for.
type Number float64

// MarshalJSON returns the number with up to 9 decimals.
func (n Number) MarshalJSON() ([]byte, error) { return []byte(trimmed(float64(n), 9)), nil }
