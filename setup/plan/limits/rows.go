package limits

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/outline"
	"setover/tapers/standard"
)

// row reads a row of limits, the n-th of the part.
func (l *Limits) row(n int, w part.Limit) {
	switch {
	case w.Z != nil && w.Tol != nil:
		l.diameter(w)
	case w.From == nil || w.To == nil: // the file's reader says so
	case !w.From.Less(*w.To):
		l.no(w.At, problem.New(problem.Contradiction, "to", w.To, "must lie to the right of from, ", w.From))
	case w.Tol != nil:
		l.length(n, w)
	case w.Angle != nil || w.Gauge != "":
		l.taper(w)
	}
}

// once refuses what another row limits already, told by its words.
func (l *Limits) once(w part.Limit, words string) bool {
	before, twice := l.limited[words]
	if twice {
		l.no(w.At, problem.New(problem.Duplicate, "limits", say.Plain(words), "limited twice, on line ", before.Line, " too"))
		return false
	}
	l.limited[words] = w.At
	return true
}

// diameter limits the diameter that is drawn at a place: a cylinder, or the end
// of a taper or of a curve.
func (l *Limits) diameter(w part.Limit) {
	z, o := *w.Z, l.outline
	no := func(code problem.Code, want ...any) { l.no(w.At, problem.New(code, "at", z, want...)) }
	touched := o.At(z)
	if len(touched) == 0 {
		no(problem.Impossible, "beyond the part, which is ", o.Length, " long")
		return
	}
	drawn, last := touched[0].At(z).Drawn, touched[len(touched)-1]
	if other := last.At(z).Drawn; !other.Equal(drawn) {
		no(problem.Contradiction, "a shoulder stands there, ", drawn, " to the left and ", other,
			" to the right: write a z of the one that is meant")
		return
	}
	if touched[0].Thread != nil && last.Thread != nil {
		no(problem.Contradiction, "the thread ", last.Thread.Designation, " is there, which its class holds: ",
			"leave the limit out")
		return
	}
	if drawn.Sign() == 0 {
		no(problem.Impossible, "the part comes to a point there")
		return
	}
	b := l.within(w.Tol, drawn, false)
	var ends, all []int
	for _, s := range touched {
		switch {
		case s.Thread != nil:
		case s.Kind() == outline.Cylinder:
			all = append(all, l.run(s)...)
		default:
			ends = append(ends, l.lineOf(s.Span))
		}
	}
	if len(all) == 0 && !l.point(z) {
		x := l.lines[ends[0]]
		no(problem.Impossible, "no diameter is drawn there but those at the ends of what lies between, ",
			x.a.Z, " and ", x.b.Z)
		return
	}
	l.limit(w, z, b, all, ends)
}

// limit puts a row's limits on the stretches of a cylinder and on the ends at z
// of lines of the profile.
func (l *Limits) limit(w part.Limit, z units.Length, b band, stretches, lines []int) {
	var words []string
	for _, n := range stretches {
		words = append(words, l.outline.Stretches[n].ID())
	}
	for _, n := range lines {
		end := part.Left
		if z.Equal(l.lines[n].b.Z) {
			end = part.Right
		}
		words = append(words, say.Of("the ", end, " end of ", l.outline.Over(l.lines[n].span())[0].ID()).String())
	}
	for _, word := range words {
		if !l.once(w, word) {
			return
		}
	}
	for _, n := range stretches {
		l.turned[n] = b
	}
	for _, n := range lines {
		if x := &l.lines[n]; z.Equal(x.a.Z) {
			x.left = b
		} else if z.Equal(x.b.Z) {
			x.right = b
		}
	}
}

func (x line) span() outline.Span { return outline.Span{From: x.a.Z, To: x.b.Z} }

// run returns the stretches that are one cylinder on the drawing, as indexes:
// what facets or a thread part of it belongs to it if its diameter means the
// same there.
func (l *Limits) run(s outline.Stretch) []int {
	all := l.outline.Stretches
	alike := func(i int) bool {
		return i >= 0 && i < len(all) && all[i].Kind() == outline.Cylinder && all[i].Thread == nil &&
			all[i].Left.Drawn.Equal(s.Left.Drawn) && flatsDrawn(all[i]) == flatsDrawn(s)
	}
	from, to := s.N-1, s.N-1
	for alike(from - 1) {
		from--
	}
	for alike(to + 1) {
		to++
	}
	var list []int
	for i := from; i <= to; i++ {
		list = append(list, i)
	}
	return list
}

// point reports whether the profile has a point at z.
func (l *Limits) point(z units.Length) bool {
	for _, p := range l.points() {
		if p.Equal(z) {
			return true
		}
	}
	return false
}

// points returns where the profile has points, from left to right.
func (l *Limits) points() []units.Length {
	list := []units.Length{l.lines[0].a.Z}
	for _, x := range l.lines {
		list = append(list, x.b.Z)
	}
	return list
}

