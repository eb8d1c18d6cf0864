package curves

import (
	"cmp"
	"math"
	"slices"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
)

// AlongSlides are the slides whose dial may say where the tool stands along the
// axis.
var AlongSlides = []string{shop.CarriageSlide, shop.CompoundSlide}

// side is a stretch of the arc that only rises or only falls, cut from its largest
// diameter to its smallest: the numbers of its steps in that order. It falls toward
// the tailstock, or toward the headstock.
// Its places on the arc are all on one hand of the middle: below it or above.
type side struct {
	steps    []int
	tailward bool
	above    bool
}

// tailFirst reports whether the first diameter is at the tailstock: the smaller one
// is where the small end was said to be, and the first of two that are equal.
func (in Input) tailFirst() bool {
	atTail := in.SmallEnd != tapers.AtHeadstock
	return (in.From.Cmp(in.To) <= 0) == atTail
}

// travel returns how far the tool goes toward the headstock to a place, from where
// its side touches the tailstock's end of the arc.
func (r *Result) travel(z units.Length) units.Length {
	if r.Inputs.tailFirst() {
		return z.Plus(r.Inputs.Nose)
	}
	return r.Length.Plus(r.Inputs.Nose).Minus(z)
}

// place returns the place that a travel comes to.
func (r *Result) place(travel units.Length) units.Length {
	if r.Inputs.tailFirst() {
		return travel.Minus(r.Inputs.Nose)
	}
	return r.Length.Plus(r.Inputs.Nose).Minus(travel)
}

// sides parts the steps at the widest or the narrowest place, which belongs to the
// part that is cut first: the one at the tailstock.
func (r *Result) sides() []side {
	n, turn := len(r.Steps), -1
	for i := 1; i < n-1; i++ {
		if math.Abs(r.angles[i]) < 1e-9 {
			turn = i
		}
	}
	first, last := side{}, side{}
	for i := range n {
		if turn < 0 || i < turn || i == turn && r.Inputs.tailFirst() {
			first.steps = append(first.steps, i)
		} else {
			last.steps = append(last.steps, i)
		}
	}
	list := []side{first}
	if turn >= 0 {
		list = append(list, last)
	}
	if !r.Inputs.tailFirst() {
		slices.Reverse(list)
	}
	for k := range list {
		sd, sum := &list[k], 0.0
		for _, i := range sd.steps {
			sum += r.angles[i]
		}
		slices.SortStableFunc(sd.steps, func(a, b int) int { return r.Steps[b].Dia.Cmp(r.Steps[a].Dia) })
		sd.above = sum > 0
		towardFirst := r.arc.sign*sum < 0
		sd.tailward = towardFirst == r.Inputs.tailFirst()
	}
	return list
}

// dials sets every step on the dials, and numbers them in the order they are cut.
//
// A place is set to the nearest line inside the arc, and the diameter is that of the
// place that was set, its line short of it: nothing is cut below the arc. A step that
// a dial cannot tell from its neighbour is left out: it would cut nothing.
//
// Long: each step on two dials, any of which may be wanting.
func (r *Result) dials() {
	r.zero = r.largest()
	along := r.chooseAlong()
	cross := r.Inputs.Cross
	if cross == nil {
		r.NotChecked("lathe: cross_slide", "no cross-slide dial in this shop: the diameters are exact")
	}
	r.order = r.sides()
	cut, lost, last := 0, 0.0, map[string]bool{}
	for k, sd := range r.order {
		var before *units.Length // what the side was cut to last
		for _, i := range sd.steps {
			s, angle := &r.Steps[i], r.angles[i]
			if along != nil {
				angle = r.setAlong(s, *along, sd)
			}
			dia := r.arc.tool(angle, r.Inputs.Nose)
			if cross != nil {
				set, turns := cross.Short(r.zero.Minus(dia).Half())
				s.Dial, s.DiaSet = new(turns.String()), new(r.zero.Minus(set.Set.Times(2)))
				lost = math.Max(lost, s.DiaSet.Minus(dia).MM()/2)
			} else if along != nil {
				s.DiaSet = &dia
			}
			r.set[i] = angle
			same := before != nil && s.DiaSet != nil && s.DiaSet.Equal(*before)
			if s.AtDial != nil && last[*s.AtDial] || same || r.idle(*s, sd.tailward && k == 0) {
				continue
			}
			before = s.DiaSet
			if s.AtDial != nil {
				last[*s.AtDial] = true
			}
			cut++
			s.Cut = new(cut)
		}
	}
	if along != nil || cross != nil {
		r.CuspSet = new(units.FromFloat(r.leftBySet() + lost))
	}
}

