// Package walls works out the wall that every cross hole of a turned part
// leaves: beside it, at the ends, to the next hole, to a bore, and at its
// mouth.
//
// All figures are for the finished part: profile, facets, bores. They are
// negative where material is missing. Rolls are counter-clockwise seen from the
// right end, 0 is up. A cross hole's axis is square to the bar's axis, points
// along its roll, and passes the bar's axis at its offset, which is positive
// toward roll + 90.
//
// The outline in the direction p at z is the profile's radius, or inside facets
// the polygon's extent
//
//	apothem/cos(d)
//
// with d the angle from p to the nearest flat's normal. What is left on a flat
// for grinding does not count. Inside threads count at their major diameter,
// outside threads at their root.
//
// Positions are float64 in here, since everything ends in a distance: lengths
// come in exact and go out rounded to 1e-9 mm. Arcs are followed by chords that
// leave them by less than 1e-6 mm.
//
// The least distance from a hole to the others is found by a sweep along the
// bar: holes are sorted by place, and for each the neighbours are looked at
// outwards until none can be nearer.
package walls
