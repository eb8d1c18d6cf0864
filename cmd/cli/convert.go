package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/bench/convert"
	"setover/setup/book/drills"
)

func convertGroup(a *app) *cobra.Command {
	c, in := question(a, convert.Convert, "convert VALUE",
		"one size in mm, inches, the nearest 1/64 and the nearest drill",
		"setover convert 3/8in --to mm")
	kindOf("VALUE", convert.Parse).arg(c, &in.Value)
	word.called("UNIT").flag(c, &in.To, "to", "only this unit")
	c.offer("to", convert.Units)
	c.offerArgs(drills.Names)
	return c.Command
}
