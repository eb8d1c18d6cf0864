// Package limits says how well every size of a part has to be kept: what a plan
// compares the part with that will come out.
//
// What is written on a size holds: fit, by ISO 286-1, and tol, the deviations
// from what is drawn. Any other size has the general tolerance of ISO 2768-1 in
// the class of the part, medium where none is written: diameters, lengths,
// depths, sizes across flats, and the places of shoulders and holes, which are
// measured from the left end. Below 0.5 mm that is a row of practice.
//
// A taper is held by the limits of the two diameters that the profile draws,
// which may be limited one by one; where facets cut it in two the limits there
// lie on the straight lines between. Its half angle has limits only where angle
// or gauge is written. A named taper is a shank: it may be steeper than its
// name says by the row taper-rate of practice, and no flatter. A thread is held
// by the pitch diameter of its class, and what it is cut on by what its class
// lets it be turned to, 0.1 of the pitch under the basic size included.
package limits
