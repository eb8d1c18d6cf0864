// Package stages takes an outside of several stages - cylinders, tapers both
// ways and shoulders - one after the other, and says how the compound is set
// for each, which hand of tool cuts it and in what order.
//
// A stage grows or shrinks toward the tailstock; stations run from the left
// end of the drawing, which is the headstock's. Two stations at one z make a
// shoulder. A right-hand tool cuts toward the headstock and its trailing edge
// faces the tailstock; it cuts a taper that grows toward the tailstock only
// where that edge stands off by more than the half angle and 2 deg. Otherwise
// a left-hand tool cuts it, from the small end up.
//
// The order keeps the work stiff and the slide true: cylinders and shoulders
// while the compound stands along the axis, the largest diameters first, then
// the tapers, those of one setting together.
//
// With a place given, every taper is checked for what may foul, as the package
// fouling has it; the part's other stages are then in the way of the tool post,
// but not of the holder, whose tip is in the cut.
package stages
