package judge

import (
	"math"
	"strings"
)

// toolSide: between where the tool comes from and the cut nothing stands
// higher than its edges allow. A right-hand tool trails toward the tailstock, a
// left-hand one toward the headstock, a neutral one both ways. Behind the tip
// the work lies under a line at the trailing angle less 2 deg, and further off,
// as far as the post goes, under the holder.
func toolSide(j *judgement) {
	if j.setUp.Machine != "lathe" {
		return
	}
	j.passesOver()
	cuts := j.cuts()
	if len(cuts) == 0 {
		return
	}
	if j.op.Tool.Hand == nil {
		j.bad("tool-side", "an outside is cut with a %s, and its hand is null", j.op.Tool.Name)
		return
	}
	hand := *j.op.Tool.Hand
	after := j.work.clone()
	for _, r := range j.op.Removes {
		if r.Shape == "outside" {
			after.turn(points(r.Profile))
		}
	}
	if hand == "form" {
		if j.op.Tool.Trail == nil {
			j.straightIn(after)
			return
		}
		hand = "neutral" // it is ground to a point, and fed along a slope or an arc
	}
	way := j.setUp.way()
	for _, c := range cuts {
		if isWord(hand, "right", "neutral") && !j.trails(after, c, hand, way) {
			return
		}
		if isWord(hand, "left", "neutral") && !j.trails(after, c, hand, -way) {
			return
		}
	}
	j.underPost(after, cuts, hand)
}

// underPost (tool-side): what rises beside the holder passes under the post, on the side of
// it where that is: the one that is said, or where none is said on one of the two.
func (j *judgement) underPost(after *work, cuts []place, hand string) {
	c, v, tail := j.meetsPost(after, cuts, hand, 1)
	_, _, head := j.meetsPost(after, cuts, hand, -1)
	if said := j.setUp.State.Arrangement["post_side"] != nil; tail && head || said && (tail || head) {
		j.bad("tool-side", "a %s tool at z %.2f, %.3f in diameter: the post meets %.3f at z %.2f",
			hand, c.z, c.after, v.d, v.z)
	}
}

// meetsPost looks for what is in the way of a post that stands on the side of its holder
// toward the tailstock, or toward the headstock where tail is -1.
func (j *judgement) meetsPost(after *work, cuts []place, hand string, tail float64) (place, point, bool) {
	post, way := j.shop.lathe.in("tool_post"), tail*j.setUp.way()
	wide, over := post.or("holder_width", 16), post.or("overhang", 20)
	if v, is := j.setUp.State.Arrangement["overhang_mm"].(float64); is {
		over = v
	}
	near := wide
	switch {
	case hand == "neutral":
		near /= 2
	case hand == "right" && tail < 0, hand == "left" && tail > 0:
		near = 0
	}
	far := near + j.postBehind(tail, post.or("size", 60), wide)
	for _, c := range cuts {
		for _, v := range after.behind(c.z, wide, way) {
			t := (v.z - c.z) * way
			if beside := t > near+tiny && t < far-tiny; beside && (v.d-c.after)/2 > over+joint {
				return c, v, true
			}
		}
	}
	return place{}, point{}, false
}

// passesOver (tool-side): a die goes on over all that stands between the end and its
// thread.
func (j *judgement) passesOver() {
	for _, r := range j.op.Removes {
		if r.Shape != "thread" || r.Inside || !strings.HasPrefix(j.op.Tool.Name, "die ") {
			continue
		}
		t := threadOf(r)
		before := j.work.largest(r.ToZ, math.Inf(1))
		if j.setUp.way() < 0 {
			before = j.work.largest(math.Inf(-1), r.FromZ)
		}
		if t.known && before > t.size.major+0.35 {
			j.bad("tool-side", "a die for %s goes on over %.2f", r.Spec, before)
		}
	}
}

