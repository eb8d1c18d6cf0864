// Package facets cuts a regular polygon on a round bar or on a cone.
//
// A polygon of n sides sits between two circles: the one its flats touch, of
// radius A (the apothem), and the one its corners lie on, of radius R. In the
// triangle from the centre to the middle of a flat and to a corner the angle
// at the centre is 180/n, so A = R·cos(180/n).
//
// For an even number of sides a flat stands opposite a flat and the size
// across flats is 2·A. For an odd number a corner stands opposite a flat: the
// height from one to the other is A + R, and that is what "across flats" means
// there. Taking half of it for the apothem is the classic mistake.
//
// The blank must reach the corners, and where something is left on each flat
// for grinding, the corners of the larger polygon.
//
// On a cone the flats are planes that rise from the axis by the facet half
// angle, the corners lines that rise by the corner half angle, which is
// steeper. The blank is turned to the one and tilted by the other.
package facets

import (
	"math"

	"setover/setup/base/check"
	"setover/setup/base/problem"
	"setover/setup/base/say"
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

// The bars a polygon is cut from, and what a tapering one's sizes are across.
var (
	BarShapes   = []string{"round", "square"}
	SizesAcross = []string{"flats", "corners"}
)

// Size is a polygon's sizes. Blank is the round to turn, or the square bar;
// CornerLeg is the leg cut off each corner of a square for 8 sides.
type Size struct {
	Inputs        Input         `json:"inputs"`
	Sides         int           `json:"sides"`
	Blank         units.Length  `json:"blank_mm" show:"blank to turn" as:"up"`
	AcrossFlats   units.Length  `json:"across_flats_mm" show:"across flats"`
	AcrossCorners units.Length  `json:"across_corners_mm" show:"across corners"`
	Side          units.Length  `json:"side_mm" show:"width of a flat"`
	FlatDepth     *units.Length `json:"flat_depth_mm" show:"depth of a flat" note:"from the blank to the finished flat"`
	FirstReading  *units.Length `json:"first_flat_reading_mm" show:"first flat reads"`
	CornerLeg     *units.Length `json:"corner_leg_mm" show:"leg off each corner" note:"along the bar's face"`
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
		s.FlatDepth = new(p.FlatDepth(s.Blank))
		s.FirstReading = new(firstReading(s.Blank, p.Apothem))
	}
	s.Caution(cautions.EyeProtection, cautions.Manual)
	return s, nil
}

// firstReading is the first flat over the round opposite.
func firstReading(blank, apothem units.Length) units.Length { return blank.Half().Plus(apothem) }

