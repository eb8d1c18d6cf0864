// Package compound sets a taper on the lathe's compound slide.
//
// Seen from above with the operator at the bottom, the headstock is left and
// the tailstock right. The compound's slide starts parallel to the spindle
// axis with its handle toward the tailstock; the swing is how far it is turned
// from there. The tool stands on the operator's side, so a diameter that grows
// toward the tailstock needs the handle end turned toward the operator:
// clockwise. One that shrinks needs counter-clockwise. Outsides and bores are
// alike, since in both the tool's path is the side of the cone nearest to the
// operator.
//
// The swing is the half angle. What the hand sets depends on where the scale's
// zero stands: from a zero along the axis the turn is the swing; from a zero
// across it, which stands 90 deg clockwise of the other, the turn is 90 deg
// less. A growing taper of half angle a is then 90-a counter-clockwise and a
// shrinking one 90+a. Above 45 deg a shrinking taper is cut with the slide the
// other way round (handle toward the headstock side), or the handle would
// stand behind the work.
//
// A taper longer than the slide is cut in equal bites of b along the slope:
// the slide is wound back by b and the carriage and cross slide take the tool
// on by b·cos a and b·sin a, with a the angle that was set.
//
// Where the scale does not go far enough, or its marks are too coarse, the angle
// is set with an indicator: its plunger square to the axis, it is pushed t·sin a
// while the slide travels t. An error of 0.01 deg shows as t·cos a·π/18000.
//
// What the post and the slide may run into stands in the package fouling; inside
// a bore the bar is looked at instead: it must pass the small end and reach the
// whole length.
//
// Source: US Army OD 1645 (1942) for the two ways to read a 60 deg centre;
// the rest is plane trigonometry.
package compound

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
)

// Input is a taper to be set on a compound. What the lathe does not have is nil:
// the exact values stand and the result says what was not checked.
type Input struct {
	tapers.Input
	SmallEnd tapers.End `json:"small_end"`
	Internal bool       `json:"internal"`

	// ToolHeightError is how far the tool stands above (or below) the axis.
	ToolHeightError units.Length `json:"tool_height_error_mm"`
	// Stock is the diameter before the first pass; Depth and Finish the most
	// a roughing pass takes a side, and what the last one takes. Nil: no
	// passes are listed, what is usual.
	Stock  *units.Length `json:"stock_mm,omitempty"`
	Depth  *units.Length `json:"depth_mm,omitempty"`
	Finish *units.Length `json:"finish_mm,omitempty"`

	// Where the taper stands, for what may foul, and the lathe.
	fouling.Place
	Bars []shop.BoringBar `json:"-"`
}

// Result is how the compound is set and what comes out. Swing is the taper's;
// turn, reading and mark are what the hand does on this scale and are nil
// without a compound. The mark and its errors are nil too where no mark serves:
// off the scale, or where the nearest would cut a cylinder or a flat face.
// Errors are set minus exact.
type Result struct {
	Inputs           Input           `json:"inputs"`
	Mark             *units.Angle    `json:"mark_deg" show:"set the scale to"`
	Reading          *units.Angle    `json:"reading_deg" show:"exact reading" as:"minutes"`
	Turn             *units.Angle    `json:"turn_from_zero_deg" show:"turn from zero" as:"minutes"`
	TurnDirection    *shop.Direction `json:"turn_direction"`
	ScaleZero        *shop.Zero      `json:"scale_zero"`
	SettingError     *units.Angle    `json:"setting_error_deg" show:"the mark is out by" as:"4 signed"`
	DiameterError    *units.Length   `json:"diameter_error_mm" show:"which costs" as:"fine"`
	SetHalfAngle     units.Angle     `json:"half_angle_set_deg"`
	Swing            shop.Direction  `json:"swing" show:"swing"`
	HandleToward     string          `json:"handle_toward" show:"handle toward"`
	Reversed         bool            `json:"handle_reversed"`
	IndicatorReading units.Length    `json:"indicator_reading_mm" show:"indicator shows"`
	IndicatorTravel  units.Length    `json:"indicator_travel_mm"`
	IndicatorPer     units.Length    `json:"indicator_per_001deg_mm" show:"and 0.01 deg more" as:"fine"`
	SlideTravel      *units.Length   `json:"slide_travel_mm"`
	TravelAvailable  *units.Length   `json:"slide_travel_available_mm" show:"slide travel" as:"down"`
	Bites            *int            `json:"bites" show:"bites"`
	CarriageMove     *units.Length   `json:"carriage_move_mm" show:"between bites, carriage"`
	CrossSlideMove   *units.Length   `json:"cross_slide_move_mm" show:"and cross slide"`

	Cutting

	// Finding is what fouls; nil where FromJaws was not given.
	*fouling.Finding
	// Bar is the stiffest boring bar that goes in, for a taper inside.
	Bar    *Bar          `json:"boring_bar"`
	BarDia *units.Length `json:"-" key:"boring_bar" show:"boring bar"`

	HeightSmallError  *units.Length `json:"height_small_end_error_mm" show:"tool off centre: small end" as:"fine"`
	HeightMiddleError *units.Length `json:"height_middle_error_mm" show:"and half way along" as:"fine"`
	tapers.Taper
	Passes []Pass `json:"passes"`
	// Left is what the last pass leaves at the end that was touched, set minus
	// exact, and LeftMove how far the carriage moves, locked compound and all, to
	// take it off; nil without a dial.
	Left     *units.Length `json:"left_mm" show:"the last pass leaves" as:"fine"`
	LeftMove *units.Length `json:"left_carriage_move_mm"`
	sheet.Remarks

	barHole units.Length // what the boring bar goes into
	past90  say.Text     // what to add to a number on the scale that counts back
}

