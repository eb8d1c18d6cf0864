package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/maker/files"
	"setover/setup/maker/part"
	"setover/setup/page/sheet"
	"setover/setup/plan/limits"
	"setover/setup/plan/outline"
)

func partGroup(a *app) *cobra.Command {
	return newParent("part", "setover part new --out plumb-bob.yaml",
		partShow(a), partCheck(a), partNew(a))
}

// partArg binds the part file that a command is about.
func partArg(c *command, name *string) {
	word.called("PART").arg(c, name)
	c.offerArgs(nil)
}

func readPart(name string) (*part.Part, sheet.Warnings, error) {
	p, warnings, err := files.Part(name)
	return p, warnings, readingError(err)
}

func partShow(a *app) *cobra.Command {
	var name string
	c := newCommand(a, "show PART", "the part as it was understood", "setover part show testdata/plumb-bob.yaml")
	partArg(c, &name)
	return c.runs(func() (sheet.Result, error) {
		p, warnings, err := readPart(name)
		if err != nil {
			return nil, err
		}
		return part.Read(p, warnings), nil
	})
}

func partCheck(a *app) *cobra.Command {
	var name string
	c := newCommand(a, "check PART", "is the part file right: every problem in one run",
		"setover part check testdata/plumb-bob.yaml")
	partArg(c, &name)
	return c.runs(func() (sheet.Result, error) {
		p, warnings, err := readPart(name)
		if err != nil {
			return nil, err
		}
		v := part.Verdict{Reading: part.Read(p, warnings)}
		var o *outline.Outline
		if p.Round != nil {
			if o, err = outline.New(p.Round); err != nil {
				return nil, err
			}
		}
		if _, err := limits.Of(p, o); err != nil {
			return nil, err
		}
		if o != nil {
			v.No(o.Unfit().Err())
		} else {
			v.No(outline.UnfitBlock(p.Block).Err())
		}
		return v, nil
	})
}

func partNew(a *app) *cobra.Command {
	var block bool
	c := newCommand(a, "new", "write a commented part file with every key", "setover part new --out plumb-bob.yaml")
	c.toggle(&block, "block", "a part milled from a block, not a turned one")
	c.RunE = func(cmd *cobra.Command, args []string) error { return c.writeExample(args, files.NewPart(block)) }
	return c.Command
}
