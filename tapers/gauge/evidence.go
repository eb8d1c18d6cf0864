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
// nothing tells how far it is out.
func (in CorrectInput) find(t tapers.Taper) (*evidence, error) {
	switch {
	case len(in.Measured) > 0:
		return in.fitted(t), nil
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
	case in.Gap != nil:
		return in.gapped(t)
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

// fitted is the evidence of diameters D at places z: the straight line that lies
// nearest to them all,
//
//	D = p + k·z,  k = Σ(z - z̄)·D/Σ(z - z̄)²,  tan m = |k|/2
//
// which for two is the line through both. Where each is off by e at most, k is
// off by e·Σ|z - z̄|/Σ(z - z̄)²: for two that lie l apart 2·e/l. A place that is off
// by p makes its diameter off by |k|·p.
//
// Source: least squares, elementary.
func (in CorrectInput) fitted(t tapers.Taper) *evidence {
	n := float64(len(in.Measured))
	var mean, high float64 // of the places and of the diameters
	low, far := in.Measured[0].Z, in.Measured[0].Z
	for _, m := range in.Measured {
		mean, high = mean+m.Z.MM()/n, high+m.Dia.MM()/n
		low, far = units.Min(low, m.Z), units.Max(far, m.Z)
	}
	var squares, product, around float64
	for _, m := range in.Measured {
		z := m.Z.MM() - mean
		squares, product, around = squares+z*z, product+z*(m.Dia.MM()-high), around+math.Abs(z)
	}
	k := product / squares
	each := in.off()
	if in.PlaceError != nil {
		each = each.Plus(units.FromFloat(math.Abs(k) * in.PlaceError.MM()))
	}
	off := each.MM()
	half := func(k float64) units.Angle { return units.Radians(math.Atan(max(0, k) / 2)) }
	e := &evidence{
		half: half(math.Abs(k)), least: half(math.Abs(k) - off*around/squares), most: half(math.Abs(k) + off*around/squares),
		apart: far.Minus(low), each: each,
	}
	e.bent = in.bend(func(z float64) float64 { return high + k*(z-mean) }, mean, off)
	if t.Length == nil || k == 0 || low.Sign() < 0 || t.Length.Less(far) {
		return e
	}
	// The diameters at both ends, and what an error of each reading makes of them.
	var worst float64
	ends := [2]units.Length{}
	for i, z := range []float64{0, t.Length.MM()} {
		ends[i] = units.FromFloat(high + k*(z-mean))
		sum := 0.0
		for _, m := range in.Measured {
			sum += math.Abs(1/n + (z-mean)*(m.Z.MM()-mean)/squares)
		}
		worst = max(worst, sum)
	}
	e.from = AtLarge
	if k > 0 {
		ends[0], ends[1], e.from = ends[1], ends[0], AtSmall
	}
	e.large, e.small, e.endOff = &ends[0], &ends[1], units.FromFloat(worst*off)
	return e
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
