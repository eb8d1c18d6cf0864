package judge

import (
	"math"
	"slices"
	"strings"

	"setover/setup/book/materials"
)

// beam is the work from what builds it in: x runs along it from there. It is
// asked by double integration of M/(E·I), in small steps.
type beam struct {
	step     float64
	stiff    []float64 // E·I in the middle of each step, N·mm2
	simple   bool      // between centres: carried at 0 and at its support, built in nowhere
	supportX float64   // 0 where there is none
}

const steps = 600

// newBeam makes the beam of a set-up: from the jaws' face to the end that is
// out, or from centre to centre.
func (j *judgement) newBeam() (b beam, root float64, ok bool) {
	m, err := materials.Find(j.material)
	if err != nil {
		return b, 0, false
	}
	end := j.work.endOf(j.setUp.out())
	switch {
	case j.setUp.Device == "between-centres":
		b.simple = true
		root = j.work.left()
		if j.setUp.way() < 0 {
			root = j.work.right()
		}
		if j.setUp.out() == "" {
			end = j.work.right()
		}
	case j.setUp.JawFace != nil:
		root = *j.setUp.JawFace
	case j.onArbor():
		root = j.arborRoot()
	default:
		return b, 0, false // nothing is built in
	}
	long := math.Abs(end - root)
	if long < 0.1 {
		return b, root, false
	}
	way := j.setUp.way()
	b.step = long / steps
	e := m.Modulus().Chosen * 1000
	for i := range steps {
		z := root + way*(float64(i)+0.5)*b.step
		b.stiff = append(b.stiff, j.stiffAt(z, e))
	}
	if s := j.setUp.Support; s != nil && s.Kind != "none" && s.Z != nil {
		b.supportX = math.Abs(*s.Z - root)
	}
	if b.simple {
		b.supportX = long
	}
	return b, root, true
}

// arborClear is how far an arbor stands out before the work is on it, in mm, and
// steelModulus the modulus of what it is made of, in MPa.
const (
	arborClear   = 1
	steelModulus = 207e3
)

// onArbor reports whether the work is carried by its bore.
func (j *judgement) onArbor() bool {
	return j.setUp.Grip != nil && isWord(j.setUp.Device, "mandrel", "arbor", "threaded-stub")
}

// arborRoot is where the jaws hold the arbor.
func (j *judgement) arborRoot() float64 {
	if j.setUp.way() < 0 {
		return j.setUp.Grip.To + arborClear
	}
	return j.setUp.Grip.From - arborClear
}

// stiffAt returns E·I at z of the work, of modulus e, or of the arbor in it.
func (j *judgement) stiffAt(z, e float64) float64 {
	if a, inside := j.arborAt(z); inside {
		return steelModulus * math.Pi * math.Pow(a, 4) / 64
	}
	d := 0.0
	if p, there := j.work.pieceAt(z); there {
		d = p.dia(z)
		if p.sides > 2 {
			d = p.flat(z)
		}
	}
	d = math.Max(d, 0.6) // a point counts as thick as an edge that is broken by 0.3
	h := math.Min(j.work.hollow(z), 0.95*d)
	return math.Max(e*math.Pi*(math.Pow(d, 4)-math.Pow(h, 4))/64, 1)
}

// arborAt returns how thick the arbor is at z, which bends where it reaches into the work:
// of a threaded stub it is the root of its thread, d - 1.226869·P (ISO 724).
func (j *judgement) arborAt(z float64) (dia float64, inside bool) {
	if !j.onArbor() {
		return 0, false
	}
	g := j.setUp.Grip
	inside = z >= g.From-arborClear && z <= g.To
	if j.setUp.way() < 0 {
		inside = z >= g.From && z <= g.To+arborClear
	}
	for _, t := range j.work.threads {
		if j.setUp.Device == "threaded-stub" && t.inside && t.known && t.from <= g.From+0.05 && g.To-0.05 <= t.to {
			return t.size.major - 1.226869*t.size.pitch, inside
		}
	}
	return g.Dia, inside
}

