// Package gauge measures tapers and puts them right: the sine bar with its
// gauge blocks, rolls, discs and balls, and what to change when a cone comes
// out wrong.
//
// A sine bar of the length L between its rolls, one of them raised by H, lies
// at the angle whose sine is H/L. The same holds for a vice or a piece of work
// that stands on two edges L apart. Blocks are wrung together to H, as few as
// will do, since every joint and every block adds its error. The stack here has
// the fewest there are: the search keeps, for every height on the set's grid,
// the least number of blocks that makes it.
//
// A plug is measured over two rolls, on the plate and again with both raised.
// Two discs that both touch a taper's sides are the same figure as two balls in
// a taper bore, seen from outside.
//
// Each can be worked from what is measured to the taper or from the taper to
// what should be measured, and says what a micrometre of reading costs in the
// angle.
package gauge
