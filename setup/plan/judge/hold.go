package judge

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// owned refuses a machine, a device or a support that the shop has not.
func owned(j *judgement) {
	if !j.shop.owns(j.setUp.Machine) {
		j.bad("owned", "there is no %s in the shop", j.setUp.Machine)
	}
	if ok, key := j.shop.ownsDevice(j.setUp.Device); !ok {
		j.bad("owned", "held in a %s, and the shop has no %s", j.setUp.Device, key)
	}
	switch j.setUp.supportKind() {
	case "centre", "bore-mouth":
		if j.setUp.Machine == "lathe" && !j.shop.lathe.has("tailstock") {
			j.bad("owned", "on a centre, and the shop has no lathe.tailstock")
		}
	case "steady":
		if !j.shop.lathe.has("steady") {
			j.bad("owned", "in a steady, and the shop has no lathe.steady")
		}
	}
	if j.op.Kind == "part-off" && j.setUp.Machine == "lathe" {
		if _, _, _, ok := j.shop.blade(); !ok {
			j.bad("owned", "parted off, and the shop has no lathe.parting")
		}
	}
	if j.setUp.over() == "soft-jaws" && j.shop.lathe.text("soft_jaws") != "true" {
		j.bad("owned", "soft jaws, and the shop has no lathe.soft_jaws")
	}
	j.ownsThreadTool()
}

// ownsThreadTool (owned): a tap or a die is among those of the shop, by diameter and pitch.
func (j *judgement) ownsThreadTool() {
	for _, kind := range []string{"tap", "die"} {
		spec, ok := strings.CutPrefix(j.op.Tool.Name, kind+" ")
		if !ok {
			continue
		}
		want, known := parseThread(spec)
		has := slices.ContainsFunc(j.shop.list(kind+"s"), func(v any) bool {
			own, ok := parseThread(fmt.Sprint(v))
			return ok && own.major == want.major && own.pitch == want.pitch
		})
		if known && !has {
			j.bad("owned", "a %s, and the shop's %ss are %v", j.op.Tool.Name, kind, j.shop.list(kind+"s"))
		}
	}
}

// holds reports whether the set-up has something that is held, and is not one
// where a hand or a bench vice holds what needs no axis.
func (j *judgement) holds() bool {
	return j.setUp.Machine != "saw" && j.setUp.Machine != "bench" &&
		!isWord(j.setUp.Device, "hand", "cradle", "between-centres", "v-blocks")
}

// gripSurface: what is held exists now, is a cylinder or a polygon that the
// device takes over the whole length, carries no thread unless a nut or a stub
// holds by it, and no cross hole wider than a third of the diameter.
func gripSurface(j *judgement) {
	if j.setUp.Device == "between-centres" {
		for _, end := range []string{"left", "right"} {
			if j.work.centres[end] == nil && j.work.mouth(end) == 0 {
				j.bad("grip-surface", "between centres, and there is no centre in the %s end", end)
			}
		}
		j.dogged()
		return
	}
	if !j.holds() && j.setUp.Device != "v-blocks" {
		return
	}
	g := j.setUp.Grip
	switch {
	case g == nil:
		j.bad("grip-surface", "a %s holds nothing", j.setUp.Device)
	case g.Inside || isWord(j.setUp.Device, "mandrel", "arbor", "threaded-stub"):
		j.insideGrip(g)
	default:
		j.outsideGrip(g)
	}
}

// runsTrue: where work is held again on a finished round in jaws that do not find its axis, and a bore
// or a thread is cut, a step of that grip says to what it is set to run true.
func runsTrue(j *judgement) {
	g := j.setUp.Grip
	if j.setUp.Machine != "lathe" || g == nil || g.Inside || g.Shape != "round" || g.Stage != "finished" ||
		!isWord(j.setUp.Device, "chuck", "four-jaw") || len(j.op.Makes) == 0 {
		return
	}
	cuts := slices.ContainsFunc(j.op.Removes, func(r removal) bool { return isWord(r.Shape, "bore", "thread") })
	if cuts && !j.trued() {
		j.bad("grip-surface", "held again on a finished %.3f, and nothing says that it is set true", g.Dia)
	}
}

