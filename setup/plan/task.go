package plan

import (
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/tapers/compound"
)

// job is a part to be made in a shop: what does not depend on how it is held.
type job struct {
	Input
	round    *part.Round
	block    *part.Block
	material *materials.Material
	shape    *outline.Outline // of a round part
	bar      units.Length     // its diameter
	cleared  map[cone]compound.Result
}

// task is what the planners of features read: the job, the way the part is
// held, and what is done already. None of them changes it.
type task struct {
	*job
	way
	near, far []outline.Stretch // what is cut in the first grip, and in the second
	chuckings []chucking
	blank     Blank
	stub      bool            // one is left at a thin end, for the centre
	done      map[string]bool // operations done before this plan, by name
}

// newJob reads a part. It fails on a material, a thread or a row of holes that
// does not exist.
func newJob(in Input) (*job, error) {
	m, err := materials.Find(in.Part.Material)
	if err != nil {
		return nil, placed(err, in.Part.MaterialAt)
	}
	in.Name = in.Part.Name
	j := &job{Input: in, round: in.Part.Round, block: in.Part.Block, material: m, cleared: map[cone]compound.Result{}}
	if j.round == nil {
		return j, nil
	}
	if j.shape, err = outline.New(j.round); err != nil {
		return nil, err
	}
	j.bar = j.shape.Largest().Plus(practice.SkimBar.Length()).RoundTo(practice.BarStep.Length(), units.Up)
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

// work is what the planner of a feature returns: the operations that make it
// and what is to be said of them.
type work struct {
	ops       []*op.Op
	predicted []Predicted
	working   []sheet.Step
	kit       []Kit
	warnings  sheet.Warnings
	no        problem.List // why it cannot be made here
	wrong     problem.List // what the part file asks for and no shop makes
}

// together puts work together. A centre, the roll datum or a tool that several
// planners ask for is there once.
func together(list ...work) work {
	var all work
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
		all.predicted, all.working = append(all.predicted, w.predicted...), append(all.working, w.working...)
		all.warnings, all.no = append(all.warnings, w.warnings...), append(all.no, w.no...)
		all.wrong = append(all.wrong, w.wrong...)
	}
	return all
}

// failing returns how much of the work says no.
func (w work) failing() int {
	n := len(w.no)
	for _, o := range w.ops {
		for _, c := range o.Checks {
			if !c.OK {
				n++
			}
		}
	}
	return n
}

func (w *work) add(o *op.Op) *op.Op {
	w.ops = append(w.ops, o)
	return o
}

// needs notes a tool of the kit, once.
func (w *work) needs(name, needed say.Text, have bool) {
	if k := (Kit{name, needed, have}); !slices.Contains(w.kit, k) {
		w.kit = append(w.kit, k)
	}
}

// predict notes a size of the part as it will come out.
func (w *work) predict(feature say.Text, drawn, out units.Length, because ...any) {
	w.predicted = append(w.predicted, Predicted{feature, drawn, out, out.Minus(drawn), say.Of(because...)})
}

// What a size is owed to.
const (
	byCrossSlide = "the nearest line of the cross slide's dial"
	byTable      = "the nearest line of the table's dial"
)

// drilled predicts the diameter of a hole.
func (w *work) drilled(hole say.Text, dia units.Length, with drills.Drill) {
	w.predict(hole, dia, predict.Drilled(with.Dia), drilledWith(with))
}

func drilledWith(d drills.Drill) say.Text {
	return say.Of("drilled ", d.Name, "; a drill cuts a little over its size")
}

// drill returns the drill for a hole and notes it: from the drawer, or of every
// size made where the shop has no list. exact is false when it is under size
// and the hole must be bored out.
func (w *work) drill(t *task, dia units.Length) (d drills.Drill, exact bool) {
	from := t.Shop.Drills
	if len(from) == 0 {
		from = drills.All()
	}
	have := len(t.Shop.Drills) > 0
	best, _, _ := from.Nearest(dia, units.Nearest)
	if best.Dia.Minus(dia).Abs().Cmp(practice.DrillNear.Length()) <= 0 {
		w.needs(say.Of("drill ", best.Name), say.Of("for a hole of ", dia), have)
		return best, true
	}
	under, _, ok := from.Nearest(dia, units.Down)
	if !ok {
		under = best
	}
	w.needs(say.Of("drill ", under.Name), say.Of("before boring to ", dia), have)
	return under, false
}

// centreDrill returns the centre drill for a bar or hole of a diameter, and
// notes it.
func (w *work) centreDrill(t *task, dia units.Length) say.Text {
	pilot := practice.CentreDrill.Length(dia)
	name := say.Of("centre drill ", pilot.Always(units.MM))
	w.needs(name, "to start a hole or a centre", slices.ContainsFunc(t.Shop.CentreDrills, pilot.Equal))
	return name
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

// cut asks how a cut is run and puts the answer on the operation's card. passes
// is how often it is taken. A cut that cannot be is a check that fails.
func (t *task) cut(o *op.Op, passes int, in feeds.Input) feeds.Result {
	in.Material, in.Tool = t.material.Name, feeds.HSS
	if t.material.Has(materials.HSSRefused) {
		in.Tool = feeds.Carbide
	}
	in.Drive = t.Shop.Drive(o.Setup.Machine)
	r, err := feeds.Choose(in)
	if err != nil {
		var list problem.List
		list.Add(err)
		for _, p := range list {
			o.Check(p.Code, false, p.Found, p.Want, "another tool or machine")
		}
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
	if r.Time != nil {
		o.Minutes += float64(*r.Time) * float64(passes)
	}
	for _, w := range r.Warnings {
		if w.Code == "deep-hole" { // a setting of the drill's, not a surprise
			o.Set("deep", w.Text)
			continue
		}
		o.Warnings = append(o.Warnings, w)
	}
	o.Cautions = append(o.Cautions, r.Cautions...)
	for _, f := range r.Fails() {
		o.Check(f.Code, false, f.Found, f.Want, "a machine that can")
	}
	return r
}

// measured returns what was measured on a stretch.
func (t *task) measured(x outline.Stretch) (units.Length, bool) {
	for _, m := range t.Measured {
		if x.From.Cmp(m.Z) <= 0 && m.Z.Cmp(x.To) <= 0 {
			return m.Dia, true
		}
	}
	return units.Length{}, false
}
