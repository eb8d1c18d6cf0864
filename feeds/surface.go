package feeds

import (
	"fmt"

	"setover/setup/base/problem"
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
	Speed     units.SurfaceSpeed  `json:"surface_speed_m_min"`
	PerSecond units.Number        `json:"surface_speed_m_s"`
	Low       *units.SurfaceSpeed `json:"low_m_min"`
	High      *units.SurfaceSpeed `json:"high_m_min"`
	Verdict   *string             `json:"verdict"`
	Ideal     *units.SpindleSpeed `json:"ideal_rpm"`
	Source    *string             `json:"source"`
	sheet.Remarks

	printed string
	fails   problem.List
}

// Belt returns the surface speed of a belt. It fails on a wheel or a speed not
// above 0 and on an unknown material. The answer is no above the rating.
func Belt(in BeltInput) (BeltResult, error) {
	var list problem.List
	if in.Wheel.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "wheel", in.Wheel, "the wheel must be above 0"))
	}
	if in.RPM.RPM() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "rpm", in.RPM, "must be above 0"))
	}
	var m *materials.Material
	if in.Material != "" {
		found, err := materials.Find(in.Material)
		list.Add(err)
		m = found
	}
	if len(list) > 0 {
		return BeltResult{}, list
	}
	r := BeltResult{Inputs: in, Speed: SurfaceSpeed(in.RPM, in.Wheel)}
	r.PerSecond = units.Number(r.Speed.MetresPerMinute() / 60)
	if in.Rating != nil && r.Speed.MetresPerMinute() > in.Rating.MetresPerMinute() {
		r.fails.Add(problem.New(problem.OverRating, "rating", fmt.Sprintf("%.0f m/min", r.Speed.MetresPerMinute()),
			fmt.Sprintf("the belt or wheel is rated for %v at the most: do not run it", *in.Rating)))
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
	f, ok := beltSpeed(m)
	if !ok {
		return
	}
	low, high, verdict := units.MetresPerMinute(f.Low), units.MetresPerMinute(f.High), "inside"
	switch v := r.Speed.MetresPerMinute(); {
	case v < f.Low:
		verdict = "slow"
	case v > f.High:
		verdict = "fast"
		r.Warnings.Add("too-fast", "faster than suits "+m.Name+": it burns, keep the pressure light and cool it often")
	}
	ideal := SpindleSpeed(units.MetresPerMinute(f.Chosen), r.Inputs.Wheel)
	r.Low, r.High, r.Verdict, r.Ideal, r.Source, r.printed = &low, &high, &verdict, &ideal, &f.Source, f.Printed
}

// Fails implements sheet.Result.
func (r BeltResult) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r BeltResult) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Surface speed of a belt", Warnings: r.Warnings, Cautions: r.Cautions}
	s.Facts = []sheet.Fact{
		{Key: "surface_speed_m_min", Label: "surface speed", Value: speed(r.Speed), Remark: fmt.Sprintf("%.0f ft/min", r.Speed.FeetPerMinute())},
		{Key: "surface_speed_m_s", Label: "as belts are rated", Value: sheet.Num(float64(r.PerSecond), 1, "m/s")},
	}
	if r.Verdict != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "verdict", Label: "for " + r.Inputs.Material, Value: sheet.Text(*r.Verdict), Remark: fmt.Sprintf("it wants %s (%s)", r.printed, *r.Source)},
			sheet.Fact{Key: "ideal_rpm", Label: "ideal speed", Value: sheet.Num(r.Ideal.RPM(), 0, "rpm"), Remark: "of this wheel"})
	}
	s.Working = []sheet.Step{sheet.Work("v", "pi*D*n/1000", r.Speed.MetresPerMinute(), "m/min",
		sheet.Let("pi", 3.141592653589793), sheet.Let("D", r.Inputs.Wheel.MM()), sheet.Let("n", r.Inputs.RPM.RPM()))}
	return s
}