// trued reports whether a step so far says "true it" of what is gripped now.
func (j *judgement) trued() bool {
	for _, o := range j.plan.Operations {
		s := j.plan.SetUps[o.SetUp-1]
		g, now := s.Grip, j.setUp.Grip
		same := g != nil && g.From == now.From && g.To == now.To && s.Device == j.setUp.Device
		if same && slices.ContainsFunc(o.Settings, func(x setting) bool { return x.Name == "true it" }) {
			return true
		}
	}
	return false
}

// dogWide is how much of the work a dog is clamped on, in mm: common practice, no source.
const dogWide = 12

// dogged: the dog is clamped on a cylinder, at the end that does not stand out.
func (j *judgement) dogged() {
	from, to := j.work.left(), j.work.left()+dogWide
	if j.setUp.way() < 0 {
		from, to = j.work.right()-dogWide, j.work.right()
	}
	for _, p := range j.work.over(from, to) { // it reaches over a chamfer of up to 3 mm at the end
		switch {
		case math.Abs(p.da-p.db) < 0.05 || p.b-p.a > 3.01:
		case j.setUp.way() > 0 && p.a <= from:
			from = p.b
		case j.setUp.way() < 0 && p.b >= to:
			to = p.a
		}
	}
	j.dogAs(from, to)
	for _, p := range j.work.over(from, to) {
		if math.Abs(p.da-p.db) > 0.05 {
			j.bad("grip-surface", "the dog is clamped on a cone of %.3f to %.3f at z %.2f to %.2f", p.da, p.db, p.a, p.b)
			return
		}
	}
}

// dogAs holds what is said of the dog against where it is, and that nothing is cut there.
func (j *judgement) dogAs(from, to float64) {
	if g := j.setUp.Grip; g == nil || math.Abs(g.From-from) > 0.05 || math.Abs(g.To-to) > 0.05 {
		j.bad("grip-surface", "the dog is said elsewhere than on z %.2f to %.2f", from, to)
	}
	if g := j.setUp.Grip; g != nil {
		thick := 0.0
		for _, p := range j.work.over(from, to) {
			thick = math.Max(thick, math.Max(p.da, p.db))
		}
		if math.Abs(thick-g.Dia) > 0.05 && g.Shape == "round" {
			j.bad("grip-surface", "the dog is said on %.3f, and is on %.3f", g.Dia, thick)
		}
	}
	for _, c := range j.cuts() {
		if c.z > from+0.05 && c.z < to-0.05 {
			j.bad("grip-surface", "z %.2f is cut under the dog, z %.2f to %.2f", c.z, from, to)
			return
		}
	}
}

// insideGrip: a bore covers the grip at its diameter; a stub needs a thread of its size.
func (j *judgement) insideGrip(g *grip) {
	if j.setUp.Device == "threaded-stub" {
		for _, t := range j.work.threads {
			if !t.inside || t.from > g.From+0.05 || t.to < g.To-0.05 {
				continue
			}
			if t.known && !near(t.size.major, g.Dia) {
				j.bad("grip-surface", "on a stub of %.3f, and the thread there is %s", g.Dia, t.spec)
			}
			return
		}
		j.bad("grip-surface", "on a stub, and no inside thread runs over z %.2f to %.2f", g.From, g.To)
		return
	}
	for _, z := range []float64{g.From + 0.05, (g.From + g.To) / 2, g.To - 0.05} {
		if h := j.work.hollow(z); math.Abs(h-g.Dia) > 0.05 {
			j.bad("grip-surface", "held by a bore of %.3f at z %.2f, which is %.3f there now", g.Dia, z, h)
			return
		}
	}
}

// upright reports whether a cross hole stands upright in work that lies across, and is so narrow that
// what bears at 45 deg, or at 90, does not bear on it.
func (j *judgement) upright(h cross, dia float64) bool {
	across := isWord(j.setUp.Device, "v-blocks", "vice") && j.setUp.Roll != nil
	return across && sameRoll(h.roll, *j.setUp.Roll, true) && h.offset == 0 && h.dia < dia*math.Sin(rad(45))
}

