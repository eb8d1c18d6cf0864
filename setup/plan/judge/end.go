package judge

import (
	"math"
	"slices"
)

// complete: at the end the work is the drawing within each limit, every feature
// is made, and no centre hole is left where none may stay.
func complete(j *judgement) {
	for _, end := range []string{"left", "right"} {
		if off := j.work.endOf(end) - j.faceOf(end); math.Abs(off) > j.lengthLimit(0)+0.01 {
			j.bad("complete", "the %s end stands at z %.3f", end, j.work.endOf(end))
		}
		if how := j.work.ends[end]; isWord(how, "bought", "saw") {
			j.bad("complete", "the %s end is as it was %s", end, how)
		}
		if j.remove && j.work.centres[end] != nil {
			j.bad("complete", "a centre hole stays in the %s end", end)
		}
	}
	j.outsideDone()
	j.boresDone()
	j.holesDone()
	j.flatsDone()
	j.threadsDone()
	j.slotsDone()
	j.madeAll()
}

// outsideDone looks at every stretch of the outside for what was left on, or is
// under size and no step was seen to cut.
func (j *judgement) outsideDone() {
	for _, p := range j.work.outside {
		for _, z := range []float64{p.a + 0.02, (p.a + p.b) / 2, p.b - 0.02} {
			if z < 0 || z > j.length || p.b-p.a < 0.05 {
				continue
			}
			d, high := p.dia(z), j.mostAllowed(z)
			if d > high+0.01 {
				j.bad("complete", "%.3f is left at z %.2f, drawn at most %.3f", d, z, high)
				return
			}
			if d < math.Min(j.leastAllowed(z), j.usual(z))-0.02 {
				j.bad("complete", "%.3f at z %.2f, drawn at least %.3f", d, z, j.leastAllowed(z))
				return
			}
		}
	}
}

func (j *judgement) boresDone() {
	for _, b := range j.bores {
		low, high := j.boreSizes(b)
		reach := linear(j.general, b.depth)
		inner := b.z1
		if b.end == "right" {
			inner = b.z0
		}
		for _, z := range []float64{b.z0 + 0.3, (b.z0 + b.z1) / 2, b.z1 - 0.3} {
			if math.Abs(z-inner) <= reach && !b.through {
				continue
			}
			h, wider := j.work.hollow(z), j.widerAt(z, b)
			mouth := math.Min(z, j.length-z) < 6
			if h < low-0.01 || h > math.Max(high, wider)+0.01 && !mouth {
				j.bad("complete", "%s is %.3f at z %.2f, drawn %.3f", b.id, h, z, b.d0)
				break
			}
		}
		if !b.through {
			j.depthDone(b, inner, reach)
		}
	}
}

// boreSizes returns the least and most of a bore; one with a thread in it is
// as large as the thread asks.
func (j *judgement) boreSizes(b bore) (low, high float64) {
	low, high = b.d0-linear(j.general, b.d0), j.boreMost(b)
	if b.limit != nil {
		low = b.limit[0]
	}
	for _, t := range j.threads {
		if t.inside && t.known && t.end == b.end && b.d0 < t.size.major {
			low, high = math.Min(low, t.size.major-1.299038*t.size.pitch), high+0.1
		}
	}
	return low, high
}

// widerAt returns the widest other bore drawn at z.
func (j *judgement) widerAt(z float64, b bore) float64 {
	wide := 0.0
	for _, o := range j.bores {
		if o.id != b.id && o.z0 <= z && z <= o.z1 {
			wide = math.Max(wide, j.boreMost(o))
		}
	}
	return wide
}

