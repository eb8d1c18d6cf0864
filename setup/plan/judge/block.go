package judge

import (
	"math"
	"slices"
)

// A block has its left front lower corner at 0, and x, y and z are 0, 1 and 2.

// sides are the faces of a block: the axis that each is square to, and whether it lies at
// its far end.
var sides = map[string]struct {
	axis int
	far  bool
}{
	"left": {0, false}, "right": {0, true}, "front": {1, false}, "back": {1, true}, "bottom": {2, false},
	"top": {2, true},
}

// across is the face on the other side.
var across = map[string]string{
	"left": "right", "right": "left", "front": "back", "back": "front", "bottom": "top", "top": "bottom",
}

// along are the two axes of a face that places on it are given along.
var along = [3][2]int{{1, 2}, {0, 2}, {0, 1}}

// boxed is a block as it stands: its size, the faces that are milled, and what was cut
// into it.
type boxed struct {
	size  [3]float64
	faces map[string]bool
	cuts  []removal
}

// hollow reports whether a cut takes away a place in a block of a size.
func (r removal) hollow(size, p [3]float64) bool {
	s, ok := sides[r.Face]
	if !ok {
		return false
	}
	deep := p[s.axis]
	if s.far {
		deep = size[s.axis] - deep
	}
	if r.Shape == "slope" {
		return r.FromX <= p[0] && p[0] <= r.ToX && deep < r.falls(size, p[0], p[1])
	}
	if r.Depth != nil && deep > *r.Depth {
		return false
	}
	u, v := p[along[s.axis][0]]-r.X, p[along[s.axis][1]]-r.Y
	if r.Length == 0 {
		return math.Hypot(u, v) < r.Dia/2
	}
	turn, half := r.Angle*math.Pi/180, (r.Length-r.Width)/2 // from the nearest point of the line between its ends
	on := math.Max(-half, math.Min(half, u*math.Cos(turn)+v*math.Sin(turn)))
	return math.Hypot(u-on*math.Cos(turn), v-on*math.Sin(turn)) < r.Width/2
}

// falls returns how far a slope lies below its face at a place: its highest corner stays.
func (r removal) falls(size [3]float64, x, y float64) float64 {
	tan := func(a float64) float64 { return math.Tan(a * math.Pi / 180) }
	rise := func(x, y float64) float64 { return x*tan(r.AlongX) + y*tan(r.AlongY) }
	high := math.Inf(-1)
	for _, cx := range []float64{r.FromX, r.ToX} {
		for _, cy := range []float64{0, size[1]} {
			high = math.Max(high, rise(cx, cy))
		}
	}
	return high - rise(x, y)
}

// solid reports whether there is metal at a place.
func (b boxed) solid(p [3]float64) bool {
	for i := range p {
		if p[i] < 0 || p[i] > b.size[i] {
			return false
		}
	}
	return !slices.ContainsFunc(b.cuts, func(r removal) bool { return r.hollow(b.size, p) })
}

// A block is looked at through a grid, and what lies on the wrong side by two of its steps
// is forgiven.
const forgiven = 2

// The least that holds a block in a vice, and what its jaws do not press in. Common
// practice, no source.
const (
	viceLength, viceHeight = 8.0, 3.0
	pressedIn              = 1.0
)

// lying is a block in a vice: which axis is upright, along the jaws and across them, and
// whether the upright one is upside down.
type lying struct {
	boxed
	up, fixed              string
	upright, jaws, between int
	step                   float64
}

func (b boxed) lying(up, fixed string) lying {
	l := lying{boxed: b, up: up, fixed: fixed, upright: sides[up].axis, between: sides[fixed].axis}
	l.jaws = 3 - l.upright - l.between
	l.step = math.Max(0.5, math.Max(b.size[0], math.Max(b.size[1], b.size[2]))/160)
	return l
}

// place returns the place so far along the jaws, across from the front one of the two, and
// above what is down.
func (l lying) place(a, c, h float64) (p [3]float64) {
	p[l.jaws], p[l.between], p[l.upright] = a, c, h
	if !sides[l.up].far {
		p[l.upright] = l.size[l.upright] - h
	}
	return p
}

