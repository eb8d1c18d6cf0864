// Package judge says whether a plan can be cut. It is a second reading of what
// makes a step sound, kept apart from the planner so that the two can be held
// against each other: it reads the JSON of a plan and the two files, carries
// the metal through every step by itself, and shares no code with the planner.
// It is slow and plain on purpose. Tests alone use it.
//
// The files come in as any YAML library decodes them, and are read here once
// more: a part or a shop that the program reads wrongly is judged by what the
// file says. Of the program it uses the table of materials, which is data.
//
// Lengths are float64 in mm, angles in degrees, z is the drawing's.
package judge
