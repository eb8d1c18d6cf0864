package fouling

import (
	"math"

	"setover/setup/base/geom"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
)

// path is the tip's move: from and to, the overruns included.
type path struct{ from, move geom.Point }

// path returns the tip's move from one end of the taper to the other and so
// much beyond each, along the slide.
func (in Input) path(beyond float64) path {
	u := geom.Point{X: 1}.Turned(in.swing())
	start := geom.Point{X: in.FromJaws.MM(), Y: in.Head.MM() / 2}
	long := in.Length.MM()/in.HalfAngle.Cos() + 2*beyond
	return path{start.Plus(u, -beyond), geom.Point{}.Plus(u, long)}
}

// holding is a tool's holder with the tip at the origin: how far it reaches to
// either side along the work, how far back, and where the post stands.
type holding struct{ left, right, back, post, over, side float64 }

// holding needs a tool post.
func (in Input) holding(a Arrangement) holding {
	post := in.Lathe.ToolPost
	size, width, over := post.Size.MM(), post.HolderWidth.MM(), post.Overhang.MM()
	if a.Overhang != nil {
		over = a.Overhang.MM()
	}
	h := holding{0, width, over + size, 0, over, size} // it hangs on the post's side
	switch a.ToolHand {
	case Left:
		h.left, h.right = -width, 0
	case Neutral:
		h.left, h.right = -width/2, width/2
	}
	switch a.PostSide {
	case TailstockSide:
		h.post = h.left - size
	case Front:
		h.back, h.post = over, (h.left+h.right-size)/2
	default:
		h.post = h.right
	}
	return h
}

// bodies returns what moves with the tip, the tip at the origin, and the height
// each is met at.
func (in Input) bodies(a Arrangement) (axis, below []Outline) {
	if in.Lathe.ToolPost == nil {
		return nil, nil
	}
	h := in.holding(a)
	holder := geom.Rect(geom.Point{X: h.left}, geom.Point{X: h.right, Y: h.back})
	post := geom.Rect(geom.Point{X: h.post, Y: h.over}, geom.Point{X: h.post + h.side, Y: h.over + h.side})
	middle := geom.Point{X: h.post + h.side/2, Y: h.over + h.side/2}
	if turn := in.turned(a); turn != 0 {
		holder, post = holder.Turned(geom.Point{}, turn), post.Turned(geom.Point{}, turn)
		middle = middle.Turned(turn)
	}
	axis = []Outline{{Name: "holder", Shape: holder}, {Name: "post", Shape: post}}
	c := in.Lathe.Compound
	if c == nil || c.Width == nil || c.Length == nil || c.TopBelowCentre == nil {
		return axis, nil
	}
	s := in.swing()
	if a.Handle == Reversed {
		s += math.Pi
	}
	half := c.Width.MM() / 2
	slide := geom.Rect(geom.Point{X: -half, Y: -half}, geom.Point{X: c.Length.MM() - half, Y: half})
	below = []Outline{{Name: "slide", Shape: slide.Turned(geom.Point{}, s).Moved(middle)}}
	if h := c.Handle; h != nil {
		hub := geom.Point{X: c.Length.MM() - half + h.Beyond.MM()}
		swept := geom.Circle(middle.Plus(hub.Turned(s), 1), h.Radius.MM())
		below = append(below, Outline{Name: "handle", Shape: swept})
	}
	return axis, below
}

// turned is how far holder and post are turned about the tip, in radians,
// clockwise positive.
func (in Input) turned(a Arrangement) float64 { return a.Turned(in.HalfAngle, in.grows()).Rad() }

// obstacles returns what stands in the way at the height h below the axis, the
// work left out.
func (in Input) obstacles(a Arrangement, h float64) (list []Outline) {
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
	if t := in.Lathe.Tailstock; in.CentreAt != nil && in.knowsBarrel(a) {
		point, out := in.CentreAt.MM(), in.barrelOut(a).MM()
		if t.Barrel != nil {
			round("barrel", *t.Barrel, point, point+out, false)
		}
		if t.BodyWidth != nil && t.BodyBelow != nil && h <= t.BodyBelow.MM() {
			add("tailstock", point+out, point+out+bodyLong, t.BodyWidth.MM()/2, false)
		}
	}
	return list
}

// outline is the work as it stands: what is known of it, else the taper, which goes
// on as thick as its ends are: to the jaws, there as thick as the bar where that is
// known, and to the centre that holds it.
func (in Input) outline() Profile {
	if in.Work != nil {
		return in.Work
	}
	from, head, tail := in.FromJaws.MM(), in.Head.MM(), in.Tail.MM()
	to := from + in.Length.MM()
	p := Profile{{from, head}, {to, tail}}
	if in.Bar != nil && from > fine && in.Bar.MM() > head+fine {
		p = append(Profile{{0, in.Bar.MM()}, {from, in.Bar.MM()}}, p...)
	} else if from > fine {
		p = append(Profile{{0, head}}, p...)
	}
	if in.CentreAt != nil && in.CentreAt.MM() > to+fine {
		p = append(p, Corner{in.CentreAt.MM(), tail})
	}
	return p
}

