package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// sawnOff returns the ways in which all of the outside is cut with one end out, the
// part is sawn off the bar and its other end is faced, held on each cylinder there is.
// None is where the end that is sawn is too thin to carry the rest.
func (j *job) sawnOff(first part.End) []way {
	var list []way
	if j.thin(other(first)) {
		return nil
	}
	for i := range j.shape.Stretches {
		w := way{first: first, grip: i, sawn: true}
		w.in[1] = j.gripOf(i, op.Collet, op.SoftJaws)
		if w.in[1] != "" && j.reaches(w) {
			list = append(list, w)
		}
	}
	if _, ok := j.filled(); ok {
		if w := (way{first: first, grip: inBore, sawn: true}); j.reaches(w) {
			list = append(list, w)
		}
	}
	return list
}

// failsToPart reports whether it cannot be cut off the bar as it is planned.
func (d *attempt) failsToPart() bool {
	return slices.ContainsFunc(d.ops, func(o *op.Op) bool {
		return o.ID == partingOff && slices.ContainsFunc(o.Checks, func(c op.Check) bool { return !c.OK })
	})
}

// inGroove returns the way in which it is sawn off the bar in a groove, where the end is too thick there
// to be filed flat: what is roughed past it goes by what is thickest before it.
func (w way) inGroove(d *attempt) []way {
	thick := slices.ContainsFunc(d.ops, func(o *op.Op) bool {
		return o.ID == filingOff(other(d.first)) && o.Fails(problem.NotReachable)
	})
	if !w.filed || w.necked || !thick {
		return nil
	}
	w.necked = true
	return []way{w}
}

// lastResorts returns the ways that are tried where no other passes: it is sawn off the
// bar in the place of parted, or at the bench and the end filed flat, where that is a small
// one, in a groove where the bar is thicker past it, or parted on a neck where it is bored with
// a long drill. To file it costs no set-up more than to face it, so that it would be taken too
// often: an end that is filed is not as square, which no limit says.
func (j *job) lastResorts() []way {
	var list []way
	for _, first := range []part.End{part.Left, part.Right} {
		if j.startsAll(first) {
			if j.endDia(other(first)).Cmp(practice.FileEndMost.Length(j.material)) <= 0 {
				list = append(list, way{first: first, grip: offBar, filed: true})
			}
			if j.Shop.Parting != nil {
				list = append(list, way{first: first, grip: offBar, necked: true})
			}
			list = append(list, j.sawnOff(first)...)
		}
	}
	return list
}
