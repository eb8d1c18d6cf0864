package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/units"
	"setover/setup/bench/holes"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/setup/plan/walls"
)

func holesGroup(a *app) *cobra.Command {
	return newParent("holes", holesRow(a), holesCircle(a), holesGrid(a), holesSlot(a), holesVBlock(a), holesClock(a), holesDepth(a), holesWall(a))
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
	c.flag("material", "MATERIAL", "what is drilled, for the speed", as(&in.Material, readMaterial, nil))
	c.offer("material", materials.Names)
	dial := table(&in.Table)
	c.shop = func(s *shop.Shop) {
		dial(s)
		in.Drawer, in.Centres = s.Drills, s.CentreDrills
		in.Drive = s.Drive(shop.OnMill, shop.OnDrillPress)
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

// placement binds where the work really lies.
func placement(c *command, p *holes.Placement) {
	c.length(&p.ShiftX, "shift-x", "where the drawing's datum really lies, along x")
	c.length(&p.ShiftY, "shift-y", "and along y")
	c.angle(&p.Rotate, "rotate", "how far the work lies turned, counter-clockwise about the datum")
}

func holesCircle(a *app) *cobra.Command {
	var in holes.CircleInput
	c := newCommand(a, "circle", "holes on a circle or an arc, as places for the table",
		"setover holes circle --count 6 --circle 40")
	c.count(&in.Count, "count", "how many holes").required()
	c.length(&in.Circle, "circle", "the diameter of the circle through the centres").required()
	c.angle(&in.Start, "start-angle", "where the first hole is, counter-clockwise from the x direction")
	c.angleMaybe(&in.Arc, "arc", "the angle from the first hole to the last; left out, all the way round")
	c.length(&in.CentreX, "centre-x", "the circle's centre from the datum, along x")
	c.length(&in.CentreY, "centre-y", "and along y")
	c.lengthMaybe(&in.Dia, "dia", "the diameter of the holes, for the wall between them")
	placement(c, &in.Placement)
	c.shop = table(&in.Table)
	return c.runs(func() (sheet.Result, error) { return holes.Circle(in) })
}

func holesGrid(a *app) *cobra.Command {
	var in holes.GridInput
	c := newCommand(a, "grid", "holes in rows and columns, as places for the table",
		"setover holes grid --columns 4 --rows 3 --pitch-x 12 --pitch-y 10")
	c.count(&in.Columns, "columns", "how many along x").required()
	c.count(&in.Rows, "rows", "how many along y").required()
	c.lengthMaybe(&in.PitchX, "pitch-x", "from column to column")
	c.lengthMaybe(&in.PitchY, "pitch-y", "from row to row")
	c.length(&in.X, "start-x", "the first hole from the datum, along x")
	c.length(&in.Y, "start-y", "and along y")
	c.toggle(&in.Stagger, "stagger", "every second row half a pitch on")
	placement(c, &in.Placement)
	c.shop = table(&in.Table)
	return c.runs(func() (sheet.Result, error) { return holes.Grid(in) })
}

func holesSlot(a *app) *cobra.Command {
	var in holes.SlotInput
	c := newCommand(a, "slot", "a slot chain-drilled: how many holes, where, and what is left to file",
		"setover holes slot --length 18 --width 6 --web 0.5")
	c.length(&in.Length, "length", "the length of the slot over its round ends").required()
	c.length(&in.Width, "width", "the width of the slot").required()
	c.length(&in.Web, "web", "the thinnest wall to leave between holes").required()
	c.length(&in.Leave, "leave", "what to leave on every side to file")
	c.lengthMaybe(&in.Drill, "drill", "the drill to use; left out, the largest in the drawer that fits")
	c.length(&in.CentreX, "centre-x", "the slot's middle from the datum, along x")
	c.length(&in.CentreY, "centre-y", "and along y")
	c.angle(&in.Angle, "angle", "the slot's direction, counter-clockwise from the x direction")
	placement(c, &in.Placement)
	dial := table(&in.Table)
	c.shop = func(s *shop.Shop) {
		dial(s)
		in.Drawer = s.Drills
	}
	return c.runs(func() (sheet.Result, error) { return holes.ChainDrill(in) })
}

func holesClock(a *app) *cobra.Command {
	var in holes.ClockInput
	c := newCommand(a, "clock", "how far a bar is rolled, from a pin in one of its holes",
		"setover holes clock --rise 1.2 --span 40")
	c.length(&in.Rise, "rise", "how much higher the pin stands at one place than at the other").required()
	c.length(&in.Span, "span", "between the two places, measured along the pin").required()
	c.angleMaybe(&in.Aim, "aim", "the roll the pin should have from level")
	c.shop = func(s *shop.Shop) { in.Head = s.DividingHead }
	return c.runs(func() (sheet.Result, error) { return holes.Clock(in) })
}

func holesDepth(a *app) *cobra.Command {
	var in holes.DepthInput
	c := newCommand(a, "depth", "how deep the tip goes: points, breakthrough, countersinks, counterbores, centre drills",
		"setover holes depth --dia 8 --through 12")
	c.length(&in.Dia, "dia", "the diameter of the drill").required()
	c.defaults(c.angle(&in.Point, "point", "the included angle of its point"), "118")
	c.lengthMaybe(&in.Through, "through", "the thickness of the work, for a hole through")
	c.lengthMaybe(&in.Full, "full-depth", "the depth of the full diameter, for a blind hole")
	c.lengthMaybe(&in.Past, "breakthrough", "how far the full diameter goes past the far side; left out, 1 mm")
	c.lengthMaybe(&in.Countersink, "countersink", "the diameter of a countersink at the surface")
	c.defaults(c.angle(&in.SinkAngle, "countersink-angle", "the countersink's included angle"), "90")
	c.flag("counterbore", "SCREW", "a cap screw to counterbore for", as(&in.Screw, plainText, nil))
	c.offer("counterbore", holes.Screws)
	c.lengthMaybe(&in.Centre, "centre", "a centre drill by its pilot diameter")
	c.lengthMaybe(&in.Mouth, "mouth", "the diameter it makes at the surface; left out, the standard's")
	return c.runs(func() (sheet.Result, error) { return holes.Reach(in) })
}

func holesWall(a *app) *cobra.Command {
	var in walls.Input
	c := newCommand(a, "wall PART", "the wall every cross hole of a part leaves, and what would mend a thin one",
		"setover holes wall testdata/plumb-bob.yaml")
	partArg(c, &in.Name)
	c.lengthMaybe(&in.Bar, "bar", "check at drilling time: the bar still parallel, of this diameter")
	c.lengthMaybe(&in.Countersink, "countersink", "a diameter that every mouth is opened to")
	return c.runs(func() (sheet.Result, error) {
		p, warnings, err := readPart(in.Name)
		if err != nil {
			return nil, err
		}
		in.Part = p
		r, err := walls.Check(in)
		r.Warnings = append(warnings, r.Warnings...)
		return r, err
	})
}
