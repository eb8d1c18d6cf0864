package charts

import (
	"fmt"

	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/page/sheet"
)

// vAngles are the V's that the chart shows beside the shop's own.
var vAngles = []int{60, 90, 120}

// vBlock lists how high bars of round sizes lie in a V: above the base of the
// shop's block, and above the apex of the usual angles.
func vBlock(in Input) (sheet.Result, error) {
	c := Chart{Name: "v-block", Title: "Heights in a V-block", notes: []string{
		"The apex is the sharp point that the faces of the V would meet in. Find its height with a bar of known size: setover holes vblock --test-dia --test-top.",
	}}
	if in.Shop != nil && in.Shop.VBlocks != nil {
		t := sheet.Table{Title: fmt.Sprintf("In this shop's V of %v", in.Shop.VBlocks.Angle), Cols: []sheet.Column{
			{Key: "dia_mm", Head: "bar"}, {Key: "centre_height_mm", Head: "centre"}, {Key: "top_height_mm", Head: "top"}, {Key: "fits", Head: "seats"},
		}}
		for _, d := range roundSizes(in.Units) {
			r, err := holes.InV(holes.VInput{Dia: d, Blocks: in.Shop.VBlocks})
			if err != nil {
				return nil, err
			}
			seats := sheet.Value(nil)
			if r.Fits != nil {
				seats = sheet.YesNo(*r.Fits)
			}
			t.Add(sheet.Len(d), sheet.Len(r.CentreHeight), sheet.Len(r.TopHeight), seats)
		}
		c.Tables = append(c.Tables, Table{t})
		if in.Shop.VBlocks.Apex == nil {
			c.notes = append(c.notes, "The apex of this shop's block is not known: its heights are above the apex (v_blocks: apex).")
		}
	}
	t := sheet.Table{Title: "Above the apex", Cols: []sheet.Column{{Key: "dia_mm", Head: "bar"}}}
	for _, a := range vAngles {
		t.Cols = append(t.Cols,
			sheet.Column{Key: fmt.Sprintf("centre_%d_mm", a), Head: fmt.Sprintf("centre, %d deg", a)},
			sheet.Column{Key: fmt.Sprintf("top_%d_mm", a), Head: fmt.Sprintf("top, %d deg", a)})
	}
	for _, d := range roundSizes(in.Units) {
		row := []sheet.Value{sheet.Len(d)}
		for _, a := range vAngles {
			centre := holes.CentreHeight(d, units.Degrees(float64(a)))
			row = append(row, sheet.Len(centre), sheet.Len(centre.Plus(d.Half())))
		}
		t.Add(row...)
	}
	c.Tables = append(c.Tables, Table{t})
	return c, nil
}