// bend returns how far the built-in beam gives way at x under 1 N at c, from
// slope and deflection summed outward.
func (b beam) bend(x, c float64) float64 {
	slope, y := 0.0, 0.0
	for i, k := range b.stiff {
		at := (float64(i) + 0.5) * b.step
		if at > x {
			break
		}
		moment := math.Max(0, c-at)
		slope += moment / k * b.step
		y += slope * b.step
	}
	return y
}

// spring returns how far the work gives way at x under 1 N there. With a
// support its force takes back what the beam would give way at it.
func (b beam) spring(x float64) float64 {
	if b.simple {
		return b.simply(x)
	}
	y := b.bend(x, x)
	s := b.supportX
	if s < 1 {
		return y
	}
	back := b.bend(x, s)
	if x > s {
		back = b.bend(s, x) // the same both ways round
	}
	return y - back*back/b.bend(s, s)
}

// simply returns the same of a beam on two centres: y = ∫ m²/(E·I), with m the
// moment of 1 N at x.
func (b beam) simply(x float64) float64 {
	long, y := b.supportX, 0.0
	for i, k := range b.stiff {
		at := (float64(i) + 0.5) * b.step
		m := at * (long - x) / long
		if at > x {
			m = x * (long - at) / long
		}
		y += m * m / k * b.step
	}
	return y
}

// cuttingForce returns a cut's force in N: kc·depth·feed. The table's energies
// are for a chip of 0.1 mm; kc falls with the chip to the power of 0.25
// (Kienzle's mc, 0.2 to 0.3 for metals).
func (j *judgement) cuttingForce(depth, feed float64) float64 {
	m, err := materials.Find(j.material)
	if err != nil || feed <= 0 {
		return 0
	}
	kc := m.SpecificEnergy().Chosen * 1000 * math.Pow(feed/0.1, -0.25)
	return kc * depth * feed
}

// place is a place that is cut: z, the diameter before and after.
type place struct{ z, before, after float64 }

// cuts returns where an operation cuts the outside: places along each profile
// where metal goes.
func (j *judgement) cuts() []place {
	var all []place
	for _, r := range j.op.Removes {
		if r.Shape != "outside" {
			continue
		}
		j.work.each(points(r.Profile), func(old piece, da, db float64) {
			if old.da+old.db-da-db < 2e-4 {
				return
			}
			for _, f := range []float64{0.0005, 0.25, 0.5, 0.75, 0.9995} { // an end belongs to the stretch it ends
				z := old.a + (old.b-old.a)*f
				all = append(all, place{z, old.dia(z), da + (db-da)*f})
			}
		})
	}
	slices.SortFunc(all, func(p, q place) int {
		switch {
		case p.z < q.z:
			return -1
		case p.z > q.z:
			return 1
		}
		return 0
	})
	return all
}

// slack is how far the two readings of a spring may part: the force's formula
// and the feeds are rounded differently.
const slack = 1.05

// overhang: what stands out is a beam of steps. Twice the spring under the cut
// is within a quarter of the limits' width in finishing; the spring is within
// 0.25 mm in roughing; facing, centring, drilling and parting give way at most
// 0.1 mm under 20 N, parting at the end that hangs out; beyond its last support nothing
// hangs out further than 10 of its diameter at any place.
func overhang(j *judgement) {
	if j.setUp.Machine != "lathe" || len(j.op.Removes) == 0 {
		return
	}
	b, root, ok := j.newBeam()
	if !ok {
		return
	}
	j.stickOut()
	j.slender(b, root, j.work)
	if !slices.ContainsFunc(j.op.Removes, func(r removal) bool { return r.Shape == "end" }) {
		j.slender(b, root, j.after())
	}
	j.screwed()
	j.bent(root)
	j.necked(b, root)
	j.sideSpring(b, root)
	filed := j.op.Tool.Hand != nil && *j.op.Tool.Hand == "file" // it is pressed on until it measures right
	if cuts := j.cuts(); len(cuts) > 0 && !filed {
		j.cutSpring(b, root, cuts)
	}
}

