// Package compound sets a taper on the lathe's compound slide.
//
// Seen from above with the operator at the bottom, the headstock is left and
// the tailstock right. The compound's slide starts parallel to the spindle
// axis with its handle toward the tailstock; the swing is how far it is turned
// from there. The tool stands on the operator's side, so a diameter that grows
// toward the tailstock needs the handle end turned toward the operator:
// clockwise. One that shrinks needs counter-clockwise. Outsides and bores are
// alike, since in both the tool's path is the side of the cone nearest to the
// operator.
//
// The swing is the half angle. What the hand sets depends on where the scale's
// zero stands: from a zero along the axis the turn is the swing; from a zero
// across it, which stands 90 deg clockwise of the other, the turn is 90 deg
// less. A growing taper of half angle a is then 90-a counter-clockwise and a
// shrinking one 90+a. Above 45 deg a shrinking taper is cut with the slide the
// other way round (handle toward the headstock side), or the handle would
// stand behind the work.
//
// A taper longer than the slide is cut in equal bites of b along the slope:
// the slide is wound back by b and the carriage and cross slide take the tool
// on by b·cos a and b·sin a, with a the angle that was set.
//
// Where the scale does not go far enough, or its marks are too coarse, the angle
// is set with an indicator: its plunger square to the axis, it is pushed t·sin a
// while the slide travels t. An error of 0.01 deg shows as t·cos a·π/18000.
//
// A tool that stands h above or below the axis sweeps a hyperboloid instead of a
// cone. Set so that the large end comes out as drawn, the small end comes out
// large and the side hollow.
//
// From the stock, an outside is touched at the small end and fed in by (stock -
// d)/2 in all; the cone grows from there, by the infeed over tan a.
//
// What the post and the slide may run into stands in the package fouling; inside
// a bore the bar is looked at instead: it must pass the small end and reach the
// whole length.
//
// Source: US Army OD 1645 (1942) for the two ways to read a 60 deg centre;
// the rest is plane trigonometry.
package compound
