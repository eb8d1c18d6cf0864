package holes

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
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
	Angle            units.Angle   `json:"angle_deg"`
	ApexHeight       units.Length  `json:"apex_mm"`
	CentreHeight     units.Length  `json:"centre_height_mm"`
	TopHeight        units.Length  `json:"top_height_mm"`
	ContactHalfWidth units.Length  `json:"contact_half_width_mm"`
	Fits             *bool         `json:"fits"`
	OtherCentre      *units.Length `json:"other_centre_height_mm"`
	CentreChange     *units.Length `json:"centre_change_mm"`
	TopChange        *units.Length `json:"top_change_mm"`
	HalfAngle        *units.Angle  `json:"half_angle_deg"`
	Tilt             *units.Angle  `json:"tilt_deg"`
	Shim             *units.Length `json:"shim_mm"`
	Lean             *units.Length `json:"hole_lean_mm"`
	sheet.Remarks

	fails    problem.List
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
	var list problem.List
	list.Add(in.check())
	r := VResult{Inputs: in}
	list.Add(r.block())
	if len(list) > 0 {
		return VResult{}, list
	}
	above := CentreHeight(in.Dia, r.Angle)
	r.CentreHeight = r.ApexHeight.Plus(above)
	r.TopHeight = r.CentreHeight.Plus(in.Dia.Half())
	r.ContactHalfWidth = contact(in.Dia, r.Angle)
	r.seat(in.Dia, "dia")
	if in.Other != nil {
		r.seat(*in.Other, "other")
		centre := r.ApexHeight.Plus(CentreHeight(*in.Other, r.Angle))
		change := centre.Minus(r.CentreHeight)
		top := change.Plus(in.Other.Minus(in.Dia).Half())
		r.OtherCentre, r.CentreChange, r.TopChange = &centre, &change, &top
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
	var list problem.List
	list.Add(positive([]option{{"dia", &in.Dia}, {"test-dia", in.TestDia}, {"test-top", in.TestTop}, {"other", in.Other}, {"small", in.Small}, {"span", in.Span}}))
	if in.Apex != nil && in.Apex.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "apex", in.Apex, "the height of the apex above the base cannot be negative"))
	}
	if in.Angle != nil && (in.Angle.Deg() < 20 || in.Angle.Deg() > 160) {
		list.Add(problem.New(problem.OutOfRange, "angle", in.Angle, "the V's included angle must be from 20 to 160 deg"))
	}
	if (in.TestDia == nil) != (in.TestTop == nil) {
		list.Add(problem.New(problem.Missing, "test-top", nil, "a test bar needs both its diameter and the height over it"))
	}
	if in.TestDia != nil && in.Apex != nil {
		list.Add(problem.New(problem.Contradiction, "apex", in.Apex, "is what a test bar measures: give one or the other"))
	}
	list.Add(in.checkTaper())
	return list.Err()
}

func (in VInput) checkTaper() error {
	given := 0
	for _, g := range []bool{in.Small != nil, in.Span != nil, in.Support != ""} {
		if g {
			given++
		}
	}
	if given == 0 {
		return nil
	}
	var list problem.List
	if given < 3 {
		list.Add(problem.New(problem.Missing, "small", nil, "a tapered bar needs all of small, span and support"))
	}
	if in.Small != nil && in.Small.Sign() > 0 && in.Small.Cmp(in.Dia) >= 0 {
		list.Add(problem.New(problem.OutOfRange, "small", in.Small, fmt.Sprintf("must be below the diameter at the large end, %v", in.Dia)))
	}
	if in.Support != "" && in.Support != TwoEdges && in.Support != LongV {
		list.Add(problem.New(problem.Unknown, "support", string(in.Support), "not a support: write two-edges or long-v").Near(Supports()))
	}
	return list.Err()
}

