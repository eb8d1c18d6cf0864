// Package facets cuts a regular polygon on a round bar or on a cone.
//
// A polygon of n sides sits between two circles: the one its flats touch, of
// radius A (the apothem), and the one its corners lie on, of radius R. In the
// triangle from the centre to the middle of a flat and to a corner the angle
// at the centre is 180/n, so
//
//	A = R·cos(180/n)
//	side = 2·R·sin(180/n) = 2·A·tan(180/n)
//
// For an even number of sides a flat stands opposite a flat and the size
// across flats is 2·A. For an odd number a corner stands opposite a flat: the
// height from one to the other is A + R = A·(1 + 1/cos(180/n)), and that is
// what "across flats" means there. Taking half of it for the apothem is the
// classic mistake.
//
// The blank must reach the corners, and where something is left on each flat
// for grinding, the corners of the larger polygon.
//
// On a cone the flats are planes that rise from the axis by the facet half
// angle f, the corners lines that rise by the corner half angle c, which is
// steeper:
//
//	tan f = (A1 - A2)/l
//	tan c = (A1 - A2)/(l·cos(180/n))
//
// The blank is turned to c and tilted by f for the flats. In a cradle the axis
// then stands A·cos f over the flat's plane, at the large end and at the small
// one.
//
// A flat that is being ground grows as a chord of the round: 2·sqrt(B² - (B -
// t)²) at the depth t in a round of the radius B. Once both neighbours are
// finished they bound it instead.
//
// A plane that rises by X along one edge of a block and by Y along the other is
// steepest in the direction atan(tan Y/tan X), by atan(sqrt(tan²X + tan²Y)). In
// two tilts the second is not Y but atan(tan Y·cos X), since the edge it was
// measured over is tilted by then.
package facets
