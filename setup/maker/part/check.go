package part

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Check returns everything about the part that cannot be: sizes that
// contradict one another, features beyond its ends. It does not judge whether
// a shop can make it.
func (p Part) Check() problem.List {
	switch {
	case p.Round != nil:
		return p.Round.check()
	case p.Block != nil:
		return p.Block.check()
	}
	return nil
}

// checker collects what is wrong with the features of a part, each at its place
// of the file. A problem without a key is one of the whole feature.
type checker struct{ problem.List }

// at adds what is wrong with a feature.
func (c *checker) at(pos problem.Pos, l list) {
	for _, p := range l.List.List {
		place := pos
		if p.At.Key != "" {
			place.Key = p.At.Key
		}
		c.Add(p.In(place))
	}
}

// list is what is wrong with one feature.
type list struct{ check.List }

// cannot refuses what no part can be.
func (l *list) cannot(bad bool, key string, found any, want ...any) {
	l.Refuse(bad, problem.Impossible, key, found, want...)
}

// span refuses a stretch that does not run from left to right, or runs beyond
// the part. It reports whether it is sound.
func (l *list) span(from, to, length units.Length) bool {
	right := from.Less(to)
	beyond := right && (from.Sign() < 0 || length.Less(to))
	l.Refuse(!right, problem.Contradiction, "to", to, "must lie to the right of from, ", from)
	l.cannot(beyond, "", between(from, to), "lies beyond the part, which is ", length, " long")
	return right && !beyond
}

// within refuses a place beyond the ends of the part.
func (l *list) within(key string, z, length units.Length) bool {
	ok := z.Sign() >= 0 && z.Cmp(length) <= 0
	l.cannot(!ok, key, z, "beyond the part, which is ", length, " long")
	return ok
}

// between and pair word a stretch and a place as they were typed.
func between(from, to units.Length) say.Text { return say.Of(from.Typed(), " to ", to.Typed()) }
func pair(x, y units.Length) say.Text        { return say.Of("[", x.Typed(), ", ", y.Typed(), "]") }

func (r Round) check() problem.List {
	var c checker
	r.checkProfile(&c)
	if len(c.List) > 0 {
		return c.List // the rest is measured against the profile
	}
	var whole list
	if r.Stock != nil {
		whole.cannot(r.roomIn(*r.Stock).Less(r.Largest()),
			"stock", r.Stock.Size, "smaller than the part's largest diameter, ", r.Largest())
		whole.cannot(!r.Hollow(r.Stock.Bore), "stock", r.Stock, "the part is solid where the tube is not: ",
			"it needs a bore of that size or more, from end to end")
	}
	c.at(r.At, whole)
	for i, x := range r.Chamfers {
		c.at(x.At, x.check(r, r.Chamfers[:i]))
	}
	for _, a := range r.Arcs {
		c.at(a.At, a.check(r))
	}
	for i, f := range r.Facets {
		c.at(f.At, f.check(r, r.Facets[:i]))
	}
	for _, b := range r.Bores {
		c.at(b.At, b.check(r))
	}
	for _, t := range r.Threads {
		c.at(t.At, t.check(r.Length()))
	}
	for _, h := range r.Holes {
		c.at(h.At, h.check(r))
	}
	for _, w := range r.Rows {
		c.at(w.At, w.check(r.Length()))
	}
	for _, s := range r.Slots {
		l := s.check()
		half := s.Length.Half()
		l.cannot(s.Z.Less(half) || r.Length().Less(s.Z.Plus(half)),
			"at", s.Z, "the slot runs beyond the part, which is ", r.Length(), " long")
		c.at(s.At, l)
	}
	return c.List
}

// roomIn returns the largest diameter that a bar has room for: where facets are its
// own flats, that through its corners, to the hundredth that drawings round it to.
func (r Round) roomIn(s Stock) units.Length {
	for _, f := range r.Facets {
		if f.Sides == s.Sides() {
			return s.Swing().RoundTo(units.MustLength("0.01mm"), units.Up)
		}
	}
	return s.Round()
}

func (r Round) checkProfile(c *checker) {
	var whole list
	whole.Refuse(len(r.Profile) < 2, problem.Missing, "profile", nil, "needs at least two points")
	whole.cannot(len(r.Profile) > 1 && r.Length().Sign() <= 0, "profile", r.Length(), "the part has no length")
	for i, s := range r.Profile {
		c.at(s.At, s.check(r.Profile[:i], i == len(r.Profile)-1))
	}
	c.at(r.At, whole)
}

