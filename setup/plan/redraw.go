package plan

import (
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/walls"
	"setover/threads/drill"
)

// What could be written otherwise in the part's file, and what could be drawn
// otherwise: each by the least that should do, on a round figure.

// largerBar is a bar as thick as the part asks for, where the one that is named is too
// thin.
func largerBar(c *cause) {
	if c.found == nil || c.round == nil || c.round.Stock == nil || c.found.least().Cmp(c.bar) <= 0 {
		return
	}
	_, step := c.barFigures()
	stock := part.RoundStock(c.found.least().RoundTo(step, units.Up))
	c.draws(func(r *part.Round) { r.Stock = &stock }, "a bar of ", stock.Size, " (stock)")
}

// thickerBar is a bar that is a size thicker.
func thickerBar(c *cause) {
	_, step := c.barFigures()
	stock := part.RoundStock(c.bar.Plus(step))
	c.draws(func(r *part.Round) { r.Stock = &stock }, "a bar of ", stock.Size, " (stock)")
}

// largerBlock is a block whose every side is as long as what is wanted, or a little longer
// than it is.
func largerBlock(c *cause) {
	x, y, z := c.block.X, c.block.Y, c.block.Z
	if _, want, ok := c.figures(); ok && c.Code == problem.GripLength {
		least := c.up(units.FromFloat(want), whole)
		x, y, z = units.Max(x, least), units.Max(y, least), units.Max(z, least)
	} else {
		x, y, z = x.Plus(c.grain(whole)), y.Plus(c.grain(whole)), z.Plus(c.grain(whole))
	}
	c.tries(func(in *Input) { in.Part.Block.X, in.Part.Block.Y, in.Part.Block.Z = x, y, z },
		"a block of ", x, " by ", y, " by ", z)
}

// anyBar is the bar that the plan would choose, where one is named.
func anyBar(c *cause) {
	if c.round != nil && c.round.Stock != nil {
		c.draws(func(r *part.Round) { r.Stock = nil }, "the smallest round bar that serves (stock left out)")
	}
}

// hexStock is a bar whose own flats are those of the part.
func hexStock(c *cause) {
	f := c.flats()
	shapes := map[int]part.Shape{6: part.Hex, fourSides: part.Square}
	if f == nil || shapes[f.Sides] == "" || f.Leave.Sign() > 0 || c.sides() > 0 {
		return
	}
	stock := part.Stock{Shape: shapes[f.Sides], Size: c.shape.Over(f.Span)[0].Left.Flats}
	c.draws(func(r *part.Round) { r.Stock = &stock },
		"a ", string(stock.Shape), " bar of ", stock.Size, " across flats, whose own flats they are (stock)")
}

// newBar is a bar to start again from, where what was measured is under size.
func newBar(c *cause) {
	if len(c.Measured) > 0 {
		c.tries(func(in *Input) { in.Measured = nil }, "another bar, begun again")
	}
}

// centresStay lets a centre hole stay in an end.
func centresStay(c *cause) {
	if c.round != nil && c.round.Centres == part.RemoveCentres {
		c.draws(func(r *part.Round) { r.Centres = "" }, "the centre holes left in the ends (centres)")
	}
}

// mayOpen leaves out that a hole must not open into a bore.
func mayOpen(c *cause) {
	h := c.hole()
	opens := func(t walls.Thin) bool { return t.Wall == walls.Bore && t.Value.Sign() < 0 }
	if h == nil || !slices.ContainsFunc(c.thin(), opens) {
		return
	}
	if h.Row > 0 {
		c.draws(func(r *part.Round) { r.Rows[h.Row-1].MissBore = false }, "miss_bore left out at row ", h.Row,
			", if it may open into the bore")
		return
	}
	c.draws(func(r *part.Round) { r.Holes[h.N-1].MissBore = false }, "miss_bore left out at hole ", h.N,
		", if it may open into the bore")
}

