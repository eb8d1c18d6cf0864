package gauge

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/tapers"
)

// remaining fills in what is left to take off at both ends, how far the cross slide
// goes for it, and how far that lets the work into its socket.
func (r *CorrectResult) remaining() {
	off := r.atEnds()
	if r.LeftLarge == nil && r.LeftSmall == nil {
		return
	}
	r.TakeOff = new(units.Length{})
	var missing units.Length
	thin := AtLarge
	for _, left := range []struct {
		end End
		dia *units.Length
	}{{AtLarge, r.LeftLarge}, {AtSmall, r.LeftSmall}} {
		switch {
		case left.dia == nil:
		case r.thinnest(left.end, *left.dia).Less(missing):
			missing, thin = r.thinnest(left.end, *left.dia), left.end
		case r.TakeOff.Less(*left.dia):
			r.TakeOff, r.touch = left.dia, left.end
		}
	}
	if missing.Less(off.Neg()) {
		r.undersize(thin, missing.Abs())
		r.TakeOff = nil
		return
	}
	if r.LeftLarge != nil && r.LeftSmall != nil && r.LeftLarge.Minus(*r.LeftSmall).Abs().Cmp(off) <= 0 {
		r.touch = ""
	}
	r.AxialMove = new(units.FromFloat(r.TakeOff.MM() * float64(r.Axial)))
	if r.bites != nil { // the one that stands lowest is not cut under size
		off = off.Plus(r.bites.low)
	}
	r.infeed(off)
}

// thinnest is what is left at an end, where that is the far end of a bite at its very end, beyond where
// it is judged.
func (r *CorrectResult) thinnest(end End, left units.Length) units.Length {
	if r.bites == nil || r.found == nil || end == r.bites.first {
		return left
	}
	more := r.found.half.Tan() - r.HalfAngle.Tan() // the diameters differ, 1 along the axis and a side
	if (end == AtLarge) != r.Inputs.inside() {
		more = -more
	}
	far := r.bites.long.Minus(r.bites.tells).MM()
	return left.Minus(units.FromFloat(max(0, 2*far*more)))
}

// atEnds fills in what is left on the diameter at both ends, and returns how far
// off that may be. Where it stands out of its socket by s, the end that touches has
// 2·s·tan a left and the other less, by what the taper is out over its length.
func (r *CorrectResult) atEnds() units.Length {
	in, t, f := r.Inputs, r.taper, r.found
	if in.StickOut != nil {
		left := units.FromFloat(2 * in.StickOut.MM() * r.HalfAngle.Tan())
		if r.bites != nil && left.Sign() > 0 { // the one that stands highest touches, and the first has a step less
			left = units.Max(left.Minus(r.bites.high), units.Length{})
		}
		touches, other := &r.LeftLarge, &r.LeftSmall
		if r.Turn == "further" != in.inside() { // a plug that is too flat touches at its small end
			touches, other = other, touches
		}
		*touches = &left
		switch {
		case r.Turn == "none":
			*other = &left
		case r.DiameterError != nil && t.Length != nil:
			*other = new(left.Minus(r.DiameterError.Abs()))
		}
		return units.Length{}
	}
	if f == nil || f.large == nil || f.small == nil || t.Large == nil || t.Small == nil {
		return units.Length{}
	}
	large, small := f.large.Minus(*t.Large), f.small.Minus(*t.Small)
	if in.inside() {
		large, small = large.Neg(), small.Neg()
	}
	if r.bite > 0 { // the first bite, which is touched, has a step less
		large, small = large.Minus(r.bites.steps[r.bite-1]), small.Minus(r.bites.steps[r.bite-1])
	}
	r.LeftLarge, r.LeftSmall = &large, &small
	return f.endOff
}

