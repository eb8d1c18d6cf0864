package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"setover/feeds"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/curves"
	"setover/tapers/fouling"
	"setover/tapers/stages"
	"setover/tapers/standard"
	"setover/tapers/swivel"
	"setover/tapers/tailstock"
	"setover/tapers/way"
)

func taperGroup(a *app) *cobra.Command {
	return newParent("taper", "setover taper solve --large 30 --small 20 --length 60",
		taperSolve(a), taperCompound(a), taperTailstock(a), taperStages(a),
		taperWay(a), taperStandard(a), taperStandards(a), taperSine(a), taperGauge(a), taperCorrect(a), taperSeat(a),
		taperCurve(a))
}

// geometry binds the flags that say what a taper is.
func geometry(c *command, in *tapers.Input) {
	length.maybe(c, &in.Large, "large", "the large diameter")
	length.maybe(c, &in.Small, "small", "the small diameter")
	length.maybe(c, &in.Length, "length", "the length between them, along the axis")
	angle.maybe(c, &in.HalfAngle, "half-angle", "the angle from the axis to the side")
	angle.maybe(c, &in.Included, "included", "the angle from side to side")
	kindOf("M:N", bare(tapers.ParseRatio)).maybe(c, &in.Ratio, "ratio", "the taper on the diameter, such as 1:20")
	number.called("IN").maybe(c, &in.PerFoot, "per-foot", "the taper on the diameter in inches per foot")
	number.called("P").maybe(c, &in.Percent, "percent", "the taper on the diameter in percent")
	// Bound last, so that what the name leaves open is read by then.
	kindOf("NAME", func(text string, _ units.Unit) (tapers.Input, error) {
		s, err := standard.Find(text)
		if err != nil {
			return *in, err
		}
		return s.Input(*in)
	}).flag(c, in, "standard", "a standard taper instead, such as MT2")
	c.offer("standard", standard.Names)
}

func smallEnd(c *command, dst *tapers.End) *bound {
	return choice(c, dst, "small-end", "which end of the lathe the small end is at", tapers.Ends)
}

// place binds the flags that say where a taper stands and how it is cut.
func place(c *command, p *fouling.Place) {
	length.maybe(c, &p.FromJaws, "from-jaws", "from the face of the jaws to the headstock's end: checks what may foul")
	length.maybe(c, &p.CentreAt, "centre-at", "from the jaws to the point of a centre that holds the work")
	choice(c, &p.ToolHand, "tool-hand", "the hand of the tool", fouling.Hands)
	choice(c, &p.PostSide, "post-side", "the side of the post the holder hangs on", fouling.Sides)
	choice(c, &p.PostTurn, "post-turn", "how the post stands", fouling.Turns)
	angle.maybe(c, &p.PostTurned, "post-turned",
		"how far a square post is turned clockwise, seen from above; the other way with a minus")
	length.maybe(c, &p.Overhang, "overhang", "how far the tip stands beyond the post, where not as the shop has it")
	barrel := length.maybe(c, &p.BarrelOut, "barrel-out",
		"how far the tailstock's barrel stands out, where not as the shop has it")
	choice(c, &p.Handle, "handle", "which way round the compound's slide stands", fouling.Handles)
	c.toggle(&p.All, "all", "every way that would clear, not the best 3")
	c.checked(func() error {
		if barrel.set && p.CentreAt == nil {
			return problem.New(problem.Missing, "centre-at", nil, "is needed with ", say.Key("barrel-out"),
				": without a centre the tailstock is not looked at")
		}
		return nil
	})
}

func taperSolve(a *app) *cobra.Command {
	c, in := question(a, tapers.SolveSheet, "solve", "what taper is this: every way to say it, from any that is enough",
		"setover taper solve --large 30 --small 20 --length 60")
	geometry(c, in)
	return c.Command
}

