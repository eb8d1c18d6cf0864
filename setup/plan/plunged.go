package plan

import (
	"math"

	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
)

// A side of an arc that no side tool gets at is plunged: the grooving tool goes straight in at one
// place after the other, from the large end down, each time as deep as the arc is thick at its thickest
// under the blade, and the steps are filed off. A side only falls from its large end, so that this is
// the blade's corner toward it, which stands on the arc:
//
//	d(u) = the arc at u from the large end    the blade from u to u + w
//
// Between one place and the next the work stands as thick as at the first. The corner of that step is
// farthest off the arc: with the middle of the arc at Z along the bar and R from its axis, and its
// radius r,
//
//	cusp = | √((z(next) - Z)² + (d/2 - R)²) - r |
//
// Each place is as far from the one before as the cusp allows, and no farther than the blade is wide.
// Beyond the small end the blade goes in no deeper than what is drawn there, and the side is left out
// where that leaves more than a cusp.

// bladeAt is where the blade goes straight in: how far its corner is from the large end, and the radius
// there, in mm. Its corner toward the headstock is at z, and line what the carriage's dial shows there.
type bladeAt struct {
	u, radius float64
	z         units.Length
	line      say.Text
}

// plunges are the stands of a side, in the order they are cut, and the highest cusp they leave.
type plunges struct {
	list []bladeAt
	left units.Length
}

// plungedSide is a side of an arc that is plunged, in mm: where its ends are, +1 where z grows from the
// large one to the small one, or else -1, and how wide the blade is.
type plungedSide struct {
	*task
	c            chucking
	x            outline.Stretch
	side         op.Span
	large, small float64
	way, blade   float64
}

// plungeKey tells sides apart whose stands may differ.
type plungeKey struct {
	cut, held work.Span
	out       part.End
	stub      op.Len
	device    op.Device
}

// mostStands bounds the stands of a side.
const mostStands = 200

// plungedAt returns the stands in which a side of an arc is plunged. ok is false where that leaves more
// than a cusp.
func (t *task) plungedAt(c chucking, x outline.Stretch, side op.Span) (p plunges, ok bool) {
	key := plungeKey{inWork(side), c.setup.Held, c.out, op.LenOf(t.stub(c.out)), c.setup.Device}
	p, known := t.plunging[key]
	if !known {
		p = t.sideOf(c, x, side).stands()
		t.plunging[key] = p
	}
	return p, len(p.list) > 0
}

// sideOf measures a side.
func (t *task) sideOf(c chucking, x outline.Stretch, side op.Span) *plungedSide {
	s := &plungedSide{
		task: t, c: c, x: x, side: side, large: side.From.MM(), small: side.To.MM(), way: 1, blade: t.grooving().MM(),
	}
	if x.At(side.From).Turned.Less(x.At(side.To).Turned) {
		s.large, s.small, s.way = s.small, s.large, -1
	}
	return s
}

// grooving returns how wide the grooving tool is: as the parting blade, or what is usual.
func (t *task) grooving() units.Length {
	if p := t.Shop.Parting; p != nil {
		return p.Blade
	}
	return practice.Kerf.Length()
}

// long is how long the side is.
func (s *plungedSide) long() float64 { return math.Abs(s.small - s.large) }

// radius returns how far the arc is from the axis at u from its large end.
func (s *plungedSide) radius(u float64) float64 {
	z := units.Max(s.side.From, units.Min(units.FromFloat(s.large+s.way*u), s.side.To))
	return s.x.At(z).Turned.MM() / 2
}

// off returns how far from the arc, square to it, a corner of a radius stands at u.
func (s *plungedSide) off(radius, u float64) float64 {
	a := s.x.Arc
	return math.Abs(math.Hypot(s.large+s.way*u-a.Z, radius-a.R) - a.Radius.MM())
}

