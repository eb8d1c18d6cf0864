// Package holes places holes: rows across a round bar, circles, grids and
// chain-drilled slots, each with the dial turns that reach them from the datum;
// and it seats the bar, in V-blocks, and says how deep the drill goes.
//
// A row is stated by the facts a part file's rows item has (Row), and Expand is
// the one place where those become holes: the commands, the plan and the wall
// check all call it.
//
// Positions are exact decimals. Each is set on the dial from the datum, not
// from the last hole, so that no error is carried along the row.
package holes
