package facets

import (
	"fmt"
	"math"

	"setover/setup/base/problem"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/page/sheet"
)

// The range of sides that is cut.
const (
	MinSides = 3
	MaxSides = 24
)

// Polygon is a regular polygon by its number of sides and its apothem.
type Polygon struct {
	Sides   int
	Apothem units.Length
}

// centre returns half the angle a side takes at the centre: 180/n.
func centre(sides int) units.Angle { return units.Degrees(180 / float64(sides)) }

// CheckSides returns the problem of a number of sides that is not 3 to 24.
func CheckSides(n int) error {
	if n < MinSides || n > MaxSides {
		return problem.New(problem.OutOfRange, "sides", n, fmt.Sprintf("a polygon here has %d to %d sides", MinSides, MaxSides))
	}
	return nil
}

// AcrossFlats returns 2·A for an even number of sides and A·(1 + 1/cos(180/n)),
// the height from flat to corner, for an odd one.
func (p Polygon) AcrossFlats() units.Length {
	if p.Sides%2 == 0 {
		return p.Apothem.Times(2)
	}
	return units.FromFloat(p.Apothem.MM() * (1 + 1/centre(p.Sides).Cos()))
}

// AcrossCorners returns the diameter of the circle through the corners:
// 2·A/cos(180/n).
func (p Polygon) AcrossCorners() units.Length {
	return units.FromFloat(2 * p.Apothem.MM() / centre(p.Sides).Cos())
}

// Side returns the width of one flat: 2·A·tan(180/n).
func (p Polygon) Side() units.Length {
	return units.FromFloat(2 * p.Apothem.MM() * centre(p.Sides).Tan())
}

// Blank returns the diameter of the round that holds the polygon with leave
// more on each flat: 2·(A + leave)/cos(180/n).
func (p Polygon) Blank(leave units.Length) units.Length {
	return Polygon{p.Sides, p.Apothem.Plus(leave)}.AcrossCorners()
}

// FlatDepth returns how deep a flat is cut into a round of the diameter blank:
// blank/2 - A. It is negative where the round does not reach the flat.
func (p Polygon) FlatDepth(blank units.Length) units.Length { return blank.Half().Minus(p.Apothem) }

// OfFlats returns the polygon with the size across flats.
func OfFlats(sides int, flats units.Length) Polygon {
	if sides%2 == 0 {
		return Polygon{sides, flats.Half()}
	}
	return Polygon{sides, units.FromFloat(flats.MM() / (1 + 1/centre(sides).Cos()))}
}

// OfCorners returns the polygon with the size across corners.
func OfCorners(sides int, corners units.Length) Polygon {
	return Polygon{sides, units.FromFloat(corners.MM() / 2 * centre(sides).Cos())}
}

// OfSide returns the polygon with the width of one flat.
func OfSide(sides int, side units.Length) Polygon {
	return Polygon{sides, units.FromFloat(side.MM() / (2 * centre(sides).Tan()))}
}

// Input is a polygon by one of its sizes, what is left on each flat, and
// whether it is cut from a round or a square bar.
type Input struct {
	Sides   int           `json:"sides"`
	Flats   *units.Length `json:"flats_mm,omitempty"`
	Corners *units.Length `json:"corners_mm,omitempty"`
	Side    *units.Length `json:"side_mm,omitempty"`
	Leave   units.Length  `json:"leave_mm"`
	From    string        `json:"from"` // round or square
}

// Size is a polygon's sizes. Blank is the round to turn, or the square bar;
// CornerLeg is the leg cut off each corner of a square for 8 sides.
type Size struct {
	Inputs        Input         `json:"inputs"`
	Sides         int           `json:"sides"`
	AcrossFlats   units.Length  `json:"across_flats_mm"`
	AcrossCorners units.Length  `json:"across_corners_mm"`
	Side          units.Length  `json:"side_mm"`
	Blank         units.Length  `json:"blank_mm"`
	FlatDepth     *units.Length `json:"flat_depth_mm"`
	FirstReading  *units.Length `json:"first_flat_reading_mm"`
	CornerLeg     *units.Length `json:"corner_leg_mm"`
	sheet.Remarks

	apothem units.Length
}

// SizeOf returns the sizes of a polygon. Sides run from 3 to 24; exactly one
// size is given, above 0; leave is 0 or more.
func SizeOf(in Input) (Size, error) {
	p, err := in.polygon()
	if err != nil {
		return Size{}, err
	}
	s := Size{
		Inputs: in, Sides: p.Sides, AcrossFlats: p.AcrossFlats(), AcrossCorners: p.AcrossCorners(), Side: p.Side(),
		apothem: p.Apothem,
	}
	if in.From == "square" {
		s.fromSquare(p)
	} else {
		s.Blank = p.Blank(in.Leave)
		depth := p.FlatDepth(s.Blank)
		s.FlatDepth = &depth
		first := s.Blank.Half().Plus(p.Apothem)
		s.FirstReading = &first
	}
	s.Caution(cautions.EyeProtection, cautions.Manual)
	return s, nil
}

