package cut

import (
	"math/big"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
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
	N         int           `json:"n" show:"pass"`
	Radial    units.Length  `json:"radial_mm" show:"depth"`
	Cut       units.Length  `json:"cut_mm" show:"this cut"`
	Slide     units.Length  `json:"slide_mm" show:"slide"`
	SlideSet  *units.Length `json:"slide_set_mm"`
	Turns     *int64        `json:"turns" show:"turns"`
	Divisions *int64        `json:"divisions" show:"div"`
	Reading   *units.Length `json:"reading_mm"`
	Reads     sheet.Value   `json:"-" key:"reading" show:"dial reads"` // as the dial is numbered
	Spring    bool          `json:"spring" show:"spring"`

	unit units.Unit // of the dial's numbers
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
	Depth    units.Length        `json:"depth_mm" show:"depth"`
	Infeed   units.Angle         `json:"infeed_deg" show:"infeed" as:"minutes"`
	Reading  *units.Angle        `json:"reading_deg" show:"set the scale to" as:"minutes"`
	Mark     *units.Angle        `json:"mark_deg" show:"nearest mark"`
	SetOvers []SetOver           `json:"set_over"`
	Advance  Way                 `json:"advance" show:"carriage cuts"`
	Winding  Winding             `json:"winding" show:"slide goes deeper"`
	Relief   units.Length        `json:"relief_mm" show:"relief" as:"down"`
	MaxRPM   *units.SpindleSpeed `json:"rpm_max" show:"at most" as:"0 down"`
	RPM      *units.SpindleSpeed `json:"rpm" show:"spindle" as:"0" note:"what the lathe has"`
	DepthSet *units.Length       `json:"depth_set_mm" show:"depth on the dial's lines" as:"down"`
	Nose     Nose                `json:"nose"`
	Passes   []Pass              `json:"passes"`
	sheet.Remarks

	groove Groove
	even   bool // cuts at the end were made even
}

// Way is which way the carriage goes as it cuts.
type Way string

// The ways.
const (
	TowardHeadstock Way = "toward-headstock"
	TowardTailstock Way = "toward-tailstock"
)

// Words implements sheet.Value.
func (w Way) Words() (mm, inch string) {
	if w == TowardTailstock {
		return "toward the tailstock", "toward the tailstock"
	}
	return "toward the headstock", "toward the headstock"
}

// Winding is how the slide goes deeper.
type Winding string

// The windings.
const (
	In  Winding = "in"
	Out Winding = "out"
)

// Words implements sheet.Value.
func (w Winding) Words() (mm, inch string) { return "wound " + string(w), "wound " + string(w) }

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
	half := in.Spec.Form.HalfAngle()
	r := PassesResult{
		Inputs: in, Nose: in.Nose, Infeed: half.Minus(practice.InfeedLess.Angle()), SetOvers: []SetOver{},
		Advance: TowardHeadstock, Winding: In,
	}
	if r.Nose == "" {
		r.Nose = usualNose(in.Spec.Form)
	}
	if in.Infeed != nil {
		r.Infeed = *in.Infeed
	}
	var list check.List
	var err error
	r.groove, err = GrooveOf(in.Spec, in.Inside, r.Nose)
	list.Add(err)
	r.Depth = units.FromFloat(r.groove.Depth)
	list.Between("infeed", r.Infeed, units.Degrees(0), half, "from square: up to the angle of this thread's flank")
	if in.First != nil && err == nil && (in.First.Sign() <= 0 || in.First.Cmp(r.Depth) >= 0) {
		list.Add(problem.New(problem.OutOfRange, "first", in.First, "must be above 0 and under the depth, ", r.Depth.Down()))
	}
	list.Between("passes", in.Passes, 1, 100, "passes")
	if in.Passes != nil && *in.Passes == 1 && in.First != nil {
		list.Add(problem.New(problem.Contradiction, "passes", *in.Passes, "one pass goes to the full depth: leave out ",
			say.Key("first")))
	}
	list.Between("spring", in.Spring, 0, 10, "spring passes")
	list.Above0("relief", in.Relief)
	list.Between("reaction", in.Reaction, 0.2, 10.0, "s for a hand")
	if err := list.Err(); err != nil {
		return PassesResult{}, err
	}
	if in.Spec.Left {
		r.Advance = TowardTailstock
	}
	if in.Inside {
		r.Winding = Out
	}
	r.setOver()
	r.cuts()
	r.speed()
	if in.Spec.Form.Tapered() {
		r.Warn("taper", "the thread stands on a taper of 1:16: these depths hold only with a taper attachment ",
			"or the tailstock set over, the tool square to the axis")
	}
	r.Caution(cautions.Isolate, cautions.EyeProtection, cautions.ScrewedChuck, cautions.Manual)
	return r, nil
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
		r.NotChecked("lathe: compound", "no compound in this shop: the turn is exact, no mark was looked for")
		return
	}
	exact, mark, _ := c.Set(s)
	r.Reading = &exact.Reading
	if exact.OffScale || mark.OffScale {
		r.Warn("off-scale", "the scale ends at ", c.Scale.Limit, " from zero and this needs ", sheet.Deg(exact.Turn),
			": set it by a protractor, or plunge with ", say.Key("infeed"), " 0")
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
	depths, even := r.groove.schedule(first, in.Passes)
	r.even = even
	for i := range len(depths) + in.Spring {
		p := Pass{N: i + 1, Radial: r.Depth, Spring: i >= len(depths)}
		if !p.Spring {
			p.Radial = units.FromFloat(depths[i])
		}
		p.Cut, p.Slide = p.Radial, units.FromFloat(p.Radial.MM()/r.Infeed.Cos())
		if i > 0 {
			p.Cut = p.Radial.Minus(r.Passes[i-1].Radial)
		}
		if dial != nil {
			r.setDial(&p, *dial)
		}
		r.Passes = append(r.Passes, p)
	}
	if last := r.Passes[len(depths)-1].Cut; last.MM() < practice.ThreadLeastCut.Length().MM()-1e-9 {
		r.Warn("thin", "the last cut, ", last.Down(), ", is so thin that the tool may rub: take fewer passes")
	}
	if dial != nil {
		set := units.FromFloat(r.last().SlideSet.MM() * r.Infeed.Cos())
		r.DepthSet = &set
	}
}

