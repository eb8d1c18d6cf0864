package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers"
	"setover/tapers/fouling"
	"setover/tapers/gauge"
	"setover/tapers/sine"
	"setover/tapers/standard"
	"setover/tapers/swivel"
)

func taperSine(a *app) *cobra.Command {
	c, in := question(a, sine.Of, "sine", "the height for an angle on a sine bar, and the fewest gauge blocks that "+
		"make it",
		"setover taper sine --angle 10 --bar 100 --set metric-47")
	angle.maybe(c, &in.Angle, "angle", "the angle of the bar")
	length.maybe(c, &in.Height, "height", "or the height of the raised roll")
	bar := length.flag(c, &in.Bar, "bar", "the distance between its rolls; the shop's bar where not given")
	set := choice(c, &in.Set, "set", "the set of gauge blocks; the shop's where not given", sine.Sets())
	blocks := length.each(c, &in.Blocks, "block", "a single gauge block on hand, instead of a set; repeatable")
	length.each(c, &in.Wear, "wear-block", "a wear block that always stands in the stack; repeatable")
	kind[units.Angle]{"NAME", func(text string, _ units.Unit) (units.Angle, error) {
		s, err := standard.Find(text)
		if err == nil && in.Angle != nil {
			err = problem.New(problem.Contradiction, "", s.Name, "gives the angle already: leave ", say.Key("angle"), " out")
		}
		return s.Included, err
	}, sheet.Ang}.maybe(c, &in.Angle, "standard", "the included angle of a standard taper, to check its plug")
	c.offer("standard", standard.Names)
	c.needs(func(s *shop.Shop) {
		if s.SineBar != nil {
			in.Bar = *s.SineBar
		}
		if g := s.GaugeBlocks; g != nil && !set.set && !blocks.set {
			in.Set, in.Blocks = g.Set, g.Pieces
		}
	})
	c.checked(func() error {
		if in.Bar.Sign() == 0 && !bar.set {
			return problem.New(problem.Missing, "bar", nil,
				"no sine bar in this shop: say the distance between its rolls (sine_bar)")
		}
		return nil
	})
	return c.Command
}

func taperGauge(a *app) *cobra.Command {
	return newSubParent("gauge", "a taper by rolls, discs or balls: from what is measured, or what should be",
		"setover taper gauge rolls --roll 10 --height 40 --over 46.1 --over-raised 50.1",
		gaugeRolls(a), gaugeDiscs(a), gaugeBalls(a))
}

func gaugeRolls(a *app) *cobra.Command {
	c, in := question(a, gauge.Rolls, "rolls", "a plug on its small end between two rolls",
		"setover taper gauge rolls --roll 10 --height 40 --over 46.1 --over-raised 50.1")
	geometry(c, &in.Input)
	length.flag(c, &in.Roll, "roll", "the diameter of the rolls").required()
	length.flag(c, &in.Height, "height", "the blocks the rolls are raised by").required()
	length.maybe(c, &in.Over, "over", "measured over the rolls on the plate")
	length.maybe(c, &in.OverRaised, "over-raised", "measured over the rolls raised")
	care(c, &in.Care)
	return c.Command
}

func gaugeDiscs(a *app) *cobra.Command {
	c, in := question(a, gauge.Discs, "discs", "two discs that touch both sides of the taper",
		"setover taper gauge discs --large-disc 30 --small-disc 20 --gap 15")
	geometry(c, &in.Input)
	length.flag(c, &in.LargeDisc, "large-disc", "the diameter of the large disc").required()
	length.flag(c, &in.SmallDisc, "small-disc", "the diameter of the small disc").required()
	length.maybe(c, &in.Gap, "gap", "the gap between the discs")
	care(c, &in.Care)
	return c.Command
}

