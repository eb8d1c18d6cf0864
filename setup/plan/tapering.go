package plan

import (
	"fmt"
	"math"
	"strings"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/op"
	"setover/setup/plan/predict"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/tailstock"
)

// smallEnd says at which end of the lathe a stretch is small: the end that
// stands out is the tailstock's.
func smallEnd(x stretch, out part.End) tapers.End {
	small := part.Right
	if x.A.Less(x.B) {
		small = part.Left
	}
	if small == out {
		return tapers.AtTailstock
	}
	return tapers.AtHeadstock
}

// taper cuts a taper: with the compound where its slide reaches and nothing
// fouls; else with the tailstock set over where the angle is small enough; else
// with the compound in bites.
func (d *draft) taper(c chucking, x stretch) {
	large, small, length := x.large(), units.Min(x.A, x.B), x.Length()
	in := tapers.Input{Large: &large, Small: &small, Length: &length}
	end, place := smallEnd(x, c.out), d.place(c, x)
	r, err := d.shape.cleared.of(fmt.Sprint(large, small, length, end, place.FromJaws, place.CentreAt), func() (compound.Result, error) {
		return d.clearing(compound.Input{
			Input: in, SmallEnd: end, Place: place,
		})
	})
	if err != nil {
		d.fails.Add(err)
		return
	}
	o := &op.Op{
		ID: fmt.Sprintf("taper-z%s", x.From.Decimal()), Kind: op.Taper, Setup: c.setup, Held: c.held, Tool: "finishing tool",
		Name:    fmt.Sprintf("cut the taper %s to %s, %v", sheet.Inline(large, units.Nearest), sheet.Inline(small, units.Nearest), x.Span),
		Feature: fmt.Sprintf("taper %v", x.Span), Cuts: x.Span, Dia: small,
	}
	if r.SlideTravel.Cmp(d.usual.formTool) <= 0 {
		d.byFormTool(o, x, r)
		return
	}
	why := ""
	switch {
	case r.Finding != nil && len(r.Finding.Fouls) > 0:
		why = "the compound would foul"
	case r.Bites != nil && *r.Bites > 1:
		why = fmt.Sprintf("the slope of %s is longer than the compound's slide", sheet.Inline(*r.SlideTravel, units.Up))
	}
	if why != "" {
		if t, ok := d.offset(c, x, in); ok {
			d.byTailstock(o, c, x, t, why)
			return
		}
	}
	d.byCompound(o, x, r, why)
}

// byFormTool puts a taper on its card that is short enough for a tool ground to
// its angle: the compound stays where it is.
func (d *draft) byFormTool(o *op.Op, x stretch, r compound.Result) {
	o.Tool = fmt.Sprintf("form tool ground to %.2f deg", r.HalfAngle.Deg())
	d.add(o)
	o.Set("method", "form tool", fmt.Sprintf("the side is only %s long, so the compound need not be swung", size(*r.SlideTravel)))
	o.Set("angle", fmt.Sprintf("%.3f deg (%s)", r.HalfAngle.Deg(), r.HalfAngle.DMS(false)), "half angle, from the axis; prove the tool on a protractor")
	d.cutTaper(o, x, ptr(x.Length()), r.HalfAngle.RoundTo(units.Degrees(formStep), units.Nearest), fmt.Sprintf("a form tool ground to %.2f deg", formStep))
}

// formStep is what a tool's angle is ground to in degrees: common practice, no
// source.
const formStep = 0.25

// byCompound puts a taper that is cut with the compound on its card.
func (d *draft) byCompound(o *op.Op, x stretch, r compound.Result, tight string) {
	d.add(o)
	o.Setup.State = d.compoundSettings(o, r)
	o.Warnings = append(o.Warnings, r.Warnings...)
	o.Cautions = append(o.Cautions, r.Cautions...)
	d.foulingCheck(o, r)
	if tight != "" && r.Bites != nil && *r.Bites > 1 {
		o.Set("method", "compound, in bites", tight+", and the tailstock cannot be set over for it")
	}
	why := "the compound at its nearest mark"
	if r.Mark == nil {
		why = "the compound set by indicator"
	}
	d.cutTaper(o, x, r.SlideTravel, r.SetHalfAngle, why)
}

