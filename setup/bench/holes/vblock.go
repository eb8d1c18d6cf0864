package holes

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Support is how a tapered bar lies in V-blocks.
type Support string

// The two supports.
const (
	TwoEdges Support = "two-edges" // two blocks, each touching with its edge toward the large end
	LongV    Support = "long-v"    // one long V, or two in one line, touched all along
)

// Supports lists the supports by name.
func Supports() []string { return []string{string(TwoEdges), string(LongV)} }

// VInput is a round bar of the diameter Dia in a V-block. Angle is the V's
// included angle and Apex the height above the base of the sharp point its
// faces would meet in; left out, they are the block's of the shop. TestDia and
// TestTop, the height over a test bar as measured, calibrate the apex. Other is
// a second bar to change to. Small, Span and Support make the bar a tapered
// one: Dia at the large support, Small at the other, Span between them.
type VInput struct {
	Dia     units.Length  `json:"dia_mm"`
	Angle   *units.Angle  `json:"angle_deg,omitempty"`
	Apex    *units.Length `json:"apex_mm,omitempty"`
	TestDia *units.Length `json:"test_dia_mm,omitempty"`
	TestTop *units.Length `json:"test_top_mm,omitempty"`
	Other   *units.Length `json:"other_mm,omitempty"`
	Small   *units.Length `json:"small_mm,omitempty"`
	Span    *units.Length `json:"span_mm,omitempty"`
	Support Support       `json:"support,omitempty"`
	Blocks  *shop.VBlocks `json:"-"`
}

// VResult is how a bar lies in a V-block. Heights are above the base; where the
// apex is not known they are above the apex, and ApexHeight is 0. Fits is nil
// where the block's opening and relief are not known.
type VResult struct {
	Inputs           VInput        `json:"inputs"`
	Shim             *units.Length `json:"shim_mm" show:"shim"`
	Tilt             *units.Angle  `json:"tilt_deg" show:"tilt without the shim" as:"minutes"`
	Lean             *units.Length `json:"hole_lean_mm" show:"a hole drilled so leans" note:"across the large diameter"`
	HalfAngle        *units.Angle  `json:"half_angle_deg" show:"half angle" as:"minutes" note:"of the bar's taper"`
	CentreHeight     units.Length  `json:"centre_height_mm" show:"centre of the bar"`
	TopHeight        units.Length  `json:"top_height_mm" show:"top of the bar"`
	ContactHalfWidth units.Length  `json:"contact_half_width_mm" show:"touches the faces at"`
	Angle            units.Angle   `json:"angle_deg" show:"V" note:"included angle"`
	ApexHeight       units.Length  `json:"apex_mm" show:"apex"`
	Fits             *bool         `json:"fits" show:"seats in the V" note:"inside the opening and clear of the relief"`
	OtherCentre      *units.Length `json:"other_centre_height_mm" show:"centre of the other bar"`
	CentreChange     *units.Length `json:"centre_change_mm" show:"the centre moves" as:"fine" note:"up is +"`
	TopChange        *units.Length `json:"top_change_mm" show:"the top moves" as:"fine" note:"up is +"`
	sheet.Remarks

	owned    bool // the block is the shop's, so that its opening and relief hold
	measured bool
}

// CentreHeight returns the height of a bar's centre above the apex of a V:
//
//	R/sin(A/2)
//
// D = 2·R is the bar's diameter, above 0, and A the V's included angle, above
// 0 and below 180 deg. Good to 1e-9 mm.
//
// Source: plane geometry; at 73.7398 deg the bar's diameter is three times the
// gap between the apex and the bar.
func CentreHeight(dia units.Length, angle units.Angle) units.Length {
	return units.FromFloat(dia.MM() / 2 / angle.Half().Sin())
}

// VTilt returns how far the axis of a cone of the half angle a is out of
// parallel with the V of the included angle A that it lies in:
//
//	sin t = sin a/sin(A/2)
//
// a is from 0 to below A/2: a steeper cone does not lie in the V. Good to
// 1e-12 deg.
//
// Source: plane geometry: each face touches the cone along a line, and makes
// the angle a with its axis.
func VTilt(half, angle units.Angle) units.Angle {
	return units.Radians(math.Asin(half.Sin() / angle.Half().Sin()))
}