// depthDone looks for the floor of a bore within its limit.
func (j *judgement) depthDone(b bore, inner, reach float64) {
	sign := 1.0
	if b.end == "right" {
		sign = -1
	}
	lead := 0.0
	for _, o := range j.plan.Operations {
		if o.Kind == "ream" && isWord(b.id, o.Makes...) {
			lead = reamerLead
		}
	}
	shy, past := j.work.hollow(inner-sign*(reach+0.05)), j.work.hollow(inner+sign*(reach+lead+0.05))
	for _, o := range j.bores {
		if o.id != b.id && o.z0-1 <= inner && inner <= o.z1+1 {
			return // it opens into another
		}
	}
	if shy < b.d0-linear(j.general, b.d0)-0.5 || past > 0 {
		j.bad("complete", "the floor of %s is not at %.2f", b.id, b.depth)
	}
}

func (j *judgement) holesDone() {
	for _, h := range j.holes {
		tol := linear(j.general, h.dia)
		low, high := h.dia-tol, h.dia+tol
		if h.limit != nil {
			low, high = h.limit[0], h.limit[1]
		}
		best := 0.0
		for _, m := range j.work.cross {
			if math.Abs(m.z-h.z) <= j.lengthLimit(h.z)+0.01 && sameRoll(m.roll, h.roll, h.depth == 0) &&
				math.Abs(math.Abs(m.offset)-math.Abs(h.offset)) < 0.2 && m.dia <= high+0.01 {
				if h.depth == 0 && m.depth > 0 && m.depth < alongAfter(j.plain, h.z)/2-0.5 {
					continue
				}
				if h.depth > 0 && math.Abs(m.depth-h.depth) > linear(j.general, h.depth)+0.01 {
					continue
				}
				best = math.Max(best, m.dia)
			}
		}
		if best < low-0.01 {
			j.bad("complete", "%s, %.2f at z %.2f, roll %.1f, is not made: %.3f", h.id, h.dia, h.z, h.roll, best)
		}
	}
}

func (j *judgement) flatsDone() {
	for _, f := range j.facets {
		for _, z := range []float64{f.from + 0.3, (f.from + f.to) / 2, f.to - 0.3} {
			drawn := between(point{f.from, f.acrossA}, point{f.to, f.acrossB}, z)
			p, ok := j.work.pieceAt(z)
			if !ok || p.sides != f.sides || math.Abs(p.flat(z)-drawn) > linear(j.general, drawn)+0.01 {
				j.bad("complete", "%s is %.3f across %d flats at z %.2f, drawn %.3f", f.id, p.flat(z), p.sides, z, drawn)
				break
			}
		}
	}
}

func (j *judgement) threadsDone() {
	for _, t := range j.threads {
		done := slices.ContainsFunc(j.work.threads, func(m thread) bool {
			if m.inside != t.inside {
				return false
			}
			if t.known && (!m.known || !near(m.size.major, t.size.major) || !near(m.size.pitch, t.size.pitch)) {
				return false
			}
			p := math.Max(t.size.pitch, 0.5)
			inner, mInner, outer, mOuter := t.to, m.to, t.from, m.from
			if t.end == "right" {
				inner, mInner, outer, mOuter = t.from, m.from, t.to, m.to
			}
			// A relief may take the last turns of a thread at a shoulder.
			return math.Abs(outer-mOuter) <= 1.5*p && math.Abs(inner-mInner) <= 3*p+linear(j.general, t.to-t.from)
		})
		if !done {
			j.bad("complete", "%s, %s, is not cut at z %.2f to %.2f", t.id, t.spec, t.from, t.to)
		}
	}
}

func (j *judgement) slotsDone() {
	for _, s := range j.slots {
		done := slices.ContainsFunc(j.work.slots, func(m slot) bool {
			t := linear(j.general, s.to-s.from) + 0.01
			return math.Abs(m.from-s.from) <= t && math.Abs(m.to-s.to) <= t && sameRoll(m.roll, s.roll, false) &&
				math.Abs(m.width-s.width) <= linear(j.general, s.width)+0.01 &&
				math.Abs(m.depth-s.depth) <= linear(j.general, math.Max(s.depth, 1))+0.01
		})
		if !done {
			j.bad("complete", "%s is not cut", s.id)
		}
	}
}

