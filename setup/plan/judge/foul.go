package judge

import (
	"math"
)

// spot is a place seen from above: z from the jaws' face toward the tailstock,
// y from the spindle's axis toward the operator.
type spot struct{ z, y float64 }

// slab is a rectangle seen from above, as its corner and two sides, at a height
// below the axis.
type slab struct {
	name       string
	corner     spot
	along, out spot // the two sides
	below      float64
}

// points covers a slab with places not 2 mm apart.
func (s slab) points() []spot {
	const step = 2
	n := int(math.Hypot(s.along.z, s.along.y)/step) + 1
	m := int(math.Hypot(s.out.z, s.out.y)/step) + 1
	var all []spot
	for i := range n + 1 {
		for k := range m + 1 {
			a, b := float64(i)/float64(n), float64(k)/float64(m)
			all = append(all, spot{s.corner.z + a*s.along.z + b*s.out.z, s.corner.y + a*s.along.y + b*s.out.y})
		}
	}
	return all
}

// layout is how tool, post and slide stand while a taper is cut.
type layout struct {
	hand, side, turn, handle string
	wide, over, size         float64 // of the holder, beyond the post, the post
	slideLong, slideWide     float64
	slideBelow               float64
	swivel                   float64 // degrees, clockwise seen from above
	turned                   float64 // of the post about the tip, degrees
	beyond, radius           float64 // of the handle, 0 where it is not known
}

// fouling: in the arrangement that the plan names, neither holder, post, slide
// nor handle lies over the chuck, the tailstock or the work, anywhere from 1 mm
// before the taper to 1 mm beyond it. It is sampled: every body is a cloud of
// places, and the widths of what stands on the axis are taken at the body's
// height. Clearances are not measured.
func fouling(j *judgement) {
	a := j.setUp.State.Arrangement
	if a == nil || j.setUp.JawFace == nil || j.setUp.Machine != "lathe" {
		return
	}
	l, ok := j.layout(a)
	if !ok {
		return
	}
	for _, r := range j.op.Removes {
		if r.Shape != "outside" {
			continue
		}
		p := points(r.Profile)
		for i := 0; i+1 < len(p); i++ {
			if p[i+1].z-p[i].z > tiny && math.Abs(p[i+1].d-p[i].d) > tiny {
				if name, z, fouls := j.sweep(l, p[i], p[i+1]); fouls {
					j.bad("fouling", "the %s lies over the work or the machine while the tip is at z %.1f", name, z)
					return
				}
			}
		}
	}
}

// layout reads an arrangement and the shop's sizes.
func (j *judgement) layout(a map[string]any) (l layout, ok bool) {
	text := func(key, other string) string {
		if s, is := a[key].(string); is {
			return s
		}
		return other
	}
	post, c := j.shop.lathe.in("tool_post"), j.shop.lathe.in("compound")
	l = layout{
		hand: text("tool_hand", "right"), side: text("post_side", "headstock"), turn: text("post_turn", "square"),
		handle: text("handle", "normal"), wide: post.mm("holder_width"), over: post.mm("overhang"), size: post.mm("size"),
		slideLong: c.mm("length"), slideWide: c.mm("width"), slideBelow: c.mm("top_below_centre"),
	}
	if v, is := a["overhang_mm"].(float64); is {
		l.over = v
	}
	if h := c.in("handle"); h.tree != nil {
		l.beyond, l.radius = h.mm("beyond"), h.mm("radius")
	}
	if v, is := a["post_turned_deg"].(float64); is {
		l.turned = v
	}
	return l, l.size > 0 && l.slideLong > 0
}

// sweep winds the tip along a taper.
func (j *judgement) sweep(l layout, p, q point) (name string, z float64, fouls bool) {
	way, face := j.setUp.way(), *j.setUp.JawFace
	a, b := spot{(p.z - face) * way, p.d / 2}, spot{(q.z - face) * way, q.d / 2}
	if a.z > b.z {
		a, b = b, a
	}
	slope := math.Atan2(b.y-a.y, b.z-a.z)
	l.swivel = slope * 180 / math.Pi // growing toward the tailstock is clockwise
	if l.turn == "with-slide" {
		l.turned = l.swivel
	}
	if l.handle == "reversed" {
		l.swivel += 180
	}
	const parts, more = 8, 1
	long := math.Hypot(b.z-a.z, b.y-a.y)
	for i := range parts + 1 {
		t := -more + (long+2*more)*float64(i)/parts
		tip := spot{a.z + t*math.Cos(slope), a.y + t*math.Sin(slope)}
		for _, s := range l.bodies(tip) {
			for _, at := range s.points() {
				if math.Abs(at.y) < j.width(s.name, at.z, s.below)-0.1 {
					return s.name, face + way*tip.z, true
				}
			}
		}
	}
	return "", 0, false
}

