package compound

import (
	"math"
	"slices"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/tapers"
)

// Pass is one cut along the slope. Radial is the whole infeed of the cross
// slide from where the tool touches the stock; Dia is the diameter that comes
// out at the end that was touched, and Cut how much of the taper's length has
// been reached. Turns and Divisions are the nearest line of the dial, nil
// without one; DiaSet is what that line gives.
type Pass struct {
	N         int           `json:"n" show:"n"`
	Radial    units.Length  `json:"radial_mm" show:"infeed"`
	Turns     *int64        `json:"turns" show:"turns"`
	Divisions *int64        `json:"divisions" show:"div"`
	Dia       units.Length  `json:"dia_mm" show:"dia"`
	DiaSet    *units.Length `json:"dia_set_mm" show:"by the dial"`
	Cut       units.Length  `json:"cut_length_mm" show:"cut along"`
	// Slide is how far the compound goes in this pass of a bore, SlideTurns and SlideDivs on its
	// dial, InBite the bite that it ends in where there are several and it goes so far in that;
	// nil for an outside.
	InBite     *int          `json:"in_bite" show:"ends in bite"`
	Slide      *units.Length `json:"slide_mm" show:"compound"`
	SlideTurns *int64        `json:"slide_turns" show:"its turns"`
	SlideDivs  *int64        `json:"slide_divisions" show:"its div"`
}

const maxPasses = 500

// setPasses parts what is to come off into equal roughing passes of at most
// the depth a side, and one finishing pass. An outside is touched at the small
// end, where the stock stands over by (stock - d)/2; a bore at the large end,
// by (D - stock)/2.
//
// On a dial a pass stops at the nearest line, the last one at the last line
// that leaves an outside no smaller and a bore no larger than it is drawn, and
// none goes further in than that.
func (r *Result) setPasses() error {
	in := r.Inputs
	var bad check.List
	r.checkDepths(&bad)
	if in.Stock == nil {
		return bad.Err()
	}
	if r.Length == nil {
		bad.Add(tapers.NeedsSizes("stock", "passes need"))
		return bad.Err()
	}
	depth, finish := r.depths()
	if in.Internal {
		bad.Above0("stock", *in.Stock)
	}
	total := in.Stock.Minus(*r.Small).Half()
	if in.Internal {
		total = r.Large.Minus(*in.Stock).Half()
	}
	bad.Refuse(in.Internal && r.Small.Less(*in.Stock), problem.Impossible, "stock", in.Stock,
		"the bore is already larger than the small end, ", r.Small)
	bad.Refuse(!in.Internal && in.Stock.Less(*r.Large), problem.Impossible, "stock", in.Stock,
		"smaller than the large end, ", r.Large)
	if err := bad.Err(); err != nil {
		return err
	}
	finish = units.Min(finish, total)
	rough := total.Minus(finish)
	n := rough.Steps(depth, units.Up)
	if n > maxPasses {
		return problem.New(problem.OutOfRange, "depth", depth, "makes ", n, " passes: at most ", maxPasses)
	}
	for i := int64(1); i < n; i++ {
		r.addPass(units.FromFloat(rough.MM()*float64(i)/float64(n)), total)
	}
	if n > 0 { // exactly, not to the last bit of a product
		r.addPass(rough, total)
	}
	if finish.Sign() > 0 {
		r.addPass(total, total)
	}
	r.setSlides()
	r.leaves()
	return nil
}

// checkDepths finds what is wrong with the depths of the passes that were asked for: a dial is
// wound by a line of it at the least.
func (r *Result) checkDepths(bad *check.List) {
	in := r.Inputs
	bad.Above0("depth", in.Depth)
	bad.NotBelow0("finish", in.Finish)
	line := units.Length{}
	if d := in.Lathe.CrossSlide; d != nil {
		line = d.Division()
	}
	if depth, finish := r.depths(); in.Finish != nil && depth.Sign() > 0 && line.Cmp(depth) <= 0 {
		bad.Refuse(depth.Less(finish), problem.Contradiction, "finish", finish, "more than a pass before it takes, ", depth,
			" a side: write a smaller one, or a larger ", say.Key("depth"))
	}
	d := in.Lathe.CrossSlide
	if d == nil {
		return
	}
	for _, given := range []struct {
		key string
		is  *units.Length
	}{{"depth", in.Depth}, {"finish", in.Finish}} {
		bad.Refuse(given.is != nil && given.is.Sign() > 0 && given.is.Less(d.Division()), problem.OutOfRange, given.key,
			given.is, "less than a line of the cross slide's dial, ", d.Division(), " a side")
	}
}

// depths returns the most a roughing pass takes a side, and what the last takes.
func (r *Result) depths() (depth, finish units.Length) {
	unit := r.Inputs.Tools.Unit
	depth, finish = practice.PassDepth.Length(unit), practice.PassFinish.Length(unit)
	if r.Inputs.Depth != nil {
		depth = *r.Inputs.Depth
	}
	if r.Inputs.Finish != nil {
		return depth, *r.Inputs.Finish
	}
	return depth, units.Min(finish, depth)
}