// madeAll: each feature of the file is named by one operation, which brings it
// to its final size; pilots and roughing are stages that make nothing.
func (j *judgement) madeAll() {
	made := map[string]int{}
	for _, o := range j.plan.Operations {
		for _, id := range o.Makes {
			made[id]++
		}
	}
	want := func(id string) {
		if made[id] != 1 {
			j.bad("complete", "%s is in the makes of %d operations", id, made[id])
		}
	}
	for _, x := range j.bores {
		b := j.plan.Blank
		if b.Shape == "tube" && b.Bore != nil && x.through && near(*b.Bore, x.d0) && made[x.id] == 0 { // as it was bought
			continue
		}
		want(x.id)
	}
	for _, x := range j.holes {
		want(x.id)
	}
	for _, x := range j.facets {
		want(x.id)
	}
	for _, x := range j.threads {
		want(x.id)
	}
	for _, x := range j.slots {
		want(x.id)
	}
}

// predictions: what is told of the part that will come out is arithmetic, keeps
// the limit that is written or general, and is the work that came out.
func predictions(j *judgement) {
	wrong := 0
	for _, p := range j.plan.Predicted {
		j.prediction(p)
		if !p.OK {
			wrong++
		}
	}
	if wrong != j.plan.Totals.OutOfLimit {
		j.bad("predicted", "%d out of limit are told, and %d are", j.plan.Totals.OutOfLimit, wrong)
	}
	if wrong > 0 {
		j.bad("predicted", "done, and %d sizes are out of their limits", wrong)
	}
}

func (j *judgement) prediction(p predicted) {
	out, drawn, off, low, high := p.Out, p.Drawn, p.Error, p.Low, p.High
	if p.Kind == "angle" {
		if p.OutDeg == nil || p.DrawnDeg == nil || p.ErrorDeg == nil {
			return
		}
		out, drawn, off, low, high = *p.OutDeg, *p.DrawnDeg, *p.ErrorDeg, p.LowDeg, p.HighDeg
	}
	const told = 0.006 // figures are rounded to the hundredth
	if math.Abs(out-drawn-off) > told {
		j.bad("predicted", "%s: out %.4f less drawn %.4f is not %.4f", p.ID, out, drawn, off)
	}
	ok := (low == nil || out >= *low-told) && (high == nil || out <= *high+told)
	clear := (low == nil || math.Abs(out-*low) > told) && (high == nil || math.Abs(out-*high) > told)
	if ok != p.OK && (clear || !p.OK) {
		j.bad("predicted", "%s: %.4f is told ok %v", p.ID, out, p.OK)
	}
	j.predictedLimit(p)
	j.predictedOut(p)
	j.predictedTold(p)
}

// predictedTold: a diameter that is turned is kept by what it may be as well as by what it is meant
// to be, and no less than that is told of it.
func (j *judgement) predictedTold(p predicted) {
	if p.Low != nil && p.High != nil && isWord(p.Kind, "bore", "hole") {
		j.holeTold(p)
		return
	}
	if p.Kind != "diameter" && p.Kind != "thread-blank" || p.From == nil || p.To == nil || p.Low == nil || p.High == nil {
		return
	}
	by, there := j.turnedLast((*p.From+*p.To)/2, p.Out)
	if !there {
		return
	}
	off := j.toldBy(by)
	if p.Out-off < *p.Low-tiny || p.Out+off > *p.High+tiny || p.Told < off-tiny {
		j.bad("predicted", "%s: %.4f is told to %.4f and may be %.4f off, of %.4f to %.4f",
			p.ID, p.Out, p.Told, off, *p.Low, *p.High)
	}
}

