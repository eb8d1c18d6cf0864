package feeds

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// FinishInput is a turning tool's nose, and the feed it is fed at or the
// finish that is wanted, in µm: one of the three. Trail is the angle between
// the trailing edge and the work.
type FinishInput struct {
	Feed  *units.Feed   `json:"feed_mm_rev,omitempty"`
	Ra    *units.Number `json:"ra_um,omitempty"`
	Rt    *units.Number `json:"rt_um,omitempty"`
	Nose  units.Length  `json:"nose_mm"`
	Trail units.Angle   `json:"trail_deg"`
}

// FinishResult is the finish a feed leaves in theory: Rt from peak to valley
// and Ra the arithmetic mean. FeedLimit is the feed up to which only the round
// nose marks the work.
type FinishResult struct {
	Inputs    FinishInput  `json:"inputs"`
	Feed      units.Feed   `json:"feed_mm_rev" show:"feed"`
	Rt        units.Number `json:"rt_um" show:"Rt, peak to valley" as:"3 um"`
	Ra        units.Number `json:"ra_um" show:"Ra, the mean" as:"3 um"`
	Inside    bool         `json:"inside_nose_arc" show:"inside the nose arc" note:"only the round nose marks the work"`
	FeedLimit units.Feed   `json:"feed_limit_mm_rev" show:"the arc ends at"`
	sheet.Remarks
}

// raOfParabola is Ra over f²/r for a row of parabolas: 1/(18·√3).
const raOfParabola = 0.0320750149549799

// NoseRt returns the height of the feed marks of a round nose, in µm:
//
//	Rt = f²/(8·r)
//
// f is the feed in mm/rev and r the nose radius, above 0. It takes the arc for
// a parabola: short by about f²/(16·r²) of itself, 0.4 % at f = r/4. It holds while
// f is at most 2·r·sin k, with k the trailing edge's angle.
//
// Source: Mitsubishi Materials, formulas for turning, theoretical finished
// surface roughness.
func NoseRt(f units.Feed, nose units.Length) float64 {
	return 1000 * f.MM() * f.MM() / (8 * nose.MM())
}

// EdgeRt returns the height of the feed marks where the trailing edge, at the
// angle k to the work, cuts a part of them, in µm:
//
//	Rt = r·(1 - cos k + t·cos k - sin k·√(2·t - t²)),  t = f·sin k/r
//
// f is at least 2·r·sin k and t at most 1.
//
// Source: from memory (M. C. Shaw, Metal Cutting Principles); tested against
// the drawn profile.
func EdgeRt(f units.Feed, nose units.Length, k units.Angle) float64 {
	t := f.MM() * k.Sin() / nose.MM()
	return 1000 * nose.MM() * (1 - k.Cos() + t*k.Cos() - k.Sin()*math.Sqrt(2*t-t*t))
}

// profile returns the height of a tool's edge at x from its lowest point: an
// arc, and behind it, where x is negative, the trailing edge.
func profile(x, r float64, k units.Angle) float64 {
	if x < -r*k.Sin() {
		return r*(1-k.Cos()) + (-x-r*k.Sin())*k.Tan()
	}
	return r - math.Sqrt(math.Max(0, r*r-x*x))
}

// edgeRa returns Ra of the feed marks that nose and trailing edge leave, in
// µm, from 4000 points of the profile; good to 4 figures.
func edgeRa(f units.Feed, nose units.Length, k units.Angle) float64 {
	const n = 4000
	var y [n]float64
	mean := 0.0
	for i := range n {
		x := (float64(i) + 0.5) / n * f.MM()
		left := math.Inf(1)
		if x <= nose.MM() {
			left = profile(x, nose.MM(), k)
		}
		y[i] = math.Min(left, profile(x-f.MM(), nose.MM(), k))
		mean += y[i] / n
	}
	sum := 0.0
	for _, v := range y {
		sum += math.Abs(v-mean) / n
	}
	return 1000 * sum
}

