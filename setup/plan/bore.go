package plan

import (
	"fmt"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/drills"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/walls"
	"setover/setup/plan/work"
	"setover/threads"
	"setover/threads/cut"
	"setover/threads/drill"
)

// bores makes the holes on the bar's axis, and the threads in them.
func bores(t *task) steps {
	var list []steps
	for i, b := range t.shape.Bores {
		how, because := t.sized(b)
		x := axial{task: t, Bore: b, n: i + 1, chucking: t.boredIn(b), how: how}
		x.open = t.opened(b, x.chucking.out)
		made, twist := x.make()
		list = append(list, made.offering(b.ID(), because...))
		for _, y := range b.Threads {
			list = append(list, x.thread(*y, twist.Name))
		}
	}
	return together(list...)
}

// sizing is how a bore is brought to its size: by a reamer, or by the drill or the boring
// bar; a through one begun at the other end than it usually is, or bored half from each; a
// blind one by the bar after a drill whose point stays above the floor. A through one that no line
// of the dial keeps is bored under its size and lapped.
type sizing struct {
	reamer *units.Length
	other  bool
	halves bool
	flat   bool
	lapped bool
}

// sized returns how a bore is brought to its size in this way, and of each method that it
// could be by what trouble it is, "" where none is but what it costs: as it is drilled where
// that keeps its limits, else reamed before it is bored; from one end before it is from both.
//
// Long: each method with what it is turned down for.
func (t *task) sized(b outline.Bore) (how sizing, because []say.Text) {
	var list []sizing
	add := func(s sizing, why say.Text) { list, because = append(list, s), append(because, why) }
	tools := []*units.Length{nil}
	_, exact := new(steps).drilledFor(t, b)
	switch r := t.reamerOf(b.Dia, t.limits.Bore(b)); {
	case r == nil || b.IsToMeasure() || !t.reamable(b):
	case exact:
		tools = append(tools, r)
	default:
		tools = []*units.Length{r, nil}
	}
	turned := b.Through && len(t.chuckings) > 1 && !t.fills(b)
	for i, r := range tools {
		why := say.Text("")
		switch {
		case i > 0 && exact:
			why = "it is reamed too, which its limits do not ask"
		case i > 0:
			why = "it is bored by measuring, where a reamer gives the size"
		}
		add(sizing{reamer: r}, why)
		if turned && r == nil && !exact {
			add(sizing{halves: true}, "half of it is bored from each end: they meet only as truly as it is gripped again")
		}
		if turned {
			add(sizing{reamer: r, other: true}, why)
		}
	}
	if b.Through && !exact && t.lappedToo(t.limits.Bore(b)) {
		const why = "it is lapped to size by hand, and tried with a plug gauge again and again"
		add(sizing{lapped: true}, why)
		if turned {
			add(sizing{lapped: true, halves: true}, why)
			add(sizing{lapped: true, other: true}, why)
		}
	}
	if !b.Through && t.belowFloor(b).Less(holes.PointLength(b.Dia, practice.PointAngle.Angle())) {
		add(sizing{flat: true}, "it is drilled smaller, and bored for its floor's sake")
	}
	return list[t.method(b.ID(), len(list))], because
}

// chuckingFor returns the chucking in which an end stands out, the first where
// none does.
func (t *task) chuckingFor(end part.End) chucking {
	for _, c := range t.chuckings {
		if c.out == end {
			return c
		}
	}
	return t.chuckings[0]
}

// belowFloor returns how far the point of a blind bore's drill may go below its floor: the
// usual wall is left.
func (t *task) belowFloor(b outline.Bore) units.Length {
	return t.shape.Length.Minus(b.Span.Length()).Minus(practice.LeastWall.Length(nil))
}

// boredIn returns the chucking in which a bore is begun: that in which its end
// stands out, but of one that is through the first where the part is held by a bore then, or
// sawn off and no wider bore is in its way there; and the other one where the way begins it there.
func (t *task) boredIn(b outline.Bore) chucking {
	wider := func(o outline.Bore) bool { return b.Dia.Less(o.Dia) && !o.Through && o.From == t.first }
	c := t.chuckingFor(b.From)
	if t.fills(b) || t.sawn && b.Through && !slices.ContainsFunc(t.shape.Bores, wider) {
		c = t.chuckings[0]
	}
	if how, _ := t.sized(b); how.other {
		return t.chuckingFor(other(c.out))
	}
	return c
}

// metal returns how deep a bore is drilled from an end: a through one to the floor of
// the widest that was bored before from the other end.
func (t *task) metal(b outline.Bore, from part.End) units.Length {
	deep := b.Span.Length()
	for _, o := range t.shape.Bores {
		if b.Through && !o.Through && b.Dia.Less(o.Dia) && o.From == t.first && from != t.first {
			deep = units.Min(deep, b.Span.Length().Minus(o.Depth))
		}
	}
	return deep
}

// tube returns the bore of the bar as it was bought, 0 of a solid one.
func (t *task) tube() units.Length {
	if s := t.round.Stock; s != nil && s.Shape == part.Tube {
		return s.Bore
	}
	return units.Length{}
}

// opened returns how wide the work is bored already where a bore is begun from an
// end: as the tube is, or as the widest of the narrower ones that are drilled
// before it.
func (t *task) opened(b outline.Bore, from part.End) units.Length {
	wide := t.tube()
	for _, o := range t.shape.Bores {
		out := t.boredIn(o).out
		if o.Dia.Less(b.Dia) && (out == from || o.Through && out == t.first && !t.halved(o)) {
			wide = units.Max(wide, o.Dia)
		}
	}
	return wide
}

// screwed returns a thread as it is cut: toward the headstock from the end that
// stands out.
func (t *task) screwed(x outline.Thread, inside bool) *work.Thread {
	s := inWork(x.Span)
	return &work.Thread{
		From: s.From, To: s.To, Spec: x.Spec, Inside: inside, Cut: work.ToHeadstock,
		Major: op.LenOf(x.Designation.Major),
	}
}

// axial is a bore as it is made: in which chucking, and how wide it is open before.
type axial struct {
	*task
	outline.Bore
	n        int // from 1, as in the file
	chucking chucking
	how      sizing
	open     units.Length
}

// base is what the operations over a span of the bore share.
func (x axial) base(c chucking, over op.Span) op.Op {
	return op.Op{
		Setup: c.axial, Feature: op.Feature{Kind: op.Bore, N: x.n}, Cuts: over, Axial: true, Dia: x.Dia,
	}
}

// lacksTailstock says that nothing is drilled on the axis of a lathe without a
// tailstock.
func (w *steps) lacksTailstock(t *task, id, what string) bool {
	if t.Shop.Lathe.Tailstock != nil {
		return false
	}
	w.no.Add(problem.New(problem.NotAvailable, id, nil, what,
		" on the lathe's axis wants a tailstock, and this shop's lathe has none (lathe: tailstock)"))
	return true
}

