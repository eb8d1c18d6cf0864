package plan

import (
	"math/rand/v2"
	"testing"

	"setover/setup/base/problem"
)

// What stands against all is what the slow way finds: of every two things that say no anywhere, those
// of which one at least is in each list; and one thing alone is in each list.
func TestStandingAgainstAll(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	kept := 0
	for range 500 {
		var s standing
		var lists [][]nay
		has := func(list []nay, n int) bool {
			for _, a := range list {
				if a.of == string(rune('a'+n)) {
					return true
				}
			}
			return false
		}
		for range 1 + r.IntN(6) {
			var list []nay
			for n := range 5 {
				if r.IntN(2) == 0 || n == 4 && len(list) == 0 {
					list = append(list, nay{problem.Fouling, string(rune('a' + n))})
				}
			}
			lists = append(lists, list)
			s.meets(list)
		}
		hits := func(a, b int) bool {
			for _, list := range lists {
				if !has(list, a) && !has(list, b) {
					return false
				}
			}
			return true
		}
		found := func(a, b int) bool {
			for _, p := range s.pairs {
				x, y := int(p[0].of[0]-'a'), int(p[0].of[0]-'a')
				if !p.alone() {
					y = int(p[1].of[0] - 'a')
				}
				if x == a && y == b || x == b && y == a || x == y && (x == a || x == b) {
					return true
				}
			}
			return false
		}
		for a := range 5 {
			for b := range a + 1 {
				if hits(a, b) != found(a, b) {
					t.Fatalf("%v: %c and %c stand against all: %v", lists, 'a'+a, 'a'+b, hits(a, b))
				}
			}
		}
		kept += len(s.pairs)
	}
	if kept == 0 {
		t.Error("nothing stands against all of any")
	}
}

// A limit of half a micrometre, which no tool keeps: the search of a part of 24 features ends where that
// is clear, after some 80 ways and a few of each list, and does not go on to 360 of each. What is told
// is that limit.
func TestWhatNoWayMends(t *testing.T) {
	j := jobOf(t, parse(t, crowded+"  limits: [{at: 10, tol: 0.0005}]\n"), loadShop(t, nil))
	r, err := j.plan()
	if err != nil {
		t.Fatal(err)
	}
	if most := aloneAfter + 3*freshLeast; j.looked > most {
		t.Errorf("%d ways were looked into, %d at the most", j.looked, most)
	}
	if len(r.Refused) == 0 || r.Refused[0].Code != problem.OutOfLimits || r.Refused[0].Key != "outside-1" {
		t.Errorf("refused: %+v", r.Refused)
	}
}