// cutTaper gives a taper its speed and passes, and predicts its large end from
// the cross slide and its small end from the half angle that was set.
func (d *draft) cutTaper(o *op.Op, x stretch, travel *units.Length, set units.Angle, why string) {
	large, small := x.large(), units.Min(x.A, x.B)
	passes := d.roughed(x).Minus(small).Half().Steps(d.usual.taperDepth, units.Up)
	o.Set("passes", fmt.Sprint(max(1, passes)), fmt.Sprintf("of at most %s a side at the small end", size(d.usual.taperDepth)))
	d.cutOrFail(o, feeds.Input{Operation: feeds.Turn, Diameter: large, To: ptr(units.Max(small, units.Millimetres(1))), Length: travel, Finish: true}, max(1, int(passes)))
	if m, ok := d.measured(x); ok && d.isDone(o.ID) {
		d.predict(fmt.Sprintf("taper, %v", x.Span), large, m, "measured")
	}
	start := d.roughed(x)
	in := d.onDial(o, fmt.Sprintf("last pass, in from %s at the large end", size(start)), "cross slide", d.shop.Lathe.CrossSlide, start.Minus(large).Half())
	drawn := large
	large = predict.Diameter(start, in)
	d.predict(fmt.Sprintf("large end of the taper, %v", x.Span), drawn, large, "the nearest line of the cross slide's dial")
	out := predict.SmallEnd(large, x.Length(), set)
	d.working = append(d.working, sheet.Work("small end at z "+x.From.Decimal().String(), "D - 2*l*tan(a)", out.MM(), "mm",
		sheet.Let("D", large.MM()), sheet.Let("l", x.Length().MM()), sheet.Let("a", set.Deg())))
	d.predict(fmt.Sprintf("small end of the taper, %v", x.Span), small, out, why)
	if x.facet != nil {
		d.predictFlats(x, large, out, why)
	}
}

// offset returns the tailstock's offset for a taper, and whether it can be cut
// so: between centres, so both ends must take one, and the tailstock must move
// that far.
func (d *draft) offset(c chucking, x stretch, in tapers.Input) (tailstock.Result, bool) {
	if d.way.grip < 0 || d.stub || len(d.round.Bores) > 0 {
		return tailstock.Result{}, false
	}
	for _, e := range []part.End{part.Left, part.Right} {
		if d.shape.endDia(e).Less(d.usual.thinEnd) {
			return tailstock.Result{}, false
		}
	}
	t, err := tailstock.Set(tailstock.Input{Input: in, Between: d.round.Length(), SmallEnd: smallEnd(x, c.out), Tailstock: d.shop.Lathe.Tailstock})
	return t, err == nil && t.Possible != nil && *t.Possible
}

// byTailstock puts a taper that is cut between centres with the tailstock set
// over on its card.
func (d *draft) byTailstock(o *op.Op, c chucking, x stretch, t tailstock.Result, why string) {
	for _, k := range d.chuckings {
		d.centre(k)
	}
	set := t.Offset.RoundTo(d.usual.indicatorStep, units.Nearest)
	way := "toward you"
	if t.Direction == tailstock.AwayFromOperator {
		way = "away from you"
	}
	o.Setup = op.Setup{
		Machine: op.Lathe, Hold: op.Centres, On: "the centre holes", Out: c.out,
		State: fmt.Sprintf("tailstock set over %s %s", sheet.Inline(set, units.Nearest), way),
	}
	o.Held = op.Span{}
	d.add(o)
	o.Set("method", "tailstock set over, with a dog", why)
	o.Set("set over", sheet.Inline(set, units.Nearest)+" "+way, "by indicator on the barrel; exact "+sheet.Inline(t.Offset, units.Nearest))
	o.Warnings = append(o.Warnings, t.Warnings...)
	o.Cautions = append(o.Cautions, t.Cautions...)
	half := units.Radians(math.Asin(set.MM() / d.round.Length().MM()))
	d.cutTaper(o, x, ptr(x.Length()), half, "the tailstock set over by indicator to "+size(d.usual.indicatorStep))
}

