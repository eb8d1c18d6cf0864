package plan

import (
	"fmt"
	"math"
	"slices"

	"setover/feeds"
	"setover/feeds/stiffness"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/setup/plan/work"
	"setover/tapers/curves"
	"setover/tapers/fouling"
)

// outside cuts the outside in one grip: face, centre, rough, then cylinders,
// tapers, arcs and threads. The first grip makes the face z is measured from.
func outside(t *task, c chucking, first bool) steps {
	list := []steps{face(t, c, first)}
	list = append(list, carry(t, c))
	if len(c.stretches) == 0 {
		return together(list...)
	}
	if t.roughs(c) {
		list = append(list, rough(t, c))
	}
	if t.waist && waisted(c) {
		list = append(list, roughWaists(t, c))
	}
	for _, x := range t.joined(c.stretches) {
		switch x.Kind() {
		case outline.Cylinder:
			if !t.asBought(x) {
				list = append(list, cylindrical(t, c, x))
			}
		case outline.Taper:
			list = append(list, taper(t, c, x))
		default:
			list = append(list, curve(t, c, x))
		}
	}
	if (t.room || t.necked) && c.past.Sign() > 0 {
		list = append(list, roomPast(t, c))
	}
	all := together(append(list, details(t, c))...)
	for _, o := range all.ops {
		if o.Setup.Device == op.Centres {
			o.Cautions = append(o.Cautions, cautions.Dog)
			all.needs("dog and driver plate", "to drive work between centres; over copper where it is finished", true)
		}
	}
	return all
}

// details cuts the chamfers and the threads of the outside in one grip.
func details(t *task, c chucking) steps {
	var list []steps
	for i, x := range t.round.Chamfers {
		if y, ok := t.edge(x, c); ok && !t.startsThread(i+1) {
			list = append(list, chamfer(t, c, x, y, i+1))
		}
	}
	for i, x := range t.shape.Threads {
		if !x.Inside && x.From == c.out {
			list = append(list, outsideThread(t, c, x, i+1))
		}
	}
	return together(list...)
}

func face(t *task, c chucking, first bool) steps {
	var w steps
	o := w.add(&op.Op{
		ID: fmt.Sprintf("face-%s", c.out), Kind: op.Face, Name: say.Of("face the ", c.out, " end"), Setup: c.facing,
		Tool: op.Tool{Name: "facing tool", Hand: op.Right}, Cuts: t.shape.FromEnd(c.out, units.Length{}), Dia: t.bar,
		Zero: first, Makes: []string{outline.FaceID(c.out)}, Push: op.Cut{Side: true},
	})
	z := op.LenOf(endOf(t.shape, c.out))
	if t.stubAt(c.out) {
		z = inward(z, -op.LenOf(t.stub(c.out)), c.out)
		o.Makes = nil
	}
	o.Removed(work.EndCut{End: c.out, Z: z})
	switch stubs := t.stub(part.Left).Plus(t.stub(part.Right)); {
	case first && t.stubAt(c.out):
		o.Set("take", practice.SawnFace.Length(), "or until it is clean: the face that z is measured from is ",
			t.stub(c.out), " inward of it")
	case first:
		o.Set("take", practice.SawnFace.Length(), "or until it is clean: z is measured from here")
	case stubs.Sign() > 0:
		o.Set("to length", t.shape.Length.Plus(stubs), "from the other face, stubs and all")
	default:
		o.Set("to length", t.shape.Length, "from the other face")
		t.predictLength(o, "faced to size by measuring")
	}
	t.gripNote(o, c)
	if c.setup.Device == op.Collet {
		w.needs("collet for "+say.Of(t.heldDia(c)), "to hold the work in", true)
	}
	if first { // it is no longer and no thicker after that
		t.fitsLathe(o)
	}
	o.Do = func(as work.State) { t.faced(o, as, c.out, z) }
	return w
}

// faced charges facing an end down to z: passes of the facing depth through all of
// the metal that stands there, each from the rim to the middle or to the bore.
func (t *task) faced(o *op.Op, as work.State, end part.End, z op.Len) {
	thinGrip(o, as)
	in := cutting(feeds.Face, as.Dia(z).Length(), ((as.Dia(z) - as.Bore(z)) / 2).Length())
	spreads(o, as)
	in.Finish = o.Spread
	r := t.chosen(o, in)
	passes := 1
	if off := max(as.Reach(end)-z, z-as.Reach(end)).Length(); r.Depth != nil && r.Depth.Sign() > 0 {
		passes = int(max(1, off.Steps(*r.Depth, units.Up)))
	}
	if passes > 1 {
		o.Set("passes", sheet.Count(passes), "of at most ", r.Depth.Down())
	}
	if r.Time != nil {
		o.Minutes += float64(passes) * float64(*r.Time)
	}
}

// thinGrip warns of jaws that press on a wall that gives: over a bore that is there by then. What
// closes all round it does not press it out of round.
func thinGrip(o *op.Op, as work.State) {
	s := o.Setup
	if s.Device != op.Chuck && s.Device != op.FourJaw || s.On.Shape == op.Hole {
		return
	}
	dia, bore := as.Largest(s.Held), op.Len(0)
	for _, z := range []op.Len{s.Held.From, (s.Held.From + s.Held.To) / 2, s.Held.To} {
		bore = max(bore, as.Bore(z))
	}
	wall := ((dia - bore) / 2).Length()
	if bore == 0 || practice.GripWall.Of(dia.Length()).Cmp(wall) <= 0 {
		return
	}
	o.Warn("thin-grip", "the jaws press on a wall of ", wall.Down(), ": a plug that fits the bore of ",
		bore.Length().Down(), " in it, or a split bush round it, and no more grip than it takes, ",
		"or what is cut is out of round when it is let go")
}

