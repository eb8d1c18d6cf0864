package cut

import (
	"fmt"
	"math"
	"strings"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/threads"
)

// PassesInput is a thread to be cut with a single-point tool. Nil and empty
// are the usual: the nose flat (full for trapezoidal and ACME), the infeed half
// a degree under the flank, as many passes as keep the first cut within bounds,
// a relief three pitches wide. Reaction is the seconds a hand takes to stop
// the carriage. The instruments are nil when the shop has none.
type PassesInput struct {
	Spec     threads.Designation `json:"thread"`
	Inside   bool                `json:"inside"`
	Nose     Nose                `json:"nose,omitempty"`
	Infeed   *units.Angle        `json:"infeed_deg,omitempty"`
	First    *units.Length       `json:"first_mm,omitempty"`
	Passes   *int                `json:"passes,omitempty"`
	Spring   int                 `json:"spring"`
	Relief   *units.Length       `json:"relief_mm,omitempty"`
	Reaction units.Number        `json:"reaction_s"`
	Compound *shop.Compound      `json:"-"`
	Cross    *shop.Dial          `json:"-"`
	Spindle  *shop.Spindle       `json:"-"`
}

// Pass is one pass: how deep it goes from the crest, on the radius, and where
// the slide then stands from touching, with its dial. Turns, Divisions,
// SlideSet and Reading are nil without a dial.
type Pass struct {
	N         int           `json:"n"`
	Radial    units.Length  `json:"radial_mm"`
	Cut       units.Length  `json:"cut_mm"`
	Slide     units.Length  `json:"slide_mm"`
	SlideSet  *units.Length `json:"slide_set_mm"`
	Turns     *int64        `json:"turns"`
	Divisions *int64        `json:"divisions"`
	Reading   *units.Length `json:"reading_mm"`
	Spring    bool          `json:"spring"`

	unit units.Unit // of the dial's numbers
}

// reads returns the dial's reading as the dial is numbered.
func (p Pass) reads() sheet.Value {
	if p.Reading == nil {
		return nil
	}
	return sheet.LenIn(*p.Reading, p.unit)
}

// SetOver is a turn of the compound from one zero.
type SetOver struct {
	Zero      shop.Zero      `json:"scale_zero"`
	Turn      units.Angle    `json:"turn_from_zero_deg"`
	Direction shop.Direction `json:"turn_direction"`
}

// PassesResult is the set-over, the passes and the speed. SetOvers has both
// zeros and is empty for a plunge with the cross slide. Reading and Mark are
// on this shop's scale.
type PassesResult struct {
	Inputs   PassesInput         `json:"inputs"`
	Depth    units.Length        `json:"depth_mm"`
	DepthSet *units.Length       `json:"depth_set_mm"`
	Nose     Nose                `json:"nose"`
	Infeed   units.Angle         `json:"infeed_deg"`
	SetOvers []SetOver           `json:"set_over"`
	Reading  *units.Angle        `json:"reading_deg"`
	Mark     *units.Angle        `json:"mark_deg"`
	Advance  string              `json:"advance"` // toward-headstock or toward-tailstock
	Winding  string              `json:"winding"` // in or out: how the slide goes deeper
	Passes   []Pass              `json:"passes"`
	Relief   units.Length        `json:"relief_mm"`
	MaxRPM   *units.SpindleSpeed `json:"rpm_max"`
	RPM      *units.SpindleSpeed `json:"rpm"`
	sheet.Remarks

	groove Groove
	even   bool // cuts at the end were made even
	fails  problem.List
}

// The ways the carriage goes.
const (
	TowardHeadstock = "toward-headstock"
	TowardTailstock = "toward-tailstock"
)

