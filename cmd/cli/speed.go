package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"setover/feeds"
	"setover/feeds/stiffness"
	"setover/setup/base/problem"
	"setover/setup/base/say"
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
	return newParent("speed", "setover speed turn mild-steel 40 --to 20 --length 60",
		append(subs, speedBelt(a), speedFinish(a), speedOverhang(a))...)
}

// speedCommand is one operation's command: what it does, an example behind
// "setover speed", and the flags it has beside the common ones.
type speedCommand struct {
	op                    feeds.Operation
	short, example, flags string
}

func speedCommands() []speedCommand {
	return []speedCommand{
		{feeds.Turn, "turn an outside", "mild-steel 40 --to 20 --length 60", "to depth length finish machine"},
		{feeds.Face, "face an end", "brass 30", "to depth length finish machine"},
		{feeds.Bore, "bore a hole", "cast-iron 40 --length 50", "to depth length finish machine"},
		{feeds.PartOff, "part off", "brass 20 --width 2", "to width length deep machine"},
		{
			feeds.Thread, "cut a thread with a single point", "mild-steel 16 --feed 1.5mm/rev --length 20",
			"length machine",
		},
		{feeds.Drill, "drill a hole", "brass 6.8 --length 40", "length deep machine"},
		{feeds.Ream, "ream a hole", "cast-iron 8 --length 20", "depth length machine"},
		{feeds.Tap, "tap a thread", "aluminium 8 --feed 1.25mm/rev --length 16", "length deep machine"},
		{feeds.Countersink, "countersink a hole", "brass 12 --to 6", "to length deep machine"},
		{feeds.Mill, "mill", "mild-steel 10 --teeth 4 --depth 2 --width 5", "teeth depth width length machine"},
		{feeds.Saw, "saw", "mild-steel 250 --rpm 45", ""},
		{feeds.Grind, "grind on a belt", "hardened-steel 200", ""},
	}
}

func speedOf(a *app, s speedCommand) *cobra.Command {
	name := string(s.op)
	c, in := question(a, feeds.Choose, name+" MATERIAL DIAMETER", "how fast to "+s.short+", with feed, power and time",
		"setover speed "+name+" "+s.example)
	in.Operation = s.op
	materialArg(c, &in.Material)
	length.called("DIAMETER").arg(c, &in.Diameter)
	choice(c, &in.Tool, "tool", "what the edge is made of", feeds.Tools()).defaults(string(feeds.HSS))
	var machine shop.Machine
	var long, deep *bound
	for _, f := range strings.Fields(s.flags) {
		switch f {
		case "to":
			length.maybe(c, &in.To, "to", "the diameter at the other end")
		case "depth":
			length.maybe(c, &in.Depth, "depth", "the depth of the cut, a side")
		case "width":
			length.maybe(c, &in.Width, "width", "the width of the cut")
		case "length":
			long = length.maybe(c, &in.Length, "length", "how far the cut runs")
		case "deep":
			deep = length.maybe(c, &in.Length, "depth", "the same as --length: how deep it goes")
		case "teeth":
			count.maybe(c, &in.Teeth, "teeth", "the cutter's teeth")
		case "finish":
			c.toggle(&in.Finish, "finish", "a finishing cut: fine feed, little depth")
		case "machine":
			choice(c, &machine, "machine", "the machine it is done on", feeds.Machines())
		}
	}
	feedFlag(c, in)
	speed.maybe(c, &in.RPM, "rpm", "the speed it is to run at")
	speed.maybe(c, &in.MaxRPM, "max-rpm", "the lowest speed marked on the work-holder, cutter or wheel")
	var owned *shop.Shop
	c.needs(func(s *shop.Shop) { owned = s })
	c.checked(func() error {
		if deep != nil && deep.set && long.set {
			return problem.New(problem.Duplicate, "depth", say.Plain(deep.typed[0]),
				"is the same as ", say.Key("length"), ", which is ", say.Plain(long.typed[0]))
		}
		in.Drive = owned.Drive(feeds.MachinesFor(in.Operation, machine)...)
		in.Bars = owned.BoringBars
		if p := owned.Parting; p != nil {
			in.Blade = &p.Blade
		}
		return nil
	})
	return c.Command
}

