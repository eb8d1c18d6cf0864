package swivel_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"setover/setup/base/units"
	"setover/setup/maker/shop"
	"setover/tapers"
	"setover/tapers/compound"
	"setover/tapers/fouling"
	"setover/tapers/swivel"
)

func length(text string) *units.Length {
	l := units.MustLength(text)
	return &l
}

func angle(text string) *units.Angle {
	a := units.MustAngle(text)
	return &a
}

// machine is a compound as its shop has it.
type machine struct {
	name, zero, step, limit, travel, lead string
	back                                  bool
	bar                                   string // a sine bar, with a set of 47 blocks
	unit                                  units.Unit
}

// machines are those of five shops, and one of each kind of scale.
var machines = []machine{
	{"big", "along", "0.5deg", "90deg", "110mm", "3mm", false, "100mm", units.MM},
	{"inch", "across", "1deg", "90deg", "2.5in", "0.1in", false, "", units.Inch},
	{"lathe only", "along", "1deg", "", "70mm", "", false, "", units.MM},
	{"no mill", "along", "1deg", "60deg", "70mm", "1mm", false, "", units.MM},
	{"small", "along", "1deg", "50deg", "55mm", "1mm", false, "", units.MM},
	{"along", "along", "1deg", "", "75mm", "1mm", false, "100mm", units.MM},
	{"across, numbered up", "across", "0.5deg", "", "75mm", "1mm", false, "", units.MM},
	{"across, counted back", "across", "0.5deg", "", "75mm", "1mm", true, "5in", units.MM},
	{"along, counted back", "along", "1deg", "", "75mm", "1.25mm", true, "", units.MM},
	{"marks of 5 deg", "along", "5deg", "180deg", "75mm", "1mm", false, "", units.MM},
	{"marks of 5 deg across", "across", "5deg", "150deg", "4in", "0.125in", true, "", units.Inch},
}

func (m machine) compound() *shop.Compound {
	c := &shop.Compound{
		Scale:  shop.Scale{Zero: shop.Zero(m.zero), Step: units.MustAngle(m.step), BackAfter90: m.back},
		Travel: length(m.travel),
	}
	if m.limit != "" {
		c.Scale.Limit = angle(m.limit)
	}
	if m.lead != "" {
		c.Screw = &shop.Dial{Lead: units.MustLength(m.lead), Divisions: 50}
	}
	return c
}

func (m machine) tools() swivel.Tools {
	t := swivel.Tools{Unit: m.unit}
	if m.bar != "" {
		t.SineBar, t.Blocks = length(m.bar), &shop.GaugeBlocks{Set: "metric-47"}
	}
	return t
}

// view is a direction in plan, seen from above: to the right, where the tailstock
// is, and down, where the operator stands.
type view struct{ right, down float64 }

// turned returns v turned clockwise as it is seen.
func (v view) turned(deg float64) view {
	sin, cos := math.Sincos(deg / 180 * math.Pi)
	return view{v.right*cos - v.down*sin, v.right*sin + v.down*cos}
}

func (v view) dot(w view) float64 { return v.right*w.right + v.down*w.down }

// seen are the words for where things are.
var seen = map[string]view{
	"toward you": {0, 1}, "away from you": {0, -1}, "toward the tailstock": {1, 0}, "toward the headstock": {-1, 0},
}

var (
	ways      = `toward you|away from you|toward the tailstock|toward the headstock`
	startsAt  = regexp.MustCompile(`^from zero \(slide (along|square to) the axis, handle (` + ways + `)\) `)
	goesFirst = regexp.MustCompile(`move the handle end (` + ways + `)`)
	goesOn    = regexp.MustCompile(`, past 90 and on (` + ways + `),`)
	toNumber  = regexp.MustCompile(` to (?:about )?([0-9.]+) deg on the scale`)
	inAll     = regexp.MustCompile(`, ([0-9.]+) from zero in all`)
	fromZero  = regexp.MustCompile(`, ([0-9.]+) from zero, since it counts back past 90`)
	exactAt   = regexp.MustCompile(`; exact ([0-9.]+) deg(?:\.|$)`)
	dialed    = regexp.MustCompile(`by indicator: ([0-9.]+) (mm|in), its plunger (square to|along) the axis, while the ` +
		`slide goes ([0-9.]+) (?:mm|in)(?: \(([0-9]+) turns? of its handle\))?; exact ([0-9.]+)`)
	onBar = regexp.MustCompile(`along the sine bar of ([0-9.]+) mm on ([0-9.]+) mm of blocks, .*, under its (\S+) roll`)
)

