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
	"math/big"

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
// whether it is cut from a round or a square bar. Bar is the bar as it is, across a
// round as it was turned or across a square's faces: the blank where not given.
type Input struct {
	Sides   int           `json:"sides"`
	Flats   *units.Length `json:"flats_mm,omitempty"`
	Corners *units.Length `json:"corners_mm,omitempty"`
	Side    *units.Length `json:"side_mm,omitempty"`
	Leave   units.Length  `json:"leave_mm"`
	From    string        `json:"from"` // round or square
	Bar     *units.Length `json:"bar_mm,omitempty"`
	Indexing
}

// The bars a polygon is cut from, and what a tapering one's sizes are across.
var (
	BarShapes   = []string{"round", "square"}
	SizesAcross = []string{"flats", "corners"}
)

// Size is a polygon's sizes. Blank is the round to turn, or the square bar;
// CornerLeg is the leg cut off each corner of a square for 8 sides, and Turn how far
// flat 1 stands past the square bar's own face, the way the flats are counted.
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
	Turn          *units.Angle  `json:"turn_from_face_deg" show:"turn from the bar's face"`
	Order
	sheet.Remarks

	apothem units.Length
	bare    section
}

// SizeOf returns the sizes of a polygon. Sides run from 3 to 24; exactly one
// size is given, above 0; leave is 0 or more, and less than the apothem.
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
		bar := s.bar()
		s.FlatDepth = new(p.FlatDepth(bar))
		s.FirstReading = new(firstReading(bar, p.Apothem))
		s.bare.radius = bar.Half().MM()
	}
	if err := s.fits(p); err != nil {
		return Size{}, err
	}
	on := in.byBar(p.Sides, s.bar(), in.From == "square", &s.Remarks)
	s.Order = inOrder(p.Sides, in.Leave, units.Angle{}, on, end{s.bare, p.Apothem})
	s.remark(&s.Remarks)
	s.Caution(cautions.EyeProtection, cautions.Manual)
	return s, nil
}

// bar returns the bar that is cut: the one on hand, or the blank.
func (s *Size) bar() units.Length {
	if s.Inputs.Bar != nil {
		return *s.Inputs.Bar
	}
	return s.Blank
}

// fits says what a bar on hand leaves out. Corners that are not there stay round; on
// a round no larger than the one inside the flats there is nothing to cut.
func (s *Size) fits(p Polygon) error {
	bar := s.Inputs.Bar
	if bar == nil {
		return nil
	}
	if bar.Cmp(p.Apothem.Times(2)) <= 0 && s.Inputs.From != "square" || bar.Less(p.Apothem.Times(2)) {
		return problem.New(problem.OutOfRange, "bar", *bar, "no flat is cut into it: more than ", p.Apothem.Times(2))
	}
	least := p.AcrossCorners()
	if s.Inputs.From == "square" {
		least = units.FromFloat(2 * widest(p))
	}
	if bar.Less(least.Minus(units.FromFloat(slack))) {
		s.Warn("round-corners", "the corners do not come out sharp: that needs ", least.Up())
	}
	return nil
}

// firstReading is the first flat over the round opposite.
func firstReading(blank, apothem units.Length) units.Length { return blank.Half().Plus(apothem) }

func (in Input) polygon() (Polygon, error) {
	var bad check.List
	bad.Between("sides", in.Sides, MinSides, MaxSides, "sides")
	bad.NotBelow0("leave", in.Leave)
	check.OneOf(&bad, "from", in.From, BarShapes)
	bad.Above0("flats", in.Flats, "corners", in.Corners, "side", in.Side, "bar", in.Bar)
	bad.ExactlyOne(check.If("flats", in.Flats), check.If("corners", in.Corners), check.If("side", in.Side))
	if err := bad.Err(); err != nil {
		return Polygon{}, err
	}
	var p Polygon
	switch {
	case in.Flats != nil:
		p = OfFlats(in.Sides, *in.Flats)
	case in.Corners != nil:
		p = OfCorners(in.Sides, *in.Corners)
	default:
		p = OfSide(in.Sides, *in.Side)
	}
	return p, leaves(in.Leave, p.Apothem)
}

