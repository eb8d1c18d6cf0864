package feeds

import (
	"fmt"
	"math"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
)

// chip is the shape of what one revolution takes away: its volume as a formula
// in the letters of --working, with the numbers.
type chip struct {
	formula string
	volume  func(depth, feed float64) float64
}

// chipOf returns what an operation takes away in a revolution, in mm3 by the
// depth a and the feed f a revolution; ok is false where that is not known.
//
//	turning       π·(D - a)·a·f
//	boring        π·(D + a)·a·f
//	facing, parting off  π·D·a·f, at the rim
//	drilling      π·D²·f/4
//	reaming       π·(D - a)·a·f
//	countersinking  π·(D² - d²)·f/4
//	milling       a·w·f
//
// D is the diameter, d the small end, w the width; for parting off a is the
// blade's width.
//
// Source: S. Kalpakjian, S. R. Schmid, Manufacturing Engineering and
// Technology, ch. 22-23.
func (r *Result) chipOf() (chip, bool) {
	d, small := r.Inputs.cutEnds()
	width := 0.0
	if r.Width != nil {
		width = r.Width.MM()
	}
	switch r.Inputs.Operation {
	case Turn, Ream:
		return chip{"pi*(D - a)*a*f", func(a, f float64) float64 { return math.Pi * (d - a) * a * f }}, true
	case Bore:
		return chip{"pi*(D + a)*a*f", func(a, f float64) float64 { return math.Pi * (d + a) * a * f }}, true
	case Face:
		return chip{"pi*D*a*f", func(a, f float64) float64 { return math.Pi * d * a * f }}, true
	case PartOff:
		return chip{"pi*D*w*f", func(_, f float64) float64 { return math.Pi * d * width * f }}, true
	case Drill:
		return chip{"pi*D^2*f/4", func(_, f float64) float64 { return math.Pi * d * d * f / 4 }}, true
	case Countersink:
		return chip{"pi*(D^2 - d^2)*f/4", func(_, f float64) float64 { return math.Pi * (d*d - small*small) * f / 4 }}, true
	case Mill:
		return chip{"a*w*f", func(a, f float64) float64 { return a * width * f }}, true
	}
	return chip{}, false
}

// cutEnds returns the larger diameter of the cut and the smaller one, 0 where
// there is none, in mm.
func (in Input) cutEnds() (large, small float64) {
	large = in.Diameter.MM()
	if in.To != nil {
		small = in.To.MM()
	}
	return max(large, small), min(large, small)
}

// chooseCut settles depth and width, and holds what was not said down to what
// the motor drives.
func (r *Result) chooseCut() {
	in := r.Inputs
	r.Depth, r.Width = in.Depth, nil
	switch in.Operation {
	case PartOff:
		r.Depth, r.Width = nil, in.Width
		if r.Width == nil {
			r.Width = in.Blade
		}
		if r.Width == nil {
			w := bladeFor(in.Diameter)
			r.Width = &w
			r.assume("a blade %v wide", w)
		}
	case Mill:
		r.Width = in.Width
		if r.Width == nil {
			w := in.Diameter.Half()
			r.Width = &w
			r.assume("%v wide, half of the cutter", w)
		}
	case Ream:
		if r.Depth == nil {
			d := units.FromFloat(reamAllowance(in.Diameter) / 2)
			r.Depth = &d
			r.assume("%v left on the diameter for the reamer", d.Times(2))
		}
	}
	c, ok := r.chipOf()
	if !ok || r.Feed == nil {
		return
	}
	r.chip = c
	r.limitDepth()
	if r.Depth == nil && r.hasDepth() {
		r.defaultDepth()
	}
	r.limitFeed()
}

// hasDepth reports whether the operation is set to a depth.
func (r *Result) hasDepth() bool {
	switch r.Inputs.Operation {
	case Turn, Face, Bore, Mill:
		return true
	}
	return false
}

// volumeLimit returns the volume in mm3 a revolution that the motor drives;
// ok is false without a motor.
func (r *Result) volumeLimit() (float64, bool) {
	if r.PowerAvailable == nil {
		return 0, false
	}
	return r.PowerAvailable.Watts() * efficiency * 60 / (float64(r.SpecificEnergy) * r.turns().RPM()), true
}

// limitDepth finds the depth at which the cut takes all the motor has, rounded
// down to 0.01 mm. It stays nil where no depth inside the work does.
func (r *Result) limitDepth() {
	most, ok := r.volumeLimit()
	if !ok || !r.hasDepth() {
		return
	}
	f := r.Feed.MM()
	d, _ := r.Inputs.cutEnds()
	var a float64
	switch r.Inputs.Operation {
	case Turn:
		rest := d*d - 4*most/(math.Pi*f)
		if rest <= 0 {
			return
		}
		a = (d - math.Sqrt(rest)) / 2
	case Bore:
		a = (math.Sqrt(d*d+4*most/(math.Pi*f)) - d) / 2
	case Face:
		a = most / (math.Pi * d * f)
	case Mill:
		if a = most / (r.Width.MM() * f); a > d {
			return
		}
	}
	limit := units.FromFloat(a).RoundTo(units.MustLength("0.01mm"), units.Down)
	r.DepthLimit = &limit
}

