package stages

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
)

// Both is a cylinder between two shoulders that a right-hand tool cuts up to the one
// and a left-hand tool up to the other.
//
// Blade is a parting blade, straight in, one cut beside the other.
const (
	Both  fouling.Hand = "both"
	Blade fouling.Hand = "blade"
)

// mostOut is how far further out of the jaws the work is tried, in the steps that it
// is set in.
const mostOut = 50

// grain is the least stretch, in mm, that a tool is asked to get at: the foot of a
// shoulder.
const grain = 0.01

// flange is how much of the work stands at the least beyond a shoulder that it ends in, in mm.
const flange = 1.0

// cutting is an outside while it is cut. What is not cut yet stands as thick as the
// bar, which is the largest diameter; to either side of the stations the work goes
// on as thick as it ends.
type cutting struct {
	in    Input
	list  []Stage
	bar   float64 // mm
	zero  float64 // from a z of the drawing to the profile's
	tools []shop.Tool
	jaws  *shop.Chuck // nil where it is not known where they are

	lost  bool            // a stage cannot be cut
	trial bool            // no more is asked than that
	done  map[int]bool    // by index
	rough map[int]float64 // what a taper is turned down to before it is cut
	by    map[int]fouling.Hand
	turns []int       // those in their order
	down  map[int]int // and the stage before which it has to be
	hands []fouling.Hand
	fails []problem.Problem

	needs map[tapers.End]*need
	slots map[int]Groove // by index
	// neck is the end whose bar is looked at as thick as it was but for a neck so wide, in mm, slot the number of
	// the stage of which only a slot is cut; "" and 0 where none is.
	neck             tapers.End
	slot             int
	wide             float64
	slotFrom, slotTo float64
}

// standing is the work as it stands when a stage is cut, by its index.
type standing struct {
	of     int
	stands fouling.Profile
	leans  *units.Length
}

// planned returns how an outside is cut.
func planned(in Input, list []Stage) *cutting {
	c := &cutting{
		in: in, list: list, hands: make([]fouling.Hand, len(list)), done: map[int]bool{}, rough: map[int]float64{},
		by: map[int]fouling.Hand{}, down: map[int]int{}, needs: map[tapers.End]*need{}, slots: map[int]Groove{},
	}
	for _, s := range in.Stations {
		c.bar = max(c.bar, s.Dia.MM())
	}
	c.zero = -in.Stations[0].Z.MM()
	if in.FromJaws != nil {
		c.jaws = in.Lathe.Chuck
		c.zero = in.FromJaws.MM() - in.Stations[0].Z.MM()
	}
	c.tools = in.Lathe.Tools
	if len(c.tools) == 0 { // a person grinds them
		most := practice.TrailMost.Angle()
		c.tools = append(fouling.WithUsualTools(in.Lathe).Tools, shop.Tool{Hand: string(fouling.Neutral), Trail: most})
	}
	return c
}

// outline is the work with some of its stages cut.
func (c *cutting) outline(cut func(i int) bool) (p fouling.Profile) {
	add := func(z, dia float64) {
		if n := len(p); n == 0 || p[n-1] != (fouling.Corner{Z: z, Dia: dia}) {
			p = append(p, fouling.Corner{Z: z, Dia: dia})
		}
	}
	c.beforeStations(add)
	for i, s := range c.list {
		from, to := s.FromDia.MM(), s.ToDia.MM()
		switch {
		case s.Kind == Shoulder:
			continue
		case c.slot == i+1:
			add(s.From.MM()+c.zero, c.thick(i))
			add(c.slotFrom+c.zero, c.thick(i))
			add(c.slotFrom+c.zero, from)
			add(c.slotTo+c.zero, to)
			add(c.slotTo+c.zero, c.thick(i))
			add(s.To.MM()+c.zero, c.thick(i))
			continue
		case !cut(i):
			from, to = c.thick(i), c.thick(i)
		}
		add(s.From.MM()+c.zero, from)
		add(s.To.MM()+c.zero, to)
	}
	c.afterStations(add)
	return p
}

