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

// Placement is where the work really lies: the drawing turned about its datum,
// counter-clockwise, and then shifted.
type Placement struct {
	ShiftX units.Length `json:"shift_x_mm"`
	ShiftY units.Length `json:"shift_y_mm"`
	Rotate units.Angle  `json:"rotate_deg"`
	Table  *shop.Dial   `json:"-"`
}

// Spot is one hole of a pattern: where the table goes, where it is on the
// drawing, and the dials. Turns are nil without a dial.
type Spot struct {
	N          int           `json:"n"`
	X          units.Length  `json:"x_mm"`
	Y          units.Length  `json:"y_mm"`
	DrawnX     units.Length  `json:"drawn_x_mm"`
	DrawnY     units.Length  `json:"drawn_y_mm"`
	XTurns     *int64        `json:"x_turns"`
	XDivisions *int64        `json:"x_divisions"`
	XError     *units.Length `json:"x_dial_error_mm"`
	YTurns     *int64        `json:"y_turns"`
	YDivisions *int64        `json:"y_divisions"`
	YError     *units.Length `json:"y_dial_error_mm"`
}

// place returns the spots of a pattern: the drawn places turned and shifted,
//
//	x = X·cos r - Y·sin r + shift x
//	y = X·sin r + Y·cos r + shift y
//
// and set on the dials from the datum. Good to 1e-9 mm; exact without a turn.
func (p Placement) place(drawn [][2]units.Length) []Spot {
	list := make([]Spot, len(drawn))
	for i, d := range drawn {
		s := Spot{N: i + 1, X: d[0], Y: d[1], DrawnX: d[0], DrawnY: d[1]}
		if p.Rotate.Deg() != 0 {
			x, y, sin, cos := d[0].MM(), d[1].MM(), p.Rotate.Sin(), p.Rotate.Cos()
			s.X, s.Y = units.FromFloat(x*cos-y*sin), units.FromFloat(x*sin+y*cos)
		}
		s.X, s.Y = s.X.Plus(p.ShiftX), s.Y.Plus(p.ShiftY)
		x, y := setOn(p.Table, s.X), setOn(p.Table, s.Y)
		s.XTurns, s.XDivisions, s.XError = x.Turns, x.Divisions, x.Error
		s.YTurns, s.YDivisions, s.YError = y.Turns, y.Divisions, y.Error
		list[i] = s
	}
	return list
}

// moved reports whether the drawing does not lie on the table as drawn.
func (p Placement) moved() bool {
	return p.ShiftX.Sign() != 0 || p.ShiftY.Sign() != 0 || p.Rotate.Deg() != 0
}

// remarks returns what every pattern's result has to say.
func (p Placement) remarks() sheet.Remarks {
	var r sheet.Remarks
	if p.Table == nil {
		r.Warnings.Add("not-checked", "no mill table in this shop: positions are exact, no dial was set (mill: table)")
	}
	r.Caution(cautions.ClampDrill, cautions.EyeProtection, cautions.Manual)
	return r
}

// page returns a pattern's sheet with its table of spots.
func (p Placement) page(title string, spots []Spot, r sheet.Remarks) sheet.Sheet {
	t := sheet.Table{Title: "From the datum", Cols: []sheet.Column{{Key: "n", Head: "hole"}, {Key: "x_mm", Head: "x"}, {Key: "y_mm", Head: "y"}}}
	if p.moved() {
		t.Cols = append(t.Cols, sheet.Column{Key: "drawn_x_mm", Head: "drawn x"}, sheet.Column{Key: "drawn_y_mm", Head: "drawn y"})
	}
	if p.Table != nil {
		t.Cols = append(t.Cols,
			sheet.Column{Key: "x_turns", Head: "x turns"}, sheet.Column{Key: "x_divisions", Head: "x div"}, sheet.Column{Key: "x_dial_error_mm", Head: "x is off"},
			sheet.Column{Key: "y_turns", Head: "y turns"}, sheet.Column{Key: "y_divisions", Head: "y div"}, sheet.Column{Key: "y_dial_error_mm", Head: "y is off"})
	}
	for _, s := range spots {
		row := []sheet.Value{sheet.Count(s.N), sheet.Len(s.X), sheet.Len(s.Y)}
		if p.moved() {
			row = append(row, sheet.Len(s.DrawnX), sheet.Len(s.DrawnY))
		}
		if p.Table != nil {
			row = append(row, whole(s.XTurns), whole(s.XDivisions), sheet.Fine(*s.XError), whole(s.YTurns), whole(s.YDivisions), sheet.Fine(*s.YError))
		}
		t.Add(row...)
	}
	s := sheet.Sheet{Title: title, Tables: []sheet.Table{t}, Warnings: r.Warnings, Cautions: r.Cautions}
	s.Notes = []string{"Wind up to every position from the same side, so that the screws' play stays taken up."}
	if p.moved() {
		s.Notes = append(s.Notes, "The drawing is turned about its datum, counter-clockwise, and then shifted: x and y are where the table goes.")
	}
	return s
}

