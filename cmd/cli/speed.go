package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"setover/feeds"
	"setover/feeds/stiffness"
	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
)

func speedGroup(a *app) *cobra.Command {
	var subs []*cobra.Command
	for _, s := range speedCommands() {
		subs = append(subs, speedOf(a, s))
	}
	return newParent("speed", append(subs, speedBelt(a), speedFinish(a), speedOverhang(a))...)
}

// speedCommand is one operation's command.
type speedCommand struct {
	op             feeds.Operation
	short, example string
	diameter       string // what DIAMETER is
	flags          string // the flags it has beside the common ones
}

func speedCommands() []speedCommand {
	return []speedCommand{
		{feeds.Turn, "turn an outside", "setover speed turn mild-steel 40 --to 20 --length 60", "the work's diameter", "to depth length finish machine"},
		{feeds.Face, "face an end", "setover speed face brass 30", "the work's diameter", "to depth length finish machine"},
		{feeds.Bore, "bore a hole", "setover speed bore cast-iron 40 --length 50", "the hole's diameter", "to depth length finish machine"},
		{feeds.PartOff, "part off", "setover speed part-off brass 20 --width 2", "the work's diameter", "to width length deep machine"},
		{feeds.Thread, "cut a thread with a single point", "setover speed thread mild-steel 16 --feed 1.5mm/rev --length 20", "the thread's diameter", "length machine"},
		{feeds.Drill, "drill a hole", "setover speed drill brass 6.8 --length 40", "the drill's diameter", "length deep machine"},
		{feeds.Ream, "ream a hole", "setover speed ream cast-iron 8 --length 20", "the reamer's diameter", "depth length machine"},
		{feeds.Tap, "tap a thread", "setover speed tap aluminium 8 --feed 1.25mm/rev --length 16", "the thread's diameter", "length deep machine"},
		{feeds.Countersink, "countersink a hole", "setover speed countersink brass 12 --to 6", "the large diameter", "to length deep machine"},
		{feeds.Mill, "mill", "setover speed mill mild-steel 10 --teeth 4 --depth 2 --width 5", "the cutter's diameter", "teeth depth width length machine"},
		{feeds.Saw, "saw", "setover speed saw mild-steel 250 --rpm 45", "the wheel's or blade's diameter", ""},
		{feeds.Grind, "grind on a belt", "setover speed grind hardened-steel 200", "the drive wheel's diameter", ""},
	}
}

func speedOf(a *app, s speedCommand) *cobra.Command {
	in := feeds.Input{Operation: s.op}
	c := newCommand(a, string(s.op)+" MATERIAL DIAMETER", "how fast to "+s.short+", with feed, power and time", s.example)
	material(c, &in.Material)
	c.arg("DIAMETER", as(&in.Diameter, units.ParseLength, sheet.Len))
	c.defaults(choice(c, &in.Tool, "tool", "what the edge is made of", words(feeds.Tools())), string(feeds.HSS))
	var machine shop.Machine
	var length, deep *bound
	for _, f := range strings.Fields(s.flags) {
		switch f {
		case "to":
			c.lengthMaybe(&in.To, "to", "the diameter at the other end")
		case "depth":
			c.lengthMaybe(&in.Depth, "depth", "the depth of the cut, a side")
		case "width":
			c.lengthMaybe(&in.Width, "width", "the width of the cut")
		case "length":
			length = c.lengthMaybe(&in.Length, "length", "how far the cut runs")
		case "deep":
			deep = c.lengthMaybe(&in.Length, "depth", "the same as --length: how deep it goes")
		case "teeth":
			c.flag("teeth", "N", "the cutter's teeth", maybe(&in.Teeth, readCount, nil))
		case "finish":
			c.toggle(&in.Finish, "finish", "a finishing cut: fine feed, little depth")
		case "machine":
			choice(c, &machine, "machine", "the machine it is done on", words(feeds.Machines()))
		}
	}
	if s.op != feeds.Saw && s.op != feeds.Grind {
		usage, per := "the feed a revolution", "rev"
		switch s.op {
		case feeds.Mill:
			usage, per = "the feed a tooth", "tooth"
		case feeds.Thread, feeds.Tap:
			usage = "the thread's pitch, as a feed a revolution"
		}
		c.flag("feed", "FEED", usage, maybe(&in.Feed, readFeed(per), nil))
	}
	c.flag("rpm", "N", "the speed it is to run at", maybe(&in.RPM, bare(units.ParseSpindleSpeed), nil))
	c.flag("max-rpm", "N", "the lowest speed marked on the work-holder, cutter or wheel", maybe(&in.MaxRPM, bare(units.ParseSpindleSpeed), nil))
	var owned *shop.Shop
	c.shop = func(s *shop.Shop) { owned = s }
	return c.runs(func() (sheet.Result, error) {
		if deep != nil && deep.set && length.set {
			return nil, problem.New(problem.Duplicate, "depth", deep.typed[0], "is the same as --length, which is "+length.typed[0])
		}
		in.Drive = owned.Drive(feeds.MachinesFor(in.Operation, machine)...)
		in.Blade, in.Bars = owned.PartingBlade, owned.BoringBars
		return feeds.Choose(in)
	})
}