// last returns the last pass.
func (r *PassesResult) last() Pass { return r.Passes[len(r.Passes)-1] }

// dial returns the dial of the slide that goes in, or nil.
func (r *PassesResult) dial() *shop.Dial {
	if r.Infeed.Deg() == 0 {
		if r.Inputs.Cross == nil {
			r.NotChecked("lathe: cross_slide", "no dial was set")
		}
		return r.Inputs.Cross
	}
	if r.Inputs.Compound == nil {
		return nil
	}
	if r.Inputs.Compound.Screw == nil {
		r.NotChecked("lathe: compound: lead and divisions", "no dial was set")
	}
	return r.Inputs.Compound.Screw
}

// setDial sets the slide to the last line of its dial that is not deeper.
func (r *PassesResult) setDial(p *Pass, d shop.Dial) {
	setting, turns := d.Set(p.Slide.RoundTo(d.Division(), units.Down))
	n := turns.Turns*int64(d.Divisions) + turns.Divisions
	if r.Winding == Out {
		n = -n
	}
	reading := d.Reading(n)
	p.SlideSet, p.Turns, p.Divisions, p.Reading = &setting.Set, &turns.Turns, &turns.Divisions, &reading
	p.Reads, p.unit = reading.Always(d.Unit), d.Unit
	if len(r.Passes) > 0 && !p.Spring && !r.last().SlideSet.Less(setting.Set) {
		r.Warn("coarse-dial", "pass ", p.N, " comes on the same line as the one before: ",
			"the dial is too coarse for cuts so fine")
	}
}

// speed caps the spindle by what a hand can stop in the relief. A left-hand
// thread starts there and runs away from the shoulder.
func (r *PassesResult) speed() {
	in := r.Inputs
	p := in.Spec.Pitch
	pitches := practice.ReliefWidth.Number()
	relief := new(big.Rat).Mul(p.Rat(), new(big.Rat).SetFloat64(pitches))
	r.Relief = p.Length(pitches)
	if in.Relief != nil {
		r.Relief, relief = *in.Relief, in.Relief.Decimal().Rat()
	}
	room := relief.Sub(relief, p.Rat())
	no := func(why string) {
		r.No(problem.New(problem.TravelShort, "relief", r.Relief.Down(), "the tool is one pitch wide, ",
			p.Length(1).Up(), ", and ", why))
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
		r.NotChecked("lathe: spindle", "which speed the lathe has was not looked up")
		return
	}
	set := in.Spindle.Set(most)
	r.RPM = &set.Set
	if set.Lost.RPM() > 1e-9 {
		r.Warn("too-fast", "the slowest speed, ", set.Set, ", does not let a hand stop in time: ",
			"turn the spindle by hand for the last turns, or widen the relief")
	}
}

