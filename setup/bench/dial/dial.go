// Package dial answers the question asked most at a machine: it measures this,
// it should measure that, the dial stands here: where is it wound to?
package dial

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// Slide is the slide whose handle is wound.
type Slide string

// The slides.
const (
	Cross    Slide = shop.CrossSlide    // the lathe's cross slide: sizes are diameters
	Compound Slide = shop.CompoundSlide // the top slide: lengths along the axis, or diameters at an angle
	Carriage Slide = shop.CarriageSlide // the lathe's carriage: lengths along the axis
	Table    Slide = shop.TableSlide    // the mill's table: sizes along its travel
)

// Slides lists them.
func Slides() []string {
	return []string{string(Cross), string(Compound), string(Carriage), string(Table)}
}

// Input is what the work measures, what it should measure, and what the dial
// shows. Reading is the number on the collar in the dial's own unit; nil when
// only the turns are wanted. Angle is the compound's from the spindle axis;
// nil when it stands along it. Falling says that the dial's numbers fall while
// the tool goes in. Dial is nil when the shop has none.
type Input struct {
	Measured *units.Length `json:"measured_mm"`
	Target   *units.Length `json:"target_mm"`
	Reading  *units.Number `json:"reading,omitempty"`
	Slide    Slide         `json:"slide"`
	Angle    *units.Angle  `json:"angle_deg,omitempty"`
	Falling  bool          `json:"falling"`
	Dial     *shop.Dial    `json:"-"`
	Readout  bool          `json:"-"`
}

// Result is where to wind to. Move is the slide's real travel, above 0 toward
// the work's axis (or on, along a slide); the numbers of the dial are in its
// own unit. Turns and divisions are whole and never wind past the size, since
// metal cannot be put back: Set figures are at that line, the others exact.
// Figures of the dial are nil without one.
type Result struct {
	Inputs         Input         `json:"inputs"`
	Turns          *int64        `json:"turns"`
	Divisions      *int64        `json:"divisions"`
	DivisionsExact *units.Number `json:"divisions_exact"`
	NextReading    *units.Number `json:"next_reading"`
	NextSet        *units.Number `json:"next_reading_set"`
	DialUnit       *string       `json:"dial_unit"`
	Wraps          *int64        `json:"wraps"`
	Direction      string        `json:"direction"`
	Move           units.Length  `json:"move_mm"`
	MoveSet        *units.Length `json:"move_set_mm"`
	ComesOut       *units.Length `json:"comes_out_mm"`
	Error          *units.Length `json:"error_mm" show:"left on" as:"fine"`
	DivisionIs     *units.Length `json:"division_removes_mm" show:"one division removes"`
	ReadoutChange  *units.Length `json:"readout_change_mm" show:"the readout changes by" as:"fine"`
	sheet.Remarks
}

// Travel returns how far a slide really moves to bring the work from the size
// m to the size t:
//
//	cross slide            s = (m - t)/2
//	compound at the angle a  s = (m - t)/(2·sin a)
//	compound along, carriage, table  s = m - t
//
// It is exact but for the angle, which is good to 1e-9 mm. The angle is above
// 0 and at most 90 deg and only the compound has one.
//
// Source: elementary; a cut of depth s takes 2·s off the diameter.
func Travel(slide Slide, measured, target units.Length, angle *units.Angle) units.Length {
	off := measured.Minus(target)
	switch {
	case slide == Cross:
		return off.Half()
	case slide == Compound && angle != nil:
		return units.FromFloat(off.MM() / (2 * angle.Sin()))
	}
	return off
}

// size returns what a real travel takes off the measured size: Travel turned
// round.
func (in Input) size(travel units.Length) units.Length {
	switch {
	case in.Slide == Cross:
		return travel.Times(2)
	case in.Slide == Compound && in.Angle != nil:
		return units.FromFloat(2 * travel.MM() * in.Angle.Sin())
	}
	return travel
}

// label returns what the collar calls a travel: twice as much where it counts
// on the diameter.
func label(d shop.Dial, travel units.Length) units.Length {
	if d.OnDiameter {
		return travel.Times(2)
	}
	return travel
}