// idle reports whether a cut takes nothing: it is no deeper than the bar was turned, or ends where it begins, clear
// of the work on the tailstock's side.
func (r *Result) idle(s Step, outside bool) bool {
	dia, z := s.Dia, s.At
	if s.DiaSet != nil {
		dia = *s.DiaSet
	}
	if s.AtSet != nil {
		z = *s.AtSet
	}
	return dia.Cmp(r.zero) >= 0 || outside && r.travel(z).Sign() <= 0
}

// largest returns the largest diameter of the arc, which the bar is turned to.
func (r *Result) largest() units.Length {
	if r.arc.sign > 0 && r.arc.from < 0 && r.arc.to > 0 {
		return units.FromFloat(2 * (r.arc.r + r.arc.R))
	}
	return units.Max(r.Inputs.From, r.Inputs.To)
}

// tool returns the diameter that the cross slide is set to at an angle.
func (a arc) tool(angle float64, nose units.Length) units.Length {
	_, rad := a.at(angle, nose.MM())
	return units.FromFloat(2 * (rad - nose.MM()))
}

// chooseAlong returns the dial that says where the tool stands along the axis: the
// one that was asked for, else the finer one that reaches.
func (r *Result) chooseAlong() *shop.Dial {
	in := r.Inputs
	carriage, compound := in.Carriage, r.reaching()
	if in.Along == shop.CompoundSlide && compound != nil ||
		in.Along == "" && compound != nil && (carriage == nil || compound.Division().Less(carriage.Division())) {
		r.Along = new(shop.CompoundSlide)
		return compound
	}
	if carriage != nil {
		r.Along = new(shop.CarriageSlide)
		return carriage
	}
	r.NotChecked("lathe: carriage", "no dial along the bed, and no compound's that reaches: the places are exact")
	return nil
}

// reaching returns the compound's dial where the slide, along the axis, is long enough
// for the arc with a start clear of the work.
func (r *Result) reaching() *shop.Dial {
	c, asked := r.Inputs.Compound, r.Inputs.Along
	if c == nil || c.Screw == nil || asked == shop.CarriageSlide {
		if asked == shop.CompoundSlide {
			r.NotChecked("lathe: compound: lead", "no compound with a dial in this shop")
		}
		return nil
	}
	most := units.Length{}
	for _, s := range r.Steps {
		most = units.Max(most, r.travel(s.At))
	}
	most = most.Plus(practice.FeedOverrun.Length())
	switch {
	case c.Travel == nil:
		r.NotChecked("lathe: compound: travel", "whether the compound reaches along the arc was not checked")
	case c.Travel.Less(most):
		if asked == shop.CompoundSlide {
			r.No(problem.New(problem.NotReachable, "along", asked, "the compound travels ", c.Travel.Down(),
				" and this takes ", most.Up()))
		}
		return nil
	}
	return c.Screw
}