// beforeStations adds to an outline what is between the jaws and the stations: as thick as they begin, but for a
// neck that is looked for. A shoulder has at least a flange before it.
func (c *cutting) beforeStations(add func(z, dia float64)) {
	first := c.in.Stations[0]
	start, dia := first.Z.MM()+c.zero, first.Dia.MM()
	switch {
	case c.neck == tapers.AtHeadstock:
		c.beyond(c.neck, add)
	case c.in.FromJaws != nil && start > 0:
		add(0, dia)
		add(start, dia)
	case c.list[0].Kind == Shoulder:
		add(start-flange, dia)
		add(start, dia)
	}
}

// afterStations adds what is beyond the stations at the tailstock's end, likewise.
func (c *cutting) afterStations(add func(z, dia float64)) {
	last := c.in.Stations[len(c.in.Stations)-1]
	if c.neck == tapers.AtTailstock {
		c.beyond(c.neck, add)
		return
	}
	if end := last.Z.MM() + c.zero; c.list[len(c.list)-1].Kind == Shoulder {
		add(end, last.Dia.MM())
		add(end+flange, last.Dia.MM())
	}
	if at := c.in.CentreAt; at != nil {
		add(at.MM(), last.Dia.MM())
	}
}

// thick is how thick a stage that is not cut yet stands.
func (c *cutting) thick(i int) float64 {
	if dia, ok := c.rough[i]; ok {
		return dia
	}
	return c.bar
}

// turnDown turns every taper that is not cut yet down to its larger end, where a tool of these hands
// gets there over what stands beside it then: the compound stands true for that still. It reports whether any was.
func (c *cutting) turnDown(hands ...fouling.Hand) (any bool) {
	for more := true; more; {
		more = false
		for i, s := range c.list {
			large := units.Max(s.FromDia, s.ToDia).MM()
			if _, ok := c.rough[i]; ok || s.Kind != Taper || c.done[i] || large >= c.bar {
				continue
			}
			c.rough[i] = large
			p := c.stands().InJaws(c.jaws)
			from, to, _ := c.span(i)
			by := slices.IndexFunc(hands, func(h fouling.Hand) bool {
				t, ok := c.mounted(h)
				return ok && (h != Blade || c.deep(i)) && reaches(p, from, to, t)
			})
			if by < 0 {
				delete(c.rough, i)
				continue
			}
			c.turns, c.by[i] = append(c.turns, i), hands[by]
			c.opens(i, true, func() bool {
				t, _ := c.mounted(hands[by])
				return reaches(c.stands().InJaws(c.jaws), from, to, t)
			})
			more, any = hands[by] != Blade, true // it may open another to a tool that is fed
			break
		}
	}
	return any
}

// stands is the work with a stage cut, what was cut before it and what is roughed
// out together with it.
func (c *cutting) stands(with ...int) fouling.Profile {
	return c.outline(func(i int) bool { return c.done[i] || slices.Contains(with, i) })
}

// tool returns a tool of a hand as it is mounted, for a stage; ok is false where
// there is none. A post that is turned turns its edge.
func (c *cutting) tool(i int, hand fouling.Hand) (t fouling.Tool, ok bool) {
	t, ok = c.mounted(hand)
	s := c.list[i]
	if s.Kind != Taper {
		return t, ok
	}
	if hand == fouling.Neutral { // what the one edge gains the other loses
		t.Trail -= math.Abs(c.turned(i, fouling.Right))
		return t, ok
	}
	t.Trail += c.turned(i, hand)
	return t, ok
}

// turned is how far the post stands turned for a taper, in deg, the way that its tool's
// trailing edge comes off the work and its leading edge leans toward what stands there.
func (c *cutting) turned(i int, hand fouling.Hand) (deg float64) {
	s := c.list[i]
	if s.Kind != Taper {
		return 0
	}
	deg = c.in.Turned(*s.HalfAngle, s.FromDia.Less(s.ToDia)).Deg()
	if hand == fouling.Left {
		return -deg
	}
	return deg
}

// mounted returns a tool of a hand in its holder, or the parting blade.
func (c *cutting) mounted(hand fouling.Hand) (t fouling.Tool, ok bool) {
	if hand == Blade {
		if c.in.Blade == nil {
			return t, false
		}
		return fouling.Tool{Hand: fouling.Form, Width: c.in.Blade.MM()}, true
	}
	t, ok = fouling.Mounted(c.tools, c.in.Lathe.ToolPost, hand)
	if c.in.Lathe.ToolPost == nil { // only what stands close is looked at
		t.Width = 1
	} else if c.in.Overhang != nil {
		t.Over = c.in.Overhang.MM()
	}
	return t, ok
}