func (j *judgement) outsideGrip(g *grip) {
	covered := 0.0
	for _, p := range j.work.over(g.From, g.To) {
		covered += p.b - p.a
		j.pieceGrip(g, p)
	}
	if covered < g.To-g.From-0.05 {
		j.bad("grip-surface", "held over z %.2f to %.2f, and only %.2f of it is there", g.From, g.To, covered)
	}
	nut := j.setUp.Device == "split-nut"
	threaded := false
	for _, t := range j.work.threads {
		if !t.inside && t.from < g.To-tiny && t.to > g.From+tiny {
			threaded = true
			if !nut {
				j.bad("grip-surface", "held on the thread %s", t.spec)
			}
		}
	}
	if nut && !threaded {
		j.bad("grip-surface", "in a split nut, and there is no thread at z %.2f to %.2f", g.From, g.To)
	}
	j.nutGoesOn(g)
	for _, h := range j.work.cross {
		if j.upright(h, g.Dia) {
			continue
		}
		if h.z+h.dia/2 > g.From && h.z-h.dia/2 < g.To && h.dia > g.Dia/3+tiny {
			j.bad("grip-surface", "held over the hole of %.2f at z %.2f, wider than a third of %.2f", h.dia, h.z, g.Dia)
		}
	}
}

// nutGoesOn asks whether a split nut is screwed on from one of the ends of its thread.
func (j *judgement) nutGoesOn(g *grip) {
	before, behind := j.work.largest(math.Inf(-1), g.From), j.work.largest(g.To, math.Inf(1))
	if j.setUp.Device == "split-nut" && math.Min(before, behind) > g.Dia+0.5 {
		j.bad("grip-surface", "a split nut is screwed on over %.2f or %.2f", before, behind)
	}
}

// pieceGrip holds a stretch of the outside against what the plan says is held.
func (j *judgement) pieceGrip(g *grip, p piece) {
	if p.sides != g.sides() {
		j.bad("grip-surface", "held as %v, and z %.2f to %.2f has %d sides", g.Shape, p.a, p.b, p.sides)
		return
	}
	level := func(a, b float64) bool { return math.Abs(a-g.Dia) < 0.05 && math.Abs(b-g.Dia) < 0.05 }
	if !level(p.da, p.db) && (p.sides == 0 || !level(p.flatA, p.flatB)) {
		j.bad("grip-surface", "held as %.3f, and it is %.3f to %.3f from z %.2f to %.2f", g.Dia, p.da, p.db, p.a, p.b)
	}
	if p.sides > 2 && !j.takes(p.sides) {
		j.bad("grip-surface", "a %s does not take %d sides", j.setUp.Device, p.sides)
	}
	if p.sides == 2 && j.setUp.Device != "vice" {
		j.bad("grip-surface", "a %s holds on two flats", j.setUp.Device)
	}
	atSize := math.Abs(p.da-alongAfter(j.outline, p.a)) < 0.05 // a bar that is bought at its drawn size is finished
	if g.Stage == "bought" && p.stage != "bought" || g.Stage != "bought" && p.stage == "bought" && !atSize {
		j.bad("grip-surface", "held as %s, and z %.2f to %.2f is %s", g.Stage, p.a, p.b, p.stage)
	}
}

// takes reports whether a device holds a polygon: jaws hold a number of sides
// that they divide.
func (j *judgement) takes(sides int) bool {
	jaws := 0
	switch j.setUp.Device {
	case "chuck", "soft-jaws":
		jaws = j.shop.lathe.in("chuck").count("jaws", 3)
	case "four-jaw":
		jaws = 4
	case "vice":
		jaws = 2
	case "v-blocks":
		jaws = 4
	case "rotary-table", "dividing-head":
		return sides%3 == 0 || sides%4 == 0
	default:
		return false // a round collet
	}
	return sides%jaws == 0
}

// jaws returns the stretch of z where the jaws are, false where there are none.
func (j *judgement) jaws() (a, b float64, ok bool) {
	g := j.setUp.Grip
	if j.setUp.JawFace == nil || g == nil || g.Inside {
		return 0, 0, false
	}
	face := *j.setUp.JawFace
	long, known := j.shop.jawLength(j.setUp.Device)
	if !known || !isWord(j.setUp.Device, "chuck", "four-jaw", "soft-jaws") {
		long = math.Max(math.Abs(face-g.From), math.Abs(face-g.To))
	}
	if j.setUp.way() > 0 {
		return face - long, face, true
	}
	return face, face + long, true
}