// crossing says that holes which open into one another, or that run through a thread,
// are meant to.
func crossing(c *cause) {
	h := c.hole()
	if h == nil {
		return
	}
	key, place := "crossing", say.Of("hole ", h.N)
	if len(c.thin()) == 0 {
		key = "through_thread"
	}
	if h.Row > 0 {
		place = say.Of("row ", h.Row)
	}
	c.draws(func(r *part.Round) {
		switch through := key != "crossing"; {
		case h.Row > 0 && through:
			r.Rows[h.Row-1].ThroughThread = true
		case h.Row > 0:
			r.Rows[h.Row-1].Crossing = true
		case through:
			r.Holes[h.N-1].ThroughThread = true
		default:
			r.Holes[h.N-1].Crossing = true
		}
	}, key, ": ok at ", place, ", if that is meant")
}

// leastWall is a least wall as thick as the one that there is, where a thicker one is
// written.
func leastWall(c *cause) {
	is, _, _ := c.figures()
	for _, t := range c.thin() {
		if is == 0 || t.Value.MM() < is {
			is = t.Value.MM()
		}
	}
	wall := c.down(units.FromFloat(is), tenth)
	least := func(p *part.Part) *units.Length {
		if p.Round != nil {
			return p.Round.MinWall
		}
		return p.Block.MinWall
	}
	if own := least(c.Part); wall.Sign() > 0 && own != nil {
		c.tries(func(in *Input) { *least(in.Part) = wall }, "a least wall of ", wall, " (min_wall)")
	}
}

// thin returns the walls that are refused of the holes that a refusal is about.
func (c *cause) thin() (list []walls.Thin) {
	h := c.hole()
	if h == nil {
		return nil
	}
	w, err := walls.Check(walls.Input{Name: c.Part.Name, Part: c.Part})
	if err != nil {
		return nil
	}
	return slices.DeleteFunc(w.Thin, func(t walls.Thin) bool {
		return t.Refused == nil || c.shape.Holes[t.N-1].At.Line != h.At.Line
	})
}

// wider is a wider limit for the size that is not kept: what it comes to, and for a
// spring as much that its part of the limits is that.
func wider(c *cause) {
	switch out := c.out; {
	case c.round == nil || c.thread() != nil: // its class holds it
	case out.Kind == "":
		c.widerForSpring()
	case out.Kind == limits.Angle:
		c.widerAngle()
	default:
		c.within(c.up(c.reached(), hundredth), op.Span{From: out.From, To: out.To})
	}
}

// widerForSpring is limits of which what the work springs is the part that it may be: of a cone that
// leans as it springs those of its angle.
func (c *cause) widerForSpring() {
	is, want, ok := c.figures()
	if !ok || c.of == nil || !c.of.Push.Finish || is <= want || want <= 0 {
		return
	}
	by := is / practice.SpringFinish.Number() / 2
	if c.by.Value.Unit() == "deg" {
		c.angled(by, c.of.Cuts)
		return
	}
	if l := c.up(units.FromFloat(by), hundredth); l.Less(c.of.Dia) { // else it is no spring, but what hangs too far
		c.within(l, c.of.Cuts)
	}
}

// reached returns how far off a size comes at the most: as it is told, a bore by the nearest line of
// the dial, a hole by what the drill scatters, and an outside by a file as near as a micrometer tells.
func (c *cause) reached() units.Length {
	out, slide := c.out, c.lathe.CrossSlide
	switch {
	case out.Kind == limits.Bore && slide != nil:
		return slide.Division().Plus(c.boredTold())
	case out.Kind == limits.Hole && out.Told.Sign() > 0:
		return out.Error().Abs().Plus(out.Told)
	case out.Told.Sign() > 0:
		return units.Max(c.micrometer(), out.Width().Half())
	}
	return units.Max(out.Error().Abs(), out.Width().Half())
}

// widerAngle is a half angle within what it comes to.
func (c *cause) widerAngle() {
	out := c.out
	c.angled(math.Abs(out.OutAngle.Minus(out.DrawnAngle).Deg()), op.Span{From: out.From, To: out.To})
}

// angled is a half angle within so many degrees over a taper, in whole minutes.
func (c *cause) angled(deg float64, over op.Span) {
	const minutes = 60
	wide := math.Ceil(deg * minutes)
	by := units.Degrees(wide / minutes)
	c.draws(func(r *part.Round) {
		for i, l := range r.Limits {
			if (l.Angle != nil || l.Gauge != "") && (op.Span{From: *l.From, To: *l.To}).Covers(over) {
				r.Limits[i].Angle, r.Limits[i].Gauge = &by, ""
			}
		}
	}, "a half angle within ", say.Num(wide, 0), "' over z ", over.From, " to ", over.To, " (limits)")
}