// Passes returns how a thread is cut with a single-point tool: the compound's
// set-over, where its slide stands for each pass, and how fast a hand can stop
// in time.
//
// A right-hand thread is cut toward the headstock, a left-hand one toward the
// tailstock, outside and inside alike. The slide goes in along the leading
// flank, half a degree off it, so that the chip comes from that side: its
// handle swings toward the tailstock from square for a right-hand outside
// thread or a left-hand inside one, and toward the headstock for the others.
// Inside, the slide is wound out to go deeper. An infeed of 0 is a plunge with
// the cross slide.
//
//	slide = radial/cos A
//
// A dial is set to the last line that is not deeper. The spindle may turn as
// fast as lets the tool, one pitch wide, stop inside the relief w before the
// shoulder:
//
//	rpm = 60·(w - P)/(Ph·t)
//
// A left-hand thread starts in the relief, which must hold the tool, and runs
// away from the shoulder: nothing caps its speed.
//
// It fails on an infeed that is not 0 to the flank's half angle, a first cut
// that is not above 0 and under the depth, passes that are not 1 to 100 (or 1
// with a first cut), spring passes that are not 0 to 10, a relief that is not
// above 0, a reaction time that is not 0.2 to 10 s, and where GrooveOf does.
// The answer is no when the relief leaves no room to stop in, or to start in.
func Passes(in PassesInput) (PassesResult, error) {
	r := PassesResult{Inputs: in, Nose: in.Nose, Infeed: in.Spec.Form.HalfAngle().Minus(units.Degrees(0.5)), SetOvers: []SetOver{}}
	if r.Nose == "" {
		r.Nose = Flat
		if in.Spec.Form == threads.Trapezoidal || in.Spec.Form == threads.Acme {
			r.Nose = Full
		}
	}
	if in.Infeed != nil {
		r.Infeed = *in.Infeed
	}
	var list problem.List
	var err error
	r.groove, err = GrooveOf(in.Spec, in.Inside, r.Nose)
	list.Add(err)
	r.Depth = units.FromFloat(r.groove.Depth)
	list.Add(in.check(r.Depth, err == nil, r.Infeed))
	if len(list) > 0 {
		return PassesResult{}, list
	}
	r.Advance, r.Winding = TowardHeadstock, "in"
	if in.Spec.Left {
		r.Advance = TowardTailstock
	}
	if in.Inside {
		r.Winding = "out"
	}
	r.setOver()
	r.cuts()
	r.speed()
	if in.Spec.Form.Tapered() {
		r.Warnings.Add("taper", "the thread stands on a taper of 1:16: these depths hold only with a taper attachment or the tailstock set over, the tool square to the axis")
	}
	r.Caution(cautions.Isolate, cautions.EyeProtection, cautions.ScrewedChuck, cautions.Manual)
	return r, nil
}

func (in PassesInput) check(depth units.Length, known bool, infeed units.Angle) error {
	var list problem.List
	half := in.Spec.Form.HalfAngle()
	if infeed.Deg() < 0 || infeed.Deg() > half.Deg() {
		list.Add(problem.New(problem.OutOfRange, "infeed", infeed, fmt.Sprintf("the infeed of this thread is 0 to %v, the angle of its flank", half)))
	}
	if in.First != nil && known && (in.First.Sign() <= 0 || in.First.Cmp(depth) >= 0) {
		list.Add(problem.New(problem.OutOfRange, "first", in.First, fmt.Sprintf("the first cut is above 0 and under the depth, %s mm", depth.Fixed(units.MM, 3, units.Down))))
	}
	switch {
	case in.Passes == nil:
	case *in.Passes < 1 || *in.Passes > 100:
		list.Add(problem.New(problem.OutOfRange, "passes", *in.Passes, "1 to 100 passes"))
	case *in.Passes == 1 && in.First != nil:
		list.Add(problem.New(problem.Contradiction, "passes", *in.Passes, "one pass goes to the full depth: leave out --first"))
	}
	if in.Spring < 0 || in.Spring > 10 {
		list.Add(problem.New(problem.OutOfRange, "spring", in.Spring, "0 to 10 spring passes"))
	}
	if in.Relief != nil && in.Relief.Sign() <= 0 {
		list.Add(problem.New(problem.OutOfRange, "relief", in.Relief, "the relief must be above 0"))
	}
	if in.Reaction < 0.2 || in.Reaction > 10 {
		list.Add(problem.New(problem.OutOfRange, "reaction", fmt.Sprintf("%g s", float64(in.Reaction)), "a hand takes 0.2 to 10 s"))
	}
	return list.Err()
}

