package plan

import (
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/certify"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
	"setover/threads"
)

// job is a part to be made in a shop: what does not depend on how it is held.
type job struct {
	Input
	round    *part.Round
	block    *part.Block
	material *materials.Material
	shape    *outline.Outline // of a round part
	limits   *limits.Limits
	bar      units.Length // its diameter
	rack     *shop.Bar    // the one on hand that was chosen
	cleared  map[cone]mounted
	reached  map[reached]sharpened
	plunging map[plungeKey]plunges

	certifies    *certify.Job
	drawer       []twist
	chosenDrills map[hole]choice
	pilotsOf     map[piloted][]drills.Drill
	parsed       map[string]threads.Designation // of the taps and dies on hand
	runs         map[question]answered
	necks        map[int]units.Length // behind outside threads, by their numbers
	reliefsOf    map[int]units.Length
	leadsFit     map[string]bool // whether a reamer's lead has room below a blind bore or hole, by its id
	walled       *walled
	choices      []string      // the features that may be made by several methods
	pinned       map[int]uint8 // the method of some of them that every way takes, by their places
	looked       int           // how many ways to make it were put in order
	most         int           // how many a search looks into where none passes
	stood        standing      // what said no to all that was looked into
}

// remembered returns what is known of a key, and finds it out where nothing is.
func remembered[K comparable, V any](known map[K]V, key K, find func() V) V {
	v, ok := known[key]
	if !ok {
		v = find()
		known[key] = v
	}
	return v
}

// task is what the planners of features read: the job, the way the part is
// held, and what is done already. None of them changes it.
type task struct {
	*job
	way
	near, far []outline.Stretch // what is cut in the first grip, and in the second
	chuckings []chucking
	clamps    clampings // of a block
	blank     Blank
}

// newJob reads a part. It fails on a material, a thread or a row of holes that
// does not exist.
func newJob(in Input) (*job, error) {
	m, err := materials.Find(in.Part.Material)
	if err != nil {
		return nil, placed(err, in.Part.MaterialAt)
	}
	in.Name = in.Part.Name
	j := &job{
		Input: in, round: in.Part.Round, block: in.Part.Block, material: m, cleared: map[cone]mounted{},
		reached: map[reached]sharpened{}, plunging: map[plungeKey]plunges{},
		chosenDrills: map[hole]choice{}, pilotsOf: map[piloted][]drills.Drill{},
		parsed: map[string]threads.Designation{}, runs: map[question]answered{},
		necks: map[int]units.Length{}, reliefsOf: map[int]units.Length{}, leadsFit: map[string]bool{}, most: maxTries,
	}
	if j.round != nil {
		if j.shape, err = outline.New(j.round); err != nil {
			return nil, err
		}
	}
	if j.limits, err = limits.Of(in.Part, j.shape); err != nil {
		return nil, err
	}
	j.certifies = certify.NewJob(j.Shop, m, j.shape, j.limits)
	if j.round == nil {
		return j, nil
	}
	j.certifies.Centres = j.round.Centres
	skim, step := j.barFigures()
	j.bar = j.shape.Largest().Plus(skim).RoundTo(step, units.Up)
	if j.round.Stock != nil {
		j.bar = j.round.Stock.Round()
	}
	return j, nil
}

// unfit returns the features that have no place on the part.
func (j *job) unfit() problem.List {
	if j.round == nil {
		return outline.UnfitBlock(j.block)
	}
	return j.shape.Unfit()
}

// placed puts every problem of err at a place of the part file, under its own
// key.
func placed(err error, pos problem.Pos) error {
	var list problem.List
	list.Add(err)
	for i, p := range list {
		list[i] = p.In(pos)
		if p.At.Key != "" {
			list[i].At.Key = p.At.Key
		}
	}
	return list.Err()
}

// steps is what the planner of a feature returns: the operations that make it
// and what is to be said of them.
type steps struct {
	ops      []*op.Op
	kit      []Kit
	further  []further // what would clear if it stood further out of the jaws
	offers   []offer   // the methods that its features could be made by
	warnings sheet.Warnings
	no       problem.List // why it cannot be made here
	wrong    problem.List // what the part file asks for and no shop makes
}