func (in Input) polygon() (Polygon, error) {
	var list problem.List
	list.Add(CheckSides(in.Sides))
	if in.Leave.Sign() < 0 {
		list.Add(problem.New(problem.OutOfRange, "leave", in.Leave, "what is left on a flat cannot be negative"))
	}
	if in.From != "round" && in.From != "square" {
		list.Add(problem.New(problem.Unknown, "from", in.From, "not a bar: write round or square").Near([]string{"round", "square"}))
	}
	given := 0
	for _, s := range []struct {
		key string
		l   *units.Length
	}{{"flats", in.Flats}, {"corners", in.Corners}, {"side", in.Side}} {
		if s.l == nil {
			continue
		}
		given++
		if s.l.Sign() <= 0 {
			list.Add(problem.New(problem.OutOfRange, s.key, s.l, "must be above 0"))
		}
	}
	if given != 1 {
		found, code := "", problem.Missing
		if given > 1 {
			found, code = fmt.Sprintf("%d sizes", given), problem.Contradiction
		}
		list.Add(problem.New(code, "flats", found, "needs exactly one of --flats, --corners and --side"))
	}
	if len(list) > 0 {
		return Polygon{}, list
	}
	switch {
	case in.Flats != nil:
		return OfFlats(in.Sides, *in.Flats), nil
	case in.Corners != nil:
		return OfCorners(in.Sides, *in.Corners), nil
	}
	return OfSide(in.Sides, *in.Side), nil
}

// fromSquare sizes the square bar. Four and eight sides have flats on the bar's
// own faces, and for eight a corner is cut off: the leg of the bar b less A·√2.
// Any other number is cut from the smallest square that contains the polygon.
func (s *Size) fromSquare(p Polygon) {
	q := Polygon{p.Sides, p.Apothem.Plus(s.Inputs.Leave)}
	s.Blank = units.FromFloat(2 * widest(q))
	switch p.Sides {
	case 4:
		depth := p.FlatDepth(s.Blank)
		s.FlatDepth = &depth
	case 8:
		leg := units.FromFloat(s.Blank.MM() - p.Apothem.MM()*math.Sqrt2)
		depth := units.FromFloat(s.Blank.MM()/math.Sqrt2 - p.Apothem.MM())
		s.CornerLeg, s.FlatDepth = &leg, &depth
	}
}

// widest returns half the side of the smallest square, centred on the axis,
// that contains a polygon, turned in it as suits best.
//
// The square reaches R·cos e, with e the least angle between one of its four
// axis directions and a corner. Corners stand every 360/n; brought into one
// spacing, the four directions fall on a grid of 360/lcm(4, n), and turning
// the polygon so that its corners fall midway makes e half of that.
func widest(p Polygon) float64 {
	return p.AcrossCorners().MM() / 2 * units.Degrees(180/float64(lcm(4, p.Sides))).Cos()
}

func lcm(a, b int) int {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// Sheet implements sheet.Result.
func (s Size) Sheet() sheet.Sheet {
	name := "across flats"
	if s.Sides%2 == 1 {
		name = "flat to corner"
	}
	blank := "blank to turn"
	if s.Inputs.From == "square" {
		blank = "square bar"
	}
	out := sheet.Sheet{
		Title: fmt.Sprintf("Polygon of %d sides", s.Sides),
		Facts: []sheet.Fact{
			{Key: "blank_mm", Label: blank, Value: sheet.Up(s.Blank), Remark: s.blankRemark()},
			{Key: "across_flats_mm", Label: name, Value: sheet.Len(s.AcrossFlats)},
			{Key: "across_corners_mm", Label: "across corners", Value: sheet.Len(s.AcrossCorners)},
			{Key: "side_mm", Label: "width of a flat", Value: sheet.Len(s.Side)},
		},
		Warnings: s.Warnings, Cautions: s.Cautions,
	}
	if s.FlatDepth != nil {
		out.Facts = append(out.Facts, sheet.Fact{Key: "flat_depth_mm", Label: "depth of a flat", Value: sheet.Len(*s.FlatDepth), Remark: "from the blank to the finished flat"})
	}
	if s.FirstReading != nil {
		out.Facts = append(out.Facts, sheet.Fact{Key: "first_flat_reading_mm", Label: "first flat reads", Value: sheet.Len(*s.FirstReading), Remark: "over the flat and the round opposite"})
	}
	if s.CornerLeg != nil {
		out.Facts = append(out.Facts, sheet.Fact{Key: "corner_leg_mm", Label: "leg off each corner", Value: sheet.Len(*s.CornerLeg), Remark: "along the bar's face"})
	}
	half, apothem := centre(s.Sides).Deg(), s.apothem.MM()
	out.Working = []sheet.Step{
		sheet.Work("corners", "2*A/cos(h)", s.AcrossCorners.MM(), "mm", sheet.Let("A", apothem), sheet.Let("h", half)),
		sheet.Work("side", "2*A*tan(h)", s.Side.MM(), "mm", sheet.Let("A", apothem), sheet.Let("h", half)),
	}
	if s.FirstReading != nil {
		out.Working = append(out.Working,
			sheet.Work("blank", "2*(A + leave)/cos(h)", s.Blank.MM(), "mm", sheet.Let("A", apothem), sheet.Let("leave", s.Inputs.Leave.MM()), sheet.Let("h", half)),
			sheet.Work("first reading", "blank/2 + A", s.FirstReading.MM(), "mm", sheet.Let("blank", s.Blank.MM()), sheet.Let("A", apothem)))
	}
	if s.Sides%2 == 1 {
		out.Notes = []string{"An odd number of sides has a corner opposite each flat: the size across flats here is the height from flat to corner."}
	}
	return out
}

func (s Size) blankRemark() string {
	switch {
	case s.Inputs.From == "square" && s.Sides != 4 && s.Sides != 8:
		return "the smallest square, on the axis, that contains the polygon"
	case s.Inputs.Leave.Sign() > 0:
		return "the least that holds the corners, with " + sheet.Inline(s.Inputs.Leave, units.Nearest) + " left on each flat"
	}
	return "the least that holds the corners; nothing left on the flats"
}

// Rise returns the angle from the axis to a flat whose distance from the axis
// changes from one apothem to another over the length l:
//
//	atan((A1 - A2)/l)
//
// l is above 0.
func Rise(a1, a2, l units.Length) units.Angle {
	return units.Radians(math.Atan2(a1.Minus(a2).Abs().MM(), l.MM()))
}
