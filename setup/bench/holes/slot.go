package holes

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
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
	Count      int           `json:"count"`
	Drill      string        `json:"drill"`
	Dia        units.Length  `json:"dia_mm"`
	Pitch      *units.Length `json:"pitch_mm"`
	Web        *units.Length `json:"web_set_mm"`
	SideLeft   units.Length  `json:"side_left_mm"`
	LeftToFile units.Number  `json:"left_to_file_mm2"`
	Holes      []Spot        `json:"holes"`
	sheet.Remarks
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
	var list problem.List
	list.Add(positive([]option{{"width", &in.Width}, {"drill", in.Drill}}))
	if in.Length.Less(in.Width) {
		list.Add(problem.New(problem.Impossible, "length", in.Length, fmt.Sprintf("shorter than the slot is wide, %v", in.Width)))
	}
	for _, o := range []option{{"web", &in.Web}, {"leave", &in.Leave}} {
		if o.given.Sign() < 0 {
			list.Add(problem.New(problem.OutOfRange, o.key, o.given, "cannot be negative"))
		}
	}
	if len(list) > 0 {
		return SlotResult{}, list
	}
	r := SlotResult{Inputs: in, Remarks: in.remarks()}
	if err := r.drill(); err != nil {
		return SlotResult{}, err
	}
	span := in.Length.Minus(r.Dia).Minus(in.Leave.Times(2))
	n := int(span.Steps(r.Dia.Plus(in.Web), units.Down)) + 1
	if err := checkCount("length", n); err != nil {
		return SlotResult{}, problem.New(problem.TooLarge, "length", n, fmt.Sprintf("more than %d holes", MaxHoles))
	}
	r.Count, r.SideLeft = n, in.Width.Minus(r.Dia).Half()
	drawn := make([][2]units.Length, n)
	for i := range drawn {
		along := units.Length{}
		if n > 1 {
			along = part(span, i, n-1).Minus(span.Half())
		}
		drawn[i] = [2]units.Length{
			in.CentreX.Plus(units.FromFloat(along.MM() * in.Angle.Cos())),
			in.CentreY.Plus(units.FromFloat(along.MM() * in.Angle.Sin())),
		}
	}
	if n > 1 {
		pitch := part(span, 1, n-1)
		web := pitch.Minus(r.Dia)
		r.Pitch, r.Web = &pitch, &web
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
		return problem.New(problem.OutOfRange, "leave", in.Leave, fmt.Sprintf("leaves nothing of a slot %v wide", in.Width))
	}
	if in.Drill != nil {
		if most.Less(*in.Drill) {
			return problem.New(problem.OutOfRange, "drill", in.Drill, fmt.Sprintf("larger than the slot less what is left to file, %v", most))
		}
		r.Drill, r.Dia = in.Drill.String(), *in.Drill
		return nil
	}
	if len(in.Drawer) == 0 {
		r.Warnings.Add("not-checked", "no drills in this shop: a drill of the slot's width less what is left was taken (drills)")
		r.Drill, r.Dia = most.String(), most
		return nil
	}
	d, _, ok := in.Drawer.Nearest(most, units.Down)
	if !ok {
		return problem.New(problem.NotAvailable, "width", in.Width, fmt.Sprintf("no drill in the drawer is as small as %v", most))
	}
	r.Drill, r.Dia = d.Name, d.Dia
	return nil
}

// Sheet implements sheet.Result.
func (r SlotResult) Sheet() sheet.Sheet {
	in := r.Inputs
	s := in.page("Chain-drilled slot", r.Holes, r.Remarks)
	s.Facts = []sheet.Fact{
		{Key: "count", Label: "holes", Value: sheet.Count(r.Count)},
		{Key: "drill", Label: "drill", Value: sheet.Text(r.Drill)},
	}
	d := sheet.Let("d", r.Dia.MM())
	if r.Web != nil {
		s.Facts = append(s.Facts,
			sheet.Fact{Key: "pitch_mm", Label: "from hole to hole", Value: sheet.Len(*r.Pitch)},
			sheet.Fact{Key: "web_set_mm", Label: "wall between", Value: sheet.Len(*r.Web), Remark: "never under what was asked: a drill runs into a hole that is too near"})
		s.Working = []sheet.Step{
			sheet.Work("s", "L - d - 2*leave", in.Length.Minus(r.Dia).Minus(in.Leave.Times(2)).MM(), "mm", sheet.Let("L", in.Length.MM()), d, sheet.Let("leave", in.Leave.MM())),
			sheet.Work("web", "s/(n - 1) - d", r.Web.MM(), "mm", sheet.Let("s", in.Length.Minus(r.Dia).Minus(in.Leave.Times(2)).MM()), sheet.Let("n", float64(r.Count)), d),
		}
	}
	s.Facts = append(s.Facts,
		sheet.Fact{Key: "side_left_mm", Label: "left on each side", Value: sheet.Len(r.SideLeft), Remark: "to file or mill"},
		sheet.Fact{Key: "left_to_file_mm2", Label: "left to file", Value: sheet.Num(float64(r.LeftToFile), 2, "mm²"), Remark: "of the slot's area"})
	s.Working = append(s.Working, sheet.Work("left", "(L - W)*W + 3.141592653589793/4*(W^2 - n*d^2)", float64(r.LeftToFile), "mm2",
		sheet.Let("L", in.Length.MM()), sheet.Let("W", in.Width.MM()), sheet.Let("n", float64(r.Count)), d))
	s.Notes = append(s.Notes, "Drill every second hole first, then those between: each then has sound metal on both sides.")
	return s
}