// straightIn (tool-side): a tool that goes straight in is no deeper between the walls
// than half of what is parted, nor than 8 times the width of what it cuts, in an arc of
// the blade: common practice, no source.
func (j *judgement) straightIn(after *work) {
	_, most, _, _ := j.shop.blade()
	_, arc := j.plungesBlade()
	var run []point // the floor of one cut, from left to right
	ask := func() {
		if len(run) == 0 {
			return
		}
		a, b, low := run[0].z, run[len(run)-1].z, math.Inf(1)
		for _, v := range run {
			low = math.Min(low, v.d)
		}
		walls := math.Min(after.largest(math.Inf(-1), a), after.largest(b, math.Inf(1)))
		deep := (math.Max(walls, j.work.largest(a, b)) - low) / 2
		wide := b - a
		if j.op.Kind == "chamfer" { // its corner cuts, and the gap is what it goes into
			low, high := a, b
			for low > after.left() && after.largest(low-0.1, b) <= j.work.largest(a, b)+0.01 {
				low -= 0.1
			}
			for high < after.right() && after.largest(a, high+0.1) <= j.work.largest(a, b)+0.01 {
				high += 0.1
			}
			wide = high - low
		}
		if arc { // the blade alone is in it
			wide = j.bladeIn(wide, deep)
		}
		if deep > most/2+0.01 || deep > 8*wide+0.01 {
			j.bad("tool-side", "straight in %.2f deep over %.2f, z %.2f to %.2f", deep, b-a, a, b)
		}
		run = nil
	}
	for _, p := range after.outside {
		for _, old := range j.work.over(p.a, p.b) {
			if old.da+old.db-p.dia(old.a)-p.dia(old.b) < 2e-4 {
				ask()
				continue
			}
			run = append(run, point{old.a, p.dia(old.a)}, point{old.b, p.dia(old.b)})
		}
	}
	ask()
}

// bladeIn (tool-side) returns how wide a blade is in an arc so wide, and asks whether it reaches so deep.
func (j *judgement) bladeIn(wide, deep float64) float64 {
	blade, _, reach, owned := j.shop.blade()
	if !owned {
		blade = usualBlade
	}
	if reach > 0 && deep > reach+0.01 {
		j.bad("tool-side", "straight in %.2f deep with a blade that reaches %.2f", deep, reach)
	}
	return math.Min(wide, blade)
}

// usualTrail is the trailing angle of a turning tool that the file does not
// list: common practice, no source.
const usualTrail = 8

// joint is the step that two stretches within their limits may leave, in mm on
// the radius.
const joint = 0.05

// grazed is how far over its line an edge takes what is to go anyway, in mm on the
// radius: what roughing leaves, a side.
const grazed = 0.2

// postTurned returns what a turned post adds to a hand's trailing angle:
// clockwise seen from above opens a right-hand tool's and closes a left-hand
// one's.
func (j *judgement) postTurned(hand string) float64 {
	a := j.setUp.State.Arrangement
	turned, _ := a["post_turned_deg"].(float64)
	if a["post_turn"] == "with-slide" && j.setUp.State.Compound != nil {
		turned = j.growth() * math.Abs(*j.setUp.State.Compound)
	}
	switch hand {
	case "right":
		return turned
	case "left":
		return -turned
	}
	return 0
}

// postBehind returns how far the post goes on behind the holder toward the tailstock, or
// toward the headstock where toward is -1: not at all where the holder hangs on that side of
// it, half of what it is wider where it hangs on the front, all of it where it hangs on the
// other or that is not said.
func (j *judgement) postBehind(toward, size, wide float64) float64 {
	side, _ := j.setUp.State.Arrangement["post_side"].(string)
	switch {
	case toward > 0 && side == "tailstock", toward < 0 && side == "headstock":
		return 0
	case side == "front":
		return (size - wide) / 2
	}
	return size
}

// growth is +1 where the taper of a step grows toward the tailstock, and the
// slide is swung clockwise for it, -1 where it shrinks.
func (j *judgement) growth() float64 {
	for _, r := range j.op.Removes {
		if p := points(r.Profile); len(p) > 1 {
			if (p[len(p)-1].d-p[0].d)*j.setUp.way() > 0 {
				return 1
			}
			return -1
		}
	}
	return 0
}

