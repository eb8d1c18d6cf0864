package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/curves"
	"setover/tapers/fouling"
	"setover/tapers/stages"
	"setover/tapers/standard"
	"setover/tapers/tailstock"
)

func taperGroup(a *app) *cobra.Command {
	return newParent("taper", taperSolve(a), taperCompound(a), taperTailstock(a), taperStages(a),
		taperStandard(a), taperStandards(a), taperSine(a), taperGauge(a), taperCorrect(a), taperSeat(a), taperCurve(a))
}

// geometry binds the flags that say what a taper is.
func geometry(c *command, in *tapers.Input) {
	c.lengthMaybe(&in.Large, "large", "the large diameter")
	c.lengthMaybe(&in.Small, "small", "the small diameter")
	c.lengthMaybe(&in.Length, "length", "the length between them, along the axis")
	c.angleMaybe(&in.HalfAngle, "half-angle", "the angle from the axis to the side")
	c.angleMaybe(&in.Included, "included", "the angle from side to side")
	c.flag("ratio", "M:N", "the taper on the diameter, such as 1:20", maybe(&in.Ratio, bare(tapers.ParseRatio), nil))
	c.flag("per-foot", "IN", "the taper on the diameter in inches per foot", maybe(&in.PerFoot, readNumber, nil))
	c.flag("percent", "P", "the taper on the diameter in percent", maybe(&in.Percent, readNumber, nil))
	// Bound last, so that what the name leaves open is read by then.
	c.flag("standard", "NAME", "a standard taper instead, such as MT2", func(text string, _ units.Unit) (sheet.Value, error) {
		s, err := standard.Find(text)
		if err != nil {
			return nil, err
		}
		*in, err = s.Input(*in)
		return nil, err
	})
	c.offer("standard", standard.Names)
}

func smallEnd(c *command, dst *tapers.End) *bound {
	return choice(c, dst, "small-end", "which end of the lathe the small end is at", words(tapers.Ends))
}

// place binds the flags that say where a taper stands and how it is cut.
func place(c *command, p *fouling.Place) {
	c.lengthMaybe(&p.FromJaws, "from-jaws", "from the face of the jaws to the headstock's end: checks what may foul")
	c.lengthMaybe(&p.CentreAt, "centre-at", "from the jaws to the point of a centre that holds the work")
	choice(c, &p.ToolHand, "tool-hand", "the hand of the tool", words(fouling.Hands))
	choice(c, &p.PostSide, "post-side", "the side of the post the holder hangs on", words(fouling.Sides))
	choice(c, &p.PostTurn, "post-turn", "how the post stands", words(fouling.Turns))
	choice(c, &p.Handle, "handle", "which way round the compound's slide stands", words(fouling.Handles))
}

// words returns the names of a choice.
func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}

func taperSolve(a *app) *cobra.Command {
	var in tapers.Input
	c := newCommand(a, "solve", "what taper is this: every way to say it, from any that is enough",
		"setover taper solve --large 30 --small 20 --length 60")
	geometry(c, &in)
	return c.runs(func() (sheet.Result, error) { return tapers.SolveSheet(in) })
}

func taperCompound(a *app) *cobra.Command {
	var in compound.Input
	c := newCommand(a, "compound", "what the compound slide is set to, on this lathe's scale",
		"setover taper compound --large 30 --small 20 --length 60")
	geometry(c, &in.Input)
	end := c.defaults(smallEnd(c, &in.SmallEnd), string(tapers.AtTailstock))
	c.toggle(&in.Internal, "internal", "a tapered bore; --small-end is then needed")
	c.length(&in.ToolHeightError, "tool-height-error", "how far the tool stands above or below centre height")
	c.lengthMaybe(&in.Stock, "stock", "the diameter before the first pass: lists the passes")
	usual := func(l units.Length) string { return "; " + say.Of(l).In(units.MM) + " where not given" }
	c.lengthMaybe(&in.Depth, "depth", "the most a roughing pass takes a side"+usual(practice.TaperDepth.Length()))
	c.lengthMaybe(&in.Finish, "finish", "what the last pass takes a side"+usual(practice.FinishDepth.Length()))
	place(c, &in.Place)
	c.shop = func(s *shop.Shop) {
		in.Bars = s.BoringBars
		if s.Lathe != nil {
			in.Lathe = *s.Lathe
		}
	}
	return c.runs(func() (sheet.Result, error) {
		if in.Internal && !end.set {
			return nil, problem.New(problem.Missing, "small-end", nil, "a bore needs it said which end is small: write tailstock or headstock")
		}
		return compound.Set(in)
	})
}

