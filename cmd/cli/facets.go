package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/sheet"
	"setover/setup/units"
	"setover/tapers/facets"
)

func facetsGroup(a *app) *cobra.Command {
	return newParent("facets", facetsSize(a), facetsTaper(a))
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
	c.defaults(choice(c, &in.From, "from", "the bar it is cut from", []string{"round", "square"}), "round")
	return c.runs(func() (sheet.Result, error) { return facets.SizeOf(in) })
}

func facetsTaper(a *app) *cobra.Command {
	var in facets.TaperInput
	c := newCommand(a, "taper N", "flats on a cone: both half angles, and the sizes along it",
		"setover facets taper 8 --large 34 --small 20 --length 62 --across flats")
	c.arg("N", as(&in.Sides, readCount, nil))
	c.length(&in.Large, "large", "the size at the large end").required()
	c.length(&in.Small, "small", "the size at the small end").required()
	c.length(&in.Length, "length", "the length between them").required()
	choice(c, &in.Across, "across", "what the sizes are across", []string{"flats", "corners"}).required()
	c.length(&in.Leave, "leave", "left on each flat for grinding")
	c.flag("every", "LEN", "a station every so far from the large end", maybe(&in.Every, units.ParseLength, sheet.Len))
	return c.runs(func() (sheet.Result, error) { return facets.Taper(in) })
}
