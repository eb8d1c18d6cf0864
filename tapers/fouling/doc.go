// Package fouling says whether the holder, the post, the compound's slide or
// its handle will meet the chuck or the tailstock while a taper is cut, and
// which other arrangement would clear.
//
// It is a plan view with heights, simple enough to check with a pencil, and a
// guide: the lathe is isolated and the chuck turned once by hand through the
// whole travel before the first cut.
//
// z runs along the spindle from the face of the jaws toward the tailstock, y
// from the axis toward the operator, so that seen from above z points right
// and y down, and a turn from z toward y is clockwise.
//
// The chuck's jaws and body and the tailstock's barrel and body are rectangles
// cut at a height h below the axis: a round of the radius R is
// sqrt(R² - h²) wide either side there, and gone where h is beyond R. The
// holder and the post are met at the height of the axis, the slide and its
// handle at that of the slide's top.
//
// The holder reaches from the tip by the overhang, and on past the post where
// it hangs on a side of it; the post is a square; the slide a rectangle whose
// axis runs under the post's centre in the direction the taper is swung to; the
// handle a circle beyond its end. They move together with the tip, from 1 mm
// before one end of the taper to 1 mm past the other. The clearance is the
// least distance of any of them from any obstacle, negative where they would
// overlap by that much.
//
// A tool fouls the work itself with its trailing edge more often than the post
// fouls anything: a taper that grows on the tip's trailing side needs a
// trailing angle 2 deg larger than the half angle. A right-hand tool trails
// toward the tailstock, a left-hand one toward the headstock.
//
// Moving the taper out of the chuck takes the bar's end, and so the centre in
// it, along.
package fouling