// every calls do with the middles of the steps of a length.
func (l lying) every(long float64, do func(m float64)) {
	for i := 0; (float64(i)+0.5)*l.step < long; i++ {
		do((float64(i) + 0.5) * l.step)
	}
}

// presses reports whether the jaws press on the block at a place along them and a height:
// there is a wall behind each, and no fork that springs shut: nothing hollow between that
// runs out at an end and is more than half as high as the block.
func (l lying) presses(a, h float64) bool {
	wide := l.size[l.between]
	for _, in := range []float64{0.01, pressedIn / 2, pressedIn} {
		if !l.solid(l.place(a, in, h)) || !l.solid(l.place(a, wide-in, h)) {
			return false
		}
	}
	ok := true
	l.every(wide, func(c float64) {
		if ok && !l.solid(l.place(a, c, h)) && l.runsOut(a, c, h) && l.hollowOver(a, c) > l.size[l.upright]/2+l.step {
			ok = false
		}
	})
	return ok
}

// runsOut reports whether what is hollow at a place is so to an end of the jaws.
func (l lying) runsOut(a, c, h float64) bool {
	for _, way := range []float64{-l.step, l.step} {
		z := a
		for z > 0 && z < l.size[l.jaws] && !l.solid(l.place(z, c, h)) {
			z += way
		}
		if z <= 0 || z >= l.size[l.jaws] {
			return true
		}
	}
	return false
}

// hollowOver returns over how much of the height it is hollow.
func (l lying) hollowOver(a, c float64) (high float64) {
	l.every(l.size[l.upright], func(h float64) {
		if !l.solid(l.place(a, c, h)) {
			high += l.step
		}
	})
	return high
}

// top is the height along the jaws that they stand under, and the cosine of its angle.
type top struct {
	high func(a float64) float64
	cos  float64
}

// tops returns how high the jaws stand while something is cut: under what comes near one
// of them, and along a slope, on the side where it is lower.
func (l lying) tops(cuts []removal) top {
	below := l.size[l.upright]
	for _, r := range cuts {
		if r.Shape == "slope" {
			high := func(a float64) float64 {
				low := math.Inf(1)
				for _, c := range []float64{0, l.size[l.between]} {
					p := l.place(a, c, 0)
					low = math.Min(low, l.size[l.upright]-r.falls(l.size, p[0], p[1]))
				}
				return low
			}
			long := l.size[l.jaws]
			return top{high, long / math.Hypot(long, high(long)-high(0))}
		}
		below = math.Min(below, l.under(r))
	}
	return top{func(float64) float64 { return below }, 1}
}

// held returns over how much of what lies under the top the jaws press along enough of the
// length, square to it: up to what is enough.
func (l lying) held(t top) float64 {
	var rows [][]bool
	best := 0
	deep := math.Hypot(l.size[l.upright], l.size[l.jaws])
	for d := l.step / 2; d < deep && float64(best)*l.step < viceHeight; d += l.step {
		var row []bool
		l.every(l.size[l.jaws], func(a float64) {
			h := t.high(a) - d/t.cos
			row = append(row, h > 0 && h < l.size[l.upright] && l.presses(a, h))
		})
		rows = append(rows, row)
		best = max(best, l.band(rows))
	}
	return float64(best) * l.step
}

// band returns how many of the last rows are pressed on together along enough of the
// length.
func (l lying) band(rows [][]bool) (n int) {
	all := slices.Clone(rows[len(rows)-1])
	for i := len(rows) - 1; i >= 0; i-- {
		count := 0
		for k := range all {
			if all[k] = all[k] && rows[i][k]; all[k] {
				count++
			}
		}
		if float64(count+forgiven)*l.step < viceLength {
			break
		}
		n++
	}
	return n
}

// rests returns along how much of the jaws half of the width or more lies on parallels.
func (l lying) rests() (long float64) {
	l.every(l.size[l.jaws], func(a float64) {
		there, all := 0, 0
		l.every(l.size[l.between], func(c float64) {
			all++
			if l.solid(l.place(a, c, 0.01)) {
				there++
			}
		})
		if 2*there >= all-forgiven {
			long += l.step
		}
	})
	return long
}

