// Package gauge measures tapers and puts them right: the sine bar with its
// gauge blocks, rolls, discs and balls, and what to change when a cone comes
// out wrong.
//
// A sine bar of the length L between its rolls, one of them raised by H, lies
// at the angle a:
//
//	H = L·sin a
//
// The same holds for a vice or a piece of work that stands on two edges L
// apart. Blocks are wrung together to H, as few as will do, since every joint
// and every block adds its error. The stack here has the fewest there are: the
// search keeps, for every height on the set's grid, the least number of blocks
// that makes it.
//
// A plug that stands on its small end between two rolls of the diameter w is
// measured over the rolls, on the plate and again with both raised by H:
//
//	tan a = (M2 - M1) / (2·H)
//	M1    = d + w·(1 + tan(45 + a/2))
//
// Two discs that both touch the taper's sides, their middles C apart, are a
// taper of sin a = (D1 - D2)/(2·C), C = gap + (D1 + D2)/2. Two balls in a
// taper bore are the same figure seen from inside.
//
// Each can be worked from what is measured to the taper or from the taper to
// what should be measured, and says what a micrometre of reading costs in the
// angle.
package gauge