// bodies are holder, post, slide and handle with the tip at a place.
func (l layout) bodies(tip spot) []slab {
	left := tip.z // the holder's edge toward the headstock
	switch l.hand {
	case "left":
		left -= l.wide
	case "neutral": // the tip is in the middle
		left -= l.wide / 2
	}
	reach := l.over
	if l.side != "front" {
		reach += l.size
	}
	holder := slab{"holder", spot{left, tip.y}, spot{l.wide, 0}, spot{0, reach}, 0}
	from := left + l.wide
	switch l.side {
	case "tailstock":
		from = left - l.size
	case "front":
		from = left + l.wide/2 - l.size/2
	}
	post := slab{"post", spot{from, tip.y + l.over}, spot{l.size, 0}, spot{0, l.size}, 0}
	middle := spot{from + l.size/2, tip.y + l.over + l.size/2}
	t := rad(l.turned)
	holder, post, middle = holder.turned(tip, t), post.turned(tip, t), tip.around(middle, t)
	u := spot{math.Cos(rad(l.swivel)), math.Sin(rad(l.swivel))}
	side := spot{-u.y, u.z}
	back := spot{middle.z - u.z*l.slideWide/2, middle.y - u.y*l.slideWide/2}
	slide := slab{
		"slide",
		spot{back.z - side.z*l.slideWide/2, back.y - side.y*l.slideWide/2},
		spot{u.z * l.slideLong, u.y * l.slideLong},
		spot{side.z * l.slideWide, side.y * l.slideWide},
		l.slideBelow,
	}
	all := []slab{holder, post, slide}
	if l.radius > 0 {
		far := l.slideLong + l.beyond
		hub := spot{back.z + u.z*far, back.y + u.y*far}
		for i := range 16 {
			a := 2 * math.Pi * float64(i) / 16
			rim := spot{l.radius * math.Cos(a), l.radius * math.Sin(a)}
			all = append(all, slab{"handle", hub, rim, spot{}, l.slideBelow})
		}
	}
	return all
}

// around returns a place turned about another, clockwise seen from above.
func (s spot) around(p spot, t float64) spot {
	z, y := p.z-s.z, p.y-s.y
	return spot{s.z + z*math.Cos(t) - y*math.Sin(t), s.y + z*math.Sin(t) + y*math.Cos(t)}
}

func (s slab) turned(tip spot, t float64) slab {
	s.corner = tip.around(s.corner, t)
	s.along, s.out = spot{}.around(s.along, t), spot{}.around(s.out, t)
	return s
}

// width returns how far what stands on the axis reaches to the side at z, at a
// height below the axis: jaws, chuck, barrel, tailstock, and the work for all
// but the holder, which the tool's own edge is judged for.
func (j *judgement) width(body string, z, below float64) float64 {
	chord := func(d float64) float64 {
		return math.Sqrt(math.Max(0, d*d/4-below*below))
	}
	chuck := j.shop.lathe.in("chuck")
	jaws := chuck.mm("jaw_length")
	wide := 0.0
	if z <= 0 && z >= -jaws {
		wide = chord(chuck.or("jaw_circle", 0))
	}
	if z < -jaws {
		wide = math.Max(wide, chord(chuck.or("diameter", 0)))
	}
	if body != "holder" && z > 0 {
		wide = math.Max(wide, chord(j.work.diaAt(*j.setUp.JawFace+j.setUp.way()*z)))
	}
	if s := j.setUp.Support; s != nil && isWord(s.Kind, "centre", "bore-mouth") && s.Z != nil {
		wide = math.Max(wide, j.tailstock(z-math.Abs(*s.Z-*j.setUp.JawFace), below, chord))
	}
	return wide
}

// tailstock is the width of barrel and body at a distance beyond the point.
func (j *judgement) tailstock(far, below float64, chord func(float64) float64) float64 {
	t := j.shop.lathe.in("tailstock")
	out := t.mm("barrel_out")
	if v, ok := j.setUp.State.Arrangement["barrel_out_mm"].(float64); ok {
		out = v
	}
	body := t.list("body")
	switch {
	case far < 0:
		return 0
	case far <= out:
		return chord(t.mm("barrel"))
	case len(body) == 2:
		wide, _ := length(body[0], j.shop.unit)
		deep, _ := length(body[1], j.shop.unit)
		if below < deep {
			return wide / 2
		}
	}
	return 0
}