// material binds the argument that names a material.
func material(c *command, dst *string) {
	c.arg("MATERIAL", as(dst, readMaterial, func(name string) sheet.Value { return sheet.Text(name) }))
	c.offerArgs(materials.Names)
}

// readMaterial reads a material by any of its names and returns its own.
func readMaterial(text string, _ units.Unit) (string, error) {
	m, err := materials.Find(text)
	if err != nil {
		return "", err
	}
	return m.Name, nil
}

// readFeed reads a feed that is meant per revolution or per tooth.
func readFeed(per string) func(string, units.Unit) (units.Feed, error) {
	return func(text string, u units.Unit) (units.Feed, error) {
		f, err := units.ParseFeed(text, u)
		if _, said, ok := strings.Cut(text, "/"); err == nil && ok && strings.HasSuffix(text, said) && said != per {
			return f, problem.New(problem.WrongUnit, "feed", text, fmt.Sprintf("the feed wanted here is per %s: write %s/%s behind the number", per, u, per))
		}
		return f, err
	}
}

func speedBelt(a *app) *cobra.Command {
	var in feeds.BeltInput
	c := newCommand(a, "belt", "how fast a belt's or a wheel's surface runs",
		"setover speed belt --wheel 200 --rpm 2850 --material hardened-steel")
	c.length(&in.Wheel, "wheel", "the diameter of the drive wheel").required()
	c.flag("rpm", "N", "how fast it turns", as(&in.RPM, bare(units.ParseSpindleSpeed), nil)).required()
	c.flag("material", "NAME", "what is ground on it", as(&in.Material, readMaterial, nil))
	c.offer("material", materials.Names)
	c.flag("rating", "SPEED", "the surface speed marked on the belt or wheel, such as 35m/s", maybe(&in.Rating, bare(units.ParseSurfaceSpeed), nil))
	return c.runs(func() (sheet.Result, error) { return feeds.Belt(in) })
}

func speedFinish(a *app) *cobra.Command {
	var in feeds.FinishInput
	c := newCommand(a, "finish", "how smooth a feed leaves the work, or the feed for a finish",
		"setover speed finish --feed 0.1 --nose 0.4")
	c.flag("feed", "FEED", "the feed a revolution", maybe(&in.Feed, readFeed("rev"), nil))
	c.length(&in.Nose, "nose", "the radius of the tool's nose").required()
	c.flag("ra", "UM", "the finish wanted, Ra in um", maybe(&in.Ra, readNumber, nil))
	c.flag("rt", "UM", "the finish wanted, Rt in um", maybe(&in.Rt, readNumber, nil))
	c.defaults(c.angle(&in.Trail, "trail", "the trailing edge's angle off the work"), "8deg")
	return c.runs(func() (sheet.Result, error) { return feeds.Finish(in) })
}

func speedOverhang(a *app) *cobra.Command {
	var in stiffness.Input
	c := newCommand(a, "overhang MATERIAL", "how far the work springs from the tool, and when it whirls",
		"setover speed overhang mild-steel --dia 12 --length 60 --depth 0.5 --feed 0.1")
	material(c, &in.Material)
	c.lengthMaybe(&in.Dia, "dia", "the bar's diameter")
	c.lengthMaybe(&in.Length, "length", "how far it sticks out, or its length between the supports")
	c.flag("station", "Z=DIA", "a place from the chuck and the diameter there, for a stepped or tapered bar",
		each(&in.Stations, func(text string, u units.Unit) (stiffness.Station, error) {
			s, err := readStation(text, u)
			return stiffness.Station{Z: s.Z, Dia: s.Dia}, err
		}, nil)).repeated()
	c.defaults(choice(c, &in.Support, "support", "how it is held", words(stiffness.Supports())), string(stiffness.Chuck))
	c.flag("force", "N", "the force on it, in newtons", maybe(&in.Force, readNumber, nil))
	c.lengthMaybe(&in.Depth, "depth", "the depth of the cut, a side")
	c.flag("feed", "FEED", "the feed of the cut a revolution", maybe(&in.Feed, readFeed("rev"), nil))
	c.flag("rpm", "N", "the speed it is to turn at", maybe(&in.RPM, bare(units.ParseSpindleSpeed), nil))
	return c.runs(func() (sheet.Result, error) { return stiffness.Overhang(in) })
}
