package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/plan/op"
	"setover/setup/plan/rules"
)

// demo returns the demo part and shop.
func demo(t testing.TB) (*part.Part, *shop.Shop) {
	t.Helper()
	return loadPart(t, "plumb-bob.yaml", nil), loadShop(t, nil)
}

func testdata(name string) string { return filepath.Join("..", "..", "testdata", name) }

// loadPart reads a part of testdata with words of its text replaced.
func loadPart(t testing.TB, name string, edit map[string]string) *part.Part {
	t.Helper()
	p, _, err := files.ReadPart(name, []byte(edited(t, name, edit)))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func loadShop(t testing.TB, edit map[string]string) *shop.Shop {
	t.Helper()
	s, _, err := files.ReadShop("shed.yaml", []byte(edited(t, "shed.yaml", edit)))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func readFile(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func edited(t testing.TB, name string, edit map[string]string) string {
	t.Helper()
	s := string(readFile(t, testdata(name)))
	for from, to := range edit {
		if !strings.Contains(s, from) {
			t.Fatalf("%s does not hold %q", name, from)
		}
		s = strings.ReplaceAll(s, from, to)
	}
	return s
}

// parse reads a part from the text behind its first three lines.
func parse(t testing.TB, text string) *part.Part {
	t.Helper()
	return read(t, "format: 1\npart: Test\nunits: mm\n"+text)
}

func read(t testing.TB, text string) *part.Part {
	t.Helper()
	p, _, err := files.ReadPart("part.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func make1(t testing.TB, p *part.Part, s *shop.Shop, without ...string) Result {
	t.Helper()
	r, err := Make(Input{Part: p, Shop: s, Without: without})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

var madeOnce sync.Map // plans of testdata in the demo shop, by the part's file

// made returns the plan of a part of testdata in the demo shop. It is not to be
// changed.
func made(t testing.TB, name string) Result {
	t.Helper()
	if r, ok := madeOnce.Load(name); ok {
		return r.(Result)
	}
	r := make1(t, loadPart(t, name, nil), loadShop(t, nil))
	madeOnce.Store(name, r)
	return r
}

func ids(r Result) []string {
	list := make([]string, len(r.Operations))
	for i, o := range r.Operations {
		list[i] = o.ID
	}
	return list
}

// The demo part passes its own checks in the demo shop, and stands in an order
// a machinist would take: held by the bar, its collar turned and threaded, the holes drilled in the
// dividing head while it is parallel and on the bar, turned end for end, the cones, flats last.
func TestDemo(t *testing.T) {
	p, s := demo(t)
	r := make1(t, p, s)
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	got := ids(r)
	for _, pair := range [][2]string{
		{"saw", "face-left"},
		{"face-left", "rough-left"},
		{"rough-left", "turn-z14"},
		{"turn-z14", "face-right"},
		{"turn-z14", "drill-4mm-roll-1"},
		{"drill-4mm-roll-1", "face-right"},
		{"rough-right", "taper-z48"},
		{"spot-roll-1", "drill-4mm-roll-1"},
		{"drill-4mm-roll-1", "taper-z48"},
		{"bore-1-drill", "turn-z0"},
		{"taper-z48", "mill-facets-1"},
		{"mill-facets-1", "grind-facets-1"},
		{"grind-facets-1", "polish"},
		{"chamfer-2", "thread-2"},
		{"bore-1-countersink", "bore-1-tap"},
	} {
		a, b := slices.Index(got, pair[0]), slices.Index(got, pair[1])
		if a < 0 || b < 0 || a > b {
			t.Errorf("%s (at %d) does not come before %s (at %d) in %v", pair[0], a, pair[1], b, got)
		}
	}
	if again := make1(t, p, s); !slices.Equal(ids(again), got) {
		t.Errorf("a second plan is another: %v, %v", ids(again), got)
	}
}

// fixtures are parts that bring each rule to bear: two operations and the rule
// that orders them.
func fixtures(t *testing.T) map[string]struct{ part, a, b string } {
	demo := ""
	long := `material: low-carbon-steel
processes: [polish]
round:
  profile: [[0, 20], [30, 20], [30, 16], [150, 16], [150, 3], [160, 3]]
  bores: [{from: left, dia: 4.2, depth: 16}]
  threads: [{from: left, spec: M5, depth: 10, inside: true}, {from: right, spec: M3, length: 8}]
`
	slotted := "material: brass\nround:\n  profile: [[0, 20], [30, 20], [60, 10]]\n" +
		"  slots: [{at: 45, length: 12, width: 3, chain_drill: true}]\n" +
		"  threads: [{from: right, spec: M4, depth: 6, inside: true}]\n  bores: [{from: right, dia: 3.3, depth: 9}]\n"
	counterbored := "material: brass\nround:\n  profile: [[0, 25], [30, 25]]\n" +
		"  threads: [{from: left, spec: M8, depth: 14, inside: true}]\n" +
		"  bores: [{from: left, dia: 18, depth: 6}, {from: left, dia: 6.8, depth: 20}]\n"
	return map[string]struct{ part, a, b string }{
		"face-first":   {demo, "face-left", "rough-left"},
		"true-grip":    {demo, "turn-z14", "rough-right"},
		"rough-finish": {demo, "rough-right", "taper-z48"},
		"datum-roll":   {demo, "roll-datum", "spot-roll-2"},
		"v-parallel":   {demo, "drill-4mm-roll-1", "taper-z48"},
		"v-round":      {demo, "drill-4mm-roll-1", "mill-facets-1"},
		"spot-drill":   {demo, "spot-roll-1", "drill-5mm-roll-1"},
		"bore-outside": {demo, "bore-1-drill", "turn-z0"},
		"start-form":   {demo, "chamfer-2", "thread-2"},
		"tap-square":   {demo, "bore-1-countersink", "bore-1-tap"},
		"stiff-first": {
			"material: brass\nround:\n  profile: [[0, 20], [30, 20], [30, 16], [50, 16], [50, 12], [60, 12]]\n",
			"turn-z30", "turn-z50",
		},
		"swing-group":    {demo, "rough-right", "taper-z92"},
		"cone-first":     {demo, "taper-z48", "mill-facets-1"},
		"mill-grind":     {demo, "mill-facets-1", "grind-facets-1"},
		"centre-support": {long, "centre-right", "rough-right"},
		"stub-last":      {long, "stub-off-right", "polish"},
		"bore-cross-ream": {
			"material: brass\nround:\n  profile: [[0, 30], [40, 30]]\n  bores: [{from: left, dia: 10, depth: 25}]\n" +
				"  holes: [{at: 12, dia: 4}]\n",
			"bore-1-drill", "spot-roll-1",
		},
		"harden": {
			"material: annealed-tool-steel\nprocesses: [harden]\nround:\n  profile: [[0, 20], [30, 20]]\n",
			"rough-left", "harden",
		},
		"clean-glue": {
			"material: brass\nprocesses: [glue]\nround:\n  profile: [[0, 20], [30, 20]]\n",
			"rough-left", "glue",
		},
		"offset-group": {edited(t, "spindle.yaml", nil), "turn-z20", "taper-z44"},
		"thin-last": {
			"material: brass\nround:\n  profile: [[0, 20], [30, 20], [60, 14]]\n" +
				"  bores: [{from: right, dia: 9, depth: 20}]\n  threads: [{from: left, spec: M20x1.5, length: 6}]\n",
			"bore-1-drill", "taper-z30",
		},
		"neck-last": {
			"material: brass\nround:\n  profile: [[0, 12], [12, 12], [12, 8], [20, 8], [20, 24], [50, 24], [60, 20]]\n" +
				"  threads: [{from: left, spec: M12, length: 10}]\n",
			"thread-1", "turn-z12",
		},
		"cure": {
			"material: brass\nprocesses: [glue, polish]\nround:\n  profile: [[0, 20], [30, 20]]\n",
			"cure", "polish",
		},
		"reach-first": {
			"material: brass\nround:\n  profile: [[0, 20], [20, 20], [40, 12], [60, 16], [70, 16]]\n",
			"taper-z40", "taper-z20",
		},
		"saw-off": {
			"material: brass\nround:\n  profile: [[0, 12], [20, 12], [20, 20], [50, 20]]\n" +
				"  bores: [{from: right, dia: 8, depth: 10}]\n", "rough-left", "saw-off",
		},
		"shim-taper":  {demo, "taper-z48", "spot-roll-1"},
		"steady-land": {slender, "turn-z0", "bore-1-drill"},
		"bore-guide":  {counterbored, "bore-2-drill", "bore-1-drill"},
		"bore-floor":  {counterbored, "bore-1-drill", "bore-2-tap"},
		"flat-first":  {edited(t, "bracket.yaml", nil), "hole-1-drill", "slope-1"},
		"plug": {
			"material: hardwood\nround:\n  profile: [[0, 30], [40, 30], [70, 20]]\n  holes: [{at: 55, dia: 4}]\n",
			"plug-holes", "taper-z40",
		},
		"slot-thin":  {slotted, "slot-1", "taper-z30"},
		"chain-slot": {slotted, "chain-slot-1", "slot-1"},
		"process-order": {
			"material: brass\nprocesses: [polish, mark]\nround:\n  profile: [[0, 20], [30, 20]]\n",
			"polish", "mark",
		},
	}
}

// Every rule orders something: in some way to hold the part it binds the pair by
// its code, and the best order of that way keeps it; without it the pair is not
// bound by it. A rule that is taken out of the table, or one that is put in
// without a part of its own here, fails.
func TestRules(t *testing.T) {
	all := fixtures(t)
	for _, r := range rules.Table() {
		if _, ok := all[r.Code]; !ok {
			t.Errorf("the rule %s has no part that brings it to bear", r.Code)
		}
	}
	_, shed := demo(t)
	once := map[string][]*attempt{} // many rules are brought to bear by the demo
	for code, f := range all {
		t.Run(code, func(t *testing.T) {
			list, known := once[f.part]
			if !known {
				p, _ := demo(t)
				if strings.HasPrefix(f.part, "#") || strings.HasPrefix(f.part, "format") {
					p = read(t, f.part)
				} else if f.part != "" {
					p = parse(t, f.part)
				}
				list = attempts(t, p, shed)
				once[f.part] = list
			}
			d := bound(list, code, f.a, f.b)
			if d == nil {
				t.Fatalf("%s does not bind %s before %s", code, f.a, f.b)
			}
			if bound(list, code, f.a, f.b, code) != nil {
				t.Errorf("%s binds though it was left out", code)
			}
			if ring := d.job.Cycle(); ring != nil {
				t.Fatal(d.collision(ring))
			}
			d.sequence, d.cost = d.job.Best()
			got := ids(Result{Operations: d.lines()})
			if a, b := slices.Index(got, f.a), slices.Index(got, f.b); a < 0 || b < 0 || a > b {
				t.Errorf("%s (at %d) does not come before %s (at %d) in %v", f.a, a, f.b, b, got)
			}
		})
	}
}

// lines returns the operations in their order, with their ids alone.
func (d *attempt) lines() []Operation {
	list := make([]Operation, len(d.sequence))
	for n, i := range d.sequence {
		list[n].ID = d.ops[i].ID
	}
	return list
}

// bound returns the first way of holding the part in which an order is and a rule
// binds a before b, nil where there is none.
func bound(list []*attempt, code, a, b string, without ...string) *attempt {
	for _, d := range list {
		if slices.ContainsFunc(rules.Pairs(d.ops, without...), func(x rules.Before) bool {
			return x.Code == code && d.ops[x.A].ID == a && d.ops[x.B].ID == b
		}) && d.job.Cycle() == nil {
			return d
		}
	}
	return nil
}

// jobOf returns the job of making a part.
func jobOf(t *testing.T, p *part.Part, s *shop.Shop) *job {
	t.Helper()
	j, err := newJob(Input{Part: p, Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// centred returns a way without a centre, and with one at either end and at both, and with
// a steady after the first.
func centred(w way) []way {
	var list []way
	for _, c := range [][2]bool{{false, false}, {true, false}, {false, true}, {true, true}} {
		if c[1] && w.grip == offBar {
			continue
		}
		w.centre = c
		list = append(list, w)
	}
	w.centre, w.steady = [2]bool{true, false}, [2]bool{true, false}
	return append(list, w)
}

// attempts returns the work of every way to hold the part, with its rules.
func attempts(t *testing.T, p *part.Part, s *shop.Shop) []*attempt {
	t.Helper()
	var list []*attempt
	j := jobOf(t, p, s)
	add := func(x *task) {
		d := &attempt{task: x, steps: x.make()}
		d.number()
		list = append(list, d)
	}
	if j.block != nil {
		for _, w := range j.held()[:1] {
			add(squaredBlock(j, w))
		}
		return list
	}
	for _, plain := range j.ways() {
		for _, w := range centred(plain) {
			add(j.hold(w))
		}
	}
	return list
}

// The other demo parts pass their own checks too.
func TestDemoParts(t *testing.T) {
	for _, name := range []string{"spindle.yaml", "bracket.yaml"} {
		r := make1(t, loadPart(t, name, nil), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Errorf("%s: %v", name, f)
		}
	}
}

// The taper of the demo's point has the half angle atan(7/32) = 12.339 deg. With a
// mark every half degree the nearest is 12.5, and by hand 20 - 64·tan(12.5 deg) =
// 5.812 mm stands where 6 was drawn: coarse limits of 0.3 keep it, medium ones of
// 0.1 do not. With a mark every 5 deg it is 10, and 8.715 mm keeps none. By
// indicator 20·sin(12.339 deg) = 4.274 mm is read as 4.27, which is 12.3276 deg, and
// leaves 20 - 64·tan(12.3276 deg) = 6.014.
func TestMarkOrIndicator(t *testing.T) {
	for _, tc := range []struct{ step, general, out, method string }{
		{"0.5deg", "coarse", "5.812", "mark"},
		{"0.5deg", "medium", "6.014", "indicator"},
		{"5deg", "coarse", "6.014", "indicator"},
	} {
		p := loadPart(t, "plumb-bob.yaml", map[string]string{"quantity: 1": "quantity: 1\ngeneral: " + tc.general})
		r := make1(t, p, loadShop(t, map[string]string{"step: 0.5deg": "step: " + tc.step}))
		for _, o := range r.Operations {
			if o.ID == "taper-z92" && string(o.op.Stands.Method) != tc.method {
				t.Errorf("a mark every %s, %s: set by %s, by hand %s", tc.step, tc.general, o.op.Stands.Method, tc.method)
			}
		}
		i := slices.IndexFunc(r.Predicted, func(x op.Predicted) bool {
			return x.Words.In(units.MM) == "small end of the taper, z 92 mm to 124 mm"
		})
		if i < 0 {
			t.Fatal("the taper's small end is not predicted")
		}
		if got := r.Predicted[i].Out.Fixed(units.MM, 3, units.Nearest); got != tc.out {
			t.Errorf("a mark every %s, %s: the small end comes out at %s, by hand %s", tc.step, tc.general, got, tc.out)
		}
	}
}

// What a card says of its neighbours: every rule that binds them, by name.
func TestBecause(t *testing.T) {
	p, s := demo(t)
	r := make1(t, p, s)
	for i, o := range r.Operations {
		because := o.Because.Say().In(units.MM)
		if because == "" {
			t.Errorf("operation %d gives no reason", o.N)
		}
		for _, word := range []string{"after", "before"} {
			near := o.N - 1
			if word == "before" {
				near = o.N + 1
			}
			if names(because, word) && !strings.Contains(because, fmt.Sprintf("%s %d: ", word, near)) {
				t.Errorf("operation %d names a neighbour that is none: %s", i+1, because)
			}
		}
	}
}

// names reports whether a reason names a step that it comes after, or before: "after 24: ".
func names(because, word string) bool {
	return regexp.MustCompile(`\b` + word + ` \d+: `).MatchString(because)
}

// A part that is drawn from the other end costs the same.
func TestMirrored(t *testing.T) {
	p, s := demo(t)
	m := mirror(p)
	a, b := make1(t, p, s), make1(t, m, s)
	if a.Totals != b.Totals ||
		len(a.Operations) != len(b.Operations) {
		t.Errorf("%+v; mirrored %+v", a.Totals, b.Totals)
	}
	if !a.Blank.Length.Equal(*b.Blank.Length) {
		t.Error(say.Of("blank ", a.Blank.Length, ", mirrored ", b.Blank.Length))
	}
}

// A part that cannot be held says so and what would help.
func TestUnheld(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  profile: [[0, 20], [8, 20], [30, 10], [52, 20], [60, 20]]\n"+
		"  threads: [{from: left, spec: M20, length: 4}, {from: right, spec: M20, length: 4}]\n")
	s := loadShop(t, map[string]string{"  leadscrew: 3mm\n": ""})
	r := make1(t, p, s)
	if len(r.Fails()) == 0 || !strings.Contains(r.Fails()[0].Error(), "nothing to hold it on") {
		t.Errorf("fails %v", r.Fails())
	}
}

// Drilled after the taper, the bar lies in the V-blocks on a shim of
// (R1 - R2)/sin(A/2), by hand (32.6 - 20.6)/cos 22.5 deg/2/sin 45 deg = 9.184 mm, and
// the taper comes first.
func TestOnAShim(t *testing.T) {
	p, s := demo(t)
	for _, d := range attempts(t, p, s) {
		if d.lies != onShim || d.first != part.Left || d.way.centre != [2]bool{} {
			continue
		}
		if ring := d.job.Cycle(); ring != nil {
			t.Fatal(d.collision(ring))
		}
		d.sequence, d.cost = d.job.Best()
		d.walk()
		var r Result
		r.fill(d)
		taper, spot := slices.Index(ids(r), "taper-z48"), slices.Index(ids(r), "spot-roll-1")
		if taper > spot {
			t.Errorf("the taper at %d is cut after the holes at %d", taper, spot)
		}
		for _, x := range r.Operations[spot].Settings {
			if x.Name == "shim" && say.Of(x.Value).In(units.MM) == "9.184 mm" {
				return
			}
		}
		t.Errorf("no shim of 9.184 mm among %v", r.Operations[spot].Settings)
		return
	}
	t.Error("no way with a shim")
}

// Blind holes drilled before the taper: each has its own depth from the bar's
// top. By hand at z 40 on the cone 20 to 12 over 45: the cone is 17.333, so
// 3.333 of the 24 bar is turned off later; with 4 of hole and 0.901 of point
// (1.5/tan 59 deg) that is 8.234, and never deeper. Where a collet holds the 20 again
// nothing is lost by roughing first: 20.4 - 17.333 over, and 6.434 deep.
func TestBlindHoles(t *testing.T) {
	p := parse(t, "material: brass\nround:\n  stock: 24\n  profile: [[0, 20], [25, 20], [70, 12]]\n"+
		"  rows: [{from: 32, dia: 3, count: 2, pitch: 8, depth: 4}]\n")
	for collets, want := range map[string]string{"": "8.234 mm", "  collets: ER32\n": "6.434 mm"} {
		r, got := make1(t, p, loadShop(t, map[string]string{"  collets: ER32\n": collets})), ""
		for _, o := range r.Operations {
			for _, s := range o.Settings {
				if s.Name == "depth of row 1 hole 2" {
					got = say.Of(s.Value).In(units.MM)
				}
			}
		}
		if got != want {
			t.Errorf("with %q the second hole is %q deep, by hand %s", collets, got, want)
		}
	}
}

// A blank, what of it must go into the lathe, and a tapping depth are never
// said smaller than they are. A pin of 91.5 mm that is parted off is sawn to 1 +
// 91.5 + 3 + 2.5 + 28 = 126 mm, 4.96063 in; 66 x 26 x 18 mm are 2.59843, 1.02362 and
// 0.70866 in, 12 mm 0.47244 in and 9 mm 0.35433 in. Three bars of 126 mm and a saw
// cut of 2 mm each are 384 mm, 15.11811 in.
func TestNeverSmaller(t *testing.T) {
	bob, shed := demo(t)
	pin := parse(t, "material: brass\nquantity: 3\nround:\n  stock: 20\n  profile: [[0, 18], [91.5, 18]]\n")
	bracket := loadPart(t, "bracket.yaml", nil)
	for _, tc := range []struct {
		part     *part.Part
		op, want string
	}{
		{pin, "saw", "length 4.9607 in"},
		{pin, "face-left", "4.9607 in length between centres"},
		{bob, "bore-1-tap", "depth 0.4725 in"},
		{bracket, "saw", "x 2.5985 in"},
		{bracket, "saw", "y 1.0237 in"},
		{bracket, "saw", "z 0.7087 in"},
		{bracket, "hole-2-tap", "depth 0.3544 in"},
	} {
		r := make1(t, tc.part, shed)
		var said []string
		for _, o := range r.Operations {
			if o.ID != tc.op {
				continue
			}
			for _, s := range o.Settings {
				said = append(said, say.Of(s.Name, " ", s.Value).In(units.Inch))
			}
			for _, c := range o.Checks {
				said = append(said, say.Of(c.Value).In(units.Inch))
			}
		}
		if !slices.Contains(said, tc.want) {
			t.Errorf("%s: no %q in %q", tc.op, tc.want, said)
		}
	}
	if why := make1(t, pin, shed).Blank.Because.In(units.Inch); !strings.Contains(why, "for 3: 15.1182 in of bar") {
		t.Error(why)
	}
}

// The working names its lines by lengths with their unit, as a sentence has them.
func TestWorkingNames(t *testing.T) {
	bob, shed := demo(t)
	var names []string
	for _, s := range make1(t, bob, shed).Sheet().Working {
		names = append(names, s.Name)
	}
	for _, want := range []string{"diameter at z 10 mm", "small end at z 48 mm"} {
		if !slices.Contains(names, want) {
			t.Errorf("no %q in %q", want, names)
		}
	}
}
