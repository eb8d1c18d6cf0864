// Package part is the part as its sketch says it: sizes and features, raw.
// Thread designations are text and rows are not expanded; the calculators that
// know about them read them. Every feature knows where it stands in the file,
// so that a calculator's problem can point at the line.
//
// z is 0 at the left end of the drawing and grows to the right. A roll is a
// direction around the bar, counter-clockwise seen from the right end; roll 0
// is up.
package part

import (
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
)

// Part is one part: Round or Block says what it is made of.
type Part struct {
	Name         string
	From         string // the file it was read from
	Hash         string // the first digits of the file's SHA-256, for the foot of a page
	Units        units.Unit
	Material     string // as written; setup/book/materials knows what it is
	MaterialAt   problem.Pos
	Quantity     int
	General      General
	StressRelief bool
	Processes    []Process
	Round        *Round
	Block        *Block
}

// Process is something done to the whole part after it is cut.
type Process struct {
	Name string // harden temper etch glue polish mark
	At   problem.Pos
}

// Round is a turned part.
type Round struct {
	Stock    *Stock        // the bar on hand; nil: the smallest that serves
	MinWall  *units.Length // written: falling short fails
	Centres  Centres
	Profile  []Station
	Chamfers []Chamfer
	Arcs     []Arc
	Facets   []Facets
	Bores    []Bore
	Threads  []Thread
	Holes    []Hole
	Rows     []Row
	Slots    []Slot
	Limits   []Limit // of the outside; those of bores and holes stand with them
	At       problem.Pos
}

// Centres says what becomes of centre holes in a part's ends.
type Centres string

// RemoveCentres is a part in which no centre hole may stay; "" is any other.
const RemoveCentres Centres = "remove"

// Station is a place on the outside: z from the left end, and the diameter.
type Station struct {
	Z, Dia units.Length
	At     problem.Pos
}

// Arc replaces the straight line of the profile between two z by a curve.
type Arc struct {
	From, To, Radius units.Length
	Out              bool // bulges out; else in
	At               problem.Pos
}

// Facets is a stretch of the outside that is a polygon. The profile's
// diameters there are across its flats, or its corners when Corners is set.
// Two sides are a pair of flats, Across from one another on a profile that
// stays round. Roll is the direction of a flat's outward normal; Leave is left
// on each flat for grinding.
type Facets struct {
	Sides    int
	From, To units.Length
	Corners  bool
	Across   units.Length // of two flats; 0 for a polygon
	Roll     units.Angle
	Leave    units.Length
	At       problem.Pos
}

// End is an end of the part, as it lies on the drawing.
type End string

// The ends.
const (
	Left  End = "left"
	Right End = "right"
)

// Bore is an axial hole from one end: the full diameter's depth, with a 118
// deg point beyond it, or through when Through is set.
type Bore struct {
	From    End
	Dia     units.Length
	Depth   units.Length
	Through bool
	Tol     *Tolerance // of its diameter; nil is the general one
	At      problem.Pos

	toMeasure bool
}

// ToMeasure returns the bore as one that is bored to what another part measures, whatever drill or reamer
// has its size. No file says so: a project does.
func (b Bore) ToMeasure() Bore {
	b.toMeasure = true
	return b
}

// IsToMeasure reports whether it is bored to what another part measures.
func (b Bore) IsToMeasure() bool { return b.toMeasure }

// Thread is a thread from one end: inside a bore to a Depth, or outside over a
// Length.
type Thread struct {
	From   End
	Spec   string
	Inside bool
	Length units.Length // of full thread
	At     problem.Pos
}

// Hole is a hole across the bar, square to its axis and Offset from it toward
// roll + 90. Depth is nil for a hole through.
type Hole struct {
	Z, Dia        units.Length
	Roll          units.Angle
	Offset        units.Length
	Depth         *units.Length
	Tol           *Tolerance // of its diameter; nil is the general one
	MissBore      bool       // it must not open into a bore
	Crossing      bool       // it may meet another hole
	ThroughThread bool       // it may run through a thread
	At            problem.Pos
}

// Row is a line of cross holes: its diameters (one with a Count when all are
// alike), where the first centre is, and one of Web, Pitch and Span.
type Row struct {
	From             units.Length
	Dias             []units.Length
	Count            int
	Web, Pitch, Span *units.Length
	Rolls            []units.Angle
	Stagger          bool
	Offset           units.Length
	Depth            *units.Length
	Tol              *Tolerance // of every diameter of the row
	MissBore         bool
	Crossing         bool
	ThroughThread    bool
	At               problem.Pos
}

