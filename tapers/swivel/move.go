package swivel

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
)

// Move is how a swivel that stands at one half angle is moved on to another. Toward
// is where the handle end goes: tailstock, headstock, operator or back, the quarter
// its way lies nearest to. Dial is the indicator that tells it, Now what that shows
// before, and Told whether it tells so little.
type Move struct {
	By     units.Angle // above 0
	Sense  shop.Direction
	Toward string
	Dial   Dial
	Now    units.Length
	Told   bool
	FarEnd units.Length // the most that the far end may be out afterwards
}

// MoveFrom returns how the swivel moves on from the half angle where it stands to
// in's. The handle points along (cos s, sin s); turned clockwise its end goes along
// (-sin s, cos s), the first toward the tailstock and the second toward the
// operator, and the other way round counter-clockwise. That is taken half way.
//
// The indicator is wound over the usual way where that tells the move and keeps what
// is asked, else as far as it goes. It is read twice, each time to half of what it is
// read to, s, so that what it shows over the travel t may be off by s:
//
//	across the axis  sin b = sin a ± s/t
//	along the axis   cos b = cos a ± s/t
func (in Input) MoveFrom(stands units.Angle, asked Asked) Move {
	m := Move{By: units.Degrees(math.Abs(in.HalfAngle.Minus(stands).Deg())), Sense: shop.Clockwise}
	turned := in.way()
	if in.HalfAngle.Deg() < stands.Deg() {
		turned = -turned
	}
	if turned < 0 {
		m.Sense = shop.CounterClockwise
	}
	half := in
	half.HalfAngle = in.HalfAngle.Plus(stands).Half()
	m.Toward = goes(half.Handle(), turned)
	over := asked.over(in.Unit)
	near, _ := in.near()
	ways := []Way{near}
	if far, ok := in.far(); ok {
		ways = append(ways, far)
	}
	for _, w := range ways {
		m.Dial = w.Dial
		w.HalfAngle, w.Within = in.HalfAngle, w.Dial.off(in.HalfAngle, practice.IndicatorRead.Length(in.Unit))
		m.FarEnd = w.FarEnd(over)
		m.Now = units.FromFloat(w.Dial.Travel.MM() * w.Dial.Along.shown(stands))
		m.Told = practice.IndicatorRead.Length(in.Unit).Half().Cmp(m.Change().Abs()) <= 0
		if m.Told && m.FarEnd.Cmp(asked.Within) <= 0 {
			break
		}
	}
	return m
}

// off returns how far a half angle may be off where what the indicator shows is off by
// as much.
func (d Dial) off(a units.Angle, by units.Length) units.Angle {
	more := d.Along.angle(d.Exact.Plus(by), d.Travel).Minus(a)
	fewer := d.Along.angle(units.Max(d.Exact.Minus(by), units.Length{}), d.Travel).Minus(a)
	return units.Degrees(max(math.Abs(more.Deg()), math.Abs(fewer.Deg())))
}

// Change returns how much more the indicator shows afterwards.
func (m Move) Change() units.Length { return m.Dial.Exact.Minus(m.Now) }

// goes names the quarter that the end of a handle goes to which points at s and is
// turned clockwise above 0.
func goes(s units.Angle, turned float64) string {
	tail, you := -turned*s.Sin(), turned*s.Cos()
	switch {
	case math.Abs(you) >= math.Abs(tail) && you > 0:
		return "operator"
	case math.Abs(you) >= math.Abs(tail):
		return "back"
	case tail > 0:
		return "tailstock"
	}
	return "headstock"
}

// Way says which way the handle end goes, as whoever stands before the lathe sees
// it.
func (m Move) Way() say.Text {
	switch m.Toward {
	case "operator":
		return "toward you"
	case "back":
		return "away from you"
	}
	return say.Of("toward the ", m.Toward)
}

// Say says in one sentence how the swivel is moved on, in short without what Held says: "move the handle end
// 0.057 deg toward you: the indicator from 0.48 mm to 0.5 mm, 0.02 mm more, over
// 20 turns of its handle, 20 mm".
func (m Move) Say() say.Text {
	more := "more"
	if m.Change().Sign() < 0 {
		more = "less"
	}
	return say.Of("move the handle end ", say.Num(m.By.Deg(), 3), " deg ", m.Way(), ": the indicator from ", m.Now, " to ",
		m.Dial.Exact, ", ", m.shown(), " ", more, say.Aside(", over ", m.Over()))
}

// shown is the change between what is shown of both: each is rounded, and so their
// difference is not always what their exact difference rounds to.
func (m Move) shown() say.Text {
	word := func(u units.Unit, last units.Length) string {
		from, to := m.Now.RoundTo(last, units.Nearest), m.Dial.Exact.RoundTo(last, units.Nearest)
		return say.Of(to.Minus(from).Abs()).In(u)
	}
	return say.Either(word(units.MM, units.MustLength("0.001mm")), word(units.Inch, units.MustLength("0.0001in")))
}

// Over says how far the slide is wound.
func (m Move) Over() say.Text {
	if m.Dial.Turns > 0 {
		return say.Of(say.Count(m.Dial.Turns, "turn", "turns"), say.Aside(" of its handle, ", m.Dial.Travel))
	}
	return say.Of(m.Dial.Travel, " of the slide")
}

// Proves says what the indicator shows of a slide that stands right: "prove the slide, an indicator on a true
// bar shows 6.062 mm over 73 turns".
func (m Move) Proves() say.Text {
	on := "a bar true along the axis"
	if m.Dial.Along == Axis {
		on = "a face square to the axis"
	}
	return say.Of("prove the slide by indicator: on ", on, " ", m.Dial.Exact, " over ", m.Over())
}

// Held says how the indicator is held and what it shows while the swivel still
// stands.
func (m Move) Held() say.Text {
	on := "on a " + say.Shorter("straight bar that runs ", "bar ") + "true along it"
	if m.Dial.Along == Axis {
		on = "on a face that is square to it"
	}
	far := say.Of(m.Dial.Travel, " of the slide")
	if m.Dial.Turns > 0 {
		far = say.Of(say.Count(m.Dial.Turns, "turn", "turns"), say.Aside(", ", m.Dial.Travel))
	}
	show := "shows"
	if m.Dial.Turns > 1 {
		show = "show"
	}
	shows := say.Shorter(
		say.Of("With the slack of the compound's handle taken up it shows about ", m.Now, " over ", far,
			": what it really shows counts."),
		say.Of("Slack out, ", far, " ", show, " about ", m.Now, ": what shows counts."))
	return say.Of("Indicator in the ", say.Aside("tool "), "post at centre height, ", say.Aside("its "), "plunger ",
		m.Dial.lies(), " ", on, ". ", shows)
}

// Over returns the length that a setting is judged over.
func (a Asked) Over(u units.Unit) units.Length { return a.over(u) }