func (s Station) check(before []Station, last bool) (l list) {
	n := len(before)
	l.Refuse(s.Dia.Sign() < 0 || s.Dia.Sign() == 0 && n > 0 && !last,
		problem.OutOfRange, "", s.Dia, "a diameter must be above 0 (an end may come to a point)")
	if n == 0 {
		l.cannot(s.Z.Sign() != 0, "", s.Z, "the profile begins at z = 0, the left end")
		return l
	}
	p := before[n-1]
	twice := s.Z.Equal(p.Z) && s.Dia.Equal(p.Dia)
	l.Refuse(s.Z.Less(p.Z),
		problem.Contradiction, "", s.Z, "points run from left to right: this one stands left of ", p.Z)
	l.Refuse(twice, problem.Duplicate, "", pair(s.Z, s.Dia), "the same point twice")
	l.Refuse(!twice && s.Z.Equal(p.Z) && n > 1 && s.Z.Equal(before[n-2].Z),
		problem.Duplicate, "", s.Z, "a shoulder is two points at one z, this is the third")
	return l
}

func (a Arc) check(r Round) (l list) {
	if !l.span(a.From, a.To, r.Length()) {
		return l
	}
	chord, line := a.To.Minus(a.From), false
	for i, s := range r.Profile[1:] {
		if p := r.Profile[i]; p.Z.Equal(a.From) && s.Z.Equal(a.To) {
			line = true
			chord = units.FromFloat(math.Hypot(chord.MM(), s.Dia.Minus(p.Dia).Half().MM()))
		}
	}
	l.cannot(a.Radius.Times(2).Less(chord), "radius", a.Radius, "too small to reach over ", chord.Up())
	l.cannot(!line, "", between(a.From, a.To), "an arc takes the place of one straight line of the profile: ",
		"its ends are points of the profile with none between")
	return l
}

func (f Facets) check(r Round, before []Facets) (l list) {
	if !l.span(f.From, f.To, r.Length()) {
		return l
	}
	flats, apart := f.Sides == 2, f.Across.Sign() > 0
	l.Refuse(flats && !apart, problem.Missing, "across", nil, "two flats need how far they are apart: across: 8")
	l.Refuse(!flats && apart, problem.Contradiction, "across", f.Across,
		"a distance is that of two flats; of more sides the profile's diameters are: write flats or corners")
	l.cannot(flats && apart && r.largestOver(f.From, f.To).Cmp(f.Across) <= 0, "across", f.Across,
		"as wide as the part is there, ", r.largestOver(f.From, f.To), ": no flat is cut")
	l.Refuse(f.Sides%2 == 1 && !f.Corners && !apart,
		problem.Contradiction, "across", "flats", "an odd number of sides is given across corners")
	l.NotBelow0("leave", f.Leave)
	for _, o := range before {
		if f.From.Less(o.To) && o.From.Less(f.To) {
			l.Refuse(true, problem.Contradiction, "from", f.From, "overlaps the facets on line ", o.At.Line)
			break // one is enough to find the other
		}
	}
	return l
}

func (b Bore) check(r Round) (l list) {
	deep := b.Depth.Sign() > 0
	l.Refuse(b.Through && deep, problem.Contradiction, "depth", b.Depth, "a bore through has no depth")
	l.Refuse(!b.Through && !deep, problem.Missing, "depth", nil, "a bore needs its depth, or through: true")
	l.cannot(!b.Through && r.Length().Less(b.Depth),
		"depth", b.Depth, "deeper than the part is long, ", r.Length(), ": write through: true")
	end := r.DiaAt(units.Length{})
	if b.From == Right {
		end = r.DiaAt(r.Length())
	}
	l.cannot(end.Cmp(b.Dia) <= 0, "dia", b.Dia, "as large as the part is at that end, ", end)
	return l
}

func (t Thread) check(length units.Length) (l list) {
	key, which := "length", "an outside thread"
	if t.Inside {
		key, which = "depth", "an inside thread"
	}
	l.Refuse(t.Length.Sign() <= 0, problem.Missing, key, nil, which, " needs its ", key)
	l.cannot(length.Less(t.Length), key, t.Length, "longer than the part, ", length)
	return l
}

func (h Hole) check(r Round) (l list) {
	if !l.within("at", h.Z, r.Length()) {
		return l
	}
	outside := r.DiaAt(h.Z)
	l.cannot(outside.Half().Cmp(h.Offset.Abs()) <= 0,
		"offset", h.Offset, "misses the part, which is ", outside, " in diameter there")
	l.cannot(h.Depth != nil && outside.Cmp(*h.Depth) <= 0,
		"depth", h.Depth, "deeper than the part is there, ", outside, ": leave depth out for a hole through")
	return l
}