// trails looks behind the tip at one place, toward way.
func (j *judgement) trails(after *work, c place, hand string, way float64) bool {
	trail, ok := j.shop.trail(hand)
	if !ok {
		trail = usualTrail
		if hand == "neutral" {
			trail = 30
		}
	}
	if t := j.op.Tool.Trail; t != nil {
		most := 60.0 // a point of 30 deg, square on its other side: common practice, no source
		if hand == "neutral" {
			most = 75 // the same point, in the middle
		}
		trail = math.Min(*t, most)
	}
	post := j.shop.lathe.in("tool_post")
	wide := post.or("holder_width", 16)
	if hand == "neutral" { // the tip is in the middle
		wide /= 2
	}
	rise := math.Tan(rad(trail - 2 + j.postTurned(hand)))
	for _, v := range after.behind(c.z, wide, way) {
		t, r := (v.z-c.z)*way, (v.d-c.after)/2
		if t > wide {
			continue // under the post, or past it
		}
		limit := t * rise
		graze := grazed
		if t < 2 && isWord(j.op.Kind, "taper", "curve") { // in passes, with 2 mm of the edge
			graze = math.Max(graze, 2*math.Sin(rad(trail)))
		}
		if r <= limit+joint || r <= math.Max(0.35, limit+graze+joint) && j.stillToCut(v) {
			continue
		}
		j.bad("tool-side", "a %s tool at z %.2f, %.3f in diameter: behind it %.3f stands at z %.2f",
			hand, c.z, c.after, v.d, v.z)
		return false
	}
	return true
}

// behind returns the places of the outside that lie behind a tip: the corners,
// and points of the slopes over the tool's own width.
func (w *work) behind(z, wide, way float64) []point {
	var all []point
	for _, p := range w.outside {
		if (p.a+p.b-2*z)*way < -tiny {
			continue
		}
		for _, v := range []point{{p.a, p.da}, {p.b, p.db}} {
			if (v.z-z)*way > -tiny {
				all = append(all, v)
			}
		}
	}
	for _, part := range []float64{0.1, 0.5, 1} {
		if at := z + way*wide*part; at > w.left() && at < w.right() {
			all = append(all, point{at, w.diaAt(at)})
		}
	}
	return all
}

// stillToCut reports whether an outline stands over the drawing at a place, and
// so is not a shoulder but what is left for later.
func (j *judgement) stillToCut(v point) bool {
	return v.z <= 0 || v.z >= j.length ||
		v.d > math.Max(alongAfter(j.outline, v.z), alongBefore(j.outline, v.z))+0.1
}

// shoulder: a thread that ends at a shoulder, or at the jaws, has room for its run-out there, as
// a relief or as plain work for a die, or is cut away from it; an inside one
// has it before the floor. A die wants three pitches, or is turned round and has a groove up to the
// shoulder; a single point begins where nothing stands over the root, d - 1.226869·P (ISO 724).
func shoulder(j *judgement) {
	for _, r := range j.op.Removes {
		if r.Shape != "thread" {
			continue
		}
		t := threadOf(r)
		if !t.known {
			continue
		}
		way := -j.setUp.way() // toward the headstock
		if r.Toward == "tailstock" {
			way = -way
		}
		room := j.roomBeyond(t, way)
		if room < r.RunOut-0.02 {
			j.bad("shoulder", "the thread %s runs out over %.2f mm and has %.2f", r.Spec, r.RunOut, room)
		} else if room < 3*t.size.pitch && r.RunOut < t.size.pitch/2 {
			j.bad("shoulder", "the thread %s ends %.2f mm before a shoulder with no run-out", r.Spec, room)
		}
		if !t.inside {
			j.ends(t, r.Spec, way, room)
		}
	}
}

