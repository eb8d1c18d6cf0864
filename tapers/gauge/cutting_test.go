package gauge_test

// Somebody who knows nothing but the words cuts a taper again that came out wrong: every move, turn
// and line is read from the sentences and done on slides with slack, on metal that is kept in slices.
// Nothing but a cut takes metal, none takes more than is usual, none goes into what stands beyond
// the taper, and what comes out is measured.

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/gauge"
	"setover/tapers/swivel"
)

const (
	slice  = 0.02 // mm along the axis
	beyond = 12.0 // mm of the work that is looked at on either side
	many   = 1000.0
)

const (
	aLength = `([\d.]+) (?:mm|in)`
	inTurns = `(?: \([^)]*\))?`
)

var (
	readsStart = regexp.MustCompile(`the tip to the (?:very )?(?:headstock|tailstock) end`)
	readsFar   = regexp.MustCompile(`ompound (?:in|out)(?: ` + aLength + inTurns + `)?(?: and no farther, where most ` +
		`is left)?, (?:the tip clear of the work|tip clear), (?:to the (\w+) end[^.]*?, |` + aLength + ` short of ` +
		`(?:where )?bite 2(?: begins)?, )?touch`)
	readsBack = regexp.MustCompile(`, compound (?:back|out) (?:as far|` + aLength + inTurns + `) and its slack\.`)
	readsCuts = regexp.MustCompile(`Cross slide (?:in|out) to (.*?)(?:, always (?:in|out) so that its slack is out)?` +
		`(?:; |\. (?:For e|E)ach: )(?:compound (?:in|out)(?:, toward the \w+,)? (.*?)|feed with the carriage toward the ` +
		`headstock along the whole side); cross slide (?:in|out) again, (?:compound back (past 0 by its slack, to 0|as ` +
		`after the touch|past 0 by ` + aLength + inTurns + ` and its slack)|carriage back)`)
	readsLine = regexp.MustCompile(`(?:` + aLength + ` \()?(?:(\d+) turns?(?: \+ ([\d.]+) div)?|([\d.]+) div)(, by eye)?`)
	readsOn   = regexp.MustCompile(`(?:on )?` + aLength + inTurns + `$`)
	readsThen = regexp.MustCompile(`Then unlock(?: and move the|,) carriage ` + aLength + ` toward the (\w+),.*?begun ` +
		`and ended ` + aLength + ` (sooner|later)`)
	readsNext = regexp.MustCompile(`Then (?:the|each) next bite.*?: cross slide (\w+) as after the touch, ` +
		`(?:and on by (.*?), then )?unlock(?: and move the|,) carriage ` + aLength + ` toward the (\w+).*?same cuts, ` +
		`each line (?:as much )?farther (\w+)(?: by (.*?))?(?: than|\.\s)`)
	readsOff    = regexp.MustCompile(`akes ` + aLength + ` off`)
	readsLeaves = regexp.MustCompile(`leaves ` + aLength)
	readsLast   = regexp.MustCompile(`(?:about ` + aLength + `, comes off by the carriage: unlock it, move it|What is ` +
		`left on the diameter(?: then comes off by the carriage: unlock it, move it|: unlock, ` +
		`carriage)) (?:([\d.]+) times )?as much ` +
		`toward the (\w+),.*?begun and ended (?:([\d.]+) times )?as much (sooner|later)`)
	readsRest = regexp.MustCompile(`about .*?: ` + aLength + inTurns + ` farther`)
)

// fail is what stops a test.
type fail interface {
	Helper()
	Fatalf(format string, args ...any)
}

// screw is a slide with its dial, counted the way that it feeds or goes deeper. It stands behind
// its dial by nothing to what is lost.
type screw struct{ dial, slide, lost float64 }

func (s *screw) turn(dial float64) {
	s.dial = dial
	s.slide = min(max(s.slide, dial-s.lost), dial)
}

