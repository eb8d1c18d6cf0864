package plan

import (
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/limits"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/tapers"
	"setover/tapers/gauge"
	"setover/threads"
	"setover/threads/cut"
)

// step is a step of a part: the part's number from 0, the step's from 1.
type step struct{ part, n int }

// wait is that a step comes before one of another part, and why.
type wait struct {
	first, second step
	code, reason  string
}

// The codes of what waits for what.
const (
	gaugeMate   = "gauge-mate"
	measureMate = "measure-mate"
	lineMate    = "line-mate"
	screwMate   = "screw-mate"
)

// meet is one way to bring two parts together: what waits for what, what a step is
// told of the other part, and what is done at the very end of a part.
type meet struct {
	method Lining
	how    say.Text
	waits  []wait
	tells  []tell
	after  *closing
}

// tell is what is set in a step from another part.
type tell struct {
	step
	name  say.Text
	value say.Quantity
	say   say.Text
}

// closing is what is done to a part when both are made, held as in one of its set-ups,
// from 0.
type closing struct {
	part, setup int
	what        say.Text
}

// Lining is how the flats or the holes of two screwed parts come in line.
type Lining string

// The ways: the roll of one is taken from the other while they are screwed up, or the
// seat is faced until they line up.
const (
	ByMate   Lining = "scribed from the mate"
	ByFacing Lining = "faced"
)

// meeting works out how two parts meet, and the ways to bring them there.
func (r *ProjectResult) meeting(f part.Fit) (Meeting, []meet, error) {
	if f.Seat != "" {
		return r.seat(f)
	}
	spec, err := threads.Parse(f.Thread)
	if err != nil {
		return Meeting{}, nil, err
	}
	m := Meeting{What: say.Of(f.Screw, " screws into ", f.Into, " on ", spec), How: "nothing need line up"}
	male, outside := r.mate(f, spec, false)
	female, inside := r.mate(f, spec, true)
	base := meet{how: m.How, waits: []wait{{male, female, gaugeMate, "the male thread is the gauge for its mate"}}}
	if outside && inside && female.n > 0 {
		how := say.Of("screw ", f.Screw, " in before it is taken out of the machine")
		if r.step(female).Kind == op.Thread {
			how = say.Of("take the last passes by it: until ", f.Screw, " screws in without shake, before it is taken out")
		}
		base.tells = append(base.tells, tell{female, "gauge", say.Text("the mate"), how})
	}
	if f.Align == "" {
		return m, []meet{base}, nil
	}
	sides := 1
	if body, _ := r.Inputs.part(f.Into); f.Align == alignFacets && body.Round != nil && len(body.Round.Facets) > 0 {
		sides = body.Round.Facets[0].Sides
	}
	c, err := cut.Clock(cut.ClockInput{
		Thread: cut.Of(spec), Sides: &sides, Short: practice.ClockShort.Angle(), Within: practice.ClockWithin.Angle(),
	})
	if err != nil {
		return Meeting{}, nil, err
	}
	m.FaceOff = c.Worst
	by := say.Of("face the seat: ", c.PerDegree, " for each degree, at most ", c.Worst.Up())
	return m, r.lined(f, base, male, female, by), nil
}

// What may have to line up.
const (
	alignFacets = "facets"
	alignHoles  = "holes"
)

// lined returns the ways to bring what must line up in line: the roll of either from
// the other, where its thread is cut before its roll is taken; and facing the seat.
//
// Both holes drilled while the parts are screwed together is left out: what holds two
// parts at once is certified by nothing here, and the roll that is scribed from the
// mate comes to the same.
func (r *ProjectResult) lined(f part.Fit, base meet, male, female step, by say.Text) []meet {
	facing := say.Of("cut the male thread first, it is the gauge for the other; screw them up, see how far the ", f.Align,
		" are from lining up, and ", by)
	a, b := r.rolled(f, f.Screw), r.rolled(f, f.Into)
	if len(a) == 0 || len(b) == 0 || male.n == 0 || female.n == 0 {
		base.how, base.method = facing, ByFacing
		return []meet{base}
	}
	var list []meet
	for _, w := range []struct {
		own, from          string
		rolls, made        []int
		thread, fromThread step
	}{
		{f.Into, f.Screw, b, a, female, male}, {f.Screw, f.Into, a, b, male, female},
	} {
		first := r.firstRolled(w.thread.part)
		if !r.apart(w.thread, first) {
			continue
		}
		m := base
		m.method = ByMate
		m.how = say.Of("screw them up tight and take the roll of ", w.own, " from the ", f.Align, " of ", w.from,
			"; where they stop elsewhere when they are done, ", by)
		m.waits = append(slices.Clone(base.waits),
			wait{step{w.fromThread.part, w.made[len(w.made)-1]}, first, lineMate, "the roll of one is taken from the other"},
			wait{w.fromThread, first, screwMate, "they are screwed up to take it"})
		m.tells = append(slices.Clone(base.tells), tell{
			first, "roll", say.Text("the mate"),
			say.Of("screwed up tight on ", w.from, ": set it in line with the ", f.Align, " there, and mark it"),
		})
		list = append(list, m)
	}
	m := base
	m.method, m.how = ByFacing, facing
	if up := r.facedIn(f.Into, female); up >= 0 {
		m.after = &closing{female.part, up, say.Of("face the seat of ", f.Into, " until the ", f.Align, " line up")}
		list = append(list, m)
	} else if len(list) == 0 {
		r.Warn("not-planned", "nothing is left to hold ", f.Into, " on when its seat is faced to line up the ", f.Align,
			": leave a cylinder for the jaws")
		list = append(list, m)
	}
	return list
}

