package gauge

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/tapers"
)

// A taper longer than the slide is cut in bites. Each lies at the angle that the swivel stands at;
// from one to the next the carriage goes z and the cross slide z·tan a, and they stand there
// whatever the swivel is out by. So the side is a saw: two places within one bite tell the swivel,
// two in different bites tell how far the slides were moved. All bites are alike, and what one
// has left at its ends each has. The first is touched where it is proud, and each is cut deeper by
// as much.

// bites are how the compound cut a taper. Places count from the end that the first begins at.
type bites struct {
	n     int
	moves units.Length // the carriage, between two
	long  units.Length // a bite, along the axis
	runs  units.Length // each begins so much sooner, along the axis, as the slide ran in
	tells units.Length // as much of it lies before the next begins, and the tip can be brought to its end
	slope units.Length // the same along the slide
	stays units.Length // and what that stays short of where the next begins
	whole tapers.Taper
	first End     // that the first bite begins at
	clear float64 // mm, how far from where two meet it is measured
	// Steps are what each leaves over the first, on the diameter, once the swivel is right. Low is how much
	// the one that leaves least leaves under it, high how much the one that leaves most leaves over it;
	// nothing where none does.
	steps     []units.Length
	low, high units.Length
}

// inBites returns how the compound cut the taper, nil where it did in one go.
func (r *CorrectResult) inBites() *bites {
	w := r.slide
	if r.Inputs.Between != nil || w.Bites == nil || *w.Bites < 2 || w.CarriageSet == nil {
		return nil
	}
	a := r.HalfAngle
	b := &bites{
		n: *w.Bites, moves: *w.CarriageSet, long: units.FromFloat(w.Bite.MM() * a.Cos()), whole: r.taper, first: AtLarge,
	}
	leaves := -1.0 // where the cross slide stands farther out
	if opposite(w.FeedsToward) == r.Inputs.end() {
		b.first, leaves = AtSmall, 1
	}
	if r.Inputs.inside() {
		leaves = -leaves
	}
	b.steps = append(b.steps, units.Length{})
	z, y := 0.0, 0.0
	for _, j := range w.Joints {
		z, y = z+j.Carriage.MM(), y+j.Cross.MM()
		step := units.FromFloat(2 * leaves * (y - z*a.Tan()))
		b.steps = append(b.steps, step)
		b.low, b.high = units.Max(b.low, step.Neg()), units.Max(b.high, step)
	}
	// The tip touches well before the next begins: the side has its ridge there, and the tip was brought
	// to the end of the work by eye.
	b.clear = practice.BiteClear.Length().MM()
	b.runs = units.FromFloat(w.RunsIn().MM() * a.Cos())
	alone, clear := (b.moves.MM()-b.runs.MM())/a.Cos(), b.clear/a.Cos()
	c := r.Inputs.Compound
	if c.Screw != nil {
		clear = max(clear, c.Screw.Lead.MM())
	}
	b.slope = units.FromFloat(alone - min(clear, alone/4))
	if c.Screw != nil {
		if n := b.slope.Steps(c.Screw.Lead, units.Down); n > 0 {
			b.slope = c.Screw.Lead.Times(n)
		} else if s, _ := c.Screw.Short(b.slope); s.Set.Sign() > 0 {
			b.slope = s.Set
		}
	}
	b.tells, b.stays = units.FromFloat(b.slope.MM()*a.Cos()), units.FromFloat(alone-b.slope.MM())
	return b
}

// begins is where a bite begins, in mm.
func (b *bites) begins(n int) float64 { return float64(n-1) * b.moves.MM() }

// from turns a place that counts from an end into one that counts from where the bites begin.
func (b *bites) from(end End, z float64) float64 {
	if end == b.first {
		return z
	}
	return b.whole.Length.MM() - z
}

// alone is the part of a bite that lies clear of any other, from where the one before ends to where the
// slide ran in to the next, as it counts from an end of the taper.
func (b *bites) alone(n int, end End) (from, to units.Length) {
	low, high := b.begins(n), b.begins(n+1)-b.runs.MM()
	if n > 1 {
		low = b.begins(n-1) + b.long.MM()
	}
	if n == b.n {
		high = b.whole.Length.MM()
	}
	clear := min(b.clear, (high-low)/4)
	if n > 1 {
		low += clear
	}
	if n < b.n {
		high -= clear
	}
	low, high = b.from(end, low), b.from(end, high)
	fine := func(z float64) units.Length { return units.FromFloat(z).RoundTo(units.FromFloat(1e-6), units.Nearest) }
	return fine(min(low, high)), fine(max(low, high))
}

