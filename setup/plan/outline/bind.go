package outline

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/threads"
	"setover/threads/drill"
)

// Unfit returns every feature that has no place on the part as it is drawn: a
// thread without its bore or its cylinder, a bore that another one swallows.
// Each problem stands at the feature's place in the file, under its id.
func (o *Outline) Unfit() problem.List { return o.unfit }

// UnfitBlock returns the holes of a block that are not of the right size for the
// thread in them, as Unfit does. A designation that is none is not its business.
func UnfitBlock(b *part.Block) problem.List {
	var o Outline
	for i, h := range b.Holes {
		d, err := threads.Parse(h.Spec)
		if h.Spec == "" || err != nil {
			continue
		}
		if f := fitting(d); !f.fits(h.Dia) {
			o.wrong(h.At, HoleID(i+1), nil, "not of the right size for ", d, ": it is ", f.judged(h.Dia), f.needs())
		}
	}
	return o.unfit
}

// bind finds what every thread lies on, and keeps what has no place.
func (o *Outline) bind() {
	for i := range o.Bores {
		o.swallow(&o.Bores[i])
	}
	for i := range o.Threads {
		if t := &o.Threads[i]; t.Inside {
			o.bindInside(t)
		} else {
			o.bindOutside(t)
		}
	}
}

// wrong keeps a problem of a feature.
func (o *Outline) wrong(at problem.Pos, id string, found any, want ...any) {
	at.Key = id
	o.unfit.Add(problem.New(problem.Complete, "", found, want...).In(at))
}

// swallow keeps a bore of which another one leaves nothing: as deep, and wider or
// of its size.
func (o *Outline) swallow(b *Bore) {
	for i := range o.Bores {
		c := &o.Bores[i]
		alike := b.Dia.Equal(c.Dia) && (c.N < b.N || !b.Span.Covers(c.Span))
		if (alike || b.Dia.Less(c.Dia)) && c.Span.Covers(b.Span) {
			o.wrong(b.At, b.ID(), b.Dia, "nothing of this bore is left: the one of ", c.Dia, " on line ", c.At.Line,
				" is as deep")
			return
		}
	}
}

// opens reports whether a bore opens at an end.
func (b Bore) opens(end part.End) bool { return b.From == end || b.Through }

// mouth returns where there is metal for a diameter round a bore as it is seen from
// an end: at the end's face, or where the point of the drill of the deepest
// counterbore that it is behind has narrowed to that.
func (o *Outline) mouth(b *Bore, dia units.Length, end part.End) units.Length {
	deep := units.Length{}
	for _, c := range o.Bores {
		if c.From == end && !c.Through && b.Dia.Less(c.Dia) {
			point := holes.ConeDepth(units.Max(c.Dia, dia), dia, practice.PointAngle.Angle())
			deep = units.Max(deep, c.Depth.Plus(point))
		}
	}
	return deep
}

// bindInside puts an inside thread into the bore from its end whose size fits
// it; of several that do, into the one nearest to its minor diameter. Behind a
// counterbore it begins where the point of that one's drill leaves metal for it; its
// depth counts from the face of the end, as that of its bore does.
func (o *Outline) bindInside(t *Thread) {
	minor, f := t.Designation.Sizes().MinorInternal, fitting(t.Designation)
	var there, other []*Bore
	for i := range o.Bores {
		b := &o.Bores[i]
		if !b.opens(t.From) {
			other = append(other, b)
			continue
		}
		there = append(there, b)
		better := t.In == nil || b.Dia.Minus(minor).Abs().Less(t.In.Dia.Minus(minor).Abs())
		if f.fits(b.Dia) && better {
			t.In = b
		}
	}
	if t.In == nil {
		o.homeless(t, f, there, other)
		return
	}
	b := t.In
	if start := o.mouth(b, t.Designation.Major, t.From); start.Cmp(t.Length) >= 0 {
		o.wrong(t.At, t.ID(), t.Length, "ends in the counterbore: the point of its drill leaves metal for ", t.Designation,
			" from ", start.Up(), " deep on, and a thread's depth counts from the face of the end")
	} else if t.From == part.Left {
		t.Span.From = start
	} else {
		t.Span.To = o.Length.Minus(start)
	}
	if !b.Through && b.Depth.Less(t.Length) {
		o.wrong(t.At, t.ID(), t.Length, "deeper than the bore for ", t.Designation, ", which is ", b.Depth, " deep")
	}
	for _, s := range b.Threads {
		switch {
		case s.From == t.From:
			o.wrong(t.At, t.ID(), t.Designation, "the bore of ", b.Dia, " has a thread from the ", t.From, " already, ",
				s.Designation, " on line ", s.At.Line)
		case s.Span.Overlaps(t.Span):
			o.wrong(t.At, t.ID(), t.Designation, "runs into the thread from the other end of the bore, ",
				s.Designation, " on line ", s.At.Line, ": together they are longer than the bore")
		}
	}
	b.Threads = append(b.Threads, t)
}

