package tapers

import (
	"setover/setup/base/say"
	"setover/setup/base/units"
)

// What is said of the passes of a taper is said here, whichever slide feeds them.

// Deeper says what the passes go deeper by: at most depth a side, the last time finish. Lines
// words how far that is on the cross slide's dial, "" without one.
func Deeper(depth, finish units.Length, lines func(units.Length) say.Text) say.Text {
	return say.Of("at most ", depth, " a side", lines(depth),
		say.Shorter(", the last time by ", ", last "), finish, lines(finish))
}

// NextPass says how the next pass is come to: the cross slide off the work by so much, what fed
// back, and the cross slide deeper again.
func NextPass(off, by, back, deeper say.Text) say.Text {
	return say.Of(say.Shorter("Then cross", "Cross"), " slide ", off, " ", by, ", ", back, ", cross slide ", deeper,
		" to its next line", say.Aside(", always ", deeper, " so that its slack is out"))
}
