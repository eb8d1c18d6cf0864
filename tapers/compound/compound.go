package compound

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
)

// Input is a taper to be set on a compound. The instruments are nil when the
// shop has none: the exact values stand and the result says what was not
// checked.
type Input struct {
	tapers.Input
	SmallEnd tapers.End     `json:"small_end"`
	Internal bool           `json:"internal"`
	Compound *shop.Compound `json:"-"`
	Cross    *shop.Dial     `json:"-"`

	// ToolHeightError is how far the tool stands above (or below) the axis.
	ToolHeightError units.Length `json:"tool_height_error_mm"`
	// Stock is the diameter before the first pass; Depth and Finish the most
	// a roughing pass takes a side, and what the last one takes. Nil: no
	// passes are listed, DefaultDepth, DefaultFinish.
	Stock  *units.Length `json:"stock_mm,omitempty"`
	Depth  *units.Length `json:"depth_mm,omitempty"`
	Finish *units.Length `json:"finish_mm,omitempty"`

	// Where the taper stands, for what may foul, and the machine around it.
	fouling.Place
	Chuck     *shop.Chuck      `json:"-"`
	Post      *shop.ToolPost   `json:"-"`
	Tools     []shop.Tool      `json:"-"`
	Tailstock *shop.Tailstock  `json:"-"`
	Bars      []shop.BoringBar `json:"-"`
}

// Result is how the compound is set and what comes out. Swing is the taper's;
// turn, reading and mark are what the hand does on this scale and are nil
// without a compound. The mark and its errors are nil too where no mark serves:
// off the scale, or where the nearest would cut a cylinder or a flat face.
// Errors are set minus exact.
type Result struct {
	Inputs Input `json:"inputs"`
	tapers.Taper
	Swing            shop.Direction  `json:"swing"`
	ScaleZero        *shop.Zero      `json:"scale_zero"`
	Turn             *units.Angle    `json:"turn_from_zero_deg"`
	TurnDirection    *shop.Direction `json:"turn_direction"`
	Reading          *units.Angle    `json:"reading_deg"`
	Mark             *units.Angle    `json:"mark_deg"`
	HandleToward     string          `json:"handle_toward"`
	SettingError     *units.Angle    `json:"setting_error_deg"`
	DiameterError    *units.Length   `json:"diameter_error_mm"`
	SetHalfAngle     units.Angle     `json:"half_angle_set_deg"`
	SlideTravel      *units.Length   `json:"slide_travel_mm"`
	TravelAvailable  *units.Length   `json:"slide_travel_available_mm"`
	Bites            *int            `json:"bites"`
	CarriageMove     *units.Length   `json:"carriage_move_mm"`
	CrossSlideMove   *units.Length   `json:"cross_slide_move_mm"`
	IndicatorTravel  units.Length    `json:"indicator_travel_mm"`
	IndicatorReading units.Length    `json:"indicator_reading_mm"`
	IndicatorPer     units.Length    `json:"indicator_per_001deg_mm"` // what 0.01 deg moves it
	Reversed         bool            `json:"handle_reversed"`

	HeightSmallError  *units.Length `json:"height_small_end_error_mm"`
	HeightMiddleError *units.Length `json:"height_middle_error_mm"`
	Passes            []Pass        `json:"passes"`

	// Bar is the stiffest boring bar that goes in, for a taper inside.
	Bar *Bar `json:"boring_bar"`
	// Finding is what fouls; nil where FromJaws was not given.
	*fouling.Finding
	sheet.Remarks

	exact, mark shop.Turned
	fails       problem.List
}

// indicatorTravel is how far the slide is wound under a dial indicator.
var indicatorTravel = units.Millimetres(20)