// further is how much further out of the jaws the work would have to stand for a
// tool to clear, and which end stands out.
type further struct {
	out part.End
	by  op.Len
}

// together puts work together. A centre, the roll datum or a tool that several
// planners ask for is there once.
func together(list ...steps) steps {
	var all steps
	for _, w := range list {
		for _, o := range w.ops {
			made := slices.ContainsFunc(all.ops, func(p *op.Op) bool { return p.ID == o.ID })
			if !made || o.Kind != op.Centre && o.Kind != op.Datum {
				all.ops = append(all.ops, o)
			}
		}
		for _, k := range w.kit {
			all.needs(k.Name, k.Needed, k.Have)
		}
		all.further, all.offers = append(all.further, w.further...), append(all.offers, w.offers...)
		all.warnings, all.no = append(all.warnings, w.warnings...), append(all.no, w.no...)
		all.wrong = append(all.wrong, w.wrong...)
	}
	return all
}

func (w *steps) add(o *op.Op) *op.Op {
	w.ops = append(w.ops, o)
	return o
}

// needs notes a tool of the kit, once.
func (w *steps) needs(name, needed say.Text, have bool) {
	if k := (Kit{name, needed, have}); !slices.Contains(w.kit, k) {
		w.kit = append(w.kit, k)
	}
}

// What a size is owed to.
const (
	byCrossSlide = "the nearest line of the cross slide's dial"
	byLastLine   = "the last line of the cross slide's dial that keeps it"
	byShortLine  = "the last line of the cross slide's dial that is not past it"
	byPolishing  = "filed and polished to the micrometer"
	byFiling     = "filed to the arc, from the dial's last line that is not below it"
	byTable      = "the nearest line of the table's dial"
	byMeasuring  = "no dial: turned to a measured size"
)

func drilledWith(d drills.Drill) say.Text {
	return say.Of("drilled ", d.Name, "; a drill cuts a little over its size")
}

// drilledKeeps reports whether the hole of a drill keeps limits: those that are written with all
// that it scatters, since they are what another part goes by; the general ones, which are what
// holes drilled by this trade come to, with the mean of it.
//
// Source: ISO 2768-1:1989, clause 5 and annex A: what is beyond a general tolerance is no reject by
// itself.
func drilledKeeps(d limits.Dimension, with units.Length) bool {
	return keep([]kept{{Dimension: d}}, predict.Drilled(with), drilledTold(d, with))
}

// drilledTold returns how far the hole of a drill may be off what is told of it, either way: 0 of one
// that has the general tolerance, of which the mean is told.
func drilledTold(d limits.Dimension, with units.Length) units.Length {
	if d.General {
		return units.Length{}
	}
	return predict.DrilledOff(with)
}

// foreseeDrilled notes the diameter of a hole that is drilled to its size.
func foreseeDrilled(o *op.Op, d limits.Dimension, words say.Text, with drills.Drill) {
	off := drilledTold(d, with.Dia)
	o.ForeseeTold(d, words, predict.Drilled(with.Dia), off, drilledWith(with))
}

// twist is a drill of the drawer and the hole it makes.
type twist struct {
	drills.Drill
	hole, off units.Length // off: as far as it may be off that, either way
}

// told is drilledTold of it.
func (x twist) told(d limits.Dimension) units.Length {
	if d.General {
		return units.Length{}
	}
	return x.off
}

// twists returns the drawer, or every size made where the shop has no list, with
// the hole that each drill makes.
func (j *job) twists() []twist {
	if j.drawer == nil {
		from := j.Shop.Drills
		if len(from) == 0 {
			from = drills.All()
		}
		for _, d := range from {
			j.drawer = append(j.drawer, twist{d, predict.Drilled(d.Dia), predict.DrilledOff(d.Dia)})
		}
	}
	return j.drawer
}

