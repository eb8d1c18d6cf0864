package plan

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"setover/setup/base/problem"
	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/book/cautions"
	"setover/setup/maker/part"
	"setover/setup/plan/op"
)

// certified are the codes of what is certified of every step alike; their figures
// are worked by hand where they are worked out.
var certified = []problem.Code{
	problem.GripSurface, problem.GripLength, problem.JawRoom, problem.GripRange, problem.Bruise, problem.Overhang,
	problem.Support, problem.ToolSide, problem.Fouls, problem.Fouling, problem.IntoShoulder, problem.SupportV,
	problem.Parting, problem.Gouge, problem.StartSize,
}

// card returns everything a card says of one operation: how it is held, what is
// set, where the dials stand, what the hand does, what was checked, and the minutes.
func card(o Operation) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s; %s; %.2f min\n", o.ID, tool(o.Tool), holding(o.op.Setup), float64(o.Minutes))
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
	for i, do := range o.Steps {
		fmt.Fprintf(&b, "%d. %s\n", i+1, do)
	}
	for _, c := range o.Checks {
		if slices.Contains(certified, c.Code) {
			continue
		}
		fmt.Fprintf(&b, "check %v: %s; %s\n", c.OK, c.Sentence(), c.Remedy)
	}
	for _, x := range o.Removes {
		text, err := json.Marshal(x)
		if err != nil {
			panic(err)
		}
		fmt.Fprintf(&b, "removes %s\n", text)
	}
	return b.String()
}

// tool is a tool with its hand: "facing tool, right".
func tool(t op.Tool) string {
	if t.Hand == op.NoHand {
		return t.Name.In(units.MM)
	}
	return t.Name.In(units.MM) + ", " + string(t.Hand)
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
		fmt.Fprintln(&b, say.Of(p.Words, ": ", p.Drawn, " -> ", p.Out, ", ", p.Error().Fine()).In(units.MM))
	}
	all["predicted"] = "predicted:\n" + b.String()
	all["plan"] = fmt.Sprintf("plan: %v min, %d set-ups, %d tool changes\n%s\n",
		float64(r.Totals.Minutes), r.Totals.Setups, r.Totals.ToolChange, r.Blank.Because)
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

// inOneWay plans a part in the way that its first line names, so that the cards
// stay when another way is found to be cheaper: "# way: right, off the bar, a
// centre" or "# way: left, held by 2, centres at both ends", "far" from the jaws
// where it is held for the second time, "on the grip" or "on a shim" when it lies
// in the V-blocks, and "plunged at z 20" of a side of an arc. A block has one way.
func inOneWay(t *testing.T, text string, change ...func(*Input)) Result {
	t.Helper()
	line, _, _ := strings.Cut(text, "\n")
	p := parse(t, text)
	named, ok := strings.CutPrefix(line, "# way: ")
	if !ok {
		return make1(t, p, loadShop(t, nil))
	}
	in := Input{Part: p, Shop: loadShop(t, nil)}
	for _, c := range change {
		c(&in)
	}
	j, err := newJob(in)
	if err != nil {
		t.Fatal(err)
	}
	w := way{first: part.Left, grip: offBar}
	for word := range strings.SplitSeq(named, ", ") {
		switch word {
		case "right":
			w.first = part.Right
		case "left", "off the bar":
		case "a centre":
			w.centre[0] = true
		case "centres at both ends":
			w.centre = [2]bool{true, true}
		case "far":
			w.far = true
		case "on the grip":
			w.lies = onGrip
		case "on a shim":
			w.lies = onShim
		default:
			var z string
			if n, _ := fmt.Sscanf(word, "plunged at z %s", &z); n == 1 {
				place, _ := j.choiceOf("curve-z" + z)
				w.how[place] = 1
			} else if n, err := fmt.Sscanf(word, "held by %d", &w.grip); n != 1 {
				t.Fatal(word, err)
			}
		}
	}
	same := func(x way) bool { return x.first == w.first && x.grip == w.grip && x.lies == w.lies }
	if !slices.ContainsFunc(j.ways(), same) {
		t.Errorf("%s is no way to hold it", named)
	}
	d, ring, err := j.attempt(j.hold(w), bonds{})
	if err != nil || ring != nil {
		t.Fatal(ring, err)
	}
	if d, err = d.follow(); err != nil {
		t.Fatal(err)
	}
	r := Result{Inputs: j.Input, Quantity: p.Quantity}
	r.fill(d)
	return r
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
			compare(t, inOneWay(t, written), byHand)
		})
	}
}

// byTheNeck is the turned part of testdata/cards held by its neck when it is turned
// end for end.
func byTheNeck(t *testing.T) string {
	t.Helper()
	return strings.Replace(handPart(t, "turned.txt"), "held by 1", "held by 0", 1)
}

// A pin of 20, 95 long, stands 4.75 diameters out and springs less than it may: nothing on its sheet says
// that it needs a centre.
func TestNoCautionAgainstThePlan(t *testing.T) {
	r := make1(t, parse(t, "material: brass\nround:\n  profile: [[0, 20], [95, 20]]\n"), loadShop(t, nil))
	if f := r.Fails(); len(f) > 0 {
		t.Fatal(f)
	}
	free := false
	for _, o := range r.Operations {
		up := r.Setups[o.Setup-1]
		free = free || up.StickOut != nil && up.StickOut.MM() > 3*21 && up.setup.Support == op.NoSupport
	}
	if !free || slices.Contains(r.Cautions, say.Text(cautions.Overhang)) {
		t.Errorf("free %v: %v", free, r.Cautions)
	}
}
