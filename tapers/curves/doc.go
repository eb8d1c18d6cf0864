// Package curves turns a dome, a ball or an arc by steps: the cross slide is
// set to one diameter after the other, the carriage to the place that belongs
// to it, and what stands between the steps is filed off.
//
// The arc has the radius R about a middle in the plane of the drawing. Where
// only its two diameters are given, a bulge out has its middle on the axis (a
// dome or a ball) and a bulge in is a fillet: it runs out along the smaller
// diameter. With a length given the arc is the one of that radius through both
// ends.
//
// A round nose of the radius r is guided on the circle R + r about the same
// middle, or R - r for a bulge in, so that it touches the arc at every step.
// Two neighbouring places, the angle e apart, leave a cusp of
//
//	(R + r)·cos(e/2) - sqrt(r² - (R + r)²·sin²(e/2)) - R
//
// above a bulge out, and for a bulge in
//
//	R - (R - r)·cos(e/2) - sqrt(r² - (R - r)²·sin²(e/2))
//
// A pointed tool turns a staircase instead; its corner stands at the larger of
// two neighbouring radii over the place of the smaller one. Nothing is ever cut
// below the arc.
package curves