// drill returns the drill for a hole and notes it: of those whose hole keeps the
// limits the one nearest to the size that is drawn. good is false when none does,
// and the next smaller one is taken: the hole must be bored out.
func (w *steps) drill(t *task, d limits.Dimension) (chosen drills.Drill, good bool) {
	c := t.chosenFor(d)
	why := say.Of("for a hole of ", d.Drawn)
	if !c.good {
		why = say.Of("before boring to ", d.Drawn)
	}
	w.needs(say.Of("drill ", c.Name), why, len(t.Shop.Drills) > 0)
	return c.Drill, c.good
}

// chosenFor is nearest, asked once for each hole.
func (j *job) chosenFor(d limits.Dimension) choice {
	key := hole{d.Feature, op.LenOf(d.Low), op.LenOf(d.High)}
	c, known := j.chosenDrills[key]
	if !known {
		c = j.nearest(d)
		j.chosenDrills[key] = c
	}
	return c
}

// hole is what a drill was chosen for.
type hole struct {
	feature   string
	low, high op.Len
}

// choice is the drill that was chosen for a hole, and whether its hole is good.
type choice struct {
	drills.Drill
	good bool
}

// nearest chooses a drill for a hole.
func (j *job) nearest(d limits.Dimension) choice {
	var best, under *twist
	off := func(x *twist) units.Length { return x.Dia.Minus(d.Drawn).Abs() }
	all := j.twists()
	for i := range all {
		x := &all[i]
		switch {
		case d.Holds(x.hole.Minus(x.told(d))) && d.Holds(x.hole.Plus(x.told(d))):
			if best == nil || off(x).Less(off(best)) {
				best = x
			}
		case x.hole.Plus(x.told(d)).Less(d.Low) && (under == nil || under.Dia.Less(x.Dia)):
			under = x
		}
	}
	switch {
	case best != nil:
		return choice{best.Drill, true}
	case under != nil:
		return choice{under.Drill, false}
	}
	return choice{all[0].Drill, false}
}

// drillAbove returns the largest drill that leaves something of a blind bore for the boring
// bar and whose point leaves the usual wall of the floor; the smallest where none does.
func (w *steps) drillAbove(t *task, b outline.Bore) drills.Drill {
	room := t.belowFloor(b)
	var best, least *twist
	for i, x := range t.twists() {
		point := holes.PointLength(x.Dia, practice.PointAngle.Angle())
		fits := x.hole.Plus(practice.LeaveTurning.Length()).Less(b.Dia) && point.Cmp(room) <= 0
		if fits && (best == nil || best.Dia.Less(x.Dia)) {
			best = &t.drawer[i]
		}
		if least == nil || x.Dia.Less(least.Dia) {
			least = &t.drawer[i]
		}
	}
	if best == nil {
		best = least
	}
	w.needs(say.Of("drill ", best.Name), say.Of("before boring to ", b.Dia), len(t.Shop.Drills) > 0)
	return best.Drill
}

// drillUnder returns the largest drill that leaves something for the reamer.
func (w *steps) drillUnder(t *task, dia units.Length) drills.Drill {
	from := t.Shop.Drills
	if len(from) == 0 {
		from = drills.All()
	}
	under, _, ok := from.Nearest(dia.Minus(practice.ReamAllowance.Length(dia)), units.Down)
	if !ok {
		under, _, _ = from.Nearest(dia, units.Nearest)
	}
	w.needs(say.Of("drill ", under.Name), say.Of("before reaming to ", dia), len(t.Shop.Drills) > 0)
	return under
}

// centreDrill names the centre drill of a pilot and notes it.
func (w *steps) centreDrill(t *task, pilot units.Length) say.Text {
	name := say.Of("centre drill ", drills.Stamped(pilot).Name)
	w.needs(name, "to start a hole or a centre", slices.ContainsFunc(t.Shop.CentreDrills, pilot.Equal))
	return name
}

// pilot returns the centre drill, by its pilot, for a bar or a hole of a diameter: the
// usual one, or where that is not on hand the one on hand that comes nearest to it and
// makes its whole mouth within a diameter, else the nearest whose pilot is within it and
// that is drilled less deep. Where none is it is the usual one.
func (j *job) pilot(dia, within units.Length) units.Length {
	usual := practice.CentreDrill.Length(dia)
	nearest := func(wide func(p units.Length) units.Length) (best units.Length, found bool) {
		for _, p := range j.Shop.CentreDrills {
			off := p.Minus(usual).Abs()
			if wide(p).Cmp(within) <= 0 && (!found || off.Less(best.Minus(usual).Abs())) {
				best, found = p, true
			}
		}
		return best, found
	}
	if slices.ContainsFunc(j.Shop.CentreDrills, usual.Equal) {
		return usual
	}
	if p, ok := nearest(centreMouth); ok {
		return p
	}
	if p, ok := nearest(func(p units.Length) units.Length { return p }); ok {
		return p
	}
	return usual
}

