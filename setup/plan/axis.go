package plan

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/plan/op"
	"setover/setup/plan/work"
)

// overAxis says how what cuts across is brought over the axis of the work, once for all that stands
// on the mill's table: the side of the work is touched over paper, and the table wound on by half of the
// work, half of what touches it, and the paper. A drill press has no table to wind: a rule that is laid
// on the work under the point lies level where that is over the axis.
func (t *task) overAxis(o *op.Op, what say.Text, dia units.Length, as work.State) {
	if o.Setup.Machine != op.MillMachine {
		o.Set("over the axis", say.Text("by rule"),
			"a thin rule on the work under the point: where it lies level the point is over the axis")
		return
	}
	across := t.under(o, as)
	travel := across.Half().Plus(dia.Half()).Plus(practice.PaperThick.Length())
	by := say.Text("")
	if dial := t.Shop.Mill.Table; dial != nil {
		_, turns := dial.Set(travel)
		by = say.Of(", ", turns.String(), " where the slide across has the table's dial")
	}
	o.Set("over the axis", travel.Nearest(), "across, from where ", what,
		" nips a strip of paper at the side of the work where it is thickest: half of ", across.Nearest(),
		", half of ", dia, " and the paper", by)
}