// stubAt reports whether a stub stands beyond an end, for a centre.
func (t *task) stubAt(end part.End) bool { return t.stub(end).Sign() > 0 }

// stub returns how far a stub for a centre stands beyond an end: where that is thin, or
// where the way leaves one so long that the tailstock clears the tool. 0 where none does.
func (t *task) stub(end part.End) units.Length {
	i := 0
	if end != t.first {
		i = 1
	}
	switch {
	case !t.way.centre[i]:
	case t.stubs[i]:
		return practice.StubClear.Length()
	case t.thin(end):
		return practice.StubLength.Length()
	}
	return units.Length{}
}

// stubDia returns the diameter of the stub at an end, 0 where none is: one on an end that is
// not thin is less than the end.
func (t *task) stubDia(end part.End) units.Length {
	dia := practice.StubDia.Length()
	switch own := t.endDia(end); {
	case !t.stubAt(end):
		return units.Length{}
	case !t.thin(end):
		return units.Min(own.Minus(practice.StubUnder.Length()), units.Max(dia, own.Half()))
	}
	list := t.near
	if end != t.first {
		list = t.far
	}
	for _, x := range list { // a tool that turns along passes over it to all that is no thinner
		if small := units.Min(x.Left.Turned, x.Right.Turned); !small.Less(practice.ThinEnd.Length()) {
			dia = units.Min(dia, small)
		}
	}
	return dia
}

// fitsLathe checks the bar against the lathe's size.
func (t *task) fitsLathe(o *op.Op) {
	check := func(what, key string, is units.Length, most *units.Length, mend say.Text) {
		if most == nil {
			o.NotChecked = append(o.NotChecked, "lathe."+key)
			return
		}
		o.Check(problem.TravelShort, is.Cmp(*most) <= 0, op.With(is.Up(), what), op.With(*most, "at the most"), mend)
	}
	lathe := t.Shop.Lathe
	check("diameter over the slide", "swing_over_slide", t.bar, lathe.SwingOverSlide, "a larger lathe")
	check("length between centres", "between_centres", *t.blank.Length, lathe.BetweenCentres,
		"a longer lathe, or the part in two pieces that are joined")
}

// centre drills the centre of an end: in the stub, where the end is thin.
func centre(t *task, c chucking) steps {
	var w steps
	dia, where := t.endDia(c.out), ""
	if t.stubAt(c.out) {
		dia, where = t.stubDia(c.out), " in the stub"
	}
	pilot := t.pilot(dia, practice.CentrePart.Of(dia))
	o := w.add(&op.Op{
		ID: fmt.Sprintf("centre-%s", c.out), Kind: op.Centre, Name: say.Of("centre the ", c.out, " end", where),
		Setup: c.facing, Tool: op.Tool{Name: w.centreDrill(t, pilot)},
		Cuts: t.shape.FromEnd(c.out, units.Length{}), Dia: dia, Push: op.Cut{Side: true},
	})
	mouth := units.Min(centreMouth(pilot), practice.CentrePart.Of(dia))
	coneDeep(o, mouth, pilot)
	o.Removed(work.Centre{End: c.out, Dia: op.LenOf(mouth), Pilot: op.LenOf(pilot)}, op.CentreHoleOK)
	t.cut(o, 1, cutting(feeds.Drill, widestCentre()))
	return w
}

// centreMouth returns how wide a centre hole is across its mouth: ISO 866 form A
// has d2 = 2.12·d1 (1.6 to 3.35, 2.5 to 5.3, 3.15 to 6.7).
func centreMouth(pilot units.Length) units.Length {
	return units.FromFloat(pilot.MM() * practice.CentreMouth.Number())
}

// coneDeep says how deep the cone of a centre drill goes, (D - d)/2/tan 30 from the mouth
// D to the pilot d; where the mouth is no wider than the pilot, that only the pilot goes in.
func coneDeep(o *op.Op, mouth, pilot units.Length) {
	if mouth.Cmp(pilot) <= 0 {
		o.Set("depth", say.Text("its pilot"), "stop before the cone touches")
		return
	}
	o.Set("depth", holes.ConeDepth(mouth, pilot, practice.CentreCone.Angle()).Down(),
		"from where the cone first touches: ", mouth.Down(), " across its mouth")
}

// widestCentre is the largest pilot a centre drill has: it sets the speed.
func widestCentre() units.Length { return practice.CentreDrill.Length(units.Millimetres(1000)) }

// turnedTo returns the diameter a cylinder is turned to: the drawing's, or the
// blank of the thread that is cut on it.
func turnedTo(x outline.Stretch) units.Length {
	if x.Thread != nil && x.Thread.Blank.Sign() > 0 {
		return x.Thread.Blank
	}
	return x.Left.Turned
}

// roughSize returns the cylinder that roughing leaves of a stretch, as it is
// asked for: a taper is roughed to its large end.
func roughSize(x outline.Stretch) units.Length {
	return units.Max(turnedTo(x), x.Large()).Plus(practice.LeaveTurning.Length())
}