// job is the taper as it is, and whoever cuts it. Places count from where the tool begins, the way
// that it feeds.
type job struct {
	t           fail
	text        string
	unit        float64 // mm
	in          gauge.CorrectInput
	length      float64
	rises, deep float64   // 1 where the side rises the way it feeds; 1 outside, -1 in a bore
	half        float64   // the half angle that the slide stands at, in radians
	radii       []float64 // of the work
	cut         []bool
	feeds, x    screw
	at, from, r float64 // the tip, both slides at 0: where it begins, the carriage, and the radius
	u, y        float64
	c0, x0      float64
	begun, off  float64 // the compound's dial where a cut begins; what the tip comes off by
}

func (j *job) number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(err)
	}
	return v * j.unit
}

func (j *job) read(what *regexp.Regexp) []string {
	j.t.Helper()
	m := what.FindStringSubmatch(j.text)
	if m == nil {
		j.t.Fatalf("no %s in\n%s", what, j.text)
	}
	return m
}

// wanted is the radius that is wanted at a place.
func (j *job) wanted(u float64) float64 {
	large, small := j.in.Large.MM()/2, j.in.Small.MM()/2
	if j.rises > 0 {
		return small + (large-small)*u/j.length
	}
	return large - (large-small)*u/j.length
}

// over is how far a radius stands over another in the metal.
func (j *job) over(have, is float64) float64 { return j.deep * (have - is) }

// to moves the tip to where the slides stand.
func (j *job) to(cuts bool, what string) {
	j.t.Helper()
	u := j.at + j.from + j.feeds.slide*math.Cos(j.half)
	y := j.r + j.rises*j.feeds.slide*math.Sin(j.half) - j.deep*j.x.slide
	n := int(math.Abs(u-j.u)/slice*3) + 1
	for i := range n + 1 {
		f := float64(i) / float64(n)
		pu, py := j.u+(u-j.u)*f, j.y+(y-j.y)*f
		k := int(math.Floor((pu + beyond) / slice))
		if k < 0 || k >= len(j.radii) {
			continue
		}
		in := j.over(j.radii[k], py)
		rise := slice * math.Tan(j.half)
		edge := pu > -0.05 && pu < slice || pu > j.length-slice && pu < j.length+0.05
		switch {
		case in <= 2e-3+rise && !cuts || in <= 0 || edge:
			continue
		case !cuts:
			j.t.Fatalf("%s goes %f into the work at %f of %f\n%s", what, in, pu, j.length, j.text)
		case pu < 0 || pu > j.length:
			if in > 2e-3+rise {
				j.t.Fatalf("%s goes %f into what stands beyond the taper, at %f of %f\n%s", what, in, pu, j.length, j.text)
			}
			continue
		case in > 0.75:
			j.t.Fatalf("%s takes %f at once at %f\n%s", what, in, pu, j.text)
		}
		j.radii[k], j.cut[k] = py, true
	}
	j.u, j.y = u, y
}

// wind turns the compound, cross the cross slide.
func (j *job) wind(dial float64, cuts bool, what string) {
	j.t.Helper()
	j.feeds.turn(dial)
	j.to(cuts, what)
}

func (j *job) cross(dial float64, cuts bool, what string) {
	j.t.Helper()
	j.x.turn(dial)
	j.to(cuts, what)
}

// lines reads lines of the cross slide's dial.
func (j *job) lines(text string) (list []float64) {
	for _, m := range readsLine.FindAllStringSubmatch(text, -1) {
		if m[5] != "" { // by eye: the part of a line is rounded
			list = append(list, j.number(m[1]))
			continue
		}
		d, v := j.in.Cross, 0.0
		for i, each := range map[int]float64{2: d.Lead.MM(), 3: d.Division().MM(), 4: d.Division().MM()} {
			if m[i] != "" {
				n, _ := strconv.ParseFloat(m[i], 64)
				v += n * each
			}
		}
		list = append(list, v)
	}
	return list
}

