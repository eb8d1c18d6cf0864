package gauge

import (
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/tapers"
)

// evidence is what was found of a taper that was cut: its half angle, and the
// least and the most that may be, as far as each reading may be off. Large and
// small are what it measures at its ends, each told to endOff; nil where nothing
// tells.
type evidence struct {
	half, least, most units.Angle
	large, small      *units.Length
	endOff            units.Length
	from              End // that places count from

	// Of diameters at places: how far the two outer ones lie apart, and how far
	// each may be off, its place reckoned in.
	apart, each units.Length
	// bent is the worst that a diameter lies off the straight line through
	// them all, where it stands, and whether the side is hollow; nil where it
	// is straight as far as they tell.
	bent *bend
}

// bend is a reading that does not lie on the line.
type bend struct {
	z, off units.Length
	hollow bool
}

// findsOut are the ways to find out what was cut, by their keys.
func (in CorrectInput) findsOut() []check.Option {
	return []check.Option{
		{Key: "measured", Given: len(in.Measured) > 0},
		{Key: "blue", Given: in.Blue != ""},
		{Key: "over", Given: in.byRolls()},
		{Key: "large-depth", Given: in.byBalls()},
	}
}

// byRolls and byBalls report whether the taper was measured so.
func (in CorrectInput) byRolls() bool {
	return in.Roll != nil || in.Height != nil || in.Over != nil || in.OverRaised != nil
}

func (in CorrectInput) byBalls() bool {
	return in.LargeBall != nil || in.SmallBall != nil || in.LargeDepth != nil || in.SmallDepth != nil
}

// checkEvidence finds what is wrong with the readings, the blued end and the gap.
func (in CorrectInput) checkEvidence(bad *check.List) {
	bad.Together(check.If("roll", in.Roll), check.If("height", in.Height), check.If("over", in.Over),
		check.If("over-raised", in.OverRaised))
	bad.Together(check.If("large-ball", in.LargeBall), check.If("small-ball", in.SmallBall),
		check.If("large-depth", in.LargeDepth), check.If("small-depth", in.SmallDepth))
	bad.AtMostOne(in.findsOut()...)
	known := slices.ContainsFunc(in.findsOut(), func(o check.Option) bool { return o.Given })
	bad.Refuse(!known && in.StickOut == nil, problem.Missing, "measured", nil, "needs two ", say.Key("measured"),
		", such as ", say.Key("measured"), " 5=29.2 ", say.Key("measured"), " 55=21.0, or ", say.Key("blue"),
		" large or small, or what was measured over rolls or balls, or ", say.Key("stick-out"))
	if in.Blue != "" {
		check.OneOf(bad, "blue", in.Blue, Ends)
	}
	bad.Refuse(in.Gap != nil && in.Blue == "", problem.Missing, "blue", nil,
		"is needed with ", say.Key("gap"), ": the end that touches")
	bad.Refuse(in.byRolls() && in.Internal, problem.Contradiction, "over", in.Over, "rolls measure an outside, not a bore")
	bad.NotBelow0("gap", in.Gap, "reading-error", in.ReadingError, "place-error", in.PlaceError)
	bad.Refuse(in.PlaceError != nil && len(in.Measured) == 0, problem.Missing, "measured", nil,
		"is needed with ", say.Key("place-error"))
	in.checkMeasured(bad)
}

// checkMeasured finds what is wrong with diameters at places.
func (in CorrectInput) checkMeasured(bad *check.List) {
	for _, m := range in.Measured {
		bad.NotBelow0("measured", m.Dia)
	}
	switch n := len(in.Measured); {
	case n == 0:
	case n == 1:
		bad.Add(problem.New(problem.Missing, "measured", say.Of(n, " given"),
			"needs two at least, as far apart as the taper allows"))
	case !slices.ContainsFunc(in.Measured, func(m Reading) bool { return !m.Z.Equal(in.Measured[0].Z) }):
		bad.Add(problem.New(problem.Contradiction, "measured", in.Measured[1].Z, "both readings stand at one place"))
	}
}

// find returns what was found of a taper that should have been t. It is nil where
// nothing tells how far it is out. Of one that was cut in bites it is what was found of
// the bite.
func (in CorrectInput) find(t tapers.Taper, b *bites, bite int) (*evidence, error) {
	whole := t
	if b != nil {
		t = b.taper(max(1, bite))
	}
	e, err := in.findOf(whole)
	if in.Gap != nil {
		e, err = in.gapped(t)
	}
	if b == nil || e == nil || e.large == nil {
		return e, err
	}
	if len(in.Measured) > 0 {
		return in.fitted(new(b.ends(bite, e.from))), nil
	}
	ends, large := b.ends(bite, AtLarge), e.large.MM()
	dia := func(z float64) *units.Length { return new(units.FromFloat(large - 2*z*e.half.Tan())) }
	e.large, e.small = dia(ends[0]), dia(ends[1])
	return e, nil
}

// findOf is find of a taper cut in one go, without what a gap tells.
func (in CorrectInput) findOf(t tapers.Taper) (*evidence, error) {
	switch {
	case len(in.Measured) > 0:
		return in.fitted(in.judged(t)), nil
	case in.byRolls():
		r, err := Rolls(RollsInput{
			Roll: *in.Roll, Height: *in.Height, Over: in.Over, OverRaised: in.OverRaised, Care: in.Care,
		})
		if err != nil {
			return nil, err
		}
		return in.measuredSo(r.Figures, t), nil
	case in.byBalls():
		r, err := Balls(BallsInput{
			LargeBall: *in.LargeBall, SmallBall: *in.SmallBall, LargeDepth: in.LargeDepth, SmallDepth: in.SmallDepth,
			Care: in.Care,
		})
		if err != nil {
			return nil, err
		}
		return in.measuredSo(r.Figures, t), nil
	}
	return nil, nil
}