// Sheet implements sheet.Result.
func (r PassesResult) Sheet() sheet.Sheet {
	in := r.Inputs
	side := "outside"
	if in.Inside {
		side = "inside"
	}
	s := sheet.Of(&r, "Cutting ", in.Spec, " ", side)
	s.Remark(&r.Depth, "on the radius, with a ", r.Nose, " nose", unsaid(in.Nose == ""))
	s.Remark(&r.Infeed, r.infeedRemark())
	s.Remark(&r.Reading, "as this compound is numbered")
	s.Remark(&r.Mark, "between marks keep to the side that is less than the flank")
	s.Show(&r.Depth)
	s.Show(&r.Infeed)
	if r.Mark == nil {
		s.Skip(&r.Reading)
	} else {
		s.Show(&r.Reading)
		s.Show(&r.Mark)
	}
	for _, o := range r.SetOvers {
		from := sheet.Text("from along the axis")
		if o.Zero == shop.Across {
			from = "from square to the axis"
		}
		s.Fact(from, sheet.Ang(o.Turn), o.Direction, ", seen from above")
	}
	s.Remark(&r.Advance, hand(in.Spec.Left), ", spindle forward")
	s.Remark(&r.Relief, "wide, before the shoulder", unsaid(in.Relief == nil))
	s.Remark(&r.MaxRPM, "a hand that takes ", say.Num(float64(in.Reaction), 9), " s stops in the relief")
	if r.DepthSet != nil {
		s.Remark(&r.DepthSet, r.Depth.Minus(*r.DepthSet).Up(), " short of the depth")
	}
	s.Figures()
	s.Table(r.Passes, "Passes, from touching").Key("reading", "reading_"+r.Passes[0].unit.String())
	r.working(s)
	r.notes(s)
	return *s
}

func (r PassesResult) working(s *sheet.Sheet) {
	spec := r.Inputs.Spec
	if r.MaxRPM != nil {
		s.Work("rpm", "60*(w - P)/(Ph*t)", r.MaxRPM.RPM(), "rpm", sheet.Let("w", r.Relief.MM()),
			sheet.Let("P", spec.Pitch.MM()), sheet.Let("Ph", spec.Lead().MM()), sheet.Let("t", float64(r.Inputs.Reaction)))
	}
	s.Work("slide", "d/cos(A)", r.last().Slide.MM(), "mm", sheet.Let("d", r.Depth.MM()), sheet.Let("A", r.Infeed.Deg()))
}

func (r PassesResult) notes(s *sheet.Sheet) {
	spec := r.Inputs.Spec
	share := sheet.Text("Every pass takes off the same section.")
	if r.even {
		share = say.Of("Every pass takes off the same section, until a cut would come under ",
			practice.ThreadLeastCut.Length(), "; from there the cuts are even.")
	}
	s.Note("Seen from above, operator at the bottom, headstock left, tool on the operator's side, upper face up.")
	s.Note(share, " Zero the slide where the tool just touches; draw back with the cross slide, return it to its zero, ",
		"and go deeper with the slide named here, always winding the same way.")
	s.Note("The depth is the basic one: stop by the wires, a gauge or the mate, not by the dial alone.")
	if r.Inputs.Inside {
		s.Note("Inside, deeper is toward you, and the dial counts down from its zero.")
	}
	if spec.Left {
		s.Note("Left-hand: the tool starts in the relief at the shoulder and runs out toward the tailstock: ",
			"no shoulder bounds the speed, but keep the tailstock clear.")
	}
	if spec.Starts > 1 {
		s.Note(spec.Starts, " starts: cut each to depth, then index the work by 1/", spec.Starts,
			" turn, or move the tool along by one pitch.")
	}
}

func (r PassesResult) infeedRemark() sheet.Text {
	if r.Infeed.Deg() == 0 {
		return "straight in with the cross slide"
	}
	toward := "tailstock"
	if r.swing().Deg() > 90 {
		toward = "headstock"
	}
	return say.Of("from square to the axis, the compound's handle swung toward the ", toward,
		unsaid(r.Inputs.Infeed == nil))
}

// unsaid marks a figure that is the usual one because none was given.
func unsaid(usual bool) sheet.Text {
	if usual {
		return " (the usual one)"
	}
	return ""
}
