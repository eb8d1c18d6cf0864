package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/plan"
	"setover/setup/sheet"
	"setover/setup/shop"
)

func planGroup(a *app) *cobra.Command {
	var in plan.Input
	var name string
	c := newCommand(a, "plan PART", "the whole part: blank, order of work, every setting, and what will come out",
		"setover plan testdata/plumb-bob.yaml --shop testdata/shed.yaml")
	partArg(c, &name)
	c.shop = func(s *shop.Shop) { in.Shop = s }
	return c.runs(func() (sheet.Result, error) {
		p, warnings, err := readPart(name)
		if err != nil {
			return nil, err
		}
		in.Part = p
		r, err := plan.Make(in)
		r.Warnings = append(warnings, r.Warnings...)
		return r, err
	})
}