// block finds the V's angle and its apex: as given, as measured, or the
// shop's. A block that differs from the shop's is another one.
func (r *VResult) block() error {
	in, own := r.Inputs, r.Inputs.Blocks
	switch {
	case in.Angle != nil:
		r.Angle = *in.Angle
	case own != nil:
		r.Angle = own.Angle
	default:
		return problem.New(problem.Missing, "angle", nil, "no V-blocks in this shop: give the V's included angle (v_blocks: angle)")
	}
	r.owned = own != nil && math.Abs(own.Angle.Deg()-r.Angle.Deg()) < 1e-9
	switch {
	case in.Apex != nil:
		r.ApexHeight = *in.Apex
		r.owned = r.owned && own.Apex != nil && own.Apex.Equal(*in.Apex)
	case in.TestDia != nil && in.TestTop != nil && in.TestDia.Sign() > 0 && in.TestTop.Sign() > 0:
		r.ApexHeight = in.TestTop.Minus(CentreHeight(*in.TestDia, r.Angle)).Minus(in.TestDia.Half())
		r.measured = true
		if r.ApexHeight.Sign() < 0 {
			least := in.TestTop.Minus(r.ApexHeight)
			return problem.New(problem.Impossible, "test-top", in.TestTop, fmt.Sprintf(
				"lower than the test bar stands above the apex, %s mm: the angle, the bar or the height is wrong", least.Fixed(units.MM, 3, units.Nearest)))
		}
	case r.owned && own.Apex != nil:
		r.ApexHeight = *own.Apex
	default:
		r.Warnings.Add("not-checked", "the apex of this V is not known: heights are above the apex, not the base (v_blocks: apex)")
	}
	return nil
}

// seat checks that a bar touches the faces inside the opening and above the
// relief slot.
func (r *VResult) seat(dia units.Length, key string) {
	own := r.Inputs.Blocks
	if !r.owned || own.Opening == nil || own.Relief == nil {
		if r.Fits == nil && key == "dia" {
			r.Warnings.Add("not-checked", "whether the bar seats between relief and opening was not checked (v_blocks: opening, relief)")
		}
		return
	}
	half := contact(dia, r.Angle)
	ok := half.Times(2).Cmp(*own.Relief) >= 0 && half.Times(2).Cmp(*own.Opening) <= 0
	if r.Fits != nil {
		ok = ok && *r.Fits
	}
	r.Fits = &ok
	limit := func(width units.Length) string {
		return units.FromFloat(width.MM()/r.Angle.Half().Cos()).Fixed(units.MM, 2, units.Nearest) + " mm"
	}
	switch {
	case half.Times(2).Less(*own.Relief):
		r.fails.Add(problem.New(problem.CannotBeHeld, key, dia, fmt.Sprintf(
			"drops into the relief slot, %v wide: the smallest bar this V holds is %s", own.Relief, limit(*own.Relief))))
	case own.Opening.Less(half.Times(2)):
		r.fails.Add(problem.New(problem.CannotBeHeld, key, dia, fmt.Sprintf(
			"rests on the edges of the opening, %v wide: the largest bar this V holds is %s", own.Opening, limit(*own.Opening))))
	}
}

// taper computes the tilt and the shim of a tapered bar.
func (r *VResult) taper() error {
	in := r.Inputs
	a := units.Radians(math.Atan2(in.Dia.Minus(*in.Small).Half().MM(), in.Span.MM()))
	if a.Deg() >= r.Angle.Half().Deg() {
		return problem.New(problem.Impossible, "small", in.Small, fmt.Sprintf("a cone of the half angle %.3f deg does not lie in a V of %v", a.Deg(), r.Angle))
	}
	tilt := VTilt(a, r.Angle)
	shim := CentreHeight(in.Dia.Minus(*in.Small), r.Angle)
	if in.Support == LongV {
		shim = units.FromFloat(in.Span.MM() * tilt.Sin())
	}
	lean := units.FromFloat(in.Dia.MM() * tilt.Tan())
	r.HalfAngle, r.Tilt, r.Shim, r.Lean = &a, &tilt, &shim, &lean
	if b := in.Blocks; in.Support == TwoEdges && r.owned && !b.Pair {
		r.fails.Add(problem.New(problem.NotReachable, "support", string(TwoEdges), "needs a pair of V-blocks and this shop has one (v_blocks: pair)"))
	}
	return nil
}