// check returns every problem with the input.
func (in Input) check() error {
	var l check.List
	l.Refuse(in.Measured == nil, problem.Missing, "measured", nil, "is needed: what the work measures now")
	l.Refuse(in.Target == nil, problem.Missing, "target", nil, "is needed: what it should measure")
	if in.Slide == Cross {
		l.Above0("measured", in.Measured, "target", in.Target)
	} else {
		l.NotBelow0("measured", in.Measured, "target", in.Target)
	}
	check.OneOf(&l, "slide", string(in.Slide), Slides())
	l.Above0To("angle", in.Angle, units.Degrees(90))
	l.Refuse(in.Angle != nil && in.Slide != Compound, problem.Contradiction, "angle", in.Angle,
		"only the compound stands at an angle: add ", say.Key("slide"), " compound")
	if d := in.Dial; d != nil && in.Reading != nil {
		turn := label(*d, d.Lead)
		if r := onDial(*d, *in.Reading); r.Sign() < 0 || r.Cmp(turn) >= 0 {
			l.Add(problem.New(problem.OutOfRange, "reading", *in.Reading,
				"this dial is numbered from 0 to less than ", turn.Always(d.Unit)))
		}
	}
	return l.Err()
}

// onDial returns a number on the collar as a length.
func onDial(d shop.Dial, reading units.Number) units.Length {
	exact := decimal.NewFromFloat(float64(reading)) // the shortest that reads back: what was typed
	if d.Unit == units.Inch {
		exact = exact.Mul(decimal.New(254, -1))
	}
	return units.FromDecimal(exact)
}

// number returns a length as a number on the collar.
func number(d shop.Dial, l units.Length) units.Number {
	if d.Unit == units.Inch {
		return units.Number(l.Over(units.MustLength("1in")))
	}
	return units.Number(l.MM())
}

// Next returns where the dial is wound to. It fails when a size is missing, is
// negative, or 0 on the cross slide; on an unknown slide; on an angle for
// another slide than the compound, or one not above 0 and at most 90 deg; and
// on a reading the collar does not have.
func Next(in Input) (Result, error) {
	if err := in.check(); err != nil {
		return Result{}, err
	}
	r := Result{Inputs: in, Move: Travel(in.Slide, *in.Measured, *in.Target, in.Angle)}
	r.Direction = "in"
	if r.Move.Sign() == 0 {
		r.Direction = "none"
	} else if r.Move.Sign() < 0 {
		r.Direction = "out"
	}
	if in.Readout {
		r.ReadoutChange = new(in.Target.Minus(*in.Measured))
	}
	if in.Dial == nil {
		r.NotChecked(dialKeys[in.Slide], "no dial was read for this slide: ",
			"the travel is exact, turns and divisions are left out")
		return r, nil
	}
	r.wind(*in.Dial)
	return r, nil
}

// dialKeys are the shop's keys of the slides' dials.
var dialKeys = map[Slide]string{
	Cross: "lathe: cross_slide", Compound: "lathe: compound: lead, divisions", Carriage: "lathe: carriage",
	Table: "mill: table",
}

// wind fills in the figures of the dial.
func (r *Result) wind(d shop.Dial) {
	per := int64(d.Divisions)
	whole := r.Move.Abs().Times(per).Steps(d.Lead, units.Down)
	if r.Move.Sign() < 0 {
		whole = -whole
	}
	in := r.Inputs
	r.Turns, r.Divisions = new(whole/per), new(whole%per)
	r.DivisionsExact = new(units.Number(r.Move.Times(per).Over(d.Lead)))
	r.MoveSet = new(
		units.FromDecimal(d.Lead.Decimal().Mul(decimal.NewFromInt(whole)).DivRound(decimal.NewFromInt(per), 12)),
	)
	r.ComesOut = new(in.Measured.Minus(in.size(*r.MoveSet)))
	r.Error = new(r.ComesOut.Minus(*in.Target))
	r.DivisionIs, r.DialUnit = new(in.size(d.Division())), new(d.Unit.String())
	if in.Reading == nil {
		return
	}
	next, wraps := r.after(d, r.Move)
	line, _ := r.after(d, *r.MoveSet)
	r.NextReading, r.NextSet, r.Wraps = &next, &line, &wraps
}