// length limits the length between two points of the profile. From the left end
// to a shoulder it is the shoulder's place.
func (l *Limits) length(n int, w part.Limit) {
	ok := true
	for _, p := range []struct {
		key string
		z   units.Length
	}{{"from", *w.From}, {"to", *w.To}} {
		if !l.point(p.z) {
			ok = false
			l.no(w.At, problem.New(problem.Impossible, p.key, p.z,
				"the profile has no point there, but at ", say.Join(l.points(), ", ")))
		}
	}
	if w.Tol.Fit != "" {
		l.no(w.At, problem.New(problem.Contradiction, "fit", w.Tol.Fit, "is of a diameter: write tol for a length"))
		return
	}
	over := outline.Span{From: *w.From, To: *w.To}
	if !ok || !l.once(w, say.Of("the length ", over).String()) {
		return
	}
	b := l.within(w.Tol, over.Length(), false)
	for i, s := range l.outline.Shoulders {
		if over.From.Sign() == 0 && s.Z.Equal(over.To) {
			l.shoulders[i] = b
		}
	}
	if over.From.Sign() == 0 && over.To.Equal(l.outline.Length) {
		l.whole = b
		return
	}
	drawn := over.Length()
	l.lengths = append(l.lengths, Dimension{
		Kind: Length, Feature: outline.LengthID(n), From: over.From, To: over.To,
		Drawn: drawn, Low: drawn.Plus(b.lower), High: drawn.Plus(b.upper), Why: b.why,
	})
}

// taper limits the half angle of a taper.
func (l *Limits) taper(w part.Limit) {
	first, last, ok := l.straight(*w.From, *w.To)
	over := outline.Span{From: *w.From, To: *w.To}
	if !ok {
		l.no(w.At, problem.New(problem.Impossible, "from", over, l.tapers()...))
		return
	}
	if !l.once(w, say.Of("the taper ", over).String()) {
		return
	}
	drawn := halfAngle(first.a.Dia, last.b.Dia, over.Length())
	d := Dimension{Kind: Angle, Feature: l.outline.Over(over)[0].ID(), From: over.From, To: over.To}
	if w.Angle != nil {
		d.DrawnAngle, d.LowAngle, d.HighAngle, d.Why = drawn, drawn.Minus(*w.Angle), drawn.Plus(*w.Angle), "as written"
		l.angles = append(l.angles, d)
		return
	}
	named, err := standard.Find(w.Gauge)
	if err != nil {
		place := w.At
		place.Key = "gauge"
		l.bad.AddAt(place, err)
		return
	}
	rate := practice.TaperRate.Number()
	d.DrawnAngle, d.LowAngle, d.HighAngle = named.HalfAngle, named.HalfAngle, Steepest(named.HalfAngle, rate)
	d.Why = say.Of("gauge ", named.Name, ", at most ", say.Num(rate, 3), " in a foot steeper")
	if !gauged(first, last, over.Length(), d) {
		l.no(w.At, problem.New(problem.Contradiction, "gauge", named.Name, "has a half angle of ",
			sheet.Ang(named.HalfAngle), ", and the profile draws one of ", sheet.Ang(drawn),
			", which the limits of its two diameters do not make up for"))
		return
	}
	l.angles = append(l.angles, d)
}

// gauged reports whether a taper can have its named angle and both its
// diameters within their limits.
func gauged(first, last line, length units.Length, d Dimension) bool {
	large, small := first.a.Dia, last.b.Dia
	most, least := first.left, last.right
	if large.Less(small) {
		large, small, most, least = small, large, least, most
	}
	falls := func(a units.Angle) units.Length { return units.FromFloat(2 * length.MM() * a.Tan()) }
	widest := large.Plus(most.upper).Minus(small.Plus(least.lower))
	narrowest := large.Plus(most.lower).Minus(small.Plus(least.upper))
	return falls(d.LowAngle).Cmp(widest) <= 0 && narrowest.Cmp(falls(d.HighAngle)) <= 0
}

// straight returns the first and the last line of the profile of a taper that
// runs from one of its points to another: one line, or several that lie on one.
func (l *Limits) straight(from, to units.Length) (first, last line, ok bool) {
	var under []line
	for _, x := range l.lines {
		if from.Cmp(x.a.Z) <= 0 && x.b.Z.Cmp(to) <= 0 {
			under = append(under, x)
		}
	}
	if len(under) == 0 {
		return first, last, false
	}
	first, last = under[0], under[len(under)-1]
	if !first.a.Z.Equal(from) || !last.b.Z.Equal(to) || first.a.Dia.Equal(last.b.Dia) {
		return first, last, false
	}
	for i, x := range under {
		kind := l.outline.Over(x.span())[0].Kind()
		meets := i == 0 || under[i-1].b.Dia.Equal(x.a.Dia) && under[i-1].b.Z.Equal(x.a.Z)
		if kind != outline.Taper || !meets || !x.along(first.a, last.b) {
			return first, last, false
		}
	}
	return first, last, true
}

// along reports whether a line lies on the one from a to b, exactly.
func (x line) along(a, b part.Station) bool {
	rise, run := b.Dia.Minus(a.Dia), b.Z.Minus(a.Z)
	return x.b.Dia.Minus(x.a.Dia).Scale(run.Decimal()).Equal(rise.Scale(x.b.Z.Minus(x.a.Z).Decimal()))
}

// tapers words which tapers the part has.
func (l *Limits) tapers() []any {
	var list []outline.Span
	for _, x := range l.lines {
		if l.outline.Over(x.span())[0].Kind() == outline.Taper {
			list = append(list, x.span())
		}
	}
	if len(list) == 0 {
		return []any{"the part has no taper"}
	}
	return []any{"no taper runs there, but ", say.Join(list, ", ")}
}