// swing returns where the compound's handle points, degrees clockwise from
// along the axis toward the tailstock.
func (r PassesResult) swing() units.Angle {
	square := units.Degrees(90)
	if r.Inputs.Spec.Left != r.Inputs.Inside {
		return square.Plus(r.Infeed)
	}
	return square.Minus(r.Infeed)
}

// setOver turns the compound for the infeed, from both zeros and on this
// shop's scale.
func (r *PassesResult) setOver() {
	if r.Infeed.Deg() == 0 {
		return
	}
	s := r.swing()
	for _, zero := range []shop.Zero{shop.Along, shop.Across} {
		t, _, _ := shop.Compound{Scale: shop.Scale{Zero: zero, Step: units.Degrees(1)}}.Set(s)
		r.SetOvers = append(r.SetOvers, SetOver{zero, t.Turn, t.Direction})
	}
	c := r.Inputs.Compound
	if c == nil {
		r.Warnings.Add("not-checked", "no compound in this shop: the turn is exact, no mark was looked for (lathe: compound)")
		return
	}
	exact, mark, _ := c.Set(s)
	r.Reading = &exact.Reading
	if exact.OffScale || mark.OffScale {
		r.Warnings.Add("off-scale", fmt.Sprintf("the scale ends at %v from zero and this needs %.3f deg: set it by a protractor, or plunge with --infeed 0", c.Scale.Limit, exact.Turn.Deg()))
		return
	}
	r.Mark = &mark.Reading
}

// cuts works out the passes and the slide's dial for each.
func (r *PassesResult) cuts() {
	in := r.Inputs
	var first *float64
	if in.First != nil {
		f := in.First.MM()
		first = &f
	}
	dial := r.dial()
	before := units.Length{}
	add := func(radial units.Length, spring bool) {
		p := Pass{
			N: len(r.Passes) + 1, Radial: radial, Cut: radial.Minus(before), Spring: spring,
			Slide: units.FromFloat(radial.MM() / r.Infeed.Cos()),
		}
		if dial != nil {
			r.setDial(&p, *dial)
		}
		before = radial
		r.Passes = append(r.Passes, p)
	}
	depths, even := r.groove.schedule(first, in.Passes)
	r.even = even
	for _, x := range depths {
		add(units.FromFloat(x), false)
	}
	if last := r.Passes[len(r.Passes)-1]; last.Cut.MM() < leastCut-1e-9 {
		r.Warnings.Add("thin", fmt.Sprintf("the last cut, %s, is so thin that the tool may rub: take fewer passes", sheet.Inline(last.Cut, units.Down)))
	}
	for range in.Spring {
		add(r.Depth, true)
	}
	if dial != nil {
		set := units.FromFloat(r.Passes[len(r.Passes)-1].SlideSet.MM() * r.Infeed.Cos())
		r.DepthSet = &set
	}
}

// dial returns the dial of the slide that goes in, or nil.
func (r *PassesResult) dial() *shop.Dial {
	if r.Infeed.Deg() == 0 {
		if r.Inputs.Cross == nil {
			r.Warnings.Add("not-checked", "no dial was set (lathe: cross_slide)")
		}
		return r.Inputs.Cross
	}
	if r.Inputs.Compound == nil {
		return nil
	}
	if r.Inputs.Compound.Screw == nil {
		r.Warnings.Add("not-checked", "no dial was set (lathe: compound: lead and divisions)")
	}
	return r.Inputs.Compound.Screw
}

// setDial sets the slide to the last line of its dial that is not deeper.
func (r *PassesResult) setDial(p *Pass, d shop.Dial) {
	setting, turns := d.Set(p.Slide.RoundTo(d.Division(), units.Down))
	n := turns.Turns*int64(d.Divisions) + turns.Divisions
	if r.Winding == "out" {
		n = -n
	}
	reading := d.Reading(n)
	p.SlideSet, p.Turns, p.Divisions, p.Reading = &setting.Set, &turns.Turns, &turns.Divisions, &reading
	p.unit = d.Unit
	if len(r.Passes) == 0 || p.Spring {
		return
	}
	if last := r.Passes[len(r.Passes)-1].SlideSet; last != nil && !last.Less(setting.Set) {
		r.Warnings.Add("coarse-dial", fmt.Sprintf("pass %d comes on the same line as the one before: the dial is too coarse for cuts so fine", p.N))
	}
}