// homeless keeps an inside thread without a bore of its size, with the sizes
// that are there.
func (o *Outline) homeless(t *Thread, f fitted, there, other []*Bore) {
	sizes := func(list []*Bore) say.Text {
		words := make([]say.Text, len(list))
		for i, b := range list {
			words[i] = f.judged(b.Dia)
		}
		return say.Join(words, " and ")
	}
	want := say.Of("no bore at the ", t.From, " end for ", t.Designation)
	if len(there) > 0 {
		want = say.Of("no bore of the right size for ", t.Designation, ": there ", verb(there), " ", sizes(there))
	} else if len(other) > 0 {
		want += say.Of(": at the other end there ", verb(other), " ", sizes(other))
	}
	o.wrong(t.At, t.ID(), nil, want, f.needs())
}

func verb(list []*Bore) string {
	if len(list) == 1 {
		return "is"
	}
	return "are"
}

// fitted says which bores fit a thread.
type fitted struct {
	threads.Designation
	least, most units.Length
	from, to    float64 // of full thread, in percent; 0 for a taper thread
}

// fitting returns which bores a drawing may give an inside thread: those that
// leave so much of full thread, as threads/drill reckons it. A form that is
// reckoned by its own depth has 100 % in its minor diameter, which is drawn
// too. A taper thread's bore is between the minor diameters at the ends of the
// cone, as near as a part of the pitch.
func fitting(d threads.Designation) fitted {
	if d.Form.Tapered() {
		large := d.Sizes().MinorInternal
		cone := d.Cone()
		near := d.Pitch.Length(practice.TaperThreadBore.Number())
		return fitted{Designation: d, least: large.Minus(cone.E1.Minus(cone.E0)).Minus(near), most: large.Plus(near)}
	}
	f := fitted{Designation: d, from: practice.ThreadInBoreLeast.Number(), to: practice.ThreadInBoreMost.Number()}
	if d.Form.Tapping != threads.ByCharts {
		f.to = practice.ThreadInBoreOwn.Number()
	}
	f.least, f.most = drill.Hole(d, f.to), drill.Hole(d, f.from)
	return f
}

func (f fitted) fits(dia units.Length) bool { return f.least.Cmp(dia) <= 0 && dia.Cmp(f.most) <= 0 }

// judged words a bore's size with the thread it leaves: "6 mm (123 %)".
func (f fitted) judged(dia units.Length) say.Text {
	if f.to == 0 {
		return say.Of(dia)
	}
	return say.Of(dia, " (", say.Num(max(0, drill.Percent(f.Designation, dia)), 0), " %)")
}

// needs words the bores that fit, after what does not.
func (f fitted) needs() say.Text {
	t := say.Of("; it needs ", f.least.Up(), " to ", f.most.Down())
	if f.to > 0 {
		t += say.Of(", ", say.Num(f.from, 0), " to ", say.Num(f.to, 0), " % of full thread")
	}
	return t
}

// bindOutside puts an outside thread on the cylinder of its major diameter that
// begins at its end. It may be shorter than the cylinder and not longer.
func (o *Outline) bindOutside(t *Thread) {
	run, first, i := units.Length{}, 0, 0
	step := 1
	if t.From == part.Right {
		first, step = len(o.Stretches)-1, -1
	}
	for i = first; i >= 0 && i < len(o.Stretches) && o.Stretches[i].carries(t.Designation); i += step {
		run = run.Plus(o.Stretches[i].Length())
	}
	major := t.Designation.Major
	switch s := o.Stretches[first]; {
	case run.Cmp(t.Length) >= 0:
		t.On = &o.Stretches[first]
	case run.Sign() > 0:
		o.wrong(t.At, t.ID(), t.Length, "longer than the cylinder of ", s.Left.Drawn, " that ", t.Designation,
			" lies on, which is ", run, " long to ", o.behind(i, step))
	case s.Kind() != Cylinder:
		o.wrong(t.At, t.ID(), t.Designation, "lies on a ", string(s.Kind()), ", z ", s.From, " to ", s.To,
			": it is cut on a cylinder of ", major)
	case s.Facets != nil && s.Facets.Sides > 2:
		o.wrong(t.At, t.ID(), t.Designation, "lies on ", s.Facets.Sides, " sides: it is cut on a cylinder of ", major)
	default:
		o.wrong(t.At, t.ID(), t.Designation, "lies on a cylinder of ", s.Left.Drawn, ": its major diameter is ", major)
	}
}

// carries reports whether a thread can lie on a stretch: a cylinder of its major
// diameter, as near as drawings are rounded. Two flats do not part it.
func (s Stretch) carries(d threads.Designation) bool {
	round := s.Facets == nil || s.Facets.Sides == 2
	off := s.Left.Drawn.Minus(d.Major).Abs()
	return s.Kind() == Cylinder && round && off.Cmp(practice.DrawnMajor.Length()) <= 0
}

// behind says what ends a cylinder: the stretch i, or what stands before it.
func (o *Outline) behind(i, step int) say.Text {
	if i < 0 || i >= len(o.Stretches) {
		return "the end of the part"
	}
	s, z := o.Stretches[i], o.Stretches[i].From
	if step < 0 {
		z = s.To
	}
	for _, k := range o.Shoulders {
		if k.Z.Equal(z) {
			return say.Of("the shoulder at z ", z)
		}
	}
	switch {
	case s.Kind() != Cylinder:
		return say.Of("the ", string(s.Kind()), " at z ", z)
	case s.Facets != nil:
		return say.Of("the facets at z ", z)
	}
	return say.Of("z ", z)
}
