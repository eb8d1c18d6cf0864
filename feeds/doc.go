// Package feeds chooses the speed and the feed of a cut, on the machine at
// hand, and says what the cut takes: power, force, torque and time.
//
// The material's figures come from setup/book/materials, a source on each. What is
// here is how they are used: the arithmetic of surface speed, and the trade's
// rules for operations that have no figures of their own (reaming at half the
// drilling speed, parting off at half the turning speed). Speed snaps down to
// one the machine has. Ratings of chuck, work and tool are limits: nothing is
// chosen above them, and a speed asked for above them is refused.
package feeds
