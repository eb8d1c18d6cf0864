package judge

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// What a card says that the hand does is read from its words, and done: the tip stands where it
// says, on a line at the compound's angle, and what that leaves is what the step removes.
var (
	saysBegin = regexp.MustCompile(`bring the tip (?:([\d.]+) mm, along the slide, before |before |to )` +
		`z (-?[\d.]+) mm`)
	saysTouch = regexp.MustCompile(`(?:to the (?:large|small) end, z (-?[\d.]+) mm, t|T)ouch the turning work there, ` +
		`([\d.]+) mm thick as (bought|roughed|cut in step \d+),`)
	saysFrom = regexp.MustCompile(`Come in with the cross slide to ([\d.]+) mm out from 0`)
	saysOff  = regexp.MustCompile(`collar to 0.*Cross slide out (?:([\d.]+) mm, and )?(?:half a turn|(\d+) turns?) ` +
		`and its slack`)
	saysNext = regexp.MustCompile(`cut the next bites? in the same passes[,:] ((?:bite \d+ )?from .*? out)[.](?:\s|$)`)
	saysEach = regexp.MustCompile(`from ([\d.]+) mm`)
	saysDeep = regexp.MustCompile(`o deeper by at most ([\d.]+) mm`)
	saysFine = regexp.MustCompile(`, the last time by ([\d.]+) mm`)
	saysPast = regexp.MustCompile(`, come out past the next bite's first line by .* and its slack and then in to it,`)
	saysLast = regexp.MustCompile(`; the last line is (?:([\d.]+) mm[^.]* past 0|([\d.]+) mm[^.]* out from 0[^.]*|0)\.`)
	saysFeed = regexp.MustCompile(`wind the compound (?:in|out), toward the (headstock|tailstock), ` +
		`(?:to 0: its slack, )?(?:those ([\d.]+) mm and )?([\d.]+) mm`)
	saysBite = regexp.MustCompile(`move the carriage ([\d.]+) mm toward the`)
	saysBack = regexp.MustCompile(`Wind the compound right (in|out), then (in|out) ([\d.]+) mm ` +
		`\((?:(\d+) turns?)?(?: \+ )?(?:(\d+) div)?\) and its slack`)
	saysWay  = regexp.MustCompile(`wind the compound (in|out), toward the`)
	saysFlat = regexp.MustCompile(`^Flat (\d+): (?:crank on (\d+) turns?(?: and (\d+) spaces? on the (\d+) circle)?; )?` +
		`(?:(?:handwheel|turned|\d+ faces?)[^;]*; )?it reads ([\d.]+) mm(?: at the large end, ([\d.]+) mm at the small)?`)
)

// told returns the numbers of what a sentence says, in the order of the expression; one that is
// not said is NaN. ok is false where no step says it.
func (o operation) told(says *regexp.Regexp) (list []float64, ok bool) {
	found := says.FindStringSubmatch(strings.Join(o.Steps, "\n"))
	if found == nil {
		return nil, false
	}
	for _, word := range found[1:] {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			v = math.NaN()
		}
		list = append(list, v)
	}
	return list, true
}

