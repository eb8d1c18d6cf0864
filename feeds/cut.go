package feeds

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
)

// cut returns the cut as it stands, in mm; what is not known is 0.
func (r *Result) cut() cut {
	mm := func(l *units.Length) float64 {
		if l == nil {
			return 0
		}
		return l.MM()
	}
	d, to := r.Inputs.Diameter.MM(), mm(r.Inputs.To)
	c := cut{D: max(d, to), d: min(d, to), w: mm(r.Width), a: mm(r.Depth)}
	if r.Feed != nil {
		c.f = r.Feed.MM()
	}
	return c
}

// written returns the chip's formula for a cut.
func (c chip) written(now cut) string {
	if c.ring != "" && now.d > 0 {
		return c.ring
	}
	return c.formula
}

// chooseCut settles depth and width, and holds what was not said down to what
// the motor drives.
func (r *Result) chooseCut() {
	in, size := r.Inputs, r.facts.size
	settle := func(given *units.Length, usual func(Input) (units.Length, say.Text)) *units.Length {
		if given != nil || usual == nil {
			return given
		}
		l, why := usual(in)
		if why != "" {
			r.assume(why)
		}
		return &l
	}
	deep := r.facts.chip.deepest > 0
	if deep || size.depth != nil {
		r.Depth = settle(in.Depth, size.depth)
	}
	if size.width != nil {
		r.Width = settle(in.Width, size.width)
	}
	if r.facts.chip.volume == nil || r.Feed == nil {
		return
	}
	if !deep {
		r.limitFeed()
		return
	}
	r.limitDepth()
	if r.Depth == nil {
		r.defaultDepth()
	}
}

// volumeLimit returns the volume in mm3 a revolution that the motor drives;
// ok is false without a motor.
func (r *Result) volumeLimit() (float64, bool) {
	if r.PowerAvailable == nil {
		return 0, false
	}
	reaches := r.PowerAvailable.Watts() * practice.Efficiency.Number()
	return reaches * 60 / (float64(r.SpecificEnergy) * r.turns().RPM()), true
}

// limitDepth finds the depth at which the cut takes all the motor has, rounded
// down to 0.01 mm: the volume grows with it, so halving finds it. It stays nil
// where no depth inside the work does.
func (r *Result) limitDepth() {
	most, ok := r.volumeLimit()
	volume := func(a float64) float64 {
		c := r.cut()
		c.a = a
		return r.facts.chip.volume(c)
	}
	low, high := 0.0, r.facts.chip.deepest*r.cut().D
	if !ok || volume(high) <= most {
		return
	}
	for range 100 {
		if mid := (low + high) / 2; volume(mid) <= most {
			low = mid
		} else {
			high = mid
		}
	}
	limit := units.FromFloat(low).RoundTo(units.MustLength("0.01mm"), units.Down)
	r.DepthLimit = &limit
}

// defaultDepth chooses a depth by the material, not above what the motor
// drives and not beyond the middle of the work.
func (r *Result) defaultDepth() {
	d, why := practice.RoughDepth.Length(r.material), say.Of("for ", r.material.Group)
	part := practice.DepthPart.Of(r.Inputs.Diameter)
	switch {
	case r.Inputs.Finish:
		d, why = practice.FinishDepth.Length(), "for a finishing cut"
	case r.Inputs.Operation == Mill:
		d, why = practice.MillDepth.Of(d),
			say.Of(say.Num(practice.MillDepth.Number(), 1), " times as deep as a roughing cut in turning")
	}
	if r.Inputs.Operation != Face && part.Less(d) {
		d, why = part, say.Of(say.Num(practice.DepthPart.Number(), 2), " of the diameter")
	}
	if r.DepthLimit != nil && r.DepthLimit.Less(d) && r.DepthLimit.Sign() > 0 {
		d, why = *r.DepthLimit, "all that the motor drives"
	}
	r.Depth = &d
	r.assume(d.Down(), " deep, ", why)
}

