package judge

import (
	"math"
	"regexp"
	"strings"
)

// What a card says of a taper with the tailstock set over, and of one with a form tool, is read
// from its words and done.
var (
	saysOver = regexp.MustCompile(`Move the tailstock (toward you until it is pushed in|away from you until it has ` +
		`come out) by ([\d.]+) mm\.`)
	saysProof = regexp.MustCompile(`while the carriage goes ([\d.]+) mm along (?:the work from z (-?[\d.]+) mm to ` +
		`z (-?[\d.]+) mm|that bar), toward the tailstock the indicator is (pushed in|let out) by ([\d.]+) mm`)
	saysTip   = regexp.MustCompile(`bring the tip to (?:([\d.]+) mm before )?z (-?[\d.]+) mm`)
	saysAlong = regexp.MustCompile(`feed with the carriage toward the headstock, (?:those ([\d.]+) mm ` +
		`and )?([\d.]+) mm.*, to z (-?[\d.]+) mm`)
	saysEdge   = regexp.MustCompile(`bring the edge over the taper, from z (-?[\d.]+) mm to z (-?[\d.]+) mm`)
	saysCorner = regexp.MustCompile(`Touch the turning work at the small end, z (-?[\d.]+) mm, ([\d.]+) mm thick as ` +
		`(?:bought|roughed|cut in step \d+)`)
	saysGround = regexp.MustCompile(`Grind a tool to ([\d.]+) deg from the axis`)
)

// aslantWords is what a card says of a taper with the tailstock set over: where the work is touched and
// how thick it is there, how far out the passes begin and how far in the last is, how far the carriage
// goes, to where, and how far before where the tip begins.
type aslantWords struct{ touch, thick, out, in, feed, to, begin, runs float64 }

// aslant: a taper with the tailstock set over says how it is set over and cut, and that cuts it.
func aslant(j *judgement) {
	st := j.setUp.State
	if j.op.Steps == nil || j.op.Kind != "taper" || st.Offset == nil || len(j.op.Removes) == 0 {
		return
	}
	j.setsOver(*st.Offset)
	touch, a := j.op.told(saysTouch)
	last, b := j.op.told(saysLast)
	feed, c := j.op.told(saysAlong)
	begin, d := j.op.told(saysTip)
	_, e := j.op.told(saysDeep)
	if !(a && b && c && d && e) {
		j.bad("steps", "the begin, the touch, the depth, the last line and the feed are not all said: %q", j.op.Steps)
		return
	}
	w := aslantWords{
		touch: touch[0], thick: touch[1], in: none(last[0]) - none(last[1]), feed: feed[1], to: feed[2],
		begin: begin[1], runs: none(begin[0]),
	}
	if from, ok := j.op.told(saysFrom); ok {
		w.out = from[0]
	}
	j.turnsAslant(w, *st.Offset, points(j.op.Removes[0].Profile))
}

// turnsAslant holds what is done against the work before the step and the cone that it leaves.
func (j *judgement) turnsAslant(w aslantWords, offset float64, cone []point) {
	const shows = 0.0016 // mm, half of the last place twice, and of a diameter
	first, end := cone[0], cone[len(cone)-1]
	line := func(z float64) float64 { return first.d + (end.d-first.d)*(z-first.z)/(end.z-first.z) }
	tail, head := end.z, first.z
	if j.setUp.way() < 0 {
		tail, head = head, tail
	}
	if math.Abs(w.begin-tail) > shows || math.Abs(w.to-head) > shows {
		j.bad("steps", "the tip goes from z %v to %v, and the taper from %v to %v", w.begin, w.to, tail, head)
	}
	inside := w.touch + 0.001
	if math.Abs(w.touch-end.z) < shows {
		inside = w.touch - 0.001
	}
	if stands := j.work.diaAt(inside); math.Abs(stands-w.thick) > 2*shows {
		j.bad("steps", "touched at z %v, %v thick, where the work is %.4f", w.touch, w.thick, stands)
	}
	cut := j.bedLine(offset, w.touch, w.thick/2, w.in)
	for _, p := range []point{first, end} {
		if d, _ := cut(p.z); p.d > tiny && math.Abs(d-p.d) > 3*shows {
			j.bad("steps", "what is wound leaves %.4f at z %v, and the step %.4f", d, p.z, p.d)
		}
	}
	_, from := cut(tail)
	if _, to := cut(head); math.Abs(math.Abs(to-from)-w.feed) > 2*shows {
		j.bad("steps", "the carriage goes %v, and the taper is %.4f along the bed", w.feed, math.Abs(to-from))
	}
	most := 0.0
	for _, p := range j.work.over(first.z, end.z) {
		most = math.Max(most, math.Max(p.da-line(p.a), p.db-line(p.b))/2)
	}
	ux, _ := j.axis(offset) // the cosine: what goes in square to the bed goes deeper at one place of the work
	if off := j.comesOff(); off < w.out+shows || w.out+w.in < most*ux-2*shows {
		j.bad("steps", "the tip comes %.4f off after the touch, the first pass begins %.4f out, and the work stands %.4f "+
			"beyond the last", off, w.out, most)
	}
	j.runsInto(w, line)
}

// runsInto asks whether the tip runs in over nothing.
func (j *judgement) runsInto(w aslantWords, line func(z float64) float64) {
	for k := 1; k <= 20 && w.runs > 0; k++ {
		z := w.begin + j.setUp.way()*w.runs*float64(k)/20
		if d := j.work.diaAt(z); d > math.Max(line(z), 0)+0.002 {
			j.bad("steps", "the tip runs in at z %.3f, in metal: %.4f stands there, and the line is at %.4f", z, d, line(z))
			return
		}
	}
}