// flats returns the size of a grip that its length is counted in: across flats
// of a polygon.
func (j *judgement) gripSize(g *grip) float64 {
	if n := g.sides(); n > 2 {
		if p, ok := j.work.pieceAt((g.From + g.To) / 2); ok && p.sides == n {
			return p.flatA
		}
		return flatsOf(g.Dia, n)
	}
	return g.Dia
}

// gripLength: held over at least the smaller of the jaws' length and the larger
// of 8 mm and 0.6 d; soft jaws bored for it, for facing and boring that reach
// less than 1 d, the larger of 4 mm and 0.15 d; a collet or head 1 d or 20 mm;
// a mandrel half the bore's length, of which nothing is broken, in a blind one no less than 8 mm and
// 0.6 d. What the jaws do not cover is not held.
func gripLength(j *judgement) {
	g := j.setUp.Grip
	if !j.holds() || g == nil || isWord(j.setUp.Device, "threaded-stub", "split-nut", "rotary-table", "vice") {
		return
	}
	from, to := g.From, g.To
	if a, b, ok := j.jaws(); ok {
		from, to = math.Max(from, a), math.Min(to, b)
	}
	from, to = math.Max(from, j.work.left()), math.Min(to, j.work.right())
	d, need := j.gripSize(g), 0.0
	switch j.setUp.Device {
	case "chuck", "four-jaw", "soft-jaws":
		need = math.Max(8, 0.6*d)
		if l, ok := j.shop.jawLength(j.setUp.Device); ok {
			need = math.Min(need, l)
		}
		if j.setUp.Device == "soft-jaws" && j.light(d) {
			need = math.Max(4, 0.15*d)
		}
	case "collet", "collet-block", "dividing-head":
		need = math.Min(d, 20)
	case "mandrel", "arbor":
		need = j.boreLength(g) / 2
		if j.blindBeyond(g) {
			need = math.Max(need, math.Max(8, 0.6*g.Dia))
		}
		from, to = 0, j.wholeBore(g)
	}
	if to-from < need-0.01 {
		j.bad("grip-length", "held over %.2f mm of %.2f in a %s, and it needs %.2f", to-from, d, j.setUp.Device, need)
	}
}

// blindBeyond reports whether the bore that is held ends in the part, toward what stands out.
func (j *judgement) blindBeyond(g *grip) bool {
	const step = 0.05
	z, way := g.To, step
	if j.setUp.way() < 0 {
		z, way = g.From, -step
	}
	for ; z > math.Max(0, j.work.left()) && z < math.Min(j.length, j.work.right())-tiny; z += way {
		if j.work.hollow(z) < g.Dia-0.05 {
			return true
		}
	}
	return false
}

// wholeBore walks along the bore that is held and returns how much of it is whole: the longest piece;
// all there is where some lies on either side of everything that is cut.
func (j *judgement) wholeBore(g *grip) float64 {
	const step = 0.01
	run, longest, all := 0.0, 0.0, 0.0
	low, high := math.Inf(1), math.Inf(-1)
	for z := g.From + step/2; z < g.To; z += step {
		if j.brokenInto(z, g.Dia) {
			run = 0
			continue
		}
		run, all = run+step, all+step
		longest, low, high = math.Max(longest, run), math.Min(low, z), math.Max(high, z)
	}
	cuts := j.cuts()
	if len(cuts) > 0 && low < cuts[0].z && cuts[len(cuts)-1].z < high {
		return all
	}
	return longest
}

// brokenInto reports whether a hole or a slot comes into a bore at z.
func (j *judgement) brokenInto(z, bore float64) bool {
	deep := func(depth, middle float64) bool {
		return depth == 0 || alongAfter(j.outline, middle)/2-depth <= bore/2
	}
	for _, h := range j.work.cross {
		if math.Abs(z-h.z) < h.dia/2 && deep(h.depth, h.z) {
			return true
		}
	}
	return slices.ContainsFunc(j.work.slots, func(x slot) bool {
		return x.from < z && z < x.to && deep(x.depth, (x.from+x.to)/2)
	})
}

