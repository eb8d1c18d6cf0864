package plan

import (
	"math"
	"slices"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// Blank is the bar or block to start from: where the bar lies in the drawing's z
// when it first goes in the machine, and how much of it one piece and all take.
type Blank struct {
	Shape    part.Shape    `json:"shape"`
	Diameter *units.Length `json:"diameter_mm,omitempty"`
	Across   *units.Length `json:"across_flats_mm,omitempty"`
	Bore     *units.Length `json:"bore_mm,omitempty"`
	X        *units.Length `json:"x_mm,omitempty"`
	Y        *units.Length `json:"y_mm,omitempty"`
	Z        *units.Length `json:"z_mm,omitempty"`
	From     *op.Len       `json:"from_mm,omitempty"`
	To       *op.Len       `json:"to_mm,omitempty"`
	Length   *units.Length `json:"length_mm,omitempty"`
	Pieces   int           `json:"pieces"`
	Bar      *units.Length `json:"bar_mm,omitempty"`
	Because  say.Text      `json:"because"`

	Fed  bool      `json:"-"` // the bar is pulled out for the next piece when one is parted off
	Span work.Span `json:"-"`
	Rest op.Len    `json:"-"` // of the bar beyond what is faced off, which it is held by at first
}

// barBlank chooses the bar: the one on hand, or the smallest that serves, as
// long as the part, what is faced off, what is held and what the saw or the
// parting blade takes.
func (t *task) barBlank() Blank {
	face := op.LenOf(practice.SawnFace.Length())
	b := Blank{Shape: part.RoundBar, Diameter: &t.bar, Pieces: max(1, t.Part.Quantity)}
	if s := t.round.Stock; s != nil {
		b.Shape = s.Shape
		switch s.Shape {
		case part.RoundBar:
		case part.Tube:
			b.Bore = &s.Bore
		default:
			b.Diameter, b.Across = nil, &s.Size
		}
	}
	b.Span = work.Span{From: -face, To: op.LenOf(t.shape.Length) + face}
	why := say.Of("length: ", t.shape.Length, " of part, ", face.Length(), " faced off each sawn end")
	for _, c := range t.chuckings {
		l := t.stub(c.out)
		if l.Sign() == 0 {
			continue
		}
		b.Span = b.Span.Grown(c.out, op.LenOf(l))
		why += say.Of(", ", l, " of stub for the centre, ")
		if t.thin(c.out) {
			why += say.Of("since the ", c.out, " end is thinner than ", practice.ThinEnd.Length())
		} else {
			why += say.Of("so that the tailstock clears the tool at the ", c.out, " end")
		}
	}
	held := t.chuckings[0].setup.Held
	if t.grip == inDog {
		held = t.chuckings[0].facing.Held
	}
	if more := beyond(held, b.Span); more > 0 {
		b.Span = b.Span.Grown(other(t.first), more)
		b.Rest = more
		why += say.Of(", ", more.Length(), " more to hold it by at first")
	}
	b.Length = new(b.Span.Length().Length())
	kerf := practice.Kerf.Length()
	b.Bar = new(b.Length.Plus(kerf).Times(int64(b.Pieces)))
	switch {
	case t.fed():
		b.Fed = true
		b.Length = new(t.shape.Length.Plus(t.stub(t.first)).Plus(face.Length()).Plus(t.Shop.Parting.Blade))
		b.Span = b.Span.Grown(other(t.first), op.LenOf(b.Length.Times(int64(b.Pieces-1))))
		b.Bar = new(b.Span.Length().Length().Plus(kerf))
		why += say.Of("; for ", b.Pieces, ": ", b.Bar.Up(), " of bar, which goes through the spindle: every piece takes ",
			*b.Length, ", what is faced off and the blade's with it")
	case b.Pieces > 1:
		why += say.Of("; for ", b.Pieces, ": ", b.Bar.Up(), " of bar with ", kerf, " for each saw cut")
	}
	b.From, b.To = &b.Span.From, &b.Span.To
	b.Because = t.barReason() + "; " + why
	return b
}

// fed reports whether the bar is pulled out for the next piece when one is parted off: all
// is cut in the lathe in one grip, and the shop's file says that the bar goes through the
// chuck and the spindle.
func (t *task) fed() bool {
	lathe, device := t.Shop.Lathe, t.chuckings[0].setup.Device
	parted := t.Part.Quantity > 1 && t.grip == offBar && !t.filed && t.Shop.Parting != nil
	if !parted || !t.inLatheAlone() || lathe.SpindleBore == nil || lathe.SpindleBore.Less(t.bar) {
		return false
	}
	jaws := lathe.Chuck
	if device == op.FourJaw {
		jaws = lathe.FourJaw
	}
	return device == op.Collet || jaws != nil && jaws.Through != nil && !jaws.Through.Less(t.bar)
}

// inLatheAlone reports whether the part has nothing that is cut on another machine.
func (t *task) inLatheAlone() bool {
	round := t.round
	other := slices.ContainsFunc(t.shape.Facets, func(f outline.Facets) bool { return !t.ownFlats(f) })
	return !other && len(round.Holes)+len(round.Rows)+len(round.Slots) == 0
}

// beyond returns how far one span reaches out of another, at the end where it
// does more.
func beyond(s, of work.Span) op.Len { return max(of.From-s.From, s.To-of.To, 0) }

// start is the work as it goes in first.
func (t *task) start() work.State {
	if t.block != nil {
		b := t.blank
		return work.State{Box: &work.Block{Size: [3]op.Len{op.LenOf(*b.X), op.LenOf(*b.Y), op.LenOf(*b.Z)}}}
	}
	dia, sides, bore := op.LenOf(t.bar), 0, op.Len(0)
	if s := t.round.Stock; s != nil {
		sides, dia = s.Sides(), op.LenOf(s.Swing())
		bore = op.LenOf(s.Bore)
	}
	return work.Bar(op.LenOf(t.shape.Length), t.blank.Span, dia, sides, bore)
}

// barReason says why the bar is as thick as it is.
func (t *task) barReason() say.Text {
	why := say.Of("the largest turned diameter is ", t.least().Up())
	if t.least().Sign() == 0 {
		why = "nothing is turned outside"
	}
	for _, f := range t.shape.Facets {
		switch {
		case f.Sides == 2: // the round stays between them
			continue
		case t.ownFlats(f):
			why += say.Of("; the ", f.Sides, " flats over ", f.Span, " are the bar's own")
			continue
		}
		why += say.Of("; ", f.Sides, " sides need a round through their corners")
	}
	switch {
	case t.rack != nil:
		return t.ofRack() + "; " + why
	case t.round.Stock != nil:
		what := say.Text("bar")
		if t.round.Stock.Shape == part.Tube {
			what = "tube"
		}
		return say.Of("the ", what, " on hand (stock); ") + why
	}
	skim, step := t.barFigures()
	return why + say.Of(", and ", skim, " to clean up, to the next ", step)
}

// barFigures returns what is turned off a bar to clean it up and the step that bars
// are counted in: round figures of inches where the part or the shop is in them.
func (j *job) barFigures() (skim, step units.Length) {
	unit := units.MM
	if j.Part.Units == units.Inch || j.Shop.Units == units.Inch {
		unit = units.Inch
	}
	return practice.SkimBar.Length(unit), practice.BarStep.Length(unit)
}

// parting returns what cutting the part off takes of the bar.
func (t *task) parting() units.Length {
	blade := practice.Kerf.Length()
	if t.Shop.Parting != nil {
		blade = t.Shop.Parting.Blade
	}
	return blade.Plus(practice.PartingExtra.Length())
}

// partedMost returns the largest diameter that is parted off.
func (j *job) partedMost() units.Length {
	if p := j.Shop.Parting; p != nil && p.Most != nil {
		return *p.Most
	}
	return practice.PartingMost.Length()
}

// barOnly returns what is known of the bar before there is a way to hold it.
func (j *job) barOnly() Blank {
	b := Blank{Shape: part.RoundBar, Pieces: max(1, j.Part.Quantity)}
	switch {
	case j.round == nil:
		b.Shape = blockBar
	case j.round.Stock != nil:
		b.Shape = j.round.Stock.Shape
	}
	return b
}

// least returns the largest diameter that is turned, through the corners of what is
// facetted: the thinnest bar that holds the part. What is left as the bar was bought
// does not count; none of a block does.
func (t *task) least() units.Length {
	var d units.Length
	if t.round == nil {
		return d
	}
	for _, x := range t.shape.Stretches {
		if x.Facets == nil || !t.ownFlats(*x.Facets) {
			d = units.Max(d, x.Large())
		}
	}
	return d
}

// sawn saws the bar.
func sawn(t *task) steps {
	var w steps
	if need := t.least(); t.bar.Less(need) {
		w.no.Add(problem.New(problem.NotReachable, "", say.Of("stock ", t.bar),
			"too small: the least bar is ", need.Up()).In(t.round.At))
	}
	o := w.add(&op.Op{
		ID: "saw", Kind: op.Saw, Name: "saw the bar to length", Tool: op.Tool{Name: "saw"}, Cuts: t.shape.Whole(),
		Setup: op.Setup{Machine: op.BandSaw, Device: op.Vice, On: op.Stock},
	})
	o.Set("length", t.blank.Span.Length().Length().Up(), "at the least")
	t.bought(o)
	return w
}

// bought notes what the bar brings with it: facets that are its own flats.
func (t *task) bought(o *op.Op) {
	for _, f := range t.shape.Facets {
		if !t.ownFlats(f) {
			continue
		}
		o.Makes = append(o.Makes, f.ID())
		for i, x := range t.shape.Over(f.Span) {
			if i == 0 {
				o.Foresee(t.limits.Flats(x, part.Left), say.Of("across flats, ", f.Span), t.round.Stock.Size, "the bar as bought")
			}
		}
	}
}

// last makes what is done when the part has its shape: the stub or the part
// cut off, then the processes.
func last(t *task) steps {
	var w steps
	for _, c := range t.chuckings {
		if t.stubAt(c.out) {
			stubOff(t, &w, c.out)
		}
	}
	switch {
	case t.filed:
		sawOff(t, &w)
		fileOff(t, &w)
	case t.grip == offBar:
		partOff(t, &w, t.chuckings[0])
	case t.sawn || op.LenOf(practice.Kerf.Length()) < t.blank.Rest: // less is faced off
		sawOff(t, &w)
	}
	return together(w, processes(t.job, t.shape.Whole()))
}

// stubOff saws the stub off at the bench and files the end flat: it is too thin
// to be cut off in the lathe without a centre.
func stubOff(t *task, w *steps, end part.End) {
	z := endOf(t.shape, end)
	o := w.add(&op.Op{
		ID: "stub-off-" + string(end), Kind: op.PartOff, Name: say.Of("saw the stub off the ", end, " end and file it flat"),
		Setup: t.atBench(),
		Tool:  op.Tool{Name: "hacksaw and file", Hand: op.File},
		Cuts:  t.shape.FromEnd(end, units.Length{}), Makes: []string{outline.FaceID(end)},
	})
	still := t.stub(other(end)) // the first of two stubs leaves the other on
	if end == t.chuckings[len(t.chuckings)-1].out {
		still = units.Length{}
	}
	o.Set("to length", t.shape.Length.Plus(still), "measured over both ends; ", overCard(o.Setup))
	o.Removed(work.EndCut{End: end, Z: op.LenOf(z)})
	o.Minutes = practice.StubMinutes.Number()
	if still.Sign() == 0 {
		o.Makes = append(o.Makes, outline.WholeLength)
		t.predictLength(o, filedToSize)
	}
}

// filingOff names the operation that files an end flat.
func filingOff(end part.End) string { return "file-" + string(end) }

// fileOff files the end flat at which the part was sawn off, where no chuck holds it to
// be faced.
func fileOff(t *task, w *steps) {
	end := other(t.first)
	o := w.add(&op.Op{
		ID: filingOff(end), Kind: op.Face, Name: say.Of("file the ", end, " end flat"),
		Setup: t.atBench(),
		Tool:  op.Tool{Name: "file", Hand: op.File},
		Cuts:  t.shape.FromEnd(end, units.Length{}), Makes: []string{outline.FaceID(end)},
	})
	o.Set("to length", t.shape.Length.Plus(t.stub(t.first)),
		"measured over both ends; ", overCard(o.Setup), ", and tried all round with a square")
	o.Do = func(as work.State) {
		dia, most := as.Dia(op.LenOf(endOf(t.shape, end))).Length(), practice.FileEndMost.Length(t.material)
		cm := dia.MM() / 10
		o.Minutes = practice.FileEndMinutes.Number() * cm * cm * math.Pi / 4
		o.Check(problem.NotReachable, dia.Cmp(most) <= 0, op.With(dia.Up(), "across is filed flat by hand"),
			op.With(most, "at the most"), "an end that is parted off, or faced")
	}
	o.Removed(work.EndCut{End: end, Z: op.LenOf(endOf(t.shape, end))})
	if !t.stubAt(t.first) {
		o.Makes = append(o.Makes, outline.WholeLength)
		t.predictLength(o, filedToSize)
	}
}

// sawOff saws the part off the bar, with something left to face.
func sawOff(t *task, w *steps) {
	end, face := other(t.first), practice.SawnFace.Length()
	z := inward(op.LenOf(endOf(t.shape, end)), -op.LenOf(face.Plus(t.stub(end))), end)
	o := w.add(&op.Op{
		ID: "saw-off", Kind: op.Saw, Name: "saw the part off the bar", Tool: op.Tool{Name: "saw"},
		Setup: op.Setup{Machine: op.BandSaw, Device: op.Vice, On: op.Stock, Out: t.first},
		Cuts:  t.shape.FromEnd(end, units.Length{}), Minutes: practice.SawMinutes.Number(),
	})
	long := t.shape.Length.Plus(t.stub(part.Left)).Plus(t.stub(part.Right)).Plus(face)
	o.Set("length", long.Up(), "from the face: ", face, " is left to face")
	o.Removed(work.EndCut{End: end, Z: z, Sawn: true})
}

// partingOff names the operation that cuts the part off the bar.
const partingOff = "part-off"

// partOff cuts the part off the bar.
func partOff(t *task, w *steps, c chucking) {
	end := other(c.out)
	o := w.add(&op.Op{
		ID: partingOff, Kind: op.PartOff, Name: "part it off to length", Setup: c.setup.Plain(),
		Tool: op.Tool{Name: "parting blade", Hand: op.Form}, Cuts: t.shape.FromEnd(end, units.Length{}),
		Makes: []string{outline.FaceID(end)},
	})
	stub := t.stub(c.out)
	o.Set("to length", t.shape.Length.Plus(stub), "from the face")
	if t.blank.Fed {
		o.Set("next piece", *t.blank.Length, "loosen the jaws, pull the bar out so far against a stop, and face it again: ",
			t.blank.Pieces-1, " times")
		o.Cautions = append(o.Cautions, cautions.Whip)
	}
	w.needs(o.Tool.Name, "to cut the part off", t.Shop.Parting != nil)
	z := op.LenOf(endOf(t.shape, end))
	o.Removed(work.EndCut{End: end, Z: z})
	o.Push = op.Cut{Side: true}
	if stub.Sign() == 0 {
		o.Makes = append(o.Makes, outline.WholeLength)
		t.predictLength(o, "parted off to a measured length")
	}
	in := cutting(feeds.PartOff, t.endDia(end))
	if p := t.Shop.Parting; p != nil {
		in.Blade = &p.Blade
	}
	o.Do = func(as work.State) {
		in.Diameter = as.Dia(z).Length()
		t.cut(o, 1, in)
	}
}

// atBench holds the part while an end is sawn and filed: the longest cylinder of it that is
// long enough in the bench vice, or what is free of one between wide holes and slots, else by hand,
// between blocks of wood in the vice.
func (t *task) atBench() op.Setup {
	var best work.Span
	for _, x := range t.shape.Stretches {
		if x.Kind() != outline.Cylinder || x.Thread != nil {
			continue
		}
		need := op.LenOf(t.leastGrip(op.Vice, x.Left.Turned))
		for _, s := range t.unbroken(x) {
			if best.Length() < s.Length() && need <= s.Length() {
				best = s
			}
		}
	}
	if best.Length() == 0 {
		return op.Setup{Machine: op.Bench, Device: op.ByHand}
	}
	return op.Setup{Machine: op.Bench, Device: op.Vice, Held: best}
}

// unbroken returns what of a cylinder may be held: the pieces between its chamfers, and the holes and the
// slots that are wider than a part of its diameter.
func (t *task) unbroken(x outline.Stretch) []work.Span {
	list, most := []work.Span{inWork(t.unchamfered(x))}, x.Left.Turned.MM()/practice.GripHole.Number()
	without := func(s work.Span) {
		var left []work.Span
		for _, p := range list {
			for _, q := range []work.Span{{From: p.From, To: min(p.To, s.From)}, {From: max(p.From, s.To), To: p.To}} {
				if q.Length() > 0 {
					left = append(left, q)
				}
			}
		}
		list = left
	}
	for _, h := range t.shape.Holes {
		if wide := t.limits.Hole(h).High; wide.MM() > most {
			without(inWork(about(h.Z, wide)))
		}
	}
	for _, s := range t.shape.Slots {
		if wide := t.limits.SlotWidth(s.N).High; wide.MM() > most {
			place, long := t.limits.SlotPlace(s), t.limits.SlotLength(s.N).High
			without(inWork(op.Span{From: place.Low.Minus(long.Half()), To: place.High.Plus(long.Half())}))
		}
	}
	return list
}

// overCard says how the work is spared in the bench vice.
func overCard(s op.Setup) say.Text {
	if s.Device == op.ByHand {
		return "in a vice between blocks of wood, hollowed for it"
	}
	return "in a vice, over card"
}

// endOf returns the z of an end of the part.
func endOf(shape *outline.Outline, end part.End) units.Length {
	if end == part.Right {
		return shape.Length
	}
	return units.Length{}
}

// predictLength notes the part's length, which is measured as it is cut.
func (t *task) predictLength(o *op.Op, why say.Text) {
	o.Foresee(t.limits.Length(), "length", t.shape.Length, why)
}

// processKinds says what kind of operation a process of the part file is.
var processKinds = map[string]op.Kind{
	"harden": op.Harden, "temper": op.Harden, "etch": op.Etch, "glue": op.Glue, "polish": op.Polish, "mark": op.Mark,
}

// processes makes what is done to the whole part when it has its shape.
func processes(j *job, whole op.Span) steps {
	var w steps
	for i, p := range j.Part.Processes {
		o := op.Op{
			ID: p.Name, Kind: processKinds[p.Name], Name: say.Plain(p.Name), Tool: op.Tool{Name: say.Plain(p.Name)}, Cuts: whole,
			Feature: op.Feature{Kind: op.Wait, N: i + 1}, Setup: op.Setup{Machine: op.Bench, Device: op.ByHand},
		}
		w.add(&o)
		if p.Name == "glue" {
			wait := o
			wait.ID, wait.Kind, wait.Name, wait.Tool = "cure", op.Wait, "wait for the glue to cure", op.Tool{Name: "nothing"}
			wait.Set("time", say.Text("unknown"),
				"as the glue's maker says: no heat, no cutting and no clamping marks before then")
			w.add(&wait)
		}
	}
	return w
}