// stickOut holds what is told to stand out when the set-up begins against what
// does.
func (j *judgement) stickOut() {
	if j.setUp.JawFace == nil || len(j.setUp.Operations) == 0 || j.started == j.setUp.N {
		return
	}
	j.started = j.setUp.N
	is := math.Abs(j.work.endOf(j.setUp.out()) - *j.setUp.JawFace)
	if s := j.setUp.StickOut; s == nil || math.Abs(*s-is) > 0.05 {
		j.bad("overhang", "%.3f stands out of the jaws, and the plan says another length", is)
	}
}

// sideSpring looks at facing, centring, drilling and parting.
func (j *judgement) sideSpring(b beam, root float64) {
	const side, most = 20, 0.1
	for _, r := range j.op.Removes {
		z := j.work.endOf(j.setUp.out())
		switch r.Shape {
		case "end":
			if j.op.Kind != "part-off" {
				z = r.Z
			}
		case "centre", "bore":
		default:
			continue
		}
		if y := side * b.spring(math.Min(math.Abs(z-root), float64(steps)*b.step)); y > most*slack {
			j.bad("overhang", "%s springs %.3f mm under %d N, %.1f from the jaws", r.Shape, y, side, math.Abs(z-root))
		}
	}
}

// cutSpring looks at turning. What is told may be of the work as it is left,
// under the whole depth that is set: it is at least what there is and at most
// that.
func (j *judgement) cutSpring(b beam, root float64, cuts []place) {
	worst, whole := 0.0, 0.0
	after := *j
	after.work = j.after()
	left, _, _ := after.newBeam()
	for _, c := range cuts {
		depth, feed, finishing := j.cut(c)
		x := math.Abs(c.z - root)
		takes := math.Min(depth, (c.before-c.after)/2)
		if wide, straight := j.op.value("width a plunge"); straight { // the chip is as wide as the blade
			finishing = finishing && j.op.Kind != "curve" // an arc is plunged to size
			if y := left.spring(x) * 0.5 * j.cuttingForce(wide, feed); finishing && y > 0.25*slack {
				j.bad("overhang", "a plunge of %.2f springs %.3f mm at z %.1f, %.1f from the jaws", wide, y, c.z, x)
				return
			}
			if !finishing {
				depth, takes = wide, wide
			}
		}
		y := b.spring(x) * 0.5 * j.cuttingForce(takes, feed)
		worst, whole = math.Max(worst, y), math.Max(whole, left.spring(x)*0.5*j.cuttingForce(depth, feed))
		limit, what := 0.25, "roughing"
		if finishing {
			low, high := j.bounds(c.z)
			limit, what = (high-low)/8, "finishing"
			if _, left := j.op.value("leave"); left { // the file takes it off, up to the 0.03 that was left
				limit = math.Max(limit, 0.015)
			}
		}
		if y > limit*slack {
			j.bad("overhang", "%s springs %.3f mm at z %.1f, %.1f from the jaws, at most %.3f", what, y, c.z, x, limit)
			return
		}
	}
	if s := j.op.Spring; s != nil && (*s < worst/2-0.01 || *s > 2*math.Max(worst, whole)+0.02) {
		j.bad("overhang", "the spring is told %.3f mm and is %.3f to %.3f", *s, worst, whole)
	}
}

// taperRate is how much steeper than its name a taper may be on a shank, on the diameter: 0.002 in a foot
// of 12.
const taperRate = 0.002 / 12

// leansAway looks at a cone whose half angle has limits: under the last pass its two ends spring
// differently, and the cone is off by that angle. It may take a quarter of their width.
func leansAway(j *judgement) {
	after := *j
	after.work = j.after()
	left, root, ok := after.newBeam()
	if j.op.Kind != "taper" || j.setUp.Machine != "lathe" || !ok {
		return
	}
	for _, r := range j.op.Removes {
		cone := points(r.Profile)
		if r.Shape != "outside" || len(cone) < 2 {
			continue
		}
		first, last := cone[0], cone[len(cone)-1]
		wide, limited := j.angleWidth(first.z, last.z, math.Abs(last.d-first.d)/2/(last.z-first.z))
		if _, more := j.op.value("leave"); more || !limited {
			continue
		}
		give := func(p point) float64 {
			depth, feed, _ := j.cut(place{p.z, p.d, p.d})
			return left.spring(math.Abs(p.z-root)) * 0.5 * j.cuttingForce(depth, feed)
		}
		off := math.Atan(math.Abs(give(first)-give(last))/(last.z-first.z)) * 180 / math.Pi
		if most := wide / 4; off > most*slack {
			j.bad("overhang", "the cone leans %.4f deg by the spring, at most %.4f", off, most)
		}
	}
}

