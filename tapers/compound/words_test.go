package compound

// Somebody who knows nothing but the words obeys them: every move, turn and line is read from
// the sentences, and done on slides with slack and on metal that is kept in slices. No move but a
// feed takes metal, no feed takes more than the depth that is said, and what comes out is drawn.

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/practice"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/fouling"
)

const (
	aNumber = `([\d.]+) mm`
	onDial  = `(?: \(([^)]*)\))?`
	anOff   = `(half a turn|\d+ turns?|\d+ div) and its slack(?:, past where the passes begin)?`
)

var (
	readsBegin = regexp.MustCompile(`^(?:Wind the c|C)ompound (?:(in|out)(?: until it has ` + aNumber + ` to go| as` +
		` far as it goes[^,.]*[\d.]* mm to spare\)?)?|right (in|out), then (in|out) (?:` + aNumber + ` \()?([^)]*?)\)? ` +
		`and its slack)(, then (?:in|out) until the slide just moves)?.*?\. (?:With the carriage (?:bring )?the|Unlock ` +
		`the carriage,(?: with it bring the)?) tip ` +
		`(?:` + aNumber + `(?:, along the slide,| of slide) before |to )` +
		`(?:the (?:very )?(headstock|tailstock) end|z ` + aNumber + `)`)
	readsStart = regexp.MustCompile(`(?:Wind the c|C)ompound (?:right )?(?:in|out)`)
	readsTouch = regexp.MustCompile(`(?:(?:Wind the c|C)ompound (?:in|out), (?:the tip clear of the work|tip clear), ` +
		`to the ` +
		`((?:large|small|tailstock) end)(?:[^.]|\.\d)*?, t|T)ouch the (?:[^.]|\.\d)*?collar (?:to 0|so that it counts ` +
		`` + aNumber + onDial +
		`)(; the compound's too[^.]*)?\. Cross slide (?:in|out) (.*?)(?:, compound back (to where it began|to its ` +
		`start|past 0|` +
		aNumber + onDial + `|\d+ turns?(?: \+ \d+ div)?|\d+ div)[^.]*)?\. `)
	readsTo  = regexp.MustCompile(`^to (?:` + aNumber + onDial + `|0), where .*(?: and|,) ` + anOff + ` farther$`)
	readsOff = regexp.MustCompile(anOff)
	readsOut = regexp.MustCompile(`(?:Come in with the cross slide|Cross slide in) to ` + aNumber +
		` out from 0` + onDial)
	readsDepth = regexp.MustCompile(`(?:o deeper by a|A)t most ` + aNumber + ` a side` + onDial +
		`, (?:the last time by|last) ` + aNumber + onDial)
	readsLast = regexp.MustCompile(`(?:, to|it is|first,|last [^;.]*(?:\.\d[^;.]*)?;) ` +
		aNumber + onDial + `(?: and no further| in all|: [\d.]+ mm left|\.)`)
	readsPast = regexp.MustCompile(`the last line is (?:` + aNumber + onDial + ` past 0|0)\.`)
	readsOver = regexp.MustCompile(`half of what the work measures there over ` + aNumber)
	readsFeed = regexp.MustCompile(`Each pass: (?:wind the )?compound (?:in|out)(?:, toward the (?:head|tail)stock,)? ` +
		`(to 0: its slack, )?(?:those ` + aNumber + ` and )?(?:` + aNumber + `|(?:on )?only until the tip leaves ` +
		`the wall \(` +
		aNumber + `)[^.]*(?:\.\d[^.]*)*\. (?:Then c|C)ross slide (?:in|out) (` + anOff + `|again), compound back( past 0)?`)
	readsFirst = regexp.MustCompile(`(?:and unlock and move the|; unlock,) carriage ` + aNumber + ` toward .*?; ` +
		`(?:wind the )?cross slide ` +
		`(?:in|out) by ` +
		anOff + `, and on (.*?)\. (?:Set|Collar)`)
	readsCross = regexp.MustCompile(`(?:and wind the|;) cross slide on (?:in|out) (.*?); ` +
		`(?:then unlock and move the |unlock, )carriage ` +
		aNumber +
		` .*?; (?:then the )?cross slide (?:in|out)(?: by)? ` + anOff + ` only`)
	readsComes = regexp.MustCompile(`(?:, come (in|out) past the next bite's first line by ` + anOff +
		` and then (in|out) to it,|; next bite.*, from (in|out) past its first line[.;])`)
	readsNext = regexp.MustCompile(`(?:cut the|;) next bites? (?:in the same passes|so)` +
		`((?:[,:] (?:bite \d+ )?from (?:[\d.]+ mm(?: before 0)?(?: \([^)]*\))?|0|the same line)` +
		`(?: out| past 0)?)*)`)
	readsFrom = regexp.MustCompile(`from (?:` + aNumber + `( before 0)?` + onDial + `( past 0)?|0|(the same line))`)
	readsDial = regexp.MustCompile(`(?:(\d+) turns?)?(?: \+ )?(?:(\d+) div)?`)
	readsBy   = regexp.MustCompile(aNumber + onDial)
)

