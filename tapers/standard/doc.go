// Package standard holds the tapers that have a name, each with the source of
// its figures.
//
// A self-holding taper (Morse, Brown and Sharpe, Jarno, Jacobs, metric 1:20) is
// given by two diameters and the depth between them, so the slope follows from
// the sizes:
//
//	tan a = (D - d) / (2·l)
//
// The length is the gauge depth, over which both diameters hold. Lists that
// print the shank's length beside the same diameters give a Morse 2 of 0.6144
// in per foot; it is 0.5994.
//
// Others are a slope alone: 7/24 shanks, collets, pins, pipe threads. There the
// name gives the angle and, where it names a diameter, one size; a length comes
// from the drawing. Inch taper pins are numbered by the large end, metric pins
// named by the small one. The half angle of 7/24 is atan(7/48) = 8.2971 deg;
// 8.1301 is half of atan(7/24), a common slip.
//
// A Jarno taper is a rule: number n is n/8 in at the large end, n/10 in at the
// small end and n/2 in long, 0.6 in per foot for every n.
package standard