// make spots, drills and, where no drill has the size, reams or bores the hole.
// What a tube is bought with is left as it is.
func (x axial) make() (w steps, twist drills.Drill) {
	t, d := x.task, x.limits.Bore(x.Bore)
	if tube := t.tube(); x.Through && tube.Sign() > 0 && d.Holds(tube) {
		return w, twist
	}
	reamer, exact := x.how.reamer, false
	switch {
	case reamer != nil:
		twist = w.drillUnder(t, *reamer)
	case x.how.flat:
		twist = w.drillAbove(t, x.Bore)
	default:
		twist, exact = w.drilledFor(t, x.Bore)
	}
	comes := predict.Drilled(twist.Dia)
	if !exact && reamer == nil && comes.Cmp(x.open) <= 0 { // the bar goes into what is there
		return x.bored(steps{}, x.chucking, x.open), twist
	}
	if w.lacksTailstock(t, x.ID(), "drilling") {
		return w, twist
	}
	drill, c := x.drilled(&w, twist)
	name := x.words()
	finish := drill
	switch {
	case reamer != nil:
		finish = x.base(c, x.Span).As(x.ID()+"-ream", op.Ream, say.Of("ream to ", x.Dia), say.Of("reamer ", *reamer))
		depth := x.Span.Length()
		x.reamedTo(finish)
		finish.Removed(x.removal(c.out, *reamer, depth, units.Degrees(180)))
		finish.Push = op.Cut{Side: true}
		t.cut(w.add(finish), 1, cutting(feeds.Ream, x.Dia, depth))
		w.needs(finish.Tool.Name, say.Of("for a bore of ", x.Dia), true)
		finish.Foresee(d, name, *reamer, "reamed")
	case exact:
		foreseeDrilled(finish, d, name, twist)
	default:
		return x.bored(w, c, comes), twist
	}
	x.made(finish)
	return w, twist
}

// reamedTo says how deep the bore is reamed: out of the far end of one that is through
// by as much as its lead is under size, and below the depth of a blind one by that.
func (x axial) reamedTo(o *op.Op) {
	const how = "by hand pressure of the tailstock, never turned backwards"
	if lead := practice.ReamerLead.Length(); !x.Through {
		o.Set("depth", x.Span.Length().Plus(lead).Down(),
			how, "; ", lead, " of it below the depth that is drawn, for the lead")
		return
	}
	past := x.past(x.Bore)
	deep := x.metal(x.Bore, o.Setup.Out).Plus(past)
	x.goesOut(o, deep)
	o.Set("depth", deep.Up(), how, "; ", past, " of it past the far end, for the reamer's lead")
}

// goesOut notes how far a tool that goes so deep comes out of the far end of the part.
func (x axial) goesOut(o *op.Op, deep units.Length) {
	o.Past = op.LenOf(units.Max(deep.Minus(x.Span.Length()), units.Length{}))
}

// past returns how far the full diameter of a through bore's drill goes out of its far
// end: as far as the lead of the reamer or the tap that follows it.
func (t *task) past(b outline.Bore) units.Length {
	past := practice.Breakthrough.Length()
	if how, _ := t.sized(b); how.reamer != nil {
		past = past.Plus(practice.ReamerLead.Length())
	}
	for _, x := range b.Threads { // the tap's lead
		past = units.Max(past, x.Designation.Pitch.Length(practice.TapLeadBottoming.Number()))
	}
	return past
}

// toPoint returns how deep a drill of a bore goes to its point: of a through one past
// the far end of the metal.
func (t *task) toPoint(b outline.Bore, twist, metal units.Length, through bool) holes.Depth {
	if through {
		metal = metal.Plus(t.past(b))
	}
	return holes.DepthOf(twist, practice.PointAngle.Angle(), metal, false)
}

// made notes that an operation leaves the bore as it is to be.
func (x axial) made(o *op.Op) {
	o.Makes = append(o.Makes, x.ID())
	if !x.Through {
		how := "drilled to a mark"
		if x.how.reamer != nil {
			how = "reamed to a mark"
		}
		o.Foresee(x.limits.BoreDepth(x.Bore), say.Of("depth of the ", x.Dia, " bore"), x.Span.Length(), how)
	}
}

// removal is the bore from an end to a diameter, so deep.
func (x axial) removal(from part.End, dia, deep units.Length, point units.Angle) work.Bore {
	return work.Bore{
		From: from, Dia: op.LenOf(dia), Depth: op.LenOf(deep), Point: op.DegOf(point),
		Through: x.Through && deep.Cmp(x.Span.Length()) >= 0,
	}
}

// halved reports whether a bore is drilled from both ends: a through one that is
// deeper than its drill is fluted, where both ends stand out in turn.
func (t *task) halved(b outline.Bore) bool {
	if !b.Through || len(t.chuckings) < 2 || t.fills(b) {
		return false
	}
	if t.long {
		return practice.LongDrillFlute.Length(b.Dia).Less(t.throughDepth(b))
	}
	return t.deepThrough(b)
}

// deepThrough reports whether a bore goes through and is deeper than its drill is fluted.
func (t *task) deepThrough(b outline.Bore) bool {
	return b.Through && practice.DrillFlute.Length(b.Dia).Less(t.throughDepth(b))
}

// throughDepth returns how deep the drill of a through bore goes, its point and all.
func (t *task) throughDepth(b outline.Bore) units.Length {
	return t.toPoint(b, b.Dia, t.metal(b, t.boredIn(b).out), true).Total
}

// drilled drills the bore, from both ends where it is too deep for the drill. It
// returns the operation that ends it and the chucking of that.
func (x axial) drilled(w *steps, twist drills.Drill) (*op.Op, chucking) {
	long := x.Span.Length()
	if x.leads() {
		long = long.Plus(practice.ReamerLead.Length())
	}
	if !x.halved(x.Bore) {
		o := x.drill(w, x.chucking, twist, long, x.shape.FromEnd(x.From, long))
		x.wall(o, twist.Dia)
		return o, x.chucking
	}
	near, far := x.chucking, x.chuckingFor(other(x.chucking.out))
	half := long.Half()
	o := x.drill(w, near, twist, half, x.shape.FromEnd(near.out, half))
	x.wall(o, twist.Dia)
	o.Set("from both ends", long, "deep: the other half follows from the ", far.out, " end")
	x.open = x.opened(x.Bore, far.out)
	deep := long.Minus(half).Plus(practice.Breakthrough.Length())
	return x.drill(w, far, twist, deep, x.shape.FromEnd(far.out, long.Minus(half))), far
}