// onLine returns the travel that the nearest line of a dial stands for, or the
// travel itself where there is no dial.
func onLine(d *shop.Dial, travel units.Length) units.Length {
	if d == nil {
		return travel
	}
	s, _ := d.Set(travel)
	return s.Set
}

// roughID names the roughing of a side.
func roughID(out part.End) string { return "rough-" + string(out) }

// rough takes the bar down to what is left for finishing, in one operation for
// the whole grip.
func rough(t *task, c chucking) steps {
	var w steps
	o := w.add(&op.Op{
		ID: roughID(c.out), Kind: op.Turn, Name: say.Of("rough the ", c.out, " side"), Setup: c.setup,
		Tool: op.Tool{Name: "roughing tool", Hand: op.Right}, Rough: true, Relieved: t.Part.StressRelief, Dia: t.bar,
		Cuts: spanning(c.stretches[0].Span, c.stretches[len(c.stretches)-1].Span),
	})
	o.Do = func(as work.State) { t.roughed(o, c, as) }
	return w
}

// roughed says what roughing the work as it stands is set to, and takes it off.
func (t *task) roughed(o *op.Op, c chucking, as work.State) {
	start := as.Largest(inWork(o.Cuts))
	bar := start.Length()
	r := t.chosen(o, cutting(feeds.Turn, bar, o.Cuts.Length()))
	slide := t.Shop.Lathe.CrossSlide
	list := roughing(c)
	var profile []work.Point
	var deepest units.Length
	for _, x := range list {
		travel := bar.Minus(x.to).Half()
		if travel.Sign() <= 0 {
			continue
		}
		comes := predict.Diameter(bar, onLine(slide, travel))
		deepest = units.Max(deepest, bar.Minus(comes).Half())
		o.OnDial(say.Of("to ", comes, " over ", x.over), op.CrossSlide, slide, travel, "touching the bar")
		s, d := inWork(x.over), op.LenOf(comes)
		if c.out == part.Right { // the list runs from the right
			profile = append([]work.Point{{Z: s.From, Dia: d}, {Z: s.To, Dia: d}}, profile...)
		} else {
			profile = append(profile, work.Point{Z: s.From, Dia: d}, work.Point{Z: s.To, Dia: d})
		}
	}
	if t.stubAt(c.out) {
		travel := bar.Minus(t.stubDia(c.out)).Half()
		dia := predict.Diameter(bar, onLine(slide, travel))
		profile = t.roughStub(profile, c.out, dia)
		o.OnDial(say.Of("to ", dia, " over the stub of ", t.stub(c.out)), op.CrossSlide, slide, travel, "touching the bar")
	}
	if len(profile) > 0 {
		o.Removed(work.Outside{Profile: profile, Stage: work.Rough})
	}
	if r.Depth != nil && deepest.Sign() > 0 {
		depth := units.Min(*r.Depth, deepest)
		if t.light {
			depth = depth.Half()
		}
		passes := t.nested(o, as, start, op.LenOf(depth))
		o.Set("depth a pass", depth, "a side, ", say.Count(int64(passes), "pass", "passes"),
			" in all, each over what still stands")
		o.Push = op.Cut{Depth: depth.MM(), Feed: mmPerRev(r)}
	}
	o.Set("leave", practice.LeaveTurning.Length(), "on diameter, for finishing")
	if o.Setup.Support == op.AtCentre {
		o.Cautions = append(o.Cautions, cautions.Overhang)
	}
}

// roughStub adds the stub to what is roughed, to a diameter.
func (t *task) roughStub(profile []work.Point, end part.End, to units.Length) []work.Point {
	z, dia := op.LenOf(endOf(t.shape, end)), op.LenOf(to)
	far := inward(z, -op.LenOf(t.stub(end)), end)
	if end == part.Right {
		return append(profile, work.Point{Z: z, Dia: dia}, work.Point{Z: far, Dia: dia})
	}
	return append([]work.Point{{Z: far, Dia: dia}, {Z: z, Dia: dia}}, profile...)
}

// mmPerRev returns the feed that was chosen, 0 where there is none.
func mmPerRev(r feeds.Result) float64 {
	if r.Feed == nil {
		return 0
	}
	return r.Feed.MM()
}

// nested charges roughing for its passes: each one runs over what still stands
// above it. All of them at the speed that the card says, which is the bar's: a
// belt is not changed from pass to pass. It returns how many there are.
func (t *task) nested(o *op.Op, as work.State, start, depth op.Len) int {
	after := as.After(o.Removes...)
	passes := 0
	for d := start; depth > 0; d -= 2 * depth {
		long := as.Above(after, d-2*depth, d)
		if long <= 0 {
			break
		}
		passes++
		o.Minutes += t.minutes(o, cutting(feeds.Turn, start.Length(), long.Length()))
	}
	return passes
}

// pass is a stretch as it is roughed.
type pass struct {
	over op.Span
	to   units.Length
}

// roughing returns the outside of a chucking as it is roughed: from the end that
// stands out inward it only grows, since the tool does not get behind what is
// larger; neighbours of one diameter are one.
func roughing(c chucking) []pass {
	var out []pass
	most := c.stub
	for _, x := range c.stretches {
		most = units.Max(most, roughSize(x))
		if n := len(out) - 1; n >= 0 && out[n].to.Equal(most) {
			out[n].over = spanning(out[n].over, x.Span)
			continue
		}
		out = append(out, pass{x.Span, most})
	}
	if n := len(out) - 1; n >= 0 {
		out[n].over = c.onPast(out[n].over)
	}
	return out
}