// under returns how high the jaws may stand while something is cut: up to where it comes
// near one of them.
func (l lying) under(r removal) float64 {
	low, wide := l.size[l.upright], l.size[l.between]
	l.every(l.size[l.jaws], func(a float64) {
		l.every(l.size[l.upright], func(h float64) {
			if h >= low {
				return
			}
			for _, in := range []float64{0.01, pressedIn / 2} {
				if r.hollow(l.size, l.place(a, in, h)) || r.hollow(l.size, l.place(a, wide-in, h)) {
					low = h - l.step/2
				}
			}
		})
	})
	return low
}

// blockPart judges a block: what is owned, how it lies in the vice at every step, and that
// each feature is made as it is drawn, once.
func (j *judgement) blockPart() []Fault {
	b := boxed{faces: map[string]bool{}}
	b.size[0], b.size[1], b.size[2] = deref(j.plan.Blank.X), deref(j.plan.Blank.Y), deref(j.plan.Blank.Z)
	for _, o := range j.plan.Operations {
		j.op, j.setUp = o, j.plan.SetUps[o.SetUp-1]
		owned(j)
		dials(j)
		slotPasses(j)
		says(j)
		if j.setUp.Machine == "mill" {
			j.inVice(b)
		}
		j.reamsInto(b)
		for _, r := range o.Removes {
			b = j.cutInto(b, r)
		}
	}
	j.op = operation{}
	j.blockDone(b)
	predictions(j)
	return j.faults
}

func deref(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}

// inVice judges how the block lies at a step.
func (j *judgement) inVice(b boxed) {
	st := j.setUp.State
	up, ok := sides[st.Up]
	fixed, also := sides[st.Fixed]
	if !ok || !also || up.axis == fixed.axis {
		j.bad("form", "a block in a vice with %q up and %q against the fixed jaw", st.Up, st.Fixed)
		return
	}
	mills := false
	for _, r := range j.op.Removes {
		if len(r.Size) == 3 {
			mills, b.size = true, [3]float64(r.Size)
		}
	}
	l, down := b.lying(st.Up, st.Fixed), across[st.Up]
	tilted := st.TiltX != nil || st.TiltY != nil
	switch held := l.held(l.tops(j.op.Removes)); {
	case l.size[l.jaws] < viceLength-tiny:
		j.bad("grip-length", "%.2f mm of it lies along the jaws", l.size[l.jaws])
	case held < viceHeight-forgiven*l.step:
		j.bad("grip-length", "%.2f mm of its height is held", held)
	}
	if len(b.faces) > 0 && !b.faces[st.Fixed] {
		j.bad("grip-surface", "the %s lies against the fixed jaw as sawn", st.Fixed)
	}
	if mills {
		return
	}
	j.longEnough(b)
	j.onFlats(b, tilted)
	if lies := b.faces[down] && !tilted; lies && l.rests() < l.size[l.jaws]/2-forgiven*l.step {
		j.bad("grip-surface", "it lies on %.2f of %.2f mm", l.rests(), l.size[l.jaws])
	}
	j.onLevel(b)
}

// How far the longest drills (DIN 340, DIN 1869) and end mills (DIN 844) are fluted, by their
// diameter, from memory.
var (
	drillFlutes = []point{{1, 33}, {2, 85}, {4, 120}, {6, 140}, {8, 165}, {10, 185}, {12, 205}}
	millFlutes  = []point{{2, 10}, {4, 19}, {6, 24}, {8, 38}, {10, 45}, {12, 53}, {16, 63}, {20, 75}, {25, 90}}
)

// fluted returns how far a tool is fluted: as the next larger one in the table.
func fluted(list []point, dia float64) float64 {
	for _, p := range list {
		if dia <= p.z+0.2 { // a hole is a little wider than its drill
			return p.d
		}
	}
	return math.Inf(1)
}

