package plan

import (
	"fmt"
	"math"

	"setover/feeds"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/work"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/form"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
	"setover/tapers/tailstock"
)

// cone is a taper and where it stands in the lathe: what several ways of
// holding the part ask alike is worked out once.
type cone struct {
	large, small, length, fromJaws, centre op.Len
	end                                    tapers.End
	out                                    part.End
	n, first, last                         int // the stretch, and those that are cut in its grip
	waist                                  bool
}

// tapering is a taper while its card is made.
type tapering struct {
	*task
	steps
	chucking
	x            outline.Stretch
	large, small units.Length
	o            *op.Op
	by           taperMethod
	over         *tailstock.Result // nil where it is cut otherwise
	form         *form.Tool
}

// taper cuts a taper: with a form tool where it is short; with the compound
// where its slide reaches and nothing fouls; else with the tailstock set over
// where the angle is small enough; else with the compound in bites.
func taper(t *task, c chucking, x outline.Stretch) steps {
	p := &tapering{task: t, chucking: c, x: x, large: x.Large(), small: units.Min(x.Left.Turned, x.Right.Turned)}
	list := p.cutTaper()
	if p.by == finishedByFile && p.o != nil {
		list = together(list, p.file())
	}
	return list.offering(x.ID(), p.methods()...)
}

// cutTaper cuts it by the method that suits it.
func (p *tapering) cutTaper() steps {
	t, c, x := p.task, p.chucking, p.x
	if p.by = taperMethod(t.method(x.ID(), len(p.methods()))); p.by == finishedByFile {
		more := practice.LeaveFiling.Length()
		p.large, p.small = p.large.Plus(more), p.small.Plus(more)
	}
	r, err := p.onCompound()
	if err != nil {
		p.no.Add(err)
		return p.steps
	}
	p.o = p.add(&op.Op{
		ID: fmt.Sprintf("taper-z%s", x.From.Decimal()), Kind: op.Taper, Setup: c.setup,
		Tool:   op.Tool{Name: "finishing tool", Hand: op.Right},
		Name:   say.Of("cut the taper ", p.large, " to ", p.small, ", ", x.Span),
		Leaves: op.SurfaceOf(op.Cone, x.Span, p.large), Cuts: x.Span, Dia: p.small, Makes: []string{x.ID()},
		Ends: ends(x), Roughed: t.leftRough(c, x),
	})
	_, p.o.Gauged = t.limits.HalfAngle(x)
	if p.by == finishedByFile {
		p.leave()
	}
	if ground := p.ground(); r.SlideTravel.Cmp(practice.FormToolSide.Length()) <= 0 && p.keeps(ground, units.Angle{}) {
		p.byFormTool(r.Result, ground)
		return p.steps
	}
	var why say.Text
	switch {
	case fouled(r.Result):
		why = "the compound would foul"
	case r.Bites != nil && *r.Bites > 1:
		why = say.Of("the slope of ", r.SlideTravel.Up(), " is longer than the compound's slide")
	}
	if offset, ok := p.offset(); ok && why != "" {
		p.byTailstock(offset, why)
		return p.steps
	}
	p.byCompound(r, why)
	return p.steps
}

func (p *tapering) input() tapers.Input {
	return tapers.Input{Large: &p.large, Small: &p.small, Length: new(p.x.Length())}
}

// smallEnd says at which end of the lathe it is small: the end that stands out
// is the tailstock's.
func (p *tapering) smallEnd() tapers.End {
	small := part.Right
	if p.x.Left.Turned.Less(p.x.Right.Turned) {
		small = part.Left
	}
	if small == p.out {
		return tapers.AtTailstock
	}
	return tapers.AtHeadstock
}