// reader is somebody who reads the words at a lathe.
type reader struct {
	t     *testing.T
	name  string
	words string
	l     *lathe
	tip   *tool
	dial  *shop.Dial
	zero  float64 // what the cross slide's dial is turned to where its collar shows 0
	end   float64 // what the compound's is where its collar does
	from  float64 // and where a pass begins
	z     float64 // of the drawing, at the headstock's end
	bites int
	screw *shop.Dial // of the compound
	feeds string     // the way that feeds
	has   float64    // what the slide goes
	stop  float64    // where it ends, the way that feeds, from where it begins
	begun string     // how it was brought there
	past  string     // by what it comes out past the first line of a bite
}

func (h *reader) read(what *regexp.Regexp) []string {
	found := what.FindStringSubmatch(h.words)
	if found == nil {
		h.t.Fatalf("%s: no %s in\n%s", h.name, what, h.words)
	}
	return found
}

func number(word string) float64 {
	v, _ := strconv.ParseFloat(word, 64)
	return v
}

// travel is how far a slide is to go: by the dial's lines where those are said.
func (h *reader) travel(mm, lines string) float64 {
	if lines == "" {
		return number(mm)
	}
	n := readsDial.FindStringSubmatch(lines)
	return (number(n[1]) + number(n[2])/float64(h.dial.Divisions)) * h.dial.Lead.MM()
}

// off is how far the dial is turned to take the tip off: with its slack.
func (h *reader) off(words string) float64 {
	lost := h.tip.cross.lost
	if strings.HasPrefix(words, "half a turn") {
		return h.dial.Lead.MM()/2 + lost
	}
	return h.travel("", strings.SplitN(words, " and", 2)[0]) + lost
}

func (h *reader) cross(to float64, cuts bool, what string) {
	h.l.wind(h.tip, &h.tip.cross, to, cuts, what)
}

// compound winds it, and no farther than the slide goes either way.
func (h *reader) compound(to float64, cuts bool, what string) {
	c := &h.tip.compound
	h.l.wind(h.tip, c, to, cuts, what)
	if c.slide > h.stop+0.001 || c.slide < h.stop-h.has-0.001 {
		h.t.Fatalf("%s: %s takes the slide to %v, from %v to %v it has: %s", h.name, what, c.slide, h.stop-h.has, h.stop,
			h.begun)
	}
}

func (h *reader) back(past bool) {
	if past {
		h.compound(h.end-h.tip.compound.lost, false, "the compound going back past 0")
	}
	h.compound(h.from, false, "the compound going back")
}

