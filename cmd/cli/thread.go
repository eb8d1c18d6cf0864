package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/drill"
	"setover/threads/limits"
	"setover/threads/wires"
)

func threadGroup(a *app) *cobra.Command {
	return newParent("thread", threadShow(a), threadDrill(a), threadWires(a), threadGears(a), threadDial(a), threadPasses(a), threadClock(a), threadEngage(a), threadFlats(a))
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

func threadDrill(a *app) *cobra.Command {
	var in drill.Input
	c := newCommand(a, "drill SPEC", "the hole to tap: which drill, how deep, and the clearance hole",
		"setover thread drill M8 --material brass --depth 12")
	threadArg(c, &in.Thread)
	c.flag("percent", "P", "how full the thread is to be, 100 % = 1.299038 P", maybe(&in.Percent, readNumber, nil))
	c.flag("material", "NAME", "what is tapped", as(&in.Material, bare(readWord), nil))
	c.offer("material", materials.Names)
	c.lengthMaybe(&in.Depth, "depth", "the full thread in a blind hole")
	c.defaults(choice(c, &in.Tap, "tap", "the tap's lead", drill.Taps()), string(drill.PlugTap))
	c.toggle(&in.Forming, "forming", "a forming tap, which raises the thread without chips")
	choice(c, &in.Drills, "drills", "which drills to choose from; the shop's when it has any", drill.Sets())
	c.shop = func(s *shop.Shop) { in.Drawer, in.Taps = s.Drills, s.Taps }
	return c.runs(func() (sheet.Result, error) { return drill.For(in) })
}

func threadWires(a *app) *cobra.Command {
	var in wires.Input
	c := newCommand(a, "wires SPEC", "a screw over three wires: what the micrometer should read",
		"setover thread wires M8x1-6g --wire 0.6 --measured 7.95")
	threadArg(c, &in.Thread)
	c.lengthMaybe(&in.Wire, "wire", "the wires' diameter; the best one when not said")
	c.lengthMaybe(&in.Measured, "measured", "what the micrometer read over the wires")
	classFlag(c, &in.Class)
	return c.runs(func() (sheet.Result, error) { return wires.Measure(in) })
}