// leaves refuses what is left on a flat where it is no less than from the axis to the flat:
// that is no allowance for grinding but another polygon.
func leaves(leave, apothem units.Length) error {
	if leave.Less(apothem) {
		return nil
	}
	return problem.New(problem.OutOfRange, "leave", leave, "is what stays on each flat for the grinder: less than ",
		apothem, ", from the axis to the flat")
}

// fromSquare sizes the square bar. Four and eight sides have flats on the bar's
// own faces, and for eight a corner is cut off: the leg of the bar b less A·√2.
// Any other number is cut from the smallest square that contains the polygon.
func (s *Size) fromSquare(p Polygon) {
	q := Polygon{p.Sides, p.Apothem.Plus(s.Inputs.Leave)}
	s.Blank = units.FromFloat(2 * widest(q))
	turn := faceTurn(p.Sides)
	s.Turn, s.bare = &turn, squareBar(s.bar(), turn)
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

// faceTurn returns how far a flat is turned from the face of the square of widest:
// not at all where a flat stands at each quarter of the circle, else so that the
// corners fall midway as widest has them, the least there is.
//
//	0 for 4, 8, 12 …, 90/n for other even numbers, 45/n for odd ones
func faceTurn(sides int) units.Angle {
	switch {
	case sides%4 == 0:
		return units.Angle{}
	case sides%2 == 0:
		return units.Degrees(90 / float64(sides))
	}
	return units.Degrees(45 / float64(sides))
}

// Sheet implements sheet.Result.
func (s Size) Sheet() sheet.Sheet {
	out := sheet.Of(&s, "Polygon of ", s.Sides, " sides")
	out.Brief = true
	square := s.Inputs.From == "square"
	blank, least := sheet.Text("blank to turn"), say.Text("the least that holds the corners; nothing left on the flats")
	if s.Inputs.Leave.Sign() > 0 {
		least = say.Of("the least that holds the corners, with ", s.Inputs.Leave, " left on each flat")
	}
	if square {
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
	out.Remark(&s.FirstReading, "over the flat and the round opposite, where it is cut straight to size")
	out.Remark(&s.Turn, "of flat 1, about the bar's axis")
	if s.Inputs.Leave.Sign() > 0 {
		out.Behind(&s.FirstReading)
	}
	s.steps(out, square)
	if block := s.Inputs.block(s.Sides); block > 0 && s.Block == nil && len(s.Flats) > 0 {
		out.Note("The collet block of ", block, " sides holds the work", s.Inputs.takes(),
			": it serves where such a shank is turned on the bar.")
	}
	h := centre(s.Sides)
	out.Step("corners", "2*A/cos(h)", s.AcrossCorners, "A", s.apothem, "h", h)
	out.Step("side", "2*A*tan(h)", s.Side, "A", s.apothem, "h", h)
	if s.FirstReading != nil {
		out.Step("blank", "2*(A + leave)/cos(h)", s.Blank, "A", s.apothem, "leave", s.Inputs.Leave, "h", h)
		out.Step("first reading", "blank/2 + A", s.FirstReading, "blank", s.Blank, "A", s.apothem)
	}
	return *out
}

// steps adds what is done to the bar.
func (s *Size) steps(out *sheet.Sheet, square bool) {
	if !square {
		if s.Inputs.Bar == nil {
			out.Do("Turn the bar to ", s.Blank.Up(), ", a little further than the flats go.")
		}
		s.explain(out, "Touch the cutter on the round")
		return
	}
	own := say.Text("Set a face of the bar level: flat 1 lies on it.")
	if s.Turn.Deg() > 0 {
		own = say.Of("Set a face of the bar level, and turn the bar by ", sheet.Deg(*s.Turn), s.crankTo(*s.Turn),
			", the same way as from flat to flat afterwards: flat 1 is up.")
	}
	if len(s.Flats) == 0 {
		out.Note("The bar's own faces are the flats: there is nothing to cut.")
	} else {
		out.Do(own)
	}
	first := 0
	if len(s.Flats) > 0 {
		first = s.Flats[0].Flat
	}
	s.explain(out, "Bring flat ", first, " up and touch the cutter on the bar's highest edge")
	if first > 1 {
		out.Note("The bar's own faces are the other flats: nothing is cut there.")
	}
}

// crankTo words a turn of the dividing head by its crank, on the circle that the
// flats are counted on; nothing where that is not exact.
func (s *Size) crankTo(turn units.Angle) say.Text {
	head := s.Inputs.Head
	if head == nil || s.Circle == nil {
		return ""
	}
	c := head.Count(big.NewRat(int64(math.Round(turn.Deg()*float64(s.Sides))), int64(360*s.Sides)), *s.Circle)
	if c.Off.Sign() != 0 {
		return ""
	}
	return say.Of(", ", c)
}

// Rise returns the angle from the axis to a flat whose distance from the axis
// changes from one apothem to another over a length above 0: atan((A1 - A2)/l).
func Rise(a1, a2, l units.Length) units.Angle {
	return units.Radians(math.Atan2(a1.Minus(a2).Abs().MM(), l.MM()))
}

// ProgressInput is a polygon that is ground from a round, and the step of the
// table; a tenth of the depth where not given. Without a Blank it is the round that
// holds the corners with Leave on each flat.
type ProgressInput struct {
	Sides int           `json:"sides"`
	Blank *units.Length `json:"blank_mm,omitempty"`
	Flats units.Length  `json:"flats_mm"`
	Leave *units.Length `json:"leave_mm,omitempty"`
	Step  *units.Length `json:"step_mm,omitempty"`
}

// Progress is a growing flat at one depth. Reading is over the flat and the
// round opposite, ReadingLast over the flat and what stands there once it is
// finished. Width is the flat's on the bare round, WidthOne beside one finished
// neighbour (of an odd number of sides, ground every second first, one flat is),
// and WidthLast between two.
type Progress struct {
	Depth       units.Length  `json:"depth_mm" show:"depth"`
	Reading     units.Length  `json:"reading_mm" show:"over the round opposite"`
	ReadingLast units.Length  `json:"reading_last_mm" show:"over a finished flat"`
	Width       units.Length  `json:"width_mm" show:"first flats wide"`
	WidthOne    *units.Length `json:"width_one_mm" show:"beside one flat"`
	WidthLast   units.Length  `json:"width_last_mm" show:"last ones wide"`
}

// ProgressResult is a growing flat from the first touch to the finished size.
type ProgressResult struct {
	Inputs ProgressInput `json:"inputs"`
	Depth  units.Length  `json:"flat_depth_mm" show:"depth of a flat"`
	Side   units.Length  `json:"side_mm" show:"width of a finished flat"`
	Steps  []Progress    `json:"steps"`
	sheet.Remarks

	apothem, blank units.Length
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
	bad.NotBelow0("leave", in.Leave)
	bad.AtMostOne(check.If("blank", in.Blank), check.If("leave", in.Leave))
	if err := bad.Err(); err != nil {
		return ProgressResult{}, err
	}
	p := OfFlats(in.Sides, in.Flats)
	blank := p.AcrossCorners()
	switch {
	case in.Blank != nil:
		blank = *in.Blank
	case in.Leave != nil:
		if err := leaves(*in.Leave, p.Apothem); err != nil {
			return ProgressResult{}, err
		}
		blank = p.Blank(*in.Leave)
	}
	depth := p.FlatDepth(blank)
	if depth.Sign() <= 0 {
		return ProgressResult{}, problem.New(problem.OutOfRange, "blank", blank,
			"no flat is cut into it: more than ", p.Apothem.Times(2))
	}
	depths := places(&bad, "step", in.Step, depth)
	if err := bad.Err(); err != nil {
		return ProgressResult{}, err
	}
	r := ProgressResult{Inputs: in, Depth: depth, Side: p.Side(), apothem: p.Apothem, blank: blank}
	for _, t := range depths[1:] {
		r.Steps = append(r.Steps, r.at(t))
	}
	if blank.Less(p.AcrossCorners()) {
		r.Warn("round-corners", "the corners stay round: sharp ones need a blank of ", p.AcrossCorners().Up())
	}
	r.Caution(cautions.EyeProtection, cautions.GrindDust, cautions.Manual)
	return r, nil
}

// plain reports whether every flat grows alike, whatever its neighbours: from a round
// that is no larger than the corners.
func (r ProgressResult) plain() bool {
	for _, p := range r.Steps {
		if d := p.Width.Minus(p.WidthLast).MM(); d > slack {
			return false
		}
	}
	return true
}

// flatNumbers lists flats by their numbers from 1.
func flatNumbers(list []int) say.Text {
	numbers := make([]int, len(list))
	for i, k := range list {
		numbers[i] = k + 1
	}
	return say.Join(numbers, ", ")
}

// at returns the flat at the depth t.
func (r ProgressResult) at(t units.Length) Progress {
	b, a := r.blank.MM()/2, r.apothem.MM()
	out := b - t.MM()
	width := 2 * math.Sqrt(math.Max(b*b-out*out, 0))
	turn := units.Degrees(360 / float64(r.Inputs.Sides))
	last := math.Min(width, 2*math.Max(a-out*turn.Cos(), 0)/turn.Sin())
	p := Progress{
		Depth: t, Reading: r.blank.Minus(t), Width: units.FromFloat(width), WidthLast: units.FromFloat(last),
		ReadingLast: r.Inputs.Flats.Plus(r.Depth).Minus(t),
	}
	if r.Inputs.Sides%2 == 1 {
		p.WidthOne = new(units.FromFloat((width + last) / 2))
	}
	return p
}

// Sheet implements sheet.Result.
func (r ProgressResult) Sheet() sheet.Sheet {
	s := sheet.Of(&r, "Grinding ", r.Inputs.Sides, " flats by their width")
	s.Brief = true
	last := r.Steps[len(r.Steps)-1]
	if last.WidthLast.Less(r.Side.Minus(units.MustLength("0.000001mm"))) {
		s.Remark(&r.Side, "with sharp corners; from this blank it stays at ", last.WidthLast)
	} else {
		s.Remark(&r.Side, "once its neighbours are ground too")
	}
	s.Figures()
	table := s.Table(r.Steps, "The growing flat").WithoutEmpty()
	if r.Inputs.Sides%2 == 1 {
		table.Head("reading_last_mm", "over a finished corner")
	}
	for key, same := range map[string]bool{
		"reading_last_mm": last.ReadingLast.Equal(last.Reading), "width_last_mm": r.plain(), "width_one_mm": r.plain(),
	} {
		for i, c := range table.Cols {
			table.Cols[i].Unseen = c.Unseen || same && c.Key == key
		}
	}
	s.Step("width", "2*sqrt(B^2 - (B - t)^2)", last.Width, "B", r.blank.Half(), "t", r.Depth)
	if r.plain() {
		table.Head("width_mm", "flat wide")
		s.Note("Stop by the calliper. The corners come up sharp as the last flat is finished, so the neighbours make no ",
			"difference on the way.")
		return *s
	}
	order := everySecond(r.Inputs.Sides)
	firsts, betweens := order[:(r.Inputs.Sides+1)/2], order[(r.Inputs.Sides+1)/2:]
	s.Note("Stop by the calliper. Every second flat first: ", flatNumbers(firsts), " into the bare round, then ",
		flatNumbers(betweens), " between finished neighbours.")
	if r.Inputs.Sides%2 == 1 {
		s.Note("Flat ", r.Inputs.Sides, " has flat 1 beside it already: it is as wide as stands under beside one flat.")
	}
	return *s
}
