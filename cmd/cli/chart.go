package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/maker/shop"
	"setover/setup/page/render"
	"setover/setup/plan/charts"
)

// everyChart is the word for all of them.
const everyChart = "all"

// chartOptions are what chart was asked.
type chartOptions struct {
	name, into string
	charts.Input
}

func chartCommand(a *app) *cobra.Command {
	var o chartOptions
	c := newCommand(a, "chart [NAME]", shortOf("chart"),
		"setover chart tapers --out tapers.pdf\nsetover chart all --into wall")
	word.called("NAME").arg(c, &o.name).optional()
	word.called("FOLDER").flag(c, &o.into, "into",
		"with all: the folder every chart is written to, as PDF unless --format says otherwise")
	c.offerArgs(func() []string { return append(charts.Names(), everyChart) })
	c.RunE = func(_ *cobra.Command, args []string) error {
		run, needs := c.oneChart, false
		switch {
		case len(args) == 0:
		case args[0] == everyChart:
			run, needs = c.everyChart, true
		default:
			var err error
			if needs, err = charts.NeedsShop(args[0]); err != nil {
				return err
			}
		}
		if needs {
			c.needs(func(s *shop.Shop) { o.Shop = s })
		}
		return run(args, &o)
	}
	return c.Command
}

// oneChart writes a chart, or the list of them.
func (c *command) oneChart(args []string, o *chartOptions) error {
	look, err := c.prepare(args)
	if err != nil {
		return err
	}
	if o.into != "" {
		return problem.New(problem.Contradiction, "into", say.Plain(o.into),
			"goes with chart all: one chart is written with ", say.Key("out"))
	}
	look.Given, o.Units = nil, look.Units
	if o.name == "" {
		return c.app.write(charts.List(), look)
	}
	r, err := charts.Make(o.name, o.Input)
	if err != nil {
		return err
	}
	return c.app.write(r, look)
}

// everyChart writes each chart to a file of its own and lists what it wrote.
// A file that is there is kept unless --force; the others are written all the
// same.
func (c *command) everyChart(args []string, o *chartOptions) error {
	g := &c.app.global
	if g.out != "" {
		return problem.New(problem.Contradiction, "out", say.Plain(g.out),
			"chart all writes several files: say ", say.Key("into"), " FOLDER")
	}
	ending, err := g.ending(render.PDF)
	if err != nil {
		return err
	}
	g.out = everyChart + ending
	look, err := c.prepare(args)
	if err != nil {
		return err
	}
	if o.into == "" {
		return problem.New(problem.Missing, "into", nil, "is needed: the folder the charts are written to")
	}
	if err := os.MkdirAll(o.into, 0o777); err != nil {
		return ioError{err}
	}
	look.Given, o.Units = nil, look.Units
	var failed []error
	for _, name := range charts.Names() {
		look := look
		if needs, _ := charts.NeedsShop(name); !needs {
			look.Shop, look.ShopHash = "", ""
		}
		r, err := charts.Make(name, o.Input)
		if err != nil {
			return err
		}
		g.out = filepath.Join(o.into, name+ending)
		if err := c.app.write(r, look); err != nil {
			failed = append(failed, err)
			continue
		}
		fmt.Fprintln(c.app.Stdout, g.out)
	}
	return errors.Join(failed...)
}
