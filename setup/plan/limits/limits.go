package limits

import (
	"cmp"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/fits"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/outline"
	"setover/threads"
	threadlimits "setover/threads/limits"
)

// Limits are the dimensions of a part.
type Limits struct {
	outline *outline.Outline // nil for a block
	class   fits.General
	list    []Dimension
	found   map[key]int
	bad     problem.List

	lines     []line // of the profile
	turned    []band // of every stretch that is a cylinder
	whole     band   // of the length
	shoulders []band
	lengths   []Dimension // that rows of limits hold
	angles    []Dimension
	limited   map[string]problem.Pos // where a dimension was limited, by its words
}

// key finds a dimension: a feature may have one of a kind, one at each end of
// each stretch, or one along x and one along y.
type key struct {
	kind    Kind
	feature string
	stretch int
	end     part.End
	alongY  bool
}

// band is how far a size may be off what is drawn.
type band struct {
	lower, upper units.Length
	why          say.Text
	general      bool // nothing is written of it
}

// Of works the limits of a part out. o is the outline of a round part, and nil
// for a block.
//
// It fails with all that is wrong: a fit in the letter of the other half or one
// that ISO 286 does not have at that size, a tolerance that leaves nothing of
// the size, a size that the part's class has no general tolerance for, a row of
// limits that matches nothing of the profile or what another row limits already,
// and a taper that is not the named one.
func Of(p *part.Part, o *outline.Outline) (*Limits, error) {
	l := &Limits{
		outline: o, class: fits.General(cmp.Or(p.General, part.Medium)),
		found: map[key]int{}, limited: map[string]problem.Pos{},
	}
	if p.Block != nil {
		l.block(p.Block)
	} else {
		l.round(p.Round)
	}
	if err := l.bad.Err(); err != nil {
		return nil, err
	}
	return l, nil
}

// All returns every dimension: the lengths, the outside from left to right, and
// what is in it in the order of the file.
func (l *Limits) All() []Dimension { return l.list }

// no adds what is wrong at a place of the file, once.
func (l *Limits) no(at problem.Pos, err error) {
	var more problem.List
	more.Add(err)
	for _, p := range more {
		place := at
		if p.At.Key != "" {
			place.Key = p.At.Key
		}
		if p = p.In(place); !slices.Contains(l.bad, p) {
			l.bad.Add(p)
		}
	}
}

// add adds a dimension that was drawn as d and may be off by b.
func (l *Limits) add(k key, over outline.Span, drawn units.Length, b band) {
	l.put(k, Dimension{
		Kind: k.kind, Feature: k.feature, From: over.From, To: over.To,
		Drawn: drawn, Low: drawn.Plus(b.lower), High: drawn.Plus(b.upper), Why: b.why, General: b.general,
	})
}

func (l *Limits) put(k key, d Dimension) {
	l.found[k] = len(l.list)
	l.list = append(l.list, d)
}

// get returns a dimension, the zero one where there is none.
func (l *Limits) get(k key) Dimension {
	i, ok := l.found[k]
	if !ok {
		return Dimension{}
	}
	return l.list[i]
}

// at is the span of a place.
func at(z units.Length) outline.Span { return outline.Span{From: z, To: z} }

// general returns how far a size may be off that has no limits of its own.
func (l *Limits) general(size units.Length) band { return l.byClass(fits.General.Linear, size) }

func (l *Limits) byClass(of func(fits.General, units.Length) (units.Length, error), size units.Length) band {
	most, err := of(l.class, size)
	l.no(problem.Pos{}, err)
	return band{most.Neg(), most, l.byStandard(size), true}
}

// byStandard says where the general tolerance of a size comes from.
func (l *Limits) byStandard(size units.Length) say.Text {
	if least, _ := fits.GeneralRange(); size.Less(least) {
		return say.Of("common practice below ", least)
	}
	return say.Of("ISO 2768-1, ", l.class)
}