// Set returns how a taper is set on a compound. It fails where tapers.Solve
// does, and on an end that is neither tailstock nor headstock.
func Set(in Input) (Result, error) {
	t, err := tapers.Solve(in.Input)
	if err != nil {
		return Result{}, err
	}
	if err := in.SmallEnd.Check(); err != nil {
		return Result{}, err
	}
	if err := in.Place.Check(); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in, Taper: t, SlideTravel: t.SlopeLength, SetHalfAngle: t.HalfAngle, Passes: []Pass{}}
	a := t.HalfAngle.Deg()
	swing := a // clockwise
	r.Swing = shop.Clockwise
	if in.SmallEnd == tapers.AtTailstock {
		swing, r.Swing = -a, shop.CounterClockwise
	}
	r.Reversed = fouling.Reverses(t.HalfAngle, in.SmallEnd == tapers.AtHeadstock)
	if in.Handle != "" {
		r.Reversed = in.Handle == fouling.Reversed
	}
	handle := swing
	if r.Reversed {
		handle += 180
	}
	r.HandleToward = toward(handle)
	r.setScale(handle)
	r.setBites()
	var list problem.List
	list.Add(r.offCentre(in.ToolHeightError))
	list.Add(r.setPasses())
	list.Add(r.setFouling())
	if len(list) > 0 {
		return Result{}, list
	}
	r.IndicatorTravel = indicatorTravel
	if r.TravelAvailable != nil {
		r.IndicatorTravel = units.Min(indicatorTravel, *r.TravelAvailable)
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
	c := r.Inputs.Compound
	if c == nil {
		r.Warnings.Add("not-checked", "no compound in this shop: the angle is exact, no mark was looked for (lathe: compound)")
		return
	}
	exact, mark, setting := c.Set(units.Degrees(handle))
	r.exact, r.mark = exact, mark
	zero := c.Scale.Zero
	r.ScaleZero, r.Turn, r.TurnDirection, r.Reading = &zero, &exact.Turn, &exact.Direction, &exact.Reading
	r.TravelAvailable = c.Travel
	switch {
	case exact.OffScale:
		r.Warnings.Add("off-scale", fmt.Sprintf(
			"the scale ends at %v from zero and this needs %.3f deg: set the angle with the indicator method", c.Scale.Limit, exact.Turn.Deg()))
		return
	case mark.OffScale:
		r.Warnings.Add("off-scale", fmt.Sprintf("the nearest mark would stand past the end of the scale, %v: set the angle with the indicator method", c.Scale.Limit))
		return
	}
	lost := setting.Lost
	if r.Swing == shop.CounterClockwise {
		lost = lost.Times(-1)
	}
	switch set := r.HalfAngle.Plus(lost); {
	case set.Deg() < 1e-9:
		r.Warnings.Add("no-mark", "the nearest mark would cut a cylinder: set the angle with the indicator method")
		return
	case set.Deg() > 90-1e-9:
		r.Warnings.Add("no-mark", "the nearest mark would cut a flat face: set the angle with the indicator method")
		return
	default:
		r.Mark, r.SettingError, r.SetHalfAngle = &mark.Reading, &lost, set
	}
	if r.Length != nil {
		e := units.FromFloat(2 * r.Length.MM() * (r.SetHalfAngle.Tan() - r.HalfAngle.Tan()))
		r.DiameterError = &e
	}
}

// setBites parts a slope longer than the slide into equal bites.
func (r *Result) setBites() {
	if r.SlideTravel == nil {
		return
	}
	if r.TravelAvailable == nil {
		if r.Inputs.Compound != nil {
			r.Warnings.Add("not-checked", "whether the slide is long enough was not checked (lathe: compound: travel)")
		}
		return
	}
	n := int(r.SlideTravel.Steps(*r.TravelAvailable, units.Up))
	r.Bites = &n
	if n < 2 {
		return
	}
	b := r.SlideTravel.MM() / float64(n)
	along := units.FromFloat(b * r.SetHalfAngle.Cos())
	across := units.FromFloat(b * r.SetHalfAngle.Sin())
	r.CarriageMove, r.CrossSlideMove = &along, &across
	r.Warnings.Add("bites", fmt.Sprintf("the slope is longer than the slide: cut it in %d bites, from the tailstock end toward the headstock", n))
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: "Taper on the compound", Warnings: r.Warnings, Cautions: r.Cautions}
	a := r.HalfAngle.Deg()
	if r.Turn != nil {
		s.Facts = append(s.Facts, r.scaleFacts()...)
	}
	s.Facts = append(s.Facts,
		sheet.Fact{Key: "swing", Label: "swing", Value: sheet.Text(r.Swing), Remark: "seen from above, " + r.swingReason()},
		sheet.Fact{Key: "handle_toward", Label: "handle toward", Value: sheet.Text(r.HandleToward), Remark: r.handleRemark()},
		sheet.Fact{Key: "indicator_reading_mm", Label: "indicator shows", Value: sheet.Len(r.IndicatorReading), Remark: "square to the axis, while the slide travels " + sheet.Inline(r.IndicatorTravel, units.Nearest)},
		sheet.Fact{Key: "indicator_per_001deg_mm", Label: "and 0.01 deg more", Value: sheet.Fine(r.IndicatorPer), Remark: "on the indicator over that travel"},
	)
	s.Facts = append(s.Facts, r.biteFacts()...)
	s.Facts = append(s.Facts, r.foulingFacts()...)
	s.Facts = append(s.Facts, r.heightFacts()...)
	s.Facts = append(s.Facts, r.Taper.Facts()...)
	s.Tables = append(s.Tables, r.passTable()...)
	if r.Finding != nil {
		s.Tables = append(s.Tables, r.AlternativesTable())
		s.Drawings = append(s.Drawings, r.Finding.Drawing())
		s.Notes = append(s.Notes, fouling.Guide)
	}
	s.Working = append(r.Taper.Working(), sheet.Work("reading", "t*sin(a)", r.IndicatorReading.MM(), "mm",
		sheet.Let("t", r.IndicatorTravel.MM()), sheet.Let("a", a)))
	if r.DiameterError != nil {
		s.Working = append(s.Working, sheet.Work("diameter error", "2*l*(tan(b) - tan(a))", r.DiameterError.MM(), "mm",
			sheet.Let("l", r.Length.MM()), sheet.Let("b", r.SetHalfAngle.Deg()), sheet.Let("a", a)))
	}
	s.Notes = append(s.Notes, "Seen from above, operator at the bottom, headstock left, tailstock right, tool on the operator's side.",
		"The tool must stand at centre height: off it, the side comes out hollow and the angle wrong.")
	return s
}