// onCompound sets the taper on the compound, with the tool held so that nothing
// fouls: as it usually is if that clears, else the first way that does.
func (p *tapering) onCompound() (mounted, error) {
	place := p.place()
	key := cone{
		op.LenOf(p.large), op.LenOf(p.small), op.LenOf(p.x.Length()), op.LenOf(*place.FromJaws), -1, p.smallEnd(),
		p.out, p.x.N, p.stretches[0].N, p.stretches[len(p.stretches)-1].N, p.waist,
	}
	if place.CentreAt != nil {
		key.centre = op.LenOf(*place.CentreAt)
	}
	if r, known := p.cleared[key]; known {
		return r, nil
	}
	in := compound.Input{Input: p.input(), SmallEnd: p.smallEnd(), Place: place, Judged: true}
	r, err := p.heldClear(in)
	if err == nil {
		p.cleared[key] = r
	}
	return r, err
}

// mounted is a taper on the compound, and what the tool is ground to for it: 0 where one on
// hand does.
type mounted struct {
	compound.Result
	trail units.Angle
}

// heldClear sets a taper with a tool on hand, or where none clears with the first that can be
// ground for it and does. The steps of a waist are made for a tool that passes them.
func (p *tapering) heldClear(in compound.Input) (best mounted, err error) {
	known := false
	if !p.waist || fouling.Passes(in.Lathe.Tools, p.aim()) {
		r, err := clearing(in)
		if err != nil || !fouled(r) {
			return mounted{Result: r}, err
		}
		best, known = mounted{Result: r}, true
	}
	own := in.Lathe
	for _, trail := range fouling.GroundTrails() {
		if in.Lathe = fouling.WithGround(own, trail); p.waist && !fouling.Passes(in.Lathe.Tools, p.aim()) {
			continue
		}
		r, err := clearing(in)
		if err != nil || !fouled(r) {
			return mounted{r, trail}, err
		}
		if !known {
			best, known = mounted{r, trail}, true
		}
		if p.clearsEdges(p.chucking, p.x.Span, trail) {
			break
		}
	}
	if !known { // steeper than anything passes
		r, err := clearing(in)
		return mounted{Result: r}, err
	}
	return best, nil
}

// clearing sets a taper on the compound as it usually is if that clears, else in the first
// way to hold the tool that does.
func clearing(in compound.Input) (compound.Result, error) {
	r, err := compound.Set(in)
	if err != nil || !fouled(r) {
		return r, err
	}
	if way, ok := r.Finding.Held(practice.LeastClear.Length()); ok {
		in.Arrangement = way
		if other, err := compound.Set(in); err == nil && !fouled(other) {
			return other, nil
		}
	}
	return r, nil
}

// fouled reports whether something is in the way of a taper on the compound, or as good as.
func fouled(r compound.Result) bool {
	f := r.Finding
	return f != nil && (len(f.Fouls) > 0 || f.Clearance != nil && f.Clearance.Less(practice.LeastClear.Length()))
}

// place says where it stands in its chucking, for what may foul.
func (p *tapering) place() fouling.Place {
	head := p.x.From // the end at the headstock's side
	if p.out == part.Left {
		head = p.x.To
	}
	place := fouling.Place{
		FromJaws: new(p.fromJaws(head)), Lathe: fouling.WithUsualTools(*p.Shop.Lathe), Brief: true, Work: p.stands(),
	}
	if p.setup.Support == op.AtCentre {
		end := endOf(p.shape, p.out)
		at := p.fromJaws(end)
		place.CentreAt = new(at.Plus(p.task.stub(p.out)))
	}
	return place
}

// fromJaws returns how far z is from the jaws' face.
func (c chucking) fromJaws(z units.Length) units.Length {
	return z.Minus(c.setup.Face().Length()).Abs()
}

