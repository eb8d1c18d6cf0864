package plan

import (
	"slices"
	"strings"
	"testing"

	"setover/setup/base/say"
	"setover/setup/base/units"
	"setover/setup/plan/op"
)

// told returns the refusals of a plan, each with its remedies.
func told(r Result) []string {
	list := []string{}
	for _, f := range r.Refused {
		text := say.Of(string(f.Code), " ", f.Key, ": ", f.Reason)
		for _, m := range f.Remedies {
			text += "; " + m.Say
		}
		list = append(list, text.In(units.MM))
	}
	return list
}

// What stands against a plan is told once, for what it is, with what helps and
// nothing else: a bore that the dial has no line for is a limit that is not kept (of
// 19.6 drilled and a line of 0.02 the nearest is 0.02 off); a centre hole is the step's
// that made it; what is under size is what was measured, where it was.
func TestToldForWhatItIs(t *testing.T) {
	collar := "  stock: 34\n  profile: [[0, 20], [20, 20], [20, 32], [50, 32]]\n"
	for _, tc := range []struct {
		name, round, measured, want string
	}{
		{
			"a limit the dial cannot keep",
			"  profile: [[0, 30], [40, 30]]\n  bores: [{from: left, dia: 20, depth: 25, tol: 0.004}]\n", "",
			"out-of-limits bore-1: bore from the left, 20 mm comes to 20.02 mm, told to 0.03 mm either way " +
				"(the nearest line of the cross slide's dial): " +
				"the limits are 19.996 mm to 20.004 mm; a reamer of 20 mm (reamers); " +
				"plus or minus 0.05 mm in place of 0.004 mm for the bore of 20 mm (tol): no longer that tolerance",
		},
		{
			"a centre that may not stay", "  centres: remove\n  profile: [[0, 20], [360, 20]]\n", "",
			"complete face-left: step 3, centre the left end: leaves a centre hole in the left end, and none may stay " +
				"(centres); the centre holes left in the ends (centres)",
		},
		{
			"measured under size", collar, "31.5",
			"start-size outside-2: step 4, finish 32 mm over z 20 mm to 50 mm: 31.5 mm was measured at z 31 mm, " +
				"31.7 mm at the least; another bar, begun again; " +
				"the coarse class for what has no limits of its own (general: coarse)",
		},
	} {
		in := Input{Part: brass(t, tc.round), Shop: loadShop(t, nil)}
		if tc.measured != "" {
			in.Measured = []Measure{{Z: units.MustLength("31mm"), Dia: units.MustLength(tc.measured + "mm")}}
		}
		r, err := Make(in)
		if err != nil {
			t.Fatal(err)
		}
		if got := told(r); len(got) != 1 || got[0] != tc.want {
			t.Errorf("%s:\ngot  %q\nwant %q", tc.name, got, tc.want)
		}
		honest(t, r)
	}
}

// How many steps may be done is said as a range.
func TestStepsDone(t *testing.T) {
	p, s := demo(t)
	_, err := Make(Input{Part: p, Shop: s, Done: -1})
	want := say.Of("done: -1: so many steps are done: 0 to ", len(make1(t, p, s).Operations)).In(units.MM)
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// Each size is foreseen once: of two cuts that touch at a shoulder the one that runs up
// to it on the smaller side sets it.
func TestForeseenOnce(t *testing.T) {
	p, s := demo(t)
	spool := brass(t, "  profile: [[0, 20], [10, 20], [10, 12], [30, 12], [30, 20], [60, 20]]\n")
	for _, r := range []Result{make1(t, p, s), make1(t, spool, s)} {
		seen := map[string]bool{}
		for _, x := range r.Predicted {
			key := say.Of(x.Feature, " ", string(x.Kind), " ", x.From, " ", x.To).In(units.MM)
			if seen[key] {
				t.Errorf("%s is foreseen twice", key)
			}
			seen[key] = true
		}
		for _, x := range r.found.shape.Shoulders {
			d := r.found.limits.Shoulder(x)
			if !seen[say.Of(d.Feature, " ", string(d.Kind), " ", d.From, " ", d.To).In(units.MM)] {
				t.Errorf("the shoulder at z %s is not foreseen", say.Of(x.Z).In(units.MM))
			}
		}
	}
}

// What was not checked is said once a plan, with its key, and every key has words.
func TestUnchecked(t *testing.T) {
	p, s := demo(t)
	r := make1(t, p, s)
	list := r.unchecked()
	want := say.Text("what goes through the chuck (lathe: chuck: through)")
	if !slices.Contains(list, want) || len(list) == 0 {
		t.Errorf("%q", list)
	}
	s.Lathe.SwingOverSlide, s.Lathe.ToolPost, s.Lathe.Motor = nil, nil, nil
	r = make1(t, p, s)
	once := map[string]bool{}
	for _, x := range r.unchecked() {
		if once[x.In(units.MM)] || strings.HasPrefix(x.In(units.MM), " (") {
			t.Errorf("%q is said twice or has no words", x)
		}
		once[x.In(units.MM)] = true
	}
	for _, w := range r.Warnings {
		if text := w.Text.In(units.MM); w.Code == "not-checked" {
			if once[text] {
				t.Errorf("%s: twice", text)
			}
			once[text] = true
		}
	}
	if !once["the diameter over the slide (lathe: swing_over_slide)"] {
		t.Errorf("%v", once)
	}
}

// A drill of the demo's octagon has nothing to do with the spot of the collar's hole:
// of the spots at its roll only that of its own row must come before it.
func TestWhyNamesWhatConcernsIt(t *testing.T) {
	p, s := demo(t)
	r := make1(t, p, s)
	for _, o := range r.Operations {
		if o.Kind != op.CrossDrill {
			continue
		}
		w, err := r.Why(o.N)
		if err != nil {
			t.Fatal(err)
		}
		spots := 0
		for _, b := range w.Breaks {
			if b.Code == "spot-drill" {
				spots++
				if of := r.Operations[b.N-1]; !of.op.Cuts.Overlaps(o.op.Cuts) {
					t.Errorf("step %d, %s, waits for step %d, %s", o.N, o.Name, b.N, b.Name)
				}
			}
		}
		if spots != 1 {
			t.Errorf("step %d waits for %d spots", o.N, spots)
		}
	}
}

// The steps of an arc stand in a table of their own, and one line of the set-up's card
// says so.
func TestPositionsOfAnArc(t *testing.T) {
	r := make1(t, brass(t, "  profile: [[0, 10], [20, 10], [21, 8]]\n"+
		"  arcs: [{from: 20, to: 21, radius: 1, bulge: out}]\n"), loadShop(t, nil))
	for _, o := range r.Operations {
		if o.Kind != op.Curve {
			continue
		}
		lines := 0
		for _, l := range o.lines() {
			if l.What == "  positions" {
				lines++
			} else if strings.Contains(l.What.In(units.MM), "from the work as roughed") {
				t.Errorf("%s is on the set-up's card", l.What)
			}
		}
		if lines != 1 || !o.many() {
			t.Errorf("%d lines for its positions", lines)
		}
	}
	titles := 0
	for _, table := range r.Sheet().Tables {
		if strings.HasSuffix(string(table.Title), ": every position") {
			titles++
			if len(table.Rows) < 8 {
				t.Errorf("%d positions", len(table.Rows))
			}
		}
	}
	if titles != 1 {
		t.Errorf("%d tables of positions", titles)
	}
}
