package charts

import (
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/threads/cut"
)

// mostWheels is the longest train of the chart, what a banjo commonly carries.
const mostWheels = 4

// geared is a pitch with the train that cuts it.
type geared struct {
	Pitch  say.Text      `json:"pitch" show:"pitch"`
	MM     units.Number  `json:"pitch_mm" show:"that is" as:"4 mm"`
	Train  *string       `json:"train" show:"driver/driven"`
	Cuts   *units.Number `json:"pitch_set_mm" show:"cuts" as:"5 mm"`
	PPM    *units.Number `json:"error_ppm" show:"error" as:"1 signed ppm"`
	Per100 *units.Number `json:"error_mm_per_100mm" show:"in 100 mm" as:"4 signed mm"`
	Idler  sheet.Value   `json:"idler_right_hand" show:"idler"`
}

// changeGears lists the standard pitches with the best train of this lathe's
// wheels for each, blank where none comes within 1000 ppm.
func changeGears(in Input) (Chart, error) {
	c := Chart{title: "Change gears", notes: []say.Text{
		"Driver over driven, from the stud to the leadscrew. " +
			"A blank is a pitch that no train of four wheels cuts within 0.1 mm in 100 mm.",
		"The idler is for a right-hand thread, with a stud that turns as the spindle does and a right-hand leadscrew; " +
			"for left-hand it is the other way about.",
	}}
	chart, err := cut.GearChart(gearing(in))
	if p, ok := err.(problem.List); ok && p[0].Code == problem.NotAvailable {
		c.NotChecked("lathe: leadscrew, change_gears", "no leadscrew or no wheels in this shop: no train was looked for")
	} else if err != nil {
		return c, err
	}
	list := []geared{}
	for _, r := range chart {
		x := geared{Pitch: say.Of(r.Pitch), MM: units.Number(r.Pitch.MM())}
		if g := r.Train; g != nil {
			text, set := g.Text(), units.Number(g.Pitch.MM())
			x.Train, x.Cuts, x.PPM, x.Per100, x.Idler = &text, &set, &g.PPM, &g.Per100, sheet.YesNo(g.IdlerRight)
		}
		list = append(list, x)
	}
	c.Tables = []Table{{"", list}}
	return c, nil
}

// gearing returns what the shop's lathe has to cut threads with.
func gearing(in Input) cut.GearsInput {
	ask := cut.GearsInput{Most: mostWheels}
	if in.Shop == nil || in.Shop.Lathe == nil {
		return ask
	}
	l := in.Shop.Lathe
	ask.Leadscrew, ask.Wheels, ask.StudRatio, ask.Space = l.Leadscrew, l.ChangeGears, l.StudRatio, l.BanjoClearance
	return ask
}
