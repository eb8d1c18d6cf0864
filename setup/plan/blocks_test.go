package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/plan/op"
)

// stands returns where the V-blocks of a plan stand while it is drilled.
func stands(t *testing.T, r Result) []op.Len {
	t.Helper()
	for _, o := range r.Operations {
		if o.Kind == op.CrossDrill {
			return o.op.Stands.Blocks
		}
	}
	t.Fatalf("nothing is drilled across: %v", r.Fails())
	return nil
}

// V-blocks of 10 stand clear of holes of 12 ±0.2 (ISO 2768-1 medium) that come
// through the bar: 5 in from the ends would be z 5 of a bar that begins at z 0; the
// hole at 9 keeps it out to 9 + 6.1 + 5 = 20.1. It lies 11.1 outside then, within
// the diameter of 25. Blind holes keep no block away. The bar stays as it was bought
// all along, so the chuck holds it by the part itself and it ends at z 81, 1 to be faced
// off: a block 5 in from that end would be at 76; the hole at 71 keeps it from
// 64.9 - 5 = 59.9 to 77.1 + 5 = 82.1, so it stands at 59.9.
func TestBlocksClearOfHoles(t *testing.T) {
	text := "material: low-carbon-steel\nround:\n  stock: 25\n  profile: [[0, 25], [80, 25]]\n" +
		"  holes: [{at: 9, dia: 12}, {at: 71, dia: 12}]\n"
	blind := strings.ReplaceAll(text, "dia: 12", "dia: 12, depth: 10")
	for text, want := range map[string][]op.Len{text: {20_100_000, 59_900_000}, blind: {5_000_000, 76_000_000}} {
		r := make1(t, parse(t, text), loadShop(t, nil))
		if f := r.Fails(); len(f) > 0 {
			t.Error(f)
		}
		if got := stands(t, r); !slices.Equal(got, want) {
			t.Errorf("got %v, want %v", got, want)
		}
	}
}