// starts brings the tip to where it begins, and touches.
func (j *job) starts() {
	cos := math.Cos(j.half)
	if j.in.Between == nil {
		j.read(readsStart)
	}
	j.feeds.dial, j.feeds.slide = 0, 0
	if strings.Contains(j.text, "just moves") {
		j.feeds.dial = j.feeds.lost
	}
	j.begun = j.feeds.dial
	j.x.dial, j.x.slide = -many, -many
	j.r = j.wanted(0)
	j.u, j.y = j.at, j.r+j.deep*many
	reach := 0.0
	if far := readsFar.FindStringSubmatch(j.text); far != nil && j.in.Between == nil {
		switch {
		case far[1] != "":
			reach = j.number(far[1])
			j.wind(j.feeds.dial+reach, false, "winding to the far end")
		default:
			end := 0.0
			if far[2] == "small" && j.rises < 0 || far[2] == "large" && j.rises > 0 || far[2] == string(j.toward()) {
				end = j.length
			}
			j.wind((end-j.at)/cos+j.feeds.lost, false, "winding to the end")
		}
	} else if j.in.Between != nil { // with the carriage
		named := said(j.t, j.text, `(?:to|work at) the (\w+) end`)
		if named == "small" && j.rises < 0 || named == "large" && j.rises > 0 {
			j.feeds.slide = j.length / cos
			j.to(false, "the carriage going to the end")
		}
	}
	k := min(max(int((j.u+beyond)/slice), int(beyond/slice)+1), int((j.length+beyond)/slice)-1)
	touches := j.radii[k] + j.rises*math.Tan(j.half)*(j.u-(float64(k)+0.5)*slice+beyond)
	j.cross((j.r+j.rises*j.feeds.slide*math.Sin(j.half)-touches)/j.deep+j.x.lost, false, "the touch")
	j.c0, j.x0 = j.feeds.dial, j.x.dial
	j.off = j.in.Cross.Lead.MM()/2 + j.x.lost
	if j.deep < 0 {
		j.off = 0.3 + j.x.lost
	}
	j.cross(j.x0-j.off, false, "coming off after the touch")
	if back := readsBack.FindStringSubmatch(j.text); back != nil {
		if back[1] != "" {
			reach = j.number(back[1])
		}
		j.wind(j.c0-reach-j.feeds.lost, false, "the compound coming back")
		j.begun = j.feeds.dial
	}
	if j.in.Between != nil {
		j.feeds.slide = 0
		j.to(false, "the carriage coming back")
	}
}

// toward is the end of the lathe that it feeds to.
func (j *job) toward() tapers.End {
	grows := j.in.SmallEnd == tapers.AtHeadstock
	if (j.rises > 0) == grows {
		return tapers.AtTailstock
	}
	return tapers.AtHeadstock
}

// passes cuts at each line, begun and ended later by so much.
func (j *job) passes(lines []float64, later float64) {
	m := j.read(readsCuts)
	for _, line := range lines {
		switch {
		case later < 0 && m[3] == "as after the touch": // its slack is out the way back
			j.wind(j.begun+later, false, "beginning sooner")
		case later > 0 && m[3] == "as after the touch":
			j.wind(j.begun+later+j.feeds.lost, false, "beginning later")
		case later != 0:
			j.wind(j.begun+later-j.feeds.lost, false, "beginning sooner")
			j.wind(j.begun+later, false, "beginning later")
		}
		j.cross(j.x0+line, true, "going deeper")
		if j.in.Between != nil {
			j.feeds.slide = j.length / math.Cos(j.half)
			j.to(true, "the feed")
			j.cross(j.x.dial-j.off, false, "coming off")
			j.feeds.slide = 0
			j.to(false, "the carriage coming back")
			continue
		}
		to := j.c0 + later
		if on := readsOn.FindStringSubmatch(m[2]); on != nil {
			to += j.number(on[1])
		} else if m[2] != "to 0" {
			j.t.Fatalf("fed how? %q\n%s", m[2], j.text)
		}
		j.wind(to, true, "the feed")
		j.cross(j.x.dial-j.off, false, "coming off")
		switch {
		case m[4] != "":
			j.wind(j.c0+later-j.number(m[4])-j.feeds.lost, false, "going past 0")
		case strings.HasPrefix(m[3], "past 0"):
			j.wind(j.c0+later-j.feeds.lost, false, "going past 0")
			j.wind(j.c0+later, false, "going to 0")
			j.begun = j.c0
		default:
			j.wind(j.begun+later, false, "going back")
		}
	}
}

// all reports whether the side was cut between two places.
func (j *job) all(from, to float64) bool {
	for u := from + 2*slice; u < to-2*slice; u += slice {
		if !j.cut[int((u+beyond)/slice)] {
			return false
		}
	}
	return true
}

