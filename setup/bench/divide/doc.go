// Package divide divides the circle: with a dividing head and its hole plates,
// by a rotary table's handwheel, in a collet block or by a chuck's jaws.
//
// A head of the ratio R takes R turns of the crank to one of the spindle, so a
// division of a circle into N takes R/N turns, and an angle A takes R·A/360. The
// whole turns are counted; the fraction f is counted on a circle of c holes as
// f·c spaces. When that is a whole number the circle is exact. All of this is
// done in whole numbers, so "exact" means exact.
//
// Where no circle serves, the nearest hole is named with its error, and with
// change wheels between the spindle and the plate the division comes out exact
// after all: Differential.
//
// Sources: US Army OD 16448 (milling, the dividing head); the differential
// formula as in the handbooks, from memory.
package divide
