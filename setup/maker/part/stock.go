package part

import (
	"math"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// Shape is the section of a bar.
type Shape string

// The shapes.
const (
	RoundBar Shape = "round"
	Hex      Shape = "hex"
	Square   Shape = "square"
	Tube     Shape = "tube"
)

// Stock is a bar as it is bought.
type Stock struct {
	Shape Shape        `json:"shape"`
	Size  units.Length `json:"size_mm"` // the diameter, a tube's outside; of hex and square across flats
	Bore  units.Length `json:"bore_mm"` // of a tube; 0 for a solid bar
}

// RoundStock returns a round bar.
func RoundStock(dia units.Length) Stock { return Stock{Shape: RoundBar, Size: dia} }

// Round returns the diameter of the largest round that can be turned from it.
// A tube has its hole all the same.
func (s Stock) Round() units.Length { return s.Size }

// Sides returns how many flats it has, 0 for a round bar.
func (s Stock) Sides() int {
	switch s.Shape {
	case Hex:
		return 6
	case Square:
		return 4
	}
	return 0
}

// Swing returns the diameter of the circle it sweeps as it turns: across its
// corners, s/cos(180 deg/n) for n flats s apart.
//
// Source: elementary.
func (s Stock) Swing() units.Length {
	if n := s.Sides(); n > 0 {
		return units.FromFloat(s.Size.MM() / math.Cos(math.Pi/float64(n)))
	}
	return s.Size
}

// Words implements say.Quantity: "38 mm round", "17 mm hex", "38 mm tube with
// 20 mm through it".
func (s Stock) Words() (mm, inch string) {
	if s.Shape == Tube {
		return say.Of(s.Size, " tube with ", s.Bore, " through it").Words()
	}
	return say.Of(s.Size, " ", string(s.Shape)).Words()
}
