package charts

import (
	"fmt"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/page/sheet"
)

// vAngles are the V's that the chart shows beside the shop's own.
var vAngles = []int{60, 90, 120}

// inV is a bar in the shop's V-block.
type inV struct {
	Dia    units.Length `json:"dia_mm" show:"bar"`
	Centre units.Length `json:"centre_height_mm" show:"centre"`
	Top    units.Length `json:"top_height_mm" show:"top"`
	Seats  sheet.Value  `json:"fits" show:"seats"`
}

// vBlock lists how high bars of round sizes lie in a V: above the base of the
// shop's block, and above the apex of the usual angles.
func vBlock(in Input) (Chart, error) {
	c := Chart{title: "Heights in a V-block", notes: []say.Text{
		say.Of("The apex is the sharp point that the faces of the V would meet in. ",
			"Find its height with a bar of known size: setover holes vblock with ",
			say.Key("test-dia"), " and ", say.Key("test-top"), "."),
	}}
	var own []inV
	var usual [][]cell
	for _, d := range roundSizes(in.Units) {
		if in.Shop != nil && in.Shop.VBlocks != nil {
			r, err := holes.InV(holes.VInput{Dia: d, Blocks: in.Shop.VBlocks})
			if err != nil {
				return c, err
			}
			x := inV{Dia: d, Centre: r.CentreHeight, Top: r.TopHeight}
			if r.Fits != nil {
				x.Seats = sheet.YesNo(*r.Fits)
			}
			own = append(own, x)
		}
		row := []cell{{"dia_mm", "bar", d.Nearest()}}
		for _, a := range vAngles {
			h := holes.CentreHeight(d, units.Degrees(float64(a)))
			row = append(row,
				cell{fmt.Sprintf("centre_%d_mm", a), fmt.Sprintf("centre, %d deg", a), h.Nearest()},
				cell{fmt.Sprintf("top_%d_mm", a), fmt.Sprintf("top, %d deg", a), h.Plus(d.Half()).Nearest()})
		}
		usual = append(usual, row)
	}
	if own != nil {
		c.Tables = append(c.Tables, Table{say.Of("In this shop's V of ", in.Shop.VBlocks.Angle), own})
		if in.Shop.VBlocks.Apex == nil {
			c.notes = append(c.notes,
				"The apex of this shop's block is not known: its heights are above the apex (v_blocks: apex).")
		}
	}
	c.Tables = append(c.Tables, Table{"Above the apex", rows(usual)})
	return c, nil
}