// within returns how far a bore, a hole or the outside of that size may be off:
// as t says, and as general says where that is nil.
func (l *Limits) within(t *part.Tolerance, size units.Length, hole bool) band {
	var b band
	var err error
	switch {
	case t == nil:
		return l.general(size)
	case t.Fit != "":
		b, err = byFit(t.Fit, size, hole)
	case t.Upper == nil || t.Lower == nil:
		return l.general(size)
	default:
		b, err = written(*t.Lower, *t.Upper, size)
	}
	l.no(t.At, err)
	return b
}

// byFit returns the deviations of a fit. Those of a hole have capitals.
func byFit(text string, size units.Length, hole bool) (band, error) {
	c, err := fits.ParseClass(text)
	switch {
	case err != nil:
		return band{}, err
	case hole && !c.Hole():
		return band{}, problem.New(problem.Contradiction, "fit", c,
			"a small letter is of a shaft, and this is a hole: write a capital, such as H7")
	case !hole && c.Hole():
		return band{}, problem.New(problem.Contradiction, "fit", c,
			"a capital is of a hole, and this is the outside: write a small letter, such as h6")
	}
	upper, lower, err := c.Deviations(size)
	return band{lower, upper, say.Of("fit ", c), false}, err
}

// written returns deviations as they are written.
func written(lower, upper, size units.Length) (band, error) {
	switch {
	case upper.Less(lower):
		return band{}, problem.New(problem.Contradiction, "tol", upper, "the upper deviation is under the lower one, ",
			lower.Typed())
	case size.Plus(lower).Sign() <= 0:
		return band{}, problem.New(problem.OutOfRange, "tol", lower, "leaves nothing of ", size.Typed())
	}
	return band{lower, upper, "as written", false}, nil
}

// round works out the dimensions of a turned part.
func (l *Limits) round(r *part.Round) {
	l.draw(r)
	for i, w := range r.Limits {
		l.row(i+1, w)
	}
	o := l.outline
	l.add(key{kind: Length, feature: outline.WholeLength}, o.Whole(), o.Length, l.whole)
	for i, d := range l.lengths {
		l.put(key{kind: Length, feature: d.Feature, stretch: i + 1}, d)
	}
	for i, s := range o.Shoulders {
		l.add(key{kind: Place, feature: s.ID()}, at(s.Z), s.Z, l.shoulders[i])
	}
	for _, s := range o.Stretches {
		l.outside(s)
	}
	for i, d := range l.angles {
		l.put(key{kind: Angle, feature: d.Feature, stretch: i + 1}, d)
	}
	for _, t := range o.Threads {
		l.thread(t, t.ID())
	}
	for _, b := range o.Bores {
		l.add(key{kind: Bore, feature: b.ID()}, b.Span, b.Dia, l.within(b.Tol, b.Dia, true))
		if !b.Through {
			l.add(key{kind: Depth, feature: b.ID()}, b.Span, b.Depth, l.general(b.Depth))
		}
	}
	for _, h := range o.Holes {
		l.across(h.ID(), at(h.Z), h.Dia, h.Depth, h.Tol)
		l.add(key{kind: Place, feature: h.ID()}, at(h.Z), h.Z, l.general(h.Z))
	}
	for _, s := range o.Slots {
		l.slot(s.ID(), s.Slot, s.Span)
		l.add(key{kind: Place, feature: s.ID()}, at(s.Z), s.Z, l.general(s.Z))
	}
	for i, c := range r.Chamfers {
		l.add(key{kind: Length, feature: outline.ChamferID(i + 1)}, at(c.Z), c.Size, l.byClass(fits.General.Edge, c.Size))
	}
}