// CircleInput is a circle of Count holes on the diameter Circle about a centre.
// With Arc the holes run from Start over that angle, the last one at its end;
// else they go all the way round. Angles run counter-clockwise from the x
// direction. Dia is the holes' diameter, for the wall between them.
type CircleInput struct {
	Count   int           `json:"count"`
	Circle  units.Length  `json:"circle_mm"`
	Start   units.Angle   `json:"start_angle_deg"`
	Arc     *units.Angle  `json:"arc_deg,omitempty"`
	CentreX units.Length  `json:"centre_x_mm"`
	CentreY units.Length  `json:"centre_y_mm"`
	Dia     *units.Length `json:"dia_mm,omitempty"`
	Placement
}

// CircleResult is a circle or an arc of holes. Chord is the straight distance
// from a hole to the next, nil for one hole; Web the wall that leaves.
type CircleResult struct {
	Inputs CircleInput   `json:"inputs"`
	Chord  *units.Length `json:"chord_mm"`
	Step   *units.Angle  `json:"step_deg"`
	Web    *units.Length `json:"web_mm"`
	Holes  []Spot        `json:"holes"`
	sheet.Remarks

	fails problem.List
}

// Chord returns the straight distance between two holes on a circle of the
// diameter D that stand the angle t apart:
//
//	D·sin(t/2)
//
// D is above 0, t from 0 to 360 deg. Good to 1e-9 mm.
//
// Source: plane geometry.
func Chord(circle units.Length, apart units.Angle) units.Length {
	return units.FromFloat(circle.MM() * apart.Half().Sin())
}

// Circle returns the places of a circle of holes. Count runs from 1 to 10,000,
// the circle's and the holes' diameters are above 0, Arc is above 0 and below
// 360 deg and takes at least two holes. Holes that run into each other are an
// answer of no.
func Circle(in CircleInput) (CircleResult, error) {
	var list problem.List
	list.Add(checkCount("count", in.Count))
	list.Add(positive([]option{{"circle", &in.Circle}, {"dia", in.Dia}}))
	if in.Arc != nil && (in.Arc.Deg() <= 0 || in.Arc.Deg() >= 360) {
		list.Add(problem.New(problem.OutOfRange, "arc", in.Arc, "must be above 0 and below 360 deg: leave it out to go all the way round"))
	}
	if in.Arc != nil && in.Count == 1 {
		list.Add(problem.New(problem.Impossible, "arc", in.Arc, "needs at least two holes"))
	}
	if len(list) > 0 {
		return CircleResult{}, list
	}
	r := CircleResult{Inputs: in, Remarks: in.remarks()}
	step := 360 / float64(in.Count)
	if in.Arc != nil {
		step = in.Arc.Deg() / float64(in.Count-1)
	}
	if in.Count > 1 {
		apart := units.Degrees(step)
		chord := Chord(in.Circle, apart)
		r.Step, r.Chord = &apart, &chord
	}
	drawn := make([][2]units.Length, in.Count)
	for i := range drawn {
		a := units.Degrees(in.Start.Deg() + step*float64(i))
		radius := in.Circle.MM() / 2
		drawn[i] = [2]units.Length{in.CentreX.Plus(units.FromFloat(radius * a.Cos())), in.CentreY.Plus(units.FromFloat(radius * a.Sin()))}
	}
	r.Holes = in.place(drawn)
	if in.Dia != nil && r.Chord != nil {
		web := r.Chord.Minus(*in.Dia)
		r.Web = &web
		if web.Sign() < 0 {
			r.fails.Add(problem.New(problem.WallTooThin, "count", in.Count, fmt.Sprintf(
				"the holes run into each other by %s mm: the circle must be at least %s mm",
				web.Neg().Fixed(units.MM, 3, units.Nearest), units.FromFloat(in.Dia.MM()/units.Degrees(step).Half().Sin()).Fixed(units.MM, 3, units.Up))))
		}
	}
	return r, nil
}

// positive returns the problem of every length that is given and not above 0.
func positive(options []option) error {
	var list problem.List
	for _, o := range options {
		if o.given != nil && o.given.Sign() <= 0 {
			list.Add(problem.New(problem.OutOfRange, o.key, o.given, "must be above 0"))
		}
	}
	return list.Err()
}