// ends (shoulder) looks behind an outside thread that a die cuts, and before one that a single point
// cuts.
func (j *judgement) ends(t thread, spec string, way, room float64) {
	p := t.size.pitch
	inner, outer := t.to, t.from
	if way < 0 {
		inner, outer = outer, inner
	}
	over := func(from, long, way float64) float64 {
		to := from + way*long
		return j.work.largest(math.Min(from, to)+0.01, math.Max(from, to)-0.01)
	}
	if !strings.HasPrefix(j.op.Tool.Name, "die ") {
		if d := over(outer, p, -way); d > t.size.major-1.226869*p+0.05 {
			j.bad("shoulder", "the thread %s begins against %.2f", spec, d)
		}
		return
	}
	switch {
	case room >= 3*p-0.02:
	case !j.op.says("turn round", "the die"):
		j.bad("shoulder", "a die for %s comes to %.2f before a shoulder, and is not turned round", spec, room)
	case room < p-0.02 || over(inner, room, way) > t.size.major-p:
		j.bad("shoulder", "a die for %s is turned round, and a collar stands in the %.2f behind", spec, room)
	}
}

// roomBeyond returns how far a thread may run on before a larger diameter, or
// inside before the floor.
func (j *judgement) roomBeyond(t thread, way float64) float64 {
	end := t.to
	if way < 0 {
		end = t.from
	}
	if t.inside {
		return j.roomInside(t, end, way)
	}
	room := math.Inf(1)
	for _, p := range j.work.outside {
		for _, v := range []point{{p.a, p.da}, {p.b, p.db}} {
			far := (v.z - end) * way
			if v.d > t.size.major+0.1 && far > -0.05 && (p.a+p.b-2*end)*way > 0 {
				room = math.Min(room, math.Max(far, 0))
			}
		}
	}
	if f := j.setUp.JawFace; f != nil && way*j.setUp.way() < 0 {
		room = math.Min(room, math.Max((*f-end)*way, 0))
	}
	return room
}

func (j *judgement) roomInside(t thread, end, way float64) float64 {
	room := math.Inf(1)
	for _, b := range j.work.bores {
		around := b.z0 <= t.from+0.05 && b.z1 >= t.to-0.05 && !b.through
		if !around || math.Max(b.d0, b.d1) >= t.size.major {
			continue
		}
		floor := b.z1
		if way < 0 {
			floor = b.z0
		}
		if far := (floor - end) * way; !j.open(floor) && far > -0.05 {
			room = math.Min(room, far)
		}
	}
	return room
}

// open reports whether a bore's end at z is in the open: at a face, or in a
// wider bore.
func (j *judgement) open(z float64) bool {
	if z < 0.1 || z > j.length-0.1 {
		return true
	}
	return j.work.hollow(z-0.1) > 0 && j.work.hollow(z+0.1) > 0
}

// parting: the blade reaches the middle and is at least an eighth of that depth
// wide, the kerf is within two diameters of the jaws, the diameter there is one
// that is parted, and no centre is in, and no steady: what comes free would whip in it.
func parting(j *judgement) {
	if j.op.Kind != "part-off" {
		return
	}
	width, most, reach, _ := j.shop.blade()
	for _, r := range j.op.Removes {
		if r.Shape != "end" {
			continue
		}
		a, b := r.Z, r.Z+width
		if r.End == "left" {
			a, b = r.Z-width, r.Z
		}
		d := j.work.largest(a, b)
		deep := (d - j.work.hollow((a+b)/2)) / 2
		switch {
		case d > most+tiny:
			j.bad("parting", "parted at a diameter of %.2f, at most %.2f", d, most)
		case width < deep/8-tiny:
			j.bad("parting", "a blade of %.2f for a depth of %.2f", width, deep)
		case reach > 0 && reach < deep-tiny:
			j.bad("parting", "a blade that reaches %.2f for a depth of %.2f", reach, deep)
		}
		if f := j.setUp.JawFace; f != nil && math.Max(math.Abs(a-*f), math.Abs(b-*f)) > 2*d+width {
			j.bad("parting", "the kerf is %.2f from the jaws, and the work is %.2f", math.Abs(r.Z-*f), d)
		}
		if isWord(j.setUp.supportKind(), "centre", "bore-mouth") {
			j.bad("parting", "a centre is in while it is parted")
		}
		if j.setUp.supportKind() == "steady" {
			j.bad("parting", "a steady alone carries what is parted off")
		}
	}
}

