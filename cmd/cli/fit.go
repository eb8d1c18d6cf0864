package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/bench/fits"
	"setover/setup/book/materials"
)

func fitCommand(a *app) *cobra.Command {
	c, in := question(a, fits.Of, "fit SPEC", shortOf("fit"), "setover fit 20H7/g6")
	kindOf("SPEC", fits.ParseSpec).arg(c, &in.Spec)
	kindOf("MATERIAL", bare(materials.Find)).flag(c, &in.Heated, "heat",
		"what the outer part is made of, for a shrink fit")
	c.offer("heat", materials.Names)
	length.maybe(c, &in.Slip, "slip", "the clearance a heated part should drop on with; left out, a thousandth of the "+
		"size")
	return c.Command
}