// Bar is a boring bar with what it has to spare.
type Bar struct {
	Diameter units.Length `json:"diameter_mm"`
	Reach    units.Length `json:"reach_mm"`
}

// Set returns how a taper is set on a compound. It fails where tapers.Solve
// does, and on an end that is neither tailstock nor headstock.
func Set(in Input) (Result, error) {
	t, err := tapers.Solve(in.Input)
	var bad check.List
	bad.Add(err)
	check.OneOf(&bad, "small-end", in.SmallEnd, tapers.Ends)
	bad.Add(in.Place.Check())
	if err := bad.Err(); err != nil {
		return Result{}, err
	}
	r := Result{
		Inputs: in, Taper: t, SlideTravel: t.SlopeLength, SetHalfAngle: t.HalfAngle, Passes: []Pass{},
		Swing: shop.Clockwise, Reversed: in.Reverses(t.HalfAngle, in.SmallEnd == tapers.AtHeadstock),
	}
	handle := t.HalfAngle.Deg() // clockwise
	if in.SmallEnd == tapers.AtTailstock {
		handle, r.Swing = -handle, shop.CounterClockwise
	}
	if r.Reversed {
		handle += 180
	}
	r.HandleToward = toward(handle)
	r.setScale(handle)
	bad.Add(r.offCentre(in.ToolHeightError))
	bad.Add(r.setFouling())
	r.setCutting()
	bad.Add(r.setPasses())
	r.takes()
	if err := bad.Err(); err != nil {
		return Result{}, err
	}
	r.IndicatorTravel = practice.IndicatorTravel.Length()
	if r.TravelAvailable != nil {
		r.IndicatorTravel = units.Min(r.IndicatorTravel, *r.TravelAvailable)
	}
	r.IndicatorReading = units.FromFloat(r.IndicatorTravel.MM() * t.HalfAngle.Sin())
	r.IndicatorPer = units.FromFloat(r.IndicatorTravel.MM() * t.HalfAngle.Cos() * math.Pi / 18000)
	r.Caution(cautions.LockCompound, cautions.Isolate, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// toward names the quarter a handle points to at s degrees clockwise from
// toward the tailstock.
func toward(s float64) string {
	s -= 360 * math.Round(s/360)
	switch {
	case math.Abs(s) <= 45:
		return "tailstock"
	case math.Abs(s) >= 135:
		return "headstock"
	case s > 0:
		return "operator"
	}
	return "back"
}

// setScale turns the compound so that its handle points at handle degrees
// clockwise, and computes the half angle that the nearest mark gives.
func (r *Result) setScale(handle float64) {
	c := r.Inputs.Lathe.Compound
	if c == nil {
		r.NotChecked("lathe: compound", "no compound in this shop: the angle is exact, no mark was looked for")
		return
	}
	exact, mark, setting := c.Set(units.Degrees(handle))
	r.TravelAvailable = c.Travel
	if exact.Past90 {
		r.past90 = ", past 90"
	}
	r.ScaleZero, r.Turn, r.TurnDirection, r.Reading = &c.Scale.Zero, &exact.Turn, &exact.Direction, &exact.Reading
	lost := setting.Lost
	if r.Swing == shop.CounterClockwise {
		lost = lost.Times(-1)
	}
	const byIndicator = ": set the angle with the indicator method"
	set := r.HalfAngle.Plus(lost)
	switch {
	case exact.OffScale:
		r.Warn("off-scale", "the scale ends at ", c.Scale.Limit, " from zero and this needs ",
			say.Num(exact.Turn.Deg(), 3), " deg", byIndicator)
	case mark.OffScale:
		r.Warn("off-scale", "the nearest mark would stand past the end of the scale, ", c.Scale.Limit, byIndicator)
	case set.Deg() < 1e-9:
		r.Warn("no-mark", "the nearest mark would cut a cylinder", byIndicator)
	case set.Deg() > 90-1e-9:
		r.Warn("no-mark", "the nearest mark would cut a flat face", byIndicator)
	default:
		r.Mark, r.SettingError, r.SetHalfAngle = &mark.Reading, &lost, set
		if r.Length != nil {
			r.DiameterError = new(units.FromFloat(2 * r.Length.MM() * (set.Tan() - r.HalfAngle.Tan())))
		}
	}
}

// setFouling checks what may foul: for an outside the post and the slide, for
// a bore the bar.
func (r *Result) setFouling() error {
	in := r.Inputs
	switch {
	case in.Internal:
		if in.FromJaws != nil {
			r.Warn("bore", "for a bore the post and the slide are not looked at, but the boring bar")
		}
		r.setBar()
		return nil
	case in.FromJaws == nil:
		return nil
	case r.Length == nil:
		return tapers.NeedsSizes("from-jaws", "the clearance needs")
	}
	f := fouling.Input{
		Head: *r.Large, Tail: *r.Small, Length: *r.Length, HalfAngle: r.HalfAngle, Bar: in.Stock, Place: in.Place,
	}
	if in.SmallEnd == tapers.AtHeadstock {
		f.Head, f.Tail = f.Tail, f.Head
	}
	found, err := fouling.Check(f)
	if err != nil {
		return err
	}
	r.Finding = &found
	r.Warnings = append(r.Warnings, found.Warnings...)
	r.No(found.Fails().Err())
	return nil
}

// Zero says how the slide stands where the scale of a compound reads 0.
func Zero(c *shop.Compound) say.Text {
	if c.Scale.Zero == shop.Across {
		return "zero is with the slide square to the axis, handle toward you"
	}
	return "zero is with the slide along the axis, handle toward the tailstock"
}

// Setting says in one sentence how the compound is set. There must be one.
func (r Result) Setting() say.Text {
	turn := say.Of(say.Num(r.Turn.Deg(), 3), " deg ", *r.TurnDirection, " from zero")
	handle := say.Of(", handle toward the ", r.HandleToward)
	if r.Mark == nil {
		return say.Of("set ", turn, " with the indicator", handle)
	}
	return say.Of("set the scale to ", r.Mark, r.past90, ", the nearest mark to ", turn, handle)
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Taper on the compound")
	if r.Turn != nil {
		s.Remark(&r.Mark, "the nearest mark", r.past90)
		s.Remark(&r.Reading, "as this scale is numbered", r.past90)
		s.Remark(&r.Turn, *r.TurnDirection, "; ", Zero(r.Inputs.Lathe.Compound))
	}
	s.Remark(&r.SettingError, "in the half angle")
	s.Remark(&r.DiameterError, "on the diameter difference over the length")
	grows := "shrinks"
	if r.Swing == shop.Clockwise {
		grows = "grows"
	}
	s.Remark(&r.Swing, "seen from above, since the diameter ", grows, " toward the tailstock")
	if r.Reversed && r.HalfAngle.Deg() > 45 && r.Swing == shop.CounterClockwise {
		s.Remark(&r.HandleToward, "slide the other way round: above 45 deg the handle would stand behind the work")
	}
	s.Remark(&r.IndicatorReading, "square to the axis, while the slide travels ", r.IndicatorTravel)
	s.Remark(&r.IndicatorPer, "on the indicator over that travel")
	if r.Bites == nil {
		s.Skip(&r.TravelAvailable)
	}
	s.Remark(&r.TravelAvailable, "what this compound has; overruns come on top of the slope")
	r.remarkMoves(s)
	if r.Bar != nil {
		s.Remark(&r.BarDia, "the stiffest that goes into ", r.barHole, "; it reaches ", r.Bar.Reach.Down())
	}
	s.Remark(&r.HeightSmallError, "on the diameter, with the tool ", r.Inputs.ToolHeightError.Abs(),
		" off and the large end as drawn")
	s.Remark(&r.HeightMiddleError, "on the diameter; the side is hollow")
	if len(r.Passes) > 0 {
		end := "small end"
		if r.Inputs.Internal {
			end = "large end"
		}
		s.Table(r.Passes, "Passes, from where the tool touches the stock at the ", end).Head("dia_mm", "dia at ", end)
	}
	if r.Finding != nil {
		r.Finding.Explain(s)
	}
	r.Taper.Explain(s)
	s.Figures()
	s.Step("reading", "t*sin(a)", r.IndicatorReading, "t", r.IndicatorTravel, "a", r.HalfAngle)
	if r.DiameterError != nil {
		s.Step("diameter error", "2*l*(tan(b) - tan(a))", r.DiameterError,
			"l", r.Length, "b", r.SetHalfAngle, "a", r.HalfAngle)
	}
	s.Note("Seen from above, operator at the bottom, headstock left, tailstock right, tool on the operator's side.")
	s.Note("The tool must stand at centre height: off it, the side comes out hollow and the angle wrong.")
	return *s
}