// step returns a step of a part.
func (r *ProjectResult) step(s step) *Operation { return &r.Parts[s.part].Plan.Operations[s.n-1] }

// apart reports whether a step comes before another of its part, and the work is taken
// out between.
func (r *ProjectResult) apart(first, second step) bool {
	return second.n > 0 && r.runOf(first) < r.runOf(second)
}

// rolled returns the steps that make a part's facets or its cross holes. It is a no
// where it has none.
func (r *ProjectResult) rolled(f part.Fit, key string) (list []int) {
	align := f.Align
	p, i := r.Inputs.part(key)
	there := p.Round != nil && (align == alignFacets && len(p.Round.Facets) > 0 ||
		align == alignHoles && len(p.Round.Holes)+len(p.Round.Rows) > 0)
	if !there {
		r.No(problem.New(problem.Impossible, "align", align, key, " has none to line up").In(f.At))
		return nil
	}
	kinds := []op.Kind{op.Facet, op.Grind}
	if align == alignHoles {
		kinds = []op.Kind{op.CrossDrill, op.Ream}
	}
	for _, o := range r.Parts[i].Plan.Operations {
		if slices.Contains(kinds, o.Kind) && (align == alignFacets || o.op.Roll != nil) {
			list = append(list, o.N)
		}
	}
	return list
}

// firstRolled returns the step that takes a part's roll: the first of all that have
// one.
func (r *ProjectResult) firstRolled(i int) step {
	for _, o := range r.Parts[i].Plan.Operations {
		if o.op.Roll != nil || o.Kind == op.Datum || o.Kind == op.Facet {
			return step{i, o.N}
		}
	}
	return step{i, 0}
}

// facedIn returns the set-up of a part, from 0, in which the face that its thread
// begins at can be faced again when it is whole: on the lathe, that end out, held on
// what is still there. It is -1 where there is none.
func (r *ProjectResult) facedIn(key string, thread step) int {
	p, i := r.Inputs.part(key)
	if p.Round == nil {
		return -1
	}
	out := r.step(thread).op.Setup.Out
	for n, s := range slices.Backward(r.Parts[i].Plan.Setups) {
		if s.Machine == op.Lathe && s.setup.Out == out && s.setup.On != op.Stock && s.setup.On.Shape == op.Cylinder {
			return n
		}
	}
	return -1
}

// mate returns the step that cuts the thread of a screwed fit on its side, step 0 where
// the part has no plan. It is a no where the part lacks the thread.
func (r *ProjectResult) mate(f part.Fit, spec threads.Designation, inside bool) (step, bool) {
	key, side, role := f.Screw, "outside", "screw"
	if inside {
		key, side, role = f.Into, "inside", "into"
	}
	p, i := r.Inputs.part(key)
	id := threadOf(p, spec, inside)
	if id == "" {
		turned := say.Text("")
		if other, _ := r.Inputs.part(f.Into); !inside && threadOf(p, spec, true) != "" && threadOf(other, spec, false) != "" {
			turned = say.Of("; it is ", f.Into, " that screws into ", f.Screw)
		}
		r.No(problem.New(problem.Impossible, role, key, "has no ", side, " thread ", spec, " for this fit", turned).In(f.At))
	}
	return r.making(i, id), id != ""
}

// threadOf returns the id of a thread of a part, inside or outside; "" where it has none such.
func threadOf(p *part.Part, spec threads.Designation, inside bool) (id string) {
	switch {
	case p.Round != nil:
		for n, t := range p.Round.Threads {
			if t.Inside == inside && sameThread(t.Spec, spec) {
				id = outline.Thread{N: n + 1}.ID()
			}
		}
	case inside:
		for n, h := range p.Block.Holes {
			if h.Spec != "" && sameThread(h.Spec, spec) {
				id = outline.HoleID(n + 1)
			}
		}
	}
	return id
}

