package fouling

import (
	"math"
	"slices"
	"sync"

	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
)

// standsClear is what a trailing edge stands clear of the work, in deg; read
// once, since a plan asks for it thousands of times.
var standsClear = sync.OnceValue(func() float64 { return practice.TrailClear.Angle().Deg() })

// WithUsualTools returns a lathe that has a right-hand and a left-hand tool as they
// are usually ground, where it is not said what tools it has: a person grinds them.
func WithUsualTools(l shop.Lathe) shop.Lathe {
	if len(l.Tools) == 0 {
		trail := practice.UsualTrail.Angle()
		l.Tools = []shop.Tool{{Hand: "right", Trail: trail}, {Hand: "left", Trail: trail}}
	}
	return l
}

// WithGround returns a lathe that has tools as a person grinds them for a job, too, whose edges
// trail by so much: a pointed one, which cuts both ways, and one of either hand as long as what
// is left of that stands the cut.
func WithGround(l shop.Lathe, trail units.Angle) shop.Lathe {
	ground := []shop.Tool{{Hand: string(Neutral), Trail: trail}}
	if trail.Rad() <= practice.TrailMost.Angle().Rad() {
		ground = append(ground, shop.Tool{Hand: string(Right), Trail: trail}, shop.Tool{Hand: string(Left), Trail: trail})
	}
	l.Tools = slices.Concat(OnHand(l.Tools), ground) // never into the shop's own list
	return l
}

// GroundTrails are what the edges of tools that are ground for a job trail by, the least first:
// from what a pointed tool has as it is usually ground to the slenderest point that stands.
func GroundTrails() []units.Angle {
	first, step, most := practice.PointedTrail.Angle(), practice.GroundStep.Angle(), practice.PointMost.Angle()
	var list []units.Angle
	for a := first; a.Rad() <= most.Rad(); a = a.Plus(step) {
		list = append(list, a)
	}
	return list
}

// Passes reports whether one of the tools trails by enough to leave a cone of a half angle
// that rises behind it.
func Passes(tools []shop.Tool, half units.Angle) bool {
	return slices.ContainsFunc(tools, func(t shop.Tool) bool { return half.Deg()+standsClear() < t.Trail.Deg() })
}

// Grazes returns how far an edge that trails by so much takes what is to go anyway, on the
// radius, as a taper is cut in passes: where it cuts with no more of its length than it may, l,
//
//	l·sin(trail)
//
// and at the least what roughing leaves.
func Grazes(trail units.Angle) units.Length {
	return units.Max(practice.LeaveTurning.Length().Half(),
		units.FromFloat(practice.EdgeCuts.Length().MM()*trail.Sin()))
}

// Rubs returns how deep the tool's trailing edge stands in an outline that goes on beyond the
// end of the taper that it trails to, the tip at that end; 0 or less where it does not. As far as
// the holder is wide, the tip at z and r,
//
//	R(z + t) - r - t·tan(trail),  counted the way the edge trails
//
// It is the edge itself, with nothing to spare.
func (in Input) Rubs(p Profile) units.Length {
	worst, a := math.Inf(-1), in.chosen()
	turn, width := in.turned(a), math.Inf(1)
	if post := in.Lathe.ToolPost; post != nil {
		width = post.HolderWidth.MM()
	}
	tail, head := edges(a.ToolHand, trailOf(in.Lathe.Tools, a.ToolHand))
	from := in.FromJaws.MM()
	look := func(w way, z, dia, edge float64) {
		if edge > math.Pi/2-fine { // it leads
			return
		}
		for _, c := range p {
			if t := (c.Z - z) * float64(w); t > fine && t <= width {
				worst = max(worst, (c.Dia-dia)/2-t*math.Tan(edge))
			}
		}
	}
	look(toTail, from+in.Length.MM(), in.Tail.MM(), tail+turn)
	look(toHead, from, in.Head.MM(), head-turn)
	return units.FromFloat(max(worst, 0))
}

// Tool is a turning tool for a plain cut: its hand, how far its trailing edge
// stands from the work, and how wide it is along the work, in mm: the holder of
// a turning tool, the blade of a form or grooving tool. Where the width is not
// known it is 0, and whatever rises on the trailing side is in the way. Over is
// how far the tip stands beyond the post and Post how wide that is: what rises
// beyond the width must pass under the post. Where they are not known they are 0,
// and nothing is asked.
// The post is on the side that the edge trails, of a pointed tool toward the tailstock, or
// where it hangs there, Far, on the other.
type Tool struct {
	Hand       Hand
	Trail      float64 // deg
	Width      float64
	Over, Post float64
	Far        bool
}