// cuts obeys all of it, in so many bites of that length.
func (j *job) cuts(bites int, bite float64) {
	j.starts()
	m := j.read(readsCuts)
	lines := j.lines(m[1])
	switch {
	case m[1] == "0":
		lines = []float64{0}
	case strings.Contains(m[1], "and on by at most as much"):
		by, to := lines[0], lines[1]
		lines = []float64{by}
		for lines[len(lines)-1]+by < to-1e-9 {
			lines = append(lines, lines[len(lines)-1]+by)
		}
		lines = append(lines, to)
	case strings.Contains(m[1], "cuts of at most"):
		rough, depth, last := lines[0], lines[1], lines[2]
		lines = nil
		for to := depth; to < rough-1e-9; to += depth {
			lines = append(lines, to)
		}
		lines = append(lines, rough, last)
	}
	if strings.Contains(j.text, "deeper at a time, until it cuts") {
		for by := lines[0]; ; lines = append(lines, lines[len(lines)-1]+by) {
			j.passes(lines[len(lines)-1:], 0)
			if j.all(0, bite) {
				break
			}
			if len(lines) > 200 {
				j.t.Fatalf("it is never cut along the whole side\n%s", j.text)
			}
		}
	} else {
		j.passes(lines, 0)
	}
	last := lines[len(lines)-1]
	if then := readsThen.FindStringSubmatch(j.text); then != nil {
		z, later := j.number(then[1]), j.number(then[3])
		if then[4] == "sooner" {
			later = -later
		}
		if then[2] != string(j.toward()) {
			z = -z
		}
		j.from += z
		j.to(false, "the carriage, for the rest")
		j.passes([]float64{last}, later)
	}
	if by := readsRest.FindStringSubmatch(j.text); by != nil {
		lines = append(lines, last+j.number(by[1]))
		j.passes(lines[len(lines)-1:], 0)
	}
	if rest := readsLast.FindStringSubmatch(j.text); rest != nil {
		left := math.Inf(1)
		for u := 2 * slice; u < j.length-2*slice; u += slice {
			k := int((u + beyond) / slice)
			left = min(left, 2*j.over(j.radii[k], j.wanted((float64(k)+0.5)*slice-beyond)))
		}
		if rest[1] != "" { // how far it stands out was measured
			left = j.number(rest[1])
		}
		z, later := left, left
		for i, to := range map[int]*float64{2: &z, 4: &later} {
			if rest[i] != "" {
				n, _ := strconv.ParseFloat(rest[i], 64)
				*to *= n
			}
		}
		if rest[5] == "sooner" {
			later = -later
		}
		if rest[3] != string(j.toward()) {
			z = -z
		}
		j.from += z
		j.to(false, "the carriage, for what was left")
		j.passes([]float64{last}, later)
	}
	for n := 2; n <= bites; n++ {
		next := j.read(readsNext)
		by, way := next[6], next[5]
		j.cross(j.x0-j.off, false, "the cross slide, off the bite")
		if next[2] != "" {
			by = next[2]
		}
		all := j.lines(by)
		moved := all[min(n-2, len(all)-1)]
		deeper := "in"
		if j.deep < 0 {
			deeper = "out"
		}
		if way != deeper {
			moved = -moved
		}
		if next[2] != "" {
			j.cross(j.x.dial+moved, false, "the cross slide, first")
		}
		j.from += j.number(next[3])
		j.to(false, "the carriage, to the next bite")
		j.x0 += moved
		j.passes(lines, 0)
	}
}

