package swivel_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers/swivel"
)

// plan is a place seen from above: z toward the tailstock, y toward the operator.
type plan struct{ z, y float64 }

// handleOf returns where the handle points: the slide lies along the side of the
// cone that is nearest to the operator, a step along the axis and what the radius
// grows by in it, and the handle toward the tailstock or the other way round.
func handleOf(half float64, grows, reversed bool) plan {
	rise := math.Tan(half * math.Pi / 180)
	if !grows {
		rise = -rise
	}
	long := math.Hypot(1, rise)
	if reversed {
		long = -long
	}
	return plan{1 / long, rise / long}
}

// The handle end is seen to go from where it stands to where it has to be: by the two
// places it points to, drawn in plan. What the indicator shows is how far a point of
// the slide goes across the axis, or along it, in so many turns.
func TestMovesInPlan(t *testing.T) {
	lead := units.MustLength("2mm")
	compound := &shop.Compound{
		Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)}, Travel: new(units.MustLength("60mm")),
		Screw: &shop.Dial{Lead: lead, Divisions: 100},
	}
	for _, half := range []float64{5, 30, 44, 60, 85} {
		for _, off := range []float64{-0.7, -0.04, 0.04, 0.7} {
			for _, grows := range []bool{false, true} {
				for _, reversed := range []bool{false, true} {
					in := swivel.Input{HalfAngle: units.Degrees(half), Grows: grows, Reversed: reversed, Compound: compound}
					m := in.MoveFrom(units.Degrees(half+off), swivel.Asked{Within: units.MustLength("0.02mm")})
					from, to := handleOf(half+off, grows, reversed), handleOf(half, grows, reversed)
					went := plan{to.z - from.z, to.y - from.y}
					want := "toward the headstock"
					switch {
					case math.Abs(went.y) > math.Abs(went.z) && went.y > 0:
						want = "toward you"
					case math.Abs(went.y) > math.Abs(went.z):
						want = "away from you"
					case went.z > 0:
						want = "toward the tailstock"
					}
					sense := shop.Clockwise // from z toward y: the operator is below on the plan
					if from.z*to.y-from.y*to.z < 0 {
						sense = shop.CounterClockwise
					}
					now, then := from.y, to.y
					if m.Dial.Along == swivel.Axis {
						now, then = from.z, to.z
					}
					travel := lead.MM() * float64(m.Dial.Turns)
					name := fmt.Sprintf("%v from %v, grows %v, reversed %v", half, half+off, grows, reversed)
					if string(m.Way()) != want || m.Sense != sense || math.Abs(m.By.Deg()-math.Abs(off)) > 1e-9 {
						t.Errorf("%s: %s %s by %v, want %s %s", name, m.Way(), m.Sense, m.By, want, sense)
					}
					if math.Abs(m.Now.MM()-travel*math.Abs(now)) > 1e-6 || math.Abs(m.Dial.Exact.MM()-travel*math.Abs(then)) > 1e-6 {
						t.Errorf("%s: from %v to %v, want %v and %v", name, m.Now.Decimal(), m.Dial.Exact.Decimal(), travel*now,
							travel*then)
					}
				}
			}
		}
	}
}

// By hand, in thousandths: 1 in 4 across the axis is a sine of 0.2425. A screw of 0.1
// in goes 1 in in 10 turns and, with one left at either end, 2.2 in in 22. From 14.0 deg to 14.0362, sin 0.241922
// and 0.242536: over 1 in 0.0006 more, over 2.2 in 0.5322 to 0.5336. Read twice to a
// quarter of a thousandth each, 0.0005 in over 1 in is 0.0295 deg, which over 2 in
// would leave 2·2·(tan 14.0657 - tan 14.0362) = 0.0022 in: more than 0.001. Over 2.2 in
// it is 0.0010.
func TestMoveByHand(t *testing.T) {
	in := swivel.Input{
		HalfAngle: units.Radians(math.Atan(0.25)), Tools: swivel.Tools{Unit: units.Inch},
		Compound: &shop.Compound{
			Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(1)}, Travel: new(units.MustLength("2.45in")),
			Screw: &shop.Dial{Lead: units.MustLength("0.1in"), Divisions: 100, Unit: units.Inch},
		},
	}
	asked := swivel.Asked{Within: units.MustLength("0.001in"), Length: new(units.MustLength("2in"))}
	m := in.MoveFrom(units.Degrees(14), asked)
	const far = "move the handle end 0.036 deg away from you: the indicator from 0.5322 in to 0.5336 in, " +
		"0.0014 in more, over 22 turns of its handle, 2.2 in"
	if got := m.Say().In(units.Inch); got != far || m.FarEnd.Fixed(units.Inch, 4, units.Nearest) != "0.0010" || !m.Told {
		t.Error(got, m.FarEnd.Fixed(units.Inch, 4, units.Nearest), m.Told)
	}
	asked.Within = units.MustLength("0.003in")
	m = in.MoveFrom(units.Degrees(14), asked)
	const near = "move the handle end 0.036 deg away from you: the indicator from 0.2419 in to 0.2425 in, " +
		"0.0006 in more, over 10 turns of its handle, 1 in"
	if got := m.Say().In(units.Inch); got != near || m.FarEnd.Fixed(units.Inch, 4, units.Nearest) != "0.0022" {
		t.Error(got, m.FarEnd.Fixed(units.Inch, 4, units.Nearest))
	}
	// A thousandth of a degree is 0.00001·2.4 in: the hand does not show it.
	if m = in.MoveFrom(in.HalfAngle.Plus(units.Degrees(0.001)), asked); m.Told {
		t.Error(m.Say().In(units.Inch))
	}
	// Without a compound it is a length of a slide.
	in.Compound = nil
	got := in.MoveFrom(units.Degrees(14), asked).Say().In(units.Inch)
	if !strings.HasSuffix(got, "over 1 in of the slide") {
		t.Error(got)
	}
}
