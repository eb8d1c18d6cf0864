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
// What each form cuts off its triangle, and everything else that tells it from
// another, is its row in the table of forms (forms.go).
//
// Which sizes exist is a table (sizes.csv), parsed on first use, a source in
// every row. What does not exist is refused, and the problem says what does.
//
// The packages inside this one import it: limits gives the classes, drill the
// hole, wires the measurement over wires.
package threads