// draw is the metal as it came out of the slide standing at m: in bites that were joined as the
// compound's own sheet says, each begun so much sooner as that says that the slide runs in. Spare is what is
// left at the end with least of it, on the diameter.
func (j *job) draw(m, spare float64, set *compound.Result, bar bool) {
	n := int((j.length + 2*beyond) / slice)
	j.radii, j.cut = make([]float64, n), make([]bool, n)
	starts, long, sooner := [][2]float64{{0, 0}}, j.length, 0.0
	if set != nil && set.CarriageSet != nil {
		sooner = j.runIn(set) * math.Cos(m)
		long = set.Bite.MM() * math.Cos(set.SetHalfAngle.Rad())
		for i, k := range set.Joints {
			before := starts[i]
			starts = append(starts, [2]float64{before[0] + k.Carriage.MM(), before[1] + j.rises*k.Cross.MM()})
		}
	}
	least := math.Inf(1)
	for k := range j.radii {
		u := (float64(k)+0.5)*slice - beyond
		headstock := (u > j.length) == (j.toward() == tapers.AtHeadstock)
		switch {
		case u >= 0 && u <= j.length:
			r := math.Inf(int(j.deep))
			for _, s := range starts {
				if u >= s[0]-sooner-slice && u <= s[0]+long+slice {
					is := s[1] + j.rises*math.Tan(m)*(u-s[0])
					if math.IsInf(r, 0) || j.over(r, is) > 0 {
						r = is
					}
				}
			}
			j.radii[k] = r
			least = min(least, j.over(r, j.wanted(u)))
		case j.deep < 0 && headstock:
			j.radii[k] = 0
		case j.deep < 0:
			j.radii[k] = many
		case headstock && j.toward() == tapers.AtHeadstock:
			j.radii[k] = many / 2
		case headstock || bar:
			j.radii[k] = min(j.wanted(0), j.wanted(j.length))
			if bar && !headstock {
				j.radii[k] = j.wanted(min(max(u, 0), j.length))
			}
		default:
			j.radii[k] = 0
		}
	}
	for k := range j.radii {
		if u := (float64(k)+0.5)*slice - beyond; u >= 0 && u <= j.length {
			j.radii[k] += j.deep * (spare/2 - least)
		}
	}
}

// runIn is how far of the slide before the end the compound's sheet begins a pass.
func (j *job) runIn(set *compound.Result) float64 {
	unit := units.MM
	if j.unit > 1 {
		unit = units.Inch
	}
	text := ""
	for _, step := range set.Sheet().Procedure {
		text += step.Brief().Whole().In(unit) + "\n"
	}
	if m := readsRunIn.FindStringSubmatch(text); m != nil {
		return j.number(m[1])
	}
	return 0
}

// reading measures the work at a place that counts from where the tool begins; from the large end
// in what is returned.
func (j *job) reading(u float64) gauge.Reading {
	k := int((u + beyond) / slice)
	u = (float64(k)+0.5)*slice - beyond
	z := u
	if j.rises > 0 {
		z = j.length - u
	}
	return at(z, 2*j.radii[k])
}

// words is what is said of the cuts, in short or whole.
func words(r gauge.CorrectResult, unit units.Unit, brief bool) string {
	text := ""
	for _, step := range r.Sheet().Procedure {
		if brief {
			step = step.Brief()
		}
		text += step.Whole().In(unit) + "\n"
	}
	return text
}

// Words of the compound's own sheet.
var (
	readsRunIn    = regexp.MustCompile(`the tip ` + aLength + ` of slide before`)
	readsBites    = regexp.MustCompile(`(\d+) bites, all passes each`)
	readsCarriage = regexp.MustCompile(`carriage ([\d.]+) mm(?: \([^)]*\))? toward the`)
	readsCross    = regexp.MustCompile(`(?:cross slide on (?:out|in)|and on) ([\d.]+) mm`)
)

// bySheet has the slides moved between the bites as the compound's sheet says in words, or in its table
// where they do not move alike, and the steps out that this leaves on the side drawn.
func bySheet(t fail, set *compound.Result, half units.Angle) {
	if len(set.Joints) == 0 {
		return
	}
	text := ""
	for _, step := range set.Sheet().Procedure {
		text += step.Brief().Whole().In(units.MM) + "\n"
	}
	if n := said(t, text, readsBites.String()); n != strconv.Itoa(len(set.Joints)+1) {
		t.Fatalf("%s bites, %d joints\n%s", n, len(set.Joints), text)
	}
	z, y := 0.0, 0.0
	for i := range set.Joints {
		k := &set.Joints[i]
		v, _ := strconv.ParseFloat(said(t, text, readsCarriage.String()), 64)
		k.Carriage = units.FromFloat(v)
		if m := readsCross.FindStringSubmatch(text); m != nil {
			v, _ := strconv.ParseFloat(m[1], 64)
			k.Cross = units.FromFloat(v)
		} else if !strings.Contains(text, "by the table of bites") {
			t.Fatalf("the cross slide goes how far?\n%s", text)
		}
		z, y = z+k.Carriage.MM(), y+k.Cross.MM()
		k.Step = units.FromFloat(2 * (y - z*half.Tan()))
	}
	set.CarriageSet = &set.Joints[0].Carriage
}