// angleWidth returns how wide the limits of a half angle are in degrees over a stretch of so steep a cone.
func (d *drawing) angleWidth(from, to, slope float64) (deg float64, limited bool) {
	for _, l := range d.limits {
		if l.isPlace || l.from > from+0.01 || to > l.to+0.01 {
			continue
		}
		switch {
		case l.angle > 0:
			return 2 * l.angle, true
		case l.gauge != "":
			return (math.Atan(slope+taperRate/2) - math.Atan(slope)) * 180 / math.Pi, true
		}
	}
	return 0, false
}

// cut returns the depth a side and the feed of the cut at a place, and whether
// it finishes: what the plan sets, else usual ones.
func (j *judgement) cut(c place) (depth, feed float64, finishing bool) {
	low, high := j.bounds(c.z)
	finishing = c.after <= high+0.02 && c.after-(low+high)/2 < 0.15 && c.z >= 0 && c.z <= j.length
	finishing = finishing && j.op.Kind != "chamfer" // an edge has no limits of the diameter
	finishing = finishing || j.op.Kind == "curve"   // its steps, to the point
	depth, feed = 1, 0.12
	if finishing {
		depth, feed = 0.2, 0.06
	}
	for _, s := range j.op.Settings {
		if v, ok := s.Value.(float64); ok && strings.HasPrefix(s.Name, "depth a pass") {
			depth = v
		}
	}
	if v, ok := j.op.value("feed"); ok {
		feed = v
	}
	return depth, feed, finishing
}

// thin returns the diameter at z, across the flats where there are some.
func (p piece) thin(z float64) float64 {
	if f := p.flat(z); p.sides >= 2 && f > 0 {
		return math.Min(p.dia(z), f)
	}
	return p.dia(z)
}

// screwed refuses what a split nut or a threaded stub carries by a few turns of thread: without
// a centre no more than three of its diameters stand out beyond the thread.
func (j *judgement) screwed() {
	g, s := j.setUp.Grip, j.setUp.Support
	if g == nil || !isWord(j.setUp.Device, "split-nut", "threaded-stub") || s != nil && s.Kind != "none" {
		return
	}
	far := g.To
	if j.setUp.way() < 0 {
		far = g.From
	}
	if long := math.Abs(j.work.endOf(j.setUp.out()) - far); long > 3*g.Dia+1.05 { // what is faced off stands on it yet
		j.bad("overhang", "%.1f mm stands out of a thread of %.1f without a centre", long, g.Dia)
	}
}

// necked refuses a cut by which a centre bends what is thin before it: the beam that is built in gives
// way at the centre, and what takes that back bends all between the cut and there.
func (j *judgement) necked(b beam, root float64) {
	s := j.setUp.Support
	m, err := materials.Find(j.material)
	if err != nil || b.simple || j.setUp.JawFace == nil || s == nil || !isWord(s.Kind, "centre", "bore-mouth") {
		return
	}
	push, place := j.pushes(root)
	c := math.Abs(place - root)
	carried := push * b.bend(c, b.supportX) / b.bend(b.supportX, b.supportX)
	const part, grid = 0.2, 400
	for i := range grid {
		x := c + (b.supportX-c)*(float64(i)+0.5)/grid
		p, there := j.work.pieceAt(root + j.setUp.way()*x)
		if !there || push == 0 || c >= b.supportX {
			return
		}
		d := p.thin(root + j.setUp.way()*x)
		second := math.Pi * (math.Pow(d, 4) - math.Pow(math.Min(j.work.hollow(root+j.setUp.way()*x), 0.95*d), 4)) / 64
		if sigma := carried * (b.supportX - x) * d / 2 / second; sigma > part*m.TensileStrength().Chosen*1.15 {
			j.bad("overhang", "%.0f N of the centre bend %.1f mm, %.1f from the jaws, by %.0f MPa", carried, d, x, sigma)
			return
		}
	}
}

