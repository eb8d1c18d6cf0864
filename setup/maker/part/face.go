package part

import "setover/setup/base/units"

// Face is a face of a block. A face has two axes along which places on it are given,
// from the left, the front and the bottom: x and y of the top and the bottom, x and z
// of the front and the back, y and z of the left and the right.
type Face string

// The faces. NoFace is that of a round part.
const (
	NoFace Face = ""
	Top    Face = "top"
	Bottom Face = "bottom"
	Front  Face = "front"
	Back   Face = "back"
	LeftF  Face = "left"
	RightF Face = "right"
)

// Faces lists them.
var Faces = []Face{Top, Bottom, Front, Back, LeftF, RightF}

// Axis is x, y or z of a block, from 0.
type Axis int

// The axes.
const (
	AlongX Axis = iota
	AlongY
	AlongZ
)

// String returns the axis's letter.
func (a Axis) String() string { return string("xyz"[a]) }

// Axes returns the two axes along a face, and the one that it is square to.
func (f Face) Axes() (u, v, w Axis) {
	switch f {
	case Front, Back:
		return AlongX, AlongZ, AlongY
	case LeftF, RightF:
		return AlongY, AlongZ, AlongX
	}
	return AlongX, AlongY, AlongZ
}

// Far reports whether a face lies at the far end of its axis: the top, the back, the
// right.
func (f Face) Far() bool { return f == Top || f == Back || f == RightF }

// Opposite returns the face across the block.
func (f Face) Opposite() Face {
	return map[Face]Face{Top: Bottom, Bottom: Top, Front: Back, Back: Front, LeftF: RightF, RightF: LeftF}[f]
}

// Datum returns the face that places along an axis are measured from.
func (a Axis) Datum() Face { return []Face{LeftF, Front, Bottom}[a] }

// Size returns how large a block is along an axis.
func (b Block) Size(a Axis) units.Length { return []units.Length{b.X, b.Y, b.Z}[a] }
