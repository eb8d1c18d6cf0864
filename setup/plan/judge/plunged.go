package judge

import (
	"math"
	"regexp"
	"slices"
)

// What a card says of an arc that is plunged: each place and the diameter there, how far from the face,
// the carriage's line, and what is left to file.
var (
	saysPlunge = regexp.MustCompile(`^to ([\d.]+) mm at z (-?[\d.]+) mm, (-?[\d.]+) mm from the face` +
		`(?:, carriage (?:(-?\d+) turns? \+ (-?\d+) div|between two lines))?, from the work as `)
	saysCusp = regexp.MustCompile(`leaving cusps of ([\d.]+) mm(?:, and up to a line of the dial more, ([\d.]+) mm,)? ` +
		`to file`)
	saysDown = regexp.MustCompile(`the large end, down to z (-?[\d.]+) mm`)
)

// usualBlade is how wide a blade is that the shop's file does not list: common practice, no source.
const usualBlade = 2

// plunge is where a blade goes straight in: over what of z, and to which diameter.
type plunge struct{ a, b, dia float64 }

// plungedArc: an arc that is plunged is plunged as its card says. The blade stands with its corner
// toward the headstock at each z and goes in to each diameter, along a fine grid of z: nowhere is less
// left than the drawing has, no corner of what is left on the arc is farther off it than is said, and
// what is taken beside the arc is what the step removes.
func plungedArc(j *judgement) {
	blade, plunged := j.plungesBlade()
	if !plunged {
		return
	}
	wide, _, _, owned := j.shop.blade()
	if !owned {
		wide = usualBlade
	}
	if math.Abs(blade-wide) > tiny {
		j.bad("steps", "the blade is %.3f wide, and the card says %.3f", wide, blade)
	}
	large, a := j.op.value("from z")
	small, b := j.told("from z", saysDown)
	left, c := j.told("steps", saysCusp)
	n, d := j.op.value("steps")
	if !(a && b && c && d) || int(n) != len(j.op.Dials) {
		j.bad("steps", "the ends, the count of %d places and what is left of an arc are not all said", len(j.op.Dials))
		return
	}
	if left[0] > 0.1+0.0011 {
		j.bad("steps", "cusps of %.3f are left", left[0])
	}
	if list, ok := j.plungesOf(wide, large, small[0]); ok {
		j.plungedOver(list, math.Min(large, small[0]), math.Max(large, small[0]), left[0]+none(left[1]))
	}
}

// plungesBlade returns how wide a card says the blade is that an arc is plunged with. ok is false where
// no arc is plunged.
func (j *judgement) plungesBlade() (wide float64, ok bool) {
	wide, ok = j.op.value("width a plunge")
	hand := j.op.Tool.Hand
	return wide, ok && j.op.Kind == "curve" && hand != nil && *hand == "form"
}

// told returns the numbers of what a setting says.
func (j *judgement) told(name string, says *regexp.Regexp) (list []float64, ok bool) {
	for _, s := range j.op.Settings {
		if found := says.FindStringSubmatch(s.Say); s.Name == name && found != nil {
			for _, word := range found[1:] {
				list = append(list, num(word))
			}
			return list, true
		}
	}
	return nil, false
}

// plungesOf reads the places of a card, from the large end down: that each is set to what it says, and
// is so far from the face.
func (j *judgement) plungesOf(wide, large, small float64) (list []plunge, ok bool) {
	const shows = 0.0016
	way, face := j.setUp.way(), j.work.endOf(j.setUp.out())
	start, before := j.work.largest(math.Min(large, small), math.Max(large, small)), math.Inf(1)
	lead, divisions, dialled := j.shop.dial("carriage")
	for _, d := range j.op.Dials {
		says := saysPlunge.FindStringSubmatch(d.What)
		if says == nil {
			j.bad("steps", "no place: %q", d.What)
			return nil, false
		}
		set := d.Exact
		if d.Set != nil {
			set = *d.Set
		}
		dia, z, in := num(says[1]), num(says[2]), num(says[3])
		is := start - 2*set
		if math.Abs(dia-(start-2*d.Exact)) > 2*shows && dia < start || is < dia-2*shows {
			j.bad("steps", "in from %.4f to %.4f, and %.4f is said", start, is, dia)
		}
		if math.Abs((face-z)*way-in) > shows {
			j.bad("steps", "z %.4f is %.4f from the face, and %.4f is said", z, (face-z)*way, in)
		}
		turned := lead * (num(says[4]) + num(says[5])/divisions)
		if says[4] != "" && (!dialled || math.Abs(turned-in) > shows) {
			j.bad("steps", "the carriage shows %.4f at %.4f from the face", turned, in)
		}
		if is > before+tiny {
			j.bad("steps", "%.4f is cut after %.4f, which is not from the large end down", is, before)
		}
		before = is
		list = append(list, plunge{math.Min(z, z+way*wide), math.Max(z, z+way*wide), is})
	}
	return list, len(list) > 0
}

// plungedOver holds what plunges leave against the drawing, from one end of the side of an arc to the
// other and beside it.
func (j *judgement) plungedOver(list []plunge, from, to, left float64) {
	const step, edge = 0.005, 0.002 // an edge is told to the last place that is shown
	var grid []float64
	low, high := from, to
	for _, p := range list {
		low, high = math.Min(low, p.a), math.Max(high, p.b)
		grid = append(grid, p.a-edge, p.a+edge, p.b-edge, p.b+edge)
	}
	for z := low; z < high; z += step {
		grid = append(grid, z+step/2)
	}
	grid = append(grid, from+edge, to-edge)
	slices.Sort(grid)
	after := j.after()
	for _, z := range grid {
		floor, shared := math.Inf(1), false
		for _, p := range list {
			shared = shared || math.Abs(p.a-z) < edge-tiny || math.Abs(p.b-z) < edge-tiny
			if p.a <= z && z <= p.b {
				floor = math.Min(floor, p.dia)
			}
		}
		if !shared && !j.plungedTo(z, floor, from, to, left, after) {
			return
		}
	}
}

// plungedTo looks at one place: in how far a blade went there.
func (j *judgement) plungedTo(z, floor, from, to, left float64, after *work) bool {
	const under, off = 0.005, 0.004
	if z <= from || z >= to { // beside the side
		if z > 0 && z < j.length && floor < math.Min(j.leastAllowed(z)-under, j.work.diaAt(z)) {
			j.bad("gouge", "plunged to %.4f at z %.4f, drawn at least %.4f", floor, z, j.leastAllowed(z))
			return false
		}
		if z < j.work.left() || z > j.work.right() {
			return true
		}
		if stands := math.Min(floor, j.work.diaAt(z)); math.Abs(after.diaAt(z)-stands) > 2*off {
			j.bad("steps", "plunged to %.4f at z %.4f, and the step leaves %.4f", stands, z, after.diaAt(z))
			return false
		}
		return true
	}
	for _, c := range j.circles {
		if z < c.from || z > c.to {
			continue
		}
		if floor < c.dia(z)-under {
			j.bad("gouge", "plunged to %.4f at z %.4f, where the arc has %.4f", floor, z, c.dia(z))
			return false
		}
		stands := math.Min(floor, j.work.diaAt(z))
		if cusp := math.Abs(math.Hypot(z-c.z, stands/2-c.r) - c.radius); cusp > left+off {
			j.bad("steps", "%.4f stands at z %.4f, %.4f off the arc, and %.4f is said", stands, z, cusp, left)
			return false
		}
		return true
	}
	j.bad("steps", "no arc is drawn at z %.4f", z)
	return false
}
