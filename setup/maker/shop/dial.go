package shop

import (
	"github.com/shopspring/decimal"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Dial is a slide's screw and its graduated collar.
type Dial struct {
	Lead       units.Length // real travel of the slide in one turn
	Divisions  int          // marks round the collar
	OnDiameter bool         // the numbers count what comes off the diameter: twice the travel
	Unit       units.Unit   // what its numbers are in
}

// Division returns the real travel of one division. It is exact where
// lead/divisions is a finite decimal, else rounded to 1e-12 mm.
func (d Dial) Division() units.Length {
	return units.FromDecimal(d.Lead.Decimal().DivRound(decimal.NewFromInt(int64(d.Divisions)), 12))
}

// PerDivision returns what one division is called on the collar: the travel,
// or twice that where it counts on the diameter.
func (d Dial) PerDivision() units.Length {
	if d.OnDiameter {
		return d.Division().Times(2)
	}
	return d.Division()
}

// Turns is a position on a dial: whole turns and divisions on from zero.
type Turns struct {
	Turns     int64
	Divisions int64
}

// String returns "3 turns + 42 div".
func (t Turns) String() string {
	turns := say.Count(t.Turns, "turn", "turns")
	if t.Turns == -1 {
		turns = "-1 turn"
	}
	return string(say.Of(turns, " + ", t.Divisions, " div"))
}

// Set returns the nearest dial line to a travel from zero, with the turns and
// divisions that reach it. Positions are set from the datum, so that no error
// is carried from one to the next. A negative travel has both counts negative.
func (d Dial) Set(travel units.Length) (Setting[units.Length], Turns) {
	return d.line(travel, travel.Steps(d.Division(), units.Nearest))
}

// line returns the line after that many divisions from zero.
func (d Dial) line(travel units.Length, n int64) (Setting[units.Length], Turns) {
	round := int64(d.Divisions)
	t := Turns{n / round, n % round}
	set := units.FromDecimal(d.Lead.Times(n).Decimal().DivRound(decimal.NewFromInt(round), 12))
	return Setting[units.Length]{travel, set, set.Minus(travel), t.String()}, t
}

// Short is Set to the last line that does not pass a travel of 0 or more: a cut that
// is set so leaves what the line cannot tell.
func (d Dial) Short(travel units.Length) (Setting[units.Length], Turns) {
	n := travel.Steps(d.Division(), units.Down)
	return d.line(travel, n)
}

// Past is Set to the first line that does not fall short of a travel of 0 or more.
func (d Dial) Past(travel units.Length) (Setting[units.Length], Turns) {
	return d.line(travel, travel.Steps(d.Division(), units.Up))
}

// Reading returns the number that stands at the line after that many divisions
// from zero within one turn, in the dial's own unit: what is read off the
// collar.
func (d Dial) Reading(divisions int64) units.Length {
	n := divisions % int64(d.Divisions)
	if n < 0 {
		n += int64(d.Divisions)
	}
	return d.PerDivision().Times(n)
}