// Finish returns the finish a feed leaves, or the coarsest feed that leaves a
// finish.
//
// It fails unless exactly one of Feed, Ra and Rt is given, above 0; on a nose
// not above 0; on a trailing edge not above 0 and at most 45 deg; and on a
// feed so coarse that the marks are higher than the nose.
func Finish(in FinishInput) (FinishResult, error) {
	if err := in.check(); err != nil {
		return FinishResult{}, err
	}
	r := FinishResult{Inputs: in, FeedLimit: units.MillimetresPerRev(2 * in.Nose.MM() * in.Trail.Sin())}
	if in.Feed != nil {
		r.Feed = *in.Feed
	} else {
		r.Feed = in.feedFor()
	}
	rt, ra := in.marks(r.Feed)
	if rt > 1000*in.Nose.MM() {
		return FinishResult{}, problem.New(problem.OutOfRange, "feed", r.Feed,
			"too coarse for a nose of ", in.Nose, ": the marks would be higher than the nose")
	}
	r.Rt, r.Ra, r.Inside = units.Number(rt), units.Number(ra), in.inside(r.Feed)
	if !r.Inside {
		r.Warn("nose-arc", "above ", r.FeedLimit, " the trailing edge marks the work too: f^2/(8r) would say ",
			say.Num(NoseRt(r.Feed, in.Nose), 1), " um")
	}
	return r, nil
}

// inside reports whether only the round nose marks the work.
func (in FinishInput) inside(f units.Feed) bool {
	return f.MM() <= 2*in.Nose.MM()*in.Trail.Sin()*(1+1e-12)
}

// marks returns Rt and Ra at a feed, in µm. Rt is infinite where the feed is
// longer than the arc and its edge reach.
func (in FinishInput) marks(f units.Feed) (rt, ra float64) {
	switch {
	case in.inside(f):
		return NoseRt(f, in.Nose), 1000 * raOfParabola * f.MM() * f.MM() / in.Nose.MM()
	case f.MM()*in.Trail.Sin() > in.Nose.MM():
		return math.Inf(1), math.Inf(1)
	}
	return EdgeRt(f, in.Nose, in.Trail), edgeRa(f, in.Nose, in.Trail)
}

// feedFor returns the coarsest feed that leaves the finish wanted: the marks
// grow with the feed, so halving finds it, to 1e-9 mm.
func (in FinishInput) feedFor() units.Feed {
	rough := func(f float64) bool {
		rt, ra := in.marks(units.MillimetresPerRev(f))
		if in.Rt != nil {
			return rt > float64(*in.Rt)
		}
		return ra > float64(*in.Ra)
	}
	fine, coarse := 0.0, in.Nose.MM()/in.Trail.Sin()
	for coarse-fine > 1e-9 {
		if mid := (fine + coarse) / 2; rough(mid) {
			coarse = mid
		} else {
			fine = mid
		}
	}
	return units.MillimetresPerRev(fine)
}

func (in FinishInput) check() error {
	var list check.List
	list.ExactlyOne(check.If("feed", in.Feed), check.If("ra", in.Ra), check.If("rt", in.Rt))
	list.Above0("ra", in.Ra)
	list.Above0("rt", in.Rt)
	list.Above0("nose", in.Nose)
	list.Above0To("trail", in.Trail, units.Degrees(45))
	return list.Err()
}

// Sheet implements sheet.Result.
func (r FinishResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Finish of a turned surface")
	microinches := func(um units.Number) say.Text { return say.Num(float64(um)/0.0254, 0) + " uin" }
	s.Remark(&r.Feed, say.Other(r.Feed))
	s.Remark(&r.Rt, microinches(r.Rt))
	s.Remark(&r.Ra, microinches(r.Ra))
	if !r.Inside {
		s.Remark(&r.Inside, "the trailing edge marks it too")
	}
	s.Remark(&r.FeedLimit, "with the trailing edge ", r.Inputs.Trail, " off the work")
	s.Figures()
	f, nose, k := sheet.Let("f", r.Feed.MM()), sheet.Let("r", r.Inputs.Nose.MM()), sheet.Let("k", r.Inputs.Trail.Deg())
	s.Work("limit", "2*r*sin(k)", r.FeedLimit.MM(), "mm/rev", nose, k)
	if r.Inside {
		s.Work("Rt", "1000*f^2/(8*r)", float64(r.Rt), "um", f, nose)
		s.Work("Ra", "1000*f^2/(18*sqrt(3)*r)", float64(r.Ra), "um", f, nose)
	} else {
		t := sheet.Let("t", r.Feed.MM()*r.Inputs.Trail.Sin()/r.Inputs.Nose.MM())
		s.Work("t", "f*sin(k)/r", t.Value, "", f, nose, k)
		s.Work("Rt", "1000*r*(1 - cos(k) + t*cos(k) - sin(k)*sqrt(2*t - t^2))", float64(r.Rt), "um", nose, k, t)
	}
	s.Note("This is what a perfect edge leaves. ",
		"A built-up edge, chatter and a worn nose make it worse, often twice as rough.")
	return *s
}