// leads reports whether the bore is blind and reamed: it is drilled deeper for the lead.
func (x axial) leads() bool { return x.how.reamer != nil && !x.Through }

// drill spots the end that stands out where there is metal to spot and nothing that the
// drill starts in, and drills from it so deep.
func (x axial) drill(w *steps, c chucking, twist drills.Drill, deep units.Length, over op.Span) *op.Op {
	id, base := x.ID(), x.base(c, over)
	if c.out != x.chucking.out { // the other half
		id += "-" + string(c.out)
	}
	if x.open.Sign() == 0 && !x.centred(c.out) {
		x.spot(w, base, id)
	}
	through, metal := x.Through && deep.Cmp(x.Span.Length()) >= 0, deep
	if through {
		metal = x.metal(x.Bore, c.out)
	}
	for i, p := range x.pilots(&base, twist, metal, through) {
		o := base.As(fmt.Sprintf("%s-pilot-%d", id, i+1), op.Drill, say.Of("drill ", p.Name, ", the pilot hole"), "")
		w.needs(say.Of("drill ", p.Name), say.Of("as a pilot for the ", x.Dia, " bore"), len(x.Shop.Drills) > 0)
		x.drillTo(w, o, c, p, deep, metal, through)
	}
	return x.drillTo(w, base.As(id+"-drill", op.Drill, say.Of("drill ", twist.Name), ""), c, twist, deep, metal, through)
}

// drillTo drills the bore by one drill so deep, or a pilot hole for it, out of the far end of
// the metal where it goes through.
func (x axial) drillTo(
	w *steps, o *op.Op, c chucking, twist drills.Drill, deep, metal units.Length, through bool,
) *op.Op {
	w.add(o)
	o.Tool.Name, o.Push = say.Of(twist.Name, " drill"), op.Cut{Side: true}
	if twist.Dia.Less(x.Dia) {
		o.Dia = twist.Dia
	}
	tip := x.toPoint(x.Bore, twist.Dia, metal, through)
	if through {
		x.goesOut(o, tip.Total)
	}
	o.Set("depth", tip.Total.Down(), "to the point, ", tip.Point, " of which is the point")
	o.Do = func(as work.State) {
		x.pecked(o, 1, twist.Dia, tip.Total, x.before(as, c.out))
	}
	x.fluted(w, o, twist, tip.Total)
	o.Removed(x.removal(c.out, predict.Drilled(twist.Dia), deep, practice.PointAngle.Angle()))
	if x.leads() {
		deeper(o)
	}
	return o
}

// before returns how wide the work is bored where the bore is begun.
func (x axial) before(as work.State, from part.End) units.Length {
	return as.Bore(op.LenOf(endOf(x.shape, from))).Length()
}

// spot starts the bore with a centre drill.
func (x axial) spot(w *steps, base op.Op, id string) {
	with := x.spotPilot(x.Dia)
	o := base.As(id+"-spot", op.Spot, say.Of("spot for the ", x.Dia, " bore"), w.centreDrill(x.task, with))
	pilot := units.Min(with, x.Dia.Half())
	mouth := units.Min(centreMouth(pilot), x.Dia)
	o.Push = op.Cut{Side: true}
	coneDeep(o, mouth, with)
	o.Removed(work.Centre{End: o.Setup.Out, Dia: op.LenOf(mouth), Pilot: op.LenOf(pilot)}, op.CentreHoleOK)
	x.cut(w.add(o), 1, cutting(feeds.Drill, units.Min(x.Dia, widestCentre())))
}

// fluted checks that a drill is fluted as deep as it goes.
func (x axial) fluted(w *steps, o *op.Op, twist drills.Drill, deep units.Length) {
	most, ok := w.fluted(o, twist.Dia, deep, practice.DrillFlute, practice.LongDrillFlute)
	if ok {
		return
	}
	point := holes.PointLength(twist.Dia, practice.PointAngle.Angle())
	remedy := say.Of("a hole ", most.Minus(point).Down(), " deep at the most")
	if x.Through && !x.halved(x.Bore) {
		remedy += ", or both ends to be reached in turn: from both it goes twice as deep"
	}
	o.Check(problem.NotReachable, false, op.With(deep.Up(), "deep to the drill's point"),
		op.With(most, "is the most that a twist drill of ", twist.Dia, " is fluted"), remedy)
}

// flutes is how long a tool is fluted, by its diameter.
type flutes interface {
	Length(dia units.Length) units.Length
}

// fluted returns how deep a tool goes at the most, and whether that is enough: an ordinary
// one, else one of a long series, which the tool is called then.
func (w *steps) fluted(o *op.Op, dia, deep units.Length, ordinary, long flutes) (most units.Length, ok bool) {
	if deep.Cmp(ordinary.Length(dia)) <= 0 {
		return ordinary.Length(dia), true
	}
	most = long.Length(dia)
	if deep.Cmp(most) > 0 {
		return most, false
	}
	o.Tool.Name += ", a long one"
	w.needs(o.Tool.Name, say.Of("to cut ", deep.Up(), " deep"), false)
	return most, true
}

// reamerOf returns the reamer of the drawer that keeps a bore's limits, or nil.
func (j *job) reamerOf(dia units.Length, d limits.Dimension) *units.Length {
	for i, r := range j.Shop.Reamers {
		if r.Equal(dia) && d.Holds(r) {
			return &j.Shop.Reamers[i]
		}
	}
	return nil
}

// bored bores what is open to a diameter to its size: all of it with the end out that
// its drill ends at, or half of it from each end.
func (x axial) bored(w steps, c chucking, from units.Length) steps {
	if !x.how.halves {
		return x.boredFrom(w, c, from, x.Span.Length())
	}
	near, far := x.chucking, x.chuckingFor(other(x.chucking.out))
	half := x.Span.Length().Half()
	w = x.boredFrom(w, near, from, half)
	return x.boredFrom(w, far, from, x.Span.Length().Minus(half).Plus(practice.Breakthrough.Length()))
}