// scattered returns how far a drilled hole may be off the mean, either way: by a handbook's most and
// least beside its mean, in thousandths of an inch at 1/16, 1/8, 1/4 and 1/2 in over the drill's
// size, and 0.03 mm at the least: common practice, no source.
func scattered(drill float64) float64 {
	rows := []struct{ dia, least, mean, most float64 }{
		{0, 0, 0, 0}, {0.0625, 1, 1.5, 2}, {0.125, 1, 3, 4.5}, {0.25, 2.5, 4, 6.5}, {0.5, 3, 5, 8},
	}
	off := func(i int) float64 {
		return math.Max(rows[i].most-rows[i].mean, rows[i].mean-rows[i].least) / 1000 * inch
	}
	last := len(rows) - 1
	for i := 1; i <= last; i++ {
		a, b := rows[i-1].dia*inch, rows[i].dia*inch
		if drill <= b {
			return math.Max(0.03, off(i-1)+(off(i)-off(i-1))*(drill-a)/(b-a))
		}
	}
	return off(last)
}

// holeTold: a bore or a cross hole whose limits are written is kept by what it may be: drilled by all
// that a drill scatters, bored by half of a division on the radius and half of one of a bore gauge,
// twice what a micrometer's is, lapped by the micrometer. A reamer is its size.
func (j *judgement) holeTold(p predicted) {
	limit, there := j.writtenHole(p.ID)
	if !there {
		return
	}
	off, by := 0.0, operation{}
	for _, o := range j.plan.Operations {
		for _, r := range o.Removes {
			if isWord(r.Shape, "bore", "cross") && math.Abs(r.Dia-p.Out) < 1e-4 && isWord(p.ID, o.Makes...) {
				by = o
			}
		}
	}
	const rounded = 0.0062 // the figures in mm are: 0.13 for 0.005 in, 0.20 for 0.008 in
	switch lapped := by.Tool.Hand != nil && *by.Tool.Hand == "file"; by.Kind {
	case "drill", "cross-drill":
		off = scattered(p.Out) - rounded
	case "bore":
		off = j.toldBy(by)
		if !lapped {
			off += j.byMicrometer()
		}
	default:
		return
	}
	if p.Out-off < limit[0]-tiny || p.Out+off > limit[1]+tiny || p.Told < off-tiny {
		j.bad("predicted", "%s: %.4f by a %s is told to %.4f and may be %.4f off, of %.4f to %.4f",
			p.ID, p.Out, by.Kind, p.Told, off, limit[0], limit[1])
	}
}

// writtenHole returns the limits that are written for a bore or a cross hole.
func (j *judgement) writtenHole(id string) (limit [2]float64, ok bool) {
	for _, b := range j.bores {
		if b.id == id && b.limit != nil {
			return *b.limit, true
		}
	}
	for _, h := range j.holes {
		if h.id == id && h.limit != nil {
			return *h.limit, true
		}
	}
	return limit, false
}

// toldBy returns how far a step's diameter may be off: half of a division of the cross slide on the
// radius, and half of one of the micrometer, 0.01 mm or by eye 0.0004 in; a file goes by the
// micrometer alone.
func (j *judgement) toldBy(o operation) float64 {
	lead, divisions, dial := j.shop.dial("cross slide")
	off := j.byMicrometer()
	switch filed := o.Tool.Hand != nil && *o.Tool.Hand == "file"; {
	case filed || !dial:
		return off
	case j.shop.lathe.tree["readout"] == true:
		return off + math.Min(lead/divisions, 0.005)
	}
	return off + lead/divisions
}

// byMicrometer returns how far a reading of a micrometer may be off.
func (j *judgement) byMicrometer() float64 {
	unit := j.shop.lathe.in("cross_slide").text("unit")
	if unit == "in" || unit == "" && j.shop.unit != 1 {
		return 0.0002 * inch
	}
	return 0.005
}

// turnedLast returns the step that turned a place of the outside to a diameter.
func (j *judgement) turnedLast(z, dia float64) (last operation, ok bool) {
	for _, o := range j.plan.Operations {
		for _, r := range o.Removes {
			if o.Kind != "turn" || r.Shape != "outside" {
				continue
			}
			line := points(r.Profile)
			if line[0].z <= z && z <= line[len(line)-1].z && math.Abs(alongAfter(line, z)-dia) < 1e-4 {
				last, ok = o, true
			}
		}
	}
	return last, ok
}

