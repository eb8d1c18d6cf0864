package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/sheet"
	"setover/threads"
	"setover/threads/limits"
)

func threadGroup(a *app) *cobra.Command {
	return newParent("thread", threadShow(a), threadGears(a), threadDial(a), threadPasses(a), threadClock(a), threadEngage(a), threadFlats(a))
}

// threadArg binds the argument that says which thread.
func threadArg(c *command, dst *threads.Designation) {
	c.arg("SPEC", as(dst, bare(threads.Parse), nil))
	c.offerArgs(threads.Names)
}

// classFlag binds the class, which the designation may hold as well.
func classFlag(c *command, dst *string) {
	c.flag("class", "CLASS", "the class, such as 6g, 6H, 2A or 2B", as(dst, bare(readWord), nil))
	c.offer("class", limits.Names)
}

func readWord(text string) (string, error) { return text, nil }

func threadShow(a *app) *cobra.Command {
	var in limits.Input
	c := newCommand(a, "show SPEC", "a thread's sizes and limits, and what to turn it to",
		"setover thread show M8x1-6g")
	threadArg(c, &in.Thread)
	classFlag(c, &in.Class)
	return c.runs(func() (sheet.Result, error) { return limits.Show(in) })
}