// light reports whether a step faces and bores only, within d of the jaws.
func (j *judgement) light(d float64) bool {
	for _, r := range j.op.Removes {
		if !isWord(r.Shape, "end", "bore", "centre") {
			return false
		}
	}
	if j.setUp.JawFace == nil {
		return false
	}
	return math.Abs(j.work.endOf(j.setUp.out())-*j.setUp.JawFace) < d
}

// boreLength returns how long the bore is that a grip lies in.
func (j *judgement) boreLength(g *grip) float64 {
	const step = 0.05
	mid, long := (g.From+g.To)/2, 0.0
	for _, way := range []float64{-step, step} {
		for z := mid; z > j.work.left() && z < j.work.right() && math.Abs(j.work.hollow(z)-g.Dia) < 0.05; z += way {
			long += step
		}
	}
	return long
}

// jawRoom: nothing larger than the grip stands where the jaws are, and what
// reaches further back fits the hole of the chuck and of the spindle; where a
// file has no such key it is at most 0.36 of the chuck and the key is told.
func jawRoom(j *judgement) {
	a, b, ok := j.jaws()
	if !ok {
		return
	}
	g := j.setUp.Grip
	grip := g.Dia
	if n := g.sides(); n > 2 {
		grip = math.Max(grip, cornersOf(j.gripSize(g), n))
	}
	if d := j.work.largest(a, b); d > grip+0.05 {
		j.bad("jaw-room", "%.3f stands where the jaws are, z %.2f to %.2f, and they hold %.3f", d, a, b, grip)
	}
	if j.setUp.Machine != "lathe" {
		return // no file says how wide a dividing head is bored
	}
	behindA, behindB := math.Inf(-1), a
	if j.setUp.way() < 0 {
		behindA, behindB = b, math.Inf(1)
	}
	d := j.work.largest(behindA, behindB)
	if d == 0 {
		return
	}
	if t := j.setUp.Through; t == nil {
		j.bad("jaw-room", "%.2f goes through the jaws, and through is null", d)
	} else if t.Dia < d-0.05 {
		j.bad("jaw-room", "%.2f goes through the jaws, and through says %.2f", d, t.Dia)
	}
	j.holeOf("lathe.spindle_bore", j.shop.lathe, "spindle_bore", d)
	switch j.setUp.Device {
	case "collet":
	case "four-jaw":
		j.holeOf("lathe.four_jaw.through", j.shop.lathe.in("four_jaw"), "through", d)
	default:
		j.holeOf("lathe.chuck.through", j.shop.lathe.in("chuck"), "through", d)
	}
}

func (j *judgement) holeOf(path string, n node, key string, d float64) {
	if hole, ok := n.length(key); ok {
		if d > hole+tiny {
			j.bad("jaw-room", "%.2f does not pass %s, %.2f", d, path, hole)
		}
		return
	}
	if chuck, ok := j.shop.lathe.in("chuck").length("diameter"); ok && d > 0.36*chuck+tiny {
		j.bad("jaw-room", "%.2f goes through, more than 0.36 of the chuck", d)
	}
	if !isWord(path, j.setUp.NotChecked...) {
		j.bad("jaw-room", "%s is not known and not in not_checked", path)
	}
}

// gripRange: the diameter is in the range of what holds it.
func gripRange(j *judgement) {
	g := j.setUp.Grip
	if g == nil || !j.holds() {
		return
	}
	switch j.setUp.Device {
	case "chuck", "soft-jaws", "four-jaw":
		key := "chuck"
		if j.setUp.Device == "four-jaw" {
			key = "four_jaw"
		}
		low, high, ok := j.shop.jawRange(j.setUp.Device)
		if !ok {
			low, high = 0, j.shop.lathe.in(key).or("diameter", math.Inf(1))
		}
		if g.Dia < low-tiny || g.Dia > high+tiny {
			j.bad("grip-range", "%.2f in jaws that take %.2f to %.2f", g.Dia, low, high)
		}
	case "collet":
		if !j.shop.colletTakes(g.Dia) {
			j.bad("grip-range", "no collet takes %.3f", g.Dia)
		}
	case "mandrel":
		for _, v := range j.shop.lathe.list("mandrels") {
			if l, ok := length(v, j.shop.unit); ok && math.Abs(l-g.Dia) < 0.1 {
				return
			}
		}
		j.bad("grip-range", "no mandrel for %.3f", g.Dia)
	}
}