// measuredSo is the evidence of rolls or balls: one end was measured, and the
// other follows where the length is known.
func (in CorrectInput) measuredSo(f Figures, t tapers.Taper) *evidence {
	e := &evidence{half: f.HalfAngle, least: *f.Least, most: *f.Most, large: f.Large, small: f.Small, endOff: in.off()}
	if t.Length == nil {
		return e
	}
	differ := units.FromFloat(2 * t.Length.MM() * f.HalfAngle.Tan())
	if e.large == nil {
		e.large = new(e.small.Plus(differ))
	} else {
		e.small = new(e.large.Minus(differ))
	}
	return e
}

// gapped is the evidence of a gap g on the diameter at the end that does not touch:
//
//	tan m = tan a ± g/(2·l)
//
// An outside that touches at its large end is too steep, a bore too flat.
func (in CorrectInput) gapped(t tapers.Taper) (*evidence, error) {
	if t.Length == nil {
		return nil, tapers.NeedsSizes("gap", "what a gap is worth needs")
	}
	way := 1.0
	if (in.Blue == AtLarge) == in.Internal {
		way = -1
	}
	half := func(gap float64) units.Angle {
		return units.Radians(math.Atan(max(0, t.HalfAngle.Tan()+way*gap/(2*t.Length.MM()))))
	}
	g, off := in.Gap.MM(), in.off().MM()
	return &evidence{half: half(g), least: half(g - way*off), most: half(g + way*off)}, nil
}

// fit is the straight line that lies nearest to diameters D at places z,
//
//	D = p + k·z,  k = Σ(z - z̄)·D/Σ(z - z̄)²
//
// which for two is the line through both. High is D at the mean of the places; squares is
// Σ(z - z̄)², around Σ|z - z̄|.
//
// Source: least squares, elementary.
type fit struct{ k, mean, high, squares, around float64 }

// from is the end that the places count from.
func (f fit) from() End {
	if f.k > 0 {
		return AtSmall
	}
	return AtLarge
}

// line fits a line to the diameters.
func (in CorrectInput) line() fit {
	n := float64(len(in.Measured))
	var f fit
	for _, m := range in.Measured {
		f.mean, f.high = f.mean+m.Z.MM()/n, f.high+m.Dia.MM()/n
	}
	for _, m := range in.Measured {
		z := m.Z.MM() - f.mean
		f.squares, f.k, f.around = f.squares+z*z, f.k+z*(m.Dia.MM()-f.high), f.around+math.Abs(z)
	}
	f.k /= f.squares
	return f
}

// fitted is the evidence of diameters at places, as their line has it: tan m = |k|/2. Where each
// is off by e at most, k is off by e·Σ|z - z̄|/Σ(z - z̄)²: for two that lie l apart 2·e/l. A place
// that is off by p makes its diameter off by |k|·p. Ends are the places that it is judged between;
// nil where those do not count from an end of the taper.
func (in CorrectInput) fitted(ends *[2]float64) *evidence {
	f := in.line()
	k, low, far := f.k, in.Measured[0].Z, in.Measured[0].Z
	for _, m := range in.Measured {
		low, far = units.Min(low, m.Z), units.Max(far, m.Z)
	}
	each := in.off()
	if in.PlaceError != nil {
		each = each.Plus(units.FromFloat(math.Abs(k) * in.PlaceError.MM()))
	}
	off, slope := each.MM(), f.around/f.squares
	half := func(k float64) units.Angle { return units.Radians(math.Atan(max(0, k) / 2)) }
	e := &evidence{
		half: half(math.Abs(k)), least: half(math.Abs(k) - off*slope), most: half(math.Abs(k) + off*slope),
		apart: far.Minus(low), each: each,
	}
	e.bent = in.bend(func(z float64) float64 { return f.high + k*(z-f.mean) }, f.mean, off)
	if ends == nil || k == 0 {
		return e
	}
	// The diameters at both ends, and what an error of each reading makes of them.
	var worst float64
	var dia [2]units.Length
	for i, z := range ends {
		dia[i] = units.FromFloat(f.high + k*(z-f.mean))
		sum := 0.0
		for _, m := range in.Measured {
			sum += math.Abs(1/float64(len(in.Measured)) + (z-f.mean)*(m.Z.MM()-f.mean)/f.squares)
		}
		worst = max(worst, sum)
	}
	e.large, e.small, e.from = &dia[0], &dia[1], f.from()
	if e.from == AtSmall {
		e.large, e.small = e.small, e.large
	}
	e.endOff = units.FromFloat(worst * off)
	return e
}

// judged are the places that the diameters are judged between: the taper's ends, nil where the
// places do not count from one.
func (in CorrectInput) judged(t tapers.Taper) *[2]float64 {
	if t.Length == nil {
		return nil
	}
	for _, m := range in.Measured {
		if m.Z.Sign() < 0 || t.Length.Less(m.Z) {
			return nil
		}
	}
	return &[2]float64{0, t.Length.MM()}
}

// bend looks for the reading that lies farthest off the line, by more than two
// that are off by each can be.
func (in CorrectInput) bend(line func(z float64) float64, mean, each float64) *bend {
	var worst *bend
	var hollow float64
	for _, m := range in.Measured {
		off := m.Dia.MM() - line(m.Z.MM())
		hollow += off * (m.Z.MM() - mean) * (m.Z.MM() - mean)
		if math.Abs(off) > 2*each+1e-9 && (worst == nil || math.Abs(off) > worst.off.Abs().MM()) {
			worst = &bend{z: m.Z, off: units.FromFloat(off)}
		}
	}
	if worst != nil {
		worst.hollow = hollow > 0
	}
	return worst
}