// axis is the work's axis with the tailstock over: from the headstock's centre, along (x, y), y
// toward the operator. It is as long as the work.
func (j *judgement) axis(offset float64) (x, y float64) {
	long := j.work.right() - j.work.left()
	return math.Sqrt(long*long-offset*offset) / long, offset / long
}

// bedLine touches the work at a place with the tip, goes in from there, and returns what a tip that
// goes along the bed then leaves at any other place, and where on the bed it stands there.
func (j *judgement) bedLine(offset, z, radius, in float64) func(z float64) (dia, along float64) {
	ux, uy := j.axis(offset)
	nx, ny := -uy, ux // square to the axis, toward the operator
	place := func(z float64) float64 {
		if j.setUp.way() < 0 {
			return j.work.right() - z
		}
		return z - j.work.left()
	}
	tip := place(z)*uy + radius*ny - in
	return func(z float64) (dia, along float64) {
		// The tip at (t, tip) stands at s = t·ux + tip·uy along the axis.
		t := (place(z) - tip*uy) / ux
		return 2 * (t*nx + tip*ny), t
	}
}

// setsOver: the tailstock is moved as far and the way that the set-up says, and an indicator on the
// carriage shows it along work that is parallel. What stands so from the step before is not set.
func (j *judgement) setsOver(offset float64) {
	over := saysOver.FindStringSubmatch(strings.Join(j.op.Steps, "\n"))
	proof := saysProof.FindStringSubmatch(strings.Join(j.op.Steps, "\n"))
	if before := j.stoodOver(); before {
		return
	}
	if proof == nil {
		j.bad("steps", "how the offset is proved is not said: %q", j.op.Steps)
		return
	}
	if toward := proof[4] == "pushed in"; toward != (offset > 0) {
		j.bad("steps", "the indicator is %s, and the tailstock is set over %v", proof[4], offset)
	}
	const fine = 1e-3
	if over != nil &&
		(strings.HasPrefix(over[1], "toward") != (offset > 0) || math.Abs(num(over[2])-math.Abs(offset)) > fine) {
		j.bad("steps", "the tailstock is moved %s by %s, and set over %v", over[1], over[2], offset)
	}
	ux, uy := j.axis(math.Abs(offset))
	if shows := num(proof[1]) * uy / ux; math.Abs(shows-num(proof[5])) > 2e-4 {
		j.bad("steps", "over %s the indicator shows %.5f, said %s", proof[1], shows, proof[5])
	}
	a, b := num(proof[2]), num(proof[3])
	if proof[2] == "" {
		return
	}
	if math.Abs(b-a)+1e-3 < num(proof[1]) {
		j.bad("steps", "the carriage goes %s along what is %v long", proof[1], math.Abs(b-a))
	}
	for k := range 21 {
		z := a + (b-a)*(float64(k)+0.5)/21
		if d := j.work.diaAt(z); math.Abs(d-j.work.diaAt(a+(b-a)/42)) > 1e-3 {
			j.bad("steps", "indicated along z %v to %v, which is not parallel at %.3f", a, b, z)
			return
		}
	}
}

// stoodOver reports whether the step before has the tailstock where this one wants it.
func (j *judgement) stoodOver() bool {
	if j.op.N < 2 {
		return false
	}
	before := j.plan.SetUps[j.plan.Operations[j.op.N-2].SetUp-1].State.Offset
	return before != nil && *before == *j.setUp.State.Offset
}

// formed: a taper with a form tool says how the edge is set and how far in it goes, and that cuts it.
func formed(j *judgement) {
	if j.op.Steps == nil || j.op.Kind != "taper" || !strings.HasPrefix(j.op.Tool.Name, "form tool") ||
		len(j.op.Removes) == 0 {
		return
	}
	edge, a := j.op.told(saysEdge)
	touch, b := j.op.told(saysCorner)
	last, c := j.op.told(saysLast)
	ground, d := j.op.told(saysGround)
	if !(a && b && c && d) {
		j.bad("steps", "the tool, the edge, the touch and the last line are not all said: %q", j.op.Steps)
		return
	}
	j.feedsIn(edge, touch, none(last[0]), ground[0], points(j.op.Removes[0].Profile))
}

// feedsIn holds where the edge lies and touches, and how far it goes in, against the work and the cone.
func (j *judgement) feedsIn(edge, touch []float64, in, ground float64, cone []point) {
	const shows = 0.0016
	large, small := cone[0], cone[len(cone)-1]
	if large.d < small.d {
		large, small = small, large
	}
	if math.Abs(edge[0]-large.z) > shows || math.Abs(edge[1]-small.z) > shows || math.Abs(touch[0]-small.z) > shows {
		j.bad("steps", "the edge lies from z %v to %v and touches at %v, and the taper is from %v to %v",
			edge[0], edge[1], touch[0], large.z, small.z)
	}
	inside := small.z + math.Copysign(0.001, large.z-small.z)
	if stands := j.work.diaAt(inside); math.Abs(stands-touch[1]) > 2*shows {
		j.bad("steps", "touched at z %v, %v thick, where the work is %.4f", touch[0], touch[1], stands)
	}
	leaves := math.Max(touch[1]-2*in, 0)
	if math.Abs(leaves-small.d) > 3*shows {
		j.bad("steps", "what is fed in leaves %.4f at z %v, and the step %.4f", leaves, small.z, small.d)
	}
	rises := leaves + 2*math.Abs(large.z-small.z)*math.Tan(ground*math.Pi/180)
	if math.Abs(rises-large.d) > 0.01 {
		j.bad("steps", "the edge leaves %.4f at z %v, and the step %.4f", rises, large.z, large.d)
	}
}