// slips (grip-range): a plain arbor or mandrel holds work up to 6 times as large across
// as itself, an arbor that the plan says is spread up to 15 times, at no more
// than a finishing feed: common practice, no source.
func slips(j *judgement) {
	g := j.setUp.Grip
	if g == nil || !isWord(j.setUp.Device, "mandrel", "arbor") {
		return
	}
	times := 6.0
	feed, ok := j.op.value("feed")
	if ok && feed < 0.07 && j.setUp.Device == "arbor" && j.op.says("arbor", "spread") {
		times = 15
	}
	if d := j.work.largest(j.work.left(), j.work.right()); d > times*g.Dia+tiny {
		j.bad("grip-range", "%.2f across on an arbor of %.2f", d, g.Dia)
	}
}

// finished reports whether the outside is at its drawn size over a stretch: a
// turned surface within its limit and 0.15 mm of it, which a roughed one, 0.4
// over, is not.
func (j *judgement) finished(a, b float64) bool {
	a, b = math.Max(a, 0), math.Min(b, j.length)
	pieces := j.work.over(a, b)
	for _, p := range pieces {
		for _, z := range []float64{p.a + 0.01, (p.a + p.b) / 2, p.b - 0.01} {
			low, high := j.bounds(z)
			if p.stage == "bought" || math.Abs(p.dia(z)-(low+high)/2) > math.Min((high-low)/2, 0.15)+tiny {
				return false
			}
		}
	}
	return len(pieces) > 0
}

// bruise: a finished surface is held in soft jaws, a bush, a collet or over
// card, and the plan says which.
func bruise(j *judgement) {
	g := j.setUp.Grip
	if g == nil || g.Inside || !isWord(j.setUp.Device, "chuck", "four-jaw", "vice", "dividing-head", "rotary-table") {
		return
	}
	if j.setUp.Machine == "saw" || j.setUp.over() != "" {
		return
	}
	if j.finished(g.From, g.To) {
		j.bad("bruise", "a %s on the finished surface at z %.2f to %.2f, and nothing spares it", j.setUp.Device, g.From, g.To)
	}
}

// supported: a centre stands in a centre hole, or in a bore's mouth that its
// nose fits, that is there now; it is out while that end is faced, bored or
// parted off; a steady stands on a true cylinder that it takes.
func supported(j *judgement) {
	kind := j.setUp.supportKind()
	if kind == "none" || j.setUp.Machine != "lathe" {
		return
	}
	s := j.setUp.Support
	if kind == "steady" {
		j.steady(s)
		return
	}
	end := j.setUp.out()
	if j.setUp.Device == "between-centres" && end == "" {
		end = "right"
	}
	for _, r := range j.op.Removes {
		if j.works(r, end) {
			j.bad("support", "%s of the %s end while a centre stands in it", r.Shape, end)
		}
	}
	if s.Z != nil && math.Abs(*s.Z-j.work.endOf(end)) > 3 {
		j.bad("support", "a centre at z %.2f, and the %s end is at %.2f", *s.Z, end, j.work.endOf(end))
	}
	if kind == "centre" {
		if j.work.centres[end] == nil {
			j.bad("support", "there is no centre hole in the %s end", end)
		}
		return
	}
	j.boreMouth(s, end)
}

// works reports whether what takes a removal away stands where a centre would: a tap and
// an inside tool go in at the end that is out, a die goes on over it.
func (j *judgement) works(r removal, end string) bool {
	switch r.Shape {
	case "end", "centre":
		return r.End == end
	case "bore":
		return r.From == end
	case "thread":
		return r.Inside || strings.HasPrefix(j.op.Tool.Name, "die ")
	}
	return false
}

