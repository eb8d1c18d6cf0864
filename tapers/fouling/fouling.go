// Package fouling says whether the holder, the post, the compound's slide or
// its handle will meet the chuck or the tailstock while a taper is cut, and
// which other arrangement would clear.
//
// It is a plan view with heights, simple enough to check with a pencil, and a
// guide: the lathe is isolated and the chuck turned once by hand through the
// whole travel before the first cut.
//
// z runs along the spindle from the face of the jaws toward the tailstock, y
// from the axis toward the operator, so that seen from above z points right
// and y down, and a turn from z toward y is clockwise.
//
// The chuck's jaws and body and the tailstock's barrel and body are rectangles
// cut at a height h below the axis: a round of the radius R is
// sqrt(R² - h²) wide either side there, and gone where h is beyond R. The
// holder and the post are met at the height of the axis, the slide and its
// handle at that of the slide's top.
//
// The holder reaches from the tip by the overhang, and on past the post where
// it hangs on a side of it; the post is a square; the slide a rectangle whose
// axis runs under the post's centre in the direction the taper is swung to; the
// handle a circle beyond its end. They move together with the tip, from 1 mm
// before one end of the taper to 1 mm past the other. The clearance is the
// least distance of any of them from any obstacle, negative where they would
// overlap by that much.
//
// A tool fouls the work itself with its trailing edge more often than the post
// fouls anything. A right-hand tool trails toward the tailstock, a left-hand one
// toward the headstock.
//
// Moving the taper out of the chuck takes the bar's end, and so the centre in
// it, along.
package fouling

import (
	"cmp"
	"math"
	"slices"

	"setover/setup/base/geom"
	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/page/sheet"
)

// Input is a taper and where it stands. Head and Tail are the diameters at the
// headstock's and the tailstock's end.
type Input struct {
	Head, Tail, Length units.Length
	HalfAngle          units.Angle
	Place
}

// Finding is what comes out. Clearance is nil where there was nothing to
// check. Fouls lists every pair that overlaps.
type Finding struct {
	Clearance    *units.Length `json:"clearance_mm" show:"clearance" as:"down"`
	Tight        bool          `json:"tight"` // under 3 mm
	Fouls        []Foul        `json:"fouls"`
	Arrangement  Arrangement   `json:"arrangement" show:"arranged"`
	Alternatives []Alternative `json:"alternatives"`
	sheet.Remarks

	// Outlines are the bodies, where they come nearest, and the obstacles, for
	// a drawing: X is z, Y is y.
	Outlines []Outline `json:"-"`
}

// Foul is a pair that overlaps by MM, or a trailing edge that is Deg short.
type Foul struct {
	Body     string        `json:"body"`
	Obstacle string        `json:"obstacle"`
	MM       *units.Length `json:"mm,omitempty"`
	Deg      *units.Angle  `json:"deg,omitempty"`
}

// Alternative is another arrangement, and how much further out of the jaws the
// taper would have to stand to clear by 3 mm: nil where 500 mm do not help.
// ShortDeg is how much its trailing edge falls short, which no distance mends;
// nil where it clears.
type Alternative struct {
	Arrangement
	Clearance    *units.Length `json:"clearance_mm" show:"clearance" as:"down"`
	MoreFromJaws *units.Length `json:"more_from_jaws_mm" show:"further out" as:"up"`
	ShortDeg     *units.Angle  `json:"trail_short_deg,omitempty" show:"trailing edge short by" as:"1"`
}

// Outline is a shape with its name.
type Outline struct {
	Name  string
	Shape geom.Convex

	stays bool // with the chuck when the taper is moved out
}

const (
	overrun  = 1.0 // mm beyond each end of the taper, along the slide
	tight    = 3.0 // mm
	farOut   = 500.0
	bodyLong = 500.0 // mm that a chuck or a tailstock is taken to go on for
)

// foulStep is how finely an overlap is told: it is a guide.
var foulStep = units.MustLength("0.1mm")

