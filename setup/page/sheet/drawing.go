package sheet

// Drawing is a figure in millimetres: W wide and H high, x to the right and y
// down, built by a result and drawn by a renderer to a true or stated scale.
type Drawing struct {
	Title  string
	W, H   float64
	Shapes []Shape
}

// Pen is how a line is drawn, by what it means in a technical drawing
// (ISO 128): outlines thick, hidden edges dashed, axes chain-dotted,
// dimension and extension lines thin. Shapes are drawn in their order, so that
// a shaded area comes before the lines on it.
type Pen int

// The pens.
const (
	Outline Pen = iota
	Thin
	Hidden
	Axis
	Fill  // a black area, such as an arrowhead
	Shade // a light grey area without an outline
)

// Point is a place on a drawing in mm.
type Point struct{ X, Y float64 }

// Shape is one stroke of a drawing: a Path, a Circle or a Label.
type Shape interface{ isShape() }

// Path is a run of straight lines through its points, closed or open.
type Path struct {
	Pen    Pen
	Closed bool
	Points []Point
}

// Circle is a circle about C with radius R.
type Circle struct {
	Pen Pen
	C   Point
	R   float64
}

// Label is text that starts (Align 0), is centred (1) or ends (2) at At, with
// capitals Height mm high.
type Label struct {
	At     Point
	Text   string
	Height float64
	Align  int
}

func (Path) isShape()   {}
func (Circle) isShape() {}
func (Label) isShape()  {}