// Slot is a slot: on a block between two round ends, along the first axis of its face
// turned by Angle; across a bar at Roll. Depth is nil for a slot through.
type Slot struct {
	Face          Face         // of a block
	X, Y, Z       units.Length // block: centre at X and Y along its face's axes; round: centre at Z
	Roll          units.Angle
	Length, Width units.Length
	Angle         units.Angle
	Depth         *units.Length
	ChainDrill    bool
	At            problem.Pos
}

// Block is a part milled from a rectangular block.
type Block struct {
	X, Y, Z units.Length
	MinWall *units.Length
	Slopes  []Slope
	Slots   []Slot
	Holes   []BlockHole
	At      problem.Pos
}

// Slope is a plane milled off the top or the bottom between two x. An angle is positive
// when the face rises, away from the block, toward +x or +y; its highest point stays.
type Slope struct {
	Face           Face
	FromX, ToX     units.Length
	AlongX, AlongY units.Angle
	At             problem.Pos
}

// Drop returns how far the lowest corner of a slope lies below the top of a
// block so wide: L·|tan x| + W·|tan y|, L its length along x.
func (s Slope) Drop(width units.Length) units.Length {
	return units.FromFloat(s.ToX.Minus(s.FromX).MM()*math.Abs(s.AlongX.Tan()) + width.MM()*math.Abs(s.AlongY.Tan()))
}

// Fall returns how far it lies below the block's face at x and y, across a width.
func (s Slope) Fall(width, x, y units.Length) units.Length {
	rise := func(l units.Length, a units.Angle) float64 { return l.MM() * a.Tan() }
	high := max(rise(s.FromX, s.AlongX), rise(s.ToX, s.AlongX)) + max(0, rise(width, s.AlongY))
	return units.FromFloat(high - rise(x, s.AlongX) - rise(y, s.AlongY))
}

// BlockHole is a hole into a block, square to its face: X and Y lie along the face's
// axes. Depth is nil for a hole through.
type BlockHole struct {
	Face      Face
	X, Y, Dia units.Length
	Depth     *units.Length
	Spec      string     // a thread in it, or ""
	Tol       *Tolerance // of its diameter; nil is the general one
	At        problem.Pos
}

// Length returns the part's length along z: that of its last station.
func (r Round) Length() units.Length {
	if len(r.Profile) == 0 {
		return units.Length{}
	}
	return r.Profile[len(r.Profile)-1].Z
}

// Toward returns the diameter at z on the straight line from s to the next
// point of the profile, z between the two: exact where it divides, else to 1e-9
// mm. At a shoulder it is the larger of the two.
func (s Station) Toward(next Station, z units.Length) units.Length {
	switch {
	case s.Z.Equal(next.Z):
		return units.Max(s.Dia, next.Dia)
	case z.Equal(next.Z):
		return next.Dia
	}
	rise := next.Dia.Minus(s.Dia).Scale(z.Minus(s.Z).Decimal()).Decimal()
	return s.Dia.Plus(units.FromDecimal(rise.DivRound(next.Z.Minus(s.Z).Decimal(), 9)))
}

// DiaAt returns the profile's diameter at z, straight between its points; at a
// shoulder the larger of the two. Arcs are not followed.
func (r Round) DiaAt(z units.Length) units.Length {
	var d units.Length
	for i, s := range r.Profile[1:] {
		if p := r.Profile[i]; p.Z.Cmp(z) <= 0 && z.Cmp(s.Z) <= 0 {
			d = units.Max(d, p.Toward(s, z))
		}
	}
	return d
}

// Largest returns the largest diameter of the profile.
func (r Round) Largest() units.Length {
	var d units.Length
	for _, s := range r.Profile {
		d = units.Max(d, s.Dia)
	}
	return d
}

// Project is parts that belong together.
type Project struct {
	Name  string
	From  string
	Parts []ProjectPart
	Fits  []Fit
}

// ProjectPart is a part of a project under the name the project gives it.
type ProjectPart struct {
	Key  string
	Part *Part
	At   problem.Pos
}

// Fit is how two parts of a project meet: one screwed into the other, or one
// seated on the other's cone.
type Fit struct {
	Screw, Into string
	Thread      string
	Align       string // facets, holes or ""
	Seat, On    string
	Bore        *units.Length
	At          problem.Pos
}