// roomPast turns the bar past the end that is cut off later down to less than that end, so
// that a left-hand tool and its holder start there, or so that it is sawn off and filed flat there, or,
// when all else is done, to what the blade parts there.
func roomPast(t *task, c chucking) steps {
	var w steps
	end := other(c.out)
	z := op.LenOf(endOf(t.shape, end))
	far := inward(z, -op.LenOf(c.past), end)
	span := work.Span{From: min(z, far), To: max(z, far)}
	dia := t.endDia(end).Minus(practice.RoomUnder.Length())
	if t.necked && !t.filed {
		dia = units.Min(dia, t.partedMost().Minus(practice.RoomUnder.Length()))
	}
	o := w.add(&op.Op{
		ID: "room-" + string(end), Kind: op.Turn, Name: say.Of("turn ", dia, " past the ", end, " end"), Setup: c.setup,
		Tool: op.Tool{Name: "grooving tool", Hand: op.Form}, Dia: dia, Rough: true,
		Cuts: op.Span{From: span.From.Length(), To: span.To.Length()},
	})
	why := say.Text("a left-hand tool and its holder start there")
	switch {
	case t.filed && t.necked:
		why = "straight in, the side toward the part is its end; it is sawn off in the groove, and filed flat"
	case t.necked:
		why = "straight in, the side toward the part is the face of its end; it is parted off there"
	}
	if t.necked && !t.room && !t.filed {
		o.Setup, o.Feature = c.axial, op.Feature{Kind: op.PartOff}
	}
	o.Set("over", c.past, "past the end: ", why)
	o.Do = func(as work.State) {
		from := as.Largest(span).Length()
		set := o.OnDial(say.Of("to ", dia), op.CrossSlide, t.Shop.Lathe.CrossSlide, from.Minus(dia).Half(),
			"touching the work")
		to := from.Minus(set.Times(2))
		o.Removed(work.Turned(span, op.LenOf(to), work.Rough))
		if to.Less(from) {
			t.sideBySide(o, from, to, c.past)
		}
	}
	return w
}

// sideBySide plunges a width of the work to a diameter with the tool that goes straight in, at the
// speed and the feed of a parting cut.
func (t *task) sideBySide(o *op.Op, from, to, width units.Length) {
	blade := t.plunger()
	in := cutting(feeds.PartOff, from)
	in.Blade, in.To = &blade, &to
	r, n := t.chosen(o, in), int(width.Steps(blade, units.Up))
	o.Set("plunges", sheet.Count(n), "straight in, side by side, each at most ", blade, " wide")
	o.Push = op.Cut{Depth: blade.MM(), Feed: mmPerRev(r)}
	o.Minutes += float64(n) * (t.minutes(o, in) + practice.PlungeMinutes.Number())
}

// onPast returns what is cut up to the end that is cut off later as it is cut: on past
// that end, so that the kerf lies in what is turned. What ends elsewhere is as it is.
func (c chucking) onPast(s op.Span) op.Span {
	last := c.stretches[len(c.stretches)-1]
	switch {
	case c.out == part.Left && s.To.Equal(last.To):
		s.To = s.To.Plus(c.past)
	case c.out == part.Right && s.From.Equal(last.From):
		s.From = s.From.Minus(c.past)
	}
	return s
}

// roughs reports whether there is anything to rough in a chucking.
func (t *task) roughs(c chucking) bool {
	return slices.ContainsFunc(roughing(c), func(p pass) bool { return p.to.Less(t.bar) })
}

// asBought reports whether a cylinder is left as the bar was bought, a polygon with
// the bar's own flats.
func (t *task) asBought(x outline.Stretch) bool {
	if x.Facets != nil && t.ownFlats(*x.Facets) {
		return true
	}
	return t.round.Stock != nil && t.round.Stock.Sides() == 0 && x.Kind() == outline.Cylinder && turnedTo(x).Equal(t.bar)
}

// ownFlats reports whether facets are the flats of the bar as it is bought: as many,
// and its size across flats within their limits all along.
func (j *job) ownFlats(f outline.Facets) bool {
	s := j.round.Stock
	if s == nil || s.Sides() != f.Sides || f.Leave.Sign() != 0 {
		return false
	}
	for _, x := range j.shape.Over(f.Span) {
		if d := j.limits.Flats(x, part.Left); x.Kind() != outline.Cylinder || !d.Known() || !d.Holds(s.Size) {
			return false
		}
	}
	return true
}

// ends returns the diameters that a stretch is turned to at its ends.
func ends(x outline.Stretch) [2]op.Len {
	return [2]op.Len{op.LenOf(x.Left.Turned), op.LenOf(x.Right.Turned)}
}

// leftRough returns what roughing leaves of a stretch in a chucking.
func (t *task) leftRough(c chucking, x outline.Stretch) op.Len {
	if t.waist && waisted(c) && slices.ContainsFunc(behindLarger(c), func(y outline.Stretch) bool { return y.N == x.N }) {
		return op.LenOf(roughSize(x))
	}
	for _, p := range roughing(c) {
		if p.over.Overlaps(x.Span) {
			return op.LenOf(units.Min(p.to, t.bar))
		}
	}
	return op.LenOf(t.bar)
}