// addPass appends the pass that ends at an infeed, of which there is so much in
// all.
func (r *Result) addPass(infeed, total units.Length) {
	dia := func(t units.Length) units.Length {
		if r.Inputs.Internal {
			return r.Inputs.Stock.Plus(t.Times(2))
		}
		return r.Inputs.Stock.Minus(t.Times(2))
	}
	p := Pass{
		N: len(r.Passes) + 1, Radial: infeed, Dia: dia(infeed),
		Cut: units.Min(*r.Length, units.FromFloat(infeed.MM()/r.HalfAngle.Tan())),
	}
	if c := r.Inputs.Lathe.CrossSlide; c != nil {
		round := int64(c.Divisions)
		_, turned := c.Set(infeed.Plus(r.beyond()))
		beyond := r.beyond()
		most := total.Plus(beyond).Times(round).Steps(c.Lead, units.Down)
		s, turned := c.Set(c.Division().Times(min(turned.Turns*round+turned.Divisions, most)))
		p.Turns, p.Divisions, p.DiaSet = &turned.Turns, &turned.Divisions, new(dia(s.Set.Minus(beyond)))
	}
	r.Passes = append(r.Passes, p)
}

// leaves says what the last pass leaves on its line, and how it comes off: with
// the cross slide where it is, the carriage moves the side along the axis, and a
// move of z takes 2·z·tan a off the diameter.
func (r *Result) leaves() {
	if len(r.Passes) == 0 || r.Passes[len(r.Passes)-1].DiaSet == nil {
		return
	}
	last := r.Passes[len(r.Passes)-1]
	r.Left = new(last.DiaSet.Minus(last.Dia))
	r.LeftMove = new(units.FromFloat(r.Left.Abs().MM() / (2 * r.SetHalfAngle.Tan())))
	for i := range r.Joints {
		j := &r.Joints[i]
		j.FromPass = new(r.fromPass(j.Bite))
	}
}

// fromPass is the first pass that reaches a bite.
func (r *Result) fromPass(bite int) int {
	from := r.reachedAt(bite)
	return 1 + slices.IndexFunc(r.Passes, func(p Pass) bool { return from.Less(p.Cut) })
}

// reachedAt is how far along the taper a bite begins, from the end that the stock
// is touched at: a pass that cuts no further leaves the bite alone.
func (r *Result) reachedAt(bite int) units.Length {
	if r.CarriageSet == nil {
		return units.Length{}
	}
	touchedFirst := r.Inputs.SmallEnd != r.FeedsToward // the small end is where the feed begins
	if r.Inputs.Internal {
		touchedFirst = !touchedFirst
	}
	begins := r.CarriageSet.Times(int64(bite - 1))
	switch {
	case r.Inputs.Internal && !r.goesIn() && bite > 1: // what ends in the one before is cut there
		return r.endOf(bite - 1)
	case touchedFirst:
		return begins
	}
	ends := units.FromFloat(begins.MM() + r.Bite.MM()*r.SetHalfAngle.Cos())
	return units.Max(r.Length.Minus(ends), units.Length{})
}

// endOf is where a bite ends, along the axis from where the first begins.
func (r *Result) endOf(bite int) units.Length {
	return units.FromFloat(r.CarriageSet.Times(int64(bite-1)).MM() + r.Bite.MM()*r.SetHalfAngle.Cos())
}

// heightError returns by how much the diameter is out at z from the large end
// when the tool stands h above or below the spindle axis and is set so that the
// large end comes out as drawn.
//
// The tool's line then passes the axis at the distance h and sweeps a
// hyperboloid. With R and r the drawn radii and y the tip's distance in plan,
//
//	y(z) = sqrt(R² - h²) - z·tan a,  radius(z) = sqrt(y(z)² + h²)
//
// z from the large end. The side comes out hollow and the small end large. Where
// y would pass 0 the tip is under or over the axis: a pip of 2·h is left.
//
// h is less than R either way. Exact to 1e-9 mm.
func (r *Result) heightError(h, z units.Length) units.Length {
	R, off, fall := r.Large.MM()/2, h.MM(), z.MM()*r.HalfAngle.Tan()
	start := math.Sqrt(R*R - off*off)
	return units.FromFloat(2 * (math.Hypot(max(start-fall, 0), off) - (R - fall)))
}

// offCentre says what the tool's height does to the small end and half way along.
func (r *Result) offCentre(h units.Length) error {
	switch {
	case h.Sign() == 0:
		return nil
	case r.Length == nil:
		return tapers.NeedsSizes("tool-height-error", "what it costs needs")
	}
	if h.Abs().Cmp(r.Large.Half()) >= 0 {
		return problem.New(problem.Impossible, "tool-height-error", h,
			"the tool passes the work: less than the large end's radius, ", r.Large.Half())
	}
	r.HeightSmallError, r.HeightMiddleError = new(r.heightError(h, *r.Length)), new(r.heightError(h, r.Length.Half()))
	if math.Hypot(h.MM(), r.Length.MM()*r.HalfAngle.Tan()) > r.Large.MM()/2 {
		left := say.Of("a pip of ", h.Abs().Times(2).Up(), " is left")
		if r.Inputs.Internal {
			left = say.Of("no smaller than ", h.Abs().Times(2).Down(), " comes out there")
		}
		r.Warn("pip", "the tool passes the axis before the small end: ", left)
	}
	return nil
}
