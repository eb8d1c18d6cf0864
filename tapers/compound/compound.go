// Package compound sets a taper on the lathe's compound slide.
//
// How its swivel is set to the half angle is worked out in the package swivel.
// Above 45 deg a shrinking taper is cut with the slide the other way round (handle
// toward the headstock side), or the handle would stand behind the work.
//
// A taper longer than the slide is cut in equal bites of b along the slope:
// the slide is wound back by b and the carriage and cross slide take the tool
// on by b·cos a and b·sin a, with a the angle that was set.
//
// What the post and the slide may run into stands in the package fouling; inside
// a bore the bar is looked at instead: it must pass the small end and reach the
// whole length.
//
// Source: plane trigonometry.
package compound

import (
	"setover/setup/base/check"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
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
	// Part says that it is a part of work whose room the lathe is asked for as a whole,
	// Flush that the work goes on beside its tailstock end, so that no tip runs in there.
	Part, Flush bool             `json:"-"`
	Bars        []shop.BoringBar `json:"-"`

	// Within is the most that the far end may be out on the diameter, nil what is
	// usual; Judged where whoever asks judges that; Tools what the swivel is set with.
	Within *units.Length `json:"within_mm,omitempty"`
	Judged bool          `json:"-"`
	Tools  swivel.Tools  `json:"-"`
}

// Result is how the compound is set and what comes out.
type Result struct {
	Inputs Input `json:"inputs"`
	swivel.Figures
	SlideTravel     *units.Length `json:"slide_travel_mm" show:"the slide travels"`
	TravelAvailable *units.Length `json:"slide_travel_available_mm" show:"the slide has" as:"down"`
	Bites           *int          `json:"bites" show:"bites"`
	CarriageMove    *units.Length `json:"carriage_move_mm" show:"between bites, carriage"`
	CrossSlideMove  *units.Length `json:"cross_slide_move_mm" show:"and cross slide"`

	Cutting

	// Finding is what fouls; nil where FromJaws was not given.
	*fouling.Finding
	// Bar is the stiffest boring bar that goes in, for a taper inside.
	Bar    *Bar          `json:"boring_bar"`
	BarDia *units.Length `json:"-" key:"boring_bar" show:"boring bar"`

	HeightSmallError  *units.Length `json:"height_small_end_error_mm" show:"tool off centre: small end" as:"fine"`
	HeightMiddleError *units.Length `json:"height_middle_error_mm" show:"and half way along" as:"fine"`
	tapers.Taper
	Steps  []say.Text `json:"steps"`
	Passes []Pass     `json:"passes"`
	// Left is what the last pass leaves at the end that was touched, set minus
	// exact, and LeftMove how far the carriage moves, locked compound and all, to
	// take it off; nil without a dial.
	Left     *units.Length `json:"left_mm" show:"the last pass leaves" as:"fine"`
	LeftMove *units.Length `json:"left_carriage_move_mm"`
	sheet.Remarks

	barHole units.Length // what the boring bar goes into
	on      *Standing    // the work that it is cut out of, where it is a part of more
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
	bad.Above0("within", in.Within)
	if err := bad.Err(); err != nil {
		return Result{}, err
	}
	in.Flush = in.Flush || in.goesOn(t.Length)
	r := Result{Inputs: in, Taper: t, SlideTravel: t.SlopeLength, Steps: []say.Text{}, Passes: []Pass{}}
	grows := r.grows()
	r.Figures = swivel.Set(swivel.Input{
		HalfAngle: t.HalfAngle, Grows: grows, Reversed: in.Reverses(t.HalfAngle, grows), Compound: in.Lathe.Compound,
		Tools: in.Tools,
	}, swivel.Asked{
		Within: in.Input.Within(in.Within, in.Tools.Unit), Given: in.Within != nil, Length: t.Length, Judged: in.Judged,
	})
	r.Figures.Tell(&r.Remarks)
	if in.Lathe.Compound != nil {
		r.TravelAvailable = in.Lathe.Compound.Travel
	}
	bad.Add(r.offCentre(in.ToolHeightError))
	bad.Add(r.setFouling())
	r.setCutting()
	if !in.Brief && !in.Part && !in.Internal {
		fouling.NotOnHand(&r.Remarks, in.Lathe.Tools, in.ToolHand)
	}
	bad.Add(r.setPasses())
	r.setBar()
	r.takes()
	if !in.Brief {
		r.Steps = r.steps()
	}
	if err := bad.Err(); err != nil {
		return Result{}, err
	}
	if in.Brief { // else it is a step
		r.Caution(cautions.LockCompound)
	}
	r.Caution(cautions.Isolate, cautions.EyeProtection, cautions.Manual)
	return r, nil
}

// goesOn reports whether the work goes on beyond the taper, to a centre that holds it.
func (in Input) goesOn(length *units.Length) bool {
	return in.CentreAt != nil && in.FromJaws != nil && length != nil && in.FromJaws.Plus(*length).Less(*in.CentreAt)
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
	if f.Raw == nil { // it is turned to that first
		f.Raw = in.Stock
		if f.Raw == nil {
			f.Raw = r.Large
		}
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