// byFormTool cuts it with a tool ground to its angle: the compound stays where
// it is.
func (p *tapering) byFormTool(r compound.Result, ground units.Angle) {
	o := p.o
	o.Tool = op.Tool{
		Name: say.Of("form tool ground to ", sheet.Number{V: ground.Deg(), Places: 2, Unit: "deg"}), Hand: op.Form,
	}
	o.Set("method", say.Text("form tool"),
		"the side is only ", r.SlideTravel, " long, so the compound need not be swung")
	o.Set("angle", sheet.Ang(ground), "half angle, from the axis; exact ", sheet.Deg(p.aim()))
	p.form = new(form.Of(p.aim(), *r.SlideTravel))
	p.cutAt(nil, new(p.x.Length()), ground, say.Of("a form tool ground to ", practice.FormToolStep.Angle()))
}

// byCompound swings the compound, in the way that is the least trouble and keeps
// the limits.
func (p *tapering) byCompound(r mounted, tight say.Text) {
	o := p.o
	c := p.setAngle(r.Result)
	set := p.worst(c)
	o.Setup.State = op.State{Swung: true, Compound: op.DegOf(set)}
	if r.Swivel != shop.Clockwise {
		o.Setup.State.Compound *= -1
	}
	o.Stands.Compound, o.Stands.Method = &set, c.Method
	if r.Finding != nil {
		a := r.Finding.Arrangement
		o.Stands.Arrangement = &a
		sharpened{a.ToolHand, r.trail}.takes(o)
	}
	if p.Shop.Lathe.ToolPost == nil { // nothing but the edges is known
		p.gets(o.Cuts, p.chucking, fouling.Right).takes(o)
	}
	p.standsOff()
	p.swing(r.Result, c)
	o.Warnings, o.Cautions = append(o.Warnings, r.Warnings...), append(o.Cautions, r.Cautions...)
	p.clearance(r.Result)
	if tight != "" && r.Bites != nil && *r.Bites > 1 {
		o.Set("method", say.Text("bites"), tight, ", and the ", p.noOffset(), ": cut it in bites")
	}
	p.cutAt(p.handed(r.Result), r.SlideTravel, set, c.Because())
	if !c.Keeps {
		o.Best = p.best(c.Because(), set)
	}
}

// exactly says of a scale that is set near the taper's half angle what the indicator would show at that.
func (p *tapering) exactly(c swivel.Choice, set swivel.Dial) say.Text {
	d, drawn := c.Proof(), say.Of(sheet.Deg(p.aim()))
	if !d.Travel.Equal(set.Travel) || drawn == say.Of(sheet.Deg(c.HalfAngle)) {
		return ""
	}
	return say.Of("; ", d.Exact, " would be the taper's own ", drawn)
}

// tightened is how every setting of the compound ends.
const tightened say.Text = "; tighten both bolts, and look at it again"

// asRead says why the half angle that an indicator sets is not quite the taper's, where it is
// not: it is read to so much and no finer.
func (p *tapering) asRead(c swivel.Choice) say.Text {
	set, drawn := sheet.Deg(c.HalfAngle), sheet.Deg(p.aim())
	switch {
	case !c.Keeps:
		return c.Exactly()
	case say.Of(set) == say.Of(drawn):
		return ""
	}
	return say.Of("; ", c.Dial.Shows, " on the indicator sets ", set, ", as near to the taper's ", drawn, " as it is read")
}

