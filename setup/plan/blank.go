package plan

import (
	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// Blank is the bar or block to start from.
type Blank struct {
	Diameter *units.Length `json:"diameter_mm,omitempty"`
	Length   *units.Length `json:"length_mm,omitempty"`
	X        *units.Length `json:"x_mm,omitempty"`
	Y        *units.Length `json:"y_mm,omitempty"`
	Z        *units.Length `json:"z_mm,omitempty"`
	Because  say.Text      `json:"because"`
}

// barBlank chooses the bar: the one on hand, or the smallest that serves, as
// long as the part, what is faced off, what is held and what the saw or the
// parting blade takes. stub is set where a centre needs one.
func (t *task) barBlank() (b Blank, stub bool) {
	face := practice.SawnFace.Length()
	l := t.shape.Length.Plus(face)
	why := say.Of("; length: ", t.shape.Length, " of part, ", face, " faced off a sawn end")
	add := func(x units.Length, what ...any) {
		l = l.Plus(x)
		why += say.Of(", ", x, " ", say.Of(what...))
	}
	held := practice.GripLength.Of(t.bar).RoundTo(units.Millimetres(1), units.Up)
	if t.grip == offBar {
		add(held, "held in the chuck (", say.Num(practice.GripLength.Number(), 1), " diameters)")
		add(t.parting(), "for parting off")
		add(practice.RunOut.Length(), "clear of the jaws")
	} else {
		add(face, "faced off the other end")
		var rest units.Length // of the part, held while the first side is cut
		if len(t.far) > 0 {
			rest = t.beyond().Length()
		}
		if rest.Less(held) {
			add(held.Minus(rest), "more to hold it by at first, cut off when it is turned end for end")
		}
	}
	for _, c := range t.chuckings {
		if c.setup.Centre && t.thin(c.out) {
			stub = true
			add(practice.StubLength.Length(),
				"of stub for the centre, since the ", c.out, " end is thinner than ", practice.ThinEnd.Length())
		}
	}
	if q := t.Part.Quantity; q > 1 {
		kerf := practice.Kerf.Length()
		why += say.Of("; for ", q, ": ", l.Plus(kerf).Times(int64(q)).Up(), " of bar with ", kerf, " for each saw cut")
	}
	return Blank{Diameter: &t.bar, Length: &l, Because: t.barReason() + why}, stub
}

// barReason says why the bar is as thick as it is.
func (t *task) barReason() say.Text {
	why := say.Of("the largest turned diameter is ", t.shape.Largest().Up())
	for _, f := range t.shape.Facets {
		why += say.Of("; ", f.Sides, " sides need a round through their corners")
	}
	if t.round.Stock != nil {
		return "the bar on hand (stock); " + why
	}
	return why + say.Of(", and ", practice.SkimBar.Length(), " to clean up, to the next ", practice.BarStep.Length())
}

// parting returns what cutting the part off takes of the bar.
func (t *task) parting() units.Length {
	blade := practice.Kerf.Length()
	if t.Shop.Parting != nil {
		blade = t.Shop.Parting.Blade
	}
	return blade.Plus(practice.PartingExtra.Length())
}

// sawn saws the bar.
func sawn(t *task) work {
	var w work
	if need := t.shape.Largest(); t.bar.Less(need) {
		w.no.Add(problem.New(problem.NotReachable, "", say.Of("stock ", t.bar),
			"too small for the corners: the least bar is ", need.Up()).In(t.round.At))
	}
	o := w.add(&op.Op{
		ID: "saw", Kind: op.Saw, Name: "saw the bar to length", Tool: "saw", Cuts: t.shape.Whole(),
		Setup: op.Setup{Machine: op.BandSaw, Device: op.Vice, On: op.Stock},
	})
	o.Set("length", t.blank.Length.Up(), "at the least")
	return w
}

// last makes what is done when the part has its shape: the stub or the part
// cut off, then the processes.
func last(t *task) work {
	var w work
	c := t.chuckings[len(t.chuckings)-1]
	part := func(id string, name say.Text, end part.End) *op.Op {
		return w.add(&op.Op{
			ID: id, Kind: op.PartOff, Name: name, Setup: c.setup.Plain(), Held: c.held, Tool: "parting blade",
			Cuts: t.shape.FromEnd(end, units.Length{}),
		})
	}
	if t.stub {
		part("stub-off", "cut the centre stub off and face the end", c.out)
	}
	if t.grip == offBar {
		o := part("part-off", "part it off to length", other(c.out))
		o.Set("to length", t.shape.Length, "from the face")
		w.needs(o.Tool, "to cut the part off", t.Shop.Parting != nil)
		in := cutting(feeds.PartOff, t.turned(other(c.out)))
		if p := t.Shop.Parting; p != nil {
			in.Blade = &p.Blade
		}
		t.cut(o, 1, in)
	}
	w = together(w, processes(t.job, t.shape.Whole()))
	w.predict("length", t.shape.Length, t.shape.Length, "faced to size by measuring")
	return w
}

// processKinds says what kind of operation a process of the part file is.
var processKinds = map[string]op.Kind{
	"harden": op.Harden, "temper": op.Harden, "etch": op.Etch, "glue": op.Glue, "polish": op.Polish, "mark": op.Mark,
}

// processes makes what is done to the whole part when it has its shape.
func processes(j *job, whole op.Span) work {
	var w work
	for i, p := range j.Part.Processes {
		o := op.Op{
			ID: p.Name, Kind: processKinds[p.Name], Name: say.Plain(p.Name), Tool: say.Plain(p.Name), Cuts: whole,
			Feature: op.Feature{Kind: op.Wait, N: i + 1}, Setup: op.Setup{Machine: op.Bench, Device: op.Hand},
		}
		w.add(&o)
		if p.Name == "glue" {
			wait := o
			wait.ID, wait.Kind, wait.Name, wait.Tool = "cure", op.Wait, "wait for the glue to cure", "nothing"
			wait.Set("time", say.Text("as the glue's maker says"), "no heat, no cutting and no clamping marks before then")
			w.add(&wait)
		}
	}
	return w
}
