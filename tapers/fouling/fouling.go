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
// The work itself is in the way of the post, the slide and the handle
// everywhere, its outline as it stands, a round like the jaws; and of the holder
// everywhere but at the tip: on the trailing side the outline must lie under a
// line from the tip at the trailing angle less 2 deg, as far as the holder is
// wide, and what rises above that line beyond the holder must stand clear of it.
// A right-hand tool trails toward the tailstock, a left-hand one toward the
// headstock, a pointed one both ways. The leading edge is square to the holder.
// The tip is taken to stop at the taper's ends there: a tool cuts up to a
// shoulder.
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
	"setover/setup/book/practice"
	"setover/setup/page/sheet"
)

// Input is a taper and where it stands. Head and Tail are the diameters at the
// headstock's and the tailstock's end. Bar is how thick the bar between the jaws
// and the taper is, where no more is known of the work; nil: as thick as its end.
type Input struct {
	Head, Tail, Length units.Length
	HalfAngle          units.Angle
	Bar                *units.Length
	Place
}

// Finding is what comes out. Clearance is nil where there was nothing to
// check. Fouls lists every pair that overlaps. PassedOver is the first tool of
// the shop, where another one is taken that clears as it is; else nil.
type Finding struct {
	Clearance    *units.Length `json:"clearance_mm" show:"clearance" as:"down"`
	Tight        bool          `json:"tight"` // under 3 mm
	Fouls        []Foul        `json:"fouls"`
	Arrangement  Arrangement   `json:"arrangement" show:"arranged"`
	PassedOver   *PassedOver   `json:"passed_over"`
	Alternatives []Alternative `json:"alternatives"`
	sheet.Remarks

	all     bool // all alternatives are for the sheet
	centred bool // a centre holds the work: it moves with it
	nearest struct{ body, obstacle string }
	mark    *mark

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

// PassedOver is a tool that is not taken, and what it would foul.
type PassedOver struct {
	ToolHand Hand   `json:"tool_hand"`
	Fouls    []Foul `json:"fouls"`
}

// Instead says of the tool that is taken that it is not the shop's first, and why; "" where it is.
func (c *Finding) Instead() say.Text {
	if c.PassedOver == nil {
		return ""
	}
	why := say.Text("its trailing edge would rub")
	if f := c.PassedOver.Fouls[0]; f.Deg == nil {
		why = say.Of("the ", f.Body, " would run into the ", f.Obstacle)
	}
	first := Arrangement{ToolHand: c.PassedOver.ToolHand}
	return say.Of(" (not the ", first, say.Shorter(", which the shop lists first: ", " listed first: "), why, ")")
}

// about names what a foul is about: where the taper stands, where the centre does,
// or, against the work, how the tool is held.
func (f Foul) about() string {
	switch {
	case f.Obstacle == "barrel" || f.Obstacle == "tailstock":
		return "centre-at"
	case f.Obstacle != "work":
		return "from-jaws"
	case f.Body == "holder":
		return "tool-hand"
	case f.Body == "post":
		return "post-side"
	}
	return "handle"
}

// Outline is a shape with its name.
type Outline struct {
	Name  string // empty: part of one that has a name
	Shape geom.Convex

	stays bool // with the chuck when the taper is moved out
}

const (
	overrun  = 1.0 // mm beyond each end of the taper, along the slide
	tight    = 3.0 // mm
	farOut   = 500.0
	bodyLong = 500.0 // mm that a chuck or a tailstock is taken to go on for
)

// told words a figure of practice, in each unit a round one.
func told(figure interface{ Length(units.Unit) units.Length }) say.Text {
	mm, _ := figure.Length(units.MM).Words()
	_, inch := figure.Length(units.Inch).Words()
	return say.Either(mm, inch)
}

// deep words an overlap, as finely as a guide tells it.
func deep(l units.Length) say.Text {
	mm, _ := l.RoundTo(practice.FoulStep.Length(units.MM), units.Up).Up().Words()
	_, inch := l.RoundTo(practice.FoulStep.Length(units.Inch), units.Up).Up().Words()
	return say.Either(mm, inch)
}

// sound returns the problem with a taper and where it stands.
func (in Input) sound() error {
	if err := in.Check(); err != nil {
		return err
	}
	if in.FromJaws == nil {
		return problem.New(problem.Missing, "from-jaws", nil, "where the taper stands is not known")
	}
	end := in.FromJaws.Plus(in.Length)
	if in.CentreAt != nil && in.CentreAt.Less(end) {
		return problem.New(problem.Contradiction, "centre-at", in.CentreAt,
			"stands in the taper, which ends ", end, " from the jaws")
	}
	return nil
}

// Meets returns what Check does of one arrangement and no more: the clearance,
// nil where there is nothing to check, and what fouls.
func Meets(in Input) (clearance *units.Length, list []Foul, err error) {
	if err := in.sound(); err != nil {
		return nil, nil, err
	}
	a := in.chosen()
	pairs := in.pairs(a)
	clearance, _, _ = least(pairs, 0)
	return clearance, in.fouls(a, pairs), nil
}

// Check returns what fouls and what would clear. FromJaws must be given. It
// fails on a place that cannot be and on a centre that stands in the taper. A
// cylinder is a taper with the half angle 0.
func Check(in Input) (Finding, error) {
	if err := in.sound(); err != nil {
		return Finding{}, err
	}
	c := Finding{Arrangement: in.chosen(), Fouls: []Foul{}, Alternatives: []Alternative{}, all: in.All}
	c.Arrangement, c.PassedOver = in.clearing(c.Arrangement)
	c.centred = in.CentreAt != nil
	in.missing(&c)
	pairs := in.pairs(c.Arrangement)
	clearance, nearest, part := least(pairs, 0)
	c.Clearance = clearance
	c.Tight = clearance != nil && clearance.MM() < tight
	c.Fouls = append(c.Fouls, in.fouls(c.Arrangement, pairs)...)
	for _, f := range c.Fouls {
		if f.Deg != nil {
			c.No(problem.New(problem.Fouls, "tool-hand", nil, "the ", c.Arrangement, "'s ", f.Body,
				" rubs the work: it is ", say.Num(math.Ceil(f.Deg.Deg()*10-fine)/10, 1), " deg short"))
			continue
		}
		c.No(problem.New(problem.Fouls, f.about(), nil, "the ", f.Body, " runs into the ", f.Obstacle,
			" by ", deep(f.MM.Neg())))
	}
	in.gripsHandle(&c)
	if in.Brief && len(c.Fouls) == 0 {
		return c, nil
	}
	tip := in.path(overrun).from
	if clearance != nil {
		tip = nearest.way.from.Plus(nearest.way.move, part)
		c.nearest.body, c.nearest.obstacle = nearest.body.Name, nearest.obstacle.Name
	}
	c.outlines(in, tip)
	if nearest.uncut {
		c.Outlines = append(c.Outlines, Outline{Name: "uncut", Shape: nearest.obstacle.Shape})
	}
	c.marked(nearest, tip)
	c.Alternatives = in.alternatives(c.Arrangement)
	return c, nil
}

// gripsHandle warns where a slide that is turned round leaves a hand no room.
func (in Input) gripsHandle(c *Finding) {
	if in.Brief || c.Arrangement.Handle != Reversed || in.Lathe.ToolPost == nil || in.handRoom(c.Arrangement) {
		return
	}
	if _, below := in.bodies(c.Arrangement); len(below) > 0 {
		c.Warn("hand-room", "with the slide turned round a hand has less than ", told(practice.HandRoom), " round the handle")
	}
}

// fouls returns what overlaps, of a body and an obstacle in several stretches the
// deepest, and a trailing edge that is short.
func (in Input) fouls(a Arrangement, pairs []pair) (list []Foul) {
	for _, p := range pairs {
		if p.clear(-fine, 0) {
			continue
		}
		g, _ := p.gap(0)
		f := Foul{Body: p.body.Name, Obstacle: p.obstacle.Name, MM: new(units.FromFloat(g))}
		i := slices.IndexFunc(list, func(o Foul) bool { return o.Body == f.Body && o.Obstacle == f.Obstacle })
		switch {
		case i < 0:
			list = append(list, f)
		case f.MM.Less(*list[i].MM):
			list[i] = f
		}
	}
	if deg := in.short(a); deg != nil {
		list = append(list, Foul{Body: "trailing edge", Obstacle: "work", Deg: deg})
	}
	return list
}

// short is by how much a trailing edge is short of clearing the taper.
func (in Input) short(a Arrangement) *units.Angle {
	return a.Short(in.Lathe.Tools, in.HalfAngle, in.grows())
}

// grows reports whether the diameter grows toward the tailstock.
func (in Input) grows() bool { return in.Head.Less(in.Tail) }

// swing is the taper's s in radians, clockwise positive.
func (in Input) swing() float64 { return swing(in.HalfAngle, in.grows()).Rad() }

// swing is how far the slide stands from the axis for a taper, clockwise positive.
func swing(half units.Angle, grows bool) units.Angle {
	if grows {
		return half
	}
	return half.Times(-1)
}

// Turned is how far the post stands from square while a taper is cut, clockwise positive, seen from above.
func (a Arrangement) Turned(half units.Angle, grows bool) units.Angle {
	switch {
	case a.PostTurn == WithSlide:
		return swing(half, grows)
	case a.PostTurned != nil:
		return *a.PostTurned
	}
	return units.Angle{}
}

// HeelFirst reports whether a plain cylinder would meet the heel of a tool that trails so before its tip, or clear it
// by less than 2 deg, with the post as it stands for a taper: then the work is touched on its edge.
func (a Arrangement) HeelFirst(trail, half units.Angle, grows bool) bool {
	lean := a.Turned(half, grows).Deg()
	switch a.ToolHand {
	case Left:
		lean = -lean
	case Neutral: // what the one edge gains the other loses
		lean = -math.Abs(lean)
	}
	return trail.Deg()+lean < practice.TrailClear.Angle().Deg()
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
	hand, handle := in.hands()[0], Normal
	if in.Reverses(in.HalfAngle, in.grows()) {
		handle = Reversed
	}
	a := in.Arrangement
	a.ToolHand, a.PostSide = cmp.Or(in.ToolHand, hand), cmp.Or(in.PostSide, HeadstockSide)
	a.PostTurn, a.Handle = cmp.Or(in.PostTurn, Square), handle
	return a
}

// hands are those of the shop's tools for a taper on the compound, in its order; a right one where
// none is known.
func (in Input) hands() (list []Hand) {
	for _, t := range in.Lathe.Tools {
		if hand := Hand(t.Hand); hand != Form && !slices.Contains(list, hand) {
			list = append(list, hand)
		}
	}
	if len(list) == 0 {
		list = append(list, Right)
	}
	return list
}

// clearing returns the arrangement with the first tool of the shop that fouls nothing as it is, where
// nobody asked for one and the first of all does; one that clears easily before one that is tight. What
// the first would foul is passed over. A plan, which holds what is easiest for it, is not spoken for.
func (in Input) clearing(a Arrangement) (Arrangement, *PassedOver) {
	if in.ToolHand != "" || in.Brief {
		return a, nil
	}
	fouls := in.fouls(a, in.pairs(a))
	if len(fouls) == 0 {
		return a, nil
	}
	for _, by := range []float64{tight, 0} {
		for _, hand := range in.hands() {
			b := a
			if b.ToolHand = hand; in.clear(b, by-fine) {
				return b, &PassedOver{a.ToolHand, fouls}
			}
		}
	}
	return a, nil
}

// missing says what was not checked, and which key of the shop would enable it.
func (in Input) missing(c *Finding) {
	not := func(missing bool, key string, what ...any) {
		if missing {
			c.NotChecked("lathe: "+key, what...)
			c.Warnings[len(c.Warnings)-1].Look = true
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
	not(in.CentreAt != nil && (t == nil || !in.knowsBarrel(c.Arrangement) || t.Barrel == nil || t.BodyWidth == nil),
		"tailstock: barrel, barrel_out and body", "whether anything meets the tailstock was not checked in full")
	tools, hand := in.Lathe.Tools, c.Arrangement.ToolHand
	not(len(tools) == 0, "tools", "whether the tool's trailing edge clears the work was not checked")
	not(len(tools) > 0 && !Owns(tools, hand), "tools",
		"no ", hand, "-hand tool in this shop: its trailing edge was not checked")
}

// outlines keeps the shapes, the bodies where they come nearest, for a drawing.
func (c *Finding) outlines(in Input, tip geom.Point) {
	axis, below := in.bodies(c.Arrangement)
	for i, b := range slices.Concat(axis, below) {
		if i == 0 {
			b.Shape = in.edged(c.Arrangement, trailOf(in.Lathe.Tools, c.Arrangement.ToolHand))
		}
		c.Outlines = append(c.Outlines, Outline{Name: b.Name, Shape: b.Shape.Moved(tip)})
	}
	c.Outlines = append(c.Outlines, in.obstacles(c.Arrangement, 0)...)
	from := in.FromJaws.MM()
	named := len(c.Outlines)
	for _, w := range in.beyond() {
		c.Outlines = append(c.Outlines, Outline{Shape: w})
	}
	if work := c.Outlines[named:]; len(work) > 0 { // its name stands in the largest part once
		largest := slices.MaxFunc(work, func(a, b Outline) int { return cmp.Compare(area(a.Shape), area(b.Shape)) })
		i := slices.IndexFunc(work, func(o Outline) bool { return area(o.Shape) == area(largest.Shape) })
		work[i].Name = "work"
	}
	taper := section(Corner{from, in.Head.MM()}, Corner{from + in.Length.MM(), in.Tail.MM()}, 0)
	c.Outlines = append(c.Outlines, Outline{Name: "taper", Shape: taper})
}

// area is the area of a polygon.
func area(c geom.Convex) (sum float64) {
	for i, p := range c.Points {
		q := c.Points[(i+1)%len(c.Points)]
		sum += (p.X*q.Y - p.Y*q.X) / 2
	}
	return math.Abs(sum)
}

// beyond is the work that stands out of the jaws beside the taper.
func (in Input) beyond() (list []geom.Convex) {
	from := in.FromJaws.MM()
	to := from + in.Length.MM()
	for _, w := range in.outline().plan(0, 0) {
		for _, part := range []geom.Convex{
			w.Clipped(geom.Point{X: from - fine}, geom.Point{X: -1}), w.Clipped(geom.Point{X: to + fine}, geom.Point{X: 1}),
		} {
			if len(part.Points) > 2 {
				list = append(list, part)
			}
		}
	}
	return list
}
