package plan

import (
	"fmt"
	"math"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
)

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

// schedule gives every operation its start and end from the clock, and says by
// how much the last one is late.
func (r *Result) schedule() {
	if r.Inputs.Start == nil {
		return
	}
	at := float64(*r.Inputs.Start)
	var last op.Setup
	tools := map[shop.Machine]string{}
	for i := range r.Operations {
		o := &r.Operations[i]
		if i == 0 || o.op.Setup != last {
			at += setupMinutes(last, o.op.Setup)
		}
		if had := tools[o.Machine]; had != "" && had != o.Tool {
			at += toolMinutes
		}
		last, tools[o.Machine] = o.op.Setup, o.Tool
		start := Clock(math.Round(at))
		at += o.op.Minutes
		end := Clock(math.Round(at))
		o.Starts, o.Ends = &start, &end
	}
	if r.Inputs.By != nil {
		late := units.Number(math.Max(0, math.Round(at)-float64(*r.Inputs.By)))
		r.Late = &late
		if late > 0 {
			r.Warnings.Add("late", fmt.Sprintf("the last step ends at %v, %.0f min after %v; times are guesses", Clock(math.Round(at)), float64(late), *r.Inputs.By))
		}
	}
}