// begin winds the slide back and brings the tip to where it begins, clear of the work.
func (h *reader) begin(clear float64, ends map[string]float64) {
	says := h.read(readsBegin)
	tip, c := h.tip, &h.tip.compound
	h.begun = says[0]
	switch way := says[1]; {
	case says[3] != "": // to the end of the slide, and back by its dial
		if says[3] != h.feeds || says[4] == h.feeds {
			h.t.Fatalf("%s: feeds %s, and is wound %s", h.name, h.feeds, says[0])
		}
		c.turn(h.has + c.lost)
		c.slide = h.has
		by := readsDial.FindStringSubmatch(says[6])
		back := (number(by[1]) + number(by[2])/float64(h.screw.Divisions)) * h.screw.Lead.MM()
		if mm := says[5]; mm != "" && math.Abs(number(mm)-back) > 0.001 {
			h.t.Fatalf("%s: %s", h.name, says[0])
		}
		c.turn(h.has - back)
		h.stop = back
	case way == h.feeds, says[2] != "" && h.screw != nil:
		h.t.Fatalf("%s: feeds %s, and is wound %s", h.name, h.feeds, says[0])
	default:
		h.stop = h.has
		if says[2] != "" {
			h.stop = number(says[2])
		}
		c.turn(-1)
		c.turn(-2)
	}
	if h.stop > h.has+0.0005 {
		h.t.Fatalf("%s: the slide has %v: %s", h.name, h.has, says[0])
	}
	c.dial, c.slide = 0, 0
	h.end, h.from = math.NaN(), 0
	if says[7] != "" {
		c.turn(c.lost)
		h.end, h.from = c.lost, c.lost
	}
	z, known := ends[says[9]]
	if !known {
		z = number(says[10]) - h.z
	}
	tip.z = z - tip.feedZ*number(says[8])
	tip.y, tip.cross.dial, tip.cross.slide = clear, 0, 0
	h.l.z, h.l.y = h.l.stand(tip)
}

// touch winds the tip to the end that is named and touches the work of that radius there.
func (h *reader) touch(radius float64, ends map[string]float64) {
	says := h.read(readsTouch)
	tip, c, x := h.tip, &h.tip.compound, &h.tip.cross
	if end := says[1]; end != "" {
		h.compound((ends[strings.TrimSuffix(end, " end")]-tip.z)/tip.feedZ+c.lost, false, "winding to "+end)
	}
	_, y := h.l.stand(tip)
	h.cross((radius-y)*tip.deeper+x.slide+x.lost, false, "the touch")
	h.zero = x.dial - h.travel(says[2], says[3])
	if says[4] != "" {
		h.end = c.dial
	}
	if to := readsTo.FindStringSubmatch(says[5]); to != nil {
		h.cross(h.zero+h.travel(to[1], to[2])-h.off(to[3]), false, "coming off")
	} else if readsOff.MatchString(says[5]) {
		h.cross(x.dial-h.off(says[5]), false, "coming off")
	} else {
		h.t.Fatalf("%s: comes off how? %s", h.name, says[5])
	}
	switch back := says[6]; {
	case back == "past 0":
		h.back(true)
	case back == "to where it began", back == "to its start":
		h.back(false)
	case back != "":
		by := number(says[7])
		if says[7] == "" { // by the dial alone
			by, says[8] = 2, says[6]
		}
		if says[8] != "" {
			on := readsDial.FindStringSubmatch(says[8])
			lines := (number(on[1]) + number(on[2])/float64(h.screw.Divisions)) * h.screw.Lead.MM()
			if math.Abs(lines-by) > h.screw.Division().MM()/2+0.0005 {
				h.t.Fatalf("%s: %v back is not %s", h.name, by, says[8])
			}
			by = lines
		}
		h.from = c.dial - by
		h.back(false)
	}
}

