package certify

import (
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
	foul "setover/tapers/fouling"
)

// profile returns the outside of the work as the cut leaves it, from the
// headstock to the tailstock, from the place the work is built in. What stands
// beside the cut counts without the hair that is no wall to an edge, and rough
// work without what an edge takes there as it grazes, since that is to go anyway.
func (k *checker) profile() foul.Profile {
	root, out, w := k.root(), k.Op.Setup.Out, k.After
	p := make(foul.Profile, 0, 2*len(w.Outside))
	add := func(z, dia, less work.Len) {
		c := foul.Corner{Z: away(z, root, out).MM(), Dia: max(0, dia-less).MM()}
		if n := len(p); n == 0 || p[n-1] != c {
			p = append(p, c)
		}
	}
	for i := range w.Outside {
		x := w.Outside[i]
		if out != part.Right {
			x = w.Outside[len(w.Outside)-1-i]
		}
		for _, s := range k.besideCuts(x, out) {
			less := k.hair(x, s)
			add(near(s, out), within(x, near(s, out)), less)
			add(far(s, out), within(x, far(s, out)), less)
		}
	}
	return p
}

// besideCuts parts a piece where it comes near to what is cut, so near that the edge cuts it,
// from the headstock's side on.
func (k *checker) besideCuts(x work.Piece, out part.End) []work.Span {
	list := []work.Span{x.Span}
	if x.Stage != work.Rough || !k.fed() {
		return list
	}
	for _, c := range k.cuts {
		for _, z := range []work.Len{c.From - k.edgeCuts, c.To + k.edgeCuts} {
			for i, s := range list {
				if s.From < z && z < s.To {
					list = slices.Replace(list, i, i+1, work.Span{From: s.From, To: z}, work.Span{From: z, To: s.To})
					break
				}
			}
		}
	}
	if out != part.Right {
		slices.Reverse(list)
	}
	return list
}

// hair returns what of a stretch of a piece is in no edge's way, on the diameter.
func (k *checker) hair(x work.Piece, s work.Span) work.Len {
	switch {
	case slices.ContainsFunc(k.cuts, x.Overlaps):
		return 0
	case x.Stage != work.Rough:
		return k.toolStep
	case k.fed() && slices.ContainsFunc(k.cuts, func(c work.Span) bool {
		return s.Overlaps(work.Span{From: c.From - k.edgeCuts, To: c.To + k.edgeCuts})
	}):
		return k.toolStep + 2*op.LenOf(foul.Grazes(k.trail()))
	}
	return k.toolStep + k.leaveTurning
}

// fed reports whether a slope or an arc is cut in passes that each take little.
func (k *checker) fed() bool { return k.Op.Kind == op.Taper || k.Op.Kind == op.Curve }

// trail returns the trail of the tool's edge: what it is ground to for the job, or has.
func (k *checker) trail() units.Angle {
	if k.Op.Tool.Ground() {
		return k.Op.Tool.Trail
	}
	return units.Degrees(k.tools[k.Op.Tool.Hand].Trail)
}

// tool returns the tool of a hand as the post carries it, ground for the job where it is. ok is
// false where there is none.
func (k *checker) tool(hand op.Hand) (t foul.Tool, ok bool) {
	if x := k.Op.Tool; x.Ground() {
		return foul.Mounted(foul.WithGround(*k.Shop.Lathe, x.Trail).Tools, k.Shop.Lathe.ToolPost, foul.Hand(hand))
	}
	t, ok = k.tools[hand]
	return t, ok
}

// toolSide: between where the tool comes from and the cut nothing stands higher
// than its edges allow, the jaws neither. On a lathe every cut of the outside has
// a tool with a hand. A form tool goes straight in, as deep as it may, and a file
// lies on top; a die passes over what stands before its thread; of a taper on the
// compound all of the tool is looked at under fouling, where the shop says how its
// tool post stands.
func toolSide(k *checker) {
	const code = problem.ToolSide
	if k.Op.OnEnd {
		k.goesOn()
		return
	}
	if !k.onLathe() || len(k.cuts) == 0 || !k.turns() {
		return
	}
	if room, filed := k.filesNear(); filed {
		k.atLeast(code, room, k.fileRoom, "of room for a file to the jaws", true, func() say.Text {
			return say.Of("let it stand ", (k.fileRoom - room).Length().Up(), " further out, or file it held elsewhere")
		})
	}
	swung := k.Op.Stands.Compound != nil
	switch hand := k.Op.Tool.Hand; {
	case hand == op.NoHand:
		k.fail(code, words("no hand is said"), words("the hand of the tool is wanted"), "say which hand it cuts with")
	case swung && k.Shop.Lathe.ToolPost != nil, hand == op.File:
	case hand == op.Form && k.Op.Tool.Ground(): // to a point
		k.fedPast(op.Neutral)
	case hand == op.Form:
		k.plunges()
	default:
		k.fedPast(hand)
	}
}

