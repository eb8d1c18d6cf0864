package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/bench/dial"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

func dialGroup(a *app) *cobra.Command {
	var in dial.Input
	c := newCommand(a, "dial [MEASURED TARGET [READING]]", "it measures this, it should be that: where is the dial wound to",
		"setover dial 20.4 20 1.2")
	measured := maybe(&in.Measured, units.ParseLength, sheet.Len)
	target := maybe(&in.Target, units.ParseLength, sheet.Len)
	reading := maybe(&in.Reading, readNumber, nil)
	pairs := [][2]*bound{
		{c.arg("MEASURED", measured).optional(), c.flag("measured", "LEN", "what the work measures now", measured)},
		{c.arg("TARGET", target).optional(), c.flag("target", "LEN", "what it should measure", target)},
		{c.arg("READING", reading).optional(), c.flag("reading", "N", "the number on the dial now, in the dial's own unit", reading)},
	}
	c.defaults(choice(c, &in.Slide, "slide", "the slide that is wound", dial.Slides()), string(dial.Cross))
	c.angleMaybe(&in.Angle, "angle", "the compound's angle from the spindle axis")
	c.toggle(&in.Falling, "falling", "the dial's numbers fall while the tool goes in")
	var owned *shop.Shop
	c.shop = func(s *shop.Shop) { owned = s }
	return c.runs(func() (sheet.Result, error) {
		for _, p := range pairs {
			if p[0].set && p[1].set {
				return nil, problem.New(problem.Duplicate, p[1].name, p[1].typed[0], "given twice: "+p[0].typed[0]+" stands there already")
			}
		}
		in.Dial, in.Readout = owned.Slide(string(in.Slide))
		return dial.Next(in)
	})
}
