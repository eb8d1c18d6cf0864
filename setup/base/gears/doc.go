// Package gears finds trains of change wheels for an exact ratio, for threads
// and for differential dividing alike.
//
// A train of two wheels is a driver a and a driven wheel b; one of four is
// a/b · c/d with b and c on one stud; one of six adds e/f. Its ratio is
//
//	i = (a·c·e) / (b·d·f)
//
// turns of the last wheel to one of the first. The order of the drivers among
// themselves, and of the driven, does not change it, so a train is counted
// once however it is ordered, and comes out in the order that meshes with the
// most room to spare.
//
// # Room on the banjo
//
// Two wheels in mesh stand (a + b)/2 modules apart. The wheel c on b's stud
// must clear a's shaft, and b must clear d's:
//
//	a + b > c + k    c + d > b + k
//
// with k the diameter of a shaft and its bush in teeth (modules), and so on
// down the train. Whether the banjo's slots reach is not known here.
//
// # How the search is exact
//
// All products of one, two and three wheels are made once. For each product of
// drivers the products of driven wheels near the wanted one are found in the
// sorted list and looked at outwards, until none can be better than what was
// kept. Ratios are compared in float64 and, where those are too near to tell,
// in whole numbers.
//
// Source: elementary; the rule for room on the banjo is common practice.
package gears