// filesNear returns how far what an operation files in the lathe stands clear of the jaws that turn. ok
// is false where it files nothing there.
func (k *checker) filesNear() (room work.Len, ok bool) {
	s := k.Op.Setup
	if k.Op.Tool.Hand != op.File || !s.Device.Jaws() {
		return 0, false
	}
	for _, r := range k.Op.Removes {
		if x, outside := r.(work.Outside); outside {
			far := away(near(x.Span(k.Before), s.Out), s.Face(), s.Out)
			if !ok || far < room {
				room, ok = far, true
			}
		}
	}
	return room, ok
}

// fedPast looks at a tool of a hand that is fed along the work.
func (k *checker) fedPast(hand op.Hand) {
	const code = problem.ToolSide
	tool, ok := k.tool(hand)
	if !ok {
		k.fail(code, words(say.Of("it wants a ", string(hand), "-hand tool")), words("there is none in this shop"),
			"grind one, or cut it with another hand")
		return
	}
	if tool.Width == 0 {
		k.missing("lathe.tool_post")
	}
	p := k.profile()
	if k.Op.Setup.Device.Jaws() {
		p = p.InJaws(k.Shop.Lathe.Chuck)
	}
	far := tool
	far.Far = true
	if r, cut := k.first(p, tool); !r.Clears {
		if other, _ := k.first(p, far); !other.Clears {
			k.blocked(p, cut, r)
			return
		}
	}
	k.pass(code, words(say.Of("a ", string(hand), "-hand tool")), words("nothing stands in its way"), true)
}

// goesOn looks at a die: from the end that it is put on over up to the thread nothing
// is larger than the thread.
func (k *checker) goesOn() {
	for _, r := range k.Op.Removes {
		t, ok := r.(work.Thread)
		if !ok {
			continue
		}
		before := order(far(work.Span{From: t.From, To: t.To}, k.Op.Setup.Out), k.Before.Reach(k.Op.Setup.Out))
		if wide := k.Before.Largest(before); wide > t.Major+k.brokenEdge {
			k.fail(problem.ToolSide, figure(wide, "stands before the thread"),
				figure(t.Major, "is what a die passes over"), "cut it with a single point, or take that off first")
		}
	}
}

// plunges looks at a tool that goes straight in: no deeper than half of what is parted,
// nor than eight times its width, which is at the most that of the cut; of a chamfering tool, which
// cuts with its corner, at the most that of the gap it goes into. How deep it is
// in is counted from the lower of the walls beside the cut, or from what is cut away
// where that is more.
func (k *checker) plunges() {
	if !k.plungesArc() {
		return
	}
	for _, cut := range k.cuts {
		deep := k.plunge(cut)
		most := min(times(k.parted(), k.plungePart), times(k.wide(cut), k.plungeWidth))
		if p := k.Shop.Parting; p != nil && p.Reach != nil && len(k.Op.Plunges) > 0 {
			most = min(most, op.LenOf(*p.Reach))
		}
		if !k.atMost(problem.ToolSide, deep, most, say.Of("deep, straight in at ", over(cut)), func() say.Text {
			trail := math.Atan(deep.MM()/(cut.Length().MM()/2))*180/math.Pi + practice.TrailClear.Angle().Deg()
			return say.Of("cut it from both sides, right-hand and left-hand, with ", trailing(trail))
		}) {
			return
		}
	}
}