// work is what stands out of the jaws, cut at the height h below the axis.
func (in Input) work(h float64) (list []Outline) {
	for _, w := range in.outline().plan(h, 0) {
		list = append(list, Outline{Name: "work", Shape: w})
	}
	return list
}

// pair is a body that may meet an obstacle, and how the tip moves.
type pair struct {
	body, obstacle Outline
	way            path
	uncut          bool // the obstacle is what later bites have yet to cut

	boxed   bool          // the next two are known
	lo, hi  [2]geom.Point // the corners of the rectangles around both
	passing *geom.Course  // of body past obstacle, once it is asked for
}

func (in Input) pairs(a Arrangement) (list []pair) {
	axis, below := in.bodies(a)
	way := in.path(overrun)
	list = make([]pair, 0, 32) // most have fewer
	meet := func(bodies, obstacles []Outline) {
		for _, b := range bodies {
			for _, o := range obstacles {
				list = append(list, pair{body: b, obstacle: o, way: way})
			}
		}
	}
	meet(axis, in.obstacles(a, 0))
	if len(axis) > 0 {
		meet(axis[1:], in.work(0))
		list = append(list, in.walls(a)...)
	}
	if len(below) > 0 {
		top := in.Lathe.Compound.TopBelowCentre.MM()
		meet(below, append(in.obstacles(a, top), in.work(top)...))
	}
	return append(list, in.later(a, axis, below)...)
}

// later returns the post and the slide, in each bite but the last, with what later bites have yet to cut. A
// left-hand tool goes on toward the tailstock, any other toward the headstock.
func (in Input) later(a Arrangement, axis, below []Outline) (list []pair) {
	c := in.Lathe.Compound
	if in.Raw == nil || c == nil || c.Travel == nil || c.Travel.Sign() <= 0 || len(axis) == 0 {
		return nil
	}
	whole := in.path(0)
	n := int(units.FromFloat(in.Length.MM()/in.HalfAngle.Cos()).Steps(*c.Travel, units.Up))
	from, to := in.FromJaws.MM(), in.FromJaws.MM()+in.Length.MM()
	for k := 1; k < n; k++ {
		part := float64(k) / float64(n) // of the taper is cut by then
		way := path{whole.from.Plus(whole.move, part-1/float64(n)), geom.Point{}.Plus(whole.move, 1/float64(n))}
		left := Profile{{from + (to-from)*part, in.Raw.MM()}, {to, in.Raw.MM()}}
		if a.ToolHand != Left {
			way.from = whole.from.Plus(whole.move, 1-part)
			left = Profile{{from, in.Raw.MM()}, {to - (to-from)*part, in.Raw.MM()}}
		}
		meet := func(bodies []Outline, h float64) {
			for _, b := range bodies {
				for _, w := range left.plan(h, 0) {
					list = append(list, pair{body: b, obstacle: Outline{Name: "work", Shape: w}, way: way, uncut: true})
				}
			}
		}
		meet(axis[1:], 0)
		if len(below) > 0 {
			meet(below, c.TopBelowCentre.MM())
		}
	}
	return list
}

// walls returns the holder with what rises beside it: of the work beyond either
// end of the taper, what stands above a line from the tip there. On a trailing
// side that is at the trailing angle less 2 deg, on the other along the holder's
// edge, which cuts up to a shoulder and so is in its way only where the post is
// turned toward it, by more than it may lean into. With the tip at the end the line lies lowest, since the taper
// falls away under it.
//
// What of the holder lies under those lines is the tool, and left out.
func (in Input) walls(a Arrangement) (list []pair) {
	turn, trail := in.turned(a), trailOf(in.Lathe.Tools, a.ToolHand)-standsClear()
	tail, head := edges(a.ToolHand, trail)
	holder := Outline{Name: "holder", Shape: in.edged(a, trail)}
	way := in.path(0)
	first := geom.Point{X: in.FromJaws.MM(), Y: in.Head.MM() / 2}
	last := geom.Point{X: first.X + in.Length.MM(), Y: in.Tail.MM() / 2}
	for _, side := range []struct {
		end    geom.Point
		beyond float64
		edge   float64
		leads  bool
	}{{last, 1, tail + turn, a.ToolHand == Left}, {first, -1, head - turn, a.ToolHand == Right}} {
		if side.edge > math.Pi/2-fine { // the holder is not on this side
			continue
		}
		above := geom.Point{X: -side.beyond * math.Sin(side.edge), Y: math.Cos(side.edge)}
		for _, w := range in.work(0) {
			beyond := geom.Point{X: side.beyond}
			w.Shape = w.Shape.Clipped(side.end.Plus(beyond, fine), beyond).Clipped(side.end.Plus(above, fine), above)
			p := pair{body: holder, obstacle: w, way: way}
			leans := side.leads && in.Leans != nil && p.clear(-in.Leans.MM(), 0)
			if len(w.Shape.Points) > 2 && !leans {
				list = append(list, p)
			}
		}
	}
	return list
}

