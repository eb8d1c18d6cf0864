package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/bench/divide"
	"setover/setup/maker/shop"
)

func divideCommand(a *app) *cobra.Command {
	c, in := question(a, divide.Divide, "divide [N]", shortOf("divide"), "setover divide 60")
	count.arg(c, &in.N).optional()
	angle.maybe(c, &in.Angle, "angle", "an angle to turn by, in place of a number of divisions")
	count.flag(c, &in.Ratio, "ratio", "turns of the crank to one of the spindle; left out, the shop's head")
	teeth.flag(c, &in.Circles, "circles", "circles of holes; left out, the shop's plates")
	teeth.flag(c, &in.Wheels, "gears", "change wheels for differential dividing; left out, the shop's")
	c.toggle(&in.List, "list", "where the pin goes at every division, from the first")
	c.needs(func(s *shop.Shop) {
		in.Head, in.Rotary, in.Blocks = s.DividingHead, s.RotaryTable, s.ColletBlocks
	})
	c.lathe(func(l *shop.Lathe) {
		in.Wheels = l.ChangeGears
		if l.Chuck != nil {
			in.Jaws = l.Chuck.Jaws
		}
	})
	return c.Command
}