func gaugeBalls(a *app) *cobra.Command {
	c, in := question(a, gauge.Balls, "balls", "two balls in a taper bore",
		"setover taper gauge balls --large-ball 40 --small-ball 32 --large-depth=-8 --small-depth 76")
	geometry(c, &in.Input)
	length.flag(c, &in.LargeBall, "large-ball", "the diameter of the large ball").required()
	length.flag(c, &in.SmallBall, "small-ball", "the diameter of the small ball").required()
	length.maybe(c, &in.LargeDepth, "large-depth", "from the face down to the top of the large ball; negative above it")
	length.maybe(c, &in.SmallDepth, "small-depth", "from the face down to the top of the small ball")
	care(c, &in.Care)
	return c.Command
}

// care binds how far a reading may be off.
func care(c *command, to *gauge.Care) {
	usual := ""
	if c.called { // the table of practice is not read for a neighbour
		usual = say.Of("; ", practice.MicrometerError.Length(units.MM), ", or ",
			practice.MicrometerError.Length(units.Inch).Nearest().Always(units.Inch), " on a page in inches, where not given").
			In(units.MM)
	}
	length.maybe(c, &to.ReadingError, "reading-error", "how far each reading may be off, either way"+usual)
	c.checked(func() error {
		to.Unit = c.app.unit
		return nil
	})
}

func taperCorrect(a *app) *cobra.Command {
	c, in := question(a, gauge.Correct, "correct",
		"what to change when a taper came out wrong: by diameters, blue, rolls, balls, or how far it stands out",
		"setover taper correct --ratio 1:20 --measured 5=29.2 --measured 55=26.8")
	geometry(c, &in.Input)
	station(func(z, dia units.Length) gauge.Reading { return gauge.Reading{Z: z, Dia: dia} }).
		each(c, &in.Measured, "measured", "a diameter and where it was measured, from an end of the taper; two at least")
	choice(c, &in.Blue, "blue", "the end where the blue rubbed off", gauge.Ends)
	length.maybe(c, &in.Gap, "gap", "with --blue: the gap at the other end, on the diameter")
	length.maybe(c, &in.StickOut, "stick-out", "how far it stands out of its socket, or the plug out of the bore, "+
		"from where it is home; negative where it goes in too far")
	length.maybe(c, &in.Roll, "roll", "the diameter of the rolls the plug was measured over")
	length.maybe(c, &in.Height, "height", "the blocks the rolls were raised by")
	length.maybe(c, &in.Over, "over", "measured over the rolls on the plate")
	length.maybe(c, &in.OverRaised, "over-raised", "measured over the rolls raised")
	length.maybe(c, &in.LargeBall, "large-ball", "the diameter of the large ball the bore was measured by")
	length.maybe(c, &in.SmallBall, "small-ball", "the diameter of the small ball")
	length.maybe(c, &in.LargeDepth, "large-depth", "from the face down to the top of the large ball; negative above it")
	length.maybe(c, &in.SmallDepth, "small-depth", "from the face down to the top of the small ball")
	care(c, &in.Care)
	length.maybe(c, &in.PlaceError, "place-error", "how far the place of each diameter may be off, either way")
	c.toggle(&in.Internal, "internal", "the work is a bore; --small-end is then needed")
	length.maybe(c, &in.Within, "within", "the most that the far end may be out on the diameter")
	choice(c, &in.SmallEnd, "small-end", "which end of the lathe the small end is at; the tailstock's where not given",
		tapers.Ends)
	choice(c, &in.Handle, "handle", "which way round the compound's slide stands", fouling.Handles)
	angle.maybe(c, &in.SetAt, "set-at", "what the compound's scale reads now")
	length.maybe(c, &in.Between, "between", "the length between centres, where the tailstock is set over")
	c.lathe(func(l *shop.Lathe) {
		in.Compound, in.Cross, in.Tailstock, in.Tools = l.Compound, l.CrossSlide, l.Tailstock, l.Tools
		in.Carriage = l.Carriage
	})
	c.needs(func(s *shop.Shop) { in.SetBy = swivel.ToolsOf(s) })
	return c.Command
}

func taperSeat(a *app) *cobra.Command {
	c, in := question(a, gauge.Seat, "seat", "where a collar's bore stops on a cone",
		"setover taper seat --large 34 --small 20 --length 62 --bore 22")
	geometry(c, &in.Input)
	length.flag(c, &in.Bore, "bore", "the collar's bore").required()
	return c.Command
}