func (r Result) swingReason() string {
	if r.Swing == shop.Clockwise {
		return "since the diameter grows toward the tailstock"
	}
	return "since the diameter shrinks toward the tailstock"
}

func (r Result) handleRemark() string {
	if r.Reversed && r.HalfAngle.Deg() > 45 && r.Swing == shop.CounterClockwise {
		return "slide the other way round: above 45 deg the handle would stand behind the work"
	}
	return ""
}

func (r Result) scaleFacts() []sheet.Fact {
	from := "with the slide along the axis, handle toward the tailstock"
	if *r.ScaleZero == shop.Across {
		from = "with the slide square to the axis, handle toward you"
	}
	past := ""
	if r.exact.Past90 {
		past = ", past 90"
	}
	facts := []sheet.Fact{}
	if r.Mark != nil {
		facts = append(facts, sheet.Fact{Key: "mark_deg", Label: "set the scale to", Value: sheet.Deg(*r.Mark), Remark: "the nearest mark" + past})
	}
	facts = append(facts,
		sheet.Fact{Key: "reading_deg", Label: "exact reading", Value: sheet.Ang(*r.Reading), Remark: "as this scale is numbered" + past},
		sheet.Fact{Key: "turn_from_zero_deg", Label: "turn from zero", Value: sheet.Ang(*r.Turn), Remark: string(*r.TurnDirection) + "; zero is " + from})
	if r.SettingError != nil {
		facts = append(facts, sheet.Fact{Key: "setting_error_deg", Label: "the mark is out by", Value: sheet.Number{V: r.SettingError.Deg(), Places: 4, Unit: "deg", Signed: true}, Remark: "in the half angle"})
	}
	if r.DiameterError != nil {
		facts = append(facts, sheet.Fact{Key: "diameter_error_mm", Label: "which costs", Value: sheet.Fine(*r.DiameterError), Remark: "on the diameter difference over the length"})
	}
	return facts
}

func (r Result) biteFacts() []sheet.Fact {
	if r.Bites == nil {
		return nil
	}
	facts := []sheet.Fact{
		{Key: "slide_travel_available_mm", Label: "slide travel", Value: sheet.Len(*r.TravelAvailable), Remark: "what this compound has; overruns come on top of the slope"},
		{Key: "bites", Label: "bites", Value: sheet.Count(*r.Bites)},
	}
	if r.CarriageMove == nil {
		return facts
	}
	out := "out, toward you"
	if r.Swing == shop.Clockwise {
		out = "in, away from you"
	}
	cross := out
	if c := r.Inputs.Cross; c != nil && c.OnDiameter {
		cross += "; " + sheet.Inline(r.CrossSlideMove.Times(2), units.Nearest) + " on a dial that reads the diameter"
	}
	return append(facts,
		sheet.Fact{Key: "carriage_move_mm", Label: "between bites, carriage", Value: sheet.Len(*r.CarriageMove), Remark: "toward the headstock, after winding the slide back by one bite"},
		sheet.Fact{Key: "cross_slide_move_mm", Label: "and cross slide", Value: sheet.Len(*r.CrossSlideMove), Remark: cross})
}