// plungesArc looks at each plunge of an arc: under all of the blade it leaves what is drawn there, and
// together they leave nothing of the arc uncut.
func (k *checker) plungesArc() bool {
	const code, remedy = problem.ToolSide, "a narrower blade"
	reached := k.Op.Along().From
	if len(k.Op.Plunges) == 0 {
		return true
	}
	list := slices.Clone(k.Op.Plunges)
	if list[len(list)-1].Z < list[0].Z {
		slices.Reverse(list)
	}
	for _, p := range list {
		under := beyond(p.Z, k.Op.Setup.Out, p.Wide)
		for _, x := range k.segments {
			m := x.Meet(under)
			if m.Length() > 0 && p.Dia < max(x.at(x.least, m.From), x.at(x.least, m.To))-fine {
				k.fail(code, figure(p.Dia, say.Of("is plunged with the blade over ", over(under))),
					figure(max(x.at(x.least, m.From), x.at(x.least, m.To)), "is drawn there, at the least"), remedy)
				return false
			}
		}
		if under.From > reached+fine {
			k.fail(code, words(say.Of("nothing is plunged from z ", reached.Length(), " to ", under.From.Length())),
				words("each place is beside the one before"), remedy)
			return false
		}
		reached = max(reached, under.To)
	}
	return k.atLeast(code, reached, k.Op.Along().To, "is plunged up to", true, func() say.Text { return remedy })
}

// wide returns how wide a tool that goes straight in at a cut may be.
func (k *checker) wide(cut work.Span) work.Len {
	if p := k.Op.Plunges; len(p) > 0 {
		return min(cut.Length(), p[0].Wide)
	}
	if k.Op.Kind != op.Chamfer {
		return cut.Length()
	}
	gap, high := cut, k.Before.Largest(cut)+fine
	low := func(p work.Piece) bool { return max(p.Left, p.Right) <= high }
	for _, p := range k.After.Outside {
		if p.To > cut.To && p.From <= gap.To && low(p) {
			gap.To = max(gap.To, p.To)
		}
	}
	for _, p := range slices.Backward(k.After.Outside) {
		if p.From < cut.From && p.To >= gap.From && low(p) {
			gap.From = min(gap.From, p.From)
		}
	}
	return gap.Length()
}

// plunge returns how deep a tool is in at a cut.
func (k *checker) plunge(cut work.Span) work.Len {
	floor, top := work.Len(math.MaxInt64), k.Before.Largest(cut)
	for _, p := range k.After.Over(cut) {
		floor = min(floor, p.Left, p.Right)
	}
	w := k.After.Span()
	left, right := k.After.Largest(order(w.From, cut.From)), k.After.Largest(order(cut.To, w.To))
	return (max(top, min(left, right)) - floor) / 2
}

// first returns the first cut that a tool does not get at, and why; it clears where there is none.
func (k *checker) first(p foul.Profile, t foul.Tool) (r foul.Reach, cut work.Span) {
	for _, cut = range k.cuts {
		if r = k.reaches(p, cut, t); !r.Clears {
			break
		}
	}
	return r, cut
}

// reaches asks whether a tool gets at one stretch that is cut.
func (k *checker) reaches(p foul.Profile, cut work.Span, t foul.Tool) foul.Reach {
	root, out := k.root(), k.Op.Setup.Out
	return p.Reaches(away(near(cut, out), root, out).MM(), away(far(cut, out), root, out).MM(), t)
}

// blocked says what stands in the tool's way and on which side, and what would get
// there: a tool that is on hand, else one whose edge trails by enough, or that stands
// out of its post by enough.
func (k *checker) blocked(p foul.Profile, cut work.Span, r foul.Reach) {
	value := words(say.Of("the tool does not get at ", over(cut)))
	limit, remedy := words("the work beside it stands higher"), say.Text("")
	side := say.Text("tailstock's")
	if r.Head {
		side = "headstock's"
	}
	switch {
	case !math.IsInf(r.Deg, 0) && r.Deg < 0:
		value = op.With(sheet.Number{V: -r.Deg, Places: 1, Unit: "deg"},
			"is missing from the angle of the tool's edge at ", over(cut))
		limit = words(say.Of("the work on its ", side, " side stands in its way"))
		remedy = trailing(k.tools[k.Op.Tool.Hand].Trail - r.Deg)
	case !math.IsInf(r.MM, 0) && r.MM < 0:
		value = op.With(units.FromFloat(-r.MM), "of the work stands in the post's way at ", over(cut))
		limit = words(say.Of("it does not pass on the ", side, " side"))
		remedy = say.Of("a tool that stands ", units.FromFloat(-r.MM).Up(), " further out of its post")
	}
	for _, hand := range []op.Hand{op.Right, op.Left, op.Neutral} {
		if t, ok := k.tools[hand]; ok && hand != k.Op.Tool.Hand && k.reaches(p, cut, t).Clears {
			remedy = say.Of("a ", handed(hand), " tool")
			break
		}
	}
	k.fail(problem.ToolSide, value, limit, remedy)
}