func checkCount(key string, n int) error {
	if n < 1 || n > MaxHoles {
		return problem.New(problem.OutOfRange, key, n, fmt.Sprintf("must be from 1 to %d", MaxHoles))
	}
	return nil
}

// Fails implements sheet.Result.
func (r CircleResult) Fails() problem.List { return r.fails }

// Sheet implements sheet.Result.
func (r CircleResult) Sheet() sheet.Sheet {
	in := r.Inputs
	title := "Circle of holes"
	if in.Arc != nil {
		title = "Arc of holes"
	}
	s := in.page(title, r.Holes, r.Remarks)
	if r.Chord == nil {
		return s
	}
	s.Facts = []sheet.Fact{
		{Key: "chord_mm", Label: "chord", Value: sheet.Len(*r.Chord), Remark: "straight from each hole to the next: set the dividers to it"},
		{Key: "step_deg", Label: "step", Value: sheet.Ang(*r.Step)},
	}
	if r.Web != nil {
		s.Facts = append(s.Facts, sheet.Fact{Key: "web_mm", Label: "wall between", Value: sheet.Len(*r.Web)})
	}
	s.Working = []sheet.Step{sheet.Work("chord", "D*sin(t/2)", r.Chord.MM(), "mm", sheet.Let("D", in.Circle.MM()), sheet.Let("t", r.Step.Deg()))}
	return s
}

// GridInput is a grid of holes: Columns along x and Rows along y, the first
// hole at X, Y.
type GridInput struct {
	Columns int           `json:"columns"`
	Rows    int           `json:"rows"`
	PitchX  *units.Length `json:"pitch_x_mm,omitempty"`
	PitchY  *units.Length `json:"pitch_y_mm,omitempty"`
	X       units.Length  `json:"start_x_mm"`
	Y       units.Length  `json:"start_y_mm"`
	Stagger bool          `json:"stagger"`
	Placement
}

// GridResult is a grid of holes, row by row, each row from its first column.
type GridResult struct {
	Inputs GridInput     `json:"inputs"`
	Across *units.Length `json:"diagonal_mm"`
	Holes  []Spot        `json:"holes"`
	sheet.Remarks
}

// Grid returns the places of a grid. Columns and Rows run from 1, together to
// 10,000 holes; more than one of them needs its pitch, above 0. With Stagger
// every second row is moved on by half a pitch.
func Grid(in GridInput) (GridResult, error) {
	var list problem.List
	list.Add(checkCount("columns", in.Columns))
	list.Add(checkCount("rows", in.Rows))
	list.Add(positive([]option{{"pitch-x", in.PitchX}, {"pitch-y", in.PitchY}}))
	if in.Columns > 1 && in.PitchX == nil {
		list.Add(problem.New(problem.Missing, "pitch-x", nil, "is needed for more than one column"))
	}
	if in.Rows > 1 && in.PitchY == nil {
		list.Add(problem.New(problem.Missing, "pitch-y", nil, "is needed for more than one row"))
	}
	if in.Stagger && in.PitchX == nil && in.Columns == 1 {
		list.Add(problem.New(problem.Missing, "pitch-x", nil, "is needed to move every second row on by half of it"))
	}
	if len(list) == 0 && in.Columns*in.Rows > MaxHoles {
		list.Add(problem.New(problem.TooLarge, "columns", in.Columns*in.Rows, fmt.Sprintf("more than %d holes", MaxHoles)))
	}
	if len(list) > 0 {
		return GridResult{}, list
	}
	var drawn [][2]units.Length
	for j := range in.Rows {
		x, y := in.X, in.Y
		if j > 0 {
			y = y.Plus(in.PitchY.Times(int64(j)))
		}
		if in.Stagger && j%2 == 1 {
			x = x.Plus(in.PitchX.Half())
		}
		for i := range in.Columns {
			if i > 0 {
				x = x.Plus(*in.PitchX)
			}
			drawn = append(drawn, [2]units.Length{x, y})
		}
	}
	r := GridResult{Inputs: in, Holes: in.place(drawn), Remarks: in.remarks()}
	if len(drawn) > 1 {
		first, last := drawn[0], drawn[len(drawn)-1]
		d := units.FromFloat(math.Hypot(last[0].Minus(first[0]).MM(), last[1].Minus(first[1]).MM()))
		r.Across = &d
	}
	return r, nil
}

// Sheet implements sheet.Result.
func (r GridResult) Sheet() sheet.Sheet {
	s := r.Inputs.page("Grid of holes", r.Holes, r.Remarks)
	if r.Across != nil {
		s.Facts = []sheet.Fact{{Key: "diagonal_mm", Label: "first to last", Value: sheet.Len(*r.Across), Remark: "straight across: a check with the caliper"}}
	}
	return s
}