// speed caps the spindle by what a hand can stop in the relief. A left-hand
// thread starts there and runs away from the shoulder.
func (r *PassesResult) speed() {
	in := r.Inputs
	p := in.Spec.Pitch
	relief := p.Times(3).Rat()
	r.Relief = p.Length(3)
	if in.Relief != nil {
		r.Relief = *in.Relief
		relief = in.Relief.Decimal().Rat()
	}
	room := relief.Sub(relief, p.Rat())
	no := func(why string) {
		r.fails.Add(problem.New(problem.TravelShort, "relief", sheet.Inline(r.Relief, units.Down), fmt.Sprintf(
			"the tool is one pitch wide, %s, and %s", sheet.Inline(p.Length(1), units.Up), why)))
	}
	switch {
	case in.Spec.Left && room.Sign() < 0:
		no("has no room to start in: cut a relief of three pitches")
		return
	case in.Spec.Left:
		return
	case room.Sign() <= 0:
		no("has nowhere to stop: cut a relief of three pitches, or thread away from the shoulder")
		return
	}
	perSecond, _ := room.Quo(room, in.Spec.Lead().Rat()).Float64()
	most := units.RPM(60 * perSecond / float64(in.Reaction))
	r.MaxRPM = &most
	if in.Spindle == nil {
		r.Warnings.Add("not-checked", "which speed the lathe has was not looked up (lathe: spindle)")
		return
	}
	set := in.Spindle.Set(most)
	r.RPM = &set.Set
	if set.Lost.RPM() > 1e-9 {
		r.Warnings.Add("too-fast", fmt.Sprintf("the slowest speed, %v, does not let a hand stop in time: turn the spindle by hand for the last turns, or widen the relief", set.Set))
	}
}