// after returns the number on the collar after a travel from the present
// reading, and how often 0 has come past.
func (r Result) after(d shop.Dial, travel units.Length) (units.Number, int64) {
	if r.Inputs.Falling {
		travel = travel.Neg()
	}
	turn := label(d, d.Lead)
	at := onDial(d, *r.Inputs.Reading).Plus(label(d, travel))
	wraps := at.Steps(turn, units.Down)
	return number(d, at.Minus(turn.Times(wraps))), wraps
}

// Sheet implements sheet.Result.
func (r Result) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Where to wind the dial")
	on := "along the slide"
	if in.Slide == Cross || in.Angle != nil {
		on = "on the diameter"
	}
	s.Remark(&r.DivisionIs, on)
	s.Remark(&r.ReadoutChange, "where it counts ", on)
	real := say.Of("real travel of the slide")
	if in.Dial != nil {
		r.dialOn(s)
	} else {
		real += ", " + r.way()
	}
	s.Keyed("move_mm", "the slide moves", r.Move.Abs().Nearest(), real)
	s.Figures()
	formula, letters := "m - t", []any{"m", in.Measured, "t", in.Target}
	switch {
	case in.Slide == Cross:
		formula = "(m - t)/2"
	case in.Angle != nil:
		formula, letters = "(m - t)/(2*sin(a))", append(letters, "a", in.Angle)
	}
	s.Step("s", formula, r.Move, letters...)
	if d := in.Dial; d != nil {
		s.Step("divisions", "s*n/lead", *r.DivisionsExact, "s", r.Move, "n", d.Divisions, "lead", d.Lead)
	}
	if r.Move.Sign() == 0 {
		s.Note("It is on size: there is nothing to wind.")
	}
	if r.Move.Sign() < 0 && in.Slide == Cross {
		s.Note("The diameter grows, so this is a bore, cut on your side. An outside that is under size stays so.")
	}
	s.Note("Come up to the number the way the cut goes. ",
		"If you pass it, back off half a turn and come up again: the nut has slack.")
	if in.Dial != nil && in.Dial.OnDiameter && in.Slide == Cross {
		s.Note("This dial counts what comes off the diameter, twice what the slide moves.")
	}
	return *s
}

// dialOn adds the figures of the dial, the number to wind to first.
func (r *Result) dialOn(s *sheet.Sheet) {
	d := *r.Inputs.Dial
	places := int(units.Rounded{}.Places(d.Unit))
	if r.NextReading != nil {
		past := say.Of("on the dial")
		switch n := max(*r.Wraps, -*r.Wraps); {
		case n == 1:
			past += ", once past its 0"
		case n > 1:
			past += say.Of(", ", n, " times past its 0")
		}
		s.Keyed("next_reading", "wind to", sheet.Num(float64(*r.NextReading), places, d.Unit.String()), past)
	}
	turns := say.Of(shop.Turns{Turns: max(*r.Turns, -*r.Turns), Divisions: max(*r.Divisions, -*r.Divisions)})
	_, part := math.Modf(math.Abs(float64(*r.DivisionsExact)))
	if part >= 0.005 && r.Error.Sign() != 0 {
		turns += say.Of(" and ", say.Num(part, 2), " of one more")
	}
	s.Keyed("divisions_exact", "that is", turns, r.way())
	if r.Error.Sign() == 0 {
		s.Skip(&r.Error)
	} else {
		where := say.Of("stopping at whole divisions")
		if r.NextSet != nil {
			where += say.Of(", at ", strconv.FormatFloat(float64(*r.NextSet), 'f', places, 64), " ", d.Unit)
		}
		s.Show(&r.Error, where)
	}
	s.Show(&r.DivisionIs)
}

// ways are how a handle is wound, by the direction: the cross slide's and the
// others'.
var ways = map[string]struct{ cross, other say.Text }{
	"in":  {"in, away from you", "on, further into the work"},
	"out": {"out, toward you", "back"},
}

// way says which way the slide is wound.
func (r Result) way() say.Text {
	if r.Inputs.Slide == Cross {
		return ways[r.Direction].cross
	}
	return ways[r.Direction].other
}