// boredFrom bores what is open to a diameter to its size from an end so deep, with the
// bar that enters it there and reaches.
func (x axial) boredFrom(w steps, c chucking, from, depth units.Length) steps {
	deep, t, id := depth, x.task, x.ID()
	half := x.how.halves
	if half && c.out != x.chucking.out {
		id += "-" + string(c.out)
	}
	over := x.Span
	if half {
		over = x.shape.FromEnd(c.out, units.Min(depth, x.Span.Length().Half()))
	}
	o := w.add(x.base(c, over).As(id+"-bore", op.Bore, say.Of("bore to ", x.Dia), "boring bar"))
	o.Rough = x.how.lapped
	o.Push = op.Cut{Side: true}
	switch {
	case half:
		o.Set("depth", deep.Up(), "half of it, the other half from the ", other(c.out), " end")
		x.trued(o, c)
	case x.Through: // the edge runs out of the far end
		past := practice.Breakthrough.Length()
		deep = x.metal(x.Bore, c.out).Plus(past)
		x.goesOut(o, deep)
		o.Set("depth", deep.Up(), past, " of it past the far end")
	}
	in := cutting(feeds.Bore, x.Dia, deep)
	in.Bars = t.entering(from, deep)
	if len(in.Bars) == 0 {
		t.noBar(o, x, from, deep)
	}
	rough := practice.RoughDepth.Length(t.material)
	passes := int(x.Dia.Minus(from).Half().Steps(rough, units.Up)) + 1
	o.Set("depth a pass", rough, "a side at the most, in ", say.Count(int64(passes), "pass", "passes"),
		": the last takes ", practice.FinishDepth.Length(), " or less")
	if r := t.cut(o, passes, in); r.BoringBar != nil {
		o.Tool.Name = say.Of("boring bar ", r.BoringBar.Diameter)
		w.needs(o.Tool.Name, say.Of("for a bore of ", x.Dia), true)
	}
	if from.Equal(x.open) && c.out == x.chucking.out {
		x.wall(o, units.Length{})
	}
	last := t.lastBore(x, from, c)
	out := x.bringTo(o, last, from)
	o.Removed(x.removal(c.out, out, depth, units.Degrees(180)))
	if half && c.out == x.chucking.out {
		return w // the other half ends it
	}
	if x.how.lapped {
		return x.lap(w, o, c, out)
	}
	o.ForeseeTold(t.limits.Bore(x.Bore), x.words(), out, last.off, last.why)
	x.made(o)
	return w
}

// words names the bore where its size is told.
func (x axial) words() say.Text { return say.Of("bore from the ", x.From, ", ", x.Dia) }

// trued says how work runs true that was turned round between the halves of a bore, in what does not
// find its axis by itself: else there is a step where the halves meet.
func (x axial) trued(o *op.Op, c chucking) {
	if c.out == x.chucking.out || c.setup.Device != op.Chuck && c.setup.Device != op.FourJaw {
		return
	}
	o.Set(trueIt, x.task.trueTo(), "by indicator, before the first cut, on the half that is bored or "+
		"on what was turned with it: shim a jaw or tap it until it runs so, or there is a step where the halves meet")
}

// entering returns the boring bars that enter a hole as it stands and reach so deep.
func (t *task) entering(hole, deep units.Length) []shop.BoringBar {
	var list []shop.BoringBar
	for _, b := range t.Shop.BoringBars {
		if b.Diameter.Cmp(practice.BoringBarFill.Of(hole)) <= 0 && deep.Cmp(b.Reach) <= 0 {
			list = append(list, b)
		}
	}
	return list
}

// noBar says that no boring bar enters the hole and reaches, and what would: a
// larger drill first for the thinnest bar that reaches, or another bar.
func (t *task) noBar(o *op.Op, x axial, hole, deep units.Length) {
	most := practice.BoringBarFill.Of(hole)
	remedy := say.Of("a boring bar of at most ", most.Down(), " that reaches ", deep.Up(), " (boring_bars)",
		", or a reamer of ", x.Dia)
	var thin *shop.BoringBar
	for i, b := range t.Shop.BoringBars {
		if deep.Cmp(b.Reach) <= 0 && (thin == nil || b.Diameter.Less(thin.Diameter)) {
			thin = &t.Shop.BoringBars[i]
		}
	}
	if thin != nil {
		least := units.FromFloat(thin.Diameter.MM() / practice.BoringBarFill.Number())
		if least.Less(x.Dia) {
			remedy = say.Of("a drill of ", least.Up(), " or more first (drills), ", remedy)
		}
	}
	o.Check(problem.NotReachable, false, op.With(hole, "wide is the hole that the bar enters, ", deep.Up(), " deep"),
		say.Text("no boring bar on hand goes in and reaches"), remedy)
}

// wall checks the wall that the bore, with the thread in it, leaves to the
// outside, and the floor that is left below the point of the drill that begins it, 0
// where a bar does: the roots and the reliefs of outside threads and the flats of facets
// count.
func (x axial) wall(o *op.Op, drill units.Length) {
	dia := x.Dia
	for _, y := range x.Threads {
		dia = units.Max(dia, y.Designation.Major)
	}
	outside := x.core(x.Span)
	wall := outside.Minus(dia).Half()
	var limit units.Length // nothing to fail by, unless it is written
	least := practice.LeastWall.Length(nil)
	if x.round.MinWall != nil {
		limit, least = *x.round.MinWall, *x.round.MinWall
	}
	ok := wall.Sign() > 0 && wall.Cmp(limit) >= 0
	remedy := say.Of("a bore of at most ", outside.Minus(least.Times(2)).Down())
	if most := x.deepest(x.Bore, dia.Plus(least.Times(2))); most.Sign() > 0 {
		remedy += say.Of(", or one no deeper than ", most.Down())
	}
	o.Check(problem.WallTooThin, ok, op.With(wall.Down(), "of wall round the bore"), op.With(least, "wanted"), remedy)
	if ok && wall.Less(least) {
		o.Warn("thin-wall", "only ", wall.Down(), " of wall round the bore, under the usual ", least)
	}
	x.floor(o, drill, limit, least)
}

// floor checks what the point of a blind bore's drill leaves of the floor, which a
// boring bar leaves flat: to the far face where it is solid, else round the narrower bore
// that goes on. Less than an edge is broken by is none.
func (x axial) floor(o *op.Op, drill, limit, least units.Length) {
	if x.Through {
		return
	}
	floor := x.floorBelow(x.Bore, drill)
	point := x.shape.Length.Minus(x.Span.Length()).Minus(floor)
	if x.leads() {
		point = point.Plus(practice.ReamerLead.Length())
		floor = floor.Minus(practice.ReamerLead.Length())
	}
	if deep := x.opposite(x.Bore); deep.Sign() > 0 && floor.Less(deep) {
		o.Warn("thin-wall", "the points of the bores from both ends meet: ", deep.Minus(floor).Up(), " past one another")
	}
	limit = units.Max(limit, practice.BrokenEdge.Length())
	if floor.Cmp(limit) < 0 {
		o.Check(problem.WallTooThin, false, op.With(floor.Down(), "of floor is left by the drill's point"),
			op.With(units.Max(least, limit), "wanted"),
			"a bore no deeper than ", x.shape.Length.Minus(point).Minus(units.Max(least, limit)).Down())
	} else if floor.Less(least) {
		o.Warn("thin-wall", "only ", floor.Down(), " of floor is left by the drill's point, under the usual ", least)
	}
}

