// Package units holds the quantities a machine shop works in and the one way
// each is read and written.
//
// What stays exact:
//
//   - a Length is a decimal number of millimetres; 1 in = 25.4 mm exactly
//     (the international inch, ISO 31-1), so every inch size is exact too;
//   - a Pitch is a rational number of millimetres, since 24 threads per inch
//     has no finite decimal;
//   - an Angle, a speed, a feed and a power are float64: they come from
//     trigonometry or end at a scale mark, and are good to 15 figures.
//
// Trigonometry runs in float64 and comes back to a Length once, rounded to
// 1e-9 mm (FromFloat). Rounding for people has a name that says the direction:
// Nearest, Up, Down. A blind depth or a bore goes Down, a blank or a through
// hole goes Up.
//
// Text is read strictly: no exponents, no thousands marks, no decimal comma,
// at most 32 characters, and nothing is guessed.
package units