// passes cuts from the line that meets the work to the last.
func (h *reader) passes(first, last float64, hole float64) {
	depths := h.read(readsDepth)
	depth, finish := h.travel(depths[1], depths[2]), h.travel(depths[3], depths[4])
	h.l.most = depth + 2*h.dial.Division().MM() + slice
	feed := h.read(readsFeed)
	tip, c, x := h.tip, &h.tip.compound, &h.tip.cross
	off := h.off(feed[5])
	if feed[5] == "again" {
		off = h.off(h.read(readsTouch)[5])
	}
	var lines []float64
	for at := first + depth; at < last-finish-1e-9; at += depth {
		lines = append(lines, at)
	}
	if last-finish > first {
		lines = append(lines, last-finish)
	}
	lines = append(lines, last)
	if h.past != "" { // come out past the next bite's first line
		h.cross(h.zero+first-h.off(h.past), false, "coming out past the first line")
	}
	if h.zero+first < x.dial {
		h.t.Fatalf("%s: the first line is %v, and the dial is at %v already", h.name, first, x.dial-h.zero)
	}
	h.cross(h.zero+first, true, "the line that just meets the work")
	for n, at := range lines {
		if n > 0 && h.zero+at < x.dial {
			h.t.Fatalf("%s: pass %d goes in from %v to %v", h.name, n+1, x.dial-h.zero, at)
		}
		h.cross(h.zero+at, true, "going deeper")
		to := h.from + number(feed[2]) + number(feed[3])
		if feed[4] != "" {
			_, y := h.l.stand(tip)
			to = min(h.from+number(feed[2])+number(feed[4]), c.slide+c.lost+(hole-y)/tip.feedY)
			to = max(to, h.from)
		}
		if feed[1] != "" {
			to = h.end
		}
		h.compound(to, true, "the feed")
		h.cross(x.dial-off, false, "the cross slide coming off")
		h.back(feed[7] != "")
	}
}

// next moves on to a bite, and leaves the cross slide on its last line.
func (h *reader) next(r Result, bite int, last, toward float64) {
	tip, x := h.tip, &h.tip.cross
	carriage := func(mm string) {
		tip.z += toward * number(mm)
		z, y := h.l.stand(tip)
		h.l.to(z, y, false, "the carriage")
	}
	by := func(words string) float64 {
		list := readsBy.FindAllStringSubmatch(words, -1)
		if strings.Contains(words, "table of bites") {
			j := r.Joints[bite-2]
			return h.travel("", turned(*j.CrossTurns, *j.CrossDivs).String())
		}
		move := list[min(bite-2, len(list)-1)]
		return h.travel(move[1], move[2])
	}
	if *r.First == CrossSlideFirst {
		says := h.read(readsCross)
		h.cross(x.dial-by(says[1]), false, "the cross slide, first")
		carriage(says[2])
		h.cross(x.dial+h.off(says[3]), false, "the cross slide, then")
	} else {
		says := h.read(readsFirst)
		carriage(says[1])
		h.cross(x.dial+h.off(says[2])+by(says[3]), false, "the cross slide, then")
	}
	h.zero = x.dial - last
	says, ways := h.read(readsComes), [2]string{"out", "in"}
	if r.Inputs.Internal {
		ways = [2]string{"in", "out"}
	}
	switch {
	case says[4] == ways[0]: // as far as it is taken off otherwise
		h.past = "half a turn"
		if off := readsOff.FindString(h.read(readsTouch)[5]); r.Inputs.Internal {
			h.past = off
		}
	case says[1] != ways[0] || says[3] != ways[1]:
		h.t.Fatalf("%s: %s", h.name, says[0])
	default:
		h.past = says[2]
	}
}

