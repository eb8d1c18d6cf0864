package plan

import (
	"fmt"
	"math"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
)

// minutes returns how long one piece takes, with its set-ups and tool changes, to the nearest
// millionth: so that two ways that take as long compare as equal however they are summed up.
func (d *attempt) minutes() float64 {
	sum, change := 0.0, d.changes()
	for _, i := range d.sequence {
		c := change(d.ops[i])
		sum += c.setup + c.tool + d.ops[i].Minutes
	}
	const fine = 1e6
	return math.Round(sum*fine) / fine
}

// changed is what is put up before a step, and the minutes of it.
type changed struct {
	anew        bool // another set-up, or the first
	setup, tool float64
}

// changes returns what tells of each step, in their order, what is put up before it.
func (d *attempt) changes() func(*op.Op) changed {
	var last op.Setup
	first, tools := true, map[shop.Machine]op.Tool{}
	return func(o *op.Op) changed {
		c := changed{anew: first || o.Setup != last}
		if c.anew {
			c.setup = setupMinutes(last, o.Setup)
		}
		if had, other := tools[o.Setup.Machine]; other && had != o.Tool {
			c.tool = practice.ToolMinutes.Number()
		}
		first, last, tools[o.Setup.Machine] = false, o.Setup, o.Tool
		return c
	}
}

// setupMinutes returns how long it takes to get from one set-up to another.
func setupMinutes(from, to op.Setup) float64 {
	m := 0.0
	if from.Grip() != to.Grip() {
		m += to.Device.Minutes()
	}
	if to.Support == op.AtSteady && (from.Grip() != to.Grip() || from.Steady != to.Steady) {
		m += practice.SteadyMinutes.Number()
	}
	switch {
	case to.Machine == op.Lathe && to.State != op.State{} && from.State != to.State:
		m += practice.SwingMinutes.Number()
	case from.Grip() == to.Grip() && from.State != to.State:
		m += practice.ToolMinutes.Number()
	}
	return m
}

// Clock is a time of day in minutes after the midnight before the work begins: a
// day has 1440.
type Clock int

const day Clock = 24 * 60

// ParseClock reads "9:30" or "14:05".
func ParseClock(text string) (Clock, error) {
	h, m, ok := strings.Cut(text, ":")
	var hour, minute int
	if ok && len(m) == 2 && len(h) >= 1 && len(h) <= 2 && strings.Trim(h+m, "0123456789") == "" {
		fmt.Sscan(h, &hour)
		fmt.Sscan(m, &minute)
		if hour < 24 && minute < 60 {
			return Clock(hour*60 + minute), nil
		}
	}
	return 0, problem.New(problem.Malformed, "", text, "not a time of day: write hours and minutes, such as 9:30")
}

// String returns "09:30", and past midnight which day it is of: "02:11 the next
// day", "02:11, 2 days later".
func (c Clock) String() string {
	text := fmt.Sprintf("%02d:%02d", int(c%day)/60, int(c)%60)
	switch days := c / day; days {
	case 0:
		return text
	case 1:
		return text + " the next day"
	default:
		return fmt.Sprintf("%s, %d days later", text, days)
	}
}

// MarshalJSON writes the time as a text.
func (c Clock) MarshalJSON() ([]byte, error) { return []byte(`"` + c.String() + `"`), nil }

// after returns the time so many minutes later, nil where there is none.
func (c *Clock) after(minutes float64) *Clock {
	if c == nil {
		return nil
	}
	return new(Clock(math.Round(float64(*c) + minutes)))
}

// late says by how much the last step is late. A time before the one that work
// begins at is one of the next day.
func (r *Result) late(end *Clock) {
	if r.Inputs.By == nil || end == nil {
		return
	}
	by := *r.Inputs.By
	if by < *r.Inputs.Start {
		by += day
	}
	late := max(0, int(*end-by))
	r.Late = new(units.Number(late))
	if late > 0 {
		r.Warn("late", "the last step ends at ", *end, ", ", late, " min after ", by, "; times are guesses")
	}
}