// Check returns what fouls and what would clear. FromJaws must be given. It
// fails on a place that cannot be and on a centre that stands in the taper.
func Check(in Input) (Finding, error) {
	if err := in.Check(); err != nil {
		return Finding{}, err
	}
	if in.FromJaws == nil {
		return Finding{}, problem.New(problem.Missing, "from-jaws", nil, "where the taper stands is not known")
	}
	end := in.FromJaws.Plus(in.Length)
	if in.CentreAt != nil && in.CentreAt.Less(end) {
		return Finding{}, problem.New(problem.Contradiction, "centre-at", in.CentreAt,
			"stands in the taper, which ends ", end, " from the jaws")
	}
	c := Finding{Arrangement: in.chosen(), Fouls: []Foul{}, Alternatives: []Alternative{}}
	in.missing(&c)
	as, pairs, at := in.stands(c.Arrangement)
	c.Clearance = as.Clearance
	c.Tight = c.Clearance != nil && c.Clearance.MM() < tight
	for _, p := range pairs {
		if g, _ := p.gap(in.path(), 0); g < 0 {
			mm := units.FromFloat(g)
			c.Fouls = append(c.Fouls, Foul{Body: p.body.Name, Obstacle: p.obstacle.Name, MM: &mm})
			c.No(problem.New(problem.Fouls, "from-jaws", nil, "the ", p.body.Name, " runs into the ", p.obstacle.Name,
				" by ", mm.Neg().RoundTo(foulStep, units.Up).Up()))
		}
	}
	if as.ShortDeg != nil {
		c.Fouls = append(c.Fouls, Foul{Body: "trailing edge", Obstacle: "work", Deg: as.ShortDeg})
		c.No(problem.New(problem.Fouls, "tool-hand", nil, "the ", c.Arrangement.ToolHand,
			"-hand tool's trailing edge rubs the work: it is ", say.Num(as.ShortDeg.Deg(), 1), " deg short"))
	}
	c.outlines(in, at)
	if in.Brief && len(c.Fouls) == 0 {
		return c, nil
	}
	c.Alternatives = in.alternatives(c.Arrangement.ToolHand)
	return c, nil
}

// alternatives returns every way to hold the tools there are; where none is
// known, the one that is assumed.
func (in Input) alternatives(assumed Hand) (list []Alternative) {
	for _, hand := range Hands {
		if !Owns(in.Lathe.Tools, hand) && (len(in.Lathe.Tools) > 0 || hand != assumed) {
			continue
		}
		for _, side := range Sides {
			for _, turn := range Turns {
				for _, handle := range Handles {
					other, pairs, _ := in.stands(Arrangement{hand, side, turn, handle})
					other.MoreFromJaws = moreOut(pairs, in.path())
					list = append(list, other)
				}
			}
		}
	}
	slices.SortStableFunc(list, compare)
	return list
}

// grows reports whether the diameter grows toward the tailstock.
func (in Input) grows() bool { return in.Head.Less(in.Tail) }

// swing is the taper's s in radians, clockwise positive.
func (in Input) swing() float64 {
	if in.grows() {
		return in.HalfAngle.Rad()
	}
	return -in.HalfAngle.Rad()
}

// Reverses reports whether the slide is turned round for a taper: as it was
// chosen, else above 45 deg where the taper shrinks toward the tailstock.
func (a Arrangement) Reverses(half units.Angle, grows bool) bool {
	return a.Handle == Reversed || a.Handle == "" && !grows && half.Deg() > 45
}

// chosen returns the arrangement: what was asked for, else the first tool in
// the shop on the post's headstock side, the post square, the slide turned
// round where the taper needs it.
func (in Input) chosen() Arrangement {
	hand, handle := Right, Normal
	if len(in.Lathe.Tools) > 0 {
		hand = Hand(in.Lathe.Tools[0].Hand)
	}
	if in.Reverses(in.HalfAngle, in.grows()) {
		handle = Reversed
	}
	return Arrangement{cmp.Or(in.ToolHand, hand), cmp.Or(in.PostSide, HeadstockSide), cmp.Or(in.PostTurn, Square), handle}
}