func (in Input) polygon() (Polygon, error) {
	var bad check.List
	bad.Between("sides", in.Sides, MinSides, MaxSides, "sides")
	bad.NotBelow0("leave", in.Leave)
	check.OneOf(&bad, "from", in.From, BarShapes)
	bad.Above0("flats", in.Flats, "corners", in.Corners, "side", in.Side)
	bad.ExactlyOne(check.If("flats", in.Flats), check.If("corners", in.Corners), check.If("side", in.Side))
	if err := bad.Err(); err != nil {
		return Polygon{}, err
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
		s.FlatDepth = new(p.FlatDepth(s.Blank))
	case 8:
		s.CornerLeg = new(units.FromFloat(s.Blank.MM() - p.Apothem.MM()*math.Sqrt2))
		s.FlatDepth = new(units.FromFloat(s.Blank.MM()/math.Sqrt2 - p.Apothem.MM()))
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
	lcm := 4 * p.Sides
	for lcm/2%4 == 0 && lcm/2%p.Sides == 0 {
		lcm /= 2
	}
	return p.AcrossCorners().MM() / 2 * units.Degrees(180/float64(lcm)).Cos()
}

// Sheet implements sheet.Result.
func (s Size) Sheet() sheet.Sheet {
	out := sheet.Of(&s, "Polygon of ", s.Sides, " sides")
	blank, least := sheet.Text("blank to turn"), say.Text("the least that holds the corners; nothing left on the flats")
	if s.Inputs.Leave.Sign() > 0 {
		least = say.Of("the least that holds the corners, with ", s.Inputs.Leave, " left on each flat")
	}
	if s.Inputs.From == "square" {
		blank = "square bar"
		if s.Sides != 4 && s.Sides != 8 {
			least = "the smallest square, on the axis, that contains the polygon"
		}
	}
	out.ShowAs(&s.Blank, blank, least)
	if s.Sides%2 == 1 {
		out.ShowAs(&s.AcrossFlats, "flat to corner")
		out.Note("An odd number of sides has a corner opposite each flat: ",
			"the size across flats here is the height from flat to corner.")
	}
	out.Remark(&s.FirstReading, "over the flat and the round opposite")
	out.Figures()
	h := centre(s.Sides)
	out.Step("corners", "2*A/cos(h)", s.AcrossCorners, "A", s.apothem, "h", h)
	out.Step("side", "2*A*tan(h)", s.Side, "A", s.apothem, "h", h)
	if s.FirstReading != nil {
		out.Step("blank", "2*(A + leave)/cos(h)", s.Blank, "A", s.apothem, "leave", s.Inputs.Leave, "h", h)
		out.Step("first reading", "blank/2 + A", s.FirstReading, "blank", s.Blank, "A", s.apothem)
	}
	return *out
}

// Rise returns the angle from the axis to a flat whose distance from the axis
// changes from one apothem to another over a length above 0: atan((A1 - A2)/l).
func Rise(a1, a2, l units.Length) units.Angle {
	return units.Radians(math.Atan2(a1.Minus(a2).Abs().MM(), l.MM()))
}

// ProgressInput is a polygon that is ground from a round, and the step of the
// table; a tenth of the depth where not given.
type ProgressInput struct {
	Sides int           `json:"sides"`
	Blank units.Length  `json:"blank_mm"`
	Flats units.Length  `json:"flats_mm"`
	Step  *units.Length `json:"step_mm,omitempty"`
}

// Progress is a growing flat at one depth. Reading is over the flat and the
// round opposite. Width is the flat's on the bare round, WidthLast between two
// finished neighbours.
type Progress struct {
	Depth     units.Length `json:"depth_mm" show:"depth"`
	Reading   units.Length `json:"reading_mm" show:"over the round opposite"`
	Width     units.Length `json:"width_mm" show:"first flats wide"`
	WidthLast units.Length `json:"width_last_mm" show:"last ones wide"`
}

// ProgressResult is a growing flat from the first touch to the finished size.
type ProgressResult struct {
	Inputs ProgressInput `json:"inputs"`
	Depth  units.Length  `json:"flat_depth_mm" show:"depth of a flat"`
	Side   units.Length  `json:"side_mm" show:"width of a finished flat"`
	Steps  []Progress    `json:"steps"`
	sheet.Remarks

	apothem units.Length
}

// ProgressOf returns how wide a flat grows as it is ground into a round of the
// radius B:
//
//	width      = 2·sqrt(B² - (B - t)²)
//	width last = 2·(A - (B - t)·cos(360/n))/sin(360/n), at most the width
//
// t is the depth and A the apothem: the second is what two finished neighbours
// leave. Sides run from 3 to 24, Flats is above 0, Blank larger than the round
// inside the flats, Step above 0 and at least a thousandth of the depth.
func ProgressOf(in ProgressInput) (ProgressResult, error) {
	var bad check.List
	bad.Between("sides", in.Sides, MinSides, MaxSides, "sides")
	bad.Above0("flats", in.Flats)
	if err := bad.Err(); err != nil {
		return ProgressResult{}, err
	}
	p := OfFlats(in.Sides, in.Flats)
	depth := p.FlatDepth(in.Blank)
	if depth.Sign() <= 0 {
		return ProgressResult{}, problem.New(problem.OutOfRange, "blank", in.Blank,
			"no flat is cut into it: more than ", p.Apothem.Times(2))
	}
	depths := places(&bad, "step", in.Step, depth)
	if err := bad.Err(); err != nil {
		return ProgressResult{}, err
	}
	r := ProgressResult{Inputs: in, Depth: depth, Side: p.Side(), apothem: p.Apothem}
	for _, t := range depths[1:] {
		r.Steps = append(r.Steps, r.at(t))
	}
	if in.Blank.Less(p.AcrossCorners()) {
		r.Warn("round-corners", "the corners stay round: sharp ones need a blank of ", p.AcrossCorners().Up())
	}
	r.Caution(cautions.EyeProtection, cautions.GrindDust, cautions.Manual)
	return r, nil
}

// at returns the flat at the depth t.
func (r ProgressResult) at(t units.Length) Progress {
	b, a := r.Inputs.Blank.MM()/2, r.apothem.MM()
	out := b - t.MM()
	width := 2 * math.Sqrt(math.Max(b*b-out*out, 0))
	turn := units.Degrees(360 / float64(r.Inputs.Sides))
	last := math.Min(width, 2*math.Max(a-out*turn.Cos(), 0)/turn.Sin())
	return Progress{t, r.Inputs.Blank.Minus(t), units.FromFloat(width), units.FromFloat(last)}
}

// Sheet implements sheet.Result.
func (r ProgressResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Grinding ", r.Inputs.Sides, " flats by their width")
	last := r.Steps[len(r.Steps)-1]
	if last.WidthLast.Less(r.Side.Minus(units.MustLength("0.000001mm"))) {
		s.Remark(&r.Side, "with sharp corners; from this blank it stays at ", last.WidthLast)
	} else {
		s.Remark(&r.Side, "once its neighbours are ground too")
	}
	s.Figures()
	s.Table(r.Steps, "The growing flat")
	s.Step("width", "2*sqrt(B^2 - (B - t)^2)", last.Width, "B", r.Inputs.Blank.Half(), "t", r.Depth)
	s.Note("Stop by the calliper: the first flats are ground into the bare round, ",
		"the last ones lie between finished neighbours.")
	return *s
}
