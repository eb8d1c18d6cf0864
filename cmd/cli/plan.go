package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/maker/files"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan"
)

func planGroup(a *app) *cobra.Command {
	var in plan.Input
	var name string
	var step, why *int
	c := newCommand(a, "plan PART", shortOf("plan"),
		"setover plan testdata/plumb-bob.yaml --shop testdata/shed.yaml")
	partArg(c, &name)
	count.maybe(c, &step, "step", "one step as a card of its own")
	count.maybe(c, &why, "why", "what doing step N earlier would break")
	count.flag(c, &in.Done, "done", "how many steps are done")
	kind[plan.Measure]{"dia@Z=D", plan.ParseMeasure, func(m plan.Measure) sheet.Value { return m.Dia.Nearest() }}.
		each(c, &in.Measured, "measured",
			"a diameter as it was measured, in a project body:dia@Z=D; the rest is planned again from it")
	clock := kindOf("H:M", bare(plan.ParseClock))
	clock.maybe(c, &in.Start, "start", "when work begins")
	clock.maybe(c, &in.By, "by", "when it should be done")
	c.needs(func(s *shop.Shop) { in.Shop = s })
	return c.runs(func() (sheet.Result, error) {
		var l check.List
		l.AtMostOne(check.If("step", step), check.If("why", why))
		if files.IsProject(name) {
			return planProject(&l, name, in, step, why)
		}
		if err := l.Err(); err != nil {
			return nil, err
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

// planProject plans every part of a project. What is asked of one part's steps
// has no meaning there; what was measured names its part.
func planProject(l *check.List, name string, in plan.Input, step, why *int) (sheet.Result, error) {
	alone := func(key string, given bool) {
		l.Refuse(given, problem.Contradiction, key, nil, "is for one part: plan the part's own file")
	}
	alone("step", step != nil)
	alone("why", why != nil)
	alone("done", in.Done != 0)
	alone("start", in.Start != nil)
	alone("by", in.By != nil)
	if err := l.Err(); err != nil {
		return nil, err
	}
	p, warnings, err := files.Project(name)
	if err != nil {
		return nil, readingError(err)
	}
	r, err := plan.MakeProject(plan.ProjectInput{Project: p, Shop: in.Shop, Measured: in.Measured})
	if err != nil {
		return nil, err
	}
	r.Warnings = append(warnings, r.Warnings...)
	return r, nil
}