// place says where a taper stands in a chucking, for what may foul.
func (d *draft) place(c chucking, x stretch) fouling.Place {
	head := x.From // the end of the taper at the headstock's side
	if c.out == part.Left {
		head = x.To
	}
	p := fouling.Place{FromJaws: ptr(c.reach(head)), Lathe: *d.shop.Lathe, Brief: true}
	if c.setup.Support != "" {
		p.CentreAt = ptr(c.from.Plus(c.standoff))
		if d.stub {
			p.CentreAt = ptr(p.CentreAt.Plus(d.usual.stubLength))
		}
	}
	return p
}

// clearing sets a taper on the compound, with the tool held so that nothing
// fouls: as it usually is if that clears, else the first way that does.
func (d *draft) clearing(in compound.Input) (compound.Result, error) {
	r, err := compound.Set(in)
	if err != nil || r.Finding == nil || len(r.Finding.Fouls) == 0 {
		return r, err
	}
	for _, a := range r.Finding.Alternatives {
		if a.Clearance == nil || a.Clearance.Sign() < 0 || a.ShortDeg != nil {
			continue
		}
		in.Arrangement = a.Arrangement
		if other, err := compound.Set(in); err == nil && len(other.Finding.Fouls) == 0 {
			return other, nil
		}
	}
	return r, nil
}

// foulingCheck puts on the card how the tool is held and what it clears by.
func (d *draft) foulingCheck(o *op.Op, r compound.Result) {
	f := r.Finding
	if f == nil || f.Clearance == nil {
		return
	}
	a := f.Arrangement
	o.Set("tool", fmt.Sprintf("%s-hand, on the post's %s side", a.ToolHand, a.PostSide), fmt.Sprintf("post %s, handle %s", strings.ReplaceAll(string(a.PostTurn), "-", " "), a.Handle))
	check := op.Check{Code: string(problem.Fouls), OK: len(f.Fouls) == 0, Value: sheet.Inline(*f.Clearance, units.Down) + " clear of chuck and tailstock", Limit: size(d.usual.easy) + " to be easy, 0 at the least"}
	if foul := firstFoul(f.Fouls); foul.Deg != nil {
		check.Value = fmt.Sprintf("the tool's trailing edge is %.1f deg short of clearing the cone", foul.Deg.Deg())
		check.Limit = "the half angle and 2 deg"
		check.Remedy = fmt.Sprintf("a %s-hand tool with a trailing angle above %.1f deg (lathe: tools)", a.ToolHand, r.HalfAngle.Deg()+2)
	} else if !check.OK {
		check.Remedy = "no way of holding the tool clears: cut it with a longer grip, or between centres"
		for _, alt := range f.Alternatives {
			if alt.MoreFromJaws != nil && alt.ShortDeg == nil {
				check.Remedy = fmt.Sprintf("stand the work %s further out of the jaws, with a %s-hand tool on the post's %s side", sheet.Inline(*alt.MoreFromJaws, units.Up), alt.ToolHand, alt.PostSide)
				break
			}
		}
	}
	o.Checks = append(o.Checks, check)
}

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

// compoundSettings puts the compound's setting on the card and returns the
// machine's special state.
func (d *draft) compoundSettings(o *op.Op, r compound.Result) string {
	state := fmt.Sprintf("compound at %.3f deg, %s", r.SetHalfAngle.Deg(), r.Swing)
	turn := ""
	if r.TurnDirection != nil {
		turn = fmt.Sprintf("%s from the %s zero, handle toward the %s", *r.TurnDirection, *r.ScaleZero, r.HandleToward)
	}
	if r.Mark != nil {
		o.Set("compound", fmt.Sprintf("%.2f deg on the scale", r.Mark.Deg()), turn+fmt.Sprintf("; exact %.3f deg", r.Reading.Deg()))
	} else {
		o.Set("compound", fmt.Sprintf("half angle %.3f deg by indicator", r.HalfAngle.Deg()), turn)
	}
	o.Set("indicator", sheet.Inline(r.IndicatorReading, units.Nearest), fmt.Sprintf("while the slide travels %s, for the exact angle", size(r.IndicatorTravel)))
	if r.Bites != nil && *r.Bites > 1 {
		o.Set("bites", fmt.Sprint(*r.Bites), fmt.Sprintf("between them carriage %s mm, cross slide %s mm",
			sheet.Inline(*r.CarriageMove, units.Nearest), sheet.Inline(*r.CrossSlideMove, units.Nearest)))
	}
	return state
}