// startSize: what is on the bar before the cut is not already under both the
// cut and the drawing.
func startSize(j *judgement) {
	for _, r := range j.op.Removes {
		if r.Shape != "outside" {
			continue
		}
		j.work.each(points(r.Profile), func(old piece, da, db float64) {
			z := (old.a + old.b) / 2
			if z < 0 || z > j.length {
				return
			}
			low := j.leastAllowed(z)
			is, will := old.dia(z), (da+db)/2
			if is < will-0.005 && is < low-0.005 {
				j.bad("start-size", "%.3f at z %.2f before a cut to %.3f, drawn at least %.3f", is, z, will, low)
			}
		})
	}
}

// leastAllowed returns the least the drawing has at z, an edge off by as much
// as its place may be.
func (j *judgement) leastAllowed(z float64) float64 {
	shift := j.lengthLimit(z)
	low := math.Inf(1)
	for _, at := range []float64{z - shift, z, z + shift} {
		if at >= 0 && at < j.length {
			l, _ := j.bounds(at)
			low = math.Min(low, l)
		}
	}
	return low
}

// mostAllowed is the other way.
func (j *judgement) mostAllowed(z float64) float64 {
	shift := j.lengthLimit(z)
	high := 0.0
	for _, at := range []float64{z - shift, z, z + shift} {
		if at >= 0 && at < j.length {
			_, h := j.bounds(at)
			high = math.Max(high, h)
		}
	}
	return high
}

// usual returns how small the outside may be at z where it is usual: a
// thread's blank, its relief and its chamfer, and edges broken.
func (j *judgement) usual(z float64) float64 {
	least := math.Inf(1)
	for _, t := range j.threads {
		if !t.inside && t.known {
			least = math.Min(least, t.usual(z))
		}
	}
	for i, v := range j.outline {
		edge := i == 0 || i == len(j.outline)-1 || math.Abs(v.d-j.outline[i-1].d) > tiny
		if far := math.Abs(z - v.z); edge && far < 0.35 {
			least = math.Min(least, v.d-0.6-0.1)
		}
	}
	for _, c := range j.chamfers {
		if far := math.Abs(z - c.z); far < c.d+0.1 {
			drawn := math.Max(alongAfter(j.outline, c.z), alongBefore(j.outline, c.z))
			least = math.Min(least, drawn-2*(c.d-far)-0.2)
		}
	}
	return least
}

// usual is the same of one thread.
func (t thread) usual(z float64) float64 {
	p, d, least := t.size.pitch, t.size.major, math.Inf(1)
	inner, outer := t.to, t.from
	if t.end == "right" {
		inner, outer = t.from, t.to
	}
	if z > t.from-3*p-0.5 && z < t.to+3*p+0.5 {
		least = d - 0.1*p - 0.1 // the blank
	}
	if math.Abs(z-inner) < 3*p+0.6 {
		least = math.Min(least, d-1.6*p-0.1) // the relief
	}
	if far := math.Abs(z - outer); far < 0.7*p+0.4 {
		least = math.Min(least, math.Min(d-1.4*p-0.4+2*far, d)) // the chamfer, to the root at the face
	}
	return least
}

// gouge: after the step nowhere is the work smaller than the drawing, but for
// what a limit or usage allows and the step says.
func gouge(j *judgement, was *work) {
	for _, p := range j.work.outside {
		for _, z := range []float64{p.a + 0.02, (p.a + p.b) / 2, p.b - 0.02} {
			if z < 0 || z > j.length || p.b-p.a < 0.05 {
				continue
			}
			d := p.dia(z)
			if d > was.diaAt(z)-1e-3 || d >= j.leastAllowed(z)-0.01 {
				continue
			}
			allowed := len(j.op.Allowed) > 0 || j.chamfered(z)
			if !allowed || d < j.usual(z) {
				j.bad("gouge", "%.3f at z %.2f, drawn at least %.3f", d, z, j.leastAllowed(z))
				break
			}
		}
	}
	for _, r := range j.op.Removes {
		j.gougedBy(r)
	}
}