// entered returns where a finishing cut is run in from: over what lies before it,
// toward the end that stands out, of no larger size and roughed to more.
func (t *task) entered(c chucking, x outline.Stretch, to units.Length) work.Span {
	var before work.Span
	for _, y := range c.stretches {
		if y.Overlaps(x.Span) {
			break
		}
		switch s := inWork(y.Span); {
		case to.Less(y.Large()):
			before = work.Span{}
		case before.Length() > 0:
			before = work.Span{From: min(before.From, s.From), To: max(before.To, s.To)}
		case op.LenOf(to) < t.leftRough(c, y):
			before = s
		}
	}
	return before
}

// turner returns the tool that gets at a stretch: a right-hand one from the end
// that stands out, where nothing before it is larger; else one that goes straight
// in.
func turner(c chucking, x outline.Stretch) op.Tool {
	before := c.stub
	for _, y := range c.stretches {
		if y.N == x.N {
			break
		}
		before = units.Max(before, y.Large())
	}
	if units.Min(x.Left.Turned, x.Right.Turned).Less(before) {
		return op.Tool{Name: "grooving tool", Hand: op.Form}
	}
	return op.Tool{Name: "finishing tool", Hand: op.Right}
}

// joined returns stretches with neighbouring cylinders of one diameter made
// one: flats are cut later, and the tool knows nothing of them. A cylinder that
// is held later keeps its own.
func (t *task) joined(list []outline.Stretch) []outline.Stretch {
	isGrip := func(x outline.Stretch) bool {
		return t.grip >= 0 && cylinder(t.shape.Stretches[t.grip]) == cylinder(x)
	}
	alike := func(x, y outline.Stretch) bool {
		return x.Kind() == outline.Cylinder && y.Kind() == outline.Cylinder && turnedTo(x).Equal(turnedTo(y))
	}
	var out []outline.Stretch
	for _, x := range list {
		if n := len(out) - 1; n >= 0 && alike(x, out[n]) && !isGrip(x) && !isGrip(out[n]) {
			out[n].Span = spanning(out[n].Span, x.Span)
			continue
		}
		out = append(out, x)
	}
	return out
}

// cylindrical finishes one cylinder: by the dial, or where that may not keep its limits by a file
// and abrasive paper after it.
func cylindrical(t *task, c chucking, x outline.Stretch) steps {
	to, list := turnedTo(x), t.sizesOver(x)
	methods := []say.Text{""}
	if t.byHandToo(list) {
		methods = append(methods, "it is filed and polished to size by hand, and measured again and again")
	}
	if least := t.overFiled(c, x, to); to.Less(least) {
		to = least.RoundTo(depthStep, units.Up)
	}
	if t.method(x.ID(), len(methods)) == 0 {
		return turnedCylinder(t, c, x, to, list).offering(x.ID(), methods...)
	}
	w := turnedCylinder(t, c, x, t.polishTo(list, to).Plus(practice.LeavePolish.Length()), nil)
	o := w.ops[0]
	o.Rough, o.Makes, o.Leaves = true, nil, op.Surface{}
	return together(w, polished(t, c, x)).offering(x.ID(), methods...)
}

// turnedCylinder turns one cylinder to a diameter that keeps these sizes.
func turnedCylinder(t *task, c chucking, x outline.Stretch, to units.Length, list []kept) steps {
	var w steps
	o := w.add(&op.Op{
		ID: fmt.Sprintf("turn-z%s", x.From.Decimal()), Kind: op.Turn, Name: say.Of("finish ", to, " over ", x.Span),
		Setup: c.setup, Tool: turner(c, x), Leaves: cylinder(x), Cuts: x.Span, Dia: to,
		Makes: t.idsOver(x.Span), Ends: [2]op.Len{op.LenOf(to), op.LenOf(to)}, Roughed: t.leftRough(c, x),
	})
	o.Do = func(as work.State) {
		over := t.runOn(o, c, x)
		start, slide := as.Largest(inWork(over)).Length(), t.Shop.Lathe.CrossSlide
		more := t.entered(c, x, to)
		t.grooved(o, start, to, over.Length().Plus(more.Length().Length()))
		if more.Length() > 0 {
			begins := more.From
			if c.out == part.Right {
				begins = more.To
			}
			o.Set("run in from z", begins.Length(), "what stands higher from there on comes down to this diameter too")
		}
		last, off := t.lastCut(list, start, to), t.readTo()
		if o.Rough {
			last = t.filedCut(t.sizesOver(x), start)
		}
		set := last.set(o, say.Of("in from ", start, measuredAfter(o.Before)), slide, start)
		out := predict.Diameter(start, set)
		if least := t.overFiled(c, x, turnedTo(x)); least.Sign() > 0 {
			o.Check(problem.OutOfLimits, least.Cmp(out) <= 0, op.With(out, "where it runs in over what is filed later"),
				op.With(least, "at the least"), "a finer dial")
			o.Name = say.Of("finish ", out, " over ", x.Span)
		}
		if o.Rough {
			o.Name = say.Of("turn ", out, " over ", x.Span, ", to be filed and polished")
			t.leaves(o, out.Minus(t.polishTo(t.sizesOver(x), turnedTo(x))))
		}
		o.Working = append(o.Working, sheet.Work(say.Of("diameter at z ", x.From).String(), "start - 2*travel",
			out.MM(), "mm", sheet.Let("start", start.MM()), sheet.Let("travel", set.MM())))
		if more.Length() > 0 {
			o.Removed(work.Turned(more, op.LenOf(out), work.Rough))
		}
		o.Removed(work.Turned(inWork(over), op.LenOf(out), work.Finished))
		plunges := o.Push.Roughing
		o.Push = t.finishPush()
		o.Push.Roughing = plunges
		if start.Less(to) { // metal is never put back
			out, off, last.why = start, units.Length{}, "measured before it was finished"
		}
		t.predictTurned(o, x, out, off, last.why)
		t.shoulders(o, c, x)
	}
	return w
}

