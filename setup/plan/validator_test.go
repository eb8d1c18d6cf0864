package plan

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/base/units"
	"setover/setup/maker/files"
	"setover/setup/maker/part"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
)

// The validator judges a route card by its own reading of the part file and of
// the card's words. It shares no code with the planner: no rule, no operation
// type, no outline.

// judge returns what is wrong with a card for the part.
func judge(p *part.Part, r Result) []string {
	var bad []string
	say := func(format string, args ...any) { bad = append(bad, fmt.Sprintf(format, args...)) }
	first := map[string]int{} // the first step of each kind
	last := map[string]int{}
	for _, o := range r.Operations {
		k := string(o.Kind)
		if _, ok := first[k]; !ok {
			first[k] = o.N
		}
		last[k] = o.N
	}
	before := func(a, b, why string) {
		if last[a] > 0 && first[b] > 0 && last[a] > first[b] {
			say("%s at %d comes after %s at %d: %s", a, last[a], b, first[b], why)
		}
	}
	if len(r.Operations) > 0 && r.Operations[0].Kind != "saw" {
		say("the first step is %s, not saw", r.Operations[0].Kind)
	}
	// A shim under the small end's block lets a taper lie level: on such a card
	// the holes may follow the taper, and the taper that is shimmed must be cut.
	shimmed := false
	for _, o := range r.Operations {
		if o.Kind == "cross-drill" && strings.HasPrefix(o.Hold.In(units.MM), "V-blocks with a shim on taper") {
			shimmed = true
			if first["taper"] == 0 || first["taper"] > o.N {
				say("step %d lies on a shim for a taper that is not cut yet", o.N)
			}
		}
	}
	if !shimmed {
		before("cross-drill", "taper", "the bar must lie parallel in the V-blocks")
	}
	before("cross-drill", "facet", "a polygon does not seat in a V")
	before("taper", "facet", "the flats follow the cone")
	before("datum", "cross-drill", "the roll must be marked")
	before("facet", "polish", "polish comes last")
	before("taper", "polish", "polish comes last")
	before("turn", "polish", "polish comes last")
	faced := map[string]bool{}
	for i, o := range r.Operations {
		end := "right"
		if strings.Contains(o.Hold.In(units.MM), "left end out") {
			end = "left"
		}
		if o.Kind == "face" {
			faced[end] = true
		}
		hold := o.Hold.In(units.MM)
		inChuck := strings.HasPrefix(hold, "chuck") && !strings.Contains(hold, "between")
		if o.Machine == "lathe" && o.Kind != "face" && inChuck && o.Kind != "part-off" && !faced[end] {
			say("step %d, %s, is cut at the %s end before it is faced", o.N, o.Name, end)
		}
		if o.N != i+1 {
			say("step %d is numbered %d", i+1, o.N)
		}
		// Every drill of a roll follows a spot at the same roll.
		if o.Kind == "cross-drill" {
			spotted := false
			for _, q := range r.Operations[:i] {
				spotted = spotted || q.Kind == "spot" && q.Hold == o.Hold
			}
			if !spotted && !strings.Contains(o.Name.In(units.MM), "chain") {
				say("step %d drills what was not spotted", o.N)
			}
		}
	}
	// Set-ups: a new one wherever machine or holding changes, and nowhere else.
	setups := 0
	for i, o := range r.Operations {
		if i == 0 || o.Machine != r.Operations[i-1].Machine || o.Hold != r.Operations[i-1].Hold {
			setups++
		}
	}
	if setups != r.Setups {
		say("%d set-ups are told, %d are on the card", r.Setups, setups)
	}
	// Each feature of the file is made.
	want := map[string]int{
		"cross-drill": len(p.Round.Holes) + len(p.Round.Rows), "facet": len(p.Round.Facets),
		"tap": 0, "thread": 0, "taper": 0,
	}
	for _, t := range p.Round.Threads {
		if t.Inside {
			want["tap"]++
		} else {
			want["thread"]++
		}
	}
	for i, s := range p.Round.Profile[1:] {
		if q := p.Round.Profile[i]; !q.Z.Equal(s.Z) && !q.Dia.Equal(s.Dia) {
			want["taper"]++
		}
	}
	for kind, n := range want {
		if n > 0 && first[kind] == 0 {
			say("the part has %d of %s and the card none", n, kind)
		}
	}
	return bad
}

// drawPart draws the text of a valid round part.
func drawPart(t *rapid.T) string {
	var b strings.Builder
	material := rapid.SampledFrom([]string{"brass", "low-carbon-steel", "aluminium-6061", "acetal"}).Draw(t, "material")
	b.WriteString("format: 1\npart: Drawn\nunits: mm\nmaterial: " + material + "\nprocesses: [polish]\n" +
		"round:\n  profile:\n")
	grip := rapid.IntRange(16, 30).Draw(t, "grip")
	z := 0
	point := func(d int) { fmt.Fprintf(&b, "    - [%d, %d]\n", z, d) }
	neck := rapid.IntRange(8, grip-2).Draw(t, "neck")
	point(neck)
	z += rapid.IntRange(6, 20).Draw(t, "neck length")
	point(neck)
	point(grip)
	gripFrom := z
	z += grip + rapid.IntRange(0, 10).Draw(t, "grip more")
	point(grip)
	gripTo := z
	d := grip
	for i := range rapid.IntRange(0, 3).Draw(t, "tapers") {
		z += rapid.IntRange(10, 30).Draw(t, fmt.Sprint("length ", i))
		d = max(6, d-rapid.IntRange(1, 6).Draw(t, fmt.Sprint("drop ", i)))
		point(d)
	}
	if z == gripTo {
		z += 10
		point(max(6, d-1))
	}
	if rapid.Bool().Draw(t, "hole") {
		roll := 30 * rapid.IntRange(0, 11).Draw(t, "roll")
		fmt.Fprintf(&b, "  holes:\n    - {at: %d, dia: 3, roll: %d}\n", (gripFrom+gripTo)/2, roll)
	}
	if rapid.Bool().Draw(t, "row") {
		fmt.Fprintf(&b, "  rows:\n    - {from: %d, dia: 2, count: 2, pitch: 4, rolls: [0, 90], crossing: ok}\n", gripFrom+3)
	}
	if rapid.Bool().Draw(t, "thread") {
		b.WriteString("  bores:\n    - {from: left, dia: 4.2, depth: 12}\n" +
			"  threads:\n    - {from: left, spec: M5, depth: 7, inside: true}\n")
	}
	return b.String()
}

