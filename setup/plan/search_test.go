package plan

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// all goes through every way to make a part that is left to choose: what holds it, which end
// is cut first, where the outside is parted between the grips, a centre at either end, faced
// close to the jaws or as a bar, light cuts, and every method of every feature that has some;
// in the order that costs least, and in those that a bond or two more make of it. It knows
// nothing of what fails.
func (j *job) all(ways []way, look func(*attempt)) {
	tried := map[node]bool{}
	var at func(w way, b bonds)
	at = func(w way, b bonds) {
		n := node{w, b}
		if tried[n] {
			return
		}
		tried[n] = true
		d, ring, err := j.attempt(j.hold(w), b)
		if err != nil || ring != nil || d == nil {
			return
		}
		look(d)
		for _, x := range d.offers {
			i, _ := d.choiceOf(x.feature)
			for m := range x.methods {
				next := w
				next.how[i] = uint8(m)
				at(next, b)
			}
		}
		if b.n < 2 {
			for _, more := range b.more(d) {
				at(w, more)
			}
		}
	}
	for _, w := range ways {
		splits := []way{w}
		for n := range j.shape.Stretches {
			splits = append(splits, j.splitAt(w, n+1)...)
		}
		for _, v := range j.inCollets(splits) {
			for bits := range 1 << 5 {
				next := v
				on := func(n int, is bool) bool { return is || bits&(1<<n) != 0 }
				next.centre = [2]bool{on(0, v.centre[0]), on(1, v.centre[1])}
				next.close, next.light, next.barEnds = on(2, v.close), on(3, v.light), on(4, v.barEnds)
				if one := v.grip == offBar; one && (next.centre[1] || next.barEnds) || next.barEnds && v.sawn {
					continue // there is no second grip, or no bar by then
				}
				at(next, bonds{})
			}
		}
	}
}

// inCollets returns the ways, and the same with a collet on what was turned, where it holds
// that.
func (j *job) inCollets(list []way) []way {
	all := slices.Clone(list)
	for _, w := range list {
		if w.grip >= 0 && j.canGrip(op.Collet, w.grip) {
			w.in[1] = op.Collet
			all = append(all, w)
		}
	}
	return all
}

// drawnPart draws a part of up to six features: two or three stretches, of which one may be
// a taper, and a bore, flats, a cross hole or a thread.
func drawnPart(r *rand.Rand) string {
	var b strings.Builder
	b.WriteString("material: " + []string{"brass", "low-carbon-steel", "acetal"}[r.IntN(3)] + "\nround:\n  profile: [")
	z, stretches := 0, 1+r.IntN(3)
	for i := range stretches {
		dia := 8 + 2*r.IntN(12)
		dia += i % 2
		to, end := z+10+r.IntN(40), dia
		if r.IntN(4) == 0 {
			end = max(4, dia-1-r.IntN(5))
		}
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "[%d, %d], [%d, %d]", z, dia, to, end)
		z = to
	}
	b.WriteString("]\n")
	switch end := []part.End{part.Left, part.Right}[r.IntN(2)]; r.IntN(4) {
	case 0:
		fmt.Fprintf(&b, "  bores: [{from: %s, dia: %d, depth: %d}]\n", end, 3+r.IntN(2), 8+r.IntN(10))
	case 1:
		fmt.Fprintf(&b, "  bores: [{from: %s, dia: %d, through: true}]\n", end, 3+r.IntN(3))
	case 2:
		fmt.Fprintf(&b, "  holes: [{at: %d, dia: 2.5}]\n", z/2)
	}
	return b.String()
}

// The search finds what the slow and obvious way finds, which tries everything with
// everything: no more set-ups, nor grips that lose the axis or the roll. It may find better,
// with what the slow way does not try: a longer stub, a steady, a bar drawn further out.
func TestSearchMissesNothing(t *testing.T) {
	parts := uint64(3)
	if os.Getenv("SETOVER_SLOW") != "" {
		parts = 25
	}
	for seed := range parts {
		text := drawnPart(rand.New(rand.NewPCG(seed, 14)))
		p := parse(t, text)
		s := loadShop(t, nil)
		best, _, err := jobOf(t, p, s).cheapest()
		if err != nil {
			t.Fatal(err)
		}
		var least *attempt
		tried := 0
		look := func(d *attempt) {
			tried++
			if d.passes() && (least == nil || d.betterThan(least)) {
				least = d
			}
		}
		j := jobOf(t, p, s)
		if j.all(j.ways(), look); least == nil {
			j.all(j.lastResorts(), look)
		}
		if least == nil {
			j.all(j.blindArbors(), look)
		}
		switch {
		case least == nil:
		case best == nil || !best.passes():
			t.Errorf("%s is refused, and %+v makes it", text, least.way)
		case held(least.cost).Less(held(best.cost)):
			t.Errorf("%s: %+v, and %+v costs %+v", text, best.cost, least.way, least.cost)
		}
		t.Logf("%d: %d tried, passes %v", seed, tried, least != nil)
	}
}

// Where what it is held on would be cut away before it is let go, the way is not given up: what
// fails is mended. By hand: sawn; the left end and its 20 mm turned on the bar; the holes in
// V-blocks while it is parallel; turned end for end on the 20 mm, both tapers; flats in the
// rotary table; ground in the cradle: 8 set-ups, one less than from one end and parted off.
func TestHeldOnWhatIsCut(t *testing.T) {
	r := make1(t, parse(t, "material: free-cutting-brass\nround:\n"+
		"  profile: [[0, 20], [19, 20], [19, 22], [89, 18], [126, 21]]\n"+
		"  facets: [{sides: 8, from: 19, to: 89, across: flats, leave: 0.3}]\n"+
		"  rows: [{from: 95, dia: 2, count: 3, pitch: 6, rolls: [0], crossing: ok}]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 || r.Totals.Setups > 8 {
		t.Errorf("%d set-ups, %v", r.Totals.Setups, f)
	}
}
