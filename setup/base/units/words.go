package units

import (
	"strings"

	"setover/setup/base/say"
)

// Rounded is a length with how it is shown: the direction it is rounded in,
// whether it is a small difference, and the unit when it is not the page's.
type Rounded struct {
	Length
	Dir  Direction
	Fine bool  // shown with its sign and one decimal more
	More int32 // decimals more than the usual
	Unit *Unit // nil: the page's
}

// Up returns l to be shown never smaller than it is: a blank, a through hole,
// a tapping depth.
func (l Length) Up() Rounded { return Rounded{Length: l, Dir: Up} }

// Down returns l to be shown never larger than it is: a blind depth, a bore.
func (l Length) Down() Rounded { return Rounded{Length: l, Dir: Down} }

// Nearest returns l to be shown to the nearest.
func (l Length) Nearest() Rounded { return Rounded{Length: l} }

// Fine returns l to be shown as a small difference, with its sign.
func (l Length) Fine() Rounded { return Rounded{Length: l, Fine: true} }

// Always returns l to be shown in the unit u on every page.
func (l Length) Always(u Unit) Rounded { return Rounded{Length: l, Unit: &u} }

// Wrung returns l to be shown as finely as gauge blocks are marked: with 5
// decimals in mm and 6 in inches.
func (l Length) Wrung() Rounded { return Rounded{Length: l, More: 2} }

// Inward returns two limits to be shown rounded toward one another, so that what keeps the figures
// keeps the limits: with a decimal more where an inch page's usual four do not tell them apart.
func Inward(low, high Length) (from, to Rounded) {
	from, to = low.Up(), high.Down()
	step := MustLength("0.0001in") // an inch page's usual four
	if low.RoundTo(step, Up).Cmp(high.RoundTo(step, Down)) >= 0 {
		from.More, to.More = 1, 1
	}
	return from, to
}

// Marked is a length as an instrument is marked: worded in the unit of its marks
// on every page, with more decimals than usual. For machines it is in mm.
type Marked struct{ Rounded }

// Marked returns l as it stands on an instrument that is marked in the unit u.
func (l Length) Marked(u Unit) Marked { return Marked{l.Wrung().Always(u)} }

// MarshalJSON returns m as a JSON number in mm, in full.
func (m Marked) MarshalJSON() ([]byte, error) { return m.Length.MarshalJSON() }

// Always returns r to be shown in the unit u on every page.
func (r Rounded) Always(u Unit) Rounded {
	r.Unit = &u
	return r
}

// In returns the unit r is shown in on a page in u.
func (r Rounded) In(u Unit) Unit {
	if r.Unit != nil {
		return *r.Unit
	}
	return u
}

// Places returns how many decimals r has in the unit u: 3 in mm and 4 in
// inches, one more for a small difference and More.
func (r Rounded) Places(u Unit) int32 {
	places := 3 + r.More
	if u == Inch {
		places++
	}
	if r.Fine {
		places++
	}
	return places
}

// Digits returns r in the unit u with all its decimals and no unit's name.
func (r Rounded) Digits(u Unit) string {
	s := r.Fixed(u, r.Places(u), r.Dir)
	if r.Fine && r.Sign() > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

// MarshalJSON returns r as a JSON number: in mm in full, or in inches to 9
// decimals where it is shown in inches on every page.
func (r Rounded) MarshalJSON() ([]byte, error) {
	if r.In(MM) == Inch {
		return []byte(r.Fixed(Inch, 9, Nearest)), nil
	}
	return r.Length.MarshalJSON()
}

// Words implements say.Quantity: the digits without zeros behind, and the unit.
func (r Rounded) Words() (mm, inch string) {
	return r.words(MM), r.words(Inch)
}

func (r Rounded) words(u Unit) string { return r.Number(r.In(u)) + " " + r.In(u).String() }

// Number returns r in the unit u without zeros behind and without the unit's
// name.
func (r Rounded) Number(u Unit) string {
	s := r.Digits(u)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Typed implements say.Typed: as it is shown.
func (r Rounded) Typed() say.Text { return say.Of(r) }

// Words implements say.Quantity: l to the nearest.
func (l Length) Words() (mm, inch string) { return l.Nearest().Words() }

// Typed implements say.Typed: every decimal in mm, and up to 6 in inches.
func (l Length) Typed() say.Text {
	inches := string(say.Num(l.MM()/25.4, 6))
	return say.Either(l.mm.String()+" mm", inches+" in")
}

// Measured is a quantity whose number and unit depend on the page: a speed, a
// feed, a power.
type Measured interface {
	say.Quantity
	// In returns the number and its unit on a page in u.
	In(u Unit) (v float64, unit string)
}

// words words a measured quantity with at most places decimals in mm and in
// inches.
func words(m Measured, mmPlaces, inchPlaces int) (mm, inch string) {
	v, unit := m.In(MM)
	w, imperial := m.In(Inch)
	return trimmed(v, mmPlaces) + " " + unit, trimmed(w, inchPlaces) + " " + imperial
}

// In implements Measured.
func (s SpindleSpeed) In(Unit) (float64, string) { return s.v, "rpm" }

// Words implements say.Quantity: "540 rpm".
func (s SpindleSpeed) Words() (mm, inch string) { return words(s, 1, 1) }

// In implements Measured: metres or feet per minute.
func (s SurfaceSpeed) In(u Unit) (float64, string) {
	if u == Inch {
		return s.FeetPerMinute(), "ft/min"
	}
	return s.v, "m/min"
}

// Words implements say.Quantity: "30 m/min" or "98.4 ft/min".
func (s SurfaceSpeed) Words() (mm, inch string) { return words(s, 2, 1) }

// In implements Measured: millimetres or inches per revolution.
func (f Feed) In(u Unit) (float64, string) {
	if u == Inch {
		return f.v / 25.4, "in/rev"
	}
	return f.v, "mm/rev"
}

// Words implements say.Quantity: "0.1 mm/rev" or "0.0039 in/rev".
func (f Feed) Words() (mm, inch string) { return words(f, 4, 5) }

// In implements Measured: millimetres or inches per minute.
func (f FeedRate) In(u Unit) (float64, string) {
	if u == Inch {
		return f.v / 25.4, "in/min"
	}
	return f.v, "mm/min"
}

// Words implements say.Quantity: "25.4 mm/min" or "1 in/min".
func (f FeedRate) Words() (mm, inch string) { return words(f, 1, 2) }

// In implements Measured: watts or horsepower.
func (p Power) In(u Unit) (float64, string) {
	if u == Inch {
		return p.v / wattsPerHP, "hp"
	}
	return p.v, "W"
}

// Words implements say.Quantity: "550 W" or "0.74 hp".
func (p Power) Words() (mm, inch string) { return words(p, 1, 2) }