// within writes limits of so much either way for what the refusal is about: the diameter
// of a bore or a hole, a length, or the diameters over a stretch. Where a fit or a tolerance is
// written it says that it is given up, and stands behind all else.
func (c *cause) within(by units.Length, s op.Span) {
	tol := func(at problem.Pos) *part.Tolerance {
		return &part.Tolerance{Upper: new(by), Lower: new(by.Neg()), At: at}
	}
	asks := c.asks
	defer func() { c.asks = asks }()
	write := func(was *part.Tolerance, change func(r *part.Round), key string, pieces ...any) {
		what := say.Of("plus or minus ", by)
		tail := say.Of(" (", key, ")")
		if was != nil {
			c.asks = aFit
			what, tail = say.Of(what, " in place of ", written(was)), tail+": no longer that "+givenUp(was)
		}
		c.draws(change, what, " for ", say.Of(pieces...), tail)
	}
	b, h := c.bore(), c.hole()
	length := c.out.Kind == limits.Length
	switch {
	case b != nil:
		write(c.round.Bores[b.N-1].Tol, func(r *part.Round) { r.Bores[b.N-1].Tol = tol(b.At) }, "tol",
			c.named(b))
	case h != nil && h.Row > 0:
		write(c.round.Rows[h.Row-1].Tol, func(r *part.Round) { r.Rows[h.Row-1].Tol = tol(h.At) }, "tol", "row ", h.Row)
	case h != nil:
		write(c.round.Holes[h.N-1].Tol, func(r *part.Round) { r.Holes[h.N-1].Tol = tol(h.At) }, "tol", "hole ", h.N)
	case length:
		same := func(l part.Limit) bool {
			return l.From != nil && l.Angle == nil && l.Gauge == "" && s.From.Equal(*l.From) && s.To.Equal(*l.To)
		}
		write(tolerated(c.round.Limits, same), func(r *part.Round) {
			r.Limits = slices.DeleteFunc(r.Limits, same)
			r.Limits = append(r.Limits, part.Limit{From: &s.From, To: &s.To, Tol: tol(r.At), At: r.At})
		}, "limits", "the length from z ", s.From, " to ", s.To)
	default:
		where := say.Of("the diameters from z ", s.From, " to ", s.To)
		if s.From.Equal(s.To) {
			where = say.Of("the diameter at z ", s.From)
		}
		same := func(l part.Limit) bool { return l.Z != nil && s.From.Cmp(*l.Z) <= 0 && l.Z.Cmp(s.To) <= 0 }
		write(tolerated(c.round.Limits, same), func(r *part.Round) {
			r.Limits = slices.DeleteFunc(r.Limits, same)
			for _, z := range c.places(s) {
				r.Limits = append(r.Limits, part.Limit{Z: &z, Tol: tol(r.At), At: r.At})
			}
		}, "limits", where)
	}
}

// tolerated returns the first tolerance that is written of some limits, nil where none is.
func tolerated(list []part.Limit, of func(part.Limit) bool) *part.Tolerance {
	for _, l := range list {
		if of(l) && l.Tol != nil {
			return l.Tol
		}
	}
	return nil
}

// written is a fit or a tolerance as the part's file has it.
func written(t *part.Tolerance) say.Text {
	switch {
	case t.Fit != "":
		return say.Text(t.Fit)
	case t.Upper.Equal(t.Lower.Neg()):
		return say.Of(*t.Upper)
	}
	return say.Of(*t.Lower, " to ", *t.Upper)
}

// givenUp is what a tolerance is called.
func givenUp(t *part.Tolerance) say.Text {
	if t.Fit != "" {
		return "fit"
	}
	return "tolerance"
}

// places returns where the diameters of a stretch are written: in a cylinder its
// middle, else its ends.
func (c *cause) places(s op.Span) []units.Length {
	list := []units.Length{}
	for _, x := range c.shape.Over(s) {
		if x.Kind() == outline.Cylinder {
			list = append(list, x.From.Plus(x.To).Half())
		} else {
			list = append(list, x.From, x.To)
		}
	}
	if len(list) == 0 {
		list = append(list, s.From)
	}
	return slices.CompactFunc(list, units.Length.Equal)
}