// edges returns the angles of a tool's edges from the work, toward the tailstock and
// toward the headstock, in radians: the leading one is square to it.
func edges(hand Hand, trail float64) (tail, head float64) {
	tail, head = trail*math.Pi/180, trail*math.Pi/180
	switch hand {
	case Right:
		head = math.Pi / 2
	case Left:
		tail = math.Pi / 2
	}
	return tail, head
}

// edged returns the holder with its tool's edges, the tip at the origin: what of it
// lies under the trailing edge is left out.
func (in Input) edged(a Arrangement, trail float64) geom.Convex {
	h := in.holding(a)
	tail, head := edges(a.ToolHand, trail)
	points := []geom.Point{{}, {X: h.left, Y: h.back}, {X: h.right, Y: h.back}}
	if h.right > 0 {
		points = append(points, geom.Point{X: h.right, Y: min(h.right*math.Tan(tail), h.back)})
	}
	if h.left < 0 {
		points = append(points, geom.Point{X: h.left, Y: min(-h.left*math.Tan(head), h.back)})
	}
	return geom.Hull(points...).Turned(geom.Point{}, in.turned(a))
}

// trailOf is the trailing angle of the tools of a hand, in deg: of the one with
// the most. Where none is known it is what a tool is ground to at the most.
func trailOf(tools []shop.Tool, hand Hand) float64 {
	if !Owns(tools, hand) {
		return practice.PointedTrail.Angle().Deg()
	}
	trail := 0.0
	for _, t := range tools {
		if Hand(t.Hand) == hand {
			trail = max(trail, t.Trail.Deg())
		}
	}
	return trail
}

// gap returns the least distance of a pair over the tip's path with the taper
// moved out of the jaws by more, and where on the path it comes. It is convex
// in more, since the signed distance is convex in both moves together.
func (p *pair) gap(more float64) (gap, part float64) {
	return p.course().Least(p.shift(more))
}

// course is the body's past the obstacle.
func (p *pair) course() *geom.Course {
	if p.passing == nil {
		p.passing = new(geom.NewCourse(p.body.Shape.Moved(p.way.from), p.way.move, p.obstacle.Shape))
	}
	return p.passing
}

// shift is how an obstacle moves as the taper sees it that is moved out of the jaws.
func (p *pair) shift(more float64) (by geom.Point) {
	if p.obstacle.stays {
		by.X = -more
	}
	return by
}

// bound returns a distance that a pair is apart by at the least: that of the
// upright rectangles around the obstacle and around all that the body sweeps,
// 0 where these overlap. It decides most pairs without a search.
func (p *pair) bound(more float64) float64 {
	if !p.boxed {
		p.box()
	}
	by := p.shift(more)
	l, h := p.lo[1].Plus(by, 1), p.hi[1].Plus(by, 1)
	return math.Hypot(max(l.X-p.hi[0].X, p.lo[0].X-h.X, 0), max(l.Y-p.hi[0].Y, p.lo[0].Y-h.Y, 0))
}

// box finds the rectangles around all that the body sweeps and around the obstacle.
func (p *pair) box() {
	p.lo[0], p.hi[0] = bounds(p.body.Shape)
	p.lo[1], p.hi[1] = bounds(p.obstacle.Shape)
	m := p.way.move
	p.lo[0] = p.lo[0].Plus(p.way.from, 1).Plus(geom.Point{X: min(m.X, 0), Y: min(m.Y, 0)}, 1)
	p.hi[0] = p.hi[0].Plus(p.way.from, 1).Plus(geom.Point{X: max(m.X, 0), Y: max(m.Y, 0)}, 1)
	p.boxed = true
}

// clear reports whether a pair is apart by so much with the taper moved out.
func (p *pair) clear(by, more float64) bool {
	if b := p.bound(more); b > 0 && b >= by {
		return true
	}
	return p.course().Clear(by, p.shift(more))
}

// moreOut returns the least distance further out of the jaws at which every
// pair clears by so much, nil where 500 mm are not enough. Each pair is under that
// over one stretch of that distance: where one is, go to that stretch's end, and
// a millionth on, so that what is said to be 3 mm does not fall short of it.
func moreOut(pairs []pair, by float64) *units.Length {
	more := 0.0
	for {
		i := 0
		for i < len(pairs) && pairs[i].clear(by-fine, more) {
			i++
		}
		if i == len(pairs) {
			return new(units.FromFloat(more))
		}
		lo, hi := more, farOut
		if !pairs[i].obstacle.stays || !pairs[i].clear(by+fine, hi) {
			return nil
		}
		for hi-lo > 1e-7 {
			if mid := (lo + hi) / 2; pairs[i].clear(by+fine, mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		more = hi
	}
}

// least returns the least distance of all pairs, which of them has it and where
// on its path; nil where there are none.
func least(pairs []pair, more float64) (clearance *units.Length, nearest pair, part float64) {
	gap := math.Inf(1)
	for i := range pairs {
		p := &pairs[i]
		if !math.IsInf(gap, 1) && p.clear(gap, more) {
			continue
		}
		if g, t := p.gap(more); g < gap {
			gap, nearest, part = g, *p, t
		}
	}
	if math.IsInf(gap, 1) {
		return nil, nearest, 0
	}
	return new(units.FromFloat(gap)), nearest, part
}
