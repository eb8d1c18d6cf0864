package judge

import (
	"math"
)

// setting: a taper is cut at the angle that its set-up names. The compound's
// setting is the number on the scale for that angle, from a zero along the
// spindle or across it; at the nearest mark it is a mark, by eye between marks a
// quarter of one. A tailstock's offset is the length between the centres times
// the tangent, and is what the tailstock goes.
func angles(j *judgement) {
	st := j.setUp.State
	if j.setUp.Machine != "lathe" {
		return
	}
	for _, r := range j.op.Removes {
		if r.Shape != "outside" || !isWord(j.op.Kind, "taper") {
			continue
		}
		half := steepest(points(r.Profile))
		switch {
		case st.Compound != nil:
			j.compound(half)
		case st.Offset != nil:
			j.offset(half)
		}
	}
}

// steepest returns the half angle of a profile's taper in degrees.
func steepest(p []point) float64 {
	most := 0.0
	for i := 0; i+1 < len(p); i++ {
		if dz := p[i+1].z - p[i].z; dz > tiny {
			most = math.Max(most, math.Atan(math.Abs(p[i+1].d-p[i].d)/2/dz)*180/math.Pi)
		}
	}
	return most
}

func (j *judgement) compound(half float64) {
	st := j.setUp.State
	if math.Abs(math.Abs(*st.Compound)-half) > 0.02 {
		j.bad("setting", "the compound stands at %.3f deg, and the taper that is cut is %.3f", *st.Compound, half)
	}
	reading, ok := j.op.value("compound")
	if !ok {
		j.bad("setting", "the compound's reading is not told")
		return
	}
	near := math.Inf(1)
	for _, may := range []float64{half, 90 - half, 90 + half, 180 - half} {
		near = math.Min(near, math.Abs(math.Abs(reading)-may))
	}
	if near > 0.03 {
		j.bad("setting", "the compound reads %.3f for a half angle of %.3f", reading, half)
	}
	scale := j.shop.lathe.in("compound").in("scale")
	step, ok := degrees(scale.tree["step"])
	if st.Method == "between-marks" {
		step /= 4
	}
	if !ok || !isWord(st.Method, "mark", "between-marks") {
		return
	}
	if marks := reading / step; math.Abs(marks-math.Round(marks)) > 1e-3 {
		j.bad("setting", "the compound reads %.4f, which is no mark of %.3f", reading, step)
	}
}

func (j *judgement) offset(half float64) {
	long := j.work.right() - j.work.left()
	got, want := math.Abs(*j.setUp.State.Offset), long*math.Tan(rad(half))
	if math.Abs(got-want) > 0.02*long/100+0.1 {
		j.bad("setting", "the tailstock is set over %.3f, and %.1f mm at %.3f deg are %.3f", got, long, half, want)
	}
	over := j.shop.lathe.in("tailstock").in("setover")
	if most := math.Max(over.mm("toward"), over.mm("away")); got > most+tiny {
		j.bad("setting", "the tailstock is set over %.3f, and it goes %.3f", got, most)
	}
}
