package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/maker/files"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan"
)

func planGroup(a *app) *cobra.Command {
	var in plan.Input
	var name string
	var step, why *int
	c := newCommand(a, "plan PART", "the whole part: blank, order of work, every setting, and what will come out",
		"setover plan testdata/plumb-bob.yaml --shop testdata/shed.yaml")
	partArg(c, &name)
	c.flag("step", "N", "one step as a card of its own", maybe(&step, readCount, nil))
	c.flag("why", "N", "what doing step N earlier would break", maybe(&why, readCount, nil))
	c.count(&in.Done, "done", "how many steps are done")
	c.flag("measured", "dia@Z=D", "a diameter as it was measured; the rest is planned again from it",
		each(&in.Measured, plan.ParseMeasure, func(m plan.Measure) sheet.Value { return sheet.Len(m.Dia) })).repeated()
	c.flag("start", "H:M", "when work begins", maybe(&in.Start, bare(plan.ParseClock), nil))
	c.flag("by", "H:M", "when it should be done", maybe(&in.By, bare(plan.ParseClock), nil))
	c.shop = func(s *shop.Shop) { in.Shop = s }
	return c.runs(func() (sheet.Result, error) {
		if files.IsProject(name) {
			return planProject(name, in.Shop)
		}
		p, warnings, err := readPart(name)
		if err != nil {
			return nil, err
		}
		in.Part = p
		r, err := plan.Make(in)
		if err != nil {
			return nil, err
		}
		r.Warnings = append(warnings, r.Warnings...)
		switch {
		case step != nil:
			return r.Step(*step)
		case why != nil:
			return r.Why(*why)
		}
		return r, nil
	})
}

// planProject plans every part of a project.
func planProject(name string, s *shop.Shop) (sheet.Result, error) {
	p, warnings, err := files.Project(name)
	if err != nil {
		return nil, readingError(err)
	}
	r, err := plan.MakeProject(plan.ProjectInput{Project: p, Shop: s})
	if err != nil {
		return nil, err
	}
	r.Warnings = append(warnings, r.Warnings...)
	return r, nil
}