// span is where a stage's tool is taken along: of a shoulder its foot, on the lower
// side; ok is false where nothing is below it.
func (c *cutting) span(i int) (from, to float64, ok bool) {
	s := c.list[i]
	if s.Kind != Shoulder {
		return s.From.MM() + c.zero, s.To.MM() + c.zero, true
	}
	z := s.From.MM() + c.zero
	if _, ok := c.below(i); !ok {
		return z, z, false
	}
	if s.ToDia.Less(s.FromDia) {
		return z, z + grain, true
	}
	return z - grain, z, true
}

// below returns the stage at the foot of a shoulder.
func (c *cutting) below(i int) (foot int, ok bool) {
	step := 1
	if s := c.list[i]; s.FromDia.Less(s.ToDia) {
		step = -1
	}
	for foot = i + step; foot >= 0 && foot < len(c.list); foot += step {
		if c.list[foot].Kind != Shoulder {
			return foot, true
		}
	}
	return foot, false
}

// candidates are the hands that may cut a stage, the least trouble first.
func (c *cutting) candidates(i int) []fouling.Hand {
	s := c.list[i]
	switch {
	case s.Kind == Shoulder:
		hand := fouling.Right
		if s.FromDia.Less(s.ToDia) {
			hand = fouling.Left
		}
		return []fouling.Hand{hand, Blade}
	case s.Kind == Cylinder:
		return []fouling.Hand{fouling.Right, fouling.Left, Both, fouling.Neutral, Blade}
	case c.in.ToolHand != "":
		return []fouling.Hand{c.in.ToolHand}
	}
	return []fouling.Hand{fouling.Right, fouling.Left, fouling.Neutral}
}

// gets reports whether a hand of tool gets at a stage of the work as it stands.
func (c *cutting) gets(p fouling.Profile, i int, hand fouling.Hand) bool {
	from, to, ok := c.span(i)
	if !ok {
		return hand != Blade
	}
	p = p.InJaws(c.jaws)
	if hand == Both {
		return c.meet(p, i, from, to) && c.slotted(i)
	}
	t, ok := c.tool(i, hand)
	if !ok || hand == Blade && (!c.deep(i) || c.list[i].Kind == Taper) {
		return false
	}
	if c.in.FromJaws != nil && c.list[i].Kind == Taper && c.in.Lathe.ToolPost != nil {
		return c.clears(i, hand, p)
	}
	return reaches(p, from, to, t) && c.leads(p, i, hand) && c.trails(p, i, hand, t)
}

// trails reports whether a trailing edge that the post turns toward the work, so that it stands
// clear by less than it should over a plain cylinder, still does over what falls away from the
// tip: the taper, and what is beside it as far as the tool is wide.
func (c *cutting) trails(p fouling.Profile, i int, hand fouling.Hand, t fouling.Tool) bool {
	edge := math.Tan((t.Trail - practice.TrailClear.Angle().Deg()) * math.Pi / 180)
	s := c.list[i]
	if edge >= 0 || s.Kind != Taper || hand == Blade {
		return true
	}
	ways := map[fouling.Hand][]float64{fouling.Right: {1}, fouling.Left: {-1}, fouling.Neutral: {1, -1}}
	for _, way := range ways[hand] {
		start, end := fouling.Corner{Z: s.From.MM() + c.zero, Dia: s.FromDia.MM()},
			fouling.Corner{Z: s.To.MM() + c.zero, Dia: s.ToDia.MM()}
		if way < 0 {
			start, end = end, start
		}
		goesOn := way < 0 && p[0].Z > end.Z-grain // to the jaws, wherever they are
		if goesOn || (end.Dia-start.Dia)/2 > (end.Z-start.Z)*way*edge {
			return false
		}
		for _, k := range p { // one that is farther off falls no less on the way to there
			if away := (k.Z - end.Z) * way; away > grain && (k.Dia-end.Dia)/2 > min(away, t.Width)*edge {
				return false
			}
		}
	}
	return true
}