// longEnough: a drill and an end mill are fluted as deep as they go, and a blind hole ends
// above the face across.
func (j *judgement) longEnough(b boxed) {
	for _, r := range j.op.Removes {
		if r.Shape != "block" || len(r.Size) > 0 {
			continue
		}
		long := b.size[sides[r.Face].axis]
		deep := long
		if r.Depth != nil {
			deep = *r.Depth
		}
		if r.Length > 0 {
			if most := fluted(millFlutes, r.Width); deep > most+tiny {
				j.bad("tool-side", "%.2f deep with an end mill of %.2f, fluted for %.2f", deep, r.Width, most)
			}
			continue
		}
		tip := deep + 0.3*r.Dia // of a point of 118 deg
		if most := fluted(drillFlutes, r.Dia); tip > most+1 {
			j.bad("tool-side", "%.2f deep with a drill of %.2f, fluted for %.2f", tip, r.Dia, most)
		}
		half := slices.ContainsFunc(j.in("block").nodes("holes"), func(h node) bool {
			drawn := j.drawnCut("hole", h)
			return drawn.Depth == nil && math.Abs(drawn.X-r.X) < 1 && math.Abs(drawn.Y-r.Y) < 1 &&
				(drawn.Face == r.Face || drawn.Face == across[r.Face])
		})
		if r.Depth != nil && !half && tip > long-1e-3-0.01*r.Dia {
			j.bad("gouge", "a blind hole %.2f deep with its point goes through %.2f", tip, long)
		}
	}
}

// onFlats: what is cut into a block is measured from milled faces and held on them. A
// block may be stood up by a square instead of on a milled end.
func (j *judgement) onFlats(b boxed, tilted bool) {
	st := j.setUp.State
	wanted := []string{st.Up, st.Fixed, across[st.Fixed]}
	for _, datum := range []string{"left", "front", "bottom"} {
		if sides[datum].axis != sides[st.Up].axis {
			wanted = append(wanted, datum)
		}
	}
	if !tilted && st.Up != "left" {
		wanted = append(wanted, across[st.Up])
	}
	for _, face := range wanted {
		if !b.faces[face] {
			j.bad("grip-surface", "it is cut from the %s, and the %s is as sawn", st.Up, face)
		}
	}
}

// onLevel: a drill starts on a level face.
func (j *judgement) onLevel(b boxed) {
	if j.op.Kind != "spot" && j.op.Kind != "drill" {
		return
	}
	for i, h := range j.in("block").nodes("holes") {
		place, id := h.list("at"), numbered("hole", i)
		if !isWord(j.op.ID, id+"-spot", id+"-drill", id+"-far-spot", id+"-far-drill") || len(place) != 2 {
			continue
		}
		u, _ := length(place[0], j.unit)
		v, _ := length(place[1], j.unit)
		var p [3]float64
		s := sides[j.setUp.State.Up]
		p[along[s.axis][0]], p[along[s.axis][1]], p[s.axis] = u, v, 0.001
		if s.far {
			p[s.axis] = b.size[s.axis] - 0.001
		}
		for _, r := range b.cuts {
			if r.Shape == "slope" && r.Face == j.setUp.State.Up && r.hollow(b.size, p) {
				j.bad("tool-side", "it is drilled on a slope")
			}
		}
	}
}

// cutInto returns the block after a cut: a face that is milled makes it less along that
// face's axis alone, and what is cut into it comes from the face that is up, or through.
func (j *judgement) cutInto(b boxed, r removal) boxed {
	st := j.setUp.State
	next := boxed{b.size, map[string]bool{}, slices.Clone(b.cuts)}
	for f := range b.faces {
		next.faces[f] = true
	}
	if len(r.Size) == 3 {
		for i := range b.size {
			less := b.size[i] - r.Size[i]
			if i == sides[r.Face].axis && less <= 0 || i != sides[r.Face].axis && math.Abs(less) > tiny {
				j.bad("gouge", "the %s is milled, and along %c it goes from %.2f to %.2f", r.Face, "xyz"[i], b.size[i], r.Size[i])
			}
		}
		if b.faces[r.Face] || st.Up != r.Face {
			j.bad("complete", "the %s is milled with the %s up, and was milled before: %v", r.Face, st.Up, b.faces[r.Face])
		}
		next.size, next.faces[r.Face] = [3]float64(r.Size), true
		return next
	}
	through := r.Shape != "slope" && r.Depth == nil
	if st.Up != r.Face && (!through || st.Up != across[r.Face]) {
		j.bad("tool-side", "it is cut into the %s, and the %s is up", r.Face, st.Up)
	}
	if r.Shape == "slope" {
		j.tilted(r)
	}
	next.cuts = append(next.cuts, r)
	return next
}