// path is the tip's move: from and to, the overruns included.
type path struct{ from, move geom.Point }

func (in Input) path() path {
	u := geom.Point{X: 1}.Turned(in.swing())
	start := geom.Point{X: in.FromJaws.MM(), Y: in.Head.MM() / 2}
	long := in.Length.MM()/in.HalfAngle.Cos() + 2*overrun
	return path{start.Plus(u, -overrun), geom.Point{}.Plus(u, long)}
}

// bodies returns what moves with the tip, the tip at the origin, and the height
// each is met at.
func (in Input) bodies(a Arrangement) (axis, below []Outline) {
	if in.Lathe.ToolPost == nil {
		return nil, nil
	}
	size, width, over := in.Lathe.ToolPost.Size.MM(), in.Lathe.ToolPost.HolderWidth.MM(), in.Lathe.ToolPost.Overhang.MM()
	left, right := 0.0, width
	if a.ToolHand == Left {
		left, right = -width, 0
	}
	back, from := over+size, right // the holder hangs on the post's side
	switch a.PostSide {
	case TailstockSide:
		from = left - size
	case Front:
		back, from = over, (left+right-size)/2
	}
	holder := geom.Rect(geom.Point{X: left}, geom.Point{X: right, Y: back})
	post := geom.Rect(geom.Point{X: from, Y: over}, geom.Point{X: from + size, Y: over + size})
	middle := geom.Point{X: from + size/2, Y: over + size/2}
	s := in.swing()
	if a.PostTurn == WithSlide {
		holder, post, middle = holder.Turned(geom.Point{}, s), post.Turned(geom.Point{}, s), middle.Turned(s)
	}
	axis = []Outline{{Name: "holder", Shape: holder}, {Name: "post", Shape: post}}
	c := in.Lathe.Compound
	if c == nil || c.Width == nil || c.Length == nil || c.TopBelowCentre == nil {
		return axis, nil
	}
	if a.Handle == Reversed {
		s += math.Pi
	}
	half := c.Width.MM() / 2
	slide := geom.Rect(geom.Point{X: -half, Y: -half}, geom.Point{X: c.Length.MM() - half, Y: half})
	below = []Outline{{Name: "slide", Shape: slide.Turned(geom.Point{}, s).Moved(middle)}}
	if h := c.Handle; h != nil {
		at := geom.Point{X: c.Length.MM() - half + h.Beyond.MM()}
		swept := geom.Circle(middle.Plus(at.Turned(s), 1), h.Radius.MM())
		below = append(below, Outline{Name: "handle", Shape: swept})
	}
	return axis, below
}

// obstacles returns what stands in the way at the height h below the axis.
func (in Input) obstacles(h float64) (list []Outline) {
	add := func(name string, from, to, w float64, stays bool) {
		list = append(list, Outline{name, geom.Rect(geom.Point{X: from, Y: -w}, geom.Point{X: to, Y: w}), stays})
	}
	round := func(name string, dia units.Length, from, to float64, stays bool) {
		if r := dia.MM() / 2; h < r {
			add(name, from, to, math.Sqrt(r*r-h*h), stays)
		}
	}
	if c := in.Lathe.Chuck; c != nil && c.JawLength != nil {
		if c.JawCircle != nil {
			round("jaws", *c.JawCircle, -c.JawLength.MM(), 0, true)
		}
		round("chuck", c.Diameter, -c.JawLength.MM()-bodyLong, -c.JawLength.MM(), true)
	}
	if t := in.Lathe.Tailstock; in.CentreAt != nil && t != nil && t.BarrelOut != nil {
		point := in.CentreAt.MM()
		if t.Barrel != nil {
			round("barrel", *t.Barrel, point, point+t.BarrelOut.MM(), false)
		}
		if t.BodyWidth != nil && t.BodyBelow != nil && h <= t.BodyBelow.MM() {
			from := point + t.BarrelOut.MM()
			add("tailstock", from, from+bodyLong, t.BodyWidth.MM()/2, false)
		}
	}
	return list
}