// Whatever is drawn, the card keeps every rule as the validator reads it, and
// planning it again gives the same card.
func TestValidator(t *testing.T) {
	_, s := demo(t)
	rapid.Check(t, func(t *rapid.T) {
		text := drawPart(t)
		p, _, err := files.ReadPart("drawn.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		r, err := Make(Input{Part: p, Shop: s})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if bad := judge(p, r); len(bad) > 0 {
			t.Fatalf("%s\n%s", strings.Join(bad, "\n"), text)
		}
		again, err := Make(Input{Part: p, Shop: s})
		if err != nil || fmt.Sprint(ids(again)) != fmt.Sprint(ids(r)) {
			t.Fatalf("another card the second time: %v, %v", ids(r), ids(again))
		}
	})
}

// The validator finds what is wrong with a card that was spoiled.
func TestValidatorFindsFaults(t *testing.T) {
	p, s := demo(t)
	r := make1(t, p, s)
	if bad := judge(p, r); len(bad) > 0 {
		t.Fatal(bad)
	}
	swap := func(a, b string) Result {
		out := r
		out.Operations = append([]Operation{}, r.Operations...)
		var i, j int
		for k, o := range out.Operations {
			if string(o.Kind) == a {
				i = k
			}
			if string(o.Kind) == b {
				j = k
			}
		}
		out.Operations[i], out.Operations[j] = out.Operations[j], out.Operations[i]
		for k := range out.Operations {
			out.Operations[k].N = k + 1
		}
		return out
	}
	for _, pair := range [][2]string{
		{"cross-drill", "taper"}, {"taper", "facet"}, {"datum", "cross-drill"}, {"facet", "polish"}, {"saw", "face"},
	} {
		if len(judge(p, swap(pair[0], pair[1]))) == 0 {
			t.Errorf("%s and %s changed places and nothing was found", pair[0], pair[1])
		}
	}
}

// unknown counts what a card could not check or has no kit for.
func unknown(r Result) int {
	n := 0
	for _, w := range r.Warnings {
		if w.Code == "not-checked" || w.Code == "kit-missing" {
			n++
		}
	}
	return n
}

// Taking an instrument out of the shop never makes the card say no, or leave
// unchecked, to less: the two together do not shrink.
func TestInstrumentsTakenAway(t *testing.T) {
	take := map[string]func(*shop.Shop){
		"compound":         func(s *shop.Shop) { s.Lathe.Compound = nil },
		"tool post":        func(s *shop.Shop) { s.Lathe.ToolPost = nil },
		"swing over slide": func(s *shop.Shop) { s.Lathe.SwingOverSlide = nil },
		"between centres":  func(s *shop.Shop) { s.Lathe.BetweenCentres = nil },
		"mill and press":   func(s *shop.Shop) { s.Mill, s.DrillPress = nil, nil },
		"V-blocks":         func(s *shop.Shop) { s.VBlocks = nil },
		"taps":             func(s *shop.Shop) { s.Taps = nil },
		"lathe":            func(s *shop.Shop) { s.Lathe = nil },
	}
	for _, file := range []string{"plumb-bob.yaml", "spindle.yaml"} {
		p := loadPart(t, file, nil)
		full := make1(t, p, loadShop(t, nil))
		for name, away := range take {
			less := loadShop(t, nil)
			away(less)
			r := make1(t, p, less)
			if before, after := len(full.Fails())+unknown(full), len(r.Fails())+unknown(r); after < before {
				t.Errorf("%s, %s: %d failures and unknowns with it, %d without", file, name, before, after)
			}
		}
	}
}

// A thicker min_wall never takes a failure away.
func TestMinWallRises(t *testing.T) {
	_, s := demo(t)
	rapid.Check(t, func(t *rapid.T) {
		text := drawPart(t)
		thin := rapid.IntRange(1, 40).Draw(t, "thin")
		thick := rapid.IntRange(thin, 80).Draw(t, "thick")
		fails := func(tenths int) int {
			wall := fmt.Sprintf("round:\n  min_wall: %d.%d\n", tenths/10, tenths%10)
			p, _, err := files.ReadPart("drawn.yaml", []byte(strings.Replace(text, "round:\n", wall, 1)))
			if err != nil {
				t.Fatal(err)
			}
			r, err := Make(Input{Part: p, Shop: s})
			if err != nil {
				t.Fatal(err)
			}
			return len(r.Fails())
		}
		if few, many := fails(thin), fails(thick); many < few {
			t.Fatalf("%d failures at a min_wall of %d tenths, %d at %d\n%s", few, thin, many, thick, text)
		}
	})
}

// Every line of shown working, put into a calculator, gives the printed result.
func TestWorking(t *testing.T) {
	for _, name := range []string{"plumb-bob.yaml", "spindle.yaml", "cap.yaml"} {
		published.Works(t, make1(t, loadPart(t, name, nil), loadShop(t, nil)).Sheet())
	}
}
