package plan

import (
	"cmp"
	"reflect"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
)

// Where no way to make the part works, one constraint at a time is taken away and
// the part is planned again: a tool is bought, a limit is written wider, a feature is
// moved. What is told to mend a no is what was seen to mend all of it, the least
// trouble first, with what the plan then costs; what did not is told as tried. Two
// constraints are never taken away together, and a trial tries nothing itself.

// Remedy is one thing that was changed, alone, and what the plan then comes to.
type Remedy struct {
	Say     say.Text     `json:"say"`
	Setups  int          `json:"set_ups"`
	Minutes units.Number `json:"time_min"`

	trial trial
}

// trouble is how much a remedy asks of the maker.
type trouble int

// From the least to the most: a word in the part's file, a wider limit, a tool from a
// catalogue, another drawing, what goes on a machine, and a machine; behind all, to give up
// a fit or a tolerance that is written.
const (
	aWord trouble = iota
	aLimit
	aTool
	aFeature
	anOutfit
	aMachine
	aFit
)

// trial is one constraint taken away: what is done, as a maker would say it, and the
// change itself, on a part and a shop of its own. One that is of a size is so many
// steps of it, and says what it is of another number.
type trial struct {
	say    say.Text
	change func(in *Input)
	asks   trouble
	as     int // the answer that it is one of

	several bool // it is more than one change

	steps int
	of    func(steps int) trial
}

// outcome is what became of a trial: how the plan came out, or why there is none.
type outcome struct {
	Remedy
	made bool
	why  say.Text
}

// Trials are bounded: so many for one refusal, so many that succeed for it, and so much
// work for all, counted in ways that are looked into, which none is begun beyond. Each gives
// up where none of so many ways passes: of the parts that are planned in the shops of the
// tests one in fifty asks for more. Of several changes together more are looked into, since
// nothing is known of such a part: two ends with a fit asked for more than 160 and fewer than
// 240; and no more than two answers are tried so.
//
// Common practice, no source: counted over parts of our own.
const (
	trialsEach = 12
	enough     = 3
	lookedMost = 280
	lookedEach = 80
	lookedAll  = 320 // where several things are changed

	togetherMost = 2
)

// mender tries what may mend a plan, each thing once.
type mender struct {
	in     Input
	stood  standing // what stands against it as it is
	looked int      // ways that were looked into, for all trials
	became map[say.Text]outcome
	vain   []outcome // of what was tried and does not mend it, in its order
}

// mend tells what mends each refusal, says so to people, and keeps what was tried in
// vain.
func (r *Result) mend(j *job) {
	if len(r.Refused) == 0 {
		return
	}
	m := &mender{in: j.Input, stood: j.stood, became: map[say.Text]outcome{}}
	offered, mended := make([][]trial, len(r.Refused)), false
	for i := range r.Refused {
		f := &r.Refused[i]
		offered[i] = r.cause(j, f).offers()
		f.Remedies = m.remedies(offered[i])
		mended = mended || len(f.Remedies) > 0
	}
	if !mended {
		if x, ok := m.all(offered); ok {
			for i := range r.Refused {
				r.Refused[i].Remedies = append(r.Refused[i].Remedies, x)
			}
		}
	}
	var alone []say.Text
	for _, v := range m.vain {
		r.Tried, alone = append(r.Tried, say.Of(v.Say, ": ", v.why)), append(alone, v.Say)
	}
	told := map[say.Text]bool{}
	for _, f := range r.Refused {
		p, before := f.told, say.Text("; it can be made with ")
		for _, x := range f.Remedies {
			if !told[x.Say] { // what mends several is told once
				told[x.Say] = true
				p.Want += say.Of(before, x.Say, ": then ", x.cost())
				before = "; or with "
			}
		}
		if len(r.Operations) > 0 && p.At.File == "" {
			p.At.Key = "" // the step is named, which people find on the card
		}
		r.No(p)
	}
	if len(told) == 0 && len(alone) > 0 {
		r.Warn("tried", "nothing that was tried alone mends it: ", say.Join(alone, "; "))
	}
}

