package shop

import (
	"math"

	"setover/setup/base/units"
)

// Compound is the top slide: its scale, its screw, its travel and its size.
type Compound struct {
	Scale          Scale
	Travel         *units.Length
	Screw          *Dial
	Width, Length  *units.Length
	TopBelowCentre *units.Length // the slide's top under the spindle axis
	Handle         *Handle
}

// Handle is the circle the compound's handle sweeps: Beyond is its centre from
// the slide's handle end.
type Handle struct{ Beyond, Radius units.Length }

// Zero says where a compound's scale reads 0.
type Zero string

// The two zeros.
const (
	Along  Zero = "along"  // the slide parallel to the spindle axis, handle toward the tailstock
	Across Zero = "across" // the slide square to it, handle toward the operator
)

// Scale is the protractor under the compound.
type Scale struct {
	Zero        Zero
	Step        units.Angle
	BackAfter90 bool         // numbered up to 90 and back down, else straight up
	Limit       *units.Angle // where its marks end, either way from zero; nil: all the way round
}

// Direction is a sense of turning, seen from above.
type Direction string

// The two senses.
const (
	Clockwise        Direction = "clockwise"
	CounterClockwise Direction = "counter-clockwise"
)

// Turned is how the compound is set: a turn from the scale's zero, its
// direction, and the number the scale shows there.
type Turned struct {
	Turn      units.Angle // from zero, 0 to 180
	Direction Direction
	Reading   units.Angle // as this scale is numbered
	Past90    bool        // on a scale that counts back after 90
	OffScale  bool        // further than the scale goes
}

// Set returns how the compound is turned so that its handle points at s,
// degrees clockwise seen from above, from parallel to the spindle axis with
// the handle toward the tailstock: exactly, and at the nearest mark. From an
// across zero, which is itself at s = 90, the turn is s - 90.
//
// Lost is in the direction of s: set minus exact.
func (c Compound) Set(s units.Angle) (exact, mark Turned, setting Setting[units.Angle]) {
	turn := s.Deg() - c.Scale.at()
	turn -= 360 * math.Round(turn/360)
	exact = c.Scale.Turned(units.Degrees(turn))
	set := units.Degrees(turn).RoundTo(c.Scale.Step, units.Nearest).Deg()
	mark = c.Scale.Turned(units.Degrees(set))
	at := s.Deg() + set - turn
	return exact, mark, Setting[units.Angle]{s, units.Degrees(at), units.Degrees(set - turn), mark.Reading.String()}
}

// at returns where the scale's zero stands, degrees clockwise from along.
func (s Scale) at() float64 {
	if s.Zero == Across {
		return 90
	}
	return 0
}

// Turned returns what stands on the scale after a turn from its zero, clockwise
// above 0.
func (s Scale) Turned(turn units.Angle) Turned {
	t := Turned{Turn: units.Degrees(math.Abs(turn.Deg())), Direction: Clockwise}
	if turn.Deg() < 0 {
		t.Direction = CounterClockwise
	}
	t.Reading = t.Turn
	if s.BackAfter90 && t.Turn.Deg() > 90+1e-9 {
		t.Reading, t.Past90 = units.Degrees(180-t.Turn.Deg()), true
	}
	t.OffScale = s.Limit != nil && t.Turn.Deg() > s.Limit.Deg()+1e-9
	return t
}
