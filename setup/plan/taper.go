package plan

import (
	"fmt"
	"math"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/outline"
	"setover/setup/plan/predict"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/tailstock"
)

// cone is a taper and where it stands in the lathe: what several ways of
// holding the part ask alike is worked out once.
type cone struct {
	large, small, length, fromJaws, centre op.Len
	end                                    tapers.End
}

// tapering is a taper while its card is made.
type tapering struct {
	*task
	work
	chucking
	x            outline.Stretch
	large, small units.Length
	o            *op.Op
}

// taper cuts a taper: with a form tool where it is short; with the compound
// where its slide reaches and nothing fouls; else with the tailstock set over
// where the angle is small enough; else with the compound in bites.
func taper(t *task, c chucking, x outline.Stretch) work {
	p := tapering{task: t, chucking: c, x: x, large: x.Large(), small: units.Min(x.Left.Turned, x.Right.Turned)}
	r, err := p.onCompound()
	if err != nil {
		p.no.Add(err)
		return p.work
	}
	p.o = &op.Op{
		ID: fmt.Sprintf("taper-z%s", x.From.Decimal()), Kind: op.Taper, Setup: c.setup, Held: c.held, Tool: "finishing tool",
		Name:  say.Of("cut the taper ", p.large, " to ", p.small, ", ", x.Span),
		Makes: op.SurfaceOf(op.Cone, x.Span, p.large), Cuts: x.Span, Dia: p.small,
	}
	if r.SlideTravel.Cmp(practice.FormToolSide.Length()) <= 0 {
		p.byFormTool(r)
		return p.work
	}
	var why say.Text
	switch {
	case r.Finding != nil && len(r.Finding.Fouls) > 0:
		why = "the compound would foul"
	case r.Bites != nil && *r.Bites > 1:
		why = say.Of("the slope of ", r.SlideTravel.Up(), " is longer than the compound's slide")
	}
	if offset, ok := p.offset(); ok && why != "" {
		p.byTailstock(offset, why)
		return p.work
	}
	p.byCompound(r, why)
	return p.work
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
func (p *tapering) onCompound() (compound.Result, error) {
	place := p.place()
	key := cone{
		op.LenOf(p.large), op.LenOf(p.small), op.LenOf(p.x.Length()), op.LenOf(*place.FromJaws), -1, p.smallEnd(),
	}
	if place.CentreAt != nil {
		key.centre = op.LenOf(*place.CentreAt)
	}
	if r, known := p.cleared[key]; known {
		return r, nil
	}
	in := compound.Input{Input: p.input(), SmallEnd: p.smallEnd(), Place: place}
	r, err := compound.Set(in)
	if err == nil && r.Finding != nil && len(r.Finding.Fouls) > 0 {
		if way, ok := r.Finding.Held(); ok {
			in.Arrangement = way
			if other, err := compound.Set(in); err == nil && len(other.Finding.Fouls) == 0 {
				r = other
			}
		}
	}
	if err == nil {
		p.cleared[key] = r
	}
	return r, err
}

// place says where it stands in its chucking, for what may foul.
func (p *tapering) place() fouling.Place {
	head := p.x.From // the end at the headstock's side
	if p.out == part.Left {
		head = p.x.To
	}
	place := fouling.Place{FromJaws: new(p.fromJaws(head)), Lathe: *p.Shop.Lathe, Brief: true}
	if p.setup.Centre {
		at := p.reach.Plus(p.standoff)
		if p.stub {
			at = at.Plus(practice.StubLength.Length())
		}
		place.CentreAt = &at
	}
	return place
}

// byFormTool cuts it with a tool ground to its angle: the compound stays where
// it is.
func (p *tapering) byFormTool(r compound.Result) {
	o := p.add(p.o)
	o.Tool = say.Of("form tool ground to ", sheet.Number{V: r.HalfAngle.Deg(), Places: 2, Unit: "deg"})
	o.Set("method", say.Text("form tool"),
		"the side is only ", r.SlideTravel, " long, so the compound need not be swung")
	o.Set("angle", sheet.Ang(r.HalfAngle), "half angle, from the axis; prove the tool on a protractor")
	step := practice.FormToolStep.Angle()
	p.cutAt(new(p.x.Length()), r.HalfAngle.RoundTo(step, units.Nearest), say.Of("a form tool ground to ", step))
}

// byCompound swings the compound.
func (p *tapering) byCompound(r compound.Result, tight say.Text) {
	o := p.add(p.o)
	o.Setup.State = op.State{Swung: true, Compound: op.DegOf(r.SetHalfAngle)}
	if r.Swing != shop.Clockwise {
		o.Setup.State.Compound *= -1
	}
	p.swing(r)
	o.Warnings, o.Cautions = append(o.Warnings, r.Warnings...), append(o.Cautions, r.Cautions...)
	p.clearance(r)
	if tight != "" && r.Bites != nil && *r.Bites > 1 {
		o.Set("method", say.Text("compound, in bites"), tight, ", and the tailstock cannot be set over for it")
	}
	why := say.Text("the compound at its nearest mark")
	if r.Mark == nil {
		why = "the compound set by indicator"
	}
	p.cutAt(r.SlideTravel, r.SetHalfAngle, why)
}

// swing puts the compound's setting on the card.
func (p *tapering) swing(r compound.Result) {
	o := p.o
	var turn say.Text
	if r.TurnDirection != nil {
		turn = say.Of(*r.TurnDirection, " from the ", *r.ScaleZero, " zero, handle toward the ", r.HandleToward)
	}
	if r.Mark != nil {
		o.Set("compound", op.With(sheet.Number{V: r.Mark.Deg(), Places: 2, Unit: "deg"}, "on the scale"),
			turn, "; exact ", sheet.Deg(*r.Reading))
	} else {
		o.Set("compound", op.With(sheet.Deg(r.HalfAngle), "half angle by indicator"), turn)
	}
	o.Set("indicator", r.IndicatorReading, "while the slide travels ", r.IndicatorTravel, ", for the exact angle")
	if r.Bites != nil && *r.Bites > 1 {
		o.Set("bites", sheet.Count(*r.Bites), "between them carriage ", r.CarriageMove, ", cross slide ", r.CrossSlideMove)
	}
}

// clearance puts on the card how the tool is held and what it clears by.
func (p *tapering) clearance(r compound.Result) {
	f := r.Finding
	if f == nil || f.Clearance == nil {
		return
	}
	a := f.Arrangement
	post := say.Text(strings.ReplaceAll(string(a.PostTurn), "-", " "))
	if a.PostTurned != nil {
		post = a.Post()
	}
	if a.Overhang != nil {
		post = say.Of(post, ", tip ", a.Overhang, " beyond it")
	}
	p.o.Set("tool", say.Of(a.ToolHand, "-hand, on the post's ", a.PostSide, " side"),
		"post ", post, ", handle ", a.Handle)
	clear := op.With(f.Clearance.Down(), "clear of chuck and tailstock")
	limit := op.With(practice.EasyClear.Length(), "to be easy, 0 at the least")
	foul := firstFoul(f.Fouls)
	if foul.Deg != nil {
		trail := practice.TrailClear.Angle()
		p.o.Check(problem.Fouls, false,
			say.Of("the tool's trailing edge is ", tenth(*foul.Deg), " short of clearing the cone"),
			say.Of("the half angle and ", trail),
			"a ", a.ToolHand, "-hand tool with a trailing angle above ", tenth(r.HalfAngle.Plus(trail)), " (lathe: tools)")
		return
	}
	remedy := say.Text("no way of holding the tool clears: cut it with a longer grip, or between centres")
	if len(f.Alternatives) > 0 {
		remedy = f.Alternatives[0].Say
	}
	p.o.Check(problem.Fouls, len(f.Fouls) == 0, clear, limit, remedy)
}

// tenth words an angle to a tenth of a degree.
func tenth(a units.Angle) sheet.Number { return sheet.Number{V: a.Deg(), Places: 1, Unit: "deg"} }

// firstFoul returns what is to be told of what fouls: a body that meets
// another before an edge that is short, and nothing where nothing fouls.
func firstFoul(list []fouling.Foul) fouling.Foul {
	for _, f := range list {
		if f.MM != nil {
			return f
		}
	}
	if len(list) > 0 {
		return list[0]
	}
	return fouling.Foul{}
}

// offset returns the tailstock's offset, and whether it can be cut so: between
// centres, so both ends must take one, and the tailstock must move that far.
func (p *tapering) offset() (tailstock.Result, bool) {
	if p.grip == offBar || p.stub || len(p.shape.Bores) > 0 || p.thin(part.Left) || p.thin(part.Right) {
		return tailstock.Result{}, false
	}
	r, err := tailstock.Set(tailstock.Input{
		Input: p.input(), Between: p.shape.Length, SmallEnd: p.smallEnd(), Tailstock: p.Shop.Lathe.Tailstock,
	})
	return r, err == nil && r.Possible != nil && *r.Possible
}

// byTailstock cuts it between centres with the tailstock set over.
func (p *tapering) byTailstock(r tailstock.Result, why say.Text) {
	for _, c := range p.chuckings {
		p.work = together(p.work, centre(p.task, c))
	}
	step := practice.IndicatorStep.Length()
	set := r.Offset.RoundTo(step, units.Nearest)
	o := p.add(p.o)
	offset, way := op.LenOf(set), "toward you"
	if r.Direction == tailstock.AwayFromOperator {
		offset, way = -offset, "away from you"
	}
	o.Setup = op.Setup{
		Machine: op.Lathe, Device: op.Centres, On: op.Surface{Shape: op.CentreHoles}, Out: p.out,
		State: op.State{Offset: offset},
	}
	o.Held = op.Span{}
	o.Set("method", say.Text("tailstock set over, with a dog"), why)
	o.Set("set over", op.With(set, way), "by indicator on the barrel; exact ", r.Offset)
	o.Warnings, o.Cautions = append(o.Warnings, r.Warnings...), append(o.Cautions, r.Cautions...)
	half := units.Radians(math.Asin(set.Over(p.shape.Length)))
	p.cutAt(new(p.x.Length()), half, say.Of("the tailstock set over by indicator to ", step))
}

// cutAt gives it its speed and passes, and predicts its large end from the
// cross slide and its small end from the half angle that was set.
func (p *tapering) cutAt(travel *units.Length, set units.Angle, why say.Text) {
	o, x := p.o, p.x
	start := p.roughed(x)
	depth := practice.TaperDepth.Length()
	passes := max(1, int(start.Minus(p.small).Half().Steps(depth, units.Up)))
	o.Set("passes", sheet.Count(passes), "of at most ", depth, " a side at the small end")
	cut := finishing(p.large, *travel)
	cut.To = new(units.Max(p.small, units.Millimetres(1)))
	p.cut(o, passes, cut)
	if m, ok := p.measured(x); ok && p.done[o.ID] {
		p.predict(say.Of("taper, ", x.Span), p.large, m, "measured")
	}
	in := o.OnDial(say.Of("last pass, in from ", start, " at the large end"), op.CrossSlide, p.Shop.Lathe.CrossSlide,
		start.Minus(p.large).Half())
	large := predict.Diameter(start, in)
	p.predict(say.Of("large end of the taper, ", x.Span), p.large, large, byCrossSlide)
	small := predict.SmallEnd(large, x.Length(), set)
	p.working = append(p.working, sheet.Work(say.Of("small end at z ", x.From).String(), "D - 2*l*tan(a)",
		small.MM(), "mm", sheet.Let("D", large.MM()), sheet.Let("l", x.Length().MM()), sheet.Let("a", set.Deg())))
	p.predict(say.Of("small end of the taper, ", x.Span), p.small, small, why)
	if x.Facets != nil {
		p.predictFlats(*x.Facets, x.Span, [2]units.Length{p.large, large}, [2]units.Length{p.small, small}, why)
	}
}
