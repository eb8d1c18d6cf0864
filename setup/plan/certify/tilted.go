package certify

import (
	"math"

	"setover/setup/maker/part"
	"setover/setup/plan/work"
)

// plane is a slope between the jaws, which stand parallel to it: how high it lies above the
// block's face that is down at the two ends of the jaws, on the side where it is lower, and
// the cosine of its angle.
//
//	t = (h(z) - h) cos a
//
// is how far a height h lies below it at z along the jaws, square to it.
type plane struct {
	left, right, long work.Len
	cos               float64
}

// falls returns how far a slope lies below its face at z along the jaws, on the side where
// that is more.
func (v InVice) falls(s work.Slope, z work.Len) work.Len {
	along, _ := v.lies()
	_, _, across := v.Fixed.Axes()
	fall := func(c work.Len) work.Len {
		at := [3]work.Len{}
		at[along], at[across] = z, c
		return s.Fall(v.Block, at[part.AlongX], at[part.AlongY])
	}
	return max(fall(0), fall(v.Size[across]))
}

// plane returns the plane of a slope.
func (v InVice) plane(s work.Slope) plane {
	p := plane{left: v.High() - v.falls(s, 0), right: v.High() - v.falls(s, v.Length()), long: v.Length()}
	p.cos = math.Cos(math.Atan2((p.right - p.left).MM(), p.long.MM()))
	return p
}

// hollow is what the jaws do not press on: from z to z along them, over a band under the
// plane.
type hollow struct{ z, t work.Span }

// hollows returns what was cut before: the box round it, but of a slope of the face that is
// down what is under it.
func (v InVice) hollows(p plane) (list []hollow) {
	along, _ := v.lies()
	for _, r := range v.Cut {
		x, ok := v.Around(r)
		if !ok || !v.pressed(x) {
			continue
		}
		h, z := v.heights(x), work.Span{From: x.From[along], To: x.To[along]}
		above := [2]work.Len{h.To, h.To}
		if s, ok := r.(work.Slope); ok && s.Face == v.Up.Opposite() {
			above = [2]work.Len{v.falls(s, z.From), v.falls(s, z.To)}
		}
		list = append(list, hollow{z, work.Span{
			From: min(p.under(z.From, above[0]), p.under(z.To, above[1])),
			To:   max(p.under(z.From, h.From), p.under(z.To, h.From)),
		}})
	}
	return list
}

// under returns how far a height lies below the plane.
func (p plane) under(z, h work.Len) work.Len {
	above := p.left.MM() + (p.right-p.left).MM()*z.MM()/p.long.MM()
	return work.Float((above - h.MM()) * p.cos)
}

// less returns where a line from a to b over the jaws lies under c.
func (p plane) less(a, b, c work.Len) (list []work.Span) {
	whole := work.Span{From: 0, To: p.long}
	if a >= c && b >= c {
		return nil
	}
	if a < c && b < c {
		return []work.Span{whole}
	}
	cross := work.Float(p.long.MM() * (c - a).MM() / (b - a).MM())
	if a < c {
		whole.To = cross
	} else {
		whole.From = cross
	}
	return []work.Span{whole}
}

// beyond returns where along the jaws a band under the plane is not within the block:
// lower than its bottom, or above its top where the plane has left it.
func (v InVice) beyond(p plane, band work.Span) []work.Span {
	low := p.less(p.under(0, 0), p.under(p.long, 0), band.To)
	return append(low, p.less(-p.under(0, v.High()), -p.under(p.long, v.High()), -band.From)...)
}

// bandStep is in what steps bands under a slope are tried: half a millimetre.
const bandStep = work.MM / 2

// heldUnder returns over how much of a band under a plane the jaws press, along enough of
// their length: see Held.
func (v InVice) heldUnder(p plane, least work.Len) (best work.Len) {
	gone := v.hollows(p)
	starts := []work.Len{0, p.under(0, v.High()), p.under(p.long, v.High())}
	for _, g := range gone {
		starts = append(starts, g.t.To)
	}
	deepest := max(p.under(0, 0), p.under(p.long, 0))
	for _, from := range starts {
		for band := (work.Span{From: from, To: from + bandStep}); from >= 0 && band.To <= deepest; band.To += bandStep {
			spans := v.beyond(p, band)
			for _, g := range gone {
				if g.t.Overlaps(band) {
					spans = append(spans, g.z)
				}
			}
			if free(p.long, spans) < least {
				break
			}
			best = max(best, band.Length())
		}
	}
	return best
}