// floorBelow returns what the point of a drill leaves of the floor of a blind bore as it is drawn.
func (j *job) floorBelow(x outline.Bore, drill units.Length) units.Length {
	var behind, point units.Length // behind: how wide the floor is open
	for _, b := range j.shape.Bores {
		if b.Dia.Less(x.Dia) && (b.Through || b.From != x.From) {
			behind = units.Max(behind, b.Dia)
		}
	}
	if behind.Less(drill) {
		point = holes.ConeDepth(drill, behind, practice.PointAngle.Angle())
	}
	return j.shape.Length.Minus(x.Span.Length()).Minus(point)
}

// opposite returns how deep the deepest bore of the other end goes, that is blind and no
// narrower, with its drill's point: the narrower ones open the floor.
func (j *job) opposite(x outline.Bore) (deep units.Length) {
	for _, b := range j.shape.Bores {
		if b.From != x.From && !b.Through && !b.Dia.Less(x.Dia) {
			deep = units.Max(deep, b.Span.Length().Plus(holes.PointLength(b.Dia, practice.PointAngle.Angle())))
		}
	}
	return deep
}

// thread countersinks and threads the bore from one of its ends, in the chucking in
// which that stands out.
func (x axial) thread(y outline.Thread, twist string) steps {
	var w steps
	id := x.ID()
	if y.From != x.From { // the far end of a through bore has its own
		id += "-" + string(y.From)
	}
	if w.lacksTailstock(x.task, y.ID(), "tapping") {
		return w
	}
	n := nut{
		spec: y.Designation, length: y.Length, dia: x.Dia, deep: x.Depth, through: x.Through, drill: twist,
		thread: x.screwed(y, true),
	}
	return tapped(x.task, x.base(x.chuckingFor(y.From), y.Span), id, n, y.ID())
}

// deepest returns how deep a bore may go: to the first stretch that is thinner
// than need.
func (t *task) deepest(b outline.Bore, need units.Length) units.Length {
	most := t.shape.Length
	for _, x := range t.shape.Stretches {
		if t.core(x.Span).Cmp(need) >= 0 {
			continue
		}
		near := x.From
		if b.From == part.Right {
			near = t.shape.Length.Minus(x.To)
		}
		most = units.Min(most, near)
	}
	return most
}

// sameThread reports whether a tap or die cuts the thread.
func sameThread(have string, want threads.Designation) bool {
	h, err := threads.Parse(have)
	return err == nil && same(h, want)
}

func same(h, want threads.Designation) bool {
	return h.Major.Equal(want.Major) && h.Pitch.Equal(want.Pitch) && h.Form == want.Form &&
		h.Starts == want.Starts && h.Left == want.Left
}

// onHand reports whether one of a drawer's taps or dies cuts the thread.
func (j *job) onHand(list []string, want threads.Designation) bool {
	return slices.ContainsFunc(list, func(s string) bool {
		h, known := j.parsed[s]
		if !known {
			h, _ = threads.Parse(s)
			j.parsed[s] = h
		}
		return same(h, want)
	})
}

// screwCuts reports whether the lathe cuts threads with a single point.
func (j *job) screwCuts() bool {
	lathe := j.Shop.Lathe
	return lathe != nil && lathe.Leadscrew != nil && len(lathe.ChangeGears) > 0
}

// outsideThread chamfers, relieves and cuts the nth thread, on the outside.
func outsideThread(t *task, c chucking, x outline.Thread, n int) steps {
	var w steps
	spec, sizes := x.Designation, x.Designation.Sizes()
	feature := op.Feature{Kind: op.Thread, N: n}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("chamfer-%d", n), Kind: op.Chamfer, Name: say.Of("chamfer and relieve for ", spec), Setup: c.setup,
		Tool: op.Tool{Name: "chamfering tool", Hand: op.Form}, Feature: feature, Cuts: x.Span, Dia: sizes.Major,
	})
	cut := t.screwed(x, false)
	start := t.starts(o, x)
	have, byDie := t.onHand(t.Shop.Dies, spec), t.byDie(x)
	t.clearStart(o, c, x, start)
	wide, over := t.relieves(o, cut, x)
	o.Removed(chamfered(x, start), op.ThreadChamfer)
	t.formed(o, spec.Major, start)
	cut.RunOut = op.LenOf(wide)
	o = w.add(&op.Op{
		ID: fmt.Sprintf("thread-%d", n), Kind: op.Thread, Name: say.Of("cut ", spec, " with the die"), Setup: c.setup,
		Tool: op.Tool{Name: say.Of("die ", spec), Hand: op.Form}, Feature: feature, Cuts: over, Dia: sizes.Major,
		Root: sizes.MinorExternal, Makes: []string{x.ID()},
	})
	switch {
	case have && byDie:
		w.needs(o.Tool.Name, say.Of("for ", spec), true)
		putOn(o, c)
		t.byHand(o, atLead(feeds.Thread, spec), spec, x.Length)
		t.turnedDie(o, x)
	case !byDie:
		o.Name, o.Tool = say.Of("cut ", spec, " with a single point"), op.Tool{Name: "threading tool", Hand: op.Form}
		t.geared(o, spec)
		t.pointed(o, single{spec: spec, length: x.Length, out: wide})
	default:
		o.Name = say.Of("cut ", spec, " with a die")
		w.needs(o.Tool.Name, say.Of("for ", spec), false)
		o.Check(problem.NotAvailable, false, say.Of("no die ", spec, " is on hand (dies)"),
			say.Text("this lathe cuts no threads"), "a die ", spec)
		putOn(o, c)
		t.byHand(o, atLead(feeds.Thread, spec), spec, x.Length)
		t.turnedDie(o, x)
	}
	o.Set("length", x.Length, "of full thread")
	o.Removed(*cut)
	return w
}

// relieves says on the card where the tool of an outside thread runs out, and cuts the relief for it. It
// returns how wide that is, and what the thread is cut over.
func (t *task) relieves(o *op.Op, cut *work.Thread, x outline.Thread) (wide units.Length, over op.Span) {
	spec, long := x.Designation, x.Designation.Pitch.Length(practice.ReliefWidth.Number())
	wide, over = t.relief(x), x.Span
	switch neck := t.neck(x); {
	case neck.Sign() > 0:
		wide = units.Min(neck, long)
		over = grown(x, wide)
		o.Name = say.Of("chamfer for ", spec)
		o.Set("relief", op.With(neck.Down(), "wide"), "as it is drawn, behind the thread")
	case t.byDie(x) && t.runsOntoShank(x):
		wide = long
		o.Name = say.Of("chamfer for ", spec)
		o.Set("relief", say.Text("none"), "the die stops on the plain shank behind the thread")
	case wide.Sign() > 0:
		deep := reliefDia(x)
		o.Set("relief", op.With(wide.Down(), "wide"), "down to ", deep, ", behind the thread")
		groove := behind(inner(cut, x.From), op.LenOf(wide), x.From)
		o.Removed(work.Turned(groove, op.LenOf(deep), work.Finished), op.ThreadRelief)
	default:
		wide, _ = t.roomBehind(x)
		o.Set("relief", say.Text("none"), "the thread runs out at the end of the cylinder")
	}
	return wide, over
}

