package work

import "testing"

// A bar of 20, 60 long, turned to 16 over its first 20: by hand 4021.2 mm³ of
// π/4·(16²·20 + 20²·40) = 16587.6 are left, 2261.9 = π/4·(20² - 16²)·20 are gone.
func TestTurned(t *testing.T) {
	bar := Bar(60*MM, Span{0, 60 * MM}, 20*MM, 0, 0)
	after := bar.After(Turned(Span{0, 20 * MM}, 16*MM, Finished))
	if got := bar.Volume() - after.Volume(); got < 2261.9 || got > 2262 {
		t.Errorf("%v mm³ are gone, by hand 2261.95", got)
	}
	if l, r := after.At(20 * MM); l != 16*MM || r != 20*MM {
		t.Errorf("at the step %v and %v, want 16 and 20", l, r)
	}
	if p, ok := after.Surface(Span{2 * MM, 12 * MM}); !ok || p.Left != 16*MM || p.Stage != Finished {
		t.Errorf("the cylinder is %+v, %v", p, ok)
	}
	if _, ok := after.Surface(Span{12 * MM, 32 * MM}); ok {
		t.Error("a step is one surface")
	}
}