// spotPilot returns the pilot that starts holes, the narrowest of them so wide: the
// largest on hand whose whole mouth is within it, else the smallest whose pilot is. Where
// none is on hand it is the largest of the usual ones.
func (j *job) spotPilot(least units.Length) units.Length {
	list := slices.SortedFunc(slices.Values(j.Shop.CentreDrills), units.Length.Cmp)
	if len(list) == 0 || least.Less(list[0]) {
		for _, bar := range []string{"10mm", "18mm", "30mm", "40mm"} {
			list = append(list, practice.CentreDrill.Length(units.MustLength(bar)))
		}
	}
	best := list[0]
	for _, p := range list {
		if centreMouth(p).Cmp(least) <= 0 {
			best = p
		}
	}
	return best
}

// spotDeep says how deep a hole is spotted: the pilot goes in by its own diameter, and a
// blind hole no deeper than it is.
func spotDeep(o *op.Op, pilot units.Length, holes ...*units.Length) units.Length {
	deep := pilot
	for _, h := range holes {
		if h != nil {
			deep = units.Min(deep, *h)
		}
	}
	o.Set("depth", deep.Down(), "from where it first touches, the pilot alone: its cone is not to widen the hole")
	return deep
}

// cutting is the question of how a cut of a diameter is run, over a length where
// it is known.
func cutting(what feeds.Operation, dia units.Length, length ...units.Length) feeds.Input {
	in := feeds.Input{Operation: what, Diameter: dia}
	if len(length) > 0 {
		in.Length = &length[0]
	}
	return in
}

// finishing is the question of how a finishing cut is run.
func finishing(dia, length units.Length) feeds.Input {
	in := cutting(feeds.Turn, dia, length)
	in.Finish = true
	return in
}

// general returns a dimension that has only its general tolerance.
func (t *task) general(w *steps, kind limits.Kind, feature string, drawn units.Length) limits.Dimension {
	d, err := t.limits.General(kind, feature, op.Span{From: drawn, To: drawn}, drawn)
	w.wrong.Add(err)
	return d
}

// cut asks how a cut is run and puts the answer and its minutes on the
// operation's card. passes is how often it is taken. A cut that cannot be is a
// check that fails.
func (t *task) cut(o *op.Op, passes int, in feeds.Input) feeds.Result {
	r := t.chosen(o, in)
	if r.Time != nil {
		o.Minutes += float64(*r.Time) * float64(passes)
	}
	return r
}

// asked is the question of how a cut is run, with the machine and the material.
func (t *task) asked(o *op.Op, in feeds.Input) feeds.Input {
	in.Material, in.Tool = t.material.Name, feeds.HSS
	if t.material.Has(materials.HSSRefused) {
		in.Tool = feeds.Carbide
	}
	in.Drive = t.Shop.Drive(o.Setup.Machine)
	return in
}

// question is how a cut is run as it is asked for again and again, in one way to make the part
// after the other; what a question leaves out is -1.
type question struct {
	what                                 feeds.Operation
	machine                              shop.Machine
	finish                               bool
	dia, to, depth, width, length, blade op.Len
}

// answered is what came of a question.
type answered struct {
	feeds.Result
	err error
}

// questioned returns the question that an input asks, false where it cannot be told from others:
// a length that is no whole millionth, a boring bar, a feed.
func questioned(o *op.Op, in feeds.Input) (q question, ok bool) {
	if in.Bars != nil || in.Feed != nil || in.Teeth != nil || in.RPM != nil || in.MaxRPM != nil {
		return q, false
	}
	ok = true
	exact := func(l *units.Length) op.Len {
		if l == nil {
			return -1
		}
		x, whole := work.Exact(*l)
		ok = ok && whole
		return x
	}
	return question{
		what: in.Operation, machine: o.Setup.Machine, finish: in.Finish, dia: exact(&in.Diameter), to: exact(in.To),
		depth: exact(in.Depth), width: exact(in.Width), length: exact(in.Length), blade: exact(in.Blade),
	}, ok
}

