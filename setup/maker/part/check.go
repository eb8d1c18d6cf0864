package part

import (
	"fmt"

	"setover/setup/base/problem"
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

// checker collects problems at places of the file.
type checker struct{ list problem.List }

func (c *checker) add(code problem.Code, at problem.Pos, key string, found any, want string) {
	if key != "" {
		at.Key = key
	}
	c.list = append(c.list, problem.New(code, at.Key, found, want).In(at))
}

func (r Round) check() problem.List {
	var c checker
	r.checkProfile(&c)
	if len(c.list) > 0 {
		return c.list // the rest is measured against the profile
	}
	if r.Stock != nil && r.Stock.Less(r.Largest()) {
		c.add(problem.Impossible, r.At, "stock", r.Stock, fmt.Sprintf("smaller than the part's largest diameter, %v", r.Largest()))
	}
	length := r.Length()
	span := func(at problem.Pos, from, to units.Length) bool {
		switch {
		case to.Cmp(from) <= 0:
			c.add(problem.Contradiction, at, "to", to, fmt.Sprintf("must lie to the right of from, %v", from))
		case from.Sign() < 0 || length.Less(to):
			c.add(problem.Impossible, at, "", fmt.Sprintf("%v to %v", from, to), fmt.Sprintf("lies beyond the part, which is %v long", length))
		default:
			return true
		}
		return false
	}
	for _, a := range r.Arcs {
		if !span(a.At, a.From, a.To) {
			continue
		}
		chord := a.To.Minus(a.From)
		if a.Radius.Times(2).Less(chord) {
			c.add(problem.Impossible, a.At, "radius", a.Radius, fmt.Sprintf("too small to reach over %v", chord))
		}
		if !r.isOneLine(a.From, a.To) {
			c.add(problem.Impossible, a.At, "", fmt.Sprintf("%v to %v", a.From, a.To), "an arc takes the place of one straight line of the profile: its ends are points of the profile with none between")
		}
	}
	for i, f := range r.Facets {
		if !span(f.At, f.From, f.To) {
			continue
		}
		if f.Sides%2 == 1 && !f.Corners {
			c.add(problem.Contradiction, f.At, "across", "flats", "an odd number of sides is given across corners")
		}
		if f.Leave.Sign() < 0 {
			c.add(problem.OutOfRange, f.At, "leave", f.Leave, "cannot be negative")
		}
		for _, o := range r.Facets[:i] {
			if f.From.Less(o.To) && o.From.Less(f.To) {
				c.add(problem.Contradiction, f.At, "from", f.From, fmt.Sprintf("overlaps the facets on line %d", o.At.Line))
				break // one is enough to find the other
			}
		}
	}
	r.checkBores(&c, length)
	for _, h := range r.Holes {
		r.checkHole(&c, h.At, h.Z, h.Dia, h.Offset, h.Depth, length)
	}
	for _, w := range r.Rows {
		w.check(&c, length)
	}
	for _, s := range r.Slots {
		half := s.Length.Half()
		if s.Length.Less(s.Width) {
			c.add(problem.Impossible, s.At, "length", s.Length, fmt.Sprintf("shorter than the slot is wide, %v", s.Width))
		}
		if s.Z.Minus(half).Sign() < 0 || length.Less(s.Z.Plus(half)) {
			c.add(problem.Impossible, s.At, "at", s.Z, fmt.Sprintf("the slot runs beyond the part, which is %v long", length))
		}
	}
	return c.list
}

func (r Round) checkProfile(c *checker) {
	if len(r.Profile) < 2 {
		c.add(problem.Missing, r.At, "profile", nil, "needs at least two points")
		return
	}
	last := len(r.Profile) - 1
	for i, s := range r.Profile {
		if s.Dia.Sign() < 0 || s.Dia.Sign() == 0 && i != 0 && i != last {
			c.add(problem.OutOfRange, s.At, "", s.Dia, "a diameter must be above 0 (an end may come to a point)")
		}
		if i == 0 {
			if s.Z.Sign() != 0 {
				c.add(problem.Impossible, s.At, "", s.Z, "the profile begins at z = 0, the left end")
			}
			continue
		}
		p := r.Profile[i-1]
		switch {
		case s.Z.Less(p.Z):
			c.add(problem.Contradiction, s.At, "", s.Z, fmt.Sprintf("points run from left to right: this one stands left of %v", p.Z))
		case s.Z.Equal(p.Z) && s.Dia.Equal(p.Dia):
			c.add(problem.Duplicate, s.At, "", fmt.Sprintf("[%v, %v]", s.Z, s.Dia), "the same point twice")
		case s.Z.Equal(p.Z) && i > 1 && r.Profile[i-2].Z.Equal(s.Z):
			c.add(problem.Duplicate, s.At, "", s.Z, "a shoulder is two points at one z, this is the third")
		}
	}
	if r.Length().Sign() <= 0 {
		c.add(problem.Impossible, r.At, "profile", r.Length(), "the part has no length")
	}
}

// isOneLine reports whether two z are neighbouring points of the profile.
func (r Round) isOneLine(from, to units.Length) bool {
	for i, s := range r.Profile[1:] {
		if p := r.Profile[i]; p.Z.Equal(from) && s.Z.Equal(to) {
			return true
		}
	}
	return false
}

func (r Round) checkBores(c *checker, length units.Length) {
	for _, b := range r.Bores {
		switch {
		case b.Through && b.Depth.Sign() > 0:
			c.add(problem.Contradiction, b.At, "depth", b.Depth, "a bore through has no depth")
		case !b.Through && b.Depth.Sign() <= 0:
			c.add(problem.Missing, b.At, "depth", nil, "a bore needs its depth, or through: true")
		case length.Less(b.Depth):
			c.add(problem.Impossible, b.At, "depth", b.Depth, fmt.Sprintf("deeper than the part is long, %v: write through: true", length))
		}
		end := r.DiaAt(units.Length{})
		if b.From == Right {
			end = r.DiaAt(length)
		}
		if end.Cmp(b.Dia) <= 0 {
			c.add(problem.Impossible, b.At, "dia", b.Dia, fmt.Sprintf("as large as the part is at that end, %v", end))
		}
	}
	for _, t := range r.Threads {
		key, what := "length", "an outside thread needs its length"
		if t.Inside {
			key, what = "depth", "an inside thread needs its depth"
		}
		if t.Length.Sign() <= 0 {
			c.add(problem.Missing, t.At, key, nil, what)
			continue
		}
		if length.Less(t.Length) {
			c.add(problem.Impossible, t.At, key, t.Length, fmt.Sprintf("longer than the part, %v", length))
		}
	}
}

func (r Round) checkHole(c *checker, at problem.Pos, z, dia, offset units.Length, depth *units.Length, length units.Length) {
	if z.Sign() < 0 || length.Less(z) {
		c.add(problem.Impossible, at, "at", z, fmt.Sprintf("beyond the part, which is %v long", length))
		return
	}
	outside := r.DiaAt(z)
	if outside.Half().Cmp(offset.Abs()) <= 0 {
		c.add(problem.Impossible, at, "offset", offset, fmt.Sprintf("misses the part, which is %v in diameter there", outside))
	}
	if depth != nil && outside.Cmp(*depth) <= 0 {
		c.add(problem.Impossible, at, "depth", depth, fmt.Sprintf("deeper than the part is there, %v: leave depth out for a hole through", outside))
	}
}

func (w Row) check(c *checker, length units.Length) {
	steps := 0
	for _, l := range []*units.Length{w.Web, w.Pitch, w.Span} {
		if l != nil {
			steps++
		}
	}
	n := max(len(w.Dias), w.Count)
	switch {
	case len(w.Dias) == 0:
		c.add(problem.Missing, w.At, "dias", nil, "a row needs dias, or dia with count")
	case len(w.Dias) > 1 && w.Count != 0 && w.Count != len(w.Dias):
		c.add(problem.Contradiction, w.At, "count", w.Count, fmt.Sprintf("but %d diameters are listed", len(w.Dias)))
	case len(w.Dias) == 1 && w.Count == 0:
		c.add(problem.Missing, w.At, "count", nil, "one diameter needs a count")
	case n > 1 && steps == 0:
		c.add(problem.Missing, w.At, "pitch", nil, "needs one of web, pitch and span")
	}
	if steps > 1 {
		c.add(problem.Contradiction, w.At, "pitch", nil, "takes only one of web, pitch and span")
	}
	if w.From.Sign() < 0 || length.Less(w.From) {
		c.add(problem.Impossible, w.At, "from", w.From, fmt.Sprintf("beyond the part, which is %v long", length))
		return
	}
	if key, last := w.last(n); steps == 1 && length.Less(last) {
		c.add(problem.Impossible, w.At, key, last, fmt.Sprintf("the last hole's centre lies beyond the part, which is %v long", length))
	}
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

func (b Block) check() problem.List {
	var c checker
	for i, s := range b.Slopes {
		if s.ToX.Cmp(s.FromX) <= 0 || s.FromX.Sign() < 0 || b.X.Less(s.ToX) {
			c.add(problem.Impossible, s.At, "from_x", fmt.Sprintf("%v to %v", s.FromX, s.ToX), fmt.Sprintf("must run left to right within the block, 0 to %v", b.X))
		}
		steep := func(key string, a units.Angle) {
			if a.Deg() <= -60 || a.Deg() >= 60 {
				c.add(problem.OutOfRange, s.At, key, a, "a slope here lies between -60 and 60 deg")
			}
		}
		steep("along_x", s.AlongX)
		steep("along_y", s.AlongY)
		for _, o := range b.Slopes[:i] {
			if s.FromX.Less(o.ToX) && o.FromX.Less(s.ToX) {
				c.add(problem.Contradiction, s.At, "from_x", s.FromX, fmt.Sprintf("overlaps the slope on line %d", o.At.Line))
				break
			}
		}
	}
	inside := func(at problem.Pos, x, y units.Length) bool {
		ok := x.Sign() >= 0 && y.Sign() >= 0 && x.Cmp(b.X) <= 0 && y.Cmp(b.Y) <= 0
		if !ok {
			c.add(problem.Impossible, at, "at", fmt.Sprintf("[%v, %v]", x, y), fmt.Sprintf("beyond the block, %v by %v", b.X, b.Y))
		}
		return ok
	}
	depth := func(at problem.Pos, d *units.Length) {
		if d != nil && b.Z.Cmp(*d) <= 0 {
			c.add(problem.Impossible, at, "depth", d, fmt.Sprintf("as deep as the block is high, %v: leave depth out to go through", b.Z))
		}
	}
	for _, s := range b.Slots {
		if s.Length.Less(s.Width) {
			c.add(problem.Impossible, s.At, "length", s.Length, fmt.Sprintf("shorter than the slot is wide, %v", s.Width))
		}
		if inside(s.At, s.X, s.Y) {
			depth(s.At, s.Depth)
		}
	}
	for _, h := range b.Holes {
		if inside(h.At, h.X, h.Y) {
			depth(h.At, h.Depth)
		}
	}
	return c.list
}