// cost is what the plan then comes to: "4 set-ups, 61 min".
func (m Remedy) cost() say.Text {
	return say.Of(say.Count(int64(m.Setups), "set-up", "set-ups"), ", ", say.Num(float64(m.Minutes), 0), " min")
}

// remedies tries what is offered in its order, and returns what mends everything: the
// least trouble first, and of what asks the same the cheapest.
func (m *mender) remedies(offered []trial) []Remedy {
	list := []Remedy{}
	for _, t := range offered[:min(len(offered), trialsEach)] {
		x, known := m.became[t.say]
		if len(list) == enough || !known && m.tired() {
			break
		}
		if !known {
			x = m.least(t)
		}
		if x.made {
			list = append(list, x.Remedy)
		}
	}
	slices.SortStableFunc(list, func(a, b Remedy) int {
		return cmp.Or(cmp.Compare(a.trial.asks, b.trial.asks), cmp.Compare(a.Setups, b.Setups),
			cmp.Compare(a.Minutes, b.Minutes))
	})
	return list
}

// least tries a trial. One of a size is tried by twice as much where it fails, and then
// by the halves between what fails and what mends.
func (m *mender) least(t trial) outcome {
	x := m.plan(t)
	if !x.made && t.of != nil && !m.tired() {
		fails := t.steps
		if more := m.plan(t.of(2 * fails)); more.why != "" || more.made {
			x = more
		}
		for x.made && x.trial.steps-fails > 1 && !m.tired() {
			half := (x.trial.steps + fails) / 2
			if y := m.plan(t.of(half)); y.made {
				x = y
			} else {
				fails = half
			}
		}
	}
	m.became[t.say] = x
	if !x.made {
		m.vain = append(m.vain, x)
	}
	return x
}

// all tries what answers every refusal in one way, a tool for each or a wider limit, together: the first of
// these that mends it.
func (m *mender) all(offered [][]trial) (mends Remedy, ok bool) {
	var list []trial
	for _, t := range offered[0] {
		if t.asks != aTool && t.asks != aLimit && t.asks != aFit ||
			slices.ContainsFunc(list, func(u trial) bool { return u.as == t.as }) {
			continue
		}
		if sum, each := alongside(offered, t.as); each {
			list = append(list, sum)
		}
	}
	slices.SortStableFunc(list, func(a, b trial) int { return cmp.Compare(a.asks, b.asks) })
	for _, t := range list[:min(len(list), togetherMost)] {
		if x := m.least(t); x.made {
			return x.Remedy, true
		}
	}
	return mends, false
}

// tired reports whether too little is left to try another.
func (m *mender) tired() bool { return m.looked > lookedMost-lookedEach }

// plan plans with one thing changed. The plan is asked from the start: what is done was
// done to another.
func (m *mender) plan(t trial) outcome {
	x := outcome{Remedy: Remedy{Say: t.say, trial: t}}
	if t.change == nil {
		return x
	}
	in := t.on(m.in)
	if wrong := in.Part.Check(); len(wrong) > 0 {
		x.why = said(wrong)
		return x
	}
	r, err := m.just(in, t)
	switch {
	case err != nil:
		var list problem.List
		list.Add(err)
		x.why = said(list)
	case len(r.Refused) > 0:
		x.why = r.Refused[0].Reason
	default:
		x.made, x.Setups, x.Minutes = true, r.Totals.Setups, r.Totals.Minutes
	}
	return x
}

// just plans, and tries nothing.
func (m *mender) just(in Input, t trial) (Result, error) {
	j, err := newJob(in)
	if err != nil {
		return Result{}, err
	}
	j.most, j.stood = lookedEach, m.stood
	if t.several { // what stood against it as it is may not do so any more
		j.most, j.stood = lookedAll, standing{}
	}
	r, err := j.plan()
	m.looked += j.looked
	return r, err
}

