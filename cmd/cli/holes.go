package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/check"
	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/walls"
)

func holesGroup(a *app) *cobra.Command {
	return newParent("holes", "setover holes row 5 4 3.2 --web 3 --start 44",
		holesRow(a), holesCircle(a), holesGrid(a), holesSlot(a),
		holesVBlock(a), holesClock(a), holesDepth(a), holesWall(a))
}

// table hands the mill's table dial to dst, when the shop has a mill.
func table(c *command, dst **shop.Dial) {
	c.needs(func(s *shop.Shop) {
		if s.Mill != nil {
			*dst = s.Mill.Table
		}
	})
}

func holesRow(a *app) *cobra.Command {
	c, in := question(a, holes.Drill, "row DIA...", "a row of holes along a bar, each set on the dial from the datum",
		"setover holes row 5 4 3.2 --web 3 --start 44")
	c.arg("DIA", length.into(func(l units.Length) { in.Dias = append(in.Dias, l) })).repeated()
	count.flag(c, &in.Count, "count", "how many holes, with one diameter or the first and last of a grade")
	length.maybe(c, &in.Pitch, "pitch", "from each centre to the next")
	length.maybe(c, &in.Span, "span", "from the first centre to the last")
	length.maybe(c, &in.Web, "web", "the wall to leave between neighbours")
	start := length.flag(c, &in.From, "start", "the first centre, from the datum end")
	about := length.maybe(c, &in.About, "about", "the middle of the row, in place of --start")
	choice(c, &in.Grade, "grade", "how the diameters run from the first to the last", holes.Grades())
	kind[units.Angle]{"ANGLE", angle.read, sheet.Deg}.
		each(c, &in.Rolls, "roll", "a direction around the bar, 0 is up; may be repeated")
	c.toggle(&in.Stagger, "stagger", "every second roll half a step on")
	length.maybe(c, &in.Bar, "bar", "the diameter of the bar, for depths, pilots and pecks")
	length.maybe(c, &in.Length, "length", "the length of the bar, for distances from its far end")
	length.maybe(c, &in.Depth, "depth", "the full depth of blind holes; left out they go through")
	length.maybe(c, &in.EdgeFinder, "edge-finder", "the diameter of the edge finder's tip")
	length.maybe(c, &in.Off, "off-centre", "how far beside the centre line the drill may stand, "+
		"for the slope it starts on")
	material.flag(c, &in.Material, "material", "what is drilled, for the speed")
	c.offer("material", materials.Names)
	table(c, &in.Table)
	c.needs(func(s *shop.Shop) {
		in.Drawer, in.Centres = s.Drills, s.CentreDrills
		in.Drive = s.Drive(shop.OnMill, shop.OnDrillPress)
	})
	c.checked(func() error {
		var wrong check.List
		wrong.ExactlyOne(start.option(), about.option())
		return wrong.Err()
	})
	return c.Command
}

func holesVBlock(a *app) *cobra.Command {
	c, in := question(a, holes.InV, "vblock", "how high a bar lies in a V-block, and how a tapered one is shimmed",
		"setover holes vblock --dia 30 --angle 90 --apex 12")
	length.flag(c, &in.Dia, "dia", "the diameter of the bar; of a tapered one at the large support").required()
	angle.maybe(c, &in.Angle, "angle", "the included angle of the V; left out, the shop's")
	length.maybe(c, &in.Apex, "apex", "the height of the sharp point of the V above the base; left out, the shop's")
	length.maybe(c, &in.TestDia, "test-dia", "the diameter of a test bar, to find the apex")
	length.maybe(c, &in.TestTop, "test-top", "the height measured over the test bar")
	length.maybe(c, &in.Other, "other", "a second bar to change to")
	length.maybe(c, &in.Small, "small", "a tapered bar's diameter at the other support")
	length.maybe(c, &in.Span, "span", "the distance between the supports")
	choice(c, &in.Support, "support", "how a tapered bar lies", holes.Supports())
	c.needs(func(s *shop.Shop) { in.Blocks = s.VBlocks })
	return c.Command
}

// placement binds where the work really lies.
func placement(c *command, p *holes.Placement) {
	length.flag(c, &p.ShiftX, "shift-x", "where the drawing's datum really lies, along x")
	length.flag(c, &p.ShiftY, "shift-y", "and along y")
	angle.flag(c, &p.Rotate, "rotate", "how far the work lies turned, counter-clockwise about the datum")
}

func holesCircle(a *app) *cobra.Command {
	c, in := question(a, holes.Circle, "circle", "holes on a circle or an arc, as places for the table",
		"setover holes circle --count 6 --circle 40")
	count.flag(c, &in.Count, "count", "how many holes").required()
	length.flag(c, &in.Circle, "circle", "the diameter of the circle through the centres").required()
	angle.flag(c, &in.Start, "start-angle", "where the first hole is, counter-clockwise from the x direction")
	angle.maybe(c, &in.Arc, "arc", "the angle from the first hole to the last; left out, all the way round")
	length.flag(c, &in.CentreX, "centre-x", "the circle's centre from the datum, along x")
	length.flag(c, &in.CentreY, "centre-y", "and along y")
	length.maybe(c, &in.Dia, "dia", "the diameter of the holes, for the wall between them")
	placement(c, &in.Placement)
	table(c, &in.Table)
	return c.Command
}

