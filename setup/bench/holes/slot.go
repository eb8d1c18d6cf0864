package holes

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/drills"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

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