// runOn returns what is finished of a cylinder: on past the end that is cut off later, which is said.
func (t *task) runOn(o *op.Op, c chucking, x outline.Stretch) op.Span {
	over := c.onPast(x.Span)
	switch past := over.Length().Minus(x.Length()); {
	case past.Sign() == 0:
	case t.necked:
		o.Set("run on", past, "at this diameter, where the bar is turned down next")
	default:
		o.Set("past the end", past, "more at this diameter, where it is cut off")
	}
	return over
}

// measuredAfter says when the diameter is measured that a finishing cut is set from.
func measuredAfter(b op.Before) say.Text {
	switch {
	case b.N == 0:
		return " as measured on the bar"
	case b.Rough:
		return " as measured after roughing"
	}
	return say.Of(" as measured after step ", b.N)
}

// asCut says how what a cut begins from stands.
func asCut(b op.Before) say.Text {
	switch {
	case b.N == 0:
		return "as bought"
	case b.Rough:
		return "as roughed"
	}
	return say.Of("as cut in step ", b.N)
}

// grooved charges a finishing cut, and before it the passes that take down what
// roughing could not reach, all of them at the speed for the diameter they start at: each is as
// wide as the tool, and pushes with that. In light cuts the tool is fed along in all of them.
func (t *task) grooved(o *op.Op, start, to, length units.Length) {
	more := start.Minus(to).Minus(practice.LeaveTurning.Length()).Half()
	if depth := practice.RoughDepth.Length(t.material); more.Sign() > 0 && o.Tool.Hand == op.Form && !t.light {
		n, wide := int(more.Steps(depth, units.Up)), units.Min(t.plunger(), length)
		o.Set("passes", sheet.Count(n), "of at most ", depth, " a side, straight in side by side, then one along to finish")
		o.Set("width a plunge", wide, "at the most")
		_, push := stiffness.CuttingForce(t.material, wide, practice.FinishFeed.Feed())
		o.Push.Roughing = float64(push)
		o.Minutes += float64(n) * t.minutes(o, cutting(feeds.Turn, start, length))
		to = start
	}
	passes := 1
	if t.light { // what roughing leaves comes off in light cuts, and all of what it could not reach
		passes = max(1, int(start.Minus(to).Half().Steps(t.finishDepth(), units.Up)))
		o.Set("depth a pass", t.finishDepth(), "a side, in ", say.Count(int64(passes), "light pass", "light passes"),
			": it springs under more")
	}
	t.cut(o, passes, finishing(to, length))
}

// finishDepth is the depth of a finishing cut, a side.
func (t *task) finishDepth() units.Length {
	if t.light {
		return practice.FinishLight.Length()
	}
	return practice.FinishDepth.Length()
}

// finishPush is how hard a finishing cut pushes.
func (t *task) finishPush() op.Cut {
	return op.Cut{Depth: t.finishDepth().MM(), Feed: practice.FinishFeed.Feed().MM(), Finish: true}
}

// idsOver returns the ids of the stretches over a span.
func (t *task) idsOver(s op.Span) []string {
	var list []string
	for _, x := range t.shape.Over(s) {
		list = append(list, x.ID())
	}
	return list
}

// predictTurned notes the diameter of a cylinder, or of the blank of a thread, that may be off so far
// either way, unless it is left larger.
func (t *task) predictTurned(o *op.Op, x outline.Stretch, out, off units.Length, why say.Text) {
	if o.Rough {
		return
	}
	for _, d := range t.sizesOver(x) {
		o.ForeseeTold(d.Dimension, d.words, out, off, why)
	}
}

// unrelieved returns what is left of a stretch between the reliefs of the threads
// beside it.
func (t *task) unrelieved(y outline.Stretch) (from, to units.Length) {
	from, to = y.From, y.To
	for _, x := range t.shape.Threads {
		wide := t.relieved(x)
		switch {
		case x.Inside || wide.Sign() <= 0:
		case x.From == part.Left && x.Span.To.Equal(y.From):
			from = from.Plus(wide)
		case x.From == part.Right && x.Span.From.Equal(y.To):
			to = to.Minus(wide)
		}
	}
	return from, to
}

