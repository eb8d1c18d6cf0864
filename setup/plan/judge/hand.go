package judge

import (
	"math"
	"slices"

	"setover/setup/book/materials"
)

// byHand (hand): an end that is filed flat at the bench is a small one: 20 mm, and 40 mm of
// what a file takes easily; common practice, no source.
func byHand(j *judgement) {
	j.fileRoom()
	if j.op.Tool.Name != "file" || j.op.Kind != "face" {
		return
	}
	most := 20.0
	m, err := materials.Find(j.material)
	if err == nil && isWord(string(m.Group), "plastic", "wood") {
		most = 40
	}
	for _, r := range j.op.Removes {
		if r.Shape != "end" {
			continue
		}
		inside := r.Z + 0.01
		if r.End == "right" {
			inside = r.Z - 0.01
		}
		if d := j.work.diaAt(inside); d > most+0.01 {
			j.bad("hand", "an end of %.2f is filed flat by hand", d)
		}
	}
}

// fileRoom (hand): what is filed while it turns stands clear of the jaws by 10 mm: common practice, no
// source.
func (j *judgement) fileRoom() {
	f := j.setUp.JawFace
	if !j.op.filed() || j.setUp.Machine != "lathe" || f == nil {
		return
	}
	for _, r := range j.op.Removes {
		if r.Shape != "outside" {
			continue
		}
		for _, p := range points(r.Profile) {
			if room := (p.z - *f) * j.setUp.way(); room < 10-tiny {
				j.bad("hand", "filed %.2f from the jaws", room)
				return
			}
		}
	}
}

// leavesForFile (start-size): what a file brings to its size at the lathe finds enough: no cut before it over
// any of its length, one that only runs in there with it, is set to what as it is told could be under the
// least that is drawn.
func leavesForFile(j *judgement) {
	relief := slices.Contains(j.op.Allowed, any("thread-relief"))
	if j.setUp.Machine != "lathe" || j.op.Kind != "turn" || j.op.filed() || relief {
		return
	}
	for _, later := range j.plan.Operations {
		if later.N <= j.op.N || !later.filed() || j.plan.SetUps[later.SetUp-1].Machine != "lathe" {
			continue
		}
		for _, f := range later.Removes {
			for _, c := range j.op.Removes {
				if f.Shape == "outside" && c.Shape == "outside" {
					j.leavesOver(points(f.Profile), points(c.Profile), later.N)
				}
			}
		}
	}
}

// leavesOver looks at the places that a cut and a file after it have in common.
func (j *judgement) leavesOver(file, cut []point, n int) {
	from, to := math.Max(file[0].z, cut[0].z), math.Min(file[len(file)-1].z, cut[len(cut)-1].z)
	if to-from < 0.01 {
		return
	}
	told := j.toldBy(j.op)
	for _, f := range []float64{0.02, 0.25, 0.5, 0.75, 0.98} {
		z := from + (to-from)*f
		low, _ := j.bounds(z)
		if d := alongAfter(cut, z); d-told < low-tiny {
			j.bad("start-size", "cut to %.4f at z %.2f, told to %.4f, and step %d files it to %.4f at the least", d, z,
				told, n, low)
			return
		}
	}
}

// filed reports whether a step is done by a file.
func (o operation) filed() bool { return o.Tool.Hand != nil && *o.Tool.Hand == "file" }
