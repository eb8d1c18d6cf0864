package judge

import "setover/setup/book/materials"

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
	if j.op.Tool.Hand == nil || *j.op.Tool.Hand != "file" || j.setUp.Machine != "lathe" || f == nil {
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