// cuts obeys all of it, on work of that radius.
func (h *reader) cuts(r Result, stock, clear, toward float64) {
	ends := map[string]float64{"headstock": 0, "tailstock": r.Length.MM()}
	ends["small"], ends["large"] = ends[string(r.Inputs.SmallEnd)], ends[string(other(r.Inputs.SmallEnd))]
	h.begin(clear, ends)
	h.touch(stock, ends)
	first, last := 0.0, 0.0
	says := h.read(readsTouch)
	if to := readsTo.FindStringSubmatch(says[5]); to != nil {
		first = h.travel(to[1], to[2])
	}
	if out := readsOut.FindStringSubmatch(h.words); out != nil {
		first = -h.travel(out[1], out[2])
	}
	switch {
	case readsPast.MatchString(h.words):
		to := h.read(readsPast)
		last = h.travel(to[1], to[2])
	case readsOver.MatchString(h.words):
		last = stock - number(h.read(readsOver)[1])/2
	case strings.Contains(h.words, "until the large end is"):
		last = r.Large.MM()/2 - stock
	default:
		to := h.read(readsLast)
		last = h.travel(to[1], to[2])
	}
	h.passes(first, last, stock)
	for bite := 2; bite <= h.bites; bite++ {
		h.next(r, bite, last, toward)
		from := readsFrom.FindAllStringSubmatch(h.read(readsNext)[1], -1)
		begins := first
		if len(from) > 0 {
			f := from[bite-2]
			out := f[4] == "" && (f[2] != "" || readsOut.MatchString(h.words))
			switch begins = h.travel(f[1], f[3]); {
			case f[5] != "":
				begins = first
			case out:
				begins = -begins
			}
		}
		h.passes(begins, last, stock)
	}
}

// obeyWords cuts a taper by the words alone. on is nil for a taper by itself.
func obeyWords(t *testing.T, name string, in Input, on *Standing, brief bool, stock, lostCompound, lostCross float64) {
	r, err := Set(in)
	if err != nil {
		t.Fatal(name, err)
	}
	if len(r.Fails()) > 0 {
		t.Fatal(name, r.Fails())
	}
	list, z := r.Steps, 0.0
	if on != nil {
		on := *on
		list, z = r.Wound(on), on.Headstock.MM()
		r = r.cutOutOf(on)
	}
	var words []string
	for _, text := range list {
		if brief {
			text = text.Brief()
		}
		words = append(words, text.Whole().In(units.MM))
	}
	all := strings.Join(words, " ")
	all = all[readsStart.FindStringIndex(all)[0]:] // the swivel and the tool stand before it
	length, tan := r.Length.MM(), math.Tan(r.SetHalfAngle.Rad())
	side := func(z float64) float64 {
		if in.SmallEnd == tapers.AtTailstock {
			z = length - z
		}
		return r.Small.MM()/2 + z*(r.Large.MM()-r.Small.MM())/2/length
	}
	l := &lathe{t: t, touch: stock, name: name, bore: in.Internal, free: length, before: int(5 / slice)}
	for range l.before + int(math.Ceil(length/slice)) {
		l.radii = append(l.radii, stock)
	}
	if on != nil && on.Flush || in.CentreAt != nil {
		l.free += 5
		for range l.before {
			l.radii = append(l.radii, side(length))
		}
	}
	feedZ, feedY := feeds(&r)
	deeper, clear := -1.0, 2*stock
	if in.Internal {
		deeper, clear = 1, 0
		l.behind = r.tipStands()
		l.bar = r.Bar.Diameter.MM() + l.behind
		clear = l.bar / 2
	}
	h := &reader{
		t: t, name: name, words: all, l: l, dial: in.Lathe.CrossSlide, z: z, bites: 1,
		tip: &tool{feedZ: feedZ, feedY: feedY, deeper: deeper}, screw: in.Lathe.Compound.Screw, feeds: string(r.FeedWay),
		has: in.Lathe.Compound.Travel.MM(),
	}
	h.tip.compound.lost, h.tip.cross.lost = lostCompound, lostCross
	if r.Bites != nil {
		h.bites = *r.Bites
	}
	toward := -1.0
	if r.FeedsToward == tapers.AtTailstock {
		toward = 1
	}
	h.cuts(r, stock, clear, toward)
	left := 2 * h.dial.Division().MM() // the last line, and where the touch was counted from
	for _, j := range r.Joints {
		left = max(left, left+j.Step.Abs().MM()/2)
	}
	for n := l.before + int(math.Ceil(length/slice)) + 1; n < len(l.radii); n++ { // what goes on beyond
		if gouge := side(length) - l.radii[n]; gouge > slice*tan {
			t.Fatalf("%s: at z %v %v is taken off the work beyond\n%s", name, float64(n-l.before)*slice, gouge, all)
		}
	}
	for n := l.before + 1; n < l.before+int(length/slice)-1; n++ {
		at := (float64(n-l.before) + 0.5) * slice
		off := l.radii[n] - side(at)
		if in.Internal {
			off = -off
		}
		if bound := left + slice*tan; off < -bound || off > bound {
			t.Fatalf("%s: at z %v the radius is %v, drawn %v\n%s", name, at, l.radii[n], side(at), all)
		}
	}
}