// block works out the dimensions of a milled part. Its places are measured from
// the left along x and from the front along y.
func (l *Limits) block(b *part.Block) {
	for _, whole := range []struct {
		id   string
		size units.Length
	}{{outline.WholeLength, b.X}, {outline.WholeWidth, b.Y}, {outline.WholeHeight, b.Z}} {
		l.add(key{kind: Length, feature: whole.id}, outline.Span{To: whole.size}, whole.size, l.general(whole.size))
	}
	for i, h := range b.Holes {
		id := outline.HoleID(i + 1)
		l.across(id, at(h.X), h.Dia, h.Depth, h.Tol)
		l.add(key{kind: Place, feature: id}, at(h.X), h.X, l.general(h.X))
		l.add(key{kind: Place, feature: id, alongY: true}, at(h.Y), h.Y, l.general(h.Y))
		if h.Spec == "" {
			continue
		}
		d, err := threads.Parse(h.Spec)
		l.no(h.At, err)
		if err == nil {
			l.thread(outline.Thread{Thread: part.Thread{Inside: true, At: h.At}, Designation: d, Span: at(h.X)}, id)
		}
	}
	for i, s := range b.Slots {
		half := s.Length.Half()
		l.slot(outline.SlotID(i+1), s, outline.Span{From: s.X.Minus(half), To: s.X.Plus(half)})
	}
}

// across adds the diameter and the depth of a hole.
func (l *Limits) across(id string, z outline.Span, dia units.Length, depth *units.Length, t *part.Tolerance) {
	l.add(key{kind: Hole, feature: id}, z, dia, l.within(t, dia, true))
	if depth != nil {
		l.add(key{kind: Depth, feature: id}, z, *depth, l.general(*depth))
	}
}

// slot adds the length, the width and the depth of a slot.
func (l *Limits) slot(id string, s part.Slot, over outline.Span) {
	l.add(key{kind: Length, feature: id}, over, s.Length, l.general(s.Length))
	l.add(key{kind: Length, feature: id, alongY: true}, over, s.Width, l.general(s.Width))
	if s.Depth != nil {
		l.add(key{kind: Depth, feature: id}, over, *s.Depth, l.general(*s.Depth))
	}
}

// thread adds what a thread is cut on and its pitch diameter: one of the bar, or
// one in a block's hole, which goes by the id of the hole. A form without
// limits has no pitch diameter here; what an inside one is cut in is its bore.
func (l *Limits) thread(t outline.Thread, id string) {
	d := t.Designation
	external, internal, err := threadlimits.Choose(d, "")
	l.no(t.At, err)
	if err != nil {
		return
	}
	of := threadlimits.Of(d, external, internal)
	pitch := Dimension{
		Kind: Thread, Feature: id, From: t.Span.From, To: t.Span.To, Drawn: d.Sizes().PitchDiameter,
	}
	switch {
	case t.Inside && of.Internal != nil:
		pitch.Low, pitch.High, pitch.Why = of.Internal.PitchMin, of.Internal.PitchMax, say.Of("class ", internal)
	case !t.Inside && of.External != nil:
		pitch.Low, pitch.High, pitch.Why = of.External.PitchMin, of.External.PitchMax, say.Of("class ", external)
	}
	if !t.Inside {
		l.blank(t)
	}
	if pitch.Why != "" {
		l.put(key{kind: Thread, feature: id}, pitch)
	}
}

// blank adds what an outside thread is cut on: what its class lets it be turned
// to, and down to 0.1 of the pitch under the basic size, which a die likes.
func (l *Limits) blank(t outline.Thread) {
	d := t.Designation
	turn, err := threadlimits.TurnDown(d, "")
	l.no(t.At, err)
	drawn := d.Major
	if under := l.outline.Over(t.Span); len(under) > 0 {
		drawn = under[0].Left.Drawn
	}
	l.put(key{kind: ThreadBlank, feature: t.ID()}, Dimension{
		Kind: ThreadBlank, Feature: t.ID(), From: t.Span.From, To: t.Span.To, Drawn: drawn,
		Low:  units.Min(turn.Min, d.Major.Minus(d.Pitch.Length(practice.DieUnder.Number()))),
		High: turn.Max, Why: say.Of("turned for ", d),
	})
}
