package certify

import (
	"slices"
	"sync"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// gouge: after the operation the work is nowhere smaller than the drawing by what
// it cut, except as a limit allows and as the operation says is usual.
func gouge(k *checker) {
	if !k.gouged() {
		return
	}
	for _, r := range k.Op.Removes {
		var ok bool
		switch r := r.(type) {
		case work.Bore:
			ok = k.boreDrawn(r)
		case work.Cross:
			ok = k.crossDrawn(r)
		case work.Flats:
			ok = k.flatsDrawn(r)
		case work.Thread:
			ok = k.threadDrawn(r)
		case work.Slot:
			ok = k.slotDrawn(r)
		case work.EndCut:
			ok = k.endDrawn(r)
		default:
			ok = true
		}
		if !ok {
			return
		}
	}
}

// gouged looks at the outside, at both ends and in the middle of each straight
// piece of what was cut. It reports whether it is sound.
func (k *checker) gouged() bool {
	i := 0
	for _, cut := range k.cuts {
		for _, p := range k.After.Outside {
			if !p.Overlaps(cut) || p.Sides > 2 { // flats are looked at across
				continue
			}
			for i < len(k.segments) && k.segments[i].To <= max(p.From, cut.From) {
				i++
			}
			for n := i; n < len(k.segments) && k.segments[n].From < min(p.To, cut.To); n++ {
				x := k.segments[n]
				s := p.Meet(cut).Meet(x.Span)
				for _, z := range []work.Len{s.From, middle(s), s.To} {
					is, least := within(p, z), x.at(x.least, z)
					if is < least-fine && !k.usual(k.Op.Allowed, z, is, least) {
						k.tooSmall(z, is, least)
						return false
					}
				}
			}
		}
	}
	return true
}

// outsides are the kinds of a size of the outside.
var outsides = []limits.Kind{limits.Diameter, limits.TaperEnd, limits.ThreadBlank}

// tooSmall says that the outside is left too small at a place. Where the operation
// foresees that, its instrument has no setting within the limits: what it comes to is
// a limit that is not kept. Metal that was not there before the cut cannot be left.
func (k *checker) tooSmall(z, is, least work.Len) {
	code, remedy := problem.Gouge, say.Of("stop the cut there, or set it to leave ", least.Length().Up())
	switch was := k.Before.Dia(z); {
	case k.foresees(outsides, z):
		code, remedy = problem.OutOfLimits, k.Op.Best
	case was < least-fine:
		remedy = "start again with another bar"
	}
	k.fail(code, figure(is, say.Of("is left at z ", z.Length())), figure(least, "at the least"), remedy)
}

// foresees reports whether the operation itself foresees a size beyond its limits at
// a place.
func (k *checker) foresees(kinds []limits.Kind, z work.Len) bool {
	return slices.ContainsFunc(k.Op.Predicted, func(p op.Predicted) bool {
		return slices.Contains(kinds, p.Kind) && !p.OK() && op.LenOf(p.From) <= z+fine && z-fine <= op.LenOf(p.To)
	})
}

// usual reports whether a diameter under the least is usual at z: the relief
// and the chamfer of a thread, a broken edge, a chamfer that is drawn.
func (k *checker) usual(allowed []op.Allowed, z, dia, least work.Len) bool {
	for i := range k.Shape.Threads {
		t := &k.Shape.Threads[i]
		if t.Inside {
			continue
		}
		pitch, major := k.pitches[t.Spec], op.LenOf(t.Designation.Major)
		s := work.Span{From: op.LenOf(t.Span.From), To: op.LenOf(t.Span.To)}
		wide := times(pitch, k.reliefWidth)
		low := major - times(pitch, k.reliefDepth+k.dieUnder)
		inner := far(s, other(t.From))
		if slices.Contains(allowed, op.ThreadRelief) && dia >= low &&
			away(z, inner, t.From) <= wide+fine && away(z, inner, other(t.From)) <= wide+fine {
			return true
		}
		root := op.LenOf(t.Designation.Sizes().MinorExternal) - times(pitch, k.dieUnder)
		deep := (major - root) / 2
		edge := min(max(z-s.From, s.From-z), max(z-s.To, s.To-z))
		if slices.Contains(allowed, op.ThreadChamfer) && dia >= root && edge <= deep+fine {
			return true
		}
	}
	for _, c := range k.chamfers {
		if dia >= least-2*c.deep(z)-fine {
			return true
		}
	}
	return slices.Contains(allowed, op.BrokenEdge) && k.nearEdge(z)
}

// deep returns how far a chamfer may reach into the radius at z.
func (c chamfer) deep(z work.Len) work.Len { return max(0, c.size-max(z-c.z, c.z-z)) }

// nearEdge reports whether a place is within a broken edge of an end or a
// shoulder.
func (k *checker) nearEdge(z work.Len) bool {
	edge := func(at work.Len) bool { return max(z-at, at-z) <= k.brokenEdge }
	for _, x := range k.Shape.Shoulders {
		if edge(op.LenOf(x.Z)) {
			return true
		}
	}
	return edge(0) || edge(op.LenOf(k.Shape.Length))
}

// no adds what is cut and not drawn.
func (k *checker) no(what say.Text, limit say.Text) bool {
	k.fail(problem.Gouge, words(what), words(limit), "cut it as it is drawn")
	return false
}

// spanOf returns a span of the drawing as one of the work.
func spanOf(s outline.Span) work.Span { return work.Span{From: op.LenOf(s.From), To: op.LenOf(s.To)} }

// boreDrawn reports whether a bore lies within those that are drawn: nowhere
// wider than the most that they may be, nor deeper. A mouth may be wider where
// the operation says so, and so may a centre's.
func (k *checker) boreDrawn(b work.Bore) bool {
	if b.EndDia != 0 && b.EndDia != b.Dia && slices.Contains(k.Op.Allowed, op.CountersinkOK) {
		return true
	}
	s := opened(b, k.Before).Meet(work.Span{To: k.Before.Length})
	wide, lead := max(b.Dia, b.EndDia), k.lead()
	for s.Length() > 0 {
		reach, most := s.From, work.Len(0)
		for _, d := range k.bores {
			d.Span = work.Span{From: d.From - lead, To: d.To + lead}
			switch {
			case d.From > s.From+fine || d.To <= s.From+fine:
			case d.most >= wide-fine:
				reach = max(reach, d.To)
			default:
				most = max(most, d.most)
			}
		}
		if reach <= s.From+fine {
			k.tooWide(s.From, wide, most)
			return false
		}
		s.From = reach
	}
	return true
}

// lead returns how much deeper than it is drawn the operation may drill for a reamer's lead.
func (k *checker) lead() work.Len {
	if slices.Contains(k.Op.Allowed, op.ReamerLead) {
		return op.LenOf(practice.ReamerLead.Length())
	}
	return 0
}

// tooWide says that a bore is too wide at a place: where none is drawn it goes too deep;
// where the operation foresees it, a limit is not kept; else a drill that is too large
// is followed by what makes the size.
func (k *checker) tooWide(z, wide, most work.Len) {
	code, remedy := problem.Gouge, say.Of("set it to bore ", most.Length().Down(), " at the most")
	switch {
	case most == 0:
		remedy = say.Of("stop it at z ", z.Length())
	case k.foresees([]limits.Kind{limits.Bore}, z):
		code, remedy = problem.OutOfLimits, k.Op.Best
	case k.Op.Kind == op.Drill:
		remedy = "a smaller drill, and then a reamer or a boring bar"
	}
	k.fail(code, figure(wide, say.Of("is bored at z ", z.Length())), figure(most, "at the most"), remedy)
}

// room returns where a bore of the drawing may have its full diameter: to the
// most of its depth, and out of the end it is from.
func (j *Job) room(d outline.Bore) work.Span {
	s := spanOf(d.Span)
	if d.Through {
		return s
	}
	more := op.LenOf(j.Limits.BoreDepth(d).High) - op.LenOf(d.Depth)
	if d.From == part.Right {
		s.From -= more
		return s
	}
	s.To += more
	return s
}

// rollWithin is how far off a roll may be set.
var rollWithin = sync.OnceValue(func() work.Deg { return op.DegOf(practice.RollWithin.Angle()) })

// alike reports whether two rolls are one, after so much of a turn.
func alike(a, b, turn work.Deg) bool {
	off := (a - b) % turn
	off = max(off, -off)
	return min(off, turn-off) <= rollWithin()
}

// Parts of a turn, in millionths of a degree.
const (
	wholeTurn = work.Deg(360_000_000)
	halfTurn  = wholeTurn / 2
)

// hole returns the hole of the drawing that a cross hole is of, nil where there
// is none.
func (k *checker) hole(h work.Cross) *outline.Hole {
	for i := range k.Shape.Holes {
		d := &k.Shape.Holes[i]
		place := k.Limits.HolePlace(*d)
		turn := wholeTurn
		if d.Depth == nil && d.Offset.Sign() == 0 {
			turn = halfTurn
		}
		if op.LenOf(place.Low) <= h.Z+fine && h.Z-fine <= op.LenOf(place.High) && alike(h.Roll, op.DegOf(d.Roll), turn) &&
			h.Dia <= op.LenOf(k.Limits.Hole(*d).High)+fine {
			return d
		}
	}
	return nil
}

func (k *checker) crossDrawn(h work.Cross) bool {
	d := k.hole(h)
	if d == nil {
		return k.no(say.Of("a hole of ", h.Dia.Length(), " at z ", h.Z.Length()), "the drawing has none there")
	}
	if d.Depth != nil && (h.Depth == nil || *h.Depth > op.LenOf(k.Limits.HoleDepth(*d).High)+k.lead()+fine) {
		return k.no(say.Of("the hole at z ", h.Z.Length(), " is too deep"), say.Of("it is drawn ", *d.Depth, " deep"))
	}
	return true
}

// flatsDrawn reports whether flats are drawn where they are cut, and no closer.
func (k *checker) flatsDrawn(f work.Flats) bool {
	for i := range k.Shape.Facets {
		d := &k.Shape.Facets[i]
		if d.Sides != f.Sides || !spanOf(d.Span).Overlaps(work.Span{From: f.From, To: f.To}) {
			continue
		}
		for _, x := range k.Shape.Stretches {
			s := spanOf(x.Span).Meet(work.Span{From: f.From, To: f.To})
			if x.Facets != d || s.Length() <= 0 {
				continue
			}
			is := segment{Span: work.Span{From: f.From, To: f.To}}
			low := segment{Span: spanOf(x.Span)}
			line := [2]work.Len{op.LenOf(k.Limits.Flats(x, part.Left).Low), op.LenOf(k.Limits.Flats(x, part.Right).Low)}
			for _, z := range []work.Len{s.From, s.To} {
				left := is.at([2]work.Len{f.AcrossFrom, f.AcrossTo}, z)
				if least := low.at(line, z); left < least-fine {
					k.fail(problem.Gouge, figure(left, say.Of("across flats at z ", z.Length())), figure(least, "at the least"),
						"leave more on the flats")
					return false
				}
			}
		}
		return true
	}
	return k.no(say.Of(f.Sides, " sides ", over(work.Span{From: f.From, To: f.To})), "the drawing has none there")
}

func (k *checker) threadDrawn(t work.Thread) bool {
	for _, d := range k.Shape.Threads {
		if d.Inside == t.Inside && d.Spec == t.Spec && spanOf(d.Span).Overlaps(work.Span{From: t.From, To: t.To}) {
			return !t.Inside || k.threadsMetal(t)
		}
	}
	return k.no(say.Of("a thread ", say.Plain(t.Spec)), "the drawing has none there")
}

// threadsMetal reports whether a thread inside lies in metal over the whole of its
// length: nothing is bored wider than it there, but a mouth.
func (k *checker) threadsMetal(t work.Thread) bool {
	for _, b := range k.Before.Bores {
		if b.Opens {
			continue
		}
		only := work.State{Length: k.Before.Length, Outside: k.Before.Outside, Bores: []work.Bore{b}}
		for _, z := range []work.Len{t.From, middle(work.Span{From: t.From, To: t.To}), t.To} {
			if is := only.Bore(z); is > t.Major+fine {
				k.fail(problem.Complete, figure(is, say.Of("is bored at z ", z.Length())),
					words(say.Of("there is no metal for ", say.Plain(t.Spec), " there")), "let it begin below the wider bore's point")
				return false
			}
		}
	}
	return true
}

func (k *checker) slotDrawn(x work.Slot) bool {
	for _, d := range k.Shape.Slots {
		place, long := k.Limits.SlotPlace(d), k.Limits.SlotLength(d.N)
		half := op.LenOf(long.High) / 2
		if op.LenOf(place.Low)-half <= x.From+fine && x.To-fine <= op.LenOf(place.High)+half &&
			x.Width <= op.LenOf(k.Limits.SlotWidth(d.N).High)+fine {
			return true
		}
	}
	return k.no(say.Of("a slot ", over(work.Span{From: x.From, To: x.To})), "the drawing has none there")
}

// endDrawn reports whether an end is left standing as far as the length may be
// short.
func (k *checker) endDrawn(e work.EndCut) bool {
	z := k.ends[0]
	if e.End == part.Right {
		z = k.ends[1]
		if e.Z < z.From-fine {
			return k.no(say.Of("cut off at z ", e.Z.Length()), say.Of("z ", z.From.Length(), " at the least"))
		}
		return true
	}
	if e.Z > z.To+fine {
		return k.no(say.Of("cut off at z ", e.Z.Length()), say.Of("z ", z.To.Length(), " at the most"))
	}
	return true
}

// unrelieved is all that may be smaller than the drawing before the outside is cut: a thread's
// relief is cut after. everything is all that may be at the end.
var (
	unrelieved = []op.Allowed{op.ThreadBlank, op.ThreadChamfer, op.BrokenEdge, op.CountersinkOK, op.CentreHoleOK}
	everything = append(unrelieved[:len(unrelieved):len(unrelieved)], op.ThreadRelief)
)

// startSize: what is there before the cut is not already under both the cut and
// the drawing. Metal is never put back.
func startSize(k *checker) {
	for _, r := range k.Op.Removes {
		switch r := r.(type) {
		case work.Outside:
			if !k.startsLarge(r) {
				return
			}
		case work.Bore:
			if !k.startsSmall(r) {
				return
			}
		case work.Centre:
			if !k.startsSolid(r) {
				return
			}
		}
	}
}

// startsSolid reports whether there is metal for a centre drill: a bore that is as
// wide leaves it nothing, nor does a centre hole.
func (k *checker) startsSolid(c work.Centre) bool {
	if was := k.Before.EndAt(c.End).Centre; was != nil && c.Dia <= was.Dia && c.Pilot <= was.Pilot {
		k.fail(problem.StartSize, figure(was.Dia, say.Of("across is the centre hole in the ", c.End, " end already")),
			figure(c.Dia, "across is what is drilled"), "leave it out: the drill starts in the centre hole")
		return false
	}
	is := k.Before.Bore(k.Before.Reach(c.End))
	if is < c.Dia {
		return true
	}
	k.fail(problem.StartSize, figure(is, say.Of("is bored in the ", c.End, " end")),
		figure(c.Dia, "across is the centre hole"), "leave it out: the drill follows the hole")
	return false
}

// startsLarge reports whether the outside is large enough for a cut.
func (k *checker) startsLarge(r work.Outside) bool {
	for i := 1; i < len(r.Profile); i++ {
		a, b := r.Profile[i-1], r.Profile[i]
		if a.Z >= b.Z {
			continue
		}
		tool := work.Piece{Span: work.Span{From: a.Z, To: b.Z}, Left: a.Dia, Right: b.Dia}
		for _, p := range k.Before.Outside {
			if !p.Overlaps(tool.Span) {
				continue
			}
			for _, x := range k.segments {
				s := p.Meet(tool.Span).Meet(x.Span)
				if s.Length() <= 0 {
					continue
				}
				for _, z := range []work.Len{s.From, middle(s), s.To} {
					is, to, least := within(p, z), within(tool, z), x.at(x.least, z)
					if is < to-fine && is < least-fine && !k.usual(unrelieved, z, is, least) {
						k.fail(problem.StartSize, figure(is, say.Of("is on the bar at z ", z.Length())),
							figure(least, "at the least"), "it is under size: start again with another bar")
						return false
					}
				}
			}
		}
	}
	return true
}

// startsSmall is the same of a bore.
func (k *checker) startsSmall(b work.Bore) bool {
	z := middle(opened(b, k.Before).Meet(work.Span{To: k.Before.Length}))
	is, most := k.Before.Bore(z), work.Len(0)
	for _, d := range k.bores {
		if d.From <= z && z <= d.To {
			most = max(most, d.most)
		}
	}
	if is > b.Dia+fine && is > most+fine {
		k.fail(problem.StartSize, figure(is, say.Of("is bored at z ", z.Length())), figure(most, "at the most"),
			"it is over size: start again with another bar, or bush it")
		return false
	}
	return true
}
