package published

import (
	"maps"
	"slices"
	"strings"
	"testing"
)

// Count is how many figures of one source agree with ours at the printed
// precision, disagree for a stated reason, and rest on memory.
type Count struct{ Agree, Disagree, Memory int }

// Tally compares published figures with ours one by one and counts them by
// source. Known holds the reason beside every figure that is known to
// disagree, by its key.
type Tally struct {
	t      testing.TB
	known  map[string]string
	counts map[string]*Count
	used   map[string]bool
}

// NewTally starts a tally with the reasons for the figures known to disagree.
func NewTally(t testing.TB, known map[string]string) *Tally {
	return &Tally{t, known, map[string]*Count{}, map[string]bool{}}
}

// Compare counts one figure. A figure that disagrees without a reason fails
// the test, and so does one that agrees though a reason says it does not.
func (y *Tally) Compare(source, key, got, want string) {
	y.t.Helper()
	c := y.counts[source]
	if c == nil {
		c = &Count{}
		y.counts[source] = c
	}
	why, noted := y.known[key]
	y.used[key] = true
	switch {
	case got == want && noted:
		y.t.Errorf("%s agrees now, %s, but is noted: %s", key, got, why)
	case got == want && strings.Contains(source, "from memory"):
		c.Memory++
	case got == want:
		c.Agree++
	case noted:
		c.Disagree++
		y.t.Logf("%s: got %s, printed %s (%s): %s", key, got, want, source, why)
	default:
		c.Disagree++
		y.t.Errorf("%s: got %s, printed %s (%s)", key, got, want, source)
	}
}

// Report prints the count of every source and fails when one is not what it
// was: a figure that was dropped, or one that agreed and no longer does.
func (y *Tally) Report(want map[string]Count) {
	y.t.Helper()
	for key, why := range y.known {
		if !y.used[key] {
			y.t.Errorf("%s is noted (%s) but was never compared", key, why)
		}
	}
	for s := range want {
		if y.counts[s] == nil {
			y.t.Errorf("no figure of %s was compared", s)
		}
	}
	for _, s := range slices.Sorted(maps.Keys(y.counts)) {
		c := *y.counts[s]
		y.t.Logf("%5d agree %4d disagree %4d from memory: %s", c.Agree, c.Disagree, c.Memory, s)
		if c != want[s] {
			y.t.Errorf("%s: counted %+v, was %+v", s, c, want[s])
		}
	}
}