// on returns the question with the trial's change.
func (t trial) on(in Input) Input {
	in.Part, in.Shop, in.Done = own(in.Part), own(in.Shop), 0
	t.change(&in)
	return in
}

// said is the first thing that is wrong, without its place.
func said(list problem.List) say.Text {
	if p := list[0]; p.Found != "" {
		return say.Of(p.Found, ": ", p.Want)
	}
	return list[0].Want
}

// own returns a copy that shares nothing that can be changed.
func own[T any](v T) T {
	c := reflect.ValueOf(&v).Elem()
	unshare(c)
	return v
}

// unshare gives a value its own pointers and lists, all the way down.
func unshare(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			c := reflect.New(v.Type().Elem())
			c.Elem().Set(v.Elem())
			unshare(c.Elem())
			v.Set(c)
		}
	case reflect.Slice:
		if !v.IsNil() {
			c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(c, v)
			for i := range c.Len() {
				unshare(c.Index(i))
			}
			v.Set(c)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Field(i); f.CanSet() {
				unshare(f)
			}
		}
	}
}

// tries offers a trial, said as it is done.
func (c *cause) tries(change func(in *Input), pieces ...any) {
	c.offer(trial{say: say.Of(pieces...), change: change})
}

// buys offers a shop that has something more.
func (c *cause) buys(change func(s *shop.Shop), pieces ...any) {
	c.tries(func(in *Input) { change(in.Shop) }, pieces...)
}

// fits offers a lathe that has something more, where there is one.
func (c *cause) fits(change func(l *shop.Lathe), pieces ...any) {
	if c.Shop.Lathe != nil {
		c.tries(func(in *Input) { change(in.Shop.Lathe) }, pieces...)
	}
}

// draws offers a turned part that is drawn otherwise.
func (c *cause) draws(change func(r *part.Round), pieces ...any) { c.offer(redrawn(change, pieces...)) }

func redrawn(change func(r *part.Round), pieces ...any) trial {
	return trial{say: say.Of(pieces...), change: func(in *Input) { change(in.Part.Round) }}
}

// alongside is two or more trials of one answer, each the first that a refusal is offered of it; each is
// false where one of them is offered none, or all the same.
func alongside(offered [][]trial, as int) (sum trial, each bool) {
	var list []trial
	for _, trials := range offered {
		i := slices.IndexFunc(trials, func(t trial) bool { return t.as == as })
		if i < 0 {
			return sum, false
		}
		if t := trials[i]; !slices.ContainsFunc(list, func(u trial) bool { return u.say == t.say }) {
			list = append(list, t)
		}
	}
	var words []say.Text
	for _, t := range list {
		words, sum.asks = append(words, t.say), max(sum.asks, t.asks)
	}
	sum.say, sum.as = say.Join(words, " and "), as
	sum.change = func(in *Input) {
		for _, t := range list {
			t.change(in)
		}
	}
	sum.several = len(list) > 1
	return sum, sum.several
}

// sized offers so much on whole steps, and by more where that fails.
func (c *cause) sized(by units.Length, step grain, of func(by units.Length) trial) {
	grain := c.grain(step)
	if by.Sign() <= 0 {
		return
	}
	asks := c.asks
	var make func(steps int) trial
	make = func(steps int) trial {
		t := of(grain.Times(int64(steps)))
		t.asks, t.steps, t.of = asks, steps, make
		return t
	}
	c.offer(make(int(by.RoundTo(grain, units.Up).Over(grain) + 0.5)))
}

// offer adds a trial, once.
func (c *cause) offer(t trial) {
	t.asks, t.as = c.asks, c.as
	if t.change != nil && !slices.ContainsFunc(c.list, func(u trial) bool { return u.say == t.say }) {
		c.list = append(c.list, t)
	}
}