// byDie reports whether an outside thread is cut with a die in this way.
func (t *task) byDie(x outline.Thread) bool {
	return t.onHand(t.Shop.Dies, x.Designation) && !(t.single && t.screwCuts()) || !t.screwCuts()
}

// runsOntoShank reports whether a die has room for its lead behind an outside thread, on the shank
// there and past it: no relief is cut then.
func (t *task) runsOntoShank(x outline.Thread) bool {
	room, _ := t.roomBehind(x)
	return room.Sign() > 0 && x.Designation.Pitch.Length(practice.ReliefWidth.Number()).Cmp(t.freeBehind(x)) <= 0
}

// turnedDie says how a die cuts full thread up to a shoulder that its lead does not pass: turned
// round, since that is ground on one side of it alone.
func (t *task) turnedDie(o *op.Op, x outline.Thread) {
	if t.freeBehind(x).Cmp(x.Designation.Pitch.Length(practice.ReliefWidth.Number())) >= 0 {
		return
	}
	o.DieTurned = true
	o.Set("turn round", say.Text("the die"), "when it comes up to the shoulder its lead leaves the last turns shallow: "+
		"wind it off, put it in its holder the other way round, and run it down again, its short side first, to the groove")
	o.Minutes += practice.ThreadMinutes.Number()
}

// clearStart cuts a groove beside the start of an outside thread, where a stub for the centre stands
// higher there than the thread's root: the tools begin in it.
func (t *task) clearStart(o *op.Op, c chucking, x outline.Thread, start units.Length) {
	if c.stub.Cmp(start) <= 0 {
		return
	}
	to := units.Min(reliefDia(x), start)
	wide := units.Max(t.plunger(), x.Designation.Pitch.Length(practice.ReliefWidth.Number()))
	end := endOf(t.shape, c.out)
	span := behind(op.LenOf(end), op.LenOf(wide), other(c.out))
	o.Set("groove first", to.Down(), "the stub of ", c.stub, " stands beside the start of the thread: go in there ",
		"with the ", t.blade(), " to this diameter, ", wide.Up(), " wide, beyond the end at z ", end,
		"; the chamfer is cut out of it, and the thread begins in it")
	o.Removed(work.Turned(span, op.LenOf(to), work.Rough))
}

// blade returns what a groove beside an edge is cut with.
func (j *job) blade() say.Text {
	if j.Shop.Parting != nil {
		return "parting blade"
	}
	return "grooving tool"
}

// starts says on the card how a thread is chamfered where it starts, and returns the diameter at
// the end: down to its root, or by more where more is drawn there. It is one cut, and makes the
// chamfer that is drawn.
func (t *task) starts(o *op.Op, x outline.Thread) units.Length {
	root := x.Designation.Sizes().MinorExternal
	drawn, ok := t.drawnStart(x)
	if ok {
		o.Makes = append(o.Makes, drawn.ID())
	}
	to := units.Min(root, x.Designation.Major.Minus(drawn.Size.Times(2)))
	note := say.Text("45 deg, down to the root")
	switch {
	case ok && to.Less(root):
		note = say.Of("45 deg, ", drawn.Size, " as it is drawn, below the root")
	case ok:
		note = say.Of("45 deg, down to the root: the ", drawn.Size, " that is drawn does not clear it")
	}
	o.Set("chamfer to", op.With(to.Down(), "at the end"), note)
	return to
}

// putOn lets a die go on over the end that stands out: no centre is in it then.
func putOn(o *op.Op, c chucking) {
	o.OnEnd = true
	if o.Setup.Support == op.AtCentre {
		o.Setup = c.axial
	}
}

// relief returns how wide the relief is that is cut behind an outside thread: as
// practice has it, where its cylinder has more than that room; else all of it, up to the
// shoulder, so that no collar is left that a tool or a die runs into. Of a cylinder that has
// limits of its own half is left, but no less cut than a tool wants.
// None is cut where the drawing has a neck there, or no room.
func (j *job) relief(x outline.Thread) units.Length {
	return remembered(j.reliefsOf, x.N, func() units.Length { return j.cutBehind(x) })
}

// cutBehind is relief as it is found.
func (j *job) cutBehind(x outline.Thread) units.Length {
	pitch := x.Designation.Pitch
	want, least := pitch.Length(practice.ReliefWidth.Number()), pitch.Length(practice.LeastRunOut.Number())
	switch room, fits := j.roomBehind(x); {
	case want.Less(room):
		return want
	case least.Less(room) && fits:
		return units.Max(least, room.Half())
	case least.Cmp(room) <= 0:
		return room
	}
	return units.Length{}
}

// relieved returns how wide the relief is that is cut behind an outside thread in this way.
func (t *task) relieved(x outline.Thread) units.Length {
	if t.neck(x).Sign() > 0 || t.byDie(x) && t.runsOntoShank(x) {
		return units.Length{}
	}
	return t.relief(x)
}

// jawsBehind returns how far behind a place the jaws stand for the sake of what is cut in a grip: past
// the relief of an outside thread, or the lead of a die, and clear of it; clear of a file.
func (t *task) jawsBehind(c chucking, z units.Length) units.Length {
	out, clear := c.out, t.fileBehind(c.out, z, c.stretches)
	for _, x := range t.shape.Threads {
		if x.Inside || x.From != out {
			continue
		}
		pitch, past := x.Designation.Pitch, x.Span.To.Minus(z)
		if out == part.Right {
			past = z.Minus(x.Span.From)
		}
		wants := t.relieved(x)
		if t.byDie(x) && t.runsOntoShank(x) {
			wants = pitch.Length(practice.ReliefWidth.Number())
		}
		wants = units.Max(wants, pitch.Length(practice.LeastRunOut.Number())).Plus(practice.JawClear.Length())
		clear = units.Max(clear, past.Plus(wants))
	}
	return clear
}

// neck returns how wide the relief is that is drawn behind an outside thread: what lies
// there is no larger than the thread's root, and wide enough for the tool to run out. 0
// where it is none.
func (j *job) neck(x outline.Thread) units.Length {
	return remembered(j.necks, x.N, func() units.Length { return j.drawnBehind(x) })
}