// leads reports whether the leading edge of a tool whose post is turned stands clear of what is
// beside a taper, but for what it may lean into that.
func (c *cutting) leads(p fouling.Profile, i int, hand fouling.Hand) bool {
	if hand != fouling.Right && hand != fouling.Left || c.turned(i, hand) <= 0 {
		return true
	}
	most := grain / 10
	if leans := c.leans(i, hand); leans != nil {
		most = leans.MM()
	}
	return c.leaning(p, i, hand) <= most
}

// leaning is how far a leading edge stands in the work beside a taper, in mm, with the tip
// where it ends on that side. With r what stands higher than the tip by there, z away, and t
// the turn it is (r·tan t - z)·cos t.
func (c *cutting) leaning(p fouling.Profile, i int, hand fouling.Hand) (most float64) {
	turn := c.turned(i, hand) * math.Pi / 180
	end, dia, way := c.list[i].From.MM()+c.zero, c.list[i].FromDia.MM(), -1.0
	if hand == fouling.Left {
		end, dia, way = c.list[i].To.MM()+c.zero, c.list[i].ToDia.MM(), 1
	}
	for _, k := range p {
		if away := (k.Z - end) * way; away >= 0 {
			most = max(most, (k.Dia-dia)/2*math.Sin(turn)-away*math.Cos(turn))
		}
	}
	return most
}

// leans is what a taper's leading edge may lean into what stands beside it, where the post is
// turned that way: no more than is told of a guide, where that is cut later, and nothing where
// it would be in the way of what is left in the end. A shoulder is left.
func (c *cutting) leans(i int, hand fouling.Hand) *units.Length {
	next := i - 1
	if hand == fouling.Left {
		next = i + 1
	}
	if c.turned(i, hand) <= 0 || next < 0 || next >= len(c.list) || c.done[next] || c.list[next].Kind == Shoulder ||
		c.leaning(c.stands(i, next), i, hand) > grain/10 {
		return nil
	}
	return new(practice.FoulStep.Length(units.MM))
}

// reaches reports whether a tool gets at a cut: its edge, and the post to the one side
// of its holder or to the other.
func reaches(p fouling.Profile, from, to float64, t fouling.Tool) bool {
	far := t
	far.Far = true
	return p.Reaches(from, to, t).Clears || p.Reaches(from, to, far).Clears
}

// clears asks the plan view of a taper.
func (c *cutting) clears(i int, hand fouling.Hand, p fouling.Profile) bool {
	_, fouls, err := fouling.Meets(c.asked(i, hand, p, nil))
	leans := c.leans(i, hand)
	if len(fouls) == 0 || leans == nil {
		return err == nil && len(fouls) == 0
	}
	_, fouls, err = fouling.Meets(c.asked(i, hand, p, leans))
	return err == nil && len(fouls) == 0
}

// asked is what the plan view is asked of a taper.
func (c *cutting) asked(i int, hand fouling.Hand, p fouling.Profile, leans *units.Length) fouling.Input {
	s := c.list[i]
	in := fouling.Input{Head: s.FromDia, Tail: s.ToDia, Length: s.To.Minus(s.From), HalfAngle: *s.HalfAngle}
	in.Place = c.in.Place
	in.ToolHand, in.Work, in.FromJaws, in.Leans = hand, p, new(c.in.fromJaws(s.From)), leans
	in.Raw = new(units.FromFloat(c.thick(i)))
	return in
}

// deep reports whether the blade reaches the floor of a groove from the bar.
func (c *cutting) deep(i int) bool {
	return c.plunges(units.Min(c.list[i].FromDia, c.list[i].ToDia).MM())
}