func taperCompound(a *app) *cobra.Command {
	c, in := question(a, compound.Set, "compound", "what the compound slide is set to, on this lathe's scale",
		"setover taper compound --large 30 --small 20 --length 60")
	geometry(c, &in.Input)
	end := smallEnd(c, &in.SmallEnd).defaults(string(tapers.AtTailstock))
	c.toggle(&in.Internal, "internal", "a tapered bore; --small-end is then needed")
	length.flag(c, &in.ToolHeightError, "tool-height-error", "how far the tool stands above or below centre height")
	length.maybe(c, &in.Stock, "stock", "the diameter before the first pass: lists the passes")
	usual := func(length func(units.Unit) units.Length) string {
		if !c.called { // the table of practice is not read for a neighbour
			return ""
		}
		inch := say.Of(length(units.Inch)).In(units.Inch)
		return "; " + say.Of(length(units.MM)).In(units.MM) + " or " + inch + " where not given"
	}
	length.maybe(c, &in.Depth, "depth", "the most a roughing pass takes a side"+usual(practice.PassDepth.Length))
	length.maybe(c, &in.Finish, "finish", "what the last pass takes a side"+usual(practice.PassFinish.Length))
	place(c, &in.Place)
	setting(c, &in.Within, &in.Tools)
	c.needs(func(s *shop.Shop) { in.Bars = s.BoringBars })
	c.lathe(func(l *shop.Lathe) { in.Lathe = *l })
	c.checked(func() error { return boreEnd(in.Internal, end) })
	return c.Command
}

// boreEnd asks which end of a bore is small: it is no more likely to be one than
// the other.
func boreEnd(internal bool, end *bound) error {
	if internal && !end.set {
		return problem.New(problem.Missing, "small-end", nil, "a bore needs it said which end is small: write ",
			say.Choice(tapers.Ends))
	}
	return nil
}

func taperTailstock(a *app) *cobra.Command {
	c, in := question(a, tailstock.Set, "tailstock", "how far to set the tailstock over for a taper between centres",
		"setover taper tailstock --large 30 --small 28 --length 120 --between 200")
	geometry(c, &in.Input)
	length.maybe(c, &in.Between, "between", "the whole length between the centre-hole contacts")
	length.maybe(c, &in.Faces, "faces", "or, with ball centres, the length over the faces")
	length.maybe(c, &in.Ball, "ball", "the diameter of the ball centres, with --centre-hole")
	length.maybe(c, &in.Hole, "centre-hole", "the mouth of the 60 deg centre holes")
	length.maybe(c, &in.TestBar, "test-bar", "the length of the bar it is set by, where that is not the work's")
	length.maybe(c, &in.Within, "within", "the most that the far end may be out on the diameter: chooses how it is set")
	c.checked(func() error {
		in.Unit = c.app.unit
		return nil
	})
	smallEnd(c, &in.SmallEnd).defaults(string(tapers.AtTailstock))
	c.lathe(func(l *shop.Lathe) { in.Lathe = *l })
	return c.Command
}

func taperStages(a *app) *cobra.Command {
	c, in := question(a, stages.Of, "stages",
		"an outside of several tapers, cylinders and shoulders, with the order to cut them",
		"setover taper stages --station 0=34 --station 62=20 --station 106=3")
	station(func(z, dia units.Length) stages.Station { return stages.Station{Z: z, Dia: dia} }).
		each(c, &in.Stations, "station", "a place from the left end and the diameter there; at least two, left to right")
	place(c, &in.Place)
	setting(c, &in.Within, &in.Tools)
	c.needs(func(s *shop.Shop) {
		if p := s.Parting; p != nil {
			in.Blade, in.BladeReach = &p.Blade, p.Reach
		}
	})
	c.lathe(func(l *shop.Lathe) { in.Lathe = *l })
	return c.Command
}

// setting binds what a compound's swivel has to keep and what it is set with: the
// indicator is in the unit of the page.
func setting(c *command, within **units.Length, tools *swivel.Tools) {
	length.maybe(c, within, "within", "the most that the far end may be out on the diameter: chooses how the angle is set")
	c.needs(func(s *shop.Shop) { *tools = swivel.ToolsOf(s) })
	c.checked(func() error {
		tools.Unit = c.app.unit
		return nil
	})
}

