package drill

import (
	"strings"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
	"setover/threads"
)

// forming is the height a forming tap raises per percent and unit of pitch:
// hole = d - 0.0068·%·P. Source: tap makers' rule, from memory.
const forming = 0.0068

// ownDepth returns what 100 % takes off the major diameter of a thread that
// has one base: its own depth.
func ownDepth(d threads.Designation) units.Length { return d.Major.Minus(d.Sizes().MinorInternal) }

// Hole returns the hole that gives a percentage of thread:
//
//	hole = d - %/100·1.299038·P    for 60° threads
//	hole = d - %/100·(d - D1)      for the others
//
// percent is above 0. A taper thread has none; see Target.
//
// Source: Machinery's Handbook, tap drills; the percentages of its table 2 are
// checked in the tests.
func Hole(d threads.Designation, percent float64) units.Length {
	full := d.Pitch.Length(threads.ChartDepth)
	if d.Form.Tapping != threads.ByCharts {
		full = ownDepth(d)
	}
	return d.Major.Minus(units.FromFloat(percent / 100 * full.MM()))
}

// Percent returns the percentage of thread in a hole, 100·(d - hole)/full.
func Percent(d threads.Designation, hole units.Length) float64 {
	if d.Form.Tapping == threads.ByCharts {
		return 100 * d.Major.Minus(hole).MM() / (threads.ChartDepth * d.Pitch.MM())
	}
	return 100 * d.Major.Minus(hole).Over(ownDepth(d))
}

// PercentISO is Percent on the base of ISO 68-1, 100 % = 1.082532 P.
func PercentISO(d threads.Designation, hole units.Length) float64 {
	return 100 * d.Major.Minus(hole).MM() / (d.Form.Minor.By * d.Pitch.MM())
}

// FormingHole returns the hole for a forming tap, d - 0.0068·%·P.
func FormingHole(d threads.Designation, percent float64) units.Length {
	return d.Major.Minus(d.Pitch.Length(forming * percent))
}

// FormingPercent returns the percentage a forming tap raises in a hole.
func FormingPercent(d threads.Designation, hole units.Length) float64 {
	return d.Major.Minus(hole).MM() / (forming * d.Pitch.MM())
}

// Aim is a percentage of thread to aim at and why.
type Aim struct {
	Percent float64
	Because sheet.Text
}

// Target returns the percentage to aim at: the middle of the material's range,
// 70 without one; at most 60 under 3 mm; 7.5 less where the thread is engaged
// deeper than 1.5 times its diameter. Trapezoidal and ACME nuts are bored to
// their minor diameter, 100 %. depth may be nil. Taper threads have none: ok
// is false. Source: common practice, no source.
func Target(d threads.Designation, m *materials.Material, depth *units.Length) (aim Aim, ok bool) {
	switch d.Form.Tapping {
	case threads.BySmall:
		return Aim{}, false
	case threads.Bored:
		return Aim{100, "the nut of this form is bored to its minor diameter"}, true
	}
	aim = Aim{practice.ThreadPercentUnsaid.Number(), "no material said"}
	if m != nil {
		row := practice.ThreadPercent.Row(m)
		why := strings.Split(row.What, ": ")
		aim = Aim{practice.ThreadPercent.Number(m), say.Of(m.Title, ": ", why[len(why)-1])}
	}
	small, most := practice.SmallTap.Length(), practice.SmallTapPercent.Number()
	if d.Major.Less(small) && aim.Percent > most {
		aim = Aim{most, say.Of("under ", small, ": ", say.Num(most, 1), ", so that the tap does not break")}
	}
	if depth != nil && practice.DeepThread.Of(d.Major).Less(*depth) {
		less := practice.DeepThreadLess.Number()
		aim.Percent -= less
		aim.Because += say.Of("; deeper than ", say.Num(practice.DeepThread.Number(), 1), " d: ", say.Num(less, 1), " less")
	}
	return aim, true
}

// Cuts returns the hole a drill really makes: larger by 0.04 mm at 1.6 mm,
// 0.08 at 3.2, 0.10 at 6.4 and 0.13 from 12.7 mm, between them in proportion;
// acetal and nylon close in by 0.05. m may be nil.
//
// Source: handbook means, from memory.
func Cuts(drill units.Length, m *materials.Material) units.Length {
	if in := practice.ClosesIn.Length(m); in.Sign() > 0 {
		return drill.Minus(in)
	}
	return drill.Plus(practice.DrillOver.Length(drill).RoundTo(units.MustLength("0.001mm"), units.Nearest))
}

// Scatter returns how far the hole a drill makes may be off what Cuts has, either way: from the
// mean to the most or to the least that is published beside it, whichever is further, but no less
// than 0.03 mm. Over the mean that is 0.01 mm at 1.6 mm, 0.035 at 3.2, 0.065 at 6.4 and 0.07 from
// 12.7; under it 0.015, 0.055, 0.035 and 0.055.
//
// Source: handbook, from memory; the least of it common practice, no source.
func Scatter(drill units.Length) units.Length {
	mean := practice.DrillOver.Length(drill)
	over, under := practice.DrillOverMost.Length(drill).Minus(mean), mean.Minus(practice.DrillOverLeast.Length(drill))
	most := units.Max(practice.DrillScatter.Length(), units.Max(over, under))
	return most.RoundTo(units.MustLength("0.001mm"), units.Up)
}

// Tap is how long a tap's lead is: its first, unfinished threads.
type Tap string

// The taps.
const (
	TaperTap     Tap = "taper"
	PlugTap      Tap = "plug"
	BottomingTap Tap = "bottoming"
)

// Taps lists the taps.
func Taps() []string { return []string{string(TaperTap), string(PlugTap), string(BottomingTap)} }

// Lead returns the length of a tap's lead: 8 P taper, 4 P plug, 2 P bottoming.
//
// Source: common practice, no source.
func (t Tap) Lead(p units.Pitch) units.Length {
	pitches := practice.TapLeadPlug
	switch t {
	case TaperTap:
		pitches = practice.TapLeadTaper
	case BottomingTap:
		pitches = practice.TapLeadBottoming
	}
	return p.Length(pitches.Number())
}
