// Package drill gives the hole a thread is tapped in: the percentage of thread
// to aim at, the drills on both sides of it, what each really cuts, how deep
// to drill, and the clearance hole for the screw.
//
// How full a thread is is told on two bases, and each figure names its own:
//
//	percent      100 % = 1.299038 P, the sharp-V depth of the inch charts
//	percent_iso  100 % = 1.082532 P, the depth of ISO 68-1, of tap makers
//
// M10 drilled 8.5 mm is 77 % on the first and 92 % on the second. Threads that
// are not 60° have one base, their own full depth.
package drill