func (w Row) check(length units.Length) (l list) {
	dias, n := len(w.Dias), max(len(w.Dias), w.Count)
	l.Refuse(dias == 0, problem.Missing, "dias", nil, "a row needs dias, or dia with count")
	l.Refuse(dias > 1 && w.Count != 0 && w.Count != dias,
		problem.Contradiction, "count", w.Count, "but ", dias, " diameters are listed")
	l.Refuse(dias == 1 && w.Count == 0, problem.Missing, "count", nil, "one diameter needs a count")
	steps := []check.Option{check.If("pitch", w.Pitch), check.If("span", w.Span), check.If("web", w.Web)}
	if n > 1 && dias > 0 {
		l.ExactlyOne(steps...)
	} else {
		l.AtMostOne(steps...)
	}
	key, last := w.last(n)
	l.cannot(l.within("from", w.From, length) && length.Less(last),
		key, last, "the last hole's centre lies beyond the part, which is ", length, " long")
	return l
}

// last returns where the centre of the last of n holes stands, and the key that
// puts it there. A stagger's half step is left out.
func (w Row) last(n int) (key string, z units.Length) {
	switch {
	case w.Span != nil:
		return "span", w.From.Plus(*w.Span)
	case w.Pitch != nil:
		return "pitch", w.From.Plus(w.Pitch.Times(int64(n - 1)))
	case w.Web == nil || len(w.Dias) == 0:
		return "from", w.From
	}
	dia := func(i int) units.Length { return w.Dias[min(i, len(w.Dias)-1)] }
	z = w.From
	for i := 1; i < n; i++ {
		z = z.Plus(*w.Web).Plus(dia(i - 1).Plus(dia(i)).Half())
	}
	return "web", z
}

func (s Slot) check() (l list) {
	l.cannot(s.Length.Less(s.Width), "length", s.Length, "shorter than the slot is wide, ", s.Width)
	return l
}

func (b Block) check() problem.List {
	var c checker
	for i, s := range b.Slopes {
		c.at(s.At, s.check(b, b.Slopes[:i]))
	}
	for _, s := range b.Slots {
		l := s.check()
		b.reaches(&l, s.Face, s.X, s.Y, s.Depth)
		c.at(s.At, l)
	}
	for _, h := range b.Holes {
		var l list
		b.reaches(&l, h.Face, h.X, h.Y, h.Depth)
		c.at(h.At, l)
	}
	return c.List
}

func (s Slope) check(b Block, before []Slope) (l list) {
	l.cannot(s.ToX.Cmp(s.FromX) <= 0 || s.FromX.Sign() < 0 || b.X.Less(s.ToX),
		"from_x", between(s.FromX, s.ToX), "must run left to right within the block, 0 to ", b.X)
	l.Inside("along_x", s.AlongX, units.Degrees(-60), units.Degrees(60)) // how far a vice is tilted: a guess
	l.Inside("along_y", s.AlongY, units.Degrees(-60), units.Degrees(60))
	if l.Err() == nil {
		key, along := "along_x", s.AlongX
		if along.Deg() == 0 {
			key, along = "along_y", s.AlongY
		}
		deep := s.Drop(b.Y)
		l.cannot(b.Z.Cmp(deep) <= 0, key, along, "the slope falls ", deep.Up(), " to its lowest corner, and the block is ",
			b.Z, " high: a gentler slope, or a higher block")
	}
	for _, o := range before {
		if !s.FromX.Less(o.ToX) || !o.FromX.Less(s.ToX) {
			continue
		}
		if s.Face == o.Face {
			l.Refuse(true, problem.Contradiction, "from_x", s.FromX, "overlaps the slope on line ", o.At.Line)
			break
		}
		left := b.between(s, o)
		l.cannot(left.Sign() <= 0, "along_x", s.AlongX, "leaves nothing between it and the slope on line ", o.At.Line,
			": a gentler slope, or a higher block")
	}
	return l
}

// between returns the least height that two slopes leave, of the top and the bottom, where
// they lie over each other: both are planes, so it is at a corner.
func (b Block) between(s, o Slope) units.Length {
	from, to := units.Max(s.FromX, o.FromX), units.Min(s.ToX, o.ToX)
	left := b.Z
	for _, x := range []units.Length{from, to} {
		for _, y := range []units.Length{{}, b.Y} {
			left = units.Min(left, b.Z.Minus(s.Fall(b.Y, x, y)).Minus(o.Fall(b.Y, x, y)))
		}
	}
	return left
}

// reaches refuses a place beside the block, and a depth that goes through it.
func (b Block) reaches(l *list, f Face, x, y units.Length, depth *units.Length) {
	u, v, w := f.Axes()
	beside := x.Sign() < 0 || y.Sign() < 0 || b.Size(u).Less(x) || b.Size(v).Less(y)
	l.cannot(beside, "at", pair(x, y), "beyond the block, ", b.Size(u), " by ", b.Size(v))
	is := []say.Text{"long", "wide", "high"}[w]
	l.cannot(!beside && depth != nil && b.Size(w).Cmp(*depth) <= 0,
		"depth", depth, "as deep as the block is ", is, ", ", b.Size(w), ": leave depth out to go through")
}
