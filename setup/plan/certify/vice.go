package certify

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// inVice: a block is held over enough of its length and of what is left of its
// height below the cut. How far a vice opens is not in the shop's file.
//
// It is held on two of its faces, from its base up: what a slope or an open slot
// takes off it there holds nothing. A slot is open to a side where less than the
// least wall is left beside it: the jaws would press that in.
func inVice(k *checker) {
	s, box := k.Op.Setup, k.After.Box
	if s.Device != op.Vice || s.Machine != op.MillMachine || box == nil {
		return
	}
	k.missing("mill.vice")
	along, high := box.Size[0], box.Size[2]
	switch s.State.Up {
	case op.SideUp:
		high = box.Size[1]
	case op.EndUp:
		along, high = box.Size[2], box.Size[0]
	}
	held := high
	for _, r := range k.Op.Removes {
		held = min(held, high-k.opens(r))
	}
	other := func() say.Text {
		return "clamp it to the table or stick it to a plate, or leave it longer and cut that off last"
	}
	k.atLeast(problem.GripLength, along, k.gripLeast, "of its length in the vice's jaws", true, other)
	k.atLeast(problem.GripLength, held, k.viceHold, "of its height is left for the vice's jaws", false, other)
}

// opens returns how far down from the top a removal takes away what the jaws hold.
func (k *checker) opens(r work.Removal) work.Len {
	size := k.After.Box.Size
	switch r := r.(type) {
	case work.Slope:
		run := (r.ToX - r.FromX).MM()
		return work.Float(run*math.Abs(tan(r.AlongX)) + size[1].MM()*math.Abs(tan(r.AlongY)))
	case work.BlockSlot:
		half := (r.Length-r.Width).MM()/2*math.Abs(sin(r.Angle)) + r.Width.MM()/2
		wall := min(r.Y, size[1]-r.Y) - work.Float(half)
		if wall >= op.LenOf(practice.LeastWall.Length(k.Material)) {
			return 0
		}
		if r.Depth == nil {
			return size[2]
		}
		return *r.Depth
	}
	return 0
}

func tan(d work.Deg) float64 { return units.Degrees(float64(d) / 1e6).Tan() }
func sin(d work.Deg) float64 { return units.Degrees(float64(d) / 1e6).Sin() }