// pair is a body that may meet an obstacle.
type pair struct{ body, obstacle Outline }

func (in Input) pairs(a Arrangement) (list []pair) {
	axis, below := in.bodies(a)
	meet := func(bodies, obstacles []Outline) {
		for _, b := range bodies {
			for _, o := range obstacles {
				list = append(list, pair{b, o})
			}
		}
	}
	meet(axis, in.obstacles(0))
	if len(axis) > 0 {
		meet(axis[1:], in.work()) // the holder's tip is in the cut
	}
	if len(below) > 0 {
		meet(below, in.obstacles(in.Lathe.Compound.TopBelowCentre.MM()))
	}
	return list
}

// work is the rest of the part.
func (in Input) work() (list []Outline) {
	for _, w := range in.Work {
		list = append(list, Outline{Name: "work", Shape: w})
	}
	return list
}

// gap returns the least distance of a pair over the tip's path with the taper
// moved out of the jaws by more, and where on the path it comes. It is convex
// in more, since the signed distance is convex in both moves together.
func (p pair) gap(way path, more float64) (gap, at float64) {
	o := p.obstacle.Shape
	if p.obstacle.stays {
		o = o.Moved(geom.Point{X: -more})
	}
	return geom.Sweep(p.body.Shape.Moved(way.from), way.move, o)
}

// moreOut returns the least distance further out of the jaws at which every
// pair clears by 3 mm, nil where 500 mm are not enough. Each pair is under 3 mm
// over one stretch of that distance: where one is, go to that stretch's end.
func moreOut(pairs []pair, way path) *units.Length {
	more := 0.0
	for {
		i := slices.IndexFunc(pairs, func(p pair) bool {
			g, _ := p.gap(way, more)
			return g < tight
		})
		if i < 0 {
			return new(units.FromFloat(more))
		}
		lo, hi := more, farOut
		if g, _ := pairs[i].gap(way, hi); g < tight {
			return nil
		}
		for hi-lo > 1e-7 {
			mid := (lo + hi) / 2
			if g, _ := pairs[i].gap(way, mid); g < tight {
				lo = mid
			} else {
				hi = mid
			}
		}
		more = hi
	}
}

// stands returns an arrangement as it stands, the pairs that may meet, and where
// on the path the nearest come nearest.
func (in Input) stands(a Arrangement) (out Alternative, pairs []pair, at float64) {
	out = Alternative{Arrangement: a, ShortDeg: a.Short(in.Lathe.Tools, in.HalfAngle, in.grows())}
	pairs = in.pairs(a)
	least := math.Inf(1)
	for _, p := range pairs {
		if g, t := p.gap(in.path(), 0); g < least {
			least, at = g, t
		}
	}
	if !math.IsInf(least, 1) {
		out.Clearance = new(units.FromFloat(least))
	}
	return out, pairs, at
}

// Clears reports whether the arrangement fouls nothing as it stands.
func (a Alternative) Clears() bool {
	return a.ShortDeg == nil && (a.Clearance == nil || a.Clearance.Sign() >= 0)
}

// compare puts those that clear first, by clearance, then by the least extra
// distance from the jaws, those that no distance helps last.
func compare(a, b Alternative) int {
	rank := func(a Alternative) (fouls, lacks, more float64) {
		lacks, more = math.Inf(-1), math.Inf(1)
		if !a.Clears() {
			fouls = 1
		} else if a.Clearance != nil {
			lacks = -a.Clearance.MM()
		}
		if a.MoreFromJaws != nil {
			more = a.MoreFromJaws.MM()
		}
		return fouls, lacks, more
	}
	f1, l1, m1 := rank(a)
	f2, l2, m2 := rank(b)
	return cmp.Or(cmp.Compare(f1, f2), cmp.Compare(l1, l2), cmp.Compare(m1, m2))
}