// Fails implements sheet.Result.
func (r PassesResult) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r PassesResult) Sheet() sheet.Sheet {
	in := r.Inputs
	side := "outside"
	if in.Inside {
		side = "inside"
	}
	s := sheet.Sheet{Title: fmt.Sprintf("Cutting %v %s", in.Spec, side), Warnings: r.Warnings, Cautions: r.Cautions}
	s.Facts = []sheet.Fact{
		{Key: "depth_mm", Label: "depth", Value: sheet.Len(r.Depth), Remark: fmt.Sprintf("on the radius, with a %s nose%s", r.Nose, unsaid(in.Nose == ""))},
		{Key: "infeed_deg", Label: "infeed", Value: sheet.Ang(r.Infeed), Remark: r.infeedRemark()},
	}
	if r.Mark != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "reading_deg", Label: "set the scale to", Value: sheet.Ang(*r.Reading), Remark: "as this compound is numbered"},
			sheet.Fact{Key: "mark_deg", Label: "nearest mark", Value: sheet.Deg(*r.Mark), Remark: "between marks keep to the side that is less than the flank"})
	}
	for _, o := range r.SetOvers {
		from := "from along the axis"
		if o.Zero == shop.Across {
			from = "from square to the axis"
		}
		s.Facts = append(s.Facts, sheet.Fact{Key: "turn_from_zero_deg", Label: from, Value: sheet.Ang(o.Turn), Remark: string(o.Direction) + ", seen from above"})
	}
	s.Facts = append(s.Facts,
		sheet.Fact{Key: "advance", Label: "carriage cuts", Value: sheet.Text(strings.Replace(r.Advance, "-", " the ", 1)), Remark: hand(in.Spec.Left) + ", spindle forward"},
		sheet.Fact{Key: "winding", Label: "slide goes deeper", Value: sheet.Text("wound " + r.Winding)},
		sheet.Fact{Key: "relief_mm", Label: "relief", Value: sheet.Down(r.Relief), Remark: "wide, before the shoulder" + unsaid(in.Relief == nil)})
	if r.MaxRPM != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "rpm_max", Label: "at most", Value: sheet.Num(math.Floor(r.MaxRPM.RPM()+1e-9), 0, "rpm"), Remark: fmt.Sprintf("a hand that takes %g s stops in the relief", float64(in.Reaction))})
		s.Working = append(s.Working, sheet.Work("rpm", "60*(w - P)/(Ph*t)", r.MaxRPM.RPM(), "rpm", sheet.Let("w", r.Relief.MM()),
			sheet.Let("P", in.Spec.Pitch.MM()), sheet.Let("Ph", in.Spec.Lead().MM()), sheet.Let("t", float64(in.Reaction))))
	}
	if r.RPM != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "rpm", Label: "spindle", Value: sheet.Num(r.RPM.RPM(), 0, "rpm"), Remark: "what the lathe has"})
	}
	if r.DepthSet != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "depth_set_mm", Label: "depth on the dial's lines", Value: sheet.Down(*r.DepthSet), Remark: sheet.Inline(r.Depth.Minus(*r.DepthSet), units.Up) + " short of the depth"})
	}
	s.Tables = []sheet.Table{r.table()}
	s.Working = append(s.Working, sheet.Work("slide", "d/cos(A)", r.Passes[len(r.Passes)-1].Slide.MM(), "mm", sheet.Let("d", r.Depth.MM()), sheet.Let("A", r.Infeed.Deg())))
	s.Notes = []string{
		"Seen from above, operator at the bottom, headstock left, tool on the operator's side, upper face up.",
		r.share() + " Zero the slide where the tool just touches; draw back with the cross slide, return it to its zero, and go deeper with the slide named here, always winding the same way.",
		"The depth is the basic one: stop by the wires, a gauge or the mate, not by the dial alone.",
	}
	if in.Inside {
		s.Notes = append(s.Notes, "Inside, deeper is toward you, and the dial counts down from its zero.")
	}
	if in.Spec.Left {
		s.Notes = append(s.Notes, "Left-hand: the tool starts in the relief at the shoulder and runs out toward the tailstock: no shoulder bounds the speed, but keep the tailstock clear.")
	}
	if in.Spec.Starts > 1 {
		s.Notes = append(s.Notes, fmt.Sprintf("%d starts: cut each to depth, then index the work by 1/%d turn, or move the tool along by one pitch.", in.Spec.Starts, in.Spec.Starts))
	}
	return s
}

// share says how the passes share the groove.
func (r PassesResult) share() string {
	if r.even {
		return "Every pass takes off the same section, until a cut would come under 0.03 mm; from there the cuts are even."
	}
	return "Every pass takes off the same section."
}

func (r PassesResult) infeedRemark() string {
	if r.Infeed.Deg() == 0 {
		return "straight in with the cross slide"
	}
	toward := "tailstock"
	if r.swing().Deg() > 90 {
		toward = "headstock"
	}
	return "from square to the axis, the compound's handle swung toward the " + toward + unsaid(r.Inputs.Infeed == nil)
}

// unsaid marks a figure that is the usual one because none was given.
func unsaid(usual bool) string {
	if usual {
		return " (the usual one)"
	}
	return ""
}

// table lists the passes.
func (r PassesResult) table() sheet.Table {
	t := sheet.Table{Title: "Passes, from touching", Cols: []sheet.Column{
		{Key: "n", Head: "pass"},
		{Key: "radial_mm", Head: "depth"},
		{Key: "cut_mm", Head: "this cut"},
		{Key: "slide_mm", Head: "slide"},
		{Key: "turns", Head: "turns"},
		{Key: "divisions", Head: "div"},
		{Key: "reading_" + r.Passes[0].unit.String(), Head: "dial reads"},
		{Key: "spring", Head: "spring"},
	}}
	count := func(n *int64) sheet.Value {
		if n == nil {
			return nil
		}
		return sheet.Count(int(*n))
	}
	for _, p := range r.Passes {
		t.Add(sheet.Count(p.N), sheet.Len(p.Radial), sheet.Len(p.Cut), sheet.Len(p.Slide), count(p.Turns), count(p.Divisions), p.reads(), sheet.YesNo(p.Spring))
	}
	return t
}