// undersize says that metal is missing at an end, and how far along the axis the
// taper would be right.
func (r *CorrectResult) undersize(end End, by units.Length) {
	along := units.FromFloat(by.MM() * float64(r.Axial)).Up()
	key := "measured"
	switch in := r.Inputs; {
	case in.StickOut != nil:
		key = "stick-out"
	case in.byRolls():
		key = "over"
	case in.byBalls():
		key = "large-depth"
	}
	if r.Inputs.inside() {
		// Faced off the small end, it would be larger still there.
		at := say.Text("mouth, the large end")
		if r.Inputs.end() == tapers.AtTailstock {
			at = "large end, at the chuck"
		}
		r.No(problem.New(problem.StartSize, key, nil, "the bore is ", by.Up(), " too large at its ", end,
			" end ", r.ofBite(), "already: it is right again where ", along, " is faced off its ", at,
			", if it may be as much shorter, or start again"))
		return
	}
	r.No(problem.New(problem.StartSize, key, nil, "the ", end, " end ", r.ofBite(), "is ", by.Up(),
		" under size already: it is right again where the taper is cut ", along,
		" further on toward its large end, if the work is long enough there, or start again"))
}

// ofBite says that an end is that of a bite, where there are bites.
func (r *CorrectResult) ofBite() say.Text {
	if r.bites == nil {
		return ""
	}
	return "of its bites "
}

// infeed fills in how far the cross slide goes, short by what the readings may be off
// on the diameter; on this dial to the last line that is not past it; and what that takes
// off and leaves. Between centres the work stands a half angle a to the bed, so that a travel
// t takes 2·t/cos a off the diameter.
func (r *CorrectResult) infeed(off units.Length) {
	per := 2.0
	if r.Inputs.Between != nil {
		per /= r.HalfAngle.Cos()
	}
	infeed := units.FromFloat(units.Max(r.TakeOff.Minus(off), units.Length{}).MM() / per)
	r.Infeed = &infeed
	set := infeed
	if d := r.Inputs.Cross; d != nil {
		s, turned := d.Short(infeed)
		r.InfeedTurns, r.InfeedDivisions, r.InfeedSet, set = &turned.Turns, &turned.Divisions, &s.Set, s.Set
	} else {
		r.NotChecked("lathe: cross_slide", "no dial of a cross slide in this shop: the infeed is exact, no line was ",
			"looked for")
	}
	r.passes(set)
	r.TakenOff = new(units.FromFloat(set.MM() * per))
	r.Leaves = new(units.Max(r.TakeOff.Minus(*r.TakenOff), units.Length{})) // which is halved and rounded
	if r.bites != nil {                                                     // as much as the one that stands highest
		r.Leaves = new(r.Leaves.Plus(r.bites.high))
	}
	r.AxialSet = new(units.FromFloat(r.TakenOff.MM() * float64(r.Axial)))
	r.AxialLeft = new(units.FromFloat(r.Leaves.MM() * float64(r.Axial)))
}

// passes parts an infeed into roughing cuts that are alike, of pass-depth at the most, and a last
// one of pass-finish; on a dial each ends at a line. Of many the last two are listed.
func (r *CorrectResult) passes(set units.Length) {
	unit, line := r.Inputs.Unit, units.Length{}
	last := practice.PassFinish.Length(unit)
	if d := r.Inputs.Cross; d != nil {
		line = d.Division()
		last = units.Max(line, line.Times(last.Steps(line, units.Down)))
	}
	r.Cuts = new(int64(1))
	if rough := set.Minus(last); rough.Sign() > 0 {
		n := rough.Steps(practice.PassDepth.Length(unit), units.Up)
		for i := int64(1); i < n && n <= mostNamed; i++ {
			to := units.FromFloat(rough.MM() * float64(i) / float64(n))
			if line.Sign() > 0 {
				to = line.Times(to.Steps(line, units.Nearest))
			}
			r.cutTo = append(r.cutTo, to)
		}
		r.cutTo = append(r.cutTo, rough)
		r.Cuts = new(1 + n)
	}
	r.cutTo = append(r.cutTo, set)
}

// mostNamed is how many cuts before the last have each their line said.
const mostNamed = 4
