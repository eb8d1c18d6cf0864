package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/bench/divide"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

func divideCommand(a *app) *cobra.Command {
	var in divide.Input
	c := newCommand(a, "divide [N]", "divide the circle: hole plates, differential, rotary table, collet blocks and jaws",
		"setover divide 60")
	c.arg("N", as(&in.N, readCount, nil)).optional()
	c.angleMaybe(&in.Angle, "angle", "an angle to turn by, in place of a number of divisions")
	c.count(&in.Ratio, "ratio", "turns of the crank to one of the spindle; left out, the shop's head")
	c.teeth(&in.Circles, "circles", "circles of holes; left out, the shop's plates")
	c.teeth(&in.Wheels, "gears", "change wheels for differential dividing; left out, the shop's")
	c.toggle(&in.List, "list", "where the pin goes at every division, from the first")
	c.shop = func(s *shop.Shop) {
		in.Head, in.Rotary, in.Blocks = s.DividingHead, s.RotaryTable, s.ColletBlocks
		if s.Lathe != nil {
			in.Wheels = s.Lathe.ChangeGears
			if s.Lathe.Chuck != nil {
				in.Jaws = s.Lathe.Chuck.Jaws
			}
		}
	}
	return c.runs(func() (sheet.Result, error) { return divide.Divide(in) })
}
