package holes

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/book/drills"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

// OnDial is a position set on a dial from the datum. The fields are nil without
// a dial; the error is set minus exact.
type OnDial struct {
	Turns     *int64        `json:"turns" show:"turns"`
	Divisions *int64        `json:"divisions" show:"div"`
	Error     *units.Length `json:"dial_error_mm" show:"dial is off" as:"fine"`
}

// OnX is a position on the dial of a table's x slide.
type OnX struct {
	Turns     *int64        `json:"x_turns" show:"x turns"`
	Divisions *int64        `json:"x_divisions" show:"x div"`
	Error     *units.Length `json:"x_dial_error_mm" show:"x is off" as:"fine"`
}

// OnY is a position on the dial of a table's y slide.
type OnY struct {
	Turns     *int64        `json:"y_turns" show:"y turns"`
	Divisions *int64        `json:"y_divisions" show:"y div"`
	Error     *units.Length `json:"y_dial_error_mm" show:"y is off" as:"fine"`
}

// setOn returns a position from the datum on d, which may be nil.
func setOn(d *shop.Dial, place units.Length) OnDial {
	if d == nil {
		return OnDial{}
	}
	s, t := d.Set(place)
	return OnDial{&t.Turns, &t.Divisions, &s.Lost}
}

// tellTable warns where there is no dial to set positions on.
func tellTable(r *sheet.Remarks, d *shop.Dial) {
	if d == nil {
		r.NotChecked("mill: table", "no mill table in this shop: positions are exact, no dial was set")
	}
}

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
	if p.ShiftX.Sign() != 0 || p.ShiftY.Sign() != 0 || p.Rotate.Deg() != 0 {
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

// SlotInput is a slot to be chain-drilled: its length over all and its width,
// with round ends; the thinnest wall to leave between the holes, since a drill
// runs into a hole that is too near; and Leave, what is left on every side to
// file. The slot lies about a centre, at Angle to the x direction. Drill is the
// drill's diameter; left out, the largest in the drawer that leaves Leave.
type SlotInput struct {
	Length  units.Length  `json:"length_mm"`
	Width   units.Length  `json:"width_mm"`
	Web     units.Length  `json:"web_mm"`
	Leave   units.Length  `json:"leave_mm"`
	Drill   *units.Length `json:"drill_mm,omitempty"`
	CentreX units.Length  `json:"centre_x_mm"`
	CentreY units.Length  `json:"centre_y_mm"`
	Angle   units.Angle   `json:"angle_deg"`
	Drawer  shop.Drawer   `json:"-"`
	Placement
}

// SlotResult is a chain-drilled slot. Web is the wall that is left between the
// holes, nil for one hole, and LeftToFile the area that the drill leaves of
// the slot.
type SlotResult struct {
	Inputs     SlotInput     `json:"inputs"`
	Count      int           `json:"count" show:"holes"`
	Drill      string        `json:"drill" show:"drill"`
	Dia        units.Length  `json:"dia_mm"`
	Pitch      *units.Length `json:"pitch_mm" show:"from hole to hole"`
	Web        *units.Length `json:"web_set_mm" show:"wall between"`
	SideLeft   units.Length  `json:"side_left_mm" show:"left on each side" note:"to file or mill"`
	LeftToFile units.Number  `json:"left_to_file_mm2" show:"left to file" as:"2 mm²" note:"of the slot's area"`
	Holes      []Spot        `json:"holes"`
	sheet.Remarks

	span units.Length // from the first centre to the last
}

// ChainDrill returns the holes of a chain-drilled slot. With d the drill and
// leave kept at the ends too, the first and the last centre stand s apart:
//
//	s = L - d - 2·leave
//	n = 1 + floor(s/(d + web))
//	web left = s/(n - 1) - d, never under the web asked for
//
// and the area left to file is that of the slot less n·π·d²/4. The width is
// above 0, the length at least the width, web and leave 0 or more. It fails
// when no drill is small enough, or the one given is larger than the width
// less twice what is to be left.
//
// Source: plane geometry.
func ChainDrill(in SlotInput) (SlotResult, error) {
	var l check.List
	l.Above0("width", in.Width, "drill", in.Drill)
	l.Refuse(in.Length.Less(in.Width), problem.Impossible, "length", in.Length, "shorter than the slot is wide, ",
		in.Width)
	l.NotBelow0("web", in.Web, "leave", in.Leave)
	r := SlotResult{Inputs: in, Remarks: in.remarks()}
	if l.Err() == nil {
		l.Add(r.drill())
	}
	if err := l.Err(); err != nil {
		return SlotResult{}, err
	}
	r.span = in.Length.Minus(r.Dia).Minus(in.Leave.Times(2))
	n := int(r.span.Steps(r.Dia.Plus(in.Web), units.Down)) + 1
	if n > MaxHoles {
		return SlotResult{}, problem.New(problem.TooLarge, "length", n, "more than ", MaxHoles, " holes")
	}
	r.Count, r.SideLeft = n, in.Width.Minus(r.Dia).Half()
	drawn := make([][2]units.Length, n)
	for i := range drawn {
		along := units.Length{}
		if n > 1 {
			along = part(r.span, i, n-1).Minus(r.span.Half())
		}
		drawn[i] = toward(in.CentreX, in.CentreY, along.MM(), in.Angle)
	}
	if n > 1 {
		r.Pitch = new(part(r.span, 1, n-1))
		r.Web = new(r.Pitch.Minus(r.Dia))
	}
	r.Holes = in.place(drawn)
	w, d := in.Width.MM(), r.Dia.MM()
	r.LeftToFile = units.Number(in.Length.Minus(in.Width).MM()*w + math.Pi/4*(w*w-float64(n)*d*d))
	return r, nil
}

// drill finds the drill: the one given, or the largest that leaves enough.
func (r *SlotResult) drill() error {
	in := r.Inputs
	most := in.Width.Minus(in.Leave.Times(2))
	if most.Sign() <= 0 {
		return problem.New(problem.OutOfRange, "leave", in.Leave, "leaves nothing of a slot ", in.Width, " wide")
	}
	if in.Drill != nil && most.Less(*in.Drill) {
		return problem.New(problem.OutOfRange, "drill", in.Drill, "larger than the slot less what is left to file, ", most)
	}
	if in.Drill == nil && len(in.Drawer) > 0 {
		d, _, ok := in.Drawer.Nearest(most, units.Down)
		if !ok {
			return problem.New(problem.NotAvailable, "width", in.Width, "no drill in the drawer is as small as ", most)
		}
		r.Drill, r.Dia = d.Name, d.Dia
		return nil
	}
	r.Dia = most
	if in.Drill != nil {
		r.Dia = *in.Drill
	} else {
		r.NotChecked("drills", "no drills in this shop: a drill of the slot's width less what is left was taken")
	}
	r.Drill = drills.Of(r.Dia).Name
	return nil
}

// Sheet implements sheet.Result.
func (r SlotResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := sheet.Of(&r, "Chain-drilled slot")
	s.Remark(&r.Web, "never under what was asked: a drill runs into a hole that is too near")
	s.Figures()
	in.page(s, r.Holes)
	s.Note("Drill every second hole first, then those between: each then has sound metal on both sides.")
	if r.Web != nil {
		s.Step("s", "L - d - 2*leave", r.span, "L", in.Length, "d", r.Dia, "leave", in.Leave)
		s.Step("web", "s/(n - 1) - d", r.Web, "s", r.span, "n", r.Count, "d", r.Dia)
	}
	s.Step("left", "(L - W)*W + 3.141592653589793/4*(W^2 - n*d^2)", sheet.Num(float64(r.LeftToFile), 0, "mm2"),
		"L", in.Length, "W", in.Width, "n", r.Count, "d", r.Dia)
	return *s
}