// coarse is the coarse class for every size without limits of its own.
func coarse(c *cause) {
	sizes := c.out.Kind != "" || c.of != nil && c.of.Push.Finish
	if sizes && c.Part.General != part.Coarse {
		c.tries(func(in *Input) { in.Part.General = part.Coarse },
			"the coarse class for what has no limits of its own (general: coarse)")
	}
}

// otherBore is a bore that is less deep or less wide by what is missing, or as wide as a
// drill on hand makes it.
func otherBore(c *cause) {
	b := c.bore()
	if b == nil {
		return
	}
	more := c.lacks().Abs()
	if _, wall, ok := c.figures(); !b.Through && more.Sign() > 0 {
		less := more
		if ok && c.Code == problem.WallTooThin { // where it is thin all the way in
			far := c.found.deepest(*b, b.Dia.Plus(units.FromFloat(2*wall)))
			less = units.Max(more, b.Depth.Minus(far))
		}
		c.sized(less, halves, func(by units.Length) trial { return c.deep(b, c.down(b.Depth.Minus(by), halves)) })
	}
	if len(b.Threads) > 0 {
		return
	}
	wide := func(d units.Length) trial {
		if d.Cmp(b.Dia.Half()) <= 0 {
			return trial{}
		}
		return redrawn(func(r *part.Round) { r.Bores[b.N-1].Dia = d }, "a bore of ", d, " in place of ", b.Dia,
			c.whose(b))
	}
	if c.Code == problem.WallTooThin {
		c.sized(more.Times(2), halves, func(by units.Length) trial { return wide(b.Dia.Minus(by)) })
	} else if d, _, ok := c.Shop.Drills.Nearest(b.Dia, units.Down); ok && !d.Dia.Equal(b.Dia) {
		c.offer(wide(d.Dia))
	}
}

// named is what a bore is called in a remedy.
func (c *cause) named(b *outline.Bore) say.Text { return say.Of("the bore of ", b.Dia, c.whose(b)) }

// whose says which end a bore is from, where another has its diameter.
func (c *cause) whose(b *outline.Bore) say.Text {
	if slices.ContainsFunc(c.shape.Bores, func(o outline.Bore) bool { return o.N != b.N && o.Dia.Equal(b.Dia) }) {
		return say.Of(" from the ", b.From)
	}
	return ""
}

// deep is a bore of another depth.
func (c *cause) deep(b *outline.Bore, deep units.Length) trial {
	if deep.Sign() <= 0 {
		return trial{}
	}
	return redrawn(func(r *part.Round) { r.Bores[b.N-1].Depth = deep },
		c.named(b), " ", deep, " deep in place of ", b.Depth)
}

// otherHole is a cross hole that is moved along the bar, or smaller, as the walls ask
// for; a row whose holes stand further apart; and a hole of a block moved in.
func otherHole(c *cause) {
	if c.block != nil {
		inwardHole(c)
	}
	h := c.hole()
	if h == nil {
		return
	}
	if list := c.thin(); len(list) > 0 {
		t := list[0]
		switch {
		case h.Row > 0 && t.Change == walls.Smaller:
			c.draws(func(r *part.Round) {
				for i, d := range r.Rows[h.Row-1].Dias {
					r.Rows[h.Row-1].Dias[i] = units.Min(d, t.To)
				}
			}, "the holes of row ", h.Row, " no wider than ", t.To)
		case h.Row > 0:
			from := c.round.Rows[h.Row-1].From.Plus(t.By)
			c.draws(func(r *part.Round) { r.Rows[h.Row-1].From = from }, "row ", h.Row, " begun at z ", from)
		case t.Change == walls.Smaller:
			c.draws(func(r *part.Round) { r.Holes[t.N-1].Dia = t.To }, "hole ", t.N, " of ", t.To)
		default:
			c.draws(func(r *part.Round) { r.Holes[t.N-1].Z = t.To }, "hole ", t.N, " moved to z ", t.To)
		}
	}
	if h.Row > 0 {
		web := c.up(walls.Least(c.round.MinWall, c.material, h.Dia), halves)
		c.draws(func(r *part.Round) {
			row := &r.Rows[h.Row-1]
			row.Web, row.Pitch, row.Span = &web, nil, nil
		}, "row ", h.Row, " with a web of ", web, " between its holes")
	}
}