// alone is the part of a bite from where its like ends in the one before to where the next begins with its
// run-in, of 2 or on the other page 2.54, less 1 or a quarter of a bite.
func alone(set *compound.Result, bite int, length float64) (low, high float64) {
	z := set.CarriageSet.MM()
	clear := min(1, z/4) + 2*slice
	low, high = 1, length-0.5
	if bite > 1 {
		low = z*float64(bite-2) + set.Bite.MM()*math.Cos(set.SetHalfAngle.Rad()) + clear
	}
	if bite <= len(set.Joints) {
		high = z*float64(bite) - clear - 2.54
	}
	return low, high
}

// Tapers that were cut at a wrong half angle are cut as the sheet says: outside and in a bore, both
// ends, either tool, in one bite and in several, by the tailstock; in mm and in inches, in short and
// in whole words; where what is left is known, and where only the gap is, or not even that.
//
// Long: every way there is, and what each comes out as.
func TestCutAgainObeyed(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		inside, bites := rapid.Bool().Draw(rt, "bore"), rapid.Bool().Draw(rt, "bites")
		end := rapid.SampledFrom(tapers.Ends).Draw(rt, "small end")
		kind := rapid.SampledFrom([]string{"measured", "gap", "blue", "stick-out"}).Draw(rt, "kind")
		centres := !bites && !inside && rapid.IntRange(0, 4).Draw(rt, "centres") == 0
		unit := rapid.SampledFrom([]units.Unit{units.MM, units.Inch}).Draw(rt, "unit")
		brief, bar := rapid.Bool().Draw(rt, "brief"), rapid.Bool().Draw(rt, "work beyond the tailstock end")
		large, l := hundredths(rt, "large", 4000, 6000), hundredths(rt, "length", 3000, 6000)
		small := large - hundredths(rt, "taper", 200, 2000)
		if centres {
			small = large - hundredths(rt, "taper", 200, 600)
		}
		c := &shop.Compound{
			Travel: length("200mm"), Screw: &shop.Dial{Lead: units.MustLength("1mm"), Divisions: 50},
			Scale: shop.Scale{
				Zero: shop.Along, Step: units.Degrees(rapid.SampledFrom([]float64{1e-5, 1}).Draw(rt, "marks")),
			},
		}
		if bites {
			c.Travel = mm(l / rapid.Float64Range(1.2, 3.8).Draw(rt, "in bites"))
		}
		in := gauge.CorrectInput{
			Input:    tapers.Input{Large: mm(large), Small: mm(small), Length: mm(l)},
			SmallEnd: end, Internal: inside, Compound: c, Care: gauge.Care{ReadingError: length("0.0001mm"), Unit: unit},
			Cross: &shop.Dial{Lead: units.MustLength("2mm"), Divisions: 100}, Within: length("0.001mm"),
		}
		if rapid.Bool().Draw(rt, "left-hand tool alone") {
			in.Tools = []shop.Tool{{Hand: "left", Trail: units.Degrees(30)}}
		}
		if centres {
			in.Between = length("200mm")
		}
		half := tapers.HalfAngle(*in.Large, *in.Small, *in.Length)
		if rapid.Bool().Draw(rt, "a dial on the carriage") {
			in.Carriage = &shop.Dial{Lead: units.MustLength("20mm"), Divisions: 200}
		}
		ask := compound.Input{
			Input: in.Input, SmallEnd: end, Internal: inside, Within: in.Within, Tools: swivel.Tools{Unit: unit},
		}
		ask.Lathe = shop.Lathe{Compound: c, CrossSlide: in.Cross, Carriage: in.Carriage, Tools: in.Tools}
		set, err := compound.Set(ask)
		if err == nil && len(set.Fails()) > 0 { // nobody was told to cut it so
			ask.Within = nil
			set, err = compound.Set(ask)
		}
		if err != nil {
			rt.Fatal(err)
		}
		bySheet(rt, &set, half)
		j := &job{t: rt, unit: 1, in: in, length: l, rises: -1, deep: 1, half: half.Rad()}
		if inside {
			j.deep = -1
		}
		feeds := set.FeedsToward
		if centres {
			feeds = tapers.AtHeadstock
		}
		if (feeds == tapers.AtTailstock) == (end == tapers.AtHeadstock) {
			j.rises = 1
		}
		if unit == units.Inch {
			j.unit = 25.4
		}
		long, n := l, 1
		if set.CarriageSet != nil && !centres {
			long, n = set.CarriageSet.MM(), *set.Bites
		}
		out := hundredths(rt, "out", 3, 30) * rapid.SampledFrom([]float64{-1, 1}).Draw(rt, "way")
		if kind == "stick-out" {
			out = 0
		}
		m := math.Atan(half.Tan() + out/2/long)
		spare := min(hundredths(rt, "left", 20, 300), l*half.Tan()) // it stands out by half of its length at the most
		j.draw(m, spare, &set, bar)
		if centres {
			j.draw(m, spare, nil, bar)
		}
		switch touchesSmall := (out < 0) != inside; kind {
		case "measured":
			bite := rapid.IntRange(1, n).Draw(rt, "measured in bite")
			low, high := 1.0, float64(bite)*long-0.5
			if n > 1 {
				low, high = alone(&set, bite, l)
			}
			if high-low < 2 { // too little of it lies clear of the others
				return
			}
			in.Measured = []gauge.Reading{j.reading(low), j.reading(high)}
		case "stick-out":
			most := 0.0 // what stands highest touches the socket
			for u := 2 * slice; u < l-2*slice; u += slice {
				k := int((u + beyond) / slice)
				most = max(most, j.over(j.radii[k], j.wanted((float64(k)+0.5)*slice-beyond)))
			}
			in.StickOut = mm(most / half.Tan())
		default:
			in.Blue = gauge.AtLarge
			if touchesSmall {
				in.Blue = gauge.AtSmall
			}
			if kind == "gap" {
				in.Gap = mm(math.Abs(out)) // over a gauge that touches the proud end of the last bite, or of the first
				if n > 1 {
					in.Gap = mm(math.Abs(out) / long * set.Bite.MM() * half.Cos())
				}
			}
		}
		r, err := gauge.Correct(in)
		if err != nil {
			rt.Fatal(err)
		}
		if len(r.Fails()) > 0 || r.Verdict == "untold" || r.Verdict == "right" {
			return
		}
		j.text = words(r, unit, brief)
		if !strings.Contains(j.text, "Cross slide") {
			return
		}
		j.feeds.lost, j.x.lost = hundredths(rt, "slack", 0, 40), hundredths(rt, "slack of the cross slide", 0, 30)
		seen[kind]++
		if readsLast.MatchString(j.text) {
			seen["by the carriage"]++
		}
		if n > 1 {
			seen["bites"]++
		}
		if centres {
			seen["centres"]++
		}
		before := append([]float64(nil), j.radii...)
		j.cuts(n, long)
		// What came out: how much stands over what is wanted, a side.
		low, high, took := math.Inf(1), math.Inf(-1), 0.0
		for u := 2 * slice; u < l-2*slice; u += slice {
			k := int((u + beyond) / slice)
			over := j.over(j.radii[k], j.wanted((float64(k)+0.5)*slice-beyond))
			low, high = min(low, over), max(high, over)
			took = max(took, j.over(before[k], j.radii[k]))
		}
		step, fine := 0.0, 0.004+2*slice*half.Tan()
		thin := 0.0
		for _, k := range set.Joints {
			stands := j.rises * j.deep * k.Step.MM() / 2
			step, thin = max(step, stands), min(thin, stands)
		}
		step -= thin
		if unit == units.Inch {
			fine += 0.004
		}
		last := 0.0 // of the last bite, beyond what its like in the first shows when that is cut along the whole side
		if n > 1 && in.Gap == nil && in.Blue != "" {
			last = math.Abs(out) / 2 / long * (set.Bite.MM()*half.Cos() - long)
		}
		if high-low > step+fine+last {
			rt.Fatalf("%s: the side differs by %f, by %f at the joints\n%s", kind, high-low, step, j.text)
		}
		if r.TakeOff == nil {
			return
		}
		rest := 0.0
		leaves := readsLeaves.FindStringSubmatch(j.text)
		if leaves != nil && !goneOn(j.text) {
			rest = j.number(leaves[1]) / 2
		}
		more := step
		if leaves != nil && n > 1 && !goneOn(j.text) { // what it leaves counts the steps
			more = 0
		}
		if low < -fine || high > rest+more+fine {
			rt.Fatalf("%s: %f to %f is left a side, %f is said\n%s", kind, low, high, rest, j.text)
		}
		if n > 1 { // a bite's very end comes off too: it is touched 1, and less than a turn, before the next begins
			fine += math.Abs(out) / 2 / long * (set.Bite.MM()*half.Cos() - long + 2.54 + min(1, long/4) + 1.1)
		}
		if off := j.number(j.read(readsOff)[1]) / 2; math.Abs(took-off) > fine+step && !goneOn(j.text) {
			rt.Fatalf("%s: %f comes off a side, %f is said\n%s", kind, took, off, j.text)
		}
	})
	for _, kind := range []string{"measured", "gap", "blue", "stick-out", "bites", "centres", "by the carriage"} {
		if seen[kind] == 0 {
			t.Errorf("nothing was cut: %s, %v", kind, seen)
		}
	}
}