// tilted: a slope lies level under the cutter: tilted along x by its own angle, and then
// along y by less, since it is turned about what is tilted already. The jaws are open
// along the plane that it is tilted in first.
//
//	tan Y = tan second / cos first
func (j *judgement) tilted(r removal) {
	const told = 0.01
	st := j.setUp.State
	first, second := deref(st.TiltX), deref(st.TiltY)
	y := math.Atan(math.Tan(second*math.Pi/180)/math.Cos(first*math.Pi/180)) * 180 / math.Pi
	if math.Abs(first-r.AlongX) > told || math.Abs(y-r.AlongY) > told {
		j.bad("setting", "tilted %.3f and %.3f deg for a slope of %.3f and %.3f", first, second, r.AlongX, r.AlongY)
	}
	if first != 0 && sides[st.Fixed].axis != 1 {
		j.bad("setting", "tilted along x, and the %s lies against the fixed jaw", st.Fixed)
	}
}

// reamsInto: what is reamed was drilled there, a millimetre narrower at the most, and goes through or as
// much deeper as the reamer's lead is long, neither less nor more; and the reamer goes so deep.
func (j *judgement) reamsInto(b boxed) {
	for _, r := range j.op.Removes {
		if j.op.Kind != "ream" {
			continue
		}
		if !slices.ContainsFunc(b.cuts, func(p removal) bool { return p.under(r) }) {
			j.bad("complete", "a hole of %.2f is reamed, and none is drilled there for it", r.Dia)
		}
		if r.Depth == nil {
			continue
		}
		if is, said := j.deepSet(); !said || math.Abs(is-*r.Depth-reamerLead) > 0.01 {
			j.bad("complete", "a blind one of %.2f is reamed %.2f deep: its size is wanted to %.2f less", r.Dia, is, reamerLead)
		}
	}
}

// under reports whether a hole is what is drilled for one that is reamed.
func (r removal) under(reamed removal) bool {
	switch {
	case r.Shape != "block" || len(r.Size) > 0 || r.Length > 0 || r.Face != reamed.Face:
		return false
	case (r.Depth == nil) != (reamed.Depth == nil) || r.Depth != nil && math.Abs(*r.Depth-*reamed.Depth-reamerLead) > 0.01:
		return false
	}
	return near(r.X, reamed.X) && near(r.Y, reamed.Y) && r.Dia < reamed.Dia && reamed.Dia-1 < r.Dia
}

// blockDone: at the end the block is as it is drawn: its size, and each feature once.
func (j *judgement) blockDone(b boxed) {
	want := j.in("block")
	for i, v := range want.list("size") {
		drawn, _ := length(v, j.unit)
		if i < 3 && math.Abs(b.size[i]-drawn) > linear(j.general, drawn)+tiny {
			j.bad("complete", "%.3f along %c, and %.3f is drawn", b.size[i], "xyz"[i], drawn)
		}
	}
	for f := range sides {
		if !b.faces[f] {
			j.bad("complete", "the %s is as sawn", f)
		}
	}
	left := slices.DeleteFunc(slices.Clone(b.cuts), func(r removal) bool { // a reamer took its wall
		return slices.ContainsFunc(b.cuts, func(x removal) bool { return r.under(x) })
	})
	for word, key := range map[string]string{"hole": "holes", "slot": "slots", "slope": "slopes"} {
		for i, n := range want.nodes(key) {
			id := numbered(word, i)
			drawn := j.drawnCut(word, n)
			at := slices.IndexFunc(left, func(r removal) bool { return j.alike(r, drawn, b.size) })
			if near, far := j.halves(left, drawn, b.size); at < 0 && far >= 0 {
				left = slices.Delete(left, max(near, far), max(near, far)+1)
				at = min(near, far)
			}
			if at < 0 {
				j.bad("complete", "%s is not cut as it is drawn", id)
				continue
			}
			left = slices.Delete(left, at, at+1)
			j.madeOnce(id)
		}
	}
	for _, r := range left {
		j.bad("gouge", "a %s into the %s that nobody drew", r.Shape, r.Face)
	}
}