// thickest returns how far from the axis what is drawn beside the side stands between two places, with
// what a line of the dial may leave on it; without end where the jaws are, or too near.
func (s *plungedSide) thickest(a, b float64) float64 {
	from, to := min(a, b), max(a, b)
	if s.byJaws(from, to) {
		return math.Inf(1)
	}
	most, line := 0.0, s.dialLine()
	for _, y := range s.shape.Stretches {
		for _, f := range monotone(y) {
			lo, hi := max(f.From.MM(), from), min(f.To.MM(), to)
			if hi-lo <= fineMM {
				continue
			}
			for _, z := range []float64{lo, hi} {
				at := units.Max(y.From, units.Min(units.FromFloat(z), y.To))
				more := line
				if y.N == s.x.N { // the other side of the arc, which is filed as well
					more = 0
				}
				most = max(most, y.At(at).Turned.MM()/2+more)
			}
			if d := s.limits.Outside(y); y.Kind() == outline.Cylinder && d.Known() && !d.General {
				most = max(most, d.High.MM()/2)
			}
		}
	}
	past := max(s.toOut(a), s.toOut(b)) > s.toOut(endOf(s.shape, s.c.out).MM())+fineMM
	if s.stubAt(s.c.out) && past {
		most = max(most, s.stubDia(s.c.out).MM()/2+line)
	}
	return most
}

// toOut returns a z that grows toward the end that stands out.
func (s *plungedSide) toOut(z float64) float64 {
	if s.c.out == part.Left {
		return -z
	}
	return z
}

// byJaws reports whether a span is in the jaws, or nearer to them than a tool clears.
func (s *plungedSide) byJaws(from, to float64) bool {
	least := s.toOut(s.c.setup.Face().MM()) + practice.LeastClear.Length().MM()
	return s.c.setup.Device.Jaws() && min(s.toOut(from), s.toOut(to)) < least
}

// monotone returns the parts of a stretch that only rise or only fall.
func monotone(x outline.Stretch) []op.Span {
	if x.Kind() == outline.Curve {
		return flanks(x)
	}
	return []op.Span{x.Span}
}

// fineMM is what is told from nothing along the bar, in mm.
const fineMM = 1e-6

// dialLine returns a line of the cross slide's dial in mm, 0 without one.
func (s *plungedSide) dialLine() float64 {
	if d := s.Shop.Lathe.CrossSlide; d != nil {
		return d.Division().MM()
	}
	return 0
}

// beyond returns how far from the axis it stands under the blade beyond the small end, 0 where nothing
// does.
func (s *plungedSide) beyond(u float64) float64 {
	if u+s.blade-s.long() <= fineMM {
		return 0
	}
	return s.thickest(s.small, s.large+s.way*(u+s.blade))
}

// stands goes from the large end down.
func (s *plungedSide) stands() (p plunges) {
	long, cusp := s.long(), practice.ArcCusp.Length().MM()
	fits := func(u float64) bool { return s.beyond(u) <= s.radius(u) }
	if s.x.Facets != nil || !fits(0) {
		return plunges{}
	}
	room := max(farthest(0, long, fits), long-s.blade)
	at := s.first()
	for left := 0.0; len(p.list) < mostStands; {
		p.list = append(p.list, at)
		if last := s.off(at.radius, long); at.u+s.blade >= long-fineMM && last <= cusp {
			p.left = units.FromFloat(max(left, last))
			return p
		}
		next := farthest(at.u, min(room, at.u+s.blade), func(u float64) bool { return s.off(at.radius, u) <= cusp })
		if next = max(next, 0); next <= at.u+fineMM {
			break
		}
		was := at
		at = s.standAt(next, at.u)
		if ends := next + s.blade - long; ends > -fineMM && at.u+s.blade < long-fineMM { // with its other corner at the end
			at = bladeAt{next, s.radius(next), s.corner(next), at.line}
			if s.Shop.Lathe.Carriage != nil {
				at.line = "between two lines"
			}
		}
		if at.u <= was.u+fineMM {
			break
		}
		left = max(left, s.off(was.radius, at.u))
	}
	return plunges{}
}