// inwardHole is a hole of a block that is moved away from the nearest side.
func inwardHole(c *cause) {
	n, ok := c.numbered("hole")
	by := c.up(c.lacks(), tenth)
	if !ok || n > len(c.block.Holes) || by.Sign() <= 0 {
		return
	}
	x, y := c.block.Holes[n-1].X, c.block.Holes[n-1].Y
	right, back := c.block.X.Minus(x), c.block.Y.Minus(y)
	switch least := units.Min(units.Min(x, right), units.Min(y, back)); {
	case least.Equal(x):
		x = x.Plus(by)
	case least.Equal(right):
		x = x.Minus(by)
	case least.Equal(y):
		y = y.Plus(by)
	default:
		y = y.Minus(by)
	}
	c.tries(func(in *Input) { in.Part.Block.Holes[n-1].X, in.Part.Block.Holes[n-1].Y = x, y },
		"hole ", n, " moved to ", x, ", ", y)
}

// shift moves everything from a z on along the bar; a stretch that ends there ends
// further on, and what begins there begins there.
//
// Long: every list of a part has its places.
func shift(r *part.Round, z, by units.Length) {
	var from, past []*units.Length
	for i := range r.Profile {
		from = append(from, &r.Profile[i].Z)
	}
	for i := range r.Chamfers {
		from = append(from, &r.Chamfers[i].Z)
	}
	for i := range r.Arcs {
		from, past = append(from, &r.Arcs[i].From), append(past, &r.Arcs[i].To)
	}
	for i := range r.Facets {
		from, past = append(from, &r.Facets[i].From), append(past, &r.Facets[i].To)
	}
	for i := range r.Holes {
		from = append(from, &r.Holes[i].Z)
	}
	for i := range r.Rows {
		from = append(from, &r.Rows[i].From)
	}
	for i := range r.Slots {
		from = append(from, &r.Slots[i].Z)
	}
	for _, l := range r.Limits {
		for _, p := range []*units.Length{l.Z, l.From} {
			if p != nil {
				from = append(from, p)
			}
		}
		if l.To != nil {
			past = append(past, l.To)
		}
	}
	for _, p := range from {
		if z.Cmp(*p) <= 0 {
			*p = p.Plus(by)
		}
	}
	for _, p := range past {
		if z.Less(*p) {
			*p = p.Plus(by)
		}
	}
}

// longer offers a stretch of the outside that is drawn longer.
func (c *cause) longer(x outline.Stretch, by units.Length) {
	c.sized(by, halves, func(by units.Length) trial {
		return redrawn(func(r *part.Round) { shift(r, x.To, by) },
			"the ", string(x.Kind()), " over z ", x.From, " to ", x.To, " drawn ", by, " longer")
	})
}

// widerGroove is a groove as wide as a tool asks for that goes straight in so deep.
func widerGroove(c *cause) {
	is, want, ok := c.figures()
	if !ok || c.shape == nil || want <= 0 || is <= want {
		return
	}
	if list := c.shape.Over(c.of.Cuts); len(list) > 0 {
		c.longer(list[0], units.FromFloat(list[0].Length().MM()*(is/want-1)))
	}
}

// chucked reports whether the part is one that a chuck could hold.
func (c *cause) chucked() bool { return c.shape != nil && c.lathe.Chuck != nil }

// longerGrip is a cylinder that is long enough to be held: of those that are too short
// the two that want least.
func longerGrip(c *cause) {
	if !c.chucked() {
		return
	}
	wants := func(x outline.Stretch) units.Length {
		need := c.leastGrip(op.Chuck, x.Left.Turned).Plus(practice.RunOut.Length())
		return c.up(need.Minus(x.Length()), whole)
	}
	list := slices.DeleteFunc(slices.Clone(c.shape.Stretches), func(x outline.Stretch) bool {
		return x.Kind() != outline.Cylinder || x.Facets != nil || x.Thread != nil || wants(x).Sign() <= 0
	})
	slices.SortStableFunc(list, func(a, b outline.Stretch) int { return wants(a).Cmp(wants(b)) })
	for _, x := range list[:min(len(list), 2)] {
		c.longer(x, wants(x))
	}
}