// goneOn reports whether what the last line leaves was taken off too.
func goneOn(text string) bool { return readsRest.MatchString(text) || readsLast.MatchString(text) }

// said finds a figure in what is said.
func said(t fail, text, pattern string) string {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no %q in %s", pattern, text)
	}
	return m[1]
}

// mm is a length.
func mm(v float64) *units.Length { return new(units.FromFloat(v)) }

// Where a bore's cut begins before its mouth, by hand: 2 mm are 80 of the lines of 0.025 that a screw of 1.25
// has in 50 to the turn, 1 turn and 30, and 30 back from 0 its collar shows 20. Of a screw of 1 they are 2
// turns, and it shows 0 again; 0.1 in, 2.54 mm, are 2 turns and 27 there, and it shows 23. It is said how far
// the slide is out to begin with, 30.104 and 1, and goes out to there.
func TestRunsInByTheDial(t *testing.T) {
	for _, tc := range []struct {
		lead  string
		unit  units.Unit
		wants []string
	}{
		{"1.25mm", units.MM, []string{
			"then out 24 turns + 45 div and its slack, then in until it just moves.",
			"compound out 2 mm (1 turn + 30 div: collar on 20) and its slack.",
			"compound back past 0 by 2 mm (1 turn + 30 div: collar on 20) and its slack.",
		}},
		{"1mm", units.MM, []string{
			"then out 31 turns + 6 div and its slack, then in until it just moves.",
			"compound out 2 mm (2 turns) and its slack.",
			"compound back past 0 by 2 mm (2 turns) and its slack.",
		}},
		{"1mm", units.Inch, []string{
			"compound out 0.1 in (2 turns + 27 div: collar on 23) and its slack.",
			"compound back past 0 by 0.1 in (2 turns + 27 div: collar on 23) and its slack.",
		}},
	} {
		r, err := gauge.Correct(gauge.CorrectInput{
			Input:    tapers.Input{Large: length("20mm"), Small: length("15mm"), Length: length("30mm")},
			Internal: true, SmallEnd: tapers.AtHeadstock, Measured: []gauge.Reading{at(5, 18.9), at(25, 15.6)}, Cross: dial1,
			Compound: &shop.Compound{
				Scale: shop.Scale{Zero: shop.Along, Step: units.Degrees(0.5)}, Travel: length("75mm"),
				Screw: &shop.Dial{Lead: units.MustLength(tc.lead), Divisions: 50},
			},
			Care: gauge.Care{Unit: tc.unit},
		})
		if err != nil {
			t.Fatal(err)
		}
		text := words(r, tc.unit, true)
		for _, want := range tc.wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s, %v: no %q in\n%s", tc.lead, tc.unit, want, text)
			}
		}
	}
}
