package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/holes"
	"setover/setup/sheet"
	"setover/setup/shop"
	"setover/setup/units"
)

func holesGroup(a *app) *cobra.Command {
	return newParent("holes", holesRow(a), holesVBlock(a))
}

// table hands the mill's table dial to dst, when the shop has a mill.
func table(dst **shop.Dial) func(*shop.Shop) {
	return func(s *shop.Shop) {
		if s.Mill != nil {
			*dst = s.Mill.Table
		}
	}
}

func holesRow(a *app) *cobra.Command {
	var in holes.Input
	c := newCommand(a, "row DIA...", "a row of holes along a bar, each set on the dial from the datum",
		"setover holes row 5 4 3.2 --web 3 --start 44")
	c.arg("DIA", each(&in.Dias, units.ParseLength, sheet.Len)).repeated()
	c.count(&in.Count, "count", "how many holes, with one diameter or the first and last of a grade")
	c.lengthMaybe(&in.Pitch, "pitch", "from each centre to the next")
	c.lengthMaybe(&in.Span, "span", "from the first centre to the last")
	c.lengthMaybe(&in.Web, "web", "the wall to leave between neighbours")
	start := c.length(&in.From, "start", "the first centre, from the datum end")
	about := c.lengthMaybe(&in.About, "about", "the middle of the row, in place of --start")
	choice(c, &in.Grade, "grade", "how the diameters run from the first to the last", holes.Grades())
	c.flag("roll", "ANGLE", "a direction around the bar, 0 is up; may be repeated",
		each(&in.Rolls, bare(units.ParseAngle), sheet.Deg)).repeated()
	c.toggle(&in.Stagger, "stagger", "every second roll half a step on")
	c.lengthMaybe(&in.Bar, "bar", "the diameter of the bar, for depths, pilots and pecks")
	c.lengthMaybe(&in.Length, "length", "the length of the bar, for distances from its far end")
	c.lengthMaybe(&in.Depth, "depth", "the full depth of blind holes; left out they go through")
	c.lengthMaybe(&in.EdgeFinder, "edge-finder", "the diameter of the edge finder's tip")
	c.lengthMaybe(&in.Off, "off-centre", "how far beside the centre line the drill may stand, for the slope it starts on")
	dial := table(&in.Table)
	c.shop = func(s *shop.Shop) {
		dial(s)
		in.Drawer = s.Drills
	}
	return c.runs(func() (sheet.Result, error) {
		if err := exactlyOne(start, about); err != nil {
			return nil, err
		}
		return holes.Drill(in)
	})
}

func holesVBlock(a *app) *cobra.Command {
	var in holes.VInput
	c := newCommand(a, "vblock", "how high a bar lies in a V-block, and how a tapered one is shimmed",
		"setover holes vblock --dia 30 --angle 90 --apex 12")
	c.length(&in.Dia, "dia", "the diameter of the bar; of a tapered one at the large support").required()
	c.angleMaybe(&in.Angle, "angle", "the included angle of the V; left out, the shop's")
	c.lengthMaybe(&in.Apex, "apex", "the height of the sharp point of the V above the base; left out, the shop's")
	c.lengthMaybe(&in.TestDia, "test-dia", "the diameter of a test bar, to find the apex")
	c.lengthMaybe(&in.TestTop, "test-top", "the height measured over the test bar")
	c.lengthMaybe(&in.Other, "other", "a second bar to change to")
	c.lengthMaybe(&in.Small, "small", "a tapered bar's diameter at the other support")
	c.lengthMaybe(&in.Span, "span", "the distance between the supports")
	choice(c, &in.Support, "support", "how a tapered bar lies", holes.Supports())
	c.shop = func(s *shop.Shop) { in.Blocks = s.VBlocks }
	return c.runs(func() (sheet.Result, error) { return holes.InV(in) })
}