// drawnBehind is neck as it is found.
func (j *job) drawnBehind(x outline.Thread) units.Length {
	pitch, list := x.Designation.Pitch, j.shape.Stretches
	end, step, i := x.Span.To, 1, 0
	if x.From == part.Right {
		end, step, i = x.Span.From, -1, len(list)-1
	}
	root := x.Designation.Sizes().MinorExternal
	var wide units.Length
	for ; 0 <= i && i < len(list); i += step {
		near, far := list[i].From, list[i].To
		if step < 0 {
			near, far = far, near
		}
		switch {
		case !near.Equal(end):
		case root.Less(list[i].Large()):
			i = -2 // it ends here
		default:
			wide, end = wide.Plus(list[i].Length()), far
		}
	}
	if wide.Less(pitch.Length(practice.LeastRunOut.Number())) {
		return units.Length{}
	}
	return wide
}

// core returns the diameter of the largest rod inside the outside over a span as it is
// cut: the reliefs of outside threads are less than the drawing.
func (j *job) core(over op.Span) units.Length {
	d := j.shape.Core(over)
	for _, r := range j.reliefs() {
		if r.Span.Overlaps(over) {
			d = units.Min(d, r.Dia)
		}
	}
	return d
}

// reliefs returns the reliefs that are cut behind outside threads.
func (j *job) reliefs() []walls.Relief {
	var list []walls.Relief
	for _, x := range j.shape.Threads {
		wide := j.relief(x)
		if x.Inside || wide.Sign() <= 0 || j.neck(x).Sign() > 0 {
			continue
		}
		s := op.Span{From: x.Span.To, To: x.Span.To.Plus(wide)}
		if x.From == part.Right {
			s = op.Span{From: x.Span.From.Minus(wide), To: x.Span.From}
		}
		list = append(list, walls.Relief{Span: s, Dia: reliefDia(x)})
	}
	return list
}

// reliefDia is the diameter of the relief behind an outside thread.
func reliefDia(x outline.Thread) units.Length {
	return x.Designation.Major.Minus(x.Designation.Pitch.Length(practice.ReliefDepth.Number()))
}

// chamfered returns the chamfer at a thread's end, down to its root.
func chamfered(x outline.Thread, root units.Length) work.Outside {
	s, major, low := inWork(x.Span), op.LenOf(x.Designation.Major), op.LenOf(root)
	long := (major - low) / 2
	if x.From == part.Right {
		return work.Outside{Profile: []work.Point{{Z: s.To - long, Dia: major}, {Z: s.To, Dia: low}}, Stage: work.Finished}
	}
	return work.Outside{Profile: []work.Point{{Z: s.From, Dia: low}, {Z: s.From + long, Dia: major}}, Stage: work.Finished}
}

// inner returns the z of a thread's end that lies inward of the end it is cut
// from.
func inner(x *work.Thread, from part.End) op.Len {
	if from == part.Right {
		return x.From
	}
	return x.To
}

// grown returns the span of an outside thread with what its tool runs out over.
func grown(x outline.Thread, by units.Length) op.Span {
	s := x.Span
	if x.From == part.Left {
		s.To = s.To.Plus(by)
	} else {
		s.From = s.From.Minus(by)
	}
	return s
}

// atLead is the question of how a thread is cut, at its lead as the feed.
func atLead(what feeds.Operation, spec threads.Designation) feeds.Input {
	in := cutting(what, spec.Major)
	in.Feed = new(units.MillimetresPerRev(spec.Lead().MM()))
	return in
}

// geared gears the lathe for a thread.
func (t *task) geared(o *op.Op, spec threads.Designation) {
	lathe := t.Shop.Lathe
	o.Setup.State.Lead = op.LeadOf(spec.Lead())
	r, err := cut.Gears(cut.GearsInput{
		Thread: cut.Of(spec), Leadscrew: lathe.Leadscrew, Wheels: lathe.ChangeGears, StudRatio: lathe.StudRatio, Most: 4,
		Space: lathe.BanjoClearance,
	})
	if err != nil || len(r.Trains) == 0 {
		o.Check(problem.NotReachable, false, say.Text("no train of these wheels cuts it"),
			say.Of("its lead is ", spec.Lead()),
			"a wheel more, or a die")
		return
	}
	best := r.Trains[0]
	note := say.Text("driver over driven, from the stud to the leadscrew; exact")
	if best.PPM != 0 {
		off := units.FromFloat(float64(best.Per100))
		note = say.Of("driver over driven; ", say.Num(float64(best.PPM), 1), " ppm off, ",
			off.Fine(), " over ", units.Millimetres(100))
	}
	o.Set("gears", say.Text(best.Text()), note)
	o.Stands.Gears = best.Text()
}

// freeBehind returns how far it is from the inner end of an outside thread to what stands higher, or
// to another thread: the length of the part where there is none.
func (j *job) freeBehind(x outline.Thread) units.Length {
	free := j.shape.Length
	for _, s := range j.shape.Stretches {
		near := s.From.Minus(x.Span.To)
		if x.From == part.Right {
			near = x.Span.From.Minus(s.To)
		}
		if near.Sign() >= 0 && (s.Thread != nil || x.Designation.Major.Less(s.Large())) {
			free = units.Min(free, near)
		}
	}
	return free
}

// roomBehind returns how much of its cylinder is left behind a thread, up to another one, and
// whether that has limits of its own.
func (j *job) roomBehind(x outline.Thread) (room units.Length, fits bool) {
	list := slices.Clone(j.shape.Stretches)
	end := x.Span.To
	if x.From == part.Right {
		slices.Reverse(list)
		end = x.Span.From
	}
	var dia units.Length
	for _, s := range list {
		far := s.To
		if x.From == part.Right {
			far = s.From
		}
		switch {
		case s.Overlaps(x.Span):
			dia = s.Left.Turned
		case dia.Sign() > 0 && s.Kind() == outline.Cylinder && s.Thread == nil && s.Left.Turned.Equal(dia):
			d := j.limits.Outside(s)
			room, fits = far.Minus(end).Abs(), fits || d.Known() && !d.General
		case dia.Sign() > 0:
			return room, fits
		}
	}
	return room, fits
}

// nut is a thread in a hole that is drilled to dia, deep to its full diameter.
type nut struct {
	spec      threads.Designation
	length    units.Length // of full thread
	dia, deep units.Length
	through   bool
	thread    *work.Thread // as it is cut in a bar, nil in a block
	drill     string       // that the hole was drilled with, by name
}

// threaded takes the thread out of a bar from where there is metal for it.
func (n nut) threaded(o *op.Op) {
	if n.thread == nil {
		return
	}
	o.Do = func(as work.State) {
		x, beyond := *n.thread, practice.LeastRunOut // what a point is drawn out over
		if o.Kind == op.Tap {                        // its lead goes on beyond the full thread
			beyond = practice.TapLeadBottoming
		}
		x.RunOut = op.LenOf(n.spec.Pitch.Length(beyond.Number()))
		start := metalFrom(as, o.Setup.Out, x.Major)
		if o.Setup.Out == part.Right {
			x.To = min(x.To, as.Length-start)
		} else {
			x.From = max(x.From, start)
		}
		if start > 0 {
			o.Set("full thread", (x.To - x.From).Length(), "of it: from ", start.Length(), " deep on, behind the counterbore")
		}
		o.Removed(x)
	}
}