// Fails implements sheet.Result.
func (r VResult) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r VResult) Sheet() sheet.Sheet {
	in := r.Inputs
	from := "above the base"
	if r.ApexHeight.Sign() == 0 {
		from = "above the apex"
	}
	R, half, apex := in.Dia.Half().MM(), r.Angle.Half().Deg(), r.ApexHeight.MM()
	s := sheet.Sheet{
		Title: "Round bar in a V-block",
		Facts: []sheet.Fact{
			{Key: "centre_height_mm", Label: "centre of the bar", Value: sheet.Len(r.CentreHeight), Remark: from},
			{Key: "top_height_mm", Label: "top of the bar", Value: sheet.Len(r.TopHeight), Remark: from},
			{Key: "contact_half_width_mm", Label: "touches the faces at", Value: sheet.Len(r.ContactHalfWidth), Remark: "either side of the middle"},
			{Key: "angle_deg", Label: "V", Value: sheet.Deg(r.Angle), Remark: "included angle"},
			{Key: "apex_mm", Label: "apex", Value: sheet.Len(r.ApexHeight), Remark: r.apexRemark()},
		},
		Working: []sheet.Step{
			sheet.Work("centre", "H + R/sin(v)", r.CentreHeight.MM(), "mm", sheet.Let("H", apex), sheet.Let("R", R), sheet.Let("v", half)),
			sheet.Work("top", "centre + R", r.TopHeight.MM(), "mm", sheet.Let("centre", r.CentreHeight.MM()), sheet.Let("R", R)),
			sheet.Work("contact", "R*cos(v)", r.ContactHalfWidth.MM(), "mm", sheet.Let("R", R), sheet.Let("v", half)),
		},
		Notes: []string{fmt.Sprintf("A bar 0.01 mm larger lifts the centre by %s mm and the top by %s mm.",
			units.FromFloat(0.005/r.Angle.Half().Sin()).Fixed(units.MM, 4, units.Nearest),
			units.FromFloat(0.005/r.Angle.Half().Sin()+0.005).Fixed(units.MM, 4, units.Nearest))},
		Warnings: r.Warnings, Cautions: r.Cautions,
	}
	if r.Fits != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "fits", Label: "seats in the V", Value: sheet.YesNo(*r.Fits), Remark: "inside the opening and clear of the relief"})
	}
	if r.measured {
		s.Working = append([]sheet.Step{sheet.Work("H", "top - R/sin(v) - R", apex, "mm",
			sheet.Let("top", in.TestTop.MM()), sheet.Let("R", in.TestDia.Half().MM()), sheet.Let("v", half))}, s.Working...)
	}
	if r.OtherCentre != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "other_centre_height_mm", Label: "centre of the other bar", Value: sheet.Len(*r.OtherCentre), Remark: from},
			sheet.Fact{Key: "centre_change_mm", Label: "the centre moves", Value: sheet.Fine(*r.CentreChange), Remark: "up is +"},
			sheet.Fact{Key: "top_change_mm", Label: "the top moves", Value: sheet.Fine(*r.TopChange), Remark: "up is +"})
	}
	if r.Tilt != nil {
		r.taperOn(&s)
	}
	return s
}

func (r VResult) apexRemark() string {
	switch {
	case r.measured:
		return "of the sharp point of the V, above the base, from the test bar"
	case r.ApexHeight.Sign() == 0:
		return "heights count from here"
	}
	return "of the sharp point of the V, above the base"
}

// taperOn adds a tapered bar's figures to the sheet.
func (r VResult) taperOn(s *sheet.Sheet) {
	in := r.Inputs
	s.Title = "Tapered bar in V-blocks"
	under := "under the small end's block; span between the edges toward the large end"
	if in.Support == LongV {
		under = "under the V, the span away from its large-end edge"
	}
	s.Facts = append([]sheet.Fact{
		{Key: "shim_mm", Label: "shim", Value: sheet.Len(*r.Shim), Remark: under},
		{Key: "tilt_deg", Label: "tilt without the shim", Value: sheet.Ang(*r.Tilt), Remark: "of the axis, down toward the small end"},
		{Key: "hole_lean_mm", Label: "a hole drilled so leans", Value: sheet.Len(*r.Lean), Remark: "across the large diameter"},
		{Key: "half_angle_deg", Label: "half angle", Value: sheet.Ang(*r.HalfAngle), Remark: "of the bar's taper"},
	}, s.Facts...)
	let := []sheet.Var{
		sheet.Let("R1", in.Dia.Half().MM()), sheet.Let("R2", in.Small.Half().MM()), sheet.Let("L", in.Span.MM()),
		sheet.Let("a", r.HalfAngle.Deg()), sheet.Let("v", r.Angle.Half().Deg()), sheet.Let("t", r.Tilt.Deg()),
	}
	s.Working = append(s.Working,
		sheet.Work("a", "atan((R1 - R2)/L)", r.HalfAngle.Deg(), "deg", let...),
		sheet.Work("t", "asin(sin(a)/sin(v))", r.Tilt.Deg(), "deg", let...))
	if in.Support == LongV {
		s.Working = append(s.Working, sheet.Work("shim", "L*sin(t)", r.Shim.MM(), "mm", let...))
	} else {
		s.Working = append(s.Working, sheet.Work("shim", "(R1 - R2)/sin(v)", r.Shim.MM(), "mm", let...))
	}
	s.Notes = append(s.Notes,
		"Set an end stop against the large end: clamped in a V, a tapered bar creeps that way.",
		"Drilled before the taper, while the bar is parallel, the holes need no shim; drilled after it, they are square to the axis only on the shim.")
}