func (j *judgement) boreMouth(s *support, end string) {
	mouth := j.work.mouth(end)
	nose, ok := j.shop.lathe.length("centre_nose")
	cone := j.work.mouths[end]
	if c := j.work.centres[end]; c != nil {
		cone = math.Max(cone, c.dia)
	}
	switch {
	case mouth == 0:
		j.bad("support", "there is no bore in the %s end", end)
	case cone < mouth-0.05:
		j.bad("support", "the mouth of the bore in the %s end is not chamfered", end)
	case ok && math.Max(mouth, cone) > nose+tiny:
		j.bad("support", "a mouth of %.2f, and the nose fits %.2f", math.Max(mouth, cone), nose)
	case !ok && !isWord("lathe.centre_nose", j.setUp.NotChecked...):
		j.bad("support", "a centre in a bore's mouth, and lathe.centre_nose is not known and not in not_checked")
	case s.Dia != nil && math.Abs(*s.Dia-mouth) > 0.1 && math.Abs(*s.Dia-cone) > 0.1:
		j.bad("support", "the mouth is told %.2f and is %.2f", *s.Dia, mouth)
	}
}

func (j *judgement) steady(s *support) {
	if s.Z == nil {
		return
	}
	const shoe = 4
	p := j.work.over(*s.Z-shoe, *s.Z+shoe)
	least, most := j.work.smallest(*s.Z-shoe, *s.Z+shoe), j.work.largest(*s.Z-shoe, *s.Z+shoe)
	if len(p) == 0 || most-least > 0.05 || p[0].sides != 0 {
		j.bad("support", "a steady at z %.2f, where the work is no cylinder: %.2f to %.2f", *s.Z, least, most)
		return
	}
	r := j.shop.lathe.in("steady")
	if most < r.or("from", 0)-tiny || most > r.or("to", math.Inf(1))+tiny {
		j.bad("support", "a steady on %.2f, and it takes %.2f to %.2f", most, r.mm("from"), r.mm("to"))
	}
}

// supportV: what lies in V-blocks is parallel now, or is shimmed; holes lie
// between the blocks or within a diameter outside; the heights are those of
// the surface under the drill.
func supportV(j *judgement) {
	st := j.setUp.State
	if j.setUp.Device != "v-blocks" || len(st.Blocks) != 2 {
		return
	}
	a, b := math.Min(st.Blocks[0], st.Blocks[1]), math.Max(st.Blocks[0], st.Blocks[1])
	if a < j.work.left()-tiny || b > j.work.right()+tiny || b-a < 1 {
		j.bad("support-v", "blocks at z %.2f and %.2f, and the work runs from %.2f to %.2f",
			a, b, j.work.left(), j.work.right())
		return
	}
	pa, _ := j.work.pieceAt(a + tiny)
	pb, _ := j.work.pieceAt(b - tiny)
	sine := math.Sin(rad(j.shop.angle()) / 2)
	j.parallel(pa, pb, (pa.dia(a)-pb.dia(b))/2/sine)
	d := math.Max(pa.dia(a), pb.dia(b))
	j.seated(math.Min(pa.dia(a), pb.dia(b)), d)
	j.blocksHaveRoom(a, b)
	j.hangsClear(a, pa.dia(a)/2/sine, b, pb.dia(b)/2/sine)
	var drilled []float64
	for _, r := range j.op.Removes {
		if r.Shape == "slot" {
			for _, z := range []float64{r.FromZ + r.Width/2, r.ToZ - r.Width/2} {
				if z < a-d-tiny || z > b+d+tiny {
					j.bad("support-v", "a cutter at z %.2f, and the blocks stand at %.2f and %.2f", z, a, b)
				}
			}
		}
		if r.Shape != "cross" {
			continue
		}
		drilled = append(drilled, r.Z)
		if r.Z < a-d-tiny || r.Z > b+d+tiny {
			j.bad("support-v", "a hole at z %.2f, and the blocks stand at %.2f and %.2f", r.Z, a, b)
		}
	}
	if len(drilled) > 0 {
		j.heights(drilled, d, sine)
	}
}

// blocksHaveRoom: the two blocks are beside one another, and neither is under what is
// thicker than what lies in it. Each is 10 wide.
func (j *judgement) blocksHaveRoom(a, b float64) {
	const half = 5
	if b-a < 2*half-tiny {
		j.bad("support-v", "the blocks stand at z %.2f and %.2f, one in the other", a, b)
	}
	for _, z := range []float64{a, b} {
		lies := j.work.largest(z-tiny, z+tiny)
		for _, p := range j.work.over(z-half, z+half) {
			if most := math.Max(p.da, p.db); most > lies+0.01 && (p.a > z+tiny || p.b < z-tiny) {
				j.bad("support-v", "the block at z %.2f is under %.2f, and %.2f lies in it", z, most, lies)
			}
		}
	}
}