// Mounted returns a tool as the shop's post and holder carry it, the one with the
// most trail of its hand; ok is false where there is none.
func Mounted(tools []shop.Tool, post *shop.ToolPost, hand Hand) (t Tool, ok bool) {
	t = Tool{Hand: hand, Trail: trailOf(tools, hand)}
	if post != nil {
		t.Width, t.Over, t.Post = post.HolderWidth.MM(), post.Overhang.MM(), post.Size.MM()
	}
	return t, Owns(tools, hand)
}

// OnHand returns the turning tools that can be had: those of the shop; where
// none are listed, a right-hand and a left-hand one as they are usually ground;
// and always a pointed one that trails on both sides.
func OnHand(tools []shop.Tool) []shop.Tool {
	usual, pointed := practice.UsualTrail.Angle(), practice.PointedTrail.Angle()
	if len(tools) == 0 {
		tools = []shop.Tool{{Hand: string(Right), Trail: usual}, {Hand: string(Left), Trail: usual}}
	}
	if Owns(tools, Neutral) {
		return tools
	}
	return append(tools[:len(tools):len(tools)], shop.Tool{Hand: string(Neutral), Trail: pointed})
}

// Reach says whether a tool gets at a cut. Deg is what its trailing edge has to
// spare, beyond the 2 deg that it stands clear, and negative where it is short;
// it is +Inf where nothing rises on that side. MM is what a groove is wider than a
// form tool, and for the others what the post has to spare over what rises beside
// the holder, +Inf where nothing does. Z is the corner that decides, and Head says
// that it was looked for on the headstock's side.
type Reach struct {
	Clears bool
	Head   bool
	Deg    float64
	MM     float64
	Z      float64
}

// Reaches reports whether a tool cuts the outside from one z to another, both
// corners of the profile, which has there what the cut leaves.
//
// A right-hand tool cuts toward the headstock. Its leading edge is square, so
// it cuts up to a shoulder on the headstock's side; on the tailstock's side the
// work must lie under a line from the tip, wherever along the cut the tip is:
//
//	R(z) - R(t) <= (z - t)·tan(trail - 2 deg)   for t < z < t + width
//
// and R(z) - R(t) <= over from there to the end of the post. A left-hand tool is
// the mirror of it, a pointed one trails on both sides with
// the tip at its middle, and a form tool goes straight in: it must be no wider
// than what is between the walls beside the cut. The greatest slope of a line
// from the cut to the work beside it is found at corners of either or at the
// width of the tool, so it is exact. The post is asked after from corner to corner
// and from where the cut ends.
func (p Profile) Reaches(from, to float64, t Tool) Reach {
	var r Reach
	w, beside := toTail, t.Width // the side of the post, and how far from the tip it begins
	switch t.Hand {
	case Form:
		return p.fits(from, to, t.Width)
	case Neutral:
		t.Width /= 2
		beside = t.Width
		a, b := p.trails(from, to, t, toTail), p.trails(from, to, t, toHead)
		if r = a; a.Clears && (!b.Clears || b.Deg < a.Deg) {
			r = b
		}
	case Left:
		w = toHead
		r = p.trails(from, to, t, toHead)
	default:
		r = p.trails(from, to, t, toTail)
	}
	if t.Over == 0 || t.Width == 0 {
		return r
	}
	if t.Far {
		if w = -w; t.Hand != Neutral {
			beside = 0
		}
	}
	return p.underPost(r, from, to, beside, t, w)
}

// underPost says of a tool whose edges clear whether the work beside it passes under the post.
func (p Profile) underPost(r Reach, from, to, beside float64, t Tool, w way) Reach {
	if w == toHead {
		from, to = -to, -from
	}
	if rise, z := p.under(from, to, beside, beside+t.Post, w); rise > 0 {
		r.MM = t.Over - rise
		if r.MM < -fine && r.Clears {
			r.Clears, r.Head, r.Z = false, w == toHead, z*float64(w)
		}
	}
	return r
}

// way is a direction along the work.
type way float64

const (
	toTail way = 1
	toHead way = -1
)

// corner returns the corner number i, counted the way that is looked, its Z
// rising that way.
func (p Profile) corner(i int, w way) Corner {
	if w == toTail {
		return p[i]
	}
	c := p[len(p)-1-i]
	return Corner{-c.Z, c.Dia}
}