// swing puts the compound's setting on the card.
func (p *tapering) swing(r compound.Result, c swivel.Choice) {
	o := p.o
	number := func(places int) sheet.Number {
		return sheet.Number{V: c.Turned.Reading.Deg(), Places: places, Unit: "deg"}
	}
	half := sheet.Deg(*o.Stands.Compound)
	switch c.Method {
	case swivel.ByMark:
		o.Set("compound", op.With(number(2), "on the scale"), c.Say())
	case swivel.BetweenMarks:
		o.Set("compound", op.With(number(3), "on the scale, between marks by eye"), c.Say(), p.turnedDown(c))
	case swivel.ByIndicator:
		o.Set("compound", op.With(half, "half angle by indicator"), c.Moves(), p.asRead(c), p.turnedDown(c))
	case swivel.BySineBar:
		o.Set("compound", op.With(half, "half angle by sine bar"), c.Moves(), c.Exactly(), p.turnedDown(c))
		o.Set("sine bar", op.With(*c.Stack.StackHeight, "of blocks"), "wring ", c.Stack.Stack,
			", under the ", c.Raised(), " roll; ", sheet.Deg(c.HalfAngle), " is set, ",
			sheet.Number{V: c.Stack.AngleError.Deg(), Places: 5, Unit: "deg"}, " off")
		o.Set("indicator", say.Text("stands still"), "along the bar, while the slide goes ", c.Dial.Travel, tightened)
		p.needs("sine bar and gauge blocks", "to set the compound", true)
	}
	switch d := c.AsSet(); c.Method {
	case swivel.BySineBar:
	case swivel.ByIndicator:
		o.Set("indicator", d.Shows, d.Over(), ", set so", tightened)
	case swivel.ByMark, swivel.BetweenMarks:
		o.Set("indicator", d.Exact, d.Over(), ": the angle that the scale is set to, ", half, ", which the limits allow",
			p.exactly(c, d), tightened)
	}
	w := p.handed(r).Turned(*o.Stands.Compound)
	switch {
	case w.Bites == nil || *w.Bites == 1:
		o.Set("slide", w.SlideTravel, "from end to end of the taper, the carriage locked: no further where it runs into work")
	case len(w.Joints) > 0:
		o.Set("bites", sheet.Count(*w.Bites), "between them, the slide wound back, ",
			w.MovesBetween(w.Joints[0].Carriage, w.Joints[0].Cross))
	}
}

// clearance puts on the card how the tool is held, and notes how much further out
// of the jaws the work would have to stand where something fouls. Whether it does
// is certified on the work as it stands then.
func (p *tapering) clearance(r compound.Result) {
	f := r.Finding
	if f == nil || f.Clearance == nil {
		return
	}
	a := f.Arrangement
	hand := say.Of(a.ToolHand, "-hand")
	if a.ToolHand == fouling.Neutral {
		hand = "pointed"
	}
	post := say.Text("")
	if a.PostTurned != nil && a.PostTurn != fouling.WithSlide {
		post = "; the post's turn is counted from square to the axis, seen from above"
	}
	p.o.Set("tool", hand, a.Hung(), post)
	if len(f.Fouls) == 0 {
		return
	}
	for _, a := range f.Alternatives {
		if a.MoreFromJaws != nil && a.Change != fouling.TurnWork {
			more := a.MoreFromJaws.RoundTo(practice.FurtherOut.Length(), units.Up)
			p.further = append(p.further, further{p.out, op.LenOf(more)})
			return
		}
	}
}

// offset returns the tailstock's offset, and whether it can be cut so: between
// centres, so both ends must take one, and the tailstock must move that far.
func (p *tapering) offset() (tailstock.Result, bool) {
	if p.grip == offBar {
		return tailstock.Result{}, false
	}
	return p.setOver()
}

// noOffset says why the tailstock is not set over.
func (p *tapering) noOffset() say.Text {
	if _, could := p.setOver(); could {
		return "tailstock is not set over for what is held in the chuck to the end"
	}
	return "tailstock cannot be set over for it"
}

// setOver returns the offset of a part that both ends of take a centre, and whether the tailstock
// moves so far.
func (p *tapering) setOver() (tailstock.Result, bool) {
	thin := p.thin(part.Left) || p.thin(part.Right) || p.stubAt(part.Left) || p.stubAt(part.Right)
	if p.Shop.Lathe.Tailstock == nil || len(p.shape.Bores) > 0 || thin {
		return tailstock.Result{}, false
	}
	r, err := tailstock.Set(tailstock.Input{
		Input: p.input(), Between: &p.shape.Length, SmallEnd: p.smallEnd(), Lathe: *p.Shop.Lathe,
		Unit: swivel.ToolsOf(p.Shop).Unit,
	})
	return r, err == nil && r.Possible != nil && *r.Possible && !r.Steep()
}