// hangsClear: nothing of the work comes down to the table under the blocks. Up and vp
// are how high the axis is above the apex at the two blocks; a shim makes them one.
func (j *judgement) hangsClear(a, up, b, vp float64) {
	apex, known := j.shop.in("v_blocks").length("apex")
	if j.setUp.State.Shim != nil {
		up = math.Max(up, vp)
		vp = up
	}
	for _, p := range j.work.outside {
		for _, q := range []point{{p.a, p.da}, {p.b, p.db}} {
			axis := up + (q.z-a)/(b-a)*(vp-up)
			if known && q.d/2 > apex+axis+tiny {
				j.bad("support-v", "%.2f at z %.2f, and the axis is %.2f above the table", q.d, q.z, apex+axis)
				return
			}
		}
	}
}

// seated: a round touches the faces of the V r·cos(V/2) to either side of the
// middle, which is above the relief and below the edges.
func (j *judgement) seated(small, large float64) {
	v := j.shop.in("v_blocks")
	c := math.Cos(rad(j.shop.angle()) / 2)
	if opening, ok := v.length("opening"); ok && large*c > opening+tiny {
		j.bad("support-v", "%.2f rests on the edges of a V that opens %.2f", large, opening)
	}
	if relief, ok := v.length("relief"); ok && small*c < relief-tiny {
		j.bad("support-v", "%.2f drops into a relief of %.2f", small, relief)
	}
}

// parallel looks at what lies in the two blocks: two cylinders at one height,
// or a shim that lifts the smaller by as much as it lies lower.
func (j *judgement) parallel(a, b piece, lift float64) {
	st := j.setUp.State
	level := math.Abs(a.da-a.db) < 0.05 && math.Abs(b.da-b.db) < 0.05 && math.Abs(lift) < 0.03
	if !level && st.Shim == nil && st.Tilt == nil {
		j.bad("support-v", "it lies on %.3f and %.3f and is not parallel", a.da, b.db)
	}
	if st.Shim != nil && math.Abs(math.Abs(lift)-*st.Shim) > 0.05 {
		j.bad("support-v", "a shim of %.3f, and the lift is %.3f", *st.Shim, math.Abs(lift))
	}
	for _, p := range []piece{a, b} {
		if p.sides != 0 && p.sides%4 != 0 {
			j.bad("support-v", "a polygon of %d sides does not lie in a V", p.sides)
		}
	}
}

// angle returns the V-blocks' angle in degrees.
func (s shop) angle() float64 {
	if a, ok := degrees(s.in("v_blocks").tree["angle"]); ok {
		return a
	}
	return 90
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }

// heights: above the blocks' base the centre stands at apex + r/sin(V/2), with
// r where it lies, and the top the radius under the drill above that. A step
// that drills on two surfaces may tell either top.
func (j *judgement) heights(drilled []float64, lies, sine float64) {
	centre := j.shop.in("v_blocks").mm("apex") + lies/2/sine
	var tops []float64
	for _, z := range drilled {
		if p, ok := j.work.pieceAt(z); ok && p.sides > 2 {
			tops = append(tops, centre+p.flat(z)/2)
		} else if ok {
			tops = append(tops, centre+p.dia(z)/2)
		}
	}
	st := j.setUp.State
	j.height("centre", st.Centre, []float64{centre})
	j.height("top", st.Top, tops)
}

// height holds a height that is told, by the step or else by its set-up.
func (j *judgement) height(name string, setUp *float64, is []float64) {
	got, has := j.op.value(name)
	if !has && setUp != nil {
		got, has = *setUp, true
	}
	if !has {
		j.bad("support-v", "the height of the %s is not told", name)
		return
	}
	for _, want := range is {
		if math.Abs(got-want) <= 0.05 {
			return
		}
	}
	j.bad("support-v", "the %s is told %.3f above the base and is %.3f", name, got, is)
}
