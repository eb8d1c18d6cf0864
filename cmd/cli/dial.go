package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/units"
	"setover/setup/bench/dial"
	"setover/setup/maker/shop"
)

func dialGroup(a *app) *cobra.Command {
	c, in := question(a, dial.Next, "dial [MEASURED TARGET [READING]]", shortOf("dial"),
		"setover dial 20.4 20 1.2")
	measured := length.into(func(l units.Length) { in.Measured = &l })
	target := length.into(func(l units.Length) { in.Target = &l })
	reading := number.into(func(n units.Number) { in.Reading = &n })
	pairs := [][2]*bound{
		{c.arg("MEASURED", measured), c.flag("measured", "LEN", "what the work measures now", measured)},
		{c.arg("TARGET", target), c.flag("target", "LEN", "what it should measure", target)},
		{c.arg("READING", reading), c.flag("reading", "N", "the number on the dial now, in the dial's own unit", reading)},
	}
	for _, p := range pairs {
		p[0].optional()
	}
	choice(c, &in.Slide, "slide", "the slide that is wound", dial.Slides()).defaults(string(dial.Cross))
	angle.maybe(c, &in.Angle, "angle", "the compound's angle from the spindle axis")
	c.toggle(&in.Falling, "falling", "the dial's numbers fall while the tool goes in")
	var owned *shop.Shop
	c.needs(func(s *shop.Shop) { owned = s })
	c.checked(func() error {
		for _, p := range pairs {
			if p[0].set && p[1].set {
				return twice(p[1].name, p[1].typed[0], p[0].typed[0])
			}
		}
		in.Dial, in.Readout = owned.Slide(string(in.Slide))
		return nil
	})
	return c.Command
}
