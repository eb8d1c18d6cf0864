package plan

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/maker/files"
)

// The demo part in the demo shop, from features to route card.
func BenchmarkMake(b *testing.B) {
	p, s := demo(b)
	for b.Loop() {
		if _, err := Make(Input{Part: p, Shop: s}); err != nil {
			b.Fatal(err)
		}
	}
}

// crowded has 24 features: nine stretches, a bore and its thread, flats, and twelve holes.
const crowded = "material: brass\nround:\n  profile: [[0, 16], [20, 16], [20, 18], [40, 18], [40, 20], [60, 20], " +
	"[60, 22], [80, 22], [80, 24], [100, 24], [100, 26], [120, 24], [120, 20], [140, 20], " +
	"[140, 18], [160, 18], [160, 14], [180, 14]]\n" +
	"  bores: [{from: left, dia: 5, depth: 20}]\n  threads: [{from: left, spec: M6, depth: 12, inside: true}]\n" +
	"  facets: [{sides: 6, from: 140, to: 160, across: corners}]\n" +
	"  rows: [{from: 46, dia: 3, count: 4, pitch: 9, rolls: [0], crossing: ok}, " +
	"{from: 46, dia: 3, count: 4, pitch: 9, rolls: [90], crossing: ok}]\n" +
	"  holes: [{at: 105, dia: 3}, {at: 110, dia: 3, roll: 90}, {at: 126, dia: 3}, {at: 132, dia: 3, roll: 90}]\n"

func BenchmarkTwentyFourFeatures(b *testing.B) {
	_, s := demo(b)
	p := parse(b, crowded)
	for b.Loop() {
		if _, err := Make(Input{Part: p, Shop: s}); err != nil {
			b.Fatal(err)
		}
	}
}

// The parts that take the search longest: nothing makes them, and everything is tried.
func BenchmarkRefused(b *testing.B) {
	_, s := demo(b)
	for _, name := range []string{"random/072-handle", "random/165-handle", "random/177-handle", "named/p06-candlestick"} {
		file := filepath.Join("judge", "testdata", "parts", name+".yaml")
		text, err := os.ReadFile(file)
		if err != nil {
			b.Fatal(err)
		}
		p, _, err := files.ReadPart(file, text)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name[strings.Index(name, "/")+1:], func(b *testing.B) {
			for b.Loop() {
				if _, err := Make(Input{Part: p, Shop: s}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
