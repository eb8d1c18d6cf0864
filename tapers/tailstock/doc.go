// Package tailstock cuts a taper between centres with the tailstock set over.
//
// The work turns about the line between the two centres. Moving the tailstock
// sideways by e swings that line through an angle whose sine is e/L, with L
// the distance between the centre points, while the tool still travels along
// the bed. So
//
//	e = L·sin a
//
// The shop's rule L·(D - d)/(2·l) takes the tangent for the sine. It is a
// little long; the sheet gives both and the difference.
//
// An error in L is an error in e: a bar longer by 1 mm needs sin a more. A
// tailstock that moves e at most cuts half angles up to asin(e/L), or this
// taper on work up to e/sin a long.
//
// A plain centre bears on one side of its hole when the tailstock is over.
// Ball centres do not, and L is then measured between the middles of the
// balls. A ball of the diameter b in a 60 deg hole with a mouth of m has its
// middle b from the hole's apex, so b - m·√3/2 outside the face.
//
// Source: NAVEDTRA 14076 (lathe chapter) prints the rule; the exact form is
// plane trigonometry.
package tailstock
