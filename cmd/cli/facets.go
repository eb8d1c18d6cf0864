package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/facets"
)

func facetsGroup(a *app) *cobra.Command {
	return newParent("facets", "setover facets size 8 --flats 34 --leave 0.3",
		facetsSize(a), facetsTaper(a), facetsProgress(a), facetsJig(a), facetsSlope(a))
}

func facetsSize(a *app) *cobra.Command {
	c, in := question(a, facets.SizeOf, "size N", "the blank to turn for a polygon, and every size of it",
		"setover facets size 8 --flats 34 --leave 0.3")
	count.arg(c, &in.Sides)
	length.maybe(c, &in.Flats, "flats", "the size across flats (flat to corner for an odd number)")
	length.maybe(c, &in.Corners, "corners", "the size across corners")
	length.maybe(c, &in.Side, "side", "the width of one flat")
	length.flag(c, &in.Leave, "leave", "left on each flat for grinding")
	choice(c, &in.From, "from", "the bar it is cut from", facets.BarShapes).defaults("round")
	length.maybe(c, &in.Bar, "bar", "the bar as it is, across; the blank where not given")
	indexing(c, &in.Indexing)
	return c.Command
}

// indexing hands what the shop divides with to the input.
func indexing(c *command, in *facets.Indexing) {
	c.needs(func(s *shop.Shop) { in.Head, in.Rotary, in.Blocks = s.DividingHead, s.RotaryTable, s.ColletBlocks })
	c.lathe(func(l *shop.Lathe) { in.Collets = shop.ColletsOf(*l) })
}

// tapering binds the flags of a polygon that tapers.
func tapering(c *command, in *facets.TaperInput) {
	length.flag(c, &in.Large, "large", "the size at the large end").required()
	length.flag(c, &in.Small, "small", "the size at the small end").required()
	length.flag(c, &in.Length, "length", "the length between them").required()
	length.flag(c, &in.Leave, "leave", "left on each flat for grinding")
	indexing(c, &in.Indexing)
}

func facetsTaper(a *app) *cobra.Command {
	c, in := question(a, facets.Taper, "taper N", "flats on a cone: both half angles, and the sizes along it",
		"setover facets taper 8 --large 34 --small 20 --length 62 --across flats")
	count.arg(c, &in.Sides)
	tapering(c, in)
	choice(c, &in.Across, "across", "what the sizes are across", facets.SizesAcross).required()
	length.maybe(c, &in.Every, "every", "a station every so far from the large end")
	smallEnd(c, &in.SmallEnd).defaults(string(tapers.AtTailstock))
	setting(c, &in.Within, &in.Tools)
	c.lathe(func(l *shop.Lathe) { in.Lathe = *l })
	return c.Command
}

func facetsProgress(a *app) *cobra.Command {
	c, in := question(a, facets.ProgressOf, "progress N", "how wide a flat grows as it is ground, to stop by a calliper",
		"setover facets progress 8 --blank 37.5 --flats 34")
	count.arg(c, &in.Sides)
	length.maybe(c, &in.Blank, "blank", "the round it is ground from; where not given, the one that holds the corners")
	length.flag(c, &in.Flats, "flats", "the finished size across flats (flat to corner for an odd number)").required()
	length.maybe(c, &in.Leave, "leave", "in place of the blank: the round that holds the corners with so much on a flat")
	length.maybe(c, &in.Step, "step", "a row every so much of depth")
	return c.Command
}

func facetsJig(a *app) *cobra.Command {
	c, in := question(a, facets.Jig, "jig N", "how a cradle is set to grind flats on a cone",
		"setover facets jig 8 --large 34 --small 20 --length 62 --wheel 200")
	count.arg(c, &in.Sides)
	tapering(c, &in.TaperInput)
	choice(c, &in.Across, "across", "what the sizes are across", facets.SizesAcross).defaults("flats")
	length.maybe(c, &in.Wheel, "wheel", "the diameter of the wheel it is ground on; the shop's grinder's where not given")
	c.needs(func(s *shop.Shop) { in.Grinder = s.BeltGrinder })
	return c.Command
}

func facetsSlope(a *app) *cobra.Command {
	c, in := question(a, facets.SlopeOf, "slope", "a plane that slopes two ways: one tilt and turn, or two tilts",
		"setover facets slope --along-x=-9deg --along-y 3deg")
	angle.flag(c, &in.AlongX, "along-x", "the slope along x; positive where the plane rises toward +x")
	angle.flag(c, &in.AlongY, "along-y", "the slope along y; positive where the plane rises toward +y")
	return c.Command
}
