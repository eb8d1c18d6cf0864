package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/threads"
	"setover/threads/drill"
	"setover/threads/limits"
	"setover/threads/wires"
)

func threadGroup(a *app) *cobra.Command {
	return newParent("thread", "setover thread show M8x1-6g",
		threadShow(a), threadDrill(a), threadWires(a), threadGears(a), threadDial(a),
		threadPasses(a), threadClock(a), threadEngage(a), threadFlats(a))
}

// threadArg binds the argument that says which thread.
func threadArg(c *command, dst *threads.Designation) {
	kindOf("SPEC", bare(threads.Parse)).arg(c, dst)
	c.offerArgs(threads.Names)
}

// classFlag binds the class, which the designation may hold as well.
func classFlag(c *command, dst *string) {
	word.called("CLASS").flag(c, dst, "class", "the class, such as 6g, 6H, 2A or 2B")
	c.offer("class", limits.Names)
}

func threadShow(a *app) *cobra.Command {
	c, in := question(a, limits.Show, "show SPEC", "a thread's sizes and limits, and what to turn it to",
		"setover thread show M8x1-6g")
	threadArg(c, &in.Thread)
	classFlag(c, &in.Class)
	return c.Command
}

func threadDrill(a *app) *cobra.Command {
	c, in := question(a, drill.For, "drill SPEC", "the hole to tap: which drill, how deep, and the clearance hole",
		"setover thread drill M8 --material brass --depth 12")
	threadArg(c, &in.Thread)
	number.called("P").maybe(c, &in.Percent, "percent", "how full the thread is to be, 100 % = 1.299038 P")
	word.called("NAME").flag(c, &in.Material, "material", "what is tapped")
	c.offer("material", materials.Names)
	length.maybe(c, &in.Depth, "depth", "the full thread in a blind hole")
	choice(c, &in.Tap, "tap", "the tap's lead", drill.Taps()).defaults(string(drill.PlugTap))
	c.toggle(&in.Forming, "forming", "a forming tap, which raises the thread without chips")
	choice(c, &in.Drills, "drills", "which drills to choose from; the shop's when it has any", drill.Sets())
	c.needs(func(s *shop.Shop) { in.Drawer, in.Taps = s.Drills, s.Taps })
	return c.Command
}

func threadWires(a *app) *cobra.Command {
	c, in := question(a, wires.Measure, "wires SPEC", "a screw over three wires: what the micrometer should read",
		"setover thread wires M8x1-6g --wire 0.6 --measured 7.95")
	threadArg(c, &in.Thread)
	length.maybe(c, &in.Wire, "wire", "the wires' diameter; the best one when not said")
	length.maybe(c, &in.Measured, "measured", "what the micrometer read over the wires")
	classFlag(c, &in.Class)
	return c.Command
}