// halves returns the two holes or slots from faces across from each other that make one
// through the block where they meet, or -1.
func (j *judgement) halves(list []removal, drawn removal, size [3]float64) (near, far int) {
	half := func(face string) int {
		want := drawn
		want.Face = face
		return slices.IndexFunc(list, func(r removal) bool {
			want.Depth = r.Depth
			return r.Depth != nil && j.alike(r, want, size)
		})
	}
	near, far = half(drawn.Face), half(across[drawn.Face])
	if drawn.Depth != nil || drawn.Shape != "block" || near < 0 || far < 0 ||
		*list[near].Depth+*list[far].Depth < size[sides[drawn.Face].axis]-tiny {
		return -1, -1
	}
	return near, far
}

// madeOnce: one operation makes a feature; the tap finishes a hole that is drilled.
func (j *judgement) madeOnce(id string) {
	made := 0
	for _, o := range j.plan.Operations {
		if slices.Contains(o.Makes, id) && o.Kind != "tap" && o.Kind != "thread" {
			made++
		}
	}
	if made != 1 {
		j.bad("complete", "%s is made by %d operations", id, made)
	}
}

// drawnCut returns what the part file draws as it would be removed.
func (j *judgement) drawnCut(word string, n node) removal {
	r := removal{Shape: "block", Face: n.text("face"), Dia: n.mm("dia"), Length: n.mm("length"), Width: n.mm("width")}
	if r.Face == "" {
		r.Face = "top"
	}
	if d, ok := n.length("depth"); ok {
		r.Depth = &d
	}
	if p := n.list("at"); len(p) == 2 {
		r.X, _ = length(p[0], n.unit)
		r.Y, _ = length(p[1], n.unit)
	}
	r.Angle, _ = degrees(n.tree["angle"])
	if word == "slope" {
		r.Shape, r.FromX, r.ToX = "slope", n.mm("from_x"), n.mm("to_x")
		r.AlongX, _ = degrees(n.tree["along_x"])
		r.AlongY, _ = degrees(n.tree["along_y"])
	}
	return r
}

// alike reports whether what is cut is what is drawn, within the general limits.
func (j *judgement) alike(r, drawn removal, size [3]float64) bool {
	if r.Shape != drawn.Shape || r.Face != drawn.Face || (r.Depth == nil) != (drawn.Depth == nil) {
		return false
	}
	if r.Shape == "slope" {
		return j.alikeSlope(r, drawn, size)
	}
	if r.Depth != nil && !j.within(*r.Depth, *drawn.Depth) || (r.Length == 0) != (drawn.Length == 0) {
		return false
	}
	if !j.within(r.X, drawn.X) || !j.within(r.Y, drawn.Y) || math.Abs(r.Angle-drawn.Angle) > 1e-3 {
		return false
	}
	if r.Length == 0 {
		return math.Abs(r.Dia-drawn.Dia) < 1 // its limits are told
	}
	return j.within(r.Length, drawn.Length) && j.within(r.Width, drawn.Width)
}

// alikeSlope compares the heights of a slope's corners.
func (j *judgement) alikeSlope(r, drawn removal, size [3]float64) bool {
	for _, x := range []float64{drawn.FromX, drawn.ToX} {
		for _, y := range []float64{0, size[1]} {
			if !j.within(size[2]-r.falls(size, x, y), size[2]-drawn.falls(size, x, y)) {
				return false
			}
		}
	}
	return j.within(r.FromX, drawn.FromX) && j.within(r.ToX, drawn.ToX)
}

// within reports whether a size is within the general limits of another.
func (j *judgement) within(is, drawn float64) bool {
	return math.Abs(is-drawn) <= linear(j.general, drawn)+tiny
}
