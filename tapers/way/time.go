package way

import (
	"math"

	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/tapers/swivel"
	"setover/tapers/tailstock"
)

// pace is how a pass is run: the speed and the feed.
type pace struct {
	rpm  units.SpindleSpeed
	feed units.Feed
}

// rate returns the feed in mm/min, and no more than a hand winds where the lead
// of the handle's screw is given.
func (p pace) rate(lead *units.Length) float64 {
	rate := p.feed.MM() * p.rpm.RPM()
	if lead == nil {
		return rate
	}
	return min(rate, winds(*lead))
}

// winds returns how fast a hand winds a slide, in mm/min.
func winds(lead units.Length) float64 { return lead.MM() * practice.HandTurns.Number() }

// run settles the passes and how each is run.
func (j *job) run() error {
	op := feeds.Turn
	if j.in.Internal {
		op = feeds.Bore
	}
	for i, p := range []*pace{&j.rough, &j.last} {
		r, err := feeds.Choose(feeds.Input{
			Operation: op, Material: j.in.Material, Diameter: units.Max(*j.in.Stock, *j.Large), To: j.atPoint(),
			Tool: j.in.Tool, Finish: i == 1, Drive: j.in.Drive,
		})
		if err != nil {
			return err
		}
		p.rpm, p.feed = r.IdealRPM, *r.Feed
		if r.RPM != nil {
			p.rpm = *r.RPM
		}
	}
	return nil
}

// atPoint returns the small end, or where that is a point what a speed can be
// reckoned from.
func (j *job) atPoint() *units.Length {
	return new(units.Max(*j.Small, units.Millimetres(1)))
}

// paceOf returns how a pass is run: the last as a finishing cut.
func (j *job) paceOf(i int) pace {
	if i == len(j.passes)-1 {
		return j.last
	}
	return j.rough
}

// beside is what the tool runs before a cut and past it.
func beside() float64 {
	return practice.FeedApproach.Length().MM() + practice.FeedOverrun.Length().MM()
}

// byCompound returns the minutes of all passes with the compound's handle, in so
// many bites of the slope.
func (j *job) byCompound(bites int, screw *shop.Dial) float64 {
	var lead *units.Length
	back := practice.HandFeed.Number()
	if screw != nil {
		lead, back = &screw.Lead, winds(screw.Lead)
	}
	total, bite := 0.0, j.SlopeLength.MM()/float64(bites)
	for i, p := range j.passes {
		slope := p.Cut.MM() / j.HalfAngle.Cos()
		reached := max(1, math.Ceil(slope/bite-1e-9))
		path := slope + reached*beside()
		total += path/j.paceOf(i).rate(lead) + path/back
	}
	return total
}

// byCarriage returns the minutes of all passes with the carriage, after one along
// the whole work.
func (j *job) byCarriage(whole units.Length) float64 {
	path := whole.MM() + beside()
	total := path/j.rough.rate(nil) + path/practice.HandFeed.Number()
	for i, p := range j.passes {
		path := p.Cut.MM() + beside()
		total += path/j.paceOf(i).rate(nil) + path/practice.HandFeed.Number()
	}
	return total
}

// swung returns the minutes of setting the compound, and of setting it back.
func swung(m swivel.Method) float64 {
	set := practice.SwingMinutes.Number()
	switch m {
	case swivel.ByIndicator:
		set += practice.IndicateMinutes.Number()
	case swivel.BySineBar:
		set += practice.SineMinutes.Number()
	}
	return set + practice.SwingBackMinutes.Number()
}

// over returns the minutes of putting the work between centres, setting the
// tailstock over and bringing it back true.
func over(m tailstock.Method) float64 {
	centred := 2 * (practice.RechuckMinutes.Number() + 2*practice.ToolMinutes.Number()) // faced and drilled
	set := practice.SwingMinutes.Number()
	if m != tailstock.ByMark {
		set += practice.IndicateMinutes.Number()
	}
	back := practice.SwingMinutes.Number() + practice.IndicateMinutes.Number()
	return centred + practice.RechuckMinutes.Number() + set + back
}

// guess says how the time is guessed.
func (j *job) guess() say.Text {
	n := say.Count(int64(len(j.passes)), "pass", "passes")
	return say.Of("The times are guesses, to compare by: ", n, " from ", j.in.Stock, " of ", j.in.Material, ", at ",
		j.rough.rpm, " and ", j.rough.feed, ", the last at ", j.last.feed, ", a handle wound ",
		say.Num(practice.HandTurns.Number(), 0), " turns a minute at the most; setting up as is usual, common practice. ",
		"Measuring and putting the angle right are not in them.")
}