// meet reports whether a right-hand tool from the one side and a left-hand one from
// the other meet between two shoulders.
func (c *cutting) meet(p fouling.Profile, i int, from, to float64) bool {
	right, ok := c.tool(i, fouling.Right)
	left, and := c.tool(i, fouling.Left)
	if !ok || !and {
		return false
	}
	far := func(reaches func(long float64) bool) float64 {
		lo, hi := 0.0, to-from
		for range 40 {
			if mid := (lo + hi) / 2; reaches(mid) {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	a := far(func(long float64) bool { return reaches(p, from, from+long, right) })
	b := far(func(long float64) bool { return reaches(p, to-long, to, left) })
	return a+b >= to-from
}

// hand returns the first hand that gets at a stage.
func (c *cutting) hand(p fouling.Profile, i int) (fouling.Hand, bool) {
	for _, h := range c.candidates(i) {
		if c.gets(p, i, h) {
			return h, true
		}
	}
	return c.candidates(i)[0], false
}

// stood reports whether the foot of a shoulder is there: it is cut, or is a taper that is
// turned down to the shoulder's lower side. Every other stage needs none.
func (c *cutting) stood(i int) bool {
	foot, ok := c.below(i)
	if c.list[i].Kind != Shoulder || !ok || c.done[foot] {
		return true
	}
	// What stands at the foot of several shoulders in one place is below the lowest.
	low := math.Inf(1)
	step := 1
	if foot < i {
		step = -1
	}
	for k := i; k != foot; k += step {
		low = min(low, units.Min(c.list[k].FromDia, c.list[k].ToDia).MM())
	}
	dia, ok := c.rough[foot]
	return ok && dia == low
}

// turnedBy notes what has to be turned down before a stage is cut: for the first taper
// all that is, since the compound is set then, for another all where it would be cut
// otherwise or has no foot without.
func (c *cutting) turnedBy(i int) {
	all, some := c.rough, map[int]float64{}
	for k, dia := range all {
		if _, ok := c.down[k]; ok || c.done[k] {
			some[k] = dia
		}
	}
	c.rough = some
	hand, ok := c.hand(c.stands(i), i)
	same := ok && hand == c.hands[i] && c.stood(i) && c.list[i].Kind != Taper
	if c.rough = all; !same {
		c.allDown(i)
	}
}

// allDown notes that what is turned down has to be before a stage is cut.
func (c *cutting) allDown(i int) {
	for k := range c.rough {
		if _, ok := c.down[k]; !ok {
			c.down[k] = i
		}
	}
}

// run takes the stages in an order that is wished for, each as soon as a tool gets
// at it: a cut only ever makes room, so that whatever can be reached in any order is
// reached in this one. Stages that stand in each other's way, and what no tool gets at
// even when the others are cut, are a no.
func (c *cutting) run(wished []int) (order []int, together [][]int, at []standing) {
	left := slices.Clone(wished)
	together = [][]int{}
	take := func(i int, with ...int) {
		c.opens(i, false, func() bool { return c.gets(c.stands(append(with, i)...), i, c.hands[i]) })
		at = append(at, standing{i, c.stands(append(with, i)...), c.leans(i, c.hands[i])})
		left = slices.DeleteFunc(left, func(k int) bool { return k == i })
		order = append(order, c.list[i].N)
	}
	for len(left) > 0 {
		c.turnDown(fouling.Right, fouling.Left)
		free := slices.IndexFunc(left, func(i int) bool {
			if !c.stood(i) {
				return false
			}
			h, ok := c.hand(c.stands(i), i)
			c.hands[i] = h
			return ok
		})
		if free >= 0 {
			i := left[free]
			c.turnedBy(i)
			take(i)
			c.done[i] = true
			continue
		}
		if c.turnDown(Blade) { // plunged only where nothing else can be cut
			continue
		}
		group := c.group(left)
		for _, i := range group {
			var ok bool
			if c.hands[i], ok = c.hand(c.stands(group...), i); !ok {
				c.blocked(group, i)
			}
		}
		var numbers []int
		slices.SortStableFunc(group, func(i, k int) int { return cmp.Compare(c.faced(i), c.faced(k)) })
		c.allDown(group[0])
		for _, i := range group {
			take(i, group...)
			if c.faced(i) == 0 {
				numbers = append(numbers, c.list[i].N)
			}
		}
		for _, i := range group {
			c.done[i] = true
		}
		if len(numbers) > 1 {
			together = append(together, numbers)
			c.stuck(numbers)
		}
	}
	return order, together, at
}

// stuck says that no order of some stages keeps each tool out of what another has yet to cut,
// and what would, where they are not out of reach for themselves.
func (c *cutting) stuck(numbers []int) {
	if c.lost {
		return
	}
	c.lost = true
	c.fails = append(c.fails, problem.New(problem.NotReachable, "station", nil, named(numbers), " stand in each other's ",
		"way: whichever is cut first, its tool stands in what another has yet to leave", c.otherwise()))
}

// otherwise says what would let every stage be cut in some order: the post turned, else another
// tool ground. Each is asked of all stages again.
func (c *cutting) otherwise() say.Text {
	if c.trial {
		return ""
	}
	if plain, ok := c.plainer(); ok {
		return say.Of("; with ", plain, " they can be cut one after the other")
	}
	const most, step = 10, 0.5 // deg
	for turn := step; turn <= most && c.in.PostTurn != fouling.WithSlide; turn += step {
		for _, deg := range []float64{turn, -turn} {
			in := c.in
			if in.PostTurned = new(units.Degrees(deg)); in.works(c.list) {
				return say.Of("; with ", say.Key("post-turned"), " ", say.Num(deg, 1), " they can be cut one after the other")
			}
		}
	}
	for _, trail := range fouling.GroundTrails() {
		in := c.in
		if in.Lathe = fouling.WithGround(in.Lathe, trail); in.works(c.list) {
			return say.Of("; with tools whose edges trail by ", trail, " from the work they can")
		}
	}
	return ""
}

// works reports whether every stage can be cut so.
func (in Input) works(list []Stage) bool {
	c := planned(in, list)
	c.trial = true
	c.run(order(list))
	return !c.lost
}

// otherwise returns how an outside is cut in the way of an alternative, as whoever asks again would.
func (in Input) otherwise(a fouling.Alternative) Input {
	hand := a.ToolHand
	if in.ToolHand == "" { // the others keep what suits them
		hand = ""
	}
	in.Arrangement, in.ToolHand = a.Arrangement, hand
	if a.ToolTrail != nil {
		in.Lathe = fouling.WithGround(in.Lathe, *a.ToolTrail)
	}
	if a.CentreAt != nil {
		in.CentreAt = a.CentreAt
	}
	if a.Moved && a.MoreFromJaws != nil {
		in.FromJaws = new(in.FromJaws.Plus(*a.MoreFromJaws))
		if in.CentreAt != nil {
			in.CentreAt = new(in.CentreAt.Plus(*a.MoreFromJaws))
		}
	}
	return in
}

// faced is 1 for a shoulder, which is faced when its foot is there, else 0.
func (c *cutting) faced(i int) int {
	if c.list[i].Kind == Shoulder {
		return 1
	}
	return 0
}

// group returns stages that are left which can be cut once they are roughed out
// together: those beside one another where that is enough, else all.
func (c *cutting) group(left []int) []int {
	for _, i := range left {
		group := beside(i, left)
		can := func(k int) bool {
			_, ok := c.hand(c.stands(group...), k)
			return ok
		}
		if !slices.ContainsFunc(group, func(k int) bool { return !can(k) }) {
			return group
		}
	}
	return slices.Clone(left)
}

// beside returns the stages that are left beside one, without a stage between them
// that is cut, in the order they are left.
func beside(i int, left []int) (group []int) {
	from, to := i, i
	for slices.Contains(left, from-1) {
		from--
	}
	for slices.Contains(left, to+1) {
		to++
	}
	for _, i := range left {
		if from <= i && i <= to {
			group = append(group, i)
		}
	}
	return group
}

// blocked says why no tool gets at a stage, and which would. Of a taper whose place
// is known the plan view says it.
//
// Long: what would, one thing after the other.
func (c *cutting) blocked(group []int, i int) {
	s, p := c.list[i], c.stands(group...)
	c.lost, c.hands[i] = true, c.nearest(p, i)
	if viewed := s.Kind == Taper && c.in.FromJaws != nil && c.in.Lathe.ToolPost != nil; c.trial || viewed {
		return
	}
	from, to, _ := c.span(i)
	would := say.Text("; nothing that is ground would")
	if plain, ok := c.plainer(); ok {
		would = say.Of("; with ", plain, " it is cut")
	} else if hand, ok := c.another(p, i); ok {
		would = say.Of("; a ", fouling.Arrangement{ToolHand: hand}, " would")
	} else if more, hand, ok := c.furtherOut(group, i); ok {
		name := say.Of("a ", fouling.Arrangement{ToolHand: hand})
		if hand == Both {
			name = "a tool of either hand"
		}
		would = say.Of("; with the work ", more, " further out of the jaws ", name, " would")
	} else if hand, trail, ok := c.ground(p, i); ok {
		edge := "edge trails"
		if hand == fouling.Neutral {
			edge = "edges trail"
		}
		name := fouling.Arrangement{ToolHand: hand}
		would = say.Of("; a ", name, " whose ", edge, " by ", trail, " from the work would")
	} else if gap := p.InJaws(c.jaws).Reaches(from, to, fouling.Tool{Hand: fouling.Form}).MM; s.Kind == Cylinder &&
		gap > grain && !math.IsInf(gap, 1) {
		depth := units.FromFloat((c.bar - s.FromDia.MM()) / 2)
		wide := units.FromFloat(gap).Down()
		would = say.Of("; a parting blade no wider than ", wide, " that reaches ", depth.Up(), " would")
	}
	what := say.Of("stage ", s.N, ": no tool here gets at it")
	if t, ok := c.tool(i, c.hands[i]); ok {
		if r := p.InJaws(c.jaws).Reaches(from, to, t); r.Deg < 0 && !math.IsInf(r.Deg, -1) {
			name := fouling.Arrangement{ToolHand: c.hands[i]}
			what = say.Of(what, ": the ", name, "'s trailing edge is ", say.Num(math.Ceil(-r.Deg*10-grain)/10, 1), " deg short")
		} else if r.MM < 0 {
			what = say.Of(what, ": the post meets what rises beside it by ", units.FromFloat(-r.MM).Up())
		}
	}
	c.fails = append(c.fails, problem.New(problem.NotReachable, "station", nil, what, would))
}

// furtherOut returns how much further out of the jaws a tool gets at a stage, and
// which, with 3 mm to spare, where it is the jaws that are in the way.
func (c *cutting) furtherOut(group []int, i int) (more units.Length, hand fouling.Hand, ok bool) {
	if c.jaws == nil || c.list[i].Kind == Taper {
		return more, "", false
	}
	for step, n := practice.FurtherOut.Length(), int64(1); n <= mostOut; n++ {
		out := *c
		more = step.Times(n)
		out.in.FromJaws, out.zero = new(c.in.FromJaws.Plus(more)), c.zero+more.MM()
		if c.in.CentreAt != nil {
			out.in.CentreAt = new(c.in.CentreAt.Plus(more))
		}
		for _, h := range out.candidates(i) {
			if h != Blade && out.gets(out.stands(group...), i, h) {
				return more.Plus(practice.TightClear.Length(units.MM)), h, true
			}
		}
	}
	return more, "", false
}

// nearest returns the hand that is the least short.
func (c *cutting) nearest(p fouling.Profile, i int) fouling.Hand {
	from, to, _ := c.span(i)
	best, most := c.candidates(i)[0], math.Inf(-1)
	for _, h := range c.candidates(i) {
		t, ok := c.tool(i, h)
		if !ok || h == Blade || h == Both {
			continue
		}
		if r := p.InJaws(c.jaws).Reaches(from, to, t); r.Deg > most {
			best, most = h, r.Deg
		}
	}
	return best
}

// plainer returns what is given and would better not be, where all of it can be cut then: a post that is turned, a hand
// of tool.
func (c *cutting) plainer() (what say.Text, ok bool) {
	square := func(in Input) Input {
		in.PostTurn, in.PostTurned = fouling.Square, nil
		return in
	}
	any := func(in Input) Input {
		in.ToolHand = ""
		return in
	}
	turned := c.in.PostTurn == fouling.WithSlide || c.in.PostTurned != nil
	switch {
	case turned && square(c.in).works(c.list):
		return "the post square", true
	case c.in.ToolHand != "" && any(c.in).works(c.list):
		return say.Of(say.Key("tool-hand"), " left out"), true
	case turned && c.in.ToolHand != "" && any(square(c.in)).works(c.list):
		return say.Of("the post square and ", say.Key("tool-hand"), " left out"), true
	}
	return "", false
}

// another returns the hand of tool that gets at a taper for which another is asked for.
func (c *cutting) another(p fouling.Profile, i int) (fouling.Hand, bool) {
	if c.in.ToolHand == "" || c.list[i].Kind != Taper {
		return "", false
	}
	any := *c
	any.in.ToolHand = ""
	return any.hand(p, i)
}

// ground returns the tool that would have to be ground for a stage: the least trail
// in whole degrees with which all of them can be cut, else with which this one can.
func (c *cutting) ground(p fouling.Profile, i int) (hand fouling.Hand, trail units.Angle, ok bool) {
	for deg := practice.UsualTrail.Angle().Deg(); deg <= practice.TrailMost.Angle().Deg(); deg++ {
		for _, h := range []fouling.Hand{fouling.Right, fouling.Left, fouling.Neutral} {
			if c.list[i].Kind == Shoulder && h != c.candidates(i)[0] {
				continue
			}
			forced := c.in.ToolHand != "" && c.list[i].Kind == Taper && h != c.in.ToolHand
			if forced {
				continue
			}
			with := *c
			with.tools = append(slices.Clone(c.tools), shop.Tool{Hand: string(h), Trail: units.Degrees(deg)})
			with.in.Lathe.Tools = with.tools
			if !with.gets(p, i, h) {
				continue
			}
			if with.in.works(c.list) {
				return h, units.Degrees(deg), true
			}
			if !ok {
				hand, trail, ok = h, units.Degrees(deg), true
			}
		}
	}
	return hand, trail, ok
}

// explain says in which order the stages are cut, and by what.
func (r *Result) explain(s *sheet.Sheet) {
	var list []say.Text
	for _, n := range r.Order {
		for _, k := range r.turns {
			if *r.Stages[k].TurnDownBefore == n {
				list = append(list, say.Of(r.Stages[k].N, " turned down"))
			}
		}
		list = append(list, say.Of(n))
	}
	if len(r.Stages) > 1 && len(r.Fails()) == 0 {
		s.Aside("Cut the stages in the order ", say.Join(list, ", "), ": cylinders while the compound stands ",
			"true, a shoulder when its foot is there, stiff before slender, tapers of one setting together, and first what ",
			"stands in the way.")
	}
	if len(r.Fails()) == 0 { // the steps name the tools
		return
	}
	by := func(hand fouling.Hand) (of []int) {
		for _, st := range r.Stages {
			if st.ToolHand == hand {
				of = append(of, st.N)
			}
		}
		return of
	}
	if of := by(Both); len(of) > 0 {
		s.Note(named(of), ": a right-hand tool up to the shoulder at the headstock's side and a left-hand ",
			"one up to the other, to meet between.")
	}
	if of := by(Blade); len(of) > 0 {
		s.Note(named(of), ": the parting blade, ", r.Inputs.Blade, " wide, straight in, one cut beside the other.")
	}
	if of := by(fouling.Neutral); len(of) > 0 {
		s.Note(named(of), ": the pointed tool.")
	}
}

// named names stages by their numbers.
func named(of []int) say.Text {
	last := len(of) - 1
	if last == 0 {
		return say.Of("Stage ", of[0])
	}
	return say.Of("Stages ", say.Join(of[:last], ", "), " and ", of[last])
}

// draw adds the plan of every taper that fouls, else of the one that is the tightest.
func (r *Result) draw(s *sheet.Sheet) {
	var tightest *Stage
	for i := range r.Stages {
		st := &r.Stages[i]
		switch {
		case st.Clearance == nil:
		case len(st.Fouls) > 0:
			s.Drawings = append(s.Drawings, st.drawing())
		case tightest == nil || st.Clearance.Less(*tightest.Clearance):
			tightest = st
		}
	}
	if len(s.Drawings) == 0 && tightest != nil {
		s.Drawings = append(s.Drawings, tightest.drawing())
	}
}

// drawing is the plan of a taper, its title with the stage's number.
func (s Stage) drawing() sheet.Drawing {
	d := s.Set.Drawing()
	d.Title = say.Of("Stage ", s.N, ": ", strings.ToLower(d.Title[:1]), d.Title[1:]).String()
	return d
}