// none takes a number that is not said for 0.
func none(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// winding is how a card says that a taper is cut: where the tip begins, by how much before that
// it runs in, where the work is touched and how thick it is there, how far out the passes begin
// and how far in the last is, how far the compound feeds, and which way.
type winding struct{ z, runs, touch, thick, out, in, feed, way float64 }

// wound: a taper on the compound says how it is wound, and that cuts it. A plan that was written
// by hand may be without the words.
func wound(j *judgement) {
	st := j.setUp.State
	if j.op.Steps == nil || j.op.Kind != "taper" || st.Compound == nil || len(j.op.Removes) == 0 {
		return
	}
	cone := points(j.op.Removes[0].Profile)
	if filed(j, cone) && len(j.op.Steps) == 0 {
		return
	}
	begin, a := j.op.told(saysBegin)
	touch, b := j.op.told(saysTouch)
	last, c := j.op.told(saysLast)
	feed, d := j.op.told(saysFeed)
	_, e := j.op.told(saysDeep)
	if !(a && b && c && d && e) {
		j.bad("steps", "the begin, the touch, the depth, the last line and the feed are not all said: %q", j.op.Steps)
		return
	}
	w := winding{
		z: begin[1], runs: none(begin[0]), touch: touch[0], thick: touch[1], in: none(last[0]) - none(last[1]), feed: feed[2],
		way: -j.setUp.way(),
	}
	if math.IsNaN(w.touch) {
		w.touch = w.z
	}
	if from, ok := j.op.told(saysFrom); ok {
		w.out = from[0]
	}
	if strings.Contains(strings.Join(j.op.Steps, "\n"), ", toward the tailstock,") {
		w.way *= -1
	}
	j.winds(w, cone)
	j.goesFar(w)
}

// goesFar asks whether the slide, wound to its end and back by its dial, has what a pass runs in and
// feeds left to go, and is not wound off.
func (j *judgement) goesFar(w winding) {
	const shows = 0.0016
	words := strings.Join(j.op.Steps, "\n")
	lead, divisions, dial := j.shop.dial("compound")
	back, way := saysBack.FindStringSubmatch(words), saysWay.FindStringSubmatch(words)
	switch {
	case back == nil && dial && !strings.Contains(words, "as far as it goes"):
		j.bad("steps", "the compound has a dial, and how far it is wound back is not said by it: %q", j.op.Steps)
	case back == nil:
	case way == nil || back[1] != way[1] || back[2] == way[1]:
		j.bad("steps", "fed %v, the slide is wound right %s and then %s", way, back[1], back[2])
	default:
		far := num(back[3])
		if turned := lead * (num(back[4]) + num(back[5])/divisions); math.Abs(turned-far) > shows {
			j.bad("steps", "%s turns and %s divisions are %.4f, not %v", back[4], back[5], turned, far)
		}
		if travel, known := j.shop.lathe.in("compound").length("travel"); known && far > travel+shows {
			j.bad("steps", "the slide is wound back %v, and has %v", far, travel)
		}
		if far < w.runs+w.feed-shows {
			j.bad("steps", "the slide is wound back %v, and a pass is %v and %v", far, w.runs, w.feed)
		}
	}
}

// filed reports whether there is less metal at a taper's large end than the card could touch.
func filed(j *judgement, cone []point) bool {
	for _, p := range cone {
		if j.work.largest(cone[0].z, cone[len(cone)-1].z) > p.d+tiny {
			return false
		}
	}
	return true
}

// winds holds what is wound against the work before the step and the cone that it leaves.
func (j *judgement) winds(w winding, cone []point) {
	const shows = 0.0016 // mm, half of the last place twice, and of a diameter
	half := math.Abs(*j.setUp.State.Compound) * math.Pi / 180
	first, end := cone[0], cone[len(cone)-1]
	line := func(z float64) float64 { return first.d + (end.d-first.d)*(z-first.z)/(end.z-first.z) }
	inside := w.touch + 0.001
	if math.Abs(w.touch-end.z) < shows {
		inside = w.touch - 0.001
	}
	if stands := j.work.diaAt(inside); math.Abs(stands-w.thick) > 2*shows {
		j.bad("steps", "touched at z %v, %v thick, where the work is %.4f", w.touch, w.thick, stands)
	}
	if left := w.thick - 2*w.in; math.Abs(left-line(w.touch)) > 2*shows {
		j.bad("steps", "the last line leaves %.4f at z %v, and the step %.4f", left, w.touch, line(w.touch))
	}
	most := 0.0
	for _, p := range j.work.over(first.z, end.z) {
		most = math.Max(most, math.Max(p.da-line(p.a), p.db-line(p.b))/2)
	}
	if off := j.comesOff(); off < w.out+shows || off+w.in < most-2*shows && math.Abs(w.touch-w.z) > shows {
		j.bad("steps", "the tip comes %.4f off after the touch, the first pass begins %.4f out, and the work stands %.4f "+
			"beyond the last", off, w.out, most)
	}
	j.beginsEach(w, half, line)
	j.runsAlong(w, half, cone, line)
}

// comesOff is how far the tip comes off the work after it was touched, beside the slack.
func (j *judgement) comesOff() float64 {
	off, said := j.op.told(saysOff)
	if !said {
		j.bad("steps", "how the tip comes off after the touch is not said: %q", j.op.Steps)
		return 0
	}
	lead, _, _ := j.shop.dial("cross slide")
	if math.IsNaN(off[1]) {
		return none(off[0]) + lead/2
	}
	return none(off[0]) + off[1]*lead
}

// beginsEach asks whether the first pass of each bite begins where the work is only met, or farther out.
func (j *judgement) beginsEach(w winding, half float64, line func(float64) float64) {
	const shows = 0.0016
	outs, move, bites := []float64{w.out}, 0.0, 1
	if n, ok := j.op.value("bites"); ok && n > 1 {
		bites = int(n)
		if by, said := j.op.told(saysBite); said {
			move = by[0]
		}
	}
	if next := saysNext.FindStringSubmatch(strings.Join(j.op.Steps, "\n")); next != nil {
		for _, from := range saysEach.FindAllStringSubmatch(next[1], -1) {
			outs = append(outs, num(from[1]))
		}
	}
	j.counts(w, outs)
	if bites > 1 && !saysPast.MatchString(strings.Join(j.op.Steps, "\n")) {
		j.bad("steps", "after a bite the cross slide stands on its last line, and how it comes out to the next one's first "+
			"is not said: %q", j.op.Steps)
	}
	for k := range bites {
		a := w.z + w.way*move*float64(k)
		b := a + w.way*w.feed*math.Cos(half)
		most, out := 0.0, outs[min(k, len(outs)-1)]
		for _, p := range j.work.over(math.Min(a, b)+shows, math.Max(a, b)-shows) {
			most = math.Max(most, math.Max(p.da-line(p.a), p.db-line(p.b))/2)
		}
		if out+w.in < most-3*shows {
			j.bad("steps", "bite %d begins %.4f from the last pass, and the work stands %.4f beyond that", k+1, out+w.in, most)
		}
	}
}

// counts winds the passes one by one, and holds how many they are against what the card says. What
// would be less than a line of the dial is none of its own.
func (j *judgement) counts(w winding, outs []float64) {
	said, ok := j.op.value("passes")
	deep, known := j.op.told(saysDeep)
	last, finished := j.op.told(saysFine)
	lead, divisions, dial := j.shop.dial("cross slide")
	if !ok || !known || !finished || !dial {
		return
	}
	most, line := 0.0, lead/divisions
	lines := func(l float64) float64 { return math.Floor(l/line+0.05) * line }
	each := math.Max(line, lines(deep[0]))
	for _, out := range outs {
		n, to := 1.0, w.in-lines(last[0])
		for stands := -out; stands < to-line/2; stands = math.Min(stands+each, to) {
			n++
		}
		most = math.Max(most, n)
	}
	if said != most {
		j.bad("steps", "%v passes, and the words make %v: out %v, in %.4f", said, most, outs, w.in)
	}
}

// runsAlong asks whether the slide goes from the one end of the taper to the other, and runs in over
// nothing. In bites the last of them ends there.
func (j *judgement) runsAlong(w winding, half float64, cone []point, line func(float64) float64) {
	const shows = 0.0016
	from, to := cone[0].z, cone[len(cone)-1].z
	if w.way < 0 {
		from, to = to, from
	}
	if math.Abs(w.z-from) > shows {
		j.bad("steps", "the tip begins at z %v, and the taper at %v", w.z, from)
	}
	along := w.feed * math.Cos(half)
	if bites, ok := j.op.value("bites"); ok && bites > 1 {
		move, said := j.op.told(saysBite)
		if !said {
			j.bad("steps", "in %v bites, and how the carriage moves is not said", bites)
			return
		}
		along += (bites - 1) * move[0]
	}
	if ends := w.z + w.way*along; math.Abs(ends-to) > 0.06 || w.way*(ends-to) < -4*shows {
		j.bad("steps", "the tip ends at z %.4f, and the taper at %v", ends, to)
	}
	for k := 1; k <= 20 && w.runs > 0; k++ { // the taper's line goes on where the tip runs in
		z := w.z - w.way*w.runs*math.Cos(half)*float64(k)/20
		if d := j.work.diaAt(z); d > math.Max(line(z), 0)+0.002 {
			j.bad("steps", "the tip runs in at z %.3f, in metal: %.4f stands there, and the line is at %.4f", z, d, line(z))
			return
		}
	}
}

// flatsOneByOne: the flats that a card tells one by one are those that are cut, at their places, and
// each reads what stands: how far it lies from the axis, and how far the work reaches opposite.
func flatsOneByOne(j *judgement) {
	const listed = 12
	for _, r := range j.op.Removes {
		if j.op.Steps == nil || r.Shape != "flats" || j.op.Kind == "slot" || r.Sides > listed || len(j.op.Steps) == 0 {
			continue
		}
		seen, turned := map[int]bool{}, 0.0
		large, small := r.endsOf(j)
		for _, text := range j.op.Steps {
			found := saysFlat.FindStringSubmatch(text)
			if found == nil {
				continue
			}
			n := int(num(found[1]))
			turned = j.cranked(n, r.Sides, turned, found[2:5])
			for i, end := range []*section{large, small} {
				if found[5+i] != "" {
					j.reading(end, n, r.Sides, found[5+i])
				}
			}
			seen[n] = true
		}
		if len(seen) != r.Sides {
			j.bad("steps", "of %d flats %d are told", r.Sides, len(seen))
		}
	}
}

// cranked adds the turns, spaces and holes that a card says to what the crank was turned before, and
// asks whether that is the place of a flat.
func (j *judgement) cranked(n, sides int, turned float64, says []string) float64 {
	ratio, head := number(j.shop.in("dividing_head").tree["ratio"])
	if says[0] == "" || !head {
		return turned
	}
	turned += num(says[0])
	if says[2] != "" {
		turned += num(says[1]) / num(says[2])
	}
	const off = 0.05 // degrees
	place := math.Mod(turned*360/ratio-float64(n-1)*360/float64(sides)+540, 360) - 180
	if math.Abs(place) > off {
		j.bad("steps", "flat %d is cranked to %.3f deg past its place", n, place)
	}
	return turned
}

// reading asks whether a flat reads what a card says, and cuts it.
func (j *judgement) reading(end *section, n, sides int, says string) {
	const off = 0.002 // mm
	if reads := end.reads(n-1, sides); math.Abs(reads-num(says)) > off {
		j.bad("steps", "flat %d is said to read %s, and reads %.4f", n, says, reads)
	}
	end.cut(n - 1)
}

func num(word string) float64 {
	v, _ := strconv.ParseFloat(word, 64)
	return v
}

// section is the work across at one end of the flats: a round, the flats that are on it by now by
// their number from 0, and how far from the axis one comes to lie.
type section struct {
	radius, far float64
	lies        map[int]float64
}

// endsOf returns the sections at the large and the small end of the flats: at an edge that is
// chamfered, what the line behind the chamfer comes to there.
func (r removal) endsOf(j *judgement) (large, small *section) {
	at := func(z, inside, across float64) *section {
		one, two := z+inside, z+2*inside
		line := func(of func(z float64) float64) float64 { return 2*of(one) - of(two) }
		s := &section{radius: line(j.work.diaAt) / 2, far: across / 2, lies: map[int]float64{}}
		half := 0.5
		if r.Sides%2 == 1 {
			half = 1 / (1 + 1/math.Cos(math.Pi/float64(r.Sides)))
			s.far = across * half
		}
		if p, ok := j.work.pieceAt(one); ok && p.sides == r.Sides {
			for k := range r.Sides {
				s.lies[k] = line(p.flat) * half
			}
		}
		return s
	}
	nudge := func(z float64) float64 {
		for _, c := range j.chamfers {
			if math.Abs(c.z-z) < 0.01 {
				return c.d + 1e-4
			}
		}
		return 1e-4
	}
	large, small = at(r.FromZ, nudge(r.FromZ), r.AcrossA), at(r.ToZ, -nudge(r.ToZ), r.AcrossB)
	if large.radius < small.radius {
		large, small = small, large
	}
	return large, small
}

func (s *section) cut(k int) { s.lies[k] = s.far }

// reads looks round the section in small steps for what reaches farthest opposite a flat.
func (s *section) reads(k, sides int) float64 {
	const around = 36000
	most, opposite := 0.0, 2*math.Pi*float64(k)/float64(sides)+math.Pi
	for i := range around {
		angle := 2 * math.Pi * float64(i) / around
		r := s.radius
		for n, far := range s.lies {
			if cos := math.Cos(angle - 2*math.Pi*float64(n)/float64(sides)); n != k && cos > tiny {
				r = math.Min(r, far/cos)
			}
		}
		most = math.Max(most, r*math.Cos(angle-opposite))
	}
	return s.far + most
}