// byTailstock cuts it between centres with the tailstock set over.
func (p *tapering) byTailstock(r tailstock.Result, why say.Text) {
	o := p.o
	p.ops = nil
	for _, c := range p.chuckings {
		if p.grip != inDog { // they are centred already
			p.steps = together(p.steps, centre(p.task, c))
		}
	}
	p.add(o)
	step := practice.IndicatorRead.Length(p.Shop.Units)
	exact := units.FromFloat(p.shape.Length.MM() * p.aim().Sin())
	set := exact.RoundTo(step, units.Nearest)
	offset, way := op.LenOf(set), "toward you"
	if r.Direction == tailstock.AwayFromOperator {
		offset, way = -offset, "away from you"
	}
	if o.Setup = p.setup; p.grip != inDog {
		o.Setup = op.Setup{
			Machine: op.Lathe, Device: op.Centres, On: op.Surface{Shape: op.CentreHoles}, Out: p.out, Support: op.AtCentre,
		}
	}
	o.Setup.State.Offset = offset
	signed := offset.Length()
	o.Stands.Offset = &signed
	o.Set("method", say.Text("tailstock"), "set over, with a dog: ", why)
	o.Set("set over", op.With(set, way), "by indicator on the barrel; exact ", exact)
	o.Cautions = append(o.Cautions, r.Cautions...)
	half := units.Radians(math.Asin(set.Over(p.shape.Length)))
	p.over = &r
	p.cutAt(nil, new(p.x.Length()), half, say.Of("the tailstock set over by indicator to ", step))
}

// handed is a setting for the hand of tool that the card names: where there is no tool post
// to model it is the one whose edge clears.
func (p *tapering) handed(r compound.Result) *compound.Result {
	if r.Finding != nil && p.Shop.Lathe.ToolPost == nil {
		f := *r.Finding
		f.Arrangement.ToolHand = p.gets(p.x.Span, p.chucking, fouling.Right).hand
		r.Finding = &f
	}
	return &r
}

// cutAt gives it its speed and passes, and predicts its large end from the
// cross slide and its small end from the half angle that was set; slide is nil where
// it is not cut on the compound.
func (p *tapering) cutAt(slide *compound.Result, travel *units.Length, set units.Angle, why say.Text) {
	c := conical{
		o: p.o, x: p.x, drawn: p.large, point: p.small, travel: *travel, set: set, why: why, slide: slide, out: p.out,
		over: p.over, form: p.form, dial: p.Shop.Lathe.CrossSlide,
		depth: p.passDepth(), finish: p.lastDepth(),
		wound: new(int), inBites: new(bool),
		byMark: p.o.Stands.Method == swivel.ByMark || p.o.Stands.Method == swivel.BetweenMarks,
	}
	t := p.task
	p.o.Do = func(as work.State) { t.tapered(c, as) }
}

// lastDepth is what the last pass of a taper takes a side, a round figure of the shop's unit: where the
// work springs a light cut, and the least that cuts where the angle has limits.
func (p *tapering) lastDepth() units.Length {
	switch {
	case p.light && p.o.Gauged:
		return practice.PassGauged.Length(p.Shop.Units)
	case p.light:
		return p.finishDepth()
	}
	return practice.PassFinish.Length(p.Shop.Units)
}

// passDepth is what the passes before it take. What they spring by is left for the last, so that
// they are light ones too where that may hardly spring.
func (p *tapering) passDepth() units.Length {
	if p.light && p.o.Gauged {
		return practice.PassFinish.Length(p.Shop.Units)
	}
	return practice.PassDepth.Length(p.Shop.Units)
}

