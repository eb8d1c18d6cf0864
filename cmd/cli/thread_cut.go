package cli

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/cut"
	"setover/threads/strength"
)

// threadOrPitchArg binds the argument that is a thread or a bare pitch.
func threadOrPitchArg(c *command, dst *cut.Thread) {
	c.arg("THREAD", as(dst, bare(cut.ParseThread), nil))
	c.offerArgs(threads.Names)
}

// teeth binds a list of wheels.
func (c *command) teeth(dst *[]int, name, usage string) *bound {
	return c.flag(name, "N,N", usage, as(dst, readCounts, nil))
}

// leadscrew binds the leadscrew's pitch.
func leadscrew(c *command, dst **units.Pitch) *bound {
	return c.flag("leadscrew", "PITCH", "the leadscrew's pitch, such as 3mm or 8tpi", maybe(dst, bare(units.ParsePitch), nil))
}

// readCounts reads "20,25,30": whole numbers with commas between them.
func readCounts(text string, u units.Unit) ([]int, error) {
	var list []int
	for _, word := range strings.Split(text, ",") {
		n, err := readCount(word, u)
		if err != nil {
			return nil, problem.New(problem.Malformed, "", text, "not whole numbers with commas between them: write 20,25,30")
		}
		list = append(list, n)
	}
	return list, nil
}

func threadGears(a *app) *cobra.Command {
	in := cut.GearsInput{}
	c := newCommand(a, "gears THREAD", "the change gears for a thread or a pitch, the best train first",
		"setover thread gears 1.5mm --leadscrew 8tpi --gears 20,30,40,50,60,65,127")
	threadOrPitchArg(c, &in.Thread)
	screw := leadscrew(c, &in.Leadscrew)
	wheels := c.teeth(&in.Wheels, "gears", "the wheels on hand, each as often as there is one")
	c.flag("max-error", "PPM", "the largest error that will do, in parts per million", maybe(&in.MaxError, readDecimal, nil))
	most := c.defaults(c.count(&in.Most, "wheels", "the most wheels in a train: 2, 4 or 6"), "4")
	c.offer(most.name, func() []string { return []string{"2", "4", "6"} })
	c.toggle(&in.All, "all", "every train, not the best 20")
	c.shop = func(s *shop.Shop) {
		l := s.Lathe
		if l == nil {
			return
		}
		if !screw.set {
			in.Leadscrew = l.Leadscrew
		}
		if !wheels.set {
			in.Wheels = l.ChangeGears
		}
		in.StudRatio, in.Space = l.StudRatio, l.BanjoClearance
	}
	return c.runs(func() (sheet.Result, error) { return cut.Gears(in) })
}

func threadDial(a *app) *cobra.Command {
	var in cut.DialInput
	c := newCommand(a, "dial THREAD", "at which marks of the thread dial the half-nuts are closed",
		"setover thread dial 1.5mm --leadscrew 3mm --dial-gears 14,15,16")
	threadOrPitchArg(c, &in.Thread)
	screw := leadscrew(c, &in.Leadscrew)
	wheels := c.teeth(&in.Gears, "dial-gears", "the gears the dial can carry")
	marks := c.defaults(c.count(&in.Marks, "marks", "how many marks the dial has"), "4")
	c.shop = func(s *shop.Shop) {
		l := s.Lathe
		if l == nil {
			return
		}
		if !screw.set {
			in.Leadscrew = l.Leadscrew
		}
		if l.ThreadDial == nil {
			return
		}
		if !wheels.set {
			in.Gears = l.ThreadDial.Gears
		}
		if !marks.set {
			marks.typed = []string{strconv.Itoa(l.ThreadDial.Marks)}
		}
	}
	return c.runs(func() (sheet.Result, error) { return cut.Dial(in) })
}

func threadPasses(a *app) *cobra.Command {
	var in cut.PassesInput
	c := newCommand(a, "passes SPEC", "the compound's set-over and the passes of a single-point tool",
		"setover thread passes M16x1.5 --first 0.2")
	threadArg(c, &in.Spec)
	c.toggle(&in.Inside, "internal", "an inside thread")
	c.angleMaybe(&in.Infeed, "infeed", "the slide's angle from square to the axis; 0 plunges with the cross slide; half a degree under the flank when left out")
	choice(c, &in.Nose, "nose", "the tool's point: flat when left out", cut.Noses)
	c.lengthMaybe(&in.First, "first", "the depth of the first cut, on the radius")
	c.flag("passes", "N", "how many passes to the full depth", maybe(&in.Passes, readCount, nil))
	c.defaults(c.count(&in.Spring, "spring", "passes at the full depth after the last"), "2")
	c.lengthMaybe(&in.Relief, "relief", "the width of the relief before the shoulder; three pitches when left out")
	c.defaults(c.flag("reaction", "S", "how many seconds a hand takes to stop the carriage", as(&in.Reaction, readNumber, nil)), "1")
	c.shop = func(s *shop.Shop) {
		if s.Lathe != nil {
			in.Compound, in.Cross, in.Spindle = s.Lathe.Compound, s.Lathe.CrossSlide, s.Lathe.Spindle
		}
	}
	return c.runs(func() (sheet.Result, error) { return cut.Passes(in) })
}

func threadClock(a *app) *cobra.Command {
	var in cut.ClockInput
	c := newCommand(a, "clock THREAD", "how far to face a screwed-on part so that it stops where it should",
		"setover thread clock M16x1.5 --turn 30")
	threadOrPitchArg(c, &in.Thread)
	c.angleMaybe(&in.Turn, "turn", "how much further it is to turn")
	c.flag("sides", "N", "or: how many sides are to line up, whichever they are", maybe(&in.Sides, readCount, nil))
	var left bool
	c.toggle(&left, "left", "a left-hand thread, for a bare pitch")
	c.defaults(c.angle(&in.Short, "short", "how far short the first facing aims"), "5deg")
	c.defaults(c.angle(&in.Within, "within", "how near the shims bring it"), "2deg")
	return c.runs(func() (sheet.Result, error) {
		in.Left = in.Left || left
		return cut.Clock(in)
	})
}

func threadEngage(a *app) *cobra.Command {
	var in strength.Input
	c := newCommand(a, "engage SPEC", "how much thread a screw needs so that it breaks before a thread strips",
		"setover thread engage M8 --screw medium-carbon-steel --nut aluminium-6061")
	threadArg(c, &in.Spec)
	for _, f := range []struct {
		dst         *strength.Stuff
		name, usage string
	}{{&in.Screw, "screw", "what the screw is made of"}, {&in.Nut, "nut", "what the nut, or the tapped part, is made of"}} {
		c.flag(f.name, "MATERIAL", f.usage, as(f.dst, bare(strength.StuffOf), nil)).required()
		c.offer(f.name, materials.Names)
	}
	classFlag(c, &in.Class)
	return c.runs(func() (sheet.Result, error) { return strength.Engage(in) })
}

// section shows a bar by its two sides.
func section(b cut.Bar) sheet.Value {
	return sheet.Text(sheet.Inline(b.Width, units.Nearest) + " x " + sheet.Inline(b.Thickness, units.Nearest))
}

func threadFlats(a *app) *cobra.Command {
	var in cut.FlatsInput
	c := newCommand(a, "flats SPEC", "how much of a thread a flat bar holds, and how its end is filed round",
		"setover thread flats M8 --bar 12x5")
	threadArg(c, &in.Spec)
	c.flag("bar", "WxT", "the bar's width and thickness", as(&in.Bar, cut.ParseBar, section)).required()
	return c.runs(func() (sheet.Result, error) { return cut.Flats(in) })
}