// chamfered reports whether a chamfer is drawn at z.
func (j *judgement) chamfered(z float64) bool {
	for _, c := range j.chamfers {
		if math.Abs(z-c.z) < c.d+0.1 {
			return true
		}
	}
	return false
}

// gougedBy holds ends, bores, holes and flats against the drawing.
func (j *judgement) gougedBy(r removal) {
	switch r.Shape {
	case "end":
		over := r.Z
		if r.End == "right" {
			over = j.length - r.Z
		}
		if over > j.lengthLimit(0)+0.01 {
			j.bad("gouge", "the %s end is cut %.3f into the part", r.End, over)
		}
	case "bore":
		j.boreGouge(r)
	case "centre":
		faced := math.Abs(j.work.endOf(r.End)-j.faceOf(r.End)) < 0.1
		if faced && len(j.op.Allowed) == 0 && !j.boredFrom(r.End, r.Dia) {
			j.bad("gouge", "a centre hole in the %s face, which is not drawn and not said to be allowed", r.End)
		}
	case "cross":
		j.crossGouge(r)
	case "flats":
		j.flatsGouge(r)
	case "thread", "slot":
		if !j.drawn(r) {
			j.bad("gouge", "a %s at z %.2f to %.2f that the drawing has not", r.Shape, r.FromZ, r.ToZ)
		}
	}
}

func (j *judgement) crossGouge(r removal) {
	h, ok := j.drawnHole(r)
	switch {
	case !ok:
		j.bad("gouge", "a hole at z %.2f, roll %.1f, that the drawing has not", r.Z, r.Roll)
	case r.Dia > holeMost(h, j.general)+0.01 && !j.opensMouth():
		j.bad("gouge", "a hole of %.3f at z %.2f, drawn %.3f", r.Dia, r.Z, h.dia)
	case h.depth > 0 && (r.Depth == nil || *r.Depth > h.depth+linear(j.general, h.depth)+j.leads()+0.01):
		j.bad("gouge", "the hole at z %.2f goes deeper than the %.2f that are drawn", r.Z, h.depth)
	}
}

// drawn reports whether a thread or a slot of a removal is one of the drawing.
func (j *judgement) drawn(r removal) bool {
	for _, t := range j.threads {
		if r.Shape == "thread" && r.Inside == t.inside && r.FromZ < t.to && r.ToZ > t.from {
			return true
		}
	}
	for _, s := range j.slots {
		if r.Shape == "slot" && r.FromZ < s.to && r.ToZ > s.from && sameRoll(r.Roll, s.roll, false) &&
			r.Width <= s.width+linear(j.general, s.width)+0.01 {
			return true
		}
	}
	return false
}

// slotPasses: a slot is not milled in one go: so deep a pass is said, no deeper than the
// cutter is wide, and where it goes in.
func slotPasses(j *judgement) {
	if j.op.Kind != "slot" {
		return
	}
	for _, r := range j.op.Removes {
		if r.Width == 0 {
			continue
		}
		start := false
		for _, s := range j.op.Settings {
			start = start || s.Name == "start"
		}
		if pass, ok := j.op.value("depth a pass"); !ok || pass <= 0 || pass > r.Width+tiny || !start {
			j.bad("tool-side", "a slot %.2f wide, %.2f deep a pass, where to start told: %v", r.Width, pass, start)
		}
	}
}

// flatsRoom: a belt or a file goes in between what stands higher than the flats beside
// them: the belt is 50 wide where the shop does not say, the narrowest file 6.
func flatsRoom(j *judgement) {
	wide := 0.0
	switch {
	case j.setUp.Machine == "belt-grinder":
		wide = j.shop.in("belt_grinder").or("width", 50)
	case j.op.Tool.Hand != nil && *j.op.Tool.Hand == "file":
		wide = 6
	}
	for _, r := range j.op.Removes {
		if r.Shape != "flats" {
			continue
		}
		left, a := j.clearBeside(r, r.FromZ, r.AcrossA, -1, wide)
		right, b := j.clearBeside(r, r.ToZ, r.AcrossB, 1, wide)
		if room := r.ToZ - r.FromZ + a + b; left && right && room < wide-0.02 {
			j.bad("tool-side", "%.2f between two shoulders, for what is %.2f wide", room, wide)
		}
	}
}