// first returns the stand at the large end: on a line of the carriage's dial before it, where the blade
// has room there, or else at the end itself.
func (s *plungedSide) first() bladeAt {
	at := bladeAt{u: 0, radius: s.radius(0), z: s.corner(0)}
	dial, stub := s.Shop.Lathe.Carriage, s.stub(s.c.out)
	if dial == nil {
		return at
	}
	at.line = "between two lines"
	exact := fromEnd(s.shape, s.c.out, at.z).Plus(stub)
	set := dial.Past
	if s.inward() {
		set = dial.Short
	}
	line, turns := set(exact)
	z := fromEnd(s.shape, s.c.out, line.Set.Minus(stub))
	u := s.way * z.Minus(at.z).MM()
	if u > -fineMM {
		at.line = say.Text(turns.String())
		return at
	}
	over := s.thickest(s.large, s.large+s.way*u)
	if over > at.radius+2*s.dialLine() {
		return at
	}
	return bladeAt{u, max(at.radius, over), z, say.Text(turns.String())}
}

// inward reports whether the side falls toward the headstock, so that the blade goes that way from
// place to place.
func (s *plungedSide) inward() bool { return (s.way > 0) == (s.c.out == part.Left) }

// corner returns where the blade's corner toward the headstock is, with that on the arc at u: the same
// one where the side falls toward the tailstock, or else the blade's width further in.
func (s *plungedSide) corner(u float64) units.Length {
	if s.inward() {
		u += s.blade
	}
	return units.FromFloat(s.large + s.way*u)
}

// standAt returns the stand at u or a little before it, where its place can be told, and after another:
// on a line of the carriage's dial, or where there is none by what a place is counted in. Where no line
// lies between, it is between two.
func (s *plungedSide) standAt(u, after float64) bladeAt {
	stub := s.stub(s.c.out)
	in := fromEnd(s.shape, s.c.out, s.corner(u)).Plus(stub)
	at := func(in units.Length, line say.Text) bladeAt {
		z := fromEnd(s.shape, s.c.out, in.Minus(stub))
		u := s.way * z.Minus(s.corner(0)).MM()
		return bladeAt{u, s.radius(u), z, line}
	}
	dir := units.Up
	if s.inward() {
		dir = units.Down
	}
	between := say.Text("")
	if dial := s.Shop.Lathe.Carriage; dial != nil {
		set := dial.Past
		if s.inward() {
			set = dial.Short
		}
		line, turns := set(in)
		if x := at(line.Set, say.Text(turns.String())); x.u > after+fineMM {
			return x
		}
		between = "between two lines"
	}
	step := practice.PlungePlace.Length(units.MM)
	if s.Shop.Units == units.Inch {
		step = practice.PlungePlace.Length(units.Inch)
	}
	if s.Shop.Lathe.Readout {
		step = practice.ReadoutStep.Length()
	}
	return at(in.RoundTo(step, dir), between)
}

// plungeable reports whether a side of an arc may be plunged: in stands that there are, no deeper than a
// grooving tool goes, and not so thin that the blade has all that the work hangs on, which is twice its
// width, but where nothing hangs on it.
func (t *task) plungeable(c chucking, x outline.Stretch, side op.Span) bool {
	small := side.To
	if x.At(side.From).Turned.Less(x.At(side.To).Turned) {
		small = side.From
	}
	if !small.Equal(endOf(t.shape, c.out)) && x.At(small).Turned.Less(t.grooving().Times(2)) {
		return false
	}
	deep := x.At(side.From).Turned.Minus(x.At(side.To).Turned).Abs().Half()
	most := units.Min(practice.PlungePart.Of(t.partedMost()), practice.PlungeWidth.Of(t.grooving()))
	if most.Less(deep) {
		return false
	}
	_, ok := t.plungedAt(c, x, side)
	return ok
}