// defaultDepth chooses a depth by the material, not above what the motor
// drives and not beyond the middle of the work.
func (r *Result) defaultDepth() {
	mm, why := depthFor(r.material.Group), "for "+string(r.material.Group)
	quarter := r.Inputs.Diameter.MM() / 4
	switch {
	case r.Inputs.Finish:
		mm, why = finishDepth, "for a finishing cut"
	case r.Inputs.Operation == Mill:
		mm, why = min(quarter, 4*mm), "a quarter of the cutter at the most"
	}
	if r.Inputs.Operation != Face && quarter < mm {
		mm, why = quarter, "a quarter of the diameter"
	}
	d := units.FromFloat(mm)
	if r.DepthLimit != nil && r.DepthLimit.Less(d) && r.DepthLimit.Sign() > 0 {
		d, why = *r.DepthLimit, "all that the motor drives"
	}
	r.Depth = &d
	r.assume("%v deep, %s", d, why)
}

// limitFeed holds a feed that nobody gave down to what the motor drives, for
// the operations where only the feed can give way.
func (r *Result) limitFeed() {
	most, ok := r.volumeLimit()
	if !ok || r.hasDepth() || r.Inputs.Feed != nil {
		return
	}
	v := r.chip.volume(r.depth(), r.Feed.MM())
	if v <= most {
		return
	}
	was := r.Feed.MM()
	held := math.Floor(was*most/v*1000) / 1000
	if held <= 0 {
		return
	}
	r.setFeed(held)
	text := fmt.Sprintf("the motor does not drive %.3f mm/rev: the feed is held to %.3f", was, held)
	if r.Inputs.Operation == Drill && held < was/2 {
		text += "; drill a pilot hole first"
	}
	r.Warnings.Add("motor", text)
}

func (r *Result) depth() float64 {
	if r.Depth == nil {
		return 0
	}
	return r.Depth.MM()
}

// measure computes what the cut takes:
//
//	P = U·Q    Fc = U·a·f    M = P/(2·π·n)
//
// U is the specific energy, Q the volume a second. The force of milling is the
// mean one at the rim, P/v.
//
// Source: S. Kalpakjian, S. R. Schmid, Manufacturing Engineering and
// Technology, examples 22.1, 22.2, 23.1 and 23.2.
func (r *Result) measure() {
	if r.chip.volume == nil || r.Feed == nil {
		return
	}
	n := r.turns().RPM()
	perRev := r.chip.volume(r.depth(), r.Feed.MM())
	joules := float64(r.SpecificEnergy) * perRev
	rate, power := units.Number(perRev*n), units.Number(Power(float64(r.SpecificEnergy), perRev*n))
	motor := power / efficiency
	torque := units.Number(joules / (2 * math.Pi))
	r.RemovalRate, r.Power, r.MotorPower, r.Torque = &rate, &power, &motor, &torque
	const newtons = 1000 // N/mm2 in a W.s/mm3
	var force units.Number
	switch r.Inputs.Operation {
	case Turn, Bore, Face:
		force = units.Number(newtons * float64(r.SpecificEnergy) * r.depth() * r.Feed.MM())
	case PartOff:
		force = units.Number(newtons * float64(r.SpecificEnergy) * r.Width.MM() * r.Feed.MM())
	case Mill:
		force = units.Number(newtons * joules / (math.Pi * r.Inputs.Diameter.MM()))
	}
	if force > 0 {
		r.Force = &force
	}
	switch {
	case r.PowerAvailable == nil && r.Inputs.Drive.Machine != "" && r.Inputs.Drive.Machine != shop.OnBeltGrinder:
		r.Warnings.Add("not-checked", "whether the motor drives this cut was not checked ("+r.motorKey()+")")
	case r.PowerAvailable != nil && float64(motor) > r.PowerAvailable.Watts()*(1+1e-9):
		text := fmt.Sprintf("the cut takes %.0f W of the motor and it has %.0f", float64(motor), r.PowerAvailable.Watts())
		if r.DepthLimit != nil {
			text += fmt.Sprintf(": it drives %v deep at this feed", *r.DepthLimit)
		}
		r.Warnings.Add("motor", text)
	}
}

func (r *Result) motorKey() string {
	return r.Inputs.Drive.Machine.Key() + ": motor"
}

// path returns the length cut and the length run at the feed, in mm; ok is
// false where there is none. A face and a part-off are half the diameter deep
// unless said; a drill runs on by its 118 deg point, a milling cutter by its
// radius.
func (r *Result) path() (cut, run float64, ok bool) {
	in := r.Inputs
	d := in.Diameter.MM()
	switch {
	case in.Length != nil:
		cut = in.Length.MM()
	case in.Operation == Face || in.Operation == PartOff:
		cut = d / 2
		if in.To != nil {
			cut = math.Abs(d-in.To.MM()) / 2
		}
	default:
		return 0, 0, false
	}
	run = cut + approach + overrun
	switch in.Operation {
	case Drill:
		run += d / 2 / units.Degrees(59).Tan()
	case Mill:
		run += d / 2
	}
	return cut, run, true
}

// time computes the minutes of one pass.
func (r *Result) time() {
	cut, run, ok := r.path()
	if !ok || r.Feed == nil || r.Inputs.Operation == Saw || r.Inputs.Operation == Grind {
		return
	}
	n := r.turns()
	t := units.Number(CutTime(units.FromFloat(cut), *r.Feed, n))
	back := run / handFeed
	if r.Inputs.Operation == Tap {
		back = run / (r.Feed.MM() * n.RPM()) // backed out as it went in
	}
	whole := units.Number(CutTime(units.FromFloat(run), *r.Feed, n) + back)
	r.CutTime, r.Time = &t, &whole
}