// clearBeside walks from an end of flats along the work, in steps of 0.01 and no further
// than most, and says whether something higher than them is met, and how far off.
func (j *judgement) clearBeside(r removal, z, across, way, most float64) (met bool, free float64) {
	flat := across
	if r.Sides%2 == 1 { // from a flat to the corner opposite
		flat = 2 * across / (1 + 1/math.Cos(math.Pi/float64(r.Sides)))
	}
	const step = 0.01
	for free = 0; free <= most; free += step {
		if j.work.diaAt(z+way*(free+step/2)) > flat+0.01 {
			return true, free
		}
	}
	return false, most
}

// flatsGouge holds flats against those that are drawn.
func (j *judgement) flatsGouge(r removal) {
	for _, z := range []float64{r.FromZ + 0.05, r.ToZ - 0.05} {
		across := between(point{r.FromZ, r.AcrossA}, point{r.ToZ, r.AcrossB}, z)
		f, ok := j.drawnFacet(r, z)
		if !ok {
			j.bad("gouge", "%d flats at z %.2f that the drawing has not", r.Sides, z)
			return
		}
		drawn := between(point{f.from, f.acrossA}, point{f.to, f.acrossB}, z)
		if across < drawn-linear(j.general, drawn)-0.01 {
			j.bad("gouge", "%.3f across flats at z %.2f, drawn %.3f", across, z, drawn)
		}
	}
}

func (j *judgement) faceOf(end string) float64 {
	if end == "right" {
		return j.length
	}
	return 0
}

// boredFrom reports whether a bore is drawn in an end.
func (j *judgement) boredFrom(end string, dia float64) bool {
	for _, b := range j.bores {
		if (b.end == end || b.through) && b.d0 >= dia-tiny {
			return true
		}
	}
	return false
}

func holeMost(h cross, class string) float64 {
	if h.limit != nil {
		return h.limit[1]
	}
	return h.dia + linear(class, h.dia)
}

// boreGouge holds what is bored against the bores that are drawn: nowhere
// wider or deeper, but for a mouth that the step says is allowed.
func (j *judgement) boreGouge(r removal) {
	b := boreOf(r, &j.drawing)
	for _, z := range []float64{b.z0 + 0.05, (b.z0 + b.z1) / 2, b.z1 - 0.05} {
		if z < 0 || z > j.length {
			continue
		}
		d, most := between(point{b.z0, b.d0}, point{b.z1, b.d1}, z), 0.0
		for _, drawn := range j.bores {
			reach := linear(j.general, drawn.depth)
			if !j.shouldered(drawn) {
				reach += j.leads()
			}
			if drawn.z0-reach <= z && z <= drawn.z1+reach {
				most = math.Max(most, j.boreMost(drawn))
			}
		}
		if d <= most+0.01 {
			continue
		}
		inward := math.Min(z-j.pointed("left", d), j.length-j.pointed("right", d)-z) // from where there is metal for it
		if j.opensMouth() && inward < 6 && d < j.diaOf(z) {
			continue // a mouth, a spot
		}
		j.bad("gouge", "%.3f wide inside at z %.2f, drawn %.3f", d, z, most)
		return
	}
}

// shouldered reports whether another bore goes on from the floor of one.
func (j *judgement) shouldered(b bore) bool {
	for _, floor := range []float64{b.z0 - 0.1, b.z1 + 0.1} {
		for _, o := range j.bores {
			if o.id != b.id && o.z0 < floor && floor < o.z1 && floor > 0 && floor < j.length {
				return true
			}
		}
	}
	return false
}