// InV returns how a bar lies in a V-block. It fails on diameters and heights
// that are not above 0, an angle that is not from 20 to 160 deg, a test bar
// without its height or the other way round, a taper without one of Small,
// Span and Support, a Small that is not below Dia, and a cone too steep for
// the V. A bar that does not seat is an answer of no.
func InV(in VInput) (VResult, error) {
	r := VResult{Inputs: in}
	err := in.check()
	if err == nil {
		err = r.block()
	}
	if err != nil {
		return VResult{}, err
	}
	r.CentreHeight = r.ApexHeight.Plus(CentreHeight(in.Dia, r.Angle))
	r.TopHeight = r.CentreHeight.Plus(in.Dia.Half())
	r.ContactHalfWidth = contact(in.Dia, r.Angle)
	r.seat(in.Dia, "dia")
	if in.Other != nil {
		r.seat(*in.Other, "other")
		r.OtherCentre = new(r.ApexHeight.Plus(CentreHeight(*in.Other, r.Angle)))
		r.CentreChange = new(r.OtherCentre.Minus(r.CentreHeight))
		r.TopChange = new(r.CentreChange.Plus(in.Other.Minus(in.Dia).Half()))
	}
	if in.Small != nil {
		r.seat(*in.Small, "small")
		if err := r.taper(); err != nil {
			return VResult{}, err
		}
	}
	r.Caution(cautions.VBlocks, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// contact returns how far from the middle of the V the bar touches its faces:
// R·cos(A/2).
func contact(dia units.Length, angle units.Angle) units.Length {
	return units.FromFloat(dia.MM() / 2 * angle.Half().Cos())
}

func (in VInput) check() error {
	var l check.List
	l.Above0("dia", in.Dia, "test-dia", in.TestDia, "test-top", in.TestTop,
		"other", in.Other, "small", in.Small, "span", in.Span)
	l.NotBelow0("apex", in.Apex)
	l.Between("angle", in.Angle, units.Degrees(20), units.Degrees(160), "between the faces of the V")
	l.Refuse(in.Angle == nil && in.Blocks == nil, problem.Missing, "angle", nil,
		"no V-blocks in this shop: give the V's included angle (v_blocks: angle)")
	l.Together(check.If("test-dia", in.TestDia), check.If("test-top", in.TestTop))
	l.AtMostOne(check.If("apex", in.Apex), check.If("test-dia", in.TestDia))
	l.Together(check.If("small", in.Small), check.If("span", in.Span),
		check.Option{Key: "support", Given: in.Support != ""})
	l.Refuse(in.Small != nil && in.Small.Cmp(in.Dia) >= 0, problem.OutOfRange, "small", in.Small,
		"must be below the diameter at the large end, ", in.Dia)
	if in.Support != "" {
		check.OneOf(&l, "support", string(in.Support), Supports())
	}
	return l.Err()
}

// block finds the V's angle and its apex: as given, as measured, or the
// shop's. A block that differs from the shop's is another one.
func (r *VResult) block() error {
	in, own := r.Inputs, r.Inputs.Blocks
	if in.Angle != nil {
		r.Angle = *in.Angle
	} else {
		r.Angle = own.Angle
	}
	r.owned = own != nil && math.Abs(own.Angle.Deg()-r.Angle.Deg()) < 1e-9
	switch {
	case in.Apex != nil:
		r.ApexHeight = *in.Apex
		r.owned = r.owned && own.Apex != nil && own.Apex.Equal(*in.Apex)
	case in.TestDia != nil:
		r.measured = true
		r.ApexHeight = in.TestTop.Minus(CentreHeight(*in.TestDia, r.Angle)).Minus(in.TestDia.Half())
		if r.ApexHeight.Sign() < 0 {
			return problem.New(problem.Impossible, "test-top", in.TestTop, "lower than the test bar stands above the apex, ",
				in.TestTop.Minus(r.ApexHeight), ": the angle, the bar or the height is wrong")
		}
	case r.owned && own.Apex != nil:
		r.ApexHeight = *own.Apex
	default:
		r.NotChecked("v_blocks: apex", "the apex of this V is not known: heights are above the apex, not the base")
	}
	return nil
}

// seat checks that a bar touches the faces inside the opening and above the
// relief slot.
func (r *VResult) seat(dia units.Length, key string) {
	own := r.Inputs.Blocks
	if !r.owned || own.Opening == nil || own.Relief == nil {
		if key == "dia" {
			r.NotChecked("v_blocks: opening, relief", "whether the bar seats between relief and opening was not checked")
		}
		return
	}
	across := contact(dia, r.Angle).Times(2)
	fits := r.Fits == nil || *r.Fits
	holds := func(width units.Length) units.Length { return units.FromFloat(width.MM() / r.Angle.Half().Cos()) }
	switch {
	case across.Less(*own.Relief):
		fits = false
		r.No(problem.New(problem.CannotBeHeld, key, dia, "drops into the relief slot, ", own.Relief,
			" wide: the smallest bar this V holds is ", holds(*own.Relief).Up()))
	case own.Opening.Less(across):
		fits = false
		r.No(problem.New(problem.CannotBeHeld, key, dia, "rests on the edges of the opening, ", own.Opening,
			" wide: the largest bar this V holds is ", holds(*own.Opening).Down()))
	}
	r.Fits = &fits
}

// taper computes the tilt and the shim of a tapered bar.
func (r *VResult) taper() error {
	in := r.Inputs
	a := units.Radians(math.Atan2(in.Dia.Minus(*in.Small).Half().MM(), in.Span.MM()))
	if a.Deg() >= r.Angle.Half().Deg() {
		return problem.New(problem.Impossible, "small", in.Small,
			"a cone of the half angle ", say.Num(a.Deg(), 3), " deg does not lie in a V of ", r.Angle)
	}
	r.HalfAngle, r.Tilt = &a, new(VTilt(a, r.Angle))
	r.Lean = new(units.FromFloat(in.Dia.MM() * r.Tilt.Tan()))
	r.Shim = new(CentreHeight(in.Dia.Minus(*in.Small), r.Angle))
	if in.Support == LongV {
		r.Shim = new(units.FromFloat(in.Span.MM() * r.Tilt.Sin()))
	}
	if in.Support == TwoEdges && r.owned && !in.Blocks.Pair {
		r.No(problem.New(problem.NotReachable, "support", string(TwoEdges),
			"needs a pair of V-blocks and this shop has one (v_blocks: pair)"))
	}
	return nil
}

// Sheet implements sheet.Result.
func (r VResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Round bar in a V-block")
	from, apex := "above the base", "of the sharp point of the V, above the base"
	switch {
	case r.ApexHeight.Sign() == 0 && !r.measured:
		from, apex = "above the apex", "heights count from here"
	case r.measured:
		apex += ", from the test bar"
	}
	s.Remark(&r.CentreHeight, from)
	s.Remark(&r.TopHeight, from)
	s.Remark(&r.OtherCentre, from)
	s.Remark(&r.ApexHeight, apex)
	s.Remark(&r.ContactHalfWidth, "either side of the middle")
	R, v := r.Inputs.Dia.Half(), r.Angle.Half()
	if r.measured {
		s.Step("H", "top - R/sin(v) - R", r.ApexHeight, "top", r.Inputs.TestTop, "R", r.Inputs.TestDia.Half(), "v", v)
	}
	s.Step("centre", "H + R/sin(v)", r.CentreHeight, "H", r.ApexHeight, "R", R, "v", v)
	s.Step("top", "centre + R", r.TopHeight, "centre", r.CentreHeight, "R", R)
	s.Step("contact", "R*cos(v)", r.ContactHalfWidth, "R", R, "v", v)
	lift := 0.5 / r.Angle.Half().Sin()
	s.Note("A larger bar lifts the centre by ", say.Num(lift, 4), " times what it is larger, and the top by ",
		say.Num(lift+0.5, 4), " times.")
	if r.Tilt != nil {
		r.tapered(s)
	}
	s.Figures()
	return *s
}

// tapered adds what there is to say of a tapered bar.
func (r *VResult) tapered(s *sheet.Sheet) {
	in := r.Inputs
	s.Title = "Tapered bar in V-blocks"
	let := []any{
		"R1", in.Dia.Half(), "R2", in.Small.Half(), "L", in.Span,
		"a", r.HalfAngle, "v", r.Angle.Half(), "t", r.Tilt,
	}
	under, shim := "under the small end's block; span between the edges toward the large end", "(R1 - R2)/sin(v)"
	if in.Support == LongV {
		under, shim = "under the V, the span away from its large-end edge", "L*sin(t)"
	}
	s.Remark(&r.Shim, under)
	s.Remark(&r.Tilt, "of the axis, down toward the small end")
	s.Step("a", "atan((R1 - R2)/L)", r.HalfAngle, let...)
	s.Step("t", "asin(sin(a)/sin(v))", r.Tilt, let...)
	s.Step("shim", shim, r.Shim, let...)
	s.Note("Set an end stop against the large end: clamped in a V, a tapered bar creeps that way.")
	s.Note("Drilled before the taper, while the bar is parallel, the holes need no shim; ",
		"drilled after it, they are square to the axis only on the shim.")
}

// ClockInput is a pin in a hole of the first row: how much higher it stands at
// one place than at another, Span further along it. Aim is the roll the pin
// should have from level.
type ClockInput struct {
	Rise units.Length       `json:"rise_mm"`
	Span units.Length       `json:"span_mm"`
	Aim  *units.Angle       `json:"aim_deg,omitempty"`
	Head *shop.DividingHead `json:"-"`
}

// ClockResult is how far the bar is rolled from level. Turn is what is left to
// the aim, HeadTurns the same in turns of the dividing head's crank.
type ClockResult struct {
	Inputs    ClockInput    `json:"inputs"`
	Roll      units.Angle   `json:"roll_deg" show:"rolled from level" as:"minutes"`
	PerRise   units.Angle   `json:"per_0_01_mm_deg" show:"0.01 mm of rise is" as:"4" note:"a longer pin reads finer"`
	Turn      *units.Angle  `json:"turn_deg" show:"roll the bar on by" as:"minutes" note:"to the aim; - is back"`
	AimRise   *units.Length `json:"aim_rise_mm" show:"until the pin rises" note:"over the same span"`
	HeadTurns *units.Number `json:"head_turns" show:"in a dividing head" as:"4 turns"`
	sheet.Remarks
}

// PinRoll returns how far a bar is rolled when a pin square to its axis rises
// H over the span L, measured along the pin:
//
//	asin(H/L)
//
// L is above 0 and H from -L to L. Good to 1e-12 deg away from ±90 deg.
//
// Source: plane geometry, the same as a sine bar's.
func PinRoll(rise, span units.Length) units.Angle { return units.Radians(math.Asin(rise.Over(span))) }

// Clock returns the roll of a bar from a pin in one of its holes. It fails
// when Span is not above 0, when the rise is more than the span, or when Aim
// is not from -90 to 90 deg.
func Clock(in ClockInput) (ClockResult, error) {
	var l check.List
	l.Above0("span", in.Span)
	l.Refuse(in.Span.Sign() > 0 && in.Span.Less(in.Rise.Abs()), problem.Impossible, "rise", in.Rise,
		"more than the span, ", in.Span, ": measure the span along the pin")
	l.Between("aim", in.Aim, units.Degrees(-90), units.Degrees(90), "from level")
	if err := l.Err(); err != nil {
		return ClockResult{}, err
	}
	r := ClockResult{Inputs: in, Roll: PinRoll(in.Rise, in.Span)}
	// The rise that is 0.01 mm less in size: there is always room for that one.
	near := in.Rise.Abs().Minus(units.MustLength("0.01mm"))
	r.PerRise = units.Degrees(math.Abs(r.Roll.Deg())).Minus(PinRoll(units.Max(near, in.Span.Neg()), in.Span))
	if in.Aim != nil {
		r.AimRise, r.Turn = new(units.FromFloat(in.Span.MM()*in.Aim.Sin())), new(in.Aim.Minus(r.Roll))
		if in.Head != nil {
			r.HeadTurns = new(units.Number(r.Turn.Deg() * float64(in.Head.Ratio) / 360))
		}
	}
	r.Caution(cautions.VBlocks, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// Sheet implements sheet.Result.
func (r ClockResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Bar clocked by a pin")
	s.Remark(&r.Roll, "up toward the place that reads higher")
	if in.Head != nil {
		s.Remark(&r.HeadTurns, "of a ", in.Head.Ratio, ":1 crank; the plate for it: setover divide, by this angle")
	}
	s.Figures()
	s.Step("roll", "asin(H/L)", r.Roll, "H", in.Rise, "L", in.Span)
	if in.Aim != nil {
		s.Step("aim rise", "L*sin(w)", r.AimRise, "L", in.Span, "w", in.Aim)
	}
	s.Note("The span is measured along the pin, between the two places the indicator touches it.")
	return *s
}
