package compound

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/tapers"
)

// Where the tip is wound back after a touch it goes along the line that it touched on, and
// that line lies in the work where the side falls the way it goes. So the cross slide first
// comes out past where the passes begin, which is where the tip only just meets the work.
//
// In bites that begin where the last line lies on the work already, the first line of a bite
// is the one that meets the work at its far end: b·sin a before the last, and one move of the
// cross slide farther for each bite after the first.

// onLast reports whether the tip stands on the last line where the work is touched: in bites
// that begin at the end that is not the one that the passes are counted from, or in work that
// is a part of more at its large end.
func (r *Result) onLast() bool {
	if r.First == nil {
		return false
	}
	_, end := r.touched()
	begins := other(r.FeedsToward)
	if r.on == nil {
		return end != begins
	}
	return end == begins && end != r.Inputs.SmallEnd
}

// rise is how much deeper the last line lies at the far end of a bite than where the first
// bite begins.
func (r *Result) rise(bite int) units.Length {
	rise := units.FromFloat(r.Bite.MM() * r.SetHalfAngle.Sin())
	for _, j := range r.Joints[:bite-1] {
		rise = rise.Plus(j.Cross)
	}
	return rise
}

// out is how far out from the collar's 0 the tip just meets the work in a bite; the passes
// begin there, on the first line that is no nearer. Work that is a part of more, alone.
func (r *Result) out(bite int) units.Length {
	out := *r.on.Begins
	if r.onLast() {
		out = units.Min(out, r.rise(bite))
	}
	out = units.Max(out.Minus(r.shift()), units.Length{})
	if d := r.Inputs.Lathe.CrossSlide; d != nil {
		s, _ := d.Past(out.Minus(units.FromFloat(told)))
		out = s.Set
	}
	return out
}

// from is what the collar counts where the tip just meets the work in a bite, on a line that is
// no deeper; below 0 where that is before 0.
func (r *Result) from(bite int) units.Length {
	counts := r.farther().Minus(r.rise(bite))
	d := r.Inputs.Lathe.CrossSlide
	if d == nil {
		return counts
	}
	counts = counts.Plus(units.FromFloat(shows))
	s, _ := d.Set(d.Division().Times(counts.Times(int64(d.Divisions)).Steps(d.Lead, units.Down)))
	return s.Set
}

// counts says what a line counts on the cross slide's collar.
func (r *Result) counts(line units.Length) say.Text {
	switch {
	case line.Abs().MM() < shows:
		return "0"
	case line.Sign() < 0:
		return say.Of(line.Abs(), " before 0", r.linesOver(line.Abs()))
	}
	return say.Of(line, r.lines(line))
}

// comesOff says how the tip comes off the work after the touch, to where it may be wound back
// and the first pass begun from outside.
func (r *Result) comesOff() say.Text {
	farther := say.Of(" and ", r.backOff(), " farther")
	switch {
	case r.on != nil:
		return r.pastOut()
	case !r.onLast():
		return r.backOff()
	case r.Inputs.Stock != nil:
		return say.Of("to the line of pass ", r.fromPass(1), farther)
	}
	return say.Of("to ", r.counts(r.from(1)), ", where ", say.Shorter(say.Of("the tip will just meet the work,", farther),
		say.Of("it meets the work,", farther)))
}

// pastOut is how the tip comes off work that is a part of more: half a turn, or as many turns as
// take it past where the passes begin by a quarter of one.
func (r *Result) pastOut() say.Text {
	d, out := r.Inputs.Lathe.CrossSlide, r.out(1)
	if d == nil && out.Sign() > 0 {
		return say.Of(out, ", and ", r.backOff(), " more")
	}
	if d == nil {
		return r.backOff()
	}
	past := out.Plus(d.Lead.Half().Half())
	if past.Cmp(practice.SlackPart.Of(d.Lead)) <= 0 {
		return r.backOff()
	}
	turns := past.Steps(d.Lead, units.Up)
	return say.Of(say.Count(turns, "turn", "turns"), " and its slack, past where the passes begin")
}

// nextFrom says where the passes of the next bites begin, where that is not where those of the
// first do.
func (r *Result) nextFrom() say.Text {
	past := r.on != nil && r.on.even && !r.onLast()
	if !past && (!r.onLast() || r.Inputs.Stock != nil) {
		return ""
	}
	var list []say.Text
	for _, j := range r.Joints {
		from := say.Of("from ", r.counts(r.from(j.Bite)))
		switch {
		case past && r.pastZero(j.Bite).Sign() > 0:
			line := r.pastZero(j.Bite)
			from = say.Of("from ", line, r.linesSet(line), " past 0")
		case past:
			from = "from the same line"
		case r.on != nil:
			out := r.out(j.Bite)
			from = say.Of("from ", out, r.linesOver(out), " out")
		}
		if len(r.Joints) > 1 {
			from = say.Of("bite ", j.Bite, " ", from)
		}
		list = append(list, from)
	}
	if len(list) > 1 {
		return say.Shorter("s in the same passes: ", "s so: ") + say.Join(list, ", ")
	}
	return say.Shorter(" in the same passes, ", " so, ") + say.Join(list, ", ")
}

// pastZero is how far past the collar's 0 the tip only just meets work that is as thick all along in a bite, where it
// was touched at the small end: what the cross slide has moved out since the first, less what the touch was inside.
// It is on a line that is no deeper.
func (r *Result) pastZero(bite int) units.Length {
	past := r.on.Begins.Minus(r.shift()).Neg()
	for _, j := range r.Joints[:bite-1] {
		past = past.Plus(j.Cross)
	}
	if d := r.Inputs.Lathe.CrossSlide; d != nil {
		s, _ := d.Short(past)
		past = s.Set
	}
	return past
}

// goesIn reports whether a pass of a bore goes from its mouth into the wall, and so the whole
// bite, rather than out of it.
func (r *Result) goesIn() bool { return r.Inputs.SmallEnd == tapers.AtTailstock }