// feedFlag binds the feed, which an operation means per revolution or per tooth.
func feedFlag(c *command, in *feeds.Input) {
	switch in.Operation {
	case feeds.Saw, feeds.Grind:
	case feeds.Mill:
		feed("tooth").maybe(c, &in.Feed, "feed", "the feed a tooth")
	case feeds.Thread, feeds.Tap:
		feed("rev").maybe(c, &in.Feed, "feed", "the thread's pitch, as a feed a revolution")
	default:
		feed("rev").maybe(c, &in.Feed, "feed", "the feed a revolution")
	}
}

// material is a material by any of its names, read as its own.
var material = kindOf("MATERIAL", func(text string, _ units.Unit) (string, error) {
	m, err := materials.Find(text)
	if err != nil {
		return "", err
	}
	return m.Name, nil
})

// materialArg binds the argument that names a material.
func materialArg(c *command, dst *string) {
	kind[string]{"MATERIAL", material.read, func(name string) sheet.Value { return sheet.Text(name) }}.arg(c, dst)
	c.offerArgs(materials.Names)
}

// feed is a feed that is meant per revolution or per tooth.
func feed(per string) kind[units.Feed] {
	return kindOf("FEED", func(text string, u units.Unit) (units.Feed, error) {
		f, err := units.ParseFeed(text, u)
		if _, said, ok := strings.Cut(text, "/"); err == nil && ok && said != per {
			return f, problem.New(problem.WrongUnit, "feed", say.Plain(text),
				"the feed wanted here is per ", per, ": write ", u, "/", per, " behind the number")
		}
		return f, err
	})
}

func speedBelt(a *app) *cobra.Command {
	c, in := question(a, feeds.Belt, "belt", "how fast a belt's or a wheel's surface runs",
		"setover speed belt --wheel 200 --rpm 2850 --material hardened-steel")
	length.flag(c, &in.Wheel, "wheel", "the diameter of the drive wheel").required()
	speed.flag(c, &in.RPM, "rpm", "how fast it turns").required()
	material.called("NAME").flag(c, &in.Material, "material", "what is ground on it")
	c.offer("material", materials.Names)
	kindOf("SPEED", bare(units.ParseSurfaceSpeed)).
		maybe(c, &in.Rating, "rating", "the surface speed marked on the belt or wheel, such as 35m/s")
	return c.Command
}

func speedFinish(a *app) *cobra.Command {
	c, in := question(a, feeds.Finish, "finish", "how smooth a feed leaves the work, or the feed for a finish",
		"setover speed finish --feed 0.1 --nose 0.4")
	feed("rev").maybe(c, &in.Feed, "feed", "the feed a revolution")
	length.flag(c, &in.Nose, "nose", "the radius of the tool's nose").required()
	number.called("UM").maybe(c, &in.Ra, "ra", "the finish wanted, Ra in um")
	number.called("UM").maybe(c, &in.Rt, "rt", "the finish wanted, Rt in um")
	angle.flag(c, &in.Trail, "trail", "the trailing edge's angle off the work").defaults("8deg")
	return c.Command
}

func speedOverhang(a *app) *cobra.Command {
	c, in := question(a, stiffness.Overhang, "overhang MATERIAL",
		"how far the work springs from the tool, and when it whirls",
		"setover speed overhang mild-steel --dia 12 --length 60 --depth 0.5 --feed 0.1")
	materialArg(c, &in.Material)
	length.maybe(c, &in.Dia, "dia", "the bar's diameter")
	length.maybe(c, &in.Length, "length", "how far it sticks out, or its length between the supports")
	station(func(z, dia units.Length) stiffness.Station { return stiffness.Station{Z: z, Dia: dia} }).
		each(c, &in.Stations, "station", "a place from the chuck and the diameter there, for a stepped or tapered bar")
	length.maybe(c, &in.Bore, "bore", "a bore right through it")
	choice(c, &in.Support, "support", "how it is held", stiffness.Supports()).defaults(string(stiffness.Chuck))
	length.each(c, &in.Steadies, "steady", "a place from the chuck where a steady carries it; repeatable")
	number.maybe(c, &in.Force, "force", "the force on it, in newtons")
	length.maybe(c, &in.Depth, "depth", "the depth of the cut, a side")
	feed("rev").maybe(c, &in.Feed, "feed", "the feed of the cut a revolution")
	speed.maybe(c, &in.RPM, "rpm", "the speed it is to turn at")
	return c.Command
}