func holesGrid(a *app) *cobra.Command {
	c, in := question(a, holes.Grid, "grid", "holes in rows and columns, as places for the table",
		"setover holes grid --columns 4 --rows 3 --pitch-x 12 --pitch-y 10")
	count.flag(c, &in.Columns, "columns", "how many along x").required()
	count.flag(c, &in.Rows, "rows", "how many along y").required()
	length.maybe(c, &in.PitchX, "pitch-x", "from column to column")
	length.maybe(c, &in.PitchY, "pitch-y", "from row to row")
	length.flag(c, &in.X, "start-x", "the first hole from the datum, along x")
	length.flag(c, &in.Y, "start-y", "and along y")
	c.toggle(&in.Stagger, "stagger", "every second row half a pitch on")
	placement(c, &in.Placement)
	table(c, &in.Table)
	return c.Command
}

func holesSlot(a *app) *cobra.Command {
	c, in := question(a, holes.ChainDrill, "slot", "a slot chain-drilled: how many holes, where, and what is left to file",
		"setover holes slot --length 18 --width 6 --web 0.5")
	length.flag(c, &in.Length, "length", "the length of the slot over its round ends").required()
	length.flag(c, &in.Width, "width", "the width of the slot").required()
	length.flag(c, &in.Web, "web", "the thinnest wall to leave between holes").required()
	length.flag(c, &in.Leave, "leave", "what to leave on every side to file")
	length.maybe(c, &in.Drill, "drill", "the drill to use; left out, the largest in the drawer that fits")
	length.flag(c, &in.CentreX, "centre-x", "the slot's middle from the datum, along x")
	length.flag(c, &in.CentreY, "centre-y", "and along y")
	angle.flag(c, &in.Angle, "angle", "the slot's direction, counter-clockwise from the x direction")
	placement(c, &in.Placement)
	table(c, &in.Table)
	c.needs(func(s *shop.Shop) { in.Drawer = s.Drills })
	return c.Command
}

func holesClock(a *app) *cobra.Command {
	c, in := question(a, holes.Clock, "clock", "how far a bar is rolled, from a pin in one of its holes",
		"setover holes clock --rise 1.2 --span 40")
	length.flag(c, &in.Rise, "rise", "how much higher the pin stands at one place than at the other").required()
	length.flag(c, &in.Span, "span", "between the two places, measured along the pin").required()
	angle.maybe(c, &in.Aim, "aim", "the roll the pin should have from level")
	c.needs(func(s *shop.Shop) { in.Head = s.DividingHead })
	return c.Command
}

func holesDepth(a *app) *cobra.Command {
	c, in := question(a, holes.Reach, "depth",
		"how deep the tip goes: points, breakthrough, countersinks, counterbores, centre drills",
		"setover holes depth --dia 8 --through 12")
	length.flag(c, &in.Dia, "dia", "the diameter of the drill").required()
	angle.flag(c, &in.Point, "point", "the included angle of its point").
		usually(practice.PointAngle.Written)
	length.maybe(c, &in.Through, "through", "the thickness of the work, for a hole through")
	length.maybe(c, &in.Full, "full-depth", "the depth of the full diameter, for a blind hole")
	length.maybe(c, &in.Past, "breakthrough", "how far the full diameter goes past the far side; left out, 1 mm")
	length.maybe(c, &in.Countersink, "countersink", "the diameter of a countersink at the surface")
	angle.flag(c, &in.SinkAngle, "countersink-angle", "the countersink's included angle").
		usually(practice.CountersinkAngle.Written)
	word.called("SCREW").flag(c, &in.Screw, "counterbore", "a cap screw to counterbore for")
	c.offer("counterbore", holes.Screws)
	length.maybe(c, &in.Centre, "centre", "a centre drill by its pilot diameter")
	length.maybe(c, &in.Mouth, "mouth", "the diameter it makes at the surface; left out, the standard's")
	return c.Command
}

func holesWall(a *app) *cobra.Command {
	check := func(in walls.Input) (r walls.Result, err error) {
		p, warnings, err := readPart(in.Name)
		if err != nil {
			return r, err
		}
		in.Part = p
		r, err = walls.Check(in)
		r.Warnings = append(warnings, r.Warnings...)
		return r, err
	}
	c, in := question(a, check, "wall PART", "the wall every cross hole of a part leaves, and what would mend a thin one",
		"setover holes wall testdata/plumb-bob.yaml")
	partArg(c, &in.Name)
	length.maybe(c, &in.Bar, "bar", "check at drilling time: the bar still parallel, of this diameter")
	length.maybe(c, &in.Countersink, "countersink", "a diameter that every mouth is opened to")
	return c.Command
}
