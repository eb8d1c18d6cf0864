package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/units"
	"setover/setup/bench/convert"
	"setover/setup/book/drills"
	"setover/setup/page/sheet"
)

func convertGroup(a *app) *cobra.Command {
	var in convert.Input
	c := newCommand(a, "convert VALUE", "one size in mm, inches, the nearest 1/64 and the nearest drill",
		"setover convert 3/8in --to mm")
	c.arg("VALUE", as(&in.Value, convert.Parse, nil))
	c.flag("to", "UNIT", "only this unit", as(&in.To, func(text string, _ units.Unit) (string, error) { return text, nil }, nil))
	c.offer("to", convert.Units)
	c.offerArgs(drills.Names)
	return c.runs(func() (sheet.Result, error) { return convert.Convert(in) })
}