// tapered cuts the taper out of the work as it stands.
func (t *task) tapered(c conical, as work.State) {
	o, x, set, why := c.o, c.x, c.set, c.why
	span := inWork(x.Span)
	start := as.Largest(span).Length()
	depth, last := c.depth, c.finish
	large, small := c.line(t, as)
	rough := c.roughing(as, large)
	passes, in := rough+1, say.Text("")
	if *c.wound > 0 {
		passes = *c.wound
	}
	if *c.inBites {
		in = ", in a bite at the most"
	}
	o.Set("passes", sheet.Count(passes), "of at most ", depth, " a side, from where the tool first meets the work", in)
	o.Set("depth a pass", last, "a side, in the last of them")
	cut := finishing(c.drawn, c.travel)
	cut.To = new(units.Max(c.point, units.Millimetres(1)))
	t.chosen(o, cut)
	if o.Rough {
		o.Set("down to", small, "at the small end, by micrometer or calliper")
	}
	ends := []part.End{part.Left, part.Right}
	if x.Left.Turned.Less(x.Right.Turned) {
		ends = []part.End{part.Right, part.Left}
	}
	o.Push = t.finishPush()
	if o.Gauged && t.light {
		o.Push.Depth = last.MM()
	}
	profile := []work.Point{{Z: span.From, Dia: op.LenOf(large)}, {Z: span.To, Dia: op.LenOf(small)}}
	if ends[0] == part.Right {
		profile = []work.Point{{Z: span.From, Dia: op.LenOf(small)}, {Z: span.To, Dia: op.LenOf(large)}}
	}
	if o.Rough { // a file takes the rest
		o.Removed(work.Outside{Profile: profile, Stage: work.Rough})
		o.Push.Finish = false
		t.sloping(c, as, cut, rough)
		return
	}
	o.Removed(work.Outside{Profile: profile, Stage: work.Finished})
	t.sloping(c, as, cut, rough)
	o.Foresee(t.limits.TaperEnd(x, ends[0]), say.Of("large end of the taper, ", x.Span), units.Min(large, start),
		byLastLine)
	o.Foresee(t.limits.TaperEnd(x, ends[1]), say.Of("small end of the taper, ", x.Span), small, why)
	o.Working = append(o.Working, sheet.Work(say.Of("small end at z ", x.From).String(), "D - 2*l*tan(a)",
		small.MM(), "mm", sheet.Let("D", large.MM()), sheet.Let("l", x.Length().MM()), sheet.Let("a", set.Deg())))
	if a, written := t.limits.HalfAngle(x); written {
		o.Predicted = append(o.Predicted, op.Predicted{
			Dimension: a, Words: say.Of("half angle of the taper, ", x.Span), OutAngle: set, Because: why,
		})
	}
}

// roughing is in how many passes a taper is taken down to where the last begins, from where the
// tool first meets the work: beyond the last line it stands out by so much at the most.
func (c conical) roughing(as work.State, large units.Length) int {
	stands := units.FromFloat(c.stands(as, large).MM()/c.square()).RoundTo(depthStep, units.Nearest)
	return compound.Passes(stands, c.depth, c.finish, c.dial) - 1
}

// sloping charges a taper's passes, so many and the last: each one runs over what
// it still cuts, from the small end on.
func (t *task) sloping(c conical, as work.State, cut feeds.Input, rough int) {
	o := c.o
	after := as.After(o.Removes...)
	whole := *cut.Length
	depth, last := op.LenOf(c.depth), op.LenOf(c.finish)
	for i := range rough + 1 {
		off := op.Len(0) // what this pass still leaves on the diameter
		if i < rough {
			off = 2*last + 2*depth*op.Len(rough-1-i)
		}
		long := as.AboveBy(after, off)
		if long <= 0 {
			continue
		}
		cut.Length = new(units.FromFloat(whole.MM() * min(1, float64(long)/float64(o.Along().Length()))))
		o.Minutes += t.minutes(o, cut)
	}
}