// making returns the last step of a part that makes a feature.
func (r *ProjectResult) making(i int, id string) step {
	s := step{part: i}
	for _, o := range r.Parts[i].Plan.Operations {
		if slices.Contains(o.Makes, id) {
			s.n = o.N
		}
	}
	return s
}

// seat works out where a bore stops on the other part's cone, and what it must be
// bored to for that.
func (r *ProjectResult) seat(f part.Fit) (Meeting, []meet, error) {
	m := Meeting{What: say.Of(f.Seat, " seats on ", f.On, " with a bore of ", f.Bore)}
	body, on := r.Inputs.part(f.On)
	if body.Round == nil {
		return m, nil, problem.New(problem.Impossible, "on", f.On, "a bore seats on a turned part")
	}
	c, found, err := coneOf(body.Round, *f.Bore)
	if err != nil {
		return m, nil, err
	}
	if !found {
		r.No(problem.New(problem.Impossible, "bore", f.Bore, "no cone of ", f.On, " has this diameter on it").In(f.At))
		return m, []meet{{}}, nil
	}
	m.SeatAt = &c.z
	is, from := r.coneAt(on, c)
	m.Bore = &is
	perHundredth := units.FromFloat(c.perMicron * 10).Abs()
	how := say.Of("measure the cone first, then bore: ", units.MustLength("0.01mm"), " in the bore moves the seat by ",
		perHundredth)
	if c.Facets != nil {
		how = say.Of(how, "; it touches the corners")
	}
	way := meet{how: how}
	p, i := r.Inputs.part(f.Seat)
	if p == nil {
		return m, []meet{way}, nil
	}
	cone, bored := r.coneStep(on, c), r.boring(i, f)
	if bored.n > 0 && r.step(bored).Kind != op.Bore {
		r.Warn("not-bored", "no boring bar goes into ", f.Seat, " for its bore of ", f.Bore, ": it stops on ", f.On,
			" where the hole that it gets lets it, ", perHundredth, " farther for each ", units.MustLength("0.01mm"),
			" that it is over ", is)
		return m, []meet{{how: "as far as the hole that it gets lets it"}}, nil
	}
	way.waits = []wait{{cone, bored, measureMate, "the seat follows the real cone, once it is measured"}}
	if bored.n > 0 {
		way.tells = []tell{{
			bored, "cone", is, say.Of("the diameter of ", f.On, " at z ", c.z, ", ", from, ": bore to what it measures"),
		}}
	}
	return m, []meet{way}, nil
}

// seatCone is a cone that a bore seats on: the stretch, and where.
type seatCone struct {
	outline.Stretch
	z         units.Length
	perMicron float64
}

// coneOf returns the first cone of a part that has a diameter on it, and where. What a
// bore touches of facets are the corners.
func coneOf(r *part.Round, bore units.Length) (c seatCone, found bool, err error) {
	o, err := outline.New(r)
	if err != nil {
		return seatCone{}, false, err
	}
	for _, s := range o.Stretches {
		large, small, l := units.Max(s.Left.Corners, s.Right.Corners), units.Min(s.Left.Corners, s.Right.Corners), s.Length()
		if s.Kind() != outline.Taper || bore.Less(small) || large.Less(bore) {
			continue
		}
		seat, err := gauge.Seat(gauge.SeatInput{Input: tapers.Input{Large: &large, Small: &small, Length: &l}, Bore: bore})
		if err != nil {
			return seatCone{}, false, err
		}
		z := s.From.Plus(*seat.At)
		if s.Left.Corners.Less(s.Right.Corners) {
			z = s.To.Minus(*seat.At)
		}
		return seatCone{s, z, float64(seat.PerMicron)}, true, nil
	}
	return seatCone{}, false, nil
}

// on reports whether a place lies on the cone.
func (c seatCone) on(z units.Length) bool { return c.From.Cmp(z) <= 0 && z.Cmp(c.To) <= 0 }

// through returns the diameter at the seat of the straight line through two places of
// the cone and the diameters there:
//
//	d = d1 + (d2 - d1)·(z - z1)/(z2 - z1)
//
// to 1e-9 mm. Source: elementary.
func (c seatCone) through(z1, d1, z2, d2 units.Length) units.Length {
	return units.FromFloat(d1.MM() + d2.Minus(d1).MM()*c.z.Minus(z1).MM()/z2.Minus(z1).MM())
}