func taperWay(a *app) *cobra.Command {
	c, in := question(a, way.Choose, "way",
		"which way to cut a taper on this lathe: compound, bites, tailstock, turned round or form tool, side by side",
		"setover taper way --large 30 --small 26 --length 120 --between 160")
	geometry(c, &in.Input)
	end := smallEnd(c, &in.SmallEnd).defaults(string(tapers.AtTailstock))
	c.toggle(&in.Internal, "internal", "a tapered bore; --small-end is then needed")
	length.maybe(c, &in.Between, "between", "the whole length of the work between the centre-hole contacts")
	length.maybe(c, &in.Stock, "stock", "the diameter before the first pass, else the large end's, in a bore the small")
	material.flag(c, &in.Material, "material", "what it is cut in, for the time")
	c.offer("material", materials.Names)
	choice(c, &in.Tool, "tool", "what the edge is made of", feeds.Tools()).defaults(string(feeds.HSS))
	place(c, &in.Place)
	setting(c, &in.Within, &in.Tools)
	c.needs(func(s *shop.Shop) { in.Bars, in.Drive = s.BoringBars, s.Drive(shop.OnLathe) })
	c.lathe(func(l *shop.Lathe) { in.Lathe = *l })
	c.checked(func() error { return boreEnd(in.Internal, end) })
	return c.Command
}

// station is "62=20": z and the diameter there.
func station[T any](of func(z, dia units.Length) T) kind[T] {
	return kindOf("Z=DIA", func(text string, u units.Unit) (T, error) {
		place, size, ok := strings.Cut(text, "=")
		var list problem.List
		z, err := units.ParseLength(place, u)
		list.Add(err)
		dia, err := units.ParseLength(size, u)
		list.Add(err)
		if !ok {
			list = problem.List{problem.New(problem.Malformed, "", say.Plain(text),
				"not a place with its diameter: write z=diameter, such as 62=20")}
		}
		return of(z, dia), list.Err()
	})
}

func taperStandard(a *app) *cobra.Command {
	find := func(s standard.Standard) (standard.Standard, error) { return s, nil }
	c, s := question(a, find, "standard NAME", "the sizes and angle of a standard taper, with their source",
		"setover taper standard MT2")
	kindOf("NAME", bare(standard.Find)).arg(c, s)
	c.offerArgs(standard.Names)
	return c.Command
}

func taperStandards(a *app) *cobra.Command {
	c := newCommand(a, "standards", "every standard taper known here", "setover taper standards")
	return c.runs(func() (sheet.Result, error) { return standard.Listed(), nil })
}

func taperCurve(a *app) *cobra.Command {
	c, in := question(a, curves.Of, "curve", "a dome, ball or arc by steps, with the cusp left to file",
		"setover taper curve --radius 15 --from-dia 0 --to-dia 30 --nose 1.5 --cusp 0.02")
	length.flag(c, &in.Radius, "radius", "the radius of the arc").required()
	length.flag(c, &in.From, "from-dia", "the diameter at the first end").required()
	length.flag(c, &in.To, "to-dia", "the diameter at the other end").required()
	length.maybe(c, &in.Length, "length", "along the axis, for an arc whose middle is off the axis")
	choice(c, &in.Bulge, "bulge", "the side it bends to", curves.Bulges).
		defaults(string(curves.Out))
	length.flag(c, &in.Nose, "nose", "the tool's nose radius; a pointed tool where not given")
	length.maybe(c, &in.Step, "step", "from step to step along the axis")
	length.maybe(c, &in.Cusp, "cusp", "or the highest cusp that may be left")
	smallEnd(c, &in.SmallEnd).defaults(string(tapers.AtTailstock))
	choice(c, &in.Along, "along", "the slide whose dial shows the places; the finer that reaches where not given",
		curves.AlongSlides)
	c.lathe(func(l *shop.Lathe) {
		in.Cross, in.Carriage, in.Compound, in.Room = l.CrossSlide, l.Carriage, l.Compound, new(tapers.RoomOf(*l))
	})
	return c.Command
}