// setAlong sets a place on the dial and returns the angle on the arc that it comes
// to: the nearest line on the arc, else the next one toward the side's small end.
func (r *Result) setAlong(s *Step, d shop.Dial, sd side) float64 {
	exact := r.travel(s.At)
	near, _ := d.Set(exact)
	try := func(travel units.Length) (float64, bool) {
		guide := r.arc.R + r.arc.sign*r.Inputs.Nose.MM()
		sin := (r.start + r.place(travel).MM() - r.arc.z) / guide
		angle := math.Asin(math.Max(-1, math.Min(1, sin)))
		low, high := r.arc.from, r.arc.to
		if sd.above { // a step stays on its own side of the widest place, and on the arc
			low = math.Max(low, 0)
		} else {
			high = math.Min(high, 0)
		}
		return math.Max(low, math.Min(high, angle)), math.Abs(sin) <= 1 && low-1e-9 <= angle && angle <= high+1e-9
	}
	angle, on := try(near.Set)
	if !on {
		other := near.Set.Plus(d.Division())
		if exact.Less(near.Set) {
			other = near.Set.Minus(d.Division())
		}
		if a, ok := try(other); ok || near.Set.Less(exact) != sd.tailward {
			angle, near.Set = a, other
		}
	}
	_, turns := d.Set(near.Set)
	s.AtDial, s.AtSet = new(turns.String()), new(r.place(near.Set))
	return angle
}

// leftBySet returns the most that stands off the arc between the places that were
// set: a cusp, or what is left to an end that no line meets.
func (r *Result) leftBySet() float64 {
	angles := slices.Clone(r.set)
	slices.SortFunc(angles, cmp.Compare)
	worst := 0.0
	for i, t := range angles[1:] {
		s := angles[i]
		worst = math.Max(worst, math.Min(r.Inputs.cusp(r.arc, s, t), r.corner(s, t)))
		if r.arc.sign > 0 && r.Inputs.Nose.Sign() == 0 && s < 0 && t > 0 { // the bar as it was turned stands between
			worst = math.Max(worst, math.Hypot(r.arc.R, r.arc.R*math.Sin(math.Max(-s, t)))-r.arc.R)
		}
	}
	for _, pair := range [][2]float64{{r.arc.from, angles[0]}, {r.arc.to, angles[len(angles)-1]}} {
		z0, _ := r.arc.at(pair[0], 0)
		z1, _ := r.arc.at(pair[1], 0)
		worst = math.Max(worst, math.Abs(z1-z0))
	}
	return worst
}

// corner returns how far the corner between two places on one side stands off the
// arc, since every cut is fed on: at the larger radius, over the side of the nose (or
// the point) at the place of the smaller one.
func (r *Result) corner(s, t float64) float64 {
	nose := r.Inputs.Nose.MM()
	place, low := r.arc.at(s, nose)
	other, high := r.arc.at(t, nose)
	if high < low {
		place, other, low, high = other, place, high, low
	}
	side := nose
	if rise := high - low; rise < nose {
		side = math.Sqrt(nose*nose - (nose-rise)*(nose-rise))
	}
	place += math.Copysign(math.Min(side, math.Abs(other-place)), other-place)
	end, _ := r.arc.at(r.arc.to, 0)
	if on := math.Max(r.start, math.Min(end, place)); on != place { // beyond its ends there is no work
		past := math.Max(0, math.Copysign(1, on-place)*(on-other))
		place, high = on, high+nose-math.Sqrt(math.Max(0, nose*nose-past*past))
	}
	return math.Abs(math.Hypot(place-r.arc.z, high-nose-r.arc.r) - r.arc.R)
}

// steps adds what is done, in its order.
func (r *Result) steps(s *sheet.Sheet) {
	in := r.Inputs
	s.Do("Turn the bar to ", r.zero, " over the length of the arc, and zero the cross slide's dial at that diameter, ",
		"wound in.")
	if r.Along != nil && *r.Along == shop.CompoundSlide {
		s.Do("Set the compound parallel to the axis, its handle toward the tailstock", r.scaled(), ". Tighten both bolts",
			say.Aside(", and look at it again: along a bar that is true along the axis an indicator in the tool post ",
				"stands still"),
			".")
	}
	touch := say.Text("point")
	if in.Nose.Sign() > 0 {
		touch = "side"
	}
	switch {
	case r.Along == nil:
		s.Do("Find each place along the axis by rule or indicator, from the first diameter; come to it toward the headstock.")
	case *r.Along == shop.CompoundSlide:
		s.Do(say.Shorter("Wind the compound ", "Compound "), "right in, then out ", r.woundOut(),
			" and its slack, then in until ", say.Shorter("the slide", "it"), " just moves. With the carriage ",
			say.Aside("bring "), "the tool's ", touch,
			" to the face where the arc ends at the tailstock's side, or level with that end; lock it, ",
			say.Shorter("and zero the compound's dial", "dial to 0"), ". Wind to every place toward the headstock.")
	default:
		s.Do("Zero the ", *r.Along, "'s dial with the tool's ", touch, " touching the face where the arc ends at the ",
			"tailstock's side, or level with that end. Wind to every place toward the headstock.")
	}
	from := 1
	for k, sd := range r.order {
		to, any := from, false
		for _, i := range sd.steps {
			if c := r.Steps[i].Cut; c != nil {
				to, any = max(to, *c), true
			}
		}
		if !any { // all of it stands as the bar was turned
			continue
		}
		cuts := say.Of("Cuts ", from, " to ", to)
		if from == to {
			cuts = say.Of("Cut ", from)
		}
		s.Do(cuts, ": ", r.how(k, from, to))
		from = to + 1
	}
}