// shoulders sets where a cut stops: the shoulder at its inner end, by the
// carriage's dial or a stop, from the face.
func (t *task) shoulders(o *op.Op, c chucking, x outline.Stretch) {
	for _, s := range t.shape.Shoulders {
		inner := x.From
		if c.out == part.Left {
			inner = x.To
		}
		if !s.Z.Equal(inner) {
			continue
		}
		from, why := fromEnd(t.shape, c.out, s.Z).Plus(t.stub(c.out)), say.Text("a stop on the bed set by measuring")
		out := from
		if dial := t.Shop.Lathe.Carriage; dial != nil {
			out, why = o.OnDial(say.Of("shoulder at z ", s.Z), op.Carriage, dial, from, "the ", c.out, " face"),
				"the carriage's dial"
		} else if t.Shop.Lathe.Readout {
			o.OnDial(say.Of("shoulder at z ", s.Z), op.Carriage, nil, from, "the ", c.out, " face")
			out, why = from.RoundTo(practice.ReadoutStep.Length(), units.Nearest), "the carriage's readout"
		} else {
			o.Set("stop", from, "from the ", c.out, " face to the shoulder at z ", s.Z)
		}
		if t.setBeside(s, x) {
			continue // the cut that runs up to it comes to it last
		}
		o.Foresee(t.limits.Shoulder(s), say.Of("shoulder at z ", s.Z), fromEnd(t.shape, c.out, out.Minus(t.stub(c.out))), why)
	}
}

// setBeside reports whether a shoulder at the inner end of a cut is brought to its
// place by another one: that of the smaller side, where it is a cylinder that is cut up
// to it.
func (t *task) setBeside(s outline.Shoulder, x outline.Stretch) bool {
	mine, other := s.Left, s.Right
	if x.From.Equal(s.Z) {
		mine, other = other, mine
	}
	if mine.Cmp(other) <= 0 {
		return false
	}
	for _, c := range t.chuckings {
		for _, y := range c.stretches {
			inner := y.From
			if c.out == part.Left {
				inner = y.To
			}
			if y.N != x.N && inner.Equal(s.Z) && y.Kind() == outline.Cylinder && !t.asBought(y) {
				return true
			}
		}
	}
	return false
}

// edge returns the stretch whose edge a chamfer breaks, the larger one at a
// shoulder, where it is cut in a chucking.
func (t *task) edge(x part.Chamfer, c chucking) (outline.Stretch, bool) {
	var best outline.Stretch
	for _, y := range t.shape.At(x.Z) {
		if best.N == 0 || best.At(x.Z).Drawn.Less(y.At(x.Z).Drawn) {
			best = y
		}
	}
	return best, slices.ContainsFunc(c.stretches, func(y outline.Stretch) bool {
		return y.N == best.N && y.From.Cmp(x.Z) <= 0 && x.Z.Cmp(y.To) <= 0 // of one it may be a part
	})
}

// startsThread reports whether the nth chamfer that is drawn is the one that a thread starts
// with, which is cut with its relief.
func (t *task) startsThread(n int) bool {
	return slices.ContainsFunc(t.shape.Threads, func(x outline.Thread) bool {
		c, ok := t.drawnStart(x)
		return ok && c.N == n
	})
}

// drawnStart returns the chamfer that is drawn where an outside thread starts.
func (t *task) drawnStart(x outline.Thread) (outline.Chamfer, bool) {
	for _, c := range t.shape.Chamfers {
		if !x.Inside && c.Z.Equal(endOf(t.shape, x.From)) {
			return c, true
		}
	}
	return outline.Chamfer{}, false
}

// chamfer breaks an edge of the outside at 45 deg.
func chamfer(t *task, c chucking, x part.Chamfer, y outline.Stretch, n int) steps {
	var w steps
	inner := t.shape.Chamfers[n-1].Inner()
	edge := work.Point{Z: op.LenOf(x.Z), Dia: op.LenOf(y.At(x.Z).Turned.Minus(x.Size.Times(2)))}
	profile := []work.Point{edge, {Z: op.LenOf(inner), Dia: op.LenOf(y.At(inner).Turned)}}
	if y.To.Equal(x.Z) {
		slices.Reverse(profile)
	}
	o := w.add(&op.Op{
		ID: fmt.Sprintf("edge-%d", n), Kind: op.Chamfer, Name: say.Of("chamfer the edge at z ", x.Z), Setup: c.setup,
		Tool: op.Tool{Name: "chamfering tool", Hand: op.Form}, Feature: op.Feature{Kind: op.Chamfer, N: n},
		Cuts: op.Span{From: profile[0].Z.Length(), To: profile[1].Z.Length()}, Dia: y.At(x.Z).Turned,
		Makes: []string{outline.ChamferID(n)},
	})
	o.Set("by", x.Size, "at 45 deg")
	o.Removed(work.Outside{Profile: profile, Stage: work.Finished})
	depth, bites := x.Size, 1
	if t.light && t.finishDepth().Less(depth) {
		depth = t.finishDepth()
		bites = int(x.Size.Steps(depth, units.Up))
		o.Set("depth a pass", depth, "a side, in ", say.Count(int64(bites), "light bite", "light bites"),
			": it springs under more")
	}
	o.Push = op.Cut{Depth: depth.MM(), Feed: practice.FinishFeed.Feed().MM()}
	t.cut(o, bites, finishing(y.At(x.Z).Turned, x.Size))
	o.Do = func(as work.State) { t.besideBar(o, x, y, as) }
	return w
}

// besideBar says how an edge is chamfered beside which the bar stands as thick: a groove beside it
// comes first, as deep as the chamfer, so that the tool's edge gets at it.
func (t *task) besideBar(o *op.Op, x part.Chamfer, y outline.Stretch, as work.State) {
	const beside = 10_000 // nm
	z := op.LenOf(x.Z) - beside
	if y.To.Equal(x.Z) {
		z = op.LenOf(x.Z) + beside
	}
	to := y.At(x.Z).Turned.Minus(x.Size.Times(2))
	if as.Dia(z) <= op.LenOf(to) {
		return
	}
	o.Set("groove first", to.Down(), "the bar stands full beside this edge, at z ", x.Z, ": go in there with the ",
		t.blade(), " to this diameter, then the chamfering tool gets at it out of the groove")
}