// measured returns the diameter at the seat by what was measured on the cone: by one
// place as far off the drawing as there, by two or more on the line through the
// outermost. ok is false where nothing was.
func (c seatCone) measured(list []Measure) (dia units.Length, ok bool) {
	var mine []Measure
	for _, m := range list {
		if c.on(m.Z) {
			mine = append(mine, m)
		}
	}
	if len(mine) == 0 || c.Facets != nil {
		return units.Length{}, false
	}
	slices.SortFunc(mine, func(a, b Measure) int { return a.Z.Cmp(b.Z) })
	a, b := mine[0], mine[len(mine)-1]
	if a.Z.Equal(b.Z) {
		return c.At(c.z).Drawn.Plus(b.Dia).Minus(c.At(b.Z).Drawn), true
	}
	return c.through(a.Z, a.Dia, b.Z, b.Dia), true
}

// coneAt returns the diameter that a part's cone has at the seat: as measured, as its
// plan foresees it, or as drawn; and which that is.
func (r *ProjectResult) coneAt(i int, c seatCone) (units.Length, say.Text) {
	step := practice.ReadoutStep.Length()
	if dia, ok := c.measured(r.Inputs.measuredOn(r.Parts[i].Key)); ok {
		return dia.RoundTo(step, units.Nearest), "as it was measured"
	}
	var ends []op.Predicted
	for _, p := range r.Parts[i].Plan.Predicted {
		if p.Kind == limits.TaperEnd && (p.From.Equal(c.From) || p.From.Equal(c.To)) && c.Facets == nil {
			ends = append(ends, p)
		}
	}
	if len(ends) == 2 && !ends[0].From.Equal(ends[1].From) {
		dia := c.through(ends[0].From, ends[0].Out, ends[1].From, ends[1].Out)
		return dia.RoundTo(step, units.Nearest), "as the plan foresees it"
	}
	return c.At(c.z).Corners.RoundTo(step, units.Nearest), "as drawn"
}

// coneStep returns the step that cuts a cone.
func (r *ProjectResult) coneStep(i int, c seatCone) step {
	s := step{part: i}
	for _, o := range r.Parts[i].Plan.Operations {
		cuts := o.Kind == op.Taper && o.op.Cuts.Overlaps(c.Span)
		flats := c.Facets != nil && (o.Kind == op.Facet || o.Kind == op.Grind) && o.op.Cuts.Overlaps(c.Span)
		if cuts || flats {
			s.n = o.N
		}
	}
	return s
}

// boring returns the step that brings the seat's bore to size. It is a no where the part
// has no such bore.
func (r *ProjectResult) boring(i int, f part.Fit) step {
	p := r.Inputs.Project.Parts[i].Part
	if p.Round != nil {
		for n, b := range p.Round.Bores {
			if b.Dia.Equal(*f.Bore) {
				return r.making(i, outline.Bore{N: n + 1}.ID())
			}
		}
	}
	r.No(problem.New(problem.Impossible, "seat", f.Seat, "has no bore of ", *f.Bore, " for this fit").In(f.At))
	return step{part: i}
}

// before returns what was measured on a part while it is made: all but what was measured
// on a cone that something seats on, which is done by then.
func (in ProjectInput) before(key string) []Measure {
	list := in.measuredOn(key)
	for _, f := range in.Project.Fits {
		body, _ := in.part(f.On)
		if f.On != key || body.Round == nil {
			continue
		}
		if c, found, err := coneOf(body.Round, *f.Bore); err == nil && found {
			list = slices.DeleteFunc(list, func(m Measure) bool { return c.on(m.Z) })
		}
	}
	return list
}

// fitted returns a part as it is made in the project: what seats on a cone is bored to what
// that measures, where it was measured.
func (in ProjectInput) fitted(p part.ProjectPart) *part.Part {
	for _, f := range in.Project.Fits {
		body, _ := in.part(f.On)
		if f.Seat != p.Key || body == nil || body.Round == nil || p.Part.Round == nil {
			continue
		}
		c, found, err := coneOf(body.Round, *f.Bore)
		if err != nil || !found {
			continue
		}
		dia, measured := c.measured(in.measuredOn(f.On))
		made, round := *p.Part, *p.Part.Round
		round.Bores = slices.Clone(round.Bores)
		for i, b := range round.Bores {
			if !b.Dia.Equal(*f.Bore) {
				continue
			}
			if round.Bores[i] = b.ToMeasure(); measured {
				round.Bores[i].Dia = dia.RoundTo(practice.ReadoutStep.Length(), units.Nearest)
			}
		}
		made.Round, p.Part = &round, &made
	}
	return p.Part
}