// longerThread is a thread that is long enough to be held in a split nut.
func longerThread(c *cause) {
	if !c.chucked() {
		return
	}
	for _, x := range c.shape.Threads {
		by := c.up(c.leastGrip(op.SplitNut, x.Designation.Major).Minus(inNut(x).Length()), halves)
		if x.Inside || x.On == nil || by.Sign() <= 0 {
			continue
		}
		long, z := x.Length.Plus(by), x.Span.To
		if x.From == part.Right {
			z = x.Span.From.Plus(c.grain(halves))
		}
		c.draws(func(r *part.Round) {
			shift(r, z, by)
			r.Threads[x.N-1].Length = long
		}, "thread ", x.N, ", ", x.Designation, ", ", long, " long in place of ", x.Length)
	}
}

// spigot is one that is drawn at an end that nothing is cut in and that cannot be held as
// it is, to hold the part by.
func spigot(c *cause) {
	if !c.chucked() {
		return
	}
	for _, end := range []part.End{part.Right, part.Left} {
		dia := c.shape.End(end).Core
		if !c.shape.End(end).Drawn.Equal(dia) {
			dia = c.down(dia, halves)
		}
		bored := func(b outline.Bore) bool { return b.From == end || b.Through }
		cut := func(t outline.Thread) bool { return t.From == end }
		if dia.Sign() <= 0 || slices.ContainsFunc(c.shape.Bores, bored) || slices.ContainsFunc(c.shape.Threads, cut) {
			continue
		}
		long := c.up(c.leastGrip(op.Chuck, dia).Plus(practice.RunOut.Length()), whole)
		if x := c.shape.At(endOf(c.shape, end))[0]; plain(x) && long.Cmp(x.Length()) <= 0 {
			continue
		}
		c.draws(func(r *part.Round) {
			from := r.Length()
			if end == part.Left {
				from = units.Length{}
				shift(r, from, long)
			}
			s := []part.Station{{Z: from, Dia: dia, At: r.At}, {Z: from.Plus(long), Dia: dia, At: r.At}}
			if end == part.Left {
				r.Profile = append(s, r.Profile...)
			} else {
				r.Profile = append(r.Profile, s...)
			}
			r.Profile = slices.CompactFunc(r.Profile, func(a, b part.Station) bool {
				return a.Z.Equal(b.Z) && a.Dia.Equal(b.Dia)
			})
		}, "a spigot drawn on the ", end, " end, ", dia, " across and ", long, " long, and sawn off when the rest is done")
	}
}

// freeThread gives a thread room behind it: it is shorter, what it is on longer or deeper,
// or it ends in a relief.
func freeThread(c *cause) {
	t := c.thread()
	if t == nil {
		return
	}
	by := c.lacks()
	c.sized(by, halves, func(by units.Length) trial {
		long := t.Length.Minus(by)
		return redrawn(func(r *part.Round) { r.Threads[t.N-1].Length = long },
			"a thread ", long, " long in place of ", t.Length)
	})
	switch {
	case t.In != nil && !t.In.Through:
		c.sized(by, halves, func(by units.Length) trial { return c.deep(t.In, t.In.Depth.Plus(by)) })
	case t.On != nil:
		c.longer(*t.On, by)
		c.relieved(t)
	}
}

// relieved is a thread that ends in a relief drawn before its shoulder.
func (c *cause) relieved(t *outline.Thread) {
	wide := c.up(t.Designation.Pitch.Length(practice.ReliefWidth.Number()), halves)
	dia, full := c.down(reliefDia(*t), tenth), units.Min(t.On.Length().Minus(wide), t.Length)
	if dia.Sign() <= 0 || full.Sign() <= 0 {
		return
	}
	c.draws(func(r *part.Round) {
		z, begins := t.On.To, t.On.To.Minus(wide)
		if t.From == part.Right {
			z, begins = t.On.From, t.On.From.Plus(wide)
		}
		for i, s := range r.Profile {
			if !s.Z.Equal(z) || !s.Dia.Equal(t.On.Left.Drawn) {
				continue
			}
			r.Profile[i].Dia = dia
			edge := []part.Station{{Z: begins, Dia: s.Dia, At: s.At}, {Z: begins, Dia: dia, At: s.At}}
			if t.From == part.Right {
				slices.Reverse(edge)
				i++
			}
			r.Profile = slices.Insert(r.Profile, i, edge...)
			break
		}
		r.Threads[t.N-1].Length = full
	}, "a relief of ", wide, " down to ", dia, " drawn behind the thread, and ", full, " of thread")
}

