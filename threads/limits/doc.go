// Package limits gives the limits of size of a thread's class.
//
// Metric limits follow ISO 965-1 and unified ones ASME B1.1: the tolerances
// are computed by the standards' formulas and rounded as the standards round,
// so that what comes out is what their tables print. An allowance or
// fundamental deviation is taken off the basic size of the screw or added to
// that of the nut, and the tolerance goes on from there, always into the
// metal:
//
//	screw  max = basic - allowance        min = max - tolerance
//	nut    min = basic + allowance        max = min + tolerance
//
// ACME 2G follows ASME B1.5; G threads have the pitch tolerances of ISO 228-1.
// The other forms have no limits here.
package limits
