package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/bench/fits"
	"setover/setup/book/materials"
	"setover/setup/page/sheet"
)

func fitCommand(a *app) *cobra.Command {
	var in fits.Input
	c := newCommand(a, "fit SPEC", "the limits of a hole, a shaft or both, and what the fit is good for",
		"setover fit 20H7/g6")
	c.arg("SPEC", as(&in.Spec, fits.ParseSpec, nil))
	c.flag("heat", "MATERIAL", "what the outer part is made of, for a shrink fit", as(&in.Heated, bare(materials.Find), nil))
	c.offer("heat", materials.Names)
	c.lengthMaybe(&in.Slip, "slip", "the clearance a heated part should drop on with; left out, a thousandth of the size")
	return c.runs(func() (sheet.Result, error) { return fits.Of(in) })
}
