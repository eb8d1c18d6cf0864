package charts

import (
	"setover/setup/base/problem"
	"setover/setup/page/sheet"
	"setover/threads/cut"
)

// mostWheels is the longest train of the chart, what a banjo commonly carries.
const mostWheels = 4

// changeGears lists the standard pitches with the best train of this lathe's
// wheels for each, blank where none comes within 1000 ppm.
func changeGears(in Input) (sheet.Result, error) {
	c := Chart{Name: "gears", Title: "Change gears", notes: []string{
		"Driver over driven, from the stud to the leadscrew. A blank is a pitch that no train of four wheels cuts within 0.1 mm in 100 mm.",
		"The idler is for a right-hand thread, with a stud that turns as the spindle does and a right-hand leadscrew; for left-hand it is the other way about.",
	}}
	t := sheet.Table{Cols: []sheet.Column{
		{Key: "pitch", Head: "pitch"},
		{Key: "pitch_mm", Head: "that is"},
		{Key: "train", Head: "driver/driven"},
		{Key: "pitch_set_mm", Head: "cuts"},
		{Key: "error_ppm", Head: "error"},
		{Key: "error_mm_per_100mm", Head: "in 100 mm"},
		{Key: "idler_right_hand", Head: "idler"},
	}}
	rows, err := cut.GearChart(gearing(in))
	if p, ok := err.(problem.List); ok && p[0].Code == problem.NotAvailable {
		c.Warnings.Add("not-checked", "no leadscrew or no wheels in this shop: no train was looked for (lathe: leadscrew, change_gears)")
	} else if err != nil {
		return nil, err
	}
	for _, r := range rows {
		cells := []sheet.Value{sheet.Text(r.Pitch.String()), sheet.Num(r.Pitch.MM(), 4, "mm"), nil, nil, nil, nil, nil}
		if g := r.Train; g != nil {
			cells = append(cells[:2], sheet.Text(g.Text()), sheet.Num(g.Pitch.MM(), 5, "mm"),
				sheet.Number{V: float64(g.PPM), Places: 1, Unit: "ppm", Signed: true},
				sheet.Number{V: float64(g.Per100), Places: 4, Unit: "mm", Signed: true},
				sheet.YesNo(g.IdlerRight))
		}
		t.Add(cells...)
	}
	c.Tables = []Table{{t}}
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
