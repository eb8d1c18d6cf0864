// Package fits gives the limits of a size in the ISO system of limits and fits
// (ISO 286-1), for sizes up to 500 mm, and what a fit of a hole and a shaft
// comes to.
//
// The standard's tables are data here, not its formulas: the tables are rounded
// by hand and differ from the formulas by up to a third. A range of sizes has
// its upper end in it: 30 belongs to 18-30.
//
// Holes follow from the shafts. With es and ei the upper and lower deviation of
// the shaft of the same letter and IT the tolerance of the grade n:
//
//	A to H   EI = -es              ES = EI + IT
//	JS       ES = +IT/2            EI = -IT/2
//	J        ES from its own table EI = ES - IT
//	K to ZC  ES = -ei + D          EI = ES - IT
//
// with D = IT(n) - IT(n-1) above 3 mm for K, M, N up to IT8 and for P to ZC up
// to IT7, and D = 0 otherwise. Two exceptions of the standard's table: N above
// IT8 has ES = 0 above 3 mm, and M6 from 250 to 315 mm has ES = -9 um.
//
// Sources: see the rows of the tables. Rows marked as from memory for small
// sizes were checked against a catalogue's technical pages, in the tests.
package fits