// tipStands is how far the tip stands beyond the bar's side, as it is said.
func (r *Result) tipStands() float64 {
	if r.tipOut() == "" {
		return 0
	}
	return r.beyondBar().MM() + practice.BarOff.Length().MM()
}

// Every way that a taper by itself is cut with no table of passes, and every way that one is cut
// out of work that it is a part of: both ends, either hand, one bite and several, in the words
// of the screen and in the whole ones.
func TestWordsObeyed(t *testing.T) {
	mm := func(text string) *units.Length {
		l := units.MustLength(text)
		return &l
	}
	dials := []*shop.Dial{
		{Lead: *mm("2mm"), Divisions: 100, OnDiameter: true}, {Lead: *mm("0.1in"), Divisions: 100},
	}
	for _, travel := range []string{"30mm", "62mm", "90mm"} {
		for _, end := range tapers.Ends {
			for _, hand := range fouling.Hands {
				for _, d := range dials {
					large, small, l := mm("35mm"), mm("20mm"), mm("60mm")
					in := Input{Input: tapers.Input{Large: large, Small: small, Length: l}, SmallEnd: end}
					in.ToolHand, in.Lathe.CrossSlide = hand, d
					in.Lathe.Compound = &shop.Compound{
						Scale:  shop.Scale{Zero: shop.Along, Step: tapers.HalfAngle(*large, *small, *l)},
						Travel: mm(travel),
					}
					if end == tapers.AtHeadstock { // else by calliper
						in.Lathe.Compound.Screw = &shop.Dial{Lead: d.Lead, Divisions: 40}
					}
					for _, lost := range []float64{0, d.Lead.MM() / 2} {
						name := fmt.Sprint(travel, " small at ", end, " ", hand, " in ", d.Divisions, " slack ", lost)
						for _, brief := range []bool{false, true} {
							obeyWords(t, name, in, nil, brief, 17.5, lost*0.6, lost)
						}
						bore := in
						bore.Internal = true
						bore.Bars = []shop.BoringBar{{Diameter: *mm("4mm"), Reach: *mm("99mm")}}
						if end == tapers.AtHeadstock || travel == "30mm" { // else from inside: TestObeyed
							obeyWords(t, "bore "+name, bore, nil, false, 10, lost*0.6, lost)
						}
						centred := in // which holds what goes on beyond the taper, turned to its end already
						centred.FromJaws, centred.CentreAt = mm("5mm"), mm("90mm")
						for _, brief := range []bool{false, true} {
							obeyWords(t, name+" at a centre", centred, nil, brief, 17.5, lost*0.6, lost)
						}
						for _, flush := range []bool{false, true} {
							on := Standing{
								Headstock: *mm("92mm"), Tailstock: *mm("152mm"), As: "as roughed",
								SetTo: tapers.HalfAngle(*large, *small, *l), Flush: flush,
								LargeEnd: mm("35.4mm"), SmallEnd: mm("35.4mm"),
							}
							named := fmt.Sprint(name, " as a part, flush ", flush)
							obeyWords(t, named, in, &on, false, 17.7, lost*0.6, lost)
							on.LargeEnd, on.SmallEnd, on.As = nil, nil, say.Text("as it stands")
							obeyWords(t, named+", thick is not known", in, &on, true, 18.4, lost*0.6, lost)
						}
					}
				}
			}
		}
	}
}