func taperTailstock(a *app) *cobra.Command {
	var in tailstock.Input
	c := newCommand(a, "tailstock", "how far to set the tailstock over for a taper between centres",
		"setover taper tailstock --large 30 --small 28 --length 120 --between 200")
	geometry(c, &in.Input)
	c.length(&in.Between, "between", "the whole length between the centre-hole contacts").required()
	c.lengthMaybe(&in.Ball, "ball", "the diameter of the ball centres, with --centre-hole")
	c.lengthMaybe(&in.Hole, "centre-hole", "the mouth of the 60 deg centre holes")
	c.defaults(smallEnd(c, &in.SmallEnd), string(tapers.AtTailstock))
	c.shop = func(s *shop.Shop) {
		if s.Lathe != nil {
			in.Tailstock = s.Lathe.Tailstock
		}
	}
	return c.runs(func() (sheet.Result, error) { return tailstock.Set(in) })
}

func taperStages(a *app) *cobra.Command {
	var in stages.Input
	c := newCommand(a, "stages", "an outside of several tapers, cylinders and shoulders, with the order to cut them",
		"setover taper stages --station 0=34 --station 62=20 --station 106=3")
	c.flag("station", "Z=DIA", "a place from the left end and the diameter there; at least two, left to right",
		each(&in.Stations, readStation, func(s stages.Station) sheet.Value { return nil })).repeated()
	place(c, &in.Place)
	c.shop = func(s *shop.Shop) {
		if s.Lathe != nil {
			in.Lathe = *s.Lathe
		}
	}
	return c.runs(func() (sheet.Result, error) { return stages.Of(in) })
}

func readStation(text string, u units.Unit) (stages.Station, error) {
	z, dia, err := readPlace("station", text, u)
	return stages.Station{Z: z, Dia: dia}, err
}

// readPlace reads "62=20": z and the diameter there.
func readPlace(key, text string, u units.Unit) (z, dia units.Length, err error) {
	at, size, ok := strings.Cut(text, "=")
	if !ok {
		return z, dia, problem.New(problem.Malformed, key, text, "not a place with its diameter: write z=diameter, such as 62=20")
	}
	var list problem.List
	z, err = units.ParseLength(at, u)
	list.Add(err)
	dia, err = units.ParseLength(size, u)
	list.Add(err)
	return z, dia, list.Err()
}

func taperStandard(a *app) *cobra.Command {
	var s standard.Standard
	c := newCommand(a, "standard NAME", "the sizes and angle of a standard taper, with their source",
		"setover taper standard MT2")
	c.arg("NAME", as(&s, bare(standard.Find), nil))
	c.offerArgs(standard.Names)
	return c.runs(func() (sheet.Result, error) { return s, nil })
}

func taperStandards(a *app) *cobra.Command {
	c := newCommand(a, "standards", "every standard taper known here", "setover taper standards")
	return c.runs(func() (sheet.Result, error) { return standard.Listed(), nil })
}

func taperCurve(a *app) *cobra.Command {
	var in curves.Input
	c := newCommand(a, "curve", "a dome, ball or arc by steps, with the cusp left to file",
		"setover taper curve --radius 15 --from-dia 0 --to-dia 30 --nose 1.5 --cusp 0.02")
	c.length(&in.Radius, "radius", "the radius of the arc").required()
	c.length(&in.From, "from-dia", "the diameter at the first end").required()
	c.length(&in.To, "to-dia", "the diameter at the other end").required()
	c.lengthMaybe(&in.Length, "length", "along the axis, for an arc whose middle is off the axis")
	c.defaults(choice(c, &in.Bulge, "bulge", "the side it bends to", words(curves.Bulges)), string(curves.Out))
	c.length(&in.Nose, "nose", "the tool's nose radius; a pointed tool where not given")
	c.lengthMaybe(&in.Step, "step", "from step to step along the axis")
	c.lengthMaybe(&in.Cusp, "cusp", "or the highest cusp that may be left")
	c.shop = func(s *shop.Shop) {
		if s.Lathe != nil {
			in.Cross = s.Lathe.CrossSlide
		}
	}
	return c.runs(func() (sheet.Result, error) { return curves.Of(in) })
}