// upright is the trailing angle that no tool has.
const upright = 90

// trailing words the tool that would get at a cut: one with so much of a trailing
// angle, or where none has that a grooving tool.
func trailing(deg float64) say.Text {
	if deg >= upright {
		return "a grooving tool, straight in"
	}
	return say.Of("a tool whose edge trails by ", sheet.Number{V: math.Ceil(deg), Unit: "deg"}, " (lathe: tools)")
}

// handed words a hand as people say it.
func handed(h op.Hand) string {
	if h == op.Neutral {
		return "pointed"
	}
	return string(h) + "-hand"
}

// turns reports whether the operation turns the outside.
func (k *checker) turns() bool {
	for _, r := range k.Op.Removes {
		if _, ok := r.(work.Outside); ok {
			return true
		}
	}
	return false
}

// fouling: while a taper is cut on the compound the holder, the post, the slide
// and its handle clear the chuck, the tailstock and the whole of the work, and
// the trailing edge clears the cone.
func fouling(k *checker) {
	set, lathe := k.Op.Stands.Compound, k.Shop.Lathe
	if set == nil || lathe == nil {
		return
	}
	for _, r := range k.Op.Removes {
		if o, ok := r.(work.Outside); ok && k.clears(o) {
			return
		}
	}
}

// clears looks at one taper, from end to end of its profile. It reports whether
// it was looked at.
func (k *checker) clears(o work.Outside) bool {
	s, lathe := k.Op.Setup, k.Shop.Lathe
	head, tail := o.Profile[0], o.Profile[len(o.Profile)-1]
	if s.Out != part.Right {
		head, tail = tail, head
	}
	if head.Dia == tail.Dia {
		return false
	}
	root := k.root()
	in := foul.Input{
		Head: head.Dia.Length(), Tail: tail.Dia.Length(), Length: away(tail.Z, head.Z, s.Out).Length(),
		HalfAngle: *k.Op.Stands.Compound,
	}
	in.FromJaws, in.Lathe, in.Work = new(away(head.Z, root, s.Out).Length()), *lathe, k.profile()
	in.Raw = new(k.Before.Largest(order(head.Z, tail.Z)).Length())
	in.Lathe.Tools = foul.OnHand(lathe.Tools)
	if a := k.Op.Stands.Arrangement; a != nil {
		in.Arrangement = *a
	}
	if k.Op.Tool.Ground() {
		in.Lathe = foul.WithGround(in.Lathe, k.Op.Tool.Trail)
	}
	if s.Support == op.AtCentre || s.Support == op.AtMouth || s.Device == op.Centres {
		in.CentreAt = new(away(k.Before.Reach(s.Out), root, s.Out).Length())
	}
	k.unsaid()
	clearance, fouls, err := foul.Meets(in)
	switch {
	case err != nil:
		k.fail(problem.Fouling, words(say.Of("the taper ", over(order(head.Z, tail.Z)))), words(say.Of(err)),
			"cut it in another grip")
	case len(fouls) > 0:
		k.fouled(in, fouls[0])
	case clearance != nil && clearance.Less(practice.LeastClear.Length()):
		k.fail(problem.Fouling, op.With(clearance.Down(), "clear of chuck, tailstock and work"),
			op.With(practice.LeastClear.Length(), "at the least"), "hold the tool or the work otherwise")
	case clearance != nil:
		easy := practice.TightClear.Length(k.Shop.Units)
		limit := op.With(easy, "is easy")
		if clearance.Less(easy) {
			limit = op.With(practice.LeastClear.Length(), say.Of("at the least, and ", easy, " is easy"))
		}
		k.pass(problem.Fouling, op.With(clearance.Down(), "clear of chuck, tailstock and work", k.grazed(in)), limit, false)
	}
	return true
}

