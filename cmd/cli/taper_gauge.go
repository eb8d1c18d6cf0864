package cli

import (
	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/tapers/gauge"
	"setover/tapers/standard"
)

func taperSine(a *app) *cobra.Command {
	var in gauge.SineInput
	c := newCommand(a, "sine", "the height for an angle on a sine bar, and the fewest gauge blocks that make it",
		"setover taper sine --angle 10 --bar 100 --set metric-47")
	c.angleMaybe(&in.Angle, "angle", "the angle of the bar")
	c.lengthMaybe(&in.Height, "height", "or the height of the raised roll")
	bar := c.length(&in.Bar, "bar", "the distance between its rolls; the shop's bar where not given")
	set := choice(c, &in.Set, "set", "the set of gauge blocks; the shop's where not given", gauge.Sets())
	blocks := c.flag("block", "LEN", "a single gauge block on hand, instead of a set; repeatable", each(&in.Blocks, units.ParseLength, sheet.Len)).repeated()
	c.flag("wear-block", "LEN", "a wear block that always stands in the stack; repeatable", each(&in.Wear, units.ParseLength, sheet.Len)).repeated()
	name := c.flag("standard", "NAME", "the included angle of a standard taper, to check its plug", func(text string, _ units.Unit) (sheet.Value, error) {
		s, err := standard.Find(text)
		if err == nil && in.Angle != nil {
			err = problem.New(problem.Contradiction, "standard", s.Name, "gives the angle already: leave --angle out")
		}
		in.Angle = &s.Included
		return sheet.Ang(s.Included), err
	})
	c.offer(name.name, standard.Names)
	c.shop = func(s *shop.Shop) {
		if !bar.set && s.SineBar != nil {
			in.Bar = *s.SineBar
		}
		if g := s.GaugeBlocks; g != nil && !set.set && !blocks.set {
			in.Set, in.Blocks = g.Set, g.Pieces
		}
	}
	return c.runs(func() (sheet.Result, error) {
		if in.Bar.Sign() == 0 && !bar.set {
			return nil, problem.New(problem.Missing, "bar", nil, "no sine bar in this shop: say the distance between its rolls (sine_bar)")
		}
		return gauge.Sine(in)
	})
}

func taperGauge(a *app) *cobra.Command {
	return newSubParent("gauge", "a taper by rolls, discs or balls: from what is measured, or what should be",
		"setover taper gauge rolls --roll 10 --height 40 --over 46.1 --over-raised 50.1", gaugeRolls(a), gaugeDiscs(a), gaugeBalls(a))
}

func gaugeRolls(a *app) *cobra.Command {
	var in gauge.RollsInput
	c := newCommand(a, "rolls", "a plug on its small end between two rolls",
		"setover taper gauge rolls --roll 10 --height 40 --over 46.1 --over-raised 50.1")
	geometry(c, &in.Input)
	c.length(&in.Roll, "roll", "the diameter of the rolls").required()
	c.length(&in.Height, "height", "the blocks the rolls are raised by").required()
	c.lengthMaybe(&in.Over, "over", "measured over the rolls on the plate")
	c.lengthMaybe(&in.OverRaised, "over-raised", "measured over the rolls raised")
	return c.runs(func() (sheet.Result, error) { return gauge.Rolls(in) })
}

func gaugeDiscs(a *app) *cobra.Command {
	var in gauge.DiscsInput
	c := newCommand(a, "discs", "two discs that touch both sides of the taper",
		"setover taper gauge discs --large-disc 30 --small-disc 20 --gap 15")
	geometry(c, &in.Input)
	c.length(&in.LargeDisc, "large-disc", "the diameter of the large disc").required()
	c.length(&in.SmallDisc, "small-disc", "the diameter of the small disc").required()
	c.lengthMaybe(&in.Gap, "gap", "the gap between the discs")
	return c.runs(func() (sheet.Result, error) { return gauge.Discs(in) })
}

func gaugeBalls(a *app) *cobra.Command {
	var in gauge.BallsInput
	c := newCommand(a, "balls", "two balls in a taper bore",
		"setover taper gauge balls --large-ball 40 --small-ball 32 --large-depth=-8 --small-depth 76")
	geometry(c, &in.Input)
	c.length(&in.LargeBall, "large-ball", "the diameter of the large ball").required()
	c.length(&in.SmallBall, "small-ball", "the diameter of the small ball").required()
	c.lengthMaybe(&in.LargeDepth, "large-depth", "from the face down to the top of the large ball; negative above it")
	c.lengthMaybe(&in.SmallDepth, "small-depth", "from the face down to the top of the small ball")
	return c.runs(func() (sheet.Result, error) { return gauge.Balls(in) })
}

func taperCorrect(a *app) *cobra.Command {
	var in gauge.CorrectInput
	c := newCommand(a, "correct", "what to change when a taper came out wrong, from two diameters or from blueing",
		"setover taper correct --ratio 1:20 --measured 5=29.2 --measured 55=26.8")
	geometry(c, &in.Input)
	c.flag("measured", "Z=DIA", "a diameter measured at a place along the work; two of them",
		each(&in.Measured, readReading, func(gauge.Reading) sheet.Value { return nil })).repeated()
	choice(c, &in.Blue, "blue", "the end where the blue rubbed off", words(gauge.Ends))
	c.toggle(&in.Internal, "internal", "the work is a bore, blued with a plug")
	c.lengthMaybe(&in.Between, "between", "the length between centres, where the tailstock is set over")
	return c.runs(func() (sheet.Result, error) { return gauge.Correct(in) })
}

func readReading(text string, u units.Unit) (gauge.Reading, error) {
	z, dia, err := readPlace("measured", text, u)
	return gauge.Reading{Z: z, Dia: dia}, err
}

func taperSeat(a *app) *cobra.Command {
	var in gauge.SeatInput
	c := newCommand(a, "seat", "where a collar's bore stops on a cone",
		"setover taper seat --large 34 --small 20 --length 62 --bore 22")
	geometry(c, &in.Input)
	c.length(&in.Bore, "bore", "the collar's bore").required()
	return c.runs(func() (sheet.Result, error) { return gauge.Seat(in) })
}