// trails looks along the work from the tip the way the tool's edge trails.
func (p Profile) trails(from, to float64, t Tool, w way) Reach {
	if w == toHead {
		from, to = -to, -from
	}
	wide := t.Width
	if wide == 0 {
		wide = math.Inf(1)
	}
	s := steepest{slope: math.Inf(-1)}
	for i := 1; i < len(p); i++ {
		a, b := p.corner(i-1, w), p.corner(i, w)
		if b.Z-a.Z < fine { // a shoulder is cut where it is within the stretch
			if a.Z < from+fine || a.Z > to-fine {
				continue
			}
			s.from(p, w, i, a, wide)
			s.from(p, w, i, b, wide)
			continue
		}
		lo, hi := max(a.Z, from), min(b.Z, to)
		if hi-lo < fine {
			continue
		}
		first, last := Corner{lo, between(a, b, lo)}, Corner{hi, between(a, b, hi)}
		s.from(p, w, i, first, wide)
		s.from(p, w, i, last, wide)
		for j := i; j < len(p) && p.corner(j, w).Z-wide < hi-fine; j++ {
			if c := p.corner(j, w); c.Z-wide > lo { // the tip that c leaves the width of
				s.see(Corner{c.Z - wide, between(a, b, c.Z-wide)}, c)
			}
		}
	}
	return s.judged(t, w)
}

// judged says what the steepest slope makes of a cut.
func (s steepest) judged(t Tool, w way) Reach {
	r := Reach{Clears: true, Head: w == toHead, Deg: math.Inf(1), MM: math.Inf(1), Z: s.z * float64(w)}
	if s.slope > fine {
		r.Deg = t.Trail - standsClear() - math.Atan(s.slope)*180/math.Pi
		r.Clears = r.Deg > -fine
	}
	return r
}

// under returns the most that the work rises above the tip between two distances
// from it, the way that is looked, and where. Both the tip and what rises run
// along straights, so the most is at an end of either or where they are just so
// far apart.
func (p Profile) under(from, to, near, far float64, w way) (rise, where float64) {
	for i := 1; i < len(p); i++ {
		a, b := p.corner(i-1, w), p.corner(i, w)
		lo, hi := max(a.Z, from), min(b.Z, to)
		if hi-lo < fine {
			continue
		}
		for j := i; j < len(p); j++ {
			c, d := p.corner(j-1, w), p.corner(j, w)
			for _, t := range [6]float64{lo, hi, c.Z - near, c.Z - far, d.Z - near, d.Z - far} {
				first, last := max(c.Z, t+near), min(d.Z, t+far)
				if t < lo-fine || t > hi+fine || first > last+fine {
					continue
				}
				most := max(between(c, d, first), between(c, d, last))
				if d.Z-c.Z < fine {
					most = max(c.Dia, d.Dia)
				}
				if r := (most - between(a, b, t)) / 2; r > rise {
					rise, where = r, d.Z
				}
			}
		}
	}
	return rise, where
}

// steepest is the greatest slope seen from a tip, and the corner it was seen at.
type steepest struct{ slope, z float64 }

// see looks from a tip at a corner beyond it.
func (s *steepest) see(tip, c Corner) {
	rise, run := (c.Dia-tip.Dia)/2, c.Z-tip.Z
	slope := rise / max(run, fine)
	if run < fine {
		slope = math.Inf(1)
		if rise < fine {
			return
		}
	}
	if slope > s.slope {
		s.slope, s.z = slope, c.Z
	}
}

// from looks from a tip on the stretch that ends at the corner i at all that
// stands within the width of the tool.
func (s *steepest) from(p Profile, w way, i int, tip Corner, wide float64) {
	for j := i; j < len(p); j++ {
		c := p.corner(j, w)
		if c.Z-tip.Z < wide-fine {
			s.see(tip, c)
			continue
		}
		if a := p.corner(j-1, w); c.Z-a.Z >= fine {
			z := tip.Z + wide
			s.see(tip, Corner{z, between(a, c, z)})
		}
		return
	}
}

// fits looks for the walls beside a groove.
func (p Profile) fits(from, to, width float64) Reach {
	tail, head := p.wall(from, to, toTail), -p.wall(-to, -from, toHead)
	r := Reach{MM: tail - head - width, Deg: math.Inf(1), Z: tail}
	r.Clears = r.MM > -fine
	return r
}

// wall returns where the work beyond a cut first stands higher than it does at
// the cut's end, the way that is looked, and +Inf where it does not.
func (p Profile) wall(from, to float64, w way) float64 {
	floor, known := 0.0, false
	for i := 1; i < len(p); i++ {
		a, b := p.corner(i-1, w), p.corner(i, w)
		if !known {
			if b.Z > to-fine && b.Z-a.Z >= fine {
				floor, known = between(a, b, to), true
			}
			if !known || b.Z < to+fine {
				continue
			}
			a = Corner{to, floor}
		}
		if b.Dia > floor+fine {
			if a.Dia >= floor || b.Z-a.Z < fine {
				return a.Z
			}
			return a.Z + (b.Z-a.Z)*(floor-a.Dia)/(b.Dia-a.Dia)
		}
	}
	return math.Inf(1)
}