// fromEnd turns a z into the distance from an end of the part, and back.
func fromEnd(shape *outline.Outline, end part.End, z units.Length) units.Length {
	if end == part.Right {
		return shape.Length.Minus(z)
	}
	return z
}

// curve turns a dome, ball or arc by steps.
func curve(t *task, c chucking, x outline.Stretch) steps {
	var w steps
	in := curves.Input{
		Radius: x.Arc.Radius, From: x.Left.Turned, To: x.Right.Turned, Length: new(x.Length()),
		Bulge: curves.In, Cusp: new(practice.ArcCusp.Length()),
	}
	if x.Arc.Out {
		in.Bulge = curves.Out
	}
	all, err := curves.Of(in)
	if err != nil {
		w.no.Add(placed(err, x.Arc.At))
		return w
	}
	sides := flanks(x)
	list := []steps{w}
	for i, f := range sides {
		list = append(list, curveSide(t, c, x, f, all, i == len(sides)-1))
	}
	return together(list...)
}

// curveSide turns a side of an arc: by a side tool's steps, or plunged with the grooving tool, which is
// more trouble unless a tool is ground for it. The last one makes the arc.
func curveSide(t *task, c chucking, x outline.Stretch, side op.Span, all curves.Result, last bool) steps {
	var w steps
	o := w.add(&op.Op{
		ID: fmt.Sprintf("curve-z%s", side.From.Decimal()), Kind: op.Curve, Setup: c.setup,
		Name: say.Of("turn the arc of ", x.Arc.Radius, ", ", side), Cuts: side,
		Dia:  units.Min(x.At(side.From).Turned, x.At(side.To).Turned),
		Ends: [2]op.Len{op.LenOf(x.At(side.From).Turned), op.LenOf(x.At(side.To).Turned)}, Roughed: t.leftRough(c, x),
	})
	if last {
		o.Makes = []string{x.ID()}
	}
	tool, methods := t.gets(side, c, towards(c.out, x, side)), []say.Text{""}
	if t.plungeable(c, x, side) {
		trouble := say.Text("it is plunged place by place, each a cut as wide as the blade")
		if tool.isGround() {
			trouble = ""
		}
		methods = append(methods, trouble)
	}
	if t.method(o.ID, len(methods)) > 0 {
		o.Name, o.Tool = say.Of("plunge the arc of ", x.Arc.Radius, ", ", side), op.Tool{Name: "grooving tool", Hand: op.Form}
		o.Do = func(as work.State) { t.plungedArc(o, c, x, side, as) }
		w.needs(say.Of("grooving tool ", t.grooving(), " wide"), "to plunge an arc", t.Shop.Parting != nil)
		return w.offering(o.ID, methods...)
	}
	tool.takes(o)
	o.Do = func(as work.State) { t.arc(o, c, x, side, all, as) }
	return w.offering(o.ID, methods...)
}

// flanks returns the sides of an arc: two where its crest or its waist lies between
// its ends.
func flanks(x outline.Stretch) []op.Span {
	z := units.FromFloat(x.Arc.Z)
	if x.From.Less(z) && z.Less(x.To) {
		return []op.Span{{From: x.From, To: z}, {From: z, To: x.To}}
	}
	return []op.Span{x.Span}
}

// towards returns the hand of the tool that is tried first at a side of an arc: a right-hand
// one where it falls toward the end that stands out, a left-hand one where it rises.
func towards(out part.End, x outline.Stretch, side op.Span) fouling.Hand {
	inner, outer := x.At(side.From).Turned, x.At(side.To).Turned
	if out == part.Left {
		inner, outer = outer, inner
	}
	if inner.Less(outer) {
		return fouling.Left
	}
	return fouling.Right
}

// arcChords is how many straights stand for an arc: of one of 100 mm over 50 mm
// they are 0.002 mm off.
const arcChords = 64

// drawn returns a side of an arc as points, in chords that stay within a hundredth
// of a millimetre of it. They are close together at both ends, where a ball is steep; the last one
// to a point is halved again and again, since on a ball of diameter D the diameter of a chord
// from its pole to d is up to d/4 less than the ball's.
func drawn(x outline.Stretch, side op.Span) []work.Point {
	var list []work.Point
	from, length := op.LenOf(side.From), op.LenOf(side.Length())
	add := func(chord float64) {
		z := from + op.Len(float64(length)*(1-math.Cos(math.Pi*chord/arcChords))/2)
		list = append(list, work.Point{Z: z, Dia: op.LenOf(x.At(z.Length()).Turned)})
	}
	halves := []float64{1. / 16, 1. / 8, 1. / 4, 1. / 2}
	add(0)
	if list[0].Dia == 0 {
		for _, h := range halves {
			add(h)
		}
	}
	for i := 1; i < arcChords; i++ {
		add(float64(i))
	}
	if x.At(side.To).Turned.Sign() == 0 {
		for _, h := range slices.Backward(halves) {
			add(arcChords - h)
		}
	}
	add(arcChords)
	return list
}
