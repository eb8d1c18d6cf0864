package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
)

// card returns everything a card says of one operation: how it is held, what is
// set, where the dials stand, what was checked, and the minutes.
func card(o Operation) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s; %s; %.2f min\n", o.ID, o.Tool, o.Hold, float64(o.Minutes))
	for _, s := range o.Settings {
		fmt.Fprintf(&b, "%s = %s | %s\n", s.Name, say.Of(s.Value), s.Say)
	}
	for _, d := range o.Dials {
		set := say.Text("no dial")
		if d.Set != nil {
			set = say.Of(d.Set, " ", d.Mark)
		}
		fmt.Fprintf(&b, "%s: %s -> %s\n", d.What, say.Of(d.Exact), set)
	}
	for _, c := range o.Checks {
		fmt.Fprintf(&b, "check %v: %s; limit %s; %s\n", c.OK, say.Of(c.Value), say.Of(c.Limit), c.Remedy)
	}
	return b.String()
}

// cards returns a plan as text, by the names of its operations; the part that
// comes out as "predicted", the blank and the totals as "plan".
func cards(r Result) map[string]string {
	all := map[string]string{}
	for _, o := range r.Operations {
		all[o.ID] = card(o)
	}
	var b strings.Builder
	for _, p := range r.Predicted {
		fmt.Fprintln(&b, say.Of(p.Feature, ": ", p.Drawn, " -> ", p.Out, ", ", p.Error.Fine()).In(units.MM))
	}
	all["predicted"] = "predicted:\n" + b.String()
	all["plan"] = fmt.Sprintf("plan: %v min, %d set-ups, %d tool changes\n%s\n",
		float64(r.Minutes), r.Setups, r.ToolChange, r.Blank.Because)
	return all
}

// compare compares cards with what they are by hand: cards with an empty line
// between them, the hand's sum behind a # on its line.
func compare(t *testing.T, r Result, byHand string) {
	t.Helper()
	all := cards(r)
	for want := range strings.SplitSeq(strings.TrimSpace(byHand), "\n\n") {
		var lines []string
		for line := range strings.SplitSeq(strings.TrimSpace(want), "\n") {
			line, _, _ = strings.Cut(line, "#")
			if line = strings.TrimSpace(line); line != "" {
				lines = append(lines, line)
			}
		}
		id, _, _ := strings.Cut(lines[0], ":")
		var got []string
		for line := range strings.SplitSeq(strings.TrimSpace(all[id]), "\n") {
			got = append(got, strings.TrimSpace(line))
		}
		for i := range max(len(got), len(lines)) {
			var g, w string
			if i < len(got) {
				g = got[i]
			}
			if i < len(lines) {
				w = lines[i]
			}
			if g != w {
				t.Errorf("%s:\n  got     %s\n  by hand %s", id, g, w)
			}
		}
	}
}

// Cards worked by hand: every file of testdata/cards is a part, and what its
// cards must say, with the sum that makes each figure behind a # or above it.
// Speeds are 1000 v/(pi D), v from the materials (brass 76.2 m/min turning and
// 60.96 drilling, low carbon steel 30.48 and 24.38, aluminium 76.2 and 60.96),
// and then the machine's next below. Minutes are (length + 3)/(feed rpm) and the
// way back at 1000 mm/min, as feeds has them. Practice leaves 0.4 on the
// diameter and faces 1 off; both dials of the shed have a line every 0.02 mm.
func TestCardsByHand(t *testing.T) {
	files, err := filepath.Glob("testdata/cards/*.txt")
	if err != nil || len(files) < 8 {
		t.Fatal(files, err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		written, byHand, _ := strings.Cut(string(text), "---\n")
		t.Run(filepath.Base(name), func(t *testing.T) {
			compare(t, make1(t, parse(t, written), loadShop(t, nil)), byHand)
		})
	}
}