// tapRoom is a hole as deep as a tap's lead asks for.
func tapRoom(c *cause) {
	if t := c.thread(); t != nil && t.In != nil && !t.In.Through {
		c.sized(c.lacks(), whole, func(by units.Length) trial { return c.deep(t.In, t.In.Depth.Plus(by)) })
	}
}

// fittingThread is what a thread is cut on or in, made to fit it.
func fittingThread(c *cause) {
	t := c.thread()
	if t == nil {
		return
	}
	if t.Inside {
		c.tappable(t)
		return
	}
	x := c.shape.Stretches[0]
	if t.From == part.Right {
		x = c.shape.Stretches[len(c.shape.Stretches)-1]
	}
	run, major := x.Length(), t.Designation.Major
	if x.Kind() != outline.Cylinder {
		return
	}
	if run.Less(t.Length) {
		c.draws(func(r *part.Round) { r.Threads[t.N-1].Length = run }, "a thread ", run, " long in place of ", t.Length)
		c.longer(x, t.Length.Minus(run))
		return
	}
	c.draws(func(r *part.Round) {
		if t.From == part.Right {
			slices.Reverse(r.Profile)
			defer slices.Reverse(r.Profile)
		}
		for i := 0; i < len(r.Profile) && r.Profile[i].Dia.Equal(x.Left.Drawn); i++ {
			r.Profile[i].Dia = major
		}
	}, "the cylinder under ", t.Designation, " turned to ", major)
}

// tappable is the bore that a thread is cut in, of its tapping size, or as deep as it
// asks for.
func (c *cause) tappable(t *outline.Thread) {
	widest := drill.Hole(t.Designation, practice.ThreadInBoreLeast.Number())
	size := c.down(widest.Plus(drill.Hole(t.Designation, practice.ThreadInBoreMost.Number())).Half(), tenth)
	far := c.up(t.Length.Plus(t.Designation.Pitch.Length(4)), halves)
	i := slices.IndexFunc(c.round.Bores, func(b part.Bore) bool { return b.From == t.From || b.Through })
	switch {
	case t.In != nil && !t.In.Through:
		c.offer(c.deep(t.In, far))
	case i < 0:
		c.draws(func(r *part.Round) {
			r.Bores = append(r.Bores, part.Bore{From: t.From, Dia: size, Depth: far, At: t.At})
		}, "a bore of ", size, ", ", far, " deep, drawn for ", t.Designation)
	default:
		c.draws(func(r *part.Round) { r.Bores[i].Dia = size }, "the bore drawn ", size, " for ", t.Designation)
	}
}

// shorter is the longest stretch drawn shorter, by what hangs too far, or as the spring
// asks for, which grows with the third power of the length; by a quarter at the most.
func shorter(c *cause) {
	is, want, ok := c.figures()
	if !ok || c.shape == nil || want <= 0 || is <= want {
		return
	}
	var x outline.Stretch
	for _, y := range c.shape.Stretches {
		if y.Facets == nil && y.Thread == nil && y.Kind() != outline.Curve && (x.N == 0 || x.Length().Less(y.Length())) {
			x = y
		}
	}
	by := units.FromFloat(max(is-want, c.shape.Length.MM()*(1-math.Cbrt(want/is))))
	if by.Cmp(x.Length().Half().Half()) > 0 {
		return
	}
	c.sized(by, whole, func(by units.Length) trial {
		return redrawn(func(r *part.Round) { shift(r, x.To, by.Neg()) },
			"the ", string(x.Kind()), " over z ", x.From, " to ", x.To, " drawn ", by, " shorter")
	})
}