// bent refuses a cut that bends the work by more than a fifth of its strength at any place between
// the jaws, or a steady, and the cut: sigma = M·c/I with M the push times the way to it.
func (j *judgement) bent(root float64) {
	s := j.setUp.Support
	m, err := materials.Find(j.material)
	if err != nil || j.setUp.JawFace == nil || s != nil && isWord(s.Kind, "centre", "bore-mouth") {
		return
	}
	if s != nil && s.Kind == "steady" && s.Z != nil {
		root = *s.Z
	}
	push, place := j.pushes(root)
	const part, grid = 0.2, 400
	for i := range grid {
		z := root + (place-root)*float64(i)/grid
		p, there := j.work.pieceAt(z)
		if !there || push == 0 || (place-root)*j.setUp.way() <= 0 {
			return
		}
		d := math.Max(p.thin(z), 2)
		second := math.Pi * (math.Pow(d, 4) - math.Pow(math.Min(j.work.hollow(z), 0.95*d), 4)) / 64
		if sigma := push * math.Abs(place-z) * d / 2 / second; sigma > part*m.TensileStrength().Chosen*1.15 {
			j.bad("overhang", "%.0f N at z %.1f bend %.1f mm at z %.1f by %.0f MPa", push, place, d, z, sigma)
			return
		}
	}
}

// pushes returns the most that pushes the work aside in a step, and the furthest place where it
// does: half of the cutting force, or 20 N and half as much again where an end is cut.
func (j *judgement) pushes(root float64) (push, place float64) {
	place = root
	reach := func(z float64) {
		if math.Abs(z-root) > math.Abs(place-root) {
			place = z
		}
	}
	for _, r := range j.op.Removes {
		if r.Shape == "end" || r.Shape == "centre" {
			z := j.work.endOf(r.End)
			if j.op.Kind == "part-off" {
				z = r.Z
			}
			push = 1.5 * 20
			reach(z)
		}
	}
	filed := j.op.Tool.Hand != nil && *j.op.Tool.Hand == "file"
	for _, c := range j.cuts() {
		if j.op.Kind == "chamfer" { // and a relief: by hand feed
			break
		}
		depth, feed, _ := j.cut(c)
		takes := math.Min(depth, (c.before-c.after)/2)
		if _, straight := j.op.value("width a plunge"); !straight && !filed {
			push = math.Max(push, 0.5*j.cuttingForce(takes, feed))
			reach(c.z)
		}
	}
	return push, place
}

// after returns the work as the step leaves it.
func (j *judgement) after() *work {
	w := j.work.clone()
	for _, r := range j.op.Removes {
		w.apply(r, j.op.Kind, &j.drawing)
	}
	return w
}

// slender refuses what hangs out too far beyond any place, by the diameter there or what
// is across its flats, and by what is held.
func (j *judgement) slender(b beam, root float64, w *work) {
	if b.simple {
		return
	}
	from, end := root, w.endOf(j.setUp.out())
	supported := b.supportX > 0
	if supported {
		from = *j.setUp.Support.Z
	}
	hangs := func(z, dia float64) bool {
		long := math.Abs(end - z)
		if long <= 10*dia+0.2 {
			return false
		}
		j.bad("overhang", "%.1f mm stands out, %.1f of its diameter at z %.1f", long, long/dia, z)
		return true
	}
	if g := j.setUp.Grip; g != nil && !supported && hangs(from, g.Dia) {
		return
	}
	for _, p := range w.over(math.Min(from, end), math.Max(from, end)) {
		if _, inside := j.arborAt((p.a + p.b) / 2); inside {
			continue
		}
		if hangs(p.a, p.thin(p.a)) || hangs(p.b, p.thin(p.b)) {
			return
		}
	}
}