// scaled says what the compound's scale shows where the slide stands along the axis.
func (r *Result) scaled() say.Text {
	switch exact, _, _ := r.Inputs.Compound.Set(units.Angle{}); {
	case exact.OffScale:
		return say.Of(", past the end of its scale at ", r.Inputs.Compound.Scale.Limit)
	default:
		return say.Of(" (its scale at ", sheet.Deg(exact.Reading), ")")
	}
}

// woundOut is how far the compound is wound out from its end to have the whole arc to go, at the
// first line that is enough.
func (r *Result) woundOut() say.Text {
	var most units.Length
	for _, s := range r.Steps {
		most = units.Max(most, r.travel(s.At))
		if s.AtSet != nil {
			most = units.Max(most, r.travel(*s.AtSet))
		}
	}
	d := r.Inputs.Compound.Screw
	n := most.Times(int64(d.Divisions)).Steps(d.Lead, units.Up)
	return say.Of(shop.Turns{Turns: n / int64(d.Divisions), Divisions: n % int64(d.Divisions)})
}

// how says how the cuts of a side are made; the tool goes toward the headstock in all
// of them.
func (r *Result) how(k, from, to int) say.Text {
	by := r.passes(from, to)
	out := say.Of("with the tool drawn out wind to the cut's place. Wind in there to its diameter", by, ", feed on ",
		"toward the headstock ")
	switch sd := r.order[k]; {
	case sd.tailward && k > 0:
		return say.Of("each starts over the narrowest place, that of cut ", from-1, ". Wind in to its diameter", by,
			", feed toward the headstock to its place, and draw the tool out there.")
	case sd.tailward:
		return say.Of("each starts clear of the work, on the tailstock's side. Wind in to its diameter", by,
			", feed toward the headstock to its place, and draw the tool out there.")
	case k+1 < len(r.order) && r.arc.sign < 0:
		return say.Of(out, "to the place of cut ", to, ", the narrowest, and draw the tool out.")
	}
	return say.Of(out, "into the neck beyond the arc, or to the place of cut ", to, " where there is none, and draw the ",
		"tool out.")
}

// passes says how deep the tool goes at a time, where a cut is deeper than that; "" where none
// is. At each cut the work stands as the one before left it, or as the bar was turned.
func (r *Result) passes(from, to int) say.Text {
	deepest := units.Length{}
	for _, sd := range r.order {
		stands := r.zero
		for _, i := range sd.steps {
			s := r.Steps[i]
			if s.Cut == nil || *s.Cut < from || to < *s.Cut {
				continue
			}
			dia := s.Dia
			if s.DiaSet != nil {
				dia = *s.DiaSet
			}
			deepest, stands = units.Max(deepest, stands.Minus(dia).Half()), dia
		}
	}
	mm, inch := practice.PassDepth.Length(units.MM), practice.PassDepth.Length(units.Inch)
	if deepest.Cmp(mm) <= 0 {
		return ""
	}
	return say.Of(" (no more than ", say.Either(say.Of(mm).In(units.MM), say.Of(inch).In(units.Inch)),
		" a side in one pass)")
}
