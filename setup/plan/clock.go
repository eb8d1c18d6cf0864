package plan

import (
	"fmt"
	"math"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/plan/op"
)

// setupMinutes returns how long it takes to get from one set-up to another.
func setupMinutes(from, to op.Setup) float64 {
	m := 0.0
	if from.Grip() != to.Grip() {
		m += to.Device.Minutes()
	}
	switch {
	case to.Machine == op.Lathe && to.State != op.State{} && from.State != to.State:
		m += practice.SwingMinutes.Number()
	case from.Grip() == to.Grip() && from.State != to.State:
		m += practice.ToolMinutes.Number()
	}
	return m
}

// Clock is a time of day in minutes after midnight.
type Clock int

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

// String returns "09:30"; past midnight the day goes on: "25:10".
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// MarshalJSON writes the time as a text.
func (c Clock) MarshalJSON() ([]byte, error) { return []byte(`"` + c.String() + `"`), nil }

// after returns the time so many minutes later, nil where there is none.
func (c *Clock) after(minutes float64) *Clock {
	if c == nil {
		return nil
	}
	return new(Clock(math.Round(float64(*c) + minutes)))
}

// late says by how much the last step is late.
func (r *Result) late(end *Clock) {
	if by := r.Inputs.By; by != nil && end != nil {
		late := max(0, int(*end-*by))
		r.Late = new(units.Number(late))
		if late > 0 {
			r.Warn("late", "the last step ends at ", *end, ", ", late, " min after ", *by, "; times are guesses")
		}
	}
}