func (j *judgement) diaOf(z float64) float64 { return alongAfter(j.plain, z) }

// boreMost returns the most a drawn bore may be.
func (j *judgement) boreMost(b bore) float64 {
	if b.limit != nil {
		return b.limit[1]
	}
	return math.Max(b.d0, b.d1) + linear(j.general, b.d0)
}

// drawnHole finds the hole of the drawing that a removal is of.
func (j *judgement) drawnHole(r removal) (cross, bool) {
	for _, h := range j.holes {
		if math.Abs(h.z-r.Z) <= j.lengthLimit(h.z)+0.01 && sameRoll(h.roll, r.Roll, h.depth == 0) &&
			(math.Abs(h.offset-r.Offset) < 0.2 || math.Abs(h.offset+r.Offset) < 0.2) {
			return h, true
		}
	}
	return cross{}, false
}

// sameRoll compares two rolls; a hole through is the same from either side.
func sameRoll(a, b float64, through bool) bool {
	turn := 360.0
	if through {
		turn = 180
	}
	d := math.Mod(math.Abs(a-b), turn)
	return d < 0.6 || turn-d < 0.6
}

func (j *judgement) drawnFacet(r removal, z float64) (facet, bool) {
	for _, f := range j.facets {
		shift := j.lengthLimit(f.from)
		if f.sides == r.Sides && f.from-shift-0.05 <= z && z <= f.to+shift+0.05 &&
			sameRoll(math.Mod(f.roll, 360/float64(f.sides)), math.Mod(r.First, 360/float64(f.sides)), false) {
			return f, true
		}
	}
	return facet{}, false
}

// threadPlace (complete): a thread sits on one surface or in one bore of the
// right size.
func threadPlace(j *judgement) {
	for _, r := range j.op.Removes {
		if r.Shape != "thread" {
			continue
		}
		t := threadOf(r)
		if !t.known {
			continue
		}
		if t.inside {
			j.threadedBore(t)
			continue
		}
		low, high := t.size.major-0.3*t.size.pitch-0.02, t.size.largest()+0.01
		from, to := t.size.pitch, t.size.pitch
		for _, c := range j.chamfers {
			if math.Abs(c.z-t.from) < tiny {
				from = math.Max(from, c.d)
			}
			if math.Abs(c.z-t.to) < tiny {
				to = math.Max(to, c.d)
			}
		}
		for _, p := range j.work.over(t.from+from, t.to-to) {
			if p.sides != 0 || math.Min(p.da, p.db) < low || math.Max(p.da, p.db) > high {
				j.bad("complete", "the thread %s on %.3f to %.3f at z %.2f to %.2f", t.spec, p.da, p.db, p.a, p.b)
			}
		}
	}
}

// threadedBore: between 50 and 100 % of the thread, which is 1.299038 P.
func (j *judgement) threadedBore(t thread) {
	const whole = 1.299038
	p := t.size.pitch
	low, high := t.size.major-whole*p, t.size.major-0.5*whole*p
	for _, z := range []float64{t.from + p, (t.from + t.to) / 2, t.to - p} { // its mouths are countersunk
		if h := j.work.hollow(z); h < low-0.02 || h > high+0.02 {
			j.bad("complete", "the thread %s in a bore of %.3f at z %.2f, which takes %.3f to %.3f", t.spec, h, z, low, high)
			return
		}
	}
}

// once (complete): a thread, and a hole through, is not made twice.
func once(j *judgement) {
	for _, r := range j.op.Removes {
		switch r.Shape {
		case "thread":
			for _, t := range j.work.threads {
				if t.inside == r.Inside && t.from < r.ToZ && t.to > r.FromZ {
					j.bad("complete", "the thread %s is cut a second time", r.Spec)
				}
			}
		case "cross":
			for _, h := range j.work.cross {
				if near(h.z, r.Z) && near(h.dia, r.Dia) && near(h.roll, r.Roll) && near(h.offset, r.Offset) {
					j.bad("complete", "the hole at z %.2f is drilled a second time", r.Z)
				}
			}
		}
	}
}