// missing says what was not checked, and which key of the shop would enable it.
func (in Input) missing(c *Finding) {
	not := func(missing bool, key string, what ...any) {
		if missing {
			c.NotChecked("lathe: "+key, what...)
		}
	}
	const chuck = "whether anything meets the chuck was not checked"
	switch k := in.Lathe.Chuck; {
	case k == nil:
		not(true, "chuck", chuck)
	case k.JawLength == nil:
		not(true, "chuck: jaw_length", chuck)
	case k.JawCircle == nil:
		not(true, "chuck: jaw_circle", "whether anything meets the jaws was not checked")
	}
	not(in.Lathe.ToolPost == nil, "tool_post", "whether the tool post or the slide meets anything was not checked")
	if s := in.Lathe.Compound; in.Lathe.ToolPost != nil {
		not(s == nil || s.Width == nil || s.Length == nil || s.TopBelowCentre == nil,
			"compound: width, length and top_below_centre", "whether the slide meets anything was not checked")
		not(s != nil && s.Handle == nil, "compound: handle", "the compound's handle was not modelled")
	}
	t := in.Lathe.Tailstock
	not(in.CentreAt != nil && (t == nil || t.BarrelOut == nil || t.Barrel == nil || t.BodyWidth == nil),
		"tailstock: barrel, barrel_out and body", "whether anything meets the tailstock was not checked in full")
	tools, hand := in.Lathe.Tools, c.Arrangement.ToolHand
	not(len(tools) == 0, "tools", "whether the tool's trailing edge clears the work was not checked")
	not(len(tools) > 0 && !Owns(tools, hand), "tools",
		"no ", hand, "-hand tool in this shop: its trailing edge was not checked")
}

// outlines keeps the shapes, the bodies at their nearest, for a drawing.
func (c *Finding) outlines(in Input, at float64) {
	axis, below := in.bodies(c.Arrangement)
	way := in.path()
	tip := way.from.Plus(way.move, at)
	for _, b := range slices.Concat(axis, below) {
		c.Outlines = append(c.Outlines, Outline{Name: b.Name, Shape: b.Shape.Moved(tip)})
	}
	taper := Stretch(*in.FromJaws, in.FromJaws.Plus(in.Length), in.Head, in.Tail)
	c.Outlines = slices.Concat(c.Outlines, in.obstacles(0), in.work(), []Outline{{Name: "taper", Shape: taper}})
}

// Stretch returns the plan of a stretch of round work from one z to another,
// with the diameters there.
func Stretch(from, to, fromDia, toDia units.Length) geom.Convex {
	a, b, r, s := from.MM(), to.MM(), fromDia.MM()/2, toDia.MM()/2
	return geom.Hull(geom.Point{X: a, Y: -r}, geom.Point{X: b, Y: -s}, geom.Point{X: b, Y: s}, geom.Point{X: a, Y: r})
}

// Explain adds what there is to say of c to the sheet of a result that holds it:
// how the clearance is meant, every way to hold the tool, and the drawing.
func (c *Finding) Explain(s *sheet.Sheet) {
	switch {
	case len(c.Fouls) > 0:
		s.Remark(&c.Clearance, "it fouls")
	case c.Tight:
		s.Remark(&c.Clearance, "tight: under ", units.FromFloat(tight))
	default:
		s.Remark(&c.Clearance, "least distance over the whole travel and ", units.FromFloat(overrun), " beyond")
	}
	s.Remark(&c.Arrangement, c.Arrangement.Hung())
	s.Table(c.Alternatives, "Every way to hold the tool, those that clear first; further out until ",
		units.FromFloat(tight), " are clear")
	s.Drawings = append(s.Drawings, c.Drawing())
	s.Note(Guide)
}

// Guide is the note that goes with every clearance.
const Guide = "The clearance is a guide, from a plan view with heights: " +
	"bring every part by hand to its nearest before the first cut."
