package fits

import (
	"cmp"

	"setover/setup/base/check"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// GeneralInput is a size without limits of its own, and the class of its
// drawing; "" is medium.
type GeneralInput struct {
	Size  units.Length `json:"size_mm"`
	Class General      `json:"class"`
}

// OfClass are the general tolerances of a size in a class, either way: as a
// linear size, as an external radius or the height of a chamfer, and of an angle
// whose shorter leg it is. One that the standard does not have is nil.
type OfClass struct {
	Class General       `json:"class" show:"class"`
	Off   *units.Length `json:"off_mm" show:"off either way"`
	Edge  *units.Length `json:"edge_mm" show:"radius or chamfer"`
	Angle *units.Angle  `json:"angle_deg" show:"angle by this leg" as:"minutes"`
}

// GeneralResult is a size with its limits.
type GeneralResult struct {
	Inputs  GeneralInput `json:"inputs"`
	Most    units.Length `json:"most_mm" show:"most" as:"down"`
	Least   units.Length `json:"least_mm" show:"least" as:"up"`
	Off     units.Length `json:"off_mm" show:"off either way"`
	Edge    units.Length `json:"edge_mm" show:"as a radius or chamfer" note:"an outside radius, or a chamfer's height"`
	Angle   units.Angle  `json:"angle_deg" show:"an angle" as:"minutes" note:"whose shorter leg is that long"`
	Classes []OfClass    `json:"classes"`
	sheet.Remarks
}

// GeneralOf returns the general tolerances of a size in its class, and beside it
// in every class. The size is above 0 and at most 4000 mm. It fails where Linear
// does.
func GeneralOf(in GeneralInput) (GeneralResult, error) {
	in.Class = cmp.Or(in.Class, Medium)
	var l check.List
	_, most := GeneralRange()
	l.Above0To("SIZE", in.Size, most)
	if err := l.Err(); err != nil {
		return GeneralResult{}, err
	}
	off, err := in.Class.Linear(in.Size)
	if err != nil {
		return GeneralResult{}, err
	}
	r := GeneralResult{Inputs: in, Off: off, Most: in.Size.Plus(off), Least: in.Size.Minus(off)}
	for _, g := range Generals {
		row := OfClass{Class: g}
		if l, err := g.Linear(in.Size); err == nil {
			row.Off = &l
		}
		if l, err := g.Edge(in.Size); err == nil {
			row.Edge = &l
		}
		if a, err := g.Angular(in.Size); err == nil {
			row.Angle = &a
		}
		if g == in.Class {
			r.Edge, r.Angle = *row.Edge, *row.Angle
		}
		r.Classes = append(r.Classes, row)
	}
	return r, nil
}

// Sheet implements sheet.Result.
func (r GeneralResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "General tolerance ", r.Inputs.Class, ": ", r.Inputs.Size)
	if least, _ := GeneralRange(); r.Inputs.Size.Less(least) {
		s.Remark(&r.Off, "common practice: below ", least, " the standard wants limits on the drawing")
	}
	s.Figures()
	s.Table(r.Classes, "In every class")
	s.Note("ISO 2768-1. A size with limits of its own on the drawing is held by those.")
	return *s
}