// predictedLimit holds the limits of a prediction against the tables.
func (j *judgement) predictedLimit(p predicted) {
	sized := isWord(p.Kind, "diameter", "length", "place", "depth", "across-flats", "bore", "hole")
	if p.Low == nil || p.High == nil || !sized {
		return
	}
	if *p.Low > p.Drawn+tiny && p.Kind != "hole" && p.Kind != "bore" || *p.High < p.Drawn-tiny && p.Kind != "diameter" {
		return // a fit that leaves the nominal size
	}
	t := linear(j.general, p.Drawn)
	wide := *p.High - *p.Low
	for _, w := range j.writtenWidths() {
		if math.Abs(wide-w) < 2e-3 {
			return
		}
	}
	if wide > 2*t+2e-3 {
		j.bad("predicted", "%s: limits %.3f wide, and ISO 2768-1 %s has %.3f at %.3f", p.ID, wide, j.general, 2*t, p.Drawn)
	}
}

// writtenWidths returns how wide the limits are that the part file writes.
func (j *judgement) writtenWidths() []float64 {
	var all []float64
	for _, l := range j.limits {
		all = append(all, l.above-l.below)
	}
	for _, b := range j.bores {
		if b.limit != nil {
			all = append(all, b.limit[1]-b.limit[0])
		}
	}
	for _, h := range j.holes {
		if h.limit != nil {
			all = append(all, h.limit[1]-h.limit[0])
		}
	}
	return all
}

// predictedOut holds what is told to come out against the work that did.
func (j *judgement) predictedOut(p predicted) {
	if j.block || p.From == nil || p.To == nil {
		return
	}
	const same = 0.03
	came := j.came(p, math.Min(*p.From, *p.To), math.Max(*p.From, *p.To))
	for _, d := range came {
		if math.Abs(d-p.Out) <= same {
			return
		}
	}
	if len(came) > 0 {
		j.bad("predicted", "%s: %s %.3f is told and %.3f came out", p.ID, p.Kind, p.Out, came)
	}
}

// runsTo is the diameter at z of what lies on one side of it; where its edge is chamfered, what it
// would come to there as it goes on behind the chamfer, which is as long as a line of 45 deg takes
// to meet it.
func (j *judgement) runsTo(z, way float64) float64 {
	along, drawn := 0.001, alongAfter
	if way < 0 {
		drawn = alongBefore
	}
	for _, c := range j.chamfers {
		if rise := (drawn(j.outline, z+way*c.d) - drawn(j.outline, z)) / 2 / c.d; math.Abs(c.z-z) < 0.01 && rise < 1 {
			along = c.d/(1-rise) + 0.01
		}
	}
	if drawn(j.outline, z+way*along) == 0 {
		return j.work.diaAt(z + way*along)
	}
	return j.work.diaAt(z+way*along) + drawn(j.outline, z) - drawn(j.outline, z+way*along)
}

// came returns what came out at the places a prediction speaks of, nothing for
// a kind that the work does not show. A relief or a chamfer may lie at one of
// them.
func (j *judgement) came(p predicted, a, b float64) (came []float64) {
	switch p.Kind {
	case "taper-end":
		return []float64{j.runsTo(a, -1), j.runsTo(a, 1)}
	case "length":
		if p.ID == "length" {
			return []float64{j.work.right() - j.work.left()}
		}
	case "hole":
		for _, h := range j.work.cross {
			if math.Abs(h.z-a) < 0.3 {
				came = append(came, h.dia)
			}
		}
	}
	for _, f := range []float64{0.05, 0.25, 0.5, 0.75, 0.95} {
		z := a + f*(b-a)
		switch p.Kind {
		case "diameter", "thread-blank":
			came = append(came, j.work.diaAt(z))
		case "bore":
			came = append(came, j.work.hollow(z))
		}
	}
	return came
}