// run asks how a cut is run, each question once.
func (t *task) run(o *op.Op, in feeds.Input) (feeds.Result, error) {
	q, ok := questioned(o, in)
	if a, known := t.runs[q]; ok && known {
		return a.Result, a.err
	}
	r, err := feeds.Choose(t.asked(o, in))
	if ok {
		t.runs[q] = answered{r, err}
	}
	return r, err
}

// minutes returns how long one pass takes, 0 where that cannot be told.
func (t *task) minutes(o *op.Op, in feeds.Input) float64 {
	r, err := t.run(o, in)
	if err != nil || r.Time == nil {
		return 0
	}
	return float64(*r.Time)
}

// pecked is cut for holes of a diameter, deep to the drill's point: it is charged
// for drawing out after every peck but the last and going back in. The length of a
// drill's cut is that of its full diameter. open is the hole that is there already,
// where one is: only the ring round it is cut.
func (t *task) pecked(o *op.Op, n int, dia, deep units.Length, open ...units.Length) {
	point := holes.PointLength(dia, practice.PointAngle.Angle())
	in := cutting(feeds.Drill, dia, deep.Minus(point))
	if len(open) > 0 && open[0].Sign() > 0 && open[0].Less(dia) {
		in.To = &open[0]
	}
	r := t.cut(o, n, in)
	reach := 0.0 // mm that the drill travels out and in again
	for _, p := range r.Pecks[:max(0, len(r.Pecks)-1)] {
		reach += 2 * p.To.MM()
	}
	if n := len(r.Pecks); n > 0 { // the table of pecks stops before the deepest holes do
		step := practice.PeckDeep.Of(dia).MM()
		for to := r.Pecks[n-1].To.MM(); to < deep.Minus(point).MM(); to += step {
			reach += 2 * to
		}
	}
	o.Minutes += float64(n) * reach / practice.HandFeed.Number()
}

// chosen asks how a cut is run and puts the answer on the operation's card,
// without its minutes.
func (t *task) chosen(o *op.Op, in feeds.Input) feeds.Result {
	r, ok := t.allowed(o, in)
	if !ok {
		return r
	}
	ideal := sheet.Number{V: r.IdealRPM.RPM(), Unit: "rpm"}
	if r.RPM != nil {
		o.Set("speed", *r.RPM, "ideal ", ideal, " at ", r.CuttingSpeed)
	} else {
		o.Set("speed", ideal, "ideal; the machine's speeds are not known")
	}
	if r.Feed != nil {
		o.Set("feed", *r.Feed)
	}
	for _, w := range r.Warnings {
		if w.Code == "deep-hole" { // a setting of the drill's, not a surprise
			o.Set("deep", say.Text("pecks"), w.Text)
			continue
		}
		if w.Code == "no-bar" { // what cannot be bored is not made
			o.Check(problem.NotReachable, false, op.With(in.Diameter, "bore"), w.Text,
				"a bar that goes in and reaches (boring_bars), or a hole that is drilled to size or reamed")
			continue
		}
		o.Warnings = append(o.Warnings, w)
	}
	return r
}

// allowed asks how a cut is run and puts on the card what stands against it and is warned of at any
// speed; false where it cannot be told.
func (t *task) allowed(o *op.Op, in feeds.Input) (r feeds.Result, ok bool) {
	r, err := t.run(o, in)
	if err != nil {
		var list problem.List
		list.Add(err)
		for _, p := range list {
			o.Check(p.Code, false, p.Found, p.Want, "another tool or machine")
		}
		return r, false
	}
	o.Cautions = append(o.Cautions, r.Cautions...)
	for _, f := range r.Fails() {
		o.Check(f.Code, false, f.Found, f.Want, "a machine that can")
	}
	return r, true
}
