// Package tapers says what a taper is and solves one from whatever the sketch
// gives.
//
// A plain taper is a truncated cone: the large diameter D at one end, the small
// diameter d at the other, the length l between them along the axis, and the
// half angle a between the axis and the side. A plane through the axis cuts it
// in two right-angled triangles with the legs (D - d)/2 and l, so
//
//	tan a = (D - d) / (2·l)
//
// and every other way to state the slope is that one turned about:
//
//	included angle   2·a
//	1 : N            N = l / (D - d) = 1 / (2·tan a), on the diameter
//	percent          100 / N
//	taper per foot   12 / N = 24·tan a, in inches
//	slope length     l / cos a, what the compound's slide travels
//
// Half angle and included angle are never called just "angle": confusing them
// doubles or halves the taper. The included angle of a taper per foot is twice
// atan(tpf/24); atan(tpf/12) is a common slip.
//
// The packages inside this one import it: compound and tailstock set a taper
// on a machine, stages takes several in a row, fouling says what runs into what
// on the way, curves turns arcs by steps, standard holds the tapers that have a
// name, gauge measures them and puts them right, facets cuts flats on one.
package tapers