// of is the bite that all places lie in, 0 where they lie in several or where two meet.
func (b *bites) of(end End, places []float64) int {
	const near = 1e-6 // mm
	for n := 1; n <= b.n; n++ {
		from, to := b.alone(n, end)
		all := len(places) > 0
		for _, z := range places {
			all = all && from.MM()-near <= z && z <= to.MM()+near
		}
		if all {
			return n
		}
	}
	return 0
}

// ends are the places, from an end of the taper, that a bite is judged between.
func (b *bites) ends(n int, end End) [2]float64 {
	p, q := b.from(end, b.begins(n)), b.from(end, b.begins(n)+b.tells.MM())
	return [2]float64{min(p, q), max(p, q)}
}

// taper is a bite as a taper by itself: what it may be out is judged over the whole of it, as the last
// one goes to the end, and its diameters are those it is judged between.
func (b *bites) taper(n int) tapers.Taper {
	t := b.whole
	at := b.ends(n, AtLarge)
	dia := func(z float64) *units.Length {
		return new(units.FromFloat(t.Large.MM() - 2*z*t.HalfAngle.Tan()))
	}
	t.Large, t.Small, t.Length, t.SlopeLength = dia(at[0]), dia(at[1]), &b.long, &b.slope
	return t
}

// places are where the taper was measured, and the end that they count from; none for blue and
// for what stands out.
func (in CorrectInput) places(t tapers.Taper) (from End, list []float64) {
	if t.Large == nil || t.Small == nil {
		return "", nil
	}
	touches := func(depth, round *units.Length) float64 {
		return depth.MM() + round.MM()/2*(1+t.HalfAngle.Sin())
	}
	switch {
	case len(in.Measured) > 0:
		for _, m := range in.Measured {
			list = append(list, m.Z.MM())
		}
		return in.line().from(), list
	case in.byRolls():
		return AtSmall, []float64{touches(&units.Length{}, in.Roll), touches(in.Height, in.Roll)}
	case in.byBalls():
		return AtLarge, []float64{touches(in.LargeDepth, in.LargeBall), touches(in.SmallDepth, in.SmallBall)}
	}
	return "", nil
}

// checkPlaces refuses places that cannot all be on the taper, and any that is not.
func (in CorrectInput) checkPlaces(t tapers.Taper, b *bites) error {
	if t.Length == nil || len(in.Measured) == 0 {
		return nil
	}
	low, far := in.Measured[0].Z, in.Measured[0].Z
	for _, m := range in.Measured {
		low, far = units.Min(low, m.Z), units.Max(far, m.Z)
	}
	if apart := far.Minus(low); t.Length.Less(apart) {
		return problem.New(problem.Impossible, "measured", far, "is ", apart, " from the place at ", low,
			", and the taper is only ", t.Length, " long: count both from one of its ends, and leave out what is not on it")
	}
	off := far
	switch {
	case low.Sign() < 0:
		off = low
	case far.Cmp(*t.Length) <= 0:
		return nil
	}
	if b != nil {
		return problem.New(problem.OutOfRange, "measured", off, "is not on the taper, which is ", t.Length, " long and was ",
			"cut in ", b.n, " bites: count the places from one of its ends, so that it is known which bite they are in")
	}
	return problem.New(problem.OutOfRange, "measured", off, "is not on the taper, which is ", t.Length, " long: ",
		"count the places from one of its ends, and leave out what is not on it")
}

// listed says which places are in which bite.
func (b *bites) listed(end End) say.Text {
	const most = 4
	var list []say.Text
	for n := 1; n <= b.n && (n == 1 || b.n <= most); n++ {
		from, to := b.alone(n, end)
		list = append(list, say.Of("bite ", n, " is from ", from.Up(), " to ", to.Down()))
	}
	return say.Of(say.Join(list, ", "), ", counted from the ", end, " end")
}