// number returns what stands in the brackets of a pattern.
func number(t *testing.T, re *regexp.Regexp, text string, group int) float64 {
	t.Helper()
	m := re.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no %s in: %s", re, text)
	}
	v, err := strconv.ParseFloat(m[group], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// told is what a sentence has the hand do: where the handle points at first, and
// how far clockwise it is turned, to the number it is set to and to the exact one.
type told struct {
	start       view
	turn, exact float64
	rough       bool // the number is only come near to
}

// read obeys a sentence on a machine.
func (m machine) read(t *testing.T, text string) told {
	t.Helper()
	start := startsAt.FindStringSubmatch(text)
	if start == nil {
		t.Fatalf("no zero in: %s", text)
	}
	x := told{start: seen[start[2]], rough: strings.Contains(text, "to about")}
	if lies := map[string]float64{"along": x.start.down, "square to": x.start.right}[start[1]]; lies != 0 {
		t.Fatalf("a handle %s on a slide that lies %s the axis", start[2], start[1])
	}
	first := seen[goesFirst.FindStringSubmatch(text)[1]]
	sense := 1.0
	if x.start.turned(1).dot(first) < x.start.turned(-1).dot(first) {
		sense = -1
	}
	past := goesOn.FindStringSubmatch(text)
	onScale := func(n float64) float64 { // how far it is turned where the scale shows n
		if past != nil && m.back {
			return 180 - n
		}
		return n
	}
	if all := inAll.FindStringSubmatch(text); all != nil {
		x.turn = number(t, inAll, text, 1)
		x.exact = x.turn
	} else {
		x.turn = onScale(number(t, toNumber, text, 1))
		x.exact = onScale(number(t, exactAt, text, 1))
	}
	if all := fromZero.FindStringSubmatch(text); (all != nil) != (past != nil && m.back && inAll.FindString(text) == "") {
		t.Errorf("%s: counts back, or does not: %s", m.name, text)
	}
	if far := x.exact > 90; far != (past != nil) && math.Abs(x.exact-90) > 0.3 {
		t.Errorf("%s: %v deg is past 90, or is not: %s", m.name, x.exact, text)
	}
	if past != nil { // it still goes that way when it gets there
		before, there := x.start.turned(sense*(x.exact-1)), x.start.turned(sense*x.exact)
		on := view{there.right - before.right, there.down - before.down}
		if on.dot(seen[past[1]]) <= 0 {
			t.Errorf("%s: does not go on %s: %s", m.name, past[1], text)
		}
	}
	x.turn, x.exact = sense*x.turn, sense*x.exact
	return x
}

// What the sentence has the hand do, obeyed in plan: the slide's line as the hand
// leaves it is the side of the cone, on the operator's side of the axis, for an
// outside and a bore alike; the indicator shows what that line does, and the sine
// bar lies along it. Nothing of the package is used but its words.
func TestSentencesInPlan(t *testing.T) {
	count := map[swivel.Method]int{}
	for _, m := range machines {
		for _, half := range []string{"5", "30", "60", "85", "4.76364", "30.3", "59.87", "84.9", "1.4307", "45.1", "13.1"} {
			for _, end := range tapers.Ends {
				for _, internal := range []bool{false, true} {
					for _, handle := range []fouling.Handle{"", fouling.Reversed} {
						in := compound.Input{
							Input: tapers.Input{HalfAngle: angle(half)}, SmallEnd: end, Internal: internal,
							Place: fouling.Place{
								Lathe: shop.Lathe{Compound: m.compound()}, Arrangement: fouling.Arrangement{Handle: handle},
							},
							Tools: m.tools(), Within: length("0.6mm"),
						}
						if internal { // a socket fits closer
							in.Within = length("0.01mm")
						}
						r, err := compound.Set(in)
						if err != nil {
							t.Fatal(err)
						}
						count[r.Method]++
						t.Run(fmt.Sprint(m.name, "/", half, " small at the ", end, " ", handle), func(t *testing.T) {
							m.obey(t, r)
						})
					}
				}
			}
		}
	}
	for _, method := range []swivel.Method{swivel.ByMark, swivel.BetweenMarks, swivel.ByIndicator, swivel.BySineBar} {
		if count[method] < 20 {
			t.Errorf("only %d set by %s", count[method], method)
		}
	}
}

// obey sets the machine as the result says and compares what comes out.
func (m machine) obey(t *testing.T, r compound.Result) {
	t.Helper()
	text := r.Setting.In(m.unit)
	x := m.read(t, text)
	a := r.Inputs.HalfAngle.Deg()
	// The side of the cone: right along the axis, down as the radius grows.
	rises := math.Tan(a * math.Pi / 180)
	if r.Inputs.SmallEnd == tapers.AtTailstock {
		rises = -rises
	}
	side := func(turn float64) float64 { // in degrees from the axis, growing toward the tailstock above 0
		u := x.start.turned(turn)
		return math.Atan(u.down/u.right) * 180 / math.Pi
	}
	wanted := math.Atan(rises) * 180 / math.Pi
	if got := side(x.exact); math.Abs(got-wanted) > 0.0006 {
		t.Errorf("exactly set the side stands at %.4f deg, drawn %.4f: %s", got, wanted, text)
	}
	u := x.start.turned(x.exact)
	if toward := seen[map[string]string{
		"tailstock": "toward the tailstock", "headstock": "toward the headstock", "operator": "toward you",
		"back": "away from you",
	}[r.HandleToward]]; u.dot(toward) < math.Sqrt(0.5)-1e-6 {
		t.Errorf("the handle points to %v, told %s: %s", u, r.HandleToward, text)
	}
	off := math.Abs(side(x.turn) - wanted)
	switch r.Method {
	case swivel.ByMark, swivel.BetweenMarks:
		m.onMarks(t, r, x, text)
		along := 100 * math.Cos(a*math.Pi/180) // what 100 mm of the side are along the axis
		if far := 2 * along * math.Abs(math.Tan(side(x.turn)*math.Pi/180)-rises); far > 1.016*r.FarEnd.MM()+0.02 {
			t.Errorf("100 mm on it is out by %.4f, told at most %v: %s", far, r.FarEnd.Decimal(), text)
		}
	case swivel.ByIndicator:
		m.dialled(t, u, text)
	case swivel.BySineBar:
		m.onBar(t, u, rises > 0, text)
	}
	if x.rough && off > 0.06 {
		t.Errorf("about there is %.3f deg off: %s", off, text)
	}
}

// onMarks checks that the number is a mark of the scale, or a quarter of a step.
func (m machine) onMarks(t *testing.T, r compound.Result, x told, text string) {
	t.Helper()
	step := units.MustAngle(m.step).Deg()
	if r.Method == swivel.BetweenMarks {
		step /= 4
	}
	if n := x.turn / step; math.Abs(n-math.Round(n)) > 1e-3/step {
		t.Errorf("%v is no mark: %s", x.turn, text)
	}
	if r.Method == swivel.BetweenMarks {
		part := map[string]float64{"a quarter past": 0.25, "half way from": 0.5, "three quarters past": 0.75}
		s := regexp.MustCompile(`standing at ([0-9.]+), ([a-z ]+) ([0-9.]+) to(?:ward)? ([0-9.]+)`).FindStringSubmatch(text)
		if s == nil {
			t.Fatal(text)
		}
		at, _ := strconv.ParseFloat(s[1], 64)
		from, _ := strconv.ParseFloat(s[3], 64)
		to, _ := strconv.ParseFloat(s[4], 64)
		whole := (at - from) / part[s[2]] // the step, as it is numbered
		if math.Abs(math.Abs(whole)-4*step) > 0.01 || math.Abs(from+whole-to) > 0.01 {
			t.Errorf("stands at %v between %v and %v: %s", at, from, to, text)
		}
	}
}

// dialled checks what the indicator shows by how the slide goes.
func (m machine) dialled(t *testing.T, u view, text string) {
	t.Helper()
	d := dialed.FindStringSubmatch(text)
	if d == nil {
		t.Fatal(text)
	}
	shows, _ := strconv.ParseFloat(d[1], 64)
	travel, _ := strconv.ParseFloat(d[4], 64)
	exact, _ := strconv.ParseFloat(d[6], 64)
	part := math.Abs(u.down)
	if d[3] == "along" {
		part = math.Abs(u.right)
	}
	if part > math.Sqrt(0.5)+1e-9 {
		t.Errorf("the plunger lies where less changes: %s", text)
	}
	read, last := 0.01, 0.0006
	if m.unit == units.Inch {
		read, last = 0.0005, 0.00006
	}
	if got := travel * part; math.Abs(got-exact) > last+travel*1e-5 || math.Abs(got-shows) > read/2+last+travel*1e-5 {
		t.Errorf("the slide pushes it by %.5f, told %v and %v: %s", got, shows, exact, text)
	}
	if n := math.Round(shows / read); math.Abs(shows-n*read) > 1e-9 {
		t.Errorf("%v cannot be read to %v: %s", shows, read, text)
	}
	if m.lead == "" {
		return
	}
	turns, _ := strconv.ParseFloat(d[5], 64)
	lead := units.MustLength(m.lead).MM()
	if m.unit == units.Inch {
		lead /= 25.4
	}
	if math.Abs(turns*lead-travel) > 1e-3 {
		t.Errorf("%v turns of %v are not %v: %s", turns, lead, travel, text)
	}
}

// onBar checks the blocks by where the bar's rolls stand when it lies along the
// slide. They are pressed against a line along the axis, or a face square to it,
// from the operator's side and from the right.
func (m machine) onBar(t *testing.T, u view, grows bool, text string) {
	t.Helper()
	b := onBar.FindStringSubmatch(text)
	if b == nil {
		t.Fatal(text)
	}
	bar, _ := strconv.ParseFloat(b[1], 64)
	blocks, _ := strconv.ParseFloat(b[2], 64)
	if u.right < 0 {
		u = view{-u.right, -u.down}
	}
	across := math.Abs(u.down) < math.Abs(u.right)                     // against a line along the axis
	tailstock, headstock := view{u.right, u.down}.down*bar, float64(0) // how far down each roll stands
	raised := "tailstock-side"
	high := tailstock - headstock
	if high < 0 {
		raised = "headstock-side"
	}
	if !across {
		if u.down < 0 {
			u = view{-u.right, -u.down}
		}
		high, raised = u.right*bar, "near" // how far to the right of the other the near roll stands
		if high < 0 {
			raised = "far"
		}
	}
	if math.Abs(math.Abs(high)-blocks) > 0.003+bar*1e-5 || raised != b[3] {
		t.Errorf("the rolls stand %.4f apart with the %s one out (growing %v): %s", high, raised, grows, text)
	}
}