// plungedArc puts a side of an arc on the card that is plunged, place by place, and takes it off the work:
// what is left when the steps are filed is the arc, and beside its small end what the blade took.
//
// Each place takes the time to set the tool there, and to feed it in from the diameter that is touched:
// with m the mean of how deep that is, n of them take
//
//	n·(time of m + to set a place)
func (t *task) plungedArc(o *op.Op, c chucking, x outline.Stretch, side op.Span, as work.State) {
	s, start, blade := t.sideOf(c, x, side), as.Largest(inWork(side)).Length(), t.grooving()
	p, _ := t.plungedAt(c, x, side)
	slide, from := t.Shop.Lathe.CrossSlide, say.Of("touching the work ", asCut(o.Before))
	var deep units.Length
	for _, a := range p.list {
		dia := units.FromFloat(2 * a.radius)
		travel := units.Max(start.Minus(dia).Half(), units.Length{})
		set := travel
		if slide != nil {
			line, _ := slide.Short(travel)
			set = line.Set
		}
		o.Plunges = append(o.Plunges, op.Plunge{
			Z: op.LenOf(a.z), Wide: op.LenOf(blade), Dia: op.LenOf(start.Minus(set.Times(2))),
		})
		if set.Sign() == 0 { // it is as thin there
			continue
		}
		deep = deep.Plus(set)
		in := fromEnd(t.shape, c.out, a.z).Plus(t.stub(c.out))
		what := say.Of("to ", dia.Up(), " at z ", a.z, ", ", in, " from the face")
		if a.line != "" {
			what += ", carriage " + a.line
		}
		o.ShortOnDial(what+", from the work "+asCut(o.Before), op.CrossSlide, slide, travel, from)
	}
	t.plungedSays(o, s, p.left, len(o.Dials))
	in, n := cutting(feeds.PartOff, start), float64(max(1, len(o.Dials)))
	in.Blade, in.To = &blade, new(start.Minus(units.FromFloat(2*deep.MM()/n)))
	r := t.chosen(o, in)
	o.Push = op.Cut{Depth: blade.MM(), Feed: mmPerRev(r)}
	o.Minutes += float64(len(o.Dials)) * (t.minutes(o, in) + practice.PlungeMinutes.Number())
	if side.To.Equal(x.To) {
		o.Foresee(t.limits.TaperEnd(x, part.Right), say.Of("right end of the arc, ", x.Span),
			units.Min(start, x.Right.Turned), byFiling)
	}
	s.takes(o, p, as)
}

// plungedSays says how a side is plunged, at so many places.
func (t *task) plungedSays(o *op.Op, s *plungedSide, left units.Length, places int) {
	large, small := s.side.From, s.side.To
	if s.way < 0 {
		large, small = small, large
	}
	o.Set("steps", sheet.Count(places), "leaving cusps of ", left.Up(), t.line(), " to file and polish")
	o.Set("width a plunge", t.grooving(), "the blade's; tight gibs, and it is fed in evenly and without a stop")
	o.Set("from z", large, "the large end, down to z ", small, ": straight in at each place to its diameter, and ",
		"straight out again, the carriage locked; the first is a slot, each after it a little deeper, over part of the ",
		"one before")
	o.Set("corner", say.Text("headstock's"), "the blade's headstock-side corner stands at each z: touch the face with ",
		"that side of it for z, and the work with its edge for the diameter")
	face := say.Of("counted from the ", s.c.out, " face")
	switch lathe := t.Shop.Lathe; {
	case lathe.Carriage != nil:
		o.Set("carriage", say.Text("by dial"), face, ": its line stands with each position")
	case lathe.Readout:
		o.Set("carriage", say.Text("by readout"), face)
	default:
		o.Set("carriage", say.Text("by measuring"), face, ", with a rule or to a stop: no dial of it is known ",
			"(lathe: carriage)")
	}
}

// takes takes a side off the work, and what the blade takes beside it: before its large end where it
// stands at a line of the carriage's dial, and beyond its small end what is under the last plunge.
func (s *plungedSide) takes(o *op.Op, p plunges, as work.State) {
	beside := func(a, b float64, dia op.Len) {
		over := work.Span{From: work.Float(s.large + s.way*a), To: work.Float(s.large + s.way*b)}
		if s.way < 0 {
			over.From, over.To = over.To, over.From
		}
		if over = over.Meet(as.Span()); over.Length() > 0 {
			o.Removed(work.Turned(over, dia, work.Rough))
		}
	}
	last := len(p.list) - 1
	beside(p.list[0].u, 0, o.Plunges[0].Dia)
	beside(s.long(), p.list[last].u+s.blade, o.Plunges[last].Dia)
	o.Removed(work.Outside{Profile: drawn(s.x, s.side), Stage: work.Finished})
}
