// Package threads says what a screw thread is: its designation, read strictly
// and written in one way, and its basic sizes.
//
// In the letters of ISO 68-1, with the pitch P and the lead Ph (P times the
// number of starts):
//
//	H   height of the sharp triangle; √3/2·P for 60°
//	d   major diameter of the external thread, D of the internal one
//	d2  pitch diameter, where thread and groove are equally wide
//	D1  minor diameter of the internal thread: the hole before tapping
//	d3  root of the external thread
//
// The forms and what each cuts off its triangle:
//
//	metric, unified  60°    d2 = d - 0.649519 P   D1 = d - 1.082532 P
//	Whitworth, G, R  55°    d2 = d - 0.640327 P   D1 = d - 1.280654 P
//	BA               47.5°  depth 0.6 P to the nearest 0.005 mm
//	trapezoidal      30°    d2 = d - P/2          D1 = d - P
//	ACME             29°    d2 = d - P/2          D1 = d - P
//	NPT              60°    on a cone of 1:16, depth 0.8 P
//
// Which sizes exist is a table (sizes.csv), parsed on first use, a source in
// every row. What does not exist is refused, and the problem says what does.
//
// The packages inside this one import it: limits gives the classes, drill the
// hole, wires the measurement over wires.
package threads