// grazed says how deep the trailing edge goes into what stands roughed beside the taper, which
// is to go anyway and is not in its way.
func (k *checker) grazed(in foul.Input) say.Text {
	root, out := k.root(), k.Op.Setup.Out
	var p foul.Profile
	for _, x := range k.After.Outside {
		if x.Stage == work.Rough {
			for _, z := range []work.Len{x.From, x.To} {
				p = append(p, foul.Corner{Z: away(z, root, out).MM(), Dia: within(x, z).MM()})
			}
		}
	}
	rubs, shows := in.Rubs(p), units.MustLength("0.001mm")
	if rubs.Less(shows) {
		return ""
	}
	return say.Of("; the edge that trails takes ", rubs.Up(), " off what stands roughed beside it")
}

// setsOver reports whether the tailstock moves far enough for a half angle over the
// length of the work, and the work has an end for each centre.
func (k *checker) setsOver(half units.Angle) bool {
	t := k.Shop.Lathe.Tailstock
	if t == nil || t.Toward == nil || t.Away == nil || len(k.Before.Bores) > 0 {
		return false
	}
	return k.Before.Length.MM()*half.Sin() <= min(t.Toward.MM(), t.Away.MM())
}

// thickBefore reports whether between the cut and the end that stands out something
// is still larger than the drawing.
func (k *checker) thickBefore() bool {
	out := k.Op.Setup.Out
	if len(k.cuts) == 0 {
		return false
	}
	from := far(k.cuts[len(k.cuts)-1], out)
	if out != part.Right {
		from = far(k.cuts[0], out)
	}
	beside := order(from, k.After.Reach(out))
	for _, p := range k.After.Outside {
		s := p.Meet(beside)
		drawn := work.Len(0)
		for _, x := range k.segments {
			if x.Overlaps(s) {
				drawn = max(drawn, x.at(x.most, x.From), x.at(x.most, x.To))
			}
		}
		if s.Length() > 0 && max(within(p, s.From), within(p, s.To)) > drawn+fine {
			return true
		}
	}
	return false
}

// fouled says what meets what, and what is near at hand to mend it.
func (k *checker) fouled(in foul.Input, x foul.Foul) {
	remedy := say.Text("cut it in another grip, or with a tool of the other hand")
	switch {
	case k.setsOver(in.HalfAngle):
		remedy = "the tailstock set over"
	case k.thickBefore():
		remedy = "turn down what stands before it first"
	}
	if x.MM == nil {
		trail := sheet.Number{V: k.Op.Stands.Compound.Plus(practice.TrailClear.Angle()).Deg(), Places: 1, Unit: "deg"}
		remedy = either(say.Of("a tool whose edge trails by more than ", trail, " (lathe: tools)"), remedy)
		short := sheet.Number{V: x.Deg.Deg(), Places: 1, Unit: "deg"}
		k.fail(problem.Fouling, op.With(short, "is missing from the tool's trailing angle"),
			words("the cone stands in its way"), remedy)
		return
	}
	k.fail(problem.Fouling, op.With(x.MM.Down(), "between ", x.Body, " and ", x.Obstacle),
		op.With(units.Length{}, "at the least"), remedy)
}

// unsaid notes what the fouling model is not told of the lathe.
func (k *checker) unsaid() {
	l := k.Shop.Lathe
	no := func(missing bool, path string) {
		if missing {
			k.missing(path)
		}
	}
	no(l.Chuck != nil && l.Chuck.JawLength == nil, "lathe.chuck.jaw_length")
	no(l.Chuck != nil && l.Chuck.JawCircle == nil, "lathe.chuck.jaw_circle")
	no(l.ToolPost == nil, "lathe.tool_post")
	c := l.Compound
	no(l.ToolPost != nil && (c == nil || c.Width == nil || c.Length == nil || c.TopBelowCentre == nil), "lathe.compound")
	no(l.ToolPost != nil && c != nil && c.Handle == nil, "lathe.compound.handle")
	no(len(l.Tools) == 0, "lathe.tools")
}
