package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/bench/fits"
)

func generalCommand(a *app) *cobra.Command {
	c, in := question(a, fits.GeneralOf, "general SIZE", shortOf("general"), "setover general 34 --class fine")
	length.called("SIZE").arg(c, &in.Size)
	choice(c, &in.Class, "class", "the class of the drawing", fits.Generals).defaults(string(fits.Medium))
	return c.Command
}
