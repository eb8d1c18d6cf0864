package cli

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/materials"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/setup/page/sheet"
	"setover/threads"
	"setover/threads/cut"
	"setover/threads/strength"
)

// threadOrPitchArg binds the argument that is a thread or a bare pitch.
func threadOrPitchArg(c *command, dst *cut.Thread) {
	kindOf("THREAD", bare(cut.ParseThread)).arg(c, dst)
	c.offerArgs(threads.Names)
}

// leadscrew binds the leadscrew's pitch.
func leadscrew(c *command, dst **units.Pitch) *bound {
	return kindOf("PITCH", bare(units.ParsePitch)).
		maybe(c, dst, "leadscrew", "the leadscrew's pitch, such as 3mm or 8tpi")
}

// teeth is a list of wheels, "20,25,30".
var teeth = kindOf("N,N", func(text string, u units.Unit) ([]int, error) {
	var list []int
	for word := range strings.SplitSeq(text, ",") {
		n, err := readCount(word, u)
		if err != nil {
			return nil, problem.New(problem.Malformed, "", say.Plain(text),
				"not whole numbers with commas between them: write 20,25,30")
		}
		list = append(list, n)
	}
	return list, nil
})

func threadGears(a *app) *cobra.Command {
	c, in := question(a, cut.Gears, "gears THREAD", "the change gears for a thread or a pitch, the best train first",
		"setover thread gears 1.5mm --leadscrew 8tpi --gears 20,30,40,50,60,65,127")
	threadOrPitchArg(c, &in.Thread)
	leadscrew(c, &in.Leadscrew)
	teeth.flag(c, &in.Wheels, "gears", "the wheels on hand, each as often as there is one")
	kindOf("PPM", readDecimal).
		maybe(c, &in.MaxError, "max-error", "the largest error that will do, in parts per million")
	most := count.flag(c, &in.Most, "wheels", "the most wheels in a train: 2, 4 or 6").defaults("4")
	c.offer(most.name, func() []string { return []string{"2", "4", "6"} })
	c.toggle(&in.All, "all", "every train, not the best 20")
	c.lathe(func(l *shop.Lathe) {
		in.Leadscrew, in.Wheels = l.Leadscrew, l.ChangeGears
		in.StudRatio, in.Space = l.StudRatio, l.BanjoClearance
	})
	return c.Command
}

func threadDial(a *app) *cobra.Command {
	c, in := question(a, cut.Dial, "dial THREAD", "at which marks of the thread dial the half-nuts are closed",
		"setover thread dial 1.5mm --leadscrew 3mm --dial-gears 14,15,16")
	threadOrPitchArg(c, &in.Thread)
	leadscrew(c, &in.Leadscrew)
	teeth.flag(c, &in.Gears, "dial-gears", "the gears the dial can carry")
	marks := count.flag(c, &in.Marks, "marks", "how many marks the dial has").defaults("4")
	c.lathe(func(l *shop.Lathe) {
		in.Leadscrew = l.Leadscrew
		if l.ThreadDial == nil {
			return
		}
		in.Gears = l.ThreadDial.Gears
		if !marks.set {
			marks.typed = []string{strconv.Itoa(l.ThreadDial.Marks)}
		}
	})
	return c.Command
}

func threadPasses(a *app) *cobra.Command {
	c, in := question(a, cut.Passes, "passes SPEC", "the compound's set-over and the passes of a single-point tool",
		"setover thread passes M16x1.5 --first 0.2")
	threadArg(c, &in.Spec)
	c.toggle(&in.Inside, "internal", "an inside thread")
	angle.maybe(c, &in.Infeed, "infeed", "the slide's angle from square to the axis; 0 plunges with the cross slide; "+
		"half a degree under the flank when left out")
	choice(c, &in.Nose, "nose", "the tool's point: flat when left out", cut.Noses)
	length.maybe(c, &in.First, "first", "the depth of the first cut, on the radius")
	count.maybe(c, &in.Passes, "passes", "how many passes to the full depth")
	count.flag(c, &in.Spring, "spring", "passes at the full depth after the last").
		usually(practice.SpringPasses.Written)
	length.maybe(c, &in.Relief, "relief", "the width of the relief before the shoulder; three pitches when left out")
	number.called("S").flag(c, &in.Reaction, "reaction", "how many seconds a hand takes to stop the carriage").
		usually(practice.HandReaction.Written)
	c.lathe(func(l *shop.Lathe) { in.Compound, in.Cross, in.Spindle = l.Compound, l.CrossSlide, l.Spindle })
	return c.Command
}

func threadClock(a *app) *cobra.Command {
	c, in := question(a, cut.Clock, "clock THREAD", "how far to face a screwed-on part so that it stops where it should",
		"setover thread clock M16x1.5 --turn 30")
	threadOrPitchArg(c, &in.Thread)
	angle.maybe(c, &in.Turn, "turn", "how much further it is to turn")
	count.maybe(c, &in.Sides, "sides", "or: how many sides are to line up, whichever they are")
	var left bool
	c.toggle(&left, "left", "a left-hand thread, for a bare pitch")
	angle.flag(c, &in.Short, "short", "how far short the first facing aims").defaults("5deg")
	angle.flag(c, &in.Within, "within", "how near the shims bring it").defaults("2deg")
	c.checked(func() error {
		in.Left = in.Left || left
		return nil
	})
	return c.Command
}

func threadEngage(a *app) *cobra.Command {
	c, in := question(a, strength.Engage, "engage SPEC",
		"how much thread a screw needs so that it breaks before a thread strips",
		"setover thread engage M8 --screw medium-carbon-steel --nut aluminium-6061")
	threadArg(c, &in.Spec)
	stuff := kindOf("MATERIAL", bare(strength.StuffOf))
	stuff.flag(c, &in.Screw, "screw", "what the screw is made of").required()
	stuff.flag(c, &in.Nut, "nut", "what the nut, or the tapped part, is made of").required()
	c.offer("screw", materials.Names)
	c.offer("nut", materials.Names)
	classFlag(c, &in.Class)
	return c.Command
}

func threadFlats(a *app) *cobra.Command {
	c, in := question(a, cut.Flats, "flats SPEC", "how much of a thread a flat bar holds, and how its end is filed round",
		"setover thread flats M8 --bar 12x5")
	threadArg(c, &in.Spec)
	kind[cut.Bar]{"WxT", cut.ParseBar, func(b cut.Bar) sheet.Value { return say.Of(b.Width, " x ", b.Thickness) }}.
		flag(c, &in.Bar, "bar", "the bar's width and thickness").required()
	return c.Command
}
