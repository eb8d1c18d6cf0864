package feeds

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/materials"
	"setover/setup/page/sheet"
)

// BeltInput is an abrasive belt's or a wheel's drive: the wheel that carries it
// and how fast that turns. Material is "" when only the speed is asked for.
// Rating is the highest surface speed marked on the belt or wheel.
type BeltInput struct {
	Wheel    units.Length        `json:"wheel_mm"`
	RPM      units.SpindleSpeed  `json:"rpm"`
	Material string              `json:"material,omitempty"`
	Rating   *units.SurfaceSpeed `json:"rating_m_min,omitempty"`
}

// BeltResult is the speed of the belt's surface and, for a material, the range
// that suits it. Verdict is slow, inside or fast.
type BeltResult struct {
	Inputs    BeltInput           `json:"inputs"`
	Speed     units.SurfaceSpeed  `json:"surface_speed_m_min" show:"surface speed" as:"1/0"`
	PerSecond units.Number        `json:"surface_speed_m_s" show:"as belts are rated" as:"1 m/s"`
	Low       *units.SurfaceSpeed `json:"low_m_min"`
	High      *units.SurfaceSpeed `json:"high_m_min"`
	Verdict   *string             `json:"verdict" show:"verdict"`
	Ideal     *units.SpindleSpeed `json:"ideal_rpm" show:"ideal speed" as:"0 down" note:"of this wheel"`
	Source    *string             `json:"source"`
	sheet.Remarks

	printed string
}

// Belt returns the surface speed of a belt. It fails on a wheel or a speed not
// above 0 and on an unknown material. The answer is no above the rating.
func Belt(in BeltInput) (BeltResult, error) {
	var list check.List
	list.Above0("wheel", in.Wheel)
	list.Above0("rpm", in.RPM)
	var m *materials.Material
	if in.Material != "" {
		found, err := materials.Find(in.Material)
		list.Add(err)
		m = found
	}
	if err := list.Err(); err != nil {
		return BeltResult{}, err
	}
	r := BeltResult{Inputs: in, Speed: SurfaceSpeed(in.RPM, in.Wheel)}
	r.PerSecond = units.Number(r.Speed.MetresPerMinute() / 60)
	if in.Rating != nil && r.Speed.MetresPerMinute() > in.Rating.MetresPerMinute() {
		r.No(problem.New(problem.OverRating, "rating", r.Speed,
			"the belt or wheel is rated for ", *in.Rating, " at the most: do not run it"))
	}
	r.Caution(cautions.WheelRating, cautions.GrindDust)
	if m != nil {
		r.Inputs.Material = m.Name
		r.compare(m)
		r.Caution(Cautions(m, Grind, "")...)
	}
	r.Caution(cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// compare holds the speed against the material's range.
func (r *BeltResult) compare(m *materials.Material) {
	f := beltSpeed(m)
	low, high, verdict := units.MetresPerMinute(f.Low), units.MetresPerMinute(f.High), "inside"
	switch v := r.Speed.MetresPerMinute(); {
	case v < f.Low:
		verdict = "slow"
	case v > f.High:
		verdict = "fast"
		r.Warn("too-fast", "faster than suits ", m.Name, ": it burns, keep the pressure light and cool it often")
	}
	ideal := SpindleSpeed(units.MetresPerMinute(f.Chosen), r.Inputs.Wheel)
	r.Low, r.High, r.Verdict, r.Ideal, r.Source, r.printed = &low, &high, &verdict, &ideal, &f.Source, f.Printed
}

// Sheet implements sheet.Result.
func (r BeltResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Surface speed of a belt")
	s.Show(&r.Speed, say.Other(r.Speed))
	s.Show(&r.PerSecond)
	if r.Verdict != nil {
		s.ShowAs(&r.Verdict, say.Of("for ", r.Inputs.Material), "it wants ", r.printed, " (", *r.Source, ")")
	}
	s.Figures()
	s.Work("v", "pi*D*n/1000", r.Speed.MetresPerMinute(), "m/min",
		sheet.Let("pi", math.Pi), sheet.Let("D", r.Inputs.Wheel.MM()), sheet.Let("n", r.Inputs.RPM.RPM()))
	return *s
}