// limitFeed holds a feed that nobody gave down to what the motor drives, for
// the operations where only the feed can give way.
func (r *Result) limitFeed() {
	most, ok := r.volumeLimit()
	if !ok || r.Inputs.Feed != nil {
		return
	}
	was, v := r.Feed.MM(), r.facts.chip.volume(r.cut())
	held := math.Floor(was*most/v*1000) / 1000
	if v <= most || held <= 0 {
		return
	}
	text := say.Of("the motor does not drive ", *r.Feed, ": the feed is held to ", units.MillimetresPerRev(held))
	r.setFeed(units.MillimetresPerRev(held))
	if r.Inputs.Operation == Drill && held < was/2 {
		text += "; drill a pilot hole first"
		r.Pilot = true
	}
	r.Warn("motor", text)
}

// measure computes what the cut takes:
//
//	P = U·Q    Fc = U·A    M = P/(2·π·n)
//
// U is the specific energy, Q the volume a second and A the section of the
// chip. The force of milling is the mean one at the rim, P/v.
//
// Source: S. Kalpakjian, S. R. Schmid, Manufacturing Engineering and
// Technology, examples 22.1, 22.2, 23.1 and 23.2.
func (r *Result) measure() {
	chip := r.facts.chip
	if chip.volume == nil || r.Feed == nil {
		return
	}
	n, energy := r.turns().RPM(), float64(r.SpecificEnergy)
	perRev := chip.volume(r.cut())
	rate, power := units.Number(perRev*n), Power(energy, perRev*n)
	motor := units.Watts(power.Watts() / practice.Efficiency.Number())
	torque := units.Number(energy * perRev / (2 * math.Pi))
	r.RemovalRate, r.Power, r.MotorPower, r.Torque = &rate, &power, &motor, &torque
	if chip.section != nil {
		const newtons = 1000 // N/mm2 in a W.s/mm3
		force := units.Number(newtons * energy * chip.section(r.cut()))
		r.Force = &force
	}
	switch has := r.PowerAvailable; {
	case has == nil && r.Inputs.Drive.Machine.Key() != "":
		r.NotChecked(r.Inputs.Drive.Machine.Key()+": motor", "whether the motor drives this cut was not checked")
	case has != nil && motor.Watts() > has.Watts()*(1+1e-9):
		text := say.Of("the cut takes ", motor, " of the motor and it has ", *has)
		if r.DepthLimit != nil {
			text = say.Of(text, ": it drives ", r.DepthLimit.Down(), " deep at this feed")
		}
		r.Warn("motor", text)
	}
}

// path returns the length cut and the length run at the feed, in mm; ok is
// false where there is none. A face and a part-off are half the diameter deep
// unless said; a drill runs on by its point, a milling cutter by its radius.
func (r *Result) path() (cut, run float64, ok bool) {
	in := r.Inputs
	d := in.Diameter.MM()
	switch {
	case in.Length != nil:
		cut = in.Length.MM()
	case r.facts.radial:
		cut = d / 2
		if in.To != nil {
			cut = math.Abs(d-in.To.MM()) / 2
		}
	default:
		return 0, 0, false
	}
	run = cut + practice.FeedApproach.Length().MM() + practice.FeedOverrun.Length().MM()
	switch in.Operation {
	case Drill:
		run += d / 2 / practice.PointAngle.Angle().Half().Tan()
	case Mill:
		run += d / 2
	}
	return cut, run, true
}

// time computes the minutes of one pass, and the way back.
func (r *Result) time() {
	cut, run, ok := r.path()
	if !ok || r.Feed == nil {
		return
	}
	n := r.turns()
	minutes := units.Number(CutTime(units.FromFloat(cut), *r.Feed, n))
	ran := CutTime(units.FromFloat(run), *r.Feed, n)
	back := run / practice.HandFeed.Number()
	if r.facts.back {
		back = ran
	}
	whole := units.Number(ran + back)
	r.CutTime, r.Time = &minutes, &whole
}
