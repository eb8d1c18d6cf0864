package plan

import "testing"

// The demo part in the demo shop, from features to route card.
func BenchmarkMake(b *testing.B) {
	p, s := demo(b)
	for b.Loop() {
		if _, err := Make(Input{Part: p, Shop: s}); err != nil {
			b.Fatal(err)
		}
	}
}
