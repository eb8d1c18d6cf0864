package holes

import (
	"math"

	"setover/setup/base/check"
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
// drawing, and the dials.
type Spot struct {
	N      int          `json:"n" show:"hole"`
	X      units.Length `json:"x_mm" show:"x"`
	Y      units.Length `json:"y_mm" show:"y"`
	DrawnX units.Length `json:"drawn_x_mm" show:"drawn x"`
	DrawnY units.Length `json:"drawn_y_mm" show:"drawn y"`
	OnX
	OnY
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
		s.OnX, s.OnY = OnX(setOn(p.Table, s.X)), OnY(setOn(p.Table, s.Y))
		list[i] = s
	}
	return list
}

// toward returns the place so many mm from x and y in a direction.
func toward(x, y units.Length, mm float64, a units.Angle) [2]units.Length {
	return [2]units.Length{x.Plus(units.FromFloat(mm * a.Cos())), y.Plus(units.FromFloat(mm * a.Sin()))}
}

// moved reports whether the drawing does not lie on the table as drawn.
func (p Placement) moved() bool {
	return p.ShiftX.Sign() != 0 || p.ShiftY.Sign() != 0 || p.Rotate.Deg() != 0
}

// remarks returns what every pattern's result has to say.
func (p Placement) remarks() sheet.Remarks {
	var r sheet.Remarks
	tellTable(&r, p.Table)
	r.Caution(cautions.ClampDrill, cautions.EyeProtection, cautions.Manual)
	return r
}

// page adds a pattern's table of spots to its sheet, and what there is to say
// of every pattern.
func (p Placement) page(s *sheet.Sheet, spots []Spot) {
	t := s.Table(spots, "From the datum").WithoutEmpty()
	s.Note("Wind up to every position from the same side, so that the screws' play stays taken up.")
	if p.moved() {
		s.Note("The drawing is turned about its datum, counter-clockwise, and then shifted: ",
			"x and y are where the table goes.")
	} else {
		t.Without("drawn_x_mm", "drawn_y_mm")
	}
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
	Chord  *units.Length `json:"chord_mm" show:"chord"`
	Step   *units.Angle  `json:"step_deg" show:"step" as:"minutes"`
	Web    *units.Length `json:"web_mm" show:"wall between"`
	Holes  []Spot        `json:"holes"`
	sheet.Remarks
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
	var l check.List
	l.Between("count", in.Count, 1, MaxHoles, "holes")
	l.Above0("circle", in.Circle, "dia", in.Dia)
	l.Inside("arc", in.Arc, units.Degrees(0), units.Degrees(360))
	l.Refuse(in.Arc != nil && in.Count == 1, problem.Impossible, "arc", in.Arc, "needs at least two holes")
	if err := l.Err(); err != nil {
		return CircleResult{}, err
	}
	r := CircleResult{Inputs: in, Remarks: in.remarks()}
	step := 360 / float64(in.Count)
	if in.Arc != nil {
		step = in.Arc.Deg() / float64(in.Count-1)
	}
	if in.Count > 1 {
		r.Step = new(units.Degrees(step))
		r.Chord = new(Chord(in.Circle, *r.Step))
	}
	drawn := make([][2]units.Length, in.Count)
	for i := range drawn {
		drawn[i] = toward(in.CentreX, in.CentreY, in.Circle.MM()/2, units.Degrees(in.Start.Deg()+step*float64(i)))
	}
	r.Holes = in.place(drawn)
	if in.Dia != nil && r.Chord != nil {
		r.Web = new(r.Chord.Minus(*in.Dia))
		if r.Web.Sign() < 0 {
			least := units.FromFloat(in.Dia.MM() / r.Step.Half().Sin())
			r.No(problem.New(problem.WallTooThin, "count", in.Count,
				"the holes run into each other by ", r.Web.Neg(), ": the circle must be at least ", least.Up()))
		}
	}
	return r, nil
}

// Sheet implements sheet.Result.
func (r CircleResult) Sheet() sheet.Sheet {
	in, title := r.Inputs, "Circle of holes"
	if in.Arc != nil {
		title = "Arc of holes"
	}
	s := sheet.Of(&r, title)
	s.Remark(&r.Chord, "straight from each hole to the next: set the dividers to it")
	s.Figures()
	in.page(s, r.Holes)
	if r.Chord != nil {
		s.Step("chord", "D*sin(t/2)", r.Chord, "D", in.Circle, "t", r.Step)
	}
	return *s
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
	Across *units.Length `json:"diagonal_mm" show:"first to last" note:"straight across: a check with the caliper"`
	Holes  []Spot        `json:"holes"`
	sheet.Remarks
}

// Grid returns the places of a grid. Columns and Rows run from 1, together to
// 10,000 holes; more than one of them needs its pitch, above 0. With Stagger
// every second row is moved on by half a pitch.
func Grid(in GridInput) (GridResult, error) {
	var l check.List
	l.Between("columns", in.Columns, 1, MaxHoles, "columns")
	l.Between("rows", in.Rows, 1, MaxHoles, "rows")
	l.Above0("pitch-x", in.PitchX, "pitch-y", in.PitchY)
	l.Refuse(in.Columns > 1 && in.PitchX == nil, problem.Missing, "pitch-x", nil, "is needed for more than one column")
	l.Refuse(in.Rows > 1 && in.PitchY == nil, problem.Missing, "pitch-y", nil, "is needed for more than one row")
	l.Refuse(in.Stagger && in.PitchX == nil && in.Columns == 1, problem.Missing, "pitch-x", nil,
		"is needed to move every second row on by half of it")
	l.Refuse(l.Err() == nil && in.Columns*in.Rows > MaxHoles, problem.TooLarge, "columns", in.Columns*in.Rows,
		"more than ", MaxHoles, " holes")
	if err := l.Err(); err != nil {
		return GridResult{}, err
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
		r.Across = new(units.FromFloat(math.Hypot(last[0].Minus(first[0]).MM(), last[1].Minus(first[1]).MM())))
	}
	return r, nil
}

// Sheet implements sheet.Result.
func (r GridResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Grid of holes")
	s.Figures()
	r.Inputs.page(s, r.Holes)
	return *s
}
