package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/units"
	"setover/setup/page/sheet"
	"setover/tapers/facets"
)

func facetsGroup(a *app) *cobra.Command {
	return newParent("facets", facetsSize(a), facetsTaper(a), facetsProgress(a), facetsJig(a), facetsSlope(a))
}

func facetsSize(a *app) *cobra.Command {
	var in facets.Input
	c := newCommand(a, "size N", "the blank to turn for a polygon, and every size of it",
		"setover facets size 8 --flats 34 --leave 0.3")
	c.arg("N", as(&in.Sides, readCount, nil))
	c.lengthMaybe(&in.Flats, "flats", "the size across flats (flat to corner for an odd number)")
	c.lengthMaybe(&in.Corners, "corners", "the size across corners")
	c.lengthMaybe(&in.Side, "side", "the width of one flat")
	c.length(&in.Leave, "leave", "left on each flat for grinding")
	c.defaults(choice(c, &in.From, "from", "the bar it is cut from", facets.BarShapes), "round")
	return c.runs(func() (sheet.Result, error) { return facets.SizeOf(in) })
}

// tapering binds the flags of a polygon that tapers.
func tapering(c *command, in *facets.TaperInput) {
	c.length(&in.Large, "large", "the size at the large end").required()
	c.length(&in.Small, "small", "the size at the small end").required()
	c.length(&in.Length, "length", "the length between them").required()
	c.length(&in.Leave, "leave", "left on each flat for grinding")
}

func facetsTaper(a *app) *cobra.Command {
	var in facets.TaperInput
	c := newCommand(a, "taper N", "flats on a cone: both half angles, and the sizes along it",
		"setover facets taper 8 --large 34 --small 20 --length 62 --across flats")
	c.arg("N", as(&in.Sides, readCount, nil))
	tapering(c, &in)
	choice(c, &in.Across, "across", "what the sizes are across", facets.SizesAcross).required()
	c.flag("every", "LEN", "a station every so far from the large end", maybe(&in.Every, units.ParseLength, sheet.Len))
	return c.runs(func() (sheet.Result, error) { return facets.Taper(in) })
}

func facetsProgress(a *app) *cobra.Command {
	var in facets.ProgressInput
	c := newCommand(a, "progress N", "how wide a flat grows as it is ground, to stop by a calliper",
		"setover facets progress 8 --blank 37.5 --flats 34")
	c.arg("N", as(&in.Sides, readCount, nil))
	c.length(&in.Blank, "blank", "the round it is ground from").required()
	c.length(&in.Flats, "flats", "the finished size across flats (flat to corner for an odd number)").required()
	c.lengthMaybe(&in.Step, "step", "a row every so much of depth")
	return c.runs(func() (sheet.Result, error) { return facets.ProgressOf(in) })
}

func facetsJig(a *app) *cobra.Command {
	var in facets.JigInput
	c := newCommand(a, "jig N", "how a cradle is set to grind flats on a cone",
		"setover facets jig 8 --large 34 --small 20 --length 62 --wheel 200")
	c.arg("N", as(&in.Sides, readCount, nil))
	tapering(c, &in.TaperInput)
	c.defaults(choice(c, &in.Across, "across", "what the sizes are across", facets.SizesAcross), "flats")
	c.lengthMaybe(&in.Wheel, "wheel", "the diameter of the wheel it is ground on; a flat platen where not given")
	return c.runs(func() (sheet.Result, error) { return facets.Jig(in) })
}

func facetsSlope(a *app) *cobra.Command {
	var in facets.SlopeInput
	c := newCommand(a, "slope", "a plane that slopes two ways: one tilt and turn, or two tilts",
		"setover facets slope --along-x=-9deg --along-y 3deg")
	c.angle(&in.AlongX, "along-x", "the slope along x; positive where the plane rises toward +x")
	c.angle(&in.AlongY, "along-y", "the slope along y; positive where the plane rises toward +y")
	return c.runs(func() (sheet.Result, error) { return facets.SlopeOf(in) })
}