// metalFrom returns how deep from an end there is metal for a diameter: below the
// counterbores that are wider, where the points of their drills have narrowed to it.
func metalFrom(as work.State, end part.End, dia op.Len) op.Len {
	start := op.Len(0)
	for _, b := range as.Bores {
		if b.From != end || b.Opens || b.Through || b.Dia <= dia {
			continue
		}
		point := holes.ConeDepth(b.Dia.Length(), dia.Length(), b.Point.Angle())
		start = max(start, b.Depth+op.LenOf(point))
	}
	return start
}

// tapped countersinks and threads a hole: with the tap on hand, else with a
// single point where that goes in. base is what the hole's operations share, id
// how their names begin, and makes the thread's own id.
func tapped(t *task, base op.Op, id string, n nut, makes string) steps {
	var w steps
	mouth := practice.ThreadMouth.Of(n.spec.Major)
	o := w.add(base.As(id+"-countersink", op.Countersink, say.Of("countersink for ", n.spec), "countersink"))
	o.Set("to", mouth, say.Num(practice.ThreadMouth.Number(), 2), " of the thread")
	t.cut(o, 1, cutting(feeds.Countersink, mouth))
	o.Push = op.Cut{Side: true}
	if n.thread != nil {
		wide, hole := op.LenOf(mouth), op.LenOf(n.dia)
		o.Do = func(as work.State) {
			b := work.Bore{From: base.Setup.Out, Dia: wide, EndDia: hole, Point: 180e6, Opens: true}
			b.Start = metalFrom(as, b.From, wide)
			b.Depth = b.Start + (wide-hole)/2
			if b.Start > 0 {
				o.Set("starts", b.Start.Length(), "from the face, where the counterbore's point is as narrow")
			}
			o.Removed(b, op.CountersinkOK)
		}
	}

	have := t.onHand(t.Shop.Taps, n.spec)
	if !have && base.Setup.Machine == op.Lathe && t.screwCuts() && n.dia.Cmp(practice.InsideThreadBore.Length()) >= 0 {
		p := w.add(base.As(id+"-thread", op.Thread, say.Of("cut ", n.spec, " inside with a single point"),
			"inside threading tool"))
		p.Tool.Hand, p.Makes = op.Form, []string{makes}
		n.threaded(p)
		t.geared(p, n.spec)
		p.Set("depth", n.length.Up(), "of full thread: stop in a relief or pull out at the mark")
		t.pointed(p, single{spec: n.spec, length: n.length, out: n.runsOut(), inside: true})
		return w
	}
	p := w.add(base.As(id+"-tap", op.Tap, say.Of("tap ", n.spec), say.Of("tap ", n.spec)))
	p.Makes = []string{makes}
	n.threaded(p)
	if w.needs(p.Tool.Name, say.Of("for ", n.spec), have); !have {
		p.Check(problem.NotAvailable, false, say.Of("no tap ", n.spec, " is on hand (taps)"),
			say.Text("a single point does not cut it there either"), "a tap ", n.spec)
	}
	if n.through && n.thread != nil { // where bar is behind the hole ends in it
		p.Set("depth", n.length.Up(), "of full thread: the bottoming tap last, whose lead of ",
			n.spec.Pitch.Length(practice.TapLeadBottoming.Number()), " goes into the hole beyond")
	} else {
		p.Set("depth", n.length.Up(), "of full thread")
	}
	p.Set("thread", sheet.Number{V: drill.Percent(n.spec, n.dia), Unit: "%"},
		"of full depth at the drawn bore (100 % = 1.299038 P)")
	if best, ok := t.tapDrill(n.spec, n.length); ok && best.Name != n.drill {
		p.Set("tap drill", best.Dia, best.Name, " is nearer to what suits this material; the drawing says ", n.dia)
	}
	if !n.through {
		room, lead := n.deep.Minus(n.length), n.spec.Pitch.Length(practice.TapLeadBottoming.Number())
		p.Check(problem.TravelShort, room.Cmp(lead) >= 0, op.With(room, "of hole beyond the thread"),
			op.With(lead, "wanted, the lead of a bottoming tap (2 P)"), "drill the hole ", lead.Minus(room), " deeper")
	}
	t.byHand(p, atLead(feeds.Tap, n.spec), n.spec, n.length)
	return w
}

// tapDrill returns the drill that suits a thread in this material, so deep, and
// whether there is one.
func (j *job) tapDrill(spec threads.Designation, length units.Length) (drills.Drill, bool) {
	key := hole{feature: spec.String(), low: op.LenOf(length)}
	c, known := j.chosenDrills[key]
	if !known {
		c = j.suiting(spec, length)
		j.chosenDrills[key] = c
	}
	return c.Drill, c.good
}

// suiting asks for the tap drill.
func (j *job) suiting(spec threads.Designation, length units.Length) choice {
	drawer := "shop"
	if len(j.Shop.Drills) == 0 {
		drawer = "all"
	}
	best, err := drill.For(drill.Input{
		Thread: spec, Material: j.material.Name, Depth: &length, Drills: drawer, Drawer: j.Shop.Drills,
	})
	if err != nil || best.Recommended == nil {
		return choice{}
	}
	found, err := drills.Find(*best.Recommended)
	return choice{found, err == nil}
}

// drilledFor returns the drill for a bore: the tap drill of the thread in it
// where its hole keeps the drawing's limits, else the one that comes nearest.
func (w *steps) drilledFor(t *task, b outline.Bore) (twist drills.Drill, exact bool) {
	d := t.limits.Bore(b)
	for _, x := range b.Threads {
		if best, ok := t.tapDrill(x.Designation, x.Length); ok && drilledKeeps(d, best.Dia) {
			w.needs(say.Of("drill ", best.Name), say.Of("for ", x.Designation), len(t.Shop.Drills) > 0)
			return best, true
		}
	}
	if c := t.chosenFor(d); !c.good || b.IsToMeasure() {
		key := hole{feature: "before " + b.ID()}
		before, known := t.chosenDrills[key]
		if !known {
			before.Drill = t.beforeBar(b, c)
			t.chosenDrills[key] = before
		}
		best := before.Drill
		w.needs(say.Of("drill ", best.Name), say.Of("before boring to ", d.Drawn), len(t.Shop.Drills) > 0)
		return best, false
	}
	return w.drill(t, d)
}
