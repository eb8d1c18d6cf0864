package plan

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"setover/setup/maker/files"
	"setover/setup/maker/shop"
	"setover/setup/page/published"
)

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

// A part that is planned again gives the same card.
func TestSecondPlan(t *testing.T) {
	_, s := demo(t)
	rapid.Check(t, func(t *rapid.T) {
		text := drawPart(t)
		p, _, err := files.ReadPart("drawn.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		var said [2]string
		for i := range said {
			r, err := Make(Input{Part: p, Shop: s})
			if err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
			written, err := json.Marshal(r)
			if err != nil {
				t.Fatal(err)
			}
			said[i] = string(written)
		}
		if said[0] != said[1] {
			t.Fatalf("another card the second time:\n%s\n%s\n%s", said[0], said[1], text)
		}
	})
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
